//! What is built.

use crate::list::{Ids, document, listed, words};
use crate::set_piece::{Bouquet, Centrepiece, Classic, Floaters, Foils, Loose, Wall};

words! {
    /// A kind of piece.
    pub enum PieceKind {
        /// Clusters along a line.
        #[default]
        Garland,
        /// A chain of link balloons.
        Chain,
        /// A free-standing frame.
        Frame,
        /// A classic column or tight arch of nested rings.
        Classic,
        /// A wall of balloons on a grid.
        Wall,
        /// Helium balloons on ribbons of stepped lengths, with a weight.
        Bouquet,
        /// Numbers and letters of foil.
        Foils,
        /// Helium balloons loose under the ceiling.
        Floaters,
        /// A small piece for a table.
        Centrepiece,
        /// Accents and singles.
        Loose,
    }

    /// The path of a garland, tip to tip.
    pub enum Shape {
        /// A straight line.
        #[default]
        Straight,
        /// The upper half of an ellipse: span at the floor, rise in the middle.
        Arch,
        /// A catenary between two points at one height: span and sag.
        Swag,
        /// Up a stair along its rail: span along the floor, rise, and a level landing at the top.
        Stair,
        /// A closed ellipse: span across, rise from bottom to top.
        Hoop,
        /// Drawn by hand: through its points.
        Drawn,
        /// A quarter of an ellipse: from a foot at the floor up, and over to its top end: span between the two, rise of the top end.
        HalfArch,
    }

    /// How the colours lie along the line.
    pub enum Arrangement {
        /// Each colour by itself, in the order of the palette.
        #[default]
        Blocks,
        /// All colours spread along the whole line.
        Blended,
        /// From one colour into the next, in the order of the palette.
        Fade,
        /// The colours wind round the line.
        Spiral,
    }

    /// What a frame is.
    pub enum FrameForm {
        /// Two posts and a bar.
        #[default]
        Gate,
        /// A round arch.
        Arch,
        /// A closed ring on a foot.
        Hoop,
        /// A standing panel.
        Backdrop,
        /// A rail or balustrade that the venue has.
        Rail,
        /// A standing mesh or grid.
        Mesh,
    }

    /// Where the balloons of a piece are blown.
    pub enum BlownAt {
        /// In the studio: it travels ready.
        #[default]
        Studio,
        /// At the venue: it travels flat.
        Venue,
    }

    /// What the links of a chain are.
    pub enum LinkForm {
        /// Latex links, tied tail to tail.
        #[default]
        Latex,
        /// Ring links of foil, hooked into each other.
        Ring,
    }

    /// What to do with the one balloon that an odd colour leaves over.
    pub enum Odd {
        /// One more of the colour, so that it has a partner.
        #[default]
        AddOne,
        /// Leave it out.
        DropOne,
        /// Pair it with another colour's odd one.
        MixedPair,
    }

    /// What a piece hangs on.
    pub enum Mount {
        /// A free-standing frame.
        #[default]
        Frame,
        /// A backdrop or panel.
        Backdrop,
        /// Hooks on a wall.
        WallHooks,
        /// A stair rail or balustrade.
        StairRail,
        /// Points in the ceiling.
        CeilingPoints,
        /// A mesh or grid panel.
        Grid,
    }
}

document! {
    /// One thing to build.
    #[derive(Default)]
    pub struct Piece {
        /// What it is called.
        pub name: String,
        /// What it is. What belongs to the other kinds is kept but not used.
        pub kind: PieceKind,
        /// Where in the room.
        pub spot: String,
        /// What it hangs on.
        pub mount: Mount,
        /// The frame it hangs on, if that frame is a piece of this job; empty otherwise.
        pub on: String,
        /// Where its balloons are blown.
        pub blown_at: BlownAt,
        /// If it is a garland.
        pub garland: Garland,
        /// If it is a chain.
        pub chain: Chain,
        /// If it is a frame.
        pub frame: Frame,
        /// If it is a classic column or arch.
        pub classic: Classic,
        /// If it is a wall.
        pub wall: Wall,
        /// If it is a bouquet.
        pub bouquet: Bouquet,
        /// If it is numbers and letters.
        pub foils: Foils,
        /// If it is floaters.
        pub floaters: Floaters,
        /// If it is a centrepiece.
        pub centrepiece: Centrepiece,
        /// If it is accents or singles.
        pub loose: Loose,
        /// Where its left foot stands in the scene: to the right, mm.
        pub x_mm: i64,
        /// Above the floor, mm.
        pub y_mm: i64,
        /// Towards the viewer, mm.
        pub z_mm: i64,
        /// Turned about the upright, degrees; seen from above against the clock.
        pub turn_deg: i64,
        /// Several alike: from one to the next, middle to middle, mm; 0 is beside each other with a little air.
        pub apart_mm: i64,
        /// Place in the list.
        pub order: String,
        /// Removed.
        pub gone: bool,
    }

    /// Clusters along a line.
    pub struct Garland {
        /// Its path.
        pub shape: Shape,
        /// Straight: tip to tip, mm.
        pub length_mm: i64,
        /// Arch and swag: between the two ends. Half arch: from its foot to under its top end. mm.
        pub span_mm: i64,
        /// Arch: height in the middle. Half arch: height of its top end. Swag: sag in the middle. mm.
        pub rise_mm: i64,
        /// Half arch: its foot is on the right, and it reaches over to the left.
        pub mirrored: bool,
        /// Sizes with their shares of the balloons.
        pub mix: Ids<Size>,
        /// Share of the clusters that are quads, percent.
        pub quads_pct: i64,
        /// Share of sixes, percent.
        pub sixes_pct: i64,
        /// Share of eights, percent.
        pub eights_pct: i64,
        /// Colours with their shares of the balloons.
        pub palette: Ids<Shade>,
        /// How the colours lie.
        pub arrangement: Arrangement,
        /// What to do with odd ones.
        pub odd: Odd,
        /// Clusters kept back to widen the garland on site, percent of those on the line.
        pub extras_pct: i64,
        /// Stair: the level landing at the top, mm.
        pub landing_mm: i64,
        /// Drawn: its points in order.
        pub points: Ids<PathPoint>,
        /// Spiral: the colours come round once in this length, mm.
        pub turn_mm: i64,
        /// Which of the many ways in which the balloons may fall; another number is another garland.
        pub seed: i64,
        /// Fillers: how much of the line and of what carries it may show, percent; 100 is no fillers.
        pub show_pct: i64,
        /// Fillers: nominal size, in.
        pub filler_in: i64,
        /// Fillers: blown to, tenths of a millimetre.
        pub filler_dmm: i64,
        /// Clusters changed by hand, by their number along the line, counted from 0 at the first tip.
        pub hand: Ids<Hand>,
    }

    /// A point of a drawn path.
    #[derive(Default)]
    pub struct PathPoint {
        /// To the right, mm.
        pub x_mm: i64,
        /// Up, mm.
        pub y_mm: i64,
        /// Towards the viewer, mm.
        pub z_mm: i64,
        /// Place in the list.
        pub order: String,
        /// Removed.
        pub gone: bool,
    }

    /// What a hand changed in one cluster of the line. It holds for the cluster of this number whatever the recipe becomes.
    #[derive(Default)]
    pub struct Hand {
        /// All its pairs in this colour of the palette (its id there); empty is as it falls.
        pub shade: String,
        /// Its balls are kept as they are in `balls` when the recipe changes.
        pub locked: bool,
        /// The balls of a locked or replaced cluster, pair by pair.
        pub balls: Vec<HandBall>,
        /// Left out of the line.
        pub left_out: bool,
        /// Moved by so many places along the line.
        pub moved: i64,
        /// Place in the list.
        pub order: String,
        /// Taken back.
        pub gone: bool,
    }

    /// A ball of a cluster that was fixed by hand.
    #[derive(Default)]
    pub struct HandBall {
        /// Its id in the palette.
        pub shade: String,
        /// Nominal size, in.
        pub size_in: i64,
        /// Blown to, tenths of a millimetre.
        pub blown_dmm: i64,
    }

    /// One size of the mix.
    pub struct Size {
        /// Nominal size, in.
        pub size_in: i64,
        /// Share of the balloons, percent.
        pub share_pct: i64,
        /// Blown from this diameter, tenths of a millimetre.
        pub from_dmm: i64,
        /// To this diameter, tenths of a millimetre.
        pub to_dmm: i64,
        /// Place in the list.
        pub order: String,
        /// Removed.
        pub gone: bool,
    }

    /// One colour of the palette.
    pub struct Shade {
        /// The colour's id.
        pub colour: String,
        /// Double-stuffed: the id of the colour inside; empty for a single balloon.
        pub inside: String,
        /// Share of the balls, percent.
        pub share_pct: i64,
        /// Garland in blocks: length of its block, mm; 0 is by its share.
        pub length_mm: i64,
        /// Place in the list.
        pub order: String,
        /// Removed.
        pub gone: bool,
    }

    /// Chains of link balloons between two points at one height.
    pub struct Chain {
        /// How many chains alike.
        pub count: i64,
        /// Between the two points, mm.
        pub span_mm: i64,
        /// Sag in the middle, mm; 0 is a taut chain.
        pub sag_mm: i64,
        /// Nominal size of the link, in.
        pub size_in: i64,
        /// Blown to this diameter, tenths of a millimetre.
        pub blown_dmm: i64,
        /// From link to link along the chain, mm.
        pub pitch_mm: i64,
        /// What the links are.
        pub form: LinkForm,
        /// The right end hangs so much higher than the left, mm.
        pub lift_mm: i64,
        /// Colours with their shares of the pairs, in turn along the chain.
        pub palette: Ids<Shade>,
    }

    /// Free-standing frames.
    pub struct Frame {
        /// How many alike.
        pub count: i64,
        /// What it is.
        pub form: FrameForm,
        /// Standing, mm.
        pub width_mm: i64,
        /// Standing, mm.
        pub height_mm: i64,
        /// Depth of its base, mm.
        pub base_mm: i64,
        /// Longest part as packed, mm.
        pub packed_length_mm: i64,
        /// Width of the packed parts, mm.
        pub packed_width_mm: i64,
        /// Height of the packed parts, mm.
        pub packed_height_mm: i64,
        /// Its longest part comes apart into two halves for carrying.
        pub halves: bool,
        /// It must travel upright: on its packed height, not laid on a side.
        pub upright: bool,
        /// Mass of one without ballast, g.
        pub mass_g: i64,
        /// Ballast for each, g.
        pub ballast_g: i64,
        /// Hired in.
        pub hired: bool,
    }
}

listed!(Piece, Size, Shade, PathPoint, Hand);

impl Default for Garland {
    fn default() -> Self {
        Self {
            shape: Shape::default(),
            length_mm: 3000,
            span_mm: 2500,
            rise_mm: 2200,
            mirrored: false,
            mix: Ids::new(),
            quads_pct: 100,
            sixes_pct: 0,
            eights_pct: 0,
            palette: Ids::new(),
            arrangement: Arrangement::default(),
            odd: Odd::default(),
            extras_pct: 10,
            landing_mm: 0,
            points: Ids::new(),
            turn_mm: 1000,
            seed: 1,
            show_pct: 100,
            filler_in: 5,
            filler_dmm: 1118,
            hand: Ids::new(),
        }
    }
}

impl Default for Size {
    fn default() -> Self {
        Self {
            size_in: 11,
            share_pct: 100,
            from_dmm: 1524,
            to_dmm: 2540,
            order: String::new(),
            gone: false,
        }
    }
}

impl Default for Shade {
    fn default() -> Self {
        Self {
            colour: String::new(),
            inside: String::new(),
            share_pct: 100,
            length_mm: 0,
            order: String::new(),
            gone: false,
        }
    }
}

impl Default for Chain {
    fn default() -> Self {
        Self {
            count: 1,
            span_mm: 3000,
            sag_mm: 600,
            size_in: 6,
            blown_dmm: 1270,
            pitch_mm: 140,
            form: LinkForm::default(),
            lift_mm: 0,
            palette: Ids::new(),
        }
    }
}

impl Default for Frame {
    fn default() -> Self {
        Self {
            count: 1,
            form: FrameForm::default(),
            width_mm: 2000,
            height_mm: 2200,
            base_mm: 600,
            packed_length_mm: 1500,
            packed_width_mm: 300,
            packed_height_mm: 200,
            halves: false,
            upright: false,
            mass_g: 12_000,
            ballast_g: 0,
            hired: false,
        }
    }
}

//! What is built.

use crate::list::{Ids, document, listed, words};

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
    }

    /// How the colours lie along the line.
    pub enum Arrangement {
        /// Each colour by itself, in the order of the palette.
        #[default]
        Blocks,
        /// All colours spread along the whole line.
        Blended,
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
        /// If it is a garland.
        pub garland: Garland,
        /// If it is a chain.
        pub chain: Chain,
        /// If it is a frame.
        pub frame: Frame,
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
        /// Arch and swag: between the two ends, mm.
        pub span_mm: i64,
        /// Arch: height in the middle. Swag: sag in the middle. mm.
        pub rise_mm: i64,
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
        /// Colours with their shares of the pairs, in turn along the chain.
        pub palette: Ids<Shade>,
    }

    /// Free-standing frames.
    pub struct Frame {
        /// How many alike.
        pub count: i64,
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
        /// Mass of one without ballast, g.
        pub mass_g: i64,
        /// Ballast for each, g.
        pub ballast_g: i64,
        /// Hired in.
        pub hired: bool,
    }
}

listed!(Piece, Size, Shade);

impl Default for Garland {
    fn default() -> Self {
        Self {
            shape: Shape::default(),
            length_mm: 3000,
            span_mm: 2500,
            rise_mm: 2200,
            mix: Ids::new(),
            quads_pct: 100,
            sixes_pct: 0,
            eights_pct: 0,
            palette: Ids::new(),
            arrangement: Arrangement::default(),
            odd: Odd::default(),
            extras_pct: 10,
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
            palette: Ids::new(),
        }
    }
}

impl Default for Frame {
    fn default() -> Self {
        Self {
            count: 1,
            width_mm: 2000,
            height_mm: 2200,
            base_mm: 600,
            packed_length_mm: 1500,
            packed_width_mm: 300,
            packed_height_mm: 200,
            mass_g: 12_000,
            ballast_g: 0,
            hired: false,
        }
    }
}

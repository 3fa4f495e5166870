//! What the pieces are that are no garland, chain or frame: each is counted from its measures alone.

use crate::list::{Ids, document, words};
use crate::piece::Shade;

words! {
    /// What the rings are built up to.
    pub enum ClassicForm {
        /// Standing on a base.
        #[default]
        Column,
        /// From floor to floor.
        Arch,
    }

    /// How colours lie in nested rings.
    pub enum RingPattern {
        /// Each ring holds the colours in turn; from ring to ring they wind up.
        #[default]
        Spiral,
        /// Rings of one colour, so many to a band.
        Bands,
    }

    /// How colours lie on a wall.
    pub enum WallPattern {
        /// By shares, spread out.
        #[default]
        Blended,
        /// Rows in turn.
        Rows,
        /// Upright stripes in turn.
        Stripes,
        /// A chequerboard.
        Checks,
    }

    /// How numbers and letters are put up.
    pub enum FoilStand {
        /// Filled with air, on a stand or base.
        #[default]
        Standing,
        /// Filled with air, hung from line.
        Hanging,
        /// Filled with air, fixed in the garland of piece `on`.
        InGarland,
        /// Filled with helium, on ribbon with a weight.
        Helium,
    }

    /// A small ready-made thing.
    pub enum LooseForm {
        /// Two quads on the two ends of half a long tie.
        #[default]
        Accent,
        /// One balloon.
        Single,
    }
}

document! {
    /// Classic columns or tight arches alike.
    pub struct Classic {
        /// How many alike.
        pub count: i64,
        /// Column or arch.
        pub form: ClassicForm,
        /// Column: at least so high without its topper, mm.
        pub height_mm: i64,
        /// Arch: between its feet, middle to middle, mm.
        pub span_mm: i64,
        /// Arch: height of its line in the middle, mm.
        pub rise_mm: i64,
        /// Balloons in a ring, 3 to 6.
        pub ring: i64,
        /// Nominal size, in.
        pub size_in: i64,
        /// Blown to, tenths of a millimetre.
        pub blown_dmm: i64,
        /// How the colours lie.
        pub pattern: RingPattern,
        /// Bands: rings to a band.
        pub band_rings: i64,
        /// Colours, in turn.
        pub palette: Ids<Shade>,
        /// Column: a large round on top, nominal size, in; 0 is none.
        pub topper_in: i64,
        /// Topper, blown to, tenths of a millimetre.
        pub topper_dmm: i64,
        /// Topper, colour id.
        pub topper_colour: String,
        /// Ballast in each base, g.
        pub ballast_g: i64,
    }

    /// A wall of balloons on a grid of panels.
    pub struct Wall {
        /// Width, mm.
        pub width_mm: i64,
        /// Height, mm.
        pub height_mm: i64,
        /// Balloons to a crossing of the grid: 1, or 4 for quads.
        pub each: i64,
        /// From crossing to crossing, mm; 0 is as near as the balloons allow.
        pub pitch_mm: i64,
        /// Nominal size, in.
        pub size_in: i64,
        /// Blown to, tenths of a millimetre.
        pub blown_dmm: i64,
        /// How the colours lie.
        pub pattern: WallPattern,
        /// Colours with their shares.
        pub palette: Ids<Shade>,
        /// Ballast of the panels, g.
        pub ballast_g: i64,
    }

    /// Helium bouquets alike.
    pub struct Bouquet {
        /// How many alike.
        pub count: i64,
        /// Latex rounds in one.
        pub rounds: i64,
        /// Nominal size of the rounds, in.
        pub size_in: i64,
        /// Blown to, tenths of a millimetre.
        pub blown_dmm: i64,
        /// Colours of the rounds, with their shares.
        pub palette: Ids<Shade>,
        /// Foils in one.
        pub foils: i64,
        /// Nominal size of the foils, in.
        pub foil_in: i64,
        /// Colour of the foils, id.
        pub foil_colour: String,
        /// The highest balloon's middle above the weight, mm.
        pub top_mm: i64,
        /// Each further ribbon is so much shorter, mm.
        pub step_mm: i64,
        /// Weight under one, g; 0 is what the lift asks for.
        pub weight_g: i64,
        /// The latex is treated so that it floats for longer.
        pub treated: bool,
    }

    /// Numbers and letters of foil.
    pub struct Foils {
        /// What they spell.
        pub text: String,
        /// Height of a character, mm.
        pub height_mm: i64,
        /// Colour, id.
        pub colour: String,
        /// How they are put up.
        pub stand: FoilStand,
        /// In a garland: where their middle lies along it, mm from its first tip.
        pub along_mm: i64,
        /// Gap between characters, mm.
        pub gap_mm: i64,
    }

    /// Helium balloons loose under the ceiling.
    pub struct Floaters {
        /// How many.
        pub count: i64,
        /// Nominal size, in.
        pub size_in: i64,
        /// Blown to, tenths of a millimetre.
        pub blown_dmm: i64,
        /// Colours with their shares.
        pub palette: Ids<Shade>,
        /// Ribbon hanging from each, mm; 0 is none.
        pub ribbon_mm: i64,
        /// They cover so much of the ceiling: width, mm.
        pub width_mm: i64,
        /// Depth, mm.
        pub depth_mm: i64,
        /// The latex is treated so that it floats for longer.
        pub treated: bool,
    }

    /// Table centrepieces alike: a cluster at the foot, a stick, and a round on top.
    pub struct Centrepiece {
        /// How many alike.
        pub count: i64,
        /// Height over all, mm.
        pub height_mm: i64,
        /// Balloons in the cluster at the foot: 4, 6 or 8.
        pub foot: i64,
        /// Foot, nominal size, in.
        pub foot_in: i64,
        /// Foot, blown to, tenths of a millimetre.
        pub foot_dmm: i64,
        /// Top, nominal size, in; 0 is none.
        pub top_in: i64,
        /// Top, blown to, tenths of a millimetre.
        pub top_dmm: i64,
        /// Top, colour id.
        pub top_colour: String,
        /// Colours of the foot with their shares.
        pub palette: Ids<Shade>,
    }

    /// Accents or singles.
    pub struct Loose {
        /// How many.
        pub count: i64,
        /// Accent or single.
        pub form: LooseForm,
        /// Nominal size, in.
        pub size_in: i64,
        /// Blown to, tenths of a millimetre.
        pub blown_dmm: i64,
        /// Colours with their shares.
        pub palette: Ids<Shade>,
    }
}

impl Default for Classic {
    fn default() -> Self {
        Self {
            count: 1,
            form: ClassicForm::default(),
            height_mm: 1800,
            span_mm: 3000,
            rise_mm: 2400,
            ring: 4,
            size_in: 11,
            blown_dmm: 2286,
            pattern: RingPattern::default(),
            band_rings: 2,
            palette: Ids::new(),
            topper_in: 0,
            topper_dmm: 4064,
            topper_colour: String::new(),
            ballast_g: 0,
        }
    }
}

impl Default for Wall {
    fn default() -> Self {
        Self {
            width_mm: 2400,
            height_mm: 2000,
            each: 1,
            pitch_mm: 0,
            size_in: 11,
            blown_dmm: 2286,
            pattern: WallPattern::default(),
            palette: Ids::new(),
            ballast_g: 0,
        }
    }
}

impl Default for Bouquet {
    fn default() -> Self {
        Self {
            count: 1,
            rounds: 7,
            size_in: 11,
            blown_dmm: 2794,
            palette: Ids::new(),
            foils: 0,
            foil_in: 18,
            foil_colour: String::new(),
            top_mm: 1800,
            step_mm: 150,
            weight_g: 0,
            treated: false,
        }
    }
}

impl Default for Foils {
    fn default() -> Self {
        Self {
            text: String::new(),
            height_mm: 860,
            colour: String::new(),
            stand: FoilStand::default(),
            along_mm: 0,
            gap_mm: 40,
        }
    }
}

impl Default for Floaters {
    fn default() -> Self {
        Self {
            count: 50,
            size_in: 11,
            blown_dmm: 2794,
            palette: Ids::new(),
            ribbon_mm: 600,
            width_mm: 5000,
            depth_mm: 4000,
            treated: false,
        }
    }
}

impl Default for Centrepiece {
    fn default() -> Self {
        Self {
            count: 8,
            height_mm: 700,
            foot: 4,
            foot_in: 5,
            foot_dmm: 1118,
            top_in: 11,
            top_dmm: 2540,
            top_colour: String::new(),
            palette: Ids::new(),
        }
    }
}

impl Default for Loose {
    fn default() -> Self {
        Self {
            count: 4,
            form: LooseForm::default(),
            size_in: 5,
            blown_dmm: 1118,
            palette: Ids::new(),
        }
    }
}

//! What a plan says of pieces that are counted from their measures, and of frames. Units as in the other records.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Ball, BallCount};

plain! {
    /// A piece that is counted from its measures alone: column, wall, bouquet, foils, floaters, centrepieces, accents.
    pub struct Made {
        /// Pieces alike.
        pub count: i64,
        /// One, over all: width, mm.
        pub width_mm: i64,
        /// Height, mm.
        pub height_mm: i64,
        /// Depth, mm.
        pub depth_mm: i64,
        /// Along the line of its rings: a column's height without what is on top, an arch from floor to floor, mm; 0 if it has none.
        pub along_mm: i64,
        /// Latex balls of all alike, by colour and size.
        pub balls: Vec<BallCount>,
        /// Foils of all alike.
        pub foils: Vec<FoilCount>,
        /// What is tied together: rings, quads, accents, all alike.
        pub groups: Vec<Group>,
        /// Helium for all, mL; 0 if none.
        pub helium_ml: i64,
        /// Weight or ballast under one, g.
        pub weight_g: i64,
        /// Ribbons of one, longest first, mm.
        pub ribbons_mm: Vec<i64>,
        /// Figures worth saying, each in its unit: rings, rows, lift and so on.
        pub figures: Vec<Worth>,
        /// A wall: its crossings, row by row from the top and in each from the left as one looks at it: indices into `balls`. Empty
        /// for what is no wall.
        pub grid: Vec<Vec<u32>>,
        /// One, as it looks from its own left foot, for drawing.
        pub balls_drawn: Vec<DrawnBall>,
        /// Its sticks, posts, ribbons and strokes of foil.
        pub rods_drawn: Vec<DrawnRod>,
    }

    /// So many foils of one kind.
    pub struct FoilCount {
        /// The character, or empty for a plain foil.
        pub text: String,
        /// Colour, id.
        pub colour: String,
        /// Height or nominal size, mm.
        pub height_mm: i64,
        /// How many.
        pub count: i64,
    }

    /// So many groups tied alike.
    pub struct Group {
        /// What it is called: ring, quad, accent.
        pub name: String,
        /// Its balls in order.
        pub balls: Vec<Ball>,
        /// How many.
        pub count: i64,
    }

    /// A figure with its word.
    pub struct Worth {
        /// What it is.
        pub label: String,
        /// How much.
        pub value: i64,
        /// Its unit: empty, `mm`, `g`, `ml`.
        pub unit: String,
    }

    /// A ball where it is, in tenths of a millimetre from the piece's left foot: x to the right, y up, z towards the viewer.
    pub struct DrawnBall {
        /// Its middle.
        pub at: [i64; 3],
        /// Its radius.
        pub r: i64,
        /// Colour, id.
        pub colour: String,
        /// Double-stuffed: the colour inside, id; empty for a single balloon.
        pub inside: String,
    }

    /// A rod with round ends, in tenths of a millimetre like [`DrawnBall`].
    pub struct DrawnRod {
        /// One end.
        pub from: [i64; 3],
        /// The other end.
        pub to: [i64; 3],
        /// Half its thickness.
        pub r: i64,
        /// Colour, id; empty for what is no balloon.
        pub colour: String,
    }

    /// Frames, as the plan uses them.
    pub struct FramePlan {
        /// Frames alike.
        pub count: i64,
        /// Standing, mm.
        pub width_mm: i64,
        /// Standing, mm.
        pub height_mm: i64,
        /// Ballast of all, g.
        pub ballast_g: i64,
    }
}

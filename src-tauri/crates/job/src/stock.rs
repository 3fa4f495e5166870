//! Colours, balloons and sundries, and the numbers of the trade that a plan uses.

use crate::list::{document, listed, words};
use crate::piece::{Mount, PieceKind};
use crate::set_piece::FoilStand;

words! {
    /// How a colour is marked besides its colour, on screen and on paper. Given in this order.
    pub enum Pattern {
        /// Nothing.
        #[default]
        Plain,
        /// Slanted lines.
        Hatched,
        /// Dots.
        Dotted,
        /// Upright bars.
        Barred,
        /// Slanted lines both ways.
        Crossed,
        /// Waves.
        Waved,
        /// Rings.
        Ringed,
        /// A chequerboard.
        Checked,
    }

    /// What an item is.
    pub enum ItemKind {
        /// A latex round.
        #[default]
        Round,
        /// A latex link, with a tail at the far end.
        Link,
        /// A long modelling balloon used as an elastic tie.
        Tie,
        /// A foil balloon.
        Foil,
        /// Hooks, line, cable ties, dots, ribbon, weights.
        Sundry,
        /// Helium, by the litre as it fills balloons; its bags are cylinders.
        Helium,
    }

    /// What a sundry is counted by.
    pub enum Per {
        /// Metre of the piece.
        #[default]
        Metre,
        /// Piece, or one chain of it.
        Piece,
        /// Cluster on the line.
        Cluster,
        /// Job, once.
        Job,
    }
}

document! {
    /// A balloon colour.
    pub struct Colour {
        /// A plain name of the decorator's own.
        pub name: String,
        /// sRGB as `#rrggbb`.
        pub srgb: String,
        /// Kept for the job's life.
        pub pattern: Pattern,
        /// Where it was copied from: id in the stockroom.
        pub source: String,
        /// Place in the list.
        pub order: String,
        /// Removed.
        pub gone: bool,
    }

    /// Something that is bought.
    #[derive(Default)]
    pub struct Item {
        /// What it is called, where colour and size do not say it.
        pub name: String,
        /// What it is.
        pub kind: ItemKind,
        /// The colour's id; empty for what has none.
        pub colour: String,
        /// Nominal size, in.
        pub size_in: i64,
        /// Bags it comes in: how many to the bag, any order.
        pub bags: Vec<i64>,
        /// On the shelf, single balloons or units.
        pub on_hand: i64,
        /// The unit it is counted in: empty for single things, or `m`, or `L`.
        pub unit: String,
        /// Where it is bought.
        pub supplier: String,
        /// Where it was copied from: id in the stockroom.
        pub source: String,
        /// Place in the list.
        pub order: String,
        /// Removed.
        pub gone: bool,
    }

    /// So much of an item for so much of a piece.
    pub struct Sundry {
        /// The item's id.
        pub item: String,
        /// The kind of piece that needs it.
        pub kind: PieceKind,
        /// Only on these mounts; empty is all.
        pub mounts: Vec<Mount>,
        /// Foils: only put up in these ways; empty is all.
        pub stands: Vec<FoilStand>,
        /// What it is counted by.
        pub per: Per,
        /// How much of it, hundredths of the item's unit.
        pub hundredths: i64,
        /// Is counted back in after the strike.
        pub comes_home: bool,
        /// Place in the list.
        pub order: String,
        /// Removed.
        pub gone: bool,
    }

    /// How long work takes. Common practice, no source; every number is the user's.
    pub struct Rates {
        /// Two rounds blown on the inflator and tied as a pair, at least, s.
        pub pair_s: i64,
        /// Flow of an inflator, both nozzles together, L/min.
        pub flow_l_min: i64,
        /// A round of 24 in and up, each, s.
        pub round24_s: i64,
        /// A round of 36 in and up, each, s.
        pub round36_s: i64,
        /// A pair of small rounds by hand pump, s.
        pub small_pair_s: i64,
        /// More for a double-stuffed ball, s.
        pub double_s: i64,
        /// One more pair twisted into a cluster, s.
        pub join_s: i64,
        /// A cluster tied on to the line, s.
        pub string_s: i64,
        /// Two links by hand pump, tied as a pair, s.
        pub link_pair_s: i64,
        /// A link's tails tied on to the chain and trimmed, s.
        pub link_tie_s: i64,
        /// A stroke of the hand pump, mL.
        pub stroke_ml: i64,
        /// A metre of garland hung and shaped, by two, s.
        pub hang_s_m: i64,
        /// The same by one with a ladder, as percent of the time that two take.
        pub alone_pct: i64,
        /// A chain draped and tied at both ends, s.
        pub drape_s: i64,
        /// A cluster kept back put in on site, s.
        pub extra_s: i64,
        /// A free-standing frame set up with its ballast, s.
        pub frame_s: i64,
        /// A column, or a metre of a wall's panels, stood up with its ballast, s.
        pub stand_s: i64,
        /// The delivery checked against the order, s.
        pub check_s: i64,
        /// A bag filled, closed and labelled, s.
        pub bag_s: i64,
        /// A bag or case lifted in or out, s, without the walk.
        pub carry_s: i64,
        /// Walking, mm/s.
        pub walk_mm_s: i64,
        /// A step of stairs with a load, ms.
        pub stair_ms: i64,
        /// A ride of one with a load in a lift, there and back with its doors, s.
        pub lift_s: i64,
        /// Tidy, photographs and hand-over, s.
        pub finish_s: i64,
        /// Strike of a metre of garland, s.
        pub strike_s_m: i64,
        /// Strike, once a job, s.
        pub strike_s: i64,
        /// How long this decorator's necks are left: slack from knot to body, thousandths of the radius. Calibrated from a finished garland.
        pub neck_pm: i64,
        /// How hard this decorator presses: how far two balloons flatten, thousandths of their distance. Calibrated from a finished garland.
        pub soft_pm: i64,
        /// A foil filled and tied or its valve closed, s.
        pub foil_s: i64,
        /// A ring link of foil blown, its tabs cut, its nozzle stuck, s.
        pub ring_link_s: i64,
        /// A ring link slotted into the chain, s.
        pub ring_slot_s: i64,
        /// A balloon filled with helium and tied to its ribbon, s.
        pub helium_s: i64,
        /// An accent tied on to half a long tie, s.
        pub accent_s: i64,
        /// An accent placed on site, s.
        pub place_s: i64,
        /// A filler placed on site, s.
        pub filler_s: i64,
        /// A ring of a classic column or arch stacked, s.
        pub stack_s: i64,
        /// A crossing of a wall's grid filled, s.
        pub grid_s: i64,
    }

    /// Spares, freshness and transport. Common practice, no source; every number is the user's.
    pub struct Rules {
        /// Spares of rounds up to 12 in, percent.
        pub spare_small_pct: i64,
        /// At least so many of each colour and size.
        pub spare_small_min: i64,
        /// Spares of larger rounds, percent.
        pub spare_big_pct: i64,
        /// At least so many of each colour and size.
        pub spare_big_min: i64,
        /// Made longer before the doors open than this: look at it, h.
        pub fresh_care_h: i64,
        /// Made longer before the doors open than this: no, h.
        pub fresh_stop_h: i64,
        /// The same for work that hangs outdoors, h.
        pub fresh_outdoors_h: i64,
        /// Helium that is lost in filling and stays in the cylinder, percent of what is filled.
        pub helium_loss_pct: i64,
        /// Latex with helium that is not treated floats so long, h.
        pub helium_h: i64,
        /// Treated latex with helium, h.
        pub helium_treated_h: i64,
        /// Foil with helium, h.
        pub helium_foil_h: i64,
        /// In the open before the doors open, h.
        pub open_air_h: i64,
        /// In the open under strong sun, h.
        pub open_sun_h: i64,
        /// Longest length that a garland is carried in, mm.
        pub length_mm: i64,
        /// Share of a garland's hull that is balloons, percent.
        pub fill_pct: i64,
        /// How far a bag may be squeezed, percent of its free volume.
        pub squeeze_pct: i64,
        /// Rest in each stretch of work, percent of the working time.
        pub rest_pct: i64,
        /// What each further piece of alike ones takes after every doubling of their number, percent of the time before: 100 learns nothing.
        pub learn_pct: i64,
    }
}

listed!(Colour, Item, Sundry);

impl Default for Colour {
    fn default() -> Self {
        Self {
            name: String::new(),
            srgb: "#f4ead7".into(),
            pattern: Pattern::default(),
            source: String::new(),
            order: String::new(),
            gone: false,
        }
    }
}

impl Default for Sundry {
    fn default() -> Self {
        Self {
            item: String::new(),
            kind: PieceKind::default(),
            mounts: Vec::new(),
            stands: Vec::new(),
            per: Per::default(),
            hundredths: 100,
            comes_home: false,
            order: String::new(),
            gone: false,
        }
    }
}

impl Default for Rates {
    fn default() -> Self {
        Self {
            pair_s: 30,
            flow_l_min: 250,
            round24_s: 75,
            round36_s: 150,
            small_pair_s: 35,
            double_s: 45,
            join_s: 8,
            string_s: 25,
            link_pair_s: 45,
            link_tie_s: 15,
            stroke_ml: 180,
            hang_s_m: 360,
            alone_pct: 160,
            drape_s: 240,
            extra_s: 40,
            frame_s: 1200,
            stand_s: 300,
            check_s: 600,
            bag_s: 45,
            carry_s: 45,
            walk_mm_s: 1200,
            stair_ms: 600,
            lift_s: 60,
            finish_s: 1500,
            strike_s_m: 90,
            strike_s: 600,
            neck_pm: 450,
            soft_pm: 50,
            foil_s: 60,
            ring_link_s: 60,
            ring_slot_s: 10,
            helium_s: 40,
            accent_s: 40,
            place_s: 40,
            filler_s: 20,
            stack_s: 20,
            grid_s: 15,
        }
    }
}

impl Default for Rules {
    fn default() -> Self {
        Self {
            spare_small_pct: 10,
            spare_small_min: 2,
            spare_big_pct: 5,
            spare_big_min: 1,
            fresh_care_h: 48,
            fresh_stop_h: 72,
            fresh_outdoors_h: 24,
            helium_loss_pct: 10,
            helium_h: 8,
            helium_treated_h: 48,
            helium_foil_h: 72,
            open_air_h: 4,
            open_sun_h: 2,
            length_mm: 2000,
            fill_pct: 45,
            squeeze_pct: 10,
            rest_pct: 0,
            learn_pct: 100,
        }
    }
}

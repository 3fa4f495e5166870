//! Bags and cases against doors and vehicles. Units as in the other records.
//!
//! Places in a vehicle: x runs along it from the bulkhead to the door, y across it from the left side wall as one looks in from
//! the door, z up from the floor.

use job::site::{Blocked, PortalKind};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

plain! {
    /// What is carried, in what, and whether it goes in.
    pub struct Load {
        /// What is carried, hard ones first; the order of loading is in `stow`.
        pub parcels: Vec<Parcel>,
        /// Every parcel that goes into a vehicle at all has its place in one.
        pub stowed: bool,
        /// The trips, in order; empty where nothing is stowed.
        pub runs: Vec<Run>,
        /// The vehicles that go, in the order in which they are loaded: the job's own first.
        pub spaces: Vec<Space>,
        /// All parcels, bags squeezed, mL.
        pub volume_ml: i64,
        /// Load space of all vehicles together, mL.
        pub space_ml: i64,
        /// Trips of all vehicles: as stowed, else `least_trips`.
        pub trips: i64,
        /// The most often that one vehicle goes.
        pub rounds: i64,
        /// Fewer trips are impossible: by volume, mass and what excludes each other. A bound, not a promise.
        pub least_trips: i64,
        /// Every parcel passes every door and goes into a vehicle.
        pub passes: bool,
        /// Mass of the kit and ballast, g; balloons weigh next to nothing.
        pub mass_g: i64,
    }

    /// One trip of one vehicle.
    pub struct Run {
        /// Which, counted from 1.
        pub trip: i64,
        /// Its vehicle, as index into `spaces`.
        pub space: i64,
        /// What the vehicle is called.
        pub vehicle: String,
        /// How many parcels it carries.
        pub parcels: i64,
        /// What they take of the load space as they lie, percent.
        pub volume_pct: i64,
        /// What they weigh, as far as it is known, g.
        pub mass_g: i64,
        /// Codes of the parcels in the order of unloading.
        pub unload: Vec<String>,
        /// Codes of the parcels that have to be set aside on the way out to reach what is needed before them.
        pub set_aside: Vec<String>,
    }

    /// A vehicle's load space.
    pub struct Space {
        /// Its id in the job's list of further vehicles; empty for the job's own.
        pub van: String,
        /// What it is called.
        pub name: String,
        /// Inside, mm.
        pub length_mm: i64,
        /// Inside, mm.
        pub width_mm: i64,
        /// Inside, mm.
        pub height_mm: i64,
        /// Door at the end of its length, mm; 0 is not known.
        pub door_width_mm: i64,
        /// Its height, mm; 0 is not known.
        pub door_height_mm: i64,
        /// The most that it may carry, g; 0 is not known.
        pub payload_g: i64,
        /// What is in the way, cut to the space.
        pub blocked: Vec<Blocked>,
    }

    /// A bag or a case.
    pub struct Parcel {
        /// Short code on its label: `B1`, `C2`.
        pub code: String,
        /// What it is called.
        pub name: String,
        /// A soft bag may be squeezed and carries nothing but other bags.
        pub soft: bool,
        /// Longest side, mm.
        pub length_mm: i64,
        /// mm.
        pub width_mm: i64,
        /// mm.
        pub height_mm: i64,
        /// Space it takes in the vehicle, mL.
        pub volume_ml: i64,
        /// What it weighs, g, where that is known.
        pub mass_g: Option<i64>,
        /// When it is needed at the venue: 0 first. What is needed first is unloaded first.
        pub needed: i64,
        /// The piece in it; empty for kit.
        pub piece: String,
        /// The thing of the kit that it is: id; empty for what is packed for this job.
        pub kit: String,
        /// What is in it, for the packing list.
        pub holds: Vec<Packed>,
        /// What it does not pass or go into, by name; empty if it passes all.
        pub stuck_at: String,
        /// The same with what is missing and what would help.
        pub stuck: Option<Stuck>,
        /// Its place in a vehicle; absent where it has none.
        pub stow: Option<Stow>,
    }

    /// Where the way of a parcel ends.
    pub struct Stuck {
        /// The id of the door, corner, lift or stair in the job; empty for a vehicle.
        pub door: String,
        /// What kind it is; absent for a vehicle.
        pub kind: Option<PortalKind>,
        /// What it is called.
        pub name: String,
        /// The side of the parcel that is too long: `length`, `width`, `height`.
        pub side: String,
        /// So much shorter it would pass, mm.
        pub by_mm: i64,
        /// What would help, in words.
        pub cure: String,
    }

    /// A place in a vehicle.
    pub struct Stow {
        /// Which trip, counted from 1.
        pub trip: i64,
        /// Place in the order of loading within the trip, from 1.
        pub turn: i64,
        /// Place in the order of unloading within the trip, from 1.
        pub out: i64,
        /// Its corner nearest to the bulkhead, the left side and the floor: along, mm.
        pub x_mm: i64,
        /// Across, mm.
        pub y_mm: i64,
        /// Up, mm.
        pub z_mm: i64,
        /// Its sides as it lies, squeezed: along, mm.
        pub dx_mm: i64,
        /// Across, mm.
        pub dy_mm: i64,
        /// Up, mm.
        pub dz_mm: i64,
        /// How far it is squeezed, percent of its free volume.
        pub squeezed_pct: i64,
        /// A bag that lies doubled over.
        pub folded: bool,
    }

    /// One line of a packing list.
    pub struct Packed {
        /// What.
        pub what: String,
        /// How many, in `unit`.
        pub count: i64,
        /// Unit: empty for single things, or `m`.
        pub unit: String,
        /// Must come home: the list has a second box.
        pub comes_home: bool,
    }
}

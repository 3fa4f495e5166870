//! The job document.

use crate::away::{Away, Spread};
use crate::books::Van;
use crate::day::{Assigned, Damage, OwnStep, SitePhoto, StepPlace, Waste};
use crate::list::{Ids, document, words};
use crate::moment::Moment;
use crate::piece::Piece;
use crate::pin::{Pin, Team};
use crate::site::{Crew, Door, Drive, Kit, Note, Tick, Times, Vehicle, Venue};
use crate::stock::{Colour, Item, Rates, Rules, Sundry};

words! {
    /// How far the job has come.
    pub enum Stage {
        /// Asked for.
        #[default]
        Enquiry,
        /// A price was named.
        Quoted,
        /// The design is agreed and the deposit paid.
        Booked,
        /// The goods are ordered.
        Ordered,
        /// Handed over.
        Done,
        /// Taken down and counted back.
        Closed,
        /// Put off, no new date yet.
        Postponed,
        /// Will not happen.
        Cancelled,
    }
}

document! {
    /// One booking, with its own copy of everything that its plan uses. Client and money are in [`crate::Private`].
    pub struct Job {
        /// Newest format that wrote to the document.
        pub format: i64,
        /// What the decorator calls it.
        pub name: String,
        /// Wedding, birthday, opening and so on, in the user's words.
        pub occasion: String,
        /// How far it has come.
        pub stage: Stage,
        /// Put away by the user; it can be brought back.
        pub gone: bool,
        /// Where it happens.
        pub venue: Venue,
        /// When it happens, as agreed: wall clock at the venue.
        pub times: Times,
        /// The way from the studio.
        pub drive: Drive,
        /// What it is carried in.
        pub vehicle: Vehicle,
        /// More vehicles that go along, each with a driver of its own.
        pub vans: Ids<Van>,
        /// Every door, corner, lift and stair between the vehicle and the room, in the order of the way in.
        pub doors: Ids<Door>,
        /// The people on this job.
        pub crew: Ids<Crew>,
        /// Inflators, pumps, ladders, cases.
        pub kit: Ids<Kit>,
        /// Balloon colours, in the order in which their patterns were given.
        pub colours: Ids<Colour>,
        /// Balloons and sundries that this job may use, with what is on the shelf.
        pub items: Ids<Item>,
        /// Sundries by the metre or by the piece.
        pub sundries: Ids<Sundry>,
        /// What is built.
        pub pieces: Ids<Piece>,
        /// How long work takes.
        pub rates: Rates,
        /// Spares, freshness, transport.
        pub rules: Rules,
        /// Notes, to the job or to a step.
        pub notes: Ids<Note>,
        /// Ticks, by step and device: `STEP~DEVICE`.
        pub ticks: Ids<Tick>,
        /// Who takes which step, by step and device: `STEP~DEVICE`.
        pub assigned: Ids<Assigned>,
        /// The order in which each device likes its steps: `STEP~DEVICE`.
        pub places: Ids<StepPlace>,
        /// Steps that the user wrote.
        pub own_steps: Ids<OwnStep>,
        /// Photos of the work.
        pub photos: Ids<SitePhoto>,
        /// What is broken.
        pub damage: Ids<Damage>,
        /// What became of the balloons.
        pub waste: Waste,
        /// Tasks that are held at a time.
        pub pins: Ids<Pin>,
        /// How many people do a task, where a hand has set it.
        pub teams: Ids<Team>,
        /// Hours in which people cannot work.
        pub away: Ids<Away>,
        /// How far times have gone apart on earlier jobs, by rate.
        pub spreads: Ids<Spread>,
        /// Agreed moments with their figures.
        pub kept: Ids<Moment>,
    }
}

impl Default for Job {
    fn default() -> Self {
        Self {
            format: crate::FORMAT,
            name: String::new(),
            occasion: String::new(),
            stage: Stage::default(),
            gone: false,
            venue: Venue::default(),
            times: Times::default(),
            drive: Drive::default(),
            vehicle: Vehicle::default(),
            vans: Ids::new(),
            doors: Ids::new(),
            crew: Ids::new(),
            kit: Ids::new(),
            colours: Ids::new(),
            items: Ids::new(),
            sundries: Ids::new(),
            pieces: Ids::new(),
            rates: Rates::default(),
            rules: Rules::default(),
            notes: Ids::new(),
            ticks: Ids::new(),
            assigned: Ids::new(),
            places: Ids::new(),
            own_steps: Ids::new(),
            photos: Ids::new(),
            damage: Ids::new(),
            waste: Waste::default(),
            pins: Ids::new(),
            teams: Ids::new(),
            away: Ids::new(),
            spreads: Ids::new(),
            kept: Ids::new(),
        }
    }
}

/// The maps and records that stand at the top of every job document from its first change on.
pub const TOP_LEVEL: [&str; 16] = [
    "venue", "times", "drive", "vehicle", "doors", "crew", "kit", "colours", "items", "sundries",
    "pieces", "rates", "rules", "notes", "ticks", "kept",
];

/// The maps and records of the day at the venue: the second fixed change makes them.
pub const TOP_LEVEL_DAY: [&str; 6] = [
    "assigned",
    "places",
    "own_steps",
    "photos",
    "damage",
    "waste",
];

/// The map of pinned times: a fixed change of its own makes it.
pub const TOP_LEVEL_PINS: [&str; 1] = ["pins"];

/// The map of further vehicles: a fixed change of its own makes it.
pub const TOP_LEVEL_VANS: [&str; 1] = ["vans"];
/// The maps of absences and of own spreads: a fixed change of their own makes them.
pub const TOP_LEVEL_AWAY: [&str; 2] = ["away", "spreads"];
/// The map of people set by hand: a fixed change of its own makes it.
pub const TOP_LEVEL_TEAMS: [&str; 1] = ["teams"];

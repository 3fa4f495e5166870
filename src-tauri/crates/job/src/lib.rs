//! What a person writes down: the job, and the books it copies from; reading and validation.
//!
//! Everything here is plain data. Lists are maps from an id to an item with an `order` key and a `gone` mark, so that
//! two devices can edit a list apart and merge without loss. Every field has a default, an unknown word reads as
//! `Newer`, and fields that this version does not know stay in the document untouched: formats only grow.
//! No IO, no clock, no randomness.

pub mod away;
pub mod bill;
pub mod books;
pub mod check;
pub mod complete;
pub mod currency;
pub mod day;
pub mod defaults;
pub mod demo;
pub mod edit;
pub mod finding;
pub mod list;
pub mod moment;
pub mod money;
pub mod piece;
pub mod pin;
pub mod quick;
pub mod read;
pub mod set_piece;
pub mod site;
pub mod stock;
pub mod time;

mod job_doc;

pub use bill::Bill;
pub use books::{Book, Books};
pub use edit::{Edit, Part};
pub use finding::{Finding, Fix, Room, Severity};
pub use job_doc::{
    Job, Stage, TOP_LEVEL as JOB_TOP_LEVEL, TOP_LEVEL_AWAY as JOB_TOP_LEVEL_AWAY,
    TOP_LEVEL_DAY as JOB_TOP_LEVEL_DAY, TOP_LEVEL_PINS as JOB_TOP_LEVEL_PINS,
    TOP_LEVEL_TEAMS as JOB_TOP_LEVEL_TEAMS, TOP_LEVEL_VANS as JOB_TOP_LEVEL_VANS,
};
pub use list::{Ids, Listed, live};
pub use money::Private;

/// The newest format of the job document that this program writes and understands.
pub const FORMAT: i64 = 1;

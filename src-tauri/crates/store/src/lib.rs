//! Keeping: SQLite, job documents, merging, photos, backups, migrations.
//!
//! A job is two documents, the job and its private part; each book is one. A document is a history that merges with
//! other devices' without loss. Every change goes the same way: made on a copy in memory, accepted by the reader's
//! check, written with its summary in one transaction, and only then answered.
//! The store knows documents, paths and values; what they mean is not its business.

mod backup;
mod chunks;
mod document;
mod draft;
mod editing;
mod edits;
mod erase;
mod error;
mod issued;
mod jobfile;
mod marks;
mod merge;
mod migrate;
mod named;
mod open;
mod order;
mod packed;
mod photo_errands;
mod photos;
mod rows;
mod sharing;
mod signing;
mod store;
mod sweep;
mod undo;
mod values;

pub use draft::Changed;
pub use editing::{Labels, Ticked, Undone};
pub use edits::is_id;
pub use error::StoreError;
pub use issued::{Issued, ToIssue};
pub use jobfile::{About, JobFile};
pub use marks::{Marked, Turn};
pub use merge::{Conflict, Said};
pub use open::{open_file, open_in_pool};
pub use packed::FilePart;
pub use photo_errands::{Errands, PhotoErrands};
#[cfg(not(target_family = "wasm"))]
pub use photos::PhotoFolder;
pub use photos::{Photo, PhotoPlace, Seen};
pub use sharing::{CameIn, News, Packed};
pub use signing::is_only_signed;
pub use store::{Check, Listed, State, Store, Summary};
pub use sweep::Swept;

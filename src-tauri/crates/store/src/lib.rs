//! Keeping: SQLite, job documents, merging, photos, backups, migrations.

mod open;
pub use open::{open_file, open_in_pool};

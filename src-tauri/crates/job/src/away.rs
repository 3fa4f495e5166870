//! Hours in which one of the people cannot work: ill, at another job, not there yet.

use crate::list::{document, listed};

document! {
    /// Somebody is away.
    #[derive(Default)]
    pub struct Away {
        /// Who: id of the crew.
        pub crew: String,
        /// From then on: wall clock at the venue as `YYYY-MM-DDTHH:MM`; empty is from the beginning.
        pub from: String,
        /// Until then; empty is to the end.
        pub to: String,
        /// Why, in the user's words; may be empty.
        pub why: String,
        /// Place in the list.
        pub order: String,
        /// Taken back.
        pub gone: bool,
    }

    /// How far the time of one kind of work has gone apart from job to job, as this decorator's own readings say. Its id in the list is the
    /// field of [`crate::stock::Rates`] that it belongs to.
    #[derive(Default)]
    pub struct Spread {
        /// A quarter of the jobs lie below this, percent of the estimate.
        pub low_pct: i64,
        /// A quarter of the jobs lie above this, percent of the estimate.
        pub high_pct: i64,
        /// Jobs that it comes from.
        pub jobs: i64,
        /// Place in the list.
        pub order: String,
        /// Taken back.
        pub gone: bool,
    }
}

listed!(Away, Spread);

//! Moments that are kept: a quote sent, a design agreed, an order placed, with the figures of that day.

use crate::list::{Ids, document, listed, words};

words! {
    /// What happened.
    pub enum MomentKind {
        /// A quote went out.
        #[default]
        Quoted,
        /// The design was agreed.
        Agreed,
        /// The goods were ordered.
        Ordered,
    }
}

document! {
    /// A moment with its figures. Later plans are shown as differences from it.
    #[derive(Default)]
    pub struct Moment {
        /// What happened.
        pub kind: MomentKind,
        /// When, ms since 1970 UTC.
        pub at_ms: i64,
        /// Version of the program that made the figures.
        pub engine: String,
        /// Figures of the plan by name, in the unit that the name says. Money is not among them.
        pub figures: Ids<i64>,
        /// Place in the list.
        pub order: String,
        /// Taken back.
        pub gone: bool,
    }
}

listed!(Moment);

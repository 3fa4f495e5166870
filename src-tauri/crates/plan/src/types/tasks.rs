//! Work with its times and people. Units as in the other records.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Phase, Term};

plain! {
    /// A piece of work with its time and people.
    pub struct Task {
        /// Derived from what it is about.
        pub id: String,
        /// What to do.
        pub title: String,
        /// When in the job.
        pub phase: Phase,
        /// The piece it is about; empty for the whole job.
        pub piece: String,
        /// Working time of all its people together, s.
        pub work_s: i64,
        /// From start to end, s; with a time, at the pace of those who do it.
        pub duration_s: i64,
        /// People it takes.
        pub people: i64,
        /// By how many people it can be done, fewest first; empty if there is one way only.
        pub ways: Vec<TaskWay>,
        /// A hand has set how many people do it.
        pub people_set: bool,
        /// Inflators it takes.
        pub inflators: i64,
        /// Ladders it takes.
        pub ladders: i64,
        /// Start, ms; absent if the job has no ready-by or no time was found.
        pub start_ms: Option<i64>,
        /// End, ms.
        pub end_ms: Option<i64>,
        /// Earliest start if the work begins when it must and everybody keeps to their order, ms; absent as `start_ms` is, and for the
        /// way back.
        pub early_ms: Option<i64>,
        /// Latest start that makes nothing late, ms.
        pub late_ms: Option<i64>,
        /// Working time between the two, s: the total float. 0 is on the critical chain.
        pub slack_s: Option<i64>,
        /// Held at its start by a hand.
        pub pinned: bool,
        /// Who: ids of the crew.
        pub who: Vec<String>,
        /// Tasks that must be over first: ids.
        pub after: Vec<String>,
        /// What the working time was summed from.
        pub terms: Vec<Term>,
    }

    /// One way to do a task.
    pub struct TaskWay {
        /// So many people.
        pub people: i64,
        /// From start to end at the usual pace, s.
        pub duration_s: i64,
    }

    /// When one person is needed.
    pub struct Call {
        /// The person's id.
        pub crew: String,
        /// Name.
        pub name: String,
        /// Telephone.
        pub phone: String,
        /// One stretch for each working day, in order.
        pub days: Vec<Stretch>,
        /// Working time, s.
        pub work_s: i64,
    }

    /// From the first work to the last on one day.
    pub struct Stretch {
        /// Begins, ms.
        pub start_ms: i64,
        /// Ends, ms.
        pub end_ms: i64,
        /// The tasks, in order: ids.
        pub tasks: Vec<String>,
    }
}

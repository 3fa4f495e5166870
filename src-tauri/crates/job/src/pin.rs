//! What a hand has set of a task: when it begins, and how many people do it.

use crate::list::{document, listed};

/// The task of a pin that holds the start of the whole work.
pub const START: &str = "start";

document! {
    /// A task that is held at a time. Its id in the list follows from the task ([`pin_id`]), so that two devices that pin one
    /// task have pinned it once.
    #[derive(Default)]
    pub struct Pin {
        /// The task, by its id in the plan; [`START`] is the first work of the job.
        pub task: String,
        /// When it begins: wall clock at the venue as `YYYY-MM-DDTHH:MM`.
        pub at: String,
        /// Place in the list.
        pub order: String,
        /// Taken off.
        pub gone: bool,
    }
}

document! {
    /// How many people do a task, set by hand. Its id in the list is that of a pin of the task.
    #[derive(Default)]
    pub struct Team {
        /// The task, by its id in the plan.
        pub task: String,
        /// So many people.
        pub people: i64,
        /// Place in the list.
        pub order: String,
        /// Taken off.
        pub gone: bool,
    }
}

listed!(Pin, Team);

/// The id under which a task's pin or team is kept: what an id may not hold becomes `-`.
#[must_use]
pub fn pin_id(task: &str) -> String {
    task.chars()
        .map(|c| match c {
            'a'..='z' | '0'..='9' | '_' => c,
            _ => '-',
        })
        .take(64)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_of_pins_are_ids() {
        for (task, id) in [
            ("carry", "carry"),
            ("inflate.arch.2", "inflate-arch-2"),
            ("hang.Ab~c", "hang--b-c"),
        ] {
            assert_eq!(pin_id(task), id);
        }
        assert_eq!(pin_id(&"x".repeat(300)).len(), 64);
    }
}

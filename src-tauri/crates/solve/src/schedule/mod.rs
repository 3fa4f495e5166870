//! Project scheduling backwards from deadlines: tasks with precedence, people with free stretches and skills, kit with capacities.
//!
//! A serial scheme: tasks are placed one by one, each as late as it can be. It is correct (the checker says so) and quick, and it
//! is not always the best: a proof of optimality is not its business.

mod check;
mod serial;

pub use check::{Violation, check};
pub use serial::solve;

/// What has to be done, by whom it can be done, with what.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Problem {
    /// Tasks; they name each other by index.
    pub tasks: Vec<Task>,
    /// People.
    pub workers: Vec<Worker>,
    /// How many there are of each kind of kit.
    pub kit: Vec<i64>,
}

/// A piece of work that is done in one go.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Task {
    /// From start to end, s; not negative.
    pub duration: i64,
    /// People it takes from start to end.
    pub people: usize,
    /// Skill that at least one of them must have, as an index into [`Worker::skills`].
    pub skill: Option<usize>,
    /// How many of each kind of kit it takes; missing kinds are 0.
    pub kit: Vec<i64>,
    /// Tasks that must be over before it begins.
    pub after: Vec<usize>,
    /// It must be over by then.
    pub deadline: i64,
}

/// A person.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Worker {
    /// Stretches in which they can work, in order, not overlapping: start and end.
    pub free: Vec<(i64, i64)>,
    /// What they can do.
    pub skills: Vec<bool>,
}

/// Where a task was placed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Placed {
    /// Start.
    pub start: i64,
    /// End.
    pub end: i64,
    /// Who, as indices, ascending.
    pub who: Vec<usize>,
}

/// Why a task has no time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoTime {
    /// It takes more people than there are.
    TooFewPeople,
    /// Nobody has the skill.
    NoSkill,
    /// It takes more of some kit than there is: which.
    TooLittleKit(usize),
    /// No stretch of enough free people is long enough.
    NoStretch,
    /// The tasks wait for each other in a circle.
    Circle,
    /// The search was ended by its budget.
    OutOfWork,
}

/// An answer: a time or a reason for each task.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// By task.
    pub tasks: Vec<Result<Placed, NoTime>>,
    /// Candidate times that were tried.
    pub work: u64,
}

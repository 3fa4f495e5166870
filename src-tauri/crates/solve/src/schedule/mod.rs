//! Project scheduling backwards from deadlines: tasks with precedence, people with free stretches and skills, kit with capacities.
//!
//! Two ways lead to an answer. [`solve`] is a serial scheme: tasks are placed one by one, each as late as it can be. It is correct (the
//! checker says so) and quick, and it is not always the best: one more person can even make the first start earlier, an anomaly of all
//! list schedules (R. L. Graham, "Bounds on Multiprocessing Timing Anomalies", SIAM J. Appl. Math. 17, 1969). [`exact`] begins with
//! that answer, betters it with the engine ([`engine`], on a [`project::Project`]), and says how much later any schedule could begin. [`best`]
//! does that part by part. [`settle`] then moves what has room as late as it goes and gives work to those who are there anyway.

mod bound;
mod check;
mod clause;
pub mod engine;
mod evolve;
mod exact;
mod gates;
mod generate;
mod lanes;
pub mod project;
pub mod read;
#[cfg(test)]
mod samples;
mod serial;
mod settle;
mod taken;

pub use check::{Violation, check};
pub use exact::{Exact, exact};
pub use gates::best;
pub use serial::solve;
pub use settle::{There, settle};

/// The usual pace, percent.
const USUAL: i64 = 100;
/// Faster than this is no pace, percent.
const FASTEST: i64 = 10_000;

/// What has to be done, by whom it can be done, with what.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Problem {
    /// Tasks; they name each other by index.
    pub tasks: Vec<Task>,
    /// People.
    pub workers: Vec<Worker>,
    /// How many there are of each kind of kit.
    pub kit: Vec<i64>,
}

/// A piece of work that is done in one go.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Task {
    /// From start to end at the usual pace, s; a negative one counts as 0. A task of no duration takes neither people nor kit from
    /// others.
    pub duration: i64,
    /// What kind of work it is, as an index into [`Worker::paces`]; what is of no kind takes everybody the same time.
    pub kind: Option<usize>,
    /// People it takes from start to end.
    pub people: usize,
    /// Skill that at least one of them must have, as an index into [`Worker::skills`].
    pub skill: Option<usize>,
    /// How many of each kind of kit it takes; missing kinds are 0.
    pub kit: Vec<i64>,
    /// Tasks that must be over before it begins.
    pub after: Vec<usize>,
    /// It must not begin before then.
    pub release: Option<i64>,
    /// It must be over by then.
    pub deadline: i64,
}

impl Task {
    /// Why it can never be done, whatever the time.
    fn never(&self, problem: &Problem) -> Option<NoTime> {
        if self.people > problem.workers.len() {
            return Some(NoTime::TooFewPeople);
        }
        if let Some(skill) = self.skill.filter(|_| self.people > 0)
            && !problem.workers.iter().any(|w| w.can(skill))
        {
            return Some(NoTime::NoSkill);
        }
        let have = |kind| problem.kit.get(kind).copied().unwrap_or(0);
        (0..self.kit.len())
            .find(|kind| self.kit[*kind] > have(*kind).max(0))
            .map(NoTime::TooLittleKit)
    }
}

/// A person.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Worker {
    /// Stretches in which they can work, in order, not overlapping: start and end.
    pub free: Vec<(i64, i64)>,
    /// What they can do.
    pub skills: Vec<bool>,
    /// How fast they are at each kind of work, percent of the usual pace; 100 where it is missing.
    pub paces: Vec<i64>,
}

impl Worker {
    fn can(&self, skill: usize) -> bool {
        self.skills.get(skill) == Some(&true)
    }

    fn pace(&self, task: &Task) -> i64 {
        let pace = task.kind.and_then(|k| self.paces.get(k));
        pace.map_or(USUAL, |pace| (*pace).clamp(1, FASTEST))
    }
}

impl Problem {
    /// How long a task takes so fast people, s. What several do together they share out as fast as each goes: their joint pace is the sum of
    /// their paces over their number.
    fn lasts(task: &Task, paces: impl Iterator<Item = i64>) -> i64 {
        let (count, sum) = paces.fold((0i128, 0i128), |(n, s), p| (n + 1, s + i128::from(p)));
        let usual = i128::from(task.duration.max(0));
        if sum == 0 {
            return task.duration.max(0);
        }
        let took = (usual * count * i128::from(USUAL) + sum - 1) / sum;
        i64::try_from(took).unwrap_or(i64::MAX)
    }

    /// How long a task takes these workers, s.
    fn lasts_these(&self, task: &Task, who: &[usize]) -> i64 {
        Self::lasts(task, who.iter().map(|w| self.workers[*w].pace(task)))
    }

    /// The paces of all workers at a task, slowest first.
    fn paces(&self, task: &Task) -> Vec<i64> {
        let mut paces: Vec<i64> = self.workers.iter().map(|w| w.pace(task)).collect();
        paces.sort_unstable();
        paces
    }

    /// How long a task takes the fastest who could do it, s.
    fn shortest(&self, task: &Task) -> i64 {
        let fastest = self.paces(task).into_iter().rev();
        Self::lasts(task, fastest.take(task.people))
    }

    /// Whether it matters for any task who does it.
    fn is_paced(&self) -> bool {
        self.tasks.iter().any(|t| {
            let paces = self.paces(t);
            t.people > 0 && paces.first() != paces.last()
        })
    }
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
    /// No stretch in which enough people and kit are free is long enough.
    NoStretch,
    /// The latest place that is left begins before its release.
    BeforeRelease,
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
    /// Steps of the search.
    pub work: u64,
}

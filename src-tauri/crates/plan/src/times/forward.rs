//! Once the day runs, nobody waits for a time on paper: the plan begins everything as late as can be, but whoever is ready goes on.
//!
//! Rule. A task that is to come begins as soon as what it waits for is over, and never later for that than planned. It stays where it
//! is planned if it would be earlier than its people's hours, than its piece stays fresh from, or than lets the van arrive when the
//! venue opens and no sooner. What is bought, and what comes after the hand-over, keeps its time. Common practice, no source.

use job::Job;
use job::time::instant;

use super::hours;
use super::slack::{Hours, both, earliest};
use crate::fresh;
use crate::types::{Phase, Task};

/// What is planned for so much later, ms, is for another day, whatever was ticked beforehand: the daily rest of Directive 2003/88/EC.
const ANOTHER_DAY_MS: i64 = 11 * 3_600_000;

/// How early the tasks of a plan can begin on their day.
pub(super) struct Forward<'a> {
    job: &'a Job,
    tasks: &'a [Task],
    /// By person: their hours about now, s.
    free: Vec<(&'a str, Hours)>,
    /// When the venue opens, ms.
    load_in: Option<i64>,
}

impl<'a> Forward<'a> {
    pub(super) fn new(job: &'a Job, tasks: &'a [Task], now_ms: i64) -> Self {
        let crew = job::list::live(&job.crew).into_iter();
        Self {
            job,
            tasks,
            free: crew
                .map(|(id, person)| (id, hours(job, (id, person), now_ms, -1..=1)))
                .collect(),
            load_in: instant(&job.times.load_in, &job.venue.zone).ok(),
        }
    }

    /// The earliest start of a task from a time on, ms.
    pub(super) fn start(&self, i: usize, from_ms: i64) -> i64 {
        let task = &self.tasks[i];
        let planned = task.start_ms.unwrap_or(0);
        if from_ms >= planned
            || planned.saturating_sub(from_ms) > ANOTHER_DAY_MS
            || task.phase == Phase::Order
            || task.phase.comes_after()
        {
            return from_ms.max(planned);
        }
        let fresh = fresh::not_before(self.job, task, true).map(|s| s.saturating_mul(1000));
        let opens = (task.phase == Phase::Load)
            .then(|| Some(self.load_in?.saturating_sub(self.until_there(i))))
            .flatten();
        let from = [fresh, opens].into_iter().flatten().fold(from_ms, i64::max);
        let length = task.end_ms.unwrap_or(planned).saturating_sub(planned);
        self.in_hours(task, from, length)
            .map_or(planned, |ms| ms.min(planned))
    }

    /// From the start of loading or driving until the van stands at the venue, ms.
    fn until_there(&self, i: usize) -> i64 {
        let task = &self.tasks[i];
        let next = self.tasks.iter().enumerate().filter(|(_, t)| {
            t.phase == Phase::Load && t.start_ms > task.start_ms && t.after.contains(&task.id)
        });
        let rest = next.map(|(j, _)| self.until_there(j)).max().unwrap_or(0);
        task.duration_s.saturating_mul(1000).saturating_add(rest)
    }

    fn in_hours(&self, task: &Task, from_ms: i64, length_ms: i64) -> Option<i64> {
        let theirs = task.who.iter().filter_map(|w| {
            let (_, free) = self.free.iter().find(|(id, _)| id == w)?;
            Some(free)
        });
        let free = theirs.fold(None::<Hours>, |sum, free| {
            Some(sum.map_or_else(|| free.clone(), |sum| both(&sum, free)))
        });
        let Some(free) = free else {
            return Some(from_ms);
        };
        let up = |ms: i64| ms.saturating_add(999).div_euclid(1000);
        // nobody has hours left: nothing is drawn forward
        (!free.is_empty())
            .then(|| earliest(&free, up(from_ms), up(length_ms)))
            .flatten()
            .map(|s| s.saturating_mul(1000))
    }
}

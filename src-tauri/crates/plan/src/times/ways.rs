//! By how many people each task is done: as a hand has set it, as it is usual, or as makes the work begin later.
//!
//! Which way is best is not known from the task: two people at one make it shorter, one at each of two does both at once. So one task
//! at a time is given another number of people, those without room to move first, the whole work is timed anew, and what is better is
//! kept, until nothing gets better or the work that may be spent is spent. What comes out is never worse than the usual numbers; that
//! no other numbers would be better still is not proved.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use job::list::live;
use job::{Edit, Finding, Job, Part, Room, Severity};

use super::place::WORK;
use super::{Known, Times, timed};
use crate::pieces::Counted;
use crate::tasks::{Planned, inflators};
use crate::types::{Load, Task, TaskWay};

/// Steps of the engine for one try.
const TRY: u64 = 20_000;
/// Most tries of a job of no more than this many tasks; of a larger one so many fewer.
const MOST: usize = 60;
/// See [`MOST`].
const TASKS: usize = 100;
/// Most that are looked at of what a hand has set.
const SET: usize = 100;

/// How many people do tasks that are not done as usual, by task.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Ways {
    people: BTreeMap<String, i64>,
}

/// How good a plan is: the less the better, what stands first most.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Worth {
    /// Tasks without a time.
    lost: usize,
    /// Findings that must be solved.
    stops: usize,
    /// By how much the load-in is too late, s.
    short_s: i64,
    /// Findings that must be looked at.
    cares: usize,
    /// When the work begins, ms.
    start_ms: Reverse<Option<i64>>,
    /// Time of all people at their tasks, s.
    held_s: i64,
}

impl Ways {
    /// Every task as usual.
    #[cfg(test)]
    pub(super) const fn usual() -> Self {
        Self {
            people: BTreeMap::new(),
        }
    }

    /// The same, with whatever is blown shared by as many people as the job has inflators.
    pub(super) fn shared(&self, times: &Times, job: &Job) -> Self {
        let crew = i64::try_from(live(&job.crew).len()).unwrap_or(1);
        let most = inflators(job).min(crew);
        let mut shared = self.clone();
        let blown = times.tasks.iter().filter(|t| t.inflators > 0);
        shared.people.extend(blown.map(|t| (t.id.clone(), most)));
        shared
    }

    /// Gives tasks their people: what a hand has set goes before what was found, and says if it cannot be.
    pub(super) fn set(&self, job: &Job, planned: &mut [Planned], findings: &mut Vec<Finding>) {
        for (task, people) in &self.people {
            if let Some(p) = planned.iter_mut().find(|p| p.task.id == *task) {
                take(&mut p.task, *people);
            }
        }
        for (id, team) in live(&job.teams).into_iter().take(SET) {
            let Some(p) = planned.iter_mut().find(|p| p.task.id == team.task) else {
                findings.push(without_task(id));
                continue;
            };
            p.task.people_set = take(&mut p.task, team.people);
            if !p.task.people_set {
                findings.push(not_possible(id, &p.task, team.people));
            }
        }
    }

    /// The times with the best numbers of people that are found, no worse than those that are given.
    pub(super) fn better(
        &mut self,
        job: &Job,
        counted: &Counted,
        load: &Load,
        known: &mut Known,
        times: Times,
    ) -> Times {
        let mut best = times;
        // without a ready-by nothing begins later than anything else
        if best.start_by_ms.is_none() {
            return best;
        }
        let mut tries = MOST * TASKS / best.tasks.len().max(TASKS);
        let mut left = WORK;
        while let Some((ways, times)) =
            self.step(job, counted, load, &best, (&mut tries, &mut left, known))
        {
            (*self, best) = (ways, times);
        }
        // a try has little work: how late these ways let the work begin is looked at with all of it
        if !self.people.is_empty() && !best.proved {
            let times = timed(job, counted, load, self, (left, known));
            if Worth::of(&times) <= Worth::of(&best) {
                best = times;
            }
        }
        best
    }

    /// The first change of one task that makes the plan better.
    fn step(
        &self,
        job: &Job,
        counted: &Counted,
        load: &Load,
        best: &Times,
        (tries, left, known): (&mut usize, &mut u64, &mut Known),
    ) -> Option<(Ways, Times)> {
        let worth = Worth::of(best);
        for (task, people) in others(best) {
            *tries = tries.checked_sub(1)?;
            let mut ways = self.clone();
            ways.people.insert(task.to_string(), people);
            let times = timed(job, counted, load, &ways, (TRY.min(*left), known));
            *left = left.saturating_sub(times.work);
            if Worth::of(&times) < worth {
                return Some((ways, times));
            }
        }
        None
    }
}

impl Worth {
    pub(super) fn of(times: &Times) -> Self {
        let work = times.tasks.iter().filter(|t| !t.phase.comes_after());
        let count = |severity| {
            let findings = times.findings.iter();
            findings.filter(|f| f.severity == severity).count()
        };
        Self {
            lost: work.clone().filter(|t| t.start_ms.is_none()).count(),
            stops: count(Severity::Stop),
            short_s: times.slack_s.unwrap_or(0).min(0).saturating_neg(),
            cares: count(Severity::Care),
            start_ms: Reverse(times.start_by_ms),
            held_s: work.map(held).fold(0, i64::saturating_add),
        }
    }
}

/// Time of all people at a task, s. Up to a second of each is rounding and not held against it.
fn held(task: &Task) -> i64 {
    let all = task
        .duration_s
        .saturating_sub(1)
        .saturating_mul(task.people);
    all.max(task.work_s)
}

/// Every other way of every task that no hand has set: tasks without room to move first.
fn others(times: &Times) -> Vec<(&str, i64)> {
    let mut tasks: Vec<&Task> = times.tasks.iter().filter(|t| !t.people_set).collect();
    tasks.sort_by_key(|t| t.slack_s.unwrap_or(i64::MAX));
    let ways = tasks
        .iter()
        .flat_map(|t| t.ways.iter().map(|w| (t.id.as_str(), t.people, w.people)));
    ways.filter(|(_, now, other)| now != other)
        .map(|(id, _, other)| (id, other))
        .collect()
}

/// Gives a task so many people, if it can be done by so many.
fn take(task: &mut Task, people: i64) -> bool {
    let usual = TaskWay {
        people: task.people,
        duration_s: task.duration_s,
    };
    let mut ways = task.ways.iter().chain([&usual]);
    let Some(way) = ways.find(|w| w.people == people).cloned() else {
        return false;
    };
    (task.people, task.duration_s) = (way.people, way.duration_s);
    // whoever blows has an inflator
    if task.inflators > 0 {
        task.inflators = people;
    }
    true
}

fn not_possible(id: &str, task: &Task, people: i64) -> Finding {
    let can: Vec<String> = task.ways.iter().map(|w| w.people.to_string()).collect();
    let can = match can.as_slice() {
        [] => task.people.to_string(),
        [all @ .., last] => format!("{} or {last}", all.join(", ")),
    };
    Finding::new(
        "team_not_possible",
        Severity::Care,
        Room::Times,
        &["teams", id],
        format!(
            "{} is not done by {people}: here it takes {can}.",
            task.title
        ),
        "It is planned as if nothing were set. Set another number, or leave it to the plan.",
    )
    .fix("Leave it to the plan", off(id))
}

fn without_task(id: &str) -> Finding {
    Finding::new(
        "team_without_task",
        Severity::Note,
        Room::Times,
        &["teams", id],
        "A number of people is set for work that is no longer in the plan.",
        "Take it off, unless the work comes back.",
    )
    .fix("Take it off", off(id))
}

fn off(id: &str) -> Vec<Edit> {
    vec![Edit::Remove {
        part: Part::Job,
        path: vec!["teams".into()],
        id: id.into(),
    }]
}

#[cfg(test)]
mod tests;

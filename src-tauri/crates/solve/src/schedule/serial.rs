//! The backward serial scheme.

use std::collections::BinaryHeap;

use super::taken::{Busy, Levels, Meter};
use super::{Answer, NoTime, Placed, Problem, Task};

/// Places every task as late as it can be. Of the tasks whose followers all have their place, the one that may end latest comes
/// first; of equal ones the later in the list. `budget` bounds the steps of the search.
///
/// A task that finds no place holds back what comes before it as if it stood at the latest time it was allowed: so nothing that
/// leads up to it is told to begin later than it may.
#[must_use]
pub fn solve(problem: &Problem, budget: u64) -> Answer {
    place_all(problem, budget, |_, latest| latest)
}

/// The same with an order of one's own: of the tasks whose followers all have their place, the one with the greatest key comes first.
/// Tasks without a key come last.
pub(super) fn in_order(problem: &Problem, budget: u64, keys: &[i64]) -> Answer {
    place_all(problem, budget, |i, _| {
        keys.get(i).copied().unwrap_or(i64::MIN)
    })
}

/// `key`: from a task and the latest time at which it may end.
fn place_all(problem: &Problem, budget: u64, key: impl Fn(usize, i64) -> i64) -> Answer {
    let n = problem.tasks.len();
    let mut state = State {
        problem,
        busy: vec![Busy::default(); problem.workers.len()],
        kit: vec![Levels::default(); problem.kit.len()],
        meter: Meter { work: 0, budget },
    };
    let mut followers: Vec<usize> = vec![0; n];
    for before in problem.tasks.iter().flat_map(|t| &t.after) {
        if let Some(count) = followers.get_mut(*before) {
            *count += 1;
        }
    }
    // when each may end at the latest, as far as is known
    let mut latest: Vec<i64> = problem.tasks.iter().map(|t| t.deadline).collect();
    let mut ready: BinaryHeap<(i64, usize)> = (0..n)
        .filter(|i| followers[*i] == 0)
        .map(|i| (key(i, latest[i]), i))
        .collect();
    let mut tasks: Vec<Result<Placed, NoTime>> = vec![Err(NoTime::Circle); n];
    while let Some((_, i)) = ready.pop() {
        let end = latest[i];
        let task = &problem.tasks[i];
        let placed = state.place(task, end);
        let start = placed.as_ref().map_or_else(
            |_| end.saturating_sub(problem.shortest(task)),
            |placed| placed.start,
        );
        tasks[i] = placed;
        for before in task.after.iter().copied().filter(|b| *b < n) {
            latest[before] = latest[before].min(start);
            followers[before] -= 1;
            if followers[before] == 0 {
                ready.push((key(before, latest[before]), before));
            }
        }
    }
    Answer {
        tasks,
        work: state.meter.work,
    }
}

/// What is taken so far.
struct State<'a> {
    problem: &'a Problem,
    /// By worker.
    busy: Vec<Busy>,
    /// By kind.
    kit: Vec<Levels>,
    meter: Meter,
}

impl State<'_> {
    /// The latest place that ends by `latest`.
    fn place(&mut self, task: &Task, latest: i64) -> Result<Placed, NoTime> {
        if let Some(why) = task.never(self.problem) {
            return Err(why);
        }
        let Some((start, end, who)) = self.latest(task, latest) else {
            return Err(if self.meter.work > self.meter.budget {
                NoTime::OutOfWork
            } else {
                NoTime::NoStretch
            });
        };
        if task.release.is_some_and(|release| start < release) {
            return Err(NoTime::BeforeRelease);
        }
        for worker in &who {
            self.busy[*worker].take(start, end);
        }
        for (kind, count) in task.kit.iter().enumerate() {
            if let Some(levels) = self.kit.get_mut(kind) {
                levels.take(start, end, *count);
            }
        }
        Ok(Placed { start, end, who })
    }

    /// The latest start with its end and people. Where it matters who does it, those who are at least so fast are looked at by themselves,
    /// for each pace there is, with time for the slowest of them: of one person that finds the best, of several a good one.
    fn latest(&mut self, task: &Task, latest: i64) -> Option<(i64, i64, Vec<usize>)> {
        let paces = self.problem.paces(task);
        let mut best: Option<(i64, i64, Vec<usize>)> = None;
        for (at, pace) in paces.iter().enumerate() {
            if at > 0 && paces[at - 1] == *pace {
                continue;
            }
            let slowest = paces[at..].iter().copied().take(task.people);
            let duration = Problem::lasts(task, slowest);
            // more than can be counted, whoever does it: no stretch is so long
            if duration == i64::MAX {
                continue;
            }
            let Some((end, ends)) = self.latest_end(task, duration, latest, *pace) else {
                continue;
            };
            let who = self.people(task, end, &ends);
            let start = end.checked_sub(self.problem.lasts_these(task, &who))?;
            if best.as_ref().is_none_or(|b| start > b.0) {
                best = Some((start, end, who));
            }
        }
        best
    }

    /// The latest end at which kit and enough people of at least that pace are free. Each bound is the latest that one condition allows, so going down
    /// from bound to bound passes over no end that all conditions allow. With it the latest end of each person by then.
    fn latest_end(
        &mut self,
        task: &Task,
        duration: i64,
        latest: i64,
        pace: i64,
    ) -> Option<(i64, Vec<Option<i64>>)> {
        // so that the bounds of the people, not known yet, are above it
        let mut end = latest.min(i64::MAX - 1);
        let workers = self.problem.workers.iter();
        let mut ends: Vec<Option<i64>> = workers
            .map(|w| (w.pace(task) >= pace).then_some(i64::MAX))
            .collect();
        loop {
            let from = end;
            for (kind, count) in task.kit.iter().enumerate().filter(|(_, n)| **n > 0) {
                let most = self.problem.kit[kind].saturating_sub(*count);
                end = self.kit[kind].latest_end(most, duration, end, &mut self.meter)?;
            }
            for (worker, theirs) in ends.iter_mut().enumerate() {
                if theirs.is_some_and(|e| e > end) {
                    let free = &self.problem.workers[worker].free;
                    *theirs = self.busy[worker].latest_end(free, duration, end, &mut self.meter);
                }
            }
            if self.meter.work > self.meter.budget {
                return None;
            }
            end = end.min(enough(&ends, task.people)?);
            if let Some(skill) = task.skill.filter(|_| task.people > 0) {
                let skilled = ends.iter().zip(&self.problem.workers);
                end = end.min(
                    skilled
                        .filter_map(|(e, w)| e.filter(|_| w.can(skill)))
                        .max()?,
                );
            }
            if end == from {
                return Some((end, ends));
            }
        }
    }

    /// Who does it: one with the skill if it takes one, then those whose work goes on right after it, then by the list.
    fn people(&self, task: &Task, end: i64, ends: &[Option<i64>]) -> Vec<usize> {
        let mut free: Vec<usize> = (0..ends.len()).filter(|w| ends[*w] == Some(end)).collect();
        free.sort_by_key(|w| (!self.busy[*w].begins_at(end), *w));
        if let Some(skill) = task.skill
            && let Some(first) = free
                .iter()
                .position(|w| self.problem.workers[*w].can(skill))
        {
            free[..=first].rotate_right(1);
        }
        free.truncate(task.people);
        free.sort_unstable();
        free
    }
}

/// The latest end that so many of them can meet.
fn enough(ends: &[Option<i64>], people: usize) -> Option<i64> {
    if people == 0 {
        return Some(i64::MAX);
    }
    let mut ends: Vec<i64> = ends.iter().filter_map(|e| *e).collect();
    ends.sort_unstable_by(|a, b| b.cmp(a));
    ends.get(people - 1).copied()
}

#[cfg(test)]
#[path = "serial/tests.rs"]
mod tests;

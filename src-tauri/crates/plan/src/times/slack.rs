//! How far each task may move: the two passes of the critical path method, over the links of the schedule that is made.
//!
//! Definition. A schedule is a set of tasks with links: what must be over first, the next task of the same person, the next use
//! of the same inflator ([`super::links`]). The forward pass gives each task its earliest start, if the work begins when it
//! must begin; the backward pass its latest start, so that everything is ready in time. Both keep to the hours of a task's people.
//! Slack is the working time between the two: the total float. Tasks without slack are the critical chain.
//!
//! Sources: J. E. Kelley and M. R. Walker, "Critical-Path Planning and Scheduling", Proc. Eastern Joint Computer Conference, 1959
//! (the passes and the float); J. D. Wiest, "Some Properties of Schedules for Large Projects with Limited Resources", Operations
//! Research 12, 1964 (the critical sequence: floats with links of people and things). Both from memory.

use std::ops::RangeInclusive;

use job::Job;
use job::site::Crew;
use job::time::instant;

use super::links::{links, order};
use super::pins::Pins;
use super::{DAYS_BACK, hours};
use crate::types::{Phase, Task};

/// Days before and after the strike whose hours may hold it.
const STRIKE_DAYS: RangeInclusive<i64> = -1..=2;

/// Stretches from and to, s.
pub(super) type Hours = Vec<(i64, i64)>;

/// A task of a schedule, times in s.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Node {
    /// Planned start.
    pub start: i64,
    /// From start to end.
    pub duration: i64,
    /// Stretches in which all its people can work, in order; empty is any time.
    pub free: Hours,
    /// It must not begin before then.
    pub from: i64,
    /// It must be over by then.
    pub until: i64,
    /// What must be over before it begins; each stands earlier in the list.
    pub before: Vec<usize>,
}

/// How far a task may move, s.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Float {
    /// Earliest start.
    pub early: i64,
    /// Latest start.
    pub late: i64,
    /// Working time between them.
    pub slack: i64,
}

/// The floats of a schedule. A task is never said to begin earlier than its planned start is late, or later than it is early: a
/// schedule that breaks its own bounds has no slack where it does.
pub(super) fn floats(nodes: &[Node]) -> Vec<Float> {
    let mut early: Vec<i64> = Vec::with_capacity(nodes.len());
    for node in nodes {
        let bound = node
            .before
            .iter()
            .filter_map(|b| Some(early.get(*b)?.saturating_add(nodes.get(*b)?.duration)))
            .fold(node.from, i64::max);
        let at = earliest(&node.free, bound, node.duration).unwrap_or(node.start);
        early.push(at.min(node.start));
    }
    let mut until: Vec<i64> = nodes.iter().map(|n| n.until).collect();
    let mut late: Vec<i64> = vec![0; nodes.len()];
    for (i, node) in nodes.iter().enumerate().rev() {
        let bound = until[i].saturating_sub(node.duration);
        late[i] = latest(&node.free, bound, node.duration)
            .unwrap_or(node.start)
            .max(node.start);
        for b in &node.before {
            if let Some(end) = until.get_mut(*b) {
                *end = (*end).min(late[i]);
            }
        }
    }
    nodes
        .iter()
        .enumerate()
        .map(|(i, node)| Float {
            early: early[i],
            late: late[i],
            slack: working(&node.free, early[i], late[i].saturating_add(node.duration))
                .saturating_sub(node.duration)
                .max(0),
        })
        .collect()
}

/// The earliest start at or after a time within one stretch.
pub(super) fn earliest(free: &[(i64, i64)], from: i64, duration: i64) -> Option<i64> {
    if free.is_empty() {
        return Some(from);
    }
    free.iter()
        .map(|(a, b)| (from.max(*a), *b))
        .find(|(start, b)| start.saturating_add(duration) <= *b)
        .map(|(start, _)| start)
}

/// The latest start at or before a time within one stretch.
fn latest(free: &[(i64, i64)], by: i64, duration: i64) -> Option<i64> {
    if free.is_empty() {
        return Some(by);
    }
    free.iter()
        .rev()
        .map(|(a, b)| (*a, by.min(b.saturating_sub(duration))))
        .find(|(a, start)| a <= start)
        .map(|(_, start)| start)
}

/// Working time between two times, s.
fn working(free: &[(i64, i64)], from: i64, to: i64) -> i64 {
    if free.is_empty() {
        return to.saturating_sub(from).max(0);
    }
    free.iter()
        .map(|(a, b)| to.min(*b).saturating_sub(from.max(*a)).max(0))
        .fold(0, i64::saturating_add)
}

/// Stretches that are in both lists.
pub(super) fn both(a: &[(i64, i64)], b: &[(i64, i64)]) -> Hours {
    let mut out = Vec::new();
    for (a_from, a_to) in a {
        for (b_from, b_to) in b {
            let (from, to) = (*a_from.max(b_from), *a_to.min(b_to));
            if from < to {
                out.push((from, to));
            }
        }
    }
    out.sort_unstable();
    out
}

/// Writes into each task how far it may move. `ready_ms` is when everything must stand.
pub(super) fn mark(
    job: &Job,
    crew: &[(&str, &Crew)],
    pins: &Pins,
    ready_ms: i64,
    tasks: &mut [Task],
) {
    let order = order(tasks);
    let before = links(job, tasks);
    let mut place = vec![0; tasks.len()];
    for (at, i) in order.iter().enumerate() {
        place[*i] = at;
    }
    let s = |ms: i64| ms.div_euclid(1000);
    let begin = order
        .iter()
        .filter(|i| !tasks[**i].phase.comes_after())
        .filter_map(|i| tasks[*i].start_ms)
        .min()
        .unwrap_or(ready_ms);
    let load_in = instant(&job.times.load_in, &job.venue.zone).ok();
    let strike_by = instant(&job.times.strike_by, &job.venue.zone).ok();
    let all: Vec<(&str, [Hours; 2])> = crew
        .iter()
        .map(|(id, person)| {
            let around = |ms, days| hours(job, (id, person), ms, days);
            let strike = instant(&job.times.strike_from, &job.venue.zone).unwrap_or(ready_ms);
            (
                *id,
                [
                    around(ready_ms, -DAYS_BACK..=0),
                    around(strike, STRIKE_DAYS),
                ],
            )
        })
        .collect();
    let nodes: Vec<Node> = order
        .iter()
        .map(|i| {
            let task = &tasks[*i];
            let (start, end) = (s(task.start_ms.unwrap_or(0)), s(task.end_ms.unwrap_or(0)));
            let strike = task.phase == Phase::Strike;
            let free = task
                .who
                .iter()
                .filter_map(|w| Some(&all.iter().find(|(id, _)| id == w)?.1[usize::from(strike)]))
                .fold(None::<Hours>, |sum, free| {
                    Some(sum.map_or_else(|| free.clone(), |sum| both(&sum, free)))
                })
                // work that was agreed outside people's hours has no other place
                .filter(|free| free.iter().any(|(a, b)| *a <= start && end <= *b))
                .unwrap_or_default();
            let (from, until) = if strike {
                (start, strike_by.map_or(end, |ms| s(ms).max(end)))
            } else {
                let venue = matches!(task.phase, Phase::Install | Phase::HandOver);
                let from = load_in.filter(|_| venue).map_or(begin, |ms| ms.max(begin));
                // a load-in that comes too late is a finding of its own
                (s(from).min(start), s(ready_ms).max(end))
            };
            let (from, until) = if pins.holds(&task.id) {
                (start, end)
            } else {
                (from, until)
            };
            Node {
                start,
                duration: end.saturating_sub(start),
                free,
                from,
                until,
                before: before[*i].iter().map(|b| place[*b]).collect(),
            }
        })
        .collect();
    for (i, float) in order.iter().zip(floats(&nodes)) {
        let task = &mut tasks[*i];
        task.early_ms = Some(float.early.saturating_mul(1000));
        task.late_ms = Some(float.late.saturating_mul(1000));
        task.slack_s = Some(float.slack);
        task.pinned = pins.holds(&task.id);
    }
}

#[cfg(test)]
mod tests;

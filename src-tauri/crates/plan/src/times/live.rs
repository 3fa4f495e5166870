//! The day as it goes: from the plan, the ticks so far and the time of day, what is late, when it will be finished, and what comes
//! next for each person. A pure function: the time is an argument.
//!
//! Rule of the forecast. What is done is done. What is begun has the rest of its time to go, from now on. What is to come begins
//! when what it waits for is over, by the same links as the schedule has, not before a pin that holds it later (the van comes at
//! noon), at the venue not before the load-in, and never in the past. Before the day runs it does not begin earlier than planned
//! either; from then on whoever is ready goes on ([`super::forward`]).
//! Hours are not kept to here: whoever is late stays. Common practice, no source.

use job::list::live as listed;
use job::pin::START;
use job::site::Tick;
use job::time::instant;
use job::{Ids, Job};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use ts_rs::TS;

use super::cause::{Cause, cause};
use super::forward::Forward;
use super::links::{links, order};
use crate::types::{Phase, Plan, Step, Task};

/// Late by less than this is on time, s: a minute is the least that is shown.
pub(super) const ON_TIME_S: i64 = 60;
/// Thousandths of a whole task.
const WHOLE: i64 = 1000;

/// How far a task has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Going {
    /// Nothing of it is ticked.
    #[default]
    ToCome,
    /// Some of it is ticked.
    Begun,
    /// All of it is ticked, or left out.
    Done,
}

/// A job on its day.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct Live {
    /// The time that this was reckoned for, ms.
    pub now_ms: i64,
    /// Something is ticked.
    pub begun: bool,
    /// Work has begun, or should have: from now on the day is told from here, and what was planned of its start is past.
    pub running: bool,
    /// Everything up to the hand-over is done.
    pub over: bool,
    /// When the hand-over is over, if it goes on like this, ms.
    pub finish_ms: Option<i64>,
    /// The same as planned, ms.
    pub planned_ms: Option<i64>,
    /// When it must be over, ms.
    pub ready_ms: Option<i64>,
    /// How much later than agreed it will be, s; negative is to spare.
    pub late_s: Option<i64>,
    /// What is not done and has no time, such as work that nobody is left for: titles. No finish can be foretold then.
    pub without: Vec<String>,
    /// Every task that has a time, in the order of the plan.
    pub tasks: Vec<LiveTask>,
    /// What comes next for each person, in the order of the crew.
    pub next: Vec<Next>,
    /// What is late by itself, in the order of the plan: whatever else is late follows from it.
    pub causes: Vec<Cause>,
}

/// A task on the day.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct LiveTask {
    /// Its id.
    pub task: String,
    /// How far it has come.
    pub going: Going,
    /// Done of it, thousandths.
    pub done_pm: i64,
    /// When it began or will, ms.
    pub start_ms: i64,
    /// When it ended or will, ms.
    pub end_ms: i64,
    /// Later than planned at its end, s; 0 if it is not.
    pub late_s: i64,
    /// So late that what comes after it is moved.
    pub moves: bool,
}

/// What a person does next.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct Next {
    /// The person's id.
    pub crew: String,
    /// Name.
    pub name: String,
    /// The task; empty if there is nothing more to do.
    pub task: String,
    /// What it is.
    pub title: String,
    /// When it begins, ms; now or earlier if it is going on.
    pub start_ms: i64,
    /// When it will be over, ms.
    pub end_ms: i64,
}

/// The day of a job as it stands at `now_ms`.
#[must_use]
pub fn live(job: &Job, plan: &Plan, now_ms: i64) -> Live {
    let ticks = held(&job.ticks);
    let order = order(&plan.tasks);
    let before = links(job, &plan.tasks);
    let mut shares: Vec<Share> = plan
        .tasks
        .iter()
        .map(|t| share(t, &plan.steps, &ticks))
        .collect();
    implied(&plan.tasks, &order, &mut shares);
    let running = plan.figures.start_by_ms.is_some_and(|s| s <= now_ms)
        || (plan.tasks.iter().zip(&shares))
            .any(|(t, s)| t.phase != Phase::Order && !t.phase.comes_after() && s.done_pm > 0);
    let forward = running.then(|| Forward::new(job, &plan.tasks, now_ms));
    let mut all: Vec<LiveTask> = vec![LiveTask::default(); plan.tasks.len()];
    let mut causes = Vec::new();
    for i in &order {
        let task = &plan.tasks[*i];
        let last = before[*i].iter().copied().max_by_key(|b| all[*b].end_ms);
        let wait = [last.map(|b| all[b].end_ms), not_before(job, plan, task)];
        let ready = wait.iter().flatten().fold(now_ms, |a, b| a.max(*b));
        let start = match &forward {
            Some(forward) => forward.start(*i, ready),
            None => ready.max(task.start_ms.unwrap_or(0)),
        };
        all[*i] = went(task, shares[*i], start, wait[0], now_ms);
        let last = last.map(|b| (&plan.tasks[b], &all[b]));
        causes.extend(cause(task, &all[*i], last, wait[1], now_ms));
    }
    let mut seen = std::collections::BTreeSet::new();
    causes.retain(|c: &Cause| seen.insert(c.task.clone()));
    let end_of = |id: &str| order.iter().find(|i| plan.tasks[**i].id == id).copied();
    let finish = end_of("finish");
    let ready_ms = instant(&job.times.ready_by, &job.venue.zone).ok();
    let without: Vec<String> = plan
        .tasks
        .iter()
        .zip(&shares)
        .filter(|(t, share)| {
            !t.phase.comes_after() && t.start_ms.is_none() && share.done_pm < WHOLE
        })
        .map(|(t, _)| t.title.clone())
        .collect();
    let finish_ms = finish.map(|i| all[i].end_ms).filter(|_| without.is_empty());
    let install = |i: &&usize| !plan.tasks[**i].phase.comes_after();
    Live {
        now_ms,
        begun: ticks.values().any(|t| t.done || t.quantity > 0),
        running,
        over: finish.is_some()
            && without.is_empty()
            && order
                .iter()
                .filter(install)
                .all(|i| all[*i].going == Going::Done),
        finish_ms,
        planned_ms: finish.and_then(|i| plan.tasks[i].end_ms),
        ready_ms,
        late_s: finish_ms
            .zip(ready_ms)
            .map(|(end, by)| end.saturating_sub(by).div_euclid(1000)),
        without,
        next: next(job, plan, &order, &all),
        causes,
        tasks: order.iter().map(|i| all[*i].clone()).collect(),
    }
}

/// What was said about a task that has not begun: pinned to a time, or at a venue that opens later. A task that is begun proves it wrong.
fn not_before(job: &Job, plan: &Plan, task: &Task) -> Option<i64> {
    let zone = &job.venue.zone;
    let first = plan.figures.start_by_ms.is_some() && task.start_ms == plan.figures.start_by_ms;
    let pinned = listed(&job.pins)
        .into_iter()
        .filter(|(_, pin)| pin.task == task.id || (first && pin.task == START))
        .filter_map(|(_, pin)| instant(&pin.at, zone).ok());
    let venue = matches!(task.phase, Phase::Install | Phase::HandOver);
    let load_in = instant(&job.times.load_in, zone).ok().filter(|_| venue);
    pinned.chain(load_in).max()
}

/// The tick that holds of each step: the highest turn; of equal turns one that says done, then the device whose name comes last.
fn held(ticks: &Ids<Tick>) -> BTreeMap<&str, &Tick> {
    let mut best: BTreeMap<&str, &Tick> = BTreeMap::new();
    for tick in ticks.values() {
        let rank = |t: &Tick| (t.turn, t.done, t.device.clone());
        let other = best.entry(tick.step.as_str()).or_insert(tick);
        if rank(tick) > rank(other) {
            *other = tick;
        }
    }
    best
}

/// How far one task has come and when it ends: it starts at `start_ms` if it is to come, and what it waits for is over at `wait`.
fn went(task: &Task, share: Share, start_ms: i64, wait: Option<i64>, now_ms: i64) -> LiveTask {
    let planned = (task.start_ms.unwrap_or(0), task.end_ms.unwrap_or(0));
    let length = planned.1.saturating_sub(planned.0);
    let (going, start_ms, end_ms) = match share.done_pm {
        WHOLE => {
            // without a clock of its own the last tick is the end
            let end = share.last_ms.unwrap_or(planned.1);
            (Going::Done, planned.0.min(end), end)
        }
        0 => (Going::ToCome, start_ms, start_ms.saturating_add(length)),
        part => {
            let rest = length.saturating_mul(WHOLE - part) / WHOLE;
            let from = now_ms.max(wait.unwrap_or(i64::MIN));
            let begun = planned.0.min(share.last_ms.unwrap_or(now_ms));
            (Going::Begun, begun, from.saturating_add(rest))
        }
    };
    let late = end_ms.saturating_sub(planned.1).div_euclid(1000);
    let late_s = if late < ON_TIME_S || going == Going::Done {
        0
    } else {
        late
    };
    // against the latest that makes nothing else late, where the plan knows it
    let latest = task
        .late_ms
        .map_or(planned.1, |ms| ms.saturating_add(length));
    LiveTask {
        task: task.id.clone(),
        going,
        done_pm: share.done_pm,
        start_ms,
        end_ms,
        late_s,
        moves: late_s > 0 && end_ms.saturating_sub(latest) >= ON_TIME_S * 1000,
    }
}

/// What is done of a task.
#[derive(Debug, Clone, Copy, Default)]
struct Share {
    done_pm: i64,
    /// The newest tick, ms.
    last_ms: Option<i64>,
}

/// How much of a task its steps say is done. A step that stands for several tasks in a row fills them one after the other.
fn share(task: &Task, steps: &[Step], ticks: &BTreeMap<&str, &Tick>) -> Share {
    let mut sum = 0i64;
    let mut parts = 0i64;
    let mut last_ms = None;
    for step in steps.iter().filter(|s| s.tasks.contains(&task.id)) {
        parts += 1;
        let Some(tick) = ticks.get(step.id.as_str()) else {
            continue;
        };
        let quantity = step.quantity.max(1);
        let all = tick.skipped || (tick.done && tick.quantity >= quantity);
        let done = if all {
            WHOLE
        } else {
            tick.quantity.clamp(0, quantity).saturating_mul(WHOLE) / quantity
        };
        let n = i64::try_from(step.tasks.len()).unwrap_or(1).max(1);
        let at = step.tasks.iter().position(|t| *t == task.id).unwrap_or(0);
        let at = i64::try_from(at).unwrap_or(0);
        let mine = (done.saturating_mul(n) - at.saturating_mul(WHOLE)).clamp(0, WHOLE);
        if mine > 0 {
            last_ms = last_ms.max(Some(tick.at_ms));
        }
        sum = sum.saturating_add(mine);
    }
    if parts == 0 {
        return Share::default();
    }
    Share {
        done_pm: sum / parts,
        last_ms,
    }
}

/// What must be over before something that is ticked is over, ticked or not: nobody hangs what was not carried in.
fn implied(tasks: &[Task], order: &[usize], shares: &mut [Share]) {
    for i in order
        .iter()
        .rev()
        .filter(|i| !tasks[**i].phase.comes_after())
    {
        if shares[*i].done_pm == 0 {
            continue;
        }
        for (j, before) in tasks.iter().enumerate() {
            if tasks[*i].after.contains(&before.id) && shares[j].done_pm < WHOLE {
                shares[j] = Share {
                    done_pm: WHOLE,
                    last_ms: shares[j].last_ms,
                };
            }
        }
    }
}

fn next(job: &Job, plan: &Plan, order: &[usize], all: &[LiveTask]) -> Vec<Next> {
    let mut by_start: Vec<usize> = order.to_vec();
    by_start.sort_by_key(|i| (all[*i].start_ms, *i));
    listed(&job.crew)
        .into_iter()
        .map(|(id, person)| {
            let theirs = by_start.iter().find(|i| {
                let task = &plan.tasks[**i];
                all[**i].going != Going::Done
                    && !task.phase.comes_after()
                    && task.who.iter().any(|w| w == id)
            });
            Next {
                crew: id.to_string(),
                name: person.name.clone(),
                task: theirs
                    .map(|i| plan.tasks[*i].id.clone())
                    .unwrap_or_default(),
                title: theirs
                    .map(|i| plan.tasks[*i].title.clone())
                    .unwrap_or_default(),
                start_ms: theirs.map_or(0, |i| all[*i].start_ms),
                end_ms: theirs.map_or(0, |i| all[*i].end_ms),
            }
        })
        .collect()
}

#[cfg(test)]
mod tests;

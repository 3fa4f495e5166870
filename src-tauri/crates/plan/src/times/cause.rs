//! What is late by itself on the day. Whatever waits for it is late as well, and need not be said once more.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::live::{Going, LiveTask, ON_TIME_S};
use crate::types::Task;

/// LateWhy something is late that waits for nothing late.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum LateWhy {
    /// It should have begun, and could.
    #[default]
    NotBegun,
    /// It is begun and takes longer.
    Slow,
    /// It may not begin before an agreed or expected time: the van, the venue.
    Held,
    /// It is done, and was done later than planned.
    DoneLate,
}

/// One thing that is late by itself.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, TS)]
pub struct Cause {
    /// The task.
    pub task: String,
    /// What it is.
    pub title: String,
    /// LateWhy.
    pub why: LateWhy,
    /// The time that it is about, ms: when it should have begun; may begin; will end; ended.
    pub at_ms: i64,
    /// By how much later than planned it ends, s.
    pub late_s: i64,
    /// So late that what comes after it is moved.
    pub moves: bool,
}

/// The cause of a task's being late: itself, or what it waits for if that is done and gives no other. None where it is in time, or
/// waits for something that is late and still to do. `last` is over last of what it waits for; it does not begin before `held`.
pub(super) fn cause(
    task: &Task,
    went: &LiveTask,
    last: Option<(&Task, &LiveTask)>,
    held: Option<i64>,
    now_ms: i64,
) -> Option<Cause> {
    if went.late_s == 0 || task.phase.comes_after() {
        return None;
    }
    let own = |why, at_ms| {
        Some(Cause {
            task: task.id.clone(),
            title: task.title.clone(),
            why,
            at_ms,
            late_s: went.late_s,
            moves: went.moves,
        })
    };
    let planned = task.start_ms.unwrap_or(0);
    let until = last.map_or(i64::MIN, |(_, l)| l.end_ms);
    if went.going == Going::Begun {
        return (until <= now_ms)
            .then(|| own(LateWhy::Slow, went.end_ms))
            .flatten();
    }
    // what makes it begin when it does
    if held.is_some_and(|h| h == went.start_ms && h > until.max(now_ms)) {
        return own(LateWhy::Held, went.start_ms);
    }
    if until < now_ms || last.is_none() {
        return own(LateWhy::NotBegun, planned);
    }
    let (before, over) = last?;
    let late_s = over
        .end_ms
        .saturating_sub(before.end_ms.unwrap_or(over.end_ms))
        / 1000;
    (over.going == Going::Done && late_s >= ON_TIME_S).then(|| Cause {
        task: before.id.clone(),
        title: before.title.clone(),
        why: LateWhy::DoneLate,
        at_ms: over.end_ms,
        late_s,
        moves: went.moves,
    })
}

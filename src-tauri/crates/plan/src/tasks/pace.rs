//! Who is how fast at what: the kinds of work in which a person has a pace of their own.
//!
//! A task takes as long as its people's paces make it: so many people at the usual pace do it in the time of the rates, and these together
//! are as fast as the sum of their paces over their number. That is sound for work that is shared out; of what is held by two from end to
//! end it says that the quicker one helps. Driving, checking the delivery and the hand-over take everybody the same time, and so does
//! what is pinned to a time by hand.

use job::site::Crew;

use crate::types::{Task, Term};

/// The fields of a person, in the order of [`of`].
pub const FIELDS: [&str; 4] = ["blow_pct", "string_pct", "room_pct", "carry_pct"];

/// A person's paces, percent.
#[must_use]
pub fn of(person: &Crew) -> [i64; 4] {
    let paces = [
        person.blow_pct,
        person.string_pct,
        person.room_pct,
        person.carry_pct,
    ];
    paces.map(|pace| pace.clamp(10, 400))
}

/// The kind of work that a task is, by the first part of its id.
#[must_use]
pub fn kind(task: &str) -> Option<usize> {
    Some(match task.split('.').next()? {
        "inflate" | "pump" | "links" | "foils" | "helium" => 0,
        "cluster" | "string" | "tie" | "stack" | "accents" => 1,
        "frame" | "hang" | "fill" | "extras" | "drape" | "stand" | "grid" | "float" | "place" => 2,
        "bag" | "load" | "carry" => 3,
        _ => return None,
    })
}

/// A task takes so long with those who do it, s: more or less than the rates say, and that is one of its terms.
pub(crate) fn takes(task: &mut Task, duration_s: i64) {
    let usual = i128::from(task.duration_s);
    if usual == i128::from(duration_s) || usual <= 0 {
        return;
    }
    let all = i128::from(task.work_s) * i128::from(duration_s) / usual;
    let all = i64::try_from(all).unwrap_or(i64::MAX);
    task.terms.push(Term {
        label: "for the pace of those who do it".into(),
        value: all.saturating_sub(task.work_s),
    });
    (task.work_s, task.duration_s) = (all, duration_s);
}

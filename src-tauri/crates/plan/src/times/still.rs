//! What still helps on the day, from now on: somebody more, something left out, a later ready-by. Each is planned and forecast anew, and
//! what does not bring the hand-over forward, or the agreement after it, is not offered.

use std::collections::BTreeSet;

use job::list::live as listed;
use job::site::Crew;
use job::time::{instant, local};
use job::{Edit, Job, Part};
use serde::{Deserialize, Serialize};
use serde_json::json;
use ts_rs::TS;

use super::live::{Going, Live, live};
use crate::pieces::called;
use crate::types::Plan;
use crate::what_if::{fresh, one_more};
use crate::{Depth, Memory, plan_at};

/// People that are tried.
const PEOPLE: usize = 3;
/// Pieces that are tried to be left out, the least work first.
const PIECES: usize = 4;
/// Pieces that are offered to be left out.
const OFFERED: usize = 2;
/// A ready-by is agreed to so many minutes.
const STEP_MS: i64 = 5 * 60_000;
/// What brings less than this brings nothing, s.
const LEAST_S: i64 = 60;

/// Something that still helps.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct Still {
    /// Which: `person`, `without`, `ready_by`.
    pub code: String,
    /// The person who comes, or the piece that is left out; empty for one more person without a name, and for a later ready-by.
    pub name: String,
    /// The edits that make it so.
    pub edits: Vec<Edit>,
    /// When the hand-over is over then, ms.
    pub finish_ms: i64,
    /// How much later than agreed that is, s; negative is to spare.
    pub late_s: i64,
}

/// What still helps a job that is late at `now_ms`, what makes it in time first; nothing if it is not late. `people` could be asked.
#[must_use]
pub fn still(
    job: &Job,
    people: &[Crew],
    now_ms: i64,
    depth: Depth,
    memory: &mut Memory,
) -> Vec<Still> {
    let plan = plan_at(job, None, depth, memory);
    let now = live(job, &plan, now_ms);
    // work that nobody is left for counts as later than anything
    let late = now.late_s.unwrap_or(i64::MAX);
    if now.over || late < LEAST_S {
        return Vec::new();
    }
    let mut forecast = |changed: &Job| {
        let plan = plan_at(changed, None, depth, memory);
        let day = live(changed, &plan, now_ms);
        day.finish_ms.zip(day.late_s)
    };
    let mut all = Vec::new();
    for (name, edit, changed) in more_people(job, people) {
        if let Some(told) = forecast(&changed) {
            all.push(made("person", name, edit, told));
        }
    }
    let mut without = Vec::new();
    for (name, edit, changed) in left_out(job, &plan, &now) {
        if let Some(told) = forecast(&changed) {
            without.push(made("without", name, edit, told));
        }
    }
    let helps = |s: &Still| s.late_s <= late.saturating_sub(LEAST_S);
    all.retain(helps);
    without.retain(helps);
    // the least that makes it in time, else what brings most
    without.sort_by_key(|s| s.late_s.max(0));
    without.truncate(OFFERED);
    all.extend(without);
    if let Some((edit, changed)) = later(job, &now)
        && let Some(told) = forecast(&changed).filter(|(_, late)| *late < LEAST_S)
    {
        all.push(made("ready_by", String::new(), edit, told));
    }
    all.sort_by_key(|s| s.late_s >= LEAST_S);
    all
}

fn made(code: &str, name: String, edit: Edit, (finish_ms, late_s): (i64, i64)) -> Still {
    Still {
        code: code.into(),
        name,
        edits: vec![edit],
        finish_ms,
        late_s,
    }
}

/// Each who could be asked; without any, somebody with the hours of the first.
fn more_people(job: &Job, people: &[Crew]) -> Vec<(String, Edit, Job)> {
    let named = people.iter().filter(|p| !p.name.trim().is_empty());
    let all: Vec<_> = named.take(PEOPLE).map(|p| with(job, p)).collect();
    if !all.is_empty() {
        return all;
    }
    one_more(job, true, true)
        .map(|(edit, job)| (String::new(), edit, job))
        .into_iter()
        .collect()
}

fn with(job: &Job, person: &Crew) -> (String, Edit, Job) {
    let id = fresh(&job.crew, "extra");
    let last = listed(&job.crew)
        .last()
        .map(|(_, c)| format!("{}~", c.order));
    let person = Crew {
        order: last.unwrap_or_default(),
        gone: false,
        ..person.clone()
    };
    let edit = Edit::Add {
        part: Part::Job,
        path: vec!["crew".into()],
        id: id.clone(),
        before: None,
        value: json!({
            "name": person.name, "phone": person.phone, "from_min": person.from_min, "to_min": person.to_min,
            "ladder": person.ladder, "drives": person.drives, "blow_pct": person.blow_pct, "string_pct": person.string_pct,
            "room_pct": person.room_pct, "carry_pct": person.carry_pct, "source": person.source,
        }),
    };
    let mut changed = job.clone();
    let name = person.name.trim().to_string();
    changed.crew.insert(id, person);
    (name, edit, changed)
}

/// The job without one piece of which nothing is done and on which nothing hangs: those with the least work first.
fn left_out(job: &Job, plan: &Plan, now: &Live) -> Vec<(String, Edit, Job)> {
    let begun: BTreeSet<&str> = (now.tasks.iter())
        .filter(|t| t.going != Going::ToCome)
        .map(|t| t.task.as_str())
        .collect();
    let bears = |id: &str| listed(&job.pieces).iter().any(|(_, p)| p.on == id);
    let mut all: Vec<(i64, &str, String)> = listed(&job.pieces)
        .into_iter()
        .filter(|(id, _)| !bears(id))
        .filter_map(|(id, piece)| {
            let tasks = plan.tasks.iter();
            let mut work = tasks.filter(|t| t.piece == id && !t.phase.comes_after());
            let free = work.clone().all(|t| !begun.contains(t.id.as_str()));
            let work_s = work.clone().map(|t| t.work_s).sum::<i64>();
            (free && work.next().is_some()).then(|| (work_s, id, called(piece).to_string()))
        })
        .collect();
    // one piece is the job
    if listed(&job.pieces).len() < 2 {
        return Vec::new();
    }
    all.sort();
    all.truncate(PIECES);
    all.into_iter()
        .filter_map(|(_, id, name)| {
            let mut changed = job.clone();
            changed.pieces.get_mut(id)?.gone = true;
            let edit = Edit::Remove {
                part: Part::Job,
                path: vec!["pieces".into()],
                id: id.to_string(),
            };
            Some((name, edit, changed))
        })
        .collect()
}

/// Ready by the time it will be ready, unless the doors open before.
fn later(job: &Job, now: &Live) -> Option<(Edit, Job)> {
    let zone = &job.venue.zone;
    let at = now.finish_ms?.checked_add(STEP_MS - 1)?.div_euclid(STEP_MS) * STEP_MS;
    if instant(&job.times.doors_open, zone).is_ok_and(|doors| at > doors) {
        return None;
    }
    let wall = local(at, zone)?;
    let mut changed = job.clone();
    changed.times.ready_by.clone_from(&wall);
    Some((Edit::set(&["times", "ready_by"], wall), changed))
}

#[cfg(test)]
mod tests;

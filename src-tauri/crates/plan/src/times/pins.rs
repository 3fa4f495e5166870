//! Pinned tasks: held where a hand has put them as long as the schedule can do it, else let go with the reason.

use std::collections::BTreeMap;

use job::list::live;
use job::pin::START;
use job::site::Crew;
use job::time::{instant, local};
use job::{Edit, Finding, Job, Part, Room, Severity};
use solve::schedule::{Answer, NoTime};

use super::{DAYS_BACK, hours};
use crate::tasks::Planned;

/// Most pins that are looked at; more are no plan any more.
const MOST: usize = 100;

/// What a schedule is made from.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ground<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its people.
    pub crew: &'a [(&'a str, &'a Crew)],
    /// When everything must stand, ms.
    pub ready_ms: i64,
    /// What there is to do.
    pub planned: &'a [Planned],
}

/// What is held where.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Pins {
    /// By task: the pin's id, and the start, s.
    at: BTreeMap<String, (String, i64)>,
}

impl Pins {
    /// Whether a task is held.
    pub(super) fn holds(&self, task: &str) -> bool {
        self.at.contains_key(task)
    }

    /// Whether nothing is held.
    pub(super) fn is_empty(&self) -> bool {
        self.at.is_empty()
    }

    /// Start and end that a task must have, s.
    pub(super) fn window(&self, planned: &Planned) -> Option<(i64, i64)> {
        let (_, start) = self.at.get(&planned.task.id)?;
        Some((*start, start.saturating_add(planned.task.duration_s.max(0))))
    }
}

/// The pins of a job for the tasks that it has. `first` is the task that the work begins with: it is what a pinned start holds.
pub(super) fn read(
    job: &Job,
    planned: &[Planned],
    first: Option<&str>,
    findings: &mut Vec<Finding>,
) -> Pins {
    let mut pins = Pins::default();
    for (id, pin) in live(&job.pins).into_iter().take(MOST) {
        let Ok(ms) = instant(&pin.at, &job.venue.zone) else {
            continue;
        };
        let task = match (pin.task.as_str(), first) {
            (START, Some(first)) => first,
            (START, None) => continue,
            (task, _) => task,
        };
        if planned.iter().any(|p| p.task.id == task) {
            pins.at
                .entry(task.to_string())
                .or_insert((id.to_string(), ms.div_euclid(1000)));
        } else {
            findings.push(without_task(id));
        }
    }
    pins
}

/// Lets go of one pin that cannot be kept, and says why. `free` says which tasks have a time if nothing is pinned. Answers whether it did:
/// then the schedule is to be made again.
pub(super) fn let_go(
    on: &Ground,
    answer: &Answer,
    free: &[bool],
    pins: &mut Pins,
    findings: &mut Vec<Finding>,
) -> bool {
    let Ground {
        job,
        crew,
        ready_ms,
        planned,
    } = *on;
    let lost =
        |i: &usize| answer.tasks.get(*i).is_some_and(Result::is_err) && free.get(*i) == Some(&true);
    let all = 0..planned.len();
    // one that no schedule can keep; else the last that failed itself, since a task without a place holds back what comes before it;
    // else one that stands after a task that found no room before it; else the first
    let hopeless = all.clone().find(|i| {
        pins.window(&planned[*i]).is_some_and(|(start, end)| {
            end.saturating_mul(1000) > ready_ms || !somebody(job, crew, ready_ms, start, end)
        })
    });
    let failed = hopeless.or_else(|| {
        all.clone()
            .rfind(|i| lost(i) && pins.holds(&planned[*i].task.id))
    });
    let squeezed = all.clone().find(|i| lost(i));
    let task = failed.map(|i| planned[i].task.id.clone()).or_else(|| {
        let id = &planned[squeezed?].task.id;
        follower(planned, id, pins).or_else(|| pins.at.keys().next().cloned())
    });
    let Some((task, (id, start))) = task.and_then(|t| pins.at.remove_entry(&t)) else {
        return false;
    };
    let Some(pinned) = planned.iter().find(|p| p.task.id == task) else {
        return true;
    };
    let end = start.saturating_add(pinned.task.duration_s.max(0));
    let why = match (failed, squeezed) {
        _ if end.saturating_mul(1000) > ready_ms => {
            let late = end.saturating_sub(ready_ms.div_euclid(1000));
            format!("it would end {} min after ready-by", (late + 59) / 60)
        }
        _ if !somebody(job, crew, ready_ms, start, end) => "nobody works at that time".to_string(),
        (Some(i), _) => match answer.tasks.get(i) {
            Some(Err(NoTime::BeforeRelease)) => {
                "what comes after it has to begin by then".to_string()
            }
            _ => "its people or things are needed elsewhere at that time".to_string(),
        },
        (None, Some(i)) => format!("{} has no room before it", planned[i].task.title),
        (None, None) => "it leaves other work no room".to_string(),
    };
    let at = local(start.saturating_mul(1000), &job.venue.zone).unwrap_or_default();
    let clock = at.get(11..).unwrap_or_default();
    findings.push(
        Finding::new(
            "pin_not_kept",
            Severity::Care,
            Room::Times,
            &["pins", &id],
            format!("{} cannot begin at {clock}: {why}.", pinned.task.title),
            "It stands where it can be. Pin it at another time, or take the pin off.",
        )
        .fix("Take the pin off", off(&id)),
    );
    true
}

/// A pinned task that waits for this one, near or far.
fn follower(planned: &[Planned], id: &str, pins: &Pins) -> Option<String> {
    let mut seen = vec![id.to_string()];
    let mut at = 0;
    while let Some(before) = seen.get(at).cloned() {
        for p in planned.iter().filter(|p| p.task.after.contains(&before)) {
            if pins.holds(&p.task.id) {
                return Some(p.task.id.clone());
            }
            if !seen.contains(&p.task.id) {
                seen.push(p.task.id.clone());
            }
        }
        at += 1;
    }
    None
}

/// Whether anybody's hours hold this time, s.
fn somebody(job: &Job, crew: &[(&str, &Crew)], ready_ms: i64, start: i64, end: i64) -> bool {
    crew.iter().any(|(id, person)| {
        hours(job, (id, person), ready_ms, -DAYS_BACK..=0)
            .iter()
            .any(|(a, b)| *a <= start && end <= *b)
    })
}

fn without_task(id: &str) -> Finding {
    Finding::new(
        "pin_without_task",
        Severity::Note,
        Room::Times,
        &["pins", id],
        "A pin holds work that is no longer in the plan.",
        "Take it off, unless the work comes back.",
    )
    .fix("Take the pin off", off(id))
}

pub(super) fn off(id: &str) -> Vec<Edit> {
    vec![Edit::Remove {
        part: Part::Job,
        path: vec!["pins".into()],
        id: id.into(),
    }]
}

#[cfg(test)]
mod tests;

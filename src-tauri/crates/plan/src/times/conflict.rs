//! Which facts of a job do not go together: the smallest set of them with which a finding stands, by leaving out one after the other.
//!
//! What is left out one by one as long as the finding stands without it leaves a set of which every fact is needed (deletion filter:
//! J. W. Chinneck and E. W. Dravnieks, "Locating Minimal Infeasible Constraint Sets in Linear Programs", ORSA J. Computing 3, 1991,
//! from memory). What comes first is left out first, so what a person can hardly change is named last of all.

use job::Job;
use job::list::live;
use job::pin::{Pin, START};
use job::site::KitKind;
use job::time::{instant, local};

use super::Times;
use super::cures::{Key, Tries, clock};
use crate::pieces::called;

/// Pins that are looked at.
const PINS: usize = 8;
/// More people, and more things of a kind, than any job waits for.
const PLENTY: usize = 6;
/// Later than any work that is put off lasts, ms: three days.
const LATER_MS: i64 = 3 * 86_400_000;
/// Nothing is too old after so many hours.
const NEVER_H: i64 = 1_000_000;

/// What is agreed, entered, or there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Fact {
    /// A pin, by its id, and what it holds.
    Pin(String, String),
    /// When people work.
    Hours(String),
    /// How many inflators there are.
    Inflators(String),
    /// How old balloons may be.
    Fresh(String),
    /// How many people there are.
    People(String),
    /// When the venue lets the crew in.
    LoadIn(String),
    /// When everything must stand.
    ReadyBy(String),
}

impl Fact {
    fn said(&self) -> &str {
        match self {
            Fact::Pin(_, said)
            | Fact::Hours(said)
            | Fact::Inflators(said)
            | Fact::Fresh(said)
            | Fact::People(said)
            | Fact::LoadIn(said)
            | Fact::ReadyBy(said) => said,
        }
    }

    /// The job as if this were not so.
    pub(super) fn without(&self, job: &Job) -> Job {
        let mut job = job.clone();
        match self {
            Fact::Pin(id, _) => {
                if let Some(pin) = job.pins.get_mut(id) {
                    pin.gone = true;
                }
            }
            Fact::Hours(_) => {
                for person in job.crew.values_mut() {
                    (person.from_min, person.to_min) = (0, 1440);
                }
            }
            Fact::Inflators(_) => {
                for _ in 0..PLENTY {
                    job = crate::what_if::one_more_inflator(&job).1;
                }
            }
            Fact::Fresh(_) => {
                let r = &mut job.rules;
                for limit in [
                    &mut r.fresh_care_h,
                    &mut r.fresh_stop_h,
                    &mut r.fresh_outdoors_h,
                    &mut r.helium_h,
                    &mut r.helium_treated_h,
                    &mut r.helium_foil_h,
                ] {
                    *limit = NEVER_H;
                }
            }
            Fact::People(_) => {
                for _ in 0..PLENTY {
                    if let Some((_, more)) = crate::what_if::one_more(&job, true, true) {
                        job = more;
                    }
                }
            }
            Fact::LoadIn(_) => job.times.load_in.clear(),
            Fact::ReadyBy(_) => {
                let zone = job.venue.zone.clone();
                let later = instant(&job.times.ready_by, &zone)
                    .ok()
                    .and_then(|ms| local(ms.checked_add(LATER_MS)?, &zone));
                job.times.ready_by = later.unwrap_or_default();
            }
        }
        job
    }
}

/// The facts that do not go together, in the order of the list above, and whether it is proved that they do not. None if fewer than
/// two are left, too much was tried, or with more work there is an order that keeps them all.
pub(super) fn conflict(tries: &mut Tries, key: &Key) -> Option<(Vec<Fact>, bool)> {
    if !matches!(
        key.0.as_str(),
        "no_time" | "load_in_too_late" | "too_old" | "too_old_outdoors" | "sinks_early"
    ) {
        return None;
    }
    let mut job = tries.job.clone();
    let mut proved = tries.times.proved;
    let mut needed = Vec::new();
    for fact in facts(tries, key) {
        let without = fact.without(&job);
        let (stands, times) = tries.stands(&without, key)?;
        if stands {
            job = without;
            proved = times.proved;
        } else {
            needed.push(fact);
        }
    }
    if needed.len() < 2 {
        return None;
    }
    // what is proved of the job that keeps nothing but these facts is proved of them, whatever was known on the way
    let proved = proved || tries.proves(&job, key)?;
    Some((needed, proved))
}

/// As a sentence.
pub(super) fn said(facts: &[Fact], proved: bool) -> String {
    let mut words: Vec<&str> = facts.iter().map(Fact::said).collect();
    words.reverse();
    let last = words.pop().unwrap_or_default();
    let all = format!("{} and {last}", words.join(", "));
    if proved {
        let mut letters = all.chars();
        let first = letters.next().map(|c| c.to_uppercase().to_string());
        format!(
            "{}{} do not go together with these people at each task.",
            first.unwrap_or_default(),
            letters.as_str()
        )
    } else {
        format!("No order of the work was found that keeps {all}.")
    }
}

/// What a pin holds, in words.
pub(super) fn pinned(times: &Times, pin: &Pin) -> String {
    if pin.task == START {
        return "the start".into();
    }
    let task = times.tasks.iter().find(|t| t.id == pin.task);
    task.map_or_else(|| "work".to_string(), |t| t.title.clone())
}

pub(super) fn facts(tries: &Tries, key: &Key) -> Vec<Fact> {
    let job = tries.job;
    let crew = live(&job.crew);
    let mut all: Vec<Fact> = live(&job.pins)
        .into_iter()
        .take(PINS)
        .map(|(id, pin)| {
            let what = pinned(&tries.times, pin);
            Fact::Pin(
                id.into(),
                format!("the pin on {what} at {}", clock(&pin.at)),
            )
        })
        .collect();
    let first = crew.first().map(|(_, c)| (c.from_min, c.to_min));
    let same = crew
        .iter()
        .all(|(_, c)| Some((c.from_min, c.to_min)) == first);
    all.push(Fact::Hours(match first.filter(|_| same) {
        Some((from, to)) => format!("the hours {} to {}", minute(from), minute(to)),
        None => "people's hours".into(),
    }));
    let inflators = live(&job.kit)
        .into_iter()
        .filter(|(_, k)| k.kind == KitKind::Inflator)
        .map(|(_, k)| k.count.clamp(0, 1000))
        .sum();
    all.push(Fact::Inflators(some(inflators, "inflator", "inflators")));
    let piece = key.1.get(1).and_then(|id| job.pieces.get(id));
    let piece = piece.map_or("what is made", |p| called(p));
    all.push(Fact::Fresh(format!("how fresh {piece} has to be")));
    let people = i64::try_from(crew.len()).unwrap_or(i64::MAX);
    all.push(Fact::People(some(people, "person", "people")));
    if !job.times.load_in.is_empty() {
        all.push(Fact::LoadIn(format!(
            "load-in at {}",
            clock(&job.times.load_in)
        )));
    }
    all.push(Fact::ReadyBy(format!(
        "ready by {}",
        clock(&job.times.ready_by)
    )));
    all
}

fn some(n: i64, one: &str, more: &str) -> String {
    match n {
        1 => format!("one {one}"),
        n => format!("{n} {more}"),
    }
}

/// A minute of the day as a time.
fn minute(of_day: i64) -> String {
    let at = of_day.clamp(0, 1440);
    format!("{:02}:{:02}", at / 60, at % 60)
}

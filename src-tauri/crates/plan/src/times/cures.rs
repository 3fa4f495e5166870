//! When the times do not hold: what would make them hold, cheapest first, each tried on the whole job, and which facts do not go
//! together.
//!
//! A cure is a change of the job after which the finding is gone and no other that must be solved has come. What it costs is the time
//! that people are there. How far something has to move is found by halving; that takes for granted that more of it never makes it
//! worse, and what is offered has been tried.

use std::collections::BTreeSet;

use job::list::live;
use job::time::{instant, local};
use job::{Edit, Finding, Job, Severity};

use super::conflict::{conflict, said};
use super::ways::Ways;
use super::{Known, Times, pins, timed};
use crate::fresh::hours;
use crate::pieces::Counted;
use crate::types::{Load, Phase};
use crate::what_if::{about_times, one_more, one_more_inflator};

/// Steps of the engine for one try: less than a millisecond. What it does not find in them is not offered.
const WORK: u64 = 20_000;
/// Steps to prove that facts do not go together, once for each finding.
const PROOF: u64 = 400_000;
/// Most plans that are tried for one job of no more than this many tasks; of a larger one so many fewer.
const MOST: usize = 120;
const TASKS: usize = 100;
/// Findings that are looked into; further ones mostly have the same cures.
const LOOKED: usize = 2;
/// Cures that are offered of one finding.
const OFFERED: usize = 4;
/// People that are added at most.
const PEOPLE: usize = 3;
/// Farthest that an agreed time or somebody's hours are moved, min.
const FAR_MIN: i64 = 12 * 60;
/// Hours are moved by so much, min.
const STEP_MIN: i64 = 15;
/// To be called once more counts as much as an hour, s; as in the schedule.
const CALL_S: i64 = 3600;

/// What makes two findings the same: code and path.
pub(super) type Key = (String, Vec<String>);

/// A change after which a finding is gone.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Cure {
    /// On its button.
    pub label: String,
    /// In the sentence.
    pub said: String,
    /// What it changes.
    pub edits: Vec<Edit>,
    /// The job with it.
    pub job: Job,
    /// How far an agreement moves, min.
    moved_min: i64,
    /// More time that people are there, calls counted, s.
    cost_s: i64,
}

/// Puts cures and the facts that do not go together into the findings that say that the times do not hold.
pub(super) fn add(
    job: &Job,
    counted: &Counted,
    load: &Load,
    ways: &Ways,
    known: &mut Known,
    times: &mut Times,
) {
    let mut tries = Tries::new(job, counted, load, ways, known, times);
    let stops = times.findings.iter_mut().filter(|f| is_stop(f));
    for finding in stops.take(LOOKED) {
        let key = key(finding);
        let mut action = Vec::new();
        if let Some((facts, proved)) = conflict(&mut tries, &key) {
            action.push(said(&facts, proved));
        }
        let mut cures = tries.cures(&key);
        cures.truncate(OFFERED);
        if cures.is_empty() {
            action.push(finding.action.clone());
        } else {
            let said: Vec<&str> = cures.iter().map(|c| c.said.as_str()).collect();
            action.push(format!("Cheapest first: {}.", said.join("; or ")));
        }
        finding.action = action.join(" ");
        for cure in cures {
            *finding = finding.clone().fix(cure.label, cure.edits);
        }
    }
}

fn key(finding: &Finding) -> Key {
    (finding.code.clone(), finding.path.clone())
}

fn is_stop(finding: &Finding) -> bool {
    finding.severity == Severity::Stop
        && about_times(&finding.code)
        && finding.code != "no_people"
        && finding.code != "too_much_work"
}

fn stops(times: &Times) -> BTreeSet<Key> {
    let stops = times.findings.iter().filter(|f| is_stop(f));
    stops.map(key).collect()
}

/// Plans of changed jobs.
pub(super) struct Tries<'a> {
    /// The job as it is.
    pub job: &'a Job,
    /// Its times.
    pub times: Times,
    counted: &'a Counted,
    load: &'a Load,
    ways: &'a Ways,
    known: &'a mut Known,
    was: BTreeSet<Key>,
    left: usize,
    /// Steps of the engine for one try.
    pub work: u64,
}

impl<'a> Tries<'a> {
    pub(super) fn new(
        job: &'a Job,
        counted: &'a Counted,
        load: &'a Load,
        ways: &'a Ways,
        known: &'a mut Known,
        times: &Times,
    ) -> Self {
        Self {
            job,
            times: times.clone(),
            counted,
            load,
            ways,
            known,
            was: stops(times),
            left: MOST * TASKS / times.tasks.len().max(TASKS),
            work: WORK,
        }
    }

    /// Times of a changed job; none if there have been too many.
    pub(super) fn times(&mut self, job: &Job) -> Option<Times> {
        self.left = self.left.checked_sub(1)?;
        let asked = (self.work, &mut *self.known);
        Some(timed(job, self.counted, self.load, self.ways, asked))
    }

    /// Whether a finding is there in a changed job; none if that is not known.
    pub(super) fn stands(&mut self, job: &Job, key: &Key) -> Option<(bool, Times)> {
        let times = self.times(job)?;
        Some((stops(&times).contains(key), times))
    }

    /// Whether it is proved that a finding stands in a changed job, with more work than a try has; none if it does not stand.
    pub(super) fn proves(&mut self, job: &Job, key: &Key) -> Option<bool> {
        let asked = (PROOF, &mut *self.known);
        let times = timed(job, self.counted, self.load, self.ways, asked);
        stops(&times).contains(key).then_some(times.proved)
    }

    /// The times with which a finding is gone and nothing new has come.
    fn works(&mut self, job: &Job, key: &Key) -> Option<Times> {
        let times = self.times(job)?;
        let now = stops(&times);
        (!now.contains(key) && now.is_subset(&self.was)).then_some(times)
    }

    /// The same with other numbers of people at tasks.
    fn works_by(&mut self, job: &Job, key: &Key, ways: &Ways) -> Option<Times> {
        self.left = self.left.checked_sub(1)?;
        let asked = (self.work, &mut *self.known);
        let times = timed(job, self.counted, self.load, ways, asked);
        let now = stops(&times);
        (!now.contains(key) && now.is_subset(&self.was)).then_some(times)
    }

    /// Every cure of a finding, cheapest first.
    pub(super) fn cures(&mut self, key: &Key) -> Vec<Cure> {
        let mut all = Vec::new();
        match key.0.as_str() {
            "strike_too_long" => {
                all.extend(self.later(key, &["times", "strike_by"], "Clear by", "the room clear"));
                all.extend(self.people(key));
            }
            "too_few_people" | "needs_two" | "no_driver" | "no_ladder" => {
                all.extend(self.people(key))
            }
            "no_inflator" => all.extend(self.inflator(key)),
            _ => {
                if key.0 == "load_in_too_late" {
                    all.extend(self.load_in(key));
                }
                all.extend(self.later(key, &["times", "ready_by"], "Ready by", "ready-by"));
                all.extend(self.people(key));
                all.extend(self.inflator(key));
                all.extend(self.hours(key, -STEP_MIN));
                all.extend(self.hours(key, STEP_MIN));
                all.extend(self.pins(key));
            }
        }
        all.sort_by_key(|c| (c.cost_s.max(0), c.moved_min));
        all
    }

    /// The least amount that works, with its times: `make` changes the job by so much. `guess` is tried first.
    fn least(
        &mut self,
        key: &Key,
        most: i64,
        guess: i64,
        make: &dyn Fn(i64) -> Option<Job>,
    ) -> Option<(i64, Times)> {
        let (mut low, mut best) = (0, None);
        for at in [guess, guess.saturating_sub(1), most] {
            if at <= low || at > most || best.as_ref().is_some_and(|(b, _)| *b <= at) {
                continue;
            }
            match self.works(&make(at)?, key) {
                Some(times) => best = Some((at, times)),
                None => low = at,
            }
        }
        let (mut high, mut times) = best?;
        while high - low > 1 {
            let at = low + (high - low) / 2;
            match self.works(&make(at)?, key) {
                Some(found) => (high, times) = (at, found),
                None => low = at,
            }
        }
        Some((high, times))
    }

    fn load_in(&mut self, key: &Key) -> Option<Cure> {
        let zone = &self.job.venue.zone;
        let at = instant(&self.job.times.load_in, zone).ok()?;
        let wall = |by: i64| local(at.checked_sub(by.checked_mul(60_000)?)?, zone);
        let job = self.job;
        let make = |by: i64| {
            let mut job = job.clone();
            job.times.load_in = wall(by)?;
            Some(job)
        };
        let guess = self
            .times
            .slack_s
            .map_or(1, |s| s.saturating_neg().saturating_add(59) / 60);
        let (by, times) = self.least(key, FAR_MIN, guess, &make)?;
        let wall = wall(by)?;
        let clock = clock(&wall);
        Some(Cure {
            label: format!("Load-in at {clock}"),
            said: format!("load-in {} earlier, at {clock}", hours(by * 60_000)),
            edits: vec![Edit::set(&["times", "load_in"], wall)],
            job: make(by)?,
            moved_min: by,
            cost_s: self.cost(&times).0,
        })
    }

    /// Ready-by or clear-by at a later time.
    fn later(&mut self, key: &Key, path: &[&str], label: &str, what: &str) -> Option<Cure> {
        let (job, zone) = (self.job, &self.job.venue.zone);
        let strike = path.last() == Some(&"strike_by");
        let agreed = if strike {
            &job.times.strike_by
        } else {
            &job.times.ready_by
        };
        let at = instant(agreed, zone).ok()?;
        // what is ready after the doors open is not ready
        let doors = instant(&job.times.doors_open, zone)
            .ok()
            .filter(|_| !strike);
        let most = doors.map_or(FAR_MIN, |d| (d.saturating_sub(at) / 60_000).min(FAR_MIN));
        let wall = |by: i64| local(at.checked_add(by.checked_mul(60_000)?)?, zone);
        let make = |by: i64| {
            let mut job = job.clone();
            let wall = wall(by)?;
            if strike {
                job.times.strike_by = wall;
            } else {
                job.times.ready_by = wall;
            }
            Some(job)
        };
        let ends = self.times.tasks.iter().filter(|t| t.phase == Phase::Strike);
        let guess = if strike {
            let end = ends.filter_map(|t| t.end_ms).max()?;
            end.saturating_sub(at).saturating_add(59_999) / 60_000
        } else {
            let missing = self.times.slack_s.unwrap_or(0).min(0).saturating_neg();
            missing.saturating_add(59) / 60
        };
        let (by, times) = self.least(key, most, guess, &make)?;
        let wall = wall(by)?;
        let clock = clock(&wall);
        Some(Cure {
            label: format!("{label} {clock}"),
            said: format!("{what} {} later, at {clock}", hours(by * 60_000)),
            edits: vec![Edit::set(path, wall)],
            job: make(by)?,
            moved_min: by,
            cost_s: self.cost(&times).0,
        })
    }

    /// As few more people as work: one who can do the least first.
    fn people(&mut self, key: &Key) -> Option<Cure> {
        let (ladder, drives) = (key.0 == "no_ladder", key.0 == "no_driver");
        let mut kinds = vec![(ladder, drives)];
        if !ladder {
            kinds.push((true, drives));
        }
        for n in 1..=PEOPLE {
            for (ladder, drives) in &kinds {
                let (mut job, mut edits) = (self.job.clone(), Vec::new());
                for _ in 0..n {
                    let (edit, more) = one_more(&job, *ladder, *drives)?;
                    edits.push(edit);
                    job = more;
                }
                let Some(times) = self.works(&job, key) else {
                    continue;
                };
                let who = match (n, ladder, drives) {
                    (1, false, false) => "one more person".to_string(),
                    (1, true, false) => "one more person who works on a ladder".to_string(),
                    (1, false, true) => "one more person who drives".to_string(),
                    (1, true, true) => {
                        "one more person who drives and works on a ladder".to_string()
                    }
                    (n, false, _) => format!("{n} more people"),
                    (n, true, _) => format!("{n} more people who work on a ladder"),
                };
                let (cost_s, there_s) = self.cost(&times);
                let costs = match there_s {
                    Some(s) if s >= 60 => format!(", {} more to pay", hours(s / 60 * 60_000)),
                    Some(_) => ", no more time to pay".into(),
                    None => String::new(),
                };
                return Some(Cure {
                    label: format!("Add {who}"),
                    said: format!("{who}{costs}"),
                    edits,
                    job,
                    moved_min: 0,
                    cost_s,
                });
            }
        }
        None
    }

    fn inflator(&mut self, key: &Key) -> Option<Cure> {
        let (edit, job) = one_more_inflator(self.job);
        let shared = self.ways.shared(&self.times, &job);
        let times = self
            .works(&job, key)
            .or_else(|| self.works_by(&job, key, &shared))?;
        Some(Cure {
            label: "Add an inflator".into(),
            said: "one more inflator".into(),
            edits: vec![edit],
            job,
            moved_min: 0,
            cost_s: self.cost(&times).0,
        })
    }

    /// Everybody begins earlier (a negative step) or stays longer.
    fn hours(&mut self, key: &Key, step: i64) -> Option<Cure> {
        let job = self.job;
        let moved = |by: i64| {
            let (mut job, mut edits) = (job.clone(), Vec::new());
            for (id, _) in live(&self.job.crew) {
                let person = job.crew.get_mut(id)?;
                // never so far that the day turns round: the whole day is the most
                let (from, until) = (person.from_min, person.until_min());
                let (field, at) = if step < 0 {
                    person.from_min = from.saturating_add(by * step).max(until - 1440).max(0);
                    ("from_min", person.from_min)
                } else {
                    let until = until.saturating_add(by * step).min(from + 1440);
                    person.to_min = if until > 1440 { until - 1440 } else { until };
                    ("to_min", person.to_min)
                };
                edits.push(Edit::set(&["crew", id, field], at));
            }
            Some((job, edits))
        };
        let make = |by: i64| moved(by).map(|(job, _)| job);
        let tried = Tries::least(self, key, FAR_MIN / STEP_MIN, 1, &make);
        let (by, times) = tried?;
        let (job, edits) = moved(by)?;
        let amount = hours(by * STEP_MIN * 60_000);
        let (label, said) = if step < 0 {
            ("Begin", "earlier")
        } else {
            ("Stay", "longer")
        };
        Some(Cure {
            label: format!("{label} {amount} {said}"),
            said: match step {
                ..0 => format!("everybody ready {amount} earlier"),
                _ => format!("everybody {amount} longer"),
            },
            edits,
            job,
            moved_min: by * STEP_MIN,
            cost_s: self.cost(&times).0,
        })
    }

    /// Without one of the pins.
    fn pins(&mut self, key: &Key) -> Option<Cure> {
        for (id, pin) in live(&self.job.pins).into_iter().take(8) {
            let mut job = self.job.clone();
            job.pins.get_mut(id)?.gone = true;
            let Some(times) = self.works(&job, key) else {
                continue;
            };
            let what = super::conflict::pinned(&self.times, pin);
            return Some(Cure {
                label: "Take the pin off".into(),
                said: format!("no pin on {what}"),
                edits: pins::off(id),
                job,
                moved_min: 0,
                cost_s: self.cost(&times).0,
            });
        }
        None
    }

    /// How much more people are there, s: with every call counted, and by itself; the second is none if the job has no times yet.
    fn cost(&self, times: &Times) -> (i64, Option<i64>) {
        let there = |times: &Times| {
            let days = times.calls.iter().flat_map(|c| &c.days);
            days.fold((0i64, 0i64), |(n, s), d| {
                (
                    n + 1,
                    s.saturating_add(d.end_ms.saturating_sub(d.start_ms) / 1000),
                )
            })
        };
        let ((calls, then), (was_calls, was)) = (there(times), there(&self.times));
        let all = self.times.tasks.iter().all(|t| t.start_ms.is_some());
        let more = then.saturating_sub(was);
        (
            more.saturating_add((calls - was_calls).saturating_mul(CALL_S)),
            all.then_some(more),
        )
    }
}

/// The time of day of a wall-clock time.
pub(super) fn clock(wall: &str) -> &str {
    wall.get(11..).unwrap_or_default()
}

#[cfg(test)]
mod tests;

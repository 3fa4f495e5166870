//! Learning from ticks: what timed steps say about a decorator's own rates.
//!
//! A reading is the time a step took by a device's own timer over the time it was planned to take, times the rate it was planned
//! with. The readings of a job make its median, the medians of the jobs make the estimate, and half of them lie in its spread. A median
//! is never moved past its neighbours by one odd reading (its breakdown point is one half: P. J. Huber, "Robust Statistics", 1981, from
//! memory), and below [`LEAST_JOBS`] jobs nothing is said. What the same steps say about each person's pace is in [`paces`].

mod paces;

use std::collections::BTreeMap;

use job::Job;
use job::site::Tick;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::types::{Plan, Step, Task};
pub use paces::{LEAST_READINGS, OwnPace, paces};

/// With fewer jobs than this one odd day would be half of what is known.
pub const LEAST_JOBS: usize = 3;
/// A step that was ticked sooner than this after its timer began was not timed, s.
const LEAST_S: i64 = 20;
/// A reading this many times quicker or slower than planned is a timer that was forgotten, not work.
const MOST_RATIO: i64 = 5;

/// Works, by the first part of their task's id, and the rate that each goes by.
const RATES: [(&str, &str); 19] = [
    ("inflate", "pair_s"),
    ("pump", "small_pair_s"),
    ("cluster", "join_s"),
    ("string", "string_s"),
    ("links", "link_pair_s"),
    ("tie", "link_tie_s"),
    ("bag", "bag_s"),
    ("carry", "carry_s"),
    ("frame", "frame_s"),
    ("hang", "hang_s_m"),
    ("fill", "filler_s"),
    ("extras", "extra_s"),
    ("drape", "drape_s"),
    ("check", "check_s"),
    ("finish", "finish_s"),
    ("stand", "stand_s"),
    ("grid", "grid_s"),
    ("stack", "stack_s"),
    ("foils", "foil_s"),
];

/// The rate that a work goes by: the work is the first part of its task's id.
#[must_use]
pub(crate) fn field_of(work: &str) -> Option<&'static str> {
    RATES
        .iter()
        .find(|(w, _)| *w == work)
        .map(|(_, field)| *field)
}

/// A rate as this decorator's own hands have it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct OwnRate {
    /// The field of the job's rates.
    pub field: String,
    /// The estimate, in the unit of the field, at least 1.
    pub value: i64,
    /// A quarter of the jobs lie below this.
    pub low: i64,
    /// A quarter of the jobs lie above this.
    pub high: i64,
    /// The same two as percent of the estimate, for the spread of the times.
    pub low_pct: i64,
    /// The upper one.
    pub high_pct: i64,
    /// Jobs that it comes from.
    pub jobs: u32,
    /// Timed steps in them.
    pub steps: u32,
}

/// Rates that enough jobs speak of, in the order of the work. `jobs` come with their plans.
#[must_use]
pub fn learn(jobs: &[(&Job, &Plan)]) -> Vec<OwnRate> {
    let mut by_rate: BTreeMap<&str, (Vec<i64>, u32)> = BTreeMap::new();
    for (job, plan) in jobs {
        let mut here: BTreeMap<&str, Vec<i64>> = BTreeMap::new();
        for step in &plan.steps {
            if let Some((field, value)) = reading(job, plan, step) {
                here.entry(field).or_default().push(value);
            }
        }
        for (field, mut values) in here {
            let (medians, steps) = by_rate.entry(field).or_default();
            *steps = steps.saturating_add(u32::try_from(values.len()).unwrap_or(u32::MAX));
            medians.push(quantile(&mut values, 2));
        }
    }
    RATES
        .iter()
        .filter_map(|(_, field)| {
            let (medians, steps) = by_rate.get_mut(field)?;
            if medians.len() < LEAST_JOBS {
                return None;
            }
            let whole = |milli: i64| ((milli + 500) / 1000).max(1);
            let [low, middle, high] = [1, 2, 3].map(|q| quantile(medians, q));
            let pct = |milli: i64| (milli.saturating_mul(200) / middle.max(1) + 1) / 2;
            Some(OwnRate {
                field: (*field).to_string(),
                value: whole(middle),
                low: whole(low),
                high: whole(high),
                low_pct: pct(low),
                high_pct: pct(high),
                jobs: u32::try_from(medians.len()).unwrap_or(u32::MAX),
                steps: *steps,
            })
        })
        .collect()
}

/// The rate that one step went by, in thousandths of its unit.
fn reading<'a>(job: &Job, plan: &Plan, step: &Step) -> Option<(&'a str, i64)> {
    let tick = held(job, &step.id)?;
    if !tick.done || tick.skipped || tick.quantity < step.quantity || tick.took_s < LEAST_S {
        return None;
    }
    let first = step.tasks.first()?;
    let work = first.split('.').next()?;
    let (_, field) = RATES.iter().find(|(w, _)| *w == work)?;
    let planned = step.duration_s.max(0);
    // several people at one task: the timer runs once for all of them, and so does the planned time
    let task: &Task = plan.tasks.iter().find(|t| t.id == *first)?;
    if planned < LEAST_S || task.duration_s <= 0 {
        return None;
    }
    if tick.took_s > planned.saturating_mul(MOST_RATIO)
        || planned > tick.took_s.saturating_mul(MOST_RATIO)
    {
        return None;
    }
    let rate = rate(job, field)?;
    Some((
        *field,
        rate.checked_mul(1000)?.checked_mul(tick.took_s)? / planned,
    ))
}

/// A rate by the name of its field.
fn rate(job: &Job, field: &str) -> Option<i64> {
    let r = &job.rates;
    let value = match field {
        "pair_s" => r.pair_s,
        "small_pair_s" => r.small_pair_s,
        "join_s" => r.join_s,
        "string_s" => r.string_s,
        "link_pair_s" => r.link_pair_s,
        "link_tie_s" => r.link_tie_s,
        "bag_s" => r.bag_s,
        "carry_s" => r.carry_s,
        "frame_s" => r.frame_s,
        "hang_s_m" => r.hang_s_m,
        "filler_s" => r.filler_s,
        "extra_s" => r.extra_s,
        "drape_s" => r.drape_s,
        "check_s" => r.check_s,
        "finish_s" => r.finish_s,
        "stand_s" => r.stand_s,
        "grid_s" => r.grid_s,
        "stack_s" => r.stack_s,
        "foil_s" => r.foil_s,
        _ => return None,
    };
    (1..1_000_000).contains(&value).then_some(value)
}

/// The tick that holds: the highest turn; of equal turns one that says done, then the device whose name comes last.
fn held<'a>(job: &'a Job, step: &str) -> Option<&'a Tick> {
    job.ticks
        .values()
        .filter(|t| t.step == step)
        .max_by_key(|t| (t.turn, t.done, t.device.clone()))
}

/// A quarter (1), the middle (2) or three quarters (3) of the way through a list, between two neighbours if it falls there: the
/// seventh definition of R. J. Hyndman and Y. Fan, "Sample Quantiles in Statistical Packages", The American Statistician 50, 1996.
fn quantile(values: &mut [i64], quarters: i64) -> i64 {
    values.sort_unstable();
    let Some(last) = values.len().checked_sub(1) else {
        return 0;
    };
    let place = i64::try_from(last).unwrap_or(0) * quarters;
    let at = usize::try_from(place / 4).unwrap_or(0).min(last);
    let part = place % 4;
    let (a, b) = (values[at], values[(at + 1).min(last)]);
    a + (b - a) * part / 4
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::defaults::starting_books;
    use job::demo::demo;

    /// The demo job with its stringing timed at so many percent of its plan.
    fn timed(pct: i64) -> (Job, Plan) {
        let mut job = demo(&starting_books(), "2027-06-12").0;
        let plan = crate::plan_at(
            &job,
            None,
            crate::Depth::Preview,
            &mut crate::Memory::default(),
        );
        let step = plan.steps.iter().find(|s| s.id == "string.arch").unwrap();
        job.ticks.insert(
            "string.arch~d".into(),
            Tick {
                step: step.id.clone(),
                turn: 1,
                done: true,
                quantity: step.quantity,
                took_s: step.duration_s * pct / 100,
                ..Tick::default()
            },
        );
        (job, plan)
    }

    fn learned(pcts: &[i64]) -> Vec<OwnRate> {
        let jobs: Vec<(Job, Plan)> = pcts.iter().map(|p| timed(*p)).collect();
        let given: Vec<(&Job, &Plan)> = jobs.iter().map(|(j, p)| (j, p)).collect();
        learn(&given)
    }

    /// 25 s a cluster is the starting value; the sums are done by hand.
    #[test]
    fn the_middle_of_enough_jobs_is_the_rate() {
        let found = learned(&[80, 72, 76, 120, 74]);
        let want = OwnRate {
            field: "string_s".into(),
            // 18, 18.5, 19, 20, 30 s
            value: 19,
            low: 19, // 18.5 rounded
            high: 20,
            low_pct: 97,
            high_pct: 105,
            jobs: 5,
            steps: 5,
        };
        assert_eq!(found, [want]);
    }

    #[test]
    fn fewer_jobs_say_nothing() {
        assert_eq!(learned(&[80, 80]), []);
        assert_eq!(learned(&[80, 80, 80]).len(), 1);
    }

    /// One odd reading, however odd, leaves the estimate among the others; a forgotten timer is no reading at all.
    #[test]
    fn one_odd_reading_moves_nothing_past_its_neighbours() {
        for odd in [21, 50, 100, 300, 499, 501, 100_000] {
            let all = learned(&[72, 80, 76, odd]);
            let value = all[0].value;
            assert!((18..=20).contains(&value), "{odd}: {value}");
            assert_eq!(all[0].jobs, if (20..=500).contains(&odd) { 4 } else { 3 });
        }
    }

    #[test]
    fn what_was_skipped_taken_back_or_not_timed_is_no_reading() {
        for spoil in [
            |t: &mut Tick| t.skipped = true,
            |t: &mut Tick| t.done = false,
            |t: &mut Tick| t.took_s = 0,
            |t: &mut Tick| t.quantity = 1,
        ] {
            let mut jobs: Vec<(Job, Plan)> = (0..3).map(|_| timed(80)).collect();
            spoil(jobs[2].0.ticks.get_mut("string.arch~d").unwrap());
            let given: Vec<(&Job, &Plan)> = jobs.iter().map(|(j, p)| (j, p)).collect();
            assert_eq!(learn(&given), []);
        }
    }

    /// Source: R's `quantile`, whose default is this definition; values by hand.
    #[test]
    fn quarters() {
        for (values, want) in [
            (vec![1000], [1000, 1000, 1000]),
            (vec![1000, 2000], [1250, 1500, 1750]),
            (vec![3000, 1000, 2000], [1500, 2000, 2500]),
            (vec![1000, 2000, 3000, 4000], [1750, 2500, 3250]),
        ] {
            let got = [1, 2, 3].map(|q| quantile(&mut values.clone(), q));
            assert_eq!(got, want);
        }
        assert_eq!(quantile(&mut [], 2), 0);
    }

    /// Every named rate is a rate of the job, and of each the whole unit.
    #[test]
    fn every_rate_is_known() {
        let rates = serde_json::to_value(job::stock::Rates::default()).unwrap();
        for (_, field) in RATES {
            assert_eq!(
                rate(&Job::default(), field),
                rates[field].as_i64(),
                "{field}"
            );
        }
    }
}

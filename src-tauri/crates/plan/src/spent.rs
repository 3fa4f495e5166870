//! What a job really cost: planned against actual hours and goods, the margin, and what earlier jobs teach.

use std::collections::BTreeMap;

use job::money::Spent;
use job::site::Tick;
use job::{Job, Private};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::inflate::{nearest, whole};
use crate::order::cost;
use crate::tax::share;
use crate::types::{Phase, Plan, Step};

/// Jobs to learn from, at least: of fewer the middle one says nothing.
const LEAST_JOBS: usize = 3;

/// Shared derives of these records.
macro_rules! plain {
    ($($(#[$meta:meta])* pub struct $name:ident { $($(#[$fmeta:meta])* pub $field:ident : $ty:ty,)* })*) => {$(
        $(#[$meta])*
        #[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
        pub struct $name { $($(#[$fmeta])* pub $field: $ty,)* }
    )*};
}

plain! {
    /// What a job really cost.
    pub struct Actual {
        /// Studio, way, venue, taking down.
        pub phases: Vec<PhaseActual>,
        /// Item by item.
        pub goods: Vec<GoodsActual>,
        /// Working time planned, all people, s.
        pub planned_s: i64,
        /// Working time that it took, s.
        pub took_s: i64,
        /// Goods as planned, cents.
        pub planned_goods_cents: i64,
        /// Goods as used or typed, cents.
        pub goods_cents: i64,
        /// Whatever else was paid for, cents.
        pub other_cents: i64,
        /// What the client pays, without tax, cents.
        pub net_cents: i64,
        /// What is left for the hours, cents: the net price without goods and whatever else was paid for.
        pub left_cents: i64,
        /// The same as planned, cents.
        pub planned_left_cents: i64,
        /// What an hour really earned, cents; absent if no time is known.
        pub hour_cents: Option<i64>,
        /// What an hour was planned to earn, cents.
        pub planned_hour_cents: Option<i64>,
        /// Left of the net price, per mille; absent of a price of nought.
        pub margin_pm: Option<i64>,
    }

    /// Hours of a phase.
    pub struct PhaseActual {
        /// `prepare`, `travel`, `install`, `strike`.
        pub phase: String,
        /// Planned, all people, s.
        pub planned_s: i64,
        /// Took, s: typed, else reckoned from what was timed, else as planned.
        pub took_s: i64,
        /// Where that comes from.
        pub from: HoursFrom,
        /// Steps that were timed.
        pub timed: i64,
        /// Steps of the phase that have a time.
        pub steps: i64,
    }

    /// Goods of one item.
    pub struct GoodsActual {
        /// The item's id.
        pub item: String,
        /// What it is called.
        pub name: String,
        /// Unit; empty for single things.
        pub unit: String,
        /// Planned: in the pieces and as spares.
        pub planned: i64,
        /// Used, as counted; absent while it was not.
        pub used: Option<i64>,
        /// Cost of what was used, or planned; absent if no cost is known.
        pub cents: Option<i64>,
    }

    /// A job that was settled.
    pub struct Settled {
        /// The job.
        pub id: String,
        /// Its name.
        pub name: String,
        /// ISO 4217 code of its money.
        pub currency: String,
        /// Its figures.
        pub spent: Spent,
    }

    /// What earlier jobs teach for this one.
    pub struct Advice {
        /// Jobs that it rests on.
        pub jobs: i64,
        /// Hours took so many per mille of the planned ones: the middle of the jobs.
        pub hours_pm: i64,
        /// An hour earned so much after goods, cents: the middle.
        pub hour_cents: i64,
        /// A metre of garland or chain was charged with so much net, cents: the middle of jobs that had some.
        pub metre_cents: Option<i64>,
        /// This job: hours to be expected, s.
        pub expected_s: i64,
        /// This job: its net price with the hours to be expected instead of the planned ones, at the rate of the job, cents.
        pub net_cents: i64,
    }
}

/// Where the hours of a phase come from.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize, TS,
)]
#[serde(rename_all = "snake_case")]
pub enum HoursFrom {
    /// Nothing else is known.
    #[default]
    Planned,
    /// What was timed, taken to the whole phase.
    Timed,
    /// Typed.
    Typed,
}

/// What the job really cost; of a job with money.
#[must_use]
pub fn actual(job: &Job, private: &Private, plan: &Plan) -> Actual {
    let spent = &private.spent;
    let phases = phases(job, spent, plan);
    let goods = goods(private, plan);
    let price = plan.price.clone().unwrap_or_default();
    let total = |of: fn(&PhaseActual) -> i64| phases.iter().map(of).fold(0, i64::saturating_add);
    let (planned_s, took_s) = (total(|p| p.planned_s), total(|p| p.took_s));
    let goods_cents = match spent.goods_cents {
        typed @ 1.. => typed,
        _ => goods
            .iter()
            .filter_map(|g| g.cents)
            .fold(0, i64::saturating_add),
    };
    let net_cents = price.net_cents;
    let left_cents = net_cents
        .saturating_sub(goods_cents)
        .saturating_sub(spent.other_cents.max(0));
    let planned_left_cents = net_cents.saturating_sub(price.goods_cost_cents);
    let an_hour = |cents: i64, s: i64| (s > 0).then(|| share(cents, 3600, s));
    Actual {
        planned_s,
        took_s,
        planned_goods_cents: price.goods_cost_cents,
        goods_cents,
        other_cents: spent.other_cents.max(0),
        net_cents,
        left_cents,
        planned_left_cents,
        hour_cents: an_hour(left_cents, took_s),
        planned_hour_cents: an_hour(planned_left_cents, planned_s),
        margin_pm: (net_cents > 0).then(|| share(left_cents, 1000, net_cents)),
        phases,
        goods,
    }
}

fn phases(job: &Job, spent: &Spent, plan: &Plan) -> Vec<PhaseActual> {
    let of = [
        (
            "prepare",
            &[Phase::Order, Phase::Prepare][..],
            spent.prepare_min,
        ),
        (
            "travel",
            &[Phase::Pack, Phase::Load, Phase::Return],
            spent.travel_min,
        ),
        (
            "install",
            &[Phase::Install, Phase::HandOver],
            spent.install_min,
        ),
        ("strike", &[Phase::Strike], spent.strike_min),
    ];
    let took = took(job);
    of.into_iter()
        .map(|(name, phases, typed_min)| {
            let planned_s = plan
                .tasks
                .iter()
                .filter(|t| phases.contains(&t.phase))
                .map(|t| t.work_s.max(0))
                .fold(0, i64::saturating_add);
            let steps: Vec<&Step> = plan
                .steps
                .iter()
                .filter(|s| phases.contains(&s.phase) && s.duration_s > 0)
                .collect();
            let (mut timed, mut timed_s, mut meant_s) = (0i64, 0i64, 0i64);
            for step in &steps {
                if let Some((seconds, devices)) = took.get(step.id.as_str()) {
                    let people = i64::try_from(step.who.len()).unwrap_or(1).max(1);
                    // one clock ran for all who were at it; of several each ran for its own
                    let all = if *devices > 1 {
                        *seconds
                    } else {
                        seconds.saturating_mul(people)
                    };
                    timed += 1;
                    timed_s = timed_s.saturating_add(all);
                    meant_s = meant_s.saturating_add(step.duration_s.saturating_mul(people));
                }
            }
            let (took_s, from) = if typed_min > 0 {
                (typed_min.saturating_mul(60), HoursFrom::Typed)
            } else if meant_s > 0 {
                (share(planned_s, timed_s, meant_s), HoursFrom::Timed)
            } else {
                (planned_s, HoursFrom::Planned)
            };
            PhaseActual {
                phase: name.into(),
                planned_s,
                took_s,
                from,
                timed,
                steps: i64::try_from(steps.len()).unwrap_or(i64::MAX),
            }
        })
        .collect()
}

/// Seconds that each step took by the devices' timers, and on how many devices. Only of steps that hold as done.
fn took(job: &Job) -> BTreeMap<&str, (i64, i64)> {
    let mut holds: BTreeMap<&str, (i64, bool)> = BTreeMap::new();
    for tick in job.ticks.values() {
        let best = holds.entry(&tick.step).or_default();
        *best = (*best).max((tick.turn, tick.done && !tick.skipped));
    }
    let mut took: BTreeMap<&str, (i64, i64)> = BTreeMap::new();
    let timed = |t: &&Tick| t.done && !t.skipped && t.took_s > 0;
    for tick in job.ticks.values().filter(timed) {
        if holds.get(tick.step.as_str()).is_some_and(|h| h.1) {
            let (seconds, devices) = took.entry(&tick.step).or_default();
            *seconds = seconds.saturating_add(tick.took_s);
            *devices += 1;
        }
    }
    took
}

fn goods(private: &Private, plan: &Plan) -> Vec<GoodsActual> {
    plan.order
        .iter()
        .map(|line| {
            let planned = line.need.saturating_add(line.spares);
            let used = private.used.get(&line.item).map(|u| u.units.max(0));
            GoodsActual {
                item: line.item.clone(),
                name: line.name.clone(),
                unit: line.unit.clone(),
                planned,
                used,
                cents: cost(private, &line.item, used.unwrap_or(planned)),
            }
        })
        .collect()
}

/// The figures that a settled job keeps to be learnt from.
#[must_use]
pub fn settled(private: &Private, plan: &Plan, actual: &Actual, at_ms: i64) -> Spent {
    let metres_mm = plan
        .pieces
        .iter()
        .map(|p| match (&p.garland, &p.chain) {
            (Some(garland), _) => garland.length_mm,
            (_, Some(chain)) => chain.length_mm.saturating_mul(chain.count.max(0)),
            _ => 0,
        })
        .fold(0, i64::saturating_add);
    Spent {
        settled_ms: at_ms,
        net_cents: actual.net_cents,
        cost_cents: actual.goods_cents.saturating_add(actual.other_cents),
        planned_s: actual.planned_s,
        took_s: actual.took_s,
        metres_mm,
        balloons: plan.figures.balloons,
        ..private.spent.clone()
    }
}

/// What earlier jobs teach; absent while there are too few of them. The job itself is left out, and those in another currency.
#[must_use]
pub fn advice(
    private: &Private,
    actual: &Actual,
    history: &[Settled],
    this: &str,
) -> Option<Advice> {
    let jobs: Vec<&Spent> = history
        .iter()
        .filter(|h| h.id != this && h.currency == private.prices.currency)
        .map(|h| &h.spent)
        .filter(|s| s.settled_ms > 0 && s.planned_s > 0 && s.took_s > 0)
        .collect();
    if jobs.len() < LEAST_JOBS {
        return None;
    }
    let hours_pm = middle(jobs.iter().map(|s| share(s.took_s, 1000, s.planned_s)))?;
    let hour_cents = middle(
        jobs.iter()
            .map(|s| share(s.net_cents.saturating_sub(s.cost_cents), 3600, s.took_s)),
    )?;
    let metre_cents = middle(
        jobs.iter()
            .filter(|s| s.metres_mm > 0)
            .map(|s| share(s.net_cents, 1000, s.metres_mm)),
    );
    let expected_s = share(actual.planned_s, hours_pm, 1000);
    let more_s = expected_s.saturating_sub(actual.planned_s);
    let more_cents = share(more_s, private.prices.labour_h_cents, 3600);
    Some(Advice {
        jobs: i64::try_from(jobs.len()).unwrap_or(i64::MAX),
        hours_pm,
        hour_cents,
        metre_cents,
        expected_s,
        net_cents: actual.net_cents.saturating_add(more_cents),
    })
}

/// The middle of the values; of an even number the mean of the two in the middle.
fn middle(values: impl Iterator<Item = i64>) -> Option<i64> {
    let mut all: Vec<i64> = values.collect();
    all.sort_unstable();
    let half = all.len() / 2;
    let upper = all.get(half).copied()?;
    if all.len() % 2 == 1 {
        return Some(upper);
    }
    let lower = all.get(half.checked_sub(1)?).copied()?;
    Some(nearest((whole(lower) + whole(upper)) / 2.0))
}

#[cfg(test)]
mod tests;

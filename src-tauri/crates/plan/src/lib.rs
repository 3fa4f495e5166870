//! The trade: from a job to a plan. No IO, no clock, no randomness; the same job gives the same bits everywhere.

pub mod bags;
pub mod bill;
pub mod calibrate;
pub mod chain;
pub mod clashes;
pub mod cluster;
mod count_findings;
mod digest;
pub mod enquiry;
mod frames;
mod fresh;
pub mod garland;
pub mod inflate;
pub mod learn;
pub mod learning;
pub mod load;
pub mod made;
pub mod order;
pub mod pieces;
pub mod price;
pub mod rest;
pub mod route;
pub mod safety;
pub mod scene;
pub mod spent;
pub mod spread;
pub mod steps;
pub mod stock_length;
pub mod tasks;
pub mod tax;
pub mod times;
pub mod types;
pub mod what_if;
pub mod why;
pub mod work;

use job::{Job, Private};

pub use digest::{digest, hash};
pub use garland::{Depth, Memory};
pub use types::Plan;

use types::Figures;

/// Version of the rules: it changes when the same job would give another plan.
pub const ENGINE: &str = "11";

/// The plan of a job, garlands packed to the end. Without the private part (a crew copy) it has no price.
#[must_use]
pub fn plan(job: &Job, private: Option<&Private>) -> Plan {
    plan_at(job, private, Depth::Final, &mut Memory::default())
}

/// The plan of a job with its garlands counted as closely as the depth says; packings that the memory holds are not made again.
#[must_use]
pub fn plan_at(job: &Job, private: Option<&Private>, depth: Depth, memory: &mut Memory) -> Plan {
    planned(job, private, [depth; 2], memory)
}

/// The plan of a job with the times of a plan to the end, its garlands packed quickly: what jobs are held against each other by.
#[must_use]
pub fn plan_timed(job: &Job, memory: &mut Memory) -> Plan {
    planned(job, None, [Depth::Preview, Depth::Final], memory)
}

/// A plan: how closely its garlands and load are reckoned, and how closely its times.
fn planned(
    job: &Job,
    private: Option<&Private>,
    [depth, of_times]: [Depth; 2],
    memory: &mut Memory,
) -> Plan {
    let counted = pieces::count_at(job, depth, memory);
    let (order, order_findings) = order::order(job, private, &counted);
    let (load, load_findings) = load::load(job, &counted, &order, depth, &mut memory.stowed);
    let times = times::schedule(job, &counted, &load, of_times, &mut memory.timed);
    let mut chance = times::chance::chance(
        job,
        &times.tasks,
        &times.calls,
        times::chance::Days::default(),
    );
    let sketch = [depth.min(Depth::Preview), Depth::Instant];
    if let Some(chance) = chance.as_mut().filter(|_| of_times > Depth::Instant) {
        chance.surer = times::chance::surer::surer(job, chance, &mut |job| {
            planned(job, None, sketch, memory).chance
        });
    }
    let priced = private.map(|p| price::price(job, p, &counted, &order, &times.tasks, &load));
    let (price, price_findings) = priced.map_or((None, Vec::new()), |(price, findings)| {
        (Some(price), findings)
    });
    let steps = steps::steps(job, &counted, &order, &load, &times.tasks);
    let walk = steps::walk(job, &counted);
    let home = steps::home(job, &counted, &order);
    let cautions = safety::cautions(job, &counted);

    let mut findings = job::check::check(job, private);
    findings.extend(safety::safety(job, &counted, &load));
    findings.extend(counted.findings.iter().cloned());
    findings.extend(times.findings);
    findings.extend(load_findings);
    findings.extend(order_findings);
    findings.extend(price_findings);
    findings.sort_by_key(|f| f.severity);
    if of_times > Depth::Instant {
        load::choice::offer_studio(job, &mut findings, &mut |job| {
            planned(job, None, sketch, memory)
        });
    }

    let mut plan = Plan {
        engine: ENGINE.into(),
        figures: Figures {
            balloons: counted.pieces.iter().map(|p| p.balloons).sum(),
            garland_mm: counted
                .pieces
                .iter()
                .filter_map(|p| p.garland.as_ref())
                .map(|g| g.length_mm)
                .sum(),
            start_by_ms: times.start_by_ms,
            start_gap_s: times.start_gap_s,
            leave_by_ms: times.leave_by_ms,
            slack_s: times.slack_s,
            volume_ml: load.volume_ml,
            trips: load.trips,
            price_cents: price.as_ref().map(|p| p.gross_cents),
            currency: price.as_ref().map(|p| p.currency.clone()),
            work_s: times
                .tasks
                .iter()
                .map(|t| t.work_s)
                .fold(0, i64::saturating_add),
            people: i64::try_from(times.calls.len()).unwrap_or(i64::MAX),
        },
        findings,
        colours: counted.colours,
        pieces: counted.pieces,
        order,
        sizing: counted.sizing,
        tasks: times.tasks,
        calls: times.calls,
        chance,
        load,
        price,
        steps,
        walk,
        home,
        cautions,
        why: std::collections::BTreeMap::new(),
    };
    plan.why = why::why(&plan);
    plan
}

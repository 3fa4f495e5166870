//! Can we take this enquiry? A job that is only asked for, against all jobs near it: who and what is taken, whether the work can be done
//! around them, what it takes if not, and what it costs.
//!
//! The other jobs stay as they are. People who work for one of them are away from this one meanwhile; the vehicle and things of the
//! kit that are out cannot be made free, so a second one is asked for.

use job::away::Away;
use job::list::live;
use job::site::Crew;
use job::time::{instant, local};
use job::{Edit, Job, Part, Private, Severity};
use serde::{Deserialize, Serialize};
use serde_json::json;
use ts_rs::TS;

use crate::clashes::{Clash, ShortRest, Wanted, clashes, holds, rests};
use crate::tax::share;
use crate::types::Stretch;
use crate::what_if::{about_times, fresh};
use crate::{Depth, Memory, Plan, plan_at};

/// More people than this are not brought in for one job.
const MOST_EXTRA: usize = 3;
/// A load-in is asked for in whole steps of this, min.
const STEP_MIN: i64 = 5;
const MIN_MS: i64 = 60_000;
/// What somebody does for another job within this of this one is told, ms.
const NEAR_MS: i64 = 12 * 60 * MIN_MS;

/// The answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Answer {
    /// Nothing stands against it.
    Yes,
    /// One of the ways makes it possible.
    YesIf,
    /// No way was found.
    No,
    /// There is no day, or there are no people: nothing can be said.
    #[default]
    Unknown,
}

/// What is said to an enquiry.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct Enquiry {
    /// The answer.
    pub answer: Answer,
    /// What stands against it as it is: what is wrong with its times, worst first.
    pub against: Vec<String>,
    /// What it would take from other jobs as it is; `one` is this job, 0, and `other` a job among those given, from 1.
    pub taken: Vec<Clash>,
    /// What makes it possible, the cheapest first.
    pub ways: Vec<TakeWay>,
    /// Each person of the crew: where they are meanwhile, and when this job needs them in the way that stands first.
    pub people: Vec<CrewThen>,
    /// Rest that it takes from somebody in the way that stands first.
    pub rests: Vec<ShortRest>,
    /// The zone of its venue, for the instants.
    pub zone: String,
    /// The first work begins, ms.
    pub start_by_ms: Option<i64>,
    /// Leave the studio, ms.
    pub leave_by_ms: Option<i64>,
    /// Working time of all people, s.
    pub work_s: i64,
    /// The chance to be ready, thousandths.
    pub ready_pm: Option<i64>,
    /// Price with tax, cents; absent in a crew copy, as the next two are.
    pub price_cents: Option<i64>,
    /// Below this, with tax, the job does not pay its goods, hours, way and fees, cents.
    pub floor_cents: Option<i64>,
    /// ISO 4217 code.
    pub currency: Option<String>,
}

/// A way to take the job.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct TakeWay {
    /// Which: `around` (at other hours), `without` (those who are free), `more_people` (those, and others), `earlier_load_in`.
    pub code: String,
    /// How many people more, or how many minutes earlier.
    pub n: i64,
    /// Who stays with the other job: names.
    pub without: Vec<String>,
    /// The edits that make it so, without what is to be hired.
    pub edits: Vec<Edit>,
    /// What must be hired or borrowed besides: the vehicle or kit that is out with another job.
    pub hire: Vec<Clash>,
    /// The first work begins, ms.
    pub start_by_ms: Option<i64>,
    /// Leave the studio, ms.
    pub leave_by_ms: Option<i64>,
    /// Working time of all people, s.
    pub work_s: i64,
    /// The chance to be ready, thousandths.
    pub ready_pm: Option<i64>,
}

/// A person while the job is on.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct CrewThen {
    /// Id in the job.
    pub crew: String,
    /// Name.
    pub name: String,
    /// Where they are meanwhile.
    pub at: Vec<Elsewhere>,
    /// When this job needs them.
    pub needed: Vec<Stretch>,
}

/// Work for another job.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct Elsewhere {
    /// The job's place among those given, from 1.
    pub other: u32,
    /// From, ms.
    pub from_ms: i64,
    /// To, ms.
    pub to_ms: i64,
}

/// What is asked.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    /// The job that is asked for.
    pub job: &'a Job,
    /// Its money; none in a crew copy.
    pub private: Option<&'a Private>,
    /// Jobs near it, with their plans.
    pub others: &'a [(&'a Job, &'a Plan)],
    /// How closely its garlands are counted.
    pub depth: Depth,
}

/// What is said to an enquiry.
#[must_use]
pub fn enquiry(asked: &Asked, memory: &mut Memory) -> Enquiry {
    let job = asked.job;
    let plan = plan_at(job, asked.private, asked.depth, memory);
    let against = against(&plan);
    let taken = with_others(asked, job, &plan);
    let busy = busy(asked);
    if instant(&job.times.ready_by, &job.venue.zone).is_err() || live(&job.crew).is_empty() {
        return said(
            asked,
            Answer::Unknown,
            (against, taken),
            Vec::new(),
            &busy,
            (job, &plan),
        );
    }
    if against.is_empty() && taken.is_empty() {
        return said(
            asked,
            Answer::Yes,
            (against, taken),
            Vec::new(),
            &busy,
            (job, &plan),
        );
    }
    let around = around(job, &busy);
    let mut found: Vec<(TakeWay, Job, Plan)> = Vec::new();
    let mut attempt = |code: &str, n: i64, changed: Job, memory: &mut Memory| -> Option<Plan> {
        let plan = plan_at(&changed, asked.private, asked.depth, memory);
        if !self::against(&plan).is_empty() {
            return Some(plan);
        }
        let way = TakeWay {
            code: code.into(),
            n,
            without: gone(job, &changed),
            edits: edits(job, &changed),
            hire: with_others(asked, &changed, &plan)
                .into_iter()
                .filter(|c| c.kind != Wanted::Person)
                .collect(),
            start_by_ms: plan.figures.start_by_ms,
            leave_by_ms: plan.figures.leave_by_ms,
            work_s: plan.figures.work_s,
            ready_pm: plan.chance.as_ref().map(|c| c.ready_pm),
        };
        found.push((way, changed, plan));
        None
    };
    let failed = attempt("around", 0, around.clone(), memory);
    if let Some(failed) = failed {
        let others = without(&around, &taken);
        let alone = live(&others.crew).len();
        let fewer = alone < live(&job.crew).len();
        let done = fewer && alone > 0 && attempt("without", 0, others.clone(), memory).is_none();
        for n in 1..=MOST_EXTRA {
            let count = i64::try_from(n).unwrap_or(1);
            if done || attempt("more_people", count, with_more(job, &others, n), memory).is_none() {
                break;
            }
        }
        if let Some((minutes, earlier)) = earlier_load_in(&around, &failed) {
            attempt("earlier_load_in", minutes, earlier, memory);
        }
    }
    let ways: Vec<TakeWay> = found.iter().map(|f| f.0.clone()).collect();
    let answer = if ways.is_empty() {
        Answer::No
    } else {
        Answer::YesIf
    };
    let (best, best_plan) = found.first().map_or((job, &plan), |f| (&f.1, &f.2));
    said(
        asked,
        answer,
        (against, taken),
        ways,
        &busy,
        (best, best_plan),
    )
}

fn said(
    asked: &Asked,
    answer: Answer,
    (against, taken): (Vec<String>, Vec<Clash>),
    ways: Vec<TakeWay>,
    busy: &[(String, Vec<Elsewhere>)],
    (job, plan): (&Job, &Plan),
) -> Enquiry {
    let needed = || plan.calls.iter().flat_map(|c| &c.days);
    let from = needed().map(|d| d.start_ms).min();
    let to = needed().map(|d| d.end_ms).max();
    let meanwhile = |e: &Elsewhere| {
        from.is_some_and(|from| e.to_ms > from.saturating_sub(NEAR_MS))
            && to.is_some_and(|to| e.from_ms < to.saturating_add(NEAR_MS))
    };
    let people = live(&asked.job.crew)
        .into_iter()
        .map(|(id, person)| CrewThen {
            crew: id.to_string(),
            name: person.name.clone(),
            at: busy
                .iter()
                .find(|(crew, _)| crew == id)
                .map(|(_, at)| at.iter().filter(|e| meanwhile(e)).cloned().collect())
                .unwrap_or_default(),
            needed: plan
                .calls
                .iter()
                .find(|c| c.crew == id)
                .map(|c| c.days.clone())
                .unwrap_or_default(),
        })
        .collect();
    let all = all(asked, job, plan);
    Enquiry {
        answer,
        against,
        taken,
        ways,
        people,
        rests: rests(&all)
            .into_iter()
            .filter(|r| r.one == 0 || r.other == 0)
            .collect(),
        zone: job.venue.zone.clone(),
        start_by_ms: plan.figures.start_by_ms,
        leave_by_ms: plan.figures.leave_by_ms,
        work_s: plan.figures.work_s,
        ready_pm: plan.chance.as_ref().map(|c| c.ready_pm),
        price_cents: plan.figures.price_cents,
        floor_cents: floor(asked.private, plan),
        currency: plan.figures.currency.clone(),
    }
}

/// What stands against the times of a plan.
fn against(plan: &Plan) -> Vec<String> {
    plan.findings
        .iter()
        .filter(|f| f.severity == Severity::Stop && about_times(&f.code))
        .map(|f| f.message.clone())
        .collect()
}

fn all<'a>(asked: &Asked<'a>, job: &'a Job, plan: &'a Plan) -> Vec<(&'a Job, &'a Plan)> {
    std::iter::once((job, plan))
        .chain(asked.others.iter().copied())
        .collect()
}

/// Clashes of this job with others; those of the others among themselves are theirs.
fn with_others(asked: &Asked, job: &Job, plan: &Plan) -> Vec<Clash> {
    clashes(&all(asked, job, plan))
        .into_iter()
        .filter(|c| c.one == 0)
        .collect()
}

/// When each person of this job works for another one: by id.
fn busy(asked: &Asked) -> Vec<(String, Vec<Elsewhere>)> {
    let mut all: Vec<(String, Vec<Elsewhere>)> = Vec::new();
    let theirs: Vec<_> = asked
        .others
        .iter()
        .enumerate()
        .flat_map(|(i, (job, plan))| holds(job, plan).into_iter().map(move |h| (i, h)))
        .filter(|(_, h)| h.kind == Wanted::Person)
        .collect();
    for (id, person) in live(&asked.job.crew) {
        let key = crate::clashes::key(&person.source, &person.name);
        let mut at: Vec<Elsewhere> = theirs
            .iter()
            .filter(|(_, h)| h.key == key)
            .flat_map(|(i, h)| {
                let other = u32::try_from(i + 1).unwrap_or(u32::MAX);
                joined(&h.spans)
                    .into_iter()
                    .map(move |(from_ms, to_ms)| Elsewhere {
                        other,
                        from_ms,
                        to_ms,
                    })
            })
            .collect();
        at.sort_by_key(|e| (e.from_ms, e.to_ms));
        if !at.is_empty() {
            all.push((id.to_string(), at));
        }
    }
    all
}

/// Spans in order, those less than an hour apart taken together: between them nobody goes to another job.
fn joined(spans: &[(i64, i64)]) -> Vec<(i64, i64)> {
    let mut spans = spans.to_vec();
    spans.sort_unstable();
    let mut out: Vec<(i64, i64)> = Vec::new();
    for (from, to) in spans {
        match out.last_mut() {
            Some(last) if from.saturating_sub(last.1) < 60 * MIN_MS => last.1 = last.1.max(to),
            _ => out.push((from, to)),
        }
    }
    out
}

/// The job with everybody away while they work for another one: whole minutes that hold it.
fn around(job: &Job, busy: &[(String, Vec<Elsewhere>)]) -> Job {
    let zone = &job.venue.zone;
    let mut changed = job.clone();
    for (crew, at) in busy {
        for (n, e) in at.iter().enumerate() {
            let up = e.to_ms.saturating_add(MIN_MS - 1);
            if let (Some(from), Some(to)) = (local(e.from_ms, zone), local(up, zone)) {
                let away = Away {
                    crew: crew.clone(),
                    from,
                    to,
                    why: "Another job".into(),
                    order: format!("{n:03}"),
                    gone: false,
                };
                let id = fresh(&changed.away, "elsewhere");
                changed.away.insert(id, away);
            }
        }
    }
    changed
}

/// Without the people whom another job has.
fn without(job: &Job, taken: &[Clash]) -> Job {
    let mut changed = job.clone();
    for person in changed.crew.values_mut() {
        person.gone |= taken
            .iter()
            .any(|c| c.kind == Wanted::Person && c.name == person.name);
    }
    // nobody is away who does not come
    let crew = &changed.crew;
    changed
        .away
        .retain(|_, a| crew.get(&a.crew).is_some_and(|c| !c.gone));
    changed
}

/// Names of those who are in one job and not in the other.
fn gone(job: &Job, changed: &Job) -> Vec<String> {
    live(&job.crew)
        .into_iter()
        .filter(|(id, _)| changed.crew.get(*id).is_some_and(|c| c.gone))
        .map(|(_, c)| c.name.clone())
        .collect()
}

/// So many more people with the hours of the first of `job`; they climb and drive.
fn with_more(job: &Job, those: &Job, n: usize) -> Job {
    let mut changed = those.clone();
    let first = live(&job.crew).first().map(|(_, c)| (c.from_min, c.to_min));
    let Some((from_min, to_min)) = first else {
        return changed;
    };
    let last = live(&job.crew).last().map(|(_, c)| c.order.clone());
    for _ in 0..n {
        let id = fresh(&changed.crew, "extra");
        let order = format!("{}~{id}", last.clone().unwrap_or_default());
        let person = Crew {
            name: "One more".into(),
            from_min,
            to_min,
            order,
            ..Crew::default()
        };
        changed.crew.insert(id, person);
    }
    changed
}

/// The load-in by as much earlier as it came too late, in whole steps.
fn earlier_load_in(job: &Job, plan: &Plan) -> Option<(i64, Job)> {
    let short_s = plan.figures.slack_s.filter(|s| *s < 0)?.saturating_neg();
    let minutes = (short_s + 60 * STEP_MIN - 1) / (60 * STEP_MIN) * STEP_MIN;
    let at = instant(&job.times.load_in, &job.venue.zone).ok()?;
    let mut changed = job.clone();
    changed.times.load_in = local(at.checked_sub(minutes * MIN_MS)?, &job.venue.zone)?;
    Some((minutes, changed))
}

/// The edits that lead from one job to the other, for what the ways change.
fn edits(job: &Job, changed: &Job) -> Vec<Edit> {
    let add = |list: &str, id: &String, value: serde_json::Value| Edit::Add {
        part: Part::Job,
        path: vec![list.into()],
        id: id.clone(),
        before: None,
        value,
    };
    let mut all = Vec::new();
    for (id, a) in changed
        .away
        .iter()
        .filter(|(id, _)| !job.away.contains_key(*id))
    {
        let value = json!({ "crew": a.crew, "from": a.from, "to": a.to, "why": a.why });
        all.push(add("away", id, value));
    }
    for (id, c) in changed
        .crew
        .iter()
        .filter(|(id, _)| !job.crew.contains_key(*id))
    {
        let value = json!({ "name": c.name, "from_min": c.from_min, "to_min": c.to_min });
        all.push(add("crew", id, value));
    }
    for (id, _) in live(&job.crew) {
        if changed.crew.get(id).is_some_and(|then| then.gone) {
            all.push(Edit::Remove {
                part: Part::Job,
                path: vec!["crew".into()],
                id: id.to_string(),
            });
        }
    }
    if changed.times.load_in != job.times.load_in {
        all.push(Edit::set(
            &["times", "load_in"],
            changed.times.load_in.clone(),
        ));
    }
    all
}

/// Goods at cost, every hour at the decorator's own rate, and the way and fees as they are charged, with tax, cents. An hour's rate
/// is what it shall bring: the floor pays everybody and leaves nothing over.
fn floor(private: Option<&Private>, plan: &Plan) -> Option<i64> {
    use crate::types::PriceKind;
    let (prices, price) = (&private?.prices, plan.price.as_ref()?);
    let hours = share(
        plan.figures.work_s,
        prices.labour_h_cents.clamp(0, 100_000_000),
        3600,
    );
    let paid: i64 = price
        .lines
        .iter()
        .filter(|l| matches!(l.kind, PriceKind::Travel | PriceKind::Fee))
        .map(|l| l.cents)
        .fold(0, i64::saturating_add);
    let net = price
        .goods_cost_cents
        .saturating_add(hours)
        .saturating_add(paid);
    Some(net.saturating_add(share(net, price.tax_bp, 10_000)))
}

#[cfg(test)]
mod tests;

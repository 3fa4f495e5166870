//! The chance to be ready: the plan is kept, its times are not. Every day goes a little differently; a thousand of them are gone
//! through, each with the same people, order and links, and the finish of each is looked at.
//!
//! Rule of a day. Nobody begins before they are called; from then on each goes on as soon as what the task waits for is over, by the
//! links of the schedule ([`super::links`]). Nothing at the venue begins before the load-in, a pinned task not before its pin, and
//! nobody begins anything outside their hours; what is begun is finished. Beginning earlier means that everybody is called so much of
//! their working time earlier, on the evening before if the morning is too short.
//!
//! Rule of a time. A planned time is the middle: half of the days are quicker. A task takes that time by three factors: the day's, the
//! same for all work of the day; that of its kind of work, the same for all parts of one kind; and its own. The logarithm of each is
//! normal, so the factors are lognormal.
//!
//! Sources: R. M. Van Slyke, "Monte Carlo methods and the PERT problem", Operations Research 11, 1963 (sampling the finish, and the
//! share of days on which a task is critical); D. Trietsch, L. Mazmanyan, L. Gevorgyan and K. R. Baker, "Modeling activity times by the
//! Parkinson distribution with a lognormal core", European J. of Operational Research 216, 2012 (lognormal times with a factor that the
//! tasks of one project share). Both from memory.

pub(crate) mod surer;

use std::ops::RangeInclusive;

use job::list::live;
use job::time::instant;
use job::{Ids, Job};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::draw::Draws;
use super::links::{links, order};
use super::place::{DAYS_BACK, hours};
use crate::inflate::{up, whole};
use crate::learn::field_of;
use crate::types::{Call, Phase, Task};

/// Days that are gone through.
pub const SAMPLES: usize = 1000;
/// The seed of every plan: the same days for every job and every change of it.
pub const SEED: u64 = 1;
/// How sure one should be, thousandths.
pub const TARGET_PM: i64 = 900;

/// Deviation of the logarithm of the day's factor. Common practice, no source, as are the three below: with them one task in ten
/// takes 1.3 times as long as planned, and one in forty one and a half times.
const DAY: f64 = 0.08;
/// Of the factor of a kind of work, where nothing was learnt.
const KIND: f64 = 0.12;
/// Of a task's own factor.
const TASK: f64 = 0.15;
/// Of a drive's own factor: traffic.
const DRIVE: f64 = 0.2;
/// Own readings weigh as much as the usual spread when they come from so many jobs. Common practice, no source.
const PRIOR_JOBS: i64 = 4;
/// An own spread is held between these.
const OWN: RangeInclusive<f64> = 0.02..=1.0;
/// A quarter of a normal distribution lies above so many deviations, a tenth above so many.
const QUARTER_Z: f64 = 0.674_489_750_196_081_7;
const TENTH_Z: f64 = 1.281_551_565_544_600_4;
/// Beginning earlier is tried in steps of this, s, and up to this.
const STEP_S: i64 = 300;
const MOST_STEPS: i64 = 144;
/// Hours that lie further before a task's planned start than this are not looked at, s.
const BACK_S: i64 = 72 * 3600;
/// Days before the aim, and after it, whose hours are looked at.
const DAYS: RangeInclusive<i64> = -DAYS_BACK..=2;

/// How sure the finish is.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct Chance {
    /// Days on which everything stands by ready-by, of a thousand.
    pub ready_pm: i64,
    /// A tenth of the days are over before this, ms.
    pub early_ms: i64,
    /// Half of the days, ms.
    pub mid_ms: i64,
    /// Nine tenths of the days, ms.
    pub late_ms: i64,
    /// So sure one should be, thousandths.
    pub target_pm: i64,
    /// So much earlier everybody has to begin to be so sure, s; 0 if the plan is sure enough, absent if no earlier start is.
    pub earlier_s: Option<i64>,
    /// How sure that makes it; if no earlier start is sure enough, the most that one can reach. Thousandths.
    pub then_pm: i64,
    /// Where no earlier start is sure enough: so much earlier the load-in and everybody's start would have to be, s; absent if that is not
    /// sure enough either, or no load-in is agreed.
    pub load_in_earlier_s: Option<i64>,
    /// Where no earlier start is sure enough: what makes it surer; absent if nothing was found, and in a sketch of a plan.
    #[serde(default)]
    pub surer: Option<surer::Surer>,
    /// Days on which the load-in holds the work up, thousandths.
    pub load_in_pm: i64,
    /// Every task up to the hand-over, in the order of the work.
    pub tasks: Vec<TaskChance>,
    /// Days gone through.
    pub samples: u32,
    /// Kinds of work in the plan, and how many of them have a spread of one's own.
    pub kinds: u32,
    /// Those with a spread of one's own.
    pub own: u32,
}

/// How sure one task is.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct TaskChance {
    /// Its id.
    pub task: String,
    /// It takes less than this on a tenth of the days, s.
    pub low_s: i64,
    /// It takes more than this on a tenth of the days, s.
    pub high_s: i64,
    /// Days on which a minute more of it is a minute more at the finish, thousandths (criticality index).
    pub critical_pm: i64,
    /// By so much it makes the finish later on a slow day of its own, s: its excess over the middle times the share above.
    pub adds_s: i64,
    /// Jobs that its spread comes from; 0 is the usual spread.
    pub jobs: i64,
}

/// What is gone through: how many days, and which.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Days {
    /// How many.
    pub samples: usize,
    /// Which: the same seed gives the same days.
    pub seed: u64,
}

impl Default for Days {
    fn default() -> Self {
        Self {
            samples: SAMPLES,
            seed: SEED,
        }
    }
}

/// The chance of a job whose tasks have their times and people; none while something before the hand-over has no time.
#[must_use]
pub fn chance(job: &Job, tasks: &[Task], calls: &[Call], days: Days) -> Option<Chance> {
    let ready = instant(&job.times.ready_by, &job.venue.zone).ok()?;
    let net = net(job, tasks, calls, ready)?;
    Some(sampled(&net, ready.div_euclid(1000), days))
}

/// A task of the net, times in s.
#[derive(Debug, Clone, PartialEq, Default)]
struct Node {
    id: String,
    /// Planned: the middle.
    duration: i64,
    spread: Spread,
    /// The work begins with it, or somebody's day does: they are called for then.
    call: Option<i64>,
    /// It begins no earlier, however early the work does.
    floor: Option<i64>,
    /// The floor is the load-in.
    load_in: bool,
    /// When its people work; empty is any time.
    free: Vec<(i64, i64)>,
    /// What must be over first; each stands earlier in the list.
    before: Vec<usize>,
}

/// How far a time goes apart: deviations of the logarithms.
#[derive(Debug, Clone, PartialEq, Default)]
struct Spread {
    day: f64,
    /// With what it shares the factor.
    kind: String,
    kind_sd: f64,
    own_sd: f64,
    jobs: i64,
}

impl Spread {
    fn sd(&self) -> f64 {
        libm::sqrt(self.day * self.day + self.kind_sd * self.kind_sd + self.own_sd * self.own_sd)
    }
}

fn net(job: &Job, tasks: &[Task], calls: &[Call], ready_ms: i64) -> Option<Vec<Node>> {
    let wanted = |t: &Task| !t.phase.comes_after();
    if !tasks.iter().any(wanted)
        || tasks
            .iter()
            .any(|t| wanted(t) && (t.start_ms.is_none() || t.end_ms.is_none()))
    {
        return None;
    }
    let s = |ms: i64| ms.div_euclid(1000);
    let order: Vec<usize> = order(tasks)
        .into_iter()
        .filter(|i| wanted(&tasks[*i]))
        .collect();
    let before = links(job, tasks);
    let mut place = vec![None; tasks.len()];
    for (at, i) in order.iter().enumerate() {
        place[*i] = Some(at);
    }
    let load_in = instant(&job.times.load_in, &job.venue.zone).ok().map(s);
    let free: Vec<(&str, Vec<(i64, i64)>)> = live(&job.crew)
        .into_iter()
        .map(|(id, person)| (id, hours(job, (id, person), ready_ms, DAYS)))
        .collect();
    let called = |id: &str| {
        calls
            .iter()
            .flat_map(|c| &c.days)
            .any(|d| d.tasks.first().is_some_and(|t| t == id))
    };
    Some(
        order
            .iter()
            .map(|i| {
                let task = &tasks[*i];
                let (start, end) = (s(task.start_ms.unwrap_or(0)), s(task.end_ms.unwrap_or(0)));
                let venue = matches!(task.phase, Phase::Install | Phase::HandOver);
                let before: Vec<usize> = before[*i].iter().filter_map(|b| place[*b]).collect();
                let load_in = load_in.filter(|_| venue);
                Node {
                    id: task.id.clone(),
                    duration: end.saturating_sub(start),
                    spread: spread(job, &task.id),
                    call: (before.is_empty() || called(&task.id))
                        .then_some(start)
                        .filter(|_| !task.pinned),
                    floor: if task.pinned { Some(start) } else { load_in },
                    load_in: !task.pinned && load_in.is_some(),
                    free: together(task, &free, start, end),
                    before,
                }
            })
            .collect(),
    )
}

/// Hours in which all people of a task work, near its planned time; none if it was planned outside them.
fn together(
    task: &Task,
    free: &[(&str, Vec<(i64, i64)>)],
    start: i64,
    end: i64,
) -> Vec<(i64, i64)> {
    let mut all: Option<Vec<(i64, i64)>> = None;
    for who in &task.who {
        let Some((_, theirs)) = free.iter().find(|(id, _)| id == who) else {
            continue;
        };
        let near = theirs
            .iter()
            .filter(|(_, b)| *b > start.saturating_sub(BACK_S));
        all = Some(match all {
            None => near.copied().collect(),
            Some(list) => near
                .flat_map(|(a, b)| list.iter().map(move |(c, d)| (*a.max(c), *b.min(d))))
                .filter(|(a, b)| a < b)
                .collect(),
        });
    }
    all.filter(|list| list.iter().any(|(a, b)| *a <= start && end <= *b))
        .unwrap_or_default()
}

fn on_the_road(work: &str) -> bool {
    matches!(work, "drive" | "back")
}

/// The spread of a task: its own readings where there are any, drawn towards the usual one while they are few.
fn spread(job: &Job, id: &str) -> Spread {
    let work = id.split('.').next().unwrap_or_default();
    let field = field_of(work);
    let own = field.and_then(|f| own(&job.spreads, f));
    let usual = DAY * DAY + KIND * KIND;
    let (kind_sd, jobs) = match own {
        Some((sd, jobs)) => {
            let (n, prior) = (whole(jobs), whole(PRIOR_JOBS));
            let all = (n * sd * sd + prior * usual) / (n + prior);
            // what the jobs went apart by holds the day's factor too
            (libm::sqrt((all - DAY * DAY).max(0.0)), jobs)
        }
        None if on_the_road(work) => (0.0, 0),
        None => (KIND, 0),
    };
    Spread {
        day: if on_the_road(work) { 0.0 } else { DAY },
        kind: format!("kind {}", field.unwrap_or(work)),
        kind_sd,
        own_sd: if on_the_road(work) { DRIVE } else { TASK },
        jobs,
    }
}

/// The deviation that quarters of own readings have, and their jobs.
fn own(spreads: &Ids<job::away::Spread>, field: &str) -> Option<(f64, i64)> {
    let spread = spreads.get(field).filter(|s| !s.gone && s.jobs > 0)?;
    let (low, high) = (spread.low_pct, spread.high_pct);
    if low <= 0 || high < low {
        return None;
    }
    let sd = libm::log(whole(high) / whole(low)) / (2.0 * QUARTER_Z);
    Some((sd.clamp(*OWN.start(), *OWN.end()), spread.jobs.min(10_000)))
}

/// Goes through the days.
fn sampled(net: &[Node], ready: i64, days: Days) -> Chance {
    let n = net.len();
    let samples = days.samples.clamp(4, 1_000_000);
    let times = durations(net, samples, days.seed);
    let mut ends = vec![0; n];
    let mut finishes = Vec::with_capacity(samples);
    let mut late = Vec::new();
    let mut critical = vec![0u32; n];
    let mut held = 0u32;
    for (k, day) in times.chunks(n).enumerate() {
        let finish = go(net, day, [0, 0], &mut ends);
        finishes.push(finish);
        if finish > ready {
            late.push(k);
        }
        held += u32::from(trace(net, day, &ends, &mut critical));
    }
    finishes.sort_unstable();
    let of = |count: usize| share_pm(count, samples);
    // who is ready in time stays so when all begin earlier: only the late days are gone through again
    let mut ready_at = |shift: i64, load_in: i64| {
        let ready = late
            .iter()
            .filter(|k| {
                let day = &times[**k * n..(**k + 1) * n];
                go(net, day, [shift, load_in], &mut ends) <= ready
            })
            .count();
        of(samples - late.len() + ready)
    };
    let ready_pm = of(samples - late.len());
    let (earlier_s, then_pm) = if ready_pm >= TARGET_PM {
        (Some(0), ready_pm)
    } else {
        earlier(&mut |shift| ready_at(shift, 0))
    };
    let load_in_earlier_s = (earlier_s.is_none() && net.iter().any(|n| n.load_in))
        .then(|| earlier(&mut |shift| ready_at(shift, shift)).0)
        .flatten();
    let slow = |node: &Node, z: f64| up(whole(node.duration) * libm::exp(z * node.spread.sd()));
    let mut kinds: Vec<(&str, bool)> = net
        .iter()
        .map(|node| (node.spread.kind.as_str(), node.spread.jobs > 0))
        .collect();
    kinds.sort_unstable();
    kinds.dedup();
    let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    Chance {
        ready_pm,
        early_ms: tenth(&finishes, 1).saturating_mul(1000),
        mid_ms: tenth(&finishes, 5).saturating_mul(1000),
        late_ms: tenth(&finishes, 9).saturating_mul(1000),
        target_pm: TARGET_PM,
        earlier_s,
        then_pm,
        load_in_earlier_s,
        surer: None,
        load_in_pm: share_pm(usize::try_from(held).unwrap_or(0), samples),
        tasks: net
            .iter()
            .zip(&critical)
            .map(|(node, days)| {
                let critical_pm = share_pm(usize::try_from(*days).unwrap_or(0), samples);
                let high_s = slow(node, TENTH_Z);
                TaskChance {
                    task: node.id.clone(),
                    low_s: slow(node, -TENTH_Z),
                    high_s,
                    critical_pm,
                    adds_s: high_s.saturating_sub(node.duration) * critical_pm / 1000,
                    jobs: node.spread.jobs,
                }
            })
            .collect(),
        samples: count(samples),
        kinds: count(kinds.len()),
        own: count(kinds.iter().filter(|k| k.1).count()),
    }
}

/// The least shift that is sure enough, s, with its chance; else the chance of the largest.
fn earlier(ready_at: &mut impl FnMut(i64) -> i64) -> (Option<i64>, i64) {
    let most = ready_at(MOST_STEPS * STEP_S);
    if most < TARGET_PM {
        return (None, most);
    }
    let (mut no, mut yes, mut then) = (0, MOST_STEPS, most);
    while yes - no > 1 {
        let middle = (no + yes) / 2;
        let pm = ready_at(middle * STEP_S);
        if pm >= TARGET_PM {
            (yes, then) = (middle, pm);
        } else {
            no = middle;
        }
    }
    (Some(yes * STEP_S), then)
}

/// How long each task takes on each day, s, day by day.
fn durations(net: &[Node], samples: usize, seed: u64) -> Vec<i64> {
    let day = Draws::of(seed, "day").normals(samples);
    let mut kinds: Vec<(&str, Vec<f64>)> = Vec::new();
    let mut all = vec![0; samples * net.len()];
    for (i, node) in net.iter().enumerate() {
        let spread = &node.spread;
        if !kinds.iter().any(|(kind, _)| *kind == spread.kind) {
            kinds.push((&spread.kind, Draws::of(seed, &spread.kind).normals(samples)));
        }
        let own = Draws::of(seed, &node.id).normals(samples);
        let Some((_, kind)) = kinds.iter().find(|(kind, _)| *kind == spread.kind) else {
            continue;
        };
        for (k, ((d, z), o)) in day.iter().zip(kind).zip(&own).enumerate() {
            let log = spread.day * d + spread.kind_sd * z + spread.own_sd * o;
            all[k * net.len() + i] = up(whole(node.duration) * libm::exp(log));
        }
    }
    all
}

/// One day from the first call to the finish, everybody called and the doors opened so much earlier. Writes the ends; answers the last,
/// s.
fn go(net: &[Node], day: &[i64], [shift, load_in]: [i64; 2], ends: &mut [i64]) -> i64 {
    let mut last = i64::MIN;
    for (i, node) in net.iter().enumerate() {
        let mut from = node
            .call
            .map_or(i64::MIN, |call| sooner(&node.free, call, shift));
        let open = if node.load_in { load_in } else { 0 };
        from = from.max(
            node.floor
                .map_or(i64::MIN, |floor| floor.saturating_sub(open)),
        );
        for b in &node.before {
            from = from.max(ends[*b]);
        }
        ends[i] = within(&node.free, from).saturating_add(day[i]);
        last = last.max(ends[i]);
    }
    last
}

/// So much working time before a call; what is left when the hours are used up is left.
fn sooner(free: &[(i64, i64)], call: i64, shift: i64) -> i64 {
    let Some((first, _)) = free.first() else {
        return call.saturating_sub(shift);
    };
    let mut left = shift;
    for (a, b) in free.iter().rev().filter(|(a, _)| *a < call) {
        let end = call.min(*b);
        if left <= end - a {
            return end - left;
        }
        left -= end - a;
    }
    call.min(*first)
}

/// The first time from then on that lies within hours; the time itself if there are none any more.
fn within(free: &[(i64, i64)], from: i64) -> i64 {
    free.iter()
        .find(|(_, b)| *b > from)
        .map_or(from, |(a, _)| from.max(*a))
}

/// Counts the tasks on the chains that make the finish what it is. Answers whether one of the chains begins at the load-in.
fn trace(net: &[Node], day: &[i64], ends: &[i64], critical: &mut [u32]) -> bool {
    let last = ends.iter().copied().max().unwrap_or(0);
    let mut on: Vec<bool> = ends.iter().map(|end| *end == last).collect();
    let mut held = false;
    for i in (0..net.len()).rev().filter(|i| net[*i].duration > 0) {
        if !on[i] {
            continue;
        }
        critical[i] += 1;
        let start = ends[i] - day[i];
        for b in &net[i].before {
            on[*b] |= ends[*b] == start;
        }
        held |= net[i].load_in
            && net[i].floor == Some(start)
            && net[i].before.iter().all(|b| ends[*b] < start);
    }
    held
}

/// So many of all, thousandths, to the nearest.
fn share_pm(count: usize, all: usize) -> i64 {
    let (count, all) = (
        i64::try_from(count).unwrap_or(i64::MAX / 4000),
        i64::try_from(all).unwrap_or(1).max(1),
    );
    (count * 2000 + all) / (2 * all)
}

/// So many tenths of the way through a list in order (the seventh definition of Hyndman and Fan, as in [`crate::learn`]).
fn tenth(sorted: &[i64], tenths: usize) -> i64 {
    let Some(last) = sorted.len().checked_sub(1) else {
        return 0;
    };
    let place = last * tenths;
    let (a, b) = (sorted[place / 10], sorted[(place / 10 + 1).min(last)]);
    a + (b - a) * i64::try_from(place % 10).unwrap_or(0) / 10
}

#[cfg(test)]
mod tests;

//! Several jobs on one weekend: who and what is wanted by two of them at once.

use std::collections::BTreeMap;

use job::list::live;
use job::site::KitKind;
use job::{Job, Stage};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::rest::{AWAKE_MS, Broken, DAY_MS, Rule, broken};
use crate::types::{Phase, Plan, Task};

/// What two jobs want.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize, TS,
)]
#[serde(rename_all = "snake_case")]
pub enum Wanted {
    /// One of the people.
    #[default]
    Person,
    /// A thing of the kit.
    Kit,
    /// The vehicle.
    Vehicle,
}

/// Two jobs that want the same at the same time.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct Clash {
    /// What is wanted.
    pub kind: Wanted,
    /// Its name.
    pub name: String,
    /// The job that was given first: its place among those given.
    pub one: u32,
    /// The other.
    pub other: u32,
    /// From when both want it, ms.
    pub from_ms: i64,
    /// Until when, ms.
    pub to_ms: i64,
}

/// Work for two jobs that leaves somebody too little rest between them. Laws differ: those of the place hold.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct ShortRest {
    /// Whose.
    pub name: String,
    /// The rule that it is beside.
    pub rule: Rule,
    /// The job whose work comes first: its place among those given.
    pub one: u32,
    /// The job whose work follows too soon.
    pub other: u32,
    /// The work for the first ends, ms.
    pub from_ms: i64,
    /// The work for the other begins, ms.
    pub to_ms: i64,
}

/// What several jobs do to each other.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct Together {
    /// Double bookings.
    pub clashes: Vec<Clash>,
    /// Rest that they take from somebody.
    pub rests: Vec<ShortRest>,
}

/// A stretch in which a job holds something.
pub(crate) struct Hold {
    /// What kind of thing.
    pub kind: Wanted,
    /// What makes two of them the same: where it was copied from, else its name.
    pub key: String,
    /// Its name.
    pub name: String,
    /// When, ms.
    pub spans: Vec<(i64, i64)>,
    /// How many are held, and how many there are.
    count: i64,
    have: i64,
}

/// Double bookings between jobs with their plans. Cancelled, put off and put away jobs want nothing. People and things are the same
/// if they were copied from the same place, or, entered by hand, if they have the same name.
///
/// A person is held while they work, and on the way home from the venue; the vehicle and things that travel from loading until they are
/// home from the hand-over, and while taking down with the way there and home, inflators also while they blow. There are as many of a thing as the job that has most says.
#[must_use]
pub fn clashes(jobs: &[(&Job, &Plan)]) -> Vec<Clash> {
    let holds: Vec<Vec<Hold>> = jobs.iter().map(|(job, plan)| holds(job, plan)).collect();
    let mut all = Vec::new();
    for (i, one) in holds.iter().enumerate() {
        for (j, other) in holds.iter().enumerate().skip(i + 1) {
            for a in one {
                for b in other.iter().filter(|b| b.kind == a.kind && b.key == a.key) {
                    if a.count.saturating_add(b.count) <= a.have.max(b.have) {
                        continue;
                    }
                    if let Some((from_ms, to_ms)) = overlap(&a.spans, &b.spans) {
                        all.push(Clash {
                            kind: a.kind,
                            name: a.name.clone(),
                            one: u32::try_from(i).unwrap_or(u32::MAX),
                            other: u32::try_from(j).unwrap_or(u32::MAX),
                            from_ms,
                            to_ms,
                        });
                    }
                }
            }
        }
    }
    all.sort_by_key(|c| (c.from_ms, c.kind, c.name.clone(), c.one, c.other));
    all
}

/// Double bookings and short rests.
#[must_use]
pub fn together(jobs: &[(&Job, &Plan)]) -> Together {
    Together {
        clashes: clashes(jobs),
        rests: rests(jobs),
    }
}

/// Where the work for several jobs leaves somebody too little rest between them. What one job does alone is its own finding.
#[must_use]
pub fn rests(jobs: &[(&Job, &Plan)]) -> Vec<ShortRest> {
    /// A name, and spans with their job.
    type Work = (String, Vec<Span>);
    let mut people: BTreeMap<String, Work> = BTreeMap::new();
    for (i, (job, plan)) in jobs.iter().enumerate() {
        for hold in holds(job, plan) {
            if hold.kind == Wanted::Person {
                let (_, spans) = people.entry(hold.key).or_insert((hold.name, Vec::new()));
                spans.extend(hold.spans.iter().map(|(s, e)| (*s, *e, i)));
            }
        }
    }
    let mut all: Vec<ShortRest> = people
        .into_values()
        .flat_map(|(name, spans)| short_rests(&name, spans))
        .collect();
    all.sort_by_key(|r| (r.from_ms, r.rule, r.name.clone()));
    all
}

fn short_rests(name: &str, mut spans: Vec<Span>) -> Vec<ShortRest> {
    spans.sort_unstable();
    let of = |wanted: &dyn Fn(usize) -> bool| -> Vec<(i64, i64)> {
        spans
            .iter()
            .filter(|s| wanted(s.2))
            .map(|s| (s.0, s.1))
            .collect()
    };
    let mut jobs: Vec<usize> = spans.iter().map(|s| s.2).collect();
    jobs.sort_unstable();
    jobs.dedup();
    // what a job does alone is its own finding
    let alone: Vec<Broken> = jobs
        .iter()
        .flat_map(|job| broken(&of(&|of| of == *job)))
        .collect();
    let mut all: Vec<ShortRest> = Vec::new();
    for b in broken(&of(&|_| true)) {
        if alone.contains(&b) {
            continue;
        }
        for (from, to) in handed_over(&spans, b) {
            let said = ShortRest {
                name: name.into(),
                rule: b.rule,
                one: u32::try_from(from.2).unwrap_or(u32::MAX),
                other: u32::try_from(to.2).unwrap_or(u32::MAX),
                from_ms: from.1,
                to_ms: to.0,
            };
            // two jobs say it once for each rule, with the shorter rest
            let pair = |r: &ShortRest| (r.rule, r.one.min(r.other), r.one.max(r.other));
            let pause = |r: &ShortRest| r.to_ms.saturating_sub(r.from_ms);
            match all.iter_mut().find(|r| pair(r) == pair(&said)) {
                Some(there) if pause(&said) < pause(there) => *there = said,
                Some(_) => {}
                None => all.push(said),
            }
        }
    }
    all
}

/// A stretch of work, ms, and its job.
type Span = (i64, i64, usize);

/// Where a stretch that breaks a rule goes from one job to another. What should have been a night is the longest rest in the 24 hours
/// from the start of work; the next 24 hours begin after it. Where that night lies within one job, its day's other jobs count.
fn handed_over(spans: &[Span], b: Broken) -> Vec<(Span, Span)> {
    // what ends last goes on: work of two jobs at once is no rest between them
    let mut steps: Vec<(Span, Span)> = Vec::new();
    let mut last: Option<Span> = None;
    for span in spans.iter().filter(|s| b.from_ms <= s.0 && s.1 <= b.to_ms) {
        steps.extend(last.map(|last| (last, *span)));
        if last.is_none_or(|last| span.1 > last.1) {
            last = Some(*span);
        }
    }
    let pause = |(a, b): &(Span, Span)| b.0.saturating_sub(a.1);
    let between = |(a, b): &(Span, Span)| a.2 != b.2;
    if b.rule != Rule::Daily {
        return steps.into_iter().filter(between).collect();
    }
    let mut all = Vec::new();
    let mut from = b.from_ms;
    while b.to_ms.saturating_sub(from) > AWAKE_MS {
        let to = from.saturating_add(DAY_MS);
        let day: Vec<(Span, Span)> = (steps.iter().copied())
            .filter(|(a, b)| from < a.1 && a.1 < to && b.0 >= from)
            .collect();
        let Some(night) = day.iter().max_by_key(|s| (pause(s), -s.0.1)) else {
            break;
        };
        let said = if between(night) {
            Some(night)
        } else {
            day.iter().filter(|s| between(s)).min_by_key(|s| pause(s))
        };
        all.extend(said.copied());
        if night.1.0 <= from {
            break;
        }
        from = night.1.0;
    }
    all
}

/// The first time that is in both, with the end of that overlap.
fn overlap(a: &[(i64, i64)], b: &[(i64, i64)]) -> Option<(i64, i64)> {
    a.iter()
        .flat_map(|x| b.iter().map(move |y| (x.0.max(y.0), x.1.min(y.1))))
        .filter(|(from, to)| from < to)
        .min()
}

/// What a job holds. A job that is off holds nothing.
pub(crate) fn holds(job: &Job, plan: &Plan) -> Vec<Hold> {
    if job.gone || matches!(job.stage, Stage::Cancelled | Stage::Postponed) {
        return Vec::new();
    }
    let span = |t: &Task| t.start_ms.zip(t.end_ms).filter(|(s, e)| s < e);
    let of = |wanted: &dyn Fn(&Task) -> bool| -> Vec<(i64, i64)> {
        plan.tasks
            .iter()
            .filter(|t| wanted(t))
            .filter_map(span)
            .collect()
    };
    // away from the studio: from loading to the way home, and once more for the strike
    let back = |t: &Task| t.phase == Phase::Return && t.id == "home";
    let first =
        |t: &Task| matches!(t.phase, Phase::Load | Phase::Install | Phase::HandOver) || back(t);
    let again = |t: &Task| t.phase.comes_after() && !back(t);
    let mut away: Vec<(i64, i64)> = Vec::new();
    for out in [of(&first), of(&again)] {
        let (from, to) = (out.iter().map(|s| s.0).min(), out.iter().map(|s| s.1).max());
        away.extend(from.zip(to));
    }
    let mut all = Vec::new();
    for (id, person) in live(&job.crew) {
        all.push(Hold {
            kind: Wanted::Person,
            key: key(&person.source, &person.name),
            name: person.name.clone(),
            spans: of(&|t| t.who.iter().any(|w| w == id)),
            count: 1,
            have: 1,
        });
    }
    for (_, thing) in live(&job.kit) {
        let mut spans = if thing.stays {
            Vec::new()
        } else {
            away.clone()
        };
        let mut count = thing.count;
        if thing.kind == KitKind::Inflator {
            let blown = of(&|t| t.inflators > 0);
            // what blows is held by the piece: never more of it than work at once
            if spans.is_empty() {
                count = at_once(&plan.tasks);
            }
            spans.extend(blown);
        }
        all.push(Hold {
            kind: Wanted::Kit,
            key: key(&thing.source, &thing.name),
            name: thing.name.clone(),
            spans,
            count,
            have: thing.count,
        });
    }
    if job.drive.minutes > 0 {
        all.push(Hold {
            kind: Wanted::Vehicle,
            key: key("", &job.vehicle.name),
            name: job.vehicle.name.clone(),
            spans: away,
            count: 1,
            have: 1,
        });
    }
    // what has neither origin nor name is nobody's double
    all.retain(|h| h.key.len() > 1 && h.count > 0);
    all
}

/// The most inflators that blow at once.
fn at_once(tasks: &[Task]) -> i64 {
    let mut changes: BTreeMap<i64, i64> = BTreeMap::new();
    for t in tasks.iter().filter(|t| t.inflators > 0) {
        if let Some((s, e)) = t.start_ms.zip(t.end_ms) {
            *changes.entry(s).or_default() += t.inflators;
            *changes.entry(e).or_default() -= t.inflators;
        }
    }
    let mut used = 0;
    let mut most = 0;
    for change in changes.values() {
        used += change;
        most = most.max(used);
    }
    most
}

/// What makes two people or things the same.
pub(crate) fn key(source: &str, name: &str) -> String {
    match source.trim() {
        "" => format!("n{}", name.trim().to_lowercase()),
        source => format!("s{source}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::defaults::starting_books;
    use job::demo::demo;

    fn on(day: &str) -> (Job, Plan) {
        let job = demo(&starting_books(), day).0;
        let plan = crate::plan_at(
            &job,
            None,
            crate::Depth::Preview,
            &mut crate::Memory::default(),
        );
        (job, plan)
    }

    fn kinds(list: &[Clash]) -> Vec<Wanted> {
        let mut kinds: Vec<Wanted> = list.iter().map(|c| c.kind).collect();
        kinds.dedup();
        kinds.sort_unstable();
        kinds.dedup();
        kinds
    }

    #[test]
    fn the_same_day_twice_wants_everything_twice() {
        let (a, b) = (on("2027-06-12"), on("2027-06-12"));
        let found = clashes(&[(&a.0, &a.1), (&b.0, &b.1)]);
        assert_eq!(
            kinds(&found),
            [Wanted::Person, Wanted::Kit, Wanted::Vehicle]
        );
        assert!(
            found
                .iter()
                .all(|c| (c.one, c.other) == (0, 1) && c.from_ms < c.to_ms)
        );
        let ada = found.iter().find(|c| c.name == "Ada").unwrap();
        assert_eq!(
            Some(ada.from_ms),
            a.1.calls[0].days.first().map(|d| d.start_ms)
        );
    }

    #[test]
    fn a_week_apart_wants_nothing_twice() {
        let (a, b) = (on("2027-06-12"), on("2027-06-19"));
        assert_eq!(clashes(&[(&a.0, &a.1), (&b.0, &b.1)]), []);
    }

    #[test]
    fn what_is_off_wants_nothing() {
        let (a, mut b) = (on("2027-06-12"), on("2027-06-12"));
        b.0.stage = Stage::Postponed;
        assert_eq!(clashes(&[(&a.0, &a.1), (&b.0, &b.1)]), []);
    }

    /// Another person with another name, in another van, is no clash; the same name in other letters is.
    #[test]
    fn names_and_origins_tell_people_apart() {
        let (a, mut b) = (on("2027-06-12"), on("2027-06-12"));
        b.0.kit.clear();
        b.0.vehicle.name = "Borrowed van".into();
        for (n, person) in b.0.crew.values_mut().enumerate() {
            person.source.clear();
            person.name = format!("Somebody {n}");
        }
        assert_eq!(clashes(&[(&a.0, &a.1), (&b.0, &b.1)]), []);
        let mut c = (a.0.clone(), a.1.clone());
        for person in c.0.crew.values_mut() {
            person.source.clear();
        }
        let mut d = c.clone();
        for person in d.0.crew.values_mut() {
            person.name = person.name.to_uppercase();
        }
        let found = clashes(&[(&c.0, &c.1), (&d.0, &d.1)]);
        assert!(
            found
                .iter()
                .any(|f| f.kind == Wanted::Person && f.name == "Ada"),
            "{found:?}"
        );
    }

    /// A job that is taken down at half past eleven at night, and another that begins early next morning. Source of the rule: Directive 2003/88/EC, article 3.
    #[test]
    fn two_jobs_take_the_rest_between_them() {
        let (a, b) = (on("2027-06-12"), on("2027-06-13"));
        let found = rests(&[(&a.0, &a.1), (&b.0, &b.1)]);
        let daily: Vec<&ShortRest> = found.iter().filter(|r| r.rule == Rule::Daily).collect();
        assert!(!daily.is_empty(), "{found:?}");
        for r in daily {
            assert_eq!((r.one, r.other), (0, 1));
            assert!(r.to_ms - r.from_ms < 11 * 3_600_000, "{r:?}");
        }
        let c = on("2027-06-19");
        assert_eq!(rests(&[(&a.0, &a.1), (&c.0, &c.1)]), []);
        // what one job does alone is its own finding
        assert_eq!(rests(&[(&a.0, &a.1)]), []);
        let mut off = b.clone();
        off.0.stage = Stage::Cancelled;
        assert_eq!(rests(&[(&a.0, &a.1), (&off.0, &off.1)]), []);
    }

    /// Three days in a row with short nights: each night is said, and to each person their own rest. Hours by hand, h of the first day:
    /// Ben works 10-14 and 23-24.5, then 34-38 and 47-48.5, then 58-60: two nights of 9.5 h; Ada begins an hour later each day.
    #[test]
    fn each_night_of_a_weekend_is_said() {
        let h = |from: i64, to: i64, job: usize| (from * 1_800_000, to * 1_800_000, job);
        let ben = vec![
            h(20, 28, 0),
            h(46, 49, 0),
            h(68, 76, 1),
            h(94, 97, 1),
            h(116, 120, 2),
        ];
        let said = |spans: Vec<Span>| -> Vec<(Rule, u32, u32, i64)> {
            let list = short_rests("Ben", spans);
            (list.into_iter())
                .map(|r| (r.rule, r.one, r.other, (r.to_ms - r.from_ms) / 60_000))
                .collect()
        };
        let nights = |min| vec![(Rule::Daily, 0, 1, min), (Rule::Daily, 1, 2, min)];
        assert_eq!(said(ben.clone()), nights(570));
        let mut ada = ben.clone();
        (ada[2].0, ada[4].0) = (ada[2].0 + 3_600_000, ada[4].0 + 3_600_000);
        assert_eq!(said(ada), nights(630));
        // a rest of eleven hours between the last two: only the first night is short
        let mut rested = ben.clone();
        (rested[4].0, rested[4].1) = (rested[4].0 + 5_400_000, rested[4].1 + 5_400_000);
        assert_eq!(said(rested), nights(570)[..1]);
        // an hour for the third job in the middle of the first day takes nothing from the night
        let mut between = ben;
        between.push(h(30, 32, 2));
        assert_eq!(said(between)[..1], nights(570)[..1]);
        // more than six hours over three jobs: all three are told
        let row = vec![h(16, 20, 0), h(20, 26, 1), h(26, 30, 2)];
        assert_eq!(said(row), [(Rule::Break, 0, 1, 0), (Rule::Break, 1, 2, 0)]);
    }

    /// Whoever hands over at the venue is not in the studio a minute later: the way home lies between.
    #[test]
    fn the_way_home_is_held_too() {
        let (job, plan) = on("2027-06-12");
        let all = holds(&job, &plan);
        let end = plan.tasks.iter().find(|t| t.id == "finish").unwrap();
        let home = end.end_ms.unwrap() + job.drive.minutes * 60_000;
        let person = job.crew[&end.who[0]].name.as_str();
        for name in [person, job.vehicle.name.as_str()] {
            let hold = all.iter().find(|h| h.name == name).unwrap();
            assert!(
                hold.spans.iter().any(|s| s.1 == home),
                "{name}: {:?}",
                hold.spans
            );
        }
    }
}

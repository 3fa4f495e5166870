//! Several jobs on one weekend: who and what is wanted by two of them at once.

use std::collections::BTreeMap;

use job::list::live;
use job::site::KitKind;
use job::{Job, Stage};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

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

/// A stretch in which a job holds something.
struct Hold {
    kind: Wanted,
    /// What makes two of them the same: where it was copied from, else its name.
    key: String,
    name: String,
    spans: Vec<(i64, i64)>,
    /// How many are held, and how many there are.
    count: i64,
    have: i64,
}

/// Double bookings between jobs with their plans. Cancelled, put off and put away jobs want nothing. People and things are the same
/// if they were copied from the same place, or, entered by hand, if they have the same name.
///
/// A person is held while they work; the vehicle from loading to hand-over, and while taking down; things that travel from loading to
/// hand-over and while taking down, inflators also while they blow. There are as many of a thing as the job that has most says.
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

/// The first time that is in both, with the end of that overlap.
fn overlap(a: &[(i64, i64)], b: &[(i64, i64)]) -> Option<(i64, i64)> {
    a.iter()
        .flat_map(|x| b.iter().map(move |y| (x.0.max(y.0), x.1.min(y.1))))
        .filter(|(from, to)| from < to)
        .min()
}

fn holds(job: &Job, plan: &Plan) -> Vec<Hold> {
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
    // away from the studio: from loading to hand-over, and from the way to the strike on
    let out = of(&|t| matches!(t.phase, Phase::Load | Phase::Install | Phase::HandOver));
    let mut away = Vec::new();
    if let (Some(from), Some(to)) = (out.iter().map(|s| s.0).min(), out.iter().map(|s| s.1).max()) {
        away.push((from, to));
    }
    let way_ms = job.drive.minutes.clamp(0, 100_000) * 60_000;
    away.extend(
        of(&|t| t.phase == Phase::Strike)
            .into_iter()
            .map(|(s, e)| (s.saturating_sub(way_ms), e.saturating_add(way_ms))),
    );
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

fn key(source: &str, name: &str) -> String {
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
}

//! What another decision would do: the same job with one more person, one fewer, an earlier or later load-in, another inflator,
//! each planned and put side by side. Every way comes with the edits that make it so.

use job::list::live;
use job::site::{Crew, Kit, KitKind};
use job::time::{instant, local};
use job::{Edit, Job, Part, Private, Severity};
use serde::{Deserialize, Serialize};
use serde_json::json;
use ts_rs::TS;

use crate::{Depth, Memory, Plan, plan_at};

/// How far a load-in is moved, min.
const MOVE_MIN: i64 = 30;
/// What is less than this is no difference, s.
const LEAST_S: i64 = 60;
/// And of chances, thousandths.
const LEAST_PM: i64 = 10;

/// A way to do the job, and what comes of it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct Way {
    /// Which: `as_is`, `more_people`, `fewer_people`, `earlier_load_in`, `later_load_in`, `more_inflators`.
    pub code: String,
    /// The person that leaves; empty for the other ways.
    pub name: String,
    /// The edits that make it so; none for the job as it is.
    pub edits: Vec<Edit>,
    /// The first work begins, ms.
    pub start_by_ms: Option<i64>,
    /// Leave the studio, ms.
    pub leave_by_ms: Option<i64>,
    /// You come so long after the load-in opens, s; negative is too late for the work.
    pub slack_s: Option<i64>,
    /// Working time of all people, s.
    pub work_s: i64,
    /// Price with tax, cents; absent in a crew copy.
    pub price_cents: Option<i64>,
    /// The chance to be ready, thousandths; absent while something has no time.
    pub ready_pm: Option<i64>,
    /// Every task has its time and people, and the load-in is early enough.
    pub enough: bool,
    /// What stands against it: what is wrong with its times, worst first.
    pub against: Vec<String>,
    /// It is better than the job as it is: it is enough where that is not, or less short; or it begins later, spares more, is surer or
    /// costs less, and is as good otherwise. Whoever takes another way takes it for reasons of their own.
    pub helps: bool,
}

/// The job as it is, then every other way that makes sense for it.
#[must_use]
pub fn what_if(
    job: &Job,
    private: Option<&Private>,
    depth: Depth,
    memory: &mut Memory,
) -> Vec<Way> {
    let mut all: Vec<Way> = ways(job)
        .into_iter()
        .map(|(code, name, edits, changed)| {
            let plan = plan_at(&changed, private, depth, memory);
            outcome(code, name, edits, &plan)
        })
        .collect();
    if let Some((now, others)) = all.split_first_mut() {
        for way in others {
            way.helps = helps(way, now);
        }
    }
    all
}

/// Whether a way is better than the job as it is. Less than a minute, and less than a day in a hundred, is nothing.
fn helps(way: &Way, now: &Way) -> bool {
    let short = |w: &Way| w.slack_s.unwrap_or(0).min(0);
    if way.enough != now.enough {
        return way.enough;
    }
    if !now.enough {
        return way.against.len() < now.against.len() || short(way) >= short(now) + LEAST_S;
    }
    let later = (way.start_by_ms.zip(now.start_by_ms))
        .is_some_and(|(way, now)| way >= now + LEAST_S * 1000);
    let surer = (way.ready_pm.zip(now.ready_pm)).is_some_and(|(way, now)| way >= now + LEAST_PM);
    let cheaper = (way.price_cents.zip(now.price_cents)).is_some_and(|(way, now)| way < now);
    later || surer || cheaper
}

fn outcome(code: &str, name: String, edits: Vec<Edit>, plan: &Plan) -> Way {
    let against: Vec<String> = plan
        .findings
        .iter()
        .filter(|f| f.severity == Severity::Stop && about_times(&f.code))
        .map(|f| f.message.clone())
        .collect();
    Way {
        code: code.into(),
        name,
        edits,
        start_by_ms: plan.figures.start_by_ms,
        leave_by_ms: plan.figures.leave_by_ms,
        slack_s: plan.figures.slack_s,
        work_s: plan.figures.work_s,
        price_cents: plan.figures.price_cents,
        ready_pm: plan.chance.as_ref().map(|c| c.ready_pm),
        enough: against.is_empty() && plan.figures.start_by_ms.is_some(),
        against,
        helps: false,
    }
}

/// Findings that say that the times do not hold.
pub(crate) fn about_times(code: &str) -> bool {
    [
        "no_people",
        "too_few_people",
        "needs_two",
        "no_driver",
        "no_ladder",
        "no_inflator",
        "no_time",
        "too_much_work",
        "load_in_too_late",
        "strike_too_long",
        "too_old",
        "too_old_outdoors",
        "sinks_early",
    ]
    .contains(&code)
}

type Changed = (&'static str, String, Vec<Edit>, Job);

fn ways(job: &Job) -> Vec<Changed> {
    let mut all = vec![("as_is", String::new(), Vec::new(), job.clone())];
    all.extend(more_people(job));
    all.extend(fewer_people(job));
    all.extend(load_in(job, "earlier_load_in", -MOVE_MIN));
    all.extend(load_in(job, "later_load_in", MOVE_MIN));
    all.extend(more_inflators(job));
    all
}

/// An id that the list has not seen yet.
pub(crate) fn fresh<T>(list: &job::Ids<T>, stem: &str) -> String {
    (1..)
        .map(|n| format!("{stem}-{n}"))
        .find(|id| !list.contains_key(id))
        .unwrap_or_default()
}

/// One more, with the hours of the first, who climbs and does not drive.
fn more_people(job: &Job) -> Option<Changed> {
    let (edit, changed) = one_more(job, true, false)?;
    Some(("more_people", String::new(), vec![edit], changed))
}

/// One more person, with the hours of the first.
pub(crate) fn one_more(job: &Job, ladder: bool, drives: bool) -> Option<(Edit, Job)> {
    let crew = live(&job.crew);
    let (_, first) = crew.first()?;
    let id = fresh(&job.crew, "extra");
    let person = Crew {
        name: "One more".into(),
        from_min: first.from_min,
        to_min: first.to_min,
        ladder,
        drives,
        ..Crew::default()
    };
    let edit = Edit::Add {
        part: Part::Job,
        path: vec!["crew".into()],
        id: id.clone(),
        before: None,
        value: json!({
            "name": person.name, "from_min": person.from_min, "to_min": person.to_min, "ladder": ladder, "drives": drives,
        }),
    };
    let mut changed = job.clone();
    let order = crew.last().map(|(_, c)| format!("{}~", c.order));
    changed.crew.insert(
        id,
        Crew {
            order: order.unwrap_or_default(),
            ..person
        },
    );
    Some((edit, changed))
}

/// Without the last of the list.
fn fewer_people(job: &Job) -> Option<Changed> {
    let crew = live(&job.crew);
    let (id, person) = crew.last().filter(|_| crew.len() > 1)?;
    let edit = Edit::Remove {
        part: Part::Job,
        path: vec!["crew".into()],
        id: (*id).to_string(),
    };
    let mut changed = job.clone();
    if let Some(gone) = changed.crew.get_mut(*id) {
        gone.gone = true;
    }
    Some(("fewer_people", person.name.clone(), vec![edit], changed))
}

fn load_in(job: &Job, code: &'static str, minutes: i64) -> Option<Changed> {
    let zone = &job.venue.zone;
    let at = instant(&job.times.load_in, zone).ok()?;
    let moved = at.checked_add(minutes * 60_000)?;
    // a load-in after ready-by is no load-in
    if instant(&job.times.ready_by, zone).is_ok_and(|ready| moved >= ready) {
        return None;
    }
    let wall = local(moved, zone)?;
    let mut changed = job.clone();
    changed.times.load_in.clone_from(&wall);
    let edit = Edit::set(&["times", "load_in"], wall);
    Some((code, String::new(), vec![edit], changed))
}

fn more_inflators(job: &Job) -> Option<Changed> {
    let (edit, changed) = one_more_inflator(job);
    Some(("more_inflators", String::new(), vec![edit], changed))
}

/// One more of the inflators there are, or a first one.
pub(crate) fn one_more_inflator(job: &Job) -> (Edit, Job) {
    let mut changed = job.clone();
    let kit = live(&job.kit);
    let there = kit.iter().find(|(_, k)| k.kind == KitKind::Inflator);
    if let Some((id, inflator)) = there {
        let count = inflator.count.saturating_add(1);
        if let Some(kit) = changed.kit.get_mut(*id) {
            kit.count = count;
        }
        return (Edit::set(&["kit", id, "count"], count), changed);
    }
    let id = fresh(&job.kit, "inflator");
    let edit = Edit::Add {
        part: Part::Job,
        path: vec!["kit".into()],
        id: id.clone(),
        before: None,
        value: json!({ "name": "Inflator", "kind": "inflator", "stays": true }),
    };
    changed.kit.insert(
        id,
        Kit {
            name: "Inflator".into(),
            kind: KitKind::Inflator,
            stays: true,
            ..Kit::default()
        },
    );
    (edit, changed)
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::defaults::starting_books;
    use job::demo::demo;
    use serde_json::Value;

    /// The edits, made on the document as the store would, for the places that they can reach.
    fn made(job: &Job, edits: &[Edit]) -> Job {
        let mut doc = serde_json::to_value(job).unwrap();
        for edit in edits {
            match edit {
                Edit::Set { path, value, .. } => {
                    let mut at = &mut doc;
                    for key in path {
                        at = &mut at[key];
                    }
                    *at = value.clone();
                }
                Edit::Remove { path, id, .. } => doc[&path[0]][id]["gone"] = Value::Bool(true),
                Edit::Add {
                    path, id, value, ..
                } => doc[&path[0]][id] = job::complete::complete(path, value).unwrap(),
                other => panic!("{other:?}"),
            }
        }
        serde_json::from_value(doc).unwrap()
    }

    /// What is taken is what was shown: the edits lead to the job that was planned, but for the order key of what is added.
    #[test]
    fn the_edits_make_the_job_that_was_planned() {
        let (job, _) = demo(&starting_books(), "2027-06-12");
        let mut codes = Vec::new();
        for (code, _, edits, mut changed) in ways(&job) {
            let mut edited = made(&job, &edits);
            for doc in [&mut changed, &mut edited] {
                doc.crew.values_mut().for_each(|c| c.order.clear());
                doc.kit.values_mut().for_each(|k| k.order.clear());
            }
            assert_eq!(edited, changed, "{code}");
            codes.push(code);
        }
        assert_eq!(
            codes,
            [
                "as_is",
                "more_people",
                "fewer_people",
                "earlier_load_in",
                "later_load_in",
                "more_inflators"
            ]
        );
    }

    /// Each way has the figures that its own plan has; the job as it is has those of the plan.
    #[test]
    fn the_figures_are_those_of_the_plans() {
        let (job, private) = demo(&starting_books(), "2027-06-12");
        let mut memory = Memory::default();
        let all = what_if(&job, Some(&private), Depth::Preview, &mut memory);
        let plan = plan_at(&job, Some(&private), Depth::Preview, &mut memory);
        assert_eq!(
            (all[0].start_by_ms, all[0].work_s, all[0].price_cents),
            (
                plan.figures.start_by_ms,
                plan.figures.work_s,
                plan.figures.price_cents
            )
        );
        assert!(all[0].enough, "{:?}", all[0].against);
        let later = all.iter().find(|w| w.code == "later_load_in").unwrap();
        assert_eq!(later.slack_s, all[0].slack_s.map(|s| s - 1800));
    }

    /// One person alone cannot leave; without a load-in there is none to move.
    #[test]
    fn ways_that_make_no_sense_are_left_out() {
        let mut job = Job::default();
        job.crew.insert("a".into(), Crew::default());
        let codes: Vec<&str> = ways(&job).iter().map(|w| w.0).collect();
        assert_eq!(codes, ["as_is", "more_people", "more_inflators"]);
    }

    /// What makes it worse, or changes nothing, is not said to help: at a load-in that is too late one half an hour later is worse, one
    /// half an hour earlier is less short; where all is well a later load-in brings nothing, whatever else it is good for.
    #[test]
    fn what_brings_nothing_does_not_help() {
        let (mut job, private) = demo(&starting_books(), "2027-06-12");
        let asked =
            |job: &Job| what_if(job, Some(&private), Depth::Preview, &mut Memory::default());
        let helps = |all: &[Way], code: &str| all.iter().find(|w| w.code == code).unwrap().helps;
        let well = asked(&job);
        assert!(well[0].enough && !well[0].helps);
        assert!(!helps(&well, "later_load_in"));
        job.times.load_in = "2027-06-12T12:20".into();
        let late = asked(&job);
        assert!(!late[0].enough);
        assert!(!helps(&late, "later_load_in") && !helps(&late, "fewer_people"));
        assert!(helps(&late, "earlier_load_in"));
        for way in &late[1..] {
            let less = way.slack_s >= late[0].slack_s.map(|s| s + LEAST_S);
            assert!(!way.helps || way.enough || less, "{way:?}");
        }
    }

    /// A load-in so late that the work does not fit is not called enough, and says why.
    #[test]
    fn too_late_a_load_in_is_not_enough() {
        let (mut job, private) = demo(&starting_books(), "2027-06-12");
        job.times.load_in = "2027-06-12T13:00".into();
        let all = what_if(&job, Some(&private), Depth::Preview, &mut Memory::default());
        assert!(!all[0].enough);
        assert!(
            all[0].against[0].contains("too late"),
            "{:?}",
            all[0].against
        );
    }
}

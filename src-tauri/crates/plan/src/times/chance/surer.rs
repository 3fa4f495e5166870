//! Where no earlier start is sure enough: whether a pin is what holds it, else whether one more person brings anything. Each is tried on
//! the whole job; what brings little is not said.

use job::Job;
use job::list::live;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Chance, TARGET_PM};
use crate::what_if::one_more;

/// What brings less than this is not worth to be said, thousandths.
pub(crate) const WORTH_PM: i64 = 100;
/// Pins that are taken off one by one; of more only all together.
const SINGLY: usize = 4;

/// What makes the finish surer.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, TS)]
pub struct Surer {
    /// Ids of the pins to take off; empty is one more person.
    pub pins: Vec<String>,
    /// How sure it is then, thousandths.
    pub ready_pm: i64,
    /// So much earlier everybody has to begin besides to be sure enough, s; absent if no earlier start is.
    pub earlier_s: Option<i64>,
    /// How sure that makes it, thousandths.
    pub then_pm: i64,
}

/// What makes it surer than `chance` says. `try_out` gives the chance of a changed job.
pub(crate) fn surer(
    job: &Job,
    chance: &Chance,
    try_out: &mut dyn FnMut(&Job) -> Option<Chance>,
) -> Option<Surer> {
    if chance.earlier_s.is_some() {
        return None;
    }
    let pins: Vec<String> = (live(&job.pins).into_iter())
        .map(|(id, _)| id.to_string())
        .collect();
    let one_more_asked = chance.load_in_earlier_s.is_none();
    if pins.is_empty() && !one_more_asked {
        return None;
    }
    // held against a sketch as rough as the others
    let now = try_out(job)?;
    let mut found: Option<Surer> = None;
    let mut singly: Vec<Vec<String>> = pins.iter().map(|p| vec![p.clone()]).collect();
    singly.truncate(if pins.len() > SINGLY { 0 } else { SINGLY });
    for off in singly {
        let then = said(off.clone(), try_out(&without(job, &off)));
        let better = |s: &Surer| found.as_ref().is_none_or(|f| s.then_pm > f.then_pm);
        found = then
            .filter(|s| worth(s.then_pm, s.earlier_s, now.then_pm) && better(s))
            .or(found);
    }
    if found.is_none() && pins.len() > 1 {
        let then = said(pins.clone(), try_out(&without(job, &pins)));
        found = then.filter(|s| worth(s.then_pm, s.earlier_s, now.then_pm));
    }
    if found.is_none() && one_more_asked {
        let (_, more) = one_more(job, true, false)?;
        found = said(Vec::new(), try_out(&more))
            .filter(|s| worth(s.ready_pm, s.earlier_s, now.ready_pm));
    }
    found
}

fn worth(pm: i64, earlier_s: Option<i64>, now_pm: i64) -> bool {
    now_pm < TARGET_PM && (earlier_s.is_some() || pm >= now_pm + WORTH_PM)
}

fn said(pins: Vec<String>, chance: Option<Chance>) -> Option<Surer> {
    let chance = chance?;
    Some(Surer {
        pins,
        ready_pm: chance.ready_pm,
        earlier_s: chance.earlier_s,
        then_pm: chance.then_pm,
    })
}

fn without(job: &Job, pins: &[String]) -> Job {
    let mut changed = job.clone();
    changed.pins.retain(|id, _| !pins.contains(id));
    changed
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Depth, Memory, plan_at};
    use job::defaults::starting_books;
    use job::demo::demo;
    use job::pin::Pin;
    use job::time::{instant, local};

    /// A load-in that holds nothing up: an earlier start alone makes the demo sure.
    fn early() -> Job {
        let (mut job, _) = demo(&starting_books(), "2027-06-12");
        job.times.load_in = "2027-06-12T07:00".into();
        job
    }

    fn chance(job: &Job) -> Chance {
        plan_at(job, None, Depth::Preview, &mut Memory::default())
            .chance
            .unwrap()
    }

    /// A task pinned five minutes later is what holds the work: the pin is named, not one more person, and without it an earlier start
    /// makes it sure, as the plan without it says itself.
    #[test]
    fn a_pin_that_holds_the_work_is_named() {
        let mut job = early();
        let plan = plan_at(&job, None, Depth::Preview, &mut Memory::default());
        assert!(plan.chance.as_ref().unwrap().earlier_s > Some(0));
        let zone = job.venue.zone.clone();
        let last = plan.tasks.iter().rev().find(|t| t.id.starts_with("hang"));
        let task = last.unwrap();
        let at = local(task.start_ms.unwrap() + 300_000, &zone).unwrap();
        assert!(instant(&at, &zone).is_ok());
        let pin = Pin {
            task: task.id.clone(),
            at,
            ..Pin::default()
        };
        job.pins.insert("held".into(), pin);
        let held = chance(&job);
        assert_eq!(held.earlier_s, None, "{held:?}");
        let surer = held.surer.unwrap();
        assert_eq!(surer.pins, ["held"]);
        assert!(surer.then_pm >= held.then_pm + WORTH_PM);
        let free = chance(&without(&job, &surer.pins));
        assert_eq!(
            (free.ready_pm, free.earlier_s, free.then_pm),
            (surer.ready_pm, surer.earlier_s, surer.then_pm)
        );
    }

    /// One more person is said where it brings ten days in a hundred, and not where it brings less. Chances by hand.
    #[test]
    fn one_more_person_is_said_where_it_is_worth_it() {
        let job = early();
        let of = |ready_pm: i64, earlier_s: Option<i64>| Chance {
            ready_pm,
            then_pm: ready_pm,
            earlier_s,
            ..Chance::default()
        };
        for (with, worth) in [
            (of(430, None), false),
            (of(499, None), false),
            (of(500, None), true),
            (of(430, Some(1800)), true),
        ] {
            let mut asked = |j: &Job| {
                let more = j.crew.len() > job.crew.len();
                Some(if more { with.clone() } else { of(400, None) })
            };
            let said = surer(&job, &of(400, None), &mut asked);
            assert_eq!(said.is_some(), worth, "{with:?}");
            assert!(said.is_none_or(|s| s.pins.is_empty() && s.ready_pm == with.ready_pm));
        }
        // where an earlier start is enough nothing is tried
        let mut never = |_: &Job| panic!("tried");
        assert_eq!(surer(&job, &of(400, Some(900)), &mut never), None);
    }
}

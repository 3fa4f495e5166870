//! What timed steps say about each person's pace.
//!
//! A step speaks of a person if one person does it and it is known who: the one it was given to, or the one it was planned for who ticked
//! it. What somebody else ticks says nothing of either. The pace is the business's rate over the rate that the step went by: its own rate
//! where enough jobs speak of it ([`super::learn`]), else that of the job. The middle of all readings of a kind of work is the estimate,
//! half of them lie in its spread, and fewer than [`LEAST_READINGS`] say nothing.

use std::collections::BTreeMap;

use job::Job;
use job::site::Crew;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{held, learn, quantile, rate, reading};
use crate::tasks::pace;
use crate::types::{Plan, Step, Task};

/// With fewer readings than this one odd one would be half of what is known.
pub const LEAST_READINGS: usize = 3;

/// A person's pace at one kind of work, as their own steps say.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct OwnPace {
    /// Where the person was copied from: id in the book; empty for one who is in no book.
    pub source: String,
    /// Name, as the last of these jobs has it.
    pub name: String,
    /// The field of the person.
    pub field: String,
    /// The estimate, percent of the rates.
    pub value: i64,
    /// A quarter of the readings lie below this.
    pub low: i64,
    /// A quarter of the readings lie above this.
    pub high: i64,
    /// Jobs that it comes from.
    pub jobs: u32,
    /// Timed steps in them.
    pub steps: u32,
}

/// What is known of one person at one kind of work.
#[derive(Default)]
struct Readings {
    name: String,
    /// Thousandths of a percent.
    values: Vec<i64>,
    jobs: u32,
}

/// Paces that enough readings speak of, by person and kind of work. `jobs` come with their plans.
#[must_use]
pub fn paces(jobs: &[(&Job, &Plan)]) -> Vec<OwnPace> {
    let own: BTreeMap<String, i64> = learn(jobs)
        .into_iter()
        .map(|r| (r.field, r.value))
        .collect();
    let mut all: BTreeMap<(String, String, usize), Readings> = BTreeMap::new();
    for (job, plan) in jobs {
        let mut here: BTreeMap<(String, String, usize), (&str, Vec<i64>)> = BTreeMap::new();
        for step in &plan.steps {
            let Some((person, kind, value)) = of_step(job, plan, step, &own) else {
                continue;
            };
            let name = person.name.trim();
            // one who is in a book stays who they are when their name is written in another way
            let who = if person.source.is_empty() { name } else { "" };
            here.entry((person.source.clone(), who.into(), kind))
                .or_insert((name, Vec::new()))
                .1
                .push(value);
        }
        for (key, (name, values)) in here {
            let known = all.entry(key).or_default();
            known.name = name.into();
            known.jobs = known.jobs.saturating_add(1);
            known.values.extend(values);
        }
    }
    all.retain(|_, known| known.values.len() >= LEAST_READINGS);
    all.into_iter()
        .map(|((source, _, kind), mut known)| {
            let [low, value, high] =
                [1, 2, 3].map(|q| (quantile(&mut known.values, q) + 500) / 1000);
            OwnPace {
                source,
                name: known.name,
                field: pace::FIELDS[kind].into(),
                value,
                low,
                high,
                jobs: known.jobs,
                steps: u32::try_from(known.values.len()).unwrap_or(u32::MAX),
            }
        })
        .collect()
}

/// Who did a step, what kind of work it was, and at which pace, thousandths of a percent.
fn of_step<'a>(
    job: &'a Job,
    plan: &Plan,
    step: &Step,
    own: &BTreeMap<String, i64>,
) -> Option<(&'a Crew, usize, i64)> {
    let (field, value) = reading(job, plan, step)?;
    let kind = pace::kind(step.tasks.first()?)?;
    let tasks = step
        .tasks
        .iter()
        .map(|id| plan.tasks.iter().find(|t| t.id == *id));
    let tasks: Vec<&Task> = tasks.collect::<Option<_>>()?;
    let [planned] = tasks.first()?.who.as_slice() else {
        return None;
    };
    if tasks.iter().any(|t| t.who.as_slice() != [planned.clone()]) {
        return None;
    }
    let person = person(job, step, planned)?;
    // the pace of the one it was planned for is in the planned time already, unless it was pinned
    let paced = tasks.iter().all(|t| !t.pinned);
    let planned = job.crew.get(planned).filter(|_| paced);
    let planned_pct = planned.map_or(100, |p| pace::of(p)[kind]);
    let usual = own.get(field).copied().or_else(|| rate(job, field))?;
    let pace = i128::from(usual) * 1_000_000 * i128::from(planned_pct) / i128::from(value.max(1));
    let pace = i64::try_from(pace).ok()?.clamp(10_000, 400_000);
    Some((person, kind, pace))
}

/// Who did a step: the one it was given to, else the one it was planned for if they ticked it.
fn person<'a>(job: &'a Job, step: &Step, planned: &str) -> Option<&'a Crew> {
    let words = job.assigned.values().filter(|a| a.step == step.id);
    let given = words.max_by_key(|a| (a.turn, a.device.clone()));
    if let Some(given) = given.filter(|a| !a.crew.is_empty()) {
        return job.crew.get(&given.crew);
    }
    let planned = job.crew.get(planned)?;
    let ticked = held(job, &step.id)?.who.trim();
    (ticked == planned.name.trim() && !ticked.is_empty()).then_some(planned)
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::day::Assigned;
    use job::defaults::starting_books;
    use job::demo::demo;
    use job::site::Tick;

    /// The demo job with its stringing timed at so many percent of its plan, ticked by the one it was planned for; all are at that pace.
    fn timed(pct: i64, pace_pct: i64) -> (Job, Plan) {
        let mut job = demo(&starting_books(), "2027-06-12").0;
        for person in job.crew.values_mut() {
            person.string_pct = pace_pct;
        }
        let mut memory = crate::Memory::default();
        let plan = crate::plan_at(&job, None, crate::Depth::Preview, &mut memory);
        let step = plan.steps.iter().find(|s| s.id == "string.arch").unwrap();
        let tick = Tick {
            step: step.id.clone(),
            turn: 1,
            done: true,
            quantity: step.quantity,
            took_s: step.duration_s * pct / 100,
            who: step.who[0].clone(),
            ..Tick::default()
        };
        job.ticks.insert("string.arch~d".into(), tick);
        (job, plan)
    }

    fn found(jobs: &[(Job, Plan)]) -> Vec<OwnPace> {
        let given: Vec<(&Job, &Plan)> = jobs.iter().map(|(j, p)| (j, p)).collect();
        paces(&given)
    }

    fn all(pcts: &[i64]) -> Vec<(Job, Plan)> {
        pcts.iter().map(|p| timed(*p, 100)).collect()
    }

    fn doer((job, plan): &(Job, Plan)) -> String {
        let task = plan.tasks.iter().find(|t| t.id == "string.arch.1").unwrap();
        job.crew[&task.who[0]].name.clone()
    }

    /// By hand: 25 s a cluster timed at 80, 72, 76, 120 and 74 percent are 20, 18, 19, 30 and 18.5 s. Their middle, 19 s, is the business's
    /// own rate; beside it the readings are 95, 105.6, 100, 63.3 and 102.7 percent: the middle is 100, the quarters 95 and 102.7.
    #[test]
    fn the_middle_of_enough_readings_is_the_pace() {
        let jobs = all(&[80, 72, 76, 120, 74]);
        let want = OwnPace {
            source: jobs[0]
                .0
                .crew
                .values()
                .find(|c| c.name == doer(&jobs[0]))
                .unwrap()
                .source
                .clone(),
            name: doer(&jobs[0]),
            field: "string_pct".into(),
            value: 100,
            low: 95,
            high: 103,
            jobs: 5,
            steps: 5,
        };
        assert_eq!(found(&jobs), [want]);
    }

    /// Two readings say nothing, and one odd one among four leaves the pace between its neighbours.
    #[test]
    fn one_odd_reading_moves_nothing_past_its_neighbours() {
        assert_eq!(found(&all(&[80, 80])), []);
        for odd in [21, 50, 300, 499] {
            let value = found(&all(&[95, 100, 105, odd]))[0].value;
            assert!((95..=106).contains(&value), "{odd}: {value}");
        }
    }

    /// Planned at half the pace and done in the planned time is half the pace; the rate of the business stays what it was.
    #[test]
    fn a_pace_that_is_planned_with_is_found_again() {
        let jobs: Vec<(Job, Plan)> = (0..3).map(|_| timed(100, 50)).collect();
        assert_eq!(found(&jobs)[0].value, 50);
    }

    /// What another one ticked says nothing; given to another one it speaks of them.
    #[test]
    fn it_must_be_known_who_did_it() {
        let mut jobs = all(&[100, 100, 100]);
        let planned = doer(&jobs[0]);
        let other = jobs[0].0.crew.iter().find(|(_, c)| c.name != planned);
        let (id, other) = other.map(|(id, c)| (id.clone(), c.name.clone())).unwrap();
        for (job, _) in &mut jobs {
            job.ticks
                .values_mut()
                .for_each(|t| t.who.clone_from(&other));
        }
        assert_eq!(found(&jobs), []);
        for (job, _) in &mut jobs {
            let given = Assigned {
                step: "string.arch".into(),
                turn: 1,
                crew: id.clone(),
                ..Assigned::default()
            };
            job.assigned.insert("string.arch~d".into(), given);
        }
        assert_eq!(found(&jobs)[0].name, other);
    }

    /// Every field is a field of a person, with 100 to start with.
    #[test]
    fn every_pace_is_a_field_of_a_person() {
        let person = serde_json::to_value(Crew::default()).unwrap();
        for (field, value) in pace::FIELDS.iter().zip(pace::of(&Crew::default())) {
            assert_eq!((person[field].as_i64(), value), (Some(100), 100));
        }
    }
}

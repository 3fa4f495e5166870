use super::*;
use job::defaults::starting_books;
use job::demo::demo;

use crate::times::cause::LateWhy;

const MIN: i64 = 60_000;

fn example() -> (Job, Plan) {
    let job = demo(&starting_books(), "2027-06-12").0;
    let plan = crate::plan(&job, None);
    (job, plan)
}

fn tick(job: &mut Job, step: &Step, quantity: i64, at_ms: i64) {
    job.ticks.insert(
        format!("{}~d", step.id),
        Tick {
            step: step.id.clone(),
            device: "d".into(),
            turn: 1,
            done: quantity >= step.quantity,
            quantity,
            at_ms,
            ..Tick::default()
        },
    );
}

/// Everything that is ticked at or before a time, at the planned end of its tasks plus a delay.
fn tick_until(job: &mut Job, plan: &Plan, until_ms: i64, delay_ms: i64) {
    for step in &plan.steps {
        let end = plan
            .tasks
            .iter()
            .filter(|t| step.tasks.contains(&t.id))
            .filter_map(|t| t.end_ms)
            .max();
        if let Some(end) = end.filter(|end| *end <= until_ms) {
            tick(job, step, step.quantity, end + delay_ms);
        }
    }
}

fn of<'a>(live: &'a Live, id: &str) -> &'a LiveTask {
    live.tasks.iter().find(|t| t.task == id).unwrap()
}

#[test]
fn before_the_day_all_is_as_planned() {
    let (job, plan) = example();
    let start = plan.figures.start_by_ms.unwrap();
    let live = live(&job, &plan, start - 3_600_000);
    assert!(!live.begun && !live.over);
    assert_eq!(live.finish_ms, live.planned_ms);
    for (task, went) in plan.tasks.iter().zip(&live.tasks) {
        assert_eq!(
            (went.start_ms, went.late_s),
            (task.start_ms.unwrap(), 0),
            "{}",
            task.id
        );
    }
    let first = plan
        .tasks
        .iter()
        .find(|t| t.start_ms == Some(start))
        .unwrap();
    let next = live.next.iter().find(|n| n.crew == first.who[0]).unwrap();
    assert_eq!(
        (next.title.as_str(), next.start_ms),
        (first.title.as_str(), start)
    );
}

/// In the middle of the hanging: what went before is ticked to the minute, the hanging is half done.
#[test]
fn a_day_that_keeps_time_is_forecast_on_time() {
    let (mut job, plan) = example();
    let hang = plan.tasks.iter().find(|t| t.id == "hang.arch").unwrap();
    let (start, end) = (hang.start_ms.unwrap(), hang.end_ms.unwrap());
    tick_until(&mut job, &plan, start, 0);
    let live = live(&job, &plan, start);
    assert!(live.begun);
    assert_eq!(of(&live, "carry").going, Going::Done);
    assert_eq!(of(&live, "hang.arch").going, Going::ToCome);
    assert_eq!(
        (
            of(&live, "hang.arch").start_ms,
            of(&live, "hang.arch").end_ms
        ),
        (start, end)
    );
    assert_eq!(live.finish_ms, live.planned_ms);
}

/// The van is late: the carrying has not begun half an hour after its latest start, so the hand-over is half an hour later.
#[test]
fn a_late_van_moves_the_finish_by_as_much() {
    let (mut job, plan) = example();
    let carry = plan.tasks.iter().find(|t| t.id == "carry").unwrap();
    assert_eq!(
        carry.slack_s,
        Some(0),
        "the demo's carrying is on the critical chain"
    );
    let start = carry.start_ms.unwrap();
    tick_until(&mut job, &plan, start, 0);
    let live = live(&job, &plan, start + 30 * MIN);
    let went = of(&live, "carry");
    assert_eq!((went.late_s, went.moves), (1800, true));
    assert_eq!(live.finish_ms.unwrap() - live.planned_ms.unwrap(), 30 * MIN);
    assert_eq!(live.late_s, Some(1800));
    assert!(
        live.next
            .iter()
            .all(|n| n.task == "carry" && n.start_ms == start + 30 * MIN)
    );
}

/// Half of a counted step is ticked: half of the time is to go.
#[test]
fn half_a_step_is_half_the_time() {
    let (mut job, plan) = example();
    let task = plan.tasks.iter().find(|t| t.id == "carry").unwrap();
    let start = task.start_ms.unwrap();
    tick_until(&mut job, &plan, start, 0);
    let step = plan.steps.iter().find(|s| s.tasks == ["carry"]).unwrap();
    assert!(step.quantity >= 2);
    tick(&mut job, step, step.quantity / 2, start + 5 * MIN);
    let live = live(&job, &plan, start + 5 * MIN);
    let went = of(&live, "carry");
    let pm = step.quantity / 2 * 1000 / step.quantity;
    assert_eq!((went.going, went.done_pm), (Going::Begun, pm));
    let length = task.end_ms.unwrap() - start;
    assert_eq!(went.end_ms, start + 5 * MIN + length * (1000 - pm) / 1000);
}

/// Nobody ticked the studio's work; the hanging is ticked, so what came before it is over.
#[test]
fn what_must_have_been_done_is_done() {
    let (mut job, plan) = example();
    let hang = plan.tasks.iter().find(|t| t.id == "hang.arch").unwrap();
    let end = hang.end_ms.unwrap();
    for step in plan.steps.iter().filter(|s| s.tasks.contains(&hang.id)) {
        tick(&mut job, step, step.quantity, end);
    }
    let live = live(&job, &plan, end);
    for id in ["carry", "drive", "load", "bag.arch", "string.arch.1"] {
        assert_eq!(of(&live, id).going, Going::Done, "{id}");
    }
    assert_eq!(of(&live, "finish").going, Going::ToCome);
}

#[test]
fn when_all_is_ticked_it_is_over() {
    let (mut job, plan) = example();
    for step in plan.steps.iter().filter(|s| s.phase != Phase::Strike) {
        tick(
            &mut job,
            step,
            step.quantity,
            plan.figures.start_by_ms.unwrap(),
        );
    }
    let end = plan
        .tasks
        .iter()
        .find(|t| t.id == "finish")
        .unwrap()
        .end_ms
        .unwrap();
    let live = live(&job, &plan, end - 60 * MIN);
    assert!(live.over);
    assert!(live.next.iter().all(|n| n.task.is_empty()));
    assert_eq!(live.finish_ms, plan.figures.start_by_ms);
}

/// The same rule as everywhere: the highest turn; of equal turns one that says done.
#[test]
fn a_tick_that_was_taken_back_is_none() {
    let (mut job, plan) = example();
    let carry = plan
        .tasks
        .iter()
        .find(|t| t.id == "carry")
        .unwrap()
        .start_ms
        .unwrap();
    let step = plan.steps.iter().find(|s| s.tasks == ["carry"]).unwrap();
    tick(&mut job, step, step.quantity, carry);
    let back = Tick {
        turn: 2,
        step: step.id.clone(),
        device: "e".into(),
        ..Tick::default()
    };
    job.ticks.insert(format!("{}~e", step.id), back);
    let live = live(&job, &plan, carry);
    assert_eq!(of(&live, "carry").going, Going::ToCome);
}

/// The van is known to come half an hour after the latest start: the forecast says so before that time has come, whether the plan can
/// keep to it or not.
#[test]
fn a_van_that_will_be_late_is_foretold() {
    use job::pin::Pin;
    let (mut job, plan) = example();
    let carry = plan.tasks.iter().find(|t| t.id == "carry").unwrap();
    let start = carry.start_ms.unwrap();
    tick_until(&mut job, &plan, start, 0);
    let at = job::time::local(start + 30 * MIN, &job.venue.zone).unwrap();
    let pin = Pin {
        task: "carry".into(),
        at: at.clone(),
        ..Pin::default()
    };
    job.pins.insert("carry".into(), pin);
    let plan = crate::plan(&job, None);
    assert!(plan.findings.iter().any(|f| f.code == "pin_not_kept"));
    let day = live(&job, &plan, start - 60 * MIN);
    let begins = instant(&at, &job.venue.zone).unwrap();
    assert_eq!(of(&day, "carry").start_ms, begins);
    assert!(day.late_s.unwrap() >= 29 * 60, "{:?}", day.late_s);
    assert!(of(&day, "hang.arch").start_ms > begins);
    // it came early after all: what is begun is not held
    let step = plan.steps.iter().find(|s| s.tasks == ["carry"]).unwrap();
    tick(&mut job, step, 1, start);
    let day = live(&job, &plan, start);
    assert_eq!(of(&day, "carry").going, Going::Begun);
    assert!(of(&day, "carry").end_ms <= carry.end_ms.unwrap());
}

/// The venue opens an hour later than agreed: nothing is foretold to be carried in before.
#[test]
fn nothing_is_foretold_before_the_load_in() {
    let (mut job, _) = example();
    job.times.load_in = "2027-06-12T11:30".into();
    let plan = crate::plan(&job, None);
    let open = instant(&job.times.load_in, &job.venue.zone).unwrap();
    let day = live(&job, &plan, open - 180 * MIN);
    assert_eq!(of(&day, "carry").start_ms, open);
    assert!(day.late_s.unwrap() > 0);
}

/// Ben is ill on the morning: the work is Ada's alone, nothing is left to him, and the forecast is later than before, never earlier.
#[test]
fn one_person_ill_leaves_the_work_to_the_others() {
    let (mut job, plan) = example();
    let carry = plan.tasks.iter().find(|t| t.id == "carry").unwrap();
    let now = carry.start_ms.unwrap();
    tick_until(&mut job, &plan, now, 0);
    let before = live(&job, &plan, now);
    let ben = job
        .crew
        .iter()
        .find(|(_, c)| c.name == "Ben")
        .unwrap()
        .0
        .clone();
    job.crew.get_mut(&ben).unwrap().gone = true;
    let plan = crate::plan(&job, None);
    let day = live(&job, &plan, now);
    assert!(plan.tasks.iter().all(|t| !t.who.contains(&ben)));
    assert_eq!(day.next.len(), 1);
    assert_eq!(day.without, Vec::<String>::new());
    assert!(day.finish_ms.unwrap() > before.finish_ms.unwrap());
    assert!(day.late_s.unwrap() > 0);
    // one pair of hands: no two tasks that are still to come lie over each other
    let mut todo: Vec<(i64, i64)> = day
        .tasks
        .iter()
        .zip(plan.tasks.iter().filter(|t| t.start_ms.is_some()))
        .filter(|(l, t)| {
            l.going == Going::ToCome && t.phase != Phase::Strike && l.end_ms > l.start_ms
        })
        .map(|(l, _)| (l.start_ms, l.end_ms))
        .collect();
    todo.sort_unstable();
    assert!(todo.windows(2).all(|w| w[0].1 <= w[1].0), "{todo:?}");
}

/// Nobody who is left drives: no finish is foretold, and what has no time is named.
#[test]
fn what_nobody_can_do_is_named() {
    let (mut job, _) = example();
    for person in job.crew.values_mut() {
        person.drives = false;
    }
    let plan = crate::plan(&job, None);
    let day = live(&job, &plan, plan.figures.start_by_ms.unwrap_or(0));
    assert!(
        day.without.iter().any(|t| t.starts_with("Drive")),
        "{:?}",
        day.without
    );
    assert_eq!((day.finish_ms, day.late_s, day.over), (None, None, false));
}

/// In the morning of the day, with the van an hour late and nobody at work yet, each thing that is late by itself is said once: what
/// waits for it is no further row.
#[test]
fn what_follows_from_one_late_thing_is_no_cause() {
    use job::pin::Pin;
    let (mut job, plan) = example();
    let carry = plan.tasks.iter().find(|t| t.id == "carry").unwrap();
    let start = plan.figures.start_by_ms.unwrap();
    // before the day nothing is late, and nothing runs
    let day = live(&job, &plan, start - 60 * MIN);
    assert_eq!((day.running, day.causes.as_slice()), (false, &[][..]));
    // half an hour after the planned start nobody has begun
    let day = live(&job, &plan, start + 30 * MIN);
    assert!(day.running && !day.begun);
    let late = day.tasks.iter().filter(|t| t.late_s > 0).count();
    assert!(late > 5, "{late}");
    assert!(
        (1..=job.crew.len()).contains(&day.causes.len()),
        "no more than one for each person: {:?}",
        day.causes
    );
    assert!(day.causes.iter().all(|c| c.why == LateWhy::NotBegun));
    // all is done but the van comes an hour late
    let at = carry.start_ms.unwrap();
    tick_until(&mut job, &plan, at, 0);
    let pin = Pin {
        task: "carry".into(),
        at: job::time::local(at + 60 * MIN, &job.venue.zone).unwrap(),
        ..Pin::default()
    };
    job.pins.insert("carry".into(), pin);
    let day = live(&job, &plan, at - MIN);
    let causes: Vec<(&str, LateWhy)> = day
        .causes
        .iter()
        .map(|c| (c.task.as_str(), c.why))
        .collect();
    assert_eq!(causes, [("carry", LateWhy::Held)]);
    // what is done, and was done late, is named as well: nothing that is still to do is late by itself
    let mut job = example().0;
    tick_until(&mut job, &plan, carry.end_ms.unwrap(), 0);
    let step = plan.steps.iter().find(|s| s.tasks == ["carry"]).unwrap();
    tick(
        &mut job,
        step,
        step.quantity,
        carry.end_ms.unwrap() + 20 * MIN,
    );
    let day = live(&job, &plan, carry.end_ms.unwrap() + 20 * MIN);
    let causes: Vec<(&str, LateWhy, i64)> = (day.causes.iter())
        .map(|c| (c.task.as_str(), c.why, c.late_s))
        .collect();
    assert_eq!(causes, [("carry", LateWhy::DoneLate, 1200)]);
}

/// Half an hour ahead in the studio: nobody waits for the time on paper, but the van does not come before the venue opens, and nobody is
/// asked beyond their hours.
#[test]
fn whoever_is_free_goes_on() {
    let (mut job, plan) = example();
    let start = plan.figures.start_by_ms.unwrap();
    let now = start + 45 * MIN;
    tick_until(&mut job, &plan, now + 30 * MIN, -30 * MIN);
    let planned = |id: &str| {
        plan.tasks
            .iter()
            .find(|t| t.id == id)
            .unwrap()
            .start_ms
            .unwrap()
    };
    let to_come = |day: &Live| -> Vec<LiveTask> {
        let open = day.tasks.iter().filter(|t| t.going == Going::ToCome);
        open.cloned().collect()
    };
    let day = live(&job, &plan, now);
    let sooner = to_come(&day)
        .iter()
        .filter(|t| t.start_ms < planned(&t.task))
        .count();
    assert!(sooner > 8, "{sooner} moved forward");
    assert!(to_come(&day).iter().all(|t| t.start_ms <= planned(&t.task)));
    assert!(day.late_s.unwrap() < -15 * 60, "{:?}", day.late_s);
    // the next of each is what is ready now
    assert!(day.next.iter().any(|n| n.start_ms == now), "{:?}", day.next);

    // the same ticked a day beforehand: what is left stays on its day
    let (mut beforehand, then) = (job.clone(), now - 24 * 60 * MIN);
    for tick in beforehand.ticks.values_mut() {
        tick.at_ms = then;
    }
    let early = live(&beforehand, &plan, then);
    assert!(early.running);
    for task in to_come(&early) {
        assert_eq!(task.start_ms, planned(&task.task), "{}", task.task);
    }

    // the venue opens when the plan carries in: what is before it still moves, the van does not
    let carry = planned("carry");
    job.times.load_in = job::time::local(carry, &job.venue.zone).unwrap();
    let day = live(&job, &plan, now);
    for id in ["load", "drive", "carry"] {
        // the load-in is written to the minute
        assert!(planned(id) - of(&day, id).start_ms < MIN, "{id}");
    }
    assert!(to_come(&day).iter().any(|t| t.start_ms < planned(&t.task)));

    // hours are over: what is planned for later stays there
    for person in job.crew.values_mut() {
        (person.from_min, person.to_min) = (0, 1);
    }
    let day = live(&job, &plan, now);
    assert!(to_come(&day).iter().all(|t| t.start_ms >= planned(&t.task)));
}

/// Twenty minutes behind: who has nothing to wait for begins now, though the plan could let it wait.
#[test]
fn behind_nobody_is_told_to_wait() {
    let (mut job, plan) = example();
    let start = plan.figures.start_by_ms.unwrap();
    let now = start + 30 * MIN;
    tick_until(&mut job, &plan, start + 10 * MIN, 20 * MIN);
    let day = live(&job, &plan, now);
    let pump = plan.tasks.iter().find(|t| t.id == "pump.arch.1").unwrap();
    assert!(pump.start_ms.unwrap() > now, "the plan lets it wait");
    assert_eq!(of(&day, "pump.arch.1").start_ms, now);
}

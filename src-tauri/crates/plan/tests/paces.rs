//! People who are faster or slower than the rates: how long work takes with them, and that nothing begins later for it.
#![expect(clippy::unwrap_used, reason = "a test may stop")]

use job::Job;
use job::defaults::starting_books;
use job::demo::demo;
use plan::tasks::pace::{kind, of};
use plan::types::Task;
use plan::{Depth, Memory, Plan, plan_at};
use proptest::prelude::*;

fn weekend() -> Job {
    demo(&starting_books(), "2027-06-12").0
}

fn planned(job: &Job) -> Plan {
    plan_at(job, None, Depth::Instant, &mut Memory::default())
}

fn task<'a>(plan: &'a Plan, id: &str) -> &'a Task {
    plan.tasks.iter().find(|t| t.id == id).unwrap()
}

/// Everybody at half the pace in the room: what is done there takes twice as long, all else as long as ever, and every sum of terms holds.
#[test]
fn half_the_pace_is_twice_the_time() {
    let usual = planned(&weekend());
    let mut job = weekend();
    for person in job.crew.values_mut() {
        person.room_pct = 50;
    }
    let slow = planned(&job);
    let mut seen = 0;
    for before in &usual.tasks {
        let after = task(&slow, &before.id);
        // taking down is agreed by its start and has no pace
        let times = if kind(&before.id) == Some(2) { 2 } else { 1 };
        seen += times - 1;
        assert_eq!(after.duration_s, before.duration_s * times, "{}", before.id);
        assert_eq!(after.work_s, before.work_s * times, "{}", before.id);
        let terms: i64 = after.terms.iter().map(|t| t.value).sum();
        assert_eq!(terms, after.work_s, "{}", before.id);
    }
    assert!(seen > 3);
    assert!(slow.figures.start_by_ms < usual.figures.start_by_ms);
}

/// By hand: of two who blow, one twice as fast as the rates and one at half their pace, 60 min are 30 and 120 min; what the two carry
/// together at 100 and 50 percent takes 100 × 2 / 150 of its usual time, and the vehicle drives no faster for it.
#[test]
fn paces_of_two_add_up() {
    let usual = planned(&weekend());
    let mut job = weekend();
    let ids: Vec<String> = job.crew.keys().cloned().collect();
    assert_eq!(ids.len(), 2);
    let set = |job: &mut Job, id: &str, blow, carry| {
        let person = job.crew.get_mut(id).unwrap();
        (person.blow_pct, person.carry_pct) = (blow, carry);
    };
    set(&mut job, &ids[0], 200, 100);
    set(&mut job, &ids[1], 50, 50);
    let plan = planned(&job);
    for before in &usual.tasks {
        let after = task(&plan, &before.id);
        let want = match (kind(&before.id), after.who.as_slice()) {
            (Some(0), [one]) if *one == ids[0] => (before.duration_s + 1) / 2,
            (Some(0), [_]) => before.duration_s * 2,
            (Some(3), [_, _]) => (before.duration_s * 200 + 149) / 150,
            (Some(3), [one]) if *one == ids[1] => before.duration_s * 2,
            _ => before.duration_s,
        };
        assert_eq!(after.duration_s, want, "{}", before.id);
    }
}

/// A task that is pinned takes as long as usual, and begins when it was pinned.
#[test]
fn what_is_pinned_stays() {
    let mut job = weekend();
    let before = planned(&job);
    let hang = before
        .tasks
        .iter()
        .find(|t| t.id.starts_with("hang."))
        .unwrap();
    let at = job::time::local(hang.start_ms.unwrap() - 600_000, &job.venue.zone).unwrap();
    let pin = job::pin::Pin {
        task: hang.id.clone(),
        at: at.clone(),
        ..job::pin::Pin::default()
    };
    job.pins.insert("p".into(), pin);
    for person in job.crew.values_mut() {
        person.room_pct = 150;
    }
    let plan = planned(&job);
    let now = task(&plan, &hang.id);
    let start = job::time::local(now.start_ms.unwrap(), &job.venue.zone).unwrap();
    assert_eq!(
        (start, now.duration_s, now.pinned),
        (at, hang.duration_s, true)
    );
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    /// Nobody is faster than the rates: nothing begins later than what is proved for those who are as fast. Debug builds check every
    /// schedule besides.
    #[test]
    fn slower_people_never_begin_later(paces in prop::collection::vec(10i64..=100, 8)) {
        let usual = planned(&weekend());
        let mut job = weekend();
        for (person, paces) in job.crew.values_mut().zip(paces.chunks(4)) {
            (person.blow_pct, person.string_pct) = (paces[0], paces[1]);
            (person.room_pct, person.carry_pct) = (paces[2], paces[3]);
            prop_assert_eq!(of(person).to_vec(), paces.to_vec());
        }
        let plan = planned(&job);
        let latest = usual.figures.start_by_ms.unwrap() + usual.figures.start_gap_s.unwrap() * 1000;
        if let Some(start) = plan.figures.start_by_ms {
            prop_assert!(start <= latest);
        }
        for task in &plan.tasks {
            let terms: i64 = task.terms.iter().map(|t| t.value).sum();
            prop_assert_eq!(terms, task.work_s, "{}", task.id);
        }
    }
}

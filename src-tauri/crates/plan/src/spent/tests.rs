//! Hours and goods by hand.

use super::*;
use crate::types::{OrderLine, Price, Task};
use job::money::{Cost, Used};

fn plan() -> Plan {
    let task = |phase, work_s| Task {
        phase,
        work_s,
        ..Task::default()
    };
    let step = |id: &str, phase, duration_s, who: &[&str]| Step {
        id: id.into(),
        phase,
        duration_s,
        who: who.iter().map(ToString::to_string).collect(),
        ..Step::default()
    };
    Plan {
        tasks: vec![
            task(Phase::Prepare, 7200),
            task(Phase::Load, 1800),
            task(Phase::Install, 3600),
        ],
        steps: vec![
            step("blow", Phase::Prepare, 3000, &["Ada"]),
            step("tie", Phase::Prepare, 600, &["Ada", "Ben"]),
            step("look", Phase::Prepare, 0, &[]),
            step("hang", Phase::Install, 1800, &["Ada", "Ben"]),
        ],
        order: vec![
            OrderLine {
                item: "a".into(),
                need: 90,
                spares: 10,
                ..OrderLine::default()
            },
            OrderLine {
                item: "b".into(),
                need: 5,
                ..OrderLine::default()
            },
        ],
        price: Some(Price {
            net_cents: 50_000,
            goods_cost_cents: 1_050,
            ..Price::default()
        }),
        ..Plan::default()
    }
}

fn tick(job: &mut Job, step: &str, device: &str, turn: i64, done: bool, took_s: i64) {
    job.ticks.insert(
        format!("{step}~{device}"),
        Tick {
            step: step.into(),
            device: device.into(),
            turn,
            done,
            took_s,
            ..Tick::default()
        },
    );
}

fn private() -> Private {
    let cost = |bag, cents| Cost { bag, cents };
    Private {
        costs: [("a", cost(100, 1000)), ("b", cost(1, 10))]
            .map(|(id, c)| (id.to_string(), c))
            .into(),
        ..Private::default()
    }
}

/// 3600 s were timed for 3000 s planned in `blow`, by one; 700 s on one clock for two people in `tie`, 1200 s planned: 5000 for 4200. The
/// phase was planned with 7200 s: 8571 (8571.4).
#[test]
fn what_was_timed_is_taken_to_the_whole_phase() {
    let mut job = Job::default();
    tick(&mut job, "blow", "x", 1, true, 3600);
    tick(&mut job, "tie", "x", 1, true, 700);
    tick(&mut job, "look", "x", 1, true, 900);
    let actual = actual(&job, &private(), &plan());
    let rows: Vec<_> = actual
        .phases
        .iter()
        .map(|p| (p.phase.as_str(), p.took_s, p.from, p.timed, p.steps))
        .collect();
    assert_eq!(
        rows,
        [
            ("prepare", 8571, HoursFrom::Timed, 2, 2),
            ("travel", 1800, HoursFrom::Planned, 0, 0),
            ("install", 3600, HoursFrom::Planned, 0, 1),
            ("strike", 0, HoursFrom::Planned, 0, 0),
        ]
    );
    assert_eq!((actual.planned_s, actual.took_s), (12_600, 13_971));
    // 489.50 left in 13 971 s: 126.13 an hour
    assert_eq!(actual.left_cents, 48_950);
    assert_eq!(actual.hour_cents, Some(12_613));
    assert_eq!(actual.margin_pm, Some(979));
}

#[test]
fn two_devices_at_one_step_timed_two_people_and_a_tick_taken_back_counts_for_nothing() {
    let mut job = Job::default();
    tick(&mut job, "hang", "x", 1, true, 2000);
    tick(&mut job, "hang", "y", 2, true, 2200);
    // 4200 s for 3600 planned
    let at = |job: &Job| actual(job, &private(), &plan()).phases[2].took_s;
    assert_eq!(at(&job), 4200);
    tick(&mut job, "hang", "y", 3, false, 2200);
    assert_eq!(at(&job), 3600);
}

#[test]
fn typed_hours_and_counted_goods_come_first() {
    let mut private = private();
    private.spent.prepare_min = 150;
    private.used.insert("a".into(), Used { units: 120 });
    let one = actual(&Job::default(), &private, &plan());
    assert_eq!(
        (one.phases[0].took_s, one.phases[0].from),
        (9000, HoursFrom::Typed)
    );
    // 120 of 100 for 10.00, and 5 at 0.10 as planned
    assert_eq!(one.goods_cents, 1_250);
    private.spent.goods_cents = 2_000;
    private.spent.other_cents = 500;
    let two = actual(&Job::default(), &private, &plan());
    assert_eq!((two.goods_cents, two.left_cents), (2_000, 47_500));
}

fn history(rows: &[(i64, i64, i64, i64)]) -> Vec<Settled> {
    rows.iter()
        .enumerate()
        .map(|(n, (planned_s, took_s, net_cents, metres_mm))| Settled {
            id: format!("j{n}"),
            name: String::new(),
            currency: "EUR".into(),
            spent: Spent {
                settled_ms: 1,
                planned_s: *planned_s,
                took_s: *took_s,
                net_cents: *net_cents,
                cost_cents: 10_000,
                metres_mm: *metres_mm,
                ..Spent::default()
            },
        })
        .collect()
}

/// Middle of 1.1, 1.2 and 1.5 is 1.2; of 90, 75 and 40 an hour 75.
#[test]
fn advice_is_the_middle_of_the_jobs() {
    let actual = actual(&Job::default(), &private(), &plan());
    let three = history(&[
        (36_000, 39_600, 109_000, 5000),
        (36_000, 43_200, 100_000, 0),
        (36_000, 54_000, 70_000, 7000),
    ]);
    let advice = advice(&private(), &actual, &three, "this").expect("three jobs");
    assert_eq!((advice.jobs, advice.hours_pm), (3, 1200));
    assert_eq!(advice.hour_cents, 7_500);
    // 218.00 and 100.00 a metre: the mean of two
    assert_eq!(advice.metre_cents, Some(15_900));
    // 12 600 s become 15 120; 2520 s more at 32.00 an hour are 22.40
    assert_eq!((advice.expected_s, advice.net_cents), (15_120, 52_240));
}

#[test]
fn two_jobs_or_the_job_itself_teach_nothing() {
    let actual = actual(&Job::default(), &private(), &plan());
    let rows = history(&[(1, 1, 1, 0), (1, 1, 1, 0), (1, 1, 1, 0)]);
    assert_eq!(advice(&private(), &actual, &rows[..2], ""), None);
    assert_eq!(advice(&private(), &actual, &rows, "j1"), None);
    assert!(advice(&private(), &actual, &rows, "").is_some());
    // yen and euros were once thrown together
    let mut yen = rows;
    yen[0].currency = "JPY".into();
    assert_eq!(advice(&private(), &actual, &yen, ""), None);
}

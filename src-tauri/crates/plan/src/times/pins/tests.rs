use super::*;
use crate::types::{Plan, Task};
use job::defaults::starting_books;
use job::demo::demo;
use job::pin::{Pin, pin_id};

fn planned(pins: &[(&str, &str)]) -> (Plan, Vec<Finding>) {
    let mut job = demo(&starting_books(), "2027-06-12").0;
    for (task, at) in pins {
        let pin = Pin {
            task: (*task).into(),
            at: (*at).into(),
            ..Pin::default()
        };
        job.pins.insert(pin_id(task), pin);
    }
    let plan = crate::plan_at(
        &job,
        None,
        crate::Depth::Preview,
        &mut crate::Memory::default(),
    );
    let about = |f: &&Finding| f.code.contains("pin") || f.code == "no_time";
    let found = plan.findings.iter().filter(about).cloned().collect();
    (plan, found)
}

fn task<'a>(plan: &'a Plan, id: &str) -> &'a Task {
    plan.tasks.iter().find(|t| t.id == id).unwrap()
}

/// The wall clock in London in June.
fn clock(ms: Option<i64>) -> String {
    local(ms.unwrap(), "Europe/London").unwrap()
}

#[test]
fn a_pinned_task_stands_where_it_was_pinned_and_what_leads_to_it_makes_room() {
    let (free, _) = planned(&[]);
    let hang = task(&free, "hang.arch");
    assert!(!hang.pinned);
    // half an hour before its own place
    let early = clock(hang.start_ms.map(|ms| ms - 30 * 60_000));
    let (plan, found) = planned(&[("hang.arch", &early)]);
    let pinned = task(&plan, "hang.arch");
    assert_eq!(found, []);
    assert_eq!((clock(pinned.start_ms), pinned.pinned), (early, true));
    assert_eq!(
        (pinned.early_ms, pinned.late_ms, pinned.slack_s),
        (pinned.start_ms, pinned.start_ms, Some(0))
    );
    assert!(task(&plan, "carry").end_ms <= pinned.start_ms);
    assert!(task(&plan, "finish").end_ms <= task(&free, "finish").end_ms);
}

#[test]
fn the_pinned_start_holds_the_first_work() {
    let (free, _) = planned(&[]);
    // a pin is a whole minute
    let early = (free.figures.start_by_ms.unwrap() / 60_000 - 20) * 60_000;
    let (plan, found) = planned(&[(START, &clock(Some(early)))]);
    assert_eq!(found, []);
    assert_eq!(plan.figures.start_by_ms, Some(early));
}

/// What cannot be kept is let go with its reason, all other pins hold, and everything has a time.
#[test]
fn what_cannot_be_kept_says_why() {
    let (free, _) = planned(&[]);
    for (at, why) in [
        ("2027-06-12T13:20", "it would end "),
        ("2027-06-12T03:00", "nobody works at that time"),
    ] {
        let keep = clock(task(&free, "carry").start_ms.map(|ms| ms - 10 * 60_000));
        let (plan, found) = planned(&[("hang.arch", at), ("carry", &keep)]);
        assert_eq!(found.len(), 1, "{found:#?}");
        assert_eq!(found[0].code, "pin_not_kept");
        assert!(found[0].message.contains(why), "{}", found[0].message);
        assert_eq!(found[0].fixes[0].edits, off("hang-arch"));
        assert!(!task(&plan, "hang.arch").pinned);
        assert_eq!(clock(task(&plan, "carry").start_ms), keep);
        assert!(plan.tasks.iter().all(|t| t.start_ms.is_some()));
    }
}

/// The carrying in cannot come after the hanging that waits for it.
#[test]
fn pins_against_the_order_of_the_work() {
    let (free, _) = planned(&[]);
    let late = clock(task(&free, "hang.arch").end_ms);
    let (plan, found) = planned(&[("carry", &late)]);
    assert_eq!(found.len(), 1, "{found:#?}");
    assert!(
        found[0].message.contains("what comes after it"),
        "{}",
        found[0].message
    );
    assert_eq!(task(&plan, "carry").start_ms, task(&free, "carry").start_ms);
}

#[test]
fn a_pin_without_its_task_is_told_and_changes_nothing() {
    let (free, _) = planned(&[]);
    let (plan, found) = planned(&[("hang.nowhere", "2027-06-12T10:00")]);
    assert_eq!(
        found.iter().map(|f| f.code.as_str()).collect::<Vec<_>>(),
        ["pin_without_task"]
    );
    assert_eq!(plan.tasks, free.tasks);
}

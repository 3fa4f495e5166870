//! The crew pack that is made while the day runs tells the day, not the plan it was made from.

#![allow(clippy::expect_used, reason = "a test that cannot go on must stop")]

use job::defaults::starting_books;
use job::demo::demo;
use job::pin::Pin;
use job::site::Tick;
use papers::{Sheet, crew_pack};

const MIN: i64 = 60_000;

fn text(job: &job::Job, plan: &plan::Plan, now_ms: Option<i64>) -> String {
    let sheet = Sheet {
        language: "en-GB".into(),
        made_on: "2027-06-12 09:00".into(),
        now_ms,
        ..Sheet::default()
    };
    let paper = crew_pack(job, plan, &sheet).expect("a paper");
    paper.text[0].clone()
}

/// Once the pack of a late day printed the times and the chance of the plan, while the screen said otherwise.
#[test]
fn a_late_day_is_told_late() {
    let (mut job, _) = demo(&starting_books(), "2027-06-12");
    let plan = plan::plan(&job, None);
    let carry = plan.tasks.iter().find(|t| t.id == "carry").expect("carry");
    let (carry_ms, start) = (
        carry.start_ms.expect("a time"),
        plan.figures.start_by_ms.expect("a start"),
    );
    let planned = text(&job, &plan, None);
    assert!(planned.contains("days in 100"), "{planned}");
    assert_eq!(
        text(&job, &plan, Some(start - 60 * MIN)),
        planned,
        "the day has not begun"
    );

    // in the road: what comes before is done, and unloading is agreed for an hour later
    let now = carry_ms - 10 * MIN;
    for step in &plan.steps {
        let of_step = plan.tasks.iter().filter(|t| step.tasks.contains(&t.id));
        if of_step
            .filter_map(|t| t.end_ms)
            .max()
            .is_some_and(|end| end <= now)
        {
            let tick = Tick {
                step: step.id.clone(),
                turn: 1,
                done: true,
                quantity: step.quantity,
                at_ms: now,
                ..Tick::default()
            };
            job.ticks.insert(format!("{}~d", step.id), tick);
        }
    }
    let later = job::time::local(carry_ms + 60 * MIN, &job.venue.zone).expect("a time");
    job.pins.insert(
        "k".into(),
        Pin {
            task: "carry".into(),
            at: later.clone(),
            ..Pin::default()
        },
    );
    let told = text(&job, &plan, Some(now));
    for words in [
        "The day as it stood at",
        "later than agreed",
        "All times on this sheet are from then",
    ] {
        assert!(told.contains(words), "{words}: {told}");
    }
    assert!(
        told.contains(&format!("{}: not before {}", carry.title, &later[11..])),
        "{told}"
    );
    assert!(told.contains("done"), "{told}");
    assert!(!told.contains("days in 100"), "{told}");
    // Ada and Ben carry in at the later time
    let row = told
        .lines()
        .find(|l| l.contains(&carry.title) && l.contains(&later[11..]));
    assert!(
        row.is_some() || told.contains(&format!("{}\n{}", &later[11..], carry.title)),
        "{told}"
    );
}

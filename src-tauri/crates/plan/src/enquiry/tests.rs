use super::*;
use job::Stage;
use job::defaults::starting_books;
use job::demo::demo;
use job::quick::{Quick, QuickWhat, quick_job};

fn on(day: &str) -> (Job, Private) {
    demo(&starting_books(), day)
}

fn planned(job: &Job) -> Plan {
    plan_at(job, None, Depth::Preview, &mut Memory::default())
}

/// A wall of balloons asked for on the telephone: two or three hours of work.
fn call(ready_by: &str) -> (Job, Private) {
    let quick = Quick {
        what: QuickWhat::Columns,
        ready_by: ready_by.into(),
        ..Quick::default()
    };
    quick_job(&starting_books(), &quick, "")
}

fn ask(job: &Job, private: &Private, others: &[&Job]) -> Enquiry {
    let plans: Vec<Plan> = others.iter().map(|job| planned(job)).collect();
    let others: Vec<(&Job, &Plan)> = others.iter().copied().zip(&plans).collect();
    let asked = Asked {
        job,
        private: Some(private),
        others: &others,
        depth: Depth::Preview,
    };
    enquiry(&asked, &mut Memory::default())
}

/// The edits, made on the document as the store would.
fn made(job: &Job, edits: &[Edit]) -> Job {
    let mut doc = serde_json::to_value(job).unwrap();
    for edit in edits {
        match edit {
            Edit::Add {
                path, id, value, ..
            } => doc[&path[0]][id] = job::complete::complete(path, value).unwrap(),
            Edit::Remove { path, id, .. } => doc[&path[0]][id]["gone"] = true.into(),
            Edit::Set { path, value, .. } => doc[&path[0]][&path[1]] = value.clone(),
            other => panic!("{other:?}"),
        }
    }
    serde_json::from_value(doc).unwrap()
}

#[test]
fn a_free_weekend_is_a_yes() {
    let (job, private) = call("2027-06-12T14:00");
    for others in [vec![], vec![on("2027-06-19").0]] {
        let others: Vec<&Job> = others.iter().collect();
        let said = ask(&job, &private, &others);
        assert_eq!(said.answer, Answer::Yes, "{:?}", said.against);
        assert!(said.ways.is_empty() && said.taken.is_empty());
        assert!(said.start_by_ms.is_some() && said.work_s > 0 && said.ready_pm.is_some());
        assert!(said.people.iter().all(|p| p.at.is_empty()));
    }
}

#[test]
fn without_a_day_or_people_nothing_can_be_said() {
    let (job, private) = call("");
    assert_eq!(ask(&job, &private, &[]).answer, Answer::Unknown);
    let (mut job, private) = call("2027-06-12T14:00");
    job.crew.clear();
    assert_eq!(ask(&job, &private, &[]).answer, Answer::Unknown);
}

/// In the afternoon of the demo: its people and its van are wanted in part at the same hours. What is offered holds: the edits lead to
/// a job that clashes with nobody.
#[test]
fn the_way_around_another_job_takes_nobody_from_it() {
    let other = on("2027-06-12").0;
    let (job, private) = call("2027-06-12T15:15");
    let said = ask(&job, &private, &[&other]);
    assert_eq!(said.answer, Answer::YesIf, "{said:?}");
    assert!(!said.taken.is_empty() && said.taken.iter().all(|c| (c.one, c.other) == (0, 1)));
    let ada = said.people.iter().find(|p| p.name == "Ada").unwrap();
    assert!(!ada.at.is_empty());
    for way in &said.ways {
        let changed = made(&job, &way.edits);
        let plan = planned(&changed);
        assert_eq!(plan.figures.start_by_ms, way.start_by_ms, "{}", way.code);
        let theirs = planned(&other);
        let left = clashes(&[(&changed, &plan), (&other, &theirs)]);
        assert!(
            left.iter().all(|c| c.kind != Wanted::Person),
            "{}: {left:?}",
            way.code
        );
        let hire: Vec<&str> = way.hire.iter().map(|c| c.name.as_str()).collect();
        let wanted: Vec<&str> = left.iter().map(|c| c.name.as_str()).collect();
        assert_eq!(hire, wanted);
        assert!(against(&plan).is_empty());
    }
    // a job that is off takes nothing
    let mut off = other.clone();
    off.stage = Stage::Postponed;
    assert_eq!(ask(&job, &private, &[&off]).answer, Answer::Yes);
}

/// The same hours as the demo: both of its people are at the demo's venue, so others have to come.
#[test]
fn at_the_same_hour_others_have_to_come() {
    let other = on("2027-06-12").0;
    let (job, private) = call("2027-06-12T13:30");
    let said = ask(&job, &private, &[&other]);
    assert_eq!(said.answer, Answer::YesIf, "{said:?}");
    let way = said.ways.iter().find(|w| w.code == "more_people").unwrap();
    assert_eq!(way.without, ["Ada", "Ben"]);
    assert!(way.n >= 1 && !way.hire.is_empty(), "{way:?}");
    let changed = made(&job, &way.edits);
    let extra = changed
        .crew
        .values()
        .filter(|c| c.name == "One more")
        .count();
    assert_eq!(i64::try_from(extra).unwrap(), way.n);
}

/// More work than any three more people can do between load-in and ready-by is a no, with its reason.
#[test]
fn what_cannot_be_done_is_a_no() {
    let (mut job, private) = call("2027-06-12T14:00");
    job.times.load_in = "2027-06-12T13:55".into();
    let said = ask(&job, &private, &[]);
    // a load-in can be asked for earlier: that is the way, by as much as it is short
    assert_eq!(
        said.ways.first().map(|w| w.code.as_str()),
        Some("earlier_load_in"),
        "{said:?}"
    );
    let way = &said.ways[0];
    assert!(way.n > 0 && way.n % STEP_MIN == 0);
    assert!(against(&planned(&made(&job, &way.edits))).is_empty());
    // people who may not work at all before the day is over
    for person in job.crew.values_mut() {
        (person.from_min, person.to_min) = (1435, 1440);
    }
    let said = ask(&job, &private, &[]);
    assert_eq!(said.answer, Answer::No, "{said:?}");
    assert!(!said.against.is_empty());
}

/// Added up by hand from the job's own figures: goods at cost, hours times the rate, the way, and tax on all of it.
#[test]
fn the_floor_is_goods_hours_and_way() {
    let (job, mut private) = on("2027-06-12");
    private.prices.labour_h_cents = 3000;
    private.prices.tax_bp = 2000;
    let plan = plan_at(&job, Some(&private), Depth::Preview, &mut Memory::default());
    let said = ask(&job, &private, &[]);
    let price = plan.price.unwrap();
    let paid: i64 = price
        .lines
        .iter()
        .filter(|l| {
            matches!(
                l.kind,
                crate::types::PriceKind::Travel | crate::types::PriceKind::Fee
            )
        })
        .map(|l| l.cents)
        .sum();
    let hours = (plan.figures.work_s as f64 / 3600.0 * 3000.0).round() as i64;
    let net = price.goods_cost_cents + hours + paid;
    let gross = (net as f64 * 1.2).round() as i64;
    assert_eq!(said.floor_cents, Some(gross));
    assert_eq!(said.price_cents, Some(price.gross_cents));
    let crew = Asked {
        job: &job,
        private: None,
        others: &[],
        depth: Depth::Preview,
    };
    let crew = enquiry(&crew, &mut Memory::default());
    assert_eq!((crew.floor_cents, crew.price_cents), (None, None));
}

#[test]
fn spans_close_together_are_one() {
    let h = 3_600_000;
    assert_eq!(
        joined(&[(5 * h, 6 * h), (0, 2 * h), (2 * h + 1, 3 * h)]),
        [(0, 3 * h), (5 * h, 6 * h)]
    );
}

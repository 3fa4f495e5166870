//! Every drive is a task: out for each trip, back for the next, home after the hand-over, and there and home for taking down.
#![expect(clippy::unwrap_used, reason = "a test may stop")]

use job::Job;
use job::defaults::starting_books;
use job::demo::demo;
use plan::types::{Phase, Task};
use plan::{Depth, Memory, Plan, plan_at};

const MIN: i64 = 60_000;

/// The demo job with 20 min to drive and a vehicle in which the garland's bags go one after the other.
fn with(change: impl FnOnce(&mut Job)) -> Plan {
    let mut job = demo(&starting_books(), "2027-06-12").0;
    job.drive.minutes = 20;
    change(&mut job);
    plan_at(&job, None, Depth::Preview, &mut Memory::default())
}

fn small(job: &mut Job) {
    job.vehicle.length_mm = 1900;
    job.vehicle.width_mm = 1300;
    job.vehicle.height_mm = 1100;
    job.vehicle.blocked.clear();
}

fn task<'a>(plan: &'a Plan, id: &str) -> &'a Task {
    plan.tasks.iter().find(|t| t.id == id).unwrap()
}

/// Each trip is loaded, driven and carried in before the vehicle goes back for the next; only the first takes everybody along; what
/// a piece needs of a later trip it waits for.
#[test]
fn trips_are_driven_one_after_the_other() {
    let plan = with(small);
    let trips = plan.load.rounds;
    assert!(trips > 1, "{trips}");
    let mut last = i64::MIN;
    let mut parcels = 0;
    for n in 1..=trips {
        let id = |work: &str| {
            if n == 1 {
                work.to_string()
            } else {
                format!("{work}.{n}")
            }
        };
        let mut works = vec!["load", "drive", "carry"];
        if n > 1 {
            works.insert(0, "back");
        }
        for work in works {
            let t = task(&plan, &id(work));
            assert!(t.start_ms.unwrap() >= last, "{}", t.id);
            last = t.end_ms.unwrap();
            if ["back", "drive"].contains(&work) {
                assert_eq!(t.duration_s, 20 * 60, "{}", t.id);
                assert!(n == 1 || t.people < 3, "{}", t.id);
            }
            if work == "load" {
                let label = &t.terms[0].label;
                parcels += label.split(' ').next().unwrap().parse::<usize>().unwrap();
            }
        }
    }
    assert_eq!(parcels, plan.load.parcels.len());
    let trip_of = |piece: &str| {
        let of = plan.load.parcels.iter().filter(|p| p.piece == piece);
        of.filter_map(|p| p.stow.as_ref()).map(|s| s.trip).max()
    };
    for hang in plan.tasks.iter().filter(|t| t.id.starts_with("hang.")) {
        let comes = match trip_of(&hang.piece) {
            Some(n) if n > 1 => format!("carry.{n}"),
            _ => "carry".into(),
        };
        assert!(hang.after.contains(&comes), "{}: {:?}", hang.id, hang.after);
    }
}

/// One vehicle that takes all goes once, and its tasks have their plain names.
#[test]
fn one_trip_stays_one() {
    let plan = with(|_| {});
    assert_eq!(plan.load.rounds, 1);
    assert!(!plan.tasks.iter().any(|t| t.id.starts_with("back")));
    assert_eq!(task(&plan, "drive").title, "Drive to the venue");
}

fn back(plan: &Plan) -> Vec<(&str, i64, i64)> {
    plan.tasks
        .iter()
        .filter(|t| t.phase == Phase::Return)
        .map(|t| (t.id.as_str(), t.start_ms.unwrap(), t.end_ms.unwrap()))
        .collect()
}

/// By hand: home begins when the hand-over is over; for a strike on the next morning they come out again 20 min before it and drive
/// home after it; for one two hours after the hand-over they stay and drive home once.
#[test]
fn they_drive_home() {
    let plan = with(|job| job.times.strike_from.clear());
    let over = task(&plan, "finish").end_ms.unwrap();
    assert_eq!(back(&plan), [("home", over, over + 20 * MIN)]);
    assert_eq!(task(&plan, "home").who, task(&plan, "drive").who);

    let plan = with(|job| job.times.strike_from = "2027-06-13T09:00".into());
    let strike = task(&plan, "strike");
    let (from, to) = (strike.start_ms.unwrap(), strike.end_ms.unwrap());
    assert_eq!(
        back(&plan),
        [
            ("home", over, over + 20 * MIN),
            ("out", from - 20 * MIN, from),
            ("home.strike", to, to + 20 * MIN),
        ]
    );
    assert_eq!(task(&plan, "out").who, strike.who);

    let soon = |job: &mut Job| {
        let wall = job::time::local(over + 120 * MIN, &job.venue.zone).unwrap();
        job.times.strike_from = wall.chars().take(16).collect();
    };
    let plan = with(soon);
    let to = task(&plan, "strike").end_ms.unwrap();
    assert_eq!(back(&plan), [("home", to, to + 20 * MIN)]);
}

/// The hours of the way are in the price, and nobody is free of the job before they are at home.
#[test]
fn the_way_home_is_work() {
    let short = with(|job| job.times.strike_from.clear());
    let long = with(|job| {
        job.times.strike_from.clear();
        job.drive.minutes = 50;
    });
    let work = |plan: &Plan| plan.tasks.iter().map(|t| t.work_s).sum::<i64>();
    let people = task(&short, "drive").people;
    assert_eq!(work(&long) - work(&short), people * 2 * 30 * 60);
    for plan in [&short, &long] {
        let home = task(plan, "home");
        for call in plan.calls.iter().filter(|c| home.who.contains(&c.crew)) {
            assert_eq!(call.days.last().unwrap().end_ms, home.end_ms.unwrap());
        }
    }
}

/// Nobody drives to an empty job.
#[test]
fn an_empty_job_has_no_work() {
    let plan = with(|job| job.pieces.clear());
    assert_eq!(plan.tasks, []);
}

/// Of those who take down one drives, if anybody of the crew does; if nobody does, that is said.
#[test]
fn somebody_drives_to_the_strike() {
    let strike = |job: &mut Job| job.times.strike_from = "2027-06-13T09:00".into();
    let drivers = |plan: &Plan, job: &Job| {
        let who = &task(plan, "out").who;
        who.iter().filter(|id| job.crew[*id].drives).count()
    };
    let mut job = demo(&starting_books(), "2027-06-12").0;
    job.drive.minutes = 20;
    strike(&mut job);
    let last = job.crew.keys().next_back().unwrap().clone();
    let one = job.crew[&last].clone();
    for n in 0..2 {
        let mut more = one.clone();
        (more.drives, more.ladder) = (false, true);
        job.crew.insert(format!("a{n}"), more);
    }
    for person in job.crew.values_mut() {
        person.drives = false;
    }
    let said = |plan: &Plan| plan.findings.iter().any(|f| f.code == "strike_no_driver");
    let plan = plan_at(&job, None, Depth::Instant, &mut Memory::default());
    assert!(said(&plan));
    let driver = job.crew.get_mut(&last).unwrap();
    (driver.drives, driver.ladder) = (true, false);
    let plan = plan_at(&job, None, Depth::Instant, &mut Memory::default());
    assert!(!said(&plan));
    assert_eq!(drivers(&plan, &job), 1);
}

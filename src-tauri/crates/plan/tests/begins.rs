//! How late the work begins, for the demo and for the jobs that were worked by hand, and what is said where it is not fresh then.
#![expect(clippy::unwrap_used, reason = "a test may stop")]

use job::Job;
use job::read::read_strictly;
use job::time::local;
use plan::{Depth, Memory, Plan, plan_at, plan_timed};

fn read(text: &str) -> Job {
    read_strictly(&serde_json::from_str(text).unwrap()).unwrap()
}

fn garden() -> Job {
    read(include_str!("../../../../tests/jobs/garden.job.json"))
}

fn planned(job: &Job) -> Plan {
    plan_at(job, None, Depth::Instant, &mut Memory::default())
}

fn clock(job: &Job, ms: Option<i64>) -> String {
    local(ms.unwrap(), &job.venue.zone).unwrap()
}

/// No order of the work begins later than the one that is shown: proved for every job at hand but one, and for that one to the minute.
#[test]
fn nothing_begins_later() {
    for (name, job) in [
        (
            "demo",
            job::demo::demo(&job::defaults::starting_books(), "2027-06-12").0,
        ),
        (
            "hall",
            read(include_str!("../../../../tests/jobs/hall.job.json")),
        ),
        ("garden", garden()),
        (
            "overnight",
            read(include_str!("../../../../tests/jobs/overnight.job.json")),
        ),
        (
            "fiftieth",
            read(include_str!("../../../../tests/jobs/fiftieth.job.json")),
        ),
    ] {
        let figures = plan_timed(&job, &mut Memory::default()).figures;
        match name {
            "fiftieth" => assert!(figures.start_gap_s.is_some_and(|s| s < 60)),
            _ => assert_eq!(figures.start_gap_s, Some(0), "{name}"),
        }
    }
}

/// The garden with 50 s for each cluster that is strung, by hand: check 600, bag 90, string 1000, cluster 168 and inflating 1230 are 3088 s,
/// and from 8:30:00 to the load at 9:04:16 are 2056, so 1032 or more go to the evening before. The check comes first and takes 600, so the
/// inflating goes with it: 1830 s, from 16:29:30, inflating from 16:39:30. That is 21 h 21 min before the doors open: fresh enough
/// within 24 h; within 20 h nothing else is left to go first, and so it is said.
#[test]
fn what_cannot_be_fresh_is_said() {
    let mut job = garden();
    job.rates.string_s = 50;
    for (hours, said) in [(24, false), (20, true)] {
        let mut job = job.clone();
        job.rules.fresh_outdoors_h = hours;
        let plan = planned(&job);
        let start = |id: &str| plan.tasks.iter().find(|t| t.id == id).unwrap().start_ms;
        assert_eq!(clock(&job, plan.figures.start_by_ms), "2026-06-19T16:29");
        assert_eq!(clock(&job, start("inflate.g.1")), "2026-06-19T16:39");
        let old = plan.findings.iter().any(|f| f.code == "too_old_outdoors");
        assert_eq!(old, said, "{hours}");
    }
}

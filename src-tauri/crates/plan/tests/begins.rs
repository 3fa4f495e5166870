//! How late the work begins, for the demo and for the jobs that were worked by hand, and that freshness goes before it.
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

/// The garden with 1460 s for the check, by hand: check, bag 90, string 500, cluster 168 and inflating 1230 are 3448 s, and from 8:30:00 to
/// the load at 9:04:16 are 2056, so 1392 or more go to the evening before, with what comes before them. The check alone is 1460, the
/// inflating with the cluster 1398: from 16:36:42. But if nothing may be older than 20 h at 14:00, it is the check: from 16:35:40.
#[test]
fn fresh_goes_before_late() {
    let mut job = garden();
    job.rates.check_s = 1460;
    let task = |plan: &Plan, id: &str| {
        let start = plan.tasks.iter().find(|t| t.id == id).unwrap().start_ms;
        clock(&job, start)
    };
    for (hours, start, inflate) in [
        (24, "2026-06-19T16:36", "2026-06-19T16:36"),
        (20, "2026-06-19T16:35", "2026-06-20T08:31"),
    ] {
        let mut job = job.clone();
        job.rules.fresh_outdoors_h = hours;
        let plan = planned(&job);
        assert_eq!(clock(&job, plan.figures.start_by_ms), start, "{hours}");
        assert_eq!(task(&plan, "inflate.g.1"), inflate, "{hours}");
        assert!(plan.findings.iter().all(|f| f.code != "too_old_outdoors"));
    }
}

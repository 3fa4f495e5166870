//! Times and people: tasks scheduled backwards from ready-by, the strike from its agreed start, and what is wrong with the result.

mod away;
mod back;
mod calls;
mod cause;
pub mod chance;
mod conflict;
mod cures;
mod draw;
mod forward;
mod hands;
mod known;
mod links;
pub mod live;
mod pins;
mod place;
mod retold;
mod slack;
pub mod still;
mod ways;

use job::list::live;
use job::site::Crew;
use job::time::instant;
use job::{Finding, Job, Room, Severity};
use solve::schedule::NoTime;

use crate::Depth;
use crate::fresh::freshness;
use crate::pieces::Counted;
use crate::tasks::{Skill, strike, tasks};
use crate::types::{Call, Load, Task};
pub use away::aim;
pub use cause::LateWhy;
pub use known::Known;
use place::{DAYS_BACK, Set, WORK, hours, place};
pub use retold::retold;
use ways::Ways;

/// The timed work of a job.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Times {
    /// In order of start, those without times last.
    pub tasks: Vec<Task>,
    /// When each person is needed.
    pub calls: Vec<Call>,
    /// What is wrong or worth knowing.
    pub findings: Vec<Finding>,
    /// The first work begins, ms.
    pub start_by_ms: Option<i64>,
    /// By how much any schedule of these tasks could begin later, with so many people at each as here, s: 0 is a proof that none does.
    /// None if that is not known.
    pub start_gap_s: Option<i64>,
    /// Nothing could begin later, and what could not be kept is proved to be impossible.
    pub proved: bool,
    /// Leave the studio, ms.
    pub leave_by_ms: Option<i64>,
    /// Steps of the engine.
    pub work: u64,
    /// From the agreed load-in to the latest start of the carrying, s; negative if the load-in comes too late.
    pub slack_s: Option<i64>,
}

/// Steps of the engine while one edits, less than ten milliseconds: most jobs are proved with a tenth of them. What is found with so
/// few may begin earlier, and says so (`start_gap_s`).
const SKETCHED: u64 = 50_000;

/// Schedules a job. Without people or without a ready-by the tasks have durations only. Where the times do not hold, what would make
/// them hold is tried; not while a slider moves.
#[must_use]
pub fn schedule(
    job: &Job,
    counted: &Counted,
    load: &Load,
    depth: Depth,
    known: &mut Known,
) -> Times {
    let known = known.at(depth);
    let work = match depth {
        Depth::Final => WORK,
        Depth::Instant | Depth::Preview => SKETCHED,
    };
    let mut ways = Ways::default();
    let mut times = timed(job, counted, load, &ways, (work, known));
    if depth == Depth::Final {
        times = ways.better(job, counted, load, known, times);
    }
    if depth > Depth::Instant {
        cures::add(job, counted, load, &ways, known, &mut times);
    }
    times
}

/// The times alone, with so many people at each task and so much work of the engine.
fn timed(
    job: &Job,
    counted: &Counted,
    load: &Load,
    ways: &Ways,
    asked: (u64, &mut Known),
) -> Times {
    let mut planned = tasks(job, counted, load);
    let mut times = Times::default();
    ways.set(job, &mut planned, &mut times.findings);
    let crew = live(&job.crew);
    let zone = &job.venue.zone;
    let ready = away::aim(job);
    if crew.is_empty() {
        times.findings.push(Finding::new(
            "no_people",
            Severity::Stop,
            Room::Brief,
            &["crew"],
            "Nobody is on this job yet.",
            "Add the people who work on it.",
        ));
    }
    if job.times.ready_by.trim().is_empty() {
        times.findings.push(Finding::new(
            "no_ready_by",
            Severity::Note,
            Room::Brief,
            &["times", "ready_by"],
            "No ready-by is agreed, so the work has no times yet.",
            "Enter when everything must stand.",
        ));
    }
    let mut set = Set::default();
    if let (Some(ready), false) = (ready, crew.is_empty()) {
        set = place(job, &crew, ready, asked, &mut planned, &mut times.findings);
        times.start_gap_s = set.gap_s;
        times.proved = set.proved;
        times.work = set.work;
        times.findings.extend(not_placed(&set.unplaced));
    }
    let mut list: Vec<Task> = planned
        .into_iter()
        .map(|p| Task {
            ladders: i64::from(p.skill == Some(Skill::Ladder)),
            ..p.task
        })
        .collect();
    list.extend(struck(job, &crew, counted, &mut times.findings));
    let sort = |list: &mut Vec<Task>| {
        list.sort_by_key(|t| (t.start_ms.unwrap_or(i64::MAX), t.end_ms, t.id.clone()));
    };
    sort(&mut list);
    times.start_by_ms = list
        .iter()
        .filter(|t| !t.phase.comes_after())
        .filter_map(|t| t.start_ms)
        .min();
    times
        .findings
        .extend(hands::too_few(job, counted, load, &crew, &list));
    slack::mark(job, &crew, &set.held, ready.unwrap_or(0), &mut list);
    let load_in = instant(&job.times.load_in, zone).ok();
    times.slack_s = start_of(&list, "carry")
        .zip(load_in)
        .map(|(carry, open)| (carry - open) / 1000);
    wait_for_the_door(times.slack_s, &mut list);
    let ways_back = back::back(job, &crew, &list);
    times
        .findings
        .extend(back::nobody_drives(job, &crew, &ways_back));
    list.extend(ways_back);
    sort(&mut list);
    times.leave_by_ms = start_of(&list, "drive")
        .or_else(|| list.iter().find(|t| t.id == "load").and_then(|t| t.end_ms));
    times
        .findings
        .extend(load_in_too_late(times.slack_s, load.trips));
    times.findings.extend(freshness(job, &list));
    times.calls = calls::calls(job, &crew, &list);
    times
        .findings
        .extend(calls::findings(job, &times.calls, &list));
    times.tasks = list;
    times
}

/// Nothing stands in the plan before the venue lets the crew in: where the load-in comes too late, whatever begins with the leaving
/// begins so much later, and the hand-over comes after ready-by by what is missing.
fn wait_for_the_door(slack_s: Option<i64>, tasks: &mut [Task]) {
    let Some(missing_ms) = slack_s.filter(|s| *s < 0).map(|s| -s * 1000) else {
        return;
    };
    let leave = start_of(tasks, "drive").or_else(|| start_of(tasks, "carry"));
    let moved = |t: &&mut Task| !t.phase.comes_after() && t.start_ms >= leave;
    for task in tasks.iter_mut().filter(moved) {
        for at in [
            &mut task.start_ms,
            &mut task.end_ms,
            &mut task.early_ms,
            &mut task.late_ms,
        ] {
            *at = at.map(|ms| ms.saturating_add(missing_ms));
        }
    }
}

fn start_of(tasks: &[Task], id: &str) -> Option<i64> {
    tasks.iter().find(|t| t.id == id).and_then(|t| t.start_ms)
}

/// The strike begins when it may: that is agreed, whatever people's hours are. One with a ladder does it, then those within their
/// hours, then by the list. If there is a way to drive, the last of them is one who drives where no other does.
fn struck(
    job: &Job,
    crew: &[(&str, &Crew)],
    counted: &Counted,
    findings: &mut Vec<Finding>,
) -> Option<Task> {
    let mut task = strike(job, counted)?;
    let start = instant(&job.times.strike_from, &job.venue.zone).ok();
    let Some(start) = start.filter(|_| !crew.is_empty()) else {
        return Some(task);
    };
    let end = start.saturating_add(task.duration_s.saturating_mul(1000));
    (task.start_ms, task.end_ms) = (Some(start), Some(end));
    // with the day before, whose hours may go on over midnight, and those that the work lasts into
    let days = end.saturating_sub(start) / 86_400_000 + 1;
    let within = |person: (&str, &Crew)| {
        hours(job, person, start, -1..=days)
            .iter()
            .any(|(from, to)| *from * 1000 <= start && end <= *to * 1000)
    };
    let mut by: Vec<(bool, &str, &Crew)> = crew
        .iter()
        .filter(|(id, _)| away::there(job, id, start, end))
        .map(|(id, c)| (!within((id, c)), *id, *c))
        .collect();
    by.sort_by_key(|(out, _, c)| (!c.ladder, *out));
    if by.len() > 1 {
        by[1..].sort_by_key(|(out, ..)| *out);
    }
    let take = usize::try_from(task.people).unwrap_or(1).min(by.len());
    let (chosen, rest) = by.split_at_mut(take);
    if job.drive.minutes > 0
        && !chosen.iter().any(|(.., c)| c.drives)
        && let [_, .., last] = chosen
        && let Some(driver) = rest.iter_mut().find(|(.., c)| c.drives)
    {
        std::mem::swap(last, driver);
    }
    by.truncate(take);
    task.who = by.iter().map(|(_, id, _)| id.to_string()).collect();
    let outside: Vec<&str> = by.iter().filter(|b| b.0).map(|b| b.2.name.trim()).collect();
    if !outside.is_empty() {
        findings.push(outside_hours(&outside));
    }
    let by_then = instant(&job.times.strike_by, &job.venue.zone).ok();
    findings.extend(by_then.and_then(|limit| strike_too_long(end, limit)));
    Some(task)
}

fn outside_hours(names: &[&str]) -> Finding {
    let names: Vec<&str> = names.iter().filter(|n| !n.is_empty()).copied().collect();
    let whose = match names.as_slice() {
        [] => "a person without a name".to_string(),
        [one] => (*one).to_string(),
        [others @ .., last] => format!("{} and {last}", others.join(", ")),
    };
    Finding::new(
        "strike_outside_hours",
        Severity::Note,
        Room::Times,
        &["times", "strike_from"],
        format!("Taking down falls outside the hours of {whose}."),
        "Agree on it with the crew.",
    )
}

fn strike_too_long(end_ms: i64, limit_ms: i64) -> Option<Finding> {
    let over = end_ms.saturating_sub(limit_ms);
    let minutes = u64::try_from(over)
        .ok()
        .filter(|ms| *ms > 0)?
        .div_ceil(60_000);
    Some(Finding::new(
        "strike_too_long",
        Severity::Stop,
        Room::Times,
        &["times", "strike_by"],
        format!("Taking down ends {minutes} min after the room must be clear."),
        format!("Agree on {minutes} min more, or bring more people."),
    ))
}

fn not_placed(unplaced: &[(String, NoTime)]) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut reasons: Vec<NoTime> = unplaced.iter().map(|(_, why)| *why).collect();
    reasons.dedup();
    let mut seen = Vec::new();
    for why in reasons {
        if seen.contains(&why) {
            continue;
        }
        seen.push(why);
        let tasks: Vec<&str> = unplaced
            .iter()
            .filter(|(_, w)| *w == why)
            .map(|(t, _)| t.as_str())
            .collect();
        let first = tasks.first().copied().unwrap_or_default();
        let more = if tasks.len() > 1 {
            format!(" and {} more", tasks.len() - 1)
        } else {
            String::new()
        };
        let (code, room, path, what, action) = match why {
            NoTime::TooFewPeople => (
                "too_few_people",
                Room::Brief,
                "crew",
                "it takes more people than there are",
                "Add a person.",
            ),
            NoTime::NoSkill if first.starts_with("Drive") => (
                "no_driver",
                Room::Brief,
                "crew",
                "nobody on the job drives",
                "Say who drives.",
            ),
            NoTime::NoSkill => (
                "no_ladder",
                Room::Brief,
                "crew",
                "nobody on the job works on a ladder",
                "Say who does.",
            ),
            NoTime::TooLittleKit(_) => (
                "no_inflator",
                Room::Brief,
                "kit",
                "there is no inflator",
                "Add an inflator to the kit.",
            ),
            NoTime::NoStretch | NoTime::BeforeRelease | NoTime::Circle => (
                "no_time",
                Room::Times,
                "crew",
                "no free time is long enough within 30 days",
                "Give people longer hours, or add a person.",
            ),
            NoTime::OutOfWork => (
                "too_much_work",
                Room::Times,
                "pieces",
                "there is more work than can be timed at once",
                "Split the job.",
            ),
        };
        findings.push(Finding::new(
            code,
            Severity::Stop,
            room,
            &[path],
            format!("{first}{more} has no time: {what}."),
            action,
        ));
    }
    findings
}

fn load_in_too_late(slack_s: Option<i64>, trips: i64) -> Option<Finding> {
    let missing = crate::fresh::hours(slack_s.filter(|s| *s < 0)?.saturating_mul(-1000));
    Some(Finding::new(
        "load_in_too_late",
        Severity::Stop,
        Room::Times,
        &["times", "load_in"],
        format!("The load-in is {missing} too late for the work before ready-by."),
        if trips > 1 {
            format!(
                "The vehicle goes {trips} times: take one that holds it in fewer, agree on a load-in {missing} earlier, or add a person."
            )
        } else {
            format!(
                "Agree on a load-in {missing} earlier, add a person, or make more of it beforehand."
            )
        },
    ))
}

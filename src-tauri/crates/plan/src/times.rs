//! Times and people: tasks scheduled backwards from ready-by, the strike from its agreed start, and what is wrong with the result.

use std::collections::BTreeMap;

use job::list::live;
use job::site::{Crew, KitKind};
use job::time::{instant, local, minute_of_day, on_day};
use job::{Finding, Job, Room, Severity};
use solve::schedule::{self, NoTime, Problem, Worker};

use crate::fresh::freshness;
use crate::pieces::Counted;
use crate::tasks::{Planned, Skill, strike, tasks};
use crate::types::{Call, Load, Phase, Stretch, Task};

/// Days before ready-by in which work may be placed.
const DAYS_BACK: i64 = 30;
/// Candidate times that one plan may try.
const BUDGET: u64 = 2_000_000;
/// Skills, as the solver counts them.
const LADDER: usize = 0;
const DRIVES: usize = 1;
/// A pause this long breaks a stretch of work, ms: 20 min, the shortest break of the United Kingdom's Working Time Regulations.
const BREAK_MS: i64 = 20 * 60_000;
/// Work without a break beyond this is pointed out, ms: Directive 2003/88/EC, article 4.
const LONG_MS: i64 = 6 * 3_600_000;
/// Rest between two days below this is pointed out, ms: Directive 2003/88/EC, article 3.
const REST_MS: i64 = 11 * 3_600_000;

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
    /// Leave the studio, ms.
    pub leave_by_ms: Option<i64>,
    /// From the agreed load-in to the latest start of the carrying, s; negative if the load-in comes too late.
    pub slack_s: Option<i64>,
}

/// Schedules a job. Without people or without a ready-by the tasks have durations only.
#[must_use]
pub fn schedule(job: &Job, counted: &Counted, load: &Load) -> Times {
    let mut planned = tasks(job, counted, load);
    let mut times = Times::default();
    let crew = live(&job.crew);
    let zone = &job.venue.zone;
    let ready = instant(&job.times.ready_by, zone).ok();
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
    if let (Some(ready), false) = (ready, crew.is_empty()) {
        place(job, &crew, ready, &mut planned, &mut times.findings);
    }
    let mut list: Vec<Task> = planned.into_iter().map(|p| p.task).collect();
    list.extend(struck(job, &crew, counted));
    list.sort_by_key(|t| (t.start_ms.unwrap_or(i64::MAX), t.end_ms, t.id.clone()));
    times.start_by_ms = list
        .iter()
        .filter(|t| t.phase != Phase::Strike)
        .filter_map(|t| t.start_ms)
        .min();
    times.leave_by_ms = start_of(&list, "drive")
        .or_else(|| list.iter().find(|t| t.id == "load").and_then(|t| t.end_ms));
    let load_in = instant(&job.times.load_in, zone).ok();
    times.slack_s = start_of(&list, "carry")
        .zip(load_in)
        .map(|(carry, open)| (carry - open) / 1000);
    times.findings.extend(load_in_too_late(times.slack_s));
    times.findings.extend(freshness(job, &list));
    times.calls = calls(job, &crew, &list);
    times.findings.extend(long_days(&times.calls, &list));
    times.findings.extend(night(job, &list));
    times.tasks = list;
    times
}

fn start_of(tasks: &[Task], id: &str) -> Option<i64> {
    tasks.iter().find(|t| t.id == id).and_then(|t| t.start_ms)
}

/// Gives tasks their times and people.
fn place(
    job: &Job,
    crew: &[(&str, &Crew)],
    ready_ms: i64,
    planned: &mut [Planned],
    findings: &mut Vec<Finding>,
) {
    let problem = problem(job, crew, ready_ms, planned);
    let answer = schedule::solve(&problem, BUDGET);
    debug_assert_eq!(schedule::check(&problem, &answer), []);
    let mut unplaced: Vec<(&str, NoTime)> = Vec::new();
    for (planned, placed) in planned.iter_mut().zip(&answer.tasks) {
        match placed {
            Ok(placed) => {
                planned.task.start_ms = Some(placed.start.saturating_mul(1000));
                planned.task.end_ms = Some(placed.end.saturating_mul(1000));
                planned.task.who = placed
                    .who
                    .iter()
                    .filter_map(|w| crew.get(*w))
                    .map(|(id, _)| id.to_string())
                    .collect();
            }
            Err(why) => unplaced.push((&planned.task.title, *why)),
        }
    }
    findings.extend(not_placed(&unplaced));
}

/// The job as the solver sees it, in seconds.
fn problem(job: &Job, crew: &[(&str, &Crew)], ready_ms: i64, planned: &[Planned]) -> Problem {
    let inflators = live(&job.kit)
        .into_iter()
        .filter(|(_, k)| k.kind == KitKind::Inflator)
        .map(|(_, k)| k.count.clamp(0, 1000))
        .sum();
    let index: BTreeMap<&str, usize> = planned
        .iter()
        .enumerate()
        .map(|(i, p)| (p.task.id.as_str(), i))
        .collect();
    Problem {
        tasks: planned
            .iter()
            .map(|p| schedule::Task {
                duration: p.task.duration_s,
                people: usize::try_from(p.task.people).unwrap_or(1),
                skill: p.skill.map(|s| match s {
                    Skill::Ladder => LADDER,
                    Skill::Drives => DRIVES,
                }),
                kit: vec![p.task.inflators],
                after: p
                    .task
                    .after
                    .iter()
                    .filter_map(|a| index.get(a.as_str()).copied())
                    .collect(),
                deadline: ready_ms.div_euclid(1000),
            })
            .collect(),
        workers: crew
            .iter()
            .map(|(_, person)| Worker {
                free: hours(job, person, ready_ms),
                skills: vec![person.ladder, person.drives],
            })
            .collect(),
        kit: vec![inflators],
    }
}

/// A person's hours on the days up to ready-by, s; days that touch are joined, so that work may go on over midnight.
fn hours(job: &Job, person: &Crew, ready_ms: i64) -> Vec<(i64, i64)> {
    let mut free: Vec<(i64, i64)> = Vec::new();
    let (from, to) = (person.from_min.clamp(0, 1440), person.to_min.clamp(0, 1440));
    for day in -DAYS_BACK..=0 {
        let at =
            |minute| on_day(ready_ms, day, minute, &job.venue.zone).map(|ms| ms.div_euclid(1000));
        let (Some(start), Some(end)) = (at(from), at(to)) else {
            continue;
        };
        match free.last_mut() {
            Some(last) if last.1 >= start => last.1 = last.1.max(end),
            _ if start < end => free.push((start, end)),
            _ => {}
        }
    }
    free
}

/// The strike begins when it may, by those who strike, whatever their hours are: it is agreed.
fn struck(job: &Job, crew: &[(&str, &Crew)], counted: &Counted) -> Option<Task> {
    let mut task = strike(job, counted)?;
    if let Ok(start) = instant(&job.times.strike_from, &job.venue.zone)
        && !crew.is_empty()
    {
        task.start_ms = Some(start);
        task.end_ms = Some(start.saturating_add(task.duration_s.saturating_mul(1000)));
        let mut by: Vec<&(&str, &Crew)> = crew.iter().collect();
        by.sort_by_key(|(_, c)| !c.ladder);
        let people = usize::try_from(task.people).unwrap_or(1);
        task.who = by
            .into_iter()
            .take(people)
            .map(|(id, _)| id.to_string())
            .collect();
    }
    Some(task)
}

fn not_placed(unplaced: &[(&str, NoTime)]) -> Vec<Finding> {
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
            .map(|(t, _)| *t)
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
            NoTime::NoStretch | NoTime::Circle => (
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

fn load_in_too_late(slack_s: Option<i64>) -> Option<Finding> {
    let missing = slack_s.filter(|s| *s < 0)?.unsigned_abs().div_ceil(60);
    Some(Finding::new(
        "load_in_too_late",
        Severity::Stop,
        Room::Times,
        &["times", "load_in"],
        format!("The load-in is {missing} min too late for the work before ready-by."),
        format!(
            "Agree on a load-in {missing} min earlier, add a person, or make more of it beforehand."
        ),
    ))
}

/// For each person the days on which they are needed, by the wall clock of the venue.
fn calls(job: &Job, crew: &[(&str, &Crew)], tasks: &[Task]) -> Vec<Call> {
    crew.iter()
        .map(|(id, person)| {
            let mut days: BTreeMap<String, Stretch> = BTreeMap::new();
            let mut work_s = 0i64;
            for task in tasks.iter().filter(|t| t.who.iter().any(|w| w == id)) {
                let (Some(start), Some(end)) = (task.start_ms, task.end_ms) else {
                    continue;
                };
                work_s = work_s.saturating_add(task.duration_s);
                let day: String = local(start, &job.venue.zone)
                    .unwrap_or_default()
                    .chars()
                    .take(10)
                    .collect();
                let stretch = days.entry(day).or_insert(Stretch {
                    start_ms: start,
                    end_ms: end,
                    tasks: Vec::new(),
                });
                stretch.end_ms = stretch.end_ms.max(end);
                stretch.tasks.push(task.id.clone());
            }
            Call {
                crew: id.to_string(),
                name: if person.name.trim().is_empty() {
                    "Person without a name".into()
                } else {
                    person.name.clone()
                },
                phone: person.phone.clone(),
                days: days.into_values().collect(),
                work_s,
            }
        })
        .collect()
}

/// Work without a break, and short rests between days: pointed out, never judged.
fn long_days(calls: &[Call], tasks: &[Task]) -> Vec<Finding> {
    let mut findings = Vec::new();
    for call in calls {
        let mut spans: Vec<(i64, i64)> = tasks
            .iter()
            .filter(|t| t.who.contains(&call.crew))
            .filter_map(|t| t.start_ms.zip(t.end_ms))
            .collect();
        spans.sort_unstable();
        let mut longest = 0;
        let mut stretch: Option<(i64, i64)> = None;
        for (start, end) in spans {
            stretch = match stretch {
                Some((from, to)) if start - to < BREAK_MS => Some((from, to.max(end))),
                _ => Some((start, end)),
            };
            longest = stretch.map_or(longest, |(from, to)| longest.max(to - from));
        }
        let short_rest = call
            .days
            .windows(2)
            .any(|d| d[1].start_ms - d[0].end_ms < REST_MS && d[1].start_ms > d[0].end_ms);
        let what = if longest > LONG_MS {
            "works more than 6 h without a break"
        } else if short_rest {
            "has less than 11 h between two days"
        } else {
            continue;
        };
        findings.push(Finding::new(
            "break_rules",
            Severity::Care,
            Room::Times,
            &["crew", &call.crew],
            format!("{} {what}.", call.name),
            "Plan a break or one more person, and check the rules where you work.",
        ));
    }
    findings
}

/// Work between 23:00 and 06:00.
fn night(job: &Job, tasks: &[Task]) -> Option<Finding> {
    let at_night =
        |ms: i64| minute_of_day(ms, &job.venue.zone).is_some_and(|m| !(360..1380).contains(&m));
    let task = tasks
        .iter()
        .find(|t| t.start_ms.is_some_and(at_night) || t.end_ms.is_some_and(|e| at_night(e - 1)))?;
    Some(Finding::new(
        "night_work",
        Severity::Note,
        Room::Times,
        &["crew"],
        format!("{} falls into the night.", task.title),
        "Agree on it with the crew, and check the rules where you work.",
    ))
}

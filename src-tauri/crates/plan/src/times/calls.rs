//! When each person is needed, and where that meets the rules on breaks, rest and night work.

use job::site::Crew;
use job::time::{local, minute_of_day, on_day};
use job::{Finding, Job, Room, Severity};

use crate::rest::{Rule, broken};
use crate::types::{Call, Stretch, Task};

const HOUR_MS: i64 = 3_600_000;
/// Work that goes on over midnight with a shorter pause than this is one stretch, ms. Common practice, no source.
const SAME_SHIFT_MS: i64 = 2 * HOUR_MS;
/// Night by the wall clock, minutes of the day: from 23:00 to 6:00. Between them the night times of Directive 2003/88/EC, article 2
/// (seven hours with midnight to 5:00 in them) usually lie.
const NIGHT_FROM: i64 = 23 * 60;
const NIGHT_TO: i64 = 6 * 60;

/// For each person the stretches in which they are needed, one a day by the wall clock of the venue; a stretch goes on over
/// midnight if the work does. `tasks` are in order of start.
pub(super) fn calls(job: &Job, crew: &[(&str, &Crew)], tasks: &[Task]) -> Vec<Call> {
    crew.iter()
        .map(|(id, person)| {
            let mut days: Vec<(String, Stretch)> = Vec::new();
            let mut work_s = 0i64;
            for (task, start, end) in theirs(tasks, id) {
                work_s = work_s.saturating_add(task.duration_s);
                let day: String = local(start, &job.venue.zone)
                    .unwrap_or_default()
                    .chars()
                    .take(10)
                    .collect();
                match days.last_mut() {
                    Some((on, s))
                        if *on == day || start.saturating_sub(s.end_ms) < SAME_SHIFT_MS =>
                    {
                        s.end_ms = s.end_ms.max(end);
                        s.tasks.push(task.id.clone());
                    }
                    _ => days.push((
                        day,
                        Stretch {
                            start_ms: start,
                            end_ms: end,
                            tasks: vec![task.id.clone()],
                        },
                    )),
                }
            }
            Call {
                crew: id.to_string(),
                name: if person.name.trim().is_empty() {
                    "Person without a name".into()
                } else {
                    person.name.clone()
                },
                phone: person.phone.clone(),
                days: days.into_iter().map(|(_, stretch)| stretch).collect(),
                work_s,
            }
        })
        .collect()
}

/// What a person does, with start and end.
fn theirs<'a>(tasks: &'a [Task], id: &'a str) -> impl Iterator<Item = (&'a Task, i64, i64)> {
    tasks
        .iter()
        .filter(move |t| t.who.iter().any(|w| w == id))
        .filter_map(|t| Some((t, t.start_ms?, t.end_ms?)))
}

/// Work without a break, short rests, and work at night: pointed out, never judged.
pub(super) fn findings(job: &Job, calls: &[Call], tasks: &[Task]) -> Vec<Finding> {
    let mut all: Vec<Finding> = calls.iter().filter_map(|c| break_rules(c, tasks)).collect();
    all.extend(night(job, tasks));
    all
}

fn break_rules(call: &Call, tasks: &[Task]) -> Option<Finding> {
    let spans: Vec<(i64, i64)> = theirs(tasks, &call.crew).map(|(_, s, e)| (s, e)).collect();
    let mut rules: Vec<Rule> = broken(&spans).into_iter().map(|b| b.rule).collect();
    rules.dedup();
    let what: Vec<&str> = rules
        .into_iter()
        .map(|rule| match rule {
            Rule::Break => "works more than 6 h without a break",
            Rule::Daily => "has less than 11 h of rest within 24 h",
            Rule::Weekly => "has no day of rest within seven days",
        })
        .collect();
    if what.is_empty() {
        return None;
    }
    Some(Finding::new(
        "break_rules",
        Severity::Care,
        Room::Times,
        &["crew", &call.crew],
        format!("{} {}.", call.name, what.join(" and ")),
        "Plan a break or one more person, and check the rules where you work.",
    ))
}

/// The first task that falls into the night, whole or in part.
fn night(job: &Job, tasks: &[Task]) -> Option<Finding> {
    let zone = &job.venue.zone;
    let falls = |start: i64, end: i64| {
        start < end
            && (minute_of_day(start, zone).is_some_and(|m| !(NIGHT_TO..NIGHT_FROM).contains(&m))
                || on_day(start, 0, NIGHT_FROM, zone).is_some_and(|night| night < end))
    };
    let task = tasks
        .iter()
        .find(|t| t.start_ms.zip(t.end_ms).is_some_and(|(s, e)| falls(s, e)))?;
    Some(Finding::new(
        "night_work",
        Severity::Note,
        Room::Times,
        &["crew"],
        format!("{} falls into the night.", task.title),
        "Agree on it with the crew, and check the rules where you work.",
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    const MIN: i64 = 60_000;

    /// A job in London whose one person does tasks from minute to minute of 1 June 2026.
    fn found(minutes: &[(i64, i64)]) -> (Vec<Call>, Vec<String>) {
        let mut job = Job::default();
        job.venue.zone = "Europe/London".into();
        let midnight = job::time::instant("2026-06-01T00:00", "Europe/London").unwrap();
        let tasks: Vec<Task> = minutes
            .iter()
            .enumerate()
            .map(|(i, (from, to))| Task {
                id: format!("t{i}"),
                title: "Work".into(),
                start_ms: Some(midnight + from * MIN),
                end_ms: Some(midnight + to * MIN),
                duration_s: (to - from) * 60,
                who: vec!["p".into()],
                ..Task::default()
            })
            .collect();
        let person = Crew {
            name: "Ada".into(),
            ..Crew::default()
        };
        let calls = calls(&job, &[("p", &person)], &tasks);
        let messages = findings(&job, &calls, &tasks)
            .into_iter()
            .map(|f| f.message)
            .collect();
        (calls, messages)
    }

    const LONG: &str = "Ada works more than 6 h without a break.";
    const REST: &str = "Ada has less than 11 h of rest within 24 h.";
    const BOTH: &str =
        "Ada works more than 6 h without a break and has less than 11 h of rest within 24 h.";
    const NIGHT: &str = "Work falls into the night.";

    /// Source: Directive 2003/88/EC, articles 3 and 4.
    #[test]
    fn breaks_and_rests() {
        let h = |from: i64, to: i64| (from * 60, to * 60);
        for (minutes, want) in [
            (vec![h(8, 14)], vec![]),
            (vec![h(8, 14), (14 * 60, 14 * 60 + 1)], vec![LONG]),
            (vec![h(8, 14), (14 * 60 + 19, 15 * 60)], vec![LONG]),
            (vec![h(8, 14), (14 * 60 + 20, 15 * 60)], vec![]),
            // ten and a half hours between two days that fill thirteen hours together
            (
                vec![h(14, 16), h(18, 22), (32 * 60 + 30, 34 * 60)],
                vec![REST],
            ),
            // eleven hours
            (vec![h(14, 16), h(18, 22), h(33, 34)], vec![]),
            // a short night between two short stretches: the rest of the 24 hours comes after
            (vec![h(20, 22), (32 * 60 + 30, 33 * 60)], vec![]),
            (vec![h(7, 21)], vec![BOTH]),
        ] {
            assert_eq!(found(&minutes).1, want, "{minutes:?}");
        }
    }

    #[test]
    fn nights() {
        for (minutes, want) in [
            ((22 * 60, 23 * 60), false),
            ((22 * 60, 23 * 60 + 1), true),
            ((5 * 60 + 59, 6 * 60), true),
            ((6 * 60, 7 * 60), false),
            ((20 * 60, 32 * 60), true),
            ((23 * 60, 23 * 60), false),
        ] {
            let messages = found(&[minutes]).1;
            assert_eq!(messages.contains(&NIGHT.to_string()), want, "{minutes:?}");
        }
    }

    #[test]
    fn a_call_goes_on_over_midnight_if_the_work_does() {
        let days = |minutes: &[(i64, i64)]| -> Vec<usize> {
            found(minutes).0[0]
                .days
                .iter()
                .map(|d| d.tasks.len())
                .collect()
        };
        assert_eq!(days(&[(1380, 1430), (1445, 1500)]), [2]);
        assert_eq!(days(&[(1200, 1300), (1450, 1500)]), [1, 1]);
        assert_eq!(days(&[(480, 500), (1100, 1200), (1920, 1930)]), [2, 1]);
    }
}

//! The way home after the hand-over, and there and back again for taking down. Nothing waits for it before ready-by, so that it is no part
//! of the schedule: it begins when the work is over, and ends when the strike may begin.

use std::collections::BTreeSet;

use job::Job;
use job::site::Crew;
use job::{Finding, Room, Severity};

use crate::types::{Phase, Task, Term};

/// Who would be at home for less than this between the hand-over and the strike stays at the venue, s. Common practice, no source.
const STAY_S: i64 = 2 * 3600;

/// Home, out again for the strike and home again; of them those that are driven. `tasks` are all others, the strike among them.
pub(super) fn back(job: &Job, crew: &[(&str, &Crew)], tasks: &[Task]) -> Vec<Task> {
    let seconds = job.drive.minutes.clamp(0, 100_000) * 60;
    let at_venue = |t: &&Task| matches!(t.phase, Phase::Install | Phase::HandOver);
    if seconds == 0 || !tasks.iter().any(|t| at_venue(&t)) {
        return Vec::new();
    }
    let over = tasks.iter().filter(at_venue).filter_map(|t| t.end_ms).max();
    let strike = tasks.iter().find(|t| t.phase == Phase::Strike);
    let struck = strike.and_then(|t| t.start_ms.zip(t.end_ms));
    let stays = over.zip(struck).is_some_and(|(over, (from, _))| {
        from.saturating_sub(over) < (2 * seconds + STAY_S).saturating_mul(1000)
    });
    let of = |on: &dyn Fn(&Task) -> bool| -> Vec<String> {
        let who: BTreeSet<&str> = tasks
            .iter()
            .filter(|t| on(t))
            .flat_map(|t| t.who.iter().map(String::as_str))
            .collect();
        let there = crew.iter().filter(|(id, _)| who.contains(id));
        there.map(|(id, _)| id.to_string()).collect()
    };
    let came = of(&|t| matches!(t.phase, Phase::Load | Phase::Install | Phase::HandOver));
    let strikes = of(&|t| t.phase == Phase::Strike);
    let people = |who: &[String], else_: i64| match i64::try_from(who.len()) {
        Ok(n) if n > 0 => n,
        _ => else_.max(1),
    };
    let all = i64::try_from(crew.len()).unwrap_or(1);
    let way = |id: &str, title: &str, who: Vec<String>, people: i64, start_ms: Option<i64>| Task {
        id: id.into(),
        title: title.into(),
        phase: Phase::Return,
        work_s: seconds.saturating_mul(people),
        duration_s: seconds,
        people,
        start_ms,
        end_ms: start_ms.map(|ms| ms.saturating_add(seconds * 1000)),
        who,
        terms: vec![Term {
            label: "drive".into(),
            value: seconds.saturating_mul(people),
        }],
        ..Task::default()
    };
    let mut ways = Vec::new();
    match strike {
        Some(_) if stays => {
            let both = of(&|t| t.phase >= Phase::Load);
            let people = people(&both, all);
            ways.push(way("home", "Drive home", both, people, struck.map(|s| s.1)));
        }
        Some(task) => {
            let (n, m) = (people(&came, all), people(&strikes, task.people));
            let out = struck.map(|(from, _)| from.saturating_sub(seconds * 1000));
            ways.push(way("home", "Drive home", came, n, over));
            ways.push(way("out", "Drive to take down", strikes.clone(), m, out));
            let home = "Drive home after taking down";
            ways.push(way("home.strike", home, strikes, m, struck.map(|s| s.1)));
        }
        None => {
            let n = people(&came, all);
            ways.push(way("home", "Drive home", came, n, over));
        }
    }
    ways
}

/// Those who take down drive there by themselves.
pub(super) fn nobody_drives(job: &Job, crew: &[(&str, &Crew)], ways: &[Task]) -> Option<Finding> {
    let drives = |id: &String| crew.iter().any(|(c, p)| c == id && p.drives);
    let out = ways.iter().find(|t| t.id == "out" && !t.who.is_empty())?;
    (!out.who.iter().any(drives)).then(|| {
        Finding::new(
            "strike_no_driver",
            Severity::Care,
            Room::Brief,
            &["crew"],
            format!(
                "Nobody of those who take down drives, and it is {} min to the venue.",
                job.drive.minutes
            ),
            "Say who drives, or agree on how they come there and home.",
        )
    })
}

//! How old balloons are when the guests come.

use job::piece::{Piece, PieceKind};
use job::site::Place;
use job::time::instant;
use job::{Finding, Job, Room, Severity};

use crate::pieces::called;
use crate::types::Task;

const HOUR_MS: i64 = 3_600_000;
/// Works, by the first part of their task's id: those that fill with helium, with which a piece is begun, and that hang it.
const FILLS: [&str; 2] = ["helium", "float"];
const MAKES: [&str; 4] = ["inflate", "pump", "links", "foils"];
const HANGS: [&str; 4] = ["hang", "drape", "stand", "place"];

/// Pieces that were begun too long before the doors open, or hang too long in the open.
#[must_use]
pub fn freshness(job: &Job, tasks: &[Task]) -> Vec<Finding> {
    let zone = &job.venue.zone;
    let Some(doors) = instant(&job.times.doors_open, zone)
        .or_else(|_| instant(&job.times.ready_by, zone))
        .ok()
    else {
        return Vec::new();
    };
    let mut findings = Vec::new();
    for (id, piece) in job::live(&job.pieces) {
        let of_piece = |works: &'static [&str]| {
            tasks.iter().filter(move |t| {
                t.piece == *id && works.contains(&t.id.split('.').next().unwrap_or_default())
            })
        };
        if let Some(filled) = of_piece(&FILLS).filter_map(|t| t.start_ms).min() {
            findings.extend(floats(job, id, piece, filled, doors));
        }
        if let Some(made) = of_piece(&MAKES).filter_map(|t| t.start_ms).min() {
            findings.extend(too_old(job, id, called(piece), doors.saturating_sub(made)));
        }
        let hung = of_piece(&HANGS).filter_map(|t| t.end_ms).min();
        if let Some(hung) = hung.filter(|_| job.venue.place == Place::Open) {
            let limit = open_h(job);
            let age = doors.saturating_sub(hung);
            if longer(age, limit) {
                findings.push(Finding::new(
                    "open_air",
                    Severity::Care,
                    Room::Times,
                    &["pieces", id],
                    format!("{} hangs {} in the open before the doors open; {limit} h is the usual limit.", called(piece), hours(age)),
                    "Hang it later, shade it, or carry more spares.",
                ));
            }
        }
    }
    findings
}

/// The earliest start of a task by which its piece is fresh, s; none if its piece asks for nothing. `careful` keeps what is only to be
/// looked at as well. Where [`freshness`] finds nothing, no task begins before this, and the other way round.
#[must_use]
pub fn not_before(job: &Job, task: &Task, careful: bool) -> Option<i64> {
    let zone = &job.venue.zone;
    let doors = instant(&job.times.doors_open, zone)
        .or_else(|_| instant(&job.times.ready_by, zone))
        .ok()?;
    let piece = job.pieces.get(&task.piece).filter(|p| !p.gone)?;
    let before = |ms: i64, limit_h: i64| ms.saturating_sub(limit_h.saturating_mul(HOUR_MS));
    let rules = &job.rules;
    let work = task.id.split('.').next().unwrap_or_default();
    let ms = if FILLS.contains(&work) {
        let limit = floats_h(job, piece);
        let strike = instant(&job.times.strike_from, zone).ok();
        let late = strike.filter(|_| careful).map(|end| before(end, limit));
        Some(late.map_or(before(doors, limit), |l| l.max(before(doors, limit))))
    } else if MAKES.contains(&work) {
        let mut limit = rules.fresh_stop_h;
        if job.venue.place != Place::Indoors {
            limit = limit.min(rules.fresh_outdoors_h);
        }
        if careful {
            limit = limit.min(rules.fresh_care_h);
        }
        Some(before(doors, limit))
    } else if HANGS.contains(&work) && careful && job.venue.place == Place::Open {
        let over = before(doors, open_h(job));
        Some(over.saturating_sub(task.duration_s.saturating_mul(1000)))
    } else {
        None
    };
    // up to the whole second: a start is one
    ms.map(|ms| ms.saturating_add(999).div_euclid(1000))
}

/// How long something may hang in the open before the doors open, h.
fn open_h(job: &Job) -> i64 {
    if job.venue.sun {
        job.rules.open_sun_h
    } else {
        job.rules.open_air_h
    }
}

/// How long what a piece is filled with helium keeps it up, h.
fn floats_h(job: &Job, piece: &Piece) -> i64 {
    let latex = |treated: bool| {
        if treated {
            job.rules.helium_treated_h
        } else {
            job.rules.helium_h
        }
    };
    match piece.kind {
        PieceKind::Bouquet if piece.bouquet.rounds > 0 => latex(piece.bouquet.treated),
        PieceKind::Floaters => latex(piece.floaters.treated),
        _ => job.rules.helium_foil_h,
    }
}

/// What sinks before the doors open, or before it is taken down.
fn floats(job: &Job, id: &str, piece: &Piece, filled: i64, doors: i64) -> Option<Finding> {
    let limit = floats_h(job, piece);
    let name = called(piece);
    let later = "Fill it later, treat the latex, or take foils.";
    let age = doors.saturating_sub(filled);
    if longer(age, limit) {
        return Some(Finding::new(
            "sinks_early",
            Severity::Stop,
            Room::Times,
            &["pieces", id],
            format!(
                "{name}: filled {} before the doors open, and floats for about {limit} h.",
                hours(age)
            ),
            later,
        ));
    }
    let end = instant(&job.times.strike_from, &job.venue.zone).ok()?;
    let age = end.saturating_sub(filled);
    longer(age, limit).then(|| {
        Finding::new(
            "sinks_late",
            Severity::Care,
            Room::Times,
            &["pieces", id],
            format!(
                "{name}: floats for about {limit} h, and is taken down {} after it was filled.",
                hours(age)
            ),
            later,
        )
    })
}

/// Whether a time is more than so many hours, to the millisecond.
fn longer(ms: i64, limit_h: i64) -> bool {
    ms > limit_h.saturating_mul(HOUR_MS)
}

/// As it is said: `3 h 25 min`. Begun minutes count, so that what is over a limit never reads like the limit.
pub(crate) fn hours(ms: i64) -> String {
    let minutes = ms.saturating_add(59_999).div_euclid(60_000);
    match (minutes.div_euclid(60), minutes.rem_euclid(60)) {
        (h, 0) => format!("{h} h"),
        (0, min) => format!("{min} min"),
        (h, min) => format!("{h} h {min} min"),
    }
}

fn too_old(job: &Job, id: &str, name: &str, age: i64) -> Option<Finding> {
    let rules = &job.rules;
    let outdoors = job.venue.place != Place::Indoors;
    let (code, severity, limit) = if outdoors && longer(age, rules.fresh_outdoors_h) {
        ("too_old_outdoors", Severity::Stop, rules.fresh_outdoors_h)
    } else if longer(age, rules.fresh_stop_h) {
        ("too_old", Severity::Stop, rules.fresh_stop_h)
    } else if longer(age, rules.fresh_care_h) {
        ("ages", Severity::Care, rules.fresh_care_h)
    } else {
        return None;
    };
    Some(Finding::new(
        code,
        severity,
        Room::Times,
        &["pieces", id],
        format!(
            "{name} is begun {} before the doors open; {limit} h is the limit.",
            hours(age)
        ),
        "Add a person or an inflator, or give people longer hours, so that it can be made later.",
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::Job;
    use job::list::live;

    /// A task of a piece at its earliest start has no finding; a second earlier it has one.
    #[test]
    fn the_earliest_start_is_where_the_findings_begin() {
        let mut job = Job::default();
        job.venue.zone = "Europe/London".into();
        job.times.doors_open = "2026-06-01T18:00".into();
        job.times.strike_from = "2026-06-01T23:00".into();
        for (id, kind) in [("bou", PieceKind::Foils), ("gar", PieceKind::Garland)] {
            let piece = Piece {
                kind,
                ..Piece::default()
            };
            job.pieces.insert(id.into(), piece);
        }
        assert_eq!(live(&job.pieces).len(), 2);
        let mut seen = 0;
        for place in [Place::Indoors, Place::Covered, Place::Open] {
            for sun in [false, true] {
                job.venue.place = place;
                job.venue.sun = sun;
                for (piece, work) in [
                    ("gar", "inflate.gar.1"),
                    ("gar", "pump.gar.1"),
                    ("gar", "hang.gar"),
                    ("bou", "helium.bou.1"),
                    ("bou", "place.bou"),
                    ("bou", "foils.bou.1"),
                ] {
                    for careful in [false, true] {
                        let mut task = Task {
                            id: work.into(),
                            piece: piece.into(),
                            duration_s: 900,
                            ..Task::default()
                        };
                        let Some(from) = not_before(&job, &task, careful) else {
                            continue;
                        };
                        let mut found = |start: i64| {
                            task.start_ms = Some(start * 1000);
                            task.end_ms = Some((start + 900) * 1000);
                            let worst = if careful {
                                Severity::Care
                            } else {
                                Severity::Stop
                            };
                            freshness(&job, std::slice::from_ref(&task))
                                .iter()
                                .any(|f| f.severity <= worst)
                        };
                        assert!(!found(from), "{work} {place:?} {careful}");
                        assert!(found(from - 1), "{work} {place:?} {careful}");
                        seen += 1;
                    }
                }
            }
        }
        assert!(seen > 40, "{seen}");
    }
}

//! How old balloons are when the guests come.

use job::piece::{Piece, PieceKind};
use job::site::Place;
use job::time::instant;
use job::{Finding, Job, Room, Severity};

use crate::pieces::called;
use crate::types::Task;

const HOUR_MS: i64 = 3_600_000;

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
        let of_piece = |work: &str| {
            tasks
                .iter()
                .filter(|t| t.piece == *id && t.id.starts_with(work))
                .collect::<Vec<_>>()
        };
        let filled = [of_piece("helium."), of_piece("float.")]
            .concat()
            .iter()
            .filter_map(|t| t.start_ms)
            .min();
        if let Some(filled) = filled {
            findings.extend(floats(job, id, piece, filled, doors));
        }
        let made = [
            of_piece("inflate."),
            of_piece("pump."),
            of_piece("links."),
            of_piece("foils."),
        ]
        .concat()
        .iter()
        .filter_map(|t| t.start_ms)
        .min();
        if let Some(made) = made {
            findings.extend(too_old(job, id, called(piece), doors.saturating_sub(made)));
        }
        let hung = [
            of_piece("hang."),
            of_piece("drape."),
            of_piece("stand."),
            of_piece("place."),
        ]
        .concat()
        .iter()
        .filter_map(|t| t.end_ms)
        .min();
        if let Some(hung) = hung.filter(|_| job.venue.place == Place::Open) {
            let limit = if job.venue.sun {
                job.rules.open_sun_h
            } else {
                job.rules.open_air_h
            };
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
fn hours(ms: i64) -> String {
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

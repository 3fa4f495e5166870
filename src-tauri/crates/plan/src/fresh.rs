//! How old balloons are when the guests come.

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
        let made = [of_piece("inflate."), of_piece("pump."), of_piece("links.")]
            .concat()
            .iter()
            .filter_map(|t| t.start_ms)
            .min();
        if let Some(made) = made {
            findings.extend(too_old(
                job,
                id,
                called(piece),
                (doors - made).div_euclid(HOUR_MS),
            ));
        }
        let hung = [of_piece("hang."), of_piece("drape.")]
            .concat()
            .iter()
            .filter_map(|t| t.start_ms)
            .min();
        if let Some(hung) = hung.filter(|_| job.venue.place == Place::Open) {
            let limit = if job.venue.sun {
                job.rules.open_sun_h
            } else {
                job.rules.open_air_h
            };
            let hours = (doors - hung).div_euclid(HOUR_MS);
            if hours > limit {
                findings.push(Finding::new(
                    "open_air",
                    Severity::Care,
                    Room::Times,
                    &["pieces", id],
                    format!("{} hangs {hours} h in the open before the doors open; {limit} h is the usual limit.", called(piece)),
                    "Hang it later, shade it, or carry more spares.",
                ));
            }
        }
    }
    findings
}

fn too_old(job: &Job, id: &str, name: &str, hours: i64) -> Option<Finding> {
    let rules = &job.rules;
    let outdoors = job.venue.place != Place::Indoors;
    let (code, severity, limit) = if outdoors && hours > rules.fresh_outdoors_h {
        ("too_old_outdoors", Severity::Stop, rules.fresh_outdoors_h)
    } else if hours > rules.fresh_stop_h {
        ("too_old", Severity::Stop, rules.fresh_stop_h)
    } else if hours > rules.fresh_care_h {
        ("ages", Severity::Care, rules.fresh_care_h)
    } else {
        return None;
    };
    Some(Finding::new(
        code,
        severity,
        Room::Times,
        &["pieces", id],
        format!("{name} is begun {hours} h before the doors open; {limit} h is the limit."),
        "Add a person or an inflator, or give people longer hours, so that it can be made later.",
    ))
}

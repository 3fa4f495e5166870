//! Absences that cannot be read, or are nobody's; spreads out of range.

use super::numbers::{number, out_of_range};
use crate::edit::{Edit, Part};
use crate::finding::{Finding, Room, Severity};
use crate::job_doc::Job;
use crate::list::live;
use crate::time::{TimeFault, instant};

pub(super) fn findings(job: &Job) -> Vec<Finding> {
    let mut all: Vec<Finding> = live(&job.away)
        .into_iter()
        .filter_map(|(id, away)| {
            let crew = job.crew.get(&away.crew).filter(|c| !c.gone);
            // read in a zone that exists: an unknown zone has its own finding
            let bad = |text: &str| !matches!(instant(text, "UTC"), Ok(_) | Err(TimeFault::Empty));
            let backwards = !away.from.is_empty() && !away.to.is_empty() && away.to <= away.from;
            let (code, message) = if crew.is_none() {
                ("away_nobody", "Somebody is away who is not on this job.")
            } else if bad(&away.from) || bad(&away.to) {
                ("unreadable_away", "The time of an absence cannot be read.")
            } else if backwards {
                ("away_backwards", "An absence ends before it begins.")
            } else if away.from.trim().is_empty() && away.to.trim().is_empty() {
                (
                    "away_without_end",
                    "An absence says neither from when nor until when.",
                )
            } else {
                return None;
            };
            let path = ["away", id, "from"];
            Some(
                Finding::new(
                    code,
                    Severity::Care,
                    Room::Times,
                    &path,
                    message,
                    "It is not reckoned with. Take it off, or enter it again.",
                )
                .fix(
                    "Take it off",
                    vec![Edit::Remove {
                        part: Part::Job,
                        path: vec!["away".into()],
                        id: id.into(),
                    }],
                ),
            )
        })
        .collect();
    for (id, spread) in live(&job.spreads) {
        let pct = |field, what, value| number(field, what, " %", value, 100, (10, 1000));
        all.extend(out_of_range(
            Part::Job,
            &["spreads", id],
            "Own readings",
            &[
                pct("low_pct", "the lower quarter", spread.low_pct),
                pct("high_pct", "the upper quarter", spread.high_pct),
                number(
                    "jobs",
                    "the number of jobs",
                    "",
                    spread.jobs,
                    3,
                    (0, 10_000),
                ),
            ],
        ));
    }
    all
}

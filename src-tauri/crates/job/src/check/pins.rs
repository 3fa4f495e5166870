//! Pinned times that cannot be read. Whether a pin can be kept is for the plan to say.

use crate::edit::{Edit, Part};
use crate::finding::{Finding, Room, Severity};
use crate::job_doc::Job;
use crate::list::live;
use crate::time::instant;

pub(super) fn findings(job: &Job) -> Vec<Finding> {
    live(&job.pins)
        .into_iter()
        // read in a zone that exists: an unknown zone has its own finding
        .filter(|(_, pin)| instant(&pin.at, "UTC").is_err())
        .map(|(id, _)| {
            Finding::new(
                "unreadable_pin",
                Severity::Care,
                Room::Times,
                &["pins", id, "at"],
                "A pinned time cannot be read.",
                "Take the pin off, or pin the task again.",
            )
            .fix(
                "Take the pin off",
                vec![Edit::Remove {
                    part: Part::Job,
                    path: vec!["pins".into()],
                    id: id.into(),
                }],
            )
        })
        .collect()
}

//! What was written down at the venue: own steps, damage, waste, signatures.

use super::numbers::{called, in_private, number, out_of_range};
use crate::day::strokes;
use crate::edit::{Edit, Part};
use crate::finding::{Finding, Room, Severity};
use crate::job_doc::Job;
use crate::list::live;
use crate::money::Private;

/// More than any job has of anything that is counted by hand.
const MOST: i64 = 1_000_000;

pub(super) fn findings(job: &Job) -> Vec<Finding> {
    let mut all = Vec::new();
    for (id, step) in live(&job.own_steps) {
        if step.text.trim().is_empty() {
            let found = Finding::new(
                "no_step_text",
                Severity::Note,
                Room::Site,
                &["own_steps", id, "text"],
                "A step of your own does not say what to do.",
                "Write it down, or take the step away.",
            );
            let path = vec!["own_steps".into()];
            let gone = Edit::Remove {
                part: Part::Job,
                path,
                id: id.into(),
            };
            all.push(found.fix("Take it away", vec![gone]));
        }
    }
    for (id, damage) in live(&job.damage) {
        let rows = [number(
            "count",
            "The number",
            "",
            damage.count,
            1,
            (0, MOST),
        )];
        let whose = called(&damage.what, "A damage note");
        all.extend(out_of_range(Part::Job, &["damage", id], whose, &rows));
    }
    let waste = &job.waste;
    let rows = [
        number("burst", "Balloons burst", "", waste.burst, 0, (0, MOST)),
        number("bags", "Bags of waste", "", waste.bags, 0, (0, MOST)),
    ];
    all.extend(out_of_range(Part::Job, &["waste"], "", &rows));
    all
}

pub(super) fn private_findings(private: &Private) -> Vec<Finding> {
    let unread = |(id, signed): (&str, &crate::day::Signature)| {
        strokes(&signed.strokes).is_none().then(|| {
            in_private(Finding::new(
                "signature_unread",
                Severity::Care,
                Room::Site,
                &["signatures", id, "strokes"],
                format!(
                    "The signature of {} cannot be drawn.",
                    called(&signed.name, "the client")
                ),
                "Take it away in Site and let it be signed once more.",
            ))
        })
    };
    live(&private.signatures)
        .into_iter()
        .filter_map(unread)
        .collect()
}

//! People with their hours, and kit.

use super::numbers::{called, number, out_of_range};
use crate::edit::Part;
use crate::finding::{Finding, Room, Severity};
use crate::job_doc::Job;
use crate::list::live;
use crate::site::{Crew, Kit};

pub(super) fn findings(job: &Job) -> Vec<Finding> {
    let mut all = Vec::new();
    for (id, person) in live(&job.crew) {
        all.extend(hour_numbers(id, person));
        all.extend(no_person_name(id, person));
    }
    all.extend(kit_numbers(job));
    all
}

fn hour_numbers(id: &str, person: &Crew) -> Vec<Finding> {
    let usual = Crew::default();
    let pace = |field, what, value| number(field, what, " %", value, 100, (10, 400));
    let rows = [
        number(
            "from_min",
            "The first minute of the day",
            "",
            person.from_min,
            usual.from_min,
            (0, 1440),
        ),
        number(
            "to_min",
            "The last minute of the day",
            "",
            person.to_min,
            usual.to_min,
            (0, 1440),
        ),
        pace("blow_pct", "The pace at blowing and tying", person.blow_pct),
        pace(
            "string_pct",
            "The pace at twisting and stringing",
            person.string_pct,
        ),
        pace("room_pct", "The pace in the room", person.room_pct),
        pace(
            "carry_pct",
            "The pace at packing and carrying",
            person.carry_pct,
        ),
    ];
    out_of_range(
        Part::Job,
        &["crew", id],
        called(&person.name, "A person"),
        &rows,
    )
}

fn no_person_name(id: &str, person: &Crew) -> Option<Finding> {
    person.name.trim().is_empty().then(|| {
        Finding::new(
            "no_person_name",
            Severity::Note,
            Room::Brief,
            &["crew", id, "name"],
            "One of the people has no name yet.",
            "Enter it, so that the call sheet can say who.",
        )
    })
}

fn kit_numbers(job: &Job) -> Vec<Finding> {
    live(&job.kit)
        .into_iter()
        .flat_map(|(id, kit)| {
            let usual = Kit::default();
            let side = |field, what, value| number(field, what, " mm", value, 0, (0, 20_000));
            let rows = [
                number("count", "The number", "", kit.count, usual.count, (0, 1000)),
                side("length_mm", "The length as packed", kit.length_mm),
                side("width_mm", "The width as packed", kit.width_mm),
                side("height_mm", "The height as packed", kit.height_mm),
                number("mass_g", "The mass", " g", kit.mass_g, 0, (0, 1_000_000)),
            ];
            out_of_range(
                Part::Job,
                &["kit", id],
                called(&kit.name, "A thing of the kit"),
                &rows,
            )
        })
        .collect()
}

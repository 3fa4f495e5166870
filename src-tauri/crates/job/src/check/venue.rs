//! The job's name, the venue, the way there and what it is carried in.

use super::numbers::{called, number, out_of_range};
use crate::edit::{Edit, Part};
use crate::finding::{Finding, Room, Severity};
use crate::job_doc::Job;
use crate::list::live;
use crate::site::{Blocked, Door, Drive, Vehicle, Venue};
use crate::time::zone;

pub(super) fn findings(job: &Job) -> Vec<Finding> {
    let mut all = Vec::new();
    all.extend(no_name(job));
    all.extend(unknown_zone(job));
    all.extend(venue_numbers(&job.venue));
    all.extend(drive_numbers(&job.drive));
    all.extend(vehicles(job));
    all.extend(door_numbers(job));
    all
}

fn no_name(job: &Job) -> Option<Finding> {
    job.name.trim().is_empty().then(|| {
        Finding::new(
            "no_name",
            Severity::Note,
            Room::Brief,
            &["name"],
            "The job has no name yet.",
            "Give it a name, so that lists and papers can tell it from others.",
        )
    })
}

fn unknown_zone(job: &Job) -> Option<Finding> {
    let entered = job.venue.zone.as_str();
    if zone(entered).is_some() {
        return None;
    }
    let found = Finding::new(
        "unknown_zone",
        Severity::Stop,
        Room::Brief,
        &["venue", "zone"],
        if entered.trim().is_empty() {
            "The venue has no time zone, so no time can be worked out.".to_string()
        } else {
            format!("There is no time zone {entered}, so no time can be worked out.")
        },
        "Choose the zone of the venue.",
    );
    Some(match nearly(entered) {
        Some(name) => found.fix(
            format!("Set to {name}"),
            vec![Edit::set(&["venue", "zone"], name)],
        ),
        None => found,
    })
}

/// The zone that differs from the text in case, spaces or dashes only.
fn nearly(entered: &str) -> Option<&'static str> {
    let plain = |text: &str| -> String {
        text.chars()
            .filter(|c| c.is_alphanumeric() || *c == '/')
            .flat_map(char::to_lowercase)
            .collect()
    };
    let wanted = plain(entered);
    chrono_tz::TZ_VARIANTS
        .iter()
        .map(|zone| zone.name())
        .find(|name| !wanted.is_empty() && plain(name) == wanted)
}

fn venue_numbers(venue: &Venue) -> Vec<Finding> {
    let usual = Venue::default();
    let rows = [
        number(
            "altitude_m",
            "The height above the sea",
            " m",
            venue.altitude_m,
            usual.altitude_m,
            // from the shore of the Dead Sea to above the highest towns
            (-450, 6000),
        ),
        number(
            "ceiling_mm",
            "The height of the ceiling",
            " mm",
            venue.ceiling_mm,
            usual.ceiling_mm,
            (0, 200_000),
        ),
        number(
            "temperature_dc",
            "The temperature in tenths of a degree",
            "",
            venue.temperature_dc,
            usual.temperature_dc,
            (-400, 600),
        ),
        number(
            "walk_m",
            "The walk from the vehicle",
            " m",
            venue.walk_m,
            usual.walk_m,
            (0, 5000),
        ),
        number(
            "stair_steps",
            "The number of steps",
            "",
            venue.stair_steps,
            usual.stair_steps,
            (0, 3000),
        ),
    ];
    out_of_range(Part::Job, &["venue"], "", &rows)
}

fn drive_numbers(drive: &Drive) -> Vec<Finding> {
    let rows = [
        number(
            "minutes",
            "The drive",
            " min",
            drive.minutes,
            0,
            // one task; a longer way needs nights between, which a job does not plan
            (0, 1440),
        ),
        number(
            "distance_hm",
            "The distance in tenths of a kilometre",
            "",
            drive.distance_hm,
            0,
            (0, 30_000),
        ),
    ];
    out_of_range(Part::Job, &["drive"], "", &rows)
}

/// Every vehicle that goes along: its numbers, and whether what is in the way lies within it.
fn vehicles(job: &Job) -> Vec<Finding> {
    let mut all = vehicle_numbers(&["vehicle"], &job.vehicle);
    for (id, van) in live(&job.vans) {
        all.extend(vehicle_numbers(&["vans", id, "vehicle"], &van.vehicle));
    }
    all
}

fn vehicle_numbers(at: &[&str], vehicle: &Vehicle) -> Vec<Finding> {
    let usual = Vehicle::default();
    let side = |field, what, value, usual| number(field, what, " mm", value, usual, (0, 20_000));
    let rows = [
        side(
            "length_mm",
            "The length",
            vehicle.length_mm,
            usual.length_mm,
        ),
        side("width_mm", "The width", vehicle.width_mm, usual.width_mm),
        side(
            "height_mm",
            "The height",
            vehicle.height_mm,
            usual.height_mm,
        ),
        side(
            "door_width_mm",
            "The width of its door",
            vehicle.door_width_mm,
            usual.door_width_mm,
        ),
        side(
            "door_height_mm",
            "The height of its door",
            vehicle.door_height_mm,
            usual.door_height_mm,
        ),
        number(
            "payload_g",
            "What it may carry",
            " g",
            vehicle.payload_g,
            usual.payload_g,
            // the heaviest lorries of the road carry less
            (0, 40_000_000),
        ),
    ];
    let whose = called(&vehicle.name, "The vehicle");
    let mut all = out_of_range(Part::Job, at, whose, &rows);
    all.extend(blocked(at, vehicle, whose));
    all
}

/// A box that lies outside the load space, or has no size, blocks nothing.
fn blocked(at: &[&str], vehicle: &Vehicle, whose: &str) -> Option<Finding> {
    let space = [vehicle.length_mm, vehicle.width_mm, vehicle.height_mm];
    let outside = |b: &Blocked| {
        let from = [b.x_mm, b.y_mm, b.z_mm];
        let sides = [b.length_mm, b.width_mm, b.height_mm];
        (0..3).any(|a| from[a] < 0 || sides[a] <= 0 || from[a].saturating_add(sides[a]) > space[a])
    };
    let n = vehicle.blocked.iter().filter(|b| outside(b)).count();
    (n > 0 && space.iter().all(|s| *s > 0)).then(|| {
        Finding::new(
            "blocked_outside",
            Severity::Care,
            Room::Load,
            &[at, &["blocked"]].concat(),
            match n {
                1 => format!("{whose}: one thing in the way does not lie within the load space."),
                n => format!("{whose}: {n} things in the way do not lie within the load space."),
            },
            "Measure where it begins and how large it is; what lies outside is left out.",
        )
    })
}

fn door_numbers(job: &Job) -> Vec<Finding> {
    let usual = Door::default();
    live(&job.doors)
        .into_iter()
        .flat_map(|(id, door)| {
            let rows = [
                number(
                    "width_mm",
                    "The clear width",
                    " mm",
                    door.width_mm,
                    usual.width_mm,
                    (0, 50_000),
                ),
                number(
                    "height_mm",
                    "The clear height",
                    " mm",
                    door.height_mm,
                    usual.height_mm,
                    (0, 50_000),
                ),
                number(
                    "second_mm",
                    "The width of the second corridor",
                    " mm",
                    door.second_mm,
                    usual.second_mm,
                    (0, 50_000),
                ),
                number(
                    "landing_mm",
                    "The depth of the landing",
                    " mm",
                    door.landing_mm,
                    usual.landing_mm,
                    (0, 50_000),
                ),
                number(
                    "car_width_mm",
                    "The width of the lift car",
                    " mm",
                    door.car_width_mm,
                    usual.car_width_mm,
                    (0, 20_000),
                ),
                number(
                    "car_depth_mm",
                    "The depth of the lift car",
                    " mm",
                    door.car_depth_mm,
                    usual.car_depth_mm,
                    (0, 20_000),
                ),
                number(
                    "car_height_mm",
                    "The height of the lift car",
                    " mm",
                    door.car_height_mm,
                    usual.car_height_mm,
                    (0, 20_000),
                ),
                number(
                    "load_g",
                    "What the lift may carry",
                    " g",
                    door.load_g,
                    usual.load_g,
                    (0, 40_000_000),
                ),
            ];
            out_of_range(
                Part::Job,
                &["doors", id],
                called(&door.name, "A door"),
                &rows,
            )
        })
        .collect()
}

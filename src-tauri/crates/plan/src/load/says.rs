//! What is said of the load as a whole: trips and why there are so many, what finds no place, what has to be set aside.

use job::list::live;
use job::site::KitKind;
use job::{Edit, Finding, Job, Room, Severity};
use solve::loading::fleet::Reason;

use super::choice::{at_the_venue, may_choose};
use super::stow::Outcome;
use super::travelling;
use crate::garland::Depth;
use crate::inflate::{nearest, up, whole};
use crate::pieces::called;
use crate::safety::kilograms;
use crate::types::Load;

/// Above this share of the load space it is tight, percent.
const TIGHT_PCT: i64 = 80;
/// Room that is missing is looked for no closer than this, mm.
const ROOM_STEP: f64 = 50.0;
/// So many codes are named in a sentence.
const NAMED: usize = 6;
/// So many parcels without a place have their finding.
const MOST_NAMED: usize = 12;

/// All that is to be said.
pub(super) fn findings(job: &Job, load: &Load, outcome: &Outcome, depth: Depth) -> Vec<Finding> {
    let mut all = Vec::new();
    if *outcome == Outcome::NoVehicle {
        all.push(no_space());
    }
    if *outcome == Outcome::TooMany && depth == Depth::Final {
        all.push(too_many_to_stow(load.parcels.len()));
    }
    all.extend(without_place(load, outcome));
    all.extend(trips(job, load, outcome));
    all.extend(set_aside(load));
    all.extend(tight(load));
    all.extend(drivers(job, load));
    all.extend(no_inflator_there(job));
    all
}

/// More parcels than are listed.
pub(super) fn too_many(listed: usize) -> Finding {
    Finding::new(
        "too_many_parcels",
        Severity::Stop,
        Room::Load,
        &["rules", "length_mm"],
        format!(
            "There are more than {} bags and cases. The others are not listed, and not in the volume.",
            listed - 1
        ),
        "Check the numbers of frames, chains and kit, and the length that garlands are carried in.",
    )
}

fn no_space() -> Finding {
    Finding::new(
        "no_space",
        Severity::Care,
        Room::Load,
        &["vehicle"],
        "The vehicle has no load space yet.",
        "Enter its length, width and height.",
    )
}

fn too_many_to_stow(parcels: usize) -> Finding {
    Finding::new(
        "too_many_to_stow",
        Severity::Care,
        Room::Load,
        &["vehicle"],
        format!(
            "{parcels} bags and cases are too many to give each its place. The trips are the fewest that the volume allows."
        ),
        "Leave room to spare, or put small things together in cases.",
    )
}

/// Parcels that pass every door and go in by their measures, and still find no place.
fn without_place(load: &Load, outcome: &Outcome) -> Vec<Finding> {
    let Outcome::Stowed { .. } = outcome else {
        return Vec::new();
    };
    let heaviest = load.spaces.iter().map(|s| s.payload_g).max().unwrap_or(0);
    let weak = load.spaces.iter().all(|s| s.payload_g > 0);
    let left = load
        .parcels
        .iter()
        .filter(|p| p.stow.is_none() && p.stuck_at.is_empty());
    left.take(MOST_NAMED)
        .map(|parcel| match parcel.mass_g {
            Some(mass) if weak && mass > heaviest => Finding::new(
                "too_heavy",
                Severity::Stop,
                Room::Load,
                &["vehicle", "payload_g"],
                format!(
                    "{} weighs {} kg, and no vehicle may carry more than {} kg.",
                    parcel.name,
                    kilograms(mass),
                    kilograms(heaviest)
                ),
                "Take a vehicle that may carry more, or take it apart.",
            ),
            _ => Finding::new(
                "not_stowed",
                Severity::Stop,
                Room::Load,
                &["vehicle"],
                format!(
                    "{} ({} x {} x {} mm) finds no place in {}: what is in the way, or its door, leaves no room for it as it has to lie.",
                    parcel.name,
                    parcel.length_mm,
                    parcel.width_mm,
                    parcel.height_mm,
                    vehicles(load)
                ),
                "Take a larger vehicle, or carry it in parts.",
            ),
        })
        .collect()
}

/// `Small van`, `Small van and Estate car`.
fn vehicles(load: &Load) -> String {
    let names: Vec<&str> = load.spaces.iter().map(|s| s.name.as_str()).collect();
    match names.split_last() {
        Some((last, [])) => (*last).to_string(),
        Some((last, first)) => format!("{} and {last}", first.join(", ")),
        None => String::new(),
    }
}

fn trips(job: &Job, load: &Load, outcome: &Outcome) -> Option<Finding> {
    if load.rounds <= 1 {
        return None;
    }
    let (at_least, why) = match outcome {
        Outcome::Stowed { why } => ("", why.as_ref().map(because).unwrap_or_default()),
        Outcome::NoVehicle | Outcome::TooMany => ("at least ", String::new()),
    };
    let found = Finding::new(
        "more_trips",
        Severity::Care,
        Room::Load,
        &["vehicle"],
        format!(
            "Not everything goes into {} at once: {at_least}{} trips.{why}",
            vehicles(load),
            load.trips
        ),
        "Take a larger vehicle or one more, blow a piece at the venue, or plan for the trips.",
    );
    Some(match largest_piece(job, load) {
        Some((id, name)) => found.fix(
            format!("Blow {name} at the venue"),
            vec![Edit::set(&["pieces", id, "blown_at"], "venue")],
        ),
        None => found,
    })
}

/// Why it does not all go in at once.
fn because(reason: &Reason) -> String {
    match reason {
        Reason::Mass(over) => format!(" It is {} kg too heavy for one.", kilograms(*over)),
        Reason::Fragile => " If bags could carry cases it would go in.".into(),
        Reason::Support => {
            " If things could stick out further over what carries them it would go in.".into()
        }
        Reason::Room(mm) => {
            let about = up(f64::from(*mm) / ROOM_STEP) * nearest(ROOM_STEP);
            format!(
                " About {} m more length would take it.",
                whole(about) / 1000.0
            )
        }
        // in twice the length no way was found with the work that there is: no proof
        Reason::FarTooLittle | Reason::Order(_) | Reason::Size(_) => String::new(),
    }
}

/// The piece whose bags take most room, if it could be blown at the venue: its id and name.
fn largest_piece<'a>(job: &'a Job, load: &Load) -> Option<(&'a str, &'a str)> {
    let room = |id: &str| {
        let bags = load.parcels.iter().filter(|p| p.soft && p.piece == id);
        bags.map(|p| p.volume_ml).fold(0, i64::saturating_add)
    };
    live(&job.pieces)
        .into_iter()
        .filter(|(id, piece)| may_choose(piece) && !at_the_venue(piece) && room(id) > 0)
        .rev()
        .max_by_key(|(id, _)| room(id))
        .map(|(id, piece)| (id, called(piece)))
}

fn set_aside(load: &Load) -> Vec<Finding> {
    let runs = load.runs.iter().filter(|r| !r.set_aside.is_empty());
    runs.map(|run| {
        let which = named(&run.set_aside);
        let trip = if load.runs.len() > 1 {
            format!("Trip {}: ", run.trip)
        } else {
            String::new()
        };
        Finding::new(
            "set_aside",
            Severity::Note,
            Room::Load,
            &["vehicle"],
            format!(
                "{trip}{which} must be set aside on the way out to reach what is needed first."
            ),
            "Leave a place for it at the door of the vehicle.",
        )
    })
    .collect()
}

/// `B1, B2 and 3 more`.
fn named(codes: &[String]) -> String {
    let first: Vec<&str> = codes.iter().take(NAMED).map(String::as_str).collect();
    match codes.len().saturating_sub(NAMED) {
        0 => first.join(", "),
        more => format!("{} and {more} more", first.join(", ")),
    }
}

fn tight(load: &Load) -> Option<Finding> {
    if load.rounds > 1 || load.space_ml <= 0 {
        return None;
    }
    let over = i128::from(load.volume_ml) * 100 > i128::from(load.space_ml) * i128::from(TIGHT_PCT);
    let litres = |ml: i64| nearest(whole(ml) / 1000.0);
    over.then(|| {
        Finding::new(
            "tight",
            Severity::Note,
            Room::Load,
            &["vehicle"],
            format!(
                "{} of {} L: it {} in, but it will be tight.",
                litres(load.volume_ml),
                litres(load.space_ml),
                if load.stowed { "goes" } else { "may go" }
            ),
            "Load in the order of the drawing, and leave time for it.",
        )
    })
}

/// Each vehicle needs somebody who drives it.
fn drivers(job: &Job, load: &Load) -> Option<Finding> {
    let crew = live(&job.crew);
    let drivers = crew.iter().filter(|(_, c)| c.drives).count();
    // nobody who drives at all is a matter of the times
    (drivers > 0 && drivers < load.spaces.len()).then(|| {
        Finding::new(
            "too_few_drivers",
            Severity::Stop,
            Room::Load,
            &["vans"],
            format!(
                "{} vehicles go along, and {} of the people drive.",
                load.spaces.len(),
                drivers
            ),
            "Add somebody who drives, or leave a vehicle at home.",
        )
    })
}

/// A piece is blown at the venue, and nothing to blow it with goes along.
fn no_inflator_there(job: &Job) -> Option<Finding> {
    let (_, piece) = live(&job.pieces)
        .into_iter()
        .find(|(_, p)| at_the_venue(p))?;
    let along = travelling(job).any(|(_, k)| matches!(k.kind, KitKind::Inflator | KitKind::Pump));
    if along {
        return None;
    }
    let found = Finding::new(
        "no_inflator_there",
        Severity::Stop,
        Room::Load,
        &["kit"],
        format!(
            "{} is blown at the venue, and no inflator or pump goes along.",
            called(piece)
        ),
        "Take an inflator along, and ask the venue for a socket.",
    );
    let at_home = live(&job.kit)
        .into_iter()
        .find(|(_, k)| k.kind == KitKind::Inflator && k.stays && k.count > 0);
    Some(match at_home {
        Some((id, kit)) => found.fix(
            format!("Take along {}", super::kit_name(kit)),
            vec![Edit::set(&["kit", id, "stays"], false)],
        ),
        None => found,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn of_many_codes_the_first_are_named() {
        let codes: Vec<String> = (1..=8).map(|n| format!("B{n}")).collect();
        assert_eq!(named(&codes), "B1, B2, B3, B4, B5, B6 and 2 more");
        assert_eq!(named(&codes[..1]), "B1");
    }
}

//! The way of every parcel into a vehicle and from there to the room: doors, corners, lifts and stairs. A rigid parcel goes by the
//! rules of `solve::loading::portal`; a bag gives way by its squeeze, bends round corners, and may lie bent once.

use job::list::live;
use job::piece::PieceKind;
use job::site::{Door, PortalKind};
use job::{Edit, Finding, Job, Room, Severity};
use solve::loading::portal::{Carried, Portal, first_that_fails};

use super::choice::may_choose;
use super::squeezed_sides;
use super::stow::upright;
use crate::inflate::{nearest, up, whole};
use crate::safety::kilograms;
use crate::types::{Parcel, Space, Stuck};

/// So many parcels that do not pass have their finding; the others are marked in the list.
pub(super) const MOST_STUCK: usize = 12;
/// What is not known is as wide as this, mm: it stops nothing.
const OPEN: i64 = 100_000;
/// Carry lengths are cured to full steps of this, mm, and not below that.
const LENGTH_STEP_MM: i64 = 100;
/// See [`LENGTH_STEP_MM`].
const SHORTEST_MM: i64 = 300;

/// Share of a lift's car that is filled: one rides along, and nothing is pressed. Common practice, no source.
const CAR_FILL: f64 = 0.6;

/// How the name of a vehicle's door ends.
const DOOR: &str = ", door";

/// Something on the way that a parcel has to pass.
struct Gate {
    /// Id in the job; empty for a vehicle.
    door: String,
    kind: Option<PortalKind>,
    name: String,
    /// Its measures, for a sentence.
    says: String,
    portal: Portal,
    path: Vec<String>,
}

/// Marks the parcels that do not pass or go in, and says it of each; of very many it says how many more there are.
pub(super) fn stuck(job: &Job, parcels: &mut [Parcel], spaces: &[Space]) -> Vec<Finding> {
    let gates: Vec<Gate> = live(&job.doors)
        .into_iter()
        .map(|(id, door)| gate(id, door))
        .collect();
    let mut findings = Vec::new();
    for parcel in parcels {
        let found = into_a_vehicle(job, parcel, spaces).or_else(|| {
            gates.iter().find_map(|gate| {
                at_gate(job, parcel, gate)
                    .map(|stuck| (stuck, gate.says.clone(), gate.path.clone()))
            })
        });
        if let Some((mut stuck, says, path)) = found {
            let (words, fix) = cure(job, parcel, &stuck);
            stuck.cure = words;
            findings.push(finding(parcel, &stuck, &says, &path, fix));
            parcel.stuck_at.clone_from(&stuck.name);
            parcel.stuck = Some(stuck);
        }
    }
    let more = findings.len().saturating_sub(MOST_STUCK);
    findings.truncate(MOST_STUCK);
    if let Some(last) = findings.last_mut().filter(|_| more > 0) {
        last.message = format!("{} The same holds for {more} more.", last.message);
    }
    findings
}

fn gate(id: &str, door: &Door) -> Gate {
    let mm = |value: i64| {
        i32::try_from(if value > 0 { value.min(OPEN) } else { OPEN }).unwrap_or(i32::MAX)
    };
    let (wide, high) = (mm(door.width_mm), mm(door.height_mm));
    let (portal, says) = match door.kind {
        PortalKind::Corner => (
            Portal::Corner {
                widths: [wide, mm(door.second_mm)],
                height: high,
            },
            format!(
                "{} and {} mm wide, {} mm high",
                door.width_mm, door.second_mm, door.height_mm
            ),
        ),
        PortalKind::Lift => (
            Portal::Lift {
                door: [wide, high],
                car: [
                    mm(door.car_width_mm),
                    mm(door.car_depth_mm),
                    mm(door.car_height_mm),
                ],
            },
            format!(
                "door {} x {} mm, car {} x {} x {} mm",
                door.width_mm,
                door.height_mm,
                door.car_width_mm,
                door.car_depth_mm,
                door.car_height_mm
            ),
        ),
        PortalKind::Stair => (
            Portal::Stair {
                width: wide,
                headroom: high,
                landing: (door.landing_mm > 0).then(|| mm(door.landing_mm)),
            },
            match door.landing_mm {
                0 => format!("{} mm wide, headroom {} mm", door.width_mm, door.height_mm),
                landing => format!(
                    "{} mm wide, headroom {} mm, landing {landing} mm",
                    door.width_mm, door.height_mm
                ),
            },
        ),
        PortalKind::Door | PortalKind::Newer => (
            Portal::Opening([wide, high]),
            format!("{} x {} mm", door.width_mm, door.height_mm),
        ),
    };
    Gate {
        door: id.into(),
        kind: Some(door.kind),
        name: match door.name.trim() {
            "" => unnamed(door.kind).into(),
            name => name.into(),
        },
        says,
        portal,
        path: vec!["doors".into(), id.into()],
    }
}

fn unnamed(kind: PortalKind) -> &'static str {
    match kind {
        PortalKind::Corner => "Corner without a name",
        PortalKind::Lift => "Lift without a name",
        PortalKind::Stair => "Stair without a name",
        PortalKind::Door | PortalKind::Newer => "Door without a name",
    }
}

/// Where a parcel is stuck, what that measures, and where it was entered.
type Found = (Stuck, String, Vec<String>);

/// What stops a parcel from going into any of the vehicles: the first says why.
fn into_a_vehicle(job: &Job, parcel: &Parcel, spaces: &[Space]) -> Option<Found> {
    let mut first = None;
    for space in spaces {
        match into(job, parcel, space) {
            None => return None,
            found => first = first.or(found),
        }
    }
    first
}

fn into(job: &Job, parcel: &Parcel, space: &Space) -> Option<Found> {
    let path: Vec<String> = match space.van.as_str() {
        "" => vec!["vehicle".into()],
        van => vec!["vans".into(), van.into(), "vehicle".into()],
    };
    if space.door_width_mm > 0 && space.door_height_mm > 0 {
        let mm = |value: i64| i32::try_from(value.min(OPEN)).unwrap_or(i32::MAX);
        let door = Gate {
            door: String::new(),
            kind: None,
            name: format!("{}{DOOR}", space.name),
            says: format!("{} x {} mm", space.door_width_mm, space.door_height_mm),
            portal: Portal::Opening([mm(space.door_width_mm), mm(space.door_height_mm)]),
            path: path.clone(),
        };
        if let Some(stuck) = at_gate(job, parcel, &door) {
            return Some((stuck, door.says, path));
        }
    }
    let sides = [space.length_mm, space.width_mm, space.height_mm];
    let (side, by_mm) = outside(job, parcel, sides)?;
    let says = format!("{} x {} x {} mm", sides[0], sides[1], sides[2]);
    let stuck = Stuck {
        name: space.name.clone(),
        side: side.into(),
        by_mm,
        ..Stuck::default()
    };
    Some((stuck, says, path))
}

/// What sticks out of a space, in which it lies with its sides along the sides of the space: which side and by how much, mm. A bag
/// may lie bent once, along two of the sides.
pub(super) fn outside(job: &Job, parcel: &Parcel, space: [i64; 3]) -> Option<(&'static str, i64)> {
    let sides = squeezed_sides(job, parcel);
    let mut space = space.map(whole);
    space.sort_by(f64::total_cmp);
    let along = if parcel.soft {
        space[2].max(space[2] + space[1] - sides[1])
    } else {
        space[2]
    };
    let over = [sides[0] - space[0], sides[1] - space[1], sides[2] - along];
    let names = ["height", "width", "length"];
    (0..3)
        .rev()
        .find(|i| over[*i] > 0.0)
        .map(|i| (names[i], up(over[i])))
}

/// Whether and where a parcel is stuck at one thing on the way.
fn at_gate(job: &Job, parcel: &Parcel, gate: &Gate) -> Option<Stuck> {
    let (side, by_mm) = if parcel.soft {
        soft(job, parcel, gate.portal)?
    } else {
        let sides = [parcel.length_mm, parcel.width_mm, parcel.height_mm];
        let carried = Carried {
            sides: sides.map(|s| i32::try_from(s.clamp(0, OPEN)).unwrap_or(i32::MAX)),
            may_tilt: !upright(job, parcel),
        };
        let stuck = first_that_fails(&[gate.portal], &carried)?;
        let side = ["length", "width", "height"].get(stuck.side).copied()?;
        (side, i64::from(stuck.by))
    };
    Some(Stuck {
        door: gate.door.clone(),
        kind: gate.kind,
        name: gate.name.clone(),
        side: side.into(),
        by_mm,
        cure: String::new(),
    })
}

/// A bag at a portal: the side that is too long and by how much, mm.
fn soft(job: &Job, parcel: &Parcel, portal: Portal) -> Option<(&'static str, i64)> {
    let through = |clear: [i32; 2]| {
        let sides = squeezed_sides(job, parcel);
        let mut clear = clear.map(f64::from);
        clear.sort_by(f64::total_cmp);
        let over = (sides[0] - clear[0]).max(sides[1] - clear[1]);
        (over > 0.0).then(|| ("width", up(over)))
    };
    match portal {
        Portal::Opening(clear) => through(clear),
        Portal::Corner { widths, height } => through([widths[0].min(widths[1]), height]),
        Portal::Lift { door, car } => {
            through(door).or_else(|| outside(job, parcel, car.map(i64::from)))
        }
        Portal::Stair {
            width, headroom, ..
        } => through([width, headroom]),
    }
}

/// A cure that the program can make: its words and its edits.
type Fix = (String, Vec<Edit>);

/// What would help, in words, and edits that do it where there are any.
fn cure(job: &Job, parcel: &Parcel, stuck: &Stuck) -> (String, Option<Fix>) {
    let Some(piece) = job.pieces.get(&parcel.piece) else {
        let way = if stuck.kind.is_some() {
            "Leave it at home, take a smaller one, or find another way in."
        } else {
            "Leave it at home, or take a larger vehicle."
        };
        return (way.into(), None);
    };
    let larger = if stuck.kind.is_some() {
        "find another way in"
    } else {
        "take a larger vehicle"
    };
    if parcel.soft {
        return match shorter(job, parcel, piece.kind, stuck) {
            Some((length, fix)) => (
                format!(
                    "Carry it in lengths of at most {length} mm, blow it at the venue, or {larger}."
                ),
                Some(fix),
            ),
            None if may_choose(piece) => {
                let path = ["pieces", parcel.piece.as_str(), "blown_at"];
                let fix = (
                    "Blow it at the venue".into(),
                    vec![Edit::set(&path, "venue")],
                );
                (
                    format!("Carry thinner bags, blow it at the venue, or {larger}."),
                    Some(fix),
                )
            }
            None => (format!("Carry thinner bags, or {larger}."), None),
        };
    }
    if piece.frame.halves {
        let half = piece.frame.packed_length_mm.saturating_add(1) / 2;
        let twice = piece.frame.packed_height_mm.saturating_mul(2);
        let frame = ["pieces", parcel.piece.as_str(), "frame"];
        let set = |field: &str, value: serde_json::Value| {
            Edit::set(&[frame[0], frame[1], frame[2], field], value)
        };
        let fix = (
            "Carry it in two lengths".into(),
            vec![
                set("packed_length_mm", half.into()),
                set("packed_height_mm", twice.into()),
                set("halves", false.into()),
            ],
        );
        return (format!("Carry it in two lengths, or {larger}."), Some(fix));
    }
    (
        format!(
            "Take it apart if it is made for that, and enter what it measures then; or {larger}."
        ),
        None,
    )
}

/// A carry length at which a garland or a column would go in, where its length is what is too long.
fn shorter(job: &Job, parcel: &Parcel, kind: PieceKind, stuck: &Stuck) -> Option<(i64, Fix)> {
    let cut = matches!(kind, PieceKind::Garland | PieceKind::Classic);
    let length = (parcel.length_mm - stuck.by_mm) / LENGTH_STEP_MM * LENGTH_STEP_MM;
    let helps =
        stuck.side == "length" && cut && length >= SHORTEST_MM && length < job.rules.length_mm;
    helps.then(|| {
        let edit = Edit::set(&["rules", "length_mm"], length);
        (
            length,
            (format!("Carry lengths of at most {length} mm"), vec![edit]),
        )
    })
}

/// What is said of a parcel that is stuck, with its cure.
fn finding(
    parcel: &Parcel,
    stuck: &Stuck,
    says: &str,
    path: &[String],
    fix: Option<Fix>,
) -> Finding {
    let path: Vec<&str> = path.iter().map(String::as_str).collect();
    let (code, does) = if stuck.kind.is_none() && !stuck.name.ends_with(DOOR) {
        ("too_long", "does not go into")
    } else {
        ("too_wide", "does not pass")
    };
    let found = Finding::new(
        code,
        Severity::Stop,
        Room::Load,
        &path,
        format!(
            "{} ({} x {} x {} mm) {does} {} ({says}). With {} mm less in {} it would.",
            parcel.name,
            parcel.length_mm,
            parcel.width_mm,
            parcel.height_mm,
            stuck.name,
            stuck.by_mm,
            stuck.side
        ),
        stuck.cure.as_str(),
    );
    match fix {
        Some((label, edits)) => found.fix(label, edits),
        None => found,
    }
}

/// What the lifts on the way carry: things that are too heavy for one, and about how often it goes.
pub(super) fn lifts(job: &Job, parcels: &[Parcel], mass_g: i64, volume_ml: i64) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (id, door) in live(&job.doors) {
        if door.kind != PortalKind::Lift {
            continue;
        }
        let gate = gate(id, door);
        let load = door.load_g.max(0);
        let heavy = parcels
            .iter()
            .find(|p| load > 0 && p.mass_g.is_some_and(|m| m > load));
        if let Some(parcel) = heavy {
            findings.push(Finding::new(
                "too_heavy_for_lift",
                Severity::Stop,
                Room::Load,
                &["doors", id, "load_g"],
                format!(
                    "{} weighs {} kg, and {} carries {} kg.",
                    parcel.name,
                    kilograms(parcel.mass_g.unwrap_or(0)),
                    gate.name,
                    kilograms(load)
                ),
                "Take it apart, or find another way up.",
            ));
        }
        let rides = lift_rides(door, mass_g, volume_ml);
        if rides > 1 {
            findings.push(Finding::new(
                "lift_rides",
                Severity::Note,
                Room::Load,
                &["doors", id],
                format!("{} goes up about {rides} times.", gate.name),
                "Ask the venue to keep it free, and leave time for it.",
            ));
        }
    }
    findings
}

/// About how often a lift goes with everything: by what it carries, and by what fits in its car.
pub(crate) fn lift_rides(door: &Door, mass_g: i64, volume_ml: i64) -> i64 {
    let car = [door.car_width_mm, door.car_depth_mm, door.car_height_mm];
    let car_mm3: f64 = car.map(|s| whole(s.clamp(0, OPEN))).iter().product();
    let at_once_ml = nearest(car_mm3 / 1000.0 * CAR_FILL);
    rides(mass_g, door.load_g.max(0)).max(rides(volume_ml, at_once_ml))
}

/// How often something goes that takes so much at once; once where that is not known.
fn rides(all: i64, at_once: i64) -> i64 {
    if at_once > 0 {
        up(whole(all) / whole(at_once)).max(1)
    } else {
        1
    }
}

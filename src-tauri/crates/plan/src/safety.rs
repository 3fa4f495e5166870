//! Cautions where they matter, and findings about safety.
//!
//! Usual caution only. What the venue, the makers and local codes say comes first, and licensed people decide what needs them.

pub(crate) mod made;

use job::list::live;
use job::piece::{Mount, PieceKind};
use job::site::{KitKind, Place};
use job::{Finding, Job, Room, Severity};

use crate::frames::brought;
use crate::inflate::{nearest, whole};
use crate::load::kit_name;
use crate::pieces::{Counted, called};
use crate::types::{Caution, Load, Phase, PiecePlan};

/// Where balloons are made, degrees Celsius: a heated studio.
const STUDIO_C: f64 = 20.0;
/// Warmer at the venue by this is pointed out, K.
const WARMER_K: f64 = 5.0;
/// Higher than this above the sea is pointed out, m.
const HIGH_M: i64 = 600;
/// Zero of the Celsius scale, K.
const ZERO_C: f64 = 273.15;

/// Said wherever people are told what to do.
pub const ALWAYS: &str = "Follow the venue, the maker's instructions and local codes. For anything overhead, outdoors or public get a competent person to check it.";
/// At the step where the balloons arrive.
pub const CHOKING: &str = "Uninflated and broken balloons choke: keep children away.";
/// At the step where an inflator runs.
pub const INFLATOR: &str = "Let the inflator rest as its maker says.";
/// At the step where large balloons are sized.
pub const LARGE: &str =
    "Eye protection: large balloons burst hard. Let the inflator rest as its maker says.";
/// At the step where tails are trimmed.
pub const TRIM: &str = "Eye protection when trimming.";
/// At the step where tools are packed.
pub const SHARP: &str = "Sharp tools into a closed case, away from children.";
/// At the step where somebody climbs.
pub const LADDER: &str = "Ladder on firm ground. Three points of contact, never from the top step.";
/// At the step where something is hung from the ceiling.
pub const OVERHEAD: &str = "Only on points that the venue names. Ladder on firm ground, three points of contact, never from the top step.";
/// At the step where a frame is set up.
pub const FRAME: &str = "Two to set it up. Ballast before anything hangs on it.";
/// At the step where a frame gets its ballast.
pub const BALLAST: &str = "Ballast every frame before anything hangs on it.";
/// At the step where two are needed.
pub const TWO_TO_LIFT: &str = "Two to lift long pieces.";
/// A piece longer than this is lifted by two, mm. Common practice, no source.
pub(crate) const LONG_MM: i64 = 1500;
/// What weighs more is lifted by two, g: the reference mass of the NIOSH lifting equation.
pub(crate) const HEAVY_G: i64 = 23_000;
/// At the step where ways out are looked at.
pub const EXITS: &str = "Whatever hides an exit or a sign is moved before anybody comes in.";
/// At the step where scraps are gathered.
pub const SCRAPS: &str = "Gather every broken balloon: it chokes children and animals.";
/// At the step where the client takes over.
pub const RELEASE: &str = "Balloons are never released outdoors: say so.";
/// At the step where the client takes over outdoors.
pub const WIND: &str =
    "Agree on the wind at which it comes down, and on who watches it. Balloons are never released.";
/// At the step where a frame comes down.
pub const FRAME_DOWN: &str = "Ballast comes off last, when nothing hangs any more. Two to lift.";
/// At the step where balloons are popped.
pub const EYES: &str = "Eye protection. Keep tools and broken balloons away from children.";

/// Rounds from this nominal size on are called large, in. Common practice, no source.
const LARGE_IN: i64 = 24;

/// Whether a piece has balloons that burst hard.
pub(crate) fn has_large(counted: &Counted, piece: &str) -> bool {
    counted
        .sizing
        .iter()
        .any(|s| s.piece == piece && s.size_in >= LARGE_IN)
}

/// The cautions of a job, each once, in the order of the work.
#[must_use]
pub fn cautions(job: &Job, counted: &Counted) -> Vec<Caution> {
    let any = |which: fn(&PiecePlan) -> bool| counted.pieces.iter().any(which);
    let latex = !counted.sizing.is_empty();
    let helium = any(|p| p.made.as_ref().is_some_and(|m| m.helium_ml > 0));
    let foil = made::has_foils(counted);
    let stands =
        any(|p| p.made.is_some() && matches!(p.kind, PieceKind::Classic | PieceKind::Wall));
    let large = counted.sizing.iter().any(|s| s.size_in >= LARGE_IN);
    let blown = counted.sizing.iter().any(|s| s.inflator_ds.is_some());
    let trimmed = any(|p| p.chain.is_some());
    let frames = stands || counted.pieces.iter().any(|p| brought(job, p).is_some());
    let hung = any(|p| p.garland.is_some() || p.chain.is_some());
    let outdoors = job.venue.place != Place::Indoors;
    let overhead = live(&job.pieces)
        .iter()
        .any(|(_, p)| p.mount == Mount::CeilingPoints && p.kind != PieceKind::Frame);
    let list: [(bool, &str, Phase, &str); 19] = [
        (
            latex,
            "choking",
            Phase::Order,
            // the words of the labels that 16 CFR 1500.19 and EN 71-1 ask for
            "Children under eight can choke or suffocate on uninflated or broken balloons. Keep them away and discard broken balloons at once.",
        ),
        (
            latex,
            "latex",
            Phase::Order,
            "Natural rubber latex can cause allergies. Ask the client and the venue before ordering.",
        ),
        (
            blown,
            "inflator",
            Phase::Prepare,
            "Inflators have a duty cycle: let them rest as their maker says. Keep hair and cords clear.",
        ),
        (
            large || trimmed,
            "eyes",
            Phase::Prepare,
            "Eye protection when large balloons are sized, and whenever tails are trimmed.",
        ),
        (helium, "helium", Phase::Prepare, made::HELIUM_ROOM),
        (
            latex,
            "sharp",
            Phase::Pack,
            "Sharp tools go into a closed case, away from balloons and children.",
        ),
        (
            hung || frames,
            "two_to_lift",
            Phase::Load,
            "Two to lift long pieces. On the bags nothing but bags.",
        ),
        (
            hung || stands || frames,
            "secure_load",
            Phase::Load,
            "Strap or wedge ballast, frames, tools and ladders against the bulkhead, so that nothing slides when you brake. Nothing heavy stands loose by a door. The road law where you drive holds.",
        ),
        (helium, "cylinder", Phase::Load, made::CYLINDER),
        (hung || stands, "ladder", Phase::Install, LADDER),
        (
            frames,
            "ballast",
            Phase::Install,
            "Ballast every free-standing frame before anything hangs on it, and do not move it loaded.",
        ),
        (
            hung || frames,
            "exits",
            Phase::Install,
            "Keep exits, signs, extinguishers, detectors and sprinklers clear and in view.",
        ),
        (
            overhead,
            "overhead",
            Phase::Install,
            "Hang from the ceiling only where the venue says, on points that it names.",
        ),
        (
            outdoors && (hung || frames),
            "wind",
            Phase::Install,
            // EN 14960 for inflatable play equipment, as hirers quote it
            "Agree on the wind at which it comes down, and on who watches it. Inflatable play equipment stops at 38 km/h (EN 14960): a frame may have to come down long before.",
        ),
        (true, "always", Phase::Install, ALWAYS),
        (
            latex || foil,
            "release",
            Phase::HandOver,
            "Balloons are never released outdoors. Tell whoever takes them over.",
        ),
        (
            helium || foil,
            "foil_lines",
            Phase::HandOver,
            made::POWER_LINES,
        ),
        (
            outdoors && latex && !foil,
            "power_lines",
            Phase::HandOver,
            "Keep foil and wet latex away from power lines.",
        ),
        (
            latex,
            "strike",
            Phase::Strike,
            "Eye protection when popping. Gather every piece of latex: it chokes children and animals.",
        ),
    ];
    list.into_iter()
        .filter(|(holds, ..)| *holds)
        .map(|(_, code, phase, text)| Caution {
            code: code.into(),
            text: text.into(),
            phase,
        })
        .collect()
}

/// What is unsafe, or may burst.
#[must_use]
pub fn safety(job: &Job, counted: &Counted, load: &Load) -> Vec<Finding> {
    let mut findings = frames(job, counted);
    findings.extend(made::findings(job, counted));
    findings.extend(frames_of_others(job, counted));
    findings.extend(too_little_ballast(job, counted));
    findings.extend(warmth(job, counted));
    findings.extend(altitude(job, counted));
    findings.extend(heavy(job));
    findings.extend(alone(job, counted, load));
    findings
}

/// Free-standing frames without ballast: outdoors a stop, indoors a care.
fn frames(job: &Job, counted: &Counted) -> Vec<Finding> {
    let outdoors = job.venue.place != Place::Indoors;
    counted
        .pieces
        .iter()
        .filter(|p| brought(job, p).is_some_and(|f| f.ballast_g <= 0))
        .filter_map(|p| Some((p, job.pieces.get(&p.piece)?)))
        .map(|(plan, piece)| {
            let path = ["pieces", plan.piece.as_str(), "frame", "ballast_g"];
            if outdoors {
                Finding::new(
                    "frame_without_ballast",
                    Severity::Stop,
                    Room::Design,
                    &path,
                    format!("{} stands outdoors without ballast.", called(piece)),
                    "Give it the ballast that its maker or a competent person names for the wind there, or leave it out.",
                )
            } else {
                Finding::new(
                    "frame_ballast",
                    Severity::Care,
                    Room::Design,
                    &path,
                    format!("{} has no ballast yet.", called(piece)),
                    "Enter the ballast that its maker names.",
                )
            }
        })
        .collect()
}

/// What hangs outdoors on a frame that is none of the job's pieces: nobody has counted its ballast.
fn frames_of_others(job: &Job, counted: &Counted) -> Vec<Finding> {
    if job.venue.place == Place::Indoors {
        return Vec::new();
    }
    let stands = |id: &str| {
        let frame = job.pieces.get(id);
        frame.is_some_and(|p| p.kind == PieceKind::Frame && !p.gone)
    };
    counted
        .pieces
        .iter()
        .filter(|p| p.garland.is_some() || p.chain.is_some())
        .filter_map(|p| Some((p, job.pieces.get(&p.piece)?)))
        .filter(|(_, piece)| piece.mount == Mount::Frame && !stands(&piece.on))
        .map(|(plan, piece)| {
            Finding::new(
                "frame_unknown",
                Severity::Care,
                Room::Design,
                &["pieces", &plan.piece, "on"],
                format!(
                    "{} hangs outdoors on a frame that is not a piece of this job.",
                    called(piece)
                ),
                "Add the frame with its ballast, or choose what it hangs on.",
            )
        })
        .collect()
}

/// The ballast that is brought along is less than the frames take.
fn too_little_ballast(job: &Job, counted: &Counted) -> Option<Finding> {
    let wanted = counted
        .pieces
        .iter()
        .filter_map(|p| brought(job, p))
        .map(|f| f.ballast_g.max(0))
        .fold(made::ballast_g(counted), i64::saturating_add);
    let mut brought = 0i64;
    let mut first = None;
    for (id, kit) in live(&job.kit) {
        if kit.kind == KitKind::Ballast && !kit.stays && kit.count > 0 {
            first = first.or(Some(id));
            brought = brought.saturating_add(kit.mass_g.max(0).saturating_mul(kit.count));
        }
    }
    // without ballast in the kit it is found at the venue: water, sand
    let id = first.filter(|_| brought < wanted)?;
    Some(Finding::new(
        "too_little_ballast",
        Severity::Care,
        Room::Load,
        &["kit", id],
        format!(
            "The frames take {} kg of ballast, the kit has {} kg.",
            kilograms(wanted),
            kilograms(brought)
        ),
        "Take more along, or see to it that it is there.",
    ))
}

/// `12.5` from 12,500 g, `40` from 40,000 g.
pub(crate) fn kilograms(grams: i64) -> String {
    let tenths = nearest(whole(grams.max(0)) / 100.0);
    if tenths % 10 == 0 {
        (tenths / 10).to_string()
    } else {
        format!("{}.{}", tenths / 10, tenths % 10)
    }
}

/// Balloons grow with the warmth: at the same pressure the diameter grows with the cube root of the absolute temperature.
fn warmth(job: &Job, counted: &Counted) -> Option<Finding> {
    let venue = whole(job.venue.temperature_dc.clamp(-600, 800)) / 10.0;
    let grows = (venue - STUDIO_C >= WARMER_K && counted.pieces.iter().any(|p| p.balloons > 0))
        .then(|| growth(STUDIO_C, venue))?;
    Some(Finding::new(
        "warm_up",
        Severity::Note,
        Room::Make,
        &["venue", "temperature_dc"],
        format!(
            "At {} degrees balloons grow by {} % across.",
            nearest(venue),
            tenths(nearest((grows - 1.0) * 1000.0))
        ),
        "Blow them that much smaller, and keep them out of the sun.",
    ))
}

/// Diameter after a change of temperature at the same pressure, as a factor.
fn growth(from_c: f64, to_c: f64) -> f64 {
    libm::cbrt((to_c + ZERO_C) / (from_c + ZERO_C))
}

/// Balloons grow with the height, if they were blown lower down.
fn altitude(job: &Job, counted: &Counted) -> Option<Finding> {
    let high = job.venue.altitude_m.clamp(0, 9000);
    if high <= HIGH_M || counted.pieces.iter().all(|p| p.balloons == 0) {
        return None;
    }
    let across = libm::cbrt(1.0 / pressure_ratio(whole(high)));
    Some(Finding::new(
        "altitude",
        Severity::Care,
        Room::Make,
        &["venue", "altitude_m"],
        format!(
            "At {high} m balloons blown at sea level grow by {} % across.",
            tenths(nearest((across - 1.0) * 1000.0))
        ),
        "Blow them that much smaller, or blow them up there.",
    ))
}

/// Pressure over pressure at sea level, U.S. Standard Atmosphere 1976, by geometric height in m up to 11 km.
fn pressure_ratio(height_m: f64) -> f64 {
    const EARTH_M: f64 = 6_356_766.0;
    let geopotential = EARTH_M * height_m / (EARTH_M + height_m);
    libm::pow(1.0 - 0.0065 * geopotential / 288.15, 5.255_88)
}

/// One case that is heavy to lift.
fn heavy(job: &Job) -> Option<Finding> {
    let (id, kit) = live(&job.kit)
        .into_iter()
        .find(|(_, k)| !k.stays && k.mass_g > HEAVY_G)?;
    Some(Finding::new(
        "heavy_case",
        Severity::Care,
        Room::Load,
        &["kit", id],
        format!("{} weighs {} kg.", kit_name(kit), kilograms(kit.mass_g)),
        "Split it, roll it, or lift it by two.",
    ))
}

/// One person with long bags and a ladder.
fn alone(job: &Job, counted: &Counted, load: &Load) -> Option<Finding> {
    let one = live(&job.crew).len() == 1;
    let long = load.parcels.iter().any(|p| p.length_mm > LONG_MM);
    let hung = counted.pieces.iter().any(|p| p.garland.is_some());
    (one && long && hung).then(|| {
        Finding::new(
            "alone",
            Severity::Care,
            Room::Brief,
            &["crew"],
            "One person alone lifts long pieces and works on a ladder.",
            "Take somebody along, or have the venue lend a hand.",
        )
    })
}

/// `1.7` from 17.
fn tenths(n: i64) -> String {
    format!("{}.{}", n / 10, n % 10)
}

#[cfg(test)]
mod tests;

//! Cautions where they matter, and findings about safety.
//!
//! Usual caution only. What the venue, the makers and local codes say comes first, and licensed people decide what needs them.

use job::list::live;
use job::piece::{Mount, PieceKind};
use job::site::Place;
use job::{Finding, Job, Room, Severity};

use crate::inflate::{nearest, whole};
use crate::pieces::{Counted, called};
use crate::types::{Caution, Load, Phase};

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
/// At the step where somebody climbs.
pub const LADDER: &str = "Ladder on firm ground. Three points of contact, never from the top step.";
/// At the step where a frame is set up.
pub const BALLAST: &str = "Ballast every frame before anything hangs on it.";
/// At the step where two are needed.
pub const TWO_TO_LIFT: &str = "Two to lift long pieces.";
/// At the step where balloons are popped.
pub const EYES: &str = "Eye protection. Keep tools and broken balloons away from children.";

/// The cautions of a job, each once, in the order of the work.
#[must_use]
pub fn cautions(job: &Job, counted: &Counted) -> Vec<Caution> {
    let latex = counted.pieces.iter().any(|p| p.balloons > 0);
    let big = counted.sizing.iter().any(|s| s.size_in >= 24);
    let blown = counted.sizing.iter().any(|s| s.strokes.is_none());
    let frames = counted
        .pieces
        .iter()
        .any(|p| p.frame.as_ref().is_some_and(|f| f.count > 0));
    let hung = counted
        .pieces
        .iter()
        .any(|p| p.garland.is_some() || p.chain.is_some());
    let outdoors = job.venue.place != Place::Indoors;
    let overhead = live(&job.pieces)
        .iter()
        .any(|(_, p)| p.mount == Mount::CeilingPoints && p.kind != PieceKind::Frame);
    let list: [(bool, &str, Phase, &str); 14] = [
        (
            latex,
            "choking",
            Phase::Prepare,
            "Children under eight can choke or suffocate on uninflated or broken balloons. Keep them away and discard broken balloons at once.",
        ),
        (
            latex,
            "latex",
            Phase::Prepare,
            "Natural rubber latex can cause allergies. Ask the client and the venue.",
        ),
        (
            blown,
            "inflator",
            Phase::Prepare,
            "Inflators have a duty cycle: let them cool as their maker says. Keep hair and cords clear.",
        ),
        (
            big,
            "large",
            Phase::Prepare,
            "Eye protection when large balloons are sized, and whenever tails are trimmed.",
        ),
        (
            latex,
            "sharp",
            Phase::Pack,
            "Sharp tools go into a closed case, away from balloons and children.",
        ),
        (
            hung,
            "two_to_lift",
            Phase::Load,
            "Two to lift long pieces. Nothing on top of the bags.",
        ),
        (hung, "ladder", Phase::Install, LADDER),
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
            "Agree on the wind at which it comes down, and on who watches it. Take it down before that.",
        ),
        (
            outdoors && latex,
            "release",
            Phase::HandOver,
            "Never release balloons outdoors. Keep foil and wet latex away from power lines.",
        ),
        (
            hung || frames,
            "strike",
            Phase::Strike,
            "Eye protection when popping. Gather every piece of latex: it chokes children and animals.",
        ),
        (true, "always", Phase::Install, ALWAYS),
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
        .filter(|p| p.frame.as_ref().is_some_and(|f| f.count > 0 && f.ballast_g <= 0))
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

/// One case heavier than the reference mass of the NIOSH lifting equation, 23 kg.
fn heavy(job: &Job) -> Option<Finding> {
    let (id, kit) = live(&job.kit)
        .into_iter()
        .find(|(_, k)| !k.stays && k.mass_g > 23_000)?;
    Some(Finding::new(
        "heavy_case",
        Severity::Care,
        Room::Load,
        &["kit", id],
        format!(
            "{} weighs {} kg.",
            kit.name,
            (kit.mass_g.min(i64::MAX - 500) + 500) / 1000
        ),
        "Split it, roll it, or lift it by two.",
    ))
}

/// One person with long bags and a ladder.
fn alone(job: &Job, counted: &Counted, load: &Load) -> Option<Finding> {
    let one = live(&job.crew).len() == 1;
    let long = load.parcels.iter().any(|p| p.length_mm > 1500);
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
mod tests {
    use super::*;

    /// Gas law at the same pressure: 20 to 35 degrees 1.01677 across, 20 to 5 degrees 0.98264.
    #[test]
    fn balloons_grow_with_the_warmth() {
        assert!((growth(20.0, 35.0) - 1.016_77).abs() < 1e-5);
        assert!((growth(20.0, 5.0) - 0.982_64).abs() < 1e-5);
    }

    /// U.S. Standard Atmosphere 1976, table of PDAS: 79,501 Pa at 2000 m geometric, 61,660 Pa at 4000 m.
    #[test]
    fn pressure_falls_with_the_height() {
        assert!((pressure_ratio(2000.0) * 101_325.0 - 79_501.0).abs() < 2.0);
        assert!((pressure_ratio(4000.0) * 101_325.0 - 61_660.0).abs() < 4.0);
        // volume ratio at constant temperature, 0 to 1000 m: 1.12738
        assert!((1.0 / pressure_ratio(1000.0) - 1.127_38).abs() < 2e-5);
    }

    #[test]
    fn a_frame_outdoors_without_ballast_is_a_stop() {
        let mut job = Job::default();
        let piece = job::piece::Piece {
            kind: PieceKind::Frame,
            name: "Frame".into(),
            ..Default::default()
        };
        job.pieces.insert("f".into(), piece);
        for (place, ballast_g, want) in [
            (
                Place::Open,
                0,
                vec![("frame_without_ballast", Severity::Stop)],
            ),
            (
                Place::Covered,
                0,
                vec![("frame_without_ballast", Severity::Stop)],
            ),
            (Place::Indoors, 0, vec![("frame_ballast", Severity::Care)]),
            (Place::Open, 20_000, vec![]),
        ] {
            job.venue.place = place;
            if let Some(p) = job.pieces.get_mut("f") {
                p.frame.ballast_g = ballast_g;
            }
            let counted = crate::pieces::count(&job);
            let found: Vec<_> = safety(&job, &counted, &Load::default())
                .into_iter()
                .map(|f| (f.code, f.severity))
                .collect();
            assert_eq!(
                found,
                want.into_iter()
                    .map(|(c, s)| (c.to_string(), s))
                    .collect::<Vec<_>>()
            );
        }
    }
}

//! Helium, foils, and columns and walls that stand by themselves.

use job::piece::{LinkForm, Piece, PieceKind};
use job::site::Place;
use job::{Finding, Job, Room, Severity};

use crate::made::foils_of;
use crate::pieces::{Counted, called};
use crate::types::PiecePlan;

/// Where helium is filled. H. G. Wickes, "Inhaling Helium: Party Fun or Deadly Menace?" (Compressed Gas Association).
pub const HELIUM_ROOM: &str =
    "Never breathe helium: it suffocates without warning. Fill where there is fresh air.";
/// Where the cylinder is carried and stands. Usual caution.
pub const CYLINDER: &str = "Chain the helium cylinder upright in the vehicle and where it stands, valve closed and capped. Never leave it alone with guests.";
/// Where foils and helium are handed over. As laws on foil balloons ask: a weight, no metal ribbon, no release.
pub const POWER_LINES: &str = "Every foil and every bouquet on its weight, never on metal ribbon. Keep them away from power lines.";
/// At the step where balloons are filled with helium.
pub const FILL_HELIUM: &str = "Never breathe helium. Fresh air, cylinder chained upright.";
/// At the step where foils are placed.
pub const FOIL_STEP: &str = "Foil conducts: away from power lines, sockets and lamps.";

/// Whether there are foils in the job.
pub fn has_foils(counted: &Counted) -> bool {
    counted.pieces.iter().any(|p| {
        let made = p.made.as_ref().is_some_and(|m| foils_of(m) > 0);
        made || p.chain.as_ref().is_some_and(|c| c.form == LinkForm::Ring)
    })
}

/// Ballast that columns and walls take, all alike, g. The weights of bouquets are no ballast: they are ordered.
pub fn ballast_g(counted: &Counted) -> i64 {
    counted
        .pieces
        .iter()
        .filter(|p| matches!(p.kind, PieceKind::Classic | PieceKind::Wall))
        .filter_map(|p| p.made.as_ref())
        .map(|m| m.weight_g.max(0).saturating_mul(m.count))
        .fold(0, i64::saturating_add)
}

/// What stands without ballast, and what is filled with helium outdoors.
pub fn findings(job: &Job, counted: &Counted) -> Vec<Finding> {
    let outdoors = job.venue.place != Place::Indoors;
    counted
        .pieces
        .iter()
        .filter_map(|p| Some((p, job.pieces.get(&p.piece)?)))
        .filter_map(|(plan, piece)| {
            without_ballast(plan, piece, outdoors).or_else(|| blown_about(plan, piece, outdoors))
        })
        .collect()
}

fn without_ballast(plan: &PiecePlan, piece: &Piece, outdoors: bool) -> Option<Finding> {
    let made = plan.made.as_ref().filter(|m| m.weight_g <= 0)?;
    let section = match plan.kind {
        PieceKind::Classic => "classic",
        PieceKind::Wall => "wall",
        _ => return None,
    };
    let path = ["pieces", plan.piece.as_str(), section, "ballast_g"];
    let name = called(piece);
    // one word for each, so that a screen can tell them apart from frames
    Some(if outdoors {
        Finding::new(
            "stands_without_ballast",
            Severity::Stop,
            Room::Design,
            &path,
            format!(
                "{name} stands outdoors without ballast, {} mm high.",
                made.height_mm
            ),
            "Give it the ballast that a competent person names for the wind there, or leave it out.",
        )
    } else {
        Finding::new(
            "stands_ballast",
            Severity::Care,
            Room::Design,
            &path,
            format!("{name} stands by itself and has no ballast yet."),
            "Enter the ballast in its base.",
        )
    })
}

/// Wind pulls at what floats, and foils of letters are sails.
fn blown_about(plan: &PiecePlan, piece: &Piece, outdoors: bool) -> Option<Finding> {
    let made = plan.made.as_ref()?;
    let floats = made.helium_ml > 0;
    let foils = plan.kind == PieceKind::Foils;
    (outdoors && (floats || foils)).then(|| {
        Finding::new(
            if floats {
                "helium_outdoors"
            } else {
                "foils_outdoors"
            },
            Severity::Care,
            Room::Design,
            &["pieces", &plan.piece],
            if floats {
                format!(
                    "{} floats outdoors: wind pulls it down and breaks it loose.",
                    called(piece)
                )
            } else {
                format!(
                    "{} stands outdoors: letters of foil are sails.",
                    called(piece)
                )
            },
            "Take heavier weights, keep away from power lines, and have a place indoors ready.",
        )
    })
}

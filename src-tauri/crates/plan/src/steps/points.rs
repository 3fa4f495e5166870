//! What is looked at with the client at the hand-over, and what is counted back after the strike. Both are ticked as
//! steps are: under ids that come from what they are about.

use job::Job;
use job::list::live;
use job::piece::{Mount, Piece, PieceKind};
use job::stock::ItemKind;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::frames::brought;
use crate::load::kit_name;
use crate::pieces::{Counted, called};
use crate::types::OrderLine;

/// A point of the walk-through begins so.
pub const WALK: &str = "walk.";
/// A thing that is counted back begins so.
pub const BACK: &str = "back.";
/// A bag or case that is in the vehicle begins so; then the id of its packing step follows, without its `pack.`.
pub const IN_VAN: &str = "van.";
/// One that is out of the vehicle again.
pub const OUT_OF_VAN: &str = "out.";
/// Everything that is ticked beside the steps begins with one of these.
pub const BESIDE: [&str; 4] = [WALK, BACK, IN_VAN, OUT_OF_VAN];

/// A line that is ticked beside the steps.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct Point {
    /// Its id among the ticks.
    pub id: String,
    /// The piece it is about; empty for the venue or the kit.
    pub piece: String,
    /// What it is about, in words: the piece's name, the venue, the thing.
    pub name: String,
    /// What to look at; empty where the name says it.
    pub text: String,
    /// How many there are; 1 for what is looked at.
    pub quantity: i64,
}

/// The walk-through: each piece stands, is full, clean and safe; then the venue's points.
pub(crate) fn walk(job: &Job, counted: &Counted) -> Vec<Point> {
    let mut points = Vec::new();
    let mut point = |id: String, piece: &str, name: &str, text: &str| {
        points.push(Point {
            id: format!("{WALK}{id}"),
            piece: piece.into(),
            name: name.into(),
            text: text.into(),
            quantity: 1,
        });
    };
    for plan in &counted.pieces {
        let Some(piece) = job.pieces.get(&plan.piece) else {
            continue;
        };
        // a rail is the venue's own, and a kind of a newer version is not known
        if piece.kind == PieceKind::Newer || (plan.frame.is_some() && brought(job, plan).is_none())
        {
            continue;
        }
        let id = &plan.piece;
        let name = called(piece);
        let frame = piece.kind == PieceKind::Frame;
        point(format!("{id}.stands"), id, name, stands(piece));
        if !frame {
            let full = "Full: no gap, no balloon that is burst or soft.";
            point(format!("{id}.full"), id, name, full);
        }
        let clean = "Clean: no tape, no loose end, nothing left on it.";
        point(format!("{id}.clean"), id, name, clean);
        let safe = "Safe: nobody trips or runs into it, and it is clear of heat and lamps.";
        point(format!("{id}.safe"), id, name, safe);
    }
    // a job without pieces has nothing to hand over
    if counted.pieces.is_empty() {
        return points;
    }
    let venue = match job.venue.name.trim() {
        "" => "The venue",
        name => name,
    };
    let mut of_venue = |what: &str, text: &str| {
        points.push(Point {
            id: format!("{WALK}venue.{what}"),
            name: venue.into(),
            text: text.into(),
            quantity: 1,
            ..Point::default()
        });
    };
    of_venue(
        "exits",
        "Exits, extinguishers, detectors and sprinklers are clear and in view.",
    );
    of_venue(
        "floor",
        "The floor is as it was: no scraps, no tape, no bags.",
    );
    of_venue(
        "care",
        "Care and cautions were told: heat, children, allergies, no release outdoors.",
    );
    let rules = job.venue.house_rules.trim();
    if !rules.is_empty() {
        of_venue("rules", &format!("House rules were kept: {rules}"));
    }
    if !job.times.strike_from.trim().is_empty() {
        of_venue("strike", "It is agreed when and by whom it is taken down.");
    }
    points
}

fn stands(piece: &Piece) -> &'static str {
    match (piece.kind, piece.mount) {
        (PieceKind::Frame, _) => "Stands firm, its ballast on it.",
        (PieceKind::Garland | PieceKind::Chain, Mount::CeilingPoints) => {
            "Hangs firm from the points that the venue named."
        }
        (PieceKind::Garland | PieceKind::Chain, _) => "Hangs firm, every tie is tight.",
        _ => "Stands or hangs firm.",
    }
}

/// What is counted back: kit, frames, and the sundries that come home.
pub(crate) fn home(job: &Job, counted: &Counted, order: &[OrderLine]) -> Vec<Point> {
    let point = |id: String, piece: &str, name: &str, quantity: i64| Point {
        id: format!("{BACK}{id}"),
        piece: piece.into(),
        name: name.into(),
        text: String::new(),
        quantity,
    };
    let mut points = Vec::new();
    for (id, kit) in live(&job.kit) {
        if !kit.stays && kit.count > 0 {
            points.push(point(format!("kit.{id}"), "", kit_name(kit), kit.count));
        }
    }
    for plan in &counted.pieces {
        if let (Some(frame), Some(piece)) = (brought(job, plan), job.pieces.get(&plan.piece)) {
            let id = &plan.piece;
            points.push(point(format!("frame.{id}"), id, called(piece), frame.count));
        }
    }
    for line in order {
        let sundry = matches!(line.kind, ItemKind::Sundry | ItemKind::Tie);
        if sundry && line.comes_home && line.need > 0 {
            // what is measured is one thing: a roll, a reel
            let count = if line.unit.is_empty() { line.need } else { 1 };
            points.push(point(format!("item.{}", line.item), "", &line.name, count));
        }
    }
    points
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::defaults::starting_books;
    use job::demo::demo;
    use std::collections::BTreeSet;

    #[test]
    fn every_piece_is_looked_at_and_the_venue_once() {
        let (mut job, _) = demo(&starting_books(), "2027-06-12");
        let walk = crate::plan(&job, None).walk;
        let ids: BTreeSet<&str> = walk.iter().map(|p| p.id.as_str()).collect();
        assert_eq!(ids.len(), walk.len(), "each point once");
        for (id, piece) in live(&job.pieces) {
            let points = walk.iter().filter(|p| p.piece == id).count();
            let want = if piece.kind == PieceKind::Frame { 3 } else { 4 };
            assert_eq!(points, want, "{id}");
        }
        assert!(ids.contains("walk.venue.exits"));
        assert!(
            walk.iter()
                .all(|p| !p.name.is_empty() && !p.text.is_empty())
        );
        job.venue.house_rules = "No adhesive".into();
        let rules = crate::plan(&job, None).walk;
        assert!(rules.iter().any(|p| p.text.ends_with("No adhesive")));
        job.pieces.clear();
        assert_eq!(crate::plan(&job, None).walk, []);
    }

    /// The list has as many things as the step that counts them says.
    #[test]
    fn what_is_counted_back_is_what_the_packing_list_has() {
        let (mut job, _) = demo(&starting_books(), "2027-06-12");
        for extra in [0, 2] {
            for kit in job.kit.values_mut() {
                kit.count += extra;
            }
            let plan = crate::plan(&job, None);
            let step = plan.steps.iter().find(|s| s.id == "count").unwrap();
            let all: i64 = plan.home.iter().map(|p| p.quantity).sum();
            assert_eq!(all, step.quantity);
            assert!(plan.home.len() > 3);
        }
    }
}

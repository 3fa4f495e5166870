//! Steps at the venue: install, hand over, strike.

use job::piece::{Mount, Piece, PieceKind};
use job::site::{KitKind, Place};

use super::made::{in_all_and_each, stood};
use super::words::{title, where_to};
use super::{List, step};
use crate::frames::brought;
use crate::load::choice::at_the_venue;
use crate::pieces::called;
use crate::safety::{
    BALLAST, EXITS, EYES, FRAME, FRAME_DOWN, LADDER, OVERHEAD, RELEASE, SCRAPS, TWO_TO_LIFT, WIND,
};
use crate::types::{Parcel, Phase, PiecePlan, Step};

/// Chains of a piece that have a step each; the last step is for all that are more.
const MOST_CHAINS: i64 = 50;

impl List<'_> {
    pub(super) fn install(&mut self) {
        let parcels = i64::try_from(self.load.parcels.len()).unwrap_or(i64::MAX);
        if parcels > 0 {
            let carry = step(
                "carry",
                Phase::Install,
                "Carry everything in".into(),
                self.job.venue.contact.clone(),
            );
            self.timed(
                "carry",
                Step {
                    quantity: parcels,
                    unit: "bags and cases".into(),
                    caution: TWO_TO_LIFT.into(),
                    ..carry
                },
            );
        }
        let pieces = self.pieces();
        // frames first: garlands hang on them
        for (plan, piece) in &pieces {
            self.set_up(plan, piece);
        }
        for (plan, _) in pieces.iter().filter(|(_, piece)| at_the_venue(piece)) {
            let from = self.steps.len();
            self.prepare(plan);
            for step in &mut self.steps[from..] {
                step.phase = Phase::Install;
            }
        }
        for (plan, piece) in pieces {
            self.hang(plan, piece);
            self.drape(plan, piece);
            if let Some(made) = &plan.made {
                self.put_up(plan, piece, made);
            }
        }
    }

    fn set_up(&mut self, plan: &PiecePlan, piece: &Piece) {
        let Some(frame) = brought(self.job, plan) else {
            return;
        };
        let id = &plan.piece;
        let set_up = step(
            format!("frame.{id}"),
            Phase::Install,
            title("Set up", called(piece), ""),
            stood(piece, frame.count),
        );
        self.timed(
            &set_up.id.clone(),
            Step {
                piece: id.clone(),
                quantity: frame.count,
                unit: "frames".into(),
                caution: FRAME.into(),
                needs: self.codes(id),
                ..set_up
            },
        );
        self.push(Step {
            piece: id.clone(),
            caution: BALLAST.into(),
            needs: self.kit(KitKind::Ballast),
            ..step(
                format!("ballast.{id}"),
                Phase::Install,
                title("Ballast", called(piece), ""),
                format!(
                    "{}, by the maker's instructions.",
                    in_all_and_each(frame.ballast_g, frame.count)
                ),
            )
        });
    }

    /// One step for each length, then what was kept back.
    fn hang(&mut self, plan: &PiecePlan, piece: &Piece) {
        let Some(g) = &plan.garland else { return };
        let id = &plan.piece;
        let name = called(piece);
        let bags = self.codes(id);
        let all = g.lengths.len();
        for i in 0..all {
            let verb = if all == 1 {
                "Hang".into()
            } else {
                format!("Hang length {} of", i + 1)
            };
            let hang = step(
                format!("hang.{id}.{}", i + 1),
                Phase::Install,
                title(&verb, name, ""),
                where_to(piece.mount, &piece.spot),
            );
            self.timed(
                &format!("hang.{id}"),
                Step {
                    piece: id.clone(),
                    caution: climb(piece).into(),
                    needs: self.up_there(bags.get(i)),
                    ..hang
                },
            );
            self.share(i, all);
        }
        let fillers: i64 = g.fillers.iter().map(|f| f.balls).sum();
        if fillers > 0 {
            let fill = step(
                format!("fill.{id}"),
                Phase::Install,
                title("Fill gaps:", name, ""),
                "Put a filler in wherever the line shows.",
            );
            self.timed(
                &fill.id.clone(),
                Step {
                    piece: id.clone(),
                    quantity: fillers,
                    unit: "fillers".into(),
                    caution: climb(piece).into(),
                    needs: self.up_there(bags.get(all)),
                    ..fill
                },
            );
        }
        if g.extras > 0 {
            let extras = step(
                format!("extras.{id}"),
                Phase::Install,
                title("Widen:", name, ""),
                "Put in what was kept back where it looks thin.",
            );
            self.timed(
                &extras.id.clone(),
                Step {
                    piece: id.clone(),
                    quantity: g.extras,
                    unit: "clusters".into(),
                    caution: climb(piece).into(),
                    needs: self.up_there(bags.get(all)),
                    ..extras
                },
            );
        }
    }

    fn drape(&mut self, plan: &PiecePlan, piece: &Piece) {
        let Some(chain) = &plan.chain else { return };
        let id = &plan.piece;
        let bags = self.codes(id);
        let all = usize::try_from(chain.count.clamp(0, MOST_CHAINS)).unwrap_or(0);
        for i in 0..all {
            let verb = if chain.count == 1 {
                "Drape".into()
            } else {
                format!("Drape chain {} of", i + 1)
            };
            let rest = if i + 1 == all {
                (chain.count - MOST_CHAINS).max(0)
            } else {
                0
            };
            let drape = step(
                format!("drape.{id}.{}", i + 1),
                Phase::Install,
                title(&verb, called(piece), ""),
                where_to(piece.mount, &piece.spot),
            );
            self.timed(
                &format!("drape.{id}"),
                Step {
                    piece: id.clone(),
                    quantity: 1 + rest,
                    unit: if rest > 0 { "chains" } else { "" }.into(),
                    caution: climb(piece).into(),
                    needs: self.up_there(bags.get(i)),
                    ..drape
                },
            );
            self.share(i, all);
        }
    }

    /// The task of the last step is shared by so many steps, one after another.
    fn share(&mut self, at: usize, all: usize) {
        let (at, all) = (
            i64::try_from(at).unwrap_or(0),
            i64::try_from(all).unwrap_or(1).max(1),
        );
        if let Some(step) = self.steps.last_mut() {
            step.duration_s /= all;
            let later = step.duration_s.saturating_mul(1000).saturating_mul(at);
            step.start_ms = step.start_ms.map(|ms| ms.saturating_add(later));
        }
    }

    /// What is at hand on the ladder: the ladder, the bag, and the case of spares and sundries.
    fn up_there(&self, bag: Option<&String>) -> Vec<String> {
        let mut needs = self.kit(KitKind::Ladder);
        needs.extend(bag.cloned());
        let case = |p: &&Parcel| p.piece.is_empty() && p.kit.is_empty();
        let spares = self.load.parcels.iter().find(case);
        needs.extend(spares.map(|p| format!("{} {}", p.code, p.name)));
        needs
    }

    pub(super) fn hand_over(&mut self) {
        if self.counted.pieces.is_empty() {
            return;
        }
        let latex = self.latex();
        let tidy = step(
            "tidy",
            Phase::HandOver,
            "Tidy up".into(),
            "Scraps, tape, bags, steps: the floor as it was.",
        );
        self.timed(
            "finish",
            Step {
                caution: if latex { SCRAPS } else { "" }.into(),
                ..tidy
            },
        );
        self.push(Step {
            caution: EXITS.into(),
            ..step(
                "exits",
                Phase::HandOver,
                "Check exits and signs".into(),
                "Exits, extinguishers, detectors and sprinklers clear and in view.",
            )
        });
        self.push(step(
            "photos",
            Phase::HandOver,
            "Take photographs".into(),
            "Whole, each piece, and each mount.",
        ));
        let outdoors = self.job.venue.place != Place::Indoors;
        let caution = match (latex, outdoors) {
            (_, true) => WIND,
            (true, false) => RELEASE,
            (false, false) => "",
        };
        self.push(Step {
            caution: caution.into(),
            ..step(
                "walk",
                Phase::HandOver,
                "Walk through and sign".into(),
                "With the client or the venue: care, cautions, strike.",
            )
        });
    }

    pub(super) fn strike(&mut self) {
        // nobody strikes if no time is agreed for it
        if self.job.times.strike_from.trim().is_empty() {
            return;
        }
        let mut pieces = self.pieces();
        pieces.retain(|(plan, piece)| {
            let rail = plan.frame.is_some() && brought(self.job, plan).is_none();
            piece.kind != PieceKind::Newer && !rail
        });
        // what hangs comes down before what it hangs on
        pieces.sort_by_key(|(_, piece)| piece.kind == PieceKind::Frame);
        for (plan, piece) in &pieces {
            let floats = plan.made.as_ref().is_some_and(|m| m.helium_ml > 0);
            let caution = match piece.kind {
                PieceKind::Frame => FRAME_DOWN,
                _ if floats => RELEASE,
                PieceKind::Bouquet | PieceKind::Centrepiece | PieceKind::Loose => "",
                _ => LADDER,
            };
            let alike = match (&plan.made, &plan.frame) {
                (Some(made), _) => made.count,
                (_, Some(frame)) => frame.count,
                (None, None) => 1,
            };
            self.struck(Step {
                piece: plan.piece.clone(),
                caution: caution.into(),
                quantity: alike.max(1),
                unit: if alike > 1 { "pieces" } else { "" }.into(),
                ..step(
                    format!("down.{}", plan.piece),
                    Phase::Strike,
                    title("Take down", called(piece), ""),
                    piece.spot.trim(),
                )
            });
        }
        if self.latex() {
            self.struck(Step {
                caution: EYES.into(),
                ..step(
                    "pop",
                    Phase::Strike,
                    "Pop and bin".into(),
                    "Into closed bags; gather every piece.",
                )
            });
        }
        if pieces.is_empty() {
            return;
        }
        let home: i64 = self
            .load
            .parcels
            .iter()
            .flat_map(|p| &p.holds)
            .filter(|h| h.comes_home)
            // what is measured is one thing: a roll, a reel
            .map(|h| if h.unit.is_empty() { h.count.max(0) } else { 1 })
            .fold(0, i64::saturating_add);
        if home > 0 {
            self.struck(Step {
                quantity: home,
                unit: "things".into(),
                ..step(
                    "count",
                    Phase::Strike,
                    "Count the kit back".into(),
                    "Every second box of the packing list.",
                )
            });
        }
        self.struck(step(
            "clear",
            Phase::Strike,
            "Leave the room as found".into(),
            "A last look with the venue.",
        ));
    }

    /// A step of the strike: its people and its start; it has no time of its own.
    fn struck(&mut self, step: Step) {
        self.timed("strike", step);
        if let Some(step) = self.steps.last_mut() {
            step.duration_s = 0;
        }
    }
}

/// The caution where somebody climbs.
fn climb(piece: &Piece) -> &'static str {
    if piece.mount == Mount::CeilingPoints {
        OVERHEAD
    } else {
        LADDER
    }
}

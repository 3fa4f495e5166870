//! Steps before the venue: order, prepare, pack, load, drive.

use std::collections::BTreeMap;

use job::piece::LinkForm;
use job::site::KitKind;
use job::stock::ItemKind;

use super::made::Line;
use super::words::title;
use super::{List, step};
use crate::inflate::by_hand;
use crate::load::kit_name;
use crate::order::{bags_in_words, id_of};
use crate::safety::{CHOKING, INFLATOR, LARGE, SHARP, TRIM, TWO_TO_LIFT, has_large};
use crate::types::{GarlandPlan, OrderLine, Packed, Parcel, Phase, PiecePlan, Step};

/// So many things are named of what a parcel holds.
const NAMED: usize = 4;

/// The id of the step that orders a line.
#[must_use]
pub fn buy_id(line: &OrderLine) -> String {
    if line.item.is_empty() {
        format!("buy.{}", id_of(line))
    } else {
        format!("buy.{}", line.item)
    }
}

impl List<'_> {
    pub(super) fn order(&mut self, order: &[OrderLine]) {
        for line in order.iter().filter(|l| l.short > 0) {
            let bought = line
                .bags
                .iter()
                .map(|b| b.size.saturating_mul(b.count))
                .fold(0, i64::saturating_add);
            let unit = match line.kind {
                ItemKind::Round | ItemKind::Link | ItemKind::Foil => "balloons",
                _ if line.unit.trim().is_empty() => "pieces",
                _ => line.unit.trim(),
            };
            let how = format!("{} short: {}.", line.short, bags_in_words(&line.bags));
            self.push(Step {
                quantity: bought,
                unit: unit.into(),
                ..step(
                    buy_id(line),
                    Phase::Order,
                    title("Order", &line.name, ""),
                    how,
                )
            });
        }
        if !order.is_empty() {
            let caution = if self.latex() { CHOKING } else { "" };
            let check = step(
                "check",
                Phase::Order,
                "Check the delivery".into(),
                "Every colour and size against the order list.",
            );
            self.timed(
                "check",
                Step {
                    caution: caution.into(),
                    ..check
                },
            );
        }
    }

    pub(super) fn prepare(&mut self, plan: &PiecePlan) {
        let id = &plan.piece;
        let name = self.name(id);
        if let Some(made) = &plan.made {
            self.prepare_made(plan, made);
        }
        if let Some(g) = &plan.garland {
            let pumped = pumped_pairs(g);
            let burst = if has_large(self.counted, id) {
                LARGE
            } else {
                INFLATOR
            };
            let inflators = self.kit(KitKind::Inflator);
            let works: [Line<'_>; 4] = [
                (
                    "inflate",
                    "Blow pairs:",
                    "By the sizing sheet, in the order of the cards.".into(),
                    g.pairs - pumped,
                    "pairs",
                    burst,
                    [inflators, vec!["Sizer".into()]].concat(),
                ),
                (
                    "pump",
                    "Pump small pairs:",
                    "By hand pump, strokes by the sizing sheet.".into(),
                    pumped,
                    "pairs",
                    "",
                    self.kit(KitKind::Pump),
                ),
                (
                    "cluster",
                    "Twist clusters:",
                    "By the cluster cards.".into(),
                    g.on_line + g.extras,
                    "clusters",
                    "",
                    Vec::new(),
                ),
                (
                    "string",
                    "String",
                    "In the stringing order, nestled close.".into(),
                    g.on_line,
                    "clusters",
                    "",
                    Vec::new(),
                ),
            ];
            self.works(id, &name, works);
        }
        if let Some(c) = &plan.chain {
            let links = c.links * c.count;
            let ring = c.form == LinkForm::Ring;
            let (verb, how) = if ring {
                (
                    "Blow ring links:",
                    "Until firm; cut the tabs, fold and stick the nozzle.".to_string(),
                )
            } else {
                ("Pump links:", format!("{} strokes to a link.", c.strokes))
            };
            self.made(
                "links",
                id,
                Step {
                    quantity: if ring { links } else { links / 2 },
                    unit: if ring { "links" } else { "pairs" }.into(),
                    needs: self.kit(KitKind::Pump),
                    ..step("", Phase::Prepare, title(verb, &name, ""), how)
                },
            );
            let (verb, how) = if ring {
                ("Slot the links:", "Each into the one before.")
            } else {
                ("Tie the links:", "Tail to tail, trimmed.")
            };
            self.made(
                "tie",
                id,
                Step {
                    quantity: links,
                    unit: "links".into(),
                    caution: TRIM.into(),
                    ..step("", Phase::Prepare, title(verb, &name, ""), how)
                },
            );
        }
    }

    /// A step of one work on one piece.
    pub(super) fn made(&mut self, work: &str, piece: &str, step: Step) {
        let id = format!("{work}.{piece}");
        self.timed(
            &id.clone(),
            Step {
                id,
                piece: piece.into(),
                ..step
            },
        );
    }

    /// One step for each parcel, with the parcel's own code.
    pub(super) fn pack(&mut self) {
        let mut before: BTreeMap<(&str, &str), usize> = BTreeMap::new();
        let mut nths: BTreeMap<&str, usize> = BTreeMap::new();
        for parcel in self.as_made() {
            let nth = before.entry((&parcel.piece, &parcel.kit)).or_default();
            *nth += 1;
            nths.insert(&parcel.code, *nth);
        }
        let mut steps = Vec::new();
        for parcel in &self.load.parcels {
            let about = (parcel.piece.as_str(), parcel.kit.as_str());
            let nth = nths.get(parcel.code.as_str()).copied().unwrap_or(1);
            let garland = self
                .counted
                .pieces
                .iter()
                .find(|p| p.piece == parcel.piece)
                .and_then(|p| p.garland.as_ref());
            let length = garland.and_then(|g| g.lengths.get(nth - 1));
            let id = match about {
                ("", "") => "pack.spares".into(),
                ("", kit) => format!("pack.kit.{kit}.{nth}"),
                (piece, _) if garland.is_some() && length.is_none() => format!("pack.{piece}.kept"),
                (piece, _) => format!("pack.{piece}.{nth}"),
            };
            let how = match length {
                Some(l) => format!(
                    "Clusters {} to {} of the line.",
                    l.first.saturating_add(1),
                    l.first.saturating_add(l.clusters)
                ),
                None => held(&parcel.holds),
            };
            let case = self.job.kit.get(&parcel.kit);
            let sharp = case.is_some_and(|k| k.kind == KitKind::Case);
            let bag = format!("bag.{}", parcel.piece);
            let bagged = self.tasks.iter().any(|t| t.id == bag);
            steps.push(Step {
                code: parcel.code.clone(),
                piece: parcel.piece.clone(),
                tasks: if bagged { vec![bag] } else { Vec::new() },
                caution: if sharp { SHARP } else { "" }.into(),
                ..step(id, Phase::Pack, self.pack_title(parcel), how)
            });
        }
        self.steps.extend(steps);
    }

    /// `Pack B2: Jetty arch, 2 of 3`: the number stays when the name is cut.
    fn pack_title(&self, parcel: &Parcel) -> String {
        let verb = format!("Pack {}:", parcel.code);
        let name = match self.job.kit.get(&parcel.kit) {
            Some(kit) => kit_name(kit).to_string(),
            None => self.name(&parcel.piece),
        };
        let Some(rest) = parcel.name.strip_prefix(&name).filter(|_| !name.is_empty()) else {
            return title(&verb, &parcel.name, "");
        };
        let rest = rest
            .trim_start_matches(", length")
            .trim_start_matches(", chain")
            .trim_start_matches(", whole")
            .trim_start_matches([',', ' ']);
        if rest.is_empty() {
            title(&verb, &name, "")
        } else {
            title(&verb, &name, &format!(", {rest}"))
        }
    }

    pub(super) fn load(&mut self) {
        let parcels = i64::try_from(self.load.parcels.len()).unwrap_or(i64::MAX);
        if parcels > 0 {
            let load = step(
                "load",
                Phase::Load,
                "Load the vehicle".into(),
                if self.load.stowed {
                    "In the order of the load drawing. On bags nothing but bags."
                } else {
                    "What is needed last goes in first. On bags nothing but bags."
                },
            );
            self.timed(
                "load",
                Step {
                    quantity: parcels,
                    unit: "bags and cases".into(),
                    caution: TWO_TO_LIFT.into(),
                    ..load
                },
            );
        }
        if self.job.drive.minutes > 0 {
            let to = match self.job.venue.name.trim() {
                "" => "the venue",
                name => name,
            };
            let drive = step(
                "drive",
                Phase::Load,
                title("Drive to", to, ""),
                self.job.venue.address.clone(),
            );
            // each trip is ticked by itself
            let trips = self.load.rounds.max(1);
            self.timed(
                "drive",
                Step {
                    quantity: trips,
                    unit: if trips > 1 { "trips" } else { "" }.into(),
                    ..drive
                },
            );
        }
    }
}

/// Pairs of two balloons that are blown by hand pump.
fn pumped_pairs(garland: &GarlandPlan) -> i64 {
    garland
        .cards
        .iter()
        .flat_map(|card| {
            card.pairs
                .iter()
                .filter(|p| p.balls.iter().all(|b| by_hand(b.size_in)))
                .map(move |p| (card.on_line + card.extras) * p.times)
        })
        .sum()
}

/// What a parcel holds, the first of it by name.
fn held(holds: &[Packed]) -> String {
    let named: Vec<String> = holds
        .iter()
        .take(NAMED)
        .map(|h| match (h.count, h.unit.as_str()) {
            (1, "") => h.what.clone(),
            (count, "") => format!("{count} x {}", h.what),
            (count, unit) => format!("{count} {unit} {}", h.what),
        })
        .collect();
    let more = match holds.len().saturating_sub(NAMED) {
        0 => String::new(),
        n => format!(" and {n} more"),
    };
    format!("{}{more}.", named.join(", "))
}

//! What a plan says. Plain data: computed from the job alone, never stored.
//!
//! Lengths are millimetres, diameters tenths of a millimetre (`dmm`), volumes millilitres (`ml`), masses grams, money cents,
//! durations seconds, instants milliseconds since 1970 UTC (`ms`); the unit stands in the name.

use job::Finding;
use job::stock::{ItemKind, Pattern};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use ts_rs::TS;

/// Shared derives of the plan's records.
macro_rules! plain {
    ($($(#[$meta:meta])* pub struct $name:ident { $($(#[$fmeta:meta])* pub $field:ident : $ty:ty,)* })*) => {$(
        $(#[$meta])*
        #[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
        pub struct $name { $($(#[$fmeta])* pub $field: $ty,)* }
    )*};
}

mod load;
mod made;
mod money;
mod tasks;

pub use load::{Load, Packed, Parcel, Run, Space, Stow, Stuck};
pub use made::{DrawnBall, DrawnRod, FoilCount, FramePlan, Group, Made, Worth};
pub use money::{Price, PriceKind, PriceLine, PriceTax};
pub use tasks::{Call, Stretch, Task, TaskWay};

plain! {
    /// The whole answer to one job.
    pub struct Plan {
        /// Version of the rules that made it.
        pub engine: String,
        /// The few numbers that matter.
        pub figures: Figures,
        /// Everything that a person should know or do, worst first.
        pub findings: Vec<Finding>,
        /// Colours used, with their names and patterns, in palette order.
        pub colours: Vec<ColourUse>,
        /// One plan for each piece that is not gone, in the order of the job.
        pub pieces: Vec<PiecePlan>,
        /// What to buy and what to take from the shelf.
        pub order: Vec<OrderLine>,
        /// How many to blow to which size.
        pub sizing: Vec<SizingLine>,
        /// Work with times and people, in order of start.
        pub tasks: Vec<Task>,
        /// When each person is needed.
        pub calls: Vec<Call>,
        /// How sure the finish is; absent while something has no time.
        pub chance: Option<crate::times::chance::Chance>,
        /// What is carried in what, and whether it goes in.
        pub load: Load,
        /// The price; absent in a crew copy.
        pub price: Option<Price>,
        /// The checklist.
        pub steps: Vec<Step>,
        /// What is looked at with the client at the hand-over.
        pub walk: Vec<crate::steps::Point>,
        /// What is counted back after the strike.
        pub home: Vec<crate::steps::Point>,
        /// Cautions that hold for this job, each said once, where it matters first.
        pub cautions: Vec<Caution>,
        /// For each figure the terms it was summed from, by the figure's name.
        pub why: BTreeMap<String, Why>,
    }

    /// The tape: the numbers that matter. What cannot be said yet is absent.
    pub struct Figures {
        /// Balloons to blow for all pieces, double-stuffed ones counted twice, without spares.
        pub balloons: i64,
        /// Garland tip to tip, all pieces, mm.
        pub garland_mm: i64,
        /// The first work begins, ms.
        pub start_by_ms: Option<i64>,
        /// By how much it could begin later in any schedule of these tasks and people, with so many people at each task as here, s: 0 is
        /// a proof that it cannot. Absent when that is not known.
        pub start_gap_s: Option<i64>,
        /// Leave the studio, ms.
        pub leave_by_ms: Option<i64>,
        /// From the agreed load-in to the start of the carrying in, s; negative if the load-in comes too late.
        pub slack_s: Option<i64>,
        /// Everything that is carried, squeezed, mL.
        pub volume_ml: i64,
        /// Trips of all vehicles: those of the load as it stands, or by the volume bound where it has none.
        pub trips: i64,
        /// To pay, with tax, cents; absent in a crew copy.
        pub price_cents: Option<i64>,
        /// ISO 4217 code; absent in a crew copy.
        pub currency: Option<String>,
        /// Working time of all people, s.
        pub work_s: i64,
        /// People on the job.
        pub people: i64,
    }

    /// What a total was summed from.
    pub struct Why {
        /// The total's name as a person says it.
        pub title: String,
        /// Unit of total and terms: `balloons`, `mm`, `ml`, `s`, `cents`, `ms`.
        pub unit: String,
        /// The total.
        pub total: i64,
        /// What it was summed from, in order. They add up to the total.
        pub terms: Vec<Term>,
        /// The rule in one sentence.
        pub rule: String,
    }

    /// One term of a total.
    pub struct Term {
        /// What it is.
        pub label: String,
        /// How much, in the unit of the total.
        pub value: i64,
    }

    /// A colour as it is used in this job.
    pub struct ColourUse {
        /// Its id.
        pub colour: String,
        /// Its name.
        pub name: String,
        /// sRGB as `#rrggbb`.
        pub srgb: String,
        /// Its pattern.
        pub pattern: Pattern,
        /// Balloons of it in all pieces, without spares.
        pub balloons: i64,
    }

    /// A piece, counted.
    pub struct PiecePlan {
        /// Its id.
        pub piece: String,
        /// Its name.
        pub name: String,
        /// What it is, as the job says it.
        pub kind: job::piece::PieceKind,
        /// Balloons, double-stuffed ones counted twice, without spares.
        pub balloons: i64,
        /// If it is a garland that can be counted.
        pub garland: Option<GarlandPlan>,
        /// If it is a chain that can be counted.
        pub chain: Option<ChainPlan>,
        /// If it is a frame.
        pub frame: Option<FramePlan>,
        /// If it is of another kind that can be counted.
        pub made: Option<Made>,
    }

    /// A garland, counted.
    pub struct GarlandPlan {
        /// Length of the path asked for, tip to tip, mm.
        pub path_mm: i64,
        /// Length that the clusters on the line make, tip to tip, mm.
        pub length_mm: i64,
        /// From the first tie to the last, mm.
        pub tie_span_mm: i64,
        /// Mean width over all, mm.
        pub width_mm: i64,
        /// Balls: a double-stuffed ball is one.
        pub balls: i64,
        /// Pairs.
        pub pairs: i64,
        /// Quads, the kept back ones included.
        pub quads: i64,
        /// Sixes, the kept back ones included.
        pub sixes: i64,
        /// Eights, the kept back ones included.
        pub eights: i64,
        /// Clusters on the line.
        pub on_line: i64,
        /// Clusters kept back.
        pub extras: i64,
        /// Balls by colour and size, in palette order, then by size.
        pub counts: Vec<BallCount>,
        /// Clusters that are alike, by card.
        pub cards: Vec<Card>,
        /// The line, first tie to last: the card of each cluster, as index into `cards`.
        pub line: Vec<u32>,
        /// The lengths it is carried in: how many clusters of the line each has.
        pub lengths: Vec<LengthPart>,
        /// Points of the path for drawing, mm: x to the right, y up, the first tip first.
        pub path: Vec<[i64; 2]>,
        /// Where each cluster of the line is tied, mm along the path from the first tip.
        pub ties_mm: Vec<i64>,
        /// Diameters of the balls of each cluster of the line, with their colours, for drawing.
        pub clusters: Vec<Cluster>,
        /// The clusters kept back.
        pub kept_back: Vec<Cluster>,
        /// Where the balls of the line are, cluster by cluster in the order of `clusters`.
        pub packed: Vec<PackedBall>,
        /// Balloons on the line over several ways in which they may fall.
        pub range: Range,
        /// Fillers by colour.
        pub fillers: Vec<BallCount>,
        /// Where the fillers go.
        pub fillers_at: Vec<PackedFiller>,
        /// Share of the line and of what carries it that shows without fillers, per mille.
        pub shows_before_pm: i64,
        /// With them, per mille.
        pub shows_after_pm: i64,
    }

    /// A ball of the line where it is, in tenths of a millimetre from the path's own left foot: x to the right, y up, z towards the viewer.
    pub struct PackedBall {
        /// Its middle.
        pub at: [i64; 3],
        /// Its radius.
        pub r: i64,
    }

    /// A filler where it goes.
    pub struct PackedFiller {
        /// Its middle, as in [`PackedBall`].
        pub at: [i64; 3],
        /// Its radius.
        pub r: i64,
        /// Colour, id.
        pub colour: String,
        /// The cluster of the line that it goes beside, counted from 0.
        pub cluster: u32,
    }

    /// A count over several seeds.
    pub struct Range {
        /// Mean, nearest whole number.
        pub mean: i64,
        /// Fewest.
        pub least: i64,
        /// Most.
        pub most: i64,
        /// Seeds counted.
        pub seeds: i64,
    }

    /// A cluster as it is tied.
    pub struct Cluster {
        /// Its card, as index into `cards`.
        pub card: u32,
        /// Its number in the recipe, counted from 0 at the first tip: the name by which a hand changes it. −1 if it is kept back.
        pub number: i64,
        /// Its balls, pair by pair.
        pub balls: Vec<Ball>,
    }

    /// A ball: one balloon, or one inside another.
    pub struct Ball {
        /// Colour seen, id.
        pub colour: String,
        /// Colour inside, id; empty for a single balloon.
        pub inside: String,
        /// Nominal size, in.
        pub size_in: i64,
        /// Blown to, tenths of a millimetre.
        pub blown_dmm: i64,
    }

    /// So many balls of a colour and size.
    pub struct BallCount {
        /// Colour seen, id.
        pub colour: String,
        /// Colour inside, id; empty for a single balloon.
        pub inside: String,
        /// Nominal size, in.
        pub size_in: i64,
        /// Balls.
        pub balls: i64,
    }

    /// Clusters that are tied alike: same number of pairs, colours and nominal sizes.
    pub struct Card {
        /// Short name: `A1`, `A2` for the first piece, `D1` for the second; no code of a step or a parcel is like it.
        pub code: String,
        /// Balls in it: 4, 6 or 8.
        pub balls: i64,
        /// Its pairs, alike ones together.
        pub pairs: Vec<CardPair>,
        /// How many on the line.
        pub on_line: i64,
        /// How many kept back.
        pub extras: i64,
    }

    /// Alike pairs of a card.
    pub struct CardPair {
        /// How many such pairs in the cluster.
        pub times: i64,
        /// The two balls. Of a card with a range of sizes these are the two of its first cluster.
        pub balls: Vec<Ball>,
        /// What each of the two is blown to over all clusters of the card, in the same order; two of one colour and size have one range.
        pub blown: Vec<Blown>,
    }

    /// What balls of one kind are blown to.
    pub struct Blown {
        /// Smallest diameter, tenths of a millimetre.
        pub from_dmm: i64,
        /// Largest diameter, tenths of a millimetre.
        pub to_dmm: i64,
    }

    /// One length that a garland is carried in.
    pub struct LengthPart {
        /// First cluster of the line, counted from 0.
        pub first: u32,
        /// Clusters.
        pub clusters: u32,
        /// Length, mm.
        pub length_mm: i64,
        /// Width over all, mm.
        pub width_mm: i64,
        /// Free volume of its hull, mL.
        pub volume_ml: i64,
    }

    /// Chains, counted.
    pub struct ChainPlan {
        /// Chains alike.
        pub count: i64,
        /// One chain along its curve, mm.
        pub length_mm: i64,
        /// What the links are.
        pub form: job::piece::LinkForm,
        /// Links in one chain; even if they are latex.
        pub links: i64,
        /// Colours of one chain, link by link, ids.
        pub colours: Vec<String>,
        /// Strokes of the hand pump to a link; 0 for ring links, which are blown until they are firm.
        pub strokes: i64,
        /// Links by colour, all chains, in palette order.
        pub counts: Vec<BallCount>,
        /// Points of the curve for drawing, mm: x to the right, y up, the left end at 0.
        pub path: Vec<[i64; 2]>,
    }

    /// A line of the order: one item, all pieces.
    pub struct OrderLine {
        /// The item's id; empty if the job has no such item.
        pub item: String,
        /// What it is called in full.
        pub name: String,
        /// What it is.
        pub kind: ItemKind,
        /// Colour id; empty for what has none.
        pub colour: String,
        /// Nominal size, in; 0 for what has none.
        pub size_in: i64,
        /// A foil's character, or what it is where it is no character; empty for the others.
        pub text: String,
        /// Unit: empty for single things, or `m`.
        pub unit: String,
        /// Where it is bought; empty if nobody said.
        pub supplier: String,
        /// Used in the pieces.
        pub need: i64,
        /// Carried besides.
        pub spares: i64,
        /// On the shelf.
        pub on_hand: i64,
        /// To buy, single balloons or units.
        pub short: i64,
        /// Bags to buy, largest first.
        pub bags: Vec<Bags>,
        /// Left over when all is done as planned, spares included.
        pub left: i64,
        /// What the bags cost, cents; absent in a crew copy or if no cost is known.
        pub cost_cents: Option<i64>,
        /// The item comes home and is counted back.
        pub comes_home: bool,
        /// For which pieces how much: terms of `need`.
        pub terms: Vec<Term>,
    }

    /// So many bags of one size.
    pub struct Bags {
        /// How many to the bag.
        pub size: i64,
        /// Bags.
        pub count: i64,
    }

    /// So many balloons of a colour and nominal size to one diameter.
    pub struct SizingLine {
        /// The piece.
        pub piece: String,
        /// Colour id.
        pub colour: String,
        /// Colour inside, id; empty for a single balloon.
        pub inside: String,
        /// Nominal size, in.
        pub size_in: i64,
        /// What it is.
        pub kind: ItemKind,
        /// Blown to, tenths of a millimetre.
        pub blown_dmm: i64,
        /// Balls.
        pub count: i64,
        /// Volume of one, mL.
        pub volume_ml: i64,
        /// Strokes of the hand pump for one, if it is pumped by hand.
        pub strokes: Option<i64>,
        /// Seconds of one inflator nozzle for one, tenths, if it is blown by the inflator.
        pub inflator_ds: Option<i64>,
    }

    /// A step of the checklist.
    pub struct Step {
        /// Derived from what it is about, so that ticks survive a change of plan.
        pub id: String,
        /// Short code for paper: `L3`. May change with the plan.
        pub code: String,
        /// When in the job.
        pub phase: Phase,
        /// Begins with a verb, at most 32 characters.
        pub title: String,
        /// One line of how; may be empty.
        pub how: String,
        /// The piece it is about; empty for the whole job.
        pub piece: String,
        /// How much of it there is, in `unit`; 1 for a plain step.
        pub quantity: i64,
        /// Unit of the quantity; empty for a plain step.
        pub unit: String,
        /// How long it takes, s; 0 if it has no time of its own.
        pub duration_s: i64,
        /// Who: names.
        pub who: Vec<String>,
        /// When it begins, ms, if it is planned.
        pub start_ms: Option<i64>,
        /// The tasks that it is the tick of: ids; empty if it has no time of its own.
        pub tasks: Vec<String>,
        /// What the step needs at hand.
        pub needs: Vec<String>,
        /// The caution that stands first; empty if none.
        pub caution: String,
    }

    /// A caution.
    pub struct Caution {
        /// Which one.
        pub code: String,
        /// What to watch, one or two sentences.
        pub text: String,
        /// Where it matters.
        pub phase: Phase,
    }
}

/// When in the job.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize, TS,
)]
#[serde(rename_all = "snake_case")]
pub enum Phase {
    /// Buying and checking the delivery.
    #[default]
    Order,
    /// Blowing, tying, stringing in the studio.
    Prepare,
    /// Into bags and cases.
    Pack,
    /// Into the vehicle, and the drive.
    Load,
    /// In the room.
    Install,
    /// Tidy, photographs, hand-over.
    HandOver,
    /// Taking down.
    Strike,
    /// On the way home, and out again to take down.
    Return,
}

impl Phase {
    /// What comes after the hand-over: nothing of it has to be over by ready-by.
    #[must_use]
    pub fn comes_after(self) -> bool {
        matches!(self, Phase::Strike | Phase::Return)
    }
}

impl Plan {
    /// When the crew stands at the venue with the first load, ms.
    #[must_use]
    pub fn arrive_ms(&self) -> Option<i64> {
        self.tasks.iter().find(|t| t.id == "carry")?.start_ms
    }
}

//! The checklist. A step's id comes from what it is about, so that a tick survives a change of plan.

mod made;
mod own;
mod points;
mod room;
mod studio;
mod words;

use std::collections::BTreeMap;

use job::Job;
use job::list::live;
use job::piece::Piece;
use job::site::KitKind;

use crate::load::choice::at_the_venue;
use crate::load::kit_name;
use crate::pieces::{Counted, called};
use crate::types::{Load, OrderLine, Parcel, Phase, PiecePlan, Step, Task};

pub use own::own_id;
pub use points::{BACK, BESIDE, IN_VAN, OUT_OF_VAN, Point, WALK};
pub(crate) use points::{home, walk};
pub use studio::buy_id;
pub use words::LONGEST_TITLE;

/// Every step of the job, in the order of the work.
#[must_use]
pub fn steps(
    job: &Job,
    counted: &Counted,
    order: &[OrderLine],
    load: &Load,
    tasks: &[Task],
) -> Vec<Step> {
    let mut list = List {
        job,
        counted,
        load,
        tasks,
        names: live(&job.crew)
            .into_iter()
            .map(|(id, c)| {
                let name = match c.name.trim() {
                    "" => "Person without a name",
                    name => name,
                };
                (id, name)
            })
            .collect(),
        steps: Vec::new(),
    };
    list.order(order);
    for (plan, piece) in list.pieces() {
        if !at_the_venue(piece) {
            list.prepare(plan);
        }
    }
    list.pack();
    list.load();
    list.install();
    list.hand_over();
    list.strike();
    list.own();
    list.assign();
    let mut number: BTreeMap<Phase, u32> = BTreeMap::new();
    for step in list.steps.iter_mut().filter(|s| s.quantity == 1) {
        // one of a thing is a plain step
        step.unit.clear();
    }
    // a parcel's step has the parcel's own code
    for step in list.steps.iter_mut().filter(|s| s.code.is_empty()) {
        let n = number.entry(step.phase).or_default();
        *n += 1;
        step.code = format!("{}{n}", letter(step.phase));
    }
    list.steps
}

/// The letter of a phase on paper.
#[must_use]
pub fn letter(phase: Phase) -> char {
    match phase {
        Phase::Order => 'O',
        Phase::Prepare => 'P',
        Phase::Pack => 'B',
        Phase::Load => 'L',
        Phase::Install => 'S',
        Phase::HandOver => 'H',
        Phase::Strike | Phase::Return => 'T',
    }
}

/// The steps so far, and what they are made from.
struct List<'a> {
    job: &'a Job,
    counted: &'a Counted,
    load: &'a Load,
    tasks: &'a [Task],
    /// People by id.
    names: BTreeMap<&'a str, &'a str>,
    steps: Vec<Step>,
}

/// A plain step.
fn step(id: impl Into<String>, phase: Phase, title: String, how: impl Into<String>) -> Step {
    Step {
        id: id.into(),
        phase,
        title,
        how: how.into(),
        quantity: 1,
        ..Step::default()
    }
}

impl<'a> List<'a> {
    fn push(&mut self, step: Step) {
        self.steps.push(step);
    }

    /// A step with the people, start and duration of the tasks of one work: `hang.g`, or its parts `inflate.g.1`, `inflate.g.2`.
    fn timed(&mut self, work: &str, step: Step) {
        let part = |id: &str| {
            id.strip_prefix(work).is_some_and(|rest| {
                let number = rest.strip_prefix('.').unwrap_or(rest);
                number.bytes().all(|b| b.is_ascii_digit())
            })
        };
        let tasks: Vec<&Task> = self.tasks.iter().filter(|t| part(&t.id)).collect();
        let mut who: Vec<String> = Vec::new();
        for id in tasks.iter().flat_map(|t| &t.who) {
            if let Some(name) = self.names.get(id.as_str()) {
                let name = name.to_string();
                if !who.contains(&name) {
                    who.push(name);
                }
            }
        }
        self.steps.push(Step {
            who,
            start_ms: tasks.iter().filter_map(|t| t.start_ms).min(),
            tasks: tasks.iter().map(|t| t.id.clone()).collect(),
            duration_s: tasks
                .iter()
                .map(|t| t.duration_s)
                .fold(0, i64::saturating_add),
            ..step
        });
    }

    /// The pieces that are built, with their plans.
    fn pieces(&self) -> Vec<(&'a PiecePlan, &'a Piece)> {
        let (counted, job) = (self.counted, self.job);
        let of = |plan: &'a PiecePlan| Some((plan, job.pieces.get(&plan.piece)?));
        counted.pieces.iter().filter_map(of).collect()
    }

    /// Names of the kit of one kind.
    fn kit(&self, kind: KitKind) -> Vec<String> {
        live(&self.job.kit)
            .into_iter()
            .filter(|(_, k)| k.kind == kind && k.count > 0)
            .map(|(_, k)| kit_name(k).to_string())
            .collect()
    }

    /// The parcels, hard ones first and then as they were made, which their codes keep. A stowed load lists them in another order, and
    /// that changes with every vehicle; what is numbered by it would not outlive a change of plan.
    fn as_made(&self) -> Vec<&Parcel> {
        let mut made: Vec<&Parcel> = self.load.parcels.iter().collect();
        made.sort_by_key(|p| (p.soft, p.code.len(), p.code.as_str()));
        made
    }

    /// Codes of the parcels that hold a piece, as they were made.
    fn codes(&self, piece: &str) -> Vec<String> {
        let made = self.as_made();
        let of_piece = made.iter().filter(|p| p.piece == piece);
        of_piece.map(|p| p.code.clone()).collect()
    }

    fn name(&self, piece: &str) -> String {
        self.job.pieces.get(piece).map_or("", called).to_string()
    }

    /// Whether there is latex in the job.
    fn latex(&self) -> bool {
        !self.counted.sizing.is_empty()
    }
}

#[cfg(test)]
mod tests;

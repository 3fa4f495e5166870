//! The checklists: the steps of the studio, of the room and of the strike, each with its box and its short code.

use job::live;
use plan::types::{Phase, Step};

use crate::doc::{Doc, Pen};
use crate::flow::{Block, ended};
use crate::parts::{blanks, boxed};
use crate::say::{count, duration, list, numbered};
use crate::source::{ALWAYS, Source};
use crate::style::{BODY, LABEL, NOTE, QUANTITY};
use crate::table::{Cell, Table, fixed, share};

/// Least height of a row in mm, and where the rows are set close.
const ROW: f64 = 9.6;
const ROW_CLOSE: f64 = 8.0;

/// The delivery, preparing, loading. What is ordered and packed has its boxes on the order list and the packing list.
pub fn studio(doc: &mut Doc, source: &Source<'_>) {
    let phases = [
        (Phase::Order, "Delivery"),
        (Phase::Prepare, "Prepare"),
        (Phase::Load, "Load"),
    ];
    sheet(doc, source, "Studio checklist", &phases, &[]);
}

/// In the room, up to the signature.
pub fn install(doc: &mut Doc, source: &Source<'_>) {
    let phases = [(Phase::Install, "Install"), (Phase::HandOver, "Hand-over")];
    let signs = ["Handed over to", "signature", "at"];
    sheet(doc, source, "Install checklist", &phases, &signs);
}

/// Taking down.
pub fn strike(doc: &mut Doc, source: &Source<'_>) {
    let signs = [
        "Struck and counted back by",
        "at",
        "room left clear, seen by",
    ];
    let phases = [(Phase::Strike, "Strike")];
    sheet(doc, source, "Strike checklist", &phases, &signs);
}

/// A sheet of the steps of some phases, with lines to sign on under the last of them; none if there is no such step.
fn sheet(
    doc: &mut Doc,
    source: &Source<'_>,
    title: &str,
    phases: &[(Phase, &str)],
    signs: &[&str],
) {
    doc.closer(|doc, close| set(doc, source, title, phases, signs, close));
}

fn set(
    doc: &mut Doc,
    source: &Source<'_>,
    title: &str,
    phases: &[(Phase, &str)],
    signs: &[&str],
    close: bool,
) {
    let wide = doc.width();
    let table = Table::new(
        wide,
        &[fixed(6.0).middle(), fixed(11.0), share(1.0), fixed(46.0)],
    )
    .close(close)
    .at_least(if close { ROW_CLOSE } else { ROW });
    let mut blocks = Vec::new();
    for (phase, name) in phases {
        let steps = source
            .plan
            .steps
            .iter()
            .filter(|s| s.phase == *phase && !s.id.starts_with("buy."));
        let rows: Vec<Vec<Cell>> = steps.map(|s| row(&mut doc.pen, source, s)).collect();
        if !rows.is_empty() {
            let labels = ["", "", "", "who, when, how long"];
            blocks.push(table.block(&mut doc.pen, name, &labels, rows));
        }
    }
    if blocks.is_empty() {
        return;
    }
    doc.begin(source.crew_head(title));
    let runs = [doc.pen.run(ALWAYS, BODY)];
    let always = boxed(&doc.pen, wide, &runs);
    doc.place(&[always]);
    if !signs.is_empty() {
        blocks.push(Block::of(vec![blanks(&mut doc.pen, wide, signs)]));
        blocks = ended(blocks);
    }
    doc.place(&blocks);
}

/// A step: its caution before its how, then what it needs and what was noted.
fn row(pen: &mut Pen, source: &Source<'_>, step: &Step) -> Vec<Cell> {
    let mut what = vec![pen.run(&numbered(&step.title), BODY.bold())];
    if !step.piece.is_empty() {
        let name = source.piece_name(&step.piece);
        if !step.title.contains(&name) {
            what.push(pen.run(&format!("  {name}"), NOTE));
        }
    }
    if !step.caution.is_empty() {
        what.push(pen.run(&format!("\n{}", step.caution), NOTE.bold()));
    }
    if !step.how.is_empty() {
        what.push(pen.run(&format!("\n{}", step.how), LABEL));
    }
    if !step.needs.is_empty() {
        let needs = format!("\nAt hand: {}", list(&step.needs));
        what.push(pen.run(&needs, NOTE));
    }
    for (_, note) in live(&source.job.notes) {
        if note.step == step.id && !note.text.trim().is_empty() {
            what.push(pen.run(&format!("\nNote: {}", note.text), LABEL));
        }
    }
    let mut who = vec![pen.run(&source.hands(&step.who), BODY)];
    let mut facts: Vec<String> = source.instant(step.start_ms).into_iter().collect();
    if step.duration_s > 0 {
        facts.push(duration(step.duration_s));
    }
    if !step.unit.is_empty() {
        facts.push(format!("{}\u{a0}{}", count(step.quantity), step.unit));
    }
    let gap = if step.who.is_empty() { "" } else { "\n" };
    who.push(pen.run(&format!("{gap}{}", facts.join(", ")), NOTE));
    vec![
        Cell::Tick(Vec::new()),
        Cell::Text(vec![pen.run(&step.code, QUANTITY)]),
        Cell::Text(what),
        Cell::Text(who),
    ]
}

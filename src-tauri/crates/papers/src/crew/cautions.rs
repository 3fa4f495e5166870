//! The cautions of the job, each where it matters.

use plan::types::Phase;

use crate::doc::Doc;
use crate::parts::boxed;
use crate::source::{ALWAYS, Source};
use crate::style::BODY;
use crate::table::{Cell, Table, share};

/// Writes the page.
pub fn write(doc: &mut Doc, source: &Source<'_>) {
    let wide = doc.width();
    doc.begin(source.crew_head("Cautions"));
    let runs = [
        doc.pen.run("Always. ", BODY.bold()),
        doc.pen.run(ALWAYS, BODY),
    ];
    let always = boxed(&doc.pen, wide, &runs);
    doc.place(&[always]);
    let table = Table::new(wide, &[share(1.0)]);
    let phases = [
        (Phase::Order, "When ordering"),
        (Phase::Prepare, "In the studio"),
        (Phase::Pack, "When packing"),
        (Phase::Load, "When loading and driving"),
        (Phase::Install, "In the room"),
        (Phase::HandOver, "At the hand-over"),
        (Phase::Strike, "At the strike"),
    ];
    let mut blocks = Vec::new();
    for (phase, title) in phases {
        let mut rows = Vec::new();
        for caution in source.cautions().filter(|c| c.phase == phase) {
            rows.push(vec![Cell::Text(vec![doc.pen.run(&caution.text, BODY)])]);
        }
        if !rows.is_empty() {
            blocks.push(table.block(&mut doc.pen, title, &[], rows));
        }
    }
    doc.place(&blocks);
}

//! The packing list: every bag and case with what is in it, a box for out and one for back.

use plan::types::{Parcel, Phase};

use crate::doc::{Doc, Pen};
use crate::flow::Block;
use crate::parts::{blanks, caution, figures};
use crate::say::count;
use crate::source::Source;
use crate::style::{BODY, LABEL, NOTE, QUANTITY};
use crate::table::{Cell, Table, fixed, share};

/// Least height of a row in mm: room for a thumb-sized tick.
const ROW: f64 = 9.0;

/// Writes the list.
pub fn write(doc: &mut Doc, source: &Source<'_>) {
    let load = &source.plan.load;
    if load.parcels.is_empty() {
        return;
    }
    let wide = doc.width();
    doc.begin(source.crew_head("Packing list"));
    let strip = strip(source);
    let block = figures(&mut doc.pen, wide, &strip, false);
    doc.place(&[block]);
    let half = doc.column(2);
    let mut blocks = Vec::new();
    // one packing step for each parcel, in the same order
    let mut steps = source.plan.steps.iter().filter(|s| s.phase == Phase::Pack);
    for parcel in &load.parcels {
        let code = steps.next().map_or("", |s| s.code.as_str());
        blocks.push(parcel_block(doc, source, parcel, code, half));
    }
    let text = "Uninflated and broken balloons can choke children: count the pieces back in. \
        Nothing goes on top of a soft bag. Two to lift a long piece. Sharp tools stay in their case.";
    blocks.push(caution(&mut doc.pen, half, "With care.", text).spaced(6.0));
    doc.gap(5.0);
    doc.place_columns(&blocks, 2);
    let row = blanks(
        &mut doc.pen,
        wide,
        &["Packed by", "at", "Counted back by", "at"],
    );
    doc.place(&[Block::of(vec![row])]);
}

fn strip(source: &Source<'_>) -> Vec<(String, String)> {
    let load = &source.plan.load;
    let mut out = Vec::new();
    let begin = source
        .plan
        .tasks
        .iter()
        .filter(|t| t.phase == Phase::Load)
        .find_map(|t| t.start_ms);
    if let Some(time) = source.instant(begin) {
        out.push((time, "begin loading".to_string()));
    }
    if let Some(time) = source.instant(source.plan.figures.leave_by_ms) {
        out.push((time, "leave by".to_string()));
    }
    let things = i64::try_from(load.parcels.len()).unwrap_or(i64::MAX);
    out.push((
        count(things),
        if things == 1 {
            "thing to load".to_string()
        } else {
            "things to load".to_string()
        },
    ));
    if load.trips > 1 {
        out.push((count(load.trips), "trips at least".to_string()));
    }
    out.push((
        source.say.volume(load.volume_ml),
        format!("of {}", source.say.volume(load.space_ml)),
    ));
    out
}

/// One bag or case: its code and name over its contents.
fn parcel_block(
    doc: &mut Doc,
    source: &Source<'_>,
    parcel: &Parcel,
    code: &str,
    wide: f64,
) -> Block {
    let table = columns(wide);
    let pen = &mut doc.pen;
    let mut rows = vec![whole_row(pen, source, parcel, code)];
    for (index, held) in parcel.holds.iter().enumerate() {
        let number = if held.unit.is_empty() {
            count(held.count)
        } else {
            format!("{}\u{a0}{}", count(held.count), held.unit)
        };
        rows.push(vec![
            Cell::Text(vec![pen.run(&format!("{code}.{}", index + 1), NOTE)]),
            Cell::Text(vec![pen.run(&number, QUANTITY)]),
            Cell::Text(vec![pen.run(&held.what, BODY)]),
            Cell::Tick(Vec::new()),
            if held.comes_home {
                Cell::Tick(Vec::new())
            } else {
                Cell::Empty
            },
        ]);
    }
    let title = format!("{}  {}", parcel.code, parcel.name);
    table.block(pen, &title, &["", "", "", "out", "back"], rows)
}

fn columns(wide: f64) -> Table {
    Table::new(
        wide,
        &[
            fixed(9.5),
            fixed(13.0).right(),
            share(1.0),
            fixed(7.0).middle(),
            fixed(7.0).middle(),
        ],
    )
    .at_least(ROW)
}

/// The bag or case itself: how large, how to carry it, whether it is stuck.
fn whole_row(pen: &mut Pen, source: &Source<'_>, parcel: &Parcel, code: &str) -> Vec<Cell> {
    let say = &source.say;
    let size = format!(
        "{} × {}",
        say.area(parcel.length_mm, parcel.width_mm),
        say.length(parcel.height_mm)
    );
    let kind = if parcel.soft {
        "soft, nothing on top"
    } else {
        "firm"
    };
    let mut runs = vec![
        pen.run("The whole", BODY.bold()),
        pen.run(&format!("  {size}, {kind}"), NOTE),
    ];
    if !parcel.stuck_at.is_empty() {
        let text = format!("\nDoes not pass: {}", parcel.stuck_at);
        runs.push(pen.run(&text, LABEL.bold()));
    }
    vec![
        Cell::Text(vec![pen.run(code, NOTE.bold())]),
        Cell::Text(vec![pen.run("1", QUANTITY)]),
        Cell::Text(runs),
        Cell::Tick(Vec::new()),
        Cell::Tick(Vec::new()),
    ]
}

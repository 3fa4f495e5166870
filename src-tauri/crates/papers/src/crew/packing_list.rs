//! The packing list: every bag and case with what is in it, a box for out and one for back.

use plan::types::{Parcel, Phase};

use crate::doc::{Doc, Pen};
use crate::flow::Block;
use crate::parts::{blanks, caution, figures};
use crate::say::{count, numbered};
use crate::source::Source;
use crate::style::{BODY, LABEL, NOTE, QUANTITY};
use crate::table::{Cell, Table, fixed, share};

/// Least height of a row in mm, and where the rows are set close.
const ROW: f64 = 8.8;
const ROW_CLOSE: f64 = 7.2;

/// Writes the list.
pub fn write(doc: &mut Doc, source: &Source<'_>) {
    if !source.plan.load.parcels.is_empty() {
        doc.closer(|doc, close| set(doc, source, close));
    }
}

fn set(doc: &mut Doc, source: &Source<'_>, close: bool) {
    let wide = doc.width();
    doc.begin(source.crew_head("Packing list"));
    let strip = strip(source);
    let block = figures(&mut doc.pen, wide, &strip, false);
    doc.place(&[block]);
    let half = doc.column(2);
    let things = things(source);
    let mut blocks = Vec::new();
    for (title, soft) in [("Cases and kit", false), ("Bags: only bags on top", true)] {
        let rows: Vec<Vec<Cell>> = things
            .iter()
            .filter(|t| t.parcel.soft == soft)
            .map(|t| thing_row(&mut doc.pen, source, t))
            .collect();
        if !rows.is_empty() {
            blocks.push(list(&mut doc.pen, half, title, "back", rows, close));
        }
    }
    for thing in things.iter().filter(|t| !t.speaks_for_itself()) {
        let title = format!("{}  {}", thing.parcel.code, numbered(&thing.parcel.name));
        let rows = held_rows(&mut doc.pen, thing);
        let comes_home = thing.parcel.holds.iter().any(|h| h.comes_home);
        let back = if comes_home { "back" } else { "" };
        blocks.push(list(&mut doc.pen, half, &title, back, rows, close));
    }
    let text = "Uninflated and broken balloons can choke children: count the pieces back in. \
        On a soft bag goes nothing but bags. Two to lift a long piece. Sharp tools stay in their case.";
    let mut end = caution(&mut doc.pen, half, "With care.", text).spaced(6.0);
    // the lines to sign on stand in the last column: below the columns they once stood alone on a page
    for signs in [["Packed by", "at"], ["Counted back by", "at"]] {
        end.rows.push(blanks(&mut doc.pen, half, &signs));
    }
    blocks.push(end.whole());
    doc.gap(5.0);
    doc.place_columns(&blocks, 2);
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
        let word = if load.stowed {
            "trips"
        } else {
            "trips at least"
        };
        out.push((count(load.trips), word.to_string()));
    }
    out.push((
        source.say.volume(load.volume_ml),
        format!("of {}", source.say.volume(load.space_ml)),
    ));
    out
}

/// A bag or case with the code of the step that packs it.
struct Thing<'a> {
    parcel: &'a Parcel,
    code: &'a str,
}

impl Thing<'_> {
    /// Nothing is in it that its name does not say: a length, a ladder, a pump.
    fn speaks_for_itself(&self) -> bool {
        match self.parcel.holds.as_slice() {
            [] => true,
            [only] => only.count == 1 && only.what.trim() == self.parcel.name.trim(),
            _ => false,
        }
    }
}

/// The parcels in their order, each with its packing step: one for each, in the same order.
fn things<'a>(source: &Source<'a>) -> Vec<Thing<'a>> {
    let mut steps = source.plan.steps.iter().filter(|s| s.phase == Phase::Pack);
    source
        .plan
        .load
        .parcels
        .iter()
        .map(|parcel| Thing {
            parcel,
            code: steps.next().map_or("", |s| s.code.as_str()),
        })
        .collect()
}

/// A list with a box for out and one for back, whose head is empty where nothing comes back.
fn list(
    pen: &mut Pen,
    wide: f64,
    title: &str,
    back: &str,
    rows: Vec<Vec<Cell>>,
    close: bool,
) -> Block {
    let table = Table::new(
        wide,
        &[
            fixed(12.0).right(),
            share(1.0),
            fixed(17.0).right(),
            fixed(8.0).middle(),
        ],
    )
    .close(close)
    .at_least(if close { ROW_CLOSE } else { ROW });
    table.block(pen, title, &["", "", "out", back], rows)
}

/// The bag or case itself: how large, how to carry it, whether it is stuck.
fn thing_row(pen: &mut Pen, source: &Source<'_>, thing: &Thing<'_>) -> Vec<Cell> {
    let (say, parcel) = (&source.say, thing.parcel);
    let size = format!(
        "\n{} × {}",
        say.area(parcel.length_mm, parcel.width_mm),
        say.length(parcel.height_mm)
    );
    let mut runs = vec![pen.run(&numbered(&parcel.name), BODY), pen.run(&size, NOTE)];
    if !parcel.stuck_at.is_empty() {
        let text = format!("\nDoes not pass: {}", parcel.stuck_at);
        runs.push(pen.run(&text, LABEL.bold()));
    }
    // a code that is the parcel's own need not stand twice
    let code = if thing.code == parcel.code {
        ""
    } else {
        thing.code
    };
    vec![
        Cell::Text(vec![pen.run(&parcel.code, QUANTITY)]),
        Cell::Text(runs),
        Cell::Tick(vec![pen.run(code, NOTE)]),
        Cell::Tick(Vec::new()),
    ]
}

fn held_rows(pen: &mut Pen, thing: &Thing<'_>) -> Vec<Vec<Cell>> {
    let mut rows = Vec::new();
    for (index, held) in thing.parcel.holds.iter().enumerate() {
        let mut number = vec![pen.run(&count(held.count), QUANTITY)];
        if !held.unit.is_empty() {
            number.push(pen.run(&format!("\u{a0}{}", held.unit), LABEL));
        }
        let code = format!("{}.{}", thing.code, index + 1);
        rows.push(vec![
            Cell::Text(number),
            Cell::Text(vec![pen.run(&held.what, BODY)]),
            Cell::Tick(vec![pen.run(&code, NOTE)]),
            if held.comes_home {
                Cell::Tick(Vec::new())
            } else {
                Cell::Empty
            },
        ]);
    }
    rows
}

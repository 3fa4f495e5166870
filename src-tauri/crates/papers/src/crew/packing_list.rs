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
const ROW: f64 = 8.8;

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
    let things = things(source);
    let mut blocks = Vec::new();
    for (title, soft) in [("Cases and kit", false), ("Bags: only bags on top", true)] {
        let rows: Vec<Vec<Cell>> = things
            .iter()
            .filter(|t| t.parcel.soft == soft)
            .map(|t| thing_row(&mut doc.pen, source, t))
            .collect();
        if !rows.is_empty() {
            blocks.push(list(&mut doc.pen, half, title, rows));
        }
    }
    for thing in things.iter().filter(|t| !t.speaks_for_itself()) {
        let title = format!("{}  {}", thing.parcel.code, numbered(&thing.parcel.name));
        let rows = held_rows(&mut doc.pen, thing);
        blocks.push(list(&mut doc.pen, half, &title, rows));
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

/// A name whose number at the end, `1 of 4`, is never torn apart by the end of a line.
fn numbered(name: &str) -> String {
    let mut words: Vec<&str> = name.rsplitn(4, ' ').collect();
    let whole = |word: Option<&&str>| word.is_some_and(|w| w.parse::<u32>().is_ok());
    let fits = words.len() == 4 && words.get(1) == Some(&"of");
    if !fits || !whole(words.first()) || !whole(words.get(2)) {
        return name.to_string();
    }
    words.reverse();
    let (front, number) = words.split_at(1);
    format!("{} {}", front.concat(), number.join("\u{a0}"))
}

/// A list with a box for out and one for back.
fn list(pen: &mut Pen, wide: f64, title: &str, rows: Vec<Vec<Cell>>) -> Block {
    let table = Table::new(
        wide,
        &[
            fixed(12.0).right(),
            share(1.0),
            fixed(17.0).right(),
            fixed(8.0).middle(),
        ],
    )
    .at_least(ROW);
    table.block(pen, title, &["", "", "out", "back"], rows)
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

#[cfg(test)]
mod tests {
    use super::*;

    /// "Wall garland, length 1 of" once stood over a lonely "2".
    #[test]
    fn the_number_of_a_bag_stays_on_one_line() {
        assert_eq!(
            numbered("Wall garland, length 1 of 2"),
            "Wall garland, length 1\u{a0}of\u{a0}2"
        );
        assert_eq!(numbered("Pots of many colours"), "Pots of many colours");
        assert_eq!(numbered("1 of 2"), "1 of 2");
    }
}

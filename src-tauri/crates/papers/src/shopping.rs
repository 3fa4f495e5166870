//! The shopping list: what is to be bought, kind by kind, with a box each for the basket.

use job::Job;
use job::stock::ItemKind;
use plan::Plan;
use plan::types::OrderLine;

use crate::doc::{Doc, Pen};
use crate::parts::{figures, paragraph};
use crate::say::count;
use crate::source::Source;
use crate::style::{BODY, NOTE, QUANTITY};
use crate::table::{Cell, Table, fixed, share};
use crate::{Paper, PaperError, Sheet, finished};

/// Radius of a swatch in a row in mm.
const SWATCH: f64 = 2.9;
/// Least height of a row in mm: room for a thumb-sized tick.
const ROW: f64 = 9.0;

/// Kinds as a shop keeps them.
const KINDS: [(&str, &[ItemKind]); 4] = [
    ("Latex balloons", &[ItemKind::Round, ItemKind::Link]),
    ("Long ties", &[ItemKind::Tie]),
    ("Foils", &[ItemKind::Foil]),
    ("Sundries", &[ItemKind::Sundry, ItemKind::Newer]),
];

/// The list. It names no prices.
pub fn shopping_list(job: &Job, plan: &Plan, sheet: &Sheet) -> Result<Paper, PaperError> {
    let source = Source::new(job, plan, sheet);
    let doc = draw(&source)?;
    let title = format!("Shopping list: {}", source.name());
    finished(doc, &title, sheet)
}

/// The pages.
pub fn draw(source: &Source<'_>) -> Result<Doc, PaperError> {
    let mut doc = Doc::new(source.sheet.size)?;
    doc.begin(source.crew_head("Shopping list"));
    let wide = doc.width();
    let buy: Vec<&OrderLine> = source.plan.order.iter().filter(|l| l.short > 0).collect();
    if buy.is_empty() {
        let runs = [doc.pen.run("Everything is on the shelf.", BODY)];
        let block = paragraph(&doc.pen, wide, &runs, 2.0);
        doc.place(&[block]);
    } else {
        let bags: i64 = buy
            .iter()
            .flat_map(|l| &l.bags)
            .map(|b| b.count)
            .fold(0, i64::saturating_add);
        let lines = i64::try_from(buy.len()).unwrap_or(i64::MAX);
        let strip = [
            (
                count(lines),
                if lines == 1 { "thing" } else { "things" }.to_string(),
            ),
            (
                count(bags),
                if bags == 1 {
                    "bag or pack"
                } else {
                    "bags and packs"
                }
                .to_string(),
            ),
        ];
        let block = figures(&mut doc.pen, wide, &strip, false);
        doc.place(&[block]);
    }
    let table = Table::new(
        wide,
        &[
            fixed(8.0),
            fixed(7.0).middle(),
            share(1.0),
            fixed(20.0).right(),
            fixed(2.0),
            fixed(38.0),
        ],
    )
    .at_least(ROW);
    for (title, kinds) in KINDS {
        let rows: Vec<Vec<Cell>> = buy
            .iter()
            .filter(|l| kinds.contains(&l.kind))
            .map(|l| row(&mut doc.pen, source, l))
            .collect();
        if !rows.is_empty() {
            let labels = ["", "", "", "to buy", "", "bags"];
            let block = table.block(&mut doc.pen, title, &labels, rows);
            doc.place(&[block]);
        }
    }
    doc.feet("Shopping list", source.sheet);
    Ok(doc)
}

fn row(pen: &mut Pen, source: &Source<'_>, line: &OrderLine) -> Vec<Cell> {
    let unit = if line.unit.is_empty() {
        String::new()
    } else {
        format!("\u{a0}{}", line.unit)
    };
    let bags: Vec<String> = line
        .bags
        .iter()
        .map(|b| format!("{}\u{a0}×\u{a0}{}", count(b.count), count(b.size)))
        .collect();
    let swatch = if line.colour.is_empty() {
        Cell::Empty
    } else {
        Cell::Drawing(source.palette.swatch(&line.colour, SWATCH))
    };
    let mut name = vec![pen.run(&line.name, BODY)];
    if line.on_hand > 0 {
        let shelf = format!("\n{}{unit} more on the shelf", count(line.on_hand));
        name.push(pen.run(&shelf, NOTE));
    }
    vec![
        Cell::Tick(Vec::new()),
        swatch,
        Cell::Text(name),
        Cell::Text(vec![
            pen.run(&format!("{}{unit}", count(line.short)), QUANTITY),
        ]),
        Cell::Empty,
        Cell::Text(vec![pen.run(&bags.join(", "), BODY)]),
    ]
}

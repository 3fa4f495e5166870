//! The order list: what is needed, what is on the shelf, what to buy; on paper and as CSV.

use job::Job;
use job::currency::decimal;
use job::stock::ItemKind;
use plan::Plan;
use plan::types::OrderLine;

use crate::csv::Csv;
use crate::doc::{Doc, Pen};
use crate::palette::Palette;
use crate::say::count;
use crate::shopping::by_supplier;
use crate::source::Source;
use crate::style::{BODY, NOTE, QUANTITY, Style};
use crate::table::{Cell, Table, fixed, share};
use crate::text::shorten;

/// Radius of a swatch in a row in mm.
const SWATCH: f64 = 2.9;

/// The most uses that stand under a name, and letters of each: the sizing sheet has them all.
const MOST_USES: usize = 6;
const NAME_LETTERS: usize = 24;

/// Writes the list: what is to be bought first, then what is on the shelf.
pub fn write(doc: &mut Doc, source: &Source<'_>) {
    if !source.plan.order.is_empty() {
        doc.closer(|doc, close| set(doc, source, close));
    }
}

fn set(doc: &mut Doc, source: &Source<'_>, close: bool) {
    let wide = doc.width();
    doc.begin(source.crew_head("Order list"));
    let (buy, shelf): (Vec<_>, Vec<_>) = source.plan.order.iter().partition(|l| l.short > 0);
    let mut blocks = Vec::new();
    if !buy.is_empty() {
        let table = Table::new(
            wide,
            &[
                fixed(7.0).middle(),
                share(1.0),
                fixed(12.0).right(),
                fixed(13.0).right(),
                fixed(16.0).right(),
                fixed(14.0).right(),
                fixed(0.0),
                fixed(22.0),
                fixed(16.0).right(),
                fixed(16.0).right(),
            ],
        )
        .close(close)
        .at_least(if close { 7.2 } else { 9.0 });
        let labels = [
            "", "", "need", "spares", "on hand", "to buy", "", "bags", "ordered", "checked",
        ];
        let rows = buy
            .into_iter()
            .map(|l| buy_row(&mut doc.pen, source, l))
            .collect();
        blocks.push(table.block(&mut doc.pen, "To buy", &labels, rows));
    }
    if !shelf.is_empty() {
        let table = Table::new(
            wide,
            &[
                fixed(7.0).middle(),
                share(1.0),
                fixed(17.0).right(),
                fixed(17.0).right(),
                fixed(17.0).right(),
                fixed(17.0).right(),
            ],
        )
        .close(close)
        .at_least(if close { 6.4 } else { 7.4 });
        let labels = ["", "", "need", "spares", "on hand", "left"];
        let rows = shelf
            .into_iter()
            .map(|l| shelf_row(&mut doc.pen, source, l))
            .collect();
        blocks.push(table.block(&mut doc.pen, "On the shelf", &labels, rows));
    }
    doc.place(&blocks);
}

fn buy_row(pen: &mut Pen, source: &Source<'_>, line: &OrderLine) -> Vec<Cell> {
    let (order, check) = (buy_code(source, line), source.code("check"));
    let tick = |pen: &mut Pen, code: &str| Cell::Tick(vec![pen.run(code, NOTE)]);
    vec![
        swatch(source, line),
        name(pen, line),
        number(pen, line, line.need, BODY),
        number(pen, line, line.spares, BODY),
        number(pen, line, line.on_hand, BODY),
        number(pen, line, line.short, QUANTITY),
        Cell::Empty,
        Cell::Text(vec![pen.run(&bags(line), BODY)]),
        tick(pen, &order),
        tick(pen, check),
    ]
}

fn shelf_row(pen: &mut Pen, source: &Source<'_>, line: &OrderLine) -> Vec<Cell> {
    vec![
        swatch(source, line),
        name(pen, line),
        number(pen, line, line.need, BODY),
        number(pen, line, line.spares, BODY),
        number(pen, line, line.on_hand, BODY),
        number(pen, line, line.left, BODY),
    ]
}

/// The code of the step that orders the line.
fn buy_code(source: &Source<'_>, line: &OrderLine) -> String {
    source.code(&plan::steps::buy_id(line)).to_string()
}

fn swatch(source: &Source<'_>, line: &OrderLine) -> Cell {
    if line.colour.is_empty() {
        Cell::Empty
    } else {
        Cell::Drawing(source.palette.swatch(&line.colour, SWATCH))
    }
}

/// The name, and for what how much where there is more than one use.
fn name(pen: &mut Pen, line: &OrderLine) -> Cell {
    let mut runs = vec![pen.run(&line.name, BODY)];
    if line.terms.len() > 1 {
        let used: Vec<String> = line
            .terms
            .iter()
            .map(|t| {
                format!(
                    "{}:\u{a0}{}",
                    shorten(&t.label, NAME_LETTERS),
                    count(t.value)
                )
            })
            .collect();
        let (shown, more) = used.split_at(used.len().min(MOST_USES));
        let more = match more.len() {
            0 => String::new(),
            n => format!(" and {n}\u{a0}more"),
        };
        runs.push(pen.run(&format!("\n{}{more}", shown.join("; ")), NOTE));
    }
    Cell::Text(runs)
}

fn number(pen: &mut Pen, line: &OrderLine, n: i64, style: Style) -> Cell {
    let unit = if line.unit.is_empty() {
        String::new()
    } else {
        format!("\u{a0}{}", line.unit)
    };
    Cell::Text(vec![pen.run(&format!("{}{unit}", count(n)), style)])
}

/// `2 × 100, 1 × 25`.
fn bags(line: &OrderLine) -> String {
    line.bags
        .iter()
        .map(|b| format!("{}\u{a0}×\u{a0}{}", count(b.count), count(b.size)))
        .collect::<Vec<_>>()
        .join(", ")
}

/// The order list as CSV (RFC 4180), numbers as plain digits, supplier by supplier. Costs are given where the plan knows them.
pub fn order_csv(job: &Job, plan: &Plan) -> String {
    let palette = Palette::of(job, plan);
    let currency = plan.price.as_ref().map_or("", |p| p.currency.as_str());
    let mut csv = Csv::default();
    csv.line(&[
        "name", "kind", "colour", "size in", "unit", "need", "spares", "on hand", "to buy", "bags",
        "left", "cost", "supplier",
    ]);
    let all: Vec<&OrderLine> = plan.order.iter().collect();
    for line in by_supplier(&all).into_iter().flat_map(|(_, lines)| lines) {
        let number = |n: i64| n.to_string();
        let bags: Vec<String> = line
            .bags
            .iter()
            .map(|b| format!("{} x {}", b.count, b.size))
            .collect();
        let size = if line.size_in > 0 {
            number(line.size_in)
        } else {
            String::new()
        };
        let cost = line.cost_cents.map(|c| decimal(c, currency));
        let cost = cost.unwrap_or_default();
        csv.line(&[
            &line.name,
            kind(line.kind),
            &palette.tone(&line.colour).name,
            &size,
            &line.unit,
            &number(line.need),
            &number(line.spares),
            &number(line.on_hand),
            &number(line.short),
            &bags.join(" + "),
            &number(line.left),
            &cost,
            &line.supplier,
        ]);
    }
    csv.finish()
}

fn kind(kind: ItemKind) -> &'static str {
    match kind {
        ItemKind::Round => "round",
        ItemKind::Link => "link",
        ItemKind::Tie => "tie",
        ItemKind::Foil => "foil",
        ItemKind::Sundry => "sundry",
        ItemKind::Helium => "helium",
        ItemKind::Newer => "",
    }
}

//! The shopping list: what is to be bought, supplier by supplier and kind by kind, with a box each for the basket.

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
const KINDS: [(&str, &[ItemKind]); 5] = [
    ("Latex balloons", &[ItemKind::Round, ItemKind::Link]),
    ("Long ties", &[ItemKind::Tie]),
    ("Foils", &[ItemKind::Foil]),
    ("Helium", &[ItemKind::Helium]),
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
    let shops = by_supplier(&buy);
    for (supplier, buy) in &shops {
        let mut lists: Vec<(&str, Vec<&OrderLine>)> = Vec::new();
        for (title, kinds) in KINDS {
            let of = buy.iter().filter(|l| kinds.contains(&l.kind));
            let of: Vec<&OrderLine> = of.copied().collect();
            match lists.first_mut() {
                // one list for a supplier, in the order of the kinds
                Some((_, all)) if !supplier.is_empty() || shops.len() > 1 => all.extend(of),
                _ => lists.push((title, of)),
            }
        }
        for (title, lines) in lists {
            let title = match supplier.as_str() {
                "" if shops.len() > 1 => "Wherever it is sold",
                "" => title,
                name => name,
            };
            let rows = lines.iter().map(|l| row(&mut doc.pen, source, l));
            let rows: Vec<Vec<Cell>> = rows.collect();
            if !rows.is_empty() {
                let labels = ["", "", "", "to buy", "", "bags"];
                let block = table.block(&mut doc.pen, title, &labels, rows);
                doc.place(&[block]);
            }
        }
    }
    doc.feet("Shopping list", source.sheet);
    Ok(doc)
}

/// Lines by supplier, in the order of their names; those of none are last. Names that differ in nothing but capitals are one.
pub fn by_supplier<'a>(lines: &[&'a OrderLine]) -> Vec<(String, Vec<&'a OrderLine>)> {
    let key = |l: &OrderLine| (l.supplier.is_empty(), l.supplier.to_lowercase());
    let mut sorted = lines.to_vec();
    sorted.sort_by_key(|l| key(l));
    sorted
        .chunk_by(|a, b| key(a) == key(b))
        .filter_map(|of| Some((of.first()?.supplier.clone(), of.to_vec())))
        .collect()
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::marks::listing;

    fn line(name: &str, kind: ItemKind, supplier: &str) -> OrderLine {
        OrderLine {
            name: name.into(),
            kind,
            supplier: supplier.into(),
            short: 3,
            ..OrderLine::default()
        }
    }

    fn listed(order: Vec<OrderLine>) -> String {
        let plan = Plan {
            order,
            ..Plan::default()
        };
        let (job, sheet) = (Job::default(), Sheet::default());
        let doc = draw(&Source::new(&job, &plan, &sheet)).unwrap();
        listing(&doc.pages).join("\n")
    }

    fn in_order(text: &str, words: &[&str]) {
        let at: Vec<Option<usize>> = words.iter().map(|w| text.find(w)).collect();
        assert!(at.iter().all(Option::is_some), "{words:?} in {text}");
        assert!(at.is_sorted(), "{words:?} in {text}");
    }

    #[test]
    fn what_one_supplier_sells_stands_together() {
        let text = listed(vec![
            line("Rose 11 in", ItemKind::Round, "Quay Trade"),
            line("Tape", ItemKind::Sundry, "mill hardware"),
            line("Gold 5", ItemKind::Foil, ""),
            line("Hooks", ItemKind::Sundry, "Mill Hardware"),
            line("Cord", ItemKind::Sundry, "Quay Trade"),
        ]);
        in_order(
            &text,
            &[
                "mill hardware",
                "Tape",
                "Hooks",
                "Quay Trade",
                "Rose 11 in",
                "Cord",
                "Wherever it is sold",
                "Gold 5",
            ],
        );
        assert_eq!(text.matches("Quay Trade").count(), 1, "{text}");
        assert!(
            !text.contains("Sundries") && !text.contains("Latex"),
            "{text}"
        );
    }

    /// Helium once was on no shopping list.
    #[test]
    fn every_kind_is_listed() {
        use ItemKind::{Foil, Helium, Link, Newer, Round, Sundry, Tie};
        for kind in [Foil, Helium, Link, Newer, Round, Sundry, Tie] {
            for supplier in ["", "Quay Trade"] {
                let text = listed(vec![line("What is bought", kind, supplier)]);
                assert!(text.contains("What is bought"), "{kind:?}");
            }
        }
    }

    #[test]
    fn without_suppliers_it_goes_by_kind() {
        let text = listed(vec![
            line("Tape", ItemKind::Sundry, ""),
            line("Rose 11 in", ItemKind::Round, ""),
        ]);
        in_order(&text, &["Latex balloons", "Rose 11 in", "Sundries", "Tape"]);
    }
}

//! The stringing order: which cluster follows which, from the first tie to the last, length by length.

use plan::types::{GarlandPlan, LengthPart};

use crate::crew::cluster_cards::thumbnail;
use crate::doc::Doc;
use crate::flow::Block;
use crate::say::count;
use crate::source::Source;
use crate::style::{LABEL, NOTE, QUANTITY};
use crate::table::{Cell, Table, fixed, share};

/// Side of a drawing in a row in mm.
const SIDE: f64 = 8.0;

/// A length of up to so many rows is not divided between columns.
const WHOLE: usize = 16;
/// Columns of a page.
const COLUMNS: u32 = 3;

/// Clusters of one card that follow each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Stretch {
    /// First cluster, counted from 1 along the whole line.
    first: usize,
    /// How many.
    count: usize,
    /// Index of the card.
    card: u32,
}

/// Writes the order of every garland.
pub fn write(doc: &mut Doc, source: &Source<'_>) {
    let garlands: Vec<(&str, &GarlandPlan)> = source
        .plan
        .pieces
        .iter()
        .filter_map(|p| Some((p.piece.as_str(), p.garland.as_ref()?)))
        .filter(|(_, g)| !g.line.is_empty())
        .collect();
    if garlands.is_empty() {
        return;
    }
    doc.begin(source.crew_head("Stringing order"));
    for (piece, garland) in garlands {
        let name = source.piece_name(piece);
        let step = source.code(&format!("string.{piece}"));
        let parts = parts(garland);
        let many = parts.len() > 1;
        let mut blocks = Vec::new();
        for (index, part) in parts.iter().enumerate() {
            let title = if many {
                format!("{name}, length {}", index + 1)
            } else {
                name.clone()
            };
            blocks.push(length_block(doc, source, garland, part, &title, step));
        }
        doc.place_columns(&blocks, COLUMNS);
        doc.gap(6.0);
    }
}

/// The lengths; a garland that is carried whole is one.
fn parts(garland: &GarlandPlan) -> Vec<LengthPart> {
    if garland.lengths.is_empty() {
        return vec![LengthPart {
            clusters: u32::try_from(garland.line.len()).unwrap_or(u32::MAX),
            length_mm: garland.length_mm,
            ..LengthPart::default()
        }];
    }
    garland.lengths.clone()
}

fn length_block(
    doc: &mut Doc,
    source: &Source<'_>,
    garland: &GarlandPlan,
    part: &LengthPart,
    title: &str,
    step: &str,
) -> Block {
    let wide = doc.column(COLUMNS);
    let table = Table::new(
        wide,
        &[fixed(14.5), fixed(SIDE), share(1.0), fixed(12.5).right()],
    )
    .at_least(9.6);
    let pen = &mut doc.pen;
    let mut rows = Vec::new();
    for stretch in stretches(garland, part) {
        let card = usize::try_from(stretch.card)
            .ok()
            .and_then(|i| garland.cards.get(i));
        let code = card.map_or("?", |c| c.code.as_str());
        let ties = if stretch.count == 1 {
            count_of(stretch.first)
        } else {
            format!(
                "{} to {}",
                count_of(stretch.first),
                count_of(stretch.first + stretch.count - 1)
            )
        };
        let mut words = vec![pen.run(code, QUANTITY)];
        if stretch.count > 1 {
            words.push(pen.run(&format!("\n×\u{a0}{}", count_of(stretch.count)), LABEL));
        }
        rows.push(vec![
            Cell::Text(vec![pen.run(&ties, LABEL)]),
            card.map_or(Cell::Empty, |c| thumbnail(pen, source, c, SIDE)),
            Cell::Text(words),
            Cell::Tick(vec![pen.run(step, NOTE)]),
        ]);
    }
    let mut block = table.block(pen, title, &[], rows);
    let note = format!(
        "{}, {}",
        crate::say::plural(i64::from(part.clusters), "cluster", "clusters"),
        source.say.length(part.length_mm)
    );
    let note = Cell::Text(vec![pen.run(&note, LABEL)]);
    for (index, mut row) in Table::new(wide, &[share(1.0)])
        .row(pen, &[note])
        .into_iter()
        .enumerate()
    {
        row.keep = true;
        block.rows.insert(index + 1, row);
    }
    if block.rows.len() <= WHOLE {
        let last = block.rows.len().saturating_sub(1);
        block.rows.iter_mut().take(last).for_each(|r| r.keep = true);
    }
    block
}

fn count_of(n: usize) -> String {
    count(i64::try_from(n).unwrap_or(i64::MAX))
}

/// The stretches of alike clusters of one length.
fn stretches(garland: &GarlandPlan, part: &LengthPart) -> Vec<Stretch> {
    let first = usize::try_from(part.first).unwrap_or(usize::MAX);
    let most = usize::try_from(part.clusters).unwrap_or(usize::MAX);
    let mut out: Vec<Stretch> = Vec::new();
    for (index, card) in garland.line.iter().enumerate().skip(first).take(most) {
        match out.last_mut() {
            Some(last) if last.card == *card => last.count += 1,
            _ => out.push(Stretch {
                first: index + 1,
                count: 1,
                card: *card,
            }),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn alike_neighbours_are_one_stretch_within_a_length() {
        let garland = GarlandPlan {
            line: vec![0, 0, 1, 1, 0, 0],
            ..GarlandPlan::default()
        };
        let part = LengthPart {
            first: 1,
            clusters: 4,
            ..LengthPart::default()
        };
        let found: Vec<(usize, usize, u32)> = stretches(&garland, &part)
            .iter()
            .map(|s| (s.first, s.count, s.card))
            .collect();
        assert_eq!(found, [(2, 1, 0), (3, 2, 1), (5, 1, 0)]);
    }
}

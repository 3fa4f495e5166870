//! The map of a wall: its crossings row by row from the top, as one stands before it, each with the letter of its colour.

use plan::types::Made;

use crate::doc::Pen;
use crate::draw::{Shown, balloon};
use crate::flow::Block;
use crate::marks::At;
use crate::say::count;
use crate::source::Source;
use crate::style::{BODY, NOTE};
use crate::table::{Cell, Drawing, Table, fixed, share};

/// The drawn rows are no wider than this, mm.
const WIDE: f64 = 104.0;
/// Radius of a drawn balloon, mm, where there is room: its letter reads.
const RADIUS: f64 = 4.0;
/// Most rows: more nobody hangs by a map.
const MOST: usize = 300;
/// Letters of the colours; further ones share the last.
const LETTERS: &[u8] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZ";

/// The map of a wall under a head of its own; absent for what is none.
pub fn map(
    pen: &mut Pen,
    source: &Source<'_>,
    wide: f64,
    title: &str,
    made: &Made,
) -> Option<Block> {
    let columns = made.grid.iter().map(Vec::len).max().filter(|n| *n > 0)?;
    let across = u32::try_from(columns).map_or(f64::MAX, f64::from);
    let radius = RADIUS.min(WIDE / 2.0 / across);
    let table = Table::new(
        wide,
        &[
            fixed(14.0).right(),
            fixed(2.0 * radius * across + 4.0),
            share(1.0),
        ],
    )
    .close(true);
    let mut rows: Vec<Vec<Cell>> = Vec::new();
    for (n, line) in made.grid.iter().take(MOST).enumerate() {
        let name = if n == 0 {
            "1 top".to_string()
        } else {
            (n + 1).to_string()
        };
        let mut marks = Vec::new();
        for (column, of) in (0u32..).zip(line) {
            let Some(ball) = made.balls.get(usize::try_from(*of).ok()?) else {
                continue;
            };
            let tone = source.palette.tone(&ball.colour);
            let shown = Shown {
                diameter: 2.0 * radius,
                colour: tone.rgb,
                pattern: tone.pattern,
                label: letter(*of),
            };
            let at = At::new(radius * (2.0 * f64::from(column) + 1.0), radius);
            marks.extend(balloon(pen, at, radius, &shown));
        }
        let drawing = Drawing {
            width: 2.0 * radius * across,
            height: 2.0 * radius,
            marks,
            words: format!("row {} of the wall", n + 1),
        };
        rows.push(vec![
            Cell::Text(vec![pen.run(&name, BODY.bold())]),
            Cell::Drawing(drawing),
            Cell::Text(vec![pen.run(&in_words(line), NOTE)]),
        ]);
    }
    let legend: Vec<String> = (0u32..)
        .zip(&made.balls)
        .map(|(n, ball)| {
            let name = source.palette.ball_name(&ball.colour, &ball.inside);
            format!("{} {name}", letter(n))
        })
        .collect();
    let title = format!("{title}, map from the front: {}", legend.join(", "));
    Some(table.block(pen, &title, &[], rows))
}

fn letter(of: u32) -> String {
    let at = usize::try_from(of)
        .unwrap_or(usize::MAX)
        .min(LETTERS.len() - 1);
    char::from(LETTERS[at]).to_string()
}

/// A row from the left: `3 A, 1 B, 2 A`.
fn in_words(row: &[u32]) -> String {
    let runs = row.chunk_by(|a, b| a == b);
    let said = runs.map(|run| {
        let n = i64::try_from(run.len()).unwrap_or(0);
        format!("{}\u{a0}{}", count(n), letter(run[0]))
    });
    said.collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_is_told_in_runs() {
        assert_eq!(
            in_words(&[0, 0, 0, 1, 0, 0]),
            "3\u{a0}A, 1\u{a0}B, 2\u{a0}A"
        );
        assert_eq!(in_words(&[]), "");
        assert_eq!(letter(40), "Z");
    }
}

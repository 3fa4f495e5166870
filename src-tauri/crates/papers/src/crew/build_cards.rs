//! The build cards: rings, quads, feet and accents of the pieces that are no garland, drawn, with how many to tie; and the maps of walls.

use plan::types::{Ball, Group, Made};

use super::wall_map;
use crate::doc::{Doc, Pen};
use crate::draw::{Shown, cluster};
use crate::say::count;
use crate::source::Source;
use crate::style::{BODY, FIGURE, LABEL, NOTE};
use crate::table::{Cell, Table, fixed, share};

/// Side of a drawing in mm.
const SIDE: f64 = 32.0;
/// Most cards of one piece; more kinds than these nobody ties by card.
const MOST: usize = 60;

/// Writes the cards, piece by piece, two to a row of the page.
pub fn write(doc: &mut Doc, source: &Source<'_>) {
    let pieces: Vec<(&str, &Made)> = source
        .plan
        .pieces
        .iter()
        .filter_map(|p| Some((p.piece.as_str(), p.made.as_ref()?)))
        .filter(|(_, made)| !made.groups.is_empty() || !made.grid.is_empty())
        .collect();
    if pieces.is_empty() {
        return;
    }
    doc.begin(source.crew_head("Build cards"));
    let wide = doc.width();
    let table = Table::new(wide, &[fixed(SIDE), share(1.0), fixed(SIDE), share(1.0)]);
    for (piece, made) in pieces {
        let code = source.code(&format!("cluster.{piece}"));
        let name = format!("{code}  {}", source.piece_name(piece));
        let rows: Vec<Vec<Cell>> = made.groups[..made.groups.len().min(MOST)]
            .chunks(2)
            .map(|two| {
                two.iter()
                    .flat_map(|group| cells(&mut doc.pen, source, group, made.count))
                    .collect()
            })
            .collect();
        let mut blocks = Vec::new();
        if !rows.is_empty() {
            blocks.push(table.block(&mut doc.pen, name.trim(), &[], rows));
        }
        blocks.extend(wall_map::map(&mut doc.pen, source, wide, name.trim(), made));
        doc.place(&blocks);
    }
}

/// The drawing of a group and its words; `pieces` are made alike.
fn cells(pen: &mut Pen, source: &Source<'_>, group: &Group, pieces: i64) -> [Cell; 2] {
    // an accent is two quads alike: one of them is drawn
    let shown = match group.name.as_str() {
        "accent" => &group.balls[..group.balls.len().min(4)],
        _ => &group.balls[..group.balls.len().min(8)],
    };
    let ring: Vec<Shown> = shown.iter().map(|b| source.palette.shown(b)).collect();
    let mut drawing = cluster(pen, &ring, SIDE, scale(shown));
    drawing.words = format!("{} from the front, sizes in inches", group.name);
    let mut runs = vec![
        pen.run(&count(group.count), FIGURE),
        pen.run(&format!("   {}", named(group)), LABEL),
    ];
    // an accent by itself is one of so many pieces: one for each needs no word
    if pieces > 1 && group.count > pieces && group.count % pieces == 0 {
        let each = format!(
            "\n{} for each of {}",
            count(group.count / pieces),
            count(pieces)
        );
        runs.push(pen.run(&each, NOTE));
    }
    for (ball, times) in alike(&group.balls) {
        let name = source.palette.ball_name(&ball.colour, &ball.inside);
        let size = crate::say::inches(ball.blown_dmm);
        runs.push(pen.run(&format!("\n{} ", count(times)), BODY.bold()));
        runs.push(pen.run(&format!("{name} {}\u{a0}in", ball.size_in), BODY));
        runs.push(pen.run(&format!("  to\u{a0}{size}\u{a0}in"), NOTE));
    }
    [Cell::Drawing(drawing), Cell::Text(runs)]
}

/// Paper mm for each mm of balloon: balloons in a ring of n touch where their middles stand on a circle.
fn scale(balls: &[Ball]) -> f64 {
    let sum: i64 = balls.iter().map(|b| b.blown_dmm.clamp(0, 20_000)).sum();
    let n = f64::from(u32::try_from(balls.len().max(2)).unwrap_or(2));
    let mean = sum as f64 / 10.0 / n;
    let wide = mean / libm::sin(core::f64::consts::PI / n) + mean;
    SIDE * 0.98 / wide.max(1.0)
}

/// `ring of 4`, `quad`, `accent of two quads`.
fn named(group: &Group) -> String {
    match group.name.as_str() {
        "quad" => "quad".to_string(),
        "accent" => "accent: two quads".to_string(),
        name => format!("{name} of {}", group.balls.len()),
    }
}

/// Alike balls of a group with how many there are, in order of first appearance.
fn alike(balls: &[Ball]) -> Vec<(&Ball, i64)> {
    let mut out: Vec<(&Ball, i64)> = Vec::new();
    for ball in balls {
        match out.iter_mut().find(|(b, _)| *b == ball) {
            Some(known) => known.1 += 1,
            None => out.push((ball, 1)),
        }
    }
    out
}

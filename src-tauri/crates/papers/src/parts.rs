//! The parts that papers share besides tables: strips of figures, paragraphs, cautions, lines to write on.

use crate::doc::Pen;
use crate::flow::{Block, Row};
use crate::marks::{Align, At, Group, Mark, Tag, height, stack};
use crate::style::{BLACK, BODY, FIGURE, HEAVY, LABEL, MEDIUM, SECTION, Style, THIN};
use crate::text::{Line, Run};

/// Inside a box with a border, left and right, in mm.
const BOX_SIDE: f64 = 4.0;
/// Inside a box with a border, above and below, in mm.
const BOX_EDGE: f64 = 2.4;
/// The most that one box holds in mm; longer text goes on in a second one.
const TALLEST_BOX: f64 = 90.0;
/// Between two figures of a strip in mm, at least.
const FIGURE_GAP: f64 = 8.0;
/// Room beside the longest amount of a column in mm.
const AMOUNT_SPARE: f64 = 1.0;
/// The most that amounts take of the width: what the currency is called may be any text.
const AMOUNT_MOST: f64 = 0.4;
/// Figures that would not fit side by side are made smaller, down to this size in points.
const FIGURE_LEAST: f64 = 13.0;

/// A strip of figures, each with its word under it, spread over the width; the last ends at the right edge. With
/// `ruled` it lies between two thin rules.
pub fn figures(pen: &mut Pen, width: f64, items: &[(String, String)], ruled: bool) -> Block {
    let per_line = items.len().clamp(1, 5);
    let mut rows = Vec::new();
    for chunk in items.chunks(per_line) {
        rows.push(figure_row(pen, width, chunk, ruled));
    }
    Block::of(rows)
}

/// Lines of the figure, lines of its word, and the width of both.
type FigureSet = (Vec<Line>, Vec<Line>, f64);

fn figure_sets(
    pen: &mut Pen,
    items: &[(String, String)],
    style: Style,
    most: f64,
) -> Vec<FigureSet> {
    let mut sets = Vec::new();
    for (figure, label) in items {
        let big = pen.lines(figure, style, most);
        let small = pen.lines(label, LABEL, most);
        let both = big.iter().chain(&small);
        let wide = both.map(|l| l.width).fold(0.0, f64::max);
        sets.push((big, small, wide));
    }
    sets
}

fn figure_row(pen: &mut Pen, width: f64, items: &[(String, String)], ruled: bool) -> Row {
    let count = f64::from(u32::try_from(items.len().max(1)).unwrap_or(1));
    let mut style = FIGURE;
    let mut sets = figure_sets(pen, items, style, f64::INFINITY);
    let wide = |sets: &[FigureSet]| sets.iter().map(|s| s.2 + FIGURE_GAP).sum::<f64>();
    while wide(&sets) > width + FIGURE_GAP && style.size > FIGURE_LEAST {
        style.size *= 0.92;
        sets = figure_sets(pen, items, style, f64::INFINITY);
    }
    if wide(&sets) > width + FIGURE_GAP {
        sets = figure_sets(pen, items, style, width / count - FIGURE_GAP);
    }
    let used: f64 = sets.iter().map(|s| s.2).sum();
    let gap = if sets.len() > 1 {
        (width - used) / (count - 1.0)
    } else {
        0.0
    };
    let big_tall = sets.iter().map(|s| height(&s.0)).fold(0.0, f64::max);
    let small_tall = sets.iter().map(|s| height(&s.1)).fold(0.0, f64::max);
    let pad = if ruled { 2.6 } else { 0.0 };
    let total = big_tall + small_tall + 2.0 * pad;
    let mut groups = Vec::new();
    let mut x = 0.0;
    for (index, (big, small, wide)) in sets.iter().enumerate() {
        let align = if index > 0 && index + 1 == sets.len() {
            Align::Right
        } else {
            Align::Left
        };
        let mut marks = stack(big, x, pad + big_tall - height(big), *wide, align);
        marks.extend(stack(small, x, pad + big_tall, *wide, align));
        groups.push(Group::new(Tag::P, marks));
        x += wide + gap;
    }
    if ruled {
        let rule = |y: f64| Mark::rule(At::new(0.0, y), At::new(width, y), THIN, BLACK);
        groups.push(Group::new(Tag::Artifact, vec![rule(0.0), rule(total)]));
    }
    Row {
        height: total,
        before: 3.0,
        keep: false,
        groups,
    }
}

/// Width of a column of amounts in mm, `least` or more: none is torn apart that can stand on one line.
pub fn amount_column(
    pen: &mut Pen,
    width: f64,
    least: f64,
    amounts: impl Iterator<Item = (String, Style)>,
) -> f64 {
    let widths = amounts.map(|(amount, style)| pen.width(&amount, style) + AMOUNT_SPARE);
    widths.fold(least, f64::max).min(width * AMOUNT_MOST)
}

/// A head over text that is no table.
pub fn section(pen: &mut Pen, width: f64, title: &str) -> Row {
    let lines = pen.lines(title, SECTION, width);
    let rule = height(&lines) + 1.2;
    Row {
        height: rule,
        before: 6.0,
        keep: true,
        groups: vec![
            Group::new(Tag::H2, stack(&lines, 0.0, 0.0, width, Align::Left)),
            Group::new(
                Tag::Artifact,
                vec![Mark::rule(
                    At::new(0.0, rule),
                    At::new(width, rule),
                    MEDIUM,
                    BLACK,
                )],
            ),
        ],
    }
}

/// A paragraph. It may break between lines, but never leaves one line alone.
pub fn paragraph(pen: &Pen, width: f64, runs: &[Run], before: f64) -> Block {
    stacked(&pen.set(runs, width), width).spaced(before)
}

/// A paragraph under a head of its own.
pub fn titled(pen: &mut Pen, width: f64, title: &str, text: &str) -> Block {
    let run = pen.run(text, BODY);
    let mut block = paragraph(pen, width, &[run], 2.0);
    block.rows.insert(0, section(pen, width, title));
    block
}

/// Lines one below the other, each a paragraph of its own; never one of them alone.
pub fn stacked(lines: &[Line], width: f64) -> Block {
    let rows = lines
        .iter()
        .map(|line| Row {
            height: line.height,
            before: 0.0,
            keep: false,
            groups: vec![Group::new(
                Tag::P,
                stack(std::slice::from_ref(line), 0.0, 0.0, width, Align::Left),
            )],
        })
        .collect();
    Block::of(rows).bound()
}

/// A caution in its box: the first words bold.
pub fn caution(pen: &mut Pen, width: f64, lead: &str, text: &str) -> Block {
    let style = BODY;
    let runs = [
        pen.run(&format!("{lead} "), style.bold()),
        pen.run(text, style),
    ];
    boxed(pen, width, &runs)
}

/// Text in a heavy border.
pub fn boxed(pen: &Pen, width: f64, runs: &[Run]) -> Block {
    let mut lines = pen.set(runs, width - 2.0 * BOX_SIDE);
    let mut rows = Vec::new();
    while !lines.is_empty() {
        let mut tall = 0.0;
        let mut count = 0;
        for line in &lines {
            tall += line.height;
            if count > 0 && tall > TALLEST_BOX {
                break;
            }
            count += 1;
        }
        let part: Vec<Line> = lines.drain(..count).collect();
        let total = height(&part) + 2.0 * BOX_EDGE;
        rows.push(Row {
            height: total,
            before: 4.0,
            keep: false,
            groups: vec![
                Group::new(
                    Tag::Artifact,
                    vec![Mark::Frame {
                        at: At::new(0.0, 0.0),
                        width,
                        height: total,
                        thickness: HEAVY,
                        ink: BLACK,
                        fill: None,
                    }],
                ),
                Group::new(Tag::P, stack(&part, BOX_SIDE, BOX_EDGE, width, Align::Left)),
            ],
        });
    }
    Block::of(rows)
}

/// Lines to write on, side by side, each with its word under it.
pub fn blanks(pen: &mut Pen, width: f64, labels: &[&str]) -> Row {
    let count = f64::from(u32::try_from(labels.len().max(1)).unwrap_or(1));
    let gap = 8.0;
    let wide = (width - gap * (count - 1.0)) / count;
    let line = 9.5;
    let mut groups = Vec::new();
    let mut tall = 0.0_f64;
    let mut x = 0.0;
    for label in labels {
        let set = pen.lines(label, LABEL, wide);
        tall = tall.max(height(&set));
        groups.push(Group::new(
            Tag::Artifact,
            vec![Mark::rule(
                At::new(x, line),
                At::new(x + wide, line),
                THIN,
                BLACK,
            )],
        ));
        groups.push(Group::new(
            Tag::P,
            stack(&set, x, line + 0.8, wide, Align::Left),
        ));
        x += wide + gap;
    }
    Row {
        height: line + 0.8 + tall,
        before: 4.0,
        keep: false,
        groups,
    }
}

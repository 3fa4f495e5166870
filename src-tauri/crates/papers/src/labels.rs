//! Labels for bags and cases: the code in letters for two metres away, what is inside, and the code once more for a camera. Cut along the
//! lines.

use job::Job;
use plan::Plan;
use plan::types::Parcel;
use qrcode::{Color, EcLevel, QrCode};

use crate::doc::{Doc, Pen};
use crate::flow::{Block, Row};
use crate::marks::{Align, At, Group, Mark, Tag, height, stack};
use crate::say::count;
use crate::source::Source;
use crate::style::{BLACK, BODY, HAIR, HAIRLINE, LABEL, LABEL_CODE, NOTE, SECTION};
use crate::text::{Line, shorten};
use crate::{Paper, PaperError, Sheet, finished};

/// Rows of labels on a sheet, two to a row.
const ROWS: f64 = 4.0;
/// No label is higher, in mm.
const TALLEST: f64 = 60.0;
/// Inside the cutting lines in mm.
const PAD: f64 = 4.0;
/// Side of the code for a camera with its quiet zone, in mm: read at arm's length.
const SQUARE: f64 = 30.0;
/// Light modules round the code (ISO/IEC 18004, 6.3.8).
const QUIET: usize = 4;
/// Letters of the part of a name that is never cut, at most: `length 12 of 14`.
const MOST_OF_PART: usize = 20;

/// Labels of all bags and cases.
pub fn labels(job: &Job, plan: &Plan, sheet: &Sheet) -> Result<Paper, PaperError> {
    let source = Source::new(job, plan, sheet);
    let doc = draw(&source)?;
    let title = format!("Labels: {}", source.name());
    finished(doc, &title, sheet)
}

/// The pages.
pub fn draw(source: &Source<'_>) -> Result<Doc, PaperError> {
    let mut doc = Doc::new(source.sheet.size)?;
    doc.begin(source.crew_head("Labels"));
    let wide = doc.width();
    let tall = (doc.left() / ROWS - 0.1).min(TALLEST);
    let parcels = &source.plan.load.parcels;
    if parcels.is_empty() {
        let runs = [doc
            .pen
            .run("Nothing is carried yet: this job has no pieces.", BODY)];
        let block = crate::parts::paragraph(&doc.pen, wide, &runs, 2.0);
        doc.place(&[block]);
    }
    let all = parcels.len();
    let mut rows = Vec::new();
    for (pair, two) in parcels.chunks(2).enumerate() {
        let mut groups = vec![cuts(wide, tall, two.len())];
        for (side, parcel) in two.iter().enumerate() {
            let left = if side == 0 { 0.0 } else { wide / 2.0 };
            let number = (pair * 2 + side + 1, all);
            let label = label(&mut doc.pen, source, parcel, number, (wide / 2.0, tall))?;
            groups.extend(label.iter().map(|g| g.by(left, 0.0)));
        }
        rows.push(Row {
            height: tall,
            before: 0.0,
            keep: false,
            groups,
        });
    }
    doc.place(&[Block::of(rows)]);
    doc.feet("Labels", source.sheet);
    Ok(doc)
}

/// Lines to cut along.
fn cuts(wide: f64, tall: f64, labels: usize) -> Group {
    let right = if labels > 1 { wide } else { wide / 2.0 };
    let line = |from: At, to: At| Mark::rule(from, to, HAIRLINE, HAIR);
    let mut marks = vec![
        line(At::new(0.0, 0.0), At::new(right, 0.0)),
        line(At::new(0.0, tall), At::new(right, tall)),
        line(At::new(0.0, 0.0), At::new(0.0, tall)),
        line(At::new(right, 0.0), At::new(right, tall)),
    ];
    if labels > 1 {
        marks.push(line(At::new(wide / 2.0, 0.0), At::new(wide / 2.0, tall)));
    }
    Group::new(Tag::Artifact, marks)
}

fn label(
    pen: &mut Pen,
    source: &Source<'_>,
    parcel: &Parcel,
    (number, all): (usize, usize),
    (wide, tall): (f64, f64),
) -> Result<Vec<Group>, PaperError> {
    let room = wide - 2.0 * PAD - SQUARE;
    let code = pen.one_line(&parcel.code, LABEL_CODE, room);
    let mut marks = stack(&code, PAD, PAD - 1.0, room, Align::Left);
    let below = PAD - 1.0 + height(&code);
    let name = name(pen, &parcel.name, wide - 2.0 * PAD);
    let mut y = below.max(PAD + SQUARE - 2.0);
    marks.extend(stack(&name, PAD, y, wide, Align::Left));
    y += height(&name);
    let room = (tall - PAD - LABEL.leading + 1.0 - y).max(0.0);
    let inside = inside(pen, parcel, wide - 2.0 * PAD, room);
    marks.extend(stack(&inside, PAD, y, wide, Align::Left));
    let of = format!("{number} of {all}");
    let of_wide = pen.width(&of, LABEL) + 2.0;
    let foot = pen.one_line(source.name(), LABEL, wide - 2.0 * PAD - of_wide);
    let low = tall - PAD - LABEL.leading + 1.0;
    marks.extend(stack(&foot, PAD, low, wide, Align::Left));
    let of = pen.one_line(&of, LABEL, of_wide);
    marks.extend(stack(&of, PAD, low, wide - 2.0 * PAD, Align::Right));
    let square = square(&parcel.code)?;
    let drawn = Group::new(
        Tag::Figure(format!("The code {} for a camera", parcel.code)),
        square,
    );
    Ok(vec![
        Group::new(Tag::P, marks),
        drawn.by(wide - PAD - SQUARE, PAD - 1.0),
    ])
}

/// The name on one line, large where it fits. Of a long one the piece is cut, never which length or chain of it is inside.
fn name(pen: &mut Pen, name: &str, wide: f64) -> Vec<Line> {
    let name = &name.split_whitespace().collect::<Vec<_>>().join(" ");
    for style in [SECTION, BODY.bold()] {
        if pen.width(name, style) <= wide {
            return pen.lines(name, style, wide);
        }
    }
    let (piece, part) = name.rsplit_once(", ").unwrap_or((name, ""));
    let part = if part.is_empty() || part.chars().count() > MOST_OF_PART {
        String::new()
    } else {
        format!(", {part}")
    };
    let piece = if part.is_empty() { name } else { piece };
    let mut most = piece.chars().count();
    while most > 2 && pen.width(&format!("{}{part}", shorten(piece, most)), BODY.bold()) > wide {
        most -= 1;
    }
    pen.one_line(
        &format!("{}{part}", shorten(piece, most)),
        BODY.bold(),
        wide,
    )
}

/// How to treat it and what is inside, as much as `room` holds; what is left out is said.
fn inside(pen: &mut Pen, parcel: &Parcel, wide: f64, room: f64) -> Vec<Line> {
    let soft = parcel.soft.then(|| "only bags on top".to_string());
    let holds = parcel
        .holds
        .iter()
        .filter(|h| h.count != 1 || h.what.trim() != parcel.name.trim())
        .map(|h| {
            let unit = if h.unit.is_empty() {
                String::new()
            } else {
                format!("\u{a0}{}", h.unit)
            };
            format!("{}{unit} {}", count(h.count), h.what.trim())
        });
    let things: Vec<String> = soft.into_iter().chain(holds).collect();
    for shown in (1..=things.len()).rev() {
        let (told, more) = things.split_at(shown);
        let more = match more.len() {
            0 => String::new(),
            n => format!("; {n}\u{a0}more on the packing list"),
        };
        let lines = pen.lines(&format!("{}{more}", told.join("; ")), NOTE, wide);
        if height(&lines) <= room {
            return lines;
        }
    }
    Vec::new()
}

/// The code as a square of modules, quiet zone and all. Runs of dark modules are one mark.
fn square(code: &str) -> Result<Vec<Mark>, PaperError> {
    let text = if code.is_empty() { "-" } else { code };
    let qr = QrCode::with_error_correction_level(text.as_bytes(), EcLevel::M)
        .map_err(|e| PaperError::inside(&format!("the code {code} cannot be drawn: {e}")))?;
    let side = qr.width();
    let module = SQUARE / ((side + 2 * QUIET) as f64);
    let at = |n: usize| ((n + QUIET) as f64) * module;
    let mut marks = Vec::new();
    for y in 0..side {
        let mut x = 0;
        while x < side {
            let run = (x..side).take_while(|x| qr[(*x, y)] == Color::Dark).count();
            if run > 0 {
                marks.push(Mark::Frame {
                    at: At::new(at(x), at(y)),
                    width: module * run as f64,
                    height: module,
                    thickness: 0.0,
                    ink: BLACK,
                    fill: Some(BLACK),
                });
            }
            x += run.max(1);
        }
    }
    Ok(marks)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A symbol of version 1 has 21 modules to a side (ISO/IEC 18004, 5.3.1); with four light ones on each side 29. Each finder
    /// pattern begins with a run of seven dark modules.
    #[test]
    fn a_short_code_is_the_smallest_symbol() {
        let marks = square("B12").unwrap();
        let module = SQUARE / 29.0;
        let Mark::Frame { at, width, .. } = &marks[0] else {
            unreachable!("only frames are drawn");
        };
        assert!((at.x - 4.0 * module).abs() < 1e-9 && (at.y - 4.0 * module).abs() < 1e-9);
        assert!((width - 7.0 * module).abs() < 1e-9);
        for mark in &marks {
            if let Mark::Frame { at, width, .. } = mark {
                assert!(at.x >= 4.0 * module - 1e-9);
                assert!(at.x + width <= SQUARE - 4.0 * module + 1e-9);
            }
        }
    }
}

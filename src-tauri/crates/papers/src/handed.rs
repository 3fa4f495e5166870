//! The appendix of the client summary: the hand-over as it was signed on the screen.

use std::collections::BTreeMap;

use job::day::{INK_HIGH, INK_WIDE, Signature, strokes};
use job::{Ids, live};
use plan::steps::Point;

use crate::doc::{Doc, Head};
use crate::flow::{Block, Row};
use crate::marks::{At, Group, Mark, Tag};
use crate::parts::{paragraph, section};
use crate::say::{count, long_day};
use crate::source::Source;
use crate::style::{BLACK, BODY, LABEL, NOTE, THIN};
use crate::table::{Cell, Table, fixed, share};

/// Width of the box that a signature was written in, in mm.
const INK_MM: f64 = 80.0;
/// Over signatures that stand side by side, in mm: what a head has above it elsewhere.
const OVER_SIGNED: f64 = 6.0;
/// A pen of this width in mm.
const PEN: f64 = 0.5;

/// The pages of the hand-over; none if nothing was signed.
pub fn pages(doc: &mut Doc, source: &Source<'_>, signatures: &Ids<Signature>, aside: Vec<String>) {
    let signed = live(signatures);
    if signed.is_empty() {
        return;
    }
    let wide = doc.width();
    doc.begin(Head {
        title: "Hand-over".into(),
        aside,
    });
    let walked = walked(doc, source, wide);
    doc.place(&[walked]);
    if let Some(damage) = damage(doc, source, wide) {
        doc.place(&[damage]);
    }
    if let [(_, signature)] = signed.as_slice() {
        let block = signature_block(doc, source, signature, wide);
        doc.place(&[block]);
        return;
    }
    // several stand side by side
    let column = doc.column(2);
    let blocks: Vec<Block> = signed
        .into_iter()
        .map(|(_, signature)| signature_block(doc, source, signature, column))
        .collect();
    doc.gap(OVER_SIGNED);
    doc.place_columns(&blocks, 2);
}

/// Each piece, then the venue, with what was seen of it and what was not.
fn walked(doc: &mut Doc, source: &Source<'_>, wide: f64) -> Block {
    let table = Table::new(wide, &[fixed(42.0), share(1.0)]);
    let done = done(source);
    let pen = &mut doc.pen;
    let mut rows = Vec::new();
    let same = |a: &Point, b: &Point| a.piece == b.piece;
    for points in source.plan.walk.chunk_by(same) {
        let name = points.first().map_or("", |p| p.name.as_str());
        let seen = |p: &&Point| done.get(p.id.as_str()).is_some_and(|(_, done)| *done);
        let (yes, no): (Vec<&Point>, Vec<&Point>) = points.iter().partition(seen);
        let mut what = Vec::new();
        for (label, list) in [("Seen: ", yes), ("Not seen: ", no)] {
            if list.is_empty() {
                continue;
            }
            let texts: Vec<&str> = list.iter().map(|p| p.text.as_str()).collect();
            let gap = if what.is_empty() { "" } else { "\n" };
            what.push(pen.run(&format!("{gap}{label}"), LABEL.bold()));
            what.push(pen.run(&texts.join(" "), LABEL));
        }
        rows.push(vec![
            Cell::Text(vec![pen.run(name, BODY.bold())]),
            Cell::Text(what),
        ]);
    }
    table.block(pen, "What was looked at together", &[], rows)
}

/// What holds of each step that is ticked: the highest turn, and of equal turns the one that says done.
fn done<'a>(source: &Source<'a>) -> BTreeMap<&'a str, (i64, bool)> {
    let mut holds: BTreeMap<&str, (i64, bool)> = BTreeMap::new();
    for tick in source.job.ticks.values() {
        let best = holds.entry(&tick.step).or_default();
        *best = (*best).max((tick.turn, tick.done));
    }
    holds
}

fn damage(doc: &mut Doc, source: &Source<'_>, wide: f64) -> Option<Block> {
    let table = Table::new(wide, &[fixed(19.0), share(1.0)]);
    let pen = &mut doc.pen;
    let rows: Vec<Vec<Cell>> = live(&source.job.damage)
        .into_iter()
        .map(|(_, damage)| {
            let mut what = vec![pen.run(&damage.what, BODY)];
            if !damage.piece.is_empty() {
                let name = source.piece_name(&damage.piece);
                what.push(pen.run(&format!("  {name}"), NOTE));
            }
            vec![
                Cell::Text(vec![pen.run(&count(damage.count), BODY.bold())]),
                Cell::Text(what),
            ]
        })
        .collect();
    (!rows.is_empty()).then(|| table.block(pen, "Noted as damaged", &[], rows))
}

fn signature_block(doc: &mut Doc, source: &Source<'_>, signed: &Signature, wide: f64) -> Block {
    let name = signed.name.trim();
    let mut rows = vec![section(&mut doc.pen, wide, "Signed")];
    let remarks = signed.remarks.trim();
    if !remarks.is_empty() {
        let runs = [
            doc.pen.run("Remarks: ", BODY.bold()),
            doc.pen.run(remarks, BODY),
        ];
        rows.extend(paragraph(&doc.pen, wide, &runs, 2.0).rows);
    }
    let mut ink = ink_row(&signed.strokes, name);
    ink.keep = true;
    rows.push(ink);
    let when = source
        .say
        .local(signed.at_ms)
        .map_or_else(String::new, |at| {
            format!(", {}, {}", long_day(at), source.say.time(at))
        });
    let by = match signed.taken_by.trim() {
        "" => String::new(),
        by => format!(", handed over by {by}"),
    };
    let points = format!(
        "{} of {} points had been seen when this was signed.",
        count(signed.ticked),
        count(signed.of)
    );
    let runs = [
        doc.pen.run(name, BODY.bold()),
        doc.pen.run(&format!("{when}{by}\n"), BODY),
        doc.pen.run(&points, LABEL),
    ];
    rows.extend(paragraph(&doc.pen, wide, &runs, 1.0).rows);
    // the name stays with what it is the name of
    if let Some((_, all)) = rows.split_last_mut() {
        let from = all.len().saturating_sub(3);
        all.iter_mut().skip(from).for_each(|row| row.keep = true);
    }
    Block::of(rows)
}

/// The strokes on their line. What cannot be read leaves the line empty; a finding of the job says so.
fn ink_row(text: &str, name: &str) -> Row {
    let mm = |units: i64| f64::from(i32::try_from(units).unwrap_or(0)) * INK_MM / whole(INK_WIDE);
    let high = mm(INK_HIGH);
    let mut marks = Vec::new();
    for stroke in strokes(text).unwrap_or_default() {
        let mut points: Vec<At> = stroke
            .iter()
            .map(|(x, y)| At::new(mm(*x), mm(*y)))
            .collect();
        if let [dot] = points.as_slice() {
            // a dot is as long as the pen is wide
            points.push(dot.by(PEN, 0.0));
        }
        marks.push(Mark::Path {
            points,
            thickness: PEN,
            ink: BLACK,
        });
    }
    Row {
        height: high + 1.0,
        before: 3.0,
        keep: true,
        groups: vec![
            Group::new(Tag::Figure(format!("Signature of {name}")), marks),
            Group::new(
                Tag::Artifact,
                vec![Mark::rule(
                    At::new(0.0, high),
                    At::new(INK_MM, high),
                    THIN,
                    BLACK,
                )],
            ),
        ],
    }
}

fn whole(n: i64) -> f64 {
    f64::from(i32::try_from(n).unwrap_or(1)).max(1.0)
}

//! The sizing sheet: how many of each colour are blown to which diameter, for the sizer and for the pump.

use job::stock::ItemKind;
use plan::types::SizingLine;

use crate::doc::{Doc, Pen};
use crate::say::{cm, count, inches};
use crate::source::Source;
use crate::style::{BODY, NOTE, QUANTITY};
use crate::table::{Cell, Table, fixed, share};

/// Radius of a swatch in a row in mm.
const SWATCH: f64 = 2.9;

/// Least height of a row in mm, and where the rows are set close.
const ROW: f64 = 8.6;
const ROW_CLOSE: f64 = 7.2;

/// Writes the sheet, a table for each piece.
pub fn write(doc: &mut Doc, source: &Source<'_>) {
    if !source.plan.sizing.is_empty() {
        doc.closer(|doc, close| set(doc, source, close));
    }
}

fn set(doc: &mut Doc, source: &Source<'_>, close: bool) {
    let wide = doc.width();
    doc.begin(source.crew_head("Sizing sheet"));
    let table = Table::new(
        wide,
        &[
            fixed(7.0).middle(),
            share(1.0),
            fixed(15.0).right(),
            fixed(19.0).right(),
            fixed(15.0).right(),
            fixed(15.0).right(),
            fixed(26.0).right(),
            fixed(16.0).right(),
        ],
    )
    .close(close)
    .at_least(if close { ROW_CLOSE } else { ROW });
    let labels = ["", "", "count", "sizer, cm", "in", "litres", "each", "done"];
    let mut pieces: Vec<&str> = Vec::new();
    for line in &source.plan.sizing {
        if !pieces.contains(&line.piece.as_str()) {
            pieces.push(&line.piece);
        }
    }
    let mut blocks = Vec::new();
    for piece in pieces {
        let lines = source.plan.sizing.iter().filter(|l| l.piece == piece);
        let rows = lines.map(|l| row(&mut doc.pen, source, l)).collect();
        let title = source.piece_name(piece);
        blocks.push(table.block(&mut doc.pen, &title, &labels, rows));
    }
    doc.place(&blocks);
}

fn row(pen: &mut Pen, source: &Source<'_>, line: &SizingLine) -> Vec<Cell> {
    let name = source.palette.ball_name(&line.colour, &line.inside);
    let mut what = vec![pen.run(&name, BODY.bold())];
    if line.size_in > 0 {
        what.push(pen.run(&format!("  {}\u{a0}in", line.size_in), BODY));
    }
    let filling = fillers(source, line);
    if filling >= line.count {
        what.push(pen.run("  fillers", NOTE));
    } else if filling > 0 {
        what.push(pen.run(&format!("  {} of them fillers", count(filling)), NOTE));
    }
    let pumped = match (line.strokes, line.inflator_ds) {
        (Some(strokes), _) => crate::say::plural(strokes, "stroke", "strokes"),
        (None, Some(ds)) => format!("{}\u{a0}s inflator", tenth(ds)),
        (None, None) => "helium".to_string(),
    };
    let mut text = |t: &str, style| Cell::Text(vec![pen.run(t, style)]);
    let cells = [
        text(&count(line.count), QUANTITY),
        text(&cm(line.blown_dmm), BODY.bold()),
        text(&inches(line.blown_dmm), BODY),
        text(&tenth(line.volume_ml / 100), BODY),
        text(&pumped, NOTE),
    ];
    let swatch = Cell::Drawing(source.palette.swatch(&line.colour, SWATCH));
    let mut out = vec![swatch, Cell::Text(what)];
    out.extend(cells);
    out.push(Cell::Tick(vec![pen.run(code(source, line), NOTE)]));
    out
}

/// How many of a line are fillers: they are blown to a size of their own, which may read like another of the same colour.
fn fillers(source: &Source<'_>, line: &SizingLine) -> i64 {
    let plan = source.plan.pieces.iter().find(|p| p.piece == line.piece);
    let (Some(piece), Some(garland)) = (
        source.job.pieces.get(&line.piece),
        plan.and_then(|p| p.garland.as_ref()),
    ) else {
        return 0;
    };
    let of = &piece.garland;
    if !line.inside.is_empty() || (line.size_in, line.blown_dmm) != (of.filler_in, of.filler_dmm) {
        return 0;
    }
    let alike = garland.fillers.iter().filter(|f| f.colour == line.colour);
    alike.map(|f| f.balls).sum()
}

/// The code of the step in which the line is blown.
fn code<'a>(source: &Source<'a>, line: &SizingLine) -> &'a str {
    let works: &[&str] = match (line.kind, line.strokes, line.inflator_ds) {
        (ItemKind::Link, _, _) => &["links"],
        (_, Some(_), _) => &["pump"],
        (_, None, Some(_)) => &["inflate"],
        // neither pump nor inflator: helium, in the studio or in the room
        (_, None, None) => &["helium", "float"],
    };
    let codes = works
        .iter()
        .map(|work| source.code(&format!("{work}.{}", line.piece)));
    codes.into_iter().find(|c| !c.is_empty()).unwrap_or("")
}

/// A number of tenths, with its one decimal.
fn tenth(n: i64) -> String {
    format!("{}.{}", count(n / 10), (n % 10).abs())
}

//! Lists and tables: columns, rows with hairlines, heads that are drawn again after a break.

use crate::doc::Pen;
use crate::flow::{Block, Row};
use crate::marks::{Align, At, Group, Mark, Tag, height, stack};
use crate::style::{BLACK, HAIR, HAIRLINE, LABEL, MEDIUM, SECTION};
use crate::text::{Line, Run};

/// Side of a box to tick in mm.
pub const TICK_SIDE: f64 = 5.4;
/// Between two columns of a table in mm.
const CELL_GAP: f64 = 2.0;
/// Over and under the text of a row in mm.
const CELL_PAD: f64 = 1.3;
/// The same where a paper is set close.
const CLOSE_PAD: f64 = 0.4;
/// Between a short code and its box in mm.
const CODE_GAP: f64 = 1.2;
/// A row of text up to this height in mm is never split: less than the text of a Letter page under a repeated head.
const TALLEST_ROW: f64 = 190.0;
/// A taller one goes on in strips of this height in mm, so that pages are filled well.
const STRIP: f64 = 38.0;

/// Width of a column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Width {
    /// In mm.
    Fixed(f64),
    /// A share of what the fixed ones leave.
    Share(f64),
}

/// A column of a table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Column {
    /// How wide.
    pub width: Width,
    /// Where its text stands.
    pub align: Align,
}

/// Something drawn in a cell.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// In mm.
    pub width: f64,
    /// In mm.
    pub height: f64,
    /// From its own upper left corner.
    pub marks: Vec<Mark>,
    /// What it shows, for those who cannot see it; empty if the text beside it says the same.
    pub words: String,
}

/// What stands in one place of a table.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Nothing.
    Empty,
    /// Text.
    Text(Vec<Run>),
    /// A box to tick, with the short code of what it stands for at its left.
    Tick(Vec<Run>),
    /// A drawing.
    Drawing(Drawing),
}

/// The columns of a table and how its rows are drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    edges: Vec<(f64, f64)>,
    aligns: Vec<Align>,
    width: f64,
    /// Least height of a row in mm.
    pub least: f64,
    // over and under the text of a row in mm
    pad: f64,
}

/// A column of fixed width at the left.
pub const fn fixed(mm: f64) -> Column {
    Column {
        width: Width::Fixed(mm),
        align: Align::Left,
    }
}

/// A column that takes a share of what is left.
pub const fn share(of: f64) -> Column {
    Column {
        width: Width::Share(of),
        align: Align::Left,
    }
}

impl Column {
    /// The same with its text at the right: figures.
    pub const fn right(self) -> Column {
        Column {
            align: Align::Right,
            ..self
        }
    }

    /// The same with its text in the middle.
    pub const fn middle(self) -> Column {
        Column {
            align: Align::Middle,
            ..self
        }
    }
}

impl Table {
    /// A table of a width in mm.
    pub fn new(width: f64, columns: &[Column]) -> Table {
        let gaps = CELL_GAP * columns.iter().skip(1).map(|_| 1.0).sum::<f64>();
        let fixed: f64 = columns.iter().map(|c| c.fixed()).sum();
        let shares: f64 = columns.iter().map(|c| c.share()).sum();
        let free = (width - gaps - fixed).max(0.0);
        let mut x = 0.0;
        let mut edges = Vec::new();
        for column in columns {
            let wide = match column.width {
                Width::Fixed(mm) => mm,
                Width::Share(of) => free * of / shares,
            };
            edges.push((x, wide));
            x += wide + CELL_GAP;
        }
        Table {
            edges,
            aligns: columns.iter().map(|c| c.align).collect(),
            width,
            least: 0.0,
            pad: CELL_PAD,
        }
    }

    /// The same with less over and under the text, if `close`.
    pub fn close(mut self, close: bool) -> Table {
        if close {
            self.pad = CLOSE_PAD;
        }
        self
    }

    /// The same with a least height of its rows in mm.
    pub fn at_least(mut self, mm: f64) -> Table {
        self.least = mm;
        self
    }

    /// Left edge and width of a column in mm.
    pub fn edge(&self, index: usize) -> (f64, f64) {
        self.edges.get(index).copied().unwrap_or((0.0, self.width))
    }

    /// A row, or several if its text is taller than a row may be. A hairline lies under the last.
    pub fn row(&self, pen: &Pen, cells: &[Cell]) -> Vec<Row> {
        let mut texts: Vec<Vec<Line>> = Vec::new();
        for (index, cell) in cells.iter().enumerate() {
            texts.push(match cell {
                Cell::Text(runs) => pen.set(runs, self.edge(index).1),
                _ => Vec::new(),
            });
        }
        let tallest = texts.iter().map(|t| height(t)).fold(0.0, f64::max);
        let most = if tallest > TALLEST_ROW {
            STRIP
        } else {
            TALLEST_ROW
        };
        let mut rows = Vec::new();
        let mut first = true;
        while first || texts.iter().any(|t| !t.is_empty()) {
            let part: Vec<Vec<Line>> = texts.iter_mut().map(|t| take_lines(t, most)).collect();
            let last = texts.iter().all(Vec::is_empty);
            rows.push(self.strip(pen, cells, &part, first, last));
            first = false;
        }
        rows
    }

    /// One strip of a row: all texts on a common first baseline, the whole in the middle of the height.
    fn strip(
        &self,
        pen: &Pen,
        cells: &[Cell],
        texts: &[Vec<Line>],
        first: bool,
        last: bool,
    ) -> Row {
        let rise = texts
            .iter()
            .filter_map(|t| t.first())
            .map(|l| l.rise)
            .fold(0.0, f64::max);
        let drop = |lines: &[Line]| rise - lines.first().map_or(rise, |l| l.rise);
        // the line that boxes are centred on
        let lead = texts
            .iter()
            .filter_map(|t| t.first())
            .map(|l| l.height)
            .fold(0.0, f64::max);
        let text_tall = texts
            .iter()
            .map(|t| drop(t) + height(t))
            .fold(0.0, f64::max);
        let mut tall = text_tall;
        for cell in cells.iter().filter(|_| first) {
            tall = tall.max(match cell {
                Cell::Tick(_) => TICK_SIDE,
                Cell::Drawing(d) => d.height,
                _ => 0.0,
            });
        }
        let total = (tall + 2.0 * self.pad).max(self.least);
        let many = text_tall > lead + 0.1;
        let top = if many {
            // text of several lines begins where a single line would stand in a row of least height
            ((self.least.max(TICK_SIDE + 2.0 * self.pad) - lead) / 2.0)
                .min((total - text_tall) / 2.0)
                .max(self.pad)
        } else {
            (total - text_tall) / 2.0
        };
        let mut marks = Vec::new();
        let mut drawings = Vec::new();
        for (index, cell) in cells.iter().enumerate() {
            let (x, wide) = self.edge(index);
            let align = self.aligns.get(index).copied().unwrap_or(Align::Left);
            match cell {
                Cell::Text(_) => {
                    let lines = texts.get(index).map_or(&[][..], Vec::as_slice);
                    marks.extend(stack(lines, x, top + drop(lines), wide, align));
                }
                Cell::Tick(code) if first => {
                    let middle = if text_tall > 0.0 {
                        top + lead / 2.0
                    } else {
                        total / 2.0
                    };
                    let y = (middle - TICK_SIDE / 2.0).max(self.pad);
                    let beside = pen.set(code, (wide - TICK_SIDE - CODE_GAP).max(4.0));
                    let room = match beside.iter().map(|l| l.width).fold(0.0, f64::max) {
                        0.0 => 0.0,
                        text => text + CODE_GAP,
                    };
                    let left = match align {
                        Align::Left => x,
                        Align::Middle => x + (wide - TICK_SIDE - room) / 2.0,
                        Align::Right => x + wide - TICK_SIDE - room,
                    };
                    // one line stands on the baseline of the row, more are centred on the box
                    let low = match beside.as_slice() {
                        [one] if text_tall > 0.0 => top + rise - one.rise,
                        _ => y + (TICK_SIDE - height(&beside)) / 2.0,
                    }
                    .max(0.0);
                    marks.extend(stack(&beside, left, low, wide, Align::Left));
                    marks.push(Mark::Tick {
                        at: At::new(left + room, y),
                        side: TICK_SIDE,
                    });
                }
                Cell::Drawing(d) if first => {
                    let left = match align {
                        Align::Left => x,
                        Align::Middle => x + (wide - d.width) / 2.0,
                        Align::Right => x + wide - d.width,
                    };
                    let y = if many {
                        self.pad
                    } else {
                        (total - d.height) / 2.0
                    };
                    let tag = if d.words.is_empty() {
                        Tag::Artifact
                    } else {
                        Tag::Figure(d.words.clone())
                    };
                    drawings.push(Group::new(tag, d.marks.clone()).by(left, y));
                }
                _ => {}
            }
        }
        let mut groups = vec![Group::new(Tag::P, marks)];
        groups.extend(drawings);
        if last {
            groups.push(self.line_at(total, HAIRLINE, true));
        }
        Row {
            height: total,
            before: 0.0,
            keep: false,
            groups,
        }
    }

    fn line_at(&self, y: f64, thickness: f64, hair: bool) -> Group {
        Group::new(
            Tag::Artifact,
            vec![Mark::rule(
                At::new(0.0, y),
                At::new(self.width, y),
                thickness,
                if hair { HAIR } else { BLACK },
            )],
        )
    }

    /// The head of a section with a rule under it; `labels` stand over the columns of the same place, where not empty.
    pub fn head(&self, pen: &mut Pen, title: &str, labels: &[&str]) -> Row {
        // the title may run over the columns that carry no label
        let first_label = labels.iter().position(|l| !l.is_empty());
        let room = first_label.map_or(self.width, |i| (self.edge(i).0 - CELL_GAP).max(20.0));
        let lines = pen.lines(title, SECTION, room.min(self.width));
        let mut cells = Vec::new();
        let mut tall = height(&lines);
        for (index, label) in labels.iter().enumerate() {
            let set = pen.lines(label, LABEL, self.edge(index).1);
            tall = tall.max(height(&set));
            cells.push(set);
        }
        let mut marks = stack(&lines, 0.0, tall - height(&lines), self.width, Align::Left);
        for (index, set) in cells.iter().enumerate() {
            let (x, wide) = self.edge(index);
            let align = self.aligns.get(index).copied().unwrap_or(Align::Left);
            // labels stand on the baseline of the title
            let low = match (lines.last(), set.last()) {
                (Some(title), Some(label)) => title.height - title.rise - label.height + label.rise,
                _ => 0.0,
            };
            marks.extend(stack(set, x, tall - height(set) - low, wide, align));
        }
        let rule = tall + 1.2;
        Row {
            height: rule,
            before: 6.0,
            keep: true,
            groups: vec![
                Group::new(Tag::H2, marks),
                self.line_at(rule, MEDIUM, false),
            ],
        }
    }

    /// A table of a head and rows, whose head comes again where it goes on.
    pub fn block(
        &self,
        pen: &mut Pen,
        title: &str,
        labels: &[&str],
        rows: Vec<Vec<Cell>>,
    ) -> Block {
        let head = self.head(pen, title, labels);
        let again = if title.is_empty() {
            head.clone()
        } else {
            self.head(pen, &format!("{title}, continued"), labels)
        };
        let mut all = vec![head];
        for cells in rows {
            all.extend(self.row(pen, &cells));
        }
        let mut again = again;
        // a repeated head is furniture to a reader who goes from row to row
        for group in &mut again.groups {
            group.tag = Tag::Artifact;
        }
        Block {
            rows: all,
            again: vec![again],
        }
        .bound()
    }
}

impl Column {
    fn fixed(&self) -> f64 {
        match self.width {
            Width::Fixed(mm) => mm,
            Width::Share(_) => 0.0,
        }
    }

    fn share(&self) -> f64 {
        match self.width {
            Width::Fixed(_) => 0.0,
            Width::Share(of) => of,
        }
    }
}

/// Takes the lines that fit one strip off the front.
fn take_lines(lines: &mut Vec<Line>, most: f64) -> Vec<Line> {
    let mut tall = 0.0;
    let mut count = 0;
    for line in lines.iter() {
        tall += line.height;
        if count > 0 && tall > most {
            break;
        }
        count += 1;
    }
    lines.drain(..count).collect()
}

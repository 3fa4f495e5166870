//! A document while it is being written: pages, heads, feet, and a pen that knows the typeface.

use std::collections::BTreeSet;

use crate::attach::Attachment;
use crate::flow::{Block, Room, fill, last_column};
use crate::letters::Letters;
use crate::marks::{Align, At, Group, Mark, Tag, height, stack};
use crate::say::made;
use crate::style::{BLACK, FOOT, HEAVY, LABEL, Style, THIN, TITLE, TITLE_AGAIN};
use crate::text::{Line, Run, break_lines, shorten, width};
use crate::{PaperError, PaperSize, Sheet};

/// Margin on all sides in mm.
pub const MARGIN: f64 = 15.0;
/// Between two columns of a page in mm.
pub const GUTTER: f64 = 10.0;
/// From the end of the text to the lower margin in mm: the foot and the air over it.
const FOOT_SPACE: f64 = 9.0;
/// Under the rule of a head in mm.
const UNDER_HEAD: f64 = 4.0;
/// The most letters of a name in a head or foot.
const NAME_LETTERS: usize = 90;
/// The most letters of a name in the head of a later page.
const AGAIN_LETTERS: usize = 45;
/// A long title is set smaller, down to this part of its size, where that saves a line.
const TITLE_SIZES: [f64; 3] = [1.0, 0.9, 0.8];
/// Halvings of the height when columns are made equal: to a hundredth of a millimetre.
const BALANCE_STEPS: u32 = 15;

/// Text goes through the pen: it is cleaned, and what the face lacks is remembered.
#[derive(Clone)]
pub struct Pen {
    letters: Letters,
    /// Letters that could not be drawn.
    pub missing: BTreeSet<char>,
}

impl Pen {
    /// A run of one style.
    pub fn run(&mut self, text: &str, style: Style) -> Run {
        Run {
            text: self.letters.clean(text, &mut self.missing),
            style,
        }
    }

    /// Lines of one style, no wider than `max` mm.
    pub fn lines(&mut self, text: &str, style: Style, max: f64) -> Vec<Line> {
        let run = self.run(text, style);
        self.set(&[run], max)
    }

    /// Lines of runs, no wider than `max` mm.
    pub fn set(&self, runs: &[Run], max: f64) -> Vec<Line> {
        break_lines(&self.letters, runs, max)
    }

    /// One line, cut with a sign where it is wider than `max` mm; none of an empty text.
    pub fn one_line(&mut self, text: &str, style: Style, max: f64) -> Vec<Line> {
        let mut most = NAME_LETTERS;
        loop {
            let lines = self.lines(&shorten(text, most), style, max);
            if lines.len() <= 1 || most <= 2 {
                return lines.into_iter().take(1).collect();
            }
            most -= 1;
        }
    }

    /// Width of a text on one line in mm.
    pub fn width(&mut self, text: &str, style: Style) -> f64 {
        let run = self.run(text, style);
        width(&self.letters, style, &run.text)
    }
}

/// The head of a paper: its name at the left, whose it is at the right.
#[derive(Clone)]
pub struct Head {
    /// Name of the paper; a line break may divide it.
    pub title: String,
    /// At the right: the first line is set bold.
    pub aside: Vec<String>,
}

/// A place to go to from the outline.
#[derive(Clone, Debug, PartialEq)]
pub struct Bookmark {
    /// What it is called.
    pub title: String,
    /// Page, from 0.
    pub page: usize,
}

/// Pages being filled.
#[derive(Clone)]
pub struct Doc {
    /// The pen.
    pub pen: Pen,
    /// Finished groups of each page, in reading order.
    pub pages: Vec<Vec<Group>>,
    /// Where the papers begin.
    pub bookmarks: Vec<Bookmark>,
    /// A file that goes inside.
    pub attached: Option<Attachment>,
    size: PaperSize,
    head: Head,
    y: f64,
    // where text begins on a page that carries the short head
    top_again: f64,
    // nothing stands under the head yet, so that no gap is due
    fresh: bool,
}

impl Doc {
    /// An empty document.
    pub fn new(size: PaperSize) -> Result<Doc, PaperError> {
        Ok(Doc {
            pen: Pen {
                letters: Letters::read()?,
                missing: BTreeSet::new(),
            },
            pages: Vec::new(),
            bookmarks: Vec::new(),
            attached: None,
            size,
            head: Head {
                title: String::new(),
                aside: Vec::new(),
            },
            y: MARGIN,
            top_again: MARGIN,
            fresh: true,
        })
    }

    /// Width of the text in mm.
    pub fn width(&self) -> f64 {
        self.size.width() - 2.0 * MARGIN
    }

    /// Width of one of `count` equal columns in mm.
    pub fn column(&self, count: u32) -> f64 {
        let n = f64::from(count.max(1));
        (self.width() - GUTTER * (n - 1.0)) / n
    }

    /// Lower end of the text in mm.
    fn bottom(&self) -> f64 {
        self.size.height() - MARGIN - FOOT_SPACE
    }

    /// Height that is left on this page in mm.
    pub fn left(&self) -> f64 {
        self.bottom() - self.y
    }

    /// Goes down by so many mm.
    pub fn gap(&mut self, mm: f64) {
        self.y += mm;
    }

    /// Writes a paper; where rows set closer (`true`) save a page, they are.
    pub fn closer(&mut self, write: impl Fn(&mut Doc, bool)) {
        let kept = self.clone();
        write(self, false);
        if self.pages.len() > kept.pages.len() + 1 {
            let mut close = kept;
            write(&mut close, true);
            if close.pages.len() < self.pages.len() {
                *self = close;
            }
        }
    }

    /// Begins a paper on a new page.
    pub fn begin(&mut self, head: Head) {
        self.head = head;
        self.pages.push(Vec::new());
        self.bookmarks.push(Bookmark {
            title: shorten(&self.head.title, NAME_LETTERS),
            page: self.pages.len() - 1,
        });
        let (groups, again) = self.head_groups(true);
        self.draw(groups);
        self.y = again;
        self.top_again = self.head_groups(false).1;
        self.fresh = true;
    }

    /// A page that goes on with the same paper.
    fn go_on(&mut self) {
        self.pages.push(Vec::new());
        let (groups, y) = self.head_groups(false);
        self.draw(groups);
        self.y = y;
    }

    /// The head, in full or for a later page, and where text begins under it.
    fn head_groups(&mut self, full: bool) -> (Vec<Group>, f64) {
        let wide = self.width();
        let left = if full {
            self.title(wide * 0.58)
        } else {
            let title = shorten(&self.head.title, AGAIN_LETTERS);
            let runs = [
                self.pen.run(&title, TITLE_AGAIN),
                self.pen.run("  continued", LABEL),
            ];
            self.pen.set(&runs, wide * 0.58)
        };
        let aside: Vec<String> = self
            .head
            .aside
            .iter()
            .take(if full { 5 } else { 1 })
            .map(|t| shorten(t, NAME_LETTERS))
            .collect();
        // a short title leaves the rest of the line to whose it is
        let used = left.iter().map(|l| l.width).fold(0.0, f64::max);
        let room = (wide - used - GUTTER).max(wide * 0.40);
        let mut right = Vec::new();
        for (index, text) in aside.iter().enumerate() {
            let style = if index == 0 { LABEL.bold() } else { LABEL };
            right.extend(self.pen.lines(text, style, room));
        }
        let tall = height(&left).max(height(&right));
        let rule = MARGIN + tall + 2.2;
        let tag = if full { Tag::H1 } else { Tag::Artifact };
        let right_tag = if full { Tag::P } else { Tag::Artifact };
        let groups = vec![
            Group::new(
                tag,
                stack(
                    &left,
                    MARGIN,
                    MARGIN + tall - height(&left),
                    wide,
                    Align::Left,
                ),
            ),
            Group::new(
                right_tag,
                stack(
                    &right,
                    MARGIN,
                    MARGIN + tall - height(&right),
                    wide,
                    Align::Right,
                ),
            ),
            Group::new(
                Tag::Artifact,
                vec![Mark::rule(
                    At::new(MARGIN, rule),
                    At::new(MARGIN + wide, rule),
                    HEAVY,
                    BLACK,
                )],
            ),
        ];
        (groups, rule + UNDER_HEAD)
    }

    /// The title in as few lines as one of its sizes allows, as large as that goes.
    fn title(&mut self, wide: f64) -> Vec<Line> {
        let title = shorten_lines(&self.head.title);
        let sets = TITLE_SIZES.map(|part| self.pen.lines(&title, TITLE.scaled(part), wide));
        let fewest = sets.iter().map(Vec::len).min().unwrap_or(0);
        let found = sets.into_iter().find(|lines| lines.len() == fewest);
        found.unwrap_or_default()
    }

    fn draw(&mut self, groups: Vec<Group>) {
        if let Some(page) = self.pages.last_mut() {
            page.extend(groups);
        }
    }

    /// Blocks under each other over the whole width.
    pub fn place(&mut self, blocks: &[Block]) {
        self.lay(blocks, &[0.0], false);
    }

    /// Blocks in columns of the same width that end at about the same height on the last page.
    pub fn place_columns(&mut self, blocks: &[Block], count: u32) {
        let step = self.column(count) + GUTTER;
        let lanes: Vec<f64> = (0..count.max(1)).map(|i| f64::from(i) * step).collect();
        self.lay(blocks, &lanes, true);
    }

    /// Two columns with their own blocks side by side; the second begins `offset` mm from the left.
    pub fn place_beside(&mut self, left: &[Block], right: &[Block], offset: f64) {
        let (page, y) = (self.pages.len(), self.y);
        let fresh = self.fresh;
        self.lay(left, &[0.0], false);
        let end = (self.pages.len(), self.y);
        self.fresh = fresh;
        let other = self.lay_from(right, &[offset], false, page, y);
        self.y = match other.0.cmp(&end.0) {
            std::cmp::Ordering::Less => end.1,
            std::cmp::Ordering::Equal => end.1.max(other.1),
            std::cmp::Ordering::Greater => other.1,
        };
    }

    fn lay(&mut self, blocks: &[Block], lanes: &[f64], balance: bool) {
        let (page, y) = (self.pages.len(), self.y);
        self.y = self.lay_from(blocks, lanes, balance, page, y).1;
    }

    /// Lays blocks from a height of a page (counted from 1) on, making pages as needed. Answers the page and the
    /// height where they end.
    fn lay_from(
        &mut self,
        blocks: &[Block],
        lanes: &[f64],
        balance: bool,
        page: usize,
        top: f64,
    ) -> (usize, f64) {
        let count = lanes.len().max(1);
        let (first, full) = (self.bottom() - top, self.bottom() - self.top_again);
        // a later page offers more than what is left of this one, never less
        let full = full.max(first);
        let normal = |column: usize| if column < count { first } else { full };
        let fresh = count > 1 || self.fresh;
        let alone = count == 1 && self.fresh;
        let rooms = |of: &dyn Fn(usize) -> f64| {
            let placed = fill(
                blocks,
                &Room {
                    of,
                    full,
                    fresh,
                    alone,
                },
            );
            last_column(&placed) / count
        };
        let last_page = rooms(&normal);
        let mut low = 0.0;
        let mut high = normal(last_page * count);
        if balance {
            for _ in 0..BALANCE_STEPS {
                let middle = (low + high) / 2.0;
                let shorter = |column: usize| {
                    if column / count == last_page {
                        middle
                    } else {
                        normal(column)
                    }
                };
                if rooms(&shorter) == last_page {
                    high = middle;
                } else {
                    low = middle;
                }
            }
        }
        let chosen = |column: usize| {
            if balance && column / count == last_page {
                high
            } else {
                normal(column)
            }
        };
        let room = Room {
            of: &chosen,
            full,
            fresh,
            alone,
        };
        let mut end = (page, top);
        self.fresh = self.fresh && blocks.iter().all(|b| b.rows.is_empty());
        for placed in fill(blocks, &room) {
            let number = page + placed.column / count;
            while self.pages.len() < number {
                self.go_on();
            }
            let start = if number == page { top } else { self.top_again };
            let x = MARGIN + lanes.get(placed.column % count).copied().unwrap_or(0.0);
            let y = start + placed.y;
            let below = y + placed.row.height;
            end = if number > end.0 {
                (number, below)
            } else {
                (end.0, end.1.max(below))
            };
            if let Some(groups) = self.pages.get_mut(number.saturating_sub(1)) {
                groups.extend(placed.row.groups.iter().map(|g| g.by(x, y)));
            }
        }
        end
    }

    /// Writes the foot of every page: who, which paper and when it was made, page of pages.
    pub fn feet(&mut self, name: &str, sheet: &Sheet) {
        let who = sheet.own.name.trim();
        let paper = if sheet.made_on.is_empty() {
            name.to_string()
        } else {
            format!("{name}, made {}", made(&sheet.made_on))
        };
        let (wide, base) = (self.width(), self.size.height() - MARGIN);
        let pages = self.pages.len();
        // the page number needs little; the rest is shared
        let (side, middle) = (wide * 0.30, wide * 0.40 - 4.0);
        for number in 1..=pages {
            let mut marks = vec![Mark::rule(
                At::new(MARGIN, base - 5.4),
                At::new(MARGIN + wide, base - 5.4),
                THIN,
                BLACK,
            )];
            let numbers = format!("{number} of {pages}");
            for (text, x, room, align) in [
                (who, 0.0, side, Align::Left),
                (paper.as_str(), side + 2.0, middle, Align::Middle),
                (numbers.as_str(), wide - side, side, Align::Right),
            ] {
                let line = self.pen.one_line(text, FOOT, room);
                marks.extend(stack(&line, MARGIN + x, base - 4.2, room, align));
            }
            if let Some(page) = self.pages.get_mut(number - 1) {
                page.push(Group::new(Tag::Artifact, marks));
            }
        }
    }
}

/// A title of at most two lines as typed, each cut to a bearable length.
fn shorten_lines(title: &str) -> String {
    let lines: Vec<&str> = title.lines().take(2).collect();
    let most = NAME_LETTERS / lines.len().max(1);
    let cut: Vec<String> = lines.iter().map(|l| shorten(l, most)).collect();
    cut.join("\n")
}

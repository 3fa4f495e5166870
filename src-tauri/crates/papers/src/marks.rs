//! What is on a page, before any file format: marks in millimetres from the top left, grouped in reading order.
//!
//! Everything else is made of this list: the PDF, the plain text for people and tests, and the check that nothing
//! leaves the page.

use job::stock::Pattern;

use crate::colour::Rgb;
use crate::still::Rows;
use crate::style::Style;
use crate::text::Line;

/// A point in mm, x to the right and y down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct At {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

/// One drawn thing.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// Letters on a baseline.
    Text {
        /// Left end of the baseline.
        at: At,
        /// Width in mm.
        width: f64,
        /// How it is set.
        style: Style,
        /// The letters.
        text: String,
    },
    /// A straight line.
    Rule {
        /// One end.
        from: At,
        /// The other.
        to: At,
        /// In mm.
        thickness: f64,
        /// Colour.
        ink: Rgb,
    },
    /// A rectangle; the outline lies inside it.
    Frame {
        /// Upper left corner.
        at: At,
        /// In mm.
        width: f64,
        /// In mm.
        height: f64,
        /// Of the outline, in mm; 0 for none.
        thickness: f64,
        /// Colour of the outline.
        ink: Rgb,
        /// Colour inside.
        fill: Option<Rgb>,
    },
    /// A box to tick.
    Tick {
        /// Upper left corner.
        at: At,
        /// Side in mm.
        side: f64,
    },
    /// A balloon: flat colour, outline, pattern in a crescent.
    Balloon {
        /// Middle.
        at: At,
        /// Radius in mm, to the outer edge of the outline.
        radius: f64,
        /// Its colour.
        colour: Rgb,
        /// The pattern of that colour.
        pattern: Pattern,
    },
    /// A picture of pixels.
    Picture {
        /// Upper left corner.
        at: At,
        /// In mm.
        width: f64,
        /// In mm.
        height: f64,
        /// Its pixels.
        rows: Rows,
    },
    /// A line through points.
    Path {
        /// Two at least.
        points: Vec<At>,
        /// In mm.
        thickness: f64,
        /// Colour.
        ink: Rgb,
    },
}

/// What a group is to a reader who cannot see the page (ISO 32000-1, 14.8.4).
#[derive(Clone, Debug, PartialEq)]
pub enum Tag {
    /// Name of a paper.
    H1,
    /// Head of a section.
    H2,
    /// Text, or a row of a list.
    P,
    /// A drawing, with its words.
    Figure(String),
    /// Rules, running heads and feet: to be skipped.
    Artifact,
}

/// Marks that are read together.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// What it is.
    pub tag: Tag,
    /// In drawing order.
    pub marks: Vec<Mark>,
}

impl At {
    /// A point.
    pub const fn new(x: f64, y: f64) -> At {
        At { x, y }
    }

    /// The point moved.
    pub fn by(self, dx: f64, dy: f64) -> At {
        At::new(self.x + dx, self.y + dy)
    }
}

impl Mark {
    /// A level or upright line.
    pub fn rule(from: At, to: At, thickness: f64, ink: Rgb) -> Mark {
        Mark::Rule {
            from,
            to,
            thickness,
            ink,
        }
    }

    /// The mark moved.
    pub fn by(&self, dx: f64, dy: f64) -> Mark {
        let mut out = self.clone();
        match &mut out {
            Mark::Text { at, .. }
            | Mark::Frame { at, .. }
            | Mark::Tick { at, .. }
            | Mark::Picture { at, .. }
            | Mark::Balloon { at, .. } => *at = at.by(dx, dy),
            Mark::Rule { from, to, .. } => (*from, *to) = (from.by(dx, dy), to.by(dx, dy)),
            Mark::Path { points, .. } => points.iter_mut().for_each(|p| *p = p.by(dx, dy)),
        }
        out
    }
}

impl Group {
    /// A group.
    pub fn new(tag: Tag, marks: Vec<Mark>) -> Group {
        Group { tag, marks }
    }

    /// The group moved.
    pub fn by(&self, dx: f64, dy: f64) -> Group {
        Group {
            tag: self.tag.clone(),
            marks: self.marks.iter().map(|m| m.by(dx, dy)).collect(),
        }
    }
}

/// Where lines stand between the left and the right edge of their place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    /// At the left edge.
    Left,
    /// In the middle.
    Middle,
    /// At the right edge: figures.
    Right,
}

/// Lines under each other from a top edge, as marks.
pub fn stack(lines: &[Line], left: f64, top: f64, width: f64, align: Align) -> Vec<Mark> {
    let mut marks = Vec::new();
    let mut y = top;
    for line in lines {
        let x = match align {
            Align::Left => left,
            Align::Middle => left + (width - line.width) / 2.0,
            Align::Right => left + width - line.width,
        };
        for piece in &line.pieces {
            marks.push(Mark::Text {
                at: At::new(x + piece.x, y + line.rise),
                width: piece.width,
                style: piece.style,
                text: piece.text.clone(),
            });
        }
        y += line.height;
    }
    marks
}

/// Height of lines under each other in mm.
pub fn height(lines: &[Line]) -> f64 {
    lines.iter().map(|l| l.height).sum()
}

/// The pages as plain text, one string a page: group by group in reading order, each group line by line as it is seen,
/// boxes as `[ ]`, drawings by their words.
pub fn listing(pages: &[Vec<Group>]) -> Vec<String> {
    pages.iter().map(|groups| page_text(groups)).collect()
}

fn page_text(groups: &[Group]) -> String {
    let mut lines: Vec<String> = Vec::new();
    for group in groups {
        if let Tag::Figure(words) = &group.tag {
            lines.push(format!("[picture: {words}]"));
            continue;
        }
        lines.extend(group_lines(&group.marks));
    }
    lines.retain(|l| !l.trim().is_empty());
    let mut out = lines.join("\n");
    out.push('\n');
    out
}

/// A stretch of a line: its left and right end and its letters.
type Stretch<'a> = (f64, f64, &'a str);

fn group_lines(marks: &[Mark]) -> Vec<String> {
    let mut lines: Vec<(f64, Vec<Stretch<'_>>)> = Vec::new();
    for mark in marks {
        if let Mark::Text {
            at, width, text, ..
        } = mark
        {
            let stretch = (at.x, at.x + width, text.as_str());
            match lines.iter_mut().find(|(y, _)| (y - at.y).abs() < 0.01) {
                Some((_, stretches)) => stretches.push(stretch),
                None => lines.push((at.y, vec![stretch])),
            }
        }
    }
    for mark in marks {
        if let Mark::Tick { at, side } = mark {
            // a box belongs to the line whose letters it stands beside
            let beside = lines
                .iter_mut()
                .find(|(y, _)| *y > at.y && *y < at.y + side);
            let stretch = (at.x, at.x + side, "[ ]");
            match beside {
                Some((_, stretches)) => stretches.push(stretch),
                None => lines.push((at.y + side, vec![stretch])),
            }
        }
    }
    lines.sort_by(|a, b| a.0.total_cmp(&b.0));
    lines
        .into_iter()
        .map(|(_, mut stretches)| {
            stretches.sort_by(|a, b| a.0.total_cmp(&b.0));
            let mut line = String::new();
            let mut end: Option<f64> = None;
            for (left, right, text) in stretches {
                if end.is_some_and(|e| left - e > 0.4) {
                    line.push_str("  ");
                }
                line.push_str(text);
                end = Some(right);
            }
            line
        })
        .collect()
}

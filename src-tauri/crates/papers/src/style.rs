//! The few kinds of type that papers use, and the inks.

use crate::colour::Rgb;
use crate::letters::{ASCENT_EM, DESCENT_EM, Face};

/// Millimetres in a point.
pub const MM_PER_PT: f64 = 25.4 / 72.0;

/// Text and heavy rules.
pub const BLACK: Rgb = Rgb([0, 0, 0]);
/// Notes under a name: still 12:1 on white.
pub const DARK: Rgb = Rgb([0x33, 0x33, 0x33]);
/// Hairlines; anything lighter is lost on a bad printer.
pub const HAIR: Rgb = Rgb([0x99, 0x99, 0x99]);

/// Thickness of a hairline in mm.
pub const HAIRLINE: f64 = 0.2;
/// Thickness of the rule over a foot and round a strip of figures in mm.
pub const THIN: f64 = 0.25;
/// Thickness of the outline of a tick box in mm.
pub const TICK_LINE: f64 = 0.45;
/// Thickness of the rule under a section head in mm.
pub const MEDIUM: f64 = 0.5;
/// Thickness of the rule under the head of a page and round a caution in mm.
pub const HEAVY: f64 = 0.7;

/// A kind of type.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Style {
    /// Which weight.
    pub face: Face,
    /// Size in points.
    pub size: f64,
    /// Distance from line to line in mm.
    pub leading: f64,
    /// Space added after each letter, in em.
    pub tracking: f64,
    /// Colour of the letters.
    pub ink: Rgb,
}

impl Style {
    const fn new(face: Face, size: f64, lines: f64, tracking: f64, ink: Rgb) -> Style {
        Style {
            face,
            size,
            leading: size * lines * MM_PER_PT,
            tracking,
            ink,
        }
    }

    /// The same in another size.
    pub fn scaled(self, part: f64) -> Style {
        Style {
            size: self.size * part,
            leading: self.leading * part,
            ..self
        }
    }

    /// The same in weight 600.
    pub const fn bold(self) -> Style {
        Style {
            face: Face::SemiBold,
            ..self
        }
    }

    /// Size in mm.
    pub fn em(&self) -> f64 {
        self.size * MM_PER_PT
    }

    /// Height of the face above the baseline in mm.
    pub fn ascent(&self) -> f64 {
        ASCENT_EM * self.em()
    }

    /// Depth of the face below the baseline in mm.
    pub fn descent(&self) -> f64 {
        DESCENT_EM * self.em()
    }

    /// Baseline below the top of a line of this style alone, in mm: the slack is shared above and below.
    pub fn rise(&self) -> f64 {
        (self.leading - self.ascent() - self.descent()) / 2.0 + self.ascent()
    }
}

/// The name of a paper.
pub const TITLE: Style = Style::new(Face::SemiBold, 25.0, 1.08, -0.02, BLACK);
/// The name of a paper on its later pages.
pub const TITLE_AGAIN: Style = Style::new(Face::SemiBold, 13.0, 1.2, -0.01, BLACK);
/// Times and other figures that matter.
pub const FIGURE: Style = Style::new(Face::SemiBold, 22.0, 1.08, -0.02, BLACK);
/// Figures in a table of what is included.
pub const FIGURE_ROW: Style = Style::new(Face::SemiBold, 17.0, 1.1, -0.02, BLACK);
/// Section heads.
pub const SECTION: Style = Style::new(Face::SemiBold, 13.0, 1.25, 0.0, BLACK);
/// How many, at the left of a list.
pub const QUANTITY: Style = Style::new(Face::SemiBold, 12.5, 1.15, 0.0, BLACK);
/// Text.
pub const BODY: Style = Style::new(Face::Regular, 10.5, 1.38, 0.0, BLACK);
/// Labels, column heads, the block at the right of a head.
pub const LABEL: Style = Style::new(Face::Regular, 9.5, 1.35, 0.0, BLACK);
/// Notes beside or under a name.
pub const NOTE: Style = Style::new(Face::Regular, 9.0, 1.32, 0.0, DARK);
/// The code on a label: capitals 15 mm high, to be read at two metres and more.
pub const LABEL_CODE: Style = Style::new(Face::SemiBold, 61.0, 1.02, -0.02, BLACK);
/// The running foot.
pub const FOOT: Style = Style::new(Face::Regular, 8.5, 1.3, 0.0, BLACK);

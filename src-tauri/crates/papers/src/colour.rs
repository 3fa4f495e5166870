//! Colours of balloons on paper, and the patterns that tell them apart without colour ink.

use job::stock::Pattern;

/// An sRGB colour, 0 to 255 each.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rgb(pub [u8; 3]);

/// Outline of a balloon and the figure in it.
pub const INK: Rgb = Rgb([0x1c, 0x1d, 0x21]);
/// White.
pub const WHITE: Rgb = Rgb([255, 255, 255]);

/// Least contrast of small text with its ground (WCAG 2.2, success criterion 1.4.3).
const CONTRAST_TEXT: f64 = 4.5;

impl Rgb {
    /// Reads `#rrggbb`.
    pub fn from_hex(hex: &str) -> Option<Rgb> {
        let digits = hex.strip_prefix('#')?;
        if digits.len() != 6 || !digits.is_ascii() {
            return None;
        }
        let byte = |i: usize| u8::from_str_radix(digits.get(i..i + 2)?, 16).ok();
        Some(Rgb([byte(0)?, byte(2)?, byte(4)?]))
    }

    /// Relative luminance (WCAG 2.2, definition of "relative luminance").
    pub fn luminance(self) -> f64 {
        let [r, g, b] = self.0.map(|v| {
            let c = f64::from(v) / 255.0;
            if c <= 0.04045 {
                c / 12.92
            } else {
                libm::pow((c + 0.055) / 1.055, 2.4)
            }
        });
        0.2126 * r + 0.7152 * g + 0.0722 * b
    }

    /// Contrast ratio, 1 to 21 (WCAG 2.2, definition of "contrast ratio").
    pub fn contrast(self, other: Rgb) -> f64 {
        let (a, b) = (self.luminance(), other.luminance());
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    /// Ink for figures and patterns on this colour: dark, or white where dark would not read.
    pub fn ink(self) -> Rgb {
        if self.contrast(INK) < CONTRAST_TEXT {
            WHITE
        } else {
            INK
        }
    }
}

/// The word printed beside a swatch.
pub fn pattern_word(pattern: Pattern) -> &'static str {
    match pattern {
        Pattern::Plain | Pattern::Newer => "plain",
        Pattern::Hatched => "hatched",
        Pattern::Dotted => "dotted",
        Pattern::Barred => "barred",
        Pattern::Crossed => "cross-hatched",
        Pattern::Waved => "waved",
        Pattern::Ringed => "ringed",
        Pattern::Checked => "checked",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Source: WCAG 2.2 definitions: black on white is 21:1, a colour on itself 1:1;
    // #767676 on white is the well known lightest grey that passes 4.5:1 (4.54).
    #[test]
    fn contrast_meets_published_values() {
        assert_eq!(Rgb([0, 0, 0]).contrast(WHITE), 21.0);
        assert_eq!(INK.contrast(INK), 1.0);
        let grey = Rgb([0x76, 0x76, 0x76]).contrast(WHITE);
        assert!((grey - 4.54).abs() < 0.005, "{grey}");
    }

    #[test]
    fn dark_colours_take_white_ink() {
        assert_eq!(Rgb([0x20, 0x30, 0x60]).ink(), WHITE);
        assert_eq!(Rgb([0xf3, 0xea, 0xd8]).ink(), INK);
    }

    #[test]
    fn hex_is_read_or_refused() {
        assert_eq!(Rgb::from_hex("#d9798a"), Some(Rgb([0xd9, 0x79, 0x8a])));
        for bad in ["d9798a", "#d97", "#zzzzzz", "#d9798é", ""] {
            assert_eq!(Rgb::from_hex(bad), None, "{bad}");
        }
    }
}

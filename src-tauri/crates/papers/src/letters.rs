//! The typeface: what it can draw, how wide that is, and the cut of it that goes into one document.
//!
//! There is no shaping: no kerning, no ligatures, no right-to-left, no second face to fall back on. A letter that
//! the face lacks is printed as a question mark and remembered, so that it becomes a finding and never an empty box.

use std::collections::{BTreeMap, BTreeSet};

use allsorts::{
    binary::read::ReadScope,
    font::read_cmap_subtable,
    font_data::FontData,
    subset::{CmapTarget, SubsetProfile, subset},
    tables::{FontTableProvider, HheaTable, HmtxTable, MaxpTable, cmap::Cmap},
    tag,
};
use unicode_normalization::UnicodeNormalization;

use crate::PaperError;

/// Printed in the place of a letter that the face lacks.
pub const REPLACEMENT: char = '?';

/// Letters that stand for a foil in the shape of a heart.
const HEARTS: [char; 3] = ['♥', '❤', '♡'];

/// IBM Plex Sans, SIL OFL 1.1, compiled in so that no host can bring another file.
const REGULAR: &[u8] = include_bytes!("../fonts/IBMPlexSans-Regular.ttf");
const SEMIBOLD: &[u8] = include_bytes!("../fonts/IBMPlexSans-SemiBold.ttf");

/// Height above and depth below the baseline, in em, from the `hhea` table of both files.
pub const ASCENT_EM: f64 = 1.025;
/// Depth below the baseline in em.
pub const DESCENT_EM: f64 = 0.275;

/// One of the two weights.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Face {
    /// Weight 400: text.
    Regular,
    /// Weight 600: titles and figures.
    SemiBold,
}

impl Face {
    fn file(self) -> &'static [u8] {
        match self {
            Face::Regular => REGULAR,
            Face::SemiBold => SEMIBOLD,
        }
    }

    /// The name in the document: six letters and a plus mark a subset (ISO 32000-1, 9.6.4).
    pub fn name(self) -> &'static str {
        match self {
            Face::Regular => "AWREGU+IBMPlexSans-Regular",
            Face::SemiBold => "AWSEMI+IBMPlexSans-SemiBold",
        }
    }
}

/// Advance widths of both faces in thousandths of an em.
#[derive(Clone)]
pub struct Letters {
    regular: BTreeMap<char, u16>,
    semibold: BTreeMap<char, u16>,
}

impl Letters {
    /// Reads the widths from the two files.
    pub fn read() -> Result<Letters, PaperError> {
        Ok(Letters {
            regular: advances(REGULAR)?,
            semibold: advances(SEMIBOLD)?,
        })
    }

    fn advances(&self, face: Face) -> &BTreeMap<char, u16> {
        match face {
            Face::Regular => &self.regular,
            Face::SemiBold => &self.semibold,
        }
    }

    /// Whether both faces draw the letter.
    pub fn has(&self, c: char) -> bool {
        self.regular.contains_key(&c) && self.semibold.contains_key(&c)
    }

    /// Width of one letter in em; a letter that is not there has the width of its replacement.
    pub fn width_em(&self, face: Face, c: char) -> f64 {
        let table = self.advances(face);
        let units = table.get(&c).or_else(|| table.get(&REPLACEMENT));
        f64::from(units.copied().unwrap_or(600)) / 1000.0
    }

    /// Brings text into the form that is measured and drawn: composed (NFC), without invisible marks, one kind of
    /// line break, a heart, which foils are made of, as a word, and with the replacement for each letter that the face lacks; those are
    /// added to `missing`.
    pub fn clean(&self, text: &str, missing: &mut BTreeSet<char>) -> String {
        let mut out = String::with_capacity(text.len());
        let mut last_was_return = false;
        let mut last_was_heart = false;
        for c in text.nfc() {
            let apart = |before: Option<char>| before.is_some_and(char::is_alphanumeric);
            if std::mem::replace(&mut last_was_heart, HEARTS.contains(&c)) && apart(Some(c)) {
                out.push(' ');
            }
            let returned = std::mem::replace(&mut last_was_return, c == '\r');
            match c {
                '\n' if returned => {}
                '\n' | '\r' | '\u{0b}' | '\u{0c}' | '\u{85}' | '\u{2028}' | '\u{2029}' => {
                    out.push('\n');
                }
                _ if invisible(c) => {}
                _ if c.is_control() || (c.is_whitespace() && !self.has(c)) => out.push(' '),
                _ if self.has(c) => out.push(c),
                _ if HEARTS.contains(&c) => {
                    if apart(out.chars().next_back()) {
                        out.push(' ');
                    }
                    out.push_str("heart");
                }
                _ => {
                    missing.insert(c);
                    out.push(REPLACEMENT);
                }
            }
        }
        out
    }
}

/// Marks that steer text and are not seen: joiners, direction marks, variation selectors, soft hyphens, tags.
fn invisible(c: char) -> bool {
    matches!(
        c,
        '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{180e}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}'
    ) || matches!(c, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}')
        || matches!(c, '\u{fe00}'..='\u{fe0f}' | '\u{e0000}'..='\u{e0fff}')
}

/// Whether the letter sits on the one before it, so that no line may end between them.
pub fn combining(c: char) -> bool {
    unicode_normalization::char::is_combining_mark(c)
}

/// Cuts a face down to the letters used. The result has its own Unicode table and glyphs numbered anew.
pub fn cut(face: Face, used: &BTreeSet<char>) -> Result<Vec<u8>, PaperError> {
    let fault = |_| PaperError::inside("the typeface could not be cut");
    let file = ReadScope::new(face.file())
        .read::<FontData<'_>>()
        .map_err(fault)?;
    let provider = file
        .table_provider(0)
        .map_err(|_| PaperError::inside("the typeface could not be opened"))?;
    let cmap_data = provider.read_table_data(tag::CMAP).map_err(fault)?;
    let cmap = ReadScope::new(&cmap_data)
        .read::<Cmap<'_>>()
        .map_err(fault)?;
    let (_, table) = read_cmap_subtable(&cmap)
        .map_err(fault)?
        .ok_or(PaperError::inside("the typeface has no Unicode table"))?;
    let mut glyphs: BTreeSet<u16> = BTreeSet::from([0]);
    for &c in used {
        if let Some(glyph) = table.map_glyph(u32::from(c)).map_err(fault)? {
            glyphs.insert(glyph);
        }
    }
    let glyphs: Vec<u16> = glyphs.into_iter().collect();
    subset(&provider, &glyphs, &SubsetProfile::Pdf, CmapTarget::Unicode)
        .map_err(|_| PaperError::inside("the typeface could not be cut"))
}

/// The advance of every letter of a file, scaled to thousandths of an em.
fn advances(bytes: &[u8]) -> Result<BTreeMap<char, u16>, PaperError> {
    let fault = |_| PaperError::inside("the typeface could not be read");
    let file = ReadScope::new(bytes)
        .read::<FontData<'_>>()
        .map_err(fault)?;
    let provider = file
        .table_provider(0)
        .map_err(|_| PaperError::inside("the typeface could not be opened"))?;
    let data = |tag| provider.read_table_data(tag).map_err(fault);
    let (cmap_data, hhea_data, maxp_data, hmtx_data) = (
        data(tag::CMAP)?,
        data(tag::HHEA)?,
        data(tag::MAXP)?,
        data(tag::HMTX)?,
    );
    let hhea = ReadScope::new(&hhea_data)
        .read::<HheaTable>()
        .map_err(fault)?;
    let maxp = ReadScope::new(&maxp_data)
        .read::<MaxpTable>()
        .map_err(fault)?;
    let hmtx = ReadScope::new(&hmtx_data)
        .read_dep::<HmtxTable<'_>>((
            usize::from(maxp.num_glyphs),
            usize::from(hhea.num_h_metrics),
        ))
        .map_err(fault)?;
    let cmap = ReadScope::new(&cmap_data)
        .read::<Cmap<'_>>()
        .map_err(fault)?;
    let (_, table) = read_cmap_subtable(&cmap)
        .map_err(fault)?
        .ok_or(PaperError::inside("the typeface has no Unicode table"))?;
    let mut out = BTreeMap::new();
    table
        .mappings_fn(|code, glyph| {
            if let (Some(c), true, Ok(advance)) = (
                char::from_u32(code),
                glyph != 0,
                hmtx.horizontal_advance(glyph),
            ) {
                out.insert(c, advance);
            }
        })
        .map_err(fault)?;
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cleaned(text: &str) -> (String, Vec<char>) {
        let mut missing = BTreeSet::new();
        let out = Letters::read().unwrap().clean(text, &mut missing);
        (out, missing.into_iter().collect())
    }

    #[test]
    fn figures_are_all_as_wide() {
        let letters = Letters::read().unwrap();
        for face in [Face::Regular, Face::SemiBold] {
            for c in '0'..='9' {
                assert_eq!(letters.width_em(face, c), 0.6, "{face:?} {c}");
            }
        }
    }

    #[test]
    fn latin_greek_and_cyrillic_pass_unchanged() {
        let text = "Größe, Łódź, Ελληνικά, Кириллица, Đặng – 12 × 3 € ½ m³ → ✓";
        assert_eq!(cleaned(text), (text.to_string(), vec![]));
    }

    #[test]
    fn a_heart_of_foil_is_a_word() {
        let said = [
            ("“5♥”", "“5 heart”"),
            ("♥40♥", "heart 40 heart"),
            ("A ❤\u{fe0f} B", "A heart B"),
        ];
        for (typed, printed) in said {
            assert_eq!(cleaned(typed), (printed.to_string(), vec![]));
        }
    }

    #[test]
    fn accents_typed_apart_are_joined() {
        assert_eq!(cleaned("Zoe\u{308}"), ("Zoë".to_string(), vec![]));
    }

    #[test]
    fn missing_letters_are_replaced_and_named() {
        assert_eq!(
            cleaned("Rose 🎈 שלום"),
            ("Rose ? ????".to_string(), vec!['ו', 'ל', 'ם', 'ש', '🎈'])
        );
    }

    #[test]
    fn invisible_marks_vanish_and_line_breaks_become_one_kind() {
        assert_eq!(
            cleaned("a\u{200d}\u{202e}b\r\nc\rd\te\u{0}f"),
            ("ab\nc\nd e f".to_string(), vec![])
        );
    }

    #[test]
    fn a_cut_face_is_small() {
        let used: BTreeSet<char> = "Packing list 0123456789".chars().collect();
        let small = cut(Face::Regular, &used).unwrap();
        assert!(small.len() < REGULAR.len() / 10, "{} bytes", small.len());
    }
}

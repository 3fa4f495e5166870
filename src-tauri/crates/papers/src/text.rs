//! Runs of text broken into lines.

use crate::letters::{Letters, combining};
use crate::style::Style;

/// Rounding that a sum of widths may carry, in mm: text measured to fit must fit.
const SLACK: f64 = 1e-6;

/// The last line of a text is no single word of so few letters.
const WIDOW: usize = 5;

/// Text of one style. Already cleaned: see [`Letters::clean`].
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// The text; `\n` ends a line.
    pub text: String,
    /// How it is set.
    pub style: Style,
}

/// A stretch of one style on a line.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// From the left end of the line, in mm.
    pub x: f64,
    /// Width in mm.
    pub width: f64,
    /// How it is set.
    pub style: Style,
    /// What is drawn.
    pub text: String,
}

/// One line.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// From left to right.
    pub pieces: Vec<Piece>,
    /// Width without the spaces at its end, in mm.
    pub width: f64,
    /// Height in mm.
    pub height: f64,
    /// Baseline below the top, in mm.
    pub rise: f64,
}

#[derive(Clone, Copy)]
struct Letter {
    c: char,
    width: f64,
    run: usize,
}

/// Breaks runs into lines no wider than `max` mm: at spaces, after a hyphen or slash between letters, and inside a
/// word only where the word alone is wider than the line. A line holds one letter at least. Empty text has no line.
pub fn break_lines(letters: &Letters, runs: &[Run], max: f64) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut line: Vec<Letter> = Vec::new();
    let mut width = 0.0;
    // how many letters of `line` stand before the last place where it may end
    let mut stop = 0;
    let mut ended = true;
    // the line before, where this one goes on with its text
    let mut before: Vec<Letter> = Vec::new();
    for (index, run) in runs.iter().enumerate() {
        let style = run.style;
        for c in run.text.chars() {
            ended = false;
            if c == '\n' {
                close(&mut lines, &before, &line, runs, style, max);
                line.clear();
                before.clear();
                (width, stop, ended) = (0.0, 0, true);
                continue;
            }
            let w = (letters.width_em(style.face, c) + style.tracking) * style.em();
            if may_end_before(&line, c) {
                stop = line.len();
            }
            // what moves to the next line may with this letter be too wide for it as well
            while width + w > max + SLACK && !space(c) && !line.is_empty() {
                let cut = if stop > 0 { stop } else { inside(&line, c) };
                let rest: Vec<Letter> = line.drain(cut..).collect();
                lines.push(set(&line, runs, style));
                before = line;
                line = rest.into_iter().skip_while(|l| space(l.c)).collect();
                width = line.iter().map(|l| l.width).sum();
                stop = 0;
            }
            line.push(Letter {
                c,
                width: w,
                run: index,
            });
            width += w;
        }
    }
    if let (false, Some(last)) = (ended, runs.last()) {
        close(&mut lines, &before, &line, runs, last.style, max);
    }
    lines
}

/// Sets the last line of a text. One short word alone takes the word before it down from the line `before`, where two more stay.
fn close(
    lines: &mut Vec<Line>,
    before: &[Letter],
    last: &[Letter],
    runs: &[Run],
    own: Style,
    max: f64,
) {
    let alone = last.len() <= WIDOW && !last.iter().any(|l| space(l.c));
    let begins: Vec<usize> = (1..before.len())
        .filter(|i| before.get(i - 1).is_some_and(|l| space(l.c)))
        .collect();
    let torn = before.last().is_none_or(|l| !space(l.c));
    if let ([.., _, cut], true, false) = (begins.as_slice(), alone, torn) {
        let (stays, goes) = before.split_at(*cut);
        let moved = [goes, last].concat();
        if moved.iter().map(|l| l.width).sum::<f64>() <= max + SLACK {
            lines.pop();
            lines.push(set(stays, runs, own));
            lines.push(set(&moved, runs, own));
            return;
        }
    }
    lines.push(set(last, runs, own));
}

/// Width of a text on one line in mm.
pub fn width(letters: &Letters, style: Style, text: &str) -> f64 {
    text.chars()
        .map(|c| (letters.width_em(style.face, c) + style.tracking) * style.em())
        .sum()
}

/// Cuts a text for places of one line, such as heads and feet, and marks the cut.
pub fn shorten(text: &str, most: usize) -> String {
    let flat = text.replace('\n', " ");
    if flat.chars().count() <= most {
        return flat;
    }
    let kept: String = flat.chars().take(most.saturating_sub(1)).collect();
    format!("{}…", kept.trim_end())
}

/// Spaces at which a line may end; the no-break ones (U+00A0, U+202F, U+2007) are letters here.
fn space(c: char) -> bool {
    c.is_whitespace() && !matches!(c, '\u{a0}' | '\u{202f}' | '\u{2007}')
}

fn may_end_before(line: &[Letter], c: char) -> bool {
    let mut back = line.iter().rev().map(|l| l.c);
    match back.next() {
        Some(p) if space(p) => true,
        Some('-' | '–' | '—' | '/') => {
            c.is_alphabetic() && back.next().is_some_and(char::is_alphabetic)
        }
        _ => false,
    }
}

/// Where to cut a word that is wider than the line: at its end, but never before a mark that belongs to a letter.
fn inside(line: &[Letter], next: char) -> usize {
    let mut cut = line.len();
    let mut after = next;
    while combining(after) && cut > 1 {
        cut -= 1;
        after = line.get(cut).map_or('x', |l| l.c);
    }
    if cut <= 1 && combining(after) {
        // a letter with more marks than the line is wide: cut among the marks
        line.len()
    } else {
        cut
    }
}

/// Makes a line of letters; `own` gives an empty line its height.
fn set(line: &[Letter], runs: &[Run], own: Style) -> Line {
    let end = line.iter().rposition(|l| !space(l.c)).map_or(0, |i| i + 1);
    let mut pieces: Vec<Piece> = Vec::new();
    let mut x = 0.0;
    let mut run = usize::MAX;
    for letter in line.iter().take(end) {
        let style = runs.get(letter.run).map_or(own, |r| r.style);
        match pieces.last_mut() {
            Some(piece) if run == letter.run => {
                piece.text.push(letter.c);
                piece.width += letter.width;
            }
            _ => pieces.push(Piece {
                x,
                width: letter.width,
                style,
                text: letter.c.to_string(),
            }),
        }
        run = letter.run;
        x += letter.width;
    }
    let styles = || pieces.iter().map(|p| p.style);
    let tallest = styles()
        .max_by(|a, b| a.leading.total_cmp(&b.leading))
        .unwrap_or(own);
    Line {
        width: x,
        height: tallest.leading,
        rise: tallest.rise(),
        pieces,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::style::BODY;

    fn broken(text: &str, max: f64) -> Vec<String> {
        let letters = Letters::read().unwrap();
        let runs = [Run {
            text: text.to_string(),
            style: BODY,
        }];
        let lines = break_lines(&letters, &runs, max);
        for line in &lines {
            assert!(line.width <= max + SLACK || line.pieces[0].text.chars().count() == 1);
        }
        lines
            .into_iter()
            .map(|l| l.pieces.into_iter().map(|p| p.text).collect())
            .collect()
    }

    #[test]
    fn breaks_at_spaces() {
        assert_eq!(
            broken("Two to lift a length", 17.5),
            ["Two to lift", "a length"]
        );
    }

    /// "Maud Kestrel, balloon" once stood over "décor", and a paragraph ended with "way." alone.
    #[test]
    fn no_short_word_ends_a_text_alone() {
        assert_eq!(
            broken("For Maud Kestrel, balloon décor", 48.0),
            ["For Maud Kestrel,", "balloon décor"]
        );
        // two words stay, and what is moved must fit
        assert_eq!(broken("Two to lift", 15.0), ["Two to", "lift"]);
        assert_eq!(
            broken("a b unbreakables c", 24.0),
            ["a b", "unbreakables", "c"]
        );
        assert_eq!(
            broken("one two three\nway.", 50.0),
            ["one two three", "way."]
        );
    }

    #[test]
    fn a_long_word_breaks_inside() {
        let lines = broken(&format!("a {}", "w".repeat(40)), 30.0);
        assert_eq!(lines[0], "a");
        assert_eq!(lines.concat().len(), 41);
    }

    /// Whatever narrow text stands before a long word: the word alone was once let run over the line by a letter.
    #[test]
    fn a_long_word_after_a_narrow_one_stays_inside() {
        let word = format!("{}{}", "i".repeat(30), "w".repeat(30));
        for tenths in 100..400 {
            let lines = broken(&format!(" i {word}"), f64::from(tenths) / 10.0);
            assert_eq!(lines.concat().trim_start().len(), word.len() + 1);
        }
    }

    #[test]
    fn figures_and_dates_stay_whole_and_words_break_after_hyphens() {
        assert_eq!(
            broken("2027-06-12 old-rose", 24.0),
            ["2027-06-12", "old-rose"]
        );
        assert_eq!(broken("hand-over", 10.0), ["hand-", "over"]);
        assert_eq!(
            broken("10\u{a0}kg 20\u{a0}kg", 12.0),
            ["10\u{a0}kg", "20\u{a0}kg"]
        );
    }

    #[test]
    fn line_breaks_are_kept_and_the_last_one_ends_the_text() {
        assert_eq!(broken("a\n\nb\n", 50.0), ["a", "", "b"]);
        assert!(broken("", 50.0).is_empty());
    }

    #[test]
    fn marks_stay_with_their_letter() {
        let word = "q\u{301}".repeat(30);
        for line in broken(&word, 15.0) {
            assert!(line.starts_with('q'), "{line}");
        }
        // a letter that carries a thousand marks still ends
        assert!(!broken(&format!("q{}", "\u{301}".repeat(1000)), 1.0).is_empty());
    }

    #[test]
    fn long_texts_for_short_places_are_cut_with_a_sign() {
        assert_eq!(shorten("Halloran and Reyes", 10), "Halloran…");
        assert_eq!(shorten("Halloran\nReyes", 20), "Halloran Reyes");
    }
}

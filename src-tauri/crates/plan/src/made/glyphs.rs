//! Strokes of numbers and letters, for drawing foils: our own, on a grid of half units.

/// Height of the grid.
pub const HIGH: f64 = 24.0;

/// A bend begins so far before its corner, on the grid, and is drawn in so many parts.
const BEND: f64 = 5.0;
const PARTS: u32 = 5;
/// A corner is sharp if the cosine of its turn is less.
const SHARP: f64 = 0.2;

/// A stroke: points from its beginning to its end, x to the right, y up.
pub type Stroke = &'static [[i8; 2]];

/// The heart, as it is written.
pub const HEART: char = '♥';

/// A round foil, as it is written. It has no strokes: it is a round.
pub const ROUND: char = '●';

/// The character that a foil is made of for a letter as it was typed; absent where there is none.
#[must_use]
pub fn character(typed: char) -> Option<char> {
    let one = match typed {
        '●' | '○' | '◯' | '⬤' | '⚫' | '⚪' => return Some(ROUND),
        '❤' | '♡' | '♥' => HEART,
        _ => {
            let mut upper = typed.to_uppercase();
            let first = upper.next()?;
            if upper.next().is_some() {
                return None;
            }
            first
        }
    };
    (!strokes(one).is_empty()).then_some(one)
}

/// A word for a character, for ids: `5`, `a`, `and`, `plus`, `heart`.
#[must_use]
pub fn word(text: &str) -> String {
    match text {
        "&" => "and".into(),
        "+" => "plus".into(),
        "♥" => "heart".into(),
        _ => text.trim().to_lowercase().replace(' ', "-"),
    }
}

/// Width of a character on the grid.
#[must_use]
pub fn width(letter: char) -> f64 {
    let xs = strokes(letter).iter().flat_map(|s| s.iter().map(|p| p[0]));
    f64::from(xs.max().unwrap_or(0))
}

/// Length of a stroke on the grid.
#[must_use]
pub fn length(stroke: Stroke) -> f64 {
    stroke
        .windows(2)
        .map(|two| {
            let [dx, dy] = [0, 1].map(|i| f64::from(two[1][i]) - f64::from(two[0][i]));
            (dx * dx + dy * dy).sqrt()
        })
        .sum()
}

/// A stroke as it is blown: gentle corners become bends, sharp ones stay. The ends of the stroke, and what it spans, stay as they are.
#[must_use]
pub fn rounded(stroke: Stroke) -> Vec<[f64; 2]> {
    let points: Vec<[f64; 2]> = stroke.iter().map(|p| p.map(f64::from)).collect();
    let last = points.len().saturating_sub(1);
    let closed = last > 1 && points[0] == points[last];
    let mut bent = Vec::new();
    for (n, here) in points.iter().enumerate() {
        let (before, after) = match n {
            0 if closed => (points[last - 1], points[1]),
            n if n == last && closed => continue,
            0 => {
                bent.push(*here);
                continue;
            }
            n if n == last => {
                bent.push(*here);
                continue;
            }
            n => (points[n - 1], points[n + 1]),
        };
        bend(before, *here, after, &mut bent);
    }
    if closed {
        bent.extend(bent.first().copied());
    }
    bent
}

/// A corner: the parabola that touches both its sides, or the corner itself where it is sharp.
fn bend(before: [f64; 2], here: [f64; 2], after: [f64; 2], bent: &mut Vec<[f64; 2]>) {
    let side = |to: [f64; 2]| {
        let way = [to[0] - here[0], to[1] - here[1]];
        let long = (way[0] * way[0] + way[1] * way[1]).sqrt().max(1e-9);
        ([way[0] / long, way[1] / long], (long / 2.0).min(BEND))
    };
    let ((a, from), (b, to)) = (side(before), side(after));
    if -(a[0] * b[0] + a[1] * b[1]) < SHARP {
        bent.push(here);
        return;
    }
    for part in 0..=PARTS {
        let t = f64::from(part) / f64::from(PARTS);
        let (p, q) = ((1.0 - t) * (1.0 - t) * from, t * t * to);
        bent.push([0, 1].map(|i| here[i] + a[i] * p + b[i] * q));
    }
}

/// The strokes of a character; none for one that there is no foil of.
#[must_use]
#[rustfmt::skip]
pub fn strokes(letter: char) -> &'static [Stroke] {
    match letter {
        'A' => &[&[[0, 0], [8, 24], [16, 0]], &[[3, 9], [13, 9]]],
        'B' => &[&[[11, 13], [15, 16], [15, 21], [11, 24], [0, 24], [0, 0], [12, 0], [16, 4], [16, 9], [11, 13], [0, 13]]],
        'C' => &[&[[16, 19], [12, 24], [4, 24], [0, 19], [0, 5], [4, 0], [12, 0], [16, 5]]],
        'D' => &[&[[0, 0], [0, 24], [10, 24], [16, 18], [16, 6], [10, 0], [0, 0]]],
        'E' => &[&[[16, 24], [0, 24], [0, 0], [16, 0]], &[[0, 12], [12, 12]]],
        'F' => &[&[[16, 24], [0, 24], [0, 0]], &[[0, 12], [12, 12]]],
        'G' => &[&[[16, 19], [12, 24], [4, 24], [0, 19], [0, 5], [4, 0], [12, 0], [16, 5], [16, 11], [9, 11]]],
        'H' => &[&[[0, 0], [0, 24]], &[[16, 0], [16, 24]], &[[0, 12], [16, 12]]],
        'I' => &[&[[0, 0], [0, 24]]],
        'J' => &[&[[12, 24], [12, 5], [8, 0], [4, 0], [0, 5]]],
        'K' => &[&[[0, 0], [0, 24]], &[[15, 24], [0, 10]], &[[5, 15], [16, 0]]],
        'L' => &[&[[0, 24], [0, 0], [14, 0]]],
        'M' => &[&[[0, 0], [0, 24], [9, 8], [18, 24], [18, 0]]],
        'N' => &[&[[0, 0], [0, 24], [16, 0], [16, 24]]],
        'O' => &[&[[4, 0], [0, 5], [0, 19], [4, 24], [12, 24], [16, 19], [16, 5], [12, 0], [4, 0]]],
        'P' => &[&[[0, 0], [0, 24], [12, 24], [16, 20], [16, 15], [12, 11], [0, 11]]],
        'Q' => &[&[[4, 0], [0, 5], [0, 19], [4, 24], [12, 24], [16, 19], [16, 5], [12, 0], [4, 0]], &[[10, 7], [16, 0]]],
        'R' => &[&[[0, 0], [0, 24], [12, 24], [16, 20], [16, 15], [12, 11], [0, 11]], &[[8, 11], [16, 0]]],
        'S' => &[&[[16, 20], [12, 24], [4, 24], [0, 20], [0, 16], [4, 13], [12, 11], [16, 8], [16, 4], [12, 0], [4, 0], [0, 4]]],
        'T' => &[&[[0, 24], [16, 24]], &[[8, 24], [8, 0]]],
        'U' => &[&[[0, 24], [0, 5], [4, 0], [12, 0], [16, 5], [16, 24]]],
        'V' => &[&[[0, 24], [8, 0], [16, 24]]],
        'W' => &[&[[0, 24], [5, 0], [10, 16], [15, 0], [20, 24]]],
        'X' => &[&[[0, 0], [16, 24]], &[[0, 24], [16, 0]]],
        'Y' => &[&[[0, 24], [8, 12], [16, 24]], &[[8, 12], [8, 0]]],
        'Z' => &[&[[0, 24], [16, 24], [0, 0], [16, 0]]],
        '0' => &[&[[4, 0], [0, 6], [0, 18], [4, 24], [10, 24], [14, 18], [14, 6], [10, 0], [4, 0]]],
        '1' => &[&[[0, 19], [6, 24], [6, 0]]],
        '2' => &[&[[0, 18], [3, 24], [11, 24], [15, 20], [15, 15], [0, 0], [16, 0]]],
        '3' => &[&[[0, 20], [4, 24], [11, 24], [15, 20], [15, 16], [11, 13], [16, 9], [16, 4], [12, 0], [4, 0], [0, 4]], &[[6, 13], [11, 13]]],
        '4' => &[&[[12, 0], [12, 24], [0, 8], [16, 8]]],
        '5' => &[&[[15, 24], [1, 24], [0, 13], [5, 15], [11, 15], [16, 10], [16, 5], [12, 0], [4, 0], [0, 4]]],
        '6' => &[&[[13, 24], [5, 20], [0, 11], [0, 5], [4, 0], [12, 0], [16, 5], [16, 9], [12, 14], [4, 14], [0, 9]]],
        '7' => &[&[[0, 24], [16, 24], [6, 0]]],
        '8' => &[&[[5, 13], [1, 17], [1, 20], [5, 24], [11, 24], [15, 20], [15, 17], [11, 13], [5, 13], [0, 9], [0, 4], [4, 0], [12, 0], [16, 4], [16, 9], [11, 13]]],
        '9' => &[&[[3, 0], [11, 4], [16, 13], [16, 19], [12, 24], [4, 24], [0, 19], [0, 15], [4, 10], [12, 10], [16, 15]]],
        '&' => &[&[[16, 0], [3, 17], [3, 21], [6, 24], [9, 24], [12, 21], [12, 18], [0, 7], [0, 4], [3, 0], [8, 0], [16, 9]]],
        '+' => &[&[[8, 4], [8, 20]], &[[0, 12], [16, 12]]],
        HEART => &[&[[10, 0], [1, 12], [0, 18], [4, 24], [8, 24], [10, 19], [12, 24], [16, 24], [20, 18], [19, 12], [10, 0]]],
        _ => &[],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all() -> Vec<char> {
        ('A'..='Z')
            .chain('0'..='9')
            .chain(['&', '+', HEART])
            .collect()
    }

    #[test]
    fn every_character_stands_on_the_grid() {
        assert_eq!(all().len(), 39);
        for letter in all() {
            let points: Vec<[i8; 2]> = strokes(letter).iter().flat_map(|s| s.to_vec()).collect();
            assert!(points.len() >= 2, "{letter}");
            assert!(
                points
                    .iter()
                    .all(|[x, y]| (0..=20).contains(x) && (0..=24).contains(y))
            );
            let low = |axis: usize| points.iter().map(|p| p[axis]).min().unwrap();
            let high = |axis: usize| points.iter().map(|p| p[axis]).max().unwrap();
            assert_eq!(low(0), 0, "{letter} begins at the left");
            // a plus hangs in the middle of its line
            let (foot, head) = if letter == '+' { (4, 20) } else { (0, 24) };
            assert_eq!((low(1), high(1)), (foot, head), "{letter}");
            for stroke in strokes(letter) {
                assert!(stroke.windows(2).all(|two| two[0] != two[1]), "{letter}");
            }
        }
    }

    #[test]
    fn no_two_characters_look_alike() {
        let letters = all();
        for (i, a) in letters.iter().enumerate() {
            for b in &letters[i + 1..] {
                assert_ne!(strokes(*a), strokes(*b), "{a} and {b}");
            }
        }
    }

    #[test]
    fn what_is_typed_is_found() {
        for (typed, found) in [
            ('a', Some('A')),
            ('Z', Some('Z')),
            ('7', Some('7')),
            ('❤', Some(HEART)),
            ('&', Some('&')),
            ('ß', None),
            ('é', None),
            ('🎈', None),
            ('!', None),
        ] {
            assert_eq!(character(typed), found, "{typed}");
        }
        assert_eq!(word("&"), "and");
        assert_eq!(word("K"), "k");
    }
}

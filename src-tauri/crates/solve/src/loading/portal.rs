//! The way of a rigid piece from the vehicle to the room: openings, corners, lifts and stairs. What is doubtful counts as no passage:
//! nobody leans in a lift, nothing is bent, and nothing is carried through a gap without room for a finger.

use std::f64::consts::FRAC_PI_2;

use super::types::Triple;

/// Angles at which a corner is tried.
const ANGLES: u32 = 1_000;

/// Something on the way, mm.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Portal {
    /// A door or a hatch: clear width and height.
    Opening([i32; 2]),
    /// Two corridors that meet at a right angle: their widths, and the lower of their heights.
    Corner {
        /// Widths.
        widths: [i32; 2],
        /// Height.
        height: i32,
    },
    /// A lift.
    Lift {
        /// Its door: clear width and height.
        door: [i32; 2],
        /// The car: width, depth, height.
        car: Triple,
    },
    /// A flight of stairs.
    Stair {
        /// Clear width.
        width: i32,
        /// Headroom, square to the flight.
        headroom: i32,
        /// Depth of the landing on which it turns; `None`: it does not turn.
        landing: Option<i32>,
    },
}

/// A rigid piece that is carried.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Carried {
    /// Sides; the third is upright.
    pub sides: Triple,
    /// It may be laid on any side and tilted. Else it stays upright.
    pub may_tilt: bool,
}

/// How something passes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Passage {
    /// Straight, maybe on another side.
    Straight,
    /// Tilted within the opening.
    Tilted,
    /// Turned round the corner.
    Turned,
}

/// Where the way ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stuck {
    /// Which portal, as an index.
    pub portal: usize,
    /// Which side of the piece is too long, as an index.
    pub side: usize,
    /// By how much, mm: so much shorter it would pass here.
    pub by: i32,
}

/// The first portal that a piece does not pass. Of the sides whose shortening would help, the one that takes least is named; the
/// longest, and all of it, if none alone would help.
#[must_use]
pub fn first_that_fails(way: &[Portal], piece: &Carried) -> Option<Stuck> {
    let portal = way.iter().position(|p| passage(p, piece).is_none())?;
    let cure = |side: usize| {
        let shorter = |by: i32| {
            let mut piece = *piece;
            piece.sides[side] -= by;
            passage(&way[portal], &piece).is_some()
        };
        let (mut no, mut yes) = (0, piece.sides[side] - 1);
        if yes < 1 || !shorter(yes) {
            return None;
        }
        while yes - no > 1 {
            let middle = no + (yes - no) / 2;
            if shorter(middle) {
                yes = middle;
            } else {
                no = middle;
            }
        }
        Some((yes, side))
    };
    let least = (0..3).filter_map(cure).min();
    let longest = (0..3).max_by_key(|s| piece.sides[*s]).unwrap_or(0);
    let (by, side) = least.unwrap_or((piece.sides[longest], longest));
    Some(Stuck { portal, side, by })
}

/// How a piece passes a portal; `None`: not.
#[must_use]
pub fn passage(portal: &Portal, piece: &Carried) -> Option<Passage> {
    match *portal {
        Portal::Opening(clear) => through(clear, piece),
        Portal::Corner { widths, height } => round(widths, height, piece),
        Portal::Lift { door, car } => into(door, car, piece),
        Portal::Stair {
            width,
            headroom,
            landing,
        } => {
            let along = through([width, headroom], piece)?;
            match landing {
                None => Some(along),
                Some(landing) => Some(along.max(round([width, landing], headroom, piece)?)),
            }
        }
    }
}

/// The ways in which a piece may stand: its two sides on the floor and its height.
fn stands(piece: &Carried) -> impl Iterator<Item = ([i32; 2], i32)> {
    let [a, b, c] = piece.sides;
    let all = [([a, b], c), ([a, c], b), ([b, c], a)];
    let many = if piece.may_tilt { 3 } else { 1 };
    all.into_iter().take(many)
}

fn through(clear: [i32; 2], piece: &Carried) -> Option<Passage> {
    for (floor, high) in stands(piece) {
        if high <= clear[1] && floor.iter().any(|side| *side <= clear[0]) {
            return Some(Passage::Straight);
        }
    }
    let [a, b, c] = piece.sides;
    let tilted = piece.may_tilt
        && [[a, b], [a, c], [b, c]]
            .into_iter()
            .any(|face| lies_in(face, clear));
    tilted.then_some(Passage::Tilted)
}

/// Whether a rectangle lies in another, turned if need be: W. B. Carver, Solution to problem E1225, American Mathematical Monthly 64
/// (1957), from memory; the tests try all angles.
#[must_use]
pub fn lies_in(face: [i32; 2], clear: [i32; 2]) -> bool {
    let sorted = |s: [i32; 2]| (i64::from(s[0].max(s[1])), i64::from(s[0].min(s[1])));
    let ((p, q), (a, b)) = (sorted(face), sorted(clear));
    if p <= a && q <= b {
        return true;
    }
    if p <= a || q > b || p == q {
        return false;
    }
    // ((a + b) / (p + q))² + ((a − b) / (p − q))² ≥ 2, in whole numbers: nothing is rounded
    let square = |n: i64| i128::from(n) * i128::from(n);
    let (sum, difference) = (square(p + q), square(p - q));
    square(a + b) * difference + square(a - b) * sum >= 2 * sum * difference
}

/// Round a right angle: pushed sideways where the corridors are wide enough, else turned about the inner corner.
fn round(widths: [i32; 2], height: i32, piece: &Carried) -> Option<Passage> {
    let mut best = None;
    for (floor, high) in stands(piece) {
        if high > height {
            continue;
        }
        let (long, wide) = (floor[0].max(floor[1]), floor[0].min(floor[1]));
        let (a, b) = (widths[0], widths[1]);
        if (wide <= a && long <= b) || (wide <= b && long <= a) {
            return Some(Passage::Straight);
        }
        if wide <= a.min(b) && turns([a, b], long, wide) {
            best = Some(Passage::Turned);
        }
    }
    best
}

/// Whether a rectangle turns round the corner: its long side slides along both outer walls, and at every angle t the inner corner is
/// at least its width away from it: a sin t + b cos t − long sin t cos t ≥ wide.
fn turns(widths: [i32; 2], long: i32, wide: i32) -> bool {
    let [a, b] = widths.map(f64::from);
    (1..ANGLES).all(|i| {
        let t = FRAC_PI_2 * f64::from(i) / f64::from(ANGLES);
        let (sin, cos) = (libm::sin(t), libm::cos(t));
        a * sin + b * cos - f64::from(long) * sin * cos >= f64::from(wide)
    })
}

/// Into a lift: through its door and straight on into the car, standing.
fn into(door: [i32; 2], car: Triple, piece: &Carried) -> Option<Passage> {
    for (floor, high) in stands(piece) {
        for (across, along) in [(floor[0], floor[1]), (floor[1], floor[0])] {
            let passes = across <= door[0] && high <= door[1];
            if passes && across <= car[0] && along <= car[1] && high <= car[2] {
                return Some(Passage::Straight);
            }
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn piece(sides: Triple, may_tilt: bool) -> Carried {
        Carried { sides, may_tilt }
    }

    /// All angles, one by one.
    fn by_trial(face: [i32; 2], clear: [i32; 2], slack: f64) -> bool {
        let [p, q] = face.map(f64::from);
        let [a, b] = clear.map(|c| f64::from(c) + slack);
        (0..=40_000).any(|i| {
            let t = FRAC_PI_2 * f64::from(i) / 40_000.0;
            let (c, s) = (libm::cos(t), libm::sin(t));
            p * c + q * s <= a && p * s + q * c <= b
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(400))]

        /// The rule says what a trial of all angles says; on the edge, where a trial is too coarse, either.
        #[test]
        fn the_tilt_rule_is_that_of_all_angles(
            face in [100..1_400i32, 20..400i32],
            clear in [100..1_000i32, 100..1_000i32],
        ) {
            let (surely, maybe) = (by_trial(face, clear, -0.05), by_trial(face, clear, 0.05));
            let says = lies_in(face, clear);
            prop_assert!(!surely || says, "{face:?} {clear:?}");
            prop_assert!(maybe || !says, "{face:?} {clear:?}");
        }

        /// What passes still passes when it is smaller or the portal larger.
        #[test]
        fn smaller_passes_where_larger_does(
            sides in [50..2_500i32, 50..1_500i32, 50..2_200i32],
            widths in [300..2_000i32, 300..2_000i32],
            less in [0..200i32, 0..200i32, 0..200i32],
            may_tilt in any::<bool>(),
        ) {
            let small = [0, 1, 2].map(|i| (sides[i] - less[i]).max(1));
            for portal in [
                Portal::Opening(widths),
                Portal::Corner { widths, height: 2_100 },
                Portal::Lift { door: widths, car: [1_100, 1_400, 2_100] },
                Portal::Stair { width: widths[0], headroom: 2_000, landing: Some(widths[1]) },
            ] {
                if passage(&portal, &piece(sides, may_tilt)).is_some() {
                    prop_assert!(passage(&portal, &piece(small, may_tilt)).is_some());
                }
                match first_that_fails(&[portal], &piece(sides, may_tilt)) {
                    None => prop_assert!(passage(&portal, &piece(sides, may_tilt)).is_some()),
                    Some(stuck) if stuck.by < sides[stuck.side] => {
                        let mut cured = sides;
                        cured[stuck.side] -= stuck.by;
                        prop_assert!(passage(&portal, &piece(cured, may_tilt)).is_some());
                        cured[stuck.side] += 1;
                        prop_assert!(passage(&portal, &piece(cured, may_tilt)).is_none());
                    }
                    Some(_) => {}
                }
            }
        }
    }

    /// The ladder in the corridor: the longest line that goes round a corner of widths a and b is (a^(2/3) + b^(2/3))^(3/2), a
    /// textbook exercise of the calculus.
    #[test]
    fn the_longest_line_round_a_corner() {
        for (a, b) in [(1_000, 1_000), (900, 1_600), (1_200, 2_000)] {
            let two_thirds = |v: i32| libm::pow(f64::from(v), 2.0 / 3.0);
            let longest = libm::pow(two_thirds(a) + two_thirds(b), 1.5);
            assert!(turns([a, b], longest.floor() as i32 - 1, 0));
            assert!(!turns([a, b], longest.ceil() as i32 + 1, 0));
        }
        // a square corner of width a: a rectangle of width w goes round if its length is at most 2 (√2 a − w)
        assert!(turns([1_000, 1_000], 2_028, 400));
        assert!(!turns([1_000, 1_000], 2_029, 400));
    }

    #[test]
    fn the_first_that_fails_and_by_how_much() {
        let lift = Portal::Lift {
            door: [900, 2_100],
            car: [1_100, 1_400, 2_200],
        };
        let way = [
            Portal::Opening([1_600, 1_700]),
            lift,
            Portal::Opening([800, 2_000]),
        ];
        let frame = piece([1_000, 80, 2_140], true);
        assert_eq!(
            first_that_fails(&way, &frame),
            Some(Stuck {
                portal: 1,
                side: 2,
                by: 40
            })
        );
        assert_eq!(
            first_that_fails(&way, &piece([1_000, 80, 2_100], true)),
            None
        );
        // upright it does not even leave the van
        assert_eq!(
            first_that_fails(&way, &piece([1_000, 80, 2_140], false)),
            Some(Stuck {
                portal: 0,
                side: 2,
                by: 440
            })
        );
        // nothing that is shortened alone helps
        let cube = piece([2_500, 2_500, 2_500], true);
        assert_eq!(
            first_that_fails(&[Portal::Opening([800, 2_000])], &cube),
            Some(Stuck {
                portal: 0,
                side: 2,
                by: 2_500
            })
        );
    }

    #[test]
    fn stairs_and_tilts() {
        let stair = |landing| Portal::Stair {
            width: 900,
            headroom: 1_900,
            landing,
        };
        let board = piece([2_400, 40, 900], true);
        assert_eq!(passage(&stair(None), &board), Some(Passage::Straight));
        assert_eq!(passage(&stair(Some(900)), &board), Some(Passage::Turned));
        assert_eq!(passage(&stair(Some(400)), &board), None);
        // too wide flat, too high on edge: only tilted
        let sheet = piece([1_100, 50, 1_800], true);
        let opening = Portal::Opening([900, 1_000]);
        assert_eq!(passage(&opening, &sheet), Some(Passage::Tilted));
        let crate_ = piece([1_200, 300, 1_250], true);
        assert_eq!(passage(&Portal::Opening([1_000, 1_000]), &crate_), None);
        let crate_ = piece([1_050, 250, 1_250], true);
        assert_eq!(
            passage(&Portal::Opening([1_000, 1_000]), &crate_),
            Some(Passage::Tilted)
        );
        assert_eq!(
            passage(
                &Portal::Opening([1_000, 1_000]),
                &piece([1_050, 250, 1_250], false)
            ),
            None
        );
    }
}

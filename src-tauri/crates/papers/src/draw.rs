//! Balloons and clusters as shapes: the crescent that holds a pattern, the pattern's lines, balloons round a knot.

use job::stock::Pattern;

use crate::colour::{INK, Rgb};
use crate::doc::Pen;
use crate::letters::Face;
use crate::marks::{At, Mark};
use crate::style::{MM_PER_PT, Style};
use crate::table::Drawing;

/// How far the second circle of the crescent stands off to the upper left, in radii: the middle stays plain.
const CRESCENT_SHIFT: f64 = 0.6;
/// From knot to balloon in mm: the neck that is drawn.
const NECK_LEAST: f64 = 0.6;
/// Radius of a drawn knot in mm.
const KNOT: f64 = 0.7;
/// Halvings when balloons are set round a knot.
const KNOT_STEPS: u32 = 40;
/// Control points of a quarter circle by a cubic curve, in radii: 4/3 (√2 − 1).
pub const QUARTER: f64 = 0.552_284_749_830_793_4;

/// A stroke of a pattern, from the middle of its balloon.
#[derive(Clone, Debug, PartialEq)]
pub enum Stroke {
    /// A line through points.
    Line(Vec<At>),
    /// A filled disc.
    Dot(At, f64),
    /// A circle about the middle.
    Ring(f64),
    /// A filled area.
    Area(Vec<At>),
}

/// Thickness of a balloon's outline in mm.
pub fn outline(radius: f64) -> f64 {
    (radius * 0.09).clamp(0.12, 0.4)
}

/// Distance of the strokes of a pattern, and their thickness, in mm.
pub fn pitch(radius: f64) -> (f64, f64) {
    let step = (radius * 0.30).clamp(0.55, 1.25);
    (step, step * 0.36)
}

/// The crescent as points of cubic curves (start, then two controls and an end each), from the middle of its balloon:
/// the disc without a second disc of the same radius shifted to the upper left.
pub fn crescent(radius: f64) -> Vec<At> {
    // the circles cross where the angle from the line of their middles has this cosine
    let half = libm::acos(CRESCENT_SHIFT / 2.0);
    let diagonal = -0.75 * core::f64::consts::PI;
    let turn = core::f64::consts::TAU;
    let shift = CRESCENT_SHIFT * radius * core::f64::consts::FRAC_1_SQRT_2;
    let mut points = arc(
        At::new(0.0, 0.0),
        radius,
        diagonal + half,
        diagonal + turn - half,
    );
    let inner = arc(
        At::new(-shift, -shift),
        radius,
        diagonal + turn / 2.0 + half,
        diagonal + turn / 2.0 - half,
    );
    points.extend(inner.into_iter().skip(1));
    points
}

/// A circular arc as cubic curves of an eighth of a turn at most.
fn arc(middle: At, radius: f64, from: f64, to: f64) -> Vec<At> {
    let parts = 6_u32;
    let step = (to - from) / f64::from(parts);
    let reach = 4.0 / 3.0 * libm::tan(step / 4.0) * radius;
    let on = |a: f64| {
        At::new(
            middle.x + radius * libm::cos(a),
            middle.y + radius * libm::sin(a),
        )
    };
    let mut points = vec![on(from)];
    for part in 0..parts {
        let (a, b) = (
            from + step * f64::from(part),
            from + step * f64::from(part + 1),
        );
        let (start, end) = (on(a), on(b));
        points.push(start.by(-libm::sin(a) * reach, libm::cos(a) * reach));
        points.push(end.by(libm::sin(b) * reach, -libm::cos(b) * reach));
        points.push(end);
    }
    points
}

/// The strokes of a pattern that reach the crescent of a balloon, which clips them.
pub fn strokes(pattern: Pattern, radius: f64) -> Vec<Stroke> {
    let mut all = square(pattern, radius);
    let shift = CRESCENT_SHIFT * radius * core::f64::consts::FRAC_1_SQRT_2;
    let reaches = |at: At, size: f64| {
        let from_middle = libm::sqrt(at.x * at.x + at.y * at.y);
        let (dx, dy) = (at.x + shift, at.y + shift);
        from_middle < radius + size && libm::sqrt(dx * dx + dy * dy) > radius - size
    };
    all.retain(|stroke| match stroke {
        Stroke::Dot(at, size) => reaches(*at, *size),
        Stroke::Area(corners) if corners.len() == 4 && pattern == Pattern::Checked => {
            let side = pitch(radius).0;
            corners.first().is_some_and(|c| reaches(*c, 2.0 * side))
        }
        _ => true,
    });
    all
}

/// The strokes of a pattern over a square of side 2 `radius` about the middle.
fn square(pattern: Pattern, radius: f64) -> Vec<Stroke> {
    let (step, thick) = pitch(radius);
    let r = radius;
    let places = |step: f64| {
        let mut at = Vec::new();
        let mut v = 0.0;
        while v <= 2.0 * r {
            at.push(v - r);
            v += step;
        }
        at
    };
    let line =
        |a: (f64, f64), b: (f64, f64)| Stroke::Line(vec![At::new(a.0, a.1), At::new(b.0, b.1)]);
    // rising lines cross the square along x + y = c, falling ones along x - y = c
    let slanted = |rising: bool| {
        places(step * core::f64::consts::SQRT_2 / 2.0)
            .into_iter()
            .map(|c| 2.0 * c)
            .map(|c| {
                if rising {
                    line((c - r, r), (c + r, -r))
                } else {
                    line((c - r, -r), (c + r, r))
                }
            })
            .collect::<Vec<_>>()
    };
    match pattern {
        Pattern::Plain | Pattern::Newer => Vec::new(),
        Pattern::Hatched => slanted(true),
        Pattern::Crossed => [slanted(true), slanted(false)].concat(),
        Pattern::Barred => places(step * 1.15)
            .into_iter()
            .map(|x| {
                let half = thick * 0.8;
                Stroke::Area(vec![
                    At::new(x - half, -r),
                    At::new(x + half, -r),
                    At::new(x + half, r),
                    At::new(x - half, r),
                ])
            })
            .collect(),
        Pattern::Dotted => {
            let mut out = Vec::new();
            let mut odd = false;
            for y in places(step * 0.8) {
                let shift = if odd { step / 2.0 } else { 0.0 };
                out.extend(
                    places(step)
                        .into_iter()
                        .map(|x| Stroke::Dot(At::new(x + shift, y), thick * 0.72)),
                );
                odd = !odd;
            }
            out
        }
        Pattern::Waved => places(step)
            .into_iter()
            .map(|y| {
                let mut up = false;
                Stroke::Line(
                    places(step * 0.6)
                        .into_iter()
                        .map(|x| {
                            up = !up;
                            At::new(x, if up { y - step * 0.22 } else { y + step * 0.22 })
                        })
                        .collect(),
                )
            })
            .collect(),
        Pattern::Ringed => places(step)
            .into_iter()
            .map(|v| v + r)
            .filter(|v| *v > 0.0 && *v < r)
            .map(Stroke::Ring)
            .collect(),
        Pattern::Checked => {
            let side = step * 0.8;
            let mut out = Vec::new();
            let mut odd_row = false;
            for y in places(side) {
                let mut odd = odd_row;
                for x in places(side) {
                    if odd {
                        let corner = At::new(x, y);
                        out.push(Stroke::Area(vec![
                            corner,
                            corner.by(side, 0.0),
                            corner.by(side, side),
                            corner.by(0.0, side),
                        ]));
                    }
                    odd = !odd;
                }
                odd_row = !odd_row;
            }
            out
        }
    }
}

/// A balloon of a cluster to be drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// As blown, in mm.
    pub diameter: f64,
    /// Colour.
    pub colour: Rgb,
    /// Its pattern.
    pub pattern: Pattern,
    /// In the middle: its size.
    pub label: String,
}

/// Middles of balloons of these radii round a knot at the origin, all on necks of the same length, side by side
/// without overlap. The first stands at the upper left and the rest follow clockwise.
///
/// A balloon of radius r on a neck of length c is seen from the knot under twice asin(r / (r + c)); c is the length
/// at which all of them fill the turn.
pub fn round_knot(radii: &[f64]) -> Vec<At> {
    let turn = core::f64::consts::TAU;
    let half = |r: f64, neck: f64| libm::asin((r / (r + neck)).min(1.0));
    let filled = |neck: f64| radii.iter().map(|r| 2.0 * half(*r, neck)).sum::<f64>();
    let mut neck = NECK_LEAST;
    if filled(neck) > turn {
        let (mut low, mut high) = (NECK_LEAST, NECK_LEAST + radii.iter().sum::<f64>());
        for _ in 0..KNOT_STEPS {
            let middle = (low + high) / 2.0;
            if filled(middle) > turn {
                low = middle;
            } else {
                high = middle;
            }
        }
        neck = high;
    }
    let spare =
        (turn - filled(neck)).max(0.0) / f64::from(u32::try_from(radii.len().max(1)).unwrap_or(1));
    let mut angle = -0.75 * core::f64::consts::PI - radii.first().map_or(0.0, |r| half(*r, neck));
    radii
        .iter()
        .map(|r| {
            let mine = half(*r, neck);
            angle += mine;
            let at = At::new((r + neck) * libm::cos(angle), (r + neck) * libm::sin(angle));
            angle += mine + spare;
            at
        })
        .collect()
}

/// A cluster seen from the front, scaled to a square of `side` mm. `scale` is mm on paper for each mm of balloon;
/// it is lowered where the cluster would not fit.
pub fn cluster(pen: &mut Pen, balls: &[Shown], side: f64, scale: f64) -> Drawing {
    let mut scale = scale;
    let (mut places, mut radii) = (Vec::new(), Vec::new());
    let mut reach = 0.0;
    // the neck does not shrink with the balloons, so that a few turns are needed
    for _ in 0..6 {
        radii = balls
            .iter()
            .map(|b| (b.diameter * scale / 2.0).max(0.3))
            .collect();
        places = round_knot(&radii);
        reach = places
            .iter()
            .zip(&radii)
            .map(|(p, r)| (p.x.abs() + r).max(p.y.abs() + r))
            .fold(0.1, f64::max);
        if reach <= side / 2.0 {
            break;
        }
        scale *= (side / 2.0 / reach).min(0.98);
    }
    let middle = At::new(side / 2.0, side / 2.0);
    let shrink = (side / 2.0 / reach).min(1.0);
    let mut marks = Vec::new();
    for place in &places {
        marks.push(Mark::Path {
            points: vec![middle, middle.by(place.x * shrink, place.y * shrink)],
            thickness: 0.3,
            ink: INK,
        });
    }
    for ((place, radius), ball) in places.iter().zip(&radii).zip(balls) {
        let at = middle.by(place.x * shrink, place.y * shrink);
        marks.extend(balloon(pen, at, radius * shrink, ball));
    }
    marks.push(Mark::Balloon {
        at: middle,
        radius: KNOT.min(side / 12.0),
        colour: INK,
        pattern: Pattern::Plain,
    });
    Drawing {
        width: side,
        height: side,
        marks,
        words: String::new(),
    }
}

/// A balloon with its figure in the middle, where there is room for one that reads.
pub fn balloon(pen: &mut Pen, at: At, radius: f64, ball: &Shown) -> Vec<Mark> {
    let mut marks = vec![Mark::Balloon {
        at,
        radius,
        colour: ball.colour,
        pattern: ball.pattern,
    }];
    let style = |size: f64| Style {
        face: Face::SemiBold,
        size,
        leading: size * MM_PER_PT,
        tracking: 0.0,
        ink: ball.colour.ink(),
    };
    let size = (radius * 0.85 / MM_PER_PT).min(10.5);
    // a range is longer than one figure, and smaller for it
    let width = pen.width(&ball.label, style(size));
    let size = size * (1.6 * radius / width.max(1e-9)).min(1.0);
    if size >= 5.5 && !ball.label.is_empty() {
        let style = style(size);
        let run = pen.run(&ball.label, style);
        let width = pen.width(&ball.label, style);
        // capitals and figures are 0.698 em high; a pattern does not run through them
        if ball.pattern != Pattern::Plain {
            let (side, high) = (0.12 * style.em(), 0.9 * style.em());
            marks.push(Mark::Frame {
                at: At::new(at.x - width / 2.0 - side, at.y - high / 2.0),
                width: width + 2.0 * side,
                height: high,
                thickness: 0.0,
                ink: ball.colour,
                fill: Some(ball.colour),
            });
        }
        marks.push(Mark::Text {
            at: At::new(at.x - width / 2.0, at.y + 0.349 * style.em()),
            width,
            style,
            text: run.text,
        });
    }
    marks
}

#[cfg(test)]
mod tests {
    use super::*;

    // Elementary geometry: n equal discs that touch in a ring have their middles at r / sin(π/n).
    #[test]
    fn equal_balloons_touch_in_a_ring() {
        for n in [4_u32, 6, 8] {
            let radii = vec![10.0; n as usize];
            let places = round_knot(&radii);
            let expected = 10.0 / libm::sin(core::f64::consts::PI / f64::from(n));
            for p in &places {
                let d = libm::sqrt(p.x * p.x + p.y * p.y);
                assert!((d - expected).abs() < 1e-6, "{n}: {d} against {expected}");
            }
        }
    }

    #[test]
    fn balloons_of_any_sizes_never_overlap() {
        for radii in [
            vec![12.0, 3.0],
            vec![20.0, 2.0, 20.0, 2.0],
            vec![5.0, 6.0, 7.0, 8.0, 9.0, 20.0],
            vec![3.0; 8],
            vec![1.0, 30.0, 1.0, 1.0, 1.0, 30.0, 1.0, 1.0],
        ] {
            let places = round_knot(&radii);
            for i in 0..radii.len() {
                for j in 0..i {
                    let (dx, dy) = (places[i].x - places[j].x, places[i].y - places[j].y);
                    let apart = libm::sqrt(dx * dx + dy * dy);
                    assert!(
                        apart + 1e-6 >= radii[i] + radii[j],
                        "{radii:?}: {i} and {j} overlap"
                    );
                }
            }
        }
    }

    #[test]
    fn the_crescent_lies_in_its_balloon_and_leaves_the_middle_free() {
        let points = crescent(10.0);
        assert_eq!(points.len() % 3, 1);
        for p in points.iter().step_by(3) {
            let from_middle = libm::sqrt(p.x * p.x + p.y * p.y);
            assert!(from_middle < 10.0 + 1e-9 && from_middle > 3.9, "{p:?}");
        }
    }

    #[test]
    fn every_pattern_but_plain_has_strokes_at_every_size() {
        for radius in [0.8, 3.0, 12.0] {
            assert!(strokes(Pattern::Plain, radius).is_empty());
            for pattern in [
                Pattern::Hatched,
                Pattern::Dotted,
                Pattern::Barred,
                Pattern::Crossed,
                Pattern::Waved,
                Pattern::Ringed,
                Pattern::Checked,
            ] {
                assert!(!strokes(pattern, radius).is_empty(), "{pattern:?} {radius}");
            }
        }
    }
}

//! What a packing measures: how long, how wide, how full, and how much of its line one sees.
//!
//! Width, fullness and the sight of the line come from one map: slices across the path, and in each slice how far out, side
//! by side, the outermost sphere reaches. Work and memory grow with the number of spheres and the length.

use super::foot::foot;
use super::near::Near;
pub use super::outline::Spread;
use super::outline::{Outline, Reaching};
use super::path::Path;
use super::types::{Ball, Packing};
use super::volume::union_volume;

/// Spheres this share of their distance apart still touch.
const TOUCH: f64 = 1e-3;
/// The mean pitch leaves out this share of the clusters at each end, one part in so many.
const END_PART: usize = 5;
/// Spheres are looked up in cells of at least this size, m.
const CELL: f64 = 0.02;

/// What a packing measures. All 0 for no spheres, and for places that are no numbers.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Measures {
    /// From tip to tip along the path, m.
    pub length: f64,
    /// From the first tie to the last, m.
    pub tie_span: f64,
    /// Mean distance of ties, m, without the fifth of the clusters at each end; 0 for a single cluster.
    pub pitch: f64,
    /// Pairs of spheres that touch.
    pub contacts: u32,
    /// How deep they press into each other on average, as a share of the sum of their radii.
    pub depth_mean: f64,
    /// The deepest.
    pub depth_max: f64,
    /// Widths of the silhouette from 12 sides, each as a straight edge laid along would show it that rests on what stands
    /// out within half a mean diameter. The half diameter at each tip is left out.
    pub width: Spread,
    /// Share of the line between the first and the last tie, by side and by 1 cm, that spheres hide.
    pub hidden: f64,
    /// Share of the surface that lies deeper than half the hull's distance from the line, ends left out as for widths.
    pub deep: f64,
    /// Room inside the hull, m³: each side as far out as the outermost sphere within 30 degrees and half a mean diameter.
    pub hull_volume: f64,
    /// Room inside the spheres, m³, shared room counted once.
    pub union_volume: f64,
    /// Spheres over hull.
    pub fill: f64,
}

/// Measures a packing along the path it was packed on.
#[must_use]
pub fn measure(packing: &Packing, path: &Path) -> Measures {
    let (Some(first), Some(last)) = (packing.ties.first(), packing.ties.last()) else {
        return Measures::default();
    };
    let sound = |b: &Ball| b.centre.is_finite() && b.radius.is_finite();
    if packing.balls.is_empty() || !packing.balls.iter().all(sound) {
        return Measures::default();
    }
    let spans: Vec<[f64; 2]> = packing
        .balls
        .iter()
        .map(|ball| span(path, tie_of(packing, ball), ball))
        .collect();
    let start = spans.iter().map(|s| s[0]).fold(f64::INFINITY, f64::min);
    let end = spans.iter().map(|s| s[1]).fold(f64::NEG_INFINITY, f64::max);
    // no number, or spheres of no size: there is nothing to slice
    if !((end - start).is_finite() && end > start) {
        return Measures::default();
    }
    let (touching, depth_sum, depth_max) = contacts(&packing.balls);
    let diameter = mean_diameter(&packing.balls);

    let spheres: Vec<Reaching> = packing
        .balls
        .iter()
        .zip(&spans)
        .map(|(ball, span)| Reaching {
            centre: ball.centre,
            radius: ball.radius,
            span: *span,
        })
        .collect();
    let outline = Outline::new(&spheres, path, [start, end], diameter / 2.0);
    let hull_volume = outline.hull_volume();
    let union_volume = union_volume(&packing.balls);

    Measures {
        length: packing.length(path),
        tie_span: packing.tie_span(),
        pitch: pitch(&packing.ties),
        contacts: touching,
        depth_mean: depth_sum / f64::from(touching.max(1)),
        depth_max,
        width: outline.widths(),
        hidden: outline.hidden(*first, *last),
        deep: outline.deep(),
        hull_volume,
        union_volume,
        fill: union_volume / hull_volume,
    }
}

/// Where the tie of a sphere is; 0 for a cluster that is not there.
fn tie_of(packing: &Packing, ball: &Ball) -> f64 {
    packing
        .ties
        .get(ball.cluster as usize)
        .copied()
        .unwrap_or(0.0)
}

/// From where to where along the path a sphere reaches.
fn span(path: &Path, tie: f64, ball: &Ball) -> [f64; 2] {
    let middle = foot(path, tie, ball.centre, 0.0);
    [ball.radius, -ball.radius].map(|ahead| foot(path, middle - ahead, ball.centre, ahead))
}

fn mean_diameter(balls: &[Ball]) -> f64 {
    let (mut sum, mut n) = (0.0, 0.0);
    for ball in balls {
        sum += 2.0 * ball.radius;
        n += 1.0;
    }
    sum / n
}

fn pitch(ties: &[f64]) -> f64 {
    let n = ties.len();
    let (from, to) = (n / END_PART, n - 1 - n / END_PART);
    let (from, to) = if to > from { (from, to) } else { (0, n - 1) };
    if to > from {
        (ties[to] - ties[from]) / (to - from) as f64
    } else {
        0.0
    }
}

/// Pairs that touch, the sum of their depths and the deepest.
fn contacts(balls: &[Ball]) -> (u32, f64, f64) {
    let near = Near::new(balls.iter().map(|b| (b.centre, b.radius)), CELL);
    let (mut n, mut sum, mut deepest) = (0, 0.0, 0.0f64);
    for (i, ball) in (0u32..).zip(balls) {
        let reach = ball.radius + TOUCH * 2.0 * ball.radius;
        near.each(ball.centre, reach, |j, centre, radius| {
            // each pair is met from its smaller sphere, whose reach is too short by TOUCH of the larger; equal ones from
            // the first
            let mine = radius < ball.radius || (radius <= ball.radius && j > i);
            if mine {
                let depth = 1.0 - (centre - ball.centre).length() / (ball.radius + radius);
                if depth > -TOUCH {
                    n += 1;
                    sum += depth.max(0.0);
                    deepest = deepest.max(depth);
                }
            }
        });
    }
    (n, sum, deepest)
}

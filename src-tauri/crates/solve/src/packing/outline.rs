//! The outline of spheres along a path: slices across it, and in each slice how far out, side by side, the outermost sphere
//! reaches. From it come widths, the room inside the hull, how deep the creases are and how much of the line is hidden.

use glam::DVec3;
use std::f64::consts::TAU;
use std::ops::Range;

use super::path::{Frame, Path};

/// Distance between slices, m.
const STEP: f64 = 0.01;
/// Slices at most: 500 m of line at the usual step; longer lines are cut more coarsely.
const MOST_SLICES: f64 = 50_000.0;
/// Sides in a slice, every 5 degrees.
const SIDES: usize = 72;
/// Sides that turn to one side by less than a right angle, with one more to make fours.
const FACING: usize = SIDES / 2;
/// A silhouette is looked at from every third side: 12 of them, as the opposite ones show the same.
const VIEW_STEP: usize = 3;
/// The hull of a side spans the sides up to 30 degrees from it.
const HULL_SIDES: usize = 6;
/// The line counts as hidden on a side where a sphere reaches this far out, m: the thickness of line and knots.
const LINE: f64 = 0.01;

/// Widths over all slices and sides, m.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Spread {
    /// The mean.
    pub mean: f64,
    /// One in twenty is below.
    pub p5: f64,
    /// One in twenty is above.
    pub p95: f64,
    /// The widest.
    pub max: f64,
}

/// A sphere, and from where to where along the path it reaches.
pub(super) struct Reaching {
    pub(super) centre: DVec3,
    pub(super) radius: f64,
    pub(super) span: [f64; 2],
}

/// Side by side, m.
type Row = [f64; SIDES];

/// Slices across the path.
pub(super) struct Outline {
    start: f64,
    step: f64,
    frames: Vec<Frame>,
    /// How far out the outermost sphere reaches.
    rows: Vec<Row>,
    /// The same of all slices up to half a diameter before and after.
    along: Vec<Row>,
    /// The slices that have such neighbours on both sides.
    inner: Range<usize>,
}

impl Outline {
    /// Slices from the first to the last tip; `beside` is how far along a slice is covered by what stands out beside it.
    pub(super) fn new(
        spheres: &[Reaching],
        path: &Path,
        [start, end]: [f64; 2],
        beside: f64,
    ) -> Self {
        let slices = ((end - start) / STEP).ceil().clamp(1.0, MOST_SLICES);
        let step = (end - start) / slices;
        let frames: Vec<Frame> = (0..slices as u32)
            .map(|q| path.frame(start + (f64::from(q) + 0.5) * step))
            .collect();
        let rows = rows(spheres, &frames, start, step);
        let half = (beside / step).round().clamp(0.0, slices) as usize;
        let along = dilate(&rows, half);
        let mut outline = Self {
            start,
            step,
            frames,
            rows,
            along,
            inner: 0..0,
        };
        outline.inner = outline.between(start + beside, end - beside);
        outline
    }

    /// Slices whose middle lies between two places, at least the one at the first place.
    fn between(&self, from: f64, to: f64) -> Range<usize> {
        let n = self.rows.len();
        let index = |at: f64| ((at - self.start) / self.step + 0.5).floor().max(0.0) as usize;
        let from = index(from).min(n - 1);
        from..index(to).clamp(from + 1, n)
    }

    /// Room inside the hull, m³.
    pub(super) fn hull_volume(&self) -> f64 {
        let turns = turns();
        let last = self.frames.len() - 1;
        let mut sum = 0.0;
        for (q, row) in self.along.iter().enumerate() {
            // in a bend, room on the inside is shorter than the line: (1 − κ ρ cos) ρ dρ
            let (before, after) = (q.saturating_sub(1), (q + 1).min(last));
            let length = self.step * (after - before).max(1) as f64;
            let bend = (self.frames[after].tangent - self.frames[before].tangent) / length;
            let frame = &self.frames[q];
            let (y, z) = (bend.dot(frame.normal), bend.dot(frame.binormal));
            for ((h, c), s) in hull(row).iter().zip(&turns.cosines).zip(&turns.sines) {
                sum += h * h * (0.5 - h * (y * c + z * s) / 3.0);
            }
        }
        sum * self.step * TAU / SIDES as f64
    }

    /// Share of the surface that lies deeper than half the hull.
    pub(super) fn deep(&self) -> f64 {
        let mut deep = 0u64;
        for q in self.inner.clone() {
            let hull = hull(&self.along[q]);
            let sides = self.rows[q].iter().zip(&hull);
            deep += sides.map(|(r, h)| u64::from(*r < 0.5 * h)).sum::<u64>();
        }
        deep as f64 / (self.inner.len() * SIDES) as f64
    }

    /// Share of the sides of the line between two places on which a sphere lies before it.
    pub(super) fn hidden(&self, from: f64, to: f64) -> f64 {
        let rows = &self.rows[self.between(from, to)];
        let hidden = rows.iter().flatten().map(|r| u64::from(*r > LINE));
        hidden.sum::<u64>() as f64 / (rows.len() * SIDES) as f64
    }

    /// Widths of the silhouette from 12 sides.
    pub(super) fn widths(&self) -> Spread {
        let cosines = facing();
        let rows = &self.along[self.inner.clone()];
        let mut widths = Vec::with_capacity(rows.len() * FACING / VIEW_STEP);
        for row in rows {
            let mut twice = [0.0; 2 * SIDES];
            twice[..SIDES].copy_from_slice(row);
            twice[SIDES..].copy_from_slice(row);
            for view in (0..FACING).step_by(VIEW_STEP) {
                // towards the view lie the sides from a right angle before it on; against it those after them
                let from = view + SIDES - FACING / 2;
                let back = view + FACING / 2;
                widths
                    .push(furthest(&twice[from..], &cosines) + furthest(&twice[back..], &cosines));
            }
        }
        let n = widths.len();
        let mean = widths.iter().sum::<f64>() / n as f64;
        let mut at = |i: usize| *widths.select_nth_unstable_by(i, f64::total_cmp).1;
        Spread {
            mean,
            p5: at(n / 20),
            p95: at(n * 19 / 20),
            max: at(n - 1),
        }
    }
}

/// How far out the outermost sphere reaches on each side of each slice.
fn rows(spheres: &[Reaching], frames: &[Frame], start: f64, step: f64) -> Vec<Row> {
    let turns = turns();
    let mut rows = vec![[0.0; SIDES]; frames.len()];
    let index = |at: f64| ((at - start) / step + 0.5).floor().max(0.0) as usize;
    for sphere in spheres {
        let from = index(sphere.span[0]).min(frames.len());
        let to = index(sphere.span[1]).clamp(from, frames.len());
        for (row, f) in rows[from..to].iter_mut().zip(&frames[from..to]) {
            let v = sphere.centre - f.point;
            let x = v.dot(f.tangent);
            let around = sphere.radius * sphere.radius - x * x;
            if around <= 0.0 {
                continue;
            }
            let (y, z) = (v.dot(f.normal), v.dot(f.binormal));
            for ((out, c), s) in row.iter_mut().zip(&turns.cosines).zip(&turns.sines) {
                let past = y * s - z * c;
                let half = around - past * past;
                // no branch, so that several sides are done at a time
                let reach = y * c + z * s + half.max(0.0).sqrt();
                let reach = if half > 0.0 { reach } else { 0.0 };
                *out = larger(*out, reach);
            }
        }
    }
    rows
}

/// Cosine and sine of each side, from the normal towards the binormal.
struct Turns {
    cosines: Row,
    sines: Row,
}

fn turns() -> Turns {
    let mut turns = Turns {
        cosines: [0.0; SIDES],
        sines: [0.0; SIDES],
    };
    for i in 0..SIDES {
        let angle = TAU * (i as f64 + 0.5) / SIDES as f64;
        turns.cosines[i] = libm::cos(angle);
        turns.sines[i] = libm::sin(angle);
    }
    turns
}

/// Cosines of the sides from a right angle before a view to the last before a right angle after it.
fn facing() -> [f64; FACING] {
    let mut cosines = [0.0; FACING];
    for (i, cosine) in cosines.iter_mut().enumerate() {
        *cosine = libm::sin(TAU * i as f64 / SIDES as f64);
    }
    cosines
}

/// How far a slice reaches in a direction, of which the cosines are given. Four sides at a time.
fn furthest(sides: &[f64], cosines: &[f64; FACING]) -> f64 {
    let mut best = [0.0; 4];
    for (sides, cosines) in sides.chunks_exact(4).zip(cosines.chunks_exact(4)) {
        for ((best, side), cosine) in best.iter_mut().zip(sides).zip(cosines) {
            *best = larger(*best, side * cosine);
        }
    }
    best.into_iter().fold(0.0, f64::max)
}

/// Side by side the largest of the rows up to `half` before and after.
fn dilate(rows: &[Row], half: usize) -> Vec<Row> {
    let raise = |row: &mut Row, by: &Row| {
        for (a, b) in row.iter_mut().zip(by) {
            *a = larger(*a, *b);
        }
    };
    let n = rows.len();
    let (mut ahead, mut back) = (rows.to_vec(), rows.to_vec());
    // a row that stands for a window of rows, raised by one a step off, stands for a window larger by the step
    let mut window = 1;
    while window < half + 1 {
        let step = window.min(half + 1 - window);
        for i in step..n {
            let (low, high) = ahead.split_at_mut(i);
            raise(&mut low[i - step], &high[0]);
        }
        for i in (step..n).rev() {
            let (low, high) = back.split_at_mut(i);
            raise(&mut high[0], &low[i - step]);
        }
        window += step;
    }
    for (row, other) in ahead.iter_mut().zip(&back) {
        raise(row, other);
    }
    ahead
}

/// The largest of the sides up to `HULL_SIDES` to the left and right, found as in `dilate`.
fn hull(row: &Row) -> Row {
    const WIDE: usize = SIDES + 2 * HULL_SIDES;
    let mut wide = [0.0; WIDE];
    wide[..HULL_SIDES].copy_from_slice(&row[SIDES - HULL_SIDES..]);
    wide[HULL_SIDES..HULL_SIDES + SIDES].copy_from_slice(row);
    wide[HULL_SIDES + SIDES..].copy_from_slice(&row[..HULL_SIDES]);
    let mut window = 1;
    while window < 2 * HULL_SIDES + 1 {
        let step = window.min(2 * HULL_SIDES + 1 - window);
        for i in 0..WIDE - step {
            wide[i] = larger(wide[i], wide[i + step]);
        }
        window += step;
    }
    let mut out = [0.0; SIDES];
    out.copy_from_slice(&wide[..SIDES]);
    out
}

/// The larger of two; `f64::max` also minds what is no number, which takes longer.
fn larger(a: f64, b: f64) -> f64 {
    if b > a { b } else { a }
}

//! Necks and softness of a decorator's own garlands, from the length and width of a finished one.
//!
//! Width grows with the necks and hardly reacts to softness; length shrinks with both. So two measured numbers fix the two.
//! Even means over a few seeds scatter by one per cent. The search therefore lays planes through all trials so far, the near
//! ones before the far ones, with slopes that few trials cannot turn far from the usual ones (ridge regression: Hoerl and
//! Kennard, 1970, from memory), and goes where the planes meet what was measured, within the range of what balloons can be.

use glam::DVec3;

use super::measure::measure;
use super::path::Path;
use super::solver::pack;
use super::types::{Cluster, Effort, Obstacle, Settings};

/// Necks, in radii, that are looked through.
pub const NECKS: [f64; 2] = [0.15, 0.9];
/// Softness that is looked through.
pub const SOFTNESSES: [f64; 2] = [0.0, 0.15];
/// Packings per trial. Their mean scatters by up to one per cent, a single packing by one to three.
const SEEDS: u64 = 5;
/// Trials at most, the last of them where the search ends.
const TRIALS: usize = 10;
/// Trials before the search may end: planes take three.
const FEWEST: usize = 4;
/// The search ends where this near to it, as a share of the range, a trial has been made.
const NEAR: f64 = 0.015;
/// Logarithms of length and width further off than this do not fit: no more than the scatter of a single packing.
const FITS: f64 = 0.02;
/// Longest step of the search, as a share of the range.
const STEP: f64 = 0.4;
/// A trial this far away, as a share of the range, counts half: the planes are bent.
const BENT: f64 = 0.2;
/// Scatter of the logarithms of the means.
const SCATTER: f64 = 0.01;
/// How far slopes may be from the usual ones: a standard deviation, logarithm over range.
const STEEPNESS: f64 = 0.2;
/// The usual slopes, logarithm over range: of length and of width, by necks and by softness. Measured on packings of 4 to
/// 16 in rounds in clusters of 4 to 8.
const SLOPES: [[f64; 2]; 2] = [[-0.79, -0.40], [0.47, 0.09]];
/// The slopes are never taken to be outside these.
const SLOPE_BOUNDS: [[[f64; 2]; 2]; 2] =
    [[[-1.6, -0.25], [-0.8, -0.15]], [[0.12, 1.0], [-0.15, 0.25]]];

/// What was measured on a finished garland.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// From tip to tip along the line, m.
    pub length: f64,
    /// Mean width, m, as [`super::measure::Spread::mean`] takes it: a straight edge laid along, from several sides.
    pub width: f64,
}

/// Necks and softness under which the packing measures the same.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fit {
    /// See [`Settings::neck`].
    pub neck: f64,
    /// See [`Settings::softness`].
    pub softness: f64,
    /// Mean length over the seeds with these, m.
    pub length: f64,
    /// Mean width over the seeds with these, m.
    pub width: f64,
}

/// In which way a garland is outside of what any necks and softness give.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outside {
    /// Longer than the nearest.
    TooLong,
    /// Shorter.
    TooShort,
    /// Wider.
    TooWide,
    /// Narrower.
    TooNarrow,
}

/// Why there is no fit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Misfit {
    /// No spheres to pack.
    NoSpheres,
    /// Length and width have to be numbers above 0.
    NoMeasure,
    /// No necks and no softness in range make these clusters measure so.
    OutOfRange {
        /// What is furthest off.
        outside: Outside,
        /// The nearest there is.
        nearest: Fit,
    },
}

/// Place in the range of necks and softness, each 0 to 1.
type Place = [f64; 2];

/// A place that was tried: how far the logarithms of length and width are from those measured.
#[derive(Clone, Copy)]
struct Trial {
    at: Place,
    off: [f64; 2],
    fit: Fit,
}

/// How far the two logarithms are off about a place.
struct Planes {
    at: Place,
    off: [f64; 2],
    slopes: [[f64; 2]; 2],
}

/// Finds necks and softness from one finished garland along a path among obstacles. `settings` give the first seed. Takes at most 50 previews.
pub fn calibrate(
    clusters: &[Cluster],
    path: &Path,
    obstacles: &[Obstacle],
    measured: Measured,
    settings: &Settings,
) -> Result<Fit, Misfit> {
    if clusters.iter().all(|c| c.diameters.is_empty()) {
        return Err(Misfit::NoSpheres);
    }
    let sound = |x: f64| x.is_finite() && x > 0.0;
    if !sound(measured.length) || !sound(measured.width) {
        return Err(Misfit::NoMeasure);
    }
    let look = |at: Place| trial(clusters, (path, obstacles), measured, settings.seed, at);
    let first = look(place(Settings::default()));
    let (mut trials, mut last) = (vec![first], first);
    loop {
        let planes = Planes::through(&trials, last.at);
        let to = planes.meet();
        let known = trials.iter().find(|t| apart(t.at, to) < NEAR).copied();
        let ends = trials.len() + 1 >= TRIALS || (known.is_some() && trials.len() >= FEWEST);
        // a trial is not made twice, unless it is the last
        let step = match known {
            Some(known) if !ends => aside(known.at, trials.len()),
            _ => to,
        };
        last = look(step);
        trials.push(last);
        if ends {
            let off = planes.off_at(to);
            return if off[0].abs().max(off[1].abs()) <= FITS {
                Ok(last.fit)
            } else {
                Err(Misfit::OutOfRange {
                    outside: outside(off),
                    nearest: last.fit,
                })
            };
        }
    }
}

/// Packs and measures with the necks and softness of a place.
fn trial(
    clusters: &[Cluster],
    (path, obstacles): (&Path, &[Obstacle]),
    measured: Measured,
    seed: u64,
    at: Place,
) -> Trial {
    let [neck, softness] = values(at);
    let (mut length, mut width) = (0.0, 0.0);
    for i in 0..SEEDS {
        let settings = Settings {
            softness,
            neck,
            seed: seed.wrapping_add(i),
            effort: Effort::Preview,
        };
        let measures = measure(&pack(clusters, path, obstacles, &settings), path);
        length += measures.length / SEEDS as f64;
        width += measures.width.mean / SEEDS as f64;
    }
    Trial {
        at,
        off: [
            libm::log(length / measured.length),
            libm::log(width / measured.width),
        ],
        fit: Fit {
            neck,
            softness,
            length,
            width,
        },
    }
}

fn values(at: Place) -> [f64; 2] {
    [(at[0], NECKS), (at[1], SOFTNESSES)].map(|(share, [low, high])| low + share * (high - low))
}

fn place(settings: Settings) -> Place {
    [(settings.neck, NECKS), (settings.softness, SOFTNESSES)]
        .map(|(value, [low, high])| ((value - low) / (high - low)).clamp(0.0, 1.0))
}

fn apart(a: Place, b: Place) -> f64 {
    ((a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1])).sqrt()
}

/// A place beside one that is known, towards the middle of the range, to learn the slopes there: by turns in necks and in
/// softness.
fn aside(mut at: Place, turn: usize) -> Place {
    let i = turn % 2;
    at[i] += if at[i] < 0.5 { BENT / 2.0 } else { -BENT / 2.0 };
    at
}

fn outside([length, width]: [f64; 2]) -> Outside {
    match (length.abs() >= width.abs(), length > 0.0, width > 0.0) {
        (true, true, _) => Outside::TooShort,
        (true, false, _) => Outside::TooLong,
        (false, _, true) => Outside::TooNarrow,
        (false, _, false) => Outside::TooWide,
    }
}

impl Planes {
    /// The planes that fit the trials best, seen from a place.
    fn through(trials: &[Trial], at: Place) -> Self {
        let mut planes = Self {
            at,
            off: [0.0; 2],
            slopes: SLOPES,
        };
        for q in 0..2 {
            // what is left beside the usual slopes: height and two slopes, of which the slopes cost something
            let stiff = (SCATTER / STEEPNESS) * (SCATTER / STEEPNESS);
            let mut matrix = [[0.0, 0.0, 0.0], [0.0, stiff, 0.0], [0.0, 0.0, stiff]];
            let mut right = [0.0; 3];
            for trial in trials {
                let row = [1.0, trial.at[0] - at[0], trial.at[1] - at[1]];
                let far = apart(trial.at, at) / BENT;
                let weight = 1.0 / (1.0 + far * far);
                let left = trial.off[q] - SLOPES[q][0] * row[1] - SLOPES[q][1] * row[2];
                for i in 0..3 {
                    for j in 0..3 {
                        matrix[i][j] += weight * row[i] * row[j];
                    }
                    right[i] += weight * row[i] * left;
                }
            }
            let [height, neck, softness] = solved(matrix, right);
            planes.off[q] = height;
            for (p, turn) in [neck, softness].into_iter().enumerate() {
                let [low, high] = SLOPE_BOUNDS[q][p];
                planes.slopes[q][p] = (SLOPES[q][p] + turn).clamp(low, high);
            }
        }
        planes
    }

    fn off_at(&self, to: Place) -> [f64; 2] {
        let step = [to[0] - self.at[0], to[1] - self.at[1]];
        [0, 1].map(|q| self.off[q] + self.slopes[q][0] * step[0] + self.slopes[q][1] * step[1])
    }

    /// The place within a step and the range at which the planes promise the least sum of squares: where both are met, or
    /// else on one of the four edges.
    fn meet(&self) -> Place {
        let (at, off, slopes) = (self.at, self.off, &self.slopes);
        let bounds = at.map(|x| [(x - STEP).max(0.0), (x + STEP).min(1.0)]);
        let determinant = slopes[0][0] * slopes[1][1] - slopes[0][1] * slopes[1][0];
        let met = [
            at[0] - (slopes[1][1] * off[0] - slopes[0][1] * off[1]) / determinant,
            at[1] - (slopes[0][0] * off[1] - slopes[1][0] * off[0]) / determinant,
        ];
        let within = |(x, [low, high]): (&f64, &[f64; 2])| (*low..=*high).contains(x);
        if met.iter().zip(&bounds).all(within) {
            return met;
        }
        let promised = |at: Place| -> f64 { self.off_at(at).map(|off| off * off).iter().sum() };
        let mut best = (promised(at), at);
        for fixed in 0..2 {
            let free = 1 - fixed;
            for edge in bounds[fixed] {
                let step = edge - at[fixed];
                let (mut along, mut square) = (0.0, 0.0);
                for (slope, off) in slopes.iter().zip(&off) {
                    along += slope[free] * (off + slope[fixed] * step);
                    square += slope[free] * slope[free];
                }
                let mut to = at;
                to[fixed] = edge;
                to[free] = (at[free] - along / square).clamp(bounds[free][0], bounds[free][1]);
                let left = promised(to);
                if left < best.0 {
                    best = (left, to);
                }
            }
        }
        best.1
    }
}

/// Three equations by Cramer's rule. The matrix is a sum of squares with a stiff diagonal, so its determinant is not 0.
fn solved(m: [[f64; 3]; 3], right: [f64; 3]) -> [f64; 3] {
    let [a, b, c] = [0, 1, 2].map(|k| DVec3::new(m[0][k], m[1][k], m[2][k]));
    let right = DVec3::from_array(right);
    let all = a.dot(b.cross(c));
    [
        right.dot(b.cross(c)) / all,
        a.dot(right.cross(c)) / all,
        a.dot(b.cross(right)) / all,
    ]
}

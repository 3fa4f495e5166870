//! Necks and softness of a decorator's own garlands, from the length and width of a finished one.
//!
//! Width grows with the necks and hardly reacts to softness; length shrinks with both. So two measured numbers fix the two.
//! The means over a few seeds are smooth enough for a quasi-Newton search on logarithms (Broyden, "A class of methods for
//! solving nonlinear simultaneous equations", 1965, from memory), held to the range of what balloons can be.

use super::measure::measure;
use super::path::Path;
use super::solver::pack;
use super::types::{Cluster, Effort, Settings};

/// Necks, in radii, that are looked through.
pub const NECKS: [f64; 2] = [0.15, 0.9];
/// Softness that is looked through.
pub const SOFTNESSES: [f64; 2] = [0.0, 0.15];
/// Packings per trial. Their mean scatters by about half a per cent, a single packing by one to three.
const SEEDS: u64 = 5;
/// Trials at most.
const TRIALS: u32 = 10;
/// Logarithms of length and width that are near enough: what is left is within the scatter of the means.
const NEAR: f64 = 0.004;
/// Logarithms of length and width further off than this do not fit: no more than the scatter of a single packing.
const FITS: f64 = 0.02;
/// Longest step of the search, as a share of the range.
const STEP: f64 = 0.4;
/// Steps shorter than this tell the slopes no better than chance, as a share of the range.
const TELLING: f64 = 0.08;
/// First guess at the slopes, logarithm over range: of length and of width, by necks and by softness. Measured on packings of
/// 4 to 16 in rounds in clusters of 4 to 8.
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

/// Finds necks and softness from one finished garland. `settings` give the first seed. Takes at most 50 previews.
pub fn calibrate(
    clusters: &[Cluster],
    path: &Path,
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
    let look = |at: Place| trial(clusters, path, measured, settings.seed, at);
    let mut slopes = SLOPES;
    let mut here = look(place(Settings::default()));
    let mut best = here;
    for _ in 1..TRIALS {
        if miss(best.off) <= NEAR {
            break;
        }
        let to = next(&best, &slopes);
        // nothing better in range, or the last trial once more
        if to == best.at || to == here.at {
            break;
        }
        here = look(to);
        learn(&mut slopes, &best, &here);
        if far(here.off) < far(best.off) {
            best = here;
        }
    }
    if miss(best.off) <= FITS {
        return Ok(best.fit);
    }
    Err(Misfit::OutOfRange {
        outside: outside(best.off),
        nearest: best.fit,
    })
}

/// Packs and measures with the necks and softness of a place.
fn trial(clusters: &[Cluster], path: &Path, measured: Measured, seed: u64, at: Place) -> Trial {
    let [neck, softness] = values(at);
    let (mut length, mut width) = (0.0, 0.0);
    for i in 0..SEEDS {
        let settings = Settings {
            softness,
            neck,
            seed: seed.wrapping_add(i),
            effort: Effort::Preview,
        };
        let measures = measure(&pack(clusters, path, &[], &settings), path);
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

/// The larger of the two misses: what has to be small.
fn miss(off: [f64; 2]) -> f64 {
    off[0].abs().max(off[1].abs())
}

/// The distance that the search makes less.
fn far(off: [f64; 2]) -> f64 {
    off[0] * off[0] + off[1] * off[1]
}

fn outside([length, width]: [f64; 2]) -> Outside {
    match (length.abs() >= width.abs(), length > 0.0, width > 0.0) {
        (true, true, _) => Outside::TooShort,
        (true, false, _) => Outside::TooLong,
        (false, _, true) => Outside::TooNarrow,
        (false, _, false) => Outside::TooWide,
    }
}

/// The place within a step and the range at which the slopes promise the least sum of squares: where both are met, or else on
/// one of the four edges.
fn next(from: &Trial, slopes: &[[f64; 2]; 2]) -> Place {
    let bounds = from.at.map(|x| [(x - STEP).max(0.0), (x + STEP).min(1.0)]);
    let determinant = slopes[0][0] * slopes[1][1] - slopes[0][1] * slopes[1][0];
    let met = [
        from.at[0] - (slopes[1][1] * from.off[0] - slopes[0][1] * from.off[1]) / determinant,
        from.at[1] - (slopes[0][0] * from.off[1] - slopes[1][0] * from.off[0]) / determinant,
    ];
    let within = |at: &Place| {
        at.iter()
            .zip(&bounds)
            .all(|(x, [low, high])| (*low..=*high).contains(x))
    };
    if within(&met) {
        return met;
    }
    let promised = |at: &Place| -> f64 {
        let step = [at[0] - from.at[0], at[1] - from.at[1]];
        slopes
            .iter()
            .zip(&from.off)
            .map(|(slope, off)| off + slope[0] * step[0] + slope[1] * step[1])
            .map(|left| left * left)
            .sum()
    };
    let mut best = (promised(&from.at), from.at);
    for fixed in 0..2 {
        let free = 1 - fixed;
        for edge in bounds[fixed] {
            let step = edge - from.at[fixed];
            let (mut along, mut square) = (0.0, 0.0);
            for (slope, off) in slopes.iter().zip(&from.off) {
                along += slope[free] * (off + slope[fixed] * step);
                square += slope[free] * slope[free];
            }
            let mut at = from.at;
            at[fixed] = edge;
            at[free] = (from.at[free] - along / square).clamp(bounds[free][0], bounds[free][1]);
            let left = promised(&at);
            if left < best.0 {
                best = (left, at);
            }
        }
    }
    best.1
}

/// Turns the slopes as little as explains what a step did (Broyden), if it was long enough to tell.
fn learn(slopes: &mut [[f64; 2]; 2], from: &Trial, to: &Trial) {
    let step = [to.at[0] - from.at[0], to.at[1] - from.at[1]];
    let square = step[0] * step[0] + step[1] * step[1];
    if square < TELLING * TELLING {
        return;
    }
    for (q, slope) in slopes.iter_mut().enumerate() {
        let told = to.off[q] - from.off[q];
        let miss = told - (slope[0] * step[0] + slope[1] * step[1]);
        for p in 0..2 {
            let [low, high] = SLOPE_BOUNDS[q][p];
            slope[p] = (slope[p] + miss * step[p] / square).clamp(low, high);
        }
    }
}

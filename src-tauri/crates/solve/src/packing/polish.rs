//! Sweeps over everything, with the gaps between ties as coordinates.
//!
//! A plain sweep passes a shift along the line on from cluster to cluster, so that long lines need many sweeps. Here every gap opens by
//! what the contacts that cross it need, or closes a little if they need nothing, and the changes are summed up along the line: the
//! number of sweeps does not grow with its length.

use glam::DVec3;

use super::contacts::{Grid, Pair, pairs};
use super::path::Frame;
use super::relax::{Loose, Scene, sweep};
use super::state::{KNOT, State};

/// Every so many sweeps it is looked up anew which spheres may touch, if any has gone far since the last time.
const LOOK: u32 = 10;
/// Far is so much of the margin: two that come towards each other use it up twice, and the sweeps until the next look the other half.
const GONE: f64 = 0.25;
/// Spheres this near to a contact are among them, mean diameters.
const MARGIN: f64 = 0.2;
/// A gap closes by so much in a sweep at first, mean diameters.
pub(super) const CLOSE: f64 = 0.005;
/// The last share of the sweeps closes nothing.
const REST: f64 = 0.4;
/// Share of what its contacts need that a gap opens by in a sweep.
const GAIN: f64 = 0.3;
/// Keeps a gap from opening wide where contacts cross it almost square, in squared cosines.
const STEADY: f64 = 0.1;
/// A gap opens by at most so much in a sweep, mean diameters.
const MOST: f64 = 0.05;
/// Contacts less deep than this ask for nothing, mean diameters.
const NOTHING: f64 = 0.002;
/// Contacts of clusters further apart than this along the line do not change gaps: two parts of the line meet in space.
const FAR: usize = 8;
/// The same in contact distances.
const FAR_ALONG: f64 = 2.5;

/// Polishes the loose clusters; those before them stand still, those behind them shift along the line as a whole.
pub(super) fn polish(state: &mut State, scene: Scene<'_>, sweeps: u32, close: f64, loose: Loose) {
    let clusters = state.clusters();
    if clusters == 0 {
        return;
    }
    let mean = state.mean_diameter(0..clusters);
    let mut frames = state.frames(scene.path, loose.start, clusters);
    let mut grid = Grid::default();
    let mut near: Vec<Pair> = Vec::new();
    let mut looked: Vec<DVec3> = Vec::new();
    let mut need = vec![(0.0, 0.0); clusters];
    let mut to = vec![0.0; clusters];
    let whole = loose == (0..clusters);
    let held = f64::from(sweeps) * (1.0 - REST);
    for round in 0..sweeps {
        if round % LOOK == 0 && gone(&looked, &state.x, GONE * MARGIN * mean) {
            looked.clone_from(&state.x);
            pairs(
                &state.x,
                &state.r,
                scene.softness,
                MARGIN * mean,
                &mut grid,
                &mut near,
            );
            if !whole {
                let touched = state.first[loose.start]..state.first[loose.end];
                near.retain(|p| {
                    touched.contains(&(p.i as usize)) || touched.contains(&(p.j as usize))
                });
            }
        }
        let ramp = (1.0 - f64::from(round) / held).max(0.0);
        let some = loose.end - loose.start;
        let among = if whole && ramp > 0.0 {
            scene.running_on()
        } else {
            scene
        };
        sweep(state, &mut frames[..some], &near, &loose, among);
        needs(state, &frames, &near, scene, mean, loose.start, &mut need);
        // the gap at the seam of a closed line opens as all others close
        let (deep, square) = need[clusters - 1];
        let seam = if whole && clusters > 1 && square > 0.0 {
            (GAIN * deep / (square + STEADY)).min(MOST * mean) / (clusters - 1) as f64
        } else {
            0.0
        };
        // the first tie stays where the line begins
        let mut shift = if loose.start == 0 && scene.is_free() {
            -state.t[0]
        } else {
            0.0
        };
        for c in loose.start..clusters {
            if c > 0 && c <= loose.end {
                let (deep, square) = need[c - 1];
                let mut change = if square > 0.0 {
                    (GAIN * deep / (square + STEADY)).min(MOST * mean)
                } else {
                    0.0
                };
                change -= close * mean * ramp + seam;
                change = change.max(KNOT - (state.t[c] - state.t[c - 1]));
                shift += change;
            }
            to[c] = state.t[c] + shift;
        }
        slide(state, &mut frames, &to, loose.start, scene);
    }
}

/// Whether any sphere is further than `far` from where it was when last looked at, or none was looked at yet.
fn gone(looked: &[DVec3], x: &[DVec3], far: f64) -> bool {
    looked.len() != x.len()
        || looked
            .iter()
            .zip(x)
            .any(|(a, b)| (*a - *b).length_squared() > far * far)
}

/// What the contacts that cross each gap need: sums of depth × cosine and of cosine². Last comes the seam of a closed line.
fn needs(
    state: &State,
    frames: &[Frame],
    near: &[Pair],
    scene: Scene<'_>,
    mean: f64,
    start: usize,
    need: &mut [(f64, f64)],
) {
    need.fill((0.0, 0.0));
    let clusters = state.clusters();
    let tangent = |c: usize| frames.get(c.max(start) - start).map(|f| f.tangent);
    for pair in near {
        let (i, j) = (pair.i as usize, pair.j as usize);
        let (a, b) = (state.cluster[i] as usize, state.cluster[j] as usize);
        if a == b {
            continue;
        }
        let apart = state.x[j] - state.x[i];
        let squared = apart.length_squared();
        let contact = pair.contact - NOTHING * mean;
        if squared >= contact * contact || squared <= 1e-12 {
            continue;
        }
        let (low, high) = (a.min(b), a.max(b));
        let along = state.t[high] - state.t[low];
        let gaps = if high - low <= FAR && along <= FAR_ALONG * pair.contact {
            (low..high, 0..0)
        } else if scene.path.is_closed()
            && low + clusters - high <= FAR
            && scene.path.length() - along <= FAR_ALONG * pair.contact
        {
            (high..clusters, 0..low)
        } else {
            continue;
        };
        let (Some(at), Some(to)) = (tangent(low), tangent(high)) else {
            continue;
        };
        let long = squared.sqrt();
        let cosine = apart.dot(at + to).abs() / (2.0 * long);
        let deep = (pair.contact - long) / (gaps.0.len() + gaps.1.len()) as f64;
        for gap in gaps.0.chain(gaps.1) {
            need[gap].0 += deep * cosine;
            need[gap].1 += cosine * cosine;
        }
    }
}

/// Moves ties to new places, their spheres carried along as they are.
pub(super) fn slide(
    state: &mut State,
    frames: &mut [Frame],
    to: &[f64],
    start: usize,
    scene: Scene<'_>,
) {
    for c in start..state.clusters() {
        let way = to[c] - state.t[c];
        if way == 0.0 {
            continue;
        }
        let frame = &mut frames[c - start];
        state.t[c] = to[c];
        if scene.path.is_straight() {
            let shift = frame.tangent * way;
            for i in state.first[c]..state.first[c + 1] {
                state.x[i] += shift;
            }
            frame.point += shift;
        } else {
            let next = scene.path.frame(to[c]);
            for i in state.first[c]..state.first[c + 1] {
                state.x[i] = next.world(frame.local(state.x[i]));
            }
            *frame = next;
        }
    }
}

//! A line that is a little short is drawn out along its path, as a hand does that hangs it up.

use super::path::Path;
use super::polish::{polish, slide};
use super::relax::Scene;
use super::state::State;
use super::types::{Obstacle, Packing, Settings};

/// Sweeps after it: spheres that the floor, a wall or another part of the line now presses come to rest.
const SWEEPS: u32 = 60;
/// What comes to rest may draw the line together again: so often it is drawn out anew.
const TIMES: u32 = 4;
/// A line that misses no more than this is long enough, m.
const NEAR: f64 = 1e-4;

/// The packing with its gaps all grown by the same share, so that it is `length` m from tip to tip. One that is as long already, has
/// fewer than two ties or goes round a closed path is left as it is.
#[must_use]
pub fn draw_out(
    packed: Packing,
    length: f64,
    path: &Path,
    obstacles: &[Obstacle],
    settings: &Settings,
) -> Packing {
    let scene = Scene {
        path,
        obstacles,
        softness: settings.softness,
        runs_on: None,
    };
    let mut packed = packed;
    for _ in 0..TIMES {
        let (missing, span) = (length - packed.length(path), packed.tie_span());
        if missing <= NEAR || span <= 0.0 || path.is_closed() {
            break;
        }
        let mut state = State::resumed(&packed);
        let clusters = state.clusters();
        let first = state.t[0];
        let grown = |t: &f64| t + missing * (t - first) / span;
        let to: Vec<f64> = state.t.iter().map(grown).collect();
        let mut frames = state.frames(path, 0, clusters);
        slide(&mut state, &mut frames, &to, 0, scene);
        polish(&mut state, scene, SWEEPS, 0.0, 0..clusters);
        packed = state.packing();
    }
    packed
}

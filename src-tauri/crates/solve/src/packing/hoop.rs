//! Round a closed line: how many clusters go on before the first is met again, and the last gap shared among all.

use super::path::Path;
use super::polish::{CLOSE, polish};
use super::relax::Scene;
use super::state::State;
use super::types::{Cluster, Settings};
use super::window::string;

/// Spheres of first and last clusters may be this much deeper in each other than softness allows before there is one too many,
/// as a share of the sum of their radii.
const TOO_DEEP: f64 = 0.015;
/// So many clusters either side of the seam are looked at.
const SEAM: usize = 24;
/// Sweeps after the gaps were widened, over those of a whole polish.
const AFTER: u32 = 4;

/// Takes clusters off that are one too many, puts on more while they fit, and then, if less than one more would fit, widens all
/// gaps alike until the ring is evenly closed.
pub(super) fn close_up(
    state: &mut State,
    clusters: &[Cluster],
    scene: Scene<'_>,
    settings: &Settings,
    sweeps: u32,
) {
    let mut full = state.clusters() < clusters.len();
    while state.clusters() > 2 && seam(state, scene) > TOO_DEEP {
        full = true;
        state.truncate(state.clusters() - 1);
        polish(state, scene, sweeps, CLOSE, 0..state.clusters());
    }
    while state.clusters() < clusters.len() {
        let on = &clusters[..=state.clusters()];
        let mut more = State::new(on, settings);
        more.x.clone_from(&state.x);
        more.t.clone_from(&state.t);
        string(&mut more, on, scene, settings);
        if more.t.len() < on.len() {
            break;
        }
        let all = 0..more.clusters();
        polish(&mut more, scene, sweeps, CLOSE, all);
        if seam(&more, scene) > TOO_DEEP {
            break;
        }
        *state = more;
    }
    full |= state.clusters() < clusters.len();
    if widen(state, scene.path, full) {
        let all = 0..state.clusters();
        polish(state, scene, sweeps / AFTER, 0.0, all);
    }
}

/// Widens all gaps alike, so that the one at the seam is the mean of them. Not if there is room for another cluster and no more
/// to put there.
fn widen(state: &mut State, path: &Path, full: bool) -> bool {
    let gaps = state.clusters() as f64;
    let (Some(last), true) = (state.t.last().copied(), state.clusters() > 2) else {
        return false;
    };
    let pitch = last / (gaps - 1.0);
    let left = path.length() - last - pitch;
    if left <= 0.0 || (!full && left >= pitch) {
        return false;
    }
    let wider = path.length() * (gaps - 1.0) / gaps / last;
    for c in 1..state.clusters() {
        let (from, to) = (path.frame(state.t[c]), path.frame(state.t[c] * wider));
        for i in state.of(c) {
            state.x[i] = to.world(from.local(state.x[i]));
        }
        state.t[c] *= wider;
    }
    true
}

/// How much deeper than softness allows first and last spheres are in each other, as a share of the sum of their radii.
fn seam(state: &State, scene: Scene<'_>) -> f64 {
    let n = state.clusters();
    let some = SEAM.min(n / 2);
    let (first, last) = (0..state.first[some], state.first[n - some]..state.x.len());
    let mut deepest = 0.0f64;
    for i in first {
        for j in last.clone() {
            let sum = state.r[i] + state.r[j];
            let deep = 1.0 - (state.x[i] - state.x[j]).length() / sum;
            deepest = deepest.max(deep - scene.softness);
        }
    }
    deepest
}

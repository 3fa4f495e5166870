//! Round a closed line: how many clusters go on before the first is met again, and the last gap shared among all.

use super::contacts::{Grid, pairs};
use super::path::Path;
use super::polish::{CLOSE, polish};
use super::relax::Scene;
use super::state::State;
use super::types::{Cluster, Settings};
use super::window::string;

/// Spheres of first and last clusters may be this much deeper in each other than softness allows before there is one too many,
/// as a share of the sum of their radii.
const TOO_DEEP: f64 = 0.015;
/// The same for any two spheres: what is squeezed in may press its neighbours into each other and touch nothing itself.
const JAMMED: f64 = 0.025;
/// A sphere may be this much further from its tie than it reaches, as a share of its reach.
const PULLED: f64 = 0.015;
/// Contacts deeper than softness and half a per cent of the sum of the radii may be this share of all.
const TOO_MANY: f64 = 0.03;
/// What counts as deeper, see there.
const DEEPER: f64 = 0.005;
/// Shares of the way to an even ring, tried in turn: large clusters either side of the seam may need more than the mean gap.
const SHARES: [f64; 3] = [1.0, 0.6, 0.3];
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
    while state.clusters() > 2 && is_overfull(state, scene) {
        full = true;
        state.truncate(state.clusters() - 1);
        polish(state, scene, sweeps, CLOSE, 0..state.clusters());
    }
    while state.clusters() < clusters.len() {
        let on = &clusters[..=state.clusters()];
        let mut more = State::new(on, settings);
        more.x.clone_from(&state.x);
        more.reach[..state.x.len()].copy_from_slice(&state.reach);
        more.t.clone_from(&state.t);
        string(&mut more, on, scene, settings, true);
        if more.t.len() < on.len() {
            break;
        }
        let all = 0..more.clusters();
        polish(&mut more, scene, sweeps, CLOSE, all);
        if is_overfull(&more, scene) {
            break;
        }
        *state = more;
    }
    full |= state.clusters() < clusters.len();
    for share in SHARES {
        let mut wider = state.clone();
        if !widen(&mut wider, scene.path, full, share) {
            break;
        }
        let all = 0..wider.clusters();
        polish(&mut wider, scene, sweeps / AFTER, 0.0, all);
        if !is_overfull(&wider, scene) {
            *state = wider;
            break;
        }
    }
}

/// Widens all gaps alike, so that the one at the seam becomes the mean of them, or a share of the way there. Not if there is room
/// for another cluster and no more to put there.
fn widen(state: &mut State, path: &Path, full: bool, share: f64) -> bool {
    let gaps = state.clusters() as f64;
    let (Some(last), true) = (state.t.last().copied(), state.clusters() > 2) else {
        return false;
    };
    let pitch = last / (gaps - 1.0);
    let left = path.length() - last - pitch;
    if left <= 0.0 || (!full && left >= pitch) {
        return false;
    }
    let wider = 1.0 + share * (path.length() * (gaps - 1.0) / gaps / last - 1.0);
    for c in 1..state.clusters() {
        let (from, to) = (path.frame(state.t[c]), path.frame(state.t[c] * wider));
        for i in state.of(c) {
            state.x[i] = to.world(from.local(state.x[i]));
        }
        state.t[c] *= wider;
    }
    true
}

/// Whether first and last spheres are too deep in each other, or any others, or too many of all, or one is pulled off its tie.
fn is_overfull(state: &State, scene: Scene<'_>) -> bool {
    let mut touching = Vec::new();
    pairs(
        &state.x,
        &state.r,
        0.0,
        0.0,
        &mut Grid::default(),
        &mut touching,
    );
    let (mut deeper, mut deepest, mut seam) = (0usize, 0.0f64, 0.0f64);
    for pair in &touching {
        let (i, j) = (pair.i as usize, pair.j as usize);
        let deep = 1.0 - (state.x[i] - state.x[j]).length() / pair.contact - scene.softness;
        deeper += usize::from(deep > DEEPER);
        deepest = deepest.max(deep);
        if 2 * (state.cluster[j] - state.cluster[i]) as usize > state.clusters() {
            seam = seam.max(deep);
        }
    }
    let pulled = (0..state.clusters()).any(|c| {
        let tie = scene.path.point(state.t[c]);
        state
            .of(c)
            .any(|i| (state.x[i] - tie).length() > state.reach[i] * (1.0 + PULLED))
    });
    let many = deeper as f64 > TOO_MANY * touching.len() as f64;
    seam > TOO_DEEP || deepest > JAMMED || many || pulled
}

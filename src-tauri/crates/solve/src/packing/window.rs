//! The last clusters are still loose while the next is pushed on: a hand nestles it in.

use super::contacts::Pair;
use super::place::{Scratch, place};
use super::relax::{Scene, sweep};
use super::state::{KNOT, State};
use super::types::{Cluster, Settings};

/// Clusters that are still loose, the new one among them.
const LOOSE: usize = 4;
/// Sweeps for each new cluster.
const SWEEPS: u32 = 32;
/// The hand lets go after this share of them.
const HELD: f64 = 0.7;
/// Its push in each sweep, mean diameters.
const PUSH: f64 = 0.02;
/// Every so many sweeps it is looked up anew which spheres may touch.
const LOOK: u32 = 8;
/// Spheres this near to a contact are among them, mean diameters.
const MARGIN: f64 = 0.25;

/// Places and nestles all clusters that are not placed yet, one after the other. On a closed line it stops where the next one
/// would meet the first, or, if it is squeezed `into` what is left, where nothing is.
pub(super) fn string(
    state: &mut State,
    clusters: &[Cluster],
    scene: Scene<'_>,
    settings: &Settings,
    into: bool,
) {
    let mut scratch = Scratch::default();
    let mut pairs = Vec::new();
    let mut pitch = match state.t.as_slice() {
        [.., a, b] => b - a,
        _ => state.mean_diameter(0..1),
    };
    for (c, cluster) in clusters.iter().enumerate().skip(state.t.len()) {
        let before = state.t.last().copied();
        place(state, cluster, scene, settings, pitch, into, &mut scratch);
        if scene.path.is_closed() && state.t[c] > scene.path.length() - KNOT {
            state.unplace();
            break;
        }
        nestle(state, c, scene, &mut pairs);
        if let Some(before) = before {
            pitch = state.t[c] - before;
        }
    }
}

fn nestle(state: &mut State, new: usize, scene: Scene<'_>, pairs: &mut Vec<Pair>) {
    // measured by the loose clusters alone: what comes later must not change what is done here
    let mean = state.mean_diameter((new + 1).saturating_sub(LOOSE)..new + 1);
    if new == 0 {
        // nothing to push against yet, but perhaps a floor or a wall
        let mut frames = state.frames(scene.path, 0, 1);
        for _ in 0..SWEEPS {
            near(state, (0, 0), 0, scene.softness, MARGIN * mean, pairs);
            sweep(state, &mut frames, pairs, &(0..1), scene);
        }
        return;
    }
    let from = (new + 1).saturating_sub(LOOSE).max(1);
    let loose = from..new + 1;
    let back = 2.0 * state.extent_near(new);
    let mut seen = from;
    while seen > 0 && state.t[seen - 1] > state.t[from] - back {
        seen -= 1;
    }
    let ahead = state.met_ahead(scene.path).min(seen);
    let mut frames = state.frames(scene.path, from, new + 1);
    let share = 1.0 / (new + 1 - from) as f64;
    for round in 0..SWEEPS {
        if round % LOOK == 0 {
            near(
                state,
                (ahead, seen),
                from,
                scene.softness,
                MARGIN * mean,
                pairs,
            );
        }
        let held = 1.0 - f64::from(round) / (f64::from(SWEEPS) * HELD);
        if held > 0.0 {
            for c in loose.clone() {
                let way = PUSH * mean * held * (c + 1 - from) as f64 * share;
                let way = way.min((state.t[c] - state.t[c - 1] - KNOT).max(0.0));
                let shift = frames[c - from].tangent * way;
                state.t[c] -= way;
                frames[c - from] = scene.path.frame(state.t[c]);
                for i in state.of(c) {
                    state.x[i] -= shift;
                }
            }
        }
        sweep(state, &mut frames, pairs, &loose, scene);
    }
}

/// Pairs of spheres of clusters from `loose` on with all from `seen` on, and with those before `ahead`.
fn near(
    state: &State,
    (ahead, seen): (usize, usize),
    loose: usize,
    softness: f64,
    margin: f64,
    pairs: &mut Vec<Pair>,
) {
    pairs.clear();
    let placed = state.x.len();
    for j in state.first[loose]..placed {
        for i in (0..state.first[ahead]).chain(state.first[seen]..j) {
            let contact = (state.r[i] + state.r[j]) * (1.0 - softness);
            let reach = contact + margin;
            if (state.x[i] - state.x[j]).length_squared() < reach * reach {
                pairs.push(Pair {
                    i: i as u32,
                    j: j as u32,
                    contact,
                });
            }
        }
    }
}

//! The packing itself: clusters placed one after the other, nestled, then polished together.

use super::hoop::close_up;
use super::local::{AROUND, around};
use super::path::Path;
use super::place::{Scratch, place};
use super::polish::{CLOSE, polish};
use super::random::Stream;
use super::relax::Scene;
use super::shape::shape;
use super::state::State;
use super::types::{Cluster, Effort, Obstacle, Packing, Settings};
use super::window::string;
use glam::DVec3;

/// Sweeps of a preview.
const PREVIEW: u32 = 200;
/// Sweeps of the final packing.
const FINAL: u32 = 1000;

fn sweeps(effort: Effort) -> u32 {
    match effort {
        Effort::Preview => PREVIEW,
        Effort::Final => FINAL,
    }
}

fn scene<'a>(path: &'a Path, obstacles: &'a [Obstacle], settings: &Settings) -> Scene<'a> {
    Scene {
        path,
        obstacles,
        softness: settings.softness,
        runs_on: None,
    }
}

/// Packs clusters along a path, the first tied at its beginning: each placed as near as it goes, nestled while the last few are loose,
/// then all polished with the gaps between ties as coordinates. The line may run past the path's end.
///
/// Round a closed path only as many are packed as there are before the first is met again: if there are fewer ties than clusters,
/// the ring is full, and its gaps are evened out.
#[must_use]
pub fn pack(
    clusters: &[Cluster],
    path: &Path,
    obstacles: &[Obstacle],
    settings: &Settings,
) -> Packing {
    let scene = scene(path, obstacles, settings);
    let mut state = State::new(clusters, settings);
    string(&mut state, clusters, scene.running_on(), settings, false);
    state.truncate(state.t.len());
    let (effort, all) = (sweeps(settings.effort), 0..state.clusters());
    let strung = path.is_closed().then(|| state.clone());
    polish(&mut state, scene, effort, CLOSE, all);
    if let Some(strung) = strung {
        close_up(&mut state, strung, clusters, scene, settings, effort);
    }
    state.packing()
}

/// More clusters at the end of a packing; of those that are there only the last few move. `clusters` are all, the packed ones first.
/// Round a closed path those that would meet the first are left away.
#[must_use]
pub fn extend(
    packed: &Packing,
    clusters: &[Cluster],
    path: &Path,
    obstacles: &[Obstacle],
    settings: &Settings,
) -> Packing {
    let scene = scene(path, obstacles, settings);
    let known = State::resumed(packed);
    let mut state = State::new(clusters, settings);
    // the reach is that of the packing: walls may have lengthened it
    for (reach, known) in state.reach.iter_mut().zip(&known.reach) {
        *reach = *known;
    }
    state.x = known.x;
    state.t = known.t;
    let from = state.t.len().saturating_sub(AROUND);
    string(&mut state, clusters, scene, settings, false);
    state.truncate(state.t.len());
    let loose = from..state.clusters();
    polish(&mut state, scene, sweeps(settings.effort), CLOSE, loose);
    state.packing()
}

/// Packs anew around clusters that were changed. Clusters further than eight from all of them keep their place across the line;
/// those behind shift along it as a whole. `clusters` are as many as are packed; if not, all are packed anew.
#[must_use]
pub fn repack(
    packed: &Packing,
    clusters: &[Cluster],
    changed: &[usize],
    path: &Path,
    obstacles: &[Obstacle],
    settings: &Settings,
) -> Packing {
    let old = State::resumed(packed);
    let fresh = State::new(clusters, settings);
    let same = |c: usize| changed.contains(&c) || old.of(c).len() == fresh.of(c).len();
    if old.clusters() != clusters.len() || !(0..clusters.len()).all(same) {
        return pack(clusters, path, obstacles, settings);
    }
    let scene = scene(path, obstacles, settings);
    let effort = sweeps(settings.effort);
    around(&old, fresh, clusters, changed, scene, settings, effort).packing()
}

/// The simple method: all clusters laid out loosely with a random turn, then polished together for so many sweeps.
#[must_use]
pub fn pack_from_loose(
    clusters: &[Cluster],
    path: &Path,
    obstacles: &[Obstacle],
    settings: &Settings,
    sweeps: u32,
) -> Packing {
    let scene = scene(path, obstacles, settings);
    let mut state = State::new(clusters, settings);
    let mut along = 0.0;
    for (c, cluster) in clusters.iter().enumerate() {
        state.give_way(c, scene, along);
        let range = state.of(c);
        let (radii, reach) = (&state.r[range.clone()], &state.reach[range]);
        let mut stream = Stream::of(settings.seed, cluster.id);
        let places = shape(radii, reach, settings, &mut stream, cluster.turn.is_some());
        let half = places
            .iter()
            .zip(radii)
            .map(|(p, r)| p.x.abs() + r)
            .fold(0.0, f64::max);
        along += if c > 0 { half } else { 0.0 };
        let angle = cluster
            .turn
            .unwrap_or(stream.unit() * std::f64::consts::TAU);
        let (cos, sin) = (libm::cos(angle), libm::sin(angle));
        let frame = path.frame(along);
        for p in places {
            state.x.push(frame.world(DVec3::new(
                p.x,
                cos * p.y - sin * p.z,
                sin * p.y + cos * p.z,
            )));
        }
        state.t.push(along);
        along += 0.6 * half;
    }
    let all = 0..state.clusters();
    polish(&mut state, scene, sweeps, CLOSE, all);
    state.packing()
}

/// The greedy placement alone: every cluster stiff.
#[must_use]
pub fn pack_greedily(clusters: &[Cluster], path: &Path, settings: &Settings) -> Packing {
    let mut state = State::new(clusters, settings);
    let mut scratch = Scratch::default();
    let scene = scene(path, &[], settings);
    let mut pitch = state.mean_diameter(0..1);
    for cluster in clusters {
        let before = state.t.last().copied();
        place(
            &mut state,
            cluster,
            scene,
            settings,
            pitch,
            false,
            &mut scratch,
        );
        if let (Some(before), Some(at)) = (before, state.t.last()) {
            pitch = at - before;
        }
    }
    state.packing()
}

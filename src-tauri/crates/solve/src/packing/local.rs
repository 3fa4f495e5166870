//! Packing anew around what was changed, the rest left as it is.

use std::f64::consts::TAU;

use glam::DVec3;

use super::polish::{CLOSE, polish};
use super::random::Stream;
use super::relax::{Loose, Scene};
use super::shape::shape;
use super::state::State;
use super::types::{Cluster, Settings};

/// A local solve moves this many clusters on either side of what was changed.
pub(super) const AROUND: usize = 8;
/// Turns tried for a changed cluster.
const TURNS: u32 = 32;

/// The changed clusters, put in place of the old ones and polished together with those around them. `old` holds the packing,
/// `fresh` the measures of all clusters as they are now.
pub(super) fn around(
    old: &State,
    mut fresh: State,
    clusters: &[Cluster],
    changed: &[usize],
    scene: Scene<'_>,
    settings: &Settings,
    sweeps: u32,
) -> State {
    let mut is_changed = vec![false; clusters.len()];
    for at in changed {
        if let Some(mark) = is_changed.get_mut(*at) {
            *mark = true;
        }
    }
    for (c, cluster) in clusters.iter().enumerate() {
        if is_changed[c] {
            fresh.give_way(c, scene, old.t[c]);
            let places = turned_to_fit(old, &fresh, cluster, c, scene, settings);
            fresh.x.extend(places);
        } else {
            let (own, of_old) = (fresh.of(c), old.of(c));
            fresh.reach[own].copy_from_slice(&old.reach[of_old.clone()]);
            fresh.x.extend_from_slice(&old.x[of_old]);
        }
        fresh.t.push(old.t[c]);
    }
    for loose in stretches(&is_changed) {
        polish(&mut fresh, scene, sweeps, CLOSE, loose);
    }
    fresh
}

/// What is loose: the changed clusters and those around them, stretches that meet taken together.
fn stretches(is_changed: &[bool]) -> Vec<Loose> {
    let mut out: Vec<Loose> = Vec::new();
    for (c, _) in is_changed.iter().enumerate().filter(|(_, c)| **c) {
        let here = c.saturating_sub(AROUND)..(c + AROUND + 1).min(is_changed.len());
        match out.last_mut() {
            Some(last) if last.end >= here.start => last.end = here.end,
            _ => out.push(here),
        }
    }
    out
}

/// Places of a changed cluster's spheres at its old tie, turned so that they are least deep in the neighbours.
fn turned_to_fit(
    old: &State,
    fresh: &State,
    cluster: &Cluster,
    at: usize,
    scene: Scene<'_>,
    settings: &Settings,
) -> Vec<DVec3> {
    let own = fresh.of(at);
    let (radii, reach) = (&fresh.r[own.clone()], &fresh.reach[own]);
    let mut stream = Stream::of(settings.seed, cluster.id);
    let places = shape(radii, reach, settings, &mut stream, cluster.turn.is_some());
    let frame = scene.path.frame(old.t[at]);
    let near: Vec<(DVec3, f64)> = (at.saturating_sub(AROUND)
        ..(at + AROUND + 1).min(old.clusters()))
        .filter(|c| *c != at)
        .flat_map(|c| old.of(c))
        .map(|i| (frame.local(old.x[i]), old.r[i]))
        .collect();
    let (start, turns) = match cluster.turn {
        Some(turn) => (turn, 1),
        None => (stream.unit() * TAU, TURNS),
    };
    let mut best = (f64::INFINITY, Vec::new());
    for k in 0..turns {
        let (sin, cos) = libm::sincos(start + TAU * f64::from(k) / f64::from(turns));
        let turned: Vec<DVec3> = places
            .iter()
            .map(|p| DVec3::new(p.x, cos * p.y - sin * p.z, sin * p.y + cos * p.z))
            .collect();
        let mut deep = 0.0;
        for (p, r) in turned.iter().zip(radii) {
            for (other, far) in &near {
                let into = (r + far) * (1.0 - scene.softness) - (*p - *other).length();
                deep += into.max(0.0) * into.max(0.0);
            }
        }
        if deep < best.0 {
            best = (deep, turned);
        }
    }
    best.1.into_iter().map(|p| frame.world(p)).collect()
}

//! A packing while it is made.

use glam::DVec3;

use super::path::{Frame, Path};
use super::relax::Scene;
use super::shape::reaches;
use super::types::{Ball, Cluster, Packing, Settings};
use super::wall::give_way;

/// Ties are at least this far apart along the line, m: a knot.
pub(super) const KNOT: f64 = 0.005;

/// So many clusters back a large sphere is still looked for.
const NEAR: usize = 24;

/// Spheres by number, clusters by number; everything in metres.
#[derive(Debug, Clone, Default)]
pub(super) struct State {
    /// Centres.
    pub(super) x: Vec<DVec3>,
    /// Radii.
    pub(super) r: Vec<f64>,
    /// Reach of each from its tie.
    pub(super) reach: Vec<f64>,
    /// Cluster of each.
    pub(super) cluster: Vec<u32>,
    /// First sphere of each cluster, and one past the last.
    pub(super) first: Vec<usize>,
    /// Ties, along the line.
    pub(super) t: Vec<f64>,
}

impl State {
    /// All clusters with their radii, none placed. Spheres beyond twelve to a cluster and diameters that are none are cut off.
    pub(super) fn new(clusters: &[Cluster], settings: &Settings) -> State {
        let mut state = State {
            first: vec![0],
            ..State::default()
        };
        for (c, cluster) in clusters.iter().enumerate() {
            let radii: Vec<f64> = cluster
                .diameters
                .iter()
                .filter(|d| d.is_finite() && **d > 0.0)
                .take(super::shape::MOST_IN_CLUSTER)
                .map(|d| d * 0.5)
                .collect();
            state.reach.extend(reaches(&radii, settings));
            state.cluster.extend(radii.iter().map(|_| c as u32));
            state.r.extend(radii);
            state.first.push(state.r.len());
        }
        state
    }

    /// Taken up again from a packing that is finished.
    pub(super) fn resumed(packing: &Packing) -> State {
        let mut state = State {
            first: vec![0],
            t: packing.ties.clone(),
            reach: packing.reach.clone(),
            ..State::default()
        };
        for (i, ball) in packing.balls.iter().enumerate() {
            while state.first.len() <= ball.cluster as usize {
                state.first.push(i);
            }
            state.x.push(ball.centre);
            state.r.push(ball.radius);
            state.cluster.push(ball.cluster);
        }
        while state.first.len() <= packing.ties.len() {
            state.first.push(packing.balls.len());
        }
        state
    }

    /// A cluster tied about here reaches further if there is a wall.
    pub(super) fn give_way(&mut self, cluster: usize, scene: Scene<'_>, at: f64) {
        let range = self.of(cluster);
        let extent = range
            .clone()
            .map(|i| self.reach[i] + self.r[i])
            .fold(0.0, f64::max);
        let radius = self.mean_diameter(cluster..cluster + 1) / 2.0;
        let factor = give_way(scene, at, extent, radius);
        for reach in &mut self.reach[range] {
            *reach *= factor;
        }
    }

    /// Forgets all clusters from one on.
    pub(super) fn truncate(&mut self, clusters: usize) {
        self.first.truncate(clusters + 1);
        self.t.truncate(clusters);
        let spheres = self.first.last().copied().unwrap_or(0);
        self.x.truncate(spheres);
        self.r.truncate(spheres);
        self.reach.truncate(spheres);
        self.cluster.truncate(spheres);
    }

    /// Takes the last placed cluster off the line again.
    pub(super) fn unplace(&mut self) {
        self.t.pop();
        self.x.truncate(self.first[self.t.len()]);
    }

    /// On a closed line: so many of the first clusters may be met by the next one placed or by the last ones.
    pub(super) fn met_ahead(&self, path: &Path) -> usize {
        let (true, Some(last)) = (path.is_closed(), self.t.last()) else {
            return 0;
        };
        let far = 4.0 * self.extent_near(self.t.len().min(self.clusters() - 1))
            + 2.0 * self.extent_near(NEAR.min(self.clusters() - 1));
        let met = self
            .t
            .iter()
            .take_while(|t| **t + path.length() - last < far)
            .count();
        met.min(self.t.len() / 2)
    }

    /// What was packed.
    pub(super) fn packing(self) -> Packing {
        Packing {
            balls: self
                .x
                .iter()
                .zip(&self.r)
                .zip(&self.cluster)
                .map(|((centre, radius), cluster)| Ball {
                    centre: *centre,
                    radius: *radius,
                    cluster: *cluster,
                })
                .collect(),
            ties: self.t,
            reach: self.reach,
        }
    }

    /// Clusters, placed or not.
    pub(super) fn clusters(&self) -> usize {
        self.first.len() - 1
    }

    /// The spheres of a cluster.
    #[inline]
    pub(super) fn of(&self, cluster: usize) -> std::ops::Range<usize> {
        self.first[cluster]..self.first[cluster + 1]
    }

    /// Mean diameter of some clusters, the length that all steps are measured by.
    pub(super) fn mean_diameter(&self, clusters: std::ops::Range<usize>) -> f64 {
        let end = clusters.end.min(self.clusters());
        let radii = &self.r[self.first[clusters.start.min(end)]..self.first[end]];
        2.0 * radii.iter().sum::<f64>() / radii.len().max(1) as f64
    }

    /// The furthest that a sphere of the cluster to come or of those behind it reaches; only the last of them can be met.
    pub(super) fn extent_near(&self, cluster: usize) -> f64 {
        let reach = |c: usize| {
            self.of(c)
                .map(|i| self.reach[i] + self.r[i])
                .fold(0.0, f64::max)
        };
        (cluster.saturating_sub(NEAR)..=cluster)
            .map(reach)
            .fold(0.0, f64::max)
    }

    /// Frames of the ties from one cluster to before another.
    pub(super) fn frames(&self, path: &Path, from: usize, to: usize) -> Vec<Frame> {
        self.t[from..to].iter().map(|t| path.frame(*t)).collect()
    }
}

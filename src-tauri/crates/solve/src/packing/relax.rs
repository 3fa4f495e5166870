//! One sweep of position-based dynamics: contacts, tethers with sliding ties, clearance to knot and line, obstacles, order of the ties.

use glam::DVec3;

use super::contacts::Pair;
use super::path::{Frame, Path};
use super::shape::{INNER, LINE};
use super::state::{KNOT, State};
use super::types::{Obstacle, off_rod};

/// Clusters that may move: from one to before another.
pub(super) type Loose = std::ops::Range<usize>;

/// Where and among what the clusters are packed.
#[derive(Clone, Copy)]
pub(super) struct Scene<'a> {
    pub(super) path: &'a Path,
    pub(super) obstacles: &'a [Obstacle],
    pub(super) softness: f64,
    /// Half-spaces that the line runs into at its end are not felt behind its middle: there is where they begin not to be, m along the
    /// line, and the way that the end goes. While clusters still close up, the last of them would else be heaped on the floor.
    pub(super) runs_on: Option<(f64, DVec3)>,
}

/// A line runs into a wall or the floor if it goes towards it by this share of the way.
const INTO: f64 = 0.5;

impl Scene<'_> {
    /// The same with the line running on past its end.
    pub(super) fn running_on(self) -> Self {
        let end = self.path.length();
        let runs_on = (!self.path.is_closed()).then(|| (end / 2.0, self.path.frame(end).tangent));
        Scene { runs_on, ..self }
    }

    /// Whether nothing stands in the way of the line: the first tie then stays where it begins.
    pub(super) fn is_free(&self) -> bool {
        (self.obstacles.iter()).all(|o| matches!(o, Obstacle::Along { .. }))
    }

    fn felt(&self, obstacle: &Obstacle, tie: f64) -> bool {
        match (self.runs_on, obstacle) {
            (Some((from, way)), Obstacle::HalfSpace { normal, .. }) => {
                tie < from || way.dot(*normal) > -INTO
            }
            _ => true,
        }
    }
}

/// One sweep over the loose clusters; all others stand still. `frames` belong to the loose clusters' ties.
pub(super) fn sweep(
    state: &mut State,
    frames: &mut [Frame],
    pairs: &[Pair],
    loose: &Loose,
    scene: Scene<'_>,
) {
    press(state, pairs, loose);
    // obstacles may push the first tie forward from where the line begins; without any it is brought back there
    let mut free_from = if loose.start > 0 {
        state.t[loose.start - 1] + KNOT
    } else if scene.is_free() {
        f64::NEG_INFINITY
    } else {
        0.0
    };
    for c in loose.clone() {
        let frame = &mut frames[c - loose.start];
        let slid = hold(state, c, frame, scene);
        let t = (state.t[c] + slid).max(free_from);
        if t != state.t[c] {
            state.t[c] = t;
            *frame = scene.path.frame(t);
        }
        free_from = t + KNOT;
    }
}

/// Spheres that are too deep in each other are moved apart, half each; those of frozen clusters do not move.
fn press(state: &mut State, pairs: &[Pair], loose: &Loose) {
    let (from, to) = (state.first[loose.start], state.first[loose.end]);
    let x = &mut state.x;
    // pairs come by their second sphere: it is put down when the next one's turn comes
    for of_one in pairs.chunk_by(|a, b| a.j == b.j) {
        let j = of_one[0].j as usize;
        let (mut second, second_loose) = (x[j], (from..to).contains(&j));
        for pair in of_one {
            let i = pair.i as usize;
            let apart = second - x[i];
            let squared = apart.length_squared();
            if squared < pair.contact * pair.contact && squared > 1e-12 {
                let long = squared.sqrt();
                let way = apart * ((pair.contact - long) / long);
                match ((from..to).contains(&i), second_loose) {
                    (true, true) => {
                        x[i] -= way * 0.5;
                        second += way * 0.5;
                    }
                    (true, false) => x[i] -= way,
                    (false, true) => second += way,
                    (false, false) => {}
                }
            }
        }
        x[j] = second;
    }
}

/// Brings the spheres of a cluster within reach of its tie, off the line and out of obstacles. Answers how far the tie is pulled.
fn hold(state: &mut State, cluster: usize, frame: &Frame, scene: Scene<'_>) -> f64 {
    let range = state.of(cluster);
    let weight = 1.0 / range.len().max(1) as f64;
    let tie = state.t[cluster];
    let straight = scene.path.is_straight();
    let mut slid = 0.0;
    let (point, tangent) = (frame.point, frame.tangent);
    // the point of the line beside a sphere
    let beside = |x: DVec3| {
        let along = (x - point).dot(tangent);
        if straight {
            point + tangent * along
        } else {
            scene.path.point(tie + along)
        }
    };
    for i in range {
        let (reach, r) = (state.reach[i], state.r[i]);
        let x = &mut state.x[i];
        // a rod comes before the reach: where there is no room behind it for a sphere on its neck, it presses in deeper
        for obstacle in scene.obstacles {
            if let Obstacle::Along { offset, radius } = obstacle {
                let axis = beside(*x) + *offset;
                *x += off_axis(*x - axis, off_rod(r, *radius, scene.softness));
            }
        }
        let from_tie = *x - frame.point;
        let squared = from_tie.length_squared();
        let inner = r * (1.0 - INNER);
        if squared > reach * reach {
            let long = squared.sqrt();
            let way = from_tie / long;
            let along = way.dot(frame.tangent);
            // the sphere comes, and the tie slides after it with the weight of its share of the cluster
            let pull = (long - reach) / (1.0 + weight * along * along);
            *x -= way * pull;
            slid += weight * along * pull;
        } else if squared < inner * inner && squared > 1e-12 {
            let long = squared.sqrt();
            *x += from_tie * ((inner - long) / long);
        }
        let aside = *x - beside(*x);
        let least = r * (1.0 - LINE);
        let squared = aside.length_squared();
        if squared < least * least && squared > 1e-12 {
            let long = squared.sqrt();
            *x += aside * ((least - long) / long);
        }
        for obstacle in scene.obstacles.iter().filter(|o| scene.felt(o, tie)) {
            *x += out_of(obstacle, *x, r * (1.0 - scene.softness));
        }
    }
    slid
}

/// The shortest way out of an obstacle for a sphere; nothing if it is outside. Rods along the path are seen to before.
fn out_of(obstacle: &Obstacle, x: DVec3, r: f64) -> DVec3 {
    match obstacle {
        Obstacle::HalfSpace { point, normal } => {
            let deep = r - (x - *point).dot(*normal);
            if deep > 0.0 {
                *normal * deep
            } else {
                DVec3::ZERO
            }
        }
        Obstacle::Capsule { from, to, radius } => {
            let axis = *to - *from;
            let long = axis.length_squared();
            let share = if long > 0.0 {
                ((x - *from).dot(axis) / long).clamp(0.0, 1.0)
            } else {
                0.0
            };
            off_axis(x - (*from + axis * share), r + radius)
        }
        Obstacle::Along { .. } => DVec3::ZERO,
    }
}

/// The way to where a sphere is `least` from an axis that it is `away` from.
fn off_axis(away: DVec3, least: f64) -> DVec3 {
    let squared = away.length_squared();
    if squared < least * least && squared > 1e-12 {
        let long = squared.sqrt();
        away * ((least - long) / long)
    } else {
        DVec3::ZERO
    }
}

//! An independent check of a packing: it shares no code with the solver but for the path and the plain types.

use glam::DVec3;

use super::path::Path;
use super::types::{Cluster, Obstacle, Packing, Settings};

/// What is wrong with a packing.
#[derive(Debug, Clone, PartialEq)]
pub enum Breach {
    /// A number is none, or lists do not belong together.
    NoPacking(&'static str),
    /// Two spheres, and how much deeper than softness allows they are in each other, as share of the sum of their radii.
    Deep(usize, usize, f64),
    /// A sphere is further from its tie than it reaches, by this share of its reach.
    OutOfReach(usize, f64),
    /// A cluster is tied before the one before it.
    Order(usize),
    /// A sphere is inside an obstacle, m deep.
    Inside(usize, usize, f64),
}

/// How far a packing may miss its rules: sweeps end before the last hair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerance {
    /// Deeper than softness, share of the sum of the radii.
    pub deep: f64,
    /// Beyond reach, share of it.
    pub reach: f64,
    /// Inside an obstacle, m, beyond what softness allows.
    pub inside: f64,
}

/// How spheres press into each other.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Overlaps {
    /// Pairs that touch, or nearly: nearer than the sum of their radii.
    pub contacts: u32,
    /// The deepest, as share of the sum of the radii beyond softness; 0 if none is deeper.
    pub deepest: f64,
    /// Share of contacts deeper than softness and half a percent.
    pub deeper: f64,
}

/// Everything that is wrong with a packing of clusters along a path.
#[must_use]
pub fn check(
    packing: &Packing,
    clusters: &[Cluster],
    path: &Path,
    obstacles: &[Obstacle],
    settings: &Settings,
    tolerance: Tolerance,
) -> Vec<Breach> {
    let mut wrong = Vec::new();
    let balls = &packing.balls;
    // round a closed line fewer clusters may go on than were asked for
    let fewer = path.is_closed() && packing.ties.len() <= clusters.len();
    if balls.len() != packing.reach.len() || !(fewer || packing.ties.len() == clusters.len()) {
        wrong.push(Breach::NoPacking("lists of different length"));
        return wrong;
    }
    let clusters = &clusters[..packing.ties.len()];
    let wanted = clusters
        .iter()
        .enumerate()
        .flat_map(|(c, cluster)| cluster.diameters.iter().map(move |d| (c as u32, d / 2.0)));
    if !balls.iter().map(|b| (b.cluster, b.radius)).eq(wanted) {
        wrong.push(Breach::NoPacking("other spheres than were asked for"));
    }
    let sound =
        balls.iter().all(|b| b.centre.is_finite()) && packing.ties.iter().all(|t| t.is_finite());
    if !sound {
        wrong.push(Breach::NoPacking("a place that is no number"));
        return wrong;
    }
    for (c, w) in packing.ties.windows(2).enumerate() {
        if w[1] < w[0] {
            wrong.push(Breach::Order(c + 1));
        }
    }
    for (i, (ball, reach)) in balls.iter().zip(&packing.reach).enumerate() {
        let tie = path.frame(packing.ties[ball.cluster as usize]).point;
        let over = ball.centre.distance(tie) / reach - 1.0;
        if over > tolerance.reach {
            wrong.push(Breach::OutOfReach(i, over));
        }
        for (o, obstacle) in obstacles.iter().enumerate() {
            let (deep, soft) = match obstacle {
                Obstacle::Along { offset, radius } => {
                    let tie = packing.ties[ball.cluster as usize];
                    let axis = along(path, tie, *reach).map(|p| p + *offset);
                    let rod = radius.min(ball.radius / 6.0);
                    let by_area = ((ball.radius + rod) / rod).sqrt();
                    let deep = deepest(axis, ball.centre.to_array(), ball.radius + rod);
                    (deep, (settings.softness * by_area).min(0.5))
                }
                _ => {
                    let deep = depth(obstacle, ball.centre.to_array(), ball.radius);
                    (deep, settings.softness)
                }
            };
            if deep > ball.radius * soft + tolerance.inside {
                wrong.push(Breach::Inside(i, o, deep));
            }
        }
    }
    for (i, j, deep) in touching(packing) {
        if deep - settings.softness > tolerance.deep {
            wrong.push(Breach::Deep(i, j, deep - settings.softness));
        }
    }
    wrong
}

/// How deep the spheres of a packing press into each other.
#[must_use]
pub fn overlaps(packing: &Packing, softness: f64) -> Overlaps {
    let (mut contacts, mut deeper, mut deepest) = (0u32, 0u32, 0.0f64);
    for (_, _, deep) in touching(packing) {
        contacts += 1;
        deepest = deepest.max(deep - softness);
        if deep > softness + 0.005 {
            deeper += 1;
        }
    }
    Overlaps {
        contacts,
        deepest,
        deeper: f64::from(deeper) / f64::from(contacts.max(1)),
    }
}

/// Pairs nearer than the sum of their radii, and by what share of it, found by sweeping along x.
fn touching(packing: &Packing) -> Vec<(usize, usize, f64)> {
    let balls = &packing.balls;
    let mut order: Vec<usize> = (0..balls.len()).collect();
    let low = |i: usize| balls[i].centre.x - balls[i].radius;
    order.sort_by(|a, b| low(*a).total_cmp(&low(*b)).then(a.cmp(b)));
    let mut found = Vec::new();
    for (n, &i) in order.iter().enumerate() {
        let end = balls[i].centre.x + balls[i].radius;
        for &j in order[n + 1..].iter().take_while(|j| low(**j) < end) {
            let sum = balls[i].radius + balls[j].radius;
            let gap = balls[i].centre.distance(balls[j].centre);
            if gap < sum {
                found.push((i.min(j), i.max(j), 1.0 - gap / sum));
            }
        }
    }
    found
}

/// How deep a sphere is in an obstacle, m; negative outside.
fn depth(obstacle: &Obstacle, [x, y, z]: [f64; 3], r: f64) -> f64 {
    match obstacle {
        Obstacle::HalfSpace { point, normal } => {
            let [a, b, c] = [x - point.x, y - point.y, z - point.z];
            r - (a * normal.x + b * normal.y + c * normal.z)
        }
        Obstacle::Capsule { from, to, radius } => {
            let axis = (0..=256).map(|i| *from + (*to - *from) * (f64::from(i) / 256.0));
            deepest(axis, [x, y, z], r + radius)
        }
        // needs the path, which the caller has
        Obstacle::Along { .. } => f64::NEG_INFINITY,
    }
}

/// How deep a sphere is in a round rod by the nearest of many points of its axis: slow, plain, and near enough. `touch` is the sum of both
/// radii.
fn deepest(axis: impl Iterator<Item = DVec3>, [x, y, z]: [f64; 3], touch: f64) -> f64 {
    axis.map(|p| {
        let [a, b, c] = [x - p.x, y - p.y, z - p.z];
        touch - (a * a + b * b + c * c).sqrt()
    })
    .fold(f64::NEG_INFINITY, f64::max)
}

/// Points of the path as far on either side of a tie as its spheres reach.
fn along(path: &Path, tie: f64, reach: f64) -> impl Iterator<Item = DVec3> {
    (0..=256).map(move |i| path.frame(tie + reach * (f64::from(i) / 128.0 - 1.0)).point)
}

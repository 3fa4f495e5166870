//! Volume of spheres that press into each other, shared room counted once.
//!
//! Two overlapping spheres meet in the plane of equal power |x − c|² − r² (MathWorld, "Sphere-Sphere Intersection", from
//! memory). Cut by the planes to all its neighbours, each sphere keeps the part of the union that is its own (Aurenhammer,
//! "Power diagrams", 1987, from memory). A plane takes a cap off, in closed form; where caps of one sphere meet, what they
//! have in common is counted along rays from its centre.

use glam::DVec3;
use std::f64::consts::PI;

use super::near::Near;
use super::types::Ball;

/// Rays from a sphere's centre where its caps meet. What is summed over them is what two caps share, some per cent of a
/// sphere at most, and that to about 1 %.
const RAYS: u32 = 2000;
/// Spheres are looked up in cells of at least this size, m.
const CELL: f64 = 0.02;

/// A plane through a sphere: what lies beyond `depth` along `normal` from its centre is not its own.
#[derive(Clone, Copy)]
struct Cut {
    normal: DVec3,
    depth: f64,
}

/// Volume of the union of the spheres, m³. Exact while no three spheres share a point; where some do, within about 1 % of
/// what they share.
#[must_use]
pub fn union_volume(balls: &[Ball]) -> f64 {
    let near = Near::new(balls.iter().map(|b| (b.centre, b.radius)), CELL);
    let (mut rays, mut cuts, mut beside) = (Vec::new(), Vec::new(), Vec::new());
    let mut sum = 0.0;
    for (index, ball) in (0u32..).zip(balls) {
        cuts.clear();
        beside.clear();
        near.each(ball.centre, ball.radius, |i, centre, radius| {
            if i != index {
                beside.push((i, centre, radius));
            }
        });
        // they are met in the order of cells, and a sum depends on the order
        beside.sort_unstable_by_key(|(i, ..)| *i);
        let mut swallowed = false;
        for &(i, centre, radius) in &beside {
            let to = centre - ball.centre;
            let apart = to.length();
            if apart > 0.0 {
                cuts.push(Cut {
                    normal: to / apart,
                    depth: (apart * apart + ball.radius * ball.radius - radius * radius)
                        / (2.0 * apart),
                });
            } else {
                // of two in one place the larger counts, of equal ones the first
                swallowed |= radius > ball.radius || (radius >= ball.radius && i < index);
            }
        }
        if !swallowed {
            sum += own_volume(ball.radius, &cuts, &mut rays);
        }
    }
    sum
}

/// What the cuts leave of a sphere.
fn own_volume(r: f64, cuts: &[Cut], rays: &mut Vec<DVec3>) -> f64 {
    let mut left = 4.0 / 3.0 * PI * r * r * r;
    for cut in cuts {
        let h = cut.depth.clamp(-r, r);
        left -= PI / 3.0 * (r - h) * (r - h) * (2.0 * r + h);
    }
    let meet = cuts
        .iter()
        .enumerate()
        .any(|(i, a)| cuts[..i].iter().any(|b| caps_meet(r, *a, *b)));
    if meet {
        if rays.is_empty() {
            *rays = spiral(RAYS);
        }
        let twice: f64 = rays.iter().map(|ray| taken_twice(r, cuts, *ray)).sum();
        left += twice * 4.0 * PI / f64::from(RAYS);
    }
    left.max(0.0)
}

/// Whether the caps that two cuts take off a sphere have room in common: their half angles together are wider than the
/// angle between them.
fn caps_meet(r: f64, a: Cut, b: Cut) -> bool {
    let (ca, cb) = (
        (a.depth / r).clamp(-1.0, 1.0),
        (b.depth / r).clamp(-1.0, 1.0),
    );
    let (sa, sb) = ((1.0 - ca * ca).sqrt(), (1.0 - cb * cb).sqrt());
    ca < 1.0 && cb < 1.0 && (ca + cb <= 0.0 || a.normal.dot(b.normal) > ca * cb - sa * sb)
}

/// What the cuts take along one ray when each is counted by itself, less what they take together; per steradian.
fn taken_twice(r: f64, cuts: &[Cut], ray: DVec3) -> f64 {
    let whole = r * r * r / 3.0;
    let (mut low, mut high) = (0.0f64, r);
    let mut singly = 0.0;
    for cut in cuts {
        let slope = cut.normal.dot(ray);
        // the part of the ray that the cut leaves: where t · slope ≤ depth
        let (from, to) = if cut.depth >= 0.0 {
            let to = if slope > 0.0 { cut.depth / slope } else { r };
            (0.0, to.min(r))
        } else if slope < 0.0 {
            ((cut.depth / slope).min(r), r)
        } else {
            (r, r)
        };
        singly += whole - (to * to * to - from * from * from) / 3.0;
        low = low.max(from);
        high = high.min(to);
    }
    let together = if high > low {
        whole - (high * high * high - low * low * low) / 3.0
    } else {
        whole
    };
    singly - together
}

/// Directions spread evenly over the sphere: equal steps of height, turned by the golden angle each.
fn spiral(n: u32) -> Vec<DVec3> {
    let golden = PI * (3.0 - 5f64.sqrt());
    (0..n)
        .map(|i| {
            let z = 1.0 - (2.0 * f64::from(i) + 1.0) / f64::from(n);
            let flat = (1.0 - z * z).sqrt();
            let turn = golden * f64::from(i);
            DVec3::new(flat * libm::cos(turn), flat * libm::sin(turn), z)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ball(x: f64, y: f64, z: f64, radius: f64) -> Ball {
        Ball {
            centre: DVec3::new(x, y, z),
            radius,
            cluster: 0,
        }
    }

    fn sphere(r: f64) -> f64 {
        4.0 / 3.0 * PI * r * r * r
    }

    /// Two spheres at a distance d share V = π (R + r − d)² (d² + 2d(R + r) − 3(R − r)²) / 12d
    /// (MathWorld, "Sphere-Sphere Intersection", equation 16; from memory).
    #[test]
    fn two_spheres_against_the_volume_of_their_lens() {
        for (big, small) in [(0.14, 0.14), (0.2, 0.1), (0.45, 0.06)] {
            for part in [0.05, 0.3, 0.7, 0.95] {
                let d = (big - small) + part * 2.0 * small;
                let lens = PI
                    * (big + small - d)
                    * (big + small - d)
                    * (d * d + 2.0 * d * (big + small) - 3.0 * (big - small) * (big - small))
                    / (12.0 * d);
                let sum = sphere(big) + sphere(small);
                let union =
                    union_volume(&[ball(0.3, 0.2, 0.1, big), ball(0.3, 0.2 + d, 0.1, small)]);
                assert!(
                    (union - (sum - lens)).abs() < 1e-12 * sum,
                    "{big} {small} {d}"
                );
            }
        }
    }

    #[test]
    fn apart_inside_and_in_one_place() {
        let big = ball(0.0, 0.0, 0.0, 0.2);
        let alone = sphere(0.2);
        assert!((union_volume(&[big]) - alone).abs() < 1e-15);
        let apart = union_volume(&[big, ball(0.5, 0.0, 0.0, 0.1)]);
        assert!((apart - alone - sphere(0.1)).abs() < 1e-15);
        for other in [ball(0.05, 0.0, 0.0, 0.1), ball(0.0, 0.0, 0.0, 0.1), big] {
            assert!((union_volume(&[big, other]) - alone).abs() < 1e-15);
            assert!((union_volume(&[other, big]) - alone).abs() < 1e-15);
        }
        assert_eq!(union_volume(&[]), 0.0);
    }
}

//! Where a ray meets a ball, a rod with round ends, and a box. Closed forms: a quadratic for each round part, slabs for the box.

use super::vector::{V3, v};

/// A ray: from where, and a direction of length 1.
#[derive(Clone, Copy, Debug)]
pub struct Ray {
    /// Its start.
    pub from: V3,
    /// Its direction.
    pub along: V3,
}

impl Ray {
    /// The point at a way from the start.
    pub fn at(self, way: f32) -> V3 {
        self.from + self.along * way
    }
}

/// Way to the near side of a ball.
///
/// The distance of the middle from the ray is taken from the vector across the ray, not as the difference of two large squares, which
/// would leave no digits for a small ball far away.
pub fn ball(ray: Ray, middle: V3, r: f32) -> Option<f32> {
    let to = middle - ray.from;
    let along = to.dot(ray.along);
    let across = to - ray.along * along;
    let inside = r * r - across.square();
    if inside <= 0.0 {
        return None;
    }
    let way = along - inside.sqrt();
    (way > 0.0).then_some(way)
}

/// Way to a rod from `a` to `b` with round ends, and the nearest point of its middle line.
pub fn rod(ray: Ray, a: V3, b: V3, r: f32) -> Option<(f32, V3)> {
    let axis = b - a;
    let long = axis.square();
    let mut best: Option<(f32, V3)> = None;
    let mut offer = |way: f32, middle: V3| {
        if way > 0.0 && best.is_none_or(|(w, _)| way < w) {
            best = Some((way, middle));
        }
    };
    if long > 0.0 {
        // start from the point of the ray nearest to the middle of the rod, to keep the digits
        let shift = ((a + b) * 0.5 - ray.from).dot(ray.along);
        let from = ray.at(shift) - a;
        let (slope, start) = (axis.dot(ray.along), axis.dot(from));
        let qa = long - slope * slope;
        let qb = long * ray.along.dot(from) - start * slope;
        let qc = long * from.square() - start * start - r * r * long;
        let root = qb * qb - qa * qc;
        if root >= 0.0 && qa > 0.0 {
            let way = (-qb - root.sqrt()) / qa;
            let share = (start + way * slope) / long;
            if (0.0..=1.0).contains(&share) {
                offer(way + shift, a + axis * share);
            }
        }
    }
    for end in [a, b] {
        if let Some(way) = ball(ray, end, r) {
            offer(way, end);
        }
    }
    best
}

/// Way to a box with upright sides about `middle`, and the outward direction there. `right` and `front` are its own directions.
pub fn panel(ray: Ray, middle: V3, half: V3, right: V3, front: V3) -> Option<(f32, V3)> {
    let axes = [right, v(0.0, 1.0, 0.0), front];
    let to = middle - ray.from;
    let (mut near, mut far) = (f32::NEG_INFINITY, f32::INFINITY);
    let mut face = axes[0];
    for (axis, half) in axes.into_iter().zip([half.x, half.y, half.z]) {
        let (e, f) = (axis.dot(to), axis.dot(ray.along));
        if f.abs() < 1e-9 {
            if e.abs() > half {
                return None;
            }
            continue;
        }
        let (one, two) = ((e - half) / f, (e + half) / f);
        if one.min(two) > near {
            near = one.min(two);
            face = if f > 0.0 { -axis } else { axis };
        }
        far = far.min(one.max(two));
    }
    (near <= far && near > 0.0).then_some((near, face))
}

#[cfg(test)]
mod tests {
    use super::*;

    const AHEAD: V3 = v(0.0, 0.0, -1.0);

    fn from(x: f32, y: f32) -> Ray {
        Ray {
            from: v(x, y, 5.0),
            along: AHEAD,
        }
    }

    // A ray at distance d from the middle enters a ball of radius r at sqrt(r² − d²) before the middle.
    #[test]
    fn a_ball_is_met_where_pythagoras_says() {
        let way = ball(from(0.3, 0.0), V3::default(), 0.5).unwrap();
        assert!((way - (5.0 - 0.4)).abs() < 1e-6);
        assert!(ball(from(0.5001, 0.0), V3::default(), 0.5).is_none());
        assert!(
            ball(from(0.0, 0.0), v(0.0, 0.0, 9.0), 0.5).is_none(),
            "it lies behind"
        );
        // a ball of 6 cm at 400 m keeps its edge to a tenth of a millimetre
        let far = Ray {
            from: v(0.0, 0.0, 400.0),
            along: AHEAD,
        };
        assert!(ball(far, v(0.0599, 0.0, 0.0), 0.06).is_some());
        assert!(ball(far, v(0.0601, 0.0, 0.0), 0.06).is_none());
    }

    // Across its side a rod is a circle, beyond its end a ball.
    #[test]
    fn a_rod_is_a_cylinder_with_balls_at_its_ends() {
        let (a, b) = (v(-1.0, 0.0, 0.0), v(1.0, 0.0, 0.0));
        let (way, middle) = rod(from(0.25, 0.03), a, b, 0.05).unwrap();
        assert!((way - (5.0 - 0.04)).abs() < 1e-5, "{way}");
        assert!((middle.x - 0.25).abs() < 1e-6 && middle.y.abs() < 1e-6);
        let (way, middle) = rod(from(1.03, 0.0), a, b, 0.05).unwrap();
        assert!((way - (5.0 - 0.04)).abs() < 1e-5, "{way}");
        assert_eq!(middle, b);
        assert!(rod(from(1.051, 0.0), a, b, 0.05).is_none());
        assert!(rod(from(0.0, 0.051), a, b, 0.05).is_none());
        // looked at from its end it is one ball
        let along = Ray {
            from: v(5.0, 0.0, 0.0),
            along: v(-1.0, 0.0, 0.0),
        };
        let (way, _) = rod(along, a, b, 0.05).unwrap();
        assert!((way - 3.95).abs() < 1e-5, "{way}");
    }

    // A box of half depth 0.1 is met 0.1 before its middle; turned by an eighth its edge stands √2 halves before it.
    #[test]
    fn a_box_is_met_at_its_face_and_at_its_edge() {
        let (right, front) = (v(1.0, 0.0, 0.0), v(0.0, 0.0, 1.0));
        let half = v(0.5, 1.0, 0.1);
        let (way, face) = panel(from(0.2, 0.9), V3::default(), half, right, front).unwrap();
        assert!((way - 4.9).abs() < 1e-6);
        assert_eq!(face, front);
        assert!(panel(from(0.51, 0.0), V3::default(), half, right, front).is_none());
        assert!(panel(from(0.0, 1.01), V3::default(), half, right, front).is_none());
        let s = 0.5_f32.sqrt();
        let cube = V3::all(0.5);
        let turned = panel(
            from(0.0, 0.0),
            V3::default(),
            cube,
            v(s, 0.0, -s),
            v(s, 0.0, s),
        );
        let (way, _) = turned.unwrap();
        assert!((way - (5.0 - s)).abs() < 1e-5, "{way}");
    }
}

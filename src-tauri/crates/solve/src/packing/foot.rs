//! Where along a path a point belongs.

use glam::DVec3;

use super::path::Path;

/// Steps at most; on a line bent as sharply as balloons can follow, five reach a micrometre.
const STEPS: u32 = 8;
/// Near enough, m.
const NEAR: f64 = 1e-7;
/// The path recedes from a point in the inside of a bend at least at this share of the way gone.
const LEAST_SLOPE: f64 = 0.2;

/// The arc length s, found from `start`, at which the point lies `ahead` of the plane across the path: ahead = (x − p(s)) · t(s).
/// With `ahead` = 0 that is the foot of the perpendicular; with −r and r the two ends of a sphere.
pub(super) fn foot(path: &Path, start: f64, point: DVec3, ahead: f64) -> f64 {
    let miss = |s: f64| {
        let frame = path.frame(s);
        (point - frame.point).dot(frame.tangent) - ahead
    };
    let (mut s, mut m) = (start, miss(start));
    let mut slope = 1.0;
    for _ in 0..STEPS {
        if m.abs() < NEAR {
            break;
        }
        let next = s + m / slope;
        let after = miss(next);
        slope = ((m - after) / (next - s)).clamp(LEAST_SLOPE, 2.0);
        (s, m) = (next, after);
    }
    s
}

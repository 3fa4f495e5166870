//! What a chain hangs in between two points at different heights. Lengths in the unit of the input.
//!
//! y = c cosh((x − m)/c) + k over a span S and a lift h of the right end. With u = S/2c and w = (S/2 − m)/c: h = 2c sinh w sinh u,
//! length L = 2c cosh w sinh u, so that L² − h² = (2c sinh u)²; the sag below the middle of the straight line between the ends is
//! c cosh w (cosh u − 1).

/// Most halvings of a bracket; it ends where the bracket holds no further number.
const HALVINGS: u32 = 200;
/// Half the span over the parameter at most: beyond, hyperbolic functions overflow.
const MOST: f64 = 700.0;
/// A sag or slack below this share of the span is none.
const NONE: f64 = 1e-9;

/// A hanging chain from its left end at the origin to its right end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hanging {
    span: f64,
    lift: f64,
    sag: f64,
    bend: Option<Bend>,
}

/// The curve's parameter, and its lowest point, to the right of the left end; it may lie outside the span.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Bend {
    c: f64,
    low: f64,
}

impl Hanging {
    /// From the span, the lift of the right end, and the sag below the middle of the straight line between the ends. Negative spans
    /// and sags count as 0; without a sag it is taut.
    #[must_use]
    pub fn with_sag(span: f64, lift: f64, sag: f64) -> Self {
        let (span, sag) = (span.max(0.0), sag.max(0.0));
        // both terms grow with u: (S/2 · (cosh u − 1)/u)² + (h/2 · tanh(u/2))²
        let want = sag * sag;
        let bend = (span > 0.0 && sag > span * NONE && want.is_finite() && lift.is_finite())
            .then(|| {
                let u = halved(|u| {
                    let half = libm::sinh(u / 2.0);
                    let flat = span / 2.0 * (2.0 * half * half / u);
                    let steep = lift / 2.0 * libm::tanh(u / 2.0);
                    flat * flat + steep * steep < want
                });
                Bend::of(span, lift, u)
            })
            .flatten();
        Self {
            span,
            lift,
            sag,
            bend,
        }
    }

    /// From the span, the lift of the right end, and the length. Absent if it is shorter than the straight line.
    #[must_use]
    pub fn with_length(span: f64, lift: f64, length: f64) -> Option<Self> {
        let level = (length * length - lift * lift).max(0.0).sqrt();
        if span.is_nan() || span <= 0.0 || !length.is_finite() || level < span {
            return None;
        }
        if level - span <= span * NONE {
            return Some(Self::with_sag(span, lift, 0.0));
        }
        // sinh u / u = √(L² − h²) / S
        let u = halved(|u| libm::sinh(u) / u < level / span);
        let bend = Bend::of(span, lift, u)?;
        let half = libm::sinh(u / 2.0);
        let w = libm::asinh(lift / (2.0 * bend.c * libm::sinh(u)));
        let sag = bend.c * libm::cosh(w) * 2.0 * half * half;
        Some(Self {
            span,
            lift,
            sag,
            bend: Some(bend),
        })
    }

    /// Between two points at one height, from the length and the sag: c = (s² − f²) / 2f with half the length s and the sag f, and
    /// the span is 2c asinh(s/c). Absent if the sag is none, or half the length or more.
    #[must_use]
    pub fn level(length: f64, sag: f64) -> Option<Self> {
        let half = length / 2.0;
        if !(sag > 0.0 && sag < half && half.is_finite()) {
            return None;
        }
        let c = (half * half - sag * sag) / (2.0 * sag);
        let span = 2.0 * c * libm::asinh(half / c);
        Some(Self {
            span,
            lift: 0.0,
            sag,
            bend: Some(Bend { c, low: span / 2.0 }),
        })
    }

    /// Between the ends, level.
    #[must_use]
    pub fn span(self) -> f64 {
        self.span
    }

    /// Below the middle of the straight line between the ends.
    #[must_use]
    pub fn sag(self) -> f64 {
        self.sag
    }

    /// The parameter c; absent for a taut chain. The pull at a point is the weight of the unit of length times c plus its height over
    /// the lowest point.
    #[must_use]
    pub fn parameter(self) -> Option<f64> {
        self.bend.map(|b| b.c)
    }

    /// Arc length.
    #[must_use]
    pub fn length(self) -> f64 {
        match self.bend {
            Some(Bend { c, low }) => c * (libm::sinh((self.span - low) / c) + libm::sinh(low / c)),
            None => libm::hypot(self.span, self.lift).max(2.0 * self.sag),
        }
    }

    /// `n` points (at least 2) evenly spaced by arc length, both ends included: x to the right and y up from the left end.
    #[must_use]
    pub fn points(self, n: u32) -> Vec<[f64; 2]> {
        let n = n.max(2);
        let length = self.length();
        (0..n)
            .map(|i| {
                let way = length * f64::from(i) / f64::from(n - 1);
                match self.bend {
                    Some(Bend { c, low }) => {
                        let first = c * libm::sinh(low / c);
                        let x = c * libm::asinh((way - first) / c);
                        [x + low, c * (libm::cosh(x / c) - libm::cosh(low / c))]
                    }
                    None => self.straight(way, length),
                }
            })
            .collect()
    }

    /// A point of what has no bend: taut, or straight down and up again.
    fn straight(self, way: f64, length: f64) -> [f64; 2] {
        let share = if length > 0.0 { way / length } else { 0.0 };
        let taut = libm::hypot(self.span, self.lift);
        if length <= taut {
            return [self.span * share, self.lift * share];
        }
        // down to the turning point and up: as much more on the higher side as it is higher
        let down = (length - self.lift) / 2.0;
        let y = if way < down { -way } else { way - 2.0 * down };
        [self.span * share, y]
    }
}

impl Bend {
    /// Absent where the numbers end.
    fn of(span: f64, lift: f64, u: f64) -> Option<Self> {
        let c = span / (2.0 * u);
        let w = libm::asinh(lift / (2.0 * c * libm::sinh(u)));
        let low = span / 2.0 - c * w;
        (c.is_finite() && c > 0.0 && low.is_finite()).then_some(Self { c, low })
    }
}

/// The number above which a condition no longer holds.
fn halved(below: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (0.0, MOST);
    for _ in 0..HALVINGS {
        let middle = (low + high) / 2.0;
        if middle <= low || middle >= high {
            break;
        }
        if below(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low + high) / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::curve::Curve;

    fn close(got: f64, want: f64, relative: f64) {
        assert!(
            (got - want).abs() <= want.abs().max(1e-9) * relative,
            "{got} is not {want}"
        );
    }

    /// Pull at the ends for a weight of a unit of length: that times c plus sag.
    fn pull(chain: Hanging, weight: f64) -> f64 {
        weight * (chain.parameter().unwrap() + chain.sag())
    }

    /// Worked handout "6.7 Cables: Catenaries, Example 1": 140 m over 120 m, 3 kg/m: c 61.45 m, sag 31.70 m, pull 2.741 kN.
    #[test]
    fn from_span_and_length() {
        let chain = Hanging::with_length(120.0, 0.0, 140.0).unwrap();
        close(chain.parameter().unwrap(), 61.45, 2e-4);
        close(chain.sag(), 31.70, 2e-4);
        close(pull(chain, 3.0 * 9.81), 2741.0, 2e-4);
        close(chain.length(), 140.0, 1e-12);
    }

    /// Worked handout "Catenary Problems 1": 625 ft with a sag of 25 ft, 2 lb/ft: c 1940.625 ft, towers 622.33 ft apart, 3931.25 lb.
    /// Beer and Johnston, Vector Mechanics: Statics, problems 7.127 and 7.128: 25 ft of 30 lb with a sag of 10 ft: 12.359 ft, 15.375 lb;
    /// 500 ft of 2.8 lb/ft with 125 ft: 411.98 ft, 875 lb.
    #[test]
    fn from_length_and_sag() {
        let wire = Hanging::level(625.0, 25.0).unwrap();
        close(wire.parameter().unwrap(), 1940.625, 1e-5);
        close(wire.span(), 622.33, 1e-5);
        close(pull(wire, 2.0), 3931.25, 1e-5);
        let chain = Hanging::level(25.0, 10.0).unwrap();
        close(chain.span(), 12.359, 1e-4);
        close(pull(chain, 30.0 / 25.0), 15.375, 1e-4);
        let cable = Hanging::level(500.0, 125.0).unwrap();
        close(cable.span(), 411.98, 1e-4);
        close(pull(cable, 2.8), 875.0, 1e-4);
        for chain in [wire, chain, cable] {
            let again = Hanging::with_sag(chain.span(), 0.0, chain.sag());
            close(again.length(), chain.length(), 1e-10);
        }
        assert_eq!(Hanging::level(10.0, 5.0), None);
        assert_eq!(Hanging::level(10.0, 0.0), None);
    }

    /// The same book, Sample Problem 7.10 (from memory), and the closed forms of two draped chains.
    #[test]
    fn from_span_and_sag() {
        let cable = Hanging::with_sag(500.0, 0.0, 100.0);
        close(cable.parameter().unwrap(), 327.93, 1e-4);
        close(cable.length(), 549.86, 1e-4);
        close(pull(cable, 3.0), 1283.8, 1e-4);
        close(Hanging::with_sag(3.0, 0.0, 0.6).length(), 3.299_15, 4e-6);
        close(Hanging::with_sag(2.0, 0.0, 0.5).length(), 2.301_58, 4e-6);
    }

    /// Between points at one height it is the level catenary, whichever end is lifted by nothing.
    #[test]
    fn the_level_limit() {
        for (span, sag) in [(3.0, 0.6), (2.0, 0.5), (1.0, 4.0), (5.0, 0.01)] {
            let level = Curve::Catenary { span, sag };
            let lifted = Hanging::with_sag(span, 1e-9, sag);
            close(lifted.length(), level.length(), 1e-8);
            close(
                Hanging::with_sag(span, 0.0, sag).length(),
                level.length(),
                1e-12,
            );
            for (a, b) in lifted.points(9).iter().zip(level.points(9, 1e-9)) {
                assert!((a[0] - b[0]).abs() < 1e-7 && (a[1] - b[1]).abs() < 1e-7);
            }
        }
    }

    /// L² − h² = (2c sinh(S/2c))², the closed form of the inclined catenary; the sag is measured on the points themselves; a lift to
    /// the left mirrors one to the right.
    #[test]
    fn lifted_ends() {
        for (span, lift, sag) in [
            (3.0, 1.0, 0.6),
            (3.0, -1.0, 0.6),
            (2.0, 4.0, 0.3),
            (4.0, 0.5, 2.0),
            (1.0, 1.0, 10.0),
        ] {
            let chain = Hanging::with_sag(span, lift, sag);
            let c = chain.parameter().unwrap();
            let level = 2.0 * c * libm::sinh(span / (2.0 * c));
            close(chain.length().powi(2) - lift * lift, level * level, 1e-9);
            let points = chain.points(2001);
            let end = points[2000];
            assert!((end[0] - span).abs() < 1e-9 && (end[1] - lift).abs() < 1e-9);
            // where the points pass the middle of the span
            let after = points.partition_point(|p| p[0] < span / 2.0);
            let (a, b) = (points[after - 1], points[after]);
            let t = (span / 2.0 - a[0]) / (b[0] - a[0]);
            let y = a[1] + t * (b[1] - a[1]);
            assert!((lift / 2.0 - y - sag).abs() < 1e-4 * sag, "{y}");
            let sum: f64 = points
                .windows(2)
                .map(|two| libm::hypot(two[1][0] - two[0][0], two[1][1] - two[0][1]))
                .sum();
            close(sum, chain.length(), 1e-5);
            let again = Hanging::with_length(span, lift, chain.length()).unwrap();
            close(again.sag(), sag, 1e-6);
            let mirrored = Hanging::with_sag(span, -lift, sag);
            close(mirrored.length(), chain.length(), 1e-12);
        }
    }

    #[test]
    fn taut_and_upright() {
        close(Hanging::with_sag(3.0, 4.0, 0.0).length(), 5.0, 1e-12);
        assert_eq!(Hanging::with_sag(3.0, 4.0, 0.0).points(3)[1], [1.5, 2.0]);
        // straight down and up again: 2 m below the middle of a lift of 1 m
        let down = Hanging::with_sag(0.0, 1.0, 2.0);
        close(down.length(), 4.0, 1e-12);
        let points = down.points(9);
        assert_eq!((points[3], points[8]), ([0.0, -1.5], [0.0, 1.0]));
        assert_eq!(Hanging::with_length(3.0, 4.0, 4.9), None);
        close(
            Hanging::with_length(3.0, 4.0, 5.0).unwrap().length(),
            5.0,
            1e-9,
        );
    }

    #[test]
    fn absurd_measures_are_answered() {
        for a in [0.0, -1.0, 1e-300, 1e18, f64::MAX, f64::INFINITY, f64::NAN] {
            for b in [0.0, 1.0, -1e18, f64::NAN] {
                for c in [0.0, 1.0, 1e18, f64::INFINITY] {
                    assert_eq!(Hanging::with_sag(a, b, c).points(3).len(), 3);
                    let _ = Hanging::with_length(a, b, c);
                    let _ = Hanging::level(a, c);
                }
            }
        }
    }
}

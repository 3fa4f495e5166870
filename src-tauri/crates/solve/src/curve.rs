//! Plane curves by arc length: straight line, half ellipse, catenary. Lengths in the unit of the input.

use std::f64::consts::PI;

/// Rounds of the arithmetic-geometric mean; it doubles the right digits each round, six are enough for 52 bits.
const AGM_ROUNDS: i32 = 40;
/// Halvings of the bracket of the catenary's parameter; 200 leave less than one bit.
const HALVINGS: i32 = 200;
/// Parts that an arch is cut into to place points by arc length: an error below 1e-6 of its length.
const PARTS: u32 = 4096;

/// A path from its left end to its right end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Curve {
    /// Along the floor.
    Straight {
        /// Its length.
        length: f64,
    },
    /// The upper half of an ellipse that stands on its two ends.
    HalfEllipse {
        /// Between the ends.
        span: f64,
        /// Height in the middle.
        rise: f64,
    },
    /// What a chain hangs in between two points at one height.
    Catenary {
        /// Between the ends.
        span: f64,
        /// Sag in the middle.
        sag: f64,
    },
}

impl Curve {
    /// Arc length. Negative measures count as 0.
    #[must_use]
    pub fn length(self) -> f64 {
        match self {
            Curve::Straight { length } => length.max(0.0),
            Curve::HalfEllipse { span, rise } => {
                ellipse_perimeter(span.max(0.0) / 2.0, rise.max(0.0)) / 2.0
            }
            Curve::Catenary { span, sag } => {
                let (span, sag) = (span.max(0.0), sag.max(0.0));
                match catenary_parameter(span, sag) {
                    Some(c) => 2.0 * c * libm::sinh(span / (2.0 * c)),
                    None => span.max(2.0 * sag),
                }
            }
        }
    }

    /// `n` points (at least 2) evenly spaced by arc length, both ends included: x to the right from 0, y up from 0 at the ends.
    #[must_use]
    pub fn points(self, n: u32) -> Vec<[f64; 2]> {
        let n = n.max(2);
        let steps = f64::from(n - 1);
        match self {
            Curve::Straight { length } => (0..n)
                .map(|i| [length.max(0.0) * f64::from(i) / steps, 0.0])
                .collect(),
            Curve::HalfEllipse { span, rise } => {
                half_ellipse_points(span.max(0.0) / 2.0, rise.max(0.0), n)
            }
            Curve::Catenary { span, sag } => {
                let (span, sag) = (span.max(0.0), sag.max(0.0));
                let half = self.length() / 2.0;
                (0..n)
                    .map(|i| {
                        let s = half * (2.0 * f64::from(i) / steps - 1.0);
                        match catenary_parameter(span, sag) {
                            Some(c) => {
                                let x = c * libm::asinh(s / c);
                                [x + span / 2.0, c * libm::cosh(x / c) - c - sag]
                            }
                            // no sag: a taut line; no span: down and up again
                            None if sag == 0.0 => [span / 2.0 + s, 0.0],
                            None => [span / 2.0, s.abs() - sag],
                        }
                    })
                    .collect()
            }
        }
    }
}

/// Perimeter of an ellipse with semi-axes a, b, by the arithmetic-geometric mean: 2π (a² − Σ 2^(n−1) c_n²) / M(a, b),
/// Abramowitz and Stegun 17.6; exact to rounding.
#[must_use]
pub fn ellipse_perimeter(a: f64, b: f64) -> f64 {
    let (long, short) = if a > b { (a, b) } else { (b, a) };
    if short <= 0.0 {
        return 4.0 * long;
    }
    let (mut x, mut y) = (long, short);
    let mut sum = (long * long - short * short) / 2.0;
    let mut power = 0.5;
    for _ in 0..AGM_ROUNDS {
        let c = (x - y) / 2.0;
        (x, y) = ((x + y) / 2.0, (x * y).sqrt());
        power *= 2.0;
        sum += power * c * c;
        if c <= x * f64::EPSILON {
            break;
        }
    }
    2.0 * PI * (long * long - sum) / x
}

/// The parameter c of y = c cosh(x/c) for a span and a sag: sag = c (cosh(span/2c) − 1). Absent where there is no curve.
fn catenary_parameter(span: f64, sag: f64) -> Option<f64> {
    if span <= 0.0 || sag <= span * 1e-9 {
        return None;
    }
    // with u = span / 2c: (cosh u − 1) / u = 2 sag / span, which grows with u
    let want = 2.0 * sag / span;
    let (mut low, mut high) = (0.0, 700.0);
    for _ in 0..HALVINGS {
        let u = (low + high) / 2.0;
        let sinh_half = libm::sinh(u / 2.0);
        if 2.0 * sinh_half * sinh_half / u < want {
            low = u;
        } else {
            high = u;
        }
    }
    Some(span / (low + high))
}

fn half_ellipse_points(a: f64, rise: f64, n: u32) -> Vec<[f64; 2]> {
    let at = |i: u32| {
        let angle = PI * f64::from(i) / f64::from(PARTS);
        [a - a * libm::cos(angle), rise * libm::sin(angle)]
    };
    let mut along = vec![0.0];
    let mut total = 0.0;
    for i in 0..PARTS {
        let (p, q) = (at(i), at(i + 1));
        let (dx, dy) = (q[0] - p[0], q[1] - p[1]);
        total += (dx * dx + dy * dy).sqrt();
        along.push(total);
    }
    (0..n)
        .map(|k| {
            let want = total * f64::from(k) / f64::from(n - 1);
            let after = along
                .partition_point(|s| *s < want)
                .clamp(1, along.len() - 1);
            let i = u32::try_from(after).unwrap_or(PARTS);
            let (p, q) = (at(i - 1), at(i));
            let step = along[after] - along[after - 1];
            let t = if step > 0.0 {
                (want - along[after - 1]) / step
            } else {
                0.0
            };
            [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])]
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(got: f64, want: f64, abs: f64) {
        assert!((got - want).abs() <= abs, "{got} is not {want}");
    }

    /// Ramanujan 1914, with the exact value 4 a E(e) by scipy.special.ellipe beside it.
    #[test]
    fn perimeters_of_ellipses() {
        close(ellipse_perimeter(5.0, 3.0), 25.526_998_863_398, 1e-9);
        close(ellipse_perimeter(2.0, 1.0), 9.688_448_22, 1e-7);
        close(ellipse_perimeter(10.0, 1.0), 40.639_741_8, 1e-6);
        close(ellipse_perimeter(1.0, 1.0), 2.0 * PI, 1e-12);
        close(ellipse_perimeter(1.0, 0.0), 4.0, 1e-12);
    }

    /// Half perimeter by scipy.
    #[test]
    fn an_arch_of_two_and_a_half_metres() {
        close(
            Curve::HalfEllipse {
                span: 2.5,
                rise: 2.2,
            }
            .length(),
            5.522_471,
            1e-6,
        );
    }

    /// Closed forms of the catenary; a parabola and an arc of a circle differ by more than the tolerance.
    #[test]
    fn draped_chains() {
        close(
            Curve::Catenary {
                span: 3.0,
                sag: 0.6,
            }
            .length(),
            3.299_15,
            1e-5,
        );
        close(
            Curve::Catenary {
                span: 2.0,
                sag: 0.5,
            }
            .length(),
            2.301_58,
            1e-5,
        );
        close(
            Curve::Catenary {
                span: 2.0,
                sag: 0.0,
            }
            .length(),
            2.0,
            1e-12,
        );
        close(
            Curve::Catenary {
                span: 0.0,
                sag: 0.5,
            }
            .length(),
            1.0,
            1e-12,
        );
    }

    /// Beer and Johnston, Vector Mechanics: Statics, Sample Problem 7.10 (from memory): span 500 ft, sag 100 ft, 550 ft of cable.
    #[test]
    fn a_handbook_cable() {
        close(
            Curve::Catenary {
                span: 500.0,
                sag: 100.0,
            }
            .length(),
            549.86,
            0.01,
        );
    }

    #[test]
    fn points_are_even_by_arc_length_and_end_at_the_ends() {
        for curve in [
            Curve::Straight { length: 3.0 },
            Curve::HalfEllipse {
                span: 2.5,
                rise: 2.2,
            },
            Curve::HalfEllipse {
                span: 2.5,
                rise: 0.0,
            },
            Curve::Catenary {
                span: 3.0,
                sag: 0.6,
            },
            Curve::Catenary {
                span: 3.0,
                sag: 0.0,
            },
            Curve::Catenary {
                span: 0.0,
                sag: 0.6,
            },
        ] {
            let n = 401;
            let points = curve.points(n);
            let mut sum = 0.0;
            for pair in points.windows(2) {
                let (dx, dy) = (pair[1][0] - pair[0][0], pair[1][1] - pair[0][1]);
                let step = (dx * dx + dy * dy).sqrt();
                close(step, curve.length() / 400.0, curve.length() * 2e-5);
                sum += step;
            }
            close(sum, curve.length(), curve.length() * 1e-4);
            close(points[0][1], 0.0, 1e-9);
            close(points[400][1], 0.0, 1e-9);
        }
    }
}

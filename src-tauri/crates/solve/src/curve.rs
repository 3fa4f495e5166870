//! Plane curves by arc length: straight line, half and quarter of an ellipse, catenary. Lengths in the unit of the input.

use std::f64::consts::{FRAC_PI_2, PI};

/// Rounds of the arithmetic-geometric mean; it doubles the right digits each round, six are enough for 52 bits.
const AGM_ROUNDS: i32 = 40;
/// Most halvings of the bracket of the catenary's parameter; it ends where the bracket holds no further number.
const HALVINGS: i32 = 200;
/// An arch is cut into this power of two of parts, at least and at most, to place points by arc length.
const POWERS: [u32; 2] = [6, 16];

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
    /// The first quarter of an ellipse: upright from its left end, level at its right end.
    QuarterEllipse {
        /// From the left end to under the right end.
        span: f64,
        /// Height of the right end.
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
            Curve::QuarterEllipse { span, rise } => {
                ellipse_perimeter(span.max(0.0), rise.max(0.0)) / 4.0
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

    /// `n` points (at least 2) evenly spaced by arc length, both ends included: x to the right from 0, y up from 0 at the left end.
    /// No point is further from its place than `accuracy` times the length; 1e-9 is the finest.
    #[must_use]
    pub fn points(self, n: u32, accuracy: f64) -> Vec<[f64; 2]> {
        let n = n.max(2);
        let steps = f64::from(n - 1);
        match self {
            Curve::Straight { length } => (0..n)
                .map(|i| [length.max(0.0) * f64::from(i) / steps, 0.0])
                .collect(),
            Curve::HalfEllipse { span, rise } => {
                let (a, b) = (span.max(0.0) / 2.0, rise.max(0.0));
                ellipse_points(a, b, PI, n, parts(accuracy))
            }
            Curve::QuarterEllipse { span, rise } => {
                let (a, b) = (span.max(0.0), rise.max(0.0));
                ellipse_points(a, b, FRAC_PI_2, n, parts(accuracy))
            }
            Curve::Catenary { span, sag } => {
                let (span, sag) = (span.max(0.0), sag.max(0.0));
                let half = self.length() / 2.0;
                let parameter = catenary_parameter(span, sag);
                (0..n)
                    .map(|i| {
                        let s = half * (2.0 * f64::from(i) / steps - 1.0);
                        match parameter {
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
        if u <= low || u >= high {
            break;
        }
        let sinh_half = libm::sinh(u / 2.0);
        if 2.0 * sinh_half * sinh_half / u < want {
            low = u;
        } else {
            high = u;
        }
    }
    Some(span / (low + high))
}

/// Equal parts of the half turn, or of less, for an accuracy. On N of them chords cut a circle short by (π/N)²/24, and laying out points
/// evenly on a part errs by at most (π/N)²/8 of the semi-axis, at the tip of a flat ellipse: together below 1.1/N² of the length.
fn parts(accuracy: f64) -> u32 {
    let [few, many] = POWERS;
    (few..many)
        .map(|power| 1u32 << power)
        .find(|n| f64::from(*n) * f64::from(*n) * accuracy >= 1.1)
        .unwrap_or(1 << many)
}

/// From the left end of an ellipse that stands on its middle, up and over by a part of the turn.
fn ellipse_points(a: f64, rise: f64, turn: f64, n: u32, parts: u32) -> Vec<[f64; 2]> {
    let chord: Vec<[f64; 2]> = (0..=parts)
        .map(|i| {
            let angle = turn * f64::from(i) / f64::from(parts);
            [a - a * libm::cos(angle), rise * libm::sin(angle)]
        })
        .collect();
    let mut along = vec![0.0];
    let mut total = 0.0;
    for ends in chord.windows(2) {
        let (dx, dy) = (ends[1][0] - ends[0][0], ends[1][1] - ends[0][1]);
        total += (dx * dx + dy * dy).sqrt();
        along.push(total);
    }
    (0..n)
        .map(|k| {
            let want = total * f64::from(k) / f64::from(n - 1);
            let after = along
                .partition_point(|s| *s < want)
                .clamp(1, along.len() - 1);
            let (p, q) = (chord[after - 1], chord[after]);
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

    /// A quarter of each perimeter above (Ramanujan 1914; exact values by scipy.special.ellipe), whichever way it is longer; half of an
    /// arch of twice its span; a quarter circle; nothing to one side.
    #[test]
    fn half_arches() {
        let long = |span, rise| Curve::QuarterEllipse { span, rise }.length();
        close(long(5.0, 3.0), 25.526_998_863_398 / 4.0, 1e-9);
        close(long(1.0, 2.0), 9.688_448_22 / 4.0, 1e-7);
        close(long(10.0, 1.0), 40.639_741_8 / 4.0, 1e-6);
        close(long(1.25, 2.2), 5.522_471 / 2.0, 1e-6);
        close(long(2.0, 2.0), PI, 1e-12);
        close(long(0.0, 2.2), 2.2, 1e-12);
        let points = Curve::QuarterEllipse {
            span: 2.0,
            rise: 2.0,
        }
        .points(3, 1e-7);
        // halfway along a quarter circle is an eighth of the turn
        let eighth = 2.0 * std::f64::consts::FRAC_1_SQRT_2;
        for (got, want) in points
            .iter()
            .zip([[0.0, 0.0], [2.0 - eighth, eighth], [2.0, 2.0]])
        {
            close(got[0], want[0], 1e-6);
            close(got[1], want[1], 1e-6);
        }
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
            Curve::QuarterEllipse {
                span: 1.6,
                rise: 2.2,
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
            let points = curve.points(n, 1e-7);
            let mut sum = 0.0;
            for pair in points.windows(2) {
                let (dx, dy) = (pair[1][0] - pair[0][0], pair[1][1] - pair[0][1]);
                let step = (dx * dx + dy * dy).sqrt();
                close(step, curve.length() / 400.0, curve.length() * 2e-5);
                sum += step;
            }
            close(sum, curve.length(), curve.length() * 1e-4);
            close(points[0][1], 0.0, 1e-9);
            let top = match curve {
                Curve::QuarterEllipse { rise, .. } => rise,
                _ => 0.0,
            };
            close(points[400][1], top, 1e-9);
        }
    }

    /// A semicircle has its points where trigonometry says; the errors stay below the accuracy that was asked for.
    #[test]
    fn points_are_as_exact_as_asked() {
        for accuracy in [1e-3, 1e-5, 1e-7, 1e-9] {
            let circle = Curve::HalfEllipse {
                span: 2.0,
                rise: 1.0,
            };
            for (i, [x, y]) in circle.points(8, accuracy).into_iter().enumerate() {
                let angle = PI * f64::from(u8::try_from(i).unwrap()) / 7.0;
                close(x, 1.0 - libm::cos(angle), PI * accuracy);
                close(y, libm::sin(angle), PI * accuracy);
            }
            // a flat arch is there and back along nothing: its points are even along the floor
            let flat = Curve::HalfEllipse {
                span: 4.0,
                rise: 0.0,
            };
            for (i, [x, _]) in flat.points(9, accuracy).into_iter().enumerate() {
                close(x, f64::from(u8::try_from(i).unwrap()) / 2.0, 4.0 * accuracy);
            }
        }
    }

    #[test]
    fn absurd_measures_are_answered() {
        for big in [0.0, -1.0, 1e-300, 1e18, f64::MAX, f64::INFINITY, f64::NAN] {
            for other in [0.0, 1.0, 1e18, f64::NAN] {
                for curve in [
                    Curve::Straight { length: big },
                    Curve::HalfEllipse {
                        span: big,
                        rise: other,
                    },
                    Curve::QuarterEllipse {
                        span: big,
                        rise: other,
                    },
                    Curve::Catenary {
                        span: big,
                        sag: other,
                    },
                    Curve::Catenary {
                        span: other,
                        sag: big,
                    },
                ] {
                    let _ = curve.length();
                    assert_eq!(curve.points(3, big).len(), 3);
                }
            }
        }
    }
}

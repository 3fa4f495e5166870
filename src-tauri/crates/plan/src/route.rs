//! The path of a garland in space, tip to tip: the closed forms where there are any, and points to draw and to pack along.

use job::list::live;
use job::piece::{Garland, PathPoint, Shape};
use solve::curve::Curve;

use crate::inflate::whole;

/// Points of a curved path: one to so many millimetres.
const STEP_MM: f64 = 25.0;
/// At least and at most so many points.
const POINTS: (u32, u32) = (65, 2049);
/// How far a point may be off, as share of the length.
const ACCURACY: f64 = 1e-6;
/// Parts of a drawn path between two of its points.
const PARTS: u32 = 24;

/// A path, mm: x to the right, y up, z towards the viewer.
#[derive(Debug, Clone, PartialEq)]
pub struct Route {
    /// Arc length.
    pub length: f64,
    /// Its points, evenly spaced by arc length but for corners; two for a straight line.
    pub points: Vec<[f64; 3]>,
    /// The last point is the first again.
    pub closed: bool,
}

impl Route {
    /// The path of a garland; absent if a newer version drew it.
    #[must_use]
    pub fn of(garland: &Garland) -> Option<Route> {
        match garland.shape {
            Shape::Straight => Some(Route::curve(Curve::Straight {
                length: whole(garland.length_mm),
            })),
            Shape::Arch => Some(Route::curve(Curve::HalfEllipse {
                span: whole(garland.span_mm),
                rise: whole(garland.rise_mm),
            })),
            Shape::HalfArch => Some(half_arch(garland)),
            Shape::Swag => Some(Route::curve(Curve::Catenary {
                span: whole(garland.span_mm),
                sag: whole(garland.rise_mm),
            })),
            Shape::Stair => Some(stair(garland)),
            Shape::Hoop => Some(hoop(
                whole(garland.span_mm).max(0.0),
                whole(garland.rise_mm).max(0.0),
            )),
            Shape::Drawn => Some(drawn(&live(&garland.points))),
            Shape::Newer => None,
        }
    }

    fn curve(curve: Curve) -> Route {
        let length = curve.length();
        let count = match curve {
            Curve::Straight { .. } => 2,
            _ => steps(length),
        };
        Route {
            length,
            points: curve
                .points(count, ACCURACY)
                .into_iter()
                .map(|[x, y]| [x, y, 0.0])
                .collect(),
            closed: false,
        }
    }

    /// The points of the path without its first `lead` mm.
    #[must_use]
    pub fn after(&self, lead: f64) -> Vec<[f64; 3]> {
        let mut left = lead.max(0.0);
        for (i, w) in self.points.windows(2).enumerate() {
            let long = between(w[0], w[1]);
            if left < long {
                let from = [0, 1, 2].map(|c| w[0][c] + (w[1][c] - w[0][c]) * left / long);
                return std::iter::once(from)
                    .chain(self.points[i + 1..].iter().copied())
                    .collect();
            }
            left -= long;
        }
        self.points.clone()
    }

    /// `n` points evenly spaced by arc length, both ends included.
    #[must_use]
    pub fn spread(&self, n: u32) -> Vec<[f64; 3]> {
        even(&self.points, n)
    }
}

/// Points for a curve of a length.
fn steps(length: f64) -> u32 {
    let (few, many) = POINTS;
    // the range is far inside u32
    (length / STEP_MM).clamp(f64::from(few), f64::from(many)) as u32
}

/// From its foot up and over, to either side.
fn half_arch(garland: &Garland) -> Route {
    let span = whole(garland.span_mm).max(0.0);
    let mut route = Route::curve(Curve::QuarterEllipse {
        span,
        rise: whole(garland.rise_mm),
    });
    if garland.mirrored {
        for point in &mut route.points {
            point[0] = span - point[0];
        }
    }
    route
}

/// Up along the rail, then level along the landing.
fn stair(garland: &Garland) -> Route {
    let (run, rise) = (
        whole(garland.span_mm).max(0.0),
        whole(garland.rise_mm).max(0.0),
    );
    let landing = whole(garland.landing_mm).max(0.0);
    let mut points = vec![[0.0, 0.0, 0.0], [run, rise, 0.0]];
    if landing > 0.0 {
        points.push([run + landing, rise, 0.0]);
    }
    Route {
        length: length(&points),
        points,
        closed: false,
    }
}

/// A closed ellipse that stands on its lowest point, where it begins and ends.
fn hoop(span: f64, rise: f64) -> Route {
    let half = Curve::HalfEllipse {
        span,
        rise: rise / 2.0,
    };
    // an odd number, so that the lowest point is one of them
    let n = steps(half.length()) | 1;
    let upper = half.points(n, ACCURACY);
    let above = upper.iter().map(|[x, y]| [*x, rise / 2.0 + y, 0.0]);
    let below = upper
        .iter()
        .rev()
        .skip(1)
        .map(|[x, y]| [*x, rise / 2.0 - y, 0.0]);
    let mut round: Vec<[f64; 3]> = above.chain(below).collect();
    // the last is the first again: turn the rest so that the lowest comes first
    round.pop();
    let lowest = (0..round.len())
        .min_by(|a, b| round[*a][1].total_cmp(&round[*b][1]).then(a.cmp(b)))
        .unwrap_or(0);
    round.rotate_left(lowest);
    round.extend(round.first().copied());
    Route {
        length: half.length() * 2.0,
        points: round,
        closed: true,
    }
}

/// Through its points without corners: between two points the cubic of Catmull and Rom (1974), uniform, whose tangent at each point
/// is half the way from the one before to the one after.
fn drawn(points: &[(&str, &PathPoint)]) -> Route {
    let mut at: Vec<[f64; 3]> = points
        .iter()
        .map(|(_, p)| [whole(p.x_mm), whole(p.y_mm), whole(p.z_mm)])
        .collect();
    at.dedup();
    if at.len() < 2 {
        return Route {
            length: 0.0,
            points: at,
            closed: false,
        };
    }
    let last = at.len() - 1;
    let mut fine = vec![at[0]];
    for i in 0..last {
        let (a, b) = (at[i], at[i + 1]);
        let before = at[i.saturating_sub(1)];
        let after = at[(i + 2).min(last)];
        for part in 1..=PARTS {
            let t = f64::from(part) / f64::from(PARTS);
            fine.push([0, 1, 2].map(|c| cubic(before[c], a[c], b[c], after[c], t)));
        }
    }
    let length = length(&fine);
    Route {
        length,
        points: if last == 1 {
            vec![at[0], at[1]]
        } else {
            even(&fine, steps(length))
        },
        closed: false,
    }
}

fn cubic(before: f64, a: f64, b: f64, after: f64, t: f64) -> f64 {
    let (m, n) = ((b - before) / 2.0, (after - a) / 2.0);
    let (t2, t3) = (t * t, t * t * t);
    (2.0 * t3 - 3.0 * t2 + 1.0) * a
        + (t3 - 2.0 * t2 + t) * m
        + (3.0 * t2 - 2.0 * t3) * b
        + (t3 - t2) * n
}

fn between(a: [f64; 3], b: [f64; 3]) -> f64 {
    let d = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
    (d[0] * d[0] + d[1] * d[1] + d[2] * d[2]).sqrt()
}

fn length(points: &[[f64; 3]]) -> f64 {
    points.windows(2).map(|w| between(w[0], w[1])).sum()
}

/// Points of a line of chords, evenly spaced along it.
fn even(points: &[[f64; 3]], n: u32) -> Vec<[f64; 3]> {
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return Vec::new();
    };
    let n = n.max(2);
    let step = length(points) / f64::from(n - 1);
    let mut spread = vec![*first];
    let (mut chord, mut passed) = (0, 0.0);
    for i in 1..n - 1 {
        let want = step * f64::from(i);
        while chord + 2 < points.len() && passed + between(points[chord], points[chord + 1]) < want
        {
            passed += between(points[chord], points[chord + 1]);
            chord += 1;
        }
        let (a, b) = match (points.get(chord), points.get(chord + 1)) {
            (Some(a), Some(b)) => (*a, *b),
            _ => (*first, *last),
        };
        let long = between(a, b);
        let share = if long > 0.0 {
            (want - passed) / long
        } else {
            0.0
        };
        spread.push([0, 1, 2].map(|c| a[c] + (b[c] - a[c]) * share));
    }
    spread.push(*last);
    spread
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::list::Ids;

    fn point(x_mm: i64, y_mm: i64, order: &str) -> PathPoint {
        PathPoint {
            x_mm,
            y_mm,
            order: order.into(),
            ..PathPoint::default()
        }
    }

    #[test]
    fn a_stair_is_as_long_as_its_rail_and_landing() {
        let garland = Garland {
            shape: Shape::Stair,
            span_mm: 4000,
            rise_mm: 3000,
            landing_mm: 1500,
            ..Garland::default()
        };
        let route = Route::of(&garland).unwrap();
        assert_eq!((route.length, route.points.len()), (6500.0, 3));
    }

    /// The perimeter of an ellipse with semi-axes 5 and 3 is 25.5269989 (Ramanujan's approximation 25.5269864).
    #[test]
    fn a_hoop_is_an_ellipse_and_closes_at_its_lowest_point() {
        let route = hoop(10_000.0, 6_000.0);
        assert!((route.length - 25_526.998_9).abs() < 1e-3);
        assert!(route.closed);
        assert_eq!(route.points.first(), route.points.last());
        let [x, y, _] = route.points[0];
        assert!((x - 5000.0).abs() < 30.0 && y < 0.1, "{x} {y}");
        assert!((length(&route.points) / route.length - 1.0).abs() < 1e-3);
    }

    #[test]
    fn a_drawn_path_goes_through_its_points() {
        let at = [(0, 0), (1000, 800), (2000, 700), (3500, 0)];
        let points: Ids<PathPoint> = at
            .iter()
            .enumerate()
            .map(|(i, (x, y))| (format!("p{i}"), point(*x, *y, &format!("a{i}"))))
            .collect();
        let garland = Garland {
            shape: Shape::Drawn,
            points,
            ..Garland::default()
        };
        let route = Route::of(&garland).unwrap();
        for (x, y) in at {
            let near = route
                .points
                .iter()
                .map(|p| between(*p, [whole(x), whole(y), 0.0]))
                .fold(f64::MAX, f64::min);
            assert!(near < STEP_MM, "{x} {y}: {near}");
        }
        let chords = length(&at.map(|(x, y)| [whole(x), whole(y), 0.0]));
        assert!(route.length > chords && route.length < chords * 1.1);
    }

    #[test]
    fn paths_of_no_length_are_answered() {
        for garland in [
            Garland {
                shape: Shape::Drawn,
                ..Garland::default()
            },
            Garland {
                shape: Shape::Hoop,
                span_mm: 0,
                rise_mm: 0,
                ..Garland::default()
            },
            Garland {
                shape: Shape::Straight,
                length_mm: -5,
                ..Garland::default()
            },
        ] {
            assert_eq!(Route::of(&garland).unwrap().length, 0.0);
        }
    }

    #[test]
    fn even_points_lie_evenly() {
        let corner = [[0.0, 0.0, 0.0], [30.0, 0.0, 0.0], [30.0, 70.0, 0.0]];
        let spread = even(&corner, 11);
        assert_eq!(spread[3], [30.0, 0.0, 0.0]);
        assert_eq!(spread[10], [30.0, 70.0, 0.0]);
        assert!((spread[5][1] - 20.0).abs() < 1e-9);
    }
}

//! A line in space by arc length, with a frame that turns as little as it can.

use glam::DVec3;

use super::types::PathFault;

/// Distance of the points that a line is resampled to, m: a fifth of the smallest balloon that is tied.
const STEP: f64 = 0.02;
/// Most points of a line; longer lines have longer steps.
const MOST_POINTS: f64 = 200_000.0;
/// Rounds of smoothing: a corner is spread over about so many steps either way.
const SMOOTHING: u32 = 6;
/// So many turns are looked at within a width.
const LOOKS: usize = 16;
/// Two parts of a line may meet only if they are further apart along it than this many widths.
const APART: f64 = 3.0;

/// Place and directions at a point of the line. The three directions are of length 1 and square to each other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    /// The point, m.
    pub point: DVec3,
    /// Along the line.
    pub tangent: DVec3,
    /// Across it.
    pub normal: DVec3,
    /// Across both.
    pub binormal: DVec3,
}

impl Frame {
    /// A place as seen from here: along, across, across both.
    #[inline]
    #[must_use]
    pub fn local(&self, place: DVec3) -> DVec3 {
        let v = place - self.point;
        DVec3::new(
            v.dot(self.tangent),
            v.dot(self.normal),
            v.dot(self.binormal),
        )
    }

    /// The place that is seen so from here.
    #[inline]
    #[must_use]
    pub fn world(&self, seen: DVec3) -> DVec3 {
        self.point + self.tangent * seen.x + self.normal * seen.y + self.binormal * seen.z
    }
}

/// A line in space. Beyond its ends it goes straight on; a closed one goes round again.
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    length: f64,
    step: f64,
    points: Vec<DVec3>,
    tangents: Vec<DVec3>,
    normals: Vec<DVec3>,
    closed: bool,
}

impl Path {
    /// From one point straight to another; if they are the same, along x.
    #[must_use]
    pub fn straight(from: DVec3, to: DVec3) -> Path {
        let tangent = (to - from).try_normalize().unwrap_or(DVec3::X);
        let length = (to - from).length();
        Path {
            length,
            step: if length > 0.0 { length } else { 1.0 },
            points: vec![
                from,
                from + tangent * if length > 0.0 { length } else { 1.0 },
            ],
            tangents: vec![tangent; 2],
            normals: vec![across(tangent); 2],
            closed: false,
        }
    }

    /// Through points one after the other, corners smoothed over a few centimetres. A closed line ends where it begins; its last point
    /// may be the first again.
    pub fn polyline(points: &[DVec3], closed: bool) -> Result<Path, PathFault> {
        let mut corners: Vec<DVec3> = points.to_vec();
        if corners.iter().any(|p| !p.is_finite()) {
            return Err(PathFault::NoPath);
        }
        corners.dedup();
        if closed
            && corners.len() > 2
            && let Some(first) = corners.first().copied()
            && corners.last() != Some(&first)
        {
            corners.push(first);
        }
        match corners.as_slice() {
            [] | [_] => return Err(PathFault::NoPath),
            [a, b] if !closed => return Ok(Path::straight(*a, *b)),
            [_, _] => return Err(PathFault::NoPath),
            _ => {}
        }
        Ok(Path::through(resampled(&corners, closed), closed))
    }

    fn through(points: Vec<DVec3>, closed: bool) -> Path {
        let last = points.len() - 1;
        let parts = last as f64;
        let length: f64 = points.windows(2).map(|w| (w[1] - w[0]).length()).sum();
        let tangents: Vec<DVec3> = (0..=last)
            .map(|k| {
                let (before, after) = if closed {
                    (
                        points[if k == 0 { last - 1 } else { k - 1 }],
                        points[if k == last { 1 } else { k + 1 }],
                    )
                } else {
                    (points[k.saturating_sub(1)], points[(k + 1).min(last)])
                };
                (after - before).try_normalize().unwrap_or(DVec3::X)
            })
            .collect();
        let mut normals = vec![across(tangents[0]); last + 1];
        for k in 1..=last {
            normals[k] = carried(
                normals[k - 1],
                points[k] - points[k - 1],
                tangents[k - 1],
                tangents[k],
            );
        }
        if closed {
            close(&mut normals, &tangents);
        }
        Path {
            length,
            step: length / parts,
            points,
            tangents,
            normals,
            closed,
        }
    }

    /// Arc length, m.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.length
    }

    /// Whether it ends where it begins.
    #[must_use]
    pub fn is_closed(&self) -> bool {
        self.closed
    }

    /// Whether it is one straight line.
    #[must_use]
    pub fn is_straight(&self) -> bool {
        self.points.len() == 2
    }

    /// Its points, evenly spaced by arc length.
    #[must_use]
    pub fn points(&self) -> &[DVec3] {
        &self.points
    }

    /// Place and directions so far along it, m. Before 0 and past its end it goes straight on; a closed line goes round again.
    #[must_use]
    pub fn frame(&self, along: f64) -> Frame {
        if self.is_straight() {
            let tangent = self.tangents[0];
            return Frame {
                point: self.points[0] + tangent * along,
                tangent,
                normal: self.normals[0],
                binormal: tangent.cross(self.normals[0]),
            };
        }
        let last = self.points.len() - 2;
        let at = self.round(along) / self.step;
        let i = if at <= 0.0 {
            0
        } else {
            (at as usize).min(last)
        };
        let share = at - i as f64;
        let inside = share.clamp(0.0, 1.0);
        let point = if share == inside {
            self.points[i].lerp(self.points[i + 1], share)
        } else {
            // straight on beyond an end
            let (end, tangent) = if share < 0.0 {
                (self.points[0], self.tangents[0])
            } else {
                (self.points[last + 1], self.tangents[last + 1])
            };
            end + tangent * ((share - inside) * self.step)
        };
        let tangent = self.tangents[i]
            .lerp(self.tangents[i + 1], inside)
            .try_normalize()
            .unwrap_or(self.tangents[i]);
        let normal = self.normals[i].lerp(self.normals[i + 1], inside);
        let normal = (normal - tangent * normal.dot(tangent))
            .try_normalize()
            .unwrap_or(self.normals[i]);
        Frame {
            point,
            tangent,
            normal,
            binormal: tangent.cross(normal),
        }
    }

    /// The point so far along it, m; the same as that of [`Path::frame`].
    #[inline]
    #[must_use]
    pub fn point(&self, along: f64) -> DVec3 {
        if self.is_straight() {
            return self.points[0] + self.tangents[0] * along;
        }
        let last = self.points.len() - 2;
        let at = self.round(along) / self.step;
        if at < 0.0 {
            return self.points[0] + self.tangents[0] * along;
        }
        let i = (at as usize).min(last);
        let share = at - i as f64;
        if share > 1.0 {
            return self.points[last + 1] + self.tangents[last + 1] * ((share - 1.0) * self.step);
        }
        self.points[i].lerp(self.points[i + 1], share)
    }

    /// Round a closed line, the place that is meant; of an open one the place itself.
    #[inline]
    fn round(&self, along: f64) -> f64 {
        if self.closed {
            along - (along / self.length).floor() * self.length
        } else {
            along
        }
    }

    /// Refuses a line that turns within less than half the width of what is tied along it, or meets itself within one width.
    pub fn check(&self, width: f64) -> Result<(), PathFault> {
        if self.is_straight() || width <= 0.0 {
            return Ok(());
        }
        self.turns_wide_enough(width)?;
        self.keeps_apart(width)
    }

    /// Within one width of line the direction may not turn by more than two radians: a circle that does so has a radius of half
    /// a width. A single corner may be sharper than such a circle, up to those two radians: balloons go round a door frame.
    fn turns_wide_enough(&self, width: f64) -> Result<(), PathFault> {
        let reach = ((width / self.step) as usize).max(1);
        let part = reach.div_ceil(LOOKS);
        let last = self.tangents.len() - 1;
        let end = if self.closed {
            last
        } else {
            last.saturating_sub(part)
        };
        for k in 0..end {
            let a = self.tangents[k];
            // the shorter turns first, so that one right round a circle is not taken for none
            for ahead in (part..=reach).step_by(part) {
                let b = match self.tangents.get(k + ahead) {
                    Some(b) => *b,
                    None if self.closed => self.tangents[(k + ahead) % last],
                    None => break,
                };
                // cosine of two radians
                if a.dot(b) < -0.416_147 {
                    return Err(PathFault::TooTight {
                        at: (k as f64 + ahead as f64 / 2.0) * self.step % self.length,
                    });
                }
            }
        }
        Ok(())
    }

    /// Points a width apart are compared with all that are further along than [`APART`] widths.
    fn keeps_apart(&self, width: f64) -> Result<(), PathFault> {
        let stride = ((width / 4.0 / self.step) as usize).max(1);
        let apart = width * APART;
        let marks: Vec<usize> = (0..self.points.len()).step_by(stride).collect();
        // sorted by x, so that only near ones are compared
        let mut by_x = marks.clone();
        by_x.sort_by(|a, b| {
            self.points[*a]
                .x
                .total_cmp(&self.points[*b].x)
                .then(a.cmp(b))
        });
        let mut worst: Option<(usize, usize)> = None;
        for (n, &a) in by_x.iter().enumerate() {
            for &b in &by_x[n + 1..] {
                if self.points[b].x - self.points[a].x > width {
                    break;
                }
                let (low, high) = (a.min(b), a.max(b));
                let along = (high - low) as f64 * self.step;
                let along = if self.closed {
                    along.min(self.length - along)
                } else {
                    along
                };
                if along > apart
                    && (self.points[a] - self.points[b]).length() < width
                    && worst.is_none_or(|w| (low, high) < w)
                {
                    worst = Some((low, high));
                }
            }
        }
        worst.map_or(Ok(()), |(low, high)| {
            Err(PathFault::MeetsItself {
                at: low as f64 * self.step,
                and: high as f64 * self.step,
            })
        })
    }
}

/// A direction across another: towards the viewer (z) unless the line runs that way itself.
fn across(tangent: DVec3) -> DVec3 {
    let side = if tangent.z.abs() < 0.9 {
        DVec3::Z
    } else {
        DVec3::X
    };
    (side - tangent * side.dot(tangent))
        .try_normalize()
        .unwrap_or(DVec3::Y)
}

/// A normal carried from one point to the next by two reflections: Wang, Jüttler, Zheng and Liu, Computation of rotation minimizing
/// frames, ACM Transactions on Graphics 27 (2008); from memory.
fn carried(normal: DVec3, way: DVec3, from: DVec3, to: DVec3) -> DVec3 {
    let reflect = |v: DVec3, m: DVec3| {
        let c = m.dot(m);
        if c > 1e-18 {
            v - m * (2.0 / c * m.dot(v))
        } else {
            v
        }
    };
    let (n, t) = (reflect(normal, way), reflect(from, way));
    let n = reflect(n, to - t);
    (n - to * n.dot(to)).try_normalize().unwrap_or(across(to))
}

/// Normals of a closed line come back turned about it; the turn is spread over the whole line, so that it closes smoothly.
fn close(normals: &mut [DVec3], tangents: &[DVec3]) {
    let (Some(first), Some(end)) = (normals.first().copied(), normals.last().copied()) else {
        return;
    };
    let turn = libm::atan2(first.dot(tangents[0].cross(end)), first.dot(end));
    let parts = (normals.len() - 1) as f64;
    for (k, (normal, tangent)) in normals.iter_mut().zip(tangents).enumerate() {
        let (sin, cos) = libm::sincos(turn * k as f64 / parts);
        *normal = *normal * cos + tangent.cross(*normal) * sin;
    }
}

/// Points evenly by arc length, corners rounded off.
fn resampled(corners: &[DVec3], closed: bool) -> Vec<DVec3> {
    let total: f64 = corners.windows(2).map(|w| (w[1] - w[0]).length()).sum();
    let parts = (total / STEP).ceil().clamp(4.0, MOST_POINTS);
    let mut points = evenly(corners, parts);
    let n = points.len() - 1;
    for _ in 0..SMOOTHING {
        let old = points.clone();
        for k in 1..n {
            points[k] = old[k - 1] * 0.25 + old[k] * 0.5 + old[k + 1] * 0.25;
        }
        if closed {
            points[0] = old[n - 1] * 0.25 + old[0] * 0.5 + old[1] * 0.25;
            points[n] = points[0];
        }
    }
    // rounding a corner off shortened the steps there
    evenly(&points, parts)
}

/// So many equal steps along chords.
fn evenly(corners: &[DVec3], parts: f64) -> Vec<DVec3> {
    let total: f64 = corners.windows(2).map(|w| (w[1] - w[0]).length()).sum();
    let step = total / parts;
    let n = parts as usize;
    let mut points = Vec::with_capacity(n + 1);
    let (mut chord, mut passed) = (0usize, 0.0);
    for k in 0..=n {
        let want = (k as f64 * step).min(total);
        while chord + 2 < corners.len()
            && passed + (corners[chord + 1] - corners[chord]).length() < want
        {
            passed += (corners[chord + 1] - corners[chord]).length();
            chord += 1;
        }
        let long = (corners[chord + 1] - corners[chord]).length();
        let share = if long > 0.0 {
            ((want - passed) / long).clamp(0.0, 1.0)
        } else {
            0.0
        };
        points.push(corners[chord].lerp(corners[chord + 1], share));
    }
    points
}

#[cfg(test)]
mod tests {
    use super::*;

    fn circle(radius: f64, turns: f64) -> Vec<DVec3> {
        (0..=400)
            .map(|i| {
                let a = f64::from(i) / 400.0 * turns * std::f64::consts::TAU;
                DVec3::new(radius * libm::cos(a), radius * libm::sin(a), 0.0)
            })
            .collect()
    }

    #[test]
    fn a_circle_is_as_long_as_its_circumference() {
        let path = Path::polyline(&circle(1.0, 1.0), true).unwrap();
        assert!((path.length() / std::f64::consts::TAU - 1.0).abs() < 2e-3);
        let f = path.frame(path.length() / 4.0);
        assert!((f.point - DVec3::Y).length() < 0.02, "{f:?}");
        for v in [f.tangent, f.normal, f.binormal] {
            assert!((v.length() - 1.0).abs() < 1e-12);
        }
        assert!(f.tangent.dot(f.normal).abs() < 1e-12);
        assert_eq!(path.check(0.5), Ok(()));
    }

    #[test]
    fn frames_go_straight_on_beyond_the_ends() {
        for path in [
            Path::straight(DVec3::ZERO, DVec3::X * 3.0),
            Path::polyline(&[DVec3::ZERO, DVec3::X, DVec3::X * 3.0], false).unwrap(),
        ] {
            assert!((path.frame(-1.0).point + DVec3::X).length() < 1e-9);
            assert!((path.frame(4.5).point - DVec3::X * 4.5).length() < 1e-9);
        }
    }

    #[test]
    fn what_is_seen_from_a_frame_is_put_back() {
        let path = Path::polyline(&circle(0.8, 0.7), false).unwrap();
        let f = path.frame(1.234);
        let place = DVec3::new(0.3, -0.2, 0.7);
        assert!((f.world(f.local(place)) - place).length() < 1e-12);
    }

    #[test]
    fn lines_that_cannot_be_followed_are_refused_and_say_where() {
        let hairpin = [
            DVec3::ZERO,
            DVec3::X * 2.0,
            DVec3::new(2.0, 0.05, 0.0),
            DVec3::new(0.0, 0.05, 0.0),
        ];
        let path = Path::polyline(&hairpin, false).unwrap();
        assert!(
            matches!(path.check(0.5), Err(PathFault::TooTight { at }) if (at - 2.0).abs() < 0.3),
            "{:?}",
            path.check(0.5)
        );
        // a figure of eight with wide turns crosses itself in the middle
        let eight: Vec<DVec3> = (0..=600)
            .map(|i| {
                let a = f64::from(i) / 600.0 * std::f64::consts::TAU;
                DVec3::new(3.0 * libm::sin(a), 1.5 * libm::sin(2.0 * a), 0.0)
            })
            .collect();
        let path = Path::polyline(&eight, true).unwrap();
        assert!(matches!(
            path.check(0.5),
            Err(PathFault::MeetsItself { .. })
        ));
        assert_eq!(
            Path::polyline(&[DVec3::ZERO, DVec3::ZERO], false),
            Err(PathFault::NoPath)
        );
        assert_eq!(
            Path::polyline(&[DVec3::NAN, DVec3::X], false),
            Err(PathFault::NoPath)
        );
    }
}

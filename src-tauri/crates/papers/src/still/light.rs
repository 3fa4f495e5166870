//! How much of the light reaches a point: the lamp's soft shadow and the share of the room that near balls leave open.
//!
//! Which balls can matter is found once for each receiver; at a point only those are asked.

use super::vector::{V3, smooth};
use super::world::Ball;

/// Half the lamp's width over its distance: a shadow's edge is so much softer for each metre behind what throws it.
const LAMP: f32 = 0.11;
/// The edge of a shadow right where it begins, m.
const EDGE: f32 = 0.010;
/// A ball shades others up to this far behind it, m.
const REACH: f32 = 2.5;
/// A ball hides the room from points up to so many of its radii from its middle.
const HIDES: f32 = 2.6;

/// For each receiver the balls that may matter.
#[derive(Debug, Default)]
pub struct Lists {
    starts: Vec<u32>,
    items: Vec<u32>,
}

impl Lists {
    /// The balls of one receiver.
    pub fn of(&self, receiver: usize) -> &[u32] {
        let at = |i: usize| self.starts.get(i).map_or(0, |s| *s as usize);
        self.items
            .get(at(receiver)..at(receiver + 1))
            .unwrap_or(&[])
    }

    fn next(&mut self) {
        self.starts
            .push(u32::try_from(self.items.len()).unwrap_or(u32::MAX));
    }
}

/// Half the width of a shadow's edge so far behind what throws it, m.
pub fn edge(behind: f32) -> f32 {
    LAMP * behind + EDGE
}

/// Balls by their place along a direction, so that those near a place are a stretch of the list.
struct Sorted {
    order: Vec<u32>,
    places: Vec<f32>,
    most: f32,
}

impl Sorted {
    fn along(balls: &[Ball], axis: V3) -> Sorted {
        let place = |i: &u32| balls.get(*i as usize).map_or(0.0, |b| b.at.dot(axis));
        let mut order: Vec<u32> = (0..u32::try_from(balls.len()).unwrap_or(u32::MAX)).collect();
        order.sort_by(|a, b| place(a).total_cmp(&place(b)));
        Sorted {
            places: order.iter().map(place).collect(),
            order,
            most: balls.iter().map(|b| b.r).fold(0.0, f32::max),
        }
    }

    fn near(&self, place: f32, reach: f32) -> &[u32] {
        let first = self.places.partition_point(|p| *p < place - reach);
        let last = self.places.partition_point(|p| *p <= place + reach);
        &self.order[first..last]
    }
}

/// For each receiver, a ball about its place, the balls between it and the lamp.
pub fn shades(balls: &[Ball], receivers: &[(V3, f32)], lamp: V3, across: V3) -> Lists {
    let sorted = Sorted::along(balls, across);
    let mut lists = Lists::default();
    for (at, r) in receivers {
        lists.next();
        let reach = r + sorted.most + edge(REACH);
        for i in sorted.near(at.dot(across), reach) {
            let ball = balls[*i as usize];
            let to = ball.at - *at;
            let before = to.dot(lamp);
            let off = (to - lamp * before).length();
            let itself = off < 1e-6 && to.square() < 1e-10;
            if !itself
                && before > -r - ball.r
                && before < REACH
                && off < r + ball.r + edge(before.max(0.0) + r)
            {
                lists.items.push(*i);
            }
        }
    }
    lists.next();
    lists
}

/// For each receiver the balls that hide part of the room from it.
pub fn hides(balls: &[Ball], receivers: &[(V3, f32)]) -> Lists {
    let axis = V3 {
        x: 1.0,
        y: 0.0,
        z: 0.0,
    };
    let sorted = Sorted::along(balls, axis);
    let mut lists = Lists::default();
    for (at, r) in receivers {
        lists.next();
        for i in sorted.near(at.x, r + HIDES * sorted.most) {
            let ball = balls[*i as usize];
            let far = (ball.at - *at).square();
            let reach = r + HIDES * ball.r;
            if far > 1e-10 && far < reach * reach {
                lists.items.push(*i);
            }
        }
    }
    lists.next();
    lists
}

/// Share of the lamp that is seen from a point.
pub fn sun(at: V3, lamp: V3, balls: &[Ball], list: &[u32]) -> f32 {
    let mut open = 1.0;
    for i in list {
        let ball = balls[*i as usize];
        let to = ball.at - at;
        let before = to.dot(lamp);
        if before <= 0.0 {
            continue;
        }
        let off = to.square() - before * before;
        let width = edge(before);
        let out = ball.r + width;
        if off >= out * out {
            continue;
        }
        open *= smooth(-width, width, off.max(0.0).sqrt() - ball.r);
        if open < 0.01 {
            return 0.0;
        }
    }
    open
}

/// Share of the half room over a surface that near balls leave open, weighted by the cosine.
///
/// A ball of half angle h (its sine) at the cosine c over the surface hides c h² (the exact share of a ball that is whole above the
/// horizon); one that the horizon cuts hides h (c + h)² / 4, which meets it in value and slope at c = h and ends in 0 at c = −h.
pub fn open(at: V3, normal: V3, balls: &[Ball], list: &[u32]) -> f32 {
    let mut open = 1.0;
    for i in list {
        let ball = balls[*i as usize];
        let to = ball.at - at;
        let far2 = to.square();
        let up = normal.dot(to);
        // under the horizon: nothing
        if up <= -ball.r {
            continue;
        }
        let share = (ball.r * ball.r / far2).min(1.0);
        let (h, c) = (share.sqrt(), up / far2.sqrt());
        let hidden = if c >= h {
            c * share
        } else {
            let cut = c + h;
            0.25 * h * cut * cut
        };
        open *= 1.0 - hidden;
    }
    open
}

/// What is left of the light where it is thrown to and fro between skins of one colour: a crease in red rubber glows red. A fit to path
/// traced scenes: Jimenez, Wu, Pesce, Jarabo, "Practical Realtime Strategies for Accurate Indirect Occlusion" (2016).
pub fn glow(open: f32, skin: V3) -> V3 {
    let one = |a: f32| {
        let (p, q, r) = (
            2.0404 * a - 0.3324,
            -4.7951 * a + 0.6417,
            2.7552 * a + 0.6903,
        );
        (((open * p + q) * open + r) * open).max(open)
    };
    V3 {
        x: one(skin.x),
        y: one(skin.y),
        z: one(skin.z),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::still::vector::v;

    fn of(at: V3, r: f32) -> Ball {
        Ball {
            at,
            r,
            skin: V3::all(0.5),
            core: V3::all(0.5),
        }
    }

    // A ball right over a surface hides the square of the sine of its half angle (Nusselt's analog: the disc that its outline covers
    // on the unit sphere, seen from above, has that share of the whole disc).
    #[test]
    fn a_ball_overhead_hides_the_square_of_its_sine() {
        let up = v(0.0, 1.0, 0.0);
        for (r, far) in [(0.1, 0.4), (0.2, 0.25), (0.05, 1.0)] {
            let balls = [of(up * far, r)];
            let got = 1.0 - open(V3::default(), up, &balls, &[0]);
            assert!((got - r * r / far / far).abs() < 1e-6);
        }
        let under = [of(up * -0.4, 0.1)];
        assert_eq!(open(V3::default(), up, &under, &[0]), 1.0);
    }

    // Against the closed form for a ball whose middle lies on the horizon: (θ − sin θ cos θ) / π.
    #[test]
    fn a_ball_cut_by_the_horizon_hides_about_its_share() {
        let up = v(0.0, 1.0, 0.0);
        for degrees in [20.0_f64, 30.0, 45.0, 60.0] {
            let theta = degrees.to_radians();
            let balls = [of(v(1.0, 0.0, 0.0), libm::sin(theta) as f32)];
            let got = f64::from(1.0 - open(V3::default(), up, &balls, &[0]));
            let want = (theta - libm::sin(theta) * libm::cos(theta)) / core::f64::consts::PI;
            assert!(
                (got - want).abs() < 0.035,
                "{degrees}: {got} against {want}"
            );
        }
    }

    #[test]
    fn the_middle_of_a_shadow_is_dark_its_rim_half_and_beyond_it_is_light() {
        let lamp = v(0.0, 1.0, 0.0);
        let balls = [of(v(0.0, 0.5, 0.0), 0.2)];
        let at = |x: f32| sun(v(x, 0.0, 0.0), lamp, &balls, &[0]);
        assert_eq!(at(0.0), 0.0);
        assert!((at(0.2) - 0.5).abs() < 1e-5);
        assert_eq!(at(0.2 + edge(0.5)), 1.0);
        assert_eq!(
            sun(v(0.0, 0.9, 0.0), lamp, &balls, &[0]),
            1.0,
            "the ball is behind"
        );
    }

    // The lists leave out only what changes nothing: asking every ball gives the same light.
    #[test]
    fn the_lists_hold_every_ball_that_matters() {
        let balls: Vec<Ball> = (0..60)
            .map(|n: i32| {
                let f = |k: i32| (n * k % 31) as f32 / 31.0;
                of(v(f(7) * 1.4, f(11) * 1.1, f(5) * 0.6), 0.05 + 0.08 * f(3))
            })
            .collect();
        let lamp = v(-0.4, 0.7, 0.6).unit();
        let across = v(0.7, 0.4, 0.0).unit();
        let receivers: Vec<(V3, f32)> = balls.iter().map(|b| (b.at, b.r)).collect();
        let shades = shades(&balls, &receivers, lamp, across);
        let hides = hides(&balls, &receivers);
        for (i, ball) in balls.iter().enumerate() {
            let all: Vec<u32> = (0..60).filter(|j| *j as usize != i).collect();
            for normal in [v(0.0, 1.0, 0.0), v(-0.5, 0.3, 0.8).unit(), v(0.6, 0.0, 0.8)] {
                let at = ball.at + normal * (ball.r * 1.001);
                assert_eq!(
                    sun(at, lamp, &balls, shades.of(i)).to_bits(),
                    // the same order, so that the same products come out
                    sun(at, lamp, &balls, &in_order_of(&all, shades.of(i))).to_bits()
                );
                // what is left out hides little: each no more than (1 / 2.6)² of the half room
                for j in all.iter().filter(|j| !hides.of(i).contains(j)) {
                    let hidden = 1.0 - open(at, normal, &balls, &[*j]);
                    assert!(hidden < 1.0 / HIDES / HIDES + 1e-3, "{i} {j} {hidden}");
                }
            }
        }
    }

    /// All of `all`, those of `first` before the others.
    fn in_order_of(all: &[u32], first: &[u32]) -> Vec<u32> {
        let rest = all.iter().filter(|i| !first.contains(i));
        first.iter().chain(rest).copied().collect()
    }
}

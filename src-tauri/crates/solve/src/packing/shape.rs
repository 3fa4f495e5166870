//! How the spheres of one cluster lie about its tie, before it meets its neighbours.

use std::f64::consts::SQRT_2;

use glam::DVec3;

use super::random::Stream;
use super::types::Settings;

/// A sphere comes no nearer to its own tie than (1 − INNER) radii: a balloon does not swallow its knot.
pub(super) const INNER: f64 = 0.10;
/// The line passes a sphere at (1 − LINE) radii of its centre or more.
pub(super) const LINE: f64 = 0.10;
/// Sweeps until the spheres of a cluster have settled.
const SWEEPS: u32 = 60;
/// Two rings of a cluster of five and more start so far from their middle plane, radii.
const ZIGZAG: f64 = 0.45;
/// Each sweep flattens the cluster along the line by so much at first, and by nothing in the end.
const SQUASH: f64 = 0.04;
/// How much of a centre's excess over its reach a sweep takes back.
const PULL: f64 = 0.7;
/// Spheres no deeper in each other than this beyond softness have room, as a share of the sum of their radii: after so many sweeps
/// orders with room are down at 0.0015 to 0.0025, and those that are wedged stay above 0.006.
const WEDGED: f64 = 0.003;
/// After so many sweeps it is seen whether an order is wedged for good.
const SEEN: u32 = 40;
/// Deeper than this by then it is given up, as a share of the sum of the radii.
const HOPELESS: f64 = 0.014;
/// Orders that are tried at most until there are enough with room.
const TRIES: usize = 12;
/// Clusters of fewer spheres than this have room in any order.
const CROWDED: usize = 5;
/// Clusters have at most so many spheres.
pub const MOST_IN_CLUSTER: usize = 12;

/// Distance from tie to centre that n equal hard spheres round one point need, in radii: 1 / sin(half the angle between neighbours).
/// 1 to 8: the best spherical codes (tetrahedron, octahedron, square antiprism; 7 from memory). From 9 on the line itself needs room:
/// two rings about it, √(ρ² + (h/2)²) with ρ = 1 / sin(π/k) for k in the larger ring and the height h of the antiprism on it, as for
/// 6 and 8, where this gives the same as the codes.
pub const HARD_REACH: [f64; MOST_IN_CLUSTER] = [
    1.0,
    1.0,
    1.154_700_5,
    1.224_744_9,
    SQRT_2,
    SQRT_2,
    1.591_493,
    1.645_329,
    1.902_113,
    1.902_113,
    2.175_328,
    2.175_328,
];

/// How far each sphere's centre may be from the tie, m.
pub(super) fn reaches(radii: &[f64], settings: &Settings) -> Vec<f64> {
    let at = radii.len().clamp(1, MOST_IN_CLUSTER) - 1;
    let hard = HARD_REACH[at] * (1.0 - settings.softness);
    let reach = (1.0 + settings.neck).max(hard);
    radii.iter().map(|r| r * reach).collect()
}

/// Places of a cluster's spheres that may be tied, as [`shape`] gives them: so many as are asked for in which the spheres have room.
/// An order that leaves them wedged in each other, five abreast and one poking out on either side, does not come right later either.
pub(super) fn shapes(
    radii: &[f64],
    reach: &[f64],
    settings: &Settings,
    stream: &mut Stream,
    in_order: bool,
    wanted: usize,
) -> Vec<Vec<DVec3>> {
    let mut tried: Vec<(f64, Vec<DVec3>)> = Vec::new();
    let tries = if radii.len() < CROWDED { wanted } else { TRIES };
    for _ in 0..tries {
        let places = shape(radii, reach, settings, stream, in_order);
        tried.push((wedged(&places, radii, reach, settings).max(WEDGED), places));
        if tried.iter().filter(|t| t.0 <= WEDGED).count() >= wanted {
            break;
        }
    }
    // the sort is stable: of those with room the first drawn come first
    tried.sort_by(|a, b| a.0.total_cmp(&b.0));
    tried.truncate(wanted);
    tried.into_iter().map(|t| t.1).collect()
}

/// How much deeper than softness allows two of the spheres are in each other, as a share of the sum of their radii, or how much
/// further than it reaches one of them is from the tie, as a share of its reach.
fn wedged(places: &[DVec3], radii: &[f64], reach: &[f64], settings: &Settings) -> f64 {
    let mut worst = 0.0f64;
    for (i, place) in places.iter().enumerate() {
        worst = worst.max(place.length() / reach[i] - 1.0);
        for j in i + 1..places.len() {
            let gap = (*place - places[j]).length() / (radii[i] + radii[j]);
            worst = worst.max(1.0 - gap - settings.softness);
        }
    }
    worst
}

/// Places of the spheres: x along the line, y and z across it, the tie at 0. Pairs lie opposite each other in a shuffled order, or, if
/// `in_order`, all go round the line as they come, the first at angle 0.
pub(super) fn shape(
    radii: &[f64],
    reach: &[f64],
    settings: &Settings,
    stream: &mut Stream,
    in_order: bool,
) -> Vec<DVec3> {
    let n = radii.len();
    let order = if in_order {
        (0..n).collect()
    } else {
        twisted(n, stream)
    };
    let all: f64 = radii.iter().sum();
    let mut places = vec![DVec3::ZERO; n];
    // half the first one's share ahead, so that the first lies at angle 0
    let mut share = order.first().map_or(0.0, |i| -0.5 * radii[*i]);
    for (k, &i) in order.iter().enumerate() {
        let angle = (share + 0.5 * radii[i]) / all * std::f64::consts::TAU;
        share += radii[i];
        let side = match (n >= CROWDED, k % 2 == 0) {
            (false, _) => 0.0,
            (true, true) => ZIGZAG,
            (true, false) => -ZIGZAG,
        };
        let jitter = 0.02 * (stream.unit() - 0.5);
        let out = 0.9 * reach[i];
        places[i] = DVec3::new(
            (side + jitter) * radii[i],
            libm::cos(angle) * out,
            libm::sin(angle) * out,
        );
    }
    settle(&mut places, radii, reach, settings);
    places
}

/// The order round the line of spheres that come pair by pair: the pairs in any order, and the two of a pair opposite each other, as
/// pairs lie that are twisted together. One without another comes last.
fn twisted(n: usize, stream: &mut Stream) -> Vec<usize> {
    let mut firsts: Vec<usize> = (0..n / 2).map(|pair| 2 * pair).collect();
    for i in (1..firsts.len()).rev() {
        let with = stream.below(i as u32 + 1) as usize;
        firsts.swap(i, with);
    }
    let others = firsts.iter().map(|first| first + 1);
    let odd = (n % 2 == 1).then(|| n - 1);
    firsts.iter().copied().chain(others).chain(odd).collect()
}

/// Pushes the spheres apart, back within reach and off the line, in turn; gives up on an order that stays wedged.
fn settle(places: &mut [DVec3], radii: &[f64], reach: &[f64], settings: &Settings) {
    let n = places.len();
    for sweep in 0..SWEEPS {
        if sweep == SEEN && n >= CROWDED && wedged(places, radii, reach, settings) > HOPELESS {
            return;
        }
        let flat = 1.0 - SQUASH * (1.0 - f64::from(sweep) / f64::from(SWEEPS));
        for i in 0..n {
            let mut place = places[i];
            place.x *= flat;
            for (other, r) in places[i + 1..].iter_mut().zip(&radii[i + 1..]) {
                let contact = (radii[i] + r) * (1.0 - settings.softness);
                let apart = *other - place;
                let squared = apart.length_squared();
                if squared < contact * contact && squared > 1e-12 {
                    let long = squared.sqrt();
                    let push = apart * (0.5 * (contact - long) / long);
                    place -= push;
                    *other += push;
                }
            }
            places[i] = place;
        }
        for ((place, r), reach) in places.iter_mut().zip(radii).zip(reach) {
            // squares are compared, and a root is drawn where something moves: most spheres stand right most of the time
            let (out, inner) = (place.length_squared(), r * (1.0 - INNER));
            if out > reach * reach {
                *place *= 1.0 - (1.0 - reach / out.sqrt()) * PULL;
            } else if out < inner * inner && out > 1e-18 {
                *place *= inner / out.sqrt();
            }
            let across = place.y * place.y + place.z * place.z;
            let least = r * (1.0 - LINE);
            if across < least * least && across > 1e-18 {
                let wider = least / across.sqrt();
                place.y *= wider;
                place.z *= wider;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A cluster by itself: no pair deeper than softness and a little, all within reach.
    #[test]
    fn clusters_of_up_to_twelve_have_room() {
        let settings = Settings::default();
        for n in 1..=MOST_IN_CLUSTER {
            for big in [1.0, 1.8] {
                let mut radii = vec![0.1; n];
                radii[0] *= big;
                let reach = reaches(&radii, &settings);
                let mut deepest = f64::MAX;
                for id in 0..8 {
                    let mut stream = Stream::of(1, id);
                    let places = shape(&radii, &reach, &settings, &mut stream, false);
                    let mut depth: f64 = 0.0;
                    for i in 0..n {
                        assert!(places[i].length() < reach[i] * 1.05, "{n} {big}");
                        for j in i + 1..n {
                            let gap = (places[i] - places[j]).length();
                            depth = depth.max(1.0 - gap / (radii[i] + radii[j]));
                        }
                    }
                    deepest = deepest.min(depth);
                }
                assert!(deepest < settings.softness + 0.035, "{n} {big}: {deepest}");
            }
        }
    }

    /// Two rings of k about the line: 6 and 8 by this formula are the octahedron and the square antiprism.
    #[test]
    fn reach_of_two_rings_is_that_of_the_antiprism() {
        let reach = |k: f64| {
            let out = 1.0 / libm::sin(std::f64::consts::PI / k);
            let half = libm::cos(std::f64::consts::PI / (2.0 * k));
            let height = 2.0 * (1.0 - 1.0 / (4.0 * half * half)).sqrt();
            (out * out + height * height / 4.0).sqrt()
        };
        for (k, n) in [(3.0, 6), (4.0, 8), (5.0, 10), (6.0, 12)] {
            assert!(
                (reach(k) - HARD_REACH[n - 1]).abs() < 2e-6,
                "{n}: {}",
                reach(k)
            );
        }
    }
}

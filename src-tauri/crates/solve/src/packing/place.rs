//! The next cluster pushed on as near as it goes: for each trial turn the smallest tie place at which it touches nothing placed.
//!
//! The search is exact. A placed sphere and one of the new cluster forbid one interval of the tie's place; the first gap behind the
//! tie before is the answer.

use glam::DVec3;

use super::path::Path;
use super::random::Stream;
use super::relax::Scene;
use super::shape::shapes;
use super::state::{KNOT, State};
use super::types::{Cluster, Settings};

/// Trial turns of each trial order.
const TURNS: u32 = 16;
/// Trial orders of the spheres round the line.
const ORDERS: usize = 2;
/// How much a turn counts that balances the volume round the line, against a pitch of one mean diameter: hands look for balance.
const EVEN: f64 = 0.3;
/// Spheres count towards the balance less and less over so many mean diameters.
const FADE: f64 = 2.5;

/// A sphere as seen from the guessed tie: along the line as arc length, and across.
struct Seen {
    at: DVec3,
    r: f64,
}

/// A trial: where it could be tied, which order, cosine and sine of its turn.
#[derive(Clone, Copy)]
struct Trial {
    t: f64,
    order: usize,
    turn: (f64, f64),
}

/// The interval of the tie's place that one pair of spheres forbids: its middle and its half width squared.
struct Forbidden {
    middle: f64,
    left: f64,
}

impl Forbidden {
    /// The place, or the end of the interval if it lies in it.
    #[inline]
    fn past(&self, t: f64) -> f64 {
        let off = t - self.middle;
        if off * off < self.left {
            t.max(self.middle + self.left.sqrt())
        } else {
            t
        }
    }
}

/// Lists that are used again and again.
#[derive(Default)]
pub(super) struct Scratch {
    turned: Vec<(DVec3, f64)>,
    seen: Vec<Seen>,
    met: Vec<Forbidden>,
}

/// Places the next cluster behind those that are placed; `pitch` is a guess how far behind the last tie. `into` closes one's eyes
/// to the first clusters of a closed line, so that the last one is squeezed in.
pub(super) fn place(
    state: &mut State,
    cluster: &Cluster,
    scene: Scene<'_>,
    settings: &Settings,
    pitch: f64,
    into: bool,
    scratch: &mut Scratch,
) {
    let c = state.t.len();
    state.give_way(c, scene, state.t.last().map_or(0.0, |t| t + pitch));
    let path = scene.path;
    let range = state.of(c);
    let radii = state.r[range.clone()].to_vec();
    let reach = state.reach[range].to_vec();
    let mut stream = Stream::of(settings.seed, cluster.id);
    let orders = if cluster.turn.is_some() { 1 } else { ORDERS };
    let keep = cluster.turn.is_some();
    let shapes = shapes(&radii, &reach, settings, &mut stream, keep, orders);
    let phase = stream.unit() * std::f64::consts::TAU;
    let turns: Vec<(f64, f64)> = match cluster.turn {
        Some(turn) => vec![(libm::cos(turn), libm::sin(turn))],
        None if c == 0 => vec![(libm::cos(phase), libm::sin(phase))],
        None => (0..TURNS)
            .map(|k| {
                let angle = phase + f64::from(k) / f64::from(TURNS) * std::f64::consts::TAU;
                (libm::cos(angle), libm::sin(angle))
            })
            .collect(),
    };
    let best = match state.t.last() {
        None => Trial {
            t: 0.0,
            order: 0,
            turn: turns[0],
        },
        Some(&before) => nearest(
            state,
            &radii,
            &shapes,
            &turns,
            path,
            settings,
            before,
            before + pitch,
            into,
            scratch,
        ),
    };
    let frame = path.frame(best.t);
    state.t.push(best.t);
    for place in &shapes[best.order] {
        let (y, z) = turned(*place, best.turn);
        state.x.push(frame.world(DVec3::new(place.x, y, z)));
    }
}

#[inline]
fn turned(place: DVec3, (cos, sin): (f64, f64)) -> (f64, f64) {
    (cos * place.y - sin * place.z, sin * place.y + cos * place.z)
}

#[expect(
    clippy::too_many_arguments,
    reason = "one step of the search with all that it looks at"
)]
fn nearest(
    state: &State,
    radii: &[f64],
    shapes: &[Vec<DVec3>],
    turns: &[(f64, f64)],
    path: &Path,
    settings: &Settings,
    before: f64,
    guess: f64,
    into: bool,
    scratch: &mut Scratch,
) -> Trial {
    let mean = 2.0 * radii.iter().sum::<f64>() / radii.len().max(1) as f64;
    let volume: f64 = radii.iter().map(|r| r * r * r).sum();
    look(state, path, guess, into, &mut scratch.seen);
    let moment = moment(&scratch.seen, guess, mean);
    // what lies too far back to be met from here on is not looked at in every trial
    let largest = radii.iter().copied().fold(0.0, f64::max);
    let back = shapes
        .iter()
        .flatten()
        .map(|place| -place.x)
        .fold(0.0, f64::max);
    scratch
        .seen
        .retain(|s| s.at.x + (s.r + largest) * (1.0 - settings.softness) + back > before);
    let mut best = Trial {
        t: before + KNOT,
        order: 0,
        turn: turns[0],
    };
    let mut least = f64::INFINITY;
    for (order, places) in shapes.iter().enumerate() {
        for &turn in turns {
            let (mut y, mut z) = moment;
            scratch.turned.clear();
            for (place, r) in places.iter().zip(radii) {
                let across = (place.y * place.y + place.z * place.z).sqrt();
                let weight = r * r * r / across.max(0.3 * r);
                let at = turned(*place, turn);
                y += weight * at.0;
                z += weight * at.1;
                scratch.turned.push((DVec3::new(place.x, at.0, at.1), *r));
            }
            let uneven = EVEN * (y * y + z * z).sqrt() / volume;
            // further than this it cannot be the best any more
            let most = before + (least - uneven) * mean;
            let Some(t) = first_free(before + KNOT, most, settings.softness, scratch) else {
                continue;
            };
            let score = (t - before) / mean + uneven;
            if score < least - 1e-12 {
                least = score;
                best = Trial { t, order, turn };
            }
        }
    }
    best
}

/// The placed spheres that the new cluster may touch.
fn look(state: &State, path: &Path, guess: f64, into: bool, seen: &mut Vec<Seen>) {
    let frame = path.frame(guess);
    let placed = state.t.len();
    let back = 2.0 * state.extent_near(placed);
    let mut from = placed;
    while from > 0 && state.t[from - 1] > state.t[placed - 1] - back {
        from -= 1;
    }
    seen.clear();
    let ahead = if into { 0 } else { state.met_ahead(path) };
    let ahead = state.first[ahead.min(from)];
    for i in (0..ahead).chain(state.first[from]..state.x.len()) {
        let mut at = frame.local(state.x[i]);
        at.x += guess;
        seen.push(Seen { at, r: state.r[i] });
    }
}

/// Where the volume behind the new tie leans to.
fn moment(seen: &[Seen], guess: f64, mean: f64) -> (f64, f64) {
    let (mut y, mut z) = (0.0, 0.0);
    for s in seen {
        let back = (guess - s.at.x).max(0.0) / (FADE * mean);
        let across = (s.at.y * s.at.y + s.at.z * s.at.z).sqrt();
        let weight = s.r * s.r * s.r / (1.0 + back * back * back) / across.max(0.3 * s.r);
        y += weight * s.at.y;
        z += weight * s.at.z;
    }
    (y, z)
}

/// The smallest place from one on that no pair of spheres forbids; none if that is beyond `most`.
fn first_free(from: f64, most: f64, softness: f64, scratch: &mut Scratch) -> Option<f64> {
    // a few passes, each pushing on as far as it sees, take less time than sorted intervals; only the first looks at all pairs
    let Scratch { turned, seen, met } = scratch;
    met.clear();
    let mut t = from;
    for (place, r) in turned.iter() {
        for s in seen.iter() {
            let contact = (r + s.r) * (1.0 - softness);
            let (y, z) = (s.at.y - place.y, s.at.z - place.z);
            let left = contact * contact - (y * y + z * z);
            if left > 0.0 {
                let forbidden = Forbidden {
                    middle: s.at.x - place.x,
                    left,
                };
                t = forbidden.past(t);
                met.push(forbidden);
            }
        }
        if t > most {
            return None;
        }
    }
    let mut start = from;
    while t != start {
        start = t;
        t = met.iter().fold(t, |t, forbidden| forbidden.past(t));
        if t > most {
            return None;
        }
    }
    Some(t)
}

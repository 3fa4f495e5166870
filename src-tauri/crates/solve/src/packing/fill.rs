//! Small spheres set into the outer pockets of a packing, where the line or what carries it would show.
//!
//! A filler touches three spheres, or two and the line. Each pocket is known by the rays of sight it closes; the one that
//! closes most comes first. Work grows with the number of spheres: pockets are looked for only beside open rays.

use glam::DVec3;
use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::f64::consts::TAU;

use super::foot::foot;
use super::near::Near;
use super::path::Path;
pub use super::sight::View;
use super::sight::{Screen, Sight, from_segment, look, rods, walls};
use super::types::{Obstacle, Packing};

/// The line lies in a dent of a filler, as deep as this share of its radius at most.
const LINE_DENT: f64 = 0.1;
/// Distances are right to this, m.
const EXACT: f64 = 1e-9;
/// Triples are looked for among so many nearest neighbours of a sphere. Twelve equal spheres can touch one; smaller ones
/// crowd closer, and a filler larger than the spheres would find all of them beside it.
const MOST_BESIDE: usize = 24;
/// Turns round two spheres at which the distance to the line is looked at.
const TURNS: u32 = 24;
/// A filler touches the line when the square of its distance is right to this, m²: a nanometre on a filler of 10 cm.
const CLOSE: f64 = 1e-10;
/// Steps, at most, to the turn at which it does; four or five are enough.
const CLOSINGS: u32 = 12;
/// Spheres are looked up in cells of at least this size, m.
const CELL: f64 = 0.05;

/// What fillers there are, and when there are enough.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FillSettings {
    /// Diameter of a filler, m.
    pub diameter: f64,
    /// From where one looks.
    pub view: View,
    /// Share of line and carrier that may show.
    pub show: f64,
    /// Fillers at most.
    pub most: u32,
    /// A filler and a sphere may come together to (1 − softness) of the sum of their radii.
    pub softness: f64,
}

/// A small sphere in a pocket.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Filler {
    /// Its centre, m.
    pub centre: DVec3,
    /// Its radius, m.
    pub radius: f64,
    /// Index of the cluster whose tie is nearest; it is tied there.
    pub near: u32,
}

/// Fillers, and how much showed before and shows after.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Filling {
    /// In the order of what they hide, most first.
    pub fillers: Vec<Filler>,
    /// Share of line and carrier that shows without fillers.
    pub shows_before: f64,
    /// Share that shows with them.
    pub shows_after: f64,
}

/// Sets fillers until no more than `show` of the line and its carrier shows, `most` are set, or no pocket is left that hides
/// any more of it. Carriers are the rods among the obstacles, as far as they run within the spheres' reach of a tie.
///
/// A filler's near side is no further from its tie than the furthest centre of the spheres tied there may be, so that a neck
/// can be led to the knot (common practice, no source).
#[must_use]
pub fn fillers(
    packing: &Packing,
    path: &Path,
    obstacles: &[Obstacle],
    settings: &FillSettings,
) -> Filling {
    let sight = look(packing, path, obstacles, settings.view);
    let open: usize = sight.open.iter().map(|(_, rays)| rays.len()).sum();
    let share = |open: usize| open as f64 / sight.all.max(1) as f64;
    let may_show = |open: usize| share(open) <= settings.show;
    let shows_before = share(open);
    let fits = settings.diameter > 0.0 && settings.diameter.is_finite();
    if may_show(open) || settings.most == 0 || !fits {
        return Filling {
            fillers: Vec::new(),
            shows_before,
            shows_after: shows_before,
        };
    }
    let pockets = Pockets::new(packing, path, obstacles, settings).find(&sight);
    let (fillers, hidden) = choose(&pockets, &sight, packing, settings, |hidden| {
        may_show(open - hidden)
    });
    Filling {
        fillers,
        shows_before,
        shows_after: share(open - hidden),
    }
}

/// What is needed to judge a place for a filler.
struct Pockets<'a> {
    packing: &'a Packing,
    path: &'a Path,
    walls: Vec<(DVec3, DVec3)>,
    rods: Vec<(DVec3, DVec3, f64)>,
    rods_near: Near,
    view: View,
    radius: f64,
    /// 1 − softness.
    hard: f64,
    /// Where the clusters are tied.
    ties: Near,
    /// The longest of the reaches.
    longest: f64,
    /// By cluster, the furthest that a centre may be from the tie.
    reach: Vec<f64>,
    /// Cosine and sine of the turns round two spheres.
    turns: Vec<[f64; 2]>,
}

impl<'a> Pockets<'a> {
    fn new(
        packing: &'a Packing,
        path: &'a Path,
        obstacles: &[Obstacle],
        settings: &FillSettings,
    ) -> Self {
        let mut reach = vec![0.0f64; packing.ties.len()];
        for (ball, most) in packing.balls.iter().zip(&packing.reach) {
            if let Some(reach) = reach.get_mut(ball.cluster as usize) {
                *reach = reach.max(*most);
            }
        }
        let (rods, rods_near) = rods(obstacles, path);
        Self {
            packing,
            path,
            walls: walls(obstacles),
            rods,
            rods_near,
            view: settings.view,
            radius: settings.diameter / 2.0,
            hard: 1.0 - settings.softness.clamp(0.0, 0.5),
            ties: Near::new(
                packing.ties.iter().map(|t| (path.frame(*t).point, 0.0)),
                4.0 * CELL,
            ),
            longest: reach.iter().copied().fold(0.0, f64::max),
            reach,
            turns: (0..TURNS)
                .map(|k| TAU * f64::from(k) / f64::from(TURNS))
                .map(|angle| [libm::cos(angle), libm::sin(angle)])
                .collect(),
        }
    }

    /// All places for a filler beside an open ray, by the indices of the spheres they touch.
    fn find(&self, sight: &Sight) -> Vec<Filler> {
        let balls = &self.packing.balls;
        let beside_ray = self.beside_rays(sight);
        let near = Near::new(balls.iter().map(|b| (b.centre, b.radius)), CELL);
        let beside: Vec<Vec<u32>> = (0u32..)
            .zip(balls)
            .map(|(i, ball)| {
                let mut beside = Vec::new();
                if beside_ray[i as usize] {
                    near.each(ball.centre, ball.radius + 2.0 * self.radius, |j, _, _| {
                        if j != i {
                            beside.push(j);
                        }
                    });
                    beside.sort_unstable();
                }
                beside
            })
            .collect();
        let mut pockets = Vec::new();
        for (i, all) in (0u32..).zip(&beside) {
            let later = self.nearest(i, all, &beside_ray);
            for (at, j) in later.iter().enumerate() {
                for k in &later[at + 1..] {
                    if beside[*j as usize].binary_search(k).is_ok() {
                        for centre in self.on_three([i, *j, *k]).into_iter().flatten() {
                            self.judge(centre, &[i, *j, *k], all, &mut pockets);
                        }
                    }
                }
                self.on_two_and_line(i, *j, |centre| {
                    self.judge(centre, &[i, *j], all, &mut pockets);
                });
            }
        }
        pockets
    }

    /// Which spheres a filler could touch that closes an open ray.
    fn beside_rays(&self, sight: &Sight) -> Vec<bool> {
        let balls = &self.packing.balls;
        let wide = balls
            .iter()
            .map(|b| (b.centre, b.radius + 2.0 * self.radius))
            .collect();
        let mut screen = Screen::new(wide, self.packing, self.view);
        let mut beside = vec![false; balls.len()];
        let mut found = Vec::new();
        for (spot, rays) in &sight.open {
            screen.before(spot, &mut found);
            for (i, centre, radius) in &found {
                let beside = &mut beside[*i as usize];
                *beside = *beside || rays.iter().any(|ray| ray.is_hidden_by(*centre, *radius));
            }
        }
        beside
    }

    /// The later neighbours of a sphere that lie beside an open ray; of very many the nearest.
    fn nearest(&self, i: u32, all: &[u32], beside_ray: &[bool]) -> Vec<u32> {
        let balls = &self.packing.balls;
        let mut later: Vec<u32> = all
            .iter()
            .copied()
            .filter(|j| *j > i && beside_ray[*j as usize])
            .collect();
        if later.len() > MOST_BESIDE {
            let home = &balls[i as usize];
            let gap = |j: &u32| {
                let other = &balls[*j as usize];
                (other.centre - home.centre).length() - other.radius
            };
            later.sort_by(|a, b| gap(a).total_cmp(&gap(b)));
            later.truncate(MOST_BESIDE);
            later.sort_unstable();
        }
        later
    }

    /// How far a filler's centre is from that of a sphere it touches.
    fn apart(&self, ball: u32) -> f64 {
        self.hard * (self.radius + self.packing.balls[ball as usize].radius)
    }

    /// The two places where a filler touches three spheres: where three spheres about their centres meet.
    fn on_three(&self, [i, j, k]: [u32; 3]) -> [Option<DVec3>; 2] {
        let [p, q, s] = [i, j, k].map(|b| self.packing.balls[b as usize].centre);
        let [rp, rq, rs] = [i, j, k].map(|b| self.apart(b));
        let (Some(ex), d) = ((q - p).try_normalize(), (q - p).length()) else {
            return [None; 2];
        };
        let a = ex.dot(s - p);
        let off = (s - p) - ex * a;
        let Some(ey) = off.try_normalize() else {
            return [None; 2];
        };
        let b = off.length();
        let x = (rp * rp - rq * rq + d * d) / (2.0 * d);
        let y = (rp * rp - rs * rs + a * a + b * b - 2.0 * a * x) / (2.0 * b);
        let zz = rp * rp - x * x - y * y;
        // three spheres nearly in a row leave no place that could be told exactly
        if !(zz > 0.0 && b > EXACT) {
            return [None; 2];
        }
        let foot = p + ex * x + ey * y;
        let up = ex.cross(ey) * zz.sqrt();
        [Some(foot + up), Some(foot - up)]
    }

    /// The places, up to four, where a filler touches two spheres and the line, taken as straight there.
    fn on_two_and_line(&self, i: u32, j: u32, mut found: impl FnMut(DVec3)) {
        let balls = &self.packing.balls;
        let (p, q) = (balls[i as usize].centre, balls[j as usize].centre);
        let (rp, rq) = (self.apart(i), self.apart(j));
        let (Some(ex), d) = ((q - p).try_normalize(), (q - p).length()) else {
            return;
        };
        let x = (rp * rp - rq * rq + d * d) / (2.0 * d);
        let ring = rp * rp - x * x;
        if ring <= 0.0 {
            return;
        }
        let ring = ring.sqrt();
        let middle = p + ex * x;
        let cluster = balls[i as usize].cluster as usize;
        let Some(tie) = self.packing.ties.get(cluster) else {
            return;
        };
        let frame = self.path.frame(foot(self.path, *tie, middle, 0.0));
        // across the line, the filler's centre runs on an ellipse: a + b cos φ + c sin φ
        let across = |v: DVec3| v - frame.tangent * v.dot(frame.tangent);
        let (ey, ez) = ex.any_orthonormal_pair();
        let (a, b, c) = (
            across(middle - frame.point),
            across(ey * ring),
            across(ez * ring),
        );
        let far = a.length();
        if far > ring + self.radius || far + ring < self.radius {
            return;
        }
        // how much further than touching, squared; a form in cosine and sine
        let rest = a.length_squared() - self.radius * self.radius;
        let (ab, ac, bc) = (2.0 * a.dot(b), 2.0 * a.dot(c), 2.0 * b.dot(c));
        let (bb, cc) = (b.length_squared(), c.length_squared());
        let off = |[x, y]: [f64; 2]| rest + x * (ab + x * bb + y * bc) + y * (ac + y * cc);
        let mut from = self.turns[self.turns.len() - 1];
        let mut off_from = off(from);
        for to in &self.turns {
            let off_to = off(*to);
            if (off_from > 0.0) != (off_to > 0.0) {
                let [x, y] = turn_between(from, *to, off_from, off_to, off);
                found(middle + (ey * x + ez * y) * ring);
            }
            (from, off_from) = (*to, off_to);
        }
    }

    /// Keeps a place if nothing is in the way and a neck reaches to the tie. `beside` holds all spheres that may be in the way.
    fn judge(&self, centre: DVec3, touched: &[u32], beside: &[u32], pockets: &mut Vec<Filler>) {
        let balls = &self.packing.balls;
        let free = beside.iter().filter(|b| !touched.contains(b)).all(|b| {
            let least = self.apart(*b) - EXACT;
            (balls[*b as usize].centre - centre).length_squared() >= least * least
        });
        if !free || !self.is_clear(centre) {
            return;
        }
        // no tie is in reach that is further than the longest tether and the filler's own radius
        let mut nearest: Option<(u32, f64)> = None;
        self.ties
            .each(centre, self.longest + self.radius + CELL, |c, tie, _| {
                let far = (tie - centre).length();
                if nearest.is_none_or(|(n, least)| far < least || (far <= least && c < n)) {
                    nearest = Some((c, far));
                }
            });
        let Some((near, far)) = nearest else {
            return;
        };
        if far - self.radius > self.reach[near as usize] {
            return;
        }
        let at = foot(self.path, self.packing.ties[near as usize], centre, 0.0);
        let off = (self.path.frame(at).point - centre).length();
        if off >= (1.0 - LINE_DENT) * self.radius - EXACT {
            pockets.push(Filler {
                centre,
                radius: self.radius,
                near,
            });
        }
    }

    /// Whether a filler stays out of all obstacles.
    fn is_clear(&self, centre: DVec3) -> bool {
        let mut clear = self
            .walls
            .iter()
            .all(|(point, normal)| (centre - *point).dot(*normal) >= self.radius - EXACT);
        self.rods_near.each(centre, self.radius, |rod, _, _| {
            let (from, to, radius) = self.rods[rod as usize];
            clear &= from_segment(centre, from, to).length() >= self.radius + radius - EXACT;
        });
        clear
    }
}

/// The turn between two near ones, as cosine and sine, at which a value that differs in sign at them is 0; by the false
/// position with the Illinois weighting (Dowell and Jarratt, 1971, from memory).
fn turn_between(
    from: [f64; 2],
    to: [f64; 2],
    at_from: f64,
    at_to: f64,
    value: impl Fn([f64; 2]) -> f64,
) -> [f64; 2] {
    let (mut old, mut new) = (from, to);
    let (mut at_old, mut at_new) = (at_from, at_to);
    for _ in 0..CLOSINGS {
        let (p, q) = (at_new / (at_new - at_old), at_old / (at_old - at_new));
        let (x, y) = (old[0] * p + new[0] * q, old[1] * p + new[1] * q);
        let length = (x * x + y * y).sqrt();
        let next = [x / length, y / length];
        let at_next = value(next);
        if (at_next > 0.0) == (at_new > 0.0) {
            at_old /= 2.0;
        } else {
            (old, at_old) = (new, at_new);
        }
        (new, at_new) = (next, at_next);
        if at_next.abs() < CLOSE {
            break;
        }
    }
    new
}

/// Takes pockets, the one that closes most open rays first, of equal ones the first found, until `enough` rays are closed.
/// Returns the fillers and how many rays they close.
fn choose(
    pockets: &[Filler],
    sight: &Sight,
    packing: &Packing,
    settings: &FillSettings,
    enough: impl Fn(usize) -> bool,
) -> (Vec<Filler>, usize) {
    let closes = closed_by(pockets, sight, packing, settings.view);
    let mut heap: BinaryHeap<(usize, Reverse<usize>)> = closes
        .iter()
        .enumerate()
        .filter(|(_, rays)| !rays.is_empty())
        .map(|(i, rays)| (rays.len(), Reverse(i)))
        .collect();
    let near = Near::new(pockets.iter().map(|p| (p.centre, 0.0)), CELL);
    let apart = settings.diameter * (1.0 - settings.softness.clamp(0.0, 0.5)) - EXACT;
    let mut taken = vec![false; pockets.len()];
    let mut closed = vec![false; sight.open.iter().map(|(_, rays)| rays.len()).sum()];
    let mut fillers = Vec::new();
    let mut hidden = 0;
    while let Some((gain, Reverse(i))) = heap.pop() {
        if taken[i] {
            continue;
        }
        // others may have closed some of its rays since it was put in; it can only have lost
        let now = closes[i].iter().filter(|r| !closed[**r as usize]).count();
        if now < gain {
            if now > 0 {
                heap.push((now, Reverse(i)));
            }
            continue;
        }
        fillers.push(pockets[i]);
        hidden += now;
        for ray in &closes[i] {
            closed[*ray as usize] = true;
        }
        near.each(pockets[i].centre, apart, |j, _, _| taken[j as usize] = true);
        if enough(hidden) || fillers.len() as u64 >= u64::from(settings.most) {
            break;
        }
    }
    (fillers, hidden)
}

/// By pocket, the open rays that a filler there would close, numbered as they stand in the sight.
fn closed_by(pockets: &[Filler], sight: &Sight, packing: &Packing, view: View) -> Vec<Vec<u32>> {
    let spheres = pockets.iter().map(|p| (p.centre, p.radius)).collect();
    let mut screen = Screen::new(spheres, packing, view);
    let mut closes = vec![Vec::new(); pockets.len()];
    let mut found = Vec::new();
    let mut number = 0u32;
    for (spot, rays) in &sight.open {
        screen.before(spot, &mut found);
        for ray in rays {
            for (i, centre, radius) in &found {
                if ray.is_hidden_by(*centre, *radius) {
                    closes[*i as usize].push(number);
                }
            }
            number += 1;
        }
    }
    closes
}

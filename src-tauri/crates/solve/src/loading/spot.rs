//! The best spot for one more item: candidate corners are the faces of what stands there already, and spots flush against them and
//! the walls. Whatever a rule forbids at a height becomes a rectangle that the item's corner stays out of, so that a candidate is
//! tested against rectangles alone.

use super::types::{Bears, Cuboid, Item, Order, Placed, Problem, Support, Triple};

/// Weights of a spot: distance from the far end, of the far side, height of the base, distance from the nearer side wall, height of
/// the top, distance from the first side wall. The least sum wins.
pub(super) type Taste = [f64; 6];

/// What a search tries for a single item.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Habit {
    /// It stands in this one of its shapes, counted round; `None`: in whichever suits best.
    pub(super) shape: Option<u8>,
    /// It leans to the other side wall.
    pub(super) other_side: bool,
}

/// What is looked for.
struct Ask<'a> {
    problem: &'a Problem,
    placed: &'a [Placed],
    item: &'a Item,
    taste: &'a Taste,
    habit: Habit,
}

/// A rectangle seen from above.
#[derive(Debug, Clone, Copy)]
struct Patch {
    low: [i32; 2],
    high: [i32; 2],
}

impl Patch {
    fn of(place: &Cuboid) -> Patch {
        Patch {
            low: [place.at[0], place.at[1]],
            high: [place.end(0), place.end(1)],
        }
    }

    fn shared(&self, at: [i32; 2], sides: Triple) -> i64 {
        let of = |axis: usize| {
            let end = at[axis] + sides[axis];
            i64::from((end.min(self.high[axis]) - at[axis].max(self.low[axis])).max(0))
        };
        of(0) * of(1)
    }
}

/// Memory for the search of a spot, used again and again.
#[derive(Debug, Default)]
pub(super) struct Finder {
    /// Boxes that an item may not meet, the shadows of the order of unloading among them.
    walls: Vec<Cuboid>,
    levels: Vec<i32>,
    barred: Vec<Patch>,
    carrying: Vec<Patch>,
    xs: Vec<i32>,
    ys: Vec<i32>,
    here: Vec<(i32, i32)>,
    /// By item, by rung: the shapes it may take that pass the door.
    shapes: Vec<Vec<Vec<Triple>>>,
    /// Faces of what stands, along x and y.
    faces: [Vec<i32>; 2],
    /// Rectangles looked at.
    pub(super) work: u64,
}

/// May `upper` rest on `lower`?
fn may_rest(upper: &Item, lower: &Item) -> bool {
    match lower.bears {
        Bears::All | Bears::UpTo(_) => true,
        Bears::Nothing => false,
        Bears::OwnKind => upper.bears == Bears::OwnKind,
    }
}

impl Finder {
    /// Memory for a question.
    pub(super) fn new(problem: &Problem) -> Finder {
        let through = |shape: &Triple| {
            let door = problem.container.door;
            door.is_none_or(|[wide, high]| shape[1] <= wide && shape[2] <= high)
                && (0..3).all(|a| shape[a] <= problem.container.sides[a])
        };
        let shapes = problem.items.iter().map(|item| {
            let rungs = std::iter::once(&item.sides).chain(&item.squeezed);
            rungs
                .map(|sides| {
                    let mut shapes = item.turns.shapes(*sides);
                    shapes.retain(through);
                    shapes
                })
                .collect()
        });
        Finder {
            shapes: shapes.collect(),
            ..Finder::default()
        }
    }

    /// The best spot for an item, or none. The mildest squeeze that finds one is taken.
    pub(super) fn find(
        &mut self,
        problem: &Problem,
        placed: &[Placed],
        which: usize,
        taste: &Taste,
        habit: Habit,
    ) -> Option<Placed> {
        let item = problem.items.get(which)?;
        self.shadows(problem, placed, item);
        self.levels.clear();
        self.levels.push(0);
        let tops = placed.iter().map(|p| &p.place);
        self.levels
            .extend(tops.chain(&problem.container.blocked).map(|p| p.end(2)));
        self.levels.sort_unstable();
        self.levels.dedup();
        for axis in 0..2 {
            let faces = &mut self.faces[axis];
            faces.clear();
            faces.push(0);
            for place in placed
                .iter()
                .map(|p| &p.place)
                .chain(&problem.container.blocked)
            {
                faces.push(place.at[axis]);
                faces.push(place.end(axis));
            }
            faces.sort_unstable();
            faces.dedup();
        }
        let ask = Ask {
            problem,
            placed,
            item,
            taste,
            habit,
        };
        for rung in 0..=item.squeezed.len() {
            let mut best: Option<(f64, Cuboid)> = None;
            let shapes = std::mem::take(&mut self.shapes[which][rung]);
            let only = habit.shape.map(|s| usize::from(s) % shapes.len().max(1));
            for (turn, shape) in shapes.iter().enumerate() {
                if only.is_none_or(|only| only == turn) {
                    self.of_shape(&ask, *shape, &mut best);
                }
            }
            self.shapes[which][rung] = shapes;
            if let Some((_, place)) = best {
                return Some(Placed {
                    item: which,
                    place,
                    rung,
                });
            }
        }
        None
    }

    /// Boxes that an item must keep clear of. Whatever stays longer throws a shadow to the far end and to the floor, whatever goes
    /// before it one to the door and to the roof.
    fn shadows(&mut self, problem: &Problem, placed: &[Placed], item: &Item) {
        self.walls.clear();
        self.walls.extend(&problem.container.blocked);
        let sides = problem.container.sides;
        for p in placed {
            let stop = problem.items[p.item].stop;
            if problem.order == Order::Free || stop == item.stop {
                self.walls.push(p.place);
                continue;
            }
            let stays = stop > item.stop;
            let stretched = |axis: usize| {
                let mut wall = p.place;
                if stays {
                    wall.sides[axis] = wall.end(axis);
                    wall.at[axis] = 0;
                } else {
                    wall.sides[axis] = sides[axis] - wall.at[axis];
                }
                wall
            };
            self.walls.push(stretched(0));
            if problem.order == Order::Lifo {
                self.walls.push(stretched(2));
            }
        }
    }

    fn of_shape(&mut self, ask: &Ask, shape: Triple, best: &mut Option<(f64, Cuboid)>) {
        let (problem, taste) = (ask.problem, ask.taste);
        let sides = problem.container.sides;
        corners(&mut self.xs, &self.faces[0], shape[0], sides[0]);
        corners(&mut self.ys, &self.faces[1], shape[1], sides[1]);
        for level in 0..self.levels.len() {
            let z = self.levels[level];
            if z + shape[2] > sides[2] {
                break;
            }
            let upright = taste[2] * f64::from(z) + taste[4] * f64::from(z + shape[2]);
            let least = upright + taste[1] * f64::from(shape[0]) * 0.5;
            if best.as_ref().is_some_and(|(b, _)| least >= *b) {
                continue;
            }
            if self.at_level(ask, shape, z) {
                self.over_floor(ask, shape, z, upright, best);
            }
        }
    }

    /// What is barred and what carries at a height; false if nothing carries.
    fn at_level(&mut self, ask: &Ask, shape: Triple, z: i32) -> bool {
        let (problem, item, placed) = (ask.problem, ask.item, ask.placed);
        let top = z + shape[2];
        self.barred.clear();
        self.carrying.clear();
        for wall in &self.walls {
            if wall.at[2] < top && wall.end(2) > z {
                self.barred.push(Patch::of(wall));
            }
        }
        for blocked in &problem.container.blocked {
            if blocked.end(2) == z {
                self.carrying.push(Patch::of(blocked));
            }
        }
        for p in placed {
            let other = &problem.items[p.item];
            let by_hand = problem.order == Order::LifoByHand;
            if p.place.end(2) == z {
                if !may_rest(item, other) || (by_hand && item.stop > other.stop) {
                    self.barred.push(Patch::of(&p.place));
                } else {
                    self.carrying.push(Patch::of(&p.place));
                }
            } else if p.place.at[2] == top
                && (!may_rest(other, item) || (by_hand && other.stop > item.stop))
            {
                self.barred.push(Patch::of(&p.place));
            }
        }
        self.work += (self.walls.len() + placed.len()) as u64;
        z == 0 || problem.support == Support::None || !self.carrying.is_empty()
    }

    fn over_floor(
        &mut self,
        ask: &Ask,
        shape: Triple,
        z: i32,
        upright: f64,
        best: &mut Option<(f64, Cuboid)>,
    ) {
        let (problem, item, placed) = (ask.problem, ask.item, ask.placed);
        let (taste, habit) = (ask.taste, ask.habit);
        let sides = problem.container.sides;
        let area = i64::from(shape[0]) * i64::from(shape[1]);
        let need = match problem.support {
            _ if z == 0 => 0,
            Support::None => 0,
            // any touch will do
            _ if item.bridges => 1,
            support => i64::from(support.percent()) * area,
        };
        for x in &self.xs {
            let along =
                upright + taste[0] * f64::from(*x) + taste[1] * f64::from(*x + shape[0]) * 0.5;
            if best.as_ref().is_some_and(|(b, _)| along >= *b) {
                break;
            }
            self.here.clear();
            for b in &self.barred {
                if b.low[0] < x + shape[0] && b.high[0] > *x {
                    self.here.push((b.low[1] - shape[1], b.high[1]));
                }
            }
            self.work += self.barred.len() as u64;
            for y in &self.ys {
                let other = sides[1] - y - shape[1];
                let aside = if habit.other_side { other } else { *y };
                let value =
                    along + taste[3] * f64::from(other.min(*y)) + taste[5] * f64::from(aside);
                if best.as_ref().is_some_and(|(b, _)| value >= *b) {
                    continue;
                }
                self.work += self.here.len() as u64;
                if self.here.iter().any(|(from, to)| from < y && y < to) {
                    continue;
                }
                if need > 0 {
                    self.work += self.carrying.len() as u64;
                    let on: i64 = self
                        .carrying
                        .iter()
                        .map(|c| c.shared([*x, *y], shape))
                        .sum();
                    if on * 100 < need {
                        continue;
                    }
                }
                let place = Cuboid {
                    at: [*x, *y, z],
                    sides: shape,
                };
                if bears_all(problem, placed, item, &place) {
                    *best = Some((value, place));
                }
            }
        }
    }
}

/// Candidates along an axis, ascending: the walls, the faces of what stands there, flush before them.
fn corners(out: &mut Vec<i32>, faces: &[i32], side: i32, length: i32) {
    let most = length - side;
    out.clear();
    // both lists ascend: merged they need no sorting
    let (mut after, mut before) = (0, 0);
    let flush = |i: usize| faces.get(i).map_or(most, |f| *f - side);
    while after < faces.len() || before <= faces.len() {
        let a = faces.get(after).copied().unwrap_or(i32::MAX);
        let b = if before <= faces.len() {
            flush(before).min(most)
        } else {
            i32::MAX
        };
        let at = a.min(b);
        if at > most {
            break;
        }
        if a == at {
            after += 1;
        }
        if b == at {
            before += 1;
        }
        if at >= 0 && out.last() != Some(&at) {
            out.push(at);
        }
    }
}

/// Whether no item with a limit carries too much with one more item there.
fn bears_all(problem: &Problem, placed: &[Placed], item: &Item, place: &Cuboid) -> bool {
    let limited = |p: &Placed| matches!(problem.items[p.item].bears, Bears::UpTo(_));
    // an item of no mass hands weight down too, when it comes between two
    let own = match item.bears {
        Bears::UpTo(most) => Some(most),
        _ => None,
    };
    if own.is_none() && !placed.iter().any(limited) {
        return true;
    }
    let area = |a: &Cuboid, b: &Cuboid| {
        i64::from(a.shared(b, 0).max(0)) * i64::from(a.shared(b, 1).max(0))
    };
    // weight handed down, from the highest base to the lowest; the new item comes first among equals and nothing rests on it that
    // was there before it, except what it was pushed under: that is weighed too
    let mut all: Vec<(Cuboid, f64, Option<i64>)> = placed
        .iter()
        .map(|p| {
            let of = &problem.items[p.item];
            let most = match of.bears {
                Bears::UpTo(most) => Some(most),
                _ => None,
            };
            (p.place, of.mass_g as f64, most)
        })
        .collect();
    all.push((*place, item.mass_g as f64, own));
    all.sort_by_key(|(place, ..)| std::cmp::Reverse(place.at[2]));
    let mut carried = vec![0.0; all.len()];
    for i in 0..all.len() {
        let (place, mass, most) = all[i];
        if most.is_some_and(|most| carried[i] > most as f64) {
            return false;
        }
        if place.at[2] == 0 {
            continue;
        }
        let below: Vec<(usize, i64)> = (i + 1..all.len())
            .filter(|j| all[*j].0.end(2) == place.at[2])
            .map(|j| (j, area(&place, &all[j].0)))
            .filter(|(_, shared)| *shared > 0)
            .collect();
        let fixed: i64 = problem
            .container
            .blocked
            .iter()
            .filter(|b| b.end(2) == place.at[2])
            .map(|b| area(&place, b))
            .sum();
        let on = fixed + below.iter().map(|(_, shared)| *shared).sum::<i64>();
        for (j, shared) in below {
            carried[j] += (carried[i] + mass) * shared as f64 / on.max(1) as f64;
        }
    }
    true
}

#[cfg(test)]
mod tests {
    use super::super::types::{Container, Turns};
    use super::*;

    /// Where nothing need be supported, a thing of no mass may come between one that hangs in the air and one that bears nothing:
    /// what hung there weighs on both then.
    #[test]
    fn what_weighs_nothing_hands_weight_down() {
        let sides = [100, 80, 30];
        let flat = |mass_g, bears| Item {
            mass_g,
            bears,
            ..Item::rigid(sides, Turns::UPRIGHT)
        };
        let at = |item, z| Placed {
            item,
            place: Cuboid {
                at: [0, 0, z],
                sides,
            },
            rung: 0,
        };
        let problem = Problem {
            container: Container::plain([100, 80, 90]),
            items: vec![
                flat(10, Bears::UpTo(0)),
                flat(500, Bears::All),
                flat(0, Bears::All),
            ],
            support: Support::None,
            order: Order::Free,
        };
        let between = at(2, 30).place;
        let item = &problem.items[2];
        assert!(bears_all(&problem, &[at(0, 0)], item, &between));
        assert!(!bears_all(&problem, &[at(0, 0), at(1, 60)], item, &between));
        let bearing_nothing = &problem.items[0];
        assert!(!bears_all(
            &problem,
            &[at(1, 30)],
            bearing_nothing,
            &at(0, 0).place
        ));
    }
}

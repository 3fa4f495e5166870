//! Free spaces: the largest boxes that are still empty. They overlap each other. Where everything must be fully supported, a space
//! stands on the floor or on one level stretch of tops, and reaches up as far as it goes.

use super::blocks::Top;
use super::types::{Cuboid, Triple};

/// See [`Space::far`].
const CLOSED: i32 = i32::MAX;

/// An empty box, from its low corner to its high one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Space {
    /// Low corner.
    pub(super) low: Triple,
    /// High corner.
    pub(super) high: Triple,
    /// Distance of the nearest corner to that of the container, the sum of the three; [`CLOSED`] if nothing goes in any more.
    pub(super) far: i32,
    /// Which corner that is: for each axis, whether it is the high one.
    pub(super) corner: [bool; 3],
}

impl Space {
    fn new(low: Triple, high: Triple, container: Triple, standing: bool) -> Space {
        let mut far = 0;
        let mut corner = [false; 3];
        for axis in 0..3 {
            let (near, other) = (low[axis], container[axis] - high[axis]);
            corner[axis] = other < near && !(standing && axis == 2);
            far += if corner[axis] { other } else { near };
        }
        Space {
            low,
            high,
            far,
            corner,
        }
    }

    /// Length along an axis.
    pub(super) fn side(&self, axis: usize) -> i32 {
        self.high[axis] - self.low[axis]
    }

    /// Volume.
    pub(super) fn volume(&self) -> i64 {
        (0..3).map(|a| i64::from(self.side(a))).product()
    }

    fn within(&self, other: &Space) -> bool {
        (0..3).all(|a| self.low[a] >= other.low[a] && self.high[a] <= other.high[a])
    }

    fn meets(&self, place: &Cuboid) -> bool {
        (0..3).all(|a| self.low[a] < place.end(a) && place.at[a] < self.high[a])
    }

    /// Where something of these sides stands in the corner.
    pub(super) fn put(&self, sides: Triple) -> Cuboid {
        let at = [0, 1, 2].map(|a| {
            if self.corner[a] {
                self.high[a] - sides[a]
            } else {
                self.low[a]
            }
        });
        Cuboid { at, sides }
    }
}

/// The free spaces of a container.
#[derive(Debug, Clone)]
pub(super) struct Spaces {
    /// They, in no order.
    pub(super) all: Vec<Space>,
    container: Triple,
    /// Everything stands fully on something.
    standing: bool,
    /// Sides below which nothing goes in.
    least: Triple,
}

impl Spaces {
    /// An empty container.
    pub(super) fn new(container: Triple, standing: bool, least: Triple) -> Spaces {
        Spaces {
            all: vec![Space::new([0; 3], container, container, standing)],
            container,
            standing,
            least,
        }
    }

    /// Which space comes next: the one nearest to a corner of the container, the larger of two.
    pub(super) fn next(&self) -> Option<usize> {
        let mut best: Option<(usize, i32, i64)> = None;
        for (i, space) in self.all.iter().enumerate() {
            if space.far == CLOSED {
                continue;
            }
            let better = match best {
                None => true,
                Some((_, far, volume)) => {
                    space.far < far || (space.far == far && space.volume() > volume)
                }
            };
            if better {
                best = Some((i, space.far, space.volume()));
            }
        }
        best.map(|(i, ..)| i)
    }

    /// Nothing goes into a space: it is not asked again. A level stretch stays, since it may grow together with another.
    pub(super) fn close(&mut self, space: usize) {
        if self.standing {
            self.all[space].far = CLOSED;
        } else {
            self.all.swap_remove(space);
        }
    }

    /// Takes what stands somewhere out of the spaces; its tops carry, if everything has to stand.
    pub(super) fn take(&mut self, place: &Cuboid, tops: &[Top], fresh: &mut Vec<Space>) {
        fresh.clear();
        let mut i = 0;
        while i < self.all.len() {
            if self.all[i].meets(place) {
                let space = self.all.swap_remove(i);
                self.split(&space, place, fresh);
            } else {
                i += 1;
            }
        }
        for i in 0..fresh.len() {
            let space = fresh[i];
            let held = self.all.iter().any(|s| space.within(s))
                || fresh
                    .iter()
                    .enumerate()
                    .any(|(j, s)| i != j && space.within(s) && !(s.within(&space) && j > i));
            if !held {
                // spaces before it in `all` are the old ones and fresh ones that none holds
                self.all.push(space);
            }
        }
        if self.standing {
            for top in tops {
                let low = [
                    place.at[0] + top[0],
                    place.at[1] + top[1],
                    place.at[2] + top[4],
                ];
                let high = [
                    place.at[0] + top[2],
                    place.at[1] + top[3],
                    self.container[2],
                ];
                self.carry(low, high, fresh);
            }
        }
    }

    fn split(&self, space: &Space, place: &Cuboid, fresh: &mut Vec<Space>) {
        for axis in 0..3 {
            if self.standing && axis == 2 {
                continue;
            }
            if place.at[axis] - space.low[axis] >= self.least[axis] {
                let mut high = space.high;
                high[axis] = place.at[axis];
                fresh.push(Space::new(space.low, high, self.container, self.standing));
            }
            if space.high[axis] - place.end(axis) >= self.least[axis] {
                let mut low = space.low;
                low[axis] = place.end(axis);
                fresh.push(Space::new(low, space.high, self.container, self.standing));
            }
        }
    }

    /// Adds a level stretch, grown together with its neighbours of the same height.
    fn carry(&mut self, low: Triple, high: Triple, fresh: &mut Vec<Space>) {
        if high[2] - low[2] < self.least[2] {
            return;
        }
        fresh.clear();
        fresh.push(Space::new(low, high, self.container, true));
        let mut i = 0;
        while i < fresh.len() {
            let a = fresh[i];
            for s in 0..self.all.len() {
                let b = self.all[s];
                if b.low[2] != low[2] {
                    continue;
                }
                for axis in 0..2 {
                    let across = 1 - axis;
                    let touch = a.low[axis] <= b.high[axis] && b.low[axis] <= a.high[axis];
                    let (from, to) = (
                        a.low[across].max(b.low[across]),
                        a.high[across].min(b.high[across]),
                    );
                    if !touch || from >= to {
                        continue;
                    }
                    let mut both = a;
                    both.low[axis] = a.low[axis].min(b.low[axis]);
                    both.high[axis] = a.high[axis].max(b.high[axis]);
                    both.low[across] = from;
                    both.high[across] = to;
                    both.high[2] = a.high[2].min(b.high[2]);
                    if fresh.iter().chain(&self.all).any(|f| both.within(f)) {
                        continue;
                    }
                    fresh.push(Space::new(both.low, both.high, self.container, true));
                }
            }
            i += 1;
        }
        self.all.retain(|s| !fresh.iter().any(|f| s.within(f)));
        for i in 0..fresh.len() {
            let space = fresh[i];
            let held = fresh
                .iter()
                .enumerate()
                .any(|(j, s)| i != j && space.within(s) && !(s.within(&space) && j > i));
            if !held {
                self.all.push(space);
            }
        }
    }
}

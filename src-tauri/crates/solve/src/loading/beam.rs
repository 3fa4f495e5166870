//! Beam search over blocks with greedy completion, after Araya and Riff, A beam search approach to the container loading problem,
//! Computers & Operations Research 43 (2014): a state's worth is what the greedy rule makes of it. The width grows by the square root
//! of two until the work is used up. The worth of a block in a space (volume, waste left beside it, contact, number of boxes) is that
//! of their paper and the later ones on it; the weights are theirs.

use super::blocks::{Block, Kind, blocks, unpack};
use super::spaces::{Space, Spaces};
use super::types::{Cuboid, Support, Triple};

/// A gap up to this share of a block's side still counts as contact.
const NEAR: f64 = 0.04;
/// How little the number of boxes in a block counts against it.
const FEW: f64 = 0.2;

/// What a step costs even if no block goes anywhere: else a search with nothing to place would never end.
const STEP: u64 = 200;

/// A box of a kind where it stands.
pub(super) type Standing = (u16, Triple, Triple);

/// A load in the making.
#[derive(Debug, Clone)]
struct State {
    spaces: Spaces,
    /// Blocks that stand, as whole boxes.
    standing: Vec<Cuboid>,
    /// Which block each is.
    which: Vec<u32>,
    /// Boxes left of each kind.
    left: Vec<u16>,
    /// Blocks for which there are boxes left, largest first.
    open: Vec<u32>,
    volume: i64,
}

/// A state and what greed makes of it.
struct Node {
    state: State,
    worth: i64,
}

/// The search. Each call of [`Beam::advance`] widens one state.
pub(super) struct Beam {
    blocks: Vec<Block>,
    /// One over the number of boxes, to the power of [`FEW`], of each block, times its volume.
    base: Vec<f64>,
    /// For each axis the greatest sum of sides within a length.
    reach: [Vec<i32>; 3],
    container: Triple,
    /// What is in the way.
    fixed: Vec<Cuboid>,
    /// Volume of all boxes, or of the container if that is less: there is nothing better.
    most: i64,
    first: State,
    width: f64,
    level: Vec<Node>,
    at: usize,
    next: Vec<Node>,
    fresh: Vec<Space>,
    near: Vec<Cuboid>,
    rated: Vec<(f64, u32)>,
    best: i64,
    best_state: Option<State>,
    done: bool,
    work: u64,
}

impl Beam {
    /// A search for these boxes. It takes the work of making the blocks.
    pub(super) fn new(
        kinds: &[Kind],
        container: Triple,
        fixed: &[Cuboid],
        support: Support,
    ) -> Beam {
        let blocks = blocks(kinds, container, support);
        let base = blocks
            .iter()
            .map(|b| b.volume as f64 * libm::pow(1.0 / f64::from(b.boxes), FEW))
            .collect();
        let standing = support == Support::Full;
        let least = [0, 1, 2].map(|axis| {
            let sides = kinds.iter().flat_map(|k| k.shapes.iter().map(|s| s[axis]));
            sides.min().unwrap_or(1)
        });
        let mut spaces = Spaces::new(container, standing, least);
        let mut fresh = Vec::new();
        for blocked in fixed {
            let tops = [[0, 0, blocked.sides[0], blocked.sides[1], blocked.sides[2]]];
            spaces.take(blocked, &tops, &mut fresh);
        }
        let left: Vec<u16> = kinds.iter().map(|k| k.count).collect();
        let all: i64 = kinds.iter().map(|k| k.volume * i64::from(k.count)).sum();
        let inner: i64 = container.iter().map(|s| i64::from(*s)).product();
        let open = (0..blocks.len() as u32).collect();
        Beam {
            reach: [0, 1, 2].map(|axis| reach(kinds, axis, container[axis])),
            base,
            container,
            fixed: fixed.to_vec(),
            most: all.min(inner),
            first: State {
                spaces,
                standing: Vec::new(),
                which: Vec::new(),
                left,
                open,
                volume: 0,
            },
            width: 1.0,
            level: Vec::new(),
            at: 0,
            next: Vec::new(),
            fresh,
            near: Vec::new(),
            rated: Vec::new(),
            best: 0,
            best_state: None,
            done: blocks.is_empty(),
            work: blocks.len() as u64 * 100,
            blocks,
        }
    }

    /// Whether there is nothing left to try.
    pub(super) fn done(&self) -> bool {
        self.done
    }

    /// Work so far: looks at a block, about.
    pub(super) fn work(&self) -> u64 {
        self.work
    }

    /// Volume of the best load so far.
    pub(super) fn best(&self) -> i64 {
        self.best
    }

    /// The best load so far.
    pub(super) fn boxes(&self) -> Vec<Standing> {
        let mut out = Vec::new();
        if let Some(state) = &self.best_state {
            for (which, place) in state.which.iter().zip(&state.standing) {
                unpack(&self.blocks, *which as usize, place.at, &mut out);
            }
        }
        out
    }

    /// Widens one state.
    pub(super) fn advance(&mut self) {
        if self.done {
            return;
        }
        self.work += STEP;
        if self.level.is_empty() {
            let mut state = self.first.clone();
            let worth = self.complete(&mut state);
            self.level.push(Node {
                state: self.first.clone(),
                worth,
            });
            self.at = 0;
        }
        if self.at < self.level.len() {
            self.widen(self.at);
            self.at += 1;
        }
        if self.at >= self.level.len() {
            self.choose();
        }
        self.done = self.best >= self.most;
    }

    /// The children of a state.
    fn widen(&mut self, at: usize) {
        let mut state = std::mem::replace(&mut self.level[at].state, self.first.clone());
        let worth = self.level[at].worth;
        let width = self.width as usize;
        loop {
            let Some(space) = state.spaces.next() else {
                return;
            };
            self.rate(&mut state, space, width);
            if self.rated.is_empty() {
                state.spaces.close(space);
                continue;
            }
            let rated = std::mem::take(&mut self.rated);
            for (rank, (_, block)) in rated.iter().enumerate() {
                let mut child = state.clone();
                self.place(&mut child, space, *block);
                let worth = if rank == 0 {
                    // greed goes this way itself
                    worth
                } else {
                    let mut end = child.clone();
                    self.complete(&mut end)
                };
                self.next.push(Node {
                    state: child,
                    worth,
                });
            }
            self.rated = rated;
            return;
        }
    }

    /// The best of the children are the next level; without children the search begins anew, wider.
    fn choose(&mut self) {
        let mut next = std::mem::take(&mut self.next);
        next.sort_by_key(|n| std::cmp::Reverse(n.worth));
        // loads that end alike are mostly the same load mirrored
        next.dedup_by_key(|n| n.worth);
        next.truncate(self.width as usize);
        if next.is_empty() {
            self.width = (self.width * std::f64::consts::SQRT_2).max(self.width.floor() + 1.0);
        }
        self.level = next;
        self.at = 0;
    }

    /// Fills a state up by the best block each time.
    fn complete(&mut self, state: &mut State) -> i64 {
        while let Some(space) = state.spaces.next() {
            self.rate(state, space, 1);
            match self.rated.first() {
                Some((_, block)) => {
                    let block = *block;
                    self.place(state, space, block);
                }
                None => state.spaces.close(space),
            }
        }
        if state.volume > self.best {
            self.best = state.volume;
            self.best_state = Some(state.clone());
        }
        state.volume
    }

    fn place(&mut self, state: &mut State, space: usize, block: u32) {
        let b = &self.blocks[block as usize];
        let place = state.spaces.all[space].put(b.sides);
        state.spaces.take(&place, &b.tops, &mut self.fresh);
        state.standing.push(place);
        state.which.push(block);
        state.volume += b.volume;
        for (kind, n) in &b.uses {
            state.left[usize::from(*kind)] -= n;
        }
        let left = &state.left;
        let blocks = &self.blocks;
        state.open.retain(|o| {
            let uses = &blocks[*o as usize].uses;
            uses.iter().all(|(kind, n)| left[usize::from(*kind)] >= *n)
        });
        self.work += state.open.len() as u64 + 8 * state.spaces.all.len() as u64;
    }

    /// The best blocks for a space, best first, into `rated`.
    fn rate(&mut self, state: &mut State, space: usize, most: usize) {
        let space = state.spaces.all[space];
        self.rated.clear();
        let side = [space.side(0), space.side(1), space.side(2)];
        let reachable = [0, 1, 2].map(|a| self.reach[a][side[a].max(0) as usize]);
        let room = 1.0
            / (f64::from(reachable[0]) * f64::from(reachable[1]) * f64::from(reachable[2]))
                .max(1.0);
        self.near.clear();
        let margin = [0, 1, 2].map(|a| (NEAR * f64::from(side[a])) as i32 + 1);
        for placed in state.standing.iter().chain(&self.fixed) {
            let close = (0..3).all(|a| {
                placed.at[a] <= space.high[a] + margin[a]
                    && placed.end(a) >= space.low[a] - margin[a]
            });
            if close {
                self.near.push(*placed);
            }
        }
        let mut floor = 0.0;
        for block in &state.open {
            let b = &self.blocks[*block as usize];
            if b.sides[0] > side[0] || b.sides[1] > side[1] || b.sides[2] > side[2] {
                continue;
            }
            let mut kept = 1.0;
            for (reach, (side, own)) in self.reach.iter().zip(side.iter().zip(b.sides)) {
                kept *= f64::from(own + reach[(side - own) as usize]);
            }
            // no reachable sum is longer than the longest: waste is from 0 to 1
            let bound = self.base[*block as usize] * (kept * room);
            if self.rated.len() >= most && bound <= floor {
                continue;
            }
            self.work += 4;
            let touch = self.contact(&space, b.sides);
            let value = bound * (touch * touch) * (touch * touch);
            if self.rated.len() < most || value > floor {
                let at = self.rated.partition_point(|(v, _)| *v >= value);
                self.rated.insert(at, (value, *block));
                self.rated.truncate(most);
                if self.rated.len() == most {
                    floor = self.rated[most - 1].0;
                }
            }
        }
        self.work += state.open.len() as u64;
    }

    /// Share of a block's surface that touches a wall or another block, or nearly so.
    fn contact(&self, space: &Space, sides: Triple) -> f64 {
        let place = space.put(sides);
        let mut touched = 0.0;
        let mut surface = 0.0;
        for axis in 0..3 {
            let [u, v] = [[1, 2], [0, 2], [0, 1]][axis];
            let face = f64::from(sides[u]) * f64::from(sides[v]);
            surface += 2.0 * face;
            let gap = (NEAR * f64::from(sides[axis])) as i32;
            let (low, high) = (place.at[axis], place.end(axis));
            let low_wall = low <= gap;
            let high_wall = self.container[axis] - high <= gap;
            let mut sum = 0i64;
            if !low_wall || !high_wall {
                for other in &self.near {
                    let below = low - other.end(axis);
                    let above = other.at[axis] - high;
                    let touches = (!low_wall && (0..=gap).contains(&below))
                        || (!high_wall && (0..=gap).contains(&above));
                    if touches {
                        let (a, b) = (place.shared(other, u), place.shared(other, v));
                        if a > 0 && b > 0 {
                            sum += i64::from(a) * i64::from(b);
                        }
                    }
                }
            }
            let walls = f64::from(u8::from(low_wall) + u8::from(high_wall));
            touched += (sum as f64 + walls * face).min(2.0 * face);
        }
        touched / surface
    }
}

/// For each length up to that of the container the greatest sum of sides along an axis that it holds.
fn reach(kinds: &[Kind], axis: usize, length: i32) -> Vec<i32> {
    let mut steps: Vec<usize> = kinds
        .iter()
        .flat_map(|k| k.shapes.iter().map(|s| s[axis].max(1) as usize))
        .collect();
    steps.sort_unstable();
    steps.dedup();
    let length = length.max(0) as usize;
    let mut can = vec![false; length + 1];
    can[0] = true;
    let mut out = vec![0; length + 1];
    for l in 0..=length {
        if !can[l] {
            can[l] = steps.iter().any(|s| *s <= l && can[l - s]);
        }
        out[l] = if can[l] { l as i32 } else { out[l - 1] };
    }
    out
}

//! Blocks: boxes put together beforehand, so that a search places a dozen things instead of a hundred. A simple block is a grid of
//! equal boxes; a joined one is two blocks side by side that leave next to nothing between them.

use super::types::{Support, Triple};

/// A joined block fills at least so much of its own sides. As published for block building (Zhu and Lim 2012; Araya and Riff 2014).
const LEAST_FILL: f64 = 0.98;
/// So many blocks are made at most: more cost more to look through than they bring.
const MOST_BLOCKS: usize = 8_000;
/// A joined block has so many separate tops at most.
const MOST_TOPS: usize = 3;

/// Boxes that are all alike.
#[derive(Debug, Clone)]
pub(super) struct Kind {
    /// The ways it may stand.
    pub(super) shapes: Vec<Triple>,
    /// How many there are.
    pub(super) count: u16,
    /// Volume of one.
    pub(super) volume: i64,
}

/// How a block is put together.
#[derive(Debug, Clone, Copy)]
pub(super) enum Make {
    /// A grid of one kind in one shape.
    Grid {
        /// Kind.
        kind: u16,
        /// Sides of each box.
        shape: Triple,
        /// Boxes along each axis.
        many: [u16; 3],
    },
    /// Two blocks one after the other along an axis.
    Joined {
        /// Axis.
        axis: u8,
        /// The one at the origin.
        first: u32,
        /// The one after it.
        second: u32,
    },
}

/// A level stretch of the top of a block, from the block's corner: x, y, their ends, and how high.
pub(super) type Top = [i32; 5];

/// Boxes put together.
#[derive(Debug, Clone)]
pub(super) struct Block {
    /// Sides of the whole.
    pub(super) sides: Triple,
    /// Volume of its boxes.
    pub(super) volume: i64,
    /// How many boxes.
    pub(super) boxes: u16,
    /// Kinds and how many of each, ascending by kind.
    pub(super) uses: Vec<(u16, u16)>,
    /// What can carry.
    pub(super) tops: Vec<Top>,
    /// How it is put together.
    pub(super) make: Make,
}

/// All blocks for a container, largest first.
pub(super) fn blocks(kinds: &[Kind], container: Triple, support: Support) -> Vec<Block> {
    let mut all = grids(kinds, container);
    all.sort_by_key(|b| std::cmp::Reverse(b.volume));
    all.truncate(MOST_BLOCKS);
    join(&mut all, kinds, container, support);
    all
}

fn grids(kinds: &[Kind], container: Triple) -> Vec<Block> {
    let mut all = Vec::new();
    for (kind, k) in kinds.iter().enumerate() {
        for shape in &k.shapes {
            let most = |axis: usize, left: u16| -> u16 {
                let fit = container[axis] / shape[axis].max(1);
                left.min(u16::try_from(fit).unwrap_or(u16::MAX))
            };
            for nx in 1..=most(0, k.count) {
                for ny in 1..=most(1, k.count / nx) {
                    for nz in 1..=most(2, k.count / nx / ny) {
                        let many = [nx, ny, nz];
                        let sides = [0, 1, 2].map(|a| shape[a] * i32::from(many[a]));
                        let boxes = nx * ny * nz;
                        let kind = kind as u16;
                        all.push(Block {
                            sides,
                            volume: k.volume * i64::from(boxes),
                            boxes,
                            uses: vec![(kind, boxes)],
                            tops: vec![[0, 0, sides[0], sides[1], sides[2]]],
                            make: Make::Grid {
                                kind,
                                shape: *shape,
                                many,
                            },
                        });
                    }
                }
            }
        }
    }
    all
}

/// Adds blocks of two that lie side by side or on each other.
fn join(all: &mut Vec<Block>, kinds: &[Kind], container: Triple, support: Support) {
    let mut from = 0;
    // twice: pairs, then pairs of pairs
    for _ in 0..2 {
        let till = all.len();
        let mut made = Vec::new();
        for axis in [0u8, 1, 2] {
            pairs(all, from..till, axis, kinds, container, support, &mut made);
        }
        made.sort_by_key(|b| std::cmp::Reverse(b.volume));
        let room = MOST_BLOCKS.saturating_sub(all.len());
        made.truncate(room);
        if made.is_empty() {
            return;
        }
        from = till;
        all.extend(made);
    }
}

/// Pairs along an axis of which at least one is among the new blocks.
fn pairs(
    all: &[Block],
    new: std::ops::Range<usize>,
    axis: u8,
    kinds: &[Kind],
    container: Triple,
    support: Support,
    made: &mut Vec<Block>,
) {
    let along = usize::from(axis);
    let [u, v] = [[1, 2], [0, 2], [0, 1]][along];
    // sorted by one of the other sides, partners lie close together
    let mut order: Vec<usize> = (0..all.len()).collect();
    order.sort_by_key(|i| all[*i].sides[v]);
    let limit = MOST_BLOCKS * 2;
    for (rank, i) in order.iter().enumerate() {
        let a = &all[*i];
        for j in &order[rank..] {
            let b = &all[*j];
            // b is the larger along v: the waste is at least that of the difference
            if f64::from(a.sides[v]) < f64::from(b.sides[v]) * (2.0 * LEAST_FILL - 1.0) * 0.9 {
                break;
            }
            if !new.contains(i) && !new.contains(j) {
                continue;
            }
            if a.sides[along] + b.sides[along] > container[along] {
                continue;
            }
            let (su, sv) = (a.sides[u].max(b.sides[u]), a.sides[v].max(b.sides[v]));
            if su > container[u] || sv > container[v] {
                continue;
            }
            let volume = a.volume + b.volume;
            let whole = i64::from(su) * i64::from(sv) * i64::from(a.sides[along] + b.sides[along]);
            if (volume as f64) < whole as f64 * LEAST_FILL {
                continue;
            }
            let pairs = if *i == *j || along != 2 {
                vec![(*i, *j)]
            } else {
                vec![(*i, *j), (*j, *i)]
            };
            for (first, second) in pairs {
                if let Some(block) = joined(all, first, second, axis, kinds, support) {
                    made.push(block);
                    if made.len() > limit {
                        return;
                    }
                    break;
                }
            }
        }
    }
}

fn joined(
    all: &[Block],
    first: usize,
    second: usize,
    axis: u8,
    kinds: &[Kind],
    support: Support,
) -> Option<Block> {
    let (a, b) = (&all[first], &all[second]);
    let along = usize::from(axis);
    // a grid of the same kind is there already
    if let (
        Make::Grid {
            kind: k, shape: s, ..
        },
        Make::Grid {
            kind: l, shape: t, ..
        },
    ) = (a.make, b.make)
        && k == l
        && s == t
    {
        return None;
    }
    let mut uses = a.uses.clone();
    for (kind, n) in &b.uses {
        match uses.iter_mut().find(|(k, _)| k == kind) {
            Some((_, m)) => *m += n,
            None => uses.push((*kind, *n)),
        }
    }
    if uses.iter().any(|(k, n)| *n > kinds[usize::from(*k)].count) {
        return None;
    }
    uses.sort_unstable();
    let mut sides = [0, 1, 2].map(|k| a.sides[k].max(b.sides[k]));
    sides[along] = a.sides[along] + b.sides[along];
    let mut tops;
    if along == 2 {
        if support == Support::Full {
            let carries = a.tops.iter().any(|t| {
                t[4] == a.sides[2]
                    && t[0] == 0
                    && t[1] == 0
                    && t[2] >= b.sides[0]
                    && t[3] >= b.sides[1]
            });
            if !carries {
                return None;
            }
        }
        tops = b.tops.clone();
        for top in &mut tops {
            top[4] += a.sides[2];
        }
    } else {
        tops = a.tops.clone();
        for mut top in b.tops.iter().copied() {
            top[along] += a.sides[along];
            top[along + 2] += a.sides[along];
            match tops.iter_mut().find(|t| meets(t, &top, along)) {
                Some(other) => other[along + 2] = top[along + 2],
                None => tops.push(top),
            }
        }
        if tops.len() > MOST_TOPS {
            return None;
        }
    }
    Some(Block {
        sides,
        volume: a.volume + b.volume,
        boxes: a.boxes + b.boxes,
        uses,
        tops,
        make: Make::Joined {
            axis,
            first: first as u32,
            second: second as u32,
        },
    })
}

/// Whether the second top goes on where the first ends, as wide and as high.
fn meets(first: &Top, second: &Top, along: usize) -> bool {
    let across = 1 - along;
    first[4] == second[4]
        && first[along + 2] == second[along]
        && first[across] == second[across]
        && first[across + 2] == second[across + 2]
}

/// The boxes of a block that stands somewhere: kind, place, sides; lower ones first.
pub(super) fn unpack(
    all: &[Block],
    block: usize,
    at: Triple,
    out: &mut Vec<(u16, Triple, Triple)>,
) {
    match all[block].make {
        Make::Grid { kind, shape, many } => {
            for z in 0..i32::from(many[2]) {
                for y in 0..i32::from(many[1]) {
                    for x in 0..i32::from(many[0]) {
                        let step = [x, y, z];
                        let place = [0, 1, 2].map(|a| at[a] + step[a] * shape[a]);
                        out.push((kind, place, shape));
                    }
                }
            }
        }
        Make::Joined {
            axis,
            first,
            second,
        } => {
            unpack(all, first as usize, at, out);
            let mut next = at;
            next[usize::from(axis)] += all[first as usize].sides[usize::from(axis)];
            unpack(all, second as usize, next, out);
        }
    }
}

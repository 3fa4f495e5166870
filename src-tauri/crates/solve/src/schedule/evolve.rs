//! A search over lists by crossing them: a steady-state genetic algorithm (Hartmann, "A competitive genetic algorithm for
//! resource-constrained project scheduling", Naval Research Logistics 45, 1998) whose children are pushed together forwards and
//! backwards. Two crossings take turns: by two points of the list, and around the busiest stretch of time (after Valls,
//! Ballestín, Quintanilla, "A hybrid genetic algorithm for the RCPSP", EJOR 185, 2008).

use super::generate::{Generator, Spare};

/// Chance that two neighbours of a child's list change places.
const SWAP: u32 = 30;
/// Chance that one activity of a child moves to another place of its list.
const SHIFT: u32 = 300;
/// Out of so many.
const OF: u32 = 1000;
/// Children without a gain, by members, after which the population is made anew.
const STALE: usize = 40;

/// Numbers that only look random: the same from the same seed (xorshift; Marsaglia 2003).
#[derive(Debug, Clone)]
pub(super) struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    /// A number below `n`, which is below 2^32.
    pub fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (((self.0 >> 32) * n as u64) >> 32) as usize
    }

    fn chance(&mut self, share: u32) -> bool {
        self.below(OF as usize) < share as usize
    }
}

/// A list in the order of the starts that it led to.
#[derive(Debug, Clone)]
struct Member {
    list: Vec<u32>,
    starts: Vec<i32>,
    makespan: i32,
}

/// A population on its way.
#[derive(Debug, Clone)]
pub(super) struct Evolution {
    pub generator: Generator,
    dice: Dice,
    spare: Spare,
    tails: Vec<i64>,
    members: Vec<Member>,
    stale: usize,
    /// Nothing can be shorter.
    bound: i32,
    best: Member,
    used: Vec<bool>,
    place: Vec<u32>,
    load: Vec<u32>,
    weights: Vec<u32>,
}

impl Evolution {
    /// Begins with the list by longest tails. `weights`: by activity, how much of scarce things it takes, for finding busy times.
    pub fn new(generator: Generator, tails: Vec<i64>, weights: Vec<u32>, bound: i32) -> Self {
        let n = generator.n;
        let mut out = Self {
            dice: Dice::new(1),
            spare: Spare::new(n),
            tails,
            members: Vec::new(),
            stale: 0,
            bound,
            best: Member {
                list: vec![],
                starts: vec![],
                makespan: i32::MAX,
            },
            used: vec![false; n],
            place: vec![0; n],
            load: Vec::new(),
            weights,
            generator,
        };
        let list = out.sample(true);
        let first = out.grown(list);
        out.best = first.clone();
        out.members.push(first);
        out
    }

    /// The least makespan so far with its starts.
    pub fn best(&self) -> (i32, &[i32]) {
        (self.best.makespan, &self.best.starts)
    }

    /// Goes on until so many activities have been placed, or the bound is reached. `size` of the population.
    pub fn run(&mut self, placed: u64, size: usize) {
        while self.best.makespan > self.bound && self.generator.placed < placed {
            if self.members.len() < size {
                let list = self.sample(false);
                let member = self.grown(list);
                self.note(&member);
                self.members.push(member);
            } else if self.stale > STALE * size {
                self.members.clear();
                self.stale = 0;
            } else {
                self.child();
            }
        }
    }

    fn note(&mut self, member: &Member) -> bool {
        let better = member.makespan < self.best.makespan;
        if better {
            self.best = member.clone();
        }
        better
    }

    fn grown(&mut self, mut list: Vec<u32>) -> Member {
        let mut starts = vec![0; list.len()];
        let makespan = self
            .generator
            .improve(&mut list, &mut starts, self.bound, &mut self.spare);
        Member {
            list,
            starts,
            makespan,
        }
    }

    /// A list that respects the arcs: by the longest tail, or drawn with a liking for long tails.
    fn sample(&mut self, by_rule: bool) -> Vec<u32> {
        let generator = &self.generator;
        let mut waits: Vec<usize> = generator.before.iter().map(Vec::len).collect();
        let mut ready: Vec<u32> = (0..)
            .zip(&waits)
            .filter(|(_, w)| **w == 0)
            .map(|(i, _)| i)
            .collect();
        let mut list = Vec::with_capacity(generator.n);
        while !ready.is_empty() {
            let tail = |i: &u32| self.tails[*i as usize];
            let least = ready.iter().map(tail).min().unwrap_or(0);
            let liking = |i: &u32| {
                u64::try_from(tail(i) - least + 1)
                    .unwrap_or(1)
                    .min(1 << 12)
                    .pow(2)
            };
            let at = if by_rule {
                (0..ready.len())
                    .max_by_key(|k| (tail(&ready[*k]), std::cmp::Reverse(ready[*k])))
                    .unwrap_or(0)
            } else {
                let all: u64 = ready.iter().map(liking).sum();
                let mut draw = (self.dice.below(1 << 30) as u64 * (all >> 10).max(1)) >> 20;
                draw = draw.min(all - 1);
                ready
                    .iter()
                    .position(|i| {
                        let mine = liking(i);
                        let hit = draw < mine;
                        draw = draw.saturating_sub(mine);
                        hit
                    })
                    .unwrap_or(0)
            };
            let i = ready.swap_remove(at);
            list.push(i);
            for (a, _) in &generator.after[i as usize] {
                waits[*a as usize] -= 1;
                if waits[*a as usize] == 0 {
                    ready.push(*a);
                }
            }
        }
        list
    }

    /// Crosses two members; the child takes the place of the worst one unless it is worse or there already.
    fn child(&mut self) {
        let size = self.members.len();
        let a = self.pick();
        let mut b = self.pick();
        if a == b {
            b = (b + 1) % size;
        }
        let mut list = self.crossed(a, b);
        self.mutate(&mut list);
        let child = self.grown(list);
        let gain = self.note(&child);
        self.stale += 1;
        if self
            .members
            .iter()
            .any(|m| m.makespan == child.makespan && m.starts == child.starts)
        {
            return;
        }
        // of equally bad ones the first after a drawn place
        let from = self.dice.below(size);
        let turned = (0..size).map(|k| (k + from) % size);
        let worst = turned
            .max_by_key(|k| self.members[*k].makespan)
            .unwrap_or(0);
        if child.makespan <= self.members[worst].makespan {
            self.members[worst] = child;
        }
        if gain {
            self.stale = 0;
        }
    }

    /// The better of two that are drawn.
    fn pick(&mut self) -> usize {
        let (a, b) = (
            self.dice.below(self.members.len()),
            self.dice.below(self.members.len()),
        );
        if self.members[a].makespan <= self.members[b].makespan {
            a
        } else {
            b
        }
    }

    /// A child of two lists that respects the arcs, as each part is taken in the order of a list that does.
    fn crossed(&mut self, a: usize, b: usize) -> Vec<u32> {
        let n = self.generator.n;
        let (from, to) = if self.dice.chance(OF / 2) {
            self.busiest(a)
        } else {
            let (x, y) = (self.dice.below(n + 1), self.dice.below(n + 1));
            (x.min(y), x.max(y))
        };
        let (a, b) = (&self.members[a].list, &self.members[b].list);
        let mut list = Vec::with_capacity(n);
        if self.dice.chance(OF / 2) {
            self.used.fill(false);
            for (source, until) in [(b, from), (a, to), (b, n)] {
                for i in source {
                    if list.len() == until {
                        break;
                    }
                    if !std::mem::replace(&mut self.used[*i as usize], true) {
                        list.push(*i);
                    }
                }
            }
        } else {
            // what stands before and after a's stretch keeps b's order
            for (k, i) in (0..).zip(a) {
                self.place[*i as usize] = k;
            }
            let place = |i: &&u32| self.place[**i as usize] as usize;
            list.extend(b.iter().filter(|i| place(i) < from));
            list.extend(&a[from..to]);
            list.extend(b.iter().filter(|i| place(i) >= to));
        }
        list
    }

    /// The places in a member's list that lie in its busiest stretch, of a drawn length from a quarter to three quarters.
    fn busiest(&mut self, a: usize) -> (usize, usize) {
        let member = &self.members[a];
        let long = member.makespan.unsigned_abs() as usize;
        // load before each time, as running sums of running sums
        self.load.clear();
        self.load.resize(long + 2, 0);
        for (i, s) in member.starts.iter().enumerate() {
            let s = s.unsigned_abs() as usize;
            let end = s + self.generator.durations[i].unsigned_abs() as usize;
            self.load[s] = self.load[s].wrapping_add(self.weights[i]);
            self.load[end] = self.load[end].wrapping_sub(self.weights[i]);
        }
        let mut now = 0u32;
        for cell in &mut self.load {
            now = now.wrapping_add(*cell);
            *cell = now;
        }
        let stretch = (long * (250 + self.dice.below(501)) / 1000)
            .max(1)
            .min(long.max(1));
        let mut sum: u64 = self.load[..stretch].iter().map(|x| u64::from(*x)).sum();
        let (mut most, mut begin) = (sum * 1000, 0);
        for t in 1..=long.saturating_sub(stretch) {
            sum = sum + u64::from(self.load[t + stretch - 1]) - u64::from(self.load[t - 1]);
            // a little chance, so that not always the same stretch is taken
            let seen = sum * (900 + self.dice.below(201) as u64);
            if seen > most {
                (most, begin) = (seen, t);
            }
        }
        let starts = &member.starts;
        let first = |time: usize| {
            member
                .list
                .partition_point(|i| (starts[*i as usize].unsigned_abs() as usize) < time)
        };
        (first(begin), first(begin + stretch))
    }

    fn mutate(&mut self, list: &mut Vec<u32>) {
        let n = list.len();
        let comes_before =
            |g: &Generator, a: u32, b: u32| g.before[b as usize].iter().any(|(x, _)| *x == a);
        for k in 1..n {
            if self.dice.chance(SWAP) && !comes_before(&self.generator, list[k - 1], list[k]) {
                list.swap(k - 1, k);
            }
        }
        if n > 1 && self.dice.chance(SHIFT) {
            let at = self.dice.below(n);
            let i = list[at];
            let g = &self.generator;
            let low = list[..at]
                .iter()
                .rposition(|b| comes_before(g, *b, i))
                .map_or(0, |k| k + 1);
            let high = list[at + 1..]
                .iter()
                .position(|a| comes_before(g, i, *a))
                .map_or(n - 1, |k| at + k);
            if high > low {
                let to = low + self.dice.below(high - low + 1);
                list.remove(at);
                list.insert(to, i);
            }
        }
    }
}

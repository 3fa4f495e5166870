//! Shares of several resources side by side in words, so that one subtraction tests all that a word holds.
//!
//! A resource has a lane wide enough for its capacity, with one bit to spare on top. A word of free shares has these top bits set;
//! taking a demand from it clears the top bit of each lane that has too little. What fits in sixteen bits shares a word with three
//! others; greater capacities take wider lanes, and more resources take more words: there is no limit to either.

use super::project::Project;

/// Where the lane of a resource lies.
#[derive(Debug, Clone, Copy)]
struct Lane {
    word: usize,
    shift: u32,
    mask: u64,
}

/// How the resources of a project lie in words.
#[derive(Debug, Clone)]
pub(super) struct Lanes {
    lanes: Vec<Lane>,
    /// Capacities with the top bits set, by word.
    pub full: Vec<u64>,
    /// The top bits, by word.
    pub top: Vec<u64>,
    /// What each activity takes: pairs of word and shares, none for an activity of no duration.
    pub takes: Vec<Vec<(usize, u64)>>,
}

impl Lanes {
    /// Lays the resources out. A capacity above all demands together is lowered to them: that changes nothing.
    pub fn new(project: &Project) -> Self {
        let resources = project.capacities.len();
        let all = |k: usize| -> i64 {
            let work = project.activities.iter();
            let work = work.filter(|a| a.duration > 0);
            let away: i64 = project
                .blocks
                .iter()
                .filter(|b| b.resource == k)
                .map(|b| b.amount)
                .sum();
            work.map(|a| a.demand.get(k).copied().unwrap_or(0))
                .sum::<i64>()
                + away
        };
        let mut out = Self {
            lanes: Vec::with_capacity(resources),
            full: Vec::new(),
            top: Vec::new(),
            takes: vec![Vec::new(); project.activities.len()],
        };
        // bits of each word that are taken
        let mut taken: Vec<u32> = Vec::new();
        for (k, capacity) in project.capacities.iter().enumerate() {
            let capacity = u64::try_from((*capacity).min(all(k))).unwrap_or(0);
            let width = if capacity < 1 << 15 {
                16
            } else if capacity < 1 << 31 {
                32
            } else {
                64
            };
            let word = taken.iter().position(|t| t + width <= 64);
            let word = word.unwrap_or_else(|| {
                taken.push(0);
                out.full.push(0);
                out.top.push(0);
                taken.len() - 1
            });
            let shift = taken[word];
            taken[word] += width;
            out.lanes.push(Lane {
                word,
                shift,
                mask: u64::MAX >> (64 - width),
            });
            out.top[word] |= 1 << (shift + width - 1);
            out.full[word] |= capacity << shift;
        }
        for (full, top) in out.full.iter_mut().zip(&out.top) {
            *full |= top;
        }
        for (i, activity) in project.activities.iter().enumerate() {
            if activity.duration > 0 {
                for (k, demand) in activity.demand.iter().enumerate() {
                    out.add(i, k, *demand);
                }
            }
        }
        out
    }

    fn add(&mut self, activity: usize, resource: usize, demand: i64) {
        let Some(demand) = u64::try_from(demand).ok().filter(|d| *d > 0) else {
            return;
        };
        let lane = self.lanes[resource];
        let takes = &mut self.takes[activity];
        match takes.iter_mut().find(|(word, _)| *word == lane.word) {
            Some((_, shares)) => *shares += demand << lane.shift,
            None => takes.push((lane.word, demand << lane.shift)),
        }
    }

    /// What is left for activities at each time below `until`, by word, when blocks are away. Blocks beyond a capacity leave 0.
    /// `mirror`: time runs backwards from there.
    pub fn free(&self, project: &Project, until: usize, mirror: Option<i64>) -> Vec<Vec<u64>> {
        let mut free: Vec<Vec<u64>> = self.full.iter().map(|f| vec![*f; until]).collect();
        let near = |t: i64| usize::try_from(t).map_or(0, |t| t.min(until));
        for block in &project.blocks {
            let (from, to) = match mirror {
                Some(end) => (end - block.to, end - block.from),
                None => (block.from, block.to),
            };
            let lane = self.lanes[block.resource];
            for cell in &mut free[lane.word][near(from)..near(to).max(near(from))] {
                take(lane, block.amount, cell);
            }
        }
        free
    }

    /// The same by stretches between the times at which a block begins or ends: when each begins, and what is left, by word.
    pub fn bare(&self, project: &Project) -> (Vec<i32>, Vec<Vec<u64>>) {
        let near = |t: i64| i32::try_from(t.max(0)).unwrap_or(i32::MAX);
        let edges = project
            .blocks
            .iter()
            .flat_map(|b| [near(b.from), near(b.to)]);
        let mut begins: Vec<i32> = edges.chain([0]).collect();
        begins.sort_unstable();
        begins.dedup();
        let mut left: Vec<Vec<u64>> = self.full.iter().map(|f| vec![*f; begins.len()]).collect();
        for block in &project.blocks {
            let lane = self.lanes[block.resource];
            let (from, to) = (near(block.from), near(block.to));
            for (begin, cell) in begins.iter().zip(&mut left[lane.word]) {
                if from <= *begin && *begin < to {
                    take(lane, block.amount, cell);
                }
            }
        }
        (begins, left)
    }
}

/// Takes a share away, down to none.
fn take(lane: Lane, amount: i64, cell: &mut u64) {
    let top = (lane.mask >> 1) + 1;
    let left = ((*cell >> lane.shift) & lane.mask) - top;
    *cell -= left.min(u64::try_from(amount).unwrap_or(0)) << lane.shift;
}

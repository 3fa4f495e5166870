//! Serial generation: a list of activities becomes a schedule, each placed as early as arcs and resources let it, forwards or
//! backwards, and both in turn to push a schedule together (forward-backward improvement; Tormos, Lova 2001; Valls, Ballestín,
//! Quintanilla, "Justification and RCPSP", EJOR 165, 2005).
//!
//! For projects whose arcs all have a lag of at least the duration of what they come from, and whose activities have no latest start:
//! in these every list that respects the arcs gives a schedule.

use super::lanes::Lanes;
use super::project::Project;

/// Cells that are cleared in the time in which one activity is placed.
const CELLS: u64 = 128;

/// A project laid out for generation, with the times in 32 bits.
#[derive(Debug, Clone)]
pub(super) struct Generator {
    pub n: usize,
    pub durations: Vec<i32>,
    /// Arcs that come in and go out: activity, lag.
    pub before: Vec<Vec<(u32, i32)>>,
    pub after: Vec<Vec<(u32, i32)>>,
    /// Place in an order that respects the arcs.
    pub rank: Vec<u32>,
    /// The activity at each place of that order.
    order: Vec<u32>,
    earliest: Vec<i32>,
    lanes: Lanes,
    project: Project,
    /// Free shares by word and time: at the beginning, and while a schedule is made.
    fresh: Vec<Vec<u64>>,
    free: Vec<Vec<u64>>,
    /// Activities placed so far by all calls, with what clearing the cells comes to.
    pub placed: u64,
    cells: u64,
}

impl Generator {
    /// Lays a project out, if it is one that generation can serve; `horizon` is a makespan that no list exceeds.
    pub fn new(project: &Project, horizon: i32) -> Option<Self> {
        let n = project.activities.len();
        let small = |x: i64| i32::try_from(x).ok();
        let durations: Option<Vec<i32>> = project
            .activities
            .iter()
            .map(|a| small(a.duration))
            .collect();
        let earliest: Option<Vec<i32>> = project
            .activities
            .iter()
            .map(|a| small(a.earliest))
            .collect();
        if project.activities.iter().any(|a| a.latest.is_some()) {
            return None;
        }
        let (mut before, mut after) = (vec![Vec::new(); n], vec![Vec::new(); n]);
        for arc in &project.arcs {
            if arc.lag < project.activities[arc.from].duration {
                return None;
            }
            before[arc.to].push((u32::try_from(arc.from).ok()?, small(arc.lag)?));
            after[arc.from].push((u32::try_from(arc.to).ok()?, small(arc.lag)?));
        }
        let (rank, order) = ranks(&before, &after)?;
        let lanes = Lanes::new(project);
        let until = usize::try_from(horizon).ok()? + 1;
        let fresh = lanes.free(project, until, None);
        let cells = fresh.iter().map(|row| row.len() as u64).sum();
        Some(Self {
            n,
            durations: durations?,
            before,
            after,
            rank,
            order,
            earliest: earliest?,
            project: project.clone(),
            free: fresh.clone(),
            fresh,
            lanes,
            placed: 0,
            cells,
        })
    }

    /// The earliest place from `from` on, and takes it.
    fn place(&mut self, i: usize, from: i32) -> i32 {
        let duration = self.durations[i].unsigned_abs() as usize;
        let takes = &self.lanes.takes[i];
        let mut t = from.unsigned_abs() as usize;
        if let [(word, shares)] = takes.as_slice() {
            let top = self.lanes.top[*word];
            let row = &mut self.free[*word];
            // the last time that does not fit lets it jump furthest
            while let Some(k) = row[t..t + duration]
                .iter()
                .rposition(|f| (f - shares) & top != top)
            {
                t += k + 1;
            }
            for cell in &mut row[t..t + duration] {
                *cell -= shares;
            }
        } else {
            while let Some(k) = takes
                .iter()
                .filter_map(|(word, shares)| {
                    let top = self.lanes.top[*word];
                    let row = &self.free[*word][t..t + duration];
                    row.iter().rposition(|f| (f - shares) & top != top)
                })
                .max()
            {
                t += k + 1;
            }
            for (word, shares) in takes {
                for cell in &mut self.free[*word][t..t + duration] {
                    *cell -= shares;
                }
            }
        }
        i32::try_from(t).unwrap_or(i32::MAX)
    }

    /// Forwards, in the order of the list, which respects the arcs. The makespan.
    pub fn forward(&mut self, list: &[u32], starts: &mut [i32]) -> i32 {
        self.placed += list.len() as u64 + self.cells / CELLS;
        for (free, fresh) in self.free.iter_mut().zip(&self.fresh) {
            free.copy_from_slice(fresh);
        }
        let mut makespan = 0;
        for i in list {
            let i = *i as usize;
            let mut from = self.earliest[i];
            for (b, lag) in &self.before[i] {
                from = from.max(starts[*b as usize] + lag);
            }
            starts[i] = self.place(i, from);
            makespan = makespan.max(starts[i] + self.durations[i]);
        }
        makespan
    }

    /// Backwards from `end`, in the order of the list, in which what comes after stands first. The starts may lie before 0 and
    /// before the earliest ones: they serve as an order.
    fn backward(&mut self, list: &[u32], end: i32, starts: &mut [i32]) {
        self.placed += list.len() as u64 + self.cells / CELLS;
        if self.project.blocks.is_empty() {
            for (free, full) in self.free.iter_mut().zip(&self.lanes.full) {
                free.fill(*full);
            }
        } else {
            let until = self.fresh.first().map_or(0, Vec::len);
            self.free = self.lanes.free(&self.project, until, Some(i64::from(end)));
        }
        for i in list {
            let i = *i as usize;
            let duration = self.durations[i];
            // time runs backwards from the end: an activity begins there where it ends here
            let mut from = 0;
            for (a, lag) in &self.after[i] {
                from = from.max(end - (starts[*a as usize] - lag + duration));
            }
            starts[i] = end - self.place(i, from) - duration;
        }
    }

    /// A list becomes a schedule, then is pushed to the right and to the left while that makes it shorter, at least once. The list is
    /// left in the order of the starts. `best`: nothing can be shorter.
    pub fn improve(
        &mut self,
        list: &mut Vec<u32>,
        starts: &mut Vec<i32>,
        best: i32,
        spare: &mut Spare,
    ) -> i32 {
        let mut makespan = self.forward(list, starts);
        while makespan > best {
            self.by_end(starts, &mut spare.list, &mut spare.keys);
            self.backward(&spare.list, makespan, &mut spare.starts);
            self.by_start(&spare.starts, &mut spare.list, &mut spare.keys);
            let again = self.forward(&spare.list, &mut spare.starts);
            let shorter = again < makespan;
            if again <= makespan {
                std::mem::swap(starts, &mut spare.starts);
                makespan = again;
            }
            if !shorter {
                break;
            }
        }
        self.by_start(starts, list, &mut spare.keys);
        makespan
    }

    /// The activities in order of start; of equal ones what must come before stands first.
    pub fn by_start(&self, starts: &[i32], list: &mut Vec<u32>, keys: &mut Vec<u64>) {
        keys.clear();
        let ranks = starts.iter().zip(&self.rank);
        keys.extend(ranks.map(|(s, rank)| key(*s, *rank)));
        keys.sort_unstable();
        list.clear();
        list.extend(keys.iter().map(|k| self.order[(k & 0xffff_ffff) as usize]));
    }

    /// The activities from the last end to the first; of equal ones what must come after stands first.
    fn by_end(&self, starts: &[i32], list: &mut Vec<u32>, keys: &mut Vec<u64>) {
        keys.clear();
        let ends = starts.iter().zip(&self.durations).zip(&self.rank);
        keys.extend(ends.map(|((s, d), rank)| key(s + d, *rank)));
        keys.sort_unstable_by(|a, b| b.cmp(a));
        list.clear();
        list.extend(keys.iter().map(|k| self.order[(k & 0xffff_ffff) as usize]));
    }
}

/// Time first, then rank.
fn key(time: i32, rank: u32) -> u64 {
    u64::from(time.wrapping_sub(i32::MIN).cast_unsigned()) << 32 | u64::from(rank)
}

/// What [`Generator::improve`] writes on.
#[derive(Debug, Clone)]
pub(super) struct Spare {
    list: Vec<u32>,
    starts: Vec<i32>,
    keys: Vec<u64>,
}

impl Spare {
    pub fn new(n: usize) -> Self {
        Self {
            list: Vec::with_capacity(n),
            starts: vec![0; n],
            keys: Vec::with_capacity(n),
        }
    }
}

/// Each activity's place in an order that respects the arcs; none if they form a circle.
fn ranks(before: &[Vec<(u32, i32)>], after: &[Vec<(u32, i32)>]) -> Option<(Vec<u32>, Vec<u32>)> {
    let n = before.len();
    let mut waits: Vec<usize> = before.iter().map(Vec::len).collect();
    let mut order: Vec<usize> = (0..n).filter(|i| waits[*i] == 0).collect();
    let mut at = 0;
    while at < order.len() {
        for (a, _) in &after[order[at]] {
            let a = *a as usize;
            waits[a] -= 1;
            if waits[a] == 0 {
                order.push(a);
            }
        }
        at += 1;
    }
    if order.len() < n {
        return None;
    }
    let mut rank = vec![0; n];
    for (place, i) in (0..).zip(&order) {
        rank[*i] = place;
    }
    let order: Result<Vec<u32>, _> = order.into_iter().map(u32::try_from).collect();
    Some((rank, order.ok()?))
}

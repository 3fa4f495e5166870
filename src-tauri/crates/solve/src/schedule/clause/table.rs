//! The time-table: what certain parts of activities take at each time, and the bounds that this moves. An activity is certain to be at
//! work from its latest start to its earliest end. Each step is explained at one time alone, the one furthest on.
//!
//! What is left is kept for each time by itself while the horizon is short; beyond, in stretches, made anew before each pass.

use super::{Core, Lit, Why};

impl Core {
    /// The certain part between two bounds; empty if the first is not before the second.
    fn part(&self, var: usize, bounds: [i32; 2]) -> (i32, i32) {
        (bounds[1], bounds[0] + self.durations[var])
    }

    /// Bounds moved from old to new: the certain part grows. A time at which that is too much.
    pub(super) fn grow(&mut self, var: usize, old: [i32; 2], new: [i32; 2]) -> Option<i32> {
        if var >= self.n || self.lanes.takes[var].is_empty() {
            return None;
        }
        let (from, to) = self.part(var, new);
        if from >= to {
            return None;
        }
        let mut full = None;
        if self.stretches.is_some() {
            self.dirty = (self.dirty.0.min(from), self.dirty.1.max(to));
            return None;
        }
        for (from, to) in added(self.part(var, old), (from, to)) {
            if from >= to {
                continue;
            }
            self.dirty = (self.dirty.0.min(from), self.dirty.1.max(to));
            for (word, shares) in &self.lanes.takes[var] {
                let top = self.lanes.top[*word];
                let row =
                    &mut self.free[*word][from.unsigned_abs() as usize..to.unsigned_abs() as usize];
                for (t, cell) in (from..).zip(row) {
                    *cell = cell.wrapping_sub(*shares);
                    if *cell & top != top {
                        full = Some(t);
                    }
                }
            }
        }
        full
    }

    /// The reverse.
    pub(super) fn shrink(&mut self, var: usize, old: [i32; 2], new: [i32; 2]) {
        if var >= self.n || self.lanes.takes[var].is_empty() {
            return;
        }
        let (from, to) = self.part(var, new);
        if from >= to || self.stretches.is_some() {
            return;
        }
        for (from, to) in added(self.part(var, old), (from, to)) {
            if from < to {
                for (word, shares) in &self.lanes.takes[var] {
                    let row = &mut self.free[*word]
                        [from.unsigned_abs() as usize..to.unsigned_abs() as usize];
                    for cell in row {
                        *cell = cell.wrapping_add(*shares);
                    }
                }
            }
        }
    }

    pub(super) fn forget_changes(&mut self) {
        self.dirty = (i32::MAX, i32::MIN);
        self.moved.fill(false);
    }

    /// The latest time in a stretch at which an activity does not fit.
    fn last_full(&self, var: usize, from: i32, to: i32) -> Option<i32> {
        if from >= to {
            return None;
        }
        if let Some(stretches) = &self.stretches {
            return stretches.last_full(&self.lanes, var, from, to);
        }
        let stretch = from.unsigned_abs() as usize..to.unsigned_abs() as usize;
        let full = |(word, shares): &(usize, u64)| {
            let top = self.lanes.top[*word];
            self.free[*word][stretch.clone()]
                .iter()
                .rposition(|f| f.wrapping_sub(*shares) & top != top)
        };
        let last = self.lanes.takes[var].iter().filter_map(full).max()?;
        Some(from + last as i32)
    }

    /// The earliest such time.
    fn first_full(&self, var: usize, from: i32, to: i32) -> Option<i32> {
        if from >= to {
            return None;
        }
        if let Some(stretches) = &self.stretches {
            return stretches.first_full(&self.lanes, var, from, to);
        }
        let stretch = from.unsigned_abs() as usize..to.unsigned_abs() as usize;
        let full = |(word, shares): &(usize, u64)| {
            let top = self.lanes.top[*word];
            self.free[*word][stretch.clone()]
                .iter()
                .position(|f| f.wrapping_sub(*shares) & top != top)
        };
        let first = self.lanes.takes[var].iter().filter_map(full).min()?;
        Some(from + first as i32)
    }

    /// Moves bounds by the time-table, arcs and clauses until nothing moves. False if that is a conflict.
    pub(super) fn propagate(&mut self) -> bool {
        loop {
            if !self.drain() {
                return false;
            }
            if self.dirty.0 >= self.dirty.1 && !self.moved.iter().any(|m| *m) {
                return true;
            }
            if !self.pass() {
                return false;
            }
        }
    }

    /// Makes the stretches anew, if there are any. A time at which the certain parts are too much.
    fn renew(&mut self) -> Option<i32> {
        let mut stretches = self.stretches.take()?;
        self.work += self.n as u64 / 2;
        let parts = (0..self.n).map(|var| (var, self.part(var, self.bounds[var])));
        let full = stretches.renew(&self.lanes, parts);
        self.stretches = Some(stretches);
        full
    }

    /// One pass over the activities that moved, or stand where the time-table became fuller.
    fn pass(&mut self) -> bool {
        let (from, to) = std::mem::replace(&mut self.dirty, (i32::MAX, i32::MIN));
        self.work += self.n as u64 / 4;
        if let Some(full) = self.renew() {
            let mut conflict = std::mem::take(&mut self.conflict);
            conflict.clear();
            self.explain_table(full, None, self.trail.len(), &mut conflict);
            self.conflict = conflict;
            return false;
        }
        for var in 0..self.n {
            let moved = std::mem::replace(&mut self.moved[var], false);
            let duration = self.durations[var];
            let [least, most] = self.bounds[var];
            if least == most || self.lanes.takes[var].is_empty() {
                continue;
            }
            let met = |start: i32| start < to && start + duration > from;
            if !(moved || met(least) || met(most)) {
                continue;
            }
            self.work += 1;
            loop {
                let [least, most] = self.bounds[var];
                let Some(full) = self.last_full(var, least, most.min(least + duration)) else {
                    break;
                };
                if !self.set(var, 0, full + 1, Why::Table(full)) {
                    return false;
                }
            }
            loop {
                let [least, most] = self.bounds[var];
                let Some(full) = self.first_full(var, most.max(least + duration), most + duration)
                else {
                    break;
                };
                if !self.set(var, 1, full - duration, Why::Table(full)) {
                    return false;
                }
            }
        }
        self.moved[self.n] = false;
        true
    }

    /// Why, before an event, the time-table was too full at a time: for an activity, or for itself.
    pub(super) fn explain_table(
        &self,
        time: i32,
        who: Option<usize>,
        event: usize,
        into: &mut Vec<Lit>,
    ) {
        let mut chosen: Option<Vec<u32>> = None;
        let resources = self.capacities.len() as u32;
        let all: Vec<(u32, i64)>;
        let asked = match who {
            Some(i) => self.uses[i].as_slice(),
            None => {
                all = (0..resources).map(|k| (k, 0)).collect();
                all.as_slice()
            }
        };
        for (k, demand) in asked {
            let k = *k as usize;
            let away = self.blocks.iter().filter(|b| b.resource == k);
            let away = away.filter(|b| b.from <= i64::from(time) && i64::from(time) < b.to);
            let capacity = (self.capacities[k] - away.map(|b| b.amount).sum::<i64>()).max(0);
            // what must be found in use so that it is too much
            let mut missing = capacity - demand + 1;
            let mut certain: Vec<(u32, i64)> = Vec::new();
            for (j, takes) in &self.users[k] {
                let var = *j as usize;
                let [least, most] = self.bounds[var];
                if most > time || least + self.durations[var] <= time || who == Some(var) {
                    continue;
                }
                let lasts = self.bound_at(var, 0, event) + self.durations[var] > time;
                if !lasts || self.bound_at(var, 1, event) > time {
                    continue;
                }
                let always = self.root_bound(var, 0) + self.durations[var] > time
                    && self.root_bound(var, 1) <= time;
                if always {
                    missing -= takes;
                } else {
                    certain.push((*j, *takes));
                }
            }
            let mut set = Vec::new();
            let mut spare = -missing;
            for (j, takes) in &certain {
                if spare >= 0 {
                    break;
                }
                spare += takes;
                set.push((*j, *takes));
            }
            if spare < 0 {
                continue;
            }
            // the last one taken may make an earlier, smaller one needless
            set.retain(|(_, takes)| {
                let needless = *takes <= spare;
                if needless {
                    spare -= takes;
                }
                !needless
            });
            if chosen.as_ref().is_none_or(|c| set.len() < c.len()) {
                chosen = Some(set.into_iter().map(|(j, _)| j).collect());
            }
        }
        debug_assert!(
            chosen.is_some(),
            "the time-table moved a bound that it had no reason to move"
        );
        for j in chosen.unwrap_or_default() {
            let var = j as usize;
            into.push(Lit::at_least(var, time + 1 - self.durations[var]));
            into.push(Lit::below(var, time + 1));
        }
    }
}

/// The two pieces by which a stretch grew; the whole if it was empty.
fn added(old: (i32, i32), new: (i32, i32)) -> [(i32, i32); 2] {
    if old.0 >= old.1 {
        [new, (0, 0)]
    } else {
        [(new.0, old.0), (old.1, new.1)]
    }
}

//! Decisions, restarts, and better and better schedules.

use super::{Core, Lit, Why};

/// Conflicts of the shortest run between restarts.
const RUN: u64 = 64;
/// Clauses kept at first, and how many more after each time the useless half is dropped.
const CLAUSES: usize = 2000;
/// See [`CLAUSES`].
const MORE: usize = 300;

/// How a run of the search ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::schedule) enum End {
    /// No schedule is shorter than the best one; if there is none, there is no schedule.
    Proved,
    /// The work is used up.
    OutOfWork,
}

/// Where the search stands between runs.
#[derive(Debug, Clone, Default)]
pub(super) struct Pace {
    begun: bool,
    proved: bool,
    /// The last literal that was made true is a conflict already.
    refused: bool,
    restarts: u64,
    /// Conflicts left until the next restart.
    left: u64,
    limit: usize,
}

impl Core {
    /// Takes a schedule as the one to beat, and its starts as the first ones to try.
    pub fn better_than(&mut self, starts: &[i32], makespan: i32) {
        self.undo(0);
        self.order.again();
        self.phase[..self.n].copy_from_slice(starts);
        self.phase[self.n] = 0;
        self.best = Some(starts.to_vec());
        let to = makespan - 1;
        if to < self.bounds[self.n][0] || !self.set(self.n, 1, to, Why::Root) {
            self.pace.proved = true;
        }
    }

    /// Goes on until so much work has been done, or until all is proved.
    pub fn run(&mut self, work: u64) -> End {
        if !self.pace.begun {
            self.pace.begun = true;
            self.pace.left = RUN;
            self.pace.limit = CLAUSES;
            if self.bounds.iter().any(|[least, most]| least > most) || !self.begin() {
                self.pace.proved = true;
            }
        }
        while !self.pace.proved {
            if self.work >= work {
                return End::OutOfWork;
            }
            if !std::mem::take(&mut self.pace.refused) && self.propagate() {
                self.go_on();
            } else {
                self.go_back();
            }
        }
        End::Proved
    }

    /// Every arc once, as the first bounds are no events.
    fn begin(&mut self) -> bool {
        // parts that are certain from the first bounds on
        for var in 0..self.n {
            if self
                .grow(var, [0, i32::MAX / 2], self.bounds[var])
                .is_some()
            {
                return false;
            }
        }
        for var in 0..=self.n {
            for k in 0..self.out[var].len() {
                let (arc, to, lag) = self.out[var][k];
                if !self.set(to as usize, 0, self.bounds[var][0] + lag, Why::Arc(arc)) {
                    return false;
                }
            }
            for k in 0..self.into[var].len() {
                let (arc, from, lag) = self.into[var][k];
                if !self.set(from as usize, 1, self.bounds[var][1] - lag, Why::Arc(arc)) {
                    return false;
                }
            }
        }
        self.moved.fill(true);
        true
    }

    /// Restarts, decides, or writes down a schedule.
    fn go_on(&mut self) {
        if self.pace.left == 0 && !self.levels.is_empty() {
            self.pace.restarts += 1;
            self.pace.left = luby(self.pace.restarts) * RUN;
            self.undo(0);
            self.order.again();
            if self.clauses.alive() > self.pace.limit {
                self.forget_reasons();
                self.clauses.reduce();
                self.pace.limit += MORE;
            }
            return;
        }
        // without a schedule every other run goes for one straight on
        let straight = self.best.is_none() && self.pace.restarts.is_multiple_of(2);
        let decision = if straight { None } else { self.most_active() };
        match decision.or_else(|| self.earliest()) {
            Some(lit) => {
                self.levels.push(self.trail.len());
                self.pace.refused = !self.make(lit, Why::Decided);
            }
            None => self.write_down(),
        }
    }

    /// Bounds that hold for the whole problem need no reason, and may not name clauses that are dropped.
    fn forget_reasons(&mut self) {
        for event in &mut self.trail {
            event.why = Why::Root;
        }
    }

    fn most_active(&mut self) -> Option<Lit> {
        while let Some((var, time)) = self.order.first() {
            let [least, most] = self.bounds[var];
            if time <= least || time > most {
                self.order.pop();
                continue;
            }
            return Some(if self.phase[var] >= time {
                Lit::at_least(var, time)
            } else {
                Lit::below(var, time)
            });
        }
        None
    }

    /// The activity that can start earliest, of equals the most urgent, starts then.
    fn earliest(&self) -> Option<Lit> {
        let open = self
            .bounds
            .iter()
            .enumerate()
            .filter(|(_, [least, most])| least < most);
        let (var, [least, _]) = open.min_by_key(|(_, b)| **b)?;
        Some(Lit::below(var, least + 1))
    }

    fn write_down(&mut self) {
        let starts: Vec<i32> = self.bounds[..self.n].iter().map(|b| b[0]).collect();
        let ends = starts.iter().zip(&self.durations).map(|(s, d)| s + d);
        let makespan = ends.max().unwrap_or(0);
        self.pace.left = self.pace.left.max(RUN / 4);
        self.better_than(&starts, makespan);
    }

    /// Learns from a conflict.
    fn go_back(&mut self) {
        self.conflicts += 1;
        self.pace.left = self.pace.left.saturating_sub(1);
        let level = if self.levels.is_empty() {
            0
        } else {
            self.conflict_level()
        };
        if level == 0 {
            self.pace.proved = true;
            return;
        }
        let conflict = std::mem::take(&mut self.conflict);
        self.undo(level);
        self.conflict = conflict;
        let (back, glue) = self.learn();
        self.undo(back);
        self.order.again();
        self.order.age();
        self.clauses.age();
        let lits = std::mem::take(&mut self.learner.lits);
        let why = match lits.as_slice() {
            [_] => Why::Root,
            _ => Why::Clause(self.clauses.add(&lits, glue)),
        };
        self.pace.refused = lits.first().is_some_and(|first| !self.make(*first, why));
        self.learner.lits = lits;
    }
}

/// 1 1 2 1 1 2 4 … (Luby, Sinclair, Zuckerman, Information Processing Letters 47, 1993).
fn luby(mut i: u64) -> u64 {
    loop {
        let bits = u64::BITS - (i + 1).leading_zeros();
        if i + 1 == (1 << bits) - 1 {
            return 1 << (bits - 1);
        }
        i = i + 1 - (1 << (bits - 1));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn luby_grows_as_published() {
        let first: Vec<u64> = (0..15).map(luby).collect();
        assert_eq!(first, [1, 1, 2, 1, 1, 2, 4, 1, 1, 2, 1, 1, 2, 4, 8]);
    }
}

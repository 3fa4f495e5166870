//! What is left of each resource, by stretches of time in which nothing changes. It is made anew from the certain parts whenever they
//! changed: for days in seconds that is far less than a cell for each second.

use super::super::lanes::Lanes;

#[derive(Debug, Clone)]
pub(super) struct Stretches {
    /// When each stretch begins; the last one does not end.
    begins: Vec<i32>,
    /// By word, by stretch: what is left.
    left: Vec<Vec<u64>>,
    /// The same without any activity.
    bare: (Vec<i32>, Vec<Vec<u64>>),
}

impl Stretches {
    /// `bare`: when the stretches without any activity begin, and what is left in each, by word.
    pub fn new(bare: (Vec<i32>, Vec<Vec<u64>>)) -> Self {
        Self {
            begins: bare.0.clone(),
            left: bare.1.clone(),
            bare,
        }
    }

    /// From the certain parts of all activities; empty parts have their end at or before their start. The first time at which they
    /// are too much.
    pub fn renew(
        &mut self,
        lanes: &Lanes,
        parts: impl Iterator<Item = (usize, (i32, i32))> + Clone,
    ) -> Option<i32> {
        let real = parts.filter(|(var, (from, to))| from < to && !lanes.takes[*var].is_empty());
        self.begins.clear();
        self.begins.extend(&self.bare.0);
        self.begins
            .extend(real.clone().flat_map(|(_, (from, to))| [from, to]));
        self.begins.sort_unstable();
        self.begins.dedup();
        for (left, bare) in self.left.iter_mut().zip(&self.bare.1) {
            left.clear();
            let mut at = 0;
            for begin in &self.begins {
                while self.bare.0.get(at + 1).is_some_and(|next| next <= begin) {
                    at += 1;
                }
                left.push(bare[at]);
            }
        }
        let mut full: Option<i32> = None;
        for (var, (from, to)) in real {
            let (first, end) = (self.at(from), self.at(to));
            for (word, shares) in &lanes.takes[var] {
                let top = lanes.top[*word];
                for k in first..end {
                    let cell = &mut self.left[*word][k];
                    if *cell & top == top {
                        *cell = cell.wrapping_sub(*shares);
                        if *cell & top != top {
                            full = Some(full.map_or(self.begins[k], |f| f.min(self.begins[k])));
                        }
                    }
                }
            }
        }
        full
    }

    /// The stretch that a time lies in.
    fn at(&self, time: i32) -> usize {
        self.begins
            .partition_point(|b| *b <= time)
            .saturating_sub(1)
    }

    fn is_full(&self, lanes: &Lanes, var: usize, k: usize) -> bool {
        let takes = &lanes.takes[var];
        takes.iter().any(|(word, shares)| {
            let top = lanes.top[*word];
            self.left[*word][k].wrapping_sub(*shares) & top != top
        })
    }

    /// The latest time in a stretch at which an activity does not fit.
    pub fn last_full(&self, lanes: &Lanes, var: usize, from: i32, to: i32) -> Option<i32> {
        let (first, last) = (self.at(from), self.at(to - 1));
        let k = (first..=last)
            .rev()
            .find(|k| self.is_full(lanes, var, *k))?;
        let end = self.begins.get(k + 1).copied().unwrap_or(to);
        Some(end.min(to) - 1)
    }

    /// The earliest such time.
    pub fn first_full(&self, lanes: &Lanes, var: usize, from: i32, to: i32) -> Option<i32> {
        let (first, last) = (self.at(from), self.at(to - 1));
        let k = (first..=last).find(|k| self.is_full(lanes, var, *k))?;
        Some(self.begins[k].max(from))
    }
}

//! What is taken so far: people by stretches, kit by levels. Both answer the same question: how late can a stretch end?

/// Steps of the search, counted against a budget.
#[derive(Debug)]
pub(super) struct Meter {
    /// Steps made.
    pub(super) work: u64,
    /// Steps that may be made.
    pub(super) budget: u64,
}

impl Meter {
    /// Counts one step. False when the budget is used up.
    pub(super) fn step(&mut self) -> bool {
        self.work = self.work.saturating_add(1);
        self.work <= self.budget
    }
}

/// The stretches in which a person is taken, ascending. Those that touch are one, so that a day of work without a gap is one entry.
#[derive(Debug, Clone, Default)]
pub(super) struct Busy {
    taken: Vec<(i64, i64)>,
}

impl Busy {
    /// Takes a stretch that is free. What takes no time takes nobody's time.
    pub(super) fn take(&mut self, start: i64, end: i64) {
        if start >= end {
            return;
        }
        let at = self.taken.partition_point(|b| b.0 < start);
        let joins_before = at > 0 && self.taken[at - 1].1 == start;
        let joins_after = self.taken.get(at).is_some_and(|b| b.0 == end);
        match (joins_before, joins_after) {
            (true, true) => {
                self.taken[at - 1].1 = self.taken[at].1;
                self.taken.remove(at);
            }
            (true, false) => self.taken[at - 1].1 = end,
            (false, true) => self.taken[at].0 = start,
            (false, false) => self.taken.insert(at, (start, end)),
        }
    }

    /// Whether work begins exactly then.
    pub(super) fn begins_at(&self, time: i64) -> bool {
        let at = self.taken.partition_point(|b| b.0 < time);
        self.taken.get(at).is_some_and(|b| b.0 == time)
    }

    /// The latest end, at most `latest`, of a stretch of this duration that lies in one of the `free` stretches and meets
    /// nothing taken. None if there is no such stretch, or if the meter has run out.
    pub(super) fn latest_end(
        &self,
        free: &[(i64, i64)],
        duration: i64,
        latest: i64,
        meter: &mut Meter,
    ) -> Option<i64> {
        let mut end = latest;
        while meter.step() {
            let start = end.checked_sub(duration)?;
            // a stretch that begins later cannot hold it, now or further back
            let within = free[..free.partition_point(|f| f.0 <= start)].last()?;
            if end > within.1 {
                end = within.1;
                continue;
            }
            // of all that it meets it has to end before the first
            match self
                .taken
                .get(self.taken.partition_point(|b| b.1 <= start))
                .filter(|b| b.0 < end && duration > 0)
            {
                Some(met) => end = met.0,
                None => return Some(end),
            }
        }
        None
    }
}

/// How many of one kind of kit are in use, as levels over time.
#[derive(Debug, Clone, Default)]
pub(super) struct Levels {
    /// From this time on so many, ascending, neighbours differ; nothing before the first.
    from: Vec<(i64, i64)>,
}

impl Levels {
    /// Takes some from start to end.
    pub(super) fn take(&mut self, start: i64, end: i64, count: i64) {
        if start >= end || count <= 0 {
            return;
        }
        let first = self.cut(start);
        let last = self.cut(end);
        for level in &mut self.from[first..last] {
            level.1 = level.1.saturating_add(count);
        }
        self.join(last);
        self.join(first);
    }

    /// The place of the level that begins at this time, which is made if it is not there.
    fn cut(&mut self, time: i64) -> usize {
        let at = self.from.partition_point(|l| l.0 < time);
        if self.from.get(at).is_none_or(|l| l.0 != time) {
            let level = if at == 0 { 0 } else { self.from[at - 1].1 };
            self.from.insert(at, (time, level));
        }
        at
    }

    /// Drops a level that is like the one before it.
    fn join(&mut self, at: usize) {
        let before = if at == 0 { 0 } else { self.from[at - 1].1 };
        if self.from.get(at).is_some_and(|l| l.1 == before) {
            self.from.remove(at);
        }
    }

    /// The latest end, at most `latest`, of a stretch of this duration in which no more than `most` are in use already. None if
    /// the meter has run out.
    pub(super) fn latest_end(
        &self,
        most: i64,
        duration: i64,
        latest: i64,
        meter: &mut Meter,
    ) -> Option<i64> {
        let mut end = latest;
        let mut start = end.checked_sub(duration)?;
        // from the level at the end back to the level at the start
        let mut at = self.from.partition_point(|l| l.0 < end);
        while at > 0 {
            if !meter.step() {
                return None;
            }
            at -= 1;
            let (from, level) = self.from[at];
            let until = self.from.get(at + 1).map_or(i64::MAX, |l| l.0);
            if until <= start {
                break;
            }
            if level > most && from < end && start < end {
                end = from;
                start = end.checked_sub(duration)?;
            }
        }
        Some(end)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn meter() -> Meter {
        Meter {
            work: 0,
            budget: 1000,
        }
    }

    #[test]
    fn stretches_that_touch_become_one() {
        let mut busy = Busy::default();
        for (start, end) in [(10, 20), (30, 40), (50, 50), (20, 30)] {
            busy.take(start, end);
        }
        assert_eq!(busy.taken, [(10, 40)]);
        assert!(busy.begins_at(10) && !busy.begins_at(30) && !busy.begins_at(50));
    }

    #[test]
    fn a_stretch_ends_before_what_it_meets_and_within_the_hours() {
        let mut busy = Busy::default();
        busy.take(80, 90);
        let free = [(0, 50), (60, 100)];
        for (duration, latest, end) in [
            (5, 200, Some(100)),
            (10, 99, Some(80)),
            (20, 99, Some(80)),
            (21, 99, Some(50)),
            (50, 99, Some(50)),
            (51, 99, None),
            (0, 85, Some(85)),
            (0, 55, Some(50)),
        ] {
            assert_eq!(
                busy.latest_end(&free, duration, latest, &mut meter()),
                end,
                "{duration} by {latest}"
            );
        }
    }

    #[test]
    fn kit_is_counted_by_levels() {
        let mut levels = Levels::default();
        levels.take(10, 30, 1);
        levels.take(20, 40, 1);
        assert_eq!(levels.from, [(10, 1), (20, 2), (30, 1), (40, 0)]);
        for (most, duration, latest, end) in [
            (1, 5, 50, 50),
            (1, 15, 50, 50),
            (1, 25, 50, 20),
            (0, 10, 50, 50),
            (0, 11, 50, 10),
            (2, 100, 50, 50),
            (0, 0, 25, 25),
        ] {
            assert_eq!(
                levels.latest_end(most, duration, latest, &mut meter()),
                Some(end),
                "{duration} by {latest}"
            );
        }
        levels.take(10, 20, 1);
        levels.take(30, 40, 1);
        assert_eq!(levels.from, [(10, 2), (40, 0)]);
    }
}

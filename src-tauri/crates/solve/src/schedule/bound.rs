//! How short a schedule can be at best, before anything is searched: by the longest path, and by what each resource has to do between a
//! head and a tail in the time that its blocks leave (after the energetic reasoning of P. Baptiste, C. Le Pape, W. Nuijten,
//! "Constraint-Based Scheduling", 2001, from memory).

use super::project::Project;

/// No schedule is shorter. `heads`: when each activity can begin at the earliest.
pub(super) fn lower_bound(project: &Project, heads: &[i64]) -> i64 {
    let tails = project.tails();
    let paths = heads.iter().zip(&tails).map(|(h, t)| h + t).max();
    let mut bound = paths.unwrap_or(0);
    for (k, capacity) in project
        .capacities
        .iter()
        .enumerate()
        .filter(|(_, c)| **c > 0)
    {
        // who takes it: when it can begin at the earliest, what it has to do, and the least time from its end to the end of all
        let mut users: Vec<(i64, i128, i64)> = (0..heads.len())
            .map(|i| (i, project.activities[i].duration, project.demand(i, k)))
            .filter(|(_, duration, demand)| *duration > 0 && *demand > 0)
            .map(|(i, duration, demand)| {
                let energy = i128::from(demand) * i128::from(duration);
                (heads[i], energy, tails[i] - duration)
            })
            .collect();
        users.sort_unstable();
        let mut afters: Vec<i64> = users.iter().map(|u| u.2).collect();
        afters.sort_unstable();
        afters.dedup();
        let free = Free::new(project, k, *capacity);
        // all that begin no earlier than one head, and leave no less than one tail
        for after in afters {
            let mut energy = 0;
            for (head, theirs, _) in users.iter().rev().filter(|u| u.2 >= after) {
                energy += theirs;
                bound = bound.max(free.done(*head, energy).saturating_add(after));
            }
        }
    }
    bound
}

/// What the blocks of a resource leave of it.
struct Free {
    /// From this time on so much of it is free, ascending; with what was free before.
    steps: Vec<(i64, i128, i128)>,
}

impl Free {
    fn new(project: &Project, resource: usize, capacity: i64) -> Self {
        let theirs = project.blocks.iter().filter(|b| b.resource == resource);
        let mut changes: Vec<(i64, i64)> = theirs
            .filter(|b| b.from < b.to)
            .flat_map(|b| [(b.from, -b.amount), (b.to, b.amount)])
            .collect();
        changes.sort_unstable();
        let mut left = capacity;
        let mut steps = vec![(i64::MIN / 4, i128::from(capacity), 0)];
        for (at, change) in changes {
            left = left.saturating_add(change);
            let (from, free, before) = steps[steps.len() - 1];
            let sum = before + (i128::from(at) - i128::from(from)) * free;
            if from == at {
                steps.pop();
            }
            steps.push((at, i128::from(left.max(0)), sum));
        }
        Self { steps }
    }

    /// When so much can be done at the earliest, from a time on.
    fn done(&self, from: i64, energy: i128) -> i64 {
        let at = self.steps.partition_point(|s| s.0 <= from).max(1) - 1;
        let (begin, free, before) = self.steps[at];
        let want = before + (i128::from(from) - i128::from(begin)) * free + energy;
        // the last step that begins with less done
        let at = self.steps.partition_point(|s| s.2 < want).max(1) - 1;
        let (begin, free, before) = self.steps[at];
        if free == 0 {
            return i64::MAX / 4;
        }
        let time = i128::from(begin) + (want - before + free - 1) / free;
        i64::try_from(time).unwrap_or(i64::MAX / 4).max(from)
    }
}

#[cfg(test)]
mod tests {
    use super::super::project::{Activity, Block};
    use super::*;
    use proptest::prelude::*;

    fn project(capacity: i64, durations: &[i64], blocks: &[(i64, i64, i64)]) -> Project {
        Project {
            capacities: vec![capacity],
            activities: durations
                .iter()
                .map(|d| Activity {
                    duration: *d,
                    demand: vec![1],
                    earliest: 0,
                    latest: None,
                })
                .collect(),
            blocks: blocks
                .iter()
                .map(|(from, to, amount)| Block {
                    resource: 0,
                    from: *from,
                    to: *to,
                    amount: *amount,
                })
                .collect(),
            ..Project::default()
        }
    }

    /// By hand: four tasks of 5 for two people are 10; with a night of both from 6 to 20 they end at 24, eight being left; with one of them
    /// away from 6 to 10 they end at 12.
    #[test]
    fn nights_are_in_the_bound() {
        for (blocks, want) in [
            (vec![], 10),
            (vec![(6, 20, 1), (6, 20, 1)], 24),
            (vec![(6, 10, 1)], 12),
            (vec![(0, 3, 2)], 13),
            (vec![(100, 200, 2)], 10),
        ] {
            let project = project(2, &[5; 4], &blocks);
            assert_eq!(lower_bound(&project, &[0; 4]), want, "{blocks:?}");
        }
    }

    proptest! {
        /// Against a count of the free units, one after the other.
        #[test]
        fn done_is_when_enough_was_free(
            capacity in 1..4i64,
            blocks in prop::collection::vec((0..12i64, 0..12i64, 0..4i64), 0..5),
            from in 0..12i64,
            energy in 1..30i64,
        ) {
            let project = project(capacity, &[], &blocks);
            let free = |t: i64| {
                let taken = blocks.iter().filter(|b| b.0 <= t && t < b.1).map(|b| b.2).sum::<i64>();
                (capacity - taken).max(0)
            };
            let mut left = energy;
            let mut at = from;
            while left > 0 {
                left -= free(at);
                at += 1;
            }
            prop_assert_eq!(Free::new(&project, 0, capacity).done(from, i128::from(energy)), at);
        }
    }
}

//! One model of a project: activities that take time and shares of resources, and arcs between their starts.
//!
//! Times are whole units from 0. An arc says S_to ≥ S_from + lag; a lag may have any sign, so that arcs carry precedence, least
//! lags, and greatest lags (a negative one backwards). What is sought is the least makespan: the latest end of all activities.

/// Greatest absolute value of a time, a lag, a demand and a capacity; with [`MOST`] activities no sum leaves 64 bits.
pub const FAR: i64 = 1 << 40;
/// Greatest number of activities, of resources and of arcs.
pub const MOST: usize = 1 << 20;

/// What has to be done.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Project {
    /// Activities; arcs name them by index.
    pub activities: Vec<Activity>,
    /// How much there is of each resource at any time.
    pub capacities: Vec<i64>,
    /// Between starts.
    pub arcs: Vec<Arc>,
    /// Shares of resources that are away for a while: breaks, absences, other jobs.
    pub blocks: Vec<Block>,
}

/// A piece of work that is done in one go.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Activity {
    /// From start to end; 0 takes nothing from others.
    pub duration: i64,
    /// Of each resource from start to end; missing ones are 0.
    pub demand: Vec<i64>,
    /// It starts at this time or later.
    pub earliest: i64,
    /// It starts at this time or earlier.
    pub latest: Option<i64>,
}

/// S_to ≥ S_from + lag.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Arc {
    /// Activity.
    pub from: usize,
    /// Activity.
    pub to: usize,
    /// Any sign.
    pub lag: i64,
}

/// A share of a resource that is away.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Block {
    /// Which resource.
    pub resource: usize,
    /// From this time on.
    pub from: i64,
    /// Until this time.
    pub to: i64,
    /// How much of it.
    pub amount: i64,
}

/// What makes a project no project: an index or a number out of range.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Malformed {
    /// More than [`MOST`] of something.
    TooMany,
    /// An activity's duration, demand or window.
    Activity(usize),
    /// A capacity.
    Capacity(usize),
    /// An arc's ends or lag.
    Arc(usize),
    /// A block's resource, times or amount.
    Block(usize),
}

/// A rule of a project, as part of the reason why it cannot be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rule {
    /// An arc, by index.
    Arc(usize),
    /// An activity's earliest start.
    Earliest(usize),
    /// An activity's latest start.
    Latest(usize),
    /// An activity takes more of a resource than there ever is: activity, resource.
    Demand(usize, usize),
}

/// A rule that a schedule breaks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Broken {
    /// Not one start for each activity.
    Count,
    /// A start outside the window of the activity.
    Window(usize),
    /// An arc.
    Arc(usize),
    /// More of a resource in use than there is: resource, time.
    Capacity(usize, i64),
}

impl Project {
    /// The first thing that is out of range.
    ///
    /// # Errors
    /// Names it.
    pub fn well_formed(&self) -> Result<(), Malformed> {
        let n = self.activities.len();
        let near = |x: i64| (-FAR..=FAR).contains(&x);
        let amount = |x: i64| (0..=FAR).contains(&x);
        if n.max(self.arcs.len())
            .max(self.capacities.len())
            .max(self.blocks.len())
            > MOST
        {
            return Err(Malformed::TooMany);
        }
        if let Some(k) = self.capacities.iter().position(|c| !amount(*c)) {
            return Err(Malformed::Capacity(k));
        }
        let sound = |a: &Activity| {
            amount(a.duration)
                && a.demand.len() <= self.capacities.len()
                && a.demand.iter().all(|d| amount(*d))
                && amount(a.earliest)
                && a.latest.is_none_or(near)
        };
        if let Some(i) = self.activities.iter().position(|a| !sound(a)) {
            return Err(Malformed::Activity(i));
        }
        let sound = |a: &Arc| a.from < n && a.to < n && near(a.lag);
        if let Some(k) = self.arcs.iter().position(|a| !sound(a)) {
            return Err(Malformed::Arc(k));
        }
        let sound = |b: &Block| {
            b.resource < self.capacities.len() && near(b.from) && near(b.to) && amount(b.amount)
        };
        match self.blocks.iter().position(|b| !sound(b)) {
            Some(k) => Err(Malformed::Block(k)),
            None => Ok(()),
        }
    }

    /// What an activity takes of a resource.
    #[must_use]
    pub fn demand(&self, activity: usize, resource: usize) -> i64 {
        let demand = self.activities.get(activity).map(|a| &a.demand);
        demand.and_then(|d| d.get(resource)).copied().unwrap_or(0)
    }

    /// The latest end of all activities.
    #[must_use]
    pub fn makespan(&self, starts: &[i64]) -> i64 {
        let ends = self.activities.iter().zip(starts);
        ends.map(|(a, s)| s + a.duration).max().unwrap_or(0)
    }

    /// The earliest start of each activity by windows and arcs alone: longest paths from time 0.
    ///
    /// # Errors
    /// Rules that cannot hold together: a circle of arcs, or a path between two windows that is too long; or a demand above the
    /// capacity.
    pub fn heads(&self) -> Result<Vec<i64>, Vec<Rule>> {
        for (i, a) in self.activities.iter().enumerate() {
            for (k, capacity) in self.capacities.iter().enumerate() {
                if a.duration > 0 && self.demand(i, k) > *capacity {
                    return Err(vec![Rule::Demand(i, k)]);
                }
            }
        }
        let n = self.activities.len();
        let mut head: Vec<i64> = self.activities.iter().map(|a| a.earliest).collect();
        // the arc that gave each head its value
        let mut by: Vec<Option<usize>> = vec![None; n];
        for round in 0..=n {
            let mut last = None;
            for (k, arc) in self.arcs.iter().enumerate() {
                let reach = head[arc.from] + arc.lag;
                if reach > head[arc.to] {
                    head[arc.to] = reach;
                    by[arc.to] = Some(k);
                    last = Some(arc.to);
                }
            }
            let Some(last) = last else { break };
            if round == n {
                return Err(self.circle(last, &by));
            }
        }
        let late = |i: &usize| {
            self.activities[*i]
                .latest
                .is_some_and(|latest| head[*i] > latest)
        };
        if let Some(i) = (0..n).find(late) {
            let mut rules = vec![Rule::Latest(i)];
            let mut at = i;
            while let Some(k) = by[at] {
                rules.push(Rule::Arc(k));
                at = self.arcs[k].from;
            }
            rules.push(Rule::Earliest(at));
            rules.reverse();
            return Err(rules);
        }
        Ok(head)
    }

    /// The arcs of a circle that is gone round for ever.
    fn circle(&self, from: usize, by: &[Option<usize>]) -> Vec<Rule> {
        let mut at = from;
        // as many steps back as there are activities: then it is on the circle
        for _ in 0..by.len() {
            at = by[at].map_or(at, |k| self.arcs[k].from);
        }
        let (first, mut rules) = (at, Vec::new());
        while let Some(k) = by[at] {
            rules.push(Rule::Arc(k));
            at = self.arcs[k].from;
            if at == first {
                break;
            }
        }
        rules.reverse();
        rules
    }

    /// For each activity the longest path from its start to the end of the project, by arcs alone. Without a circle.
    #[must_use]
    pub fn tails(&self) -> Vec<i64> {
        let n = self.activities.len();
        let mut tail: Vec<i64> = self.activities.iter().map(|a| a.duration).collect();
        for _ in 0..n {
            let mut changed = false;
            for arc in &self.arcs {
                let reach = tail[arc.to] + arc.lag;
                if reach > tail[arc.from] {
                    tail[arc.from] = reach;
                    changed = true;
                }
            }
            if !changed {
                break;
            }
        }
        tail
    }

    /// Everything that is wrong with a schedule; empty if nothing is. From the project and the starts alone.
    #[must_use]
    pub fn check(&self, starts: &[i64]) -> Vec<Broken> {
        if starts.len() != self.activities.len() {
            return vec![Broken::Count];
        }
        let mut broken = Vec::new();
        for (i, (a, s)) in self.activities.iter().zip(starts).enumerate() {
            if *s < a.earliest || a.latest.is_some_and(|latest| *s > latest) {
                broken.push(Broken::Window(i));
            }
        }
        for (k, arc) in self.arcs.iter().enumerate() {
            if starts[arc.to] - starts[arc.from] < arc.lag {
                broken.push(Broken::Arc(k));
            }
        }
        for (k, capacity) in self.capacities.iter().enumerate() {
            // what ends is put back before what begins is taken
            let mut changes: Vec<(i64, i64)> = Vec::new();
            let work = self.activities.iter().zip(starts).enumerate();
            let takes = work.map(|(i, (a, s))| (*s, s + a.duration, self.demand(i, k)));
            let away = self.blocks.iter().filter(|b| b.resource == k);
            for (from, to, amount) in takes.chain(away.map(|b| (b.from, b.to, b.amount))) {
                if amount > 0 && from < to {
                    changes.push((from, amount));
                    changes.push((to, -amount));
                }
            }
            changes.sort_unstable();
            let busy = |t: i64| {
                let work = self.activities.iter().zip(starts).enumerate();
                work.filter(|(i, _)| self.demand(*i, k) > 0)
                    .any(|(_, (a, s))| *s <= t && t < s + a.duration)
            };
            let mut used = 0;
            for (time, amount) in changes {
                used += amount;
                // blocks alone may take more than there is
                if amount > 0 && used > *capacity && busy(time) {
                    broken.push(Broken::Capacity(k, time));
                }
            }
        }
        broken
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn activity(duration: i64, demand: i64) -> Activity {
        Activity {
            duration,
            demand: vec![demand],
            ..Activity::default()
        }
    }

    fn arc(from: usize, to: usize, lag: i64) -> Arc {
        Arc { from, to, lag }
    }

    /// Three activities of 2, 3 and 4 in a row, the last no later than 6 after the first.
    fn row() -> Project {
        Project {
            activities: vec![activity(2, 1), activity(3, 1), activity(4, 2)],
            capacities: vec![2],
            arcs: vec![arc(0, 1, 2), arc(1, 2, 3), arc(2, 0, -6)],
            blocks: vec![],
        }
    }

    #[test]
    fn longest_paths() {
        let project = row();
        assert_eq!(project.heads(), Ok(vec![0, 2, 5]));
        assert_eq!(project.tails(), [9, 7, 4]);
        let mut late = row();
        late.activities[1].earliest = 4;
        assert_eq!(late.heads(), Ok(vec![1, 4, 7]));
    }

    #[test]
    fn what_cannot_hold_together_is_named() {
        let mut tight = row();
        tight.arcs[2].lag = -4;
        let mut rules = tight.heads().unwrap_err();
        rules.sort();
        assert_eq!(rules, [Rule::Arc(0), Rule::Arc(1), Rule::Arc(2)]);
        let mut window = row();
        window.activities[0].earliest = 3;
        window.activities[2].latest = Some(7);
        assert_eq!(
            window.heads(),
            Err(vec![
                Rule::Earliest(0),
                Rule::Arc(0),
                Rule::Arc(1),
                Rule::Latest(2)
            ])
        );
        let mut greedy = row();
        greedy.activities[1].demand = vec![3];
        assert_eq!(greedy.heads(), Err(vec![Rule::Demand(1, 0)]));
    }

    #[test]
    fn each_rule_is_seen_to_be_broken() {
        let project = row();
        for (starts, want) in [
            (vec![0, 2, 5], vec![]),
            (vec![0, 2], vec![Broken::Count]),
            (vec![-1, 2, 5], vec![Broken::Window(0)]),
            (vec![0, 1, 5], vec![Broken::Arc(0)]),
            (vec![0, 3, 7], vec![Broken::Arc(2)]),
            (vec![0, 2, 4], vec![Broken::Arc(1), Broken::Capacity(0, 4)]),
        ] {
            assert_eq!(project.check(&starts), want, "{starts:?}");
        }
        let mut away = row();
        away.blocks = vec![Block {
            resource: 0,
            from: 4,
            to: 6,
            amount: 1,
        }];
        assert_eq!(away.check(&[0, 2, 5]), [Broken::Capacity(0, 5)]);
        assert_eq!(away.check(&[0, 2, 6]), []);
        // nothing but blocks: nobody's work is in the way
        away.blocks[0].amount = 5;
        assert_eq!(away.check(&[7, 9, 12]), []);
    }

    #[test]
    fn what_is_out_of_range_is_named() {
        assert_eq!(row().well_formed(), Ok(()));
        let with = |change: fn(&mut Project)| {
            let mut project = row();
            change(&mut project);
            project.well_formed()
        };
        assert_eq!(
            with(|p| p.activities[2].duration = -1),
            Err(Malformed::Activity(2))
        );
        assert_eq!(
            with(|p| p.activities[0].demand = vec![0, 0]),
            Err(Malformed::Activity(0))
        );
        assert_eq!(with(|p| p.arcs[1].to = 3), Err(Malformed::Arc(1)));
        assert_eq!(with(|p| p.arcs[1].lag = i64::MIN), Err(Malformed::Arc(1)));
        assert_eq!(
            with(|p| p.capacities[0] = FAR + 1),
            Err(Malformed::Capacity(0))
        );
        let far = Block {
            resource: 1,
            from: 0,
            to: 0,
            amount: 0,
        };
        let mut blocked = row();
        blocked.blocks.push(far);
        assert_eq!(blocked.well_formed(), Err(Malformed::Block(0)));
    }
}

//! The whole: a short search, which proves most small questions; else a fast start by generation and evolution, then the
//! clause-learning search that improves and proves. Its budget is counted work, so the same question has the same answer on every
//! device; it can be asked again with more.

use super::bound::lower_bound;
use super::clause::{Core, End};
use super::evolve::Evolution;
use super::generate::Generator;
use super::project::{Project, Rule};

/// Steps of work that a usual machine of 2020 does in a second, one thread; for hosts that turn seconds into work.
pub const WORK_A_SECOND: u64 = 30_000_000;
/// Work to place one activity, once.
const PLACING: u64 = 1;
/// Longest horizon that is searched, units of time.
const LONGEST: i64 = 1 << 28;
/// Longest horizon in which generation serves: it has a cell for each time.
const GENERATED: i64 = 1 << 13;
/// Steps of the search before the start: many a small question is proved in so few. If it is not, the search begins anew after the
/// start: gone on with, it ends a little worse on PSPLIB J30 in 25 ms.
const FIRST: u64 = 3_000;

/// What is known after a run.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Outcome {
    /// The best schedule, checked; by activity.
    pub starts: Option<Vec<i64>>,
    /// Its makespan.
    pub makespan: Option<i64>,
    /// No schedule is shorter.
    pub lower_bound: i64,
    /// The best schedule is one of the shortest; or there is none at all.
    pub proven: bool,
    /// Rules that cannot hold together, if longest paths alone show it; empty if the search did, or nothing did.
    pub reason: Vec<Rule>,
    /// Steps so far.
    pub work: u64,
}

impl Outcome {
    /// Whether there is a schedule at all; none if that is not known.
    #[must_use]
    pub fn feasible(&self) -> Option<bool> {
        match (&self.starts, self.proven) {
            (Some(_), _) => Some(true),
            (None, true) => Some(false),
            (None, false) => None,
        }
    }
}

/// A search that can be gone on with.
#[derive(Debug, Clone)]
pub struct Engine {
    project: Project,
    outcome: Outcome,
    horizon: i32,
    evolution: Option<Evolution>,
    core: Option<Box<Core>>,
    core_work: u64,
    /// Of `core_work`, what the search had before the start.
    first: u64,
}

impl Engine {
    /// Looks at the project by longest paths. A malformed project, or one whose horizon is too long, is one of which nothing is known.
    #[must_use]
    pub fn new(project: &Project) -> Self {
        let mut engine = Self {
            project: project.clone(),
            outcome: Outcome {
                starts: None,
                makespan: None,
                lower_bound: 0,
                proven: false,
                reason: vec![],
                work: 0,
            },
            horizon: 0,
            evolution: None,
            core: None,
            core_work: 0,
            first: 0,
        };
        if project.well_formed().is_err() {
            return engine;
        }
        match project.heads() {
            Err(reason) => {
                engine.outcome.proven = true;
                engine.outcome.reason = reason;
            }
            Ok(heads) => {
                engine.outcome.lower_bound = lower_bound(project, &heads);
                let horizon = horizon(project);
                engine.horizon = i32::try_from(horizon).unwrap_or(i32::MAX);
                if horizon <= GENERATED {
                    engine.start();
                }
            }
        }
        engine
    }

    /// What is known now.
    #[must_use]
    pub fn outcome(&self) -> &Outcome {
        &self.outcome
    }

    /// Takes a schedule from elsewhere as the one to beat, if it keeps every rule and is shorter than what is known.
    pub fn beat(&mut self, starts: &[i64]) {
        if self.project.well_formed().is_ok() {
            self.offer(starts.to_vec());
        }
    }

    fn start(&mut self) {
        let Some(generator) = Generator::new(&self.project, self.horizon) else {
            return;
        };
        let project = &self.project;
        let weights = (0..project.activities.len())
            .map(|i| {
                let shares = project
                    .capacities
                    .iter()
                    .enumerate()
                    .map(|(k, capacity)| project.demand(i, k) * 1000 / (*capacity).max(1));
                u32::try_from(shares.sum::<i64>().min(1 << 16)).unwrap_or(0)
            })
            .collect();
        let bound = i32::try_from(self.outcome.lower_bound).unwrap_or(i32::MAX);
        self.evolution = Some(Evolution::new(generator, project.tails(), weights, bound));
    }

    /// Goes on until so much work has been done in all, or all is proved. `planned`: how much work there will be in the end, by which
    /// the start and the search share it.
    pub fn run(&mut self, work: u64, planned: u64) -> &Outcome {
        if self.outcome.proven {
            return &self.outcome;
        }
        if i64::from(self.horizon) > LONGEST || self.project.well_formed().is_err() {
            return &self.outcome;
        }
        self.evolve(0, planned);
        if self.core_work < FIRST {
            self.search(FIRST.min(work));
        }
        if self.core_work >= FIRST && self.first == 0 {
            (self.first, self.core) = (self.core_work, None);
        }
        let evolved = self.evolve(work, planned);
        self.search(work.saturating_sub(evolved));
        self.outcome.work = self.evolved() + self.core_work;
        &self.outcome
    }

    fn evolved(&self) -> u64 {
        self.evolution
            .as_ref()
            .map_or(0, |e| e.generator.placed * PLACING)
    }

    /// The fast start; how much work it has had.
    fn evolve(&mut self, work: u64, planned: u64) -> u64 {
        let Some(evolution) = self.evolution.as_mut().filter(|_| !self.outcome.proven) else {
            return self.evolved();
        };
        let (share, size) = start(self.project.activities.len(), planned);
        evolution.run(share.min(work) / PLACING, size);
        let (_, starts) = evolution.best();
        let starts = starts.iter().map(|s| i64::from(*s)).collect();
        self.offer(starts);
        self.evolved()
    }

    /// The clause-learning search, up to so much work of its own.
    fn search(&mut self, work: u64) {
        if self.outcome.proven {
            return;
        }
        let known = self.outcome.makespan;
        if self.core.is_none() {
            let longest = known.map_or(self.horizon, |m| i32::try_from(m).unwrap_or(i32::MAX));
            self.core = Core::new(&self.project, longest).map(Box::new);
        }
        let Some(core) = &mut self.core else { return };
        if let (Some(makespan), Some(starts)) = (known, &self.outcome.starts) {
            let held = core.best().map(|s| {
                let wide: Vec<i64> = s.iter().map(|s| i64::from(*s)).collect();
                self.project.makespan(&wide)
            });
            if held.is_none_or(|held| held > makespan) {
                let starts: Vec<i32> = starts
                    .iter()
                    .filter_map(|s| i32::try_from(*s).ok())
                    .collect();
                core.better_than(&starts, i32::try_from(makespan).unwrap_or(i32::MAX));
            }
        }
        let end = core.run(work.saturating_sub(self.first));
        self.core_work = self.first + core.work;
        let bound = i64::from(core.bound());
        let found = core
            .best()
            .map(|s| s.iter().map(|s| i64::from(*s)).collect());
        if let Some(found) = found {
            self.offer(found);
        }
        self.outcome.lower_bound = self.outcome.lower_bound.max(bound);
        if end == End::Proved {
            self.outcome.proven = true;
        }
        if let Some(makespan) = self.outcome.makespan {
            if self.outcome.proven {
                self.outcome.lower_bound = makespan;
            }
            self.outcome.lower_bound = self.outcome.lower_bound.min(makespan);
        }
    }

    /// A schedule that is checked before it counts.
    fn offer(&mut self, starts: Vec<i64>) {
        let broken = self.project.check(&starts);
        debug_assert_eq!(broken, []);
        let makespan = self.project.makespan(&starts);
        if broken.is_empty() && self.outcome.makespan.is_none_or(|m| makespan < m) {
            self.outcome.starts = Some(starts);
            self.outcome.makespan = Some(makespan);
            if makespan <= self.outcome.lower_bound {
                self.outcome.proven = true;
                self.outcome.lower_bound = makespan;
            }
        }
    }
}

/// Of so much work in all, how much the start has, and the size of its population.
fn start(n: usize, work: u64) -> (u64, usize) {
    // few activities are proved soon, and a start beyond some milliseconds brings nothing; many are hardly ever proved
    let percent = match n {
        0..45 => 10,
        45..90 => 30,
        _ => 75,
    };
    let most = if n < 45 {
        WORK_A_SECOND / 200
    } else {
        u64::MAX
    };
    let share = (work / 100 * percent).min(most);
    let schedules = share / PLACING / (n as u64).max(1);
    let size = match schedules {
        0..3_000 => 40,
        3_000..12_000 => 60,
        12_000..35_000 => 100,
        _ => 150,
    };
    (share, size)
}

/// A makespan that some shortest schedule, if there is any, does not exceed: after the last window opens and the last block ends nothing
/// but activities and lags can fill the time.
fn horizon(project: &Project) -> i64 {
    let mut lasts: Vec<i64> = project.activities.iter().map(|a| a.duration).collect();
    for arc in &project.arcs {
        lasts[arc.from] = lasts[arc.from].max(arc.lag);
    }
    let opens = project.activities.iter().map(|a| a.earliest);
    let ends = project.blocks.iter().map(|b| b.to);
    let base = opens.chain(ends).max().unwrap_or(0).max(0);
    base + lasts.iter().sum::<i64>()
}

//! A clause-learning search over starts (lazy clause generation; Ohrimenko, Stuckey, Codish, Constraints 14, 2009; Schutt, Feydy,
//! Stuckey, Wallace, "Explaining the cumulative propagator", Constraints 16, 2011, and "Solving RCPSP/max by lazy clause
//! generation", Journal of Scheduling 16, 2013).
//!
//! A literal says that a start is at least, or below, some time; it is true or false by the start's bounds alone, so none has to be
//! made. Arcs and the time-table move bounds and say why only when a conflict asks. From each conflict a clause is learnt that
//! holds for the whole problem. When nothing is left to decide there is a schedule; then only shorter ones are sought, and when
//! there is none, the last is proved the shortest.

mod clauses;
mod learn;
mod order;
mod propagate;
mod search;
mod stretches;
mod table;

use super::lanes::Lanes;
use super::project::Project;
use clauses::Clauses;
use order::Order;
pub(super) use search::End;
use stretches::Stretches;

/// "The start of a variable is at least a time", or its opposite "is below it": variable, time, and 1 for the opposite.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Lit(u64);

impl Lit {
    fn at_least(var: usize, time: i32) -> Self {
        Self((var as u64) << 33 | u64::from(time.cast_unsigned()) << 1)
    }

    fn below(var: usize, time: i32) -> Self {
        Self(Self::at_least(var, time).0 | 1)
    }

    fn var(self) -> usize {
        (self.0 >> 33) as usize
    }

    fn time(self) -> i32 {
        ((self.0 >> 1) as u32).cast_signed()
    }

    /// 0: at least, 1: below. The bound that makes it true has this side.
    fn side(self) -> usize {
        (self.0 & 1) as usize
    }

    fn not(self) -> Self {
        Self(self.0 ^ 1)
    }

    /// Variable and side in one number.
    fn slot(self) -> usize {
        self.var() * 2 + self.side()
    }
}

/// Horizons beyond this are kept in stretches: a cell for each time would cost more than it saves.
const LONG: i32 = 1 << 12;
/// No event.
const NONE: u32 = u32::MAX;

/// Why a bound moved.
#[derive(Debug, Clone, Copy)]
enum Why {
    Decided,
    /// It holds for the whole problem.
    Root,
    Arc(u32),
    /// The time-table is too full for it at this time.
    Table(i32),
    Clause(u32),
}

/// A bound moved.
#[derive(Debug, Clone, Copy)]
struct Event {
    var: u32,
    side: u8,
    old: i32,
    /// The event before it of the same variable and side.
    before: u32,
    why: Why,
}

/// The state of the search.
#[derive(Debug, Clone)]
pub(super) struct Core {
    n: usize,
    durations: Vec<i32>,
    capacities: Vec<i64>,
    /// By resource: activities that take it, most first.
    users: Vec<Vec<(u32, i64)>>,
    /// By activity: resources that it takes.
    uses: Vec<Vec<(u32, i64)>>,
    blocks: Vec<super::project::Block>,
    arcs: Vec<(u32, u32, i32)>,
    out: Vec<Vec<(u32, u32, i32)>>,
    into: Vec<Vec<(u32, u32, i32)>>,
    lanes: Lanes,
    /// By word and time: what is left beside the parts of activities that are certain.
    free: Vec<Vec<u64>>,
    /// The same by stretches of time, in place of `free`, for long horizons.
    stretches: Option<Stretches>,
    /// Least and greatest start.
    bounds: Vec<[i32; 2]>,
    last: Vec<[u32; 2]>,
    trail: Vec<Event>,
    levels: Vec<usize>,
    queue: usize,
    /// Times between which the time-table became fuller.
    dirty: (i32, i32),
    moved: Vec<bool>,
    clauses: Clauses,
    order: Order,
    /// Where each start stood in the best schedule; a negative one is unknown.
    phase: Vec<i32>,
    /// True literals that cannot all be true.
    conflict: Vec<Lit>,
    learner: learn::Learner,
    pace: search::Pace,
    best: Option<Vec<i32>>,
    /// Steps so far.
    pub work: u64,
    /// Conflicts so far.
    pub conflicts: u64,
}

impl Core {
    /// A search for schedules whose makespan is at most `longest`.
    pub fn new(project: &Project, longest: i32) -> Option<Self> {
        let n = project.activities.len();
        let small = |x: i64| i32::try_from(x).ok().filter(|x| x.abs() < 1 << 29);
        let id = |x: usize| u32::try_from(x).ok();
        let mut arcs = Vec::with_capacity(project.arcs.len() + n);
        for arc in &project.arcs {
            // arcs longer than the makespan leave no schedule, whatever their length
            let lag = arc
                .lag
                .clamp(-i64::from(longest) - 1, i64::from(longest) + 1);
            arcs.push((id(arc.from)?, id(arc.to)?, small(lag)?));
        }
        let mut durations = Vec::with_capacity(n);
        for (i, a) in project.activities.iter().enumerate() {
            let duration = small(a.duration.min(i64::from(longest) + 1))?;
            arcs.push((id(i)?, id(n)?, duration));
            durations.push(duration);
        }
        let (mut out, mut into) = (vec![Vec::new(); n + 1], vec![Vec::new(); n + 1]);
        for (k, (a, b, lag)) in (0..).zip(&arcs) {
            out[*a as usize].push((k, *b, *lag));
            into[*b as usize].push((k, *a, *lag));
        }
        let mut uses = vec![Vec::new(); n];
        let mut users = vec![Vec::new(); project.capacities.len()];
        for (k, users) in users.iter_mut().enumerate() {
            for (i, uses) in uses.iter_mut().enumerate() {
                let demand = project.demand(i, k);
                if demand > 0 && durations[i] > 0 {
                    uses.push((id(k)?, demand));
                    users.push((id(i)?, demand));
                }
            }
            users.sort_by_key(|(i, demand)| (std::cmp::Reverse(*demand), *i));
        }
        let lanes = Lanes::new(project);
        let until = usize::try_from(longest).ok()? + 2;
        let mut bounds = Vec::with_capacity(n + 1);
        for (a, d) in project.activities.iter().zip(&durations) {
            let latest = a
                .latest
                .unwrap_or(i64::from(longest))
                .min(i64::from(longest - d));
            bounds.push([
                small(a.earliest.min(i64::from(longest) + 1))?,
                small(latest.max(-1))?,
            ]);
        }
        bounds.push([0, longest]);
        Some(Self {
            n,
            capacities: project.capacities.clone(),
            users,
            uses,
            blocks: project.blocks.clone(),
            arcs,
            out,
            into,
            free: if longest > LONG {
                vec![]
            } else {
                lanes.free(project, until, None)
            },
            stretches: (longest > LONG).then(|| Stretches::new(lanes.bare(project))),
            lanes,
            last: vec![[NONE; 2]; n + 1],
            bounds,
            durations,
            trail: Vec::new(),
            levels: Vec::new(),
            queue: 0,
            dirty: (i32::MAX, i32::MIN),
            moved: vec![false; n + 1],
            clauses: Clauses::new(n + 1),
            order: Order::new(n + 1, longest),
            phase: vec![-1; n + 1],
            conflict: Vec::new(),
            learner: learn::Learner::new(n + 1),
            pace: search::Pace::default(),
            best: None,
            work: 0,
            conflicts: 0,
        })
    }

    /// The best schedule that this search found.
    pub fn best(&self) -> Option<&[i32]> {
        self.best.as_deref()
    }

    /// The least makespan that is not ruled out.
    pub fn bound(&self) -> i32 {
        self.root_bound(self.n, 0)
    }

    fn is_true(&self, lit: Lit) -> bool {
        let [least, most] = self.bounds[lit.var()];
        if lit.side() == 0 {
            least >= lit.time()
        } else {
            most < lit.time()
        }
    }

    /// Moves a bound. False if that is a conflict, which is then written down.
    fn set(&mut self, var: usize, side: usize, to: i32, why: Why) -> bool {
        let old = self.bounds[var];
        if (side == 0 && to <= old[0]) || (side == 1 && to >= old[1]) {
            return true;
        }
        let (lit, opposite, crossed) = if side == 0 {
            (Lit::at_least(var, to), Lit::below(var, to), to > old[1])
        } else {
            (
                Lit::below(var, to.saturating_add(1)),
                Lit::at_least(var, to.saturating_add(1)),
                to < old[0],
            )
        };
        if crossed {
            let mut conflict = std::mem::take(&mut self.conflict);
            conflict.clear();
            conflict.push(opposite);
            self.explain(lit, why, self.trail.len(), &mut conflict);
            self.conflict = conflict;
            return false;
        }
        self.work += 1;
        self.trail.push(Event {
            var: var as u32,
            side: side as u8,
            old: old[side],
            before: self.last[var][side],
            why,
        });
        self.last[var][side] = (self.trail.len() - 1) as u32;
        self.bounds[var][side] = to;
        self.moved[var] = true;
        match self.grow(var, old, self.bounds[var]) {
            None => true,
            Some(full) => {
                let mut conflict = std::mem::take(&mut self.conflict);
                conflict.clear();
                self.explain_table(full, None, self.trail.len(), &mut conflict);
                self.conflict = conflict;
                false
            }
        }
    }

    /// Makes a literal true.
    fn make(&mut self, lit: Lit, why: Why) -> bool {
        let to = if lit.side() == 0 {
            lit.time()
        } else {
            lit.time().saturating_sub(1)
        };
        self.set(lit.var(), lit.side(), to, why)
    }

    /// Back to the end of a level.
    fn undo(&mut self, level: usize) {
        let Some(keep) = self.levels.get(level).copied() else {
            return;
        };
        while self.trail.len() > keep {
            let Some(event) = self.trail.pop() else { break };
            let (var, side) = (event.var as usize, usize::from(event.side));
            let now = self.bounds[var];
            self.bounds[var][side] = event.old;
            self.last[var][side] = event.before;
            self.shrink(var, self.bounds[var], now);
            self.moved[var] = false;
        }
        self.levels.truncate(level);
        self.queue = self.trail.len();
        self.forget_changes();
    }

    /// A bound as it was before an event.
    fn bound_at(&self, var: usize, side: usize, event: usize) -> i32 {
        let mut at = self.last[var][side];
        let mut bound = self.bounds[var][side];
        while at != NONE && at as usize >= event {
            let e = &self.trail[at as usize];
            bound = e.old;
            at = e.before;
        }
        bound
    }

    fn root_bound(&self, var: usize, side: usize) -> i32 {
        self.bound_at(
            var,
            side,
            self.levels.first().copied().unwrap_or(self.trail.len()),
        )
    }

    /// The event that made a true literal true, if any did.
    fn event_of(&self, lit: Lit) -> u32 {
        let (side, time) = (lit.side(), lit.time());
        let mut at = self.last[lit.var()][side];
        while at != NONE {
            let e = &self.trail[at as usize];
            let before = if side == 0 {
                e.old >= time
            } else {
                e.old < time
            };
            if !before {
                break;
            }
            at = e.before;
        }
        at
    }

    /// Writes down true literals, all true before `event`, from which this one follows.
    fn explain(&self, lit: Lit, why: Why, event: usize, into: &mut Vec<Lit>) {
        match why {
            Why::Decided | Why::Root => {}
            Why::Arc(k) => {
                let (a, b, lag) = self.arcs[k as usize];
                into.push(if lit.side() == 0 {
                    Lit::at_least(a as usize, lit.time() - lag)
                } else {
                    Lit::below(b as usize, lit.time() + lag)
                });
            }
            Why::Table(time) => {
                let var = lit.var();
                into.push(if lit.side() == 0 {
                    Lit::at_least(var, time + 1 - self.durations[var])
                } else {
                    Lit::below(var, time + 1)
                });
                self.explain_table(time, Some(var), event, into);
            }
            Why::Clause(k) => {
                // the literal that it made true is the first one
                into.extend(self.clauses.lits(k)[1..].iter().map(|l| l.not()));
            }
        }
    }
}

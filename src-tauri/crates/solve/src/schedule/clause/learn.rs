//! What a conflict teaches: its reasons are followed back to the one event of the last level that all of them pass through.

use super::{Core, Lit, NONE, Why};

/// Where a search for reasons writes.
#[derive(Debug, Clone)]
pub(super) struct Learner {
    /// By event: the strongest literal that is asked of it.
    asked: Vec<Option<Lit>>,
    /// Events below the last level that are asked for.
    lower: Vec<u32>,
    /// By slot: the literal that the clause holds, with its event.
    held: Vec<Option<(Lit, u32)>>,
    todo: Vec<Lit>,
    /// The clause.
    pub lits: Vec<Lit>,
}

impl Learner {
    pub fn new(vars: usize) -> Self {
        Self {
            asked: vec![],
            lower: vec![],
            held: vec![None; vars * 2],
            todo: vec![],
            lits: vec![],
        }
    }
}

fn stronger(a: Lit, b: Lit) -> bool {
    if a.side() == 0 {
        a.time() >= b.time()
    } else {
        a.time() <= b.time()
    }
}

impl Core {
    /// The level of the latest event of the conflict; 0 if it rests on nothing decided.
    pub(super) fn conflict_level(&self) -> usize {
        let events = self.conflict.iter().map(|l| self.event_of(*l));
        match events.filter(|e| *e != NONE).max() {
            None => 0,
            Some(event) => self.level_of(event),
        }
    }

    fn level_of(&self, event: u32) -> usize {
        self.levels
            .partition_point(|start| *start <= event as usize)
    }

    /// Learns a clause, the literal that it will make true first, then the one of the highest level. The level to go back to, and
    /// from how many levels the clause is.
    pub(super) fn learn(&mut self) -> (usize, u32) {
        let mut learner = std::mem::replace(&mut self.learner, Learner::new(0));
        let root = self.levels.first().copied().unwrap_or(0);
        let start = self.levels.last().copied().unwrap_or(0);
        learner
            .asked
            .resize(self.trail.len().max(learner.asked.len()), None);
        learner.todo.clear();
        learner.todo.append(&mut self.conflict);
        learner.lower.clear();
        let (mut open, mut at) = (0, self.trail.len());
        let first = loop {
            while let Some(lit) = learner.todo.pop() {
                let event = self.event_of(lit);
                if event == NONE || (event as usize) < root {
                    continue;
                }
                self.order.bump(lit.var(), lit.time());
                let asked = &mut learner.asked[event as usize];
                match asked {
                    Some(other) if stronger(*other, lit) => {}
                    Some(_) => *asked = Some(lit),
                    None => {
                        *asked = Some(lit);
                        if event as usize >= start {
                            open += 1;
                        } else {
                            learner.lower.push(event);
                        }
                    }
                }
            }
            // the latest event asked for; there is one, as the conflict is of this level
            let lit = loop {
                at -= 1;
                if let Some(lit) = learner.asked[at].take() {
                    break lit;
                }
            };
            open -= 1;
            if open == 0 {
                break lit;
            }
            let why = self.trail[at].why;
            if let Why::Clause(k) = why {
                self.clauses.bump(k);
            }
            self.work += 1;
            self.explain(lit, why, at, &mut learner.todo);
            self.work += learner.todo.len() as u64 / 4;
        };
        // of each bound the strongest alone; the latest event is the strongest
        learner.lower.sort_unstable_by(|a, b| b.cmp(a));
        learner.lits.clear();
        learner.lits.push(first.not());
        let mut kept: Vec<(u32, Lit)> = Vec::with_capacity(learner.lower.len());
        learner.held[first.slot()] = Some((first, at as u32));
        for event in &learner.lower {
            if let Some(lit) = learner.asked[*event as usize].take()
                && learner.held[lit.slot()].is_none()
            {
                learner.held[lit.slot()] = Some((lit, *event));
                kept.push((*event, lit));
            }
        }
        let needless = self.needless(&mut learner, &kept, root);
        for slot in kept.iter().map(|(_, l)| l.slot()).chain([first.slot()]) {
            learner.held[slot] = None;
        }
        let mut back = 0;
        let mut levels: Vec<usize> = Vec::with_capacity(kept.len());
        for ((event, lit), drop) in kept.iter().zip(needless) {
            if !drop {
                let level = self.level_of(*event);
                back = back.max(level);
                levels.push(level);
                learner.lits.push(lit.not());
            }
        }
        levels.dedup();
        self.learner = learner;
        (back, levels.len() as u32 + 1)
    }

    /// Which literals follow from the others, by their reasons.
    fn needless(&self, learner: &mut Learner, kept: &[(u32, Lit)], root: usize) -> Vec<bool> {
        let follows = |learner: &Learner, reasons: &[Lit], event: u32| {
            reasons.iter().all(|q| {
                let e = self.event_of(*q);
                e == NONE
                    || (e as usize) < root
                    || learner.held[q.slot()]
                        .is_some_and(|(held, by)| by < event && stronger(held, *q))
            })
        };
        let mut todo = std::mem::take(&mut learner.todo);
        let needless = kept
            .iter()
            .map(|(event, lit)| {
                let why = self.trail[*event as usize].why;
                if matches!(why, Why::Decided) {
                    return false;
                }
                todo.clear();
                self.explain(*lit, why, *event as usize, &mut todo);
                follows(learner, &todo, *event)
            })
            .collect();
        todo.clear();
        learner.todo = todo;
        needless
    }
}

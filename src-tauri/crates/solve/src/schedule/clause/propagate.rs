//! Arcs and clauses: the events that wait are taken one by one.

use super::clauses::Watch;
use super::{Core, Lit, Why};

impl Core {
    /// Follows arcs and clauses until no event waits. False if that is a conflict.
    pub(super) fn drain(&mut self) -> bool {
        while let Some(event) = self.trail.get(self.queue).copied() {
            self.queue += 1;
            let var = event.var as usize;
            if event.side == 0 {
                for k in 0..self.out[var].len() {
                    let (arc, to, lag) = self.out[var][k];
                    let reach = self.bounds[var][0] + lag;
                    if reach > self.bounds[to as usize][0]
                        && !self.set(to as usize, 0, reach, Why::Arc(arc))
                    {
                        return false;
                    }
                }
            } else {
                for k in 0..self.into[var].len() {
                    let (arc, from, lag) = self.into[var][k];
                    let reach = self.bounds[var][1] - lag;
                    if reach < self.bounds[from as usize][1]
                        && !self.set(from as usize, 1, reach, Why::Arc(arc))
                    {
                        return false;
                    }
                }
            }
            if !self.visit(var, usize::from(event.side)) {
                return false;
            }
        }
        true
    }

    /// Looks at the clauses that watch a literal which this bound may have made false.
    fn visit(&mut self, var: usize, side: usize) -> bool {
        let slot = var * 2 + side;
        let mut list = std::mem::take(&mut self.clauses.watches[slot]);
        let (mut read, mut keep, mut fine) = (0, 0, true);
        self.work += list.len() as u64 / 8;
        while read < list.len() {
            let watch = list[read];
            read += 1;
            let bound = self.bounds[var][side];
            let is_false = if side == 0 {
                watch.time <= bound
            } else {
                watch.time > bound
            };
            if !is_false || self.is_true(watch.other) {
                list[keep] = watch;
                keep += 1;
                continue;
            }
            let lit = if side == 0 {
                Lit::below(var, watch.time)
            } else {
                Lit::at_least(var, watch.time)
            };
            self.work += 1;
            if let Some((moved, other)) = self.rewatch(watch.clause, lit) {
                if let Some(slot_of) = moved {
                    let watch = Watch {
                        time: slot_of.time(),
                        clause: watch.clause,
                        other,
                    };
                    let to = slot_of.not().slot();
                    if to == slot {
                        list.push(watch)
                    } else {
                        self.clauses.watches[to].push(watch)
                    }
                } else {
                    list[keep] = Watch { other, ..watch };
                    keep += 1;
                }
                continue;
            }
            list[keep] = watch;
            keep += 1;
            let first = self.clauses.lits(watch.clause)[0];
            if !self.make(first, Why::Clause(watch.clause)) {
                fine = false;
                break;
            }
        }
        list.copy_within(read.., keep);
        list.truncate(keep + list.len() - read);
        self.clauses.watches[slot] = list;
        fine
    }

    /// A watched literal is false: finds another one to watch, which is returned, or sees that the clause is true already. None if all
    /// but the first literal are false.
    fn rewatch(&mut self, clause: u32, lit: Lit) -> Option<(Option<Lit>, Lit)> {
        let bounds = &self.bounds;
        let is_true = |l: Lit| {
            let [least, most] = bounds[l.var()];
            if l.side() == 0 {
                least >= l.time()
            } else {
                most < l.time()
            }
        };
        let lits = self.clauses.lits_mut(clause);
        if lits[0] == lit {
            lits.swap(0, 1);
        }
        let first = lits[0];
        if is_true(first) {
            return Some((None, first));
        }
        let free = (2..lits.len()).find(|k| !is_true(lits[*k].not()))?;
        lits.swap(1, free);
        Some((Some(lits[1]), first))
    }
}

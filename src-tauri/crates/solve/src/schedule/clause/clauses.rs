//! The clauses that were learnt, with the two literals of each that are watched.

use super::Lit;

/// A clause is looked at when this literal, on a bound's list, may have become false.
#[derive(Debug, Clone, Copy)]
pub(super) struct Watch {
    pub time: i32,
    pub clause: u32,
    /// A literal of it; while it is true the clause need not be looked at.
    pub other: Lit,
}

#[derive(Debug, Clone, Copy)]
struct Head {
    at: u32,
    len: u32,
    /// Levels that its literals came from when it was learnt.
    glue: u32,
    activity: f32,
    dead: bool,
}

#[derive(Debug, Clone)]
pub(super) struct Clauses {
    heads: Vec<Head>,
    lits: Vec<Lit>,
    alive: usize,
    gain: f32,
    /// By slot of the literal's opposite.
    pub watches: Vec<Vec<Watch>>,
}

/// Activities above this are scaled down.
const HIGH: f32 = 1e20;
/// Each conflict counts so much more than the one before it.
const GROWTH: f32 = 1.0 / 0.999;
/// Clauses from so few levels are kept for good.
const GOOD: u32 = 2;

impl Clauses {
    pub fn new(vars: usize) -> Self {
        Self {
            heads: vec![],
            lits: vec![],
            alive: 0,
            gain: 1.0,
            watches: vec![vec![]; vars * 2],
        }
    }

    pub fn lits(&self, clause: u32) -> &[Lit] {
        let head = &self.heads[clause as usize];
        &self.lits[head.at as usize..(head.at + head.len) as usize]
    }

    pub fn lits_mut(&mut self, clause: u32) -> &mut [Lit] {
        let head = &self.heads[clause as usize];
        &mut self.lits[head.at as usize..(head.at + head.len) as usize]
    }

    pub fn alive(&self) -> usize {
        self.alive
    }

    /// Takes a clause of two literals or more, and watches the first two.
    pub fn add(&mut self, lits: &[Lit], glue: u32) -> u32 {
        let clause = self.heads.len() as u32;
        for (lit, other) in [(lits[0], lits[1]), (lits[1], lits[0])] {
            self.watches[lit.not().slot()].push(Watch {
                time: lit.time(),
                clause,
                other,
            });
        }
        self.heads.push(Head {
            at: self.lits.len() as u32,
            len: lits.len() as u32,
            glue,
            activity: self.gain,
            dead: false,
        });
        self.lits.extend_from_slice(lits);
        self.alive += 1;
        clause
    }

    pub fn bump(&mut self, clause: u32) {
        self.heads[clause as usize].activity += self.gain;
    }

    pub fn age(&mut self) {
        self.gain *= GROWTH;
        if self.gain > HIGH {
            for head in &mut self.heads {
                head.activity /= HIGH;
            }
            self.gain /= HIGH;
        }
    }

    /// Drops the less useful half: clauses from many levels, and of these the least active. For use when nothing is decided: then no
    /// bound of interest rests on a clause. New numbers are given to those that stay.
    pub fn reduce(&mut self) {
        let mut by: Vec<u32> = (0..self.heads.len() as u32)
            .filter(|c| self.heads[*c as usize].glue > GOOD)
            .collect();
        by.sort_by(|a, b| {
            let (a, b) = (&self.heads[*a as usize], &self.heads[*b as usize]);
            a.activity.total_cmp(&b.activity)
        });
        for c in &by[..by.len() / 2] {
            self.heads[*c as usize].dead = true;
        }
        for list in &mut self.watches {
            list.clear();
        }
        let (heads, lits) = (
            std::mem::take(&mut self.heads),
            std::mem::take(&mut self.lits),
        );
        self.alive = 0;
        for head in heads.iter().filter(|h| !h.dead) {
            let stays = &lits[head.at as usize..(head.at + head.len) as usize];
            let clause = self.add(stays, head.glue);
            self.heads[clause as usize].activity = head.activity;
        }
    }
}

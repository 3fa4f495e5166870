//! The search as a whole: the iterated greedy answers most questions at once; where no rule but support binds, the beam search over
//! blocks of equal items is far better with many of them.

use super::beam::Beam;
use super::blocks::Kind;
use super::check::check;
use super::greedy::Greedy;
use super::sequence::put_in_order;
use super::types::{
    Bears, Cuboid, Item, LONGEST, Load, MOST_ITEMS, Order, Placed, Problem, Support,
};

/// One piece of work of the beam search costs as much as so many of the greedy one. Measured.
const BEAM_COSTS: u64 = 4;
/// With more items than this the beam search has all the work: a greedy pass is long by then, and loose items pack badly.
const GREEDY_MOST: usize = 60;
/// Passes of the greedy before the beam search has its turn.
const FIRST_PASSES: u32 = 30;

/// What is wrong with a question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fault {
    /// More than [`MOST_ITEMS`].
    TooMany,
    /// A side of the container is not from 1 to [`LONGEST`].
    Container,
    /// A side of this item is not from 1 to [`LONGEST`], or its mass is negative.
    Item(usize),
    /// What is in the way, by index, does not lie within the container.
    Blocked(usize),
}

/// A search that can be asked for more.
pub struct Search<'a> {
    problem: &'a Problem,
    kinds: Vec<Vec<usize>>,
    greedy: Greedy,
    passes: u32,
    beam: Option<Beam>,
}

/// Loads as much as goes in, by volume, within a budget of work (a unit is about a nanosecond on a desktop computer). The same
/// question has the same answer everywhere.
///
/// # Errors
/// See [`Fault`].
pub fn load(problem: &Problem, work: u64) -> Result<Load, Fault> {
    let mut search = Search::new(problem, 1)?;
    while search.work() < work && search.advance() {}
    Ok(search.best())
}

fn sound(problem: &Problem) -> Result<(), Fault> {
    let side = |s: &i32| (1..=LONGEST).contains(s);
    if problem.items.len() > MOST_ITEMS {
        return Err(Fault::TooMany);
    }
    if !problem.container.sides.iter().all(side) {
        return Err(Fault::Container);
    }
    for (i, item) in problem.items.iter().enumerate() {
        let sides = item.sides.iter().chain(item.squeezed.iter().flatten());
        if !sides.into_iter().all(side) || item.mass_g < 0 {
            return Err(Fault::Item(i));
        }
    }
    for (i, blocked) in problem.container.blocked.iter().enumerate() {
        let within = (0..3).all(|a| {
            blocked.at[a] >= 0
                && side(&blocked.sides[a])
                && blocked.at[a] <= LONGEST
                && blocked.end(a) <= problem.container.sides[a]
        });
        if !within {
            return Err(Fault::Blocked(i));
        }
    }
    Ok(())
}

/// Whether no rule binds but support, so that equal items can be put together.
fn plain(problem: &Problem) -> bool {
    let Some(first) = problem.items.first() else {
        return false;
    };
    let mass: i64 = problem.items.iter().map(|i| i.mass_g).sum();
    problem.items.iter().all(|i| {
        i.bears == Bears::All
            && i.squeezed.is_empty()
            && (problem.order == Order::Free || i.stop == first.stop)
    }) && problem.container.payload_g.is_none_or(|most| mass <= most)
}

impl<'a> Search<'a> {
    /// Begins; the seed varies what is tried.
    ///
    /// # Errors
    /// See [`Fault`].
    pub fn new(problem: &'a Problem, seed: u64) -> Result<Search<'a>, Fault> {
        sound(problem)?;
        let mut kinds: Vec<Vec<usize>> = Vec::new();
        let mut beam = None;
        if plain(problem) {
            kinds = alike(problem);
            let made: Vec<Kind> = kinds
                .iter()
                .map(|of| kind(problem, &problem.items[of[0]], of.len()))
                .collect();
            // a share of support is met by full support
            let support = match problem.support {
                Support::None => Support::None,
                Support::Share(_) | Support::Full => Support::Full,
            };
            beam = Some(Beam::new(
                &made,
                problem.container.sides,
                &problem.container.blocked,
                support,
            ));
        }
        Ok(Search {
            problem,
            kinds,
            greedy: Greedy::new(problem, seed),
            passes: 0,
            beam,
        })
    }

    /// A piece of work; false if there is nothing left to gain.
    pub fn advance(&mut self) -> bool {
        let beam_turn = self.beam.as_ref().is_some_and(|b| {
            self.problem.items.len() > GREEDY_MOST
                || (self.passes >= FIRST_PASSES && b.work() * BEAM_COSTS <= self.greedy.work())
        });
        match self.beam.as_mut().filter(|_| beam_turn) {
            Some(beam) => beam.advance(),
            None => {
                self.greedy.advance(self.problem);
                self.passes += 1;
            }
        }
        !self.done()
    }

    fn done(&self) -> bool {
        self.problem.items.is_empty()
            || self.greedy.done(self.problem)
            || self.beam.as_ref().is_some_and(Beam::done)
    }

    /// Work so far.
    #[must_use]
    pub fn work(&self) -> u64 {
        self.greedy.work() + self.beam.as_ref().map_or(0, |b| b.work() * BEAM_COSTS)
    }

    /// Volume of the best load so far.
    #[must_use]
    pub fn volume(&self) -> i64 {
        self.greedy
            .best()
            .volume
            .max(self.beam.as_ref().map_or(0, Beam::best))
    }

    /// The best load so far, in an order in which it can be put in. It keeps every rule.
    #[must_use]
    pub fn best(&self) -> Load {
        let mut load = match &self.beam {
            Some(beam) if beam.best() > self.greedy.best().volume => self.unpacked(beam),
            _ => self.greedy.best().clone(),
        };
        put_in_order(self.problem, &mut load);
        debug_assert_eq!(check(self.problem, &load), Vec::new(), "no rule is broken");
        load
    }

    fn unpacked(&self, beam: &Beam) -> Load {
        let mut next = vec![0; self.kinds.len()];
        let mut load = Load::default();
        for (kind, at, sides) in beam.boxes() {
            let kind = usize::from(kind);
            let item = self.kinds[kind][next[kind]];
            next[kind] += 1;
            load.volume += self.problem.items[item].volume();
            load.placed.push(Placed {
                item,
                place: Cuboid { at, sides },
                rung: 0,
            });
        }
        load
    }
}

/// Items that are equal but for mass and stop, together.
fn alike(problem: &Problem) -> Vec<Vec<usize>> {
    let same = |i: usize| (problem.items[i].sides, problem.items[i].turns);
    let mut order: Vec<usize> = (0..problem.items.len()).collect();
    order.sort_by_key(|i| (same(*i), *i));
    let mut kinds: Vec<Vec<usize>> = Vec::new();
    for i in order {
        match kinds.last_mut() {
            Some(kind) if same(kind[0]) == same(i) => kind.push(i),
            _ => kinds.push(vec![i]),
        }
    }
    kinds
}

fn kind(problem: &Problem, item: &Item, count: usize) -> Kind {
    let mut shapes = item.turns.shapes(item.sides);
    if let Some([wide, high]) = problem.container.door {
        shapes.retain(|s| s[1] <= wide && s[2] <= high);
    }
    Kind {
        shapes,
        count: u16::try_from(count).unwrap_or(u16::MAX),
        volume: item.volume(),
    }
}

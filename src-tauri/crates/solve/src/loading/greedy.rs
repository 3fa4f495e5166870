//! Iterated greedy: items are put in one by one in an order, each in the spot that suits a taste best; the order or the taste is
//! changed a little, and the change is kept if no less is loaded.

use super::spot::{Finder, Habit, Taste};
use super::types::{Bears, Load, Order, Placed, Problem};
use crate::packing::random::Stream;

/// The taste of the first pass: far from the door and low.
const FIRST: Taste = [1.0, 1.0, 0.3, 0.05, 0.0, 0.0];
/// Later tastes are drawn up to these.
const TASTES: Taste = [1.0, 2.0, 1.0, 0.5, 0.3, 0.3];
/// What carries nothing comes late among its like.
const LATE: f64 = 0.3;
/// How often a pass changes one weight of the taste; how often the order; how often two items are exchanged rather than one moved.
const CHANGES: [f64; 3] = [0.3, 0.8, 0.5];
/// How often it is one that found no place that comes earlier, and how often a single item changes its habit.
const MISSED: f64 = 0.4;
/// See [`MISSED`].
const HABIT: f64 = 0.4;
/// A search begins anew after so many passes without a gain, and so many more for each item.
const PATIENCE: [usize; 2] = [40, 6];

/// What a pass costs even if it looks at nothing. Measured with one item that finds no spot.
const PASS: u64 = 500;

/// The search.
pub(super) struct Greedy {
    chance: Stream,
    finder: Finder,
    /// Items in the order in which they are tried, and where each of them stands.
    order: Vec<usize>,
    spots: Vec<Option<Placed>>,
    taste: Taste,
    /// By item.
    habits: Vec<Habit>,
    /// Loaded by the order as it is; `None`: begin anew.
    now: Option<i64>,
    stale: usize,
    begun: bool,
    all: i64,
    placed: Vec<Placed>,
    try_order: Vec<usize>,
    try_spots: Vec<Option<Placed>>,
    best: Load,
}

impl Greedy {
    /// A search; it does nothing yet.
    pub(super) fn new(problem: &Problem, seed: u64) -> Greedy {
        Greedy {
            chance: Stream::of(seed, problem.items.len() as u64),
            finder: Finder::new(problem),
            order: Vec::new(),
            spots: Vec::new(),
            taste: FIRST,
            habits: vec![Habit::default(); problem.items.len()],
            now: None,
            stale: 0,
            begun: false,
            all: problem.items.iter().map(super::types::Item::volume).sum(),
            placed: Vec::new(),
            try_order: Vec::new(),
            try_spots: Vec::new(),
            best: Load::default(),
        }
    }

    /// Work so far.
    pub(super) fn work(&self) -> u64 {
        self.finder.work
    }

    /// The best load so far.
    pub(super) fn best(&self) -> &Load {
        &self.best
    }

    /// Whether everything is in.
    pub(super) fn done(&self, problem: &Problem) -> bool {
        self.best.placed.len() == problem.items.len()
    }

    /// One pass.
    pub(super) fn advance(&mut self, problem: &Problem) {
        let items = problem.items.len();
        if items == 0 {
            return;
        }
        self.finder.work += PASS + items as u64;
        let Some(now) = self.now else {
            self.begin(problem);
            return;
        };
        let (old_taste, mut from) = (self.taste, items);
        self.try_order.clone_from(&self.order);
        if self.chance.unit() < CHANGES[0] {
            let which = self.chance.below(6) as usize;
            self.taste[which] = self.chance.unit();
            from = 0;
        }
        if self.chance.unit() < CHANGES[1] {
            let mut i = self.chance.below(items as u32) as usize;
            let mut j = self.chance.below(items as u32) as usize;
            if self.chance.unit() < MISSED {
                // one that found no place, earlier
                let missed = self.spots.iter().filter(|s| s.is_none()).count() as u32;
                if missed > 0 {
                    let k = self.chance.below(missed) as usize;
                    i = (0..items)
                        .filter(|i| self.spots[*i].is_none())
                        .nth(k)
                        .unwrap_or(i);
                    j = self.chance.below(i as u32 + 1) as usize;
                }
            }
            from = from.min(i).min(j);
            if self.chance.unit() < CHANGES[2] {
                self.try_order.swap(i, j);
            } else {
                let moved = self.try_order.remove(i);
                self.try_order.insert(j, moved);
            }
        }
        let mut old_habit = None;
        if self.chance.unit() < HABIT {
            let i = self.chance.below(items as u32) as usize;
            let which = self.try_order[i];
            old_habit = Some((which, self.habits[which]));
            from = from.min(i);
            let habit = &mut self.habits[which];
            if self.chance.unit() < 0.5 {
                habit.shape = match self.chance.below(3) {
                    0 => None,
                    _ => Some(self.chance.below(6) as u8),
                };
            } else {
                habit.other_side = !habit.other_side;
            }
        }
        self.stale += 1;
        if from < items {
            match self.pass(problem, from, Some(now)) {
                Some(volume) => {
                    if volume > now {
                        self.stale = 0;
                    }
                    self.now = Some(volume);
                    std::mem::swap(&mut self.order, &mut self.try_order);
                    std::mem::swap(&mut self.spots, &mut self.try_spots);
                    self.keep(volume);
                }
                None => {
                    self.taste = old_taste;
                    if let Some((which, habit)) = old_habit {
                        self.habits[which] = habit;
                    }
                }
            }
        }
        if self.stale > PATIENCE[0] + PATIENCE[1] * items {
            self.now = None;
        }
    }

    /// A new order and a new taste.
    fn begin(&mut self, problem: &Problem) {
        let noise = if self.begun { self.chance.unit() } else { 0.0 };
        let mut keys: Vec<(u32, f64, usize)> = Vec::with_capacity(problem.items.len());
        for (i, item) in problem.items.iter().enumerate() {
            let base = f64::from(item.sides[0]) * f64::from(item.sides[1]);
            let size = if self.begun && self.chance.unit() < 0.5 {
                // a third of the height of the space is what a floor's worth is
                base * f64::from(problem.container.sides[2]) * 0.67
            } else {
                item.volume() as f64
            };
            let late = match item.bears {
                Bears::All => 1.0,
                _ => LATE,
            };
            let stop = match problem.order {
                Order::Free => 0,
                _ => item.stop,
            };
            let key = size * late * (1.0 + noise * (self.chance.unit() - 0.5));
            keys.push((stop, key, i));
        }
        keys.sort_by(|a, b| b.0.cmp(&a.0).then(b.1.total_cmp(&a.1)).then(a.2.cmp(&b.2)));
        self.try_order = keys.into_iter().map(|(.., i)| i).collect();
        if self.begun {
            for (weight, most) in self.taste.iter_mut().zip(TASTES) {
                *weight = self.chance.unit() * most;
            }
        }
        self.begun = true;
        self.stale = 0;
        self.habits.fill(Habit::default());
        self.now = self.pass(problem, 0, None);
        std::mem::swap(&mut self.order, &mut self.try_order);
        std::mem::swap(&mut self.spots, &mut self.try_spots);
        if let Some(volume) = self.now {
            self.keep(volume);
        }
    }

    /// Puts in `try_order` from an index on; before it everything stays. `None` as soon as it is certain to load less than `now`.
    fn pass(&mut self, problem: &Problem, from: usize, now: Option<i64>) -> Option<i64> {
        let payload = problem.container.payload_g.unwrap_or(i64::MAX);
        self.placed.clear();
        self.try_spots.clear();
        let (mut missed, mut mass) = (0, 0);
        let most_missed = now.map_or(i64::MAX, |now| self.all - now);
        for at in 0..self.try_order.len() {
            let which = self.try_order[at];
            let item = &problem.items[which];
            let spot = if at < from {
                self.spots[at]
            } else if mass + item.mass_g > payload {
                None
            } else {
                {
                    let habit = self.habits[which];
                    self.finder
                        .find(problem, &self.placed, which, &self.taste, habit)
                }
            };
            match spot {
                Some(spot) => {
                    self.placed.push(spot);
                    mass += item.mass_g;
                }
                None => {
                    missed += item.volume();
                    if missed > most_missed {
                        return None;
                    }
                }
            }
            self.try_spots.push(spot);
        }
        Some(self.all - missed)
    }

    fn keep(&mut self, volume: i64) {
        let more = self.placed.len() > self.best.placed.len() && volume == self.best.volume;
        if volume > self.best.volume || more {
            self.best = Load {
                placed: self.placed.clone(),
                volume,
            };
        }
    }
}

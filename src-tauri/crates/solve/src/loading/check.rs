//! Judges a load. It shares nothing with the search but the types, and every answer goes through it.

use super::types::{Bears, Cuboid, Load, Order, Placed, Problem};

/// A rule that is broken, and by whom; items are indices into the question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Violation {
    /// The load names an item that there is not.
    NoSuchItem(usize),
    /// An item is in it twice.
    Twice(usize),
    /// Its sides are none that it may have.
    WrongSides(usize),
    /// It sticks out of the container.
    Outside(usize),
    /// It stands in something that is in the way: which.
    Blocked(usize, usize),
    /// Two items overlap.
    Overlap(usize, usize),
    /// Too little of its base is supported: so many percent, rounded down.
    Unsupported(usize, u32),
    /// The first rests on the second, which carries nothing of its kind.
    OnFragile(usize, usize),
    /// More grams rest on it than it bears.
    Overloaded(usize, i64),
    /// The first is unloaded before the second, which is in its way.
    InTheWay(usize, usize),
    /// As it stands it does not pass the door.
    NotThroughDoor(usize),
    /// It is too heavy altogether: grams.
    TooHeavy(i64),
    /// It cannot be put in when the list says: what carries it comes later.
    LoadedTooEarly(usize),
    /// The volume that the load claims is not that of its items.
    WrongVolume(i64),
}

/// Every rule that a load breaks.
#[must_use]
pub fn check(problem: &Problem, load: &Load) -> Vec<Violation> {
    let mut found = Vec::new();
    let mut seen = vec![false; problem.items.len()];
    for placed in &load.placed {
        match seen.get_mut(placed.item) {
            None => found.push(Violation::NoSuchItem(placed.item)),
            Some(true) => found.push(Violation::Twice(placed.item)),
            Some(mark) => *mark = true,
        }
    }
    if !found.is_empty() {
        return found;
    }
    for placed in &load.placed {
        alone(problem, placed, &mut found);
    }
    for (i, a) in load.placed.iter().enumerate() {
        for b in &load.placed[i + 1..] {
            if (0..3).all(|axis| a.place.shared(&b.place, axis) > 0) {
                found.push(Violation::Overlap(a.item, b.item));
            }
        }
    }
    resting(problem, &load.placed, &mut found);
    bearing(problem, &load.placed, &mut found);
    unloading(problem, &load.placed, &mut found);
    putting_in(&load.placed, &mut found);
    let mass: i64 = load
        .placed
        .iter()
        .map(|p| problem.items[p.item].mass_g)
        .sum();
    if problem.container.payload_g.is_some_and(|most| mass > most) {
        found.push(Violation::TooHeavy(mass));
    }
    let volume: i64 = load
        .placed
        .iter()
        .map(|p| problem.items[p.item].volume())
        .sum();
    if volume != load.volume {
        found.push(Violation::WrongVolume(load.volume));
    }
    found
}

/// Sides, walls, door and what is in the way.
fn alone(problem: &Problem, placed: &Placed, found: &mut Vec<Violation>) {
    let (item, place) = (&problem.items[placed.item], &placed.place);
    let may = item
        .at_rung(placed.rung)
        .is_some_and(|sides| item.turns.shapes(sides).contains(&place.sides));
    if !may {
        found.push(Violation::WrongSides(placed.item));
    }
    let inside =
        (0..3).all(|axis| place.at[axis] >= 0 && place.end(axis) <= problem.container.sides[axis]);
    if !inside {
        found.push(Violation::Outside(placed.item));
    }
    for (which, blocked) in problem.container.blocked.iter().enumerate() {
        if (0..3).all(|axis| place.shared(blocked, axis) > 0) {
            found.push(Violation::Blocked(placed.item, which));
        }
    }
    if let Some([wide, high]) = problem.container.door
        && (place.sides[1] > wide || place.sides[2] > high)
    {
        found.push(Violation::NotThroughDoor(placed.item));
    }
}

/// Area that two boxes share seen from above.
fn shared_area(a: &Cuboid, b: &Cuboid) -> i64 {
    i64::from(a.shared(b, 0).max(0)) * i64::from(a.shared(b, 1).max(0))
}

/// Percent of the base of a box that is on the floor or on tops at its own height, exactly, as a fraction: area on tops, area.
#[must_use]
pub fn supported(problem: &Problem, placed: &[Placed], place: &Cuboid) -> (i64, i64) {
    let area = i64::from(place.sides[0]) * i64::from(place.sides[1]);
    if place.at[2] == 0 {
        return (area, area);
    }
    let below = placed.iter().map(|p| &p.place);
    let on = below
        .chain(&problem.container.blocked)
        .filter(|b| b.end(2) == place.at[2])
        .map(|b| shared_area(place, b))
        .sum();
    (on, area)
}

fn resting(problem: &Problem, placed: &[Placed], found: &mut Vec<Violation>) {
    let need = i64::from(problem.support.percent());
    for p in placed {
        let (on, area) = supported(problem, placed, &p.place);
        let enough = if problem.items[p.item].bridges {
            need == 0 || on > 0
        } else {
            on * 100 >= need * area
        };
        if !enough {
            let percent = u32::try_from(on * 100 / area.max(1)).unwrap_or(0);
            found.push(Violation::Unsupported(p.item, percent));
        }
    }
}

/// Who rests on whom, and how heavily.
fn bearing(problem: &Problem, placed: &[Placed], found: &mut Vec<Violation>) {
    let rests_on = |a: &Placed, b: &Placed| {
        a.place.at[2] == b.place.end(2) && shared_area(&a.place, &b.place) > 0
    };
    for a in placed {
        for b in placed.iter().filter(|b| rests_on(a, b)) {
            let allowed = match problem.items[b.item].bears {
                Bears::All | Bears::UpTo(_) => true,
                Bears::Nothing => false,
                Bears::OwnKind => problem.items[a.item].bears == Bears::OwnKind,
            };
            if !allowed {
                found.push(Violation::OnFragile(a.item, b.item));
            }
        }
    }
    // from the top down: what an item carries is known before it hands it on
    let mut down: Vec<usize> = (0..placed.len()).collect();
    down.sort_by_key(|i| std::cmp::Reverse(placed[*i].place.at[2]));
    let mut carried = vec![0.0; placed.len()];
    for i in down {
        let weight = carried[i] + problem.items[placed[i].item].mass_g as f64;
        if let Bears::UpTo(most) = problem.items[placed[i].item].bears
            // half a gram is not a fault of the load
            && carried[i] > most as f64 + 0.5
        {
            found.push(Violation::Overloaded(placed[i].item, carried[i] as i64));
        }
        let below: Vec<(usize, i64)> = (0..placed.len())
            .filter(|j| rests_on(&placed[i], &placed[*j]))
            .map(|j| (j, shared_area(&placed[i].place, &placed[j].place)))
            .collect();
        let (on, _) = supported(problem, placed, &placed[i].place);
        for (j, area) in below {
            carried[j] += weight * area as f64 / on.max(1) as f64;
        }
    }
}

/// Whether `b`, which stays longer, is in the way of `a`.
fn in_the_way(order: Order, a: &Cuboid, b: &Cuboid) -> bool {
    let lies_over = shared_area(a, b) > 0
        && match order {
            Order::Free => false,
            Order::Lifo => b.at[2] >= a.end(2),
            Order::LifoByHand => b.at[2] == a.end(2),
        };
    let before_the_door =
        order != Order::Free && a.shared(b, 1) > 0 && a.shared(b, 2) > 0 && b.at[0] >= a.end(0);
    lies_over || before_the_door
}

fn unloading(problem: &Problem, placed: &[Placed], found: &mut Vec<Violation>) {
    for a in placed {
        for b in placed {
            if problem.items[b.item].stop > problem.items[a.item].stop
                && in_the_way(problem.order, &a.place, &b.place)
            {
                found.push(Violation::InTheWay(a.item, b.item));
            }
        }
    }
}

/// The list is an order of loading: nothing carries what is listed before it.
fn putting_in(placed: &[Placed], found: &mut Vec<Violation>) {
    for (i, first) in placed.iter().enumerate() {
        for later in &placed[i + 1..] {
            let carries = later.place.end(2) == first.place.at[2]
                && shared_area(&first.place, &later.place) > 0;
            if carries {
                found.push(Violation::LoadedTooEarly(first.item));
            }
        }
    }
}

/// How many items have to be moved aside, at the least, to unload in order: those that are in the way of one that goes before them,
/// each counted once.
#[must_use]
pub fn to_be_moved(problem: &Problem, load: &Load, order: Order) -> Vec<usize> {
    let mut moved: Vec<usize> = load
        .placed
        .iter()
        .filter(|b| {
            load.placed.iter().any(|a| {
                problem.items[b.item].stop > problem.items[a.item].stop
                    && in_the_way(order, &a.place, &b.place)
            })
        })
        .map(|b| b.item)
        .collect();
    moved.sort_unstable();
    moved
}

#[cfg(test)]
#[path = "check_tests.rs"]
mod tests;

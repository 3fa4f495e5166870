//! Vehicles and trips, and why something does not go in.

use super::check::to_be_moved;
use super::solver::{Fault, Search};
use super::types::{Bears, Container, Load, Order, Problem, Support};

/// Share of the work of a trip that each question about a rule has.
const ASKING: u64 = 4;
/// How often the length is halved when room is looked for.
const HALVINGS: u32 = 5;
/// Looks for the least re-handling with so many different searches.
const SEEDS: u64 = 3;

/// A trip: which vehicle, and its load. Items are indices into the whole question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trip {
    /// Index of the vehicle.
    pub vehicle: usize,
    /// Its load.
    pub load: Load,
}

/// How everything is carried.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Shipping {
    /// Trips in order.
    pub trips: Vec<Trip>,
    /// Fewer trips are impossible, by volume, mass and what excludes each other; of what goes into some vehicle at all.
    pub least_trips: usize,
    /// Items that go into none of the vehicles, ascending.
    pub never: Vec<usize>,
}

/// Carries everything: the vehicles are filled one after the other, and go again as long as something is left. Each trip has an
/// equal part of the work.
///
/// # Errors
/// As the solver; the container of the question is not asked.
pub fn ship(problem: &Problem, vehicles: &[Container], work: u64) -> Result<Shipping, Fault> {
    let mut out = Shipping::default();
    let alone = |item: usize| vehicles.iter().any(|v| size_fits(problem, v, item));
    let mut left: Vec<usize> = Vec::new();
    for item in 0..problem.items.len() {
        if alone(item) {
            left.push(item);
        } else {
            out.never.push(item);
        }
    }
    out.least_trips = least(problem, vehicles, &left);
    let each = work / (out.least_trips as u64).max(1);
    let mut idle = 0;
    let mut vehicle = 0;
    while !left.is_empty() && idle < vehicles.len() {
        let part = part(problem, &vehicles[vehicle], &left);
        let mut load = searched(&part, 1, each)?;
        for placed in &mut load.placed {
            placed.item = left[placed.item];
        }
        if load.placed.is_empty() {
            idle += 1;
        } else {
            idle = 0;
            left.retain(|item| !load.placed.iter().any(|p| p.item == *item));
            out.trips.push(Trip { vehicle, load });
        }
        vehicle = (vehicle + 1) % vehicles.len();
    }
    out.never.extend(left);
    out.never.sort_unstable();
    Ok(out)
}

/// The question about some of the items and another container.
fn part(problem: &Problem, container: &Container, items: &[usize]) -> Problem {
    Problem {
        container: container.clone(),
        items: items.iter().map(|i| problem.items[*i].clone()).collect(),
        support: problem.support,
        order: problem.order,
    }
}

fn searched(problem: &Problem, seed: u64, work: u64) -> Result<Load, Fault> {
    let mut search = Search::new(problem, seed)?;
    while search.work() < work && search.advance() {}
    Ok(search.best())
}

/// Whether an item by itself passes the door and goes in, squeezed if need be; what is in the way is not asked.
fn size_fits(problem: &Problem, container: &Container, item: usize) -> bool {
    let of = &problem.items[item];
    let light = container.payload_g.is_none_or(|most| of.mass_g <= most);
    let rungs = (0..=of.squeezed.len()).filter_map(|r| of.at_rung(r));
    light
        && rungs.flat_map(|sides| of.turns.shapes(sides)).any(|shape| {
            (0..3).all(|a| shape[a] <= container.sides[a])
                && container
                    .door
                    .is_none_or(|[wide, high]| shape[1] <= wide && shape[2] <= high)
        })
}

/// A lower bound on the trips: volume of the squeezed items, mass, and items of which no two go in together.
fn least(problem: &Problem, vehicles: &[Container], items: &[usize]) -> usize {
    let largest = vehicles.iter().map(Container::volume).max().unwrap_or(0);
    let heaviest = vehicles
        .iter()
        .map(|v| v.payload_g.unwrap_or(i64::MAX))
        .max()
        .unwrap_or(i64::MAX);
    let smallest = |item: usize| {
        let of = &problem.items[item];
        let rungs = (0..=of.squeezed.len()).filter_map(|r| of.at_rung(r));
        let volumes = rungs.map(|s| s.iter().map(|s| i64::from(*s)).product::<i64>());
        volumes.min().unwrap_or(0)
    };
    let volume: i64 = items.iter().map(|i| smallest(*i)).sum();
    let mass: i64 = items.iter().map(|i| problem.items[*i].mass_g).sum();
    let large = items.iter().filter(|i| {
        let of = &problem.items[**i];
        let rungs = (0..=of.squeezed.len()).filter_map(|r| of.at_rung(r));
        let mut shapes = rungs.flat_map(|sides| of.turns.shapes(sides));
        // in every way in which it goes in at all it is longer than half of each side
        shapes.all(|shape| {
            vehicles.iter().all(|v| {
                (0..3).any(|a| shape[a] > v.sides[a]) || (0..3).all(|a| 2 * shape[a] > v.sides[a])
            })
        })
    });
    let up = |of: i64, by: i64| usize::try_from((of + by - 1) / by).unwrap_or(0);
    up(volume, largest.max(1))
        .max(up(mass.min(i64::MAX / 2), heaviest.clamp(1, i64::MAX / 2)))
        .max(large.count())
        .max(usize::from(!items.is_empty()))
}

/// What keeps something out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reason {
    /// This item is too large for the container or its door, whatever else is in it.
    Size(usize),
    /// Everything together is too heavy, by so many grams.
    Mass(i64),
    /// Without the order of unloading all would go in; then these have to be moved aside on the way.
    Order(Vec<usize>),
    /// If the fragile ones could carry, all would go in.
    Fragile,
    /// If things might hang over further, all would go in.
    Support,
    /// There is too little room: the container would have to be longer by about so much.
    Room(i32),
    /// There is too little room even in twice the length.
    FarTooLittle,
}

/// Why not all of it goes in; empty if it does. Each rule is asked about by leaving it out.
///
/// # Errors
/// As the solver.
pub fn why(problem: &Problem, work: u64) -> Result<Vec<Reason>, Fault> {
    let all = problem.items.len();
    let too_large: Vec<Reason> = (0..all)
        .filter(|i| {
            let mut weightless = problem.container.clone();
            weightless.payload_g = None;
            !size_fits(problem, &weightless, *i)
        })
        .map(Reason::Size)
        .collect();
    if !too_large.is_empty() {
        return Ok(too_large);
    }
    let mut reasons = Vec::new();
    let mass: i64 = problem.items.iter().map(|i| i.mass_g).sum();
    let mut light = problem.clone();
    if let Some(most) = problem.container.payload_g.filter(|most| mass > *most) {
        reasons.push(Reason::Mass(mass - most));
        light.container.payload_g = None;
    }
    let whole = |p: &Problem, seed: u64| all_in(p, seed, work / ASKING);
    if whole(&light, 1)?.is_some() {
        return Ok(reasons);
    }
    let mut any_order = light.clone();
    any_order.order = Order::Free;
    let mut least: Option<Vec<usize>> = None;
    for seed in 1..=SEEDS {
        if light.order == Order::Free {
            break;
        }
        if let Some(load) = whole(&any_order, seed)? {
            let moved = to_be_moved(&light, &load, light.order);
            if least.as_ref().is_none_or(|l| moved.len() < l.len()) {
                least = Some(moved);
            }
        }
    }
    let mut binding = least.map(Reason::Order);
    if binding.is_none() && light.items.iter().any(|i| i.bears != Bears::All) {
        let mut strong = light.clone();
        for item in &mut strong.items {
            item.bears = Bears::All;
        }
        binding = whole(&strong, 1)?.map(|_| Reason::Fragile);
    }
    if binding.is_none() && light.support != Support::None {
        let mut hanging = light.clone();
        hanging.support = Support::Share(50);
        binding = whole(&hanging, 1)?.map(|_| Reason::Support);
    }
    let binding = match binding {
        Some(binding) => binding,
        None => room(&light, work / ASKING)?,
    };
    reasons.push(binding);
    Ok(reasons)
}

/// A load of everything, if one is found.
fn all_in(problem: &Problem, seed: u64, work: u64) -> Result<Option<Load>, Fault> {
    let load = searched(problem, seed, work)?;
    Ok(Some(load).filter(|l| l.placed.len() == problem.items.len()))
}

/// How much longer the container would have to be.
fn room(problem: &Problem, work: u64) -> Result<Reason, Fault> {
    let length = problem.container.sides[0];
    let longer = |by: i32| {
        let mut longer = problem.clone();
        longer.container.sides[0] = length.saturating_add(by).min(super::types::LONGEST);
        all_in(&longer, 1, work)
    };
    if longer(length)?.is_none() {
        return Ok(Reason::FarTooLittle);
    }
    let (mut no, mut yes) = (0, length);
    for _ in 0..HALVINGS {
        let middle = no + (yes - no) / 2;
        if longer(middle)?.is_some() {
            yes = middle;
        } else {
            no = middle;
        }
    }
    Ok(Reason::Room(yes))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::loading::check::check;
    use crate::loading::types::{Item, Triple, Turns};

    fn problem(container: Triple, items: &[(Triple, usize)]) -> Problem {
        Problem {
            container: Container::plain(container),
            items: items
                .iter()
                .flat_map(|(s, n)| vec![Item::rigid(*s, Turns::UPRIGHT); *n])
                .collect(),
            support: Support::Full,
            order: Order::Free,
        }
    }

    /// Every item in one trip, and every trip keeps the rules.
    fn all_carried(p: &Problem, vehicles: &[Container], work: u64) -> Shipping {
        let shipping = ship(p, vehicles, work).unwrap();
        let mut seen = vec![0; p.items.len()];
        for trip in &shipping.trips {
            for placed in &trip.load.placed {
                seen[placed.item] += 1;
            }
            let with = Problem {
                container: vehicles[trip.vehicle].clone(),
                ..p.clone()
            };
            assert_eq!(check(&with, &trip.load), []);
        }
        for item in &shipping.never {
            seen[*item] += 1;
        }
        assert!(seen.iter().all(|n| *n == 1));
        assert!(shipping.trips.len() >= shipping.least_trips);
        shipping
    }

    #[test]
    fn as_many_trips_as_it_takes() {
        let p = problem([100, 50, 50], &[([50, 50, 50], 5), ([200, 10, 10], 1)]);
        let van = [p.container.clone()];
        let shipping = all_carried(&p, &van, 1_000_000);
        assert_eq!((shipping.trips.len(), shipping.least_trips), (3, 3));
        assert_eq!(shipping.never, [5]);
        // none two of these go in together, whatever their volume
        let p = problem([100, 50, 50], &[([60, 30, 30], 3)]);
        assert_eq!(all_carried(&p, &van, 1_000_000).least_trips, 3);
        // by mass
        let mut p = problem([100, 50, 50], &[([10, 10, 10], 4)]);
        p.items.iter_mut().for_each(|i| i.mass_g = 400);
        let mut weak = p.container.clone();
        weak.payload_g = Some(1_000);
        let shipping = all_carried(&p, &[weak], 1_000_000);
        assert_eq!((shipping.trips.len(), shipping.least_trips), (2, 2));
        // a small and a large vehicle share it
        let p = problem([1, 1, 1], &[([50, 50, 50], 6)]);
        let fleet = [
            Container::plain([100, 50, 50]),
            Container::plain([100, 100, 50]),
        ];
        assert_eq!(all_carried(&p, &fleet, 1_000_000).trips.len(), 2);
    }

    #[test]
    fn the_reason_is_named() {
        let p = problem([100, 50, 50], &[([50, 50, 50], 2)]);
        assert_eq!(why(&p, 1_000_000), Ok(vec![]));
        let p = problem([100, 50, 50], &[([101, 5, 5], 1), ([50, 50, 50], 1)]);
        assert_eq!(why(&p, 1_000_000), Ok(vec![Reason::Size(0)]));
        let mut p = problem([100, 50, 50], &[([50, 50, 50], 2)]);
        p.items[0].mass_g = 700;
        p.container.payload_g = Some(500);
        assert_eq!(why(&p, 1_000_000), Ok(vec![Reason::Mass(200)]));
        // 150 long is needed, found to a thirty-second of the length
        let p = problem([100, 50, 50], &[([50, 50, 50], 3)]);
        let reasons = why(&p, 2_000_000).unwrap();
        assert!(
            matches!(reasons[..], [Reason::Room(50..=54)]),
            "{reasons:?}"
        );
        let p = problem([100, 50, 50], &[([50, 50, 50], 9)]);
        assert_eq!(why(&p, 2_000_000), Ok(vec![Reason::FarTooLittle]));
        // the flat one must lie below and goes out first: one has to be moved
        let mut p = problem([50, 50, 20], &[([50, 50, 10], 1), ([50, 50, 10], 1)]);
        p.order = Order::Lifo;
        p.items[1].stop = 1;
        p.items[1].bears = Bears::Nothing;
        assert_eq!(why(&p, 2_000_000), Ok(vec![Reason::Order(vec![1])]));
        // the two glass boxes may carry nothing and there is floor for one
        let mut p = problem([50, 50, 20], &[([50, 50, 10], 2)]);
        p.items.iter_mut().for_each(|i| i.bears = Bears::Nothing);
        assert_eq!(why(&p, 2_000_000), Ok(vec![Reason::Fragile]));
        // a long one over a gap
        let p = problem([60, 50, 20], &[([40, 50, 10], 1), ([60, 50, 10], 1)]);
        assert_eq!(why(&p, 2_000_000), Ok(vec![]), "the short one goes on top");
        let mut p = problem([60, 50, 20], &[([40, 50, 10], 1), ([60, 50, 10], 1)]);
        p.items[1].bears = Bears::Nothing;
        assert_eq!(why(&p, 2_000_000), Ok(vec![Reason::Fragile]));
        let p = problem(
            [100, 50, 30],
            &[([60, 50, 20], 1), ([100, 50, 10], 1), ([40, 50, 10], 1)],
        );
        assert_eq!(why(&p, 2_000_000), Ok(vec![]));
    }
}

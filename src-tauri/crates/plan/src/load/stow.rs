//! Where every parcel lies in its vehicle, how often the vehicles go, and what comes out first.
//!
//! Bags are soft: they may be squeezed as far as the rules say and doubled over once, and carry nothing but other bags. Everything
//! else is rigid and carries. What is needed first at the venue lies nearest to the door, unless that took another trip.

use std::collections::BTreeMap;

use job::Job;
use job::list::live;
use job::piece::FrameForm;
use job::site::{Blocked, Vehicle};
use solve::loading::check::{Violation, check, to_be_moved};
use solve::loading::fleet::{Reason, Shipping, ship, why};
use solve::loading::types::{
    Bears, Container, Cuboid, Item, Load as Packing, Order, Problem, Support, Triple, Turns,
};

use super::gives::rungs;
use super::vehicle_name;
use crate::garland::Depth;
use crate::types::{Load, Parcel, Run, Space, Stow};

/// More parcels than this are not stowed one by one: the volume bound has to do.
pub const MOST_STOWED: usize = 200;
/// Work of a search at the end of an edit, and while a slider moves. A unit is about a nanosecond.
const WORK: u64 = 20_000_000;
/// See [`WORK`].
const SKETCH: u64 = 1_000_000;
/// A search while a slider moves places no more than this: a single pass over more takes noticeable time.
const MOST_SKETCHED: usize = 80;
/// Share of its base that a parcel must have below it, percent: the rule of Gendreau and others (2006), on whose loads the solver
/// is measured.
const SUPPORT_PCT: u32 = 75;
/// What is up to so many times as high as its base is narrow may stand. A rigid one tips over where the vehicle is slowed by more
/// than its narrow side to its height: half of gravity sideways and to the rear (EN 12195-1, from memory). For bags common practice,
/// no source.
const STANDS: i64 = 2;
/// A rigid parcel carries up to so many times what it weighs, so that what is heavy stands low. Common practice, no source.
const CARRIES: i64 = 3;
/// One whose weight is not entered carries so much, g. Common practice, no source.
const CARRIES_G: i64 = 10_000;
/// The longest side that is placed, mm.
const LONGEST_MM: i64 = 20_000;
/// The heaviest that is reckoned with, g: a thousand tonnes.
const HEAVIEST_G: i64 = 1_000_000_000;
/// Loads that are remembered; then all are forgotten.
const REMEMBERED: usize = 16;

/// Loads that are known already, by the question.
#[derive(Debug, Clone, Default)]
pub struct Stowed {
    known: BTreeMap<String, Answer>,
}

/// What the search says.
#[derive(Debug, Clone, Default)]
struct Answer {
    shipping: Shipping,
    /// The question that it answers: its order of unloading may be that of the job or none.
    problem: Option<Problem>,
    /// Why it takes more than one trip.
    why: Option<Reason>,
}

/// What became of the question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Outcome {
    /// Everything that goes into a vehicle at all has its place.
    Stowed {
        /// Why it does not all go in at once; absent if it does, where there are several vehicles, and in a sketch.
        why: Option<Reason>,
    },
    /// There is no vehicle with a load space.
    NoVehicle,
    /// There are too many parcels.
    TooMany,
}

/// The vehicles that go, the job's own first, with what is in the way cut to their load spaces. Those without a space do not go.
#[must_use]
pub fn spaces(job: &Job) -> Vec<Space> {
    let own = std::iter::once(("", &job.vehicle));
    let more = live(&job.vans);
    let more = more.iter().map(|(id, van)| (*id, &van.vehicle));
    own.chain(more)
        .map(|(id, vehicle)| space(id, vehicle))
        .filter(|s| s.length_mm > 0 && s.width_mm > 0 && s.height_mm > 0)
        .collect()
}

fn space(id: &str, vehicle: &Vehicle) -> Space {
    let side = |mm: i64| mm.clamp(0, LONGEST_MM);
    let sides = [
        side(vehicle.length_mm),
        side(vehicle.width_mm),
        side(vehicle.height_mm),
    ];
    Space {
        van: id.into(),
        name: vehicle_name(vehicle),
        length_mm: sides[0],
        width_mm: sides[1],
        height_mm: sides[2],
        door_width_mm: side(vehicle.door_width_mm),
        door_height_mm: side(vehicle.door_height_mm),
        payload_g: vehicle.payload_g.clamp(0, HEAVIEST_G),
        blocked: vehicle
            .blocked
            .iter()
            .filter_map(|b| cut(b, sides))
            .collect(),
    }
}

/// The part of a box that lies within the space.
fn cut(of: &Blocked, sides: [i64; 3]) -> Option<Blocked> {
    let from = [of.x_mm, of.y_mm, of.z_mm];
    let long = [of.length_mm, of.width_mm, of.height_mm];
    let low = [0, 1, 2].map(|a| from[a].clamp(0, sides[a]));
    let high = [0, 1, 2].map(|a| from[a].saturating_add(long[a].max(0)).clamp(0, sides[a]));
    (0..3).all(|a| high[a] > low[a]).then(|| Blocked {
        x_mm: low[0],
        y_mm: low[1],
        z_mm: low[2],
        length_mm: high[0] - low[0],
        width_mm: high[1] - low[1],
        height_mm: high[2] - low[2],
    })
}

/// Gives every parcel of a load its place, and the load its trips.
pub fn stow(job: &Job, load: &mut Load, depth: Depth, known: &mut Stowed) -> Outcome {
    let containers: Vec<Container> = load.spaces.iter().map(container).collect();
    if containers.is_empty() {
        return Outcome::NoVehicle;
    }
    let most = match depth {
        Depth::Final => MOST_STOWED,
        Depth::Instant | Depth::Preview => MOST_SKETCHED,
    };
    if load.parcels.len() > most {
        return Outcome::TooMany;
    }
    let problem = question(job, load, Rigid::Steady);
    let loosest = loosest(question(job, load, Rigid::Lashed));
    let key = format!("{problem:?}{containers:?}");
    let answer = match known.known.get(&key) {
        Some(known) => known.clone(),
        None => {
            // what was found to the end holds while a slider moves, too; what was sketched is not kept
            let fresh = answer(&problem, &loosest, &containers, depth);
            if depth == Depth::Final {
                if known.known.len() >= REMEMBERED {
                    known.known.clear();
                }
                known.known.insert(key, fresh.clone());
            }
            fresh
        }
    };
    write(job, load, &problem, &containers, &answer);
    Outcome::Stowed { why: answer.why }
}

fn container(space: &Space) -> Container {
    let of = |mm: i64| i32::try_from(mm).unwrap_or(i32::MAX);
    let door = space.door_width_mm > 0 && space.door_height_mm > 0;
    Container {
        sides: [space.length_mm, space.width_mm, space.height_mm].map(of),
        blocked: space
            .blocked
            .iter()
            .map(|b| Cuboid {
                at: [b.x_mm, b.y_mm, b.z_mm].map(of),
                sides: [b.length_mm, b.width_mm, b.height_mm].map(of),
            })
            .collect(),
        door: door.then(|| [of(space.door_width_mm), of(space.door_height_mm)]),
        payload_g: (space.payload_g > 0).then_some(space.payload_g),
    }
}

/// How rigid parcels stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Rigid {
    /// So that they do not tip over by themselves, the heavy ones low.
    Steady,
    /// In any way, one on the other: what would tip over is lashed.
    Lashed,
}

/// The question of a load: its parcels in their order.
fn question(job: &Job, load: &Load, rigid: Rigid) -> Problem {
    Problem {
        container: load.spaces.first().map(container).unwrap_or_default(),
        items: load
            .parcels
            .iter()
            .map(|p| item(job, load, p, rigid))
            .collect(),
        support: Support::Share(SUPPORT_PCT),
        order: Order::LifoByHand,
    }
}

fn item(job: &Job, load: &Load, parcel: &Parcel, rigid: Rigid) -> Item {
    let sides = sides(parcel);
    let stop = u32::try_from(parcel.needed.max(0)).unwrap_or(u32::MAX);
    let mass_g = parcel.mass_g.unwrap_or(0).clamp(0, HEAVIEST_G);
    if parcel.soft {
        return Item {
            sides: whole_mm(sides),
            turns: if sides[0] <= STANDS * sides[1].max(sides[2]) {
                Turns::ALL
            } else {
                Turns::with_upright([false, true, true])
            },
            squeezed: rungs(job, load, parcel)
                .into_iter()
                .map(|r| r.sides)
                .collect(),
            mass_g,
            stop,
            bears: Bears::OwnKind,
            bridges: false,
        };
    }
    Item {
        sides: whole_mm(sides),
        turns: match rigid {
            _ if upright(job, parcel) => Turns::UPRIGHT,
            Rigid::Steady => steady(load, sides),
            Rigid::Lashed => Turns::ALL,
        },
        squeezed: Vec::new(),
        mass_g,
        stop,
        bears: match (rigid, mass_g) {
            (Rigid::Lashed, _) => Bears::All,
            (Rigid::Steady, 0) => Bears::UpTo(CARRIES_G),
            (Rigid::Steady, known) => Bears::UpTo(CARRIES * known),
        },
        bridges: false,
    }
}

/// How a rigid parcel may stand: so that it does not tip over by itself. One that goes into no vehicle like that has to be lashed, and
/// may stand in any way.
fn steady(load: &Load, sides: [i64; 3]) -> Turns {
    let narrow = |up: usize| (0..3).filter(|i| *i != up).map(|i| sides[i]).min();
    let may = [0, 1, 2].map(|up| narrow(up).is_some_and(|base| sides[up] <= STANDS * base));
    let turns = Turns::with_upright(may);
    let goes_in = |shape: &Triple| {
        load.spaces.iter().any(|space| {
            let inside = [space.length_mm, space.width_mm, space.height_mm];
            (0..3).all(|a| i64::from(shape[a]) <= inside[a])
        })
    };
    if turns.shapes(whole_mm(sides)).iter().any(goes_in) {
        turns
    } else {
        Turns::ALL
    }
}

/// Whether a rigid parcel must not be laid on a side.
pub(super) fn upright(job: &Job, parcel: &Parcel) -> bool {
    let piece = job.pieces.get(&parcel.piece);
    !parcel.soft && piece.is_some_and(|p| p.frame.upright && p.frame.form != FrameForm::Rail)
}

/// The sides of a parcel, mm, none so long that it is a slip of the keyboard.
pub(super) fn sides(parcel: &Parcel) -> [i64; 3] {
    [parcel.length_mm, parcel.width_mm, parcel.height_mm].map(|s| s.clamp(1, LONGEST_MM))
}

/// The same as the solver takes them.
pub(super) fn whole_mm(sides: [i64; 3]) -> Triple {
    sides.map(|s| i32::try_from(s.clamp(1, LONGEST_MM)).unwrap_or(i32::MAX))
}

/// Trips first: the order of the job, bags in their free shape that lie on something; if that takes more trips than need be, those that
/// sink into what is free below them; then squeezed and doubled ones, and these sinking; at last no order, and rigid ones that stand in
/// any way and have to be lashed.
fn answer(problem: &Problem, loosest: &Problem, containers: &[Container], depth: Depth) -> Answer {
    let work = match depth {
        Depth::Final => WORK,
        Depth::Instant | Depth::Preview => SKETCH,
    };
    let gentle = gentle(problem);
    let (gently_sinking, sinking) = (sinking(&gentle), sinking(problem));
    let mut best: Option<Answer> = None;
    for (i, asked) in [&gentle, &gently_sinking, problem, &sinking, loosest]
        .into_iter()
        .enumerate()
    {
        // the question is sound: what is not was left out before
        let Ok(shipping) = ship(asked, containers, work) else {
            continue;
        };
        let trips = shipping.trips.len();
        // what goes in only when it is squeezed is not lost yet
        let done = trips <= shipping.least_trips && (i > 1 || shipping.never.is_empty());
        let better = best.as_ref().is_none_or(|b| {
            (shipping.never.len(), trips) < (b.shipping.never.len(), b.shipping.trips.len())
        });
        if better {
            best = Some(Answer {
                shipping,
                problem: Some(asked.clone()),
                why: None,
            });
        }
        if done {
            break;
        }
    }
    let mut best = best.unwrap_or_default();
    if depth == Depth::Final && containers.len() == 1 && best.shipping.trips.len() > 1 {
        best.why = asked_why(loosest, &best.shipping, containers);
    }
    best
}

/// The same with no bag squeezed.
fn gentle(problem: &Problem) -> Problem {
    let mut gentle = problem.clone();
    for item in &mut gentle.items {
        item.squeezed.clear();
    }
    gentle
}

/// The same with bags that need no more than a touch below them: what hangs over sinks as far as it is free there, and still goes in.
fn sinking(problem: &Problem) -> Problem {
    let mut sinking = problem.clone();
    for item in &mut sinking.items {
        item.bridges = item.bears == Bears::OwnKind;
    }
    sinking
}

/// The same in any order, with bags that sink.
fn loosest(problem: Problem) -> Problem {
    Problem {
        order: Order::Free,
        ..sinking(&problem)
    }
}

/// Why what goes into the vehicle at all does not go into it at once.
fn asked_why(loosest: &Problem, shipping: &Shipping, containers: &[Container]) -> Option<Reason> {
    let mut all = loosest.clone();
    all.container = containers.first()?.clone();
    let mut item = 0;
    all.items.retain(|_| {
        item += 1;
        !shipping.never.contains(&(item - 1))
    });
    why(&all, WORK / 2).ok()?.into_iter().next()
}

/// Puts the places into the parcels and the trips into the load.
fn write(job: &Job, load: &mut Load, asked: &Problem, containers: &[Container], answer: &Answer) {
    let shipping = &answer.shipping;
    load.least_trips = count(shipping.least_trips).max(1);
    load.trips = count(shipping.trips.len()).max(load.least_trips);
    load.stowed = shipping.never.is_empty();
    load.runs = Vec::new();
    let mut rounds = vec![0_i64; containers.len()];
    for (at, trip) in shipping.trips.iter().enumerate() {
        rounds[trip.vehicle] += 1;
        let container = &containers[trip.vehicle];
        let packing = &trip.load;
        debug_assert_eq!(
            faults(answer.problem.as_ref(), container, packing),
            Vec::new(),
            "no rule is broken"
        );
        let out = unloading(asked, packing);
        for (turn, placed) in packing.placed.iter().enumerate() {
            let rung = placed.rung.checked_sub(1).and_then(|rung| {
                rungs(job, load, &load.parcels[placed.item])
                    .into_iter()
                    .nth(rung)
            });
            let [x, y, z] = placed.place.at.map(i64::from);
            let [dx, dy, dz] = placed.place.sides.map(i64::from);
            load.parcels[placed.item].stow = Some(Stow {
                trip: count(at) + 1,
                turn: count(turn) + 1,
                out: out.iter().position(|i| *i == placed.item).map_or(0, count) + 1,
                x_mm: x,
                y_mm: y,
                z_mm: z,
                dx_mm: dx,
                dy_mm: dy,
                dz_mm: dz,
                squeezed_pct: rung.as_ref().map_or(0, |r| r.squeezed_pct),
                folded: rung.is_some_and(|r| r.folded),
            });
        }
        let mut in_order = asked.clone();
        in_order.container = container.clone();
        let code = |item: &usize| load.parcels[*item].code.clone();
        let taken: i64 = packing.placed.iter().map(|p| p.place.volume()).sum();
        load.runs.push(Run {
            trip: count(at) + 1,
            space: i64::try_from(trip.vehicle).unwrap_or(0),
            vehicle: load.spaces[trip.vehicle].name.clone(),
            parcels: count(packing.placed.len()),
            volume_pct: taken * 100 / container.volume().max(1),
            mass_g: packing
                .placed
                .iter()
                .map(|p| asked.items[p.item].mass_g)
                .fold(0, i64::saturating_add),
            unload: out.iter().map(code).collect(),
            set_aside: to_be_moved(&in_order, packing, Order::LifoByHand)
                .iter()
                .map(code)
                .collect(),
        });
    }
    load.rounds = rounds.into_iter().max().unwrap_or(0).max(1);
}

/// What the independent checker finds.
fn faults(problem: Option<&Problem>, container: &Container, packing: &Packing) -> Vec<Violation> {
    problem.map_or_else(Vec::new, |problem| {
        let mut problem = problem.clone();
        problem.container = container.clone();
        check(&problem, packing)
    })
}

/// The order of unloading: what is needed first, as soon as nothing lies on it or before it; else the last that was loaded.
fn unloading(problem: &Problem, packing: &Packing) -> Vec<usize> {
    let mut rest: Vec<_> = packing.placed.iter().rev().collect();
    let mut out = Vec::new();
    while !rest.is_empty() {
        let free = |i: usize| {
            let a = &rest[i].place;
            !rest.iter().enumerate().any(|(j, b)| {
                let b = &b.place;
                let [x, y, z] = [0, 1, 2].map(|axis| a.shared(b, axis) > 0);
                let on_it = x && y && b.at[2] >= a.end(2);
                let before_it = y && z && b.at[0] >= a.end(0);
                j != i && (on_it || before_it)
            })
        };
        let next = (0..rest.len())
            .filter(|i| free(*i))
            .min_by_key(|i| (problem.items[rest[*i].item].stop, *i))
            .unwrap_or(0);
        out.push(rest.remove(next).item);
    }
    out
}

fn count(n: usize) -> i64 {
    i64::try_from(n).unwrap_or(i64::MAX)
}

use super::*;
use crate::loading::types::{Container, Item, Order, Problem, Support, Triple, Turns};

/// A space of 10 x 10 x 10 with items of these sides, all of which stay as they are.
fn problem(sides: &[Triple]) -> Problem {
    Problem {
        container: Container::plain([10, 10, 10]),
        items: sides
            .iter()
            .map(|s| Item::rigid(*s, Turns::FIXED))
            .collect(),
        support: Support::Full,
        order: Order::Free,
    }
}

/// A load of items as they are, in these places.
fn load(problem: &Problem, at: &[Triple]) -> Load {
    let placed: Vec<Placed> = at
        .iter()
        .enumerate()
        .map(|(item, at)| Placed {
            item,
            place: Cuboid {
                at: *at,
                sides: problem.items[item].sides,
            },
            rung: 0,
        })
        .collect();
    let volume = placed.iter().map(|p| p.place.volume()).sum();
    Load { placed, volume }
}

fn found(problem: &Problem, at: &[Triple]) -> Vec<Violation> {
    check(problem, &load(problem, at))
}

#[test]
fn a_clean_load_is_clean() {
    let p = problem(&[[4, 4, 4], [4, 4, 4], [4, 4, 2]]);
    assert_eq!(found(&p, &[[0, 0, 0], [4, 0, 0], [2, 0, 4]]), []);
}

#[test]
fn walls_overlaps_and_what_is_in_the_way() {
    let mut p = problem(&[[4, 4, 4], [4, 4, 4]]);
    assert_eq!(
        found(&p, &[[0, 0, 0], [3, 3, 0]]),
        [Violation::Overlap(0, 1)]
    );
    assert_eq!(found(&p, &[[0, 0, 0], [7, 0, 0]]), [Violation::Outside(1)]);
    assert_eq!(found(&p, &[[0, -1, 0], [4, 4, 0]]), [Violation::Outside(0)]);
    p.container.blocked = vec![Cuboid {
        at: [0, 0, 0],
        sides: [2, 2, 2],
    }];
    assert_eq!(
        found(&p, &[[1, 1, 0], [5, 0, 0]]),
        [Violation::Blocked(0, 0)]
    );
}

#[test]
fn who_is_in_it() {
    let p = problem(&[[4, 4, 4]]);
    let mut twice = load(&p, &[[0, 0, 0]]);
    twice.placed.push(twice.placed[0]);
    assert_eq!(check(&p, &twice), [Violation::Twice(0)]);
    let mut unknown = load(&p, &[[0, 0, 0]]);
    unknown.placed[0].item = 7;
    assert_eq!(check(&p, &unknown), [Violation::NoSuchItem(7)]);
    let mut boasted = load(&p, &[[0, 0, 0]]);
    boasted.volume += 1;
    assert_eq!(check(&p, &boasted), [Violation::WrongVolume(65)]);
}

#[test]
fn turns_and_squeezes() {
    let mut p = problem(&[[2, 3, 4]]);
    let stands = |p: &Problem, sides: Triple, rung: usize| {
        let placed = Placed {
            item: 0,
            place: Cuboid { at: [0; 3], sides },
            rung,
        };
        let load = Load {
            placed: vec![placed],
            volume: 24,
        };
        check(p, &load)
    };
    assert_eq!(stands(&p, [3, 2, 4], 0), [Violation::WrongSides(0)]);
    p.items[0].turns = Turns::UPRIGHT;
    assert_eq!(stands(&p, [3, 2, 4], 0), []);
    assert_eq!(stands(&p, [4, 2, 3], 0), [Violation::WrongSides(0)]);
    p.items[0].turns = Turns::with_upright([false, true, false]);
    assert_eq!(stands(&p, [4, 2, 3], 0), []);
    assert_eq!(stands(&p, [4, 2, 2], 1), [Violation::WrongSides(0)]);
    p.items[0].squeezed = vec![[2, 2, 4]];
    assert_eq!(stands(&p, [4, 2, 2], 1), []);
    assert_eq!(stands(&p, [4, 2, 2], 0), [Violation::WrongSides(0)]);
}

#[test]
fn support_by_share() {
    let mut p = problem(&[[4, 4, 4], [4, 4, 4]]);
    let at = [[0, 0, 0], [1, 0, 4]];
    assert_eq!(found(&p, &at), [Violation::Unsupported(1, 75)]);
    p.support = Support::Share(75);
    assert_eq!(found(&p, &at), []);
    p.support = Support::Share(76);
    assert_eq!(found(&p, &at), [Violation::Unsupported(1, 75)]);
    p.support = Support::None;
    assert_eq!(found(&p, &[[0, 0, 0], [1, 0, 5]]), []);
    p.support = Support::Full;
    assert_eq!(
        found(&p, &[[0, 0, 0], [0, 0, 5]]),
        [Violation::Unsupported(1, 0)]
    );
    p.items[1].bridges = true;
    assert_eq!(found(&p, &at), []);
    assert_eq!(
        found(&p, &[[0, 0, 0], [0, 0, 5]]),
        [Violation::Unsupported(1, 0)],
        "what may bridge still rests on something"
    );
    // the top of what is in the way carries
    p.items[1].bridges = false;
    p.container.blocked = vec![Cuboid {
        at: [6, 0, 0],
        sides: [4, 4, 3],
    }];
    assert_eq!(found(&p, &[[0, 0, 0], [6, 0, 3]]), []);
}

#[test]
fn fragile_ones_carry_nothing_or_their_own_kind() {
    let mut p = problem(&[[4, 4, 4], [4, 4, 4]]);
    let on_top = [[0, 0, 0], [0, 0, 4]];
    p.items[0].bears = Bears::Nothing;
    assert_eq!(found(&p, &on_top), [Violation::OnFragile(1, 0)]);
    p.items[0].bears = Bears::OwnKind;
    assert_eq!(found(&p, &on_top), [Violation::OnFragile(1, 0)]);
    p.items[1].bears = Bears::OwnKind;
    assert_eq!(found(&p, &on_top), []);
    p.items[1].bears = Bears::Nothing;
    assert_eq!(found(&p, &on_top), [Violation::OnFragile(1, 0)]);
}

/// Two boxes side by side share what bridges them by the area of contact; what that carries is handed on.
#[test]
fn weight_is_handed_down_by_area() {
    let mut p = problem(&[[4, 4, 4], [4, 4, 4], [8, 4, 2], [2, 2, 2]]);
    let at = [[0, 0, 0], [4, 0, 0], [0, 0, 4], [0, 0, 6]];
    for (item, mass) in [(2, 1_000), (3, 500)] {
        p.items[item].mass_g = mass;
    }
    p.items[0].bears = Bears::UpTo(750);
    p.items[1].bears = Bears::UpTo(750);
    p.items[2].bears = Bears::UpTo(500);
    assert_eq!(found(&p, &at), []);
    p.items[0].bears = Bears::UpTo(749);
    assert_eq!(found(&p, &at), [Violation::Overloaded(0, 750)]);
    p.items[2].bears = Bears::UpTo(400);
    assert_eq!(
        found(&p, &at),
        [Violation::Overloaded(2, 500), Violation::Overloaded(0, 750)]
    );
}

#[test]
fn weight_and_door() {
    let mut p = problem(&[[4, 6, 4], [4, 4, 4]]);
    p.items[0].mass_g = 600;
    p.items[1].mass_g = 500;
    p.container.payload_g = Some(1_100);
    let at = [[0, 0, 0], [4, 0, 0]];
    assert_eq!(found(&p, &at), []);
    p.container.payload_g = Some(1_099);
    assert_eq!(found(&p, &at), [Violation::TooHeavy(1_100)]);
    p.container.payload_g = None;
    p.container.door = Some([5, 8]);
    assert_eq!(found(&p, &at), [Violation::NotThroughDoor(0)]);
}

#[test]
fn last_in_first_out() {
    let mut p = problem(&[[4, 4, 4], [4, 4, 4]]);
    p.order = Order::Lifo;
    p.items[1].stop = 1;
    let before_the_door = [[0, 0, 0], [5, 0, 0]];
    let beside = [[0, 0, 0], [5, 4, 0]];
    let on_top = [[0, 0, 0], [0, 0, 4]];
    assert_eq!(found(&p, &before_the_door), [Violation::InTheWay(0, 1)]);
    assert_eq!(found(&p, &beside), []);
    assert_eq!(found(&p, &on_top), [Violation::InTheWay(0, 1)]);
    p.support = Support::None;
    let above = [[0, 0, 0], [0, 0, 5]];
    assert_eq!(found(&p, &above), [Violation::InTheWay(0, 1)]);
    p.order = Order::LifoByHand;
    assert_eq!(found(&p, &above), []);
    assert_eq!(found(&p, &on_top), [Violation::InTheWay(0, 1)]);
    assert_eq!(found(&p, &before_the_door), [Violation::InTheWay(0, 1)]);
    p.order = Order::Free;
    assert_eq!(found(&p, &before_the_door), []);
    let load = load(&p, &before_the_door);
    assert_eq!(to_be_moved(&p, &load, Order::Lifo), [1]);
}

#[test]
fn what_carries_is_in_first() {
    let p = problem(&[[4, 4, 4], [4, 4, 4]]);
    assert_eq!(
        found(&p, &[[0, 0, 4], [0, 0, 0]]),
        [Violation::LoadedTooEarly(0)]
    );
}

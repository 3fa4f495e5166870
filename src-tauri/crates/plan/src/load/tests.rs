//! Trips, places, what is in the way; doors in both turns, lifts, squeezed and bent bags.

use super::*;

fn loaded(job: &Job) -> (Load, Vec<Finding>) {
    let known = &mut Stowed::default();
    load(job, &Counted::default(), &[], Depth::Final, known)
}

fn codes(findings: &[Finding]) -> Vec<&str> {
    findings.iter().map(|f| f.code.as_str()).collect()
}

/// The lower bound by volume is two trips for three cubic metres in 2.8; by their sides only one crate of 1 m goes beside another
/// in 1.8 x 1.3 x 1.2 m: none, so there are three.
#[test]
fn the_trips_are_those_of_the_load() {
    let mut job = Job::default();
    let crates = |count| kit("Crate", count, [1000, 1000, 1000]);
    job.kit.insert("k".into(), crates(3));
    let (load, findings) = loaded(&job);
    assert_eq!((load.volume_ml, load.space_ml), (3_000_000, 2_808_000));
    assert_eq!((load.trips, load.least_trips, load.rounds), (3, 3, 3));
    assert!(load.stowed);
    assert_eq!(codes(&findings), ["more_trips"]);
    assert_eq!(
        findings[0].message,
        "Not everything goes into Small van at once: 3 trips. About 1.25 m more length would take it."
    );
    // two of 900 mm stand one behind the other
    job.kit.insert("k".into(), kit("Crate", 2, [900, 900, 900]));
    let (load, findings) = loaded(&job);
    assert_eq!((load.trips, codes(&findings)), (1, vec![]));
    let places: Vec<i64> = load
        .parcels
        .iter()
        .map(|p| p.stow.as_ref().unwrap().x_mm)
        .collect();
    assert_eq!(
        (places.iter().min(), places.iter().max()),
        (Some(&0), Some(&900))
    );
    assert_eq!((load.runs[0].parcels, load.runs[0].volume_pct), (2, 51));
}

/// Two vehicles share it: one trip each, so it takes one round.
#[test]
fn two_vehicles_go_once() {
    let mut job = Job::default();
    job.kit
        .insert("k".into(), kit("Crate", 2, [1000, 1000, 1000]));
    job.vans.insert("v".into(), job::books::Van::default());
    let (load, findings) = loaded(&job);
    assert_eq!((load.trips, load.rounds, load.spaces.len()), (2, 1, 2));
    assert_eq!(load.space_ml, 2 * 2_808_000);
    assert_eq!(codes(&findings), Vec::<&str>::new());
    // each of them needs a driver
    let person = job::site::Crew::default();
    job.crew.insert("a".into(), person.clone());
    assert_eq!(codes(&loaded(&job).1), ["too_few_drivers"]);
    job.crew.insert("b".into(), person);
    assert_eq!(codes(&loaded(&job).1), Vec::<&str>::new());
}

/// Four things of 30 kg in a vehicle that may carry 70 kg: two at a time. One of 80 kg goes into none.
#[test]
fn the_payload_makes_trips() {
    let mut job = Job::default();
    let heavy = |grams, count| Kit {
        mass_g: grams,
        ..kit("Plate", count, [400, 400, 50])
    };
    job.vehicle.payload_g = 70_000;
    job.kit.insert("k".into(), heavy(30_000, 4));
    let (load, findings) = loaded(&job);
    assert_eq!((load.trips, load.least_trips), (2, 2));
    assert_eq!(load.runs[0].mass_g, 60_000);
    assert!(
        findings[0]
            .message
            .ends_with("It is 50 kg too heavy for one."),
        "{findings:?}"
    );
    job.kit.insert("k".into(), heavy(80_000, 1));
    let (load, findings) = loaded(&job);
    assert!(!load.stowed);
    assert_eq!(codes(&findings), ["too_heavy"]);
}

/// A wheel arch on each side leaves 900 mm between them, and nothing wider stands on the floor; 300 mm above they carry.
#[test]
fn wheel_arches_are_in_the_way() {
    let mut job = Job::default();
    let arch = |y_mm| job::site::Blocked {
        x_mm: 600,
        y_mm,
        z_mm: 0,
        length_mm: 700,
        width_mm: 200,
        height_mm: 300,
    };
    job.vehicle.blocked = vec![arch(0), arch(1100)];
    job.kit
        .insert("k".into(), kit("Board", 1, [1700, 900, 900]));
    let (load, _) = loaded(&job);
    let at = load.parcels[0].stow.clone().unwrap();
    assert_eq!((at.y_mm, at.dy_mm, at.z_mm), (200, 900, 0));
    job.kit
        .insert("k".into(), kit("Board", 1, [1700, 1000, 1000]));
    let (load, findings) = loaded(&job);
    assert!(load.passes && !load.stowed);
    assert_eq!(codes(&findings), ["not_stowed"]);
}

/// What is needed first comes out first: nothing that is needed later lies on it or before it.
#[test]
fn what_is_needed_first_is_unloaded_first() {
    let mut job = Job::default();
    job.vehicle.length_mm = 1000;
    job.vehicle.door_width_mm = 1300;
    let bag = |name: &str, needed| Parcel {
        soft: true,
        needed,
        ..hard(name, [1200, 480, 480])
    };
    let mut load = Load {
        parcels: vec![
            hard("Case", [1200, 450, 450]),
            bag("Late", 2),
            bag("Soon", 1),
        ],
        spaces: stow::spaces(&job),
        ..Load::default()
    };
    number(&mut load.parcels);
    stow::stow(&job, &mut load, Depth::Final, &mut Stowed::default());
    assert_eq!(load.runs.len(), 1);
    assert_eq!(load.runs[0].unload, ["C1", "B2", "B1"]);
    assert_eq!(load.runs[0].set_aside, Vec::<String>::new());
    let out: Vec<i64> = load
        .parcels
        .iter()
        .map(|p| p.stow.as_ref().unwrap().out)
        .collect();
    assert_eq!(out, [1, 3, 2]);
    // a case as long as the space and as wide: the bags can only lie on it, and are set aside
    load.parcels[0] = Parcel {
        code: "C1".into(),
        ..hard("Case", [1300, 1000, 600])
    };
    stow::stow(&job, &mut load, Depth::Final, &mut Stowed::default());
    assert_eq!(load.runs.len(), 1);
    assert_eq!(load.runs[0].set_aside, ["B1", "B2"]);
}

/// A bag gives up the corners of the box round it, is pressed, laid flat or doubled over, by no more than its volume allows.
#[test]
fn a_bag_gives_way() {
    let mut job = Job::default();
    // a round bag in a square box, pressed by a tenth
    let bag = |length: i64, width: i64, least_pct: i64| Parcel {
        soft: true,
        volume_ml: length * width * width / 1000 * least_pct / 100,
        ..hard("Bag", [length, width, width])
    };
    let place = |job: &Job, parcel: Parcel| {
        let mut load = Load {
            parcels: vec![parcel],
            spaces: stow::spaces(job),
            ..Load::default()
        };
        stow::stow(job, &mut load, Depth::Final, &mut Stowed::default());
        load.parcels.remove(0).stow
    };
    let straight = place(&job, bag(1700, 500, 90)).unwrap();
    assert_eq!((straight.squeezed_pct, straight.folded), (0, false));
    // half of 2000 and the bend of a bag of 500 mm: 1108 mm, twice as wide; it is not pressed
    let folded = place(&job, bag(2000, 500, 90)).unwrap();
    let mut sides = [folded.dx_mm, folded.dy_mm, folded.dz_mm];
    sides.sort_unstable();
    assert_eq!(
        (folded.folded, folded.squeezed_pct, sides),
        (true, 0, [500, 1000, 1108])
    );
    // 1150 mm in a door of 1200 x 1100 mm: flat by a tenth it is 1035 mm high
    let flat = place(&job, bag(1150, 1150, 90)).unwrap();
    assert_eq!((flat.squeezed_pct, flat.dz_mm), (5, 1093));
    // a round one fills 70.7 % of the box when it is pressed by a tenth, 78.5 % when it is not: half the corners are enough
    let round = place(&job, bag(1150, 1150, 71)).unwrap();
    assert_eq!((round.squeezed_pct, round.dz_mm), (0, 1088));
    job.rules.squeeze_pct = 0;
    assert_eq!(place(&job, bag(1150, 1150, 100)), None);
}

/// 300 x 950 mm goes upright through a door of 900 x 2000 mm, tilted through a hatch of 900 x 940 mm, but not through one of
/// 400 x 940 mm.
#[test]
fn a_frame_turns_to_pass_a_door() {
    let mut job = Job::default();
    job.vehicle = job::site::Vehicle {
        length_mm: 3000,
        door_width_mm: 0,
        ..job.vehicle
    };
    job.kit
        .insert("k".into(), kit("Frame", 1, [2000, 300, 950]));
    let mut at = |width_mm, height_mm| {
        let door = job::site::Door {
            name: "Hatch".into(),
            width_mm,
            height_mm,
            ..Default::default()
        };
        job.doors.insert("d".into(), door);
        loaded(&job).0.parcels[0].stuck.clone()
    };
    assert_eq!(at(900, 2000), None);
    assert_eq!(at(1000, 310), None);
    assert_eq!(at(310, 1000), None);
    assert_eq!(at(900, 940), None, "tilted");
    // the frame is listed as 2000 x 950 x 300 mm
    let stuck = at(400, 940).unwrap();
    assert_eq!((stuck.side.as_str(), stuck.by_mm), ("width", 10));
    assert_eq!(at(0, 0), None, "what is not measured stops nothing");
}

#[test]
fn a_bag_is_squeezed_through_a_door() {
    let mut job = Job::default();
    let mut parcels = [Parcel {
        soft: true,
        ..hard("Bag", [1700, 940, 940])
    }];
    job.doors.insert("d".into(), job::site::Door::default());
    // squeezed by 10 % of its volume a bag of 940 mm is 892 mm wide
    assert_eq!(way::stuck(&job, &mut parcels, &[]), []);
    job.rules.squeeze_pct = 0;
    let found = way::stuck(&job, &mut parcels, &[]);
    assert_eq!(codes(&found), ["too_wide"]);
    assert_eq!(
        found[0].message,
        "Bag (1700 x 940 x 940 mm) does not pass Door without a name (900 x 2000 mm). With 40 mm less in width it would."
    );
}

#[test]
fn what_does_not_pass_names_the_opening() {
    let mut job = Job::default();
    job.doors.insert(
        "d".into(),
        job::site::Door {
            name: "Side door".into(),
            width_mm: 700,
            ..Default::default()
        },
    );
    job.kit
        .insert("k".into(), kit("Crate", 1, [1000, 800, 800]));
    let (load, findings) = loaded(&job);
    assert_eq!(load.parcels[0].stuck_at, "Side door");
    assert!(!load.passes);
    assert_eq!(findings[0].code, "too_wide");
    assert_eq!(
        findings[0].message,
        "Crate (1000 x 800 x 800 mm) does not pass Side door (700 x 2000 mm). With 100 mm less in width it would."
    );
}

/// The frame of the portal engine's own test: 2140 mm high, 40 mm too high for a lift whose door is 2100 mm high; as it comes apart
/// into halves, they pass.
#[test]
fn a_tall_frame_fails_the_lift_and_is_carried_in_two_lengths() {
    let mut job = Job::default();
    job.vehicle = job::site::Vehicle {
        length_mm: 3000,
        ..job.vehicle
    };
    job.doors.insert(
        "l".into(),
        job::site::Door {
            name: "Goods lift".into(),
            kind: job::site::PortalKind::Lift,
            height_mm: 2100,
            car_height_mm: 2200,
            load_g: 300_000,
            ..Default::default()
        },
    );
    let mut piece = Piece {
        name: "Tall frame".into(),
        kind: job::piece::PieceKind::Frame,
        ..Piece::default()
    };
    piece.frame.packed_length_mm = 2140;
    piece.frame.packed_width_mm = 1000;
    piece.frame.packed_height_mm = 80;
    piece.frame.halves = true;
    job.pieces.insert("f".into(), piece);
    let stuck = |job: &Job| {
        let counted = crate::pieces::count(job);
        load(job, &counted, &[], Depth::Final, &mut Stowed::default())
    };
    let (load, findings) = stuck(&job);
    let frame = load.parcels.iter().find(|p| p.piece == "f").unwrap();
    let at = frame.stuck.clone().unwrap();
    assert_eq!(
        (at.door.as_str(), at.by_mm, at.side.as_str()),
        ("l", 40, "length")
    );
    assert_eq!(at.cure, "Carry it in two lengths, or find another way in.");
    let fix = &findings
        .iter()
        .find(|f| f.code == "too_wide")
        .unwrap()
        .fixes[0];
    for edit in &fix.edits {
        let job::Edit::Set { path, value, .. } = edit else {
            panic!("{edit:?}")
        };
        let frame = &mut job.pieces.get_mut("f").unwrap().frame;
        match path[3].as_str() {
            "packed_length_mm" => frame.packed_length_mm = value.as_i64().unwrap(),
            "packed_height_mm" => frame.packed_height_mm = value.as_i64().unwrap(),
            _ => frame.halves = false,
        }
    }
    assert!(stuck(&job).0.passes);
    // if it must not be stood on edge, it is 1000 mm wide before a door of 900 mm
    job.pieces.get_mut("f").unwrap().frame.upright = true;
    let at = stuck(&job).0.parcels[0].stuck.clone().unwrap();
    assert_eq!((at.side.as_str(), at.by_mm), ("width", 100));
    job.pieces.get_mut("f").unwrap().frame.upright = false;
    // what is heavier than the lift carries
    job.pieces.get_mut("f").unwrap().frame.mass_g = 301_000;
    let codes: Vec<String> = stuck(&job).1.into_iter().map(|f| f.code).collect();
    assert_eq!(codes, ["too_heavy_for_lift", "lift_rides"]);
}

/// A bag 560 mm wide may lie bent along two sides of 1800 and 1300 mm: squeezed to 531 mm it may be 2569 mm long. In a hatchback of
/// 1000 x 900 x 700 mm there is room for 1369 mm.
#[test]
fn a_bag_lies_bent_once_but_no_more() {
    let mut job = Job::default();
    let bag = |length| Parcel {
        soft: true,
        ..hard("Bag", [length, 560, 560])
    };
    let small = [1800, 1300, 1200];
    assert_eq!(way::outside(&job, &bag(2560), small), None);
    assert_eq!(way::outside(&job, &bag(2580), small), Some(("length", 12)));
    // a frame does not bend
    assert_eq!(
        way::outside(&job, &hard("Frame", [1800, 560, 560]), small),
        None
    );
    assert_eq!(
        way::outside(&job, &hard("Frame", [1810, 560, 560]), small),
        Some(("length", 10))
    );
    job.vehicle = job::site::Vehicle {
        name: "Hatchback".into(),
        length_mm: 900,
        width_mm: 1000,
        height_mm: 700,
        door_width_mm: 1000,
        door_height_mm: 650,
        ..Default::default()
    };
    let at = |length| {
        let mut load = Load {
            parcels: vec![bag(length)],
            spaces: stow::spaces(&job),
            ..Load::default()
        };
        let said = way::stuck(&job, &mut load.parcels, &load.spaces);
        stow::stow(&job, &mut load, Depth::Final, &mut Stowed::default());
        (load.parcels.remove(0).stow, said)
    };
    // it lies in a box as long and as wide as its bend
    let (place, said) = at(1360);
    let place = place.unwrap();
    assert_eq!(said, []);
    assert_eq!((place.dx_mm.max(place.dy_mm), place.folded), (1000, true));
    let (place, said) = at(1380);
    assert_eq!(place, None);
    assert_eq!(
        said[0].message,
        "Bag (1380 x 560 x 560 mm) does not go into Hatchback (900 x 1000 x 700 mm). With 12 mm less in length it would."
    );
}

fn kit(name: &str, count: i64, sides: [i64; 3]) -> Kit {
    Kit {
        name: name.into(),
        count,
        length_mm: sides[0],
        width_mm: sides[1],
        height_mm: sides[2],
        ..Kit::default()
    }
}

#[test]
fn small_things_of_the_kit_go_into_the_case_of_spares() {
    let mut job = Job::default();
    job.kit
        .insert("a".into(), kit("Ladder", 2, [1700, 500, 150]));
    job.kit.insert("b".into(), kit("Scissors", 3, [0, 0, 0]));
    let stays = Kit {
        stays: true,
        ..kit("Bench", 1, [2000, 800, 900])
    };
    job.kit.insert("c".into(), stays);
    let (load, findings) = loaded(&job);
    assert_eq!(findings, []);
    let listed: Vec<_> = load
        .parcels
        .iter()
        .map(|p| (p.code.as_str(), p.name.as_str(), p.kit.as_str()))
        .collect();
    assert_eq!(
        listed,
        [
            ("C1", "Spares and sundries", ""),
            ("C2", "Ladder 1 of 2", "a"),
            ("C3", "Ladder 2 of 2", "a")
        ]
    );
    assert_eq!(load.parcels[0].holds, [packed("Scissors", 3, "", true)]);
}

#[test]
fn more_than_can_be_listed_is_said() {
    let mut job = Job::default();
    job.kit
        .insert("a".into(), kit("Plate", 4000, [700, 700, 1]));
    job.kit
        .insert("b".into(), kit("Rod", i64::MAX, [1300, 1250, 1200]));
    let (load, findings) = loaded(&job);
    assert_eq!(load.parcels.len(), MOST_PARCELS);
    assert!(!load.passes);
    let stuck = load.parcels.iter().filter(|p| !p.stuck_at.is_empty());
    assert_eq!(stuck.count(), 1000);
    let codes: Vec<&str> = findings.iter().map(|f| f.code.as_str()).collect();
    assert_eq!(codes[0], "too_many_parcels");
    assert_eq!(
        codes.iter().filter(|c| **c == "too_wide").count(),
        way::MOST_STUCK
    );
    assert!(
        findings[way::MOST_STUCK]
            .message
            .ends_with("The same holds for 988 more."),
        "{findings:?}"
    );
    assert_eq!(findings[1].path, ["vehicle"]);
}

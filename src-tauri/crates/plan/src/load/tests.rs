//! Doors in both turns, squeezed bags, the load space, the volume bound.

use super::*;

#[test]
fn a_frame_turns_to_pass_a_door() {
    let mut job = Job::default();
    let frame = hard("Frame", [2000, 300, 950]);
    // 300 x 950 mm goes upright through a door of 900 x 2000 mm, but through no hatch of 900 x 940 mm
    assert!(passes(&job, &frame, [900, 2000]));
    assert!(!passes(&job, &frame, [900, 940]));
    assert!(passes(&job, &frame, [1000, 310]));
    assert!(passes(&job, &frame, [310, 1000]));
    let bag = Parcel {
        soft: true,
        ..hard("Bag", [2000, 940, 940])
    };
    // squeezed by 10 % of its volume a bag of 940 mm is 892 mm wide
    assert!(passes(&job, &bag, [900, 2000]));
    job.rules.squeeze_pct = 0;
    assert!(!passes(&job, &bag, [900, 2000]));
}

#[test]
fn the_volume_bound_counts_trips() {
    let mut job = Job::default();
    assert_eq!(space(&job), 2_808_000);
    job.kit.insert(
        "k".into(),
        Kit {
            name: "Crate".into(),
            length_mm: 1000,
            width_mm: 1000,
            height_mm: 1000,
            count: 3,
            ..Kit::default()
        },
    );
    let (load, findings) = load(&job, &Counted::default(), &[]);
    assert_eq!(
        (load.volume_ml, load.trips, load.parcels.len()),
        (3_000_000, 2, 3)
    );
    assert_eq!(
        findings.iter().map(|f| f.code.as_str()).collect::<Vec<_>>(),
        ["two_trips"]
    );
    job.kit.insert(
        "k".into(),
        Kit {
            name: "Crate".into(),
            length_mm: 1000,
            width_mm: 1000,
            height_mm: 1000,
            count: 2,
            ..Kit::default()
        },
    );
    assert_eq!(super::load(&job, &Counted::default(), &[]).1, []);
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
    job.kit.insert(
        "k".into(),
        Kit {
            name: "Crate".into(),
            length_mm: 1000,
            width_mm: 800,
            height_mm: 800,
            ..Kit::default()
        },
    );
    let (load, findings) = load(&job, &Counted::default(), &[]);
    assert_eq!(load.parcels[0].stuck_at, "Side door");
    assert!(!load.passes);
    assert_eq!(findings[0].code, "too_wide");
    assert_eq!(
        findings[0].message,
        "Crate (800 x 800 mm) does not pass Side door (700 x 2000 mm)."
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

/// A bag 560 mm wide may lie bent along two sides of 1800 and 1300 mm: squeezed to 531 mm it may be 2569 mm long. In a hatchback of
/// 1000 x 900 x 700 mm there is room for 1369 mm.
#[test]
fn a_bag_lies_bent_once_but_no_more() {
    let mut job = Job::default();
    let bag = |length| Parcel {
        soft: true,
        ..hard("Bag", [length, 560, 560])
    };
    assert!(lies_within(&job, &bag(2560)));
    assert!(!lies_within(&job, &bag(2580)));
    // a frame does not bend
    assert!(lies_within(&job, &hard("Frame", [1800, 560, 560])));
    assert!(!lies_within(&job, &hard("Frame", [1810, 560, 560])));
    job.vehicle = job::site::Vehicle {
        name: "Hatchback".into(),
        length_mm: 900,
        width_mm: 1000,
        height_mm: 700,
        door_width_mm: 1000,
        door_height_mm: 650,
        ..Default::default()
    };
    assert!(lies_within(&job, &bag(1360)));
    assert!(!lies_within(&job, &bag(1380)));
    let said = too_long(&job, &bag(1380));
    assert_eq!(
        said.message,
        "Bag (1380 x 560 x 560 mm) does not go into Hatchback."
    );
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
    let (load, findings) = load(&job, &Counted::default(), &[]);
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
    let (load, findings) = load(&job, &Counted::default(), &[]);
    assert_eq!(load.parcels.len(), MOST_PARCELS);
    assert!(!load.passes);
    let stuck = load.parcels.iter().filter(|p| !p.stuck_at.is_empty());
    assert_eq!(stuck.count(), 1000);
    let codes: Vec<&str> = findings.iter().map(|f| f.code.as_str()).collect();
    assert_eq!(codes[0], "too_many_parcels");
    assert_eq!(
        codes.iter().filter(|c| **c == "too_wide").count(),
        MOST_STUCK
    );
    assert!(
        findings[MOST_STUCK]
            .message
            .ends_with("The same holds for 988 more."),
        "{findings:?}"
    );
    assert_eq!(findings[1].path, ["vehicle"]);
}

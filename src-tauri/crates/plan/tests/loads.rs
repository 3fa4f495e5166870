//! Where things lie in their vehicles: every load keeps its rules, judged here from the plan alone; and the demo as a decorator loads it.
#![expect(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use job::books::Van;
use job::defaults::starting_books;
use job::demo::demo;
use job::piece::{BlownAt, Piece, PieceKind};
use job::site::{Blocked, Door, Kit, KitKind, PortalKind, Vehicle};
use job::{Edit, Job};
use plan::load::Stowed;
use plan::load::choice::choices;
use plan::types::{Load, Parcel, Space, Stow};
use plan::{Depth, Memory, plan_at};
use proptest::prelude::*;

/// Share of a base that must lie on something, percent.
const SUPPORT_PCT: i64 = 75;

fn sides(s: &Stow) -> [i64; 3] {
    [s.dx_mm, s.dy_mm, s.dz_mm]
}

fn at(s: &Stow) -> [i64; 3] {
    [s.x_mm, s.y_mm, s.z_mm]
}

fn shared(a: ([i64; 3], [i64; 3]), b: ([i64; 3], [i64; 3]), axis: usize) -> i64 {
    (a.0[axis] + a.1[axis]).min(b.0[axis] + b.1[axis]) - a.0[axis].max(b.0[axis])
}

/// What is wrong with a load, in words: written anew from what a plan says, without the solver's own checker.
fn faults(load: &Load) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut say = |bad: bool, what: String| {
        if bad {
            wrong.push(what);
        }
    };
    for run in &load.runs {
        let space = &load.spaces[usize::try_from(run.space).unwrap()];
        let mut inside: Vec<(&Parcel, &Stow)> = load
            .parcels
            .iter()
            .filter_map(|p| Some((p, p.stow.as_ref()?)))
            .filter(|(_, s)| s.trip == run.trip)
            .collect();
        inside.sort_by_key(|(_, s)| s.turn);
        let n = i64::try_from(inside.len()).unwrap();
        say(run.parcels != n, format!("trip {}: {n} parcels", run.trip));
        let turns: Vec<i64> = inside.iter().map(|(_, s)| s.turn).collect();
        say(
            turns != (1..=n).collect::<Vec<_>>(),
            format!("turns {turns:?}"),
        );
        let mass: i64 = inside.iter().filter_map(|(p, _)| p.mass_g).sum();
        say(mass != run.mass_g, format!("mass {mass}"));
        say(
            space.payload_g > 0 && mass > space.payload_g,
            "too heavy".into(),
        );
        for (i, (parcel, stow)) in inside.iter().enumerate() {
            for fault in alone(parcel, stow, space) {
                say(true, format!("{}: {fault}", parcel.code));
            }
            let me = (at(stow), sides(stow));
            let mut on = 0;
            for (j, (other, there)) in inside.iter().enumerate().filter(|(j, _)| *j != i) {
                let it = (at(there), sides(there));
                let over = [0, 1, 2].map(|axis| shared(me, it, axis) > 0);
                say(
                    over == [true; 3],
                    format!("{} in {}", parcel.code, other.code),
                );
                if it.0[2] + it.1[2] == me.0[2] && over[0] && over[1] {
                    on += shared(me, it, 0) * shared(me, it, 1);
                    let hard_on_bag = other.soft && !parcel.soft;
                    say(
                        hard_on_bag,
                        format!("{} on bag {}", parcel.code, other.code),
                    );
                    say(
                        j > i,
                        format!("{} before {} below it", parcel.code, other.code),
                    );
                }
            }
            for b in &space.blocked {
                let it = (
                    [b.x_mm, b.y_mm, b.z_mm],
                    [b.length_mm, b.width_mm, b.height_mm],
                );
                if it.0[2] + it.1[2] == me.0[2] {
                    on += shared(me, it, 0).max(0) * shared(me, it, 1).max(0);
                }
            }
            // a bag may sink into what is free below it, but it lies on something
            let base = stow.dx_mm * stow.dy_mm;
            let enough = if parcel.soft {
                on > 0
            } else {
                on * 100 >= base * SUPPORT_PCT
            };
            say(
                stow.z_mm > 0 && !enough,
                format!("{} hangs in the air", parcel.code),
            );
        }
        let mut out: Vec<&str> = run.unload.iter().map(String::as_str).collect();
        let mut codes: Vec<&str> = inside.iter().map(|(p, _)| p.code.as_str()).collect();
        out.sort_unstable();
        codes.sort_unstable();
        say(out != codes, "what comes out is not what went in".into());
    }
    let left = load.parcels.iter().filter(|p| p.stow.is_none()).count();
    say(
        load.stowed != (left == 0),
        format!("{left} without a place"),
    );
    wrong
}

/// Walls, door, what is in the way, and the shape of one parcel.
fn alone(parcel: &Parcel, stow: &Stow, space: &Space) -> Vec<String> {
    let mut wrong = Vec::new();
    let inner = [space.length_mm, space.width_mm, space.height_mm];
    let me = (at(stow), sides(stow));
    if (0..3).any(|a| me.0[a] < 0 || me.0[a] + me.1[a] > inner[a]) {
        wrong.push("sticks out".into());
    }
    let door = space.door_width_mm > 0 && space.door_height_mm > 0;
    if door && (stow.dy_mm > space.door_width_mm || stow.dz_mm > space.door_height_mm) {
        wrong.push("does not go through the door as it lies".into());
    }
    for b in &space.blocked {
        let it = (
            [b.x_mm, b.y_mm, b.z_mm],
            [b.length_mm, b.width_mm, b.height_mm],
        );
        if (0..3).all(|a| shared(me, it, a) > 0) {
            wrong.push("stands in what is in the way".into());
        }
    }
    let (mut is, mut free) = (
        me.1,
        [parcel.length_mm, parcel.width_mm, parcel.height_mm].map(|s| s.clamp(1, 20_000)),
    );
    let volume = |sides: [i64; 3]| sides.iter().map(|s| *s as f64).product::<f64>();
    if parcel.soft {
        // to the millimetre of its sides a bag takes at least the volume that it is reckoned with, and no more than the box round it but for a bend
        let least = parcel.volume_ml as f64 * 1000.0;
        if volume(is) < least * 0.99 || (!stow.folded && volume(is) > volume(free)) {
            wrong.push(format!("squeezed to {is:?}"));
        }
        return wrong;
    }
    is.sort_unstable();
    free.sort_unstable();
    if is != free {
        wrong.push(format!("is {is:?}, not {free:?}"));
    }
    wrong
}

fn kit(name: &str, sides: [i64; 3], count: i64, mass_g: i64) -> Kit {
    Kit {
        name: name.into(),
        length_mm: sides[0],
        width_mm: sides[1],
        height_mm: sides[2],
        count,
        mass_g,
        ..Kit::default()
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(8))]

    /// Random vehicles, kit, wheel arches, payloads and carry lengths: whatever is placed is placed by the rules.
    #[test]
    fn every_load_keeps_its_rules(
        space in [900..4_000i64, 900..1_900i64, 700..2_000i64],
        door in [600..1_600i64, 600..1_700i64],
        payload_g in prop_oneof![Just(0), 20_000..400_000i64],
        second in any::<bool>(),
        arches in any::<bool>(),
        kits in prop::collection::vec(([100..1_800i64, 100..900i64, 50..700i64], 1..5i64, 0..40_000i64), 0..6),
        length_mm in 600..3_000i64,
        squeeze_pct in 0..30i64,
        upright in any::<bool>(),
        at_venue in any::<bool>(),
    ) {
        let (mut job, _) = demo(&starting_books(), "2027-06-12");
        let arch = |y_mm| Blocked { x_mm: 300, y_mm, z_mm: 0, length_mm: 600, width_mm: 180, height_mm: 250 };
        job.vehicle = Vehicle {
            name: "Van".into(),
            length_mm: space[0],
            width_mm: space[1],
            height_mm: space[2],
            door_width_mm: door[0],
            door_height_mm: door[1],
            payload_g,
            blocked: if arches { vec![arch(0), arch(space[1] - 180)] } else { Vec::new() },
        };
        if second {
            job.vans.insert("second".into(), Van::default());
        }
        for (i, (sides, count, mass_g)) in kits.into_iter().enumerate() {
            job.kit.insert(format!("x{i}"), kit("Thing", sides, count, mass_g));
        }
        job.rules.length_mm = length_mm;
        job.rules.squeeze_pct = squeeze_pct;
        job.pieces.get_mut("frame").unwrap().frame.upright = upright;
        if at_venue {
            job.pieces.get_mut("arch").unwrap().blown_at = BlownAt::Venue;
        }
        let counted = plan::pieces::count(&job);
        let load = |depth| plan::load::load(&job, &counted, &[], depth, &mut Stowed::default()).0;
        for depth in [Depth::Preview, Depth::Final] {
            let load = load(depth);
            prop_assert_eq!(faults(&load), Vec::<String>::new());
            prop_assert!(load.trips >= load.least_trips);
        }
    }
}

/// The judge itself: each of these changes is a fault.
#[test]
fn faults_are_found() {
    let (job, _) = demo(&starting_books(), "2027-06-12");
    let counted = plan::pieces::count(&job);
    let load = plan::load::load(&job, &counted, &[], Depth::Final, &mut Stowed::default()).0;
    assert_eq!(faults(&load), Vec::<String>::new());
    let spoil = |change: &dyn Fn(&mut Load)| {
        let mut spoiled = load.clone();
        change(&mut spoiled);
        assert_ne!(faults(&spoiled), Vec::<String>::new());
    };
    spoil(&|l| l.parcels[0].stow.as_mut().unwrap().x_mm = -1);
    spoil(&|l| l.parcels[0].stow.as_mut().unwrap().dx_mm += 1);
    spoil(&|l| l.parcels[0].stow = l.parcels[1].stow.clone());
    spoil(&|l| l.parcels[0].stow = None);
    spoil(&|l| l.parcels[0].stow.as_mut().unwrap().z_mm += 1);
    spoil(&|l| l.runs[0].mass_g += 1);
    spoil(&|l| l.spaces[0].door_height_mm = 50);
    spoil(&|l| l.spaces[0].payload_g = 1);
    spoil(&|l| drop(l.runs[0].unload.pop()));
}

/// Sets fields of a job as a cure of a finding does.
fn cured(job: &Job, edits: &[Edit]) -> Job {
    let mut doc = serde_json::to_value(job).unwrap();
    for edit in edits {
        let Edit::Set { path, value, .. } = edit else {
            panic!("{edit:?}")
        };
        let mut at = &mut doc;
        for key in path {
            at = &mut at[key];
        }
        *at = value.clone();
    }
    serde_json::from_value(doc).unwrap()
}

fn codes(plan: &plan::Plan) -> Vec<&str> {
    let here = plan.findings.iter().filter(|f| f.room == job::Room::Load);
    here.map(|f| f.code.as_str()).collect()
}

/// The demo goes into its long van at once, through both doors and the lift, which has to go twice.
#[test]
fn the_demo_goes_in_at_once() {
    let (job, private) = demo(&starting_books(), "2027-06-12");
    let plan = plan::plan(&job, Some(&private));
    assert_eq!(codes(&plan), ["lift_rides"]);
    assert!(plan.load.stowed && plan.load.passes);
    assert_eq!((plan.load.trips, plan.load.runs.len()), (1, 1));
    assert_eq!(plan.load.runs[0].set_aside, Vec::<String>::new());
    assert_eq!(plan::plan(&job, Some(&private)).load, plan.load);
    // a garland of the arch was once doubled over, though more than half of the space was free
    let stows = plan.load.parcels.iter().filter_map(|p| p.stow.as_ref());
    assert!(plan.load.runs[0].volume_pct < 50);
    assert_eq!(stows.filter(|s| s.folded || s.squeezed_pct > 0).count(), 0);
    // while a slider moves it says the same
    let quick = plan_at(&job, Some(&private), Depth::Preview, &mut Memory::default());
    assert!(quick.load.stowed);
    assert_eq!(quick.load.trips, 1);
}

/// Ballast plates once stood on edge, one on the other, and a ladder on its end: the first hard braking would have tipped them.
#[test]
fn rigid_parcels_stand_so_that_they_do_not_tip() {
    let (mut job, private) = demo(&starting_books(), "2027-06-12");
    let tips = |plan: &plan::Plan| {
        let stood = plan.load.parcels.iter().filter(|p| !p.soft);
        stood
            .filter_map(|p| Some((p.code.clone(), p.stow.as_ref()?)))
            .filter(|(_, s)| s.dz_mm > 2 * s.dx_mm.min(s.dy_mm))
            .map(|(code, _)| code)
            .collect::<Vec<_>>()
    };
    let plan = plan::plan(&job, Some(&private));
    assert_eq!(tips(&plan), Vec::<String>::new());
    // and what is heavy stands low: no case carries more than three times its weight, or 10 kg where it is not known
    let rigid = || {
        let stood = plan.load.parcels.iter().filter(|p| !p.soft);
        stood.filter_map(|p| Some((p, p.stow.as_ref()?)))
    };
    for (below, b) in rigid() {
        let on_it = rigid().filter(|(_, a)| {
            let [a, b] = [(at(a), sides(a)), (at(b), sides(b))];
            a.0[2] == b.0[2] + b.1[2] && (0..2).all(|axis| shared(a, b, axis) > 0)
        });
        let mass: i64 = on_it.filter_map(|(p, _)| p.mass_g).sum();
        let most = below.mass_g.map_or(10_000, |own| 3 * own);
        assert!(mass <= most, "{} carries {mass} g", below.code);
    }
    // a pole that is longer than the floor goes in on its end all the same, to be lashed
    job.kit.clear();
    job.pieces.clear();
    job.vehicle = Vehicle {
        length_mm: 1000,
        width_mm: 1000,
        height_mm: 2000,
        door_width_mm: 1000,
        door_height_mm: 2000,
        ..Vehicle::default()
    };
    job.kit
        .insert("p".into(), kit("Pole", [1900, 100, 100], 1, 2000));
    let plan = plan::plan(&job, Some(&private));
    assert!(plan.load.stowed);
    assert_eq!(tips(&plan).len(), 1);
}

/// The same in a small van, with a tall frame: it fails the lift by centimetres and is told the cure; the rest takes two trips, which
/// cost their miles; blown at the venue it takes one.
#[test]
fn the_demo_in_a_small_van() {
    let books = starting_books();
    let (mut job, private) = demo(&books, "2027-06-12");
    let once = plan::plan(&job, Some(&private));
    job.vehicle = books.vehicles["smallvan"].vehicle.clone();
    let mut tall = Piece {
        name: "Sign frame".into(),
        kind: PieceKind::Frame,
        order: "9080".into(),
        ..Piece::default()
    };
    tall.frame.packed_length_mm = 1390;
    tall.frame.packed_width_mm = 920;
    tall.frame.packed_height_mm = 60;
    tall.frame.upright = true;
    tall.frame.halves = true;
    job.pieces.insert("sign".into(), tall);
    let plan = plan::plan(&job, Some(&private));
    let frame = plan
        .load
        .parcels
        .iter()
        .find(|p| p.piece == "sign")
        .unwrap();
    let stuck = frame.stuck.clone().unwrap();
    assert_eq!(
        (stuck.name.as_str(), stuck.kind),
        ("Goods lift", Some(PortalKind::Lift))
    );
    assert_eq!((stuck.side.as_str(), stuck.by_mm), ("width", 20));
    assert!(stuck.cure.starts_with("Carry it in two lengths"));
    let told = plan.findings.iter().find(|f| f.code == "too_wide").unwrap();
    job = cured(&job, &told.fixes[0].edits);
    let plan = plan::plan(&job, Some(&private));
    assert!(plan.load.passes, "{:?}", codes(&plan));
    assert_eq!(plan.load.trips, 2);
    // whether something is set aside on the way out hangs on the bags' last centimetres
    let mut told = codes(&plan);
    told.retain(|code| *code != "set_aside");
    assert_eq!(told, ["more_trips", "lift_rides"]);
    assert!(plan.load.stowed);
    assert!(plan.price.unwrap().gross_cents > once.price.unwrap().gross_cents);
    assert_eq!(faults(&plan.load), Vec::<String>::new());
    let told = plan
        .findings
        .iter()
        .find(|f| f.code == "more_trips")
        .unwrap();
    assert_eq!(told.fixes[0].label, "Blow Jetty arch at the venue");
    job = cured(&job, &told.fixes[0].edits);
    let plan = plan::plan(&job, Some(&private));
    assert_eq!(plan.load.trips, 1);
    assert!(plan.load.stowed && !codes(&plan).contains(&"more_trips"));
    // what blows it has to go along
    for kit in job.kit.values_mut() {
        kit.stays |= matches!(kit.kind, KitKind::Inflator | KitKind::Pump);
    }
    let plan = plan::plan(&job, Some(&private));
    let told = plan.findings.iter().find(|f| f.code == "no_inflator_there");
    let cure = &told.unwrap().fixes[0];
    assert_eq!(cure.label, "Take along Two-nozzle inflator");
    job = cured(&job, &cure.edits);
    let plan = plan::plan(&job, Some(&private));
    assert!(!codes(&plan).contains(&"no_inflator_there"));
}

/// A wide way: a corner of two corridors of 1 m lets a board of 2028 x 400 mm round, upright, and not one of 2029 (the portal
/// engine's own figures).
#[test]
fn a_board_round_a_corner() {
    let mut job = Job::default();
    job.vehicle.length_mm = 3000;
    job.doors.insert(
        "c".into(),
        Door {
            name: "Corner".into(),
            kind: PortalKind::Corner,
            width_mm: 1000,
            second_mm: 1000,
            ..Door::default()
        },
    );
    let mut board = |length| {
        let mut piece = Piece {
            kind: PieceKind::Frame,
            ..Piece::default()
        };
        piece.frame.packed_length_mm = length;
        piece.frame.packed_width_mm = 400;
        piece.frame.packed_height_mm = 500;
        piece.frame.upright = true;
        job.pieces.insert("b".into(), piece);
        let counted = plan::pieces::count(&job);
        let load = plan::load::load(&job, &counted, &[], Depth::Final, &mut Stowed::default()).0;
        load.parcels[0].stuck.clone().map(|s| (s.side, s.by_mm))
    };
    assert_eq!(board(2028), None);
    assert_eq!(board(2029), Some(("length".into(), 1)));
}

/// Blown at the venue a piece takes no room but work there, and is younger when the guests come. The figures of the way that the job
/// has are those of its plan.
#[test]
fn blown_here_or_there() {
    let (job, private) = demo(&starting_books(), "2027-06-12");
    let mut memory = Memory::default();
    let all = choices(&job, Some(&private), Depth::Preview, &mut memory);
    let pieces: Vec<&str> = all.iter().map(|c| c.piece.as_str()).collect();
    assert_eq!(pieces, ["arch", "bar", "loft"]);
    let plan = plan_at(&job, Some(&private), Depth::Preview, &mut memory);
    for choice in &all {
        let [here, there] = &choice.ways[..] else {
            panic!("{choice:?}")
        };
        assert_eq!(
            (choice.now, here.at, there.at),
            (BlownAt::Studio, BlownAt::Studio, BlownAt::Venue)
        );
        assert_eq!(here.edits, []);
        assert_eq!(
            (here.volume_ml, here.price_cents),
            (plan.load.volume_ml, plan.figures.price_cents)
        );
        assert_eq!(there.piece_ml, 0);
        assert_eq!(here.volume_ml - here.piece_ml, there.volume_ml);
        assert!(there.studio_s < here.studio_s, "{choice:?}");
        assert!(there.venue_s > here.venue_s, "{choice:?}");
        assert!(there.age_s < here.age_s, "{choice:?}");
        assert_eq!(
            cured(&job, &there.edits).pieces[&choice.piece].blown_at,
            BlownAt::Venue
        );
    }
    assert_eq!((all[0].ways[0].inflators, all[0].ways[1].inflators), (0, 1));
}

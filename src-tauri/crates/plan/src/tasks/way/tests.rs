use super::*;
use crate::pieces::count_at;
use crate::tasks::tasks;
use crate::types::{Parcel, Task};
use crate::{Depth, Memory};
use job::site::{Crew, Door};

/// Carrying in of 4000 L in 20 bags, 45 s each and no way to walk, by so many people, through these lifts.
fn carry(people: usize, lifts: &[Door]) -> Task {
    let mut job = Job::default();
    job.venue.walk_m = 0;
    job.pieces.insert("p".into(), job::piece::Piece::default());
    for n in 0..people {
        job.crew.insert(format!("p{n}"), Crew::default());
    }
    for (n, lift) in lifts.iter().enumerate() {
        job.doors.insert(format!("l{n}"), lift.clone());
    }
    let counted = count_at(&job, Depth::Instant, &mut Memory::default());
    let load = Load {
        parcels: vec![Parcel::default(); 20],
        volume_ml: 4_000_000,
        mass_g: 250_000,
        ..Load::default()
    };
    let all = tasks(&job, &counted, &load);
    let mut carry = all.into_iter().map(|p| p.task).filter(|t| t.id == "carry");
    carry.next().unwrap()
}

fn lift(car_mm: [i64; 3], load_g: i64) -> Door {
    Door {
        kind: PortalKind::Lift,
        car_width_mm: car_mm[0],
        car_depth_mm: car_mm[1],
        car_height_mm: car_mm[2],
        load_g,
        ..Door::default()
    }
}

/// 20 bags are 900 s. A car of 1000 x 1250 x 2000 mm holds 2500 L, of which 60 % are 1500: 4000 L go in three rides of 60 s, 1080 s in all.
/// One that carries 60 kg goes five times with 250 kg: 1200 s. Both, one after the other: eight rides, 1380 s.
#[test]
fn what_fits_in_the_car_says_how_often_it_goes() {
    let terms = |t: &Task| -> Vec<(String, i64)> {
        let terms = t.terms.iter();
        terms.map(|t| (t.label.clone(), t.value)).collect()
    };
    let (room, strong) = (lift([1000, 1250, 2000], 0), lift([0, 0, 0], 60_000));
    for (lifts, work_s, rides) in [
        (vec![], 900, None),
        (vec![room.clone()], 1080, Some(("3 rides in a lift", 180))),
        (vec![strong.clone()], 1200, Some(("5 rides in a lift", 300))),
        (vec![room, strong], 1380, Some(("8 rides in a lift", 480))),
        // nothing is known of it: it goes once
        (vec![lift([0; 3], 0)], 960, Some(("1 ride in a lift", 60))),
    ] {
        let task = carry(1, &lifts);
        assert_eq!((task.work_s, task.duration_s), (work_s, work_s));
        let mut expected = vec![("20 bags or cases".to_string(), 900)];
        expected.extend(rides.map(|(label, s)| (label.to_string(), s)));
        assert_eq!(terms(&task), expected);
    }
}

/// Two share 1080 s. Twelve would have them done in 90 s, but the lift goes three times for a minute.
#[test]
fn more_people_do_not_make_the_lift_faster() {
    let room = [lift([1000, 1250, 2000], 0)];
    assert_eq!(carry(2, &room).duration_s, 540);
    let many = carry(12, &room);
    assert_eq!((many.work_s, many.duration_s), (1080, 180));
    let ways: Vec<(i64, i64)> = many.ways.iter().map(|w| (w.people, w.duration_s)).collect();
    assert_eq!(ways[..3], [(1, 1080), (2, 540), (3, 360)]);
    assert_eq!(ways[11], (12, 180));
}

use super::*;
use crate::pieces::count_at;
use crate::types::Phase;
use crate::{Depth, Memory};
use job::piece::{Chain, Piece, PieceKind, Shade};
use job::pin::{Team, pin_id};
use job::set_piece::Floaters;
use job::site::Crew;
use job::stock::Colour;
use proptest::prelude::*;

/// A garland blown at the venue by people who have an inflator each: two blow it at once, each with one, and nothing stands in the
/// plan before the load-in. With one inflator one person blows it, whoever stands by.
#[test]
fn as_many_blow_a_piece_as_there_are_inflators() {
    use job::site::{Kit, KitKind};
    let mut job = job::demo::demo(&job::defaults::starting_books(), "2027-06-12").0;
    job.pieces.retain(|id, _| id == "bar");
    job.pieces.get_mut("bar").unwrap().blown_at = job::piece::BlownAt::Venue;
    let inflators = |job: &mut Job, count| {
        for kit in job.kit.values_mut().filter(|k| k.kind == KitKind::Inflator) {
            kit.gone = true;
        }
        let kit = Kit {
            kind: KitKind::Inflator,
            count,
            ..Kit::default()
        };
        job.kit.insert("blow".into(), kit);
    };
    let late = |plan: &crate::Plan| plan.figures.slack_s.unwrap();
    inflators(&mut job, 1);
    let one = crate::plan(&job, None);
    inflators(&mut job, 2);
    let two = crate::plan(&job, None);
    let blown = |plan: &crate::Plan| -> Vec<(i64, i64, usize)> {
        let tasks = plan.tasks.iter().filter(|t| t.inflators > 0);
        tasks
            .map(|t| (t.people, t.inflators, t.who.len()))
            .collect()
    };
    assert!(
        blown(&one).iter().all(|b| *b == (1, 1, 1)),
        "{:?}",
        blown(&one)
    );
    assert!(blown(&two).contains(&(2, 2, 2)), "{:?}", blown(&two));
    assert!(late(&two) > late(&one), "{} {}", late(&two), late(&one));
    // and neither has anybody in the room before it is open
    for mut job in [job.clone(), job] {
        job.times.load_in = "2027-06-12T13:00".into();
        let plan = crate::plan(&job, None);
        let open = job::time::instant(&job.times.load_in, &job.venue.zone).unwrap();
        let first = plan.tasks.iter().filter(|t| t.phase == Phase::Install);
        assert_eq!(first.filter_map(|t| t.start_ms).min(), Some(open));
        let short = plan.figures.slack_s.unwrap();
        let finish = plan.tasks.iter().find(|t| t.id == "finish").unwrap();
        let ready = job::time::instant(&job.times.ready_by, &job.venue.zone).unwrap();
        assert_eq!(
            finish.end_ms,
            Some(ready - short * 1000),
            "as late as it is short"
        );
        let finding = plan
            .findings
            .iter()
            .find(|f| f.code == "load_in_too_late")
            .unwrap();
        let long = crate::fresh::hours(-short * 1000);
        assert!(finding.message.contains(&long), "{}", finding.message);
    }
}

/// With five trips the way out is a larger vehicle, and nobody counts 899 minutes.
#[test]
fn a_late_load_in_names_its_trips_and_hours() {
    let said = |trips| super::super::load_in_too_late(Some(-53_900), trips).unwrap();
    let once = said(1);
    assert_eq!(
        once.message,
        "The load-in is 14 h 59 min too late for the work before ready-by."
    );
    assert!(
        once.action
            .starts_with("Agree on a load-in 14 h 59 min earlier")
    );
    assert!(
        said(5)
            .action
            .starts_with("The vehicle goes 5 times: take one")
    );
}

/// A job at a venue next door, ready at noon in June in London: people by their hours, chains to drape and floaters to fill, which
/// nobody has to make first.
fn small(hours: &[(i64, i64)], chains: i64, floaters: i64) -> Job {
    let mut job = Job::default();
    job.venue.zone = "Europe/London".into();
    job.times.ready_by = "2027-06-12T12:00".into();
    job.rates.check_s = 0;
    job.rates.bag_s = 0;
    (job.rates.link_pair_s, job.rates.link_tie_s) = (0, 0);
    for (i, (from, to)) in hours.iter().enumerate() {
        job.crew.insert(
            format!("p{i}"),
            Crew {
                from_min: from * 60,
                to_min: to * 60,
                ladder: true,
                drives: true,
                ..Crew::default()
            },
        );
    }
    job.colours.insert("c".into(), Colour::default());
    let shade = Shade {
        colour: "c".into(),
        share_pct: 100,
        ..Shade::default()
    };
    let palette: job::Ids<Shade> = [("s".to_string(), shade)].into();
    if chains > 0 {
        job.pieces.insert(
            "c".into(),
            Piece {
                kind: PieceKind::Chain,
                chain: Chain {
                    count: chains,
                    palette: palette.clone(),
                    ..Chain::default()
                },
                ..Piece::default()
            },
        );
    }
    if floaters > 0 {
        job.pieces.insert(
            "f".into(),
            Piece {
                kind: PieceKind::Floaters,
                floaters: Floaters {
                    count: floaters,
                    palette,
                    ..Floaters::default()
                },
                ..Piece::default()
            },
        );
    }
    job
}

fn loaded(job: &Job) -> (Counted, Load) {
    let counted = count_at(job, Depth::Instant, &mut Memory::default());
    let (order, _) = crate::order::order(job, None, &counted);
    let mut known = crate::load::Stowed::default();
    let (load, _) = crate::load::load(job, &counted, &order, Depth::Preview, &mut known);
    (counted, load)
}

/// The times with every task as usual, and with the best numbers of people.
fn both(job: &Job) -> (Times, Times) {
    let (counted, load) = loaded(job);
    let usual = timed(
        job,
        &counted,
        &load,
        &Ways::default(),
        (WORK, &mut Known::default()),
    );
    let better = Ways::default().better(job, &counted, &load, &mut Known::default(), usual.clone());
    (usual, better)
}

fn task<'a>(times: &'a Times, id: &str) -> &'a Task {
    times.tasks.iter().find(|t| t.id == id).unwrap()
}

fn clock(ms: Option<i64>) -> String {
    let wall = job::time::local(ms.unwrap(), "Europe/London").unwrap();
    format!("{wall}:{:02}", ms.unwrap() / 1000 % 60)
}

/// One from 8, the other from 10. 20 chains of 240 s by two and 1500 s of tidying: draping from 10:15:00. 21 bags and cases of 45 s and as
/// much to walk: carrying takes two of them 945 s, which is longer than from 10 to 10:15, so both carry on the evening before, from
/// 19:44:15, and load in 472.5 s before, from 19:36:22. One alone carries in 1890 s and loads in 945 s: from 9:43:30 and 9:27:45.
#[test]
fn the_first_to_come_carries_alone_so_that_both_hang_when_the_other_is_there() {
    let mut job = small(&[(8, 20), (10, 20)], 20, 0);
    job.venue.walk_m = 27;
    let (counted, load) = loaded(&job);
    assert_eq!(load.parcels.len(), 21);
    let (usual, better) = both(&job);
    assert_eq!(clock(usual.start_by_ms), "2027-06-11T19:36:22");
    assert_eq!(clock(task(&better, "load").start_ms), "2027-06-12T09:27:45");
    assert_eq!(
        clock(task(&better, "carry").start_ms),
        "2027-06-12T09:43:30"
    );
    assert_eq!(
        clock(task(&better, "drape.c").start_ms),
        "2027-06-12T10:15:00"
    );
    let people = |id: &str| task(&better, id).people;
    assert_eq!(
        (people("load"), people("carry"), people("drape.c")),
        (1, 1, 2)
    );
    // and that is what a plan to the end shows, while a slider moves it stays as usual
    let end = super::super::schedule(&job, &counted, &load, Depth::Final, &mut Known::default());
    assert_eq!(end.start_by_ms, better.start_by_ms);
    let preview =
        super::super::schedule(&job, &counted, &load, Depth::Preview, &mut Known::default());
    assert_eq!(preview.start_by_ms, usual.start_by_ms);
}

/// Three people all day. Usually two fill 50 floaters of 40 s in 1000 s and two drape ten chains in 2400 s: 3400 s in all, since there
/// are not four. One fills in 2000 s while the others drape: 2400 s. Three load 11 bags and cases of 45 s in 165 s, not two in 247.5.
#[test]
fn one_fills_while_the_others_drape() {
    let job = small(&[(8, 20), (8, 20), (8, 20)], 10, 50);
    let (usual, better) = both(&job);
    assert_eq!(task(&usual, "load").work_s, 11 * 45);
    let people = |id: &str| task(&better, id).people;
    assert_eq!(
        (people("load"), people("float.f"), people("drape.c")),
        (3, 1, 2)
    );
    let later = better.start_by_ms.unwrap() - usual.start_by_ms.unwrap();
    assert_eq!(later, (1000 + 248 - 165) * 1000);
}

/// What a hand has set is kept, whatever it costs; a number that cannot be is said, with a cure, and left.
#[test]
fn a_hand_goes_before_what_is_found() {
    let mut job = small(&[(8, 20), (8, 20), (8, 20)], 10, 50);
    for (task, people) in [("float.f", 2), ("drape.c", 1), ("gone", 1)] {
        let team = Team {
            task: task.into(),
            people,
            ..Team::default()
        };
        job.teams.insert(pin_id(task), team);
    }
    let (_, better) = both(&job);
    let float = task(&better, "float.f");
    assert_eq!(
        (float.people, float.people_set, float.duration_s),
        (2, true, 1000)
    );
    let drape = task(&better, "drape.c");
    assert_eq!((drape.people, drape.people_set), (2, false));
    let found: Vec<(&str, &str)> = better
        .findings
        .iter()
        .filter(|f| f.path[0] == "teams")
        .map(|f| (f.code.as_str(), f.path[1].as_str()))
        .collect();
    assert_eq!(
        found,
        [
            ("team_not_possible", "drape-c"),
            ("team_without_task", "gone")
        ]
    );
    for finding in better.findings.iter().filter(|f| f.path[0] == "teams") {
        assert_eq!(finding.fixes[0].edits, off(&finding.path[1]));
    }
}

/// What is longer or heavier than one should lift is never left to one, nor is what hangs.
#[test]
fn two_stay_two_where_one_is_not_enough() {
    let mut job = job::demo::demo(&job::defaults::starting_books(), "2027-06-12").0;
    let numbers = |job: &Job, id: &str| -> Vec<i64> {
        let (counted, load) = loaded(job);
        let times = timed(
            job,
            &counted,
            &load,
            &Ways::default(),
            (0, &mut Known::default()),
        );
        task(&times, id).ways.iter().map(|w| w.people).collect()
    };
    // the arch travels in lengths of two metres
    assert_eq!(numbers(&job, "carry"), Vec::<i64>::new());
    assert_eq!(numbers(&job, "hang.arch"), Vec::<i64>::new());
    assert_eq!(numbers(&job, "extras.arch"), [1, 2]);
    let third = job.crew.values().next().unwrap().clone();
    job.crew.insert("third".into(), third);
    assert_eq!(numbers(&job, "carry"), [2, 3]);
    // short and light: by one as well
    let mut light = small(&[(8, 20), (8, 20)], 3, 0);
    assert_eq!(numbers(&light, "load"), [1, 2]);
    light.kit.insert(
        "case".into(),
        job::site::Kit {
            name: "Plates".into(),
            mass_g: 23_001,
            length_mm: 400,
            width_mm: 300,
            height_mm: 300,
            ..job::site::Kit::default()
        },
    );
    assert_eq!(numbers(&light, "load"), Vec::<i64>::new());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Never worse than with the usual numbers; every task is done by a number it can be done by, in the time that takes. That the
    /// schedule holds is asserted by its checker in `place`.
    #[test]
    fn never_worse_than_usual(
        hours in prop::collection::vec((6i64..11, 12i64..22), 1..5),
        chains in 0i64..30,
        floaters in 0i64..80,
        walk_m in 0i64..200,
        load_in in prop::option::of(7i64..12),
        away in 0usize..4,
    ) {
        let mut job = small(&hours, chains, floaters);
        job.venue.walk_m = walk_m;
        if let Some(hour) = load_in {
            job.times.load_in = format!("2027-06-12T{hour:02}:00");
        }
        if let Some(person) = job.crew.get_mut(&format!("p{away}")) {
            person.ladder = false;
        }
        let (usual, better) = both(&job);
        prop_assert!(Worth::of(&better) <= Worth::of(&usual));
        for (task, was) in better.tasks.iter().filter_map(|t| Some((t, usual.tasks.iter().find(|u| u.id == t.id)?))) {
            let way = task.ways.iter().find(|w| w.people == task.people);
            prop_assert_eq!(task.duration_s, way.map_or(was.duration_s, |w| w.duration_s));
            prop_assert_eq!(task.work_s, was.work_s);
            prop_assert!(task.start_ms.is_none() || task.phase == Phase::Strike || task.who.len() as i64 == task.people);
        }
    }
}

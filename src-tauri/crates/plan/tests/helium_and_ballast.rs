//! What floats and what stands: how long helium holds, what is left without ballast, and a rail that nobody brings. On the job
//! `fiftieth`, which is worked by hand.
#![expect(clippy::unwrap_used, reason = "a test may stop")]

use std::collections::BTreeMap;

use job::Severity;
use job::piece::FrameForm;
use job::read::read_strictly;
use job::set_piece::FoilStand;
use job::site::Place;
use job::{Finding, Job};
use plan::Plan;

fn fiftieth() -> Job {
    let text = include_str!("../../../../tests/jobs/fiftieth.job.json");
    read_strictly(&serde_json::from_str(text).unwrap()).unwrap()
}

fn planned(change: impl Fn(&mut Job)) -> Plan {
    let mut job = fiftieth();
    change(&mut job);
    plan::plan(&job, None)
}

/// The finding of a code about a piece.
fn about<'a>(plan: &'a Plan, code: &str, piece: &str) -> Option<&'a Finding> {
    plan.findings
        .iter()
        .find(|f| f.code == code && f.path.get(1).is_some_and(|p| p == piece))
}

/// Bouquets are filled in the studio on the morning and taken down half an hour before midnight; the doors open at six.
#[test]
fn latex_floats_for_so_many_hours() {
    let plan = planned(|_| {});
    let filled = plan.tasks.iter().find(|t| t.id == "helium.bou.1").unwrap();
    let doors = job::time::instant("2026-09-12T18:00", "Europe/Berlin").unwrap();
    let strike = job::time::instant("2026-09-12T23:30", "Europe/Berlin").unwrap();
    let hours = |to: i64| (to - filled.start_ms.unwrap()) / 3_600_000;
    assert!(hours(doors) < 8 && hours(strike) >= 8);
    let late = about(&plan, "sinks_late", "bou").unwrap();
    assert_eq!(late.severity, Severity::Care);
    // floaters are filled in the room, an hour before the doors
    assert!(about(&plan, "sinks_late", "flo").is_none());
    // an hour less than it took: they are filled later, and so last
    let later = planned(|job| job.rules.helium_h = hours(doors));
    assert!(about(&later, "sinks_early", "bou").is_none());
    // no way there is as short as one hour
    let early = planned(|job| job.rules.helium_h = 1);
    let found = about(&early, "sinks_early", "bou").unwrap();
    assert_eq!(found.severity, Severity::Stop);
    assert!(about(&early, "sinks_late", "bou").is_none());
    // treated latex lasts for two days
    let treated = planned(|job| job.pieces.get_mut("bou").unwrap().bouquet.treated = true);
    assert!(
        treated
            .findings
            .iter()
            .all(|f| !f.code.starts_with("sinks"))
    );
    let foil = planned(|job| {
        job.rules.helium_h = 0;
        job.pieces.get_mut("bou").unwrap().bouquet.rounds = 0;
    });
    assert!(about(&foil, "sinks_early", "bou").is_none());
    assert!(about(&foil, "sinks_early", "flo").is_some());
}

#[test]
fn what_stands_takes_ballast() {
    let bare = |place: Place| {
        planned(move |job| {
            job.venue.place = place;
            job.pieces.get_mut("col").unwrap().classic.ballast_g = 0;
        })
    };
    let found = |plan: &Plan, code: &str| about(plan, code, "col").map(|f| f.severity);
    assert_eq!(
        found(&bare(Place::Indoors), "stands_ballast"),
        Some(Severity::Care)
    );
    let open = bare(Place::Open);
    assert_eq!(found(&open, "stands_without_ballast"), Some(Severity::Stop));
    // the wall has its ballast; letters are sails, what floats is blown about
    assert!(about(&open, "stands_without_ballast", "wall").is_none());
    assert!(about(&open, "foils_outdoors", "num").is_some());
    assert!(about(&open, "helium_outdoors", "flo").is_some());
    // 2 x 5 kg and 20 kg of 4 plates of 10 kg: with three columns more it is 45 kg
    let heavy = planned(|job| job.pieces.get_mut("col").unwrap().classic.count = 5);
    assert!(
        heavy
            .findings
            .iter()
            .any(|f| f.code == "too_little_ballast")
    );
    assert_eq!(heavy.load.mass_g - planned(|_| {}).load.mass_g, 15_000);
}

#[test]
fn a_rail_of_the_venue_is_not_brought() {
    let with = |form| planned(move |job| job.pieces.get_mut("rail").unwrap().frame.form = form);
    let counts = |plan: &Plan| {
        let of = |ids: Vec<&str>| ids.into_iter().filter(|id| id.contains("rail")).count();
        (
            of(plan.tasks.iter().map(|t| t.id.as_str()).collect()),
            of(plan.steps.iter().map(|s| s.id.as_str()).collect()),
            plan.load
                .parcels
                .iter()
                .filter(|p| p.piece == "rail")
                .count(),
        )
    };
    assert_eq!(counts(&with(FrameForm::Rail)), (0, 0, 0));
    // a gate is carried, set up, weighed down and taken down
    assert_eq!(counts(&with(FrameForm::Gate)), (1, 4, 1));
    assert!(about(&with(FrameForm::Gate), "frame_ballast", "rail").is_some());
    assert!(about(&with(FrameForm::Rail), "frame_ballast", "rail").is_none());
}

/// Foils that float say their weight, take ribbon, and are filled with the helium.
#[test]
fn numbers_that_float() {
    let plan = planned(|job| job.pieces.get_mut("num").unwrap().foils.stand = FoilStand::Helium);
    let made = plan.pieces.iter().find(|p| p.piece == "num").unwrap();
    let made = made.made.as_ref().unwrap();
    assert!(made.helium_ml > 0 && made.weight_g > 0 && made.ribbons_mm.len() == 2);
    let steps: BTreeMap<&str, i64> = plan
        .steps
        .iter()
        .filter(|s| s.piece == "num")
        .map(|s| (s.id.as_str(), s.quantity))
        .collect();
    assert_eq!(steps["helium.num"], 2);
    assert!(!steps.contains_key("foils.num"));
    assert!(plan.cautions.iter().any(|c| c.code == "cylinder"));
    // without helium nothing is said of it
    let dry = planned(|job| {
        for piece in ["bou", "flo"] {
            job.pieces.get_mut(piece).unwrap().gone = true;
        }
    });
    let codes: Vec<&str> = dry.cautions.iter().map(|c| c.code.as_str()).collect();
    assert!(!codes.contains(&"helium") && !codes.contains(&"cylinder"));
    assert!(codes.contains(&"foil_lines"));
}

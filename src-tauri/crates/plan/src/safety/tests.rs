//! Findings against published values, and every caution where it matters.

use super::*;

/// Gas law at the same pressure: 20 to 35 degrees 1.01677 across, 20 to 5 degrees 0.98264.
#[test]
fn balloons_grow_with_the_warmth() {
    assert!((growth(20.0, 35.0) - 1.016_77).abs() < 1e-5);
    assert!((growth(20.0, 5.0) - 0.982_64).abs() < 1e-5);
}

/// U.S. Standard Atmosphere 1976, table of PDAS: 79,501 Pa at 2000 m geometric, 61,660 Pa at 4000 m.
#[test]
fn pressure_falls_with_the_height() {
    assert!((pressure_ratio(2000.0) * 101_325.0 - 79_501.0).abs() < 2.0);
    assert!((pressure_ratio(4000.0) * 101_325.0 - 61_660.0).abs() < 4.0);
    // volume ratio at constant temperature, 0 to 1000 m: 1.12738
    assert!((1.0 / pressure_ratio(1000.0) - 1.127_38).abs() < 2e-5);
}

#[test]
fn a_frame_outdoors_without_ballast_is_a_stop() {
    let mut job = Job::default();
    let piece = job::piece::Piece {
        kind: PieceKind::Frame,
        name: "Frame".into(),
        ..Default::default()
    };
    job.pieces.insert("f".into(), piece);
    for (place, ballast_g, want) in [
        (
            Place::Open,
            0,
            vec![("frame_without_ballast", Severity::Stop)],
        ),
        (
            Place::Covered,
            0,
            vec![("frame_without_ballast", Severity::Stop)],
        ),
        (Place::Indoors, 0, vec![("frame_ballast", Severity::Care)]),
        (Place::Open, 20_000, vec![]),
    ] {
        job.venue.place = place;
        if let Some(p) = job.pieces.get_mut("f") {
            p.frame.ballast_g = ballast_g;
        }
        let counted = crate::pieces::count(&job);
        let found: Vec<_> = safety(&job, &counted, &Load::default())
            .into_iter()
            .map(|f| (f.code, f.severity))
            .collect();
        assert_eq!(
            found,
            want.into_iter()
                .map(|(c, s)| (c.to_string(), s))
                .collect::<Vec<_>>()
        );
    }
}

fn piece(name: &str, kind: PieceKind) -> job::piece::Piece {
    job::piece::Piece {
        name: name.into(),
        kind,
        ..Default::default()
    }
}

/// A job with one garland, one chain and one frame with ballast.
fn full() -> Job {
    use job::piece::{Shade, Size};
    let mut job = Job::default();
    let shade = Shade {
        colour: "c".into(),
        ..Shade::default()
    };
    let size = |size_in| Size {
        size_in,
        share_pct: 50,
        ..Size::default()
    };
    let mut arch = piece("Arch", PieceKind::Garland);
    arch.on = "f".into();
    arch.garland.palette.insert("e".into(), shade.clone());
    arch.garland.mix.insert("s".into(), size(11));
    arch.garland.mix.insert("t".into(), size(24));
    let mut chain = piece("Chain", PieceKind::Chain);
    chain.mount = Mount::CeilingPoints;
    chain.chain.palette.insert("e".into(), shade);
    let mut frame = piece("Frame", PieceKind::Frame);
    frame.frame.ballast_g = 20_000;
    job.pieces.insert("a".into(), arch);
    job.pieces.insert("b".into(), chain);
    job.pieces.insert("f".into(), frame);
    job
}

fn said(job: &Job) -> Vec<String> {
    let counted = crate::pieces::count(job);
    cautions(job, &counted)
        .into_iter()
        .map(|c| c.code)
        .collect()
}

/// Each of the usual cautions of the trade where there is what it is about; the line that defers to others always.
#[test]
fn every_caution_where_it_matters() {
    assert_eq!(said(&Job::default()), ["always"]);
    let mut job = full();
    let indoors = [
        "choking",
        "latex",
        "inflator",
        "eyes",
        "sharp",
        "two_to_lift",
        "secure_load",
        "ladder",
        "ballast",
        "exits",
        "overhead",
        "always",
        "release",
        "strike",
    ];
    assert_eq!(said(&job), indoors);
    job.venue.place = Place::Covered;
    let outdoors = said(&job);
    assert!(outdoors.contains(&"wind".into()) && outdoors.contains(&"power_lines".into()));
    // in the order of the work, and nobody is told about helium that is not there
    let list = cautions(&job, &crate::pieces::count(&job));
    assert!(list.windows(2).all(|w| w[0].phase <= w[1].phase));
    assert!(
        list.iter()
            .all(|c| !c.text.to_lowercase().contains("helium"))
    );
    for word in [
        "venue",
        "maker",
        "local codes",
        "competent person",
        "overhead",
        "outdoors",
        "public",
    ] {
        assert!(ALWAYS.contains(word), "{word}");
    }
}

fn found(job: &Job) -> Vec<(String, Severity)> {
    let counted = crate::pieces::count(job);
    safety(job, &counted, &Load::default())
        .into_iter()
        .map(|f| (f.code, f.severity))
        .collect()
}

#[test]
fn a_frame_that_nobody_counted_is_pointed_out_outdoors() {
    let mut job = full();
    job.pieces.get_mut("a").unwrap().on = String::new();
    assert_eq!(found(&job), []);
    job.venue.place = Place::Open;
    assert_eq!(found(&job), [("frame_unknown".to_string(), Severity::Care)]);
    job.pieces.get_mut("a").unwrap().mount = Mount::WallHooks;
    assert_eq!(found(&job), []);
}

#[test]
fn less_ballast_than_the_frames_take_is_pointed_out() {
    let mut job = full();
    let plate = job::site::Kit {
        kind: KitKind::Ballast,
        count: 3,
        mass_g: 5_500,
        ..Default::default()
    };
    job.kit.insert("p".into(), plate);
    let counted = crate::pieces::count(&job);
    let finding = too_little_ballast(&job, &counted).unwrap();
    assert_eq!(
        finding.message,
        "The frames take 20 kg of ballast, the kit has 16.5 kg."
    );
    job.kit.get_mut("p").unwrap().count = 4;
    assert_eq!(found(&job), []);
}

/// Warmer by 5 K is pointed out, 4.9 K is not; higher than 600 m is, 600 m is not.
#[test]
fn warmth_and_height_have_their_limits() {
    let mut job = full();
    for (temperature_dc, altitude_m, want) in [
        (249, 600, vec![]),
        (250, 600, vec![("warm_up".to_string(), Severity::Note)]),
        (200, 601, vec![("altitude".to_string(), Severity::Care)]),
        (
            i64::MAX,
            i64::MIN,
            vec![("warm_up".to_string(), Severity::Note)],
        ),
    ] {
        (job.venue.temperature_dc, job.venue.altitude_m) = (temperature_dc, altitude_m);
        assert_eq!(found(&job), want);
    }
}

/// The gas law at the same pressure, 20 to 35 degrees: 1.01677 across.
#[test]
fn the_growth_is_said_in_words() {
    let mut job = full();
    job.venue.temperature_dc = 350;
    let counted = crate::pieces::count(&job);
    assert_eq!(
        warmth(&job, &counted).unwrap().message,
        "At 35 degrees balloons grow by 1.7 % across."
    );
}

/// The reference mass of the NIOSH lifting equation is 23 kg (NIOSH publication 94-110).
#[test]
fn a_heavy_case_is_pointed_out() {
    let mut job = full();
    let case = job::site::Kit {
        name: "Rig".into(),
        mass_g: 23_001,
        ..Default::default()
    };
    job.kit.insert("k".into(), case);
    assert_eq!(found(&job), [("heavy_case".to_string(), Severity::Care)]);
    job.kit.get_mut("k").unwrap().mass_g = 23_000;
    assert_eq!(found(&job), []);
}

//! Garlands packed with known necks and softness are measured, and necks and softness found again from the two numbers.

mod mixes;

use glam::DVec3;
use mixes::mix;
use solve::packing::calibrate::{Measured, Misfit, NECKS, Outside, SOFTNESSES, calibrate};
use solve::packing::measure::measure;
use solve::packing::path::Path;
use solve::packing::{Cluster, Effort, Settings, pack};

/// Necks come back to within this, radii.
const NECK: f64 = 0.04;
/// Softness comes back to within this.
const SOFTNESS: f64 = 0.015;

fn line() -> Path {
    Path::straight(DVec3::ZERO, DVec3::X * 3.0)
}

/// Mean length and width over seeds that the search does not use.
fn finished(
    clusters: &[Cluster],
    neck: f64,
    softness: f64,
    seeds: std::ops::Range<u64>,
) -> Measured {
    let path = line();
    let n = (seeds.end - seeds.start) as f64;
    let mut mean = Measured {
        length: 0.0,
        width: 0.0,
    };
    for seed in seeds {
        let settings = Settings {
            softness,
            neck,
            seed,
            effort: Effort::Preview,
        };
        let m = measure(&pack(clusters, &path, &[], &settings), &path);
        mean.length += m.length / n;
        mean.width += m.width.mean / n;
    }
    mean
}

#[test]
fn necks_and_softness_come_back() {
    let clusters = mix(60, 4);
    for (neck, softness) in [
        (0.2, 0.05),
        (0.35, 0.1),
        (0.5, 0.02),
        (0.6, 0.06),
        (0.8, 0.13),
    ] {
        let measured = finished(&clusters, neck, softness, 1000..1005);
        let fit = calibrate(&clusters, &line(), &[], measured, &Settings::default()).unwrap();
        let off = [fit.neck - neck, fit.softness - softness];
        println!("necks {neck}, softness {softness}: off by {off:+.4?}");
        assert!(
            off[0].abs() < NECK,
            "necks {neck}, softness {softness}: {fit:?}"
        );
        assert!(
            off[1].abs() < SOFTNESS,
            "necks {neck}, softness {softness}: {fit:?}"
        );
        assert!((fit.length / measured.length - 1.0).abs() < 0.02);
        assert!((fit.width / measured.width - 1.0).abs() < 0.02);
    }
}

/// One garland is not a mean: its own chance of a few per cent goes into the fit, and no more than that.
#[test]
fn a_single_garland_gives_them_roughly() {
    let clusters = mix(60, 4);
    for seed in 500..504 {
        let measured = finished(&clusters, 0.45, 0.05, seed..seed + 1);
        let fit = calibrate(&clusters, &line(), &[], measured, &Settings::default()).unwrap();
        println!("seed {seed}: {fit:.3?}");
        assert!((fit.neck - 0.45).abs() < 0.1, "{fit:?}");
        assert!((fit.softness - 0.05).abs() < 0.04, "{fit:?}");
    }
}

#[test]
fn numbers_that_no_necks_and_softness_give_are_refused_with_the_nearest() {
    let clusters = mix(40, 4);
    let plain = finished(&clusters, 0.45, 0.05, 1..6);
    let scaled = |length: f64, width: f64| Measured {
        length: plain.length * length,
        width: plain.width * width,
    };
    let range =
        |[low, high]: [f64; 2]| (0..4).map(move |i| low + f64::from(i) / 3.0 * (high - low));
    let grid: Vec<Measured> = range(NECKS)
        .flat_map(|neck| range(SOFTNESSES).map(move |softness| (neck, softness)))
        .map(|(neck, softness)| finished(&clusters, neck, softness, 1..6))
        .collect();
    // twice as long and as wide, or half: other balloons
    for (measured, expected) in [
        (scaled(2.0, 1.0), Outside::TooLong),
        (scaled(0.4, 1.0), Outside::TooShort),
        (scaled(1.0, 2.0), Outside::TooWide),
        (scaled(1.0, 0.5), Outside::TooNarrow),
        (scaled(3.0, 3.0), Outside::TooWide),
    ] {
        match calibrate(&clusters, &line(), &[], measured, &Settings::default()) {
            Err(Misfit::OutOfRange { outside, nearest }) => {
                println!("{outside:?}: {nearest:.3?}");
                assert_eq!(outside, expected, "{nearest:?}");
                assert!((NECKS[0]..=NECKS[1]).contains(&nearest.neck));
                assert!((SOFTNESSES[0]..=SOFTNESSES[1]).contains(&nearest.softness));
                let again = finished(&clusters, nearest.neck, nearest.softness, 1..6);
                assert!((again.length - nearest.length).abs() < 1e-9);
                assert!((again.width - nearest.width).abs() < 1e-9);
                // and of a grid over the whole range none is nearer
                let far = |m: &Measured| {
                    let (l, w) = (m.length / measured.length, m.width / measured.width);
                    (libm::log(l) * libm::log(l) + libm::log(w) * libm::log(w)).sqrt()
                };
                let least = grid.iter().map(far).fold(f64::INFINITY, f64::min);
                assert!(far(&again) < least + 0.02, "{} {least}", far(&again));
            }
            other => panic!("{measured:?}: {other:?}"),
        }
    }
}

#[test]
fn what_is_no_garland_is_said_so() {
    let settings = Settings::default();
    let measured = Measured {
        length: 3.0,
        width: 0.6,
    };
    assert_eq!(
        calibrate(&[], &line(), &[], measured, &settings),
        Err(Misfit::NoSpheres)
    );
    let clusters = mix(20, 1);
    for (length, width) in [
        (0.0, 0.6),
        (3.0, -0.6),
        (f64::NAN, 0.6),
        (3.0, f64::INFINITY),
    ] {
        assert_eq!(
            calibrate(
                &clusters,
                &line(),
                &[],
                Measured { length, width },
                &settings
            ),
            Err(Misfit::NoMeasure)
        );
    }
}

#[test]
fn the_same_numbers_give_the_same_fit() {
    let clusters = mix(30, 8);
    let measured = finished(&clusters, 0.4, 0.07, 50..52);
    let fit = || calibrate(&clusters, &line(), &[], measured, &Settings::default());
    assert_eq!(fit(), fit());
    assert!(fit().is_ok());
}

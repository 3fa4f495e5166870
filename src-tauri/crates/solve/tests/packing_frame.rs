//! A garland tied to the tube of a frame, which runs along its line.

use glam::DVec3;
use solve::packing::check::{Tolerance, check, overlaps};
use solve::packing::path::Path;
use solve::packing::{Cluster, Effort, Obstacle, Settings, off_rod, pack};

/// What a packing to the end keeps to, as without a frame.
const FINAL: Tolerance = Tolerance {
    deep: 0.03,
    reach: 0.02,
    inside: 0.005,
};

/// Tube of 32 mm behind a line of 4 mm (common practice, no source).
const TUBE: Obstacle = Obstacle::Along {
    offset: DVec3::new(0.0, 0.0, -0.018),
    radius: 0.016,
};

/// Quads, sixes and eights of 6 to 10 in, every other with one of 15 in; by a stream of its own.
fn mixed(clusters: u64, seed: u64) -> Vec<Cluster> {
    let mut state = seed.wrapping_mul(7919);
    let mut unit = move || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 40) as f64 / f64::from(1 << 24)
    };
    let mut cluster = |id: u64| {
        let balls = [4, 6, 4, 8][(id % 4) as usize];
        let diameters = (0..balls).map(|ball| match (ball, id % 2) {
            (0, 0) => 0.381,
            _ => 0.152 + 0.102 * unit(),
        });
        Cluster {
            id,
            diameters: diameters.collect(),
            turn: None,
        }
    };
    (0..clusters).map(&mut cluster).collect()
}

fn bent(from: f64, to: f64, closed: bool) -> Path {
    let points: Vec<DVec3> = (0..=96)
        .map(|i| from + (to - from) * f64::from(i) / 96.0)
        .map(|a| DVec3::new(1.3 * libm::cos(a), 2.0 * libm::sin(a), 0.0))
        .collect();
    Path::polyline(&points, closed).unwrap_or_else(|_| Path::straight(DVec3::ZERO, DVec3::X))
}

fn settings(seed: u64) -> Settings {
    Settings {
        seed,
        effort: Effort::Final,
        ..Settings::default()
    }
}

/// Straight, over an arch and round a hoop: no balloon is in the tube, none beyond its neck, under one contact in a hundred deeper than it may
/// be. A line with a tube is longer than one without by 3 % at most: the tube takes room, but it lies between the balloons. Round a hoop
/// of 10.5 m go 44 clusters or so without a tube; with it no more than two stay off.
#[test]
fn balloons_keep_off_the_tube_of_their_frame() {
    use std::f64::consts::PI;
    let straight = Path::straight(DVec3::ZERO, DVec3::X * 20.0);
    for (name, path) in [
        ("straight", straight),
        ("arch", bent(PI, 0.0, false)),
        ("hoop", bent(0.0, 2.0 * PI, true)),
    ] {
        let (mut with, mut without, mut deeper) = (0.0, 0.0, 0.0);
        for seed in 1..=8 {
            let all = mixed(if path.is_closed() { 60 } else { 16 }, seed);
            let packed = pack(&all, &path, &[TUBE], &settings(seed));
            let wrong = check(&packed, &all, &path, &[TUBE], &settings(seed), FINAL);
            assert!(wrong.is_empty(), "{name} {seed}: {wrong:?}");
            deeper += overlaps(&packed, settings(seed).softness).deeper / 8.0;
            if path.is_closed() {
                assert!(packed.ties.len() >= 42, "{seed}: {}", packed.ties.len());
            } else {
                with += packed.tie_span();
                without += pack(&all, &path, &[], &settings(seed)).tie_span();
            }
        }
        if !path.is_closed() {
            let longer = 100.0 * (with / without - 1.0);
            println!(
                "{name}: {longer:.1} % longer, {:.1} % of the contacts deeper",
                100.0 * deeper
            );
        }
        assert!(deeper < 0.01, "{name}: {deeper}");
        assert!(
            path.is_closed() || (1.0..1.03).contains(&(with / without)),
            "{name}: {with} {without}"
        );
    }
}

/// The check finds a balloon in the tube: packed without one, some are.
#[test]
fn the_check_finds_balloons_in_the_tube() {
    let path = Path::straight(DVec3::ZERO, DVec3::X * 20.0);
    let all = mixed(16, 1);
    let packed = pack(&all, &path, &[], &settings(1));
    assert!(!check(&packed, &all, &path, &[TUBE], &settings(1), FINAL).is_empty());
}

/// By the areas of contact: equal force on equal pressure. At 10 cm, 5 % and a tube of 16 mm: 0.05 × √(116 / 16) = 0.1346 of 10 cm is the dent,
/// so 86.5 + 16 mm. A tube that is thicker than a sixth of the radius counts as a sixth: 5.5 cm with 9.2 mm, 0.05 × √7 = 0.1323.
#[test]
fn a_tube_presses_as_the_areas_say() {
    assert!((off_rod(0.1, 0.016, 0.05) - 0.10254).abs() < 1e-5);
    assert!((off_rod(0.055, 0.016, 0.05) - (0.055 * (1.0 - 0.132_288) + 0.055 / 6.0)).abs() < 1e-6);
    // a wire goes in by half
    assert_eq!(off_rod(0.1, 0.0, 0.05), 0.05);
}

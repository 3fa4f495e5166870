//! Measures of packings against closed forms, polyhedral booleans and a count of random points.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod mixes;

use glam::DVec3;
use mixes::{Draw, IN, mix};
use proptest::prelude::*;
use solve::packing::fill::{FillSettings, View, fillers};
use solve::packing::measure::measure;
use solve::packing::path::Path;
use solve::packing::volume::union_volume;
use solve::packing::{Ball, Cluster, Packing, Settings, pack, rings};
use std::f64::consts::PI;

/// Density of the closest packing of equal spheres, π/√18 (Hales, "A proof of the Kepler conjecture", 2005).
const CLOSEST: f64 = 0.740_480_489_693_061;

fn along_x(length: f64) -> Path {
    Path::straight(DVec3::ZERO, DVec3::X * length)
}

fn sphere(r: f64) -> f64 {
    4.0 / 3.0 * PI * r * r * r
}

/// Single spheres one after the other on the line.
fn row(path: &Path, n: u32, d: f64) -> Packing {
    let mut packing = Packing::default();
    for i in 0..n {
        let tie = f64::from(i) * d;
        packing.ties.push(tie);
        packing.reach.push(d / 2.0);
        packing.balls.push(Ball {
            centre: path.frame(tie).point,
            radius: d / 2.0,
            cluster: i,
        });
    }
    packing
}

/// A classic column: flat rings of touching spheres, each turned half a step against the last.
fn column(layers: u32, n: u32, d: f64) -> Packing {
    let (radius, pitch) = (
        rings::radius_over_d(n).unwrap() * d,
        rings::pitch_over_d(n).unwrap() * d,
    );
    let mut packing = Packing::default();
    for layer in 0..layers {
        let x = f64::from(layer) * pitch;
        packing.ties.push(x);
        for k in 0..n {
            let angle = 2.0 * PI * (f64::from(k) + 0.5 * f64::from(layer % 2)) / f64::from(n);
            packing.reach.push(radius);
            packing.balls.push(Ball {
                centre: DVec3::new(x, radius * libm::cos(angle), radius * libm::sin(angle)),
                radius: d / 2.0,
                cluster: layer,
            });
        }
    }
    packing
}

#[track_caller]
fn near(a: f64, b: f64, share: f64) {
    assert!((a / b - 1.0).abs() <= share, "{a} is not {b}");
}

/// Archimedes, "On the Sphere and Cylinder" I 34: a sphere fills two thirds of the cylinder about it. So does a row.
#[test]
fn spheres_on_a_line_fill_two_thirds_of_their_cylinder() {
    for n in [1, 2, 9] {
        let path = along_x(2.0);
        let m = measure(&row(&path, n, 0.28), &path);
        near(m.fill, 2.0 / 3.0, 5e-3);
        near(m.hull_volume, PI * 0.14 * 0.14 * 0.28 * f64::from(n), 5e-3);
        near(m.union_volume, sphere(0.14) * f64::from(n), 1e-12);
        near(m.length, 0.28 * f64::from(n), 1e-9);
        near(m.width.mean, 0.28, 2e-3);
        // but for the slices where two touch
        assert!(m.hidden > 0.95, "{}", m.hidden);
        assert_eq!(m.contacts, n - 1);
        assert!((m.tie_span - 0.28 * f64::from(n - 1)).abs() < 1e-12);
    }
}

/// The same row bent to part of a ring, and the torus about it: Pappus, volume = area × way of its middle.
#[test]
fn spheres_on_an_arc_fill_two_thirds_of_their_torus() {
    let radius = 1.5;
    let points: Vec<DVec3> = (0..=400)
        .map(|i| PI * f64::from(i) / 400.0)
        .map(|a| DVec3::new(radius * libm::cos(a), radius * libm::sin(a), 0.0))
        .collect();
    let path = Path::polyline(&points, false).unwrap();
    let (n, d) = (12, 0.28);
    let m = measure(&row(&path, n, d), &path);
    // the first and the last half sphere lie within the arc and beyond it
    near(m.hull_volume, PI * d * d / 4.0 * d * f64::from(n), 1e-2);
    near(m.fill, 2.0 / 3.0, 1e-2);
    near(m.width.mean, d, 5e-3);
    assert!(m.hidden > 0.95, "{}", m.hidden);
}

/// Classic columns of rings of three to six against their closed forms: height, pitch, contacts, and the cylinder about them.
#[test]
fn classic_columns() {
    for n in 3..=6u32 {
        let (layers, d) = (9, 0.28);
        let m = measure(&column(layers, n, d), &along_x(2.0));
        near(m.length, rings::height_of(layers, n, d).unwrap(), 1e-9);
        near(m.pitch, rings::pitch_over_d(n).unwrap() * d, 1e-9);
        // each sphere touches two of its ring and two of each ring beside it
        assert_eq!(m.contacts, layers * n + (layers - 1) * 2 * n);
        assert!(m.depth_max < 1e-9, "{}", m.depth_max);
        near(
            m.union_volume,
            f64::from(layers * n) * sphere(d / 2.0),
            1e-9,
        );
        let outside = rings::outside_over_d(n).unwrap() * d;
        if n % 2 == 0 {
            // sides are 5 degrees apart, so what stands out furthest is met within 0.2 %
            near(m.width.max, outside, 3e-3);
        }
        assert!(m.width.max <= outside * (1.0 + 1e-9));
        assert!(m.width.p5 > 0.85 * outside && m.width.p5 <= m.width.mean);
        assert!(m.width.mean <= m.width.p95 && m.width.p95 <= m.width.max);
        // in a ring of six every side has a sphere's middle within 30 degrees: the hull is the cylinder; in smaller rings it
        // dips between them
        let cylinder = PI / 4.0 * outside * outside * m.length;
        assert!(m.hull_volume <= cylinder * (1.0 + 1e-9));
        near(m.hull_volume, cylinder, if n == 6 { 6e-3 } else { 0.12 });
        assert!(m.fill < CLOSEST, "{n}: {}", m.fill);
    }
}

/// Reference volumes by the booleans of the library manifold, version in the file; the script lies beside it. Within 1 in
/// 10,000, even where spheres share room three by three and more.
#[test]
fn unions_against_polyhedra() {
    let text = include_str!("../../../../tests/data/packing/union_volumes.json");
    let data: serde_json::Value = serde_json::from_str(text).unwrap();
    let scenes = data["scenes"].as_array().unwrap();
    assert_eq!(scenes.len(), 5);
    for scene in scenes {
        let balls: Vec<Ball> = scene["spheres"]
            .as_array()
            .unwrap()
            .iter()
            .map(|s| {
                let [x, y, z, radius] = [0, 1, 2, 3].map(|i| s[i].as_f64().unwrap());
                Ball {
                    centre: DVec3::new(x, y, z),
                    radius,
                    cluster: 0,
                }
            })
            .collect();
        let (volume, name) = (scene["volume"].as_f64().unwrap(), &scene["name"]);
        let off = union_volume(&balls) / volume - 1.0;
        println!("{name}: {off:+.1e}");
        assert!(off.abs() < 1e-4, "{name}: {off:+.1e}");
    }
}

/// Half a million random points in the box about a packing, each in a sphere or not: the share has a standard deviation of
/// 0.2 % of the volume; four of them are allowed.
#[test]
fn the_union_of_a_packing_against_random_points() {
    for softness in [0.05, 0.15] {
        let settings = Settings {
            softness,
            ..Settings::default()
        };
        let packing = pack(&mix(40, 7), &along_x(3.0), &[], &settings);
        let (mut low, mut high) = (DVec3::INFINITY, DVec3::NEG_INFINITY);
        for ball in &packing.balls {
            low = low.min(ball.centre - ball.radius);
            high = high.max(ball.centre + ball.radius);
        }
        let mut draw = Draw(1);
        let points = 500_000;
        let mut inside = 0;
        for _ in 0..points {
            let place = DVec3::new(draw.share(), draw.share(), draw.share());
            let point = low + (high - low) * place;
            let hit = |b: &Ball| (b.centre - point).length_squared() < b.radius * b.radius;
            inside += i32::from(packing.balls.iter().any(hit));
        }
        let edges = high - low;
        let counted = edges.x * edges.y * edges.z * f64::from(inside) / f64::from(points);
        near(union_volume(&packing.balls), counted, 8e-3);
    }
}

/// No packing of equal hard spheres is closer than the closest, and random ones along a line are looser by a third or so.
#[test]
fn hard_equal_spheres_are_packed_less_close_than_the_closest() {
    let settings = Settings {
        softness: 0.0,
        ..Settings::default()
    };
    for n in [3, 4, 6, 8] {
        let clusters: Vec<Cluster> = (0..12)
            .map(|id| Cluster {
                id,
                diameters: vec![8.0 * IN; n],
                turn: None,
            })
            .collect();
        let path = along_x(3.0);
        let m = measure(&pack(&clusters, &path, &[], &settings), &path);
        assert!(m.fill < CLOSEST, "{n}: {}", m.fill);
        assert!(m.fill > 0.3, "{n}: {}", m.fill);
        assert!(m.union_volume <= f64::from(12 * n as u32) * sphere(4.0 * IN) * (1.0 + 1e-9));
    }
}

#[test]
fn nothing_measures_nothing() {
    let path = along_x(1.0);
    let m = measure(&Packing::default(), &path);
    assert_eq!((m.length, m.hull_volume, m.contacts), (0.0, 0.0, 0));
}

/// Moving, turning and the order of the spheres change nothing but rounding and the sides looked from.
#[test]
fn measures_do_not_depend_on_where_the_line_is() {
    let here = along_x(3.0);
    let packing = pack(&mix(60, 3), &here, &[], &Settings::default());
    let a = measure(&packing, &here);
    let (to, turned) = (
        DVec3::new(3.0, -2.0, 1.0),
        glam::DQuat::from_rotation_arc(DVec3::X, DVec3::new(0.6, 0.0, 0.8)),
    );
    let mut moved = packing.clone();
    for ball in &mut moved.balls {
        ball.centre = to + turned * ball.centre;
    }
    let b = measure(&moved, &Path::straight(to, to + turned * DVec3::X));
    near(b.length, a.length, 1e-9);
    near(b.union_volume, a.union_volume, 1e-4);
    near(b.hull_volume, a.hull_volume, 0.02);
    near(b.width.mean, a.width.mean, 0.01);
    assert!((b.hidden - a.hidden).abs() < 0.02);
    assert_eq!(b.contacts, a.contacts);
    assert_eq!(measure(&packing, &here), a);
}

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        8 => -1.0..1.0f64,
        1 => Just(0.0),
        1 => prop::sample::select(vec![f64::NAN, f64::INFINITY, -1e300, 1e-300, 1e9]),
    ]
}

proptest! {
    // spans of a million kilometres take a while to slice; three thousand cases were run once
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever stands in a packing, measures and fillers come to an end, and shares are shares.
    #[test]
    fn no_packing_is_too_absurd(
        balls in prop::collection::vec((number(), number(), number(), number(), 0..4u32), 0..9),
        ties in prop::collection::vec(number(), 0..4),
        view in prop_oneof![Just(View::AllSides), Just(View::From(DVec3::Y))],
    ) {
        let packing = Packing {
            reach: balls.iter().map(|b| b.3.abs() * 1.5).collect(),
            balls: balls
                .into_iter()
                .map(|(x, y, z, r, cluster)| Ball { centre: DVec3::new(x, y, z), radius: r.abs(), cluster })
                .collect(),
            ties,
        };
        let path = along_x(1.0);
        let m = measure(&packing, &path);
        prop_assert!((0.0..=1.0).contains(&m.hidden), "{:?}", m);
        prop_assert!((0.0..=1.0).contains(&m.deep), "{:?}", m);
        let how = FillSettings { diameter: 0.1, view, show: 0.0, most: 9, softness: 0.05 };
        let filling = fillers(&packing, &path, &[], &how);
        prop_assert!((0.0..=1.0).contains(&filling.shows_before));
        prop_assert!(filling.shows_after <= filling.shows_before);
    }
}

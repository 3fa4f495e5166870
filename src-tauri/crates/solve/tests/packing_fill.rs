//! Fillers, checked one by one against everything they have to keep, and what shows against every ray and every sphere.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod mixes;

use glam::DVec3;
use mixes::{IN, mix};
use solve::packing::fill::{FillSettings, Filling, View, fillers};
use solve::packing::path::Path;
use solve::packing::{Ball, Obstacle, Packing, Settings, pack};
use std::f64::consts::{PI, TAU};

/// A sphere hides a place only if it reaches this far beyond it, m: the thickness of line and knots.
const LINE: f64 = 0.01;

fn straight() -> (Packing, Path) {
    let path = Path::straight(DVec3::ZERO, DVec3::X * 3.0);
    let packing = pack(&mix(70, 5), &path, &[], &Settings::default());
    (packing, path)
}

/// Half an ellipse, 2.5 m wide and 2.15 m high, with about 136 spheres.
fn arch() -> (Packing, Path) {
    let points: Vec<DVec3> = (0..=200)
        .map(|i| PI * f64::from(i) / 200.0)
        .map(|a| DVec3::new(-1.25 * libm::cos(a), 2.15 * libm::sin(a), 0.0))
        .collect();
    let path = Path::polyline(&points, false).unwrap();
    let packing = pack(&mix(136, 9), &path, &[], &Settings::default());
    (packing, path)
}

fn settings(view: View, show: f64, most: u32) -> FillSettings {
    FillSettings {
        diameter: 4.8 * IN,
        view,
        show,
        most,
        softness: 0.05,
    }
}

fn to_segment(point: DVec3, a: DVec3, b: DVec3) -> f64 {
    let share = ((point - a).dot(b - a) / (b - a).length_squared()).clamp(0.0, 1.0);
    (point - a.lerp(b, share)).length()
}

/// The least distance to the line, by looking at every 2 mm of it.
fn to_line(point: DVec3, path: &Path, packing: &Packing) -> f64 {
    let (first, last) = (
        packing.ties[0] - 3.0,
        packing.ties[packing.ties.len() - 1] + 3.0,
    );
    let steps = ((last - first) / 0.002) as u32;
    (0..=steps)
        .map(|i| first + f64::from(i) * 0.002)
        .map(|t| (path.point(t) - point).length())
        .fold(f64::INFINITY, f64::min)
}

/// Each filler touches three spheres or two and the line, overlaps nothing, stays out of obstacles and reaches its tie.
fn check(packing: &Packing, path: &Path, obstacles: &[Obstacle], filling: &Filling) {
    for (n, filler) in filling.fillers.iter().enumerate() {
        let mut touching = 0;
        for ball in &packing.balls {
            let apart = (ball.centre - filler.centre).length();
            let least = 0.95 * (ball.radius + filler.radius);
            assert!(
                apart > least - 1e-6,
                "filler {n} is {} too near",
                least - apart
            );
            touching += u32::from(apart < least + 1e-6);
        }
        let off = to_line(filler.centre, path, packing);
        assert!(
            off > 0.9 * filler.radius - 1e-4,
            "filler {n} on the line: {off}"
        );
        // on a bent line, taken as straight beside the filler, to a few millimetres
        let on_line = (off - filler.radius).abs() < 4e-3;
        assert!(
            touching >= 3 || (touching == 2 && on_line),
            "filler {n} touches {touching}, line {off}"
        );
        for other in &filling.fillers[..n] {
            let apart = (other.centre - filler.centre).length();
            assert!(apart > 0.95 * (other.radius + filler.radius) - 1e-6);
        }
        for obstacle in obstacles {
            let room = match *obstacle {
                Obstacle::HalfSpace { point, normal } => (filler.centre - point).dot(normal),
                Obstacle::Capsule { from, to, radius } => {
                    to_segment(filler.centre, from, to) - radius
                }
                Obstacle::Along { offset, radius } => {
                    to_line(filler.centre - offset, path, packing) - radius
                }
            };
            // a bent rod is looked at in short straight pieces
            assert!(room > filler.radius - 1e-4, "filler {n} in an obstacle");
        }
        let tie = packing.ties[filler.near as usize];
        let far = (path.point(tie) - filler.centre).length();
        for tie in &packing.ties {
            assert!(far <= (path.point(*tie) - filler.centre).length() + 1e-9);
        }
        let reach = packing
            .balls
            .iter()
            .zip(&packing.reach)
            .filter(|(b, _)| b.cluster == filler.near)
            .map(|(_, reach)| *reach)
            .fold(0.0, f64::max);
        assert!(
            far - filler.radius <= reach + 1e-9,
            "filler {n} out of reach"
        );
    }
}

/// Share of the line that shows, by every ray against every sphere; from all sides without the other leg of an arch.
fn shows(packing: &Packing, path: &Path, filling: &Filling, view: View) -> f64 {
    let mut spheres: Vec<(DVec3, f64)> =
        packing.balls.iter().map(|b| (b.centre, b.radius)).collect();
    spheres.extend(filling.fillers.iter().map(|f| (f.centre, f.radius)));
    let (first, last) = (packing.ties[0], packing.ties[packing.ties.len() - 1]);
    let steps = ((last - first) / 0.004) as u32;
    let (mut open, mut all) = (0u32, 0u32);
    for i in 0..steps {
        let frame = path.frame(first + (f64::from(i) + 0.5) * 0.004);
        let sides: Vec<DVec3> = match view {
            View::From(towards) => vec![towards.normalize()],
            View::AllSides => (0..12)
                .map(|k| TAU * f64::from(k) / 12.0)
                .map(|a| frame.normal * libm::cos(a) + frame.binormal * libm::sin(a))
                .collect(),
        };
        for side in sides {
            let hidden = spheres.iter().any(|(centre, radius)| {
                let to = *centre - frame.point;
                let along = to.dot(side);
                let half = radius * radius - (to - side * along).length_squared();
                let beside = view != View::AllSides || to.length() < 0.8;
                beside && half > 0.0 && along + half.sqrt() > LINE
            });
            open += u32::from(!hidden);
            all += 1;
        }
    }
    f64::from(open) / f64::from(all)
}

#[test]
fn every_filler_sits_in_a_pocket_and_what_shows_is_true() {
    for (packing, path) in [straight(), arch()] {
        for view in [View::AllSides, View::From(DVec3::new(0.1, -0.2, 3.0))] {
            let filling = fillers(&packing, &path, &[], &settings(view, 0.0, 60));
            check(&packing, &path, &[], &filling);
            assert!(!filling.fillers.is_empty());
            let none = Filling::default();
            let (before, after) = (
                shows(&packing, &path, &none, view),
                shows(&packing, &path, &filling, view),
            );
            assert!(
                (before - filling.shows_before).abs() < 0.01,
                "{view:?}: {before}"
            );
            // places are a centimetre apart, and what fillers leave open are slivers between them
            assert!(
                (after - filling.shows_after).abs() < 0.02,
                "{view:?}: {after}"
            );
            assert!(
                filling.shows_after < 0.6 * filling.shows_before,
                "{filling:?}"
            );
        }
    }
}

#[test]
fn there_are_no_more_fillers_than_wanted() {
    let (packing, path) = arch();
    let all = fillers(&packing, &path, &[], &settings(View::AllSides, 0.0, 1000));
    assert_eq!(
        all,
        fillers(&packing, &path, &[], &settings(View::AllSides, 0.0, 1000))
    );
    for most in [0, 1, 7] {
        let few = fillers(&packing, &path, &[], &settings(View::AllSides, 0.0, most));
        assert_eq!(few.fillers, all.fillers[..most as usize]);
        assert_eq!(few.shows_before, all.shows_before);
    }
    // the target is met, and not before the last filler
    let show = (all.shows_before + all.shows_after) / 2.0;
    let met = fillers(&packing, &path, &[], &settings(View::AllSides, show, 1000));
    assert!(met.shows_after <= show, "{}", met.shows_after);
    let last = met.fillers.len() as u32 - 1;
    let short = fillers(&packing, &path, &[], &settings(View::AllSides, show, last));
    assert!(short.shows_after > show, "{}", short.shows_after);
    let already = fillers(&packing, &path, &[], &settings(View::AllSides, 0.5, 1000));
    assert!(already.fillers.is_empty());
    assert_eq!(already.shows_after, already.shows_before);
}

/// Packed with fillers as spheres of their own, the garland shows what the filling says.
#[test]
fn with_the_fillers_in_it_shows_what_was_said() {
    let (mut packing, path) = straight();
    for view in [View::AllSides, View::From(DVec3::Y)] {
        let filling = fillers(&packing, &path, &[], &settings(view, 0.0, 20));
        let without = packing.clone();
        for filler in &filling.fillers {
            packing.balls.push(Ball {
                centre: filler.centre,
                radius: filler.radius,
                cluster: filler.near,
            });
            packing
                .reach
                .push((path.point(packing.ties[filler.near as usize]) - filler.centre).length());
        }
        let again = fillers(&packing, &path, &[], &settings(view, 0.0, 0));
        assert!(
            (again.shows_before - filling.shows_after).abs() < 1e-3,
            "{view:?}"
        );
        packing = without;
    }
}

/// Three touching spheres of radius 1 with the line behind their gap: a filler of radius r rests at √((1 + r)² − 4/3) before
/// or behind the plane of their centres (the circumradius of their triangle is 2/√3).
#[test]
fn the_pocket_of_three_touching_spheres() {
    let (unit, part) = (0.14, 0.45);
    let path = Path::straight(DVec3::ZERO, DVec3::X);
    let circle = 2.0 / 3f64.sqrt() * unit;
    let plane = 0.6 * unit;
    let mut packing = Packing {
        ties: vec![0.0],
        ..Packing::default()
    };
    for k in 0..3 {
        let angle = TAU * (f64::from(k) + 0.3) / 3.0;
        packing.balls.push(Ball {
            centre: DVec3::new(circle * libm::cos(angle), circle * libm::sin(angle), plane),
            radius: unit,
            cluster: 0,
        });
        packing.reach.push(2.0 * unit);
    }
    let how = FillSettings {
        diameter: 2.0 * part * unit,
        view: View::From(DVec3::Z),
        show: 0.0,
        most: 9,
        softness: 0.0,
    };
    let filling = fillers(&packing, &path, &[], &how);
    assert_eq!((filling.shows_before, filling.shows_after), (1.0, 0.0));
    let [filler] = filling.fillers[..] else {
        panic!("{filling:?}");
    };
    let up = unit * ((1.0 + part) * (1.0 + part) - 4.0 / 3.0).sqrt();
    let at = DVec3::new(0.0, 0.0, plane + up);
    assert!((filler.centre - at).length() < 1e-9, "{filler:?}");
    // with a wall before it there is no room on that side, and the other pocket lies on the line
    let wall = Obstacle::HalfSpace {
        point: DVec3::Z * (plane + up),
        normal: DVec3::NEG_Z,
    };
    let none = fillers(&packing, &path, &[wall], &how);
    assert!(none.fillers.is_empty(), "{none:?}");
}

/// A tube along the back and a wall behind it: fillers stay out of both, and the tube counts among what shows.
#[test]
fn tubes_and_walls() {
    let path = Path::straight(DVec3::ZERO, DVec3::X * 3.0);
    let tube = Obstacle::Capsule {
        from: DVec3::new(-0.2, 0.0, -0.1),
        to: DVec3::new(4.0, 0.0, -0.1),
        radius: 0.02,
    };
    let wall = Obstacle::HalfSpace {
        point: DVec3::NEG_Z * 0.13,
        normal: DVec3::Z,
    };
    let obstacles = [tube, wall];
    let packing = pack(&mix(70, 5), &path, &obstacles, &Settings::default());
    let how = settings(View::AllSides, 0.0, 60);
    let filling = fillers(&packing, &path, &obstacles, &how);
    assert!(!filling.fillers.is_empty());
    check(&packing, &path, &obstacles, &filling);
    assert!(filling.shows_after < filling.shows_before);
    let bare = fillers(&packing, &path, &[wall], &how);
    assert!(bare.shows_before != filling.shows_before);
    // a thin tube that the line runs in shows where the line would
    let along = Obstacle::Capsule {
        from: DVec3::NEG_X,
        to: DVec3::X * 6.0,
        radius: 0.002,
    };
    let (line, tube_on_line) = (
        fillers(&packing, &path, &[], &how).shows_before,
        fillers(&packing, &path, &[along], &how).shows_before,
    );
    // the tube also shows from its last tie to the ends of the spheres' reach: some 0.15 m at each end of 3 m
    assert!((tube_on_line - line).abs() < 0.1, "{line} {tube_on_line}");
    // without the wall the tube is looked at from behind too, where no sphere can be in front of it
    let open = fillers(&packing, &path, &[tube], &how);
    assert!(
        open.shows_before > filling.shows_before,
        "{} {}",
        open.shows_before,
        filling.shows_before
    );
}

/// The tube of a frame that bends with the line: fillers stay out of it and hide it, and it shows as a straight one of the same place does.
#[test]
fn a_tube_along_the_line() {
    let how = settings(View::AllSides, 0.0, 60);
    let tube = Obstacle::Along {
        offset: DVec3::Z * -0.018,
        radius: 0.016,
    };
    let bent: Vec<DVec3> = (0..=60)
        .map(|i| std::f64::consts::PI * (1.0 - f64::from(i) / 60.0))
        .map(|a| DVec3::new(1.2 * libm::cos(a), 1.6 * libm::sin(a), 0.0))
        .collect();
    let arch = Path::polyline(&bent, false).unwrap();
    let packing = pack(&mix(70, 5), &arch, &[tube], &Settings::default());
    let filling = fillers(&packing, &arch, &[tube], &how);
    assert!(!filling.fillers.is_empty());
    check(&packing, &arch, &[tube], &filling);
    assert!(filling.shows_after < filling.shows_before);

    let line = Path::straight(DVec3::ZERO, DVec3::X * 6.0);
    let packing = pack(&mix(70, 5), &line, &[tube], &Settings::default());
    let straight = Obstacle::Capsule {
        from: DVec3::Z * -0.018,
        to: DVec3::new(6.0, 0.0, -0.018),
        radius: 0.016,
    };
    let shows = |rod| fillers(&packing, &line, &[rod], &how).shows_before;
    assert!((shows(tube) - shows(straight)).abs() < 0.01);
}

#[test]
fn absurd_wishes_find_an_end() {
    let (packing, path) = straight();
    for diameter in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e-6, 3.0] {
        for view in [
            View::AllSides,
            View::From(DVec3::ZERO),
            View::From(DVec3::NAN),
        ] {
            let how = FillSettings {
                diameter,
                ..settings(view, f64::NAN, 5)
            };
            let filling = fillers(&packing, &path, &[], &how);
            check(&packing, &path, &[], &filling);
            assert!(filling.shows_after <= filling.shows_before);
        }
    }
    let nothing = fillers(
        &Packing::default(),
        &path,
        &[],
        &settings(View::AllSides, 0.0, 5),
    );
    assert_eq!(nothing, Filling::default());
}

use job::Job;
use job::piece::{Frame, FrameForm, Garland, Mount, Piece, PieceKind, Shade, Shape, Size};
use job::set_piece::{FoilStand, Foils};

use super::place::{Place, corners};
use super::*;
use crate::types::PackedBall;

fn garland(shape: Shape) -> Piece {
    let mut garland = Garland {
        shape,
        length_mm: 3000,
        span_mm: 2600,
        rise_mm: if shape == Shape::Arch { 2200 } else { 500 },
        ..Garland::default()
    };
    garland.mix.insert("m".into(), Size::default());
    let shade = Shade {
        colour: "c".into(),
        ..Shade::default()
    };
    garland.palette.insert("s".into(), shade);
    Piece {
        garland,
        ..Piece::default()
    }
}

fn job(pieces: Vec<(&str, Piece)>) -> Job {
    let mut job = Job::default();
    for (id, piece) in pieces {
        job.pieces.insert(id.into(), piece);
    }
    job
}

fn gate() -> Piece {
    Piece {
        kind: PieceKind::Frame,
        ..Piece::default()
    }
}

fn of(job: &Job) -> Scene {
    scene(job, &crate::plan(job, None))
}

// Elementary geometry: a quarter turn against the clock, seen from above with x right and z down, takes x to -z.
#[test]
fn a_turn_is_against_the_clock_from_above() {
    let place = Place::of(&Piece {
        x_mm: 100,
        turn_deg: 90,
        ..Piece::default()
    });
    assert_eq!(place.put([500, 70, 0]), [1000, 70, -500]);
    assert_eq!(place.put([0, 0, 500]), [1500, 0, 0]);
    let eighth = Place::of(&Piece {
        turn_deg: 45,
        ..Piece::default()
    });
    assert_eq!(eighth.put([10_000, 0, 0]), [7071, 0, -7071]);
}

// A box keeps its distance from corner to corner however it is turned.
#[test]
fn a_turned_box_keeps_its_diagonal() {
    for turn_deg in [0, 30, 90, 211] {
        let panel = ScenePanel {
            low: [0, 0, 0],
            high: [3000, 4000, 0],
            turn_deg,
            ..ScenePanel::default()
        };
        let all = corners(&panel);
        let d: f64 = (0..3)
            .map(|i| ((all[7][i] - all[0][i]) as f64).powi(2))
            .sum();
        assert!((d.sqrt() - 5000.0).abs() < 2.0, "{turn_deg}: {d}");
    }
}

#[test]
fn every_ball_of_the_line_is_shown_once_and_in_its_size() {
    for shape in [Shape::Straight, Shape::Arch, Shape::Swag] {
        let job = job(vec![("a", garland(shape))]);
        let plan = crate::plan(&job, None);
        let scene = scene(&job, &plan);
        let counted = plan.pieces[0].garland.as_ref().unwrap();
        let want: Vec<i64> = counted
            .clusters
            .iter()
            .flat_map(|c| c.balls.iter().map(|b| b.blown_dmm / 2))
            .collect();
        let line = scene.balls.iter().filter(|b| b.kind == BallKind::Line);
        let got: Vec<i64> = line.map(|b| b.r).collect();
        assert_eq!(got.len(), want.len(), "{shape:?}");
        assert!(scene.low[1] >= -3000, "{shape:?} lies under the floor");
        for axis in 0..3 {
            let least = scene.balls.iter().map(|b| b.at[axis] - b.r).min().unwrap();
            assert!(scene.low[axis] <= least);
        }
    }
}

#[test]
fn packed_balls_stand_where_they_were_packed() {
    let job = job(vec![("a", garland(Shape::Arch))]);
    let mut plan = crate::plan(&job, None);
    let packed = plan.pieces[0].garland.as_mut().unwrap();
    let count: usize = packed.clusters.iter().map(|c| c.balls.len()).sum();
    packed.packed = (0..count)
        .map(|n| PackedBall {
            at: [n as i64, 2 * n as i64, 3 * n as i64],
            r: 1000 + n as i64,
        })
        .collect();
    let scene = scene(&job, &plan);
    for (n, ball) in scene.balls.iter().take(count).enumerate() {
        let n = n as i64;
        assert_eq!((ball.at, ball.r), ([n, 2 * n, 3 * n], 1000 + n));
    }
}

#[test]
fn a_garland_on_a_frame_shares_its_place_and_its_middle() {
    let frame = Piece {
        x_mm: 5000,
        z_mm: -700,
        ..gate()
    };
    let hung = Piece {
        on: "f".into(),
        ..garland(Shape::Straight)
    };
    let job = job(vec![("a", hung), ("f", frame)]);
    let plan = crate::plan(&job, None);
    let scene = scene(&job, &plan);
    let line: Vec<&SceneTube> = scene
        .tubes
        .iter()
        .filter(|t| t.what == TubeKind::Line)
        .collect();
    let (first, last) = (line[0].from, line[line.len() - 1].to);
    // a frame of 2000 mm at 5000 mm has its middle at 6000 mm, and its bar at 2200 mm; the garland is 3 m, its line from tie to tie
    let ties = &plan.pieces[0].garland.as_ref().unwrap().ties_mm;
    assert_eq!(first[0], 60_000 - 15_000 + ties[0] * 10);
    assert_eq!(last[0], 60_000 - 15_000 + ties[ties.len() - 1] * 10);
    assert_eq!(first[1], 22_000);
    assert!(first[2] > -7000 && first[2] < -6000);
}

#[test]
fn every_form_of_frame_stands_on_the_floor_in_its_measures() {
    for form in [
        FrameForm::Gate,
        FrameForm::Arch,
        FrameForm::Hoop,
        FrameForm::Backdrop,
        FrameForm::Rail,
        FrameForm::Mesh,
    ] {
        let piece = Piece {
            frame: Frame {
                form,
                ..Frame::default()
            },
            ..gate()
        };
        let scene = of(&job(vec![("f", piece)]));
        // the default frame is 2000 by 2200 mm; half a tube or a plate stands out
        let (wide, high) = (scene.high[0] - scene.low[0], scene.high[1]);
        assert!((20_000..=23_100).contains(&wide), "{form:?} {wide}");
        assert!((22_000..=22_500).contains(&high), "{form:?} {high}");
        assert!((-500..=100).contains(&scene.low[1]), "{form:?}");
    }
}

#[test]
fn one_piece_alone_keeps_its_frame() {
    let hung = Piece {
        on: "f".into(),
        ..garland(Shape::Arch)
    };
    let job = job(vec![
        ("a", hung),
        ("b", garland(Shape::Swag)),
        ("f", gate()),
    ]);
    let all = of(&job);
    let only = all.only(&job, "a");
    assert!(only.balls.iter().all(|b| b.piece == "a") && !only.balls.is_empty());
    assert!(only.tubes.iter().any(|t| t.piece == "f"));
    assert!(only.tubes.iter().all(|t| t.piece != "b"));
    assert_eq!(
        of(&Job::default()),
        Scene {
            stride: 1,
            ..Scene::default()
        }
    );
}

#[test]
fn pieces_without_places_are_staged_side_by_side() {
    let hung = Piece {
        on: "f".into(),
        ..garland(Shape::Arch)
    };
    let mut job = job(vec![
        ("a", hung),
        ("b", garland(Shape::Swag)),
        ("f", gate()),
    ]);
    let plan = crate::plan(&job, None);
    let all = staged(&job, &plan);
    let part = |pieces: [&str; 2]| {
        let mut part = all.clone();
        part.balls.retain(|b| pieces.contains(&b.piece.as_str()));
        part.tubes.retain(|t| pieces.contains(&t.piece.as_str()));
        part.panels.retain(|p| pieces.contains(&p.piece.as_str()));
        bounds(&part)
    };
    let (arch, swag) = (part(["a", "f"]), part(["b", "b"]));
    let apart = (swag.0[0] - arch.1[0]).max(arch.0[0] - swag.1[0]);
    assert_eq!(apart, 5000);
    // one place, and all stand where they stand
    if let Some(piece) = job.pieces.get_mut("b") {
        piece.x_mm = 10;
    }
    let plan = crate::plan(&job, None);
    assert_eq!(staged(&job, &plan), scene(&job, &plan));
}

// A foil "in a garland" has its middle so far along the line as it says, and stands before the balls; unplaced pieces take it along.
#[test]
fn foils_stand_in_their_garland() {
    let mut foils = Piece {
        kind: PieceKind::Foils,
        on: "a".into(),
        ..Piece::default()
    };
    foils.foils = Foils {
        text: "3".into(),
        colour: "c".into(),
        stand: FoilStand::InGarland,
        along_mm: 1200,
        ..Foils::default()
    };
    let mut place = garland(Shape::Straight);
    place.x_mm = 700;
    let mut job = job(vec![("a", place), ("b", foils)]);
    let all = of(&job);
    let strokes = || all.tubes.iter().filter(|t| t.what == TubeKind::Foil);
    let spots = || strokes().flat_map(|t| [(t.from, t.r), (t.to, t.r)]);
    let side = |axis: usize| {
        let low = spots().map(|(p, r)| p[axis] - r).min().unwrap();
        (low + spots().map(|(p, r)| p[axis] + r).max().unwrap()) / 2
    };
    // 700 mm to the right and 1200 mm along; the strokes are drawn to a tenth of a millimetre
    assert!((side(0) - 19_000).abs() <= 20, "{}", side(0));
    let line = all.tubes.iter().find(|t| t.what == TubeKind::Line).unwrap();
    assert!((side(1) - line.from[1]).abs() <= 20);
    assert!(side(2) > line.from[2] + 500);
    // each of the two is seen with the other
    for piece in ["a", "b"] {
        let seen = all.only(&job, piece);
        assert!(!seen.balls.is_empty() && seen.balls.iter().all(|b| b.piece == "a"));
        assert!(seen.tubes.iter().any(|t| t.piece == "b"), "{piece}");
    }
    // where nothing is placed, a foil moves with its garland beside what comes before
    job.pieces.get_mut("a").unwrap().x_mm = 0;
    job.pieces.insert("A".into(), garland(Shape::Swag));
    let plan = crate::plan(&job, None);
    let (as_is, moved) = (scene(&job, &plan), staged(&job, &plan));
    let by = |piece: &str| {
        let first = |s: &Scene| s.tubes.iter().find(|t| t.piece == piece).unwrap().from[0];
        first(&moved) - first(&as_is)
    };
    assert!(by("a") > 20_000, "{}", by("a"));
    assert_eq!(by("a"), by("b"));
}

#[test]
fn what_is_inside_a_ball_is_known_to_the_picture() {
    let mut piece = garland(Shape::Straight);
    if let Some(shade) = piece.garland.palette.get_mut("s") {
        shade.inside = "d".into();
    }
    let scene = of(&job(vec![("a", piece)]));
    assert!(!scene.balls.is_empty() && scene.balls.iter().all(|b| b.inside == "d"));
}

// A garland up a stair hangs on the rail: 950 mm over the steps, which are drawn from the floor up.
#[test]
fn a_stair_is_drawn_under_its_garland() {
    let mut piece = garland(Shape::Stair);
    piece.mount = Mount::StairRail;
    let scene = of(&job(vec![("a", piece)]));
    let steps: Vec<_> = scene
        .panels
        .iter()
        .filter(|p| p.what == PanelKind::Step)
        .collect();
    // 500 mm in steps of about 175 mm
    assert_eq!(steps.len(), 2);
    assert!(steps.iter().all(|s| s.low[1] == 0));
    assert_eq!(steps[1].high[1], 5000);
    let line = scene.tubes.iter().find(|t| t.what == TubeKind::Line);
    assert!(line.unwrap().from[1] > 9500);
}

// A panel, a mesh, balusters and the rail of a stair stand behind the balls that lean on them: none is in them.
#[test]
fn balls_stand_before_what_they_lean_on() {
    for (mount, form) in [
        (Mount::Backdrop, FrameForm::Backdrop),
        (Mount::Grid, FrameForm::Mesh),
        (Mount::StairRail, FrameForm::Rail),
    ] {
        let mut frame = gate();
        frame.frame.form = form;
        let hung = Piece {
            on: "f".into(),
            mount,
            ..garland(Shape::Straight)
        };
        let scene = of(&job(vec![("a", hung), ("f", frame)]));
        let back = scene.balls.iter().map(|b| b.at[2] - b.r).min().unwrap();
        let panels = scene
            .panels
            .iter()
            .filter(|p| p.what == PanelKind::Backdrop);
        let front = panels.map(|p| p.high[2]).max();
        // the axes of wires and balusters; a foot of the frame runs from back to front under everything
        let axes = scene.tubes.iter().filter(|t| {
            t.what == TubeKind::Frame && t.from[2] == t.to[2] && t.from[1] + t.to[1] > 2000
        });
        let front = front.or(axes.map(|t| t.from[2]).max()).unwrap();
        assert!(back >= front, "{form:?}: {back} behind {front}");
        assert!(back <= front + 500, "{form:?}: {back} far before {front}");
    }
    let stair = Piece {
        mount: Mount::StairRail,
        ..garland(Shape::Stair)
    };
    let scene = of(&job(vec![("a", stair)]));
    let back = scene.balls.iter().map(|b| b.at[2] - b.r).min().unwrap();
    let rail = scene.tubes.iter().filter(|t| t.what == TubeKind::Frame);
    let front = rail.map(|t| t.from[2] + t.r).max().unwrap();
    assert!(back >= front && back <= front + 500, "{back} and {front}");
}

// Half an arch: its foot under its left end or its right, its line on the floor there and at its rise at the other side; the frame
// that follows it stands on one foot, with a bar on the floor under what reaches over.
#[test]
fn half_an_arch_stands_on_one_foot() {
    for mirrored in [false, true] {
        let mut half = garland(Shape::HalfArch);
        (half.garland.span_mm, half.garland.rise_mm) = (1600, 2200);
        half.garland.mirrored = mirrored;
        half.on = "f".into();
        let mut frame = gate();
        (frame.frame.width_mm, frame.frame.form) = (1600, FrameForm::Arch);
        let scene = of(&job(vec![("a", half), ("f", frame)]));
        let line: Vec<_> = scene
            .tubes
            .iter()
            .filter(|t| t.what == TubeKind::Line)
            .collect();
        let (first, last) = (line[0].from, line[line.len() - 1].to);
        let (foot, end) = if mirrored { (16_000, 0) } else { (0, 16_000) };
        // the line runs from the first tie to the last, half a balloon within the tips
        assert!(
            (first[0] - foot).abs() < 500 && first[1] < 2000,
            "{first:?}"
        );
        assert!((last[0] - end).abs() < 2000 && last[1] > 21_000, "{last:?}");
        let feet: Vec<_> = scene
            .panels
            .iter()
            .filter(|p| p.what == PanelKind::Foot)
            .map(|p| (p.low[0] + p.high[0]) / 2)
            .collect();
        assert_eq!(feet, [foot]);
        let on_floor = |t: &&SceneTube| t.piece == "f" && t.from[1].max(t.to[1]) < 500;
        let under: i64 = scene
            .tubes
            .iter()
            .filter(on_floor)
            .map(|t| (t.from[0] - t.to[0]).abs())
            .max()
            .unwrap_or(0);
        assert_eq!(under, 16_000);
        assert!(scene.low[1] >= -500, "no ball goes through the floor");
    }
}

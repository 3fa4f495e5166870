//! How long a still takes. Prints the best and the middle of several runs; nothing here can fail.
#![expect(
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock; it never runs on wasm32"
)]
#![expect(clippy::print_stdout, reason = "this is what a benchmark is for")]

use std::hint::black_box;
use std::time::Instant;

use job::Job;
use job::piece::{Garland, Piece, Shade, Shape, Size};
use papers::still::{Angle, Behind, View, still};

/// A job with one garland: rounds of 11 in blown to 6–10 in, of 16 in to 15–16 in, of 5 in to 4–5 in.
fn job(shape: Shape, length_mm: i64) -> Job {
    let mut garland = Garland {
        shape,
        length_mm,
        span_mm: 3_000,
        rise_mm: 2_200,
        ..Garland::default()
    };
    for (i, (size_in, share_pct, from_dmm, to_dmm)) in [
        (11, 70, 1524, 2540),
        (16, 15, 3810, 4064),
        (5, 15, 1016, 1270),
    ]
    .into_iter()
    .enumerate()
    {
        garland.mix.insert(
            format!("s{i}"),
            Size {
                size_in,
                share_pct,
                from_dmm,
                to_dmm,
                ..Size::default()
            },
        );
    }
    garland.palette.insert("e".into(), Shade::default());
    let mut job = Job::default();
    job.pieces.insert(
        "p".into(),
        Piece {
            garland,
            ..Piece::default()
        },
    );
    job
}

fn measure(name: &str, job: &Job, size: [u32; 2], behind: Behind<'_>, runs: usize) {
    let plan = plan::plan(job, None);
    let scene = plan::scene::scene(job, &plan);
    let view = View {
        width: size[0],
        height: size[1],
        angle: Angle::Framed {
            yaw_deg: 0.0,
            pitch_deg: 3.0,
        },
        behind,
    };
    let mut took: Vec<[f64; 2]> = (0..runs)
        .map(|_| {
            let start = Instant::now();
            let picture = still(job, &plan, black_box(&scene), &view);
            let cast = start.elapsed().as_secs_f64() * 1e3;
            let bytes = picture.and_then(|p| p.png()).map_or(0, |b| b.len());
            black_box(bytes);
            [cast, start.elapsed().as_secs_f64() * 1e3 - cast]
        })
        .collect();
    took.sort_by(|a, b| a[0].total_cmp(&b[0]));
    println!(
        "{name}, {} x {}: {} balls, cast best {:.0} ms, middle {:.0} ms; PNG {:.0} ms",
        size[0],
        size[1],
        scene.balls.len(),
        took[0][0],
        took[runs / 2][0],
        took[0][1],
    );
}

fn main() {
    let big = [1600, 1000];
    measure("arch", &job(Shape::Arch, 0), big, Behind::Paper, 9);
    measure("arch, clear", &job(Shape::Arch, 0), big, Behind::Clear, 9);
    measure(
        "straight, 4 m",
        &job(Shape::Straight, 4_000),
        big,
        Behind::Paper,
        9,
    );
    measure(
        "straight, 30 m",
        &job(Shape::Straight, 30_000),
        big,
        Behind::Paper,
        3,
    );
    measure(
        "straight, 300 m",
        &job(Shape::Straight, 300_000),
        big,
        Behind::Paper,
        3,
    );
}

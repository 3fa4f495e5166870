//! How long a garland takes to count, a plan to make, its work to time and its load to stow. Prints the best and the middle of several runs; nothing here can fail.
#![expect(
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock; it never runs on wasm32"
)]
#![expect(clippy::print_stdout, reason = "this is what a benchmark is for")]

use std::hint::black_box;
use std::time::{Duration, Instant};

use plan::{Depth, Memory};

use job::Job;
use job::piece::{Arrangement, Garland, Piece, Shade, Shape, Size};

/// A job with one garland: rounds of 11 in blown to 6–10 in, of 16 in to 15–16 in, of 5 in to 4–5 in; four colours.
fn job(shape: Shape, length_mm: i64, arrangement: Arrangement) -> Job {
    let sizes = [
        (11, 70, 1524, 2540),
        (16, 15, 3810, 4064),
        (5, 15, 1016, 1270),
    ];
    let mut garland = Garland {
        shape,
        length_mm,
        span_mm: 5_000,
        rise_mm: 3_000,
        quads_pct: 50,
        sixes_pct: 35,
        eights_pct: 15,
        arrangement,
        ..Garland::default()
    };
    for (i, (size_in, share_pct, from_dmm, to_dmm)) in sizes.into_iter().enumerate() {
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
    for (i, share_pct) in [40, 30, 20, 10].into_iter().enumerate() {
        garland.palette.insert(
            format!("e{i}"),
            Shade {
                colour: format!("c{i}"),
                share_pct,
                ..Shade::default()
            },
        );
    }
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

fn measure(name: &str, runs: usize, job: &Job) {
    let mut took: Vec<f64> = (0..runs)
        .map(|_| {
            let start = Instant::now();
            black_box(plan::pieces::count(black_box(job)));
            start.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    took.sort_by(f64::total_cmp);
    let balloons: i64 = plan::pieces::count(job)
        .pieces
        .iter()
        .map(|p| p.balloons)
        .sum();
    println!(
        "{name}: {balloons} balloons, best {:.2} ms, middle {:.2} ms",
        took[0],
        took[runs / 2]
    );
}

/// The whole plan of the demo job, and one garland of it edited, at each depth.
fn demo_plan() {
    let (demo, private) = job::demo::demo(&job::defaults::starting_books(), "2027-06-12");
    for depth in [Depth::Instant, Depth::Preview, Depth::Final] {
        let mut best = Duration::MAX;
        for _ in 0..8 {
            let start = Instant::now();
            let plan = plan::plan_at(&demo, Some(&private), depth, &mut Memory::default());
            best = best.min(start.elapsed());
            black_box(plan);
        }
        let plan = plan::plan_at(&demo, Some(&private), depth, &mut Memory::default());
        let garlands: Vec<String> = plan
            .pieces
            .iter()
            .filter_map(|p| p.garland.as_ref())
            .map(|g| {
                format!(
                    "{} balls, {} on the line, {} mm of {}, {} wide, {:?}, {} fillers, shows {} to {}",
                    g.balls, g.on_line, g.length_mm, g.path_mm, g.width_mm, g.range, g.fillers_at.len(),
                    g.shows_before_pm, g.shows_after_pm
                )
            })
            .collect();
        println!(
            "demo plan, {depth:?}: {:.1} ms; {}",
            best.as_secs_f64() * 1e3,
            garlands.join("; ")
        );
    }
}

/// The demo job with everything in it so many times over, and four people for it.
fn weekend(times: usize) -> Job {
    let (mut job, _) = job::demo::demo(&job::defaults::starting_books(), "2027-06-12");
    let pieces = job.pieces.clone();
    for n in 1..times {
        for (id, piece) in &pieces {
            let mut piece = piece.clone();
            if !piece.on.is_empty() {
                piece.on = format!("{}{n}", piece.on);
            }
            job.pieces.insert(format!("{id}{n}"), piece);
        }
    }
    let crew = job.crew.clone();
    for (id, person) in crew {
        job.crew.insert(format!("{id}-too"), person);
    }
    job
}

/// The least of several runs, ms.
fn least(mut run: impl FnMut()) -> f64 {
    let mut best = Duration::MAX;
    for _ in 0..8 {
        let start = Instant::now();
        run();
        best = best.min(start.elapsed());
    }
    best.as_secs_f64() * 1e3
}

/// The times and the load by themselves, of the demo job and of larger ones.
fn times_and_load() {
    let (demo, _) = job::demo::demo(&job::defaults::starting_books(), "2027-06-12");
    for (name, job) in [
        ("demo", demo),
        ("three times the demo, four people", weekend(3)),
        ("six times the demo, four people", weekend(6)),
    ] {
        let counted = plan::pieces::count(&job);
        let (order, _) = plan::order::order(&job, None, &counted);
        for depth in [Depth::Instant, Depth::Preview, Depth::Final] {
            let mut stowed = plan::load::Stowed::default();
            let stow = |known: &mut _| plan::load::load(&job, &counted, &order, depth, known);
            let (load, _) = stow(&mut stowed);
            let loading = least(|| {
                black_box(stow(&mut plan::load::Stowed::default()));
            });
            let time = |known: &mut _| plan::times::schedule(&job, &counted, &load, depth, known);
            let timing = least(|| {
                black_box(time(&mut plan::times::Known::default()));
            });
            let mut known = plan::times::Known::default();
            let timed = time(&mut known);
            let again = least(|| {
                black_box(time(&mut known));
            });
            println!(
                "{name}, {depth:?}: load of {} in {loading:.1} ms; {} tasks timed in {timing:.1} ms, {again:.1} again, with {} steps, {:?} s from the latest start",
                load.parcels.len(),
                timed.tasks.len(),
                timed.work,
                timed.start_gap_s
            );
        }
    }
}

fn main() {
    demo_plan();
    times_and_load();
    use Arrangement::{Blended, Blocks};
    measure("10 m, blocks", 200, &job(Shape::Straight, 10_000, Blocks));
    measure("10 m, blended", 200, &job(Shape::Straight, 10_000, Blended));
    measure("arch 5 m x 3 m", 200, &job(Shape::Arch, 0, Blocks));
    measure("swag 5 m, 3 m", 200, &job(Shape::Swag, 0, Blocks));
    measure("100 m", 20, &job(Shape::Straight, 100_000, Blended));
    let mut tiny = job(Shape::Straight, 100_000, Blended);
    for size in tiny
        .pieces
        .values_mut()
        .flat_map(|p| p.garland.mix.values_mut())
    {
        (size.from_dmm, size.to_dmm) = (300, 360);
    }
    measure("100 m of tiny ones", 3, &tiny);
    for km in [100_000, 1_000_000] {
        for arrangement in [Blocks, Blended] {
            let name = format!("{} m, {arrangement:?}", km / 1000);
            measure(&name, 3, &job(Shape::Straight, km, arrangement));
        }
    }
}

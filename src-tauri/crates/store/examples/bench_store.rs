//! Measures what the store promises: a tick acknowledged on disk, and the list of five thousand jobs.
//!
//! `cargo run --release -p store --example bench_store -- FOLDER`
#![allow(clippy::unwrap_used, reason = "a measurement may stop")]
#![expect(clippy::disallowed_methods, reason = "a measurement reads the clock")]

use std::path::PathBuf;
use std::time::{Duration, Instant};

use job::Edit;
use job::site::Tick;
use serde_json::{Value, json};
use store::{State, Store, Summary};

const TICKS: usize = 1000;
const JOBS: usize = 5000;

fn main() {
    let folder = std::env::args()
        .nth(1)
        .map_or_else(std::env::temp_dir, PathBuf::from);
    let file = folder.join(format!("bench-{}.db", std::process::id()));
    let mut store = Store::open(store::open_file(&file).unwrap()).unwrap();
    store
        .create_job("j", &job(0), Some(&json!({ "format": 1 })), summary)
        .unwrap();
    let fields = fields(&store.job("j").unwrap().value);

    let mut ticks = Vec::new();
    for n in 0..TICKS {
        let tick = Tick {
            step: format!("p{}.hang", n % 150),
            done: true,
            quantity: 12,
            what: "Hang the garland over the stairs".into(),
            ..Tick::default()
        };
        ticks.push(timed(|| {
            store.tick("j", &tick, "Tick", 0, summary).unwrap();
        }));
    }
    report(&format!("one tick on disk, job of {fields} fields"), ticks);

    let mut memory = Store::open(rusqlite::Connection::open_in_memory().unwrap()).unwrap();
    memory
        .create_job("j", &job(0), Some(&json!({ "format": 1 })), summary)
        .unwrap();
    let mut ticks = Vec::new();
    for n in 0..TICKS {
        let tick = Tick {
            step: format!("p{}.hang", n % 150),
            ..Tick::default()
        };
        ticks.push(timed(|| {
            memory.tick("j", &tick, "Tick", 0, summary).unwrap();
        }));
    }
    report("the same without a disk", ticks);
    let reads = (0..200)
        .map(|_| timed(|| drop(summary(&memory.job("j").unwrap()).unwrap())))
        .collect();
    report("of that, the reader's check", reads);

    let mut edits = Vec::new();
    for n in 0..200 {
        let edit = Edit::set(&["venue", "walk_m"], n);
        edits.push(timed(|| {
            store.edit_job("j", &[edit], "Walk", 0, summary).unwrap();
        }));
    }
    report("one edit on disk", edits);

    let mut opened = Vec::new();
    for _ in 0..20 {
        drop(store);
        store = Store::open(store::open_file(&file).unwrap()).unwrap();
        opened.push(timed(|| {
            store.job("j").unwrap();
        }));
    }
    report("job opened from its rows", opened);

    let export = timed(|| {
        store.export_job("j", false).unwrap();
    });
    report("job file written", vec![export]);

    for n in 1..JOBS {
        store
            .create_job(
                &format!("j{n}"),
                &json!({ "name": format!("Job {n}") }),
                None,
                summary,
            )
            .unwrap();
    }
    let lists = (0..20)
        .map(|_| timed(|| assert_eq!(store.list_jobs().unwrap().len(), JOBS)))
        .collect();
    report("list of 5,000 jobs", lists);

    drop(store);
    for end in ["", "-wal", "-shm"] {
        let _ = std::fs::remove_file(format!("{}{end}", file.display()));
    }
}

/// A job of a large evening: sixty pieces with mix and palette.
fn job(n: usize) -> Value {
    let mut value = serde_json::to_value(job::Job {
        name: format!("Job {n}"),
        ..job::Job::default()
    })
    .unwrap();
    let list = |path: &[&str], given: Value| {
        let path: Vec<String> = path.iter().map(ToString::to_string).collect();
        job::complete::complete(&path, &given).unwrap()
    };
    for p in 0..60 {
        let mut piece = list(
            &["pieces"],
            json!({ "name": format!("Piece {p}"), "order": format!("{:02x}80", 128 + p) }),
        );
        for s in 0..4 {
            piece["garland"]["mix"][format!("s{s}")] = list(
                &["pieces", "p", "garland", "mix"],
                json!({ "size_in": 5 + s }),
            );
            piece["garland"]["palette"][format!("c{s}")] = list(
                &["pieces", "p", "garland", "palette"],
                json!({ "colour": format!("c{s}") }),
            );
        }
        value["pieces"][format!("p{p}")] = piece;
    }
    value
}

fn fields(value: &Value) -> usize {
    match value {
        Value::Object(map) => map.values().map(fields).sum(),
        Value::Array(list) => list.iter().map(fields).sum(),
        _ => 1,
    }
}

/// Reads the whole job strictly, as the desk does, and makes a row for the list.
fn summary(state: &State) -> Result<Summary, String> {
    let job = job::read::read_strictly::<job::Job>(&state.value)?;
    Ok(Summary {
        sort: job.times.ready_by.clone(),
        row: json!({
            "name": job.name, "occasion": job.occasion, "venue": job.venue.name, "zone": job.venue.zone,
            "ready_by": job.times.ready_by, "pieces": job.pieces.len(), "ticked": job.ticks.len(),
        }),
    })
}

fn timed(run: impl FnOnce()) -> Duration {
    let start = Instant::now();
    run();
    start.elapsed()
}

fn report(what: &str, mut times: Vec<Duration>) {
    times.sort();
    let at = |share: usize| times[(times.len() - 1) * share / 100].as_secs_f64() * 1e3;
    println!(
        "{what}: median {:.2} ms, 95 % below {:.2} ms, most {:.2} ms",
        at(50),
        at(95),
        at(100)
    );
}

//! Measures a gigabyte of photos: opening, listing, the job file of the largest job in parts, reading it on another device, and how much
//! memory each takes at its peak (Linux only).
//!
//! `cargo run --release -p store --example bench_photos -- FOLDER [MEGABYTES]`
#![allow(clippy::unwrap_used, reason = "a measurement may stop")]
#![expect(clippy::disallowed_methods, reason = "a measurement reads the clock")]

use std::fs::File;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::time::Instant;

use job::{Edit, Part};
use serde_json::{Value, json};
use store::{FilePart, PhotoFolder, State, Store, Summary};

/// Bytes of a photo of 1600 px, as the page makes it smaller.
const PHOTO: usize = 400_000;
/// Jobs: the first has a third of the photos.
const JOBS: usize = 40;
const DAY_MS: i64 = 24 * 3600 * 1000;

fn main() {
    let mut args = std::env::args().skip(1);
    let parent = args.next().map_or_else(std::env::temp_dir, PathBuf::from);
    let megabytes: usize = args.next().map_or(1000, |n| n.parse().unwrap());
    let folder = parent.join(format!("bench-photos-{}", std::process::id()));
    let (here, there) = (folder.join("here"), folder.join("there"));
    let photos = megabytes * 1_000_000 / PHOTO;
    let mut store = open(&here);
    timed("making the photos", || fill(&mut store, photos));
    drop(store);

    let mut store = timed("opening the database", || open(&here));
    let jobs = timed("listing the jobs", || store.list_jobs().unwrap());
    println!("{} jobs, {photos} photos of {PHOTO} bytes", jobs.len());
    timed("opening the job with a third of them", || {
        store.job("j0").unwrap();
    });
    timed("looking for photos that nothing names", || {
        while store.sweep_photos(10 * DAY_MS).unwrap().more {}
    });
    timed("the same once more", || {
        assert!(!store.sweep_photos(10 * DAY_MS).unwrap().more);
    });
    let file = folder.join("j0.airwright");
    let left_out = timed("its job file, written in parts", || {
        let packed = store.pack_job("j0", false).unwrap();
        put_together(&file, &packed.parts, &here.join("photos"));
        packed.left_out
    });
    println!(
        "  {} MB, {left_out} photos left out",
        std::fs::metadata(&file).unwrap().len() / 1_000_000
    );
    timed("the same in one piece", || {
        assert_eq!(
            store.export_job("j0", false).unwrap().len() as u64,
            std::fs::metadata(&file).unwrap().len()
        );
    });
    drop(store);
    let mut other = open(&there);
    timed("taking it in on another device", || {
        let bytes = std::fs::read(&file).unwrap();
        let came = other.open_job_file(&bytes, DAY_MS, summary).unwrap();
        println!("  {} photos came in", came.news.photos);
    });
    std::fs::remove_dir_all(folder).unwrap();
}

fn open(folder: &Path) -> Store {
    std::fs::create_dir_all(folder).unwrap();
    let mut store = Store::open(store::open_file(&folder.join("airwright.db")).unwrap()).unwrap();
    store.keep_photos_in(Box::new(PhotoFolder::open(&folder.join("photos")).unwrap()));
    store
}

fn fill(store: &mut Store, photos: usize) {
    for n in 0..JOBS {
        let job = job::Job {
            name: format!("Job {n}"),
            ..job::Job::default()
        };
        let value = serde_json::to_value(job).unwrap();
        store
            .create_job(&format!("j{n}"), &value, None, summary)
            .unwrap();
    }
    for n in 0..photos {
        let id = match n % 3 {
            0 => "j0".to_string(),
            _ => format!("j{}", 1 + n % (JOBS - 1)),
        };
        let mut bytes = vec![0xff, 0xd8, 0xff, 0xe0];
        bytes.extend(n.to_le_bytes());
        bytes.resize(PHOTO, 0x5a);
        let photo = store.add_photo(&id, &bytes, DAY_MS).unwrap();
        let value = json!({ "hash": photo.hash, "width_px": 1600, "height_px": 1200 });
        let path = vec!["photos".to_string()];
        let edit = Edit::Add {
            part: Part::Job,
            value: job::complete::complete(&path, &value).unwrap(),
            path,
            id: format!("p{n}"),
            before: None,
        };
        store
            .edit_job(&id, &[edit], "Photo", DAY_MS, summary)
            .unwrap();
    }
}

/// What the hosts do: bytes as they come, photos straight from their files.
fn put_together(to: &Path, parts: &[FilePart], photos: &Path) {
    let mut out = File::create(to).unwrap();
    for part in parts {
        match part {
            FilePart::Bytes(bytes) => out.write_all(bytes).unwrap(),
            FilePart::Photo { file, .. } => {
                std::io::copy(&mut File::open(photos.join(file)).unwrap(), &mut out).unwrap();
            }
        }
    }
}

fn summary(state: &State) -> Result<Summary, String> {
    Ok(Summary {
        sort: String::new(),
        row: json!({ "name": state.value.get("name").unwrap_or(&Value::Null) }),
    })
}

/// Does it, and says how long it took and how much more memory it held at its peak than before.
fn timed<T>(what: &str, work: impl FnOnce() -> T) -> T {
    // 5 resets the peak (proc(5), clear_refs)
    let _ = std::fs::write("/proc/self/clear_refs", "5");
    let before = memory("VmRSS:");
    let since = Instant::now();
    let done = work();
    let ms = since.elapsed().as_millis();
    let more = memory("VmHWM:").saturating_sub(before) / 1000;
    println!("{what:<40} {ms:>7} ms {more:>6} MB more at its peak");
    done
}

/// A figure of this process, kB; 0 where the system does not tell.
fn memory(name: &str) -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix(name));
    line.and_then(|line| line.split_whitespace().next()?.parse().ok())
        .unwrap_or(0)
}

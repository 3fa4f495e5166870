//! What released versions and other programs wrote: `tests/formats`.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::path::PathBuf;

use common::*;
use serde_json::{Value, json};
use store::{JobFile, Store};

fn sample(name: &str) -> Vec<u8> {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("../../../tests/formats")
        .join(name);
    std::fs::read(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

fn value(name: &str) -> Value {
    serde_json::from_slice(&sample(name)).unwrap()
}

/// A sample with the empty maps that later formats put beside what it has.
fn grown(name: &str, later: &[&str]) -> Value {
    let mut value = value(name);
    for map in later {
        assert!(value.get(map).is_none(), "{map} was there already");
        value[*map] = Value::Object(serde_json::Map::new());
    }
    value
}

fn opened() -> Store {
    let mut store = memory();
    let came = store
        .open_job_file(&sample("v1.airwright"), NOW, strict)
        .unwrap();
    assert!(came.before.is_none());
    assert_eq!(
        (came.id.as_str(), came.news.ticks, came.news.notes),
        ("sample", 1, 1)
    );
    store
}

#[test]
fn a_job_of_format_1_reads_as_it_was_written_and_goes_on() {
    let mut store = opened();
    let state = store.job("sample").unwrap();
    let grew = [
        job::JOB_TOP_LEVEL_DAY.as_slice(),
        &job::JOB_TOP_LEVEL_PINS,
        &job::JOB_TOP_LEVEL_VANS,
        &job::JOB_TOP_LEVEL_AWAY,
        &job::JOB_TOP_LEVEL_TEAMS,
    ]
    .concat();
    assert_eq!(*state.value, grown("v1.job.json", &grew));
    let later = [
        job::money::BILLS_LEVEL.as_slice(),
        &job::money::TOP_LEVEL_DAY,
    ]
    .concat();
    assert_eq!(
        **state.private.as_ref().unwrap(),
        grown("v1.private.json", &later)
    );
    assert_eq!(
        live(&state.value["doors"]).last().map(String::as_str),
        Some("lift")
    );
    let (job, findings) = job::read::read::<job::Job>((*state.value).clone());
    assert_eq!(findings, []);
    assert_eq!(job.notes["n1"].text, "Ring twice \u{1f388} שלום Ωμέγα");
    store
        .edit_job(
            "sample",
            &[
                set("venue/walk_m", 50),
                shift("doors", "lift", Some("yard")),
            ],
            "x",
            NOW,
            strict,
        )
        .unwrap();
    // and the old file still merges with what became of it
    let came = store
        .open_job_file(&sample("v1.airwright"), NOW, strict)
        .unwrap();
    assert!(came.news.changed.is_empty() && came.conflicts.is_empty());
    assert_eq!(
        store.job("sample").unwrap().value["venue"]["walk_m"],
        json!(50)
    );
}

#[test]
fn the_job_document_of_the_sample_is_the_one_in_its_file() {
    let bytes = sample("v1.airwright");
    let file = JobFile::read(&bytes, NOW).unwrap();
    assert_eq!(file.job, sample("v1.job.automerge"));
    assert_eq!(file.about.format, 1);
}

#[test]
fn a_change_made_by_the_public_javascript_package_merges() {
    let mut store = opened();
    let bytes = sample("v1.airwright");
    let mut file = JobFile::read(&bytes, NOW).unwrap();
    file.job = sample("v1.changed-elsewhere.automerge");
    let came = store
        .open_job_file(&file.write().unwrap(), NOW, strict)
        .unwrap();
    let before = value("v1.job.json");
    let first = before["items"]
        .as_object()
        .unwrap()
        .keys()
        .min()
        .unwrap()
        .clone();
    let expected: Vec<Vec<String>> = vec![
        keys("doors/lift/width_mm"),
        keys(&format!("items/{first}/bags")),
        keys("venue/contact"),
        keys("venue/walk_m"),
    ];
    assert_eq!(came.news.changed, expected);
    let now = store.job("sample").unwrap().value;
    assert_eq!(now["venue"]["walk_m"], json!(62));
    assert_eq!(now["venue"]["contact"], json!("Porter’s lodge ☎ 12"));
    assert_eq!(now["items"][&first]["bags"], json!([20, 100]));
    // a text that the package keeps as characters is one value here, and can be set as one
    store
        .edit_job(
            "sample",
            &[set("venue/contact", "Nobody")],
            "x",
            NOW,
            strict,
        )
        .unwrap();
    store.undo("sample", NOW, strict).unwrap();
    assert_eq!(
        store.job("sample").unwrap().value["venue"]["contact"],
        json!("Porter’s lodge ☎ 12")
    );
}

/// The two changes were made by the package, whose own answer the browser test holds to the same.
#[test]
fn what_the_public_javascript_package_sets_apart_is_asked_about_and_settled() {
    let mut store = opened();
    let bytes = sample("v1.airwright");
    let mut file = JobFile::read(&bytes, NOW).unwrap();
    file.job = sample("v1.set-apart.automerge");
    let came = store
        .open_job_file(&file.write().unwrap(), NOW, strict)
        .unwrap();
    let [apart] = &came.conflicts[..] else {
        panic!("{:?}", came.conflicts)
    };
    assert_eq!(apart.path, keys("venue/walk_m"));
    let said = |said: &store::Said| (said.value.clone(), said.device.clone(), said.at_s);
    assert_eq!(
        said(&apart.holds),
        (json!(52), "b0b0".repeat(8), 1_790_000_060)
    );
    assert_eq!(apart.others.len(), 1);
    assert_eq!(
        said(&apart.others[0]),
        (json!(51), "a0a0".repeat(8), 1_790_000_000)
    );
    store
        .edit_job("sample", &[set("venue/walk_m", 51)], "x", NOW, strict)
        .unwrap();
    // the other program's document comes once more: it is settled all the same
    let again = store
        .open_job_file(&file.write().unwrap(), NOW, strict)
        .unwrap();
    assert!(again.state.apart.is_empty());
    assert_eq!(again.state.value["venue"]["walk_m"], json!(51));
}

//! Job files: the same bytes for the same job, and every bad file refused by its own code.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::io::{Cursor, Read, Write};

use common::*;
use serde_json::{Value, json};
use sha2::{Digest, Sha256};
use store::{JobFile, Store};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipArchive, ZipWriter};

/// A picture of one pixel is a picture; here only its beginning is looked at.
fn jpeg(n: u8) -> Vec<u8> {
    [&[0xff, 0xd8, 0xff, 0xe0][..], &[n; 400]].concat()
}

fn entries(file: &[u8]) -> Vec<(String, Vec<u8>)> {
    let mut zip = ZipArchive::new(Cursor::new(file)).unwrap();
    (0..zip.len())
        .map(|index| {
            let mut entry = zip.by_index(index).unwrap();
            let mut bytes = Vec::new();
            entry.read_to_end(&mut bytes).unwrap();
            (entry.name().unwrap().into_owned(), bytes)
        })
        .collect()
}

fn zipped(entries: &[(String, Vec<u8>)]) -> Vec<u8> {
    let stored = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in entries {
        zip.start_file(name.as_str(), stored).unwrap();
        zip.write_all(bytes).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

/// The file with one entry changed, added or, if there are no bytes, taken out.
fn with(file: &[u8], name: &str, bytes: Option<Vec<u8>>) -> Vec<u8> {
    let mut list = entries(file);
    list.retain(|(other, _)| other != name);
    if let Some(bytes) = bytes {
        list.push((name.into(), bytes));
    }
    zipped(&list)
}

fn about(format: i64, job: &str) -> Vec<u8> {
    serde_json::to_vec(&json!({ "app": "x", "format": format, "job": job })).unwrap()
}

#[test]
fn the_same_job_gives_the_same_bytes_before_and_after_a_restart() {
    let file = std::env::temp_dir().join(format!("airwright-same-{}.db", std::process::id()));
    let mut store = Store::open(store::open_file(&file).unwrap()).unwrap();
    store
        .create_job("j", &job_value("A"), Some(&private_value("B")), strict)
        .unwrap();
    for n in 0..250 {
        edit(&mut store, &[set("venue/walk_m", n)]);
    }
    let one = store.export_job("j", false).unwrap();
    assert_eq!(one, store.export_job("j", false).unwrap());
    drop(store);
    let mut store = Store::open(store::open_file(&file).unwrap()).unwrap();
    assert_eq!(one, store.export_job("j", false).unwrap());
    drop(store);
    for end in ["", "-wal", "-shm"] {
        let _ = std::fs::remove_file(format!("{}{end}", file.display()));
    }
    let names: Vec<String> = entries(&one).into_iter().map(|(name, _)| name).collect();
    assert_eq!(names, ["about.json", "job.automerge", "private.automerge"]);
}

#[test]
fn every_bad_file_is_refused_by_its_own_code_and_nothing_changes() {
    let mut store = with_job();
    let good = store.export_job("j", false).unwrap();
    let list = entries(&good);
    let job = list
        .iter()
        .find(|(name, _)| name == "job.automerge")
        .unwrap()
        .1
        .clone();
    let mut damaged = job.clone();
    let middle = damaged.len() / 2;
    damaged[middle] ^= 1;
    let mut deflated_document = automerge::AutoCommit::load(&job).unwrap();
    let deflated_document = deflated_document.save();
    let stranger = automerge::AutoCommit::new().save_nocompress();
    let name = format!("photos/{}.jpg", "0".repeat(64));

    let cases: Vec<(&str, Vec<u8>, &str)> = vec![
        ("empty", Vec::new(), "not_a_job_file"),
        ("text", b"hello".repeat(100), "not_a_job_file"),
        ("cut", good[..good.len() - 30].to_vec(), "cut_short"),
        (
            "no about",
            with(&good, "about.json", None),
            "not_a_job_file",
        ),
        (
            "about is no JSON",
            with(&good, "about.json", Some(b"{".to_vec())),
            "not_a_job_file",
        ),
        (
            "newer",
            with(&good, "about.json", Some(about(job::FORMAT + 1, "j"))),
            "newer_format",
        ),
        (
            "format 0",
            with(&good, "about.json", Some(about(0, "j"))),
            "not_a_job_file",
        ),
        (
            "bad id",
            with(&good, "about.json", Some(about(1, "../j"))),
            "not_a_job_file",
        ),
        (
            "no job",
            with(&good, "job.automerge", None),
            "not_a_job_file",
        ),
        (
            "damaged document",
            with(&good, "job.automerge", Some(damaged)),
            "damaged",
        ),
        (
            "other document",
            with(&good, "job.automerge", Some(stranger)),
            "not_a_job_file",
        ),
        (
            "deflated columns",
            with(&good, "job.automerge", Some(deflated_document)),
            "compressed",
        ),
        ("path up", with(&good, "../evil", Some(vec![1])), "bad_name"),
        (
            "path down",
            with(&good, "photos/../../evil", Some(vec![1])),
            "bad_name",
        ),
        (
            "backslash",
            with(&good, "photos\\evil", Some(vec![1])),
            "bad_name",
        ),
        (
            "right to left",
            with(&good, "photos/\u{202e}gpj", Some(vec![1])),
            "bad_name",
        ),
        (
            "wrong hash",
            with(&good, &name, Some(jpeg(7))),
            "wrong_photo",
        ),
        (
            "no picture",
            with(&good, &name, Some(b"MZ program".to_vec())),
            "not_a_photo",
        ),
    ];
    let before = store.backup().unwrap();
    for (what, bytes, code) in cases {
        let error = store.open_job_file(&bytes, NOW, strict).unwrap_err();
        assert_eq!(error.code(), code, "{what}: {error}");
        assert!(
            !error.to_string().is_empty() && !error.hint().is_empty(),
            "{what}"
        );
        assert_eq!(store.backup().unwrap(), before, "{what} changed something");
    }
    // what a later version may add is passed over
    let more = with(&good, "extra/later.bin", Some(vec![1, 2, 3]));
    assert!(store.open_job_file(&more, NOW, strict).is_ok());
}

/// A stored zip made by hand, in which every entry names the same bytes: how a small zip stands for a large one.
fn overlapping(file: &[u8], copies: u32) -> Vec<u8> {
    let end = file.len() - 22;
    let number = |at: usize| u32::from_le_bytes(file[at..at + 4].try_into().unwrap());
    let (size, start) = (number(end + 12), number(end + 16));
    let directory = &file[start as usize..(start + size) as usize];
    let mut bytes = file[..start as usize].to_vec();
    for copy in 0..copies {
        let mut again = directory.to_vec();
        // the name of the last entry ends the directory; other names for the same bytes
        let tail = format!("{copy:05}");
        let at = again.len() - tail.len();
        again[at..].copy_from_slice(tail.as_bytes());
        bytes.extend(again);
    }
    let mut tail = file[end..].to_vec();
    let count =
        u16::try_from(copies).unwrap() * u16::from_le_bytes(tail[8..10].try_into().unwrap());
    tail[8..10].copy_from_slice(&count.to_le_bytes());
    tail[10..12].copy_from_slice(&count.to_le_bytes());
    tail[12..16].copy_from_slice(&(size * copies).to_le_bytes());
    bytes.extend(tail);
    bytes
}

#[test]
fn entries_that_lie_over_each_other_and_deflated_ones_are_refused() {
    let mut store = with_job();
    let good = store.export_job("j", false).unwrap();
    let about = entries(&good)[0].clone();
    let one = zipped(&[about, ("filler-00000".into(), vec![7; 100_000])]);
    let error = JobFile::read(&overlapping(&one, 50), NOW).unwrap_err();
    assert_eq!(error.code(), "too_large", "{error}");

    // the method of the first entry, in its own head and in the directory, says "deflated"
    let mut deflated = good.clone();
    let local = 8;
    let central = good
        .windows(4)
        .position(|w| w == [b'P', b'K', 1, 2])
        .unwrap()
        + 10;
    for at in [local, central] {
        deflated[at] = 8;
    }
    let error = JobFile::read(&deflated, NOW).unwrap_err();
    assert_eq!(error.code(), "compressed", "{error}");
}

#[test]
fn changed_bytes_anywhere_never_change_the_store() {
    let mut store = with_job();
    edit(&mut store, &[add("doors", "d1", None, json!({}))]);
    let good = store.export_job("j", false).unwrap();
    let before = store.job("j").unwrap();
    let mut refused = 0;
    for at in (0..good.len()).step_by(7) {
        let mut bytes = good.clone();
        bytes[at] ^= 0x55;
        match store.open_job_file(&bytes, NOW, strict) {
            Err(_) => refused += 1,
            // a byte that means nothing, such as a date
            Ok(came) => assert!(
                came.before.is_none() || came.news.changed.is_empty(),
                "byte {at}"
            ),
        }
        assert_eq!(store.job("j").unwrap().value, before.value, "byte {at}");
    }
    assert!(refused > good.len() / 7 / 2, "only {refused} refused");
}

#[test]
fn a_document_nested_without_end_is_refused() {
    use automerge::transaction::Transactable;
    let mut store = with_job();
    let good = store.export_job("j", false).unwrap();
    let job = entries(&good)
        .into_iter()
        .find(|(name, _)| name == "job.automerge")
        .unwrap()
        .1;
    let mut doc = automerge::AutoCommit::load(&job).unwrap();
    let mut at = automerge::ROOT;
    for _ in 0..20_000 {
        at = doc.put_object(&at, "a", automerge::ObjType::Map).unwrap();
    }
    let file = with(&good, "job.automerge", Some(doc.save_nocompress()));
    let error = store.open_job_file(&file, NOW, strict).unwrap_err();
    assert_eq!(error.code(), "damaged");
    let value: &Value = &store.job("j").unwrap().value;
    assert_eq!(value["name"], json!("Harbour opening"));
}

/// Puts the right checksum on a document whose bytes were changed, so that the reader has to look at the rest.
fn seal(document: &mut [u8]) {
    let length = document[9..]
        .iter()
        .take_while(|byte| **byte & 0x80 != 0)
        .count()
        + 1;
    let mut hash = Sha256::new();
    hash.update(&document[8..9 + length]);
    hash.update(&document[9 + length..]);
    document[4..8].copy_from_slice(&hash.finalize()[..4]);
}

#[test]
fn documents_made_to_harm_are_refused_and_never_stop_the_program() {
    let mut store = with_job();
    edit(
        &mut store,
        &[
            add("doors", "d1", None, json!({})),
            add("doors", "d2", None, json!({})),
        ],
    );
    let bytes = store.export_job("j", false).unwrap();
    let good = JobFile::read(&bytes, NOW).unwrap();
    let before = store.job("j").unwrap();
    // what Automerge prints when it stops is of no use here
    std::panic::set_hook(Box::new(|_| {}));
    let mut outcome = Ok(());
    for at in 11..good.job.len() {
        for value in [0x00, 0x7f, 0xff] {
            let mut bad = good.clone();
            bad.job[at] = value;
            seal(&mut bad.job);
            let bytes = bad.write().unwrap();
            // some numbers can be written in two ways, so a few are accepted: as the job that they are
            let told = store.open_job_file(&bytes, NOW, strict);
            let brought = told.is_ok_and(|came| !came.news.changed.is_empty());
            if brought || store.job("j").unwrap().value != before.value {
                outcome = Err(format!("byte {at} as {value:#x}"));
            }
        }
    }
    let _ = std::panic::take_hook();
    assert_eq!(outcome, Ok(()));
}

#[test]
fn a_file_cut_anywhere_is_refused_as_cut() {
    let mut store = with_job();
    let good = store.export_job("j", false).unwrap();
    let before = store.backup().unwrap();
    for length in (4..good.len()).step_by(41) {
        let error = store
            .open_job_file(&good[..length], NOW, strict)
            .unwrap_err();
        assert_eq!(error.code(), "cut_short", "{length}: {error}");
    }
    assert_eq!(store.backup().unwrap(), before);
}

#[test]
fn entries_in_any_order_and_files_opened_again_are_the_same_job() {
    let mut store = with_job();
    let good = store.export_job("j", false).unwrap();
    let mut list = entries(&good);
    list.reverse();
    let mut other = memory();
    other.open_job_file(&zipped(&list), NOW, strict).unwrap();
    assert_eq!(other.job("j").unwrap().value, store.job("j").unwrap().value);
    for file in [&good, &zipped(&list)] {
        let again = other.open_job_file(file, NOW, strict).unwrap();
        assert_eq!((again.news, again.home), Default::default());
        assert_eq!(again.state.revision, 1, "nothing new, nothing counted");
    }
}

/// The document as other programs may write it: the beginning, then each of so many later changes by itself.
fn in_changes(document: &[u8], later: usize) -> (Vec<u8>, Vec<Vec<u8>>) {
    let mut whole = automerge::AutoCommit::load(document).unwrap();
    let changes = whole.get_changes(&[]);
    let mut first = automerge::AutoCommit::new();
    let from = changes.len() - later;
    first.apply_changes(changes[..from].to_vec()).unwrap();
    let later = changes[from..].iter().map(|c| c.raw_bytes().to_vec());
    (first.save_nocompress(), later.collect())
}

#[test]
fn changes_repeated_or_reordered_are_the_same_job_and_a_missing_one_is_told() {
    let mut store = with_job();
    for walk in 1..=6 {
        edit(&mut store, &[set("venue/walk_m", walk)]);
    }
    let good = store.export_job("j", true).unwrap();
    let wanted = store.job("j").unwrap().value;
    let document = &entries(&good)[1].1;
    let (first, later) = in_changes(document, 6);
    let opened = |order: &[usize]| {
        let parts: Vec<&[u8]> = order.iter().map(|at| later[*at].as_slice()).collect();
        let bytes = [&[first.as_slice()][..], &parts[..]].concat().concat();
        let mut other = memory();
        let file = with(&good, "job.automerge", Some(bytes));
        let told = other.open_job_file(&file, NOW, strict);
        told.map(|_| other.job("j").unwrap().value)
    };
    for order in [
        &[0, 1, 2, 3, 4, 5][..],
        &[5, 4, 3, 2, 1, 0],
        &[2, 0, 5, 1, 4, 3],
        &[0, 0, 1, 2, 1, 3, 4, 5, 5],
    ] {
        assert_eq!(opened(order).unwrap(), wanted, "{order:?}");
    }
    for order in [&[0, 1, 2, 4, 5][..], &[1, 2, 3, 4, 5], &[5]] {
        let error = opened(order).unwrap_err();
        assert_eq!(error.code(), "cut_short", "{order:?}: {error}");
    }
}

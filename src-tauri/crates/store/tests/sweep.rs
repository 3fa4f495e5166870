//! Photos that nothing names are freed, and no other: not one that a job, an undo or an open question may still show.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

mod common;

use common::places::*;
use common::*;
use serde_json::json;
use store::{Photo, Store, Swept};

const DAY: i64 = 24 * 3600 * 1000;
/// When every photo of these tests is old enough, and files without a row are no longer spared.
const LATER: i64 = NOW + 40 * DAY;

/// A photo of job `j` in its list of photos, under this id.
fn noted(store: &mut Store, id: &str, n: u8) -> Photo {
    let photo = store.add_photo("j", &jpeg(n), NOW).unwrap();
    let value = json!({ "hash": photo.hash });
    edit(store, &[add("photos", id, None, value)]);
    photo
}

/// So many edits that nothing before them can be undone.
fn forget(store: &mut Store) {
    for n in 0..201 {
        edit(store, &[set("venue/walk_m", n)]);
    }
}

fn freed(photos: i64, bytes: i64) -> Swept {
    Swept {
        photos,
        bytes,
        more: false,
    }
}

#[test]
fn a_removed_photo_stays_for_undo_and_goes_after_it() {
    let here = Place::new("sweep-undo");
    let mut store = here.with_job();
    let first = noted(&mut store, "p1", 1);
    let second = noted(&mut store, "p2", 2);
    edit(&mut store, &[remove("photos", "p1")]);
    assert_eq!(store.sweep_photos(LATER).unwrap(), freed(0, 0));
    store.undo("j", NOW, strict).unwrap();
    assert_eq!(store.photo(&first).unwrap(), jpeg(1));
    // what could be made once more counts as well
    assert_eq!(store.sweep_photos(LATER).unwrap(), freed(0, 0));
    store.redo("j", NOW, strict).unwrap();
    assert_eq!(store.sweep_photos(LATER).unwrap(), freed(0, 0));
    assert_eq!(here.files().len(), 2);

    forget(&mut store);
    assert_eq!(store.sweep_photos(LATER).unwrap(), freed(1, first.bytes));
    assert_eq!(here.files(), [second.file()]);
    assert_eq!(store.photos("j").unwrap(), std::slice::from_ref(&second));
    // nothing is left to do
    assert_eq!(store.sweep_photos(LATER).unwrap(), freed(0, 0));
    assert_eq!(store.photo(&second).unwrap(), jpeg(2));
}

#[test]
fn a_hash_that_was_replaced_goes_once_undo_forgot_it_unless_another_job_shows_it() {
    let here = Place::new("sweep-replaced");
    let mut store = here.with_job();
    let photo = named(&mut store, &jpeg(1));
    copied(&mut store);
    edit(&mut store, &[set("venue/photo", "")]);
    assert_eq!(store.sweep_photos(LATER).unwrap(), freed(0, 0));
    forget(&mut store);
    assert_eq!(store.sweep_photos(LATER).unwrap(), freed(0, 0));
    assert_eq!(store.photos("j").unwrap(), []);
    assert_eq!(store.photo(&photo).unwrap(), jpeg(1));
    let put_away = [set("gone", true)];
    store.edit_job("k", &put_away, "away", NOW, strict).unwrap();
    assert_eq!(store.sweep_photos(LATER).unwrap(), freed(0, 0));
    assert_eq!(here.files(), [photo.file()], "a job put away is a job");
}

#[test]
fn a_new_photo_waits_for_the_job_to_name_it() {
    let here = Place::new("sweep-new");
    let mut store = here.with_job();
    let photo = store.add_photo("j", &jpeg(1), NOW).unwrap();
    assert_eq!(store.sweep_photos(NOW + DAY - 1).unwrap(), freed(0, 0));
    edit(&mut store, &[set("venue/photo", photo.hash.as_str())]);
    store.sweep_photos(LATER).unwrap();
    assert_eq!(store.photo(&photo).unwrap(), jpeg(1));
    // one that no edit ever named, though the job was looked over before and never changed since
    store.sweep_photos(LATER).unwrap();
    let lost = store.add_photo("j", &jpeg(2), NOW).unwrap();
    assert_eq!(store.sweep_photos(LATER).unwrap(), freed(1, lost.bytes));
    assert_eq!(here.files(), [photo.file()]);
}

#[test]
fn what_is_still_to_be_settled_keeps_both_photos() {
    let (here, there) = (Place::new("sweep-apart-a"), Place::new("sweep-apart-b"));
    let mut a = here.with_job();
    let mut b = there.memory();
    b.open_job_file(&a.export_job("j", false).unwrap(), NOW, strict)
        .unwrap();
    let mine = named(&mut a, &jpeg(1));
    let yours = named(&mut b, &jpeg(2));
    a.open_job_file(&b.export_job("j", false).unwrap(), NOW, strict)
        .unwrap();
    forget(&mut a);
    assert_eq!(a.job("j").unwrap().apart.len(), 1);
    assert_eq!(a.sweep_photos(LATER).unwrap(), freed(0, 0));
    let chosen = [set("venue/photo", yours.hash.as_str())];
    edit(&mut a, &chosen);
    forget(&mut a);
    assert_eq!(a.sweep_photos(LATER).unwrap(), freed(1, mine.bytes));
    assert_eq!(here.files(), [yours.file()]);
}

#[test]
fn a_removed_photo_does_not_come_back_with_a_file_that_does_not_know_of_it() {
    let (here, there) = (Place::new("sweep-back-a"), Place::new("sweep-back-b"));
    let mut a = here.with_job();
    let photo = noted(&mut a, "p1", 1);
    let mut b = there.memory();
    b.open_job_file(&a.export_job("j", false).unwrap(), NOW, strict)
        .unwrap();
    edit(&mut a, &[remove("photos", "p1")]);
    forget(&mut a);
    a.sweep_photos(LATER).unwrap();
    assert_eq!(here.files(), [""; 0]);
    let came = a
        .open_job_file(&b.export_job("j", false).unwrap(), NOW, strict)
        .unwrap();
    assert_eq!((came.news.photos, here.files().len()), (0, 0));

    // it travels no more from here; where somebody brings it back, it comes from there
    assert_eq!(photos_in(&a.export_job("j", false).unwrap()), [""; 0]);
    b.open_job_file(&a.export_job("j", false).unwrap(), NOW, strict)
        .unwrap();
    edit(&mut b, &[restore("photos", "p1")]);
    let came = a
        .open_job_file(&b.export_job("j", false).unwrap(), NOW, strict)
        .unwrap();
    assert_eq!(came.news.photos, 1);
    assert_eq!(a.photo(&photo).unwrap(), jpeg(1));
}

#[test]
fn files_without_a_row_go_but_not_while_another_backup_may_know_them() {
    let here = Place::new("sweep-strays");
    let mut store = here.with_job();
    let photo = named(&mut store, &jpeg(1));
    let with_photo = store.backup().unwrap();
    let stray = format!("{}.jpg", "ab".repeat(32));
    std::fs::write(here.0.join(&stray), "x").unwrap();
    std::fs::write(here.0.join(format!("{stray}.half")), "x").unwrap();
    std::fs::write(here.0.join("notes.txt"), "not ours").unwrap();
    // half a file is of use to nobody; the rest is spared at first
    assert_eq!(store.sweep_photos(NOW).unwrap(), freed(1, 0));
    assert_eq!(here.files().len(), 3);
    assert_eq!(store.sweep_photos(LATER).unwrap(), freed(1, 0));
    let mut left = vec![photo.file(), "notes.txt".into()];
    left.sort();
    assert_eq!(here.files(), left);

    // a backup from before the photo, brought in by mistake
    let before = with_job().backup().unwrap();
    store.restore(&before, LATER).unwrap();
    assert_eq!(store.sweep_photos(LATER + DAY).unwrap(), freed(0, 0));
    store.restore(&with_photo, LATER + 2 * DAY).unwrap();
    assert_eq!(store.photo(&photo).unwrap(), jpeg(1));
    assert_eq!(
        store.sweep_photos(LATER + 40 * DAY).unwrap(),
        freed(0, 0),
        "the job names it"
    );
}

#[test]
fn a_damaged_job_keeps_all_its_photos() {
    let here = Place::new("sweep-damaged");
    let file = here.0.with_extension("db");
    let mut store = Store::open(store::open_file(&file).unwrap()).unwrap();
    store
        .create_job("j", &job_value("Harbour opening"), None, strict)
        .unwrap();
    here.keep_for(&mut store);
    store.add_photo("j", &jpeg(1), NOW).unwrap();
    edit(&mut store, &[set("name", "Other")]);
    drop(store);
    let conn = rusqlite::Connection::open(&file).unwrap();
    conn.execute("UPDATE change SET bytes = zeroblob(40)", [])
        .unwrap();
    drop(conn);
    let mut store = Store::open(store::open_file(&file).unwrap()).unwrap();
    here.keep_for(&mut store);
    assert_eq!(store.sweep_photos(LATER).unwrap(), freed(0, 0));
    assert_eq!(here.files().len(), 1);
    drop(store);
    for end in ["db", "db-wal", "db-shm"] {
        let _ = std::fs::remove_file(here.0.with_extension(end));
    }
}

#[test]
fn many_jobs_are_looked_over_a_few_at_a_time_also_where_files_answer_late() {
    let mut store = memory();
    let mut late = Late::of(&mut store);
    for n in 0..12_u8 {
        let id = format!("j{n}");
        store
            .create_job(&id, &job_value("x"), None, strict)
            .unwrap();
        late.ask(|| store.add_photo(&id, &jpeg(n), NOW)).unwrap();
    }
    let mut swept = Vec::new();
    loop {
        let one = late.ask(|| store.sweep_photos(LATER)).unwrap();
        swept.push(one.photos);
        if !one.more {
            break;
        }
    }
    assert_eq!(swept, [5, 5, 2]);
    assert!(late.files.is_empty());
}

/// The fast way beside the simple one: a file put together from its parts is the file that the zip library writes.
#[test]
fn a_file_in_parts_is_the_same_file() {
    let here = Place::new("sweep-parts");
    let mut store = here.with_job();
    for (n, id) in ["p1", "p2", "p3"].iter().enumerate() {
        noted(&mut store, id, u8::try_from(n).unwrap());
    }
    let lost = noted(&mut store, "p4", 9);
    std::fs::write(here.0.join(lost.file()), "damaged").unwrap();
    let mut late_store = memory();
    let mut late = Late::of(&mut late_store);
    let whole = store.export_job("j", false).unwrap();
    late.ask(|| late_store.open_job_file(&whole, NOW, strict))
        .unwrap();
    for crew in [false, true] {
        let whole = store.export_job("j", crew).unwrap();
        let packed = store.pack_job("j", crew).unwrap();
        let photos = |name: &str| std::fs::read(here.0.join(name)).unwrap();
        assert_eq!(joined(&packed, photos), whole);
        assert_eq!(packed.left_out, 0);
        let packed = late.ask(|| late_store.pack_job("j", crew)).unwrap();
        assert_eq!(late.rounds, 2);
        assert_eq!(joined(&packed, |name| late.files[name].clone()), whole);
    }
    assert_eq!(photos_in(&whole).len(), 3);
}

fn joined(packed: &store::Packed, photo: impl Fn(&str) -> Vec<u8>) -> Vec<u8> {
    let parts = packed.parts.iter().map(|part| match part {
        store::FilePart::Bytes(bytes) => bytes.clone(),
        store::FilePart::Photo { file, bytes } => {
            let read = photo(file);
            assert_eq!(u64::try_from(read.len()).unwrap(), *bytes);
            read
        }
    });
    parts.collect::<Vec<_>>().concat()
}

#[test]
fn a_file_takes_no_more_photos_than_another_device_reads_and_says_so() {
    let here = Place::new("sweep-large");
    let file = here.0.with_extension("large.db");
    let mut store = Store::open(store::open_file(&file).unwrap()).unwrap();
    store
        .create_job("j", &job_value("Large"), None, strict)
        .unwrap();
    here.keep_for(&mut store);
    let old = noted(&mut store, "p1", 1);
    drop(store);
    // as if the photo had 400 MB: only its row says so, and the row is what is asked
    let conn = rusqlite::Connection::open(&file).unwrap();
    conn.execute("UPDATE photo SET bytes = 400 << 20", [])
        .unwrap();
    let mut store = Store::open(store::open_file(&file).unwrap()).unwrap();
    here.keep_for(&mut store);
    assert_eq!(store.pack_job("j", false).unwrap().left_out, 0);
    let photo = store.add_photo("j", &jpeg(2), NOW + 1).unwrap();
    let value = json!({ "hash": photo.hash });
    edit(&mut store, &[add("photos", "p2", None, value)]);
    conn.execute(
        "UPDATE photo SET bytes = 200 << 20 WHERE hash = ?1",
        [&photo.hash],
    )
    .unwrap();
    let packed = store.pack_job("j", false).unwrap();
    assert_eq!(packed.left_out, 1);
    let goes = |photo: &Photo| {
        let parts = packed.parts.iter();
        parts
            .filter(
                |part| matches!(part, store::FilePart::Photo { file, .. } if *file == photo.file()),
            )
            .count()
    };
    assert_eq!((goes(&old), goes(&photo)), (0, 1), "the newer one goes");
    drop((store, conn));
    for end in ["large.db", "large.db-wal", "large.db-shm"] {
        let _ = std::fs::remove_file(here.0.with_extension(end));
    }
}

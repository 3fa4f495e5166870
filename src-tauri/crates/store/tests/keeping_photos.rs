//! Photos when things go wrong: a process killed at any moment, and a disk that fills up at any moment. What was acknowledged is there,
//! whole; whatever the job names is there; what is left over is freed.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::io::Write;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use common::folder::*;
use common::*;
use serde_json::json;
use store::{PhotoFolder, PhotoPlace, Seen, Store, StoreError};

/// A photo like no other of these tests, bytes.
fn shot(n: u64, bytes: usize) -> Vec<u8> {
    let mut photo = vec![0xff, 0xd8, 0xff, 0xe0];
    let mut at = n;
    while photo.len() < bytes {
        // Knuth's MMIX generator, so that no two photos are alike
        at = at
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        photo.extend(at.to_le_bytes());
    }
    photo
}

fn photos_beside(db: &Path) -> PhotoFolder {
    PhotoFolder::open(&db.with_file_name("photos")).unwrap()
}

/// Keeps a photo, names it in the job with a tick beside it, as the room does. Answers its hash.
fn photograph(store: &mut Store, id: &str, bytes: &[u8]) -> Result<String, StoreError> {
    let photo = store.add_photo("j", bytes, NOW)?;
    let value = json!({ "hash": photo.hash });
    let edits = [add("photos", id, None, value)];
    store.edit_job("j", &edits, "Photo", NOW, strict)?;
    store.tick("j", &tick(id, true, 1), "Tick", NOW, strict)?;
    Ok(photo.hash)
}

/// Whatever the job names is there whole, also after everything left over was freed, and nothing else is there then.
fn is_whole(db: &Path) -> Vec<String> {
    let mut store = open(db);
    store.keep_photos_in(Box::new(photos_beside(db)));
    let value = store.job("j").unwrap().value;
    let named: Vec<String> = value["photos"]
        .as_object()
        .unwrap()
        .values()
        .map(|photo| photo["hash"].as_str().unwrap().to_string())
        .collect();
    let later = NOW + 100 * 24 * 3600 * 1000;
    // the first time says only from when on files without a row may go
    store.sweep_photos(NOW).unwrap();
    store.sweep_photos(later).unwrap();
    for hash in &named {
        let photo = store.find_photo(hash).unwrap().unwrap();
        store.photo(&photo).unwrap();
    }
    let mut files = photos_beside(db).list().unwrap();
    files.sort();
    let mut names: Vec<String> = named.iter().map(|hash| format!("{hash}.jpg")).collect();
    names.sort();
    assert_eq!(files, names);
    named
}

/// Photographs without end and says each hash once it is acknowledged. Run by the test below only.
#[test]
fn child_that_photographs_until_it_is_killed() {
    let Some(file) = std::env::var_os(CHILD) else {
        return;
    };
    let db = Path::new(&file);
    let mut store = open(db);
    store.keep_photos_in(Box::new(photos_beside(db)));
    let start = store.job("j").unwrap().value["photos"]
        .as_object()
        .unwrap()
        .len();
    let mut out = std::io::stdout();
    for n in u64::try_from(start).unwrap().. {
        let bytes = shot(n, 300_000);
        let hash = photograph(&mut store, &format!("p{n}"), &bytes).unwrap();
        writeln!(out, "kept {hash}.").unwrap();
        out.flush().unwrap();
    }
}

#[test]
fn photos_that_were_acknowledged_are_there_after_a_kill() {
    let folder = Folder::new("kill-photos");
    drop(made(&folder.db()));
    let mut acknowledged = 0;
    for round in 0..16_u64 {
        let (lines, ms) = (round % 5, (round * 7919) % 61);
        let lines = usize::try_from(lines).unwrap();
        let said = killed_after(
            lines,
            ms,
            "child_that_photographs_until_it_is_killed",
            &folder.db(),
        );
        let named = is_whole(&folder.db());
        for hash in &said {
            assert!(named.contains(hash), "{hash} was acknowledged");
        }
        acknowledged += said.len();
        // one more may be there: killed between the disk and the word
        assert!(named.len() <= acknowledged + usize::try_from(round).unwrap() + 1);
    }
    assert!(acknowledged > 20, "the children hardly ran: {acknowledged}");
}

/// A folder on a disk that has room for so many bytes more.
struct Filling {
    folder: PhotoFolder,
    left: Arc<AtomicI64>,
}

impl PhotoPlace for Filling {
    fn write(&mut self, files: &[(String, &[u8])]) -> Result<(), StoreError> {
        for (name, bytes) in files {
            let length = i64::try_from(bytes.len()).unwrap();
            if self.left.fetch_sub(length, Ordering::Relaxed) < length {
                return Err(StoreError::NoRoom);
            }
            self.folder.write(&[(name.clone(), *bytes)])?;
        }
        Ok(())
    }
    fn read(&mut self, names: &[String]) -> Result<Vec<Option<Vec<u8>>>, StoreError> {
        self.folder.read(names)
    }
    fn look(&mut self, names: &[String]) -> Result<Vec<Option<Seen>>, StoreError> {
        self.folder.look(names)
    }
    fn remove(&mut self, name: &str) -> Result<(), StoreError> {
        self.folder.remove(name)
    }
    fn list(&mut self) -> Result<Vec<String>, StoreError> {
        self.folder.list()
    }
}

#[test]
fn a_disk_that_fills_up_at_any_moment_loses_nothing_that_was_acknowledged() {
    let folder = Folder::new("full-photos");
    drop(made(&folder.db()));
    let mut acknowledged = Vec::new();
    let mut codes = std::collections::BTreeSet::new();
    for round in 0..16_u64 {
        let conn = store::open_file(&folder.db()).unwrap();
        let pages: i64 = conn
            .pragma_query_value(None, "page_count", |row| row.get(0))
            .unwrap();
        // now the database is full first, now the folder of photos
        let (more, room) = match round % 2 {
            0 => (i64::try_from(round / 4).unwrap(), i64::MAX / 2),
            _ => (
                i64::MAX / 2 - pages,
                i64::try_from((round * 7919) % 40_000).unwrap(),
            ),
        };
        conn.execute_batch(&format!("PRAGMA max_page_count = {}", pages + more))
            .unwrap();
        let mut store = Store::open(conn).unwrap();
        store.keep_photos_in(Box::new(Filling {
            folder: photos_beside(&folder.db()),
            left: Arc::new(AtomicI64::new(room)),
        }));
        for n in 0..20 {
            let id = format!("r{round}-{n}");
            match photograph(&mut store, &id, &shot(round * 1000 + n, 5000)) {
                Ok(hash) => acknowledged.push(hash),
                Err(error) => {
                    codes.insert(error.code());
                    assert!(!error.hint().is_empty());
                    break;
                }
            }
        }
        drop(store);
        let named = is_whole(&folder.db());
        for hash in &acknowledged {
            assert!(named.contains(hash), "{hash} was acknowledged");
        }
    }
    assert!(acknowledged.len() > 16, "hardly anything fitted");
    assert_eq!(codes.into_iter().collect::<Vec<_>>(), ["no_room"]);
}

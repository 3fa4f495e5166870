//! Places for photos: a folder on the disk, and one whose files answer late.

use std::collections::BTreeMap;
use std::io::Cursor;

use super::*;
use store::{Photo, PhotoErrands, PhotoFolder};
use zip::ZipArchive;

/// A picture of one pixel is a picture; here only its beginning is looked at.
pub fn jpeg(n: u8) -> Vec<u8> {
    [&[0xff, 0xd8, 0xff, 0xe0][..], &[n; 400]].concat()
}

pub struct Place(pub std::path::PathBuf);

impl Place {
    pub fn new(name: &str) -> Place {
        Place(std::env::temp_dir().join(format!("airwright-{name}-{}", std::process::id())))
    }

    pub fn files(&self) -> Vec<String> {
        let mut names: Vec<String> = std::fs::read_dir(&self.0)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    pub fn keep_for(&self, store: &mut Store) {
        store.keep_photos_in(Box::new(PhotoFolder::open(&self.0).unwrap()));
    }

    /// A store whose photos lie here.
    pub fn memory(&self) -> Store {
        let mut store = memory();
        self.keep_for(&mut store);
        store
    }

    /// The same with job `j`.
    pub fn with_job(&self) -> Store {
        let mut store = with_job();
        self.keep_for(&mut store);
        store
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// A photo of job `j` that the job names.
pub fn named(store: &mut Store, bytes: &[u8]) -> Photo {
    let photo = store.add_photo("j", bytes, NOW).unwrap();
    edit(store, &[set("venue/photo", photo.hash.as_str())]);
    photo
}

/// Job `k`, a copy of `j` with its photos.
pub fn copied(store: &mut Store) {
    let value = store.job("j").unwrap().value;
    store.share_photos("j", "k").unwrap();
    store.create_job("k", &value, None, strict).unwrap();
}

pub fn photos_in(file: &[u8]) -> Vec<String> {
    let zip = ZipArchive::new(Cursor::new(file)).unwrap();
    let names = zip.file_names().map(|name| name.unwrap().into_owned());
    names.filter(|name| name.starts_with("photos/")).collect()
}

/// A host whose files answer late, as the browser's do.
pub struct Late {
    pub errands: PhotoErrands,
    pub files: BTreeMap<String, Vec<u8>>,
    /// How often the last question was asked.
    pub rounds: usize,
}

impl Late {
    pub fn of(store: &mut Store) -> Late {
        let errands = PhotoErrands::default();
        store.keep_photos_in(Box::new(errands.clone()));
        Late {
            errands,
            files: BTreeMap::new(),
            rounds: 0,
        }
    }

    pub fn ask<T>(&mut self, mut question: impl FnMut() -> T) -> T {
        self.rounds = 0;
        loop {
            self.rounds += 1;
            let answer = question();
            let due = self.errands.due();
            for name in &due.write {
                let bytes = self.errands.bytes(name).unwrap();
                self.files.insert(name.clone(), bytes);
                self.errands.written(name);
            }
            for name in &due.read {
                self.errands.fetched(name, self.files.get(name).cloned());
            }
            for name in &due.look {
                let bytes = self.files.get(name).map(Vec::as_slice);
                self.errands.seen(name, bytes);
            }
            if due.list {
                self.errands.listed(self.files.keys().cloned().collect());
            }
            let again = [&due.write, &due.read, &due.look];
            if again.iter().all(|names| names.is_empty()) && !due.list {
                for name in &due.remove {
                    self.files.remove(name);
                }
                self.errands.settle();
                return answer;
            }
            assert_eq!(due.remove, [""; 0], "nothing is removed before the answer");
        }
    }
}

//! A place for photos of a host whose files answer late, as the browser's do, while the store does not wait.
//!
//! A question that needs a file which is not at hand is refused, and the file is noted. The host runs the errands and asks
//! the same question again, from its beginning. That is sound because files come first: a change writes and reads all its
//! files before it changes anything, and a file without a row does no harm.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use serde::Serialize;

use crate::error::StoreError;
use crate::photos::{PhotoPlace, Seen};

/// Bytes of files that are held for writing before the question is asked once more for the rest. A tablet has room for them; and asking
/// again costs a look at the whole job file.
const HELD: usize = 64 << 20;

/// The place, shared between the store and the host that runs the errands.
#[derive(Clone, Default)]
pub struct PhotoErrands(Arc<Mutex<Board>>);

/// What is known about files while one question is answered.
#[derive(Default)]
struct Board {
    written: BTreeSet<String>,
    fetched: BTreeMap<String, Option<Vec<u8>>>,
    seen: BTreeMap<String, Option<Seen>>,
    to_write: BTreeMap<String, Vec<u8>>,
    to_read: BTreeSet<String>,
    to_look: BTreeSet<String>,
    to_remove: BTreeSet<String>,
    listed: Option<Vec<String>>,
    to_list: bool,
}

/// What is to be done with files, by their names.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Errands {
    /// To be written and flushed; then the question is asked again.
    pub write: Vec<String>,
    /// To be read; then the question is asked again.
    pub read: Vec<String>,
    /// To be looked at, one after the other; then the question is asked again.
    pub look: Vec<String>,
    /// The names of all files are asked for; then the question is asked again.
    pub list: bool,
    /// To be removed. Never beside the others: a question that is asked again names them again.
    pub remove: Vec<String>,
}

impl PhotoErrands {
    /// What the last question left to do.
    #[must_use]
    pub fn due(&self) -> Errands {
        let board = self.board();
        Errands {
            write: board.to_write.keys().cloned().collect(),
            read: board.to_read.iter().cloned().collect(),
            look: board.to_look.iter().cloned().collect(),
            list: board.to_list,
            remove: board.to_remove.iter().cloned().collect(),
        }
    }

    /// The bytes of a file that is to be written.
    #[must_use]
    pub fn bytes(&self, name: &str) -> Option<Vec<u8>> {
        self.board().to_write.get(name).cloned()
    }

    /// The file is there whole, and flushed.
    pub fn written(&self, name: &str) {
        let mut board = self.board();
        board.to_write.remove(name);
        board.written.insert(name.into());
    }

    /// The file was read; none if there is none.
    pub fn fetched(&self, name: &str, bytes: Option<Vec<u8>>) {
        let mut board = self.board();
        board.to_read.remove(name);
        board.fetched.insert(name.into(), bytes);
    }

    /// The file was read to be looked at; none if there is none. Its bytes are not kept.
    pub fn seen(&self, name: &str, bytes: Option<&[u8]>) {
        let seen = bytes.map(Seen::of);
        let mut board = self.board();
        board.to_look.remove(name);
        board.seen.insert(name.into(), seen);
    }

    /// These files are there.
    pub fn listed(&self, names: Vec<String>) {
        let mut board = self.board();
        board.to_list = false;
        board.listed = Some(names);
    }

    /// The question is done with, answered or given up: what it knew of files is forgotten.
    pub fn settle(&self) {
        *self.board() = Board::default();
    }

    // nothing panics while it holds the lock, so a poisoned lock says nothing about the board
    fn board(&self) -> MutexGuard<'_, Board> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl PhotoPlace for PhotoErrands {
    fn write(&mut self, files: &[(String, &[u8])]) -> Result<(), StoreError> {
        let mut board = self.board();
        let mut held = 0;
        let missing: Vec<_> = files
            .iter()
            .filter(|(name, _)| !board.written.contains(name))
            .take_while(|(_, bytes)| {
                let fits = held < HELD;
                held += bytes.len();
                fits
            })
            .collect();
        if missing.is_empty() {
            return Ok(());
        }
        for (name, bytes) in missing {
            board.to_write.insert(name.clone(), bytes.to_vec());
        }
        board.to_remove.clear();
        Err(StoreError::Photos("it is still being written".into()))
    }

    fn read(&mut self, names: &[String]) -> Result<Vec<Option<Vec<u8>>>, StoreError> {
        let mut board = self.board();
        let missing: Vec<String> = names
            .iter()
            .filter(|name| !board.fetched.contains_key(*name))
            .cloned()
            .collect();
        if !missing.is_empty() {
            board.to_read.extend(missing);
            board.to_remove.clear();
            return Err(StoreError::Photos("it is still being read".into()));
        }
        Ok(names
            .iter()
            .map(|name| board.fetched.get(name).cloned().flatten())
            .collect())
    }

    fn look(&mut self, names: &[String]) -> Result<Vec<Option<Seen>>, StoreError> {
        let mut board = self.board();
        let missing = names.iter().filter(|name| !board.seen.contains_key(*name));
        let missing: Vec<String> = missing.cloned().collect();
        if !missing.is_empty() {
            board.to_look.extend(missing);
            board.to_remove.clear();
            return Err(StoreError::Photos("it is still being looked at".into()));
        }
        Ok(names
            .iter()
            .map(|name| board.seen.get(name).cloned().flatten())
            .collect())
    }

    fn remove(&mut self, name: &str) -> Result<(), StoreError> {
        let mut board = self.board();
        board.written.remove(name);
        board.fetched.remove(name);
        board.to_remove.insert(name.into());
        Ok(())
    }

    fn list(&mut self) -> Result<Vec<String>, StoreError> {
        let mut board = self.board();
        if let Some(names) = &board.listed {
            return Ok(names.clone());
        }
        board.to_list = true;
        board.to_remove.clear();
        Err(StoreError::Photos(
            "the files are still being listed".into(),
        ))
    }
}

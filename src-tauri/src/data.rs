//! The database of this computer: opened once, by one program at a time.
use std::fs::{File, TryLockError};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::UNIX_EPOCH;

use desk::{Desk, Fault, Host};
use store::PhotoFolder;

/// The open desk, or why there is none.
pub struct Data {
    dir: PathBuf,
    open: Mutex<Result<Open, Fault>>,
}

struct Open {
    desk: Desk,
    /// Held for as long as the database is open. The single-instance guard needs a message bus, which some
    /// systems do not run; this works everywhere.
    _lock: File,
}

impl Data {
    /// Opens the database in this folder, or keeps the reason why it cannot be opened.
    pub fn open(dir: PathBuf) -> Data {
        let open = Mutex::new(open(&dir));
        Data { dir, open }
    }

    /// Asks the desk, one question at a time.
    pub fn ask<T>(&self, question: impl FnOnce(&mut Desk) -> Result<T, Fault>) -> Result<T, Fault> {
        match &mut *self.guard() {
            Ok(open) => question(&mut open.desk),
            Err(why) => Err(again(why)),
        }
    }

    /// Nothing when the database is open, else why it is not.
    pub fn status(&self) -> Result<(), Fault> {
        match &*self.guard() {
            Ok(_) => Ok(()),
            Err(why) => Err(again(why)),
        }
    }

    /// Where photos are kept, each in a file.
    pub fn photos(&self) -> PathBuf {
        photos(&self.dir)
    }

    /// Tries again to open a database that could not be opened.
    pub fn reopen(&self) -> Result<(), Fault> {
        let mut data = self.guard();
        if data.is_err() {
            *data = open(&self.dir);
        }
        drop(data);
        self.status()
    }

    // the desk catches its own panics, so a poisoned lock says nothing about its state
    fn guard(&self) -> MutexGuard<'_, Result<Open, Fault>> {
        self.open.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

fn photos(dir: &Path) -> PathBuf {
    dir.join("photos")
}

fn open(dir: &Path) -> Result<Open, Fault> {
    let unusable = |e: &dyn std::fmt::Display| Fault {
        code: "store_unavailable".into(),
        message: format!("The jobs in {} cannot be opened: {e}.", dir.display()),
        hint: "Check that the disk is there and has room, then try again.".into(),
    };
    std::fs::create_dir_all(dir).map_err(|e| unusable(&e))?;
    let lock = File::create(dir.join("airwright.lock")).map_err(|e| unusable(&e))?;
    match lock.try_lock() {
        Ok(()) => {}
        Err(TryLockError::WouldBlock) => {
            return Err(Fault {
                code: "open_elsewhere".into(),
                message: "These jobs are open in another Airwright.".into(),
                hint: "Close the other one, then try again.".into(),
            });
        }
        Err(TryLockError::Error(e)) => return Err(unusable(&e)),
    }
    let conn = store::open_file(&dir.join("airwright.db")).map_err(|e| unusable(&e))?;
    let photos = PhotoFolder::open(&photos(dir)).map_err(|e| unusable(&e))?;
    let mut desk = Desk::open(conn, Host { now_ms })?;
    desk.keep_photos_in(Box::new(photos));
    Ok(Open { desk, _lock: lock })
}

/// The desk's clock: milliseconds since 1970-01-01 UTC.
#[expect(
    clippy::disallowed_methods,
    reason = "a host is where the clock is read"
)]
fn now_ms() -> i64 {
    let since = std::time::SystemTime::now().duration_since(UNIX_EPOCH);
    since.map_or(0, |d| i64::try_from(d.as_millis()).unwrap_or(i64::MAX))
}

fn again(why: &Fault) -> Fault {
    Fault {
        code: why.code.clone(),
        message: why.message.clone(),
        hint: why.hint.clone(),
    }
}

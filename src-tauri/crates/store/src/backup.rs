//! The whole database as one file, out and back. Photos are files of their own and not in it.

use std::time::Duration;

use rusqlite::Connection;
use rusqlite::backup::Backup;

use crate::error::StoreError;
use crate::{migrate, sweep};

/// Pages that are copied at a time.
const PAGES: i32 = 1000;

/// The length of SQLite's file header, bytes.
const HEADER: usize = 100;

/// A consistent copy of the open database, readable by every host.
pub fn snapshot(conn: &mut Connection) -> Result<Vec<u8>, StoreError> {
    let mut bytes = conn.serialize("main")?.to_vec();
    unmark_log(&mut bytes);
    Ok(bytes)
}

/// Replaces the whole content. The bytes are checked first, and the copy runs through SQLite's own journal: a crash in
/// the middle leaves the old content. This device gets a new id: under the old one it may have written changes after
/// the backup was made, and other devices know them. Photos that this backup does not know are left alone for a while:
/// another one may.
pub fn restore(conn: &mut Connection, bytes: &[u8], now_ms: i64) -> Result<(), StoreError> {
    let source = check(bytes)?;
    source.execute(
        "INSERT OR REPLACE INTO meta (name, value) VALUES ('device', randomblob(16))",
        [],
    )?;
    sweep::spare_strays(&source, now_ms)?;
    // a database with a write-ahead log takes no pages of another size (sqlite.org/c3ref/backup_finish.html)
    let mode: String = conn.pragma_query_value(None, "journal_mode", |row| row.get(0))?;
    let logged = mode == "wal";
    if logged {
        conn.pragma_update(None, "journal_mode", "delete")?;
    }
    let copied = copy(&source, conn);
    if logged {
        // if this fails the next start does it; what was or was not restored stays what it is
        let _ = conn.pragma_update(None, "journal_mode", "wal");
    }
    copied
}

fn copy(source: &Connection, target: &mut Connection) -> Result<(), StoreError> {
    Backup::new(source, target)?.run_to_completion(PAGES, Duration::ZERO, None)?;
    Ok(())
}

/// A copy in memory of a backup that is sound and ours, in the newest form.
fn check(bytes: &[u8]) -> Result<Connection, StoreError> {
    if bytes.len() < HEADER || !bytes.starts_with(b"SQLite format 3\0") {
        return Err(StoreError::NotOurs);
    }
    let mut bytes = bytes.to_vec();
    unmark_log(&mut bytes);
    let mut source = Connection::open_in_memory()?;
    source.deserialize_read_exact("main", bytes.as_slice(), bytes.len(), false)?;
    let damaged = |e: rusqlite::Error| StoreError::Damaged(e.to_string());
    let sound: String = source
        .query_row("PRAGMA integrity_check", [], |row| row.get(0))
        .map_err(damaged)?;
    if sound != "ok" {
        return Err(StoreError::Damaged(sound));
    }
    if migrate::check_ours(&source)? == 0 {
        return Err(StoreError::NotOurs);
    }
    migrate::migrate(&mut source)?;
    // a trigger or a view that somebody put in would run with every later edit
    let mut ours = Connection::open_in_memory()?;
    migrate::migrate(&mut ours)?;
    if schema(&source)? != schema(&ours)? {
        return Err(StoreError::NotOurs);
    }
    Ok(source)
}

fn schema(conn: &Connection) -> Result<Vec<(String, Option<String>)>, StoreError> {
    let rows = conn
        .prepare(
            "SELECT name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite_stat%' ORDER BY name",
        )?
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?
        .collect::<Result<_, _>>()?;
    Ok(rows)
}

/// Bytes 18 and 19 of the header say that a write-ahead log belongs to the file; in memory there is none, and SQLite
/// would refuse to read (sqlite.org/c3ref/deserialize.html).
fn unmark_log(bytes: &mut [u8]) {
    if let Some(versions) = bytes.get_mut(18..20) {
        versions.fill(1);
    }
}

//! How each host opens its database file.
use std::path::Path;

use rusqlite::Connection;

/// The desktop's database: a write-ahead log, synced at every commit, so that what was answered is on disk.
pub fn open_file(path: &Path) -> rusqlite::Result<Connection> {
    let conn = Connection::open(path)?;
    conn.execute_batch(
        "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON;",
    )?;
    Ok(conn)
}

/// The browser's database, after the pool of handles was installed as the default VFS.
/// A rollback journal with full sync; exclusive, because one worker owns the handles anyway.
pub fn open_in_pool(file: &str) -> rusqlite::Result<Connection> {
    let conn = Connection::open(file)?;
    conn.execute_batch(
        "PRAGMA locking_mode=exclusive; PRAGMA journal_mode=DELETE; \
         PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON;",
    )?;
    Ok(conn)
}

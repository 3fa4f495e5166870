//! How each host opens its database file.
use std::path::Path;

use rusqlite::Connection;

/// Bytes of a page. SQLite's build for the browser makes pages of this size, its native build of 4096; a
/// backup from one is copied page by page into the other, and a database with a write-ahead log refuses
/// pages of another size (sqlite.org/c3ref/backup_finish.html, SQLITE_READONLY).
const PAGE: u32 = 8192;

/// The desktop's database: a write-ahead log, synced at every commit, so that what was answered is on disk.
/// The size of a page counts when the file is made; it must be said before the log.
pub fn open_file(path: &Path) -> rusqlite::Result<Connection> {
    let conn = Connection::open(path)?;
    conn.execute_batch(&format!(
        "PRAGMA page_size={PAGE}; PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON;"
    ))?;
    Ok(conn)
}

/// The browser's database, after the pool of handles was installed as the default VFS.
/// A rollback journal with full sync; exclusive, because one worker owns the handles anyway.
pub fn open_in_pool(file: &str) -> rusqlite::Result<Connection> {
    let conn = Connection::open(file)?;
    conn.execute_batch(&format!(
        "PRAGMA page_size={PAGE}; PRAGMA locking_mode=exclusive; PRAGMA journal_mode=DELETE; \
         PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON;"
    ))?;
    Ok(conn)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_new_file_has_pages_of_one_size_a_log_and_full_sync() {
        let path = std::env::temp_dir().join(format!("airwright-open-{}.db", std::process::id()));
        let conn = open_file(&path).unwrap();
        conn.execute_batch("CREATE TABLE t (x)").unwrap();
        drop(conn);
        let conn = open_file(&path).unwrap();
        let ask = |name| -> String {
            conn.pragma_query_value(None, name, |row| row.get::<_, rusqlite::types::Value>(0))
                .map(|v| format!("{v:?}"))
                .unwrap()
        };
        assert_eq!(ask("page_size"), format!("Integer({PAGE})"));
        assert_eq!(ask("journal_mode"), "Text(\"wal\")");
        assert_eq!(ask("synchronous"), "Integer(2)"); // FULL
        assert_eq!(ask("foreign_keys"), "Integer(1)");
        drop(conn);
        std::fs::remove_file(path).unwrap();
    }
}

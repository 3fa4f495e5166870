//! What this device can take back: the label of an edit and the fields it wrote, kept in rows so that a restart does
//! not forget them.

use job::Part;
use rusqlite::{Connection, OptionalExtension, params};
use serde::{Deserialize, Serialize};

use crate::document::Kind;
use crate::edits::Written;
use crate::error::StoreError;

/// Edits of one job or book that can be taken back, at most.
const KEPT: i64 = 200;

/// Fields that an edit wrote, with the document that each is in.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Log {
    /// In the order of writing.
    pub writes: Vec<(Part, Written)>,
}

/// An edit that can be taken back or made once more.
#[derive(Debug, Clone)]
pub struct Step {
    /// Its number.
    pub n: i64,
    /// What it is called.
    pub label: String,
    /// What it wrote.
    pub log: Log,
}

/// Which way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Take back.
    Undo,
    /// Make once more.
    Redo,
}

/// Keeps a new edit; what could have been made once more is dropped.
pub fn push(
    conn: &Connection,
    kind: Kind,
    id: &str,
    label: &str,
    log: &Log,
) -> Result<(), StoreError> {
    conn.prepare_cached("DELETE FROM undo WHERE kind = ?1 AND id = ?2 AND undone = 1")?
        .execute(params![kind.name(), id])?;
    let n: i64 = conn
        .prepare_cached("SELECT coalesce(max(n), 0) + 1 FROM undo WHERE kind = ?1 AND id = ?2")?
        .query_row(params![kind.name(), id], |row| row.get(0))?;
    conn.prepare_cached(
        "INSERT INTO undo (kind, id, n, label, writes, undone) VALUES (?1, ?2, ?3, ?4, ?5, 0)",
    )?
    .execute(params![kind.name(), id, n, label, to_text(log)?])?;
    conn.prepare_cached("DELETE FROM undo WHERE kind = ?1 AND id = ?2 AND n <= ?3")?
        .execute(params![kind.name(), id, n - KEPT])?;
    Ok(())
}

/// The edit that is next in a way.
pub fn next(conn: &Connection, kind: Kind, id: &str, way: Way) -> Result<Option<Step>, StoreError> {
    let sql = match way {
        Way::Undo => {
            "SELECT n, label, writes FROM undo WHERE kind = ?1 AND id = ?2 AND undone = 0 ORDER BY n DESC LIMIT 1"
        }
        Way::Redo => {
            "SELECT n, label, writes FROM undo WHERE kind = ?1 AND id = ?2 AND undone = 1 ORDER BY n LIMIT 1"
        }
    };
    let found: Option<(i64, String, String)> = conn
        .prepare_cached(sql)?
        .query_row(params![kind.name(), id], |row| {
            Ok((row.get(0)?, row.get(1)?, row.get(2)?))
        })
        .optional()?;
    found
        .map(|(n, label, text)| {
            let log = serde_json::from_str(&text)
                .map_err(|e| StoreError::Damaged(format!("an undo row of {id}: {e}")))?;
            Ok(Step { n, label, log })
        })
        .transpose()
}

/// What the next edit in a way is called.
pub fn label(
    conn: &Connection,
    kind: Kind,
    id: &str,
    way: Way,
) -> Result<Option<String>, StoreError> {
    let sql = match way {
        Way::Undo => {
            "SELECT label FROM undo WHERE kind = ?1 AND id = ?2 AND undone = 0 ORDER BY n DESC LIMIT 1"
        }
        Way::Redo => {
            "SELECT label FROM undo WHERE kind = ?1 AND id = ?2 AND undone = 1 ORDER BY n LIMIT 1"
        }
    };
    Ok(conn
        .prepare_cached(sql)?
        .query_row(params![kind.name(), id], |row| row.get(0))
        .optional()?)
}

/// Notes that an edit went the way it was asked to.
pub fn turn(conn: &Connection, kind: Kind, id: &str, n: i64, way: Way) -> Result<(), StoreError> {
    conn.prepare_cached("UPDATE undo SET undone = ?4 WHERE kind = ?1 AND id = ?2 AND n = ?3")?
        .execute(params![kind.name(), id, n, i64::from(way == Way::Undo)])?;
    Ok(())
}

/// Forgets all edits of a job or book.
pub fn forget(conn: &Connection, kind: Kind, id: &str) -> Result<(), StoreError> {
    conn.execute(
        "DELETE FROM undo WHERE kind = ?1 AND id = ?2",
        params![kind.name(), id],
    )?;
    Ok(())
}

fn to_text(log: &Log) -> Result<String, StoreError> {
    serde_json::to_string(log).map_err(|e| StoreError::Damaged(e.to_string()))
}

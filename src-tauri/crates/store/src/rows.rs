//! Documents in rows: a snapshot, and the changes since. After some changes they are folded into a new snapshot.

use std::collections::BTreeSet;
use std::sync::Arc;

use automerge::{Automerge, ObjId};
use rusqlite::{Connection, OptionalExtension, params};
use serde_json::Value;

use crate::document::{self, Kind};
use crate::error::StoreError;
use crate::merge::{self, Conflict};
use crate::values;

/// Rows of changes that make the next one fold them all into the snapshot. Loading a job with so many takes some
/// milliseconds; folding one costs about as much, so it is done rarely.
pub const FOLD_AFTER: i64 = 200;

/// What a document ends with, and the bytes of its snapshot or of one change.
type HeadsAndBytes = (Vec<u8>, Vec<u8>);

/// A document in memory, as it stands on disk.
#[derive(Debug, Clone)]
pub struct Opened {
    /// The row of its snapshot.
    pub row: i64,
    /// Rows of changes since the snapshot.
    pub changes: i64,
    /// The document. Fixed changes that the rows lack are in it already; the next edit writes them.
    pub doc: Automerge,
    /// Everything in it.
    pub value: Arc<Value>,
    /// What devices set apart in it.
    pub apart: Arc<Vec<Conflict>>,
    /// The newest changes on disk.
    saved: Vec<automerge::ChangeHash>,
}

impl Opened {
    /// Whether there are changes that are not on disk.
    pub fn is_unsaved(&self) -> bool {
        self.doc.get_heads() != self.saved
    }

    /// The same document with other content, which is not on disk yet. If it is known which maps at the top were
    /// written, only they are read again.
    pub fn with(
        &self,
        doc: Automerge,
        written: Option<&BTreeSet<String>>,
    ) -> Result<Opened, StoreError> {
        let value = match (written, &*self.value) {
            (Some(written), Value::Object(fields)) => {
                let mut fields = fields.clone();
                for key in written {
                    match values::read_key(&doc, &ObjId::Root, key)? {
                        Some(value) => fields.insert(key.clone(), value),
                        None => fields.remove(key),
                    };
                }
                let value = Value::Object(fields);
                debug_assert_eq!(Some(&value), values::read(&doc).as_ref().ok());
                value
            }
            _ => values::read(&doc)?,
        };
        // an edit of this device sets nothing apart, and may settle what was
        let apart = match written {
            Some(_) if self.apart.is_empty() => Arc::clone(&self.apart),
            _ => Arc::new(merge::conflicts(&doc)?),
        };
        Ok(Opened {
            row: self.row,
            changes: self.changes,
            doc,
            value: Arc::new(value),
            apart,
            saved: self.saved.clone(),
        })
    }
}

/// Loads a document; none if there is none.
pub fn load(
    conn: &Connection,
    kind: Kind,
    id: &str,
    actor: &[u8],
) -> Result<Option<Opened>, StoreError> {
    let Some((row, (heads, snapshot))) = snapshot(conn, kind, id)? else {
        return Ok(None);
    };
    let changes = changes(conn, row)?;
    let heads = changes.last().map_or(heads, |last| last.0.clone());
    let bytes: Vec<Vec<u8>> = changes.into_iter().map(|(_, bytes)| bytes).collect();
    let mut doc = document::load(&snapshot, &bytes, actor)?;
    if document::heads_bytes(&doc) != heads {
        return Err(StoreError::Damaged(format!(
            "the rows of {} {id} do not end where they should",
            kind.name()
        )));
    }
    let saved = doc.get_heads();
    document::grow(&mut doc, kind.fixed())?;
    Ok(Some(Opened {
        row,
        changes: i64::try_from(bytes.len()).unwrap_or(i64::MAX),
        value: Arc::new(values::read(&doc)?),
        apart: Arc::new(merge::conflicts(&doc)?),
        doc,
        saved,
    }))
}

/// What can still be read of a damaged document: the snapshot, and the changes up to the first that does not fit.
pub fn rescue(conn: &Connection, kind: Kind, id: &str) -> Result<Option<Value>, StoreError> {
    let Some((row, (_, snapshot))) = snapshot(conn, kind, id)? else {
        return Ok(None);
    };
    let mut doc = document::load(&snapshot, &[], &[0; 16])?;
    for (_, bytes) in changes(conn, row)? {
        let fits = automerge::Change::from_bytes(bytes)
            .is_ok_and(|change| doc.apply_changes([change]).is_ok());
        if !fits {
            break;
        }
    }
    values::read(&doc).map(Some)
}

fn snapshot(
    conn: &Connection,
    kind: Kind,
    id: &str,
) -> Result<Option<(i64, HeadsAndBytes)>, StoreError> {
    let found = conn
        .prepare_cached("SELECT n, heads, snapshot FROM document WHERE kind = ?1 AND id = ?2")?
        .query_row(params![kind.name(), id], |row| {
            Ok((row.get(0)?, (row.get(1)?, row.get(2)?)))
        })
        .optional()?;
    Ok(found)
}

fn changes(conn: &Connection, row: i64) -> Result<Vec<HeadsAndBytes>, StoreError> {
    let rows = conn
        .prepare_cached("SELECT heads, bytes FROM change WHERE document = ?1 ORDER BY seq")?
        .query_map([row], |row| Ok((row.get(0)?, row.get(1)?)))?
        .collect::<Result<_, _>>()?;
    Ok(rows)
}

/// Writes a new document, or puts another one in its place with nothing of its history left.
pub fn replace(
    conn: &Connection,
    kind: Kind,
    id: &str,
    doc: Automerge,
) -> Result<Opened, StoreError> {
    conn.prepare_cached("DELETE FROM document WHERE kind = ?1 AND id = ?2")?
        .execute(params![kind.name(), id])?;
    conn.prepare_cached(
        "INSERT INTO document (kind, id, heads, snapshot) VALUES (?1, ?2, ?3, ?4)",
    )?
    .execute(params![
        kind.name(),
        id,
        document::heads_bytes(&doc),
        document::save(&doc)
    ])?;
    Ok(Opened {
        row: conn.last_insert_rowid(),
        changes: 0,
        value: Arc::new(values::read(&doc)?),
        apart: Arc::new(merge::conflicts(&doc)?),
        saved: doc.get_heads(),
        doc,
    })
}

/// Writes what a document has that is not on disk. Answers whether there was anything.
pub fn save(conn: &Connection, opened: &mut Opened) -> Result<bool, StoreError> {
    let bytes = opened.doc.get_changes(&opened.saved);
    if bytes.is_empty() {
        return Ok(false);
    }
    let heads = document::heads_bytes(&opened.doc);
    let count = i64::try_from(bytes.len()).unwrap_or(i64::MAX);
    if opened.changes.saturating_add(count) > FOLD_AFTER {
        conn.prepare_cached("DELETE FROM change WHERE document = ?1")?
            .execute([opened.row])?;
        conn.prepare_cached("UPDATE document SET heads = ?2, snapshot = ?3 WHERE n = ?1")?
            .execute(params![opened.row, heads, document::save(&opened.doc)])?;
        opened.changes = 0;
    } else {
        let mut insert = conn.prepare_cached(
            "INSERT INTO change (document, seq, heads, bytes) VALUES (?1, ?2, ?3, ?4)",
        )?;
        for change in bytes {
            // only the heads of the last row are looked at
            opened.changes += 1;
            insert.execute(params![
                opened.row,
                opened.changes,
                heads,
                change.raw_bytes()
            ])?;
        }
    }
    opened.saved = opened.doc.get_heads();
    Ok(true)
}

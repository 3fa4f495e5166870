//! The client's rights: all that is held on a client is handed out, or erased for good.

use std::collections::BTreeMap;
use std::sync::Arc;

use automerge::ObjId;
use automerge::transaction::Transactable;
use job::Part;
use rusqlite::{Connection, OptionalExtension, params};
use serde_json::{Value, json};

use crate::document::{self, ERASED, Kind};
use crate::draft::Trace;
use crate::error::StoreError;
use crate::photos;
use crate::store::{Check, State, Store};
use crate::values;

impl Store {
    /// Removes client and money of a job with all that they ever were, its photos, and what undo would bring back. Bills that were
    /// issued stay in the book of what was issued, because the law keeps them. A
    /// mark in the job and in the database keeps a later merge from bringing them back, and erases them on other
    /// devices when the job gets there. Backups made before are the user's to destroy.
    pub fn erase_client(
        &mut self,
        id: &str,
        now_ms: i64,
        check: impl Check,
    ) -> Result<State, StoreError> {
        let mut draft = self.draft(Kind::Job, id)?;
        let private = draft
            .private
            .kept
            .clone()
            .ok_or(StoreError::NoPrivatePart)?;
        let job = draft.main.doc().map_or(0, |doc| document::generation(doc));
        let erased = erased_here(&self.conn, id)?
            .max(job)
            .max(document::generation(&private.doc))
            .saturating_add(1);
        draft.change(Part::Job, now_ms, |tx, _| {
            Ok(tx.put(ObjId::Root, ERASED, erased)?)
        })?;
        draft
            .private
            .replace(self.signed(document::erased_private(erased)?));
        let had = self.photos(id)?;
        draft.also = Some(Box::new(move |conn| {
            photos::delete(conn, id, None)?;
            mark_erased(conn, id, erased)
        }));
        let state = self.wiped(true, |store| {
            Ok(store.keep(draft, &Trace::Forget, check)?.state)
        })?;
        self.drop_files(&had)?;
        Ok(state)
    }

    /// Runs a change after which the old bytes must not be left in the database's files either: freed pages are
    /// overwritten, and neither journal nor log keeps a copy of them.
    pub(crate) fn wiped<T>(
        &mut self,
        wipe: bool,
        change: impl FnOnce(&mut Store) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        if !wipe {
            return change(self);
        }
        self.conn
            .execute_batch("PRAGMA secure_delete = ON; PRAGMA journal_size_limit = 0;")?;
        let answer = change(self);
        // the change itself is kept by now; that these take effect later is no reason to call it failed
        let _ = self.conn.execute_batch(
            "PRAGMA wal_checkpoint(TRUNCATE); PRAGMA secure_delete = OFF; PRAGMA journal_size_limit = -1;",
        );
        answer
    }

    /// All that is held on the client of a job, to be handed out: what stands now, what stood there earlier, and the
    /// photos.
    pub fn holds(&mut self, id: &str) -> Result<Value, StoreError> {
        let state = self.job(id)?;
        let mut earlier: BTreeMap<String, Vec<Value>> = BTreeMap::new();
        if let Some(private) = self.opened(Kind::Private, id)? {
            for change in private.doc.get_changes(&[]) {
                let then = values::read(&private.doc.fork_at(&[change.hash()])?)?;
                leaves("", &then, &mut |path, value| {
                    let values = earlier.entry(path).or_default();
                    if !values.contains(value) {
                        values.push(value.clone());
                    }
                });
            }
            leaves("", &private.value, &mut |path, now| {
                if let Some(values) = earlier.get_mut(&path) {
                    values.retain(|value| value != now);
                }
            });
        }
        earlier.retain(|_, values| !values.is_empty());
        let photos: Vec<Value> = self
            .photos(id)?
            .into_iter()
            .map(|photo| json!({ "file": photo.file(), "added_ms": photo.added_ms }))
            .collect();
        // what the law keeps is told as well
        let issued: Vec<Value> = self
            .issued(Some(id))?
            .into_iter()
            .map(|bill| {
                let said =
                    serde_json::from_str(&bill.content).unwrap_or(Value::String(bill.content));
                json!({ "number": bill.number, "issued_ms": bill.at_ms, "says": said })
            })
            .collect();
        Ok(json!({
            "job": id,
            "issued": issued,
            "now": state.private.map_or(Value::Null, Arc::unwrap_or_clone),
            "earlier": earlier,
            "photos": photos,
        }))
    }
}

/// Visits every single value with its path.
fn leaves(path: &str, value: &Value, visit: &mut impl FnMut(String, &Value)) {
    match value {
        Value::Object(fields) => {
            for (key, inner) in fields {
                let path = if path.is_empty() {
                    key.clone()
                } else {
                    format!("{path}/{key}")
                };
                leaves(&path, inner, visit);
            }
        }
        single => visit(path.to_string(), single),
    }
}

/// How often the client of a job was erased on this device.
pub(crate) fn erased_here(conn: &Connection, id: &str) -> Result<i64, StoreError> {
    let generation: Option<i64> = conn
        .prepare_cached("SELECT generation FROM erased WHERE job = ?1")?
        .query_row([id], |row| row.get(0))
        .optional()?;
    Ok(generation.unwrap_or(0))
}

/// Notes it.
pub(crate) fn mark_erased(conn: &Connection, id: &str, generation: i64) -> Result<(), StoreError> {
    conn.prepare_cached("INSERT OR REPLACE INTO erased (job, generation) VALUES (?1, ?2)")?
        .execute(params![id, generation])?;
    Ok(())
}

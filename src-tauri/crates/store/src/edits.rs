//! Edits of a document: by a path and a value, and nothing besides that path is written.
//!
//! A record or list that stands in the document is never replaced, since that would hide what another device writes
//! into it; a record as the value of an edit is taken apart into its fields. Nothing is ever taken out: an item that is
//! removed is marked. The one thing that an undo takes out is a single field that was not there before, where a field
//! set by another device at the same time survives.

use automerge::transaction::{Transactable, Transaction};
use automerge::{ObjId, ObjType, ReadDoc};
use job::Edit;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::error::StoreError;
use crate::{order, values};

/// The longest id.
const LONGEST_ID: usize = 64;

/// One field that an edit wrote.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Written {
    /// The field.
    pub path: Vec<String>,
    /// What stood there; none if nothing did.
    pub before: Option<Value>,
    /// What stands there now; none if it was taken out.
    pub after: Option<Value>,
}

/// Makes an edit and notes what it wrote.
pub fn apply(
    tx: &mut Transaction<'_>,
    edit: &Edit,
    log: &mut Vec<Written>,
) -> Result<(), StoreError> {
    match edit {
        Edit::Set { path, value, .. } => set(tx, path, value, log),
        Edit::Add {
            path,
            id,
            before,
            value,
            ..
        } => add(tx, path, id, before.as_deref(), value, log),
        Edit::Move {
            path, id, before, ..
        } => reorder(tx, path, id, before.as_deref(), log),
        Edit::Remove { path, id, .. } => mark(tx, path, id, true, log),
        Edit::Restore { path, id, .. } => mark(tx, path, id, false, log),
    }
}

/// Whether a text can be the id of an item.
#[must_use]
pub fn is_id(text: &str) -> bool {
    (1..=LONGEST_ID).contains(&text.len())
        && text
            .bytes()
            .all(|b| matches!(b, b'a'..=b'z' | b'0'..=b'9' | b'_' | b'-'))
}

fn set(
    tx: &mut Transaction<'_>,
    path: &[String],
    value: &Value,
    log: &mut Vec<Written>,
) -> Result<(), StoreError> {
    let Some((key, above)) = path.split_last() else {
        return Err(StoreError::NotAField(Vec::new()));
    };
    let parent = find_or_make(tx, above, path)?;
    put(tx, &parent, key, path, value, log)
}

/// Writes a field, or the fields of a record one by one.
fn put(
    tx: &mut Transaction<'_>,
    parent: &ObjId,
    key: &str,
    path: &[String],
    value: &Value,
    log: &mut Vec<Written>,
) -> Result<(), StoreError> {
    let there = child(tx, parent, key)?;
    let Value::Object(fields) = value else {
        return match there {
            Child::Record(_) => Err(StoreError::NotAField(path.to_vec())),
            Child::Field | Child::Nothing => put_field(tx, parent, key, path, value, log),
        };
    };
    let record = match there {
        Child::Record(id) if tx.get_all(parent, key)?.len() > 1 => made_one(tx, parent, key, &id)?,
        Child::Record(id) => id,
        // nothing to write, so nothing that would be missing from the log
        Child::Nothing if fields.is_empty() => return Ok(()),
        Child::Nothing if is_item(tx, parent)? => tx.put_object(parent, key, ObjType::Map)?,
        Child::Nothing => return Err(StoreError::NoSuchPlace(path.to_vec())),
        Child::Field => {
            return Err(StoreError::BadValue(
                path.to_vec(),
                "a single value stands there",
            ));
        }
    };
    for (key, inner) in values::sorted(fields) {
        let path = [path, std::slice::from_ref(key)].concat();
        put(tx, &record, key, &path, inner, log)?;
    }
    Ok(())
}

/// Devices made a record under one key apart, and one of them is hidden. A record with what the other one holds takes
/// the place of both, on every device; whoever writes it next has settled what it says.
fn made_one(
    tx: &mut Transaction<'_>,
    parent: &ObjId,
    key: &str,
    holds: &ObjId,
) -> Result<ObjId, StoreError> {
    let mut fields = Vec::new();
    for field in tx.keys(holds).collect::<Vec<String>>() {
        if let Some(value) = values::read_key(tx, holds, &field)? {
            fields.push((field, value));
        }
    }
    let record = tx.put_object(parent, key, ObjType::Map)?;
    for (field, value) in fields {
        values::write(tx, &record, &field, std::slice::from_ref(&field), &value)?;
    }
    Ok(record)
}

/// Writes one value, if it is another one or if several values were set apart.
fn put_field(
    tx: &mut Transaction<'_>,
    parent: &ObjId,
    key: &str,
    path: &[String],
    value: &Value,
    log: &mut Vec<Written>,
) -> Result<(), StoreError> {
    let before = values::read_key(tx, parent, key)?;
    let settled = tx.get_all(parent, key)?.len() < 2;
    if settled && before.as_ref() == Some(value) {
        return Ok(());
    }
    values::write(tx, parent, key, path, value)?;
    log.push(Written {
        path: path.to_vec(),
        before,
        after: Some(value.clone()),
    });
    Ok(())
}

/// Puts an item into a list, before another one or at its end.
pub fn add(
    tx: &mut Transaction<'_>,
    list: &[String],
    id: &str,
    before: Option<&str>,
    value: &Value,
    log: &mut Vec<Written>,
) -> Result<(), StoreError> {
    if !is_id(id) {
        return Err(StoreError::BadId(id.into()));
    }
    let path = extended(list, id);
    let Value::Object(fields) = value else {
        return Err(StoreError::BadValue(path, "a record is needed"));
    };
    let at = find_or_make_list(tx, list)?;
    if !matches!(child(tx, &at, id)?, Child::Nothing) {
        return Err(StoreError::IdTaken(id.into()));
    }
    // a list whose items know no mark is a map by id, without an order: what its items cost
    if !fields.contains_key("gone") {
        if before.is_some() {
            return Err(StoreError::NoSuchPlace(path));
        }
        return upsert(tx, list, id, fields, log);
    }
    let order = make_room(tx, list, &at, None, before, log)?;
    let mut item = fields.clone();
    item.insert("order".into(), Value::from(order));
    item.insert("gone".into(), Value::Bool(false));
    values::write(tx, &at, id, &path, &Value::Object(item))?;
    // taking an addition back marks the item, so that what another device did to it meanwhile is not lost
    log.push(Written {
        path: extended(&path, "gone"),
        before: Some(Value::Bool(true)),
        after: Some(Value::Bool(false)),
    });
    Ok(())
}

/// Writes the given single fields of an item; makes the item if it is not there.
pub fn upsert(
    tx: &mut Transaction<'_>,
    list: &[String],
    id: &str,
    fields: &Map<String, Value>,
    log: &mut Vec<Written>,
) -> Result<(), StoreError> {
    let at = find(tx, list)?;
    let path = extended(list, id);
    let item = match child(tx, &at, id)? {
        Child::Record(item) => item,
        Child::Nothing if fields.is_empty() => {
            return Err(StoreError::BadValue(path, "it has no fields"));
        }
        Child::Nothing => tx.put_object(&at, id, ObjType::Map)?,
        Child::Field => return Err(StoreError::NoSuchPlace(path)),
    };
    for (key, value) in values::sorted(fields) {
        let path = extended(&path, key);
        if value.is_object() || value.is_array() {
            return Err(StoreError::BadValue(path, "a single value is needed"));
        }
        put(tx, &item, key, &path, value, log)?;
    }
    Ok(())
}

fn reorder(
    tx: &mut Transaction<'_>,
    list: &[String],
    id: &str,
    before: Option<&str>,
    log: &mut Vec<Written>,
) -> Result<(), StoreError> {
    let at = find(tx, list)?;
    let path = extended(list, id);
    let Child::Record(item) = child(tx, &at, id)? else {
        return Err(StoreError::NoSuchPlace(path));
    };
    if before == Some(id) {
        return Ok(());
    }
    let order = make_room(tx, list, &at, Some(id), before, log)?;
    put_field(
        tx,
        &item,
        "order",
        &extended(&path, "order"),
        &order.into(),
        log,
    )
}

fn mark(
    tx: &mut Transaction<'_>,
    list: &[String],
    id: &str,
    gone: bool,
    log: &mut Vec<Written>,
) -> Result<(), StoreError> {
    let at = find(tx, list)?;
    let path = extended(list, id);
    let Child::Record(item) = child(tx, &at, id)? else {
        return Err(StoreError::NoSuchPlace(path));
    };
    put_field(
        tx,
        &item,
        "gone",
        &extended(&path, "gone"),
        &gone.into(),
        log,
    )
}

/// The order key for a place in a list, without the item that is about to move. Neighbours that leave no room between
/// them get new keys. Items that are gone count as well: they keep their place for when they come back.
fn make_room(
    tx: &mut Transaction<'_>,
    list: &[String],
    at: &ObjId,
    without: Option<&str>,
    before: Option<&str>,
    log: &mut Vec<Written>,
) -> Result<String, StoreError> {
    let mut items: Vec<(String, String, ObjId)> = Vec::new();
    let ids: Vec<String> = tx.keys(at).collect();
    for id in ids {
        if without == Some(id.as_str()) {
            continue;
        }
        if let Child::Record(item) = child(tx, at, &id)? {
            let order = match values::read_key(tx, &item, "order")? {
                Some(Value::String(order)) => order,
                _ => String::new(),
            };
            items.push((order, id, item));
        }
    }
    items.sort_by(|a, b| (&a.0, &a.1).cmp(&(&b.0, &b.1)));
    let place = match before {
        None => items.len(),
        Some(before) => items
            .iter()
            .position(|(_, id, _)| id == before)
            .ok_or_else(|| StoreError::NoSuchPlace(extended(list, before)))?,
    };
    let keys: Vec<&str> = items.iter().map(|(order, ..)| order.as_str()).collect();
    let (order, moved) = order::place(&keys, place);
    for (index, key) in moved {
        if let Some((_, id, item)) = items.get(index) {
            let path = extended(&extended(list, id), "order");
            put_field(tx, item, "order", &path, &key.into(), log)?;
        }
    }
    Ok(order)
}

/// Writes back what stood before an edit, or once more what the edit wrote. Answers the fields that meanwhile had
/// another value than the one expected.
pub fn write_back(
    tx: &mut Transaction<'_>,
    entry: &Written,
    undo: bool,
    log: &mut Vec<Written>,
) -> Result<bool, StoreError> {
    let (expected, value) = if undo {
        (&entry.after, &entry.before)
    } else {
        (&entry.before, &entry.after)
    };
    let Some((key, above)) = entry.path.split_last() else {
        return Err(StoreError::NotAField(Vec::new()));
    };
    let parent = find_or_make(tx, above, &entry.path)?;
    if let Child::Record(_) = child(tx, &parent, key)? {
        return Err(StoreError::NotAField(entry.path.clone()));
    }
    let now = values::read_key(tx, &parent, key)?;
    let since = now != *expected;
    match value {
        Some(value) => put_field(tx, &parent, key, &entry.path, value, log)?,
        None if now.is_some() => {
            tx.delete(&parent, key.as_str())?;
            log.push(Written {
                path: entry.path.clone(),
                before: now,
                after: None,
            });
        }
        None => {}
    }
    Ok(since)
}

/// What stands under a key.
enum Child {
    Nothing,
    /// A single value, or a list that is one value.
    Field,
    Record(ObjId),
}

fn child(tx: &impl ReadDoc, at: &ObjId, key: &str) -> Result<Child, StoreError> {
    Ok(match tx.get(at, key)? {
        None => Child::Nothing,
        Some((automerge::Value::Object(ObjType::Map | ObjType::Table), id)) => Child::Record(id),
        Some(_) => Child::Field,
    })
}

/// An item of a list carries its place and its mark.
fn is_item(tx: &impl ReadDoc, at: &ObjId) -> Result<bool, StoreError> {
    Ok(tx.get(at, "order")?.is_some() && tx.get(at, "gone")?.is_some())
}

fn find(tx: &impl ReadDoc, path: &[String]) -> Result<ObjId, StoreError> {
    let mut at = ObjId::Root;
    for key in path {
        match child(tx, &at, key)? {
            Child::Record(id) => at = id,
            Child::Nothing | Child::Field => return Err(StoreError::NoSuchPlace(path.to_vec())),
        }
    }
    Ok(at)
}

/// The record at a path. One that is missing directly under an item is made: an older version did not know it.
fn find_or_make(
    tx: &mut Transaction<'_>,
    path: &[String],
    whole: &[String],
) -> Result<ObjId, StoreError> {
    let Some((last, above)) = path.split_last() else {
        return Ok(ObjId::Root);
    };
    let at = find(tx, above).map_err(|_| StoreError::NoSuchPlace(whole.to_vec()))?;
    match child(tx, &at, last)? {
        Child::Record(id) => Ok(id),
        Child::Nothing if is_item(tx, &at)? => {
            Ok(tx.put_object(&at, last.as_str(), ObjType::Map)?)
        }
        Child::Nothing | Child::Field => Err(StoreError::NoSuchPlace(whole.to_vec())),
    }
}

/// The list at a path. What is missing of the way inside an item is made: an older version did not know it. Who asks has made sure that
/// it is a list.
fn find_or_make_list(tx: &mut Transaction<'_>, path: &[String]) -> Result<ObjId, StoreError> {
    let mut at = ObjId::Root;
    let mut in_item = false;
    for key in path {
        in_item |= is_item(tx, &at)?;
        at = match child(tx, &at, key)? {
            Child::Record(id) => id,
            Child::Nothing if in_item => tx.put_object(&at, key.as_str(), ObjType::Map)?,
            Child::Nothing | Child::Field => return Err(StoreError::NoSuchPlace(path.to_vec())),
        };
    }
    Ok(at)
}

fn extended(path: &[String], key: &str) -> Vec<String> {
    let mut longer = path.to_vec();
    longer.push(key.into());
    longer
}

//! Between JSON values and what stands in a document.
//!
//! Reading is by this walk instead of Automerge's own serializer, because the depth of a document from outside must be
//! bounded before the stack is: nesting costs a writer a few bytes per level.

use automerge::transaction::{Transactable, Transaction};
use automerge::{ObjId, ObjType, ReadDoc, ScalarValue, ScalarValueRef, ValueRef};
use serde_json::{Map, Number, Value};

use crate::error::StoreError;

/// Levels of records and lists inside each other. The job's own deepest path has five.
pub const DEEPEST: usize = 24;

/// The longest text of one field, bytes. A long note is a tenth of it.
pub const LONGEST_TEXT: usize = 1 << 20;

/// Everything in the document, as JSON.
pub fn read(doc: &impl ReadDoc) -> Result<Value, StoreError> {
    read_map(doc, &ObjId::Root, DEEPEST)
}

/// What stands under one key of a record; none if nothing does.
pub fn read_key(doc: &impl ReadDoc, at: &ObjId, key: &str) -> Result<Option<Value>, StoreError> {
    match doc.get(at, key)? {
        None => Ok(None),
        Some((value, id)) => read_found(doc, value, &id).map(Some),
    }
}

/// All values of one field that were set apart, the one that holds last.
pub fn read_all(doc: &impl ReadDoc, at: &ObjId, key: &str) -> Result<Vec<Value>, StoreError> {
    doc.get_all(at, key)?
        .into_iter()
        .map(|(value, id)| read_found(doc, value, &id))
        .collect()
}

fn read_found(
    doc: &impl ReadDoc,
    value: automerge::Value<'_>,
    id: &ObjId,
) -> Result<Value, StoreError> {
    match value {
        automerge::Value::Scalar(scalar) => Ok(scalar_to_json(&scalar.into_owned().into())),
        automerge::Value::Object(kind) => read_object(doc, kind, id, DEEPEST),
    }
}

fn read_object(
    doc: &impl ReadDoc,
    kind: ObjType,
    id: &ObjId,
    depth: usize,
) -> Result<Value, StoreError> {
    let Some(depth) = depth.checked_sub(1) else {
        return Err(StoreError::Damaged(
            "records inside records without end".into(),
        ));
    };
    match kind {
        ObjType::Map | ObjType::Table => read_map(doc, id, depth),
        // other programs may write a text as characters that merge; here it is one value all the same
        ObjType::Text => Ok(Value::String(doc.text(id)?)),
        ObjType::List => {
            let mut list = Vec::new();
            for item in doc.list_range(id, ..) {
                list.push(match &item.value {
                    ValueRef::Scalar(scalar) => scalar_to_json(scalar),
                    ValueRef::Object(kind) => read_object(doc, *kind, &item.id(), depth)?,
                });
            }
            Ok(Value::Array(list))
        }
    }
}

fn read_map(doc: &impl ReadDoc, at: &ObjId, depth: usize) -> Result<Value, StoreError> {
    let mut map = Map::new();
    for item in doc.map_range(at, ..) {
        let value = match &item.value {
            ValueRef::Scalar(scalar) => scalar_to_json(scalar),
            ValueRef::Object(kind) => read_object(doc, *kind, &item.id(), depth)?,
        };
        map.insert(item.key.into_owned(), value);
    }
    Ok(Value::Object(map))
}

/// A single value. What JSON cannot say (bytes, a kind of a later version) reads as null.
fn scalar_to_json(scalar: &ScalarValueRef<'_>) -> Value {
    match scalar {
        ScalarValueRef::Str(text) => Value::String(text.to_string()),
        ScalarValueRef::Int(n) | ScalarValueRef::Counter(n) | ScalarValueRef::Timestamp(n) => {
            Value::from(*n)
        }
        ScalarValueRef::Uint(n) => Value::from(*n),
        ScalarValueRef::F64(x) => Number::from_f64(*x).map_or(Value::Null, Value::Number),
        ScalarValueRef::Boolean(yes) => Value::Bool(*yes),
        ScalarValueRef::Bytes(_) | ScalarValueRef::Unknown { .. } | ScalarValueRef::Null => {
            Value::Null
        }
    }
}

/// Where a value goes: under a key of a record, or to the end of a list.
enum Slot<'a> {
    Key(&'a ObjId, &'a str),
    End(&'a ObjId, usize),
}

/// Writes a value under a key of a record. Records and lists are made anew: the caller sees to it that none is hidden.
pub fn write(
    tx: &mut Transaction<'_>,
    at: &ObjId,
    key: &str,
    path: &[String],
    value: &Value,
) -> Result<(), StoreError> {
    write_slot(tx, &Slot::Key(at, key), path, value, DEEPEST)
}

fn write_slot(
    tx: &mut Transaction<'_>,
    slot: &Slot<'_>,
    path: &[String],
    value: &Value,
    depth: usize,
) -> Result<(), StoreError> {
    let bad = |why| StoreError::BadValue(path.to_vec(), why);
    let depth = depth
        .checked_sub(1)
        .ok_or_else(|| bad("records inside records without end"))?;
    match value {
        Value::Object(map) => {
            let id = put_object(tx, slot, ObjType::Map)?;
            for (key, inner) in sorted(map) {
                write_slot(tx, &Slot::Key(&id, key), path, inner, depth)?;
            }
        }
        Value::Array(list) => {
            let id = put_object(tx, slot, ObjType::List)?;
            for (index, inner) in list.iter().enumerate() {
                write_slot(tx, &Slot::End(&id, index), path, inner, depth)?;
            }
        }
        single => {
            let scalar = json_to_scalar(single).map_err(bad)?;
            match slot {
                Slot::Key(at, key) => tx.put(at, *key, scalar)?,
                Slot::End(at, index) => tx.insert(at, *index, scalar)?,
            }
        }
    }
    Ok(())
}

fn put_object(
    tx: &mut Transaction<'_>,
    slot: &Slot<'_>,
    kind: ObjType,
) -> Result<ObjId, StoreError> {
    Ok(match slot {
        Slot::Key(at, key) => tx.put_object(at, *key, kind)?,
        Slot::End(at, index) => tx.insert_object(at, *index, kind)?,
    })
}

fn json_to_scalar(value: &Value) -> Result<ScalarValue, &'static str> {
    match value {
        Value::Null => Ok(ScalarValue::Null),
        Value::Bool(yes) => Ok(ScalarValue::Boolean(*yes)),
        Value::String(text) if text.len() > LONGEST_TEXT => Err("the text is too long"),
        Value::String(text) => Ok(ScalarValue::Str(text.as_str().into())),
        Value::Number(n) => match (n.as_i64(), n.as_f64()) {
            (Some(whole), _) => Ok(ScalarValue::Int(whole)),
            (None, Some(x)) if !n.is_u64() => Ok(ScalarValue::F64(x)),
            _ => Err("the number is too large"),
        },
        Value::Array(_) | Value::Object(_) => Err("a single value is needed"),
    }
}

/// The entries by key. The map type of `serde_json` keeps another order if any program that is built with this crate
/// asks for that, and then two builds would write different bytes.
pub fn sorted(map: &Map<String, Value>) -> Vec<(&String, &Value)> {
    let mut entries: Vec<_> = map.iter().collect();
    entries.sort_by(|a, b| a.0.cmp(b.0));
    entries
}

/// The value as text, the same in every build: keys sorted at every level.
pub fn canonical(value: &Value) -> String {
    match value {
        Value::Object(map) => {
            let fields: Vec<String> = sorted(map)
                .into_iter()
                .map(|(key, inner)| format!("{}:{}", Value::from(key.as_str()), canonical(inner)))
                .collect();
            format!("{{{}}}", fields.join(","))
        }
        Value::Array(list) => {
            let items: Vec<String> = list.iter().map(canonical).collect();
            format!("[{}]", items.join(","))
        }
        single => single.to_string(),
    }
}

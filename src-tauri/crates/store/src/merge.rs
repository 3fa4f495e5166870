//! Two devices' copies of one document become one, and what came in is told.

use std::collections::BTreeMap;

use automerge::iter::MapRangeItem;
use automerge::{Automerge, ObjId, ObjType, ReadDoc, ValueRef};
use serde_json::Value;

use crate::document::{self, Kind};
use crate::error::StoreError;
use crate::{chunks, values};

/// A field that two devices set apart.
#[derive(Debug, Clone, PartialEq)]
pub struct Conflict {
    /// The field; in the private part the path begins with `private`.
    pub path: Vec<String>,
    /// The value that holds.
    pub holds: Value,
    /// The others.
    pub others: Vec<Value>,
}

/// Values set apart, by path; the one that holds is the last.
type Apart = BTreeMap<Vec<String>, Vec<Value>>;

/// Loads a document from outside. Automerge stops the program on some documents that were made to harm; here that is
/// one more kind of damage. Where a panic cannot be caught, in the browser, the host starts the store anew; nothing was
/// changed by then.
pub fn load(kind: Kind, bytes: &[u8]) -> Result<Automerge, StoreError> {
    chunks::check(bytes)?;
    std::panic::catch_unwind(|| unpack(kind, bytes)).unwrap_or_else(|_| {
        Err(StoreError::Damaged(
            "a document contradicts itself".to_string(),
        ))
    })
}

fn unpack(kind: Kind, bytes: &[u8]) -> Result<Automerge, StoreError> {
    let mut doc = Automerge::load(bytes)?;
    let first = document::begin(&kind.fixed()[..1])?;
    let begins = first
        .get_heads()
        .iter()
        .all(|hash| doc.get_change_by_hash(hash).is_some());
    if !begins {
        return Err(StoreError::NotAJobFile(
            "it does not begin as jobs do".into(),
        ));
    }
    document::grow(&mut doc, kind.fixed())?;
    // a document too deep to be read is refused before it is kept
    values::read(&doc)?;
    Ok(doc)
}

/// Takes in what the other document has. Both must have begun as one.
pub fn merge(
    kind: Kind,
    id: &str,
    ours: &mut Automerge,
    theirs: &Automerge,
) -> Result<(), StoreError> {
    let fixed = document::begin(kind.fixed())?;
    let related = ours
        .get_changes(&fixed.get_heads())
        .iter()
        .any(|change| theirs.get_change_by_hash(&change.hash()).is_some());
    if !related {
        return Err(StoreError::AnotherJob(id.into()));
    }
    ours.apply_changes(ours.get_changes_added(theirs))?;
    Ok(())
}

/// The fields that hold several values since the merge and did not before.
pub fn new_conflicts(
    part: &[&str],
    before: &Automerge,
    after: &Automerge,
) -> Result<Vec<Conflict>, StoreError> {
    let prefix: Vec<String> = part.iter().map(ToString::to_string).collect();
    let (mut old, mut new) = (Apart::new(), Apart::new());
    set_apart(before, &ObjId::Root, &prefix, &mut old)?;
    set_apart(after, &ObjId::Root, &prefix, &mut new)?;
    Ok(new
        .into_iter()
        .filter(|(path, values)| old.get(path) != Some(values))
        .filter_map(|(path, mut values)| {
            let holds = values.pop()?;
            values.retain(|value| *value != holds);
            (!values.is_empty()).then_some(Conflict {
                path,
                holds,
                others: values,
            })
        })
        .collect())
}

/// Collects the fields that hold several values. The depth is bounded, because the document was read before.
fn set_apart(
    doc: &Automerge,
    at: &ObjId,
    path: &[String],
    found: &mut Apart,
) -> Result<(), StoreError> {
    for item in doc.map_range(at, ..) {
        let id = item.id();
        let MapRangeItem {
            key,
            value,
            conflict,
            ..
        } = item;
        let path = [path, &[key.clone().into_owned()]].concat();
        if let ValueRef::Object(ObjType::Map | ObjType::Table) = value {
            set_apart(doc, &id, &path, found)?;
        }
        if conflict {
            found.insert(path, values::read_all(doc, at, &key)?);
        }
    }
    Ok(())
}

/// The paths at which two values differ. A record that only one of them has is one path.
pub fn differences(path: &[String], before: &Value, after: &Value, found: &mut Vec<Vec<String>>) {
    let (Value::Object(old), Value::Object(new)) = (before, after) else {
        if before != after {
            found.push(path.to_vec());
        }
        return;
    };
    let mut keys: Vec<&String> = old.keys().chain(new.keys()).collect();
    keys.sort();
    keys.dedup();
    for key in keys {
        let path = [path, std::slice::from_ref(key)].concat();
        match (old.get(key), new.get(key)) {
            (Some(old), Some(new)) => differences(&path, old, new, found),
            _ => found.push(path),
        }
    }
}

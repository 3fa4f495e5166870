//! Two devices' copies of one document become one, and what came in is told.

use automerge::iter::MapRangeItem;
use automerge::{Automerge, ObjId, ObjType, ReadDoc, ValueRef};
use job::Part;
use serde_json::Value;

use crate::document::{self, Kind};
use crate::draft::full_path;
use crate::error::StoreError;
use crate::{chunks, values};

/// A field that devices set apart. It stays one until somebody writes the field again, on any device.
#[derive(Debug, Clone, PartialEq)]
pub struct Conflict {
    /// The field, or the record that two devices made apart; in the private part the path begins with `private`.
    pub path: Vec<String>,
    /// What holds meanwhile: the same on every device.
    pub holds: Said,
    /// What else was written.
    pub others: Vec<Said>,
}

/// What one device wrote.
#[derive(Debug, Clone, PartialEq)]
pub struct Said {
    /// The value.
    pub value: Value,
    /// The id of the device.
    pub device: String,
    /// When, s since 1970 UTC, by the clock of that device; 0 is not known.
    pub at_s: i64,
}

/// Keys that are never a person's question: the place in a list, and what the store counts itself.
const SILENT: [&str; 3] = ["order", "format", document::ERASED];

/// Clocks that differ by less than this are not spoken of, s.
const CLOCKS_ALIKE_S: i64 = 30 * 60;

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
    // a history with a hole would be taken without what builds upon it
    if !doc.get_missing_deps(&[]).is_empty() {
        return Err(StoreError::CutShort);
    }
    // a document too deep to be read is refused before it is kept
    values::read(&doc)?;
    Ok(doc)
}

/// Takes in what the other document has. Both must have begun as one; of private parts that is known from their jobs,
/// and one that the crew began by a signature has nothing but the fixed changes in common with ours.
pub fn merge(
    kind: Kind,
    id: &str,
    ours: &mut Automerge,
    theirs: &Automerge,
) -> Result<(), StoreError> {
    let fixed = document::begin(kind.fixed())?;
    let related = kind == Kind::Private
        || ours
            .get_changes(&fixed.get_heads())
            .iter()
            .any(|change| theirs.get_change_by_hash(&change.hash()).is_some());
    if !related {
        return Err(StoreError::AnotherJob(id.into()));
    }
    ours.apply_changes(ours.get_changes_added(theirs))?;
    Ok(())
}

/// How far the clock of another device is from what its changes say, s; 0 if nothing tells. A change that is later than
/// `now_s` comes from a clock ahead of ours; one that is earlier than a change it builds upon, from one behind.
pub fn clocks_apart_s(ours: Option<&Automerge>, theirs: &Automerge, now_s: i64) -> i64 {
    let mut apart = 0;
    for change in theirs.get_changes(&[]) {
        let new = ours.is_none_or(|ours| ours.get_change_by_hash(&change.hash()).is_none());
        // fixed and first changes have no time
        if !new || change.timestamp() == 0 {
            continue;
        }
        let before = change
            .deps()
            .iter()
            .filter_map(|hash| theirs.get_change_by_hash(hash))
            .map(|earlier| earlier.timestamp())
            .max();
        let ahead = change.timestamp().saturating_sub(now_s);
        let behind = before.map_or(0, |before| before.saturating_sub(change.timestamp()));
        apart = apart.max(ahead).max(behind);
    }
    if apart < CLOCKS_ALIKE_S { 0 } else { apart }
}

/// The fields that devices set apart and nobody has settled. Ticks are never among them: no two devices write the same.
pub fn conflicts(doc: &Automerge) -> Result<Vec<Conflict>, StoreError> {
    let mut found = Vec::new();
    collect(doc, &ObjId::Root, &[], &mut found)?;
    Ok(found)
}

/// The conflicts of a job with those of its private part, whose paths begin with `private`.
pub fn of_both(job: &[Conflict], private: Option<&Vec<Conflict>>) -> Vec<Conflict> {
    let mut all = job.to_vec();
    all.extend(private.into_iter().flatten().map(|conflict| Conflict {
        path: full_path(Part::Private, &conflict.path),
        ..conflict.clone()
    }));
    all
}

/// Whether a path leads into the private part.
pub fn is_private(path: &[String]) -> bool {
    path.first().is_some_and(|first| first == "private")
}

/// The depth is bounded, because the document was read before.
fn collect(
    doc: &Automerge,
    at: &ObjId,
    path: &[String],
    found: &mut Vec<Conflict>,
) -> Result<(), StoreError> {
    for item in doc.map_range(at, ..) {
        let id = item.id();
        let MapRangeItem {
            key,
            value,
            conflict,
            ..
        } = item;
        if SILENT.contains(&key.as_ref()) || (path.is_empty() && key == "ticks") {
            continue;
        }
        let path = [path, &[key.clone().into_owned()]].concat();
        if conflict {
            let mut said = all_said(doc, at, &key)?;
            if let Some(holds) = said.pop() {
                said.retain(|other| !alike(&other.value, &holds.value));
                if !said.is_empty() {
                    found.push(Conflict {
                        path: path.clone(),
                        holds,
                        others: said,
                    });
                }
            }
        }
        if let ValueRef::Object(ObjType::Map | ObjType::Table) = value {
            collect(doc, &id, &path, found)?;
        }
    }
    Ok(())
}

/// Every value of one field with who wrote it, the one that holds last.
fn all_said(doc: &Automerge, at: &ObjId, key: &str) -> Result<Vec<Said>, StoreError> {
    let values = values::read_all(doc, at, key)?;
    let ids = doc.get_all(at, key)?.into_iter().map(|(_, id)| id);
    Ok(values
        .into_iter()
        .zip(ids)
        .map(|(value, id)| {
            let change = doc
                .hash_for_opid(&id)
                .and_then(|hash| doc.get_change_by_hash(&hash));
            Said {
                value,
                device: change
                    .as_ref()
                    .map(|change| change.actor_id().to_hex_string())
                    .unwrap_or_default(),
                at_s: change.map_or(0, |change| change.timestamp()),
            }
        })
        .collect())
}

/// Whether two values say the same to a person: records made apart have their own places in the list.
fn alike(a: &Value, b: &Value) -> bool {
    let (Value::Object(one), Value::Object(other)) = (a, b) else {
        return a == b;
    };
    one.len() == other.len()
        && one.iter().all(|(key, value)| {
            SILENT.contains(&key.as_str()) || other.get(key).is_some_and(|v| alike(value, v))
        })
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

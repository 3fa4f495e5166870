//! What two versions of a job differ in, and what devices set apart in it, for people.

use job::{Edit, Job, Part};
use serde_json::Value;
use store::{Said, State};

use crate::views::{Apart, ApartField, ApartValue, Change, ChangeKind};
use crate::words::{Shown, Words, area, split};

/// So many fields of a record that was made twice are named.
const NAMED: usize = 5;

/// Fields that stand for the record's own place, and are no news of it.
const SILENT: [&str; 2] = ["order", "source"];

/// What is at these paths before and after, in words.
pub(crate) fn changes(paths: &[Vec<String>], before: &State, after: &State) -> Vec<Change> {
    let new = Words::of(&after.value, after.private.as_deref());
    let old = Words::of(&before.value, before.private.as_deref());
    paths
        .iter()
        .filter(|path| {
            path.last()
                .is_none_or(|last| last != "source" && last != "format")
        })
        .map(|path| {
            let (was, is) = (found(before, path), found(after, path));
            let (item, field) = match path.split_last() {
                Some((field, item)) if new.is_item(item) => (item, field.as_str()),
                _ => (path.as_slice(), ""),
            };
            let kind = match (field, is) {
                ("gone", Some(Value::Bool(true))) => ChangeKind::Removed,
                ("gone", _) => ChangeKind::Added,
                ("order", _) => ChangeKind::Moved,
                _ if new.is_item(path) && was.is_none() => ChangeKind::Added,
                _ => ChangeKind::Set,
            };
            let named = if kind == ChangeKind::Set { path } else { item };
            let said = |words: &Words<'_>, value: Option<&Value>| match (kind, value) {
                (ChangeKind::Set, Some(value)) => words.value(path, value),
                _ => Shown::text(""),
            };
            Change {
                what: new.path(named),
                kind,
                area: area(path),
                before: said(&old, was),
                after: said(&new, is),
            }
        })
        .collect()
}

/// What devices set apart, with the edits that keep each value.
pub(crate) fn apart(
    conflicts: &[store::Conflict],
    state: &State,
    job: &Job,
    device: &str,
) -> Vec<Apart> {
    let words = Words::of(&state.value, state.private.as_deref());
    conflicts
        .iter()
        .map(|conflict| {
            let path = &conflict.path;
            let said: Vec<&Said> = std::iter::once(&conflict.holds)
                .chain(&conflict.others)
                .collect();
            let fields = differing(&said);
            let values = said
                .iter()
                .map(|one| ApartValue {
                    fields: fields
                        .iter()
                        .take(NAMED)
                        .map(|way| field(&words, path, way, &one.value))
                        .collect(),
                    here: one.device == device,
                    who: who(job, &one.device),
                    at_ms: one.at_s.saturating_mul(1000),
                    edits: vec![keeps(path, &one.value)],
                })
                .collect();
            Apart {
                what: words.path(path),
                area: area(path),
                values,
            }
        })
        .collect()
}

/// One field of what stands at a path, by the way to it.
fn field(words: &Words<'_>, path: &[String], way: &[String], value: &Value) -> ApartField {
    let whole = [path, way].concat();
    let inner = way.iter().try_fold(value, |at, key| at.get(key));
    ApartField {
        name: if way.is_empty() {
            String::new()
        } else {
            words.field(&whole)
        },
        value: words.value(&whole, inner.unwrap_or(&Value::Null)),
    }
}

/// The ways to the fields in which values differ: one empty way for single values.
fn differing(said: &[&Said]) -> Vec<Vec<String>> {
    let mut ways = Vec::new();
    if let Some((first, rest)) = said.split_first() {
        for other in rest {
            compare(&[], &first.value, &other.value, &mut ways);
        }
    }
    ways.sort();
    ways.dedup();
    ways
}

fn compare(way: &[String], a: &Value, b: &Value, ways: &mut Vec<Vec<String>>) {
    let (Value::Object(one), Value::Object(other)) = (a, b) else {
        if a != b {
            ways.push(way.to_vec());
        }
        return;
    };
    for (key, value) in one {
        if SILENT.contains(&key.as_str()) {
            continue;
        }
        let way = [way, std::slice::from_ref(key)].concat();
        match other.get(key) {
            Some(theirs) => compare(&way, value, theirs, ways),
            None => ways.push(way),
        }
    }
    ways.extend(
        other
            .keys()
            .filter(|key| !one.contains_key(*key))
            .map(|key| [way, std::slice::from_ref(key)].concat()),
    );
}

/// The edit that writes one of the values once more, which settles the field on every device.
fn keeps(path: &[String], value: &Value) -> Edit {
    let (part, path) = split(path);
    Edit::Set {
        part,
        path,
        value: value.clone(),
    }
}

/// Who last ticked on a device; empty if nobody said.
fn who(job: &Job, device: &str) -> String {
    job.ticks
        .values()
        .filter(|tick| tick.device == device && !tick.who.is_empty())
        .max_by_key(|tick| tick.at_ms)
        .map(|tick| tick.who.clone())
        .unwrap_or_default()
}

/// What stands at a path of a job or, if it begins with `private`, of its private part.
fn found<'s>(state: &'s State, path: &[String]) -> Option<&'s Value> {
    let (part, keys) = split(path);
    let doc = match part {
        Part::Job => &*state.value,
        Part::Private => state.private.as_deref()?,
    };
    keys.iter().try_fold(doc, |at, key| at.get(key))
}

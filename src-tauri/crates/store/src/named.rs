//! Which photos a job names. A document names one by its hash, in whatever field.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::merge::Conflict;

/// Texts of a document, among them the hashes of its photos.
pub type Texts = BTreeSet<String>;

/// What a document says, without what was removed from its lists. A job that is put away is a job all the same, so the
/// mark `gone` at the top does not count. What was set apart counts with all its values, and with the item it is in, until it is
/// settled.
pub fn live_texts<'a>(
    documents: impl IntoIterator<Item = &'a Value>,
    apart: &[Conflict],
    texts: &mut Texts,
) {
    for document in documents {
        for field in document.as_object().into_iter().flatten() {
            collect(field.1, true, texts);
        }
        for conflict in apart {
            // the first key may say in which document it is
            for path in [
                &conflict.path[..],
                conflict.path.get(1..).unwrap_or_default(),
            ] {
                let list = path.first().and_then(|list| document.get(list));
                let item = list.and_then(|list| path.get(1).and_then(|id| list.get(id)));
                if let Some(item) = item {
                    collect(item, false, texts);
                }
            }
        }
    }
    for conflict in apart {
        for said in std::iter::once(&conflict.holds).chain(&conflict.others) {
            collect(&said.value, false, texts);
        }
    }
}

/// Every text in a value, also in what was removed from it.
pub fn all_texts(value: &Value, texts: &mut Texts) {
    collect(value, false, texts);
}

/// The items of lists that are marked as removed: for each, its id and what it says.
pub fn removed_items<'a>(value: &'a Value, found: &mut impl FnMut(&'a str, &'a Value)) {
    match value {
        Value::Array(items) => items.iter().for_each(|item| removed_items(item, found)),
        Value::Object(fields) => {
            for (key, field) in fields {
                if is_gone(field) {
                    found(key, field);
                } else {
                    removed_items(field, found);
                }
            }
        }
        _ => {}
    }
}

fn is_gone(value: &Value) -> bool {
    value.get("gone") == Some(&Value::Bool(true))
}

fn collect(value: &Value, only_live: bool, texts: &mut Texts) {
    match value {
        Value::String(text) => {
            texts.insert(text.clone());
        }
        Value::Array(items) => items
            .iter()
            .for_each(|item| collect(item, only_live, texts)),
        Value::Object(fields) if !(only_live && is_gone(value)) => fields
            .values()
            .for_each(|field| collect(field, only_live, texts)),
        Value::Object(_) | Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn what_was_removed_is_not_said_but_a_job_put_away_is() {
        let job = json!({
            "gone": true,
            "venue": { "photo": "a" },
            "photos": { "p1": { "hash": "b", "gone": false }, "p2": { "hash": "c", "gone": true } },
        });
        let mut live = Texts::new();
        live_texts([&job], &[], &mut live);
        assert_eq!(live, Texts::from(["a".into(), "b".into()]));
        let mut all = Texts::new();
        all_texts(&job, &mut all);
        assert!(all.contains("c"));
        let mut removed = Vec::new();
        removed_items(&job["photos"], &mut |id, _| removed.push(id));
        assert_eq!(removed, ["p2"]);
    }
}

//! A document: how it begins, how it grows a format, how it is loaded and put into bytes.
//!
//! Every document of a kind begins with the same first change: the same actor, time and bytes on every device. It makes
//! the maps at the top, so that documents made apart share them and a merge hides nothing. When a format needs a new
//! map at the top, one more fixed change is put behind it, which depends on the fixed ones before it and on nothing
//! else; devices that apply it apart have made the same change.

use automerge::transaction::{CommitOptions, Transactable, Transaction};
use automerge::{ActorId, Automerge, AutomergeError, Change, ChangeHash, ObjId, ObjType, ReadDoc};
use serde_json::Value;
use sha2::{Digest, Sha256};

use crate::error::StoreError;
use crate::values;

/// Wrote the fixed changes of every document.
const FIXED_ACTOR: &[u8] = b"airwright fixed ";

/// Wrote the first change after a client was erased.
const ERASER_ACTOR: &[u8] = b"airwright eraser";

/// The format that the first change after an erasure names. It never changes, as none of that change does.
const ERASED_FORMAT: i64 = 1;

/// The field at the top of a job and of its private part that counts how often the client was erased.
pub const ERASED: &str = "erased";

/// What a document is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A job, without client and money.
    Job,
    /// Client and money of a job, under the job's id.
    Private,
    /// One of the books.
    Book,
}

impl Kind {
    /// Its name in the database.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Kind::Job => "job",
            Kind::Private => "private",
            Kind::Book => "book",
        }
    }

    /// The maps that each fixed change makes, oldest change first. Only ever grows at the end.
    pub fn fixed(self) -> &'static [&'static [&'static str]] {
        match self {
            Kind::Job => &[
                &job::JOB_TOP_LEVEL,
                &job::JOB_TOP_LEVEL_DAY,
                &job::JOB_TOP_LEVEL_PINS,
                &job::JOB_TOP_LEVEL_VANS,
                &job::JOB_TOP_LEVEL_AWAY,
                &job::JOB_TOP_LEVEL_TEAMS,
            ],
            Kind::Private => &[
                &job::money::TOP_LEVEL,
                &job::money::BILLS_LEVEL,
                &job::money::TOP_LEVEL_DAY,
            ],
            Kind::Book => &[&job::books::TOP_LEVEL],
        }
    }
}

/// An empty document: the fixed changes alone.
pub fn begin(fixed: &[&[&str]]) -> Result<Automerge, StoreError> {
    let mut doc = Automerge::new().with_actor(ActorId::from(FIXED_ACTOR));
    for maps in fixed {
        change(&mut doc, 0, |tx| {
            for map in *maps {
                tx.put_object(ObjId::Root, *map, ObjType::Map)?;
            }
            Ok(())
        })?;
    }
    Ok(doc)
}

/// Puts the fixed changes into a document that lacks some. Answers whether it did.
pub fn grow(doc: &mut Automerge, fixed: &[&[&str]]) -> Result<bool, StoreError> {
    let missing: Vec<Change> = begin(fixed)?
        .get_changes(&[])
        .into_iter()
        .filter(|change| doc.get_change_by_hash(&change.hash()).is_none())
        .collect();
    let grew = !missing.is_empty();
    doc.apply_changes(missing)?;
    Ok(grew)
}

/// A new document with these contents. They are written under an actor and a time that follow from the contents, so
/// that two devices that begin with the same book, or the same job, have made the same document.
pub fn seeded(kind: Kind, id: &str, content: &Value) -> Result<Automerge, StoreError> {
    let mut hash = Sha256::new();
    for part in [kind.name(), "\n", id, "\n", &values::canonical(content)] {
        hash.update(part.as_bytes());
    }
    let digest = hash.finalize();
    let mut doc = begin(kind.fixed())?;
    let actor = digest.get(..16).unwrap_or_default();
    doc.set_actor(ActorId::from(actor));
    let Value::Object(fields) = content else {
        return Err(StoreError::BadValue(Vec::new(), "a record is needed"));
    };
    change(&mut doc, 0, |tx| {
        for (key, value) in values::sorted(fields) {
            seed(tx, &ObjId::Root, key, std::slice::from_ref(key), value)?;
        }
        Ok(())
    })?;
    Ok(doc)
}

/// Writes a field; a record that is there already gets its fields instead of being replaced.
fn seed(
    tx: &mut Transaction<'_>,
    at: &ObjId,
    key: &str,
    path: &[String],
    value: &Value,
) -> Result<(), StoreError> {
    if let (Value::Object(fields), Some((automerge::Value::Object(ObjType::Map), id))) =
        (value, tx.get(at, key)?)
    {
        for (key, value) in values::sorted(fields) {
            let path = [path, std::slice::from_ref(key)].concat();
            seed(tx, &id, key, &path, value)?;
        }
        return Ok(());
    }
    values::write(tx, at, key, path, value)
}

/// A private part without any history, as it stands after the client was erased for the `generation`th time. Every
/// device makes the same one.
pub fn erased_private(generation: i64) -> Result<Automerge, StoreError> {
    // as the first version made it; what came later stands beside it
    let mut doc = begin(&Kind::Private.fixed()[..1])?;
    doc.set_actor(ActorId::from(ERASER_ACTOR));
    change(&mut doc, 0, |tx| {
        tx.put(ObjId::Root, "format", ERASED_FORMAT)?;
        tx.put(ObjId::Root, ERASED, generation)?;
        Ok(())
    })?;
    grow(&mut doc, Kind::Private.fixed())?;
    Ok(doc)
}

/// How often the client of this document was erased: the most that any device has written.
pub fn generation(doc: &impl ReadDoc) -> i64 {
    doc.get_all(ObjId::Root, ERASED)
        .unwrap_or_default()
        .iter()
        .filter_map(|(value, _)| value.as_i64())
        .max()
        .unwrap_or(0)
}

/// One change of a document: all of it or nothing.
pub fn change<T>(
    doc: &mut Automerge,
    at_s: i64,
    write: impl FnOnce(&mut Transaction<'_>) -> Result<T, StoreError>,
) -> Result<T, StoreError> {
    let mut tx = doc.transaction();
    match write(&mut tx) {
        Ok(answer) => {
            tx.commit_with(CommitOptions::default().with_time(at_s));
            Ok(answer)
        }
        Err(error) => {
            tx.rollback();
            Err(error)
        }
    }
}

/// Loads a document that this program kept: a snapshot and the changes since.
pub fn load(snapshot: &[u8], changes: &[Vec<u8>], actor: &[u8]) -> Result<Automerge, StoreError> {
    let mut doc = Automerge::load(snapshot)?;
    let changes = changes
        .iter()
        .map(|bytes| Change::from_bytes(bytes.clone()).map_err(AutomergeError::from))
        .collect::<Result<Vec<Change>, _>>()?;
    doc.apply_changes(changes)?;
    doc.set_actor(ActorId::from(actor));
    Ok(doc)
}

/// The whole document, uncompressed, without what waits for missing changes.
#[must_use]
pub fn save(doc: &Automerge) -> Vec<u8> {
    doc.save_with_options(automerge::SaveOptions {
        deflate: false,
        retain_orphans: false,
    })
}

/// The hashes of the newest changes as bytes, sorted: equal bytes, equal documents.
#[must_use]
pub fn heads_bytes(doc: &Automerge) -> Vec<u8> {
    let mut heads: Vec<ChangeHash> = doc.get_heads();
    heads.sort();
    heads.iter().flat_map(|hash| hash.0).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hex(bytes: &[u8]) -> String {
        bytes.iter().map(|byte| format!("{byte:02x}")).collect()
    }

    /// The hash of an Automerge change is that of its bytes, so these pin every byte. They never change: documents
    /// that began otherwise would not merge.
    #[test]
    fn the_first_change_of_every_kind_is_what_it_always_was() {
        let heads = |kind: Kind| hex(&heads_bytes(&begin(&kind.fixed()[..1]).unwrap()));
        assert_eq!(
            heads(Kind::Job),
            "7a8332a7634267f348646aa8b659e6d8319a72738bed804786ff4369c4878322"
        );
        assert_eq!(
            heads(Kind::Private),
            "79470432d9a276b2cd5f3a2ebcc27ae1c87299b990e4168b49c0cfbe10ec5571"
        );
        assert_eq!(
            heads(Kind::Book),
            "b9a49d87ec852b597311cd84500166fff731909818956f8477462d5427000cb0"
        );
        let erased = hex(&heads_bytes(&erased_private(1).unwrap()));
        assert!(
            erased.contains("5f6aca45b79a760dfdfb8be9f0f86574019c6256ff56009d117fe68065d8165f")
        );
        // the maps of bills, a change behind the first
        let bills = hex(&heads_bytes(&begin(&Kind::Private.fixed()[..2]).unwrap()));
        assert_eq!(
            bills,
            "cbdae99d3bf27d6d1c887fd595625cecd9eef5905f1c4bbeb36e14b82fa4b4ad"
        );
        // what a format adds stands beside the eraser's change
        let whole = hex(&heads_bytes(&begin(Kind::Private.fixed()).unwrap()));
        assert!(erased.contains(&whole));
    }

    #[test]
    fn a_format_grows_by_a_second_fixed_change_on_two_devices_apart() {
        const NEWER: &[&[&str]] = &[&["pieces", "notes"], &["rooms"]];
        let mut old = begin(&NEWER[..1]).unwrap();
        old.set_actor(ActorId::from(&[1; 16]));
        change(&mut old, 5, |tx| {
            Ok(tx.put(ObjId::Root, "name", "Made before")?)
        })
        .unwrap();

        let (mut a, mut b) = (old.clone(), old.clone());
        a.set_actor(ActorId::from(&[2; 16]));
        b.set_actor(ActorId::from(&[3; 16]));
        assert!(grow(&mut a, NEWER).unwrap());
        assert!(!grow(&mut a, NEWER).unwrap());
        change(&mut b, 6, |tx| {
            Ok(tx.put(ObjId::Root, "name", "Meanwhile")?)
        })
        .unwrap();
        assert!(grow(&mut b, NEWER).unwrap());
        for (doc, room) in [(&mut a, "hall"), (&mut b, "foyer")] {
            change(doc, 7, |tx| {
                let (_, rooms) = tx.get(ObjId::Root, "rooms")?.unwrap();
                Ok(tx.put(&rooms, room, true)?)
            })
            .unwrap();
        }
        let (before_a, before_b) = (a.clone(), b.clone());
        a.apply_changes(before_a.get_changes_added(&before_b))
            .unwrap();
        b.apply_changes(before_b.get_changes_added(&before_a))
            .unwrap();
        assert_eq!(heads_bytes(&a), heads_bytes(&b));
        let expected = serde_json::json!({
            "name": "Meanwhile", "pieces": {}, "notes": {}, "rooms": { "hall": true, "foyer": true },
        });
        assert_eq!(values::read(&a).unwrap(), expected);
        // a document that began with the newer program holds the same two changes
        let new = begin(NEWER).unwrap();
        assert!(
            new.get_heads()
                .iter()
                .all(|hash| a.get_change_by_hash(hash).is_some())
        );
    }

    #[test]
    fn the_same_beginning_is_the_same_document() {
        let content = serde_json::json!({ "name": "A", "venue": { "name": "B" } });
        let one = seeded(Kind::Job, "j", &content).unwrap();
        let two = seeded(Kind::Job, "j", &content).unwrap();
        assert_eq!(save(&one), save(&two));
        let other = seeded(Kind::Job, "k", &content).unwrap();
        assert_ne!(heads_bytes(&one), heads_bytes(&other));
        assert_eq!(
            values::read(&one).unwrap()["venue"],
            serde_json::json!({ "name": "B" })
        );
    }
}

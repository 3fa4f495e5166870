//! A hand-over that is signed on the screen.
//!
//! A signature belongs to the client, so it stands in the private part, where erasing the client takes it away with all
//! its history. A device with a crew copy has no private part: it begins one with the fixed changes and nothing but the
//! signature. At home that merges with the whole private part, as the two begin alike.

use job::Part;
use serde_json::Value;

use crate::document::{self, Kind};
use crate::draft::{Changed, Trace};
use crate::edits::{self, Written};
use crate::erase::erased_here;
use crate::error::StoreError;
use crate::store::{Check, Store};

/// Whether a private part holds nothing but signatures, taken on a device that has neither client nor money. What was
/// made whole, or was erased, names its format.
#[must_use]
pub fn is_only_signed(private: &Value) -> bool {
    private.get("format").is_none()
}

impl Store {
    /// Adds a signature under an id that nobody has used. `signed` is the whole record.
    pub fn sign(
        &mut self,
        id: &str,
        signature: &str,
        signed: &Value,
        label: &str,
        now_ms: i64,
        check: impl Check,
    ) -> Result<Changed, StoreError> {
        let list = ["signatures".to_string()];
        let mut draft = self.draft(Kind::Job, id)?;
        if draft.private.kept.is_some() {
            draft.change(Part::Private, now_ms, |tx, log| {
                edits::add(tx, &list, signature, None, signed, log)
            })?;
        } else {
            let erased = draft
                .main
                .kept
                .as_ref()
                .map_or(0, |kept| document::generation(&kept.doc))
                .max(erased_here(&self.conn, id)?);
            let begun = if erased > 0 {
                document::erased_private(erased)?
            } else {
                document::begin(Kind::Private.fixed())?
            };
            let mut doc = self.signed(begun);
            let mut log: Vec<Written> = Vec::new();
            document::change(&mut doc, now_ms.div_euclid(1000), |tx| {
                edits::add(tx, &list, signature, None, signed, &mut log)
            })?;
            draft.private.replace(doc);
            let mine = log.into_iter().map(|written| (Part::Private, written));
            draft.log.writes.extend(mine);
        }
        self.keep(draft, &Trace::Push(label), check)
    }
}

//! What each device says of a step: ticks, who takes it, where it likes to see it. Every device writes under a key of its
//! own, `STEP~DEVICE`, so no merge can hide a word.

use job::Part;
use serde_json::{Map, Value};

use crate::document::Kind;
use crate::draft::{Changed, Draft, Trace};
use crate::edits;
use crate::error::StoreError;
use crate::store::{Check, Store};

/// The longest name of a step, bytes.
const LONGEST_STEP: usize = 256;

/// What a mark's turn counts over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turn {
    /// All devices' marks of the step: the highest is what holds.
    OfStep,
    /// All marks of the list: they are applied in this order.
    OfList,
}

/// A mark that is on disk.
#[derive(Debug, Clone)]
pub struct Marked {
    /// Its key in the list.
    pub key: String,
    /// The mark with its turn, device and time.
    pub mark: Map<String, Value>,
    /// What was written.
    pub changed: Changed,
}

impl Store {
    /// Writes this device's mark of a step into a list. Device, turn and time are filled in here: the turn is one more
    /// than any has, so this mark is the one that holds, until another device says otherwise.
    #[expect(clippy::too_many_arguments, reason = "each is another thing")]
    pub fn mark(
        &mut self,
        id: &str,
        list: &str,
        fields: Map<String, Value>,
        turn: Turn,
        label: &str,
        now_ms: i64,
        check: impl Check,
    ) -> Result<Marked, StoreError> {
        let step = fields.get("step").and_then(Value::as_str).unwrap_or("");
        if step.is_empty() || step.len() > LONGEST_STEP {
            return Err(StoreError::BadId(step.into()));
        }
        let mut draft = self.draft(Kind::Job, id)?;
        let device = self.device_id();
        let key = format!("{step}~{device}");
        let over = (turn == Turn::OfStep).then_some(step);
        let turn = draft.last_turn(list, over).saturating_add(1);
        let mut mark = fields;
        mark.insert("device".into(), device.into());
        mark.insert("turn".into(), turn.into());
        mark.insert("at_ms".into(), now_ms.into());
        draft.change(Part::Job, now_ms, |tx, log| {
            edits::upsert(tx, &[list.to_string()], &key, &mark, log)
        })?;
        let changed = self.keep(draft, &Trace::Push(label), check)?;
        Ok(Marked { key, mark, changed })
    }
}

impl Draft<'_> {
    /// The highest turn that any device's mark has: of a step, or in all the list.
    fn last_turn(&self, list: &str, step: Option<&str>) -> i64 {
        let marks = self.value().and_then(|value| value.get(list)?.as_object());
        marks
            .into_iter()
            .flat_map(|marks| marks.values())
            .filter(|mark| {
                step.is_none_or(|step| mark.get("step").and_then(Value::as_str) == Some(step))
            })
            .filter_map(|mark| mark.get("turn").and_then(Value::as_i64))
            .max()
            .unwrap_or(0)
    }
}

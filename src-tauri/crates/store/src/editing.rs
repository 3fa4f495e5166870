//! Edits, ticks, undo and redo of jobs and books.

use job::site::Tick;
use job::{Book, Edit, Part};
use serde_json::{Map, Value};

use crate::document::Kind;
use crate::draft::{Changed, Draft, Trace, full_path};
use crate::edits;
use crate::error::StoreError;
use crate::marks::Turn;
use crate::store::{Check, Store, of_book};
use crate::undo::{self, Way};

/// What an undo or redo did.
#[derive(Debug, Clone)]
pub struct Undone {
    /// What the edit is called.
    pub label: String,
    /// What was written.
    pub changed: Changed,
    /// Fields that were not as they had been left: somebody's newer value was replaced.
    pub changed_since: Vec<Vec<String>>,
}

/// What undo and redo would do next.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Labels {
    /// Taken back by undo; none if there is nothing.
    pub undo: Option<String>,
    /// Made once more by redo; none if there is nothing.
    pub redo: Option<String>,
}

/// A tick that is on disk.
#[derive(Debug, Clone)]
pub struct Ticked {
    /// Its key among the job's ticks.
    pub key: String,
    /// The tick with its turn, device and time.
    pub tick: Tick,
    /// What was written.
    pub changed: Changed,
}

impl Store {
    /// Changes a job: all edits or none. The check sees the result before it is kept.
    pub fn edit_job(
        &mut self,
        id: &str,
        edits: &[Edit],
        label: &str,
        now_ms: i64,
        check: impl Check,
    ) -> Result<Changed, StoreError> {
        let draft = self.edited(Kind::Job, id, edits, now_ms)?;
        self.keep(draft, &Trace::Push(label), check)
    }

    /// Changes a book: all edits or none. Which part an edit names does not matter here.
    pub fn edit_book(
        &mut self,
        book: Book,
        edits: &[Edit],
        label: &str,
        now_ms: i64,
        check: impl FnOnce(&Value) -> Result<(), String>,
    ) -> Result<Changed, StoreError> {
        let draft = self.edited(Kind::Book, book.id(), edits, now_ms)?;
        self.keep(draft, &Trace::Push(label), of_book(check))
    }

    fn edited(
        &mut self,
        kind: Kind,
        id: &str,
        edits: &[Edit],
        now_ms: i64,
    ) -> Result<Draft<'static>, StoreError> {
        let mut draft = self.draft(kind, id)?;
        for part in [Part::Job, Part::Private] {
            let mine: Vec<&Edit> = edits.iter().filter(|edit| edit.part() == part).collect();
            if !mine.is_empty() {
                draft.change(part, now_ms, |tx, log| {
                    mine.into_iter()
                        .try_for_each(|edit| edits::apply(tx, edit, log))
                })?;
            }
        }
        Ok(draft)
    }

    /// Writes single fields of an item of a job by its id, and makes the item if it is not there: for what is kept by
    /// id without an order, such as what items cost.
    #[expect(clippy::too_many_arguments, reason = "each is another thing")]
    pub fn upsert(
        &mut self,
        id: &str,
        part: Part,
        list: &[String],
        item: &str,
        fields: &Map<String, Value>,
        label: &str,
        now_ms: i64,
        check: impl Check,
    ) -> Result<Changed, StoreError> {
        if !edits::is_id(item) {
            return Err(StoreError::BadId(item.into()));
        }
        let mut draft = self.draft(Kind::Job, id)?;
        draft.change(part, now_ms, |tx, log| {
            edits::upsert(tx, list, item, fields, log)
        })?;
        self.keep(draft, &Trace::Push(label), check)
    }

    /// Ticks a step, or takes a tick back, in the name of this device. Device, turn and time are filled in here: the
    /// turn is one more than any device's tick of the step has, so this tick is the one that holds, until another
    /// device says otherwise.
    pub fn tick(
        &mut self,
        id: &str,
        tick: &Tick,
        label: &str,
        now_ms: i64,
        check: impl Check,
    ) -> Result<Ticked, StoreError> {
        let Ok(Value::Object(fields)) = serde_json::to_value(tick) else {
            return Err(StoreError::BadValue(
                vec!["ticks".into()],
                "a record is needed",
            ));
        };
        let marked = self.mark(id, "ticks", fields, Turn::OfStep, label, now_ms, check)?;
        let of = |name: &str| marked.mark.get(name);
        let tick = Tick {
            device: of("device").and_then(Value::as_str).unwrap_or("").into(),
            turn: of("turn").and_then(Value::as_i64).unwrap_or(0),
            at_ms: now_ms,
            ..tick.clone()
        };
        Ok(Ticked {
            key: marked.key,
            tick,
            changed: marked.changed,
        })
    }

    /// Takes back the last edit that this device made to a job.
    pub fn undo(&mut self, id: &str, now_ms: i64, check: impl Check) -> Result<Undone, StoreError> {
        self.turn_back(Kind::Job, id, Way::Undo, now_ms, check)
    }

    /// Makes the edit that was taken back last once more.
    pub fn redo(&mut self, id: &str, now_ms: i64, check: impl Check) -> Result<Undone, StoreError> {
        self.turn_back(Kind::Job, id, Way::Redo, now_ms, check)
    }

    /// Takes back the last edit that this device made to a book.
    pub fn undo_book(
        &mut self,
        book: Book,
        now_ms: i64,
        check: impl FnOnce(&Value) -> Result<(), String>,
    ) -> Result<Undone, StoreError> {
        self.turn_back(Kind::Book, book.id(), Way::Undo, now_ms, of_book(check))
    }

    /// Makes the edit of a book that was taken back last once more.
    pub fn redo_book(
        &mut self,
        book: Book,
        now_ms: i64,
        check: impl FnOnce(&Value) -> Result<(), String>,
    ) -> Result<Undone, StoreError> {
        self.turn_back(Kind::Book, book.id(), Way::Redo, now_ms, of_book(check))
    }

    /// What undo and redo of a job would do next.
    pub fn labels(&self, id: &str) -> Result<Labels, StoreError> {
        self.labels_of(Kind::Job, id)
    }

    /// What undo and redo of a book would do next.
    pub fn book_labels(&self, book: Book) -> Result<Labels, StoreError> {
        self.labels_of(Kind::Book, book.id())
    }

    fn labels_of(&self, kind: Kind, id: &str) -> Result<Labels, StoreError> {
        Ok(Labels {
            undo: undo::label(&self.conn, kind, id, Way::Undo)?,
            redo: undo::label(&self.conn, kind, id, Way::Redo)?,
        })
    }

    fn turn_back(
        &mut self,
        kind: Kind,
        id: &str,
        way: Way,
        now_ms: i64,
        check: impl Check,
    ) -> Result<Undone, StoreError> {
        let mut draft = self.draft(kind, id)?;
        let step = undo::next(&self.conn, kind, id, way)?.ok_or(StoreError::NothingToUndo)?;
        let mut changed_since = Vec::new();
        for part in [Part::Job, Part::Private] {
            let mut writes: Vec<_> = step.log.writes.iter().filter(|w| w.0 == part).collect();
            if writes.is_empty() {
                continue;
            }
            if way == Way::Undo {
                writes.reverse();
            }
            let since = draft.change(part, now_ms, |tx, log| {
                let mut since = Vec::new();
                for (_, written) in writes {
                    if edits::write_back(tx, written, way == Way::Undo, log)? {
                        since.push(full_path(part, &written.path));
                    }
                }
                Ok(since)
            })?;
            changed_since.extend(since);
        }
        changed_since.sort();
        changed_since.dedup();
        let changed = self.keep(draft, &Trace::Turn(step.n, way), check)?;
        Ok(Undone {
            label: step.label,
            changed,
            changed_since,
        })
    }
}

//! A change in the making: the documents of a job or a book in memory, then on disk, then in the place of the old ones.

use std::collections::BTreeSet;
use std::sync::Arc;

use automerge::Automerge;
use automerge::transaction::Transaction;
use job::Part;
use rusqlite::{Connection, TransactionBehavior};
use serde_json::Value;

use crate::document::{self, Kind};
use crate::edits::Written;
use crate::error::StoreError;
use crate::merge::{self, Conflict};
use crate::rows::{self, Opened};
use crate::store::{Check, State, Store, write_summary};
use crate::undo::{self, Log, Way};
use crate::values;

/// What an edit did.
#[derive(Debug, Clone)]
pub struct Changed {
    /// What is there now.
    pub state: State,
    /// Fields that were written; those of the private part of a job begin with `private`.
    pub paths: Vec<Vec<String>>,
}

/// More rows that are written in the same transaction.
pub(crate) type Also<'a> = Box<dyn FnOnce(&Connection) -> Result<(), StoreError> + 'a>;

/// The documents of a job or a book with changes that are not on disk yet.
pub(crate) struct Draft<'a> {
    kind: Kind,
    id: String,
    pub main: Half,
    pub private: Half,
    /// What was written.
    pub log: Log,
    /// The revision that is kept.
    pub revision: i64,
    /// What else is written with it.
    pub also: Option<Also<'a>>,
}

/// One document: as it is kept, and as it would be.
#[derive(Default)]
pub(crate) struct Half {
    pub kept: Option<Arc<Opened>>,
    changed: Option<Automerge>,
    /// The maps at the top that were written; none if that is not known.
    written: Option<BTreeSet<String>>,
    /// Another document, with nothing of the kept one's history.
    fresh: Option<Automerge>,
}

/// What becomes of the rows for undo when a change is kept.
pub(crate) enum Trace<'a> {
    /// The change can be taken back under this label.
    Push(&'a str),
    /// The change was an undo or redo of this number.
    Turn(i64, Way),
    /// The change came from another device: undo stays as it is.
    Stay,
    /// What could be taken back must not come back.
    Forget,
}

impl Half {
    fn of(kept: Option<Arc<Opened>>) -> Half {
        Half {
            kept,
            written: Some(BTreeSet::new()),
            ..Half::default()
        }
    }

    /// The document to be changed in any way; none if there is none.
    pub fn doc(&mut self) -> Option<&mut Automerge> {
        self.written = None;
        self.copied()
    }

    fn copied(&mut self) -> Option<&mut Automerge> {
        let kept = self.kept.as_ref()?;
        Some(self.changed.get_or_insert_with(|| kept.doc.clone()))
    }

    /// Puts another document in the place of the kept one.
    pub fn replace(&mut self, doc: Automerge) {
        self.fresh = Some(doc);
    }

    /// Takes a change in, if there is any.
    fn settle(&mut self) -> Result<(), StoreError> {
        if let (Some(doc), Some(kept)) = (self.changed.take(), self.kept.as_ref())
            && doc.get_heads() != kept.doc.get_heads()
        {
            self.kept = Some(Arc::new(kept.with(doc, self.written.as_ref())?));
        }
        Ok(())
    }

    /// The content as it would be.
    fn value(&self) -> Result<Option<Arc<Value>>, StoreError> {
        match (&self.fresh, &self.kept) {
            (Some(doc), _) => Ok(Some(Arc::new(values::read(doc)?))),
            (None, Some(kept)) => Ok(Some(Arc::clone(&kept.value))),
            (None, None) => Ok(None),
        }
    }

    /// What devices set apart in it as it would be.
    fn apart(&self) -> Result<Arc<Vec<Conflict>>, StoreError> {
        match (&self.fresh, &self.kept) {
            (Some(doc), _) => Ok(Arc::new(merge::conflicts(doc)?)),
            (None, Some(kept)) => Ok(Arc::clone(&kept.apart)),
            (None, None) => Ok(Arc::default()),
        }
    }

    /// Writes what is not on disk. Answers whether there was anything.
    fn write(&mut self, conn: &Connection, kind: Kind, id: &str) -> Result<bool, StoreError> {
        if let Some(doc) = self.fresh.take() {
            self.kept = Some(Arc::new(rows::replace(conn, kind, id, doc)?));
            return Ok(true);
        }
        match self.kept.as_mut() {
            Some(kept) if kept.is_unsaved() => rows::save(conn, Arc::make_mut(kept)),
            _ => Ok(false),
        }
    }
}

impl Draft<'_> {
    /// The job or book as it is kept, without the changes.
    pub fn value(&self) -> Option<&Value> {
        self.main.kept.as_ref().map(|kept| &*kept.value)
    }

    /// Job and private part as they would be once it is kept.
    pub fn state(&mut self) -> Result<State, StoreError> {
        self.main.settle()?;
        self.private.settle()?;
        Ok(State {
            revision: self.revision,
            value: self
                .main
                .value()?
                .ok_or_else(|| StoreError::NoSuchJob(self.id.clone()))?,
            private: self.private.value()?,
            apart: merge::of_both(&self.main.apart()?, Some(&*self.private.apart()?)),
        })
    }

    /// Changes one part, in one change of its document.
    pub fn change<T>(
        &mut self,
        part: Part,
        now_ms: i64,
        write: impl FnOnce(&mut Transaction<'_>, &mut Vec<Written>) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        let mut log = Vec::new();
        let half = match (part, self.kind) {
            (Part::Job, _) | (_, Kind::Book) => &mut self.main,
            (Part::Private, _) => &mut self.private,
        };
        let doc = half.copied().ok_or(StoreError::NoPrivatePart)?;
        let answer = document::change(doc, now_ms.div_euclid(1000), |tx| write(tx, &mut log))?;
        match half.written.as_mut() {
            Some(written) if !log.is_empty() => {
                written.extend(log.iter().filter_map(|entry| entry.path.first().cloned()));
            }
            // a change that keeps no log
            _ => half.written = None,
        }
        self.log
            .writes
            .extend(log.into_iter().map(|written| (part, written)));
        Ok(answer)
    }
}

impl Store {
    /// The documents of a job or a book, to be changed.
    pub(crate) fn draft<'a>(&mut self, kind: Kind, id: &str) -> Result<Draft<'a>, StoreError> {
        let main = self
            .opened(kind, id)?
            .ok_or_else(|| StoreError::NoSuchJob(id.into()))?;
        Ok(Draft {
            main: Half::of(Some(main)),
            private: Half::of(self.private_of(kind, id)?),
            ..self.blank(kind, id)
        })
    }

    /// A draft of what is not here yet.
    pub(crate) fn blank<'a>(&self, kind: Kind, id: &str) -> Draft<'a> {
        Draft {
            kind,
            id: id.into(),
            main: Half::default(),
            private: Half::default(),
            log: Log::default(),
            revision: 0,
            also: None,
        }
    }

    /// Keeps a change: first it is checked, then written, then it takes the place of what was in memory. If any of that
    /// fails, nothing has changed.
    pub(crate) fn keep(
        &mut self,
        mut draft: Draft<'_>,
        trace: &Trace<'_>,
        check: impl Check,
    ) -> Result<Changed, StoreError> {
        draft.revision = self.revision(draft.kind, &draft.id)?.unwrap_or(0);
        let mut state = draft.state()?;
        let Draft {
            kind,
            id,
            mut main,
            mut private,
            log,
            also,
            ..
        } = draft;
        let summary = check(&state).map_err(StoreError::Refused)?;

        let tx = self
            .conn
            .transaction_with_behavior(TransactionBehavior::Immediate)?;
        let wrote_main = main.write(&tx, kind, &id)?;
        let wrote_private = private.write(&tx, Kind::Private, &id)?;
        if wrote_main || wrote_private {
            state.revision = write_summary(&tx, kind, &id, &summary)?;
        }
        match trace {
            Trace::Push(label) if !log.writes.is_empty() => {
                undo::push(&tx, kind, &id, label, &log)?;
            }
            Trace::Turn(n, way) => undo::turn(&tx, kind, &id, *n, *way)?,
            Trace::Forget => undo::forget(&tx, kind, &id)?,
            Trace::Push(_) | Trace::Stay => {}
        }
        if let Some(also) = also {
            also(&tx)?;
        }
        tx.commit()?;

        for (kind, kept) in [(kind, main.kept), (Kind::Private, private.kept)] {
            if let Some(kept) = kept {
                self.remember(kind, &id, kept);
            }
        }
        Ok(Changed {
            state,
            paths: paths(&log),
        })
    }
}

/// The paths of what was written, each once.
fn paths(log: &Log) -> Vec<Vec<String>> {
    let mut paths: Vec<Vec<String>> = Vec::new();
    for (part, written) in &log.writes {
        let path = full_path(*part, &written.path);
        if !paths.contains(&path) {
            paths.push(path);
        }
    }
    paths
}

/// A path as answers name it: in the private part it begins with `private`.
pub(crate) fn full_path(part: Part, path: &[String]) -> Vec<String> {
    let mut full = match part {
        Part::Job => Vec::new(),
        Part::Private => vec!["private".to_string()],
    };
    full.extend_from_slice(path);
    full
}

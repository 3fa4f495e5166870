//! A change in the making: the documents of a job or a book in memory, then on disk, then in the place of the old ones.

use std::sync::Arc;

use automerge::Automerge;
use automerge::transaction::Transaction;
use job::Part;
use rusqlite::TransactionBehavior;
use serde_json::Value;

use crate::document::{self, Kind};
use crate::edits::Written;
use crate::error::StoreError;
use crate::rows::{self, Opened};
use crate::store::{Check, State, Store, write_summary};
use crate::undo::{self, Log, Way};

/// What an edit did.
#[derive(Debug, Clone)]
pub struct Changed {
    /// What is there now.
    pub state: State,
    /// Fields that were written; those of the private part of a job begin with `private`.
    pub paths: Vec<Vec<String>>,
}

/// The documents of a job or a book with changes that are not on disk yet.
pub(crate) struct Draft {
    kind: Kind,
    id: String,
    main: Half,
    private: Option<Half>,
    /// What was written.
    pub log: Log,
}

struct Half {
    kept: Arc<Opened>,
    changed: Option<Automerge>,
}

/// What becomes of the rows for undo when a change is kept.
pub(crate) enum Trace<'a> {
    /// The change can be taken back under this label.
    Push(&'a str),
    /// The change was an undo or redo of this number.
    Turn(i64, Way),
    /// The change came from another device: undo stays as it is.
    Stay,
}

impl Half {
    fn new(kept: Arc<Opened>) -> Half {
        Half {
            kept,
            changed: None,
        }
    }

    fn changed(&mut self) -> &mut Automerge {
        self.changed.get_or_insert_with(|| self.kept.doc.clone())
    }

    /// The document as it would be kept.
    fn next(self) -> Result<(Arc<Opened>, bool), StoreError> {
        Ok(match self.changed {
            Some(doc) if doc.get_heads() != self.kept.doc.get_heads() => {
                (Arc::new(self.kept.with(doc)?), true)
            }
            _ => (self.kept, false),
        })
    }
}

impl Draft {
    /// The job or book as it is kept, without the changes.
    pub fn value(&self) -> &Value {
        &self.main.kept.value
    }

    /// The document of one part, to be changed.
    pub fn doc(&mut self, part: Part) -> Result<&mut Automerge, StoreError> {
        match (part, self.kind) {
            (Part::Job, _) | (_, Kind::Book) => Ok(self.main.changed()),
            (Part::Private, _) => match self.private.as_mut() {
                Some(private) => Ok(private.changed()),
                None => Err(StoreError::NoPrivatePart),
            },
        }
    }

    /// Changes one part, in one change of its document.
    pub fn change<T>(
        &mut self,
        part: Part,
        now_ms: i64,
        write: impl FnOnce(&mut Transaction<'_>, &mut Vec<Written>) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        let mut log = Vec::new();
        let doc = self.doc(part)?;
        let answer = document::change(doc, now_ms.div_euclid(1000), |tx| write(tx, &mut log))?;
        self.log
            .writes
            .extend(log.into_iter().map(|written| (part, written)));
        Ok(answer)
    }
}

impl Store {
    /// The documents of a job or a book, to be changed.
    pub(crate) fn draft(&mut self, kind: Kind, id: &str) -> Result<Draft, StoreError> {
        let main = self
            .opened(kind, id)?
            .ok_or_else(|| StoreError::NoSuchJob(id.into()))?;
        let private = self.private_of(kind, id)?;
        Ok(Draft {
            kind,
            id: id.into(),
            main: Half::new(main),
            private: private.map(Half::new),
            log: Log::default(),
        })
    }

    /// Keeps a change: first it is checked, then written, then it takes the place of what was in memory. If any of that
    /// fails, nothing has changed.
    pub(crate) fn keep(
        &mut self,
        draft: Draft,
        trace: &Trace<'_>,
        check: impl Check,
    ) -> Result<Changed, StoreError> {
        let Draft {
            kind,
            id,
            main,
            private,
            log,
        } = draft;
        let (mut main, main_changed) = main.next()?;
        let (mut private, private_changed) = match private.map(Half::next).transpose()? {
            Some((private, changed)) => (Some(private), changed),
            None => (None, false),
        };
        let mut state = State {
            revision: self.revision(kind, &id)?.unwrap_or(0),
            value: Arc::clone(&main.value),
            private: private.as_ref().map(|private| Arc::clone(&private.value)),
        };
        let summary = check(&state).map_err(StoreError::Refused)?;

        let tx = self
            .conn
            .transaction_with_behavior(TransactionBehavior::Immediate)?;
        if main_changed {
            rows::save(&tx, Arc::make_mut(&mut main))?;
        }
        if let Some(private) = private.as_mut().filter(|_| private_changed) {
            rows::save(&tx, Arc::make_mut(private))?;
        }
        if main_changed || private_changed {
            state.revision = write_summary(&tx, kind, &id, &summary)?;
        }
        match trace {
            Trace::Push(label) if !log.writes.is_empty() => {
                undo::push(&tx, kind, &id, label, &log)?;
            }
            Trace::Turn(n, way) => undo::turn(&tx, kind, &id, *n, *way)?,
            Trace::Push(_) | Trace::Stay => {}
        }
        tx.commit()?;

        self.remember(kind, &id, main);
        if let Some(private) = private {
            self.remember(Kind::Private, &id, private);
        }
        Ok(Changed {
            state,
            paths: paths(&log),
        })
    }
}

/// The paths of what was written, each once.
pub(crate) fn paths(log: &Log) -> Vec<Vec<String>> {
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

//! The open database: jobs and books are read and changed here, and every change is on disk before it is answered.

use std::sync::Arc;

use automerge::{ActorId, Automerge};
use job::Book;
use rusqlite::{Connection, OptionalExtension, params};
use serde_json::Value;

use crate::document::{self, Kind};
use crate::draft::Trace;
use crate::edits;
use crate::error::StoreError;
use crate::merge::{self, Conflict};
use crate::photos::PhotoPlace;
use crate::rows::{self, Opened};
use crate::{backup, migrate};

/// Documents that are kept in memory: a job has two, and there are four books.
const IN_MEMORY: usize = 12;

/// The open database.
pub struct Store {
    pub(crate) conn: Connection,
    device: Device,
    /// The last used is at the end.
    open: Vec<(Kind, String, Arc<Opened>)>,
    pub(crate) photos: Option<Box<dyn PhotoPlace>>,
}

/// The id under which this device writes: in every change as its actor, and in every tick.
///
/// One id for all documents and sessions is safe, because one process owns the database at a time and a change is in the
/// database before anybody else can get it. Only a database that came from elsewhere breaks that; so restoring a backup
/// makes a new id.
#[derive(Debug, Clone)]
struct Device {
    bytes: Vec<u8>,
    text: String,
}

/// Both documents of a job, or a book, as a reader of it gets them.
#[derive(Debug, Clone)]
pub struct State {
    /// Counts up with every change on this device.
    pub revision: i64,
    /// The job or the book.
    pub value: Arc<Value>,
    /// Client and money of a job; none in a crew copy, and none in a book.
    pub private: Option<Arc<Value>>,
    /// What devices set apart and nobody has settled.
    pub apart: Vec<Conflict>,
}

/// What lists show of a job, made by whoever can read it.
#[derive(Debug, Clone, PartialEq)]
pub struct Summary {
    /// Lists are sorted by this text, then by id.
    pub sort: String,
    /// What the list shows.
    pub row: Value,
}

/// A job in a list.
#[derive(Debug, Clone, PartialEq)]
pub struct Listed {
    /// Its id.
    pub id: String,
    /// Counts up with every change on this device.
    pub revision: i64,
    /// What the list shows.
    pub row: Value,
}

/// Accepts what an edit made of a job, and says what lists show of it; or refuses with a reason.
pub trait Check: FnOnce(&State) -> Result<Summary, String> {}
impl<F: FnOnce(&State) -> Result<Summary, String>> Check for F {}

impl Store {
    /// Takes an open connection and brings the database to the newest form.
    pub fn open(mut conn: Connection) -> Result<Store, StoreError> {
        migrate::migrate(&mut conn)?;
        conn.set_prepared_statement_cache_capacity(64);
        let device = Device::read(&conn)?;
        Ok(Store {
            conn,
            device,
            open: Vec::new(),
            photos: None,
        })
    }

    /// The id of this device as ticks name it: 32 hexadecimal digits.
    #[must_use]
    pub fn device_id(&self) -> &str {
        &self.device.text
    }

    /// An id that no device has used: 16 letters and digits.
    pub fn new_id(&self) -> Result<String, StoreError> {
        let random: String =
            self.conn
                .query_row("SELECT lower(hex(randomblob(8)))", [], |row| row.get(0))?;
        Ok(random)
    }

    /// Keeps a new job. The values are whole: every field of the job and of its private part.
    pub fn create_job(
        &mut self,
        id: &str,
        job: &Value,
        private: Option<&Value>,
        check: impl Check,
    ) -> Result<State, StoreError> {
        if !edits::is_id(id) {
            return Err(StoreError::BadId(id.into()));
        }
        if self.revision(Kind::Job, id)?.is_some() {
            return Err(StoreError::JobExists(id.into()));
        }
        let job = document::seeded(Kind::Job, id, job)?;
        let private = private
            .map(|value| document::seeded(Kind::Private, id, value))
            .transpose()?;
        self.insert(Kind::Job, id, job, private, check)
    }

    /// Keeps a book with its first content, or puts other content in the place of all that it held.
    pub fn create_book(
        &mut self,
        book: Book,
        content: &Value,
        check: impl FnOnce(&Value) -> Result<(), String>,
    ) -> Result<State, StoreError> {
        let doc = document::seeded(Kind::Book, book.id(), content)?;
        self.insert(Kind::Book, book.id(), doc, None, of_book(check))
    }

    /// A job as it is.
    pub fn job(&mut self, id: &str) -> Result<State, StoreError> {
        self.state(Kind::Job, id)?
            .ok_or_else(|| StoreError::NoSuchJob(id.into()))
    }

    /// A book as it is; none before it was made.
    pub fn book(&mut self, book: Book) -> Result<Option<State>, StoreError> {
        self.state(Kind::Book, book.id())
    }

    /// All jobs, sorted by what their summaries say.
    pub fn list_jobs(&self) -> Result<Vec<Listed>, StoreError> {
        let mut query = self.conn.prepare_cached(
            "SELECT id, revision, row FROM summary WHERE kind = 'job' ORDER BY sort, id",
        )?;
        let mut rows = query.query([])?;
        let mut list = Vec::new();
        while let Some(row) = rows.next()? {
            let id: String = row.get(0)?;
            let text: String = row.get(2)?;
            let row_value = serde_json::from_str(&text)
                .map_err(|e| StoreError::Damaged(format!("the summary of {id}: {e}")))?;
            list.push(Listed {
                id,
                revision: row.get(1)?,
                row: row_value,
            });
        }
        Ok(list)
    }

    /// Brings a backup in, in the place of everything. See [`crate::backup`].
    pub fn restore(&mut self, bytes: &[u8], now_ms: i64) -> Result<(), StoreError> {
        self.open.clear();
        backup::restore(&mut self.conn, bytes, now_ms)?;
        self.device = Device::read(&self.conn)?;
        Ok(())
    }

    /// The whole database as one file, without the photos.
    pub fn backup(&mut self) -> Result<Vec<u8>, StoreError> {
        backup::snapshot(&mut self.conn)
    }

    /// What can still be read of a job whose rows are damaged, so that it can be shown and written out.
    pub fn rescue_job(&self, id: &str) -> Result<State, StoreError> {
        let value = rows::rescue(&self.conn, Kind::Job, id)?
            .ok_or_else(|| StoreError::NoSuchJob(id.into()))?;
        // a private part that cannot be read at all must not hide the job
        let private = rows::rescue(&self.conn, Kind::Private, id).unwrap_or_default();
        Ok(State {
            revision: self.revision(Kind::Job, id)?.unwrap_or(0),
            value: Arc::new(value),
            private: private.map(Arc::new),
            apart: Vec::new(),
        })
    }

    pub(crate) fn state(&mut self, kind: Kind, id: &str) -> Result<Option<State>, StoreError> {
        let Some(revision) = self.revision(kind, id)? else {
            return Ok(None);
        };
        let Some(main) = self.opened(kind, id)? else {
            return Ok(None);
        };
        let private = self.private_of(kind, id)?;
        Ok(Some(State {
            revision,
            value: Arc::clone(&main.value),
            apart: merge::of_both(&main.apart, private.as_ref().map(|p| &*p.apart)),
            private: private.map(|private| Arc::clone(&private.value)),
        }))
    }

    pub(crate) fn private_of(
        &mut self,
        kind: Kind,
        id: &str,
    ) -> Result<Option<Arc<Opened>>, StoreError> {
        match kind {
            Kind::Job => self.opened(Kind::Private, id),
            Kind::Private | Kind::Book => Ok(None),
        }
    }

    /// A document from memory, or from its rows.
    pub(crate) fn opened(
        &mut self,
        kind: Kind,
        id: &str,
    ) -> Result<Option<Arc<Opened>>, StoreError> {
        if let Some(at) = self.open.iter().position(|o| o.0 == kind && o.1 == id) {
            let entry = self.open.remove(at);
            let found = Arc::clone(&entry.2);
            self.open.push(entry);
            return Ok(Some(found));
        }
        let Some(loaded) = rows::load(&self.conn, kind, id, &self.device.bytes)? else {
            return Ok(None);
        };
        let loaded = Arc::new(loaded);
        self.remember(kind, id, Arc::clone(&loaded));
        Ok(Some(loaded))
    }

    /// Keeps a document in memory in the place of an older state of it.
    pub(crate) fn remember(&mut self, kind: Kind, id: &str, opened: Arc<Opened>) {
        self.open.retain(|o| o.0 != kind || o.1 != id);
        if self.open.len() >= IN_MEMORY {
            self.open.remove(0);
        }
        self.open.push((kind, id.into(), opened));
    }

    pub(crate) fn revision(&self, kind: Kind, id: &str) -> Result<Option<i64>, StoreError> {
        Ok(self
            .conn
            .prepare_cached("SELECT revision FROM summary WHERE kind = ?1 AND id = ?2")?
            .query_row(params![kind.name(), id], |row| row.get(0))
            .optional()?)
    }

    /// Writes new documents and their summary, in the place of what was there.
    fn insert(
        &mut self,
        kind: Kind,
        id: &str,
        main: Automerge,
        private: Option<Automerge>,
        check: impl Check,
    ) -> Result<State, StoreError> {
        let mut draft = self.blank(kind, id);
        draft.main.replace(self.signed(main));
        if let Some(private) = private {
            draft.private.replace(self.signed(private));
        }
        Ok(self.keep(draft, &Trace::Forget, check)?.state)
    }

    /// A document that this device goes on writing.
    pub(crate) fn signed(&self, mut doc: Automerge) -> Automerge {
        doc.set_actor(ActorId::from(self.device.bytes.as_slice()));
        doc
    }
}

impl Device {
    fn read(conn: &Connection) -> Result<Device, StoreError> {
        let bytes: Vec<u8> =
            conn.query_row("SELECT value FROM meta WHERE name = 'device'", [], |row| {
                row.get(0)
            })?;
        let text = bytes.iter().map(|byte| format!("{byte:02x}")).collect();
        Ok(Device { bytes, text })
    }
}

/// Writes what lists show, and counts the change. Answers the count.
pub(crate) fn write_summary(
    conn: &Connection,
    kind: Kind,
    id: &str,
    summary: &Summary,
) -> Result<i64, StoreError> {
    let revision = conn
        .prepare_cached(
            "INSERT INTO summary (kind, id, revision, sort, row) VALUES (?1, ?2, 1, ?3, ?4) \
             ON CONFLICT (kind, id) DO UPDATE \
             SET revision = revision + 1, sort = excluded.sort, row = excluded.row \
             RETURNING revision",
        )?
        .query_row(
            params![kind.name(), id, summary.sort, summary.row.to_string()],
            |row| row.get(0),
        )?;
    Ok(revision)
}

/// The check of a book, which no list shows.
pub(crate) fn of_book(check: impl FnOnce(&Value) -> Result<(), String>) -> impl Check {
    |state: &State| {
        check(&state.value)?;
        Ok(Summary {
            sort: String::new(),
            row: Value::Null,
        })
    }
}

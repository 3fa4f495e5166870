//! Jobs that travel: written to a file, read from one, merged; and the client's right to be forgotten.

use std::collections::BTreeMap;
use std::sync::Arc;

use automerge::transaction::Transactable;
use automerge::{Automerge, ObjId};
use job::Part;
use rusqlite::{Connection, OptionalExtension, params};
use serde_json::{Map, Value, json};

use crate::document::{self, ERASED, Kind};
use crate::draft::Trace;
use crate::error::StoreError;
use crate::jobfile::{About, JobFile};
use crate::merge::{self, Conflict};
use crate::photos::{self, Photo, PhotoPlace};
use crate::store::{Check, State, Store};
use crate::values;

/// What came in with a job file.
#[derive(Debug, Clone)]
pub struct CameIn {
    /// The job.
    pub id: String,
    /// It was not here before.
    pub created: bool,
    /// Ticks that are new or say something else.
    pub ticks: i64,
    /// Notes that are new or say something else.
    pub notes: i64,
    /// Photos that were not here.
    pub photos: i64,
    /// Fields with another value than before, ticks and notes aside; those of the private part begin with `private`.
    pub changed: Vec<Vec<String>>,
    /// Fields that two devices had set apart.
    pub conflicts: Vec<Conflict>,
    /// The file's client data were not taken, because they were erased here; or ours went, because they were erased there.
    pub client_erased: bool,
    /// The job as it now is.
    pub state: State,
}

impl Store {
    /// Says where the files of photos are.
    pub fn keep_photos_in(&mut self, place: Box<dyn PhotoPlace>) {
        self.photos = Some(place);
    }

    fn photo_place(&mut self) -> Result<&mut dyn PhotoPlace, StoreError> {
        match &mut self.photos {
            Some(place) => Ok(place.as_mut()),
            None => Err(StoreError::Photos(
                "there is no place for photos here".into(),
            )),
        }
    }

    /// Keeps a photo of a job: its file first, then its row. Answers what it is known by.
    pub fn add_photo(&mut self, id: &str, bytes: &[u8], now_ms: i64) -> Result<Photo, StoreError> {
        if self.revision(Kind::Job, id)?.is_none() {
            return Err(StoreError::NoSuchJob(id.into()));
        }
        let photo = Photo::of(bytes, now_ms)?;
        self.photo_place()?.write(&photo.file(), bytes)?;
        photos::insert(&self.conn, id, &photo)?;
        Ok(photo)
    }

    /// The photos of a job.
    pub fn photos(&self, id: &str) -> Result<Vec<Photo>, StoreError> {
        photos::list(&self.conn, id)
    }

    /// The bytes of a photo. They are compared with its name, so that a damaged file does not pass for the photo.
    pub fn photo(&mut self, photo: &Photo) -> Result<Vec<u8>, StoreError> {
        let name = photo.file();
        let bytes = self
            .photo_place()?
            .read(&name)?
            .ok_or_else(|| StoreError::Photos("its file is missing".into()))?;
        match Photo::of(&bytes, photo.added_ms) {
            Ok(read) if read.hash == photo.hash => Ok(bytes),
            _ => Err(StoreError::WrongPhoto(name)),
        }
    }

    /// Takes a photo off a job. Its file goes when no other job has it.
    pub fn remove_photo(&mut self, id: &str, photo: &Photo) -> Result<(), StoreError> {
        photos::delete(&self.conn, id, Some(&photo.hash))?;
        self.drop_files(std::slice::from_ref(photo))
    }

    /// Removes files that no row names any more.
    fn drop_files(&mut self, gone: &[Photo]) -> Result<(), StoreError> {
        for photo in gone {
            if !photos::is_used(&self.conn, &photo.hash)? {
                self.photo_place()?.remove(&photo.file())?;
            }
        }
        Ok(())
    }

    /// The job as a file for another device. A crew copy leaves out client and money. The same job gives the same bytes.
    pub fn export_job(&mut self, id: &str, crew_copy: bool) -> Result<Vec<u8>, StoreError> {
        let job = self
            .opened(Kind::Job, id)?
            .ok_or_else(|| StoreError::NoSuchJob(id.into()))?;
        let private = if crew_copy {
            None
        } else {
            self.opened(Kind::Private, id)?
        };
        let photos = self
            .photos(id)?
            .into_iter()
            .map(|photo| self.photo(&photo).map(|bytes| (photo, bytes)))
            .collect::<Result<_, _>>()?;
        JobFile {
            about: About {
                app: concat!("Airwright ", env!("CARGO_PKG_VERSION")).into(),
                format: job::FORMAT,
                job: id.into(),
            },
            job: document::save(&job.doc),
            private: private.map(|private| document::save(&private.doc)),
            photos,
        }
        .write()
    }

    /// Adds the job of a file, or merges it with ours, and says what came in. Undo stays as it is.
    pub fn open_job_file(
        &mut self,
        bytes: &[u8],
        now_ms: i64,
        check: impl Check,
    ) -> Result<CameIn, StoreError> {
        let file = JobFile::read(bytes, now_ms)?;
        let id = file.about.job.as_str();
        let theirs = merge::load(Kind::Job, &file.job)?;
        let their_private = file
            .private
            .as_deref()
            .map(|bytes| merge::load(Kind::Private, bytes))
            .transpose()?;

        let ours = self.opened(Kind::Job, id)?;
        let our_private = self.opened(Kind::Private, id)?;
        let mut draft = self.blank(Kind::Job, id);
        draft.main.kept.clone_from(&ours);
        draft.private.kept.clone_from(&our_private);
        match draft.main.doc() {
            Some(doc) => merge::merge(Kind::Job, id, doc, &theirs)?,
            None => draft.main.replace(self.signed(theirs.clone())),
        }

        // what was erased most often holds: copies from before are not taken, and ours goes if it is from before
        let erased = erased_here(&self.conn, id)?
            .max(document::generation(&theirs))
            .max(
                ours.as_ref()
                    .map_or(0, |ours| document::generation(&ours.doc)),
            );
        let is_current = |doc: &Automerge| document::generation(doc) == erased;
        let current = their_private.as_ref().filter(|doc| is_current(doc));
        let ours_is_current = our_private.as_ref().is_some_and(|p| is_current(&p.doc));
        match (draft.private.doc().filter(|doc| is_current(doc)), current) {
            (Some(doc), Some(theirs)) => merge::merge(Kind::Private, id, doc, theirs)?,
            (Some(_), None) => {}
            (None, Some(theirs)) => draft.private.replace(self.signed(theirs.clone())),
            (None, None) if our_private.is_some() || their_private.is_some() => {
                draft
                    .private
                    .replace(self.signed(document::erased_private(erased)?));
            }
            (None, None) => {}
        }
        let ours_goes = our_private.is_some() && !ours_is_current;
        let theirs_is_late = document::generation(&theirs) < erased;
        let client_erased = ours_goes || (their_private.is_some() && current.is_none());

        let had = self.photos(id)?;
        let mut new_photos = Vec::new();
        if !theirs_is_late {
            for (photo, bytes) in &file.photos {
                if !had.iter().any(|had| had.hash == photo.hash) {
                    self.photo_place()?.write(&photo.file(), bytes)?;
                    new_photos.push(photo.clone());
                }
            }
        }
        let rows = new_photos.clone();
        let arrived = new_photos.len();
        draft.also = Some(Box::new(move |conn| {
            if ours_goes {
                photos::delete(conn, id, None)?;
            }
            if erased > 0 {
                mark_erased(conn, id, erased)?;
            }
            rows.iter()
                .try_for_each(|photo| photos::insert(conn, id, photo))
        }));
        let trace = if ours_goes {
            Trace::Forget
        } else {
            Trace::Stay
        };
        let kept = self.wiped(ours_goes, |store| {
            Ok(store.keep(draft, &trace, check)?.state)
        });
        if kept.is_err() {
            // files without a row do no harm; the reason why the job was not kept is what matters
            let _ = self.drop_files(&new_photos);
        }
        let state = kept?;
        if ours_goes {
            self.drop_files(&had)?;
        }
        self.told(
            id,
            ours.as_deref(),
            our_private.as_deref().filter(|_| !ours_goes),
            state,
            arrived,
            client_erased,
        )
    }

    /// Counts what came in.
    fn told(
        &mut self,
        id: &str,
        ours: Option<&crate::rows::Opened>,
        our_private: Option<&crate::rows::Opened>,
        state: State,
        photos: usize,
        client_erased: bool,
    ) -> Result<CameIn, StoreError> {
        let nothing = Value::Object(Map::new());
        let mut paths = Vec::new();
        let before = ours.map_or(&nothing, |ours| &ours.value);
        merge::differences(&[], before, &state.value, &mut paths);
        let under = |list: &str, depth: usize| {
            let mut items: Vec<&[String]> = paths
                .iter()
                .filter(|path| path.first().is_some_and(|first| first == list))
                .filter_map(|path| path.get(..depth))
                .collect();
            items.dedup();
            items.len()
        };
        let (ticks, notes) = match ours {
            Some(_) => (under("ticks", 2), under("notes", 2)),
            None => (length(&state.value, "ticks"), length(&state.value, "notes")),
        };
        let mut changed = Vec::new();
        let mut conflicts = Vec::new();
        if let Some(ours) = ours {
            changed.extend(paths.into_iter().filter(|path| {
                !path
                    .first()
                    .is_some_and(|first| first == "ticks" || first == "notes")
            }));
            if let Some(now) = self.opened(Kind::Job, id)? {
                conflicts.extend(merge::new_conflicts(&[], &ours.doc, &now.doc)?);
            }
            if let (Some(before), Some(now)) = (our_private, self.opened(Kind::Private, id)?) {
                let top = ["private".to_string()];
                merge::differences(&top, &before.value, &now.value, &mut changed);
                conflicts.extend(merge::new_conflicts(&["private"], &before.doc, &now.doc)?);
            }
        }
        Ok(CameIn {
            id: id.into(),
            created: ours.is_none(),
            ticks: i64::try_from(ticks).unwrap_or(i64::MAX),
            notes: i64::try_from(notes).unwrap_or(i64::MAX),
            photos: i64::try_from(photos).unwrap_or(i64::MAX),
            changed,
            conflicts,
            client_erased,
            state,
        })
    }

    /// Removes client and money of a job with all that they ever were, its photos, and what undo would bring back. A
    /// mark in the job and in the database keeps a later merge from bringing them back, and erases them on other
    /// devices when the job gets there. Backups made before are the user's to destroy.
    pub fn erase_client(
        &mut self,
        id: &str,
        now_ms: i64,
        check: impl Check,
    ) -> Result<State, StoreError> {
        let mut draft = self.draft(Kind::Job, id)?;
        let private = draft
            .private
            .kept
            .clone()
            .ok_or(StoreError::NoPrivatePart)?;
        let job = draft.main.doc().map_or(0, |doc| document::generation(doc));
        let erased = erased_here(&self.conn, id)?
            .max(job)
            .max(document::generation(&private.doc))
            .saturating_add(1);
        draft.change(Part::Job, now_ms, |tx, _| {
            Ok(tx.put(ObjId::Root, ERASED, erased)?)
        })?;
        draft
            .private
            .replace(self.signed(document::erased_private(erased)?));
        let had = self.photos(id)?;
        draft.also = Some(Box::new(move |conn| {
            photos::delete(conn, id, None)?;
            mark_erased(conn, id, erased)
        }));
        let state = self.wiped(true, |store| {
            Ok(store.keep(draft, &Trace::Forget, check)?.state)
        })?;
        self.drop_files(&had)?;
        Ok(state)
    }

    /// Runs a change after which the old bytes must not be left in the database's files either: freed pages are
    /// overwritten, and neither journal nor log keeps a copy of them.
    fn wiped<T>(
        &mut self,
        wipe: bool,
        change: impl FnOnce(&mut Store) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        if !wipe {
            return change(self);
        }
        self.conn
            .execute_batch("PRAGMA secure_delete = ON; PRAGMA journal_size_limit = 0;")?;
        let answer = change(self);
        // the change itself is kept by now; that these take effect later is no reason to call it failed
        let _ = self.conn.execute_batch(
            "PRAGMA wal_checkpoint(TRUNCATE); PRAGMA secure_delete = OFF; PRAGMA journal_size_limit = -1;",
        );
        answer
    }

    /// All that is held on the client of a job, to be handed out: what stands now, what stood there earlier, and the
    /// photos.
    pub fn holds(&mut self, id: &str) -> Result<Value, StoreError> {
        let state = self.job(id)?;
        let mut earlier: BTreeMap<String, Vec<Value>> = BTreeMap::new();
        if let Some(private) = self.opened(Kind::Private, id)? {
            for change in private.doc.get_changes(&[]) {
                let then = values::read(&private.doc.fork_at(&[change.hash()])?)?;
                leaves("", &then, &mut |path, value| {
                    let values = earlier.entry(path).or_default();
                    if !values.contains(value) {
                        values.push(value.clone());
                    }
                });
            }
            leaves("", &private.value, &mut |path, now| {
                if let Some(values) = earlier.get_mut(&path) {
                    values.retain(|value| value != now);
                }
            });
        }
        earlier.retain(|_, values| !values.is_empty());
        let photos: Vec<Value> = self
            .photos(id)?
            .into_iter()
            .map(|photo| json!({ "file": photo.file(), "added_ms": photo.added_ms }))
            .collect();
        Ok(json!({
            "job": id,
            "now": state.private.map_or(Value::Null, Arc::unwrap_or_clone),
            "earlier": earlier,
            "photos": photos,
        }))
    }
}

/// Visits every single value with its path.
fn leaves(path: &str, value: &Value, visit: &mut impl FnMut(String, &Value)) {
    match value {
        Value::Object(fields) => {
            for (key, inner) in fields {
                let path = if path.is_empty() {
                    key.clone()
                } else {
                    format!("{path}/{key}")
                };
                leaves(&path, inner, visit);
            }
        }
        single => visit(path.to_string(), single),
    }
}

fn length(value: &Value, list: &str) -> usize {
    value
        .get(list)
        .and_then(Value::as_object)
        .map_or(0, Map::len)
}

fn erased_here(conn: &Connection, id: &str) -> Result<i64, StoreError> {
    let generation: Option<i64> = conn
        .prepare_cached("SELECT generation FROM erased WHERE job = ?1")?
        .query_row([id], |row| row.get(0))
        .optional()?;
    Ok(generation.unwrap_or(0))
}

fn mark_erased(conn: &Connection, id: &str, generation: i64) -> Result<(), StoreError> {
    conn.prepare_cached("INSERT OR REPLACE INTO erased (job, generation) VALUES (?1, ?2)")?
        .execute(params![id, generation])?;
    Ok(())
}

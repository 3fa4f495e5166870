//! Jobs that travel: written to a file, read from one, merged.

use std::collections::BTreeSet;

use automerge::Automerge;
use serde_json::{Map, Value};

use crate::document::{self, Kind};
use crate::draft::Trace;
use crate::erase::{erased_here, mark_erased};
use crate::error::StoreError;
use crate::jobfile::{About, JobFile};
use crate::merge::{self, Conflict};
use crate::photos;
use crate::store::{Check, State, Store};

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
    /// The job as a file for another device. A crew copy leaves out client and money. The same job gives the same bytes.
    /// The photos that it names go with it; one whose file is missing or damaged here is left out, so that the job can
    /// travel without it.
    pub fn export_job(&mut self, id: &str, crew_copy: bool) -> Result<Vec<u8>, StoreError> {
        let job = self
            .opened(Kind::Job, id)?
            .ok_or_else(|| StoreError::NoSuchJob(id.into()))?;
        let private = if crew_copy {
            None
        } else {
            self.opened(Kind::Private, id)?
        };
        let mut texts = BTreeSet::new();
        for document in [Some(&job), private.as_ref()].into_iter().flatten() {
            collect_texts(&document.value, &mut texts);
        }
        let mut photos = self.photos(id)?;
        photos.retain(|photo| texts.contains(photo.hash.as_str()));
        let photos = self.sound_photos(photos)?;
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
        if !theirs_is_late && !file.photos.is_empty() {
            // also those that are known here: their file may be missing, as it is after a backup came in
            let files: Vec<(String, &[u8])> = file
                .photos
                .iter()
                .map(|(photo, bytes)| (photo.file(), bytes.as_slice()))
                .collect();
            self.photo_place()?.write(&files)?;
            let arrived = file.photos.iter().map(|(photo, _)| photo);
            new_photos.extend(
                arrived
                    .filter(|photo| !had.iter().any(|had| had.hash == photo.hash))
                    .cloned(),
            );
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
}

/// Every text in a value: a document names a photo by its hash, in whatever field.
fn collect_texts<'a>(value: &'a Value, texts: &mut BTreeSet<&'a str>) {
    match value {
        Value::String(text) => {
            texts.insert(text);
        }
        Value::Array(items) => items.iter().for_each(|item| collect_texts(item, texts)),
        Value::Object(fields) => fields
            .values()
            .for_each(|field| collect_texts(field, texts)),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

fn length(value: &Value, list: &str) -> usize {
    value
        .get(list)
        .and_then(Value::as_object)
        .map_or(0, Map::len)
}

//! Jobs that travel: written to a file, read from one, merged.

use std::borrow::Cow;

use automerge::Automerge;
use serde_json::{Map, Value};

use crate::document::{self, Kind};
use crate::draft::{Draft, Trace};
use crate::erase::{erased_here, mark_erased};
use crate::error::StoreError;
use crate::jobfile::{About, JobFile};
use crate::merge::{self, Conflict};
use crate::named::{self, Texts};
use crate::packed::FilePart;
use crate::photos::{self, Photo};
use crate::signing::is_only_signed;
use crate::store::{Check, State, Store};
use crate::values;

/// What is new, counted.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct News {
    /// Ticks that are new or say something else.
    pub ticks: i64,
    /// Notes that are new or say something else.
    pub notes: i64,
    /// Photos that were not there.
    pub photos: i64,
    /// Fields with another value, ticks and notes aside; those of the private part begin with `private`.
    pub changed: Vec<Vec<String>>,
}

/// What came in with a job file, or would come in.
#[derive(Debug, Clone)]
pub struct CameIn {
    /// The job.
    pub id: String,
    /// The job as it was; none if it was not here.
    pub before: Option<State>,
    /// What is new here.
    pub news: News,
    /// What the file does not have: it is new to the device that the file comes from.
    pub home: News,
    /// Fields that are set apart since, by this device and the other.
    pub conflicts: Vec<Conflict>,
    /// The file's client data were not taken, because they were erased here; or ours went, because they were erased there.
    pub client_erased: bool,
    /// How far the clock of the other device is off, s; 0 if it goes as ours.
    pub clocks_apart_s: i64,
    /// The job as it now is, or would be.
    pub state: State,
}

/// A job as a file in parts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Packed {
    /// One after the other they are the file.
    pub parts: Vec<FilePart>,
    /// Photos that the job names and the file has no room for.
    pub left_out: usize,
}

/// A job file joined with what is here, nothing of it on disk.
struct Joined {
    draft: Draft<'static>,
    before: Option<State>,
    /// What the file itself says of job and private part.
    theirs: (Value, Option<Value>),
    /// What is apart in the file already.
    their_apart: Vec<Conflict>,
    /// How often the client was erased.
    erased: i64,
    /// Our private part is from before an erasure.
    ours_goes: bool,
    /// The file is from before an erasure.
    theirs_is_late: bool,
    client_erased: bool,
    clocks_apart_s: i64,
    had: Vec<Photo>,
    /// Photos of the file that were not here.
    new_photos: Vec<Photo>,
}

impl Store {
    /// The job as a file for another device, in one piece. A crew copy leaves out client and money. The same job gives the same
    /// bytes. The photos that it names go with it; one whose file is missing or damaged here is left out, so that the job can
    /// travel without it.
    pub fn export_job(&mut self, id: &str, crew_copy: bool) -> Result<Vec<u8>, StoreError> {
        let (mut file, photos, _) = self.travelling(id, crew_copy)?;
        let photos = self.sound_photos(photos)?.into_iter();
        file.photos = photos
            .map(|(photo, bytes)| (photo, Cow::Owned(bytes)))
            .collect();
        file.write()
    }

    /// The same in parts: no photo is held in memory.
    pub fn pack_job(&mut self, id: &str, crew_copy: bool) -> Result<Packed, StoreError> {
        let (file, photos, left_out) = self.travelling(id, crew_copy)?;
        let photos = self.seen_photos(photos)?;
        Ok(Packed {
            parts: file.parts(&photos)?,
            left_out,
        })
    }

    /// A job file without its photos, the photos that go with it, and how many do not because the file would be larger than other
    /// devices read: the oldest.
    fn travelling(
        &mut self,
        id: &str,
        crew_copy: bool,
    ) -> Result<(JobFile<'static>, Vec<Photo>, usize), StoreError> {
        let job = self
            .opened(Kind::Job, id)?
            .ok_or_else(|| StoreError::NoSuchJob(id.into()))?;
        // a signature taken on a device of the crew has to come home: there is nothing else in that private part
        let private = self
            .opened(Kind::Private, id)?
            .filter(|private| !crew_copy || is_only_signed(&private.value));
        let mut texts = Texts::new();
        for document in [Some(&job), private.as_ref()].into_iter().flatten() {
            named::live_texts([&*document.value], &document.apart, &mut texts);
        }
        let file = JobFile {
            about: About {
                app: concat!("Airwright ", env!("CARGO_PKG_VERSION")).into(),
                format: job::FORMAT,
                job: id.into(),
            },
            job: document::save(&job.doc),
            private: private.map(|private| document::save(&private.doc)),
            photos: Vec::new(),
        };
        let mut photos = self.photos(id)?;
        photos.retain(|photo| texts.contains(&photo.hash));
        let all = photos.len();
        photos.sort_by(|a, b| (b.added_ms, &a.hash).cmp(&(a.added_ms, &b.hash)));
        let mut room = file.room_for_photos();
        photos.retain(|photo| match room.checked_sub(photo.in_file()) {
            Some(left) => {
                room = left;
                true
            }
            None => false,
        });
        let left_out = all - photos.len();
        Ok((file, photos, left_out))
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
        let mut joined = self.joined(&file, now_ms)?;
        let told = joined.told(id, &file)?;
        let Joined {
            mut draft,
            erased,
            ours_goes,
            theirs_is_late,
            had,
            new_photos,
            ..
        } = joined;
        if !theirs_is_late {
            // also those that are known here: their file may be missing, as it is after a backup came in
            let wanted = |photo: &Photo| {
                let mut known = new_photos.iter().chain(&had);
                known.any(|known| known.hash == photo.hash)
            };
            let files: Vec<(String, &[u8])> = file
                .photos
                .iter()
                .filter(|(photo, _)| wanted(photo))
                .map(|(photo, bytes)| (photo.file(), &**bytes))
                .collect();
            if !files.is_empty() {
                self.photo_place()?.write(&files)?;
            }
        }
        let rows = new_photos.clone();
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
        Ok(CameIn { state, ..told })
    }

    /// What would come in with a job file. Nothing is kept.
    pub fn look_into_job_file(
        &mut self,
        bytes: &[u8],
        now_ms: i64,
        check: impl Check,
    ) -> Result<CameIn, StoreError> {
        let file = JobFile::read(bytes, now_ms)?;
        let told = self.joined(&file, now_ms)?.told(&file.about.job, &file)?;
        check(&told.state).map_err(StoreError::Refused)?;
        Ok(told)
    }

    /// Joins a file with what is here, in memory.
    fn joined(&mut self, file: &JobFile<'_>, now_ms: i64) -> Result<Joined, StoreError> {
        let id = file.about.job.as_str();
        let theirs = merge::load(Kind::Job, &file.job)?;
        let their_private = file
            .private
            .as_deref()
            .map(|bytes| merge::load(Kind::Private, bytes))
            .transpose()?;

        let before = self.state(Kind::Job, id)?;
        let ours = self.opened(Kind::Job, id)?;
        let our_private = self.opened(Kind::Private, id)?;
        let our_doc = ours.as_ref().map(|ours| &ours.doc);
        let clocks_apart_s = merge::clocks_apart_s(our_doc, &theirs, now_ms.div_euclid(1000));
        let mut draft = self.blank(Kind::Job, id);
        draft.revision = before.as_ref().map_or(0, |state| state.revision);
        draft.main.kept.clone_from(&ours);
        draft.private.kept.clone_from(&our_private);
        match draft.main.doc() {
            Some(doc) => merge::merge(Kind::Job, id, doc, &theirs)?,
            None => draft.main.replace(self.signed(theirs.clone())),
        }

        // what was erased most often holds: copies from before are not taken, and ours goes if it is from before
        let erased = erased_here(&self.conn, id)?
            .max(document::generation(&theirs))
            .max(our_doc.map_or(0, document::generation));
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
        let had = self.photos(id)?;
        let arrived = file.photos.iter().map(|(photo, _)| photo);
        let new_photos = arrived
            .filter(|photo| !theirs_is_late && !had.iter().any(|had| had.hash == photo.hash))
            .cloned()
            .collect();
        let their_words = current.map(values::read).transpose()?;
        let of_private = current.map(merge::conflicts).transpose()?;
        Ok(Joined {
            their_apart: merge::of_both(&merge::conflicts(&theirs)?, of_private.as_ref()),
            draft,
            before,
            theirs: (values::read(&theirs)?, their_words),
            erased,
            ours_goes,
            theirs_is_late,
            client_erased: ours_goes || (their_private.is_some() && current.is_none()),
            clocks_apart_s,
            had,
            new_photos,
        })
    }
}

impl Joined {
    /// Tells what is new, here and there.
    fn told(&mut self, id: &str, file: &JobFile<'_>) -> Result<CameIn, StoreError> {
        let state = self.draft.state()?;
        let mut named = Texts::new();
        let documents = [Some(&*state.value), state.private.as_deref()];
        named::live_texts(documents.into_iter().flatten(), &state.apart, &mut named);
        // one whose note was removed here meanwhile is not wanted
        self.new_photos.retain(|photo| named.contains(&photo.hash));
        let ours = |private: &State| private.private.clone().filter(|_| !self.ours_goes);
        let (mut news, mut home) = (News::default(), News::default());
        if let Some(before) = &self.before {
            let known = (&*before.value, ours(before));
            news = News::between(
                (known.0, known.1.as_deref()),
                (&state.value, state.private.as_deref()),
            );
            let theirs = (&self.theirs.0, self.theirs.1.as_ref());
            home = News::between(theirs, (&state.value, state.private.as_deref()));
            // where our value does not hold, the other device still has not heard of it
            for conflict in &state.apart {
                let known = self
                    .their_apart
                    .iter()
                    .any(|there| there.path == conflict.path);
                let reaches = self.theirs.1.is_some() || !merge::is_private(&conflict.path);
                if !known && reaches && !home.changed.contains(&conflict.path) {
                    home.changed.push(conflict.path.clone());
                }
            }
            let there = |hash: &str| file.photos.iter().any(|(photo, _)| photo.hash == hash);
            let missing = self.had.iter().map(|photo| photo.hash.as_str());
            home.photos = count(
                missing
                    .filter(|hash| named.contains(*hash) && !there(hash))
                    .count(),
            );
        } else {
            news.ticks = length(&state.value, "ticks");
            news.notes = length(&state.value, "notes");
        }
        news.photos = count(self.new_photos.len());
        let old = self.before.as_ref().map(|before| before.apart.as_slice());
        let old = old.unwrap_or_default();
        let conflicts = state.apart.iter().filter(|now| !old.contains(now));
        Ok(CameIn {
            id: id.into(),
            before: self.before.clone(),
            news,
            home,
            conflicts: conflicts.cloned().collect(),
            client_erased: self.client_erased,
            clocks_apart_s: self.clocks_apart_s,
            state,
        })
    }
}

impl News {
    /// What the second pair of job and private part has that the first has not. A private part that only one has is
    /// no news: a crew copy came or went.
    fn between(old: (&Value, Option<&Value>), new: (&Value, Option<&Value>)) -> News {
        let mut paths = Vec::new();
        merge::differences(&[], old.0, new.0, &mut paths);
        let under = |list: &str| {
            let mut items: Vec<&[String]> = paths
                .iter()
                .filter(|path| path.first().is_some_and(|first| first == list))
                .filter_map(|path| path.get(..2))
                .collect();
            items.dedup();
            count(items.len())
        };
        let (ticks, notes) = (under("ticks"), under("notes"));
        let mut changed = paths;
        // a photo is counted by its file, not by what is written of it
        changed.retain(|path| path.len() != 2 || path.first().is_none_or(|top| top != "photos"));
        changed.retain(|path| {
            path.first()
                .is_none_or(|top| top != "ticks" && top != "notes")
        });
        if let (Some(old), Some(new)) = (old.1, new.1) {
            merge::differences(&["private".to_string()], old, new, &mut changed);
        }
        News {
            ticks,
            notes,
            photos: 0,
            changed,
        }
    }
}

fn length(value: &Value, list: &str) -> i64 {
    count(
        value
            .get(list)
            .and_then(Value::as_object)
            .map_or(0, Map::len),
    )
}

fn count(n: usize) -> i64 {
    i64::try_from(n).unwrap_or(i64::MAX)
}

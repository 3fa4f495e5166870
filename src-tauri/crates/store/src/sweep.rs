//! Frees photos that nothing names any more: neither a job, nor what can be undone in it, nor what is still to be settled.
//!
//! A note that was removed keeps its photo for as long as undo can bring it back. A device that brings it back later sends the
//! photo along in its job file, since that device still names it.

use std::collections::BTreeSet;

use rusqlite::{Connection, OptionalExtension, TransactionBehavior, params};
use serde_json::Value;

use crate::document::Kind;
use crate::error::StoreError;
use crate::named::{self, Texts};
use crate::photos::{self, Photo};
use crate::rows;
use crate::store::Store;

/// A photo is kept before the job names it, maybe by a page that another tab put to sleep in between: ms.
const NEW_MS: i64 = 24 * 3600 * 1000;

/// Files without a row are spared for so long after a database was made or a backup came in, ms: another backup, brought in later, may know
/// them.
const SPARED_MS: i64 = 30 * 24 * 3600 * 1000;

/// Jobs that are looked over at a time. Each is loaded for it, which takes some milliseconds.
const JOBS_AT_ONCE: usize = 5;

/// The name of the fact that says until when files without a row are spared.
const SPARED: &str = "strays_spared_until_ms";

/// What was freed.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Swept {
    /// Photos and stray files that are gone.
    pub photos: i64,
    /// Bytes of the photos among them.
    pub bytes: i64,
    /// There are jobs that were not looked over yet: ask again.
    pub more: bool,
}

impl Store {
    /// Frees photos that nothing names any more. It may be asked for at any time; asked again, it has less to do.
    pub fn sweep_photos(&mut self, now_ms: i64) -> Result<Swept, StoreError> {
        // a place whose files answer late asks again from the beginning, so this comes before any change
        let files = self.photo_place()?.list()?;
        let mut due = due(&self.conn)?;
        let more = due.len() > JOBS_AT_ONCE;
        due.truncate(JOBS_AT_ONCE);

        let mut freed: Vec<Photo> = Vec::new();
        let tx = self
            .conn
            .transaction_with_behavior(TransactionBehavior::Immediate)?;
        for (job, revision) in due {
            let Some(texts) = kept_texts(&tx, &job) else {
                // a damaged job names we do not know what
                continue;
            };
            let mut all_old = true;
            for photo in photos::list(&tx, &job)? {
                if texts.contains(&photo.hash) {
                    continue;
                }
                // a clock that was set back makes a photo look new for longer, which does no harm
                if photo.added_ms > now_ms - NEW_MS {
                    all_old = false;
                    continue;
                }
                photos::delete(&tx, &job, Some(&photo.hash))?;
                freed.push(photo);
            }
            if all_old {
                tx.prepare_cached("INSERT OR REPLACE INTO swept (job, revision) VALUES (?1, ?2)")?
                    .execute(params![job, revision])?;
            }
        }
        let spared = match spared_until(&tx)? {
            Some(until) => until > now_ms,
            None => {
                spare_strays(&tx, now_ms)?;
                true
            }
        };
        tx.commit()?;

        // rows first, then files: between the two a file is a stray
        let mut swept = Swept {
            more,
            ..Swept::default()
        };
        let mut removed = BTreeSet::new();
        freed.sort_by(|a, b| a.hash.cmp(&b.hash));
        freed.dedup_by(|a, b| a.hash == b.hash);
        for photo in freed {
            if !photos::is_used(&self.conn, &photo.hash)? {
                self.photo_place()?.remove(&photo.file())?;
                removed.insert(photo.file());
                swept.photos += 1;
                swept.bytes += photo.bytes;
            }
        }
        for name in files {
            if removed.contains(&name) {
                continue;
            }
            let gone = match kind_of(&name) {
                FileKind::Half => true,
                FileKind::Photo(hash) => !spared && !photos::is_used(&self.conn, hash)?,
                FileKind::Other => false,
            };
            if gone {
                self.photo_place()?.remove(&name)?;
                swept.photos += 1;
            }
        }
        Ok(swept)
    }
}

/// Files without a row are left alone for a while from now on.
pub fn spare_strays(conn: &Connection, now_ms: i64) -> Result<(), StoreError> {
    let until = now_ms.saturating_add(SPARED_MS).to_string();
    conn.execute(
        "INSERT OR REPLACE INTO meta (name, value) VALUES (?1, ?2)",
        params![SPARED, until.as_bytes()],
    )?;
    Ok(())
}

fn spared_until(conn: &Connection) -> Result<Option<i64>, StoreError> {
    let value: Option<Vec<u8>> = conn
        .query_row("SELECT value FROM meta WHERE name = ?1", [SPARED], |row| {
            row.get(0)
        })
        .optional()?;
    Ok(value
        .and_then(|bytes| String::from_utf8(bytes).ok())
        .and_then(|text| text.parse().ok()))
}

/// Jobs with photos that changed since they were looked over, with their revisions; a few more than are looked over at once.
/// Rows may also stand under a job that was never made; its revision reads as -1.
fn due(conn: &Connection) -> Result<Vec<(String, i64)>, StoreError> {
    let limit = i64::try_from(JOBS_AT_ONCE + 1).unwrap_or(i64::MAX);
    let jobs = conn
        .prepare_cached(
            "SELECT p.job, coalesce(s.revision, -1) FROM (SELECT DISTINCT job FROM photo) AS p \
             LEFT JOIN summary AS s ON s.kind = 'job' AND s.id = p.job \
             LEFT JOIN swept AS w ON w.job = p.job \
             WHERE w.revision IS NOT coalesce(s.revision, -1) ORDER BY p.job LIMIT ?1",
        )?
        .query_map([limit], |row| Ok((row.get(0)?, row.get(1)?)))?
        .collect::<Result<_, _>>()?;
    Ok(jobs)
}

/// Everything that a job says, or would say after an undo; none if that cannot be read.
fn kept_texts(conn: &Connection, id: &str) -> Option<Texts> {
    let mut documents: Vec<rows::Opened> = Vec::new();
    for kind in [Kind::Job, Kind::Private] {
        documents.extend(rows::load(conn, kind, id, &[0; 16]).ok()?);
    }
    let mut texts = Texts::new();
    for document in &documents {
        named::live_texts([&*document.value], &document.apart, &mut texts);
    }
    let mut undo = Texts::new();
    for log in undo_logs(conn, id).ok()? {
        named::all_texts(&serde_json::from_str::<Value>(&log).ok()?, &mut undo);
    }
    // to bring a removed item back, undo writes its mark alone: the item says the rest
    for document in &documents {
        named::removed_items(&document.value, &mut |item, says| {
            if undo.contains(item) {
                named::all_texts(says, &mut texts);
            }
        });
    }
    texts.append(&mut undo);
    Some(texts)
}

fn undo_logs(conn: &Connection, id: &str) -> rusqlite::Result<Vec<String>> {
    conn.prepare_cached("SELECT writes FROM undo WHERE kind = 'job' AND id = ?1")?
        .query_map([id], |row| row.get(0))?
        .collect()
}

enum FileKind<'a> {
    /// A whole photo, by its hash.
    Photo(&'a str),
    /// What a program that was killed while writing left.
    Half,
    /// None of ours.
    Other,
}

fn kind_of(name: &str) -> FileKind<'_> {
    let is_hash = |text: &str| text.len() == 64 && text.bytes().all(|b| b.is_ascii_hexdigit());
    let (photo, is_half) = match name.strip_suffix(".half") {
        Some(photo) => (photo, true),
        None => (name, false),
    };
    match photo.rsplit_once('.') {
        Some((hash, "jpg" | "png")) if is_hash(hash) && is_half => FileKind::Half,
        Some((hash, "jpg" | "png")) if is_hash(hash) => FileKind::Photo(hash),
        _ => FileKind::Other,
    }
}

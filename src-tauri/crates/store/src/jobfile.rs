//! The job file: a zip of stored entries, the same bytes for the same job.
//!
//! `about.json` with the format number, `job.automerge`, `private.automerge` unless it is a crew copy, and
//! `photos/HASH.jpg` or `.png`. Nothing inside is compressed, so a file is never larger in memory than on disk.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::io::{Cursor, Read, Write};

use serde::{Deserialize, Serialize};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipArchive, ZipWriter};

use crate::chunks;
use crate::edits::is_id;
use crate::error::StoreError;
use crate::packed::{self, Content, FilePart};
use crate::photos::{LARGEST_PHOTO, Photo};

/// The largest file that is read, bytes: a browser has to hold it twice.
const LARGEST_FILE: usize = 512 << 20;

/// The largest document, bytes. A job with two hundred pieces and a year of ticks is a fiftieth of it.
const LARGEST_DOCUMENT: u64 = 32 << 20;

/// Entries of a file: more than photos of a phone's camera, made smaller, fit into the largest.
const MOST_ENTRIES: usize = 20_000;

const ABOUT: &str = "about.json";
const JOB: &str = "job.automerge";
const PRIVATE: &str = "private.automerge";
const PHOTOS: &str = "photos/";

/// What a file says of itself.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct About {
    /// The version that wrote it, for people.
    pub app: String,
    /// The newest format in it.
    pub format: i64,
    /// The job's id.
    pub job: String,
}

/// A job as it travels. The documents are Automerge's bytes.
#[derive(Debug, Clone, PartialEq)]
pub struct JobFile<'a> {
    /// What it says of itself.
    pub about: About,
    /// The job.
    pub job: Vec<u8>,
    /// Client and money; none in a crew copy.
    pub private: Option<Vec<u8>>,
    /// Photos with their bytes; those of a file that was read are where they were.
    pub photos: Vec<(Photo, Cow<'a, [u8]>)>,
}

impl<'a> JobFile<'a> {
    /// The bytes of the file.
    pub fn write(&self) -> Result<Vec<u8>, StoreError> {
        let mut entries = self.documents()?;
        for (photo, bytes) in &self.photos {
            entries.insert(format!("{PHOTOS}{}", photo.file()), Cow::Borrowed(bytes));
        }
        // the date of the entries is the first that the format knows, 1980-01-01, whatever the clock says
        let options = SimpleFileOptions::default()
            .compression_method(CompressionMethod::Stored)
            .last_modified_time(zip::DateTime::default())
            .unix_permissions(0o644);
        let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
        for (name, bytes) in entries {
            zip.start_file(name, options).map_err(unwritten)?;
            zip.write_all(&bytes).map_err(unwritten)?;
        }
        Ok(zip.finish().map_err(unwritten)?.into_inner())
    }

    /// The same file in parts, with these photos: each with the CRC-32 of its bytes.
    pub(crate) fn parts(&self, photos: &[(Photo, u32)]) -> Result<Vec<FilePart>, StoreError> {
        let documents = self.documents()?.into_iter();
        let mut entries: BTreeMap<String, Content> = documents
            .map(|(name, bytes)| (name, Content::Bytes(bytes.into_owned())))
            .collect();
        for (photo, crc) in photos {
            let content = Content::Photo {
                file: photo.file(),
                bytes: u64::try_from(photo.bytes).unwrap_or(0),
                crc: *crc,
            };
            entries.insert(format!("{PHOTOS}{}", photo.file()), content);
        }
        packed::parts(entries.into_iter().collect())
    }

    /// Bytes that photos may take in it.
    pub(crate) fn room_for_photos(&self) -> usize {
        let private = self.private.as_ref().map_or(0, Vec::len);
        // what the file says of itself is some hundred bytes
        LARGEST_FILE.saturating_sub(self.job.len() + private + (64 << 10))
    }

    fn documents(&self) -> Result<BTreeMap<String, Cow<'_, [u8]>>, StoreError> {
        let about = serde_json::to_vec_pretty(&self.about).map_err(unwritten)?;
        let mut entries = BTreeMap::from([
            (ABOUT.to_string(), Cow::Owned(about)),
            (JOB.to_string(), Cow::Borrowed(&*self.job)),
        ]);
        if let Some(private) = &self.private {
            entries.insert(PRIVATE.into(), Cow::Borrowed(private));
        }
        Ok(entries)
    }

    /// Reads a file from outside. Every refusal has its own code.
    pub fn read(bytes: &'a [u8], now_ms: i64) -> Result<JobFile<'a>, StoreError> {
        if bytes.len() > LARGEST_FILE {
            return Err(StoreError::TooLarge("the whole file"));
        }
        let mut zip = ZipArchive::new(Cursor::new(bytes)).map_err(|error| {
            // the list of what is in a zip stands at its end: one that begins well and has none lost it on the way
            match bytes.starts_with(b"PK\x03\x04") {
                true => StoreError::CutShort,
                false => no_zip(error),
            }
        })?;
        if zip.len() > MOST_ENTRIES {
            return Err(StoreError::TooLarge("the number of entries"));
        }
        // first of all the format: a newer one may look different in everything else
        let about = read_entry(&mut zip, ABOUT, 64 << 10)?.ok_or_else(|| missing(ABOUT))?;
        let about: About = serde_json::from_slice(&about)
            .map_err(|e| StoreError::NotAJobFile(format!("{ABOUT}: {e}")))?;
        if about.format > job::FORMAT {
            return Err(StoreError::NewerFormat(about.format));
        }
        if !is_id(&about.job) || about.format < 1 {
            return Err(StoreError::NotAJobFile(format!("{ABOUT} is not in order")));
        }
        let photos = look_over(&mut zip, bytes.len())?;
        let job = read_entry(&mut zip, JOB, LARGEST_DOCUMENT)?.ok_or_else(|| missing(JOB))?;
        let private = read_entry(&mut zip, PRIVATE, LARGEST_DOCUMENT)?;
        for document in [Some(&job), private.as_ref()].into_iter().flatten() {
            chunks::check(document)?;
        }
        let photos = photos
            .into_iter()
            .map(|name| {
                let bytes = entry_in_place(&mut zip, bytes, &name)?;
                // its name is its checksum, and a better one than the zip's
                let photo = Photo::of(bytes, now_ms)?;
                if name != format!("{PHOTOS}{}", photo.file()) {
                    return Err(StoreError::WrongPhoto(name));
                }
                Ok((photo, Cow::Borrowed(bytes)))
            })
            .collect::<Result<_, StoreError>>()?;
        Ok(JobFile {
            about,
            job,
            private,
            photos,
        })
    }
}

/// Looks at the heads of all entries before any is read. Answers the names of the photos.
fn look_over(
    zip: &mut ZipArchive<Cursor<&[u8]>>,
    file_length: usize,
) -> Result<Vec<String>, StoreError> {
    let mut photos = Vec::new();
    let mut total = 0_u64;
    for index in 0..zip.len() {
        let entry = zip.by_index_raw(index).map_err(no_zip)?;
        let name = entry.name().map_err(no_zip)?.into_owned();
        if !is_plain(&name) {
            return Err(StoreError::BadName(name));
        }
        if entry.compression() != CompressionMethod::Stored || entry.encrypted() {
            return Err(StoreError::Compressed);
        }
        total = total.saturating_add(entry.size());
        if name.starts_with(PHOTOS) && !entry.is_dir() {
            photos.push(name);
        }
    }
    // entries that lie over each other are how a small zip holds a large one
    if total > u64::try_from(file_length).unwrap_or(u64::MAX) {
        return Err(StoreError::TooLarge("the sum of its entries"));
    }
    photos.sort();
    photos.dedup();
    Ok(photos)
}

/// Names that can only mean an entry of this file. Others that a later version adds are passed over.
fn is_plain(name: &str) -> bool {
    name.bytes()
        .all(|b| b.is_ascii_alphanumeric() || matches!(b, b'.' | b'_' | b'-' | b'/'))
        && name
            .trim_end_matches('/')
            .split('/')
            .all(|part| !part.is_empty() && !part.starts_with('.'))
}

fn read_entry(
    zip: &mut ZipArchive<Cursor<&[u8]>>,
    name: &str,
    limit: u64,
) -> Result<Option<Vec<u8>>, StoreError> {
    let Some(index) = zip.index_for_name(name) else {
        return Ok(None);
    };
    let head = zip.by_index_raw(index).map_err(no_zip)?;
    if head.compression() != CompressionMethod::Stored || head.encrypted() {
        return Err(StoreError::Compressed);
    }
    drop(head);
    let entry = zip.by_index(index).map_err(no_zip)?;
    let mut bytes = Vec::new();
    entry
        .take(limit + 1)
        .read_to_end(&mut bytes)
        .map_err(|e| StoreError::Damaged(format!("{name}: {e}")))?;
    match u64::try_from(bytes.len()) {
        Ok(length) if length <= limit => Ok(Some(bytes)),
        _ => Err(StoreError::TooLarge("an entry")),
    }
}

/// The bytes of a stored entry, where they are in the file.
fn entry_in_place<'a>(
    zip: &mut ZipArchive<Cursor<&[u8]>>,
    file: &'a [u8],
    name: &str,
) -> Result<&'a [u8], StoreError> {
    let index = zip.index_for_name(name).ok_or_else(|| missing(name))?;
    let entry = zip.by_index(index).map_err(no_zip)?;
    let limit = u64::try_from(LARGEST_PHOTO).unwrap_or(u64::MAX);
    if entry.size() > limit {
        return Err(StoreError::TooLarge("an entry"));
    }
    let start = entry.data_start().and_then(|at| usize::try_from(at).ok());
    let size = usize::try_from(entry.size()).unwrap_or(usize::MAX);
    start
        .and_then(|start| file.get(start..)?.get(..size))
        .ok_or_else(|| StoreError::Damaged(format!("{name} is cut short")))
}

fn missing(name: &str) -> StoreError {
    StoreError::NotAJobFile(format!("{name} is missing"))
}

fn no_zip(error: zip::result::ZipError) -> StoreError {
    StoreError::NotAJobFile(error.to_string())
}

fn unwritten(error: impl std::fmt::Display + ToString) -> StoreError {
    StoreError::Damaged(error.to_string())
}

//! Photos: files beside the database, named by the hash of their bytes. The file is there before its row is.

use rusqlite::{Connection, OptionalExtension, Row, params};
use sha2::{Digest, Sha256};

use crate::document::Kind;
use crate::error::StoreError;
use crate::store::Store;

/// The largest photo that is kept, bytes.
pub const LARGEST_PHOTO: usize = 24 << 20;

/// Where the files of photos are kept. Each host has its own.
pub trait PhotoPlace: MaybeSend {
    /// Writes files, so that each is there whole after a crash, or not at all. A file is named by its content: one
    /// that is there already may be left as it is.
    fn write(&mut self, files: &[(String, &[u8])]) -> Result<(), StoreError>;
    /// Reads files, in the order of their names here; none for one that is not there.
    fn read(&mut self, names: &[String]) -> Result<Vec<Option<Vec<u8>>>, StoreError>;
    /// Looks at files one after the other, in the order of their names here, so that no two are in memory at once; none for one that
    /// is not there.
    fn look(&mut self, names: &[String]) -> Result<Vec<Option<Seen>>, StoreError>;
    /// Removes a file; it is no error if there is none.
    fn remove(&mut self, name: &str) -> Result<(), StoreError>;
    /// The names of all files, in any order.
    fn list(&mut self) -> Result<Vec<String>, StoreError>;
}

/// What a look at a file tells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Seen {
    /// SHA-256 of its bytes, 64 hexadecimal digits.
    pub hash: String,
    /// CRC-32 of its bytes, as zip files have it.
    pub crc: u32,
}

impl Seen {
    /// Looks at the bytes of a file.
    #[must_use]
    pub fn of(bytes: &[u8]) -> Seen {
        Seen {
            hash: hash_of(bytes),
            crc: crc32fast::hash(bytes),
        }
    }
}

fn hash_of(bytes: &[u8]) -> String {
    let hash = Sha256::digest(bytes);
    hash.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// `Send` where there are threads.
#[cfg(not(target_family = "wasm"))]
pub use Send as MaybeSend;

/// Anything: in the browser the store stays in its worker.
#[cfg(target_family = "wasm")]
pub trait MaybeSend {}
#[cfg(target_family = "wasm")]
impl<T> MaybeSend for T {}

/// A kept photo.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Photo {
    /// SHA-256 of its bytes, 64 hexadecimal digits.
    pub hash: String,
    /// `image/jpeg` or `image/png`.
    pub mime: String,
    /// Length, bytes.
    pub bytes: i64,
    /// When it was added here, ms since 1970 UTC.
    pub added_ms: i64,
}

impl Photo {
    /// Looks at the bytes of a photo.
    pub fn of(bytes: &[u8], added_ms: i64) -> Result<Photo, StoreError> {
        if bytes.len() > LARGEST_PHOTO {
            return Err(StoreError::TooLarge("a photo"));
        }
        let mime = match bytes {
            [0xff, 0xd8, 0xff, ..] => "image/jpeg",
            [0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a, ..] => "image/png",
            _ => return Err(StoreError::NotAPhoto),
        };
        Ok(Photo {
            hash: hash_of(bytes),
            mime: mime.into(),
            bytes: i64::try_from(bytes.len()).unwrap_or(i64::MAX),
            added_ms,
        })
    }

    /// What it takes in a job file, bytes: its own, and two heads that name it.
    pub(crate) fn in_file(&self) -> usize {
        usize::try_from(self.bytes).unwrap_or(0).saturating_add(300)
    }

    /// The name of its file.
    #[must_use]
    pub fn file(&self) -> String {
        let end = if self.mime == "image/png" {
            "png"
        } else {
            "jpg"
        };
        format!("{}.{end}", self.hash)
    }
}

impl Store {
    /// Says where the files of photos are.
    pub fn keep_photos_in(&mut self, place: Box<dyn PhotoPlace>) {
        self.photos = Some(place);
    }

    pub(crate) fn photo_place(&mut self) -> Result<&mut dyn PhotoPlace, StoreError> {
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
        self.photo_place()?.write(&[(photo.file(), bytes)])?;
        insert(&self.conn, id, &photo)?;
        Ok(photo)
    }

    /// Gives a job the photos of another one, before it is made as a copy: a row without a job does no harm, a job that
    /// names a photo without a row would lose it.
    pub fn share_photos(&mut self, from: &str, to: &str) -> Result<(), StoreError> {
        self.conn
            .prepare_cached(
                "INSERT OR IGNORE INTO photo (job, hash, mime, bytes, added_ms) \
                 SELECT ?2, hash, mime, bytes, added_ms FROM photo WHERE job = ?1",
            )?
            .execute([from, to])?;
        Ok(())
    }

    /// A photo by its hash, whichever job has it; none if no job has.
    pub fn find_photo(&self, hash: &str) -> Result<Option<Photo>, StoreError> {
        let found = self
            .conn
            .prepare_cached(
                "SELECT hash, mime, bytes, added_ms FROM photo WHERE hash = ?1 ORDER BY job LIMIT 1",
            )?
            .query_row([hash], of_row)
            .optional()?;
        Ok(found)
    }

    /// The photos of a job.
    pub fn photos(&self, id: &str) -> Result<Vec<Photo>, StoreError> {
        list(&self.conn, id)
    }

    /// The bytes of a photo. They are compared with its name, so that a damaged file does not pass for the photo.
    pub fn photo(&mut self, photo: &Photo) -> Result<Vec<u8>, StoreError> {
        let name = photo.file();
        let read = self.photo_place()?.read(std::slice::from_ref(&name))?;
        let bytes = read
            .into_iter()
            .next()
            .flatten()
            .ok_or_else(|| StoreError::PhotoMissing(name.clone()))?;
        if is_of(&bytes, photo) {
            Ok(bytes)
        } else {
            Err(StoreError::WrongPhoto(name))
        }
    }

    /// Those of the photos whose file is there and sound, with their bytes.
    pub(crate) fn sound_photos(
        &mut self,
        photos: Vec<Photo>,
    ) -> Result<Vec<(Photo, Vec<u8>)>, StoreError> {
        if photos.is_empty() {
            return Ok(Vec::new());
        }
        let names: Vec<String> = photos.iter().map(Photo::file).collect();
        let read = self.photo_place()?.read(&names)?;
        let there = photos.into_iter().zip(read);
        Ok(there
            .filter_map(|(photo, bytes)| Some((photo, bytes?)))
            .filter(|(photo, bytes)| is_of(bytes, photo))
            .collect())
    }

    /// Those of the photos whose file is there and sound, with the CRC-32 of their bytes.
    pub(crate) fn seen_photos(
        &mut self,
        photos: Vec<Photo>,
    ) -> Result<Vec<(Photo, u32)>, StoreError> {
        if photos.is_empty() {
            return Ok(Vec::new());
        }
        let names: Vec<String> = photos.iter().map(Photo::file).collect();
        let seen = self.photo_place()?.look(&names)?;
        let there = photos.into_iter().zip(seen);
        Ok(there
            .filter_map(|(photo, seen)| seen.map(|seen| (photo, seen)))
            .filter(|(photo, seen)| seen.hash == photo.hash)
            .map(|(photo, seen)| (photo, seen.crc))
            .collect())
    }

    /// Takes a photo off a job. Its file goes when no other job has it.
    pub fn remove_photo(&mut self, id: &str, photo: &Photo) -> Result<(), StoreError> {
        delete(&self.conn, id, Some(&photo.hash))?;
        self.drop_files(std::slice::from_ref(photo))
    }

    /// Removes files that no row names any more.
    pub(crate) fn drop_files(&mut self, gone: &[Photo]) -> Result<(), StoreError> {
        for photo in gone {
            if !is_used(&self.conn, &photo.hash)? {
                self.photo_place()?.remove(&photo.file())?;
            }
        }
        Ok(())
    }
}

/// The photos of a job, in the order of their hashes.
pub fn list(conn: &Connection, job: &str) -> Result<Vec<Photo>, StoreError> {
    let photos = conn
        .prepare_cached(
            "SELECT hash, mime, bytes, added_ms FROM photo WHERE job = ?1 ORDER BY hash",
        )?
        .query_map([job], of_row)?
        .collect::<Result<_, _>>()?;
    Ok(photos)
}

fn of_row(row: &Row<'_>) -> rusqlite::Result<Photo> {
    Ok(Photo {
        hash: row.get(0)?,
        mime: row.get(1)?,
        bytes: row.get(2)?,
        added_ms: row.get(3)?,
    })
}

/// Whether the bytes are those of the photo.
fn is_of(bytes: &[u8], photo: &Photo) -> bool {
    Photo::of(bytes, photo.added_ms).is_ok_and(|read| read.hash == photo.hash)
}

/// Writes the row of a photo whose file is there. One that the job has already keeps its date.
pub fn insert(conn: &Connection, job: &str, photo: &Photo) -> Result<(), StoreError> {
    conn.prepare_cached(
        "INSERT OR IGNORE INTO photo (job, hash, mime, bytes, added_ms) VALUES (?1, ?2, ?3, ?4, ?5)",
    )?
    .execute(params![job, photo.hash, photo.mime, photo.bytes, photo.added_ms])?;
    // a new row has not been looked at, even if the job never changes after it
    conn.prepare_cached("DELETE FROM swept WHERE job = ?1")?
        .execute([job])?;
    Ok(())
}

/// Removes a photo's row, or all rows of a job.
pub fn delete(conn: &Connection, job: &str, hash: Option<&str>) -> Result<(), StoreError> {
    conn.execute(
        "DELETE FROM photo WHERE job = ?1 AND hash = coalesce(?2, hash)",
        params![job, hash],
    )?;
    Ok(())
}

/// Whether any job has the photo: one file serves all of them.
pub fn is_used(conn: &Connection, hash: &str) -> Result<bool, StoreError> {
    let used = conn
        .prepare_cached("SELECT EXISTS (SELECT 1 FROM photo WHERE hash = ?1)")?
        .query_row([hash], |row| row.get(0))?;
    Ok(used)
}

/// A folder of photos on a disk.
#[cfg(not(target_family = "wasm"))]
pub struct PhotoFolder(std::path::PathBuf);

#[cfg(not(target_family = "wasm"))]
impl PhotoFolder {
    /// Makes the folder if it is not there.
    pub fn open(folder: &std::path::Path) -> Result<PhotoFolder, StoreError> {
        std::fs::create_dir_all(folder).map_err(unkept)?;
        Ok(PhotoFolder(folder.into()))
    }

    fn write_one(&self, name: &str, bytes: &[u8]) -> Result<(), StoreError> {
        use std::fs::{self, File};
        use std::io::Write;

        let (file, half) = (self.0.join(name), self.0.join(format!("{name}.half")));
        let write = || {
            let mut out = File::create(&half)?;
            out.write_all(bytes)?;
            out.sync_all()?;
            fs::rename(&half, &file)?;
            // the name itself is kept by syncing the folder; Windows has no such call and does it with the rename
            #[cfg(unix)]
            File::open(&self.0)?.sync_all()?;
            Ok(())
        };
        write().map_err(|error| {
            // half a file is of no use, and if it cannot be removed it is overwritten next time
            let _ = fs::remove_file(&half);
            unkept(error)
        })
    }
}

#[cfg(not(target_family = "wasm"))]
impl PhotoPlace for PhotoFolder {
    fn write(&mut self, files: &[(String, &[u8])]) -> Result<(), StoreError> {
        files
            .iter()
            .try_for_each(|(name, bytes)| self.write_one(name, bytes))
    }

    fn read(&mut self, names: &[String]) -> Result<Vec<Option<Vec<u8>>>, StoreError> {
        let read = |name: &String| match std::fs::read(self.0.join(name)) {
            Ok(bytes) => Ok(Some(bytes)),
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(None),
            Err(error) => Err(unkept(error)),
        };
        names.iter().map(read).collect()
    }

    fn look(&mut self, names: &[String]) -> Result<Vec<Option<Seen>>, StoreError> {
        let look = |name: &String| {
            let read = self.read(std::slice::from_ref(name))?;
            Ok(read.into_iter().flatten().next().map(|b| Seen::of(&b)))
        };
        names.iter().map(look).collect()
    }

    fn remove(&mut self, name: &str) -> Result<(), StoreError> {
        match std::fs::remove_file(self.0.join(name)) {
            Err(error) if error.kind() != std::io::ErrorKind::NotFound => Err(unkept(error)),
            _ => Ok(()),
        }
    }

    fn list(&mut self) -> Result<Vec<String>, StoreError> {
        let entries = std::fs::read_dir(&self.0).map_err(unkept)?;
        // a name that is no text is none of ours
        entries
            .filter_map(|entry| match entry {
                Ok(entry) => entry.file_name().into_string().ok().map(Ok),
                Err(error) => Some(Err(unkept(error))),
            })
            .collect()
    }
}

#[cfg(not(target_family = "wasm"))]
fn unkept(error: std::io::Error) -> StoreError {
    match error.kind() {
        std::io::ErrorKind::StorageFull | std::io::ErrorKind::QuotaExceeded => StoreError::NoRoom,
        _ => StoreError::Photos(error.to_string()),
    }
}

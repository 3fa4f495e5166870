//! Refusals of the store: a stable code, what happened, what to do.

use std::fmt;

use rusqlite::ErrorCode;

/// Why the store refused. Whatever it says, what was acknowledged before is kept.
#[derive(Debug)]
pub enum StoreError {
    /// SQLite's own refusal.
    Sqlite(rusqlite::Error),
    /// The database was written by a newer version.
    NewerDatabase {
        /// Its schema.
        found: i64,
        /// The newest schema of this version.
        known: i64,
    },
    /// A sound database, or a sound file, of some other program.
    NotOurs,
    /// Bytes that do not hold together; the text says where.
    Damaged(String),
    /// There is no such job.
    NoSuchJob(String),
    /// A job of this id is here already.
    JobExists(String),
    /// The private part of the job is not on this device.
    NoPrivatePart,
    /// There is nothing at the path that could be changed.
    NoSuchPlace(Vec<String>),
    /// The path names a whole record or list where a single field is needed.
    NotAField(Vec<String>),
    /// Not an id: lower-case letters, digits, `-` and `_`, at most 64.
    BadId(String),
    /// The id was used before in this list.
    IdTaken(String),
    /// A value that cannot be kept; the text says why.
    BadValue(Vec<String>, &'static str),
    /// The reader of the document did not accept the result of the edit.
    Refused(String),
    /// There is nothing to undo or redo.
    NothingToUndo,
    /// The file is no job file.
    NotAJobFile(String),
    /// The end of the file, or a part of the job's history, is missing.
    CutShort,
    /// The file was written by a newer version: its format number.
    NewerFormat(i64),
    /// The file holds compressed data, whose size cannot be known beforehand.
    Compressed,
    /// The file or a part of it is larger than the limit, in bytes or in entries.
    TooLarge(&'static str),
    /// A name inside the file that could lead outside of it.
    BadName(String),
    /// A photo's bytes do not match its name.
    WrongPhoto(String),
    /// The bytes are no picture that is kept.
    NotAPhoto,
    /// The file holds another job under the same id.
    AnotherJob(String),
    /// Both documents were written under the same device id.
    SameDevice,
    /// Photos cannot be kept or read here; the text says why.
    Photos(String),
    /// The disk has no room for a photo.
    NoRoom,
    /// There is no such photo on this device: its hash or the name of its file.
    PhotoMissing(String),
}

impl StoreError {
    /// For programs: what kind of refusal it is. Never changes its meaning.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            StoreError::Sqlite(error) => sqlite_code(error),
            StoreError::NewerDatabase { .. } => "newer_database",
            StoreError::NotOurs => "not_ours",
            StoreError::Damaged(_) => "damaged",
            StoreError::NoSuchJob(_) => "no_such_job",
            StoreError::JobExists(_) => "job_exists",
            StoreError::NoPrivatePart => "no_private_part",
            StoreError::NoSuchPlace(_) => "no_such_place",
            StoreError::NotAField(_) => "not_a_field",
            StoreError::BadId(_) => "bad_id",
            StoreError::IdTaken(_) => "id_taken",
            StoreError::BadValue(..) => "bad_value",
            StoreError::Refused(_) => "refused",
            StoreError::NothingToUndo => "nothing_to_undo",
            StoreError::NotAJobFile(_) => "not_a_job_file",
            StoreError::CutShort => "cut_short",
            StoreError::NewerFormat(_) => "newer_format",
            StoreError::Compressed => "compressed",
            StoreError::TooLarge(_) => "too_large",
            StoreError::BadName(_) => "bad_name",
            StoreError::WrongPhoto(_) => "wrong_photo",
            StoreError::NotAPhoto => "not_a_photo",
            StoreError::AnotherJob(_) => "another_job",
            StoreError::SameDevice => "same_device",
            StoreError::Photos(_) => "photos",
            StoreError::NoRoom => "no_room",
            StoreError::PhotoMissing(_) => "photo_missing",
        }
    }

    /// For people: what to do about it.
    #[must_use]
    pub fn hint(&self) -> &'static str {
        match self.code() {
            "no_room" => "The change was not kept. Free some room on the disk, then try again.",
            "cannot_write" => {
                "The change was not kept. Check that the disk can be written to, then try again."
            }
            "in_use" => "Close the other program that has these jobs open, then try again.",
            "damaged" => "Restore a backup, or fetch the job from another device.",
            "newer_database" | "newer_format" => "Update Airwright, then try again.",
            "not_ours" | "not_a_job_file" => "Choose a file that Airwright wrote.",
            "cut_short" => {
                "Nothing was changed. Send or copy the file once more, and wait until all of it has arrived."
            }
            "no_such_job" => "Go back to the list of jobs.",
            "no_private_part" => "Open the full job file; this one came as a crew copy.",
            "compressed" | "too_large" | "bad_name" | "wrong_photo" => {
                "Export the job again on the device that it came from."
            }
            "same_device" => {
                "Restore a backup on one of the two devices; that gives it an id of its own."
            }
            "another_job" => {
                "Nothing was changed. Copy the job under a new name on the other device, then export the copy."
            }
            "not_a_photo" => "Choose a JPEG or PNG picture.",
            "photo_missing" => {
                "Open the job file from the device that has the photo, or take the photo again."
            }
            "photos" => "Check that the disk can be written to, then try again.",
            _ => "",
        }
    }
}

/// SQLite's result codes, as far as a person can do something about them.
fn sqlite_code(error: &rusqlite::Error) -> &'static str {
    match error.sqlite_error_code() {
        Some(ErrorCode::DiskFull | ErrorCode::OutOfMemory | ErrorCode::TooBig) => "no_room",
        Some(
            ErrorCode::ReadOnly
            | ErrorCode::SystemIoFailure
            | ErrorCode::CannotOpen
            | ErrorCode::PermissionDenied,
        ) => "cannot_write",
        Some(
            ErrorCode::DatabaseBusy
            | ErrorCode::DatabaseLocked
            | ErrorCode::FileLockingProtocolFailed,
        ) => "in_use",
        Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => "damaged",
        _ => "internal",
    }
}

impl fmt::Display for StoreError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            StoreError::Sqlite(error) => match sqlite_code(error) {
                "no_room" => write!(f, "There is no room left to keep this."),
                "cannot_write" => write!(f, "The database cannot be written: {error}."),
                "in_use" => write!(f, "The database is in use by another program."),
                "damaged" => write!(f, "The database file is damaged: {error}."),
                _ => write!(f, "The database refused: {error}."),
            },
            StoreError::NewerDatabase { found, known } => write!(
                f,
                "The database was written by a newer version (form {found}; this one knows {known})."
            ),
            StoreError::NotOurs => write!(f, "This file was not written by Airwright."),
            StoreError::Damaged(what) => write!(f, "The data does not hold together: {what}."),
            StoreError::NoSuchJob(id) => write!(f, "There is no job “{id}”."),
            StoreError::JobExists(id) => write!(f, "There is a job “{id}” already."),
            StoreError::NoPrivatePart => {
                write!(f, "Client and money of this job are not on this device.")
            }
            StoreError::NoSuchPlace(path) => {
                write!(f, "There is no place “{}” to change.", path.join(" / "))
            }
            StoreError::NotAField(path) => {
                write!(f, "“{}” is not a single field.", path.join(" / "))
            }
            StoreError::BadId(id) => write!(f, "“{id}” cannot be an id."),
            StoreError::IdTaken(id) => write!(f, "The id “{id}” was used before."),
            StoreError::BadValue(path, why) => {
                write!(
                    f,
                    "The value for “{}” cannot be kept: {why}.",
                    path.join(" / ")
                )
            }
            StoreError::Refused(why) => write!(f, "The change does not fit: {why}."),
            StoreError::NothingToUndo => write!(f, "There is nothing to undo."),
            StoreError::NotAJobFile(why) => write!(f, "This is not a job file: {why}."),
            StoreError::CutShort => {
                write!(f, "This job file is not whole: a part of it is missing.")
            }
            StoreError::NewerFormat(format) => {
                write!(
                    f,
                    "The file was written by a newer version (format {format})."
                )
            }
            StoreError::Compressed => write!(
                f,
                "The file holds compressed data, which job files never do."
            ),
            StoreError::TooLarge(what) => write!(f, "The file is too large: {what}."),
            StoreError::BadName(name) => {
                write!(f, "The file holds an entry with a wrong name: “{name}”.")
            }
            StoreError::WrongPhoto(name) => write!(f, "A photo does not match its name: {name}."),
            StoreError::NotAPhoto => write!(f, "This is not a picture that can be kept."),
            StoreError::AnotherJob(id) => {
                write!(f, "The file holds another job under the id “{id}”.")
            }
            StoreError::SameDevice => write!(
                f,
                "Two devices wrote under the same id, probably after the data folder was copied by hand."
            ),
            StoreError::NoRoom => write!(f, "There is no room left to keep this."),
            StoreError::Photos(why) => write!(f, "The photo could not be kept or read: {why}."),
            StoreError::PhotoMissing(_) => write!(f, "This photo is not on this device."),
        }
    }
}

impl std::error::Error for StoreError {}

impl From<rusqlite::Error> for StoreError {
    fn from(error: rusqlite::Error) -> Self {
        StoreError::Sqlite(error)
    }
}

impl From<automerge::AutomergeError> for StoreError {
    fn from(error: automerge::AutomergeError) -> Self {
        use automerge::AutomergeError as E;
        match error {
            E::DuplicateSeqNumber(..) | E::DuplicateActorId(_) => StoreError::SameDevice,
            other => StoreError::Damaged(other.to_string()),
        }
    }
}

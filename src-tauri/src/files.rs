//! Saving to and opening from a place that the user chooses. The page never names a path.
use std::collections::VecDeque;
use std::fs::File;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use desk::Fault;
use serde::{Deserialize, Serialize};
use tauri::ipc::{Request, Response};
use tauri::{AppHandle, Manager, Runtime, Url};
use tauri_plugin_dialog::{DialogExt, FilePath};

use crate::commands::{blocking, raw};
use crate::data::Data;
use crate::frame;

/// Answers the saving dialog: a folder that every file is saved to. For tests, where nobody can click.
const SAVE_DIR: &str = "AIRWRIGHT_SAVE_DIR";
/// Answers the opening dialog: one file. For tests, where nobody can click.
const OPEN_FILE: &str = "AIRWRIGHT_OPEN_FILE";

/// How the names of job files end.
const ENDING: &str = "airwright";

#[derive(Deserialize)]
struct Proposed {
    name: String,
    /// Stretches of the file; none if it is all of the bytes.
    parts: Option<Vec<Part>>,
}

/// A stretch of a file that is saved.
#[derive(Deserialize)]
struct Part {
    /// The file of a photo that is kept here; empty for the next of the bytes.
    photo: String,
    /// Its length.
    bytes: u64,
}

#[derive(Serialize)]
struct Opened {
    /// None when the user thought better of it.
    name: Option<String>,
}

/// Writes the bytes where the user says. Answers the path, or null when they thought better of it.
#[tauri::command]
pub async fn save_file<R: Runtime>(
    app: AppHandle<R>,
    request: Request<'_>,
) -> Result<Option<String>, Fault> {
    let block = raw(&request)?;
    blocking(move || {
        let (Proposed { name, parts }, body) = frame::split(&block)?;
        let photos = app.state::<Data>().photos();
        let name = last_part(&name);
        let chosen = match std::env::var_os(SAVE_DIR) {
            Some(dir) => Some(Path::new(&dir).join(&name)),
            None => path(
                app.dialog()
                    .file()
                    .set_file_name(&name)
                    .blocking_save_file(),
            )?,
        };
        let Some(to) = chosen else { return Ok(None) };
        write(&to, |file| match parts {
            Some(parts) => put_together(file, &parts, body, &photos),
            None => file.write_all(body),
        })
        .map_err(|e| Fault {
            code: "not_saved".into(),
            message: format!("{} could not be saved: {e}.", to.display()),
            hint: "Choose another place, or make room on this one.".into(),
        })?;
        Ok(Some(to.display().to_string()))
    })
    .await
}

/// Reads the file that the user chooses; `accept` as in the page: `.airwright,.jpg`.
#[tauri::command]
pub async fn open_file<R: Runtime>(app: AppHandle<R>, accept: String) -> Result<Response, Fault> {
    blocking(move || {
        let chosen = match std::env::var_os(OPEN_FILE) {
            Some(file) => Some(PathBuf::from(file)),
            None => {
                let kinds = extensions(&accept);
                let mut dialog = app.dialog().file();
                if !kinds.is_empty() {
                    dialog = dialog.add_filter(kinds.join(", "), &kinds);
                }
                path(dialog.blocking_pick_file())?
            }
        };
        read(chosen)
    })
    .await
}

/// A file with its name; neither if there is none.
fn read(file: Option<PathBuf>) -> Result<Response, Fault> {
    let (name, bytes) = match file {
        None => (None, Vec::new()),
        Some(from) => {
            let bytes = std::fs::read(&from).map_err(|e| Fault {
                code: "not_read".into(),
                message: format!("{} could not be read: {e}.", from.display()),
                hint: "Check that the file is still there.".into(),
            })?;
            (Some(last_part(&from.to_string_lossy())), bytes)
        }
    };
    Ok(Response::new(frame::join(&Opened { name }, &bytes)?))
}

/// Job files that the program was started with, until the page has asked for them.
#[derive(Default)]
pub struct ToOpen(Mutex<VecDeque<PathBuf>>);

impl ToOpen {
    /// Takes the job files among the arguments of a start in this folder. Answers whether there was any.
    pub fn add(&self, arguments: impl IntoIterator<Item = String>, folder: &Path) -> bool {
        let files = arguments
            .into_iter()
            .filter_map(|argument| job_file(&argument, folder));
        let mut waiting = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let before = waiting.len();
        waiting.extend(files);
        waiting.len() > before
    }

    fn next(&self) -> Option<PathBuf> {
        let mut waiting = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        waiting.pop_front()
    }
}

/// The next job file that the program was told to open; no name when there is none.
#[tauri::command]
pub async fn file_to_open<R: Runtime>(app: AppHandle<R>) -> Result<Response, Fault> {
    blocking(move || read(app.state::<ToOpen>().next())).await
}

/// The job file that an argument names: a path, from the folder of the start, or the address of one.
fn job_file(argument: &str, folder: &Path) -> Option<PathBuf> {
    let path = match argument.strip_prefix("file:") {
        Some(_) => Url::parse(argument).ok()?.to_file_path().ok()?,
        None => folder.join(argument),
    };
    let ending = path.extension()?.to_str()?;
    ending.eq_ignore_ascii_case(ENDING).then_some(path)
}

/// The name alone: whatever looks like a folder is dropped.
fn last_part(name: &str) -> String {
    let last = name.rsplit(['/', '\\']).next().unwrap_or_default();
    match last {
        "" | "." | ".." => "airwright".into(),
        _ => last.into(),
    }
}

/// `.pdf,.csv` → `pdf`, `csv`. Media types such as `image/*` are left out: the dialog knows endings only.
fn extensions(accept: &str) -> Vec<&str> {
    let kinds = accept.split(',').map(str::trim);
    kinds.filter_map(|k| k.strip_prefix('.')).collect()
}

fn path(chosen: Option<FilePath>) -> Result<Option<PathBuf>, Fault> {
    chosen
        .map(FilePath::into_path)
        .transpose()
        .map_err(|e| Fault {
            code: "no_such_place".into(),
            message: format!("This place is not a folder of this computer: {e}."),
            hint: "Choose another place.".into(),
        })
}

/// Written beside the place first, then moved there: what was there before is replaced whole or not at all.
fn write(to: &Path, content: impl FnOnce(&mut File) -> std::io::Result<()>) -> std::io::Result<()> {
    let mut part = to.as_os_str().to_owned();
    part.push(".part");
    let part = PathBuf::from(part);
    let mut file = File::create(&part)?;
    let done = content(&mut file)
        .and_then(|()| file.sync_all())
        .and_then(|()| std::fs::rename(&part, to));
    if done.is_err() {
        // the error that matters is the first one
        let _ = std::fs::remove_file(&part);
    }
    done
}

/// Writes a file from its parts, the photos straight from theirs.
fn put_together(
    file: &mut File,
    parts: &[Part],
    body: &[u8],
    photos: &Path,
) -> std::io::Result<()> {
    let not_as_said = || std::io::Error::other("its parts are not as they were said to be");
    let mut rest = body;
    for Part { photo, bytes } in parts {
        if photo.is_empty() {
            let length = usize::try_from(*bytes).map_err(|_| not_as_said())?;
            let (next, after) = rest.split_at_checked(length).ok_or_else(not_as_said)?;
            file.write_all(next)?;
            rest = after;
        } else {
            let mut from = File::open(photos.join(last_part(photo)))?;
            if std::io::copy(&mut from, file)? != *bytes {
                return Err(not_as_said());
            }
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_cannot_climb_out_of_its_folder() {
        for (name, left) in [
            ("Crew pack.pdf", "Crew pack.pdf"),
            ("../../etc/passwd", "passwd"),
            ("C:\\x\\y.csv", "y.csv"),
            ("a/..", "airwright"),
            ("", "airwright"),
        ] {
            assert_eq!(last_part(name), left);
        }
    }

    #[test]
    fn only_job_files_of_a_start_are_opened_one_after_the_other() {
        let waiting = ToOpen::default();
        let folder = Path::new("/home/ada");
        assert!(!waiting.add(["--flag".into(), "plan.pdf".into(), String::new()], folder));
        let files = [
            "Größe.airwright",
            "/media/stick/A.AIRWRIGHT",
            "file:///media/stick/a%20b.airwright",
        ];
        assert!(waiting.add(files.map(Into::into), folder));
        for path in [
            "/home/ada/Größe.airwright",
            "/media/stick/A.AIRWRIGHT",
            "/media/stick/a b.airwright",
        ] {
            assert_eq!(waiting.next(), Some(PathBuf::from(path)));
        }
        assert_eq!(waiting.next(), None);
    }

    #[test]
    fn a_file_is_put_together_from_bytes_and_photos_or_not_at_all() {
        let dir = std::env::temp_dir().join(format!("airwright-parts-{}", std::process::id()));
        std::fs::create_dir_all(&dir).unwrap();
        std::fs::write(dir.join("a.jpg"), b"photo").unwrap();
        let part = |photo: &str, bytes| Part {
            photo: photo.into(),
            bytes,
        };
        let to = dir.join("out");
        let save = |parts: &[Part]| write(&to, |file| put_together(file, parts, b"headtail", &dir));
        save(&[part("", 4), part("a.jpg", 5), part("", 4)]).unwrap();
        assert_eq!(std::fs::read(&to).unwrap(), b"headphototail");
        for wrong in [
            [part("", 9), part("a.jpg", 5)],
            [part("", 4), part("a.jpg", 6)],
            [part("", 4), part("b.jpg", 5)],
        ] {
            assert!(save(&wrong).is_err());
            assert_eq!(std::fs::read(&to).unwrap(), b"headphototail");
            assert!(!dir.join("out.part").exists());
        }
        std::fs::remove_dir_all(dir).unwrap();
    }

    #[test]
    fn the_dialog_knows_endings_only() {
        assert_eq!(extensions(".pdf, .csv,image/*"), ["pdf", "csv"]);
        assert!(extensions("").is_empty());
    }
}

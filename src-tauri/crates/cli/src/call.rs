//! `airwright-cli call`: one command of the desk.
use std::fs::{File, TryLockError};
use std::io::Read;
use std::path::{Path, PathBuf};
use std::time::UNIX_EPOCH;

use desk::{Desk, Fault, Host};
use serde_json::Value;
use store::PhotoFolder;

use crate::usage;

struct Question {
    name: String,
    args: Value,
    data: Option<PathBuf>,
    /// Some when bytes go in or out: then the byte doors are used.
    bytes: Option<Bytes>,
}

struct Bytes {
    body: Vec<u8>,
    out: Option<PathBuf>,
}

/// Asks, prints the answer as JSON, and writes the bytes of the answer.
pub fn call(words: &[String]) -> Result<(), Fault> {
    let q = read(words)?;
    let mut open = match desk::needs_store(&q.name) {
        true => Some(open(q.data.as_deref())?),
        false => None,
    };
    let (answer, bytes) = match (&mut open, &q.bytes) {
        (Some((desk, _)), Some(b)) => desk.call_bytes(&q.name, q.args, &b.body)?,
        (Some((desk, _)), None) => (desk.call(&q.name, q.args)?, Vec::new()),
        (None, Some(b)) => desk::compute_bytes(&q.name, q.args, &b.body)?,
        (None, None) => (desk::compute(&q.name, q.args)?, Vec::new()),
    };
    if let Some(out) = q.bytes.and_then(|b| b.out) {
        std::fs::write(&out, bytes).map_err(|e| on(&out, &e))?;
    }
    println!("{answer:#}");
    Ok(())
}

fn read(words: &[String]) -> Result<Question, Fault> {
    let (mut plain, mut data, mut body, mut out) = (Vec::new(), None, None, None);
    let mut words = words.iter();
    while let Some(word) = words.next() {
        let target = match word.as_str() {
            "--data" => &mut data,
            "--in" => &mut body,
            "--out" => &mut out,
            _ if word.starts_with("--") => return Err(usage(format!("there is no {word}"))),
            _ => {
                plain.push(word.as_str());
                continue;
            }
        };
        let value = words.next().ok_or_else(|| usage(format!("{word} what?")))?;
        *target = Some(PathBuf::from(value));
    }
    let (name, args) = match plain[..] {
        [name] => (name, Value::Null),
        [name, "-"] => (name, json(&standard_input()?)?),
        [name, text] => (name, json(text)?),
        _ => return Err(usage("call takes a command and JSON")),
    };
    let bytes = match (body, out) {
        (None, None) => None,
        (body, out) => {
            let body = body.map(|path| std::fs::read(&path).map_err(|e| on(&path, &e)));
            Some(Bytes {
                body: body.transpose()?.unwrap_or_default(),
                out,
            })
        }
    };
    Ok(Question {
        name: name.into(),
        args,
        data,
        bytes,
    })
}

fn json(text: &str) -> Result<Value, Fault> {
    serde_json::from_str(text).map_err(|e| usage(format!("this is not JSON: {e}")))
}

fn standard_input() -> Result<String, Fault> {
    let mut text = String::new();
    let read = std::io::stdin().read_to_string(&mut text);
    read.map_err(|e| usage(format!("the standard input cannot be read: {e}")))?;
    Ok(text)
}

/// The desk, and the lock that keeps the window program out of the same folder meanwhile.
fn open(data: Option<&Path>) -> Result<(Desk, File), Fault> {
    let dir = match data {
        Some(dir) => dir.to_path_buf(),
        None => std::env::var_os("AIRWRIGHT_DATA_DIR")
            .map(PathBuf::from)
            .ok_or_else(|| usage("this command needs --data DIR"))?,
    };
    std::fs::create_dir_all(&dir).map_err(|e| on(&dir, &e))?;
    let lock = File::create(dir.join("airwright.lock")).map_err(|e| on(&dir, &e))?;
    match lock.try_lock() {
        Ok(()) => {}
        Err(TryLockError::WouldBlock) => {
            return Err(Fault {
                code: "open_elsewhere".into(),
                message: "These jobs are open in another Airwright.".into(),
                hint: "Close the other one, then try again.".into(),
            });
        }
        Err(TryLockError::Error(e)) => return Err(on(&dir, &e)),
    }
    let conn = store::open_file(&dir.join("airwright.db")).map_err(|e| on(&dir, &e))?;
    let photos = PhotoFolder::open(&dir.join("photos")).map_err(|e| on(&dir, &e))?;
    let mut desk = Desk::open(conn, Host { now_ms })?;
    desk.keep_photos_in(Box::new(photos));
    Ok((desk, lock))
}

fn on(path: &Path, e: &dyn std::fmt::Display) -> Fault {
    Fault {
        code: "file".into(),
        message: format!("{}: {e}.", path.display()),
        hint: String::new(),
    }
}

/// The desk's clock: milliseconds since 1970-01-01 UTC.
#[expect(
    clippy::disallowed_methods,
    reason = "a host is where the clock is read"
)]
fn now_ms() -> i64 {
    let since = std::time::SystemTime::now().duration_since(UNIX_EPOCH);
    since.map_or(0, |d| i64::try_from(d.as_millis()).unwrap_or(i64::MAX))
}

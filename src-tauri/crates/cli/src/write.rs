//! `airwright-cli demo` and `airwright-cli plan`: everything of a job as files.
use std::path::{Path, PathBuf};

use desk::{Desk, Fault, Host};
use serde_json::{Value, json};

use crate::usage;

/// The day from which the demo job lies ahead when none is given: then the files are the same on every day.
const TODAY: &str = "2027-05-26";
/// Noon of that day, ms since 1970 UTC: when the papers say that they were made, those of the demo job at noon of the day that is given.
const MADE_MS: i64 = 1_811_332_800_000;

/// Writes every paper, the job file, the job and its plan of the demo job.
pub fn demo(words: &[String]) -> Result<(), Fault> {
    let (out, rest) = out(words)?;
    let today = match rest.as_slice() {
        [] => TODAY,
        [flag, day] if flag == "--today" => day,
        _ => return Err(usage("demo takes --out DIR and --today YYYY-MM-DD")),
    };
    let conn = rusqlite::Connection::open_in_memory()
        .map_err(|e| Fault::new("internal", e.to_string(), ""))?;
    let made_ms: Option<i64> = conn
        .query_row("SELECT unixepoch(?1 || ' 12:00') * 1000", [today], |row| {
            row.get(0)
        })
        .map_err(|e| Fault::new("internal", e.to_string(), ""))?;
    let made_ms = made_ms.ok_or_else(|| usage(format!("{today} is no day such as {TODAY}")))?;
    let mut desk = Desk::open(conn, Host { now_ms: || MADE_MS })?;
    let view = desk.call("create_demo", json!({ "today": today }))?;
    let own = desk.call("open_books", Value::Null)?["books"]["own"].take();
    files(&out, &view["job"], &view["private"], &own, made_ms)?;
    let (_, bytes) = desk.call_bytes(
        "export_job",
        json!({ "id": view["id"], "crew_copy": false }),
        &[],
    )?;
    write(&out.join("demo.airwright"), &bytes)
}

/// Writes the plan and every paper of a job: JSON of a job, or of `{"job": …, "private": …}`.
pub fn plan(words: &[String]) -> Result<(), Fault> {
    let (out, rest) = out(words)?;
    let [file] = rest.as_slice() else {
        return Err(usage("plan takes a file with a job, and --out DIR"));
    };
    let (job, private) = read(file)?;
    files(&out, &job, &private, &json!({}), MADE_MS)
}

/// A job and its private part from a file.
pub fn read(file: &str) -> Result<(Value, Value), Fault> {
    let text = std::fs::read_to_string(file).map_err(|e| on(Path::new(file), &e))?;
    let mut given: Value =
        serde_json::from_str(&text).map_err(|e| usage(format!("{file} is not JSON: {e}")))?;
    Ok(match given.get("job") {
        Some(_) => (given["job"].take(), given["private"].take()),
        None => (given, Value::Null),
    })
}

fn files(out: &Path, job: &Value, private: &Value, own: &Value, made_ms: i64) -> Result<(), Fault> {
    std::fs::create_dir_all(out).map_err(|e| on(out, &e))?;
    let question = json!({ "job": job, "private": private });
    let plan = desk::compute("plan", question.clone())?;
    write(&out.join("job.json"), format!("{question:#}\n").as_bytes())?;
    write(&out.join("plan.json"), format!("{plan:#}\n").as_bytes())?;
    for (kind, name) in [
        ("client_summary", "client-summary.pdf"),
        ("crew_pack", "crew-pack.pdf"),
        ("order_csv", "order.csv"),
        ("shopping_list", "shopping-list.pdf"),
        ("labels", "labels.pdf"),
        ("calendar", "job.ics"),
    ] {
        let args = json!({
            "kind": kind, "job": job, "private": private, "own": own, "size": "a4", "language": "en-GB",
            "made_ms": made_ms, "us_units": false, "twelve_hours": false,
        });
        let (_, bytes) = desk::compute_bytes("paper", args, &[])?;
        write(&out.join(name), &bytes)?;
    }
    Ok(())
}

/// The folder after `--out`, and the other words.
fn out(words: &[String]) -> Result<(PathBuf, Vec<String>), Fault> {
    let mut rest = words.to_vec();
    let at = rest
        .iter()
        .position(|w| w == "--out")
        .ok_or_else(|| usage("this needs --out DIR"))?;
    if at + 1 >= rest.len() {
        return Err(usage("--out what?"));
    }
    let dir = rest.remove(at + 1);
    rest.remove(at);
    Ok((PathBuf::from(dir), rest))
}

/// Writes a file and says so.
pub fn write(path: &Path, bytes: &[u8]) -> Result<(), Fault> {
    std::fs::write(path, bytes).map_err(|e| on(path, &e))?;
    println!("{}", path.display());
    Ok(())
}

fn on(path: &Path, error: &std::io::Error) -> Fault {
    Fault::new(
        "file",
        format!("{} cannot be read or written: {error}.", path.display()),
        "Check the name and the folder.",
    )
}

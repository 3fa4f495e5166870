//! Commands with bytes in or out: job files and backups.

use serde_json::Value;

use crate::Desk;
use crate::document::{accept, read};
use crate::fault::Fault;
use crate::names::file_name;
use crate::views::{About, CameIn, Conflict, ExportJob, FileInfo};

pub(crate) fn export_job(
    desk: &mut Desk,
    args: ExportJob,
    _: &[u8],
) -> Result<(FileInfo, Vec<u8>), Fault> {
    let name = read(&desk.store.job(&args.id)?).job.name;
    let bytes = desk.store.export_job(&args.id, args.crew_copy)?;
    let name = if args.crew_copy {
        format!("{name} crew")
    } else {
        name
    };
    let info = FileInfo {
        name: file_name(&name, "job", ".airwright"),
        mime: "application/octet-stream".into(),
    };
    Ok((info, bytes))
}

pub(crate) fn open_job_file(
    desk: &mut Desk,
    (): (),
    body: &[u8],
) -> Result<(CameIn, Vec<u8>), Fault> {
    let now_ms = desk.now_ms();
    let came = desk
        .store
        .open_job_file(body, now_ms, |state| accept("", state, &[], now_ms))?;
    let conflicts = came
        .conflicts
        .iter()
        .map(|c| Conflict {
            path: c.path.clone(),
            holds: shown(&c.holds),
            other: c.others.iter().map(shown).collect::<Vec<_>>().join(", "),
        })
        .collect();
    let answer = CameIn {
        name: read(&came.state).job.name,
        id: came.id,
        created: came.created,
        ticks: came.ticks,
        notes: came.notes,
        photos: came.photos,
        client_erased: came.client_erased,
        changed: came.changed,
        conflicts,
    };
    Ok((answer, Vec::new()))
}

fn shown(value: &Value) -> String {
    value
        .as_str()
        .map_or_else(|| value.to_string(), ToString::to_string)
}

pub(crate) fn backup(desk: &mut Desk, (): (), _: &[u8]) -> Result<(FileInfo, Vec<u8>), Fault> {
    let day: String = job::time::local(desk.now_ms(), "UTC")
        .unwrap_or_default()
        .chars()
        .take(10)
        .collect();
    let bytes = desk.store.backup()?;
    let info = FileInfo {
        name: format!("Airwright backup {day}.db"),
        mime: "application/vnd.sqlite3".into(),
    };
    Ok((info, bytes))
}

pub(crate) fn restore(desk: &mut Desk, (): (), body: &[u8]) -> Result<(About, Vec<u8>), Fault> {
    desk.store.restore(body)?;
    Ok((crate::about(desk, ())?, Vec::new()))
}

//! Commands with bytes in or out: job files and backups.

use store::{FilePart, State};

use crate::Desk;
use crate::document::{accept, read};
use crate::fault::Fault;
use crate::names::file_name;
use crate::told;
use crate::views::{
    About, Both, CameIn, ExportJob, FileInfo, Home, Incoming, PackedJob, PackedPart,
};
use crate::words::feeds_plan;

/// The media type of job files: our own, so that systems can tell them from other archives.
const JOB_FILE: &str = "application/x-airwright";

pub(crate) fn export_job(
    desk: &mut Desk,
    args: ExportJob,
    _: &[u8],
) -> Result<(FileInfo, Vec<u8>), Fault> {
    let info = FileInfo {
        name: job_file_name(desk, &args)?,
        mime: JOB_FILE.into(),
    };
    Ok((info, desk.store.export_job(&args.id, args.crew_copy)?))
}

pub(crate) fn pack_job(
    desk: &mut Desk,
    args: ExportJob,
    _: &[u8],
) -> Result<(PackedJob, Vec<u8>), Fault> {
    let name = job_file_name(desk, &args)?;
    let packed = desk.store.pack_job(&args.id, args.crew_copy)?;
    let mut body = Vec::new();
    let parts = packed.parts.into_iter().map(|part| match part {
        FilePart::Photo { file, bytes } => PackedPart {
            photo: file,
            bytes: i64::try_from(bytes).unwrap_or(i64::MAX),
        },
        FilePart::Bytes(bytes) => {
            body.extend(&bytes);
            PackedPart {
                photo: String::new(),
                bytes: i64::try_from(bytes.len()).unwrap_or(i64::MAX),
            }
        }
    });
    let answer = PackedJob {
        name,
        mime: JOB_FILE.into(),
        parts: parts.collect(),
        left_out: i64::try_from(packed.left_out).unwrap_or(i64::MAX),
    };
    Ok((answer, body))
}

fn job_file_name(desk: &mut Desk, args: &ExportJob) -> Result<String, Fault> {
    let name = read(&desk.store.job(&args.id)?).job.name;
    let name = if args.crew_copy {
        format!("{name} crew")
    } else {
        name
    };
    Ok(file_name(&name, "job", ".airwright"))
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
    Ok((came_in(desk, &came), Vec::new()))
}

pub(crate) fn look_into_job_file(
    desk: &mut Desk,
    (): (),
    body: &[u8],
) -> Result<(Incoming, Vec<u8>), Fault> {
    let now_ms = desk.now_ms();
    let came = desk
        .store
        .look_into_job_file(body, now_ms, |state| accept("", state, &[], now_ms))?;
    let both = |state: &State| {
        let read = read(state);
        Both {
            job: read.job,
            private: read.private,
        }
    };
    let answer = Incoming {
        asks: came.before.is_some() && came.news.changed.iter().any(|path| feeds_plan(path)),
        before: came.before.as_ref().map(both),
        after: both(&came.state),
        came: came_in(desk, &came),
    };
    Ok((answer, Vec::new()))
}

fn came_in(desk: &Desk, came: &store::CameIn) -> CameIn {
    let job = read(&came.state).job;
    let changes = came
        .before
        .as_ref()
        .map(|before| told::changes(&came.news.changed, before, &came.state));
    CameIn {
        id: came.id.clone(),
        created: came.before.is_none(),
        ticks: came.news.ticks,
        notes: came.news.notes,
        photos: came.news.photos,
        changes: changes.unwrap_or_default(),
        home: Home {
            ticks: came.home.ticks,
            notes: came.home.notes,
            photos: came.home.photos,
            changes: i64::try_from(came.home.changed.len()).unwrap_or(i64::MAX),
        },
        client_erased: came.client_erased,
        apart: told::apart(&came.conflicts, &came.state, &job, desk.store.device_id()),
        clocks_apart_s: came.clocks_apart_s,
        name: job.name,
    }
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
    let now_ms = desk.now_ms();
    desk.store.restore(body, now_ms)?;
    Ok((crate::about(desk, ())?, Vec::new()))
}

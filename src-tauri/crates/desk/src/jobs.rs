//! Commands on jobs.

use job::site::Tick;
use job::{Book, Books, Job, Private};
use serde_json::Value;
use store::{Changed, State};

use crate::document::{accept, completed, read, summary};
use crate::fault::Fault;
use crate::told;
use crate::views::{
    ClientRecord, CopyJob, CreateJob, EditJob, Edited, FirstStart, FirstStarted, JobId, JobRow,
    JobView, TickStep, Ticked, Undone,
};
use crate::{Desk, books, day, money};

/// The demo job lies so many days ahead.
const DEMO_DAYS: i64 = 17;

pub(crate) fn list(desk: &mut Desk, (): ()) -> Result<Vec<JobRow>, Fault> {
    let mut rows = Vec::new();
    for listed in desk.store.list_jobs()? {
        let row: JobRow = serde_json::from_value(listed.row).map_err(|e| {
            Fault::new(
                "damaged",
                format!("A row of the list cannot be read: {e}."),
                "Restore a backup.",
            )
        })?;
        rows.push(JobRow {
            id: listed.id,
            ..row
        });
    }
    Ok(rows)
}

pub(crate) fn first_start(desk: &mut Desk, args: FirstStart) -> Result<FirstStarted, Fault> {
    if desk.store.book(Book::Settings)?.is_some() || !desk.store.list_jobs()?.is_empty() {
        books::make_missing(desk)?;
        return Ok(FirstStarted { demo: None });
    }
    books::make_missing(desk)?;
    let demo = create_demo(desk, args)?;
    Ok(FirstStarted {
        demo: Some(demo.id),
    })
}

pub(crate) fn create_demo(desk: &mut Desk, args: FirstStart) -> Result<JobView, Fault> {
    let books = books::read_all(desk)?.books;
    let noon = job::time::instant(&format!("{}T12:00", args.today), "UTC").map_err(|_| {
        Fault::new(
            "bad_value",
            format!("“{}” is no day.", args.today),
            "Give it as YYYY-MM-DD.",
        )
    })?;
    let day: String = job::time::on_day(noon, DEMO_DAYS, 720, "UTC")
        .and_then(|ms| job::time::local(ms, "UTC"))
        .unwrap_or_default()
        .chars()
        .take(10)
        .collect();
    let (job, private) = job::demo::demo(&books, &day);
    keep_new(desk, &job, Some(&private))
}

pub(crate) fn create(desk: &mut Desk, args: CreateJob) -> Result<JobView, Fault> {
    let books: Books = books::read_all(desk)?.books;
    let (job, private) = job::defaults::new_job(&books, args.name.trim());
    keep_new(desk, &job, Some(&private))
}

pub(crate) fn copy(desk: &mut Desk, args: CopyJob) -> Result<JobView, Fault> {
    let state = desk.store.job(&args.id)?;
    let old = read(&state);
    let job = Job {
        name: args.name,
        stage: job::Stage::default(),
        gone: false,
        times: Default::default(),
        ticks: Default::default(),
        notes: Default::default(),
        pins: Default::default(),
        away: Default::default(),
        kept: Default::default(),
        assigned: Default::default(),
        places: Default::default(),
        photos: Default::default(),
        damage: Default::default(),
        waste: Default::default(),
        ..old.job
    };
    // bills, what it took and signatures belong to the old one
    let private = old.private.map(|private| Private {
        bills: Default::default(),
        used: Default::default(),
        spent: Default::default(),
        signatures: Default::default(),
        ..private
    });
    let id = desk.store.new_id()?;
    desk.store.share_photos(&args.id, &id)?;
    keep(desk, &id, &job, private.as_ref())
}

pub(crate) fn keep_new(
    desk: &mut Desk,
    job: &Job,
    private: Option<&Private>,
) -> Result<JobView, Fault> {
    let id = desk.store.new_id()?;
    keep(desk, &id, job, private)
}

fn keep(desk: &mut Desk, id: &str, job: &Job, private: Option<&Private>) -> Result<JobView, Fault> {
    let now_ms = desk.now_ms();
    let written = |e: serde_json::Error| {
        Fault::new(
            "internal",
            format!("The job cannot be written: {e}."),
            "Try again.",
        )
    };
    let value = serde_json::to_value(job).map_err(written)?;
    let private: Option<Value> = private
        .map(serde_json::to_value)
        .transpose()
        .map_err(written)?;
    let state = desk.store.create_job(id, &value, private.as_ref(), |_| {
        Ok(summary(id, job, 0, now_ms))
    })?;
    view(desk, id, &state)
}

pub(crate) fn open(desk: &mut Desk, args: JobId) -> Result<JobView, Fault> {
    let state = desk.store.job(&args.id)?;
    view(desk, &args.id, &state)
}

/// A job as the page sees it.
pub(crate) fn view(desk: &Desk, id: &str, state: &State) -> Result<JobView, Fault> {
    let read = read(state);
    let labels = desk.store.labels(id)?;
    let apart = told::apart(&state.apart, state, &read.job, desk.store.device_id());
    Ok(JobView {
        id: id.into(),
        apart,
        revision: state.revision,
        job: read.job,
        private: read.private,
        signatures: read.signatures,
        findings: read.findings,
        undo: labels.undo,
        redo: labels.redo,
    })
}

pub(crate) fn edit(desk: &mut Desk, args: EditJob) -> Result<Edited, Fault> {
    let now_ms = desk.now_ms();
    let private = desk.store.job(&args.id)?.private;
    let edits = completed(args.edits, private.as_deref())?;
    let bills = money::Bills::of(private.as_deref());
    let changed = desk
        .store
        .edit_job(&args.id, &edits, &args.label, now_ms, |state| {
            bills.are_kept(state)?;
            accept(&args.id, state, &edits, now_ms)
        })?;
    edited(desk, &args.id, changed)
}

pub(crate) fn edited(desk: &Desk, id: &str, changed: Changed) -> Result<Edited, Fault> {
    Ok(Edited {
        view: view(desk, id, &changed.state)?,
        changed: changed.paths,
    })
}

pub(crate) fn tick(desk: &mut Desk, args: TickStep) -> Result<Ticked, Fault> {
    let now_ms = desk.now_ms();
    let label = match (args.done, args.skipped) {
        (_, true) => "Skip",
        (true, _) => "Tick",
        (false, _) => "Untick",
    };
    let label = format!("{label}: {}", args.what);
    let tick = Tick {
        step: args.step,
        done: args.done,
        skipped: args.skipped,
        reason: args.reason,
        quantity: args.quantity,
        what: args.what,
        who: args.who,
        took_s: args.took_s,
        ..Tick::default()
    };
    let ticked = desk.store.tick(&args.id, &tick, &label, now_ms, |state| {
        accept(&args.id, state, &[], now_ms)
    })?;
    Ok(Ticked {
        revision: ticked.changed.state.revision,
        key: ticked.key,
        tick: ticked.tick,
        undo: desk.store.labels(&args.id)?.undo,
    })
}

pub(crate) fn undo(desk: &mut Desk, args: JobId) -> Result<Undone, Fault> {
    turn(desk, &args.id, true)
}

pub(crate) fn redo(desk: &mut Desk, args: JobId) -> Result<Undone, Fault> {
    turn(desk, &args.id, false)
}

fn turn(desk: &mut Desk, id: &str, back: bool) -> Result<Undone, Fault> {
    let now_ms = desk.now_ms();
    let bills = money::Bills::of(desk.store.job(id)?.private.as_deref());
    let check = |state: &State| {
        bills.are_kept(state)?;
        accept(id, state, &[], now_ms)
    };
    let done = if back {
        desk.store.undo(id, now_ms, check)
    } else {
        desk.store.redo(id, now_ms, check)
    };
    match done {
        Ok(done) => Ok(Undone {
            label: Some(done.label),
            changed: done.changed.paths,
            changed_since: done.changed_since,
            view: view(desk, id, &done.changed.state)?,
        }),
        Err(store::StoreError::NothingToUndo) => {
            let state = desk.store.job(id)?;
            Ok(Undone {
                label: None,
                changed: Vec::new(),
                changed_since: Vec::new(),
                view: view(desk, id, &state)?,
            })
        }
        Err(error) => Err(error.into()),
    }
}

pub(crate) fn erase_client(desk: &mut Desk, args: JobId) -> Result<JobView, Fault> {
    let now_ms = desk.now_ms();
    // the photos go with the client's data, so the job must not name one any more
    let before = desk.store.job(&args.id)?;
    let edits = if before.private.is_some() {
        day::unnamed_photos(&read(&before).job)
    } else {
        Vec::new()
    };
    if !edits.is_empty() {
        let label = "Photographs removed";
        desk.store
            .edit_job(&args.id, &edits, label, now_ms, |state| {
                accept(&args.id, state, &edits, now_ms)
            })?;
    }
    let state = desk.store.erase_client(&args.id, now_ms, |state| {
        accept(&args.id, state, &[], now_ms)
    })?;
    view(desk, &args.id, &state)
}

pub(crate) fn client_record(desk: &mut Desk, args: JobId) -> Result<ClientRecord, Fault> {
    let held = desk.store.holds(&args.id)?;
    let json = serde_json::to_string_pretty(&held)
        .map_err(|e| Fault::new("internal", e.to_string(), "Try again."))?;
    Ok(ClientRecord { json })
}

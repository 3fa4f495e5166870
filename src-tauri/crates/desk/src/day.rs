//! Commands of the day at the venue: who takes a step, where a device likes to see it, the signed hand-over.

use job::day::{Assigned, Signature, StepPlace, strokes};
use job::{Edit, Job};
use serde::Serialize;
use serde_json::{Map, Value};
use store::Turn;

use crate::Desk;
use crate::document::accept;
use crate::fault::Fault;
use crate::jobs::edited;
use crate::views::{AssignStep, Edited, PlaceStep, SignHandOver};

pub(crate) fn assign(desk: &mut Desk, args: AssignStep) -> Result<Edited, Fault> {
    let label = format!("Who: {}", args.what);
    let assigned = Assigned {
        step: args.step,
        crew: args.crew,
        ..Assigned::default()
    };
    marked(desk, &args.id, "assigned", &assigned, Turn::OfStep, &label)
}

pub(crate) fn place(desk: &mut Desk, args: PlaceStep) -> Result<Edited, Fault> {
    let label = format!("Order: {}", args.what);
    let place = StepPlace {
        step: args.step,
        after: args.after,
        first: args.first,
        ..StepPlace::default()
    };
    marked(desk, &args.id, "places", &place, Turn::OfList, &label)
}

fn marked(
    desk: &mut Desk,
    id: &str,
    list: &str,
    mark: &impl Serialize,
    turn: Turn,
    label: &str,
) -> Result<Edited, Fault> {
    let now_ms = desk.now_ms();
    let fields = record(mark)?;
    let marked = desk
        .store
        .mark(id, list, fields, turn, label, now_ms, |state| {
            accept(id, state, &[], now_ms)
        })?;
    edited(desk, id, marked.changed)
}

pub(crate) fn sign(desk: &mut Desk, args: SignHandOver) -> Result<Edited, Fault> {
    let now_ms = desk.now_ms();
    if strokes(&args.strokes).is_none() {
        return Err(Fault::new(
            "bad_value",
            "This signature cannot be kept: it has no stroke, or too many.",
            "Clear the box and sign again.",
        ));
    }
    if args.name.trim().is_empty() {
        return Err(Fault::new(
            "bad_value",
            "Nobody’s name stands under the signature.",
            "Write the name of the person who signs.",
        ));
    }
    let signature = Signature {
        name: args.name.trim().into(),
        remarks: args.remarks.trim().into(),
        strokes: args.strokes,
        ticked: args.ticked,
        of: args.of,
        taken_by: args.taken_by,
        at_ms: now_ms,
        ..Signature::default()
    };
    let signed = Value::Object(record(&signature)?);
    let key = desk.store.new_id()?;
    let label = "Hand-over signed";
    let changed = desk
        .store
        .sign(&args.id, &key, &signed, label, now_ms, |state| {
            accept(&args.id, state, &[], now_ms)
        })?;
    edited(desk, &args.id, changed)
}

/// Edits after which a job names no photo any more.
pub(crate) fn unnamed_photos(job: &Job) -> Vec<Edit> {
    let mut edits = Vec::new();
    let mut unname = |path: &[&str], hash: &str| {
        if !hash.is_empty() {
            edits.push(Edit::set(path, ""));
        }
    };
    unname(&["venue", "photo"], &job.venue.photo);
    for (id, photo) in &job.photos {
        unname(&["photos", id, "hash"], &photo.hash);
    }
    for (id, damage) in &job.damage {
        unname(&["damage", id, "photo"], &damage.photo);
    }
    edits
}

fn record(value: &impl Serialize) -> Result<Map<String, Value>, Fault> {
    match serde_json::to_value(value) {
        Ok(Value::Object(fields)) => Ok(fields),
        _ => Err(Fault::new(
            "internal",
            "This cannot be written.",
            "Try again.",
        )),
    }
}

//! What the tests of the store share: a store in memory, a small job, checks that accept.
#![allow(dead_code, reason = "each test file uses a part")]

pub mod folder;
pub mod places;

use job::{Edit, Part};
use rusqlite::Connection;
use serde_json::{Value, json};
use store::{State, Store, Summary};

pub const NOW: i64 = 1_790_000_000_000;

pub fn memory() -> Store {
    Store::open(Connection::open_in_memory().unwrap()).unwrap()
}

/// Accepts everything; the list shows and sorts by the name.
pub fn any(state: &State) -> Result<Summary, String> {
    let name = state.value["name"].as_str().unwrap_or_default();
    Ok(Summary {
        sort: name.into(),
        row: json!({ "name": name, "revision_seen": state.revision }),
    })
}

/// Accepts what reads as a job.
pub fn strict(state: &State) -> Result<Summary, String> {
    job::read::read_strictly::<job::Job>(&state.value)?;
    if let Some(private) = &state.private {
        job::read::read_strictly::<job::Private>(private)?;
    }
    any(state)
}

pub fn job_value(name: &str) -> Value {
    serde_json::to_value(job::Job {
        name: name.into(),
        ..job::Job::default()
    })
    .unwrap()
}

pub fn private_value(client: &str) -> Value {
    let mut private = job::Private::default();
    private.client.name = client.into();
    serde_json::to_value(private).unwrap()
}

/// A store with one job `j`.
pub fn with_job() -> Store {
    let mut store = memory();
    store
        .create_job(
            "j",
            &job_value("Harbour opening"),
            Some(&private_value("Mara Lindqvist")),
            strict,
        )
        .unwrap();
    store
}

pub fn keys(path: &str) -> Vec<String> {
    path.split('/')
        .filter(|k| !k.is_empty())
        .map(Into::into)
        .collect()
}

pub fn set(path: &str, value: impl Into<Value>) -> Edit {
    Edit::Set {
        part: Part::Job,
        path: keys(path),
        value: value.into(),
    }
}

pub fn set_private(path: &str, value: impl Into<Value>) -> Edit {
    Edit::Set {
        part: Part::Private,
        path: keys(path),
        value: value.into(),
    }
}

pub fn add(path: &str, id: &str, before: Option<&str>, value: Value) -> Edit {
    Edit::Add {
        part: Part::Job,
        path: keys(path),
        id: id.into(),
        before: before.map(Into::into),
        value: job::complete::complete(&keys(path), &value).unwrap(),
    }
}

pub fn shift(path: &str, id: &str, before: Option<&str>) -> Edit {
    Edit::Move {
        part: Part::Job,
        path: keys(path),
        id: id.into(),
        before: before.map(Into::into),
    }
}

pub fn remove(path: &str, id: &str) -> Edit {
    Edit::Remove {
        part: Part::Job,
        path: keys(path),
        id: id.into(),
    }
}

pub fn restore(path: &str, id: &str) -> Edit {
    Edit::Restore {
        part: Part::Job,
        path: keys(path),
        id: id.into(),
    }
}

pub fn edit(store: &mut Store, edits: &[Edit]) -> store::Changed {
    store.edit_job("j", edits, "edit", NOW, strict).unwrap()
}

/// The ids of a list that are not gone, as the list is sorted.
pub fn live(list: &Value) -> Vec<String> {
    let mut items: Vec<(String, String)> = list
        .as_object()
        .unwrap()
        .iter()
        .filter(|(_, item)| item["gone"] != json!(true))
        .map(|(id, item)| {
            (
                item["order"].as_str().unwrap_or_default().into(),
                id.clone(),
            )
        })
        .collect();
    items.sort();
    items.into_iter().map(|(_, id)| id).collect()
}

pub fn tick(step: &str, done: bool, quantity: i64) -> job::site::Tick {
    job::site::Tick {
        step: step.into(),
        done,
        quantity,
        ..job::site::Tick::default()
    }
}

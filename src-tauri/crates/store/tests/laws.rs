//! Laws of merging over random histories of three devices, and the order of lists as each user asked for it.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::cell::Cell;
use std::collections::BTreeSet;

use common::*;
use proptest::prelude::{any, *};
use proptest::test_runner::{RngSeed, TestRunner};
use serde_json::{Value, json};
use store::{Conflict, News, Store};

/// What a user may do to the list of doors, by small numbers that are mapped to what is there.
#[derive(Debug, Clone)]
enum Act {
    Add(u8),
    /// Under an id that other devices use too.
    AddSame(u8),
    Move(u8, u8),
    Remove(u8),
    Restore(u8),
    Width(u8, i64),
    Name(u8),
    Tick(u8, bool),
    Undo,
    Fetch(u8),
}

fn act() -> impl Strategy<Value = Act> {
    prop_oneof![
        3 => any::<u8>().prop_map(Act::Add),
        1 => (0..3_u8).prop_map(Act::AddSame),
        3 => (any::<u8>(), any::<u8>()).prop_map(|(a, b)| Act::Move(a, b)),
        1 => any::<u8>().prop_map(Act::Remove),
        1 => any::<u8>().prop_map(Act::Restore),
        2 => (any::<u8>(), 500..2000_i64).prop_map(|(a, w)| Act::Width(a, w)),
        1 => any::<u8>().prop_map(Act::Name),
        2 => (0..4_u8, any::<bool>()).prop_map(|(s, d)| Act::Tick(s, d)),
        1 => Just(Act::Undo),
        1 => any::<u8>().prop_map(Act::Fetch),
    ]
}

fn doors(store: &mut Store) -> Value {
    store.job("j").unwrap().value["doors"].clone()
}

/// A place in a list by a number: an id that is there, or the end.
fn pick(ids: &[String], n: u8) -> Option<String> {
    ids.get(usize::from(n) % (ids.len() + 1)).cloned()
}

/// The list after `id` was put before another, or at the end.
fn put(mut ids: Vec<String>, id: &str, before: Option<&str>) -> Vec<String> {
    ids.retain(|other| other != id);
    let at = before.map_or(ids.len(), |b| ids.iter().position(|i| i == b).unwrap());
    ids.insert(at, id.into());
    ids
}

/// Does what a user asked, and checks that the user's own list shows it.
fn perform(devices: &mut [Store], who: usize, act: &Act, count: &mut usize) {
    let now = NOW + i64::try_from(*count).unwrap();
    *count += 1;
    if let Act::Fetch(n) = act {
        let other = usize::from(*n) % devices.len();
        let file = devices[other].export_job("j", false).unwrap();
        devices[who].open_job_file(&file, now, strict).unwrap();
        return;
    }
    let store = &mut devices[who];
    let list = doors(store);
    let ids = live(&list);
    let all: Vec<String> = list.as_object().unwrap().keys().cloned().collect();
    match act {
        Act::Add(n) => {
            let (id, before) = (format!("d{who}-{count}"), pick(&ids, *n));
            edit(store, &[add("doors", &id, before.as_deref(), json!({}))]);
            assert_eq!(live(&doors(store)), put(ids, &id, before.as_deref()));
        }
        Act::AddSame(n) => {
            let id = format!("same{n}");
            if !all.contains(&id) {
                edit(
                    store,
                    &[add("doors", &id, None, json!({ "width_mm": 700 + who }))],
                );
            }
        }
        Act::Move(a, b) => {
            let Some(id) = pick(&ids, *a) else { return };
            let before = pick(&ids, *b).filter(|before| *before != id);
            edit(store, &[shift("doors", &id, before.as_deref())]);
            assert_eq!(live(&doors(store)), put(ids, &id, before.as_deref()));
        }
        Act::Remove(n) => {
            let Some(id) = pick(&ids, *n) else { return };
            edit(store, &[remove("doors", &id)]);
            assert!(!live(&doors(store)).contains(&id));
        }
        Act::Restore(n) => {
            let Some(id) = pick(&all, *n) else { return };
            edit(store, &[restore("doors", &id)]);
            assert!(live(&doors(store)).contains(&id));
        }
        Act::Width(n, width) => {
            let Some(id) = pick(&all, *n) else { return };
            edit(store, &[set(&format!("doors/{id}/width_mm"), *width)]);
            assert_eq!(doors(store)[&id]["width_mm"], json!(*width));
        }
        Act::Name(n) => {
            edit(store, &[set("name", format!("Job {n}"))]);
        }
        Act::Tick(step, done) => {
            let step = format!("s{step}");
            let ticked = store
                .tick("j", &tick(&step, *done, 1), "Tick", now, strict)
                .unwrap();
            let ticks = store.job("j").unwrap().value["ticks"].clone();
            let highest = ticks
                .as_object()
                .unwrap()
                .values()
                .filter(|t| t["step"] == json!(step))
                .map(|t| t["turn"].as_i64().unwrap())
                .max();
            assert_eq!(
                highest,
                Some(ticked.tick.turn),
                "the newest tick is the one that holds"
            );
        }
        Act::Undo => {
            let _ = store.undo("j", now, strict);
        }
        Act::Fetch(_) => {}
    }
}

/// What a device shows.
type Shown = (Value, Value, Vec<Conflict>);

fn shown(store: &mut Store) -> Shown {
    let state = store.job("j").unwrap();
    let private = (*state.private.unwrap()).clone();
    ((*state.value).clone(), private, state.apart)
}

/// A device that opened this one's file and then these in turn. Its own history goes on, so a copy is made first.
fn copy_after(of: &mut Store, files: &[&[u8]]) -> Store {
    let mut copy = memory();
    copy.open_job_file(&of.export_job("j", false).unwrap(), NOW, strict)
        .unwrap();
    for file in files {
        copy.open_job_file(file, NOW, strict).unwrap();
    }
    copy
}

/// Looking into a file tells what opening it does, and the second time nothing is new.
fn told_well(store: &mut Store, file: &[u8]) {
    let seen = store.look_into_job_file(file, NOW, strict).unwrap();
    let came = store.open_job_file(file, NOW, strict).unwrap();
    assert_eq!((&seen.news, &seen.home), (&came.news, &came.home));
    assert_eq!(seen.state.value, came.state.value);
    assert_eq!(seen.state.apart, came.state.apart);
    let again = store.open_job_file(file, NOW, strict).unwrap();
    assert_eq!(again.news, News::default());
}

fn after(of: &mut Store, files: &[&[u8]]) -> Shown {
    shown(&mut copy_after(of, files))
}

#[test]
fn merging_commutes_associates_repeats_and_loses_nothing() {
    let config = ProptestConfig {
        cases: 12,
        rng_seed: RngSeed::Fixed(0x5eed),
        failure_persistence: None,
        ..ProptestConfig::default()
    };
    let questions = Cell::new(0);
    let acts = proptest::collection::vec((0..3_usize, act()), 1..40);
    TestRunner::new(config)
        .run(&acts, |acts| {
            questions.set(questions.get() + obeys(&acts)?);
            Ok(())
        })
        .unwrap();
    assert!(
        questions.get() > 10,
        "the histories set hardly anything apart"
    );
}

/// Checks the laws over one history. Answers how many fields it set apart.
fn obeys(acts: &[(usize, Act)]) -> Result<usize, TestCaseError> {
    let mut first = with_job();
    edit(
        &mut first,
        &[
            add("doors", "d1", None, json!({})),
            add("doors", "d2", None, json!({})),
        ],
    );
    let start = first.export_job("j", false).unwrap();
    let mut devices = vec![first, memory(), memory()];
    for store in &mut devices[1..] {
        store.open_job_file(&start, NOW, strict).unwrap();
    }
    let mut count = 0;
    for (who, act) in acts {
        perform(&mut devices, *who, act, &mut count);
    }
    let files: Vec<Vec<u8>> = devices
        .iter_mut()
        .map(|d| d.export_job("j", false).unwrap())
        .collect();
    let [a, b, c] = [&files[0][..], &files[1][..], &files[2][..]];
    let [da, db, dc] = &mut devices[..] else {
        unreachable!()
    };

    let ab_c = after(da, &[b, c]);
    // commutes
    prop_assert_eq!(&ab_c, &after(db, &[a, c]));
    prop_assert_eq!(&ab_c, &after(dc, &[b, a]));
    // associates: b and c meet first, then a
    let mut bc = memory();
    bc.open_job_file(b, NOW, strict).unwrap();
    bc.open_job_file(c, NOW, strict).unwrap();
    let bc = bc.export_job("j", false).unwrap();
    prop_assert_eq!(&ab_c, &after(da, &[&bc]));
    // repeats
    prop_assert_eq!(&ab_c, &after(da, &[b, b, c, a, c, b]));

    // no tick and no item of any device is lost
    let keys = |value: &Value, list: &str| -> BTreeSet<String> {
        value[list].as_object().unwrap().keys().cloned().collect()
    };
    for store in [da, db, dc] {
        let own = store.job("j").unwrap().value;
        for list in ["ticks", "doors"] {
            prop_assert!(keys(&own, list).is_subset(&keys(&ab_c.0, list)));
        }
        // a device is the only one that writes its ticks, so they stand as it wrote them
        for (key, tick) in own["ticks"].as_object().unwrap() {
            if key.ends_with(store.device_id()) {
                prop_assert_eq!(tick, &ab_c.0["ticks"][key]);
            }
        }
    }
    // a tick is never a question; every question names two values, and the one that holds is the one that is read
    for conflict in &ab_c.2 {
        prop_assert!(conflict.path[0] != "ticks");
        let at = conflict.path.iter().fold(&ab_c.0, |at, key| &at[key]);
        prop_assert_eq!(at, &conflict.holds.value);
        prop_assert!(
            conflict
                .others
                .iter()
                .all(|other| other.value != conflict.holds.value)
        );
    }
    // who settles them settles them everywhere, on whichever value
    let mut one = copy_after(&mut devices[0], &[]);
    told_well(&mut one, b);
    told_well(&mut one, c);
    let choices: Vec<_> = ab_c
        .2
        .iter()
        .enumerate()
        .map(|(n, conflict)| {
            let other = conflict.others.first().filter(|_| n % 2 == 0);
            (
                conflict.path.join("/"),
                other.unwrap_or(&conflict.holds).value.clone(),
            )
        })
        .collect();
    // the record first: a field inside it is settled by its own choice
    let mut edits: Vec<_> = choices
        .iter()
        .map(|(path, value)| set(path, value.clone()))
        .collect();
    edits.sort_by_key(|edit| matches!(edit, job::Edit::Set { value, .. } if !value.is_object()));
    if !edits.is_empty() {
        edit(&mut one, &edits);
    }
    let file = one.export_job("j", false).unwrap();
    for store in &mut devices {
        let told = shown(&mut copy_after(store, &[&file]));
        prop_assert_eq!(&told, &shown(&mut one));
        prop_assert_eq!(told.2.len(), 0);
    }
    // every item is whole and in the list once
    let merged = live(&ab_c.0["doors"]);
    prop_assert_eq!(merged.iter().collect::<BTreeSet<_>>().len(), merged.len());
    job::read::read_strictly::<job::Job>(&ab_c.0).unwrap();
    Ok(ab_c.2.len())
}

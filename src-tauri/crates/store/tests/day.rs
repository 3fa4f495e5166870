//! What is said at the venue by several devices: nothing hides anything, and a signature comes home from the crew.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

mod common;

use common::*;
use job::day::Signature;
use proptest::prelude::{
    Just, ProptestConfig, Strategy, prop, prop_assert, prop_assert_eq, prop_oneof, proptest,
};
use serde_json::{Value, json};
use store::{Store, Turn};

fn mark(store: &mut Store, list: &str, step: &str, field: &str, value: &str, turn: Turn) {
    let fields = json!({ "step": step, field: value });
    let fields = fields.as_object().unwrap().clone();
    store
        .mark("j", list, fields, turn, "mark", NOW, any)
        .unwrap();
}

fn sign(store: &mut Store, key: &str, name: &str) {
    let signature = Signature {
        name: name.into(),
        strokes: "1 2 3 4".into(),
        ..Signature::default()
    };
    let value = serde_json::to_value(signature).unwrap();
    store.sign("j", key, &value, "signed", NOW, any).unwrap();
}

fn take(store: &mut Store, file: &[u8]) {
    store.open_job_file(file, NOW, any).unwrap();
}

/// A device of the crew: the job without client and money.
fn crew_of(home: &mut Store) -> Store {
    let mut crew = memory();
    take(&mut crew, &home.export_job("j", true).unwrap());
    assert!(crew.job("j").unwrap().private.is_none());
    crew
}

#[test]
fn a_signature_of_the_crew_comes_home_and_takes_no_money_along() {
    let mut home = with_job();
    let before = home.job("j").unwrap().private.unwrap();
    let mut crew = crew_of(&mut home);
    sign(&mut crew, "s1", "Mara Lindqvist");
    let private = crew.job("j").unwrap().private.unwrap();
    assert!(store::is_only_signed(&private));
    assert_eq!(private["prices"], json!({}));
    assert!(!store::is_only_signed(&before));

    // even the copy for the crew carries it: there is nothing else in that private part
    let file = crew.export_job("j", true).unwrap();
    sign(&mut home, "s2", "Noor Haddad");
    take(&mut home, &file);
    let merged = home.job("j").unwrap().private.unwrap();
    assert_eq!(merged["signatures"]["s1"]["name"], "Mara Lindqvist");
    assert_eq!(merged["signatures"]["s2"]["name"], "Noor Haddad");
    for kept in ["client", "prices", "costs", "charges"] {
        assert_eq!(merged[kept], before[kept]);
    }
    // a crew copy made at home carries none of it
    let mut other = crew_of(&mut home);
    assert!(other.job("j").unwrap().private.is_none());
    // what the crew signed can be taken back there
    crew.undo("j", NOW, any).unwrap();
    let after = crew.job("j").unwrap().private.unwrap();
    assert_eq!(after["signatures"]["s1"]["gone"], json!(true));
}

#[test]
fn an_erased_client_s_signature_does_not_come_back() {
    let mut home = with_job();
    let mut crew = crew_of(&mut home);
    sign(&mut crew, "s1", "Mara Lindqvist");
    let file = crew.export_job("j", true).unwrap();
    take(&mut home, &file);
    home.erase_client("j", NOW, any).unwrap();
    let erased = |store: &mut Store| {
        let private = store.job("j").unwrap().private.unwrap();
        private["signatures"] == json!({}) && private["erased"] == json!(1)
    };
    assert!(erased(&mut home));
    take(&mut home, &file);
    assert!(erased(&mut home), "the old file brings nothing back");
    take(&mut crew, &home.export_job("j", true).unwrap());
    assert!(erased(&mut crew), "and the crew's device lets go of it");
    // who signs after that begins on what the erasure left
    let mut late = memory();
    take(&mut late, &home.export_job("j", true).unwrap());
    sign(&mut late, "s9", "Someone else");
    take(&mut home, &late.export_job("j", false).unwrap());
    let private = home.job("j").unwrap().private.unwrap();
    assert_eq!(private["signatures"]["s9"]["name"], "Someone else");
    assert_eq!(private["erased"], json!(1));
}

#[test]
fn turns_count_over_the_step_or_over_the_list() {
    let mut store = with_job();
    mark(&mut store, "assigned", "a", "crew", "ada", Turn::OfStep);
    mark(&mut store, "assigned", "b", "crew", "ben", Turn::OfStep);
    mark(&mut store, "assigned", "a", "crew", "ben", Turn::OfStep);
    mark(&mut store, "places", "a", "after", "b", Turn::OfList);
    mark(&mut store, "places", "b", "after", "c", Turn::OfList);
    let value = store.job("j").unwrap().value;
    let device = store.device_id().to_string();
    let turn = |list: &str, step: &str| value[list][format!("{step}~{device}")]["turn"].clone();
    assert_eq!(turn("assigned", "a"), json!(2));
    assert_eq!(turn("assigned", "b"), json!(1));
    assert_eq!(turn("places", "a"), json!(1));
    assert_eq!(turn("places", "b"), json!(2));
}

/// One thing that a device does.
#[derive(Debug, Clone)]
enum Deed {
    Tick(u8),
    Assign(u8, u8),
    Place(u8, u8),
    Own,
    Photo,
    Damage,
    Burst(u8),
    Sign,
    /// Takes the file of another device.
    Meet(u8),
}

fn deed() -> impl Strategy<Value = Deed> {
    prop_oneof![
        (0..4u8).prop_map(Deed::Tick),
        (0..4u8, 0..3u8).prop_map(|(s, c)| Deed::Assign(s, c)),
        (0..4u8, 0..4u8).prop_map(|(s, a)| Deed::Place(s, a)),
        Just(Deed::Own),
        Just(Deed::Photo),
        Just(Deed::Damage),
        (0..9u8).prop_map(Deed::Burst),
        Just(Deed::Sign),
        (0..3u8).prop_map(Deed::Meet),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Three devices, one of them at home, work apart and meet now and then. In the end all have all.
    #[test]
    fn nothing_that_was_said_at_the_venue_is_hidden(deeds in prop::collection::vec((0..3usize, deed()), 1..24)) {
        let mut home = with_job();
        let (one, two) = (crew_of(&mut home), crew_of(&mut home));
        let mut stores = [home, one, two];
        let mut made: Vec<(&str, String)> = Vec::new();
        for (n, (who, deed)) in deeds.into_iter().enumerate() {
            let key = format!("k{n}-{who}");
            let device = stores[who].device_id().to_string();
            let store = &mut stores[who];
            match deed {
                Deed::Tick(step) => {
                    store.tick("j", &tick(&format!("s{step}"), true, 1), "t", NOW, strict).unwrap();
                    made.push(("ticks", format!("s{step}~{device}")));
                }
                Deed::Assign(step, crew) => {
                    mark(store, "assigned", &format!("s{step}"), "crew", &format!("c{crew}"), Turn::OfStep);
                    made.push(("assigned", format!("s{step}~{device}")));
                }
                Deed::Place(step, after) => {
                    mark(store, "places", &format!("s{step}"), "after", &format!("s{after}"), Turn::OfList);
                    made.push(("places", format!("s{step}~{device}")));
                }
                Deed::Own => {
                    edit(store, &[add("own_steps", &key, None, json!({ "text": "x" }))]);
                    made.push(("own_steps", key));
                }
                Deed::Photo => {
                    edit(store, &[add("photos", &key, None, json!({ "hash": "h" }))]);
                    made.push(("photos", key));
                }
                Deed::Damage => {
                    edit(store, &[add("damage", &key, None, json!({ "what": "x" }))]);
                    made.push(("damage", key));
                }
                Deed::Burst(n) => {
                    edit(store, &[set("waste/burst", i64::from(n))]);
                }
                Deed::Sign => {
                    sign(store, &key, "Mara");
                    made.push(("signatures", key));
                }
                Deed::Meet(other) => {
                    let file = stores[usize::from(other)].export_job("j", true).unwrap();
                    take(&mut stores[who], &file);
                }
            }
        }
        // everybody's file to everybody, twice
        for _ in 0..2 {
            let files: Vec<Vec<u8>> = stores.iter_mut().map(|s| s.export_job("j", true).unwrap()).collect();
            for store in &mut stores {
                for file in &files {
                    take(store, file);
                }
            }
        }
        let job = |store: &mut Store| (*store.job("j").unwrap().value).clone();
        let first = job(&mut stores[0]);
        for store in &mut stores[1..] {
            prop_assert_eq!(&first, &job(store));
        }
        // the signatures of the crew are at home; those made at home stay there, as a crew copy takes none along
        let private: Value = (*stores[0].job("j").unwrap().private.unwrap()).clone();
        for (list, key) in made {
            let there = if list == "signatures" { &private[list] } else { &first[list] };
            prop_assert!(there.get(&key).is_some(), "{} {}", list, key);
        }
    }
}

//! Jobs made, read, edited, listed, undone.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

mod common;

use common::*;
use job::{Book, Edit, Part};
use serde_json::{Value, json};

#[test]
fn a_job_reads_back_as_it_was_made() {
    let mut store = with_job();
    let state = store.job("j").unwrap();
    assert_eq!(*state.value, job_value("Harbour opening"));
    assert_eq!(
        **state.private.as_ref().unwrap(),
        private_value("Mara Lindqvist")
    );
    assert_eq!(state.revision, 1);
    let again = store.create_job("j", &job_value("Another"), None, strict);
    assert_eq!(again.unwrap_err().code(), "job_exists");
    assert_eq!(store.job("nobody").unwrap_err().code(), "no_such_job");
}

#[test]
fn an_edit_writes_its_path_and_counts_up() {
    let mut store = with_job();
    let changed = edit(
        &mut store,
        &[
            set("venue/name", "Old Salt Store"),
            set_private("client/phone", "555 0142"),
        ],
    );
    assert_eq!(changed.state.revision, 2);
    assert_eq!(
        changed.paths,
        [keys("venue/name"), keys("private/client/phone")]
    );
    let state = store.job("j").unwrap();
    let mut expected = job_value("Harbour opening");
    expected["venue"]["name"] = json!("Old Salt Store");
    assert_eq!(*state.value, expected);
    assert_eq!(state.private.unwrap()["client"]["phone"], json!("555 0142"));
}

#[test]
fn an_edit_that_changes_nothing_writes_nothing() {
    let mut store = with_job();
    let changed = edit(&mut store, &[set("name", "Harbour opening")]);
    assert_eq!(changed.state.revision, 1);
    assert!(changed.paths.is_empty());
    assert_eq!(store.labels("j").unwrap().undo, None);
}

#[test]
fn what_does_not_fit_is_refused_whole() {
    let mut store = with_job();
    let before = store.job("j").unwrap();
    let cases: Vec<(Vec<Edit>, &str)> = vec![
        (
            vec![set("name", "First"), set("venue/walk_m", "far")],
            "refused",
        ),
        (
            vec![set("name", "First"), set("doors/d9/name", "x")],
            "no_such_place",
        ),
        (vec![set("venue", 5)], "not_a_field"),
        (vec![set("doors", json!([]))], "not_a_field"),
        (vec![set("", 5)], "not_a_field"),
        (vec![set("nowhere/at/all", 5)], "no_such_place"),
        (
            vec![set("doors/d1", json!({ "name": "x" }))],
            "no_such_place",
        ),
        (vec![set("name", json!({ "a": 1 }))], "bad_value"),
        (vec![set("name", u64::MAX)], "bad_value"),
        (vec![set("name", "x".repeat((1 << 20) + 1))], "bad_value"),
        (vec![remove("doors", "d1")], "no_such_place"),
        (vec![shift("doors", "d1", None)], "no_such_place"),
        (vec![add("doors", "Big Door", None, json!({}))], "bad_id"),
        (
            vec![add("doors", "d1", Some("d7"), json!({}))],
            "no_such_place",
        ),
        (
            vec![
                add("doors", "d1", None, json!({})),
                add("doors", "d1", None, json!({})),
            ],
            "id_taken",
        ),
    ];
    for (edits, code) in cases {
        let error = store.edit_job("j", &edits, "x", NOW, strict).unwrap_err();
        assert_eq!(error.code(), code, "{edits:?}: {error}");
        let after = store.job("j").unwrap();
        assert_eq!(
            (after.revision, &*after.value),
            (before.revision, &*before.value)
        );
    }
}

#[test]
fn a_record_is_set_field_by_field() {
    let mut store = with_job();
    let changed = edit(
        &mut store,
        &[set(
            "times",
            json!({ "load_in": "2027-05-01T08:00", "ready_by": "2027-05-01T15:00" }),
        )],
    );
    assert_eq!(
        changed.paths,
        [keys("times/load_in"), keys("times/ready_by")]
    );
    assert_eq!(changed.state.value["times"]["doors_open"], json!(""));
}

#[test]
fn a_list_is_added_to_moved_marked_and_brought_back() {
    let mut store = with_job();
    edit(
        &mut store,
        &[
            add("doors", "a", None, json!({ "name": "Loading bay" })),
            add("doors", "b", None, json!({ "name": "Corridor" })),
            add("doors", "c", Some("b"), json!({ "name": "Lift" })),
        ],
    );
    let doors = |store: &mut store::Store| live(&store.job("j").unwrap().value["doors"]);
    assert_eq!(doors(&mut store), ["a", "c", "b"]);
    edit(&mut store, &[shift("doors", "b", Some("a"))]);
    assert_eq!(doors(&mut store), ["b", "a", "c"]);
    edit(&mut store, &[remove("doors", "a")]);
    assert_eq!(doors(&mut store), ["b", "c"]);
    // an id that is gone is not free
    let again = store.edit_job("j", &[add("doors", "a", None, json!({}))], "x", NOW, strict);
    assert_eq!(again.unwrap_err().code(), "id_taken");
    edit(&mut store, &[restore("doors", "a")]);
    assert_eq!(doors(&mut store), ["b", "a", "c"]);
    assert_eq!(
        store.job("j").unwrap().value["doors"]["c"]["width_mm"],
        json!(900)
    );
}

#[test]
fn a_record_missing_under_an_item_is_made_and_no_other() {
    let mut store = with_job();
    // as an older version wrote it
    let bare = Edit::Add {
        part: Part::Job,
        path: keys("pieces"),
        id: "p".into(),
        before: None,
        value: json!({ "name": "Arch", "gone": false }),
    };
    edit(&mut store, &[bare]);
    edit(&mut store, &[set("pieces/p/garland/length_mm", 4200)]);
    assert_eq!(
        store.job("j").unwrap().value["pieces"]["p"]["garland"],
        json!({ "length_mm": 4200 })
    );
    let deeper = store.edit_job(
        "j",
        &[set("pieces/p/garland/mix/s/share_pct", 4)],
        "x",
        NOW,
        strict,
    );
    assert_eq!(deeper.unwrap_err().code(), "no_such_place");
}

/// A garland saved before paths could be drawn takes its first point.
#[test]
fn a_list_missing_inside_an_item_is_made_by_its_first_item() {
    let mut store = with_job();
    let bare = Edit::Add {
        part: Part::Job,
        path: keys("pieces"),
        id: "p".into(),
        before: None,
        value: json!({ "name": "Arch", "garland": { "length_mm": 3000 }, "gone": false }),
    };
    edit(&mut store, &[bare]);
    let item = |x_mm: i64| json!({ "x_mm": x_mm, "gone": false });
    edit(
        &mut store,
        &[
            add("pieces/p/garland/points", "a", None, item(5)),
            add("pieces/p/garland/points", "b", Some("a"), item(7)),
            add(
                "pieces/p/wall/palette",
                "s",
                None,
                json!({ "share_pct": 60, "gone": false }),
            ),
        ],
    );
    let piece = &store.job("j").unwrap().value["pieces"]["p"];
    assert_eq!(piece["garland"]["points"]["b"]["x_mm"], json!(7));
    assert_eq!(piece["garland"]["length_mm"], json!(3000));
    assert_eq!(piece["wall"]["palette"]["s"]["share_pct"], json!(60));
    // at the top nothing is made
    let nowhere = Edit::Add {
        part: Part::Job,
        path: keys("nowhere"),
        id: "a".into(),
        before: None,
        value: item(1),
    };
    let top = store.edit_job("j", &[nowhere], "x", NOW, strict);
    assert_eq!(top.unwrap_err().code(), "no_such_place");
}

#[test]
fn undo_and_redo_write_the_fields_of_the_edit_only() {
    let mut store = with_job();
    let start = (*store.job("j").unwrap().value).clone();
    store
        .edit_job("j", &[set("name", "Renamed")], "Rename", NOW, strict)
        .unwrap();
    store
        .edit_job(
            "j",
            &[add("doors", "a", None, json!({})), set("venue/walk_m", 80)],
            "Add door",
            NOW,
            strict,
        )
        .unwrap();
    let full = (*store.job("j").unwrap().value).clone();
    assert_eq!(store.labels("j").unwrap().undo.as_deref(), Some("Add door"));

    let undone = store.undo("j", NOW, strict).unwrap();
    assert_eq!(undone.label, "Add door");
    assert!(undone.changed_since.is_empty());
    assert_eq!(
        undone.changed.paths,
        [keys("venue/walk_m"), keys("doors/a/gone")]
    );
    let value = store.job("j").unwrap().value;
    assert_eq!(live(&value["doors"]), [""; 0]);
    assert_eq!(value["venue"]["walk_m"], start["venue"]["walk_m"]);
    assert_eq!(store.undo("j", NOW, strict).unwrap().label, "Rename");
    assert_eq!(store.job("j").unwrap().value["name"], start["name"]);
    assert_eq!(
        store.undo("j", NOW, strict).unwrap_err().code(),
        "nothing_to_undo"
    );

    assert_eq!(store.redo("j", NOW, strict).unwrap().label, "Rename");
    assert_eq!(store.redo("j", NOW, strict).unwrap().label, "Add door");
    assert_eq!(*store.job("j").unwrap().value, full);
    assert_eq!(
        store.redo("j", NOW, strict).unwrap_err().code(),
        "nothing_to_undo"
    );
}

#[test]
fn a_new_edit_drops_what_could_have_been_redone() {
    let mut store = with_job();
    edit(&mut store, &[set("name", "One")]);
    store.undo("j", NOW, strict).unwrap();
    edit(&mut store, &[set("name", "Two")]);
    assert_eq!(store.labels("j").unwrap().redo, None);
    assert_eq!(
        store.redo("j", NOW, strict).unwrap_err().code(),
        "nothing_to_undo"
    );
}

#[test]
fn undo_takes_out_a_field_that_was_not_there() {
    let mut store = with_job();
    edit(&mut store, &[set("venue/later_field", 7)]);
    store.undo("j", NOW, strict).unwrap();
    assert_eq!(
        store.job("j").unwrap().value["venue"].get("later_field"),
        None
    );
    store.redo("j", NOW, strict).unwrap();
    assert_eq!(
        store.job("j").unwrap().value["venue"]["later_field"],
        json!(7)
    );
}

#[test]
fn two_hundred_edits_can_be_taken_back() {
    let mut store = with_job();
    for n in 0..230 {
        edit(&mut store, &[set("venue/walk_m", 1000 + n)]);
    }
    let mut count = 0;
    while store.undo("j", NOW, strict).is_ok() {
        count += 1;
    }
    assert_eq!(count, 200);
    assert_eq!(
        store.job("j").unwrap().value["venue"]["walk_m"],
        json!(1029)
    );
}

#[test]
fn a_tick_takes_the_next_turn_and_can_be_taken_back() {
    let mut store = with_job();
    let first = store
        .tick("j", &tick("p1.hang", true, 15), "Tick", NOW, strict)
        .unwrap();
    assert_eq!(first.key, format!("p1.hang~{}", store.device_id()));
    assert_eq!(first.tick.turn, 1);
    let second = store
        .tick("j", &tick("p1.hang", false, 0), "Untick", NOW + 5, strict)
        .unwrap();
    assert_eq!(second.tick.turn, 2);
    let ticks = store.job("j").unwrap().value["ticks"].clone();
    assert_eq!(ticks.as_object().unwrap().len(), 1);
    assert_eq!(ticks[&first.key]["done"], json!(false));
    assert_eq!(ticks[&first.key]["at_ms"], json!(NOW + 5));
    store.undo("j", NOW, strict).unwrap();
    let ticks = store.job("j").unwrap().value["ticks"].clone();
    assert_eq!(
        ticks[&first.key],
        serde_json::to_value(&first.tick).unwrap()
    );
    store.undo("j", NOW, strict).unwrap();
    let state = store.job("j").unwrap();
    let read: job::Job = job::read::read_strictly(&state.value).unwrap();
    assert_eq!(read.ticks[&first.key], job::site::Tick::default());
}

#[test]
fn costs_are_written_by_id() {
    let mut store = with_job();
    let fields = |cents: i64| {
        json!({ "bag": 50, "cents": cents })
            .as_object()
            .unwrap()
            .clone()
    };
    for cents in [900, 950] {
        store
            .upsert(
                "j",
                Part::Private,
                &keys("costs"),
                "pearl-11",
                &fields(cents),
                "Cost",
                NOW,
                strict,
            )
            .unwrap();
    }
    let costs =
        |store: &mut store::Store| store.job("j").unwrap().private.unwrap()["costs"].clone();
    assert_eq!(
        costs(&mut store),
        json!({ "pearl-11": { "bag": 50, "cents": 950 } })
    );
    store.undo("j", NOW, strict).unwrap();
    store.undo("j", NOW, strict).unwrap();
    assert_eq!(costs(&mut store), json!({ "pearl-11": {} }));
}

#[test]
fn lists_are_sorted_by_their_summaries_without_reading_a_job() {
    let mut store = memory();
    for (id, name) in [
        ("x", "Winter fair"),
        ("y", "Autumn ball"),
        ("z", "Autumn ball"),
    ] {
        store
            .create_job(id, &job_value(name), None, strict)
            .unwrap();
    }
    let list: Vec<(String, Value)> = store
        .list_jobs()
        .unwrap()
        .into_iter()
        .map(|job| (job.id, job.row["name"].clone()))
        .collect();
    assert_eq!(
        list,
        [
            ("y".into(), json!("Autumn ball")),
            ("z".into(), json!("Autumn ball")),
            ("x".into(), json!("Winter fair"))
        ]
    );
}

#[test]
fn books_are_made_read_edited_and_undone() {
    let mut store = memory();
    let accept = |_: &Value| Ok(());
    assert!(store.book(Book::People).unwrap().is_none());
    let content = serde_json::to_value(job::Books::default()).unwrap();
    store.create_book(Book::People, &content, accept).unwrap();
    let crew = json!({ "name": "Ines Okafor" });
    store
        .edit_book(
            Book::People,
            &[add("people", "ines", None, crew)],
            "Add",
            NOW,
            accept,
        )
        .unwrap();
    let people = |store: &mut store::Store| {
        live(&store.book(Book::People).unwrap().unwrap().value["people"])
    };
    assert_eq!(people(&mut store), ["ines"]);
    assert_eq!(
        store.book_labels(Book::People).unwrap().undo.as_deref(),
        Some("Add")
    );
    store.undo_book(Book::People, NOW, accept).unwrap();
    assert_eq!(people(&mut store), [""; 0]);
    let refuse = |_: &Value| Err("no".to_string());
    let error = store
        .edit_book(Book::People, &[set("own/name", "x")], "x", NOW, refuse)
        .unwrap_err();
    assert_eq!(error.code(), "refused");
}

#[test]
fn a_backup_comes_back_and_the_device_gets_a_new_id() {
    let mut store = with_job();
    edit(&mut store, &[set("name", "Saved")]);
    let device = store.device_id().to_string();
    let backup = store.backup().unwrap();
    edit(&mut store, &[set("name", "After the backup")]);
    store.restore(&backup, NOW).unwrap();
    assert_eq!(store.job("j").unwrap().value["name"], json!("Saved"));
    assert_ne!(store.device_id(), device);
    assert_eq!(store.labels("j").unwrap().undo.as_deref(), Some("edit"));
    edit(&mut store, &[set("name", "On")]);
    let mut other = memory();
    other.restore(&backup, NOW).unwrap();
    assert_eq!(other.job("j").unwrap().value["name"], json!("Saved"));
}

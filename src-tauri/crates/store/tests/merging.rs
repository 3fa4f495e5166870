//! Job files between devices: what comes in, what is refused, what is erased.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

mod common;

use common::*;
use serde_json::{Value, json};
use store::{CameIn, JobFile, News, Store, StoreError};

fn open(store: &mut Store, bytes: &[u8]) -> Result<CameIn, StoreError> {
    store.open_job_file(bytes, NOW, strict)
}

/// Two devices with the same job.
fn two() -> (Store, Store) {
    let mut a = with_job();
    edit(
        &mut a,
        &[
            add("doors", "d1", None, json!({ "name": "Loading bay" })),
            add("doors", "d2", None, json!({ "name": "Corridor" })),
            add("doors", "d3", None, json!({ "name": "Lift" })),
            add(
                "pieces",
                "p1",
                None,
                json!({ "name": "Arch over the stairs" }),
            ),
        ],
    );
    let mut b = memory();
    let came = open(&mut b, &a.export_job("j", false).unwrap()).unwrap();
    assert!(came.before.is_none());
    (a, b)
}

/// Sends each device's job to the other and answers what both say then.
fn exchange(a: &mut Store, b: &mut Store) -> Value {
    let (from_a, from_b) = (
        a.export_job("j", false).unwrap(),
        b.export_job("j", false).unwrap(),
    );
    open(a, &from_b).unwrap();
    open(b, &from_a).unwrap();
    let (one, two) = (a.job("j").unwrap(), b.job("j").unwrap());
    assert_eq!(one.value, two.value);
    assert_eq!(one.private, two.private);
    // both have the same history: there is nothing left to bring
    let rest = open(a, &b.export_job("j", false).unwrap()).unwrap();
    assert!(
        rest.news == News::default() && rest.home == News::default() && rest.conflicts.is_empty()
    );
    assert_eq!(rest.state.revision, one.revision);
    (*one.value).clone()
}

#[test]
fn a_job_comes_in_whole_and_once() {
    let (mut a, mut b) = two();
    assert_eq!(a.job("j").unwrap().value, b.job("j").unwrap().value);
    assert_eq!(a.job("j").unwrap().private, b.job("j").unwrap().private);
    let revision = b.job("j").unwrap().revision;
    let again = open(&mut b, &a.export_job("j", false).unwrap()).unwrap();
    assert!(again.before.is_some() && again.news == News::default() && again.conflicts.is_empty());
    assert_eq!(
        again.state.revision, revision,
        "nothing new, nothing counted"
    );
}

#[test]
fn what_came_in_is_told() {
    let (mut a, mut b) = two();
    b.tick("j", &tick("p1.hang", true, 15), "Tick", NOW, strict)
        .unwrap();
    b.tick("j", &tick("p1.make", true, 1), "Tick", NOW, strict)
        .unwrap();
    edit(
        &mut b,
        &[
            set("venue/name", "Old Salt Store"),
            set_private("client/phone", "555 0142"),
            add(
                "notes",
                "n1",
                None,
                json!({ "text": "Bring the long ladder" }),
            ),
            add("pieces", "p2", None, json!({})),
        ],
    );
    let came = open(&mut a, &b.export_job("j", false).unwrap()).unwrap();
    assert_eq!(
        (came.news.ticks, came.news.notes, came.before.is_none()),
        (2, 1, false)
    );
    assert_eq!(
        came.news.changed,
        [
            keys("pieces/p2"),
            keys("venue/name"),
            keys("private/client/phone")
        ]
    );
    assert!(came.conflicts.is_empty());
    let row = &a.list_jobs().unwrap()[0];
    assert_eq!(row.revision, came.state.revision);
}

#[test]
fn fields_set_apart_are_told_with_both_values() {
    let (mut a, mut b) = two();
    edit(
        &mut a,
        &[set("name", "From A"), set_private("client/phone", "1")],
    );
    edit(
        &mut b,
        &[set("name", "From B"), set_private("client/phone", "2")],
    );
    let came = open(&mut a, &b.export_job("j", false).unwrap()).unwrap();
    let name = came
        .conflicts
        .iter()
        .find(|c| c.path == keys("name"))
        .unwrap();
    let mut both = vec![name.holds.value.clone(), name.others[0].value.clone()];
    assert_eq!(name.holds.value, a.job("j").unwrap().value["name"]);
    let devices = [&name.holds.device, &name.others[0].device];
    assert!(devices.contains(&&a.device_id().to_string()));
    assert!(devices.contains(&&b.device_id().to_string()));
    assert_eq!(
        (name.holds.at_s, name.others[0].at_s),
        (NOW / 1000, NOW / 1000)
    );
    both.sort_by_key(ToString::to_string);
    assert_eq!(both, [json!("From A"), json!("From B")]);
    assert!(
        came.conflicts
            .iter()
            .any(|c| c.path == keys("private/client/phone"))
    );
    // told once
    let again = open(&mut a, &b.export_job("j", false).unwrap()).unwrap();
    assert!(again.conflicts.is_empty());
    // they stand until somebody settles them, after a restart too
    assert_eq!(a.job("j").unwrap().apart.len(), 2);
    assert!(again.state.apart.len() == 2 && again.news == News::default());
    // the next edit settles it on both
    edit(&mut a, &[set("name", "Agreed")]);
    assert_eq!(exchange(&mut a, &mut b)["name"], json!("Agreed"));
}

#[test]
fn a_move_and_an_edit_of_one_item_both_hold() {
    let (mut a, mut b) = two();
    edit(&mut a, &[shift("doors", "d3", Some("d1"))]);
    edit(&mut b, &[set("doors/d3/width_mm", 700)]);
    let value = exchange(&mut a, &mut b);
    assert_eq!(live(&value["doors"]), ["d3", "d1", "d2"]);
    assert_eq!(value["doors"]["d3"]["width_mm"], json!(700));
}

#[test]
fn an_item_gone_here_and_edited_there_is_gone_and_keeps_the_edit() {
    let (mut a, mut b) = two();
    edit(&mut a, &[remove("doors", "d2")]);
    edit(&mut b, &[set("doors/d2/width_mm", 700)]);
    let value = exchange(&mut a, &mut b);
    assert_eq!(live(&value["doors"]), ["d1", "d3"]);
    edit(&mut b, &[restore("doors", "d2")]);
    let value = exchange(&mut a, &mut b);
    assert_eq!(live(&value["doors"]), ["d1", "d2", "d3"]);
    assert_eq!(value["doors"]["d2"]["width_mm"], json!(700));
}

#[test]
fn two_moves_of_one_item_give_one_place_and_no_double() {
    let (mut a, mut b) = two();
    edit(&mut a, &[shift("doors", "d2", Some("d1"))]);
    edit(&mut b, &[shift("doors", "d2", None)]);
    let value = exchange(&mut a, &mut b);
    let doors = live(&value["doors"]);
    assert!(
        doors == ["d2", "d1", "d3"] || doors == ["d1", "d3", "d2"],
        "{doors:?}"
    );
}

#[test]
fn two_additions_at_one_place_both_stand_and_a_third_fits_between() {
    let (mut a, mut b) = two();
    edit(&mut a, &[add("doors", "xa", Some("d2"), json!({}))]);
    edit(&mut b, &[add("doors", "xb", Some("d2"), json!({}))]);
    let value = exchange(&mut a, &mut b);
    assert_eq!(value["doors"]["xa"]["order"], value["doors"]["xb"]["order"]);
    assert_eq!(live(&value["doors"]), ["d1", "xa", "xb", "d2", "d3"]);
    edit(&mut a, &[add("doors", "xc", Some("xb"), json!({}))]);
    let value = exchange(&mut a, &mut b);
    assert_eq!(live(&value["doors"]), ["d1", "xa", "xc", "xb", "d2", "d3"]);
}

#[test]
fn ticks_of_two_devices_on_one_step_are_both_kept() {
    let (mut a, mut b) = two();
    a.tick("j", &tick("s", true, 15), "Tick", NOW, strict)
        .unwrap();
    b.tick("j", &tick("s", true, 12), "Tick", NOW, strict)
        .unwrap();
    let value = exchange(&mut a, &mut b);
    assert_eq!(value["ticks"].as_object().unwrap().len(), 2);
    let next = a
        .tick("j", &tick("s", false, 0), "Untick", NOW, strict)
        .unwrap();
    assert_eq!(next.tick.turn, 2);
}

#[test]
fn undo_after_a_merge_says_what_was_changed_since() {
    let (mut a, mut b) = two();
    edit(&mut a, &[set("name", "From A"), set("venue/walk_m", 70)]);
    open(&mut b, &a.export_job("j", false).unwrap()).unwrap();
    edit(&mut b, &[set("name", "Later, from B")]);
    open(&mut a, &b.export_job("j", false).unwrap()).unwrap();
    let undone = a.undo("j", NOW, strict).unwrap();
    assert_eq!(undone.changed_since, [keys("name")]);
    assert_eq!(undone.changed.state.value["name"], json!("Harbour opening"));
    assert_eq!(undone.changed.state.value["venue"]["walk_m"], json!(30));
}

#[test]
fn a_crew_copy_has_no_client_and_its_ticks_come_home() {
    let (mut a, _) = two();
    let copy = a.export_job("j", true).unwrap();
    assert!(!copy.windows(5).any(|w| w == b"Lindq" || w == b"priva"));
    let mut crew = memory();
    let came = open(&mut crew, &copy).unwrap();
    assert!(came.state.private.is_none() && !came.client_erased);
    let error = crew.edit_job("j", &[set_private("client/name", "x")], "x", NOW, strict);
    assert_eq!(error.unwrap_err().code(), "no_private_part");
    assert_eq!(
        crew.erase_client("j", NOW, strict).unwrap_err().code(),
        "no_private_part"
    );
    crew.tick("j", &tick("s", true, 3), "Tick", NOW, strict)
        .unwrap();
    let came = open(&mut a, &crew.export_job("j", false).unwrap()).unwrap();
    assert_eq!(came.news.ticks, 1);
    assert_eq!(
        a.job("j").unwrap().private.unwrap()["client"]["name"],
        json!("Mara Lindqvist")
    );
    // the full copy later brings the private part to a device that had the crew copy
    open(&mut crew, &a.export_job("j", false).unwrap()).unwrap();
    assert_eq!(crew.job("j").unwrap().private, a.job("j").unwrap().private);
}

#[test]
fn an_erased_client_does_not_come_back_and_is_erased_elsewhere_too() {
    let (mut a, mut b) = two();
    edit(
        &mut b,
        &[set_private("client/remarks", "Gate code on the back")],
    );
    let before = b.export_job("j", false).unwrap();
    edit(&mut a, &[set_private("client/email", "mara@example.org")]);
    assert!(a.backup().unwrap().windows(8).any(|w| w == b"Lindqvis"));

    let state = a.erase_client("j", NOW, strict).unwrap();
    assert_eq!(
        *state.private.unwrap(),
        json!({
            "format": 1, "erased": 1, "client": {}, "prices": {}, "costs": {}, "charges": {},
            "instalments": {}, "bills": {}, "used": {}, "signatures": {}, "spent": {},
        })
    );
    assert_eq!(a.labels("j").unwrap().undo, None);
    for trace in [&b"Lindqvis"[..], b"mara@exa"] {
        assert!(
            !a.backup().unwrap().windows(8).any(|w| w == trace),
            "a trace is left"
        );
        assert!(
            !a.export_job("j", false)
                .unwrap()
                .windows(8)
                .any(|w| w == trace)
        );
    }

    let came = open(&mut a, &before).unwrap();
    assert!(came.client_erased);
    assert_eq!(a.job("j").unwrap().private.unwrap()["client"], json!({}));

    // the mark travels with a crew copy too
    let came = open(&mut b, &a.export_job("j", true).unwrap()).unwrap();
    assert!(came.client_erased);
    assert_eq!(b.job("j").unwrap().private.unwrap()["client"], json!({}));
    assert_eq!(b.labels("j").unwrap().undo, None);
    assert!(
        !b.backup()
            .unwrap()
            .windows(8)
            .any(|w| w == b"Lindqvis" || w == b"Gate cod")
    );

    // what is entered afterwards is kept and merges again
    edit(&mut a, &[set_private("client/name", "Somebody new")]);
    edit(&mut b, &[set_private("client/phone", "555 0199")]);
    exchange(&mut a, &mut b);
    let private = a.job("j").unwrap().private.unwrap();
    assert_eq!(
        private["client"],
        json!({ "name": "Somebody new", "phone": "555 0199" })
    );
    assert!(open(&mut b, &before).unwrap().client_erased);
}

#[test]
fn all_that_is_held_on_a_client_names_earlier_values_too() {
    let (mut a, _) = two();
    edit(&mut a, &[set_private("client/phone", "555 0100")]);
    edit(&mut a, &[set_private("client/phone", "555 0200")]);
    let held = a.holds("j").unwrap();
    assert_eq!(held["now"]["client"]["phone"], json!("555 0200"));
    assert_eq!(held["earlier"]["client/phone"], json!(["", "555 0100"]));
    assert_eq!(held["now"]["client"]["name"], json!("Mara Lindqvist"));
    assert_eq!(held["photos"], json!([]));
}

#[test]
fn another_job_under_the_same_id_is_refused() {
    let mut a = with_job();
    let mut b = memory();
    b.create_job("j", &job_value("Somebody else's"), None, strict)
        .unwrap();
    let error = open(&mut a, &b.export_job("j", false).unwrap()).unwrap_err();
    assert_eq!(error.code(), "another_job");
    assert_eq!(a.job("j").unwrap().value["name"], json!("Harbour opening"));
}

#[test]
fn one_beginning_made_on_two_devices_is_one_job() {
    let (mut a, mut b) = (with_job(), with_job());
    edit(&mut a, &[set("venue/name", "Here")]);
    edit(&mut b, &[set("occasion", "Opening")]);
    let value = exchange(&mut a, &mut b);
    assert_eq!(
        (&value["venue"]["name"], &value["occasion"]),
        (&json!("Here"), &json!("Opening"))
    );
}

#[test]
fn a_check_that_refuses_what_came_in_leaves_everything() {
    let (mut a, mut b) = two();
    let unreadable = |b: &mut Store| {
        b.edit_job("j", &[set("venue/walk_m", "far")], "x", NOW, any)
            .unwrap();
        b.export_job("j", false).unwrap()
    };
    let file = unreadable(&mut b);
    let error = open(&mut a, &file).unwrap_err();
    assert_eq!(error.code(), "refused");
    assert_eq!(a.job("j").unwrap().value["venue"]["walk_m"], json!(30));
}

#[test]
fn a_copied_data_folder_is_told_from_damage() {
    let (mut a, _) = two();
    // what copying the folder by hand does: two devices under one id
    let folder = std::env::temp_dir().join(format!("airwright-twins-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join("copy.db");
    std::fs::write(&file, a.backup().unwrap()).unwrap();
    let mut twin = Store::open(store::open_file(&file).unwrap()).unwrap();
    assert_eq!(twin.device_id(), a.device_id());
    edit(&mut a, &[set("name", "From the first")]);
    edit(&mut twin, &[set("name", "From the copy")]);
    let error = open(&mut a, &twin.export_job("j", false).unwrap()).unwrap_err();
    assert_eq!(error.code(), "same_device");
    assert_eq!(a.job("j").unwrap().value["name"], json!("From the first"));
    drop(twin);
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn the_private_part_of_an_edit_is_named_in_paths() {
    let (mut a, _) = two();
    let changed = edit(&mut a, &[set_private("prices/markup_pct", 120)]);
    assert_eq!(changed.paths, [keys("private/prices/markup_pct")]);
    let bytes = a.export_job("j", false).unwrap();
    let file = JobFile::read(&bytes, NOW).unwrap();
    assert!(file.private.is_some());
}

#[test]
fn the_value_chosen_holds_on_every_device_whichever_it_is() {
    for chosen in 0..2 {
        let (mut a, mut b) = two();
        edit(&mut a, &[set("venue/walk_m", 40)]);
        edit(&mut b, &[set("venue/walk_m", 90)]);
        exchange(&mut a, &mut b);
        let apart = a.job("j").unwrap().apart;
        assert_eq!(apart, b.job("j").unwrap().apart);
        let said = [&apart[0].holds, &apart[0].others[0]][chosen];
        let edits = [set("venue/walk_m", said.value.clone())];
        let settled = edit(&mut b, &edits).state;
        assert!(settled.apart.is_empty());
        let value = exchange(&mut a, &mut b);
        assert_eq!(value["venue"]["walk_m"], said.value);
        assert!(a.job("j").unwrap().apart.is_empty() && b.job("j").unwrap().apart.is_empty());
    }
}

#[test]
fn a_record_made_on_two_devices_under_one_id_shows_both_and_either_can_be_kept() {
    for chosen in 0..2 {
        let (mut a, mut b) = two();
        edit(
            &mut a,
            &[add("doors", "d9", None, json!({ "width_mm": 800 }))],
        );
        edit(
            &mut b,
            &[add("doors", "d9", None, json!({ "width_mm": 950 }))],
        );
        exchange(&mut a, &mut b);
        let apart = a.job("j").unwrap().apart;
        assert_eq!((apart.len(), &apart[0].path), (1, &keys("doors/d9")));
        let said = [&apart[0].holds, &apart[0].others[0]][chosen];
        let wanted = said.value["width_mm"].clone();
        let changed = edit(&mut a, &[set("doors/d9", said.value.clone())]);
        assert!(changed.state.apart.is_empty());
        assert_eq!(exchange(&mut a, &mut b)["doors"]["d9"]["width_mm"], wanted);
        assert!(b.job("j").unwrap().apart.is_empty());
        // the same on both is nothing to ask
        edit(&mut a, &[add("doors", "d8", None, json!({}))]);
        edit(&mut b, &[add("doors", "d8", Some("d1"), json!({}))]);
        exchange(&mut a, &mut b);
        assert!(a.job("j").unwrap().apart.is_empty());
    }
}

#[test]
fn looking_into_a_file_tells_what_opening_it_does_and_keeps_nothing() {
    let (mut a, mut b) = two();
    a.tick("j", &tick("s", true, 1), "Tick", NOW, strict)
        .unwrap();
    edit(&mut a, &[set("name", "From A")]);
    edit(&mut b, &[set("venue/walk_m", 90), set("name", "From B")]);
    let file = b.export_job("j", false).unwrap();
    let before = a.backup().unwrap();
    let seen = a.look_into_job_file(&file, NOW, strict).unwrap();
    assert_eq!(a.backup().unwrap(), before);
    assert_eq!(a.job("j").unwrap().value["venue"]["walk_m"], json!(30));
    let came = open(&mut a, &file).unwrap();
    assert_eq!((&seen.news, &seen.home), (&came.news, &came.home));
    assert_eq!(seen.conflicts, came.conflicts);
    assert_eq!(seen.state.value, came.state.value);
    assert_eq!(seen.state.private, came.state.private);
    assert_eq!(came.before.unwrap().value["venue"]["walk_m"], json!(30));
    // what the other device does not have yet
    assert_eq!((came.home.ticks, came.home.notes), (1, 0));
    let mut unknown = memory();
    let seen = unknown.look_into_job_file(&file, NOW, strict).unwrap();
    assert!(seen.before.is_none() && unknown.list_jobs().unwrap().is_empty());
}

#[test]
fn a_clock_three_days_off_is_told_and_takes_nothing() {
    const THREE_DAYS_MS: i64 = 3 * 86_400_000;
    for off in [THREE_DAYS_MS, -THREE_DAYS_MS] {
        let (mut a, mut b) = two();
        // both have seen a change at the right time
        edit(&mut a, &[set("venue/walk_m", 35)]);
        open(&mut b, &a.export_job("j", false).unwrap()).unwrap();
        b.tick("j", &tick("s", true, 1), "Tick", NOW + off, strict)
            .unwrap();
        b.edit_job("j", &[set("name", "From B")], "x", NOW + off, strict)
            .unwrap();
        let file = b.export_job("j", false).unwrap();
        let came = open(&mut a, &file).unwrap();
        assert_eq!(came.clocks_apart_s, THREE_DAYS_MS / 1000);
        assert_eq!((came.news.ticks, came.news.changed.len()), (1, 1));
        assert_eq!(open(&mut a, &file).unwrap().clocks_apart_s, 0, "told once");
        // what is done after it holds, whatever the clocks say
        edit(&mut a, &[set("name", "Later, from A")]);
        let next = a
            .tick("j", &tick("s", false, 0), "Untick", NOW, strict)
            .unwrap();
        assert_eq!(next.tick.turn, 2);
        assert_eq!(exchange(&mut a, &mut b)["name"], json!("Later, from A"));
    }
    let (mut a, mut b) = two();
    b.edit_job("j", &[set("name", "x")], "x", NOW + 60_000, strict)
        .unwrap();
    let came = open(&mut a, &b.export_job("j", false).unwrap()).unwrap();
    assert_eq!(came.clocks_apart_s, 0, "a minute is nothing");
}

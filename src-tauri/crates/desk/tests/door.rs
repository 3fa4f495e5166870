//! The desk through its door alone, on a database in memory.
#![expect(clippy::unwrap_used, reason = "a test may stop")]

mod common;

use common::{demo, desk};
use desk::Desk;
use serde_json::{Value, json};

fn code(answer: Result<Value, desk::Fault>) -> String {
    answer.unwrap_err().code
}

fn edit(desk: &mut Desk, id: &str, edits: Value) -> Result<Value, desk::Fault> {
    desk.call(
        "edit_job",
        json!({ "id": id, "label": "Test", "edits": edits }),
    )
}

#[test]
fn the_first_start_makes_a_demo_job_and_the_second_does_not() {
    let mut desk = desk();
    let id = demo(&mut desk);
    assert_eq!(
        desk.call("first_start", json!({ "today": "2027-05-26" }))
            .unwrap()["demo"],
        Value::Null
    );
    let rows = desk.call("list_jobs", Value::Null).unwrap();
    assert_eq!(rows.as_array().unwrap().len(), 1);
    assert_eq!(rows[0]["id"], json!(id));
    assert_eq!(rows[0]["ready_by"], "2027-06-12T13:30");
    let view = desk.call("open_job", json!({ "id": id })).unwrap();
    assert_eq!(view["findings"], json!([]));
}

#[test]
fn the_demo_has_a_plan_without_a_stop() {
    let mut desk = desk();
    let id = demo(&mut desk);
    let view = desk.call("open_job", json!({ "id": id })).unwrap();
    let plan = desk::compute(
        "plan",
        json!({ "job": view["job"], "private": view["private"] }),
    )
    .unwrap();
    let stops: Vec<&Value> = plan["findings"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|f| f["severity"] == "stop")
        .collect();
    assert_eq!(stops, Vec::<&Value>::new());
    assert!(plan["figures"]["start_by_ms"].is_i64() && plan["figures"]["leave_by_ms"].is_i64());
    assert!(plan["figures"]["price_cents"].as_i64().unwrap() > 0);
    // a crew copy has the same plan without money
    let crew = desk::compute("plan", json!({ "job": view["job"], "private": null })).unwrap();
    assert_eq!(crew["figures"]["price_cents"], Value::Null);
    assert_eq!(crew["tasks"], plan["tasks"]);
}

#[test]
fn an_edit_says_what_changed_and_is_undone_and_redone() {
    let mut desk = desk();
    let id = demo(&mut desk);
    let edited = edit(
        &mut desk,
        &id,
        json!([{ "op": "set", "path": ["venue", "walk_m"], "value": 90 }]),
    )
    .unwrap();
    assert_eq!(edited["changed"], json!([["venue", "walk_m"]]));
    assert_eq!(edited["view"]["job"]["venue"]["walk_m"], 90);
    assert_eq!(edited["view"]["undo"], "Test");
    let undone = desk.call("undo", json!({ "id": id })).unwrap();
    assert_eq!(
        (&undone["label"], &undone["view"]["job"]["venue"]["walk_m"]),
        (&json!("Test"), &json!(60))
    );
    let redone = desk.call("redo", json!({ "id": id })).unwrap();
    assert_eq!(redone["view"]["job"]["venue"]["walk_m"], 90);
    // nothing more to redo is an answer, not a fault
    assert_eq!(
        desk.call("redo", json!({ "id": id })).unwrap()["label"],
        Value::Null
    );
}

#[test]
fn what_does_not_fit_is_refused_and_nothing_is_lost() {
    let mut desk = desk();
    let id = demo(&mut desk);
    let before = desk.call("open_job", json!({ "id": id })).unwrap();
    for (edits, want) in [
        (
            json!([{ "op": "set", "path": ["venue", "walk_m"], "value": "far" }]),
            "refused",
        ),
        (
            json!([{ "op": "set", "path": ["venue", "walk_m"], "value": 30.5 }]),
            "refused",
        ),
        (
            json!([{ "op": "set", "path": ["venue", "walk_m"], "value": 1e30 }]),
            "refused",
        ),
        (
            json!([{ "op": "set", "path": ["venue", "nmae"], "value": "x" }]),
            "refused",
        ),
        (
            json!([{ "op": "add", "path": ["doors"], "id": "d9", "value": { "width_mm": "wide" } }]),
            "bad_value",
        ),
        (
            json!([{ "op": "add", "path": ["doors"], "id": "Bad Id", "value": {} }]),
            "bad_id",
        ),
        (
            json!([{ "op": "add", "path": ["nowhere"], "id": "x", "value": {} }]),
            "bad_value",
        ),
        (json!([{ "op": "jump" }]), "bad_arguments"),
    ] {
        assert_eq!(code(edit(&mut desk, &id, edits.clone())), want, "{edits}");
    }
    assert_eq!(desk.call("open_job", json!({ "id": id })).unwrap(), before);
    assert_eq!(
        code(desk.call("open_job", json!({ "id": "nobody" }))),
        "no_such_job"
    );
    assert_eq!(code(desk.call("fly", Value::Null)), "unknown_command");
    assert_eq!(
        code(desk::compute("list_jobs", Value::Null)),
        "unknown_command"
    );
}

#[test]
fn a_tick_is_this_devices_own_and_counts_turns() {
    let mut desk = desk();
    let id = demo(&mut desk);
    let tick = |done: bool| json!({ "id": id, "step": "carry", "done": done, "skipped": false, "quantity": 3, "what": "Carry", "who": "Ada", "took_s": 0 });
    let first = desk.call("tick", tick(true)).unwrap();
    let device = desk.call("about", Value::Null).unwrap()["device"]
        .as_str()
        .unwrap()
        .to_string();
    assert_eq!(first["key"], json!(format!("carry~{device}")));
    assert_eq!(
        (&first["tick"]["turn"], &first["tick"]["done"]),
        (&json!(1), &json!(true))
    );
    assert_eq!(desk.call("list_jobs", Value::Null).unwrap()[0]["ticked"], 1);
    assert_eq!(desk.call("tick", tick(false)).unwrap()["tick"]["turn"], 2);
    assert_eq!(desk.call("list_jobs", Value::Null).unwrap()[0]["ticked"], 0);
    desk.call("undo", json!({ "id": id })).unwrap();
    assert_eq!(desk.call("list_jobs", Value::Null).unwrap()[0]["ticked"], 1);
}

#[test]
fn a_job_of_ones_own_from_nothing_to_a_plan() {
    let mut desk = desk();
    demo(&mut desk);
    let view = desk.call("create_job", json!({ "name": "Own" })).unwrap();
    let id = view["id"].as_str().unwrap().to_string();
    desk.call("take_colour", json!({ "id": id, "colour": "sky" }))
        .unwrap();
    let piece = json!({ "name": "Rail", "garland": {
        "mix": { "m": { "size_in": 11, "from_dmm": 2032, "to_dmm": 2032 } },
        "palette": { "p": { "colour": "sky" } },
    } });
    let edited = edit(
        &mut desk,
        &id,
        json!([
            { "op": "add", "path": ["pieces"], "id": "rail", "value": piece },
            { "op": "set", "path": ["times", "ready_by"], "value": "2027-06-20T12:00" },
            { "op": "set", "part": "private", "path": ["client", "name"], "value": "Zoë Müller" },
        ]),
    )
    .unwrap();
    assert_eq!(edited["view"]["private"]["client"]["name"], "Zoë Müller");
    let view = &edited["view"];
    let plan = desk::compute(
        "plan",
        json!({ "job": view["job"], "private": view["private"] }),
    )
    .unwrap();
    assert_eq!(plan["pieces"][0]["garland"]["on_line"], 19);
    assert!(plan["figures"]["start_by_ms"].is_i64());
}

#[test]
fn a_cost_that_was_unknown_can_be_entered() {
    let mut desk = desk();
    let id = demo(&mut desk);
    let edits = json!([{ "op": "set", "part": "private", "path": ["costs", "newitem", "cents"], "value": 500 }]);
    let edited = edit(&mut desk, &id, edits).unwrap();
    assert_eq!(
        edited["view"]["private"]["costs"]["newitem"],
        json!({ "bag": 1, "cents": 500 })
    );
}

#[test]
fn books_are_edited_and_differences_taken_over() {
    let mut desk = desk();
    let id = demo(&mut desk);
    assert_eq!(
        desk.call("differences", json!({ "id": id }))
            .unwrap()
            .as_array()
            .unwrap()
            .iter()
            .filter(|d| d["what"] != "Ivory 11 in: on the shelf"
                && d["what"] != "Old rose 5 in: on the shelf")
            .count(),
        0
    );
    let edits =
        json!([{ "op": "set", "path": ["people", "p1", "phone"], "value": "01632 960201" }]);
    let edited = desk
        .call(
            "edit_book",
            json!({ "book": "people", "label": "Phone", "edits": edits }),
        )
        .unwrap();
    assert_eq!(edited["books"]["people"]["p1"]["phone"], "01632 960201");
    let differences = desk.call("differences", json!({ "id": id })).unwrap();
    let phone = differences
        .as_array()
        .unwrap()
        .iter()
        .find(|d| d["what"] == "Ada: telephone")
        .unwrap();
    let taken = edit(&mut desk, &id, phone["edits"].clone()).unwrap();
    assert_eq!(taken["view"]["job"]["crew"]["p1"]["phone"], "01632 960201");
    let undone = desk.call("undo_book", json!({ "book": "people" })).unwrap();
    assert_eq!(undone["books"]["people"]["p1"]["phone"], "");
}

#[test]
fn a_copy_keeps_the_design_and_forgets_the_day() {
    let mut desk = desk();
    let id = demo(&mut desk);
    let copy = desk
        .call("copy_job", json!({ "id": id, "name": "Again" }))
        .unwrap();
    assert_ne!(copy["id"], json!(id));
    assert_eq!(copy["job"]["times"]["ready_by"], "");
    assert_eq!(copy["job"]["pieces"].as_object().unwrap().len(), 4);
}

#[test]
fn backup_and_restore_and_rubbish_is_refused() {
    let mut desk = desk();
    demo(&mut desk);
    let (info, bytes) = desk.call_bytes("backup", Value::Null, &[]).unwrap();
    assert_eq!(info["name"], "Airwright backup 2027-06-01.db");
    desk.call("create_job", json!({ "name": "Later" })).unwrap();
    assert!(desk.call_bytes("restore", Value::Null, &[0; 5000]).is_err());
    assert_eq!(
        desk.call("list_jobs", Value::Null)
            .unwrap()
            .as_array()
            .unwrap()
            .len(),
        2
    );
    desk.call_bytes("restore", Value::Null, &bytes).unwrap();
    assert_eq!(
        desk.call("list_jobs", Value::Null)
            .unwrap()
            .as_array()
            .unwrap()
            .len(),
        1
    );
}

#[test]
fn papers_come_with_a_safe_name_and_the_same_bytes_twice() {
    let mut desk = desk();
    let id = demo(&mut desk);
    let view = desk.call("open_job", json!({ "id": id })).unwrap();
    for (kind, name, head) in [
        (
            "client_summary",
            "Halloran and Reyes summary.pdf",
            "%PDF-1.7",
        ),
        ("crew_pack", "Halloran and Reyes crew pack.pdf", "%PDF-1.7"),
        ("order_csv", "Halloran and Reyes order.csv", ""),
    ] {
        let own = desk.call("open_books", Value::Null).unwrap()["books"]["own"].clone();
        let args = json!({
            "kind": kind, "job": view["job"], "private": view["private"], "own": own, "size": "a4", "language": "en-GB",
            "made_ms": 1_811_808_000_000i64, "us_units": false, "twelve_hours": false,
        });
        let (made, bytes) = desk::compute_bytes("paper", args.clone(), &[]).unwrap();
        assert_eq!(made["name"], name);
        assert!(bytes.starts_with(head.as_bytes()) && bytes.len() > 100);
        assert!(desk::compute_bytes("paper", args, &[]).unwrap().1 == bytes);
    }
}

/// Two devices edit one job apart (a move against an edit, ticks against a change of plan) and meet through files.
#[test]
fn two_devices_meet_through_files_and_nothing_is_lost() {
    let (mut one, mut two) = (desk(), desk());
    let id = demo(&mut one);
    let export = |d: &mut Desk| {
        d.call_bytes("export_job", json!({ "id": id, "crew_copy": false }), &[])
            .unwrap()
    };
    let (info, file) = export(&mut one);
    assert_eq!(info["name"], "Halloran and Reyes.airwright");
    let came = two
        .call_bytes("open_job_file", Value::Null, &file)
        .unwrap()
        .0;
    assert_eq!(
        (&came["created"], &came["name"]),
        (&json!(true), &json!("Halloran and Reyes"))
    );

    edit(
        &mut one,
        &id,
        json!([{ "op": "move", "path": ["pieces"], "id": "bar", "before": "frame" }]),
    )
    .unwrap();
    edit(
        &mut two,
        &id,
        json!([{ "op": "set", "path": ["pieces", "bar", "name"], "value": "Long bar" }]),
    )
    .unwrap();
    let tick = |step: &str| json!({ "id": id, "step": step, "done": true, "skipped": false, "quantity": 1, "what": step, "who": "Ben", "took_s": 0 });
    one.call("tick", tick("carry")).unwrap();
    two.call("tick", tick("carry")).unwrap();
    two.call("tick", tick("drive")).unwrap();
    edit(
        &mut one,
        &id,
        json!([{ "op": "remove", "path": ["pieces"], "id": "loft" }]),
    )
    .unwrap();
    edit(
        &mut two,
        &id,
        json!([{ "op": "set", "path": ["pieces", "loft", "chain", "count"], "value": 3 }]),
    )
    .unwrap();

    let (of_one, of_two) = (export(&mut one).1, export(&mut two).1);
    let came = one
        .call_bytes("open_job_file", Value::Null, &of_two)
        .unwrap()
        .0;
    assert_eq!(came["ticks"], 2);
    two.call_bytes("open_job_file", Value::Null, &of_one)
        .unwrap();
    let job = |d: &mut Desk| d.call("open_job", json!({ "id": id })).unwrap()["job"].clone();
    let merged = job(&mut one);
    assert_eq!(merged, job(&mut two));
    assert_eq!(merged["pieces"]["bar"]["name"], "Long bar");
    assert_eq!(
        (
            &merged["pieces"]["loft"]["gone"],
            &merged["pieces"]["loft"]["chain"]["count"]
        ),
        (&json!(true), &json!(3))
    );
    assert_eq!(merged["ticks"].as_object().unwrap().len(), 3);
    // a file that came in before brings nothing more
    let again = one
        .call_bytes("open_job_file", Value::Null, &of_two)
        .unwrap()
        .0;
    assert_eq!(
        (&again["ticks"], &again["changes"]),
        (&json!(0), &json!([]))
    );
}

#[test]
fn a_crew_copy_has_no_client_and_no_money() {
    let (mut one, mut two) = (desk(), desk());
    let id = demo(&mut one);
    let (info, file) = one
        .call_bytes("export_job", json!({ "id": id, "crew_copy": true }), &[])
        .unwrap();
    assert_eq!(info["name"], "Halloran and Reyes crew.airwright");
    assert!(!file.windows(5).any(|w| w == b"imke@"));
    two.call_bytes("open_job_file", Value::Null, &file).unwrap();
    assert_eq!(
        two.call("open_job", json!({ "id": id })).unwrap()["private"],
        Value::Null
    );
    assert_eq!(
        code(
            two.call_bytes("open_job_file", Value::Null, b"not a file")
                .map(|a| a.0)
        ),
        "not_a_job_file"
    );
}

#[test]
fn an_erased_client_stays_erased() {
    let mut desk = desk();
    let id = demo(&mut desk);
    let (_, file) = desk
        .call_bytes("export_job", json!({ "id": id, "crew_copy": false }), &[])
        .unwrap();
    let record = desk.call("client_record", json!({ "id": id })).unwrap();
    assert!(record["json"].as_str().unwrap().contains("Imke Halloran"));
    desk.call("erase_client", json!({ "id": id })).unwrap();
    desk.call_bytes("open_job_file", Value::Null, &file)
        .unwrap();
    let view = desk.call("open_job", json!({ "id": id })).unwrap();
    assert!(!view.to_string().contains("Imke Halloran"));
}

/// Two desks with the demo job.
fn two_with_demo() -> (Desk, Desk, Value) {
    let (mut one, mut two) = (desk(), desk());
    let id = json!(demo(&mut one));
    let file = exported(&mut one, &id);
    two.call_bytes("open_job_file", Value::Null, &file).unwrap();
    (one, two, id)
}

fn exported(desk: &mut Desk, id: &Value) -> Vec<u8> {
    let args = json!({ "id": id, "crew_copy": false });
    desk.call_bytes("export_job", args, &[]).unwrap().1
}

fn edited(desk: &mut Desk, id: &Value, path: &[&str], value: Value) -> Value {
    let part = if path[0] == "prices" {
        "private"
    } else {
        "job"
    };
    let edits = json!([{ "op": "set", "part": part, "path": path, "value": value }]);
    desk.call(
        "edit_job",
        json!({ "id": id, "label": "Edit", "edits": edits }),
    )
    .unwrap()
}

fn looked(desk: &mut Desk, file: &[u8]) -> Value {
    desk.call_bytes("look_into_job_file", Value::Null, file)
        .unwrap()
        .0
}

#[test]
fn a_file_asks_before_it_changes_the_plan_and_only_then() {
    let (mut one, mut two, id) = two_with_demo();
    two.call(
        "tick",
        json!({ "id": id, "step": "loft.hang", "done": true, "skipped": false, "quantity": 1, "what": "Hang", "who": "Ada", "took_s": 0 }),
    )
    .unwrap();
    edited(
        &mut two,
        &id,
        &["venue", "contact"],
        json!("Porter, door 2"),
    );
    let seen = looked(&mut one, &exported(&mut two, &id));
    assert_eq!(
        (&seen["asks"], &seen["came"]["ticks"]),
        (&json!(false), &json!(1))
    );

    edited(&mut two, &id, &["venue", "ceiling_mm"], json!(2900));
    edited(&mut two, &id, &["prices", "tax_bp"], json!(1900));
    let before = one.call("open_job", json!({ "id": id })).unwrap();
    let file = exported(&mut two, &id);
    let seen = looked(&mut one, &file);
    assert_eq!(seen["asks"], true);
    assert_eq!(seen["before"]["job"], before["job"]);
    assert_eq!(seen["after"]["job"]["venue"]["ceiling_mm"], 2900);
    assert_eq!(one.call("open_job", json!({ "id": id })).unwrap(), before);
    let said: Vec<(&str, &str, i64)> = seen["came"]["changes"]
        .as_array()
        .unwrap()
        .iter()
        .map(|c| {
            let after = &c["after"];
            (
                c["what"].as_str().unwrap(),
                after["measure"].as_str().unwrap(),
                after["n"].as_i64().unwrap(),
            )
        })
        .collect();
    assert_eq!(
        said,
        [
            ("Ceiling height", "mm", 2900),
            ("Whom to ask for at the venue", "text", 0),
            ("Tax", "bp", 1900)
        ]
    );
    let came = one
        .call_bytes("open_job_file", Value::Null, &file)
        .unwrap()
        .0;
    assert_eq!(came["changes"], seen["came"]["changes"]);
    assert_eq!(
        came["home"],
        json!({ "ticks": 0, "notes": 0, "photos": 0, "changes": 0 })
    );
    // a job that is not here changes no plan
    assert_eq!(looked(&mut desk(), &file)["asks"], false);
}

#[test]
fn what_two_devices_set_apart_stands_in_the_list_until_one_of_them_settles_it() {
    let (mut one, mut two, id) = two_with_demo();
    two.call(
        "tick",
        json!({ "id": id, "step": "loft.hang", "done": true, "skipped": false, "quantity": 1, "what": "Hang", "who": "Ada", "took_s": 0 }),
    )
    .unwrap();
    edited(&mut one, &id, &["venue", "ceiling_mm"], json!(3100));
    edited(&mut two, &id, &["venue", "ceiling_mm"], json!(2900));
    let (of_one, of_two) = (exported(&mut one, &id), exported(&mut two, &id));
    let came = one
        .call_bytes("open_job_file", Value::Null, &of_two)
        .unwrap()
        .0;
    two.call_bytes("open_job_file", Value::Null, &of_one)
        .unwrap();
    let apart = |d: &mut Desk| d.call("open_job", json!({ "id": id })).unwrap()["apart"].clone();
    let listed = |d: &mut Desk| d.call("list_jobs", Value::Null).unwrap()[0]["apart"].clone();
    assert_eq!((listed(&mut one), listed(&mut two)), (json!(1), json!(1)));
    let field = apart(&mut one)[0].clone();
    assert_eq!(came["apart"][0], field);
    assert_eq!(field["what"], "Ceiling height");
    let mut both: Vec<(i64, bool, &str)> = field["values"]
        .as_array()
        .unwrap()
        .iter()
        .map(|v| {
            let n = v["fields"][0]["value"]["n"].as_i64().unwrap();
            (n, v["here"].as_bool().unwrap(), v["who"].as_str().unwrap())
        })
        .collect();
    let holds = both[0].0;
    both.sort_unstable();
    // the other device is known by whoever ticks on it
    assert_eq!(both, [(2900, false, "Ada"), (3100, true, "")]);
    let now = one.call("open_job", json!({ "id": id })).unwrap();
    assert_eq!(now["job"]["venue"]["ceiling_mm"], holds);

    // the value that does not hold is chosen, here; it holds there too
    let edits = field["values"][1]["edits"].clone();
    let settled = one
        .call(
            "edit_job",
            json!({ "id": id, "label": "Ceiling height kept", "edits": edits }),
        )
        .unwrap();
    assert_eq!(settled["view"]["apart"], json!([]));
    let file = exported(&mut one, &id);
    two.call_bytes("open_job_file", Value::Null, &file).unwrap();
    assert_eq!(apart(&mut two), json!([]));
    assert_eq!((listed(&mut one), listed(&mut two)), (json!(0), json!(0)));
    let there = two.call("open_job", json!({ "id": id })).unwrap();
    assert_eq!(there["job"]["venue"]["ceiling_mm"], 6000 - holds);
}

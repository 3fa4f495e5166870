//! Bills through the door: numbers without gaps, one device that issues, nothing that was issued is changed.
#![expect(clippy::unwrap_used, reason = "a test may stop")]

mod common;

use common::{demo, desk};
use desk::{Desk, Fault};
use serde_json::{Value, json};

/// Names this device as the one that issues, with a prefix and a first number.
fn name_issuer(desk: &mut Desk, prefix: &str, next: i64) {
    let device = desk.call("about", Value::Null).unwrap()["device"].clone();
    for (field, value) in [
        ("issuer", device),
        ("number_prefix", json!(prefix)),
        ("number_next", json!(next)),
    ] {
        let edits = json!([{ "op": "set", "path": ["own", field], "value": value }]);
        desk.call(
            "edit_book",
            json!({ "book": "settings", "label": "x", "edits": edits }),
        )
        .unwrap();
    }
}

fn made(desk: &mut Desk, id: &str, kind: &str, of: &str) -> Result<Value, Fault> {
    let view = desk.call("open_job", json!({ "id": id })).unwrap();
    let own = desk.call("open_books", Value::Null).unwrap()["books"]["own"].clone();
    desk::compute(
        "bill",
        json!({
            "job": view["job"], "private": view["private"], "own": own, "kind": kind, "instalment": "", "of": of,
            "day": "2027-05-31",
        }),
    )
    .map(|made| made["bill"].clone())
}

fn issue(desk: &mut Desk, id: &str, bill: &Value, of: &str) -> Result<Value, Fault> {
    desk.call(
        "issue_bill",
        json!({ "id": id, "bill": bill, "instalment": "", "of": of, "draft": "" }),
    )
}

fn bills(desk: &mut Desk, id: &str) -> Vec<(String, String)> {
    let view = desk.call("open_job", json!({ "id": id })).unwrap();
    let mut all: Vec<(String, String)> = view["private"]["bills"]
        .as_object()
        .unwrap()
        .iter()
        .map(|(id, b)| (b["number"].as_str().unwrap().to_string(), id.clone()))
        .collect();
    all.sort();
    all
}

#[test]
fn numbers_follow_each_other_and_quotes_have_their_own() {
    let mut desk = desk();
    let id = demo(&mut desk);
    let quote = made(&mut desk, &id, "quote", "").unwrap();
    assert_eq!(
        issue(&mut desk, &id, &quote, "").unwrap_err().code,
        "not_the_issuer"
    );
    name_issuer(&mut desk, "2027-", 41);
    let numbers = desk.call("bill_numbers", Value::Null).unwrap();
    assert_eq!(
        numbers,
        json!({ "issues": true, "named": true, "invoice": "2027-0041", "quote": "Q2027-0001" })
    );
    for kind in ["quote", "deposit", "quote", "invoice"] {
        let bill = made(&mut desk, &id, kind, "").unwrap();
        issue(&mut desk, &id, &bill, "").unwrap();
    }
    let numbers: Vec<String> = bills(&mut desk, &id).into_iter().map(|b| b.0).collect();
    assert_eq!(
        numbers,
        ["2027-0041", "2027-0042", "Q2027-0001", "Q2027-0002"]
    );
    // a refusal uses no number up
    let mut bad = made(&mut desk, &id, "invoice", "").unwrap();
    bad["gross_cents"] = json!(1);
    assert_eq!(
        issue(&mut desk, &id, &bad, "").unwrap_err().code,
        "does_not_add_up"
    );
    let next = desk.call("bill_numbers", Value::Null).unwrap();
    assert_eq!(next["invoice"], "2027-0043");
    // the deposit is taken off
    let all = desk.call("issued_bills", Value::Null).unwrap();
    let invoice = all
        .as_array()
        .unwrap()
        .iter()
        .find(|b| b["bill"]["kind"] == "invoice")
        .unwrap();
    assert_eq!(invoice["bill"]["before"][0]["number"], "2027-0041");
}

#[test]
fn an_issued_bill_is_not_changed_removed_or_undone() {
    let mut desk = desk();
    let id = demo(&mut desk);
    name_issuer(&mut desk, "", 1);
    let edit = |desk: &mut Desk, edits: Value| {
        desk.call(
            "edit_job",
            json!({ "id": id, "label": "x", "edits": edits }),
        )
    };
    edit(
        &mut desk,
        json!([{ "op": "set", "path": ["name"], "value": "Named" }]),
    )
    .unwrap();
    let bill = made(&mut desk, &id, "invoice", "").unwrap();
    issue(&mut desk, &id, &bill, "").unwrap();
    let (number, key) = bills(&mut desk, &id)[0].clone();
    assert_eq!(number, "0001");
    let path = |field: &str| json!(["bills", key, field]);
    for edits in [
        json!([{ "op": "set", "part": "private", "path": path("content"), "value": "{}" }]),
        json!([{ "op": "set", "part": "private", "path": path("number"), "value": "" }]),
        json!([{ "op": "remove", "part": "private", "path": ["bills"], "id": key }]),
        json!([{ "op": "add", "part": "private", "path": ["bills"], "id": "b2", "value": { "number": "0002" } }]),
    ] {
        assert_eq!(edit(&mut desk, edits).unwrap_err().code, "refused");
    }
    // that it was paid is noted
    edit(
        &mut desk,
        json!([{ "op": "set", "part": "private", "path": path("paid_day"), "value": "2027-06-20" }]),
    )
    .unwrap();
    desk.call("undo", json!({ "id": id })).unwrap();
    // undo goes on to what was before, past the bill
    let undone = desk.call("undo", json!({ "id": id })).unwrap();
    assert_eq!(undone["label"], "x");
    assert_eq!(bills(&mut desk, &id).len(), 1);
    // a change of the job does not change what was issued
    let all = desk.call("issued_bills", Value::Null).unwrap();
    assert_eq!(all[0]["bill"]["title"], "Named");
    // a copy of the job has none
    let copy = desk
        .call("copy_job", json!({ "id": id, "name": "Copy" }))
        .unwrap();
    assert_eq!(copy["private"]["bills"], json!({}));
}

#[test]
fn an_invoice_is_taken_back_once() {
    let mut desk = desk();
    let id = demo(&mut desk);
    name_issuer(&mut desk, "", 1);
    assert_eq!(
        made(&mut desk, &id, "credit", "").unwrap_err().code,
        "nothing_to_credit"
    );
    let bill = made(&mut desk, &id, "invoice", "").unwrap();
    issue(&mut desk, &id, &bill, "").unwrap();
    let of = bills(&mut desk, &id)[0].1.clone();
    let credit = made(&mut desk, &id, "credit", &of).unwrap();
    assert_eq!(credit["gross_cents"], bill["gross_cents"]);
    issue(&mut desk, &id, &credit, &of).unwrap();
    assert_eq!(
        issue(&mut desk, &id, &credit, &of).unwrap_err().code,
        "credited_before"
    );
    assert_eq!(bills(&mut desk, &id).len(), 2);
}

/// A device that gives out no numbers writes a draft; it travels in the job, and the one that does turns it into a bill. Both may go on
/// meanwhile: what was issued stays, and its draft is gone on both.
#[test]
fn a_draft_travels_and_gets_its_number_elsewhere() {
    let mut home = desk();
    let id = demo(&mut home);
    name_issuer(&mut home, "", 1);
    let send = |from: &mut Desk, to: &mut Desk| {
        let (_, file) = from
            .call_bytes("export_job", json!({ "id": id, "crew_copy": false }), &[])
            .unwrap();
        to.call_bytes("open_job_file", Value::Null, &file).unwrap();
    };
    let mut road = desk();
    send(&mut home, &mut road);
    let invoice = made(&mut road, &id, "invoice", "").unwrap();
    let refused = issue(&mut road, &id, &invoice, "").unwrap_err();
    assert_eq!(refused.code, "not_the_issuer");
    let edit = |desk: &mut Desk, edits: Value| {
        desk.call(
            "edit_job",
            json!({ "id": id, "label": "x", "edits": edits }),
        )
        .unwrap()
    };
    let draft =
        json!({ "kind": "invoice", "content": invoice.to_string(), "by": "Ada", "at_ms": 7 });
    edit(
        &mut road,
        json!([{ "op": "add", "part": "private", "path": ["bills"], "id": "draft1", "value": draft }]),
    );
    send(&mut road, &mut home);
    let view = home.call("open_job", json!({ "id": id })).unwrap();
    assert_eq!(view["private"]["bills"]["draft1"]["by"], "Ada");
    let again = made(&mut home, &id, "invoice", "").unwrap();
    home.call(
        "issue_bill",
        json!({ "id": id, "bill": again, "instalment": "", "of": "", "draft": "draft1" }),
    )
    .unwrap();
    // on the road it is written once more before the news is there
    edit(
        &mut road,
        json!([{ "op": "set", "part": "private", "path": ["bills", "draft1", "content"], "value": "{}" }]),
    );
    send(&mut home, &mut road);
    send(&mut road, &mut home);
    for desk in [&mut home, &mut road] {
        let view = desk.call("open_job", json!({ "id": id })).unwrap();
        let bills = view["private"]["bills"].as_object().unwrap();
        assert_eq!(bills["draft1"]["gone"], true);
        let issued: Vec<&Value> = bills.values().filter(|b| b["number"] == "0001").collect();
        assert_eq!(issued.len(), 1);
        let said: Value = serde_json::from_str(issued[0]["content"].as_str().unwrap()).unwrap();
        assert_eq!(said["gross_cents"], invoice["gross_cents"]);
    }
}

/// Part of an invoice is given back, no more than is left of it.
#[test]
fn a_credit_note_gives_back_no_more_than_is_left() {
    let mut desk = desk();
    let id = demo(&mut desk);
    name_issuer(&mut desk, "", 1);
    let bill = made(&mut desk, &id, "invoice", "").unwrap();
    issue(&mut desk, &id, &bill, "").unwrap();
    let of = bills(&mut desk, &id)[0].1.clone();
    let view = desk.call("open_job", json!({ "id": id })).unwrap();
    let part = |part: Value| {
        desk::compute(
            "bill",
            json!({
                "job": view["job"], "private": view["private"], "own": {}, "kind": "credit", "instalment": "", "of": of,
                "part": part, "day": "2027-06-20",
            }),
        )
        .unwrap()
    };
    let some = part(json!([{ "line": 0, "cents": 1000 }]));
    assert_eq!(some["lines"][0]["most"]["line"], 0);
    assert_eq!(some["bill"]["net_cents"], 1000);
    let all = part(json!([]))["bill"].clone();
    issue(&mut desk, &id, &some["bill"], &of).unwrap();
    assert_eq!(
        issue(&mut desk, &id, &all, &of).unwrap_err().code,
        "credit_beyond"
    );
    let nothing = part(json!([{ "line": 0, "cents": 0 }]));
    assert_eq!(
        issue(&mut desk, &id, &nothing["bill"], &of)
            .unwrap_err()
            .code,
        "nothing_to_credit"
    );
    let rest = made(&mut desk, &id, "credit", &of).unwrap();
    issue(&mut desk, &id, &rest, &of).unwrap();
    assert_eq!(
        made(&mut desk, &id, "credit", &of).unwrap_err().code,
        "nothing_to_credit"
    );
}

#[test]
fn what_the_law_keeps_outlives_the_client() {
    let mut desk = desk();
    let id = demo(&mut desk);
    name_issuer(&mut desk, "", 1);
    let bill = made(&mut desk, &id, "invoice", "").unwrap();
    issue(&mut desk, &id, &bill, "").unwrap();
    desk.call("erase_client", json!({ "id": id })).unwrap();
    let all = desk.call("issued_bills", Value::Null).unwrap();
    assert_eq!(all[0]["bill"]["buyer"]["name"], "Imke Halloran");
    let record = desk.call("client_record", json!({ "id": id })).unwrap();
    assert!(
        record["json"]
            .as_str()
            .unwrap()
            .contains("\"number\": \"0001\"")
    );
}

#[test]
fn after_a_restored_backup_the_device_is_named_anew_and_numbers_go_on() {
    let mut desk = desk();
    let id = demo(&mut desk);
    name_issuer(&mut desk, "", 1);
    let bill = made(&mut desk, &id, "invoice", "").unwrap();
    issue(&mut desk, &id, &bill, "").unwrap();
    let (_, backup) = desk.call_bytes("backup", Value::Null, &[]).unwrap();
    desk.call_bytes("restore", Value::Null, &backup).unwrap();
    let numbers = desk.call("bill_numbers", Value::Null).unwrap();
    assert_eq!(numbers["issues"], false);
    assert_eq!(
        issue(&mut desk, &id, &bill, "").unwrap_err().code,
        "not_the_issuer"
    );
    name_issuer(&mut desk, "", 1);
    assert_eq!(
        desk.call("bill_numbers", Value::Null).unwrap()["invoice"],
        "0002"
    );
}

#[test]
fn five_answers_are_a_price_and_then_a_job() {
    let mut desk = desk();
    demo(&mut desk);
    let books = desk.call("open_books", Value::Null).unwrap()["books"].clone();
    let quick = json!({ "what": "arch_garland", "length_mm": 6000, "full": "usual", "distance_hm": 150, "stairs": true,
        "ready_by": "2027-06-12T14:00", "strike": true });
    let made = desk::compute("quick_price", json!({ "quick": quick, "books": books })).unwrap();
    let gross = made["price"]["gross_cents"].as_i64().unwrap();
    assert!(gross > 10_000, "{gross}");
    assert!(made["from_cents"].as_i64().unwrap() < gross);
    assert!(made["to_cents"].as_i64().unwrap() > gross);
    assert_eq!(made["findings"], json!([]));
    let view = desk
        .call("create_quick", json!({ "quick": quick, "name": "Call" }))
        .unwrap();
    let plan = desk::compute(
        "plan",
        json!({ "job": view["job"], "private": view["private"], "depth": "preview" }),
    )
    .unwrap();
    assert_eq!(plan["price"], made["price"]);
}

#[test]
fn settled_jobs_are_learnt_from() {
    let mut desk = desk();
    let id = demo(&mut desk);
    let view = desk.call("open_job", json!({ "id": id })).unwrap();
    let ask = json!({ "id": id, "job": view["job"], "private": view["private"], "history": [], "now_ms": 5 });
    let actual = desk::compute("actual", ask).unwrap();
    assert_eq!(actual["advice"], Value::Null);
    assert_eq!(actual["settled"]["settled_ms"], 5);
    assert_eq!(
        actual["actual"]["took_s"], actual["actual"]["planned_s"],
        "nothing was timed"
    );
    assert_eq!(desk.call("settled_jobs", Value::Null).unwrap(), json!([]));
    let edits: Vec<Value> = actual["settled"]
        .as_object()
        .unwrap()
        .iter()
        .map(|(field, value)| {
            json!({ "op": "set", "part": "private", "path": ["spent", field], "value": value })
        })
        .collect();
    desk.call(
        "edit_job",
        json!({ "id": id, "label": "Settled", "edits": edits }),
    )
    .unwrap();
    let settled = desk.call("settled_jobs", Value::Null).unwrap();
    assert_eq!(settled[0]["spent"], actual["settled"]);
}

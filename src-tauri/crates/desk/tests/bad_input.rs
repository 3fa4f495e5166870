//! What people type by mistake: a finding or a clear refusal, never a panic, never a silent wrong figure, nothing lost.
#![expect(clippy::unwrap_used, reason = "a test may stop")]

use desk::{Desk, Host};
use serde_json::{Value, json};

fn desk_with_demo() -> (Desk, String) {
    let conn = rusqlite::Connection::open_in_memory().unwrap();
    let mut desk = Desk::open(
        conn,
        Host {
            now_ms: || 1_811_332_800_000,
        },
    )
    .unwrap();
    let id = desk
        .call("first_start", json!({ "today": "2027-05-26" }))
        .unwrap()["demo"]
        .as_str()
        .unwrap()
        .to_string();
    (desk, id)
}

/// Codes of the plan's findings after an edit of the demo job.
fn codes(path: &[&str], value: Value) -> Vec<String> {
    let (mut desk, id) = desk_with_demo();
    let edits = json!([{ "op": "set", "path": path, "value": value }]);
    let view = desk
        .call(
            "edit_job",
            json!({ "id": id, "label": "x", "edits": edits }),
        )
        .unwrap()["view"]
        .clone();
    let plan = desk::compute(
        "plan",
        json!({ "job": view["job"], "private": view["private"] }),
    )
    .unwrap();
    plan["findings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|f| f["code"].as_str().unwrap().to_string())
        .collect()
}

#[test]
fn a_mistake_is_a_finding() {
    for (path, value, want) in [
        (&["name"][..], json!(""), "no_name"),
        (&["venue", "zone"], json!("Mars/Olympus"), "unknown_zone"),
        (
            &["times", "ready_by"],
            json!("2027-06-12T09:00"),
            "times_reversed",
        ),
        (&["times", "ready_by"], json!("soon"), "unreadable_time"),
        (
            &["pieces", "loft", "chain", "pitch_mm"],
            json!(0),
            "no_path",
        ),
        (
            &["pieces", "arch", "garland", "span_mm"],
            json!(10_000_000),
            "too_large",
        ),
        (
            &["pieces", "arch", "garland", "span_mm"],
            json!(-5),
            "out_of_range",
        ),
        (
            &["pieces", "loft", "chain", "count"],
            json!(1_000_000_000),
            "too_large",
        ),
        (
            &["pieces", "bar", "garland", "palette", "sand", "colour"],
            json!("nobody"),
            "colour_missing",
        ),
        (
            &["pieces", "bar", "garland", "palette", "sand", "share_pct"],
            json!(80),
            "shares_not_100",
        ),
        (
            &["venue", "house_rules"],
            json!("x".repeat(150_000)),
            "long_text",
        ),
        (
            &["venue", "name"],
            json!("evil\u{202e}txt"),
            "hidden_letters",
        ),
        (&["doors", "loft", "width_mm"], json!(300), "too_wide"),
        (&["crew", "p1", "gone"], json!(true), "alone"),
    ] {
        let found = codes(path, value.clone());
        assert!(
            found.iter().any(|c| c == want),
            "{path:?} = {}: {found:?}",
            value.to_string().chars().take(40).collect::<String>()
        );
    }
}

#[test]
fn nobody_on_the_job_is_a_stop_and_the_plan_still_counts() {
    let (mut desk, id) = desk_with_demo();
    let gone = |who: &str| json!({ "op": "remove", "path": ["crew"], "id": who });
    let view = desk
        .call(
            "edit_job",
            json!({ "id": id, "label": "x", "edits": [gone("p1"), gone("p2")] }),
        )
        .unwrap()["view"]
        .clone();
    let plan = desk::compute(
        "plan",
        json!({ "job": view["job"], "private": view["private"] }),
    )
    .unwrap();
    assert!(
        plan["findings"]
            .as_array()
            .unwrap()
            .iter()
            .any(|f| f["code"] == "no_people" && f["severity"] == "stop")
    );
    assert!(plan["figures"]["balloons"].as_i64().unwrap() > 0);
    assert_eq!(plan["figures"]["start_by_ms"], Value::Null);
}

#[test]
fn strange_texts_come_back_as_they_went_and_print() {
    let (mut desk, id) = desk_with_demo();
    let name = "🎈 חתונה Łódź Ελένη e\u{301}";
    let edits = json!([{ "op": "set", "path": ["name"], "value": name }]);
    let view = desk
        .call(
            "edit_job",
            json!({ "id": id, "label": "x", "edits": edits }),
        )
        .unwrap()["view"]
        .clone();
    assert_eq!(view["job"]["name"], name);
    let args = json!({
        "kind": "client_summary", "job": view["job"], "private": view["private"], "own": {}, "size": "letter", "language": "en-GB",
        "made_ms": 1_811_332_800_000i64, "us_units": true, "twelve_hours": true,
    });
    let (made, bytes) = desk::compute_bytes("paper", args, &[]).unwrap();
    assert!(bytes.starts_with(b"%PDF"));
    assert!(
        made["findings"]
            .as_array()
            .unwrap()
            .iter()
            .any(|f| f["code"] == "paper_letters")
    );
}

//! A desk on a database in memory, at one fixed moment.

use desk::{Desk, Host};
use serde_json::json;

pub fn desk() -> Desk {
    let conn = rusqlite::Connection::open_in_memory().unwrap();
    Desk::open(
        conn,
        Host {
            now_ms: || 1_811_808_000_000,
        },
    )
    .unwrap()
}

/// The demo job of a first start: its id.
pub fn demo(desk: &mut Desk) -> String {
    let made = desk
        .call("first_start", json!({ "today": "2027-05-26" }))
        .unwrap();
    made["demo"].as_str().unwrap().to_string()
}

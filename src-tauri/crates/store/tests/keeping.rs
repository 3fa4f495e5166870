//! What stays when things go wrong: a killed process, a full disk, a file that cannot be written, a damaged row.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::io::Write;
use std::path::Path;

use common::folder::*;
use common::*;
use rusqlite::Connection;
use serde_json::json;
use store::Store;

/// Edits without end and says each number once it is acknowledged. Run by the test below only.
#[test]
fn child_that_edits_until_it_is_killed() {
    let Some(file) = std::env::var_os(CHILD) else {
        return;
    };
    let mut store = open(Path::new(&file));
    let start = store.job("j").unwrap().value["venue"]["walk_m"]
        .as_i64()
        .unwrap();
    let mut out = std::io::stdout();
    for n in start + 1.. {
        let step = format!("s{}", n % 50);
        store
            .edit_job(
                "j",
                &[set("venue/walk_m", n), set_private("prices/valid_days", n)],
                "x",
                NOW,
                strict,
            )
            .unwrap();
        store
            .tick("j", &tick(&step, true, n), "t", NOW, strict)
            .unwrap();
        writeln!(out, "kept {n}.").unwrap();
        out.flush().unwrap();
    }
}

#[test]
fn what_was_acknowledged_is_there_after_a_kill() {
    let folder = Folder::new("kill");
    drop(made(&folder.db()));
    let mut acknowledged = 30;
    for round in 0..20_u64 {
        // other moments each round, from before the first edit on
        let (lines, ms) = (round % 7, (round * 7919) % 97);
        let lines = usize::try_from(lines).unwrap();
        let said = killed_after(
            lines,
            ms,
            "child_that_edits_until_it_is_killed",
            &folder.db(),
        );
        let heard = said.last().and_then(|n| n.parse::<i64>().ok());
        acknowledged = heard.unwrap_or(acknowledged);

        let mut store = open(&folder.db());
        let state = store.job("j").unwrap();
        let walk = state.value["venue"]["walk_m"].as_i64().unwrap();
        // the one that was under way may be there as well
        assert!(
            (acknowledged..=acknowledged + 1).contains(&walk),
            "{walk} after {acknowledged}"
        );
        if walk > 30 {
            assert_eq!(
                state.private.unwrap()["prices"]["valid_days"],
                json!(walk),
                "both parts or none"
            );
        }
        // the number is said after the tick, so a number that was only found there says nothing of its tick
        if let Some(heard) = heard {
            let key = format!("s{}~{}", heard % 50, store.device_id());
            let quantity = state.value["ticks"][key]["quantity"].as_i64().unwrap();
            assert!(quantity >= heard, "tick {heard} is lost: {quantity}");
        }
        assert_eq!(store.list_jobs().unwrap()[0].revision, state.revision);
        drop(store);
        let sound: String = Connection::open(folder.db())
            .unwrap()
            .query_row("PRAGMA integrity_check", [], |row| row.get(0))
            .unwrap();
        assert_eq!(sound, "ok");
        acknowledged = walk;
    }
    assert!(acknowledged > 60, "the children hardly ran: {acknowledged}");
}

#[test]
fn changes_and_undo_are_there_after_a_restart_and_a_folding() {
    let folder = Folder::new("restart");
    let mut store = made(&folder.db());
    for n in 0..450 {
        edit(&mut store, &[set("venue/walk_m", n)]);
    }
    let before = store.job("j").unwrap();
    drop(store);
    let rows: i64 = Connection::open(folder.db())
        .unwrap()
        .query_row("SELECT count(*) FROM change", [], |row| row.get(0))
        .unwrap();
    assert!((1..=200).contains(&rows), "{rows} rows of changes");
    let mut store = open(&folder.db());
    let after = store.job("j").unwrap();
    assert_eq!(
        (after.revision, &after.value, &after.private),
        (before.revision, &before.value, &before.private)
    );
    store.undo("j", NOW, strict).unwrap();
    assert_eq!(store.job("j").unwrap().value["venue"]["walk_m"], json!(448));
    drop(store);
    let mut store = open(&folder.db());
    assert_eq!(store.redo("j", NOW, strict).unwrap().label, "edit");
    assert_eq!(store.job("j").unwrap().value["venue"]["walk_m"], json!(449));
}

#[test]
fn a_full_disk_refuses_and_keeps_the_old_state() {
    let folder = Folder::new("full");
    drop(made(&folder.db()));
    let conn = store::open_file(&folder.db()).unwrap();
    // as full as it can be: not one page more
    let pages: i64 = conn
        .pragma_query_value(None, "page_count", |row| row.get(0))
        .unwrap();
    conn.execute_batch(&format!("PRAGMA max_page_count = {pages}"))
        .unwrap();
    let mut store = Store::open(conn).unwrap();
    let before = store.job("j").unwrap();
    let long = "A long remark. ".repeat(4000);
    let error = store
        .edit_job(
            "j",
            &[set("venue/house_rules", long), set("name", "Never kept")],
            "x",
            NOW,
            strict,
        )
        .unwrap_err();
    assert_eq!(error.code(), "no_room");
    assert!(!error.hint().is_empty());
    let after = store.job("j").unwrap();
    assert_eq!(
        (after.revision, &after.value),
        (before.revision, &before.value)
    );
    assert_eq!(store.labels("j").unwrap().undo, None);
    drop(store);
    assert_eq!(open(&folder.db()).job("j").unwrap().value, before.value);
}

#[test]
fn a_database_that_cannot_be_written_can_be_read() {
    let folder = Folder::new("readonly");
    drop(made(&folder.db()));
    let conn = store::open_file(&folder.db()).unwrap();
    conn.execute_batch("PRAGMA query_only = ON").unwrap();
    let mut store = Store::open(conn).unwrap();
    let before = store.job("j").unwrap();
    let error = store
        .edit_job("j", &[set("name", "x")], "x", NOW, strict)
        .unwrap_err();
    assert_eq!(error.code(), "cannot_write");
    assert_eq!(store.job("j").unwrap().value, before.value);
    assert!(!store.export_job("j", false).unwrap().is_empty());
}

#[test]
fn a_damaged_row_is_told_and_what_came_before_it_can_be_read() {
    let folder = Folder::new("damage");
    let mut store = made(&folder.db());
    for name in ["One", "Two", "Three"] {
        edit(&mut store, &[set("name", name)]);
    }
    drop(store);
    let conn = Connection::open(folder.db()).unwrap();
    conn.execute("UPDATE change SET bytes = zeroblob(40) WHERE seq = 2", [])
        .unwrap();
    drop(conn);
    let mut store = open(&folder.db());
    assert_eq!(store.job("j").unwrap_err().code(), "damaged");
    assert_eq!(
        store
            .edit_job("j", &[set("name", "x")], "x", NOW, strict)
            .unwrap_err()
            .code(),
        "damaged"
    );
    let rescued = store.rescue_job("j").unwrap();
    assert_eq!(rescued.value["name"], json!("One"));
    assert_eq!(rescued.private.unwrap()["client"]["name"], json!("Mara"));
    assert_eq!(store.list_jobs().unwrap()[0].row["name"], json!("Three"));
}

#[test]
fn a_row_that_is_missing_is_told() {
    let folder = Folder::new("missing");
    let mut store = made(&folder.db());
    for name in ["One", "Two"] {
        edit(&mut store, &[set("name", name)]);
    }
    drop(store);
    let conn = Connection::open(folder.db()).unwrap();
    conn.execute("DELETE FROM change WHERE seq = 1", [])
        .unwrap();
    drop(conn);
    assert_eq!(open(&folder.db()).job("j").unwrap_err().code(), "damaged");
}

#[test]
fn an_erased_client_leaves_no_trace_in_the_files() {
    let folder = Folder::new("erase");
    let mut store = made(&folder.db());
    edit(
        &mut store,
        &[set_private("client/remarks", "Quillfeather Lane entrance")],
    );
    let traces = |folder: &Folder| -> Vec<String> {
        std::fs::read_dir(&folder.0)
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .filter(|path| {
                std::fs::read(path)
                    .unwrap()
                    .windows(12)
                    .any(|w| w == b"Quillfeather")
            })
            .map(|path| path.display().to_string())
            .collect()
    };
    assert!(
        !traces(&folder).is_empty(),
        "the test looks in the right place"
    );
    store.erase_client("j", NOW, strict).unwrap();
    assert_eq!(traces(&folder), [""; 0]);
    drop(store);
    assert_eq!(traces(&folder), [""; 0]);
}

#[test]
fn a_backup_of_another_page_size_comes_back() {
    let folder = Folder::new("pages");
    let conn = Connection::open_in_memory().unwrap();
    conn.execute_batch("PRAGMA page_size = 4096").unwrap();
    let mut small = Store::open(conn).unwrap();
    small
        .create_job("s", &job_value("From small pages"), None, strict)
        .unwrap();
    let backup = small.backup().unwrap();
    let mut store = made(&folder.db());
    store.restore(&backup, NOW).unwrap();
    assert_eq!(
        store.job("s").unwrap().value["name"],
        json!("From small pages")
    );
    assert_eq!(store.job("j").unwrap_err().code(), "no_such_job");
    drop(store);
    assert_eq!(
        open(&folder.db()).job("s").unwrap().value["name"],
        json!("From small pages")
    );
}

#[test]
fn a_bad_backup_is_refused_and_everything_stays() {
    let mut store = with_job();
    let good = store.backup().unwrap();
    let mut cut = good.clone();
    cut.truncate(good.len() / 2);
    let mut flipped = good.clone();
    // the head of the third page
    for byte in &mut flipped[8192..8200] {
        *byte ^= 0x5a;
    }
    // a sound database of ours with one more trigger
    let strange = {
        let mut conn = Connection::open_in_memory().unwrap();
        conn.deserialize_read_exact("main", good.as_slice(), good.len(), false)
            .unwrap();
        conn.execute_batch(
            "CREATE TRIGGER t AFTER INSERT ON change BEGIN DELETE FROM summary; END",
        )
        .unwrap();
        conn.serialize("main").unwrap().to_vec()
    };
    let cases = [
        (Vec::new(), "not_ours"),
        (b"not a database at all".repeat(40), "not_ours"),
        (cut, "damaged"),
        (flipped, "damaged"),
        (strange, "not_ours"),
    ];
    for (bytes, code) in cases {
        assert_eq!(store.restore(&bytes, NOW).unwrap_err().code(), code);
        assert_eq!(
            store.job("j").unwrap().value["name"],
            json!("Harbour opening")
        );
    }
}

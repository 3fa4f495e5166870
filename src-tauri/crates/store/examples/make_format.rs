//! Writes the sample of the format that this version makes, for `tests/formats`. By hand, once, when a format is
//! released; a released sample is never written again.
//!
//! `cargo run -p store --example make_format -- tests/formats`
#![allow(clippy::unwrap_used, reason = "a tool may stop")]

use std::path::PathBuf;

use job::{Edit, Part};
use serde_json::{Value, json};
use store::{JobFile, State, Store, Summary};

/// When the sample's changes are said to be made, ms since 1970 UTC.
const NOW: i64 = 1_800_000_000_000;

fn main() {
    let folder = PathBuf::from(
        std::env::args()
            .nth(1)
            .unwrap_or_else(|| "tests/formats".into()),
    );
    let read = |name: &str| -> Value {
        let text = std::fs::read_to_string(folder.join("../jobs").join(name)).unwrap();
        serde_json::from_str(&text).unwrap()
    };
    let file = std::env::temp_dir().join(format!("airwright-format-{}.db", std::process::id()));
    let open = || Store::open(store::open_file(&file).unwrap()).unwrap();
    drop(open());
    // a device id that is the same each time
    rusqlite::Connection::open(&file)
        .unwrap()
        .execute(
            "UPDATE meta SET value = x'00112233445566778899aabbccddeeff' WHERE name = 'device'",
            [],
        )
        .unwrap();
    let mut store = open();
    store
        .create_job(
            "sample",
            &read("hall.job.json"),
            Some(&read("hall.private.json")),
            accept,
        )
        .unwrap();

    let path = |keys: &str| -> Vec<String> { keys.split('/').map(Into::into).collect() };
    let add = |list: &str, id: &str, before: Option<&str>, value: Value| Edit::Add {
        part: Part::Job,
        path: path(list),
        id: id.into(),
        before: before.map(Into::into),
        value: job::complete::complete(&path(list), &value).unwrap(),
    };
    let edits = [
        add(
            "doors",
            "yard",
            None,
            json!({ "name": "Yard gate", "width_mm": 1100 }),
        ),
        add(
            "doors",
            "lift",
            Some("yard"),
            json!({ "name": "Goods lift" }),
        ),
        add("doors", "shut", None, json!({ "name": "Bricked up" })),
        Edit::Remove {
            part: Part::Job,
            path: path("doors"),
            id: "shut".into(),
        },
        Edit::Move {
            part: Part::Job,
            path: path("doors"),
            id: "yard".into(),
            before: Some("lift".into()),
        },
        add(
            "notes",
            "n1",
            None,
            json!({ "text": "Ring twice \u{1f388} שלום Ωμέγα", "who": "Ines" }),
        ),
        Edit::Set {
            part: Part::Job,
            path: path("venue/walk_m"),
            value: json!(45),
        },
        Edit::Set {
            part: Part::Private,
            path: path("client/remarks"),
            value: json!("Prefers the telephone"),
        },
    ];
    store
        .edit_job("sample", &edits, "Sample", NOW, accept)
        .unwrap();
    let tick = job::site::Tick {
        step: "sample.hang".into(),
        done: true,
        quantity: 12,
        what: "Hang the garland".into(),
        took_s: 1800,
        ..job::site::Tick::default()
    };
    store.tick("sample", &tick, "Tick", NOW, accept).unwrap();

    let bytes = store.export_job("sample", false).unwrap();
    let parts = JobFile::read(&bytes, NOW).unwrap();
    let state = store.job("sample").unwrap();
    let name = format!("v{}", job::FORMAT);
    let write = |end: &str, bytes: &[u8]| {
        std::fs::write(folder.join(format!("{name}.{end}")), bytes).unwrap()
    };
    write("airwright", &bytes);
    write("job.automerge", &parts.job);
    write("job.json", format!("{:#}\n", *state.value).as_bytes());
    write(
        "private.json",
        format!("{:#}\n", *state.private.unwrap()).as_bytes(),
    );
    drop(store);
    for end in ["", "-wal", "-shm"] {
        let _ = std::fs::remove_file(format!("{}{end}", file.display()));
    }
}

fn accept(state: &State) -> Result<Summary, String> {
    job::read::read_strictly::<job::Job>(&state.value)?;
    Ok(Summary {
        sort: String::new(),
        row: Value::Null,
    })
}

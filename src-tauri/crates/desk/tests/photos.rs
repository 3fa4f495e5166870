//! Photos through the door: kept, shown, refused, and with the job wherever it goes.
#![expect(clippy::unwrap_used, reason = "a test may stop")]

use std::path::PathBuf;

use desk::{Desk, Host};
use serde_json::{Value, json};
use store::PhotoFolder;

/// A desk with the demo job, and the folder of its photos.
struct Here {
    desk: Desk,
    id: String,
    folder: PathBuf,
}

impl Here {
    fn new(name: &str) -> Here {
        let folder =
            std::env::temp_dir().join(format!("airwright-desk-{name}-{}", std::process::id()));
        let conn = rusqlite::Connection::open_in_memory().unwrap();
        let host = Host {
            now_ms: || 1_811_332_800_000,
        };
        let mut desk = Desk::open(conn, host).unwrap();
        desk.keep_photos_in(Box::new(PhotoFolder::open(&folder).unwrap()));
        let made = desk
            .call("first_start", json!({ "today": "2027-05-26" }))
            .unwrap();
        let id = made["demo"].as_str().unwrap().to_string();
        Here { desk, id, folder }
    }

    fn add(&mut self, bytes: &[u8]) -> Result<Value, desk::Fault> {
        let args = json!({ "job": self.id });
        self.desk
            .call_bytes("add_photo", args, bytes)
            .map(|(added, _)| added)
    }

    /// Names the photo in the job, as the page does.
    fn name(&mut self, hash: &Value) {
        let edits = json!([{ "op": "set", "path": ["venue", "photo"], "value": hash }]);
        let args = json!({ "id": self.id, "label": "Photo", "edits": edits });
        self.desk.call("edit_job", args).unwrap();
    }

    fn bytes(&mut self, hash: &Value) -> Result<Vec<u8>, desk::Fault> {
        let (info, bytes) = self
            .desk
            .call_bytes("photo", json!({ "hash": hash }), &[])?;
        assert_eq!(info, json!({ "mime": "image/png" }));
        Ok(bytes)
    }

    fn export(&mut self, id: &str) -> Vec<u8> {
        let args = json!({ "id": id, "crew_copy": true });
        self.desk.call_bytes("export_job", args, &[]).unwrap().1
    }

    fn files(&self) -> usize {
        std::fs::read_dir(&self.folder).unwrap().count()
    }
}

impl Drop for Here {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.folder);
    }
}

/// The head of a PNG picture, and something after it.
fn png(n: u8) -> Vec<u8> {
    let head = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR\0\0\x06\x40\0\0\x04\xb0\x08\x02\0\0\0";
    [&head[..], &[n; 300]].concat()
}

#[test]
fn a_photo_of_the_venue_is_kept_shown_and_goes_with_the_job_file() {
    let (mut one, mut two) = (Here::new("photo-one"), Here::new("photo-two"));
    let added = one.add(&png(1)).unwrap();
    assert_eq!(
        (&added["width"], &added["height"], &added["bytes"]),
        (&json!(1600), &json!(1200), &json!(png(1).len()))
    );
    let hash = added["hash"].clone();
    assert_eq!(hash.as_str().unwrap().len(), 64);
    assert_eq!(one.bytes(&hash).unwrap(), png(1));

    // before the job names it, it stays at home
    let id = one.id.clone();
    let file = one.export(&id);
    let came = two.desk.call_bytes("open_job_file", Value::Null, &file);
    assert_eq!(came.unwrap().0["photos"], 0);
    one.name(&hash);
    let file = one.export(&id);
    let came = two.desk.call_bytes("open_job_file", Value::Null, &file);
    assert_eq!(came.unwrap().0["photos"], 1);
    assert_eq!(two.bytes(&hash).unwrap(), png(1));
}

#[test]
fn what_is_no_picture_is_refused_and_leaves_nothing() {
    let mut here = Here::new("photo-refused");
    for bytes in [
        &b""[..],
        b"GIF89a",
        b"\x89PNG\r\n\x1a\n",
        &[0xff, 0xd8, 0xff, 0xe0, 0, 16],
    ] {
        let fault = here.add(bytes).unwrap_err();
        assert_eq!(fault.code, "not_a_photo");
        assert!(!fault.message.is_empty() && !fault.hint.is_empty());
    }
    let mut large = png(1);
    large.resize((24 << 20) + 1, 0);
    assert_eq!(here.add(&large).unwrap_err().code, "too_large");
    let args = json!({ "job": "nobody" });
    let fault = here.desk.call_bytes("add_photo", args, &png(1));
    assert_eq!(fault.unwrap_err().code, "no_such_job");
    for hash in ["", "no hash", &"0".repeat(64)] {
        assert_eq!(here.bytes(&json!(hash)).unwrap_err().code, "photo_missing");
    }
    assert_eq!(here.files(), 0);
}

#[test]
fn a_copy_keeps_the_photo_and_an_erased_job_names_none() {
    let mut here = Here::new("photo-copy");
    let hash = here.add(&png(2)).unwrap()["hash"].clone();
    here.name(&hash);
    let args = json!({ "id": here.id, "name": "Again" });
    let copy = here.desk.call("copy_job", args).unwrap();
    assert_eq!(copy["job"]["venue"]["photo"], hash);

    let erased = here.desk.call("erase_client", json!({ "id": here.id }));
    assert_eq!(erased.unwrap()["job"]["venue"]["photo"], "");
    assert_eq!(here.bytes(&hash).unwrap(), png(2), "the copy has it still");
    let args = json!({ "id": copy["id"] });
    here.desk.call("erase_client", args).unwrap();
    assert_eq!(here.bytes(&hash).unwrap_err().code, "photo_missing");
    assert_eq!(here.files(), 0);
}

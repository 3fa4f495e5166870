//! The browser host: what the two DEDICATED workers call. Nothing but a transport; an empty crate natively.
#![cfg(all(target_family = "wasm", target_os = "unknown"))]

use std::cell::RefCell;

use desk::{Desk, Fault, Host};
use serde_json::{Value, json};
use sqlite_wasm_vfs::sahpool::{OpfsSAHPoolCfgBuilder, OpfsSAHPoolUtil, install};
use store::PhotoErrands;
use wasm_bindgen::prelude::*;

thread_local! {
    static POOL: RefCell<Option<OpfsSAHPoolUtil>> = const { RefCell::new(None) };
    static PHOTOS: PhotoErrands = PhotoErrands::default();
    static DESK: RefCell<Option<Desk>> = const { RefCell::new(None) };
}

/// A panic ends in a trap on this target: say first where it came from, on `console.error`.
#[wasm_bindgen(start)]
fn init() {
    std::panic::set_hook(Box::new(|info| {
        // no web-sys needed
        let console = js_sys::Reflect::get(&js_sys::global(), &"console".into());
        let log = console
            .as_ref()
            .ok()
            .and_then(|c| js_sys::Reflect::get(c, &"error".into()).ok())
            .and_then(|f| f.dyn_into::<js_sys::Function>().ok());
        if let (Ok(console), Some(log)) = (console, log) {
            let _ = log.call1(&console, &JsValue::from_str(&info.to_string()));
        }
    }));
}

/// Takes all handles of the pool folder (fails if another tab holds them) and opens the database.
#[wasm_bindgen]
pub async fn open(dir: String, file: String) -> Result<(), JsValue> {
    match POOL.with_borrow(Clone::clone) {
        Some(pool) => pool.resume().await.map_err(js_error)?,
        None => {
            let cfg = OpfsSAHPoolCfgBuilder::new()
                .directory(&dir)
                .initial_capacity(6)
                .build();
            let pool = install::<sqlite_wasm_rs::WasmOsCallback>(&cfg, true)
                .await
                .map_err(js_error)?;
            POOL.set(Some(pool));
        }
    }
    let conn = store::open_in_pool(&file).map_err(js_error)?;
    let mut desk = Desk::open(conn, Host { now_ms }).map_err(js_error)?;
    desk.keep_photos_in(Box::new(PHOTOS.with(Clone::clone)));
    DESK.set(Some(desk));
    Ok(())
}

/// Closes the database and lets go of all handles, so that another tab may open it.
#[wasm_bindgen]
pub fn close() -> Result<(), JsValue> {
    DESK.set(None);
    POOL.with_borrow(|p| p.as_ref().map(|p| p.pause()).transpose())
        .map_err(js_error)?;
    Ok(())
}

/// Store worker: one command, JSON in and out: `{"answer": …}` or `{"fault": {code, message, hint}}`.
#[wasm_bindgen]
pub fn call(name: &str, args: &str) -> Result<String, JsValue> {
    with_desk(|desk| {
        let outcome = read(args).and_then(|args| desk.call(name, args));
        reply(outcome).to_string()
    })
}

/// Store worker: a command with bytes in or out. What comes back is framed: 4 bytes little-endian length,
/// that much JSON as from `call`, then the bytes.
#[wasm_bindgen]
pub fn call_bytes(name: &str, args: &str, body: &[u8]) -> Result<Vec<u8>, JsValue> {
    with_desk(|desk| framed(read(args).and_then(|args| desk.call_bytes(name, args, body))))?
}

/// Store worker: what the last command left to do with the files of photos, as JSON:
/// `{"write": [name, …], "read": [name, …], "look": [name, …], "list": false, "remove": [name, …]}`. While anything but
/// removing is to be done, its answer counts for nothing: the files are seen to, and it is asked again.
#[wasm_bindgen]
pub fn photo_errands() -> Result<String, JsValue> {
    serde_json::to_string(&PHOTOS.with(PhotoErrands::due)).map_err(js_error)
}

/// Store worker: the bytes of a file that is to be written.
#[wasm_bindgen]
pub fn photo_bytes(name: &str) -> Option<Vec<u8>> {
    PHOTOS.with(|photos| photos.bytes(name))
}

/// Store worker: the file is there, whole and flushed.
#[wasm_bindgen]
pub fn photo_written(name: &str) {
    PHOTOS.with(|photos| photos.written(name));
}

/// Store worker: the file was read; nothing if there is none.
#[wasm_bindgen]
pub fn photo_fetched(name: &str, bytes: Option<Vec<u8>>) {
    PHOTOS.with(|photos| photos.fetched(name, bytes));
}

/// Store worker: the file was read to be looked at; nothing if there is none. Its bytes are not kept.
#[wasm_bindgen]
pub fn photo_seen(name: &str, bytes: Option<Box<[u8]>>) {
    PHOTOS.with(|photos| photos.seen(name, bytes.as_deref()));
}

/// Store worker: these files are there.
#[wasm_bindgen]
pub fn photos_listed(names: Vec<String>) {
    PHOTOS.with(|photos| photos.listed(names));
}

/// Store worker: the command is done with, answered or given up.
#[wasm_bindgen]
pub fn photos_settled() {
    PHOTOS.with(PhotoErrands::settle);
}

/// Plan worker: what needs no database, JSON in and out.
#[wasm_bindgen]
pub fn compute(name: &str, args: &str) -> String {
    reply(read(args).and_then(|args| desk::compute(name, args))).to_string()
}

/// Plan worker: the same with bytes in or out, framed as from `call_bytes`.
#[wasm_bindgen]
pub fn compute_bytes(name: &str, args: &str, body: &[u8]) -> Result<Vec<u8>, JsValue> {
    framed(read(args).and_then(|args| desk::compute_bytes(name, args, body)))
}

/// The desk's clock: milliseconds since 1970-01-01 UTC. The cast saturates; the clock is a whole number.
fn now_ms() -> i64 {
    js_sys::Date::now() as i64
}

fn with_desk<T>(ask: impl FnOnce(&mut Desk) -> T) -> Result<T, JsValue> {
    DESK.with_borrow_mut(|desk| match desk.as_mut() {
        Some(desk) => Ok(ask(desk)),
        None => Err(js_error("the database is not open")),
    })
}

fn read(args: &str) -> Result<Value, Fault> {
    serde_json::from_str(args).map_err(|e| Fault {
        code: "bad_message".into(),
        message: format!("The page and the backend do not understand each other: {e}."),
        hint: "Reload the page.".into(),
    })
}

fn reply(outcome: Result<Value, Fault>) -> Value {
    match outcome {
        Ok(answer) => json!({ "answer": answer }),
        Err(fault) => json!({ "fault": fault }),
    }
}

fn framed(outcome: Result<(Value, Vec<u8>), Fault>) -> Result<Vec<u8>, JsValue> {
    let (words, body) = match outcome {
        Ok((answer, body)) => (reply(Ok(answer)), body),
        Err(fault) => (reply(Err(fault)), Vec::new()),
    };
    let json = words.to_string();
    let length = u32::try_from(json.len()).map_err(js_error)?;
    let mut block = Vec::with_capacity(4 + json.len() + body.len());
    block.extend(length.to_le_bytes());
    block.extend(json.into_bytes());
    block.extend(body);
    Ok(block)
}

fn js_error(e: impl std::fmt::Display) -> JsValue {
    js_sys::Error::new(&e.to_string()).into()
}

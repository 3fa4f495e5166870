//! The commands through tauri's mock runtime: no window, no display, no WebKit process.
#![expect(clippy::unwrap_used, reason = "a test may stop")]

use serde_json::{Value, json};
use tauri::ipc::{CallbackFn, InvokeBody, InvokeResponseBody};
use tauri::test::{
    INVOKE_KEY, MockRuntime, get_ipc_response, mock_builder, mock_context, noop_assets,
};
use tauri::webview::InvokeRequest;
use tauri::{App, WebviewWindow, WebviewWindowBuilder};

/// What the page does with `invoke(cmd, body)`.
fn invoke(
    w: &WebviewWindow<MockRuntime>,
    cmd: &str,
    body: InvokeBody,
) -> Result<InvokeResponseBody, Value> {
    get_ipc_response(
        w,
        InvokeRequest {
            cmd: cmd.into(),
            callback: CallbackFn(0),
            error: CallbackFn(1),
            // the origin of a local page; on Windows and Android it is http + tauri.localhost
            url: "tauri://localhost".parse().unwrap(),
            body,
            headers: Default::default(),
            invoke_key: INVOKE_KEY.to_string(),
        },
    )
}

fn ask(w: &WebviewWindow<MockRuntime>, cmd: &str, args: Value) -> Result<Value, Value> {
    invoke(w, cmd, InvokeBody::Json(args)).map(|b| b.deserialize().unwrap())
}

fn call(w: &WebviewWindow<MockRuntime>, name: &str, args: Value) -> Result<Value, Value> {
    ask(w, "call", json!({ "name": name, "args": args }))
}

/// 4 bytes little-endian length, JSON, bytes: written out here by hand, so that the page's side of the
/// format is checked and not our own function.
fn block(words: &Value, body: &[u8]) -> Vec<u8> {
    let json = words.to_string();
    let length = u32::try_from(json.len()).unwrap();
    [&length.to_le_bytes(), json.as_bytes(), body].concat()
}

fn temp_dir(name: &str) -> std::path::PathBuf {
    let d = std::env::temp_dir().join(format!("airwright-{}-{name}", std::process::id()));
    // what an earlier run with the same number left behind, if anything
    let _ = std::fs::remove_dir_all(&d);
    d
}

fn window(app: &App<MockRuntime>, label: &str) -> WebviewWindow<MockRuntime> {
    // the mock runtime does not make the windows of tauri.conf.json by itself
    WebviewWindowBuilder::new(app, label, Default::default())
        .build()
        .unwrap()
}

/// No access list: the commands alone.
#[test]
fn the_desk_answers_and_faults_are_coded() {
    let dir = temp_dir("answers");
    let context = mock_context(noop_assets());
    let app = shell_lib::build_app(mock_builder(), context, Some(dir.clone())).unwrap();
    let w = window(&app, "main");
    for cmd in ["call", "compute"] {
        let asked = |name: &str| ask(&w, cmd, json!({ "name": name, "args": { "n": 1 } }));
        assert_eq!(asked("probe_echo"), Ok(json!({ "n": 1 })));
        assert_eq!(asked("nope").unwrap_err()["code"], "unknown_command");
        assert_eq!(asked("probe_panic").unwrap_err()["code"], "internal");
        // the panic was caught inside the lock: the desk still answers
        assert_eq!(asked("probe_echo"), Ok(json!({ "n": 1 })));
    }
    assert!(dir.join("airwright.db").exists());
    std::fs::remove_dir_all(dir).unwrap();
}

#[test]
fn bytes_travel_beside_their_words() {
    let dir = temp_dir("bytes");
    let context = mock_context(noop_assets());
    let app = shell_lib::build_app(mock_builder(), context, Some(dir.clone())).unwrap();
    let w = window(&app, "main");
    for cmd in ["call_bytes", "compute_bytes"] {
        let question = block(&json!({ "name": "probe_echo", "args": "Größe" }), b"\0\xff");
        let answer = match invoke(&w, cmd, InvokeBody::Raw(question)).unwrap() {
            InvokeResponseBody::Raw(bytes) => bytes,
            InvokeResponseBody::Json(text) => panic!("JSON came back: {text}"),
        };
        assert_eq!(answer, block(&json!({ "answer": "Größe" }), b"\0\xff"));
        let nonsense = invoke(&w, cmd, InvokeBody::Raw(vec![1, 2])).unwrap_err();
        assert_eq!(nonsense["code"], "bad_message");
        let json = invoke(&w, cmd, InvokeBody::Json(json!({}))).unwrap_err();
        assert_eq!(json["code"], "bad_message");
    }
    std::fs::remove_dir_all(dir).unwrap();
}

#[test]
fn a_photo_is_a_file_beside_the_database_and_comes_back() {
    let dir = temp_dir("photo");
    let bytes = |w: &WebviewWindow<MockRuntime>, words: Value, body: &[u8]| match invoke(
        w,
        "call_bytes",
        InvokeBody::Raw(block(&words, body)),
    )
    .unwrap()
    {
        InvokeResponseBody::Raw(bytes) => bytes,
        InvokeResponseBody::Json(text) => panic!("JSON came back: {text}"),
    };
    // the head of a PNG picture of 2 x 3
    let picture = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR\0\0\0\x02\0\0\0\x03\x08\x02\0\0\0";
    let context = mock_context(noop_assets());
    let app = shell_lib::build_app(mock_builder(), context, Some(dir.clone())).unwrap();
    let w = window(&app, "main");
    let job = call(&w, "create_job", json!({ "name": "Photo" })).unwrap()["id"].clone();
    let question = json!({ "name": "add_photo", "args": { "job": job } });
    bytes(&w, question, picture);
    // SHA-256 of these bytes by sha256sum of coreutils
    let hash = "1365029f2d10d4f38b478c2e227c28144e96b7ec2b72be74d61c833f7e6a84b6";
    let file = dir.join("photos").join(format!("{hash}.png"));
    assert_eq!(std::fs::read(file).unwrap(), picture);
    let question = json!({ "name": "photo", "args": { "hash": hash } });
    let answer = bytes(&w, question, &[]);
    let words = json!({ "answer": { "mime": "image/png" } });
    assert_eq!(answer, block(&words, picture));
    std::fs::remove_dir_all(dir).unwrap();
}

/// The program's own tauri.conf.json and capabilities: the access list is tested too.
#[test]
fn only_the_main_window_may_call_and_nothing_else() {
    let dir = temp_dir("access");
    let context = tauri::generate_context!(test = true);
    let app = shell_lib::build_app(mock_builder(), context, Some(dir.clone())).unwrap();
    let main = window(&app, "main");
    assert_eq!(call(&main, "probe_echo", json!(1)), Ok(json!(1)));
    assert!(call(&window(&app, "other"), "probe_echo", json!(1)).is_err());
    let title = json!({ "label": "main", "value": "x" });
    assert!(ask(&main, "plugin:window|set_title", title).is_err());
    assert!(ask(&main, "plugin:dialog|open", json!({ "options": {} })).is_err());
    std::fs::remove_dir_all(dir).unwrap();
}

/// The other program is played by this test, which holds the lock file as it would.
#[test]
fn one_program_at_a_time_owns_the_jobs() {
    let dir = temp_dir("owner");
    std::fs::create_dir_all(&dir).unwrap();
    let other = std::fs::File::create(dir.join("airwright.lock")).unwrap();
    other.try_lock().unwrap();
    let context = mock_context(noop_assets());
    let app = shell_lib::build_app(mock_builder(), context, Some(dir.clone())).unwrap();
    let w = window(&app, "main");
    let code = |answer: Result<Value, Value>| answer.unwrap_err()["code"].clone();
    assert_eq!(code(ask(&w, "status", json!({}))), "open_elsewhere");
    assert_eq!(code(call(&w, "probe_echo", json!(1))), "open_elsewhere");
    assert_eq!(code(ask(&w, "reopen", json!({}))), "open_elsewhere");
    // what needs no database goes on
    let echo = json!({ "name": "probe_echo", "args": 1 });
    assert_eq!(ask(&w, "compute", echo), Ok(json!(1)));
    drop(other);
    assert_eq!(ask(&w, "reopen", json!({})), Ok(Value::Null));
    assert_eq!(call(&w, "probe_echo", json!(1)), Ok(json!(1)));
    std::fs::remove_dir_all(dir).unwrap();
}

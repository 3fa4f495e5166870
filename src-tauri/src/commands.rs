//! The desk's doors as commands of the window. Each runs on a thread for blocking work: on the window's own
//! thread it would freeze the window, and on the few threads of the async pool two plans would keep a tick
//! waiting. Only what needs the database takes its lock.
use desk::Fault;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use tauri::ipc::{InvokeBody, Request, Response};
use tauri::{AppHandle, Manager, Runtime};

use crate::data::Data;
use crate::frame;

/// What comes before the bytes of a question.
#[derive(Deserialize)]
struct Question {
    name: String,
    args: Value,
}

/// What comes before the bytes of an answer.
#[derive(Serialize)]
struct Answer {
    answer: Value,
}

/// A command of the store.
#[tauri::command]
pub async fn call<R: Runtime>(
    app: AppHandle<R>,
    name: String,
    args: Value,
) -> Result<Value, Fault> {
    blocking(move || app.state::<Data>().ask(|desk| desk.call(&name, args))).await
}

/// A command of the store with bytes in or out, framed both ways.
#[tauri::command]
pub async fn call_bytes<R: Runtime>(
    app: AppHandle<R>,
    request: Request<'_>,
) -> Result<Response, Fault> {
    let block = raw(&request)?;
    blocking(move || {
        let (Question { name, args }, body) = frame::split(&block)?;
        let data = app.state::<Data>();
        answer(data.ask(|desk| desk.call_bytes(&name, args, body))?)
    })
    .await
}

/// Work that needs no database.
#[tauri::command]
pub async fn compute(name: String, args: Value) -> Result<Value, Fault> {
    blocking(move || desk::compute(&name, args)).await
}

/// Work that needs no database, with bytes in or out, framed both ways.
#[tauri::command]
pub async fn compute_bytes(request: Request<'_>) -> Result<Response, Fault> {
    let block = raw(&request)?;
    blocking(move || {
        let (Question { name, args }, body) = frame::split(&block)?;
        answer(desk::compute_bytes(&name, args, body)?)
    })
    .await
}

/// Nothing when the database is open, else the fault that says why not.
#[tauri::command]
pub async fn status<R: Runtime>(app: AppHandle<R>) -> Result<(), Fault> {
    blocking(move || app.state::<Data>().status()).await
}

/// Tries again to open a database that could not be opened.
#[tauri::command]
pub async fn reopen<R: Runtime>(app: AppHandle<R>) -> Result<(), Fault> {
    blocking(move || app.state::<Data>().reopen()).await
}

fn answer((answer, body): (Value, Vec<u8>)) -> Result<Response, Fault> {
    Ok(Response::new(frame::join(&Answer { answer }, &body)?))
}

/// The bytes of a request that was not sent as JSON.
pub fn raw(request: &Request<'_>) -> Result<Vec<u8>, Fault> {
    match request.body() {
        InvokeBody::Raw(bytes) => Ok(bytes.clone()),
        InvokeBody::Json(_) => Err(Fault {
            code: "bad_message".into(),
            message: "This command takes bytes.".into(),
            hint: "Restart Airwright.".into(),
        }),
    }
}

/// Runs on a thread that may wait.
pub async fn blocking<T: Send + 'static>(
    work: impl FnOnce() -> Result<T, Fault> + Send + 'static,
) -> Result<T, Fault> {
    // the desk catches the panics behind its door; what is left is a panic of this host
    let done = tauri::async_runtime::spawn_blocking(work).await;
    done.unwrap_or_else(|e| {
        Err(Fault {
            code: "internal".into(),
            message: format!("Something went wrong inside Airwright: {e}."),
            hint: "Nothing that was saved is lost. Try again.".into(),
        })
    })
}

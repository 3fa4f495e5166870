//! The one door: the list of commands, typed, with coded faults.
use std::panic::{AssertUnwindSafe, catch_unwind};

use serde::{Deserialize, Serialize};
use serde_json::Value;

/// A refusal: what happened and what to do. Callers branch on the code alone.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Fault {
    /// Stable, for programs.
    pub code: String,
    /// What happened, for people.
    pub message: String,
    /// What to do about it; may be empty.
    pub hint: String,
}

impl Fault {
    /// A fault of these three parts.
    pub fn new(code: &str, message: impl Into<String>, hint: &str) -> Fault {
        Fault {
            code: code.into(),
            message: message.into(),
            hint: hint.into(),
        }
    }
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}", self.message)
    }
}

impl std::error::Error for Fault {}

/// What a host lends the desk.
pub struct Host {
    /// Milliseconds since 1970-01-01 UTC.
    pub now_ms: fn() -> i64,
}

/// The open database with everything that can be asked of it.
pub struct Desk {
    _conn: rusqlite::Connection,
    _host: Host,
}

impl Desk {
    /// Takes an open database.
    pub fn open(conn: rusqlite::Connection, host: Host) -> Result<Desk, Fault> {
        Ok(Desk {
            _conn: conn,
            _host: host,
        })
    }

    /// A command of the store, JSON in and out. A panic becomes the fault `internal`.
    pub fn call(&mut self, name: &str, args: Value) -> Result<Value, Fault> {
        guarded(|| probe(name, args))
    }

    /// A command of the store with bytes in or out.
    pub fn call_bytes(
        &mut self,
        name: &str,
        args: Value,
        body: &[u8],
    ) -> Result<(Value, Vec<u8>), Fault> {
        guarded(|| probe_bytes(name, args, body))
    }
}

/// Work that needs no database, JSON in and out.
pub fn compute(name: &str, args: Value) -> Result<Value, Fault> {
    guarded(|| probe(name, args))
}

/// Work that needs no database, with bytes in or out.
pub fn compute_bytes(name: &str, args: Value, body: &[u8]) -> Result<(Value, Vec<u8>), Fault> {
    guarded(|| probe_bytes(name, args, body))
}

/// Whether the command is one of the store's.
pub fn needs_store(_name: &str) -> bool {
    true
}

fn guarded<T>(run: impl FnOnce() -> Result<T, Fault>) -> Result<T, Fault> {
    catch_unwind(AssertUnwindSafe(run)).unwrap_or_else(|_| {
        Err(Fault::new(
            "internal",
            "Something went wrong inside Airwright.",
            "Nothing that was saved is lost. Try again.",
        ))
    })
}

fn unknown(name: &str) -> Fault {
    Fault::new(
        "unknown_command",
        format!("There is no command “{name}”."),
        "",
    )
}

#[cfg(not(feature = "probe"))]
fn probe(name: &str, _args: Value) -> Result<Value, Fault> {
    Err(unknown(name))
}

#[cfg(not(feature = "probe"))]
fn probe_bytes(name: &str, _args: Value, _body: &[u8]) -> Result<(Value, Vec<u8>), Fault> {
    Err(unknown(name))
}

/// Commands that misbehave on purpose, for the tests of the hosts.
#[cfg(feature = "probe")]
#[expect(
    clippy::panic,
    clippy::empty_loop,
    reason = "this is what they are for"
)]
fn probe(name: &str, args: Value) -> Result<Value, Fault> {
    match name {
        "probe_panic" => panic!("asked to"),
        "probe_spin" => loop {},
        "probe_echo" => Ok(args),
        _ => Err(unknown(name)),
    }
}

#[cfg(feature = "probe")]
fn probe_bytes(name: &str, args: Value, body: &[u8]) -> Result<(Value, Vec<u8>), Fault> {
    match name {
        "probe_echo" => Ok((args, body.to_vec())),
        _ => probe(name, args).map(|answer| (answer, Vec::new())),
    }
}

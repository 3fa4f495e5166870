//! Refusals with a code, and the wall that keeps panics inside.

use std::panic::{AssertUnwindSafe, catch_unwind};

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A refusal: what happened and what to do. Callers branch on the code alone.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
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
    pub fn new(code: &str, message: impl Into<String>, hint: impl Into<String>) -> Fault {
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

/// Runs a command; a panic in it becomes the fault `internal`. On wasm32, where a panic traps, the worker is replaced instead.
pub(crate) fn guarded<T>(run: impl FnOnce() -> Result<T, Fault>) -> Result<T, Fault> {
    catch_unwind(AssertUnwindSafe(run)).unwrap_or_else(|_| {
        Err(Fault::new(
            "internal",
            "Something went wrong inside Airwright.",
            "Nothing that was saved is lost. Try again.",
        ))
    })
}

pub(crate) fn unknown(name: &str) -> Fault {
    Fault::new(
        "unknown_command",
        format!("There is no command “{name}”."),
        "",
    )
}

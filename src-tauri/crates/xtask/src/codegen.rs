//! `cargo xtask codegen`: the page's types from the desk's list of commands.
use std::ffi::OsStr;
use std::path::Path;

use crate::command::{Done, run_with};

/// The desk's own test that compares the committed file with a fresh one. Told to, it writes the file.
const TEST: &str = "typescript::committed_typescript_is_fresh";
const FILE: &str = "ui/src/desk/generated/commands.ts";

/// Writes the file anew.
pub fn codegen(root: &Path) -> Done {
    let written = || {
        std::fs::metadata(root.join(FILE))
            .and_then(|m| m.modified())
            .ok()
    };
    let before = written();
    let args = [
        "test", "-q", "-p", "desk", "--locked", "--lib", "--", "--exact", TEST,
    ];
    run_with(root, "cargo", &args, &[("UPDATE", OsStr::new("1"))])?;
    // a test that was renamed would not run, and nothing would say so
    if written() == before {
        return Err(format!("{FILE} was not written: is there still a test {TEST}?").into());
    }
    println!("{FILE} is fresh.");
    Ok(())
}

//! `cargo xtask codegen`: the page's types from the desk's list of commands.
use std::ffi::OsStr;
use std::path::Path;

use crate::command::{Done, run_with};

/// The desk's own test compares the committed files with fresh ones; told to, it writes them.
pub fn codegen(root: &Path) -> Done {
    run_with(
        root,
        "cargo",
        &["test", "-q", "-p", "desk", "--locked", "--test", "codegen"],
        &[("UPDATE", OsStr::new("1"))],
    )
}

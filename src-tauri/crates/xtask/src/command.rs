//! Programs that are run, and where things lie.
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::Command;

/// An error is a text that says which step failed and what to do.
pub type Done<T = ()> = Result<T, Box<dyn std::error::Error>>;

/// The workspace's folder: three above this crate's, as `cargo run` says it. Not `env!`: a target folder
/// that two clones share would hold a program that works in the other clone.
pub fn root() -> Done<PathBuf> {
    let here = std::env::var_os("CARGO_MANIFEST_DIR").ok_or("run me as `cargo xtask`")?;
    let root = Path::new(&here).ancestors().nth(3);
    Ok(root.ok_or("xtask is not where it was")?.to_path_buf())
}

/// Where cargo builds: CARGO_TARGET_DIR, else `target` in the workspace.
pub fn target(root: &Path) -> PathBuf {
    match std::env::var_os("CARGO_TARGET_DIR") {
        Some(dir) => root.join(dir),
        None => root.join("target"),
    }
}

/// Runs to the end, with the terminal for its own. An exit code other than 0 is an error.
pub fn run(dir: &Path, program: &str, args: &[&str]) -> Done {
    run_with(dir, program, args, &[])
}

/// The same with some variables set.
pub fn run_with(dir: &Path, program: &str, args: &[&str], vars: &[(&str, &OsStr)]) -> Done {
    let status = Command::new(program)
        .args(args)
        .current_dir(dir)
        .envs(vars.iter().copied())
        .status()
        .map_err(|e| format!("cannot run {program}: {e}"))?;
    if status.success() {
        return Ok(());
    }
    Err(format!("{program} {} ended with {status}", args.join(" ")).into())
}

/// What a program prints, or None when it cannot be run or says no.
pub fn output(program: &str, args: &[&str]) -> Option<String> {
    let out = Command::new(program).args(args).output().ok()?;
    let text = String::from_utf8_lossy(&out.stdout).trim().to_string();
    out.status.success().then_some(text)
}

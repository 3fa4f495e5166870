//! The desktop program, its page inside.
use std::path::{Path, PathBuf};

use crate::command::{Done, run, target};
use crate::needs;

/// Everything that compiles the shell stops when the page's folder is missing.
pub fn page(root: &Path) -> Done {
    needs::node_modules(root)?;
    run(&root.join("ui"), "npm", &["run", "build:shell"])?;
    // a file that is new in the folder is not noticed by itself
    let script = std::fs::File::options()
        .append(true)
        .open(root.join("src-tauri/build.rs"))?;
    Ok(script.set_modified(newest(&root.join("ui/dist/shell"))?)?)
}

/// For work on it: target/debug/airwright.
pub fn debug(root: &Path) -> Done {
    page(root)?;
    run(root, "cargo", &["build", "-p", "shell", "--locked"])
}

/// As it is given away, but for the package around it.
pub fn release(root: &Path) -> Done<PathBuf> {
    page(root)?;
    run(
        root,
        "cargo",
        &[
            "build",
            "-p",
            "shell",
            "--locked",
            "--release",
            "--features",
            "custom-protocol",
        ],
    )?;
    Ok(program(root, "release"))
}

/// The debug program with commands that misbehave on purpose, for the tests of the window. It is moved out
/// of the way of the program without them.
pub fn probe(root: &Path) -> Done<PathBuf> {
    run(
        root,
        "cargo",
        &["build", "-p", "shell", "--locked", "--features", "probe"],
    )?;
    let aside = target(root).join("airwright-probe");
    std::fs::copy(program(root, "debug"), &aside)?;
    Ok(aside)
}

/// Where cargo puts the program.
pub fn program(root: &Path, profile: &str) -> PathBuf {
    let name = format!("airwright{}", std::env::consts::EXE_SUFFIX);
    target(root).join(profile).join(name)
}

/// When the youngest file below this folder was written.
fn newest(dir: &Path) -> Done<std::time::SystemTime> {
    let mut newest = std::time::UNIX_EPOCH;
    for entry in std::fs::read_dir(dir)? {
        let entry = entry?;
        let time = match entry.file_type()?.is_dir() {
            true => self::newest(&entry.path())?,
            false => entry.metadata()?.modified()?,
        };
        newest = newest.max(time);
    }
    Ok(newest)
}

//! What has to be on the machine: looked for, shown as one line, installed only with consent.
use std::io::{BufRead, IsTerminal, Write};
use std::path::{Path, PathBuf};

use crate::command::{Done, output, run, target};

/// May system packages be installed?
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Consent {
    /// `--yes`
    Given,
    /// Shown first, and asked.
    Ask,
}

/// A linker, and what finds libraries.
pub const BUILD: [&str; 2] = ["build-essential", "pkg-config"];
/// The window: the web view and what it brings.
pub const WINDOW: [&str; 1] = ["libwebkit2gtk-4.1-dev"];
/// Compiles SQLite for the browser.
pub const WASM: [&str; 1] = ["clang"];
/// Drives the window and a browser with no screen, reads the PDF files, and judges the invoices.
pub const TESTS: [&str; 9] = [
    "webkit2gtk-driver",
    "xvfb",
    "xauth",
    "fonts-dejavu-core",
    "chromium",
    "qpdf",
    "poppler-utils",
    "python3-venv",
    "python3-lxml",
];

/// The least Node that Vite 8 takes: 20.19.
const NODE: (u32, u32) = (20, 19);

/// Makes sure that these Debian packages are there. Other systems are told what they need, and go on.
pub fn packages(wanted: &[&str], consent: Consent) -> Done {
    if !cfg!(target_os = "linux") {
        return Ok(());
    }
    if output("dpkg-query", &["--version"]).is_none() {
        println!(
            "This is not a Debian system. What Debian calls {} has to be there.",
            wanted.join(", ")
        );
        return Ok(());
    }
    let missing: Vec<&str> = wanted.iter().copied().filter(|p| !installed(p)).collect();
    if missing.is_empty() {
        return Ok(());
    }
    let sudo = if output("id", &["-u"]).as_deref() == Some("0") {
        ""
    } else {
        "sudo "
    };
    let line = format!(
        "{sudo}apt-get update && {sudo}env DEBIAN_FRONTEND=noninteractive apt-get install -y \
         --no-install-recommends -o DPkg::Lock::Timeout=600 {}",
        missing.join(" ")
    );
    println!("These system packages are missing. This line installs them:\n\n    {line}\n");
    if consent == Consent::Ask && !agreed()? {
        return Err("Nothing was installed. Run the line above, then try again.".into());
    }
    run(Path::new("/"), "sh", &["-c", &line])
}

fn installed(package: &str) -> bool {
    let status = output("dpkg-query", &["-W", "-f=${db:Status-Status}", package]);
    status.as_deref() == Some("installed")
}

fn agreed() -> Done<bool> {
    let input = std::io::stdin();
    if !input.is_terminal() {
        return Ok(false);
    }
    print!("Run it now? [y/N] ");
    std::io::stdout().flush()?;
    let mut answer = String::new();
    input.lock().read_line(&mut answer)?;
    Ok(matches!(answer.trim(), "y" | "Y" | "yes"))
}

/// The target for browsers. `rust-toolchain.toml` names it, but rustup leaves a toolchain that is already there as it is.
pub fn rust_target(triple: &str) -> Done {
    match output("rustup", &["target", "list", "--installed"]) {
        Some(installed) if installed.lines().all(|line| line != triple) => {
            run(Path::new("."), "rustup", &["target", "add", triple])
        }
        // no rustup: the system's own Rust, which brings its targets in its own way
        _ => Ok(()),
    }
}

/// The page's packages, exactly as the lock file says. Left alone when they are newer than it.
pub fn node_modules(root: &Path) -> Done {
    let version = output("node", &["--version"])
        .ok_or("Node is missing: install Node 20.19 or newer, with npm.")?;
    if node_version(&version).is_none_or(|found| found < NODE) {
        return Err(format!("Node {version} is too old: 20.19 or newer is needed.").into());
    }
    let ui = root.join("ui");
    let changed = |file: &Path| std::fs::metadata(file).and_then(|m| m.modified()).ok();
    let wanted = changed(&ui.join("package-lock.json"));
    let have = changed(&ui.join("node_modules/.package-lock.json"));
    if have.is_some() && have >= wanted {
        return Ok(());
    }
    run(&ui, "npm", &["ci"])
}

/// A Python with what `tests/judges.txt` names, and with the system's `lxml`; made once in the target folder.
pub fn judges(root: &Path) -> Done {
    let python = judging_python(root);
    let folder = target(root).join("judges");
    let list = root.join("tests/judges.txt");
    let kept = folder.join("judges.txt");
    if std::fs::read(&kept).ok() == Some(std::fs::read(&list)?) {
        return Ok(());
    }
    let folder = folder.to_string_lossy();
    let venv = ["-m", "venv", "--clear", "--system-site-packages", &folder];
    // another Python that comes first in the path does not know the system's `lxml`
    let system = "/usr/bin/python3";
    let maker = if Path::new(system).exists() {
        system
    } else {
        "python3"
    };
    run(root, maker, &venv)?;
    let list_name = list.to_string_lossy();
    let pip = [
        "-m",
        "pip",
        "install",
        "--quiet",
        "--no-deps",
        "--require-hashes",
        "--only-binary=:all:",
        "-r",
        &list_name,
    ];
    run(root, &python.to_string_lossy(), &pip)?;
    std::fs::copy(&list, &kept)?;
    Ok(())
}

/// The Python that [`judges`] makes.
pub fn judging_python(root: &Path) -> PathBuf {
    target(root).join("judges/bin/python")
}

/// `v20.19.2` → 20 and 19.
fn node_version(text: &str) -> Option<(u32, u32)> {
    let mut parts = text.strip_prefix('v')?.split('.');
    Some((parts.next()?.parse().ok()?, parts.next()?.parse().ok()?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_old_node_is_told_from_a_new_one() {
        assert!(node_version("v20.18.3").unwrap() < NODE);
        assert!(node_version("v20.19.0").unwrap() >= NODE);
        assert!(node_version("v22.1.0").unwrap() >= NODE);
        assert_eq!(node_version("next"), None);
    }
}

//! What has to be on the machine: looked for, shown as one line, installed only with consent.
use std::io::{BufRead, IsTerminal, Write};
use std::path::Path;

use crate::command::{Done, output, run};

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
/// Drives the window and a browser with no screen, and reads the PDF files.
pub const TESTS: [&str; 7] = [
    "webkit2gtk-driver",
    "xvfb",
    "xauth",
    "fonts-dejavu-core",
    "chromium",
    "qpdf",
    "poppler-utils",
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

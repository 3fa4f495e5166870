//! `cargo xtask test`: every check, in an order in which nothing is missing. The first that fails ends it.
use std::path::Path;
use std::time::{Duration, Instant};

use crate::command::{Done, run, run_with, target};
use crate::needs::{self, BUILD, Consent, TESTS, WASM, WINDOW};
use crate::{shell, web};

/// A name for the summary, and what it does.
type Step = (&'static str, fn(&Path) -> Done);

const STEPS: [Step; 14] = [
    ("Rust is formatted", formatted),
    ("the page's packages", needs::node_modules),
    ("the web app builds", web::shipped),
    ("the page's types and access rules", page_types),
    ("the page's tests", page_tests),
    ("the desktop page builds", shell::page),
    ("clippy, native", clippy_native),
    ("clippy, browser", clippy_wasm),
    ("the pure crates build for the browser", pure_crates),
    ("the judges of invoices", needs::judges),
    ("Rust tests", rust_tests),
    ("the desktop window", window),
    ("the web app for its tests", web::probe),
    ("the web app in a browser", browser),
];

/// Runs them all and prints how long each took.
pub fn check(root: &Path, consent: Consent) -> Done {
    needs::packages(&[&BUILD[..], &WINDOW, &WASM, &TESTS].concat(), consent)?;
    let mut took = Vec::new();
    for (i, (name, step)) in STEPS.iter().enumerate() {
        println!("\n=== {} of {}: {name}", i + 1, STEPS.len());
        let since = now();
        if let Err(e) = step(root) {
            summary(&took);
            return Err(format!("FAILED  {name}\n{e}").into());
        }
        took.push((*name, since.elapsed()));
    }
    summary(&took);
    println!("\nEverything passed.");
    Ok(())
}

fn summary(took: &[(&str, Duration)]) {
    println!("\n=== Summary");
    for (name, time) in took {
        println!("passed  {:>5.0} s  {name}", time.as_secs_f64());
    }
}

#[expect(clippy::disallowed_methods, reason = "this program runs on no wasm32")]
fn now() -> Instant {
    Instant::now()
}

fn formatted(root: &Path) -> Done {
    run(root, "cargo", &["fmt", "--all", "--", "--check"])
}

fn page_types(root: &Path) -> Done {
    run(&root.join("ui"), "npm", &["run", "check"])
}

fn page_tests(root: &Path) -> Done {
    run(&root.join("ui"), "npm", &["test"])
}

fn clippy_native(root: &Path) -> Done {
    run(
        root,
        "cargo",
        &[
            "clippy",
            "--workspace",
            "--all-targets",
            "--locked",
            "--",
            "-D",
            "warnings",
        ],
    )
}

/// Without the target, clippy sees an empty worker crate.
fn clippy_wasm(root: &Path) -> Done {
    run(
        root,
        "cargo",
        &[
            "clippy",
            "-p",
            "worker",
            "--target",
            "wasm32-unknown-unknown",
            "--locked",
            "--",
            "-D",
            "warnings",
        ],
    )
}

/// One by one: together, cargo would give each the features that another asks for.
fn pure_crates(root: &Path) -> Done {
    for package in ["solve", "job", "plan", "papers"] {
        run(
            root,
            "cargo",
            &[
                "build",
                "-p",
                package,
                "--target",
                "wasm32-unknown-unknown",
                "--locked",
            ],
        )?;
    }
    Ok(())
}

fn rust_tests(root: &Path) -> Done {
    let python = needs::judging_python(root);
    let vars = [("AIRWRIGHT_PYTHON", python.as_os_str())];
    run_with(root, "cargo", &["test", "--workspace", "--locked"], &vars)
}

fn window(root: &Path) -> Done {
    let probe = shell::probe(root)?;
    run(root, "cargo", &["build", "-p", "shell", "--locked"])?;
    let files = tests(root, "tests/shell")?;
    let mut args = vec![
        "-a",
        "-s",
        "-screen 0 1280x900x24",
        "node",
        "--test",
        "--test-concurrency=1",
    ];
    args.extend(files.iter().map(String::as_str));
    let program = shell::program(root, "debug");
    let vars = [
        ("AIRWRIGHT_PROGRAM", program.as_os_str()),
        ("AIRWRIGHT_PROBE", probe.as_os_str()),
    ];
    run_with(root, "xvfb-run", &args, &vars)
}

fn browser(root: &Path) -> Done {
    // the native side of "the same bytes natively and in the browser"
    run(root, "cargo", &["build", "-p", "cli", "--locked"])?;
    let cli = target(root).join("debug").join("airwright-cli");
    let mut files = tests(root, "tests/web")?;
    files.extend(tests(root, "ui/tests")?);
    let mut args = vec!["--test", "--test-concurrency=1"];
    args.extend(files.iter().map(String::as_str));
    run_with(root, "node", &args, &[("AIRWRIGHT_CLI", cli.as_os_str())])
}

/// The test files of a folder. Named one by one: what `node --test` does with a folder changed between versions.
fn tests(root: &Path, dir: &str) -> Done<Vec<String>> {
    let mut files = Vec::new();
    for entry in std::fs::read_dir(root.join(dir))? {
        let name = entry?.file_name().to_string_lossy().into_owned();
        if name.ends_with(".test.mjs") {
            files.push(format!("{dir}/{name}"));
        }
    }
    if files.is_empty() {
        return Err(format!("there is no test in {dir}").into());
    }
    files.sort();
    Ok(files)
}

//! The rules of the house that no compiler enforces. Each rule is a function from files to complaints, and
//! each is tried on a planted breach as well, so that none of them can pass by looking at nothing.
#![expect(clippy::unwrap_used, reason = "a test may stop")]

use std::path::{Path, PathBuf};

/// A file: its path from the root with `/` between the names, and its text.
struct File {
    path: String,
    text: String,
}

/// Written by programs, not by people.
const MADE: [&str; 8] = [
    ".git",
    "dist",
    "gen",
    "generated",
    "node_modules",
    "pkg",
    "pkg-probe",
    "target",
];
const CODE: [&str; 5] = ["rs", "ts", "mjs", "js", "css"];
const LINES: usize = 600;
const COMPONENT_LINES: usize = 300;

/// Which of our own crates each may use.
const ARROWS: [(&str, &[&str]); 10] = [
    ("crates/solve", &[]),
    ("crates/job", &[]),
    ("crates/plan", &["solve", "job"]),
    ("crates/store", &["job"]),
    ("crates/papers", &["plan", "job"]),
    ("crates/desk", &["solve", "job", "plan", "store", "papers"]),
    ("crates/worker", &["desk", "store"]),
    ("crates/cli", &["desk", "solve", "store"]),
    ("crates/xtask", &[]),
    ("src-tauri", &["desk", "store"]),
];
const OURS: [&str; 10] = [
    "solve", "job", "plan", "store", "papers", "desk", "worker", "cli", "xtask", "shell",
];

const PURE: [&str; 4] = ["solve", "job", "plan", "papers"];
/// Unordered, or the world outside.
const IMPURE: [&str; 9] = [
    "HashMap",
    "HashSet",
    "SystemTime",
    "Instant::now",
    "std::time",
    "std::fs",
    "std::env",
    "std::net",
    "std::process",
];

/// What only `ui/src/desk` may know.
const HOST: [&str; 5] = [
    "@tauri-apps",
    "__TAURI__",
    "#host",
    "#wasm",
    "virtual:pwa-register",
];

/// What leaves a test out, by the ending of the file. Written in two parts, or this file would accuse itself.
const LEFT_OUT: [(&str, &str); 6] = [
    ("rs", concat!("#[", "ignore")),
    ("js", concat!(".", "skip(")),
    ("js", concat!(".", "only(")),
    ("js", concat!(".", "todo(")),
    ("js", concat!("skip", ": true")),
    ("js", concat!("todo", ": true")),
];

fn too_long(files: &[File]) -> Vec<String> {
    let limit = |path: &str| match path.rsplit('.').next().unwrap_or_default() {
        "svelte" => Some(COMPONENT_LINES),
        ending if CODE.contains(&ending) => Some(LINES),
        _ => None,
    };
    let mut found = Vec::new();
    for f in files {
        let lines = f.text.lines().count();
        if let Some(most) = limit(&f.path).filter(|most| lines > *most) {
            found.push(format!("{}: {lines} lines, {most} at most", f.path));
        }
    }
    found
}

/// Files of code that no other file names as its module: they are not compiled, and so not tested.
fn orphans(files: &[File]) -> Vec<String> {
    let mut found = Vec::new();
    for f in files.iter().filter(|f| f.path.contains("/src/")) {
        let Some((folder, name)) = f.path.rsplit_once('/') else {
            continue;
        };
        let Some(stem) = name.strip_suffix(".rs") else {
            continue;
        };
        if matches!(stem, "lib" | "main") || folder.ends_with("/bin") {
            continue;
        }
        let (folder, stem) = match (stem, folder.rsplit_once('/')) {
            ("mod", Some(above)) => above,
            _ => (folder, stem),
        };
        let parents = [
            format!("{folder}.rs"),
            format!("{folder}/mod.rs"),
            format!("{folder}/lib.rs"),
            format!("{folder}/main.rs"),
        ];
        let named = files.iter().any(|p| {
            let module = parents.contains(&p.path) && p.text.contains(&format!("mod {stem};"));
            let by_path =
                p.path.starts_with(folder) && p.text.contains(&format!("path = \"{name}\""));
            module || by_path
        });
        if !named {
            found.push(format!("{}: no file names this module", f.path));
        }
    }
    found
}

fn wrong_arrows(files: &[File]) -> Vec<String> {
    let mut found = Vec::new();
    for f in files {
        let Some(folder) = f.path.strip_suffix("/Cargo.toml") else {
            continue;
        };
        let folder = folder.strip_prefix("src-tauri/").unwrap_or(folder);
        let Some((_, allowed)) = ARROWS.iter().find(|(name, _)| *name == folder) else {
            found.push(format!("{}: a crate that no arrow knows", f.path));
            continue;
        };
        for used in used_crates(&f.text) {
            if !allowed.contains(&used.as_str()) {
                found.push(format!("{}: may not use {used}", f.path));
            }
        }
    }
    found
}

/// Our crates in any of the dependency sections of a manifest, under their own names or renamed.
fn used_crates(manifest: &str) -> Vec<String> {
    let mut used = Vec::new();
    let mut dependencies = false;
    for line in manifest.lines().map(str::trim) {
        if let Some(section) = line.strip_prefix('[') {
            dependencies = section.contains("dependencies");
            // [dependencies.job]
            let last = section.trim_end_matches(']').rsplit('.').next();
            used.extend(last.filter(|_| dependencies).map(String::from));
        } else if dependencies {
            used.extend(line.split(['.', ' ', '=']).next().map(String::from));
            let renamed = line.split("package = \"").nth(1);
            used.extend(renamed.and_then(|r| r.split('"').next()).map(String::from));
        }
    }
    used.retain(|name| OURS.contains(&name.as_str()));
    used
}

/// Paths that a page for people names and that are not there.
fn lost_paths(page: &File, exists: impl Fn(&str) -> bool) -> Vec<String> {
    let in_path = |c: char| c.is_ascii_alphanumeric() || "/_-.".contains(c);
    let mut found = Vec::new();
    for start in ["src-tauri/", "ui/src/"] {
        for (at, _) in page.text.match_indices(start) {
            let rest = &page.text[at..];
            let path = rest.split(|c| !in_path(c)).next().unwrap_or_default();
            let path = path.trim_end_matches('.');
            if !exists(path) {
                found.push(format!("{}: there is no {path}", page.path));
            }
        }
    }
    found
}

fn left_out_tests(files: &[File]) -> Vec<String> {
    let mut found = Vec::new();
    for f in files {
        let language = match f.path.rsplit('.').next().unwrap_or_default() {
            "rs" => "rs",
            "ts" | "mjs" | "js" => "js",
            _ => continue,
        };
        for (_, word) in LEFT_OUT.iter().filter(|(l, _)| *l == language) {
            if f.text.contains(word) {
                found.push(format!("{}: {word}", f.path));
            }
        }
    }
    found
}

fn hosts_outside_the_door(files: &[File]) -> Vec<String> {
    let page = |f: &&File| f.path.starts_with("ui/src/") && !f.path.starts_with("ui/src/desk/");
    let mut found = Vec::new();
    for f in files.iter().filter(page) {
        for word in HOST.iter().filter(|w| f.text.contains(*w)) {
            found.push(format!("{}: {word} belongs in ui/src/desk", f.path));
        }
    }
    found
}

fn impure(files: &[File]) -> Vec<String> {
    let mut found = Vec::new();
    for f in files {
        let pure = PURE.iter().any(|name| {
            let source = format!("src-tauri/crates/{name}/src/");
            f.path.starts_with(&source) && f.path.ends_with(".rs")
        });
        let test = f.path.ends_with("/tests.rs") || f.path.ends_with("_tests.rs");
        if !pure || test || f.path.contains("/tests/") {
            continue;
        }
        for (number, line) in shipped_lines(&f.text) {
            for word in IMPURE.iter().filter(|w| line.contains(*w)) {
                found.push(format!("{}:{number}: {word}", f.path));
            }
        }
    }
    found
}

/// Without comments, and without a test module at the end of the file.
fn shipped_lines(text: &str) -> Vec<(usize, &str)> {
    let lines: Vec<&str> = text.lines().collect();
    let tests = lines
        .windows(2)
        .position(|w| w[0].trim() == "#[cfg(test)]" && w[1].trim_end().ends_with('{'));
    let shipped = &lines[..tests.unwrap_or(lines.len())];
    let code = |line: &&'_ str| -> usize { line.find("//").unwrap_or(line.len()) };
    let numbered = shipped.iter().enumerate();
    numbered
        .map(|(i, line)| (i + 1, &line[..code(line)]))
        .collect()
}

/// cargo says where this crate is when it runs a test. Not `env!`: see `root` in the crate.
fn root() -> PathBuf {
    let here = std::env::var_os("CARGO_MANIFEST_DIR").unwrap();
    Path::new(&here).ancestors().nth(3).unwrap().to_path_buf()
}

fn repository() -> Vec<File> {
    let root = root();
    let mut files = Vec::new();
    let mut folders = vec![root.clone()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_string_lossy();
            if path.is_dir() {
                if !MADE.contains(&&*name) {
                    folders.push(path);
                }
            } else if let Ok(text) = std::fs::read_to_string(&path) {
                let path = path.strip_prefix(&root).unwrap();
                let path = path.to_string_lossy().replace('\\', "/");
                files.push(File { path, text });
            } // what is no text is no code
        }
    }
    assert!(files.len() > 100, "this is not the whole repository");
    files
}

fn file(path: &str, text: &str) -> File {
    File {
        path: path.into(),
        text: text.into(),
    }
}

fn none(complaints: Vec<String>) {
    assert!(complaints.is_empty(), "\n{}", complaints.join("\n"));
}

#[test]
fn no_file_is_too_long() {
    none(too_long(&repository()));
    let planted = [
        file("a.rs", &"x\n".repeat(601)),
        file("b.rs", &"x\n".repeat(600)),
        file("c.svelte", &"x\n".repeat(301)),
        file("d.json", &"x\n".repeat(9000)),
    ];
    assert_eq!(too_long(&planted).len(), 2);
}

/// Once a commit took two lines out of a `mod.rs`, and two files with their tests were compiled no longer.
#[test]
fn every_file_is_compiled() {
    none(orphans(&repository()));
    let planted = [
        file("c/src/lib.rs", "mod a;\nmod b;\n"),
        file(
            "c/src/a.rs",
            "#[cfg(test)]\n#[path = \"a_tests.rs\"]\nmod tests;\n",
        ),
        file("c/src/a_tests.rs", ""),
        file("c/src/b/mod.rs", "pub mod inner;\n"),
        file("c/src/b/inner.rs", ""),
        file("c/src/b/lost.rs", ""),
        file("c/src/forgotten/mod.rs", ""),
    ];
    assert_eq!(orphans(&planted).len(), 2);
}

#[test]
fn arrows_between_crates_run_one_way() {
    let files = repository();
    let manifests: Vec<File> = files
        .into_iter()
        .filter(|f| f.path.starts_with("src-tauri/") && f.path.ends_with("/Cargo.toml"))
        .collect();
    assert_eq!(manifests.len(), ARROWS.len());
    none(wrong_arrows(&manifests));
    let plan = "src-tauri/crates/plan/Cargo.toml";
    for (path, manifest, complaints) in [
        (
            plan,
            "[dependencies]\njob.workspace = true\nserde = \"1\"",
            0,
        ),
        (plan, "[dependencies]\nstore.workspace = true", 1),
        (plan, "[dev-dependencies]\npapers = { path = \"x\" }", 1),
        (plan, "[dependencies]\nx = { package = \"desk\" }", 1),
        (plan, "[dependencies.store]\npath = \"x\"", 1),
        (plan, "[features]\nstore = []", 0),
        (
            "src-tauri/Cargo.toml",
            "[dependencies]\nplan.workspace = true",
            1,
        ),
        ("src-tauri/crates/new/Cargo.toml", "", 1),
    ] {
        let found = wrong_arrows(&[file(path, manifest)]);
        assert_eq!(found.len(), complaints, "{manifest}: {found:?}");
    }
}

#[test]
fn the_map_names_only_what_is_there() {
    let root = root();
    let exists = |path: &str| root.join(path).exists();
    for name in ["DEVELOPERS.md", "README.md"] {
        let text = std::fs::read_to_string(root.join(name)).unwrap_or_default();
        none(lost_paths(&file(name, &text), exists));
    }
    let page = file(
        "x.md",
        "in `src-tauri/crates/job`, and in src-tauri/crates/jobs.",
    );
    assert_eq!(
        lost_paths(&page, exists),
        ["x.md: there is no src-tauri/crates/jobs"]
    );
}

#[test]
fn no_test_is_left_out() {
    none(left_out_tests(&repository()));
    for (language, word) in LEFT_OUT {
        let planted = [file(&format!("a.{language}"), word)];
        assert_eq!(left_out_tests(&planted).len(), 1, "{word}");
    }
    let iterator = concat!("bytes.iter().", "skip(1)");
    assert!(left_out_tests(&[file("a.rs", iterator)]).is_empty());
}

#[test]
fn one_folder_of_the_page_knows_the_hosts() {
    none(hosts_outside_the_door(&repository()));
    let planted = [
        file(
            "ui/src/rooms/a.ts",
            "import { invoke } from '@tauri-apps/api/core'",
        ),
        file("ui/src/App.svelte", "window.__TAURI__"),
        file("ui/src/desk/shell.ts", "window.__TAURI__"),
    ];
    assert_eq!(hosts_outside_the_door(&planted).len(), 2);
}

#[test]
fn the_pure_crates_touch_nothing_outside() {
    none(impure(&repository()));
    let planted = [
        file(
            "src-tauri/crates/plan/src/a.rs",
            "use std::collections::HashMap;",
        ),
        file(
            "src-tauri/crates/job/src/b.rs",
            "#[cfg(test)]\nmod tests;\nuse std::fs;",
        ),
        file(
            "src-tauri/crates/job/src/c.rs",
            "// a HashMap would be unordered",
        ),
        file(
            "src-tauri/crates/job/src/d.rs",
            "#[cfg(test)]\nmod tests {\nuse std::fs;",
        ),
        file("src-tauri/crates/store/src/e.rs", "use std::fs;"),
    ];
    let found = impure(&planted);
    assert_eq!(
        found,
        [
            "src-tauri/crates/plan/src/a.rs:1: HashMap",
            "src-tauri/crates/job/src/b.rs:3: std::fs"
        ]
    );
}

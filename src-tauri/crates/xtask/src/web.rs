//! The web app: wasm, its glue, and the page around it.
use std::path::Path;

use crate::command::{Done, run, target};
use crate::needs;

const TRIPLE: &str = "wasm32-unknown-unknown";

/// Named one by one: with all features wasm-opt writes proposals that browsers do not have yet.
const WASM_FEATURES: [&str; 7] = [
    "--enable-bulk-memory",
    "--enable-bulk-memory-opt",
    "--enable-nontrapping-float-to-int",
    "--enable-sign-ext",
    "--enable-mutable-globals",
    "--enable-reference-types",
    "--enable-multivalue",
];

/// What is given away: ui/dist/web.
pub fn shipped(root: &Path) -> Done {
    needs::node_modules(root)?;
    shipped_backend(root)?;
    run(&root.join("ui"), "npm", &["run", "build:web"])
}

/// The small, optimised wasm in ui/pkg. The type check of the page needs it.
fn shipped_backend(root: &Path) -> Done {
    let ui = root.join("ui");
    let pkg = ui.join("pkg");
    wasm(root, "web", &["--profile", "web"], &pkg)?;
    // printpdf exports an interface of its own from every wasm build, and so keeps its parser alive
    run(
        &ui,
        "node",
        &[
            "strip-exports.mjs",
            "pkg/worker_bg.wasm",
            "pkg/stripped.wasm",
            "^pdf_",
        ],
    )?;
    let mut args = vec![
        "node_modules/.bin/wasm-opt",
        "-Oz",
        "--strip-debug",
        "--strip-producers",
    ];
    args.extend(WASM_FEATURES);
    args.extend(["pkg/stripped.wasm", "-o", "pkg/worker_bg.wasm"]);
    run(&ui, "node", &args)?;
    Ok(std::fs::remove_file(pkg.join("stripped.wasm"))?)
}

/// The same app for the browser tests, with commands that misbehave on purpose: ui/dist/probe.
/// Not optimised: it shares its crates with the other debug builds, and keeps their assertions.
pub fn probe(root: &Path) -> Done {
    let ui = root.join("ui");
    wasm(
        root,
        "debug",
        &["--features", "probe"],
        &ui.join("pkg-probe"),
    )?;
    run(
        &ui,
        "node",
        &["node_modules/.bin/vite", "build", "--mode", "probe"],
    )
}

/// Builds the worker crate and writes its glue.
fn wasm(root: &Path, folder: &str, flags: &[&str], pkg: &Path) -> Done {
    needs::rust_target(TRIPLE)?;
    let mut args = vec!["build", "-p", "worker", "--locked", "--target", TRIPLE];
    args.extend(flags);
    run(root, "cargo", &args)?;
    // the same work as the `wasm-bindgen` command, pinned by this workspace's Cargo.lock
    wasm_bindgen_cli_support::Bindgen::new()
        .input_path(target(root).join(TRIPLE).join(folder).join("worker.wasm"))
        .web(true)?
        .typescript(true)
        .generate(pkg)?;
    Ok(())
}

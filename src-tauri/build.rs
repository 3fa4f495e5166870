//! The access list of our own commands, and the linker's hiding of the SQLite inside.

fn main() -> Result<(), Box<dyn std::error::Error>> {
    tauri_build::try_build(tauri_build::Attributes::new().app_manifest(
        tauri_build::AppManifest::new().commands(&[
            "call",
            "call_bytes",
            "compute",
            "compute_bytes",
            "status",
            "reopen",
            "save_file",
            "open_file",
            "file_to_open",
        ]),
    ))?;

    // WebKitGTK loads the system's libsqlite3 into this same process. Without this, the linker exports
    // the bundled SQLite's symbols from the program and WebKit, libsoup and libsqlite3.so bind to them.
    if std::env::var("CARGO_CFG_TARGET_OS").as_deref() == Ok("linux") {
        println!("cargo:rustc-link-arg-bins=-Wl,--exclude-libs,ALL");
    }
    Ok(())
}

//! `cargo xtask start`: from a clone to something that can be used.
use std::path::Path;

use crate::command::{Done, run};
use crate::needs::{self, BUILD, Consent, WASM, WINDOW};
use crate::{serve, shell, web};

/// Opens the desktop program, or where there is no display serves the web app.
pub fn start(root: &Path, consent: Consent) -> Done {
    if has_display() {
        needs::packages(&[&BUILD[..], &WINDOW].concat(), consent)?;
        println!("Building the desktop program; the first time takes some minutes.");
        let program = shell::release(root)?;
        println!("Opening Airwright.");
        run(root, &program.to_string_lossy(), &[])
    } else {
        println!("There is no display here: the web app is built and served instead.");
        needs::packages(&[&BUILD[..], &WASM].concat(), consent)?;
        web::shipped(root)?;
        serve::serve(&root.join("ui/dist/web"))
    }
}

fn has_display() -> bool {
    let set = |name| std::env::var_os(name).is_some_and(|v| !v.is_empty());
    !cfg!(target_os = "linux") || set("DISPLAY") || set("WAYLAND_DISPLAY")
}

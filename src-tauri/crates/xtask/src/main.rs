//! `cargo xtask start` and `cargo xtask test`, and the builds that both stand on.
mod check;
mod codegen;
mod command;
mod needs;
mod serve;
mod shell;
mod start;
mod web;

use std::process::ExitCode;

use command::{Done, root};
use needs::Consent;

const USAGE: &str = "\
cargo xtask start [--yes]   builds Airwright and opens it (without a display: serves the web app)
cargo xtask test [--yes]    every check, in an order in which nothing is missing
cargo xtask web             the web app, in ui/dist/web
cargo xtask shell           the desktop program, in target/debug/airwright
cargo xtask probe           both once more with commands that misbehave, for tests/shell and tests/web
cargo xtask judges          the Python that judges invoices, in target/judges
cargo xtask codegen         the page's types, from the desk's list of commands

--yes installs missing system packages without asking";

fn main() -> ExitCode {
    match ask() {
        Ok(()) => ExitCode::SUCCESS,
        Err(e) => {
            eprintln!("\n{e}");
            ExitCode::FAILURE
        }
    }
}

fn ask() -> Done {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let (command, consent) = match words[..] {
        [command] => (command, Consent::Ask),
        [command @ ("start" | "test"), "--yes"] => (command, Consent::Given),
        _ => return Err(USAGE.into()),
    };
    let root = root()?;
    match command {
        "start" => start::start(&root, consent),
        "test" => check::check(&root, consent),
        "web" => web::shipped(&root),
        "shell" => shell::debug(&root),
        "probe" => shell::probe(&root).and_then(|_| web::probe(&root)),
        "judges" => needs::judges(&root),
        "codegen" => codegen::codegen(&root),
        _ => Err(USAGE.into()),
    }
}

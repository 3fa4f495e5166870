//! The desktop program.
#![cfg_attr(not(debug_assertions), windows_subsystem = "windows")]

fn main() {
    shell_lib::run();
}

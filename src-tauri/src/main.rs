//! The desktop program.
fn main() { shell_lib::run(); }

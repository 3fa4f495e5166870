//! The terminal host.
fn main() {}

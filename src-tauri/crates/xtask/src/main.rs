//! The two commands of the README, and codegen.
fn main() {}

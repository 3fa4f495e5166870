//! The desktop host.
/// Starts.
pub fn run() {}

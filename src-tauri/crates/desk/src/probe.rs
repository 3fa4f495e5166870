//! Commands that misbehave on purpose, for the tests of the hosts. Never in a shipped build.
#![expect(
    clippy::panic,
    clippy::empty_loop,
    reason = "this is what they are for"
)]

use serde_json::Value;

use crate::fault::{Fault, unknown};

pub(crate) fn knows(name: &str) -> bool {
    name.starts_with("probe_")
}

pub(crate) fn json(name: &str, args: Value) -> Result<Value, Fault> {
    match name {
        "probe_panic" => panic!("asked to"),
        "probe_spin" => loop {},
        "probe_echo" => Ok(args),
        _ => Err(unknown(name)),
    }
}

pub(crate) fn bytes(name: &str, args: Value, body: &[u8]) -> Result<(Value, Vec<u8>), Fault> {
    match name {
        "probe_echo" => Ok((args, body.to_vec())),
        _ => json(name, args).map(|answer| (answer, Vec::new())),
    }
}

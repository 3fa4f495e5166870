//! The browser host; an empty crate natively.
#![cfg(all(target_family = "wasm", target_os = "unknown"))]

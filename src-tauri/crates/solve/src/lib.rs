//! Solvers that know no balloon. Each has a checker of its own. No IO, no clock, no randomness that is not an argument.

pub mod catenary;
pub mod curve;
pub mod loading;
pub mod packing;
pub mod schedule;

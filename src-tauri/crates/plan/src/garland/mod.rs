//! A garland: from its recipe to clusters on a line.
//!
//! Recipe → number of clusters → balls by size and colour → pairs of one colour → clusters → order along the line → length.
//! The number of clusters is the smallest whose line is as long as the path, by the instant rule.

mod along;
mod audit;
mod balls;
mod build;
mod fillers;
mod ground;
mod hand;
mod packed;
mod plan;
#[cfg(test)]
mod tests;

pub use audit::audit;
pub use balls::{Entry, Mix, OddOne, Recipe};
pub use build::{Build, NoBuild, fit, from_pairs};
pub use ground::pipe;
pub use hand::{Change, Numbered};
pub use packed::{Depth, MOST_PACKED, Memory, Packed, Refused, Site};
pub use plan::{garland_plan, with_packing};

//! Boxes into a load space: rigid and soft ones, by rules of support, fragility and the order of unloading.
//!
//! [`greedy`] puts items in one by one ([`spot`] finds where) and improves its order; [`beam`] places [`blocks`] of equal items into
//! free [`spaces`]; [`solver`] puts the two together; [`check`] judges what comes out. [`fleet`] goes as often as it takes and says
//! why something stays behind; [`portal`] is the way of a rigid piece through doors, lifts and stairs.

mod beam;
mod blocks;
pub mod check;
pub mod fleet;
mod greedy;
pub mod portal;
mod sequence;
mod solver;
mod spaces;
mod spot;
pub mod thpack;
pub mod types;

pub use solver::{Fault, Search, load};

#[cfg(test)]
mod tests;

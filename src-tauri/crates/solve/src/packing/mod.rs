//! Spheres in clusters along a line.

pub mod instant;
mod near;
pub mod rings;
pub mod types;
pub mod volume;

pub use types::{Ball, Cluster, Effort, Obstacle, Packing, PathFault, Settings};

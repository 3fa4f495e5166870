//! Spheres in clusters along a line.

pub mod instant;
pub mod types;

pub use types::{Ball, Cluster, Effort, Obstacle, Packing, PathFault, Settings};

//! Spheres in clusters along a line.
//!
//! Each cluster is placed as near to the one before as it goes ([`place`]), nestled while the last few are loose ([`window`]), then all
//! are polished together with the gaps between ties as coordinates ([`polish`]).

pub mod calibrate;
pub mod check;
mod contacts;
mod draw_out;
pub mod fill;
mod foot;
mod hoop;
pub mod instant;
mod length;
mod local;
pub mod measure;
mod near;
mod outline;
pub mod path;
mod place;
mod polish;
pub(crate) mod random;
mod relax;
pub mod rings;
mod shape;
mod sight;
mod solver;
mod state;
pub mod types;
pub mod volume;
mod wall;
mod window;

pub use draw_out::draw_out;
pub use shape::MOST_IN_CLUSTER;
pub use solver::{extend, pack, pack_from_loose, pack_greedily, repack};
pub use types::{Ball, Cluster, Effort, Obstacle, Packing, PathFault, Settings, off_rod};

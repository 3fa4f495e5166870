//! Spheres in clusters along a line.

pub mod instant;

//! Showing on paper: PDF, CSV.

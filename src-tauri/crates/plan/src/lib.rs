//! The trade: from a job to a plan. No IO, no clock, no randomness; the same job gives the same bits everywhere.

pub mod bags;
pub mod chain;
pub mod cluster;
pub mod fresh;
pub mod garland;
pub mod inflate;
pub mod load;
pub mod order;
pub mod pieces;
pub mod price;
pub mod spread;
pub mod stock_length;
pub mod tasks;
pub mod tax;
pub mod times;
pub mod types;
pub mod work;

pub use types::Plan;

//! The trade: from a job to a plan.

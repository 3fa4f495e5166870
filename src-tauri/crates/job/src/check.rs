//! Validation of a job: all findings at once.

use crate::{Finding, Job, Private};

/// Everything that is wrong with a job as it was entered.
#[must_use]
pub fn check(_job: &Job, _private: Option<&Private>) -> Vec<Finding> {
    Vec::new()
}

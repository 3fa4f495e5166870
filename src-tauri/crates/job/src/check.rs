//! Validation of a job: all findings at once.

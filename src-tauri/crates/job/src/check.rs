//! Validation of a job: all findings at once.
//!
//! What the plan finds while it counts, schedules, loads and prices (a colour that is missing, a path without length,
//! nobody who drives) is not said here a second time.

mod away;
mod day;
mod hand;
mod hanging;
mod money;
mod numbers;
mod people;
mod pieces;
mod pins;
mod set_pieces;
mod stock;
mod texts;
mod times;
mod venue;

use crate::{Finding, Job, Private};

/// Everything that is wrong with a job as it was entered. A crew copy has no private part.
#[must_use]
pub fn check(job: &Job, private: Option<&Private>) -> Vec<Finding> {
    let mut findings = Vec::new();
    findings.extend(venue::findings(job));
    findings.extend(times::findings(job));
    findings.extend(people::findings(job));
    findings.extend(pieces::findings(job));
    findings.extend(pins::findings(job));
    findings.extend(away::findings(job));
    findings.extend(stock::findings(job));
    findings.extend(day::findings(job));
    findings.extend(texts::findings(job));
    if let Some(private) = private {
        findings.extend(money::findings(private));
        findings.extend(day::private_findings(private));
        findings.extend(texts::private_findings(private));
    }
    findings
}

#[cfg(test)]
#[path = "check/tests.rs"]
mod tests;

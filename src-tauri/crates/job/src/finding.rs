//! Findings: what is wrong or needs a look, what to do, and where. All of them at once, never an error.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::edit::Edit;
use crate::list::words;

words! {
    /// How much a finding matters, worst first.
    pub enum Severity {
        /// Must be solved.
        Stop,
        /// Look at this.
        Care,
        /// Worth knowing.
        #[default]
        Note,
    }

    /// The room where a finding is solved.
    pub enum Room {
        /// Client, venue, access, times, people.
        #[default]
        Brief,
        /// Pieces, path, palette, mix.
        Design,
        /// Order, sizing, clusters, stringing.
        Make,
        /// Who does what, from when.
        Times,
        /// Bags, doors, vehicle.
        Load,
        /// The checklist.
        Site,
        /// Papers and price.
        Papers,
    }
}

/// Something that a person should know or do.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Finding {
    /// Says which rule found it; screens and tests branch on this only.
    pub code: String,
    /// How much it matters.
    pub severity: Severity,
    /// What is wrong: one sentence.
    pub message: String,
    /// What to do: one sentence.
    pub action: String,
    /// Where it is solved.
    pub room: Room,
    /// The field it is about: a path into the job, or into the private part if it begins with `private`.
    pub path: Vec<String>,
    /// Ready-made cures.
    pub fixes: Vec<Fix>,
}

/// A cure: a label for its button, and the edits that it makes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Fix {
    /// A verb and what.
    pub label: String,
    /// What it changes.
    pub edits: Vec<Edit>,
}

impl Finding {
    /// A finding without ready-made cures.
    #[must_use]
    pub fn new(
        code: &str,
        severity: Severity,
        room: Room,
        path: &[&str],
        message: impl Into<String>,
        action: impl Into<String>,
    ) -> Self {
        Self {
            code: code.into(),
            severity,
            message: message.into(),
            action: action.into(),
            room,
            path: path.iter().map(ToString::to_string).collect(),
            fixes: Vec::new(),
        }
    }

    /// The same finding with one more cure.
    #[must_use]
    pub fn fix(mut self, label: impl Into<String>, edits: Vec<Edit>) -> Self {
        self.fixes.push(Fix {
            label: label.into(),
            edits,
        });
        self
    }
}

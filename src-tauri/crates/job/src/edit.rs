//! Typed edits: a document is changed by a path and a value, never by writing back a whole struct that was read earlier.

use serde::{Deserialize, Serialize};
use serde_json::Value;
use ts_rs::TS;

/// Which document of a job an edit is for.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize, TS,
)]
#[serde(rename_all = "snake_case")]
pub enum Part {
    /// The job itself, shared with the crew.
    #[default]
    Job,
    /// Client and money.
    Private,
}

/// One change of a document. A path is a list of keys from the top: `["venue", "name"]`, `["pieces", "p1", "name"]`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "op", rename_all = "snake_case")]
pub enum Edit {
    /// Sets one field. The value must be of the field's type.
    Set {
        /// Which document.
        #[serde(default)]
        part: Part,
        /// The field.
        path: Vec<String>,
        /// Its new value.
        value: Value,
    },
    /// Puts an item into a list.
    Add {
        /// Which document.
        #[serde(default)]
        part: Part,
        /// The list.
        path: Vec<String>,
        /// The new item's id: lower-case letters, digits, `-` and `_`; never used before in this list.
        id: String,
        /// Before this item; none is at the end.
        #[serde(default)]
        before: Option<String>,
        /// Fields of the item; those not named have their defaults.
        value: Value,
    },
    /// Moves an item of a list.
    Move {
        /// Which document.
        #[serde(default)]
        part: Part,
        /// The list.
        path: Vec<String>,
        /// The item.
        id: String,
        /// Before this item; none is to the end.
        #[serde(default)]
        before: Option<String>,
    },
    /// Takes an item off a list. It stays in the document, marked as gone.
    Remove {
        /// Which document.
        #[serde(default)]
        part: Part,
        /// The list.
        path: Vec<String>,
        /// The item.
        id: String,
    },
    /// Puts a removed item back.
    Restore {
        /// Which document.
        #[serde(default)]
        part: Part,
        /// The list.
        path: Vec<String>,
        /// The item.
        id: String,
    },
}

impl Edit {
    /// The document that the edit is for.
    #[must_use]
    pub fn part(&self) -> Part {
        match self {
            Edit::Set { part, .. }
            | Edit::Add { part, .. }
            | Edit::Move { part, .. }
            | Edit::Remove { part, .. }
            | Edit::Restore { part, .. } => *part,
        }
    }

    /// Sets a field of the job.
    #[must_use]
    pub fn set(path: &[&str], value: impl Into<Value>) -> Edit {
        Edit::Set {
            part: Part::Job,
            path: path.iter().map(ToString::to_string).collect(),
            value: value.into(),
        }
    }
}

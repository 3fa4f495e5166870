//! Arguments and answers of the commands on papers.

use job::{Finding, Ids, Job, Private};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

view! {
    /// A paper to make.
    pub struct MakePaper {
        /// Which one.
        pub kind: PaperKind,
        /// The job.
        pub job: Job,
        /// Client and money; absent in a crew copy.
        pub private: Option<Private>,
        /// Hand-overs that were signed, for the client summary.
        #[serde(default)]
        pub signatures: Ids<job::day::Signature>,
        /// Whose name stands on it.
        pub own: job::books::Own,
        /// Size of the sheet.
        pub size: SheetSize,
        /// Language tag, such as `en-GB`.
        pub language: String,
        /// When it is made, ms since 1970 UTC.
        pub made_ms: i64,
        /// Inches and feet instead of metres.
        pub us_units: bool,
        /// `2:30 pm` instead of `14:30`.
        pub twelve_hours: bool,
        /// Its pages for a screen as well.
        #[serde(default)]
        #[ts(optional, as = "Option<bool>")]
        pub show: bool,
        /// Calendar: the job's id, by which its events are known again.
        #[serde(default)]
        #[ts(optional)]
        pub id: Option<String>,
        /// Calendar: only this person's work, by the id in the crew.
        #[serde(default)]
        #[ts(optional)]
        pub person: Option<String>,
    }

    /// A paper that was made.
    pub struct PaperMade {
        /// A name for the file, safe on every system.
        pub name: String,
        /// Its kind.
        pub mime: String,
        /// Pages; 0 for a table.
        pub pages: i64,
        /// What could not be printed as it is.
        pub findings: Vec<Finding>,
        /// The same for a screen, where that was asked for.
        #[serde(skip_serializing_if = "Option::is_none")]
        #[ts(optional)]
        pub shown: Option<PaperShown>,
    }

    /// A paper for a screen.
    pub struct PaperShown {
        /// Each page as an SVG element: the marks of the PDF in the same places.
        pub pages: Vec<String>,
        /// The papers in it.
        pub parts: Vec<PaperPart>,
    }

    /// One of the papers in a pack.
    pub struct PaperPart {
        /// Its name.
        pub title: String,
        /// Its first page, from 0.
        pub page: i64,
    }
}

/// Which paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum PaperKind {
    /// For the client.
    ClientSummary,
    /// For the crew.
    CrewPack,
    /// The order as a table (CSV).
    OrderCsv,
    /// Labels for bags and cases.
    Labels,
    /// What is to be bought.
    ShoppingList,
    /// The times as a calendar file (RFC 5545).
    Calendar,
}

/// Size of a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum SheetSize {
    /// 210 x 297 mm.
    A4,
    /// 8.5 x 11 in.
    Letter,
}

/// How a field or an item differs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum ChangeKind {
    /// It has another value.
    Set,
    /// It is new in its list, or back in it.
    Added,
    /// It was taken off its list.
    Removed,
    /// It has another place in its list.
    Moved,
}

//! Showing on paper: PDF and CSV. No IO, no clock: the same input gives the same bytes everywhere.

mod attach;
mod bill;
mod calendar;
mod client;
mod colour;
mod crew;
mod csv;
mod doc;
mod draw;
mod finish;
mod flow;
mod handed;
mod labels;
mod letters;
mod marks;
mod palette;
mod parts;
mod pdf;
mod picture;
mod say;

mod shopping;
mod sizes;
mod source;
pub mod still;
mod style;
mod svg;
mod table;
mod text;
mod ubl;

#[cfg(test)]
mod layout_tests;
#[cfg(test)]
mod ten_tests;

use job::books::Own;
use job::{Finding, Room, Severity};

pub use bill::bill_paper;
pub use calendar::{Asked as CalendarAsked, calendar};
pub use client::client_summary;
pub use crew::{crew_pack, order_csv};
pub use labels::labels;
pub use shopping::shopping_list;
pub use ubl::ubl;

use doc::{Bookmark, Doc};
use marks::Group;

/// The size of a sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PaperSize {
    /// 210 by 297 mm.
    #[default]
    A4,
    /// 8.5 by 11 in.
    Letter,
}

impl PaperSize {
    /// In mm.
    #[must_use]
    pub fn width(self) -> f64 {
        match self {
            PaperSize::A4 => 210.0,
            PaperSize::Letter => 215.9,
        }
    }

    /// In mm.
    #[must_use]
    pub fn height(self) -> f64 {
        match self {
            PaperSize::A4 => 297.0,
            PaperSize::Letter => 279.4,
        }
    }
}

/// How lengths, masses and volumes are written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Units {
    /// Metres, kilogrammes, cubic metres.
    #[default]
    Metric,
    /// Feet and inches, pounds, cubic feet.
    Us,
}

/// How times are written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Clock {
    /// `14:30`.
    #[default]
    H24,
    /// `2:30 pm`.
    H12,
}

/// What a paper is printed on and by whom; nothing of it is in the job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sheet {
    /// Size of the paper.
    pub size: PaperSize,
    /// When it was made, as a person reads it, in local time.
    pub made_on: String,
    /// When it was made, as PDF writes it: `D:20270612103000+01'00'`.
    pub pdf_date: String,
    /// Language of the words, such as `en-GB`.
    pub language: String,
    /// How lengths are written.
    pub units: Units,
    /// How times are written.
    pub clock: Clock,
    /// The decorator.
    pub own: Own,
    /// When it was made, ms since 1970 UTC: on a day that runs the crew pack tells it from then on. None tells the plan as it was made.
    pub now_ms: Option<i64>,
}

/// A finished paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Paper {
    /// The file.
    pub pdf: Vec<u8>,
    /// Its pages as plain text in reading order.
    pub text: Vec<String>,
    /// What a person should know about it, such as letters that could not be printed.
    pub findings: Vec<Finding>,
    title: String,
    size: PaperSize,
    pages: Vec<Vec<Group>>,
    bookmarks: Vec<Bookmark>,
}

impl Paper {
    /// Its pages for a screen, each an SVG element: the marks of the PDF, in the same places.
    #[must_use]
    pub fn shown(&self) -> Vec<String> {
        svg::pages(&self.pages, self.size, &self.title)
    }

    /// The papers in it: the name of each, and its first page from 0.
    pub fn parts(&self) -> impl Iterator<Item = (&str, usize)> {
        self.bookmarks.iter().map(|b| (b.title.as_str(), b.page))
    }
}

/// A paper could not be made: a mistake of the program, never of its user.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PaperError {
    /// Always `paper_failed`.
    pub code: &'static str,
    /// What happened.
    pub message: String,
    /// What to do.
    pub hint: String,
}

impl PaperError {
    fn inside(what: &str) -> PaperError {
        PaperError {
            code: "paper_failed",
            message: format!("The paper could not be made: {what}."),
            hint: "Nothing is lost. Try again; if it fails again, keep a copy of the job file and report it."
                .to_string(),
        }
    }
}

impl std::fmt::Display for PaperError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} {}", self.message, self.hint)
    }
}

impl std::error::Error for PaperError {}

/// Writes the file and the plain text, and says which letters could not be printed.
fn finished(doc: Doc, title: &str, sheet: &Sheet) -> Result<Paper, PaperError> {
    Ok(Paper {
        pdf: pdf::write(&doc, title, sheet)?,
        text: marks::listing(&doc.pages),
        findings: letters_finding(&doc).into_iter().collect(),
        title: title.to_string(),
        size: sheet.size,
        pages: doc.pages,
        bookmarks: doc.bookmarks,
    })
}

/// The finding about letters that the typeface lacks.
fn letters_finding(doc: &Doc) -> Option<Finding> {
    let missing: Vec<String> = doc.pen.missing.iter().map(char::to_string).collect();
    let (first, more) = missing.split_at_checked(12).unwrap_or((&missing, &[]));
    if first.is_empty() {
        return None;
    }
    let more = if more.is_empty() {
        String::new()
    } else {
        format!(" and {} more", more.len())
    };
    Some(Finding::new(
        "paper_letters",
        Severity::Care,
        Room::Papers,
        &[],
        format!(
            "Papers cannot print {}{more}; a question mark stands in their place.",
            first.join(" ")
        ),
        "Add a Latin spelling of the names that hold them.",
    ))
}

//! A kind of balloon that is bought: what it is called, which item of the job it is, and how it is usually sold.

use job::Job;
use job::list::live;
use job::stock::{Item, ItemKind};

use crate::made::glyphs;
use crate::types::OrderLine;

/// What the item of a ring link is called.
pub const RING_LINK: &str = "ring link";

/// The id of helium where the job has no item of it.
pub const HELIUM_ID: &str = "helium";

/// Kind, colour, size, and for a foil its character or form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Thing<'a> {
    /// What it is.
    pub kind: ItemKind,
    /// Colour, id.
    pub colour: &'a str,
    /// Nominal size, in.
    pub size_in: i64,
    /// A foil's character, or ring link; empty for a plain foil, and for latex.
    pub text: &'a str,
}

impl<'a> Thing<'a> {
    /// A round or a link.
    pub fn latex(kind: ItemKind, colour: &'a str, size_in: i64) -> Self {
        Self {
            kind,
            colour,
            size_in,
            text: "",
        }
    }

    /// Whether an item of the job is this. A foil's character stands in the item's name; a plain foil may be called what it likes, if
    /// that is no character and no ring link.
    pub fn is(&self, item: &Item) -> bool {
        let alike =
            item.kind == self.kind && item.colour == self.colour && item.size_in == self.size_in;
        alike && (self.kind != ItemKind::Foil || self.named(item.name.trim()))
    }

    fn named(&self, name: &str) -> bool {
        if self.text.is_empty() {
            name.chars().count() != 1 && !name.eq_ignore_ascii_case(RING_LINK)
        } else {
            name.eq_ignore_ascii_case(self.text)
        }
    }

    /// The job's item with its id.
    pub fn item<'j>(&self, job: &'j Job) -> Option<(&'j str, &'j Item)> {
        live(&job.items).into_iter().find(|(_, item)| self.is(item))
    }

    /// `Old rose 11 in`, `Ivory link 6 in`, `Gold foil 5, 34 in`.
    pub fn name(&self, job: &Job) -> String {
        let colour = job.colours.get(self.colour).map_or("", |c| c.name.trim());
        let colour = if colour.is_empty() {
            "Colour without a name"
        } else {
            colour
        };
        let size_in = self.size_in;
        match (self.kind, self.text) {
            (ItemKind::Link, _) => format!("{colour} link {size_in} in"),
            (ItemKind::Foil, "") => format!("{colour} foil {size_in} in"),
            (ItemKind::Foil, RING_LINK) => format!("{colour} {RING_LINK} {size_in} in"),
            (ItemKind::Foil, text) => format!("{colour} foil {text}, {size_in} in"),
            _ => format!("{colour} {size_in} in"),
        }
    }

    /// The id that it gets when it is added to the job's list, and that its steps have until then.
    pub fn id(&self) -> String {
        let kind = match self.kind {
            ItemKind::Link => "link",
            ItemKind::Foil => "foil",
            _ => "",
        };
        let (colour, size_in) = (self.colour, self.size_in);
        match self.text {
            "" => format!("{colour}-{kind}{size_in}"),
            text => format!("{colour}-{kind}{size_in}-{}", glyphs::word(text)),
        }
    }

    /// Bags that it usually comes in. Common practice, no source.
    pub fn usual_bags(&self) -> Vec<i64> {
        match self.size_in {
            _ if self.text == RING_LINK => vec![5],
            _ if self.kind == ItemKind::Foil => vec![1],
            ..=12 => vec![100, 50, 25],
            13..=23 => vec![50, 25],
            _ => vec![10, 5],
        }
    }
}

/// The id of what a line orders, where the job has no item of it.
#[must_use]
pub fn id_of(line: &OrderLine) -> String {
    if line.kind == ItemKind::Helium {
        return HELIUM_ID.into();
    }
    Thing {
        kind: line.kind,
        colour: &line.colour,
        size_in: line.size_in,
        text: &line.text,
    }
    .id()
}

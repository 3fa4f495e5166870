//! Numbers that no real job has: negative ones, and ones that somebody mistyped.

use serde_json::Value;

use crate::edit::{Edit, Part};
use crate::finding::{Finding, Severity};
use crate::read::room_of;

/// A number with the range in which it makes sense.
pub(super) struct Number {
    /// The last key of its path.
    pub field: &'static str,
    /// What it is, as a sentence begins with it.
    pub what: &'static str,
    /// Unit, with a space before it if it takes one.
    pub unit: &'static str,
    /// As entered.
    pub value: i64,
    /// The value that a new job has.
    pub usual: i64,
    /// Smallest and largest that make sense.
    pub range: (i64, i64),
}

/// One row of a table of numbers.
pub(super) fn number(
    field: &'static str,
    what: &'static str,
    unit: &'static str,
    value: i64,
    usual: i64,
    range: (i64, i64),
) -> Number {
    Number {
        field,
        what,
        unit,
        value,
        usual,
        range,
    }
}

/// The numbers of one record that are out of their range. `whose` is put in front, such as `Side door: `.
pub(super) fn out_of_range(
    part: Part,
    record: &[&str],
    whose: &str,
    numbers: &[Number],
) -> Vec<Finding> {
    numbers
        .iter()
        .filter(|n| n.value < n.range.0 || n.value > n.range.1)
        .map(|n| finding(part, record, whose, n))
        .collect()
}

fn finding(part: Part, record: &[&str], whose: &str, n: &Number) -> Finding {
    let path = [record, &[n.field]].concat();
    let (low, high) = n.range;
    let unit = n.unit;
    let whose = if whose.is_empty() {
        String::new()
    } else {
        format!("{whose}: ")
    };
    let mut found = Finding::new(
        "out_of_range",
        Severity::Stop,
        room_of(&path),
        &path,
        format!(
            "{whose}{} cannot be {}{unit}. It is from {low} to {high}{unit}.",
            n.what, n.value
        ),
        "Enter it again.",
    )
    .fix(
        format!("Set to {}{unit}", n.usual),
        vec![set(part, &path, n.usual)],
    );
    if part == Part::Private {
        found = in_private(found);
    }
    found
}

/// Sets a field of either document.
pub(super) fn set(part: Part, path: &[&str], value: impl Into<Value>) -> Edit {
    Edit::Set {
        part,
        path: path.iter().map(ToString::to_string).collect(),
        value: value.into(),
    }
}

/// The finding with a path that says that it is about the private part.
pub(super) fn in_private(mut finding: Finding) -> Finding {
    finding.path.insert(0, "private".into());
    finding
}

/// What a record is called in a message: its own name, or its kind.
pub(super) fn called<'a>(name: &'a str, otherwise: &'a str) -> &'a str {
    let name = name.trim();
    if name.is_empty() { otherwise } else { name }
}

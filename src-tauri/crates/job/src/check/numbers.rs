//! Numbers that no real job has: negative ones, and ones that somebody mistyped.

use serde_json::Value;

use crate::currency::decimal;
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
    /// Of an amount of money: its currency.
    pub currency: Option<String>,
}

impl Number {
    fn bare(&self, value: i64) -> String {
        let currency = self.currency.as_deref();
        currency.map_or_else(|| value.to_string(), |c| decimal(value, c))
    }

    fn say(&self, value: i64) -> String {
        match self.currency.as_deref() {
            None | Some("") => format!("{}{}", self.bare(value), self.unit),
            Some(currency) => format!("{} {currency}", self.bare(value)),
        }
    }
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
        currency: None,
    }
}

/// One row of a table of numbers, an amount of money.
pub(super) fn amount(
    field: &'static str,
    what: &'static str,
    value: i64,
    usual: i64,
    range: (i64, i64),
    currency: &str,
) -> Number {
    Number {
        currency: Some(currency.into()),
        ..number(field, what, "", value, usual, range)
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
            "{whose}{} cannot be {}. It is from {} to {}.",
            n.what,
            n.say(n.value),
            n.bare(low),
            n.say(high)
        ),
        "Enter it again.",
    )
    .fix(
        format!("Set to {}", n.say(n.usual)),
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

//! Fields of a job in the decorator's words: what a field is called, what its value means, where in the work it belongs.
//! The one place for it: differences from the books, what a job file changes, and what two devices set apart all use it.

mod names;
mod value;

use job::Part;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use ts_rs::TS;

pub use value::{Measure, Shown};

/// Where in the work a field belongs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Area {
    /// Name, occasion, stage.
    Job,
    /// Agreed times.
    Times,
    /// The venue.
    Venue,
    /// Drive, vehicle, doors.
    Way,
    /// People.
    People,
    /// Kit.
    Kit,
    /// Pieces.
    Pieces,
    /// Colours, items, sundries.
    Stock,
    /// How long work takes, spares, freshness.
    Rates,
    /// Kept moments.
    Kept,
    /// The client.
    Client,
    /// Prices, costs, charges.
    Price,
    /// Instalments, bills, what it really took.
    Bills,
    /// What happened on site, ticks and notes aside.
    Site,
}

/// Says fields of one job; with the job's own names for its items.
pub struct Words<'a> {
    job: &'a Value,
    private: Option<&'a Value>,
}

impl<'a> Words<'a> {
    /// Names are looked up in these documents.
    pub fn of(job: &'a Value, private: Option<&'a Value>) -> Words<'a> {
        Words { job, private }
    }

    /// What a path is called: `Arch over the stairs: span`. A path into the private part begins with `private`.
    pub fn path(&self, path: &[String]) -> String {
        let keys = inside(path);
        let Some((field, above)) = keys.split_last() else {
            return String::new();
        };
        let (record, subject) = self.subject(above, field);
        let name = match names::name(record, field) {
            _ if self.is_item(keys) => self.item(keys),
            Some(name) => name.to_string(),
            None => readable(field),
        };
        match (subject.is_empty(), self.is_item(keys)) {
            (true, false) => capital(&name),
            (true, true) => name,
            (false, _) => format!("{subject}: {name}"),
        }
    }

    /// What the last key of a path is called, without what it belongs to.
    pub fn field(&self, path: &[String]) -> String {
        let keys = inside(path);
        let Some((field, above)) = keys.split_last() else {
            return String::new();
        };
        names::name(self.subject(above, field).0, field).map_or_else(|| readable(field), Into::into)
    }

    /// What a value of the field at a path means.
    pub fn value(&self, path: &[String], value: &Value) -> Shown {
        let keys = inside(path);
        let field = keys.last().map_or("", String::as_str);
        match (field, value) {
            (_, Value::String(id)) if id.is_empty() => Shown::text(""),
            // a bill is a document of its own: that it changed is enough
            ("content", Value::String(_)) => Shown::text("as it says"),
            ("photo", Value::String(_)) => Shown::text("a photograph"),
            ("srgb" | "zone" | "currency" | "unit", Value::String(text)) => {
                Shown::text(text.as_str())
            }
            (
                "colour" | "inside" | "topper_colour" | "foil_colour" | "top_colour",
                Value::String(id),
            ) => Shown::text(self.name_in("colours", id)),
            ("shade", Value::String(id)) => {
                let palette = keys
                    .get(..keys.len().saturating_sub(3))
                    .map(|kind| [kind, &["palette".to_string(), id.clone()]].concat());
                let colour = palette
                    .and_then(|path| self.at(&path).get("colour").cloned())
                    .unwrap_or_default();
                Shown::text(self.name_in("colours", colour.as_str().unwrap_or(id)))
            }
            ("item", Value::String(id)) => Shown::text(self.name_in("items", id)),
            ("on", Value::String(id)) => Shown::text(self.name_in("pieces", id)),
            ("gone", Value::Bool(gone)) => {
                Shown::text(if *gone { "taken away" } else { "in the list" })
            }
            // metres are kept whole for a walk: as a length they are said like any other
            (field, Value::Number(n)) if is_metres(field) => match n.as_i64() {
                Some(m) => Shown {
                    measure: Measure::Mm,
                    n: m.saturating_mul(1000),
                    text: String::new(),
                },
                None => Shown::text(n.to_string()),
            },
            (field, Value::String(word)) if is_word(field) => Shown::text(names::word(field, word)),
            _ => Shown::of(field, value),
        }
    }

    /// What an item of a list is called: its own name, or what tells it from the others.
    pub fn item_name(&self, list: &str, id: &str, item: &Value) -> String {
        let text = |field: &str| item[field].as_str().unwrap_or_default();
        let number = |field: &str| item[field].as_i64();
        let numbered = |n: i64| format!("{} {n}", names::item_of(list));
        for field in ["name", "label", "number", "text", "what"] {
            if !text(field).is_empty() {
                return text(field).to_string();
            }
        }
        match list {
            "items" => match (self.name_in("colours", text("colour")), number("size_in")) {
                (colour, Some(size)) if size > 0 => format!("{colour} {size} in").trim().into(),
                (colour, _) if !colour.is_empty() => colour,
                _ => names::item_of(list).to_string(),
            },
            "mix" => number("size_in").map_or_else(|| id.into(), |size| format!("{size} in")),
            "palette" => self.name_in("colours", text("colour")),
            "sundries" => self.name_in("items", text("item")),
            "costs" | "used" => self.name_in("items", id),
            // clusters are counted from 0 in the job and from 1 by people
            "hand" => id
                .parse()
                .map_or_else(|_| id.into(), |n: i64| numbered(n.saturating_add(1))),
            "notes" => "a note".into(),
            "kept" => names::word("kind", text("kind")),
            "vehicles" => item["vehicle"]["name"].as_str().unwrap_or("vehicle").into(),
            _ => names::item_of(list).to_string(),
        }
    }

    /// The record that a field stands in, and the items on the way to it by their names.
    fn subject<'k>(&self, above: &'k [String], field: &str) -> (&'k str, String) {
        let mut named = Vec::new();
        for end in 2..=above.len() {
            let way = &above[..end];
            if self.is_item(way) {
                named.push(self.item(way));
            }
        }
        let record = match above {
            [] => "job",
            // the fields of an item are those of its list
            [.., list, _] if self.is_item(above) => list.as_str(),
            [.., record] => record.as_str(),
        };
        // rates and rules are many alike: they say which they are
        if let ("rates", false) = (record, field.is_empty()) {
            named.push("How long it takes".into());
        }
        (record, named.join(", "))
    }

    /// The item at a path, by its name.
    fn item(&self, path: &[String]) -> String {
        match path {
            [.., list, id] => self.item_name(list, id, self.at(path)),
            _ => String::new(),
        }
    }

    /// Whether the path leads to an item of a list.
    pub fn is_item(&self, path: &[String]) -> bool {
        let is_list = |list: &[String]| {
            job::complete::complete(list, &Value::Object(Default::default())).is_ok()
        };
        path.split_last()
            .is_some_and(|(_, list)| !list.is_empty() && is_list(list))
    }

    fn name_in(&self, list: &str, id: &str) -> String {
        let path = [list.to_string(), id.to_string()];
        match self.at(&path) {
            Value::Null => String::new(),
            item => self.item_name(list, id, item),
        }
    }

    /// What stands at a path, in whichever document has it.
    fn at(&self, path: &[String]) -> &Value {
        let find = |doc: &'a Value| path.iter().try_fold(doc, |at, key| at.get(key));
        let found = find(self.job).or_else(|| self.private.and_then(find));
        found.unwrap_or(&Value::Null)
    }
}

/// The path inside its document.
fn inside(path: &[String]) -> &[String] {
    match path {
        [first, rest @ ..] if first == "private" => rest,
        _ => path,
    }
}

/// Which document a path leads into, and the path there.
pub fn split(path: &[String]) -> (Part, Vec<String>) {
    let part = match path.first() {
        Some(first) if first == "private" => Part::Private,
        _ => Part::Job,
    };
    (part, inside(path).to_vec())
}

/// Where in the work a path belongs.
pub fn area(path: &[String]) -> Area {
    match inside(path).first().map_or("", String::as_str) {
        "name" | "occasion" | "stage" | "gone" | "format" => Area::Job,
        "times" | "pins" | "teams" | "away" => Area::Times,
        "venue" => Area::Venue,
        "drive" | "vehicle" | "doors" => Area::Way,
        "crew" => Area::People,
        "kit" => Area::Kit,
        "pieces" => Area::Pieces,
        "colours" | "items" | "sundries" => Area::Stock,
        "rates" | "rules" | "spreads" => Area::Rates,
        "kept" => Area::Kept,
        "client" => Area::Client,
        "prices" | "costs" | "charges" => Area::Price,
        "instalments" | "bills" | "used" | "spent" => Area::Bills,
        _ => Area::Site,
    }
}

/// Whether the plan of a job reads what stands at a path. What is only said of it, such as a telephone, it does not.
pub fn feeds_plan(path: &[String]) -> bool {
    let keys: Vec<&str> = inside(path).iter().map(String::as_str).collect();
    match keys.as_slice() {
        ["venue", "name" | "address" | "contact" | "house_rules", ..] | ["crew", _, "phone"] => {
            false
        }
        ["venue", field, ..] => !field.starts_with("photo"),
        ["colours", _, "srgb" | "pattern"] | ["prices", "terms" | "valid_days" | "pay_days"] => {
            false
        }
        _ => !matches!(
            area(path),
            Area::Job | Area::Kept | Area::Client | Area::Bills | Area::Site
        ),
    }
}

fn is_metres(field: &str) -> bool {
    field.ends_with("_m") && !field.ends_with("_s_m")
}

/// Fields whose text is a word of a closed list.
fn is_word(field: &str) -> bool {
    matches!(
        field,
        "stage"
            | "place"
            | "model"
            | "kind"
            | "mount"
            | "shape"
            | "arrangement"
            | "odd"
            | "form"
            | "pattern"
            | "stand"
            | "per"
    )
}

fn readable(field: &str) -> String {
    field.replace('_', " ")
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().chain(letters).collect())
        .unwrap_or_default()
}

#[cfg(test)]
mod tests;

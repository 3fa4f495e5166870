//! A value with what it is a measure of, so that the page can say it in the reader's units.

use serde::{Deserialize, Serialize};
use serde_json::Value;
use ts_rs::TS;

/// The longest text that is shown of a field, characters.
const LONGEST: usize = 120;

/// What a number counts. The names of fields end with it: `span_mm`, `tax_bp`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Measure {
    /// No number: the text says it.
    Text,
    /// Things.
    Count,
    /// Millimetres.
    Mm,
    /// Tenths of a millimetre: what a balloon is blown to.
    Dmm,
    /// Inches: nominal size of a balloon.
    Inch,
    /// Cents of the job's currency.
    Cents,
    /// Percent.
    Percent,
    /// Hundredths of a percent.
    Bp,
    /// Thousandths.
    Permille,
    /// Thousandths of a second.
    Ms,
    /// Seconds.
    S,
    /// Minutes.
    Min,
    /// Hours.
    H,
    /// Days.
    Days,
    /// A time of day, minutes from midnight.
    OfDay,
    /// An instant, ms since 1970 UTC.
    Instant,
    /// A wall time, in the text as `YYYY-MM-DDTHH:MM`.
    Wall,
    /// Grams.
    G,
    /// Millilitres.
    Ml,
    /// Litres a minute.
    LMin,
    /// Millimetres a second.
    MmS,
    /// Seconds a metre.
    SM,
    /// Tenths of a degree Celsius.
    Dc,
    /// Tenths of a kilometre.
    Hm,
    /// Degrees of a turn.
    Deg,
    /// Hundredths of a unit.
    Hundredths,
    /// Pixels.
    Px,
}

/// A value as a person is told it: a text, or a number with its measure. An empty text is nothing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Shown {
    /// What the number counts.
    pub measure: Measure,
    /// The number; 0 for a text.
    pub n: i64,
    /// The text; empty for a number.
    pub text: String,
}

impl Shown {
    /// A text, cut where it grows too long.
    pub fn text(text: impl Into<String>) -> Shown {
        let text: String = text.into();
        let mut short: String = text.chars().take(LONGEST).collect();
        if short.len() < text.len() {
            short.push('…');
        }
        Shown {
            measure: Measure::Text,
            n: 0,
            text: short,
        }
    }

    /// The value of a field by its name alone; ids and closed words are said by [`super::Words`].
    pub fn of(field: &str, value: &Value) -> Shown {
        match value {
            Value::Number(number) => match number.as_i64() {
                Some(n) => Shown {
                    measure: measure(field),
                    n,
                    text: String::new(),
                },
                None => Shown::text(number.to_string()),
            },
            Value::Bool(yes) => Shown::text(if *yes { "yes" } else { "no" }),
            Value::String(text) if is_wall(text) => Shown {
                measure: Measure::Wall,
                n: 0,
                text: text.clone(),
            },
            Value::String(text) => Shown::text(text.as_str()),
            Value::Null => Shown::text(""),
            Value::Array(list) => {
                let items: Vec<String> = list.iter().filter_map(plain).collect();
                match items.len() == list.len() {
                    true => Shown::text(items.join(", ")),
                    false => Shown::text(format!("{} of them", list.len())),
                }
            }
            Value::Object(fields) => Shown::text(format!("{} fields", fields.len())),
        }
    }
}

/// What a number of this field counts, from the end of its name; `None` of the ends is a count of things.
pub fn measure(field: &str) -> Measure {
    match field {
        "minutes" => return Measure::Min,
        "from_min" | "to_min" | "late_from_min" => return Measure::OfDay,
        "spare_small_min" | "spare_big_min" => return Measure::Count,
        "at_ms" | "settled_ms" => return Measure::Instant,
        "hundredths" => return Measure::Hundredths,
        "cents" => return Measure::Cents,
        "pct" => return Measure::Percent,
        _ => {}
    }
    const ENDS: [(&str, Measure); 21] = [
        ("_l_min", Measure::LMin),
        ("_mm_s", Measure::MmS),
        ("_s_m", Measure::SM),
        ("_mm", Measure::Mm),
        ("_dmm", Measure::Dmm),
        ("_in", Measure::Inch),
        ("_cents", Measure::Cents),
        ("_pct", Measure::Percent),
        ("_bp", Measure::Bp),
        ("_pm", Measure::Permille),
        ("_ms", Measure::Ms),
        ("_s", Measure::S),
        ("_min", Measure::Min),
        ("_h", Measure::H),
        ("_days", Measure::Days),
        ("_g", Measure::G),
        ("_ml", Measure::Ml),
        ("_dc", Measure::Dc),
        ("_hm", Measure::Hm),
        ("_deg", Measure::Deg),
        ("_px", Measure::Px),
    ];
    ENDS.iter()
        .find(|(end, _)| field.ends_with(end))
        .map_or(Measure::Count, |(_, measure)| *measure)
}

fn is_wall(text: &str) -> bool {
    job::time::instant(text, "UTC").is_ok()
}

fn plain(value: &Value) -> Option<String> {
    match value {
        Value::String(text) => Some(text.replace('_', " ")),
        Value::Number(n) => Some(n.to_string()),
        _ => None,
    }
}

//! Figures as people say them: times, days, lengths, masses, volumes, money.

use chrono::{DateTime, Datelike, NaiveDateTime, TimeZone, Timelike, Utc};
use chrono_tz::Tz;

use job::currency::{decimal, split};
use job::time::month;

use crate::{Clock, Units};

/// A space at which no line ends.
const NB: char = '\u{a0}';
/// Millimetres in an inch (exact, international inch of 1959).
const MM_PER_IN: f64 = 25.4;
/// Grams in a pound (exact, international pound of 1959).
const G_PER_LB: f64 = 453.592_37;
/// Litres in a cubic foot: 0.3048³ m³.
const L_PER_FT3: f64 = 28.316_846_592;

const DAYS: [&str; 7] = [
    "Monday",
    "Tuesday",
    "Wednesday",
    "Thursday",
    "Friday",
    "Saturday",
    "Sunday",
];
/// How figures are said on one paper.
#[derive(Clone, Copy, Debug)]
pub struct Say {
    zone: Tz,
    units: Units,
    clock: Clock,
}

impl Say {
    /// At a venue's zone; an unknown zone reads as UTC and the plan says so.
    pub fn new(zone: &str, units: Units, clock: Clock) -> Say {
        Say {
            zone: zone.parse().unwrap_or(Tz::UTC),
            units,
            clock,
        }
    }

    /// The wall clock at the venue.
    pub fn local(&self, ms: i64) -> Option<NaiveDateTime> {
        let utc: DateTime<Utc> = Utc.timestamp_millis_opt(ms).single()?;
        Some(utc.with_timezone(&self.zone).naive_local())
    }

    /// `09:30` or `9:30 am`.
    pub fn time(&self, at: NaiveDateTime) -> String {
        match self.clock {
            Clock::H24 => format!("{:02}:{:02}", at.hour(), at.minute()),
            Clock::H12 => {
                let (pm, hour) = at.hour12();
                let half = if pm { "pm" } else { "am" };
                format!("{hour}:{:02}{NB}{half}", at.minute())
            }
        }
    }

    /// The time of an instant; a dash if there is none.
    pub fn time_ms(&self, ms: Option<i64>) -> String {
        ms.and_then(|ms| self.local(ms))
            .map_or_else(|| "–".to_string(), |at| self.time(at))
    }

    /// A time with its short day before it where it is not on the main day: `Sun 10:00`.
    pub fn time_beside(&self, at: NaiveDateTime, main: Option<NaiveDateTime>) -> String {
        match main {
            Some(main) if main.date() == at.date() => self.time(at),
            _ => format!("{}{NB}{}", short_day(at), self.time(at)),
        }
    }

    /// `2.4 m`, `85 cm`, or `7 ft 10 in`.
    pub fn length(&self, mm: i64) -> String {
        match self.units {
            Units::Metric if mm.unsigned_abs() < 1000 => format!("{}{NB}cm", round_div(mm, 10)),
            Units::Metric => {
                let cm = round_div(mm, 10);
                let text = if cm % 10 == 0 {
                    format!("{}.{}", cm / 100, (cm % 100) / 10)
                } else {
                    format!("{}.{:02}", cm / 100, cm % 100)
                };
                format!("{}{NB}m", text.strip_suffix(".0").unwrap_or(&text))
            }
            Units::Us => {
                let inches = nearest(to_f64(mm) / MM_PER_IN);
                match (inches / 12, inches % 12) {
                    // nobody measures a walk to the inch
                    (feet @ 20.., inch) => format!("{}{NB}ft", count(feet + inch / 6)),
                    (0, inch) => format!("{inch}{NB}in"),
                    (feet, 0) => format!("{feet}{NB}ft"),
                    (feet, inch) => format!("{feet}{NB}ft{NB}{inch}{NB}in"),
                }
            }
        }
    }

    /// Two lengths of a rectangle.
    pub fn area(&self, a_mm: i64, b_mm: i64) -> String {
        format!("{} × {}", self.length(a_mm), self.length(b_mm))
    }

    /// Kilogrammes or pounds.
    pub fn mass(&self, g: i64) -> String {
        match self.units {
            Units::Metric => format!("{}{NB}kg", tenths(to_f64(g) / 1000.0)),
            Units::Us => format!("{}{NB}lb", count(nearest(to_f64(g) / G_PER_LB))),
        }
    }

    /// Cubic metres or cubic feet, and the unit.
    pub fn volume(&self, ml: i64) -> String {
        match self.units {
            Units::Metric => format!("{}{NB}m³", tenths(to_f64(ml) / 1e6)),
            Units::Us => format!("{}{NB}ft³", count(nearest(to_f64(ml) / 1000.0 / L_PER_FT3))),
        }
    }

    /// Kilometres or miles, from tenths of a kilometre.
    pub fn distance(&self, hm: i64) -> String {
        match self.units {
            Units::Metric => format!("{}{NB}km", tenths(to_f64(hm) / 10.0)),
            // a mile is 1.609344 km exactly
            Units::Us => format!("{}{NB}miles", tenths(to_f64(hm) / 16.09344)),
        }
    }
}

/// Reads `YYYY-MM-DDTHH:MM`.
pub fn wall(text: &str) -> Option<NaiveDateTime> {
    NaiveDateTime::parse_from_str(text, "%Y-%m-%dT%H:%M").ok()
}

/// `20 May 2027, 09:00` from `2027-05-20 09:00`; other texts stay as they are.
pub fn made(text: &str) -> String {
    NaiveDateTime::parse_from_str(text, "%Y-%m-%d %H:%M").map_or_else(
        |_| text.to_string(),
        |at| {
            let (day, hour, minute) = (at.day(), at.hour(), at.minute());
            format!("{day} {} {}, {hour:02}:{minute:02}", month(&at), at.year())
        },
    )
}

/// `12 June 2027` from `2027-06-12`; other texts stay as they are.
pub fn date(text: &str) -> String {
    wall(&format!("{text}T00:00")).map_or_else(
        || text.to_string(),
        |at| format!("{}{NB}{}{NB}{}", at.day(), month(&at), at.year()),
    )
}

/// `Saturday 12 June 2027`.
pub fn long_day(at: NaiveDateTime) -> String {
    format!("{} {} {} {}", day_name(at), at.day(), month(&at), at.year())
}

/// `Saturday 12 June`.
pub fn day(at: NaiveDateTime) -> String {
    format!("{} {} {}", day_name(at), at.day(), month(&at))
}

/// `Sat`.
pub fn short_day(at: NaiveDateTime) -> String {
    day_name(at).chars().take(3).collect()
}

fn day_name(at: NaiveDateTime) -> &'static str {
    let index = at.weekday().num_days_from_monday();
    usize::try_from(index)
        .ok()
        .and_then(|i| DAYS.get(i))
        .copied()
        .unwrap_or("")
}

/// `1 h 16`, `7 min`, `40 s`.
pub fn duration(seconds: i64) -> String {
    if seconds < 60 {
        return format!("{seconds}{NB}s");
    }
    let minutes = round_div(seconds, 60);
    match (minutes / 60, minutes % 60) {
        (0, m) => format!("{m}{NB}min"),
        (h, 0) => format!("{h}{NB}h"),
        (h, m) => format!("{h}{NB}h{NB}{m:02}"),
    }
}

/// A number, with thin separators from 10,000 on.
pub fn count(n: i64) -> String {
    let digits = n.unsigned_abs().to_string();
    let sign = if n < 0 { "−" } else { "" };
    if digits.len() < 5 {
        return format!("{sign}{digits}");
    }
    format!("{sign}{}", grouped(&digits, '\u{202f}'))
}

/// A diameter from tenths of a millimetre, in cm: `20.3`.
pub fn cm(dmm: i64) -> String {
    tenths(to_f64(dmm) / 100.0)
}

/// A diameter from tenths of a millimetre, in inches: `8`, `8.5`.
pub fn inches(dmm: i64) -> String {
    tenths(to_f64(dmm) / 10.0 / MM_PER_IN)
}

/// Money with its sign, in the decimals of its currency: `€ 1,234.50`, `¥123,450`.
pub fn money(cents: i64, currency: &str) -> String {
    let (whole, part) = split(cents, currency);
    let sign = if cents < 0 { "−" } else { "" };
    let symbol = match currency {
        "EUR" => "€",
        "GBP" => "£",
        "USD" => "$",
        "JPY" => "¥",
        other => other,
    };
    let gap = if matches!(currency, "GBP" | "USD" | "JPY") {
        String::new()
    } else {
        NB.to_string()
    };
    format!(
        "{sign}{symbol}{gap}{}{part}",
        grouped(&whole.to_string(), ',')
    )
}

/// Hundredths for machines: `8.25`.
pub fn hundredths(n: i64) -> String {
    decimal(n, "")
}

/// A rate from hundredths of a percent: `20 %`, `8.25 %`.
pub fn percent(bp: i64) -> String {
    let text = format!("{}.{:02}", bp / 100, (bp % 100).abs());
    let text = text.trim_end_matches('0').trim_end_matches('.');
    format!("{text}{NB}%")
}

fn grouped(digits: &str, mark: char) -> String {
    let len = digits.len();
    let mut out = String::new();
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (len - index).is_multiple_of(3) {
            out.push(mark);
        }
        out.push(digit);
    }
    out
}

/// One decimal, or none where it is nought.
fn tenths(v: f64) -> String {
    let all = nearest(v * 10.0);
    let sign = if all < 0 { "−" } else { "" };
    let (whole, tenth) = (all.unsigned_abs() / 10, all.unsigned_abs() % 10);
    let whole = i64::try_from(whole).unwrap_or(i64::MAX);
    if tenth == 0 {
        format!("{sign}{}", count(whole))
    } else {
        format!("{sign}{}.{tenth}", count(whole))
    }
}

fn to_f64(v: i64) -> f64 {
    v as f64
}

/// The nearest whole number; casts saturate.
fn nearest(v: f64) -> i64 {
    v.round() as i64
}

fn round_div(a: i64, b: i64) -> i64 {
    (a.saturating_add(b / 2)).div_euclid(b)
}

/// A count with its noun: `1 length`, `3 lengths`.
pub fn plural(n: i64, one: &str, many: &str) -> String {
    format!("{}{NB}{}", count(n), if n == 1 { one } else { many })
}

/// A name whose number at the end, `1 of 4`, is never torn apart by the end of a line.
pub fn numbered(name: &str) -> String {
    let mut words: Vec<&str> = name.rsplitn(4, ' ').collect();
    let whole = |word: Option<&&str>| word.is_some_and(|w| w.parse::<u32>().is_ok());
    let fits = words.len() == 4 && words.get(1) == Some(&"of");
    if !fits || !whole(words.first()) || !whole(words.get(2)) {
        return name.to_string();
    }
    words.reverse();
    let (front, number) = words.split_at(1);
    format!("{} {}", front.concat(), number.join("\u{a0}"))
}

/// `a`, `a and b`, `a, b and c`.
pub fn list(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain(text: &str) -> String {
        text.replace([NB, '\u{202f}'], " ")
    }

    fn say(units: Units, clock: Clock) -> Say {
        Say::new("Europe/London", units, clock)
    }

    #[test]
    fn lengths_in_both_systems() {
        let (metric, us) = (say(Units::Metric, Clock::H24), say(Units::Us, Clock::H12));
        for (mm, m, ft) in [
            (850, "85 cm", "2 ft 9 in"),
            (2400, "2.4 m", "7 ft 10 in"),
            (2450, "2.45 m", "8 ft"),
            (3000, "3 m", "9 ft 10 in"),
            (12_345, "12.35 m", "41 ft"),
            (0, "0 cm", "0 in"),
        ] {
            assert_eq!(plain(&metric.length(mm)), m);
            assert_eq!(plain(&us.length(mm)), ft);
        }
    }

    #[test]
    fn times_follow_the_zone_and_the_clock() {
        // 2027-06-12 08:30 UTC is 09:30 in London in summer
        let ms = 1_812_789_000_000;
        let local = say(Units::Metric, Clock::H24).local(ms).unwrap();
        assert_eq!(long_day(local), "Saturday 12 June 2027");
        assert_eq!(say(Units::Metric, Clock::H24).time(local), "09:30");
        assert_eq!(plain(&say(Units::Us, Clock::H12).time(local)), "9:30 am");
        let next = wall("2027-06-13T10:00").unwrap();
        let beside = say(Units::Metric, Clock::H24).time_beside(next, Some(local));
        assert_eq!(plain(&beside), "Sun 10:00");
    }

    #[test]
    fn money_durations_and_counts() {
        assert_eq!(plain(&money(123_450, "EUR")), "€ 1,234.50");
        assert_eq!(money(-5, "GBP"), "−£0.05");
        assert_eq!(plain(&money(100, "SEK")), "SEK 1.00");
        assert_eq!(money(-123_450, "JPY"), "−¥123,450");
        assert_eq!(plain(&money(1_234_567, "KRW")), "KRW 1,234,567");
        assert_eq!(plain(&money(1_234_567, "KWD")), "KWD 1,234.567");
        assert_eq!(plain(&duration(4560)), "1 h 16");
        assert_eq!(plain(&duration(420)), "7 min");
        assert_eq!(plain(&count(12_345)), "12 345");
        assert_eq!(count(9_999), "9999");
        assert_eq!(plain(&percent(825)), "8.25 %");
        assert_eq!(plain(&percent(2000)), "20 %");
        assert_eq!((cm(2032).as_str(), inches(2032).as_str()), ("20.3", "8"));
    }

    #[test]
    fn no_number_breaks_it() {
        let metric = say(Units::Metric, Clock::H24);
        for n in [i64::MIN, i64::MAX] {
            for text in [
                metric.length(n),
                metric.mass(n),
                metric.volume(n),
                count(n),
                money(n, "EUR"),
                duration(n),
                percent(n),
            ] {
                assert!(!text.is_empty());
            }
            assert!(metric.local(n).is_none());
        }
    }

    /// "Wall garland, length 1 of" once stood over a lonely "2".
    #[test]
    fn the_number_of_a_bag_stays_on_one_line() {
        assert_eq!(
            numbered("Wall garland, length 1 of 2"),
            "Wall garland, length 1\u{a0}of\u{a0}2"
        );
        assert_eq!(numbered("Pots of many colours"), "Pots of many colours");
        assert_eq!(numbered("1 of 2"), "1 of 2");
    }
}

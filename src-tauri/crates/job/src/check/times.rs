//! Agreed times: readable, in their order, and told plainly where the clocks change.

use super::numbers::{number, out_of_range};
use crate::edit::{Edit, Part};
use crate::finding::{Finding, Room, Severity};
use crate::job_doc::Job;
use crate::time::{TimeFault, ZONES, instant, local, zone};

/// By how much clocks are put back: an hour almost everywhere, half an hour on Lord Howe Island (IANA tz database).
const PUT_BACK_MS: [i64; 2] = [3_600_000, 1_800_000];

/// An agreed time.
struct Agreed<'a> {
    field: &'static str,
    what: &'static str,
    text: &'a str,
}

impl Agreed<'_> {
    fn path(&self) -> [&'static str; 2] {
        ["times", self.field]
    }

    fn finding(&self, code: &str, severity: Severity, message: String, action: &str) -> Finding {
        Finding::new(code, severity, Room::Brief, &self.path(), message, action)
    }
}

pub(super) fn findings(job: &Job) -> Vec<Finding> {
    let agreed = agreed(job);
    let mut all: Vec<Finding> = agreed.iter().filter_map(unreadable).collect();
    let early = ("The time to be ready before ready-by", job.times.early_min);
    let early = number("early_min", early.0, " min", early.1, 0, (0, 1440));
    all.extend(out_of_range(Part::Job, &["times"], "", &[early]));
    // without a zone no time is an instant; the zone has its own finding
    if zone(&job.venue.zone).is_none() {
        return all;
    }
    let known: Vec<(&Agreed, i64)> = agreed
        .iter()
        .filter_map(|a| Some((a, instant(a.text, &job.venue.zone).ok()?)))
        .collect();
    all.extend(
        known
            .iter()
            .filter_map(|(a, ms)| left_out(a, *ms, &job.venue.zone)),
    );
    all.extend(
        known
            .iter()
            .filter_map(|(a, ms)| comes_twice(a, *ms, &job.venue.zone)),
    );
    all.extend(known.windows(2).filter_map(|two| match two {
        [first, second] => reversed(first, second),
        _ => None,
    }));
    all.extend(past_zone_data(&known));
    all
}

/// The times in the order in which they come.
fn agreed(job: &Job) -> Vec<Agreed<'_>> {
    let times = &job.times;
    [
        ("load_in", "load-in", &times.load_in),
        ("ready_by", "ready-by", &times.ready_by),
        ("doors_open", "doors open", &times.doors_open),
        ("strike_from", "strike from", &times.strike_from),
        ("strike_by", "strike by", &times.strike_by),
    ]
    .into_iter()
    .map(|(field, what, text)| Agreed { field, what, text })
    .collect()
}

fn unreadable(agreed: &Agreed) -> Option<Finding> {
    // read in a zone that exists: an unknown zone has its own finding
    if instant(agreed.text, "UTC").err()? == TimeFault::Empty {
        return None;
    }
    let shown: String = agreed.text.chars().take(40).collect();
    let found = agreed.finding(
        "unreadable_time",
        Severity::Stop,
        format!("The time for {} cannot be read: {shown}.", agreed.what),
        "Enter day and time again.",
    );
    Some(found.fix("Clear it", vec![Edit::set(&agreed.path(), "")]))
}

fn left_out(agreed: &Agreed, ms: i64, zone: &str) -> Option<Finding> {
    let taken = local(ms, zone)?;
    let wanted = agreed.text.trim();
    // digits left out, as in `2026-6-1T9:00`, are another text for the same time
    (taken.len() == wanted.len() && taken != wanted).then(|| {
        agreed
            .finding(
                "time_left_out",
                Severity::Care,
                format!(
                    "The clocks leave out {} for {}. It is taken as {}.",
                    spoken(wanted),
                    agreed.what,
                    spoken(&taken)
                ),
                "Agree on a time that exists.",
            )
            .fix(
                format!("Set to {}", spoken(&taken)),
                vec![Edit::set(&agreed.path(), taken.as_str())],
            )
    })
}

fn comes_twice(agreed: &Agreed, ms: i64, zone: &str) -> Option<Finding> {
    let wanted = agreed.text.trim();
    PUT_BACK_MS
        .iter()
        .any(|back| local(ms.saturating_add(*back), zone).as_deref() == Some(wanted))
        .then(|| {
            agreed.finding(
                "time_comes_twice",
                Severity::Care,
                format!(
                    "The clocks go back, and {} for {} comes twice. The first is taken.",
                    spoken(wanted),
                    agreed.what
                ),
                "Say to everybody which one is meant, or agree on another time.",
            )
        })
}

fn reversed(first: &(&Agreed, i64), second: &(&Agreed, i64)) -> Option<Finding> {
    let ((a, a_ms), (b, b_ms)) = (first, second);
    (b_ms < a_ms).then(|| {
        b.finding(
            "times_reversed",
            Severity::Stop,
            format!(
                "{} ({}) comes before {} ({}).",
                capital(b.what),
                spoken(b.text.trim()),
                a.what,
                spoken(a.text.trim())
            ),
            "Correct one of the two.",
        )
        .fix(
            "Swap the two",
            vec![
                Edit::set(&a.path(), b.text.trim()),
                Edit::set(&b.path(), a.text.trim()),
            ],
        )
    })
}

/// Governments change their clocks at short notice; zone data knows the rules of its own day only.
fn past_zone_data(known: &[(&Agreed, i64)]) -> Option<Finding> {
    let data: i64 = ZONES.get(..4)?.parse().ok()?;
    known.iter().find_map(|(agreed, _)| {
        let year: i64 = agreed.text.trim().get(..4)?.parse().ok()?;
        (year > data + 1).then(|| {
            agreed.finding(
                "past_zone_data",
                Severity::Note,
                format!(
                    "The job is in {year}, the time zone data is of {data}. Clock changes may be decided anew until then."
                ),
                "Look at the times again when the program has newer zone data.",
            )
        })
    })
}

/// A wall clock text as it is read aloud.
fn spoken(text: &str) -> String {
    text.replace('T', " ")
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

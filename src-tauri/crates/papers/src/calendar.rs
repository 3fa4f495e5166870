//! A calendar file (RFC 5545): the agreed times and the work of a job, for all or for one person, with alarms.
//!
//! Times are wall clock with a zone. The zone is told in the file itself by the changes of its clock about the days of the job, so that
//! every calendar shows them right across a change.

use std::collections::BTreeMap;

use chrono::{DateTime, NaiveDateTime, Offset, TimeZone, Utc};
use chrono_tz::{OffsetName, Tz};
use job::Job;
use plan::Plan;
use plan::types::{Stretch, Task};

/// The longest line in octets, without its end (RFC 5545, 3.1).
const LONGEST: usize = 75;
/// A minute, ms.
const MINUTE_MS: i64 = 60_000;
/// A day, s.
const DAY_S: i64 = 86_400;
/// The zone is told from so long before the first event until so long after the last, s: a change lies within in either direction.
const ABOUT_S: i64 = 370 * DAY_S;
/// A change of the clock is found to this, s.
const FINE_S: i64 = 1;
/// The alarm of an agreed time rings so long before, min; that of the first work of a day likewise. Common practice, no source.
const ALARM_MIN: i64 = 60;

/// Who the file is for, and what makes its events known again.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Asked<'a> {
    /// The job's id: an event keeps its name when the file is made anew.
    pub id: &'a str,
    /// Only this person's work: an id of the crew; empty for the whole job.
    pub person: &'a str,
    /// When it is made, ms.
    pub made_ms: i64,
}

/// The calendar of a job.
#[must_use]
pub fn calendar(job: &Job, plan: &Plan, asked: &Asked<'_>) -> String {
    let zone: Tz = job.venue.zone.parse().unwrap_or(Tz::UTC);
    let events = events(job, plan, asked.person);
    let mut out = Lines::default();
    out.put("BEGIN:VCALENDAR");
    out.put("VERSION:2.0");
    out.put("PRODID:-//Airwright//Job calendar//EN");
    out.put("CALSCALE:GREGORIAN");
    out.put("METHOD:PUBLISH");
    if let (Some(first), Some(last)) = (
        events.iter().map(|e| e.start_ms).min(),
        events.iter().map(|e| e.end_ms).max(),
    ) {
        zone_lines(&mut out, zone, first / 1000, last / 1000);
    }
    for event in &events {
        event_lines(&mut out, job, zone, event, asked);
    }
    out.put("END:VCALENDAR");
    out.text
}

/// Free for so long between two tasks, a person's day stands in two parts. Common practice, no source.
const FREE_MS: i64 = 2 * 3_600_000;

/// What stands in the calendar.
struct Entry {
    key: String,
    title: String,
    about: String,
    start_ms: i64,
    end_ms: i64,
    alarm: bool,
}

fn events(job: &Job, plan: &Plan, person: &str) -> Vec<Entry> {
    let mut all = Vec::new();
    let name = named(job);
    if person.is_empty() {
        all.extend(agreed(job, plan, &name));
    }
    for call in plan
        .calls
        .iter()
        .filter(|c| person.is_empty() || c.crew == person)
    {
        let parts = (call.days.iter().enumerate())
            .flat_map(|(day, stretch)| split(plan, stretch).into_iter().map(move |s| (day, s)));
        let mut seen = BTreeMap::new();
        for (day, stretch) in parts {
            let part: &mut usize = seen.entry(day).or_default();
            let key = match *part {
                0 => format!("{}-{day}", call.crew),
                n => format!("{}-{day}-{n}", call.crew),
            };
            *part += 1;
            let who = if person.is_empty() {
                format!(": {}", call.name.trim())
            } else {
                String::new()
            };
            all.push(Entry {
                key,
                title: format!("{name}{who}"),
                about: work(plan, &stretch),
                // whole minutes, and none of the work outside
                start_ms: whole(stretch.start_ms),
                end_ms: whole(stretch.end_ms.saturating_add(MINUTE_MS - 1)),
                alarm: !person.is_empty(),
            });
        }
    }
    all.retain(|e| e.end_ms >= e.start_ms && zone_reads(e.start_ms) && zone_reads(e.end_ms));
    all.sort_by(|a, b| (a.start_ms, &a.key).cmp(&(b.start_ms, &b.key)));
    all
}

/// The whole minute that a time lies in.
fn whole(ms: i64) -> i64 {
    ms.div_euclid(MINUTE_MS).saturating_mul(MINUTE_MS)
}

/// A day's stretch in parts: whoever is free for long in between has that time to themselves.
fn split(plan: &Plan, stretch: &Stretch) -> Vec<Stretch> {
    if stretch.end_ms < stretch.start_ms {
        return Vec::new();
    }
    let mut last = Stretch {
        start_ms: stretch.start_ms,
        end_ms: stretch.start_ms,
        tasks: vec![],
    };
    let mut parts = Vec::new();
    for id in &stretch.tasks {
        let task = plan.tasks.iter().find(|t| t.id == *id);
        if let Some((start_ms, end_ms)) = task.and_then(|t| t.start_ms.zip(t.end_ms)) {
            if start_ms.saturating_sub(last.end_ms) >= FREE_MS {
                let next = Stretch {
                    start_ms,
                    end_ms: start_ms,
                    tasks: vec![],
                };
                parts.push(std::mem::replace(&mut last, next));
            }
            last.end_ms = last.end_ms.max(end_ms);
        }
        last.tasks.push(id.clone());
    }
    last.end_ms = stretch.end_ms;
    parts.push(last);
    parts
}

fn named(job: &Job) -> String {
    match job.name.trim() {
        "" => "Job without a name".into(),
        name => name.into(),
    }
}

/// From coming to the venue until all is ready, and the strike.
fn agreed(job: &Job, plan: &Plan, name: &str) -> Vec<Entry> {
    let at = |text: &str| job::time::instant(text, &job.venue.zone).ok();
    let times = &job.times;
    let mut out = Vec::new();
    let ready = at(&times.ready_by);
    if let Some(start) = at(&times.load_in).or(ready) {
        let mut about = Vec::new();
        for (text, what) in [
            (&times.load_in, "Load-in"),
            (&times.ready_by, "Ready by"),
            (&times.doors_open, "Doors"),
        ] {
            if at(text).is_some() {
                about.push(format!("{what} {}", text.replace('T', " ")));
            }
        }
        out.push(Entry {
            key: "venue".into(),
            title: format!("{name}: at the venue"),
            about: about.join("\n"),
            start_ms: plan.arrive_ms().map_or(start, whole),
            end_ms: ready.unwrap_or(start).max(start),
            alarm: true,
        });
    }
    if let Some(start) = at(&times.strike_from) {
        out.push(Entry {
            key: "strike".into(),
            title: format!("{name}: taking down"),
            about: String::new(),
            start_ms: start,
            end_ms: at(&times.strike_by).unwrap_or(start).max(start),
            alarm: true,
        });
    }
    out
}

/// The tasks of a day, one a line.
fn work(plan: &Plan, stretch: &Stretch) -> String {
    let task = |id: &String| plan.tasks.iter().find(|t: &&Task| t.id == *id);
    let titles: Vec<&str> = stretch
        .tasks
        .iter()
        .filter_map(task)
        .map(|t| t.title.as_str())
        .collect();
    titles.join("\n")
}

fn event_lines(out: &mut Lines, job: &Job, zone: Tz, event: &Entry, asked: &Asked<'_>) {
    let id = if asked.id.is_empty() { "job" } else { asked.id };
    out.put("BEGIN:VEVENT");
    out.put(&format!("UID:{id}-{}@airwright", event.key));
    out.put(&format!("DTSTAMP:{}Z", stamp(asked.made_ms, Tz::UTC)));
    out.put(&format!("DTSTART{}", local(event.start_ms, zone)));
    out.put(&format!("DTEND{}", local(event.end_ms, zone)));
    out.put(&format!("SUMMARY:{}", escaped(&event.title)));
    let place = [&job.venue.name, &job.venue.address];
    let place: Vec<&str> = place
        .into_iter()
        .map(|t| t.trim())
        .filter(|t| !t.is_empty())
        .collect();
    if !place.is_empty() {
        out.put(&format!("LOCATION:{}", escaped(&place.join(", "))));
    }
    if !event.about.is_empty() {
        out.put(&format!("DESCRIPTION:{}", escaped(&event.about)));
    }
    if event.alarm {
        out.put("BEGIN:VALARM");
        out.put("ACTION:DISPLAY");
        out.put(&format!("DESCRIPTION:{}", escaped(&event.title)));
        out.put(&format!("TRIGGER:-PT{ALARM_MIN}M"));
        out.put("END:VALARM");
    }
    out.put("END:VEVENT");
}

/// `;TZID=Europe/London:20270612T100000`, or `:20270612T100000Z` in UTC.
fn local(ms: i64, zone: Tz) -> String {
    if zone == Tz::UTC {
        return format!(":{}Z", stamp(ms, zone));
    }
    format!(";TZID={}:{}", zone.name(), stamp(ms, zone))
}

fn stamp(ms: i64, zone: Tz) -> String {
    DateTime::<Utc>::from_timestamp_millis(ms)
        .map(|at| {
            at.with_timezone(&zone)
                .naive_local()
                .format("%Y%m%dT%H%M%S")
                .to_string()
        })
        .unwrap_or_default()
}

/// Instants that a calendar can hold: years of four digits.
fn zone_reads(ms: i64) -> bool {
    DateTime::<Utc>::from_timestamp_millis(ms)
        .is_some_and(|at| (1900..9990).contains(&chrono::Datelike::year(&at)))
}

/// A stretch of time with one offset and one name of the clock.
#[derive(PartialEq)]
struct Clock {
    offset_s: i64,
    name: String,
    summer: bool,
}

fn clock(zone: Tz, s: i64) -> Option<Clock> {
    let at = zone.timestamp_opt(s, 0).single()?;
    Some(Clock {
        offset_s: i64::from(at.offset().fix().local_minus_utc()),
        name: at.offset().abbreviation().unwrap_or("").to_string(),
        summer: chrono_tz::OffsetComponents::dst_offset(at.offset()).num_seconds() != 0,
    })
}

/// The zone by its changes: each as an observance of its own that begins once.
fn zone_lines(out: &mut Lines, zone: Tz, first: i64, last: i64) {
    if zone == Tz::UTC {
        return;
    }
    let (from, to) = (first.saturating_sub(ABOUT_S), last.saturating_add(ABOUT_S));
    let Some(mut before) = clock(zone, from) else {
        return;
    };
    out.put("BEGIN:VTIMEZONE");
    out.put(&format!("TZID:{}", zone.name()));
    observance(out, &before, &before, from);
    let mut s = from;
    while s < to {
        let next = s + DAY_S;
        match clock(zone, next) {
            Some(after) if after != before => {
                let at = change(zone, s, next, &before);
                observance(out, &before, &after, at);
                before = after;
            }
            _ => {}
        }
        s = next;
    }
    out.put("END:VTIMEZONE");
}

/// The first second at which the clock is no longer what it was.
fn change(zone: Tz, mut low: i64, mut high: i64, before: &Clock) -> i64 {
    while high - low > FINE_S {
        let middle = low + (high - low) / 2;
        if clock(zone, middle).is_some_and(|c| c == *before) {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}

/// From an instant on the clock is `after`. Its beginning is told by the clock that was before (RFC 5545, 3.6.5).
fn observance(out: &mut Lines, before: &Clock, after: &Clock, at: i64) {
    let kind = if after.summer { "DAYLIGHT" } else { "STANDARD" };
    let wall: Option<NaiveDateTime> =
        DateTime::<Utc>::from_timestamp(at.saturating_add(before.offset_s), 0)
            .map(|at| at.naive_utc());
    let Some(wall) = wall else { return };
    out.put(&format!("BEGIN:{kind}"));
    out.put(&format!("DTSTART:{}", wall.format("%Y%m%dT%H%M%S")));
    out.put(&format!("TZOFFSETFROM:{}", offset(before.offset_s)));
    out.put(&format!("TZOFFSETTO:{}", offset(after.offset_s)));
    if !after.name.is_empty() {
        out.put(&format!("TZNAME:{}", escaped(&after.name)));
    }
    out.put(&format!("END:{kind}"));
}

/// `+0100`, `-0330`.
fn offset(s: i64) -> String {
    let sign = if s < 0 { '-' } else { '+' };
    let minutes = s.abs() / 60;
    format!("{sign}{:02}{:02}", minutes / 60, minutes % 60)
}

/// Text with what RFC 5545, 3.3.11 wants behind a backslash.
fn escaped(text: &str) -> String {
    let mut out = String::new();
    for c in text.replace("\r\n", "\n").chars() {
        match c {
            '\\' | ';' | ',' => out.extend(['\\', c]),
            '\n' | '\r' => out.push_str("\\n"),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

/// Lines ended by CR LF, folded where they are too long, never inside a character.
#[derive(Default)]
struct Lines {
    text: String,
}

impl Lines {
    fn put(&mut self, line: &str) {
        let mut used = 0;
        for c in line.chars() {
            if used + c.len_utf8() > LONGEST {
                self.text.push_str("\r\n ");
                used = 1;
            }
            self.text.push(c);
            used += c.len_utf8();
        }
        self.text.push_str("\r\n");
    }
}

#[cfg(test)]
#[path = "calendar_tests.rs"]
mod tests;

//! The calendar file against RFC 5545 and the IANA time zone database.

use super::*;
use job::site::Crew;
use plan::types::Call;

fn ms(text: &str) -> i64 {
    DateTime::parse_from_rfc3339(text)
        .unwrap()
        .timestamp_millis()
}

fn made(zone: &str, start: &str, end: &str) -> String {
    let mut job = Job {
        name: "Night".into(),
        ..Job::default()
    };
    job.venue.zone = zone.into();
    job.crew.insert("p1".into(), Crew::default());
    let plan = Plan {
        calls: vec![Call {
            crew: "p1".into(),
            name: "Ada".into(),
            days: vec![Stretch {
                start_ms: ms(start),
                end_ms: ms(end),
                tasks: Vec::new(),
            }],
            ..Call::default()
        }],
        ..Plan::default()
    };
    let asked = Asked {
        id: "j",
        person: "p1",
        made_ms: ms("2026-01-01T00:00:00Z"),
    };
    calendar(&job, &plan, &asked)
}

/// RFC 5545, 3.1 and 3.3.11: no line is longer than 75 octets, no character is cut, and comma, semicolon, backslash and line end are
/// escaped. Unfolded, the text is what it was.
#[test]
fn lines_are_folded_and_escaped() {
    let title = format!("a, b; c\\ d\ne {}", "é".repeat(40));
    let mut out = Lines::default();
    out.put(&format!("SUMMARY:{}", escaped(&title)));
    for line in out.text.split("\r\n") {
        assert!(line.len() <= 75, "{} octets", line.len());
    }
    let unfolded = out.text.replace("\r\n ", "");
    let want = format!("SUMMARY:a\\, b\\; c\\\\ d\\ne {}\r\n", "é".repeat(40));
    assert_eq!(unfolded, want);
}

/// Changes of the clock in 2026 as the IANA time zone database has them: onset by the old clock, both offsets.
#[test]
fn zones_change_when_they_do() {
    for (zone, start, want) in [
        (
            "America/New_York",
            "2026-06-01T12:00:00Z",
            &[
                ["20260308T020000", "-0500", "-0400"],
                ["20261101T020000", "-0400", "-0500"],
            ][..],
        ),
        (
            "Europe/Berlin",
            "2026-06-01T12:00:00Z",
            &[
                ["20260329T020000", "+0100", "+0200"],
                ["20261025T030000", "+0200", "+0100"],
            ],
        ),
        (
            "Australia/Lord_Howe",
            "2026-06-01T12:00:00Z",
            &[
                ["20260405T020000", "+1100", "+1030"],
                ["20261004T020000", "+1030", "+1100"],
            ],
        ),
    ] {
        let text = made(zone, start, start);
        for [onset, from, to] in want {
            let lines = format!("DTSTART:{onset}\r\nTZOFFSETFROM:{from}\r\nTZOFFSETTO:{to}\r\n");
            assert!(text.contains(&lines), "{zone} {onset}: {text}");
        }
    }
    for still in ["Asia/Kolkata", "America/Sao_Paulo"] {
        let text = made(still, "2026-06-01T12:00:00Z", "2026-06-01T13:00:00Z");
        assert_eq!(text.matches("TZOFFSETFROM").count(), 1, "{still}");
        assert!(text.contains("BEGIN:STANDARD"));
    }
}

/// 20:00 to 08:00 in New York, eleven hours in spring and thirteen in autumn. Source: IANA time zone database, subtraction in UTC.
#[test]
fn a_night_across_a_change_keeps_its_wall_clock() {
    for (start, end, first, last) in [
        (
            "2026-03-08T01:00:00Z",
            "2026-03-08T12:00:00Z",
            "20260307T200000",
            "20260308T080000",
        ),
        (
            "2026-11-01T00:00:00Z",
            "2026-11-01T13:00:00Z",
            "20261031T200000",
            "20261101T080000",
        ),
    ] {
        let text = made("America/New_York", start, end);
        assert!(text.contains(&format!("DTSTART;TZID=America/New_York:{first}\r\n")));
        assert!(text.contains(&format!("DTEND;TZID=America/New_York:{last}\r\n")));
    }
}

#[test]
fn each_person_has_a_file_and_an_alarm() {
    let text = made(
        "Europe/London",
        "2027-06-12T08:00:00Z",
        "2027-06-12T12:00:00Z",
    );
    assert_eq!(text.matches("BEGIN:VEVENT").count(), 1);
    assert!(text.contains("BEGIN:VALARM\r\nACTION:DISPLAY\r\n"));
    assert!(text.contains("TRIGGER:-PT60M\r\n"));
    assert!(text.contains("UID:j-p1-0@airwright\r\n"));
    assert!(text.ends_with("END:VCALENDAR\r\n"));
    // every line that begins ends
    for kind in [
        "VCALENDAR",
        "VTIMEZONE",
        "VEVENT",
        "VALARM",
        "DAYLIGHT",
        "STANDARD",
    ] {
        let count = |word: &str| text.matches(&format!("{word}:{kind}\r\n")).count();
        assert_eq!(count("BEGIN"), count("END"), "{kind}");
    }
}

#[test]
fn absurd_instants_are_left_out() {
    let job = Job::default();
    let plan = Plan {
        calls: vec![Call {
            days: vec![
                Stretch {
                    start_ms: i64::MIN,
                    end_ms: i64::MAX,
                    tasks: Vec::new(),
                },
                Stretch {
                    start_ms: 10,
                    end_ms: 5,
                    tasks: Vec::new(),
                },
            ],
            ..Call::default()
        }],
        ..Plan::default()
    };
    let text = calendar(&job, &plan, &Asked::default());
    assert!(!text.contains("VEVENT"));
}

/// Once each person had one entry from the morning until after midnight, and the venue's began an hour before anybody came.
#[test]
fn free_hours_are_free_and_the_venue_begins_when_they_come() {
    let (job, _) = job::demo::demo(&job::defaults::starting_books(), "2027-06-12");
    let plan = plan::plan(&job, None);
    let asked = |person| Asked {
        id: "j",
        person,
        made_ms: 0,
    };
    let one = calendar(&job, &plan, &asked("p1"));
    assert_eq!(one.matches("BEGIN:VEVENT").count(), 2, "{one}");
    for uid in ["UID:j-p1-0@airwright", "UID:j-p1-0-1@airwright"] {
        assert!(one.contains(uid), "{uid}: {one}");
    }
    let come = plan.arrive_ms().unwrap();
    let come = job::time::local(come, &job.venue.zone).unwrap();
    let stamp: String = come.chars().filter(|c| *c != '-' && *c != ':').collect();
    let all = calendar(&job, &plan, &asked(""));
    let venue = all
        .split("BEGIN:VEVENT")
        .find(|e| e.contains("UID:j-venue"))
        .unwrap();
    assert!(
        venue.contains(&format!("DTSTART;TZID=Europe/London:{stamp}")),
        "{stamp}: {venue}"
    );
}

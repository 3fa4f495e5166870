//! Wall clock and instants: agreed times are wall clock at the venue, instants are derived from them.

use chrono::{DateTime, Datelike, Duration, LocalResult, NaiveDateTime, TimeZone, Timelike, Utc};
use chrono_tz::Tz;

/// The form of an agreed time.
const FORM: &str = "%Y-%m-%dT%H:%M";

/// Hours to go back from a missing time to one that exists: past the gaps of an hour or less, and past the one day that
/// was ever left out (Pacific/Apia, 30 December 2011).
const BEFORE_A_GAP_H: [i64; 2] = [3, 27];

/// Years whose instants can be shown in every zone; the calendar itself ends at about 262,000.
const YEARS: std::ops::Range<i32> = -200_000..200_000;

/// Version of the IANA time zone data inside, such as `2026f`.
pub const ZONES: &str = chrono_tz::IANA_TZDB_VERSION;

/// The months as they are said, January first.
const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// The month of a day as it is said.
#[must_use]
pub fn month(day: &impl Datelike) -> &'static str {
    usize::try_from(day.month0())
        .ok()
        .and_then(|m| MONTHS.get(m))
        .copied()
        .unwrap_or("")
}

/// Why a wall-clock time is no instant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TimeFault {
    /// Nothing was agreed yet.
    Empty,
    /// Not of the form `YYYY-MM-DDTHH:MM`, or no such day.
    Unreadable,
    /// No zone of this name.
    UnknownZone,
}

/// The zone of a name.
#[must_use]
pub fn zone(name: &str) -> Option<Tz> {
    name.parse().ok()
}

/// The instant, ms since 1970 UTC, of a wall-clock time. A repeated hour is taken as the first; a missing hour is shifted
/// forward by the gap, so that 02:30 on the night when 02:00 becomes 03:00 is 03:30.
pub fn instant(local: &str, zone_name: &str) -> Result<i64, TimeFault> {
    if local.trim().is_empty() {
        return Err(TimeFault::Empty);
    }
    let wall =
        NaiveDateTime::parse_from_str(local.trim(), FORM).map_err(|_| TimeFault::Unreadable)?;
    let tz = zone(zone_name).ok_or(TimeFault::UnknownZone)?;
    wall_instant(wall, tz).ok_or(TimeFault::Unreadable)
}

fn wall_instant(wall: NaiveDateTime, tz: Tz) -> Option<i64> {
    match tz.from_local_datetime(&wall) {
        LocalResult::Single(at) | LocalResult::Ambiguous(at, _) => Some(at.timestamp_millis()),
        LocalResult::None => {
            // read with the offset that was in force before the gap
            BEFORE_A_GAP_H.iter().find_map(|hours| {
                let back = Duration::hours(*hours);
                let before = tz
                    .from_local_datetime(&wall.checked_sub_signed(back)?)
                    .earliest()?;
                Some((before + back).timestamp_millis())
            })
        }
    }
}

/// The wall-clock time of an instant as `YYYY-MM-DDTHH:MM`; absent for an unknown zone or a year that has no four digits.
#[must_use]
pub fn local(ms: i64, zone_name: &str) -> Option<String> {
    let at = at_zone(ms, zone_name)?;
    let text = at.naive_local().format(FORM).to_string();
    (text.len() == 16).then_some(text)
}

/// Minutes since midnight by the wall clock.
#[must_use]
pub fn minute_of_day(ms: i64, zone_name: &str) -> Option<i64> {
    let at = at_zone(ms, zone_name)?;
    Some(i64::from(at.hour() * 60 + at.minute()))
}

/// The instant of a wall-clock minute of the day that lies `days` after the day of `ms`.
#[must_use]
pub fn on_day(ms: i64, days: i64, minute: i64, zone_name: &str) -> Option<i64> {
    let tz = zone(zone_name)?;
    let day = at_zone(ms, zone_name)?.date_naive().and_hms_opt(0, 0, 0)?;
    let wall = day
        .checked_add_signed(Duration::try_days(days)?)?
        .checked_add_signed(Duration::try_minutes(minute)?)?;
    wall_instant(wall, tz)
}

/// The first instant of the day of `ms` by the wall clock.
#[must_use]
pub fn day_start_ms(ms: i64, zone_name: &str) -> Option<i64> {
    on_day(ms, 0, 0, zone_name)
}

fn at_zone(ms: i64, zone_name: &str) -> Option<DateTime<Tz>> {
    let tz = zone(zone_name)?;
    let utc = DateTime::<Utc>::from_timestamp_millis(ms)?;
    YEARS.contains(&utc.year()).then(|| utc.with_timezone(&tz))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn utc(text: &str) -> i64 {
        DateTime::parse_from_rfc3339(text)
            .unwrap()
            .timestamp_millis()
    }

    /// Source: IANA time zone database, transitions of 2026.
    #[test]
    fn transitions_of_2026() {
        for (zone, before, after) in [
            // (zone, last wall-clock minute before, the UTC instant of the change)
            (
                "America/New_York",
                "2026-03-08T01:59",
                "2026-03-08T07:00:00Z",
            ),
            ("Europe/London", "2026-03-29T00:59", "2026-03-29T01:00:00Z"),
            ("Europe/Berlin", "2026-03-29T01:59", "2026-03-29T01:00:00Z"),
            (
                "Australia/Sydney",
                "2026-10-04T01:59",
                "2026-10-03T16:00:00Z",
            ),
            (
                "Australia/Lord_Howe",
                "2026-10-04T01:59",
                "2026-10-03T15:30:00Z",
            ),
        ] {
            assert_eq!(
                instant(before, zone).unwrap() + 60_000,
                utc(after),
                "{zone}"
            );
        }
        for (zone, first) in [
            ("America/New_York", "2026-11-01T06:00:00Z"),
            ("Europe/London", "2026-10-25T01:00:00Z"),
            ("Australia/Sydney", "2026-04-04T16:00:00Z"),
            ("Australia/Lord_Howe", "2026-04-04T15:00:00Z"),
        ] {
            // the clock goes back at this instant: the minute before it and some minute after it have one name
            let change = utc(first);
            let back = local(change, zone).unwrap();
            assert!(
                instant(&back, zone).unwrap() < change,
                "{zone}: {back} is taken as the first"
            );
        }
    }

    /// No change of the clock in 2026. Source: IANA time zone database.
    #[test]
    fn zones_without_a_change() {
        for zone in ["Asia/Kolkata", "America/Sao_Paulo", "Pacific/Apia"] {
            let january = instant("2026-01-15T12:00", zone).unwrap();
            let july = instant("2026-07-15T12:00", zone).unwrap();
            assert_eq!((july - january) % 86_400_000, 0, "{zone}");
        }
    }

    /// An overnight job 20:00 to 08:00. Source: IANA time zone database, subtraction in UTC.
    #[test]
    fn overnight_in_new_york_is_eleven_or_thirteen_hours() {
        let hours = |from: &str, to: &str| {
            (instant(to, "America/New_York").unwrap() - instant(from, "America/New_York").unwrap())
                / 3_600_000
        };
        assert_eq!(hours("2026-03-07T20:00", "2026-03-08T08:00"), 11);
        assert_eq!(hours("2026-10-31T20:00", "2026-11-01T08:00"), 13);
    }

    #[test]
    fn a_repeated_hour_is_the_first_and_a_missing_one_moves_forward() {
        assert_eq!(
            instant("2026-11-01T01:30", "America/New_York"),
            Ok(utc("2026-11-01T05:30:00Z"))
        );
        assert_eq!(
            instant("2026-03-08T02:30", "America/New_York"),
            Ok(utc("2026-03-08T07:30:00Z"))
        );
        assert_eq!(
            local(utc("2026-03-08T07:30:00Z"), "America/New_York").as_deref(),
            Some("2026-03-08T03:30")
        );
    }

    /// A whole day was left out. Source: IANA time zone database.
    #[test]
    fn a_missing_day_moves_forward() {
        assert_eq!(
            instant("2011-12-30T12:00", "Pacific/Apia"),
            instant("2011-12-31T12:00", "Pacific/Apia")
        );
    }

    /// Midnight left out, midnight twice. Source: IANA time zone database.
    #[test]
    fn days_begin_at_their_first_moment() {
        for (zone, noon, begins) in [
            (
                "America/Sao_Paulo",
                "2018-11-04T12:00",
                "2018-11-04T03:00:00Z",
            ),
            ("America/Havana", "2026-11-01T12:00", "2026-11-01T04:00:00Z"),
        ] {
            let noon = instant(noon, zone).unwrap();
            assert_eq!(day_start_ms(noon, zone), Some(utc(begins)), "{zone}");
        }
    }

    #[test]
    fn the_ends_of_the_calendar_have_no_local_time() {
        let last = DateTime::<Utc>::MAX_UTC.timestamp_millis();
        let first = DateTime::<Utc>::MIN_UTC.timestamp_millis();
        for ms in [i64::MIN, first, first + 1, last - 1, last, i64::MAX] {
            for zone in ["Pacific/Kiritimati", "Pacific/Pago_Pago"] {
                assert_eq!(local(ms, zone), None);
                assert_eq!(minute_of_day(ms, zone), None);
                assert_eq!(day_start_ms(ms, zone), None);
            }
        }
    }

    #[test]
    fn what_is_no_time_says_why() {
        assert_eq!(instant("", "UTC"), Err(TimeFault::Empty));
        assert_eq!(
            instant("2026-02-30T10:00", "UTC"),
            Err(TimeFault::Unreadable)
        );
        assert_eq!(instant("tomorrow", "UTC"), Err(TimeFault::Unreadable));
        assert_eq!(
            instant("2026-02-03T10:00", "Mars/Olympus"),
            Err(TimeFault::UnknownZone)
        );
        assert_eq!(local(i64::MAX, "UTC"), None);
        assert_eq!(on_day(0, i64::MAX, 0, "UTC"), None);
    }

    #[test]
    fn days_count_by_the_wall_clock() {
        let noon = instant("2026-03-07T12:00", "America/New_York").unwrap();
        assert_eq!(
            on_day(noon, 1, 8 * 60, "America/New_York"),
            instant("2026-03-08T08:00", "America/New_York").ok()
        );
        assert_eq!(minute_of_day(noon, "America/New_York"), Some(720));
        assert_eq!(
            day_start_ms(noon, "America/New_York"),
            instant("2026-03-07T00:00", "America/New_York").ok()
        );
    }
}

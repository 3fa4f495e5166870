//! What is put on: stairs, parking, a late strike, season and weekend, further charges.

use chrono::{Datelike, NaiveDateTime, Timelike, Weekday};
use job::list::live;
use job::money::Prices;
use job::time::month;
use job::{Job, Private};

use super::lines::line;
use crate::tax::share;
use crate::types::{Load, PriceKind, PriceLine};

/// A strike before this minute of the day is one of the night before. Common practice, no source.
const MORNING_MIN: i64 = 6 * 60;

/// Stairs, parking and a late strike, where the rates have a price for them.
pub fn fees(job: &Job, prices: &Prices, load: &Load) -> Vec<PriceLine> {
    let mut lines = Vec::new();
    let steps = job.venue.stair_steps.max(0);
    if steps > 0 && prices.stair_cents != 0 {
        lines.push(line(
            PriceKind::Fee,
            "Stairs",
            format!("{steps} steps"),
            steps.saturating_mul(prices.stair_cents),
        ));
    }
    if prices.parking_cents != 0 {
        let visits = load
            .trips
            .clamp(1, 100)
            .saturating_add(i64::from(wall(&job.times.strike_from).is_some()));
        let times = if visits == 1 {
            "once".to_string()
        } else {
            format!("{visits} times")
        };
        lines.push(line(
            PriceKind::Fee,
            "Parking",
            times,
            visits.saturating_mul(prices.parking_cents),
        ));
    }
    if let Some(at) = wall(&job.times.strike_from).filter(|_| prices.late_cents != 0) {
        let minute = i64::from(at.hour() * 60 + at.minute());
        if minute >= prices.late_from_min.clamp(MORNING_MIN, 24 * 60) || minute < MORNING_MIN {
            let from = format!("from {:02}:{:02}", at.hour(), at.minute());
            lines.push(line(
                PriceKind::Fee,
                "Taking down late",
                from,
                prices.late_cents,
            ));
        }
    }
    lines
}

/// Season and weekend, each on goods, work and frames. The day is that of ready-by.
pub fn season(job: &Job, prices: &Prices, made_cents: i64) -> Vec<PriceLine> {
    let Some(at) = wall(&job.times.ready_by) else {
        return Vec::new();
    };
    let mut lines = Vec::new();
    if prices.season_pct != 0
        && in_season(i64::from(at.month()), prices.season_from, prices.season_to)
    {
        lines.push(line(
            PriceKind::Season,
            "Season",
            format!("{}, {} %", month(&at), prices.season_pct),
            share(made_cents, prices.season_pct, 100),
        ));
    }
    let weekend = matches!(at.weekday(), Weekday::Fri | Weekday::Sat | Weekday::Sun);
    if prices.weekend_pct != 0 && weekend {
        lines.push(line(
            PriceKind::Season,
            "Weekend",
            format!("{} %", prices.weekend_pct),
            share(made_cents, prices.weekend_pct, 100),
        ));
    }
    lines
}

/// Whether a month lies in a season that may run over the new year.
fn in_season(month: i64, from: i64, to: i64) -> bool {
    if from <= to {
        (from..=to).contains(&month)
    } else {
        month >= from || month <= to
    }
}

/// Further charges, each at its own rate of tax or at that of the job.
pub fn charges(private: &Private, main_bp: i64) -> Vec<PriceLine> {
    live(&private.charges)
        .into_iter()
        .map(|(_, charge)| {
            let label = match charge.label.trim() {
                "" => "Charge without a name",
                label => label,
            };
            PriceLine {
                tax_bp: if charge.own_tax {
                    charge.tax_bp.clamp(0, super::MOST_TAX_BP)
                } else {
                    main_bp
                },
                ..line(PriceKind::Charge, label, String::new(), charge.cents)
            }
        })
        .collect()
}

fn wall(text: &str) -> Option<NaiveDateTime> {
    NaiveDateTime::parse_from_str(text.trim(), "%Y-%m-%dT%H:%M").ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_season_may_run_over_the_new_year() {
        for (month, from, to, want) in [
            (5, 5, 9, true),
            (9, 5, 9, true),
            (10, 5, 9, false),
            (12, 11, 2, true),
            (2, 11, 2, true),
            (3, 11, 2, false),
            (7, 7, 7, true),
        ] {
            assert_eq!(in_season(month, from, to), want, "{month} {from} {to}");
        }
    }

    /// 2027-06-12 is a Saturday, 2027-06-10 a Thursday (any calendar).
    #[test]
    fn season_and_weekend_are_of_the_day() {
        let prices = Prices {
            season_pct: 10,
            weekend_pct: 15,
            ..Prices::default()
        };
        let of = |day: &str| {
            let mut job = Job::default();
            job.times.ready_by = day.into();
            let lines = season(&job, &prices, 10_010);
            lines
                .into_iter()
                .map(|l| (l.label, l.cents))
                .collect::<Vec<_>>()
        };
        let both = [("Season".to_string(), 1001), ("Weekend".to_string(), 1502)];
        assert_eq!(of("2027-06-12T13:30"), both);
        assert_eq!(of("2027-06-10T13:30"), both[..1]);
        assert_eq!(of("2027-01-09T13:30"), both[1..]);
        assert_eq!(of(""), []);
    }

    #[test]
    fn a_late_strike_is_one_of_the_night() {
        let prices = Prices {
            late_cents: 9000,
            stair_cents: 150,
            parking_cents: 800,
            ..Prices::default()
        };
        let of = |strike: &str, steps| {
            let mut job = Job::default();
            job.times.strike_from = strike.into();
            job.venue.stair_steps = steps;
            let load = Load {
                trips: 2,
                ..Load::default()
            };
            let lines = fees(&job, &prices, &load);
            lines
                .into_iter()
                .map(|l| (l.label, l.cents))
                .collect::<Vec<_>>()
        };
        let named = |label: &str, cents| (label.to_string(), cents);
        assert_eq!(
            of("2027-06-12T23:30", 8),
            [
                named("Stairs", 1200),
                named("Parking", 2400),
                named("Taking down late", 9000)
            ]
        );
        assert_eq!(
            of("2027-06-13T05:59", 0),
            [named("Parking", 2400), named("Taking down late", 9000)]
        );
        assert_eq!(of("2027-06-13T06:00", 0), [named("Parking", 2400)]);
        assert_eq!(of("2027-06-12T21:59", 0), [named("Parking", 2400)]);
        assert_eq!(of("", 0), [named("Parking", 1600)]);
    }
}

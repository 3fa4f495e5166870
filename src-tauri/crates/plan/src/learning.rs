//! The learning of alike pieces: the unit curve of J. R. Crawford (each unit's time, not the mean of all so far as in T. P. Wright's
//! reading). With a rate of 85 % every doubling of the number brings the time of a unit to 85 %: y(n) = y(m) · (n / m)^b, b = log₂ 0.85.
//!
//! Sources: J. R. Crawford, "Learning curve, ship curve, ratios, related data", Lockheed, 1944; T. P. Wright, "Factors affecting the cost
//! of airplanes", J. of the Aeronautical Sciences 3, 1936. Both from memory; the figures below are from the `learningCurve` package for R.

use crate::inflate::whole;

/// More alike units than this take no less time each.
const MOST: i64 = 10_000;

/// The exponent of a rate in percent; none above 100 %, where there is nothing to learn.
fn exponent(pct: i64) -> f64 {
    libm::log2(whole(pct.clamp(50, 100)) / 100.0)
}

/// What the time of so many alike units is to that of as many first ones, at most 1: Σ i^b / n.
#[must_use]
pub fn mean_factor(units: i64, pct: i64) -> f64 {
    let n = units.clamp(0, MOST);
    if n < 2 || pct >= 100 {
        return 1.0;
    }
    let b = exponent(pct);
    let total: f64 = (1..=n).map(|i| libm::pow(whole(i), b)).sum();
    total / whole(n)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The time of unit `n` where unit `m` takes `y`.
    fn unit(y: f64, m: i64, n: i64, pct: i64) -> f64 {
        y * libm::pow(whole(n) / whole(m), exponent(pct))
    }

    fn close(got: f64, want: f64, rel: f64) {
        assert!((got / want - 1.0).abs() < rel, "{got} is not {want}");
    }

    /// Source: `unit_curve` and `unit_cum_exact` of the AFIT `learningCurve` package for R: first unit 100 h, and the hundredth 100 h.
    #[test]
    fn units_of_the_reference() {
        close(exponent(85), -0.234_465_3, 1e-6);
        for (pct, want) in [
            (80, 21.132_25),
            (85, 32.236_47),
            (90, 48.002_43),
            (95, 69.956_40),
        ] {
            close(unit(100.0, 1, 125, pct), want, 1e-6);
        }
        close(unit(100.0, 100, 125, 85), 94.902_57, 1e-6);
        close(mean_factor(125, 85) * 125.0 * 100.0, 5201.085, 1e-6);
    }

    /// Source: T. P. Wright 1936, at 80 %: 100, 80, 70.21, 64, 51.2. All eight by units are 534.59; by his own reading of the mean they
    /// would be 409.6. The planner reads it by units.
    #[test]
    fn eighty_percent() {
        for (n, want) in [(1, 100.0), (2, 80.0), (3, 70.21), (4, 64.0), (8, 51.2)] {
            assert!((unit(100.0, 1, n, 80) - want).abs() < 0.01, "{n}");
        }
        close(mean_factor(8, 80) * 800.0, 534.59, 1e-4);
    }

    /// Ten columns stood up, 300 s each: without learning 3000 s, with 85 % as much as the sum of the curve.
    #[test]
    fn alike_pieces_are_learnt_where_the_rules_say_so() {
        use job::quick::{Quick, QuickWhat, quick_job};
        let quick = Quick {
            what: QuickWhat::Columns,
            count: 10,
            ready_by: "2027-06-12T14:00".into(),
            ..Quick::default()
        };
        let (mut job, _) = quick_job(&job::defaults::starting_books(), &quick, "");
        let stand = |job: &job::Job| {
            let plan = crate::plan(job, None);
            let all = |work: &str| -> i64 {
                let theirs = plan.tasks.iter().filter(|t| t.id.starts_with(work));
                theirs.map(|t| t.work_s).sum()
            };
            [all("stand."), all("stack."), all("bag."), all("finish")]
        };
        let plain = stand(&job);
        assert_eq!(plain[0], 3000);
        job.rules.learn_pct = 85;
        let learnt = stand(&job);
        let factor = (1..=10)
            .map(|i| libm::pow(f64::from(i), -0.234_465_3))
            .sum::<f64>()
            / 10.0;
        for (was, is) in plain.iter().zip(learnt).take(2) {
            assert!(
                (is as f64 - *was as f64 * factor).abs() <= 1.0,
                "{was} {is}"
            );
        }
        // what is done once is not learnt
        assert_eq!(plain[2..], learnt[2..]);
    }

    proptest! {
        /// More of them never take less in all, never more than as many first ones, and nothing at 100 %.
        #[test]
        fn more_take_longer_in_all_and_less_each(n in 1i64..500, pct in 50i64..=100) {
            let (one, more) = (mean_factor(n, pct), mean_factor(n + 1, pct));
            prop_assert!(more <= one + 1e-12 && one <= 1.0);
            prop_assert!(more * whole(n + 1) >= one * whole(n));
            prop_assert_eq!(mean_factor(n, 100).to_bits(), 1.0f64.to_bits());
        }
    }
}

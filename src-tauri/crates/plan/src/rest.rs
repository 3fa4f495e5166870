//! Rules on breaks and rest, read off the stretches in which somebody works: pointed out, never judged. Laws differ; those of the place
//! of work hold.
//!
//! Source: Directive 2003/88/EC, article 3 (11 h in a row of each 24 h), article 4 (a break where the day is longer than 6 h), article 5
//! (24 h in a row of each seven days); the length of a break from the United Kingdom's Working Time Regulations 1998, regulation 12.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

const HOUR_MS: i64 = 3_600_000;
/// A pause this long breaks a stretch of work, ms.
const BREAK_MS: i64 = 20 * 60_000;
/// Work without a break beyond this is pointed out, ms.
const LONG_MS: i64 = 6 * HOUR_MS;
/// Rest in a row that each 24 hours should hold, ms, and what of them that leaves.
const REST_MS: i64 = 11 * HOUR_MS;
pub(crate) const AWAKE_MS: i64 = DAY_MS - REST_MS;
/// A day, ms.
pub(crate) const DAY_MS: i64 = 24 * HOUR_MS;
/// Rest in a row that seven days should hold, ms, and what of them that leaves.
const FREE_MS: i64 = 24 * HOUR_MS;
const WEEK_MS: i64 = 7 * 24 * HOUR_MS - FREE_MS;

/// A rule on rest.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize, TS,
)]
#[serde(rename_all = "snake_case")]
pub enum Rule {
    /// A break in six hours of work.
    #[default]
    Break,
    /// Eleven hours of rest in each day of 24.
    Daily,
    /// A day of rest in seven.
    Weekly,
}

/// A stretch of work that breaks a rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Broken {
    /// Which.
    pub rule: Rule,
    /// The stretch begins, ms.
    pub from_ms: i64,
    /// It ends, ms.
    pub to_ms: i64,
}

/// Every stretch that breaks a rule, rule by rule. `spans` of work, ms, in any order.
pub(crate) fn broken(spans: &[(i64, i64)]) -> Vec<Broken> {
    let mut spans = spans.to_vec();
    spans.sort_unstable();
    [
        (Rule::Break, BREAK_MS, LONG_MS),
        (Rule::Daily, REST_MS, AWAKE_MS),
        (Rule::Weekly, FREE_MS, WEEK_MS),
    ]
    .into_iter()
    .flat_map(|(rule, pause, most)| {
        stretches(&spans, pause)
            .into_iter()
            .filter(move |(from, to)| to.saturating_sub(*from) > most)
            .map(move |(from_ms, to_ms)| Broken {
                rule,
                from_ms,
                to_ms,
            })
    })
    .collect()
}

/// Work without a pause of this length, ms. Spans in order of start.
fn stretches(spans: &[(i64, i64)], pause: i64) -> Vec<(i64, i64)> {
    let mut joined: Vec<(i64, i64)> = Vec::new();
    for (start, end) in spans {
        match joined.last_mut() {
            Some(last) if start.saturating_sub(last.1) < pause => last.1 = last.1.max(*end),
            _ => joined.push((*start, *end)),
        }
    }
    joined
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: Directive 2003/88/EC, articles 3 to 5.
    #[test]
    fn rules() {
        let h = |from: i64, to: i64| (from * HOUR_MS, to * HOUR_MS);
        let day = |n: i64| h(24 * n + 8, 24 * n + 12);
        for (spans, want) in [
            (vec![], vec![]),
            (vec![h(8, 14)], vec![]),
            (vec![h(8, 15)], vec![Rule::Break]),
            // in any order
            (vec![h(33, 34), h(8, 15)], vec![Rule::Break]),
            (vec![h(8, 15), h(40, 47)], vec![Rule::Break, Rule::Break]),
            (vec![h(32, 34), h(14, 16), h(18, 22)], vec![Rule::Daily]),
            // six days, and the seventh free; seven in a row
            ((0..6).map(day).collect(), vec![]),
            ((0..7).map(day).collect(), vec![Rule::Weekly]),
            ((0..8).filter(|n| *n != 3).map(day).collect(), vec![]),
        ] {
            let got: Vec<Rule> = broken(&spans).into_iter().map(|b| b.rule).collect();
            assert_eq!(got, want, "{spans:?}");
        }
    }
}

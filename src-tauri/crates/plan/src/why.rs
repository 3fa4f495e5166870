//! What each figure was summed from. Every total is the sum of its terms.

use std::collections::BTreeMap;

use crate::inflate::{nearest, whole};
use crate::types::{Plan, Term, Why};

/// The terms of the plan's figures, by the figure's name.
#[must_use]
pub fn why(plan: &Plan) -> BTreeMap<String, Why> {
    let mut all = BTreeMap::new();
    let mut add =
        |name: &str, title: &str, unit: &str, total: i64, terms: Vec<Term>, rule: &str| {
            all.insert(
                name.to_string(),
                Why {
                    title: title.into(),
                    unit: unit.into(),
                    total,
                    terms,
                    rule: rule.into(),
                },
            );
        };
    let pieces = |value: fn(&crate::types::PiecePlan) -> Option<i64>| -> Vec<Term> {
        plan.pieces
            .iter()
            .filter_map(|p| {
                let label = match p.name.trim() {
                    "" => "Piece without a name",
                    name => name,
                };
                Some(Term {
                    label: label.into(),
                    value: value(p).filter(|v| *v != 0)?,
                })
            })
            .collect()
    };
    let figures = &plan.figures;
    add(
        "balloons",
        "Balloons",
        "balloons",
        figures.balloons,
        pieces(|p| Some(p.balloons)),
        "Balloons of every piece, double-stuffed balls counted twice, without spares.",
    );
    add(
        "garland_mm",
        "Garland",
        "mm",
        figures.garland_mm,
        pieces(|p| p.garland.as_ref().map(|g| g.length_mm)),
        "Tip to tip, by the instant rule: what each cluster takes of the line, and half the largest balloon at each end.",
    );
    let parcels = plan
        .load
        .parcels
        .iter()
        .map(|p| Term {
            label: format!("{} {}", p.code, p.name),
            value: p.volume_ml,
        })
        .collect();
    add(
        "volume_ml",
        "Volume",
        "ml",
        figures.volume_ml,
        parcels,
        "All bags, squeezed, and all cases.",
    );
    let work = plan
        .tasks
        .iter()
        .map(|t| Term {
            label: t.title.clone(),
            value: t.work_s,
        })
        .collect();
    add(
        "work_s",
        "Work",
        "s",
        figures.work_s,
        work,
        "Working time of all people together.",
    );
    if let (Some(start), Some(end)) = (figures.start_by_ms, backwards(plan).map(|t| t.1)) {
        add(
            "start_by_ms",
            "Start by",
            "s",
            nearest(whole(end - start) / 1000.0),
            chain(plan, start, end),
            "From the first work to ready-by: what is on the way, latest first, and the time between.",
        );
    }
    if let (Some(leave), Some(end)) = (figures.leave_by_ms, backwards(plan).map(|t| t.1)) {
        add(
            "leave_by_ms",
            "Leave by",
            "s",
            nearest(whole(end - leave) / 1000.0),
            chain(plan, leave, end),
            "From leaving to ready-by: what is on the way, latest first, and the time between.",
        );
    }
    if let (Some(slack), Some(carry), Some(end)) = (
        figures.slack_s,
        plan.tasks
            .iter()
            .find(|t| t.id == "carry")
            .and_then(|t| t.start_ms),
        backwards(plan).map(|t| t.1),
    ) {
        let work = nearest(whole(end - carry) / 1000.0);
        let mut terms = vec![Term {
            label: "From load-in to the end of the work".into(),
            value: slack.saturating_add(work),
        }];
        terms.extend(chain(plan, carry, end).into_iter().map(|t| Term {
            value: -t.value,
            ..t
        }));
        add(
            "slack_s",
            "From the doors opening until the carrying begins",
            "s",
            slack,
            terms,
            "What the work from carrying in to the hand-over leaves of the time since load-in: you come so much after it begins.",
        );
    }
    if let (Some(price), Some(total)) = (&plan.price, figures.price_cents) {
        let mut terms: Vec<Term> = price
            .lines
            .iter()
            .map(|l| Term {
                label: l.label.clone(),
                value: l.cents,
            })
            .collect();
        for (label, value) in [
            ("Discount", -price.discount_cents),
            ("Up to the least price", price.minimum_cents),
            ("Up to an even figure", price.rounding_cents),
            ("Tax", price.tax_cents),
        ] {
            if value != 0 {
                terms.push(Term {
                    label: label.into(),
                    value,
                });
            }
        }
        add(
            "price_cents",
            "Price",
            "cents",
            total,
            terms,
            "Every line in whole units of the smallest coin; tax once for each rate, on its net sum, halves up.",
        );
    }
    all
}

/// The last task before the strike, with its end.
fn backwards(plan: &Plan) -> Option<(usize, i64)> {
    plan.tasks
        .iter()
        .enumerate()
        .filter(|(_, t)| !t.phase.comes_after())
        .filter_map(|(i, t)| Some((i, t.end_ms?)))
        .max_by_key(|(i, end)| (*end, *i))
}

/// Going back from the end: at each moment the task that ends there or last before it, and the gap, until the start. Seconds.
fn chain(plan: &Plan, start: i64, end: i64) -> Vec<Term> {
    let mut terms = Vec::new();
    let mut at = end;
    let timed: Vec<(i64, i64, &str)> = plan
        .tasks
        .iter()
        .filter(|t| !t.phase.comes_after())
        .filter_map(|t| Some((t.end_ms?, t.start_ms?, t.title.as_str())))
        .filter(|(e, s, _)| e > s)
        .collect();
    while at > start {
        let Some((to, from, title)) = timed
            .iter()
            .filter(|(e, s, _)| *e <= at && *s >= start)
            .max_by_key(|(e, s, _)| (*e, -*s))
        else {
            break;
        };
        if *to < at {
            terms.push(Term {
                label: "Between".into(),
                value: (at - to) / 1000,
            });
        }
        terms.push(Term {
            label: title.to_string(),
            value: (to - from) / 1000,
        });
        at = *from;
    }
    if at > start {
        terms.push(Term {
            label: "Between".into(),
            value: (at - start) / 1000,
        });
    }
    terms
}

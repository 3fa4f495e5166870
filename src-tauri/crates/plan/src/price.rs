//! The price: goods, labour, travel, frames, charges; discount, least price, tax, deposit. Every line is whole cents.

use job::list::live;
use job::{Finding, Job, Private, Room, Severity};

use crate::frames::brought;
use crate::inflate::{nearest, whole};
use crate::order::cost;
use crate::pieces::Counted;
use crate::tax::{share, tax};
use crate::types::{Load, OrderLine, Price, PriceLine, Task};

/// No line of a price, and no rate of tax, goes beyond these (cents, hundredths of a percent): the sums stay whole numbers that are
/// exact. Whatever would lead there is a slip of the keyboard, which has its finding.
const MOST_CENTS: i64 = 1_000_000_000_000_000;
const MOST_TAX_BP: i64 = 100_000;

/// What the job costs the client.
#[must_use]
pub fn price(
    job: &Job,
    private: &Private,
    counted: &Counted,
    order: &[OrderLine],
    tasks: &[Task],
    load: &Load,
) -> (Price, Vec<Finding>) {
    let prices = &private.prices;
    let mut findings = Vec::new();
    let goods_cost = goods(private, order, &mut findings);
    let work_s: i64 = tasks.iter().map(|t| t.work_s).fold(0, i64::saturating_add);
    let frames: i64 = counted
        .pieces
        .iter()
        .filter_map(|p| brought(job, p))
        .map(|f| f.count)
        .sum();
    let ways = ways(job, load);
    let mut lines = vec![
        PriceLine {
            label: "Balloons and sundries".into(),
            detail: format!("cost and {} % on it", prices.markup_pct),
            cents: share(goods_cost, prices.markup_pct.saturating_add(100), 100),
        },
        PriceLine {
            label: "Labour".into(),
            detail: format!("{} of work", hours(work_s)),
            cents: share(work_s, prices.labour_h_cents, 3600),
        },
    ];
    if job.drive.distance_hm > 0 {
        let hm = job.drive.distance_hm.saturating_mul(ways);
        lines.push(PriceLine {
            label: "Travel".into(),
            detail: format!("{} km, {ways} ways", tenths(hm)),
            cents: share(hm, prices.travel_km_cents, 10),
        });
    }
    if frames > 0 {
        lines.push(PriceLine {
            label: "Frames".into(),
            detail: format!("{frames}"),
            cents: frames.saturating_mul(prices.frame_cents),
        });
    }
    for (_, charge) in live(&private.charges) {
        let label = if charge.label.trim().is_empty() {
            "Charge without a name".into()
        } else {
            charge.label.clone()
        };
        lines.push(PriceLine {
            label,
            detail: String::new(),
            cents: charge.cents,
        });
    }
    for line in &mut lines {
        line.cents = line.cents.clamp(-MOST_CENTS, MOST_CENTS);
    }
    let lines_cents = lines
        .iter()
        .fold(0i64, |sum, l| sum.saturating_add(l.cents));
    let discount_cents = share(lines_cents, prices.discount_pct.clamp(0, 100), 100).max(0);
    let reduced = lines_cents.saturating_sub(discount_cents);
    let least = prices.minimum_cents.clamp(0, MOST_CENTS);
    let minimum_cents = least.saturating_sub(reduced).max(0);
    let net_cents = reduced.saturating_add(minimum_cents);
    let tax_bp = prices.tax_bp.clamp(0, MOST_TAX_BP);
    let tax_cents = tax(net_cents, tax_bp);
    let gross_cents = net_cents.saturating_add(tax_cents);
    let price = Price {
        currency: prices.currency.clone(),
        lines,
        lines_cents,
        discount_cents,
        minimum_cents,
        net_cents,
        tax_bp,
        tax_cents,
        gross_cents,
        deposit_cents: share(gross_cents, prices.deposit_pct.clamp(0, 100), 100),
        goods_cost_cents: goods_cost,
    };
    (price, findings)
}

/// Cost of what is used and carried as spares, each line to the nearest cent. What has no cost is named.
fn goods(private: &Private, order: &[OrderLine], findings: &mut Vec<Finding>) -> i64 {
    let mut sum = 0i64;
    let mut without: Vec<&str> = Vec::new();
    for line in order {
        match cost(private, &line.item, line.need.saturating_add(line.spares)) {
            Some(cents) => sum = sum.saturating_add(cents),
            None => without.push(&line.name),
        }
    }
    if let Some(first) = without.first() {
        let more = match without.len() {
            1 => String::new(),
            n => format!(" and {} more", n - 1),
        };
        findings.push(Finding::new(
            "no_cost",
            Severity::Care,
            Room::Papers,
            &["private", "costs"],
            format!("The price leaves out {first}{more}: no cost is known."),
            "Enter what a bag costs.",
        ));
    }
    sum
}

/// Ways driven: there and back for every trip, and as often again if it is struck.
fn ways(job: &Job, load: &Load) -> i64 {
    let strike = i64::from(!job.times.strike_from.trim().is_empty());
    load.trips.clamp(1, 100) * 2 * (1 + strike)
}

/// `14 h 30`.
fn hours(seconds: i64) -> String {
    let minutes = nearest(whole(seconds) / 60.0);
    format!("{} h {:02}", minutes / 60, minutes % 60)
}

/// `12.5` from 125, for what is not negative.
fn tenths(n: i64) -> String {
    format!("{}.{}", n / 10, n % 10)
}

#[cfg(test)]
mod tests;

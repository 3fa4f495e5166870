//! The price: goods, labour, travel, frames, fees, charges by the chosen model; season, discount, least price, a pleasing figure; tax by
//! rate, deposit. Every line is whole cents.

mod fees;
mod lines;
mod pleasing;

use job::{Finding, Job, Private};

use crate::pieces::Counted;
use crate::tax::{Rated, TaxLine, share, tax, totals};
use crate::types::{Load, OrderLine, Price, PriceLine, PriceTax, Task};

use pleasing::pleasing_net;

/// No line of a price, and no rate of tax, goes beyond these (cents, hundredths of a percent): the sums stay whole numbers that are
/// exact. Whatever would lead there is a slip of the keyboard, which has its finding.
const MOST_CENTS: i64 = 1_000_000_000_000_000;
const MOST_TAX_BP: i64 = 100_000;
/// So many cents a part of a price may lie beside its percent, that the bills add up: nobody counts them, everybody counts the sum.
const MOST_SHIFT_CENTS: i64 = 5;

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
    let cost_cents = lines::goods(private, order, &mut findings);
    let main_bp = prices.tax_bp.clamp(0, MOST_TAX_BP);
    let mut lines = lines::lines(job, private, counted, tasks, cost_cents);
    let made: i64 = sum(&lines);
    lines.extend(lines::travel(job, prices, load));
    lines.extend(fees::fees(job, prices, load));
    lines.extend(fees::season(job, prices, made));
    for line in &mut lines {
        line.tax_bp = main_bp;
    }
    lines.extend(fees::charges(private, main_bp));
    for line in &mut lines {
        line.cents = line.cents.clamp(-MOST_CENTS, MOST_CENTS);
    }
    let phases = lines::phases(tasks, &lines, main_bp);
    (summed(private, lines, phases, cost_cents), findings)
}

/// From lines to what is to be paid.
fn summed(
    private: &Private,
    lines: Vec<PriceLine>,
    phases: Vec<PriceLine>,
    cost_cents: i64,
) -> Price {
    let prices = &private.prices;
    let main_bp = prices.tax_bp.clamp(0, MOST_TAX_BP);
    let lines_cents = sum(&lines);
    let discount_cents = share(lines_cents, prices.discount_pct.clamp(0, 100), 100).max(0);
    let reduced = lines_cents.saturating_sub(discount_cents);
    let least = prices.minimum_cents.clamp(0, MOST_CENTS);
    let minimum_cents = least.saturating_sub(reduced).max(0);
    let mut rated: Vec<Rated> = lines.iter().map(rated_line).collect();
    let discounts = spread(-discount_cents, &rated, main_bp);
    rated.extend(&discounts);
    rated.push(Rated {
        cents: minimum_cents,
        rate_bp: main_bp,
    });
    let rounding_cents = pleasing_net(&rated, main_bp, prices.round_to_cents);
    rated.push(Rated {
        cents: rounding_cents,
        rate_bp: main_bp,
    });
    let all = totals(&rated, 0);
    let taxes: Vec<PriceTax> = all
        .taxes
        .iter()
        .filter(|t| t.taxable_cents != 0 || t.rate_bp == main_bp)
        .map(|t| PriceTax {
            tax_bp: t.rate_bp,
            net_cents: t.taxable_cents,
            tax_cents: t.tax_cents,
        })
        .collect();
    Price {
        currency: prices.currency.clone(),
        lines,
        phases,
        lines_cents,
        discount_cents,
        discounts: discounts
            .iter()
            .map(|d| PriceTax {
                tax_bp: d.rate_bp,
                net_cents: d.cents,
                tax_cents: 0,
            })
            .collect(),
        minimum_cents,
        rounding_cents,
        net_cents: all.net_cents,
        tax_bp: main_bp,
        taxes,
        tax_cents: all.gross_cents.saturating_sub(all.net_cents),
        gross_cents: all.gross_cents,
        deposit_cents: part_gross(&all.taxes, prices.deposit_pct),
        goods_cost_cents: cost_cents,
    }
}

fn rated_line(line: &PriceLine) -> Rated {
    Rated {
        cents: line.cents,
        rate_bp: line.tax_bp,
    }
}

fn sum(lines: &[PriceLine]) -> i64 {
    lines
        .iter()
        .fold(0i64, |sum, l| sum.saturating_add(l.cents))
}

/// An amount spread over the rates in the measure of their sums; what rounding leaves goes to the main rate. The parts add up to the
/// amount. Where the sums of the rates do not all have one sign, all goes to the main rate.
#[must_use]
pub fn spread(cents: i64, rated: &[Rated], main_bp: i64) -> Vec<Rated> {
    let sums = totals(rated, 0).taxes;
    let whole = sums
        .iter()
        .fold(0i64, |sum, t| sum.saturating_add(t.taxable_cents));
    if cents == 0 {
        return Vec::new();
    }
    let one_sign = whole > 0 && sums.iter().all(|t| t.taxable_cents >= 0);
    let mut parts: Vec<Rated> = Vec::new();
    if one_sign {
        for sum in sums
            .iter()
            .filter(|t| t.rate_bp != main_bp && t.taxable_cents != 0)
        {
            parts.push(Rated {
                cents: share(cents, sum.taxable_cents, whole),
                rate_bp: sum.rate_bp,
            });
        }
    }
    let given = parts
        .iter()
        .fold(0i64, |sum, p| sum.saturating_add(p.cents));
    parts.push(Rated {
        cents: cents.saturating_sub(given),
        rate_bp: main_bp,
    });
    parts.retain(|p| p.cents != 0);
    parts
}

/// A part of a price, percent, for each rate of tax: net to whole cents.
#[must_use]
pub fn part(taxes: &[TaxLine], pct: i64) -> Vec<Rated> {
    parts(taxes, &[pct]).pop().unwrap_or_default()
}

/// The same with its tax.
#[must_use]
pub fn part_gross(taxes: &[TaxLine], pct: i64) -> i64 {
    totals(&part(taxes, pct), 0).gross_cents
}

/// Parts of a price, percent, one after the other. Tax is rounded on every bill, so each part is chosen such that its tax and the tax on
/// what is then left add up to the tax before: all bills together ask for the whole price, to the cent.
#[must_use]
pub fn parts(taxes: &[TaxLine], pcts: &[i64]) -> Vec<Vec<Rated>> {
    let mut left: Vec<i64> = taxes.iter().map(|t| t.taxable_cents).collect();
    pcts.iter()
        .map(|pct| {
            taxes
                .iter()
                .zip(&mut left)
                .map(|(t, left)| {
                    let exact = share(t.taxable_cents, (*pct).clamp(0, 100), 100);
                    let cents = parted(*left, exact, t.rate_bp);
                    *left = left.saturating_sub(cents);
                    Rated {
                        cents,
                        rate_bp: t.rate_bp,
                    }
                })
                .collect()
        })
        .collect()
}

/// The amount next to `exact` whose tax and that of the rest add up to the tax on the whole; `exact` where none is near.
fn parted(whole: i64, exact: i64, rate_bp: i64) -> i64 {
    if exact == 0 {
        return 0;
    }
    let fits = |cents: &i64| {
        let rest = tax(whole.saturating_sub(*cents), rate_bp);
        tax(*cents, rate_bp).saturating_add(rest) == tax(whole, rate_bp)
    };
    (0..=MOST_SHIFT_CENTS)
        .flat_map(|shift| [exact.saturating_add(shift), exact.saturating_sub(shift)])
        .find(fits)
        .unwrap_or(exact)
}

#[cfg(test)]
mod tests;

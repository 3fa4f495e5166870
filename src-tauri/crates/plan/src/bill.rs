//! Quotes, invoices and credit notes from a job: what they say, and that their sums are right.
//!
//! An invoice for the rest names every deposit invoice as a line that takes its net off, rate by rate, so that no tax is asked for twice.

mod credit;

use std::collections::BTreeMap;

use chrono::{Duration, NaiveDate};
use job::bill::{Bill, BillBefore, BillKind, BillLine, BillPart, BillTax, Buyer, CreditPart};
use job::books::Own;
use job::list::live;
use job::{Finding, Job, Private, Room, Severity};

pub use credit::{fits, left, lines, taken_back};

use crate::price::{part, parts};
use crate::tax::{Rated, TaxLine, totals};
use crate::types::{Price, PriceKind, PriceLine};

/// What is asked for.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Asked<'a> {
    /// What it is.
    pub kind: BillKind,
    /// Deposit: which part of the payment, by its id; empty is the deposit of the rates.
    pub instalment: &'a str,
    /// Credit: the bill that it takes back, by its id.
    pub of: &'a str,
    /// Credit: the lines that a part is given back of; none takes back the whole, or what is left of it.
    pub part: &'a [CreditPart],
    /// Day of issue, `YYYY-MM-DD`.
    pub day: &'a str,
}

/// The bill, without a number, with what is missing on it; absent if there is nothing to make it of: no such bill to take back.
#[must_use]
pub fn bill(
    job: &Job,
    private: &Private,
    price: &Price,
    own: &Own,
    asked: &Asked<'_>,
) -> Option<(Bill, Vec<Finding>)> {
    let mut bill = match asked.kind {
        BillKind::Credit => credit::credit(private, asked)?,
        kind => from_job(job, private, price, own, kind, asked),
    };
    sum_up(&mut bill);
    let mut findings = missing(&bill);
    findings.extend(asked_before(private, &bill));
    Some((bill, findings))
}

fn from_job(
    job: &Job,
    private: &Private,
    price: &Price,
    own: &Own,
    kind: BillKind,
    asked: &Asked<'_>,
) -> Bill {
    let prices = &private.prices;
    let client = &private.client;
    let days = match kind {
        BillKind::Quote => prices.valid_days,
        _ => prices.pay_days,
    };
    let event_day: String = job.times.ready_by.chars().take(10).collect();
    let mut due_day = later(asked.day, days);
    // nobody takes an offer after the event; ISO dates are in order as they are written
    if kind == BillKind::Quote && asked.day <= event_day.as_str() && event_day < due_day {
        due_day.clone_from(&event_day);
    }
    let mut bill = Bill {
        kind,
        day: asked.day.into(),
        due_day,
        event_day,
        currency: price.currency.clone(),
        seller: own.clone(),
        buyer: Buyer {
            name: client.name.clone(),
            address: client.address.clone(),
            email: client.email.clone(),
            country: client.country.clone(),
            tax_number: client.tax_number.clone(),
        },
        title: job.name.clone(),
        terms: prices.terms.clone(),
        tax_note: prices.tax_note.clone(),
        ..Bill::default()
    };
    let taxes = tax_lines(price);
    match kind {
        BillKind::Deposit => {
            let (label, pct) = instalment(private, asked.instalment);
            let many = taxes.len() > 1;
            bill.lines = asked_part(private, &taxes, asked.instalment, pct)
                .into_iter()
                .map(|rated| BillLine {
                    label: format!("{label}, {pct} % of the price"),
                    detail: if many {
                        format!("what is taxed at {}", percent(rated.rate_bp))
                    } else {
                        String::new()
                    },
                    cents: rated.cents,
                    tax_bp: rated.rate_bp,
                })
                .collect();
        }
        _ => {
            bill.lines = whole_lines(price);
            bill.wholes = on_the_whole(price);
            if kind == BillKind::Quote {
                bill.parts = payments(private, price);
            } else {
                take_off_deposits(&mut bill, private);
            }
        }
    }
    bill
}

/// The lines of the price, labour by phase.
fn whole_lines(price: &Price) -> Vec<BillLine> {
    let mut lines = Vec::new();
    for line in &price.lines {
        if line.kind == PriceKind::Labour && !price.phases.is_empty() {
            lines.extend(price.phases.iter().map(shown));
        } else {
            lines.push(shown(line));
        }
    }
    // a bill has a line, even at no price (EN 16931 BR-16)
    let first = lines.first().cloned();
    lines.retain(|l| l.cents != 0);
    if lines.is_empty() {
        lines.push(first.unwrap_or_else(|| BillLine {
            label: "Balloon decoration".into(),
            tax_bp: price.tax_bp,
            ..BillLine::default()
        }));
    }
    lines
}

/// How a line was reckoned is told only where the client can count it: not what the goods cost.
fn shown(line: &PriceLine) -> BillLine {
    let detail = match line.kind {
        PriceKind::Goods => String::new(),
        _ => line.detail.clone(),
    };
    BillLine {
        label: line.label.clone(),
        detail,
        cents: line.cents,
        tax_bp: line.tax_bp,
    }
}

fn on_the_whole(price: &Price) -> Vec<BillLine> {
    let many = price.discounts.len() > 1;
    let mut wholes: Vec<BillLine> = price
        .discounts
        .iter()
        .map(|d| BillLine {
            label: "Discount".into(),
            detail: if many {
                format!("on what is taxed at {}", percent(d.tax_bp))
            } else {
                String::new()
            },
            cents: d.net_cents,
            tax_bp: d.tax_bp,
        })
        .collect();
    for (label, cents) in [
        ("To the least price of a job", price.minimum_cents),
        ("To an even figure", price.rounding_cents),
    ] {
        wholes.push(BillLine {
            label: label.into(),
            detail: String::new(),
            cents,
            tax_bp: price.tax_bp,
        });
    }
    wholes.retain(|w| w.cents != 0);
    wholes
}

/// The parts of the payment and what is left for the end.
#[must_use]
pub fn payments(private: &Private, price: &Price) -> Vec<BillPart> {
    let mut parts: Vec<BillPart> = instalments(private, &tax_lines(price))
        .into_iter()
        .map(|(id, rated)| BillPart {
            label: instalment(private, id).0,
            day: private
                .instalments
                .get(id)
                .map_or_else(String::new, |i| i.day.clone()),
            cents: totals(&rated, 0).gross_cents,
        })
        .collect();
    if parts.is_empty() && price.deposit_cents > 0 {
        parts.push(BillPart {
            label: "Deposit".into(),
            day: String::new(),
            cents: price.deposit_cents,
        });
    }
    let given: i64 = parts
        .iter()
        .fold(0i64, |sum, p| sum.saturating_add(p.cents));
    let rest = price.gross_cents.saturating_sub(given);
    if !parts.is_empty() && rest > 0 {
        parts.push(BillPart {
            label: "The rest, after the event".into(),
            day: String::new(),
            cents: rest,
        });
    }
    parts
}

/// The parts of the payment by id, each with its nets.
fn instalments<'a>(private: &'a Private, taxes: &[TaxLine]) -> Vec<(&'a str, Vec<Rated>)> {
    let all: Vec<(&str, i64)> = live(&private.instalments)
        .into_iter()
        .filter(|(_, i)| i.pct > 0)
        .map(|(id, i)| (id, i.pct))
        .collect();
    let pcts: Vec<i64> = all.iter().map(|(_, pct)| *pct).collect();
    let ids = all.into_iter().map(|(id, _)| id);
    ids.zip(parts(taxes, &pcts)).collect()
}

/// The nets of the part that is asked for: the same as on the quote.
fn asked_part(private: &Private, taxes: &[TaxLine], id: &str, pct: i64) -> Vec<Rated> {
    instalments(private, taxes)
        .into_iter()
        .find(|(of, _)| *of == id)
        .map_or_else(|| part(taxes, pct), |(_, rated)| rated)
}

/// Name and percent of a part of the payment.
fn instalment(private: &Private, id: &str) -> (String, i64) {
    let found = private.instalments.get(id).filter(|i| !i.gone);
    match found {
        Some(part) if part.label.trim().is_empty() => {
            ("Part of the payment".into(), part.pct.clamp(0, 100))
        }
        Some(part) => (part.label.trim().into(), part.pct.clamp(0, 100)),
        None => ("Deposit".into(), private.prices.deposit_pct.clamp(0, 100)),
    }
}

fn tax_lines(price: &Price) -> Vec<TaxLine> {
    price
        .taxes
        .iter()
        .map(|t| TaxLine {
            rate_bp: t.tax_bp,
            taxable_cents: t.net_cents,
            tax_cents: t.tax_cents,
        })
        .collect()
}

/// Every issued deposit invoice, as lines that take off what credit notes left of its nets.
fn take_off_deposits(bill: &mut Bill, private: &Private) {
    for (id, kept) in live(&private.bills) {
        let Some(said) = kept.bill().filter(|_| kept.kind == BillKind::Deposit) else {
            continue;
        };
        if !kept.issued() || taken_back(private, id) {
            continue;
        }
        let left: Vec<Rated> = left(private, id);
        let many = left.iter().filter(|r| r.cents != 0).count() > 1;
        for rated in left.iter().filter(|r| r.cents != 0) {
            bill.lines.push(BillLine {
                label: format!("Less invoice {}", kept.number),
                detail: if many {
                    format!("of {} at {} tax", said.day, percent(rated.rate_bp))
                } else {
                    format!("of {}", said.day)
                },
                cents: rated.cents.saturating_neg(),
                tax_bp: rated.rate_bp,
            });
        }
        bill.before.push(BillBefore {
            number: kept.number.clone(),
            day: said.day.clone(),
            cents: totals(&left, 0).gross_cents,
        });
    }
}

/// Another invoice that asks for the same already.
fn asked_before(private: &Private, bill: &Bill) -> Option<Finding> {
    if bill.kind != BillKind::Invoice {
        return None;
    }
    let before = live(&private.bills)
        .into_iter()
        .find(|(id, b)| b.kind == bill.kind && b.issued() && !taken_back(private, id));
    let (_, before) = before?;
    Some(Finding::new(
        "invoiced_before",
        Severity::Care,
        Room::Papers,
        &["private", "bills"],
        format!("Invoice {} asks for this already.", before.number),
        "Take that one back first, or leave this one.",
    ))
}

/// The sums of a bill from its lines.
pub fn sum_up(bill: &mut Bill) {
    let all = totals(&rated(bill), 0);
    bill.taxes = all
        .taxes
        .iter()
        .map(|t| BillTax {
            tax_bp: t.rate_bp,
            net_cents: t.taxable_cents,
            tax_cents: t.tax_cents,
        })
        .collect();
    bill.net_cents = all.net_cents;
    bill.gross_cents = all.gross_cents;
    bill.tax_cents = all.gross_cents.saturating_sub(all.net_cents);
}

fn rated(bill: &Bill) -> Vec<Rated> {
    bill.lines
        .iter()
        .chain(&bill.wholes)
        .map(|l| Rated {
            cents: l.cents,
            rate_bp: l.tax_bp,
        })
        .collect()
}

/// Whether the sums are those of the lines: EN 16931 BR-CO-10 to BR-CO-17, with tax rounded once for each rate.
#[must_use]
pub fn adds_up(bill: &Bill) -> bool {
    let mut again = bill.clone();
    sum_up(&mut again);
    let mut rates: BTreeMap<i64, usize> = BTreeMap::new();
    for tax in &bill.taxes {
        *rates.entry(tax.tax_bp).or_default() += 1;
    }
    again == *bill && rates.values().all(|n| *n == 1)
}

/// What law or custom wants on it and it lacks.
fn missing(bill: &Bill) -> Vec<Finding> {
    let mut all = Vec::new();
    let mut want = |path: &[&str], message: &str, action: &str| {
        all.push(Finding::new(
            "bill_lacks",
            Severity::Care,
            Room::Papers,
            path,
            message,
            action,
        ));
    };
    let none = |text: &str| text.trim().is_empty();
    if none(&bill.seller.name) || none(&bill.seller.address) {
        want(
            &[],
            "Your own name or address is missing.",
            "Enter both in Settings.",
        );
    }
    if none(&bill.buyer.name) {
        want(
            &["private", "client", "name"],
            "The client has no name.",
            "Enter it in Brief.",
        );
    }
    if bill.kind == BillKind::Quote {
        return all;
    }
    if none(&bill.buyer.address) {
        want(
            &["private", "client", "address"],
            "The client has no address.",
            "Enter it in Brief.",
        );
    }
    if bill.taxes.iter().any(|t| t.tax_bp > 0) && none(&bill.seller.tax_number) {
        want(
            &[],
            "Tax is asked for without your tax number.",
            "Enter it in Settings.",
        );
    }
    if bill.taxes.iter().any(|t| t.tax_bp == 0) && none(&bill.tax_note) {
        want(
            &["private", "prices", "tax_note"],
            "Something carries no tax, and the invoice does not say why.",
            "Enter the reason under Price.",
        );
    }
    for (country, whose, path) in [
        (
            &bill.buyer.country,
            "The client",
            &["private", "client", "country"][..],
        ),
        (&bill.seller.country, "Your own address", &[]),
    ] {
        if country.len() != 2 || !country.bytes().all(|b| b.is_ascii_uppercase()) {
            want(
                path,
                &format!("{whose} has no country code; the structured copy needs one."),
                "Enter two capital letters, such as DE, GB or US.",
            );
        }
    }
    if bill.gross_cents < 0 {
        want(
            &[],
            "The invoice comes to less than nothing: more was paid before than the job costs.",
            "Credit the deposit instead.",
        );
    }
    all
}

/// A day so many days later; empty if the day cannot be read.
fn later(day: &str, days: i64) -> String {
    NaiveDate::parse_from_str(day, "%Y-%m-%d")
        .ok()
        .and_then(|d| d.checked_add_signed(Duration::try_days(days.clamp(0, 3650))?))
        .map(|d| d.format("%Y-%m-%d").to_string())
        .unwrap_or_default()
}

fn percent(bp: i64) -> String {
    let text = format!("{}.{:02}", bp / 100, (bp % 100).abs());
    let text = text.trim_end_matches('0').trim_end_matches('.');
    format!("{text} %")
}

#[cfg(test)]
mod tests;

//! Credit notes: an issued invoice, or a part of it, is given back, and never more than it asked for.

use std::collections::BTreeMap;

use job::Private;
use job::bill::{Bill, BillBefore, BillKind, BillLine, CreditPart, KeptBill};

use super::Asked;
use crate::tax::{Rated, share};

/// What is left of an issued bill after the credit notes on it: its net by rate of tax. Nothing for what was not issued. A credit note
/// that cannot be read, as a newer version wrote it, counts as one on the whole.
#[must_use]
pub fn left(private: &Private, id: &str) -> Vec<Rated> {
    let said = private.bills.get(id).filter(|b| b.issued());
    let Some(said) = said.and_then(KeptBill::bill) else {
        return Vec::new();
    };
    let mut nets: BTreeMap<i64, i64> = BTreeMap::new();
    for tax in &said.taxes {
        nets.insert(tax.tax_bp, tax.net_cents);
    }
    for credit in credits(private, id) {
        match credit.bill() {
            None => nets.values_mut().for_each(|net| *net = 0),
            Some(credit) => {
                for tax in &credit.taxes {
                    let net = nets.entry(tax.tax_bp).or_default();
                    *net = net.saturating_sub(tax.net_cents);
                }
            }
        }
    }
    let rated = nets.into_iter();
    rated
        .map(|(rate_bp, cents)| Rated { cents, rate_bp })
        .collect()
}

/// The issued credit notes on a bill.
fn credits<'a>(private: &'a Private, id: &str) -> impl Iterator<Item = &'a KeptBill> {
    let on = id.to_string();
    private
        .bills
        .values()
        .filter(move |b| b.kind == BillKind::Credit && b.of == on && b.issued())
}

/// Whether issued credit notes take back the whole of this bill.
#[must_use]
pub fn taken_back(private: &Private, id: &str) -> bool {
    credits(private, id).next().is_some() && left(private, id).iter().all(|r| r.cents == 0)
}

/// Whether a credit note gives back no more than is left of the bill, at every rate of tax.
#[must_use]
pub fn fits(private: &Private, id: &str, credit: &Bill) -> bool {
    let left = left(private, id);
    credit.taxes.iter().all(|tax| {
        let most = left.iter().find(|r| r.rate_bp == tax.tax_bp);
        let most = most.map_or(0, |r| r.cents);
        tax.net_cents.unsigned_abs() <= most.unsigned_abs()
            && tax.net_cents.signum() * most.signum() >= 0
    })
}

/// Lines of an issued bill that a part of can be given back, each with the most that makes sense: its net less its share of what was
/// taken off the whole. The numbers count the bill's lines from nought.
#[must_use]
pub fn lines(said: &Bill) -> Vec<(CreditPart, &BillLine)> {
    let mut all = Vec::new();
    for (number, line) in (0i64..).zip(&said.lines).filter(|(_, l)| l.cents > 0) {
        let at = |of: &[BillLine]| {
            of.iter()
                .filter(|l| l.tax_bp == line.tax_bp)
                .fold(0i64, |sum, l| sum.saturating_add(l.cents))
        };
        let work = said
            .lines
            .iter()
            .filter(|l| l.cents > 0 && l.tax_bp == line.tax_bp);
        let work = work.fold(0i64, |sum, l| sum.saturating_add(l.cents));
        let reduced = work.saturating_add(at(&said.wholes)).max(0);
        let most = CreditPart {
            line: number,
            cents: share(line.cents, reduced, work).min(line.cents),
        };
        all.push((most, line));
    }
    all
}

/// An issued invoice, or a part of it, to be given back; absent if there is none, or nothing is left of it.
pub(super) fn credit(private: &Private, asked: &Asked<'_>) -> Option<Bill> {
    let kept = private.bills.get(asked.of).filter(|b| b.issued())?;
    let said = kept
        .bill()
        .filter(|b| matches!(b.kind, BillKind::Deposit | BillKind::Invoice))?;
    if taken_back(private, asked.of) {
        return None;
    }
    let before = BillBefore {
        number: kept.number.clone(),
        day: said.day.clone(),
        cents: said.gross_cents,
    };
    let whole = asked.part.is_empty() && credits(private, asked.of).next().is_none();
    let (lines, wholes) = if whole {
        (said.lines, said.wholes)
    } else if asked.part.is_empty() {
        (rest(private, asked.of, &kept.number), Vec::new())
    } else {
        (parts(&said, asked.part), Vec::new())
    };
    Some(Bill {
        kind: BillKind::Credit,
        number: String::new(),
        day: asked.day.into(),
        due_day: String::new(),
        before: vec![before],
        parts: Vec::new(),
        lines,
        wholes,
        ..said
    })
}

/// What earlier credit notes left, a line for each rate.
fn rest(private: &Private, id: &str, number: &str) -> Vec<BillLine> {
    left(private, id)
        .into_iter()
        .filter(|r| r.cents != 0)
        .map(|r| BillLine {
            label: format!("The rest of invoice {number}"),
            detail: String::new(),
            cents: r.cents,
            tax_bp: r.rate_bp,
        })
        .collect()
}

/// The chosen lines with the amounts chosen of them.
fn parts(said: &Bill, part: &[CreditPart]) -> Vec<BillLine> {
    lines(said)
        .into_iter()
        .filter_map(|(most, line)| {
            let asked = part.iter().find(|p| p.line == most.line)?;
            let cents = asked.cents.clamp(0, line.cents);
            let detail = if cents == line.cents {
                line.detail.clone()
            } else {
                "a part of it".into()
            };
            Some(BillLine {
                detail,
                cents,
                ..line.clone()
            })
        })
        .filter(|l| l.cents != 0)
        .collect()
}

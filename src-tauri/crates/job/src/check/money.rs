//! Prices, costs and charges.

use super::numbers::{called, in_private, number, out_of_range, set};
use crate::edit::Part;
use crate::finding::{Finding, Room, Severity};
use crate::list::live;
use crate::money::{Prices, Private};

/// Ten million in whole units: more than any decoration costs.
const MOST_CENTS: i64 = 1_000_000_000;

pub(super) fn findings(private: &Private) -> Vec<Finding> {
    let mut all = price_numbers(&private.prices);
    all.extend(bad_currency(&private.prices));
    for (id, cost) in &private.costs {
        let rows = [
            number("bag", "The bag of a cost", "", cost.bag, 1, (1, 1_000_000)),
            number(
                "cents",
                "The cost in cents",
                "",
                cost.cents,
                0,
                (0, MOST_CENTS),
            ),
        ];
        all.extend(out_of_range(Part::Private, &["costs", id], "", &rows));
    }
    for (id, charge) in live(&private.charges) {
        let rows = [number(
            "cents",
            "The amount in cents",
            "",
            charge.cents,
            0,
            (-MOST_CENTS, MOST_CENTS),
        )];
        let whose = called(&charge.label, "A charge");
        all.extend(out_of_range(Part::Private, &["charges", id], whose, &rows));
    }
    all
}

fn price_numbers(prices: &Prices) -> Vec<Finding> {
    let usual = Prices::default();
    macro_rules! rows {
        ($($field:ident $what:literal $unit:literal $low:literal $high:expr),* $(,)?) => {
            [$(number(stringify!($field), $what, $unit, prices.$field, usual.$field, ($low, $high))),*]
        };
    }
    let rows = rows! {
        markup_pct "The markup" " %" 0 10_000,
        labour_h_cents "The price of an hour in cents" "" 0 1_000_000,
        travel_km_cents "The price of a kilometre in cents" "" 0 1_000_000,
        frame_cents "The price of a frame in cents" "" 0 MOST_CENTS,
        minimum_cents "The least price in cents" "" 0 MOST_CENTS,
        discount_pct "The discount" " %" 0 100,
        tax_bp "The tax in hundredths of a percent" "" 0 10_000,
        deposit_pct "The deposit" " %" 0 100,
        valid_days "The number of days that a quote is good for" "" 0 3650,
    };
    out_of_range(Part::Private, &["prices"], "", &rows)
}

/// ISO 4217 codes are three capital letters.
fn bad_currency(prices: &Prices) -> Option<Finding> {
    let entered = prices.currency.as_str();
    if entered.len() == 3 && entered.bytes().all(|b| b.is_ascii_uppercase()) {
        return None;
    }
    let found = in_private(Finding::new(
        "bad_currency",
        Severity::Care,
        Room::Papers,
        &["prices", "currency"],
        if entered.trim().is_empty() {
            "The prices have no currency."
        } else {
            "The currency is not a code of three capital letters."
        },
        "Enter its code, such as EUR, GBP or USD.",
    ));
    let better = entered.trim().to_ascii_uppercase();
    Some(
        if better.len() == 3 && better.bytes().all(|b| b.is_ascii_uppercase()) {
            let edit = set(Part::Private, &["prices", "currency"], better.as_str());
            found.fix(format!("Set to {better}"), vec![edit])
        } else {
            found
        },
    )
}

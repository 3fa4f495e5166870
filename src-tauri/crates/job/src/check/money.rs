//! Prices, costs and charges.

use super::numbers::{amount, called, in_private, number, out_of_range, set};
use crate::edit::Part;
use crate::finding::{Finding, Room, Severity};
use crate::list::live;
use crate::money::{PriceModel, Prices, Private, Spent};

/// A thousand million euros, or a thousand million rupiahs, which are some fifty thousand of them: more than any decoration costs, in
/// any currency.
const MOST_CENTS: i64 = 100_000_000_000;

pub(super) fn findings(private: &Private) -> Vec<Finding> {
    let mut all = price_numbers(&private.prices);
    all.extend(bad_currency(&private.prices));
    all.extend(no_price(&private.prices));
    for (id, cost) in &private.costs {
        let rows = [
            number("bag", "The bag of a cost", "", cost.bag, 1, (1, 1_000_000)),
            amount(
                "cents",
                "The cost",
                cost.cents,
                0,
                (0, MOST_CENTS),
                &private.prices.currency,
            ),
        ];
        all.extend(out_of_range(Part::Private, &["costs", id], "", &rows));
    }
    for (id, charge) in live(&private.charges) {
        let rows = [
            amount(
                "cents",
                "The amount",
                charge.cents,
                0,
                (-MOST_CENTS, MOST_CENTS),
                &private.prices.currency,
            ),
            number(
                "tax_bp",
                "Its tax in hundredths of a percent",
                "",
                charge.tax_bp,
                0,
                (0, 10_000),
            ),
        ];
        let whose = called(&charge.label, "A charge");
        all.extend(out_of_range(Part::Private, &["charges", id], whose, &rows));
    }
    for (id, used) in &private.used {
        let rows = [number(
            "units",
            "What was used",
            "",
            used.units,
            0,
            (0, 1_000_000),
        )];
        all.extend(out_of_range(Part::Private, &["used", id], "", &rows));
    }
    all.extend(parts(private));
    all.extend(same_number(private));
    all.extend(spent_numbers(&private.spent, &private.prices.currency));
    all
}

/// A package without a price: papers would give the work away.
fn no_price(prices: &Prices) -> Option<Finding> {
    (prices.model == PriceModel::Package && prices.package_cents == 0).then(|| {
        in_private(Finding::new(
            "no_price",
            Severity::Care,
            Room::Papers,
            &["prices", "package_cents"],
            "The package has no price: quote and summary would give the work away.",
            "Enter the price of the package, or let it be reckoned from cost and hours.",
        ))
    })
}

/// Parts of the payment: each from nought to all, and together no more than all.
fn parts(private: &Private) -> Vec<Finding> {
    let mut all = Vec::new();
    let mut sum = 0i64;
    for (id, part) in live(&private.instalments) {
        let rows = [number("pct", "The part", " %", part.pct, 0, (0, 100))];
        let whose = called(&part.label, "A part of the payment");
        all.extend(out_of_range(
            Part::Private,
            &["instalments", id],
            whose,
            &rows,
        ));
        sum = sum.saturating_add(part.pct);
    }
    if sum > 100 {
        all.push(in_private(Finding::new(
            "parts_beyond_all",
            Severity::Care,
            Room::Papers,
            &["instalments"],
            format!("The parts of the payment are {sum} % together."),
            "Bring them down to 100 % or less; what is missing is asked for at the end.",
        )));
    }
    all
}

/// Two devices that both took themselves for the one that issues.
fn same_number(private: &Private) -> Option<Finding> {
    let mut numbers: Vec<&str> = private
        .bills
        .values()
        .filter(|b| b.issued())
        .map(|b| b.number.as_str())
        .collect();
    numbers.sort_unstable();
    let double = numbers.windows(2).find(|w| w.first() == w.last())?;
    Some(in_private(Finding::new(
        "number_twice",
        Severity::Stop,
        Room::Papers,
        &["bills"],
        format!(
            "Two bills of this job have the number {}.",
            double.first().copied().unwrap_or("")
        ),
        "Credit one of them, and let one device alone issue numbers: see Settings.",
    )))
}

fn spent_numbers(spent: &Spent, currency: &str) -> Vec<Finding> {
    macro_rules! rows {
        ($($field:ident $what:literal $unit:literal $high:expr),* $(,)?) => {
            [$(number(stringify!($field), $what, $unit, spent.$field, 0, (0, $high))),*]
        };
    }
    let rows = rows! {
        prepare_min "The work in the studio" " min" 100_000,
        travel_min "The time for packing and driving" " min" 100_000,
        install_min "The work at the venue" " min" 100_000,
        strike_min "The time for taking down" " min" 100_000,
        driven_hm "The way driven in tenths of a kilometre" "" 1_000_000,
    };
    let money = [
        ("goods_cents", "What the goods cost", spent.goods_cents),
        ("other_cents", "What else was paid for", spent.other_cents),
    ]
    .map(|(field, what, cents)| amount(field, what, cents, 0, (0, MOST_CENTS), currency));
    let mut all = out_of_range(Part::Private, &["spent"], "", &rows);
    all.extend(out_of_range(Part::Private, &["spent"], "", &money));
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
        discount_pct "The discount" " %" 0 100,
        tax_bp "The tax in hundredths of a percent" "" 0 10_000,
        deposit_pct "The deposit" " %" 0 100,
        valid_days "The number of days that a quote is good for" "" 0 3650,
        late_from_min "The hour from which a strike is late, in minutes of the day," "" 0 1440,
        season_pct "The part for the season" " %" -100 1000,
        season_from "The first month of the season" "" 1 12,
        season_to "The last month of the season" "" 1 12,
        weekend_pct "The part for the weekend" " %" -100 1000,
        pay_days "The number of days to pay" "" 0 3650,
    };
    macro_rules! amounts {
        ($($field:ident $what:literal),* $(,)?) => {
            [$(amount(stringify!($field), $what, prices.$field, usual.$field, (0, MOST_CENTS), &prices.currency)),*]
        };
    }
    let money = amounts! {
        labour_h_cents "The price of an hour",
        travel_km_cents "The price of a kilometre",
        frame_cents "The price of a frame",
        minimum_cents "The least price",
        metre_cents "The price of a metre",
        balloon_cents "The price of a balloon",
        package_cents "The price of the package",
        stair_cents "The price of a step of stairs",
        parking_cents "The price of parking",
        late_cents "The price of a late strike",
        round_to_cents "What the price is rounded to",
    };
    let mut all = out_of_range(Part::Private, &["prices"], "", &rows);
    all.extend(out_of_range(Part::Private, &["prices"], "", &money));
    all
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

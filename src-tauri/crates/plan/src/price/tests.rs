//! The price line by line, its least and its discount, and absurd numbers.

use super::*;
use job::list::Ids;
use job::money::{Charge, Cost, Prices};
use proptest::prelude::*;

fn line(item: &str, need: i64, spares: i64) -> OrderLine {
    OrderLine {
        item: item.into(),
        name: item.into(),
        need,
        spares,
        ..OrderLine::default()
    }
}

fn work(work_s: i64) -> Task {
    Task {
        work_s,
        ..Task::default()
    }
}

fn costs(list: &[(&str, i64, i64)]) -> Ids<Cost> {
    list.iter()
        .map(|(id, bag, cents)| {
            let cost = Cost {
                bag: *bag,
                cents: *cents,
            };
            (id.to_string(), cost)
        })
        .collect()
}

fn priced(job: &Job, private: &Private, order: &[OrderLine], trips: i64) -> (Price, Vec<Finding>) {
    let load = Load {
        trips,
        ..Load::default()
    };
    price(
        job,
        private,
        &Counted::default(),
        order,
        &[work(5000), work(2200)],
        &load,
    )
}

/// Worked by hand: goods 11 x 14.5 = 159.5, up to 160, and 3 x 33.335 = 100.005, to 100: 260 with 50 % on it 390. Two hours at 30.00.
/// 12.5 km there and back at 0.61: 15.25. Tax 20 % of 77.65 is 15.53, a third of all is 30.75 (33 % of 93.18 = 30.7494).
#[test]
fn every_line_is_whole_cents() {
    let mut job = Job::default();
    job.drive.distance_hm = 125;
    let mut private = Private {
        prices: Prices {
            markup_pct: 50,
            labour_h_cents: 3000,
            travel_km_cents: 61,
            deposit_pct: 33,
            ..Prices::default()
        },
        costs: costs(&[("a", 100, 1450), ("b", 1000, 33_335)]),
        ..Private::default()
    };
    let order = [line("a", 9, 2), line("b", 3, 0)];
    let (price, findings) = priced(&job, &private, &order, 1);
    assert_eq!(findings, []);
    let lines: Vec<_> = price
        .lines
        .iter()
        .map(|l| (l.label.as_str(), l.cents))
        .collect();
    assert_eq!(
        lines,
        [
            ("Balloons and sundries", 390),
            ("Labour", 6000),
            ("Travel", 1525)
        ]
    );
    assert_eq!((price.goods_cost_cents, price.lines_cents), (260, 7915));
    assert_eq!(
        (price.net_cents, price.tax_cents, price.gross_cents),
        (7915, 1583, 9498)
    );
    // an allowance of 1.50
    private.charges.insert(
        "x".into(),
        Charge {
            label: "Allowance".into(),
            cents: -150,
            ..Charge::default()
        },
    );
    let price = priced(&job, &private, &order, 1).0;
    assert_eq!(
        (price.net_cents, price.tax_cents, price.gross_cents),
        (7765, 1553, 9318)
    );
    assert_eq!(price.deposit_cents, 3075);
}

/// There and back is two ways; a strike on another day is two more; every trip is all of them again.
#[test]
fn every_trip_is_driven_again() {
    let mut job = Job::default();
    job.drive.distance_hm = 100;
    let ways = |job: &Job, trips| {
        let price = priced(job, &Private::default(), &[], trips).0;
        let travel = price.lines.into_iter().find(|l| l.label == "Travel");
        travel.map(|l| (l.cents, l.detail))
    };
    assert_eq!(ways(&job, 1), Some((1200, "20.0 km, 2 ways".into())));
    assert_eq!(ways(&job, 3), Some((3600, "60.0 km, 6 ways".into())));
    job.times.strike_from = "2026-06-21T09:00".into();
    assert_eq!(ways(&job, 1), Some((2400, "40.0 km, 4 ways".into())));
    assert_eq!(ways(&job, 3), Some((7200, "120.0 km, 12 ways".into())));
    job.drive.distance_hm = 0;
    assert_eq!(ways(&job, 1), None);
}

/// The discount comes off first, then the price is brought up to the least.
#[test]
fn never_below_the_least_price() {
    let mut private = Private {
        prices: Prices {
            labour_h_cents: 5000,
            discount_pct: 10,
            minimum_cents: 9001,
            ..Prices::default()
        },
        ..Private::default()
    };
    let price = priced(&Job::default(), &private, &[], 1).0;
    assert_eq!(
        (
            price.lines_cents,
            price.discount_cents,
            price.minimum_cents,
            price.net_cents
        ),
        (10_000, 1000, 1, 9001)
    );
    private.prices.minimum_cents = 9000;
    assert_eq!(priced(&Job::default(), &private, &[], 1).0.minimum_cents, 0);
}

#[test]
fn what_has_no_cost_is_named() {
    let private = Private {
        costs: costs(&[("a", 1, 10), ("zero", 0, 10)]),
        ..Private::default()
    };
    let (price, findings) = priced(
        &Job::default(),
        &private,
        &[line("a", 5, 0), line("zero", 5, 0), line("b", 1, 1)],
        1,
    );
    assert_eq!(price.goods_cost_cents, 50);
    assert_eq!(findings.len(), 1);
    assert_eq!(
        findings[0].message,
        "The price leaves out zero and 1 more: no cost is known."
    );
    assert_eq!(findings[0].path, ["private", "costs"]);
}

proptest! {
    #[test]
    fn absurd_prices_are_answered(n in prop::collection::vec(prop_oneof![any::<i64>(), -5i64..20_000], 14)) {
        let mut job = Job::default();
        job.drive.distance_hm = n[0];
        let private = Private {
            prices: Prices {
                markup_pct: n[1],
                labour_h_cents: n[2],
                travel_km_cents: n[3],
                frame_cents: n[4],
                minimum_cents: n[5],
                discount_pct: n[6],
                tax_bp: n[7],
                deposit_pct: n[8],
                ..Prices::default()
            },
            costs: costs(&[("a", n[9], n[10])]),
            charges: Ids::from([("x".into(), Charge { cents: n[11], ..Charge::default() })]),
            ..Private::default()
        };
        let load = Load { trips: n[12], ..Load::default() };
        let (price, _) = price(&job, &private, &Counted::default(), &[line("a", n[13].max(0) / 2, 1)], &[work(n[13].max(0))], &load);
        prop_assert!(price.discount_cents >= 0 && price.minimum_cents >= 0);
        prop_assert!(price.net_cents >= price.lines_cents.saturating_sub(price.discount_cents));
    }
}

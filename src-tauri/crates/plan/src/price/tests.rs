//! The price line by line, its least and its discount, and absurd numbers.

use super::*;
use crate::types::{ChainPlan, Phase, PiecePlan, PriceKind};
use job::list::Ids;
use job::money::{Charge, Cost, PriceModel, Prices};
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
    // 33 % of the net is 25.62 (25.6245), its tax 5.12 (5.124)
    assert_eq!(price.deposit_cents, 3074);
    let phases: Vec<_> = price
        .phases
        .iter()
        .map(|p| (p.label.as_str(), p.cents))
        .collect();
    assert_eq!(phases, [("Work in the studio", 6000)]);
}

/// Worked by hand: labour 7200 s at 30.01 an hour is 60.02; 1000 s in the studio 8.336, 2600 s at the venue 21.674, 3600 s taking down
/// 30.01, so 8.34, 21.67, 30.01: 60.02. At 30.03: 60.06 in all; 8.34, 21.69 (21.688), 30.03: 60.06.
#[test]
fn labour_by_phase_adds_up() {
    let tasks = [
        (Phase::Prepare, 1000),
        (Phase::Install, 2600),
        (Phase::Strike, 3600),
    ]
    .map(|(phase, work_s)| Task {
        phase,
        ..work(work_s)
    });
    for (rate, want) in [(3001, [834, 2167, 3001]), (3003, [834, 2169, 3003])] {
        let mut private = Private::default();
        private.prices.labour_h_cents = rate;
        let (price, _) = price(
            &Job::default(),
            &private,
            &Counted::default(),
            &[],
            &tasks,
            &Load::default(),
        );
        let cents: Vec<i64> = price.phases.iter().map(|p| p.cents).collect();
        assert_eq!(cents, want);
        let labour = price.lines.iter().find(|l| l.kind == PriceKind::Labour);
        assert_eq!(labour.map(|l| l.cents), Some(cents.iter().sum()));
    }
}

/// Worked by hand: labour 60.00 at 20 %, parking 10.00 at 5 %, 10 % off: 7.00, of which 1.00 from the parking. Net 54.00 + 9.00 = 63.00,
/// tax 10.80 + 0.45.
#[test]
fn tax_by_rate_with_the_discount_spread() {
    let mut private = Private::default();
    private.prices.labour_h_cents = 3000;
    private.prices.discount_pct = 10;
    private.charges.insert(
        "x".into(),
        Charge {
            label: "Parking".into(),
            cents: 1000,
            own_tax: true,
            tax_bp: 500,
            ..Charge::default()
        },
    );
    let price = priced(&Job::default(), &private, &[], 1).0;
    let taxes: Vec<_> = price
        .taxes
        .iter()
        .map(|t| (t.tax_bp, t.net_cents, t.tax_cents))
        .collect();
    assert_eq!(taxes, [(500, 900, 45), (2000, 5400, 1080)]);
    assert_eq!((price.discount_cents, price.net_cents), (700, 6300));
    assert_eq!((price.tax_cents, price.gross_cents), (1125, 7425));
    // up to a multiple of 5.00: 54.62 at 20 % makes 74.99 in all and 54.63 makes 75.01, so 75.00 cannot be had
    private.prices.round_to_cents = 500;
    let price = priced(&Job::default(), &private, &[], 1).0;
    assert_eq!((price.rounding_cents, price.gross_cents), (62, 7499));
}

/// 5.455 m of chain is 5.46 m to the centimetre, at 90.00 491.40; 12 balloons of other pieces at 3.00. The package is one price, and what
/// the goods cost is known all the same.
#[test]
fn other_models() {
    let counted = Counted {
        pieces: vec![
            PiecePlan {
                chain: Some(ChainPlan {
                    count: 1,
                    length_mm: 5455,
                    ..ChainPlan::default()
                }),
                balloons: 40,
                ..PiecePlan::default()
            },
            PiecePlan {
                balloons: 12,
                ..PiecePlan::default()
            },
        ],
        ..Counted::default()
    };
    let mut private = Private {
        costs: costs(&[("a", 1, 10)]),
        ..Private::default()
    };
    private.prices = Prices {
        model: PriceModel::PerMetre,
        metre_cents: 9000,
        balloon_cents: 300,
        package_cents: 39_000,
        ..Prices::default()
    };
    let lines = |private: &Private| {
        let order = [line("a", 5, 0)];
        let (price, _) = price(
            &Job::default(),
            private,
            &counted,
            &order,
            &[work(3600)],
            &Load::default(),
        );
        assert_eq!(price.goods_cost_cents, 50);
        price
            .lines
            .into_iter()
            .map(|l| (l.label, l.detail, l.cents))
            .collect::<Vec<_>>()
    };
    let row = |label: &str, detail: &str, cents| (label.to_string(), detail.to_string(), cents);
    assert_eq!(
        lines(&private),
        [
            row("Garlands and chains", "5.46 m", 49_140),
            row("Other pieces", "12 balloons", 3600)
        ]
    );
    private.prices.model = PriceModel::Package;
    assert_eq!(
        lines(&private),
        [row("Package", "balloons, work and frames", 39_000)]
    );
}

/// There and back is two drives, for every trip; a strike is two more.
#[test]
fn every_trip_is_driven_again() {
    let mut job = Job::default();
    job.drive.distance_hm = 100;
    let ways = |job: &Job, trips| {
        let price = priced(job, &Private::default(), &[], trips).0;
        let travel = price.lines.into_iter().find(|l| l.label == "Travel");
        travel.map(|l| (l.cents, l.detail))
    };
    assert_eq!(ways(&job, 1), Some((1200, "20 km, 2 drives".into())));
    assert_eq!(ways(&job, 3), Some((3600, "60 km, 6 drives".into())));
    job.times.strike_from = "2026-06-21T09:00".into();
    assert_eq!(ways(&job, 1), Some((2400, "40 km, 4 drives".into())));
    assert_eq!(ways(&job, 3), Some((4800, "80 km, 8 drives".into())));
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
    fn absurd_prices_are_answered(n in prop::collection::vec(prop_oneof![any::<i64>(), -5i64..20_000], 24)) {
        let mut job = Job::default();
        job.drive.distance_hm = n[0];
        job.venue.stair_steps = n[13];
        job.times.ready_by = "2027-06-12T13:30".into();
        job.times.strike_from = "2027-06-12T23:30".into();
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
                metre_cents: n[14],
                balloon_cents: n[15],
                package_cents: n[16],
                stair_cents: n[17],
                parking_cents: n[18],
                late_cents: n[19],
                season_pct: n[20],
                weekend_pct: n[21],
                round_to_cents: n[22],
                model: [PriceModel::CostPlus, PriceModel::PerMetre, PriceModel::Package][usize::try_from(n[23].rem_euclid(3)).unwrap()],
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

//! Goods, labour, frames and travel, by the model of the price.

use job::money::{PriceModel, Prices};
use job::{Finding, Job, Private, Room, Severity};

use crate::frames::brought;
use crate::inflate::{nearest, whole};
use crate::order::cost;
use crate::pieces::Counted;
use crate::tax::share;
use crate::types::{Load, OrderLine, Phase, PriceKind, PriceLine, Task};

/// The lines of the model: what is made, without the way there.
pub fn lines(
    job: &Job,
    private: &Private,
    counted: &Counted,
    tasks: &[Task],
    cost_cents: i64,
) -> Vec<PriceLine> {
    let prices = &private.prices;
    match prices.model {
        PriceModel::CostPlus | PriceModel::Newer => {
            let work_s = work(tasks, |_| true);
            let mut lines = vec![
                line(
                    PriceKind::Goods,
                    "Balloons and sundries",
                    format!("cost and {} % on it", prices.markup_pct),
                    share(cost_cents, prices.markup_pct.saturating_add(100), 100),
                ),
                line(
                    PriceKind::Labour,
                    "Labour",
                    format!("{} of work", hours(work_s)),
                    share(work_s, prices.labour_h_cents, 3600),
                ),
            ];
            lines.extend(frames(job, prices, counted));
            lines
        }
        PriceModel::PerMetre => {
            let mut lines = per_metre(prices, counted);
            lines.extend(frames(job, prices, counted));
            lines
        }
        PriceModel::Package => {
            let label = match prices.package.trim() {
                "" => "Package",
                name => name,
            };
            vec![line(
                PriceKind::Model,
                label,
                "balloons, work and frames".into(),
                prices.package_cents,
            )]
        }
    }
}

/// Metres of garland and chain, to the nearest centimetre, and the balloons of all other pieces.
fn per_metre(prices: &Prices, counted: &Counted) -> Vec<PriceLine> {
    let mut mm = 0i64;
    let mut balloons = 0i64;
    for piece in &counted.pieces {
        let length = match (&piece.garland, &piece.chain) {
            (Some(garland), _) => garland.length_mm,
            (_, Some(chain)) => chain.length_mm.saturating_mul(chain.count.max(0)),
            _ => 0,
        };
        if length > 0 {
            mm = mm.saturating_add(length);
        } else {
            balloons = balloons.saturating_add(piece.balloons.max(0));
        }
    }
    let cm = mm.saturating_add(5) / 10;
    let mut lines = Vec::new();
    if cm > 0 {
        lines.push(line(
            PriceKind::Model,
            "Garlands and chains",
            format!("{}.{:02} m", cm / 100, cm % 100),
            share(cm, prices.metre_cents, 100),
        ));
    }
    if balloons > 0 {
        lines.push(line(
            PriceKind::Model,
            "Other pieces",
            format!("{balloons} balloons"),
            balloons.saturating_mul(prices.balloon_cents),
        ));
    }
    lines
}

fn frames(job: &Job, prices: &Prices, counted: &Counted) -> Option<PriceLine> {
    let count: i64 = counted
        .pieces
        .iter()
        .filter_map(|p| brought(job, p))
        .map(|f| f.count)
        .sum();
    (count > 0).then(|| {
        line(
            PriceKind::Frames,
            "Frames",
            if count == 1 {
                "1 frame".to_string()
            } else {
                format!("{count} frames")
            },
            count.saturating_mul(prices.frame_cents),
        )
    })
}

/// There and back for every trip, and for the strike.
pub fn travel(job: &Job, prices: &Prices, load: &Load) -> Option<PriceLine> {
    if job.drive.distance_hm <= 0 {
        return None;
    }
    let ways = ways(job, load);
    let hm = job.drive.distance_hm.saturating_mul(ways);
    Some(line(
        PriceKind::Travel,
        "Travel",
        format!("{} km, {ways} drives", tenths(hm)),
        share(hm, prices.travel_km_cents, 10),
    ))
}

/// The labour line by phase of the job. The parts add up to it: what rounding leaves goes to the longest.
pub fn phases(tasks: &[Task], lines: &[PriceLine], tax_bp: i64) -> Vec<PriceLine> {
    let Some(labour) = lines.iter().find(|l| l.kind == PriceKind::Labour) else {
        return Vec::new();
    };
    let of = [
        ("Work in the studio", &[Phase::Order, Phase::Prepare][..]),
        (
            "Packing, loading, driving",
            &[Phase::Pack, Phase::Load, Phase::Return],
        ),
        ("Work at the venue", &[Phase::Install, Phase::HandOver]),
        ("Taking down", &[Phase::Strike]),
    ];
    let all = work(tasks, |_| true);
    let mut parts: Vec<(i64, PriceLine)> = of
        .into_iter()
        .map(|(label, phases)| {
            let work_s = work(tasks, |phase| phases.contains(&phase));
            let cents = share(labour.cents, work_s, all);
            let part = PriceLine {
                tax_bp,
                ..line(PriceKind::Labour, label, hours(work_s), cents)
            };
            (work_s, part)
        })
        .filter(|(work_s, _)| *work_s > 0)
        .collect();
    let given: i64 = parts
        .iter()
        .fold(0i64, |sum, (_, p)| sum.saturating_add(p.cents));
    if let Some((_, longest)) = parts.iter_mut().max_by_key(|(work_s, _)| *work_s) {
        let left = labour.cents.saturating_sub(given);
        longest.cents = longest.cents.saturating_add(left);
    }
    parts.into_iter().map(|(_, part)| part).collect()
}

fn work(tasks: &[Task], of: impl Fn(Phase) -> bool) -> i64 {
    tasks
        .iter()
        .filter(|t| of(t.phase))
        .map(|t| t.work_s.max(0))
        .fold(0, i64::saturating_add)
}

/// Cost of what is used and carried as spares, each line to the nearest cent. What has no cost is named.
pub fn goods(private: &Private, order: &[OrderLine], findings: &mut Vec<Finding>) -> i64 {
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

/// Ways driven: there and back for every trip, and once more for every vehicle if it is struck: balloons that are let out take no room
/// (common practice, no source).
fn ways(job: &Job, load: &Load) -> i64 {
    let strike = if job.times.strike_from.trim().is_empty() {
        0
    } else {
        let mut vehicles: Vec<i64> = load.runs.iter().map(|r| r.space).collect();
        vehicles.sort_unstable();
        vehicles.dedup();
        i64::try_from(vehicles.len()).unwrap_or(1).max(1)
    };
    (load.trips.clamp(1, 100) + strike) * 2
}

/// A line of the price, taxed as the job is.
pub(super) fn line(kind: PriceKind, label: &str, detail: String, cents: i64) -> PriceLine {
    PriceLine {
        kind,
        label: label.into(),
        detail,
        cents,
        tax_bp: 0,
    }
}

/// `14 h 30`, `45 min`.
pub fn hours(seconds: i64) -> String {
    let minutes = nearest(whole(seconds) / 60.0);
    match (minutes / 60, minutes % 60) {
        (0, m) => format!("{m} min"),
        (h, m) => format!("{h} h {m:02}"),
    }
}

/// `12.5` from 125, `12` from 120, for what is not negative.
fn tenths(n: i64) -> String {
    match n % 10 {
        0 => format!("{}", n / 10),
        part => format!("{}.{part}", n / 10),
    }
}

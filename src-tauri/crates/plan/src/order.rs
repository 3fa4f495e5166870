//! What to buy, and what to take from the shelf.

mod thing;

use std::collections::BTreeMap;

use job::list::live;
use job::piece::{LinkForm, Piece, PieceKind};
use job::stock::{Item, ItemKind, Per, Rules, Sundry};
use job::{Edit, Finding, Job, Part, Private, Room, Severity};
use serde_json::json;

use crate::bags::bags;
use crate::chain::curve;
use crate::inflate::{nearest, up, whole};
use crate::made::foils_of;
use crate::pieces::{Counted, called};
use crate::route::Route;
use crate::types::{Bags, OrderLine, PiecePlan, Term};

use thing::{HELIUM_ID, RING_LINK, Thing};

pub use thing::id_of;

/// Rounds up to this nominal size have the larger share of spares, in. Common practice, no source.
const SMALL_IN: i64 = 12;
/// What helium is called, and what its cylinders fill, L. Common practice, no source.
const HELIUM: &str = "Helium";
const CYLINDERS: [i64; 2] = [3600, 1800];
/// An inch, mm.
const INCH_MM: f64 = 25.4;

/// The order, balloons first, then sundries, each in the order of the job's list of items.
#[must_use]
pub fn order(
    job: &Job,
    private: Option<&Private>,
    counted: &Counted,
) -> (Vec<OrderLine>, Vec<Finding>) {
    let mut findings = Vec::new();
    let mut lines = balloons(job, counted, &mut findings);
    lines.extend(helium(job, counted, &mut findings));
    lines.extend(sundries(job, counted, &mut findings));
    for line in &mut lines {
        line.spares = spares(line, &job.rules);
        line.short = (line.need + line.spares - line.on_hand.max(0)).max(0);
        let item = job.items.get(&line.item);
        line.supplier = item.map_or_else(String::new, |i| i.supplier.trim().into());
        let sizes = item.map(|i| i.bags.clone()).unwrap_or_default();
        line.bags = bags(line.short, &sizes);
        let bought: i64 = line
            .bags
            .iter()
            .map(|b| b.size.saturating_mul(b.count))
            .fold(0, i64::saturating_add);
        line.left = line
            .on_hand
            .max(0)
            .saturating_add(bought)
            .saturating_sub(line.need);
        line.cost_cents = private.and_then(|p| cost(p, &line.item, bought));
    }
    (lines, findings)
}

/// What so many units of an item cost, cents; absent if no cost is known.
#[must_use]
pub fn cost(private: &Private, item: &str, units: i64) -> Option<i64> {
    let cost = private.costs.get(item).filter(|c| c.bag > 0)?;
    Some(nearest(whole(units) * whole(cost.cents) / whole(cost.bag)))
}

/// Spares that are carried: rounds up to 12 in and links by percent, at least so many of each colour and size; larger rounds by a
/// smaller percent; one foil of each kind; of helium what is lost; none of the sundries.
fn spares(line: &OrderLine, rules: &Rules) -> i64 {
    let share = |pct: i64, least: i64| {
        let pct = i128::from(pct.clamp(0, 10_000));
        let up = (i128::from(line.need) * pct + 99) / 100;
        i64::try_from(up)
            .unwrap_or(i64::MAX)
            .max(least.clamp(0, 1_000_000))
    };
    match line.kind {
        _ if line.need == 0 => 0,
        ItemKind::Round if line.size_in > SMALL_IN => {
            share(rules.spare_big_pct, rules.spare_big_min)
        }
        ItemKind::Round | ItemKind::Link => share(rules.spare_small_pct, rules.spare_small_min),
        ItemKind::Foil => 1,
        ItemKind::Helium => share(rules.helium_loss_pct, 0),
        ItemKind::Tie | ItemKind::Sundry | ItemKind::Newer => 0,
    }
}

/// One line for each kind, colour and size of balloon.
fn balloons(job: &Job, counted: &Counted, findings: &mut Vec<Finding>) -> Vec<OrderLine> {
    let colours: Vec<&str> = live(&job.colours).into_iter().map(|(id, _)| id).collect();
    let rank = |colour: &str| {
        colours
            .iter()
            .position(|c| *c == colour)
            .unwrap_or(usize::MAX)
    };
    let mut needs: BTreeMap<(ItemKind, usize, Thing<'_>), Vec<Term>> = BTreeMap::new();
    for piece in &counted.pieces {
        let label = job.pieces.get(&piece.piece).map_or("", called);
        for (thing, n) in used(piece) {
            let terms = needs
                .entry((thing.kind, rank(thing.colour), thing))
                .or_default();
            match terms.iter_mut().find(|t| t.label == label) {
                Some(term) => term.value += n,
                None => terms.push(Term {
                    label: label.into(),
                    value: n,
                }),
            }
        }
    }
    let mut lines = Vec::new();
    for ((_, _, thing), terms) in needs {
        let known = thing.item(job);
        if job.colours.get(thing.colour).is_none_or(|c| c.gone) {
            let missing = colour_missing(job, thing.colour);
            // said once, whatever the number of its sizes
            if !findings.contains(&missing) {
                findings.push(missing);
            }
        } else if known.is_none() {
            findings.push(item_missing(job, thing));
        }
        lines.push(OrderLine {
            item: known.map(|(id, _)| id.to_string()).unwrap_or_default(),
            name: thing.name(job),
            kind: thing.kind,
            colour: thing.colour.into(),
            size_in: thing.size_in,
            text: thing.text.into(),
            need: terms.iter().map(|t| t.value).sum(),
            on_hand: known.map_or(0, |(_, i)| i.on_hand),
            terms,
            ..OrderLine::default()
        });
    }
    lines
}

/// Balloons of a piece; a double-stuffed ball counts in both of its colours.
fn used(piece: &PiecePlan) -> Vec<(Thing<'_>, i64)> {
    let mut used = Vec::new();
    let rounds = piece
        .garland
        .iter()
        .flat_map(|g| g.counts.iter().chain(&g.fillers))
        .chain(piece.made.iter().flat_map(|m| &m.balls));
    for c in rounds {
        used.push((Thing::latex(ItemKind::Round, &c.colour, c.size_in), c.balls));
        if !c.inside.is_empty() {
            used.push((Thing::latex(ItemKind::Round, &c.inside, c.size_in), c.balls));
        }
    }
    if let Some(chain) = &piece.chain {
        used.extend(chain.counts.iter().map(|c| {
            let thing = match chain.form {
                LinkForm::Ring => Thing {
                    kind: ItemKind::Foil,
                    text: RING_LINK,
                    ..Thing::latex(ItemKind::Link, &c.colour, c.size_in)
                },
                LinkForm::Latex | LinkForm::Newer => {
                    Thing::latex(ItemKind::Link, &c.colour, c.size_in)
                }
            };
            (thing, c.balls)
        }));
    }
    used.extend(piece.made.iter().flat_map(|m| &m.foils).map(|f| {
        let thing = Thing {
            kind: ItemKind::Foil,
            colour: &f.colour,
            size_in: nearest(whole(f.height_mm) / INCH_MM),
            text: &f.text,
        };
        (thing, f.count)
    }));
    used
}

/// Helium for all that floats, by the litre at room temperature and pressure; absent if nothing does.
fn helium(job: &Job, counted: &Counted, findings: &mut Vec<Finding>) -> Option<OrderLine> {
    let filled = counted.pieces.iter().filter_map(|plan| {
        let ml = plan.made.as_ref()?.helium_ml;
        let label = job.pieces.get(&plan.piece).map_or("", called);
        (ml > 0).then(|| (label.to_string(), whole(ml) / 1000.0))
    });
    let parts: Vec<(String, f64)> = filled.collect();
    let need = up(parts.iter().map(|p| p.1).sum());
    if need == 0 {
        return None;
    }
    let is = |item: &Item| item.kind == ItemKind::Helium;
    let known = live(&job.items).into_iter().find(|(_, item)| is(item));
    if known.is_none() {
        findings.push(helium_missing(job));
    }
    Some(OrderLine {
        item: known.map(|(id, _)| id.to_string()).unwrap_or_default(),
        name: HELIUM.into(),
        kind: ItemKind::Helium,
        unit: "L".into(),
        need,
        on_hand: known.map_or(0, |(_, i)| i.on_hand),
        terms: rounded(parts, need),
        ..OrderLine::default()
    })
}

/// So much of an item: in all, by piece, and whether it comes home.
type Need = (f64, Vec<(String, f64)>, bool);

/// Sundries by the metre, piece, cluster or job.
fn sundries(job: &Job, counted: &Counted, findings: &mut Vec<Finding>) -> Vec<OrderLine> {
    let mut needs: BTreeMap<&str, Need> = BTreeMap::new();
    for (id, sundry) in live(&job.sundries) {
        let mut once = sundry.per == Per::Job;
        for plan in &counted.pieces {
            let Some(piece) = job.pieces.get(&plan.piece).filter(|p| takes(sundry, p)) else {
                continue;
            };
            let units = match sundry.per {
                Per::Metre => metres(piece, plan),
                Per::Piece => alike(plan),
                Per::Cluster => clusters(plan),
                Per::Job if once => 1.0,
                Per::Job | Per::Newer => 0.0,
            };
            once = false;
            let amount = units * whole(sundry.hundredths.clamp(0, 1_000_000_000)) / 100.0;
            if amount > 0.0 {
                let need = needs.entry(&sundry.item).or_default();
                need.0 += amount;
                need.1.push((called(piece).to_string(), amount));
                need.2 |= sundry.comes_home;
            }
        }
        if job.items.get(&sundry.item).is_none_or(|i| i.gone) {
            findings.push(Finding::new(
                "sundry_missing",
                Severity::Care,
                Room::Make,
                &["sundries", id, "item"],
                "A rule for sundries names an item that this job does not have.",
                "Choose the item, or remove the rule.",
            ));
        }
    }
    live(&job.items)
        .into_iter()
        .filter_map(|(id, item)| {
            let (amount, parts, comes_home) = needs.remove(id)?;
            let need = up(amount);
            Some(OrderLine {
                item: id.into(),
                name: if item.name.trim().is_empty() {
                    "Sundry without a name".into()
                } else {
                    item.name.clone()
                },
                kind: item.kind,
                unit: item.unit.clone(),
                need,
                on_hand: item.on_hand,
                comes_home,
                terms: rounded(parts, need),
                ..OrderLine::default()
            })
        })
        .collect()
}

/// Terms in whole units that add up to the total: each its nearest, the last takes the rest.
fn rounded(parts: Vec<(String, f64)>, total: i64) -> Vec<Term> {
    let mut left = total;
    let last = parts.len().saturating_sub(1);
    parts
        .into_iter()
        .enumerate()
        .map(|(i, (label, amount))| {
            let value = if i == last {
                left
            } else {
                nearest(amount).min(left)
            };
            left -= value;
            Term { label, value }
        })
        .collect()
}

/// Whether a rule for sundries holds for a piece.
fn takes(sundry: &Sundry, piece: &Piece) -> bool {
    let stands = piece.kind != PieceKind::Foils
        || sundry.stands.is_empty()
        || sundry.stands.contains(&piece.foils.stand);
    sundry.kind == piece.kind
        && stands
        && (sundry.mounts.is_empty() || sundry.mounts.contains(&piece.mount))
}

/// Metres of a piece as it was counted: the path of a garland, all chains along their curves, all ribbons. Not rounded before the sum.
fn metres(piece: &Piece, plan: &PiecePlan) -> f64 {
    let mm = match (&plan.garland, &plan.chain, &plan.made) {
        (Some(_), _, _) => Route::of(&piece.garland).map_or(0.0, |r| r.length),
        (None, Some(chain), _) => curve(&piece.chain).length() * whole(chain.count),
        (None, None, Some(made)) => {
            made.ribbons_mm.iter().map(|r| whole(*r)).sum::<f64>() * whole(made.count)
        }
        (None, None, None) => 0.0,
    };
    mm / 1000.0
}

/// Clusters of a garland, kept back ones included; rings, quads and accents of the other kinds; characters of foil.
fn clusters(plan: &PiecePlan) -> f64 {
    let garland = plan.garland.iter().map(|g| g.on_line + g.extras);
    let groups = plan.made.iter().flat_map(|m| &m.groups).map(|g| g.count);
    let spelled = plan.made.iter().filter(|_| plan.kind == PieceKind::Foils);
    whole(garland.chain(groups).chain(spelled.map(foils_of)).sum())
}

/// Pieces alike: chains and frames are counted each.
fn alike(plan: &PiecePlan) -> f64 {
    match plan.kind {
        PieceKind::Chain => plan.chain.as_ref().map_or(0.0, |c| whole(c.count)),
        PieceKind::Frame => plan.frame.as_ref().map_or(0.0, |f| whole(f.count)),
        PieceKind::Classic
        | PieceKind::Wall
        | PieceKind::Bouquet
        | PieceKind::Foils
        | PieceKind::Floaters
        | PieceKind::Centrepiece
        | PieceKind::Loose => plan.made.as_ref().map_or(0.0, |m| whole(m.count)),
        PieceKind::Garland | PieceKind::Newer => plan.garland.as_ref().map_or(0.0, |_| 1.0),
    }
}

fn colour_missing(job: &Job, colour: &str) -> Finding {
    let name = job.colours.get(colour).map_or(colour, |c| c.name.as_str());
    let mut finding = Finding::new(
        "colour_missing",
        Severity::Stop,
        Room::Design,
        &["colours", colour],
        format!("A palette names a colour that this job does not have: {name}."),
        "Choose another colour in the palette.",
    );
    if job.colours.contains_key(colour) {
        finding = finding.fix(
            "Put the colour back",
            vec![Edit::Restore {
                part: Part::Job,
                path: vec!["colours".into()],
                id: colour.into(),
            }],
        );
    }
    finding
}

fn helium_missing(job: &Job) -> Finding {
    let removed = job
        .items
        .iter()
        .find(|(_, item)| item.gone && item.kind == ItemKind::Helium);
    let path = vec!["items".to_string()];
    let (label, edit) = match removed {
        Some((id, _)) => (
            "Put it back",
            Edit::Restore {
                part: Part::Job,
                path,
                id: id.clone(),
            },
        ),
        None => (
            "Add it",
            Edit::Add {
                part: Part::Job,
                path,
                id: HELIUM_ID.into(),
                before: None,
                value: json!({ "kind": ItemKind::Helium, "name": HELIUM, "unit": "L", "bags": CYLINDERS }),
            },
        ),
    };
    Finding::new(
        "item_missing",
        Severity::Care,
        Room::Make,
        &["items"],
        "Helium is not on the list of this job.",
        "Add it, so that cylinders and cost are known.",
    )
    .fix(label, vec![edit])
}

fn item_missing(job: &Job, thing: Thing<'_>) -> Finding {
    let removed = job
        .items
        .iter()
        .find(|(_, item)| item.gone && thing.is(item));
    let (label, edit) = match removed {
        Some((id, _)) => (
            "Put it back",
            Edit::Restore {
                part: Part::Job,
                path: vec!["items".into()],
                id: id.clone(),
            },
        ),
        None => (
            "Add it",
            Edit::Add {
                part: Part::Job,
                path: vec!["items".into()],
                id: thing.id(),
                before: None,
                value: json!({
                    "kind": thing.kind, "colour": thing.colour, "size_in": thing.size_in, "name": thing.text,
                    "bags": thing.usual_bags(),
                }),
            },
        ),
    };
    Finding::new(
        "item_missing",
        Severity::Care,
        Room::Make,
        &["items"],
        format!(
            "{} is not on the list of this job's balloons.",
            thing.name(job)
        ),
        "Add it, so that bags and stock are known.",
    )
    .fix(label, vec![edit])
}

/// All bags of a line in words: `2 x 50, 1 x 25`.
#[must_use]
pub fn bags_in_words(bags: &[Bags]) -> String {
    bags.iter()
        .map(|b| format!("{} x {}", b.count, b.size))
        .collect::<Vec<_>>()
        .join(", ")
}

#[cfg(test)]
mod tests;

//! Bags and cases, doors and vehicle.
//!
//! [`way`] takes every parcel through doors, corners, lifts and stairs; [`stow`] gives it its place in a vehicle; [`says`] says what
//! does not go; [`choice`] plans a piece blown here and blown there.

pub mod choice;
mod gives;
mod made;
mod says;
pub mod stow;
pub(crate) mod way;

use std::f64::consts::PI;

use job::list::live;
use job::piece::{Chain, LinkForm, Piece};
use job::site::{Kit, KitKind, Vehicle};
use job::stock::ItemKind;
use job::{Finding, Job};

use crate::frames::brought;
use crate::garland::Depth;
use crate::inflate::{litres, nearest, up, whole};
use crate::pieces::{Counted, called};
pub use stow::Stowed;

use crate::types::{GarlandPlan, Load, OrderLine, Packed, Parcel, PiecePlan};

/// Share of a bag that loose balls fill. Random loose to close packing of spheres is 0.555 to 0.637 (Onoda and Liniger 1990;
/// Scott and Kilgour 1969).
const LOOSE_FILL: f64 = 0.60;
/// A bag of loose balls is twice as long as wide.
const LOOSE_LENGTH: f64 = 2.0;
/// The case that spares and sundries travel in, mm.
const SPARES_CASE_MM: [i64; 3] = [600, 400, 300];
/// Most parcels that are listed one by one.
const MOST_PARCELS: usize = 5_000;

/// What is carried, whether it goes in, and where it lies. The load is stowed as closely as the depth says.
#[must_use]
pub fn load(
    job: &Job,
    counted: &Counted,
    order: &[OrderLine],
    depth: Depth,
    known: &mut Stowed,
) -> (Load, Vec<Finding>) {
    let mut parcels = parcels(job, counted, order);
    let mut findings = Vec::new();
    if parcels.len() > MOST_PARCELS {
        findings.push(says::too_many(parcels.len()));
        parcels.truncate(MOST_PARCELS);
    }
    number(&mut parcels);
    // the order of the list: cases, then bags
    parcels.sort_by_key(|p| p.soft);
    let spaces = stow::spaces(job);
    findings.extend(way::stuck(job, &mut parcels, &spaces));
    let volume_ml: i64 = parcels
        .iter()
        .map(|p| p.volume_ml)
        .fold(0, i64::saturating_add);
    let space_ml = spaces
        .iter()
        .map(|s| litre_box([s.length_mm, s.width_mm, s.height_mm]))
        .fold(0, i64::saturating_add);
    let largest_ml = spaces
        .iter()
        .map(|s| litre_box([s.length_mm, s.width_mm, s.height_mm]))
        .max()
        .unwrap_or(0);
    let least = if largest_ml > 0 {
        up(whole(volume_ml) / whole(largest_ml)).max(1)
    } else {
        1
    };
    let mass_g = mass(job, counted);
    findings.extend(way::lifts(job, &parcels, mass_g, volume_ml));
    let passes = parcels.iter().all(|p| p.stuck_at.is_empty());
    let mut load = Load {
        parcels,
        spaces,
        volume_ml,
        space_ml,
        trips: least,
        rounds: least,
        least_trips: least,
        passes,
        mass_g,
        ..Load::default()
    };
    let outcome = stow::stow(job, &mut load, depth, known);
    findings.extend(says::findings(job, &load, &outcome, depth));
    (load, findings)
}

/// Everything that is carried: the pieces, the kit, the spares. No more than one beyond what is listed.
fn parcels(job: &Job, counted: &Counted, order: &[OrderLine]) -> Vec<Parcel> {
    let all = i64::try_from(counted.pieces.len()).unwrap_or(i64::MAX);
    let pieces = counted.pieces.iter().zip(1..).flat_map(|(plan, nth)| {
        let piece = job.pieces.get(&plan.piece);
        piece.into_iter().flat_map(move |piece| {
            let mut of_piece = frames(job, piece, plan);
            if !choice::at_the_venue(piece) {
                let mut soft = bags(job, piece, plan);
                if let Some(made) = &plan.made {
                    soft.extend(made::bags(job, piece, plan, made));
                }
                // frames, ladders and tools are needed first, then the pieces in their order
                of_piece.extend(soft.into_iter().map(|bag| Parcel { needed: nth, ..bag }));
                // what was kept back goes in when everything hangs
                of_piece.extend(kept_back(job, piece, plan).map(|bag| Parcel {
                    needed: all + 1,
                    ..bag
                }));
            }
            of_piece
        })
    });
    // the case that is opened most has a short code
    pieces
        .chain(spares_case(job, counted, order))
        .chain(cases(job))
        .take(MOST_PARCELS + 1)
        .collect()
}

/// Soft bags of a piece: the lengths of a garland, chains.
fn bags(job: &Job, piece: &Piece, plan: &PiecePlan) -> Vec<Parcel> {
    let squeezed = |free_ml: i64| nearest(whole(free_ml) * (1.0 - squeeze(job)));
    let name = called(piece);
    let mut bags = Vec::new();
    if let Some(g) = &plan.garland {
        let all = g.lengths.len();
        for (i, length) in g.lengths.iter().enumerate() {
            let title = if all == 1 {
                format!("{name}, whole")
            } else {
                format!("{name}, length {} of {all}", i + 1)
            };
            bags.push(Parcel {
                name: title.clone(),
                soft: true,
                length_mm: length.length_mm,
                width_mm: length.width_mm,
                height_mm: length.width_mm,
                volume_ml: squeezed(length.volume_ml),
                piece: plan.piece.clone(),
                holds: vec![packed(&title, 1, "", false)],
                ..Parcel::default()
            });
        }
    }
    if let Some(c) = &plan.chain {
        let balls = whole(c.links) * link_litres(&piece.chain);
        for i in 0..most(c.count) {
            let title = if c.count == 1 {
                name.to_string()
            } else {
                format!("{name}, chain {} of {}", i + 1, c.count)
            };
            bags.push(loose(
                job,
                plan,
                &title,
                balls,
                packed(&title, 1, "", false),
            ));
        }
    }
    bags
}

/// The bag of clusters that are kept back.
fn kept_back(job: &Job, piece: &Piece, plan: &PiecePlan) -> Option<Parcel> {
    let g = plan.garland.as_ref().filter(|g| g.extras > 0)?;
    let holds = packed("clusters kept back", g.extras, "", false);
    let name = format!("{}, kept back", called(piece));
    Some(loose(job, plan, &name, kept_back_litres(g), holds))
}

/// What one link takes of a bag of loose balls, L: a ball, or the flat cylinder round a ring link, whose tube is a quarter as thick as
/// the ring is wide. Common practice, no source.
fn link_litres(chain: &Chain) -> f64 {
    match chain.form {
        LinkForm::Ring => {
            let across = whole(chain.size_in.clamp(0, 200)) * 0.254;
            PI / 4.0 * across * across * across / 4.0
        }
        LinkForm::Latex | LinkForm::Newer => litres(chain.blown_dmm),
    }
}

/// A bag of loose balls.
fn loose(job: &Job, plan: &PiecePlan, name: &str, balls_litres: f64, holds: Packed) -> Parcel {
    let free = balls_litres / LOOSE_FILL;
    let side = libm::cbrt(free * 1e6 / LOOSE_LENGTH);
    Parcel {
        name: name.into(),
        soft: true,
        length_mm: nearest(side * LOOSE_LENGTH),
        width_mm: nearest(side),
        height_mm: nearest(side),
        volume_ml: nearest(free * 1000.0 * (1.0 - squeeze(job))),
        piece: plan.piece.clone(),
        holds: vec![holds],
        ..Parcel::default()
    }
}

/// Balls of the clusters kept back, L.
fn kept_back_litres(g: &GarlandPlan) -> f64 {
    let balls = g.kept_back.iter().flat_map(|c| &c.balls);
    balls.map(|b| litres(b.blown_dmm)).sum()
}

fn frames(job: &Job, piece: &Piece, plan: &PiecePlan) -> Vec<Parcel> {
    let Some(frame) = brought(job, plan) else {
        return Vec::new();
    };
    let sides = [
        piece.frame.packed_length_mm,
        piece.frame.packed_width_mm,
        piece.frame.packed_height_mm,
    ];
    (0..most(frame.count))
        .map(|i| {
            let title = if frame.count == 1 {
                called(piece).to_string()
            } else {
                format!("{} {} of {}", called(piece), i + 1, frame.count)
            };
            Parcel {
                piece: plan.piece.clone(),
                mass_g: Some(piece.frame.mass_g).filter(|g| *g > 0),
                holds: vec![packed(&title, 1, "", true)],
                ..if piece.frame.upright {
                    standing(&title, sides)
                } else {
                    hard(&title, sides)
                }
            }
        })
        .collect()
}

/// One case with everything that is carried besides the pieces: spares, sundries, and kit that has no measures of its own.
fn spares_case(job: &Job, counted: &Counted, order: &[OrderLine]) -> Option<Parcel> {
    let mut holds: Vec<Packed> = order
        .iter()
        // helium travels in its cylinder
        .filter(|line| line.kind != ItemKind::Helium)
        .filter_map(|line| match line.spares {
            0 if matches!(line.kind, ItemKind::Sundry | ItemKind::Tie) => {
                Some(packed(&line.name, line.need, &line.unit, line.comes_home))
            }
            0 => None,
            spares => Some(packed(
                &format!("{}, spare", line.name),
                spares,
                &line.unit,
                false,
            )),
        })
        .collect();
    let flat = counted
        .pieces
        .iter()
        .filter_map(|plan| made::flat(job.pieces.get(&plan.piece)?, plan));
    holds.extend(flat);
    let small = travelling(job).filter(|(_, k)| k.length_mm <= 0);
    holds.extend(small.map(|(_, k)| packed(kit_name(k), k.count, "", true)));
    (!holds.is_empty()).then(|| Parcel {
        holds,
        ..hard("Spares and sundries", SPARES_CASE_MM)
    })
}

/// Kit that has measures, one parcel for each of it.
fn cases(job: &Job) -> impl Iterator<Item = Parcel> {
    travelling(job)
        .filter(|(_, k)| k.length_mm > 0)
        .flat_map(|(id, kit)| {
            (0..most(kit.count)).map(move |i| {
                let name = kit_name(kit);
                let title = if kit.count == 1 {
                    name.to_string()
                } else {
                    format!("{name} {} of {}", i + 1, kit.count)
                };
                Parcel {
                    kit: id.into(),
                    mass_g: Some(kit.mass_g).filter(|g| *g > 0),
                    holds: vec![packed(&title, 1, "", true)],
                    ..hard(&title, [kit.length_mm, kit.width_mm, kit.height_mm])
                }
            })
        })
}

/// Kit that goes along.
fn travelling(job: &Job) -> impl Iterator<Item = (&str, &Kit)> {
    live(&job.kit)
        .into_iter()
        .filter(|(_, k)| !k.stays && k.count > 0)
}

/// What a thing of the kit is called in a sentence.
pub(crate) fn kit_name(kit: &Kit) -> &str {
    if kit.name.trim().is_empty() {
        "Case without a name"
    } else {
        kit.name.trim()
    }
}

/// How many of a thing are listed: one more than are allowed shows that there are too many.
fn most(count: i64) -> i64 {
    count.clamp(0, i64::try_from(MOST_PARCELS).unwrap_or(i64::MAX) + 1)
}

/// A rigid parcel, its sides longest first.
fn hard(name: &str, sides_mm: [i64; 3]) -> Parcel {
    let mut sides = sides_mm;
    sides.sort_unstable_by(|a, b| b.cmp(a));
    rigid(name, sides)
}

/// A rigid parcel that stays upright: its height is its own, its length the longer of the other two.
fn standing(name: &str, sides_mm: [i64; 3]) -> Parcel {
    let [a, b, high] = sides_mm;
    rigid(name, [a.max(b), a.min(b), high])
}

fn rigid(name: &str, sides_mm: [i64; 3]) -> Parcel {
    let sides = sides_mm.map(|s| s.clamp(0, 100_000));
    Parcel {
        name: name.into(),
        length_mm: sides[0],
        width_mm: sides[1],
        height_mm: sides[2],
        volume_ml: litre_box(sides),
        ..Parcel::default()
    }
}

fn packed(what: &str, count: i64, unit: &str, comes_home: bool) -> Packed {
    Packed {
        what: what.into(),
        count,
        unit: unit.into(),
        comes_home,
    }
}

/// B1, B2 for bags, C1 for cases and frames.
fn number(parcels: &mut [Parcel]) {
    let (mut bag, mut case) = (0, 0);
    for parcel in parcels {
        let (letter, n) = if parcel.soft {
            ('B', &mut bag)
        } else {
            ('C', &mut case)
        };
        *n += 1;
        parcel.code = format!("{letter}{n}");
    }
}

/// What a vehicle is called in a sentence.
fn vehicle_name(vehicle: &Vehicle) -> String {
    match vehicle.name.trim() {
        "" => "Vehicle without a name".into(),
        name => name.into(),
    }
}

/// The sides of a parcel, smallest first, mm; the two smaller ones of a soft bag squeezed.
fn squeezed_sides(job: &Job, parcel: &Parcel) -> [f64; 3] {
    let mut sides = [parcel.length_mm, parcel.width_mm, parcel.height_mm].map(whole);
    sides.sort_by(f64::total_cmp);
    let give = if parcel.soft {
        (1.0 - squeeze(job)).sqrt()
    } else {
        1.0
    };
    [sides[0] * give, sides[1] * give, sides[2]]
}

/// Share of its free volume by which a bag may be squeezed.
fn squeeze(job: &Job) -> f64 {
    whole(job.rules.squeeze_pct.clamp(0, 50)) / 100.0
}

/// Volume of a box, mL.
fn litre_box(sides_mm: [i64; 3]) -> i64 {
    let sides = sides_mm.map(|s| whole(s.clamp(0, 100_000)));
    nearest(sides.iter().product::<f64>() / 1000.0)
}

/// Kit and frames with their ballast, g.
fn mass(job: &Job, counted: &Counted) -> i64 {
    let kit = travelling(job)
        .filter(|(_, k)| k.kind != KitKind::Ballast)
        .map(|(_, k)| k.mass_g.max(0).saturating_mul(k.count));
    let frames = counted.pieces.iter().filter_map(|p| {
        let frame = brought(job, p)?;
        let each = job.pieces.get(&p.piece)?.frame.mass_g.max(0);
        Some(
            each.saturating_mul(frame.count)
                .saturating_add(frame.ballast_g),
        )
    });
    let made = counted.pieces.iter().filter_map(|p| {
        let made = p.made.as_ref()?;
        Some(made.weight_g.max(0).saturating_mul(made.count))
    });
    kit.chain(frames).chain(made).fold(0, i64::saturating_add)
}

#[cfg(test)]
mod tests;

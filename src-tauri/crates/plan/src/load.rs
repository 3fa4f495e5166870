//! Bags and cases, doors and vehicle.
//!
//! Two checks only, neither of which promises that it fits: the largest-item check (every parcel must pass every opening and lie
//! within the load space; a bag of balloons may lie bent once) and the volume bound (less than so many trips is impossible).

pub mod choice;
mod made;

use std::f64::consts::PI;

use job::list::live;
use job::piece::{Chain, LinkForm, Piece};
use job::site::{Kit, KitKind};
use job::stock::ItemKind;
use job::{Finding, Job, Room, Severity};

use crate::frames::brought;
use crate::inflate::{litres, nearest, up, whole};
use crate::pieces::{Counted, called};
use crate::types::{GarlandPlan, Load, OrderLine, Packed, Parcel, PiecePlan};

/// Share of a bag that loose balls fill. Random loose to close packing of spheres is 0.555 to 0.637 (Onoda and Liniger 1990;
/// Scott and Kilgour 1969).
const LOOSE_FILL: f64 = 0.60;
/// A bag of loose balls is twice as long as wide.
const LOOSE_LENGTH: f64 = 2.0;
/// The case that spares and sundries travel in, mm.
const SPARES_CASE_MM: [i64; 3] = [600, 400, 300];
/// Above this share of the load space it is tight, percent.
const TIGHT_PCT: i64 = 80;
/// Most parcels that are listed one by one.
const MOST_PARCELS: usize = 5_000;
/// So many parcels that do not pass have their finding; the others are marked in the list.
const MOST_STUCK: usize = 12;

/// An opening: its name, clear sides in mm, and where they were entered.
struct Opening {
    name: String,
    sides: [i64; 2],
    path: Vec<String>,
}

/// What is carried and whether it goes in.
#[must_use]
pub fn load(job: &Job, counted: &Counted, order: &[OrderLine]) -> (Load, Vec<Finding>) {
    let mut parcels = parcels(job, counted, order);
    let mut findings = Vec::new();
    if parcels.len() > MOST_PARCELS {
        findings.push(too_many(parcels.len()));
        parcels.truncate(MOST_PARCELS);
    }
    number(&mut parcels);
    findings.extend(stuck(job, &mut parcels));
    let volume_ml: i64 = parcels
        .iter()
        .map(|p| p.volume_ml)
        .fold(0, i64::saturating_add);
    let space_ml = space(job);
    let trips = if space_ml > 0 {
        up(whole(volume_ml) / whole(space_ml)).max(1)
    } else {
        1
    };
    findings.extend(volume_findings(job, volume_ml, space_ml, trips));
    let mass_g = mass(job, counted);
    let passes = parcels.iter().all(|p| p.stuck_at.is_empty());
    // last in, first out: what is needed first is loaded last, so hard cases go in first and bags on top of nothing
    parcels.sort_by_key(|p| p.soft);
    (
        Load {
            parcels,
            volume_ml,
            space_ml,
            trips,
            rounds: trips,
            least_trips: trips,
            passes,
            mass_g,
            ..Load::default()
        },
        findings,
    )
}

/// Everything that is carried: the pieces, the kit, the spares. No more than one beyond what is listed.
fn parcels(job: &Job, counted: &Counted, order: &[OrderLine]) -> Vec<Parcel> {
    let pieces = counted.pieces.iter().flat_map(|plan| {
        let piece = job.pieces.get(&plan.piece);
        piece.into_iter().flat_map(|piece| {
            let mut of_piece = bags(job, piece, plan);
            of_piece.extend(frames(job, piece, plan));
            if let Some(made) = &plan.made {
                of_piece.extend(made::bags(job, piece, plan, made));
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

/// Marks the parcels that do not go in, and says it of each; of very many it says how many more there are.
fn stuck(job: &Job, parcels: &mut [Parcel]) -> Vec<Finding> {
    let openings = openings(job);
    let mut findings = Vec::new();
    for parcel in parcels {
        if let Some(opening) = openings.iter().find(|o| !passes(job, parcel, o.sides)) {
            parcel.stuck_at = opening.name.clone();
            findings.push(too_wide(parcel, opening));
        } else if !lies_within(job, parcel) {
            parcel.stuck_at = vehicle_name(job);
            findings.push(too_long(job, parcel));
        }
    }
    let more = findings.len().saturating_sub(MOST_STUCK);
    findings.truncate(MOST_STUCK);
    if let Some(last) = findings.last_mut().filter(|_| more > 0) {
        last.message = format!("{} The same holds for {more} more.", last.message);
    }
    findings
}

/// Soft bags of a piece: the lengths of a garland, what is kept back, chains.
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
        if g.extras > 0 {
            let balls = kept_back_litres(g);
            bags.push(loose(
                job,
                plan,
                &format!("{name}, kept back"),
                balls,
                packed("clusters kept back", g.extras, "", false),
            ));
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
                holds: vec![packed(&title, 1, "", true)],
                ..hard(&title, sides)
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
    let mut sides = sides_mm.map(|s| s.clamp(0, 100_000));
    sides.sort_unstable_by(|a, b| b.cmp(a));
    Parcel {
        name: name.into(),
        length_mm: sides[0],
        width_mm: sides[1],
        height_mm: sides[2],
        volume_ml: nearest(sides.iter().map(|s| whole(*s)).product::<f64>() / 1000.0),
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

/// Openings on the way, from the vehicle to the room. Those without measures are not known and stop nothing.
fn openings(job: &Job) -> Vec<Opening> {
    let vehicle = Opening {
        name: format!("{}, door", vehicle_name(job)),
        sides: [job.vehicle.door_width_mm, job.vehicle.door_height_mm],
        path: vec!["vehicle".into()],
    };
    let doors = live(&job.doors).into_iter().map(|(id, d)| Opening {
        name: if d.name.trim().is_empty() {
            "Door without a name".into()
        } else {
            d.name.trim().into()
        },
        sides: [d.width_mm, d.height_mm],
        path: vec!["doors".into(), id.into()],
    });
    std::iter::once(vehicle)
        .chain(doors)
        .filter(|o| o.sides.iter().all(|s| *s > 0))
        .collect()
}

/// What the vehicle is called in a sentence.
fn vehicle_name(job: &Job) -> String {
    match job.vehicle.name.trim() {
        "" => "Vehicle without a name".into(),
        name => name.into(),
    }
}

/// Whether the two smaller sides pass an opening, in one turn or the other; a soft bag gives way by its squeeze.
fn passes(job: &Job, parcel: &Parcel, opening: [i64; 2]) -> bool {
    let sides = squeezed_sides(job, parcel);
    let mut opening = opening.map(whole);
    opening.sort_by(f64::total_cmp);
    sides[0] <= opening[0] && sides[1] <= opening[1]
}

/// Whether a parcel lies within the load space, its sides along the sides of the space. A bag of balloons may lie bent once, along
/// two of the sides.
fn lies_within(job: &Job, parcel: &Parcel) -> bool {
    let sides = squeezed_sides(job, parcel);
    let mut space = [
        job.vehicle.length_mm,
        job.vehicle.width_mm,
        job.vehicle.height_mm,
    ]
    .map(whole);
    if space.iter().any(|s| *s <= 0.0) {
        return true;
    }
    space.sort_by(f64::total_cmp);
    let along = if parcel.soft {
        space[2].max(space[2] + space[1] - sides[1])
    } else {
        space[2]
    };
    sides[0] <= space[0] && sides[1] <= space[1] && sides[2] <= along
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

fn space(job: &Job) -> i64 {
    let sides = [
        job.vehicle.length_mm,
        job.vehicle.width_mm,
        job.vehicle.height_mm,
    ];
    nearest(
        sides
            .iter()
            .map(|s| whole((*s).clamp(0, 100_000)))
            .product::<f64>()
            / 1000.0,
    )
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

fn too_many(listed: usize) -> Finding {
    Finding::new(
        "too_many_parcels",
        Severity::Stop,
        Room::Load,
        &["rules", "length_mm"],
        format!(
            "There are more than {} bags and cases. The others are not listed, and not in the volume.",
            listed - 1
        ),
        "Check the numbers of frames, chains and kit, and the length that garlands are carried in.",
    )
}

fn too_wide(parcel: &Parcel, opening: &Opening) -> Finding {
    let mut sides = [parcel.length_mm, parcel.width_mm, parcel.height_mm];
    sides.sort_unstable();
    let path: Vec<&str> = opening.path.iter().map(String::as_str).collect();
    Finding::new(
        "too_wide",
        Severity::Stop,
        Room::Load,
        &path,
        format!(
            "{} ({} x {} mm) does not pass {} ({} x {} mm).",
            parcel.name, sides[1], sides[0], opening.name, opening.sides[0], opening.sides[1]
        ),
        if parcel.soft {
            "Carry shorter or thinner lengths, or find another way in."
        } else {
            "Take it apart, or find another way in."
        },
    )
}

fn too_long(job: &Job, parcel: &Parcel) -> Finding {
    Finding::new(
        "too_long",
        Severity::Stop,
        Room::Load,
        &["vehicle"],
        format!(
            "{} ({} x {} x {} mm) does not go into {}.",
            parcel.name,
            parcel.length_mm,
            parcel.width_mm,
            parcel.height_mm,
            vehicle_name(job)
        ),
        if parcel.soft {
            "Carry shorter lengths, or take a larger vehicle."
        } else {
            "Take a larger vehicle, or carry it in parts."
        },
    )
}

fn volume_findings(job: &Job, volume_ml: i64, space_ml: i64, trips: i64) -> Option<Finding> {
    let litres = |ml: i64| nearest(whole(ml) / 1000.0);
    if space_ml <= 0 {
        return Some(Finding::new(
            "no_space",
            Severity::Care,
            Room::Load,
            &["vehicle"],
            "The vehicle has no load space yet.",
            "Enter its length, width and height.",
        ));
    }
    if trips > 1 {
        return Some(Finding::new(
            "two_trips",
            Severity::Care,
            Room::Load,
            &["vehicle"],
            format!(
                "{} L do not go into {} ({} L) at once: at least {trips} trips.",
                litres(volume_ml),
                vehicle_name(job),
                litres(space_ml)
            ),
            "Plan the trips, or take a larger vehicle.",
        ));
    }
    let tight = i128::from(volume_ml) * 100 > i128::from(space_ml) * i128::from(TIGHT_PCT);
    tight.then(|| {
        Finding::new(
            "tight",
            Severity::Note,
            Room::Load,
            &["vehicle"],
            format!(
                "{} of {} L: it may go in, but it will be tight.",
                litres(volume_ml),
                litres(space_ml)
            ),
            "Leave time to load, and nothing on top of the bags.",
        )
    })
}

#[cfg(test)]
mod tests;

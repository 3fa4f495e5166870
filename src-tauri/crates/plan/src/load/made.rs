//! Bags of pieces that are counted from their measures: columns whole or in lengths, the others loose. Floaters are blown where they
//! float; they travel flat.

use std::f64::consts::PI;

use job::Job;
use job::piece::{Piece, PieceKind};
use job::set_piece::ClassicForm;

use solve::packing::rings::outside_over_d;

use super::{LOOSE_FILL, loose, most, packed, squeeze};
use crate::inflate::{litres, nearest, whole};
use crate::made::foils_of;
use crate::made::helium::foil_litres;
use crate::pieces::called;
use crate::types::{Made, Packed, Parcel, PiecePlan};

/// Largest bag of loose balloons, free litres. Common practice, no source.
const LARGEST_L: f64 = 400.0;
/// Characters of foil to a flat bag.
const FOILS_TO_A_BAG: i64 = 4;
/// Centrepieces to a bag, two by two.
const TABLES_TO_A_BAG: i64 = 4;

/// Soft bags of such a piece.
pub(super) fn bags(job: &Job, piece: &Piece, plan: &PiecePlan, made: &Made) -> Vec<Parcel> {
    let name = called(piece);
    match plan.kind {
        PieceKind::Classic => columns(job, piece, plan, made),
        PieceKind::Bouquet => {
            let bouquet = &piece.bouquet;
            let each = whole(bouquet.rounds.max(0)) * litres(bouquet.blown_dmm)
                + whole(bouquet.foils.max(0)) * foil_litres(bouquet.foil_in);
            (0..most(made.count))
                .map(|i| {
                    let title = nth(name, "bouquet", i, made.count);
                    loose(job, plan, &title, each, packed(&title, 1, "", false))
                })
                .collect()
        }
        PieceKind::Foils => foils(job, plan, made, name),
        PieceKind::Centrepiece => tables(job, plan, made, name),
        PieceKind::Wall | PieceKind::Loose => {
            let balls: i64 = made.balls.iter().map(|c| c.balls).sum();
            spread(job, plan, name, litres_of(piece, made), balls)
        }
        _ => Vec::new(),
    }
}

/// What travels flat to be blown there.
pub(super) fn flat(piece: &Piece, plan: &PiecePlan) -> Option<Packed> {
    let made = plan
        .made
        .as_ref()
        .filter(|_| plan.kind == PieceKind::Floaters)?;
    let balls = made.balls.iter().map(|c| c.balls).sum();
    Some(packed(
        &format!("{}, flat, to be filled there", called(piece)),
        balls,
        "",
        false,
    ))
}

/// `Guests, bouquet 2 of 3`.
fn nth(name: &str, what: &str, at: i64, all: i64) -> String {
    if all == 1 {
        name.to_string()
    } else {
        format!("{name}, {what} {} of {all}", at + 1)
    }
}

/// Volume of all balloons of a piece, L.
fn litres_of(piece: &Piece, made: &Made) -> f64 {
    let balls: i64 = made.balls.iter().map(|c| c.balls).sum();
    match piece.kind {
        PieceKind::Wall => whole(balls) * litres(piece.wall.blown_dmm),
        _ => whole(balls) * litres(piece.loose.blown_dmm),
    }
}

/// Loose balloons in as many bags as they take, as equal as may be.
fn spread(job: &Job, plan: &PiecePlan, name: &str, litres: f64, balls: i64) -> Vec<Parcel> {
    let bags = nearest((litres / LOOSE_FILL / LARGEST_L).ceil()).max(1);
    (0..most(bags))
        .map(|i| {
            let title = nth(name, "bag", i, bags);
            let here = balls / bags + i64::from(i < balls % bags);
            let share = litres * whole(here) / whole(balls.max(1));
            loose(
                job,
                plan,
                &title,
                share,
                packed("balloons", here, "", false),
            )
        })
        .collect()
}

/// A bag round something of given sides, mm.
fn around(job: &Job, plan: &PiecePlan, name: &str, sides: [f64; 3], fill: f64) -> Parcel {
    let free_ml = sides.iter().product::<f64>() * fill / 1000.0;
    Parcel {
        name: name.into(),
        soft: true,
        length_mm: nearest(sides[0]),
        width_mm: nearest(sides[1]),
        height_mm: nearest(sides[2]),
        volume_ml: nearest(free_ml * (1.0 - squeeze(job))),
        piece: plan.piece.clone(),
        holds: vec![packed(name, 1, "", false)],
        ..Parcel::default()
    }
}

/// Columns on their poles, in lengths if they are longer than what is carried; toppers loose.
fn columns(job: &Job, piece: &Piece, plan: &PiecePlan, made: &Made) -> Vec<Parcel> {
    let name = called(piece);
    let arch = piece.classic.form == ClassicForm::Arch;
    let line = made.along_mm;
    let ring = u32::try_from(piece.classic.ring).unwrap_or(0);
    let across = outside_over_d(ring).unwrap_or(0.0) * whole(piece.classic.blown_dmm) / 10.0;
    let lengths = (line + job.rules.length_mm.max(1) - 1) / job.rules.length_mm.max(1);
    let all = made.count.saturating_mul(lengths.max(1));
    let mut bags: Vec<Parcel> = (0..most(all))
        .map(|i| {
            let what = if lengths > 1 {
                "length"
            } else if arch {
                "arch"
            } else {
                "column"
            };
            let title = if lengths > 1 && made.count > 1 {
                // which length of which arch
                let whole = nth(
                    name,
                    if arch { "arch" } else { "column" },
                    i / lengths,
                    made.count,
                );
                nth(&whole, what, i % lengths, lengths)
            } else {
                nth(name, what, i, all)
            };
            let long = whole(line) / whole(lengths.max(1));
            // a round thing in a square bag: the vehicle holds the round thing
            around(job, plan, &title, [long, across, across], PI / 4.0)
        })
        .collect();
    if piece.classic.topper_in > 0 && !arch {
        let title = format!("{name}, on top");
        let balls = whole(made.count) * litres(piece.classic.topper_dmm);
        let holds = packed("balloons for the top", made.count, "", false);
        bags.push(loose(job, plan, &title, balls, holds));
    }
    bags
}

/// Foils stand on edge beside each other in flat bags.
fn foils(job: &Job, plan: &PiecePlan, made: &Made, name: &str) -> Vec<Parcel> {
    let all = foils_of(made);
    let bags = (all + FOILS_TO_A_BAG - 1) / FOILS_TO_A_BAG;
    let high = whole(made.foils.iter().map(|f| f.height_mm).max().unwrap_or(0));
    let wide = high * 0.75;
    (0..most(bags))
        .map(|i| {
            let here = all / bags + i64::from(i < all % bags);
            let title = nth(name, "bag", i, bags);
            let thick = whole(made.depth_mm) * whole(here);
            let mut bag = around(job, plan, &title, [high, wide, thick], 1.0);
            bag.holds = vec![packed("foils, filled", here, "", false)];
            bag
        })
        .collect()
}

/// Centrepieces upright, two by two.
fn tables(job: &Job, plan: &PiecePlan, made: &Made, name: &str) -> Vec<Parcel> {
    let bags = (made.count + TABLES_TO_A_BAG - 1) / TABLES_TO_A_BAG;
    let (high, wide) = (whole(made.height_mm), whole(made.width_mm));
    (0..most(bags))
        .map(|i| {
            let here = made.count / bags + i64::from(i < made.count % bags);
            let title = nth(name, "bag", i, bags);
            let (across, deep) = (whole(here.min(2)), whole((here + 1) / 2));
            let sides = [high, wide * across, wide * deep];
            let mut bag = around(job, plan, &title, sides, 1.0);
            bag.holds = vec![packed("centrepieces", here, "", false)];
            bag
        })
        .collect()
}

//! Clusters that a hand made up: the plan ties them as they are written, or as they fall where that cannot be.

use serde_json::{Value, json};

use super::pieces::{At, INCH_DMM};
use crate::edit::Edit;
use crate::finding::{Finding, Severity};
use crate::list::live;
use crate::piece::Hand;

/// Balls that a cluster may have.
const SIZES: [usize; 3] = [4, 6, 8];
/// Nominal sizes that make sense, in.
const RANGE_IN: (i64, i64) = (1, 100);

pub(super) fn findings(on: &At) -> Vec<Finding> {
    live(&on.piece.garland.hand)
        .into_iter()
        .filter(|(_, hand)| !hand.left_out && !hand.balls.is_empty())
        .flat_map(|(id, hand)| one(on, id, hand))
        .collect()
}

fn one(on: &At, id: &str, hand: &Hand) -> Vec<Finding> {
    let record = ["garland", "hand", id, "balls"];
    // people count from 1; what is no number is of no cluster
    let Ok(at) = id.parse::<u32>() else {
        return Vec::new();
    };
    let cluster = format!("{}, cluster {}", on.name(), i64::from(at) + 1);
    let mut all = Vec::new();
    let as_it_falls = || {
        let path = |field| on.path(&["garland", "hand", id, field]);
        vec![
            Edit::set(&path("balls"), Value::Array(Vec::new())),
            Edit::set(&path("locked"), false),
        ]
    };
    if !SIZES.contains(&hand.balls.len()) {
        let found = on.finding(
            "cluster_not_tied",
            Severity::Care,
            &record,
            format!(
                "{cluster} is made up of {} by hand, which is no quad, six or eight. It is tied as the recipe says.",
                hand.balls.len()
            ),
            "Give it 4, 6 or 8 balloons.",
        );
        all.push(found.fix("Leave it to the recipe", as_it_falls()));
    }
    let palette = &on.piece.garland.palette;
    if (hand.balls.iter()).any(|b| palette.get(&b.shade).is_none_or(|s| s.gone)) {
        let found = on.finding(
            "cluster_colour_gone",
            Severity::Care,
            &record,
            format!(
                "{cluster} is made up by hand of a colour that the palette no longer has. It is tied as the recipe says."
            ),
            "Put the colour back, or make the cluster up anew.",
        );
        all.push(found.fix("Leave it to the recipe", as_it_falls()));
    }
    let sound = |size_in: i64| size_in.clamp(RANGE_IN.0, RANGE_IN.1);
    let least = |size_in: i64| INCH_DMM.min(sound(size_in) * INCH_DMM);
    let right = |size_in: i64, dmm: i64| {
        size_in == sound(size_in) && (1..=size_in * INCH_DMM).contains(&dmm)
    };
    if let Some(ball) = (hand.balls.iter()).find(|b| !right(b.size_in, b.blown_dmm)) {
        let found = on.finding(
            "cluster_blown_wrong",
            Severity::Stop,
            &record,
            format!(
                "{cluster}: a balloon of {} in cannot be blown to {} mm.",
                ball.size_in,
                ball.blown_dmm / 10
            ),
            "Blow it smaller, or take a larger balloon.",
        );
        let mended: Vec<Value> = (hand.balls.iter())
            .map(|b| {
                let size_in = sound(b.size_in);
                let blown_dmm = b.blown_dmm.clamp(least(size_in), size_in * INCH_DMM);
                json!({ "shade": b.shade, "size_in": size_in, "blown_dmm": blown_dmm })
            })
            .collect();
        let edit = Edit::set(&on.path(&record), Value::Array(mended));
        all.push(found.fix("Blow to what it takes", vec![edit]));
    }
    all
}

//! A scene for a picture: where the job places nothing, its pieces stand side by side.

use std::collections::BTreeMap;

use job::Job;
use job::list::live;
use job::piece::Piece;

use super::{Scene, bounds, scene};
use crate::Plan;

/// Air between pieces that were not placed, dmm.
const BETWEEN: i64 = 5000;

/// The scene of a plan. If no piece of the job has a place of its own, pieces that do not hang on each other are moved side by side,
/// in the order of the job.
#[must_use]
pub fn staged(job: &Job, plan: &Plan) -> Scene {
    let mut all = scene(job, plan);
    let pieces = live(&job.pieces);
    let placed = |p: &Piece| p.x_mm != 0 || p.y_mm != 0 || p.z_mm != 0 || p.turn_deg != 0;
    if pieces.iter().any(|(_, p)| placed(p)) {
        return all;
    }
    let mut moves: BTreeMap<&str, i64> = BTreeMap::new();
    let mut right: Option<i64> = None;
    for (id, piece) in &pieces {
        if carrier(job, piece).is_some() {
            continue;
        }
        // foils hang in a garland, which may hang on a frame
        let stands = |other: &str| {
            let on = |id: &str| job.pieces.get(id).and_then(|p| carrier(job, p));
            let hung = on(other);
            other == *id || hung == Some(id) || hung.and_then(on) == Some(id)
        };
        let mut group = all.clone();
        group.balls.retain(|b| stands(&b.piece));
        group.tubes.retain(|t| stands(&t.piece));
        group.panels.retain(|p| stands(&p.piece));
        if group.balls.is_empty() && group.tubes.is_empty() && group.panels.is_empty() {
            continue;
        }
        let (low, high) = bounds(&group);
        let by = right.map_or(0, |edge| edge + BETWEEN - low[0]);
        right = Some(high[0] + by);
        for (other, _) in pieces.iter().filter(|(other, _)| stands(other)) {
            moves.insert(other, by);
        }
    }
    let by = |piece: &str| moves.get(piece).copied().unwrap_or(0);
    for ball in &mut all.balls {
        ball.at[0] += by(&ball.piece);
    }
    for tube in &mut all.tubes {
        let by = by(&tube.piece);
        tube.from[0] += by;
        tube.to[0] += by;
    }
    for panel in &mut all.panels {
        let by = by(&panel.piece);
        panel.low[0] += by;
        panel.high[0] += by;
    }
    (all.low, all.high) = bounds(&all);
    all
}

/// The frame that a piece hangs on, if it is a piece of the job.
fn carrier<'a>(job: &'a Job, piece: &'a Piece) -> Option<&'a str> {
    let frame = job.pieces.get(&piece.on)?;
    (!frame.gone).then_some(piece.on.as_str())
}

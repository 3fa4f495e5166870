//! How a bag gives way: the shapes it takes after its free one.

use job::Job;
use job::piece::PieceKind;
use solve::loading::types::Triple;

use super::squeeze;
use super::stow::{sides, whole_mm};
use crate::inflate::{nearest, whole};
use crate::types::{Load, Parcel};

/// No bag takes less than this share of the box round it; a round one fills 0.785 of it.
const LEAST_SHARE: f64 = 0.3;
/// A bag doubled over is longer than half its length by so much of its width: the bend round half a width takes
/// 1 − π/4 of it. Its middle line keeps its length.
const BEND: f64 = 1.0 - std::f64::consts::FRAC_PI_4;

/// A smaller or other shape that a bag takes.
pub(super) struct Rung {
    /// As the solver takes it, mm.
    pub sides: Triple,
    /// By how much what is in it is pressed, percent of its volume.
    pub squeezed_pct: i64,
    /// Doubled over.
    pub folded: bool,
}

/// The shapes of a bag after its free one, the mildest first. Its free shape is the box round it; what is in it takes less, so that it
/// first gives up the corners of that box, then is pressed, down to the volume that it is reckoned with; either on both sides or flat.
/// Then it is doubled over, unless it is a column or an arch of rings, and where it would go in no other way, bent round a corner of the load space: a box with room to
/// spare round its bend.
pub(super) fn rungs(job: &Job, load: &Load, parcel: &Parcel) -> Vec<Rung> {
    let sides = sides(parcel);
    let free = sides.map(whole);
    let around = free.iter().product::<f64>() / 1000.0;
    let share = |ml: f64| (ml / around).clamp(LEAST_SHARE, 1.0);
    let least = whole(parcel.volume_ml.max(0));
    let (filled, pressed) = (share(least / (1.0 - squeeze(job))), share(least));
    // how much of the box is left, and how far what is in it is pressed
    let rung = |long: f64, wide: f64, high: f64, folded: bool, left: f64| Rung {
        sides: whole_mm([up_mm(long), up_mm(wide), up_mm(high)]),
        squeezed_pct: nearest((100.0 * (1.0 - left / filled)).max(0.0)),
        folded,
    };
    let mut all = Vec::new();
    let mut steps = vec![
        (1.0 + filled) / 2.0,
        filled,
        (filled + pressed) / 2.0,
        pressed,
    ];
    steps.retain(|left| *left < 0.999);
    steps.dedup();
    for left in &steps {
        let thin = left.sqrt();
        all.push(rung(free[0], free[1] * thin, free[2] * thin, false, *left));
        if *left <= filled {
            all.push(rung(free[0], free[1], free[2] * left, false, *left));
        }
    }
    // what stands on a pole is as long as it is
    let stiff = job
        .pieces
        .get(&parcel.piece)
        .is_some_and(|p| p.kind == PieceKind::Classic);
    if free[0] >= 2.0 * free[1] && !stiff {
        let mut steps = vec![filled, pressed];
        steps.dedup();
        for left in steps {
            let thin = left.sqrt();
            let [wide, high] = [free[1] * thin, free[2] * thin];
            all.push(rung(
                free[0] / 2.0 + BEND * wide,
                2.0 * wide,
                high,
                true,
                left,
            ));
        }
    }
    let goes_in = |sides: Triple| {
        load.spaces.iter().any(|space| {
            let mut space = [space.length_mm, space.width_mm, space.height_mm];
            let mut sides = sides.map(i64::from);
            space.sort_unstable();
            sides.sort_unstable();
            (0..3).all(|a| sides[a] <= space[a])
        })
    };
    if !stiff && !all.iter().any(|r| goes_in(r.sides)) && !goes_in(whole_mm(sides)) {
        let bent = load.spaces.iter().filter_map(|space| {
            let thin = [free[1], free[2]].map(|s| s * (1.0 - squeeze(job)).sqrt());
            let mut floor = [space.length_mm, space.width_mm].map(whole);
            floor.sort_by(f64::total_cmp);
            let other = free[0] + thin[0] - floor[1];
            (other > 0.0 && other <= floor[0])
                .then(|| rung(floor[1], other, thin[1], true, pressed))
        });
        all.extend(bent);
    }
    all
}

/// Whole millimetres, none too few.
fn up_mm(mm: f64) -> i64 {
    nearest(mm.ceil())
}

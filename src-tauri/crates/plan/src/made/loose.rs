//! Accents, which are two quads on the two ends of half a long tie, and single balloons.

use job::set_piece::{Loose, LooseForm};
use job::stock::Rates;

use super::{Making, NoMade, alike, ball, diameter, drawn, rod, seen, shades, shares};
use crate::inflate::{nearest, whole};
use crate::spread::{largest_remainder, round_robin};

/// What an accent is called among the groups.
pub const ACCENT: &str = "accent";
/// Balls of an accent, and its pairs.
const BALLS: i64 = 8;
const PAIRS: i64 = BALLS / 2;
/// From quad to quad of an accent as it is drawn, over the diameter of a balloon: half a tie, slung round what it decorates.
const APART: f64 = 2.6;
/// Half the thickness of a tie, dmm.
const TIE_DMM: f64 = 25.0;

pub(super) fn make(loose: &Loose, rates: &Rates) -> Result<Making, NoMade> {
    let shades = shades(&loose.palette)?;
    let d = diameter(loose.blown_dmm, "blown_dmm")?;
    let single = loose.form == LooseForm::Single;
    let count = alike(loose.count, if single { 1 } else { BALLS })?;
    let mut making = Making::default();
    let one = |kind: usize| ball(shades[kind], loose.size_in, loose.blown_dmm);
    if single {
        for (kind, n) in largest_remainder(count, &shares(&shades))
            .into_iter()
            .enumerate()
        {
            making.add(one(kind), n, false);
        }
        let at = [d / 2.0, d / 2.0, 0.0];
        making
            .made
            .balls_drawn
            .push(drawn(at, d / 2.0, seen(shades[0])));
        making.made.width_mm = nearest(d / 10.0);
        making.made.height_mm = nearest(d / 10.0);
    } else {
        // pairs of one colour, dealt in turn: accents come out as alike as the shares allow
        let pairs = round_robin(&largest_remainder(count * PAIRS, &shares(&shades)));
        for accent in pairs.chunks(usize::try_from(PAIRS).unwrap_or(4)) {
            let mut kinds = accent.to_vec();
            kinds.sort_unstable();
            // a colour that comes twice is in both quads
            kinds.swap(1, 2);
            let balls: Vec<_> = kinds.iter().flat_map(|k| [one(*k), one(*k)]).collect();
            for ball in &balls {
                making.add(ball.clone(), 1, false);
            }
            if making.made.balls_drawn.is_empty() {
                draw(&mut making, &balls, d);
            }
            making.group(ACCENT, balls, 1);
        }
        making.made.width_mm = nearest(d * (2.0 + APART) / 10.0);
        making.made.height_mm = nearest(d * 2.0 / 10.0);
        making.work.accents_s = whole(count) * whole(rates.accent_s.max(0));
    }
    making.made.count = count;
    making.made.depth_mm = making.made.height_mm;
    making.say_many(
        if single {
            ["Single", "Singles"]
        } else {
            ["Accent", "Accents"]
        },
        count,
    );
    Ok(making)
}

/// One accent as it lies: two quads, the tie between them.
fn draw(making: &mut Making, balls: &[crate::types::Ball], d: f64) {
    for (at, ball) in balls.iter().enumerate() {
        let quad = if at < 4 { 0.0 } else { 1.0 };
        let [across, over] = [[0.0, 0.0], [1.0, 1.0], [1.0, 0.0], [0.0, 1.0]][at % 4];
        let spot = [
            d / 2.0 + across * d + quad * APART * d,
            d / 2.0 + over * d,
            0.0,
        ];
        making
            .made
            .balls_drawn
            .push(drawn(spot, d / 2.0, [&ball.colour, &ball.inside]));
    }
    let [left, right] = [0.0, 1.0].map(|quad| [d + quad * APART * d, d, 0.0]);
    making.made.rods_drawn.push(rod(left, right, TIE_DMM, ""));
}

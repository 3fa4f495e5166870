//! Helium bouquets: balloons on ribbons of stepped lengths over one weight.

use job::set_piece::Bouquet;
use job::stock::Rates;

use super::helium::{FOIL_RIM, foil_g, foil_litres, gross_lift_g, latex_g, weight_g};
use super::{
    Making, NoMade, alike, ball, diameter, drawn, foil, measure, rod, seen, shades, shares,
};
use crate::inflate::{litres, nearest, whole};
use crate::spread::{largest_remainder, round_robin};

/// No ribbon is shorter than this, mm: below, a balloon lies on its weight.
pub(super) const SHORTEST_MM: i64 = 300;
/// Most balloons of one bouquet.
const MOST: i64 = 1000;
/// Turn from balloon to balloon about the upright: the golden angle, so that none hides another.
const TURN: f64 = 2.399_963_229_728_653;
/// Half the thickness of a ribbon and of a weight, dmm.
const RIBBON_DMM: f64 = 10.0;
const WEIGHT_DMM: f64 = 350.0;

/// What the balloons of one lift, g, their own mass taken off and that of their ribbons not.
#[must_use]
pub fn net_lift_g(bouquet: &Bouquet) -> f64 {
    let round = gross_lift_g(litres(bouquet.blown_dmm)) - latex_g(bouquet.size_in);
    let foil = gross_lift_g(foil_litres(bouquet.foil_in)) - foil_g(bouquet.foil_in);
    whole(bouquet.rounds.clamp(0, MOST)) * round.max(0.0)
        + whole(bouquet.foils.clamp(0, MOST)) * foil.max(0.0)
}

/// Heights of the balloons' middles over the weight, mm, highest first.
#[must_use]
pub fn heights_mm(bouquet: &Bouquet) -> Vec<i64> {
    let all = bouquet.rounds.clamp(0, MOST) + bouquet.foils.clamp(0, MOST);
    let step = bouquet.step_mm.clamp(0, 100_000);
    let top = bouquet.top_mm.clamp(0, 1_000_000);
    (0..all).map(|n| top - n * step).collect()
}

pub(super) fn make(bouquet: &Bouquet, rates: &Rates) -> Result<Making, NoMade> {
    let (rounds, foils) = (bouquet.rounds.max(0), bouquet.foils.max(0));
    if rounds > MOST || foils > MOST {
        return Err(NoMade::TooLarge);
    }
    if rounds + foils == 0 {
        return Err(NoMade::NoCount);
    }
    measure(bouquet.top_mm, "top_mm")?;
    let count = alike(bouquet.count, rounds + foils)?;
    let mut making = Making::default();
    // foils are the highest: they are seen from afar
    let mut looks: Vec<(f64, [&str; 2])> = Vec::new();
    if foils > 0 {
        if bouquet.foil_colour.trim().is_empty() {
            return Err(NoMade::NoColour("foil_colour"));
        }
        if !(1..=200).contains(&bouquet.foil_in) {
            return Err(NoMade::NoSize("foil_in"));
        }
        let height_mm = nearest(whole(bouquet.foil_in) * 25.4);
        let all = foil("", &bouquet.foil_colour, height_mm, foils * count);
        making.made.foils.push(all);
        let r = whole(bouquet.foil_in) * 254.0 / 2.0 * FOIL_RIM;
        looks.extend((0..foils).map(|_| (r, [bouquet.foil_colour.as_str(), ""])));
    }
    if rounds > 0 {
        let shades = shades(&bouquet.palette)?;
        let d = diameter(bouquet.blown_dmm, "blown_dmm")?;
        let of = largest_remainder(rounds, &shares(&shades));
        for (shade, n) in shades.iter().zip(&of) {
            let one = ball(shade, bouquet.size_in, bouquet.blown_dmm);
            making.add(one, n * count, true);
        }
        let in_turn = round_robin(&of);
        looks.extend(
            in_turn
                .into_iter()
                .map(|kind| (d / 2.0, seen(shades[kind]))),
        );
    }
    let widest = looks.iter().map(|l| l.0).fold(0.0, f64::max);
    let off = if looks.len() > 1 { widest * 1.05 } else { 0.0 };
    let middle = widest + off;
    for (n, ((r, colours), height)) in looks.iter().zip(heights_mm(bouquet)).enumerate() {
        let y = whole(height * 10).max(whole(SHORTEST_MM * 10) + r);
        // the highest stands in the middle
        let turn = TURN * whole(i64::try_from(n).unwrap_or(0));
        let out = if n == 0 { 0.0 } else { off };
        let at = [middle + out * libm::cos(turn), y, out * libm::sin(turn)];
        making.made.balls_drawn.push(drawn(at, *r, *colours));
        let knot = [at[0], y - r, at[2]];
        let foot = [middle, WEIGHT_DMM, 0.0];
        making.made.rods_drawn.push(rod(foot, knot, RIBBON_DMM, ""));
        making.made.ribbons_mm.push(nearest((y - r) / 10.0));
    }
    making.made.ribbons_mm.sort_unstable_by(|a, b| b.cmp(a));
    let [left, right] = [-1.0, 1.0].map(|s| [middle + s * WEIGHT_DMM, WEIGHT_DMM, 0.0]);
    making
        .made
        .rods_drawn
        .push(rod(left, right, WEIGHT_DMM, ""));

    let lift = net_lift_g(bouquet);
    let asked = weight_g(lift);
    let helium =
        whole(rounds) * litres(bouquet.blown_dmm) + whole(foils) * foil_litres(bouquet.foil_in);
    let tallest = making
        .made
        .balls_drawn
        .iter()
        .map(|b| b.at[1] + b.r)
        .max()
        .unwrap_or(0);
    let made = &mut making.made;
    made.count = count;
    made.width_mm = nearest(middle * 2.0 / 10.0);
    made.height_mm = tallest / 10;
    made.depth_mm = made.width_mm;
    made.helium_ml = nearest(helium * whole(count) * 1000.0);
    made.weight_g = match bouquet.weight_g {
        ..=0 => asked,
        own => own.min(1_000_000),
    };
    making.say("Lift of one", nearest(lift), "g");
    making.say("Weight that it asks for", asked, "g");
    making.say("Helium in one", nearest(helium * 1000.0), "ml");
    making.work.helium_s = whole((rounds + foils) * count) * whole(rates.helium_s.max(0));
    Ok(making)
}

//! Table centrepieces: a cluster at the foot, a stick, a round on top.

use std::f64::consts::PI;

use job::set_piece::Centrepiece;
use job::stock::Rates;

use super::{Making, NoMade, alike, ball, diameter, drawn, measure, plain, rod, shades, shares};
use crate::inflate::{nearest, whole};
use crate::spread::{largest_remainder, round_robin};

/// Half the thickness of a stick, dmm.
const STICK_DMM: f64 = 30.0;

pub(super) fn make(table: &Centrepiece, rates: &Rates) -> Result<Making, NoMade> {
    if ![4, 6, 8].contains(&table.foot) {
        return Err(NoMade::FootOut);
    }
    let shades = shades(&table.palette)?;
    let d = diameter(table.foot_dmm, "foot_dmm")?;
    let high = 10.0 * measure(table.height_mm, "height_mm")?;
    let topped = table.top_in > 0;
    let top = if topped {
        if table.top_colour.trim().is_empty() {
            return Err(NoMade::NoColour("top_colour"));
        }
        diameter(table.top_dmm, "top_dmm")?
    } else {
        0.0
    };
    let count = alike(table.count, table.foot + i64::from(topped))?;
    let mut making = Making::default();
    // the foot is tied of pairs of one colour
    let pairs = largest_remainder(table.foot / 2, &shares(&shades));
    let foot: Vec<_> = round_robin(&pairs)
        .into_iter()
        .flat_map(|kind| {
            let one = ball(shades[kind], table.foot_in, table.foot_dmm);
            [one.clone(), one]
        })
        .collect();
    for one in &foot {
        making.add(one.clone(), count, false);
    }
    making.group("foot", foot.clone(), count);
    if topped {
        let ball = plain(&table.top_colour, table.top_in, table.top_dmm);
        making.add(ball, count, false);
    }
    // a flat ring of the foot's balloons about the stick
    let n = whole(table.foot);
    let radius = d / (2.0 * libm::sin(PI / n));
    let outside = 2.0 * radius + d;
    let middle = outside.max(top) / 2.0;
    for (place, one) in (0i64..).zip(&foot) {
        let turn = 2.0 * PI * (whole(place) + 0.5) / n;
        let at = [
            middle + radius * libm::sin(turn),
            d / 2.0,
            radius * libm::cos(turn),
        ];
        making
            .made
            .balls_drawn
            .push(drawn(at, d / 2.0, [&one.colour, &one.inside]));
    }
    let tip = if topped {
        let y = (high - top / 2.0).max(d + top / 2.0);
        let at = [middle, y, 0.0];
        making
            .made
            .balls_drawn
            .push(drawn(at, top / 2.0, [&table.top_colour, ""]));
        y - top / 2.0
    } else {
        high.max(d)
    };
    let stick = rod([middle, STICK_DMM, 0.0], [middle, tip, 0.0], STICK_DMM, "");
    making.made.rods_drawn.push(stick);
    let made = &mut making.made;
    made.count = count;
    made.width_mm = nearest(middle * 2.0 / 10.0);
    made.height_mm = nearest((tip + top) / 10.0);
    made.depth_mm = made.width_mm;
    making.say_many(
        ["Balloon in one", "Balloons in one"],
        table.foot + i64::from(topped),
    );
    // the cluster on to its stick, the round on to its tip
    making.work.stack_s =
        whole(count) * whole(rates.stack_s.max(0)) * if topped { 2.0 } else { 1.0 };
    Ok(making)
}

//! Helium balloons loose under the ceiling.

use std::f64::consts::PI;

use job::set_piece::Floaters;
use job::stock::Rates;

use super::helium::{gross_lift_g, latex_g, ribbon_g};
use super::{
    Making, NoMade, alike, ball, diameter, drawn, measure, rod, scattered, seen, shades, shares,
};
use crate::inflate::{litres, nearest, whole};
use crate::spread::largest_remainder;

/// Most floaters of one piece: a hall full.
const MOST: i64 = 20_000;
/// Where they float if nothing is known of the ceiling, mm. Common practice, no source.
const CEILING_MM: i64 = 2700;
/// Half the thickness of a ribbon, dmm.
const RIBBON_DMM: f64 = 10.0;

/// What one lifts, g, its own mass and that of its ribbon taken off.
#[must_use]
pub fn net_lift_g(floaters: &Floaters) -> f64 {
    gross_lift_g(litres(floaters.blown_dmm))
        - latex_g(floaters.size_in)
        - ribbon_g(whole(floaters.ribbon_mm.clamp(0, 100_000)))
}

/// Share of the ceiling that they cover, percent: circles over the area.
#[must_use]
pub fn covers_pct(floaters: &Floaters) -> f64 {
    let d = whole(floaters.blown_dmm.clamp(0, 50_000)) / 10.0;
    let area = whole(floaters.width_mm.max(1)) * whole(floaters.depth_mm.max(1));
    whole(floaters.count.clamp(0, MOST)) * PI * d * d / 4.0 / area * 100.0
}

pub(super) fn make(floaters: &Floaters, ceiling_mm: i64, rates: &Rates) -> Result<Making, NoMade> {
    if floaters.count > MOST {
        return Err(NoMade::TooLarge);
    }
    let shades = shades(&floaters.palette)?;
    let d = diameter(floaters.blown_dmm, "blown_dmm")?;
    let wide = 10.0 * measure(floaters.width_mm, "width_mm")?;
    let deep = 10.0 * measure(floaters.depth_mm, "depth_mm")?;
    let count = alike(1, floaters.count).and(alike(floaters.count, 1))?;
    let ceiling = match ceiling_mm {
        1..=100_000 => ceiling_mm,
        _ => CEILING_MM,
    };
    // as many rows as make the places about square
    let columns = nearest((whole(count) * wide / deep).sqrt().ceil()).clamp(1, count);
    let rows = (count + columns - 1) / columns;
    let places: Vec<[i64; 2]> = (0..count).map(|n| [n % columns, n / columns]).collect();
    let of = largest_remainder(count, &shares(&shades));
    let mut making = Making::default();
    for (shade, n) in shades.iter().zip(&of) {
        making.add(ball(shade, floaters.size_in, floaters.blown_dmm), *n, true);
    }
    let ribbon = floaters.ribbon_mm.clamp(0, 100_000);
    let y = whole(ceiling * 10) - d / 2.0;
    for ([column, row], kind) in places.iter().zip(scattered(&places, &of)) {
        // every second row stands half a place further
        let half = if row % 2 == 0 { 0.25 } else { 0.75 };
        let x = (whole(*column) + half) / whole(columns) * wide;
        let z = ((whole(*row) + 0.5) / whole(rows) - 0.5) * deep;
        making
            .made
            .balls_drawn
            .push(drawn([x, y, z], d / 2.0, seen(shades[kind])));
        if ribbon > 0 {
            let knot = [x, y - d / 2.0, z];
            let end = [x, (knot[1] - whole(ribbon * 10)).max(0.0), z];
            making.made.rods_drawn.push(rod(knot, end, RIBBON_DMM, ""));
            making.made.ribbons_mm.push(ribbon);
        }
    }
    let helium = litres(floaters.blown_dmm);
    let made = &mut making.made;
    made.count = 1;
    made.width_mm = floaters.width_mm;
    made.height_mm = ceiling;
    made.depth_mm = floaters.depth_mm;
    made.helium_ml = nearest(helium * whole(count) * 1000.0);
    making.say_many(["Floater", "Floaters"], count);
    making.say("Ceiling covered", nearest(covers_pct(floaters)), "%");
    making.say("Helium in one", nearest(helium * 1000.0), "ml");
    making.work.float_s = whole(count) * whole(rates.helium_s.max(0));
    Ok(making)
}

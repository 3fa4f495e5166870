//! Numbers and letters of foil.

use std::f64::consts::PI;

use job::set_piece::{FoilStand, Foils};
use job::stock::Rates;

use super::glyphs::{self, HEART, HIGH, ROUND};
use super::helium::{FOIL_RIM, film_g, gross_lift_g, round_filled, weight_g};
use super::{Making, NoMade, drawn, foil, measure, rod};
use crate::inflate::{nearest, whole};
use crate::types::FoilCount;

/// Half the thickness of a character's tube, over its height: as such foils look, no source.
const TUBE: f64 = 0.09;
/// Width of a space over the height.
const SPACE: f64 = 0.35;
/// Most characters.
const MOST: usize = 200;
/// Ribbon of a character filled with helium, mm, where nothing is said of it.
const RIBBON_MM: i64 = 1500;
/// Half the thickness of a ribbon and of a base, dmm.
const RIBBON_DMM: f64 = 10.0;
const BASE_DMM: f64 = 150.0;

/// Outlines that fill a heart, and the point on the grid that they shrink to.
const FILLED: [f64; 4] = [1.0, 0.68, 0.38, 0.1];
const MIDDLE: [f64; 2] = [10.0, 13.0];

/// What the characters of a text are, and those that there are no foils of.
#[must_use]
pub fn spelled(text: &str) -> (Vec<Option<char>>, Vec<char>) {
    let (mut known, mut unknown) = (Vec::new(), Vec::new());
    for letter in text.trim().chars() {
        // the mark that turns a sign into a picture is no sign of its own
        if letter == '\u{fe0f}' {
            continue;
        }
        if letter.is_whitespace() {
            known.push(None);
        } else if let Some(found) = glyphs::character(letter) {
            known.push(Some(found));
        } else if !unknown.contains(&letter) {
            unknown.push(letter);
        }
    }
    (known, unknown)
}

/// Volume and film of a character of a height, L and m²: its strokes as tubes, where both count that cross; a heart as a round foil of the
/// area that it shows. Estimates.
#[must_use]
pub fn filled(letter: char, height_mm: i64) -> (f64, f64) {
    if letter == ROUND {
        return round_filled(height_mm);
    }
    let high = whole(height_mm);
    let r = high * TUBE;
    let scale = (high - 2.0 * r) / HIGH;
    if letter == HEART {
        return round_filled(nearest(2.0 * (heart_area(scale, r) / PI).sqrt()));
    }
    let (mut volume, mut film) = (0.0, 0.0);
    for stroke in glyphs::strokes(letter) {
        let long = glyphs::length(stroke) * scale;
        volume += long * PI * r * r + 4.0 / 3.0 * PI * r * r * r;
        film += long * 2.0 * PI * r + 4.0 * PI * r * r;
    }
    (volume / 1e6, film / 1e6)
}

/// What a heart shows when it is filled, mm²: within its outline, which a tube of radius `r` goes round, and half of that tube outside it.
fn heart_area(scale: f64, r: f64) -> f64 {
    let mut area = 0.0;
    for stroke in glyphs::strokes(HEART) {
        let points = glyphs::rounded(stroke);
        let twice: f64 = points
            .windows(2)
            .map(|p| p[0][0] * p[1][1] - p[1][0] * p[0][1])
            .sum();
        area +=
            (twice / 2.0).abs() * scale * scale + glyphs::length(stroke) * scale * r + PI * r * r;
    }
    area
}

/// The weight that a character filled with helium asks for, g.
#[must_use]
pub fn weight_of(letter: char, height_mm: i64) -> i64 {
    let (litres, film) = filled(letter, height_mm);
    weight_g(gross_lift_g(litres) - film_g(film))
}

/// One foil of a text. A round is the one of a bouquet: it is bought by the inches that it is wide before it is filled.
fn one_of(letter: char, foils: &Foils) -> FoilCount {
    if letter == ROUND {
        let inches = nearest(whole(foils.height_mm) / FOIL_RIM / 25.4);
        return foil("", &foils.colour, nearest(whole(inches) * 25.4), 1);
    }
    foil(&letter.to_string(), &foils.colour, foils.height_mm, 1)
}

pub(super) fn make(foils: &Foils, rates: &Rates) -> Result<Making, NoMade> {
    let (text, _) = spelled(&foils.text);
    if text.iter().flatten().next().is_none() {
        return Err(NoMade::NoText);
    }
    if text.len() > MOST {
        return Err(NoMade::TooLarge);
    }
    if foils.colour.trim().is_empty() {
        return Err(NoMade::NoColour("colour"));
    }
    let high = 10.0 * measure(foils.height_mm, "height_mm")?;
    let helium = foils.stand == FoilStand::Helium;
    let gap = 10.0 * whole(foils.gap_mm.clamp(0, 100_000));
    let r = high * TUBE;
    let scale = (high - 2.0 * r) / HIGH;
    // over a weight the letters float, on a base or a line their feet are the piece's foot
    let floor = if helium { whole(RIBBON_MM * 10) } else { 0.0 };
    let mut making = Making::default();
    let (mut x, mut litres, mut weight, mut heaviest) = (0.0, 0.0, 0, 0);
    let mut letters = 0i64;
    for letter in &text {
        let Some(letter) = letter else {
            x += high * SPACE + gap;
            continue;
        };
        letters += 1;
        let one = one_of(*letter, foils);
        let alike = |f: &&mut FoilCount| f.text == one.text;
        match making.made.foils.iter_mut().find(alike) {
            Some(known) => known.count += 1,
            None => making.made.foils.push(one),
        }
        // a heart is a pillow: smaller outlines in the large one fill it
        let sizes: &[f64] = if *letter == HEART { &FILLED } else { &[1.0] };
        for (stroke, size) in
            (glyphs::strokes(*letter).iter()).flat_map(|s| sizes.iter().map(move |z| (s, z)))
        {
            for two in glyphs::rounded(stroke).windows(2) {
                let ends = [two[0], two[1]].map(|point| {
                    let [a, b] = [0, 1].map(|i| MIDDLE[i] + (point[i] - MIDDLE[i]) * size);
                    [x + r + a * scale, floor + r + b * scale, 0.0]
                });
                let drawn = rod(ends[0], ends[1], r, &foils.colour);
                making.made.rods_drawn.push(drawn);
            }
        }
        let wide = if *letter == ROUND {
            let middle = [x + high / 2.0, floor + high / 2.0, 0.0];
            let round = drawn(middle, high / 2.0, [&foils.colour, ""]);
            making.made.balls_drawn.push(round);
            high
        } else {
            glyphs::width(*letter) * scale + 2.0 * r
        };
        if helium {
            let (volume, _) = filled(*letter, foils.height_mm);
            litres += volume;
            let own = weight_of(*letter, foils.height_mm);
            weight += own;
            heaviest = heaviest.max(own);
            let foot = [x + wide / 2.0, 0.0, 0.0];
            let knot = [foot[0], floor + r, 0.0];
            making.made.rods_drawn.push(rod(foot, knot, RIBBON_DMM, ""));
            making.made.ribbons_mm.push(RIBBON_MM);
        }
        x += wide + gap;
    }
    let wide = (x - gap).max(0.0);
    if foils.stand == FoilStand::Standing {
        let [left, right] = [BASE_DMM, (wide - BASE_DMM).max(BASE_DMM)].map(|x| [x, BASE_DMM, -r]);
        making.made.rods_drawn.push(rod(left, right, BASE_DMM, ""));
    }
    let made = &mut making.made;
    made.count = 1;
    made.width_mm = nearest(wide / 10.0);
    made.height_mm = nearest((floor + high) / 10.0);
    made.depth_mm = nearest(2.0 * r / 10.0);
    made.helium_ml = nearest(litres * 1000.0);
    made.weight_g = weight;
    making.say_many(["Character", "Characters"], letters);
    if helium {
        making.say("Weight under each, at least", heaviest, "g");
        making.say("Helium, about", nearest(litres * 1000.0), "ml");
        making.work.helium_s = whole(letters) * whole(rates.helium_s.max(0));
    } else {
        making.work.foils_s = whole(letters) * whole(rates.foil_s.max(0));
    }
    Ok(making)
}

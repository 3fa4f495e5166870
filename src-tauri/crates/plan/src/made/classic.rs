//! Classic columns and tight arches: rings of equal balloons, each ring turned half a step against the last.

use std::f64::consts::PI;

use job::set_piece::{Classic, ClassicForm, RingPattern};
use job::stock::Rates;
use solve::curve::Curve;
use solve::packing::rings::{bore_over_d, layers_for, outside_over_d, pitch_over_d, radius_over_d};

use super::{Making, NoMade, alike, ball, diameter, drawn, measure, plain, rod, seen, shades};
use crate::inflate::{nearest, whole};

/// Balloons in a ring, at least and at most.
const RING: std::ops::RangeInclusive<i64> = 3..=6;
/// Points of an arch's line between which its rings are laid.
const POINTS: u32 = 513;
/// Half the thickness of a pole at most, dmm.
const POLE_DMM: f64 = 150.0;
/// Half the width and half the thickness of a base, dmm.
const BASE_DMM: [f64; 2] = [1500.0, 150.0];

/// A ring where it is: its middle, and the direction of the line through it, in the plane of the arch.
struct Ring {
    at: [f64; 2],
    along: [f64; 2],
}

pub(super) fn make(classic: &Classic, rates: &Rates) -> Result<Making, NoMade> {
    if !RING.contains(&classic.ring) {
        return Err(NoMade::RingOut);
    }
    let n = u32::try_from(classic.ring).map_err(|_| NoMade::RingOut)?;
    let shades = shades(&classic.palette)?;
    let d = diameter(classic.blown_dmm, "blown_dmm")?;
    let arch = classic.form == ClassicForm::Arch;
    let curve = Curve::HalfEllipse {
        span: 10.0
            * if arch {
                measure(classic.span_mm, "span_mm")?
            } else {
                0.0
            },
        rise: 10.0
            * if arch {
                measure(classic.rise_mm, "rise_mm")?
            } else {
                0.0
            },
    };
    let line = if arch {
        curve.length()
    } else {
        10.0 * measure(classic.height_mm, "height_mm")?
    };
    let stack = layers_for(line, n, d).ok_or(NoMade::TooLarge)?;
    let layers = i64::from(stack.layers);
    let topper = classic.topper_in > 0 && !arch;
    let top = if topper {
        if classic.topper_colour.trim().is_empty() {
            return Err(NoMade::NoColour("topper_colour"));
        }
        diameter(classic.topper_dmm, "topper_dmm")?
    } else {
        0.0
    };
    let each = layers.saturating_mul(classic.ring) + i64::from(topper);
    let count = alike(classic.count, each)?;

    let mut making = Making::default();
    let pattern = |layer: i64, place: i64| match classic.pattern {
        RingPattern::Bands => layer / classic.band_rings.max(1),
        RingPattern::Spiral | RingPattern::Newer => place,
    };
    let kinds = i64::try_from(shades.len()).unwrap_or(1);
    let kind = |layer: i64, place: i64| {
        usize::try_from(pattern(layer, place).rem_euclid(kinds)).unwrap_or(0)
    };
    for layer in 0..layers {
        let balls: Vec<_> = (0..classic.ring)
            .map(|place| {
                ball(
                    shades[kind(layer, place)],
                    classic.size_in,
                    classic.blown_dmm,
                )
            })
            .collect();
        for one in &balls {
            making.add(one.clone(), count, false);
        }
        making.group("ring", balls, count);
    }
    if topper {
        let ball = plain(
            &classic.topper_colour,
            classic.topper_in,
            classic.topper_dmm,
        );
        making.add(ball, count, false);
    }

    let of = |share: Option<f64>| share.unwrap_or(1.0) * d;
    let (outside, radius) = (of(outside_over_d(n)), of(radius_over_d(n)));
    let rings = if arch {
        along_the_arch(curve, layers, d)
    } else {
        upright(layers, d, of(pitch_over_d(n)))
    };
    for (layer, ring) in (0i64..).zip(&rings) {
        for place in 0..classic.ring {
            // the next ring stands over the gaps of this one, always turned the same way
            let turn = 2.0 * PI * (whole(place) + whole(layer) / 2.0) / whole(classic.ring);
            let (across, front) = (radius * libm::sin(turn), radius * libm::cos(turn));
            let at = [
                outside / 2.0 + ring.at[0] + ring.along[1] * across,
                ring.at[1] - ring.along[0] * across,
                front,
            ];
            let colours = seen(shades[kind(layer, place)]);
            making.made.balls_drawn.push(drawn(at, d / 2.0, colours));
        }
    }
    let pole = POLE_DMM.min(of(bore_over_d(n)) / 2.0);
    for two in rings.windows(2) {
        let ends = [&two[0], &two[1]].map(|r| [outside / 2.0 + r.at[0], r.at[1], 0.0]);
        making.made.rods_drawn.push(rod(ends[0], ends[1], pole, ""));
    }
    let feet: &[f64] = if arch {
        &[0.0, whole(classic.span_mm) * 10.0]
    } else {
        &[0.0]
    };
    for foot in feet {
        let [half, thick] = BASE_DMM;
        let middle = outside / 2.0 + foot;
        let [left, right] = [-1.0, 1.0].map(|side| [middle + side * half, thick, 0.0]);
        making.made.rods_drawn.push(rod(left, right, thick, ""));
    }
    let mut high = if arch {
        whole(classic.rise_mm) * 10.0 + outside / 2.0
    } else {
        stack.height
    };
    if topper {
        let last = stack.height - d / 2.0;
        let reach = (d + top) / 2.0;
        let middle = last + (reach * reach - radius * radius).max(0.0).sqrt();
        let at = [outside / 2.0, middle, 0.0];
        making
            .made
            .balls_drawn
            .insert(0, drawn(at, top / 2.0, [&classic.topper_colour, ""]));
        high = high.max(middle + top / 2.0);
    }
    let wide = outside
        + if arch {
            whole(classic.span_mm) * 10.0
        } else {
            0.0
        };
    let bases = i64::try_from(feet.len()).unwrap_or(1);
    let made = &mut making.made;
    made.count = count;
    made.width_mm = nearest(wide / 10.0);
    made.height_mm = nearest(high / 10.0);
    made.depth_mm = nearest(outside.max(top) / 10.0);
    made.along_mm = nearest(if arch { line } else { stack.height } / 10.0);
    made.weight_g = classic.ballast_g.clamp(0, 10_000_000) * bases;
    making.say_many(["Ring", "Rings"], layers);
    making.say_many(["Balloon in a ring", "Balloons in a ring"], classic.ring);
    making.say("Across", nearest(outside / 10.0), "mm");
    if arch {
        making.say("Along its line", nearest(line / 10.0), "mm");
    } else {
        making.say("Height of the rings", nearest(stack.height / 10.0), "mm");
    }
    making.work.stack_s = whole(layers * count) * whole(rates.stack_s.max(0));
    Ok(making)
}

/// Rings above each other.
fn upright(layers: i64, d: f64, pitch: f64) -> Vec<Ring> {
    (0..layers)
        .map(|layer| Ring {
            at: [0.0, d / 2.0 + whole(layer) * pitch],
            along: [0.0, 1.0],
        })
        .collect()
}

/// Rings along the line of an arch, the first and the last on the floor, the others evenly between: they stand a little closer than
/// alone, by less than one ring in all.
fn along_the_arch(curve: Curve, layers: i64, d: f64) -> Vec<Ring> {
    let points = curve.points(POINTS, 1e-7);
    let length = curve.length();
    let step = length / whole(i64::from(POINTS) - 1);
    let room = (length - d).max(0.0);
    (0..layers)
        .map(|layer| {
            let share = if layers > 1 {
                whole(layer) / whole(layers - 1)
            } else {
                0.5
            };
            let way = (length - room) / 2.0 + room * share;
            let part = (way / step).floor().clamp(0.0, f64::from(POINTS - 2));
            let first = usize::try_from(nearest(part)).unwrap_or(0);
            let (a, b) = (points[first], points[first + 1]);
            let t = way / step - part;
            let run = [b[0] - a[0], b[1] - a[1]];
            let long = (run[0] * run[0] + run[1] * run[1]).sqrt().max(1e-9);
            Ring {
                at: [a[0] + t * run[0], a[1] + t * run[1]],
                along: run.map(|v| v / long),
            }
        })
        .collect()
}

//! A wall: one balloon or one quad at each crossing of a grid.

use job::set_piece::{Wall, WallPattern};

use super::{
    Blown, MOST_BALLS, Making, NoMade, ball, diameter, drawn, measure, rod, scattered, seen,
    shades, shares,
};
use crate::inflate::{nearest, up, whole};
use crate::spread::largest_remainder;

/// Half the thickness of the outer rods of the panels, dmm.
const ROD_DMM: f64 = 60.0;
/// Balloons press into each other where the grid is this much closer than they are wide.
pub(super) const TIGHT: f64 = 0.85;
/// Where no grid is given they are pressed together to this at most. Common practice, no source.
const PRESSED: f64 = 0.9;
/// Gaps show where it is this much wider.
pub(super) const LOOSE: f64 = 1.05;

/// How much of the grid one crossing fills, tenths of a millimetre: a balloon, or four that lie two by two.
pub(super) fn unit_dmm(wall: &Wall) -> f64 {
    whole(wall.blown_dmm) * if wall.each == 4 { 2.0 } else { 1.0 }
}

pub(super) fn make(wall: &Wall) -> Result<Making, NoMade> {
    if ![1, 4].contains(&wall.each) {
        return Err(NoMade::EachOut);
    }
    let shades = shades(&wall.palette)?;
    let d = diameter(wall.blown_dmm, "blown_dmm")?;
    let unit = unit_dmm(wall);
    let wide = 10.0 * measure(wall.width_mm, "width_mm")?;
    let high = 10.0 * measure(wall.height_mm, "height_mm")?;
    let grids = match wall.pitch_mm {
        0 => [wide, high].map(|length| pressed(length, unit)),
        mm => {
            let pitch = 10.0 * measure(mm, "pitch_mm")?;
            // the fewest that reach from edge to edge
            [wide, high].map(|length| (up((length - unit) / pitch).max(0) + 1, pitch))
        }
    };
    let [(columns, across_dmm), (rows, up_dmm)] = grids;
    if columns > MOST_BALLS || rows > MOST_BALLS / wall.each / columns {
        return Err(NoMade::TooLarge);
    }
    let places: Vec<[i64; 2]> = (0..rows)
        .flat_map(|row| (0..columns).map(move |column| [column, row]))
        .collect();
    let all = columns * rows;
    let kinds = i64::try_from(shades.len()).unwrap_or(1);
    let in_turn = |n: i64| usize::try_from(n.rem_euclid(kinds)).unwrap_or(0);
    // the first row is the top one
    let of: Vec<usize> = match wall.pattern {
        WallPattern::Rows => places.iter().map(|p| in_turn(rows - 1 - p[1])).collect(),
        WallPattern::Stripes => places.iter().map(|p| in_turn(p[0])).collect(),
        WallPattern::Checks => places.iter().map(|p| in_turn(p[0] + p[1])).collect(),
        WallPattern::Blended | WallPattern::Newer => {
            scattered(&places, &largest_remainder(all, &shares(&shades)))
        }
    };
    let mut making = Making::default();
    for (at, shade) in shades.iter().enumerate() {
        let here = of.iter().filter(|kind| **kind == at).count();
        let crossings = i64::try_from(here).unwrap_or(0);
        let one = ball(shade, wall.size_in, wall.blown_dmm);
        making.add(one.clone(), crossings * wall.each, false);
        if wall.each == 4 {
            making.group("quad", vec![one; 4], crossings);
        }
    }
    for (place, kind) in places.iter().zip(&of) {
        let x = unit / 2.0 + whole(place[0]) * across_dmm;
        let y = unit / 2.0 + whole(place[1]) * up_dmm;
        let spots: &[[f64; 2]] = if wall.each == 4 {
            &[[-0.5, -0.5], [0.5, -0.5], [-0.5, 0.5], [0.5, 0.5]]
        } else {
            &[[0.0, 0.0]]
        };
        for [across, over] in spots {
            let at = [x + across * d, y + over * d, d / 2.0];
            let colours = seen(shades[*kind]);
            making.made.balls_drawn.push(drawn(at, d / 2.0, colours));
        }
    }
    // shades that look the same are one line of the balls
    let line_of = |kind: usize| {
        let (shade, blown) = (shades[kind], &making.blown);
        let same = |b: &Blown| (&b.ball.colour, &b.ball.inside) == (&shade.colour, &shade.inside);
        u32::try_from(blown.iter().position(same).unwrap_or(0)).unwrap_or(0)
    };
    let per_row = usize::try_from(columns).unwrap_or(1);
    let grid = of.chunks(per_row).rev();
    making.made.grid = grid
        .map(|row| row.iter().map(|kind| line_of(*kind)).collect())
        .collect();
    let [wide, high] = grids.map(|(n, pitch)| unit + whole(n - 1) * pitch);
    let corners = [[0.0, 0.0], [wide, 0.0], [wide, high], [0.0, high]];
    for (at, corner) in corners.iter().enumerate() {
        let next = corners[(at + 1) % 4];
        let [from, to] = [*corner, next].map(|[x, y]| [x, y.max(ROD_DMM), -ROD_DMM]);
        making.made.rods_drawn.push(rod(from, to, ROD_DMM, ""));
    }
    let made = &mut making.made;
    made.count = 1;
    made.width_mm = nearest(wide / 10.0);
    made.height_mm = nearest(high / 10.0);
    made.depth_mm = nearest((d + 2.0 * ROD_DMM) / 10.0);
    made.weight_g = wall.ballast_g.clamp(0, 10_000_000);
    making.say_many(["Row", "Rows"], rows);
    making.say("To a row", columns, "");
    let pitches = [across_dmm, up_dmm].map(|pitch| nearest(pitch / 10.0));
    if pitches[0] == pitches[1] {
        making.say("From crossing to crossing", pitches[0], "mm");
    } else {
        making.say("Sideways from crossing to crossing", pitches[0], "mm");
        making.say("Upwards from crossing to crossing", pitches[1], "mm");
    }
    Ok(making)
}

/// The fewest crossings that reach from edge to edge where balloons touch, and how far apart they are, dmm: pressed together a little, so
/// that the wall is no longer than it is asked for.
fn pressed(length_dmm: f64, unit: f64) -> (i64, f64) {
    let gaps = up((length_dmm - unit) / unit).max(0);
    if gaps == 0 {
        return (1, unit);
    }
    let pitch = (length_dmm - unit) / whole(gaps);
    (gaps + 1, pitch.max(unit * PRESSED))
}

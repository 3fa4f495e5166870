//! How much of the line and of what carries it one sees between the spheres.
//!
//! Rays start every centimetre of the line and of the rods near it, and go to the viewer, or outwards to twelve sides. A ray
//! that meets no sphere is open: there the line or the rod shows.

use glam::DVec3;
use std::f64::consts::TAU;

use super::near::Near;
use super::path::Path;
use super::types::{Obstacle, Packing};

/// Distance of the places looked at, m.
const STEP: f64 = 0.01;
/// Places on the line, and on each rod, at most: 500 m at the usual step.
const MOST_SPOTS: f64 = 50_000.0;
/// A rod along a bent path is looked at in pieces about this long, m.
const PIECE: f64 = 0.05;
/// Sides looked from when no viewer is named.
const SIDES: u32 = 12;
/// Where on the side of a rod that faces the viewer one looks: to the left, in the middle, to the right, in radians.
const ROD_TURNS: [f64; 3] = [-TAU / 6.0, 0.0, TAU / 6.0];
/// A sphere hides a place only if it reaches this far beyond it, m: line and knots are that thick, and press into spheres.
const LINE: f64 = 0.01;
/// A rod that points at the viewer within this shows nothing but its end.
const END_ON: f64 = 1e-6;
/// Spheres are looked up in cells of at least this size, m.
const CELL: f64 = 0.05;
/// Spheres are looked up anew after so much of the way, m.
const STRIDE: f64 = 0.1;

/// From where the packing is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum View {
    /// From all sides: at every place of the line from twelve sides round it, and from so near that no other part of the line
    /// comes between.
    #[default]
    AllSides,
    /// From far away in this direction, which points from the packing to the viewer and may have any length but 0.
    From(DVec3),
}

/// A line of sight: out from a place of the line or a rod.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ray {
    from: DVec3,
    towards: DVec3,
}

/// A place of the line, or of the axis of a rod.
#[derive(Clone, Copy)]
pub(super) struct Spot {
    point: DVec3,
    axis: DVec3,
    across: DVec3,
    thickness: f64,
}

/// What one sees.
pub(super) struct Sight {
    /// Places with an open ray.
    pub(super) open: Vec<(Spot, Vec<Ray>)>,
    /// All rays, open or not.
    pub(super) all: u64,
}

/// Spheres that may stand in the way.
pub(super) struct Screen {
    spheres: Vec<(DVec3, f64)>,
    near: Near,
    /// To the viewer, of length 1; none for all sides.
    towards: Option<DVec3>,
    /// The longest tether: a sphere that a plane across the line cuts is no further than this from the line there. A rod may
    /// be as far from the line again.
    reach: f64,
    /// Where and how far around spheres were last looked up, and those found.
    home: Option<(DVec3, f64)>,
    around: Vec<(u32, DVec3, f64)>,
}

impl Ray {
    /// Whether a sphere hides the place the ray starts from.
    pub(super) fn is_hidden_by(self, centre: DVec3, radius: f64) -> bool {
        let to = centre - self.from;
        let along = to.dot(self.towards);
        let half = radius * radius - (to.length_squared() - along * along);
        half > 0.0 && along + half.sqrt() > LINE
    }
}

impl Screen {
    pub(super) fn new(spheres: Vec<(DVec3, f64)>, packing: &Packing, view: View) -> Self {
        let towards = towards(view);
        let near = Near::new(
            spheres
                .iter()
                .map(|(centre, radius)| (flat(*centre, towards), *radius)),
            CELL,
        );
        Self {
            near,
            spheres,
            towards,
            reach: packing.reach.iter().copied().fold(0.0, f64::max),
            home: None,
            around: Vec::new(),
        }
    }

    /// Fills `found` with the spheres that may be before a place, as index, centre and radius.
    pub(super) fn before(&mut self, spot: &Spot, found: &mut Vec<(u32, DVec3, f64)>) {
        found.clear();
        let place = flat(spot.point, self.towards);
        let reach = match self.towards {
            Some(_) => spot.thickness,
            None if spot.thickness > 0.0 => 2.0 * self.reach,
            None => self.reach,
        };
        // the next places are near by: what is around them is looked up once
        let known = self.home.is_some_and(|(home, as_far)| {
            as_far >= reach && (place - home).length_squared() <= STRIDE * STRIDE
        });
        if !known {
            self.around.clear();
            let (around, spheres) = (&mut self.around, &self.spheres);
            self.near.each(place, reach + STRIDE, |i, _, radius| {
                around.push((i, spheres[i as usize].0, radius));
            });
            self.home = Some((place, reach));
        }
        if self.towards.is_some() {
            found.extend_from_slice(&self.around);
            return;
        }
        // one looks along the plane across the line: a sphere that the plane misses hides nothing
        for sphere in &self.around {
            let (to, radius) = (sphere.1 - spot.point, sphere.2);
            let far = reach + radius;
            if to.dot(spot.axis).abs() < radius && to.length_squared() < far * far {
                found.push(*sphere);
            }
        }
    }
}

/// Looks at a packing.
pub(super) fn look(packing: &Packing, path: &Path, obstacles: &[Obstacle], view: View) -> Sight {
    let mut spots = line(packing, path, obstacles);
    carriers(packing, path, obstacles, &mut spots);
    let spheres = packing.balls.iter().map(|b| (b.centre, b.radius)).collect();
    let mut screen = Screen::new(spheres, packing, view);
    let walls = walls(obstacles);
    let turns: Vec<[f64; 2]> = (0..SIDES)
        .map(|i| TAU * f64::from(i) / f64::from(SIDES))
        .map(|angle| [libm::cos(angle), libm::sin(angle)])
        .collect();
    let mut sight = Sight {
        open: Vec::new(),
        all: 0,
    };
    let (mut rays, mut found) = (Vec::new(), Vec::new());
    for spot in spots {
        rays.clear();
        leave(&spot, towards(view), &turns, &mut rays);
        // nobody stands behind a wall or under the floor
        rays.retain(|ray| {
            walls
                .iter()
                .all(|(_, normal)| ray.towards.dot(*normal) > -1e-9)
        });
        sight.all += rays.len() as u64;
        screen.before(&spot, &mut found);
        let open: Vec<Ray> = rays
            .iter()
            .filter(|ray| !found.iter().any(|(_, c, r)| ray.is_hidden_by(*c, *r)))
            .copied()
            .collect();
        if !open.is_empty() {
            sight.open.push((spot, open));
        }
    }
    sight
}

/// Places on the line between the first and the last tie that are not inside a rod.
fn line(packing: &Packing, path: &Path, obstacles: &[Obstacle]) -> Vec<Spot> {
    let (Some(first), Some(last)) = (packing.ties.first(), packing.ties.last()) else {
        return Vec::new();
    };
    let (rods, near) = rods(obstacles, path);
    let steps = ((last - first) / STEP).ceil().clamp(1.0, MOST_SPOTS);
    let step = (last - first) / steps;
    let mut spots = Vec::new();
    for i in 0..steps as u32 {
        let frame = path.frame(first + (f64::from(i) + 0.5) * step);
        let mut inside = false;
        near.each(frame.point, 0.0, |rod, _, _| {
            let (a, b, radius) = rods[rod as usize];
            inside |= from_segment(frame.point, a, b).length() < radius;
        });
        if !inside {
            spots.push(Spot {
                point: frame.point,
                axis: frame.tangent,
                across: frame.normal,
                thickness: 0.0,
            });
        }
    }
    spots
}

/// Places on the rods that are no further from a tie than the spheres tied there.
fn carriers(packing: &Packing, path: &Path, obstacles: &[Obstacle], spots: &mut Vec<Spot>) {
    let mut reaches = vec![0.0f64; packing.ties.len()];
    for (ball, reach) in packing.balls.iter().zip(&packing.reach) {
        if let Some(most) = reaches.get_mut(ball.cluster as usize) {
            *most = most.max(*reach);
        }
    }
    let ties = Near::new(
        packing
            .ties
            .iter()
            .zip(reaches)
            .map(|(t, reach)| (path.frame(*t).point, reach)),
        CELL,
    );
    for (from, to, thickness) in rods(obstacles, path).0 {
        let length = (to - from).length();
        if length <= 0.0 || !length.is_finite() {
            continue;
        }
        let axis = (to - from) / length;
        let steps = (length / STEP).ceil().clamp(1.0, MOST_SPOTS);
        for i in 0..steps as u32 {
            let point = from + axis * (length * (f64::from(i) + 0.5) / steps);
            let mut near = false;
            ties.each(point, 0.0, |_, _, _| near = true);
            if near {
                spots.push(Spot {
                    point,
                    axis,
                    across: axis.any_orthonormal_vector(),
                    thickness,
                });
            }
        }
    }
}

/// The rods among the obstacles, those along the path in short pieces: ends and radius, and to be asked for those near a place.
pub(super) fn rods(obstacles: &[Obstacle], path: &Path) -> (Vec<(DVec3, DVec3, f64)>, Near) {
    let mut rods: Vec<(DVec3, DVec3, f64)> = Vec::new();
    for obstacle in obstacles {
        match *obstacle {
            Obstacle::Capsule { from, to, radius } => rods.push((from, to, radius)),
            Obstacle::Along { offset, radius } => {
                let steps = (path.length() / PIECE).ceil().clamp(1.0, MOST_SPOTS);
                let at = |i: u32| path.frame(f64::from(i) * path.length() / steps).point + offset;
                rods.extend((0..steps as u32).map(|i| (at(i), at(i + 1), radius)));
            }
            Obstacle::HalfSpace { .. } => {}
        }
    }
    let around = rods
        .iter()
        .map(|(a, b, r)| ((*a + *b) / 2.0, (*b - *a).length() / 2.0 + r));
    let near = Near::new(around, CELL);
    (rods, near)
}

/// The walls among the obstacles: a point and the direction of where spheres may be.
pub(super) fn walls(obstacles: &[Obstacle]) -> Vec<(DVec3, DVec3)> {
    obstacles
        .iter()
        .filter_map(|o| match *o {
            Obstacle::HalfSpace { point, normal } => Some((point, normal)),
            Obstacle::Capsule { .. } | Obstacle::Along { .. } => None,
        })
        .collect()
}

/// From the nearest point of a segment to the point.
pub(super) fn from_segment(point: DVec3, a: DVec3, b: DVec3) -> DVec3 {
    let along = b - a;
    let length = along.length_squared();
    let part = if length > 0.0 {
        ((point - a).dot(along) / length).clamp(0.0, 1.0)
    } else {
        0.0
    };
    point - (a + along * part)
}

/// The rays that leave a place.
fn leave(spot: &Spot, towards: Option<DVec3>, turns: &[[f64; 2]], rays: &mut Vec<Ray>) {
    let Some(towards) = towards else {
        let up = spot.axis.cross(spot.across);
        rays.extend(turns.iter().map(|[c, s]| {
            let towards = spot.across * *c + up * *s;
            Ray {
                from: spot.point + towards * spot.thickness,
                towards,
            }
        }));
        return;
    };
    if spot.thickness <= 0.0 {
        rays.push(Ray {
            from: spot.point,
            towards,
        });
        return;
    }
    let facing = flat(towards, Some(spot.axis));
    let length = facing.length();
    if length < END_ON {
        return;
    }
    let facing = facing / length;
    let aside = spot.axis.cross(facing);
    rays.extend(ROD_TURNS.iter().map(|turn| Ray {
        from: spot.point + (facing * libm::cos(*turn) + aside * libm::sin(*turn)) * spot.thickness,
        towards,
    }));
}

/// The direction of a view, of length 1; a view from nowhere is one from all sides.
fn towards(view: View) -> Option<DVec3> {
    match view {
        View::AllSides => None,
        View::From(direction) => direction.try_normalize(),
    }
}

/// A point as seen along a direction of length 1; as it is without one.
fn flat(point: DVec3, along: Option<DVec3>) -> DVec3 {
    match along {
        Some(along) => point - along * point.dot(along),
        None => point,
    }
}

//! Which spheres are near a point: cells of a grid, one grid for every size, so that one large sphere among many small ones
//! does not make the small ones' cells large. Building takes n log n, asking for a few neighbours log n.

use glam::DVec3;

/// The smallest cell, m: nothing here is laid out finer.
const SMALLEST_CELL: f64 = 1e-3;

/// Spheres (or points: spheres of radius 0), to be asked for those near a place.
pub(super) struct Near {
    sizes: Vec<Size>,
}

/// Spheres whose radii differ by less than a factor of two.
struct Size {
    cell: f64,
    largest: f64,
    /// By cell, then by index.
    spots: Vec<Spot>,
}

#[derive(Clone, Copy)]
struct Spot {
    cell: [i32; 3],
    index: u32,
    centre: DVec3,
    radius: f64,
}

impl Near {
    /// `cell` is the least size of a cell; choose about the distance that will be asked for if the spheres are points.
    pub(super) fn new(spheres: impl Iterator<Item = (DVec3, f64)>, cell: f64) -> Self {
        let mut sizes: Vec<(i32, Size)> = Vec::new();
        for (index, (centre, radius)) in (0u32..).zip(spheres) {
            let power = libm::ilogb(radius.max(cell).max(SMALLEST_CELL));
            let at = match sizes.iter().position(|(p, _)| *p == power) {
                Some(at) => at,
                None => {
                    sizes.push((
                        power,
                        Size {
                            cell,
                            largest: 0.0,
                            spots: Vec::new(),
                        },
                    ));
                    sizes.len() - 1
                }
            };
            let size = &mut sizes[at].1;
            size.largest = size.largest.max(radius);
            size.spots.push(Spot {
                cell: [0; 3],
                index,
                centre,
                radius,
            });
        }
        sizes.sort_unstable_by_key(|(power, _)| *power);
        let sizes = sizes
            .into_iter()
            .map(|(_, mut size)| {
                size.cell = (2.0 * size.largest).max(cell).max(SMALLEST_CELL);
                for spot in &mut size.spots {
                    spot.cell = cell_of(spot.centre, size.cell);
                }
                size.spots.sort_unstable_by_key(|s| (s.cell, s.index));
                size
            })
            .collect();
        Self { sizes }
    }

    /// Calls `found` with index, centre and radius of every sphere nearer than `reach` to the point, counted from its
    /// surface, in an order that depends on nothing but the spheres and the point.
    pub(super) fn each(&self, point: DVec3, reach: f64, mut found: impl FnMut(u32, DVec3, f64)) {
        for size in &self.sizes {
            let far = DVec3::splat(reach + size.largest);
            let (low, high) = (
                cell_of(point - far, size.cell),
                cell_of(point + far, size.cell),
            );
            let mut visit = |spots: &[Spot]| {
                for s in spots {
                    let far = reach + s.radius;
                    if far > 0.0 && (s.centre - point).length_squared() < far * far {
                        found(s.index, s.centre, s.radius);
                    }
                }
            };
            let columns = (i64::from(high[0]) - i64::from(low[0]) + 1)
                .saturating_mul(i64::from(high[1]) - i64::from(low[1]) + 1);
            if columns > size.spots.len() as i64 {
                visit(&size.spots);
                continue;
            }
            for x in low[0]..=high[0] {
                for y in low[1]..=high[1] {
                    let from = size.spots.partition_point(|s| s.cell < [x, y, low[2]]);
                    let row = &size.spots[from..];
                    let until = row
                        .iter()
                        .position(|s| s.cell > [x, y, high[2]])
                        .unwrap_or(row.len());
                    visit(&row[..until]);
                }
            }
        }
    }
}

fn cell_of(point: DVec3, cell: f64) -> [i32; 3] {
    // a cast holds at the ends of the range: far-away points share a cell, which costs time and nothing else
    [point.x, point.y, point.z].map(|x| (x / cell).floor() as i32)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn finds_what_a_search_through_all_finds(
            spheres in prop::collection::vec(
                ((-2.0..2.0f64, -2.0..2.0f64, -2.0..2.0f64), prop_oneof![Just(0.0), 0.01..0.02f64, 0.1..0.9f64]),
                0..60,
            ),
            (x, y, z) in (-2.0..2.0f64, -2.0..2.0f64, -2.0..2.0f64),
            reach in 0.0..1.5f64,
        ) {
            let spheres: Vec<(DVec3, f64)> =
                spheres.into_iter().map(|((x, y, z), r)| (DVec3::new(x, y, z), r)).collect();
            let point = DVec3::new(x, y, z);
            let mut found = Vec::new();
            Near::new(spheres.iter().copied(), 0.05).each(point, reach, |i, c, r| {
                assert_eq!(spheres[i as usize], (c, r));
                found.push(i);
            });
            found.sort_unstable();
            let all: Vec<u32> = (0u32..)
                .zip(&spheres)
                .filter(|(_, (c, r))| (*c - point).length() < reach + r)
                .map(|(i, _)| i)
                .collect();
            prop_assert_eq!(found, all);
        }
    }
}

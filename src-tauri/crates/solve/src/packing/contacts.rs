//! Which spheres may touch: a grid of columns over the small ones, and the few large ones against all.

use glam::DVec3;

/// Two spheres that may touch, the earlier first, and the distance of their centres at which they do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Pair {
    pub(super) i: u32,
    pub(super) j: u32,
    pub(super) contact: f64,
}

/// Spheres of more than so many mean radii are looked at one by one, so that one large sphere does not make all cells large.
const LARGE: f64 = 2.5;

/// Columns of square cells, as long as everything is in the direction in which it is thinnest: a garland is a few balloons thick,
/// so cutting it that way too would only mean three times as many cells to look into. Lists are used again and again.
#[derive(Debug, Default)]
pub(super) struct Grid {
    /// The two axes that are cut into cells.
    axes: [usize; 2],
    cells: Vec<[i32; 2]>,
    start: Vec<u32>,
    fill: Vec<u32>,
    items: Vec<u32>,
}

/// All pairs of spheres that are nearer than their contact and a margin, sorted.
pub(super) fn pairs(
    x: &[DVec3],
    r: &[f64],
    softness: f64,
    margin: f64,
    grid: &mut Grid,
    out: &mut Vec<Pair>,
) {
    out.clear();
    let n = x.len();
    if n < 2 {
        return;
    }
    let mean = r.iter().sum::<f64>() / n as f64;
    let limit = LARGE * mean;
    let largest_small = r
        .iter()
        .copied()
        .filter(|r| *r <= limit)
        .fold(0.0, f64::max);
    let hard = 1.0 - softness;
    let cell = 2.0 * largest_small * hard + margin;
    grid.build(x, cell);
    let near = |i: usize, j: usize| {
        let contact = (r[i] + r[j]) * hard;
        let reach = contact + margin;
        ((x[i] - x[j]).length_squared() < reach * reach).then_some(Pair {
            i: i.min(j) as u32,
            j: i.max(j) as u32,
            contact,
        })
    };
    for j in 0..n {
        let from = out.len();
        if r[j] > limit {
            // against every smaller one once, and every large one before it
            let around = (r[j] + limit.max(largest_small)) * hard + margin;
            grid.visit(x[j], around, cell, |i| {
                if i != j && (r[i] <= limit || i < j) {
                    out.extend(near(i, j));
                }
            });
            // large ones further off
            out.extend(
                (0..j)
                    .filter(|i| r[*i] > limit && !grid.within(x[j], x[*i], around, cell))
                    .filter_map(|i| near(i, j)),
            );
        } else {
            grid.before(j, |i| {
                if r[i] <= limit {
                    out.extend(near(i, j));
                }
            });
        }
        out[from..].sort_unstable_by_key(|p| (p.j, p.i));
    }
    // in order already, but for the pairs of large spheres; this sort takes long runs in order as they are
    out.sort_by_key(|p| (p.j, p.i));
}

/// All axes but the one along which the spheres lie closest together.
fn long_axes(x: &[DVec3]) -> [usize; 2] {
    let (low, high) = x.iter().fold((DVec3::MAX, DVec3::MIN), |(low, high), p| {
        (low.min(*p), high.max(*p))
    });
    let wide = high - low;
    if wide.z <= wide.x && wide.z <= wide.y {
        [0, 1]
    } else if wide.y <= wide.x {
        [0, 2]
    } else {
        [1, 2]
    }
}

impl Grid {
    fn cell_of(&self, x: DVec3, cell: f64) -> [i32; 2] {
        self.axes.map(|axis| (x[axis] / cell).floor() as i32)
    }

    fn key(&self, [a, b]: [i32; 2]) -> usize {
        let mask = self.start.len() - 2;
        let h = (a as u32).wrapping_mul(0x9e37_79b1) ^ (b as u32).wrapping_mul(0x85eb_ca77);
        (h ^ (h >> 15)) as usize & mask
    }

    fn build(&mut self, x: &[DVec3], cell: f64) {
        self.axes = long_axes(x);
        let buckets = (2 * x.len()).next_power_of_two().max(16);
        self.start.clear();
        self.start.resize(buckets + 1, 0);
        self.cells.clear();
        for p in x {
            let at = self.cell_of(*p, cell);
            self.cells.push(at);
        }
        for i in 0..x.len() {
            let key = self.key(self.cells[i]);
            self.start[key + 1] += 1;
        }
        for k in 0..buckets {
            self.start[k + 1] += self.start[k];
        }
        self.fill.clear();
        self.fill.extend_from_slice(&self.start[..buckets]);
        self.items.clear();
        self.items.resize(x.len(), 0);
        for i in 0..x.len() {
            let key = self.key(self.cells[i]);
            self.items[self.fill[key] as usize] = i as u32;
            self.fill[key] += 1;
        }
    }

    /// The spheres in a cell, by number.
    fn in_cell(&self, cell: [i32; 2]) -> impl Iterator<Item = usize> {
        let key = self.key(cell);
        self.items[self.start[key] as usize..self.start[key + 1] as usize]
            .iter()
            .map(|i| *i as usize)
            .filter(move |i| self.cells[*i] == cell)
    }

    /// The spheres of smaller number in the cell of one and the eight about it.
    fn before(&self, j: usize, mut visit: impl FnMut(usize)) {
        let [a, b] = self.cells[j];
        for da in -1..=1 {
            for db in -1..=1 {
                self.in_cell([a + da, b + db])
                    .take_while(|i| *i < j)
                    .for_each(&mut visit);
            }
        }
    }

    /// The spheres in all cells within a distance.
    fn visit(&self, x: DVec3, around: f64, cell: f64, mut visit: impl FnMut(usize)) {
        let (low, high) = (
            self.cell_of(x - DVec3::splat(around), cell),
            self.cell_of(x + DVec3::splat(around), cell),
        );
        let cells = (0..2).fold(1i64, |n, k| {
            n.saturating_mul(i64::from(high[k] - low[k]) + 1)
        });
        if cells > self.items.len() as i64 {
            (0..self.items.len()).for_each(visit);
            return;
        }
        for a in low[0]..=high[0] {
            for b in low[1]..=high[1] {
                self.in_cell([a, b]).for_each(&mut visit);
            }
        }
    }

    /// Whether [`Grid::visit`] around one place comes by another.
    fn within(&self, x: DVec3, other: DVec3, around: f64, cell: f64) -> bool {
        let (low, high) = (
            self.cell_of(x - DVec3::splat(around), cell),
            self.cell_of(x + DVec3::splat(around), cell),
        );
        let cells = (0..2).fold(1i64, |n, k| {
            n.saturating_mul(i64::from(high[k] - low[k]) + 1)
        });
        let at = self.cell_of(other, cell);
        cells > self.items.len() as i64 || (0..2).all(|k| (low[k]..=high[k]).contains(&at[k]))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The simple version: every pair.
    fn every_pair(x: &[DVec3], r: &[f64], softness: f64, margin: f64) -> Vec<Pair> {
        let mut out = Vec::new();
        for j in 0..x.len() {
            for i in 0..j {
                let contact = (r[i] + r[j]) * (1.0 - softness);
                let reach = contact + margin;
                if (x[i] - x[j]).length_squared() < reach * reach {
                    out.push(Pair {
                        i: i as u32,
                        j: j as u32,
                        contact,
                    });
                }
            }
        }
        out
    }

    proptest! {
        #[test]
        fn the_grid_finds_what_every_pair_finds(
            balls in prop::collection::vec((-2.0f64..2.0, -1.0f64..1.0, -1.0f64..1.0, 0.02f64..0.1, 0u8..20), 0..120),
        ) {
            let x: Vec<DVec3> = balls.iter().map(|b| DVec3::new(b.0, b.1, b.2)).collect();
            let r: Vec<f64> = balls.iter().map(|b| if b.4 == 0 { b.3 * 9.0 } else { b.3 }).collect();
            let mut out = Vec::new();
            pairs(&x, &r, 0.05, 0.03, &mut Grid::default(), &mut out);
            prop_assert_eq!(out, every_pair(&x, &r, 0.05, 0.03));
        }
    }
}

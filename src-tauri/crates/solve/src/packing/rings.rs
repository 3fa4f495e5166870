//! Classic columns in closed form: flat rings of equal touching spheres, each ring turned half a step against the last.
//!
//! A ring of n touching spheres of diameter d has its centres on a circle of radius d / (2 sin(π/n)). A sphere of the next
//! ring stands over the gap of two, at a sideways distance of d / (2 cos(π/2n)) from each, and touches both; so the rings
//! follow at h = d √(1 − 1/(4 cos²(π/2n))). The stack is the uniform n-antiprism: for n = 4 this is h = d / 2^(1/4)
//! (MathWorld, "Antiprism"; OEIS A381756).

use std::f64::consts::PI;

/// A ring of one has no gap to stand over.
const FEWEST: u32 = 2;
/// More rings than any column has; a taller one is a slip of the hand.
const MOST_LAYERS: f64 = 100_000.0;
/// A column that is short of the wish by this share of a ring is tall enough: the measures are sums of rounded numbers.
const SLACK: f64 = 1e-9;

/// Rings stacked to a column.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stack {
    /// How many rings.
    pub layers: u32,
    /// From the lowest point to the highest, in the unit of the diameter.
    pub height: f64,
}

/// Distance between rings of n spheres over the diameter. Absent for n < 2.
#[must_use]
pub fn pitch_over_d(n: u32) -> Option<f64> {
    let cosine = libm::cos(step(n)? / 2.0);
    Some((1.0 - 1.0 / (4.0 * cosine * cosine)).sqrt())
}

/// Distance from the column's axis to the centres over the diameter. Absent for n < 2.
#[must_use]
pub fn radius_over_d(n: u32) -> Option<f64> {
    Some(0.5 / libm::sin(step(n)?))
}

/// Outside diameter of the column over that of a sphere. Absent for n < 2.
#[must_use]
pub fn outside_over_d(n: u32) -> Option<f64> {
    Some(2.0 * radius_over_d(n)? + 1.0)
}

/// Diameter of the widest pole that passes through the rings, over that of a sphere. Absent for n < 2; 0 for n = 2.
#[must_use]
pub fn bore_over_d(n: u32) -> Option<f64> {
    Some(2.0 * radius_over_d(n)? - 1.0)
}

/// Distance from the middle between two rings to their centres, over the diameter: the circumradius of the uniform
/// antiprism of edge 1. Absent for n < 2.
#[must_use]
pub fn circumradius_over_d(n: u32) -> Option<f64> {
    let (radius, half) = (radius_over_d(n)?, pitch_over_d(n)? / 2.0);
    Some((radius * radius + half * half).sqrt())
}

/// Height of so many rings of n spheres of diameter d. Absent for n < 2 or no diameter; 0 for no ring.
#[must_use]
pub fn height_of(layers: u32, n: u32, d: f64) -> Option<f64> {
    let pitch = pitch_over_d(n)?;
    if !(d.is_finite() && d > 0.0) {
        return None;
    }
    Some(match layers.checked_sub(1) {
        Some(steps) => d * (1.0 + f64::from(steps) * pitch),
        None => 0.0,
    })
}

/// The fewest rings of n spheres of diameter d that stand at least this high. Absent for n < 2, measures that are none, and
/// columns of more than 100,000 rings.
#[must_use]
pub fn layers_for(height: f64, n: u32, d: f64) -> Option<Stack> {
    let one = height_of(1, n, d)?;
    let pitch = pitch_over_d(n)? * d;
    let steps = ((height - one) / pitch - SLACK).ceil().max(0.0);
    if !height.is_finite() || height <= 0.0 || steps >= MOST_LAYERS {
        return None;
    }
    let layers = steps as u32 + 1;
    Some(Stack {
        layers,
        height: height_of(layers, n, d)?,
    })
}

/// Angle between neighbours of a ring.
fn step(n: u32) -> Option<f64> {
    (n >= FEWEST).then(|| PI / f64::from(n))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: Option<f64>, b: f64) {
        assert!(a.is_some_and(|a| (a - b).abs() < 1e-7), "{a:?} is not {b}");
    }

    /// Heights of the uniform antiprisms of edge 1 (Klitzing, "n/d-antiprism"; MathWorld "Antiprism"; OEIS A381756 for
    /// n = 4); outside and bore by 1/sin(π/n) ± 1.
    #[test]
    fn rings_of_three_to_six() {
        let rows = [
            (3, (2f64 / 3.0).sqrt(), 2.154_700_5, 0.154_700_5),
            (4, 0.840_896_4, 2.414_213_6, 0.414_213_6),
            (
                5,
                ((5.0 + 5f64.sqrt()) / 10.0).sqrt(),
                2.701_301_6,
                0.701_301_6,
            ),
            (6, (3f64.sqrt() - 1.0).sqrt(), 3.0, 1.0),
        ];
        for (n, pitch, outside, bore) in rows {
            near(pitch_over_d(n), pitch);
            near(outside_over_d(n), outside);
            near(bore_over_d(n), bore);
        }
    }

    #[test]
    fn limits_of_the_pitch() {
        // a pair over a pair, crosswise: a regular tetrahedron of edge 1 has opposite edges 1/√2 apart
        near(pitch_over_d(2), 0.5f64.sqrt());
        near(bore_over_d(2), 0.0);
        // rows over rows
        near(pitch_over_d(1_000_000), 0.75f64.sqrt());
        assert_eq!((pitch_over_d(0), pitch_over_d(1)), (None, None));
    }

    /// McCooey, "Square Antiprism": circumradius √(8 + 2√2)/4 of the edge. For n = 3 the octahedron: √2/2.
    #[test]
    fn circumradius_of_antiprisms() {
        near(circumradius_over_d(4), 0.822_664_4);
        near(circumradius_over_d(4), (8.0 + 8f64.sqrt()).sqrt() / 4.0);
        near(circumradius_over_d(3), 0.5f64.sqrt());
    }

    /// Set out point by point, each sphere touches two of its own ring and two of each ring beside it, and none overlaps.
    #[test]
    fn a_stack_set_out_in_space_touches_and_does_not_overlap() {
        for n in 3..=12u32 {
            let (radius, pitch) = (radius_over_d(n).unwrap(), pitch_over_d(n).unwrap());
            let spot = |layer: u32, k: u32| {
                let angle = 2.0 * PI * (f64::from(k) + 0.5 * f64::from(layer % 2)) / f64::from(n);
                [
                    radius * libm::cos(angle),
                    radius * libm::sin(angle),
                    pitch * f64::from(layer),
                ]
            };
            let home = spot(2, 0);
            let mut touching = 0;
            for layer in 0..5 {
                for k in 0..n {
                    if (layer, k) == (2, 0) {
                        continue;
                    }
                    let other = spot(layer, k);
                    let apart = (0..3)
                        .map(|a| (home[a] - other[a]) * (home[a] - other[a]))
                        .sum::<f64>()
                        .sqrt();
                    assert!(apart > 1.0 - 1e-12, "n {n}, ring {layer}: {apart}");
                    touching += u32::from(apart < 1.0 + 1e-12);
                }
            }
            assert_eq!(touching, 6, "n {n}");
        }
    }

    #[test]
    fn a_column_of_1_80_m_in_rings_of_four() {
        let stack = layers_for(1.80, 4, 0.28).unwrap();
        assert_eq!(stack.layers, 8);
        assert!((stack.height - 1.928_16).abs() < 1e-5, "{}", stack.height);
        // one ring fewer is too low, and the height reached asks for no more rings
        assert!(height_of(7, 4, 0.28).unwrap() < 1.80);
        assert_eq!(layers_for(stack.height, 4, 0.28), Some(stack));
    }

    #[test]
    fn every_height_that_rings_reach_asks_for_as_many_rings() {
        for n in 2..9 {
            for layers in 1..200 {
                let height = height_of(layers, n, 0.13).unwrap();
                assert_eq!(layers_for(height, n, 0.13).unwrap().layers, layers);
                assert_eq!(
                    layers_for(height + 1e-6, n, 0.13).unwrap().layers,
                    layers + 1
                );
            }
        }
    }

    #[test]
    fn measures_that_are_none_have_no_stack() {
        for (height, n, d) in [
            (f64::NAN, 4, 0.2),
            (f64::INFINITY, 4, 0.2),
            (0.0, 4, 0.2),
            (-1.0, 4, 0.2),
            (1.0, 1, 0.2),
            (1.0, 4, 0.0),
            (1.0, 4, f64::NAN),
            (1e9, 4, 0.2),
        ] {
            assert_eq!(layers_for(height, n, d), None, "{height} {n} {d}");
        }
    }
}

//! Helium: volumes of what it fills, and what it lifts.
//!
//! At 20 degrees and one atmosphere; a latex balloon's own pressure is some thousandths of that and is left out.

use std::f64::consts::PI;

use crate::inflate::whole;

/// Density of dry air at 20 °C and 101 325 Pa, g/L (Lemmon et al. 2000).
pub const AIR_G_L: f64 = 1.204_575;
/// Density of helium at 20 °C and 101 325 Pa, g/L (reference equation of state as CoolProp has it).
pub const HELIUM_G_L: f64 = 0.166_311;
/// Mass of an 11 in latex round, g: an assumption, no published figure was found. Others by the square of their size.
const LATEX_11_IN_G: f64 = 2.8;
/// Mass of foil film, g/m²: 12 µm polyester (1.39 g/cm³) on 12 µm polyethylene (0.92 g/cm³); an assumption.
const FILM_G_M2: f64 = 28.0;
/// Mass of ribbon, g/m: 5 mm wide, 0.1 mm thick polypropylene (0.91 g/cm³); an assumption.
const RIBBON_G_M: f64 = 0.5;
/// A weight is so many times what is lifted: ribbons are pulled and doors make draughts. Common practice, no source.
pub const MARGIN: f64 = 1.5;
/// Weights are made in steps of so much, g.
const STEP_G: f64 = 5.0;
/// Volume of two flat discs joined at the rim and blown up, over the cube of their radius ("mylar balloon", W. Paulsen,
/// Amer. Math. Monthly 101, 1994).
const FOIL_VOLUME: f64 = 1.218_524_2;
/// Radius of its rim over that of the flat discs, the same.
pub const FOIL_RIM: f64 = 0.762_759_8;
/// An inch, mm.
const INCH_MM: f64 = 25.4;

/// What a volume of helium lifts, g, the balloon itself not taken off.
#[must_use]
pub fn gross_lift_g(litres: f64) -> f64 {
    litres * (AIR_G_L - HELIUM_G_L)
}

/// Mass of an empty latex round by its nominal size, g.
#[must_use]
pub fn latex_g(size_in: i64) -> f64 {
    let ratio = whole(size_in.clamp(0, 200)) / 11.0;
    LATEX_11_IN_G * ratio * ratio
}

/// Volume of a round foil by its nominal size, which is its width before it is filled, L.
#[must_use]
pub fn foil_litres(size_in: i64) -> f64 {
    let radius_dm = whole(size_in.clamp(0, 200)) * INCH_MM / 2.0 / 100.0;
    FOIL_VOLUME * radius_dm * radius_dm * radius_dm
}

/// Volume and film of a round foil that is so wide when it is filled, L and m².
#[must_use]
pub fn round_filled(wide_mm: i64) -> (f64, f64) {
    let radius_dm = whole(wide_mm.clamp(0, 10_000)) / 2.0 / FOIL_RIM / 100.0;
    let disc_m2 = PI * radius_dm * radius_dm / 100.0;
    (
        FOIL_VOLUME * radius_dm * radius_dm * radius_dm,
        2.0 * disc_m2,
    )
}

/// Mass of a round foil, g.
#[must_use]
pub fn foil_g(size_in: i64) -> f64 {
    let radius_m = whole(size_in.clamp(0, 200)) * INCH_MM / 2000.0;
    2.0 * PI * radius_m * radius_m * FILM_G_M2
}

/// Mass of so much film, g.
#[must_use]
pub fn film_g(square_metres: f64) -> f64 {
    square_metres * FILM_G_M2
}

/// Mass of a ribbon, g.
#[must_use]
pub fn ribbon_g(mm: f64) -> f64 {
    mm / 1000.0 * RIBBON_G_M
}

/// The weight that holds a lift, g: with its margin, up to the next step.
#[must_use]
pub fn weight_g(net_lift_g: f64) -> i64 {
    crate::inflate::nearest((net_lift_g.max(0.0) * MARGIN / STEP_G - 1e-9).ceil() * STEP_G)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::inflate::litres;

    fn near(got: f64, want: f64, relative: f64) {
        assert!((got / want - 1.0).abs() < relative, "{got} is not {want}");
    }

    /// CoolProp: air less helium at 20 °C is 1.0383 g/L. A balloon of 30 cm lifts 14.67 g; popular science says 14 g.
    #[test]
    fn lift_of_a_litre_and_of_a_balloon() {
        near(gross_lift_g(1.0), 1.0383, 1e-3);
        near(gross_lift_g(litres(3000)), 14.67, 1e-3);
        near(gross_lift_g(litres(3000)), 14.0, 6e-2);
    }

    /// Paulsen's mylar balloon of 9 in: 14.5567 L, which lifts 15.1 g.
    #[test]
    fn a_foil_of_eighteen_inches() {
        near(foil_litres(18), 14.5567, 1e-3);
        near(gross_lift_g(foil_litres(18)), 15.1, 2e-3);
        assert!(foil_g(18) < gross_lift_g(foil_litres(18)));
        // filled it is three quarters as wide
        let (litres, film) = round_filled(349);
        near(litres, foil_litres(18), 3e-3);
        near(film_g(film), foil_g(18), 2e-3);
    }

    #[test]
    fn weights_hold_more_than_what_is_lifted() {
        assert_eq!(weight_g(0.0), 0);
        assert_eq!(weight_g(-3.0), 0);
        // 10 g with half as much again are 15 g
        assert_eq!(weight_g(10.0), 15);
        assert_eq!(weight_g(10.01), 20);
        for tenths in 1..3000 {
            let lift = f64::from(tenths) / 10.0;
            assert!(whole(weight_g(lift)) >= lift * MARGIN - 1e-6);
        }
    }
}

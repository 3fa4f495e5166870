//! Blowing: volumes, strokes of the hand pump, seconds of the inflator.

use job::stock::Rates;
use std::f64::consts::PI;

/// Rounds up to this nominal size are blown by hand pump, in. Common practice, no source.
pub const HAND_PUMPED_IN: i64 = 6;
/// Rounds from this nominal size on are blown one by one, in.
const LARGE_IN: i64 = 24;
/// Rounds from this nominal size on take the longest, in.
const HUGE_IN: i64 = 36;
/// Diameters that are reckoned with, tenths of a millimetre: up to 5 m. Anything beyond is a slip of the keyboard, which has its finding.
const MOST_DMM: i64 = 50_000;

/// Volume of a round blown to a diameter of tenths of a millimetre, L: a sphere, π d³ / 6.
#[must_use]
pub fn litres(blown_dmm: i64) -> f64 {
    // a litre is a cube of 100 mm, 1000 tenths of a millimetre
    let d = whole(blown_dmm.clamp(0, MOST_DMM)) / 1000.0;
    PI * d * d * d / 6.0
}

/// Volume in whole mL, nearest.
#[must_use]
pub fn millilitres(blown_dmm: i64) -> i64 {
    nearest(litres(blown_dmm) * 1000.0)
}

/// Strokes of the hand pump for a balloon of this diameter, nearest, at least 1.
#[must_use]
pub fn strokes(blown_dmm: i64, rates: &Rates) -> i64 {
    nearest(litres(blown_dmm) * 1000.0 / whole(rates.stroke_ml.max(1))).max(1)
}

/// Whether a round of this nominal size is blown by hand pump.
#[must_use]
pub fn by_hand(size_in: i64) -> bool {
    size_in <= HAND_PUMPED_IN
}

/// Seconds that one nozzle of the inflator takes for a balloon of this diameter: volume over half the flow.
#[must_use]
pub fn nozzle_seconds(blown_dmm: i64, rates: &Rates) -> f64 {
    litres(blown_dmm) / (flow_l_s(rates) / 2.0)
}

/// Working seconds to blow two rounds to size and tie them as a pair, by nominal sizes and diameters.
#[must_use]
pub fn pair_seconds(sizes_in: [i64; 2], blown_dmm: [i64; 2], rates: &Rates) -> f64 {
    let large = |size: i64| {
        (size >= LARGE_IN).then(|| {
            whole(
                if size >= HUGE_IN {
                    rates.round36_s
                } else {
                    rates.round24_s
                }
                .max(0),
            )
        })
    };
    match sizes_in.map(large) {
        [None, None] if sizes_in.iter().all(|s| by_hand(*s)) => whole(rates.small_pair_s.max(0)),
        [None, None] => {
            let together = (litres(blown_dmm[0]) + litres(blown_dmm[1])) / flow_l_s(rates);
            together.max(whole(rates.pair_s.max(0)))
        }
        singles => singles
            .iter()
            .zip(blown_dmm)
            .map(|(large, dmm)| {
                large.unwrap_or_else(|| {
                    (litres(dmm) / flow_l_s(rates)).max(whole(rates.pair_s.max(0)) / 2.0)
                })
            })
            .sum(),
    }
}

fn flow_l_s(rates: &Rates) -> f64 {
    whole(rates.flow_l_min.max(1)) / 60.0
}

/// A whole number as a float. Exact up to 2⁵³, which no plan reaches.
#[expect(clippy::cast_precision_loss, reason = "no plan counts beyond 2^53")]
#[must_use]
pub fn whole(n: i64) -> f64 {
    n as f64
}

/// The nearest whole number, halves away from zero; what does not fit is the largest that does.
#[expect(
    clippy::cast_possible_truncation,
    reason = "`as` saturates, and NaN becomes 0"
)]
#[must_use]
pub fn nearest(x: f64) -> i64 {
    x.round() as i64
}

/// The next whole number up.
#[must_use]
pub fn up(x: f64) -> i64 {
    // a hair under a whole number that rounding left above it is that number
    nearest((x - 1e-9).ceil())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Elementary geometry: a sphere of 11 in holds 11.42031 L, one of radius 0.14 m 11.49404 L.
    #[test]
    fn volumes_of_spheres() {
        assert!((litres(2794) / 11.420_31 - 1.0).abs() < 1e-6);
        assert!((litres(2800) / 11.494_04 - 1.0).abs() < 1e-6);
        assert_eq!(millilitres(2794), 11_420);
    }

    /// Common practice, no source: 6 strokes fill a link to about 5 in, 4 strokes a 5 in round to about 4.4 in.
    #[test]
    fn strokes_of_the_hand_pump() {
        let rates = Rates::default();
        assert_eq!(strokes(1270, &rates), 6);
        assert_eq!(strokes(1118, &rates), 4);
        assert_eq!(strokes(0, &rates), 1);
    }

    /// Time is volume over flow: 11.42 L at 250 L/min take 2.741 s with both nozzles.
    #[test]
    fn seconds_of_the_inflator() {
        let rates = Rates::default();
        assert!((nozzle_seconds(2794, &rates) / 2.0 / 2.741 - 1.0).abs() < 1e-3);
        assert_eq!(pair_seconds([11, 11], [2794, 2794], &rates), 30.0);
        assert_eq!(pair_seconds([5, 5], [1118, 1118], &rates), 35.0);
        assert_eq!(pair_seconds([24, 36], [6096, 9144], &rates), 225.0);
        assert_eq!(pair_seconds([24, 11], [6096, 2794], &rates), 90.0);
        // two 16 in rounds at a slow flow of 60 L/min: 2 x 35.14 L take 70.3 s
        let slow = Rates {
            flow_l_min: 60,
            ..Rates::default()
        };
        assert!((pair_seconds([16, 16], [4064, 4064], &slow) - 2.0 * litres(4064)).abs() < 1e-9);
    }

    #[test]
    fn absurd_numbers_are_answered() {
        let rates = Rates {
            flow_l_min: i64::MIN,
            pair_s: i64::MAX,
            stroke_ml: 0,
            ..Rates::default()
        };
        assert!(pair_seconds([i64::MIN, i64::MAX], [i64::MAX, i64::MIN], &rates).is_finite());
        assert!(strokes(i64::MAX, &rates) > 0);
        assert_eq!(nearest(f64::NAN), 0);
        assert_eq!(up(3.0), 3);
        assert_eq!(up(3.01), 4);
    }
}

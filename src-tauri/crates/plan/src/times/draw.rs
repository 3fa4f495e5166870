//! Chance as an argument: draws that follow from a seed, a name and a number, and from nothing drawn before. What is added or left out
//! elsewhere changes none of them, so two plans of one job are compared on the same days (common random numbers).
//!
//! Sources: G. L. Steele, D. Lea and C. H. Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014 (the mixing of a
//! counter); G. E. P. Box and M. E. Muller, "A note on the generation of random normal deviates", Annals of Mathematical Statistics
//! 29, 1958; J. M. Hammersley and K. W. Morton, "A new Monte Carlo technique: antithetic variates", Proc. Cambridge Philosophical
//! Society 52, 1956.

use std::f64::consts::TAU;

/// What the counter moves by: 2⁶⁴ over the golden ratio, made odd.
const STEP: u64 = 0x9e37_79b9_7f4a_7c15;
/// 2⁻⁵³: the spacing of the draws between 0 and 1.
const UNIT: f64 = 1.0 / 9_007_199_254_740_992.0;

/// Draws of one name under one seed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Draws {
    key: u64,
}

impl Draws {
    /// The draws of a name. Names that differ are as good as independent.
    pub(super) fn of(seed: u64, name: &str) -> Draws {
        // FNV-1a, then mixed: neighbouring names lie far apart
        let text = name.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |h, b| {
            (h ^ u64::from(b)).wrapping_mul(0x0100_0000_01b3)
        });
        Draws {
            key: mixed(text ^ mixed(seed)),
        }
    }

    /// The bits of draw `n`.
    fn bits(self, n: u64) -> u64 {
        mixed(self.key.wrapping_add(n.wrapping_add(1).wrapping_mul(STEP)))
    }

    /// So many draws of the normal distribution with mean 0 and deviation 1. They come in fours: two that are independent, each
    /// followed by its opposite, so that their mean is exactly 0.
    pub(super) fn normals(self, count: usize) -> Vec<f64> {
        let mut all = Vec::with_capacity(count + 3);
        let mut n = 0;
        while all.len() < count {
            // never 0: its logarithm is asked for
            let u = (whole(self.bits(n) >> 11) + 1.0) * UNIT;
            let v = whole(self.bits(n + 1) >> 11) * UNIT;
            n += 2;
            let r = libm::sqrt(-2.0 * libm::log(u));
            let (a, b) = (r * libm::cos(TAU * v), r * libm::sin(TAU * v));
            all.extend([a, -a, b, -b]);
        }
        all.truncate(count);
        all
    }
}

fn mixed(z: u64) -> u64 {
    let z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

#[expect(
    clippy::cast_precision_loss,
    reason = "below 2⁵³, where every whole number is exact"
)]
fn whole(n: u64) -> f64 {
    n as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The distribution of the normal, by the error function of `libm`.
    fn phi(z: f64) -> f64 {
        0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
    }

    /// Source: the first outputs of the authors' `splitmix64.c` for the seed 1234567 (S. Vigna, public domain; values as published on
    /// Rosetta Code, "Pseudo-random numbers/Splitmix64").
    #[test]
    fn bits_are_those_of_splitmix64() {
        let draws = Draws { key: 1_234_567 };
        let got: Vec<u64> = (0..5).map(|n| draws.bits(n)).collect();
        let want: [u64; 5] = [
            6_457_827_717_110_365_317,
            3_203_168_211_198_807_973,
            9_817_491_932_198_370_423,
            4_593_380_528_125_082_431,
            16_408_922_859_458_223_821,
        ];
        assert_eq!(got, want);
    }

    /// Kolmogorov's test against the normal distribution: for 40,000 draws the largest gap is above 1.95 / √n once in a thousand names.
    /// The pairs of opposites are not independent, so only the first and third of each four are taken.
    #[test]
    fn draws_are_normal() {
        for name in ["carry", "hang.arch", ""] {
            let all = Draws::of(7, name).normals(80_000);
            let mut free: Vec<f64> = all.chunks(4).flat_map(|c| [c[0], c[2]]).collect();
            free.sort_by(f64::total_cmp);
            let n = free.len() as f64;
            let gap = free.iter().enumerate().fold(0.0f64, |gap, (i, z)| {
                let p = phi(*z);
                gap.max((p - i as f64 / n).abs())
                    .max((p - (i + 1) as f64 / n).abs())
            });
            assert!(gap < 1.95 / n.sqrt(), "{name}: {gap}");
            assert!(all.iter().sum::<f64>().abs() < 1e-9);
        }
    }

    /// Two names are as good as independent: their correlation is within four deviations of 0.
    #[test]
    fn names_are_independent() {
        let names = ["a", "b", "carry", "inflate.arch.1", "inflate.arch.2"];
        let all: Vec<Vec<f64>> = names
            .iter()
            .map(|n| Draws::of(1, n).normals(40_000))
            .collect();
        for (i, a) in all.iter().enumerate() {
            for b in &all[..i] {
                let mean = a.iter().zip(b).map(|(x, y)| x * y).sum::<f64>() / 40_000.0;
                // products of opposites are equal: half as many free ones
                assert!(mean.abs() < 4.0 / 20_000f64.sqrt(), "{i}: {mean}");
            }
        }
        assert_ne!(Draws::of(1, "a"), Draws::of(2, "a"));
    }
}

//! Random numbers of a cluster: the same for the same seed and id, whatever the other clusters do.

/// SplitMix64: Steele, Lea and Flood, Fast splittable pseudorandom number generators, OOPSLA 2014; constants from memory.
#[derive(Debug, Clone)]
pub(crate) struct Stream(u64);

/// The golden section of 2^64, odd.
const STEP: u64 = 0x9e37_79b9_7f4a_7c15;

fn mixed(mut z: u64) -> u64 {
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

impl Stream {
    /// The stream of a cluster.
    pub(crate) fn of(seed: u64, id: u64) -> Stream {
        Stream(mixed(
            seed.wrapping_mul(STEP) ^ mixed(id.wrapping_add(STEP)),
        ))
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(STEP);
        mixed(self.0)
    }

    /// Below `n`, which is small: the bias is below n / 2^32.
    pub(crate) fn below(&mut self, n: u32) -> u32 {
        // the product of two 32-bit numbers, its upper half
        (((self.next() >> 32) * u64::from(n)) >> 32) as u32
    }

    /// From 0 to below 1.
    pub(crate) fn unit(&mut self) -> f64 {
        // 53 bits are what an f64 holds
        (self.next() >> 11) as f64 * (1.0 / 9_007_199_254_740_992.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn streams_are_their_own_and_even() {
        let (mut a, mut b) = (Stream::of(1, 5), Stream::of(1, 6));
        assert_ne!(a.next(), b.next());
        let mut again = Stream::of(1, 5);
        again.next();
        assert_eq!(a.next(), again.next());
        let mut counts = [0u32; 6];
        for _ in 0..6000 {
            counts[a.below(6) as usize] += 1;
        }
        assert!(counts.iter().all(|c| (900..1100).contains(c)), "{counts:?}");
        let mean = (0..10_000).map(|_| b.unit()).sum::<f64>() / 10_000.0;
        assert!((mean - 0.5).abs() < 0.02);
    }
}

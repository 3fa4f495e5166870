//! Clusters of mixed sizes for the tests, from a generator of its own.

use solve::packing::Cluster;

/// An inch, m.
pub const IN: f64 = 0.0254;

/// Numbers from a seed (Steele, Lea and Flood, "SplitMix", 2014, from memory).
pub struct Draw(pub u64);

impl Draw {
    /// Uniform in [0, 1).
    pub fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }
}

/// About `n` spheres: one in seven of 14 to 16 in, one in seven of 4 to 5, the rest of 6 to 10; in fours, sixes and eights.
pub fn mix(n: usize, seed: u64) -> Vec<Cluster> {
    let mut draw = Draw(seed);
    let (mut clusters, mut have) = (Vec::new(), 0);
    while have < n {
        let size = match draw.share() {
            x if x < 0.5 => 4,
            x if x < 0.85 => 6,
            _ => 8,
        };
        let diameters: Vec<f64> = (0..size)
            .map(|_| {
                let (low, high) = match draw.share() {
                    x if x < 0.14 => (14.0, 16.0),
                    x if x < 0.28 => (4.0, 5.0),
                    _ => (6.0, 10.0),
                };
                (low + draw.share() * (high - low)) * IN
            })
            .collect();
        have += size;
        clusters.push(Cluster {
            id: clusters.len() as u64,
            diameters,
            turn: None,
        });
    }
    clusters
}

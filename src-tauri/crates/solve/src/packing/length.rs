//! How long a packing is.

use super::path::Path;
use super::types::Packing;

impl Packing {
    /// From the first tie to the last, m along the path.
    #[must_use]
    pub fn tie_span(&self) -> f64 {
        match (self.ties.first(), self.ties.last()) {
            (Some(first), Some(last)) => last - first,
            _ => 0.0,
        }
    }

    /// From tip to tip along the path, m: from the first sphere's skin to the last one's.
    #[must_use]
    pub fn length(&self, path: &Path) -> f64 {
        let [low, high] = self.tips(path);
        (high - low).max(0.0)
    }

    /// Where the two tips lie along the path, m from its first point.
    #[must_use]
    pub fn tips(&self, path: &Path) -> [f64; 2] {
        let mut tips = [f64::INFINITY, f64::NEG_INFINITY];
        for ball in &self.balls {
            let Some(tie) = self.ties.get(ball.cluster as usize) else {
                continue;
            };
            let frame = path.frame(*tie);
            let along = tie + frame.local(ball.centre).x;
            tips = [
                tips[0].min(along - ball.radius),
                tips[1].max(along + ball.radius),
            ];
        }
        tips
    }
}

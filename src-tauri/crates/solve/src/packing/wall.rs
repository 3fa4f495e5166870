//! Beside a wall the line gives way.
//!
//! A wall close behind the line takes up to half of the room round a tie. A cluster of six or eight then has no room within the
//! reach of its necks; on a real wall it pushes the line off, which hangs loose between its hooks (common practice, no source).
//! Here ties stay on their line and the necks reach further instead.

use super::relax::Scene;
use super::types::Obstacle;

/// Beside a wall one radius or less from the line, centres may be further from the tie by this share.
const GIVE: f64 = 0.3;

/// By what factor the reach of a cluster grows that is tied at a place of the line: 1 where its spheres cannot touch a wall.
/// `extent` is how far they stand out, `radius` their mean radius, m.
pub(super) fn give_way(scene: Scene<'_>, at: f64, extent: f64, radius: f64) -> f64 {
    let tie = scene.path.point(at);
    let mut nearest = 0.0f64;
    for obstacle in scene.obstacles {
        if let Obstacle::HalfSpace { point, normal } = obstacle {
            let away = (tie - *point).dot(*normal);
            let near = (extent - away) / (extent - radius).max(f64::MIN_POSITIVE);
            nearest = nearest.max(near.clamp(0.0, 1.0));
        }
    }
    1.0 + GIVE * nearest
}

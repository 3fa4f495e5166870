//! From where the scene is seen. A camera of its own accord steps back until nothing is cut.

use super::hit::Ray;
use super::vector::{V3, v};

/// Half the longer side of the picture over the distance: a long lens, so that balls at the edge stay round.
const LENS: f32 = 0.30;
/// Air round what is seen, as a share of the picture.
const AIR: f32 = 0.09;

/// A camera.
#[derive(Clone, Copy, Debug)]
pub struct Camera {
    /// Its place; for a flat view the middle of the picture, far before the scene.
    eye: V3,
    ahead: V3,
    right: V3,
    up: V3,
    /// Half the picture over the distance; for a flat view in metres.
    half: [f32; 2],
    size: [f32; 2],
    flat: bool,
}

impl Camera {
    /// Steps back until every ball (middle and radius) is in the picture. `yaw` and `pitch` in degrees: the camera goes round to the
    /// right, and up.
    ///
    /// A ball at (x, z) of the camera's own axes touches the right side of the view where x + r/cos α = z tan α. The greatest value of
    /// x + r/cos α − z tan α over all balls therefore fixes that side, the same holds for the other three, and opposite sides meet at
    /// the eye.
    pub fn framing(balls: &[(V3, f32)], yaw: f64, pitch: f64, size: [u32; 2]) -> Camera {
        let (yaw, pitch) = (yaw.to_radians(), pitch.to_radians());
        let [sy, cy, sp, cp] = [
            libm::sin(yaw),
            libm::cos(yaw),
            libm::sin(pitch),
            libm::cos(pitch),
        ];
        let ahead = v((-sy * cp) as f32, (-sp) as f32, (-cy * cp) as f32);
        let right = v(cy as f32, 0.0, (-sy) as f32);
        let up = right.cross(ahead);
        let size = size.map(|s| s as f32);
        let half = size.map(|s| LENS * s / size[0].max(size[1]));
        let inner = half.map(|h| h * (1.0 - AIR));
        let (mut low, mut high) = ([f32::NEG_INFINITY; 2], [f32::NEG_INFINITY; 2]);
        for (middle, r) in balls {
            let z = middle.dot(ahead);
            for (side, across) in [middle.dot(right), middle.dot(up)].into_iter().enumerate() {
                let tan = inner[side];
                let reach = r * (1.0 + tan * tan).sqrt() - z * tan;
                high[side] = high[side].max(across + reach);
                low[side] = low[side].max(reach - across);
            }
        }
        let mut back = f32::INFINITY;
        for side in 0..2 {
            back = back.min(-(high[side] + low[side]) / (2.0 * inner[side]));
        }
        let [x, y] = [0, 1].map(|side| (high[side] - low[side]) / 2.0);
        let eye = if back.is_finite() {
            right * x + up * y + ahead * back
        } else {
            ahead * -3.0
        };
        Camera {
            eye,
            ahead,
            right,
            up,
            half,
            size,
            flat: false,
        }
    }

    /// From straight ahead without perspective: so many metres to a pixel, and the pixel on which the origin of the scene lies.
    pub fn flat(metres: f32, origin: [f32; 2], back: f32, size: [u32; 2]) -> Camera {
        let size = size.map(|s| s as f32);
        let half = size.map(|s| s * metres / 2.0);
        let eye = v(
            half[0] - origin[0] * metres,
            origin[1] * metres - half[1],
            back,
        );
        Camera {
            eye,
            ahead: v(0.0, 0.0, -1.0),
            right: v(1.0, 0.0, 0.0),
            up: v(0.0, 1.0, 0.0),
            half,
            size,
            flat: true,
        }
    }

    /// The ray through a point of the picture, in pixels from its upper left corner.
    pub fn ray(&self, x: f32, y: f32) -> Ray {
        let across = self.right * ((x / self.size[0] * 2.0 - 1.0) * self.half[0])
            + self.up * ((1.0 - y / self.size[1] * 2.0) * self.half[1]);
        if self.flat {
            Ray {
                from: self.eye + across,
                along: self.ahead,
            }
        } else {
            Ray {
                from: self.eye,
                along: (self.ahead + across).unit(),
            }
        }
    }

    /// Where a point lies in the picture in pixels, and the size of a metre there in pixels. Absent behind the camera.
    pub fn see(&self, at: V3) -> Option<([f32; 2], f32)> {
        let to = at - self.eye;
        let deep = if self.flat { 1.0 } else { to.dot(self.ahead) };
        if deep <= 0.0 {
            return None;
        }
        let metre = self.size[0] / (2.0 * self.half[0] * deep);
        Some((
            [
                self.size[0] / 2.0 + to.dot(self.right) * metre,
                self.size[1] / 2.0 - to.dot(self.up) * metre,
            ],
            metre,
        ))
    }

    /// How far before the camera.
    pub fn deep(&self, at: V3) -> f32 {
        (at - self.eye).dot(self.ahead)
    }

    /// The half width in pixels of what a ball covers, no less than it is.
    pub fn cover(&self, at: V3, r: f32) -> f32 {
        let deep = self.deep(at);
        let metre = self.size[0] / (2.0 * self.half[0]);
        if self.flat {
            return r * metre;
        }
        // seen from the eye the ball's edge lies on a cone; at the edge of the picture the cone's cut is longer
        let near = (deep * deep - r * r).max(1e-6).sqrt();
        let slant = 1.0 + LENS * LENS * 2.0;
        r / near * metre * slant
    }

    /// The camera's own right, up and ahead, level: the light stands by the camera.
    pub fn level(&self) -> [V3; 2] {
        let ahead = v(self.ahead.x, 0.0, self.ahead.z).unit();
        [self.right, ahead]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::still::hit::ball;

    // Every ball's outline, sampled on the circle where the tangents from the eye touch it, lies within the picture; and the framing
    // is tight: some ball comes as near to the edge as the air allows.
    #[test]
    fn no_ball_is_cut_and_none_is_smaller_than_need_be() {
        let balls: Vec<(V3, f32)> = (0..40)
            .map(|n: i32| {
                let f = n as f32;
                (
                    v(
                        (n * 37 % 50) as f32 * 0.1 - 2.0,
                        (n * 17 % 23) as f32 * 0.1,
                        (f * 0.3) % 1.0,
                    ),
                    0.05 + 0.004 * f,
                )
            })
            .collect();
        for (yaw, pitch, size) in [
            (0.0, 0.0, [1600, 1000]),
            (35.0, 12.0, [1600, 1000]),
            (-70.0, 40.0, [500, 900]),
            (180.0, -5.0, [300, 300]),
        ] {
            let camera = Camera::framing(&balls, yaw, pitch, size);
            let mut least = f32::INFINITY;
            for (middle, r) in &balls {
                let to = *middle - camera.eye;
                let far = to.length();
                let n = to.unit();
                let across = n.cross(v(0.3, 1.0, 0.2)).unit();
                let other = n.cross(across);
                let (sin, cos) = (r / far, (1.0 - r * r / far / far).sqrt());
                for k in 0..64 {
                    let a = f64::from(k) * core::f64::consts::TAU / 64.0;
                    let out = across * libm::cos(a) as f32 + other * libm::sin(a) as f32;
                    let edge = camera.eye + (n * cos + out * sin) * (far * cos);
                    let ([x, y], _) = camera.see(edge).unwrap();
                    let free = [x, size[0] as f32 - x, y, size[1] as f32 - y];
                    least = free.into_iter().fold(least, f32::min);
                }
            }
            let air = 0.5 * AIR * size[0].min(size[1]) as f32;
            assert!(least > air * 0.9, "{yaw} {pitch}: {least} of {air}");
            assert!(least < air * 1.9, "{yaw} {pitch}: {least} of {air}");
        }
    }

    #[test]
    fn a_ray_goes_through_the_point_that_is_seen_there() {
        let balls = [(v(1.0, 2.0, 0.5), 0.2), (v(-1.0, 0.3, -0.4), 0.1)];
        for camera in [
            Camera::framing(&balls, 25.0, 10.0, [640, 480]),
            Camera::flat(0.005, [300.0, 470.0], 10.0, [640, 480]),
        ] {
            for (middle, r) in balls {
                let ([x, y], _) = camera.see(middle).unwrap();
                let ray = camera.ray(x, y);
                let way = ball(ray, middle, r).unwrap();
                assert!((ray.at(way + r) - middle).length() < 1e-4);
            }
        }
        // 5 mm to the pixel: a metre to the right of the origin lies 200 pixels to the right of it
        let flat = Camera::flat(0.005, [300.0, 470.0], 10.0, [640, 480]);
        let ([x, y], _) = flat.see(v(1.0, 0.5, 0.0)).unwrap();
        assert!(
            (x - 500.0).abs() < 1e-3 && (y - 370.0).abs() < 1e-3,
            "{x} {y}"
        );
    }
}

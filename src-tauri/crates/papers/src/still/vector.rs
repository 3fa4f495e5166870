//! Points and directions in metres. Only + - * / and square roots: the same bits on every machine.

use std::ops::{Add, Mul, Neg, Sub};

/// Three numbers: a point, a direction or a light.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct V3 {
    /// To the right, or red.
    pub x: f32,
    /// Up, or green.
    pub y: f32,
    /// Towards the viewer, or blue.
    pub z: f32,
}

/// Short for the three numbers.
pub const fn v(x: f32, y: f32, z: f32) -> V3 {
    V3 { x, y, z }
}

impl V3 {
    /// The same three times.
    pub const fn all(s: f32) -> V3 {
        v(s, s, s)
    }

    /// Scalar product.
    pub fn dot(self, o: V3) -> f32 {
        self.x * o.x + self.y * o.y + self.z * o.z
    }

    /// Vector product.
    pub fn cross(self, o: V3) -> V3 {
        v(
            self.y * o.z - self.z * o.y,
            self.z * o.x - self.x * o.z,
            self.x * o.y - self.y * o.x,
        )
    }

    /// Length squared.
    pub fn square(self) -> f32 {
        self.dot(self)
    }

    /// Length.
    pub fn length(self) -> f32 {
        self.square().sqrt()
    }

    /// Of length 1; what has no length stays as it is.
    pub fn unit(self) -> V3 {
        let length = self.length();
        if length > 0.0 {
            self * (1.0 / length)
        } else {
            self
        }
    }

    /// Each with each.
    pub fn each(self, o: V3) -> V3 {
        v(self.x * o.x, self.y * o.y, self.z * o.z)
    }

    /// From this to the other, by a share.
    pub fn to(self, o: V3, share: f32) -> V3 {
        self + (o - self) * share
    }
}

impl Add for V3 {
    type Output = V3;
    fn add(self, o: V3) -> V3 {
        v(self.x + o.x, self.y + o.y, self.z + o.z)
    }
}

impl Sub for V3 {
    type Output = V3;
    fn sub(self, o: V3) -> V3 {
        v(self.x - o.x, self.y - o.y, self.z - o.z)
    }
}

impl Mul<f32> for V3 {
    type Output = V3;
    fn mul(self, s: f32) -> V3 {
        v(self.x * s, self.y * s, self.z * s)
    }
}

impl Neg for V3 {
    type Output = V3;
    fn neg(self) -> V3 {
        v(-self.x, -self.y, -self.z)
    }
}

/// From 0 at `a` to 1 at `b`, smooth at both ends: 3t² − 2t³.
pub fn smooth(a: f32, b: f32, x: f32) -> f32 {
    let t = ((x - a) / (b - a)).clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}

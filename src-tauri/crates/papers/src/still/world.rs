//! A scene in metres about its own middle, with the light of each colour, ready to be cast.

use plan::scene::{Scene, TubeKind};

use super::tone::linear;
use super::vector::{V3, v};
use crate::colour::{Rgb, WHITE};

/// Tenths of a millimetre in a metre.
const DMM: f64 = 10_000.0;

/// A balloon.
#[derive(Clone, Copy, Debug)]
pub struct Ball {
    /// Its middle, m.
    pub at: V3,
    /// Its radius, m.
    pub r: f32,
    /// What it gives back of the light.
    pub skin: V3,
    /// Double-stuffed: what the balloon inside gives back; else the same.
    pub core: V3,
}

/// A rod with round ends.
#[derive(Clone, Copy, Debug)]
pub struct Rod {
    /// One end, m.
    pub a: V3,
    /// The other end, m.
    pub b: V3,
    /// Half its thickness, m.
    pub r: f32,
    /// What it gives back of the light.
    pub skin: V3,
    /// Foil mirrors the room.
    pub foil: bool,
}

/// A box with upright sides.
#[derive(Clone, Copy, Debug)]
pub struct Panel {
    /// Its middle, m.
    pub at: V3,
    /// Half its sides, m.
    pub half: V3,
    /// Its own right.
    pub right: V3,
    /// Its own front.
    pub front: V3,
    /// What it gives back of the light.
    pub skin: V3,
}

/// All that is seen. The floor is y = 0.
#[derive(Clone, Debug, Default)]
pub struct World {
    /// Balloons.
    pub balls: Vec<Ball>,
    /// Rods.
    pub rods: Vec<Rod>,
    /// Boxes.
    pub panels: Vec<Panel>,
    /// The scene's own origin, m.
    pub origin: V3,
    /// Least and greatest corner, m.
    pub low: V3,
    /// See `low`.
    pub high: V3,
}

impl World {
    /// Of a scene; `tone` knows the colours.
    pub fn of(scene: &Scene, tone: impl Fn(&str) -> Rgb) -> World {
        // about the middle, so that single precision keeps a tenth of a millimetre
        let middle = |axis: usize| (scene.low[axis] + scene.high[axis]) / 2;
        let (mx, mz) = (middle(0), middle(2));
        let put = |at: [i64; 3]| {
            let m = |dmm: i64| (dmm as f64 / DMM) as f32;
            v(m(at[0] - mx), m(at[1]), m(at[2] - mz))
        };
        let size = |dmm: i64| (dmm.max(1) as f64 / DMM) as f32;
        let hex = |srgb: &str| linear(Rgb::from_hex(srgb).unwrap_or(WHITE));
        let balls = scene.balls.iter().map(|b| Ball {
            at: put(b.at),
            r: size(b.r),
            skin: linear(tone(&b.colour)),
            core: linear(tone(if b.inside.is_empty() {
                &b.colour
            } else {
                &b.inside
            })),
        });
        let rods = scene.tubes.iter().map(|t| Rod {
            a: put(t.from),
            b: put(t.to),
            r: size(t.r),
            skin: hex(&t.srgb),
            foil: t.what == TubeKind::Foil,
        });
        let panels = scene.panels.iter().map(|p| {
            let (low, high) = (put(p.low), put(p.high));
            let angle = (p.turn_deg as f64).to_radians();
            let (sin, cos) = (libm::sin(angle) as f32, libm::cos(angle) as f32);
            Panel {
                at: (low + high) * 0.5,
                half: (high - low) * 0.5,
                right: v(cos, 0.0, -sin),
                front: v(sin, 0.0, cos),
                skin: hex(&p.srgb),
            }
        });
        World {
            balls: balls.collect(),
            rods: rods.collect(),
            panels: panels.collect(),
            origin: put([0, 0, 0]),
            low: put(scene.low),
            high: put(scene.high),
        }
    }

    /// What a camera must not cut: balls, ends of rods, corners of boxes, as middles and radii.
    pub fn outline(&self) -> Vec<(V3, f32)> {
        let balls = self.balls.iter().map(|b| (b.at, b.r));
        let ends = self.rods.iter().flat_map(|t| [(t.a, t.r), (t.b, t.r)]);
        let corners = self.panels.iter().flat_map(|p| {
            [0_u8, 1, 2, 3, 4, 5, 6, 7].map(|n| {
                let sign = |bit: u8| if n >> bit & 1 == 0 { -1.0 } else { 1.0 };
                let side = p.right * (sign(0) * p.half.x) + p.front * (sign(2) * p.half.z);
                (p.at + side + v(0.0, sign(1) * p.half.y, 0.0), 0.0)
            })
        });
        balls.chain(ends).chain(corners).collect()
    }
}

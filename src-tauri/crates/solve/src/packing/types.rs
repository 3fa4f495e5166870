//! What goes into the packing of spheres along a line, and what comes out. Lengths in metres, angles in radians.

use glam::DVec3;

/// Spheres tied together at one point of the line.
#[derive(Debug, Clone, PartialEq)]
pub struct Cluster {
    /// Names its stream of random numbers: a cluster that keeps its id keeps its draws whatever happens to the others.
    pub id: u64,
    /// Diameters, pair by pair, m; 1 to 12 of them.
    pub diameters: Vec<f64>,
    /// If given, the spheres keep their order round the line and the first lies at this angle; otherwise the solver chooses
    /// order and turn.
    pub turn: Option<f64>,
}

/// How long the global sweeps go on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Effort {
    /// 200 sweeps: while a hand still moves a slider.
    #[default]
    Preview,
    /// 1,000 sweeps: what is ordered and built.
    Final,
}

/// How soft the spheres are, how long their necks, and which of the many packings is meant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settings {
    /// Two spheres may come together to (1 − softness) of the sum of their radii.
    pub softness: f64,
    /// A centre stays within (1 + neck) radii of its tie, or as far as so many hard spheres round one point need.
    pub neck: f64,
    /// A stated seed gives the same packing for ever.
    pub seed: u64,
    /// How long it is polished.
    pub effort: Effort,
}

impl Default for Settings {
    /// Necks of 0.45 radii and 5 % softness: a garland of seventy rounds then comes out as long as decorators say it does.
    fn default() -> Self {
        Self {
            softness: 0.05,
            neck: 0.45,
            seed: 1,
            effort: Effort::Preview,
        }
    }
}

/// What spheres stay out of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Obstacle {
    /// Everything behind a plane: a wall, the floor. `normal` is of length 1 and points to where spheres may be.
    HalfSpace {
        /// A point of the plane.
        point: DVec3,
        /// Where spheres may be.
        normal: DVec3,
    },
    /// A rod with round ends: the tube of a frame, a rail.
    Capsule {
        /// One end of its axis.
        from: DVec3,
        /// The other end.
        to: DVec3,
        /// Half its thickness, m.
        radius: f64,
    },
    /// A rod with the bends of the path, beside it all along: the tube of a frame that the line is tied to. Spheres keep [`off_rod`] of it.
    Along {
        /// From the path to its axis, across the path, m.
        offset: DVec3,
        /// Half its thickness, m.
        radius: f64,
    },
}

/// A rod is felt by a sphere as no thicker than this share of its radius. Small spheres have no room behind a thick rod on their necks: a hand
/// ties such clusters before it, with a cord round it, while here ties stay on the line.
const THICKEST: f64 = 1.0 / 6.0;

/// How near to the axis of a rod of radius `rod` along the path the centre of a sphere of radius `r` may be, m. The rod presses into it by a
/// share δ / r with the force that flattens two such spheres by the share `softness` each. Both are membranes under the same pressure, so
/// that the force goes with the area of contact: 2π r² s between the spheres, 2π δ r √(R / (r + R)) under a rod of radius R that lies δ
/// deep (two crossing paraboloids with the curvatures 1/r and 1/r + 1/R). Hence δ / r = s √((r + R) / R): 13 % for a rod of 16 mm, a
/// sphere of 10 cm and 5 %; never more than half.
#[must_use]
pub fn off_rod(r: f64, rod: f64, softness: f64) -> f64 {
    let rod = rod.min(THICKEST * r);
    let dent = (softness * ((r + rod) / rod.max(1e-9)).sqrt()).min(0.5);
    r * (1.0 - dent) + rod
}

/// A packed sphere.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ball {
    /// Its centre, m.
    pub centre: DVec3,
    /// Its radius, m.
    pub radius: f64,
    /// Index of its cluster.
    pub cluster: u32,
}

/// Clusters packed along a path.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Packing {
    /// Spheres, cluster by cluster, in the order of their diameters in the input.
    pub balls: Vec<Ball>,
    /// Where each cluster is tied: arc length along the path from its first point, m. May run past the path's end.
    pub ties: Vec<f64>,
    /// How far each sphere's centre may be from its tie, m.
    pub reach: Vec<f64>,
}

/// Why a path cannot be packed along.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PathFault {
    /// Fewer than two different points, or a number that is none.
    NoPath,
    /// Turns tighter here than balloons can follow, m from the first point.
    TooTight {
        /// Where, m from the first point.
        at: f64,
    },
    /// Comes so near to itself here that balloons would have to share the room.
    MeetsItself {
        /// Where, m from the first point.
        at: f64,
        /// What it meets, m from the first point.
        and: f64,
    },
}

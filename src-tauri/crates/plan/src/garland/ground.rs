//! What a garland is packed along and among: the path of its ties, the floor, the wall or the pipe behind it.

use glam::DVec3;
use job::piece::{Mount, Piece, Shape};
use solve::packing::path::Path;
use solve::packing::{Cluster, Obstacle};

use super::balls::{Ball, Recipe};
use super::build::{Build, mm};
use super::packed::{Refused, Site};
use crate::inflate::whole;

/// The line of a garland on a wall or before balusters hangs so many mean radii in front of it: the balls behind the line touch the wall. Common practice,
/// no source.
const WALL: f64 = 2.0;

/// Half the thickness of a frame's pipe, and of the line that is tied to its front, m. Common practice, no source.
const PIPE: f64 = 0.016;
const LINE: f64 = 0.002;

/// The pipe of the frame that a garland's line is tied to.
pub fn pipe(piece: &Piece) -> Option<Obstacle> {
    let tied = piece.mount == Mount::Frame && piece.garland.shape != Shape::Swag;
    tied.then(|| Obstacle::Along {
        offset: DVec3::new(0.0, 0.0, -PIPE - LINE),
        radius: PIPE,
    })
}

/// The path as the ties follow it, and what balls stay out of.
pub(super) struct Ground {
    pub(super) path: Path,
    /// From the first tip to the first tie, mm.
    pub(super) lead_mm: f64,
    /// The whole path, mm.
    pub(super) length_mm: f64,
    pub(super) closed: bool,
    pub(super) obstacles: Vec<Obstacle>,
}

impl Site<'_> {
    /// The path as the ties follow it, and what balls stay out of.
    pub(super) fn ground(&self, guess: &Build) -> Result<Ground, Refused> {
        let lead = if self.route.closed {
            0.0
        } else {
            let first = guess.line.first().into_iter().flatten();
            let half = first.map(|b| mm(b.dmm)).fold(0.0, f64::max) / 2.0;
            half.min(self.route.length / 2.0)
        };
        let points: Vec<DVec3> = self
            .route
            .after(lead)
            .into_iter()
            .map(|p| DVec3::from_array(p) / 1000.0)
            .collect();
        let path = match points.as_slice() {
            [a, b] => Path::straight(*a, *b),
            many => Path::polyline(many, self.route.closed).map_err(Refused::Path)?,
        };
        let radii: Vec<f64> = guess
            .line
            .iter()
            .flatten()
            .map(|b| mm(b.dmm) / 2000.0)
            .collect();
        let count = radii.iter().fold(0.0, |n, _| n + 1.0);
        let mean = radii.iter().sum::<f64>() / f64::max(count, 1.0);
        path.check(4.0 * mean).map_err(Refused::Path)?;
        Ok(Ground {
            path,
            lead_mm: lead,
            length_mm: self.route.length,
            closed: self.route.closed,
            obstacles: self.obstacles(mean),
        })
    }

    /// Whether it hangs on something that nobody looks through.
    pub(super) fn has_wall(&self) -> bool {
        matches!(
            self.piece.mount,
            Mount::Backdrop | Mount::WallHooks | Mount::Grid
        )
    }

    /// Where the floor is under what stands on it, in the path's own measure, mm. A line that is drawn lower than the floor takes the
    /// floor with it.
    pub(super) fn floor_mm(&self) -> Option<f64> {
        let stands = matches!(
            self.piece.garland.shape,
            Shape::Arch | Shape::HalfArch | Shape::Drawn | Shape::Stair
        ) && self.piece.mount != Mount::StairRail;
        let lowest = self.route.points.iter().map(|p| p[1]);
        stands.then(|| lowest.fold(whole(-self.piece.y_mm.max(0)), f64::min))
    }

    /// The floor under what stands on it, the wall or the balusters behind what hangs on them, and the pipe of a frame, which runs along
    /// the back of the line that is tied to it; only a swag hangs free of it.
    fn obstacles(&self, mean_radius: f64) -> Vec<Obstacle> {
        let mut obstacles = Vec::new();
        if let Some(floor) = self.floor_mm() {
            obstacles.push(Obstacle::HalfSpace {
                point: DVec3::new(0.0, floor / 1000.0, 0.0),
                normal: DVec3::Y,
            });
        }
        // a balustrade is as good as a wall: its balusters stand closer than balloons are wide
        if self.has_wall() || self.piece.mount == Mount::StairRail {
            obstacles.push(Obstacle::HalfSpace {
                point: DVec3::new(0.0, 0.0, -mean_radius * WALL),
                normal: DVec3::Z,
            });
        }
        obstacles.extend(pipe(self.piece));
        obstacles
    }
}

impl Ground {
    /// The clusters as they are packed: their ids, diameters, and where a spiral turns them to.
    pub(super) fn clusters(&self, site: &Site<'_>, build: &Build) -> Vec<Cluster> {
        let garland = &site.piece.garland;
        let spiral = garland.arrangement == job::piece::Arrangement::Spiral;
        let turn_mm = whole(garland.turn_mm.max(1));
        let mut along = self.lead_mm;
        build
            .line
            .iter()
            .zip(&build.numbers_of)
            .zip(&build.pitches_mm)
            .map(|((balls, number), pitch)| {
                let round = along / turn_mm;
                along += pitch;
                let turn = || turned_to(balls, site.recipe) + round;
                Cluster {
                    id: u64::try_from(*number).unwrap_or(u64::MAX),
                    diameters: balls.iter().map(|b| mm(b.dmm) / 1000.0).collect(),
                    turn: spiral
                        .then(turn)
                        .map(|turn| (turn - turn.floor()) * std::f64::consts::TAU),
                }
            })
            .collect()
    }
}

/// Where the first ball of a cluster lies on the circle of colours, so that all its balls lie as near as may be to the parts of their
/// colours, as a share of the circle: the mean direction of what each ball would ask for. Each takes as much of the circle as it is wide.
fn turned_to(balls: &[Ball], recipe: &Recipe) -> f64 {
    use std::f64::consts::TAU;
    let shares: Vec<f64> = recipe.palette.iter().map(|e| whole(e.share)).collect();
    let all = shares.iter().sum::<f64>().max(1.0);
    let part = |entry: usize| {
        let before: f64 = shares.iter().take(entry).sum();
        (before + shares.get(entry).copied().unwrap_or(0.0) / 2.0) / all
    };
    let wide: f64 = balls.iter().map(|b| mm(b.dmm)).sum::<f64>().max(1.0);
    let mut at = balls.first().map_or(0.0, |b| -mm(b.dmm) / 2.0);
    let (mut x, mut y) = (0.0, 0.0);
    for ball in balls {
        let d = mm(ball.dmm);
        let asks = TAU * (part(ball.entry) - (at + d / 2.0) / wide);
        x += d * libm::cos(asks);
        y += d * libm::sin(asks);
        at += d;
    }
    // balls of one colour all round ask for nothing
    if x * x + y * y < 1e-6 * wide * wide {
        return balls.first().map_or(0.0, |b| part(b.entry));
    }
    libm::atan2(y, x) / TAU
}

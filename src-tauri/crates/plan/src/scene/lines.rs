//! What hangs along a line: garlands and chains.

use job::Job;
use job::piece::{Frame, FrameForm, LinkForm, Mount, Piece, PieceKind, Shape};
use solve::curve::Curve;

use super::place::{Place, within};
use super::{BallKind, LINE_SRGB, SceneBall, SceneTube, Set, TubeKind};
use crate::types::{ChainPlan, GarlandPlan, Made};

/// Half the thickness of the line, dmm.
const LINE_R: i64 = 15;
/// Turn from cluster to cluster where they were not packed: the golden angle, so that no rows form.
const TURN: f64 = 2.399_963_229_728_653;
/// A ball of a cluster that was not packed stands off the line by this share of what a ring of rigid balls would need: balloons press
/// into each other, and the next clusters push into the gaps.
const NESTLE: f64 = 0.86;
/// The foot of a hoop is no higher than this, dmm.
const HIGHEST_FOOT: i64 = 6000;
/// Chains alike hang so far below each other, dmm, and so many at most are shown.
const CHAIN_STEP: i64 = 2600;
const MOST_CHAINS: i64 = 8;
/// Most links that are shown of one chain.
const MOST_LINKS: usize = 2000;
/// A ring link is drawn with so many straight parts; half the thickness of its tube and its width, over the pitch: as they look, no
/// source.
const RING_PARTS: u32 = 16;
const RING_TUBE: f64 = 0.13;
const RING_WIDE: f64 = 0.72;
/// Balls and line stand this far before the frame's middle, dmm: they are tied to its front, as they were packed.
const BEFORE: i64 = 180;
/// No ball reaches further behind its line, dmm.
const FURTHEST_BEHIND: i64 = 20_000;
/// What hangs low is raised so that its lowest point is this far above the floor, mm.
const CLEAR_MM: i64 = 900;

/// How high a hanging piece that says no height is shown, dmm: as its mount usually stands, or from the ceiling
/// where its height is known. Common practice, no source.
pub fn hanging(piece: &Piece, ceiling_mm: i64, of_frame_mm: i64, path: &[[i64; 2]]) -> i64 {
    if piece.y_mm != 0 {
        return 0;
    }
    let usual = match piece.mount {
        _ if of_frame_mm > 0 => of_frame_mm,
        Mount::StairRail => super::stair::RAIL / 10,
        Mount::CeilingPoints if ceiling_mm > 0 => within(ceiling_mm),
        Mount::CeilingPoints => 2700,
        Mount::Grid | Mount::Backdrop => 1900,
        Mount::Frame | Mount::WallHooks | Mount::Newer => 2100,
    };
    let lowest = path.iter().map(|p| within(p[1])).min().unwrap_or(0);
    usual.max(CLEAR_MM - lowest) * 10
}

/// A garland up a stair hangs on its rail.
pub fn on_rail(piece: &Piece) -> bool {
    piece.garland.shape == Shape::Stair && piece.mount == Mount::StairRail
}

/// What hangs before something flat leans on it; the pipe of a frame runs through between the balls.
fn leans(mount: Mount) -> bool {
    matches!(mount, Mount::Backdrop | Mount::Grid | Mount::StairRail)
}

/// How far its balls reach behind the line, dmm: so far before a panel or rail the line hangs, and none is in it. Where they were not
/// packed, as far as two balls of the mean size.
pub fn behind(garland: &GarlandPlan) -> i64 {
    let packed = garland.packed.iter().map(|b| b.r - b.at[2]).max();
    let all = || garland.clusters.iter().flat_map(|c| &c.balls);
    let mean = all().fold(0i64, |sum, b| {
        sum.saturating_add(b.blown_dmm.clamp(0, 20_000))
    }) / i64::try_from(all().count()).unwrap_or(1).max(1);
    packed.unwrap_or(mean).clamp(0, FURTHEST_BEHIND)
}

/// A hoop that says no height stands so high that the balloons under it find room, dmm.
pub fn lift(piece: &Piece, garland: &GarlandPlan) -> i64 {
    if piece.garland.shape != Shape::Hoop || piece.y_mm > 0 {
        return 0;
    }
    let lowest = garland.packed.iter().map(|b| b.at[1] - b.r).min();
    (-lowest.unwrap_or(0)).clamp(0, HIGHEST_FOOT)
}

/// How far a garland goes through the floor, dmm; 0 where it hangs as its mount usually does.
pub fn through_floor(job: &Job, piece: &Piece, garland: &GarlandPlan) -> i64 {
    let frame = job.pieces.get(&piece.on).filter(|f| !f.gone);
    let on_rail = on_rail(piece) || frame.is_some_and(|f| f.frame.form == FrameForm::Rail);
    if piece.y_mm == 0 && (on_rail || !stands(piece)) {
        return 0;
    }
    let foot = within(piece.y_mm.saturating_add(frame.map_or(0, |f| f.y_mm)));
    let lowest = garland.packed.iter().map(|b| b.at[1] - b.r).min();
    (-(foot * 10 + lift(piece, garland) + lowest.unwrap_or(0))).max(0)
}

/// How far the line of what hangs goes through the ceiling, dmm; 0 where the ceiling is not known or a frame of the job carries it.
pub fn through_ceiling(job: &Job, piece: &Piece, path: &[[i64; 2]]) -> i64 {
    let ceiling = within(job.venue.ceiling_mm);
    let standing = piece.kind == PieceKind::Garland && stands(piece) && piece.y_mm == 0;
    if ceiling <= 0 || standing || !piece.on.is_empty() {
        return 0;
    }
    let foot = within(piece.y_mm) * 10 + hanging(piece, ceiling, 0, path);
    let top = path.iter().map(|p| within(p[1])).max().unwrap_or(0);
    (foot + top * 10 - ceiling * 10).max(0)
}

/// What stands at the height that it says; the others hang.
fn stands(piece: &Piece) -> bool {
    matches!(
        piece.garland.shape,
        Shape::Arch | Shape::HalfArch | Shape::Hoop | Shape::Drawn | Shape::Stair
    )
}

impl Set<'_> {
    /// Its own place, or that of the frame it hangs on, whose middle it shares.
    pub fn place_of_garland(&self, piece: &Piece, garland: &GarlandPlan) -> Place {
        let stands = stands(piece);
        let frame = self.job.pieces.get(&piece.on).filter(|f| !f.gone);
        let counted = self.plan.pieces.iter().find(|p| p.piece == piece.on);
        let Some((frame, measures)) = frame.zip(counted.and_then(|c| c.frame.as_ref())) else {
            let place = Place::of(piece);
            return if stands && !on_rail(piece) {
                place.raised(lift(piece, garland))
            } else {
                place.raised(hanging(piece, self.job.venue.ceiling_mm, 0, &garland.path))
            };
        };
        let xs = || garland.path.iter().map(|p| within(p[0]));
        let middle = (xs().min().unwrap_or(0) + xs().max().unwrap_or(0)) / 2;
        let x = (within(measures.width_mm) / 2 - middle + within(piece.x_mm)) * 10;
        let up = match frame.frame.form {
            _ if stands => within(piece.y_mm) * 10 + lift(piece, garland),
            FrameForm::Rail => within(measures.height_mm.max(CLEAR_MM)) * 10,
            _ => {
                within(piece.y_mm) * 10
                    + hanging(piece, 0, within(measures.height_mm), &garland.path)
            }
        };
        let off = if leans(piece.mount) {
            BEFORE.max(behind(garland))
        } else {
            BEFORE
        };
        Place::of(frame).shifted([x, up, off + within(piece.z_mm) * 10])
    }

    /// The same for a frame that is a piece: as the garland on it asks.
    pub fn lift_of(&self, id: &str, frame: &Frame) -> i64 {
        if frame.form != FrameForm::Hoop {
            return 0;
        }
        let hung = self.plan.pieces.iter().filter_map(|p| {
            let piece = self.job.pieces.get(&p.piece).filter(|j| j.on == id)?;
            Some(lift(piece, p.garland.as_ref()?))
        });
        hung.max().unwrap_or(0)
    }

    /// The path of the arch that hangs on a frame, in the frame's own measure, dmm.
    pub fn arch_on(&self, frame: &str) -> Option<Vec<[i64; 2]>> {
        let width = self
            .plan
            .pieces
            .iter()
            .find(|p| p.piece == frame)?
            .frame
            .as_ref()?
            .width_mm;
        let carried = self.plan.pieces.iter().filter(|p| {
            self.job.pieces.get(&p.piece).is_some_and(|j| {
                j.on == frame
                    && matches!(j.garland.shape, Shape::Arch | Shape::HalfArch | Shape::Hoop)
            })
        });
        let path = &carried.filter_map(|p| p.garland.as_ref()).next()?.path;
        let xs = || path.iter().map(|p| within(p[0]));
        let shift = within(width) / 2 - (xs().min()? + xs().max()?) / 2;
        Some(
            path.iter()
                .map(|p| [(within(p[0]) + shift) * 10, within(p[1]) * 10])
                .collect(),
        )
    }

    /// Where foils stand that are put into a garland: their middle before its line, so far along it as they say, upright, and half sunk
    /// into the balls that reach furthest forward behind them. None if they are in no garland.
    pub fn in_garland(&self, piece: &Piece, made: &Made) -> Option<Place> {
        if !super::nestles(piece) {
            return None;
        }
        let into = self.job.pieces.get(&piece.on).filter(|p| !p.gone)?;
        let counted = self.plan.pieces.iter().find(|p| p.piece == piece.on)?;
        let garland = counted.garland.as_ref()?;
        let path = Walk::of(&garland.path);
        let along = (within(piece.foils.along_mm) * 10) as f64;
        let (at, _) = path.at(along.clamp(0.0, path.length));
        let place = self.place_of_garland(into, garland);
        let half = [made.width_mm, made.height_mm].map(|v| within(v).max(0) * 5);
        let middle = place.put([at[0].round() as i64, at[1].round() as i64, 0]);
        let behind = self.scene.balls.iter().filter(|b| b.piece == piece.on);
        let front = behind
            .filter(|b| (0..2).all(|i| (b.at[i] - middle[i]).abs() <= half[i] + b.r / 2))
            .map(|b| b.at[2] + b.r * 4 / 5)
            .max();
        let front = front.map_or(0, |z| z - middle[2]).max(0);
        let [x, y] = [
            at[0].round() as i64 - half[0],
            at[1].round() as i64 - half[1],
        ];
        Some(place.shifted([x, y, front]))
    }

    /// The balls of the line where they were packed, or in rings about their ties; fillers; the line itself.
    pub fn garland(&mut self, id: &str, garland: &GarlandPlan, place: &Place) {
        let balls: usize = garland.clusters.iter().map(|c| c.balls.len()).sum();
        let packed = garland.packed.len() == balls;
        let path = Walk::of(&garland.path);
        let mut first = 0;
        for (n, cluster) in garland.clusters.iter().enumerate() {
            let here = first;
            first += cluster.balls.len();
            if n % self.stride != 0 {
                continue;
            }
            let tie = garland
                .ties_mm
                .get(n)
                .map_or(0.0, |t| within(*t) as f64 * 10.0);
            let radii: Vec<f64> = cluster
                .balls
                .iter()
                .map(|b| radius(b.blown_dmm) as f64)
                .collect();
            let ring = if packed {
                Vec::new()
            } else {
                ring(&radii, TURN * n as f64)
            };
            let (at, along) = path.at(tie);
            for (k, ball) in cluster.balls.iter().enumerate() {
                let spot = garland.packed.get(here + k).filter(|_| packed);
                let (point, r) = match spot {
                    Some(spot) => (spot.at, spot.r),
                    None => (about(at, along, ring[k]), radius(ball.blown_dmm)),
                };
                self.scene.balls.push(SceneBall {
                    at: place.put(point),
                    r,
                    colour: ball.colour.clone(),
                    inside: ball.inside.clone(),
                    piece: id.into(),
                    cluster: i64::try_from(n).unwrap_or(i64::MAX),
                    kind: BallKind::Line,
                });
            }
        }
        for filler in &garland.fillers_at {
            self.scene.balls.push(SceneBall {
                at: place.put(filler.at),
                r: filler.r,
                colour: filler.colour.clone(),
                inside: String::new(),
                piece: id.into(),
                cluster: i64::from(filler.cluster),
                kind: BallKind::Filler,
            });
        }
        let tie = |n: Option<&i64>| n.map(|t| within(*t) as f64 * 10.0);
        let ends = [garland.ties_mm.first(), garland.ties_mm.last()].map(tie);
        self.line(id, &path, ends, place);
    }

    /// The line from the first tie to the last: its ends are cut off behind the knots.
    fn line(&mut self, id: &str, path: &Walk, ends: [Option<f64>; 2], place: &Place) {
        let round = path.is_closed();
        let [from, to] = match ends {
            [Some(from), Some(to)] if !round && from < to => [from, to],
            _ => [0.0, path.length],
        };
        let inner = path.ways.iter().filter(|w| from < **w && **w < to);
        let mut before = path.at(from).0;
        for way in inner.chain(std::iter::once(&to)) {
            let here = path.at(*way).0;
            let [a, b] = [before, here].map(|p| [p[0].round() as i64, p[1].round() as i64, 0]);
            before = here;
            self.scene.tubes.push(SceneTube {
                from: place.put(a),
                to: place.put(b),
                r: LINE_R,
                what: TubeKind::Line,
                srgb: LINE_SRGB.into(),
                piece: id.into(),
            });
        }
    }

    /// Chains alike below each other; links tail to tail along the curve, ring links through each other.
    pub fn chain(&mut self, id: &str, chain: &ChainPlan, place: &Place) {
        let path = Walk::of(&chain.path);
        let links = chain.colours.len().min(MOST_LINKS);
        let pitch = path.length / links.max(1) as f64;
        for row in 0..chain.count.clamp(0, MOST_CHAINS) {
            for (n, colour) in chain.colours.iter().take(links).enumerate() {
                let (at, along) = path.at(pitch * (n as f64 + 0.5));
                let at = [at[0], at[1] - (row * CHAIN_STEP) as f64];
                if chain.form == LinkForm::Ring {
                    self.ring_link(id, colour, pitch, n % 2 == 0, (at, along), place);
                    continue;
                }
                self.scene.balls.push(SceneBall {
                    at: place.put([at[0].round() as i64, at[1].round() as i64, 0]),
                    r: (pitch * 0.49).round() as i64,
                    colour: colour.clone(),
                    inside: String::new(),
                    piece: id.into(),
                    cluster: -1,
                    kind: BallKind::Link,
                });
            }
        }
    }

    /// A ring link: a long ring of foil about its place on the curve, every second one seen from its edge, through both beside it.
    fn ring_link(
        &mut self,
        id: &str,
        colour: &str,
        pitch: f64,
        flat: bool,
        (at, along): ([f64; 2], [f64; 2]),
        place: &Place,
    ) {
        let r = RING_TUBE * pitch;
        // neighbours hang in each other by the thickness of their tubes
        let half = [pitch / 2.0 + r, RING_WIDE * pitch / 2.0];
        let srgb = self.srgb(colour);
        let spot = |step: u32| {
            let angle = f64::from(step) / f64::from(RING_PARTS) * std::f64::consts::TAU;
            let across = half[1] * libm::sin(angle);
            let aside = if flat { [across, 0.0] } else { [0.0, across] };
            about(at, along, [half[0] * libm::cos(angle), aside[0], aside[1]])
        };
        for step in 0..RING_PARTS {
            self.scene.tubes.push(SceneTube {
                from: place.put(spot(step)),
                to: place.put(spot(step + 1)),
                r: r.round() as i64,
                what: TubeKind::Foil,
                srgb: srgb.clone(),
                piece: id.into(),
            });
        }
    }
}

fn radius(blown_dmm: i64) -> i64 {
    blown_dmm.clamp(10, 20_000) / 2
}

/// Where the balls of a cluster stand about a tie that was not packed: along the line, and across it twice, dmm.
fn ring(radii: &[f64], turn: f64) -> Vec<[f64; 3]> {
    let whole: f64 = radii.iter().sum();
    let mut angle = turn;
    radii
        .iter()
        .enumerate()
        .map(|(n, r)| {
            // each takes as much of the turn as it is wide
            let share = std::f64::consts::PI * r / whole.max(1.0);
            angle += share;
            let off = NESTLE * r / libm::sin(share.clamp(0.35, std::f64::consts::FRAC_PI_2));
            let spot = [
                if n % 2 == 0 { 0.22 * r } else { -0.22 * r },
                off * libm::cos(angle),
                off * libm::sin(angle),
            ];
            angle += share;
            spot
        })
        .collect()
}

/// A point about a point of the line.
fn about(at: [f64; 2], along: [f64; 2], spot: [f64; 3]) -> [i64; 3] {
    let [a, across, front] = spot;
    [
        at[0] + along[0] * a - along[1] * across,
        at[1] + along[1] * a + along[0] * across,
        front,
    ]
    .map(|v| v.round() as i64)
}

/// A line through points, walked by length, dmm.
struct Walk {
    points: Vec<[f64; 2]>,
    /// Way to each point.
    ways: Vec<f64>,
    length: f64,
}

impl Walk {
    fn of(points: &[[i64; 2]]) -> Walk {
        let points: Vec<[f64; 2]> = points
            .iter()
            .map(|p| p.map(|v| within(v) as f64 * 10.0))
            .collect();
        let mut ways = vec![0.0];
        for two in points.windows(2) {
            let (dx, dy) = (two[1][0] - two[0][0], two[1][1] - two[0][1]);
            ways.push(ways[ways.len() - 1] + (dx * dx + dy * dy).sqrt());
        }
        let length = ways[ways.len() - 1];
        Walk {
            points,
            ways,
            length,
        }
    }

    /// Whether it ends where it begins.
    fn is_closed(&self) -> bool {
        self.points.len() > 2 && self.points.first() == self.points.last()
    }

    /// The point at a way from the first, and the direction there; beyond an end it goes straight on.
    fn at(&self, way: f64) -> ([f64; 2], [f64; 2]) {
        let last = self.points.len().saturating_sub(2);
        let part = self
            .ways
            .partition_point(|w| *w <= way)
            .saturating_sub(1)
            .min(last);
        let (Some(a), Some(b)) = (self.points.get(part), self.points.get(part + 1)) else {
            return ([way, 0.0], [1.0, 0.0]);
        };
        let step = self.ways[part + 1] - self.ways[part];
        if step <= 0.0 {
            return (*a, [1.0, 0.0]);
        }
        let along = [(b[0] - a[0]) / step, (b[1] - a[1]) / step];
        let left = way - self.ways[part];
        ([a[0] + along[0] * left, a[1] + along[1] * left], along)
    }
}

/// Points of a curve for the frame that follows it, dmm.
pub fn bent(width_mm: i64, height_mm: i64) -> Vec<[i64; 2]> {
    let curve = Curve::HalfEllipse {
        span: within(width_mm) as f64 * 10.0,
        rise: within(height_mm) as f64 * 10.0,
    };
    let points = curve.points(33, 1e-4);
    points
        .into_iter()
        .map(|p| p.map(|v| v.round() as i64))
        .collect()
}

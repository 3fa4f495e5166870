//! Where everything of a job stands in one room, for pictures: balls, rods and panels.
//!
//! Tenths of a millimetre throughout; x to the right, y up from the floor, z towards the viewer.

mod frames;
mod lines;
mod place;
mod stage;
mod stair;

use job::Job;
use job::list::live;
use job::piece::{Piece, PieceKind};
use job::set_piece::FoilStand;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::Plan;
use crate::types::{DrawnBall, DrawnRod, FramePlan, Made, PiecePlan};
use place::{Place, within};

pub(crate) use lines::{through_ceiling, through_floor};
pub use stage::staged;

/// The most balls that a picture shows of a job; beyond, every second, third … cluster stands for all.
const MOST_BALLS: usize = 20_000;
/// The most pieces alike that are shown beside each other.
const MOST_ALIKE: i64 = 24;
/// Air between pieces alike, dmm.
const BETWEEN: i64 = 3000;
/// A rod that is no balloon is a ribbon below this radius, dmm, and a stick above.
const RIBBON: i64 = 30;
/// Painted steel, wood of a rail, ribbon, the line, and a colour that the job has lost.
const STEEL: &str = "#6d6a63";
const WOOD: &str = "#8a6a4a";
const RIBBON_SRGB: &str = "#d9d2c2";
const LINE_SRGB: &str = "#efece4";
const LOST: &str = "#ffffff";

/// Shared derives of the scene's records.
macro_rules! plain {
    ($($(#[$meta:meta])* pub struct $name:ident { $($(#[$fmeta:meta])* pub $field:ident : $ty:ty,)* })*) => {$(
        $(#[$meta])*
        #[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
        pub struct $name { $($(#[$fmeta])* pub $field: $ty,)* }
    )*};
}

plain! {
    /// Everything to be seen, in one room.
    pub struct Scene {
        /// Balloons.
        pub balls: Vec<SceneBall>,
        /// Rods with round ends.
        pub tubes: Vec<SceneTube>,
        /// Flat boxes.
        pub panels: Vec<ScenePanel>,
        /// Least corner of all that is shown; 0 if there is nothing.
        pub low: [i64; 3],
        /// Greatest corner.
        pub high: [i64; 3],
        /// One cluster in so many is shown; 1 is all of them.
        pub stride: i64,
    }

    /// A balloon.
    pub struct SceneBall {
        /// Its middle.
        pub at: [i64; 3],
        /// Its radius.
        pub r: i64,
        /// Colour, id.
        pub colour: String,
        /// Double-stuffed: the colour inside, id; empty for a single balloon.
        pub inside: String,
        /// The piece, id.
        pub piece: String,
        /// Its cluster along the line, from 0; -1 if it is in none.
        pub cluster: i64,
        /// What it is.
        pub kind: BallKind,
    }

    /// A rod with round ends.
    pub struct SceneTube {
        /// Middle of one end.
        pub from: [i64; 3],
        /// Middle of the other.
        pub to: [i64; 3],
        /// Half its thickness.
        pub r: i64,
        /// What it is.
        pub what: TubeKind,
        /// sRGB as `#rrggbb`.
        pub srgb: String,
        /// The piece, id.
        pub piece: String,
    }

    /// A box with upright sides.
    pub struct ScenePanel {
        /// Least corner before it is turned.
        pub low: [i64; 3],
        /// Greatest corner before it is turned.
        pub high: [i64; 3],
        /// Turned about the upright through its middle, degrees; seen from above against the clock.
        pub turn_deg: i64,
        /// What it is.
        pub what: PanelKind,
        /// sRGB as `#rrggbb`.
        pub srgb: String,
        /// The piece, id.
        pub piece: String,
    }
}

/// Shared derives of the scene's words.
macro_rules! word {
    ($($(#[$meta:meta])* pub enum $name:ident { $($(#[$vmeta:meta])* $variant:ident,)* })*) => {$(
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, TS)]
        #[serde(rename_all = "snake_case")]
        pub enum $name { $($(#[$vmeta])* $variant,)* }
    )*};
}

word! {
    /// What a balloon is in its piece.
    pub enum BallKind {
        /// In a cluster of the line.
        #[default]
        Line,
        /// A filler of a garland.
        Filler,
        /// A link of a chain.
        Link,
        /// In a piece of another kind.
        Made,
    }

    /// What a rod is.
    pub enum TubeKind {
        /// Of a frame.
        #[default]
        Frame,
        /// The line of a garland.
        Line,
        /// A stroke of a foil.
        Foil,
        /// A ribbon.
        Ribbon,
        /// A stick or post.
        Stick,
    }

    /// What a box is.
    pub enum PanelKind {
        /// A standing panel.
        #[default]
        Backdrop,
        /// A foot.
        Foot,
        /// A step of a stair.
        Step,
    }
}

/// The scene of a plan.
#[must_use]
pub fn scene(job: &Job, plan: &Plan) -> Scene {
    let total: usize = plan.pieces.iter().map(balls_of).sum();
    let stride = total.div_ceil(MOST_BALLS).max(1);
    let mut set = Set {
        job,
        plan,
        stride,
        scene: Scene {
            stride: i64::try_from(stride).unwrap_or(i64::MAX),
            ..Scene::default()
        },
    };
    // what is put into a garland comes after all garlands: it lies before their balls
    for last in [false, true] {
        for (id, piece) in live(&job.pieces) {
            let counted = plan.pieces.iter().find(|p| p.piece == id);
            if let Some(counted) = counted.filter(|_| nestles(piece) == last) {
                set.add(piece, counted);
            }
        }
    }
    let (low, high) = bounds(&set.scene);
    (set.scene.low, set.scene.high) = (low, high);
    set.scene
}

impl Scene {
    /// The same room with one piece, and the frame that it hangs on, alone in it. A garland has the foils that are put into it, and they
    /// have their garland.
    #[must_use]
    pub fn only(&self, job: &Job, piece: &str) -> Scene {
        let known = |id: &str| job.pieces.get(id).filter(|p| !p.gone);
        let into = |id: &str| known(id).filter(|p| nestles(p) && known(&p.on).is_some());
        let whole = into(piece).map_or(piece, |foils| foils.on.as_str());
        let on = job.pieces.get(whole).map_or("", |p| p.on.as_str());
        let shown = |id: &str| id == whole || into(id).is_some_and(|foils| foils.on == whole);
        let kept = |id: &str| shown(id) || id == on;
        let mut scene = self.clone();
        scene.balls.retain(|b| shown(&b.piece));
        scene.tubes.retain(|t| kept(&t.piece));
        scene.panels.retain(|p| kept(&p.piece));
        (scene.low, scene.high) = bounds(&scene);
        scene
    }
}

/// Foils that are put into a garland.
fn nestles(piece: &Piece) -> bool {
    piece.kind == PieceKind::Foils && piece.foils.stand == FoilStand::InGarland
}

fn balls_of(piece: &PiecePlan) -> usize {
    let garland = piece.garland.as_ref();
    let made = piece.made.as_ref();
    garland.map_or(0, |g| {
        g.clusters.iter().map(|c| c.balls.len()).sum::<usize>() + g.fillers_at.len()
    }) + made.map_or(0, |m| {
        let alike = usize::try_from(m.count.clamp(1, MOST_ALIKE)).unwrap_or(1);
        m.balls_drawn.len().saturating_mul(alike)
    })
}

/// A scene that is being set.
struct Set<'a> {
    job: &'a Job,
    plan: &'a Plan,
    stride: usize,
    scene: Scene,
}

impl Set<'_> {
    fn add(&mut self, piece: &Piece, counted: &PiecePlan) {
        if let Some(garland) = &counted.garland {
            let place = self.place_of_garland(piece, garland);
            self.garland(&counted.piece, garland, &place);
            if lines::on_rail(piece) && piece.y_mm == 0 {
                self.stair(
                    &counted.piece,
                    &piece.garland,
                    lines::behind(garland),
                    &place,
                );
            }
        }
        if let Some(chain) = &counted.chain {
            let place = Place::of(piece).raised(lines::hanging(
                piece,
                self.job.venue.ceiling_mm,
                0,
                chain.path.as_slice(),
            ));
            self.chain(&counted.piece, chain, &place);
        }
        if let Some(frame) = &counted.frame {
            self.frames(piece, counted, frame);
        }
        if let Some(made) = &counted.made {
            self.made(piece, &counted.piece, made);
        }
    }

    /// Frames alike, side by side.
    fn frames(&mut self, piece: &Piece, counted: &PiecePlan, frame: &FramePlan) {
        let bent = self.arch_on(&counted.piece);
        let lift = self.lift_of(&counted.piece, &piece.frame);
        let step = apart(piece, frame.width_mm);
        for n in 0..frame.count.clamp(0, MOST_ALIKE) {
            let place = Place::of(piece).shifted([n * step, 0, 0]);
            // the frame that carries an arch follows it; others alike stand as they are
            let bent = bent.as_deref().filter(|_| n == 0);
            let parts = frames::parts(&piece.frame, frame, bent, lift);
            self.frame_parts(&counted.piece, &parts, &place);
        }
    }

    fn frame_parts(&mut self, id: &str, parts: &frames::Parts, place: &Place) {
        for (from, to, r) in &parts.tubes {
            self.scene.tubes.push(SceneTube {
                from: place.put(*from),
                to: place.put(*to),
                r: *r,
                what: TubeKind::Frame,
                srgb: parts.srgb.into(),
                piece: id.into(),
            });
        }
        for (low, high, what, srgb) in &parts.panels {
            let (low, high, turn_deg) = place.put_box(*low, *high);
            self.scene.panels.push(ScenePanel {
                low,
                high,
                turn_deg,
                what: *what,
                srgb: (*srgb).into(),
                piece: id.into(),
            });
        }
    }

    /// Pieces that were counted from their measures, side by side where they are alike.
    fn made(&mut self, piece: &Piece, id: &str, made: &Made) {
        let step = apart(piece, made.width_mm);
        let foot = self
            .in_garland(piece, made)
            .unwrap_or_else(|| Place::of(piece));
        for n in 0..made.count.clamp(1, MOST_ALIKE) {
            let place = foot.shifted([n * step, 0, 0]);
            for ball in made.balls_drawn.iter().step_by(self.stride) {
                self.made_ball(id, ball, &place);
            }
            for rod in &made.rods_drawn {
                self.made_rod(id, rod, &place);
            }
        }
    }

    fn made_ball(&mut self, id: &str, ball: &DrawnBall, place: &Place) {
        self.scene.balls.push(SceneBall {
            at: place.put(ball.at),
            r: ball.r,
            colour: ball.colour.clone(),
            inside: ball.inside.clone(),
            piece: id.into(),
            cluster: -1,
            kind: BallKind::Made,
        });
    }

    fn made_rod(&mut self, id: &str, rod: &DrawnRod, place: &Place) {
        let (what, srgb) = if !rod.colour.is_empty() {
            (TubeKind::Foil, self.srgb(&rod.colour))
        } else if rod.r < RIBBON {
            (TubeKind::Ribbon, RIBBON_SRGB.into())
        } else {
            (TubeKind::Stick, STEEL.into())
        };
        self.scene.tubes.push(SceneTube {
            from: place.put(rod.from),
            to: place.put(rod.to),
            r: rod.r,
            what,
            srgb,
            piece: id.into(),
        });
    }

    fn srgb(&self, colour: &str) -> String {
        let known = self.job.colours.get(colour);
        known.map_or(LOST.into(), |c| c.srgb.clone())
    }
}

/// From one of several alike to the next, dmm.
fn apart(piece: &Piece, width_mm: i64) -> i64 {
    match piece.apart_mm {
        ..=0 => (within(width_mm) * 10).saturating_add(BETWEEN),
        mm => within(mm) * 10,
    }
}

/// Least and greatest corner of all that is shown.
fn bounds(scene: &Scene) -> ([i64; 3], [i64; 3]) {
    let balls = scene.balls.iter().map(|b| (b.at, b.r));
    let ends = scene
        .tubes
        .iter()
        .flat_map(|t| [(t.from, t.r), (t.to, t.r)]);
    let corners = scene
        .panels
        .iter()
        .flat_map(|p| place::corners(p).map(|c| (c, 0)));
    let mut found: Option<([i64; 3], [i64; 3])> = None;
    for (at, r) in balls.chain(ends).chain(corners) {
        let (low, high) = found.get_or_insert(([i64::MAX; 3], [i64::MIN; 3]));
        for axis in 0..3 {
            // an absurd radius reaches no further than an absurd place
            let within = |v: i64| v.clamp(-place::FURTHEST_DMM, place::FURTHEST_DMM);
            low[axis] = low[axis].min(within(at[axis].saturating_sub(r)));
            high[axis] = high[axis].max(within(at[axis].saturating_add(r)));
        }
    }
    found.unwrap_or_default()
}

#[cfg(test)]
mod tests;

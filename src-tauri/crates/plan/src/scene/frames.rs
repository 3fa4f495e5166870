//! What frames look like: tubes and panels in the frame's own measure, from its left foot, dmm.

use job::piece::{Frame, FrameForm};

use super::lines::bent;
use super::place::within;
use super::{PanelKind, STEEL, WOOD};
use crate::inflate::nearest;
use crate::types::FramePlan;

/// Half the thickness of a post, a mesh wire, a handrail, a baluster, dmm. Common practice, no source.
const POST_R: i64 = 160;
const WIRE_R: i64 = 25;
const HANDRAIL_R: i64 = 250;
const BALUSTER_R: i64 = 100;
/// From wire to wire and from baluster to baluster, dmm.
const WIRE_STEP: i64 = 1000;
const BALUSTER_STEP: i64 = 1200;
/// Most wires each way and most balusters.
const MOST: i64 = 60;
/// A panel's thickness, dmm, and its cloth.
const PANEL_DEEP: i64 = 200;
const CLOTH: &str = "#e9e4da";
/// A foot of plate: half its width, its height, dmm.
const PLATE: i64 = 1500;
const PLATE_HIGH: i64 = 80;

/// One end, the other end, half the thickness.
type Tube = ([i64; 3], [i64; 3], i64);
/// Least and greatest corner.
type Panel = ([i64; 3], [i64; 3], PanelKind, &'static str);

/// What a frame is made of.
pub struct Parts {
    /// Its tubes.
    pub tubes: Vec<Tube>,
    /// Its boxes.
    pub panels: Vec<Panel>,
    /// Colour of the tubes.
    pub srgb: &'static str,
}

/// A frame. `carried` is the arch that it follows, if it carries one; a hoop stands `lift` over the floor.
pub fn parts(frame: &Frame, plan: &FramePlan, carried: Option<&[[i64; 2]]>, lift: i64) -> Parts {
    let (w, h) = (
        within(plan.width_mm).max(0) * 10,
        within(plan.height_mm).max(0) * 10,
    );
    let deep = within(frame.base_mm).clamp(0, 10_000) * 10;
    let mut parts = Parts {
        tubes: Vec::new(),
        panels: Vec::new(),
        srgb: STEEL,
    };
    match (frame.form, carried) {
        (FrameForm::Gate | FrameForm::Arch | FrameForm::Newer, Some(path)) => {
            parts.arch(path, deep)
        }
        (FrameForm::Arch, None) => parts.arch(&bent(plan.width_mm, plan.height_mm), deep),
        (FrameForm::Hoop, _) => parts.hoop(w, h, deep, lift),
        (FrameForm::Backdrop, _) => parts.backdrop(w, h, deep),
        (FrameForm::Rail, _) => parts.rail(w, h),
        (FrameForm::Mesh, _) => parts.mesh(w, h, deep),
        (FrameForm::Gate | FrameForm::Newer, None) => parts.gate(w, h, deep),
    }
    parts
}

impl Parts {
    fn tube(&mut self, from: [i64; 3], to: [i64; 3], r: i64) {
        self.tubes.push((from, to, r));
    }

    /// A plate under a post, and a bar from front to back.
    fn foot(&mut self, x: i64, deep: i64) {
        let half = deep / 2;
        if half > PLATE {
            self.tube([x, POST_R, -half], [x, POST_R, half], POST_R);
        }
        self.panels.push((
            [x - PLATE, 0, -PLATE],
            [x + PLATE, PLATE_HIGH, PLATE],
            PanelKind::Foot,
            STEEL,
        ));
    }

    fn gate(&mut self, w: i64, h: i64, deep: i64) {
        for x in [0, w] {
            self.tube([x, POST_R, 0], [x, h, 0], POST_R);
            self.foot(x, deep);
        }
        self.tube([0, h, 0], [w, h, 0], POST_R);
    }

    fn arch(&mut self, path: &[[i64; 2]], deep: i64) {
        for two in path.windows(2) {
            let [a, b] = [two[0], two[1]].map(|p| [p[0], p[1].max(POST_R), 0]);
            self.tube(a, b, POST_R);
        }
        let ends = [path.first(), path.last()].into_iter().flatten();
        for end in ends.clone().filter(|end| end[1] <= PLATE_HIGH) {
            self.foot(end[0], deep);
        }
        // what reaches over to one side has a bar on the floor under it
        if ends.clone().any(|end| end[1] > PLATE_HIGH) {
            let xs = ends.map(|end| end[0]).collect::<Vec<_>>();
            if let [a, b] = xs.as_slice() {
                self.tube([*a, POST_R, 0], [*b, POST_R, 0], POST_R);
            }
        }
    }

    /// A closed ring that stands on a foot.
    fn hoop(&mut self, w: i64, h: i64, deep: i64, lift: i64) {
        let half = bent((w / 10).max(1), (h / 20).max(1));
        for two in half.windows(2) {
            let up = |p: [i64; 2]| [p[0], lift + h / 2 + p[1], 0];
            let down = |p: [i64; 2]| [p[0], (lift + h / 2 - p[1]).max(POST_R), 0];
            self.tube(up(two[0]), up(two[1]), POST_R);
            self.tube(down(two[0]), down(two[1]), POST_R);
        }
        let foot = (w / 4).max(PLATE);
        self.tube([w / 2 - foot, POST_R, 0], [w / 2 + foot, POST_R, 0], POST_R);
        for x in [w / 2 - foot, w / 2 + foot] {
            if lift > 0 {
                // up to the ring, of which a foot stands at half its half width: the root of three quarters of the height
                let rise = lift + h / 2 - nearest((h / 2) as f64 * 0.75_f64.sqrt());
                self.tube([x, POST_R, 0], [x, rise, 0], POST_R);
            }
            self.foot(x, deep);
        }
    }

    fn backdrop(&mut self, w: i64, h: i64, deep: i64) {
        self.panels
            .push(([0, 0, -PANEL_DEEP], [w, h, 0], PanelKind::Backdrop, CLOTH));
        for x in [w / 8, w - w / 8] {
            // a foot that ends in the panel: one that came through it was a dot on its front
            let back = PANEL_DEEP + POST_R;
            self.tube([x, POST_R, -deep.max(back)], [x, POST_R, -back], POST_R);
        }
    }

    fn rail(&mut self, w: i64, h: i64) {
        self.srgb = WOOD;
        self.tube([0, h, 0], [w, h, 0], HANDRAIL_R);
        let steps = (w / BALUSTER_STEP).clamp(1, MOST);
        for n in 0..=steps {
            let x = w * n / steps;
            self.tube([x, 0, 0], [x, h, 0], BALUSTER_R);
        }
    }

    fn mesh(&mut self, w: i64, h: i64, deep: i64) {
        let (across, up) = (
            (w / WIRE_STEP).clamp(1, MOST),
            (h / WIRE_STEP).clamp(1, MOST),
        );
        for n in 0..=across {
            let x = w * n / across;
            self.tube([x, WIRE_R, 0], [x, h, 0], WIRE_R);
        }
        for n in 0..=up {
            let y = (h * n / up).max(WIRE_R);
            self.tube([0, y, 0], [w, y, 0], WIRE_R);
        }
        for x in [0, w] {
            self.foot(x, deep);
        }
    }
}

//! The stair under a garland that hangs on its rail: what a client knows of it, drawn so that the garland does not float.

use job::piece::Garland;

use super::place::{Place, within};
use super::{PanelKind, ScenePanel, SceneTube, Set, TubeKind, WOOD};

/// The rail over the front edges of the steps, dmm: where the line is tied.
pub const RAIL: i64 = 9500;
/// A step is about so high, dmm. Common practice, no source.
const STEP: i64 = 1750;
/// Most steps that are drawn.
const MOST: i64 = 60;
/// The flight is so wide, dmm, behind the rail.
const WIDE: i64 = 9000;
/// Half the thickness of rail and baluster, dmm, and from the rail back to the balusters.
const RAIL_R: i64 = 250;
const BALUSTER_R: i64 = 100;
/// The rail is at least so far behind the line, dmm.
const BACK: i64 = 400;
/// On a landing a baluster stands about every so far, dmm.
const APART: i64 = 2500;
/// Painted steps.
const STEPS: &str = "#e4ddd0";

impl Set<'_> {
    /// Steps, balusters and rail. `place` is that of the garland's first tip, whose balls reach so far `behind` its line.
    pub fn stair(&mut self, id: &str, garland: &Garland, behind: i64, place: &Place) {
        let back = BACK.max(behind + RAIL_R);
        let [run, rise, landing] =
            [garland.span_mm, garland.rise_mm, garland.landing_mm].map(|v| within(v).max(0) * 10);
        let steps = (rise / STEP).clamp(1, MOST);
        let at = |n: i64| [run * n / steps, rise * n / steps];
        for n in 0..steps {
            // each step is a block down to the floor
            let [from, to] = [at(n)[0], at(n + 1)[0]];
            let low = [from, -RAIL, -back - WIDE];
            self.block(id, low, [to, at(n + 1)[1] - RAIL, -back], place);
            let foot = [from, at(n)[1] - RAIL, -back];
            self.post(id, foot, BALUSTER_R, [from, at(n)[1], -back], place);
        }
        if landing > 0 {
            let low = [run, -RAIL, -back - WIDE];
            self.block(id, low, [run + landing, rise - RAIL, -back], place);
        }
        let posts = (landing / APART).clamp(0, MOST);
        for n in 0..=posts {
            let x = run + if posts > 0 { landing * n / posts } else { 0 };
            let ends = [rise - RAIL, rise].map(|y| [x, y, -back]);
            self.post(id, ends[0], BALUSTER_R, ends[1], place);
        }
        let rail = [[0, 0], [run, rise], [run + landing, rise]].map(|[x, y]| [x, y, -back]);
        for two in rail.windows(2).filter(|two| two[0] != two[1]) {
            self.post(id, two[0], RAIL_R, two[1], place);
        }
    }

    fn post(&mut self, id: &str, from: [i64; 3], r: i64, to: [i64; 3], place: &Place) {
        self.scene.tubes.push(SceneTube {
            from: place.put(from),
            to: place.put(to),
            r,
            what: TubeKind::Frame,
            srgb: WOOD.into(),
            piece: id.into(),
        });
    }

    fn block(&mut self, id: &str, low: [i64; 3], high: [i64; 3], place: &Place) {
        let (low, high, turn_deg) = place.put_box(low, high);
        self.scene.panels.push(ScenePanel {
            low,
            high,
            turn_deg,
            what: PanelKind::Step,
            srgb: STEPS.into(),
            piece: id.into(),
        });
    }
}

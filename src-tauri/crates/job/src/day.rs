//! What happens at the venue besides ticks: who takes which step, an own order, own steps, photos, damage, waste, the
//! signature.
//!
//! What several devices say of one step stands under `STEP~DEVICE`, as ticks do: no two write the same key, so no merge
//! hides one. What is added has an id that nobody else made.

use crate::list::{document, listed, words};

/// A signature is drawn in a box so many units wide.
pub const INK_WIDE: i64 = 3000;
/// And so many high.
pub const INK_HIGH: i64 = 1000;
/// The most points that a signature has: a slow hand on a fast screen leaves about a thousand.
pub const MOST_INK: usize = 20_000;

words! {
    /// Where an own step belongs.
    pub enum DayPhase {
        /// Buying and checking the delivery.
        Order,
        /// In the studio.
        Prepare,
        /// Into bags and cases.
        Pack,
        /// Into the vehicle, and the drive.
        Load,
        /// In the room.
        #[default]
        Install,
        /// Tidy, photographs, hand-over.
        HandOver,
        /// Taking down.
        Strike,
    }

    /// What a photo is for.
    pub enum PhotoKind {
        /// How it looks, without more.
        #[default]
        Plain,
        /// The place before anything was built.
        Before,
        /// The same place when it stands.
        After,
    }
}

document! {
    /// Who takes a step, as one device says it. The highest turn holds.
    #[derive(Default)]
    pub struct Assigned {
        /// The step.
        pub step: String,
        /// The device that wrote it.
        pub device: String,
        /// Counts up over all devices' words on the step.
        pub turn: i64,
        /// The person, by the id in the job's crew; empty is as planned.
        pub crew: String,
        /// When, ms since 1970 UTC, by the clock of the device.
        pub at_ms: i64,
    }

    /// Where one device likes to see a step: right after another one. It holds on that device only. An anchor that a
    /// later plan no longer has leaves the step where the plan has it.
    #[derive(Default)]
    pub struct StepPlace {
        /// The step.
        pub step: String,
        /// The device whose order it is.
        pub device: String,
        /// Counts up over all places: they are applied in this order.
        pub turn: i64,
        /// The step before it; empty is the place that the plan gives it, unless it is the first.
        pub after: String,
        /// It stands before all others of its phase.
        pub first: bool,
        /// When, ms since 1970 UTC, by the clock of the device.
        pub at_ms: i64,
    }

    /// A step that the user wrote.
    #[derive(Default)]
    pub struct OwnStep {
        /// When in the job.
        pub phase: DayPhase,
        /// What to do.
        pub text: String,
        /// The piece it is about; empty for the whole job.
        pub piece: String,
        /// Place in the list.
        pub order: String,
        /// Removed.
        pub gone: bool,
    }

    /// A photo taken on the job.
    #[derive(Default)]
    pub struct SitePhoto {
        /// Hash of its bytes.
        pub hash: String,
        /// Its width, px.
        pub width_px: i64,
        /// Its height, px.
        pub height_px: i64,
        /// What it is for.
        pub kind: PhotoKind,
        /// The step it belongs to; may be empty.
        pub step: String,
        /// The piece it shows; empty for the whole.
        pub piece: String,
        /// A line under it.
        pub text: String,
        /// Who took it.
        pub who: String,
        /// When, ms since 1970 UTC, by the clock of the device.
        pub at_ms: i64,
        /// Place in the list.
        pub order: String,
        /// Removed.
        pub gone: bool,
    }

    /// Something that is broken or was broken already.
    pub struct Damage {
        /// What: a thing, and what is wrong with it.
        pub what: String,
        /// How many.
        pub count: i64,
        /// A photo of it: hash of its bytes; empty is none.
        pub photo: String,
        /// The piece it belongs to; may be empty.
        pub piece: String,
        /// Who saw it.
        pub who: String,
        /// When, ms since 1970 UTC, by the clock of the device.
        pub at_ms: i64,
        /// Place in the list.
        pub order: String,
        /// Removed.
        pub gone: bool,
    }

    /// What became of the balloons after the event.
    #[derive(Default)]
    pub struct Waste {
        /// Balloons that were burst and gathered.
        pub burst: i64,
        /// Closed bags of it.
        pub bags: i64,
        /// Who took the bags.
        pub taken_by: String,
        /// What else is to be said.
        pub remarks: String,
    }

    /// A hand-over that was signed on the screen. It is a part of [`crate::Private`].
    #[derive(Default)]
    pub struct Signature {
        /// Who signed, as printed under it.
        pub name: String,
        /// What the client wanted to be written down.
        pub remarks: String,
        /// The pen's way: see [`strokes`].
        pub strokes: String,
        /// Points of the walk-through that were ticked when it was signed.
        pub ticked: i64,
        /// Points in all.
        pub of: i64,
        /// Who took it.
        pub taken_by: String,
        /// When, ms since 1970 UTC, by the clock of the device.
        pub at_ms: i64,
        /// Place in the list.
        pub order: String,
        /// Removed.
        pub gone: bool,
    }
}

listed!(OwnStep, SitePhoto, Damage, Signature);

impl Default for Damage {
    fn default() -> Self {
        Self {
            what: String::new(),
            count: 1,
            photo: String::new(),
            piece: String::new(),
            who: String::new(),
            at_ms: 0,
            order: String::new(),
            gone: false,
        }
    }
}

/// The strokes of a signature: each a list of points in a box of [`INK_WIDE`] by [`INK_HIGH`], x to the right and y down.
/// Written as `x y x y;x y x y`. None if it is not that, or leaves the box, or holds no stroke or too many points.
#[must_use]
pub fn strokes(text: &str) -> Option<Vec<Vec<(i64, i64)>>> {
    // a number takes two letters at least, so a longer text has too many points
    if text.len() > MOST_INK * 10 {
        return None;
    }
    let mut all = Vec::new();
    let mut points = 0;
    for stroke in text.split(';') {
        let numbers: Vec<i64> = stroke
            .split(' ')
            .map(|n| n.parse().ok())
            .collect::<Option<_>>()?;
        let line: Vec<(i64, i64)> = numbers.chunks_exact(2).map(|p| (p[0], p[1])).collect();
        let inside = |(x, y): &(i64, i64)| (0..=INK_WIDE).contains(x) && (0..=INK_HIGH).contains(y);
        if line.is_empty() || !numbers.len().is_multiple_of(2) || !line.iter().all(inside) {
            return None;
        }
        points += line.len();
        all.push(line);
    }
    (points <= MOST_INK).then_some(all)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strokes_are_points_in_their_box() {
        assert_eq!(
            strokes("0 0 3000 1000;7 8"),
            Some(vec![vec![(0, 0), (3000, 1000)], vec![(7, 8)]])
        );
        for bad in [
            "", ";", "1", "1 2 3", "1 2;", "-1 0", "0 1001", "3001 0", "a b", "1  2", "1.5 2",
        ] {
            assert_eq!(strokes(bad), None, "{bad:?}");
        }
        let many = vec!["5 5"; MOST_INK + 1].join(" ");
        assert_eq!(strokes(&many), None);
        assert!(strokes(&vec!["5 5"; MOST_INK].join(" ")).is_some());
    }
}

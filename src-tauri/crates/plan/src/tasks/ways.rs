//! By how many people a task can be done: what is shared out goes faster with more of them, and gives others time with fewer.
//!
//! One person is never offered where two belong: what needs a ladder, panels, arches and frames over people's heads, and what is long
//! or heavy to lift keep the number they have.

use job::Job;
use job::list::live;
use job::piece::PieceKind;
use job::site::KitKind;

use super::{List, MOST_S};
use crate::inflate::whole;
use crate::pieces::Counted;
use crate::safety::{HEAVY_G, LONG_MM};
use crate::types::{Parcel, TaskWay};

/// So many people and all of them are tried, not every number between.
const MOST_SHARERS: i64 = 12;

impl List<'_> {
    /// The last task can be done by any number of people from `least` to `most`: `elapsed` says how long it takes so many, s, without
    /// learning and rest.
    pub(super) fn by(&mut self, least: i64, most: i64, elapsed: impl Fn(f64) -> f64) {
        let Some(last) = self.out.last().map(|p| &p.task) else {
            return;
        };
        let ways: Vec<TaskWay> = (least.max(1)..=most.min(MOST_SHARERS))
            .chain((most > MOST_SHARERS).then_some(most))
            .map(|people| TaskWay {
                people,
                duration_s: self.takes(last.phase, &last.piece, elapsed(whole(people)), MOST_S),
            })
            .collect();
        let known = ways.iter().any(|w| w.people == last.people);
        if let Some(last) = self.out.last_mut().filter(|_| known && ways.len() > 1) {
            last.task.ways = ways;
        }
    }

    /// The last task is done thing by thing, by one or by two.
    pub(super) fn by_two_as_well(&mut self, things: i64, each_s: i64) {
        let most = self.crew.min(2).min(things);
        self.by(1, most, |people| {
            (whole(things) / people).ceil() * whole(each_s.max(0))
        });
    }
}

/// How many inflators are in the kit.
pub fn inflators(job: &Job) -> i64 {
    live(&job.kit)
        .into_iter()
        .filter(|(_, k)| k.kind == KitKind::Inflator)
        .map(|(_, k)| k.count.clamp(0, 1000))
        .sum()
}

/// How many people lift what is carried at least: helium that is filled in the room comes in its cylinder.
pub(super) fn lifters(counted: &Counted, parcels: &[&Parcel]) -> i64 {
    let long = parcels.iter().any(|p| p.length_mm > LONG_MM);
    if long || heavy(counted, parcels.iter().copied()) {
        2
    } else {
        1
    }
}

/// Something is carried that one person must not lift alone.
pub fn heavy<'a>(counted: &Counted, parcels: impl IntoIterator<Item = &'a Parcel>) -> bool {
    let mut parcels = parcels.into_iter();
    let mut pieces = counted.pieces.iter();
    parcels.any(|p| p.mass_g.is_some_and(|m| m > HEAVY_G))
        || pieces.any(|p| p.kind == PieceKind::Floaters)
}

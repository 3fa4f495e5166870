//! From the packed bags to the room: load, drive, carry in.

use job::Job;
use job::list::live;
use job::site::PortalKind;

use super::ways::lifters;
use super::{List, MOST_S, Skill, count};
use crate::inflate::whole;
use crate::load::way::lift_rides;
use crate::pieces::Counted;
use crate::types::{Load, Phase, Term};

/// Rides of one lift that are reckoned with; more are a slip of the keyboard.
const MOST_RIDES: i64 = 10_000;

impl List<'_> {
    /// Load, drive, carry in.
    pub(super) fn up_to_the_venue(&mut self, counted: &Counted, load: &Load) {
        let rates = &self.job.rates;
        let parcels = load.parcels.len();
        let n = whole(i64::try_from(parcels).unwrap_or(0));
        let lifting = n * whole(rates.carry_s.max(0));
        let packed: Vec<String> = self.ids(|t| {
            t.phase == Phase::Pack
                || t.id == "check"
                || (t.phase == Phase::Prepare && !self.has_bag(&t.piece))
        });
        let packed: Vec<&str> = packed.iter().map(String::as_str).collect();
        let terms = count(parcels, "bag or case");
        self.shared(
            "load",
            Phase::Load,
            "Load the vehicle",
            lifting,
            self.crew.min(2),
            &packed,
            &terms,
        );
        let least = lifters(counted, load);
        self.by(least, self.crew, |people| lifting / people);
        let minutes = self.job.drive.minutes.clamp(0, 100_000);
        if minutes > 0 {
            // one way; for each further round back and out once more
            let ways = load.rounds.clamp(1, 100) * 2 - 1;
            let seconds = whole(minutes * 60 * ways);
            self.together(
                "drive",
                Phase::Load,
                "",
                "Drive to the venue",
                seconds,
                self.crew,
                &["load"],
                "drive",
            );
            if let Some(drive) = self.out.last_mut() {
                drive.skill = Some(Skill::Drives);
            }
        }
        let before = if minutes > 0 { "drive" } else { "load" };
        let walk = 2.0 * whole(self.job.venue.walk_m.clamp(0, 100_000)) * 1000.0
            / whole(self.job.rates.walk_mm_s.max(1));
        let stairs = 2.0
            * whole(self.job.venue.stair_steps.clamp(0, 100_000))
            * whole(self.job.rates.stair_ms.max(0))
            / 1000.0;
        let rides = rides(self.job, load);
        let in_lifts = whole(rides.iter().sum()) * whole(rates.lift_s.max(0));
        let all = lifting + n * (walk + stairs) + in_lifts;
        // one rides along while the others carry on; but a lift goes no faster for being waited for by more
        let slowest = whole(rides.iter().copied().max().unwrap_or(0)) * whole(rates.lift_s.max(0));
        let elapsed = |people: f64| (all / people).max(slowest);
        self.push(
            "carry",
            Phase::Install,
            "",
            "Unload and carry in",
            all,
            elapsed(whole(self.crew)),
            self.crew,
            &[before],
            &terms,
        );
        self.by(least, self.crew, elapsed);
        // those who wait for a lift are not faster than it
        if let Some(carry) = self
            .out
            .last_mut()
            .filter(|_| elapsed(whole(self.crew)) <= slowest)
        {
            carry.kind = None;
        }
        let in_lifts = self.takes(Phase::Install, "", in_lifts, MOST_S);
        if let Some(carry) = self.out.last_mut().map(|p| &mut p.task)
            && let ([term], [_, ..]) = (carry.terms.as_mut_slice(), rides.as_slice())
        {
            term.value = term.value.saturating_sub(in_lifts);
            let how_often = usize::try_from(rides.iter().sum::<i64>()).unwrap_or(usize::MAX);
            carry.terms.push(Term {
                label: format!("{} in a lift", count(how_often, "ride")),
                value: in_lifts,
            });
        }
    }
}

/// How often each lift on the way into the venue goes.
fn rides(job: &Job, load: &Load) -> Vec<i64> {
    live(&job.doors)
        .into_iter()
        .filter(|(_, door)| door.kind == PortalKind::Lift)
        .map(|(_, door)| lift_rides(door, load.mass_g, load.volume_ml).min(MOST_RIDES))
        .collect()
}

#[cfg(test)]
mod tests;

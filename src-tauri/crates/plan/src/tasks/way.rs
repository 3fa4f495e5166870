//! From the packed bags to the room: load, drive, carry in.

use super::ways::lifters;
use super::{List, Skill, count};
use crate::inflate::whole;
use crate::pieces::Counted;
use crate::types::{Load, Phase};

impl List<'_> {
    /// Load, drive, carry in.
    pub(super) fn up_to_the_venue(&mut self, counted: &Counted, load: &Load) {
        let rates = &self.job.rates;
        let parcels = load.parcels.len();
        let n = whole(i64::try_from(parcels).unwrap_or(0));
        let lift = n * whole(rates.carry_s.max(0));
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
            lift,
            self.crew.min(2),
            &packed,
            &terms,
        );
        let least = lifters(counted, load);
        self.by(least, self.crew, |people| lift / people);
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
        let all = lift + n * (walk + stairs);
        self.shared(
            "carry",
            Phase::Install,
            "Unload and carry in",
            all,
            self.crew,
            &[before],
            &terms,
        );
        self.by(least, self.crew, |people| all / people);
    }
}

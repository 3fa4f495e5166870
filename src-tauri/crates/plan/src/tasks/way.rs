//! From the packed bags to the room: load, drive, carry in, and again for what takes another trip.
//!
//! On the first trip everybody comes along. A further trip is made by as few as what is carried asks for, while the others go on in the room.

use job::Job;
use job::list::live;
use job::site::PortalKind;

use super::ways::lifters;
use super::{List, MOST_S, Skill, count};
use crate::inflate::whole;
use crate::load::way::lift_rides;
use crate::pieces::Counted;
use crate::types::{Load, Parcel, Phase, Term};

/// Rides of one lift that are reckoned with; more are a slip of the keyboard.
const MOST_RIDES: i64 = 10_000;
/// Trips that have tasks of their own; those beyond are driven in one with the last.
const MOST_TRIPS: i64 = 12;

/// What the vehicles bring in one trip: all of them at once.
struct Trip<'a> {
    /// Counted from 0.
    at: i64,
    /// Of so many.
    of: i64,
    parcels: Vec<&'a Parcel>,
    /// Its share of what is carried, mL and g.
    volume_ml: i64,
    mass_g: i64,
}

impl Trip<'_> {
    /// A task of the first trip has the name alone, that of the third is `load.3`.
    fn id(&self, work: &str) -> String {
        if self.at == 0 {
            work.to_string()
        } else {
            format!("{work}.{}", self.at + 1)
        }
    }

    fn title(&self, title: &str) -> String {
        if self.of == 1 {
            title.to_string()
        } else {
            format!("{title}, trip {} of {}", self.at + 1, self.of)
        }
    }
}

impl List<'_> {
    /// Load, drive, carry in, trip by trip.
    pub(super) fn up_to_the_venue(&mut self, counted: &Counted, load: &Load) {
        let minutes = self.job.drive.minutes.clamp(0, 100_000);
        let packed: Vec<String> = self.ids(|t| {
            t.phase == Phase::Pack
                || t.id == "check"
                || (t.phase == Phase::Prepare && !self.has_bag(&t.piece))
        });
        let mut before = packed;
        for trip in trips(load, minutes) {
            let least = lifters(counted, &trip.parcels);
            let few = if trip.at == 0 {
                self.crew
            } else {
                least.min(self.crew)
            };
            if trip.at > 0 {
                self.drive(&trip, ("back", "Drive back"), minutes, few, &before);
                before = vec![trip.id("back")];
            }
            self.load_up(&trip, least, few, &before);
            before = vec![trip.id("load")];
            if minutes > 0 {
                // trips beyond those with tasks of their own
                let more = if trip.at + 1 == trip.of {
                    (load.rounds - trip.of).clamp(0, 100)
                } else {
                    0
                };
                let drive = ("drive", "Drive to the venue");
                self.drive(&trip, drive, minutes * (1 + 2 * more), few, &before);
                before = vec![trip.id("drive")];
            }
            self.carry_in(&trip, least, few, &before);
            before = vec![trip.id("carry")];
            for parcel in &trip.parcels {
                self.comes.insert(parcel.piece.clone(), trip.id("carry"));
            }
        }
    }

    fn load_up(&mut self, trip: &Trip, least: i64, few: i64, before: &[String]) {
        let lifting = whole(many(trip)) * whole(self.job.rates.carry_s.max(0));
        let before: Vec<&str> = before.iter().map(String::as_str).collect();
        self.shared(
            &trip.id("load"),
            Phase::Load,
            &trip.title("Load the vehicle"),
            lifting,
            few.min(2),
            &before,
            &count(trip.parcels.len(), "bag or case"),
        );
        self.by(least, few, |people| lifting / people);
    }

    /// One way. Somebody of those who go drives.
    fn drive(
        &mut self,
        trip: &Trip,
        (work, title): (&str, &str),
        minutes: i64,
        people: i64,
        before: &[String],
    ) {
        let before: Vec<&str> = before.iter().map(String::as_str).collect();
        self.together(
            &trip.id(work),
            Phase::Load,
            "",
            &trip.title(title),
            whole(minutes * 60),
            people,
            &before,
            "drive",
        );
        if let Some(drive) = self.out.last_mut() {
            drive.skill = Some(Skill::Drives);
        }
    }

    fn carry_in(&mut self, trip: &Trip, least: i64, few: i64, before: &[String]) {
        let rates = self.job.rates.clone();
        let venue = &self.job.venue;
        let n = whole(many(trip));
        let lifting = n * whole(rates.carry_s.max(0));
        let walk =
            2.0 * whole(venue.walk_m.clamp(0, 100_000)) * 1000.0 / whole(rates.walk_mm_s.max(1));
        let stairs =
            2.0 * whole(venue.stair_steps.clamp(0, 100_000)) * whole(rates.stair_ms.max(0))
                / 1000.0;
        let rides = rides(self.job, trip);
        let in_lifts = whole(rides.iter().sum()) * whole(rates.lift_s.max(0));
        let all = lifting + n * (walk + stairs) + in_lifts;
        // one rides along while the others carry on; but a lift goes no faster for being waited for by more
        let slowest = whole(rides.iter().copied().max().unwrap_or(0)) * whole(rates.lift_s.max(0));
        let elapsed = |people: f64| (all / people).max(slowest);
        let before: Vec<&str> = before.iter().map(String::as_str).collect();
        self.push(
            &trip.id("carry"),
            Phase::Install,
            "",
            &trip.title("Unload and carry in"),
            all,
            elapsed(whole(few)),
            few,
            &before,
            &count(trip.parcels.len(), "bag or case"),
        );
        self.by(least, self.crew, elapsed);
        // those who wait for a lift are not faster than it
        if let Some(carry) = self
            .out
            .last_mut()
            .filter(|_| elapsed(whole(few)) <= slowest)
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

/// What comes with which trip: as it is stowed, else in equal parts. Without a drive all is carried over at once.
fn trips(load: &Load, minutes: i64) -> Vec<Trip<'_>> {
    let of = if minutes > 0 {
        load.rounds.clamp(1, MOST_TRIPS)
    } else {
        1
    };
    let mut round_of_run: Vec<i64> = Vec::new();
    for (i, run) in load.runs.iter().enumerate() {
        let before = load.runs[..i].iter().filter(|r| r.space == run.space);
        round_of_run.push(i64::try_from(before.count()).unwrap_or(i64::MAX));
    }
    let all = i64::try_from(load.parcels.len()).unwrap_or(i64::MAX).max(1);
    let round = |i: usize, parcel: &Parcel| -> i64 {
        let run = parcel
            .stow
            .as_ref()
            .and_then(|s| round_of_run.get(usize::try_from(s.trip - 1).ok()?));
        let equal = i64::try_from(i).unwrap_or(0) * of / all;
        run.copied().unwrap_or(equal).min(of - 1)
    };
    (0..of)
        .map(|at| {
            let parcels: Vec<&Parcel> = load
                .parcels
                .iter()
                .enumerate()
                .filter(|(i, p)| round(*i, p) == at)
                .map(|(_, p)| p)
                .collect();
            let sum =
                |of: fn(&Parcel) -> i64| parcels.iter().map(|p| of(p)).fold(0, i64::saturating_add);
            let (volume_ml, mass_g) = if of == 1 {
                (load.volume_ml, load.mass_g)
            } else {
                (sum(|p| p.volume_ml), sum(|p| p.mass_g.unwrap_or(0)))
            };
            Trip {
                at,
                of,
                volume_ml,
                mass_g,
                parcels,
            }
        })
        .collect()
}

fn many(trip: &Trip) -> i64 {
    i64::try_from(trip.parcels.len()).unwrap_or(i64::MAX)
}

/// How often each lift on the way into the venue goes.
fn rides(job: &Job, trip: &Trip) -> Vec<i64> {
    live(&job.doors)
        .into_iter()
        .filter(|(_, door)| door.kind == PortalKind::Lift)
        .map(|(_, door)| lift_rides(door, trip.mass_g, trip.volume_ml).min(MOST_RIDES))
        .collect()
}

#[cfg(test)]
mod tests;

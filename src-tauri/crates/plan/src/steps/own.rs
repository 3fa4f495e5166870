//! Steps that the user wrote, and steps that were given to one of the people.

use std::collections::BTreeMap;

use job::day::{Assigned, DayPhase};
use job::list::live;

use super::words::{LONGEST_TITLE, cut};
use super::{List, step};
use crate::types::{Phase, Step};

/// The step that an own step of the job makes.
#[must_use]
pub fn own_id(id: &str) -> String {
    format!("own.{id}")
}

impl List<'_> {
    /// Own steps, each at the end of its phase.
    pub(super) fn own(&mut self) {
        for (id, own) in live(&self.job.own_steps) {
            let text = own.text.trim();
            if text.is_empty() {
                continue;
            }
            let title = cut(text, LONGEST_TITLE);
            let how = if title == text { "" } else { text };
            let piece = self.job.pieces.get(&own.piece).filter(|p| !p.gone);
            self.push(Step {
                piece: piece.map(|_| own.piece.clone()).unwrap_or_default(),
                ..step(own_id(id), phase(own.phase), title, how)
            });
        }
        // stable: within a phase what was written comes after what was planned
        self.steps.sort_by_key(|s| s.phase);
    }

    /// Whoever a step was given to takes it alone.
    pub(super) fn assign(&mut self) {
        let mut holds: BTreeMap<&str, &Assigned> = BTreeMap::new();
        for said in self.job.assigned.values() {
            let best = holds.entry(&said.step).or_insert(said);
            // two devices that spoke apart have one turn: then the one whose name comes last is heard, on every device
            if (said.turn, &said.device) > (best.turn, &best.device) {
                *best = said;
            }
        }
        let names = &self.names;
        for step in &mut self.steps {
            let said = holds.get(step.id.as_str());
            if let Some(name) = said.and_then(|said| names.get(said.crew.as_str())) {
                step.who = vec![(*name).to_string()];
            }
        }
    }
}

/// What a newer version calls otherwise is done in the room.
fn phase(phase: DayPhase) -> Phase {
    match phase {
        DayPhase::Order => Phase::Order,
        DayPhase::Prepare => Phase::Prepare,
        DayPhase::Pack => Phase::Pack,
        DayPhase::Load => Phase::Load,
        DayPhase::Install | DayPhase::Newer => Phase::Install,
        DayPhase::HandOver => Phase::HandOver,
        DayPhase::Strike => Phase::Strike,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::day::OwnStep;
    use job::defaults::starting_books;
    use job::demo::demo;

    #[test]
    fn an_own_step_stands_last_in_its_phase_and_keeps_its_words() {
        let (mut job, _) = demo(&starting_books(), "2027-06-12");
        let before = crate::plan(&job, None).steps;
        for (id, phase, text) in [
            ("k", DayPhase::Install, "Ask the porter for the key"),
            (
                "m",
                DayPhase::Newer,
                "Something of a newer version that is longer than a title",
            ),
            ("n", DayPhase::Load, "  "),
        ] {
            let own = OwnStep {
                phase,
                text: text.into(),
                order: id.into(),
                ..OwnStep::default()
            };
            job.own_steps.insert(id.into(), own);
        }
        let steps = crate::plan(&job, None).steps;
        assert_eq!(steps.len(), before.len() + 2);
        let last: Vec<&Step> = steps.iter().filter(|s| s.phase == Phase::Install).collect();
        let [.., key, newer] = last.as_slice() else {
            panic!("two steps")
        };
        assert_eq!(
            (key.id.as_str(), key.title.as_str()),
            ("own.k", "Ask the porter for the key")
        );
        assert_eq!(key.how, "");
        assert!(newer.title.chars().count() <= LONGEST_TITLE);
        assert!(newer.how.ends_with("longer than a title"));
        // what was planned keeps its ids and its order
        let planned: Vec<&str> = steps
            .iter()
            .map(|s| s.id.as_str())
            .filter(|id| !id.starts_with("own."))
            .collect();
        assert!(planned.iter().eq(before.iter().map(|s| &s.id)));
    }

    #[test]
    fn the_highest_turn_says_who() {
        let (mut job, _) = demo(&starting_books(), "2027-06-12");
        let crew: Vec<String> = live(&job.crew)
            .iter()
            .map(|(id, _)| (*id).to_string())
            .collect();
        let names: Vec<String> = live(&job.crew)
            .iter()
            .map(|(_, c)| c.name.clone())
            .collect();
        let who = |job: &job::Job| {
            let steps = crate::plan(job, None).steps;
            steps
                .into_iter()
                .find(|s| s.id == "hang.arch.1")
                .unwrap()
                .who
        };
        let planned = who(&job);
        let mut say = |device: &str, turn: i64, crew: &str| {
            let said = Assigned {
                step: "hang.arch.1".into(),
                device: device.into(),
                turn,
                crew: crew.into(),
                at_ms: 0,
            };
            job.assigned.insert(format!("hang.arch.1~{device}"), said);
            who(&job)
        };
        assert_eq!(say("a", 1, &crew[0]), [names[0].clone()]);
        assert_eq!(say("b", 2, &crew[1]), [names[1].clone()]);
        assert_eq!(
            say("a", 2, &crew[0]),
            [names[1].clone()],
            "of equal turns the last device"
        );
        assert_eq!(say("a", 3, ""), planned, "given back");
        assert_eq!(say("a", 4, "nobody"), planned);
    }
}

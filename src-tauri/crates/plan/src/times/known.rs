//! Schedules that are known already, by their question: an edit of the colours asks nothing new of the times.

use std::collections::BTreeMap;

use solve::schedule::{self, Exact, Problem};

use crate::Depth;

/// Steps that the serial scheme may make for one plan; five thousand parts take about a third of it.
const BUDGET: u64 = 2_000_000;
/// Questions that are remembered; then all are forgotten. A plan to the end asks up to some seventy.
const REMEMBERED: usize = 200;

/// What was found, by the question and the work of the engine that it was given.
#[derive(Debug, Clone, Default)]
pub struct Known {
    found: BTreeMap<Problem, BTreeMap<u64, Exact>>,
    /// What was found with more work is as good.
    pub(super) more: bool,
}

impl Known {
    /// So the plan of one job asks: to the end the same question has the same answer whatever was asked before; before that, what was
    /// found with more work holds.
    pub(super) fn at(&mut self, depth: Depth) -> &mut Self {
        self.more = depth != Depth::Final;
        self
    }

    /// The best schedule with so much work.
    pub(super) fn best(&mut self, problem: Problem, work: u64) -> Exact {
        let found = self.found.get(&problem);
        let from_more =
            |f: &BTreeMap<u64, Exact>| f.range(work..).next_back().map(|(_, e)| e.clone());
        let same = |f: &BTreeMap<u64, Exact>| f.get(&work).cloned();
        if let Some(known) = found.and_then(|f| if self.more { from_more(f) } else { same(f) }) {
            return known;
        }
        let fresh = schedule::best(&problem, BUDGET, work);
        debug_assert_eq!(schedule::check(&problem, &fresh.answer), []);
        if self.found.len() >= REMEMBERED {
            self.found.clear();
        }
        self.found
            .entry(problem)
            .or_default()
            .insert(work, fresh.clone());
        fresh
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::load::Stowed;
    use crate::pieces::count_at;
    use crate::times::schedule;
    use crate::{Memory, Plan, plan_at};
    use job::Job;
    use job::defaults::starting_books;
    use job::demo::demo;

    fn weekend() -> Job {
        demo(&starting_books(), "2027-06-12").0
    }

    /// Twice the demo for its two people: more than a sketch proves.
    fn large() -> Job {
        let mut job = weekend();
        for (id, mut piece) in job.pieces.clone() {
            if !piece.on.is_empty() {
                piece.on += "2";
            }
            job.pieces.insert(id + "2", piece);
        }
        job
    }

    /// To the end a plan is the same whatever was asked before it.
    #[test]
    fn nothing_remembered_changes_a_plan_to_the_end() {
        for job in [weekend(), large()] {
            let counted = count_at(&job, Depth::Instant, &mut Memory::default());
            let (order, _) = crate::order::order(&job, None, &counted);
            let (load, _) = crate::load::load(
                &job,
                &counted,
                &order,
                Depth::Instant,
                &mut Stowed::default(),
            );
            let timed = |depth, known: &mut _| schedule(&job, &counted, &load, depth, known);
            let fresh = timed(Depth::Final, &mut Known::default());
            let mut known = Known::default();
            let quick = timed(Depth::Instant, &mut known);
            assert!(quick.start_by_ms <= fresh.start_by_ms);
            assert_eq!(timed(Depth::Final, &mut known), fresh);
            assert_eq!(timed(Depth::Final, &mut known), fresh);
        }
    }

    /// What a plan to the end found stands while something else is edited, and is not found anew.
    #[test]
    fn what_was_found_to_the_end_holds() {
        let mut job = large();
        let mut memory = Memory::default();
        let start = |plan: &Plan| (plan.figures.start_by_ms, plan.figures.start_gap_s);
        // every number of people is set, so that to the end no other is tried
        let first = plan_at(&job, None, Depth::Instant, &mut memory);
        for task in first.tasks.iter().filter(|t| !t.ways.is_empty()) {
            let team = job::pin::Team {
                task: task.id.clone(),
                people: task.people,
                ..job::pin::Team::default()
            };
            job.teams.insert(task.id.clone(), team);
        }
        let counted = count_at(&job, Depth::Instant, &mut memory);
        let (order, _) = crate::order::order(&job, None, &counted);
        let (load, _) =
            crate::load::load(&job, &counted, &order, Depth::Instant, &mut memory.stowed);
        let end = schedule(&job, &counted, &load, Depth::Final, &mut memory.timed);
        let asked = memory.timed.found.len();
        job.name = "Another name".into();
        let plan = plan_at(&job, None, Depth::Instant, &mut memory);
        assert_eq!(start(&plan), (end.start_by_ms, end.start_gap_s));
        assert_eq!(memory.timed.found.len(), asked);
    }
}

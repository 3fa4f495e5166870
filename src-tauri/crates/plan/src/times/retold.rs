//! The plan as the day goes: the same work at the times that are now foretold, for papers that are made while it runs.

use job::Job;
use job::list::live as listed;

use super::calls::calls;
use super::live::{Going, Live};
use crate::types::Plan;

/// A plan with the times of its day in place of those it was made with. What is over has the time when it was; the chance to be ready,
/// which was that of the plan, is left away, and so is the time to leave once that is past.
#[must_use]
pub fn retold(job: &Job, plan: &Plan, day: &Live) -> Plan {
    let mut plan = plan.clone();
    for went in &day.tasks {
        if let Some(task) = plan.tasks.iter_mut().find(|t| t.id == went.task) {
            task.start_ms = Some(went.start_ms);
            task.end_ms = Some(went.end_ms);
        }
    }
    (plan.tasks).sort_by_key(|t| (t.start_ms.unwrap_or(i64::MAX), t.end_ms, t.id.clone()));
    let left = |id: &str| {
        let went = day.tasks.iter().find(|t| t.task == id)?;
        (went.going == Going::ToCome).then_some(went.start_ms)
    };
    plan.figures.leave_by_ms = plan.figures.leave_by_ms.and_then(|_| left("drive"));
    plan.chance = None;
    plan.calls = calls(job, &listed(&job.crew), &plan.tasks);
    plan
}

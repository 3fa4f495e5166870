//! Commands about times: the day as it goes, other ways to do a job, several jobs together. None needs the store.

use job::Job;
use plan::clashes::Clash;
use plan::learn::OwnRate;
use plan::load::choice::{Choice, choices};
use plan::times::live::Live;
use plan::what_if::Way;
use plan::{Depth, Plan};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::compute::{planned, with_memory};
use crate::fault::Fault;
use crate::views::PlanJob;

/// Most jobs that are put side by side.
const MOST_JOBS: usize = 60;

/// A job on its day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct JobNow {
    /// The job.
    pub job: Job,
    /// The time, ms since 1970 UTC, by the clock of the device.
    pub now_ms: i64,
    /// How closely its garlands are counted; to the end if absent.
    #[serde(default)]
    #[ts(optional)]
    pub depth: Option<Depth>,
}

/// Jobs that are looked at together; beyond the sixtieth they are left out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct JobsTogether {
    /// The jobs.
    pub jobs: Vec<Job>,
}

pub(crate) fn live(args: JobNow) -> Result<Live, Fault> {
    let plan = planned(&args.job, None, args.depth.unwrap_or_default());
    Ok(plan::times::live::live(&args.job, &plan, args.now_ms))
}

pub(crate) fn what_if(args: PlanJob) -> Result<Vec<Way>, Fault> {
    Ok(with_memory(|memory| {
        plan::what_if::what_if(
            &args.job,
            args.private.as_ref(),
            args.depth.unwrap_or_default(),
            memory,
        )
    }))
}

pub(crate) fn blown_where(args: PlanJob) -> Result<Vec<Choice>, Fault> {
    Ok(with_memory(|memory| {
        choices(
            &args.job,
            args.private.as_ref(),
            args.depth.unwrap_or_default(),
            memory,
        )
    }))
}

pub(crate) fn clashes(args: JobsTogether) -> Result<Vec<Clash>, Fault> {
    Ok(together(&args, plan::clashes::clashes))
}

pub(crate) fn own_rates(args: JobsTogether) -> Result<Vec<OwnRate>, Fault> {
    Ok(together(&args, plan::learn::learn))
}

/// What is said of jobs with their plans. Times and rates do not need garlands packed to the end.
fn together<T>(args: &JobsTogether, say: impl Fn(&[(&Job, &Plan)]) -> T) -> T {
    let jobs: Vec<&Job> = args.jobs.iter().take(MOST_JOBS).collect();
    let plans: Vec<Plan> = jobs
        .iter()
        .map(|job| planned(job, None, Depth::Preview))
        .collect();
    let pairs: Vec<(&Job, &Plan)> = jobs.into_iter().zip(&plans).collect();
    say(&pairs)
}

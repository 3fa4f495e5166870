//! Commands about times: the day as it goes, other ways to do a job, several jobs together. None needs the store.

use job::site::Crew;
use job::{Job, Private};
use plan::clashes::Together;
use plan::enquiry::{Asked, Enquiry};
use plan::learn::{OwnPace, OwnRate};
use plan::load::choice::{Choice, choices};
use plan::times::live::Live;
use plan::times::still::Still;
use plan::what_if::Way;
use plan::{Depth, Plan};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::compute::{planned, with_memory};
use crate::fault::Fault;
use crate::views::{PlanJob, QuickPrice};

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

/// A job on its day, and who could be asked to come.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct JobStill {
    /// The job.
    pub job: Job,
    /// The time, ms since 1970 UTC, by the clock of the device.
    pub now_ms: i64,
    /// How closely its garlands are counted; to the end if absent.
    #[serde(default)]
    #[ts(optional)]
    pub depth: Option<Depth>,
    /// People who are not on it.
    pub people: Vec<Crew>,
}

/// Jobs that are looked at together; beyond the sixtieth they are left out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct JobsTogether {
    /// The jobs.
    pub jobs: Vec<Job>,
}

/// A job that is asked for, from five answers or as it was entered, and those near it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct AskEnquiry {
    /// Five answers and the books; absent where `job` is given.
    #[serde(default)]
    #[ts(optional)]
    pub quick: Option<QuickPrice>,
    /// The job; absent where `quick` is given.
    #[serde(default)]
    #[ts(optional)]
    pub job: Option<Job>,
    /// Its client and money; absent in a crew copy.
    #[serde(default)]
    #[ts(optional)]
    pub private: Option<Private>,
    /// Jobs near it; beyond the sixtieth they are left out.
    pub others: Vec<Job>,
}

pub(crate) fn enquiry(args: AskEnquiry) -> Result<Enquiry, Fault> {
    let (job, private) = match (args.quick, args.job) {
        (Some(q), _) => {
            let (job, private) = job::quick::quick_job(&q.books, &q.quick, "");
            (job, Some(private))
        }
        (None, Some(job)) => (job, args.private),
        (None, None) => {
            return Err(Fault::new(
                "bad_arguments",
                "Nothing was asked for.",
                "Give five answers, or a job.",
            ));
        }
    };
    let plans: Vec<Plan> = args.others.iter().take(MOST_JOBS).map(timed).collect();
    let others: Vec<(&Job, &Plan)> = args.others.iter().zip(&plans).collect();
    let asked = Asked {
        job: &job,
        private: private.as_ref(),
        others: &others,
        depth: Depth::Preview,
    };
    Ok(with_memory(|memory| plan::enquiry::enquiry(&asked, memory)))
}

pub(crate) fn live(args: JobNow) -> Result<Live, Fault> {
    let plan = planned(&args.job, None, args.depth.unwrap_or_default());
    Ok(plan::times::live::live(&args.job, &plan, args.now_ms))
}

pub(crate) fn still(args: JobStill) -> Result<Vec<Still>, Fault> {
    let depth = args.depth.unwrap_or_default();
    Ok(with_memory(|memory| {
        plan::times::still::still(&args.job, &args.people, args.now_ms, depth, memory)
    }))
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

pub(crate) fn clashes(args: JobsTogether) -> Result<Together, Fault> {
    Ok(together(&args, plan::clashes::together))
}

pub(crate) fn own_rates(args: JobsTogether) -> Result<Vec<OwnRate>, Fault> {
    Ok(together(&args, plan::learn::learn))
}

pub(crate) fn own_paces(args: JobsTogether) -> Result<Vec<OwnPace>, Fault> {
    Ok(together(&args, plan::learn::paces))
}

fn timed(job: &Job) -> Plan {
    with_memory(|memory| plan::plan_timed(job, memory))
}

/// What is said of jobs with their plans. Times and rates do not need garlands packed to the end.
fn together<T>(args: &JobsTogether, say: impl Fn(&[(&Job, &Plan)]) -> T) -> T {
    let jobs: Vec<&Job> = args.jobs.iter().take(MOST_JOBS).collect();
    let plans: Vec<Plan> = jobs.iter().map(|job| timed(job)).collect();
    let pairs: Vec<(&Job, &Plan)> = jobs.into_iter().zip(&plans).collect();
    say(&pairs)
}

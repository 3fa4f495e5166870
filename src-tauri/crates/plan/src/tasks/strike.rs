//! Taking everything down.

use std::collections::{BTreeMap, BTreeSet};

use job::Job;
use job::list::live;

use super::List;
use super::made::metres_down;
use crate::inflate::whole;
use crate::pieces::Counted;
use crate::types::{Phase, Task};

/// The strike: once a job and by the metre of garland, by two if there are two. None if nothing hangs.
#[must_use]
pub fn strike(job: &Job, counted: &Counted) -> Option<Task> {
    // nobody strikes if no time is agreed for it
    if job.times.strike_from.trim().is_empty() {
        return None;
    }
    if counted
        .pieces
        .iter()
        .all(|p| p.garland.is_none() && p.chain.is_none() && p.frame.is_none() && p.made.is_none())
    {
        return None;
    }
    let crew = i64::try_from(live(&job.crew).len()).unwrap_or(1).max(1);
    let metres: f64 = counted.pieces.iter().map(metres_down).sum();
    let mut list = List {
        job,
        crew,
        out: Vec::new(),
        known: BTreeSet::new(),
        making: Phase::Strike,
        ready: BTreeMap::new(),
        comes: BTreeMap::new(),
        inflators: 0,
    };
    let elapsed = whole(job.rates.strike_s.max(0)) + metres * whole(job.rates.strike_s_m.max(0));
    list.together(
        "strike",
        Phase::Strike,
        "",
        "Take everything down",
        elapsed,
        crew.min(2),
        &[],
        "strike",
    );
    list.out.pop().map(|p| p.task)
}

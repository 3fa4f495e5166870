//! Which frames are brought along: not the rail or balustrade that the venue has.

use job::Job;
use job::piece::FrameForm;

use crate::types::{FramePlan, PiecePlan};

/// The frames of a piece that are carried, set up and weighed down. Of a rail nothing is: it stands where it is.
#[must_use]
pub fn brought<'a>(job: &Job, plan: &'a PiecePlan) -> Option<&'a FramePlan> {
    let rail = job
        .pieces
        .get(&plan.piece)
        .is_some_and(|p| p.frame.form == FrameForm::Rail);
    plan.frame.as_ref().filter(|f| f.count > 0 && !rail)
}

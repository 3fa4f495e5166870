//! One job, one plan, one digest: natively and in wasm. The digest changes whenever a rule or a word of the plan changes; then look at
//! what changed, and write down the new one.

use job::read::read_strictly;
use job::{Job, Private};

const JOB: &str = include_str!("../../../../tests/jobs/overnight.job.json");
const PRIVATE: &str = include_str!("../../../../tests/jobs/overnight.private.json");

/// Made by this engine itself: it shows that nothing changed, not that it is right. What is right is in `worked_jobs.rs`.
const DIGEST: &str = "d6db1b2c629fddad";

#[test]
fn the_plan_has_the_bits_it_had() {
    let job: Job = read_strictly(&serde_json::from_str(JOB).unwrap()).unwrap();
    let private: Private = read_strictly(&serde_json::from_str(PRIVATE).unwrap()).unwrap();
    let plan = plan::plan(&job, Some(&private));
    assert_eq!(plan::digest(&plan), DIGEST);
    // what was read from JSON again is the same plan
    let text = serde_json::to_string(&plan).unwrap();
    let again: plan::Plan = serde_json::from_str(&text).unwrap();
    assert_eq!(plan::digest(&again), DIGEST);
}

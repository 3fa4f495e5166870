//! Between documents and typed jobs: reading leniently, accepting edits strictly.

use job::day::Signature;
use job::{Edit, Finding, Ids, Job, Part, Private};
use plan::steps::BESIDE;
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Value, json};
use store::{State, StoreError, Summary};

use crate::fault::Fault;
use crate::views::JobRow;

impl From<StoreError> for Fault {
    fn from(error: StoreError) -> Fault {
        Fault::new(error.code(), error.to_string(), error.hint())
    }
}

/// A job as it stands, with what could not be read.
pub(crate) struct Read {
    pub job: Job,
    /// Client and money; absent in a crew copy.
    pub private: Option<Private>,
    /// Signed hand-overs. A device of the crew has those that it took, and nothing else of the private part.
    pub signatures: Ids<Signature>,
    pub findings: Vec<Finding>,
}

/// Reads both documents. What is wrong in them becomes findings.
pub(crate) fn read(state: &State) -> Read {
    let (job, mut findings) = job::read::read::<Job>((*state.value).clone());
    let private = state.private.as_ref().map(|value| {
        let (private, more) = job::read::read::<Private>((**value).clone());
        findings.extend(more);
        private
    });
    let signatures = private
        .as_ref()
        .map(|p| p.signatures.clone())
        .unwrap_or_default();
    let only_signed = state.private.as_deref().is_some_and(store::is_only_signed);
    Read {
        job,
        private: private.filter(|_| !only_signed),
        signatures,
        findings,
    }
}

/// Accepts what edits made of a job: every field that they wrote must exist and be of its type. What was wrong elsewhere before stays a
/// finding and stops nobody.
pub(crate) fn accept(
    id: &str,
    state: &State,
    edits: &[Edit],
    now_ms: i64,
) -> Result<Summary, String> {
    let read = read(state);
    let job = as_value(&read.job)?;
    let private = match &read.private {
        Some(private) => as_value(private)?,
        None => json!({ "signatures": as_value(&read.signatures)? }),
    };
    for edit in edits {
        let path = written(edit);
        let known = if edit.part() == Part::Job {
            &job
        } else {
            &private
        };
        well_written(&path, &read.findings, known)?;
    }
    Ok(summary(id, &read.job, state.apart.len(), now_ms))
}

/// The same for a document that is read in one piece: a book.
pub(crate) fn accept_book<T: DeserializeOwned + Serialize + Default>(
    value: &Value,
    edits: &[Edit],
) -> Result<(), String> {
    let (read, findings) = job::read::read::<T>(value.clone());
    let known = as_value(&read)?;
    edits
        .iter()
        .try_for_each(|edit| well_written(&written(edit), &findings, &known))
}

fn as_value<T: Serialize>(value: &T) -> Result<Value, String> {
    serde_json::to_value(value).map_err(|e| e.to_string())
}

/// Refuses a path whose value could not be read, or that leads to no field.
fn well_written(path: &[String], findings: &[Finding], known: &Value) -> Result<(), String> {
    if findings
        .iter()
        .any(|f| f.path.starts_with(path) || path.starts_with(&f.path))
    {
        return Err(format!(
            "the value for {} is not of the right kind",
            path.join(" / ")
        ));
    }
    let mut at = known;
    for key in path {
        at = at
            .get(key)
            .ok_or_else(|| format!("there is no {}", path.join(" / ")))?;
    }
    Ok(())
}

/// The path that an edit writes to.
fn written(edit: &Edit) -> Vec<String> {
    match edit {
        Edit::Set { path, .. } => path.clone(),
        Edit::Add { path, id, .. }
        | Edit::Move { path, id, .. }
        | Edit::Remove { path, id, .. }
        | Edit::Restore { path, id, .. } => path.iter().cloned().chain([id.clone()]).collect(),
    }
}

/// Added items with all their fields; a cost that is set before there is one is added first.
pub(crate) fn completed(edits: Vec<Edit>, private: Option<&Value>) -> Result<Vec<Edit>, Fault> {
    let mut whole = Vec::new();
    for edit in edits {
        match edit {
            Edit::Add {
                part,
                path,
                id,
                before,
                value,
            } => {
                let value = job::complete::complete(&path, &value).map_err(|why| {
                    Fault::new(
                        "bad_value",
                        format!("This cannot be added: {why}."),
                        "Check what was entered.",
                    )
                })?;
                whole.push(Edit::Add {
                    part,
                    path,
                    id,
                    before,
                    value,
                });
            }
            Edit::Set { ref path, .. } if missing_cost(path, private, &whole) => {
                let id = path[1].clone();
                let value = json!({ "bag": 1, "cents": 0 });
                whole.push(Edit::Add {
                    part: edit.part(),
                    path: vec!["costs".into()],
                    id,
                    before: None,
                    value,
                });
                whole.push(edit);
            }
            other => whole.push(other),
        }
    }
    Ok(whole)
}

fn missing_cost(path: &[String], document: Option<&Value>, before: &[Edit]) -> bool {
    let [list, id, _] = path else { return false };
    let added = |e: &Edit| matches!(e, Edit::Add { path, id: other, .. } if path.first() == Some(list) && other == id);
    list == "costs"
        && document.is_some_and(|d| d["costs"].get(id).is_none())
        && !before.iter().any(added)
}

/// What the list shows of a job.
pub(crate) fn summary(id: &str, job: &Job, apart: usize, now_ms: i64) -> Summary {
    let row = JobRow {
        id: id.into(),
        name: job.name.clone(),
        occasion: job.occasion.clone(),
        stage: job.stage,
        venue: job.venue.name.clone(),
        zone: job.venue.zone.clone(),
        ready_by: job.times.ready_by.clone(),
        ready_by_ms: job::time::instant(&job.times.ready_by, &job.venue.zone).ok(),
        pieces: i64::try_from(job::live(&job.pieces).len()).unwrap_or(i64::MAX),
        ticked: ticked(job),
        gone: job.gone,
        apart: i64::try_from(apart).unwrap_or(i64::MAX),
        changed_ms: now_ms,
    };
    // undated jobs come last
    let sort = if job.times.ready_by.trim().is_empty() {
        "~".into()
    } else {
        job.times.ready_by.clone()
    };
    Summary {
        sort,
        row: serde_json::to_value(row).unwrap_or(Value::Null),
    }
}

/// Steps whose tick with the highest turn says done. Points of the walk-through, what is counted back and
/// bags in and out of the vehicle are no steps.
fn ticked(job: &Job) -> i64 {
    let mut holds: std::collections::BTreeMap<&str, (i64, bool)> =
        std::collections::BTreeMap::new();
    let beside = |step: &str| BESIDE.iter().any(|b| step.starts_with(b));
    for tick in job.ticks.values().filter(|t| !beside(&t.step)) {
        let (turn, done) = holds.entry(&tick.step).or_default();
        // two devices that ticked apart have one turn: done wins
        if (tick.turn, tick.done) > (*turn, *done) {
            (*turn, *done) = (tick.turn, tick.done);
        }
    }
    i64::try_from(holds.values().filter(|(_, done)| *done).count()).unwrap_or(i64::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::site::Tick;

    #[test]
    fn the_highest_turn_holds_and_done_wins_a_draw() {
        let tick = |step: &str, turn, done| Tick {
            step: step.into(),
            turn,
            done,
            ..Tick::default()
        };
        let mut job = Job::default();
        for (key, t) in [
            ("a~1", tick("a", 1, true)),
            ("a~2", tick("a", 2, false)),
            ("b~1", tick("b", 3, false)),
            ("b~2", tick("b", 3, true)),
            ("walk.arch.full~1", tick("walk.arch.full", 1, true)),
            ("back.kit.k~1", tick("back.kit.k", 1, true)),
            ("van.arch.1~1", tick("van.arch.1", 1, true)),
            ("out.arch.1~1", tick("out.arch.1", 1, true)),
        ] {
            job.ticks.insert(key.into(), t);
        }
        assert_eq!(ticked(&job), 1);
    }
}

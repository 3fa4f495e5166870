//! Work that takes two pairs of hands, and is given to one person: what stands over people's heads until its ballast holds it, and what
//! is heavy. It is never done alone, so a plan that has nobody else for it does not hold.

use std::collections::BTreeSet;

use job::piece::PieceKind;
use job::set_piece::ClassicForm;
use job::site::Crew;
use job::{Finding, Job, Room, Severity};

use crate::frames::brought;
use crate::pieces::Counted;
use crate::tasks::heavy;
use crate::types::{Load, Phase, Task};

/// The finding that names such work, if there is any.
pub(super) fn too_few(
    job: &Job,
    counted: &Counted,
    load: &Load,
    crew: &[(&str, &Crew)],
    tasks: &[Task],
) -> Option<Finding> {
    // without anybody there is another finding
    if crew.is_empty() {
        return None;
    }
    let high: BTreeSet<&str> = (counted.pieces.iter())
        .filter(|plan| match plan.kind {
            PieceKind::Frame => brought(job, plan).is_some(),
            PieceKind::Wall => true,
            PieceKind::Classic => {
                (job.pieces.get(&plan.piece)).is_some_and(|p| p.classic.form == ClassicForm::Arch)
            }
            _ => false,
        })
        .map(|plan| plan.piece.as_str())
        .collect();
    let lifts = heavy(counted, &load.parcels);
    let takes_two = |task: &&Task| {
        let kind = task.id.split('.').next().unwrap_or_default();
        match kind {
            "frame" | "stand" => high.contains(task.piece.as_str()),
            "load" | "carry" => lifts,
            _ => task.phase == Phase::Strike && kind == "strike" && !high.is_empty(),
        }
    };
    let alone: Vec<&Task> = (tasks.iter().filter(takes_two))
        .filter(|t| t.people < 2 || (t.start_ms.is_some() && t.who.len() < 2))
        .collect();
    let first = alone.first()?;
    let names: Vec<&str> = alone.iter().map(|t| t.title.as_str()).collect();
    let what = match names.as_slice() {
        [one] => (*one).to_string(),
        [others @ .., last] => format!("{}; {last}", others.join("; ")),
        [] => return None,
    };
    let who = (crew.iter())
        .find(|(id, _)| first.who.iter().any(|w| w == id))
        .map_or("one person", |(_, c)| c.name.trim());
    let who = if who.is_empty() { "one person" } else { who };
    Some(Finding::new(
        "needs_two",
        Severity::Stop,
        Room::Times,
        &["crew"],
        format!("It takes two, and {who} would be alone: {what}."),
        "Find a second person for these hours, or leave out what takes two.",
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::defaults::starting_books;
    use job::demo::demo;
    use job::list::live;

    /// With Ben ill the frames of the demo stand in the plan for Ada alone, and so does their taking down: red, and both are named. With
    /// two people they are given to both, and nothing is said.
    #[test]
    fn what_takes_two_is_not_given_to_one_without_a_word() {
        let mut job = demo(&starting_books(), "2027-06-12").0;
        let plan = crate::plan(&job, None);
        assert!(plan.findings.iter().all(|f| f.code != "needs_two"));
        let frames: Vec<&Task> = (plan.tasks.iter())
            .filter(|t| t.id.starts_with("frame."))
            .collect();
        assert!(!frames.is_empty());
        assert!(frames.iter().all(|t| t.who.len() == 2), "{frames:?}");
        let ben = (live(&job.crew).iter())
            .find(|(_, c)| c.name == "Ben")
            .map(|(id, _)| id.to_string())
            .unwrap();
        job.crew.get_mut(&ben).unwrap().gone = true;
        let plan = crate::plan(&job, None);
        let finding = plan
            .findings
            .iter()
            .find(|f| f.code == "needs_two")
            .unwrap();
        assert_eq!(finding.severity, Severity::Stop);
        for task in plan
            .tasks
            .iter()
            .filter(|t| t.id.starts_with("frame.") || t.id == "strike")
        {
            assert!(
                finding.message.contains(&task.title),
                "{}: {}",
                task.title,
                finding.message
            );
        }
        assert!(finding.message.contains("Ada"), "{}", finding.message);
        // one more person cures it, and that is offered
        assert!(
            finding
                .fixes
                .iter()
                .any(|f| f.label.starts_with("Add one more")),
            "{finding:?}"
        );
    }
}

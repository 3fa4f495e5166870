use super::*;
use job::defaults::starting_books;
use job::demo::demo;

const MIN: i64 = 60_000;

/// The demo on its morning, without Ben, before anything is done.
fn alone() -> (Job, i64) {
    let mut job = demo(&starting_books(), "2027-06-12").0;
    let plan = crate::plan(&job, None);
    let now = plan.figures.start_by_ms.unwrap();
    let ben = job
        .crew
        .iter()
        .find(|(_, c)| c.name == "Ben")
        .unwrap()
        .0
        .clone();
    job.crew.get_mut(&ben).unwrap().gone = true;
    (job, now)
}

/// The plan of the job with what is offered, as the store would make it.
fn taken(job: &Job, still: &Still) -> Job {
    let mut doc = serde_json::to_value(job).unwrap();
    for edit in &still.edits {
        match edit {
            Edit::Set { path, value, .. } => doc[&path[0]][&path[1]] = value.clone(),
            Edit::Remove { path, id, .. } => doc[&path[0]][id]["gone"] = true.into(),
            Edit::Add {
                path, id, value, ..
            } => {
                doc[&path[0]][id] = job::complete::complete(path, value).unwrap();
                doc[&path[0]][id]["order"] = "~".into();
            }
            other => panic!("{other:?}"),
        }
    }
    serde_json::from_value(doc).unwrap()
}

/// Alone it is late. What is offered has a name, brings the hand-over forward or agrees on it, and keeps its word when it is taken.
#[test]
fn what_still_helps_from_now_is_offered_and_keeps_its_word() {
    let (mut job, now) = alone();
    job.times.doors_open.clear();
    let mut memory = Memory::default();
    let plan = plan_at(&job, None, Depth::Preview, &mut memory);
    let late = live(&job, &plan, now).late_s.unwrap();
    assert!(late > 60, "{late}");
    let dora = Crew {
        name: "Dora".into(),
        ..Crew::default()
    };
    let all = still(
        &job,
        std::slice::from_ref(&dora),
        now,
        Depth::Preview,
        &mut memory,
    );
    let codes: Vec<(&str, &str)> = all
        .iter()
        .map(|s| (s.code.as_str(), s.name.as_str()))
        .collect();
    assert!(codes.contains(&("person", "Dora")), "{codes:?}");
    assert!(codes.contains(&("ready_by", "")), "{codes:?}");
    assert!(codes.iter().any(|c| c.0 == "without"), "{codes:?}");
    for one in &all {
        let job = taken(&job, one);
        let plan = plan_at(&job, None, Depth::Preview, &mut memory);
        let day = live(&job, &plan, now);
        assert_eq!(
            (day.finish_ms, day.late_s),
            (Some(one.finish_ms), Some(one.late_s)),
            "{one:?}"
        );
        assert!(one.late_s <= late - 60, "{one:?} against {late}");
    }
    // in time comes before what only helps
    let late: Vec<bool> = all.iter().map(|s| s.late_s >= 60).collect();
    assert!(late.is_sorted(), "{all:?}");
}

/// What is in time needs no cure; a later ready-by is not offered past the opening of the doors; what is begun is not left out.
#[test]
fn nothing_is_offered_that_does_not_help_or_cannot_be() {
    let (mut job, now) = alone();
    let mut memory = Memory::default();
    job.times.doors_open.clone_from(&job.times.ready_by);
    let all = still(&job, &[], now, Depth::Preview, &mut memory);
    assert!(all.iter().all(|s| s.code != "ready_by"), "{all:?}");
    assert_eq!(
        all.iter().filter(|s| s.code == "person").count(),
        1,
        "one more without a name"
    );
    let plan = plan_at(&job, None, Depth::Preview, &mut memory);
    let left = all.iter().find(|s| s.code == "without").unwrap();
    let Edit::Remove { id, .. } = &left.edits[0] else {
        panic!("{left:?}")
    };
    let task = plan.tasks.iter().find(|t| t.piece == *id).unwrap();
    let step = plan
        .steps
        .iter()
        .find(|s| s.tasks.contains(&task.id))
        .unwrap();
    let tick = job::site::Tick {
        step: step.id.clone(),
        turn: 1,
        done: true,
        quantity: step.quantity,
        at_ms: now,
        ..job::site::Tick::default()
    };
    job.ticks.insert(format!("{}~d", step.id), tick);
    let name = left.name.clone();
    let all = still(&job, &[], now, Depth::Preview, &mut memory);
    assert!(
        all.iter().all(|s| s.name != name),
        "{name} is begun: {all:?}"
    );
    // both there, two hours before the start
    let job = demo(&starting_books(), "2027-06-12").0;
    assert_eq!(
        still(&job, &[], now - 120 * MIN, Depth::Preview, &mut memory),
        []
    );
}

//! An independent check of a schedule, from problem and answer alone.

use super::{Answer, NoTime, Placed, Problem, Task};

/// A rule that a schedule breaks. Tasks and workers by index.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Violation {
    /// Not one answer for each task.
    Count,
    /// From start to end is not the time that it takes these people.
    Duration(usize),
    /// Begins before its release.
    Early(usize),
    /// Ends after its deadline.
    Late(usize),
    /// Begins before what it follows is over: task, before.
    Order(usize, usize),
    /// Not the number of people that it takes, or one of them twice.
    People(usize),
    /// Nobody on it has the skill.
    Skill(usize),
    /// A person works outside their free stretches: task, worker.
    Hours(usize, usize),
    /// A person does two things at once that take time: worker, task, task.
    Twice(usize, usize, usize),
    /// More kit in use than there is: kind, at the start of this task.
    Kit(usize, usize),
    /// The reason for having no time is not true.
    Reason(usize),
}

/// Everything that is wrong with an answer; empty if nothing is.
#[must_use]
pub fn check(problem: &Problem, answer: &Answer) -> Vec<Violation> {
    if answer.tasks.len() != problem.tasks.len() {
        return vec![Violation::Count];
    }
    let mut wrong = Vec::new();
    for (i, answered) in answer.tasks.iter().enumerate() {
        match answered {
            Ok(placed) => alone(problem, answer, i, placed, &mut wrong),
            Err(why) if !is_true(problem, i, *why) => wrong.push(Violation::Reason(i)),
            Err(_) => {}
        }
    }
    for worker in 0..problem.workers.len() {
        twice(answer, worker, &mut wrong);
    }
    for kind in 0..most_kinds(problem) {
        too_much_kit(problem, answer, kind, &mut wrong);
    }
    wrong
}

/// What a task breaks by itself and against those before it.
fn alone(problem: &Problem, answer: &Answer, i: usize, p: &Placed, wrong: &mut Vec<Violation>) {
    let task = &problem.tasks[i];
    if !takes(problem, task, p) {
        wrong.push(Violation::Duration(i));
    }
    if task.release.is_some_and(|release| p.start < release) {
        wrong.push(Violation::Early(i));
    }
    if p.end > task.deadline {
        wrong.push(Violation::Late(i));
    }
    for before in &task.after {
        if let Some(Ok(b)) = answer.tasks.get(*before)
            && b.end > p.start
        {
            wrong.push(Violation::Order(i, *before));
        }
    }
    if p.who.len() != task.people || p.who.windows(2).any(|w| w[0] >= w[1]) {
        wrong.push(Violation::People(i));
    }
    let worker = |w: usize| problem.workers.get(w);
    if let Some(skill) = task.skill
        && task.people > 0
        && !p
            .who
            .iter()
            .any(|w| worker(*w).is_some_and(|w| w.skills.get(skill) == Some(&true)))
    {
        wrong.push(Violation::Skill(i));
    }
    for w in &p.who {
        let within = |f: &(i64, i64)| f.0 <= p.start && p.end <= f.1;
        if !worker(*w).is_some_and(|worker| worker.free.iter().any(within)) {
            wrong.push(Violation::Hours(i, *w));
        }
    }
}

/// Whether a task has the least whole time in which these people do it: so many people at the usual pace do it in its duration, and these
/// do each as much of it as their pace lets them.
fn takes(problem: &Problem, task: &Task, p: &Placed) -> bool {
    let of = |w: &usize| {
        let paces = problem.workers.get(*w).map(|w| &w.paces);
        let pace = task.kind.and_then(|k| paces?.get(k).copied());
        i128::from(pace.unwrap_or(100).clamp(1, 10_000))
    };
    let took = i128::from(p.end) - i128::from(p.start);
    let usual = i128::from(task.duration.max(0));
    if p.who.is_empty() {
        return took == usual;
    }
    let all: i128 = p.who.iter().map(of).sum();
    let work = usual * 100 * p.who.len() as i128;
    took >= 0 && took * all >= work && (took == 0 || (took - 1) * all < work)
}

/// Reasons that do not depend on the search can be looked at; the others cannot.
fn is_true(problem: &Problem, i: usize, why: NoTime) -> bool {
    let task = &problem.tasks[i];
    match why {
        NoTime::TooFewPeople => task.people > problem.workers.len(),
        NoTime::NoSkill => task.skill.is_some_and(|s| {
            problem
                .workers
                .iter()
                .all(|w| w.skills.get(s) != Some(&true))
        }),
        NoTime::TooLittleKit(kind) => {
            let have = problem.kit.get(kind).copied().unwrap_or(0);
            task.kit.get(kind).is_some_and(|n| *n > have)
        }
        NoTime::Circle => problem.tasks.iter().any(|t| !t.after.is_empty()),
        NoTime::BeforeRelease => task.release.is_some(),
        NoTime::NoStretch | NoTime::OutOfWork => true,
    }
}

/// Two things at once by one person: in order of start, against whatever lasts longest so far.
fn twice(answer: &Answer, worker: usize, wrong: &mut Vec<Violation>) {
    let mut theirs: Vec<(i64, i64, usize)> = answer
        .tasks
        .iter()
        .enumerate()
        .filter_map(|(i, t)| Some((i, t.as_ref().ok()?)))
        .filter(|(_, p)| p.start < p.end && p.who.contains(&worker))
        .map(|(i, p)| (p.start, p.end, i))
        .collect();
    theirs.sort_unstable();
    let mut longest: Option<(i64, usize)> = None;
    for (start, end, i) in theirs {
        if let Some((until, j)) = longest
            && start < until
        {
            wrong.push(Violation::Twice(worker, i.min(j), i.max(j)));
        }
        if longest.is_none_or(|(until, _)| end > until) {
            longest = Some((end, i));
        }
    }
}

fn most_kinds(problem: &Problem) -> usize {
    problem.tasks.iter().map(|t| t.kit.len()).max().unwrap_or(0)
}

/// More of a kind in use than there is: at each moment what ends is put back before what begins is taken.
fn too_much_kit(problem: &Problem, answer: &Answer, kind: usize, wrong: &mut Vec<Violation>) {
    let mut changes: Vec<(i64, bool, usize, i64)> = Vec::new();
    for (i, (task, answered)) in problem.tasks.iter().zip(&answer.tasks).enumerate() {
        let count = task.kit.get(kind).copied().unwrap_or(0);
        if let Ok(p) = answered
            && count > 0
            && p.end > p.start
        {
            changes.push((p.start, true, i, count));
            changes.push((p.end, false, i, count));
        }
    }
    changes.sort_unstable();
    let have = i128::from(problem.kit.get(kind).copied().unwrap_or(0));
    let mut used = 0i128;
    for (_, begins, i, count) in changes {
        used += if begins {
            i128::from(count)
        } else {
            -i128::from(count)
        };
        if begins && used > have {
            wrong.push(Violation::Kit(kind, i));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Placed, Task, Worker};
    use super::*;

    #[test]
    fn each_rule_is_seen_to_be_broken() {
        let task = |after: Vec<usize>| Task {
            duration: 10,
            people: 1,
            kind: None,
            skill: Some(0),
            kit: vec![1],
            after,
            release: Some(20),
            deadline: 100,
        };
        let problem = Problem {
            tasks: vec![task(vec![]), task(vec![0])],
            workers: vec![
                Worker {
                    free: vec![(0, 100)],
                    skills: vec![true],
                    paces: vec![],
                },
                Worker {
                    free: vec![(0, 100)],
                    skills: vec![false],
                    paces: vec![],
                },
            ],
            kit: vec![1],
        };
        let at = |start: i64, end: i64, who: Vec<usize>| Ok(Placed { start, end, who });
        for (tasks, want) in [
            (vec![at(80, 90, vec![0]), at(90, 100, vec![0])], vec![]),
            (vec![at(80, 90, vec![0])], vec![Violation::Count]),
            (
                vec![at(80, 89, vec![0]), at(90, 100, vec![0])],
                vec![Violation::Duration(0)],
            ),
            (
                vec![at(19, 29, vec![0]), at(90, 100, vec![0])],
                vec![Violation::Early(0)],
            ),
            (
                vec![at(80, 90, vec![0]), at(95, 105, vec![0])],
                vec![Violation::Late(1), Violation::Hours(1, 0)],
            ),
            (
                vec![at(90, 100, vec![0]), at(80, 90, vec![0])],
                vec![Violation::Order(1, 0)],
            ),
            (
                vec![at(80, 90, vec![0, 1]), at(90, 100, vec![0])],
                vec![Violation::People(0)],
            ),
            (
                vec![at(80, 90, vec![0, 0]), at(90, 100, vec![])],
                vec![
                    Violation::People(0),
                    Violation::People(1),
                    Violation::Skill(1),
                ],
            ),
            (
                vec![at(80, 90, vec![1]), at(90, 100, vec![0])],
                vec![Violation::Skill(0)],
            ),
            (
                vec![at(80, 90, vec![0]), at(85, 95, vec![0])],
                vec![
                    Violation::Order(1, 0),
                    Violation::Twice(0, 0, 1),
                    Violation::Kit(0, 1),
                ],
            ),
            (vec![at(80, 90, vec![0]), Err(NoTime::NoStretch)], vec![]),
            (
                vec![at(80, 90, vec![0]), Err(NoTime::TooFewPeople)],
                vec![Violation::Reason(1)],
            ),
            (
                vec![Err(NoTime::NoSkill), Err(NoTime::TooLittleKit(0))],
                vec![Violation::Reason(0), Violation::Reason(1)],
            ),
        ] {
            assert_eq!(check(&problem, &Answer { tasks, work: 0 }), want);
        }
    }

    /// A short task inside a long one, after another that has ended: no neighbour in order of start meets it.
    #[test]
    fn a_long_task_is_not_forgotten() {
        let at = |start: i64, end: i64| {
            Ok(Placed {
                start,
                end,
                who: vec![0],
            })
        };
        let task = |duration| Task {
            duration,
            people: 1,
            deadline: 100,
            kit: vec![1],
            ..Task::default()
        };
        let problem = Problem {
            tasks: vec![task(50), task(5), task(5)],
            workers: vec![Worker {
                free: vec![(0, 100)],
                skills: vec![],
                paces: vec![],
            }],
            kit: vec![3],
        };
        let answer = Answer {
            tasks: vec![at(0, 50), at(10, 15), at(40, 45)],
            work: 0,
        };
        assert_eq!(
            check(&problem, &answer),
            [Violation::Twice(0, 0, 1), Violation::Twice(0, 0, 2)]
        );
    }
}

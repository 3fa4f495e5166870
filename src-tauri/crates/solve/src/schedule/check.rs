//! An independent check of a schedule, from problem and answer alone.

use super::{Answer, Problem};

/// A rule that a schedule breaks. Tasks and workers by index.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Violation {
    /// Not one answer for each task.
    Count,
    /// End is not start plus duration.
    Duration(usize),
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
    /// A person does two things at once: worker, task, task.
    Twice(usize, usize, usize),
    /// More kit in use than there is: kind, at the start of this task.
    Kit(usize, usize),
}

/// Everything that is wrong with an answer; empty if nothing is.
#[must_use]
pub fn check(problem: &Problem, answer: &Answer) -> Vec<Violation> {
    if answer.tasks.len() != problem.tasks.len() {
        return vec![Violation::Count];
    }
    let mut wrong = Vec::new();
    let placed = |i: usize| answer.tasks.get(i).and_then(|t| t.as_ref().ok());
    for (i, task) in problem.tasks.iter().enumerate() {
        let Some(p) = placed(i) else {
            continue;
        };
        if p.end - p.start != task.duration {
            wrong.push(Violation::Duration(i));
        }
        if p.end > task.deadline {
            wrong.push(Violation::Late(i));
        }
        for before in &task.after {
            if placed(*before).is_some_and(|b| b.end > p.start) {
                wrong.push(Violation::Order(i, *before));
            }
        }
        let mut who = p.who.clone();
        who.dedup();
        if who.len() != task.people || p.who.windows(2).any(|w| w[0] >= w[1]) {
            wrong.push(Violation::People(i));
        }
        let has = |w: &usize| {
            task.skill.is_none_or(|s| {
                problem
                    .workers
                    .get(*w)
                    .is_some_and(|w| w.skills.get(s) == Some(&true))
            })
        };
        if !p.who.iter().any(has) {
            wrong.push(Violation::Skill(i));
        }
        for w in &p.who {
            let within = |f: &(i64, i64)| f.0 <= p.start && p.end <= f.1;
            if !problem
                .workers
                .get(*w)
                .is_some_and(|worker| worker.free.iter().any(within))
            {
                wrong.push(Violation::Hours(i, *w));
            }
        }
        for (j, _) in problem.tasks.iter().enumerate().take(i) {
            let Some(q) = placed(j).filter(|q| q.start < p.end && p.start < q.end) else {
                continue;
            };
            wrong.extend(
                p.who
                    .iter()
                    .filter(|w| q.who.contains(w))
                    .map(|w| Violation::Twice(*w, j, i)),
            );
        }
        for (kind, n) in task.kit.iter().enumerate() {
            let used: i64 = (0..problem.tasks.len())
                .filter(|j| placed(*j).is_some_and(|q| q.start <= p.start && p.start < q.end))
                .map(|j| problem.tasks[j].kit.get(kind).copied().unwrap_or(0))
                .sum();
            if *n > 0 && used > problem.kit.get(kind).copied().unwrap_or(0) && p.end > p.start {
                wrong.push(Violation::Kit(kind, i));
            }
        }
    }
    wrong
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
            skill: Some(0),
            kit: vec![1],
            after,
            deadline: 100,
        };
        let problem = Problem {
            tasks: vec![task(vec![]), task(vec![0])],
            workers: vec![
                Worker {
                    free: vec![(0, 100)],
                    skills: vec![true],
                },
                Worker {
                    free: vec![(0, 100)],
                    skills: vec![false],
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
        ] {
            assert_eq!(check(&problem, &Answer { tasks, work: 0 }), want);
        }
    }
}

//! The best schedule that can be had for so much work, part by part.
//!
//! A gate is a task that every other task comes before or after, near or far: loading, the drive, carrying in. Whatever comes after a
//! gate is a question of its own: the later the gate can begin, the more room has everything before it, and nothing before it takes
//! people or kit from anything after it. So the parts are solved from the last to the first, each by [`exact`]. If every part is
//! proved, the whole is, gates and all: each gate begins as late as it can in any schedule.

use super::exact::{Exact, exact};
use super::serial::solve;
use super::{Answer, NoTime, Problem, Task};

/// Most tasks whose gates are looked for.
const MOST: usize = 2_000;

/// Serial answers of the parts, bettered by the engine. `budget` bounds the steps of the serial scheme, `work` those of the engine.
#[must_use]
pub fn best(problem: &Problem, budget: u64, work: u64) -> Exact {
    let parts = parts(problem);
    if parts.len() < 2 {
        return exact(problem, solve(problem, budget), work);
    }
    let mut left = work;
    let mut tasks = vec![Err(NoTime::Circle); problem.tasks.len()];
    let mut steps = 0u64;
    // by when each part must be over, and whether no schedule gives it more time
    let (mut until, mut proved) = (i64::MAX, true);
    for part in &parts {
        let here = alone(problem, part, until);
        let from = solve(&here, budget.saturating_sub(steps));
        let found = exact(&here, from, left);
        left = left.saturating_sub(found.work);
        steps = steps.saturating_add(found.answer.work);
        let impossible = found.impossible && proved;
        proved &= found.gap() == Some(0);
        let starts = found.answer.tasks.iter().flatten().map(|p| p.start);
        until = starts.min().unwrap_or(until);
        let whole = found.answer.tasks.iter().all(Result::is_ok);
        for (i, answered) in part.iter().zip(found.answer.tasks) {
            tasks[*i] = answered;
        }
        if !whole {
            // what comes before is told to begin no later than the serial scheme says
            let whole = exact(problem, solve(problem, budget), 0);
            return Exact {
                impossible: impossible || whole.impossible,
                work: work.saturating_sub(left),
                ..whole
            };
        }
    }
    let answer = Answer { tasks, work: steps };
    if proved {
        return Exact {
            latest: Some(until),
            answer,
            impossible: false,
            work: work.saturating_sub(left),
        };
    }
    let whole = exact(problem, answer, left);
    Exact {
        work: work.saturating_sub(left).saturating_add(whole.work),
        ..whole
    }
}

/// Tasks from the last part to the first, each ascending. All but the last of these begin with their gate.
fn parts(problem: &Problem) -> Vec<Vec<usize>> {
    let n = problem.tasks.len();
    let all: Vec<usize> = (0..n).collect();
    if n > MOST {
        return vec![all];
    }
    let Some(after) = after(problem) else {
        return vec![all];
    };
    let mut before = vec![0; n];
    for later in &after {
        for (j, count) in before.iter_mut().enumerate() {
            *count += usize::from(bit(later, j));
        }
    }
    let count = |i: usize| (0..n).filter(|j| bit(&after[i], *j)).count();
    let mut gates: Vec<(usize, usize)> = all
        .iter()
        .map(|i| (count(*i), *i))
        .filter(|(later, i)| later + before[*i] + 1 == n)
        .collect();
    gates.sort_unstable();
    let mut parts: Vec<Vec<usize>> = Vec::new();
    let mut done = vec![false; n];
    for (_, gate) in gates {
        let here = |i: &usize| !done[*i] && (*i == gate || bit(&after[gate], *i));
        let part: Vec<usize> = all.iter().copied().filter(here).collect();
        part.iter().for_each(|i| done[*i] = true);
        parts.push(part);
    }
    let rest: Vec<usize> = all.into_iter().filter(|i| !done[*i]).collect();
    if !rest.is_empty() {
        parts.push(rest);
    }
    parts
}

/// Of each task the set of those after it, near or far; none if they wait for each other in a circle.
fn after(problem: &Problem) -> Option<Vec<Vec<u64>>> {
    let n = problem.tasks.len();
    let within = |b: &&usize| **b < n;
    let mut followers = vec![0; n];
    for before in problem.tasks.iter().flat_map(|t| &t.after).filter(within) {
        followers[*before] += 1;
    }
    let mut ready: Vec<usize> = (0..n).filter(|i| followers[*i] == 0).collect();
    let mut sets = vec![vec![0u64; n.div_ceil(64)]; n];
    let mut seen = 0;
    while let Some(i) = ready.pop() {
        seen += 1;
        let mut theirs = sets[i].clone();
        theirs[i / 64] |= 1 << (i % 64);
        for before in problem.tasks[i].after.iter().filter(within) {
            for (set, more) in sets[*before].iter_mut().zip(&theirs) {
                *set |= more;
            }
            followers[*before] -= 1;
            if followers[*before] == 0 {
                ready.push(*before);
            }
        }
    }
    (seen == n).then_some(sets)
}

fn bit(set: &[u64], i: usize) -> bool {
    set[i / 64] >> (i % 64) & 1 == 1
}

/// Some of the tasks as a problem of their own, all over by then.
fn alone(problem: &Problem, part: &[usize], until: i64) -> Problem {
    let place = |i: &usize| part.binary_search(i).ok();
    let tasks = part.iter().map(|i| {
        let task = &problem.tasks[*i];
        Task {
            after: task.after.iter().filter_map(place).collect(),
            deadline: task.deadline.min(until),
            ..task.clone()
        }
    });
    Problem {
        tasks: tasks.collect(),
        workers: problem.workers.clone(),
        kit: problem.kit.clone(),
    }
}

#[cfg(test)]
#[path = "gates/tests.rs"]
mod tests;

//! Begin as late as can be, with a proof.
//!
//! Seen backwards from the deadline, the latest first start is the shortest makespan. In that mirrored time people who are alike in
//! nothing but number become resources: all people, and for each skill those who have it, less those who are away. Leaving open who
//! does what makes the problem easier, so what the engine proves of it holds for people as well: nobody can begin later. Where people
//! differ in pace, each task takes only as long as the fastest need for it, which is easier still. A schedule that it finds is given
//! back its people by the serial scheme in the order found, or else by trying who does what at the times found.

use super::engine::Engine;
use super::project::{Activity, Arc, Block, Project};
use super::serial::in_order;
use super::{Answer, NoTime, Placed, Problem, Task, check};

/// Steps of trying who does what.
const TRIES: u64 = 20_000;
/// Looks at the engine's best schedule while it works.
const LOOKS: u64 = 8;

/// The best answer that was found, and what is known about all others.
#[derive(Debug, Clone, PartialEq)]
pub struct Exact {
    /// Never begins earlier than the one that was given.
    pub answer: Answer,
    /// No answer that places every task begins its first one later; none if that is not known.
    pub latest: Option<i64>,
    /// It is proved that not every task can have a time.
    pub impossible: bool,
    /// Steps of the engine.
    pub work: u64,
}

impl Exact {
    /// By how much any answer could begin later than this one: 0 is a proof that none does. None if tasks have no time.
    #[must_use]
    pub fn gap(&self) -> Option<i64> {
        Some(
            self.latest?
                .saturating_sub(first_start(&self.answer)?)
                .max(0),
        )
    }
}

/// The start of the first task, if every task has its time.
fn first_start(answer: &Answer) -> Option<i64> {
    let starts: Result<Vec<i64>, NoTime> = answer
        .tasks
        .iter()
        .map(|t| t.as_ref().map(|p| p.start).map_err(|e| *e))
        .collect();
    starts.ok()?.into_iter().min()
}

/// Betters an answer, with so much work of the engine.
#[must_use]
pub fn exact(problem: &Problem, from: Answer, work: u64) -> Exact {
    let mut out = Exact {
        answer: from,
        latest: None,
        impossible: false,
        work: 0,
    };
    let never = problem.tasks.iter().any(|t| t.never(problem).is_some());
    let circle = out
        .answer
        .tasks
        .iter()
        .any(|t| matches!(t, Err(NoTime::Circle)));
    let Some(end) = problem.tasks.iter().map(|t| t.deadline).max() else {
        return out;
    };
    if never || circle || out.answer.tasks.len() != problem.tasks.len() {
        return out;
    }
    let opens = problem
        .workers
        .iter()
        .filter_map(|w| w.free.first())
        .map(|f| f.0)
        .min();
    let begin = first_start(&out.answer).or(opens).unwrap_or(end);
    let Some(project) = mirrored(problem, begin, end) else {
        return out;
    };
    let mut engine = Engine::new(&project);
    if first_start(&out.answer).is_some() {
        engine.beat(&backwards(problem, &out.answer, end));
    }
    let mut seen = engine.outcome().makespan;
    for look in 1..=LOOKS {
        let outcome = engine.run(work / LOOKS * look, work);
        if let (Some(starts), true) = (&outcome.starts, outcome.makespan != seen) {
            seen = outcome.makespan;
            better(problem, starts, end, &mut out.answer);
        }
        if outcome.proven {
            break;
        }
    }
    let outcome = engine.outcome();
    out.work = outcome.work;
    out.impossible = outcome.feasible() == Some(false);
    if !out.impossible {
        out.latest = Some(end.saturating_sub(outcome.lower_bound));
    }
    out
}

/// The problem backwards from `end`, by numbers of people, down to `begin`.
fn mirrored(problem: &Problem, begin: i64, end: i64) -> Option<Project> {
    let horizon = end.checked_sub(begin).filter(|h| *h >= 0)?;
    let skills = problem
        .workers
        .iter()
        .map(|w| w.skills.len())
        .max()
        .unwrap_or(0);
    let count = |n: usize| i64::try_from(n).unwrap_or(i64::MAX);
    // all people, each skill, each kind of kit
    let mut capacities = vec![count(problem.workers.len())];
    for skill in 0..skills {
        capacities.push(count(
            problem.workers.iter().filter(|w| w.can(skill)).count(),
        ));
    }
    capacities.extend(problem.kit.iter().map(|n| (*n).max(0)));
    let mut project = Project {
        capacities,
        ..Project::default()
    };
    for (i, task) in problem.tasks.iter().enumerate() {
        let duration = problem.shortest(task);
        let mut demand = vec![count(task.people)];
        demand.extend((0..skills).map(|s| i64::from(task.people > 0 && task.skill == Some(s))));
        demand.extend((0..problem.kit.len()).map(|k| task.kit.get(k).copied().unwrap_or(0).max(0)));
        project.activities.push(Activity {
            duration,
            demand,
            earliest: end.checked_sub(task.deadline)?,
            latest: match task.release {
                Some(release) => Some(end.checked_sub(release)?.checked_sub(duration)?),
                None => None,
            },
        });
        for before in task
            .after
            .iter()
            .copied()
            .filter(|b| *b < problem.tasks.len())
        {
            project.arcs.push(Arc {
                from: i,
                to: before,
                lag: duration,
            });
        }
    }
    // of tasks that are alike it does not matter which is which: one order of them is enough
    for pair in alike(problem).iter().flat_map(|group| group.windows(2)) {
        project.arcs.push(Arc {
            from: pair[0],
            to: pair[1],
            lag: 0,
        });
    }
    for worker in &problem.workers {
        let mut away = |from: i64, to: i64| {
            let from = from.max(0);
            if from < to.min(horizon) {
                let block = |resource| Block {
                    resource,
                    from,
                    to,
                    amount: 1,
                };
                project.blocks.push(block(0));
                let theirs = (0..skills).filter(|s| worker.can(*s));
                project.blocks.extend(theirs.map(|s| block(1 + s)));
            }
        };
        // backwards in time, so forwards here
        let mut last = 0;
        for (from, to) in worker.free.iter().rev() {
            away(last, end.saturating_sub(*to).min(horizon));
            last = last.max(end.saturating_sub(*from));
        }
        away(last, horizon);
    }
    for kind in 0..problem.kit.len() {
        idle(problem, kind, &mut project, 1 + skills + kind);
    }
    Some(project)
}

/// Of a kind that is never used by fewer people than there are pieces of it in use, no more is used than people are there: blocks for the
/// rest, a resource of the mirrored project.
fn idle(problem: &Problem, kind: usize, project: &mut Project, resource: usize) {
    let used = |t: &Task| t.kit.get(kind).copied().unwrap_or(0);
    let held = |t: &Task| i64::try_from(t.people).is_ok_and(|people| used(t) <= people);
    if !problem.tasks.iter().all(held) {
        return;
    }
    let (people, have) = (project.capacities[0], project.capacities[resource]);
    let away = project.blocks.iter().filter(|b| b.resource == 0);
    let mut changes: Vec<(i64, i64)> = away
        .flat_map(|b| [(b.from, b.amount), (b.to, -b.amount)])
        .collect();
    changes.sort_unstable();
    let mut there = people;
    for pair in changes.windows(2) {
        there -= pair[0].1;
        let amount = have - there;
        if amount > 0 && pair[0].0 < pair[1].0 {
            project.blocks.push(Block {
                resource,
                from: pair[0].0,
                to: pair[1].0,
                amount,
            });
        }
    }
}

/// Tasks of which any two can change places, in groups of two or more.
fn alike(problem: &Problem) -> Vec<Vec<usize>> {
    let n = problem.tasks.len();
    let mut followers: Vec<Vec<usize>> = vec![vec![]; n];
    for (i, task) in problem.tasks.iter().enumerate() {
        for before in task.after.iter().copied().filter(|b| *b < n) {
            followers[before].push(i);
        }
    }
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for i in 0..n {
        let same = |j: usize| problem.tasks[i] == problem.tasks[j] && followers[i] == followers[j];
        match groups.iter_mut().find(|g| same(g[0])) {
            Some(group) => group.push(i),
            None => groups.push(vec![i]),
        }
    }
    groups.retain(|g| g.len() > 1);
    groups
}

/// An answer's starts in mirrored time, those of tasks that are alike in order.
fn backwards(problem: &Problem, answer: &Answer, end: i64) -> Vec<i64> {
    let placed = answer.tasks.iter().flatten();
    let mut starts: Vec<i64> = placed.map(|p| end.saturating_sub(p.end)).collect();
    for group in alike(problem) {
        let mut theirs: Vec<i64> = group.iter().map(|i| starts[*i]).collect();
        theirs.sort_unstable();
        for (i, start) in group.iter().zip(theirs) {
            starts[*i] = start;
        }
    }
    starts
}

/// Gives the tasks of a mirrored schedule their people, and takes the answer if it begins later.
fn better(problem: &Problem, mirrored: &[i64], end: i64, answer: &mut Answer) {
    let ends: Vec<i64> = mirrored.iter().map(|s| end.saturating_sub(*s)).collect();
    let budget = answer.work.saturating_mul(4).saturating_add(TRIES);
    for offered in [
        Some(in_order(problem, budget, &ends)),
        // how long a task takes is not known before who does it
        (!problem.is_paced())
            .then(|| peopled(problem, &ends))
            .flatten(),
    ] {
        let Some(mut offered) = offered else { continue };
        let (now, then) = (first_start(answer), first_start(&offered));
        if then.is_some() && then > now && check(problem, &offered).is_empty() {
            offered.work += answer.work;
            *answer = offered;
        }
    }
}

/// Who does what when all times are fixed, by trying; none if no way was found.
fn peopled(problem: &Problem, ends: &[i64]) -> Option<Answer> {
    let spans: Vec<(i64, i64)> = problem
        .tasks
        .iter()
        .zip(ends)
        .map(|(t, end)| (end.saturating_sub(problem.shortest(t)), *end))
        .collect();
    let mut order: Vec<usize> = (0..spans.len()).collect();
    order.sort_by_key(|i| (spans[*i], *i));
    let mut search = People {
        problem,
        spans,
        order,
        who: vec![vec![]; ends.len()],
        tries: TRIES,
    };
    if !search.place(0) {
        return None;
    }
    let placed = search.spans.iter().zip(search.who);
    Some(Answer {
        tasks: placed
            .map(|((start, end), who)| {
                Ok(Placed {
                    start: *start,
                    end: *end,
                    who,
                })
            })
            .collect(),
        work: TRIES - search.tries,
    })
}

struct People<'a> {
    problem: &'a Problem,
    spans: Vec<(i64, i64)>,
    /// By start.
    order: Vec<usize>,
    who: Vec<Vec<usize>>,
    tries: u64,
}

impl People<'_> {
    /// The tasks from a place of the order on.
    fn place(&mut self, at: usize) -> bool {
        let Some(i) = self.order.get(at).copied() else {
            return true;
        };
        let task = &self.problem.tasks[i];
        let mut free: Vec<usize> = (0..self.problem.workers.len())
            .filter(|w| self.is_free(*w, i, at))
            .collect();
        // those without the skill first: the others may be needed
        free.sort_by_key(|w| {
            (
                self.problem.workers[*w]
                    .skills
                    .iter()
                    .filter(|s| **s)
                    .count(),
                *w,
            )
        });
        self.choose(task, &free, 0, i, at)
    }

    /// Fills the people of a task up from a list.
    fn choose(&mut self, task: &Task, free: &[usize], from: usize, i: usize, at: usize) -> bool {
        if self.tries == 0 {
            return false;
        }
        self.tries -= 1;
        if self.who[i].len() == task.people {
            let can = |s: usize| self.who[i].iter().any(|w| self.problem.workers[*w].can(s));
            if task.people > 0 && !task.skill.is_none_or(can) {
                return false;
            }
            let found = self.place(at + 1);
            if found {
                self.who[i].sort_unstable();
            }
            return found;
        }
        for k in from..free.len() {
            self.who[i].push(free[k]);
            if self.choose(task, free, k + 1, i, at) {
                return true;
            }
            self.who[i].pop();
        }
        false
    }

    fn is_free(&self, worker: usize, i: usize, at: usize) -> bool {
        let (start, end) = self.spans[i];
        let within = self.problem.workers[worker]
            .free
            .iter()
            .any(|f| f.0 <= start && end <= f.1);
        let meets = |j: &usize| {
            let (s, e) = self.spans[*j];
            s < end && start < e && s < e && start < end && self.who[*j].contains(&worker)
        };
        within && !self.order[..at].iter().any(meets)
    }
}

#[cfg(test)]
mod tests;

//! The last touch on a schedule: everything as late as it goes, then people who wait least.
//!
//! What begins first decides when a day begins; the rest of the day has room then. [`settle`] uses it: every task goes as late as it
//! can while nobody else has to change (right justification; A. Sprecher, R. Kolisch, A. Drexl, "Semi-active, active, and non-delay
//! schedules", EJOR 80, 1995, from memory, define it), and of those who could do a task at its time one does it who is there anyway.
//! No task ever begins earlier than before, so what was as late as can be stays so.

use super::taken::{Busy, Levels, Meter};
use super::{Answer, Placed, Problem, check};

/// Steps of the search; a job of sixty tasks takes some thousands.
const STEPS: u64 = 200_000;

/// What it costs to have somebody there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct There {
    /// A pause shorter than this is waited, a longer one parts two calls.
    pub pause: i64,
    /// What a call costs by itself, as time.
    pub call: i64,
}

/// Moves every task as late as it goes, and gives it to those who are there anyway: what counts is the time from a person's first work
/// of a call to the last, and the number of calls. An answer in which a task has no time stays as it is.
#[must_use]
pub fn settle(problem: &Problem, answer: Answer, by: There) -> Answer {
    let Some(mut placed) = all_placed(problem, &answer) else {
        return answer;
    };
    let mut meter = Meter {
        work: 0,
        budget: STEPS,
    };
    // ends: a round leaves every start where it was or later, and at the same starts the cost falls
    loop {
        let before = placed.clone();
        later(problem, &mut placed, &mut meter);
        let mut people = People {
            problem,
            placed: &mut placed,
            by,
        };
        people.settle(&mut meter);
        if placed == before || meter.work > meter.budget {
            break;
        }
    }
    let settled = Answer {
        tasks: placed.into_iter().map(Ok).collect(),
        work: answer.work.saturating_add(meter.work),
    };
    // what was wrong before is not made right here
    if check(problem, &settled).is_empty() {
        settled
    } else {
        answer
    }
}

fn all_placed(problem: &Problem, answer: &Answer) -> Option<Vec<Placed>> {
    let placed: Vec<Placed> = answer.tasks.iter().flatten().cloned().collect();
    (placed.len() == problem.tasks.len()).then_some(placed)
}

/// Each task as late as it goes with its people, what ends last first. Those before it move only later, and whatever of them now meets
/// a task's old place met it before: so its old place is always free, and no task ever moves earlier.
fn later(problem: &Problem, placed: &mut [Placed], meter: &mut Meter) {
    let mut followers: Vec<Vec<usize>> = vec![vec![]; placed.len()];
    for (i, task) in problem.tasks.iter().enumerate() {
        for before in task.after.iter().filter(|b| **b < placed.len()) {
            followers[*before].push(i);
        }
    }
    let mut order: Vec<usize> = (0..placed.len()).collect();
    order.sort_by_key(|i| std::cmp::Reverse((placed[*i].end, placed[*i].start, *i)));
    let mut busy = vec![Busy::default(); problem.workers.len()];
    let mut kit = vec![Levels::default(); problem.kit.len()];
    for i in order {
        let task = &problem.tasks[i];
        let until = followers[i].iter().map(|f| placed[*f].start);
        let until = until.fold(task.deadline, i64::min);
        let p = &mut placed[i];
        let end = latest(problem, i, p, until, &busy, &kit, meter);
        if let Some(end) = end.filter(|end| *end > p.end) {
            p.start = p.start.saturating_add(end.saturating_sub(p.end));
            p.end = end;
        }
        for w in &p.who {
            busy[*w].take(p.start, p.end);
        }
        for (levels, count) in kit.iter_mut().zip(&task.kit) {
            levels.take(p.start, p.end, *count);
        }
    }
}

/// The latest end at which a task's people and kit are free.
fn latest(
    problem: &Problem,
    i: usize,
    placed: &Placed,
    until: i64,
    busy: &[Busy],
    kit: &[Levels],
    meter: &mut Meter,
) -> Option<i64> {
    let task = &problem.tasks[i];
    let duration = placed.end.saturating_sub(placed.start);
    let mut end = until;
    loop {
        let from = end;
        for (kind, count) in task.kit.iter().enumerate().filter(|(_, n)| **n > 0) {
            let most = problem.kit.get(kind)?.saturating_sub(*count);
            end = kit[kind].latest_end(most, duration, end, meter)?;
        }
        for w in &placed.who {
            end = busy[*w].latest_end(&problem.workers[*w].free, duration, end, meter)?;
        }
        if end == from {
            return Some(end);
        }
    }
}

/// Who does what at fixed times.
struct People<'a> {
    problem: &'a Problem,
    placed: &'a mut [Placed],
    by: There,
}

impl People<'_> {
    /// One person for another, and two for each other, as long as that makes somebody wait less.
    fn settle(&mut self, meter: &mut Meter) {
        let people = 0..self.problem.workers.len();
        let mut again = true;
        while again {
            again = false;
            for i in 0..self.placed.len() {
                for from in people.clone() {
                    for to in people.clone() {
                        if !meter.step() {
                            return;
                        }
                        again |= self.hand(i, from, to, meter);
                    }
                }
            }
        }
    }

    /// Gives a task from one person to another; what the other does at that time goes the other way. Answers whether it was better.
    fn hand(&mut self, i: usize, from: usize, to: usize, meter: &mut Meter) -> bool {
        let p = &self.placed[i];
        if from == to || p.start >= p.end || !p.who.contains(&from) || p.who.contains(&to) {
            return false;
        }
        meter.work = meter.work.saturating_add(self.placed.len() as u64);
        let (start, end) = (p.start, p.end);
        let meets = |q: &Placed| q.start < end && start < q.end && q.start < q.end;
        let back: Vec<usize> = (0..self.placed.len())
            .filter(|j| self.placed[*j].who.contains(&to) && meets(&self.placed[*j]))
            .collect();
        if back.iter().any(|j| self.placed[*j].who.contains(&from)) {
            return false;
        }
        let before = self.there(from, meter) + self.there(to, meter);
        self.give(i, from, to);
        back.iter().for_each(|j| self.give(*j, to, from));
        let works = self.works(i) && back.iter().all(|j| self.works(*j)) && self.alone(from);
        if works && self.there(from, meter) + self.there(to, meter) < before {
            return true;
        }
        back.iter().for_each(|j| self.give(*j, from, to));
        self.give(i, to, from);
        false
    }

    fn give(&mut self, i: usize, from: usize, to: usize) {
        let who = &mut self.placed[i].who;
        who.retain(|w| *w != from);
        who.push(to);
        who.sort_unstable();
    }

    /// Whether the people of a task have its skill and the time, and take as long as those before.
    fn works(&self, i: usize) -> bool {
        let (task, p) = (&self.problem.tasks[i], &self.placed[i]);
        let worker = |w: &usize| &self.problem.workers[*w];
        let can = |s: usize| p.who.iter().any(|w| worker(w).can(s));
        let within = |w: &usize| {
            worker(w)
                .free
                .iter()
                .any(|f| f.0 <= p.start && p.end <= f.1)
        };
        (task.people == 0 || task.skill.is_none_or(can))
            && p.who.iter().all(within)
            && self.problem.lasts_these(task, &p.who) == p.end.saturating_sub(p.start)
    }

    /// Whether a person does one thing at a time.
    fn alone(&self, worker: usize) -> bool {
        self.spans(worker).windows(2).all(|w| w[0].1 <= w[1].0)
    }

    fn spans(&self, worker: usize) -> Vec<(i64, i64)> {
        let theirs = self.placed.iter();
        let mut spans: Vec<(i64, i64)> = theirs
            .filter(|p| p.start < p.end && p.who.contains(&worker))
            .map(|p| (p.start, p.end))
            .collect();
        spans.sort_unstable();
        spans
    }

    /// What it costs to have a person there.
    fn there(&self, worker: usize, meter: &mut Meter) -> i128 {
        meter.work = meter.work.saturating_add(self.placed.len() as u64);
        self.by.cost(&self.spans(worker))
    }
}

impl There {
    /// From the first of these spans to the last, without the pauses between calls, and what the calls cost.
    fn cost(self, spans: &[(i64, i64)]) -> i128 {
        let mut sum = 0;
        let mut last: Option<i64> = None;
        for (start, end) in spans {
            let waits = last.map(|l| i128::from(*start) - i128::from(l));
            sum += waits
                .filter(|w| *w < i128::from(self.pause))
                .unwrap_or(i128::from(self.call));
            sum += i128::from(*end) - i128::from(*start);
            last = Some(*end);
        }
        sum
    }
}

#[cfg(test)]
#[path = "settle/tests.rs"]
mod tests;

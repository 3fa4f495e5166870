//! Times and people for the work up to ready-by: of all schedules one that begins as late as can be, then leaves as much of the rest
//! for as late as it goes, then lets people wait least.
//!
//! Four things are asked of it, the first most. What a hand has pinned stays as long as the rest has a time. Balloons are no older when
//! the doors open than the rules say. The work begins late. What is only to be looked at, as balloons that are somewhat old, is kept
//! where that makes nothing begin earlier.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::RangeInclusive;

use job::Finding;
use job::Job;
use job::list::live;
use job::site::Crew;
use job::time::on_day;
use solve::schedule::{self, Answer, Exact, NoTime, Problem, There, Worker};

use super::known::Known;
use super::pins::{self, Ground, Pins};
use crate::fresh::not_before;
use crate::tasks::{Planned, Skill, inflators, pace};

/// Days before ready-by in which work may be placed.
pub(super) const DAYS_BACK: i64 = 30;
/// Steps of the engine for one plan to the end: some tens of milliseconds. Most jobs are proved in less than a hundredth of it.
pub(super) const WORK: u64 = 1_000_000;
/// A pause this long parts two calls, s: the daily rest of Directive 2003/88/EC, article 3. A shorter one is waited.
const PAUSE_S: i64 = 11 * 3600;
/// To be called once more counts as much as to wait so long, s. Common practice, no source.
const CALL_S: i64 = 3600;
/// Times that what is only to be looked at is tried to be kept, each time asking less.
const TRIES: usize = 3;
/// Skills, as the solver counts them.
const LADDER: usize = 0;
const DRIVES: usize = 1;

/// What is known of a schedule besides the times of its tasks.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Set {
    /// The pins that are kept.
    pub held: Pins,
    /// By how much any schedule could begin later, s.
    pub gap_s: Option<i64>,
    /// Why tasks have no time: their titles with the reasons.
    pub unplaced: Vec<(String, NoTime)>,
    /// Whatever could not be kept is proved to be impossible, and nothing could begin later.
    pub proved: bool,
    /// Steps of the engine.
    pub work: u64,
}

/// Gives tasks their times and people, with so much work of the engine.
pub(super) fn place(
    job: &Job,
    crew: &[(&str, &Crew)],
    ready_ms: i64,
    (work, known): (u64, &mut Known),
    planned: &mut [Planned],
    findings: &mut Vec<Finding>,
) -> Set {
    let mut on = Search {
        on: Ground {
            job,
            crew,
            ready_ms,
            planned,
        },
        left: work,
        known,
        proved: true,
    };
    let held = on.held(findings);
    let found = on.found(&held);
    let proved = on.proved && (found.impossible || found.gap() == Some(0));
    let gap_s = found.gap();
    let used = work.saturating_sub(on.left);
    let problem = on.problem(&held, &Keep::default());
    let answer = schedule::settle(
        &problem,
        found.answer,
        There {
            pause: PAUSE_S,
            call: CALL_S,
        },
    );
    debug_assert_eq!(schedule::check(&problem, &answer), []);
    let mut unplaced = Vec::new();
    for (planned, placed) in planned.iter_mut().zip(answer.tasks) {
        match placed {
            Ok(placed) => {
                let took = placed.end.saturating_sub(placed.start);
                pace::takes(&mut planned.task, took);
                planned.task.start_ms = Some(placed.start.saturating_mul(1000));
                planned.task.end_ms = Some(placed.end.saturating_mul(1000));
                planned.task.who = placed
                    .who
                    .iter()
                    .filter_map(|w| crew.get(*w))
                    .map(|(id, _)| id.to_string())
                    .collect();
            }
            Err(why) => unplaced.push((planned.task.title.clone(), why)),
        }
    }
    Set {
        held,
        gap_s,
        unplaced,
        proved,
        work: used,
    }
}

/// How fresh pieces are kept.
#[derive(Debug, Clone, PartialEq, Default)]
struct Keep {
    /// Whether anything is asked.
    fresh: bool,
    /// What is only to be looked at is kept as well.
    careful: bool,
    /// Pieces that cannot be kept fresh.
    but: BTreeSet<String>,
}

/// A search for one plan.
struct Search<'a> {
    on: Ground<'a>,
    /// Work of the engine that is left.
    left: u64,
    known: &'a mut Known,
    /// Whatever was given up is proved to be impossible.
    proved: bool,
}

impl Search<'_> {
    fn best(&mut self, held: &Pins, keep: &Keep) -> Exact {
        let problem = self.problem(held, keep);
        let found = self.known.best(problem, self.left);
        self.left = self.left.saturating_sub(found.work);
        found
    }

    /// The pins that can be kept.
    fn held(&mut self, findings: &mut Vec<Finding>) -> Pins {
        let none = Pins::default();
        if live(&self.on.job.pins).is_empty() {
            return none;
        }
        let alone = self.found(&none).answer;
        let free: Vec<bool> = alone.tasks.iter().map(Result::is_ok).collect();
        let starts = alone.tasks.iter().enumerate();
        let first = starts
            .filter_map(|(i, t)| Some((t.as_ref().ok()?.start, i)))
            .min()
            .map(|(_, i)| self.on.planned[i].task.id.as_str());
        let mut held = pins::read(self.on.job, self.on.planned, first, findings);
        while !held.is_empty() {
            let answer = self.best(&held, &Keep::default()).answer;
            if !pins::let_go(&self.on, &answer, &free, &mut held, findings) {
                break;
            }
        }
        held
    }

    /// The best schedule with these pins, as fresh as it can be.
    fn found(&mut self, held: &Pins) -> Exact {
        let mut keep = Keep {
            fresh: true,
            ..Keep::default()
        };
        let mut found = self.best(held, &keep);
        // a piece that cannot be fresh must not keep the others from it
        while self.loosen(held, &found, &mut keep) {
            self.proved &= found.impossible;
            found = self.best(held, &keep);
        }
        let Some(start) = first_start(&found.answer) else {
            return found;
        };
        let mut careful = Keep {
            careful: true,
            ..keep
        };
        for _ in 0..TRIES {
            if self.is_kept(held, &careful, &found.answer) {
                break;
            }
            let other = self.best(held, &careful);
            if first_start(&other.answer).is_some_and(|s| s >= start) {
                found = other;
                break;
            }
            if !self.loosen(held, &other, &mut careful) {
                break;
            }
        }
        found
    }

    /// Asks no more of the pieces for which no time was found. Answers whether there are any.
    fn loosen(&self, held: &Pins, found: &Exact, keep: &mut Keep) -> bool {
        let before = keep.but.len();
        let lost: Vec<String> = (self.on.planned.iter().zip(&found.answer.tasks))
            .filter(|(p, placed)| placed.is_err() && self.asks(held, keep, p).is_some())
            .map(|(p, _)| p.task.piece.clone())
            .collect();
        keep.but.extend(lost);
        keep.but.len() > before
    }

    fn is_kept(&self, held: &Pins, keep: &Keep, answer: &Answer) -> bool {
        self.on
            .planned
            .iter()
            .zip(&answer.tasks)
            .all(|(p, placed)| {
                let from = self.asks(held, keep, p);
                placed
                    .as_ref()
                    .is_ok_and(|t| from.is_none_or(|f| f <= t.start))
            })
    }

    /// Before when a task must not begin so that its piece is fresh, s; none if nothing is asked, or what is asked can never be.
    fn asks(&self, held: &Pins, keep: &Keep, planned: &Planned) -> Option<i64> {
        let task = &planned.task;
        if !keep.fresh || held.holds(&task.id) || keep.but.contains(&task.piece) {
            return None;
        }
        let last = self
            .on
            .ready_ms
            .div_euclid(1000)
            .saturating_sub(task.duration_s);
        not_before(self.on.job, task, keep.careful).filter(|from| *from <= last)
    }

    /// The job as the solver sees it, in seconds.
    fn problem(&self, held: &Pins, keep: &Keep) -> Problem {
        let Ground {
            job,
            crew,
            ready_ms,
            planned,
        } = self.on;
        let inflators = inflators(job);
        let index: BTreeMap<&str, usize> = planned
            .iter()
            .enumerate()
            .map(|(i, p)| (p.task.id.as_str(), i))
            .collect();
        let ready = ready_ms.div_euclid(1000);
        let task = |p: &Planned| {
            let window = held.window(p);
            schedule::Task {
                duration: p.task.duration_s,
                // what is pinned begins then and takes as long as usual
                kind: p.kind.filter(|_| window.is_none()),
                people: usize::try_from(p.task.people).unwrap_or(1),
                skill: p.skill.map(|s| match s {
                    Skill::Ladder => LADDER,
                    Skill::Drives => DRIVES,
                }),
                kit: vec![p.task.inflators],
                after: p
                    .task
                    .after
                    .iter()
                    .filter_map(|a| index.get(a.as_str()).copied())
                    .collect(),
                // load-in is no release: carrying in begins as late as any schedule lets it, and that is compared with it
                release: window.map(|w| w.0).or_else(|| self.asks(held, keep, p)),
                deadline: window.map_or(ready, |w| w.1.min(ready)),
            }
        };
        Problem {
            tasks: planned.iter().map(task).collect(),
            workers: crew
                .iter()
                .map(|(id, person)| Worker {
                    free: hours(job, (id, person), ready_ms, -DAYS_BACK..=0),
                    skills: vec![person.ladder, person.drives],
                    paces: pace::of(person).to_vec(),
                })
                .collect(),
            kit: vec![inflators],
        }
    }
}

/// The start of the first task, if every task has its time.
fn first_start(answer: &Answer) -> Option<i64> {
    let starts = answer
        .tasks
        .iter()
        .map(|t| t.as_ref().ok().map(|p| p.start));
    starts.collect::<Option<Vec<i64>>>()?.into_iter().min()
}

/// A person's hours on the days counted from that of `ms`, s, without their absences; days that touch are joined, so that work may go on over midnight.
pub(super) fn hours(
    job: &Job,
    (id, person): (&str, &Crew),
    ms: i64,
    days: RangeInclusive<i64>,
) -> Vec<(i64, i64)> {
    let mut free: Vec<(i64, i64)> = Vec::new();
    let from = person.from_min.clamp(0, 1440);
    let to = person.until_min().clamp(from, from + 1440);
    for day in days {
        let at = |minute| on_day(ms, day, minute, &job.venue.zone).map(|ms| ms.div_euclid(1000));
        let (Some(start), Some(end)) = (at(from), at(to)) else {
            continue;
        };
        match free.last_mut() {
            Some(last) if last.1 >= start => last.1 = last.1.max(end),
            _ if start < end => free.push((start, end)),
            _ => {}
        }
    }
    super::away::without(job, id, free)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Hours from 08:00 to 00:45 are sixteen hours and three quarters of each day, over midnight; to 24:00 and to 00:00 are the same; from
    /// 08:00 to 08:00 are all hours.
    #[test]
    fn an_end_at_or_before_the_start_is_on_the_next_day() {
        let mut job = Job::default();
        job.venue.zone = "UTC".into();
        let on = |from_min, to_min| {
            let person = Crew {
                from_min,
                to_min,
                ..Crew::default()
            };
            hours(&job, ("a", &person), 0, 0..=1)
        };
        let min = 60;
        assert_eq!(
            on(480, 45),
            [(480 * min, 1485 * min), (1920 * min, 2925 * min)]
        );
        assert_eq!(on(480, 0), on(480, 1440));
        assert_eq!(on(480, 480), [(480 * min, (480 + 2880) * min)]);
        assert_eq!(on(480, 1200)[0], (480 * min, 1200 * min));
    }
}

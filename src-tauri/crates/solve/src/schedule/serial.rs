//! The backward serial scheme.

use super::{Answer, NoTime, Placed, Problem, Task};

/// Places every task as late as it can be, those with the latest possible end first, after all that must follow them. `budget`
/// bounds the candidate times that are tried.
#[must_use]
pub fn solve(problem: &Problem, budget: u64) -> Answer {
    let n = problem.tasks.len();
    let mut state = State {
        problem,
        busy: vec![Vec::new(); problem.workers.len()],
        starts: Vec::new(),
        kit_use: Vec::new(),
        work: 0,
        budget,
    };
    let mut followers: Vec<Vec<usize>> = vec![Vec::new(); n];
    for (i, task) in problem.tasks.iter().enumerate() {
        for before in &task.after {
            if let Some(list) = followers.get_mut(*before) {
                list.push(i);
            }
        }
    }
    let mut waiting: Vec<usize> = followers.iter().map(Vec::len).collect();
    let mut answers: Vec<Option<Result<Placed, NoTime>>> = vec![None; n];
    // the latest end of each task that nothing unplaced follows
    let mut ready: Vec<(i64, usize)> = (0..n)
        .filter(|i| waiting[*i] == 0)
        .map(|i| (problem.tasks[i].deadline, i))
        .collect();
    while let Some(at) = ready
        .iter()
        .enumerate()
        .max_by_key(|(_, r)| **r)
        .map(|(at, _)| at)
    {
        let (latest, task) = ready.swap_remove(at);
        answers[task] = Some(state.place(&problem.tasks[task], latest));
        for before in problem.tasks[task].after.iter().copied().filter(|b| *b < n) {
            waiting[before] -= 1;
            if waiting[before] == 0 {
                let latest = followers[before]
                    .iter()
                    .filter_map(|f| answers[*f].as_ref()?.as_ref().ok().map(|p| p.start))
                    .chain([problem.tasks[before].deadline])
                    .min()
                    .unwrap_or(problem.tasks[before].deadline);
                ready.push((latest, before));
            }
        }
    }
    Answer {
        tasks: answers
            .into_iter()
            .map(|a| a.unwrap_or(Err(NoTime::Circle)))
            .collect(),
        work: state.work,
    }
}

/// What is taken so far.
struct State<'a> {
    problem: &'a Problem,
    /// By worker: stretches that are taken, ascending.
    busy: Vec<Vec<(i64, i64)>>,
    /// Starts of everything placed, ascending.
    starts: Vec<i64>,
    /// Stretches in which kit is taken.
    kit_use: Vec<(i64, i64, Vec<i64>)>,
    work: u64,
    budget: u64,
}

impl State<'_> {
    /// The latest place that ends by `latest`.
    fn place(&mut self, task: &Task, latest: i64) -> Result<Placed, NoTime> {
        if task.people > self.problem.workers.len() {
            return Err(NoTime::TooFewPeople);
        }
        if let Some(skill) = task.skill
            && !self
                .problem
                .workers
                .iter()
                .any(|w| w.skills.get(skill) == Some(&true))
        {
            return Err(NoTime::NoSkill);
        }
        if let Some(kind) = (0..task.kit.len())
            .find(|k| task.kit[*k] > self.problem.kit.get(*k).copied().unwrap_or(0))
        {
            return Err(NoTime::TooLittleKit(kind));
        }
        for end in self.candidates(latest) {
            if self.work >= self.budget {
                return Err(NoTime::OutOfWork);
            }
            self.work += 1;
            let Some(start) = end.checked_sub(task.duration) else {
                break;
            };
            if !self.kit_is_free(task, start, end) {
                continue;
            }
            if let Some(who) = self.people(task, start, end) {
                self.take(task, start, end, &who);
                return Ok(Placed { start, end, who });
            }
        }
        Err(NoTime::NoStretch)
    }

    /// Ends worth trying, latest first: a task that can end later than all of these but one of them can be moved on to the next.
    fn candidates(&self, latest: i64) -> Vec<i64> {
        let taken = self.starts.partition_point(|s| *s <= latest);
        let mut ends: Vec<i64> = self.starts[..taken].to_vec();
        for worker in &self.problem.workers {
            ends.extend(worker.free.iter().map(|f| f.1).filter(|e| *e <= latest));
        }
        ends.push(latest);
        ends.sort_unstable_by(|a, b| b.cmp(a));
        ends.dedup();
        ends
    }

    fn kit_is_free(&self, task: &Task, start: i64, end: i64) -> bool {
        task.kit
            .iter()
            .enumerate()
            .filter(|(_, n)| **n > 0)
            .all(|(kind, n)| {
                let have = self.problem.kit.get(kind).copied().unwrap_or(0);
                // the most that is in use at once is reached at the start of a stretch, or of the task
                let used_at = |t: i64| -> i64 {
                    self.kit_use
                        .iter()
                        .filter(|(s, e, _)| *s <= t && t < *e)
                        .map(|(_, _, k)| k.get(kind).copied().unwrap_or(0))
                        .sum()
                };
                let peaks = self
                    .kit_use
                    .iter()
                    .map(|(s, ..)| *s)
                    .filter(|s| (start..end).contains(s));
                peaks.chain([start]).all(|t| used_at(t) + n <= have)
            })
    }

    /// Who can do it from start to end: the skilled first if it takes one, then those who are busy right after it, then the list.
    fn people(&self, task: &Task, start: i64, end: i64) -> Option<Vec<usize>> {
        let mut free: Vec<usize> = (0..self.problem.workers.len())
            .filter(|w| self.is_free(*w, start, end))
            .collect();
        if free.len() < task.people {
            return None;
        }
        let skilled = |w: usize| {
            task.skill
                .is_some_and(|s| self.problem.workers[w].skills.get(s) == Some(&true))
        };
        let goes_on = |w: usize| self.busy[w].iter().any(|b| b.0 == end);
        free.sort_by_key(|w| (!goes_on(*w), *w));
        if task.skill.is_some() {
            let first = free.iter().position(|w| skilled(*w))?;
            let one = free.remove(first);
            free.insert(0, one);
        }
        free.truncate(task.people);
        free.sort_unstable();
        Some(free)
    }

    fn is_free(&self, worker: usize, start: i64, end: i64) -> bool {
        let stretches = &self.problem.workers[worker].free;
        let at = stretches.partition_point(|f| f.1 < end);
        let within = stretches
            .get(at)
            .is_some_and(|f| f.0 <= start && end <= f.1);
        let busy = &self.busy[worker];
        let next = busy.partition_point(|b| b.1 <= start);
        within && busy.get(next).is_none_or(|b| b.0 >= end)
    }

    fn take(&mut self, task: &Task, start: i64, end: i64, who: &[usize]) {
        for worker in who {
            let busy = &mut self.busy[*worker];
            busy.insert(busy.partition_point(|b| b.0 < start), (start, end));
        }
        let at = self.starts.partition_point(|s| *s < start);
        if self.starts.get(at) != Some(&start) {
            self.starts.insert(at, start);
        }
        if task.kit.iter().any(|n| *n > 0) {
            self.kit_use.push((start, end, task.kit.clone()));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Worker, check};
    use super::*;
    use proptest::prelude::*;

    const BUDGET: u64 = 1_000_000;

    fn worker(free: &[(i64, i64)]) -> Worker {
        Worker {
            free: free.to_vec(),
            skills: vec![true],
        }
    }

    fn task(duration: i64, people: usize, after: &[usize]) -> Task {
        Task {
            duration,
            people,
            after: after.to_vec(),
            deadline: 1000,
            ..Task::default()
        }
    }

    fn starts(problem: &Problem) -> Vec<Option<i64>> {
        let answer = solve(problem, BUDGET);
        assert_eq!(check(problem, &answer), []);
        answer
            .tasks
            .iter()
            .map(|t| t.as_ref().ok().map(|p| p.start))
            .collect()
    }

    #[test]
    fn one_person_works_without_a_gap_up_to_the_deadline() {
        let problem = Problem {
            tasks: vec![task(100, 1, &[]), task(50, 1, &[0]), task(30, 1, &[0, 1])],
            workers: vec![worker(&[(0, 1000)])],
            kit: vec![],
        };
        assert_eq!(starts(&problem), [Some(820), Some(920), Some(970)]);
    }

    #[test]
    fn tasks_alike_are_shared_out_and_kit_limits_them() {
        let mut problem = Problem {
            tasks: vec![
                Task {
                    kit: vec![1],
                    ..task(100, 1, &[])
                };
                6
            ],
            workers: vec![
                worker(&[(0, 1000)]),
                worker(&[(0, 1000)]),
                worker(&[(0, 1000)]),
            ],
            kit: vec![3],
        };
        assert_eq!(starts(&problem).into_iter().flatten().min(), Some(800));
        problem.kit = vec![2];
        assert_eq!(starts(&problem).into_iter().flatten().min(), Some(700));
        problem.kit = vec![0];
        assert_eq!(
            solve(&problem, BUDGET).tasks[0],
            Err(NoTime::TooLittleKit(0))
        );
    }

    #[test]
    fn work_stays_within_hours() {
        let problem = Problem {
            tasks: vec![task(80, 1, &[]), task(80, 1, &[0])],
            workers: vec![worker(&[(0, 100), (500, 600)])],
            kit: vec![],
        };
        assert_eq!(starts(&problem), [Some(20), Some(520)]);
    }

    #[test]
    fn what_has_no_time_says_why() {
        let one = |t: Task, free: &[(i64, i64)]| {
            solve(
                &Problem {
                    tasks: vec![t],
                    workers: vec![Worker {
                        free: free.to_vec(),
                        skills: vec![false],
                    }],
                    kit: vec![],
                },
                BUDGET,
            )
            .tasks[0]
                .clone()
        };
        assert_eq!(
            one(task(10, 2, &[]), &[(0, 1000)]),
            Err(NoTime::TooFewPeople)
        );
        assert_eq!(
            one(
                Task {
                    skill: Some(0),
                    ..task(10, 1, &[])
                },
                &[(0, 1000)]
            ),
            Err(NoTime::NoSkill)
        );
        assert_eq!(
            one(task(101, 1, &[]), &[(0, 100), (200, 300)]),
            Err(NoTime::NoStretch)
        );
        let circle = Problem {
            tasks: vec![task(1, 1, &[1]), task(1, 1, &[0])],
            workers: vec![worker(&[(0, 1000)])],
            kit: vec![],
        };
        assert_eq!(
            solve(&circle, BUDGET).tasks,
            [Err(NoTime::Circle), Err(NoTime::Circle)]
        );
        let many = Problem {
            tasks: vec![task(1, 1, &[]); 10],
            workers: vec![worker(&[(0, 1000)])],
            kit: vec![],
        };
        assert!(solve(&many, 5).tasks.contains(&Err(NoTime::OutOfWork)));
    }

    fn any_problem() -> impl Strategy<Value = Problem> {
        let tasks = prop::collection::vec(
            (
                0i64..200,
                1usize..3,
                any::<bool>(),
                0i64..3,
                any::<u32>(),
                500i64..1000,
            ),
            1..12,
        );
        let workers = prop::collection::vec(
            (
                0i64..300,
                300i64..500,
                500i64..700,
                700i64..1000,
                any::<bool>(),
            ),
            1..4,
        );
        (tasks, workers, 0i64..3).prop_map(|(tasks, workers, kit)| Problem {
            tasks: tasks
                .into_iter()
                .enumerate()
                .map(
                    |(i, (duration, people, skill, kit, after, deadline))| Task {
                        duration,
                        people,
                        skill: skill.then_some(0),
                        kit: vec![kit],
                        after: (0..i).filter(|b| after >> (b % 32) & 3 == 3).collect(),
                        deadline,
                    },
                )
                .collect(),
            workers: workers
                .into_iter()
                .map(|(a, b, c, d, skilled)| Worker {
                    free: vec![(a, b), (c, d)],
                    skills: vec![skilled],
                })
                .collect(),
            kit: vec![kit],
        })
    }

    proptest! {
        #[test]
        fn any_answer_passes_the_checker(problem in any_problem()) {
            let answer = solve(&problem, BUDGET);
            prop_assert_eq!(check(&problem, &answer), vec![]);
        }

        /// Closed form: n tasks alike on m people without other limits begin ⌈n/m⌉ durations before the deadline.
        #[test]
        fn alike_tasks_on_alike_people(n in 1i64..20, m in 1i64..5, duration in 1i64..40) {
            let problem = Problem {
                tasks: vec![task(duration, 1, &[]); n as usize],
                workers: vec![worker(&[(-10_000, 1000)]); m as usize],
                kit: vec![],
            };
            let first = starts(&problem).into_iter().flatten().min();
            prop_assert_eq!(first, Some(1000 - (n + m - 1) / m * duration));
        }

        /// One person never waits: the first start is the deadline less the sum, whatever follows what.
        #[test]
        fn one_person_never_waits(durations in prop::collection::vec(0i64..50, 1..15), after in any::<u64>()) {
            let tasks: Vec<Task> = durations
                .iter()
                .enumerate()
                .map(|(i, d)| task(*d, 1, &(0..i).filter(|b| after >> ((i * 7 + b) % 64) & 1 == 1).collect::<Vec<_>>()))
                .collect();
            let problem = Problem { tasks, workers: vec![worker(&[(-10_000, 1000)])], kit: vec![] };
            let first = starts(&problem).into_iter().flatten().min();
            prop_assert_eq!(first, Some(1000 - durations.iter().sum::<i64>()));
        }
    }
}

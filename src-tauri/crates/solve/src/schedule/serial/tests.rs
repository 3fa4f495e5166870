use super::super::{Violation, Worker, check};
use super::*;
use proptest::prelude::*;

const BUDGET: u64 = 1_000_000;

fn worker(free: &[(i64, i64)]) -> Worker {
    Worker {
        free: free.to_vec(),
        skills: vec![true],
        paces: vec![],
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

fn first_start(problem: &Problem) -> Option<i64> {
    starts(problem).into_iter().flatten().min()
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
        workers: vec![worker(&[(0, 1000)]); 3],
        kit: vec![3],
    };
    assert_eq!(first_start(&problem), Some(800));
    problem.kit = vec![2];
    assert_eq!(first_start(&problem), Some(700));
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

/// Two who are needed together work where their hours overlap; the skilled one is taken before the one who comes first.
#[test]
fn hours_and_skills_of_several_people_meet() {
    let mut problem = Problem {
        tasks: vec![task(50, 2, &[])],
        workers: vec![worker(&[(0, 700)]), worker(&[(500, 1000)])],
        kit: vec![],
    };
    assert_eq!(starts(&problem), [Some(650)]);
    problem.workers = vec![worker(&[(0, 1000)]); 3];
    problem.workers[0].skills = vec![false];
    problem.workers[1].skills = vec![];
    problem.tasks = vec![Task {
        skill: Some(0),
        ..task(50, 2, &[])
    }];
    let answer = solve(&problem, BUDGET);
    assert_eq!(answer.tasks[0].as_ref().unwrap().who, [0, 2]);
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
                    paces: vec![],
                }],
                kit: vec![],
            },
            BUDGET,
        )
        .tasks[0]
            .clone()
    };
    let all = [(0, 1000)];
    let skill = Some(0);
    let release = Some(995);
    for (task, free, why) in [
        (task(10, 2, &[]), &all[..], NoTime::TooFewPeople),
        (
            Task {
                skill,
                ..task(10, 1, &[])
            },
            &all,
            NoTime::NoSkill,
        ),
        (
            task(101, 1, &[]),
            &[(0, 100), (200, 300)],
            NoTime::NoStretch,
        ),
        (task(1, 1, &[]), &[], NoTime::NoStretch),
        (
            Task {
                release,
                ..task(10, 1, &[])
            },
            &all,
            NoTime::BeforeRelease,
        ),
    ] {
        assert_eq!(one(task, free), Err(why));
    }
    let released = Task {
        release: Some(990),
        ..task(10, 1, &[])
    };
    assert_eq!(one(released, &all).unwrap().start, 990);
    let circle = Problem {
        tasks: vec![task(1, 1, &[1]), task(1, 1, &[0]), task(1, 1, &[])],
        workers: vec![worker(&[(0, 1000)])],
        kit: vec![],
    };
    assert_eq!(
        starts(&circle),
        [None, None, Some(999)],
        "what is not in the circle has its time"
    );
    assert_eq!(solve(&circle, BUDGET).tasks[0], Err(NoTime::Circle));
    let many = Problem {
        tasks: vec![task(1, 1, &[]); 10],
        workers: vec![worker(&[(0, 1000)])],
        kit: vec![],
    };
    assert!(solve(&many, 5).tasks.contains(&Err(NoTime::OutOfWork)));
}

/// The drive (1) cannot be done; loading (0) is told no later time than if it could.
#[test]
fn what_leads_up_to_a_task_without_a_time_is_not_late() {
    let problem = Problem {
        tasks: vec![task(10, 1, &[]), task(300, 2, &[0]), task(100, 1, &[1])],
        workers: vec![worker(&[(0, 1000)])],
        kit: vec![],
    };
    assert_eq!(starts(&problem), [Some(590), None, Some(900)]);
}

/// Three people: the pair's second task (1) has to wait until the first (3) is done with, and the long one (0) runs beside both. A
/// fourth lets 1 and 3 run side by side, nobody is left for 0, and it starts earlier than before. An anomaly of all list schedules
/// (R. L. Graham, 1969), written down so that nobody relies on its absence.
#[test]
fn one_more_person_is_not_always_better() {
    let mut problem = Problem {
        tasks: vec![
            task(8, 1, &[]),
            task(6, 2, &[]),
            task(1, 1, &[]),
            task(4, 2, &[2]),
        ],
        workers: vec![worker(&[(0, 1000)]); 3],
        kit: vec![],
    };
    assert_eq!(
        starts(&problem),
        [Some(992), Some(990), Some(991), Some(996)]
    );
    assert_eq!(latest_first_start(&problem), Some(990));
    problem.workers.push(worker(&[(0, 1000)]));
    assert_eq!(
        starts(&problem),
        [Some(988), Some(994), Some(995), Some(996)]
    );
    assert_eq!(latest_first_start(&problem), Some(990));
}

/// A job of 5 000 parts for five people and three inflators over 30 days, in stages that wait for each other, is placed within two
/// hundred steps a part.
#[test]
fn a_large_job_takes_bounded_work() {
    const DAY: i64 = 86_400;
    let mut tasks = Vec::new();
    for piece in 0..25usize {
        for part in 0..200usize {
            let stage = part / 50;
            let before = piece * 200 + stage * 50;
            tasks.push(Task {
                duration: 60 + i64::try_from(part * 37 % 240).unwrap(),
                people: 1 + part % 7 / 6,
                kind: None,
                kit: vec![i64::from(stage == 0)],
                after: if stage == 0 {
                    vec![]
                } else {
                    (before - 50..before).collect()
                },
                deadline: 0,
                ..Task::default()
            });
        }
    }
    let free = |from: i64| {
        (1..=30)
            .rev()
            .map(|day| (from - day * DAY, from - day * DAY + DAY / 2))
            .collect()
    };
    let problem = Problem {
        tasks,
        workers: (0..5)
            .map(|w| Worker {
                free: free(w * 3600),
                skills: vec![],
                paces: vec![],
            })
            .collect(),
        kit: vec![3],
    };
    let answer = solve(&problem, BUDGET);
    assert!(answer.tasks.iter().all(Result::is_ok));
    assert_eq!(check(&problem, &answer), []);
    assert!(answer.work < 5_000 * 200, "{}", answer.work);
}

fn any_problem(
    most_tasks: usize,
    most_workers: usize,
    second: i64,
) -> impl Strategy<Value = Problem> {
    let tasks = prop::collection::vec(
        (
            0i64..20,
            1usize..3,
            0u8..4,
            0i64..3,
            any::<u32>(),
            50i64..100,
        ),
        1..most_tasks,
    );
    let workers = prop::collection::vec(
        (0i64..30, 30i64..50, 50i64..70, 70i64..100, any::<bool>()),
        1..most_workers,
    );
    (tasks, workers, 0i64..3).prop_map(move |(tasks, workers, kit)| Problem {
        tasks: tasks
            .into_iter()
            .enumerate()
            .map(
                |(i, (duration, people, skill, kit, after, deadline))| Task {
                    duration: duration * second / 10,
                    people,
                    kind: None,
                    skill: (skill == 0).then_some(0),
                    kit: vec![kit / 2],
                    after: (0..i).filter(|b| after >> (b % 32) & 3 == 3).collect(),
                    release: (skill == 1).then_some((deadline - 45) * second / 10),
                    deadline: deadline * second / 10,
                },
            )
            .collect(),
        workers: workers
            .into_iter()
            .map(|(a, b, c, d, skilled)| Worker {
                free: vec![
                    (a * second / 10, b * second / 10),
                    (c * second / 10, d * second / 10),
                ],
                skills: vec![skilled],
                paces: vec![],
            })
            .collect(),
        kit: vec![kit],
    })
}

/// The scheme as it is defined, without any cleverness: every second is tried, from the latest back.
fn by_the_second(problem: &Problem) -> Vec<Option<(i64, i64)>> {
    let n = problem.tasks.len();
    let solved = solve(problem, BUDGET);
    let mut answer = Answer {
        tasks: vec![Err(NoTime::NoStretch); n],
        work: 0,
    };
    let mut starts: Vec<Option<i64>> = vec![None; n];
    while let Some((end, i)) = (0..n)
        .filter(|i| starts[*i].is_none())
        .filter_map(|i| {
            let followers = (0..n).filter(|f| problem.tasks[*f].after.contains(&i));
            let mut latest = problem.tasks[i].deadline;
            for f in followers {
                latest = latest.min(starts[f]?);
            }
            Some((latest, i))
        })
        .max()
    {
        let task = &problem.tasks[i];
        let place = (0..=end).rev().find_map(|end| {
            let start = end - task.duration;
            // those who are free: alone on the task they break nothing but the number of people and the skill
            let free: Vec<usize> = (0..problem.workers.len())
                .filter(|w| {
                    let mut tried = answer.clone();
                    tried.tasks[i] = Ok(Placed {
                        start,
                        end,
                        who: vec![*w],
                    });
                    !check(problem, &tried).iter().any(|v| {
                        matches!(
                            v,
                            Violation::Hours(..) | Violation::Twice(..) | Violation::Kit(..)
                        )
                    })
                })
                .collect();
            let skilled = task.skill.is_none_or(|s| {
                free.iter()
                    .any(|w| problem.workers[*w].skills.get(s) == Some(&true))
            });
            let kit = task.kit.iter().zip(&problem.kit).all(|(n, have)| n <= have);
            (free.len() >= task.people && skilled && kit).then_some((start, end))
        });
        starts[i] = Some(end - task.duration);
        if let Some((start, end)) = place.filter(|p| task.release.is_none_or(|r| r <= p.0)) {
            starts[i] = Some(start);
            // who it is is not the question here: any choice that the rule of the scheme makes is taken from the answer
            answer.tasks[i] = solved.tasks[i].clone();
            let same = |p: &Placed| (p.start, p.end) == (start, end);
            assert!(answer.tasks[i].as_ref().is_ok_and(same), "{i} at {start}");
        }
    }
    answer
        .tasks
        .iter()
        .map(|t| t.as_ref().ok().map(|p| (p.start, p.end)))
        .collect()
}

/// The latest first start that any schedule of all tasks has, by trying everything: each task in an order in which those that
/// follow come first, at each whole second, with each choice of people.
fn latest_first_start(problem: &Problem) -> Option<i64> {
    let n = problem.tasks.len();
    let mut answer = Answer {
        tasks: vec![Err(NoTime::NoStretch); n],
        work: 0,
    };
    let mut best = None;
    try_all(problem, n, i64::MAX, &mut answer, &mut best);
    best
}

fn try_all(
    problem: &Problem,
    left: usize,
    first: i64,
    answer: &mut Answer,
    best: &mut Option<i64>,
) {
    // tasks follow only earlier ones of the list, so going back through it is such an order
    let Some(i) = left.checked_sub(1) else {
        *best = (*best).max(Some(first));
        return;
    };
    let task = &problem.tasks[i];
    for start in (0..=task.deadline - task.duration).rev() {
        if best.is_some_and(|b| first.min(start) <= b) {
            return;
        }
        for chosen in 0u32..1 << problem.workers.len() {
            let who: Vec<usize> = (0..problem.workers.len())
                .filter(|w| chosen >> w & 1 == 1)
                .collect();
            if who.len() != task.people {
                continue;
            }
            let end = start + task.duration;
            answer.tasks[i] = Ok(Placed { start, end, who });
            if check(problem, answer).is_empty() {
                try_all(problem, i, first.min(start), answer, best);
            }
        }
        answer.tasks[i] = Err(NoTime::NoStretch);
    }
}

/// At a hundredth of the usual pace it takes longer than can be counted: it has no place, not one that is too short for it.
#[test]
fn what_takes_longer_than_can_be_counted_has_no_place() {
    let problem = Problem {
        tasks: vec![Task {
            duration: i64::MAX - 1,
            people: 1,
            kind: Some(0),
            deadline: -1,
            ..Task::default()
        }],
        workers: vec![Worker {
            free: vec![(i64::MIN, 0)],
            skills: vec![],
            paces: vec![1],
        }],
        kit: vec![],
    };
    let answer = solve(&problem, BUDGET);
    assert_eq!(answer.tasks, [Err(NoTime::NoStretch)]);
    assert_eq!(check(&problem, &answer), vec![]);
}

proptest! {
    #[test]
    fn any_answer_passes_the_checker(problem in any_problem(12, 4, 100)) {
        let answer = solve(&problem, BUDGET);
        prop_assert_eq!(check(&problem, &answer), vec![]);
    }

    #[test]
    fn every_place_is_the_latest(problem in any_problem(8, 4, 10)) {
        let answer = solve(&problem, BUDGET);
        let places: Vec<Option<(i64, i64)>> =
            answer.tasks.iter().map(|t| t.as_ref().ok().map(|p| (p.start, p.end))).collect();
        prop_assert_eq!(places, by_the_second(&problem));
    }

    /// No schedule at all starts later than the best there is, and where there is none the scheme finds none.
    #[test]
    fn never_later_than_the_best_of_all(problem in any_problem(5, 4, 2)) {
        let best = latest_first_start(&problem);
        let answer = solve(&problem, BUDGET);
        prop_assert_eq!(check(&problem, &answer), vec![]);
        if answer.tasks.iter().all(Result::is_ok) {
            let first = answer.tasks.iter().flatten().map(|p| p.start).min();
            prop_assert!(best.is_some() && first <= best, "{first:?} against {best:?}");
        }
    }

    /// Closed form: n tasks alike on m people without other limits begin ⌈n/m⌉ durations before the deadline.
    #[test]
    fn alike_tasks_on_alike_people(n in 1i64..20, m in 1i64..5, duration in 1i64..40) {
        let problem = Problem {
            tasks: vec![task(duration, 1, &[]); n as usize],
            workers: vec![worker(&[(-10_000, 1000)]); m as usize],
            kit: vec![],
        };
        prop_assert_eq!(first_start(&problem), Some(1000 - (n + m - 1) / m * duration));
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
        prop_assert_eq!(first_start(&problem), Some(1000 - durations.iter().sum::<i64>()));
    }

    /// Whatever the numbers are: an answer that the checker accepts.
    #[test]
    fn extreme_numbers_have_an_answer(
        numbers in prop::collection::vec((extreme(), extreme(), extreme(), extreme(), any::<usize>()), 1..6),
        hours in prop::collection::vec((extreme(), extreme()), 0..4),
        kit in extreme(),
    ) {
        let problem = Problem {
            tasks: numbers
                .iter()
                .map(|(duration, deadline, release, kit, other)| Task {
                    duration: *duration,
                    people: other % 3,
                    kind: Some(other % 3),
                    skill: Some(other % 5),
                    kit: vec![*kit, 0],
                    after: vec![*other, other % 6],
                    release: Some(*release).filter(|r| r % 2 == 0),
                    deadline: *deadline,
                })
                .collect(),
            workers: hours
                .iter()
                .map(|(a, b)| Worker { free: vec![(*a.min(b), *a.max(b))], skills: vec![a < b; 3], paces: vec![*a, *b] })
                .collect(),
            kit: vec![kit],
        };
        prop_assert_eq!(check(&problem, &solve(&problem, BUDGET)), vec![]);
    }
}

fn extreme() -> impl Strategy<Value = i64> {
    prop_oneof![
        prop::sample::select(vec![
            i64::MIN,
            i64::MIN + 1,
            -1,
            0,
            1,
            i64::MAX - 1,
            i64::MAX
        ]),
        any::<i64>(),
        -100i64..100,
    ]
}

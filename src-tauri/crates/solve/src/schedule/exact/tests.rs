use proptest::prelude::*;

use super::super::samples::{task, worker};
use super::super::{Worker, solve};
use super::*;

const WORK: u64 = 300_000;

fn both(problem: &Problem) -> (Answer, Exact) {
    let serial = solve(problem, 100_000);
    let exact = exact(problem, serial.clone(), WORK);
    assert_eq!(check(problem, &exact.answer), []);
    (serial, exact)
}

/// Graham's own example (SIAM J. Appl. Math. 17, 1969, fig. 3 with four processors, times backwards): the list gives 15, while 12 is
/// the shortest on three; here the sum of the work on three people, and the longest chain of 1 and 9, are seen by hand.
#[test]
fn grahams_anomaly_is_gone() {
    let durations = [3, 2, 2, 2, 4, 4, 4, 4, 9];
    // backwards: what came before comes after
    let mut tasks: Vec<Task> = durations.iter().map(|d| task(*d, 1, &[])).collect();
    tasks[0].after = vec![8];
    tasks[3].after = vec![4, 5, 6, 7];
    let problem = |people: usize| Problem {
        tasks: tasks.clone(),
        workers: vec![worker(&[(0, 100)], &[]); people],
        kit: vec![],
    };
    for people in [3, 4] {
        let (_, exact) = both(&problem(people));
        // 3 and 9 in a row are 12, and three people do 34 in no less than 12
        assert_eq!(first_start(&exact.answer), Some(88), "{people}");
        assert_eq!(exact.gap(), Some(0), "{people}");
    }
}

/// Hours: two tasks of 6 with a pause of a person between; one could begin at 94 were there no pause.
#[test]
fn absences_count_in_the_proof() {
    let problem = Problem {
        tasks: vec![task(6, 1, &[]), task(6, 1, &[])],
        workers: vec![worker(&[(0, 50), (93, 100)], &[])],
        kit: vec![],
    };
    let (_, exact) = both(&problem);
    assert_eq!(first_start(&exact.answer), Some(44));
    assert_eq!(exact.gap(), Some(0));
}

#[test]
fn what_cannot_be_is_proved() {
    let mut problem = Problem {
        tasks: vec![task(6, 2, &[]), task(6, 1, &[])],
        workers: vec![worker(&[(0, 100)], &[]); 2],
        kit: vec![],
    };
    for t in &mut problem.tasks {
        t.release = Some(89);
    }
    let (_, exact) = both(&problem);
    assert!(exact.impossible && exact.latest.is_none() && exact.gap().is_none());
    for t in &mut problem.tasks {
        t.release = Some(88);
    }
    let (_, exact) = both(&problem);
    assert!(!exact.impossible);
    assert_eq!(exact.gap(), Some(0));
}

/// Days in seconds: the serial answer is proved without a cell for each second.
#[test]
fn days_in_seconds() {
    let hour = 3600;
    let day = 24 * hour;
    let tasks: Vec<Task> = (0..40usize)
        .map(|i| Task {
            duration: 900 + 137 * i64::try_from(i % 9).unwrap(),
            people: 1 + i % 2,
            kind: None,
            skill: (i % 5 == 0).then_some(0),
            kit: vec![i64::from(i % 3 == 0)],
            after: if i >= 4 { vec![i - 4] } else { vec![] },
            release: None,
            deadline: 30 * day + 15 * hour,
        })
        .collect();
    let hours: Vec<(i64, i64)> = (0..=30)
        .map(|d| (d * day + 8 * hour, d * day + 18 * hour))
        .collect();
    let problem = Problem {
        tasks,
        workers: vec![
            worker(&hours, &[true]),
            worker(&hours, &[false]),
            worker(&hours, &[true]),
        ],
        kit: vec![2],
    };
    let (serial, exact) = both(&problem);
    let (s, e) = (
        first_start(&serial).unwrap(),
        first_start(&exact.answer).unwrap(),
    );
    assert!(e >= s);
    let gap = exact.gap().unwrap();
    println!("serial {s}, exact {e}, gap {gap}, work {}", exact.work);
    assert!(exact.work <= WORK + WORK / 4);
}

fn small() -> impl Strategy<Value = Problem> {
    let task = (
        0..4i64,
        0..3usize,
        prop::option::weighted(0.4, 0..2usize),
        0..2i64,
        0..3usize,
        prop::option::weighted(0.2, 0..6i64),
        prop::option::of(Just(0usize)),
    );
    let pace = prop::sample::select(vec![50i64, 100, 100, 150]);
    let people = (0..3i64, 3..6i64, 7..9i64, any::<[bool; 2]>(), pace);
    (
        prop::collection::vec(task, 1..4),
        prop::collection::vec(people, 1..3),
    )
        .prop_map(|(tasks, workers)| Problem {
            tasks: tasks
                .into_iter()
                .enumerate()
                .map(
                    |(i, (duration, people, skill, kit, after, release, kind))| Task {
                        duration,
                        people,
                        kind,
                        skill,
                        kit: vec![kit],
                        after: if after < i { vec![after] } else { vec![] },
                        release,
                        deadline: 10,
                    },
                )
                .collect(),
            workers: workers
                .into_iter()
                .map(|(a, b, c, skills, pace)| Worker {
                    paces: vec![pace],
                    ..worker(&[(a, b), (c, 10)], &skills)
                })
                .collect(),
            kit: vec![1],
        })
}

/// Three tasks of no more than 3 each that need nobody may begin so long before the first hour of anybody.
const EARLIEST: i64 = -9;

/// Every start and every choice of people: the latest first start.
fn by_trying(problem: &Problem) -> Option<i64> {
    let n = problem.tasks.len();
    let sets: Vec<Vec<usize>> = (0..1usize << problem.workers.len())
        .map(|bits| {
            (0..problem.workers.len())
                .filter(|w| bits >> w & 1 == 1)
                .collect()
        })
        .collect();
    fn go(
        problem: &Problem,
        sets: &[Vec<usize>],
        n: usize,
        tasks: &mut Vec<Result<Placed, NoTime>>,
        best: &mut Option<i64>,
    ) {
        let i = tasks.len();
        if i == n {
            let answer = Answer {
                tasks: tasks.clone(),
                work: 0,
            };
            if first_start(&answer) > *best && check(problem, &answer).is_empty() {
                *best = first_start(&answer);
            }
            return;
        }
        let task = &problem.tasks[i];
        // the latest first: what follows has to beat it
        for start in (EARLIEST..=10).rev() {
            if best.is_some_and(|b| start <= b) {
                break;
            }
            for who in sets.iter().filter(|w| w.len() == task.people) {
                tasks.push(Ok(Placed {
                    start,
                    end: start + problem.lasts_these(task, who),
                    who: who.clone(),
                }));
                go(problem, sets, n, tasks, best);
                tasks.pop();
            }
        }
    }
    let mut best = None;
    go(problem, &sets, n, &mut Vec::new(), &mut best);
    best
}

/// By hand: at 50, 100 and 150 percent of a usual 60 one takes 120, 60 and 40; the first two together do what usually two do in 60 in 80
/// (half of it and a whole are 1.5, two are 2), all three in 60.
#[test]
fn paces_add_up() {
    let mut problem = Problem {
        tasks: vec![Task {
            kind: Some(0),
            ..task(60, 1, &[])
        }],
        workers: [50, 100, 150]
            .map(|pace| Worker {
                paces: vec![pace],
                ..worker(&[(-200, 100)], &[])
            })
            .to_vec(),
        kit: vec![],
    };
    for (who, lasts) in [
        (vec![0], 120),
        (vec![1], 60),
        (vec![2], 40),
        (vec![0, 1], 80),
        (vec![0, 1, 2], 60),
        (vec![], 60),
    ] {
        assert_eq!(
            problem.lasts_these(&problem.tasks[0], &who),
            lasts,
            "{who:?}"
        );
    }
    // whoever is fastest does it; while they are busy the next one
    let (_, alone) = both(&problem);
    assert_eq!(alone.answer.tasks[0].as_ref().unwrap().who, [2]);
    assert_eq!(
        (first_start(&alone.answer), alone.gap()),
        (Some(60), Some(0))
    );
    problem.tasks.push(problem.tasks[0].clone());
    let (_, two) = both(&problem);
    // 40 and again 40 of the fastest are no later than 60 of the second beside it
    assert_eq!(first_start(&two.answer), Some(40));
    // of no kind, or all at 100: as if nobody had a pace
    let mut same = problem.clone();
    same.workers.iter_mut().for_each(|w| w.paces = vec![100]);
    let mut none = problem.clone();
    none.tasks.iter_mut().for_each(|t| t.kind = None);
    assert_eq!(both(&same).1.answer, both(&none).1.answer);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    /// Against every way there is: bounds are true, answers with no gap are the best, and what is called impossible is.
    #[test]
    fn as_late_as_by_trying(problem in small()) {
        let (serial, exact) = both(&problem);
        let best = by_trying(&problem);
        let found = first_start(&exact.answer);
        prop_assert!(found >= first_start(&serial));
        prop_assert!(found <= best);
        if exact.impossible {
            prop_assert_eq!(best, None);
        }
        if let (Some(latest), Some(best)) = (exact.latest, best) {
            prop_assert!(best <= latest);
        }
        if exact.gap() == Some(0) {
            prop_assert_eq!(found, best);
        }
    }

    /// A pace of 100 is none: the same answer with the same work. The kinds stay, since the search tells tasks of two kinds apart.
    #[test]
    fn the_usual_pace_changes_nothing(problem in small()) {
        let mut usual = problem.clone();
        usual.workers.iter_mut().for_each(|w| w.paces = vec![100]);
        let mut none = problem;
        none.workers.iter_mut().for_each(|w| w.paces.clear());
        prop_assert_eq!(both(&usual), both(&none));
    }

    /// Who is slower makes nothing begin later than the proof allows for those who are not.
    #[test]
    fn slower_is_never_later(problem in small(), who in 0..2usize) {
        let mut slower = problem.clone();
        if let Some(w) = slower.workers.get_mut(who) {
            w.paces[0] = w.paces[0] * 2 / 3;
        }
        let (_, exact) = both(&problem);
        let (_, other) = both(&slower);
        if let (Some(latest), Some(start)) = (exact.latest, first_start(&other.answer)) {
            prop_assert!(start <= latest);
        }
        if !other.impossible && other.latest.is_some() && exact.latest.is_some() {
            prop_assert!(by_trying(&slower) <= by_trying(&problem));
        }
    }

    /// Lists in any order begin no later than what is proved.
    #[test]
    fn no_list_begins_later(problem in small(), keys in prop::collection::vec(0..9i64, 3)) {
        let (_, exact) = both(&problem);
        let other = in_order(&problem, 100_000, &keys);
        prop_assert_eq!(check(&problem, &other), []);
        if let (Some(latest), Some(start)) = (exact.latest, first_start(&other)) {
            prop_assert!(start <= latest);
        }
    }
}

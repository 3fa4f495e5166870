use proptest::prelude::*;

use super::super::samples::{people, task};
use super::super::{Task, Worker, solve};
use super::*;

fn at(start: i64, end: i64, who: &[usize]) -> Result<Placed, super::super::NoTime> {
    Ok(Placed {
        start,
        end,
        who: who.to_vec(),
    })
}

const BY: There = There { pause: 50, call: 7 };

fn answer(tasks: Vec<Result<Placed, super::super::NoTime>>) -> Answer {
    Answer { tasks, work: 0 }
}

/// 10 before 20 before 30, one person, each with a gap after it: by hand 40 to 50, 50 to 70, 70 to 100.
#[test]
fn gaps_close_towards_the_end() {
    let problem = Problem {
        tasks: vec![task(10, 1, &[]), task(20, 1, &[0]), task(30, 1, &[1])],
        workers: people(1),
        kit: vec![],
    };
    let loose = answer(vec![at(0, 10, &[0]), at(15, 35, &[0]), at(60, 90, &[0])]);
    let settled = settle(&problem, loose, BY);
    assert_eq!(
        settled.tasks,
        [at(40, 50, &[0]), at(50, 70, &[0]), at(70, 100, &[0])]
    );
}

/// Two of 10 use the only pump: they go one behind the other, though two people are there.
#[test]
fn kit_is_not_used_twice() {
    let pumped = Task {
        kit: vec![1],
        ..task(10, 1, &[])
    };
    let problem = Problem {
        tasks: vec![pumped.clone(), pumped],
        workers: people(2),
        kit: vec![1],
    };
    let settled = settle(
        &problem,
        answer(vec![at(0, 10, &[0]), at(20, 30, &[1])]),
        BY,
    );
    let mut spans: Vec<(i64, i64)> = settled
        .tasks
        .iter()
        .flatten()
        .map(|p| (p.start, p.end))
        .collect();
    spans.sort_unstable();
    assert_eq!(spans, [(80, 90), (90, 100)]);
}

/// Work from 40 to 50 and from 50 + gap to 100, held there, given to one of two. By hand: one who waits costs 7 for the call and the
/// gap; two cost 14 and wait for nothing. So a gap of more than 7 is better not waited, and one of less is.
#[test]
fn a_call_costs_as_much_as_some_waiting() {
    let held = |start: i64, end: i64| Task {
        release: Some(start),
        deadline: end,
        ..task(end - start, 1, &[])
    };
    for (gap, who) in [(6, 0), (8, 1)] {
        let problem = Problem {
            tasks: vec![held(40, 50), held(50 + gap, 100)],
            workers: people(2),
            kit: vec![],
        };
        for given in [0, 1] {
            let loose = answer(vec![at(40, 50, &[0]), at(50 + gap, 100, &[given])]);
            let settled = settle(&problem, loose, BY);
            let one = settled.tasks[0].as_ref().unwrap().who[0];
            let other = settled.tasks[1].as_ref().unwrap().who[0];
            assert_eq!(usize::from(one != other), who, "{gap} {given}");
        }
    }
}

/// A pause of its own length parts two calls.
#[test]
fn what_being_there_costs() {
    let spans = [(0, 10), (15, 20), (70, 80)];
    assert_eq!(BY.cost(&[]), 0);
    assert_eq!(BY.cost(&spans), 7 + 20 + 7 + 10);
    assert_eq!(There { pause: 51, ..BY }.cost(&spans), 7 + 80);
}

/// The person who is there anyway does it: of the pairs of spans 0 has (80, 100); the work from 70 to 80 that 1 was given is theirs then.
#[test]
fn one_who_is_there_anyway_does_it() {
    let problem = Problem {
        tasks: vec![task(20, 1, &[]), task(10, 1, &[0]), task(20, 2, &[1])],
        workers: people(2),
        kit: vec![],
    };
    let loose = answer(vec![
        at(40, 60, &[1]),
        at(70, 80, &[0]),
        at(80, 100, &[0, 1]),
    ]);
    let settled = settle(&problem, loose, BY);
    // now 50 to 70, 70 to 80, 80 to 100: 0 was to wait for nothing, 1 for 10
    let who: Vec<Vec<usize>> = settled
        .tasks
        .iter()
        .flatten()
        .map(|p| p.who.clone())
        .collect();
    assert_eq!(who[0], who[1]);
    assert_eq!(who[2], [0, 1]);
}

fn any_problem() -> impl Strategy<Value = Problem> {
    let task = (
        0..12i64,
        0..3usize,
        prop::option::weighted(0.3, 0..2usize),
        0..2i64,
        0..9usize,
        80..100i64,
    );
    let worker = (0..20i64, 30..50i64, 55..70i64, any::<[bool; 2]>());
    (
        prop::collection::vec(task, 1..9),
        prop::collection::vec(worker, 1..4),
    )
        .prop_map(|(tasks, workers)| Problem {
            tasks: tasks
                .into_iter()
                .enumerate()
                .map(
                    |(i, (duration, people, skill, kit, after, deadline))| Task {
                        duration,
                        people,
                        kind: None,
                        skill,
                        kit: vec![kit],
                        after: if after < i { vec![after] } else { vec![] },
                        release: None,
                        deadline,
                    },
                )
                .collect(),
            workers: workers
                .into_iter()
                .map(|(a, b, c, skills)| Worker {
                    free: vec![(a, b), (c, 100)],
                    skills: skills.to_vec(),
                    paces: vec![],
                })
                .collect(),
            kit: vec![1],
        })
}

fn cost(problem: &Problem, answer: &Answer, by: There) -> i128 {
    let mut placed = all_placed(problem, answer).unwrap();
    let people = People {
        problem,
        placed: &mut placed,
        by,
    };
    (0..problem.workers.len())
        .map(|w| by.cost(&people.spans(w)))
        .sum()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    /// Checked; never earlier; and what is settled is settled.
    #[test]
    fn nothing_begins_earlier(problem in any_problem(), back in prop::collection::vec(0..9i64, 9), pause in 1..40i64, call in 0..9i64) {
        let by = There { pause, call };
        let serial = solve(&problem, 100_000);
        // the same with every task begun earlier where that breaks nothing
        let mut loose = serial.clone();
        for (i, by) in back.iter().enumerate().take(loose.tasks.len()) {
            let mut moved = loose.clone();
            if let Ok(p) = &mut moved.tasks[i] {
                p.start -= by;
                p.end -= by;
            }
            if check(&problem, &moved).is_empty() {
                loose = moved;
            }
        }
        let settled = settle(&problem, loose.clone(), by);
        prop_assert_eq!(check(&problem, &settled), []);
        for (a, b) in loose.tasks.iter().zip(&settled.tasks) {
            match (a, b) {
                (Ok(a), Ok(b)) => prop_assert!(a.start <= b.start),
                (a, b) => prop_assert_eq!(a, b),
            }
        }
        if settled.tasks.iter().all(Result::is_ok) {
            let again = settle(&problem, settled.clone(), by);
            prop_assert_eq!(&again.tasks, &settled.tasks);
            // at the same times it costs no more than before
            let same = |a: &Answer, b: &Answer| a.tasks.iter().zip(&b.tasks).all(|(a, b)| a.as_ref().map(|p| p.start) == b.as_ref().map(|p| p.start));
            if same(&loose, &settled) {
                prop_assert!(cost(&problem, &settled, by) <= cost(&problem, &loose, by));
            }
        }
    }
}

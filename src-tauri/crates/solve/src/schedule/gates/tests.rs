use proptest::prelude::*;

use super::super::samples::{people, task};
use super::super::{Worker, check};
use super::*;

/// Two before the drive, the drive, two after it: the drive is the gate.
#[test]
fn the_drive_is_a_gate() {
    let problem = Problem {
        tasks: vec![
            task(5, 1, &[]),
            task(6, 1, &[]),
            task(10, 2, &[0, 1]),
            task(7, 1, &[2]),
            task(8, 1, &[2]),
        ],
        workers: people(2),
        kit: vec![],
    };
    assert_eq!(parts(&problem), [vec![2, 3, 4], vec![0, 1]]);
    let found = best(&problem, 10_000, 10_000);
    assert_eq!(check(&problem, &found.answer), []);
    // by hand: side by side 8 from the end, 10 before that, 6 before that
    assert_eq!(found.latest, Some(100 - 8 - 10 - 6));
    assert_eq!(found.gap(), Some(0));
}

/// A circle has no gates, and no time.
#[test]
fn a_circle_is_one_part() {
    let problem = Problem {
        tasks: vec![task(5, 1, &[1]), task(6, 1, &[0])],
        workers: people(1),
        kit: vec![],
    };
    assert_eq!(parts(&problem).len(), 1);
    let found = best(&problem, 10_000, 10_000);
    assert!(found.answer.tasks.iter().all(Result::is_err));
}

/// What comes after the gate needs 20 with one person, and no more than 15 are left since the gate may not begin before 80.
#[test]
fn what_cannot_be_is_proved_in_its_part() {
    let mut problem = Problem {
        tasks: vec![
            task(5, 1, &[]),
            Task {
                release: Some(80),
                ..task(5, 1, &[0])
            },
            task(10, 1, &[1]),
            task(10, 1, &[1]),
        ],
        workers: people(1),
        kit: vec![],
    };
    let found = best(&problem, 10_000, 10_000);
    assert!(found.impossible);
    problem.tasks[1].release = Some(75);
    let found = best(&problem, 10_000, 10_000);
    assert!(!found.impossible);
    assert_eq!(found.latest, Some(70));
}

fn gated() -> impl Strategy<Value = Problem> {
    let task = || {
        (
            0..6i64,
            0..3usize,
            prop::option::weighted(0.3, Just(0usize)),
            0..2i64,
            any::<u8>(),
        )
    };
    (
        prop::collection::vec(prop::collection::vec(task(), 1..4), 1..4),
        prop::collection::vec((0..20i64, 40..60i64, 60..80i64, any::<bool>()), 1..3),
    )
        .prop_map(|(groups, workers)| {
            let mut tasks: Vec<Task> = Vec::new();
            let mut last: Vec<usize> = Vec::new();
            for group in groups {
                // the first of a group waits for the group before it, the others for it
                let gate = tasks.len();
                for (k, (duration, people, skill, kit, bits)) in group.into_iter().enumerate() {
                    let after = match k {
                        0 => last.clone(),
                        _ if k > 1 && bits % 2 == 0 => vec![gate, gate + k - 1],
                        _ => vec![gate],
                    };
                    tasks.push(Task {
                        duration,
                        people,
                        kind: None,
                        skill,
                        kit: vec![kit],
                        after,
                        release: None,
                        deadline: 100,
                    });
                }
                last = (gate..tasks.len()).collect();
            }
            Problem {
                tasks,
                workers: workers
                    .into_iter()
                    .map(|(a, b, c, skilled)| Worker {
                        free: vec![(a, b), (c, 100)],
                        skills: vec![skilled],
                        paces: vec![],
                    })
                    .collect(),
                kit: vec![1],
            }
        })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    /// Against the engine on the whole: what is proved is the same, and no bound is broken.
    #[test]
    fn the_parts_are_as_good_as_the_whole(problem in gated()) {
        let parted = best(&problem, 100_000, 200_000);
        let whole = exact(&problem, solve(&problem, 100_000), 200_000);
        prop_assert_eq!(check(&problem, &parted.answer), []);
        prop_assert_eq!(check(&problem, &whole.answer), []);
        let start = |e: &Exact| Some(e.latest? - e.gap()?);
        if parted.gap() == Some(0) && whole.gap() == Some(0) {
            prop_assert_eq!(parted.latest, whole.latest);
        }
        if let (Some(bound), Some(start)) = (whole.latest, start(&parted)) {
            prop_assert!(start <= bound);
        }
        if let (Some(bound), Some(start)) = (parted.latest, start(&whole)) {
            prop_assert!(start <= bound);
        }
        if parted.impossible {
            prop_assert!(start(&whole).is_none());
        }
        if whole.impossible {
            prop_assert!(start(&parted).is_none());
        }
    }
}

//! The scheduling engine against published makespans, against another solver's, and against itself.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use proptest::prelude::*;
use serde_json::Value;
use solve::schedule::engine::{Engine, Outcome};
use solve::schedule::project::{Activity, Arc, Block, Project};
use solve::schedule::read::read;

fn data() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../tests/data/schedule")
}

/// Solves, and checks the answer.
fn solved(project: &Project, work: u64) -> Outcome {
    let mut engine = Engine::new(project);
    let outcome = engine.run(work, work).clone();
    if let Some(starts) = &outcome.starts {
        assert_eq!(project.check(starts), []);
        assert_eq!(outcome.makespan, Some(project.makespan(starts)));
        assert!(outcome.lower_bound <= project.makespan(starts));
    }
    outcome
}

/// Sources: see `data/schedule/README.md`. None: proved to have no schedule.
#[test]
fn published_makespans() {
    for (file, want) in [
        ("j301_1.sm", Some(43)),
        ("j3029_1.sm", Some(85)),
        ("j605_1.sm", Some(76)),
        ("j10_psp1.sch", Some(26)),
        ("j10_psp2.sch", None),
        ("j20_psp5.sch", None),
        ("ubo20_psp1.sch", Some(103)),
    ] {
        let text = std::fs::read_to_string(data().join(file)).unwrap();
        let outcome = solved(&read(&text).unwrap(), 30_000_000);
        assert!(outcome.proven, "{file}");
        assert_eq!(outcome.makespan, want, "{file}");
        assert_eq!(outcome.feasible(), Some(want.is_some()), "{file}");
    }
}

/// The full sets, where they lie beside this repository; their tables name the published makespans.
#[test]
fn published_sets() {
    let sets = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../../shared/data/schedule");
    if !sets.is_dir() {
        println!("not run: data absent (0 projects)");
        return;
    }
    let mut known: BTreeMap<(String, String), Option<i64>> = BTreeMap::new();
    let table = String::from_utf8(std::fs::read(sets.join("max/results.csv")).unwrap()).unwrap();
    for line in table.lines().skip(1) {
        let [set, file, result, ..] = line.split(',').collect::<Vec<_>>()[..] else {
            panic!("{line}");
        };
        if !result.is_empty() {
            known.insert((format!("max/{set}"), file.into()), result.parse().ok());
        }
    }
    let table = std::fs::read(sets.join("j30/best_known.csv")).unwrap();
    for line in String::from_utf8_lossy(&table).lines() {
        let columns: Vec<&str> = line.split(';').collect();
        if let Some(makespan) = columns.get(7).and_then(|m| m.parse().ok()) {
            known.insert(("j30".into(), columns[1].into()), Some(makespan));
        }
    }
    // of each set every so many; how much work; how many of a hundred must be proved
    for (set, every, work, percent) in [
        ("max/ubo10", 1, 300_000, 100),
        ("max/j10", 1, 300_000, 100),
        ("max/ubo20", 2, 3_000_000, 100),
        ("j30", 7, 300_000, 85),
    ] {
        let mut files: Vec<PathBuf> = std::fs::read_dir(sets.join(set))
            .unwrap()
            .map(|f| f.unwrap().path())
            .collect();
        files.retain(|f| f.extension().is_some_and(|e| e != "csv"));
        files.sort();
        let (mut count, mut proven) = (0, 0);
        for file in files.iter().step_by(every) {
            let project = read(&std::fs::read_to_string(file).unwrap()).unwrap();
            let outcome = solved(&project, work);
            let name = file.file_name().unwrap().to_str().unwrap();
            let Some(want) = known.get(&(set.to_string(), name.to_string())) else {
                continue;
            };
            count += 1;
            proven += u32::from(outcome.proven);
            match want {
                None => assert_eq!(outcome.starts, None, "{set} {name}"),
                Some(best) => {
                    assert!(outcome.lower_bound <= *best, "{set} {name}");
                    assert!(outcome.makespan.is_none_or(|m| m >= *best), "{set} {name}");
                    if outcome.proven {
                        assert_eq!(outcome.makespan, Some(*best), "{set} {name}");
                    }
                }
            }
        }
        println!("{set}: {proven} of {count} proved");
        assert!(
            count > 40 && proven * 100 >= percent * count,
            "{set}: {proven} of {count}"
        );
    }
}

fn numbers(value: &Value) -> Vec<i64> {
    value
        .as_array()
        .unwrap()
        .iter()
        .map(|x| x.as_i64().unwrap())
        .collect()
}

/// Random projects with windows, lags of any sign, blocks and up to six resources. Source of the makespans: OR-Tools CP-SAT, by
/// `data/schedule/windows.py`.
#[test]
fn another_solver_agrees() {
    let text = std::fs::read_to_string(data().join("windows.json")).unwrap();
    let all: Value = serde_json::from_str(&text).unwrap();
    let all = all.as_array().unwrap();
    assert!(all.len() >= 100);
    for (at, case) in all.iter().enumerate() {
        let list = |key: &str| case[key].as_array().unwrap().clone();
        let project = Project {
            capacities: numbers(&case["capacities"]),
            activities: list("activities")
                .iter()
                .map(|a| Activity {
                    duration: a[0].as_i64().unwrap(),
                    demand: numbers(&a[1]),
                    earliest: a[2].as_i64().unwrap(),
                    latest: a[3].as_i64(),
                })
                .collect(),
            arcs: list("arcs")
                .iter()
                .map(numbers)
                .map(|a| arc(a[0], a[1], a[2]))
                .collect(),
            blocks: list("blocks")
                .iter()
                .map(numbers)
                .map(|b| Block {
                    resource: usize::try_from(b[0]).unwrap(),
                    from: b[1],
                    to: b[2],
                    amount: b[3],
                })
                .collect(),
        };
        let outcome = solved(&project, 3_000_000);
        assert!(outcome.proven, "{at}");
        assert_eq!(outcome.makespan, case["makespan"].as_i64(), "{at}");
    }
}

fn arc(from: i64, to: i64, lag: i64) -> Arc {
    Arc {
        from: usize::try_from(from).unwrap(),
        to: usize::try_from(to).unwrap(),
        lag,
    }
}

fn project() -> impl Strategy<Value = Project> {
    let activity =
        (0..5i64, prop::collection::vec(0..4i64, 2)).prop_map(|(duration, demand)| Activity {
            duration,
            demand,
            ..Activity::default()
        });
    (
        prop::collection::vec(activity, 1..5),
        prop::collection::vec((0..5i64, 0..5i64, -6..6i64), 0..5),
    )
        .prop_map(|(activities, arcs)| {
            let n = i64::try_from(activities.len()).unwrap();
            let arcs = arcs.into_iter().map(|(a, b, lag)| arc(a % n, b % n, lag));
            Project {
                arcs: arcs.filter(|a| a.from != a.to).collect(),
                capacities: vec![3, 4],
                activities,
                blocks: vec![],
            }
        })
}

/// Every start up to a horizon that no shortest schedule of such small projects exceeds.
fn by_trying(project: &Project) -> Option<i64> {
    let n = project.activities.len();
    let reach: i64 = project.activities.iter().map(|a| a.duration.max(6)).sum();
    let mut best: Option<i64> = None;
    let mut starts = Vec::new();
    fn place(
        project: &Project,
        n: usize,
        reach: i64,
        starts: &mut Vec<i64>,
        best: &mut Option<i64>,
    ) {
        if starts.len() == n {
            if project.check(starts).is_empty() {
                let m = project.makespan(starts);
                *best = Some(best.map_or(m, |b| b.min(m)));
            }
            return;
        }
        for s in 0..=reach {
            let i = starts.len();
            if best.is_some_and(|b| s + project.activities[i].duration >= b) {
                break;
            }
            starts.push(s);
            let fine = project
                .arcs
                .iter()
                .all(|a| a.from > i || a.to > i || starts[a.to] - starts[a.from] >= a.lag);
            if fine {
                place(project, n, reach, starts, best);
            }
            starts.pop();
        }
    }
    place(project, n, reach, &mut starts, &mut best);
    best
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    /// Small projects, against every schedule there is.
    #[test]
    fn as_short_as_by_trying(project in project()) {
        let outcome = solved(&project, 1_000_000);
        prop_assert!(outcome.proven);
        prop_assert_eq!(outcome.makespan, by_trying(&project));
    }

    /// Multiplying all times stretches the schedule, in seconds over days as in units; wide capacities and more resources than a word holds change nothing.
    #[test]
    fn scale_changes_nothing(project in project(), times in prop::sample::select(vec![1, 7, 900, 40_000])) {
        let plain = solved(&project, 1_000_000);
        let mut long = project.clone();
        for a in &mut long.activities {
            a.duration *= times;
            // twelve resources of ten thousand million each, of the same shares
            a.demand = a.demand.iter().cycle().take(12).map(|d| d * 10_000_000_000).collect();
        }
        long.capacities = long.capacities.iter().cycle().take(12).map(|c| c * 10_000_000_000).collect();
        for a in &mut long.arcs {
            a.lag *= times;
        }
        let stretched = solved(&long, 3_000_000);
        prop_assert!(stretched.proven);
        prop_assert_eq!(stretched.makespan, plain.makespan.map(|m| m * times));
    }

    /// Whatever a file holds, reading it ends with a project or a sentence.
    #[test]
    fn reading_never_stops_the_program(text in "(?s).{0,200}|[0-9 \\[\\]\n-]{0,200}") {
        if let Err(e) = read(&text) {
            prop_assert!(e.line >= 1 && !e.message.is_empty());
        }
    }

    /// Nor does a good file with a piece cut out or doubled, nor solving what is read from it.
    #[test]
    fn spoilt_files(which in 0..2usize, from in 0..3000usize, len in 1..60usize, twice: bool) {
        let file = ["j301_1.sm", "j10_psp1.sch"][which];
        let text = std::fs::read_to_string(data().join(file)).unwrap();
        let from = from % text.len();
        let to = (from + len).min(text.len());
        let middle = if twice { text[from..to].repeat(2) } else { String::new() };
        let spoilt = format!("{}{middle}{}", &text[..from], &text[to..]);
        match read(&spoilt) {
            Ok(project) => {
                solved(&project, 20_000);
            }
            Err(e) => prop_assert!(!e.message.is_empty()),
        }
    }
}

#[test]
fn the_same_question_has_the_same_answer_and_more_work_is_never_worse() {
    let text = std::fs::read_to_string(data().join("j605_1.sm")).unwrap();
    let project = read(&text).unwrap();
    assert_eq!(solved(&project, 200_000), solved(&project, 200_000));
    let mut engine = Engine::new(&project);
    let mut last = i64::MAX;
    for k in 1..=20 {
        let outcome = engine.run(k * 100_000, 2_000_000);
        let makespan = outcome.makespan.unwrap();
        assert!(makespan <= last && outcome.lower_bound <= makespan);
        last = makespan;
    }
}

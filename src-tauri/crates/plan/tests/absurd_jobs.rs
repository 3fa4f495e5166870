//! Whatever stands in a job: a plan with findings, never a panic, and the same twice. Every job is one of the worked ones with some
//! of its fields overwritten.
#![expect(clippy::unwrap_used, reason = "a test may stop")]

use plan::{Depth, Memory, plan_at};
use std::collections::BTreeSet;

use job::read::read_strictly;
use job::{Job, Private, Severity};
use plan::Plan;
use plan::steps::LONGEST_TITLE;
use proptest::prelude::*;
use proptest::sample::Index;
use serde_json::{Value, json};

const JOBS: [(&str, &str); 4] = [
    (
        include_str!("../../../../tests/jobs/hall.job.json"),
        include_str!("../../../../tests/jobs/hall.private.json"),
    ),
    (
        include_str!("../../../../tests/jobs/overnight.job.json"),
        include_str!("../../../../tests/jobs/overnight.private.json"),
    ),
    (
        include_str!("../../../../tests/jobs/garden.job.json"),
        include_str!("../../../../tests/jobs/garden.private.json"),
    ),
    (
        include_str!("../../../../tests/jobs/fiftieth.job.json"),
        include_str!("../../../../tests/jobs/fiftieth.private.json"),
    ),
];

/// A worked job with all its fields, as JSON.
fn worked(at: usize) -> (Value, Value) {
    let job: Job = read_strictly(&serde_json::from_str(JOBS[at].0).unwrap()).unwrap();
    let private: Private = read_strictly(&serde_json::from_str(JOBS[at].1).unwrap()).unwrap();
    (
        serde_json::to_value(job).unwrap(),
        serde_json::to_value(private).unwrap(),
    )
}

/// All leaves of a document, for overwriting.
fn leaves(value: &mut Value) -> Vec<&mut Value> {
    match value {
        Value::Object(map) => map.values_mut().flat_map(leaves).collect(),
        Value::Array(list) => list.iter_mut().flat_map(leaves).collect(),
        leaf => vec![leaf],
    }
}

fn any_number() -> impl Strategy<Value = i64> {
    prop_oneof![
        any::<i64>(),
        prop::sample::select(vec![
            i64::MIN,
            -1,
            0,
            1,
            2,
            100,
            1 << 31,
            1_000_000_000,
            1 << 53,
            i64::MAX
        ]),
        -10i64..20_000,
    ]
}

fn any_text() -> impl Strategy<Value = String> {
    prop_oneof![
        prop::sample::select(vec![
            "",
            " ",
            "\n",
            "Ein sehr langer Name für ein Stück über der Treppe zum Saal",
            "🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈🎈",
            "قوس عند الباب",
            "two\nlines\tand a tab",
            "2026-11-01T01:30",
            "2026-02-30T10:00",
            "9999-12-31T23:59",
            "Mars/Olympus",
            "Pacific/Apia",
        ])
        .prop_map(String::from),
        ".{0,60}",
    ]
}

/// Overwrites one leaf with something of its kind.
fn overwrite(leaf: &mut Value, number: i64, text: &str) {
    *leaf = match leaf {
        Value::Number(_) => json!(number),
        Value::Bool(old) => json!(!*old),
        _ => json!(text),
    };
}

prop_compose! {
    fn any_job()(
        which in 0..JOBS.len(),
        changes in prop::collection::vec((any::<Index>(), any_number(), any_text()), 0..12),
    ) -> (Job, Private) {
        let (mut job, mut private) = worked(which);
        for (at, number, text) in &changes {
            let mut all = leaves(&mut job);
            all.extend(leaves(&mut private));
            let at = at.index(all.len());
            overwrite(all[at], *number, text);
        }
        // a word that no version knows reads as one of a newer version; a text where a list stands does not occur
        (
            serde_json::from_value(job).unwrap(),
            serde_json::from_value(private).unwrap(),
        )
    }
}

fn findings_say_what_and_where(plan: &Plan) -> Result<(), TestCaseError> {
    for pair in plan.findings.windows(2) {
        prop_assert!(pair[0].severity <= pair[1].severity, "worst first");
    }
    for f in &plan.findings {
        prop_assert!(!f.code.is_empty() && !f.message.trim().is_empty(), "{f:?}");
        prop_assert!(
            f.message.ends_with(['.', '…', '?', ':', ')', '"']) || f.code == "hidden_letters",
            "{f:?}"
        );
        if f.severity != Severity::Note {
            prop_assert!(!f.action.trim().is_empty(), "{f:?}");
            prop_assert!(!f.path.is_empty(), "{f:?}");
        }
    }
    Ok(())
}

fn steps_can_be_read(plan: &Plan) -> Result<(), TestCaseError> {
    let mut ids = BTreeSet::new();
    for step in &plan.steps {
        prop_assert!(ids.insert(&step.id), "twice: {}", step.id);
        prop_assert!(step.title.chars().count() <= LONGEST_TITLE, "{step:?}");
        prop_assert!(
            step.title.starts_with(|c: char| c.is_ascii_uppercase()),
            "{step:?}"
        );
        prop_assert!(!step.title.contains(['\n', '\t', '\r']), "{step:?}");
        prop_assert!(!step.code.is_empty() && step.quantity >= 0, "{step:?}");
        prop_assert!(step.who.iter().all(|w| !w.trim().is_empty()), "{step:?}");
    }
    Ok(())
}

fn totals_are_their_terms(plan: &Plan) -> Result<(), TestCaseError> {
    for (name, why) in &plan.why {
        let sum: i128 = why.terms.iter().map(|t| i128::from(t.value)).sum();
        prop_assert_eq!(sum, i128::from(why.total), "{}: {:?}", name, why);
    }
    for line in &plan.order {
        let sum: i64 = line.terms.iter().map(|t| t.value).sum();
        prop_assert_eq!(sum, line.need, "{:?}", line);
        let bought: i64 = line.bags.iter().map(|b| b.size * b.count).sum();
        prop_assert!(bought >= line.short, "{:?}", line);
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_job_has_a_plan((job, private) in any_job()) {
        let plan = plan_at(&job, Some(&private), Depth::Instant, &mut Memory::default());
        findings_say_what_and_where(&plan)?;
        steps_can_be_read(&plan)?;
        totals_are_their_terms(&plan)?;
        prop_assert_eq!(&plan, &plan_at(&job, Some(&private), Depth::Instant, &mut Memory::default()));
        let crew = plan_at(&job, None, Depth::Instant, &mut Memory::default());
        prop_assert!(crew.price.is_none() && crew.order.iter().all(|l| l.cost_cents.is_none()));
        prop_assert_eq!(&crew.steps, &plan.steps);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    /// Packed to the end as well, and once more from memory.
    #[test]
    fn any_job_has_a_packed_plan((job, private) in any_job()) {
        let mut memory = Memory::default();
        let plan = plan_at(&job, Some(&private), Depth::Final, &mut memory);
        findings_say_what_and_where(&plan)?;
        steps_can_be_read(&plan)?;
        totals_are_their_terms(&plan)?;
        prop_assert_eq!(&plan, &plan_at(&job, Some(&private), Depth::Final, &mut memory));
        for garland in plan.pieces.iter().filter_map(|p| p.garland.as_ref()).filter(|g| !g.packed.is_empty()) {
            let balls: usize = garland.clusters.iter().map(|c| c.balls.len()).sum();
            prop_assert_eq!(garland.packed.len(), balls);
            prop_assert!(garland.range.least <= garland.range.mean && garland.range.mean <= garland.range.most);
        }
    }
}

#[test]
fn nothing_at_all_has_a_plan() {
    let plan = plan::plan(&Job::default(), Some(&Private::default()));
    for check in [
        findings_say_what_and_where,
        steps_can_be_read,
        totals_are_their_terms,
    ] {
        check(&plan).unwrap_or_else(|e| panic!("{e}"));
    }
    assert!(plan.findings.iter().any(|f| f.code == "no_people"));
    assert_eq!((plan.figures.balloons, plan.figures.trips), (0, 1));
}

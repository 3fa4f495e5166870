use super::*;
use job::away::Spread as OwnSpread;
use job::defaults::starting_books;
use job::demo::demo;
use proptest::prelude::*;

/// Days in a test against a closed form. Half of them are free (each has its opposite), so a share is within 4 × √(¼ / 20,000) of the
/// truth: 14 in a thousand.
const MANY: Days = Days {
    samples: 40_000,
    seed: 5,
};
const NEAR: i64 = 14;

/// The normal distribution, by the error function of `libm`.
fn phi(z: f64) -> f64 {
    0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
}

/// A task that goes its own way.
fn node(id: &str, duration: i64, own_sd: f64, before: &[usize]) -> Node {
    Node {
        id: id.into(),
        duration,
        spread: Spread {
            kind: id.into(),
            own_sd,
            ..Spread::default()
        },
        call: before.is_empty().then_some(0),
        before: before.to_vec(),
        ..Node::default()
    }
}

fn pm(p: f64) -> i64 {
    (p * 1000.0).round() as i64
}

fn near(got: i64, want: f64) {
    assert!((got - pm(want)).abs() <= NEAR, "{got} is not {want}");
}

/// One lognormal time of an hour, deviation 0.2: P(T ≤ t) = Φ(ln(t/3600) / 0.2), and its tenths are 3600 · e^(±0.2563).
/// The figures are `scipy.stats.lognorm(0.2, scale=3600)`: cdf(4000) = 0.700837, ppf(0.1) = 2786.07, ppf(0.9) = 4651.72.
#[test]
fn one_task_is_lognormal() {
    let net = [node("a", 3600, 0.2, &[])];
    for (ready, want) in [(4000, 0.700_837), (3600, 0.5), (2786, 0.1), (4652, 0.9)] {
        assert!((phi(libm::log(ready as f64 / 3600.0) / 0.2) - want).abs() < 2e-4);
        near(sampled(&net, ready, MANY).ready_pm, want);
    }
    let all = sampled(&net, 4000, MANY);
    assert!(
        (all.early_ms - 2_786_070).abs() < 25_000,
        "{}",
        all.early_ms
    );
    assert!((all.mid_ms - 3_600_000).abs() < 25_000, "{}", all.mid_ms);
    assert!((all.late_ms - 4_651_720).abs() < 40_000, "{}", all.late_ms);
    // what is said of the task alone is not sampled
    assert_eq!((all.tasks[0].low_s, all.tasks[0].high_s), (2787, 4652));
}

/// Two in series, one after the other: P(A + B ≤ t) = ∫ φ(z) Φ(ln((t − a e^(σz)) / b) / τ) dz, summed here by the trapezoid rule.
#[test]
fn two_in_series_are_the_convolution() {
    let net = [node("a", 3000, 0.25, &[]), node("b", 1800, 0.15, &[0])];
    for ready in [4200, 4800, 5400, 6300] {
        let step = 0.001;
        let want: f64 = (-8000..8000)
            .map(|i| {
                let z = f64::from(i) * step;
                let left = ready as f64 - 3000.0 * libm::exp(0.25 * z);
                let density = libm::exp(-z * z / 2.0) / std::f64::consts::TAU.sqrt();
                if left <= 0.0 {
                    return 0.0;
                }
                density * phi(libm::log(left / 1800.0) / 0.15) * step
            })
            .sum();
        near(sampled(&net, ready, MANY).ready_pm, want);
    }
}

/// Parts of one kind are slow together: their sum is lognormal with their factor's deviation, and far wider than that of tasks that
/// go their own ways.
#[test]
fn parts_of_one_kind_share_their_factor() {
    let mut net = [node("a", 1000, 0.0, &[]), node("b", 2000, 0.0, &[0])];
    for n in &mut net {
        n.spread.kind = "kind string_s".into();
        n.spread.kind_sd = 0.2;
    }
    for ready in [2500, 3300, 3900] {
        let want = phi(libm::log(ready as f64 / 3000.0) / 0.2);
        near(sampled(&net, ready, MANY).ready_pm, want);
    }
}

/// Two side by side: P(max ≤ t) = Φ(…) Φ(…); of them the longer one is the first's with Φ(ln(a/b) / √(σ² + τ²)).
#[test]
fn two_side_by_side_are_the_product() {
    let net = [
        node("a", 3600, 0.2, &[]),
        node("b", 3300, 0.3, &[]),
        node("end", 0, 0.0, &[0, 1]),
    ];
    for ready in [3300, 3600, 4500] {
        let t = ready as f64;
        let want = phi(libm::log(t / 3600.0) / 0.2) * phi(libm::log(t / 3300.0) / 0.3);
        near(sampled(&net, ready, MANY).ready_pm, want);
    }
    let all = sampled(&net, 3600, MANY);
    let first = phi(libm::log(3600.0 / 3300.0) / libm::sqrt(0.2 * 0.2 + 0.3 * 0.3));
    near(all.tasks[0].critical_pm, first);
    near(all.tasks[1].critical_pm, 1.0 - first);
    let excess = all.tasks[0].high_s - 3600;
    assert_eq!(
        all.tasks[0].adds_s,
        excess * all.tasks[0].critical_pm / 1000
    );
}

/// The mean of a lognormal time is its middle times e^(σ²/2), its variance the mean's square times (e^(σ²) − 1).
#[test]
fn times_have_the_mean_and_the_variance_of_a_lognormal() {
    let net = [node("a", 100_000, 0.3, &[])];
    let all = durations(&net, 40_000, 3);
    let mean = all.iter().map(|d| *d as f64).sum::<f64>() / 40_000.0;
    let var = all.iter().map(|d| (*d as f64 - mean).powi(2)).sum::<f64>() / 40_000.0;
    let want = 100_000.0 * libm::exp(0.045);
    assert!((mean / want - 1.0).abs() < 0.005, "{mean}");
    assert!(
        (var / (want * want * (libm::exp(0.09) - 1.0)) - 1.0).abs() < 0.05,
        "{var}"
    );
}

/// Whoever has to be sure to nine tenths begins by the ninth tenth of the time earlier: 3600 · e^(0.2 · 1.2816) − 3600 = 1052 s, in whole
/// steps of five minutes four of them.
#[test]
fn the_earlier_start_is_the_tenth_of_the_time() {
    let all = sampled(&[node("a", 3600, 0.2, &[])], 3600, MANY);
    assert_eq!(all.earlier_s, Some(1200));
    near(all.then_pm, phi(libm::log(4800.0 / 3600.0) / 0.2));
    let sure = sampled(&[node("a", 3600, 0.2, &[])], 4800, MANY);
    assert_eq!((sure.earlier_s, sure.then_pm), (Some(0), sure.ready_pm));
}

/// Nothing begins before the load-in: an earlier start reaches no further than that.
#[test]
fn the_load_in_holds() {
    let mut net = [
        node("drive", 1800, 0.2, &[]),
        node("carry", 3600, 0.2, &[0]),
    ];
    net[1].floor = Some(1800);
    net[1].load_in = true;
    let all = sampled(&net, 5400, MANY);
    assert_eq!(all.earlier_s, None);
    near(all.then_pm, 0.5);
    // with the doors as much earlier as everybody it is two in series of an hour and a half, sure to nine tenths
    assert_eq!(all.load_in_earlier_s, Some(1500), "{}", all.late_ms);
    assert!((5400 + 1200..=5400 + 1500).contains(&(all.late_ms / 1000)));
    // the drive is over in time on half of the days
    near(all.load_in_pm, 0.5);
    // with an hour to spare the load-in holds nothing up that matters
    let late = sampled(&net, 9000, MANY);
    assert_eq!(late.earlier_s, Some(0));
}

/// Nobody begins before their hours, nor after them; what is begun is finished.
#[test]
fn hours_are_kept_to() {
    let mut net = vec![node("a", 100, 0.0, &[]), node("b", 100, 0.0, &[0])];
    for n in &mut net {
        n.free = vec![(0, 150), (1000, 1150)];
    }
    let mut ends = [0, 0];
    assert_eq!(
        go(&net, &[100, 100], [0, 0], &mut ends),
        200,
        "begun within them"
    );
    assert_eq!(
        go(&net, &[150, 100], [0, 0], &mut ends),
        1100,
        "the next morning"
    );
    assert_eq!(
        go(&net, &[100, 100], [50, 0], &mut ends),
        200,
        "not before them"
    );
    // earlier by working time: from 1050 back over the night
    for (shift, at) in [(0, 1050), (50, 1000), (60, 140), (200, 0), (999, 0)] {
        assert_eq!(sooner(&net[0].free, 1050, shift), at, "{shift}");
    }
    assert_eq!(sooner(&[], 1050, 60), 990);
    net[1].free = vec![(0, 120)];
    assert_eq!(
        go(&net, &[300, 100], [0, 0], &mut ends),
        400,
        "no hours left: they stay"
    );
}

/// With no spread at all the plan of the demo ends when it was planned to.
#[test]
fn without_spread_the_plan_is_the_plan() {
    let (job, _) = demo(&starting_books(), "2027-06-12");
    let plan = crate::plan(&job, None);
    let ready = instant(&job.times.ready_by, &job.venue.zone).unwrap();
    let mut net = net(&job, &plan.tasks, &plan.calls, ready).unwrap();
    for n in &mut net {
        n.spread = Spread::default();
    }
    let planned = plan.tasks.iter().find(|t| t.id == "finish").unwrap();
    let all = sampled(&net, ready / 1000, Days::default());
    assert_eq!(
        (all.early_ms, all.late_ms),
        (planned.end_ms.unwrap(), planned.end_ms.unwrap())
    );
    assert_eq!(all.ready_pm, 1000);
}

/// The demo as it is: an even chance at best, since its work begins as late as it can; begun so much earlier it is as sure as is said.
#[test]
fn the_aim_makes_the_plan_as_sure_as_was_said() {
    let (mut job, _) = demo(&starting_books(), "2027-06-12");
    // an early load-in, that holds nothing up
    job.times.load_in = "2027-06-12T08:00".into();
    let first = crate::plan(&job, None).chance.unwrap();
    assert!((200..=600).contains(&first.ready_pm), "{first:?}");
    assert!(first.early_ms < first.mid_ms && first.mid_ms < first.late_ms);
    assert_eq!((first.samples, first.own), (1000, 0));
    let earlier = first.earlier_s.unwrap();
    assert!(earlier > 0 && first.then_pm >= TARGET_PM);
    job.times.early_min = earlier / 60;
    let plan = crate::plan(&job, None);
    let then = plan.chance.unwrap();
    assert!(
        (then.ready_pm - first.then_pm).abs() <= 40,
        "{} was said, {} it is",
        first.then_pm,
        then.ready_pm
    );
    let finish = plan.tasks.iter().find(|t| t.id == "finish").unwrap();
    let ready = instant(&job.times.ready_by, &job.venue.zone).unwrap();
    assert_eq!(finish.end_ms, Some(ready - earlier * 1000));
}

#[test]
fn what_has_no_time_has_no_chance() {
    let (mut job, _) = demo(&starting_books(), "2027-06-12");
    job.times.ready_by.clear();
    assert_eq!(crate::plan(&job, None).chance, None);
    let (mut job, _) = demo(&starting_books(), "2027-06-12");
    job.crew.clear();
    assert_eq!(crate::plan(&job, None).chance, None);
    assert_eq!(crate::plan(&Job::default(), None).chance, None);
}

/// Own quarters of 90 and 110 % over so many jobs: ln(110/90) / 1.349 = 0.14876, weighed against the usual √(0.08² + 0.12²) = 0.14422.
#[test]
fn own_readings_are_drawn_towards_the_usual_while_they_are_few() {
    let mut job = Job::default();
    let with = |job: &mut Job, low_pct, high_pct, jobs| {
        let spread = OwnSpread {
            low_pct,
            high_pct,
            jobs,
            ..OwnSpread::default()
        };
        job.spreads.insert("string_s".into(), spread);
        super::spread(job, "string.arch.1")
    };
    let usual = super::spread(&Job::default(), "string.arch.1");
    assert_eq!((usual.kind_sd, usual.jobs), (KIND, 0));
    for (low, high, jobs, all) in [
        (90, 110, 4, 0.146_507), // √((0.14876² + 0.14422²) / 2)
        (90, 110, 10_000, 0.148_758),
        (50, 200, 12, 0.892_885), // √((12 · 1.02766² + 4 · 0.14422²) / 16)
    ] {
        let got = with(&mut job, low, high, jobs);
        let sd = libm::sqrt(got.kind_sd * got.kind_sd + DAY * DAY);
        // a deviation beyond 1 is held there
        let want = if high == 200 {
            libm::sqrt((12.0 + 4.0 * (DAY * DAY + KIND * KIND)) / 16.0)
        } else {
            all
        };
        assert!(
            (sd - want).abs() < 1e-5,
            "{low} to {high} of {jobs}: {sd}, not {want}"
        );
        assert_eq!(got.jobs, jobs);
    }
    // quarters that cannot be are no readings
    for (low, high, jobs) in [(0, 110, 5), (110, 90, 5), (90, 110, 0)] {
        assert_eq!(with(&mut job, low, high, jobs), usual);
    }
}

/// Counted work: the days are gone through once, the late ones at most nine times more.
#[test]
fn the_earlier_start_is_found_in_nine_looks() {
    for sure in 1..=MOST_STEPS {
        let mut looks = 0;
        let found = earlier(&mut |shift| {
            looks += 1;
            if shift >= sure * STEP_S { 950 } else { 100 }
        });
        assert_eq!(found, (Some(sure * STEP_S), 950));
        assert!(looks <= 9, "{looks}");
    }
    assert_eq!(earlier(&mut |_| 899), (None, 899));
}

#[test]
fn tenths_of_a_list() {
    // R's `quantile`, its seventh definition
    let list: Vec<i64> = (0..=10).map(|n| n * 100).collect();
    assert_eq!([1, 5, 9].map(|t| tenth(&list, t)), [100, 500, 900]);
    assert_eq!(tenth(&[0, 100], 9), 90);
    assert_eq!((tenth(&[7], 9), tenth(&[], 5)), (7, 0));
    assert_eq!(
        [(1, 3), (2, 3), (3, 3), (0, 0)].map(|(a, b)| share_pm(a, b)),
        [333, 667, 1000, 0]
    );
}

fn nets() -> impl Strategy<Value = Vec<Node>> {
    prop::collection::vec(
        (0i64..5000, 0.0f64..0.5, 0usize..1000, any::<bool>()),
        1..12,
    )
    .prop_map(|tasks| {
        tasks
            .into_iter()
            .enumerate()
            .map(|(i, (duration, sd, link, two))| {
                let mut before: Vec<usize> = Vec::new();
                if i > 0 {
                    before.push(link % i);
                    if two {
                        before.push((link / 7) % i);
                    }
                }
                before.sort_unstable();
                before.dedup();
                let mut n = node(&format!("t{i}"), duration, sd, &before);
                n.floor = (link % 5 == 0).then_some(1000);
                n.free = if link % 3 == 0 {
                    vec![(-500, 4000), (6000, 9000)]
                } else {
                    Vec::new()
                };
                n
            })
            .collect()
    })
}

proptest! {
    /// More time makes nothing less sure, beginning earlier makes nothing later, and the same days give the same answer.
    #[test]
    fn chances_are_in_order(net in nets(), ready in 0i64..20_000, more in 0i64..5000) {
        let days = Days { samples: 64, seed: 9 };
        let all = sampled(&net, ready, days);
        prop_assert_eq!(&all, &sampled(&net, ready, days));
        prop_assert!(all.early_ms <= all.mid_ms && all.mid_ms <= all.late_ms);
        prop_assert!(sampled(&net, ready + more, days).ready_pm >= all.ready_pm);
        prop_assert!(all.then_pm >= all.ready_pm);
        prop_assert!(all.tasks.iter().all(|t| (0..=1000).contains(&t.critical_pm)));
        let times = durations(&net, 8, 9);
        let mut ends = vec![0; net.len()];
        for day in times.chunks(net.len()) {
            let now = go(&net, day, [0, 0], &mut ends);
            // no task before what it waits for
            for (i, n) in net.iter().enumerate() {
                for b in &n.before {
                    prop_assert!(ends[*b] <= ends[i] - day[i]);
                }
            }
            prop_assert!(go(&net, day, [more, 0], &mut ends) <= now);
        }
    }
}

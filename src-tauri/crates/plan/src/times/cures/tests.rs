use super::super::conflict::Fact;
use super::super::schedule;
use super::*;
use crate::pieces::count_at;
use crate::{Depth, Memory};
use job::defaults::starting_books;
use job::demo::demo;
use job::pin::{Pin, pin_id};
use proptest::prelude::*;

static USUAL: Ways = Ways::usual();

/// A job with its counts and load.
struct Whole {
    job: Job,
    counted: Counted,
    load: Load,
}

impl Whole {
    fn of(job: Job) -> Self {
        let counted = count_at(&job, Depth::Instant, &mut Memory::default());
        let (order, _) = crate::order::order(&job, None, &counted);
        let (load, _) = crate::load::load(
            &job,
            &counted,
            &order,
            crate::Depth::Preview,
            &mut crate::load::Stowed::default(),
        );
        Self { job, counted, load }
    }

    fn tries<'a>(&'a self, known: &'a mut Known) -> Tries<'a> {
        let times = timed(
            &self.job,
            &self.counted,
            &self.load,
            &USUAL,
            (super::super::WORK, known),
        );
        Tries::new(&self.job, &self.counted, &self.load, &USUAL, known, &times)
    }

    /// What must be solved, as the plan of a changed job says it, with all the work that a plan has.
    fn stops(&self, job: &Job) -> BTreeSet<Key> {
        stops(&timed(
            job,
            &self.counted,
            &self.load,
            &USUAL,
            (super::super::WORK, &mut Known::default()),
        ))
    }
}

/// Whether the finding is gone and nothing new has come, with the usual numbers of people at each task, else as the plan to the end
/// chooses them: an inflator helps where a piece is blown by two.
fn cured(whole: &Whole, key: &Key, job: &Job, was: &BTreeSet<Key>) -> Result<(), BTreeSet<Key>> {
    let good = |now: &BTreeSet<Key>| !now.contains(key) && now.is_subset(was);
    if good(&whole.stops(job)) {
        return Ok(());
    }
    let (counted, load, known) = (&whole.counted, &whole.load, &mut Known::default());
    let now = stops(&schedule(job, counted, load, Depth::Final, known));
    if good(&now) { Ok(()) } else { Err(now) }
}

fn weekend() -> Job {
    demo(&starting_books(), "2027-06-12").0
}

/// Every cure that is offered works on the job that its edits make; every fact of a conflict is needed. Answers codes, cures and facts.
fn looked_into(whole: &Whole) -> Vec<(Key, Vec<Cure>, Vec<Fact>)> {
    let mut known = Known::default();
    let mut tries = whole.tries(&mut known);
    let was = tries.was.clone();
    let mut all = Vec::new();
    for key in was.clone() {
        let facts = conflict(&mut tries, &key).map(|(facts, _)| facts);
        let facts = facts.unwrap_or_default();
        let cures = tries.cures(&key);
        for cure in &cures {
            let cured = cured(whole, &key, &cure.job, &was);
            assert_eq!(cured, Ok(()), "{key:?}: {}", cure.said);
        }
        // without one of them, and without what is in no conflict, it does not stand; with all of them it does
        let others = all_facts(&tries, &key, &facts);
        let rest = others
            .iter()
            .fold(whole.job.clone(), |job, f| f.without(&job));
        if !facts.is_empty() {
            assert!(whole.stops(&rest).contains(&key), "{key:?}: {facts:?}");
        }
        for fact in &facts {
            let now = whole.stops(&fact.without(&rest));
            assert!(!now.contains(&key), "{key:?}: {fact:?} is not needed");
        }
        all.push((key, cures, facts));
    }
    all
}

fn all_facts(tries: &Tries, key: &Key, needed: &[Fact]) -> Vec<Fact> {
    let mut all = super::super::conflict::facts(tries, key);
    all.retain(|f| !needed.contains(f));
    all
}

fn said(cures: &[Cure]) -> Vec<&str> {
    cures.iter().map(|c| c.said.as_str()).collect()
}

/// The venue lets the crew in at 13:00, when the work needs them from before: load-in is earlier or ready-by later by the missing time.
#[test]
fn too_late_a_load_in_has_its_cures() {
    let mut job = weekend();
    job.times.load_in = "2027-06-12T13:00".into();
    let whole = Whole::of(job);
    let looked = looked_into(&whole);
    let (key, cures, facts) = &looked[0];
    assert_eq!(key.0, "load_in_too_late");
    let missing = whole.tries(&mut Known::default()).times.slack_s.unwrap();
    assert!(missing < 0);
    let minutes = (-missing + 59) / 60;
    let earlier = cures
        .iter()
        .find(|c| c.label.starts_with("Load-in"))
        .unwrap();
    assert_eq!(
        (earlier.moved_min, earlier.cost_s),
        (minutes, 0),
        "{:?}",
        said(cures)
    );
    // no less will do
    let at = instant(&whole.job.times.load_in, &whole.job.venue.zone).unwrap();
    let mut less = whole.job.clone();
    less.times.load_in = local(at - (minutes - 1) * 60_000, &whole.job.venue.zone).unwrap();
    assert!(whole.stops(&less).contains(key));
    let facts: Vec<bool> = facts
        .iter()
        .map(|f| matches!(f, Fact::LoadIn(_) | Fact::ReadyBy(_)))
        .collect();
    assert_eq!(facts.iter().filter(|f| **f).count(), 2, "{facts:?}");
}

/// Two people carry, hang and tidy from 11:21 on; with more of them 11:50 would do. Tries without work do not prove it of two, so it is
/// proved at the end, of the three facts by themselves.
#[test]
fn what_no_try_proves_is_proved_at_the_end() {
    let mut job = weekend();
    job.times.load_in = "2027-06-12T11:50".into();
    let whole = Whole::of(job);
    let mut known = Known::default();
    let mut tries = whole.tries(&mut known);
    let key = tries.was.first().cloned().unwrap();
    (tries.work, tries.times.proved) = (0, false);
    let (facts, proved) = conflict(&mut tries, &key).unwrap();
    assert!(
        matches!(
            facts.as_slice(),
            [Fact::People(_), Fact::LoadIn(_), Fact::ReadyBy(_)]
        ),
        "{facts:?}"
    );
    assert!(proved);
    let others = all_facts(&tries, &key, &facts);
    let rest = others
        .iter()
        .fold(whole.job.clone(), |job, f| f.without(&job));
    assert!(!tries.times(&rest).unwrap().proved);
    // and what does not stand is no conflict
    assert_eq!(tries.proves(&facts[0].without(&rest), &key), None);
}

/// What a pin makes impossible is cured by taking it off, and the pin is among the facts that do not go together.
#[test]
fn a_pin_in_the_way_is_named() {
    let mut job = weekend();
    let plan = crate::plan_at(&job, None, Depth::Instant, &mut Memory::default());
    let hang = plan.tasks.iter().find(|t| t.id == "hang.arch").unwrap();
    let slack = plan.figures.slack_s.unwrap();
    assert!(slack > 0);
    // as much earlier as there is to spare at the door, and half an hour
    let at = hang.start_ms.unwrap() - (slack + 1800) * 1000;
    let pin = Pin {
        task: "hang.arch".into(),
        at: local(at, &job.venue.zone).unwrap(),
        ..Pin::default()
    };
    job.pins.insert(pin_id("hang.arch"), pin);
    let looked = looked_into(&Whole::of(job));
    let (key, cures, facts) = &looked[0];
    assert_eq!(key.0, "load_in_too_late");
    assert!(
        facts.iter().any(|f| matches!(f, Fact::Pin(..))),
        "{facts:?}"
    );
    let off = cures
        .iter()
        .find(|c| c.label == "Take the pin off")
        .unwrap();
    assert_eq!(off.edits, pins::off("hang-arch"));
}

/// Findings of the plan: a sentence for the facts, one for the cures, a button for each.
#[test]
fn the_finding_says_it() {
    let mut job = weekend();
    job.times.load_in = "2027-06-12T13:00".into();
    let plan = crate::plan_at(&job, None, Depth::Preview, &mut Memory::default());
    let finding = plan
        .findings
        .iter()
        .find(|f| f.code == "load_in_too_late")
        .unwrap();
    assert!(
        finding.action.contains("Cheapest first: "),
        "{}",
        finding.action
    );
    assert!(
        finding.action.contains("load-in at 13:00"),
        "{}",
        finding.action
    );
    assert!((1..=OFFERED).contains(&finding.fixes.len()));
    let quick = crate::plan_at(&job, None, Depth::Instant, &mut Memory::default());
    let finding = quick
        .findings
        .iter()
        .find(|f| f.code == "load_in_too_late")
        .unwrap();
    assert!(finding.fixes.is_empty());
}

/// Nobody drives: one more who does. Nobody climbs: one more who does. No inflator: one.
#[test]
fn what_is_missing_is_added() {
    type Change = fn(&mut Job);
    let cases: [(&str, &str, Change); 3] = [
        ("no_driver", "one more person who drives", |j| {
            j.crew.values_mut().for_each(|c| c.drives = false);
        }),
        ("no_ladder", "one more person who works on a ladder", |j| {
            j.crew.values_mut().for_each(|c| c.ladder = false);
        }),
        ("no_inflator", "one more inflator", |j| {
            j.kit.retain(|_, k| k.kind != job::site::KitKind::Inflator);
        }),
    ];
    for (code, cure, change) in cases {
        let mut job = weekend();
        change(&mut job);
        let looked = looked_into(&Whole::of(job));
        let (_, cures, _) = looked.iter().find(|(k, ..)| k.0 == code).unwrap();
        assert!(cures[0].said.starts_with(cure), "{code}: {:?}", said(cures));
    }
}

/// One person with an hour a day cannot make it fresh: named, and cured.
#[test]
fn short_hours_make_it_old() {
    let mut job = weekend();
    job.rules.fresh_stop_h = 20;
    job.rules.fresh_care_h = 20;
    for person in job.crew.values_mut() {
        person.from_min = 660;
    }
    let looked = looked_into(&Whole::of(job));
    let (key, cures, facts) = looked.iter().find(|(k, ..)| k.0 == "too_old").unwrap();
    assert!(
        facts.iter().any(|f| matches!(f, Fact::Fresh(_))),
        "{key:?} {facts:?}"
    );
    assert!(!cures.is_empty());
}

/// A job that holds has nothing to cure.
#[test]
fn what_holds_is_left_alone() {
    let whole = Whole::of(weekend());
    assert_eq!(looked_into(&whole), []);
    let mut known = Known::default();
    let (job, counted, load) = (&whole.job, &whole.counted, &whole.load);
    let mut times = timed(job, counted, load, &USUAL, (0, &mut known));
    let before = times.clone();
    add(job, counted, load, &USUAL, &mut known, &mut times);
    assert_eq!(times, before);
}

/// Begun at 9:00, to be no older than 19 h when guests come: with a second inflator the arch is blown by two, and fresh.
#[test]
fn an_inflator_that_two_blow_with_is_a_cure() {
    let mut job = weekend();
    job.times.load_in = "2027-06-12T08:00".into();
    job.times.ready_by = "2027-06-12T12:30".into();
    job.rules.fresh_stop_h = 19;
    for person in job.crew.values_mut() {
        (person.from_min, person.ladder) = (540, false);
    }
    let looked = looked_into(&Whole::of(job));
    let old = looked.iter().find(|(key, ..)| key.0 == "too_old");
    let (_, cures, _) = old.unwrap();
    assert!(
        said(cures).contains(&"one more inflator"),
        "{:?}",
        said(cures)
    );
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 8, ..ProptestConfig::default() })]

    /// Of jobs whose times hold or not: what is offered works, what is named is needed.
    #[test]
    fn cures_cure_and_conflicts_are_smallest(
        load_in in 8..14i64,
        ready in 11..15i64,
        from in 6..12i64,
        people in 1..3usize,
        fresh in 8..30i64,
        climbs in any::<bool>(),
    ) {
        let mut job = weekend();
        job.times.load_in = format!("2027-06-12T{load_in:02}:00");
        job.times.ready_by = format!("2027-06-12T{ready:02}:30");
        job.rules.fresh_stop_h = fresh;
        let ids: Vec<String> = live(&job.crew).iter().map(|(id, _)| id.to_string()).collect();
        for (n, id) in ids.iter().enumerate() {
            let person = job.crew.get_mut(id).unwrap();
            person.gone = n >= people;
            person.from_min = from * 60;
            person.ladder &= climbs;
        }
        looked_into(&Whole::of(job));
    }
}

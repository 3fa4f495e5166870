//! No text and no number breaks a page: everything stays inside the margins, nothing lies over other text, and the
//! count of pages is bounded.

use job::bill::BillKind;
use job::defaults::starting_books;
use job::demo::demo;
use job::{Job, Private};
use plan::Plan;
use proptest::prelude::*;
use serde_json::Value;

use crate::doc::{Doc, MARGIN};
use crate::marks::{At, Group, Mark, Tag};
use crate::source::Source;
use crate::{Clock, PaperSize, Sheet, Units};

/// Rounding in mm.
const SLACK: f64 = 0.01;

/// A rectangle in mm.
#[derive(Clone, Copy, Debug)]
pub struct Extent {
    /// Left end.
    pub left: f64,
    /// Upper end.
    pub top: f64,
    /// Right end.
    pub right: f64,
    /// Lower end.
    pub bottom: f64,
}

/// What a mark covers. Letters count from the height of their capitals to the depth of a comma.
pub fn extent(mark: &Mark) -> Extent {
    match mark {
        Mark::Text {
            at, width, style, ..
        } => Extent {
            left: at.x,
            top: at.y - 0.70 * style.em(),
            right: at.x + width,
            bottom: at.y + 0.15 * style.em(),
        },
        Mark::Rule {
            from,
            to,
            thickness,
            ..
        } => around(&[*from, *to], thickness / 2.0),
        Mark::Frame {
            at, width, height, ..
        }
        | Mark::Picture {
            at, width, height, ..
        } => around(&[*at, at.by(*width, *height)], 0.0),
        Mark::Tick { at, side } => around(&[*at, at.by(*side, *side)], 0.0),
        Mark::Balloon { at, radius, .. } => around(&[*at], *radius),
        Mark::Path {
            points, thickness, ..
        } => around(points, thickness / 2.0),
    }
}

fn around(points: &[At], more: f64) -> Extent {
    let low = |f: fn(&At) -> f64| points.iter().map(f).fold(f64::INFINITY, f64::min);
    let high = |f: fn(&At) -> f64| points.iter().map(f).fold(f64::NEG_INFINITY, f64::max);
    Extent {
        left: low(|p| p.x) - more,
        top: low(|p| p.y) - more,
        right: high(|p| p.x) + more,
        bottom: high(|p| p.y) + more,
    }
}

/// What is wrong with the pages: marks outside the margins, and texts that lie over each other or over a box.
pub fn faults(doc: &Doc, size: PaperSize) -> Vec<String> {
    let mut out = Vec::new();
    for (number, page) in doc.pages.iter().enumerate() {
        let number = number + 1;
        for mark in page.iter().flat_map(|g| &g.marks) {
            let e = extent(mark);
            let inside = e.left >= MARGIN - 0.5
                && e.right <= size.width() - MARGIN + 0.5
                && e.top >= MARGIN - 0.5
                && e.bottom <= size.height() - MARGIN + 0.5;
            if !inside {
                out.push(format!("page {number}: outside the margins: {mark:?}"));
            }
        }
        out.extend(
            overlaps(page)
                .into_iter()
                .map(|f| format!("page {number}: {f}")),
        );
    }
    out
}

/// Pictures are left out: their balloons lie over each other on purpose.
fn overlaps(page: &[Group]) -> Vec<String> {
    let drawn = page.iter().filter(|g| !matches!(g.tag, Tag::Figure(_)));
    let solid: Vec<(&Mark, Extent)> = drawn
        .flat_map(|g| &g.marks)
        .filter(|m| match m {
            Mark::Text { width, .. } => *width > 0.2,
            Mark::Tick { .. } => true,
            _ => false,
        })
        .map(|m| (m, extent(m)))
        .collect();
    let mut out = Vec::new();
    for (index, (a_mark, a)) in solid.iter().enumerate() {
        for (b_mark, b) in solid.iter().skip(index + 1) {
            let apart = a.right <= b.left + SLACK
                || b.right <= a.left + SLACK
                || a.bottom <= b.top + SLACK
                || b.bottom <= a.top + SLACK;
            if !apart {
                out.push(format!("over each other: {a_mark:?} and {b_mark:?}"));
            }
        }
    }
    out
}

pub fn drawn(job: &Job, private: Option<&Private>, plan: &Plan, sheet: &Sheet) -> [Doc; 2] {
    let source = Source::new(job, plan, sheet);
    let signed = private.map(|p| p.signatures.clone()).unwrap_or_default();
    [
        crate::client::draw(&source, private, &signed).unwrap(),
        crate::crew::draw(&source).unwrap(),
    ]
}

/// Labels, shopping list, and where there is money the bills.
pub fn drawn_besides(job: &Job, private: Option<&Private>, plan: &Plan, sheet: &Sheet) -> Vec<Doc> {
    let source = Source::new(job, plan, sheet);
    let mut all = vec![
        crate::labels::draw(&source).unwrap(),
        crate::shopping::draw(&source).unwrap(),
    ];
    let (Some(private), Some(price)) = (private, &plan.price) else {
        return all;
    };
    for kind in [BillKind::Quote, BillKind::Deposit, BillKind::Invoice] {
        let asked = plan::bill::Asked {
            kind,
            day: "2027-05-20",
            ..Default::default()
        };
        let own = job::books::Own {
            name: job.name.clone(),
            bank: job.name.clone(),
            ..sheet.own.clone()
        };
        let (bill, _) = plan::bill::bill(job, private, price, &own, &asked).unwrap();
        all.push(crate::bill::draw(&bill, sheet).unwrap());
    }
    all
}

fn check(job: &Job, private: Option<&Private>, plan: &Plan, sheet: &Sheet, most: usize) {
    let docs = drawn(job, private, plan, sheet).into_iter();
    for doc in docs.chain(drawn_besides(job, private, plan, sheet)) {
        let faults = faults(&doc, sheet.size);
        assert!(
            faults.is_empty(),
            "{}",
            faults[..faults.len().min(5)].join("\n")
        );
        assert!(doc.pages.len() <= most, "{} pages", doc.pages.len());
        crate::svg::tests::check(&doc, sheet.size);
    }
}

fn example() -> (Job, Private) {
    demo(&starting_books(), "2027-06-12")
}

fn sheet(size: PaperSize, units: Units, clock: Clock) -> Sheet {
    Sheet {
        size,
        units,
        clock,
        language: "en-GB".into(),
        made_on: "2027-05-20 09:00".into(),
        ..Sheet::default()
    }
}

#[test]
fn the_demo_fits_both_sizes_and_both_systems() {
    let (job, private) = example();
    let plan = plan::plan(&job, Some(&private));
    for size in [PaperSize::A4, PaperSize::Letter] {
        for (units, clock) in [(Units::Metric, Clock::H24), (Units::Us, Clock::H12)] {
            check(&job, Some(&private), &plan, &sheet(size, units, clock), 20);
        }
    }
}

/// Long names and remarks, a scrawl of thousands of points, one that cannot be read: the appendix stays within its pages.
#[test]
fn signed_hand_overs_fit() {
    let (job, mut private) = example();
    let plan = plan::plan(&job, Some(&private));
    let scrawl: Vec<String> = (0..4000)
        .map(|i| format!("{} {}", i * 37 % 3001, i * 91 % 1001))
        .collect();
    for (id, strokes) in [
        ("a", scrawl.join(" ")),
        ("b", "7 7".into()),
        ("c", "x".into()),
    ] {
        let signature = job::day::Signature {
            name: "Mara Lindqvist of the Old Harbour Hall and its friends ".repeat(4),
            remarks: "The left end hangs a little low. ".repeat(60),
            strokes,
            order: id.into(),
            ..job::day::Signature::default()
        };
        private.signatures.insert(id.into(), signature);
    }
    for size in [PaperSize::A4, PaperSize::Letter] {
        let sheet = sheet(size, Units::Metric, Clock::H24);
        check(&job, Some(&private), &plan, &sheet, 20);
    }
}

/// The jobs that were worked out by hand.
fn worked_by_hand() -> [(Job, Private); 4] {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../tests/jobs");
    ["fiftieth", "garden", "hall", "overnight"].map(|name| {
        let read = |part: &str| {
            std::fs::read_to_string(folder.join(format!("{name}.{part}.json"))).unwrap()
        };
        let job = serde_json::from_str(&read("job")).unwrap();
        (job, serde_json::from_str(&read("private")).unwrap())
    })
}

/// The lines to sign on once stood alone on the last page of the client summary and of the quote, and what a long list left over
/// stood alone on a page between.
#[test]
fn the_client_signs_under_the_sum() {
    let (job, mut private) = example();
    private.prices.discount_pct = 5;
    private.prices.terms = "We put everything up and take it down. Moving it costs extra.".into();
    private.client.address = "The Boathouse\nMill Lane 4\nEllerwater EW1 1AA".into();
    let mut jobs = worked_by_hand().to_vec();
    jobs.push((job, private));
    for (job, private) in &jobs {
        let plan = plan::plan(job, Some(private));
        for size in [PaperSize::A4, PaperSize::Letter] {
            let sheet = sheet(size, Units::Metric, Clock::H24);
            let [summary, _] = drawn(job, Some(private), &plan, &sheet);
            let pages = crate::marks::listing(&summary.pages);
            assert_eq!(pages.len(), 2, "{}", job.name);
            assert!(pages[1].contains("To pay") && pages[1].contains("Agreed"));
            let besides = drawn_besides(job, Some(private), &plan, &sheet);
            let quote = crate::marks::listing(&besides[2].pages);
            let last = quote.last().unwrap();
            assert!(last.contains("In all") && last.contains("Agreed, for the client"));
        }
    }
}

/// The strike on the day after once stood alone on a second page of the call sheet. Now the sheet is one page, and on Letter, which is
/// shorter, the whole second day with its drives stands on the other.
#[test]
fn a_short_day_is_one_call_sheet() {
    let [_, _, (mut job, private), _] = worked_by_hand();
    // all in one trip
    job.vehicle.length_mm = 3000;
    let plan = plan::plan(&job, Some(&private));
    let day = [
        "Drive to take down",
        "Take everything down",
        "Drive home after",
    ];
    for (size, clock, on) in [
        (PaperSize::A4, Clock::H24, 0),
        (PaperSize::Letter, Clock::H12, 1),
    ] {
        let sheet = sheet(size, Units::Metric, clock);
        let [_, crew] = drawn(&job, Some(&private), &plan, &sheet);
        let pages = crate::marks::listing(&crew.pages);
        for work in day {
            assert!(pages[on].contains(work), "{}", pages[on]);
        }
        assert!(
            pages[on + 1].starts_with("Packing list"),
            "{}",
            pages[on + 1]
        );
    }
}

#[test]
fn the_jobs_worked_by_hand_fit() {
    for (job, private) in worked_by_hand() {
        let plan = plan::plan(&job, Some(&private));
        for size in [PaperSize::A4, PaperSize::Letter] {
            let sheet = sheet(size, Units::Metric, Clock::H24);
            check(&job, Some(&private), &plan, &sheet, 40);
        }
    }
}

#[test]
fn the_check_sees_what_it_should() {
    let (job, private) = example();
    let plan = plan::plan(&job, Some(&private));
    let a4 = sheet(PaperSize::A4, Units::Metric, Clock::H24);
    let [mut doc, _] = drawn(&job, Some(&private), &plan, &a4);
    let first = doc.pages[0][0].clone();
    doc.pages[0].push(first.by(3.0, 0.0));
    doc.pages[0].push(first.by(0.0, 280.0));
    let found = faults(&doc, a4.size);
    assert!(found.iter().any(|f| f.contains("over each other")));
    assert!(found.iter().any(|f| f.contains("outside the margins")));
}

#[test]
fn a_job_without_anything_prints() {
    let job = Job::default();
    let plan = plan::plan(&job, None);
    check(
        &job,
        None,
        &plan,
        &sheet(PaperSize::A4, Units::Metric, Clock::H24),
        20,
    );
    let nothing = Plan::default();
    check(
        &job,
        None,
        &nothing,
        &sheet(PaperSize::Letter, Units::Us, Clock::H12),
        6,
    );
}

#[test]
fn a_hundred_kilobytes_without_a_space_print_in_full() {
    let (mut job, mut private) = example();
    let word = "w".repeat(100_000);
    job.venue.house_rules.clone_from(&word);
    private.prices.terms.clone_from(&word);
    job.name.clone_from(&word);
    let plan = plan::plan(&job, Some(&private));
    let a4 = sheet(PaperSize::A4, Units::Metric, Clock::H24);
    let [client, crew] = drawn(&job, Some(&private), &plan, &a4);
    for (doc, most, copies) in [(client, 150, 2), (crew, 170, 1)] {
        let found = faults(&doc, a4.size);
        assert!(found.is_empty(), "{}", found[0]);
        assert!(doc.pages.len() < most, "{} pages", doc.pages.len());
        let letters: usize = doc
            .pages
            .iter()
            .flatten()
            .flat_map(|g| &g.marks)
            .map(|m| match m {
                Mark::Text { text, .. } => text.chars().filter(|c| *c == 'w').count(),
                _ => 0,
            })
            .sum();
        assert!(letters >= copies * 100_000, "{letters} letters printed");
    }
}

#[test]
fn twenty_pieces_and_long_names_fit() {
    let (mut job, private) = example();
    let arch = job.pieces["arch"].clone();
    for n in 0..17 {
        let mut piece = arch.clone();
        piece.name = format!("{n} Garland on the stair of honour beside the great northern window");
        piece.on = String::new();
        piece.order = format!("a{n:02}");
        job.pieces.insert(format!("more{n:02}"), piece);
    }
    let plan = plan::plan(&job, Some(&private));
    check(
        &job,
        Some(&private),
        &plan,
        &sheet(PaperSize::A4, Units::Metric, Clock::H24),
        200,
    );
}

/// Words of many kinds: plain, long, right-to-left, emoji with joiners, marks upon marks, breaks, controls.
fn any_text() -> impl Strategy<Value = String> {
    let part = prop_oneof![
        "[a-zA-Z ,.-]{0,40}",
        "\\PC{0,12}",
        ".{0,12}",
        Just("\n".to_string()),
        Just("\r\n\t".to_string()),
        Just("👩‍👩‍👧‍👦🎈".to_string()),
        Just("שלום עולם".to_string()),
        Just("مرحبا".to_string()),
        Just("e\u{301}\u{301}\u{301}".to_string()),
        Just("\u{202e}\u{0}\u{feff}".to_string()),
        "[a-z]{60,200}",
        "[αβγδ ]{0,30}",
        "[А-Я ]{0,30}",
    ];
    prop::collection::vec(part, 0..5).prop_map(|parts| parts.concat())
}

/// Puts the next text in the place of every second string value.
fn scramble(value: &mut Value, texts: &[String], turn: &mut usize) {
    match value {
        Value::String(text) => {
            *turn += 1;
            if turn.is_multiple_of(2) {
                text.clone_from(&texts[*turn / 2 % texts.len()]);
            }
        }
        Value::Array(list) => list.iter_mut().for_each(|v| scramble(v, texts, turn)),
        Value::Object(map) => map.values_mut().for_each(|v| scramble(v, texts, turn)),
        _ => {}
    }
}

/// Puts the next number in the place of some; numbers of 32 bits get their share of it.
fn strain(value: &mut Value, key: &str, numbers: &[i64], turn: &mut usize) {
    match value {
        Value::Number(number) => {
            *turn += 1;
            if turn.is_multiple_of(3) {
                let new = numbers[*turn / 3 % numbers.len()];
                *number = if matches!(
                    key,
                    "line" | "card" | "first" | "clusters" | "samples" | "kinds" | "own"
                ) {
                    u32::try_from(new).unwrap_or(u32::MAX).into()
                } else {
                    new.into()
                };
            }
        }
        Value::Array(list) => list.iter_mut().for_each(|v| strain(v, key, numbers, turn)),
        Value::Object(map) => map
            .iter_mut()
            .for_each(|(k, v)| strain(v, k, numbers, turn)),
        _ => {}
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn texts_of_any_kind_stay_on_their_page(
        texts in prop::collection::vec(any_text(), 1..20),
        skip in 0_usize..2,
        letter in any::<bool>(),
    ) {
        let (job, private) = example();
        let mut turn = skip;
        let mut value = serde_json::to_value(&job).unwrap();
        scramble(&mut value, &texts, &mut turn);
        let job: Job = serde_json::from_value(value).unwrap();
        let mut value = serde_json::to_value(&private).unwrap();
        scramble(&mut value, &texts, &mut turn);
        let private: Private = serde_json::from_value(value).unwrap();
        let plan = plan::plan(&job, Some(&private));
        let size = if letter { PaperSize::Letter } else { PaperSize::A4 };
        check(&job, Some(&private), &plan, &sheet(size, Units::Metric, Clock::H24), 400);
    }

    #[test]
    fn numbers_of_any_size_stay_on_their_page(
        numbers in prop::collection::vec(prop_oneof![
            Just(0), Just(-1), Just(1), Just(i64::MAX), Just(i64::MIN), -1000..1000_i64, any::<i64>(),
        ], 1..12),
        us in any::<bool>(),
    ) {
        let (job, private) = example();
        let plan = plan::plan(&job, Some(&private));
        let mut value = serde_json::to_value(&plan).unwrap();
        strain(&mut value, "", &numbers, &mut 0);
        let plan: Plan = serde_json::from_value(value).unwrap();
        let (units, clock) = if us { (Units::Us, Clock::H12) } else { (Units::Metric, Clock::H24) };
        check(&job, Some(&private), &plan, &sheet(PaperSize::A4, units, clock), 60);
    }
}

//! Ten jobs that are hard to print, on both sheets: nothing is clipped, nothing lies over anything else, no line and no head stands alone,
//! and what is read from two metres is large enough.

#[path = "../tests/common/ten.rs"]
mod ten;

use plan::Plan;

use crate::doc::Doc;
use crate::layout_tests::{Extent, drawn, drawn_besides, extent, faults};
use crate::marks::{Group, Mark, Tag};
use crate::source::Source;
use crate::{Clock, PaperSize, Sheet, Units};
use ten::{Hard, ten};

/// Capitals of the typeface, of its size: IBM Plex Sans, `sCapHeight` 698 of 1000.
const CAPITAL_EM: f64 = 0.698;
/// Capitals that are read from two metres, mm. Common practice, no source.
const FAR_MM: f64 = 10.0;
/// Lines that a page has at least, apart from its head and foot.
const LEAST_LINES: usize = 3;

fn sheet(hard: &Hard, size: PaperSize) -> Sheet {
    let (units, clock) = if hard.us {
        (Units::Us, Clock::H12)
    } else {
        (Units::Metric, Clock::H24)
    };
    Sheet {
        size,
        units,
        clock,
        own: hard.own.clone(),
        language: "en-GB".into(),
        made_on: "2027-05-20 09:00".into(),
        ..Sheet::default()
    }
}

fn docs(hard: &Hard, plan: &Plan, sheet: &Sheet) -> Vec<Doc> {
    let private = Some(&hard.private);
    let mut all = drawn(&hard.job, private, plan, sheet).to_vec();
    all.extend(drawn_besides(&hard.job, private, plan, sheet));
    all
}

/// What is read: neither heads of later pages, feet nor rules.
fn content(page: &[Group]) -> impl Iterator<Item = &Group> {
    page.iter()
        .filter(|g| g.tag != Tag::Artifact && !g.marks.is_empty())
}

fn baselines(page: &[Group]) -> usize {
    let marks = content(page).flat_map(|g| &g.marks);
    let mut lines: Vec<i64> = marks
        .filter_map(|m| match m {
            Mark::Text { at, .. } => Some((at.y * 10.0).round() as i64),
            _ => None,
        })
        .collect();
    lines.sort_unstable();
    lines.dedup();
    lines.len()
}

/// What all marks of a group cover.
fn whole(group: &Group) -> Extent {
    let none = Extent {
        left: f64::INFINITY,
        top: f64::INFINITY,
        right: f64::NEG_INFINITY,
        bottom: f64::NEG_INFINITY,
    };
    group.marks.iter().map(extent).fold(none, |a, b| Extent {
        left: a.left.min(b.left),
        top: a.top.min(b.top),
        right: a.right.max(b.right),
        bottom: a.bottom.max(b.bottom),
    })
}

/// Pages with next to nothing on them, and heads under which nothing stands.
fn lonely(doc: &Doc) -> Vec<String> {
    let mut out = Vec::new();
    for (index, page) in doc.pages.iter().enumerate() {
        let number = index + 1;
        let begins = page.iter().any(|g| g.tag == Tag::H1);
        if !begins && baselines(page) < LEAST_LINES {
            out.push(format!("page {number}: a line stands alone"));
        }
        let all: Vec<(&Group, Extent)> = content(page).map(|g| (g, whole(g))).collect();
        for (_, head) in all.iter().filter(|(g, _)| g.tag == Tag::H2) {
            let under = all.iter().any(|(_, g)| {
                g.bottom > head.bottom + 1.0 && g.left < head.right && g.right > head.left
            });
            if !under {
                out.push(format!("page {number}: nothing stands under a head"));
            }
        }
    }
    out
}

#[test]
fn ten_hard_jobs_print_whole() {
    let mut wrong = Vec::new();
    for hard in ten() {
        let plan = plan::plan(&hard.job, Some(&hard.private));
        for size in [PaperSize::A4, PaperSize::Letter] {
            let sheet = sheet(&hard, size);
            for (n, doc) in docs(&hard, &plan, &sheet).iter().enumerate() {
                let found = faults(doc, size).into_iter().chain(lonely(doc));
                wrong.extend(found.map(|f| format!("{}, {size:?}, paper {n}, {f}", hard.name)));
                assert!(doc.pages.len() <= 90, "{} pages", doc.pages.len());
                crate::svg::tests::check(doc, size);
                assert!(
                    doc.pen.missing.is_empty() || hard.lacks_letters,
                    "{}",
                    hard.name
                );
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} faults:\n{}",
        wrong.len(),
        wrong[..wrong.len().min(20)].join("\n")
    );
}

#[test]
fn lonely_lines_are_seen() {
    let hard = &ten()[0];
    let plan = plan::plan(&hard.job, Some(&hard.private));
    let mut doc = docs(hard, &plan, &sheet(hard, PaperSize::A4)).swap_remove(1);
    assert_eq!(lonely(&doc), Vec::<String>::new());
    let head = doc.pages.iter().flatten().find(|g| g.tag == Tag::H2);
    let head = head.expect("a head").clone();
    doc.pages.push(vec![head]);
    let found = lonely(&doc).join(" ");
    assert!(found.contains("a line stands alone") && found.contains("under a head"));
}

fn texts(doc: &Doc) -> Vec<&str> {
    let marks = doc.pages.iter().flatten().flat_map(|g| &g.marks);
    let texts = marks.filter_map(|m| match m {
        Mark::Text { text, .. } => Some(text.as_str()),
        _ => None,
    });
    texts.collect()
}

/// "€ 14,600,942,920." once stood over "00".
#[test]
fn no_amount_is_torn_apart() {
    for hard in ten() {
        let plan = plan::plan(&hard.job, Some(&hard.private));
        let price = plan.price.clone().unwrap();
        for size in [PaperSize::A4, PaperSize::Letter] {
            let sheet = sheet(&hard, size);
            let client = docs(&hard, &plan, &sheet).swap_remove(0);
            let mut amounts: Vec<i64> = price.lines.iter().map(|l| l.cents).collect();
            amounts.push(price.gross_cents);
            let parts = plan::bill::payments(&hard.private, &price);
            let many = hard.private.instalments.len() + 1;
            amounts.extend(parts.iter().take(many).map(|p| p.cents));
            let found = texts(&client);
            for cents in amounts {
                let amount = crate::say::money(cents, &price.currency);
                let whole = found.iter().any(|t| t.trim() == amount);
                assert!(whole, "{}: {amount} is not in one piece", hard.name);
            }
        }
    }
}

/// What we need from the venue once ran on to a page of its own, and a page of a bill was left half empty before its sums.
#[test]
fn clients_get_no_more_pages_than_they_need() {
    for hard in ten() {
        let plan = plan::plan(&hard.job, Some(&hard.private));
        let most = match hard.name {
            "twenty pieces with long names" => 4,
            "huge sums" | "in dinars, on Letter" => 3,
            "many doors, hands and remarks, on Letter" => 3,
            _ => 2,
        };
        let size = if hard.us {
            PaperSize::Letter
        } else {
            PaperSize::A4
        };
        let client = docs(&hard, &plan, &sheet(&hard, size)).swap_remove(0);
        let pages = client.pages.len();
        assert!(pages <= most, "{}: {pages} pages", hard.name);
    }
}

/// "This price is good for 14 days" once stood alone on the page after the price.
#[test]
fn how_long_a_price_is_good_stands_under_it() {
    for hard in ten() {
        let plan = plan::plan(&hard.job, Some(&hard.private));
        let gross = plan.price.as_ref().unwrap();
        let gross = crate::say::money(gross.gross_cents, &gross.currency);
        let client = docs(&hard, &plan, &sheet(&hard, PaperSize::A4)).swap_remove(0);
        let page = |what: &str| {
            let with = client.pages.iter().position(|page| {
                let marks = page.iter().flat_map(|g| &g.marks);
                let mut texts = marks.filter_map(|m| match m {
                    Mark::Text { text, .. } => Some(text),
                    _ => None,
                });
                texts.any(|t| t.contains(what))
            });
            with.unwrap()
        };
        assert_eq!(page("This price is good"), page(&gross), "{}", hard.name);
    }
}

/// Two labels once both said "1 The stair of honour beside the great norther…".
#[test]
fn labels_say_which_length_is_inside() {
    for hard in ten() {
        let plan = plan::plan(&hard.job, Some(&hard.private));
        for size in [PaperSize::A4, PaperSize::Letter] {
            let sheet = sheet(&hard, size);
            let doc = crate::labels::draw(&Source::new(&hard.job, &plan, &sheet)).unwrap();
            let found = texts(&doc);
            for parcel in &plan.load.parcels {
                let Some((_, part)) = parcel.name.rsplit_once(", ") else {
                    continue;
                };
                assert!(found.iter().any(|t| t.ends_with(part)), "{part}");
            }
            let soft = plan.load.parcels.iter().filter(|p| p.soft).count();
            let told = found.iter().filter(|t| t.contains("only bags on top"));
            assert_eq!(told.count(), soft, "{}", hard.name);
        }
    }
}

/// Codes on labels are read from two metres: their capitals are 10 mm high or more.
#[test]
fn codes_on_labels_are_read_from_two_metres() {
    for hard in ten() {
        let plan = plan::plan(&hard.job, Some(&hard.private));
        let sheet = sheet(&hard, PaperSize::A4);
        let source = Source::new(&hard.job, &plan, &sheet);
        let doc = crate::labels::draw(&source).unwrap();
        assert!(!plan.load.parcels.is_empty());
        for parcel in &plan.load.parcels {
            let marks = doc.pages.iter().flatten().flat_map(|g| &g.marks);
            let high = marks.filter_map(|m| match m {
                Mark::Text { text, style, .. } if *text == parcel.code => {
                    Some(style.em() * CAPITAL_EM)
                }
                _ => None,
            });
            let most = high.fold(0.0, f64::max);
            assert!(most >= FAR_MM, "{}, {}: {most} mm", hard.name, parcel.code);
        }
    }
}

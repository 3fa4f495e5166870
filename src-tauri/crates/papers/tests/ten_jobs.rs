//! Ten jobs that are hard to print, put before qpdf; the files lie in the folder of the tests, to be looked at.

#![allow(clippy::expect_used, reason = "a test that cannot go on must stop")]

#[path = "common/ten.rs"]
mod ten;

use std::path::Path;
use std::process::Command;

use job::bill::{Bill, BillKind, KeptBill};
use papers::{Clock, Paper, PaperSize, Sheet, Units};
use plan::bill::Asked;
use ten::{Hard, ten};

fn papers(hard: &Hard) -> Vec<(&'static str, Paper)> {
    let (job, private) = (&hard.job, &hard.private);
    let mut issued = private.clone();
    let mut sheet = Sheet {
        made_on: "2027-05-20 09:00".into(),
        pdf_date: "D:20270520090000+00'00'".into(),
        language: "en-GB".into(),
        own: hard.own.clone(),
        ..Sheet::default()
    };
    if hard.us {
        (sheet.size, sheet.units, sheet.clock) = (PaperSize::Letter, Units::Us, Clock::H12);
    }
    let plan = plan::plan(job, Some(private));
    let mut all = vec![
        (
            "client-summary",
            papers::client_summary(job, Some(private), &private.signatures, &plan, &sheet),
        ),
        ("crew-pack", papers::crew_pack(job, &plan, &sheet)),
        ("labels", papers::labels(job, &plan, &sheet)),
        ("shopping-list", papers::shopping_list(job, &plan, &sheet)),
    ];
    let price = plan.price.clone().expect("a price");
    for (name, kind) in [
        ("quote", BillKind::Quote),
        ("deposit-invoice", BillKind::Deposit),
        ("invoice", BillKind::Invoice),
        ("credit-note", BillKind::Credit),
    ] {
        let asked = Asked {
            kind,
            of: if kind == BillKind::Credit {
                "invoice"
            } else {
                ""
            },
            day: "2027-05-20",
            ..Asked::default()
        };
        let made = plan::bill::bill(job, &issued, &price, &hard.own, &asked);
        let bill = Bill {
            number: format!("2027-{:04}", 40 + all.len()),
            ..made.expect("a bill").0
        };
        let kept = KeptBill {
            kind,
            number: bill.number.clone(),
            content: serde_json::to_string(&bill).expect("plain data"),
            ..KeptBill::default()
        };
        issued.bills.insert(name.into(), kept);
        all.push((name, papers::bill_paper(&bill, &sheet)));
    }
    all.into_iter()
        .map(|(name, paper)| (name, paper.expect("a paper")))
        .collect()
}

// The judge is qpdf, which reads the file by ISO 32000-1 on its own.
#[test]
fn ten_hard_jobs_are_sound_files() {
    for hard in ten() {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR"))
            .join("ten")
            .join(hard.name);
        std::fs::create_dir_all(&folder).expect("the folder for tests can be written");
        for (name, paper) in papers(&hard) {
            let path = folder.join(format!("{name}.pdf"));
            std::fs::write(&path, &paper.pdf).expect("the folder for tests can be written");
            assert!(
                paper.text.iter().all(|page| !page.trim().is_empty()),
                "{}, {name}",
                hard.name
            );
            let codes: Vec<&str> = paper.findings.iter().map(|f| f.code.as_str()).collect();
            assert!(
                codes.is_empty() || (hard.lacks_letters && codes == ["paper_letters"]),
                "{}, {name}: {codes:?}",
                hard.name
            );
            match Command::new("qpdf").arg("--check").arg(&path).output() {
                Ok(out) => assert!(
                    out.status.success(),
                    "{}, {name}: {}",
                    hard.name,
                    String::from_utf8_lossy(&out.stdout)
                ),
                Err(_) => println!("not run: qpdf absent"),
            }
        }
    }
}

//! The papers of the demo job, put before programs that know PDF, and compared with kept text.

use std::path::{Path, PathBuf};
use std::process::Command;

use job::defaults::starting_books;
use job::demo::demo;
use job::{Job, Private};
use papers::{Paper, Sheet, client_summary, crew_pack};

fn sheet() -> Sheet {
    let mut sheet = Sheet {
        made_on: "2027-05-20 09:00".into(),
        pdf_date: "D:20270520090000+00'00'".into(),
        language: "en-GB".into(),
        ..Sheet::default()
    };
    sheet.own.name = "Maud Kestrel, balloon décor".into();
    sheet.own.address = "3 Chandler Yard, Ellerwater".into();
    sheet.own.phone = "01632 960 771".into();
    sheet.own.email = "maud@example.org".into();
    sheet
}

fn job() -> (Job, Private) {
    demo(&starting_books(), "2027-06-12")
}

fn papers() -> Vec<(&'static str, Paper)> {
    let (job, private) = job();
    let plan = plan::plan(&job, Some(&private));
    let sheet = sheet();
    vec![
        (
            "client-summary",
            client_summary(&job, Some(&private), &plan, &sheet).unwrap(),
        ),
        ("crew-pack", crew_pack(&job, &plan, &sheet).unwrap()),
    ]
}

fn written(name: &str, bytes: &[u8]) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::write(&path, bytes).unwrap();
    path
}

#[test]
fn written_for_the_eye() {
    for (name, paper) in papers() {
        written(&format!("{name}.pdf"), &paper.pdf);
        println!(
            "{name}: {} pages, {} bytes",
            paper.text.len(),
            paper.pdf.len()
        );
    }
    let _ = Command::new("true");
}

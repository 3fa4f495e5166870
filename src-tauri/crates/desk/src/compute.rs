//! Commands that need no store: plans and papers.

use std::sync::Mutex;

use job::{Finding, Job, Private};
use papers::{Clock, PaperSize, Sheet, Units};
use plan::{Depth, Memory};

use crate::fault::Fault;
use crate::names::file_name;
use crate::views::{
    MakePaper, MeasuredPiece, PaperKind, PaperMade, PieceOfJob, PlanJob, SheetSize,
};

/// Packings that were made before: an edit of the times packs nothing again. A worker that is ended forgets them.
static MEMORY: Mutex<Option<Memory>> = Mutex::new(None);

/// The plan of a job, with the packings that are remembered.
pub(crate) fn planned(job: &Job, private: Option<&Private>, depth: Depth) -> plan::Plan {
    // a panic in another call leaves the lock poisoned and the memory whole: entries are put in when they are done
    let mut memory = MEMORY
        .lock()
        .unwrap_or_else(std::sync::PoisonError::into_inner);
    plan::plan_at(job, private, depth, memory.get_or_insert_default())
}

pub(crate) fn plan(args: PlanJob) -> Result<plan::Plan, Fault> {
    Ok(planned(
        &args.job,
        args.private.as_ref(),
        args.depth.unwrap_or_default(),
    ))
}

pub(crate) fn calibrate(args: MeasuredPiece) -> Result<plan::calibrate::Calibrated, Fault> {
    plan::calibrate::calibrate(&args.job, &args.piece, args.length_mm, args.width_mm).ok_or_else(
        || {
            Fault::new(
                "not_measured",
                "This piece is no garland, or a measure is missing.",
                "Choose a garland, and enter its length and its width.",
            )
        },
    )
}

pub(crate) fn length_from_shelf(
    args: PieceOfJob,
) -> Result<plan::stock_length::ShelfLength, Fault> {
    plan::stock_length::from_shelf(&args.job, &args.piece).ok_or_else(|| {
        Fault::new(
            "no_such_piece",
            "This piece is not a garland of the job.",
            "Choose a garland in Design.",
        )
    })
}

pub(crate) fn paper(args: MakePaper, _: &[u8]) -> Result<(PaperMade, Vec<u8>), Fault> {
    let plan = planned(&args.job, args.private.as_ref(), Depth::Final);
    let sheet = sheet(&args);
    let made = match args.kind {
        PaperKind::ClientSummary => {
            papers::client_summary(&args.job, args.private.as_ref(), &plan, &sheet)
        }
        PaperKind::CrewPack => papers::crew_pack(&args.job, &plan, &sheet),
        PaperKind::OrderCsv => {
            let table = papers::order_csv(&args.job, &plan);
            return Ok((
                made_as(&args, "text/csv", ".csv", 0, Vec::new()),
                table.into_bytes(),
            ));
        }
    };
    let paper = made.map_err(|error| Fault::new(error.code, error.message, error.hint))?;
    let pages = i64::try_from(paper.text.len()).unwrap_or(i64::MAX);
    Ok((
        made_as(&args, "application/pdf", ".pdf", pages, paper.findings),
        paper.pdf,
    ))
}

fn sheet(args: &MakePaper) -> Sheet {
    let zone = &args.job.venue.zone;
    // the clock of the venue; of UTC if the zone is unknown
    let local = job::time::local(args.made_ms, zone)
        .or_else(|| job::time::local(args.made_ms, "UTC"))
        .unwrap_or_default();
    Sheet {
        size: match args.size {
            SheetSize::A4 => PaperSize::A4,
            SheetSize::Letter => PaperSize::Letter,
        },
        pdf_date: pdf_date(args.made_ms),
        made_on: local.replace('T', " "),
        language: args.language.clone(),
        units: if args.us_units {
            Units::Us
        } else {
            Units::Metric
        },
        clock: if args.twelve_hours {
            Clock::H12
        } else {
            Clock::H24
        },
        own: args.own.clone(),
    }
}

/// `D:YYYYMMDDHHMMSS+00'00'`, as ISO 32000-1 §7.9.4 writes a date.
fn pdf_date(ms: i64) -> String {
    let local = job::time::local(ms, "UTC").unwrap_or_default();
    let digits: String = local.chars().filter(char::is_ascii_digit).collect();
    format!("D:{digits}00+00'00'")
}

fn made_as(
    args: &MakePaper,
    mime: &str,
    ending: &str,
    pages: i64,
    findings: Vec<Finding>,
) -> PaperMade {
    let word = match args.kind {
        PaperKind::ClientSummary => "summary",
        PaperKind::CrewPack => "crew pack",
        PaperKind::OrderCsv => "order",
    };
    PaperMade {
        name: file_name(&format!("{} {word}", args.job.name), word, ending),
        mime: mime.into(),
        pages,
        findings,
    }
}

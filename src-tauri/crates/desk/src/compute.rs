//! Commands that need no store: plans and papers.

use std::sync::Mutex;

use job::{Finding, Job, Private};
use papers::{Clock, PaperSize, Sheet, Units};
use plan::{Depth, Memory};

use crate::fault::Fault;
use crate::names::file_name;
use crate::views::{
    MakePaper, MeasuredPiece, PaperKind, PaperMade, PaperPart, PaperShown, PieceOfJob, PlanJob,
    SheetSize, StartingValues,
};

/// Packings that were made before: an edit of the times packs nothing again. A worker that is ended forgets them.
static MEMORY: Mutex<Option<Memory>> = Mutex::new(None);

/// The plan of a job, with the packings that are remembered.
pub(crate) fn planned(job: &Job, private: Option<&Private>, depth: Depth) -> plan::Plan {
    with_memory(|memory| plan::plan_at(job, private, depth, memory))
}

/// Work that may use the packings that are remembered.
pub(crate) fn with_memory<T>(work: impl FnOnce(&mut Memory) -> T) -> T {
    // a panic in another call leaves the lock poisoned and the memory whole: entries are put in when they are done
    let mut memory = MEMORY
        .lock()
        .unwrap_or_else(std::sync::PoisonError::into_inner);
    work(memory.get_or_insert_default())
}

pub(crate) fn plan(args: PlanJob) -> Result<plan::Plan, Fault> {
    Ok(planned(
        &args.job,
        args.private.as_ref(),
        args.depth.unwrap_or_default(),
    ))
}

pub(crate) fn starting_values((): ()) -> Result<StartingValues, Fault> {
    Ok(StartingValues {
        rates: job::stock::Rates::default(),
        rules: job::stock::Rules::default(),
    })
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
            let (private, signed) = (args.private.as_ref(), &args.signatures);
            papers::client_summary(&args.job, private, signed, &plan, &sheet)
        }
        PaperKind::CrewPack => papers::crew_pack(&args.job, &plan, &sheet),
        PaperKind::Labels => papers::labels(&args.job, &plan, &sheet),
        PaperKind::ShoppingList => papers::shopping_list(&args.job, &plan, &sheet),
        PaperKind::Calendar => {
            let asked = papers::CalendarAsked {
                id: args.id.as_deref().unwrap_or_default(),
                person: args.person.as_deref().unwrap_or_default(),
                made_ms: args.made_ms,
            };
            let text = papers::calendar(&args.job, &plan, &asked);
            return Ok((
                made_as(&args, "text/calendar", ".ics", 0, Vec::new()),
                text.into_bytes(),
            ));
        }
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
    let shown = shown(&paper, args.show);
    let made = made_as(&args, "application/pdf", ".pdf", pages, paper.findings);
    Ok((PaperMade { shown, ..made }, paper.pdf))
}

/// The pages for a screen, where they are asked for.
pub(crate) fn shown(paper: &papers::Paper, asked: bool) -> Option<PaperShown> {
    asked.then(|| PaperShown {
        pages: paper.shown(),
        parts: paper
            .parts()
            .map(|(title, page)| PaperPart {
                title: title.to_string(),
                page: i64::try_from(page).unwrap_or(i64::MAX),
            })
            .collect(),
    })
}

pub(crate) fn paper_size(size: SheetSize) -> PaperSize {
    match size {
        SheetSize::A4 => PaperSize::A4,
        SheetSize::Letter => PaperSize::Letter,
    }
}

/// By the clock of a zone; of UTC if the zone is unknown.
pub(crate) fn made_on(made_ms: i64, zone: &str) -> String {
    let local = job::time::local(made_ms, zone)
        .or_else(|| job::time::local(made_ms, "UTC"))
        .unwrap_or_default();
    local.replace('T', " ")
}

fn sheet(args: &MakePaper) -> Sheet {
    Sheet {
        size: paper_size(args.size),
        pdf_date: pdf_date(args.made_ms),
        made_on: made_on(args.made_ms, &args.job.venue.zone),
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
        now_ms: Some(args.made_ms),
    }
}

/// `D:YYYYMMDDHHMMSS+00'00'`, as ISO 32000-1 §7.9.4 writes a date.
pub(crate) fn pdf_date(ms: i64) -> String {
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
        PaperKind::Labels => "labels",
        PaperKind::ShoppingList => "shopping list",
        PaperKind::Calendar => "calendar",
    };
    let crew = args.person.as_ref().and_then(|id| args.job.crew.get(id));
    let whose = crew.map(|c| format!(" {}", c.name)).unwrap_or_default();
    PaperMade {
        name: file_name(&format!("{}{whose} {word}", args.job.name), word, ending),
        mime: mime.into(),
        pages,
        findings,
        shown: None,
    }
}

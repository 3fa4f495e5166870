//! The crew pack: everything that the crew carries, in the order in which it is used.

mod build_cards;
mod call_sheet;
mod cautions;
mod checklist;
mod cluster_cards;
mod load_drawing;
mod order_list;
mod packing_list;
mod sizing_sheet;
mod stringing;
mod wall_map;

pub use order_list::order_csv;

use job::Job;
use plan::Plan;
use plan::times::live::live;
use plan::times::retold;

use crate::doc::Doc;
use crate::source::Source;
use crate::{Paper, PaperError, Sheet, finished};

/// The crew pack: call sheet, packing list, load drawing, order list, sizing sheet, cluster and build cards, stringing order, checklists,
/// cautions. It holds nothing of the client's private data and no money. While the day runs, its times are those of the day.
pub fn crew_pack(job: &Job, plan: &Plan, sheet: &Sheet) -> Result<Paper, PaperError> {
    let day = sheet.now_ms.map(|now| live(job, plan, now));
    let day = day.filter(|d| d.running && !d.over);
    let told = day.as_ref().map(|day| retold(job, plan, day));
    let source = Source {
        day: day.as_ref(),
        ..Source::new(job, told.as_ref().unwrap_or(plan), sheet)
    };
    let doc = draw(&source)?;
    let title = format!("Crew pack: {}", source.name());
    finished(doc, &title, sheet)
}

/// The pages.
pub fn draw(source: &Source<'_>) -> Result<Doc, PaperError> {
    let mut doc = Doc::new(source.sheet.size)?;
    call_sheet::write(&mut doc, source);
    packing_list::write(&mut doc, source);
    load_drawing::write(&mut doc, source);
    order_list::write(&mut doc, source);
    sizing_sheet::write(&mut doc, source);
    cluster_cards::write(&mut doc, source);
    build_cards::write(&mut doc, source);
    stringing::write(&mut doc, source);
    checklist::studio(&mut doc, source);
    checklist::install(&mut doc, source);
    checklist::strike(&mut doc, source);
    cautions::write(&mut doc, source);
    doc.feet("Crew pack", source.sheet);
    Ok(doc)
}

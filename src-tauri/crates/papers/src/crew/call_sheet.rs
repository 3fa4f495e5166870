//! The call sheet: when to leave, who comes when, who does what, how to get in.

use std::collections::BTreeMap;

use job::live;
use job::site::{Door, PortalKind};
use plan::times::LateWhy;
use plan::times::live::{Going, Live};
use plan::types::Task;

use crate::doc::Doc;
use crate::flow::Block;
use crate::parts::{caution, figures, paragraph, section, titled};
use crate::say::{day, duration, numbered, plural};
use crate::source::Source;
use crate::style::{BODY, NOTE, QUANTITY};
use crate::table::{Cell, Table, fixed, share};

/// The column of the days of people is at least so wide, in mm: room for what stands there without a time.
const DAY_LEAST: f64 = 28.0;

/// The names of facts take so much at least, in mm.
const FACT: f64 = 26.0;

/// Least height of a row of the work in mm, and where the rows are set close.
const ROW: f64 = 8.4;
const ROW_CLOSE: f64 = 7.0;

/// Writes the sheet.
pub fn write(doc: &mut Doc, source: &Source<'_>) {
    doc.closer(|doc, close| set(doc, source, close));
}

fn set(doc: &mut Doc, source: &Source<'_>, close: bool) {
    let wide = doc.width();
    doc.begin(source.crew_head("Call sheet"));
    let strip = strip(source);
    if !strip.is_empty() {
        let block = figures(&mut doc.pen, wide, &strip, false);
        doc.place(&[block]);
    }
    let lines = match source.day {
        Some(day) => goes(source, day),
        None => [aimed(source), sure(source)]
            .into_iter()
            .flatten()
            .collect(),
    };
    for line in lines {
        let run = doc.pen.run(&line, NOTE);
        let block = paragraph(&doc.pen, wide, &[run], 2.0);
        doc.place(&[block]);
    }
    if let Some(first) = source.cautions().next() {
        let block = caution(&mut doc.pen, wide, "With care.", &first.text);
        doc.place(&[block.spaced(4.0)]);
    }
    let people = people(doc, source, wide);
    doc.place(&[people]);
    let half = doc.column(2);
    let there = there(doc, source, half);
    let access = access(doc, source, half);
    doc.place_beside(&there, &access, half + crate::doc::GUTTER);
    if let Some(rules) = source.long_rules() {
        let rules = titled(&mut doc.pen, wide, "House rules", rules);
        doc.place(&[rules]);
    }
    let work = work(doc, source, wide, close);
    doc.place(&work);
    let notes = notes(doc, source, wide);
    doc.place(&notes);
}

/// The times that everybody needs, the one to leave first.
fn strip(source: &Source<'_>) -> Vec<(String, String)> {
    let times = &source.job.times;
    let mut out = Vec::new();
    let mut add = |figure: Option<String>, word: &str| {
        if let Some(figure) = figure {
            out.push((figure, word.to_string()));
        }
    };
    add(source.instant(source.plan.figures.leave_by_ms), "leave by");
    add(source.agreed(&times.load_in), "load-in from");
    add(source.agreed(&times.ready_by), "ready by");
    add(source.agreed(&times.doors_open), "doors");
    add(source.agreed(&times.strike_from), "strike from");
    out
}

/// By when all is planned to stand, where that is earlier than what is agreed.
fn aimed(source: &Source<'_>) -> Option<String> {
    let times = &source.job.times;
    let aim = plan::times::aim(source.job).filter(|_| times.early_min > 0)?;
    Some(format!(
        "Planned to be over by {}, {} before the agreed ready-by: room for a slow day.",
        source.instant(Some(aim))?,
        duration(times.early_min.saturating_mul(60)),
    ))
}

/// How sure the finish is, in one line.
fn sure(source: &Source<'_>) -> Option<String> {
    let chance = source.plan.chance.as_ref()?;
    let days = match chance.ready_pm {
        995.. => "more than 99 days in 100".to_string(),
        ..5 => "less than 1 day in 100".to_string(),
        pm => format!(
            "about {}",
            plural((pm + 5) / 10, "day in 100", "days in 100")
        ),
    };
    Some(format!(
        "Ready in time on {days}. Handed over between {} and {} on eight days of ten.",
        source.say.time_ms(Some(chance.early_ms)),
        source.say.time_ms(Some(chance.late_ms)),
    ))
}

/// How the day goes: when all will stand, and why not when it was agreed.
fn goes(source: &Source<'_>, day: &Live) -> Vec<String> {
    let time = |ms| source.say.time_ms(Some(ms));
    let late = match day.late_s {
        Some(s @ 60..) => format!(", {} later than agreed", duration(s)),
        Some(s @ ..=-60) => format!(", {} before it is agreed", duration(-s)),
        Some(_) => ", as agreed".into(),
        None => String::new(),
    };
    let ready = match day.finish_ms {
        Some(ms) => format!("ready at {}{late}", time(ms)),
        None => "nobody is left for some of the work".into(),
    };
    let mut out = vec![format!(
        "The day as it stood at {}: {ready}. All times on this sheet are from then.",
        time(day.now_ms)
    )];
    out.extend(day.causes.iter().filter(|c| c.moves).map(|cause| {
        let (title, at) = (&cause.title, time(cause.at_ms));
        match cause.why {
            LateWhy::NotBegun => format!("{title}: was to begin at {at}."),
            LateWhy::Slow => format!("{title}: goes on until {at}."),
            LateWhy::Held => format!("{title}: not before {at}."),
            LateWhy::DoneLate => format!("{title}: was over only at {at}."),
        }
    }));
    if !day.without.is_empty() {
        out.push(format!("Nobody is left for: {}.", day.without.join(", ")));
    }
    out
}

/// What a task takes, or that it is done.
fn takes(source: &Source<'_>, task: &Task) -> String {
    let went = source
        .day
        .and_then(|d| d.tasks.iter().find(|t| t.task == task.id));
    match went.map(|w| w.going) {
        Some(Going::Done) => "done".into(),
        _ => duration(task.duration_s),
    }
}

fn people(doc: &mut Doc, source: &Source<'_>, wide: f64) -> Block {
    // the days stand on one line each
    let stretches = source.plan.calls.iter().flat_map(|c| &c.days);
    let days = stretches.filter_map(|s| source.say.local(s.start_ms));
    let widest = days
        .map(|at| doc.pen.width(&day(at), BODY))
        .fold(DAY_LEAST, f64::max);
    let table = Table::new(
        wide,
        &[
            share(1.1),
            share(0.9),
            fixed(widest + 0.5),
            fixed(42.0),
            fixed(16.0).right(),
        ],
    )
    .at_least(9.0);
    let mut rows = Vec::new();
    for call in &source.plan.calls {
        let mut days: Vec<(String, String)> = call
            .days
            .iter()
            .map(|stretch| {
                let on = source.say.local(stretch.start_ms);
                (
                    on.map(day).unwrap_or_default(),
                    format!(
                        "{} to {}",
                        source.say.time_ms(Some(stretch.start_ms)),
                        source.say.time_ms(Some(stretch.end_ms))
                    ),
                )
            })
            .collect();
        if days.is_empty() {
            days.push(("not needed yet".to_string(), String::new()));
        }
        for (index, (on, hours)) in days.into_iter().enumerate() {
            let pen = &mut doc.pen;
            let first = index == 0;
            let text = |pen: &mut crate::doc::Pen, t: &str, s| Cell::Text(vec![pen.run(t, s)]);
            rows.push(vec![
                if first {
                    text(pen, &call.name, BODY.bold())
                } else {
                    Cell::Empty
                },
                if first {
                    text(pen, &call.phone, BODY)
                } else {
                    Cell::Empty
                },
                text(pen, &on, BODY),
                text(pen, &hours, BODY.bold()),
                if first {
                    text(pen, &duration(call.work_s), BODY)
                } else {
                    Cell::Empty
                },
            ]);
        }
    }
    if rows.is_empty() {
        let none = doc.pen.run("Nobody is on this job yet.", BODY);
        rows.push(vec![Cell::Text(vec![none])]);
    }
    table.block(
        &mut doc.pen,
        "People",
        &["", "telephone", "day", "needed", "work"],
        rows,
    )
}

/// Where to go.
fn there(doc: &mut Doc, source: &Source<'_>, wide: f64) -> Vec<Block> {
    let job = source.job;
    let mut facts: Vec<(String, String)> = Vec::new();
    let mut add = |name: &str, text: String| {
        if !text.trim().is_empty() {
            facts.push((name.to_string(), text));
        }
    };
    add("Venue", job.venue.name.clone());
    add("Address", job.venue.address.clone());
    add("Ask for", job.venue.contact.clone());
    if job.drive.minutes > 0 {
        let mut way = duration(job.drive.minutes.saturating_mul(60));
        if job.drive.distance_hm > 0 {
            way = format!("{way}, {}", source.say.distance(job.drive.distance_hm));
        }
        add("Drive", way);
    }
    add("House rules", source.short_rules().to_string());
    vec![fact_block(doc, wide, "There", &facts)]
}

/// How to get in.
fn access(doc: &mut Doc, source: &Source<'_>, wide: f64) -> Vec<Block> {
    let job = source.job;
    let say = &source.say;
    let mut facts: Vec<(String, String)> = Vec::new();
    if job.venue.walk_m > 0 {
        facts.push((
            "Walk".into(),
            format!(
                "{} from the vehicle",
                say.length(job.venue.walk_m.saturating_mul(1000))
            ),
        ));
    }
    if job.venue.stair_steps > 0 {
        facts.push((
            "Stairs".into(),
            crate::say::plural(job.venue.stair_steps, "step", "steps"),
        ));
    }
    for (_, door) in live(&job.doors) {
        facts.push((door.name.clone(), on_the_way(source, door)));
    }
    if job.venue.ceiling_mm > 0 {
        facts.push(("Ceiling".into(), say.length(job.venue.ceiling_mm)));
    }
    vec![fact_block(doc, wide, "The way in", &facts)]
}

/// What a door, corner, lift or stair measures.
fn on_the_way(source: &Source<'_>, door: &Door) -> String {
    let say = &source.say;
    let [wide, high] = [door.width_mm, door.height_mm].map(|mm| say.length(mm));
    match door.kind {
        PortalKind::Corner => format!(
            "from {wide} wide into {} wide, {high} high",
            say.length(door.second_mm)
        ),
        PortalKind::Stair => {
            let landing = match door.landing_mm {
                0 => String::new(),
                mm => format!(", turns on {}", say.length(mm)),
            };
            format!("{wide} wide, {high} headroom{landing}")
        }
        PortalKind::Lift => {
            let load = match door.load_g {
                0 => String::new(),
                g => format!(", carries {}", say.mass(g)),
            };
            format!(
                "door {wide} wide, {high} high; car {}, {} high{load}",
                say.area(door.car_width_mm, door.car_depth_mm),
                say.length(door.car_height_mm)
            )
        }
        PortalKind::Door | PortalKind::Newer => format!("{wide} wide, {high} high"),
    }
}

/// Names and what is to be said of them.
fn fact_block(doc: &mut Doc, wide: f64, title: &str, facts: &[(String, String)]) -> Block {
    // long names of doors take more room
    let names = facts
        .iter()
        .map(|(name, _)| doc.pen.width(name, NOTE) + 1.0);
    let names = names.fold(FACT, f64::max).min(wide * 0.5);
    let table = Table::new(wide, &[fixed(names), share(1.0)]);
    let mut rows = Vec::new();
    for (name, text) in facts {
        let name = doc.pen.run(name, NOTE);
        let text = doc.pen.run(text, BODY);
        rows.push(vec![Cell::Text(vec![name]), Cell::Text(vec![text])]);
    }
    if rows.is_empty() {
        let none = doc.pen.run("Not written down yet.", NOTE);
        rows.push(vec![Cell::Empty, Cell::Text(vec![none])]);
    }
    table.block(&mut doc.pen, title, &[], rows)
}

/// The work in order of start, a table for each day.
fn work(doc: &mut Doc, source: &Source<'_>, wide: f64, close: bool) -> Vec<Block> {
    let names: BTreeMap<&str, &str> = source
        .job
        .crew
        .iter()
        .map(|(id, c)| (id.as_str(), c.name.as_str()))
        .collect();
    let table = Table::new(
        wide,
        &[fixed(20.0), share(1.0), share(0.55), fixed(20.0).right()],
    )
    .close(close)
    .at_least(if close { ROW_CLOSE } else { ROW });
    // days in order of their first task; work that has no time yet comes last
    let mut days: Vec<(String, Vec<Vec<Cell>>)> = Vec::new();
    for task in &source.plan.tasks {
        let at = task.start_ms.and_then(|ms| source.say.local(ms));
        let title = at.map_or_else(|| "Work without a time yet".to_string(), day);
        let who: Vec<String> = task
            .who
            .iter()
            .map(|id| names.get(id.as_str()).map_or(id.as_str(), |n| n).into())
            .collect();
        let pen = &mut doc.pen;
        let start = at.map(|at| source.say.time(at)).unwrap_or_default();
        let row = vec![
            Cell::Text(vec![pen.run(&start, QUANTITY)]),
            Cell::Text(vec![pen.run(&numbered(&task.title), BODY)]),
            Cell::Text(vec![pen.run(&source.hands(&who), BODY)]),
            Cell::Text(vec![pen.run(&takes(source, task), BODY)]),
        ];
        match days.iter_mut().find(|(t, _)| *t == title) {
            Some((_, rows)) => rows.push(row),
            None => days.push((title, vec![row])),
        }
    }
    days.into_iter()
        .map(|(title, rows)| table.block(&mut doc.pen, &title, &["", "", "", "takes"], rows))
        .collect()
}

/// Notes to the job; notes to steps stand with their steps.
fn notes(doc: &mut Doc, source: &Source<'_>, wide: f64) -> Vec<Block> {
    let mut blocks = Vec::new();
    for (_, note) in live(&source.job.notes) {
        if !note.step.is_empty() || note.text.trim().is_empty() {
            continue;
        }
        let mut runs = vec![doc.pen.run(&note.text, BODY)];
        if !note.who.is_empty() {
            runs.push(doc.pen.run(&format!("  {}", note.who), NOTE));
        }
        let mut block = paragraph(&doc.pen, wide, &runs, 2.0);
        if blocks.is_empty() {
            block.rows.insert(0, section(&mut doc.pen, wide, "Notes"));
        }
        blocks.push(block);
    }
    blocks
}

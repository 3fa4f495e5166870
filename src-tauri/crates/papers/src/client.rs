//! The client summary: the picture first, then what is included and when; care, price, terms and signature behind it.

use job::bill::BillPart;
use job::day::Signature;
use job::piece::{Mount, PieceKind};
use job::site::{KitKind, Place};
use job::{Ids, Job, Private, live};
use plan::Plan;
use plan::types::Price;

use crate::doc::{Doc, GUTTER, Head, Pen};
use crate::flow::{Block, Row, ended};
use crate::marks::{Align, At, Group, Mark, Tag, height, stack};
use crate::parts::{amount_column, blanks, caution, figures, paragraph, section, titled};
use crate::picture::picture;
use crate::say::{count, date, long_day, money, percent, plural};
use crate::sizes::size_words;
use crate::source::{ALWAYS, Source};
use crate::style::{BODY, FIGURE_ROW, LABEL, NOTE, QUANTITY, Style};
use crate::table::{Cell, Table, fixed, share};
use crate::text::Run;
use crate::{Paper, PaperError, Sheet, finished, handed};

/// Height of the picture in mm, at least and at most.
const PICTURE_LEAST: f64 = 54.0;
const PICTURE_MOST: f64 = 116.0;
/// Over and under the strip of times in mm.
const OVER_STRIP: f64 = 1.0;
const UNDER_STRIP: f64 = 1.0;
/// Over lists that fill two columns, in mm: what a head has above it elsewhere.
const OVER_LISTS: f64 = 6.0;
/// Two columns of rows that stay whole may differ by so much, in mm.
const UNEVEN: f64 = 14.0;
/// Rows of the sums of a price besides those of the tax and the payments: net price, to pay.
const SUMS: usize = 2;
/// Width of the column of amounts in mm; large ones take more.
const AMOUNT: f64 = 40.0;
/// The client is told a time to come to so much, ms.
const TO_MS: i64 = 5 * 60_000;
/// Radius of a swatch under the picture in mm.
const SWATCH: f64 = 3.2;

/// The client summary. Without the private part it names no client and shows no price. What was signed is its appendix.
pub fn client_summary(
    job: &Job,
    private: Option<&Private>,
    signatures: &Ids<Signature>,
    plan: &Plan,
    sheet: &Sheet,
) -> Result<Paper, PaperError> {
    let source = Source::new(job, plan, sheet);
    let doc = draw(&source, private, signatures)?;
    let title = format!("Client summary: {}", source.name());
    finished(doc, &title, sheet)
}

/// The pages. Where lines set closer save a page, they are.
pub fn draw(
    source: &Source<'_>,
    private: Option<&Private>,
    signatures: &Ids<Signature>,
) -> Result<Doc, PaperError> {
    let mut first = Doc::new(source.sheet.size)?;
    first_page(&mut first, source, private)?;
    // a first part that runs on by less than half a page shares that page with the second
    let new_page = first.pages.len() == 1 || first.left() < source.sheet.size.height() / 2.0;
    let tries = [false, true].into_iter().map(|close| {
        let mut doc = first.clone();
        second_page(&mut doc, source, private, new_page, close);
        doc
    });
    let fewest = tries.min_by_key(|doc| doc.pages.len());
    let mut doc = fewest.unwrap_or(first);
    handed::pages(&mut doc, source, signatures, aside(source, private));
    doc.feet("Client summary", source.sheet);
    Ok(doc)
}

fn first_page(
    doc: &mut Doc,
    source: &Source<'_>,
    private: Option<&Private>,
) -> Result<(), PaperError> {
    let wide = doc.width();
    doc.begin(Head {
        title: source.name().to_string(),
        aside: aside(source, private),
    });
    let palette = palette_rows(&mut doc.pen, source, wide);
    let strip = times(source);
    let strip = (!strip.is_empty()).then(|| figures(&mut doc.pen, wide, &strip, true));
    let left = (wide - GUTTER) * 0.54;
    let mut lists = [
        included(doc, source, left),
        needs(doc, source, wide - GUTTER - left),
    ];
    let over = palette.tall() + strip.as_ref().map_or(0.0, Block::tall) + OVER_STRIP + UNDER_STRIP;
    let [one, other] = &lists;
    let mut lists_tall = one.tall().max(other.tall());
    // a long list fills both columns, with the other one after it
    let run_on = doc.left() - over - lists_tall < PICTURE_LEAST;
    if run_on {
        let column = doc.column(2);
        lists = [included(doc, source, column), needs(doc, source, column)];
        lists_tall = lists.iter().map(Block::tall).sum::<f64>() / 2.0 + UNEVEN;
    }
    let rules = source
        .long_rules()
        .map(|rules| titled(&mut doc.pen, wide, "House rules as we know them", rules));
    // the picture takes what the words leave of the page
    let words = over + lists_tall + rules.as_ref().map_or(0.0, Block::tall);
    let left_over = doc.left() - words;
    let room = if left_over < PICTURE_LEAST {
        // the words go on to the next page anyway
        PICTURE_MOST
    } else {
        left_over.min(PICTURE_MOST)
    };
    let alt = picture_words(source);
    if let Some(drawing) = picture(source, wide, room)? {
        let row = Row {
            height: drawing.height,
            before: 0.0,
            keep: false,
            groups: vec![Group::new(Tag::Figure(alt), drawing.marks)],
        };
        doc.place(&[Block::of(vec![row])]);
    }
    doc.place(&[palette]);
    if let Some(strip) = strip {
        doc.gap(OVER_STRIP);
        doc.place(&[strip]);
    }
    doc.gap(UNDER_STRIP);
    if run_on {
        doc.gap(OVER_LISTS);
        doc.place_columns(&lists, 2);
    } else {
        let [included, needs] = lists;
        doc.place_beside(&[included], &[needs], left + GUTTER);
    }
    doc.place(rules.as_slice());
    Ok(())
}

fn second_page(
    doc: &mut Doc,
    source: &Source<'_>,
    private: Option<&Private>,
    new_page: bool,
    close: bool,
) {
    let wide = doc.width();
    if new_page {
        let title = if source.plan.price.is_some() {
            "Care, price, terms"
        } else {
            "Care and terms"
        };
        doc.begin(Head {
            title: title.to_string(),
            aside: aside(source, private),
        });
    }
    let always = caution(&mut doc.pen, wide, "Always.", ALWAYS);
    doc.place(&[always]);
    let care = care(doc, source, close);
    let head = section(&mut doc.pen, wide, "Care");
    doc.place(&[Block::of(vec![head])]);
    doc.place_columns(&[care], 2);
    let mut end = Vec::new();
    if let Some(price) = &source.plan.price {
        let mut parts = private.map_or_else(Vec::new, |p| plan::bill::payments(p, price));
        // after a deposit alone everybody knows what is left
        if private.is_some_and(|p| live(&p.instalments).is_empty()) {
            parts.truncate(1);
        }
        let mut block = price_block(doc, price, &parts, wide, close);
        let days = private.map_or(0, |p| p.prices.valid_days);
        if days > 0 {
            let days = plural(days, "day", "days");
            let text = format!("This price is good for {days} from the day this paper was made.");
            let runs = [doc.pen.run(&text, NOTE)];
            if let Some(last) = block.rows.last_mut() {
                last.keep = true;
            }
            block
                .rows
                .extend(paragraph(&doc.pen, wide, &runs, 2.0).rows);
        }
        end.push(block);
    }
    let terms = private.map_or("", |p| p.prices.terms.trim());
    if !terms.is_empty() {
        end.push(titled(&mut doc.pen, wide, "Terms", terms));
    }
    end.push(agreed(doc, source, wide, close));
    doc.place(&ended(end));
}

/// Lines to sign on, those of both sides beside each other if `close`, and who the decorator is.
fn agreed(doc: &mut Doc, source: &Source<'_>, wide: f64, close: bool) -> Block {
    let own = &source.sheet.own;
    let mut rows = vec![section(&mut doc.pen, wide, "Agreed")];
    let ours = if own.name.trim().is_empty() {
        "For the decorator".to_string()
    } else {
        format!("For {}", own.name.trim())
    };
    let client = "For the client";
    let sides: &[&[&str]] = if close {
        &[&[client, "Name and date", &ours, "Name and date"]]
    } else {
        &[&[client, "Name", "Date"], &[&ours, "Name", "Date"]]
    };
    rows.extend(sides.iter().map(|side| blanks(&mut doc.pen, wide, side)));
    let mut contact: Vec<&str> = [
        &own.name,
        &own.address,
        &own.phone,
        &own.email,
        &own.tax_number,
    ]
    .into_iter()
    .map(|t| t.trim())
    .collect();
    contact.retain(|t| !t.is_empty());
    let runs = [doc.pen.run(&contact.join(" · ").replace('\n', ", "), NOTE)];
    rows.extend(paragraph(&doc.pen, wide, &runs, 5.0).rows);
    Block::of(rows)
}

/// For whom, what, when, where.
fn aside(source: &Source<'_>, private: Option<&Private>) -> Vec<String> {
    let client = private.map_or("", |p| p.client.name.trim());
    let mut out = Vec::new();
    if !client.is_empty() {
        out.push(format!("For {client}"));
    }
    let day = source.day().map(long_day).unwrap_or_default();
    let occasion = source.job.occasion.trim();
    out.push(match (occasion.is_empty(), day.is_empty()) {
        (false, false) => format!("{occasion}, {day}"),
        (false, true) => occasion.to_string(),
        (true, _) => day,
    });
    out.push(source.job.venue.name.trim().to_string());
    out.retain(|t| !t.is_empty());
    out
}

/// What the picture shows, for those who cannot see it.
fn picture_words(source: &Source<'_>) -> String {
    let pieces: Vec<String> = source
        .plan
        .pieces
        .iter()
        .filter(|p| p.frame.is_none() || !source.carries(&p.piece))
        .map(|p| {
            let name = source.piece_name(&p.piece);
            let what = size_words(source, p);
            if what.is_empty() {
                name
            } else {
                format!("{name}, {what}")
            }
        })
        .collect();
    let text = format!("The pieces from the front: {}", pieces.join("; "));
    crate::text::shorten(&text.replace('\u{a0}', " "), 600)
}

/// Swatches with name and pattern, wrapped over the width.
fn palette_rows(pen: &mut Pen, source: &Source<'_>, wide: f64) -> Block {
    let gap = 7.0;
    let mut rows: Vec<Row> = Vec::new();
    let (mut x, mut marks) = (0.0, Vec::new());
    let tall = 2.0 * SWATCH + 1.0;
    let row = |marks: Vec<Mark>, first: bool| Row {
        height: tall,
        before: if first { 3.0 } else { 0.6 },
        keep: false,
        groups: vec![Group::new(Tag::P, marks)],
    };
    for colour in &source.plan.colours {
        let name = pen.run(&crate::text::shorten(&colour.name, 40), LABEL.bold());
        let word = pen.run(
            &format!("  {}", crate::colour::pattern_word(colour.pattern)),
            NOTE,
        );
        let lines = pen.set(&[name, word], wide - 2.0 * SWATCH - 2.0);
        let text = lines.iter().map(|l| l.width).fold(0.0, f64::max);
        let used = 2.0 * SWATCH + 2.0 + text;
        if x > 0.0 && x + used > wide {
            rows.push(row(std::mem::take(&mut marks), rows.is_empty()));
            x = 0.0;
        }
        let tone = source.palette.tone(&colour.colour);
        marks.push(Mark::Balloon {
            at: At::new(x + SWATCH, tall / 2.0),
            radius: SWATCH,
            colour: tone.rgb,
            pattern: tone.pattern,
        });
        let one = lines.get(..1).unwrap_or_default();
        let top = (tall - height(one)) / 2.0;
        marks.extend(stack(one, x + 2.0 * SWATCH + 2.0, top, text, Align::Left));
        x += used + gap;
    }
    rows.push(row(marks, rows.is_empty()));
    Block::of(rows)
}

fn times(source: &Source<'_>) -> Vec<(String, String)> {
    let times = &source.job.times;
    // what the crew goes by, and not the time from which it would be let in
    let come = source
        .plan
        .arrive_ms()
        .map(|ms| ms.div_euclid(TO_MS).saturating_mul(TO_MS));
    let come = source
        .instant(come)
        .or_else(|| source.agreed(&times.load_in));
    let agreed = [
        (&times.ready_by, "ready to show you"),
        (&times.doors_open, "doors"),
        (&times.strike_from, "we take it down"),
    ]
    .into_iter()
    .filter_map(|(text, word)| Some((source.agreed(text)?, word)));
    come.map(|at| (at, "we come about"))
        .into_iter()
        .chain(agreed)
        .map(|(at, word)| (at, word.to_string()))
        .collect()
}

fn included(doc: &mut Doc, source: &Source<'_>, wide: f64) -> Block {
    let table = Table::new(wide, &[fixed(19.0), share(1.0)]);
    let pen = &mut doc.pen;
    let mut rows = Vec::new();
    let mut add = |pen: &mut Pen, n: i64, unit: &str, name: &str, what: &str| {
        let mut runs = vec![pen.run(name, BODY.bold())];
        if !what.is_empty() {
            runs.push(pen.run(&format!("\n{what}"), NOTE));
        }
        rows.push(vec![
            Cell::Text(vec![
                pen.run(&count(n), FIGURE_ROW),
                pen.run(&format!("\n{unit}"), NOTE),
            ]),
            Cell::Text(runs),
        ]);
    };
    for piece in &source.plan.pieces {
        // a frame that a garland hangs on is told with the garland, and a rail is the venue's own
        let frame = piece.frame.is_some();
        if frame && (source.carries(&piece.piece) || source.is_rail(&piece.piece)) {
            continue;
        }
        let (n, one, many) = match (&piece.frame, piece.balloons) {
            (Some(frame), 0) => (frame.count, "frame", "frames"),
            (_, n) => (n, "balloon", "balloons"),
        };
        let name = source.piece_name(&piece.piece);
        let unit = if n == 1 { one } else { many };
        add(pen, n, unit, &name, &size_words(source, piece));
    }
    let strikes = !source.job.times.strike_from.is_empty();
    let garlands = source.plan.pieces.iter().any(|p| p.garland.is_some());
    let what = format!(
        "{}{}",
        if strikes {
            "Blown, tied, put up, taken down and cleared away."
        } else {
            "Blown, tied and put up."
        },
        if garlands {
            " Tied by hand: each garland falls its own way."
        } else {
            ""
        }
    );
    let all = source.plan.figures.balloons;
    add(pen, all, "balloons", "In all", &what);
    table.block(pen, "What is included", &[], rows)
}

/// What the venue must provide, as far as the job says it.
fn needs(doc: &mut Doc, source: &Source<'_>, wide: f64) -> Block {
    let table = Table::new(wide, &[share(1.0)]);
    let rows = need_lines(&mut doc.pen, source)
        .into_iter()
        .map(|runs| vec![Cell::Text(runs)])
        .collect();
    table.block(&mut doc.pen, "What we need from the venue", &[], rows)
}

fn need_lines(pen: &mut Pen, source: &Source<'_>) -> Vec<Vec<Run>> {
    let (job, say) = (source.job, &source.say);
    let mut lines: Vec<Vec<Run>> = Vec::new();
    // text between asterisks is bold
    let mut add = |pen: &mut Pen, parts: &[(&str, bool)]| {
        lines.push(
            parts
                .iter()
                .map(|(t, bold)| pen.run(t, if *bold { BODY.bold() } else { BODY }))
                .collect(),
        );
    };
    if let Some(from) = source.agreed(&job.times.load_in) {
        let doors = live(&job.doors);
        let door = doors.first().map_or("", |(_, d)| d.name.trim());
        let door = if door.is_empty() {
            "The way in".to_string()
        } else {
            door.to_string()
        };
        add(
            pen,
            &[(&door, false), (" open from ", false), (&from, true)],
        );
    }
    for (id, piece) in live(&job.pieces) {
        if piece.kind == PieceKind::Frame && !source.is_rail(id) {
            let area = say.area(piece.frame.width_mm, piece.frame.base_mm);
            let name = source.piece_name(id);
            add(
                pen,
                &[
                    ("A flat place of ", false),
                    (&area, true),
                    (&format!(" for {name}"), false),
                ],
            );
        }
    }
    let kit = live(&job.kit);
    if kit
        .iter()
        .any(|(_, k)| k.kind == KitKind::Inflator && !k.stays)
    {
        add(
            pen,
            &[("One socket", true), (" near the place of work", false)],
        );
    }
    if job.venue.walk_m > 0 {
        let walk = say.length(job.venue.walk_m.saturating_mul(1000));
        add(pen, &[("Room for a vehicle within ", false), (&walk, true)]);
    }
    let hangs = |mount: Mount| {
        live(&job.pieces)
            .iter()
            .any(|(_, p)| p.kind != PieceKind::Frame && p.mount == mount && p.on.is_empty())
    };
    if hangs(Mount::CeilingPoints) {
        add(
            pen,
            &[
                ("Leave to tie to the ", false),
                ("points in the ceiling", true),
            ],
        );
    }
    if hangs(Mount::WallHooks) {
        add(
            pen,
            &[("Leave to put ", false), ("hooks on the wall", true)],
        );
    }
    if job.venue.place != Place::Indoors {
        add(
            pen,
            &[("A place inside, should the wind grow too strong", false)],
        );
    }
    add(pen, &[("Exits and sprinklers kept clear", false)]);
    if let Some(strike) = source.agreed(&job.times.strike_from) {
        let until = source.agreed(&job.times.strike_by);
        let until = until.map(|t| format!(" to {t}")).unwrap_or_default();
        add(
            pen,
            &[
                ("The room free for us from ", false),
                (&strike, true),
                (&until, true),
            ],
        );
    }
    let rules = source.short_rules();
    if !rules.is_empty() {
        add(
            pen,
            &[("House rules as we know them: ", false), (rules, false)],
        );
    }
    lines
}

/// What a client should know, for each caution that the plan has for this job.
fn care(doc: &mut Doc, source: &Source<'_>, close: bool) -> Block {
    let table = Table::new(doc.column(2), &[share(1.0)]).close(close);
    let style = if close { LABEL } else { BODY };
    let mut rows: Vec<Row> = Vec::new();
    for caution in source.cautions() {
        let text = match caution.code.as_str() {
            "choking" | "exits" | "wind" | "release" => caution.text.as_str(),
            "latex" => {
                "Balloons are natural rubber latex, which can cause allergies. Tell us, and tell your guests."
            }
            "ballast" => {
                "Do not move a frame, and take no weight off it, while anything hangs on it."
            }
            "strike" if !source.job.times.strike_from.is_empty() => {
                "Leave the taking down to us. Should a balloon burst, bin every piece: it chokes children and animals."
            }
            _ => continue,
        };
        let text = Cell::Text(vec![doc.pen.run(text, style)]);
        rows.extend(table.row(&doc.pen, &[text]));
    }
    let keep = "Keep the pieces from sun, heaters and hot lamps: balloons grow, dull and burst in the warm.";
    let keep = Cell::Text(vec![doc.pen.run(keep, style)]);
    rows.extend(table.row(&doc.pen, &[keep]));
    Block::of(rows)
}

/// The price, line by line. How a line was reckoned is the decorator's own affair and not printed.
fn price_block(doc: &mut Doc, price: &Price, parts: &[BillPart], wide: f64, close: bool) -> Block {
    let cash = |cents: i64| money(cents, &price.currency);
    let pen = &mut doc.pen;
    let lines = price.lines.iter().map(|l| (cash(l.cents), BODY));
    let amounts = lines.chain([(cash(price.gross_cents), QUANTITY)]);
    let amount = amount_column(pen, wide, AMOUNT, amounts);
    let table = Table::new(wide, &[share(1.0), fixed(amount).right()]).close(close);
    let mut rows: Vec<Vec<Cell>> = Vec::new();
    let mut add = |pen: &mut Pen, label: &str, cents: i64, style: Style| {
        rows.push(vec![
            Cell::Text(vec![pen.run(label, style)]),
            Cell::Text(vec![pen.run(&cash(cents), style)]),
        ]);
    };
    for line in &price.lines {
        add(pen, &line.label, line.cents, BODY);
    }
    if price.discount_cents != 0 {
        add(pen, "Discount", price.discount_cents.saturating_neg(), BODY);
    }
    if price.minimum_cents != 0 {
        add(
            pen,
            "To the least price of a job",
            price.minimum_cents,
            BODY,
        );
    }
    if price.rounding_cents != 0 {
        add(pen, "To an even figure", price.rounding_cents, BODY);
    }
    if price.tax_cents != 0 || price.tax_bp != 0 {
        add(pen, "Net price", price.net_cents, BODY.bold());
        for rate in price.taxes.iter().filter(|t| t.tax_bp != 0) {
            let of = match price.taxes.len() {
                1 => String::new(),
                _ => format!(" on {}", cash(rate.net_cents)),
            };
            let tax = format!("Tax, {}{of}", percent(rate.tax_bp));
            add(pen, &tax, rate.tax_cents, BODY);
        }
    }
    add(pen, "To pay", price.gross_cents, QUANTITY);
    for (index, part) in parts.iter().enumerate() {
        let label = match (part.day.is_empty(), index) {
            (false, _) => format!("{}, {}", part.label, date(&part.day)),
            (true, 0) => format!("{}, on agreement", part.label),
            _ => part.label.clone(),
        };
        add(pen, &label, part.cents, BODY);
    }
    let mut block = table.block(pen, "Price", &["", &price.currency], rows);
    // from the net price to the last payment is one thing
    let sums = price.taxes.len() + SUMS + parts.len();
    let (all, sums) = (block.rows.len(), sums.min(block.rows.len()));
    let of_sums = block.rows.iter_mut().skip(all - sums);
    of_sums
        .take(sums.saturating_sub(1))
        .for_each(|r| r.keep = true);
    block
}

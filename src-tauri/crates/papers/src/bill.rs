//! Quotes, invoices and credit notes on paper. A draft says so in its title.

use job::bill::{Bill, BillKind, BillLine};

use crate::doc::{Doc, GUTTER, Head, Pen};
use crate::flow::{Block, Row};
use crate::parts::{blanks, figures, paragraph, section, stacked};
use crate::say::{date, money, percent};
use crate::style::{BODY, LABEL, NOTE, QUANTITY, Style};
use crate::table::{Cell, Table, fixed, share};
use crate::text::Run;
use crate::{Paper, PaperError, Sheet, finished};

/// Width of a column of amounts in mm.
const AMOUNT: f64 = 36.0;
/// Width of a column of rates in mm.
const RATE: f64 = 18.0;

/// A quote, invoice or credit note.
pub fn bill_paper(bill: &Bill, sheet: &Sheet) -> Result<Paper, PaperError> {
    let doc = draw(bill, sheet)?;
    finished(doc, &title(bill), sheet)
}

/// The pages.
pub fn draw(bill: &Bill, sheet: &Sheet) -> Result<Doc, PaperError> {
    let mut doc = Doc::new(sheet.size)?;
    let wide = doc.width();
    doc.begin(Head {
        title: title(bill),
        aside: seller(bill),
    });
    parties(&mut doc, bill, wide);
    let strip = strip(bill);
    let block = figures(&mut doc.pen, wide, &strip, true);
    doc.place(&[block.spaced(5.0)]);
    let lines = lines(&mut doc.pen, bill, wide);
    let sums = sums(&mut doc.pen, bill, wide);
    doc.place(&[lines, sums]);
    if !bill.parts.is_empty() {
        let block = parts(&mut doc.pen, bill, wide);
        doc.place(&[block]);
    }
    words(&mut doc, bill, wide);
    if bill.kind == BillKind::Quote {
        let labels = ["Agreed, for the client", "Name", "Date"];
        let row = blanks(&mut doc.pen, wide, &labels);
        doc.place(&[Block::of(vec![row])]);
    }
    doc.feet(kind_word(bill.kind), sheet);
    Ok(doc)
}

fn kind_word(kind: BillKind) -> &'static str {
    match kind {
        BillKind::Quote | BillKind::Newer => "Quote",
        BillKind::Deposit => "Deposit invoice",
        BillKind::Invoice => "Invoice",
        BillKind::Credit => "Credit note",
    }
}

fn title(bill: &Bill) -> String {
    let what = kind_word(bill.kind);
    match bill.number.trim() {
        "" => format!("{what}, draft"),
        number => format!("{what} {number}"),
    }
}

fn seller(bill: &Bill) -> Vec<String> {
    let own = &bill.seller;
    let mut out = vec![own.name.clone()];
    out.extend(own.address.lines().take(3).map(str::to_string));
    out.push(own.phone.clone());
    out.push(own.email.clone());
    out.retain(|t| !t.trim().is_empty());
    out
}

/// Who gets it, and what it is about.
fn parties(doc: &mut Doc, bill: &Bill, wide: f64) {
    let half = (wide - GUTTER) / 2.0;
    let buyer = &bill.buyer;
    let mut to = vec![buyer.name.trim().to_string()];
    to.extend(buyer.address.lines().map(|l| l.trim().to_string()));
    to.push(buyer.country.trim().to_string());
    if !buyer.tax_number.trim().is_empty() {
        to.push(format!("Tax number {}", buyer.tax_number.trim()));
    }
    to.retain(|t| !t.is_empty());
    if to.is_empty() {
        to.push("Client without a name".into());
    }
    let mut about = Vec::new();
    if !bill.title.trim().is_empty() {
        about.push(bill.title.trim().to_string());
    }
    if !bill.event_day.is_empty() {
        about.push(format!("Balloon decoration on {}", date(&bill.event_day)));
    }
    for before in &bill.before {
        let what = match bill.kind {
            BillKind::Credit => "Takes back invoice",
            _ => "After invoice",
        };
        about.push(format!("{what} {} of {}", before.number, date(&before.day)));
    }
    let left = block(&mut doc.pen, half, "To", &to);
    let right = block(&mut doc.pen, half, "For", &about);
    doc.place_beside(&[left], &[right], half + GUTTER);
}

/// A word over lines, the first of them bold.
fn block(pen: &mut Pen, wide: f64, label: &str, texts: &[String]) -> Block {
    let mut lines = pen.lines(label, LABEL, wide);
    for (index, text) in texts.iter().enumerate() {
        let style = if index == 0 { BODY.bold() } else { BODY };
        lines.extend(pen.lines(text, style, wide));
    }
    stacked(&lines, wide)
}

fn strip(bill: &Bill) -> Vec<(String, String)> {
    let mut out = vec![(date(&bill.day), "date".to_string())];
    if !bill.due_day.is_empty() {
        let word = match bill.kind {
            BillKind::Quote => "good until",
            _ => "to be paid by",
        };
        out.push((date(&bill.due_day), word.to_string()));
    }
    let word = match bill.kind {
        BillKind::Quote => "in all",
        BillKind::Credit => "to your credit",
        _ => "to pay",
    };
    out.push((money(bill.gross_cents, &bill.currency), word.to_string()));
    out
}

fn lines(pen: &mut Pen, bill: &Bill, wide: f64) -> Block {
    let table = Table::new(
        wide,
        &[share(1.0), fixed(RATE).right(), fixed(AMOUNT).right()],
    );
    let rows = bill
        .lines
        .iter()
        .map(|line| line_row(pen, bill, line))
        .collect();
    let head = match bill.kind {
        BillKind::Credit => "What is given back",
        _ => "What it is for",
    };
    table.block(pen, head, &["", "tax", &bill.currency], rows)
}

fn line_row(pen: &mut Pen, bill: &Bill, line: &BillLine) -> Vec<Cell> {
    let mut runs: Vec<Run> = vec![pen.run(line.label.trim(), BODY)];
    if !line.detail.trim().is_empty() {
        runs.push(pen.run(&format!("   {}", told(&line.detail)), NOTE));
    }
    vec![
        Cell::Text(runs),
        Cell::Text(vec![pen.run(&percent(line.tax_bp), NOTE)]),
        Cell::Text(vec![pen.run(&money(line.cents, &bill.currency), BODY)]),
    ]
}

/// Days inside a detail as people write them.
fn told(detail: &str) -> String {
    let words: Vec<String> = detail.split(' ').map(date).collect();
    words.join(" ")
}

/// From the lines to what is to be paid. It stays together.
fn sums(pen: &mut Pen, bill: &Bill, wide: f64) -> Block {
    let table = Table::new(wide, &[share(1.0), fixed(AMOUNT + RATE).right()]);
    let cash = |cents: i64| money(cents, &bill.currency);
    let mut rows: Vec<Row> = Vec::new();
    let mut add = |pen: &mut Pen, label: &str, cents: i64, style: Style| {
        let cells = [
            Cell::Text(vec![pen.run(label, style)]),
            Cell::Text(vec![pen.run(&cash(cents), style)]),
        ];
        rows.extend(table.row(pen, &cells));
    };
    if !bill.wholes.is_empty() {
        let sum = bill
            .lines
            .iter()
            .fold(0i64, |sum, l| sum.saturating_add(l.cents));
        add(pen, "Together", sum, BODY.bold());
        for whole in &bill.wholes {
            add(pen, whole.label.trim(), whole.cents, BODY);
        }
    }
    add(pen, "Net", bill.net_cents, BODY.bold());
    for tax in bill
        .taxes
        .iter()
        .filter(|t| t.net_cents != 0 || t.tax_bp != 0)
    {
        let label = if bill.taxes.len() > 1 {
            format!("Tax, {} on {}", percent(tax.tax_bp), cash(tax.net_cents))
        } else {
            format!("Tax, {}", percent(tax.tax_bp))
        };
        add(pen, &label, tax.tax_cents, BODY);
    }
    let word = match bill.kind {
        BillKind::Quote => "In all",
        BillKind::Credit => "To your credit",
        _ => "To pay",
    };
    add(pen, word, bill.gross_cents, QUANTITY);
    let count = rows.len();
    for row in rows.iter_mut().take(count.saturating_sub(1)) {
        row.keep = true;
    }
    Block::of(rows).spaced(5.0)
}

fn parts(pen: &mut Pen, bill: &Bill, wide: f64) -> Block {
    let table = Table::new(
        wide,
        &[share(1.0), fixed(52.0).right(), fixed(AMOUNT).right()],
    );
    let rows = bill
        .parts
        .iter()
        .enumerate()
        .map(|(index, part)| {
            let when = match (part.day.is_empty(), index) {
                (false, _) => date(&part.day),
                (true, 0) => "on agreement".to_string(),
                _ => String::new(),
            };
            vec![
                Cell::Text(vec![pen.run(&part.label, BODY)]),
                Cell::Text(vec![pen.run(&when, NOTE)]),
                Cell::Text(vec![pen.run(&money(part.cents, &bill.currency), BODY)]),
            ]
        })
        .collect();
    table.block(pen, "How it is paid", &["", "", &bill.currency], rows)
}

/// Terms, why there is no tax, bank and numbers.
fn words(doc: &mut Doc, bill: &Bill, wide: f64) {
    let terms = bill.terms.trim();
    if !terms.is_empty() && bill.kind != BillKind::Credit {
        let runs = [doc.pen.run(terms, BODY)];
        let mut block = paragraph(&doc.pen, wide, &runs, 2.0);
        block.rows.insert(0, section(&mut doc.pen, wide, "Terms"));
        doc.place(&[block]);
    }
    let mut small: Vec<String> = Vec::new();
    let note = bill.tax_note.trim();
    if !note.is_empty() && bill.taxes.iter().any(|t| t.tax_bp == 0) {
        small.push(note.to_string());
    }
    let bank = bill.seller.bank.trim();
    if !bank.is_empty() && matches!(bill.kind, BillKind::Deposit | BillKind::Invoice) {
        let number = match bill.number.trim() {
            "" => String::new(),
            number => format!(" Please name {number} with your payment."),
        };
        small.push(format!("Account: {}.{number}", bank.replace('\n', ", ")));
    }
    let tax = bill.seller.tax_number.trim();
    if !tax.is_empty() && bill.kind != BillKind::Quote {
        small.push(format!("Our tax number: {tax}."));
    }
    if !small.is_empty() {
        let runs = [doc.pen.run(&small.join(" "), NOTE)];
        let block = paragraph(&doc.pen, wide, &runs, 4.0);
        doc.place(&[block]);
    }
}

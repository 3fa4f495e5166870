//! Quotes, invoices and credit notes on paper. A draft says so in its title.

use job::bill::{Bill, BillKind, BillLine};

use crate::attach::Attachment;
use crate::doc::{Doc, GUTTER, Head, Pen};
use crate::flow::{Block, Row, ended};
use crate::parts::{amount_column, blanks, figures, paragraph, stacked, titled};
use crate::say::{date, money, percent};
use crate::style::{BODY, LABEL, NOTE, QUANTITY, Style};
use crate::table::{Cell, Table, fixed, share};
use crate::text::Run;
use crate::ubl::ubl;
use crate::{Paper, PaperError, Sheet, finished};

/// Width of a column of amounts in mm; large ones take more.
const AMOUNT: f64 = 36.0;
/// Width of a column of rates in mm.
const RATE: f64 = 18.0;
/// Width of the words beside what a payment needs in mm.
const FACT: f64 = 30.0;

/// Lines of the seller's address.
const ADDRESS_LINES: usize = 3;

/// A quote, invoice or credit note. One with a number that has a structured copy carries it inside.
pub fn bill_paper(bill: &Bill, sheet: &Sheet) -> Result<Paper, PaperError> {
    let mut doc = draw(bill, sheet)?;
    if !bill.number.trim().is_empty() {
        doc.attached = ubl(bill)?.map(|bytes| Attachment {
            name: match bill.kind {
                BillKind::Credit => "credit-note.xml",
                _ => "invoice.xml",
            },
            words: "The same bill for programs: UBL 2.1",
            bytes,
        });
    }
    finished(doc, &title(bill), sheet)
}

/// The pages. Where lines set closer save a page, they are.
pub fn draw(bill: &Bill, sheet: &Sheet) -> Result<Doc, PaperError> {
    let doc = set(bill, sheet, false)?;
    if doc.pages.len() > 1 {
        let close = set(bill, sheet, true)?;
        if close.pages.len() < doc.pages.len() {
            return Ok(close);
        }
    }
    Ok(doc)
}

fn set(bill: &Bill, sheet: &Sheet, close: bool) -> Result<Doc, PaperError> {
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
    let lines = lines(&mut doc.pen, bill, wide, close);
    doc.place(&[lines]);
    let mut end = vec![sums(&mut doc.pen, bill, wide, close)];
    if !bill.parts.is_empty() {
        end.push(parts(&mut doc.pen, bill, wide, close));
    }
    end.extend(terms(&mut doc.pen, bill, wide));
    end.extend(how_to_pay(&mut doc.pen, bill, wide));
    end.extend(numbers(&mut doc.pen, bill, wide));
    if bill.kind == BillKind::Quote {
        let labels = ["Agreed, for the client", "Name", "Date"];
        end.push(Block::of(vec![blanks(&mut doc.pen, wide, &labels)]));
    }
    doc.place(&ended(end));
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
    // the whole address must stand on an invoice: a long one is told in fewer lines
    let address: Vec<&str> = own.address.lines().map(str::trim).collect();
    let address: Vec<&str> = address.into_iter().filter(|l| !l.is_empty()).collect();
    let together = address.len().div_ceil(ADDRESS_LINES).max(1);
    out.extend(address.chunks(together).map(|lines| lines.join(", ")));
    let mut reach = vec![own.phone.trim(), own.email.trim()];
    reach.retain(|t| !t.is_empty());
    out.push(reach.join(" · "));
    out.retain(|t| !t.trim().is_empty());
    out
}

/// Who gets it, and what it is about.
fn parties(doc: &mut Doc, bill: &Bill, wide: f64) {
    let half = (wide - GUTTER) / 2.0;
    let buyer = &bill.buyer;
    let mut to = vec![buyer.name.trim().to_string()];
    to.extend(buyer.address.lines().map(|l| l.trim().to_string()));
    // within a country nobody writes it
    if buyer.country.trim() != bill.seller.country.trim() {
        to.push(buyer.country.trim().to_string());
    }
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
            BillKind::Credit if bill.gross_cents < before.cents => "Takes back a part of invoice",
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

fn lines(pen: &mut Pen, bill: &Bill, wide: f64, close: bool) -> Block {
    let (work, _) = paid_before(bill);
    let amounts = work.iter().map(|l| (money(l.cents, &bill.currency), BODY));
    let amount = amount_column(pen, wide, AMOUNT, amounts);
    let table = Table::new(
        wide,
        &[share(1.0), fixed(RATE).right(), fixed(amount).right()],
    )
    .close(close);
    let rows = work.iter().map(|line| line_row(pen, bill, line)).collect();
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

/// The lines of the work, and those at the end that take earlier invoices off. Where something concerns the whole, such as a
/// discount, these come after it: the sum of the work is then the one that the quote had.
fn paid_before(bill: &Bill) -> (&[BillLine], &[BillLine]) {
    let all = bill.lines.as_slice();
    let off = all.iter().rev().take_while(|l| l.cents < 0).count();
    match bill.kind {
        BillKind::Invoice | BillKind::Credit if !bill.wholes.is_empty() && off < all.len() => {
            all.split_at(all.len() - off)
        }
        _ => (all, &[]),
    }
}

/// Days inside a detail as people write them.
fn told(detail: &str) -> String {
    let words: Vec<String> = detail.split(' ').map(date).collect();
    words.join(" ")
}

/// From the lines to what is to be paid. It stays together.
fn sums(pen: &mut Pen, bill: &Bill, wide: f64, close: bool) -> Block {
    let cash = |cents: i64| money(cents, &bill.currency);
    let large = [bill.gross_cents, bill.net_cents].map(|cents| (cash(cents), QUANTITY));
    let amount = amount_column(pen, wide, AMOUNT + RATE, large.into_iter());
    let table = Table::new(wide, &[share(1.0), fixed(amount).right()]).close(close);
    let mut rows: Vec<Row> = Vec::new();
    let mut add = |pen: &mut Pen, label: &str, cents: i64, style: Style| {
        let cells = [
            Cell::Text(vec![pen.run(label, style)]),
            Cell::Text(vec![pen.run(&cash(cents), style)]),
        ];
        rows.extend(table.row(pen, &cells));
    };
    if !bill.wholes.is_empty() {
        let (work, off) = paid_before(bill);
        let sum = work.iter().fold(0i64, |sum, l| sum.saturating_add(l.cents));
        add(pen, "Together", sum, BODY.bold());
        for line in bill.wholes.iter().chain(off) {
            let detail = told(&line.detail);
            let label = format!("{} {detail}", line.label.trim());
            add(pen, label.trim(), line.cents, BODY);
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
    Block::of(rows).spaced(5.0).whole()
}

fn parts(pen: &mut Pen, bill: &Bill, wide: f64, close: bool) -> Block {
    let amounts = bill.parts.iter();
    let amounts = amounts.map(|p| (money(p.cents, &bill.currency), BODY));
    let amount = amount_column(pen, wide, AMOUNT, amounts);
    let table = Table::new(
        wide,
        &[share(1.0), fixed(52.0).right(), fixed(amount).right()],
    )
    .close(close);
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

fn terms(pen: &mut Pen, bill: &Bill, wide: f64) -> Option<Block> {
    let terms = bill.terms.trim();
    if terms.is_empty() || bill.kind == BillKind::Credit {
        return None;
    }
    Some(titled(pen, wide, "Terms", terms))
}

/// Why there is no tax, and the seller's number.
fn numbers(pen: &mut Pen, bill: &Bill, wide: f64) -> Option<Block> {
    let mut small: Vec<String> = Vec::new();
    let note = bill.tax_note.trim();
    if !note.is_empty() && bill.taxes.iter().any(|t| t.tax_bp == 0) {
        small.push(note.to_string());
    }
    let tax = bill.seller.tax_number.trim();
    if !tax.is_empty() && bill.kind != BillKind::Quote {
        small.push(format!("Our tax number: {tax}."));
    }
    if small.is_empty() {
        return None;
    }
    let runs = [pen.run(&small.join(" "), NOTE)];
    Some(paragraph(pen, wide, &runs, 4.0))
}

/// Where the money goes, if any is asked for and the seller has named an account.
fn how_to_pay(pen: &mut Pen, bill: &Bill, wide: f64) -> Option<Block> {
    let bank = bill.seller.bank.trim();
    let asks = matches!(bill.kind, BillKind::Deposit | BillKind::Invoice) && bill.gross_cents > 0;
    if bank.is_empty() || !asks {
        return None;
    }
    let facts = [
        ("Account", bank),
        ("Please name", bill.number.trim()),
        ("To be paid by", &date(&bill.due_day)),
    ];
    let table = Table::new(wide, &[fixed(FACT), share(1.0)]);
    let rows = facts.iter().filter(|(_, fact)| !fact.is_empty());
    let rows = rows
        .map(|(word, fact)| {
            vec![
                Cell::Text(vec![pen.run(word, NOTE)]),
                Cell::Text(vec![pen.run(fact, BODY.bold())]),
            ]
        })
        .collect();
    Some(table.block(pen, "How to pay", &[], rows))
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::books::Own;

    fn line(label: &str, cents: i64) -> BillLine {
        BillLine {
            label: label.into(),
            cents,
            ..BillLine::default()
        }
    }

    fn invoice() -> Bill {
        let mut bill = Bill {
            kind: BillKind::Invoice,
            number: "7".into(),
            currency: "EUR".into(),
            lines: vec![line("Work", 10_000), line("Less invoice 6", -3_000)],
            wholes: vec![line("Discount", -500)],
            seller: Own {
                name: "Maud Kestrel".into(),
                address: "Unit 14B\nThe Old Ropeworks\nChandler Yard\nEllerwater\nEW4 2LK".into(),
                phone: "01632 960771".into(),
                email: "maud@example.org".into(),
                country: "GB".into(),
                ..Own::default()
            },
            ..Bill::default()
        };
        bill.buyer.name = "Imke Halloran".into();
        bill.buyer.country = "GB".into();
        plan::bill::sum_up(&mut bill);
        bill
    }

    fn text(bill: &Bill) -> String {
        let doc = draw(bill, &Sheet::default()).unwrap();
        crate::marks::listing(&doc.pages).join("\n")
    }

    /// The last lines of a long address and the e-mail behind them were once left out; an invoice names the whole address
    /// (Directive 2006/112/EC, article 226, 5).
    #[test]
    fn the_seller_is_told_in_full() {
        let text = text(&invoice());
        for part in [
            "Unit 14B, The Old Ropeworks",
            "Chandler Yard, Ellerwater",
            "EW4 2LK",
            "01632 960771 · maud@example.org",
        ] {
            assert!(text.contains(part), "{part} is not in {text}");
        }
    }

    /// The sum of the work is that of the quote: what was paid before once came off ahead of the discount.
    #[test]
    fn what_was_paid_before_comes_off_after_the_discount() {
        let text = text(&invoice()).replace('\u{a0}', " ");
        let at = |what: &str| {
            text.find(what)
                .unwrap_or_else(|| panic!("no {what} in {text}"))
        };
        assert!(text.contains("Together  € 100.00"), "{text}");
        assert!(at("Together") < at("Discount") && at("Discount") < at("Less invoice 6"));
        assert!(at("Less invoice 6") < at("Net  € 65.00"));
    }

    /// The last digit of an amount of thousands of millions once stood alone on a second line.
    #[test]
    fn a_huge_amount_stays_whole() {
        let mut bill = invoice();
        bill.kind = BillKind::Quote;
        bill.lines[0].cents = 1_022_066_004_401;
        bill.parts.push(job::bill::BillPart {
            label: "The rest".into(),
            cents: 1_022_066_004_401,
            ..job::bill::BillPart::default()
        });
        plan::bill::sum_up(&mut bill);
        assert_eq!(text(&bill).matches("10,220,660,044.01").count(), 2);
    }

    /// The account once stood small at the end, and on a bill over nothing too.
    #[test]
    fn a_bill_that_asks_for_money_says_where_it_goes() {
        let mut bill = invoice();
        bill.seller.bank = "Lakeside Savings, GB33".into();
        bill.due_day = "2027-06-28".into();
        let said = text(&bill).replace('\u{a0}', " ");
        for part in [
            "Account  Lakeside Savings, GB33",
            "Please name  7",
            "To be paid by  28 June 2027",
        ] {
            assert!(said.contains(part), "{part} is not in {said}");
        }
        bill.kind = BillKind::Credit;
        assert!(!text(&bill).contains("How to pay"));
        bill.kind = BillKind::Invoice;
        bill.lines = vec![line("A gift", 0)];
        bill.wholes.clear();
        plan::bill::sum_up(&mut bill);
        assert!(!text(&bill).contains("How to pay"));
    }

    #[test]
    fn a_country_is_named_across_a_border_only() {
        let mut bill = invoice();
        assert!(!text(&bill).contains("\nGB"));
        bill.buyer.country = "IE".into();
        assert!(text(&bill).contains("\nIE"));
    }
}

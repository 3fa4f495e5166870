//! Commands on money: bills and their numbers, what a job really cost, the quick estimate.

use std::collections::BTreeMap;

use job::bill::{Bill, BillKind, KeptBill};
use job::{Private, Severity};
use plan::Depth;
use plan::bill::{Asked, adds_up, fits, taken_back};
use plan::spent::Settled;
use serde_json::Value;
use store::{State, ToIssue};

use crate::compute::{made_on, paper_size, pdf_date, planned};
use crate::document::{accept, read};
use crate::fault::Fault;
use crate::names::file_name;
use crate::views::{
    ActualView, AskActual, BillMade, BillNumbers, CreateQuick, CreditLine, Edited, IssueBill,
    IssuedBill, JobView, MakeBill, MakeBillPaper, PaperMade, QuickMade, QuickPrice,
};
use crate::{Desk, books, jobs};

/// Numbers of invoices, deposit invoices and credit notes.
const INVOICES: &str = "invoice";
/// Numbers of quotes, which begin with a letter of their own.
const QUOTES: &str = "quote";
const QUOTE_LETTER: &str = "Q";

/// On the telephone little is known: the price may be so much lower or higher, percent. Common practice, no source.
const UNKNOWN_PCT: i64 = 10;
/// The span is told in whole steps of this, cents.
const SPAN_CENTS: i64 = 1000;

pub(crate) fn create_quick(desk: &mut Desk, args: CreateQuick) -> Result<JobView, Fault> {
    let books = books::read_all(desk)?.books;
    let (job, private) = job::quick::quick_job(&books, &args.quick, args.name.trim());
    jobs::keep_new(desk, &job, Some(&private))
}

pub(crate) fn quick_price(args: QuickPrice) -> Result<QuickMade, Fault> {
    let (job, private) = job::quick::quick_job(&args.books, &args.quick, "");
    let plan = planned(&job, Some(&private), Depth::Preview);
    let price = plan.price.unwrap_or_default();
    let span = |pct: i64| {
        let cents = plan::tax::share(price.gross_cents, pct, 100);
        plan::tax::share(cents, 1, SPAN_CENTS).saturating_mul(SPAN_CENTS)
    };
    let of_the_call = |code: &str| !matches!(code, "no_name" | "no_person_name");
    Ok(QuickMade {
        from_cents: span(100 - UNKNOWN_PCT),
        to_cents: span(100 + UNKNOWN_PCT),
        price,
        balloons: plan.figures.balloons,
        work_s: plan.figures.work_s,
        people: plan.figures.people,
        start_by_ms: plan.figures.start_by_ms,
        findings: plan
            .findings
            .into_iter()
            .filter(|f| f.severity == Severity::Stop && of_the_call(&f.code))
            .collect(),
    })
}

pub(crate) fn bill(args: MakeBill) -> Result<BillMade, Fault> {
    let plan = planned(&args.job, Some(&args.private), Depth::Final);
    let asked = Asked {
        kind: args.kind,
        instalment: &args.instalment,
        of: &args.of,
        part: &args.part,
        day: &args.day,
    };
    let price = plan.price.unwrap_or_default();
    let made = plan::bill::bill(&args.job, &args.private, &price, &args.own, &asked);
    let (bill, findings) = made.ok_or_else(|| {
        Fault::new(
            "nothing_to_credit",
            "There is no issued invoice to take back, or nothing is left of it.",
            "Choose an invoice that has a number.",
        )
    })?;
    let of = args.private.bills.get(&args.of).and_then(KeptBill::bill);
    let of = of.filter(|_| args.kind == BillKind::Credit);
    let lines = of.iter().flat_map(plan::bill::lines);
    let lines = lines.map(|(most, line)| CreditLine {
        most,
        label: line.label.clone(),
    });
    Ok(BillMade {
        bill,
        findings,
        lines: lines.collect(),
    })
}

pub(crate) fn bill_paper(args: MakeBillPaper, _: &[u8]) -> Result<(PaperMade, Vec<u8>), Fault> {
    let own = &args.bill.seller;
    let sheet = papers::Sheet {
        size: paper_size(args.size),
        pdf_date: pdf_date(args.made_ms),
        made_on: made_on(args.made_ms, &own.zone),
        language: args.language.clone(),
        own: own.clone(),
        ..papers::Sheet::default()
    };
    let paper = papers::bill_paper(&args.bill, &sheet)
        .map_err(|error| Fault::new(error.code, error.message, error.hint))?;
    let made = PaperMade {
        name: bill_name(&args.bill, ".pdf"),
        mime: "application/pdf".into(),
        pages: i64::try_from(paper.text.len()).unwrap_or(i64::MAX),
        shown: crate::compute::shown(&paper, args.show),
        findings: paper.findings,
    };
    Ok((made, paper.pdf))
}

pub(crate) fn bill_xml(args: MakeBillPaper, _: &[u8]) -> Result<(PaperMade, Vec<u8>), Fault> {
    let xml = papers::ubl(&args.bill)
        .map_err(|error| Fault::new(error.code, error.message, error.hint))?;
    let xml = xml.ok_or_else(|| {
        Fault::new(
            "no_structured_copy",
            "A quote has no structured copy: the standard knows invoices and credit notes.",
            "Save it as PDF.",
        )
    })?;
    let made = PaperMade {
        name: bill_name(&args.bill, ".xml"),
        mime: "application/xml".into(),
        pages: 0,
        findings: Vec::new(),
        shown: None,
    };
    Ok((made, xml))
}

fn bill_name(bill: &Bill, ending: &str) -> String {
    let word = match bill.kind {
        BillKind::Quote | BillKind::Newer => "quote",
        BillKind::Deposit => "deposit invoice",
        BillKind::Invoice => "invoice",
        BillKind::Credit => "credit note",
    };
    let number = if bill.number.is_empty() {
        "draft"
    } else {
        &bill.number
    };
    file_name(&format!("{} {word} {number}", bill.title), word, ending)
}

pub(crate) fn actual(args: AskActual) -> Result<ActualView, Fault> {
    let plan = planned(&args.job, Some(&args.private), Depth::Final);
    let actual = plan::spent::actual(&args.job, &args.private, &plan);
    Ok(ActualView {
        advice: plan::spent::advice(&args.private, &actual, &args.history, &args.id),
        settled: plan::spent::settled(&args.private, &plan, &actual, args.now_ms),
        actual,
    })
}

pub(crate) fn settled(desk: &mut Desk, (): ()) -> Result<Vec<Settled>, Fault> {
    let mut all = Vec::new();
    for listed in desk.store.list_jobs()? {
        let read = read(&desk.store.job(&listed.id)?);
        let Some(private) = read.private.filter(|p| p.spent.settled_ms > 0) else {
            continue;
        };
        if !read.job.gone {
            all.push(Settled {
                id: listed.id,
                name: read.job.name,
                currency: private.prices.currency,
                spent: private.spent,
            });
        }
    }
    Ok(all)
}

pub(crate) fn numbers(desk: &mut Desk, (): ()) -> Result<BillNumbers, Fault> {
    let own = books::read_all(desk)?.books.own;
    let prefix = own.number_prefix.trim();
    Ok(BillNumbers {
        issues: own.issuer == desk.store.device_id(),
        named: !own.issuer.is_empty(),
        invoice: desk.store.next_number(INVOICES, prefix, own.number_next)?,
        quote: desk
            .store
            .next_number(QUOTES, &format!("{QUOTE_LETTER}{prefix}"), 1)?,
    })
}

pub(crate) fn issued(desk: &mut Desk, (): ()) -> Result<Vec<IssuedBill>, Fault> {
    desk.store
        .issued(None)?
        .into_iter()
        .map(|issued| {
            let bill: Bill = serde_json::from_str(&issued.content).map_err(|e| {
                Fault::new(
                    "damaged",
                    format!("Bill {} cannot be read: {e}.", issued.number),
                    "Restore a backup.",
                )
            })?;
            Ok(IssuedBill {
                job: issued.job,
                id: issued.bill,
                at_ms: issued.at_ms,
                bill,
            })
        })
        .collect()
}

pub(crate) fn issue(desk: &mut Desk, args: IssueBill) -> Result<Edited, Fault> {
    let now_ms = desk.now_ms();
    let own = books::read_all(desk)?.books.own;
    if own.issuer != desk.store.device_id() {
        return Err(Fault::new(
            "not_the_issuer",
            if own.issuer.is_empty() {
                "No device was named that issues numbers."
            } else {
                "Another device issues the numbers. This one makes drafts."
            },
            "Name this device in Settings if it is the only one that issues.",
        ));
    }
    let state = desk.store.job(&args.id)?;
    let before = Bills::of(state.private.as_deref());
    let private = read(&state).private;
    may_be_issued(&args, private.as_ref())?;
    let quote = args.bill.kind == BillKind::Quote;
    let prefix = if quote {
        format!("{QUOTE_LETTER}{}", own.number_prefix.trim())
    } else {
        own.number_prefix.trim().to_string()
    };
    let id = desk.store.new_id()?;
    let draft = private.filter(|p| p.bills.get(&args.draft).is_some_and(|d| !d.issued()));
    let what = ToIssue {
        job: &args.id,
        bill: &id,
        series: if quote { QUOTES } else { INVOICES },
        prefix: &prefix,
        least: if quote { 1 } else { own.number_next },
        draft: draft.map(|_| args.draft.as_str()),
    };
    let make = |number: &str| {
        let bill = Bill {
            number: number.into(),
            ..args.bill.clone()
        };
        let kept = KeptBill {
            kind: bill.kind,
            number: number.into(),
            instalment: args.instalment.clone(),
            of: args.of.clone(),
            content: serde_json::to_string(&bill).map_err(|e| e.to_string())?,
            at_ms: now_ms,
            ..KeptBill::default()
        };
        match serde_json::to_value(kept) {
            Ok(Value::Object(fields)) => Ok(fields),
            _ => Err("the bill cannot be written".to_string()),
        }
    };
    let changed = desk.store.issue(&what, now_ms, make, |state| {
        before.are_still_there(state)?;
        accept(&args.id, state, &[], now_ms)
    })?;
    jobs::edited(desk, &args.id, changed)
}

/// A bill is issued only if its sums are right, and an invoice is taken back only once.
fn may_be_issued(args: &IssueBill, private: Option<&Private>) -> Result<(), Fault> {
    let refuse = |code: &str, what: &str, hint: &str| Err(Fault::new(code, what, hint));
    let Some(private) = private else {
        return Err(store::StoreError::NoPrivatePart.into());
    };
    if !adds_up(&args.bill) || args.bill.kind == BillKind::Newer {
        return refuse(
            "does_not_add_up",
            "The sums of this bill are not those of its lines.",
            "Make it again from the job.",
        );
    }
    if job::time::instant(&format!("{}T12:00", args.bill.day), "UTC").is_err() {
        return refuse(
            "bad_value",
            "The bill has no day.",
            "Give it as YYYY-MM-DD.",
        );
    }
    if args.bill.kind == BillKind::Credit {
        let known = private.bills.get(&args.of).filter(|b| b.issued());
        if known.is_none() {
            return refuse(
                "nothing_to_credit",
                "There is no issued invoice to take back.",
                "Choose an invoice that has a number.",
            );
        }
        if taken_back(private, &args.of) {
            return refuse(
                "credited_before",
                "This invoice was taken back before.",
                "Look for its credit note.",
            );
        }
        if !fits(private, &args.of, &args.bill) {
            return refuse(
                "credit_beyond",
                "This gives back more than is left of the invoice.",
                "Give back less, or take back the whole.",
            );
        }
        if args.bill.lines.is_empty() {
            return refuse(
                "nothing_to_credit",
                "This gives nothing back.",
                "Enter what is to be given back.",
            );
        }
    }
    Ok(())
}

/// The issued bills of a job before a change: it must leave them as they are.
pub(crate) struct Bills(BTreeMap<String, Value>);

impl Bills {
    pub(crate) fn of(private: Option<&Value>) -> Bills {
        let bills = private.and_then(|p| p["bills"].as_object());
        Bills(
            bills
                .into_iter()
                .flatten()
                .filter(|(_, bill)| bill["number"].as_str().is_some_and(|n| !n.is_empty()))
                .map(|(id, bill)| {
                    let mut bill = bill.clone();
                    // that it was paid is noted later, and the list may be put in another order
                    for free in ["paid_day", "order"] {
                        bill.as_object_mut().map(|b| b.remove(free));
                    }
                    (id.clone(), bill)
                })
                .collect(),
        )
    }

    /// Refuses a change that touches an issued bill, or that makes one without a number given out.
    pub(crate) fn are_kept(&self, after: &State) -> Result<(), String> {
        if Bills::of(after.private.as_deref()).0 == self.0 {
            return Ok(());
        }
        Err("an issued bill is kept as it is; credit it instead".into())
    }

    /// Refuses a change that touches an issued bill.
    fn are_still_there(&self, after: &State) -> Result<(), String> {
        let now = Bills::of(after.private.as_deref());
        if self.0.iter().all(|(id, bill)| now.0.get(id) == Some(bill)) {
            return Ok(());
        }
        Err("an issued bill is kept as it is".into())
    }
}

//! Quotes, invoices and credit notes. What an issued one says is a whole of its own: it does not change when the job does.

use crate::books::Own;
use crate::list::{document, listed, words};

words! {
    /// What a bill is.
    pub enum BillKind {
        /// An offer with a price that holds for some days.
        #[default]
        Quote,
        /// Asks for a part before the job.
        Deposit,
        /// Asks for what is left.
        Invoice,
        /// Takes an invoice back.
        Credit,
    }
}

document! {
    /// What a bill says. All money is whole cents; sums follow EN 16931: the net is the lines with the allowances and charges, tax is
    /// reckoned once for each rate.
    #[derive(Default)]
    pub struct Bill {
        /// What it is.
        pub kind: BillKind,
        /// Its number; empty in a draft.
        pub number: String,
        /// Day of issue, `YYYY-MM-DD`.
        pub day: String,
        /// To be paid by, `YYYY-MM-DD`; of a quote, good until.
        pub due_day: String,
        /// Day of the event, `YYYY-MM-DD`.
        pub event_day: String,
        /// ISO 4217 code.
        pub currency: String,
        /// Who issues it.
        pub seller: Own,
        /// Who gets it.
        pub buyer: Buyer,
        /// The job's name.
        pub title: String,
        /// Lines, with a price each.
        pub lines: Vec<BillLine>,
        /// Allowances (negative) and charges on the whole.
        pub wholes: Vec<BillLine>,
        /// Tax by rate, ascending.
        pub taxes: Vec<BillTax>,
        /// Without tax, cents.
        pub net_cents: i64,
        /// Tax, cents.
        pub tax_cents: i64,
        /// With tax, cents: what is to be paid.
        pub gross_cents: i64,
        /// How it is paid, part by part; on quotes.
        pub parts: Vec<BillPart>,
        /// Invoice that it belongs to: what a credit note takes back, what was paid before.
        pub before: Vec<BillBefore>,
        /// Terms.
        pub terms: String,
        /// Why there is no tax, where the rate is nought.
        pub tax_note: String,
    }

    /// Who gets a bill.
    #[derive(Default)]
    pub struct Buyer {
        /// Person or firm.
        pub name: String,
        /// Postal address.
        pub address: String,
        /// E-mail.
        pub email: String,
        /// ISO 3166-1 code.
        pub country: String,
        /// Tax number.
        pub tax_number: String,
    }

    /// A line of a bill.
    #[derive(Default)]
    pub struct BillLine {
        /// What for.
        pub label: String,
        /// How it was reckoned, in words; may be empty.
        pub detail: String,
        /// Net, cents; negative takes off.
        pub cents: i64,
        /// Rate of tax, hundredths of a percent.
        pub tax_bp: i64,
    }

    /// Tax at one rate.
    #[derive(Default)]
    pub struct BillTax {
        /// Rate, hundredths of a percent.
        pub tax_bp: i64,
        /// Sum of lines, allowances and charges at this rate, cents.
        pub net_cents: i64,
        /// Tax on it, cents.
        pub tax_cents: i64,
    }

    /// A part of the payment.
    #[derive(Default)]
    pub struct BillPart {
        /// What it is called.
        pub label: String,
        /// When, `YYYY-MM-DD`; empty is on agreement.
        pub day: String,
        /// With tax, cents.
        pub cents: i64,
    }

    /// An earlier invoice that a bill names.
    #[derive(Default)]
    pub struct BillBefore {
        /// Its number.
        pub number: String,
        /// Its day, `YYYY-MM-DD`.
        pub day: String,
        /// With tax, cents.
        pub cents: i64,
    }

    /// So much of a line is given back.
    #[derive(Default)]
    pub struct CreditPart {
        /// Which line of the invoice, from nought.
        pub line: i64,
        /// Net, cents.
        pub cents: i64,
    }

    /// A bill as a job keeps it. While it has no number it is a draft; with one it is kept for ever as it is.
    #[derive(Default)]
    pub struct KeptBill {
        /// What it is.
        pub kind: BillKind,
        /// Its number; empty in a draft.
        pub number: String,
        /// Deposit: which part of the payment, by its id; empty is the deposit of the rates.
        pub instalment: String,
        /// Credit: the bill that it takes back, by its id.
        pub of: String,
        /// Draft of a credit note: the lines that a part is given back of, a list of [`CreditPart`] as JSON; empty is the whole.
        pub part: String,
        /// What it says, a [`Bill`] as JSON. One value, so that no merge can mix two. Of a draft: as it was written; a draft that gets its
        /// number is made anew from the job.
        pub content: String,
        /// Draft: who wrote it.
        pub by: String,
        /// Issued or written at, ms.
        pub at_ms: i64,
        /// Paid on, `YYYY-MM-DD`; empty while it is not.
        pub paid_day: String,
        /// Place in the list.
        pub order: String,
        /// Removed; an issued one never is.
        pub gone: bool,
    }
}

listed!(KeptBill);

impl KeptBill {
    /// Whether it has a number and is kept for ever.
    #[must_use]
    pub fn issued(&self) -> bool {
        !self.number.is_empty()
    }

    /// What it says; absent in a draft, or if it was written by a newer version in a way that cannot be read.
    #[must_use]
    pub fn bill(&self) -> Option<Bill> {
        serde_json::from_str(&self.content).ok()
    }
}

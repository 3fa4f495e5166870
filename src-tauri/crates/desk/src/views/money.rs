//! Arguments and answers of the commands on money.

use job::{Books, Finding, Job, Private};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::SheetSize;

view! {
    /// A job from five answers.
    pub struct CreateQuick {
        /// The answers.
        pub quick: job::quick::Quick,
        /// Its name.
        pub name: String,
    }

    /// Numbers that come next.
    pub struct BillNumbers {
        /// This device issues.
        pub issues: bool,
        /// Some device was named.
        pub named: bool,
        /// Next invoice, deposit invoice or credit note.
        pub invoice: String,
        /// Next quote.
        pub quote: String,
    }

    /// A bill to issue.
    pub struct IssueBill {
        /// The job.
        pub id: String,
        /// What it says; its number is given here.
        pub bill: job::Bill,
        /// Deposit: which part of the payment, by its id; empty is the deposit of the rates.
        pub instalment: String,
        /// Credit: the bill that it takes back, by its id.
        pub of: String,
        /// A draft that it was made from, by its id; empty if there is none.
        pub draft: String,
    }

    /// A bill that was issued here.
    pub struct IssuedBill {
        /// Its job.
        pub job: String,
        /// Its id there.
        pub id: String,
        /// Issued at, ms.
        pub at_ms: i64,
        /// What it says.
        pub bill: job::Bill,
    }

    /// A bill to make.
    pub struct MakeBill {
        /// The job.
        pub job: Job,
        /// Client and money.
        pub private: Private,
        /// Whose name stands on it.
        pub own: job::books::Own,
        /// What it is.
        pub kind: job::bill::BillKind,
        /// Deposit: which part of the payment, by its id; empty is the deposit of the rates.
        pub instalment: String,
        /// Credit: the bill that it takes back, by its id.
        pub of: String,
        /// Credit: the lines that a part is given back of; none takes back the whole, or what is left of it.
        #[serde(default)]
        pub part: Vec<job::bill::CreditPart>,
        /// Day of issue, `YYYY-MM-DD`.
        pub day: String,
    }

    /// A bill that was made.
    pub struct BillMade {
        /// What it says.
        pub bill: job::Bill,
        /// What it lacks.
        pub findings: Vec<Finding>,
        /// Credit: what can be given back line by line.
        pub lines: Vec<CreditLine>,
    }

    /// A line that can be given back.
    pub struct CreditLine {
        /// Which line, and the most that makes sense: its net less its share of what was taken off the whole.
        pub most: job::bill::CreditPart,
        /// What it is for.
        pub label: String,
    }

    /// A job that is over, or nearly.
    pub struct AskActual {
        /// Its id.
        pub id: String,
        /// The job.
        pub job: Job,
        /// Client and money.
        pub private: Private,
        /// Settled jobs.
        pub history: Vec<plan::spent::Settled>,
        /// Now, ms.
        pub now_ms: i64,
    }

    /// What a job really cost.
    pub struct ActualView {
        /// Hours, goods, margin.
        pub actual: plan::spent::Actual,
        /// What earlier jobs teach; absent while there are too few.
        pub advice: Option<plan::spent::Advice>,
        /// What the job would keep if it were settled now.
        pub settled: job::money::Spent,
    }

    /// Five answers and the books.
    pub struct QuickPrice {
        /// The answers.
        pub quick: job::quick::Quick,
        /// The books.
        pub books: Books,
    }

    /// What a job from five answers would cost.
    pub struct QuickMade {
        /// The price.
        pub price: plan::types::Price,
        /// The price may be as low as this, cents: what is not known yet is left for later.
        pub from_cents: i64,
        /// Or as high as this, cents.
        pub to_cents: i64,
        /// Balloons.
        pub balloons: i64,
        /// Working time of all people, s.
        pub work_s: i64,
        /// People.
        pub people: i64,
        /// Work begins, ms; absent while there is no day.
        pub start_by_ms: Option<i64>,
        /// What must be solved.
        pub findings: Vec<Finding>,
    }

    /// A bill to print, or to give out for programs.
    pub struct MakeBillPaper {
        /// What it says.
        pub bill: job::Bill,
        /// Size of the sheet.
        pub size: SheetSize,
        /// Language tag, such as `en-GB`.
        pub language: String,
        /// When it is made, ms since 1970 UTC.
        pub made_ms: i64,
        /// Its pages for a screen as well.
        #[serde(default)]
        #[ts(optional, as = "Option<bool>")]
        pub show: bool,
    }
}

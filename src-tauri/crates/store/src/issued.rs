//! Numbered bills: a number is given out once, in the transaction that keeps what it stands for, and neither is ever taken back.

use job::Part;
use rusqlite::{Connection, OptionalExtension, params};
use serde_json::{Map, Value};

use crate::document::Kind;
use crate::draft::{Changed, Trace};
use crate::edits;
use crate::error::StoreError;
use crate::store::{Check, Store};

/// The longest number and the longest name of a series, bytes.
const LONGEST: usize = 40;
/// Digits that a number has at least.
const DIGITS: usize = 4;

/// What is to be issued.
#[derive(Debug, Clone)]
pub struct ToIssue<'a> {
    /// The job.
    pub job: &'a str,
    /// The id that the bill gets in the job's private part; never used before.
    pub bill: &'a str,
    /// Numbers of one series and prefix follow each other without a gap.
    pub series: &'a str,
    /// Before the number.
    pub prefix: &'a str,
    /// The number is at least this.
    pub least: i64,
    /// A draft that the bill was made from: it is marked as gone.
    pub draft: Option<&'a str>,
}

/// A bill as it was issued.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Issued {
    /// Its number.
    pub number: String,
    /// Its job.
    pub job: String,
    /// Its id there.
    pub bill: String,
    /// What it says.
    pub content: String,
    /// Issued at, ms.
    pub at_ms: i64,
}

impl Store {
    /// Gives out the next number and keeps the bill under it, in the job and in the book of what was issued. `make` writes the bill's
    /// record, given its number: its field `content` is what it says. It cannot be undone.
    pub fn issue(
        &mut self,
        what: &ToIssue<'_>,
        now_ms: i64,
        make: impl FnOnce(&str) -> Result<Map<String, Value>, String>,
        check: impl Check,
    ) -> Result<Changed, StoreError> {
        if !edits::is_id(what.bill) {
            return Err(StoreError::BadId(what.bill.into()));
        }
        if what.prefix.len() > LONGEST || what.series.len() > LONGEST {
            return Err(StoreError::TooLarge("the number"));
        }
        let n = next(&self.conn, what.series, what.prefix, what.least)?;
        let number = format!("{}{n:0DIGITS$}", what.prefix);
        let record = make(&number).map_err(StoreError::Refused)?;
        let content = record.get("content").and_then(Value::as_str);
        let content = content.unwrap_or_default().to_string();
        let mut draft = self.draft(Kind::Job, what.job)?;
        let list = ["bills".to_string()];
        draft.change(Part::Private, now_ms, |tx, log| {
            let add = job::Edit::Add {
                part: Part::Private,
                path: list.to_vec(),
                id: what.bill.into(),
                before: None,
                value: Value::Object(record),
            };
            edits::apply(tx, &add, log)?;
            let Some(old) = what.draft else { return Ok(()) };
            let gone = job::Edit::Remove {
                part: Part::Private,
                path: list.to_vec(),
                id: old.into(),
            };
            edits::apply(tx, &gone, log)
        })?;
        let what = what.clone();
        draft.also = Some(Box::new(move |conn| {
            conn.prepare_cached(
                "INSERT INTO issued (series, prefix, n, number, job, bill, content, at_ms) \
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
            )?
            .execute(params![
                what.series,
                what.prefix,
                n,
                number,
                what.job,
                what.bill,
                content,
                now_ms
            ])?;
            Ok(())
        }));
        self.keep(draft, &Trace::Stay, check)
    }

    /// The number that the next bill of a series would get.
    pub fn next_number(
        &self,
        series: &str,
        prefix: &str,
        least: i64,
    ) -> Result<String, StoreError> {
        let n = next(&self.conn, series, prefix, least)?;
        Ok(format!("{prefix}{n:0DIGITS$}"))
    }

    /// Everything that was issued here for a job, or for all jobs, oldest first.
    pub fn issued(&self, job: Option<&str>) -> Result<Vec<Issued>, StoreError> {
        let rows = self
            .conn
            .prepare_cached(
                "SELECT number, job, bill, content, at_ms FROM issued \
                 WHERE ?1 IS NULL OR job = ?1 ORDER BY at_ms, series, prefix, n",
            )?
            .query_map([job], |row| {
                Ok(Issued {
                    number: row.get(0)?,
                    job: row.get(1)?,
                    bill: row.get(2)?,
                    content: row.get(3)?,
                    at_ms: row.get(4)?,
                })
            })?
            .collect::<Result<_, _>>()?;
        Ok(rows)
    }
}

fn next(conn: &Connection, series: &str, prefix: &str, least: i64) -> Result<i64, StoreError> {
    let last: Option<i64> = conn
        .prepare_cached("SELECT max(n) FROM issued WHERE series = ?1 AND prefix = ?2")?
        .query_row(params![series, prefix], |row| row.get(0))
        .optional()?
        .flatten();
    Ok(last.unwrap_or(0).saturating_add(1).max(least).max(1))
}

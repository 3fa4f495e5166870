//! Texts: too long for paper, or with letters that cannot be seen.

use serde::Serialize;
use serde_json::Value;

use super::numbers::{in_private, set};
use crate::edit::Part;
use crate::finding::{Finding, Severity};
use crate::job_doc::Job;
use crate::money::Private;
use crate::read::room_of;

/// Longer texts are cut on paper, bytes.
const LONG: usize = 100_000;
/// So much of a text is shown in a message, letters.
const SHOWN: usize = 24;

pub(super) fn findings(job: &Job) -> Vec<Finding> {
    let mut look = Look::new(Part::Job);
    look.text(&["name"], &job.name);
    look.text(&["occasion"], &job.occasion);
    look.record("venue", &job.venue);
    look.record("vehicle", &job.vehicle);
    look.record("doors", &job.doors);
    look.record("crew", &job.crew);
    look.record("kit", &job.kit);
    look.record("colours", &job.colours);
    look.record("items", &job.items);
    look.record("pieces", &job.pieces);
    look.record("notes", &job.notes);
    look.record("own_steps", &job.own_steps);
    look.record("photos", &job.photos);
    look.record("damage", &job.damage);
    look.record("waste", &job.waste);
    look.record("away", &job.away);
    look.findings
}

pub(super) fn private_findings(private: &Private) -> Vec<Finding> {
    let mut look = Look::new(Part::Private);
    look.record("client", &private.client);
    look.record("prices", &private.prices);
    look.record("charges", &private.charges);
    look.record("instalments", &private.instalments);
    look.record("spent", &private.spent);
    look.record("signatures", &private.signatures);
    look.findings
}

struct Look {
    part: Part,
    findings: Vec<Finding>,
}

impl Look {
    fn new(part: Part) -> Self {
        Self {
            part,
            findings: Vec::new(),
        }
    }

    fn record(&mut self, name: &str, record: &impl Serialize) {
        // plain data with string keys always becomes a value
        if let Ok(value) = serde_json::to_value(record) {
            self.walk(&mut vec![name.to_string()], &value);
        }
    }

    fn walk(&mut self, path: &mut Vec<String>, value: &Value) {
        match value {
            Value::String(text) => {
                let keys: Vec<&str> = path.iter().map(String::as_str).collect();
                self.text(&keys, text);
            }
            // what was removed is not shown anywhere
            Value::Object(map) if map.get("gone") != Some(&Value::Bool(true)) => {
                for (key, inner) in map {
                    path.push(key.clone());
                    self.walk(path, inner);
                    path.pop();
                }
            }
            _ => {}
        }
    }

    fn text(&mut self, path: &[&str], text: &str) {
        let findings = [long_text(path, text), hidden_letters(self.part, path, text)];
        let part = self.part;
        self.findings
            .extend(findings.into_iter().flatten().map(|found| match part {
                Part::Job => found,
                Part::Private => in_private(found),
            }));
    }
}

fn long_text(path: &[&str], text: &str) -> Option<Finding> {
    (text.len() > LONG).then(|| {
        Finding::new(
            "long_text",
            Severity::Care,
            room_of(path),
            path,
            format!(
                "A text is {} kB long and is cut on paper: {}…",
                text.len() / 1000,
                start(text)
            ),
            "Keep what the crew needs, and put the rest elsewhere.",
        )
    })
}

fn hidden_letters(part: Part, path: &[&str], text: &str) -> Option<Finding> {
    text.chars().any(hidden).then(|| {
        let plain: String = text.chars().filter(|c| !hidden(*c)).collect();
        let what = if plain.trim().is_empty() {
            "A text is made of letters that cannot be seen.".to_string()
        } else {
            format!(
                "A text has letters that cannot be seen or that turn it round: {}",
                start(&plain)
            )
        };
        Finding::new(
            "hidden_letters",
            Severity::Care,
            room_of(path),
            path,
            what,
            "Take them out, or type the text again.",
        )
        .fix("Take them out", vec![set(part, path, plain.as_str())])
    })
}

/// Control characters other than tab and line ends, and the marks that override or isolate the direction of text
/// (Unicode Standard Annex 9: LRE, RLE, PDF, LRO, RLO, LRI, RLI, FSI, PDI). Plain direction marks stay: they are
/// needed in text of two scripts.
fn hidden(letter: char) -> bool {
    (letter.is_control() && !matches!(letter, '\t' | '\n' | '\r'))
        || matches!(letter, '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

fn start(text: &str) -> String {
    text.chars()
        .filter(|c| !hidden(*c))
        .take(SHOWN)
        .collect::<String>()
        .replace(['\n', '\r', '\t'], " ")
}

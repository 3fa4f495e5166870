//! What every paper of a job is made from, with the words that papers share.

use chrono::NaiveDateTime;
use job::Job;
use job::piece::{FrameForm, PieceKind};
use plan::Plan;
use plan::times::live::Live;
use plan::types::Caution;

pub use plan::safety::ALWAYS;

use crate::Sheet;
use crate::doc::Head;
use crate::palette::Palette;
use crate::say::{Say, list, long_day, wall};

/// So many or more, if they are all there are, are everybody.
const EVERYBODY: usize = 4;
/// House rules of more letters stand by themselves, over the whole width.
const LONG_RULES: usize = 200;
/// Letters of a name that need no shortening.
const LONG_NAME: usize = 16;

/// A job, its plan and how to speak of them.
pub struct Source<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its plan.
    pub plan: &'a Plan,
    /// The sheet.
    pub sheet: &'a Sheet,
    /// Figures in words.
    pub say: Say,
    /// Colours.
    pub palette: Palette,
    /// The day as it goes, if it runs; the plan has its times then.
    pub day: Option<&'a Live>,
}

impl<'a> Source<'a> {
    /// Of a job and its plan.
    pub fn new(job: &'a Job, plan: &'a Plan, sheet: &'a Sheet) -> Source<'a> {
        Source {
            job,
            plan,
            sheet,
            say: Say::new(&job.venue.zone, sheet.units, sheet.clock),
            palette: Palette::of(job, plan),
            day: None,
        }
    }

    /// The day of the event at the venue: of the first agreed time.
    pub fn day(&self) -> Option<NaiveDateTime> {
        let times = &self.job.times;
        [&times.ready_by, &times.doors_open, &times.load_in]
            .into_iter()
            .find_map(|t| wall(t))
    }

    /// The name of the job, never empty.
    pub fn name(&self) -> &str {
        if self.job.name.trim().is_empty() {
            "Job without a name"
        } else {
            &self.job.name
        }
    }

    /// Whether a garland of the job hangs on this frame.
    pub fn carries(&self, frame: &str) -> bool {
        let mut pieces = self.job.pieces.values();
        pieces.any(|p| !p.gone && p.kind == PieceKind::Garland && p.on == frame)
    }

    /// Whether a piece is a rail or balustrade that the venue has.
    pub fn is_rail(&self, id: &str) -> bool {
        let rail =
            |p: &job::piece::Piece| p.kind == PieceKind::Frame && p.frame.form == FrameForm::Rail;
        self.job.pieces.get(id).is_some_and(rail)
    }

    /// The short code of a step, by its id; empty if there is no such step.
    pub fn code(&self, id: &str) -> &'a str {
        let step = self.plan.steps.iter().find(|s| s.id == id);
        step.map_or("", |s| s.code.as_str())
    }

    /// The cautions of the job, without the one that stands on every paper in its own box.
    pub fn cautions(&self) -> impl Iterator<Item = &Caution> {
        self.plan.cautions.iter().filter(|c| c.text != ALWAYS)
    }

    /// The name of a piece; "Piece" where it has none.
    pub fn piece_name(&self, id: &str) -> String {
        let named = self.plan.pieces.iter().find(|p| p.piece == id);
        let name = named.map_or("", |p| p.name.trim());
        if name.is_empty() {
            "Piece".to_string()
        } else {
            name.to_string()
        }
    }

    /// An agreed wall clock time, with its day where it is another one.
    pub fn agreed(&self, text: &str) -> Option<String> {
        wall(text).map(|at| self.say.time_beside(at, self.day()))
    }

    /// An instant as a local time, with its day where it is not the day of the event.
    pub fn instant(&self, ms: Option<i64>) -> Option<String> {
        let at = self.say.local(ms?)?;
        Some(self.say.time_beside(at, self.day()))
    }

    /// Who works: everybody, or by names.
    pub fn hands(&self, names: &[String]) -> String {
        if names.len() >= EVERYBODY && names.len() == self.plan.calls.len() {
            return "everybody".to_string();
        }
        let names: Vec<String> = names.iter().map(|n| self.called(n)).collect();
        list(&names)
    }

    /// A long name by its first word where nobody else has that. In full it stands on the call sheet.
    fn called(&self, name: &str) -> String {
        let first = name.split_whitespace().next().unwrap_or("");
        let same = |other: &str| other.split_whitespace().next() == Some(first);
        let calls = self.plan.calls.iter();
        let alone = calls.filter(|c| same(&c.name)).count() == 1;
        if name.chars().count() > LONG_NAME && alone && !first.ends_with('.') {
            first.to_string()
        } else {
            name.to_string()
        }
    }

    /// House rules that are too long for a column: there they would be a tower.
    pub fn long_rules(&self) -> Option<&str> {
        let rules = self.job.venue.house_rules.trim();
        (rules.chars().count() > LONG_RULES).then_some(rules)
    }

    /// House rules that fit into a column; empty where there are none.
    pub fn short_rules(&self) -> &str {
        match self.long_rules() {
            Some(_) => "",
            None => self.job.venue.house_rules.trim(),
        }
    }

    /// The head of a paper for the crew.
    pub fn crew_head(&self, title: &str) -> Head {
        let mut place = self.day().map(long_day).unwrap_or_default();
        let venue = self.job.venue.name.trim();
        if !venue.is_empty() {
            place = if place.is_empty() {
                venue.to_string()
            } else {
                format!("{place}, {venue}")
            };
        }
        let mut who: Vec<String> = self
            .plan
            .calls
            .iter()
            .map(|c| self.called(&c.name))
            .collect();
        if who.len() > 4 {
            who.truncate(3);
            who.push("others".to_string());
        }
        let mut aside = vec![self.name().to_string(), place];
        let van = self.job.vehicle.name.trim();
        let people = list(&who);
        aside.push(match (van.is_empty(), people.is_empty()) {
            (false, false) => format!("{van}, {people}"),
            (false, true) => van.to_string(),
            (true, _) => people,
        });
        aside.retain(|t| !t.is_empty());
        Head {
            title: title.to_string(),
            aside,
        }
    }
}

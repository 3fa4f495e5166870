//! Blown in the studio or at the venue: for each piece the job is planned both ways, and the consequences are put side by side.

use std::collections::BTreeSet;

use job::list::live;
use job::piece::{BlownAt, Piece, PieceKind};
use job::time::instant;
use job::{Edit, Finding, Fix, Job, Private, Severity};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::pieces::called;
use crate::types::{Phase, Plan};
use crate::{Depth, Memory, plan_at};

/// A piece that can be blown here or there.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct Choice {
    /// Its id.
    pub piece: String,
    /// Its name.
    pub name: String,
    /// Where it is blown as the job stands.
    pub now: BlownAt,
    /// Both ways: first the studio, then the venue.
    pub ways: Vec<BlownWay>,
}

/// What comes of blowing a piece at one place, all else as it is.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct BlownWay {
    /// Where.
    pub at: BlownAt,
    /// The edits that make it so; none for the job as it is.
    pub edits: Vec<Edit>,
    /// What the piece takes in the vehicle, mL.
    pub piece_ml: i64,
    /// What everything takes in the vehicle, mL.
    pub volume_ml: i64,
    /// Trips of all vehicles.
    pub trips: i64,
    /// Everything has its place in a vehicle and passes every door.
    pub fits: bool,
    /// Working time in the studio, packing and loading, all people, s.
    pub studio_s: i64,
    /// Working time at the venue until the hand-over, all people, s.
    pub venue_s: i64,
    /// The first work begins, ms.
    pub start_by_ms: Option<i64>,
    /// Leave the studio, ms.
    pub leave_by_ms: Option<i64>,
    /// You come so long after the load-in opens, s; negative is too late for the work.
    pub slack_s: Option<i64>,
    /// From the first balloon of the piece to the opening of the doors, s: how old it is when the guests come.
    pub age_s: Option<i64>,
    /// Inflators that run at the venue: each needs a socket and is heard.
    pub inflators: i64,
    /// Price with tax, cents; absent in a crew copy.
    pub price_cents: Option<i64>,
    /// Nothing of times and load stands against it.
    pub enough: bool,
    /// What stands against it, worst first.
    pub against: Vec<String>,
}

/// The choice for every piece that has one, in the order of the job.
#[must_use]
pub fn choices(
    job: &Job,
    private: Option<&Private>,
    depth: Depth,
    memory: &mut Memory,
) -> Vec<Choice> {
    let mut all = Vec::new();
    for (id, piece) in live(&job.pieces) {
        if !may_choose(piece) {
            continue;
        }
        let ways = [BlownAt::Studio, BlownAt::Venue].map(|at| {
            let mut changed = job.clone();
            if let Some(piece) = changed.pieces.get_mut(id) {
                piece.blown_at = at;
            }
            let plan = plan_at(&changed, private, depth, memory);
            way(&changed, id, at, piece.blown_at, &plan)
        });
        all.push(Choice {
            piece: id.into(),
            name: called(piece).into(),
            now: match piece.blown_at {
                BlownAt::Venue => BlownAt::Venue,
                BlownAt::Studio | BlownAt::Newer => BlownAt::Studio,
            },
            ways: ways.into(),
        });
    }
    all
}

/// Where the load-in comes too late for what is blown at the venue: each piece of it blown in the studio is tried, and what makes the
/// load-in early enough is offered first, since it is the cause. `planned` makes a plan of a changed job.
pub(crate) fn offer_studio(
    job: &Job,
    findings: &mut [Finding],
    planned: &mut dyn FnMut(&Job) -> Plan,
) {
    let stops = |findings: &[Finding]| -> BTreeSet<String> {
        let stops = findings.iter().filter(|f| f.severity == Severity::Stop);
        stops
            .filter(|f| about_it(&f.code))
            .map(|f| f.code.clone())
            .collect()
    };
    let mut may = stops(findings);
    may.remove("load_in_too_late");
    let late = findings.iter_mut().find(|f| f.code == "load_in_too_late");
    let Some(late) = late else { return };
    for (id, piece) in live(&job.pieces) {
        if !at_the_venue(piece) {
            continue;
        }
        let mut changed = job.clone();
        if let Some(piece) = changed.pieces.get_mut(id) {
            piece.blown_at = BlownAt::Studio;
        }
        let plan = planned(&changed);
        if !stops(&plan.findings).is_subset(&may) {
            continue;
        }
        let name = called(piece);
        late.action = format!("Blow {name} in the studio. {}", late.action);
        late.fixes.insert(
            0,
            Fix {
                label: format!("Blow {name} in the studio"),
                edits: vec![Edit::set(&["pieces", id, "blown_at"], "studio")],
            },
        );
    }
}

/// Whether it makes a difference where a piece is blown. Frames have no balloons, and floaters are filled where they float.
#[must_use]
pub fn may_choose(piece: &Piece) -> bool {
    matches!(
        piece.kind,
        PieceKind::Garland
            | PieceKind::Chain
            | PieceKind::Classic
            | PieceKind::Wall
            | PieceKind::Bouquet
            | PieceKind::Foils
            | PieceKind::Centrepiece
            | PieceKind::Loose
    )
}

/// Whether a piece travels flat and is blown at the venue.
#[must_use]
pub fn at_the_venue(piece: &Piece) -> bool {
    piece.blown_at == BlownAt::Venue && may_choose(piece)
}

fn way(job: &Job, id: &str, at: BlownAt, now: BlownAt, plan: &Plan) -> BlownWay {
    let against: Vec<String> = plan
        .findings
        .iter()
        .filter(|f| f.severity == Severity::Stop && about_it(&f.code))
        .map(|f| f.message.clone())
        .collect();
    let work = |there: bool| {
        plan.tasks
            .iter()
            .filter(|t| match t.phase {
                Phase::Install | Phase::HandOver => there,
                Phase::Prepare | Phase::Pack => !there,
                Phase::Load => !there && t.id == "load",
                Phase::Order | Phase::Strike | Phase::Return => false,
            })
            .map(|t| t.work_s)
            .fold(0, i64::saturating_add)
    };
    let blown = |id: &str| {
        ["inflate.", "pump.", "links.", "foils.", "helium."]
            .iter()
            .any(|w| id.starts_with(w))
    };
    let first = plan
        .tasks
        .iter()
        .filter(|t| t.piece == id && blown(&t.id))
        .filter_map(|t| t.start_ms)
        .min();
    let doors = instant(&job.times.doors_open, &job.venue.zone).ok();
    let inflators = plan
        .tasks
        .iter()
        .filter(|t| t.phase == Phase::Install && t.inflators > 0)
        .map(|t| t.inflators)
        .max();
    BlownWay {
        at,
        edits: if at == now {
            Vec::new()
        } else {
            let word = if at == BlownAt::Venue {
                "venue"
            } else {
                "studio"
            };
            vec![Edit::set(&["pieces", id, "blown_at"], word)]
        },
        piece_ml: plan
            .load
            .parcels
            .iter()
            .filter(|p| p.piece == id && p.soft)
            .map(|p| p.volume_ml)
            .fold(0, i64::saturating_add),
        volume_ml: plan.load.volume_ml,
        trips: plan.load.trips,
        fits: plan.load.stowed && plan.load.passes,
        studio_s: work(false),
        venue_s: work(true),
        start_by_ms: plan.figures.start_by_ms,
        leave_by_ms: plan.figures.leave_by_ms,
        slack_s: plan.figures.slack_s,
        age_s: first
            .zip(doors)
            .map(|(first, doors)| (doors - first) / 1000),
        inflators: inflators.unwrap_or(0),
        price_cents: plan.figures.price_cents,
        enough: against.is_empty() && plan.figures.start_by_ms.is_some(),
        against,
    }
}

/// Findings that say that times or load do not hold.
fn about_it(code: &str) -> bool {
    crate::what_if::about_times(code)
        || ["too_wide", "too_long", "stuck", "not_stowed", "too_heavy"].contains(&code)
}

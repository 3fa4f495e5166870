//! The work of a job as tasks, from counted pieces, parcels and rates. Times and people come later.

mod made;
pub mod pace;
mod strike;
mod way;
mod ways;

use std::collections::{BTreeMap, BTreeSet};

use job::Job;
use job::list::live;
use job::piece::{FrameForm, PieceKind};

use crate::frames::brought;
use crate::inflate::{up, whole};
use crate::learning::mean_factor;
use crate::load::choice::at_the_venue;
use crate::pieces::{Counted, called};
use crate::types::{Load, Phase, PiecePlan, Task, Term};

pub use strike::strike;
pub use ways::{heavy, inflators};

/// Studio work is cut into parts of at most this, s, so that several people can share it and it fits between other things.
const PART_S: i64 = 3600;
/// Parts that one work is cut into at most; more only makes them longer.
const MOST_PARTS: i64 = 200;
/// Longest duration of one task, s: a hundred days. What is longer is a slip of the keyboard, and has its finding.
const MOST_S: f64 = 8_640_000.0;

/// What a task needs besides people.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Skill {
    /// Somebody who works on a ladder.
    Ladder,
    /// Somebody who drives.
    Drives,
}

/// A task and the skill it needs.
#[derive(Debug, Clone, PartialEq)]
pub struct Planned {
    /// The task, without times.
    pub task: Task,
    /// Needed skill.
    pub skill: Option<Skill>,
    /// What kind of work it is, for the paces of people ([`pace::FIELDS`]).
    pub kind: Option<usize>,
}

/// All tasks but the strike, in the order of the work.
#[must_use]
pub fn tasks(job: &Job, counted: &Counted, load: &Load) -> Vec<Planned> {
    // a job that is still empty has no work yet
    if counted.pieces.is_empty() {
        return Vec::new();
    }
    let crew = i64::try_from(live(&job.crew).len()).unwrap_or(1).max(1);
    let mut list = List {
        job,
        crew,
        out: Vec::new(),
        known: BTreeSet::new(),
        making: Phase::Prepare,
        ready: BTreeMap::new(),
        comes: BTreeMap::new(),
        inflators: inflators(job),
    };
    if counted.pieces.iter().any(|p| p.balloons > 0) {
        list.one(
            "check",
            Phase::Order,
            "",
            "Check the delivery",
            whole(job.rates.check_s),
            &[],
            "delivery checked",
        );
    }
    let there = |plan: &PiecePlan| job.pieces.get(&plan.piece).is_some_and(at_the_venue);
    for plan in counted.pieces.iter().filter(|p| !there(p)) {
        list.make_piece(counted, plan, load);
    }
    list.up_to_the_venue(counted, load);
    list.making = Phase::Install;
    for plan in counted.pieces.iter().filter(|p| there(p)) {
        list.make_piece(counted, plan, load);
    }
    for plan in &counted.pieces {
        list.in_the_room(plan);
        if let Some(made) = &plan.made {
            list.put_up(counted, plan, made);
        }
    }
    list.hand_over();
    list.out
}

struct List<'a> {
    job: &'a Job,
    crew: i64,
    /// So many inflators there are: so many people can blow one piece.
    inflators: i64,
    out: Vec<Planned>,
    /// Ids of `out`.
    known: BTreeSet<String>,
    /// When pieces are made: in the studio or at the venue.
    making: Phase,
    /// For pieces made at the venue what comes last of it: they are put up after it.
    ready: BTreeMap<String, Vec<String>>,
    /// The carrying in that brings the last parcel of each piece.
    comes: BTreeMap<String, String>,
}

impl List<'_> {
    /// Blow, tie, cluster, string, bag.
    fn make_piece(&mut self, counted: &Counted, plan: &PiecePlan, load: &Load) {
        let id = plan.piece.as_str();
        let name = self.name(id);
        if let Some(work) = counted.work.iter().find(|w| w.piece == plan.piece) {
            let blown = self.parts(
                "inflate",
                id,
                &format!("Blow and tie pairs for {name}"),
                work.inflate_s,
                1,
                &[],
            );
            let pumped = self.parts(
                "pump",
                id,
                &format!("Pump and tie small pairs for {name}"),
                work.pump_s,
                0,
                &[],
            );
            let all: Vec<String> = blown.into_iter().chain(pumped).collect();
            let what = match plan.kind {
                PieceKind::Classic => "rings",
                PieceKind::Centrepiece => "feet",
                PieceKind::Loose | PieceKind::Wall => "quads",
                _ => "clusters",
            };
            let clusters = self.parts(
                "cluster",
                id,
                &format!("Twist {what} for {name}"),
                work.cluster_s,
                0,
                &all,
            );
            let strung = self.parts(
                "string",
                id,
                &format!("String {name}"),
                work.string_s,
                0,
                &clusters,
            );
            let [links_title, tie_title] = self.link_titles(plan);
            let links = self.parts("links", id, &links_title, work.links_s, 0, &[]);
            let tied = self.parts("tie", id, &tie_title, work.tie_s, 0, &links);
            let tied_groups = if clusters.is_empty() { &all } else { &clusters };
            let made = match plan.made {
                Some(_) => self.make(plan, work, tied_groups),
                None => Vec::new(),
            };
            let bags = load
                .parcels
                .iter()
                .filter(|p| p.soft && p.piece == plan.piece)
                .count();
            let seconds =
                whole(i64::try_from(bags).unwrap_or(0)) * whole(self.job.rates.bag_s.max(0));
            let before: Vec<String> = strung.into_iter().chain(tied).chain(made).collect();
            if self.making == Phase::Install {
                let last = if before.is_empty() {
                    tied_groups
                } else {
                    &before
                };
                self.ready.insert(id.into(), last.clone());
            }
            if bags > 0 {
                let before: Vec<&str> = before.iter().map(String::as_str).collect();
                self.one(
                    &format!("bag.{id}"),
                    Phase::Pack,
                    id,
                    &format!("Bag and label {name}"),
                    seconds,
                    &before,
                    &count(bags, "bag"),
                );
            }
        }
    }

    /// Frames, garlands, chains, what was kept back.
    fn in_the_room(&mut self, plan: &PiecePlan) {
        let id = plan.piece.as_str();
        let name = self.name(id);
        let rates = self.job.rates.clone();
        match plan.kind {
            PieceKind::Frame => {
                let frames = brought(self.job, plan).map_or(0, |f| f.count);
                if frames > 0 {
                    let seconds = whole(frames) * whole(rates.frame_s.max(0));
                    self.together(
                        &format!("frame.{id}"),
                        Phase::Install,
                        id,
                        &format!("Set up {name}"),
                        seconds,
                        self.crew.min(2),
                        &["carry"],
                        "frame",
                    );
                }
            }
            PieceKind::Garland => {
                let Some(g) = &plan.garland else { return };
                let metres = whole(g.length_mm) / 1000.0;
                let on = self
                    .job
                    .pieces
                    .get(id)
                    .map(|p| p.on.clone())
                    .unwrap_or_default();
                let frame = format!("frame.{on}");
                let before: Vec<&str> = if self.has(&frame) || self.is_frame(&on) {
                    vec!["carry", &frame]
                } else {
                    vec!["carry"]
                };
                let people = self.crew.min(2);
                let alone = if people == 1 {
                    whole(rates.alone_pct.max(0)) / 100.0
                } else {
                    1.0
                };
                let seconds = metres * whole(rates.hang_s_m.max(0)) * alone;
                let label = format!("{metres:.1} m hung and shaped");
                self.together(
                    &format!("hang.{id}"),
                    Phase::Install,
                    id,
                    &format!("Hang and shape {name}"),
                    seconds,
                    people,
                    &before,
                    &label,
                );
                if let Some(hang) = self.out.last_mut() {
                    hang.skill = Some(Skill::Ladder);
                }
                let fillers: i64 = g.fillers.iter().map(|f| f.balls).sum();
                if fillers > 0 {
                    let hang = format!("hang.{id}");
                    let seconds = whole(fillers) * whole(rates.filler_s.max(0));
                    self.one(
                        &format!("fill.{id}"),
                        Phase::Install,
                        id,
                        &format!("Fill the gaps of {name}"),
                        seconds,
                        &[&hang],
                        "fillers put in",
                    );
                    self.by_two_as_well(fillers, rates.filler_s);
                }
                if g.extras > 0 {
                    let hang = format!("hang.{id}");
                    let seconds = whole(g.extras) * whole(rates.extra_s.max(0));
                    let title = format!("Put in what was kept back of {name}");
                    self.one(
                        &format!("extras.{id}"),
                        Phase::Install,
                        id,
                        &title,
                        seconds,
                        &[&hang],
                        "clusters put in",
                    );
                    self.by_two_as_well(g.extras, rates.extra_s);
                }
            }
            PieceKind::Chain => {
                let Some(c) = &plan.chain else { return };
                let seconds = whole(c.count) * whole(rates.drape_s.max(0));
                self.together(
                    &format!("drape.{id}"),
                    Phase::Install,
                    id,
                    &format!("Drape {name}"),
                    seconds,
                    self.crew.min(2),
                    &["carry"],
                    "chains draped",
                );
            }
            PieceKind::Classic
            | PieceKind::Wall
            | PieceKind::Bouquet
            | PieceKind::Foils
            | PieceKind::Floaters
            | PieceKind::Centrepiece
            | PieceKind::Loose
            | PieceKind::Newer => {}
        }
    }

    fn hand_over(&mut self) {
        let before = self.ids(|t| t.phase == Phase::Install);
        let before: Vec<&str> = before.iter().map(String::as_str).collect();
        let seconds = whole(self.job.rates.finish_s.max(0));
        self.one(
            "finish",
            Phase::HandOver,
            "",
            "Tidy, photographs, hand-over",
            seconds,
            &before,
            "tidy, photographs, hand-over",
        );
    }

    /// Work of one person, cut into parts.
    fn parts(
        &mut self,
        work: &str,
        piece: &str,
        title: &str,
        seconds: f64,
        inflators: i64,
        after: &[String],
    ) -> Vec<String> {
        let seconds = seconds * self.learnt(piece);
        let total = up(seconds.clamp(0.0, MOST_S));
        if total <= 0 {
            return Vec::new();
        }
        let n = ((total + PART_S - 1) / PART_S).min(MOST_PARTS);
        let mut after: Vec<&str> = after.iter().map(String::as_str).collect();
        // nothing is made of what may not have come; at the venue it has
        if after.is_empty() {
            after.push(match self.making {
                Phase::Install => "carry",
                _ => "check",
            });
        }
        let phase = self.making;
        (1..=n)
            .map(|i| {
                let part = if i == n {
                    total - total / n * (n - 1)
                } else {
                    total / n
                };
                let id = format!("{work}.{piece}.{i}");
                let title = if n == 1 {
                    title.to_string()
                } else {
                    format!("{title}, {i} of {n}")
                };
                self.push(
                    &id,
                    phase,
                    piece,
                    &title,
                    whole(part),
                    whole(part),
                    1,
                    &after,
                    title.as_str(),
                );
                if let Some(last) = self.out.last_mut() {
                    last.task.inflators = inflators;
                }
                if inflators > 0 {
                    let most = self.crew.min(self.inflators);
                    self.by(1, most, |people| whole(part) / people);
                }
                id
            })
            .collect()
    }

    /// Work of one person.
    #[expect(
        clippy::too_many_arguments,
        reason = "one line for each task of the list above"
    )]
    fn one(
        &mut self,
        id: &str,
        phase: Phase,
        piece: &str,
        title: &str,
        seconds: f64,
        after: &[&str],
        label: &str,
    ) {
        self.push(id, phase, piece, title, seconds, seconds, 1, after, label);
    }

    /// Work that several do together from start to end.
    #[expect(
        clippy::too_many_arguments,
        reason = "one line for each task of the list above"
    )]
    fn together(
        &mut self,
        id: &str,
        phase: Phase,
        piece: &str,
        title: &str,
        elapsed: f64,
        people: i64,
        after: &[&str],
        label: &str,
    ) {
        self.push(
            id,
            phase,
            piece,
            title,
            elapsed * whole(people),
            elapsed,
            people,
            after,
            label,
        );
    }

    /// Work that several share out.
    #[expect(
        clippy::too_many_arguments,
        reason = "one line for each task of the list above"
    )]
    fn shared(
        &mut self,
        id: &str,
        phase: Phase,
        title: &str,
        work: f64,
        people: i64,
        after: &[&str],
        label: &str,
    ) {
        self.push(
            id,
            phase,
            "",
            title,
            work,
            work / whole(people.max(1)),
            people,
            after,
            label,
        );
    }

    #[expect(
        clippy::too_many_arguments,
        reason = "the three forms above are what is called"
    )]
    fn push(
        &mut self,
        id: &str,
        phase: Phase,
        piece: &str,
        title: &str,
        work: f64,
        elapsed: f64,
        people: i64,
        after: &[&str],
        label: &str,
    ) {
        // what is made at the venue is put up when it is made
        let made = self.ready.get(piece).filter(|_| after.contains(&"carry"));
        let made: Vec<String> = made.cloned().unwrap_or_default();
        let work_s = self.takes(phase, piece, work, MOST_S * 1000.0);
        let duration_s = self.takes(phase, piece, elapsed, MOST_S);
        self.out.push(Planned {
            task: Task {
                id: id.into(),
                title: title.into(),
                phase,
                piece: piece.into(),
                work_s,
                duration_s,
                people,
                after: after
                    .iter()
                    .filter(|a| self.has(a) || a.starts_with("frame."))
                    .map(|a| {
                        self.comes
                            .get(piece)
                            .filter(|_| *a == "carry")
                            .map_or(*a, |c| c)
                    })
                    .map(ToString::to_string)
                    .chain(made)
                    .collect(),
                terms: vec![Term {
                    label: label.into(),
                    value: work_s,
                }],
                ..Task::default()
            },
            skill: None,
            kind: pace::kind(id),
        });
        self.known.insert(id.into());
    }

    /// What a working time is with learning and rest, s, and no more than that.
    fn takes(&self, phase: Phase, piece: &str, seconds: f64, most: f64) -> i64 {
        let rest = whole(self.job.rules.rest_pct.clamp(0, 200)) / 100.0 + 1.0;
        // what is made in the studio has its learning before it is cut into parts
        let learnt = match phase {
            Phase::Install => self.learnt(piece),
            _ => 1.0,
        };
        up((seconds * learnt * rest).clamp(0.0, most))
    }

    /// What the making of a piece takes of its time without learning: less than 1 where there are several alike.
    fn learnt(&self, piece: &str) -> f64 {
        let alike = self.job.pieces.get(piece).map_or(1, |p| match p.kind {
            PieceKind::Classic => p.classic.count,
            PieceKind::Bouquet => p.bouquet.count,
            PieceKind::Centrepiece => p.centrepiece.count,
            PieceKind::Chain => p.chain.count,
            _ => 1,
        });
        mean_factor(alike, self.job.rules.learn_pct)
    }

    fn has(&self, id: &str) -> bool {
        self.known.contains(id)
    }

    fn has_bag(&self, piece: &str) -> bool {
        self.has(&format!("bag.{piece}"))
    }

    /// Whether a piece is a frame of this job: it may stand later in the list than what hangs on it.
    fn is_frame(&self, id: &str) -> bool {
        self.job.pieces.get(id).is_some_and(|p| {
            p.kind == PieceKind::Frame
                && !p.gone
                && p.frame.count > 0
                && p.frame.form != FrameForm::Rail
        })
    }

    fn ids(&self, which: impl Fn(&Task) -> bool) -> Vec<String> {
        self.out
            .iter()
            .map(|p| &p.task)
            .filter(|t| which(t))
            .map(|t| t.id.clone())
            .collect()
    }

    fn name(&self, piece: &str) -> String {
        self.job
            .pieces
            .get(piece)
            .map(|p| called(p).to_string())
            .unwrap_or_default()
    }
}

/// `1 bag`, `3 bags`; `bag or case` becomes `bags or cases`.
fn count(n: usize, thing: &str) -> String {
    if n == 1 {
        return format!("1 {thing}");
    }
    let plural: Vec<String> = thing
        .split(' ')
        .map(|w| {
            if w == "or" {
                w.to_string()
            } else {
                format!("{w}s")
            }
        })
        .collect();
    format!("{n} {}", plural.join(" "))
}

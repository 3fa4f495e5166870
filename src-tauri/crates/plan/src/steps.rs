//! The checklist. A step's id comes from what it is about, so that a tick survives a change of plan.

use std::collections::BTreeMap;

use job::Job;
use job::list::live;
use job::piece::{Mount, PieceKind};

use crate::order::bags_in_words;
use crate::pieces::{Counted, called};
use crate::safety::{BALLAST, EYES, LADDER, TWO_TO_LIFT};
use crate::types::{Load, OrderLine, Phase, PiecePlan, Step, Task};

/// A step's title fits two lines at 60 px: so many characters.
pub const LONGEST_TITLE: usize = 32;

/// Every step of the job, in the order of the work.
#[must_use]
pub fn steps(
    job: &Job,
    counted: &Counted,
    order: &[OrderLine],
    load: &Load,
    tasks: &[Task],
) -> Vec<Step> {
    let names: BTreeMap<&str, String> = live(&job.crew)
        .into_iter()
        .map(|(id, c)| (id, c.name.clone()))
        .collect();
    let mut list = List {
        tasks,
        names,
        steps: Vec::new(),
    };
    list.order(order);
    for plan in &counted.pieces {
        list.prepare(job, plan);
    }
    list.pack(load);
    list.load(job, load);
    list.install(job, counted, load);
    list.hand_over(counted);
    list.strike(job, counted);
    let mut number: BTreeMap<Phase, u32> = BTreeMap::new();
    // a parcel's step has the parcel's own code
    for step in list.steps.iter_mut().filter(|s| s.code.is_empty()) {
        let n = number.entry(step.phase).or_default();
        *n += 1;
        step.code = format!("{}{n}", letter(step.phase));
    }
    list.steps
}

/// The letter of a phase on paper.
#[must_use]
pub fn letter(phase: Phase) -> char {
    match phase {
        Phase::Order => 'O',
        Phase::Prepare => 'P',
        Phase::Pack => 'B',
        Phase::Load => 'L',
        Phase::Install => 'S',
        Phase::HandOver => 'H',
        Phase::Strike => 'T',
    }
}

/// A verb and a name, the name cut to what fits.
fn title(before: &str, name: &str, after: &str) -> String {
    let room = LONGEST_TITLE.saturating_sub(
        before.chars().count() + after.chars().count() + usize::from(!before.is_empty()),
    );
    let name = name.trim();
    let cut = if name.chars().count() <= room {
        name.to_string()
    } else {
        let kept: String = name.chars().take(room.saturating_sub(1)).collect();
        format!("{}…", kept.trim_end())
    };
    format!("{before} {cut}{after}").trim().to_string()
}

struct List<'a> {
    tasks: &'a [Task],
    names: BTreeMap<&'a str, String>,
    steps: Vec<Step>,
}

impl List<'_> {
    fn add(&mut self, id: String, phase: Phase, title: String, how: &str) -> &mut Step {
        let at = self.steps.len();
        self.steps.push(Step {
            id,
            phase,
            title,
            how: how.into(),
            quantity: 1,
            ..Step::default()
        });
        &mut self.steps[at]
    }

    /// People, start and duration of the tasks whose ids begin so.
    fn timed(&mut self, prefix: &str) {
        let tasks: Vec<&Task> = self
            .tasks
            .iter()
            .filter(|t| t.id == prefix || t.id.starts_with(&format!("{prefix}.")))
            .collect();
        let mut who: Vec<String> = Vec::new();
        for id in tasks.iter().flat_map(|t| &t.who) {
            if let Some(name) = self.names.get(id.as_str()).filter(|n| !who.contains(n)) {
                who.push(name.clone());
            }
        }
        let start = tasks.iter().filter_map(|t| t.start_ms).min();
        let duration = tasks.iter().map(|t| t.duration_s).sum();
        if let Some(step) = self.steps.last_mut() {
            (step.who, step.start_ms, step.duration_s) = (who, start, duration);
        }
    }

    fn order(&mut self, order: &[OrderLine]) {
        for line in order.iter().filter(|l| l.short > 0) {
            let key = if line.item.is_empty() {
                format!("{}-{}", line.colour, line.size_in)
            } else {
                line.item.clone()
            };
            let bags = bags_in_words(&line.bags);
            let step = self.add(
                format!("buy.{key}"),
                Phase::Order,
                title("Order", &line.name, ""),
                &format!("{} short: {bags}.", line.short),
            );
            step.quantity = line.bags.iter().map(|b| b.count).sum();
            step.unit = "bags".into();
        }
        if !order.is_empty() {
            self.add(
                "check".into(),
                Phase::Order,
                "Check the delivery".into(),
                "Every colour and size against the order list.",
            );
            self.timed("check");
        }
    }

    fn prepare(&mut self, job: &Job, plan: &PiecePlan) {
        let id = &plan.piece;
        let name = job
            .pieces
            .get(id)
            .map(called)
            .unwrap_or_default()
            .to_string();
        if let Some(g) = &plan.garland {
            self.counted(
                format!("inflate.{id}"),
                Phase::Prepare,
                title("Blow pairs:", &name, ""),
                g.pairs,
                "pairs",
                "By the sizing sheet, in the order of the cards.",
            );
            self.timed(&format!("inflate.{id}"));
            if self
                .tasks
                .iter()
                .any(|t| t.id.starts_with(&format!("pump.{id}.")))
            {
                self.add(
                    format!("pump.{id}"),
                    Phase::Prepare,
                    title("Pump small pairs:", &name, ""),
                    "By hand pump, strokes by the sizing sheet.",
                );
                self.timed(&format!("pump.{id}"));
            }
            self.counted(
                format!("cluster.{id}"),
                Phase::Prepare,
                title("Twist clusters:", &name, ""),
                g.on_line + g.extras,
                "clusters",
                "By the cluster cards.",
            );
            self.timed(&format!("cluster.{id}"));
            self.counted(
                format!("string.{id}"),
                Phase::Prepare,
                title("String", &name, ""),
                g.on_line,
                "clusters",
                "In the stringing order, nestled close.",
            );
            self.timed(&format!("string.{id}"));
        }
        if let Some(c) = &plan.chain {
            self.counted(
                format!("links.{id}"),
                Phase::Prepare,
                title("Pump links:", &name, ""),
                c.links * c.count / 2,
                "pairs",
                &format!("{} strokes to a link.", c.strokes),
            );
            self.timed(&format!("links.{id}"));
            self.counted(
                format!("tie.{id}"),
                Phase::Prepare,
                title("Tie the links:", &name, ""),
                c.links * c.count,
                "links",
                "Tail to tail, trimmed.",
            );
            self.timed(&format!("tie.{id}"));
        }
    }

    fn counted(
        &mut self,
        id: String,
        phase: Phase,
        title: String,
        quantity: i64,
        unit: &str,
        how: &str,
    ) {
        let step = self.add(id, phase, title, how);
        step.quantity = quantity;
        step.unit = unit.into();
    }

    fn pack(&mut self, load: &Load) {
        let mut nth: BTreeMap<String, u32> = BTreeMap::new();
        for parcel in &load.parcels {
            let about = if parcel.piece.is_empty() {
                key(&parcel.name)
            } else {
                parcel.piece.clone()
            };
            let n = nth.entry(about.clone()).or_default();
            *n += 1;
            let holds: Vec<String> = parcel
                .holds
                .iter()
                .take(4)
                .map(|h| {
                    if h.count == 1 {
                        h.what.clone()
                    } else {
                        format!("{} x {}", h.count, h.what)
                    }
                })
                .collect();
            let id = format!("pack.{about}.{n}");
            let step = self.add(
                id,
                Phase::Pack,
                title(&format!("Pack {}:", parcel.code), &parcel.name, ""),
                &holds.join(", "),
            );
            step.piece.clone_from(&parcel.piece);
            step.code.clone_from(&parcel.code);
        }
    }

    fn load(&mut self, job: &Job, load: &Load) {
        let parcels = i64::try_from(load.parcels.len()).unwrap_or(0);
        self.counted(
            "load".into(),
            Phase::Load,
            "Load the vehicle".into(),
            parcels,
            "bags and cases",
            "Cases first, bags last, nothing on top of them.",
        );
        self.timed("load");
        if let Some(step) = self.steps.last_mut() {
            step.caution = TWO_TO_LIFT.into();
        }
        if job.drive.minutes > 0 {
            let to = if job.venue.name.trim().is_empty() {
                "the venue"
            } else {
                job.venue.name.trim()
            };
            self.add(
                "drive".into(),
                Phase::Load,
                title("Drive to", to, ""),
                &job.venue.address,
            );
            self.timed("drive");
        }
    }

    fn install(&mut self, job: &Job, counted: &Counted, load: &Load) {
        let parcels = i64::try_from(load.parcels.len()).unwrap_or(0);
        self.counted(
            "carry".into(),
            Phase::Install,
            "Carry everything in".into(),
            parcels,
            "bags and cases",
            &job.venue.contact,
        );
        self.timed("carry");
        // frames first: garlands hang on them
        for plan in counted
            .pieces
            .iter()
            .filter(|p| p.frame.as_ref().is_some_and(|f| f.count > 0))
        {
            let Some(piece) = job.pieces.get(&plan.piece) else {
                continue;
            };
            let id = &plan.piece;
            let frames = plan.frame.as_ref().map_or(1, |f| f.count);
            self.counted(
                format!("frame.{id}"),
                Phase::Install,
                title("Set up", called(piece), ""),
                frames,
                "",
                &spot(&piece.spot),
            );
            self.timed(&format!("frame.{id}"));
            let kilos = plan.frame.as_ref().map_or(0, |f| f.ballast_g) / 1000;
            let step = self.add(
                format!("ballast.{id}"),
                Phase::Install,
                title("Ballast", called(piece), ""),
                &format!("{kilos} kg in all, by the maker's instructions."),
            );
            step.caution = BALLAST.into();
            step.piece.clone_from(id);
        }
        for plan in &counted.pieces {
            let Some(piece) = job.pieces.get(&plan.piece) else {
                continue;
            };
            let id = &plan.piece;
            match plan.kind {
                PieceKind::Garland => {
                    self.hang(id, called(piece), &where_to(piece.mount, &piece.spot), plan)
                }
                PieceKind::Chain => {
                    let chains = plan.chain.as_ref().map_or(0, |c| c.count);
                    if chains > 0 {
                        self.counted(
                            format!("drape.{id}"),
                            Phase::Install,
                            title("Drape", called(piece), ""),
                            chains,
                            "chains",
                            &where_to(piece.mount, &piece.spot),
                        );
                        self.timed(&format!("drape.{id}"));
                        self.cautioned(LADDER, id);
                    }
                }
                PieceKind::Frame | PieceKind::Newer => {}
            }
        }
    }

    fn hang(&mut self, id: &str, name: &str, how: &str, plan: &PiecePlan) {
        let Some(g) = &plan.garland else { return };
        let all = g.lengths.len();
        for i in 1..=all {
            let which = if all == 1 {
                String::new()
            } else {
                format!(", length {i}")
            };
            self.add(
                format!("hang.{id}.{i}"),
                Phase::Install,
                title("Hang", name, &which),
                how,
            );
            self.timed(&format!("hang.{id}"));
            // the task is the whole garland: each length has its share
            if let Some(step) = self.steps.last_mut() {
                step.duration_s /= i64::try_from(all).unwrap_or(1).max(1);
            }
            self.cautioned(LADDER, id);
        }
        if g.extras > 0 {
            self.counted(
                format!("extras.{id}"),
                Phase::Install,
                title("Fill gaps:", name, ""),
                g.extras,
                "clusters",
                "Put in what was kept back where it looks thin.",
            );
            self.timed(&format!("extras.{id}"));
            self.cautioned(LADDER, id);
        }
    }

    fn cautioned(&mut self, caution: &str, piece: &str) {
        if let Some(step) = self.steps.last_mut() {
            step.caution = caution.into();
            step.piece = piece.into();
        }
    }

    fn hand_over(&mut self, counted: &Counted) {
        if counted.pieces.is_empty() {
            return;
        }
        self.add(
            "tidy".into(),
            Phase::HandOver,
            "Tidy up".into(),
            "Scraps, tape, bags, steps: the floor as it was.",
        );
        self.timed("finish");
        self.add(
            "exits".into(),
            Phase::HandOver,
            "Check exits and signs".into(),
            "Exits, extinguishers, detectors and sprinklers clear and in view.",
        );
        self.add(
            "photos".into(),
            Phase::HandOver,
            "Take photographs".into(),
            "Whole, each piece, and each mount.",
        );
        self.add(
            "walk".into(),
            Phase::HandOver,
            "Walk through and sign".into(),
            "With the client or the venue: care, cautions, strike.",
        );
    }

    fn strike(&mut self, job: &Job, counted: &Counted) {
        // nobody strikes if no time is agreed for it
        if job.times.strike_from.trim().is_empty() {
            return;
        }
        for plan in &counted.pieces {
            let Some(piece) = job
                .pieces
                .get(&plan.piece)
                .filter(|p| p.kind != PieceKind::Newer)
            else {
                continue;
            };
            self.add(
                format!("down.{}", plan.piece),
                Phase::Strike,
                title("Take down", called(piece), ""),
                "",
            );
            let caution = if plan.kind == PieceKind::Frame {
                "Nothing hangs on it any more before ballast comes off."
            } else {
                LADDER
            };
            self.cautioned(caution, &plan.piece);
        }
        if counted.pieces.iter().any(|p| p.balloons > 0) {
            self.add(
                "pop".into(),
                Phase::Strike,
                "Pop and bin".into(),
                "Into closed bags; gather every piece.",
            );
            self.cautioned(EYES, "");
        }
        if !counted.pieces.is_empty() {
            let home = live(&job.kit)
                .iter()
                .filter(|(_, k)| !k.stays)
                .map(|(_, k)| k.count.clamp(0, 1000))
                .sum();
            self.counted(
                "count".into(),
                Phase::Strike,
                "Count the kit back".into(),
                home,
                "",
                "Every second box of the packing list.",
            );
            self.add(
                "clear".into(),
                Phase::Strike,
                "Leave the room as found".into(),
                "A last look with the venue.",
            );
        }
    }
}

fn spot(spot: &str) -> String {
    spot.trim().to_string()
}

/// What it hangs on and where.
fn where_to(mount: Mount, spot: &str) -> String {
    let on = match mount {
        Mount::Frame => "On its frame",
        Mount::Backdrop => "On the backdrop",
        Mount::WallHooks => "On hooks",
        Mount::StairRail => "Along the rail",
        Mount::CeilingPoints => "From the points that the venue names",
        Mount::Grid => "On the grid",
        Mount::Newer => "Where it belongs",
    };
    if spot.trim().is_empty() {
        format!("{on}.")
    } else {
        format!("{on}, {}.", spot.trim())
    }
}

/// A part of an id from a name: lower-case letters and digits, everything else a dash.
fn key(name: &str) -> String {
    let dashed: String = name
        .to_lowercase()
        .chars()
        .map(|c| if c.is_ascii_alphanumeric() { c } else { '-' })
        .take(40)
        .collect();
    dashed.trim_matches('-').to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn titles_are_cut_to_fit() {
        assert_eq!(title("Hang", "Arch", ", length 2"), "Hang Arch, length 2");
        let long = title(
            "Hang",
            "The very long garland over the stairs",
            ", length 2",
        );
        assert!(long.chars().count() <= LONGEST_TITLE, "{long}");
        assert!(
            long.starts_with("Hang The very") && long.ends_with("…, length 2"),
            "{long}"
        );
        assert_eq!(key("Step ladder 1 of 2"), "step-ladder-1-of-2");
    }
}

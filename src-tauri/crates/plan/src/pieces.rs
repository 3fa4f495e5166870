//! All pieces of a job, counted, with what cannot be counted and why.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use job::list::live;
use job::piece::{LinkForm, Piece, PieceKind};
use job::stock::ItemKind;
use job::{Finding, Job};

use crate::chain::chain_plan;
use crate::count_findings::Named;
use crate::garland::{self, Depth, Memory, Recipe, Refused, Site, fit, garland_plan, with_packing};
use crate::inflate::{by_hand, millilitres, nearest, nozzle_seconds, strokes};
use crate::made;
use crate::route::Route;
use crate::scene::{through_ceiling, through_floor};
use crate::types::{Ball, ChainPlan, ColourUse, FramePlan, GarlandPlan, PiecePlan, SizingLine};
use crate::work::{Work, of_chain, of_garland};

/// Most frames alike.
const MOST_FRAMES: i64 = 10_000;

/// The pieces with everything that later parts of the plan need of them.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Counted {
    /// In the order of the job.
    pub pieces: Vec<PiecePlan>,
    /// How many to blow to which size, by piece, colour and size.
    pub sizing: Vec<SizingLine>,
    /// Colours used, in palette order of the job.
    pub colours: Vec<ColourUse>,
    /// Working time in the studio, by piece.
    pub work: Vec<Work>,
    /// What could not be counted, and odd ones.
    pub findings: Vec<Finding>,
}

/// Counts every piece that is not gone, garlands by the instant rule.
#[must_use]
pub fn count(job: &Job) -> Counted {
    count_at(job, Depth::Instant, &mut Memory::default())
}

/// Counts every piece that is not gone, garlands as closely as the depth says.
#[must_use]
pub fn count_at(job: &Job, depth: Depth, memory: &mut Memory) -> Counted {
    let mut counted = Counted::default();
    for (at, (id, piece)) in live(&job.pieces).into_iter().enumerate() {
        let mut plan = PiecePlan {
            piece: id.into(),
            name: piece.name.clone(),
            kind: piece.kind,
            ..PiecePlan::default()
        };
        match piece.kind {
            PieceKind::Garland => {
                let named = Named { job, id, piece };
                counted.garland(named, &letter(at), &mut plan, depth, memory);
            }
            PieceKind::Chain => counted.chain(job, id, piece, &mut plan),
            PieceKind::Frame => {
                let frame = frame_plan(piece);
                let named = Named { job, id, piece };
                let near = named.in_each_other(frame.count, frame.width_mm);
                counted.findings.extend(near);
                plan.frame = Some(frame);
            }
            PieceKind::Classic
            | PieceKind::Wall
            | PieceKind::Bouquet
            | PieceKind::Foils
            | PieceKind::Floaters
            | PieceKind::Centrepiece
            | PieceKind::Loose => counted.made(Named { job, id, piece }, &mut plan),
            PieceKind::Newer => counted.findings.push(Named { job, id, piece }.newer_kind()),
        }
        counted.pieces.push(plan);
    }
    counted.colours = colour_uses(job, &counted.pieces);
    counted
}

impl Counted {
    fn garland(
        &mut self,
        named: Named<'_>,
        letter: &str,
        plan: &mut PiecePlan,
        depth: Depth,
        memory: &mut Memory,
    ) {
        let Named { job, id, piece } = named;
        let recipe = Recipe::of(&piece.garland);
        let Some(route) = Route::of(&piece.garland) else {
            return self.findings.push(named.newer_shape());
        };
        let site = Site {
            recipe: &recipe,
            route: &route,
            piece,
            rates: &job.rates,
        };
        let packed = (depth > Depth::Instant).then(|| memory.packed(&site, depth));
        let (build, packed) = match packed {
            Some(Ok(packed)) => (Ok(packed.build.clone()), Some(packed)),
            Some(Err(Refused::NoBuild(why))) => (Err(why), None),
            Some(Err(refused)) => {
                self.findings.push(named.not_packed(refused));
                (fit(&recipe, route.length), None)
            }
            None => (fit(&recipe, route.length), None),
        };
        let build = match build {
            Ok(build) => build,
            Err(why) => return self.findings.push(named.no_build(why)),
        };
        let mut garland = garland_plan(&recipe, &build, &route, &job.rules, letter);
        if let Some(packed) = &packed {
            with_packing(&mut garland, &recipe, packed, piece.garland.filler_in);
        }
        let short = named.short_line(garland.path_mm, garland.length_mm);
        debug_assert!(
            short.is_some() || garland::audit(&piece.garland, &garland).is_empty(),
            "{:?}",
            garland::audit(&piece.garland, &garland)
        );
        self.findings.extend(short);
        let spiral = named.spiral_tight(garland.tie_span_mm, garland.on_line);
        self.findings.extend(spiral);
        let over = through_ceiling(job, piece, &garland.path);
        self.findings.extend(named.through_ceiling(over));
        if packed.is_some() {
            let deep = through_floor(job, piece, &garland);
            self.findings.extend(named.through_floor(deep));
            let on_line: usize = garland.clusters.iter().map(|c| c.balls.len()).sum();
            let all_set = garland.fillers_at.len() >= on_line;
            self.findings
                .extend(named.still_shows(garland.shows_after_pm, all_set));
        }
        self.findings.extend(named.newer_choices());
        self.findings.extend(named.odd_colours(&recipe, &build.odd));
        self.findings
            .extend(named.other_cluster(&recipe, build.numbers));
        let balls: Vec<Ball> = garland
            .clusters
            .iter()
            .chain(&garland.kept_back)
            .flat_map(|c| c.balls.clone())
            .collect();
        let pairs: Vec<[Ball; 2]> = balls
            .chunks_exact(2)
            .map(|two| [two[0].clone(), two[1].clone()])
            .collect();
        self.work.push(of_garland(id, &garland, &pairs, &job.rates));
        let fillers = garland.fillers_at.iter().map(|f| Ball {
            colour: f.colour.clone(),
            inside: String::new(),
            size_in: piece.garland.filler_in,
            blown_dmm: piece.garland.filler_dmm,
        });
        let blown: Vec<Ball> = balls.into_iter().chain(fillers).collect();
        self.sizing.extend(sizing(job, id, &blown, &recipe));
        plan.balloons = balloons(&garland);
        plan.garland = Some(garland);
    }

    fn chain(&mut self, job: &Job, id: &str, piece: &Piece, plan: &mut PiecePlan) {
        match chain_plan(&piece.chain, &job.rates) {
            Ok(chain) => {
                self.work.push(of_chain(id, &chain, &job.rates));
                // ring links are blown until they are firm: no sizer, no strokes
                let latex = chain.counts.iter().filter(|_| chain.form != LinkForm::Ring);
                self.sizing.extend(latex.map(|c| SizingLine {
                    piece: id.into(),
                    colour: c.colour.clone(),
                    inside: String::new(),
                    size_in: c.size_in,
                    kind: ItemKind::Link,
                    blown_dmm: piece.chain.blown_dmm,
                    count: c.balls,
                    volume_ml: millilitres(piece.chain.blown_dmm),
                    strokes: Some(chain.strokes),
                    inflator_ds: None,
                }));
                plan.balloons = links(&chain);
                let over = through_ceiling(job, piece, &chain.path);
                let named = Named { job, id, piece };
                self.findings.extend(named.through_ceiling(over));
                plan.chain = Some(chain);
            }
            Err(why) => self.findings.push(Named { job, id, piece }.no_chain(why)),
        }
    }

    /// A piece that is counted from its measures alone.
    fn made(&mut self, named: Named<'_>, plan: &mut PiecePlan) {
        match made::make(named) {
            Some(Ok(making)) => {
                self.findings.extend(named.of_made(&making));
                let lines = made::sizing(named.id, &making.blown, &named.job.rates);
                self.sizing.extend(lines);
                self.work.push(making.work);
                plan.balloons = made::balloons(&making.made);
                plan.made = Some(making.made);
            }
            Some(Err(why)) => self.findings.push(named.not_made(why)),
            None => {}
        }
    }
}

/// Balloons of a garland: a double-stuffed ball takes two.
fn balloons(garland: &GarlandPlan) -> i64 {
    garland
        .counts
        .iter()
        .chain(&garland.fillers)
        .map(|c| c.balls * if c.inside.is_empty() { 1 } else { 2 })
        .sum()
}

fn links(chain: &ChainPlan) -> i64 {
    chain.counts.iter().map(|c| c.balls).sum()
}

fn frame_plan(piece: &Piece) -> FramePlan {
    let count = piece.frame.count.clamp(0, MOST_FRAMES);
    FramePlan {
        count,
        width_mm: piece.frame.width_mm,
        height_mm: piece.frame.height_mm,
        ballast_g: count.saturating_mul(piece.frame.ballast_g.max(0)),
    }
}

/// Letters of cards: those that no step (O P B L S H T) and no parcel (B C) begins with, so that a code is one thing on paper.
const CARD_LETTERS: &[u8; 18] = b"ADEFGIJKMNQRUVWXYZ";

/// A, D, E, … Z, AA, AD, …
fn letter(mut at: usize) -> String {
    let mut letters = Vec::new();
    loop {
        letters.push(char::from(CARD_LETTERS[at % CARD_LETTERS.len()]));
        if at < CARD_LETTERS.len() {
            break;
        }
        at = at / CARD_LETTERS.len() - 1;
    }
    letters.into_iter().rev().collect()
}

/// Order of the sizing sheet: palette entry, then nominal size and diameter, largest first.
type SizingKey = (usize, Reverse<i64>, Reverse<i64>);

/// Lines of the sizing sheet, in palette order, largest nominal size and diameter first.
fn sizing(job: &Job, piece: &str, balls: &[Ball], recipe: &Recipe) -> Vec<SizingLine> {
    let rank = |b: &Ball| {
        recipe
            .palette
            .iter()
            .position(|e| e.colour == b.colour && e.inside == b.inside)
            .unwrap_or(usize::MAX)
    };
    let mut counts: BTreeMap<SizingKey, (&Ball, i64)> = BTreeMap::new();
    for ball in balls {
        counts
            .entry((rank(ball), Reverse(ball.size_in), Reverse(ball.blown_dmm)))
            .or_insert((ball, 0))
            .1 += 1;
    }
    counts
        .into_values()
        .map(|(ball, count)| {
            let hand = by_hand(ball.size_in);
            SizingLine {
                piece: piece.into(),
                colour: ball.colour.clone(),
                inside: ball.inside.clone(),
                size_in: ball.size_in,
                kind: ItemKind::Round,
                blown_dmm: ball.blown_dmm,
                count,
                volume_ml: millilitres(ball.blown_dmm),
                strokes: hand.then(|| strokes(ball.blown_dmm, &job.rates)),
                inflator_ds: (!hand)
                    .then(|| nearest(nozzle_seconds(ball.blown_dmm, &job.rates) * 10.0)),
            }
        })
        .collect()
}

/// Colours with their balloons, in the order of the job's list; colours that the job has lost come last.
fn colour_uses(job: &Job, pieces: &[PiecePlan]) -> Vec<ColourUse> {
    let mut used: BTreeMap<&str, i64> = BTreeMap::new();
    for piece in pieces {
        let counts = piece
            .garland
            .iter()
            .flat_map(|g| g.counts.iter().chain(&g.fillers))
            .chain(piece.chain.iter().flat_map(|c| &c.counts))
            .chain(piece.made.iter().flat_map(|m| &m.balls));
        for foil in piece.made.iter().flat_map(|m| &m.foils) {
            *used.entry(&foil.colour).or_default() += foil.count;
        }
        for c in counts {
            *used.entry(&c.colour).or_default() += c.balls;
            if !c.inside.is_empty() {
                *used.entry(&c.inside).or_default() += c.balls;
            }
        }
    }
    let mut known: Vec<&str> = live(&job.colours)
        .into_iter()
        .map(|(id, _)| id)
        .filter(|id| used.contains_key(id))
        .collect();
    let lost: Vec<&str> = used
        .keys()
        .copied()
        .filter(|id| !known.contains(id))
        .collect();
    known.extend(lost);
    known
        .into_iter()
        .map(|id| {
            let colour = job.colours.get(id).cloned().unwrap_or_default();
            ColourUse {
                colour: id.into(),
                name: if colour.name.trim().is_empty() {
                    "Colour without a name".into()
                } else {
                    colour.name
                },
                srgb: colour.srgb,
                pattern: colour.pattern,
                balloons: used.get(id).copied().unwrap_or(0),
            }
        })
        .collect()
}

/// What a piece is called in a sentence.
pub(crate) fn called(piece: &Piece) -> &str {
    if piece.name.trim().is_empty() {
        "The piece without a name"
    } else {
        piece.name.trim()
    }
}

#[cfg(test)]
mod tests;

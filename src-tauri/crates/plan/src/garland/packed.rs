//! A garland really packed: how many clusters fill its path, where every ball lies, and how far chance moves the count.
//!
//! The instant rule gives the first guess; from there the number of clusters is the smallest whose packing reaches along the path
//! while with one cluster less it does not. A line that is a little short is drawn out.

use std::collections::BTreeMap;

use job::piece::Piece;
use job::stock::Rates;
use solve::packing::{Effort, Packing, PathFault, Settings, draw_out, measure, pack};

use super::balls::Recipe;
use super::build::{Build, DRAWN, NoBuild, build, fit};
use super::fillers::{Filling, fill};
use super::ground::Ground;
use crate::inflate::{nearest, up, whole};
use crate::route::Route;
use crate::types::Range;

/// Seeds that the range is counted over, the garland's own among them.
const SEEDS: u64 = 5;
/// Packings that the search for the number of clusters may take, for garlands of up to [`QUICK`] balls and beyond.
const TRIES: (u32, u32) = (8, 3);
/// What was packed to the end is drawn out by up to this share of its path: it comes out shorter than the preview by up to as much more as
/// this is more than [`DRAWN`], so that the count of the preview holds.
const DRAWN_FINAL: f64 = 0.04;
/// Times that clusters are added where so many as a preview took come out too short.
const MOST_ADDED: u32 = 8;
/// Seeds that clusters changed by hand are packed with round a hoop until all go on.
const TURNED: u64 = 16;
/// Garlands of more balls than this are searched less closely: a packing takes noticeable time.
const QUICK: usize = 3000;
/// Garlands of more balls than this are counted by the instant rule alone.
pub const MOST_PACKED: usize = 25_000;
/// Settings that packing can work with, thousandths; what lies outside has a finding of its own.
const NECK: (i64, i64) = (100, 1000);
/// The same for softness.
const SOFT: (i64, i64) = (0, 200);

/// How far a count goes.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Default,
    serde::Serialize,
    serde::Deserialize,
    ts_rs::TS,
)]
#[serde(rename_all = "snake_case")]
pub enum Depth {
    /// By the instant rule: while a slider moves.
    Instant,
    /// Packed quickly: at the end of an edit.
    Preview,
    /// Packed to the end, with the range over several seeds: what is ordered and built.
    #[default]
    Final,
}

/// A packed garland.
#[derive(Debug, Clone, PartialEq)]
pub struct Packed {
    /// Its clusters, with the lengths of the packing.
    pub build: Build,
    /// Where its balls lie, m from the path's own left foot.
    pub packing: Packing,
    /// Mean width, mm.
    pub width_mm: f64,
    /// Balloons on the line over several seeds; of no seeds in a preview.
    pub range: Range,
    /// Fillers and what shows.
    pub filling: Filling,
}

/// Packings, loads and schedules that are known already, by everything that they depend on.
#[derive(Debug, Clone, Default)]
pub struct Memory {
    known: BTreeMap<String, Result<Packed, Refused>>,
    /// Loads.
    pub(crate) stowed: crate::load::Stowed,
    /// Schedules.
    pub(crate) timed: crate::times::Known,
}

/// Packings that are remembered; then all are forgotten.
const REMEMBERED: usize = 48;

/// Why there is no packing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Refused {
    /// There is no garland at all.
    NoBuild(NoBuild),
    /// The path cannot be followed.
    Path(PathFault),
    /// Too many balls.
    TooMany,
}

/// Everything that a packing depends on.
#[derive(Debug, Clone, PartialEq)]
pub struct Site<'a> {
    /// What it is made of.
    pub recipe: &'a Recipe,
    /// Where it runs.
    pub route: &'a Route,
    /// What it hangs on and how it is filled.
    pub piece: &'a Piece,
    /// Necks and softness of this decorator.
    pub rates: &'a Rates,
}

impl Memory {
    /// The packing of a garland, from memory if it was made before.
    pub fn packed(&mut self, site: &Site<'_>, depth: Depth) -> Result<Packed, Refused> {
        let key = site.key(depth);
        if let Some(known) = self.known.get(&key) {
            return known.clone();
        }
        if self.known.len() >= REMEMBERED {
            self.known.clear();
        }
        let fresh = if site.recipe.hand.is_empty() {
            site.pack(depth)
        } else {
            let bare = site.recipe.bare();
            let laid = Site {
                recipe: &bare,
                ..site.clone()
            };
            self.packed(&laid, depth)
                .and_then(|laid| site.changed(&laid, depth))
        };
        self.known.insert(key, fresh.clone());
        fresh
    }
}

impl Site<'_> {
    fn key(&self, depth: Depth) -> String {
        let g = &self.piece.garland;
        format!(
            "{depth:?} {:?} {:?} {:?} {:?} {} {:?} {:?}",
            self.recipe,
            self.route,
            self.piece.mount,
            self.floor_mm(),
            g.seed,
            (g.show_pct, g.filler_dmm, g.shape, g.turn_mm),
            (self.rates.neck_pm, self.rates.soft_pm),
        )
    }

    fn settings(&self, effort: Effort, more: u64) -> Settings {
        let thousandths = |v: i64, (low, high): (i64, i64)| whole(v.clamp(low, high)) / 1000.0;
        let seed = u64::from_ne_bytes(self.piece.garland.seed.to_ne_bytes());
        Settings {
            softness: thousandths(self.rates.soft_pm, SOFT),
            neck: thousandths(self.rates.neck_pm, NECK),
            seed: seed.wrapping_add(more),
            effort,
        }
    }

    fn pack(&self, depth: Depth) -> Result<Packed, Refused> {
        let guess = fit(self.recipe, self.route.length).map_err(Refused::NoBuild)?;
        if guess.balls() > MOST_PACKED {
            return Err(Refused::TooMany);
        }
        let ground = self.ground(&guess)?;
        let best = match (self.route.closed, depth) {
            (true, Depth::Final) => self.ring(&guess, &ground, Effort::Final)?,
            (true, _) => self.ring(&guess, &ground, Effort::Preview)?,
            (false, Depth::Final) => self.finished(self.seek(&guess, &ground)?, &ground)?,
            (false, _) => self.seek(&guess, &ground)?,
        };
        Ok(self.filled(best, &ground, depth, None))
    }

    /// What a hand changed, on the line that was laid without it: as many clusters, so that none but the changed ones is another, and
    /// no more fillers than there were: what is left out makes a garland smaller.
    fn changed(&self, laid: &Packed, depth: Depth) -> Result<Packed, Refused> {
        let mut clusters = laid.build.asked;
        let built = build(self.recipe, clusters).map_err(Refused::NoBuild)?;
        if built.balls() > MOST_PACKED {
            return Err(Refused::TooMany);
        }
        let ground = self.ground(&built)?;
        let effort = match depth {
            Depth::Final => Effort::Final,
            Depth::Preview | Depth::Instant => Effort::Preview,
        };
        let mut best = self.tried(clusters, &ground, effort)?;
        // round a hoop chance decides whether the last one goes on: the same clusters are turned another way first
        for more in 1..TURNED {
            if best.too_many > 0 {
                best = self.tried_with(built.clone(), &ground, effort, more);
            }
        }
        // larger clusters than those of the recipe may find no room at all
        while best.too_many > 0 && clusters > 1 {
            clusters = (clusters - best.too_many).max(1);
            best = self.tried(clusters, &ground, effort)?;
        }
        let most = laid.filling.fillers.len();
        Ok(self.filled(best, &ground, depth, Some(most)))
    }

    /// A line with its fillers, of which there may be a limit, and how far chance moves its count.
    fn filled(&self, best: Tried, ground: &Ground, depth: Depth, most: Option<usize>) -> Packed {
        let range = match depth {
            Depth::Final => self.range(&best, ground),
            Depth::Preview | Depth::Instant => Range::default(),
        };
        let best = self.drawn_out(best, ground);
        let filling = fill(self, &best, &ground.path, &ground.obstacles, most);
        let width_mm = measure::measure(&best.packing, &ground.path).width.mean * 1000.0;
        Packed {
            width_mm,
            range,
            filling,
            build: best.build,
            packing: best.packing,
        }
    }

    /// The smallest number of clusters that fills the path.
    fn seek(&self, guess: &Build, ground: &Ground) -> Result<Tried, Refused> {
        let balls = guess.balls();
        let tries = if balls <= QUICK { TRIES.0 } else { TRIES.1 };
        let mut short: Option<i64> = None;
        let mut enough: Option<Tried> = None;
        let mut clusters = guess.asked;
        for _ in 0..tries {
            let tried = self.tried(clusters, ground, Effort::Preview)?;
            let step = tried.more_clusters(self.route.length);
            let next = if tried.reaches(self.route.length) {
                enough = Some(tried);
                clusters - (-step).max(1)
            } else {
                short = Some(clusters.max(short.unwrap_or(0)));
                clusters + step.max(1)
            };
            let (low, high) = (
                short.map_or(1, |s| s + 1),
                enough.as_ref().map_or(i64::MAX, |e| e.build.asked - 1),
            );
            if low > high {
                break;
            }
            clusters = next.clamp(low, high);
        }
        match enough {
            Some(found) => Ok(found),
            None => self.reaching(short.unwrap_or(clusters) + 1, ground, Effort::Preview),
        }
    }

    /// Round a hoop: as many as go on before the first is met again. Clusters of another number are other clusters, so that where so
    /// many did not go on, a few less may leave room for more: what fits is narrowed down from both sides.
    fn ring(&self, guess: &Build, ground: &Ground, effort: Effort) -> Result<Tried, Refused> {
        let balls = guess.balls();
        let tries = if balls <= QUICK { TRIES.0 } else { TRIES.1 };
        let mut fits: Option<Tried> = None;
        let mut too_many = i64::MAX;
        // more than enough, so that the ring says how many it takes
        let mut clusters = guess.asked + guess.asked / 4 + 2;
        for n in 0.. {
            let tried = self.tried(clusters, ground, effort)?;
            let least = fits.as_ref().map_or(1, |f| f.build.asked + 1);
            if tried.too_many == 0 || clusters <= 1 {
                clusters += 1;
                fits = Some(tried);
            } else {
                too_many = clusters;
                clusters = (clusters - tried.too_many).max(least);
            }
            if fits.is_some() && (clusters >= too_many || n >= tries) {
                break;
            }
        }
        fits.map_or_else(|| self.tried(1, ground, effort), Ok)
    }

    /// From so many clusters up, the first that fills the path; after a few the last one all the same.
    fn reaching(&self, from: i64, ground: &Ground, effort: Effort) -> Result<Tried, Refused> {
        let mut clusters = from;
        let mut tried = self.tried(clusters, ground, effort)?;
        for _ in 0..MOST_ADDED {
            if tried.reaches(self.route.length) {
                break;
            }
            clusters += (tried.more_clusters(self.route.length) / 2).max(1);
            tried = self.tried(clusters, ground, effort)?;
        }
        Ok(tried)
    }

    /// Packed to the end: a little shorter than the preview, so that it may take one more.
    fn finished(&self, preview: Tried, ground: &Ground) -> Result<Tried, Refused> {
        self.reaching(preview.build.asked, ground, Effort::Final)
    }

    /// What the same recipe would take with other seeds, by the length that each packs to: whole pairs.
    fn range(&self, best: &Tried, ground: &Ground) -> Range {
        let own = best.balloons(self.recipe);
        let mut counts = vec![own];
        for more in 1..SEEDS {
            let other = self.tried_with(best.build.clone(), ground, Effort::Preview, more);
            let (span, short) = (
                other.build.tie_span_mm,
                best.build.length_mm - other.build.length_mm,
            );
            let share = if ground.closed {
                // fewer find room, or none is left over
                -whole(other.too_many)
                    / whole(i64::try_from(best.build.line.len()).unwrap_or(1).max(1))
            } else if span > 0.0 {
                short / span
            } else {
                0.0
            };
            counts.push((nearest(whole(own) * (1.0 + share) / 2.0) * 2).max(4));
        }
        let seeds = i64::try_from(counts.len()).unwrap_or(0);
        Range {
            mean: nearest(whole(counts.iter().sum()) / whole(seeds)),
            least: counts.iter().copied().min().unwrap_or(0),
            most: counts.iter().copied().max().unwrap_or(0),
            seeds,
        }
    }

    /// A line that is a little short is drawn out to the end of the path; one that a hand changed, as far as it goes.
    fn drawn_out(&self, best: Tried, ground: &Ground) -> Tried {
        let path_mm = self.route.length;
        let to_mm = match self.recipe.hand.as_slice() {
            [] if !best.reaches(path_mm) => return best,
            [] => path_mm,
            _ => best.build.drawn_to(path_mm),
        };
        if best.build.length_mm >= path_mm {
            return best;
        }
        let packing = draw_out(
            best.packing,
            to_mm / 1000.0,
            &ground.path,
            &ground.obstacles,
            &self.settings(best.effort, 0),
        );
        Tried::of(best.build, packing, ground, best.effort)
    }

    fn tried(&self, clusters: i64, ground: &Ground, effort: Effort) -> Result<Tried, Refused> {
        let build = build(self.recipe, clusters).map_err(Refused::NoBuild)?;
        Ok(self.tried_with(build, ground, effort, 0))
    }

    fn tried_with(&self, build: Build, ground: &Ground, effort: Effort, more: u64) -> Tried {
        let packing = pack(
            &ground.clusters(self, &build),
            &ground.path,
            &ground.obstacles,
            &self.settings(effort, more),
        );
        Tried::of(build, packing, ground, effort)
    }
}

/// A number of clusters, packed.
pub(super) struct Tried {
    pub(super) build: Build,
    pub(super) packing: Packing,
    effort: Effort,
    /// Clusters that found no more room round a hoop.
    too_many: i64,
}

impl Tried {
    /// The build takes the lengths that were packed.
    fn of(mut build: Build, packing: Packing, ground: &Ground, effort: Effort) -> Tried {
        let ties: Vec<f64> = packing.ties.iter().map(|t| t * 1000.0).collect();
        let gaps: Vec<f64> = ties.windows(2).map(|w| w[1] - w[0]).collect();
        if let (Some(first), Some(last)) = (gaps.first(), gaps.last()) {
            build.pitches_mm = std::iter::once((first, first))
                .chain(gaps.windows(2).map(|w| (&w[0], &w[1])))
                .chain(std::iter::once((last, last)))
                .map(|(before, after)| (before + after) / 2.0)
                .collect();
        }
        build.tie_span_mm = gaps.iter().sum();
        build.length_mm = if ground.closed {
            // round a hoop the last cluster meets the first, and all gaps are alike
            ground.length_mm
        } else {
            packing.length(&ground.path) * 1000.0
        };
        let too_many = i64::try_from(build.line.len().saturating_sub(ties.len())).unwrap_or(0);
        build.ties_mm = ties.iter().map(|t| ground.lead_mm + t).collect();
        Tried {
            build,
            packing,
            effort,
            too_many,
        }
    }

    fn reaches(&self, path_mm: f64) -> bool {
        let drawn = match self.effort {
            Effort::Preview => DRAWN,
            Effort::Final => DRAWN_FINAL,
        };
        self.build.reaches(path_mm, drawn)
    }

    /// By its mean pitch, how many clusters more or less would just reach.
    fn more_clusters(&self, path_mm: f64) -> i64 {
        let gaps = self.build.line.iter().skip(1).fold(0.0, |n, _| n + 1.0);
        if gaps == 0.0 || self.build.tie_span_mm <= 0.0 {
            return if self.reaches(path_mm) { 0 } else { 1 };
        }
        let pitch = self.build.tie_span_mm / gaps;
        let short = path_mm - self.build.length_mm;
        if short > 0.0 {
            up(short / pitch)
        } else {
            -nearest((-short / pitch).floor())
        }
    }

    /// Balloons on the line: a double-stuffed ball takes two.
    fn balloons(&self, recipe: &Recipe) -> i64 {
        self.build
            .line
            .iter()
            .flatten()
            .map(|b| {
                if recipe.palette[b.entry].inside.is_empty() {
                    1
                } else {
                    2
                }
            })
            .sum()
    }
}

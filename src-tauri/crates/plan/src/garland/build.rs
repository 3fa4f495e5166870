//! Clusters on a line: the order along it, what is kept back, and how many it takes.

use solve::packing::instant;

use super::along::along_the_line;
use super::balls::{Ball, OddOne, Pairs, Recipe};
use super::hand::by_hand;
use crate::cluster::{sequence, split};
use crate::inflate::{nearest, up, whole};
use crate::spread::largest_remainder;

/// A line this much shorter than the path still fits, mm.
pub(super) const NEAR_MM: f64 = 0.5;
/// A line that is shorter than its path by no more than this share is drawn out to reach its end, as a hand does that hangs it up:
/// another cluster would make most lines longer than their path by more than that. Common practice, no source.
pub(super) const DRAWN: f64 = 0.02;
/// A line that a hand changed is drawn out by up to this share of its length: neighbours move together a little over a place that is
/// left out. Common practice, no source.
pub(super) const DRAWN_BY_HAND: f64 = 0.08;
/// Clusters that may be added to the estimate before it is given up.
const MOST_MORE: i64 = 200;
/// Clusters at the end of a leap that are still tried one by one: adding one changes what is kept back and how colours and sizes fall,
/// which on lines that are really built moves the length by less than this many clusters.
const LEAVE: i64 = 32;
/// Longest path, mm: a kilometre.
pub const LONGEST_MM: f64 = 1e6;
/// Most balls of one garland.
pub const MOST_BALLS: f64 = 200_000.0;

/// A garland's clusters.
#[derive(Debug, Clone, PartialEq)]
pub struct Build {
    /// On the line, first to last; balls pair by pair.
    pub line: Vec<Vec<Ball>>,
    /// The number of each in the recipe: they differ from its place where a hand moved or left out.
    pub numbers_of: Vec<usize>,
    /// Line that each of them takes, mm.
    pub pitches_mm: Vec<f64>,
    /// Kept back.
    pub extras: Vec<Vec<Ball>>,
    /// Quads, sixes and eights, the kept back ones included.
    pub numbers: [i64; 3],
    /// Palette entries with an odd number of balls, and how it was treated.
    pub odd: Vec<OddOne>,
    /// From the first tie to the last, mm.
    pub tie_span_mm: f64,
    /// Tip to tip, mm.
    pub length_mm: f64,
    /// Clusters on the line that were asked for; a hand may have left some out.
    pub asked: i64,
    /// Where each is tied, mm from the first tip, as packed; empty if only the rule was asked.
    pub ties_mm: Vec<f64>,
}

/// Why a garland cannot be counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoBuild {
    /// No size with a share.
    NoMix,
    /// No colour with a share.
    NoPalette,
    /// No share for quads, sixes or eights.
    NoClusters,
    /// The path has no length.
    NoPath,
    /// Longer than [`LONGEST_MM`], or more than [`MOST_BALLS`].
    TooLarge,
    /// Fewer than two pairs.
    LonePair,
}

/// The number of clusters whose line, drawn out a little, reaches along the path, tip to tip, while with one cluster less it does not. What
/// a hand changed is changed on the line that the recipe alone would have.
pub fn fit(recipe: &Recipe, path_mm: f64) -> Result<Build, NoBuild> {
    if !recipe.hand.is_empty() {
        let laid = fit(&recipe.bare(), path_mm)?.asked;
        let changed = build(recipe, laid)?;
        let to_mm = changed.drawn_to(path_mm);
        return Ok(changed.drawn_out(to_mm));
    }
    let mut clusters = estimate(recipe, path_mm)?;
    let reaches = |b: &Build| b.reaches(path_mm, DRAWN);
    let mut found = build(recipe, clusters)?;
    if reaches(&found) {
        // long lines: most of the way in a few leaps, so that not every number is built
        while let leap = spare_clusters(&found, path_mm) - LEAVE
            && leap >= 1
            && clusters > leap
            && let Ok(fewer) = build(recipe, clusters - leap)
            && reaches(&fewer)
        {
            (found, clusters) = (fewer, clusters - leap);
        }
        while clusters > 1
            && let Ok(fewer) = build(recipe, clusters - 1)
            && reaches(&fewer)
        {
            (found, clusters) = (fewer, clusters - 1);
        }
        return Ok(found.drawn_out(path_mm));
    }
    // every entry may drop a ball
    let dropped = i64::try_from(recipe.palette.len()).unwrap_or(i64::MAX);
    let last = clusters.saturating_add(MOST_MORE).saturating_add(dropped);
    while !reaches(&found) && clusters < last {
        clusters += 1;
        found = build(recipe, clusters)?;
    }
    Ok(if reaches(&found) {
        found.drawn_out(path_mm)
    } else {
        found
    })
}

impl Build {
    /// Whether it reaches along a path, tip to tip, if it is drawn out by a share of that path at most.
    pub(super) fn reaches(&self, path_mm: f64, drawn: f64) -> bool {
        // with one tie there is nothing to draw out
        let drawn = if self.tie_span_mm > 0.0 { drawn } else { 0.0 };
        self.length_mm >= path_mm * (1.0 - drawn) - NEAR_MM
    }

    /// How long a line that a hand changed is drawn out to be, mm.
    pub(super) fn drawn_to(&self, path_mm: f64) -> f64 {
        path_mm.min(self.length_mm * (1.0 + DRAWN_BY_HAND))
    }

    /// Balls on the line.
    pub(super) fn balls(&self) -> usize {
        self.line.iter().map(Vec::len).sum()
    }

    /// By the rule: every cluster takes a little more of the line, so that a line that is short reaches along the path.
    pub(super) fn drawn_out(mut self, path_mm: f64) -> Build {
        let missing = path_mm - self.length_mm;
        if missing > 0.0 && self.tie_span_mm > 0.0 {
            let more = 1.0 + missing / self.tie_span_mm;
            self.pitches_mm.iter_mut().for_each(|pitch| *pitch *= more);
            self.tie_span_mm += missing;
            self.length_mm = path_mm;
        }
        self
    }
}

/// How many of its clusters a line is longer than the path, by its mean pitch.
fn spare_clusters(build: &Build, path_mm: f64) -> i64 {
    let gaps = build.line.iter().skip(1).fold(0.0, |n, _| n + 1.0);
    if gaps == 0.0 {
        return 0;
    }
    nearest((build.length_mm - path_mm) * gaps / build.tie_span_mm)
}

/// Clusters on the line by mean values: mean pitch by the shares, and the largest ball at each end.
pub(super) fn estimate(recipe: &Recipe, path_mm: f64) -> Result<i64, NoBuild> {
    if recipe.mix.is_empty() {
        return Err(NoBuild::NoMix);
    }
    if recipe.palette.is_empty() {
        return Err(NoBuild::NoPalette);
    }
    let shares = recipe.clusters.map(whole);
    let all: f64 = shares.iter().sum();
    if all <= 0.0 {
        return Err(NoBuild::NoClusters);
    }
    if path_mm > LONGEST_MM {
        return Err(NoBuild::TooLarge);
    }
    // what is no number is no path either
    if !(1.0..=LONGEST_MM).contains(&path_mm) {
        return Err(NoBuild::NoPath);
    }
    let weight: f64 = recipe.mix.iter().map(|m| whole(m.share)).sum();
    let mean: f64 = recipe
        .mix
        .iter()
        .map(|m| {
            let n = m.dmm.iter().fold(0.0, |n, _| n + 1.0);
            let inverse: f64 = m.dmm.iter().map(|d| 1.0 / (mm(*d) * mm(*d))).sum();
            whole(m.share) / weight * inverse / n
        })
        .sum::<f64>();
    let mean = 1.0 / mean.sqrt();
    let largest = recipe
        .mix
        .iter()
        .flat_map(|m| &m.dmm)
        .map(|d| mm(*d))
        .fold(0.0, f64::max);
    let factors = [4usize, 6, 8].map(|n| instant::factor(n).unwrap_or(0.0));
    let pitch: f64 = mean
        * shares
            .iter()
            .zip(factors)
            .map(|(s, c)| s / all * c)
            .sum::<f64>();
    let balls: f64 = shares
        .iter()
        .zip([4.0, 6.0, 8.0])
        .map(|(s, n)| s / all * n)
        .sum();
    let clusters = ((path_mm - largest) / pitch).max(0.0);
    if clusters * balls * (1.0 + whole(recipe.extras_pct) / 100.0) > MOST_BALLS {
        return Err(NoBuild::TooLarge);
    }
    Ok(up(clusters) + 1)
}

/// Balls for so many clusters on the line, and the clusters that they make.
pub(super) fn build(recipe: &Recipe, on_line: i64) -> Result<Build, NoBuild> {
    let extras = extras(recipe, on_line);
    let kinds = largest_remainder(on_line + extras, &recipe.clusters);
    let balls = kinds.iter().zip([4, 6, 8]).map(|(k, n)| k * n).sum();
    let built = from_pairs(recipe, recipe.pairs(recipe.counts(balls)), extras)?;
    Ok(Build {
        asked: on_line,
        ..built
    })
}

/// Clusters kept back for so many on the line.
fn extras(recipe: &Recipe, on_line: i64) -> i64 {
    (on_line * recipe.extras_pct + 99) / 100
}

/// Clusters from given pairs; so many of them are kept back if there are enough.
pub fn from_pairs(recipe: &Recipe, pairs: Pairs, extras: i64) -> Result<Build, NoBuild> {
    let odd = pairs.odd.clone();
    let all = pairs.of_one.iter().map(Vec::len).sum::<usize>() + pairs.mixed.len();
    let count = i64::try_from(all).unwrap_or(i64::MAX);
    let numbers = split(count, recipe.clusters).ok_or(NoBuild::LonePair)?;
    let takes = sequence(numbers);
    let mut ordered = along_the_line(recipe.arrangement, pairs, &takes).into_iter();
    let mut clusters: Vec<Vec<Ball>> = Vec::new();
    for pairs in takes {
        let take = usize::try_from(pairs).unwrap_or(0);
        clusters.push(ordered.by_ref().take(take).flatten().collect());
    }
    let (line, kept) = keep_back(clusters, extras);
    let (numbers_of, line): (Vec<usize>, Vec<Vec<Ball>>) =
        by_hand(line, &recipe.hand).into_iter().unzip();
    let numbers = if recipe.hand.is_empty() {
        numbers
    } else {
        let of = |n: usize| line.iter().chain(&kept).filter(|c| c.len() == n).count();
        [4, 6, 8].map(|n| i64::try_from(of(n)).unwrap_or(i64::MAX))
    };
    let millimetres: Vec<Vec<f64>> = line
        .iter()
        .map(|c| c.iter().map(|b| mm(b.dmm)).collect())
        .collect();
    let length = instant::length(&millimetres);
    Ok(Build {
        line,
        numbers_of,
        pitches_mm: millimetres.iter().map(|c| instant::pitch(c)).collect(),
        extras: kept,
        numbers,
        odd,
        tie_span_mm: length.tie_span,
        length_mm: length.tip_to_tip,
        asked: 0,
        ties_mm: Vec::new(),
    })
}

/// Takes the smallest clusters out of the line, the later of equal ones first; at least one stays. The first and the last, which are
/// small so that the ends taper, go only when there are no others.
fn keep_back(clusters: Vec<Vec<Ball>>, extras: i64) -> (Vec<Vec<Ball>>, Vec<Vec<Ball>>) {
    let most = clusters.len().saturating_sub(1);
    let count = usize::try_from(extras.max(0)).unwrap_or(most).min(most);
    let mut by_size: Vec<usize> = (0..clusters.len()).collect();
    by_size.sort_by_key(|i| {
        (
            [0, clusters.len() - 1].contains(i),
            clusters[*i].iter().map(|b| b.dmm).sum::<i64>(),
            std::cmp::Reverse(*i),
        )
    });
    let mut taken = vec![false; clusters.len()];
    for i in by_size.into_iter().take(count) {
        taken[i] = true;
    }
    let (mut line, mut kept) = (Vec::new(), Vec::new());
    for (cluster, taken) in clusters.into_iter().zip(taken) {
        if taken {
            kept.push(cluster)
        } else {
            line.push(cluster)
        }
    }
    (line, kept)
}

/// Tenths of a millimetre as mm.
pub fn mm(dmm: i64) -> f64 {
    whole(dmm) / 10.0
}

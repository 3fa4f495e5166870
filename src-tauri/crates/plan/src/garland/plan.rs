//! A built garland as the plan says it: cards, counts, lengths to carry, points to draw.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use glam::DVec3;
use job::stock::Rules;

use super::balls::{Ball, Recipe};
use super::build::{Build, mm};
use super::packed::Packed;
use crate::inflate::{litres, nearest, whole};
use crate::route::Route;
use crate::types::{
    Ball as PlanBall, BallCount, Blown, Card, CardPair, Cluster, GarlandPlan, LengthPart,
    PackedBall, PackedFiller, Range,
};

/// Points of a path for drawing.
const POINTS: u32 = 65;
/// A joint is near if it is within one of so many parts of a run.
const JOINT_SHARE: usize = 4;

/// What makes pairs alike: of both balls what they look like, as index into the palette, and the nominal size, large ones first.
type PairKey = [(usize, Reverse<i64>); 2];
/// What makes clusters alike: so many of each kind of pair.
type CardKey = Vec<(PairKey, i64)>;

/// The plan of a built garland. `letter` begins the codes of its cards.
#[must_use]
pub fn garland_plan(
    recipe: &Recipe,
    build: &Build,
    route: &Route,
    rules: &Rules,
    letter: &str,
) -> GarlandPlan {
    let (cards, line, kept) = cards(recipe, build, letter);
    let count = |n: usize| i64::try_from(n).unwrap_or(i64::MAX);
    let cluster = |balls: &[Ball], card: u32, number: i64| Cluster {
        card,
        number,
        balls: balls.iter().map(|b| plan_ball(recipe, *b)).collect(),
    };
    let clusters: Vec<Cluster> = build
        .line
        .iter()
        .zip(&line)
        .zip(&build.numbers_of)
        .map(|((balls, card), number)| cluster(balls, *card, count(*number)))
        .collect();
    let kept_back: Vec<Cluster> = build
        .extras
        .iter()
        .zip(&kept)
        .map(|(balls, card)| cluster(balls, *card, -1))
        .collect();
    let balls: i64 = build
        .numbers
        .iter()
        .zip([4, 6, 8])
        .map(|(n, b)| n * b)
        .sum();
    let hull = hull_litres(&build.line, rules);
    GarlandPlan {
        path_mm: nearest(route.length),
        length_mm: nearest(build.length_mm),
        tie_span_mm: nearest(build.tie_span_mm),
        width_mm: width_mm(hull, build.length_mm),
        balls,
        pairs: balls / 2,
        quads: build.numbers[0],
        sixes: build.numbers[1],
        eights: build.numbers[2],
        on_line: count(build.line.len()),
        extras: count(kept.len()),
        counts: counts(recipe, build),
        cards,
        line,
        lengths: lengths(recipe, build, rules),
        path: route
            .spread(POINTS)
            .into_iter()
            .map(|[x, y, _]| [nearest(x), nearest(y)])
            .collect(),
        ties_mm: ties(build, route.length),
        clusters,
        kept_back,
        packed: Vec::new(),
        range: Range::default(),
        fillers: Vec::new(),
        fillers_at: Vec::new(),
        shows_before_pm: 0,
        shows_after_pm: 0,
    }
}

/// Adds to a garland's plan where its balls lie, how far chance moves the count, and its fillers.
pub fn with_packing(plan: &mut GarlandPlan, recipe: &Recipe, packed: &Packed, filler_in: i64) {
    plan.width_mm = nearest(packed.width_mm);
    plan.packed = packed
        .packing
        .balls
        .iter()
        .map(|b| PackedBall {
            at: tenths(b.centre),
            r: nearest(b.radius * 10_000.0),
        })
        .collect();
    plan.range = packed.range.clone();
    let filling = &packed.filling;
    plan.shows_before_pm = nearest(filling.before * 1000.0);
    plan.shows_after_pm = nearest(filling.after * 1000.0);
    plan.fillers_at = filling
        .fillers
        .iter()
        .map(|f| PackedFiller {
            at: tenths(f.centre),
            r: nearest(f.radius * 10_000.0),
            colour: recipe.palette[f.entry].colour.clone(),
            cluster: u32::try_from(f.cluster).unwrap_or(u32::MAX),
        })
        .collect();
    plan.fillers = filler_counts(&plan.fillers_at, filler_in);
}

/// A place in tenths of a millimetre.
fn tenths(at: DVec3) -> [i64; 3] {
    at.to_array().map(|m| {
        let dmm = m * 10_000.0;
        if dmm < 0.0 {
            -nearest(-dmm)
        } else {
            nearest(dmm)
        }
    })
}

/// Fillers of a plan by colour, in the order in which they come along the line.
fn filler_counts(fillers: &[PackedFiller], size_in: i64) -> Vec<BallCount> {
    let mut counts: Vec<BallCount> = Vec::new();
    for filler in fillers {
        match counts.iter_mut().find(|c| c.colour == filler.colour) {
            Some(known) => known.balls += 1,
            None => counts.push(BallCount {
                colour: filler.colour.clone(),
                inside: String::new(),
                size_in,
                balls: 1,
            }),
        }
    }
    counts
}

fn plan_ball(recipe: &Recipe, ball: Ball) -> PlanBall {
    let entry = &recipe.palette[ball.entry];
    PlanBall {
        colour: entry.colour.clone(),
        inside: entry.inside.clone(),
        size_in: recipe.mix[ball.part].size_in,
        blown_dmm: ball.dmm,
    }
}

/// Cards in order of first appearance along the line, then of what is kept back only; the card of each cluster.
fn cards(recipe: &Recipe, build: &Build, letter: &str) -> (Vec<Card>, Vec<u32>, Vec<u32>) {
    let looks = recipe.looks();
    let mut index: BTreeMap<CardKey, u32> = BTreeMap::new();
    let mut cards: Vec<Card> = Vec::new();
    let mut of = |cluster: &[Ball], on_line: bool| -> u32 {
        let (key, groups) = alike(recipe, &looks, cluster);
        let next = u32::try_from(cards.len()).unwrap_or(u32::MAX);
        let at = *index.entry(key).or_insert(next);
        if at == next {
            cards.push(Card {
                code: format!("{letter}{}", next.saturating_add(1)),
                balls: i64::try_from(cluster.len()).unwrap_or(0),
                pairs: groups.iter().map(|g| card_pair(recipe, g)).collect(),
                on_line: 0,
                extras: 0,
            });
        }
        if let Some(card) = usize::try_from(at).ok().and_then(|i| cards.get_mut(i)) {
            for (pair, group) in card.pairs.iter_mut().zip(&groups) {
                widen(pair, group);
            }
            if on_line {
                card.on_line += 1
            } else {
                card.extras += 1
            }
        }
        at
    };
    let line = build.line.iter().map(|c| of(c, true)).collect();
    let kept = build.extras.iter().map(|c| of(c, false)).collect();
    (cards, line, kept)
}

/// The pairs of a cluster, alike ones together, in the order of palette and size.
fn alike(recipe: &Recipe, looks: &[usize], cluster: &[Ball]) -> (CardKey, Vec<Vec<[Ball; 2]>>) {
    let mut groups: BTreeMap<PairKey, Vec<[Ball; 2]>> = BTreeMap::new();
    for two in cluster.chunks_exact(2) {
        let mut pair = [two[0], two[1]];
        let of = |b: &Ball| (looks[b.entry], Reverse(recipe.mix[b.part].size_in));
        pair.sort_by_key(of);
        groups
            .entry([of(&pair[0]), of(&pair[1])])
            .or_default()
            .push(pair);
    }
    let key = groups
        .iter()
        .map(|(k, list)| (*k, i64::try_from(list.len()).unwrap_or(0)))
        .collect();
    (key, groups.into_values().collect())
}

fn card_pair(recipe: &Recipe, group: &[[Ball; 2]]) -> CardPair {
    CardPair {
        times: i64::try_from(group.len()).unwrap_or(0),
        balls: group
            .first()
            .map(|pair| pair.map(|b| plan_ball(recipe, b)).to_vec())
            .unwrap_or_default(),
        blown: group.first().map_or(Vec::new(), |pair| {
            pair.map(|b| Blown {
                from_dmm: b.dmm,
                to_dmm: b.dmm,
            })
            .to_vec()
        }),
    }
}

/// Takes the diameters of a cluster's pairs into the ranges of its card.
fn widen(pair: &mut CardPair, group: &[[Ball; 2]]) {
    let alike = matches!(pair.balls.as_slice(), [a, b] if (&a.colour, &a.inside, a.size_in) == (&b.colour, &b.inside, b.size_in));
    for two in group {
        for (place, ball) in two.iter().enumerate() {
            for (other, range) in pair.blown.iter_mut().enumerate() {
                if alike || other == place {
                    range.from_dmm = range.from_dmm.min(ball.dmm);
                    range.to_dmm = range.to_dmm.max(ball.dmm);
                }
            }
        }
    }
}

/// Balls by colour and nominal size, in palette order, then in the order of the mix. A colour or a size that the recipe names twice
/// is one line.
fn counts(recipe: &Recipe, build: &Build) -> Vec<BallCount> {
    let looks = recipe.looks();
    let size = |part: usize| recipe.mix[part].size_in;
    let parts: Vec<usize> = (0..recipe.mix.len())
        .map(|p| (0..p).find(|q| size(*q) == size(p)).unwrap_or(p))
        .collect();
    let mut counts: BTreeMap<(usize, usize), i64> = BTreeMap::new();
    for ball in build.line.iter().chain(&build.extras).flatten() {
        *counts
            .entry((looks[ball.entry], parts[ball.part]))
            .or_default() += 1;
    }
    counts
        .into_iter()
        .map(|((entry, part), balls)| BallCount {
            colour: recipe.palette[entry].colour.clone(),
            inside: recipe.palette[entry].inside.clone(),
            size_in: recipe.mix[part].size_in,
            balls,
        })
        .collect()
}

/// Free volume of the hull of clusters, L: their balls over the share that balls fill.
fn hull_litres(clusters: &[Vec<Ball>], rules: &Rules) -> f64 {
    let balls: f64 = clusters.iter().flatten().map(|b| litres(b.dmm)).sum();
    balls / (whole(rules.fill_pct.clamp(1, 100)) / 100.0)
}

/// Mean width of a round hull, mm: of a cylinder of the volume and the length.
fn width_mm(hull_litres: f64, length_mm: f64) -> i64 {
    if length_mm <= 0.0 {
        return 0;
    }
    nearest((4.0 * hull_litres * 1e6 / (std::f64::consts::PI * length_mm)).sqrt())
}

/// Runs of the line as equally long as possible, none longer than the rule says on the mean. A run ends where one colour ends and another
/// begins, if that is near and makes no run too long: the joint is not seen there.
fn lengths(recipe: &Recipe, build: &Build, rules: &Rules) -> Vec<LengthPart> {
    let clusters = build.line.len();
    let most_mm = whole(rules.length_mm.max(1));
    let runs = (build.length_mm / most_mm).ceil().max(1.0);
    let runs = usize::try_from(nearest(runs))
        .unwrap_or(1)
        .clamp(1, clusters.max(1));
    let each = clusters / runs;
    let long = |from: usize, to: usize| build.pitches_mm[from..to].iter().sum::<f64>();
    let share = long(0, clusters) / whole(i64::try_from(runs).unwrap_or(1));
    let mut ends: Vec<usize> = Vec::new();
    for run in 1..runs {
        let from = ends.last().copied().unwrap_or(0);
        let left = runs - run;
        // of two that are as near, as where all clusters are alike, the later
        let off = |end: &usize| nearest(1e3 * (long(from, *end) - share).abs());
        let near = (from + 1..=clusters - left).rev().min_by_key(off);
        ends.push(near.unwrap_or(from + 1));
    }
    ends.push(clusters);
    let joints = joints(recipe, build);
    for run in 0..runs.saturating_sub(1) {
        let from = if run == 0 { 0 } else { ends[run - 1] };
        let (end, next) = (ends[run], ends[run + 1]);
        let near = joints.iter().copied().filter(|joint| {
            joint.abs_diff(end) * JOINT_SHARE <= each
                && *joint > from
                && *joint < next
                && long(from, *joint) <= most_mm
                && long(*joint, next) <= most_mm
        });
        if let Some(joint) = near.min_by_key(|joint| (joint.abs_diff(end), *joint)) {
            ends[run] = joint;
        }
    }
    let mut first = 0;
    ends.into_iter()
        .map(|end| {
            let part = &build.line[first..end];
            let length = long(first, end);
            let hull = hull_litres(part, rules);
            let run = LengthPart {
                first: u32::try_from(first).unwrap_or(u32::MAX),
                clusters: u32::try_from(end - first).unwrap_or(u32::MAX),
                length_mm: nearest(length),
                width_mm: width_mm(hull, length),
                volume_ml: nearest(hull * 1000.0),
            };
            first = end;
            run
        })
        .collect()
}

/// Clusters of the line, by number, at which one colour has ended and another begins: both rule a cluster throughout, with at most
/// one cluster of both between.
fn joints(recipe: &Recipe, build: &Build) -> Vec<usize> {
    let looks = recipe.looks();
    let only = |cluster: &Vec<Ball>| {
        let first = looks[cluster.first()?.entry];
        cluster
            .iter()
            .all(|b| looks[b.entry] == first)
            .then_some(first)
    };
    let colours: Vec<Option<usize>> = build.line.iter().map(only).collect();
    let differ = |before: usize, after: usize| match (colours.get(before), colours.get(after)) {
        (Some(Some(before)), Some(Some(after))) => before != after,
        _ => false,
    };
    (1..colours.len())
        .filter(|i| {
            let mixed = |at: usize| colours[at].is_none();
            differ(i - 1, *i)
                || (mixed(*i) && differ(i - 1, i + 1))
                || (*i > 1 && mixed(i - 1) && differ(i - 2, *i))
        })
        .collect()
}

/// Where the clusters are tied along the path: the first and last stand in by half their largest ball, the rest by their pitch;
/// a line that is longer or shorter than the path is laid out evenly over it.
fn ties(build: &Build, path_mm: f64) -> Vec<i64> {
    if !build.ties_mm.is_empty() {
        // where they were packed, but none beyond the path
        let on_path = |t: &f64| nearest(t.clamp(0.0, path_mm));
        return build.ties_mm.iter().map(on_path).collect();
    }
    let stretch = if build.length_mm > 0.0 {
        path_mm / build.length_mm
    } else {
        1.0
    };
    let half = |c: &Vec<Ball>| c.iter().map(|b| mm(b.dmm)).fold(0.0, f64::max) / 2.0;
    let mut at = build.line.first().map_or(0.0, half);
    let mut ties = Vec::new();
    let mut before: Option<f64> = None;
    for pitch in &build.pitches_mm {
        at += before.map_or(0.0, |b| (b + pitch) / 2.0);
        before = Some(*pitch);
        ties.push(nearest(at * stretch));
    }
    ties
}

//! Garlands as a whole: worked by hand, against common practice, and properties over many recipes.

use std::collections::BTreeMap;

use job::piece::{Arrangement, Garland, Odd, Shade, Size};
use job::stock::Rules;
use proptest::prelude::*;

use super::build::{DRAWN, build, estimate};
use super::{Build, NoBuild, Recipe, audit, fit, from_pairs, garland_plan};
use crate::route::Route;
use crate::types::GarlandPlan;

/// Sizes as (nominal, share, from, to), shares of the colours c0, c1 and so on, shares of quads, sixes, eights.
fn garland(sizes: &[(i64, i64, i64, i64)], shades: &[i64], clusters: [i64; 3]) -> Garland {
    let size = |(i, s): (usize, &(i64, i64, i64, i64))| {
        let size = Size {
            size_in: s.0,
            share_pct: s.1,
            from_dmm: s.2,
            to_dmm: s.3,
            order: format!("{i:02}"),
            gone: false,
        };
        (format!("s{i}"), size)
    };
    let shade = |(i, share): (usize, &i64)| {
        let shade = Shade {
            colour: format!("c{i}"),
            share_pct: *share,
            order: format!("{i:02}"),
            ..Shade::default()
        };
        (format!("e{i}"), shade)
    };
    Garland {
        mix: sizes.iter().enumerate().map(size).collect(),
        palette: shades.iter().enumerate().map(shade).collect(),
        quads_pct: clusters[0],
        sixes_pct: clusters[1],
        eights_pct: clusters[2],
        ..Garland::default()
    }
}

fn plan_of(recipe: &Recipe, build: &Build, length: f64) -> GarlandPlan {
    garland_plan(
        recipe,
        build,
        &Route {
            length,
            points: vec![[0.0; 3], [length, 0.0, 0.0]],
            closed: false,
        },
        &Rules::default(),
        "A",
    )
}

fn planned(g: &Garland, length_mm: f64) -> GarlandPlan {
    let recipe = Recipe::of(g);
    let build = fit(&recipe, length_mm).unwrap();
    let plan = plan_of(&recipe, &build, length_mm);
    assert_eq!(audit(g, &plan), Vec::<String>::new());
    plan
}

#[test]
fn three_metres_of_eight_inch_quads() {
    // pitch 0.771 x 203.2 = 156.67 mm; (3000 - 203.2) / 156.67 = 17.85: 18 gaps, 19 quads on the line, 2 kept back
    let p = planned(
        &garland(&[(11, 100, 2032, 2032)], &[50, 50], [100, 0, 0]),
        3000.0,
    );
    assert_eq!((p.on_line, p.extras, p.quads, p.balls), (19, 2, 21, 84));
    assert_eq!(p.tie_span_mm, 2820);
    assert_eq!(p.length_mm, 3023);
    // 76 balls of 4.393 L fill 45 % of a cylinder of 3.023 m: sqrt(4 x 741.95 L / (pi x 3.023 m)) = 559 mm
    assert_eq!(p.width_mm, 559);
}

/// A line up to 2 % shorter than its path is drawn out to its end: 19 quads make 3023 mm, which do for 3080 mm and not for 3090 mm.
#[test]
fn a_line_a_little_short_is_drawn_out() {
    let g = garland(&[(11, 100, 2032, 2032)], &[50, 50], [100, 0, 0]);
    let p = planned(&g, 3080.0);
    assert_eq!((p.on_line, p.length_mm, p.tie_span_mm), (19, 3080, 2877));
    let longer = planned(&g, 3090.0);
    assert_eq!((longer.on_line, longer.length_mm), (20, 3180));
}

/// Carried in two lengths of up to 2 m, a garland of 19 clusters would be cut after the tenth. In blocks of 40 and 60 percent the
/// second colour begins earlier, and it is cut there, as neither length is longer than 2 m; blended it is cut in the middle.
#[test]
fn a_garland_is_cut_where_a_colour_ends() {
    let mut g = garland(&[(11, 100, 2032, 2032)], &[40, 60], [100, 0, 0]);
    g.extras_pct = 0;
    g.odd = Odd::AddOne;
    let of = |p: &GarlandPlan| -> Vec<u32> { p.lengths.iter().map(|l| l.clusters).collect() };
    let p = planned(&g, 3080.0);
    // 38 pairs on the line, 15 or 16 of the first colour: seven quads, one of both colours perhaps, then the others
    let cut = of(&p)[0] as usize;
    assert!((7..=8).contains(&cut), "{:?}", of(&p));
    let colours = |i: usize| {
        p.clusters[i]
            .balls
            .iter()
            .map(|b| b.colour.clone())
            .collect::<std::collections::BTreeSet<_>>()
    };
    assert_ne!(colours(cut - 1), colours(cut));
    assert_eq!(colours(0), colours(6));
    assert_eq!(colours(8), colours(18));
    assert!(
        p.lengths.iter().all(|l| l.length_mm <= 2000),
        "{:?}",
        p.lengths
    );
    g.arrangement = Arrangement::Blended;
    assert_eq!(of(&planned(&g, 3080.0)), [10, 9]);
}

/// Common practice, no source: sixty 11 in rounds blown to 6-10 in and ten 16 in rounds blown to 15-16 in, two clusters kept back,
/// make about 10 ft: 8.5 to 11.5 ft tip to tip, dealt as the program deals them.
#[test]
fn seventy_balloons_make_about_ten_feet() {
    for clusters in [
        [16, 1, 0],
        [8, 5, 1],
        [5, 7, 1],
        [6, 5, 2],
        [4, 5, 3],
        [2, 5, 4],
    ] {
        for arrangement in [Arrangement::Blocks, Arrangement::Blended] {
            for shades in [&[100][..], &[50, 30, 20], &[25, 25, 25, 25]] {
                let sizes = [(11, 60, 1524, 2540), (16, 10, 3810, 4064)];
                let mut g = garland(&sizes, shades, clusters);
                g.arrangement = arrangement;
                g.odd = Odd::MixedPair;
                let recipe = Recipe::of(&g);
                let build = from_pairs(&recipe, recipe.pairs(recipe.counts(70)), 2).unwrap();
                assert_eq!(build.numbers, clusters);
                assert_eq!(build.extras.len(), 2);
                let feet = build.length_mm / 304.8;
                assert!(
                    (8.5..=11.5).contains(&feet),
                    "{clusters:?} {arrangement:?} {shades:?}: {feet:.2} ft"
                );
            }
        }
    }
}

/// The same garland asked for by its length: about 20 balloons to the metre, the kept back ones not counted.
#[test]
fn ten_feet_take_about_sixty_balloons_on_the_line() {
    let sizes = [(11, 86, 1524, 2540), (16, 14, 3810, 4064)];
    for clusters in [[16, 1, 0], [8, 5, 1], [6, 5, 2]] {
        let p = planned(&garland(&sizes, &[40, 30, 30], clusters), 3048.0);
        let on_line: usize = p.clusters.iter().map(|c| c.balls.len()).sum();
        assert!((52..=72).contains(&on_line), "{clusters:?}: {on_line}");
    }
}

#[test]
fn blocks_stay_together_and_blends_do_not() {
    let mut g = garland(&[(11, 100, 2032, 2032)], &[50, 50], [100, 0, 0]);
    let changes = |p: &GarlandPlan| {
        let balls = p.clusters.iter().flat_map(|c| &c.balls);
        let colours: Vec<&str> = balls.map(|b| b.colour.as_str()).collect();
        colours.windows(2).filter(|w| w[0] != w[1]).count()
    };
    assert_eq!(changes(&planned(&g, 3000.0)), 1);
    g.arrangement = Arrangement::Blended;
    assert!(changes(&planned(&g, 3000.0)) > 30);
}

/// A decorator spreads the sizes along the whole line (common practice, no source): one foot of an arch is as thick as the other, but for
/// what is kept back, which are the smallest clusters wherever they lie.
#[test]
fn sizes_do_not_taper() {
    let sizes = [
        (5, 20, 1100, 1270),
        (11, 60, 1524, 2540),
        (16, 20, 3556, 4064),
    ];
    let mean = |clusters: &[crate::types::Cluster]| {
        let balls: Vec<i64> = clusters
            .iter()
            .flat_map(|c| &c.balls)
            .map(|b| b.blown_dmm)
            .collect();
        balls.iter().sum::<i64>() as f64 / balls.len() as f64
    };
    for shades in [&[100][..], &[60, 40], &[40, 30, 20, 10]] {
        for arrangement in [Arrangement::Blocks, Arrangement::Blended] {
            for clusters in [[100, 0, 0], [50, 30, 20]] {
                let mut g = garland(&sizes, shades, clusters);
                g.arrangement = arrangement;
                let p = planned(&g, 20_000.0);
                let third = p.clusters.len() / 3;
                let first = mean(&p.clusters[..third]);
                let last = mean(&p.clusters[p.clusters.len() - third..]);
                assert!(
                    (first - last).abs() < 0.06 * last,
                    "{shades:?} {arrangement:?} {clusters:?}: {first:.0} and {last:.0}"
                );
            }
        }
    }
}

/// The biggest pair of every colour once met in the first cluster: one foot of the arch stood on four big balloons.
#[test]
fn the_first_tip_is_not_heavier_than_the_last() {
    let sizes = [
        (5, 15, 1016, 1143),
        (11, 70, 1524, 2286),
        (16, 15, 3556, 3810),
    ];
    for shades in [&[40, 35, 25][..], &[50, 50], &[30, 30, 20, 20]] {
        let mut g = garland(&sizes, shades, [40, 40, 20]);
        g.arrangement = Arrangement::Blended;
        let p = planned(&g, 5500.0);
        let big = |clusters: &[crate::types::Cluster]| {
            let balls = clusters.iter().flat_map(|c| &c.balls);
            balls.filter(|b| b.size_in == 16).count()
        };
        let (first, last) = (
            big(&p.clusters[..2]),
            big(&p.clusters[p.clusters.len() - 2..]),
        );
        assert!(
            first.abs_diff(last) <= 2 && first <= 4,
            "{shades:?}: {first} and {last}"
        );
    }
}

#[test]
fn the_smallest_clusters_are_kept_back_the_later_of_equal_ones() {
    // big pairs lie among small ones: quads with one are larger than quads without
    let sizes = [(11, 12, 1016, 1016), (16, 6, 2032, 2032)];
    let mut g = garland(&sizes, &[100], [100, 0, 0]);
    g.odd = Odd::MixedPair;
    let recipe = Recipe::of(&g);
    let all = from_pairs(&recipe, recipe.pairs(recipe.counts(36)), 0).unwrap();
    let sums: Vec<i64> = all
        .line
        .iter()
        .map(|c| c.iter().map(|b| b.dmm).sum())
        .collect();
    let kept = from_pairs(&recipe, recipe.pairs(recipe.counts(36)), 2).unwrap();
    let mut expected: Vec<(i64, usize)> = sums.iter().copied().zip(0..).collect();
    let end = |at: usize| at == 0 || at + 1 == sums.len();
    expected.sort_by_key(|(sum, at)| (end(*at), *sum, std::cmp::Reverse(*at)));
    expected.truncate(2);
    let left: Vec<_> = (0..all.line.len())
        .filter(|at| expected.iter().all(|(_, taken)| taken != at))
        .map(|at| all.line[at].clone())
        .collect();
    assert_eq!(kept.line, left);
    // never the last one
    let most = from_pairs(&recipe, recipe.pairs(recipe.counts(36)), 1000).unwrap();
    assert_eq!(most.line.len(), 1);
}

/// A big ball in the last cluster looks stuck on, so both ends are small; and though small, they are not the ones kept back.
#[test]
fn ends_are_small_and_stay_on_the_line() {
    let sizes = [(11, 70, 1524, 2540), (16, 30, 3810, 4064)];
    for arrangement in [Arrangement::Blocks, Arrangement::Blended, Arrangement::Fade] {
        for shades in [&[100][..], &[60, 40], &[30, 25, 20, 15, 10]] {
            let mut g = garland(&sizes, shades, [50, 35, 15]);
            g.arrangement = arrangement;
            g.extras_pct = 10;
            let recipe = Recipe::of(&g);
            let build = fit(&recipe, 6000.0).unwrap();
            for end in [build.line.first(), build.line.last()] {
                let biggest = end.unwrap().iter().map(|b| b.dmm).max();
                assert!(
                    biggest <= Some(2540),
                    "{arrangement:?} {shades:?}: {biggest:?}"
                );
            }
            assert!(!build.extras.is_empty());
        }
    }
}

#[test]
fn a_colour_or_size_named_twice_is_one_line_and_one_card() {
    let sizes = [(11, 50, 1524, 1778), (11, 50, 2032, 2286)];
    let mut g = garland(&sizes, &[50, 50], [100, 0, 0]);
    for shade in g.palette.values_mut() {
        shade.colour = "one".into();
    }
    let p = planned(&g, 3000.0);
    assert_eq!(p.cards.len(), 1);
    assert_eq!(p.counts.len(), 1);
    assert_eq!(
        (p.cards[0].code.as_str(), p.counts[0].balls),
        ("A1", p.balls)
    );
    let pair = &p.cards[0].pairs[0];
    let blown: Vec<_> = pair.blown.iter().map(|b| (b.from_dmm, b.to_dmm)).collect();
    assert_eq!((pair.times, blown), (2, vec![(1524, 2286); 2]));
}

#[test]
fn what_cannot_be_counted_says_why() {
    let sizes = [(11, 100, 2032, 2032)];
    let good = garland(&sizes, &[100], [100, 0, 0]);
    for (g, length, why) in [
        (garland(&[], &[100], [1, 0, 0]), 3e3, NoBuild::NoMix),
        (
            garland(&[(11, 0, 1, 2)], &[1], [1, 0, 0]),
            3e3,
            NoBuild::NoMix,
        ),
        (garland(&sizes, &[], [1, 0, 0]), 3e3, NoBuild::NoPalette),
        (garland(&sizes, &[-5], [1, 0, 0]), 3e3, NoBuild::NoPalette),
        (garland(&sizes, &[1], [0, -1, 0]), 3e3, NoBuild::NoClusters),
        (good.clone(), 0.0, NoBuild::NoPath),
        (good.clone(), -1e9, NoBuild::NoPath),
        (good.clone(), f64::NAN, NoBuild::NoPath),
        (good.clone(), 10e6, NoBuild::TooLarge),
        (good.clone(), f64::INFINITY, NoBuild::TooLarge),
        // a kilometre of balls of 1 cm
        (
            garland(&[(1, 1, 0, 0)], &[1], [1, 0, 0]),
            1e6,
            NoBuild::TooLarge,
        ),
    ] {
        assert_eq!(fit(&Recipe::of(&g), length).unwrap_err(), why, "{length}");
    }
    let recipe = Recipe::of(&good);
    let lone = from_pairs(&recipe, recipe.pairs(recipe.counts(2)), 0);
    assert_eq!(lone.unwrap_err(), NoBuild::LonePair);
}

/// The audit is no rubber stamp: whatever is changed in a plan, it is found.
#[test]
fn the_audit_finds_what_is_wrong() {
    let sizes = [(11, 70, 1524, 2540), (16, 30, 3810, 4064)];
    let g = garland(&sizes, &[50, 30, 20], [50, 30, 20]);
    let good = planned(&g, 6000.0);
    type Change = fn(&mut GarlandPlan);
    let changes: [(&str, Change); 22] = [
        ("length", |p| p.length_mm += 2),
        ("tie span", |p| p.tie_span_mm -= 2),
        ("path", |p| p.path_mm += 5000),
        ("balls", |p| p.balls += 2),
        ("pairs", |p| p.pairs -= 1),
        ("quads", |p| p.quads += 1),
        ("sixes for quads", |p| {
            (p.quads, p.sixes) = (p.sixes, p.quads)
        }),
        ("on the line", |p| p.on_line += 1),
        ("kept back", |p| p.extras += 1),
        ("many kept back", |p| {
            p.cards[0].extras += 9;
            p.extras += 9;
        }),
        ("counts", |p| p.counts[0].balls += 1),
        ("counts torn", |p| p.counts.push(p.counts[0].clone())),
        ("card", |p| p.cards[0].on_line += 1),
        ("card's pairs", |p| p.cards[0].pairs[0].times += 1),
        ("card's range", |p| {
            p.cards[0].pairs[0].blown[0].to_dmm = 0;
            p.cards[0].pairs[0].blown[1].to_dmm = 0
        }),
        ("one code twice", |p| {
            p.cards[1].code = p.cards[0].code.clone()
        }),
        ("line", |p| p.line[0] = p.line[0].wrapping_add(1)),
        ("line backwards", |p| p.clusters.reverse()),
        ("diameter", |p| p.clusters[3].balls[1].blown_dmm += 3000),
        ("colour", |p| {
            p.clusters[3].balls[1].colour = "nobody's".into()
        }),
        ("ties", |p| p.ties_mm[2] = -1),
        ("carried in", |p| p.lengths[0].clusters -= 1),
    ];
    for (name, change) in changes {
        let mut bad = good.clone();
        change(&mut bad);
        assert_ne!(audit(&g, &bad), Vec::<String>::new(), "{name}");
    }
    // and what the recipe does not ask for
    let mut other = g.clone();
    other.sixes_pct = 0;
    assert_ne!(audit(&other, &good), Vec::<String>::new());
    let mut other = g.clone();
    other.palette.get_mut("e0").unwrap().share_pct = 5;
    assert_ne!(audit(&other, &good), Vec::<String>::new());
}

fn any_garland() -> impl Strategy<Value = Garland> {
    let sizes = prop::collection::vec((5i64..36, 0i64..100, 800i64..4500, 800i64..4500), 1..4);
    let shades = prop::collection::vec(0i64..100, 1..6);
    let clusters = [0i64..100, 0i64..100, 0i64..100];
    let few_clusters = prop_oneof![
        clusters,
        // one kind alone is what most people do
        prop::sample::select(vec![[100, 0, 0], [0, 100, 0], [0, 0, 100]]),
    ];
    (sizes, shades, few_clusters, 0i64..40, 0u8..3, any::<bool>()).prop_map(
        |(sizes, shades, clusters, extras, odd, blended)| {
            let mut g = garland(&sizes, &shades, clusters);
            g.extras_pct = extras;
            g.odd = [Odd::AddOne, Odd::DropOne, Odd::MixedPair][usize::from(odd)];
            if blended {
                g.arrangement = Arrangement::Blended;
            }
            g
        },
    )
}

/// Counts down or up one cluster at a time from the estimate: slow and plain.
fn fit_step_by_step(recipe: &Recipe, path_mm: f64) -> Build {
    let reaches = |b: &Build| b.reaches(path_mm, DRAWN);
    let mut clusters = estimate(recipe, path_mm).unwrap();
    while !reaches(&build(recipe, clusters).unwrap()) {
        clusters += 1;
    }
    while clusters > 1 && reaches(&build(recipe, clusters - 1).unwrap()) {
        clusters -= 1;
    }
    build(recipe, clusters).unwrap().drawn_out(path_mm)
}

proptest! {
    #[test]
    fn any_garland_passes_the_audit(g in any_garland(), length in 1.0f64..15_000.0) {
        let recipe = Recipe::of(&g);
        if let Ok(build) = fit(&recipe, length) {
            prop_assert_eq!(audit(&g, &plan_of(&recipe, &build, length)), Vec::<String>::new());
        } else {
            prop_assert!(recipe.mix.is_empty() || recipe.palette.is_empty() || recipe.clusters == [0; 3]);
        }
    }

    /// Blended: in every stretch from the first tie each colour has its share of the pairs, but for one pair too many or as many too
    /// few as there are other colours (the bound of smooth weighted round robin).
    #[test]
    fn blended_colours_are_spread(shares in prop::collection::vec(1i64..100, 2..6), balls in 4i64..200) {
        let mut g = garland(&[(11, 100, 2032, 2032)], &shares, [100, 0, 0]);
        g.arrangement = Arrangement::Blended;
        let recipe = Recipe::of(&g);
        let build = from_pairs(&recipe, recipe.pairs(recipe.counts(balls * 2)), 0).unwrap();
        let entries: Vec<usize> = build.line.iter().flat_map(|c| c.chunks(2)).map(|p| p[0].entry).collect();
        let mut whole: BTreeMap<usize, usize> = BTreeMap::new();
        for e in &entries {
            *whole.entry(*e).or_default() += 1;
        }
        for (entry, all) in whole {
            let mut seen = 0;
            for (i, e) in entries.iter().enumerate() {
                seen += usize::from(*e == entry);
                prop_assert!(seen * entries.len() < (i + 1) * all + entries.len());
                prop_assert!((i + 1) * all <= (seen + shares.len() - 1) * entries.len());
            }
        }
    }

    #[test]
    fn absurd_recipes_are_answered(a in any::<i64>(), b in any::<i64>(), c in any::<i64>(), length in any::<f64>()) {
        let mut g = garland(&[(a, b, c, a), (b, c, a, b)], &[c, a, b], [a, b, c]);
        g.extras_pct = b;
        let recipe = Recipe::of(&g);
        if let Ok(build) = fit(&recipe, length) {
            prop_assert_eq!(audit(&g, &plan_of(&recipe, &build, length)), Vec::<String>::new());
        }
    }
}

proptest! {
    // step by step is slow
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn leaps_end_where_steps_end(g in any_garland(), length in 1.0f64..60_000.0) {
        let recipe = Recipe::of(&g);
        if let Ok(build) = fit(&recipe, length) {
            prop_assert_eq!(build, fit_step_by_step(&recipe, length));
        }
    }
}

//! An independent check of a counted garland: everything is counted again from the clusters and cards alone, and measured against
//! the recipe as it was entered. It shares no code with the counting but for the plain types.

use std::collections::{BTreeMap, BTreeSet};

use job::list::live;
use job::piece::{Arrangement, Garland, Odd, Shade, Shape};

use super::build::{DRAWN, DRAWN_BY_HAND};
use crate::types::{Ball, Card, Cluster, GarlandPlan};

/// Balls alike: colour seen, colour inside, nominal size.
type Kind<'a> = (&'a str, &'a str, i64);

/// What is wrong with a counted garland; empty if nothing is.
#[must_use]
pub fn audit(garland: &Garland, plan: &GarlandPlan) -> Vec<String> {
    let mut audit = Audit {
        garland,
        plan,
        wrong: Vec::new(),
    };
    audit.sums();
    audit.cards();
    // what a hand changed follows no share and no order
    if live(&garland.hand).is_empty() {
        audit.colours_and_sizes();
        audit.kinds_of_cluster();
        audit.shares();
        audit.order();
    }
    audit.lengths();
    audit.wrong
}

struct Audit<'a> {
    garland: &'a Garland,
    plan: &'a GarlandPlan,
    wrong: Vec<String>,
}

impl Audit<'_> {
    fn expect(&mut self, name: &str, got: i64, want: i64) {
        self.require(got == want, || format!("{name}: {got}, but counted {want}"));
    }

    fn require(&mut self, right: bool, wrong: impl FnOnce() -> String) {
        if !right {
            self.wrong.push(wrong());
        }
    }

    /// Cards x counts = balls = counts by colour = pairs; line and kept back = clusters.
    fn sums(&mut self) {
        let p = self.plan;
        let on_cards = |of: fn(&Card) -> i64| p.cards.iter().map(of).sum::<i64>();
        self.expect("clusters on the line", p.on_line, count(&p.clusters));
        self.expect("cards of the line", count(&p.line), p.on_line);
        self.expect("ties", count(&p.ties_mm), p.on_line);
        self.expect("pairs", p.pairs * 2, p.balls);
        self.expect(
            "balls by colour and size",
            p.counts.iter().map(|c| c.balls).sum(),
            p.balls,
        );
        self.expect(
            "balls on the cards",
            on_cards(|c| c.balls * (c.on_line + c.extras)),
            p.balls,
        );
        self.expect("on the line by card", on_cards(|c| c.on_line), p.on_line);
        self.expect("kept back by card", on_cards(|c| c.extras), p.extras);
        for (name, said, balls) in [
            ("quads", p.quads, 4),
            ("sixes", p.sixes, 6),
            ("eights", p.eights, 8),
        ] {
            let cards = p.cards.iter().filter(|c| c.balls == balls);
            self.expect(name, said, cards.map(|c| c.on_line + c.extras).sum());
        }
        self.expect(
            "clusters in all",
            p.quads + p.sixes + p.eights,
            p.on_line + p.extras,
        );
        let most = p.on_line + count_ids(&self.garland.palette) + 3;
        let allowed = self.garland.extras_pct.clamp(0, 1000) * most / 100 + 1;
        self.require(p.extras <= allowed, || {
            format!("{} kept back, at most {allowed} asked for", p.extras)
        });
        self.require(p.on_line >= 1, || "nothing is on the line".into());
    }

    /// Every cluster of the line is what its card says; cards are numbered in the order in which the line needs them.
    fn cards(&mut self) {
        let p = self.plan;
        let mut seen: Vec<u32> = Vec::new();
        let mut on_line: BTreeMap<u32, i64> = BTreeMap::new();
        for (i, (cluster, listed)) in p.clusters.iter().zip(&p.line).enumerate() {
            *on_line.entry(cluster.card).or_default() += 1;
            self.require(cluster.card == *listed, || {
                format!(
                    "cluster {i} names card {} and the line {listed}",
                    cluster.card
                )
            });
            if !seen.contains(&cluster.card) {
                seen.push(cluster.card);
            }
            let card = usize::try_from(cluster.card)
                .ok()
                .and_then(|c| p.cards.get(c));
            match card {
                Some(card) => self.require(is_made_as(cluster, card), || {
                    format!("cluster {i} is not as card {} says", card.code)
                }),
                None => self.wrong.push(format!("cluster {i} has no card")),
            }
        }
        self.require(seen.windows(2).all(|w| w[0] < w[1]), || {
            "cards are not numbered in the order of the line".into()
        });
        let codes: BTreeSet<&str> = p.cards.iter().map(|c| c.code.as_str()).collect();
        self.require(codes.len() == p.cards.len(), || {
            "two cards have one code".into()
        });
        let contents: BTreeSet<Vec<[Kind; 2]>> = p.cards.iter().map(pairs_of).collect();
        self.require(contents.len() == p.cards.len(), || {
            "two cards say the same".into()
        });
        for (i, card) in (0u32..).zip(&p.cards) {
            let counted = on_line.get(&i).copied().unwrap_or(0);
            self.expect(
                &format!("on the line by card {}", card.code),
                card.on_line,
                counted,
            );
            let pairs: i64 = card.pairs.iter().map(|c| c.times).sum();
            self.expect(
                &format!("balls of card {}", card.code),
                card.balls,
                2 * pairs,
            );
        }
    }

    /// Counts by colour and size from the cards; only what the recipe names, blown as it says; two colours in a pair only if asked for.
    fn colours_and_sizes(&mut self) {
        let p = self.plan;
        let mut counted: BTreeMap<Kind, i64> = BTreeMap::new();
        let mut two_coloured = 0;
        for card in &p.cards {
            let clusters = card.on_line + card.extras;
            for pair in &card.pairs {
                for ball in &pair.balls {
                    *counted.entry(kind(ball)).or_default() += pair.times * clusters;
                }
                let [a, b] = pair.balls.as_slice() else {
                    self.wrong
                        .push(format!("a pair of card {} is no pair", card.code));
                    continue;
                };
                if (&a.colour, &a.inside) != (&b.colour, &b.inside) {
                    two_coloured += pair.times * clusters;
                }
            }
        }
        let said: BTreeMap<Kind, i64> = p
            .counts
            .iter()
            .map(|c| ((c.colour.as_str(), c.inside.as_str(), c.size_in), c.balls))
            .collect();
        self.expect("lines of the counts", count(&p.counts), count_keys(&said));
        self.require(counted == said, || {
            format!("balls by colour and size: {said:?}, but the cards hold {counted:?}")
        });
        let most = match self.garland.odd {
            Odd::MixedPair => count_ids(&self.garland.palette) / 2,
            Odd::AddOne | Odd::DropOne | Odd::Newer => 0,
        };
        self.require(two_coloured <= most, || {
            format!("{two_coloured} pairs of two colours, at most {most} allowed")
        });
        for ball in p.clusters.iter().flat_map(|c| &c.balls) {
            let blown = live(&self.garland.mix).into_iter().any(|(_, s)| {
                let (from, to) = (s.from_dmm.min(s.to_dmm), s.from_dmm.max(s.to_dmm));
                let within = from.clamp(100, 20_000)..=to.clamp(100, 20_000);
                s.size_in == ball.size_in && s.share_pct > 0 && within.contains(&ball.blown_dmm)
            });
            let named = live(&self.garland.palette).into_iter().any(|(_, s)| {
                s.colour == ball.colour && s.inside == ball.inside && self.share(s) > 0
            });
            self.require(blown && named, || format!("{ball:?} is not in the recipe"));
        }
    }

    /// A kind of cluster without a share is there only if the pairs cannot be used up without it.
    fn kinds_of_cluster(&mut self) {
        let p = self.plan;
        let g = self.garland;
        let kinds = [
            (p.quads, g.quads_pct > 0, 2),
            (p.sixes, g.sixes_pct > 0, 3),
            (p.eights, g.eights_pct > 0, 4),
        ];
        if kinds.iter().any(|(n, wanted, _)| *n > 0 && !wanted) {
            // how many pairs can be used up with the wanted kinds alone
            let mut can = vec![true];
            for pairs in 1..=p.pairs {
                let with = |of: &i64| {
                    usize::try_from(pairs - of).is_ok_and(|rest| can.get(rest) == Some(&true))
                };
                let one = kinds.iter().any(|(_, wanted, of)| *wanted && with(of));
                can.push(one);
            }
            self.require(can.last() == Some(&false), || {
                "a kind of cluster is used that nobody asked for".into()
            });
        }
    }

    /// What a colour's share is measured by: its percentage, or its length where blocks have lengths.
    fn share(&self, shade: &Shade) -> i64 {
        let by_length = self.garland.arrangement == Arrangement::Blocks
            && live(&self.garland.palette)
                .iter()
                .any(|(_, s)| s.length_mm > 0);
        match (by_length, shade.length_mm > 0) {
            (false, _) => shade.share_pct,
            (true, true) => shade.length_mm,
            (true, false) => shade.share_pct.clamp(0, 1000) * self.plan.path_mm / 100,
        }
    }

    /// Sizes and colours lie within a ball for each rounding of their shares, and one for each odd one.
    fn shares(&mut self) {
        let p = self.plan;
        let mix: Vec<_> = live(&self.garland.mix)
            .into_iter()
            .map(|(_, s)| (s.size_in, s.share_pct.clamp(0, 1_000_000)))
            .filter(|(_, share)| *share > 0)
            .collect();
        let palette: Vec<_> = live(&self.garland.palette)
            .into_iter()
            .map(|(_, s)| ((&s.colour, &s.inside), self.share(s).clamp(0, 1_000_000)))
            .filter(|(_, share)| *share > 0)
            .collect();
        let slack = count(&mix) * count(&palette) + count(&palette) + 1;
        let mut check = |name: String, got: i64, share: i64, all: i64| {
            let off = i128::from(got) * i128::from(all) - i128::from(p.balls) * i128::from(share);
            if off.abs() > i128::from(slack) * i128::from(all) {
                self.wrong.push(format!(
                    "{got} of {name}, of {} and a share of {share}/{all}",
                    p.balls
                ));
            }
        };
        let all: i64 = mix.iter().map(|(_, s)| s).sum();
        for size in mix.iter().map(|(s, _)| s).collect::<BTreeSet<_>>() {
            let share = mix.iter().filter(|(s, _)| s == size).map(|(_, w)| w).sum();
            let got = p.counts.iter().filter(|c| c.size_in == *size);
            check(format!("{size} in"), got.map(|c| c.balls).sum(), share, all);
        }
        let all: i64 = palette.iter().map(|(_, s)| s).sum();
        for shade in palette.iter().map(|(s, _)| *s).collect::<BTreeSet<_>>() {
            let share = palette.iter().filter(|(s, _)| *s == shade);
            let got = p.counts.iter().filter(|c| (&c.colour, &c.inside) == shade);
            check(
                format!("{shade:?}"),
                got.map(|c| c.balls).sum(),
                share.map(|(_, w)| w).sum(),
                all,
            );
        }
    }

    /// Blocks: each colour by itself, in the order of the palette; pairs of two colours come after all.
    fn order(&mut self) {
        if !matches!(
            self.garland.arrangement,
            Arrangement::Blocks | Arrangement::Newer
        ) {
            return;
        }
        let palette: Vec<_> = live(&self.garland.palette)
            .into_iter()
            .filter(|(_, s)| self.share(s) > 0)
            .map(|(_, s)| (&s.colour, &s.inside))
            .collect();
        if palette.iter().collect::<BTreeSet<_>>().len() < palette.len() {
            return; // a colour stands in the palette twice: it may come back
        }
        let rank = |b: &Ball| palette.iter().position(|s| *s == (&b.colour, &b.inside));
        let ranks: Vec<_> = self
            .plan
            .clusters
            .iter()
            .flat_map(|c| c.balls.chunks(2))
            .map(|pair| match pair {
                [a, b] if rank(a) == rank(b) => rank(a),
                _ => Some(usize::MAX),
            })
            .collect();
        self.require(ranks.windows(2).all(|w| w[0] <= w[1]), || {
            "colour blocks are torn apart".into()
        });
    }

    /// Lengths by the instant rule, written out again; places of the ties; the lengths that it is carried in.
    fn lengths(&mut self) {
        let p = self.plan;
        let pitches: Vec<f64> = p.clusters.iter().map(pitch_mm).collect();
        let ends = match pitches.as_slice() {
            [] => 0.0,
            [one] => *one,
            [first, .., last] => (first + last) / 2.0,
        };
        let span = pitches.iter().sum::<f64>() - ends;
        let tips = [p.clusters.first(), p.clusters.last()];
        let tips: f64 = tips.into_iter().flatten().map(largest_mm).sum::<f64>() / 2.0;
        // a line that is a little short is drawn out to the end of its path
        let missing = millimetres(p.path_mm) - (span + tips);
        let by_hand = !live(&self.garland.hand).is_empty();
        let drawn = if span > 0.0 && by_hand {
            missing.clamp(0.0, DRAWN_BY_HAND * (span + tips))
        } else if span > 0.0 && missing <= DRAWN * millimetres(p.path_mm) + 1.0 {
            missing.max(0.0)
        } else {
            0.0
        };
        // the path is known to the millimetre
        let off = if drawn > 0.0 { 1.001 } else { 0.501 };
        let by_rule = [
            ("tie span", p.tie_span_mm, span + drawn),
            ("length", p.length_mm, span + tips + drawn),
        ];
        // what was packed is not as long as the rule says
        for (name, said, is) in by_rule.into_iter().filter(|_| p.packed.is_empty()) {
            self.require((millimetres(said) - is).abs() <= off, || {
                format!("{name}: {said} mm, but measured {is:.2}")
            });
        }
        self.require(by_hand || p.length_mm + 1 >= p.path_mm, || {
            format!("{} mm do not reach along {} mm", p.length_mm, p.path_mm)
        });
        let in_order = p.ties_mm.windows(2).all(|w| w[0] <= w[1]);
        let on_path = p.ties_mm.iter().all(|t| (0..=p.path_mm).contains(t));
        self.require(in_order && on_path, || {
            "ties are not in order along the path".into()
        });
        let ends = p.path.first().zip(p.path.last());
        let on_ends = matches!(
            self.garland.shape,
            Shape::Straight | Shape::Arch | Shape::Swag
        );
        self.require(
            !on_ends || ends.is_some_and(|(a, b)| *a == [0, 0] && b[1] == 0 && b[0] >= 0),
            || "the path does not stand on its ends".into(),
        );
        let on_foot = self.garland.shape == Shape::HalfArch;
        self.require(
            !on_foot || ends.is_some_and(|(a, b)| a[1] == 0 && b[1] >= 0),
            || "the path does not stand on its foot".into(),
        );
        let mut first = 0;
        for (i, part) in p.lengths.iter().enumerate() {
            self.expect(
                &format!("first cluster of length {i}"),
                i64::from(part.first),
                first,
            );
            first += i64::from(part.clusters);
            self.require(part.clusters > 0, || format!("length {i} is empty"));
        }
        self.expect("clusters of the lengths", first, p.on_line);
    }
}

/// Whether a cluster holds the pairs of a card, blown within its range.
fn is_made_as(cluster: &Cluster, card: &Card) -> bool {
    let mut pairs: Vec<[Kind; 2]> = cluster
        .balls
        .chunks(2)
        .map(|pair| ordered([kind(&pair[0]), kind(&pair[pair.len() - 1])]))
        .collect();
    pairs.sort_unstable();
    let within = cluster.balls.chunks(2).all(|pair| {
        let pair_kind = ordered([kind(&pair[0]), kind(&pair[pair.len() - 1])]);
        card.pairs.iter().any(|of| {
            let same =
                matches!(of.balls.as_slice(), [a, b] if ordered([kind(a), kind(b)]) == pair_kind);
            let has_range = |b: &Ball| {
                of.balls.iter().zip(&of.blown).any(|(like, range)| {
                    kind(like) == kind(b) && (range.from_dmm..=range.to_dmm).contains(&b.blown_dmm)
                })
            };
            same && pair.iter().all(has_range)
        })
    });
    within && pairs == pairs_of(card)
}

/// All pairs of a card by what they are, in one order.
fn pairs_of(card: &Card) -> Vec<[Kind<'_>; 2]> {
    let mut pairs = Vec::new();
    for pair in &card.pairs {
        if let [a, b] = pair.balls.as_slice() {
            for _ in 0..pair.times {
                pairs.push(ordered([kind(a), kind(b)]));
            }
        }
    }
    pairs.sort_unstable();
    pairs
}

fn ordered<T: Ord>(mut pair: [T; 2]) -> [T; 2] {
    pair.sort_unstable();
    pair
}

fn kind(ball: &Ball) -> Kind<'_> {
    (&ball.colour, &ball.inside, ball.size_in)
}

/// Line that a cluster takes: its factor times the power mean of its diameters with exponent -2.
fn pitch_mm(cluster: &Cluster) -> f64 {
    let factor = match cluster.balls.len() {
        4 => 0.771,
        6 => 1.386,
        8 => 1.592,
        _ => f64::NAN,
    };
    let inverse: f64 = cluster
        .balls
        .iter()
        .map(|b| libm::pow(millimetres(b.blown_dmm) / 10.0, -2.0))
        .sum();
    factor * libm::pow(inverse / millimetres(count(&cluster.balls)), -0.5)
}

fn largest_mm(cluster: &Cluster) -> f64 {
    let largest = cluster.balls.iter().map(|b| b.blown_dmm).max();
    millimetres(largest.unwrap_or(0)) / 10.0
}

fn millimetres(n: i64) -> f64 {
    crate::inflate::whole(n)
}

fn count<T>(list: &[T]) -> i64 {
    i64::try_from(list.len()).unwrap_or(i64::MAX)
}

fn count_ids<T>(list: &job::Ids<T>) -> i64 {
    i64::try_from(list.len()).unwrap_or(i64::MAX)
}

fn count_keys<K, V>(list: &BTreeMap<K, V>) -> i64 {
    i64::try_from(list.len()).unwrap_or(i64::MAX)
}

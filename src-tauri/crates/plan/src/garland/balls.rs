//! Balls of a garland by size and colour, and their pairs.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use job::list::live;
use job::piece::{Arrangement, Garland, Odd};

use super::hand::Change;
use crate::inflate::{by_hand, nearest, whole};
use crate::route::Route;
use crate::spread::largest_remainder;

/// A hole of the sizer stands for so many tenths of a millimetre: an inch.
const HOLE_DMM: i64 = 254;
/// Diameters that are counted with, tenths of a millimetre: 1 cm to 2 m. What lies outside has a finding of its own.
const RANGE_DMM: (i64, i64) = (100, 20_000);
/// Shares larger than this are cut: only their proportion matters.
const MOST_SHARE: i64 = 1_000_000;

/// A ball is big if it is blown to more than so many percent of the mean diameter of the usual size: 16 in beside 11 in at 6 to 10 in are, 11 in at
/// 10 in beside 11 in at 6 are not. Common practice, no source.
const BIG_PCT: i64 = 130;

/// One size of the recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct Mix {
    /// Nominal size, in.
    pub size_in: i64,
    /// Share of the balls.
    pub share: i64,
    /// Diameters of the sizer, tenths of a millimetre, smallest first; equally many balls to each.
    pub dmm: Vec<i64>,
}

/// One colour of the recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Id in the palette.
    pub id: String,
    /// Colour seen, id.
    pub colour: String,
    /// Colour inside, id; empty for a single balloon.
    pub inside: String,
    /// Share of the balls.
    pub share: i64,
}

/// What a garland is made of, its lists in order.
#[derive(Debug, Clone, PartialEq)]
pub struct Recipe {
    /// Sizes with a share.
    pub mix: Vec<Mix>,
    /// Colours with a share.
    pub palette: Vec<Entry>,
    /// Shares of quads, sixes and eights among the clusters.
    pub clusters: [i64; 3],
    /// Kept back, percent of the clusters on the line.
    pub extras_pct: i64,
    /// What to do with odd ones.
    pub odd: Odd,
    /// How the colours lie along the line.
    pub arrangement: Arrangement,
    /// Clusters that a hand changed.
    pub hand: Vec<Change>,
}

impl Entry {
    /// Its one or two colours, ids.
    pub fn colours(&self) -> impl Iterator<Item = &str> {
        [self.colour.as_str(), self.inside.as_str()]
            .into_iter()
            .enumerate()
            .filter(|(i, id)| *i == 0 || !id.is_empty())
            .map(|(_, id)| id)
    }
}

/// A ball: indices into palette and mix, and its diameter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ball {
    /// Index into the palette.
    pub entry: usize,
    /// Index into the mix.
    pub part: usize,
    /// Diameter, tenths of a millimetre.
    pub dmm: i64,
}

/// Pairs by palette entry; those of two colours at the end.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Pairs {
    /// Pairs of one colour, by palette entry, big ones first.
    pub of_one: Vec<Vec<[Ball; 2]>>,
    /// Pairs of two colours.
    pub mixed: Vec<[Ball; 2]>,
    /// Palette entries whose number was odd.
    pub odd: Vec<OddOne>,
}

/// A palette entry that came out odd.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OddOne {
    /// Index into the palette.
    pub entry: usize,
    /// Its balls by the shares.
    pub balls: i64,
    /// Its balls in the garland.
    pub used: i64,
}

impl Recipe {
    /// The recipe of a garland. What has no share, or is gone, is left out.
    #[must_use]
    pub fn of(garland: &Garland) -> Recipe {
        let share = |s: i64| s.clamp(0, MOST_SHARE);
        let weights = blocks(garland);
        let mut recipe = Recipe {
            mix: live(&garland.mix)
                .into_iter()
                .filter(|(_, s)| s.share_pct > 0)
                .map(|(_, s)| Mix {
                    size_in: s.size_in,
                    share: share(s.share_pct),
                    dmm: sizer(s.from_dmm, s.to_dmm),
                })
                .collect(),
            palette: live(&garland.palette)
                .into_iter()
                .map(|(id, s)| Entry {
                    id: id.to_string(),
                    colour: s.colour.clone(),
                    inside: s.inside.clone(),
                    share: share(weights.get(id).copied().unwrap_or(s.share_pct)),
                })
                .filter(|e| e.share > 0)
                .collect(),
            clusters: [garland.quads_pct, garland.sixes_pct, garland.eights_pct].map(share),
            extras_pct: garland.extras_pct.clamp(0, 1000),
            odd: garland.odd,
            arrangement: garland.arrangement,
            hand: Vec::new(),
        };
        recipe.take_changes(garland);
        recipe
    }

    /// For each palette entry the first one that looks the same: same colours, outside and inside.
    #[must_use]
    pub fn looks(&self) -> Vec<usize> {
        let mut first: BTreeMap<(&str, &str), usize> = BTreeMap::new();
        self.palette
            .iter()
            .enumerate()
            .map(|(i, e)| *first.entry((&e.colour, &e.inside)).or_insert(i))
            .collect()
    }

    /// Balls by palette entry and size: first by size, then by colour within each size.
    #[must_use]
    pub fn counts(&self, balls: i64) -> Vec<Vec<i64>> {
        let by_size =
            largest_remainder(balls, &self.mix.iter().map(|m| m.share).collect::<Vec<_>>());
        let weights: Vec<i64> = self.palette.iter().map(|e| e.share).collect();
        let mut counts = vec![vec![0; self.mix.len()]; self.palette.len()];
        for (part, of_size) in by_size.into_iter().enumerate() {
            for (entry, n) in largest_remainder(of_size, &weights).into_iter().enumerate() {
                counts[entry][part] = n;
            }
        }
        counts
    }

    /// Makes the number of each entry even, or leaves it odd, as the recipe says.
    pub fn treat_odd(&self, counts: &mut [Vec<i64>]) -> Vec<OddOne> {
        let mut odd = Vec::new();
        for (entry, of_entry) in counts.iter_mut().enumerate() {
            let balls: i64 = of_entry.iter().sum();
            // the size with the most balls; ties: the earlier
            let most = (0..of_entry.len()).max_by_key(|p| (of_entry[*p], Reverse(*p)));
            let Some(most) = most.filter(|_| balls % 2 == 1) else {
                continue;
            };
            let more = match self.odd {
                Odd::MixedPair => 0,
                Odd::DropOne if balls > 1 => -1,
                Odd::DropOne | Odd::AddOne | Odd::Newer => 1,
            };
            of_entry[most] += more;
            odd.push(OddOne {
                entry,
                balls,
                used: balls + more,
            });
        }
        odd
    }

    /// Pairs of so many balls by entry and size. Odd ones are treated as the recipe says.
    #[must_use]
    pub fn pairs(&self, mut counts: Vec<Vec<i64>>) -> Pairs {
        let odd = self.treat_odd(&mut counts);
        let mut balls = self.blown(&counts);
        let mut single: Vec<Ball> = Vec::new();
        let mut of_one = Vec::new();
        for of_entry in &mut balls {
            of_entry.sort_by_key(|b| (Reverse(b.dmm), b.part));
            let pairs = of_entry.len() / 2;
            single.extend(of_entry.drain(2 * pairs..));
            of_one.push(self.paired(of_entry));
        }
        let mixed = single.chunks_exact(2).map(|two| [two[0], two[1]]).collect();
        Pairs { of_one, mixed, odd }
    }

    /// Pairs of balls that come from big to small. As long as there are both, a big one is tied to one of the usual size: it then lies in
    /// its cluster alone with smaller ones round it, while two big ones opposite each other stand out on both sides and leave waists
    /// between them and the next. The rest is paired with its like.
    fn paired(&self, balls: &[Ball]) -> Vec<[Ball; 2]> {
        let Some((usual, from_dmm)) = self.usual() else {
            return by_twos(balls);
        };
        let (big, others) = balls.split_at(balls.partition_point(|b| b.dmm > from_dmm));
        let alike: Vec<usize> = (0..others.len())
            .filter(|i| others[*i].part == usual)
            .collect();
        let mixed = big.len().min(alike.len());
        // taken evenly, so that what goes with big ones is of all diameters
        let partners = (0..mixed).map(|k| alike[(2 * k + 1) * alike.len() / (2 * mixed)]);
        let mut rest: Vec<Option<Ball>> = others.iter().copied().map(Some).collect();
        let mut pairs: Vec<[Ball; 2]> = partners
            .zip(big)
            .filter_map(|(at, big)| Some([*big, rest[at].take()?]))
            .collect();
        let rest = big[mixed..]
            .iter()
            .copied()
            .chain(rest.into_iter().flatten());
        pairs.extend(by_twos(&rest.collect::<Vec<_>>()));
        pairs
    }

    /// The size that most balls have of those blown by machine, of equal ones the smaller, and the diameter from which one is big beside
    /// it, tenths of a millimetre. What is pumped by hand is paired by itself.
    fn usual(&self) -> Option<(usize, i64)> {
        let mean =
            |m: &Mix| m.dmm.iter().sum::<i64>() / i64::try_from(m.dmm.len()).unwrap_or(1).max(1);
        self.mix
            .iter()
            .enumerate()
            .filter(|(_, m)| !by_hand(m.size_in))
            .max_by_key(|(_, m)| (m.share, Reverse(mean(m))))
            .map(|(part, m)| (part, mean(m) * BIG_PCT / 100))
    }

    /// The balls of each entry with their diameters: within a size, entry by entry, each hole of the sizer in turn.
    fn blown(&self, counts: &[Vec<i64>]) -> Vec<Vec<Ball>> {
        let mut balls: Vec<Vec<Ball>> = vec![Vec::new(); counts.len()];
        for (part, mix) in self.mix.iter().enumerate() {
            let mut holes = mix.dmm.iter().cycle();
            for (entry, of_entry) in counts.iter().enumerate() {
                for _ in 0..of_entry[part].max(0) {
                    if let Some(dmm) = holes.next() {
                        balls[entry].push(Ball {
                            entry,
                            part,
                            dmm: *dmm,
                        });
                    }
                }
            }
        }
        balls
    }
}

/// Each with the next.
fn by_twos(balls: &[Ball]) -> Vec<[Ball; 2]> {
    balls.chunks_exact(2).map(|two| [two[0], two[1]]).collect()
}

/// Shares by the lengths of blocks, mm, where any block of a garland in blocks has one; a colour without a length takes its percentage
/// of the path.
fn blocks(garland: &Garland) -> BTreeMap<String, i64> {
    let shades = live(&garland.palette);
    let in_blocks = garland.arrangement == Arrangement::Blocks;
    if !in_blocks || shades.iter().all(|(_, s)| s.length_mm <= 0) {
        return BTreeMap::new();
    }
    let path = Route::of(garland).map_or(0.0, |r| r.length);
    shades
        .into_iter()
        .map(|(id, s)| {
            let by_share = nearest(whole(s.share_pct.clamp(0, 1000)) / 100.0 * path);
            (
                id.to_string(),
                if s.length_mm > 0 {
                    s.length_mm
                } else {
                    by_share
                },
            )
        })
        .collect()
}

/// A diameter that can be counted with, tenths of a millimetre.
pub(super) fn blown(dmm: i64) -> i64 {
    dmm.clamp(RANGE_DMM.0, RANGE_DMM.1)
}

/// The diameters that a range is blown to: from one end to the other by steps of about an inch.
fn sizer(from_dmm: i64, to_dmm: i64) -> Vec<i64> {
    let (from, to) = (blown(from_dmm.min(to_dmm)), blown(from_dmm.max(to_dmm)));
    let steps = (to - from + HOLE_DMM / 2) / HOLE_DMM;
    (0..=steps)
        .map(|i| {
            if steps == 0 {
                from
            } else {
                from + (2 * i * (to - from) + steps) / (2 * steps)
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_range_is_blown_to_steps_of_an_inch() {
        assert_eq!(sizer(1524, 2540), [1524, 1778, 2032, 2286, 2540]);
        assert_eq!(sizer(3810, 4064), [3810, 4064]);
        assert_eq!(sizer(2032, 2032), [2032]);
        assert_eq!(sizer(2540, 1524), sizer(1524, 2540));
        assert_eq!(sizer(2000, 2100), [2000]);
        assert_eq!(sizer(i64::MIN, i64::MAX).first(), Some(&100));
    }

    fn recipe(odd: Odd) -> Recipe {
        Recipe {
            mix: vec![
                Mix {
                    size_in: 11,
                    share: 80,
                    dmm: vec![1524, 2032],
                },
                Mix {
                    size_in: 16,
                    share: 20,
                    dmm: vec![3810],
                },
            ],
            palette: ["a", "b", "c"]
                .map(|id| Entry {
                    id: id.into(),
                    colour: id.into(),
                    inside: String::new(),
                    share: 1,
                })
                .into(),
            clusters: [100, 0, 0],
            extras_pct: 0,
            odd,
            arrangement: Arrangement::Blocks,
            hand: Vec::new(),
        }
    }

    #[test]
    fn odd_ones_are_added_dropped_or_mixed() {
        // 20 balls: 16 and 4; 16 by thirds 6 5 5, 4 by thirds 2 1 1: 8 6 6. 22: 18 and 4: 6 6 6 and 2 1 1: 8 7 7
        let counts = recipe(Odd::AddOne).counts(22);
        assert_eq!(counts, [[6, 2], [6, 1], [6, 1]]);
        for (odd, of_one, mixed) in [
            (Odd::AddOne, [4, 4, 4], 0),
            (Odd::DropOne, [4, 3, 3], 0),
            (Odd::MixedPair, [4, 3, 3], 1),
        ] {
            let pairs = recipe(odd).pairs(counts.clone());
            assert_eq!(
                pairs.odd.iter().map(|o| o.entry).collect::<Vec<_>>(),
                [1, 2]
            );
            assert_eq!(
                pairs.of_one.iter().map(Vec::len).collect::<Vec<_>>(),
                of_one
            );
            assert_eq!(pairs.mixed.len(), mixed);
            for (entry, list) in pairs.of_one.iter().enumerate() {
                assert!(list.iter().flatten().all(|b| b.entry == entry));
            }
        }
    }

    #[test]
    fn a_big_one_is_tied_to_one_of_the_usual_size() {
        let diameters = |counts: [i64; 2]| -> Vec<[i64; 2]> {
            let counts = vec![counts.to_vec(), vec![0, 0], vec![0, 0]];
            let pairs = recipe(Odd::AddOne).pairs(counts);
            pairs.of_one[0]
                .iter()
                .map(|p| [p[0].dmm, p[1].dmm])
                .collect()
        };
        assert_eq!(
            diameters([6, 2]),
            [[3810, 2032], [3810, 1524], [2032, 2032], [1524, 1524]]
        );
        // more big ones than usual ones: the rest of them by twos, and one more of them as their number is odd
        assert_eq!(
            diameters([2, 5]),
            [[3810, 2032], [3810, 1524], [3810, 3810], [3810, 3810]]
        );
    }
}

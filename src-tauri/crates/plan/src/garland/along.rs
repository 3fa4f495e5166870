//! In which order the pairs are dealt into clusters along the line.

use std::cmp::Reverse;

use job::piece::Arrangement;

use super::balls::{Ball, Pairs};
use crate::spread::round_robin;

/// The golden section, (√5 − 1) / 2, in hundred-thousandths: steps of this share of a circle leave no gap in it for long, however many
/// they are.
const GOLDEN: u64 = 61_803;
const CIRCLE: u64 = 100_000;

/// Where each cluster of a spiral begins on the circle of colours: in steps of √2 − 1, which go with neither the golden steps of the
/// sizes nor their doubles.
const WOUND: u64 = 41_421;

/// All pairs in the order in which they are dealt into clusters of so many pairs; those of two colours come last.
pub(super) fn along_the_line(
    arrangement: Arrangement,
    pairs: Pairs,
    clusters: &[i64],
) -> Vec<[Ball; 2]> {
    let counts: Vec<usize> = pairs.of_one.iter().map(Vec::len).collect();
    let colours = match arrangement {
        Arrangement::Blended => in_turn(&counts),
        Arrangement::Spiral => wound(&counts, clusters),
        Arrangement::Fade => faded(&counts),
        Arrangement::Blocks | Arrangement::Newer => in_blocks(&counts).collect(),
    };
    let size = |pair: &[Ball; 2]| {
        if pair[0].dmm < pair[1].dmm {
            pair[1]
        } else {
            pair[0]
        }
    };
    let mut ordered = sized(&colours, &pairs.of_one, |pair| size(pair).part);
    let balls = ordered.iter().chain(&pairs.mixed).flatten();
    let biggest = balls.max_by_key(|b| b.dmm).map(|b| b.part);
    let ends = [clusters.first(), clusters.last()].map(|n| pairs_of(n.copied()));
    tapered(&mut ordered, &colours, ends, |pair| {
        Some(size(pair).part) == biggest
    });
    ordered.extend(pairs.mixed);
    ordered
}

/// Each colour has a part of the circle round the line, as large as its share, in the order of the palette. The pairs of a cluster lie
/// evenly round it, and each has the colour of the part that it lies in: so two pairs have colours that lie opposite. How the whole
/// circle winds along the line is the packing's business, which turns each cluster to where its colours belong.
fn wound(counts: &[usize], clusters: &[i64]) -> Vec<usize> {
    let all: usize = counts.iter().sum();
    let mut places: Vec<(u64, usize)> = Vec::new();
    for (cluster, pairs) in clusters.iter().enumerate() {
        let pairs = u64::try_from(*pairs).unwrap_or(1).max(1);
        for pair in 0..pairs {
            let round = (WOUND * count(cluster) + CIRCLE * pair / pairs) % CIRCLE;
            places.push((round, places.len()));
        }
    }
    // pairs of two colours come last and have no part of the circle
    places.truncate(all);
    places.sort_unstable();
    let mut dealt: Vec<(usize, usize)> = places
        .into_iter()
        .map(|(_, place)| place)
        .zip(in_blocks(counts))
        .collect();
    dealt.sort_unstable();
    dealt.into_iter().map(|(_, colour)| colour).collect()
}

/// The colour of each pair along the line, one colour after the other.
fn in_blocks(counts: &[usize]) -> impl Iterator<Item = usize> {
    counts
        .iter()
        .enumerate()
        .flat_map(|(colour, n)| std::iter::repeat_n(colour, *n))
}

/// Each colour as often as its number says, never long without any.
fn in_turn(counts: &[usize]) -> Vec<usize> {
    let counts: Vec<i64> = counts
        .iter()
        .map(|n| i64::try_from(*n).unwrap_or(i64::MAX))
        .collect();
    round_robin(&counts)
}

/// As in blocks, but every pair moved from its place by up to half a block either way, in golden steps: near the middle of a block
/// its colour is alone, at its ends half of the next.
fn faded(counts: &[usize]) -> Vec<usize> {
    let blocks = counts.iter().filter(|n| **n > 0).count().max(1);
    let width = count(counts.iter().sum::<usize>() / blocks);
    let mut placed: Vec<(u64, usize)> = Vec::new();
    for (colour, n) in counts.iter().enumerate() {
        for i in 0..*n {
            let moved = (CIRCLE / 2 + GOLDEN * count(i)) % CIRCLE * width;
            placed.push((count(placed.len()) * CIRCLE + moved, colour));
        }
    }
    // the sort is stable: equal places keep the order of the blocks
    placed.sort_by_key(|(place, _)| *place);
    placed.into_iter().map(|(_, colour)| colour).collect()
}

/// Gives each place of the line a pair of its colour, of the size that is furthest behind its share by then, in the colour and on the
/// whole line: so every stretch holds all sizes, and no colour has its big ones side by side, whatever the colours do. Of a size, the
/// pairs of a colour follow in golden steps from big to small.
fn sized<T: Copy>(colours: &[usize], of_one: &[Vec<T>], size: impl Fn(&T) -> usize) -> Vec<T> {
    let sizes = of_one
        .iter()
        .flatten()
        .map(&size)
        .max()
        .map_or(0, |s| s + 1);
    let mut lists: Vec<Vec<Vec<T>>> = vec![vec![Vec::new(); sizes]; of_one.len()];
    for (list, pairs) in lists.iter_mut().zip(of_one) {
        for pair in pairs {
            list[size(pair)].push(*pair);
        }
    }
    for list in lists.iter_mut().flatten() {
        *list = stepped(list);
    }
    let signed = |n: usize| i128::try_from(n).unwrap_or(i128::MAX);
    let shares: Vec<Vec<i128>> = lists
        .iter()
        .map(|list| list.iter().map(|l| signed(l.len())).collect())
        .collect();
    let all: Vec<i128> = (0..sizes)
        .map(|s| shares.iter().map(|of| of[s]).sum())
        .collect();
    let whole: i128 = all.iter().sum();
    let mut dealt = vec![0; sizes];
    let mut line: Vec<T> = Vec::with_capacity(colours.len());
    for colour in colours {
        let (Some(list), Some(of)) = (lists.get_mut(*colour), shares.get(*colour)) else {
            continue;
        };
        let mine: i128 = of.iter().sum();
        let had = mine - list.iter().map(|l| signed(l.len())).sum::<i128>();
        let behind = |s: usize, left: usize| {
            let on_line = all[s] * (signed(line.len()) + 1) - dealt[s] * whole;
            let in_colour = of[s] * (had + 1) - (of[s] - signed(left)) * mine;
            on_line * mine + in_colour * whole
        };
        let next = (0..sizes)
            .filter(|s| !list[*s].is_empty())
            .max_by_key(|s| (behind(*s, list[*s].len()), Reverse(*s)));
        if let Some(pair) = next.and_then(|s| {
            dealt[s] += 1;
            list[s].pop()
        }) {
            line.push(pair);
        }
    }
    line
}

/// A list from big to small dealt in golden steps; the last comes first.
fn stepped<T: Copy>(biggest_first: &[T]) -> Vec<T> {
    let mut places: Vec<(u64, usize)> = (0..biggest_first.len())
        .map(|place| ((CIRCLE / 2 + GOLDEN * count(place)) % CIRCLE, place))
        .collect();
    places.sort_unstable();
    let mut dealt: Vec<(usize, T)> = places
        .into_iter()
        .map(|(_, place)| place)
        .zip(biggest_first.iter().copied())
        .collect();
    dealt.sort_unstable_by_key(|(place, _)| Reverse(*place));
    dealt.into_iter().map(|(_, pair)| pair).collect()
}

/// A big one in the cluster at an end looks stuck on: it changes places with the nearest of its colour that is not big, if there is one.
fn tapered<T>(line: &mut [T], colours: &[usize], ends: [usize; 2], big: impl Fn(&T) -> bool) {
    let n = line.len();
    if ends[0] + ends[1] >= n {
        return;
    }
    let inner = ends[0]..n - ends[1];
    for at in (0..ends[0]).chain(inner.end..n) {
        if !big(&line[at]) {
            continue;
        }
        let with = inner
            .clone()
            .filter(|i| colours.get(*i) == colours.get(at) && !big(&line[*i]))
            .min_by_key(|i| i.abs_diff(at));
        if let Some(with) = with {
            line.swap(at, with);
        }
    }
}

fn pairs_of(n: Option<i64>) -> usize {
    n.and_then(|n| usize::try_from(n).ok()).unwrap_or(0)
}

fn count(n: usize) -> u64 {
    u64::try_from(n).unwrap_or(u64::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Six of a colour, two of them of size 0: they lag behind most at the second and the fifth place. Of five, the places in the
    /// circle are 0.5, 0.118, 0.736, 0.354, 0.972: the biggest comes second, then fourth, first, third, fifth.
    #[test]
    fn sizes_worked_by_hand() {
        let pairs: Vec<(usize, char)> =
            [(0, 'a'), (0, 'b'), (1, 'c'), (1, 'd'), (1, 'e'), (1, 'f')].into();
        let line = sized(&[0; 6], &[pairs], |p| p.0);
        assert_eq!(
            line.iter().map(|p| p.0).collect::<Vec<_>>(),
            [1, 0, 1, 1, 0, 1]
        );
        let mut five = stepped(&['a', 'b', 'c', 'd', 'e']);
        five.reverse();
        assert_eq!(five, ['c', 'a', 'd', 'b', 'e']);
    }

    #[test]
    fn dealing_loses_nothing() {
        for n in (0..300).chain([99_999, 200_000]) {
            let list: Vec<usize> = (0..n).collect();
            let mut again = sized(&vec![0; n], std::slice::from_ref(&list), |p| p % 3);
            again.sort_unstable();
            assert_eq!(again, list);
        }
    }

    /// In whatever shares colours take turns: a colour has its big ones neither three side by side nor far from one another, and
    /// neither has the line as a whole.
    #[test]
    fn the_big_ones_of_a_colour_do_not_lie_together() {
        let evenly: Vec<Vec<usize>> = (1..=12).map(|colours| vec![60; colours]).collect();
        let uneven = [vec![60, 40], vec![90, 60, 30], vec![100, 70, 55, 35, 20]];
        for counts in evenly.into_iter().chain(uneven) {
            // pairs are (colour, size), one in five of size 0
            let pairs: Vec<Vec<(usize, usize)>> = counts
                .iter()
                .enumerate()
                .map(|(c, n)| {
                    (0..*n)
                        .map(|rank| (c, usize::from(rank >= n / 5)))
                        .collect()
                })
                .collect();
            let line = sized(&in_turn(&counts), &pairs, |p| p.1);
            let turns = |of: &dyn Fn(usize) -> bool| -> Vec<usize> {
                let mine = line.iter().filter(|p| of(p.0)).enumerate();
                mine.filter(|(_, p)| p.1 == 0)
                    .map(|(turn, _)| turn)
                    .collect()
            };
            let mut all: Vec<Vec<usize>> = (0..counts.len()).map(|c| turns(&|o| o == c)).collect();
            all.push(turns(&|_| true));
            for turns in all {
                let close = turns.windows(3).filter(|w| w[2] - w[0] == 2).count();
                let widest = turns.windows(2).map(|w| w[1] - w[0]).max().unwrap_or(0);
                assert!(close == 0 && widest <= 10, "{counts:?}: {turns:?}");
            }
        }
    }

    /// Big ones at both ends go inwards, to the nearest place of their colour.
    #[test]
    fn ends_taper() {
        let mut line = [9, 1, 2, 3, 4, 9, 5, 9];
        tapered(&mut line, &[0, 1, 1, 0, 1, 0, 1, 1], [2, 2], |p| *p == 9);
        assert_eq!(line, [3, 1, 2, 9, 9, 9, 5, 4]);
        let mut all_big = [9; 6];
        tapered(&mut all_big, &[0; 6], [2, 2], |p| *p == 9);
        assert_eq!(all_big, [9; 6]);
    }

    /// Two pairs to a cluster and four colours alike: the colours of a cluster lie opposite on the circle, never beside each other; and
    /// with any number nothing is lost.
    #[test]
    fn a_spiral_has_opposite_colours_in_a_cluster() {
        let line = wound(&[25, 25, 25, 25], &[2; 50]);
        for colour in 0..4 {
            assert_eq!(line.iter().filter(|c| **c == colour).count(), 25);
        }
        let opposite = line.chunks(2).filter(|two| two[0].abs_diff(two[1]) == 2);
        assert!(opposite.count() >= 48, "{line:?}");
        for (counts, clusters) in [([7, 0, 5], vec![3, 4, 2, 3]), ([1, 1, 0], vec![3])] {
            let line = wound(&counts, &clusters);
            for (colour, n) in counts.iter().enumerate() {
                assert_eq!(line.iter().filter(|c| **c == colour).count(), *n);
            }
        }
    }

    /// The share of the second colour grows from one stretch of the line to the next, and nothing is lost.
    #[test]
    fn a_fade_goes_from_the_first_colour_to_the_last() {
        for numbers in [[60, 60, 60], [30, 90, 60], [12, 12, 12]] {
            let line = faded(&numbers);
            for (colour, n) in numbers.iter().enumerate() {
                assert_eq!(line.iter().filter(|c| **c == colour).count(), *n);
            }
            let mean = |part: &[usize]| part.iter().sum::<usize>() * 1000 / part.len();
            let means: Vec<usize> = line.chunks(line.len() / 4).map(mean).collect();
            assert!(means.windows(2).all(|w| w[0] < w[1]), "{means:?}");
            // where two blocks meet they are mixed: both colours within a few pairs of the border
            let border = numbers[0];
            let near = &line[border - 3..border + 3];
            assert!(near.contains(&0) && near.contains(&1));
        }
    }
}

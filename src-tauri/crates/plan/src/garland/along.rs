//! In which order the pairs are dealt into clusters along the line.

use job::piece::Arrangement;

use super::balls::{Ball, Pairs};
use crate::spread::round_robin;

/// The golden section, (√5 − 1) / 2, in hundred-thousandths: steps of this share of a circle leave no gap in it for long, however many
/// they are.
const GOLDEN: u64 = 61_803;
const CIRCLE: u64 = 100_000;
/// With four, five, seven or eight colours in turn a colour would stay near one size for long (five golden steps are 0.09 of a circle,
/// eight 0.06): all big balls of a colour would lie side by side. For these numbers n the step is such that n of them are 0.382 or 0.618
/// past whole circles, and that the step itself leaves no gap for long either: 5 × 0.276, 8 × 0.423, 7 × 0.374.
const OF_FIVE: u64 = 27_639;
const OF_SEVEN: u64 = 37_400;
const OF_EIGHT: u64 = 42_275;
/// The line begins a quarter round: with a size between, neither with the biggest of all nor with the smallest.
const BEGIN: u64 = CIRCLE / 4;

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
    let turns = counts.iter().filter(|n| **n > 0).count();
    let (colours, step) = match arrangement {
        Arrangement::Blended => (in_turn(&counts), step_of(turns)),
        Arrangement::Spiral => (wound(&counts, clusters), GOLDEN),
        Arrangement::Fade => (faded(&counts), GOLDEN),
        Arrangement::Blocks | Arrangement::Newer => (in_blocks(&counts).collect(), GOLDEN),
    };
    let mut ordered = sized(&colours, &pairs.of_one, step);
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

/// The step from size to size along a line on which so many colours take turns.
fn step_of(colours: usize) -> u64 {
    match colours {
        5 => OF_FIVE,
        7 => OF_SEVEN,
        4 | 8 => OF_EIGHT,
        _ => GOLDEN,
    }
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

/// Gives each place of the line a pair of its colour: places have a size in even steps round a circle of sizes, and the biggest pairs
/// of a colour go to its places of the biggest size. So every stretch of the line holds all sizes, whatever the colours do.
fn sized<T: Copy>(colours: &[usize], biggest_first: &[Vec<T>], step: u64) -> Vec<T> {
    let mut places: Vec<(u64, usize)> = (0..colours.len())
        .map(|place| ((BEGIN + step * count(place)) % CIRCLE, place))
        .collect();
    places.sort_unstable();
    let mut next: Vec<_> = biggest_first.iter().map(|list| list.iter()).collect();
    let mut dealt: Vec<(usize, T)> = places
        .into_iter()
        .filter_map(|(_, place)| Some((place, *next.get_mut(*colours.get(place)?)?.next()?)))
        .collect();
    dealt.sort_unstable_by_key(|(place, _)| *place);
    dealt.into_iter().map(|(_, pair)| pair).collect()
}

fn count(n: usize) -> u64 {
    u64::try_from(n).unwrap_or(u64::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Places in fifths of the circle by hand: 0.25, 0.868, 0.486, 0.104, 0.722: the biggest comes fourth, then first, third, fifth, second.
    #[test]
    fn sizes_worked_by_hand() {
        let one: Vec<char> = "abcde".chars().collect();
        assert_eq!(sized(&[0; 5], &[one], GOLDEN), ['b', 'e', 'c', 'a', 'd']);
        // two colours in turn: of the places 0.25, 0.486, 0.722 the first is biggest; of 0.868 and 0.104 the second
        let (one, two) = (vec!['a', 'b', 'c'], vec!['x', 'y']);
        assert_eq!(
            sized(&[0, 1, 0, 1, 0], &[one, two], GOLDEN),
            ['a', 'y', 'b', 'x', 'c']
        );
    }

    #[test]
    fn dealing_loses_nothing() {
        for n in (0..300).chain([99_999, 200_000]) {
            let list: Vec<usize> = (0..n).collect();
            let mut again = sized(&vec![0; n], std::slice::from_ref(&list), GOLDEN);
            again.sort_unstable();
            assert_eq!(again, list);
        }
    }

    /// However many colours take turns: between two pairs of the biggest fifth of a colour there are never many, nor are three side by
    /// side, and the same holds for the line as a whole.
    #[test]
    fn the_big_ones_of_a_colour_do_not_lie_together() {
        for colours in 1..=12_usize {
            let each = 60;
            let counts = vec![each; colours];
            // pairs are (colour, rank in it), rank 0 the biggest
            let pairs: Vec<Vec<(usize, usize)>> = (0..colours)
                .map(|c| (0..each).map(|rank| (c, rank)).collect())
                .collect();
            let line = sized(&in_turn(&counts), &pairs, step_of(colours));
            for colour in 0..colours {
                let turns: Vec<usize> = line
                    .iter()
                    .filter(|p| p.0 == colour)
                    .enumerate()
                    .filter(|(_, (_, rank))| *rank < each / 5)
                    .map(|(turn, _)| turn)
                    .collect();
                let close = turns.windows(3).filter(|w| w[2] - w[0] == 2).count();
                let widest = turns.windows(2).map(|w| w[1] - w[0]).max().unwrap_or(0);
                assert!(close <= 1, "{colours} colours: {turns:?}");
                assert!(widest <= 10, "{colours} colours: {turns:?}");
            }
        }
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

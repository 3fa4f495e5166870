//! In which order the pairs are dealt into clusters along the line.

use job::piece::Arrangement;

use super::balls::{Ball, Pairs};
use crate::spread::round_robin;

/// The golden section, (√5 − 1) / 2, in thousandths: steps of this share of a circle leave no gap in it for long, however many they are.
const GOLDEN: usize = 618;

/// All pairs in the order in which they are dealt into clusters; those of two colours come last.
pub(super) fn along_the_line(arrangement: Arrangement, pairs: Pairs) -> Vec<[Ball; 2]> {
    let lists: Vec<Vec<[Ball; 2]>> = pairs.of_one.iter().map(|list| dealt(list)).collect();
    let mut ordered: Vec<[Ball; 2]> = match arrangement {
        Arrangement::Blended | Arrangement::Spiral => in_turn(lists),
        Arrangement::Fade => faded(lists),
        Arrangement::Blocks | Arrangement::Newer => lists.into_iter().flatten().collect(),
    };
    ordered.extend(pairs.mixed);
    ordered
}

/// Each colour as often as its number says, never long without any.
fn in_turn(lists: Vec<Vec<[Ball; 2]>>) -> Vec<[Ball; 2]> {
    let counts: Vec<i64> = lists
        .iter()
        .map(|l| i64::try_from(l.len()).unwrap_or(i64::MAX))
        .collect();
    let mut lists: Vec<_> = lists.into_iter().map(Vec::into_iter).collect();
    round_robin(&counts)
        .into_iter()
        .filter_map(|kind| lists[kind].next())
        .collect()
}

/// As in blocks, but every pair moved from its place by up to half a block either way, in golden steps: near the middle of a block
/// its colour is alone, at its ends half of the next.
fn faded(lists: Vec<Vec<[Ball; 2]>>) -> Vec<[Ball; 2]> {
    let blocks = lists.iter().filter(|l| !l.is_empty()).count().max(1);
    let all: usize = lists.iter().map(Vec::len).sum();
    let width = all / blocks;
    let mut placed: Vec<(usize, [Ball; 2])> = Vec::with_capacity(all);
    for list in lists {
        for (i, pair) in list.into_iter().enumerate() {
            let place = placed.len() * 1000;
            placed.push((place + (GOLDEN * i + 500) % 1000 * width, pair));
        }
    }
    // the sort is stable: equal places keep the order of the blocks
    placed.sort_by_key(|(place, _)| *place);
    placed.into_iter().map(|(_, pair)| pair).collect()
}

/// A sorted list dealt so that every stretch of it holds all sizes: each time a [`stride`] further, round the end.
fn dealt<T: Copy>(list: &[T]) -> Vec<T> {
    let n = list.len();
    let s = stride(n);
    // from place to place, because place times stride may be more than 32 bits hold
    std::iter::successors(Some(0), |at| Some((at + s) % n))
        .take(n)
        .map(|at| list[at])
        .collect()
}

/// Nearest to the golden section of `n`, and from there the first that has no factor in common with it, so that each is met once.
fn stride(n: usize) -> usize {
    if n <= 2 {
        return 1;
    }
    let mut s = (GOLDEN * n + 500) / 1000;
    while common_factor(s, n) != 1 {
        s += 1;
    }
    s
}

/// The greatest, by Euclid.
fn common_factor(a: usize, b: usize) -> usize {
    if b == 0 { a } else { common_factor(b, a % b) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strides_worked_by_hand() {
        // (618 x 23 + 500) / 1000 = 14; of 14: 9; of 10: 6 has a factor in common with 10, so 7; of 6: 4, so 5; of 20: 12, so 13
        let by_hand = [
            (1, 1),
            (2, 1),
            (3, 2),
            (6, 5),
            (10, 7),
            (14, 9),
            (20, 13),
            (23, 14),
        ];
        for (n, s) in by_hand {
            assert_eq!(stride(n), s, "{n}");
        }
        let ten: Vec<usize> = (0..10).collect();
        assert_eq!(dealt(&ten), [0, 7, 4, 1, 8, 5, 2, 9, 6, 3]);
        assert_eq!(dealt(&ten[..2]), [0, 1]);
        assert_eq!(dealt(&ten[..0]), Vec::<usize>::new());
    }

    #[test]
    fn dealing_loses_nothing() {
        for n in (0..500).chain([99_999, 100_000]) {
            let list: Vec<usize> = (0..n).collect();
            let mut again = dealt(&list);
            again.sort_unstable();
            assert_eq!(again, list);
        }
    }

    fn colours(numbers: &[usize]) -> Vec<Vec<[Ball; 2]>> {
        numbers
            .iter()
            .enumerate()
            .map(|(entry, n)| {
                let ball = Ball {
                    entry,
                    part: 0,
                    dmm: 2000,
                };
                vec![[ball; 2]; *n]
            })
            .collect()
    }

    /// The share of the second colour grows from one third of the line to the next, and nothing is lost.
    #[test]
    fn a_fade_goes_from_the_first_colour_to_the_last() {
        for numbers in [[60, 60, 60], [30, 90, 60], [12, 12, 12]] {
            let line = faded(colours(&numbers));
            for (entry, n) in numbers.iter().enumerate() {
                assert_eq!(line.iter().filter(|p| p[0].entry == entry).count(), *n);
            }
            let mean = |part: &[[Ball; 2]]| {
                part.iter().map(|p| p[0].entry).sum::<usize>() * 1000 / part.len()
            };
            let means: Vec<usize> = line.chunks(line.len() / 4).map(mean).collect();
            assert!(means.windows(2).all(|w| w[0] < w[1]), "{means:?}");
            // where two blocks meet they are mixed: both colours within a few pairs of the border
            let border = numbers[0];
            let near = &line[border - 3..border + 3];
            assert!(near.iter().any(|p| p[0].entry == 0));
            assert!(near.iter().any(|p| p[0].entry == 1));
        }
    }
}

//! From pairs to quads, sixes and eights that use every pair.

use crate::spread::round_robin;

/// Pairs in a quad, a six and an eight.
pub const PAIRS: [i64; 3] = [2, 3, 4];
/// Up to this many pairs every combination is tried.
const FEW: i64 = 48;
/// How far from the ideal numbers the search looks beyond that. Parity moves no number by more than 3; the tests compare with the
/// exhaustive search.
const NEAR: i64 = 8;

/// How many quads, sixes and eights use exactly `pairs`, as near to the shares as can be: the least sum of squared differences between
/// numbers and shares of the clusters; ties: fewer clusters, then more quads. Kinds without a share are used only if there is no other
/// way. Absent for fewer than two pairs.
#[must_use]
pub fn split(pairs: i64, shares: [i64; 3]) -> Option<[i64; 3]> {
    search(pairs, shares, |near| {
        if pairs <= FEW {
            (0, pairs)
        } else {
            ((near - NEAR).max(0), near + NEAR)
        }
    })
}

/// The same by trying every combination.
#[cfg(test)]
fn split_exhaustive(pairs: i64, shares: [i64; 3]) -> Option<[i64; 3]> {
    search(pairs, shares, |_| (0, pairs))
}

fn search(pairs: i64, shares: [i64; 3], range: impl Fn(i64) -> (i64, i64)) -> Option<[i64; 3]> {
    if pairs < 2 {
        return None;
    }
    let shares = shares.map(|s| s.clamp(0, 1_000_000));
    let wanted = shares.map(|s| s > 0);
    let any = [true; 3];
    let none = shares == [0; 3];
    let shares = if none { [1, 1, 1] } else { shares };
    if !none && let Some(found) = best(pairs, shares, wanted, &range) {
        return Some(found);
    }
    best(pairs, shares, any, &range)
}

fn best(
    pairs: i64,
    shares: [i64; 3],
    allowed: [bool; 3],
    range: &impl Fn(i64) -> (i64, i64),
) -> Option<[i64; 3]> {
    let weight: i64 = shares.iter().zip(PAIRS).map(|(s, p)| s * p).sum();
    // the ideal number of a kind: its share of the clusters that so many pairs make
    let ideal = |kind: usize| {
        i64::try_from(i128::from(pairs) * i128::from(shares[kind]) / i128::from(weight.max(1)))
            .unwrap_or(0)
    };
    let ranges = [1usize, 2].map(|kind| {
        if allowed[kind] {
            range(ideal(kind))
        } else {
            (0, 0)
        }
    });
    let mut found: Option<((i128, i64, i64), [i64; 3])> = None;
    for eights in ranges[1].0..=ranges[1].1 {
        for sixes in ranges[0].0..=ranges[0].1 {
            let rest = pairs - PAIRS[2] * eights - PAIRS[1] * sixes;
            if rest < 0 || rest % PAIRS[0] != 0 || (rest > 0 && !allowed[0]) {
                continue;
            }
            let numbers = [rest / PAIRS[0], sixes, eights];
            let key = (distance(numbers, shares), numbers.iter().sum(), -numbers[0]);
            if found.as_ref().is_none_or(|(least, _)| key < *least) {
                found = Some((key, numbers));
            }
        }
    }
    found.map(|(_, numbers)| numbers)
}

/// Σ (n·S − C·s)²: the squared differences, times the squared sum of the shares.
fn distance(numbers: [i64; 3], shares: [i64; 3]) -> i128 {
    let clusters: i128 = numbers.iter().map(|n| i128::from(*n)).sum();
    let sum: i128 = shares.iter().map(|s| i128::from(*s)).sum();
    numbers
        .iter()
        .zip(shares)
        .map(|(n, s)| {
            let off = i128::from(*n) * sum - clusters * i128::from(s);
            off * off
        })
        .sum()
}

/// Pairs of each cluster along the line, the kinds spread evenly.
#[must_use]
pub fn sequence(numbers: [i64; 3]) -> Vec<i64> {
    round_robin(&numbers)
        .into_iter()
        .map(|kind| PAIRS[kind])
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_pair_is_used() {
        for (pairs, shares, want) in [
            (0, [100, 0, 0], None),
            (1, [100, 0, 0], None),
            (2, [100, 0, 0], Some([1, 0, 0])),
            // three pairs are no quads: a six, though it has no share
            (3, [100, 0, 0], Some([0, 1, 0])),
            (7, [100, 0, 0], Some([2, 1, 0])),
            (40, [100, 0, 0], Some([20, 0, 0])),
        ] {
            let got = split(pairs, shares);
            assert_eq!(got, want, "{pairs} by {shares:?}");
            if let Some(n) = got {
                assert_eq!(n[0] * 2 + n[1] * 3 + n[2] * 4, pairs);
            }
        }
    }

    #[test]
    fn the_fast_search_agrees_with_trying_everything() {
        let grid = [0, 1, 3, 10, 35, 50, 100];
        for pairs in 0..=90 {
            for q in grid {
                for s in grid {
                    for e in grid {
                        let shares = [q, s, e];
                        assert_eq!(
                            split(pairs, shares),
                            split_exhaustive(pairs, shares),
                            "{pairs} by {shares:?}"
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn the_fast_search_agrees_for_large_numbers_too() {
        for pairs in [97, 250, 499, 1000] {
            for shares in [
                [100, 0, 0],
                [0, 100, 0],
                [0, 0, 100],
                [50, 35, 15],
                [1, 1, 98],
                [99, 1, 0],
                [33, 0, 67],
                [1, 1_000_000, 1],
            ] {
                let found = split(pairs, shares);
                assert_eq!(
                    found,
                    split_exhaustive(pairs, shares),
                    "{pairs} by {shares:?}"
                );
            }
        }
    }

    #[test]
    fn extreme_numbers_are_answered() {
        let numbers = split(100_000, [i64::MAX, i64::MIN, 7]).unwrap();
        assert_eq!(numbers[0] * 2 + numbers[1] * 3 + numbers[2] * 4, 100_000);
        assert_eq!(sequence([2, 1, 0]), [2, 3, 2]);
    }
}

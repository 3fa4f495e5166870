//! Which bags to buy.

use crate::types::Bags;

/// More than this is bought in the largest bags first; the rest is chosen exactly. It is more than the product of any two bag
/// sizes that are sold.
const EXACT_UP_TO: i64 = 20_000;
/// No bag that is sold holds more. A larger number is a slip of the keyboard, which has its finding; it is not combined with others.
const LARGEST_BAG: i64 = 10_000;

/// The bags that hold at least `short` with the least left over, then the fewest bags, then the largest bags. Sizes that are not
/// positive are left out; without any size things are bought singly. Largest first.
#[must_use]
pub fn bags(short: i64, sizes: &[i64]) -> Vec<Bags> {
    if short <= 0 {
        return Vec::new();
    }
    let mut sizes: Vec<i64> = sizes.iter().copied().filter(|s| *s > 0).collect();
    sizes.sort_unstable_by(|a, b| b.cmp(a));
    sizes.dedup();
    let sold = |size: &i64| *size <= LARGEST_BAG;
    if !sizes.iter().any(sold) {
        return alike(short, sizes.last().copied().unwrap_or(1));
    }
    sizes.retain(sold);
    let largest = sizes.first().copied().unwrap_or(1);
    let bulk = if short > EXACT_UP_TO {
        (short - EXACT_UP_TO) / largest
    } else {
        0
    };
    let mut counts = exact(short - bulk * largest, &sizes);
    counts[0] += bulk;
    sizes
        .iter()
        .zip(counts)
        .filter(|(_, count)| *count > 0)
        .map(|(size, count)| Bags { size: *size, count })
        .collect()
}

/// Bags of one size.
fn alike(short: i64, size: i64) -> Vec<Bags> {
    let count = short / size + i64::from(short % size > 0);
    vec![Bags { size, count }]
}

/// Fewest bags for every sum up to `short` plus the smallest bag, then the first sum that can be reached.
fn exact(short: i64, sizes: &[i64]) -> Vec<i64> {
    let smallest = sizes.last().copied().unwrap_or(1);
    let most = usize::try_from(short + smallest).unwrap_or(0);
    // for each sum: how few bags, and the last one taken; larger bags are tried first and win ties
    let mut fewest: Vec<Option<(i64, usize)>> = vec![None; most + 1];
    fewest[0] = Some((0, 0));
    for sum in 1..=most {
        for (kind, size) in sizes.iter().enumerate() {
            let Some((bags, _)) = usize::try_from(*size)
                .ok()
                .and_then(|s| sum.checked_sub(s))
                .and_then(|rest| fewest[rest])
            else {
                continue;
            };
            if fewest[sum].is_none_or(|(least, _)| bags + 1 < least) {
                fewest[sum] = Some((bags + 1, kind));
            }
        }
    }
    let mut counts = vec![0; sizes.len()];
    let first = usize::try_from(short).unwrap_or(0);
    let Some(mut sum) = (first..=most).find(|s| fewest[*s].is_some()) else {
        return counts;
    };
    while let (1.., Some((_, kind))) = (sum, fewest[sum]) {
        counts[kind] += 1;
        sum -= usize::try_from(sizes[kind]).unwrap_or(sum).min(sum);
    }
    counts
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn chosen(short: i64, sizes: &[i64]) -> Vec<(i64, i64)> {
        bags(short, sizes)
            .into_iter()
            .map(|b| (b.size, b.count))
            .collect()
    }

    #[test]
    fn least_left_over_then_fewest_bags() {
        for (short, sizes, want) in [
            (72, vec![100, 50, 25], vec![(50, 1), (25, 1)]),
            (76, vec![25, 50, 100], vec![(100, 1)]),
            (100, vec![100, 50, 25], vec![(100, 1)]),
            (101, vec![100, 50, 25], vec![(100, 1), (25, 1)]),
            (3, vec![10, 5], vec![(5, 1)]),
            (0, vec![10], vec![]),
            (-4, vec![10], vec![]),
            (7, vec![], vec![(1, 7)]),
            (7, vec![0, -5], vec![(1, 7)]),
            (6, vec![4, 3], vec![(3, 2)]),
        ] {
            assert_eq!(chosen(short, &sizes), want, "{short} from {sizes:?}");
        }
        assert_eq!(
            chosen(1_000_000_001, &[100, 50]),
            [(100, 10_000_000), (50, 1)]
        );
    }

    #[test]
    fn bags_that_nobody_sells_are_not_combined() {
        assert_eq!(chosen(7, &[i64::MAX]), [(i64::MAX, 1)]);
        assert_eq!(chosen(7, &[i64::MAX, 5]), [(5, 2)]);
        assert_eq!(chosen(i64::MAX, &[i64::MAX, i64::MAX - 1]).len(), 1);
        assert_eq!(chosen(2_000_000, &[1_000_000]), [(1_000_000, 2)]);
        assert_eq!(chosen(15_000, &[10_000, 9_999]), [(9_999, 2)]);
        let all: i64 = chosen(i64::MAX - 20_000, &[10_000, 7])
            .iter()
            .map(|(size, count)| size * count)
            .sum();
        assert!(all >= i64::MAX - 20_000);
    }

    /// Every combination of up to three sizes: least sum, fewest bags, largest bags.
    fn tried(short: i64, sizes: &[i64; 3]) -> [i64; 3] {
        // sum, number of bags, larger bags first
        type Key = (i64, i64, [i64; 3]);
        let mut best: Option<(Key, [i64; 3])> = None;
        let most = |size: i64| short / size + 1;
        for a in 0..=most(sizes[0]) {
            for b in 0..=most(sizes[1]) {
                for c in 0..=most(sizes[2]) {
                    let sum = a * sizes[0] + b * sizes[1] + c * sizes[2];
                    let key = (sum, a + b + c, [-a, -b, -c]);
                    if sum >= short && best.is_none_or(|(k, _)| key < k) {
                        best = Some((key, [a, b, c]));
                    }
                }
            }
        }
        best.map(|b| b.1).unwrap_or_default()
    }

    proptest! {
        #[test]
        fn as_good_as_trying_everything(short in 1i64..150, a in 1i64..60, b in 1i64..60, c in 1i64..60) {
            let mut sizes = [a, b, c];
            sizes.sort_by(|x, y| y.cmp(x));
            let got = bags(short, &sizes);
            let want = tried(short, &sizes);
            // a size that is named twice or three times counts where it is named first
            let mut kinds = sizes.to_vec();
            kinds.dedup();
            let want: Vec<(i64, i64)> = kinds
                .iter()
                .map(|size| (*size, sizes.iter().zip(want).filter(|(s, _)| *s == size).map(|(_, n)| n).sum()))
                .filter(|(_, n)| *n > 0)
                .collect();
            let got: Vec<(i64, i64)> = got.iter().map(|b| (b.size, b.count)).collect();
            prop_assert_eq!(got, want);
        }
    }
}

//! Sharing out whole things: by largest remainder, and evenly along a line.

/// Shares `total` things by weights: whole quotas first, then one more each to the largest remainders, ties to the earlier
/// (the method of Hamilton). Negative weights count as 0; no weight at all gives nothing.
#[must_use]
pub fn largest_remainder(total: i64, weights: &[i64]) -> Vec<i64> {
    let weights: Vec<i128> = weights.iter().map(|w| i128::from((*w).max(0))).collect();
    let sum: i128 = weights.iter().sum();
    let total = i128::from(total.max(0));
    if sum == 0 {
        return vec![0; weights.len()];
    }
    let mut shares: Vec<i128> = weights.iter().map(|w| total * w / sum).collect();
    let mut by_remainder: Vec<usize> = (0..weights.len()).collect();
    by_remainder.sort_by_key(|i| (-((total * weights[*i]) % sum), *i));
    let left = total - shares.iter().sum::<i128>();
    for i in by_remainder
        .into_iter()
        .take(usize::try_from(left).unwrap_or(0))
    {
        shares[i] += 1;
    }
    shares
        .into_iter()
        .map(|s| i64::try_from(s).unwrap_or(i64::MAX))
        .collect()
}

/// An order of things in which each kind is spread evenly: smooth weighted round robin. At each step every kind earns its
/// count; the richest kind (ties: the earlier) is taken and pays the total.
#[must_use]
pub fn round_robin(counts: &[i64]) -> Vec<usize> {
    let total: i64 = counts.iter().map(|c| (*c).max(0)).sum();
    let mut credit = vec![0i128; counts.len()];
    let mut order = Vec::new();
    for _ in 0..total {
        for (c, n) in credit.iter_mut().zip(counts) {
            *c += i128::from((*n).max(0));
        }
        let mut best = 0;
        for (i, c) in credit.iter().enumerate() {
            if *c > credit[best] {
                best = i;
            }
        }
        credit[best] -= i128::from(total);
        order.push(best);
    }
    order
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn shares_by_largest_remainder() {
        for (total, weights, want) in [
            (10, vec![1, 1, 1], vec![4, 3, 3]),
            (100, vec![50, 35, 15], vec![50, 35, 15]),
            (7, vec![50, 50], vec![4, 3]),
            (7, vec![30, 70], vec![2, 5]),
            (0, vec![1, 2], vec![0, 0]),
            (5, vec![0, 0], vec![0, 0]),
            (5, vec![-3, 1], vec![0, 5]),
            (5, vec![], vec![]),
        ] {
            assert_eq!(
                largest_remainder(total, &weights),
                want,
                "{total} by {weights:?}"
            );
        }
    }

    #[test]
    fn round_robin_spreads_evenly() {
        assert_eq!(round_robin(&[2, 2]), [0, 1, 0, 1]);
        assert_eq!(round_robin(&[4, 1]), [0, 0, 1, 0, 0]);
        assert_eq!(round_robin(&[1, 0, 2]), [2, 0, 2]);
        assert_eq!(round_robin(&[]), Vec::<usize>::new());
    }

    #[test]
    fn extreme_weights_are_answered() {
        let all = i64::MAX;
        assert_eq!(largest_remainder(all, &[all, all]), [all / 2 + 1, all / 2]);
        assert_eq!(largest_remainder(3, &[i64::MIN, all, 0]), [0, 3, 0]);
        assert_eq!(largest_remainder(i64::MIN, &[1, 2]), [0, 0]);
        assert_eq!(round_robin(&[i64::MIN, 2]), [1, 1]);
    }

    proptest! {
        #[test]
        fn shares_add_up_and_stay_within_one_of_the_quota(total in 0i64..100_000, weights in prop::collection::vec(0i64..1000, 1..8)) {
            let shares = largest_remainder(total, &weights);
            let sum: i64 = weights.iter().sum();
            if sum > 0 {
                prop_assert_eq!(shares.iter().sum::<i64>(), total);
                for (s, w) in shares.iter().zip(&weights) {
                    prop_assert!((s * sum - total * w).abs() < sum);
                }
            }
        }

        #[test]
        fn every_stretch_holds_its_share(counts in prop::collection::vec(0i64..20, 1..5)) {
            let order = round_robin(&counts);
            let total: i64 = counts.iter().sum();
            prop_assert_eq!(order.len() as i64, total);
            for (kind, count) in counts.iter().enumerate() {
                let mut seen = 0;
                for (i, k) in order.iter().enumerate() {
                    seen += i64::from(*k == kind);
                    let fair = (i as i64 + 1) * count;
                    // a kind is never a whole thing ahead of its share, nor behind by more things than there are other kinds
                    prop_assert!(seen * total < fair + total);
                    prop_assert!(fair - seen * total <= total * (counts.len() as i64 - 1));
                }
                prop_assert_eq!(seen, *count);
            }
        }
    }
}

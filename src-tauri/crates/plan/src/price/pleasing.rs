//! A pleasing figure: what the client pays is brought up to a whole multiple.
//!
//! Tax is whole cents, so that some amounts cannot be had: at 20 %, of six amounts in turn one is left out. Where it is the multiple, a
//! cent under it is taken; the tax stays exact.

use crate::tax::{Rated, share, totals};

/// Nets beside the nearest one that are tried.
const BESIDE: i64 = 2;

/// What must be put on the net at the main rate so that net and tax together make the next multiple of `step` cents, or a cent less.
/// Nought for no step, for a price of nought or less, and where it is a multiple already.
#[must_use]
pub fn pleasing_net(rated: &[Rated], main_bp: i64, step: i64) -> i64 {
    let gross = totals(rated, 0).gross_cents;
    if step <= 0 || gross <= 0 || gross % step == 0 {
        return 0;
    }
    let with = |more: i64| {
        let last = Rated {
            cents: more,
            rate_bp: main_bp,
        };
        let all: Vec<Rated> = rated.iter().copied().chain([last]).collect();
        totals(&all, 0).gross_cents
    };
    let goal = (gross / step).saturating_add(1).saturating_mul(step);
    let near = share(
        goal.saturating_sub(gross),
        10_000,
        main_bp.saturating_add(10_000),
    );
    let tried = near.saturating_sub(BESIDE)..=near.saturating_add(BESIDE);
    tried
        .rev()
        .find(|more| *more > 0 && with(*more) <= goal)
        .unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Worked by hand. 77.65 at 20 %: tax 15.53, 93.18 in all; up to 95.00 is a net of 79.17 (tax 15.834, so 15.83): 1.52 more. A price
    /// that is a multiple already stays. 14.81 % on 1184.50 is 175.42 and on 1184.51 175.43: 1360.00 is left out between them with 0.07
    /// beside, so 1359.99 it is.
    #[test]
    fn up_to_the_next_multiple() {
        let one = |cents, rate_bp| vec![Rated { cents, rate_bp }];
        assert_eq!(pleasing_net(&one(7765, 2000), 2000, 500), 152);
        assert_eq!(pleasing_net(&one(10_000, 2000), 2000, 500), 0);
        assert_eq!(pleasing_net(&one(10_001, 0), 0, 500), 499);
        assert_eq!(pleasing_net(&one(7765, 2000), 2000, 0), 0);
        assert_eq!(pleasing_net(&one(-7765, 2000), 2000, 500), 0);
        let two = [one(118_026, 1481), one(7, 700)].concat();
        assert_eq!(pleasing_net(&two, 1481, 1000), 118_450 - 118_026);
    }

    proptest! {
        #[test]
        fn it_comes_out_at_the_multiple_or_a_cent_under(a in 1i64..5_000_000, b in 0i64..100_000, bp in 0i64..3000, step in prop_oneof![Just(100i64), Just(500), Just(1000), Just(99), Just(7)]) {
            let rated = [Rated { cents: a, rate_bp: bp }, Rated { cents: b, rate_bp: 700 }];
            let before = totals(&rated, 0).gross_cents;
            let more = pleasing_net(&rated, bp, step);
            let all: Vec<Rated> = rated.into_iter().chain([Rated { cents: more, rate_bp: bp }]).collect();
            let gross = totals(&all, 0).gross_cents;
            let goal = (before + step - 1) / step * step;
            prop_assert!(more >= 0);
            prop_assert!(gross == goal || gross == goal - 1, "{} for {}", gross, goal);
        }
    }
}

//! Chains of links between two points: latex links tied tail to tail, or ring links of foil slotted into each other.

use job::list::live;
use job::piece::{Chain, LinkForm};
use job::stock::Rates;
use solve::catenary::Hanging;

use crate::inflate::{nearest, strokes, up, whole};
use crate::spread::{largest_remainder, round_robin};
use crate::types::{BallCount, ChainPlan};

/// Points of the curve for drawing.
const POINTS: u32 = 33;
/// Most links in one chain.
const MOST_LINKS: f64 = 100_000.0;
/// Most links in all chains of a piece: what a person calls a chain never comes near.
const MOST_IN_ALL: i64 = 200_000;

/// Why chains cannot be counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoChain {
    /// No colour with a share.
    NoPalette,
    /// No span, no pitch or no chain.
    NoPath,
    /// Longer than anything that is built.
    TooLarge,
}

/// The curve that a chain hangs in, mm.
#[must_use]
pub fn curve(chain: &Chain) -> Hanging {
    Hanging::with_sag(
        whole(chain.span_mm),
        whole(chain.lift_mm),
        whole(chain.sag_mm),
    )
}

/// Links from the sag: the length of the catenary over the pitch. Latex links come up to an even number, since they are blown and
/// tied in pairs of one colour; ring links are slotted in one by one. By the palette's shares, in turn along the chain.
pub fn chain_plan(chain: &Chain, rates: &Rates) -> Result<ChainPlan, NoChain> {
    let palette: Vec<_> = live(&chain.palette)
        .into_iter()
        .map(|(_, s)| s)
        .filter(|s| s.share_pct > 0)
        .collect();
    if palette.is_empty() {
        return Err(NoChain::NoPalette);
    }
    let curve = curve(chain);
    let length = curve.length();
    if length < 1.0 || chain.pitch_mm < 1 || chain.count < 1 {
        return Err(NoChain::NoPath);
    }
    let links = length / whole(chain.pitch_mm);
    if links > MOST_LINKS {
        return Err(NoChain::TooLarge);
    }
    // so many of one colour follow each other
    let alike: i64 = match chain.form {
        LinkForm::Ring => 1,
        LinkForm::Latex | LinkForm::Newer => 2,
    };
    let groups = ((up(links) + alike - 1) / alike).max(1);
    if chain.count > MOST_IN_ALL / (alike * groups) {
        return Err(NoChain::TooLarge);
    }
    let shares: Vec<i64> = palette.iter().map(|s| s.share_pct).collect();
    let of_colour = largest_remainder(groups, &shares);
    let colours: Vec<String> = round_robin(&of_colour)
        .into_iter()
        .flat_map(|kind| (0..alike).map(move |_| kind))
        .map(|kind| palette[kind].colour.clone())
        .collect();
    let mut counts: Vec<BallCount> = Vec::new();
    for (shade, groups) in palette.iter().zip(&of_colour).filter(|(_, n)| **n > 0) {
        let links = groups * alike * chain.count;
        // a colour that the palette names twice is one line
        match counts.iter_mut().find(|c| c.colour == shade.colour) {
            Some(known) => known.balls += links,
            None => counts.push(BallCount {
                colour: shade.colour.clone(),
                inside: String::new(),
                size_in: chain.size_in,
                balls: links,
            }),
        }
    }
    Ok(ChainPlan {
        count: chain.count,
        length_mm: nearest(length),
        form: chain.form,
        links: groups * alike,
        colours,
        strokes: match chain.form {
            LinkForm::Ring => 0,
            LinkForm::Latex | LinkForm::Newer => strokes(chain.blown_dmm, rates),
        },
        counts,
        path: curve
            .points(POINTS)
            .into_iter()
            .map(|[x, y]| [nearest(x), nearest(y)])
            .collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::piece::Shade;
    use proptest::prelude::*;

    fn chain(span_mm: i64, sag_mm: i64, shares: &[i64]) -> Chain {
        Chain {
            span_mm,
            sag_mm,
            palette: shares
                .iter()
                .enumerate()
                .map(|(i, s)| {
                    (
                        format!("e{i}"),
                        Shade {
                            colour: format!("c{i}"),
                            share_pct: *s,
                            order: format!("{i}"),
                            ..Shade::default()
                        },
                    )
                })
                .collect(),
            ..Chain::default()
        }
    }

    /// The catenary of 3 m span and 0.6 m sag is 3.29915 m long (closed form): 23.6 links of 140 mm, 24.
    #[test]
    fn links_are_counted_from_the_sag() {
        let plan = chain_plan(&chain(3000, 600, &[50, 50]), &Rates::default()).unwrap();
        assert_eq!((plan.length_mm, plan.links, plan.strokes), (3299, 24, 6));
        assert_eq!(plan.colours[..6], ["c0", "c0", "c1", "c1", "c0", "c0"]);
        assert_eq!(
            plan.counts.iter().map(|c| c.balls).collect::<Vec<_>>(),
            [12, 12]
        );
    }

    /// Ring links are slotted in one by one: 23.6 links of 140 mm are 24, 3 m taut are 22 (21.4), and 19 are 19.
    #[test]
    fn ring_links_need_no_partner() {
        let rings = |span_mm, sag_mm| {
            let chain = Chain {
                form: LinkForm::Ring,
                count: 2,
                size_in: 16,
                ..chain(span_mm, sag_mm, &[70, 30])
            };
            chain_plan(&chain, &Rates::default()).unwrap()
        };
        assert_eq!(rings(3000, 600).links, 24);
        assert_eq!(rings(3000, 0).links, 22);
        let odd = rings(2660, 0);
        assert_eq!((odd.links, odd.strokes), (19, 0));
        // 19 by 70 and 30: 13.3 and 5.7, of two chains
        let balls: Vec<i64> = odd.counts.iter().map(|c| c.balls).collect();
        assert_eq!(balls, [26, 12]);
    }

    /// A chain whose ends are 3 m apart and 1 m different in height, with a sag of 0.6 m below the straight line: longer than with level
    /// ends, and as long as what is drawn; taut it is √10 m.
    #[test]
    fn a_lifted_end_takes_more_links() {
        let lifted = |lift_mm, sag_mm| {
            let chain = Chain {
                lift_mm,
                ..chain(3000, sag_mm, &[1])
            };
            chain_plan(&chain, &Rates::default()).unwrap()
        };
        assert_eq!(lifted(1000, 0).length_mm, 3162);
        let up = lifted(1000, 600);
        assert_eq!(up.length_mm, lifted(-1000, 600).length_mm);
        assert!(up.length_mm > lifted(0, 600).length_mm);
        assert_eq!((up.path[0], up.path[32]), ([0, 0], [3000, 1000]));
        let along: f64 = up
            .path
            .windows(2)
            .map(|two| libm::hypot(whole(two[1][0] - two[0][0]), whole(two[1][1] - two[0][1])))
            .sum();
        assert!((along - whole(up.length_mm)).abs() < 3.0, "{along}");
    }

    #[test]
    fn a_colour_named_twice_is_one_line() {
        let mut c = chain(3000, 600, &[50, 50]);
        for shade in c.palette.values_mut() {
            shade.colour = "one".into();
        }
        let plan = chain_plan(&c, &Rates::default()).unwrap();
        assert_eq!((plan.counts.len(), plan.counts[0].balls), (1, 24));
    }

    #[test]
    fn a_pitch_beyond_the_chain_takes_one_pair() {
        let c = Chain {
            pitch_mm: i64::MAX,
            ..chain(1, 0, &[1])
        };
        assert_eq!(chain_plan(&c, &Rates::default()).unwrap().links, 2);
    }

    proptest! {
        #[test]
        fn links_are_even_and_reach(span in 1i64..30_000, sag in 0i64..10_000, a in 0i64..100, b in 1i64..100, count in 1i64..9) {
            let c = Chain { count, ..chain(span, sag, &[a, b]) };
            let plan = chain_plan(&c, &Rates::default()).unwrap();
            prop_assert_eq!(plan.links % 2, 0);
            prop_assert_eq!(plan.colours.len() as i64, plan.links);
            prop_assert!(plan.links * c.pitch_mm + 1 >= plan.length_mm);
            prop_assert_eq!(plan.counts.iter().map(|c| c.balls).sum::<i64>(), plan.links * count);
        }

        #[test]
        fn absurd_chains_are_answered(a in any::<i64>(), b in any::<i64>(), c in any::<i64>()) {
            let form = if a % 2 == 0 { LinkForm::Ring } else { LinkForm::Latex };
            let chain = Chain { pitch_mm: c, count: b, blown_dmm: a, lift_mm: c, form, ..chain(a, b, &[c, a]) };
            let _ = chain_plan(&chain, &Rates::default());
        }
    }
}

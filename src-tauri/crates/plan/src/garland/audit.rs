//! An independent check of a counted garland: everything is counted again from the clusters alone.

use std::collections::BTreeMap;

use job::piece::Garland;

use super::Recipe;
use crate::types::{Ball, GarlandPlan};

/// What is wrong with a counted garland; empty if nothing is. Looks at clusters, cards, counts, lengths and the recipe.
#[must_use]
pub fn audit(garland: &Garland, plan: &GarlandPlan) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut expect = |name: &str, got: i64, want: i64| {
        if got != want {
            wrong.push(format!("{name}: {got}, but counted {want}"));
        }
    };
    let len = |n: usize| i64::try_from(n).unwrap_or(i64::MAX);
    expect(
        "clusters on the line",
        plan.on_line,
        len(plan.clusters.len()),
    );
    expect("cards of the line", len(plan.line.len()), plan.on_line);
    expect("ties", len(plan.ties_mm.len()), plan.on_line);
    expect(
        "clusters in all",
        plan.quads + plan.sixes + plan.eights,
        plan.on_line + plan.extras,
    );
    expect(
        "balls in all",
        plan.balls,
        4 * plan.quads + 6 * plan.sixes + 8 * plan.eights,
    );
    expect("pairs", plan.pairs * 2, plan.balls);
    expect(
        "balls by colour and size",
        plan.counts.iter().map(|c| c.balls).sum(),
        plan.balls,
    );
    expect(
        "balls on the cards",
        plan.cards
            .iter()
            .map(|c| c.balls * (c.on_line + c.extras))
            .sum(),
        plan.balls,
    );
    expect(
        "clusters of the lengths",
        plan.lengths.iter().map(|l| i64::from(l.clusters)).sum(),
        plan.on_line,
    );
    expect(
        "kept back by card",
        plan.cards.iter().map(|c| c.extras).sum(),
        plan.extras,
    );
    let mut on_line = vec![0i64; plan.cards.len()];
    for (i, cluster) in plan.clusters.iter().enumerate() {
        let card = plan.line.get(i).copied().unwrap_or(u32::MAX);
        if card != cluster.card {
            wrong.push(format!(
                "cluster {i} names card {} and the line {card}",
                cluster.card
            ));
        }
        let Some(count) = usize::try_from(card).ok().and_then(|c| on_line.get_mut(c)) else {
            wrong.push(format!("cluster {i} has no card"));
            continue;
        };
        *count += 1;
        if !matches!(cluster.balls.len(), 4 | 6 | 8) {
            wrong.push(format!("cluster {i} has {} balls", cluster.balls.len()));
        }
    }
    for (card, counted) in plan.cards.iter().zip(on_line) {
        if card.on_line != counted {
            wrong.push(format!(
                "card {} says {} on the line, but {counted} are",
                card.code, card.on_line
            ));
        }
        if card.pairs.iter().map(|p| p.times * 2).sum::<i64>() != card.balls {
            wrong.push(format!("the pairs of card {} are not its balls", card.code));
        }
    }
    wrong.extend(by_colour(garland, plan));
    if plan.ties_mm.windows(2).any(|w| w[1] < w[0]) {
        wrong.push("ties are not in order".into());
    }
    if plan.length_mm + 1 < plan.path_mm && plan.on_line > 1 {
        wrong.push(format!(
            "{} mm do not reach along {} mm",
            plan.length_mm, plan.path_mm
        ));
    }
    wrong
}

/// Counts by colour and size from the cards; pairs of two colours only where the recipe asks for them.
fn by_colour(garland: &Garland, plan: &GarlandPlan) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut counted: BTreeMap<(&str, &str, i64), i64> = BTreeMap::new();
    let mut two_coloured = 0;
    for card in &plan.cards {
        for pair in &card.pairs {
            let clusters = card.on_line + card.extras;
            for ball in &pair.balls {
                *counted.entry(key(ball)).or_default() += pair.times * clusters;
            }
            if let [a, b] = pair.balls.as_slice()
                && (&a.colour, &a.inside) != (&b.colour, &b.inside)
            {
                two_coloured += pair.times * clusters;
            }
        }
    }
    let mut said: BTreeMap<(&str, &str, i64), i64> = BTreeMap::new();
    for c in &plan.counts {
        *said.entry((&c.colour, &c.inside, c.size_in)).or_default() += c.balls;
    }
    if counted != said {
        wrong.push(format!(
            "balls by colour and size: {said:?}, but the cards hold {counted:?}"
        ));
    }
    if two_coloured > 0 && Recipe::of(garland).odd != job::piece::Odd::MixedPair {
        wrong.push(format!("{two_coloured} pairs of two colours"));
    }
    wrong
}

fn key(ball: &Ball) -> (&str, &str, i64) {
    (&ball.colour, &ball.inside, ball.size_in)
}

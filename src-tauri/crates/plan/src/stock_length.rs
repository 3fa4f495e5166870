//! The other direction: how long a garland the shelf makes.

use job::Job;
use job::list::live;
use job::piece::PieceKind;
use job::stock::ItemKind;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::garland::{Recipe, from_pairs};
use crate::inflate::nearest;
use crate::types::BallCount;

/// What the shelf makes of a garland's recipe.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct ShelfLength {
    /// Tip to tip, mm; 0 if there is too little for two pairs.
    pub length_mm: i64,
    /// Balls in it.
    pub balls: i64,
    /// Clusters on the line.
    pub on_line: i64,
    /// Clusters kept back.
    pub extras: i64,
    /// What runs out first: colour and size with balls on the shelf.
    pub short_of: Option<BallCount>,
    /// Left on the shelf of what the recipe uses.
    pub left: Vec<BallCount>,
}

/// The longest garland of a piece's recipe that what is on hand makes: the largest number of balls whose shares by size and colour
/// are all there, odd ones treated as the recipe says. Absent if the piece is no garland of the job.
#[must_use]
pub fn from_shelf(job: &Job, piece: &str) -> Option<ShelfLength> {
    let piece = job
        .pieces
        .get(piece)
        .filter(|p| p.kind == PieceKind::Garland && !p.gone)?;
    let recipe = Recipe::of(&piece.garland);
    let shelf = shelf(job, &recipe);
    let mut answer = ShelfLength::default();
    // the largest even number that is covered; covering does not fall strictly with the number, so the search ends at the last that fits
    let most: i64 = shelf.iter().flatten().sum();
    let mut balls = most - most % 2;
    while balls > 0 && !covered(&recipe, &shelf, balls) {
        balls -= 2;
    }
    answer.short_of = shortest(&recipe, &shelf, balls + 2);
    if balls >= 4 {
        let pairs = recipe.pairs(recipe.counts(balls));
        let clusters =
            crate::cluster::split(balls / 2, recipe.clusters).map_or(0, |n| n.iter().sum::<i64>());
        // of so many clusters in all, those kept back are the same percent of those on the line
        let on_line = clusters * 100 / (100 + recipe.extras_pct);
        if let Ok(build) = from_pairs(&recipe, pairs, clusters - on_line) {
            answer.length_mm = nearest(build.length_mm);
            answer.on_line = i64::try_from(build.line.len()).unwrap_or(0);
            answer.extras = i64::try_from(build.extras.len()).unwrap_or(0);
            answer.balls = build
                .numbers
                .iter()
                .zip([4, 6, 8])
                .map(|(n, b)| n * b)
                .sum();
        }
    }
    let used = used(&recipe, balls);
    for (entry, of_entry) in shelf.iter().enumerate() {
        for (part, have) in of_entry.iter().enumerate() {
            let left = have - used[entry][part];
            if left > 0 {
                answer.left.push(count(&recipe, entry, part, left));
            }
        }
    }
    Some(answer)
}

/// Balls on the shelf by palette entry and size: of a double-stuffed ball the scarcer of its two balloons.
fn shelf(job: &Job, recipe: &Recipe) -> Vec<Vec<i64>> {
    let on_hand = |colour: &str, size: i64| -> i64 {
        live(&job.items)
            .into_iter()
            .filter(|(_, i)| i.kind == ItemKind::Round && i.colour == colour && i.size_in == size)
            .map(|(_, i)| i.on_hand.clamp(0, 1_000_000))
            .sum::<i64>()
            .min(1_000_000)
    };
    recipe
        .palette
        .iter()
        .map(|e| {
            recipe
                .mix
                .iter()
                .map(|m| {
                    let outer = on_hand(&e.colour, m.size_in);
                    if e.inside.is_empty() {
                        outer
                    } else {
                        outer.min(on_hand(&e.inside, m.size_in))
                    }
                })
                .collect()
        })
        .collect()
}

/// Balls used by entry and size, odd ones treated.
fn used(recipe: &Recipe, balls: i64) -> Vec<Vec<i64>> {
    let mut used = vec![vec![0; recipe.mix.len()]; recipe.palette.len()];
    let pairs = recipe.pairs(recipe.counts(balls));
    for ball in pairs.of_one.iter().flatten().chain(&pairs.mixed).flatten() {
        used[ball.entry][ball.part] += 1;
    }
    used
}

fn covered(recipe: &Recipe, shelf: &[Vec<i64>], balls: i64) -> bool {
    // without the treatment of odd ones first: it is cheap and refuses almost all
    let fits = |counts: &[Vec<i64>]| {
        counts
            .iter()
            .flatten()
            .zip(shelf.iter().flatten())
            .all(|(need, have)| need <= have)
    };
    fits(&recipe.counts(balls)) && fits(&used(recipe, balls))
}

/// The first colour and size of which so many balls would need more than there is.
fn shortest(recipe: &Recipe, shelf: &[Vec<i64>], balls: i64) -> Option<BallCount> {
    let need = used(recipe, balls);
    for (entry, of_entry) in need.iter().enumerate() {
        for (part, n) in of_entry.iter().enumerate() {
            if *n > shelf[entry][part] {
                return Some(count(recipe, entry, part, shelf[entry][part]));
            }
        }
    }
    None
}

fn count(recipe: &Recipe, entry: usize, part: usize, balls: i64) -> BallCount {
    BallCount {
        colour: recipe.palette[entry].colour.clone(),
        inside: recipe.palette[entry].inside.clone(),
        size_in: recipe.mix[part].size_in,
        balls,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::piece::{Garland, Piece, Shade, Size};
    use job::stock::Item;

    fn job(on_hand: [i64; 2]) -> Job {
        let mut job = Job::default();
        let mut garland = Garland {
            extras_pct: 10,
            ..Garland::default()
        };
        garland.mix.insert(
            "s".into(),
            Size {
                from_dmm: 2032,
                to_dmm: 2032,
                ..Size::default()
            },
        );
        for (i, n) in on_hand.into_iter().enumerate() {
            let colour = format!("c{i}");
            garland.palette.insert(
                format!("e{i}"),
                Shade {
                    colour: colour.clone(),
                    share_pct: 50,
                    ..Shade::default()
                },
            );
            job.items.insert(
                format!("i{i}"),
                Item {
                    colour,
                    size_in: 11,
                    on_hand: n,
                    ..Item::default()
                },
            );
        }
        job.pieces.insert(
            "p".into(),
            Piece {
                garland,
                ..Piece::default()
            },
        );
        job
    }

    #[test]
    fn the_shelf_makes_what_its_scarcer_colour_allows() {
        // 42 of one and 60 of the other: 84 balls, 21 quads, 19 on the line and 2 kept back: 18 gaps of 156.67 mm and 203.2 mm
        let answer = from_shelf(&job([42, 60]), "p").unwrap();
        assert_eq!(
            (
                answer.balls,
                answer.on_line,
                answer.extras,
                answer.length_mm
            ),
            (84, 19, 2, 3023)
        );
        assert_eq!(answer.short_of.unwrap().colour, "c0");
        assert_eq!(
            answer
                .left
                .iter()
                .map(|l| (l.colour.as_str(), l.balls))
                .collect::<Vec<_>>(),
            [("c1", 18)]
        );
    }

    #[test]
    fn an_empty_shelf_makes_nothing() {
        let answer = from_shelf(&job([0, 5]), "p").unwrap();
        assert_eq!((answer.length_mm, answer.balls), (0, 0));
        assert_eq!(from_shelf(&job([1, 1]), "nobody"), None);
    }
}

//! The other direction: how long a garland the shelf makes.

use std::collections::BTreeMap;

use job::Job;
use job::list::live;
use job::piece::PieceKind;
use job::stock::ItemKind;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::cluster::split;
use crate::garland::{Entry, Recipe, from_pairs};
use crate::inflate::nearest;
use crate::types::BallCount;

/// More balloons than this of one kind are not counted: as many as the largest garland has.
const MOST_ON_HAND: i64 = 200_000;

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
    /// What runs out first: colour and size with the balloons of it on the shelf.
    pub short_of: Option<BallCount>,
    /// Balloons left on the shelf of what the recipe uses.
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
    let shelf = Shelf::of(job, &recipe);
    let mut answer = ShelfLength::default();
    // the number of balls that is covered does not fall strictly, so the search goes down to the first that is
    let mut balls = shelf.most(&recipe);
    while balls > 0 && !shelf.covers(&needs(&recipe, balls)) {
        balls -= 2;
    }
    answer.short_of = shelf.short_of(&needs(&recipe, balls + 2));
    let clusters = split(balls / 2, recipe.clusters).map_or(0, |n| n.iter().sum::<i64>());
    // of so many clusters in all, those kept back are the same percent of those on the line
    let on_line = clusters * 100 / (100 + recipe.extras_pct);
    let build = from_pairs(
        &recipe,
        recipe.pairs(recipe.counts(balls)),
        clusters - on_line,
    );
    let mut used = Needs::new();
    if let Ok(build) = build {
        let count = |n: usize| i64::try_from(n).unwrap_or(i64::MAX);
        answer.length_mm = nearest(build.length_mm);
        answer.on_line = count(build.line.len());
        answer.extras = count(build.extras.len());
        answer.balls = count(build.line.iter().chain(&build.extras).flatten().count());
        used = needs(&recipe, balls);
    }
    answer.left = shelf.left(&used);
    Some(answer)
}

/// Balloons by colour and nominal size: a double-stuffed ball needs two of them.
type Needs = BTreeMap<(String, i64), i64>;

/// Balloons that so many balls need, odd ones treated as the recipe says.
fn needs(recipe: &Recipe, balls: i64) -> Needs {
    let mut counts = recipe.counts(balls);
    recipe.treat_odd(&mut counts);
    let mut needs = Needs::new();
    for (entry, of_entry) in recipe.palette.iter().zip(counts) {
        for (mix, count) in recipe.mix.iter().zip(of_entry) {
            for colour in entry.colours() {
                *needs.entry((colour.to_string(), mix.size_in)).or_default() += count;
            }
        }
    }
    needs
}

/// What is on hand of the colours and sizes that a recipe names, in its order.
struct Shelf {
    /// Colour, nominal size, balloons.
    on_hand: Vec<((String, i64), i64)>,
}

impl Shelf {
    fn of(job: &Job, recipe: &Recipe) -> Shelf {
        let mut on_hand: Vec<((String, i64), i64)> = Vec::new();
        for colour in recipe.palette.iter().flat_map(Entry::colours) {
            for mix in &recipe.mix {
                let key = (colour.to_string(), mix.size_in);
                if on_hand.iter().any(|(known, _)| *known == key) {
                    continue;
                }
                let count = live(&job.items)
                    .into_iter()
                    .filter(|(_, i)| i.kind == ItemKind::Round)
                    .filter(|(_, i)| i.colour == colour && i.size_in == mix.size_in)
                    .map(|(_, i)| i.on_hand.clamp(0, MOST_ON_HAND))
                    .fold(0, i64::saturating_add);
                on_hand.push((key, count));
            }
        }
        Shelf { on_hand }
    }

    /// No more balls than this can be covered; even. Each size of each colour has its share of the balls but for less than three:
    /// one rounded by size, one by colour, one odd.
    fn most(&self, recipe: &Recipe) -> i64 {
        let sizes: i64 = recipe.mix.iter().map(|m| m.share).sum();
        let colours: i64 = recipe.palette.iter().map(|e| e.share).sum();
        let all = i128::from(sizes) * i128::from(colours);
        let mut shares: BTreeMap<(&str, i64), (i128, i128)> = BTreeMap::new();
        for entry in &recipe.palette {
            for mix in &recipe.mix {
                for colour in entry.colours() {
                    let (share, rounded) = shares.entry((colour, mix.size_in)).or_default();
                    *share += i128::from(mix.share) * i128::from(entry.share);
                    *rounded += 3;
                }
            }
        }
        let bound = self.on_hand.iter().filter_map(|((colour, size), have)| {
            let (share, rounded) = shares.get(&(colour.as_str(), *size))?;
            Some((i128::from(*have) + rounded) * all / share)
        });
        let most = bound.min().unwrap_or(0).min(i128::from(MOST_ON_HAND));
        i64::try_from(most - most % 2).unwrap_or(0)
    }

    fn covers(&self, needs: &Needs) -> bool {
        self.short_of(needs).is_none()
    }

    /// The first colour and size of which there is not enough.
    fn short_of(&self, needs: &Needs) -> Option<BallCount> {
        self.on_hand
            .iter()
            .find(|(key, have)| needs.get(key).copied().unwrap_or(0) > *have)
            .map(|(key, have)| balloons(key, *have))
    }

    fn left(&self, used: &Needs) -> Vec<BallCount> {
        self.on_hand
            .iter()
            .map(|(key, have)| (key, have - used.get(key).copied().unwrap_or(0)))
            .filter(|(_, left)| *left > 0)
            .map(|(key, left)| balloons(key, left))
            .collect()
    }
}

fn balloons((colour, size_in): &(String, i64), count: i64) -> BallCount {
    BallCount {
        colour: colour.clone(),
        inside: String::new(),
        size_in: *size_in,
        balls: count,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::piece::{Garland, Odd, Piece, Shade, Size};
    use job::stock::Item;
    use proptest::prelude::*;

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

    #[test]
    fn a_balloon_is_not_used_twice() {
        // 60 of c0: as a colour by itself and inside the double-stuffed ones it is needed once for each ball
        let mut job = job([60, 60]);
        let garland = &mut job.pieces.get_mut("p").unwrap().garland;
        garland.palette.get_mut("e1").unwrap().inside = "c0".into();
        let answer = from_shelf(&job, "p").unwrap();
        assert_eq!(answer.balls, 60);
        assert_eq!(answer.short_of.unwrap().colour, "c0");
        assert_eq!(
            answer
                .left
                .iter()
                .map(|l| (l.colour.as_str(), l.balls))
                .collect::<Vec<_>>(),
            [("c1", 30)]
        );
        // two ranges of one nominal size are blown from the same bag
        let mut job = self::job([60, 60]);
        let garland = &mut job.pieces.get_mut("p").unwrap().garland;
        let size = garland.mix["s"].clone();
        garland.mix.insert("t".into(), size);
        assert_eq!(from_shelf(&job, "p").unwrap().balls, 120);
    }

    #[test]
    fn an_odd_one_is_dropped_before_it_is_missed() {
        // 42 balls by halves are 21 and 21: with one dropped of each 20 of each are enough
        let mut job = job([20, 20]);
        let garland = &mut job.pieces.get_mut("p").unwrap().garland;
        garland.odd = Odd::DropOne;
        let answer = from_shelf(&job, "p").unwrap();
        assert_eq!((answer.balls, answer.left), (40, Vec::new()));
    }

    #[test]
    fn two_balloons_are_no_garland_and_stay_on_the_shelf() {
        let answer = from_shelf(&job([1, 1]), "p").unwrap();
        assert_eq!((answer.balls, answer.length_mm), (0, 0));
        assert_eq!(answer.left.len(), 2);
    }

    #[test]
    fn a_whole_warehouse_is_answered() {
        let answer = from_shelf(&job([i64::MAX, 150_000]), "p").unwrap();
        assert_eq!(answer.balls, 200_000);
        assert_eq!(from_shelf(&job([i64::MIN, 9]), "p").unwrap().balls, 0);
    }

    proptest! {
        #[test]
        fn what_is_used_and_what_is_left_is_what_was_there(a in 0i64..400, b in 0i64..400, share in 1i64..99, odd in 0u8..3) {
            let mut job = job([a, b]);
            let garland = &mut job.pieces.get_mut("p").unwrap().garland;
            garland.palette.get_mut("e0").unwrap().share_pct = share;
            garland.palette.get_mut("e1").unwrap().share_pct = 100 - share;
            garland.odd = [Odd::AddOne, Odd::DropOne, Odd::MixedPair][usize::from(odd)];
            let answer = from_shelf(&job, "p").unwrap();
            let left: i64 = answer.left.iter().map(|l| l.balls).sum();
            prop_assert_eq!(answer.balls + left, a + b);
            // one more cluster is not to be had
            let recipe = Recipe::of(&job.pieces["p"].garland);
            let more = needs(&recipe, answer.balls + 4 + 2 * 2);
            prop_assert!(more[&("c0".to_string(), 11)] > a || more[&("c1".to_string(), 11)] > b);
        }
    }
}

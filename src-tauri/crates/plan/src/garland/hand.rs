//! Clusters of the line that a hand changed: painted, fixed, replaced, moved, left out.
//!
//! A change names its cluster by the number that it has along the line of the recipe, counted from 0 at the first tip, before
//! anything is moved or left out. So it holds for the same place when the recipe changes.

use job::list::live;
use job::piece::{Garland, Hand};

use super::balls::{Ball, Recipe};

/// Balls that a cluster may have.
const SIZES: [usize; 3] = [4, 6, 8];

/// What a hand changed in one cluster.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// The cluster's number.
    pub number: usize,
    /// All its balls in this colour, index into the palette.
    pub entry: Option<usize>,
    /// These balls instead of those that fall to it.
    pub balls: Option<Vec<Ball>>,
    /// Not on the line.
    pub left_out: bool,
    /// So many places further along the line.
    pub moved: i64,
}

/// A cluster of the line with its number in the recipe.
pub type Numbered = (usize, Vec<Ball>);

impl Recipe {
    /// The same without any change by hand: what the number of clusters is found with, so that a change by hand lays no other
    /// cluster anew.
    #[must_use]
    pub fn bare(&self) -> Recipe {
        let mut bare = self.clone();
        bare.hand.clear();
        bare.mix.retain(|m| m.share > 0);
        bare.palette.retain(|e| e.share > 0);
        bare
    }

    /// The changes that a garland holds, by number; colours and sizes that only a hand uses join the recipe without a share.
    pub(super) fn take_changes(&mut self, garland: &Garland) {
        let mut changes: Vec<Change> = live(&garland.hand)
            .into_iter()
            .filter_map(|(id, hand)| {
                let number = id.parse().ok()?;
                Some(Change {
                    number,
                    entry: self.entry(garland, &hand.shade),
                    balls: self.fixed(garland, hand),
                    left_out: hand.left_out,
                    moved: hand.moved,
                })
            })
            .collect();
        changes.sort_by_key(|c| c.number);
        self.hand = changes;
    }

    /// Index of a colour of the garland's palette.
    fn entry(&mut self, garland: &Garland, shade: &str) -> Option<usize> {
        if let Some(at) = self.palette.iter().position(|e| e.id == shade) {
            return Some(at);
        }
        let shade_of = garland.palette.get(shade).filter(|s| !s.gone)?;
        self.palette.push(super::Entry {
            id: shade.into(),
            colour: shade_of.colour.clone(),
            inside: shade_of.inside.clone(),
            share: 0,
        });
        Some(self.palette.len() - 1)
    }

    /// The balls of a fixed or replaced cluster; none if they are no quad, six or eight of colours that the palette knows.
    fn fixed(&mut self, garland: &Garland, hand: &Hand) -> Option<Vec<Ball>> {
        if !SIZES.contains(&hand.balls.len()) {
            return None;
        }
        hand.balls
            .iter()
            .map(|b| {
                let entry = self.entry(garland, &b.shade)?;
                let part = self.part(b.size_in, b.blown_dmm);
                Some(Ball {
                    entry,
                    part,
                    dmm: super::balls::blown(b.blown_dmm),
                })
            })
            .collect()
    }

    fn part(&mut self, size_in: i64, blown_dmm: i64) -> usize {
        if let Some(at) = self.mix.iter().position(|m| m.size_in == size_in) {
            return at;
        }
        self.mix.push(super::Mix {
            size_in,
            share: 0,
            dmm: vec![super::balls::blown(blown_dmm)],
        });
        self.mix.len() - 1
    }
}

/// The line with the changes made. At least one cluster stays on it.
#[must_use]
pub fn by_hand(line: Vec<Vec<Ball>>, changes: &[Change]) -> Vec<Numbered> {
    let mut line: Vec<Numbered> = line.into_iter().enumerate().collect();
    for change in changes {
        let Some(at) = line.iter().position(|(number, _)| *number == change.number) else {
            continue;
        };
        if change.left_out {
            if line.len() > 1 {
                line.remove(at);
            }
            continue;
        }
        if let Some(balls) = &change.balls {
            line[at].1.clone_from(balls);
        }
        if let Some(entry) = change.entry {
            line[at].1.iter_mut().for_each(|b| b.entry = entry);
        }
        let here = i64::try_from(at).unwrap_or(i64::MAX);
        let last = i64::try_from(line.len() - 1).unwrap_or(i64::MAX);
        let to = here.saturating_add(change.moved).clamp(0, last);
        let cluster = line.remove(at);
        line.insert(usize::try_from(to).unwrap_or(at), cluster);
    }
    line
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ball(entry: usize) -> Ball {
        Ball {
            entry,
            part: 0,
            dmm: 2000,
        }
    }

    fn change(number: usize) -> Change {
        Change {
            number,
            entry: None,
            balls: None,
            left_out: false,
            moved: 0,
        }
    }

    fn numbers(line: &[Numbered]) -> Vec<usize> {
        line.iter().map(|(n, _)| *n).collect()
    }

    #[test]
    fn changes_hold_for_their_numbers() {
        let line = vec![vec![ball(0); 4]; 6];
        let changes = [
            Change {
                left_out: true,
                ..change(1)
            },
            Change {
                entry: Some(2),
                ..change(2)
            },
            Change {
                moved: -2,
                ..change(4)
            },
            Change {
                balls: Some(vec![ball(1); 6]),
                moved: 99,
                ..change(0)
            },
            Change {
                entry: Some(1),
                ..change(40)
            },
        ];
        let changed = by_hand(line, &changes);
        assert_eq!(numbers(&changed), [4, 2, 3, 5, 0]);
        assert!(changed[1].1.iter().all(|b| b.entry == 2));
        assert_eq!(changed[4].1, vec![ball(1); 6]);
    }

    #[test]
    fn one_cluster_stays() {
        let gone = |n| Change {
            left_out: true,
            ..change(n)
        };
        let line = by_hand(vec![vec![ball(0); 4]; 3], &[gone(0), gone(1), gone(2)]);
        assert_eq!(numbers(&line), [2]);
    }
}

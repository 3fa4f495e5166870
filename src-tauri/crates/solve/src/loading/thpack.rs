//! The text format of the published container loading sets (`thpack`): whole numbers between white space. First how many problems
//! there are; of each its number and, in some files, a seed; length, width, height; how many types; of each type its number, then
//! each of three sides with 1 if it may stand upright, else 0, and how many there are.

use super::types::{Container, Item, LONGEST, MOST_ITEMS, Order, Problem, Support, Triple, Turns};

/// A problem as it is published.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Published {
    /// Its number in the file.
    pub number: i64,
    /// Container.
    pub container: Triple,
    /// Types of boxes: sides, which of them may be upright, how many.
    pub types: Vec<(Triple, [bool; 3], usize)>,
}

impl Published {
    /// As a question; with it the type of each item, from 0.
    #[must_use]
    pub fn problem(&self, support: Support) -> (Problem, Vec<usize>) {
        let mut items = Vec::new();
        let mut types = Vec::new();
        for (which, (sides, upright, count)) in self.types.iter().enumerate() {
            for _ in 0..*count {
                items.push(Item::rigid(*sides, Turns::with_upright(*upright)));
                types.push(which);
            }
        }
        let problem = Problem {
            container: Container::plain(self.container),
            items,
            support,
            order: Order::Free,
        };
        (problem, types)
    }
}

/// Reads a file. Whether problems have a seed is seen from the file itself: read wrongly, the numbers do not come out even.
///
/// # Errors
/// What is wrong with it, in words.
pub fn read(text: &str) -> Result<Vec<Published>, String> {
    let numbers: Result<Vec<i64>, String> = text
        .split_whitespace()
        .map(|word| {
            word.parse()
                .map_err(|_| format!("\"{word}\" is no whole number"))
        })
        .collect();
    let numbers = numbers?;
    with_seeds(&numbers, true).or_else(|_| with_seeds(&numbers, false))
}

fn with_seeds(numbers: &[i64], seeds: bool) -> Result<Vec<Published>, String> {
    let mut rest = numbers.iter().copied();
    let mut next = || rest.next().ok_or("the file ends too early".to_string());
    let problems = next()?;
    let mut out = Vec::new();
    for _ in 0..problems {
        let number = next()?;
        if seeds {
            next()?;
        }
        let container = [side(next()?)?, side(next()?)?, side(next()?)?];
        let mut types = Vec::new();
        let mut boxes = 0;
        for expected in 1..=next()? {
            if next()? != expected {
                return Err(format!(
                    "problem {number}: type {expected} is not where it should be"
                ));
            }
            let mut sides = [0; 3];
            let mut upright = [false; 3];
            for k in 0..3 {
                sides[k] = side(next()?)?;
                upright[k] = match next()? {
                    0 => false,
                    1 => true,
                    other => return Err(format!("problem {number}: {other} is neither 0 nor 1")),
                };
            }
            let count = usize::try_from(next()?).map_err(|_| "a count is negative".to_string())?;
            boxes += count;
            if boxes > MOST_ITEMS {
                return Err(format!("problem {number} has more than {MOST_ITEMS} boxes"));
            }
            types.push((sides, upright, count));
        }
        out.push(Published {
            number,
            container,
            types,
        });
    }
    match rest.next() {
        None => Ok(out),
        Some(_) => Err("there is more in the file than it says".into()),
    }
}

fn side(number: i64) -> Result<i32, String> {
    i32::try_from(number)
        .ok()
        .filter(|side| (1..=LONGEST).contains(side))
        .ok_or_else(|| format!("{number} is no side: from 1 to {LONGEST}"))
}

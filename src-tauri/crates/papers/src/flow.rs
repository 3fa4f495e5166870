//! Rows into columns and pages: nothing is split that should stay whole, and no head stands alone at the foot of a page.

use crate::marks::Group;

/// Rounding that sums of heights may carry, in mm.
const SLACK: f64 = 1e-6;

/// The end of a paper stays whole up to this height in mm: more would leave a page half empty before it.
const TALLEST_END: f64 = 100.0;

/// An end of this height in mm can stand on a page by itself.
const SOLID_END: f64 = 60.0;

/// A strip of a column that is never split. Its marks are placed from its own upper left corner.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// In mm.
    pub height: f64,
    /// Space above, in mm; none at the top of a column.
    pub before: f64,
    /// Stays on the same page as the next row.
    pub keep: bool,
    /// What it shows.
    pub groups: Vec<Group>,
}

/// Rows that belong together, such as a table with its head.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Block {
    /// From the top down; the first may be a head that stays with the next.
    pub rows: Vec<Row>,
    /// Drawn again where the block goes on in another column.
    pub again: Vec<Row>,
}

/// Where a row came to stand.
pub struct Placed<'a> {
    /// Column, counted from the first of the first page.
    pub column: usize,
    /// Below the top of the column, in mm.
    pub y: f64,
    /// The row.
    pub row: &'a Row,
}

/// The columns to fill.
pub struct Room<'a> {
    /// Height of each column by its number, in mm.
    pub of: &'a dyn Fn(usize) -> f64,
    /// Height of the tallest column that can ever come, in mm.
    pub full: f64,
    /// The first column begins at the top of its space, so that no gap is due there.
    pub fresh: bool,
    /// Nothing else stands on the first page: it is not left empty for a chain that would fit none but a later one.
    pub alone: bool,
}

impl Block {
    /// A block of rows that repeat nothing.
    pub fn of(rows: Vec<Row>) -> Block {
        Block {
            rows,
            again: Vec::new(),
        }
    }

    /// The block with more space above.
    pub fn spaced(mut self, before: f64) -> Block {
        if let Some(first) = self.rows.first_mut() {
            first.before = before;
        }
        self
    }

    /// The block in one piece.
    pub fn whole(mut self) -> Block {
        let last = self.rows.len().saturating_sub(1);
        self.rows.iter_mut().take(last).for_each(|r| r.keep = true);
        self
    }

    /// Height in one column in mm.
    pub fn tall(&self) -> f64 {
        self.rows.iter().map(|r| r.before + r.height).sum()
    }

    /// Binds the first two rows and the last two, so that no single row is left alone on either side of a break; a block
    /// of up to three rows stays whole.
    pub fn bound(mut self) -> Block {
        let count = self.rows.len();
        let heads = self.rows.iter().take_while(|r| r.keep).count();
        let whole = count < heads + 4;
        for (index, row) in self.rows.iter_mut().enumerate() {
            let bind = if whole {
                index + 1 < count
            } else {
                index == heads || index + 2 == count
            };
            row.keep = row.keep || bind;
        }
        self
    }
}

/// What a paper ends with, such as sums, terms and lines to sign on, bound so that no page holds nothing but the last of it: whole
/// blocks from the end, up to [`TALLEST_END`], and where these are no more than [`SOLID_END`] the last lines of the one before them.
pub fn ended(mut blocks: Vec<Block>) -> Vec<Block> {
    let mut rows: Vec<Row> = Vec::new();
    let mut tall = 0.0;
    while let Some(block) = blocks.pop() {
        let end = tall;
        tall += block.tall();
        let fits = tall <= TALLEST_END;
        let mut block = if fits { block.whole() } else { block };
        if !fits && end > SOLID_END {
            blocks.extend([block, Block::of(rows)]);
            return blocks;
        }
        if let (false, Some(last)) = (rows.is_empty(), block.rows.last_mut()) {
            last.keep = true;
        }
        if !fits {
            block.rows.append(&mut rows);
            blocks.push(block);
            return blocks;
        }
        block.rows.append(&mut rows);
        rows = block.rows;
    }
    vec![Block::of(rows)]
}

/// Places all rows. A chain of rows that keep together moves on as one; a chain that is taller than any column is
/// broken; a row taller than any column is placed all the same (builders never make one).
pub fn fill<'a>(blocks: &'a [Block], room: &Room<'_>) -> Vec<Placed<'a>> {
    let mut out: Vec<Placed<'a>> = Vec::new();
    let (mut column, mut y, mut fresh) = (0, 0.0, room.fresh);
    for block in blocks {
        let mut at = 0;
        while at < block.rows.len() {
            let kept = block.rows.iter().skip(at).take_while(|r| r.keep).count();
            let chain = block
                .rows
                .get(at..(at + kept + 1).min(block.rows.len()))
                .unwrap_or_default();
            let fits = |rows: &[Row], y: f64, fresh: bool| {
                y + tall(rows, fresh) <= (room.of)(column) + SLACK
            };
            let take = if fits(chain, y, fresh) {
                chain.len()
            } else if !fresh
                || ((room.of)(column) + SLACK < room.full && !(room.alone && column == 0))
            {
                0
            } else {
                chain
                    .iter()
                    .enumerate()
                    .take_while(|(i, _)| fits(chain.get(..=*i).unwrap_or_default(), y, fresh))
                    .count()
                    .max(1)
            };
            if take == 0 {
                // a head drawn again in a column too short for what follows it is taken back
                while fresh && out.last().is_some_and(|p| p.column == column) {
                    out.pop();
                }
                (column, y, fresh) = (column + 1, 0.0, true);
                if at > 0 {
                    for row in &block.again {
                        out.push(Placed { column, y, row });
                        y += row.height;
                    }
                }
                continue;
            }
            for row in chain.iter().take(take) {
                y += if fresh { 0.0 } else { row.before };
                out.push(Placed { column, y, row });
                y += row.height;
                fresh = false;
            }
            at += take;
        }
    }
    out
}

/// Height of rows under each other.
fn tall(rows: &[Row], fresh: bool) -> f64 {
    let all: f64 = rows.iter().map(|r| r.before + r.height).sum();
    match rows.first() {
        Some(first) if fresh => all - first.before,
        _ => all,
    }
}

/// The number of the last column used, 0 if none.
pub fn last_column(placed: &[Placed<'_>]) -> usize {
    placed.last().map_or(0, |p| p.column)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(height: f64, keep: bool) -> Row {
        Row {
            height,
            before: 1.0,
            keep,
            groups: Vec::new(),
        }
    }

    fn places(blocks: &[Block], height: f64) -> Vec<(usize, f64)> {
        let room = Room {
            of: &|_| height,
            full: height,
            fresh: true,
            alone: false,
        };
        fill(blocks, &room)
            .iter()
            .map(|p| (p.column, p.y))
            .collect()
    }

    #[test]
    fn rows_follow_each_other_and_break_whole() {
        let blocks = [Block::of(vec![row(4.0, false); 3])];
        assert_eq!(places(&blocks, 10.0), [(0, 0.0), (0, 5.0), (1, 0.0)]);
    }

    #[test]
    fn a_head_moves_with_its_first_row() {
        let blocks = [
            Block::of(vec![row(6.0, false)]),
            Block::of(vec![row(2.0, true), row(4.0, false)]),
        ];
        assert_eq!(places(&blocks, 10.0), [(0, 0.0), (1, 0.0), (1, 3.0)]);
    }

    #[test]
    fn the_head_is_repeated_where_a_block_goes_on() {
        let block = Block {
            rows: vec![row(2.0, true), row(4.0, false), row(4.0, false)],
            again: vec![row(2.0, true)],
        };
        assert_eq!(
            places(&[block], 10.0),
            [(0, 0.0), (0, 3.0), (1, 0.0), (1, 2.0)]
        );
    }

    #[test]
    fn no_row_is_left_alone_after_a_break() {
        let block = Block::of(vec![row(4.0, false); 5]).bound();
        // two fit a column: 2, 1, 2 and never 2, 2, 1
        assert_eq!(
            places(&[block], 10.0)
                .iter()
                .map(|p| p.0)
                .collect::<Vec<_>>(),
            [0, 0, 1, 2, 2]
        );
    }

    #[test]
    fn three_rows_stay_together() {
        let blocks = [
            Block::of(vec![row(4.0, false)]),
            Block::of(vec![row(3.0, false); 3]).bound(),
        ];
        assert_eq!(
            places(&blocks, 12.0),
            [(0, 0.0), (1, 0.0), (1, 4.0), (1, 8.0)]
        );
    }

    #[test]
    fn a_chain_too_tall_for_a_column_is_broken_and_ends() {
        let blocks = [Block::of(vec![row(4.0, true); 7])];
        assert_eq!(places(&blocks, 10.0).len(), 7);
        assert_eq!(
            places(&[Block::of(vec![row(99.0, false)])], 10.0),
            [(0, 0.0)]
        );
    }

    #[test]
    fn a_short_first_column_is_left_for_a_full_one() {
        let room = Room {
            of: &|c| if c == 0 { 3.0 } else { 10.0 },
            full: 10.0,
            fresh: false,
            alone: false,
        };
        let blocks = [Block::of(vec![row(6.0, false)])];
        assert_eq!(fill(&blocks, &room)[0].column, 1);
    }

    /// "Cluster cards" once stood alone on its page: the head, the first and the second row were taller than what the full head
    /// of a paper leaves.
    #[test]
    fn a_first_page_is_not_left_empty() {
        let room = Room {
            of: &|c| if c == 0 { 9.0 } else { 12.0 },
            full: 12.0,
            fresh: true,
            alone: true,
        };
        let blocks = [Block::of(vec![
            row(2.0, true),
            row(4.0, true),
            row(4.0, false),
        ])];
        let columns: Vec<usize> = fill(&blocks, &room).iter().map(|p| p.column).collect();
        assert_eq!(columns, [0, 0, 1]);
    }

    /// The lines to sign on once stood alone on a page, without the sum that they agree to.
    #[test]
    fn the_end_of_a_paper_moves_with_what_it_belongs_to() {
        let long = Block::of(vec![row(4.0, false); 30]).bound();
        let sums = Block::of(vec![row(4.0, false); 3]);
        let sign = Block::of(vec![row(9.0, false)]);
        let all = ended(vec![long.clone(), sums, sign.clone()]);
        let rows: Vec<usize> = all.iter().map(|b| b.rows.len()).collect();
        assert_eq!(rows, [34]);
        // 40 hold 8 rows of 5; the last two lines of the long text go with the four rows of the end
        let columns: Vec<usize> = places(&all, 40.0).iter().map(|p| p.0).collect();
        assert_eq!(
            columns.iter().filter(|c| **c == 4).count(),
            6,
            "{columns:?}"
        );
        // what fills a good part of a page may stand there alone: the sums were once torn off their lines for it
        let solid = ended(vec![long, Block::of(vec![row(61.0, false)])]);
        let rows: Vec<usize> = solid.iter().map(|b| b.rows.len()).collect();
        assert_eq!(rows, [30, 1]);
        assert!(!solid[0].rows[29].keep);
        // one that is short enough stays whole
        let short = ended(vec![Block::of(vec![row(4.0, false); 5]), sign]);
        assert_eq!(short.len(), 1);
        assert!(short[0].rows.iter().rev().skip(1).all(|r| r.keep));
    }
}

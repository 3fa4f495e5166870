//! Walls.

use super::*;

#[test]
fn a_wall_reaches_from_edge_to_edge() {
    // 2400 mm in balloons of 228.6 mm: 10 make 2286, 11 make 2514.6 and are pressed to 217.14 mm; 2000 mm: 9 make 2057.4
    let made = of(wall(Wall::default()));
    assert_eq!((figure(&made, "To a row"), figure(&made, "Rows")), (11, 9));
    assert_eq!((made.width_mm, made.height_mm), (2400, 2000));
    // 99 by 60 and 40: 59.4 and 39.6
    assert_eq!(by_colour(&made), [("a", 59), ("b", 40)].into());
    assert!(made.groups.is_empty());
    // quads are two by two, 457.2 mm wide: 6 and 5, each of one colour; 30 by 60 and 40
    let made = of(wall(Wall {
        each: 4,
        ..Wall::default()
    }));
    assert_eq!((figure(&made, "To a row"), figure(&made, "Rows")), (6, 5));
    // five gaps of 388.56 mm would fill 2400 mm: they stay at nine tenths of 457.2 mm, and so do the four of 385.7 mm
    assert_eq!((made.width_mm, made.height_mm), (2515, 2103));
    assert_eq!(by_colour(&made), [("a", 72), ("b", 48)].into());
    assert_eq!(
        made.groups.iter().map(|g| g.count).collect::<Vec<_>>(),
        [18, 12]
    );
    assert_eq!(made.balls_drawn.len(), 120);
}

#[test]
fn rows_stripes_and_checks() {
    let of_pattern = |pattern| {
        let made = of(wall(Wall {
            pattern,
            ..Wall::default()
        }));
        let all = by_colour(&made);
        (all["a"], all["b"])
    };
    // 9 rows of 11: five rows and four; six stripes and five; a chequerboard of 99 begins and ends alike
    assert_eq!(of_pattern(WallPattern::Rows), (55, 44));
    assert_eq!(of_pattern(WallPattern::Stripes), (54, 45));
    assert_eq!(of_pattern(WallPattern::Checks), (50, 49));
}

/// Who hangs a wall reads it from the top: rows of one colour each, and every crossing counted once.
#[test]
fn a_wall_has_a_map() {
    for pattern in [
        WallPattern::Rows,
        WallPattern::Stripes,
        WallPattern::Checks,
        WallPattern::Blended,
    ] {
        let made = of(wall(Wall {
            pattern,
            ..Wall::default()
        }));
        assert_eq!(made.grid.len(), 9);
        assert!(made.grid.iter().all(|row| row.len() == 11));
        for (line, ball) in (0u32..).zip(&made.balls) {
            let here = made.grid.iter().flatten().filter(|of| **of == line).count();
            assert_eq!(i64::try_from(here), Ok(ball.balls), "{pattern:?}");
        }
        // as it is drawn: the first row is the highest, the first of a row the leftmost
        let colour = |row: usize, column: usize| {
            let xs = |b: &&crate::types::DrawnBall| (-b.at[1], b.at[0]);
            let mut drawn: Vec<_> = made.balls_drawn.iter().collect();
            drawn.sort_by_key(xs);
            drawn[row * 11 + column].colour.clone()
        };
        for (row, column) in [(0, 0), (0, 10), (4, 3), (8, 5)] {
            let line = usize::try_from(made.grid[row][column]).unwrap();
            assert_eq!(made.balls[line].colour, colour(row, column), "{pattern:?}");
        }
        if pattern == WallPattern::Rows {
            let of_row = |row: &Vec<u32>| row.iter().all(|of| *of == row[0]);
            assert!(made.grid.iter().all(of_row) && made.grid[0] != made.grid[1]);
        }
    }
    assert!(of(foils("1", FoilStand::Helium)).grid.is_empty());
}

//! What is refused and what is pointed out; whatever stands in a piece, it is refused with a finding or its counts add up.

use super::tests::{bouquet, centrepiece, classic, codes, counted, floaters, palette, wall};
use super::*;
use job::Severity;
use job::piece::Piece;
use job::set_piece::{
    Bouquet, Centrepiece, Classic, ClassicForm, Floaters, FoilStand, Foils, Loose, LooseForm,
    RingPattern, Wall, WallPattern,
};
use proptest::prelude::*;

#[test]
fn what_cannot_be_counted_says_why() {
    let cases: Vec<(Piece, &str, &str)> = vec![
        (
            classic(Classic {
                ring: 2,
                ..Classic::default()
            }),
            "ring_out",
            "ring",
        ),
        (
            classic(Classic {
                ring: 7,
                ..Classic::default()
            }),
            "ring_out",
            "ring",
        ),
        (
            classic(Classic {
                count: 0,
                ..Classic::default()
            }),
            "no_count",
            "count",
        ),
        (
            classic(Classic {
                blown_dmm: 0,
                ..Classic::default()
            }),
            "no_size",
            "blown_dmm",
        ),
        (
            classic(Classic {
                height_mm: 0,
                ..Classic::default()
            }),
            "no_measure",
            "height_mm",
        ),
        (
            classic(Classic {
                topper_in: 24,
                ..Classic::default()
            }),
            "no_colour",
            "topper_colour",
        ),
        (
            classic(Classic {
                count: 10_000,
                ..Classic::default()
            }),
            "too_large",
            "",
        ),
        (
            wall(Wall {
                each: 2,
                ..Wall::default()
            }),
            "each_out",
            "each",
        ),
        (
            wall(Wall {
                width_mm: 900_000,
                height_mm: 900_000,
                ..Wall::default()
            }),
            "too_large",
            "",
        ),
        (
            bouquet(Bouquet {
                rounds: 0,
                ..Bouquet::default()
            }),
            "no_count",
            "count",
        ),
        (
            bouquet(Bouquet {
                foils: 1,
                ..Bouquet::default()
            }),
            "no_colour",
            "foil_colour",
        ),
        (
            centrepiece(Centrepiece {
                foot: 5,
                ..Centrepiece::default()
            }),
            "foot_out",
            "foot",
        ),
        (
            floaters(Floaters {
                count: 0,
                ..Floaters::default()
            }),
            "no_count",
            "count",
        ),
        (
            Piece {
                kind: PieceKind::Loose,
                ..Piece::default()
            },
            "no_palette",
            "palette",
        ),
    ];
    for (piece, code, field) in cases {
        let counted = counted(piece);
        let found = &counted.findings[0];
        assert_eq!(
            (found.code.as_str(), found.severity),
            (code, Severity::Stop)
        );
        assert_eq!(
            found.path.get(3).map_or("", String::as_str),
            field,
            "{code}"
        );
        assert!(counted.pieces[0].made.is_none());
        assert_eq!(counted.pieces[0].balloons, 0);
    }
}

#[test]
fn what_will_not_come_out_is_said() {
    let three = palette(&[("a", 1), ("b", 1), ("c", 1), ("d", 1)]);
    let spiral = Classic {
        ring: 3,
        palette: three,
        ..Classic::default()
    };
    assert_eq!(codes(classic(spiral)), ["colour_unused"]);
    let grid = |pitch_mm| {
        codes(wall(Wall {
            pitch_mm,
            ..Wall::default()
        }))
    };
    assert_eq!(grid(150), ["grid_tight"]);
    assert_eq!(grid(220), [""; 0]);
    assert_eq!(grid(300), ["grid_shows"]);
    let low = Bouquet {
        rounds: 12,
        ..Bouquet::default()
    };
    assert_eq!(codes(bouquet(low)), ["ribbon_short"]);
}

fn any_number() -> impl Strategy<Value = i64> {
    prop_oneof![any::<i64>(), -3i64..12, 0i64..6000]
}

prop_compose! {
    fn any_piece()(
        kind in 0usize..7,
        n in prop::collection::vec(any_number(), 8),
        shares in prop::collection::vec(any_number(), 0..4),
        flag in any::<bool>(),
        text in ".{0,12}",
    ) -> Piece {
        let colours = ["a", "b", "c", "a"];
        let named: Vec<(&str, i64)> = colours.into_iter().zip(shares).collect();
        let palette = palette(&named);
        let one = "t".to_string();
        let mut piece = Piece::default();
        match kind {
            0 => {
                piece.kind = PieceKind::Classic;
                piece.classic = Classic {
                    count: n[0], height_mm: n[1], span_mm: n[2], rise_mm: n[3], ring: n[4], blown_dmm: n[5], band_rings: n[6],
                    topper_in: n[7], topper_dmm: n[5], topper_colour: one, ballast_g: n[1], palette,
                    form: if flag { ClassicForm::Arch } else { ClassicForm::Column },
                    pattern: if n[0] % 2 == 0 { RingPattern::Bands } else { RingPattern::Spiral },
                    ..Classic::default()
                };
            }
            1 => {
                piece.kind = PieceKind::Wall;
                piece.wall = Wall {
                    width_mm: n[0], height_mm: n[1], each: n[2], pitch_mm: n[3], blown_dmm: n[4], size_in: n[5], palette,
                    pattern: if flag { WallPattern::Checks } else { WallPattern::Blended },
                    ballast_g: n[6],
                };
            }
            2 => {
                piece.kind = PieceKind::Bouquet;
                piece.bouquet = Bouquet {
                    count: n[0], rounds: n[1], size_in: n[2], blown_dmm: n[3], foils: n[4], foil_in: n[5], top_mm: n[6],
                    step_mm: n[7], weight_g: n[3], foil_colour: one, palette, treated: flag,
                };
            }
            3 => {
                piece.kind = PieceKind::Foils;
                let stand = if flag { FoilStand::Helium } else { FoilStand::Standing };
                piece.foils = Foils { text, height_mm: n[0], gap_mm: n[1], colour: one, stand, along_mm: n[2] };
            }
            4 => {
                piece.kind = PieceKind::Floaters;
                piece.floaters = Floaters {
                    count: n[0], size_in: n[1], blown_dmm: n[2], ribbon_mm: n[3], width_mm: n[4], depth_mm: n[5], palette,
                    treated: flag,
                };
            }
            5 => {
                piece.kind = PieceKind::Centrepiece;
                piece.centrepiece = Centrepiece {
                    count: n[0], height_mm: n[1], foot: n[2], foot_in: n[3], foot_dmm: n[4], top_in: n[5], top_dmm: n[6],
                    top_colour: one, palette,
                };
            }
            _ => {
                piece.kind = PieceKind::Loose;
                piece.loose = Loose {
                    count: n[0], size_in: n[1], blown_dmm: n[2], palette,
                    form: if flag { LooseForm::Single } else { LooseForm::Accent },
                };
            }
        }
        piece
    }
}

/// Balls of one size in groups.
fn grouped(made: &Made) -> i64 {
    made.groups
        .iter()
        .map(|g| g.count * i64::try_from(g.balls.len()).unwrap())
        .sum()
}

proptest! {
    #[test]
    fn counts_add_up(piece in any_piece()) {
        let counted = counted(piece.clone());
        let Some(made) = &counted.pieces[0].made else {
            prop_assert!(counted.findings.iter().any(|f| f.severity == Severity::Stop));
            return Ok(());
        };
        let balls: i64 = made.balls.iter().map(|c| c.balls).sum();
        let sized: i64 = counted.sizing.iter().map(|l| l.count).sum();
        prop_assert_eq!(balls, sized);
        prop_assert_eq!(counted.pieces[0].balloons, balloons(made));
        prop_assert!(balls <= 200_000 && made.count >= 1);
        let used: i64 = counted.colours.iter().map(|c| c.balloons).sum();
        prop_assert_eq!(used, balloons(made));
        // what is tied in groups, and what is not: toppers, singles, balloons on ribbons
        let alone = match piece.kind {
            PieceKind::Classic if piece.classic.topper_in > 0 && piece.classic.form != ClassicForm::Arch => made.count,
            PieceKind::Centrepiece if piece.centrepiece.top_in > 0 => made.count,
            PieceKind::Wall if piece.wall.each == 4 => 0,
            PieceKind::Classic | PieceKind::Centrepiece => 0,
            PieceKind::Loose if piece.loose.form == LooseForm::Accent => 0,
            _ => balls,
        };
        prop_assert_eq!(grouped(made) + alone, balls);
        // one of them is drawn whole, unless there are too many to draw
        let of_one = match piece.kind {
            PieceKind::Loose if piece.loose.form == LooseForm::Single => 1,
            PieceKind::Bouquet => balls / made.count + foils_of(made) / made.count,
            _ => balls / made.count,
        };
        let drawn = i64::try_from(made.balls_drawn.len()).unwrap();
        prop_assert!(drawn == of_one || drawn == 20_000, "{drawn} of {of_one}");
        prop_assert!(made.weight_g >= 0 && made.helium_ml >= 0);
        // one by one the shares are kept to within one
        if matches!(piece.kind, PieceKind::Floaters) {
            let shades: Vec<i64> = piece.floaters.palette.values().map(|s| s.share_pct.max(0)).collect();
            prop_assert_eq!(
                balls,
                crate::spread::largest_remainder(piece.floaters.count, &shades).iter().sum::<i64>()
            );
        }
    }
}

//! Columns by closed forms, the other kinds by hand.

mod wall;

use std::collections::BTreeMap;

use super::*;
use crate::pieces::{Counted, count};
use job::Job;
use job::piece::Piece;
use job::set_piece::{
    Bouquet, Centrepiece, Classic, ClassicForm, Floaters, FoilStand, Foils, Loose, LooseForm,
    RingPattern, Wall, WallPattern,
};

pub(super) fn palette(shares: &[(&str, i64)]) -> Ids<Shade> {
    shares
        .iter()
        .enumerate()
        .map(|(i, (colour, share_pct))| {
            let shade = Shade {
                colour: (*colour).into(),
                share_pct: *share_pct,
                order: format!("{i:02}"),
                ..Shade::default()
            };
            (format!("s{i}"), shade)
        })
        .collect()
}

fn job_of(piece: Piece) -> Job {
    let mut job = Job::default();
    job.pieces.insert("p".into(), piece);
    job
}

pub(super) fn counted(piece: Piece) -> Counted {
    count(&job_of(piece))
}

/// The piece as it is made; a refusal stops the test.
fn of(piece: Piece) -> Made {
    let counted = counted(piece);
    assert!(counted.pieces[0].made.is_some(), "{:?}", counted.findings);
    counted.pieces[0].made.clone().unwrap()
}

/// The codes of what is said.
pub(super) fn codes(piece: Piece) -> Vec<String> {
    counted(piece)
        .findings
        .into_iter()
        .map(|f| f.code)
        .collect()
}

pub(super) fn classic(classic: Classic) -> Piece {
    Piece {
        kind: PieceKind::Classic,
        name: "Pillar".into(),
        classic: Classic {
            palette: if classic.palette.is_empty() {
                palette(&[("a", 50), ("b", 50)])
            } else {
                classic.palette.clone()
            },
            ..classic
        },
        ..Piece::default()
    }
}

pub(super) fn wall(wall: Wall) -> Piece {
    Piece {
        kind: PieceKind::Wall,
        wall: Wall {
            palette: palette(&[("a", 60), ("b", 40)]),
            ..wall
        },
        ..Piece::default()
    }
}

pub(super) fn bouquet(bouquet: Bouquet) -> Piece {
    Piece {
        kind: PieceKind::Bouquet,
        bouquet: Bouquet {
            palette: palette(&[("a", 60), ("b", 40)]),
            ..bouquet
        },
        ..Piece::default()
    }
}

fn foils(text: &str, stand: FoilStand) -> Piece {
    Piece {
        kind: PieceKind::Foils,
        foils: Foils {
            text: text.into(),
            colour: "gold".into(),
            stand,
            ..Foils::default()
        },
        ..Piece::default()
    }
}

pub(super) fn floaters(floaters: Floaters) -> Piece {
    Piece {
        kind: PieceKind::Floaters,
        floaters: Floaters {
            palette: palette(&[("a", 60), ("b", 40)]),
            ..floaters
        },
        ..Piece::default()
    }
}

pub(super) fn centrepiece(centrepiece: Centrepiece) -> Piece {
    Piece {
        kind: PieceKind::Centrepiece,
        centrepiece: Centrepiece {
            palette: palette(&[("a", 50), ("b", 50)]),
            top_colour: "t".into(),
            ..centrepiece
        },
        ..Piece::default()
    }
}

fn loose(loose: Loose) -> Piece {
    Piece {
        kind: PieceKind::Loose,
        loose: Loose {
            palette: palette(&[("a", 50), ("b", 50)]),
            ..loose
        },
        ..Piece::default()
    }
}

fn figure(made: &Made, label: &str) -> i64 {
    made.figures
        .iter()
        .find(|f| f.label == label)
        .unwrap()
        .value
}

fn by_colour(made: &Made) -> BTreeMap<&str, i64> {
    let mut all = BTreeMap::new();
    for c in &made.balls {
        *all.entry(c.colour.as_str()).or_default() += c.balls;
    }
    all
}

/// Closed form of the square antiprism: rings of four of 0.28 m follow at 0.28 m / 2^(1/4); eight of them stand 1.92816 m, the fewest
/// that reach 1.80 m.
#[test]
fn a_column_of_four_to_a_ring() {
    let made = of(classic(Classic {
        blown_dmm: 2800,
        topper_in: 0,
        ..Classic::default()
    }));
    assert_eq!(figure(&made, "Rings"), 8);
    assert_eq!(figure(&made, "Height of the rings"), 1928);
    assert_eq!((made.height_mm, made.width_mm), (1928, 676));
    assert_eq!(by_colour(&made), [("a", 16), ("b", 16)].into());
    // every ring is tied alike and turned half a step: one card
    assert_eq!(made.groups.len(), 1);
    assert_eq!((made.groups[0].count, made.groups[0].balls.len()), (8, 4));
    assert_eq!(made.balls_drawn.len(), 32);
}

/// As drawn, each ball touches two of its own ring and two of each ring beside it, to the rounding of a tenth of a millimetre, and no
/// two overlap: rings of three to six.
#[test]
fn drawn_rings_touch_and_do_not_overlap() {
    for ring in 3..=6 {
        let made = of(classic(Classic {
            ring,
            ..Classic::default()
        }));
        let apart = |a: &DrawnBall, b: &DrawnBall| {
            let squares: i64 = (0..3).map(|i| (a.at[i] - b.at[i]).pow(2)).sum();
            whole(squares).sqrt()
        };
        let d = 2286.0;
        let middle = &made.balls_drawn[usize::try_from(2 * ring).unwrap()];
        let touching = made
            .balls_drawn
            .iter()
            .filter(|b| *b != middle)
            .filter(|b| {
                let way = apart(middle, b);
                assert!(way > d - 3.0, "ring of {ring}: {way}");
                way < d + 3.0
            })
            .count();
        assert_eq!(touching, 6, "ring of {ring}");
    }
}

#[test]
fn colours_wind_or_lie_in_bands() {
    // 8 rings of 4: bands of 2 rings, three colours in turn: a a b b c c a a
    let made = of(classic(Classic {
        blown_dmm: 2800,
        pattern: RingPattern::Bands,
        palette: palette(&[("a", 1), ("b", 1), ("c", 1)]),
        ..Classic::default()
    }));
    assert_eq!(by_colour(&made), [("a", 16), ("b", 8), ("c", 8)].into());
    assert_eq!(made.groups.len(), 3);
    // a spiral of two: from ring to ring a colour moves on by half a step about the pole
    let made = of(classic(Classic::default()));
    let turn = |ball: &DrawnBall| {
        let [x, z] = [ball.at[0] - made.width_mm * 5, ball.at[2]].map(whole);
        libm::atan2(x, z)
    };
    let step = turn(&made.balls_drawn[4]) - turn(&made.balls_drawn[0]);
    assert!((step - std::f64::consts::PI / 4.0).abs() < 0.01, "{step}");
    assert_eq!(made.balls_drawn[0].colour, made.balls_drawn[4].colour);
}

#[test]
fn a_topper_rests_in_the_last_ring() {
    let made = of(classic(Classic {
        blown_dmm: 2800,
        topper_in: 24,
        topper_dmm: 5600,
        topper_colour: "t".into(),
        count: 2,
        ..Classic::default()
    }));
    // middles 0.42 m apart, 0.19799 m aside: 0.37041 m over the last ring at 1.78816 m, and 0.28 m to the top
    assert_eq!(made.height_mm, 2439);
    assert_eq!(by_colour(&made), [("a", 32), ("b", 32), ("t", 2)].into());
    assert_eq!(balloons(&made), 66);
}

/// Half an ellipse of 2.5 m over 2.2 m is 5.522471 m (scipy); rings of four of 0.28 m: 0.28 + (m − 1) 0.23545 ≥ 5.52247 at 24.
#[test]
fn a_tight_arch() {
    let made = of(classic(Classic {
        form: ClassicForm::Arch,
        span_mm: 2500,
        rise_mm: 2200,
        blown_dmm: 2800,
        ballast_g: 10_000,
        ..Classic::default()
    }));
    assert_eq!(figure(&made, "Along its line"), 5522);
    assert_eq!(figure(&made, "Rings"), 24);
    assert_eq!(by_colour(&made), [("a", 48), ("b", 48)].into());
    assert_eq!((made.width_mm, made.height_mm), (2500 + 676, 2200 + 338));
    // both bases
    assert_eq!(made.weight_g, 20_000);
    // its first and last ring lie on the floor at its feet, 2.5 m apart
    let ring = |first: usize, axis: usize| {
        let four = &made.balls_drawn[first..first + 4];
        nearest(whole(four.iter().map(|b| b.at[axis]).sum::<i64>()) / 4.0)
    };
    assert!(
        (ring(92, 0) - ring(0, 0) - 25_000).abs() < 100,
        "{}",
        ring(92, 0)
    );
    assert!((ring(0, 1) - 1400).abs() < 20 && (ring(92, 1) - 1400).abs() < 20);
}

/// Seven rounds of 11 in hold 7 × 11.42031 L, which lift 7 × 11.8575 g (CoolProp, 1.03826 g/L) less 7 × 2.8 g of latex.
#[test]
fn a_bouquet_lifts_and_is_held() {
    let made = of(bouquet(Bouquet {
        count: 3,
        ..Bouquet::default()
    }));
    assert_eq!(made.helium_ml, 239_826);
    assert_eq!(figure(&made, "Lift of one"), 63);
    // 63.4 g with half as much again are 95.1 g
    assert_eq!(
        (made.weight_g, figure(&made, "Weight that it asks for")),
        (100, 100)
    );
    assert_eq!(by_colour(&made), [("a", 12), ("b", 9)].into());
    // the highest middle at 1800 mm, half a balloon less of ribbon, then 150 mm less each
    assert_eq!(made.ribbons_mm[..2], [1660, 1510]);
    assert_eq!(made.ribbons_mm.len(), 7);
    assert_eq!(made.count, 3);
}

#[test]
fn a_bouquet_with_foils_and_a_weight_of_its_own() {
    let of_weight = |weight_g| Bouquet {
        foils: 1,
        foil_colour: "gold".into(),
        count: 2,
        weight_g,
        ..Bouquet::default()
    };
    let made = of(bouquet(of_weight(200)));
    assert_eq!(made.foils, [foil("", "gold", 457, 2)]);
    assert_eq!(made.weight_g, 200);
    assert_eq!(balloons(&made), 16);
    // 63.4 g of the rounds, and 15.11 g less 9.19 g of film of the foil: 69.3 g
    assert_eq!(figure(&made, "Lift of one"), 69);
    assert_eq!(codes(bouquet(of_weight(200))), [""; 0]);
    assert_eq!(codes(bouquet(of_weight(60))), ["weight_flies"]);
    assert_eq!(codes(bouquet(of_weight(90))), ["weight_light"]);
}

#[test]
fn a_text_of_foils() {
    let piece = || foils("Lou & Ian 50", FoilStand::Standing);
    let made = of(piece());
    let texts: Vec<(&str, i64)> = made
        .foils
        .iter()
        .map(|f| (f.text.as_str(), f.count))
        .collect();
    assert_eq!(
        texts,
        [
            ("L", 1),
            ("O", 1),
            ("U", 1),
            ("&", 1),
            ("I", 1),
            ("A", 1),
            ("N", 1),
            ("5", 1),
            ("0", 1)
        ]
    );
    assert_eq!((balloons(&made), made.helium_ml), (9, 0));
    assert_eq!(made.height_mm, 860);
    // nothing is drawn over its height or outside its width
    for rod in &made.rods_drawn {
        for end in [rod.from, rod.to] {
            assert!(end[1] + rod.r <= 8601 && end[0] + rod.r <= made.width_mm * 10 + 10);
        }
    }
    assert_eq!(codes(piece()), [""; 0]);
    assert_eq!(codes(foils("Zoë!", FoilStand::Hanging)), ["foil_unknown"]);
    assert_eq!(codes(foils("  ", FoilStand::Hanging)), ["no_text"]);
    assert_eq!(codes(foils("3", FoilStand::InGarland)), ["no_garland"]);
}

/// A `1` of 860 mm: strokes of 31.81 units of 29.383 mm are 934.7 mm of tube of 154.8 mm, and a ball for its ends.
#[test]
fn a_number_filled_with_helium() {
    let made = of(foils("1", FoilStand::Helium));
    assert_eq!(made.helium_ml, 19_534);
    // lifts 20.28 g less 0.5299 m² of film of 28 g/m²: 5.44 g, with half as much again 8.2 g
    assert_eq!(made.weight_g, 10);
    assert_eq!(made.ribbons_mm.len(), 1);
}

#[test]
fn floaters_under_the_ceiling() {
    let mut job = job_of(floaters(Floaters::default()));
    job.venue.ceiling_mm = 3200;
    let counted = count(&job);
    let made = counted.pieces[0].made.as_ref().unwrap();
    assert_eq!(by_colour(made), [("a", 30), ("b", 20)].into());
    assert_eq!(made.helium_ml, 571_015);
    // 50 circles of 0.0613 m² over 20 m²
    assert_eq!(figure(made, "Ceiling covered"), 15);
    assert!(made.balls_drawn.iter().all(|b| b.at[1] == 32_000 - 1397));
    let xs = made.balls_drawn.iter().map(|b| b.at[0]);
    assert!(xs.clone().min() >= Some(0) && xs.max() <= Some(50_000));
    assert_eq!(counted.findings, []);
    // a 5 in round blown to 4.4 in lifts 0.76 g, weighs 0.58 g, and its ribbon 0.3 g
    let small = Floaters {
        size_in: 5,
        blown_dmm: 1118,
        ..Floaters::default()
    };
    assert_eq!(codes(floaters(small.clone())), ["does_not_float"]);
    let bare = Floaters {
        ribbon_mm: 0,
        ..small
    };
    assert_eq!(codes(floaters(bare)), ["floats_barely"]);
    let many = Floaters {
        count: 400,
        ..Floaters::default()
    };
    assert_eq!(codes(floaters(many)), ["floaters_crowded"]);
}

#[test]
fn centrepieces_alike() {
    let made = of(centrepiece(Centrepiece::default()));
    // two pairs to a foot, one of each colour, and a round on top
    assert_eq!(by_colour(&made), [("a", 16), ("b", 16), ("t", 8)].into());
    assert_eq!(made.groups.len(), 1);
    assert_eq!((made.groups[0].count, made.groups[0].balls.len()), (8, 4));
    assert_eq!(made.height_mm, 700);
    let flat = Centrepiece {
        height_mm: 100,
        ..Centrepiece::default()
    };
    assert_eq!(codes(centrepiece(flat)), ["centrepiece_high"]);
}

#[test]
fn accents_are_two_quads_on_half_a_tie() {
    let made = of(loose(Loose::default()));
    assert_eq!(by_colour(&made), [("a", 16), ("b", 16)].into());
    assert_eq!(made.groups.len(), 1);
    assert_eq!(
        (made.groups[0].name.as_str(), made.groups[0].count),
        ("accent", 4)
    );
    let counted = counted(loose(Loose::default()));
    // 16 pairs of 35 s; 8 quads of one join each of 8 s; 4 accents of 40 s
    let work = &counted.work[0];
    assert_eq!(
        (work.pump_s, work.cluster_s, work.accents_s),
        (560.0, 64.0, 160.0)
    );
    let singles = of(loose(Loose {
        form: LooseForm::Single,
        count: 7,
        ..Loose::default()
    }));
    assert_eq!(by_colour(&singles), [("a", 4), ("b", 3)].into());
    assert!(singles.groups.is_empty());
}

/// Two columns to the left and the right of what is two metres wide: each stands where it was said, by its middle; nearer to each other
/// than they are wide is said, and the cure sets them side by side.
#[test]
fn several_alike_stand_so_far_apart() {
    let pair = |apart_mm, count| Piece {
        apart_mm,
        classic: Classic {
            count,
            ..classic(Classic::default()).classic
        },
        ..classic(Classic::default())
    };
    let middles = |piece: Piece| {
        let job = job_of(piece);
        let scene = crate::scene::scene(&job, &crate::plan(&job, None));
        // the pole of each column
        let poles = scene.tubes.iter().filter(|t| t.from[0] == t.to[0]);
        let mut at: Vec<i64> = poles.map(|t| t.from[0]).collect();
        at.dedup();
        at
    };
    let far = middles(pair(3000, 3));
    assert_eq!([far[1] - far[0], far[2] - far[1]], [30_000, 30_000]);
    let wide = of(pair(0, 2)).width_mm;
    let beside = middles(pair(0, 2));
    assert!(beside[1] - beside[0] > wide * 10);
    let said = |piece| codes(piece).iter().any(|c| c == "in_each_other");
    assert!(said(pair(wide - 1, 2)) && !said(pair(wide, 2)));
    assert!(!said(pair(wide - 1, 1)) && !said(pair(0, 2)));
    let frames = |apart_mm| Piece {
        apart_mm,
        kind: PieceKind::Frame,
        frame: job::piece::Frame {
            count: 2,
            ..job::piece::Frame::default()
        },
        ..Piece::default()
    };
    assert!(said(frames(1999)) && !said(frames(2000)));
    let job = job_of(frames(3500));
    let scene = crate::scene::scene(&job, &crate::plan(&job, None));
    // two metres wide, their middles three and a half apart, and the plate of a foot beyond each side
    assert_eq!(scene.high[0] - scene.low[0], 55_000 + 2 * 1500);
    let steps = crate::plan(&job_of(pair(3000, 2)), None).steps;
    let stand = steps.iter().find(|s| s.id == "stand.p").unwrap();
    assert_eq!(stand.how, "3000 mm from one to the next, middle to middle.");
}

/// A round of foil as wide as one of 18 in before it is filled: bought as that, drawn as a round as high as it says, beside letters.
#[test]
fn a_round_of_foil() {
    let round = |text, stand| Piece {
        foils: Foils {
            height_mm: 349,
            ..foils(text, stand).foils
        },
        ..foils(text, stand)
    };
    let made = of(round("○1●", FoilStand::Standing));
    let counted: Vec<_> = made
        .foils
        .iter()
        .map(|f| (f.text.as_str(), f.height_mm, f.count))
        .collect();
    assert_eq!(counted, [("", 457, 2), ("1", 349, 1)]);
    assert_eq!(made.balls_drawn.len(), 2);
    for ball in &made.balls_drawn {
        assert_eq!((ball.r, ball.at[1]), (1745, 1745));
        assert!(ball.at[0] >= 1745 && ball.at[0] + 1745 <= made.width_mm * 10 + 10);
    }
    // 14.6 L of helium, as a bouquet's round of 18 in takes
    let floats = of(round("●", FoilStand::Helium));
    assert!(
        (floats.helium_ml - 14_557).abs() < 100,
        "{}",
        floats.helium_ml
    );
}

/// Foils in a garland beyond its end are said, and the cure cures.
#[test]
fn foils_past_the_end_of_their_garland() {
    let fixed = |along_mm| {
        let mut piece = foils("3", FoilStand::InGarland);
        (piece.on, piece.foils.along_mm) = ("g".into(), along_mm);
        let mut job = job_of(piece);
        job.pieces.insert("g".into(), Piece::default());
        let found = count(&job).findings;
        let past = found.into_iter().find(|f| f.code == "foil_past_end");
        past.map(|f| f.fixes.len())
    };
    // a straight garland of three metres
    assert_eq!([fixed(0), fixed(3000), fixed(3001)], [None, None, Some(1)]);
}

/// A heart is a pillow, not a tube bent to its outline: one that stands 34.9 cm high, as an 18 in round does, shows about two thirds to four
/// fifths of what the round's circle around it shows and so holds half to three quarters of the 13.4 L of that round.
#[test]
fn a_heart_is_a_pillow() {
    let one = |text: &str, height_mm| {
        let letter = text.chars().next().unwrap();
        super::foils::filled(letter, height_mm).0
    };
    let (heart, round) = (one("♥", 349), one("●", 349));
    assert!((0.5..0.8).contains(&(heart / round)), "{heart} {round}");
}

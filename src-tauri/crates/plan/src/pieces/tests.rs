//! Jobs with all kinds of pieces: sums over all lists, findings, absurd numbers.

use super::*;
use job::piece::{Arrangement, Chain, Frame, Garland, Odd, Shade, Shape, Size};
use job::stock::Colour;
use job::{Edit, Severity};
use proptest::prelude::*;

/// A garland of two sizes, three colours (the last one double-stuffed), and a chain.
fn job() -> Job {
    let mut job = Job::default();
    for (id, name) in [("c0", "Blush"), ("c1", "Sand"), ("c2", "Ivory"), ("c3", "")] {
        let colour = Colour {
            name: name.into(),
            ..Colour::default()
        };
        job.colours.insert(id.into(), colour);
    }
    let mut garland = Garland {
        length_mm: 4000,
        quads_pct: 60,
        sixes_pct: 30,
        eights_pct: 10,
        ..Garland::default()
    };
    for (id, size_in, share_pct, from_dmm, to_dmm) in [
        ("s0", 11, 80, 1524, 2540),
        ("s1", 5, 10, 1118, 1118),
        ("s2", 24, 10, 5600, 5600),
    ] {
        let size = Size {
            size_in,
            share_pct,
            from_dmm,
            to_dmm,
            ..Size::default()
        };
        garland.mix.insert(id.into(), size);
    }
    garland.palette = shades(&[("c0", "", 50), ("c1", "", 30), ("c2", "c0", 20)]);
    let chain = Chain {
        count: 3,
        palette: shades(&[("c1", "", 1), ("c0", "", 1)]),
        ..Chain::default()
    };
    for (id, piece) in [
        (
            "p1",
            Piece {
                name: "Head table".into(),
                garland,
                ..Piece::default()
            },
        ),
        (
            "p2",
            Piece {
                name: "Ceiling".into(),
                kind: PieceKind::Chain,
                chain,
                ..Piece::default()
            },
        ),
    ] {
        job.pieces.insert(id.into(), piece);
    }
    job
}

fn shades(list: &[(&str, &str, i64)]) -> job::Ids<Shade> {
    let shade = |(i, (colour, inside, share_pct)): (usize, &(&str, &str, i64))| {
        let shade = Shade {
            colour: (*colour).into(),
            inside: (*inside).into(),
            share_pct: *share_pct,
            ..Shade::default()
        };
        (format!("e{i}"), shade)
    };
    list.iter().enumerate().map(shade).collect()
}

#[test]
fn letters_go_on_after_z() {
    assert_eq!(
        [0, 1, 17, 18, 19, 341, 342].map(letter),
        ["A", "D", "Z", "AA", "AD", "ZZ", "AAA"]
    );
}

#[test]
fn sums_agree_over_all_lists() {
    let counted = count(&job());
    let garland = counted.pieces[0].garland.as_ref().unwrap();
    let chain = counted.pieces[1].chain.as_ref().unwrap();
    let lines = |piece: &str| -> i64 {
        let lines = counted.sizing.iter().filter(|l| l.piece == piece);
        lines.map(|l| l.count).sum()
    };
    assert_eq!(lines("p1"), garland.balls);
    assert_eq!(lines("p2"), chain.links * 3);
    let doubled: i64 = garland
        .counts
        .iter()
        .filter(|c| !c.inside.is_empty())
        .map(|c| c.balls)
        .sum();
    assert!(doubled > 0);
    assert_eq!(counted.pieces[0].balloons, garland.balls + doubled);
    let by_colour: i64 = counted.colours.iter().map(|c| c.balloons).sum();
    let by_piece: i64 = counted.pieces.iter().map(|p| p.balloons).sum();
    assert_eq!(by_colour, by_piece);
    assert_eq!(
        counted
            .colours
            .iter()
            .map(|c| c.name.as_str())
            .collect::<Vec<_>>(),
        ["Blush", "Sand", "Ivory"]
    );
    // small ones by hand pump, the others by inflator, one or the other
    for line in &counted.sizing {
        assert_eq!(line.strokes.is_some(), line.size_in <= 6, "{line:?}");
        assert_eq!(line.inflator_ds.is_some(), line.size_in > 6, "{line:?}");
    }
}

#[test]
fn an_odd_colour_says_its_numbers_and_the_other_ways() {
    for odd in [Odd::AddOne, Odd::DropOne, Odd::MixedPair] {
        let mut job = job();
        let garland = &mut job.pieces.get_mut("p1").unwrap().garland;
        garland.odd = odd;
        // 19 + 2 quads of one size: 84 balls by 25, 35 and 40 are 21, 29 and 34 (21, 29.4, 33.6)
        // (with one dropped of each, 19 quads and a six: 17 of them and the six still reach 2991 mm)
        garland.length_mm = 2990;
        (garland.quads_pct, garland.sixes_pct, garland.eights_pct) = (100, 0, 0);
        garland.mix.clear();
        let size = Size {
            from_dmm: 2032,
            to_dmm: 2032,
            ..Size::default()
        };
        garland.mix.insert("s".into(), size);
        garland.palette = shades(&[("c0", "", 25), ("c1", "c0", 35), ("c3", "", 40)]);
        let mut counted = count(&job);
        // 43 or 41 pairs are no quads: the six is said as well
        let six = counted.findings.iter().any(|f| f.code == "other_cluster");
        assert_eq!(six, odd != Odd::MixedPair);
        counted.findings.retain(|f| f.code != "other_cluster");
        let said: Vec<&str> = counted
            .findings
            .iter()
            .map(|f| f.message.as_str())
            .collect();
        let want = match odd {
            Odd::DropOne => [
                "Head table: Blush comes to 21, an odd number. One is dropped: 20.",
                "Head table: Sand over Blush comes to 29, an odd number. One is dropped: 28.",
            ],
            Odd::MixedPair => [
                "Head table: Blush comes to 21, an odd number. The odd one is tied in a pair with Sand over Blush.",
                "Head table: Sand over Blush comes to 29, an odd number. The odd one is tied in a pair with Blush.",
            ],
            _ => [
                "Head table: Blush comes to 21, an odd number. One more is added: 22.",
                "Head table: Sand over Blush comes to 29, an odd number. One more is added: 30.",
            ],
        };
        assert_eq!(said, want);
        let garland = counted.pieces[0].garland.as_ref().unwrap();
        let balls: Vec<i64> = garland.counts.iter().map(|c| c.balls).collect();
        let (want, balloons) = match odd {
            Odd::DropOne => ([20, 28, 34], 82 + 28),
            Odd::MixedPair => ([21, 29, 34], 84 + 29),
            _ => ([22, 30, 34], 86 + 30),
        };
        assert_eq!(balls, want);
        assert_eq!(counted.pieces[0].balloons, balloons);
        for finding in &counted.findings {
            assert_eq!(finding.code, "odd_colour");
            assert_eq!(finding.path, ["pieces", "p1", "garland", "odd"]);
            let others: Vec<&Edit> = finding.fixes.iter().flat_map(|f| &f.edits).collect();
            assert_eq!(others.len(), 2);
            for edit in others {
                let Edit::Set { path, value, .. } = edit else {
                    panic!("{edit:?}")
                };
                assert_eq!(*path, finding.path);
                let set: Odd = serde_json::from_value(value.clone()).unwrap();
                assert!(set != odd && set != Odd::Newer);
            }
        }
    }
}

#[test]
fn what_cannot_be_counted_is_a_finding() {
    type Change = fn(&mut Job);
    let cases: [(&str, &[&str], Change); 14] = [
        ("no_mix", &["p1", "garland", "mix"], |j| {
            first(j).mix.clear()
        }),
        ("no_mix", &["p1", "garland", "mix"], |j| {
            first(j).mix.values_mut().for_each(|s| s.gone = true)
        }),
        ("no_palette", &["p1", "garland", "palette"], |j| {
            first(j).palette.values_mut().for_each(|s| s.share_pct = -1)
        }),
        ("no_clusters", &["p1", "garland", "quads_pct"], |j| {
            let g = first(j);
            (g.quads_pct, g.sixes_pct, g.eights_pct) = (0, 0, 0);
        }),
        ("no_path", &["p1", "garland", "length_mm"], |j| {
            first(j).length_mm = 0
        }),
        ("no_path", &["p1", "garland", "span_mm"], |j| {
            let g = first(j);
            (g.shape, g.span_mm, g.rise_mm) = (Shape::Arch, -5, 0);
        }),
        ("too_large", &["p1", "garland", "length_mm"], |j| {
            first(j).length_mm = 10_000_000
        }),
        ("too_large", &["p1", "garland", "span_mm"], |j| {
            let g = first(j);
            (g.shape, g.rise_mm) = (Shape::Swag, i64::MAX);
        }),
        ("newer_shape", &["p1", "garland", "shape"], |j| {
            first(j).shape = Shape::Newer
        }),
        ("newer_piece", &["p1", "kind"], |j| {
            j.pieces.get_mut("p1").unwrap().kind = PieceKind::Newer
        }),
        ("no_palette", &["p2", "chain", "palette"], |j| {
            j.pieces.get_mut("p2").unwrap().chain.palette.clear()
        }),
        ("no_path", &["p2", "chain", "span_mm"], |j| {
            j.pieces.get_mut("p2").unwrap().chain.pitch_mm = 0
        }),
        ("too_large", &["p2", "chain", "span_mm"], |j| {
            j.pieces.get_mut("p2").unwrap().chain.span_mm = 1_000_000_000
        }),
        // a thousand million links
        ("too_large", &["p2", "chain", "span_mm"], |j| {
            j.pieces.get_mut("p2").unwrap().chain.count = 50_000_000
        }),
    ];
    for (code, path, change) in cases {
        let mut job = job();
        change(&mut job);
        let counted = count(&job);
        assert_eq!(counted.pieces.len(), 2);
        let finding = counted.findings.iter().find(|f| f.code == code);
        let finding = finding.unwrap_or_else(|| panic!("{code}: {:?}", counted.findings));
        assert_eq!(finding.path[1..], *path);
        let plan = counted.pieces.iter().find(|p| p.piece == path[0]).unwrap();
        assert_eq!((&plan.garland, &plan.chain), (&None, &None));
        let sized = counted.sizing.iter().any(|l| l.piece == path[0]);
        assert!(!sized && plan.balloons == 0);
        let severity = if code.starts_with("newer") {
            Severity::Care
        } else {
            Severity::Stop
        };
        assert_eq!(finding.severity, severity);
    }
}

fn first(job: &mut Job) -> &mut Garland {
    &mut job.pieces.get_mut("p1").unwrap().garland
}

#[test]
fn words_of_a_newer_version_are_said() {
    let mut job = job();
    first(&mut job).arrangement = Arrangement::Newer;
    first(&mut job).odd = Odd::Newer;
    let counted = count(&job);
    let codes: Vec<&str> = counted.findings.iter().map(|f| f.code.as_str()).collect();
    assert_eq!(codes[..2], ["newer_arrangement", "newer_odd"]);
    assert!(counted.pieces[0].garland.is_some());
}

#[test]
fn frames_are_as_they_are() {
    let mut job = Job::default();
    let frame = Frame {
        count: 2,
        ballast_g: 30_000,
        ..Frame::default()
    };
    let piece = Piece {
        kind: PieceKind::Frame,
        frame,
        ..Piece::default()
    };
    job.pieces.insert("f".into(), piece);
    let counted = count(&job);
    let frame = counted.pieces[0].frame.as_ref().unwrap();
    assert_eq!((frame.count, frame.ballast_g), (2, 60_000));
}

fn any_number() -> impl Strategy<Value = i64> {
    prop_oneof![
        any::<i64>(),
        prop::sample::select(vec![i64::MIN, -1, 0, 1, 2, 100, 1 << 31, 1 << 53, i64::MAX]),
        -10i64..20_000,
    ]
}

proptest! {
    // some of these garlands have 200,000 balls
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever numbers stand in a job: an answer or a finding, never a panic, and the same twice.
    #[test]
    fn absurd_jobs_are_answered(n in prop::collection::vec(any_number(), 32), word in 0usize..36) {
        let mut job = job();
        let at = |i: usize| n[i % n.len()];
        job.rules.fill_pct = at(0);
        job.rules.length_mm = at(1);
        job.rates.pair_s = at(2);
        job.rates.flow_l_min = at(3);
        job.rates.stroke_ml = at(4);
        job.rates.double_s = at(5);
        job.rates.join_s = at(6);
        job.rates.string_s = at(7);
        job.rates.round24_s = at(8);
        job.rates.small_pair_s = at(9);
        job.rates.link_pair_s = at(10);
        job.rates.link_tie_s = at(11);
        let g = first(&mut job);
        g.shape = [Shape::Straight, Shape::Arch, Shape::Swag, Shape::Newer][word % 4];
        g.odd = [Odd::AddOne, Odd::DropOne, Odd::MixedPair][word / 4 % 3];
        g.arrangement = [Arrangement::Blocks, Arrangement::Blended, Arrangement::Newer][word / 12];
        (g.length_mm, g.span_mm, g.rise_mm, g.extras_pct) = (at(12), at(13), at(14), at(15));
        (g.quads_pct, g.sixes_pct, g.eights_pct) = (at(16), at(17), at(18));
        for (i, size) in g.mix.values_mut().enumerate() {
            (size.size_in, size.share_pct, size.from_dmm, size.to_dmm) = (at(19 + i), at(20 + i), at(21 + i), at(22 + i));
        }
        for (i, shade) in g.palette.values_mut().enumerate() {
            shade.share_pct = at(25 + i);
        }
        let c = &mut job.pieces.get_mut("p2").unwrap().chain;
        (c.count, c.span_mm, c.sag_mm, c.size_in, c.blown_dmm, c.pitch_mm) = (at(28), at(29), at(30), at(31), at(0), at(1));
        for shade in c.palette.values_mut() {
            shade.share_pct = at(2);
        }
        let counted = count(&job);
        prop_assert_eq!(&counted, &count(&job));
        for plan in &counted.pieces {
            prop_assert!(plan.balloons >= 0);
            let said = counted.findings.iter().any(|f| f.path[1] == plan.piece);
            prop_assert!(said || plan.garland.is_some() || plan.chain.is_some());
        }
        for work in &counted.work {
            for seconds in [work.inflate_s, work.pump_s, work.cluster_s, work.string_s, work.links_s, work.tie_s] {
                prop_assert!(seconds.is_finite() && seconds >= 0.0);
            }
        }
        let _ = crate::stock_length::from_shelf(&job, "p1");
    }
}

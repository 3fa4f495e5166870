//! The cluster cards: each kind of cluster drawn, with its pairs and how many to tie.

use plan::types::{Ball, Blown, Card, CardPair, GarlandPlan};

use crate::doc::{Doc, Pen};
use crate::draw::{Shown, cluster};
use crate::parts::stacked;
use crate::say::{count, inches};
use crate::source::Source;
use crate::style::{BODY, FIGURE, LABEL, NOTE};
use crate::table::{Cell, Table, fixed, share};

/// Side of a drawing in mm.
const SIDE: f64 = 32.0;
/// Space round the largest cluster of a garland in its drawing, as a share of it.
const SCALE_ROOM: f64 = 0.98;

/// No cluster is drawn smaller than this share of its place.
const SCALE_SMALL: f64 = 0.62;

/// Says what a range leaves open.
const RANGES: &str = "Where a size is a range, the clusters of a card need not be the same: take the balloons as they come, so that small \
                      and large ones mix. How many there are of each is on the sizing sheet.";

/// Writes the cards, garland by garland, two to a row of the page. The figures in a balloon are what it is blown to, in inches.
pub fn write(doc: &mut Doc, source: &Source<'_>) {
    let garlands: Vec<(&str, &GarlandPlan)> = source
        .plan
        .pieces
        .iter()
        .filter_map(|p| Some((p.piece.as_str(), p.garland.as_ref()?)))
        .filter(|(_, g)| !g.cards.is_empty())
        .collect();
    if garlands.is_empty() {
        return;
    }
    doc.begin(source.crew_head("Cluster cards"));
    let wide = doc.width();
    let pairs = garlands
        .iter()
        .flat_map(|(_, g)| &g.cards)
        .flat_map(|c| &c.pairs);
    if pairs.flat_map(|p| &p.blown).any(|r| r.from_dmm < r.to_dmm) {
        let lines = doc.pen.lines(RANGES, BODY, wide);
        doc.place(&[stacked(&lines, wide)]);
    }
    let table = Table::new(wide, &[fixed(SIDE), share(1.0), fixed(SIDE), share(1.0)]);
    for (piece, garland) in garlands {
        let code = source.code(&format!("cluster.{piece}"));
        let name = format!("{code}  {}", source.piece_name(piece));
        let scale = scale(garland);
        let rows = garland
            .cards
            .chunks(2)
            .map(|two| {
                two.iter()
                    .flat_map(|card| cells(&mut doc.pen, source, card, scale))
                    .collect()
            })
            .collect();
        let block = table.block(&mut doc.pen, name.trim(), &[], rows);
        doc.place(&[block]);
    }
}

/// Paper mm for each mm of balloon, the same for all cards of a garland, so that sizes can be compared.
fn scale(garland: &GarlandPlan) -> f64 {
    let widest = garland.cards.iter().map(width).fold(1.0, f64::max);
    SIDE * SCALE_ROOM / widest
}

/// About how wide a cluster is, mm: balloons in a ring of n touch where their middles stand on a circle.
fn width(card: &Card) -> f64 {
    let sum: i64 = balls(card).map(|b| b.0.blown_dmm.clamp(0, 20_000)).sum();
    let n = f64::from(u32::try_from(balls(card).count().max(2)).unwrap_or(2));
    let mean = sum as f64 / 10.0 / n;
    mean / libm::sin(core::f64::consts::PI / n) + mean
}

/// The balls of a card and what they are blown to, every pair as often as it comes, alternating so that alike pairs lie across.
fn balls(card: &Card) -> impl Iterator<Item = (&Ball, &Blown)> {
    let turns = card.pairs.iter().map(|p| p.times.clamp(0, 8)).max();
    (0..turns.unwrap_or(0)).flat_map(move |turn| {
        card.pairs
            .iter()
            .filter(move |p| p.times > turn)
            .flat_map(|p| p.balls.iter().zip(&p.blown))
    })
}

/// The drawing of a card and its words.
fn cells(pen: &mut Pen, source: &Source<'_>, card: &Card, scale: f64) -> [Cell; 2] {
    // pairs lie across the knot: first balls round one half, second balls round the other
    let all: Vec<Shown> = balls(card)
        .map(|(ball, range)| Shown {
            label: figures(range),
            ..source.palette.shown(ball)
        })
        .collect();
    let (firsts, seconds): (Vec<_>, Vec<_>) =
        all.into_iter().enumerate().partition(|(i, _)| i % 2 == 0);
    let ring: Vec<Shown> = firsts.into_iter().chain(seconds).map(|(_, b)| b).collect();
    // small clusters are drawn larger than true, so that their figures read
    let scale = scale.max(SIDE * SCALE_SMALL / width(card).max(1.0));
    let mut drawing = cluster(pen, &ring, SIDE, scale);
    drawing.words = format!("{} from the front, sizes in inches", card.code);
    let mut runs = vec![
        pen.run(&card.code, FIGURE),
        pen.run(&format!("   {}", kind(card.balls)), LABEL),
        pen.run(&format!("\n{}", to_tie(card)), BODY.bold()),
    ];
    for pair in &card.pairs {
        runs.push(pen.run(&format!("\n{} ", pairs(pair.times)), BODY.bold()));
        for (n, (name, range)) in named(source, pair).into_iter().enumerate() {
            let with = if n > 0 { " with " } else { "" };
            runs.push(pen.run(&format!("{with}{name}"), BODY));
            runs.push(pen.run(&format!("  {}", span(&range)), NOTE));
        }
    }
    [Cell::Drawing(drawing), Cell::Text(runs)]
}

/// How many to tie, and how many of them are kept back.
fn to_tie(card: &Card) -> String {
    let all = count(card.on_line.saturating_add(card.extras));
    match (card.on_line, card.extras) {
        (_, 0) => format!("{all} to tie"),
        (0, _) => format!("{all} to tie, kept back"),
        (_, n) => format!("{all} to tie, {} of them kept back", count(n)),
    }
}

fn kind(balls: i64) -> String {
    match balls {
        4 => "quad".to_string(),
        6 => "six".to_string(),
        8 => "eight".to_string(),
        n => format!("{} balloons", count(n)),
    }
}

fn pairs(times: i64) -> String {
    if times == 1 {
        "1 pair".to_string()
    } else {
        format!("{} pairs", count(times))
    }
}

/// `Old rose 11 in` and what it is blown to, or both where the two differ: of one colour the second is `5 in`.
fn named(source: &Source<'_>, pair: &CardPair) -> Vec<(String, Blown)> {
    let mut named: Vec<(String, Blown)> = Vec::new();
    let mut before: Option<&Ball> = None;
    for (ball, range) in pair.balls.iter().zip(&pair.blown) {
        let like = before.is_some_and(|b| (&b.colour, &b.inside) == (&ball.colour, &ball.inside));
        if like && before.is_some_and(|b| b.size_in == ball.size_in) {
            continue;
        }
        let size = format!("{}\u{a0}in", ball.size_in);
        let colour = source.palette.ball_name(&ball.colour, &ball.inside);
        let name = if like {
            size
        } else {
            format!("{colour} {size}")
        };
        named.push((name, range.clone()));
        before = Some(ball);
    }
    named
}

/// `9`, or `6–10` of a range.
fn figures(range: &Blown) -> String {
    let mut ends = vec![inches(range.from_dmm), inches(range.to_dmm)];
    ends.dedup();
    ends.join("–")
}

/// `blown 6 to 10 in`: the sizing sheet has the same in cm.
fn span(range: &Blown) -> String {
    if range.from_dmm == range.to_dmm {
        return format!("blown\u{a0}{}\u{a0}in", inches(range.to_dmm));
    }
    format!(
        "blown\u{a0}{}\u{a0}to\u{a0}{}\u{a0}in",
        inches(range.from_dmm),
        inches(range.to_dmm)
    )
}

/// A small drawing of a card's first cluster, for the stringing order.
pub fn thumbnail(pen: &mut Pen, source: &Source<'_>, card: &Card, side: f64) -> Cell {
    let ring: Vec<Shown> = balls(card)
        .map(|(ball, _)| Shown {
            label: String::new(),
            ..source.palette.shown(ball)
        })
        .collect();
    Cell::Drawing(cluster(pen, &ring, side, 1.0))
}

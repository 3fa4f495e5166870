//! The cluster cards: each kind of cluster drawn, with its pairs and how many to tie.

use plan::types::{Ball, Card, CardPair, GarlandPlan};

use crate::doc::{Doc, Pen};
use crate::draw::{Shown, cluster};
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

/// Writes the cards, garland by garland, two to a row of the page. The figure in a balloon is the size it is blown to, in
/// inches.
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
    let sum: i64 = balls(card).map(|b| b.blown_dmm.clamp(0, 20_000)).sum();
    let n = f64::from(u32::try_from(balls(card).count().max(2)).unwrap_or(2));
    let mean = sum as f64 / 10.0 / n;
    mean / libm::sin(core::f64::consts::PI / n) + mean
}

/// The balls of a card, every pair as often as it comes, alternating so that alike pairs lie across.
fn balls(card: &Card) -> impl Iterator<Item = &Ball> {
    let turns = card.pairs.iter().map(|p| p.times.clamp(0, 8)).max();
    (0..turns.unwrap_or(0)).flat_map(move |turn| {
        card.pairs
            .iter()
            .filter(move |p| p.times > turn)
            .flat_map(|p| &p.balls)
    })
}

/// The drawing of a card and its words.
fn cells(pen: &mut Pen, source: &Source<'_>, card: &Card, scale: f64) -> [Cell; 2] {
    // pairs lie across the knot: first balls round one half, second balls round the other
    let all: Vec<Shown> = balls(card).map(|b| source.palette.shown(b)).collect();
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
        runs.push(pen.run(&pair_words(source, pair), BODY));
        runs.push(pen.run(&format!("  {}", span(pair)), NOTE));
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

/// `Old rose 11 in`, or both where the two differ.
fn pair_words(source: &Source<'_>, pair: &CardPair) -> String {
    let mut words: Vec<String> = pair
        .balls
        .iter()
        .map(|b| {
            let name = source.palette.ball_name(&b.colour, &b.inside);
            format!("{name} {}\u{a0}in", b.size_in)
        })
        .collect();
    words.dedup();
    words.join(" with ")
}

/// `blown 6 to 10 in`: the sizing sheet has the same in cm.
fn span(pair: &CardPair) -> String {
    if pair.from_dmm == pair.to_dmm {
        return format!("blown\u{a0}{}\u{a0}in", inches(pair.to_dmm));
    }
    format!(
        "blown\u{a0}{}\u{a0}to\u{a0}{}\u{a0}in",
        inches(pair.from_dmm),
        inches(pair.to_dmm)
    )
}

/// A small drawing of a card's first cluster, for the stringing order.
pub fn thumbnail(pen: &mut Pen, source: &Source<'_>, card: &Card, side: f64) -> Cell {
    let ring: Vec<Shown> = balls(card)
        .map(|b| Shown {
            label: String::new(),
            ..source.palette.shown(b)
        })
        .collect();
    Cell::Drawing(cluster(pen, &ring, side, 1.0))
}

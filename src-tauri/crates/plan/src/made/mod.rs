//! Pieces that are counted from their measures alone: columns, walls, bouquets, foils, floaters, centrepieces, accents.

mod bouquet;
mod centrepiece;
mod classic;
mod findings;
mod floaters;
mod foils;
pub mod glyphs;
pub mod helium;
mod loose;
mod wall;

use job::list::{Ids, live};
use job::piece::{PieceKind, Shade};
use job::stock::{ItemKind, Rates};

use crate::count_findings::Named;
use crate::inflate::{by_hand, millilitres, nearest, nozzle_seconds, pair_seconds, strokes, whole};
use crate::types::{
    Ball, BallCount, DrawnBall, DrawnRod, FoilCount, Group, Made, SizingLine, Worth,
};
use crate::work::Work;

pub use findings::NoMade;

/// Most balloons of one piece, all alike together: more is a slip of the keyboard.
const MOST_BALLS: i64 = 200_000;
/// Most balls of one piece that are drawn: beyond, the picture shows the first of them.
const MOST_DRAWN: usize = 20_000;
/// Longest measure of a piece, mm: one kilometre.
const MOST_MM: i64 = 1_000_000;
/// Largest diameter, tenths of a millimetre: up to 5 m.
const MOST_DMM: i64 = 50_000;

/// A piece as it is made.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Making {
    /// What the plan says of it.
    pub made: Made,
    /// Latex balls that are blown alike, in the order in which they were asked for.
    pub blown: Vec<Blown>,
    /// Working time in the studio and, for floaters, in the room.
    pub work: Work,
}

/// So many balls blown alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Blown {
    /// Colour, size and diameter.
    pub ball: Ball,
    /// How many.
    pub balls: i64,
    /// Filled with helium.
    pub helium: bool,
}

/// Counts a piece of one of these kinds; absent for the kinds that are counted elsewhere.
#[must_use]
pub fn make(named: Named<'_>) -> Option<Result<Making, NoMade>> {
    let (job, piece) = (named.job, named.piece);
    let rates = &job.rates;
    let making = match piece.kind {
        PieceKind::Classic => classic::make(&piece.classic, rates),
        PieceKind::Wall => wall::make(&piece.wall),
        PieceKind::Bouquet => bouquet::make(&piece.bouquet, rates),
        PieceKind::Foils => foils::make(&piece.foils, rates),
        PieceKind::Floaters => floaters::make(&piece.floaters, job.venue.ceiling_mm, rates),
        PieceKind::Centrepiece => centrepiece::make(&piece.centrepiece, rates),
        PieceKind::Loose => loose::make(&piece.loose, rates),
        PieceKind::Garland | PieceKind::Chain | PieceKind::Frame | PieceKind::Newer => return None,
    };
    Some(making.map(|making| finished(making, named.id, rates)))
}

/// The same with its sums and its studio work.
fn finished(mut making: Making, id: &str, rates: &Rates) -> Making {
    let mut balls: Vec<BallCount> = Vec::new();
    for b in &making.blown {
        let alike = |c: &&mut BallCount| {
            c.colour == b.ball.colour && c.inside == b.ball.inside && c.size_in == b.ball.size_in
        };
        match balls.iter_mut().find(alike) {
            Some(known) => known.balls += b.balls,
            None => balls.push(BallCount {
                colour: b.ball.colour.clone(),
                inside: b.ball.inside.clone(),
                size_in: b.ball.size_in,
                balls: b.balls,
            }),
        }
    }
    making.made.balls = balls;
    making.made.balls_drawn.truncate(MOST_DRAWN);
    making.made.rods_drawn.truncate(MOST_DRAWN);
    making.work.piece = id.into();
    for b in making.blown.iter().filter(|b| !b.helium) {
        let two = [b.ball.size_in; 2];
        let pair = pair_seconds(two, [b.ball.blown_dmm; 2], rates);
        let mut seconds = whole(b.balls) / 2.0 * pair;
        if !b.ball.inside.is_empty() {
            seconds += whole(b.balls) * whole(rates.double_s.max(0));
        }
        if by_hand(b.ball.size_in) {
            making.work.pump_s += seconds;
        } else {
            making.work.inflate_s += seconds;
        }
    }
    let joins: i64 = making
        .made
        .groups
        .iter()
        .map(|g| {
            let balls = i64::try_from(g.balls.len()).unwrap_or(0);
            // an accent is two quads: each joins its own two pairs
            let quads = if g.name == loose::ACCENT { 2 } else { 1 };
            g.count * ((balls + 1) / 2 - quads).max(0)
        })
        .sum();
    making.work.cluster_s = whole(joins) * whole(rates.join_s.max(0));
    making
}

impl Making {
    /// So many more balls.
    fn add(&mut self, ball: Ball, balls: i64, helium: bool) {
        if balls <= 0 {
            return;
        }
        let alike = |b: &&mut Blown| b.ball == ball && b.helium == helium;
        match self.blown.iter_mut().find(alike) {
            Some(known) => known.balls += balls,
            None => self.blown.push(Blown {
                ball,
                balls,
                helium,
            }),
        }
    }

    /// A figure worth saying.
    fn say(&mut self, label: &str, value: i64, unit: &str) {
        self.made.figures.push(Worth {
            label: label.into(),
            value,
            unit: unit.into(),
        });
    }

    /// So many of something, by the word for one of them or for several.
    fn say_many(&mut self, [one, several]: [&str; 2], count: i64) {
        self.say(if count == 1 { one } else { several }, count, "");
    }

    /// One more group, tied like another or for the first time.
    fn group(&mut self, name: &str, balls: Vec<Ball>, count: i64) {
        if count <= 0 {
            return;
        }
        let alike = |g: &&mut Group| g.name == name && g.balls == balls;
        match self.made.groups.iter_mut().find(alike) {
            Some(known) => known.count += count,
            None => self.made.groups.push(Group {
                name: name.into(),
                balls,
                count,
            }),
        }
    }
}

/// Balloons of a piece: a double-stuffed ball takes two, a foil is one.
#[must_use]
pub fn balloons(made: &Made) -> i64 {
    let latex: i64 = made
        .balls
        .iter()
        .map(|c| c.balls * if c.inside.is_empty() { 1 } else { 2 })
        .sum();
    latex + foils_of(made)
}

/// Foils of a piece.
#[must_use]
pub fn foils_of(made: &Made) -> i64 {
    made.foils.iter().map(|f| f.count).sum()
}

/// Lines of the sizing sheet; what is filled with helium has neither strokes nor seconds of the inflator.
#[must_use]
pub fn sizing(id: &str, blown: &[Blown], rates: &Rates) -> Vec<SizingLine> {
    blown
        .iter()
        .map(|b| {
            let hand = by_hand(b.ball.size_in);
            SizingLine {
                piece: id.into(),
                colour: b.ball.colour.clone(),
                inside: b.ball.inside.clone(),
                size_in: b.ball.size_in,
                kind: ItemKind::Round,
                blown_dmm: b.ball.blown_dmm,
                count: b.balls,
                volume_ml: millilitres(b.ball.blown_dmm),
                strokes: (hand && !b.helium).then(|| strokes(b.ball.blown_dmm, rates)),
                inflator_ds: (!hand && !b.helium)
                    .then(|| nearest(nozzle_seconds(b.ball.blown_dmm, rates) * 10.0)),
            }
        })
        .collect()
}

/// The colours of a palette that have a share, in order.
fn shades(palette: &Ids<Shade>) -> Result<Vec<&Shade>, NoMade> {
    let shades: Vec<&Shade> = live(palette)
        .into_iter()
        .map(|(_, s)| s)
        .filter(|s| s.share_pct > 0)
        .collect();
    if shades.is_empty() {
        return Err(NoMade::NoPalette);
    }
    Ok(shades)
}

/// Their shares.
fn shares(shades: &[&Shade]) -> Vec<i64> {
    shades.iter().map(|s| s.share_pct).collect()
}

/// A ball of a colour of the palette.
fn ball(shade: &Shade, size_in: i64, blown_dmm: i64) -> Ball {
    Ball {
        colour: shade.colour.clone(),
        inside: shade.inside.clone(),
        size_in,
        blown_dmm,
    }
}

/// A ball of one plain colour.
fn plain(colour: &str, size_in: i64, blown_dmm: i64) -> Ball {
    Ball {
        colour: colour.into(),
        inside: String::new(),
        size_in,
        blown_dmm,
    }
}

/// A diameter that there is, tenths of a millimetre.
fn diameter(blown_dmm: i64, field: &'static str) -> Result<f64, NoMade> {
    match blown_dmm {
        ..=0 => Err(NoMade::NoSize(field)),
        _ if blown_dmm > MOST_DMM => Err(NoMade::TooLarge),
        _ => Ok(whole(blown_dmm)),
    }
}

/// A measure that there is, mm.
fn measure(mm: i64, field: &'static str) -> Result<f64, NoMade> {
    match mm {
        ..=0 => Err(NoMade::NoMeasure(field)),
        _ if mm > MOST_MM => Err(NoMade::TooLarge),
        _ => Ok(whole(mm)),
    }
}

/// So many alike, each of so many balloons, if that is not too many.
fn alike(count: i64, each: i64) -> Result<i64, NoMade> {
    if count < 1 {
        return Err(NoMade::NoCount);
    }
    if each > MOST_BALLS || count > MOST_BALLS / each.max(1) {
        return Err(NoMade::TooLarge);
    }
    Ok(count)
}

/// The kinds of the places of a grid, so many of each, spread so that none bunches: places are taken in the order of the additive
/// recurrence of the plastic number (M. Roberts, "The Unreasonable Effectiveness of Quasirandom Sequences", 2018).
fn scattered(places: &[[i64; 2]], counts: &[i64]) -> Vec<usize> {
    const PLASTIC: f64 = 1.324_717_957_244_746;
    let rank = |[column, row]: [i64; 2]| {
        let along = 0.5 + whole(column) / PLASTIC + whole(row) / (PLASTIC * PLASTIC);
        along - along.floor()
    };
    let mut by_rank: Vec<(f64, usize)> = places
        .iter()
        .enumerate()
        .map(|(i, p)| (rank(*p), i))
        .collect();
    by_rank.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let mut kinds = vec![0; places.len()];
    let mut order = by_rank.into_iter().map(|(_, place)| place);
    for (kind, count) in counts.iter().enumerate() {
        for place in order.by_ref().take(usize::try_from(*count).unwrap_or(0)) {
            kinds[place] = kind;
        }
    }
    kinds
}

/// A ball to be drawn, in tenths of a millimetre.
fn drawn(at: [f64; 3], r: f64, [colour, inside]: [&str; 2]) -> DrawnBall {
    DrawnBall {
        at: at.map(nearest),
        r: nearest(r),
        colour: colour.into(),
        inside: inside.into(),
    }
}

/// The colours of a ball, outside and inside.
fn seen(shade: &Shade) -> [&str; 2] {
    [&shade.colour, &shade.inside]
}

/// A rod to be drawn, in tenths of a millimetre.
fn rod(from: [f64; 3], to: [f64; 3], r: f64, colour: &str) -> DrawnRod {
    DrawnRod {
        from: from.map(nearest),
        to: to.map(nearest),
        r: nearest(r),
        colour: colour.into(),
    }
}

/// Foils of one kind, if there are any.
fn foil(text: &str, colour: &str, height_mm: i64, count: i64) -> FoilCount {
    FoilCount {
        text: text.into(),
        colour: colour.into(),
        height_mm,
        count,
    }
}

#[cfg(test)]
mod sums;
#[cfg(test)]
mod tests;

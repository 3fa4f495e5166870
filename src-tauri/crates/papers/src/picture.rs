//! The picture of a job: its pieces from the front, to one scale, drawn from the plan.

use job::piece::Shape;
use job::stock::Pattern;
use plan::types::{ChainPlan, GarlandPlan, PiecePlan};

use crate::colour::{INK, Rgb};
use crate::doc::Pen;
use crate::draw::round_knot;
use crate::marks::{Align, At, Mark, stack};
use crate::source::Source;
use crate::style::{LABEL, NOTE};
use crate::table::Drawing;

/// The wall and the floor behind the pieces: pale enough for any balloon, and for no ink at all.
const WALL: Rgb = Rgb([0xf4, 0xf1, 0xea]);
const FLOOR: Rgb = Rgb([0xe6, 0xe1, 0xd6]);
/// The frame behind a garland.
const STEEL: Rgb = Rgb([0x6d, 0x6a, 0x63]);
/// Air round the pieces in mm of paper.
const AIR: f64 = 7.0;
/// Height of the names under a row of pieces in mm of paper.
const NAMES: f64 = 7.0;
/// The most balls that are drawn of a job; beyond, every second, third … cluster stands for all.
const MOST_BALLS: usize = 1600;
/// The most pieces under each other, and the most rows of places.
const MOST_UNDER: usize = 3;
const MOST_ROWS: usize = 5;
/// As tall as a room, mm: hanging pieces are not stacked higher.
const ROOM: f64 = 2400.0;
/// How far the balls of a cluster stand off along the line, as a share of the way to the next tie: clusters nestle.
const NESTLE: f64 = 0.30;
/// Turn from cluster to cluster: the golden angle, so that no rows of balloons form.
const TURN: f64 = 2.399_963_229_728_653;
/// Chains alike are drawn so far below each other, mm; four at most.
const CHAIN_STEP: f64 = 260.0;
const MOST_CHAINS: i64 = 4;

/// A disc of the scene: mm of the real thing, y up, depth towards the eye.
struct Disc {
    x: f64,
    y: f64,
    depth: f64,
    radius: f64,
    colour: String,
}

/// A piece ready to be drawn.
struct Figure {
    name: String,
    discs: Vec<Disc>,
    /// Posts and rails of a frame: pairs of points.
    posts: Vec<[(f64, f64); 2]>,
    stands: bool,
    left: f64,
    right: f64,
    low: f64,
    high: f64,
}

/// Pieces that share a place from left to right: one that stands, or some that hang under each other.
struct Place<'a> {
    figures: Vec<&'a Figure>,
}

impl Place<'_> {
    fn width(&self) -> f64 {
        let widths = self.figures.iter().map(|f| f.right - f.left);
        widths.fold(1.0, f64::max)
    }

    /// Of the real things, under each other.
    fn height(&self) -> f64 {
        self.figures.iter().map(|f| f.height()).sum()
    }

    /// Of what does not grow with the scale: the names, and the air between.
    fn fixed(&self, names: f64) -> f64 {
        let count = f64::from(u32::try_from(self.figures.len()).unwrap_or(1));
        count * names + (count - 1.0) * AIR
    }
}

/// Places side by side.
type Row<'a> = Vec<Place<'a>>;

/// The picture. `None` if there is nothing to draw.
pub fn scene(pen: &mut Pen, source: &Source<'_>, width: f64, height: f64) -> Option<Drawing> {
    let total: usize = source.plan.pieces.iter().map(balls_of).sum();
    let stride = total.div_ceil(MOST_BALLS).max(1);
    let figures: Vec<Figure> = source
        .plan
        .pieces
        .iter()
        .filter_map(|p| figure(source, p, stride))
        .collect();
    if figures.is_empty() {
        return None;
    }
    let names = if figures.len() > 1 { NAMES } else { 0.0 };
    let (rows, scale) = best_rows(&figures, width, height, names);
    let lane = height / f64::from(u32::try_from(rows.len().max(1)).unwrap_or(1));
    let mut marks = Vec::new();
    let mut top = 0.0;
    for row in &rows {
        marks.extend(backdrop(top, width, lane));
        let used: f64 = row.iter().map(|p| p.width() * scale).sum();
        let count = f64::from(u32::try_from(row.len()).unwrap_or(1));
        let gap = (width - used) / (count + 1.0);
        let mut x = gap;
        for place in row {
            let wide = place.width() * scale;
            let spot = Spot {
                x,
                top,
                wide,
                gap,
                lane,
                names,
                scale,
            };
            draw_place(&mut marks, pen, source, place, &spot);
            x += wide + gap;
        }
        top += lane;
    }
    if stride > 1 {
        let text = format!("Drawn with one cluster in {stride}.");
        let lines = pen.lines(&text, NOTE, width - 2.0 * AIR);
        marks.extend(stack(&lines, AIR, 1.5, width - 2.0 * AIR, Align::Right));
    }
    Some(Drawing {
        width,
        height,
        marks,
        words: String::new(),
    })
}

/// Where a place comes to stand, in mm of paper.
struct Spot {
    x: f64,
    top: f64,
    wide: f64,
    /// Air to the next place.
    gap: f64,
    /// Height of the row of places.
    lane: f64,
    /// Height of a name; 0 for none.
    names: f64,
    /// Paper mm for each mm.
    scale: f64,
}

/// Draws the pieces of a place: those that stand on the floor, those that hang spread over the height.
fn draw_place(
    marks: &mut Vec<Mark>,
    pen: &mut Pen,
    source: &Source<'_>,
    place: &Place<'_>,
    spot: &Spot,
) {
    let Spot {
        x,
        top,
        wide,
        gap,
        lane,
        names,
        scale,
    } = *spot;
    let stands = place.figures.iter().any(|f| f.stands);
    let tall = place.height() * scale + place.fixed(names);
    let air = (lane - tall) / 2.0;
    let mut y = if stands {
        top + lane - AIR - tall
    } else {
        // a little above the middle, as things hang
        top + (air * 0.8).max(AIR)
    };
    for figure in &place.figures {
        let across = (figure.right - figure.left) * scale;
        let left = x + (wide - across) / 2.0;
        let origin = At::new(left - figure.left * scale, y + figure.high * scale);
        draw(marks, source, figure, origin, scale);
        y += figure.height() * scale;
        if names > 0.0 {
            let most = (wide + gap - 2.0).max(12.0);
            let one = pen.one_line(&figure.name, LABEL, most);
            let start = x + (wide - most) / 2.0;
            marks.extend(stack(&one, start, y + 1.4, most, Align::Middle));
        }
        y += names + AIR;
    }
}

/// Standing pieces have a place of their own; up to `under` hanging ones go under each other, as long as they are no
/// taller together than the tallest that stands, or than a room.
fn places(figures: &[Figure], under: usize) -> Vec<Place<'_>> {
    let standing = figures.iter().filter(|f| f.stands);
    let most = standing.clone().map(Figure::height).fold(ROOM, f64::max);
    let mut places: Vec<Place<'_>> = standing.map(|f| Place { figures: vec![f] }).collect();
    let mut stack: Vec<&Figure> = Vec::new();
    for figure in figures.iter().filter(|f| !f.stands) {
        let tall: f64 = stack.iter().map(|f| f.height()).sum();
        if !stack.is_empty() && (stack.len() >= under || tall + figure.height() > most) {
            places.push(Place {
                figures: std::mem::take(&mut stack),
            });
        }
        stack.push(figure);
    }
    if !stack.is_empty() {
        places.push(Place { figures: stack });
    }
    places
}

fn balls_of(piece: &PiecePlan) -> usize {
    let garland = piece.garland.as_ref();
    let chain = piece.chain.as_ref();
    garland.map_or(0, |g| g.clusters.iter().map(|c| c.balls.len()).sum())
        + chain.map_or(0, |c| c.colours.len())
}

fn backdrop(top: f64, width: f64, lane: f64) -> Vec<Mark> {
    let floor = (lane * 0.14).min(16.0);
    let band = |y: f64, height: f64, fill: Rgb| Mark::Frame {
        at: At::new(0.0, y),
        width,
        height,
        thickness: 0.0,
        ink: INK,
        fill: Some(fill),
    };
    vec![
        band(top, lane - floor, WALL),
        band(top + lane - floor, floor, FLOOR),
    ]
}

/// Rows of places in which the pieces come out as large as can be, and their scale.
fn best_rows(figures: &[Figure], width: f64, height: f64, names: f64) -> (Vec<Row<'_>>, f64) {
    let mut best: (Vec<Row<'_>>, f64) = (Vec::new(), -1.0);
    for under in 1..=MOST_UNDER {
        for rows in 1..=figures.len().min(MOST_ROWS) {
            let places = places(figures, under);
            let per_row = places.len().div_ceil(rows).max(1);
            let mut split: Vec<Row<'_>> = Vec::new();
            for place in places {
                match split.last_mut() {
                    Some(row) if row.len() < per_row => row.push(place),
                    _ => split.push(vec![place]),
                }
            }
            let lane = height / f64::from(u32::try_from(split.len()).unwrap_or(1));
            let scale = scale_of(&split, width, lane, names);
            if scale > best.1 {
                best = (split, scale);
            }
        }
    }
    best
}

/// mm of paper for each mm of the real thing.
fn scale_of(rows: &[Row<'_>], width: f64, lane: f64, names: f64) -> f64 {
    let mut scale = f64::INFINITY;
    for row in rows {
        let wide: f64 = row.iter().map(Place::width).sum();
        let air = AIR * f64::from(u32::try_from(row.len() + 1).unwrap_or(2));
        scale = scale.min((width - air).max(10.0) / wide);
        for place in row {
            let free = lane - 2.0 * AIR - place.fixed(names);
            scale = scale.min(free.max(2.0) / place.height().max(1.0));
        }
    }
    scale
}

fn draw(marks: &mut Vec<Mark>, source: &Source<'_>, figure: &Figure, origin: At, scale: f64) {
    let on = |x: f64, y: f64| origin.by(x * scale, -y * scale);
    for [a, b] in &figure.posts {
        marks.push(Mark::Path {
            points: vec![on(a.0, a.1), on(b.0, b.1)],
            thickness: (35.0 * scale).clamp(0.35, 1.2),
            ink: STEEL,
        });
    }
    for disc in &figure.discs {
        let tone = source.palette.tone(&disc.colour);
        let radius = (disc.radius * scale).max(0.2);
        marks.push(Mark::Balloon {
            at: on(disc.x, disc.y),
            radius,
            colour: tone.rgb,
            // below this the strokes of a pattern run together
            pattern: if radius < 1.2 {
                Pattern::Plain
            } else {
                tone.pattern
            },
        });
    }
}

impl Figure {
    fn height(&self) -> f64 {
        self.high - self.low
    }
}

fn figure(source: &Source<'_>, piece: &PiecePlan, stride: usize) -> Option<Figure> {
    let of_job = source.job.pieces.get(&piece.piece);
    let (discs, mut stands) = match (&piece.garland, &piece.chain) {
        (Some(garland), _) => (
            garland_discs(garland, stride),
            of_job.is_some_and(|p| p.garland.shape == Shape::Arch),
        ),
        (None, Some(chain)) => (chain_discs(chain), false),
        (None, None) => (Vec::new(), true),
    };
    let mut posts = Vec::new();
    let frame_of = |id: &str| {
        let found = source.plan.pieces.iter().find(|p| p.piece == id);
        found.and_then(|p| p.frame.as_ref())
    };
    let on = of_job.map_or("", |p| p.on.as_str());
    if piece.frame.is_some() && source.carries(&piece.piece) {
        return None;
    }
    if let Some(frame) = piece.frame.as_ref().or_else(|| frame_of(on)) {
        let (w, h) = (size(frame.width_mm), size(frame.height_mm));
        // a garland's path begins at its first tip: the frame stands about its middle
        let middle = middle(&discs);
        let (l, r) = (middle - w / 2.0, middle + w / 2.0);
        let foot = (w * 0.12).min(250.0);
        posts = vec![
            [(l - foot, 0.0), (l + foot, 0.0)],
            [(r - foot, 0.0), (r + foot, 0.0)],
        ];
        let arch = piece.garland.as_ref().filter(|_| stands);
        match arch {
            // the frame of an arch follows it
            Some(garland) => posts.extend(garland.path.windows(2).filter_map(|w| match w {
                [a, b] => Some([(size(a[0]), size(a[1])), (size(b[0]), size(b[1]))]),
                _ => None,
            })),
            None => posts.extend([[(l, 0.0), (l, h)], [(l, h), (r, h)], [(r, h), (r, 0.0)]]),
        }
        stands = true;
    }
    let mut out = Figure {
        name: source.piece_name(&piece.piece),
        discs,
        posts,
        stands,
        left: f64::INFINITY,
        right: f64::NEG_INFINITY,
        low: f64::INFINITY,
        high: f64::NEG_INFINITY,
    };
    let discs = out.discs.iter().map(|d| (d.x, d.y, d.radius));
    let ends = out.posts.iter().flatten().map(|p| (p.0, p.1, 0.0));
    for (x, y, r) in discs.chain(ends) {
        out.left = out.left.min(x - r);
        out.right = out.right.max(x + r);
        out.low = out.low.min(y - r);
        out.high = out.high.max(y + r);
    }
    out.left.is_finite().then_some(out)
}

/// Middle of the discs from left to right; 0 if there is none.
fn middle(discs: &[Disc]) -> f64 {
    let low = discs.iter().map(|d| d.x).fold(f64::INFINITY, f64::min);
    let high = discs.iter().map(|d| d.x).fold(f64::NEG_INFINITY, f64::max);
    if low.is_finite() {
        (low + high) / 2.0
    } else {
        0.0
    }
}

/// Lengths of the plan, kept within what a page can show.
fn size(mm: i64) -> f64 {
    mm.clamp(-1_000_000, 1_000_000) as f64
}

/// The balls of a garland. A cluster is a ring across its line, so that from the front its balls stand side by side
/// across the line and before or behind each other.
fn garland_discs(garland: &GarlandPlan, stride: usize) -> Vec<Disc> {
    let path = Path::of(&garland.path);
    let mut discs = Vec::new();
    let mut turn = 0.0;
    let ties = garland.ties_mm.iter().map(|t| size(*t));
    // mean way from tie to tie
    let count = f64::from(u32::try_from(garland.ties_mm.len().max(2) - 1).unwrap_or(1));
    let step = (size(garland.tie_span_mm) / count).abs();
    for (cluster, tie) in garland.clusters.iter().zip(ties).step_by(stride) {
        let radii: Vec<f64> = cluster
            .balls
            .iter()
            .map(|b| b.blown_dmm.clamp(10, 20_000) as f64 / 20.0)
            .collect();
        let (at, along) = path.at(tie);
        let places = round_knot(&radii);
        for ((place, radius), ball) in places.iter().zip(&radii).zip(&cluster.balls) {
            let along_line = NESTLE * step * libm::sin(1.7 * discs.len() as f64);
            let across = place.x * libm::cos(turn) - place.y * libm::sin(turn);
            let depth = place.x * libm::sin(turn) + place.y * libm::cos(turn);
            discs.push(Disc {
                x: at.0 - along.1 * across + along.0 * along_line,
                y: at.1 + along.0 * across + along.1 * along_line,
                depth,
                radius: *radius,
                colour: ball.colour.clone(),
            });
        }
        turn += TURN;
    }
    discs.sort_by(|a, b| a.depth.total_cmp(&b.depth));
    discs
}

fn chain_discs(chain: &ChainPlan) -> Vec<Disc> {
    let path = Path::of(&chain.path);
    let links = chain.colours.len().min(MOST_BALLS);
    let count = f64::from(u32::try_from(links.max(1)).unwrap_or(1));
    let pitch = path.length() / count;
    let mut discs = Vec::new();
    for row in 0..chain.count.clamp(1, MOST_CHAINS) {
        let mut place = pitch / 2.0;
        for colour in chain.colours.iter().take(links) {
            let (at, _) = path.at(place);
            discs.push(Disc {
                x: at.0,
                y: at.1 - row as f64 * CHAIN_STEP,
                depth: 0.0,
                radius: pitch * 0.47,
                colour: colour.clone(),
            });
            place += pitch;
        }
    }
    discs
}

/// A line through points, walked by length.
struct Path {
    points: Vec<(f64, f64)>,
}

impl Path {
    fn of(points: &[[i64; 2]]) -> Path {
        Path {
            points: points.iter().map(|p| (size(p[0]), size(p[1]))).collect(),
        }
    }

    fn length(&self) -> f64 {
        self.points
            .windows(2)
            .map(|w| match w {
                [a, b] => apart(*a, *b),
                _ => 0.0,
            })
            .sum()
    }

    /// The point at a length from the first, and the direction there; beyond an end it goes straight on.
    fn at(&self, length: f64) -> ((f64, f64), (f64, f64)) {
        let mut left = length;
        let last = self.points.len().saturating_sub(2);
        for (index, pair) in self.points.windows(2).enumerate() {
            let [a, b] = pair else { continue };
            let step = apart(*a, *b);
            if step <= 0.0 {
                continue;
            }
            let along = ((b.0 - a.0) / step, (b.1 - a.1) / step);
            if left <= step || index == last {
                let at = (a.0 + along.0 * left, a.1 + along.1 * left);
                return (at, along);
            }
            left -= step;
        }
        ((length, 0.0), (1.0, 0.0))
    }
}

fn apart(a: (f64, f64), b: (f64, f64)) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    libm::sqrt(dx * dx + dy * dy)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_is_walked_by_length_and_beyond_its_ends() {
        let path = Path::of(&[[0, 0], [300, 400], [300, 1400]]);
        assert_eq!(path.length(), 1500.0);
        assert_eq!(path.at(250.0).0, (150.0, 200.0));
        assert_eq!(path.at(1000.0), ((300.0, 900.0), (0.0, 1.0)));
        assert_eq!(path.at(1600.0).0, (300.0, 1500.0));
        assert_eq!(Path::of(&[]).at(70.0).0, (70.0, 0.0));
    }
}

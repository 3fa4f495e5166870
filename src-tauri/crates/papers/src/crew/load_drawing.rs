//! The load drawing: each trip's vehicle from above and from its left side with every parcel where it lies, and the orders of loading
//! and unloading.

use plan::types::{Load, Parcel, Run as Trip, Space, Stow};

use crate::colour::{Rgb, WHITE};
use crate::doc::{Doc, Pen};
use crate::flow::{Block, Row};
use crate::marks::{Align, At, Group, Mark, Tag, height, stack};
use crate::say::{count, numbered};
use crate::source::Source;
use crate::style::{BLACK, BODY, DARK, LABEL, MEDIUM, NOTE, QUANTITY, SECTION, Style, THIN};
use crate::table::{Cell, Table, fixed, share};

/// Both views together are no taller than this, in mm: the lists begin on the same page.
const TALLEST: f64 = 128.0;
/// Least height of a row that is ticked in mm, and where the rows are set close.
const ROW: f64 = 8.0;
const ROW_CLOSE: f64 = 7.2;
/// Between the views, and over the name of each, in mm.
const GAP: f64 = 7.0;
/// Between a parcel's outline and its code, in mm.
const INSET: f64 = 0.8;
/// The smallest type of a code in a drawing, in points.
const SMALLEST: f64 = 6.0;
/// A code that does not fit is tried so much smaller.
const SMALLER: f64 = 0.85;
/// Cases are tinted, so that they are told from bags without colour ink.
const CASE: Rgb = Rgb([0xdd, 0xdd, 0xdd]);
/// Where nothing can stand.
const BARRED: Rgb = Rgb([0x77, 0x77, 0x77]);
/// Thickness of the line that is the door.
const DOOR: f64 = 1.2;

/// A side of the vehicle that is looked at: which axis runs to the right, which one down or up, and which one away.
#[derive(Clone, Copy, PartialEq, Eq)]
enum View {
    Above,
    Left,
}

/// A box as a view shows it, in mm of the vehicle: left, top, width, height, and how near it is.
struct Seen {
    left: f64,
    top: f64,
    wide: f64,
    high: f64,
    near: i64,
}

/// Writes the drawing, one for each trip. Without places there is none.
pub fn write(doc: &mut Doc, source: &Source<'_>) {
    if !source.plan.load.runs.is_empty() {
        doc.closer(|doc, close| set(doc, source, close));
    }
}

fn set(doc: &mut Doc, source: &Source<'_>, close: bool) {
    let load = &source.plan.load;
    let mut begun = false;
    for trip in &load.runs {
        let Some(space) = usize::try_from(trip.space)
            .ok()
            .and_then(|i| load.spaces.get(i))
        else {
            continue;
        };
        if !begun {
            doc.begin(source.crew_head("Load drawing"));
            begun = true;
        }
        write_trip(doc, source, trip, space, close);
    }
}

fn write_trip(doc: &mut Doc, source: &Source<'_>, trip: &Trip, space: &Space, close: bool) {
    let load = &source.plan.load;
    let wide = doc.width();
    let mut inside: Vec<(&Parcel, &Stow)> = load
        .parcels
        .iter()
        .filter_map(|p| Some((p, p.stow.as_ref()?)))
        .filter(|(_, s)| s.trip == trip.trip)
        .collect();
    inside.sort_by_key(|(_, stow)| stow.turn);
    let head = heading(&mut doc.pen, wide, source, load, trip);
    let views = views(&mut doc.pen, wide, &inside, space);
    doc.place(&[Block::of(vec![head, views]).whole().spaced(6.0)]);
    doc.gap(4.0);
    let half = doc.column(2);
    let into = loading(&mut doc.pen, half, source, &inside, close);
    let mut out = inside.clone();
    out.sort_by_key(|(_, stow)| stow.out);
    let out = unloading(&mut doc.pen, half, &out, &trip.set_aside, close);
    doc.place_columns(&[into, out], 2);
}

/// `Trip 1 of 2: Small van` with what it carries.
fn heading(pen: &mut Pen, wide: f64, source: &Source<'_>, load: &Load, trip: &Trip) -> Row {
    let name = if load.runs.len() > 1 {
        format!(
            "Trip {} of {}: {}",
            trip.trip,
            load.runs.len(),
            trip.vehicle
        )
    } else {
        trip.vehicle.clone()
    };
    let mut figures = vec![
        format!("{} bags and cases", trip.parcels),
        format!("{} % of the load space", trip.volume_pct),
    ];
    if trip.mass_g > 0 {
        figures.push(format!("{} without bags", source.say.mass(trip.mass_g)));
    }
    let runs = [
        pen.run(&name, SECTION),
        pen.run(&format!("   {}", figures.join(", ")), LABEL),
    ];
    let lines = pen.set(&runs, wide);
    Row {
        height: height(&lines) + 1.0,
        before: 0.0,
        keep: true,
        groups: vec![Group::new(
            Tag::H2,
            stack(&lines, 0.0, 0.0, wide, Align::Left),
        )],
    }
}

/// Both views, one under the other, at one scale.
fn views(pen: &mut Pen, wide: f64, inside: &[(&Parcel, &Stow)], space: &Space) -> Row {
    let [long, across, high] =
        [space.length_mm, space.width_mm, space.height_mm].map(|mm| mm.max(1) as f64);
    let scale = (wide / long).min((TALLEST - 2.0 * GAP) / (across + high));
    let mut marks = Vec::new();
    let mut top = 0.0;
    for (view, name, tall) in [
        (View::Above, "From above, the door at the right", across),
        (
            View::Left,
            "From the left side, the door at the right",
            high,
        ),
    ] {
        let lines = pen.lines(name, NOTE, wide);
        marks.extend(stack(&lines, 0.0, top, wide, Align::Left));
        top += GAP;
        let drawn = one_view(pen, view, inside, space, scale);
        marks.extend(drawn.iter().map(|m| m.by(0.0, top)));
        top += tall * scale + 2.0;
    }
    let words = format!(
        "the load space from above and from the left side, {} bags and cases drawn where they lie",
        inside.len()
    );
    Row {
        height: top,
        before: 2.0,
        keep: false,
        groups: vec![Group::new(Tag::Figure(words), marks)],
    }
}

fn one_view(
    pen: &mut Pen,
    view: View,
    inside: &[(&Parcel, &Stow)],
    space: &Space,
    scale: f64,
) -> Vec<Mark> {
    let whole = seen(
        view,
        space,
        [0; 3],
        [space.length_mm, space.width_mm, space.height_mm],
    );
    let mut marks = vec![frame(&whole, scale, MEDIUM, BLACK, Some(WHITE))];
    for b in &space.blocked {
        let place = seen(
            view,
            space,
            [b.x_mm, b.y_mm, b.z_mm],
            [b.length_mm, b.width_mm, b.height_mm],
        );
        marks.push(frame(&place, scale, 0.0, BLACK, Some(BARRED)));
    }
    let mut boxes: Vec<(Seen, &Parcel)> = inside
        .iter()
        .map(|(parcel, s)| {
            let at = [s.x_mm, s.y_mm, s.z_mm];
            (seen(view, space, at, [s.dx_mm, s.dy_mm, s.dz_mm]), *parcel)
        })
        .collect();
    // what is nearer covers what is behind it
    boxes.sort_by_key(|(place, _)| place.near);
    for (i, (place, parcel)) in boxes.iter().enumerate() {
        let fill = if parcel.soft { WHITE } else { CASE };
        marks.push(frame(place, scale, THIN, BLACK, Some(fill)));
        marks.extend(code(pen, place, &boxes[i + 1..], scale, &parcel.code));
    }
    // the door is a heavy line within the end: a space as wide as the page leaves no room outside it
    let (x, low) = (whole.wide * scale - DOOR / 2.0, whole.high * scale);
    let door = match view {
        View::Above => space.door_width_mm,
        View::Left => space.door_height_mm,
    };
    let open = (door as f64 * scale).min(low);
    // a door without height is no line
    if open > 0.1 {
        let from = match view {
            View::Above => (low - open) / 2.0,
            View::Left => low - open,
        };
        marks.push(Mark::rule(
            At::new(x, from),
            At::new(x, from + open),
            DOOR,
            DARK,
        ));
    }
    marks
}

/// How a box looks: from above y runs down; from the left side z runs up. It is cut to the space.
fn seen(view: View, space: &Space, at: [i64; 3], sides: [i64; 3]) -> Seen {
    let inner = [space.length_mm, space.width_mm, space.height_mm].map(|mm| mm.max(0));
    let end = |i: usize| at[i].saturating_add(sides[i]).clamp(0, inner[i]);
    let ends = [end(0), end(1), end(2)];
    let at = [0, 1, 2].map(|i: usize| at[i].clamp(0, ends[i]));
    let sides = [0, 1, 2].map(|i: usize| ends[i] - at[i]);
    let (top, high, near) = match view {
        View::Above => (at[1], sides[1], ends[2]),
        View::Left => (inner[2] - ends[2], sides[2], -at[1]),
    };
    Seen {
        left: at[0] as f64,
        top: top as f64,
        wide: sides[0] as f64,
        high: high as f64,
        near,
    }
}

fn frame(place: &Seen, scale: f64, thickness: f64, ink: Rgb, fill: Option<Rgb>) -> Mark {
    Mark::Frame {
        at: At::new(place.left * scale, place.top * scale),
        width: place.wide * scale,
        height: place.high * scale,
        thickness,
        ink,
        fill,
    }
}

/// The code in a corner of its box that nothing nearer covers, as large as the box allows; none where it would not be read.
fn code(
    pen: &mut Pen,
    place: &Seen,
    nearer: &[(Seen, &Parcel)],
    scale: f64,
    text: &str,
) -> Vec<Mark> {
    let mut style: Style = QUANTITY;
    while style.size >= SMALLEST {
        let (wide, high) = (pen.width(text, style), style.leading);
        let [left, top] = [place.left * scale + INSET, place.top * scale + INSET / 2.0];
        let right = (place.left + place.wide) * scale - INSET - wide;
        let low = (place.top + place.high) * scale - INSET / 2.0 - high;
        let clear = |x: f64, y: f64| {
            !nearer.iter().any(|(n, _)| {
                x < (n.left + n.wide) * scale
                    && x + wide > n.left * scale
                    && y < (n.top + n.high) * scale
                    && y + high > n.top * scale
            })
        };
        let corner = [(left, top), (right, top), (left, low), (right, low)]
            .into_iter()
            .find(|(x, y)| right >= left && low >= top && clear(*x, *y));
        if let Some((x, y)) = corner {
            let lines = pen.lines(text, style, wide + INSET);
            return stack(&lines, x, y, wide + INSET, Align::Left);
        }
        style.leading *= SMALLER;
        style.size *= SMALLER;
    }
    Vec::new()
}

/// What goes in first stands first, with where it lies and a box to tick.
fn loading(
    pen: &mut Pen,
    wide: f64,
    source: &Source<'_>,
    inside: &[(&Parcel, &Stow)],
    close: bool,
) -> Block {
    let columns = [
        fixed(7.0).right(),
        fixed(12.0),
        share(1.0),
        fixed(8.0).middle(),
    ];
    let table =
        Table::new(wide, &columns)
            .close(close)
            .at_least(if close { ROW_CLOSE } else { ROW });
    let rows = inside
        .iter()
        .map(|(parcel, stow)| {
            let place = format!("\n{}", place(source, inside, stow));
            vec![
                Cell::Text(vec![pen.run(&count(stow.turn), LABEL)]),
                Cell::Text(vec![pen.run(&parcel.code, QUANTITY)]),
                Cell::Text(vec![
                    pen.run(&numbered(&parcel.name), BODY),
                    pen.run(&place, NOTE),
                ]),
                Cell::Tick(Vec::new()),
            ]
        })
        .collect();
    table.block(pen, "In, in this order", &["", "", "", "in"], rows)
}

/// What is needed first comes out first.
fn unloading(
    pen: &mut Pen,
    wide: f64,
    out: &[(&Parcel, &Stow)],
    aside: &[String],
    close: bool,
) -> Block {
    let columns = [fixed(7.0).right(), fixed(12.0), share(1.0)];
    let table = Table::new(wide, &columns).close(close);
    let rows = out
        .iter()
        .map(|(parcel, stow)| {
            let mut name = vec![pen.run(&numbered(&parcel.name), BODY)];
            if aside.contains(&parcel.code) {
                name.push(pen.run("\nset it aside: it lies in the way", NOTE));
            }
            vec![
                Cell::Text(vec![pen.run(&count(stow.out), LABEL)]),
                Cell::Text(vec![pen.run(&parcel.code, QUANTITY)]),
                Cell::Text(name),
            ]
        })
        .collect();
    table.block(pen, "Out, in this order", &[], rows)
}

/// `0.40 m from the bulkhead, left, on C1 and B2, doubled over`.
fn place(source: &Source<'_>, inside: &[(&Parcel, &Stow)], stow: &Stow) -> String {
    let mut words = vec![if stow.x_mm == 0 {
        "at the bulkhead".to_string()
    } else {
        format!("{} from the bulkhead", source.say.length(stow.x_mm))
    }];
    words.push(if stow.y_mm == 0 {
        "left".to_string()
    } else {
        format!("{} from the left", source.say.length(stow.y_mm))
    });
    let below: Vec<String> = inside
        .iter()
        .filter(|(_, b)| {
            let shared = |at: i64, long: i64, other: i64, other_long: i64| {
                at.saturating_add(long)
                    .min(other.saturating_add(other_long))
                    > at.max(other)
            };
            b.z_mm.saturating_add(b.dz_mm) == stow.z_mm
                && shared(stow.x_mm, stow.dx_mm, b.x_mm, b.dx_mm)
                && shared(stow.y_mm, stow.dy_mm, b.y_mm, b.dy_mm)
        })
        .map(|(parcel, _)| parcel.code.clone())
        .collect();
    if stow.z_mm > 0 {
        words.push(if below.is_empty() {
            "raised".to_string()
        } else {
            format!("on {}", crate::say::list(&below))
        });
    }
    if stow.folded {
        words.push("doubled over".into());
    }
    if stow.squeezed_pct > 0 {
        words.push(format!("pressed by {} %", stow.squeezed_pct));
    }
    words.join(", ")
}

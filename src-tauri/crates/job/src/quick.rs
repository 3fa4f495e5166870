//! A job from five answers on the telephone: what, how long or how many, how full, how far, and when. Common practice where a number is
//! taken for granted; all of it can be changed in the job.

use serde_json::Value;

use crate::books::Books;
use crate::defaults::{new_job, pattern, take_colour};
use crate::list::{Ids, document, live, words};
use crate::piece::{
    Arrangement, Chain, Frame, FrameForm, Garland, Mount, Piece, PieceKind, Shade, Shape, Size,
};
use crate::set_piece::{Bouquet, Centrepiece, Classic, ClassicForm, Floaters, Wall};
use crate::stock::Colour;
use crate::{Edit, Job, Private};

/// Tenths of a millimetre to the inch.
const INCH_DMM: i64 = 254;
/// A drive into town and out again, km/h: a mean of slow and fast roads. Common practice, no source.
const DRIVE_KMH: i64 = 45;
/// Load-in before ready-by, min, until the times are agreed. Common practice, no source.
const BEFORE_MIN: i64 = 240;
/// Taking down begins so long after ready-by, min. Common practice, no source.
const STRIKE_AFTER_MIN: i64 = 600;
/// Steps of a stair that somebody mentions on the telephone: one storey.
const STOREY_STEPS: i64 = 16;
/// No piece is longer, mm, and there are no more of any.
const MOST_MM: i64 = 100_000;
const MOST_COUNT: i64 = 500;

words! {
    /// What is wanted.
    pub enum QuickWhat {
        /// A garland along a wall, a bar or a stair.
        #[default]
        Garland,
        /// A garland round a free-standing arch.
        ArchGarland,
        /// A garland up and over to one side.
        HalfArch,
        /// Columns.
        Columns,
        /// A wall.
        Wall,
        /// Helium bouquets.
        Bouquets,
        /// Helium balloons under the ceiling.
        Ceiling,
        /// Chains from side to side.
        Chains,
        /// Table centrepieces.
        Tables,
    }

    /// How full it is.
    pub enum QuickFull {
        /// Fewer and smaller balloons.
        Light,
        /// As most have it.
        #[default]
        Usual,
        /// More balloons, and larger ones.
        Full,
    }
}

document! {
    /// The five answers.
    pub struct Quick {
        /// What.
        pub what: QuickWhat,
        /// How long, mm: garlands, walls, chains (each).
        pub length_mm: i64,
        /// How many: columns, bouquets, balloons, chains, tables.
        pub count: i64,
        /// How full.
        pub full: QuickFull,
        /// How far, tenths of a kilometre, one way.
        pub distance_hm: i64,
        /// There are stairs.
        pub stairs: bool,
        /// When it must stand, `YYYY-MM-DDTHH:MM`; empty while nobody knows.
        pub ready_by: String,
        /// We take it down.
        pub strike: bool,
    }
}

impl Default for Quick {
    fn default() -> Self {
        Self {
            what: QuickWhat::default(),
            length_mm: 3000,
            count: 2,
            full: QuickFull::default(),
            distance_hm: 100,
            stairs: false,
            ready_by: String::new(),
            strike: true,
        }
    }
}

/// The job of these answers, with the first colours of the stockroom until the client has chosen.
#[must_use]
pub fn quick_job(books: &Books, quick: &Quick, name: &str) -> (Job, Private) {
    let (mut job, mut private) = new_job(books, name);
    let colours: Vec<&str> = live(&books.colours)
        .into_iter()
        .take(3)
        .map(|(id, _)| id)
        .collect();
    take(books, &mut job, &mut private, &colours);
    job.drive.distance_hm = quick.distance_hm.clamp(0, 100_000);
    job.drive.minutes = job.drive.distance_hm * 60 / (DRIVE_KMH * 10);
    if quick.stairs {
        job.venue.stair_steps = STOREY_STEPS;
    }
    times(&mut job, quick);
    for (n, (id, piece)) in pieces(quick, &colours).into_iter().enumerate() {
        let order = order(n);
        job.pieces.insert(id.into(), Piece { order, ..piece });
    }
    (job, private)
}

fn times(job: &mut Job, quick: &Quick) {
    job.times.ready_by = quick.ready_by.trim().to_string();
    let zone = job.venue.zone.clone();
    let Ok(ready) = crate::time::instant(&job.times.ready_by, &zone) else {
        return;
    };
    let at = |minutes: i64| crate::time::local(ready + minutes * 60_000, &zone).unwrap_or_default();
    job.times.load_in = at(-BEFORE_MIN);
    if quick.strike {
        job.times.strike_from = at(STRIKE_AFTER_MIN);
    }
}

fn take(books: &Books, job: &mut Job, private: &mut Private, colours: &[&str]) {
    for colour in colours {
        for edit in take_colour(books, job, Some(private), colour) {
            let Edit::Add {
                path, id, value, ..
            } = edit
            else {
                continue;
            };
            put(
                job,
                private,
                path.first().map_or("", String::as_str),
                id,
                value,
            );
        }
    }
}

fn put(job: &mut Job, private: &mut Private, list: &str, id: String, value: Value) {
    match list {
        "colours" => {
            if let Ok(colour) = serde_json::from_value::<Colour>(value) {
                let n = job.colours.len();
                let (pattern, order) = (pattern(n), order(n));
                let colour = Colour {
                    pattern,
                    order,
                    ..colour
                };
                job.colours.insert(id, colour);
            }
        }
        "items" => {
            if let Ok(item) = serde_json::from_value(value) {
                job.items.insert(id, item);
            }
        }
        _ => {
            if let Ok(cost) = serde_json::from_value(value) {
                private.costs.insert(id, cost);
            }
        }
    }
}

fn pieces(quick: &Quick, colours: &[&str]) -> Vec<(&'static str, Piece)> {
    let length_mm = quick.length_mm.clamp(300, MOST_MM);
    let count = quick.count.clamp(1, MOST_COUNT);
    let few = |most: usize| palette(colours, most);
    let first = colours.first().copied().unwrap_or_default();
    let piece = |name: &str, kind| Piece {
        name: name.into(),
        kind,
        ..Piece::default()
    };
    match quick.what {
        QuickWhat::Garland | QuickWhat::Newer => vec![(
            "piece",
            Piece {
                mount: Mount::WallHooks,
                garland: Garland {
                    length_mm,
                    ..garland(quick.full, few(3))
                },
                ..piece("Garland", PieceKind::Garland)
            },
        )],
        QuickWhat::ArchGarland | QuickWhat::HalfArch => {
            let half = quick.what == QuickWhat::HalfArch;
            let (span_mm, rise_mm) = if half {
                half_arch(length_mm)
            } else {
                arch(length_mm)
            };
            let frame = Frame {
                form: if half {
                    FrameForm::Arch
                } else {
                    FrameForm::Gate
                },
                width_mm: span_mm,
                height_mm: rise_mm,
                ballast_g: 40_000,
                ..Frame::default()
            };
            let garland = Garland {
                shape: if half { Shape::HalfArch } else { Shape::Arch },
                span_mm,
                rise_mm,
                ..garland(quick.full, few(3))
            };
            let [name, of_frame] = if half {
                ["Half arch", "Half arch frame"]
            } else {
                ["Arch garland", "Arch frame"]
            };
            vec![
                (
                    "piece",
                    Piece {
                        on: "frame".into(),
                        garland,
                        ..piece(name, PieceKind::Garland)
                    },
                ),
                (
                    "frame",
                    Piece {
                        frame,
                        ..piece(of_frame, PieceKind::Frame)
                    },
                ),
            ]
        }
        QuickWhat::Columns => vec![(
            "piece",
            Piece {
                classic: Classic {
                    form: ClassicForm::Column,
                    count,
                    ring: match quick.full {
                        QuickFull::Full => 5,
                        _ => 4,
                    },
                    topper_in: match quick.full {
                        QuickFull::Light => 0,
                        _ => Classic::default().topper_in,
                    },
                    topper_colour: first.into(),
                    palette: few(2),
                    ..Classic::default()
                },
                ..piece("Columns", PieceKind::Classic)
            },
        )],
        QuickWhat::Wall => vec![(
            "piece",
            Piece {
                wall: Wall {
                    width_mm: length_mm,
                    each: match quick.full {
                        QuickFull::Light => 1,
                        _ => 4,
                    },
                    palette: few(3),
                    ..Wall::default()
                },
                ..piece("Wall", PieceKind::Wall)
            },
        )],
        QuickWhat::Bouquets => vec![(
            "piece",
            Piece {
                bouquet: Bouquet {
                    count,
                    rounds: by(quick.full, 3, 5, 7),
                    palette: few(3),
                    foil_colour: first.into(),
                    ..Bouquet::default()
                },
                ..piece("Bouquets", PieceKind::Bouquet)
            },
        )],
        QuickWhat::Ceiling => vec![(
            "piece",
            Piece {
                floaters: Floaters {
                    count,
                    blown_dmm: 11 * INCH_DMM,
                    palette: few(3),
                    ..Floaters::default()
                },
                ..piece("Under the ceiling", PieceKind::Floaters)
            },
        )],
        QuickWhat::Chains => vec![(
            "piece",
            Piece {
                mount: Mount::CeilingPoints,
                chain: Chain {
                    count,
                    span_mm: length_mm,
                    sag_mm: length_mm / by(quick.full, 10, 6, 4),
                    palette: few(2),
                    ..Chain::default()
                },
                ..piece("Chains", PieceKind::Chain)
            },
        )],
        QuickWhat::Tables => vec![(
            "piece",
            Piece {
                centrepiece: Centrepiece {
                    count,
                    foot: by(quick.full, 4, 6, 8),
                    palette: few(2),
                    top_colour: first.into(),
                    ..Centrepiece::default()
                },
                ..piece("Table centrepieces", PieceKind::Centrepiece)
            },
        )],
    }
}

fn by(full: QuickFull, light: i64, usual: i64, most: i64) -> i64 {
    match full {
        QuickFull::Light => light,
        QuickFull::Full => most,
        QuickFull::Usual | QuickFull::Newer => usual,
    }
}

/// Quads of small balloons, or more to a cluster and larger ones between. Common practice, no source.
fn garland(full: QuickFull, palette: Ids<Shade>) -> Garland {
    let (mix, [quads_pct, sixes_pct, eights_pct]): (&[(i64, i64)], _) = match full {
        QuickFull::Light => (&[(11, 70), (5, 30)], [100, 0, 0]),
        QuickFull::Usual | QuickFull::Newer => (&[(11, 65), (16, 10), (5, 25)], [70, 30, 0]),
        QuickFull::Full => (&[(11, 60), (16, 18), (5, 22)], [30, 40, 30]),
    };
    Garland {
        mix: mix.iter().enumerate().map(size).collect(),
        quads_pct,
        sixes_pct,
        eights_pct,
        palette,
        arrangement: Arrangement::Blended,
        ..Garland::default()
    }
}

/// Small ones nearly full, middle ones to anything from half up, large ones nearly full. Common practice, no source.
fn size((n, (size_in, share_pct)): (usize, &(i64, i64))) -> (String, Size) {
    let (from, to) = match size_in {
        ..=6 => (2 * size_in - 2, 2 * size_in - 1),
        7..=12 => (2 * size_in - 10, 2 * size_in - 2),
        _ => (2 * size_in - 4, 2 * size_in - 2),
    };
    let size = Size {
        size_in: *size_in,
        share_pct: *share_pct,
        from_dmm: from * INCH_DMM / 2,
        to_dmm: to * INCH_DMM / 2,
        order: order(n),
        gone: false,
    };
    (format!("s{size_in}"), size)
}

/// Span and height of an arch of about this length along its line: as high as wide up to 2.4 m, then wider. Half an ellipse of span s
/// and rise r is near to π (s / 2 + r) / 2 long where both are alike; here two thirds of a length by hand: common practice, no source.
fn arch(length_mm: i64) -> (i64, i64) {
    let rise_mm = (length_mm * 2 / 5).clamp(1200, 2400);
    let span_mm = (length_mm * 2 / 3 - rise_mm / 2).max(rise_mm * 3 / 4);
    (span_mm, rise_mm)
}

/// Span and height of half an arch of about this length: as wide as high up to 2.4 m, then wider. A quarter of an ellipse is near to
/// π (span + rise) / 4 long where both are alike.
fn half_arch(length_mm: i64) -> (i64, i64) {
    let rise_mm = (length_mm * 7 / 11).clamp(1200, 2400);
    let span_mm = (length_mm * 14 / 11 - rise_mm).max(rise_mm / 2);
    (span_mm, rise_mm)
}

/// The colours in even shares that make 100.
fn palette(colours: &[&str], most: usize) -> Ids<Shade> {
    let few: Vec<&&str> = colours.iter().take(most).collect();
    let n = i64::try_from(few.len()).unwrap_or(1).max(1);
    let mut left = 100;
    few.into_iter()
        .enumerate()
        .map(|(i, colour)| {
            let after = n - i64::try_from(i).unwrap_or(0);
            let share_pct = left / after.max(1);
            left -= share_pct;
            let shade = Shade {
                colour: (*colour).into(),
                share_pct,
                order: order(i),
                ..Shade::default()
            };
            (format!("c{i}"), shade)
        })
        .collect()
}

/// Order keys as the store writes them.
fn order(n: usize) -> String {
    format!("{:02x}80", 0x81 + n)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::check;
    use crate::defaults::starting_books;

    const ALL: [QuickWhat; 9] = [
        QuickWhat::Garland,
        QuickWhat::ArchGarland,
        QuickWhat::HalfArch,
        QuickWhat::Columns,
        QuickWhat::Wall,
        QuickWhat::Bouquets,
        QuickWhat::Ceiling,
        QuickWhat::Chains,
        QuickWhat::Tables,
    ];

    #[test]
    fn every_answer_makes_a_job_without_a_fault() {
        let books = starting_books();
        for what in ALL {
            for full in [QuickFull::Light, QuickFull::Usual, QuickFull::Full] {
                let quick = Quick {
                    what,
                    full,
                    stairs: true,
                    ready_by: "2027-06-12T14:00".into(),
                    ..Quick::default()
                };
                let (job, private) = quick_job(&books, &quick, "Call");
                let findings = check(&job, Some(&private));
                let bad: Vec<_> = findings
                    .iter()
                    .filter(|f| f.severity == crate::Severity::Stop)
                    .collect();
                assert!(bad.is_empty(), "{what:?} {full:?}: {bad:?}");
                assert_eq!(job.times.load_in, "2027-06-12T10:00");
                assert_eq!(job.times.strike_from, "2027-06-13T00:00");
                assert_eq!(job.colours.len(), 3);
                let shares: i64 = palette(&["a", "b", "c"], 3)
                    .values()
                    .map(|s| s.share_pct)
                    .sum();
                assert_eq!(shares, 100);
            }
        }
    }

    #[test]
    fn absurd_answers_are_brought_within_bounds() {
        let books = starting_books();
        for n in [i64::MIN, -1, 0, i64::MAX] {
            for what in ALL {
                let quick = Quick {
                    what,
                    length_mm: n,
                    count: n,
                    distance_hm: n,
                    ready_by: "tomorrow".into(),
                    ..Quick::default()
                };
                let (job, _) = quick_job(&books, &quick, "");
                assert!(job.drive.minutes >= 0 && !job.pieces.is_empty());
            }
        }
        // no stockroom at all
        let (job, _) = quick_job(&Books::default(), &Quick::default(), "");
        assert!(job.colours.is_empty());
    }
}

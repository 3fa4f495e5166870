//! The demo job: an invented wedding with an arch garland on a frame, a swag over the bar and link chains. Every room shows something.

use crate::books::Books;
use crate::defaults::{new_job, pattern, take_colour};
use crate::list::Ids;
use crate::money::{Charge, Client};
use crate::piece::{
    Arrangement, Chain, Frame, Garland, Mount, Piece, PieceKind, Shade, Shape, Size,
};
use crate::site::{Door, Drive, Kit, KitKind, Place, Times, Venue};
use crate::stock::{Colour, Item, ItemKind};
use crate::{Edit, Job, Private, Stage};

/// The job, on the day `YYYY-MM-DD`.
#[must_use]
pub fn demo(books: &Books, day: &str) -> (Job, Private) {
    let (mut job, mut private) = new_job(books, "Halloran and Reyes");
    take(
        books,
        &mut job,
        &mut private,
        &["ivory", "oldrose", "moss", "sand"],
    );
    job.occasion = "Wedding".into();
    job.stage = Stage::Booked;
    job.venue = Venue {
        name: "Ellerwater Boathouse".into(),
        address: "Jetty Lane, Ellerwater".into(),
        contact: "Nora Quill, at the boat shed".into(),
        zone: "Europe/London".into(),
        place: Place::Indoors,
        sun: false,
        altitude_m: 120,
        ceiling_mm: 4200,
        temperature_dc: 220,
        walk_m: 60,
        stair_steps: 8,
        house_rules: "No adhesive on the panelling. Jetty doors stay clear.".into(),
        ..Venue::default()
    };
    let at = |time: &str| format!("{day}T{time}");
    job.times = Times {
        load_in: at("10:00"),
        ready_by: at("13:30"),
        early_min: 0,
        doors_open: at("14:30"),
        strike_from: at("23:30"),
        strike_by: at("23:59"),
    };
    if let Some(long) = books.vehicles.get("longvan") {
        job.vehicle = long.vehicle.clone();
    }
    job.drive = Drive {
        minutes: 35,
        distance_hm: 280,
    };
    job.doors = [
        ("jetty", "Jetty doors", 1600, 2100),
        ("loft", "Loft door", 860, 1980),
    ]
    .into_iter()
    .enumerate()
    .map(|(n, (id, name, width_mm, height_mm))| {
        (
            id.into(),
            Door {
                name: name.into(),
                width_mm,
                height_mm,
                order: order(n),
                gone: false,
            },
        )
    })
    .collect();
    if let Some(plates) = job.kit.get_mut("ballast") {
        *plates = Kit {
            kind: KitKind::Ballast,
            count: 4,
            ..plates.clone()
        };
    }
    if let Some(ivory) = job.items.get_mut("ivory-11") {
        ivory.on_hand = 40;
    }
    if let Some(rose) = job.items.get_mut("oldrose-5") {
        rose.on_hand = 60;
    }
    for item in job.items.values_mut() {
        item.supplier = match item.kind {
            ItemKind::Sundry => "Mill Lane Hardware",
            _ => "Quay Party Trade",
        }
        .into();
    }
    job.pieces = [
        ("arch", arch()),
        ("frame", frame()),
        ("bar", bar()),
        ("loft", chains()),
    ]
    .into_iter()
    .enumerate()
    .map(|(n, (id, piece))| {
        (
            id.to_string(),
            Piece {
                order: order(n),
                ..piece
            },
        )
    })
    .collect();
    private.client = Client {
        name: "Imke Halloran".into(),
        phone: "01632 960114".into(),
        email: "imke@example.org".into(),
        address: "4 Weir Row, Ellerwater".into(),
        remarks: "Likes it full at the feet.".into(),
        ..Client::default()
    };
    private.charges.insert(
        "late".into(),
        Charge {
            label: "Late strike".into(),
            cents: 6000,
            order: order(0),
            gone: false,
            ..Charge::default()
        },
    );
    (job, private)
}

fn order(n: usize) -> String {
    format!("{:02x}80", 0x81 + n)
}

/// Colours, balloons and costs as the stockroom would give them.
fn take(books: &Books, job: &mut Job, private: &mut Private, colours: &[&str]) {
    for colour in colours {
        for edit in take_colour(books, job, Some(private), colour) {
            let Edit::Add {
                path, id, value, ..
            } = edit
            else {
                continue;
            };
            match path.first().map(String::as_str) {
                Some("colours") => {
                    if let Ok(c) = serde_json::from_value::<Colour>(value) {
                        let c = Colour {
                            pattern: pattern(job.colours.len()),
                            order: order(job.colours.len()),
                            ..c
                        };
                        job.colours.insert(id, c);
                    }
                }
                Some("items") => {
                    if let Ok(i) = serde_json::from_value::<Item>(value) {
                        job.items.insert(id, i);
                    }
                }
                _ => {
                    if let Ok(c) = serde_json::from_value(value) {
                        private.costs.insert(id, c);
                    }
                }
            }
        }
    }
}

fn sizes(list: &[(&str, i64, i64, i64, i64)]) -> Ids<Size> {
    list.iter()
        .enumerate()
        .map(|(n, (id, size_in, share_pct, from_dmm, to_dmm))| {
            let size = Size {
                size_in: *size_in,
                share_pct: *share_pct,
                from_dmm: *from_dmm,
                to_dmm: *to_dmm,
                order: order(n),
                gone: false,
            };
            (id.to_string(), size)
        })
        .collect()
}

fn palette(list: &[(&str, &str, &str, i64)]) -> Ids<Shade> {
    list.iter()
        .enumerate()
        .map(|(n, (id, colour, inside, share_pct))| {
            let shade = Shade {
                colour: (*colour).into(),
                inside: (*inside).into(),
                share_pct: *share_pct,
                order: order(n),
                ..Shade::default()
            };
            (id.to_string(), shade)
        })
        .collect()
}

fn frame() -> Piece {
    Piece {
        name: "Arch frame".into(),
        kind: PieceKind::Frame,
        spot: "inside the jetty doors".into(),
        frame: Frame {
            width_mm: 2400,
            height_mm: 2200,
            base_mm: 700,
            packed_length_mm: 1250,
            packed_width_mm: 300,
            packed_height_mm: 180,
            mass_g: 14_000,
            ballast_g: 40_000,
            ..Frame::default()
        },
        ..Piece::default()
    }
}

fn arch() -> Piece {
    Piece {
        name: "Jetty arch".into(),
        kind: PieceKind::Garland,
        spot: "round the jetty doors".into(),
        mount: Mount::Frame,
        on: "frame".into(),
        garland: Garland {
            shape: Shape::Arch,
            span_mm: 2400,
            rise_mm: 2200,
            mix: sizes(&[
                ("small", 5, 15, 1016, 1143),
                ("middle", 11, 70, 1524, 2286),
                ("big", 16, 15, 3556, 3810),
            ]),
            quads_pct: 40,
            sixes_pct: 40,
            eights_pct: 20,
            palette: palette(&[
                ("ivory", "ivory", "", 40),
                ("rose", "oldrose", "", 35),
                ("moss", "moss", "sand", 25),
            ]),
            arrangement: Arrangement::Blended,
            extras_pct: 8,
            ..Garland::default()
        },
        ..Piece::default()
    }
}

fn bar() -> Piece {
    Piece {
        name: "Bar swag".into(),
        kind: PieceKind::Garland,
        spot: "over the bar".into(),
        mount: Mount::WallHooks,
        garland: Garland {
            shape: Shape::Swag,
            span_mm: 2600,
            rise_mm: 400,
            mix: sizes(&[("middle", 11, 100, 2032, 2032)]),
            quads_pct: 100,
            palette: palette(&[("sand", "sand", "", 50), ("ivory", "ivory", "", 50)]),
            arrangement: Arrangement::Blocks,
            extras_pct: 0,
            ..Garland::default()
        },
        x_mm: 3300,
        ..Piece::default()
    }
}

fn chains() -> Piece {
    Piece {
        name: "Loft chains".into(),
        kind: PieceKind::Chain,
        spot: "under the loft beam".into(),
        mount: Mount::CeilingPoints,
        chain: Chain {
            count: 2,
            span_mm: 3000,
            sag_mm: 600,
            palette: palette(&[("rose", "oldrose", "", 50), ("ivory", "ivory", "", 50)]),
            ..Chain::default()
        },
        x_mm: 6700,
        ..Piece::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::defaults::starting_books;

    #[test]
    fn the_demo_names_only_what_it_has() {
        let (job, private) = demo(&starting_books(), "2027-06-12");
        for piece in job.pieces.values() {
            for shade in piece
                .garland
                .palette
                .values()
                .chain(piece.chain.palette.values())
            {
                assert!(job.colours.contains_key(&shade.colour), "{}", shade.colour);
                assert!(shade.inside.is_empty() || job.colours.contains_key(&shade.inside));
            }
        }
        assert_eq!(job.colours.len(), 4);
        assert!(job.items.keys().all(|id| private.costs.contains_key(id)));
        assert_eq!(job.times.ready_by, "2027-06-12T13:30");
    }
}

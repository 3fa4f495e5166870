//! Starting values: a stockroom, people, kit, vehicles and prices to begin with. Names, colours and prices are invented; measures and
//! amounts are common practice, no source. Everything is the user's to change.

use serde_json::Value;

use crate::books::{Books, Own, Van};
use crate::list::live;
use crate::money::Cost;
use crate::piece::{Mount, PieceKind};
use crate::set_piece::FoilStand;
use crate::site::{Crew, Kit, KitKind, Vehicle};
use crate::stock::{Colour, Item, ItemKind, Pattern, Per, Sundry};
use crate::{Edit, Job, Part, Private};

/// Plain colours: id, name, sRGB. Light ones first, as patterns are given in this order.
const COLOURS: [(&str, &str, &str); 10] = [
    ("ivory", "Ivory", "#f4ead7"),
    ("oldrose", "Old rose", "#d9738a"),
    ("moss", "Moss", "#6f7f4f"),
    ("inkblue", "Ink blue", "#27406b"),
    ("sand", "Sand", "#d8bf9a"),
    ("smoke", "Smoke", "#8e8f94"),
    ("brick", "Brick", "#a8503c"),
    ("lemon", "Lemon", "#f2dc6b"),
    ("sky", "Sky", "#9cc4de"),
    ("chalk", "Chalk", "#ffffff"),
];

/// Rounds of the stockroom: nominal size in, bags, cost of the first bag in cents.
const ROUNDS: [(i64, &[i64], i64); 4] = [
    (5, &[100, 50], 700),
    (11, &[100, 50, 25], 1450),
    (16, &[50, 25], 2100),
    (24, &[10, 5], 1600),
];

/// Sundries: id, name, unit, bags, cost of the first bag in cents.
const SUNDRIES: [(&str, &str, &str, &[i64], i64); 10] = [
    ("line", "Fishing line", "m", &[100], 450),
    ("ties", "Cable ties", "", &[100], 380),
    ("hooks", "Adhesive hooks", "", &[20], 900),
    ("dots", "Adhesive dots", "", &[200], 520),
    ("longties", "260 ties", "", &[100], 1300),
    ("binbags", "Bin bags", "", &[20], 340),
    ("ribbon", "Ribbon", "m", &[100], 420),
    ("weights", "Bouquet weights", "", &[12], 1560),
    ("sticks", "Centrepiece sticks", "", &[10], 640),
    ("bases", "Bases with poles", "", &[1], 2400),
];

/// What cylinders of helium fill, L, and what the first of them costs, cents.
const CYLINDERS: [i64; 2] = [3600, 1800];
const CYLINDER_CENTS: i64 = 14_500;

/// The patterns in the order in which colours get them.
const PATTERNS: [Pattern; 8] = [
    Pattern::Plain,
    Pattern::Hatched,
    Pattern::Dotted,
    Pattern::Barred,
    Pattern::Crossed,
    Pattern::Waved,
    Pattern::Ringed,
    Pattern::Checked,
];

/// The pattern of the n-th colour of a job, from 0.
#[must_use]
pub fn pattern(n: usize) -> Pattern {
    PATTERNS[n % PATTERNS.len()]
}

/// Books to begin with.
#[must_use]
pub fn starting_books() -> Books {
    let mut books = Books {
        own: Own {
            zone: "Europe/London".into(),
            ..Own::default()
        },
        ..Books::default()
    };
    for (n, (id, name, srgb)) in COLOURS.into_iter().enumerate() {
        books.colours.insert(
            id.into(),
            Colour {
                name: name.into(),
                srgb: srgb.into(),
                pattern: pattern(n),
                order: order(n),
                ..Colour::default()
            },
        );
        for (size_in, bags, cents) in ROUNDS {
            add_item(
                &mut books,
                &format!("{id}-{size_in}"),
                balloon(ItemKind::Round, id, size_in, bags),
                cents,
            );
        }
        add_item(
            &mut books,
            &format!("{id}-link6"),
            balloon(ItemKind::Link, id, 6, &[50]),
            1200,
        );
    }
    for (id, name, unit, bags, cents) in SUNDRIES {
        let kind = if id == "longties" {
            ItemKind::Tie
        } else {
            ItemKind::Sundry
        };
        let item = Item {
            name: name.into(),
            kind,
            bags: bags.into(),
            unit: unit.into(),
            on_hand: bags[0],
            ..Item::default()
        };
        add_item(&mut books, id, item, cents);
    }
    let helium = Item {
        name: "Helium".into(),
        kind: ItemKind::Helium,
        bags: CYLINDERS.into(),
        unit: "L".into(),
        ..Item::default()
    };
    add_item(&mut books, "helium", helium, CYLINDER_CENTS);
    for (n, (id, sundry)) in sundry_rules().into_iter().enumerate() {
        books.sundries.insert(
            id.into(),
            Sundry {
                order: order(n),
                ..sundry
            },
        );
    }
    for (n, (id, name)) in [("p1", "Ada"), ("p2", "Ben")].into_iter().enumerate() {
        books.people.insert(
            id.into(),
            Crew {
                name: name.into(),
                order: order(n),
                ..Crew::default()
            },
        );
    }
    for (n, (id, kit)) in kit().into_iter().enumerate() {
        books.kit.insert(
            id.into(),
            Kit {
                order: order(n),
                ..kit
            },
        );
    }
    for (n, (id, vehicle)) in vehicles().into_iter().enumerate() {
        books.vehicles.insert(
            id.into(),
            Van {
                vehicle,
                order: order(n),
                gone: false,
            },
        );
    }
    books
}

/// Order keys of items that are made together: the first so many keys of the fractional order, ascending as text.
fn order(n: usize) -> String {
    // one byte is enough for what is made here; "80" is the middle of the range, so there is room before and after
    format!("{:02x}80", 0x81 + n)
}

fn balloon(kind: ItemKind, colour: &str, size_in: i64, bags: &[i64]) -> Item {
    Item {
        kind,
        colour: colour.into(),
        size_in,
        bags: bags.into(),
        ..Item::default()
    }
}

fn add_item(books: &mut Books, id: &str, item: Item, cents: i64) {
    let bag = item.bags.first().copied().unwrap_or(1);
    let at = order(books.items.len());
    books.items.insert(id.into(), Item { order: at, ..item });
    books.costs.insert(id.into(), Cost { bag, cents });
}

/// How much of what a metre, a cluster or a job takes. Common practice, no source.
fn sundry_rules() -> [(&'static str, Sundry); 18] {
    let rule = |item: &str, kind, mounts: &[Mount], per, hundredths| Sundry {
        item: item.into(),
        kind,
        mounts: mounts.into(),
        per,
        hundredths,
        ..Sundry::default()
    };
    // by the character
    let foil = |item: &str, stand, hundredths| Sundry {
        stands: vec![stand],
        ..rule(item, PieceKind::Foils, &[], Per::Cluster, hundredths)
    };
    let tied = [Mount::Frame, Mount::Backdrop, Mount::StairRail, Mount::Grid];
    [
        (
            "line",
            rule("line", PieceKind::Garland, &[], Per::Metre, 130),
        ),
        (
            "ties",
            rule("ties", PieceKind::Garland, &tied, Per::Metre, 300),
        ),
        (
            "hooks",
            rule(
                "hooks",
                PieceKind::Garland,
                &[Mount::WallHooks],
                Per::Metre,
                200,
            ),
        ),
        (
            "dots",
            rule("dots", PieceKind::Garland, &[], Per::Metre, 1000),
        ),
        (
            "longties",
            rule("longties", PieceKind::Garland, &[], Per::Cluster, 100),
        ),
        (
            "chainline",
            rule("line", PieceKind::Chain, &[], Per::Piece, 200),
        ),
        (
            "binbags",
            rule("binbags", PieceKind::Garland, &[], Per::Job, 600),
        ),
        // what a ribbon takes for its knots besides its length
        (
            "ribbon",
            rule("ribbon", PieceKind::Bouquet, &[], Per::Metre, 110),
        ),
        (
            "floatribbon",
            rule("ribbon", PieceKind::Floaters, &[], Per::Metre, 110),
        ),
        (
            "foilribbon",
            rule("ribbon", PieceKind::Foils, &[], Per::Metre, 110),
        ),
        (
            "weights",
            rule("weights", PieceKind::Bouquet, &[], Per::Piece, 100),
        ),
        (
            "sticks",
            rule("sticks", PieceKind::Centrepiece, &[], Per::Piece, 100),
        ),
        (
            "bases",
            Sundry {
                comes_home: true,
                ..rule("bases", PieceKind::Classic, &[], Per::Piece, 100)
            },
        ),
        (
            "wallties",
            rule("longties", PieceKind::Wall, &[], Per::Cluster, 100),
        ),
        // half a tie carries the two quads of an accent
        (
            "accentties",
            rule("longties", PieceKind::Loose, &[], Per::Cluster, 50),
        ),
        // a foil is tied in by its head and by its foot, hung from two lines of a metre, or held by a weight of its own
        ("foilties", foil("longties", FoilStand::InGarland, 200)),
        ("foilline", foil("line", FoilStand::Hanging, 200)),
        ("foilweights", foil("weights", FoilStand::Helium, 100)),
    ]
}

fn kit() -> [(&'static str, Kit); 5] {
    let thing = |name: &str, kind, count, sides: [i64; 3], mass_g| Kit {
        name: name.into(),
        kind,
        count,
        length_mm: sides[0],
        width_mm: sides[1],
        height_mm: sides[2],
        mass_g,
        ..Kit::default()
    };
    [
        (
            "inflator",
            thing(
                "Two-nozzle inflator",
                KitKind::Inflator,
                1,
                [350, 250, 250],
                3_000,
            ),
        ),
        (
            "pump",
            thing("Hand pump", KitKind::Pump, 2, [350, 90, 90], 300),
        ),
        (
            "ladder",
            thing("Step ladder", KitKind::Ladder, 1, [1700, 480, 150], 7_500),
        ),
        (
            "tools",
            thing("Tool case", KitKind::Case, 1, [600, 400, 350], 9_000),
        ),
        (
            "ballast",
            thing("Ballast plate", KitKind::Ballast, 0, [350, 350, 60], 10_000),
        ),
    ]
}

/// Typical load spaces. Common practice, no source.
fn vehicles() -> [(&'static str, Vehicle); 4] {
    let van = |name: &str, space: [i64; 3], door: [i64; 2]| Vehicle {
        name: name.into(),
        length_mm: space[0],
        width_mm: space[1],
        height_mm: space[2],
        door_width_mm: door[0],
        door_height_mm: door[1],
    };
    [
        ("hatchback", van("Hatchback", [900, 1000, 700], [1000, 650])),
        ("estate", van("Estate car", [1700, 1100, 800], [1050, 750])),
        (
            "smallvan",
            van("Small van", [1800, 1300, 1200], [1200, 1100]),
        ),
        ("longvan", van("Long van", [3400, 1700, 1800], [1500, 1700])),
    ]
}

/// A new job: rates, rules, prices, zone, people, kit, vehicle and sundries from the books. Colours come when they are used.
#[must_use]
pub fn new_job(books: &Books, name: &str) -> (Job, Private) {
    let mut job = Job {
        name: name.into(),
        rates: books.rates.clone(),
        rules: books.rules.clone(),
        ..Job::default()
    };
    if !books.own.zone.trim().is_empty() {
        job.venue.zone.clone_from(&books.own.zone);
    }
    let mut private = Private {
        prices: books.prices.clone(),
        ..Private::default()
    };
    if let Some((_, van)) = live(&books.vehicles)
        .into_iter()
        .find(|(id, _)| *id == "smallvan")
        .or_else(|| live(&books.vehicles).into_iter().next())
    {
        job.vehicle = van.vehicle.clone();
    }
    for (id, person) in live(&books.people) {
        job.crew.insert(
            id.into(),
            Crew {
                source: id.into(),
                ..person.clone()
            },
        );
    }
    for (id, kit) in live(&books.kit) {
        job.kit.insert(
            id.into(),
            Kit {
                source: id.into(),
                ..kit.clone()
            },
        );
    }
    for (id, item) in live(&books.items) {
        if matches!(
            item.kind,
            ItemKind::Sundry | ItemKind::Tie | ItemKind::Helium
        ) {
            job.items.insert(
                id.into(),
                Item {
                    source: id.into(),
                    ..item.clone()
                },
            );
            if let Some(cost) = books.costs.get(id) {
                private.costs.insert(id.into(), cost.clone());
            }
        }
    }
    for (id, sundry) in live(&books.sundries) {
        job.sundries.insert(id.into(), sundry.clone());
    }
    (job, private)
}

/// The edits that copy a colour with its balloons and their costs from the stockroom into a job; only what the job does not have.
#[must_use]
pub fn take_colour(books: &Books, job: &Job, private: Option<&Private>, colour: &str) -> Vec<Edit> {
    let mut edits = Vec::new();
    let mut put = |part: Part, list: &str, id: &str, value: Option<Value>| {
        if let Some(value) = value {
            edits.push(Edit::Add {
                part,
                path: vec![list.into()],
                id: id.into(),
                before: None,
                value,
            });
        }
    };
    let Some(found) = books.colours.get(colour) else {
        return edits;
    };
    if !job.colours.contains_key(colour) {
        let copy = Colour {
            source: colour.into(),
            pattern: pattern(job.colours.len()),
            ..found.clone()
        };
        put(
            Part::Job,
            "colours",
            colour,
            serde_json::to_value(copy).ok(),
        );
    }
    for (id, item) in live(&books.items)
        .into_iter()
        .filter(|(_, i)| i.colour == colour)
    {
        if !job.items.contains_key(id) {
            put(
                Part::Job,
                "items",
                id,
                serde_json::to_value(Item {
                    source: id.into(),
                    ..item.clone()
                })
                .ok(),
            );
        }
        let known = private.is_none_or(|p| p.costs.contains_key(id));
        if let Some(cost) = books.costs.get(id).filter(|_| !known) {
            put(Part::Private, "costs", id, serde_json::to_value(cost).ok());
        }
    }
    edits
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn starting_books_are_whole() {
        let books = starting_books();
        assert_eq!(
            (books.colours.len(), books.items.len(), books.costs.len()),
            (10, 61, 61)
        );
        for item in books.items.values().filter(|i| !i.colour.is_empty()) {
            assert!(books.colours.contains_key(&item.colour));
        }
        for sundry in books.sundries.values() {
            assert!(books.items.contains_key(&sundry.item), "{}", sundry.item);
        }
        let keys: Vec<&str> = live(&books.colours).into_iter().map(|(id, _)| id).collect();
        assert_eq!(keys, COLOURS.map(|c| c.0));
    }

    #[test]
    fn a_colour_is_taken_once() {
        let books = starting_books();
        let (mut job, mut private) = new_job(&books, "x");
        let edits = take_colour(&books, &job, Some(&private), "moss");
        // the colour, five balloons and their costs
        assert_eq!(edits.len(), 11);
        job.colours
            .insert("moss".into(), books.colours["moss"].clone());
        for (id, item) in &books.items {
            job.items.insert(id.clone(), item.clone());
            private.costs.insert(id.clone(), books.costs[id].clone());
        }
        assert_eq!(take_colour(&books, &job, Some(&private), "moss"), []);
        assert_eq!(take_colour(&books, &job, Some(&private), "nobody"), []);
    }
}

//! One row for each code: a change that brings it about. The ready-made cures must cure.

use std::collections::BTreeSet;

use proptest::prelude::*;
use serde_json::{Value, json};

use super::*;
use crate::edit::{Edit, Part};
use crate::finding::Severity;
use crate::read::{read, read_strictly};

/// A job in which nothing is wrong.
fn sound() -> Value {
    json!({
        "name": "Summer lunch",
        "venue": { "zone": "America/New_York", "ceiling_mm": 3000 },
        "times": {
            "load_in": "2026-06-06T09:00", "ready_by": "2026-06-06T12:00", "doors_open": "2026-06-06T13:00",
            "strike_from": "2026-06-06T22:00", "strike_by": "2026-06-06T23:00",
        },
        "doors": { "d": { "name": "Side door" } },
        "crew": { "c": { "name": "Mina" } },
        "kit": { "k": { "name": "Tool case" } },
        "colours": { "ivory": { "name": "Ivory" } },
        "items": { "i": { "kind": "round", "colour": "ivory", "size_in": 11, "bags": [100, 50] } },
        "sundries": { "s": { "item": "i" } },
        "pieces": {
            "g": { "name": "Swag", "on": "f", "garland": {
                "shape": "arch",
                "mix": { "m": { "share_pct": 60 }, "n": { "size_in": 5, "share_pct": 40, "from_dmm": 1000, "to_dmm": 1100 } },
                "palette": { "p": { "colour": "ivory" } },
                "hand": { "3": { "locked": true, "balls": [
                    { "shade": "p", "size_in": 11, "blown_dmm": 2286 }, { "shade": "p", "size_in": 11, "blown_dmm": 2286 },
                    { "shade": "p", "size_in": 5, "blown_dmm": 1100 }, { "shade": "p", "size_in": 5, "blown_dmm": 1100 },
                ] } },
            } },
            "c": { "name": "Chain", "kind": "chain", "chain": { "palette": { "p": { "colour": "ivory" } } } },
            "f": { "name": "Frame", "kind": "frame" },
            "col": { "name": "Pillar", "kind": "classic", "classic": { "palette": { "p": { "colour": "ivory" } } } },
            "arc": { "name": "Tight arch", "kind": "classic", "classic": { "form": "arch", "palette": { "p": { "colour": "ivory" } } } },
            "wal": { "name": "Wall", "kind": "wall", "wall": { "palette": { "p": { "colour": "ivory" } } } },
            "bou": { "name": "Bouquet", "kind": "bouquet", "bouquet": { "palette": { "p": { "colour": "ivory" } } } },
            "num": { "name": "Number", "kind": "foils", "foils": { "text": "50", "colour": "ivory" } },
            "flo": { "name": "Ceiling", "kind": "floaters", "floaters": { "palette": { "p": { "colour": "ivory" } } } },
            "tab": { "name": "Tables", "kind": "centrepiece", "centrepiece": { "top_colour": "ivory", "palette": { "p": { "colour": "ivory" } } } },
            "acc": { "name": "Accents", "kind": "loose", "loose": { "palette": { "p": { "colour": "ivory" } } } },
        },
    })
}

fn sound_private() -> Value {
    json!({ "costs": { "i": { "bag": 100, "cents": 1200 } }, "charges": { "x": { "label": "Parking", "cents": 900 } } })
}

/// Puts a value at a path of keys, making records on the way.
fn put(document: &mut Value, path: &[String], value: Value) {
    let mut at = document;
    for key in path {
        at = at
            .as_object_mut()
            .expect("a record")
            .entry(key.as_str())
            .or_insert_with(|| json!({}));
    }
    *at = value;
}

fn keys(path: &str) -> Vec<String> {
    path.split('.').map(ToString::to_string).collect()
}

fn checked(job: &Value, private: &Value) -> Vec<Finding> {
    let job: Job = read_strictly(job).expect("a job");
    let private: Private = read_strictly(private).expect("a private part");
    check(&job, Some(&private))
}

/// Applies the edits of a cure.
fn cure(job: &mut Value, private: &mut Value, edits: &[Edit]) {
    for edit in edits {
        let document = match edit.part() {
            Part::Job => &mut *job,
            Part::Private => &mut *private,
        };
        match edit {
            Edit::Set { path, value, .. } => put(document, path, value.clone()),
            Edit::Remove { path, id, .. } => {
                let gone = [path.as_slice(), &[id.clone(), "gone".into()]].concat();
                put(document, &gone, json!(true));
            }
            Edit::Add {
                path, id, value, ..
            } => {
                let added = [path.as_slice(), std::slice::from_ref(id)].concat();
                put(document, &added, value.clone());
            }
            other => panic!("no cure uses {other:?}"),
        }
    }
}

/// Code, path of the change (in the private part if it begins with `private`), value, severity, path of the finding.
#[rustfmt::skip] // a row to a line
fn rows() -> Vec<(&'static str, &'static str, Value, Severity, &'static str)> {
    use Severity::{Care, Note, Stop};
    vec![
        ("no_name", "name", json!("  "), Note, "name"),
        ("unknown_zone", "venue.zone", json!("america/new york"), Stop, "venue.zone"),
        ("unknown_zone", "venue.zone", json!(""), Stop, "venue.zone"),
        ("out_of_range", "venue.walk_m", json!(-1), Stop, "venue.walk_m"),
        ("out_of_range", "venue.altitude_m", json!(8849), Stop, "venue.altitude_m"),
        ("out_of_range", "venue.temperature_dc", json!(2000), Stop, "venue.temperature_dc"),
        ("out_of_range", "drive.minutes", json!(100_000), Stop, "drive.minutes"),
        ("out_of_range", "vehicle.length_mm", json!(-1800), Stop, "vehicle.length_mm"),
        ("out_of_range", "doors.d.width_mm", json!(-900), Stop, "doors.d.width_mm"),
        ("out_of_range", "doors.d.car_depth_mm", json!(-1), Stop, "doors.d.car_depth_mm"),
        ("out_of_range", "doors.d.load_g", json!(-1), Stop, "doors.d.load_g"),
        ("out_of_range", "vehicle.payload_g", json!(-1), Stop, "vehicle.payload_g"),
        ("out_of_range", "vans.v.vehicle.width_mm", json!(-1), Stop, "vans.v.vehicle.width_mm"),
        ("blocked_outside", "vehicle.blocked", json!([{ "x_mm": 1700, "length_mm": 200, "width_mm": 200, "height_mm": 300 }]), Care, "vehicle.blocked"),
        ("out_of_range", "crew.c.to_min", json!(1441), Stop, "crew.c.to_min"),
        ("out_of_range", "kit.k.count", json!(-2), Stop, "kit.k.count"),
        ("out_of_range", "items.i.on_hand", json!(-5), Stop, "items.i.on_hand"),
        ("out_of_range", "sundries.s.hundredths", json!(-5), Stop, "sundries.s.hundredths"),
        ("out_of_range", "rates.flow_l_min", json!(0), Stop, "rates.flow_l_min"),
        ("out_of_range", "rates.pair_s", json!(-30), Stop, "rates.pair_s"),
        ("out_of_range", "rules.fill_pct", json!(0), Stop, "rules.fill_pct"),
        ("out_of_range", "pieces.g.garland.span_mm", json!(1_000_000_000), Stop, "pieces.g.garland.span_mm"),
        ("out_of_range", "pieces.g.garland.extras_pct", json!(-1), Stop, "pieces.g.garland.extras_pct"),
        ("out_of_range", "pieces.g.garland.mix.m.share_pct", json!(-60), Stop, "pieces.g.garland.mix.m.share_pct"),
        ("out_of_range", "pieces.g.garland.palette.p.share_pct", json!(101), Stop, "pieces.g.garland.palette.p.share_pct"),
        ("out_of_range", "pieces.c.chain.pitch_mm", json!(0), Stop, "pieces.c.chain.pitch_mm"),
        ("out_of_range", "pieces.f.frame.ballast_g", json!(-1), Stop, "pieces.f.frame.ballast_g"),
        ("out_of_range", "pieces.c.chain.lift_mm", json!(-2_000_000), Stop, "pieces.c.chain.lift_mm"),
        ("out_of_range", "pieces.col.classic.count", json!(-1), Stop, "pieces.col.classic.count"),
        ("out_of_range", "pieces.col.classic.band_rings", json!(0), Stop, "pieces.col.classic.band_rings"),
        ("out_of_range", "pieces.arc.classic.span_mm", json!(-1), Stop, "pieces.arc.classic.span_mm"),
        ("out_of_range", "pieces.wal.wall.pitch_mm", json!(-20), Stop, "pieces.wal.wall.pitch_mm"),
        ("out_of_range", "pieces.bou.bouquet.step_mm", json!(-150), Stop, "pieces.bou.bouquet.step_mm"),
        ("out_of_range", "pieces.num.foils.gap_mm", json!(-40), Stop, "pieces.num.foils.gap_mm"),
        ("out_of_range", "pieces.flo.floaters.count", json!(30_000), Stop, "pieces.flo.floaters.count"),
        ("out_of_range", "pieces.tab.centrepiece.height_mm", json!(20_000), Stop, "pieces.tab.centrepiece.height_mm"),
        ("out_of_range", "pieces.acc.loose.size_in", json!(0), Stop, "pieces.acc.loose.size_in"),
        ("out_of_range", "rates.stack_s", json!(-1), Stop, "rates.stack_s"),
        ("out_of_range", "rules.helium_h", json!(-8), Stop, "rules.helium_h"),
        ("blown_too_large", "pieces.col.classic.blown_dmm", json!(2800), Stop, "pieces.col.classic.blown_dmm"),
        ("blown_too_large", "pieces.tab.centrepiece.top_dmm", json!(2800), Stop, "pieces.tab.centrepiece.top_dmm"),
        ("shares_not_100", "pieces.flo.floaters.palette.p.share_pct", json!(60), Care, "pieces.flo.floaters.palette"),
        ("too_high", "pieces.col.classic.height_mm", json!(3200), Stop, "pieces.col.classic.height_mm"),
        ("too_high", "pieces.wal.wall.height_mm", json!(3200), Stop, "pieces.wal.wall.height_mm"),
        ("out_of_range", "private.prices.discount_pct", json!(130), Stop, "private.prices.discount_pct"),
        ("out_of_range", "private.costs.i.bag", json!(0), Stop, "private.costs.i.bag"),
        ("out_of_range", "private.charges.x.cents", json!(i64::MAX), Stop, "private.charges.x.cents"),
        ("unreadable_time", "times.ready_by", json!("noon"), Stop, "times.ready_by"),
        ("unreadable_time", "times.ready_by", json!("2026-02-30T12:00"), Stop, "times.ready_by"),
        ("times_reversed", "times.ready_by", json!("2026-06-06T08:00"), Stop, "times.ready_by"),
        ("times_reversed", "times.strike_from", json!("2026-06-05T22:00"), Stop, "times.strike_from"),
        ("times_reversed", "times.strike_by", json!("2026-06-06T21:00"), Stop, "times.strike_by"),
        // 02:00 to 03:00 does not exist on 8 March 2026 in New York, 01:00 to 02:00 comes twice on 1 November 2026.
        // Source: IANA tz database.
        ("time_left_out", "times.load_in", json!("2026-03-08T02:30"), Care, "times.load_in"),
        ("time_comes_twice", "times.strike_by", json!("2026-11-01T01:30"), Care, "times.strike_by"),
        ("past_zone_data", "times.strike_by", json!("2099-06-06T12:00"), Note, "times.strike_by"),
        ("no_person_name", "crew.c.name", json!(""), Note, "crew.c.name"),
        ("out_of_range", "crew.c.room_pct", json!(5), Stop, "crew.c.room_pct"),
        ("shares_not_100", "pieces.g.garland.mix.m.share_pct", json!(90), Care, "pieces.g.garland.mix"),
        ("shares_not_100", "pieces.g.garland.palette.p.share_pct", json!(70), Care, "pieces.g.garland.palette"),
        ("shares_not_100", "pieces.c.chain.palette.p.share_pct", json!(99), Care, "pieces.c.chain.palette"),
        ("shares_not_100", "pieces.g.garland.sixes_pct", json!(30), Care, "pieces.g.garland.quads_pct"),
        ("blown_to_nothing", "pieces.g.garland.mix.m.from_dmm", json!(0), Stop, "pieces.g.garland.mix.m.from_dmm"),
        ("blown_to_nothing", "pieces.g.garland.mix.m.to_dmm", json!(-3), Stop, "pieces.g.garland.mix.m.to_dmm"),
        ("sizes_reversed", "pieces.g.garland.mix.m.to_dmm", json!(1400), Care, "pieces.g.garland.mix.m.from_dmm"),
        ("blown_too_large", "pieces.g.garland.mix.m.to_dmm", json!(2795), Stop, "pieces.g.garland.mix.m.to_dmm"),
        ("blown_too_large", "pieces.c.chain.blown_dmm", json!(1525), Stop, "pieces.c.chain.blown_dmm"),
        ("cluster_not_tied", "pieces.g.garland.hand.3.balls", json!([{ "shade": "p", "size_in": 11, "blown_dmm": 2286 }]), Care, "pieces.g.garland.hand.3.balls"),
        ("cluster_colour_gone", "pieces.g.garland.hand.3.balls", json!(vec![json!({ "shade": "q", "size_in": 11, "blown_dmm": 2286 }); 4]), Care, "pieces.g.garland.hand.3.balls"),
        ("cluster_blown_wrong", "pieces.g.garland.hand.3.balls", json!(vec![json!({ "shade": "p", "size_in": 5, "blown_dmm": 2286 }); 6]), Stop, "pieces.g.garland.hand.3.balls"),
        ("cluster_blown_wrong", "pieces.g.garland.hand.3.balls", json!(vec![json!({ "shade": "p", "size_in": 0, "blown_dmm": -1 }); 4]), Stop, "pieces.g.garland.hand.3.balls"),
        ("frame_gone", "pieces.f.gone", json!(true), Care, "pieces.g.on"),
        ("frame_gone", "pieces.g.on", json!("c"), Care, "pieces.g.on"),
        ("hangs_beside", "pieces.g.on", json!(""), Care, "pieces.g.on"),
        ("no_frame", "pieces", json!({ "g": { "name": "Arch", "mount": "frame", "garland": { "shape": "arch", "mix": { "m": {} }, "palette": { "p": { "colour": "ivory" } } } } }), Care, "pieces.g.on"),
        ("end_free", "pieces.g.garland", json!({ "shape": "half_arch", "mix": { "m": {} }, "palette": { "p": { "colour": "ivory" } }, "span_mm": 2000, "rise_mm": 2600 }), Care, "pieces.g.garland.rise_mm"),
        ("high_up", "pieces.g", json!({ "name": "Swag", "mount": "ceiling_points", "y_mm": 9000 }), Care, "pieces.g.y_mm"),
        ("too_high", "pieces.g.garland.rise_mm", json!(3001), Stop, "pieces.g.garland.rise_mm"),
        ("too_high", "pieces.f.frame.height_mm", json!(3200), Stop, "pieces.f.frame.height_mm"),
        ("unreadable_pin", "pins.carry", json!({ "task": "carry", "at": "soon" }), Care, "pins.carry.at"),
        ("bad_srgb", "colours.ivory.srgb", json!("ivory"), Care, "colours.ivory.srgb"),
        ("no_colour_name", "colours.ivory.name", json!(""), Care, "colours.ivory.name"),
        ("bad_bags", "items.i.bags", json!([100, 0, -5]), Care, "items.i.bags"),
        ("item_twice", "items.j", json!({ "colour": "ivory", "size_in": 11 }), Care, "items.j"),
        ("out_of_range", "private.instalments.a", json!({ "pct": 101 }), Stop, "private.instalments.a.pct"),
        ("out_of_range", "private.used.i", json!({ "units": -1 }), Stop, "private.used.i.units"),
        ("out_of_range", "private.spent.goods_cents", json!(-1), Stop, "private.spent.goods_cents"),
        ("parts_beyond_all", "private.instalments", json!({ "a": { "pct": 60 }, "b": { "pct": 60 } }), Care, "private.instalments"),
        ("number_twice", "private.bills", json!({ "a": { "number": "7" }, "b": { "number": "7" } }), Stop, "private.bills"),
        ("no_price", "private.prices.model", json!("package"), Care, "private.prices.package_cents"),
        ("bad_currency", "private.prices.currency", json!("eur"), Care, "private.prices.currency"),
        ("bad_currency", "private.prices.currency", json!(""), Care, "private.prices.currency"),
        ("long_text", "venue.house_rules", json!("x".repeat(100_001)), Care, "venue.house_rules"),
        ("long_text", "private.client.remarks", json!("x".repeat(100_001)), Care, "private.client.remarks"),
        ("hidden_letters", "venue.name", json!("Old\u{202E} mill"), Care, "venue.name"),
        ("hidden_letters", "notes.n.text", json!("bell \u{7}"), Care, "notes.n.text"),
        ("hidden_letters", "private.client.name", json!("\u{2066}Ann"), Care, "private.client.name"),
    ]
}

#[test]
fn a_sound_job_has_no_findings() {
    assert_eq!(checked(&sound(), &sound_private()), []);
}

#[test]
fn each_code_is_found_where_it_belongs_and_its_cure_cures() {
    for (code, path, value, severity, found_at) in rows() {
        let (mut job, mut private) = (sound(), sound_private());
        match path.strip_prefix("private.") {
            Some(path) => put(&mut private, &keys(path), value.clone()),
            None => put(&mut job, &keys(path), value.clone()),
        }
        let findings = checked(&job, &private);
        let at = |f: &&Finding| f.code == code && f.path == keys(found_at);
        let Some(found) = findings.iter().find(at) else {
            panic!("{code} at {found_at} after {path} = {value}: {findings:#?}");
        };
        assert_eq!(found.severity, severity, "{code}");
        assert!(
            found.message.ends_with(['.', '…']) || code == "hidden_letters",
            "{}",
            found.message
        );
        assert!(found.action.ends_with('.'), "{}", found.action);
        for fix in &found.fixes {
            assert!(!fix.edits.is_empty(), "{code}: {} does nothing", fix.label);
            let (mut job, mut private) = (job.clone(), private.clone());
            cure(&mut job, &mut private, &fix.edits);
            let after = checked(&job, &private);
            assert!(
                !after.iter().any(|f| at(&f)),
                "{code} is still there after {}",
                fix.label
            );
        }
    }
}

#[test]
fn each_code_has_a_row() {
    let sources = [
        include_str!("hand.rs"),
        include_str!("hanging.rs"),
        include_str!("money.rs"),
        include_str!("numbers.rs"),
        include_str!("people.rs"),
        include_str!("pieces.rs"),
        include_str!("pins.rs"),
        include_str!("stock.rs"),
        include_str!("texts.rs"),
        include_str!("times.rs"),
        include_str!("venue.rs"),
    ];
    let codes: BTreeSet<&str> = sources
        .iter()
        .flat_map(|text| {
            text.split("inding::new(")
                .skip(1)
                .chain(text.split(".finding(").skip(1))
        })
        .filter_map(|after| after.trim_start().strip_prefix('"')?.split('"').next())
        .collect();
    let tested: BTreeSet<&str> = rows().iter().map(|row| row.0).collect();
    assert_eq!(codes, tested);
    assert!(codes.len() > 20, "{codes:?}");
}

#[test]
fn all_findings_come_at_once() {
    let job = json!({
        "name": "", "venue": { "zone": "Nowhere" },
        "times": { "ready_by": "soon" },
        "crew": { "a": { "from_min": 900, "to_min": 100 } },
    });
    let codes: BTreeSet<String> = checked(&job, &json!({ "prices": { "tax_bp": -1 } }))
        .into_iter()
        .map(|f| f.code)
        .collect();
    let expected = [
        "no_name",
        "no_person_name",
        "out_of_range",
        "unknown_zone",
        "unreadable_time",
    ];
    assert_eq!(
        codes.iter().map(String::as_str).collect::<Vec<_>>(),
        expected
    );
}

#[test]
fn what_is_gone_is_not_judged() {
    let mut job = sound();
    put(
        &mut job,
        &keys("doors.d"),
        json!({ "name": "\u{202E}", "width_mm": -1, "gone": true }),
    );
    put(
        &mut job,
        &keys("crew.x"),
        json!({ "from_min": 5, "to_min": 1, "gone": true }),
    );
    assert_eq!(checked(&job, &sound_private()), []);
}

#[test]
fn the_empty_job_asks_for_a_name_only() {
    let codes: Vec<String> = check(&Job::default(), Some(&Private::default()))
        .into_iter()
        .map(|f| f.code)
        .collect();
    assert_eq!(codes, ["no_name"]);
}

#[test]
fn the_demo_has_no_stop() {
    let (job, private) = crate::demo::demo(&crate::defaults::starting_books(), "2027-06-12");
    let stops: Vec<Finding> = check(&job, Some(&private))
        .into_iter()
        .filter(|f| f.severity == Severity::Stop)
        .collect();
    assert_eq!(stops, []);
}

/// Numbers at and past every edge.
const EDGES: [i64; 9] = [
    i64::MIN,
    i64::MIN + 1,
    -1,
    0,
    1,
    101,
    1_000_000_000,
    i64::MAX - 1,
    i64::MAX,
];
/// Texts that break careless code.
const TEXTS: [&str; 7] = [
    "",
    "\u{202E}\u{0}",
    "9999-12-31T23:59",
    "0000-01-01T00:00",
    "2011-12-30T12:00",
    "👩‍🎨🎈 שלום",
    "Pacific/Apia",
];

/// Replaces every number and text of a document by absurd ones, chosen in turn by the given choices.
fn distort(value: &mut Value, choices: &mut impl Iterator<Item = u8>) {
    match value {
        Value::Number(number) => {
            let edge = EDGES[usize::from(choices.next().unwrap_or(0)) % EDGES.len()];
            *number = edge.into();
        }
        Value::String(text) => {
            let choice = usize::from(choices.next().unwrap_or(0)) % (TEXTS.len() + 1);
            // one time in eight the text stays, so that words of closed lists and links between records survive
            if let Some(other) = TEXTS.get(choice) {
                *text = (*other).into();
            }
        }
        Value::Array(list) => list.iter_mut().for_each(|v| distort(v, choices)),
        Value::Object(map) => map.values_mut().for_each(|v| distort(v, choices)),
        Value::Null | Value::Bool(_) => {}
    }
}

proptest! {
    #[test]
    fn absurd_jobs_give_findings_and_never_panic(choices in prop::collection::vec(any::<u8>(), 64..512)) {
        let (job, private) = crate::demo::demo(&crate::defaults::starting_books(), "2027-06-12");
        let mut choices = choices.into_iter().cycle();
        let mut job = serde_json::to_value(job).expect("plain data");
        let mut private = serde_json::to_value(private).expect("plain data");
        distort(&mut job, &mut choices);
        distort(&mut private, &mut choices);
        let (job, _) = read::<Job>(job);
        let (private, _) = read::<Private>(private);
        prop_assert!(!check(&job, Some(&private)).is_empty());
    }
}

#[test]
fn every_number_at_one_edge_never_panics() {
    for edge in EDGES {
        let (job, private) = crate::demo::demo(&crate::defaults::starting_books(), "2027-06-12");
        let mut job = serde_json::to_value(job).expect("plain data");
        let mut private = serde_json::to_value(private).expect("plain data");
        all_numbers(&mut job, edge);
        all_numbers(&mut private, edge);
        let (job, _) = read::<Job>(job);
        let (private, _) = read::<Private>(private);
        let findings = check(&job, Some(&private));
        let absurd = !(0..=101).contains(&edge);
        assert_eq!(
            findings.iter().filter(|f| f.code == "out_of_range").count() > 100,
            absurd,
            "{edge}"
        );
    }
}

fn all_numbers(value: &mut Value, to: i64) {
    match value {
        Value::Number(number) => *number = to.into(),
        Value::Array(list) => list.iter_mut().for_each(|v| all_numbers(v, to)),
        Value::Object(map) => map.values_mut().for_each(|v| all_numbers(v, to)),
        _ => {}
    }
}

/// Absences that say nothing, and spreads that cannot be.
#[test]
fn absences_and_own_spreads_are_looked_at() {
    use crate::away::{Away, Spread};
    use crate::site::Crew;
    let mut job = Job::default();
    job.crew.insert(
        "ada".into(),
        Crew {
            name: "Ada".into(),
            ..Crew::default()
        },
    );
    let code = |job: &Job| {
        let found = check(job, None);
        let mine = found
            .iter()
            .find(|f| matches!(f.path.first().map(String::as_str), Some("away" | "spreads")));
        mine.map(|f| f.code.clone()).unwrap_or_default()
    };
    let away = |crew: &str, from: &str, to: &str| Away {
        crew: crew.into(),
        from: from.into(),
        to: to.into(),
        ..Away::default()
    };
    for (entry, want) in [
        (away("ada", "2027-06-12T09:00", "2027-06-12T12:00"), ""),
        (away("ada", "2027-06-12T09:00", ""), ""),
        (away("ada", "", "2027-06-12T09:00"), ""),
        (away("ada", "", ""), "away_without_end"),
        (away("ada", "nine", ""), "unreadable_away"),
        (
            away("ada", "2027-06-12T09:00", "2027-06-12T09:00"),
            "away_backwards",
        ),
        (away("ben", "2027-06-12T09:00", ""), "away_nobody"),
    ] {
        job.away.insert("a".into(), entry.clone());
        assert_eq!(code(&job), want, "{entry:?}");
    }
    job.away.clear();
    job.spreads.insert(
        "string_s".into(),
        Spread {
            low_pct: 90,
            high_pct: 120,
            jobs: 5,
            ..Spread::default()
        },
    );
    assert_eq!(code(&job), "");
    job.spreads.insert(
        "pair_s".into(),
        Spread {
            low_pct: 0,
            high_pct: 120,
            jobs: 5,
            ..Spread::default()
        },
    );
    assert_eq!(code(&job), "out_of_range");
    job.spreads.clear();
    job.times.early_min = -1;
    let found = check(&job, None);
    assert!(
        found
            .iter()
            .any(|f| f.code == "out_of_range" && f.path == ["times", "early_min"])
    );
}

/// The end of half an arch is free where no frame of the job is, or where the frame ends before it; a hook or a point holds it.
#[test]
fn the_end_of_half_an_arch_is_held_by_something() {
    use crate::piece::{Frame, Garland, Mount, Piece, PieceKind, Shape};
    let found = |on: &str, mount: Mount, change: fn(&mut Piece)| {
        let mut half = Piece {
            on: on.into(),
            mount,
            garland: Garland {
                shape: Shape::HalfArch,
                span_mm: 2000,
                rise_mm: 2200,
                ..Garland::default()
            },
            ..Piece::default()
        };
        change(&mut half);
        let frame = Piece {
            kind: PieceKind::Frame,
            frame: Frame {
                width_mm: 2000,
                height_mm: 2200,
                ..Frame::default()
            },
            gone: on.is_empty(),
            ..Piece::default()
        };
        let job = Job {
            pieces: [("h".to_string(), half), ("f".to_string(), frame)].into(),
            ..Job::default()
        };
        check(&job, None).iter().any(|f| f.code == "end_free")
    };
    assert!(!found("f", Mount::Frame, |_| {}));
    assert!(!found("f", Mount::Backdrop, |p| p.garland.mirrored = true));
    assert!(found("", Mount::Frame, |_| {}));
    assert!(!found("", Mount::WallHooks, |_| {}));
    assert!(!found("", Mount::CeilingPoints, |_| {}));
    // its foot half a metre outside the frame is still held; its end half a metre beyond it is not
    assert!(!found("f", Mount::Frame, |p| p.x_mm = -500));
    assert!(found("f", Mount::Frame, |p| p.x_mm = 500));
    assert!(found("f", Mount::Frame, |p| (p.x_mm, p.garland.mirrored) =
        (-500, true)));
    assert!(found("f", Mount::Frame, |p| p.garland.rise_mm = 2600));
    assert!(!found("f", Mount::Frame, |p| {
        (p.garland.shape, p.garland.rise_mm) = (Shape::Arch, 2600);
    }));
}

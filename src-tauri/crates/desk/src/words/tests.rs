use serde_json::json;

use super::*;

fn keys(path: &str) -> Vec<String> {
    path.split('/').map(Into::into).collect()
}

/// Fields that no person is told of: where a copy came from.
const UNSAID: [&str; 2] = ["source", "format"];

/// Every field of a document with its default, by the path that leads to it; lists with one item that has every field.
fn fields(path: &[String], value: &Value, found: &mut Vec<(Vec<String>, Value)>) {
    let Some(record) = value.as_object() else {
        return found.push((path.to_vec(), value.clone()));
    };
    for (key, inner) in record {
        let path = [path, std::slice::from_ref(key)].concat();
        match job::complete::complete(&path, &json!({})) {
            Ok(item) => fields(&[&path[..], &["1".to_string()]].concat(), &item, found),
            Err(_) => fields(&path, inner, found),
        }
    }
}

fn every_field() -> Vec<(Vec<String>, Value)> {
    let mut all = Vec::new();
    for document in [
        serde_json::to_value(job::Job::default()).unwrap(),
        serde_json::to_value(job::Private::default()).unwrap(),
        serde_json::to_value(job::Books::default()).unwrap(),
    ] {
        fields(&[], &document, &mut all);
    }
    all.retain(|(path, _)| !UNSAID.contains(&path.last().unwrap().as_str()));
    all
}

#[test]
fn every_field_has_a_name_in_words() {
    let job = json!({});
    let words = Words::of(&job, None);
    let all = every_field();
    assert!(all.len() > 250, "{}", all.len());
    let mut nameless = Vec::new();
    for (path, _) in &all {
        let (field, above) = path.split_last().unwrap();
        let (record, _) = words.subject(above, field);
        if names::name(record, field).is_none() {
            nameless.push(path.join("."));
        }
        let said = words.path(path);
        assert!(!said.contains('_'), "{path:?}: {said}");
    }
    assert_eq!(
        nameless,
        Vec::<String>::new(),
        "give them a name in names.rs"
    );
}

#[test]
fn every_measure_is_known_by_the_end_of_its_name() {
    let all = every_field();
    // counts of things, and numbers that only a number says
    let counts = [
        "stair_steps",
        "count",
        "on_hand",
        "bag",
        "seed",
        "moved",
        "ring",
        "band_rings",
        "each",
        "rounds",
        "foils",
        "foot",
        "spare_small_min",
        "spare_big_min",
        "season_from",
        "season_to",
        "number_next",
        "turn",
        "quantity",
        "burst",
        "bags",
        "ticked",
        "of",
        "units",
        "balloons",
        "jobs",
        "people",
    ];
    let job = json!({});
    let words = Words::of(&job, None);
    for (path, default) in all.iter().filter(|(_, default)| default.is_number()) {
        let field = path.last().unwrap().as_str();
        let count = words.value(path, default).measure == Measure::Count;
        assert_eq!(count, counts.contains(&field), "{path:?}");
    }
}

#[test]
fn fields_are_called_as_a_decorator_calls_them() {
    let job = json!({
        "colours": { "c1": { "name": "Blush" } },
        "items": { "i1": { "name": "", "colour": "c1", "size_in": 11 }, "i2": { "name": "Fishing line" } },
        "doors": { "d1": { "name": "Loading bay" }, "d2": { "name": "" } },
        "pieces": { "p1": { "name": "Arch over the stairs", "garland": {
            "mix": { "m1": { "size_in": 11 } }, "palette": { "s1": { "colour": "c1" } } } } },
    });
    let private = json!({ "charges": { "x": { "label": "Parking" } } });
    let words = Words::of(&job, Some(&private));
    for (path, said) in [
        ("name", "Name of the job"),
        ("venue/ceiling_mm", "Ceiling height"),
        ("times/ready_by", "Ready by"),
        ("doors/d1/width_mm", "Loading bay: clear width"),
        ("doors/d2/width_mm", "door: clear width"),
        ("doors/d1", "Loading bay"),
        ("pieces/p1/garland/span_mm", "Arch over the stairs: span"),
        (
            "pieces/p1/garland/mix/m1/share_pct",
            "Arch over the stairs, 11 in: share",
        ),
        (
            "pieces/p1/garland/palette/s1/share_pct",
            "Arch over the stairs, Blush: share",
        ),
        (
            "pieces/p1/garland/hand/6/locked",
            "Arch over the stairs, cluster 7: kept as it is",
        ),
        ("items/i1/on_hand", "Blush 11 in: on the shelf"),
        ("rates/pair_s", "How long it takes: a pair of rounds"),
        ("private/prices/tax_bp", "Tax"),
        ("private/charges/x/cents", "Parking: amount"),
        ("private/costs/i2/cents", "Fishing line: cost of a bag"),
        ("private/client/phone", "Client’s telephone"),
    ] {
        assert_eq!(words.path(&keys(path)), said, "{path}");
    }
    let text = |path: &str, value: Value| words.value(&keys(path), &value).text;
    assert_eq!(text("items/i1/colour", json!("c1")), "Blush");
    assert_eq!(text("pieces/p1/garland/hand/6/shade", json!("s1")), "Blush");
    assert_eq!(text("pieces/p1/on", json!("p1")), "Arch over the stairs");
    assert_eq!(
        text("pieces/p1/garland/odd", json!("mixed_pair")),
        "paired with another colour"
    );
    assert_eq!(text("items/i1/bags", json!([20, 100])), "20, 100");
    assert_eq!(text("venue/sun", json!(true)), "yes");
    let walk = words.value(&keys("venue/walk_m"), &json!(40));
    assert_eq!((walk.measure, walk.n), (Measure::Mm, 40_000));
    let ready = words.value(&keys("times/ready_by"), &json!("2027-06-12T14:00"));
    assert_eq!(ready.measure, Measure::Wall);
}

#[test]
fn what_is_only_said_of_a_job_does_not_feed_its_plan() {
    for path in [
        "name",
        "venue/contact",
        "venue/photo_ax_px",
        "private/client/phone",
        "crew/a/phone",
        "ticks/x",
        "notes/n",
        "kept/k",
        "colours/c/srgb",
    ] {
        assert!(!feeds_plan(&keys(path)), "{path}");
    }
    for path in [
        "venue/ceiling_mm",
        "times/ready_by",
        "pieces/p1",
        "crew/a/from_min",
        "private/prices/tax_bp",
        "private/costs/i/cents",
        "doors/d/order",
        "rules/fill_pct",
    ] {
        assert!(feeds_plan(&keys(path)), "{path}");
    }
}

//! Four jobs worked by hand (`tests/jobs`): the plan must give the figures that were written down before it.
//! Source of every expected value: the arithmetic in the `.md` file beside it.
#![expect(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use job::read::read_strictly;
use job::{Job, Private};
use serde_json::{Map, Value};

fn file(name: &str) -> Value {
    let path = format!(
        "{}/../../../tests/jobs/{name}.json",
        env!("CARGO_MANIFEST_DIR")
    );
    let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{path}: {e}"));
    serde_json::from_str(&text).unwrap_or_else(|e| panic!("{path}: {e}"))
}

/// One step of a path: a field, a place in a list, or `name[field=value,…]`.
fn step<'a>(at: &'a Value, step: &str) -> &'a Value {
    if let Some((name, rest)) = step.split_once('[') {
        let wanted: Vec<(&str, &str)> = rest
            .trim_end_matches(']')
            .split(',')
            .filter_map(|pair| pair.split_once('='))
            .collect();
        let matches = |entry: &&Value| {
            wanted.iter().all(|(field, value)| match &entry[*field] {
                Value::String(text) => text == value,
                other => other.to_string().as_str() == *value,
            })
        };
        let list = at[name]
            .as_array()
            .unwrap_or_else(|| panic!("{name} is no list"));
        return list.iter().find(matches).unwrap_or(&Value::Null);
    }
    match step.parse::<usize>() {
        Ok(place) if at.is_array() => &at[place],
        _ => &at[step],
    }
}

/// Splits at the dots that are not inside brackets.
fn steps(path: &str) -> Vec<String> {
    let mut out = vec![String::new()];
    let mut depth = 0;
    for letter in path.chars() {
        match letter {
            '[' => depth += 1,
            ']' => depth -= 1,
            _ => {}
        }
        if letter == '.' && depth == 0 {
            out.push(String::new());
        } else if let Some(last) = out.last_mut() {
            last.push(letter);
        }
    }
    out
}

fn look_up(plan: &Value, path: &str, zone: &str) -> Value {
    let (path, local) = match path.strip_suffix("@local") {
        Some(path) => (path, true),
        None => (path, false),
    };
    let (path, count) = match path.strip_suffix('#') {
        Some(path) => (path, true),
        None => (path, false),
    };
    let found = steps(path).iter().fold(plan, |at, name| step(at, name));
    if count {
        return found.as_array().map(Vec::len).into();
    }
    if local {
        return found
            .as_i64()
            .and_then(|ms| job::time::local(ms, zone))
            .into();
    }
    found.clone()
}

/// All figures that differ are shown together.
fn check(name: &str) {
    let job: Job = read_strictly(&file(&format!("{name}.job"))).unwrap();
    let private: Private = read_strictly(&file(&format!("{name}.private"))).unwrap();
    let plan = serde_json::to_value(plan::plan_at(
        &job,
        Some(&private),
        plan::Depth::Instant,
        &mut plan::Memory::default(),
    ))
    .unwrap();
    let expected: Map<String, Value> =
        serde_json::from_value(file(&format!("{name}.expect"))).unwrap();
    assert!(expected.len() > 50, "{name} has its figures");
    let wrong: Vec<String> = expected
        .iter()
        .map(|(path, by_hand)| (path, by_hand, look_up(&plan, path, &job.venue.zone)))
        .filter(|(_, by_hand, planned)| *by_hand != planned)
        .map(|(path, by_hand, planned)| format!("{path}: by hand {by_hand}, planned {planned}"))
        .collect();
    assert!(wrong.is_empty(), "{name}:\n{}", wrong.join("\n"));
}

#[test]
fn a_wall_garland_by_one_person() {
    check("hall");
}

#[test]
fn an_arch_through_the_night_when_the_clocks_change() {
    check("overnight");
}

#[test]
fn a_swag_outdoors_with_everything_in_the_way() {
    check("garden");
}

#[test]
fn a_birthday_of_all_the_other_kinds() {
    check("fiftieth");
}

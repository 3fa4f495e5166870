use std::path::PathBuf;

use super::*;

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../../tests/data/loading")
}

/// The whole published sets, where they lie beside the project.
fn whole_set(name: &str) -> Option<String> {
    let beside = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../../../shared/data/loading");
    let text = std::fs::read_to_string(beside.join(name)).ok();
    if text.is_none() {
        println!("{name} not run: data absent");
    }
    text
}

/// Tamke, Kuttner and Linß, EJOR (2025): placements published as right. The checker finds nothing in them.
fn judged(text: &str) -> usize {
    let loads = read(text).unwrap();
    for published in &loads {
        assert_eq!(
            check(&published.problem, &published.stood),
            [],
            "{}",
            published.id
        );
    }
    loads.len()
}

#[test]
fn published_placements_pass_the_checker() {
    let sample = std::fs::read_to_string(folder().join("loads-sample.json")).unwrap();
    assert_eq!(judged(&sample), 15);
    let whole = whole_set("cvrp3l/loads.json").map_or(0, |text| judged(&text));
    println!("{} published placements judged", 15 + whole);
}

/// Every file of boxes is read to its end, and none of the best known volumes is beyond the boxes or the container.
#[test]
fn whole_sets_are_read() {
    let best = whole_set("br/best_known.csv").unwrap_or_default();
    let mut read = 0;
    for set in 1..=4 {
        let Some(text) = whole_set(&format!("br/thpack{set}.txt")) else {
            continue;
        };
        let problems = thpack::read(&text).unwrap();
        assert_eq!(problems.len(), 100);
        for published in problems {
            let (problem, _) = published.problem(Support::None);
            let name = format!("BR{set}.txt_{},", published.number);
            let line = best.lines().find(|l| l.contains(&name)).unwrap();
            let volume: i64 = line.rsplit(',').next().unwrap().trim().parse().unwrap();
            let boxes: i64 = problem.items.iter().map(Item::volume).sum();
            assert!(volume <= boxes.min(problem.container.volume()), "{line}");
            read += 1;
        }
    }
    println!("{read} published problems read");
}

/// A tenth of a second is enough for four of five of the sample, and whatever is answered keeps every rule (`search` asks the checker).
#[test]
fn published_loads_are_found_again() {
    let sample = std::fs::read_to_string(folder().join("loads-sample.json")).unwrap();
    let loads = read(&sample).unwrap();
    let whole = loads.iter().filter(|l| {
        let found = search(&l.problem, 0.1).unwrap();
        found.load.placed.len() == l.problem.items.len()
    });
    let whole = whole.count();
    assert!(whole >= 12, "{whole} of 15");
}

#[test]
fn an_answer_says_where_everything_stands() {
    let text = "1 7 0 10 10 10 2 1 5 0 5 0 10 1 3 2 20 0 2 0 2 1 1";
    let published = &thpack::read(text).unwrap()[0];
    let (problem, types) = published.problem(Support::Full);
    let found = search(&problem, 0.01).unwrap();
    let answer = answer(&problem, &types, &found);
    let placements = answer["placements"].as_array().unwrap();
    assert_eq!(placements.len(), 3, "the long one does not go in");
    for p in placements {
        assert_eq!((&p["type"], &p["dz"]), (&json!(1), &json!(10)));
    }
    assert_eq!(answer["used"], 0.75);
    assert_eq!(answer["worst_support"], 1.0);
    assert!(answer["seconds"].as_f64().unwrap() < 5.0);
}

#[test]
fn what_is_wrong_is_said() {
    let words = |w: &[&str]| w.iter().map(ToString::to_string).collect::<Vec<_>>();
    for (bad, says) in [
        (&[][..], "which file"),
        (&["a", "b"], "one file"),
        (&["a", "--fast"], "there is no --fast"),
        (&["a", "--support", "half"], "full or none"),
        (&["a", "--seconds", "-1"], "--seconds"),
        (&["a", "--seconds"], "needs a value"),
        (&["a", "--instance", "x"], "whole number"),
    ] {
        let said = Asked::read(&words(bad)).unwrap_err();
        assert!(said.message.contains(says), "{bad:?}: {}", said.message);
    }
    let sample = folder().join("br1-first-three.txt");
    let sample = sample.to_str().unwrap();
    for bad in [&[sample][..], &[sample, "--instance", "99"], &["/no/such"]] {
        assert_eq!(loading(&words(bad)).unwrap_err().code, "usage", "{bad:?}");
    }
    let loads = std::fs::read_to_string(folder().join("loads-sample.json")).unwrap();
    for (from, to, says) in [
        ("\"dim\":[", "\"dim\":[1,", "dim is"),
        ("\"stop\":0", "\"stop\":-1", "stop is"),
        ("\"fragile\":false", "\"fragile\":0", "fragile is"),
        ("\"id\":", "\"name\":", "id is a text"),
        ("[", "", "not JSON"),
    ] {
        let said = read(&loads.replacen(from, to, 1)).map(|_| ()).unwrap_err();
        assert!(said.contains(says), "{to}: {said}");
    }
}

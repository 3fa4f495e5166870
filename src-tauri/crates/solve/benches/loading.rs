//! How much the loading solver loads, and how long it takes. Times are of the processor where Linux tells them, setting up included.
//! The published sets lie beside the project or are not run. Nothing here can fail.
#![expect(
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock; it never runs on wasm32"
)]
#![expect(clippy::print_stdout, reason = "this is what a benchmark is for")]

use std::path::PathBuf;
use std::time::Instant;

use serde_json::Value;
use solve::loading::types::{Bears, Container, Item, Order, Problem, Support, Triple, Turns};
use solve::loading::{Search, load, thpack};

/// A plain stream of numbers (Knuth's MMIX generator, upper bits).
struct Chance(u64);

impl Chance {
    fn between(&mut self, low: i32, high: i32) -> i32 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        low + ((self.0 >> 33) as i32) % (high - low + 1)
    }
}

/// Time of this thread, s.
fn now(start: Instant) -> f64 {
    std::fs::read_to_string("/proc/thread-self/schedstat")
        .ok()
        .and_then(|text| text.split_whitespace().next()?.parse::<f64>().ok())
        .map_or_else(|| start.elapsed().as_secs_f64(), |ns| ns / 1e9)
}

/// Share of the container used after each of some times, s, and whether everything is in.
fn search(problem: &Problem, times: &[f64], start: Instant) -> (Vec<f64>, bool) {
    let begun = now(start);
    let Ok(mut search) = Search::new(problem, 1) else {
        return (Vec::new(), false);
    };
    let mut used = Vec::new();
    for time in times {
        while now(start) - begun < *time && search.advance() {}
        used.push(search.volume() as f64 / problem.container.volume() as f64 * 100.0);
    }
    (used, search.best().placed.len() == problem.items.len())
}

fn data(name: &str) -> Option<String> {
    let beside = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../../../shared/data/loading");
    std::fs::read_to_string(beside.join(name)).ok()
}

/// Means of the published boxes.
fn boxes(start: Instant) {
    for (what, sets, every, count) in [
        ("first ten", vec![1, 4], 1, 10),
        ("every tenth", vec![1, 2, 3, 4], 10, 10),
    ] {
        for support in [Support::Full, Support::None] {
            for set in &sets {
                let Some(text) = data(&format!("br/thpack{set}.txt")) else {
                    println!("BR{set} not run: data absent");
                    continue;
                };
                let all = thpack::read(&text).unwrap_or_default();
                let mut sums = [0.0; 2];
                for published in all.iter().step_by(every).take(count) {
                    let (used, _) = search(&published.problem(support).0, &[0.2, 1.0], start);
                    for (sum, used) in sums.iter_mut().zip(used) {
                        *sum += used;
                    }
                }
                let [quick, slow] = sums.map(|s| s / count as f64);
                println!(
                    "BR{set} {what}, support {support:?}: {quick:.2} % at 0.2 s, {slow:.2} % at 1 s"
                );
            }
        }
    }
}

fn triple(value: &Value) -> Triple {
    [0, 1, 2].map(|i| value[i].as_i64().unwrap_or(0) as i32)
}

/// How many of the published loads are found whole in 0.2 s.
fn loads(start: Instant) {
    let Some(text) = data("cvrp3l/loads.json") else {
        println!("published loads not run: data absent");
        return;
    };
    let value: Value = serde_json::from_str(&text).unwrap_or_default();
    let mut variants: Vec<(String, usize, usize)> = Vec::new();
    for published in value.as_array().into_iter().flatten() {
        let has = |rule: &str| {
            published["rules"]
                .as_array()
                .is_some_and(|r| r.iter().any(|r| r == rule))
        };
        let items = published["items"]
            .as_array()
            .into_iter()
            .flatten()
            .map(|item| Item {
                stop: item["stop"].as_u64().unwrap_or(0) as u32,
                bears: if has("fragility") && item["fragile"] == true {
                    Bears::OwnKind
                } else {
                    Bears::All
                },
                ..Item::rigid(triple(&item["dim"]), Turns::UPRIGHT)
            });
        let problem = Problem {
            container: Container::plain(triple(&published["vehicle"])),
            items: items.collect(),
            support: if has("support") {
                Support::Share(75)
            } else {
                Support::None
            },
            order: if has("lifo") {
                Order::Lifo
            } else {
                Order::Free
            },
        };
        let (_, whole) = search(&problem, &[0.2], start);
        let name = published["variant"].as_str().unwrap_or("").to_string();
        match variants.iter_mut().find(|v| v.0 == name) {
            Some(v) => {
                v.1 += usize::from(whole);
                v.2 += 1;
            }
            None => variants.push((name, usize::from(whole), 1)),
        }
    }
    for (name, whole, of) in &variants {
        println!("loads {name}: {whole} of {of} at 0.2 s");
    }
    let (whole, of) = variants.iter().fold((0, 0), |(a, b), v| (a + v.1, b + v.2));
    println!("loads in all: {whole} of {of}");
}

/// Cuts a box from face to face.
fn cut(sides: Triple, pieces: i32, chance: &mut Chance, out: &mut Vec<Triple>) {
    let axis = chance.between(0, 2) as usize;
    if pieces <= 1 || sides[axis] < 2 {
        out.push(sides);
        return;
    }
    let (mut a, mut b) = (sides, sides);
    a[axis] = chance.between(1, sides[axis] - 1);
    b[axis] -= a[axis];
    cut(a, pieces / 2, chance, out);
    cut(b, pieces - pieces / 2, chance, out);
}

fn exact(start: Instant) {
    let mut found = 0;
    for seed in 0..100 {
        let mut chance = Chance(seed * 7919 + 1);
        let pieces = chance.between(4, 12);
        let mut items = Vec::new();
        cut([100; 3], pieces, &mut chance, &mut items);
        let problem = Problem {
            container: Container::plain([100; 3]),
            items: items
                .iter()
                .map(|s| Item::rigid(*s, Turns::UPRIGHT))
                .collect(),
            support: Support::Full,
            order: Order::Free,
        };
        found += u32::from(search(&problem, &[0.2], start).1);
    }
    println!("exact fills of up to 12 pieces: {found} of 100 at 0.2 s");
}

/// A van's load of different things with three stops, some of which carry nothing.
fn van(items: i32, seed: u64) -> Problem {
    let mut chance = Chance(seed);
    let items = (0..items).map(|_| {
        let sides = [
            chance.between(200, 1_200),
            chance.between(200, 600),
            chance.between(150, 500),
        ];
        Item {
            stop: chance.between(0, 2) as u32,
            bears: if chance.between(0, 2) == 0 {
                Bears::Nothing
            } else {
                Bears::All
            },
            ..Item::rigid(sides, Turns::ALL)
        }
    });
    Problem {
        items: items.collect(),
        container: Container::plain([4_300, 1_800, 1_900]),
        support: Support::Full,
        order: Order::LifoByHand,
    }
}

fn growth(start: Instant) {
    for items in [10, 20, 40, 60, 100, 200] {
        let problem = van(items, 5);
        let mut search = match Search::new(&problem, 1) {
            Ok(search) => search,
            Err(fault) => {
                println!("{fault:?}");
                continue;
            }
        };
        let begun = now(start);
        search.advance();
        let first = now(start) - begun;
        let begun = now(start);
        let in_budget = load(&problem, 50_000_000);
        let took = now(start) - begun;
        println!(
            "{items} items with stops: first answer {:.2} ms; 50 million units of work {:.1} ms, {} in",
            first * 1e3,
            took * 1e3,
            in_budget.map_or(0, |l| l.placed.len())
        );
    }
}

fn main() {
    let start = Instant::now();
    exact(start);
    growth(start);
    loads(start);
    boxes(start);
}

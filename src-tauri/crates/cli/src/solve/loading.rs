//! `airwright-cli solve loading` and `solve loads`: the loading solver by itself, on files of published questions.
use std::time::Instant;

use desk::Fault;
use serde_json::{Value, json};
use solve::loading::check::{check, supported};
use solve::loading::types::{
    Bears, Container, Cuboid, Item, Load, Order, Placed, Problem, Support, Triple, Turns,
};
use solve::loading::{Search, thpack};

use crate::usage;

/// Longest time that is taken, s.
const LONGEST_S: f64 = 3_600.0;

/// What the words ask for.
#[derive(Debug)]
struct Asked {
    file: String,
    instance: Option<i64>,
    support: Support,
    seconds: f64,
    all: bool,
}

impl Asked {
    fn read(words: &[String]) -> Result<Asked, Fault> {
        let mut asked = Asked {
            file: String::new(),
            instance: None,
            support: Support::Full,
            seconds: 1.0,
            all: false,
        };
        let mut rest = words.iter();
        while let Some(word) = rest.next() {
            let mut value = || {
                rest.next()
                    .ok_or_else(|| usage(format!("{word} needs a value")))
            };
            match word.as_str() {
                "--instance" => {
                    let number = value()?.parse().ok();
                    asked.instance =
                        Some(number.ok_or_else(|| usage("--instance is a whole number"))?);
                }
                "--support" => {
                    asked.support = match value()?.as_str() {
                        "full" => Support::Full,
                        "none" => Support::None,
                        _ => return Err(usage("--support is full or none")),
                    };
                }
                "--seconds" => {
                    let seconds = value()?.parse().ok();
                    asked.seconds = seconds
                        .filter(|s| *s > 0.0 && *s <= LONGEST_S)
                        .ok_or_else(|| usage("--seconds is a number, at most 3600"))?;
                }
                "--all" => asked.all = true,
                _ if word.starts_with("--") => {
                    return Err(usage(format!("there is no {word}")));
                }
                _ if asked.file.is_empty() => asked.file.clone_from(word),
                _ => return Err(usage("one file is taken")),
            }
        }
        if asked.file.is_empty() {
            return Err(usage("which file?"));
        }
        Ok(asked)
    }

    fn text(&self) -> Result<String, Fault> {
        std::fs::read_to_string(&self.file).map_err(|e| self.wrong(e))
    }

    fn wrong(&self, why: impl std::fmt::Display) -> Fault {
        usage(format!("{}: {why}", self.file))
    }
}

/// A load and how long it took.
struct Found {
    load: Load,
    seconds: f64,
}

/// Time that this thread worked, of the processor where Linux tells it, so that a busy machine matters less, else of the clock.
struct Watch {
    start: Instant,
    worked: Option<f64>,
}

impl Watch {
    fn start() -> Watch {
        #[expect(
            clippy::disallowed_methods,
            reason = "a host is where the clock is read"
        )]
        let start = Instant::now();
        Watch {
            start,
            worked: worked(),
        }
    }

    fn seconds(&self) -> f64 {
        match (self.worked, worked()) {
            (Some(before), Some(now)) => now - before,
            _ => self.start.elapsed().as_secs_f64(),
        }
    }
}

fn worked() -> Option<f64> {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    let nanoseconds: f64 = text.split_whitespace().next()?.parse().ok()?;
    Some(nanoseconds / 1e9)
}

/// Searches until the time is over, setting up included; what comes out has passed the checker.
fn search(problem: &Problem, seconds: f64) -> Result<Found, Fault> {
    let watch = Watch::start();
    let mut search =
        Search::new(problem, 1).map_err(|fault| usage(format!("no question: {fault:?}")))?;
    while watch.seconds() < seconds && search.advance() {}
    let load = search.best();
    let seconds = watch.seconds();
    match check(problem, &load).first() {
        None => Ok(Found { load, seconds }),
        Some(broken) => Err(Fault {
            code: "loading_broken".into(),
            message: format!("The answer breaks a rule: {broken:?}."),
            hint: "Please report this with the file.".into(),
        }),
    }
}

/// Share of the base of the worst box that is supported; 1 of nothing.
fn worst_support(problem: &Problem, load: &Load) -> f64 {
    let shares = load.placed.iter().map(|p| {
        let (on, area) = supported(problem, &load.placed, &p.place);
        on as f64 / area.max(1) as f64
    });
    shares.fold(1.0, f64::min)
}

fn used(problem: &Problem, load: &Load) -> f64 {
    load.volume as f64 / problem.container.volume().max(1) as f64
}

fn answer(problem: &Problem, types: &[usize], found: &Found) -> Value {
    let placements: Vec<Value> = found
        .load
        .placed
        .iter()
        .map(|p| {
            let ([x, y, z], [dx, dy, dz]) = (p.place.at, p.place.sides);
            let kind = types.get(p.item).map_or(0, |t| t + 1);
            json!({ "x": x, "y": y, "z": z, "dx": dx, "dy": dy, "dz": dz, "type": kind })
        })
        .collect();
    json!({
        "placements": placements,
        "used": used(problem, &found.load),
        "worst_support": worst_support(problem, &found.load),
        "boxes": found.load.placed.len(),
        "of": problem.items.len(),
        "seconds": found.seconds,
    })
}

/// `solve loading`: a thpack file.
pub fn loading(words: &[String]) -> Result<(), Fault> {
    let asked = Asked::read(words)?;
    let problems = thpack::read(&asked.text()?).map_err(|e| asked.wrong(e))?;
    if asked.all {
        let mut sum = 0.0;
        for published in &problems {
            let (problem, _) = published.problem(asked.support);
            let found = search(&problem, asked.seconds)?;
            let used = used(&problem, &found.load);
            sum += used;
            println!(
                "{:>4}  {:6.2} %  {:>3} of {:>3} boxes  worst support {:5.1} %  {:.2} s",
                published.number,
                used * 100.0,
                found.load.placed.len(),
                problem.items.len(),
                worst_support(&problem, &found.load) * 100.0,
                found.seconds,
            );
        }
        println!("mean  {:6.2} %", sum * 100.0 / problems.len().max(1) as f64);
        return Ok(());
    }
    let number = asked
        .instance
        .ok_or_else(|| usage("which one? --instance K, or --all"))?;
    let published = problems
        .iter()
        .find(|p| p.number == number)
        .ok_or_else(|| asked.wrong(format!("there is no problem {number}")))?;
    let (problem, types) = published.problem(asked.support);
    let found = search(&problem, asked.seconds)?;
    println!("{:#}", answer(&problem, &types, &found));
    Ok(())
}

/// A published load: a vehicle and items of which it is known that they fit, and where they stood.
struct Published {
    id: String,
    variant: String,
    problem: Problem,
    /// Where they stood.
    #[cfg_attr(not(test), expect(dead_code, reason = "tests judge the checker by it"))]
    stood: Load,
}

/// `solve loads`: the file of published loads.
pub fn loads(words: &[String]) -> Result<(), Fault> {
    let asked = Asked::read(words)?;
    let loads = read(&asked.text()?).map_err(|e| asked.wrong(e))?;
    let chosen: Vec<&Published> = match asked.instance {
        None => loads.iter().collect(),
        Some(number) => {
            let at = usize::try_from(number - 1).ok();
            let load = at.and_then(|at| loads.get(at));
            vec![load.ok_or_else(|| asked.wrong(format!("there is no load {number}")))?]
        }
    };
    let mut answers = Vec::new();
    let mut variants: Vec<(&str, usize, usize)> = Vec::new();
    for published in chosen {
        let problem = &published.problem;
        let found = search(problem, asked.seconds)?;
        let whole = found.load.placed.len() == problem.items.len();
        if !variants.iter().any(|v| v.0 == published.variant) {
            variants.push((&published.variant, 0, 0));
        }
        if let Some(variant) = variants.iter_mut().find(|v| v.0 == published.variant) {
            variant.1 += usize::from(whole);
            variant.2 += 1;
        }
        if asked.all {
            println!(
                "{}  {} of {} items  {:5.1} %  {:.3} s",
                published.id,
                found.load.placed.len(),
                problem.items.len(),
                used(problem, &found.load) * 100.0,
                found.seconds,
            );
        } else {
            let types: Vec<usize> = (0..problem.items.len()).collect();
            let mut answer = answer(problem, &types, &found);
            answer["id"] = json!(published.id);
            answer["fits"] = json!(whole);
            answers.push(answer);
        }
    }
    let whole: usize = variants.iter().map(|v| v.1).sum();
    let of: usize = variants.iter().map(|v| v.2).sum();
    if asked.all {
        for (variant, whole, of) in &variants {
            println!("{variant}: {whole} of {of}");
        }
        println!(
            "all: {whole} of {of}, {:.1} %",
            whole as f64 * 100.0 / of.max(1) as f64
        );
    } else {
        println!("{:#}", json!({ "loads": answers, "fit": whole, "of": of }));
    }
    Ok(())
}

fn read(text: &str) -> Result<Vec<Published>, String> {
    let value: Value = serde_json::from_str(text).map_err(|e| format!("this is not JSON: {e}"))?;
    let all = value.as_array().ok_or("this is no list of loads")?;
    all.iter()
        .enumerate()
        .map(|(i, load)| one(load).map_err(|e| format!("load {}: {e}", i + 1)))
        .collect()
}

fn one(load: &Value) -> Result<Published, String> {
    let rules = load["rules"].as_array().ok_or("rules is a list")?;
    let has = |rule: &str| rules.iter().any(|r| r == rule);
    let grams = |value: &Value| (value.as_f64().unwrap_or(0.0) * 1000.0) as i64;
    let mut items = Vec::new();
    let mut stood = Load::default();
    for (i, item) in load["items"]
        .as_array()
        .ok_or("items is a list")?
        .iter()
        .enumerate()
    {
        let sides = triple(&item["dim"]).ok_or("dim is [dx, dy, dz]")?;
        let at = triple(&item["pos"]).ok_or("pos is [x, y, z]")?;
        let stop = item["stop"].as_u64().and_then(|s| u32::try_from(s).ok());
        let fragile = item["fragile"]
            .as_bool()
            .ok_or("fragile is true or false")?;
        items.push(Item {
            stop: stop.ok_or("stop is a whole number")?,
            bears: if fragile && has("fragility") {
                Bears::OwnKind
            } else {
                Bears::All
            },
            ..Item::rigid(sides, Turns::UPRIGHT)
        });
        stood.volume += Cuboid { at, sides }.volume();
        stood.placed.push(Placed {
            item: i,
            place: Cuboid { at, sides },
            rung: 0,
        });
    }
    // a load is listed by stops; put in it goes from the floor up
    stood.placed.sort_by_key(|p| p.place.at[2]);
    // the file tells the mass of the whole load alone: it is the first item's
    if let Some(first) = items.first_mut() {
        first.mass_g = grams(&load["weight"]);
    }
    let container = Container {
        payload_g: load["weight_limit"]
            .as_f64()
            .map(|_| grams(&load["weight_limit"])),
        ..Container::plain(triple(&load["vehicle"]).ok_or("vehicle is [L, W, H]")?)
    };
    Ok(Published {
        id: load["id"].as_str().ok_or("id is a text")?.into(),
        variant: load["variant"].as_str().ok_or("variant is a text")?.into(),
        problem: Problem {
            container,
            items,
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
        },
        stood,
    })
}

fn triple(value: &Value) -> Option<Triple> {
    let [x, y, z] = value.as_array()?.as_slice() else {
        return None;
    };
    let whole = |v: &Value| v.as_i64().and_then(|v| i32::try_from(v).ok());
    Some([whole(x)?, whole(y)?, whole(z)?])
}

#[cfg(test)]
mod tests;

//! `airwright-cli solve schedule`: the scheduling engine by itself, on projects in published text formats.
use std::collections::BTreeMap;
use std::path::Path;
use std::time::Instant;

use desk::Fault;
use serde_json::{Value, json};
use solve::schedule::engine::{Engine, WORK_A_SECOND};
use solve::schedule::project::Project;
use solve::schedule::read::read;

use crate::usage;

/// Slices of the planned work between two looks at the clock.
const SLICES: u64 = 50;
/// Longest time that can be asked for, s.
const LONGEST_S: f64 = 86_400.0;

#[derive(Debug, Clone, Copy)]
enum Budget {
    Seconds(f64),
    Work(u64),
}

/// Solves a file or a folder of them, and prints the answers as JSON.
pub fn schedule(words: &[String]) -> Result<(), Fault> {
    let (mut file, mut folder, mut known, mut budget) = (None, None, None, None);
    let mut words = words.iter();
    while let Some(word) = words.next() {
        let mut value = || {
            words
                .next()
                .ok_or_else(|| usage(format!("{word} needs a value")))
        };
        match word.as_str() {
            "--folder" => folder = Some(value()?),
            "--known" => known = Some(value()?),
            "--seconds" | "--work" if budget.is_some() => {
                return Err(usage("either --seconds or --work, once"));
            }
            "--seconds" => {
                let seconds = value()?
                    .parse()
                    .ok()
                    .filter(|s| (0.0..=LONGEST_S).contains(s));
                let seconds = seconds
                    .ok_or_else(|| usage(format!("--seconds is a number from 0 to {LONGEST_S}")))?;
                budget = Some(Budget::Seconds(seconds));
            }
            "--work" => {
                let work = value()?
                    .parse()
                    .map_err(|_| usage("--work is a whole number from 0 up"))?;
                budget = Some(Budget::Work(work));
            }
            _ if word.starts_with("--") => return Err(usage(format!("there is no {word}"))),
            _ if file.is_none() => file = Some(word),
            _ => return Err(usage("solve schedule takes one file")),
        }
    }
    let budget = budget.unwrap_or(Budget::Seconds(1.0));
    match (file, folder) {
        (Some(file), None) if known.is_none() => {
            let project = open(Path::new(file))?;
            println!("{}", answer(&project, budget));
            Ok(())
        }
        (None, Some(folder)) => {
            let folder = Path::new(folder);
            let name = folder.file_name().unwrap_or_default().to_string_lossy();
            let known = known
                .map(|file| published(Path::new(file), &name))
                .transpose()?;
            set(folder, &known.unwrap_or_default(), budget)
        }
        _ => Err(usage(
            "solve schedule takes a file or --folder with a folder; --known goes with the folder",
        )),
    }
}

fn open(file: &Path) -> Result<Project, Fault> {
    let name = file.display();
    let text = std::fs::read_to_string(file).map_err(|e| usage(format!("{name}: {e}")))?;
    read(&text).map_err(|e| usage(format!("{name}, line {}: {}", e.line, e.message)))
}

/// Computing time of this thread so far, s, where the system tells it; it does not count the time of others. Else by the clock.
fn seconds(since: Instant) -> f64 {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok();
    let told = told.and_then(|t| t.split_whitespace().next()?.parse::<f64>().ok());
    told.map_or_else(|| since.elapsed().as_secs_f64(), |ns| ns * 1e-9)
}

fn answer(project: &Project, budget: Budget) -> Value {
    #[expect(
        clippy::disallowed_methods,
        reason = "a host is where the clock is read"
    )]
    let start = Instant::now();
    let from = seconds(start);
    let mut engine = Engine::new(project);
    match budget {
        Budget::Work(work) => {
            engine.run(work, work);
        }
        Budget::Seconds(limit) => {
            // whole numbers of steps, below 2^53
            let planned = (limit * WORK_A_SECOND as f64) as u64;
            let slice = (planned / SLICES).max(1000);
            let mut work = 0;
            while !engine.outcome().proven && seconds(start) - from < limit {
                let before = engine.outcome().work;
                work += slice;
                engine.run(work, planned.max(work));
                if engine.outcome().work == before && work > planned {
                    break;
                }
            }
        }
    }
    let seconds = seconds(start) - from;
    let outcome = engine.outcome();
    json!({
        "makespan": outcome.makespan,
        "lower_bound": outcome.lower_bound,
        "proven": outcome.proven,
        "feasible": outcome.feasible(),
        "starts": outcome.starts,
        "work": outcome.work,
        "seconds": seconds,
    })
}

/// Every project of a folder, by name, and the means.
fn set(folder: &Path, known: &BTreeMap<String, Option<i64>>, budget: Budget) -> Result<(), Fault> {
    let name = folder.display();
    let entries = std::fs::read_dir(folder).map_err(|e| usage(format!("{name}: {e}")))?;
    let mut files: Vec<_> = entries.filter_map(|e| Some(e.ok()?.path())).collect();
    files.retain(|f| f.extension().is_some_and(|e| e == "sm" || e == "sch"));
    files.sort();
    if files.is_empty() {
        return Err(usage(format!("{name}: no .sm and no .sch file is in it")));
    }
    let mut means = Means::default();
    for file in &files {
        let project = open(file)?;
        let name = file
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .to_string();
        let paths = project.heads().ok().map(|heads| {
            let tails = project.tails();
            heads
                .iter()
                .zip(&tails)
                .map(|(h, t)| h + t)
                .max()
                .unwrap_or(0)
        });
        let mut line = answer(&project, budget);
        means.add(&line, paths, known.get(&name));
        if let Some(line) = line.as_object_mut() {
            line.remove("starts");
            line.insert("file".into(), name.into());
            line.insert("longest_path".into(), paths.into());
        }
        println!("{line}");
    }
    println!("{:#}", means.told());
    Ok(())
}

/// What a set comes to.
#[derive(Debug, Default)]
struct Means {
    files: u32,
    proven: u32,
    feasible: u32,
    seconds: f64,
    most_seconds: f64,
    work: f64,
    /// Makespan above the longest path, a share; of those with a schedule.
    above_path: f64,
    compared: u32,
    equal: u32,
    above_known: f64,
    contradicting: u32,
}

impl Means {
    fn add(&mut self, line: &Value, paths: Option<i64>, known: Option<&Option<i64>>) {
        let proven = line["proven"] == true;
        let makespan = line["makespan"].as_i64();
        self.files += 1;
        self.proven += u32::from(proven);
        let seconds = line["seconds"].as_f64().unwrap_or(0.0);
        self.seconds += seconds;
        self.most_seconds = self.most_seconds.max(seconds);
        self.work += line["work"].as_f64().unwrap_or(0.0);
        let above = |m: i64, of: i64| (m - of) as f64 / of.max(1) as f64;
        if let Some(makespan) = makespan {
            self.feasible += 1;
            self.above_path += above(makespan, paths.unwrap_or(makespan));
        }
        let bound = line["lower_bound"].as_i64().unwrap_or(0);
        match (known, makespan) {
            (None, _) => {}
            (Some(None), found) => {
                self.compared += 1;
                self.equal += u32::from(found.is_none() && proven);
                self.contradicting += u32::from(found.is_some());
            }
            (Some(Some(best)), None) => {
                self.compared += 1;
                self.contradicting += u32::from(proven || bound > *best);
            }
            (Some(Some(best)), Some(found)) => {
                self.compared += 1;
                self.equal += u32::from(found == *best);
                self.above_known += above(found, *best);
                self.contradicting += u32::from(bound > *best || (proven && found != *best));
            }
        }
    }

    fn told(&self) -> Value {
        let mean = |sum: f64, of: u32| if of == 0 { 0.0 } else { sum / f64::from(of) };
        json!({
            "files": self.files,
            "proven": self.proven,
            "proven_percent": 100.0 * mean(f64::from(self.proven), self.files),
            "feasible": self.feasible,
            "mean_above_longest_path_percent": 100.0 * mean(self.above_path, self.feasible),
            "compared": self.compared,
            "equal_to_known": self.equal,
            "mean_above_known_percent": 100.0 * mean(self.above_known, self.compared),
            "contradicting_known": self.contradicting,
            "mean_seconds": mean(self.seconds, self.files),
            "most_seconds": self.most_seconds,
            "mean_work": mean(self.work, self.files),
        })
    }
}

/// Published makespans by file name; none where there is proved to be no schedule. Rows with semicolons as the benchmark tables of
/// Ghent University have them (second column the file, "UB value" the makespan), or with commas and the columns "instance" and
/// "result"; a column "set" picks the rows of this set.
fn published(file: &Path, set: &str) -> Result<BTreeMap<String, Option<i64>>, Fault> {
    let bytes = std::fs::read(file).map_err(|e| usage(format!("{}: {e}", file.display())))?;
    known(&String::from_utf8_lossy(&bytes), set).ok_or_else(|| {
        usage(format!(
            "{}: no columns of instances and makespans",
            file.display()
        ))
    })
}

fn known(text: &str, set: &str) -> Option<BTreeMap<String, Option<i64>>> {
    let mut lines = text.lines();
    let (separator, name, value, of_set) = lines.find_map(|line| {
        let by = if line.contains(';') { ';' } else { ',' };
        let columns: Vec<&str> = line.split(by).map(str::trim).collect();
        let column = |is: &str| columns.iter().position(|c| *c == is);
        match (column("instance"), column("result"), column("UB value")) {
            (Some(name), Some(value), _) => Some((by, name, value, column("set"))),
            // the file stands in the second column, which the table's title row does not name
            (_, _, Some(value)) => Some((by, 1, value, None)),
            _ => None,
        }
    })?;
    let mut known = BTreeMap::new();
    for line in lines {
        let columns: Vec<&str> = line.split(separator).map(str::trim).collect();
        let of_other_set = of_set.is_some_and(|k| columns.get(k).is_some_and(|s| *s != set));
        let (Some(name), Some(result)) = (columns.get(name), columns.get(value)) else {
            continue;
        };
        let makespan: Option<i64> = result.parse().ok();
        if !of_other_set && (makespan.is_some() || *result == "unsat") {
            known.insert((*name).to_string(), makespan);
        }
    }
    Some(known)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tables_of_known_makespans() {
        let with_sets =
            "set,instance,result\na,p1.sch,26\nb,p1.sch,27\na,p2.sch,unsat\na,p3.sch,\n";
        let want = BTreeMap::from([
            ("p1.sch".to_string(), Some(26)),
            ("p2.sch".to_string(), None),
        ]);
        assert_eq!(known(with_sets, "a"), Some(want));
        let titled = "Title;X\nID;Ref1;LB value;UB value\n1;x1.sm;5;7\n# notes\n";
        let want = BTreeMap::from([("x1.sm".to_string(), Some(7))]);
        assert_eq!(known(titled, "a"), Some(want));
        assert_eq!(known("nothing", "a"), None);
    }

    #[test]
    fn what_is_wrong_is_said() {
        let words = |w: &[&str]| w.iter().map(ToString::to_string).collect::<Vec<_>>();
        for (bad, says) in [
            (&[][..], "takes a file or --folder"),
            (&["/no/such/file"], "/no/such/file"),
            (&["--folder", "/no/such/folder"], "/no/such/folder"),
            (&["a", "b"], "one file"),
            (&["a", "--known", "b"], "goes with the folder"),
            (&["a", "--seconds", "x"], "--seconds is a number"),
            (&["a", "--work", "-1"], "--work is a whole number"),
            (&["a", "--work", "1", "--seconds", "1"], "once"),
            (&["a", "--work"], "needs a value"),
            (&["a", "--fast"], "there is no --fast"),
        ] {
            let Err(fault) = schedule(&words(bad)) else {
                panic!("{bad:?} was taken");
            };
            assert_eq!(fault.code, "usage");
            assert!(fault.message.contains(says), "{bad:?}: {}", fault.message);
        }
    }

    /// Two activities of 2 and 3 that need the same thing, one before the other or not: 5 in any order.
    #[test]
    fn a_small_project() {
        let text = "2 1 0 0\n0 1 2 1 2 [0] [0]\n1 1 1 3 [2]\n2 1 1 3 [3]\n3 1 0\n0 1 0 0\n1 1 2 1\n2 1 3 1\n3 1 0 0\n1\n";
        let project = read(text).unwrap();
        let answer = answer(&project, Budget::Work(10_000));
        for (key, want) in [
            ("makespan", json!(5)),
            ("lower_bound", json!(5)),
            ("proven", json!(true)),
            ("feasible", json!(true)),
        ] {
            assert_eq!(answer[key], want, "{key}");
        }
        assert_eq!(answer["starts"].as_array().map(Vec::len), Some(4));
    }
}

//! `airwright-cli solve packing`: a solver by itself, from a file of plain numbers.
mod loading;

use std::time::Instant;

use desk::Fault;
use glam::DVec3;
use serde_json::{Value, json};
use solve::packing::check::overlaps;
use solve::packing::measure::measure;
use solve::packing::path::Path;
use solve::packing::{
    Cluster, Effort, MOST_IN_CLUSTER, Packing, PathFault, Settings, instant, pack,
};

use crate::{schedule, usage};

/// Diameters that are taken, m.
const DIAMETERS: [f64; 2] = [0.01, 10.0];
/// Places that are taken, m from the origin.
const FAR: f64 = 100_000.0;
/// Longest neck that is taken, radii, and greatest softness.
const NECK: f64 = 3.0;
/// See [`NECK`].
const SOFTNESS: f64 = 0.3;
/// Balloons that are taken; more would take minutes.
const MOST: usize = 200_000;

struct Question {
    clusters: Vec<Cluster>,
    path: Path,
    settings: Settings,
}

/// Solves, and prints the answer as JSON.
pub fn solve(words: &[String]) -> Result<(), Fault> {
    let mut file = None;
    let mut by_rule = false;
    match words.split_first() {
        Some((what, rest)) if what == "schedule" => return schedule::schedule(rest),
        Some((what, rest)) if what == "packing" => {
            for word in rest {
                match word.as_str() {
                    "--instant" => by_rule = true,
                    _ if word.starts_with("--") => {
                        return Err(usage(format!("there is no {word}")));
                    }
                    _ if file.is_none() => file = Some(word),
                    _ => return Err(usage("solve packing takes one file")),
                }
            }
        }
        Some((what, rest)) if what == "loading" => return loading::loading(rest),
        Some((what, rest)) if what == "loads" => return loading::loads(rest),
        _ => {
            return Err(usage(
                "solve what? There are: packing, loading, loads, schedule",
            ));
        }
    }
    let file = file.ok_or_else(|| usage("solve packing needs a file"))?;
    let text = std::fs::read_to_string(file).map_err(|e| usage(format!("{file}: {e}")))?;
    let question = read(&text).map_err(|e| usage(format!("{file}: {e}")))?;
    if by_rule {
        println!("{:#}", answer_by_rule(&question));
        return Ok(());
    }
    #[expect(
        clippy::disallowed_methods,
        reason = "a host is where the clock is read"
    )]
    let start = Instant::now();
    let packing = pack(&question.clusters, &question.path, &[], &question.settings);
    let seconds = start.elapsed().as_secs_f64();
    println!("{:#}", answer(&question, &packing, seconds));
    Ok(())
}

fn read(text: &str) -> Result<Question, String> {
    let value: Value = serde_json::from_str(text).map_err(|e| format!("this is not JSON: {e}"))?;
    let fields = value.as_object().ok_or("this is no object { … }")?;
    let known = [
        "clusters", "path_m", "neck", "softness", "seed", "effort", "closed",
    ];
    if let Some(other) = fields.keys().find(|k| !known.contains(&k.as_str())) {
        return Err(format!(
            "there is no \"{other}\"; there is {}",
            known.join(", ")
        ));
    }
    let closed = match &value["closed"] {
        Value::Null => false,
        v => v.as_bool().ok_or("closed is true or false")?,
    };
    let effort = match &value["effort"] {
        Value::Null => Effort::Final,
        v if v == "final" => Effort::Final,
        v if v == "preview" => Effort::Preview,
        _ => return Err("effort is \"preview\" or \"final\"".into()),
    };
    let seed = match &value["seed"] {
        Value::Null => Settings::default().seed,
        v => v.as_u64().ok_or("seed is a whole number from 0 up")?,
    };
    Ok(Question {
        clusters: clusters(&value["clusters"])?,
        path: path(&value["path_m"], closed)?,
        settings: Settings {
            softness: share(
                &value["softness"],
                "softness",
                SOFTNESS,
                Settings::default().softness,
            )?,
            neck: share(&value["neck"], "neck", NECK, Settings::default().neck)?,
            seed,
            effort,
        },
    })
}

fn share(value: &Value, name: &str, most: f64, usual: f64) -> Result<f64, String> {
    match (value, value.as_f64()) {
        (Value::Null, _) => Ok(usual),
        (_, Some(v)) if (0.0..=most).contains(&v) => Ok(v),
        _ => Err(format!("{name} is a number from 0 to {most}")),
    }
}

fn clusters(value: &Value) -> Result<Vec<Cluster>, String> {
    let all = value
        .as_array()
        .filter(|all| !all.is_empty())
        .ok_or("clusters is a list of lists of diameters in metres, and not empty")?;
    let mut out = Vec::with_capacity(all.len());
    let mut balloons = 0;
    for (at, cluster) in (1u64..).zip(all) {
        let diameters = cluster
            .as_array()
            .filter(|c| (1..=MOST_IN_CLUSTER).contains(&c.len()))
            .ok_or_else(|| format!("cluster {at} is a list of 1 to {MOST_IN_CLUSTER} diameters"))?;
        let diameters: Option<Vec<f64>> = diameters
            .iter()
            .map(|d| {
                d.as_f64()
                    .filter(|d| (DIAMETERS[0]..=DIAMETERS[1]).contains(d))
            })
            .collect();
        let diameters = diameters.ok_or_else(|| {
            format!(
                "cluster {at}: diameters are numbers from {} to {} m",
                DIAMETERS[0], DIAMETERS[1]
            )
        })?;
        balloons += diameters.len();
        out.push(Cluster {
            id: at,
            diameters,
            turn: None,
        });
    }
    if balloons > MOST {
        return Err(format!("{balloons} balloons are more than {MOST}"));
    }
    Ok(out)
}

fn path(value: &Value, closed: bool) -> Result<Path, String> {
    const SHAPE: &str = "path_m is a list of points [x, y, z] in metres";
    let points = value.as_array().ok_or(SHAPE)?;
    let points: Option<Vec<DVec3>> = points
        .iter()
        .map(|point| match point.as_array().map(Vec::as_slice) {
            Some([x, y, z]) => {
                let point = DVec3::new(x.as_f64()?, y.as_f64()?, z.as_f64()?);
                (point.abs().max_element() <= FAR).then_some(point)
            }
            _ => None,
        })
        .collect();
    let points = points.ok_or_else(|| format!("{SHAPE}, none further out than {FAR} m"))?;
    Path::polyline(&points, closed).map_err(|fault| match fault {
        PathFault::NoPath if closed => "path_m: a closed path has three different points".into(),
        PathFault::NoPath => "path_m has two different points or more".into(),
        PathFault::TooTight { at } => format!("path_m turns too tightly at {at:.2} m"),
        PathFault::MeetsItself { at, and } => {
            format!("path_m meets itself: {at:.2} m and {and:.2} m from its start")
        }
    })
}

fn answer(question: &Question, packing: &Packing, seconds: f64) -> Value {
    let overlaps = overlaps(packing, question.settings.softness);
    let balloons: Vec<Value> = packing
        .balls
        .iter()
        .map(|b| {
            json!({
                "x": b.centre.x, "y": b.centre.y, "z": b.centre.z,
                "r": b.radius, "cluster": b.cluster,
            })
        })
        .collect();
    json!({
        "length_m": packing.length(&question.path),
        "tie_span_m": packing.tie_span(),
        "mean_width_m": measure(packing, &question.path).width.mean,
        "max_overlap": (overlaps.deepest + question.settings.softness).max(0.0),
        "contacts_deeper": overlaps.deeper,
        "clusters": packing.ties.len(),
        "balloons": balloons,
        "seconds": seconds,
    })
}

fn answer_by_rule(question: &Question) -> Value {
    let diameters: Vec<Vec<f64>> = question
        .clusters
        .iter()
        .map(|c| c.diameters.clone())
        .collect();
    let length = instant::length(&diameters);
    json!({ "length_m": length.tip_to_tip, "tie_span_m": length.tie_span })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Twenty quads of 10 in on a straight line: their closed form, flat rings of hard spheres, is 2^(−1/4) d apart; soft ones
    /// with shorter necks lie closer, within a tenth.
    #[test]
    fn quads_from_a_file() {
        let quads = vec![vec![0.254; 4]; 20];
        let text = json!({
            "clusters": quads, "path_m": [[0, 0, 0], [3, 0, 0]],
            "neck": 0.45, "softness": 0.05, "seed": 7,
        });
        let question = read(&text.to_string()).unwrap();
        let packing = pack(&question.clusters, &question.path, &[], &question.settings);
        let answer = answer(&question, &packing, 0.25);
        assert_eq!(answer["balloons"].as_array().unwrap().len(), 80);
        assert_eq!(answer["seconds"], 0.25);
        let span = answer["tie_span_m"].as_f64().unwrap();
        let hard = 19.0 * 0.254 * 0.840_896_4;
        assert!((0.85..1.0).contains(&(span / hard)), "{span} {hard}");
        let (length, overlap) = (&answer["length_m"], &answer["max_overlap"]);
        assert!(length.as_f64().unwrap() > span + 0.254 * 0.8);
        assert!(
            (0.04..0.08).contains(&overlap.as_f64().unwrap()),
            "{overlap}"
        );
        let width = answer["mean_width_m"].as_f64().unwrap();
        assert!((2.0..2.9).contains(&(width / 0.254)), "{width}");
        let rule = answer_by_rule(&question)["tie_span_m"].as_f64().unwrap();
        assert!((rule / span - 1.0).abs() < 0.04, "{rule} {span}");
    }

    #[test]
    fn a_closed_path_takes_what_fits() {
        let quads = vec![vec![0.254; 4]; 80];
        let ring: Vec<[f64; 3]> = (0..60)
            .map(|i| {
                let a = std::f64::consts::TAU * f64::from(i) / 60.0;
                [libm::cos(a), libm::sin(a), 0.0]
            })
            .collect();
        let text =
            json!({ "clusters": quads, "path_m": ring, "closed": true, "effort": "preview" });
        let question = read(&text.to_string()).unwrap();
        let packing = pack(&question.clusters, &question.path, &[], &question.settings);
        let n = answer(&question, &packing, 0.0)["clusters"]
            .as_u64()
            .unwrap();
        // 2 pi m over a pitch of 0.771 d, a little less inside the bend
        assert!((28..=34).contains(&n), "{n}");
    }

    #[test]
    fn what_is_wrong_is_said() {
        let good = r#""clusters":[[0.2,0.2]],"path_m":[[0,0,0],[1,0,0]]"#;
        assert!(read(&format!("{{{good}}}")).is_ok());
        for (text, says) in [
            ("nonsense".to_string(), "not JSON"),
            ("[]".into(), "no object"),
            (format!("{{{good},\"nek\":1}}"), "there is no \"nek\""),
            (format!("{{{good},\"neck\":-1}}"), "neck is a number from 0"),
            (
                format!("{{{good},\"softness\":\"x\"}}"),
                "softness is a number",
            ),
            (format!("{{{good},\"seed\":-1}}"), "seed is a whole number"),
            (format!("{{{good},\"effort\":\"max\"}}"), "effort is"),
            (
                format!("{{{good},\"closed\":1}}"),
                "closed is true or false",
            ),
            (
                r#"{"clusters":[],"path_m":[[0,0,0],[1,0,0]]}"#.into(),
                "not empty",
            ),
            (
                r#"{"clusters":[[]],"path_m":[[0,0,0],[1,0,0]]}"#.into(),
                "cluster 1",
            ),
            (
                r#"{"clusters":[[0.2],[0]],"path_m":[[0,0,0],[1,0,0]]}"#.into(),
                "cluster 2",
            ),
            (
                r#"{"clusters":[[0.2]],"path_m":[[0,0,0],[0,0,0]]}"#.into(),
                "two different",
            ),
            (
                r#"{"clusters":[[0.2]],"path_m":[[0,0]]}"#.into(),
                "points [x, y, z]",
            ),
            (
                r#"{"clusters":[[0.2]],"path_m":[[0,0,0],[1,0,0]],"closed":true}"#.into(),
                "three different",
            ),
        ] {
            let Err(message) = read(&text) else {
                panic!("{text} was taken");
            };
            assert!(message.contains(says), "{text}: {message}");
        }
        let words = |w: &[&str]| w.iter().map(ToString::to_string).collect::<Vec<_>>();
        for bad in [
            &[][..],
            &["loading"],
            &["packing"],
            &["packing", "/no/such/file"],
            &["packing", "--fast"],
        ] {
            assert_eq!(
                solve(&words(bad)).map_err(|f| f.code),
                Err("usage".into()),
                "{bad:?}"
            );
        }
    }
}

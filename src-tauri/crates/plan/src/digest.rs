//! Short names of jobs and plans: to know a plan again that was made before, and to compare plans of two machines.

use job::{Job, Private};
use serde_json::{Map, Value};

use crate::{ENGINE, Plan};

/// FNV-1a, 64 bit: offset basis and prime as its authors Fowler, Noll and Vo print them.
const BASIS: u64 = 0xcbf2_9ce4_8422_2325;
const PRIME: u64 = 0x0000_0100_0000_01b3;

/// What a plan does not read of a job: ticks, own order, photos, damage, waste and kept moments.
const UNREAD: [&str; 6] = ["ticks", "places", "photos", "damage", "waste", "kept"];
/// What it does not read of the private part: bills, what the job really took, signatures.
const UNREAD_PRIVATE: [&str; 4] = ["bills", "used", "spent", "signatures"];

/// Sixteen hex digits that differ when the plan may differ: of everything that a plan reads of the job and its private part, and of the
/// version of the rules. A tick changes nothing.
#[must_use]
pub fn hash(job: &Job, private: Option<&Private>) -> String {
    let mut read = value(job);
    if let Value::Object(fields) = &mut read {
        for unread in UNREAD {
            fields.remove(unread);
        }
    }
    let mut money = value(&private);
    if let Value::Object(fields) = &mut money {
        for unread in UNREAD_PRIVATE {
            fields.remove(unread);
        }
    }
    let all = Map::from_iter([
        ("engine".to_string(), Value::from(ENGINE)),
        ("job".to_string(), read),
        ("private".to_string(), money),
    ]);
    named(&Value::Object(all))
}

/// Sixteen hex digits of a whole plan: the same on every machine.
#[must_use]
pub fn digest(plan: &Plan) -> String {
    named(&value(plan))
}

fn named(value: &Value) -> String {
    let mut text = String::new();
    write(value, &mut text);
    format!("{:016x}", fnv(text.as_bytes()))
}

/// Plain data with string keys always becomes a value.
fn value(data: &impl serde::Serialize) -> Value {
    serde_json::to_value(data).unwrap_or_default()
}

/// JSON without spaces, keys in ascending order of their code points, whatever order a map keeps.
fn write(value: &Value, out: &mut String) {
    match value {
        Value::Object(map) => {
            let mut fields: Vec<_> = map.iter().collect();
            fields.sort_by_key(|(key, _)| *key);
            out.push('{');
            for (i, (key, value)) in fields.into_iter().enumerate() {
                if i > 0 {
                    out.push(',');
                }
                out.push_str(&Value::from(key.as_str()).to_string());
                out.push(':');
                write(value, out);
            }
            out.push('}');
        }
        Value::Array(list) => {
            out.push('[');
            for (i, value) in list.iter().enumerate() {
                if i > 0 {
                    out.push(',');
                }
                write(value, out);
            }
            out.push(']');
        }
        plain => out.push_str(&plain.to_string()),
    }
}

fn fnv(bytes: &[u8]) -> u64 {
    bytes.iter().fold(BASIS, |hash, byte| {
        (hash ^ u64::from(*byte)).wrapping_mul(PRIME)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::site::Tick;
    use serde_json::json;

    /// Test vectors of the authors' reference code, from memory: "", "a", "foobar".
    #[test]
    fn fnv_as_published() {
        for (text, want) in [
            ("", 0xcbf2_9ce4_8422_2325),
            ("a", 0xaf63_dc4c_8601_ec8c),
            ("foobar", 0x8594_4171_f739_67e8),
        ] {
            assert_eq!(fnv(text.as_bytes()), want, "{text}");
        }
    }

    #[test]
    fn keys_are_sorted_and_texts_escaped() {
        let mut text = String::new();
        write(
            &json!({"b": [1, -2, null], "a": {"é": "x\"\n", "d": true}}),
            &mut text,
        );
        assert_eq!(text, r#"{"a":{"d":true,"é":"x\"\n"},"b":[1,-2,null]}"#);
    }

    #[test]
    fn what_no_plan_reads_changes_nothing() {
        let private = Private::default();
        let mut job = Job::default();
        let before = hash(&job, Some(&private));
        assert_eq!(before.len(), 16);
        let tick = Tick {
            step: "check".into(),
            done: true,
            ..Tick::default()
        };
        job.ticks.insert("check~a".into(), tick);
        job.kept.insert("m".into(), job::moment::Moment::default());
        assert_eq!(hash(&job, Some(&private)), before);
        assert_eq!(crate::plan(&job, None), crate::plan(&Job::default(), None));
        assert_ne!(hash(&job, None), before);
        job.rates.pair_s += 1;
        assert_ne!(hash(&job, Some(&private)), before);
    }
}

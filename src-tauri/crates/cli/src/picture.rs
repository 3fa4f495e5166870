//! `airwright-cli picture`: a picture of a job as a PNG file.
use std::path::Path;

use desk::Fault;
use serde_json::{Map, Value, json};

use crate::usage;
use crate::write::{read, write};

/// Takes a picture of a job.
pub fn picture(words: &[String]) -> Result<(), Fault> {
    let [file, out, rest @ ..] = words else {
        return Err(usage("picture takes a file with a job and a file to write"));
    };
    let (job, _) = read(file)?;
    let mut asked = Map::from_iter([
        ("job".to_string(), job),
        ("width".to_string(), json!(1600)),
        ("height".to_string(), json!(1000)),
        ("yaw_deg".to_string(), json!(0)),
        ("pitch_deg".to_string(), json!(3)),
        ("transparent".to_string(), json!(false)),
    ]);
    let mut rest = rest.iter();
    while let Some(word) = rest.next() {
        if word == "--clear" {
            asked.insert("transparent".into(), json!(true));
            continue;
        }
        let value = rest.next().ok_or_else(|| usage(format!("{word} what?")))?;
        match word.as_str() {
            "--yaw" => asked.insert("yaw_deg".into(), number(value)?),
            "--pitch" => asked.insert("pitch_deg".into(), number(value)?),
            "--piece" => asked.insert("piece".into(), json!(value)),
            "--size" => {
                let (w, h) = value
                    .split_once('x')
                    .ok_or_else(|| usage("--size takes WxH"))?;
                asked.insert("width".into(), number(w)?);
                asked.insert("height".into(), number(h)?)
            }
            _ => return Err(usage(format!("there is no {word}"))),
        };
    }
    let (_, bytes) = desk::compute_bytes("picture", Value::Object(asked), &[])?;
    write(Path::new(out), &bytes)
}

fn number(text: &str) -> Result<Value, Fault> {
    let number: i64 = text
        .parse()
        .map_err(|_| usage(format!("{text} is no whole number")))?;
    Ok(json!(number))
}

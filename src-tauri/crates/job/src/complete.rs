//! Items added by an edit get all their fields: what the edit does not name has its default. So no list item is ever half made, and
//! no two devices make the same record inside an item apart.

use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

use crate::away::{Away, Spread};
use crate::bill::KeptBill;
use crate::books::Van;
use crate::day::{Assigned, Damage, OwnStep, Signature, SitePhoto, StepPlace};
use crate::moment::Moment;
use crate::money::{Charge, Cost, Instalment, Used};
use crate::piece::{Hand, PathPoint, Piece, Shade, Size};
use crate::pin::{Pin, Team};
use crate::site::{Crew, Door, Kit, Note, Tick};
use crate::stock::{Colour, Item, Sundry};

/// Records of a piece that have a palette.
const COLOURED: [&str; 8] = [
    "garland",
    "chain",
    "classic",
    "wall",
    "bouquet",
    "floaters",
    "centrepiece",
    "loose",
];

/// An item for the list at `path` with the given fields and the defaults of the others. The error says which field does not fit, or that
/// there is no such list.
pub fn complete(path: &[String], given: &Value) -> Result<Value, String> {
    let keys: Vec<&str> = path.iter().map(String::as_str).collect();
    match keys.as_slice() {
        ["doors"] => whole::<Door>(given),
        ["crew" | "people"] => whole::<Crew>(given),
        ["kit"] => whole::<Kit>(given),
        ["vehicles" | "vans"] => whole::<Van>(given),
        ["colours"] => whole::<Colour>(given),
        ["items"] => whole::<Item>(given),
        ["sundries"] => whole::<Sundry>(given),
        ["pieces"] => whole::<Piece>(given),
        ["pieces", _, "garland", "mix"] => whole::<Size>(given),
        ["pieces", _, "garland", "points"] => whole::<PathPoint>(given),
        ["pieces", _, "garland", "hand"] => whole::<Hand>(given),
        ["pieces", _, kind, "palette"] if COLOURED.contains(kind) => whole::<Shade>(given),
        ["notes"] => whole::<Note>(given),
        ["ticks"] => whole::<Tick>(given),
        ["assigned"] => whole::<Assigned>(given),
        ["places"] => whole::<StepPlace>(given),
        ["own_steps"] => whole::<OwnStep>(given),
        ["photos"] => whole::<SitePhoto>(given),
        ["damage"] => whole::<Damage>(given),
        ["signatures"] => whole::<Signature>(given),
        ["pins"] => whole::<Pin>(given),
        ["teams"] => whole::<Team>(given),
        ["away"] => whole::<Away>(given),
        ["spreads"] => whole::<Spread>(given),
        ["kept"] => whole::<Moment>(given),
        ["charges"] => whole::<Charge>(given),
        ["costs"] => whole::<Cost>(given),
        ["instalments"] => whole::<Instalment>(given),
        ["bills"] => whole::<KeptBill>(given),
        ["used"] => whole::<Used>(given),
        _ => Err(format!("{} is no list", path.join("."))),
    }
}

fn whole<T: Serialize + DeserializeOwned>(given: &Value) -> Result<Value, String> {
    let item: T = crate::read::read_strictly(given)?;
    let whole = serde_json::to_value(item).map_err(|e| e.to_string())?;
    // a misspelt field is refused, not kept beside the default that it was meant to replace
    if let (Value::Object(given), Value::Object(known)) = (given, &whole)
        && let Some(unknown) = given.keys().find(|k| !known.contains_key(*k))
    {
        return Err(format!("there is no field {unknown}"));
    }
    Ok(whole)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Books, Job, Private};
    use serde_json::json;

    fn path(keys: &str) -> Vec<String> {
        keys.split('.').map(ToString::to_string).collect()
    }

    /// Every list inside a piece takes items.
    #[test]
    fn lists_of_pieces_are_lists() {
        let piece = serde_json::to_value(Piece::default()).unwrap();
        let mut lists = 0;
        for (kind, record) in piece.as_object().unwrap() {
            for (field, value) in record.as_object().into_iter().flatten() {
                if value.is_object() {
                    let at = format!("pieces.p.{kind}.{field}");
                    assert!(complete(&path(&at), &json!({})).is_ok(), "{at}");
                    lists += 1;
                }
            }
        }
        assert_eq!(lists, 11);
    }

    #[test]
    fn what_is_not_named_has_its_default() {
        let door = complete(&path("doors"), &json!({ "name": "Side door" })).unwrap();
        assert_eq!(
            (&door["name"], &door["width_mm"], &door["gone"]),
            (&json!("Side door"), &json!(900), &json!(false))
        );
        let piece = complete(
            &path("pieces"),
            &json!({ "garland": { "length_mm": 4000 } }),
        )
        .unwrap();
        assert_eq!(piece["garland"]["length_mm"], 4000);
        assert_eq!(piece["garland"]["mix"], json!({}));
        assert!(
            complete(&path("doors"), &json!({ "name": 7 }))
                .unwrap_err()
                .contains("name")
        );
        assert!(
            complete(&path("doors"), &json!({ "nmae": "x" }))
                .unwrap_err()
                .contains("nmae")
        );
        assert!(complete(&path("venue"), &json!({})).is_err());
    }

    /// Every map of the documents that is empty by default is a list, and every list can be added to.
    #[test]
    fn every_list_is_known() {
        let documents = [
            serde_json::to_value(Job::default()).unwrap(),
            serde_json::to_value(Private::default()).unwrap(),
            serde_json::to_value(Books::default()).unwrap(),
        ];
        let mut lists = 0;
        for document in documents {
            for (key, value) in document.as_object().unwrap() {
                if value == &json!({}) {
                    assert!(
                        complete(std::slice::from_ref(key), &json!({})).is_ok(),
                        "{key}"
                    );
                    lists += 1;
                }
            }
        }
        assert_eq!(lists, 33);
    }
}

//! From a document's value to a job: what cannot be read is left at its default and becomes a finding, never an error.

use serde::de::DeserializeOwned;
use serde_json::Value;

use crate::finding::{Finding, Room, Severity};

/// Fields that one document may have wrong before the rest of it is given up: far more than any merge can break.
const MOST_UNREADABLE: usize = 10_000;

/// Reads a document. Each value of a wrong type is dropped, named in a finding, and the rest is read again.
#[must_use]
pub fn read<T: DeserializeOwned + Default>(mut value: Value) -> (T, Vec<Finding>) {
    let mut findings = Vec::new();
    for _ in 0..MOST_UNREADABLE {
        let error = match serde_path_to_error::deserialize::<_, T>(&value) {
            Ok(read) => return (read, findings),
            Err(error) => error,
        };
        let path: Vec<String> = error.path().iter().map(ToString::to_string).collect();
        let keys: Vec<&str> = path.iter().map(String::as_str).collect();
        findings.push(Finding::new(
            "unreadable_field",
            Severity::Care,
            room_of(&keys),
            &keys,
            format!("A value in the job cannot be read: {}.", path.join(", ")),
            "Enter it again; until then the usual value is used.",
        ));
        if !drop_at(&mut value, &keys) {
            break;
        }
    }
    (T::default(), findings)
}

/// Reads a document strictly: the error names the path that does not fit.
pub fn read_strictly<T: DeserializeOwned>(value: &Value) -> Result<T, String> {
    serde_path_to_error::deserialize::<_, T>(value)
        .map_err(|error| format!("{}: {}", error.path(), error.inner()))
}

/// Removes what stands at a path, or the nearest thing above it that can be removed.
fn drop_at(value: &mut Value, path: &[&str]) -> bool {
    let Some((last, above)) = path.split_last() else {
        return false;
    };
    let mut at = &mut *value;
    for (depth, key) in above.iter().enumerate() {
        let next = match at {
            Value::Object(map) if map.contains_key(*key) => map.get_mut(*key),
            _ => return drop_at(value, &path[..depth]),
        };
        match next {
            Some(inner) => at = inner,
            None => return false,
        }
    }
    let dropped = at
        .as_object_mut()
        .is_some_and(|map| map.remove(*last).is_some());
    dropped || drop_at(value, above)
}

/// The room where a field of the job stands.
#[must_use]
pub fn room_of(path: &[&str]) -> Room {
    match path.first().copied() {
        Some("pieces" | "colours") => Room::Design,
        Some("items" | "sundries") => Room::Make,
        Some("rates" | "pins" | "teams" | "away" | "spreads") => Room::Times,
        Some("vehicle" | "vans" | "doors" | "rules") => Room::Load,
        Some(
            "ticks" | "notes" | "assigned" | "places" | "own_steps" | "photos" | "damage" | "waste"
            | "signatures",
        ) => Room::Site,
        Some(
            "client" | "prices" | "costs" | "charges" | "instalments" | "bills" | "used" | "spent"
            | "private",
        ) => Room::Papers,
        _ => Room::Brief,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Job;
    use serde_json::json;

    #[test]
    fn an_empty_document_is_a_job_with_defaults() {
        assert_eq!(read::<Job>(json!({})), (Job::default(), Vec::new()));
    }

    #[test]
    fn a_wrong_type_costs_its_own_field_only() {
        let (job, findings) = read::<Job>(json!({
            "name": "Kept",
            "venue": { "name": 7, "walk_m": 45 },
            "doors": { "d1": { "name": "Side door", "width_mm": "wide" } },
            "pieces": 3,
        }));
        assert_eq!(job.name, "Kept");
        assert_eq!(job.venue.walk_m, 45);
        assert_eq!(job.doors["d1"].name, "Side door");
        assert_eq!(job.doors["d1"].width_mm, 900);
        let mut paths: Vec<String> = findings.iter().map(|f| f.path.join(".")).collect();
        paths.sort();
        assert_eq!(paths, ["doors.d1.width_mm", "pieces", "venue.name"]);
    }

    #[test]
    fn a_word_of_a_newer_version_is_kept_as_newer() {
        let (job, findings) = read::<Job>(json!({ "pieces": { "p": { "kind": "hologram" } } }));
        assert_eq!(job.pieces["p"].kind, crate::piece::PieceKind::Newer);
        assert_eq!(findings, []);
    }

    #[test]
    fn a_number_too_large_for_its_field_is_a_finding() {
        let (job, findings) = read::<Job>(json!({ "venue": { "altitude_m": 1e30 } }));
        assert_eq!(job.venue.altitude_m, 0);
        assert_eq!(findings.len(), 1);
    }

    #[test]
    fn what_is_no_record_at_all_reads_as_the_default_with_a_finding() {
        let (job, findings) = read::<Job>(json!([1, 2]));
        assert_eq!(job, Job::default());
        assert_eq!(findings.len(), 1);
    }
}

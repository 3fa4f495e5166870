//! This decorator's necks and press, from two numbers of a finished garland.

use glam::DVec3;
use job::piece::PieceKind;
use job::{Finding, Job, Room, Severity};
use serde::{Deserialize, Serialize};
use solve::packing::calibrate::{Fit, Measured, Misfit, Outside, calibrate as search};
use solve::packing::path::Path;
use solve::packing::{Cluster, Settings};
use ts_rs::TS;

use crate::garland::{Depth, Memory, pipe};
use crate::inflate::{nearest, whole};
use crate::pieces;

/// What a finished garland says about the hands that made it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct Calibrated {
    /// Slack of the necks, thousandths of the radius: for `rates.neck_pm`.
    pub neck_pm: i64,
    /// How far balloons are pressed into each other, thousandths: for `rates.soft_pm`.
    pub soft_pm: i64,
    /// Length that a garland of these measures packs to, mm.
    pub length_mm: i64,
    /// Its mean width, mm.
    pub width_mm: i64,
    /// What does not fit, if the numbers are outside of what any hands make; then the nearest is answered.
    pub findings: Vec<Finding>,
}

/// Fits necks and softness to the length, tip to tip, and the mean width of a piece that was built as planned. Absent if the piece is
/// no garland that can be counted, or a measure is not above 0.
#[must_use]
pub fn calibrate(job: &Job, piece: &str, length_mm: i64, width_mm: i64) -> Option<Calibrated> {
    let known = job
        .pieces
        .get(piece)
        .filter(|p| p.kind == PieceKind::Garland && !p.gone)?;
    let counted = pieces::count_at(job, Depth::Preview, &mut Memory::default());
    let plan = counted.pieces.into_iter().find(|p| p.piece == piece)?;
    let garland = plan.garland?;
    let clusters: Vec<Cluster> = garland
        .clusters
        .iter()
        .map(|c| Cluster {
            id: u64::try_from(c.number).unwrap_or(0),
            diameters: c
                .balls
                .iter()
                .map(|b| whole(b.blown_dmm) / 10_000.0)
                .collect(),
            turn: None,
        })
        .collect();
    let metres = |mm: i64| whole(mm) / 1000.0;
    let measured = Measured {
        length: metres(length_mm),
        width: metres(width_mm),
    };
    let path = Path::straight(DVec3::ZERO, DVec3::X * metres(length_mm.max(1)));
    let settings = Settings {
        seed: u64::from_ne_bytes(known.garland.seed.to_ne_bytes()),
        ..Settings::default()
    };
    let pipe = pipe(known);
    match search(&clusters, &path, pipe.as_slice(), measured, &settings) {
        Ok(fit) => Some(said(fit, Vec::new())),
        Err(Misfit::OutOfRange { outside, nearest }) => {
            Some(said(nearest, vec![misfit(piece, outside)]))
        }
        Err(Misfit::NoSpheres | Misfit::NoMeasure) => None,
    }
}

fn said(fit: Fit, findings: Vec<Finding>) -> Calibrated {
    Calibrated {
        neck_pm: nearest(fit.neck * 1000.0),
        soft_pm: nearest(fit.softness * 1000.0),
        length_mm: nearest(fit.length * 1000.0),
        width_mm: nearest(fit.width * 1000.0),
        findings,
    }
}

fn misfit(piece: &str, outside: Outside) -> Finding {
    let how = match outside {
        Outside::TooLong => "longer",
        Outside::TooShort => "shorter",
        Outside::TooWide => "wider",
        Outside::TooNarrow => "narrower",
    };
    Finding::new(
        "not_as_measured",
        Severity::Care,
        Room::Design,
        &["pieces", piece],
        format!(
            "No way of tying makes these balloons {how} than they come out here. The nearest is shown."
        ),
        "Measure once more, and check that the garland was built as planned.",
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::defaults;

    /// What the found hands make of the garland, measured, finds hands that make the same.
    #[test]
    fn hands_are_known_by_their_garland() {
        let (mut job, _) = defaults_demo();
        let piece = garland_of(&job);
        let straight = job.pieces.get_mut(&piece).unwrap();
        straight.garland.shape = job::piece::Shape::Straight;
        straight.garland.length_mm = 3000;
        straight.mount = job::piece::Mount::Frame;
        let usual = calibrate(&job, &piece, 3000, 700).unwrap();
        assert!(usual.neck_pm > 0);
        let again = calibrate(&job, &piece, usual.length_mm, usual.width_mm).unwrap();
        assert!(
            (again.length_mm - usual.length_mm).abs() <= 60,
            "{again:?} {usual:?}"
        );
        assert!(
            (again.width_mm - usual.width_mm).abs() <= 20,
            "{again:?} {usual:?}"
        );
    }

    #[test]
    fn what_no_hands_make_is_said() {
        let (job, _) = defaults_demo();
        let piece = garland_of(&job);
        let far = calibrate(&job, &piece, 20_000, 300).unwrap();
        assert!(far.findings.iter().any(|f| f.code == "not_as_measured"));
        assert_eq!(calibrate(&job, "none", 3000, 600), None);
        assert_eq!(calibrate(&job, &piece, 0, 600), None);
    }

    fn defaults_demo() -> (Job, job::Private) {
        let books = defaults::starting_books();
        job::demo::demo(&books, "2027-05-08")
    }

    fn garland_of(job: &Job) -> String {
        job.pieces
            .iter()
            .find(|(_, p)| p.kind == PieceKind::Garland)
            .map(|(id, _)| id.clone())
            .unwrap()
    }
}

//! What a piece hangs on, and how high.

use serde_json::Value;

use super::numbers::called;
use super::pieces::At;
use crate::edit::Edit;
use crate::finding::{Finding, Severity};
use crate::list::live;
use crate::piece::{FrameForm, Mount, PieceKind};

/// Higher than this nobody reaches from a step ladder, mm: feet at 2.5 m and hands 2 m above them. Common practice, no source.
const REACHED_MM: i64 = 4500;

impl At<'_> {
    pub(super) fn frame_gone(&self) -> Option<Finding> {
        let on = self.piece.on.as_str();
        let stands = self
            .job
            .pieces
            .get(on)
            .is_some_and(|p| !p.gone && matches!(p.kind, PieceKind::Frame | PieceKind::Newer));
        (!on.is_empty() && !stands).then(|| {
            self.finding(
                "frame_gone",
                Severity::Care,
                &["on"],
                format!("{} hangs on a frame that is not in the job.", self.name()),
                "Choose the frame again, or put it back.",
            )
            .fix(
                "Take it off the frame",
                vec![Edit::set(&self.path(&["on"]), Value::from(""))],
            )
        })
    }

    /// It hangs on what is there already, and the job brings something of the kind.
    pub(super) fn hangs_beside(&self) -> Option<Finding> {
        let fits: fn(FrameForm) -> bool = match self.piece.mount {
            Mount::Backdrop => |form| form == FrameForm::Backdrop,
            Mount::Grid => |form| form == FrameForm::Mesh,
            Mount::Frame => {
                |form| matches!(form, FrameForm::Gate | FrameForm::Arch | FrameForm::Hoop)
            }
            _ => return None,
        };
        let mut all = live(&self.job.pieces).into_iter();
        let (id, frame) = all
            .find(|(_, p)| p.kind == PieceKind::Frame && p.frame.count > 0 && fits(p.frame.form))?;
        let name = called(&frame.name, "the frame");
        self.piece.on.is_empty().then(|| {
            self.finding(
                "hangs_beside",
                Severity::Care,
                &["on"],
                format!(
                    "{} hangs on something that is there already, though the job brings {name}.",
                    self.name()
                ),
                "Say what it hangs on: then that is set up first.",
            )
            .fix(
                format!("Hang it on {name}"),
                vec![Edit::set(&self.path(&["on"]), Value::from(id))],
            )
        })
    }

    /// From points in the ceiling, higher than a step ladder reaches.
    pub(super) fn high_up(&self) -> Option<Finding> {
        let high = match self.piece.y_mm {
            0 => self.job.venue.ceiling_mm,
            mm => mm,
        };
        (self.piece.mount == Mount::CeilingPoints && high > REACHED_MM).then(|| {
            self.finding(
                "high_up",
                Severity::Care,
                &["y_mm"],
                format!(
                    "{} hangs from points {}.{} m up: nobody reaches them from a step ladder.",
                    self.name(),
                    high / 1000,
                    high % 1000 / 100
                ),
                "Agree with the venue on a platform or lift, who may work on it, and when.",
            )
        })
    }
}

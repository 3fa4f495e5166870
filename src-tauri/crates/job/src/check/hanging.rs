//! What a piece hangs on, and how high.

use serde_json::Value;

use super::numbers::called;
use super::pieces::At;
use crate::edit::{Edit, Part};
use crate::finding::{Finding, Severity};
use crate::list::live;
use crate::piece::{FrameForm, Mount, PieceKind, Shape};

/// Higher than this nobody reaches from a step ladder, mm: feet at 2.5 m and hands 2 m above them. Common practice, no source.
const REACHED_MM: i64 = 4500;
/// A tie holds an end that is no further than this from what carries it, mm. Common practice, no source.
const TIED_MM: i64 = 300;

/// How high the bar of a frame stands, mm. Common practice, no source.
const USUAL_MM: i64 = 2200;

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

    /// It hangs on a frame, and the job brings none: the cure brings one that follows its line.
    pub(super) fn no_frame(&self) -> Option<Finding> {
        let (piece, garland) = (self.piece, &self.piece.garland);
        let none = live(&self.job.pieces)
            .into_iter()
            .all(|(_, p)| p.kind != PieceKind::Frame || p.frame.count <= 0);
        if piece.mount != Mount::Frame || !piece.on.is_empty() || !none {
            return None;
        }
        let found = self.finding(
            "no_frame",
            Severity::Care,
            &["on"],
            format!(
                "{} hangs on a free-standing frame, and the job brings none: it is taken for one that is there already.",
                self.name()
            ),
            "Bring a frame, so that it is packed, set up and ballasted, or say what else it hangs on.",
        );
        let (form, width_mm, height_mm) = match garland.shape {
            Shape::Arch => ("arch", garland.span_mm, garland.rise_mm),
            Shape::Hoop => ("hoop", garland.span_mm, garland.rise_mm),
            Shape::Straight => ("gate", garland.length_mm, USUAL_MM),
            // what follows another line is bent or borrowed for it
            _ => return Some(found),
        };
        let id = (1..)
            .map(|n| format!("{}-frame{n}", self.id))
            .find(|id| !self.job.pieces.contains_key(id))?;
        let frame = serde_json::json!({
            "name": format!("Frame for {}", self.name()),
            "kind": "frame",
            "x_mm": piece.x_mm,
            "z_mm": piece.z_mm,
            "frame": { "count": 1, "form": form, "width_mm": width_mm, "height_mm": height_mm },
        });
        Some(found.fix(
            "Bring a frame",
            vec![
                Edit::Add {
                    part: Part::Job,
                    path: vec!["pieces".into()],
                    id: id.clone(),
                    before: None,
                    value: frame,
                },
                Edit::set(&self.path(&["on"]), Value::from(id)),
            ],
        ))
    }

    /// The top end of half an arch has nothing to be tied to: no frame, or one that ends short of it.
    pub(super) fn end_free(&self) -> Option<Finding> {
        let (piece, garland) = (self.piece, &self.piece.garland);
        if garland.shape != Shape::HalfArch {
            return None;
        }
        let (message, action) = if piece.on.is_empty() {
            if piece.mount != Mount::Frame {
                return None;
            }
            (
                format!(
                    "The top end of {} hangs in the air: no frame of the job holds it.",
                    self.name()
                ),
                "Add the frame that it goes over, or hang it from hooks or points that the venue has.",
            )
        } else {
            let on = self.job.pieces.get(&piece.on);
            let on = on.filter(|p| !p.gone && p.kind == PieceKind::Frame)?;
            let (wide, high) = (on.frame.width_mm, on.frame.height_mm);
            // it shares the middle of the frame
            let side = if garland.mirrored { -1 } else { 1 };
            let off = piece.x_mm.saturating_add(garland.span_mm / 2 * side);
            let over = piece.y_mm.saturating_add(garland.rise_mm);
            let beyond = off.saturating_abs().saturating_sub(wide / 2);
            if beyond.max(over.saturating_sub(high)) <= TIED_MM {
                return None;
            }
            (
                format!(
                    "The top end of {} hangs in the air: {} does not reach there.",
                    self.name(),
                    called(&on.name, "the frame")
                ),
                "Let it end at the frame, or hang its end from a hook or a point that the venue has.",
            )
        };
        let field = ["garland", "rise_mm"];
        Some(self.finding("end_free", Severity::Care, &field, message, action))
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

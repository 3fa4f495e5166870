//! The picture of a job on paper: a still of all its pieces from the front.

use plan::scene::staged;

use crate::PaperError;
use crate::marks::{At, Mark};
use crate::source::Source;
use crate::still::{Angle, Behind, View, rows, still};
use crate::table::Drawing;

/// Pixels in a row: seven to the millimetre on A4, more than an office printer shows of a photograph.
const ACROSS: f64 = 1200.0;
/// The camera stands a little above, so that the floor is seen.
const PITCH_DEG: f64 = 4.0;
/// Air about the pieces, as a share of their width: so much wider is the view.
const AIR: f64 = 1.22;
/// No picture is flatter than this share of its width.
const FLATTEST: f64 = 0.34;

/// The picture, as wide as the place and no higher. `None` if there is nothing to show.
pub fn picture(
    source: &Source<'_>,
    width: f64,
    most_height: f64,
) -> Result<Option<Drawing>, PaperError> {
    let scene = staged(source.job, source.plan);
    if scene.balls.is_empty() && scene.tubes.is_empty() && scene.panels.is_empty() {
        return Ok(None);
    }
    // no higher than the pieces ask: a long swag is a strip
    let side = |axis: usize| (scene.high[axis] - scene.low[axis]).max(1) as f64;
    let up = scene.high[1].max(1) as f64;
    let asked = width * (up / side(0) * AIR).max(FLATTEST);
    let height = asked.min(most_height);
    let view = View {
        width: ACROSS as u32,
        height: (ACROSS * height / width).round() as u32,
        angle: Angle::Framed {
            yaw_deg: 0.0,
            pitch_deg: PITCH_DEG,
        },
        behind: Behind::Paper,
    };
    let taken = still(source.job, source.plan, &scene, &view)?;
    Ok(Some(Drawing {
        width,
        height,
        marks: vec![Mark::Picture {
            at: At::new(0.0, 0.0),
            width,
            height,
            rows: rows(&taken)?,
        }],
        words: String::new(),
    }))
}

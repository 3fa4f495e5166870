//! The scene of a job, and pictures of it.

use papers::still::{Angle, Behind, View, still};
use plan::scene::Scene;

use crate::compute::planned;
use crate::fault::Fault;
use crate::names::file_name;
use crate::views::{MakePicture, PictureMade, PlanJob};

/// A size that no picture has: it is refused where sizes are checked.
const NO_SIZE: u32 = 0;

pub(crate) fn scene(args: PlanJob) -> Result<Scene, Fault> {
    let depth = args.depth.unwrap_or_default();
    let plan = planned(&args.job, None, depth);
    Ok(plan::scene::scene(&args.job, &plan))
}

pub(crate) fn picture(args: MakePicture, photo: &[u8]) -> Result<(PictureMade, Vec<u8>), Fault> {
    let plan = planned(&args.job, None, args.depth.unwrap_or_default());
    let scene = match &args.piece {
        // over a photograph everything stands where the job says; else what has no place stands side by side
        None if args.photo.is_some() => plan::scene::scene(&args.job, &plan),
        None => plan::scene::staged(&args.job, &plan),
        Some(piece) => plan::scene::scene(&args.job, &plan).only(&args.job, piece),
    };
    if scene.balls.is_empty() && scene.tubes.is_empty() && scene.panels.is_empty() {
        return Err(Fault::new(
            "nothing_to_show",
            "There is nothing to show yet.",
            "Add a piece in Design, with sizes and colours.",
        ));
    }
    let (angle, behind) = match &args.photo {
        Some(scale) => {
            let angle = Angle::Flat {
                mm_per_px: scale.um_per_px as f64 / 1000.0,
                origin_px: [scale.x_px as f64, scale.y_px as f64],
            };
            (angle, Behind::Photo(photo))
        }
        None => {
            let angle = Angle::Framed {
                yaw_deg: (args.yaw_deg.rem_euclid(360)) as f64,
                pitch_deg: args.pitch_deg.clamp(-90, 90) as f64,
            };
            let clear = args.transparent;
            (angle, if clear { Behind::Clear } else { Behind::Paper })
        }
    };
    let side = |pixels: i64| u32::try_from(pixels).unwrap_or(NO_SIZE);
    let view = View {
        width: side(args.width),
        height: side(args.height),
        angle,
        behind,
    };
    let fault = |error: papers::PaperError| Fault::new(error.code, error.message, error.hint);
    let picture = still(&args.job, &plan, &scene, &view).map_err(fault)?;
    let made = PictureMade {
        name: file_name(&format!("{} picture", args.job.name), "picture", ".png"),
        mime: "image/png".into(),
        width: args.width,
        height: args.height,
        balls: i64::try_from(scene.balls.len()).unwrap_or(i64::MAX),
    };
    Ok((made, picture.png().map_err(fault)?))
}

//! The still: a scene as a photograph of a studio would show it, cast ray by ray. One thread, fixed order: the same bytes everywhere.

mod camera;
mod cast;
mod ground;
mod hit;
mod light;
mod png;
mod shade;
mod tone;
mod vector;
mod world;

use job::Job;
use plan::Plan;
use plan::scene::Scene;

use crate::PaperError;
use crate::palette::Palette;

pub(crate) use self::png::{Rows, rows};

use camera::Camera;
use cast::Cast;
use ground::{Ground, Room};
use shade::Shader;
use tone::Film;
use vector::{V3, v};
use world::World;

/// Least and greatest side of a picture in pixels, and most pixels in all.
pub const SIDE: [u32; 2] = [16, 8192];
/// See [`SIDE`].
pub const MOST_PIXELS: u32 = 24_000_000;
/// Towards the lamp as seen from the camera: right, up, towards the viewer; and the weak light opposite.
const LAMP: [f32; 3] = [-0.44, 0.66, 0.61];
const FILL: [f32; 3] = [0.72, 0.22, 0.66];
/// A flat view stands so far before the scene, m. Nothing is nearer.
const FLAT_BACK: f32 = 50.0;

/// From where a scene is seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Angle {
    /// From wherever nothing is cut.
    Framed {
        /// The camera goes round to the right, degrees.
        yaw_deg: f64,
        /// The camera goes up, degrees.
        pitch_deg: f64,
    },
    /// From straight ahead to a scale, without perspective.
    Flat {
        /// Of the scene to a pixel of the picture.
        mm_per_px: f64,
        /// The pixel on which the scene's origin lies, from the upper left corner.
        origin_px: [f64; 2],
    },
}

/// What is behind the pieces.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Behind<'a> {
    /// A floor and a wall of paper.
    Paper,
    /// Nothing.
    Clear,
    /// A photograph of the size of the picture: red, green, blue of each pixel, row by row.
    Photo(&'a [u8]),
}

/// How a picture is taken.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View<'a> {
    /// In pixels.
    pub width: u32,
    /// In pixels.
    pub height: u32,
    /// From where.
    pub angle: Angle,
    /// What is behind.
    pub behind: Behind<'a>,
}

/// A picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Still {
    /// In pixels.
    pub width: u32,
    /// In pixels.
    pub height: u32,
    /// Bytes to a pixel: 3, or 4 with the last saying how much of it is covered.
    pub depth: u8,
    /// Pixels, row by row.
    pub bytes: Vec<u8>,
}

/// Takes a picture of a scene in the colours of its job.
///
/// # Errors
///
/// If the size is out of bounds or a photograph does not have it.
pub fn still(job: &Job, plan: &Plan, scene: &Scene, view: &View<'_>) -> Result<Still, PaperError> {
    let [least, most] = SIDE;
    let sides = [view.width, view.height];
    if sides.iter().any(|s| !(least..=most).contains(s)) || view.width * view.height > MOST_PIXELS {
        return Err(PaperError::inside("the picture is too small or too large"));
    }
    if let Behind::Photo(bytes) = view.behind
        && bytes.len() != 3 * view.width as usize * view.height as usize
    {
        return Err(PaperError::inside(
            "the photograph is not of the size of the picture",
        ));
    }
    let palette = Palette::of(job, plan);
    let world = World::of(scene, |colour| palette.tone(colour).rgb);
    Ok(take(&world, view))
}

fn take(world: &World, view: &View<'_>) -> Still {
    let size = [view.width, view.height];
    let camera = match view.angle {
        Angle::Framed { yaw_deg, pitch_deg } => {
            let pitch = pitch_deg.clamp(-80.0, 85.0);
            Camera::framing(&framed(world, view.behind), yaw_deg, pitch, size)
        }
        Angle::Flat {
            mm_per_px,
            origin_px,
        } => {
            // the world is about its own middle; the scene's origin lies beside it
            let metres = (mm_per_px.clamp(0.01, 1e5) / 1000.0) as f32;
            let origin = [
                origin_px[0] as f32 - world.origin.x / metres,
                origin_px[1] as f32,
            ];
            Camera::flat(metres, origin, world.high.z + FLAT_BACK, size)
        }
    };
    let [right, ahead] = camera.level();
    let towards = |d: [f32; 3]| (right * d[0] + v(0.0, d[1], 0.0) - ahead * d[2]).unit();
    let (lamp, fill) = (towards(LAMP), towards(FILL));
    let across = v(0.0, 1.0, 0.0).cross(lamp).unit();
    let room = Room::of(world, lamp, across, -ahead.z);
    let shader = Shader::new(world, &room, lamp, across, fill);
    let ground = match view.behind {
        Behind::Paper => Ground::paper(&room, &camera, size),
        Behind::Clear => Ground::Clear,
        Behind::Photo(bytes) => Ground::photo(bytes, view.width as usize),
    };
    let cast = Cast::new(world, &camera, &shader, size.map(|s| s as usize));
    let lit = cast.light(&ground);
    let film = Film::new();
    let clear = view.behind == Behind::Clear;
    let mut bytes = Vec::with_capacity(lit.light.len() * if clear { 4 } else { 3 });
    for (light, cover) in lit.light.iter().zip(&lit.cover) {
        bytes.extend(film.bytes(*light));
        if clear {
            // eighths to 255ths, nearest
            bytes.push(((u16::from(*cover) * 255 + 4) / 8) as u8);
        }
    }
    Still {
        width: view.width,
        height: view.height,
        depth: if clear { 4 } else { 3 },
        bytes,
    }
}

/// What must be in the picture: every thing, and on paper a little of the floor before them.
fn framed(world: &World, behind: Behind<'_>) -> Vec<(V3, f32)> {
    let mut all = world.outline();
    let (low, high) = (world.low, world.high);
    // what hangs high is shown without the floor
    let stands = low.y < 0.25 * (high.y - low.y);
    if behind == Behind::Paper && stands && !all.is_empty() {
        let air = 0.04 * (high - low).length();
        for x in [low.x, high.x] {
            all.push((v(x, 0.0, high.z + air), 0.0));
        }
    }
    all
}

impl Still {
    /// The picture as a PNG file.
    ///
    /// # Errors
    ///
    /// If the file could not be written: a mistake of the program.
    pub fn png(&self) -> Result<Vec<u8>, PaperError> {
        png::file(self)
    }
}

#[cfg(test)]
mod tests;

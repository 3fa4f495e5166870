//! Between sRGB bytes and light.

use super::vector::{V3, v};
use crate::colour::Rgb;

/// Steps of the table from light to bytes, and the light at its end.
const STEPS: usize = 4096;
const MOST: f32 = 2.0;
/// Up to here light is shown as it is; above, it bends towards white and never reaches it.
const SHOULDER: f64 = 0.82;

/// Light of an sRGB colour (IEC 61966-2-1).
pub fn linear(rgb: Rgb) -> V3 {
    let [r, g, b] = rgb.0.map(|byte| {
        let c = f64::from(byte) / 255.0;
        let light = if c <= 0.04045 {
            c / 12.92
        } else {
            libm::pow((c + 0.055) / 1.055, 2.4)
        };
        light as f32
    });
    v(r, g, b)
}

/// Light to bytes.
pub struct Film {
    bytes: Vec<u8>,
}

impl Film {
    /// The table.
    pub fn new() -> Film {
        let byte = |step: usize| {
            let light = step as f64 / (STEPS - 1) as f64 * f64::from(MOST);
            let over = (light - SHOULDER).max(0.0) / (1.0 - SHOULDER);
            let bent = light.min(SHOULDER) + (1.0 - SHOULDER) * (1.0 - libm::exp(-over));
            let c = if bent <= 0.003_130_8 {
                bent * 12.92
            } else {
                1.055 * libm::pow(bent, 1.0 / 2.4) - 0.055
            };
            (c * 255.0 + 0.5) as u8
        };
        Film {
            bytes: (0..STEPS).map(byte).collect(),
        }
    }

    /// One pixel.
    pub fn bytes(&self, light: V3) -> [u8; 3] {
        let scale = (STEPS - 1) as f32 / MOST;
        [light.x, light.y, light.z].map(|c| {
            let step = (c.max(0.0) * scale + 0.5) as usize;
            self.bytes[step.min(STEPS - 1)]
        })
    }
}

/// The light that comes out as this colour, shoulder and all.
pub fn paper(rgb: Rgb) -> V3 {
    let light = linear(rgb);
    let [r, g, b] = [light.x, light.y, light.z].map(|c| {
        let c = f64::from(c);
        let over = (c - SHOULDER).max(0.0) / (1.0 - SHOULDER);
        let unbent = c.min(SHOULDER) - (1.0 - SHOULDER) * libm::log((1.0 - over).max(1e-3));
        unbent as f32
    });
    v(r, g, b)
}

#[cfg(test)]
mod tests {
    use super::*;

    // There and back: every byte comes out as it went in, white apart, which the shoulder never quite reaches.
    #[test]
    fn a_colour_comes_back_as_it_was() {
        let film = Film::new();
        for byte in 0..=252_u8 {
            let rgb = Rgb([byte, byte, byte]);
            let back = film.bytes(paper(rgb))[0];
            assert!(
                back.abs_diff(byte) <= 1 + u8::from(byte < 12) * 3,
                "{byte} came back as {back}"
            );
        }
        // IEC 61966-2-1: half of the light of white is byte 188
        assert_eq!(film.bytes(V3::all(0.5))[0], 188);
    }
}

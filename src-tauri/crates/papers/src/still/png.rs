//! A still as a PNG file (ISO/IEC 15948). Settings are fixed, so that the same picture is the same bytes.

use ::png::{BitDepth, ColorType, DeflateCompression, Encoder, Filter, SrgbRenderingIntent};

use super::Still;
use crate::PaperError;

/// Above this the file hardly gets smaller, and takes twice as long.
const LEVEL: u8 = 5;

/// The file.
pub fn file(still: &Still) -> Result<Vec<u8>, PaperError> {
    write(still).map_err(|_| PaperError::inside("the picture could not be written"))
}

fn write(still: &Still) -> Result<Vec<u8>, ::png::EncodingError> {
    let mut bytes = Vec::new();
    let mut encoder = Encoder::new(&mut bytes, still.width, still.height);
    encoder.set_color(if still.depth == 4 {
        ColorType::Rgba
    } else {
        ColorType::Rgb
    });
    encoder.set_depth(BitDepth::Eight);
    encoder.set_source_srgb(SrgbRenderingIntent::Perceptual);
    encoder.set_deflate_compression(DeflateCompression::Level(LEVEL));
    encoder.set_filter(Filter::Paeth);
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&still.bytes)?;
    writer.finish()?;
    Ok(bytes)
}

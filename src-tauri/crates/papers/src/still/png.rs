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

/// Rows filtered as PNG filters them and deflated: what a PDF reads through `FlateDecode` with predictor 15 (ISO 32000-1, 7.4.4.4).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rows {
    /// Pixels in a row.
    pub width: u32,
    /// Rows.
    pub height: u32,
    /// The stream.
    pub bytes: Vec<u8>,
}

impl Rows {
    /// The same as a file: red, green and blue of a byte each, in sRGB.
    pub fn png(&self) -> Vec<u8> {
        let mut head = [self.width.to_be_bytes(), self.height.to_be_bytes()].concat();
        // bits, colour without transparency, and the only compression, filter and order there are
        head.extend([8, 2, 0, 0, 0]);
        let mut file = b"\x89PNG\r\n\x1a\n".to_vec();
        let chunks: [(&[u8; 4], &[u8]); 4] = [
            (b"IHDR", &head),
            (b"sRGB", &[0]),
            (b"IDAT", &self.bytes),
            (b"IEND", &[]),
        ];
        for (name, content) in chunks {
            let body = [name.as_slice(), content].concat();
            file.extend(
                u32::try_from(content.len())
                    .unwrap_or(u32::MAX)
                    .to_be_bytes(),
            );
            file.extend(&body);
            file.extend(crc32fast::hash(&body).to_be_bytes());
        }
        file
    }
}

/// The rows of a picture without transparency.
pub fn rows(still: &Still) -> Result<Rows, PaperError> {
    let file = file(still)?;
    // eight bytes of signature; then chunks: length, name, content, check
    let mut rest = file.get(8..).unwrap_or_default();
    let mut bytes = Vec::new();
    while let Some((head, after)) = rest.split_first_chunk::<8>() {
        let [a, b, c, d, name @ ..] = *head;
        let length = u32::from_be_bytes([a, b, c, d]) as usize;
        let Some((content, next)) = after.split_at_checked(length) else {
            break;
        };
        if name == *b"IDAT" {
            bytes.extend_from_slice(content);
        }
        rest = next.get(4..).unwrap_or_default();
    }
    Ok(Rows {
        width: still.width,
        height: still.height,
        bytes,
    })
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

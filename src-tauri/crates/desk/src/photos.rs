//! Photos of a job: taken in, and shown.

use std::io::{Cursor, Read};

use store::{Photo, StoreError};

use crate::Desk;
use crate::fault::Fault;
use crate::views::{AddPhoto, PhotoAdded, PhotoInfo, PhotoOf, Swept};

/// The longest side of a photo, px. Every browser draws pictures of this size; what a file says beyond it is no camera's.
const LONGEST_SIDE: i64 = 16_384;

pub(crate) fn add(
    desk: &mut Desk,
    args: AddPhoto,
    body: &[u8],
) -> Result<(PhotoAdded, Vec<u8>), Fault> {
    let now_ms = desk.now_ms();
    let (width, height) = size(body).ok_or(StoreError::NotAPhoto)?;
    let photo = desk.store.add_photo(&args.job, body, now_ms)?;
    let added = PhotoAdded {
        hash: photo.hash,
        width,
        height,
        bytes: photo.bytes,
    };
    Ok((added, Vec::new()))
}

pub(crate) fn photo(
    desk: &mut Desk,
    args: PhotoOf,
    _: &[u8],
) -> Result<(PhotoInfo, Vec<u8>), Fault> {
    let Some(photo) = desk.store.find_photo(&args.hash)? else {
        return Err(StoreError::PhotoMissing(args.hash).into());
    };
    let bytes = desk.store.photo(&photo)?;
    let Photo { mime, .. } = photo;
    Ok((PhotoInfo { mime }, bytes))
}

pub(crate) fn sweep(desk: &mut Desk, (): ()) -> Result<Swept, Fault> {
    let now_ms = desk.now_ms();
    let swept = desk.store.sweep_photos(now_ms)?;
    Ok(Swept {
        photos: swept.photos,
        bytes: swept.bytes,
        more: swept.more,
    })
}

/// Width and height of a JPEG or PNG picture, px, from its head; none if it has none or cannot be a photo.
fn size(bytes: &[u8]) -> Option<(i64, i64)> {
    let (width, height) = if bytes.starts_with(&[0xff, 0xd8]) {
        jpeg_size(bytes)
    } else {
        png_size(bytes)
    }?;
    let fits = |side: i64| (1..=LONGEST_SIDE).contains(&side);
    (fits(width) && fits(height)).then_some((width, height))
}

/// The first chunk of a PNG is its header: length 13, `IHDR`, width, height (ISO/IEC 15948 §11.2.2).
fn png_size(bytes: &[u8]) -> Option<(i64, i64)> {
    let head = bytes.strip_prefix(b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR")?;
    let (width, rest) = head.split_first_chunk::<4>()?;
    let (height, _) = rest.split_first_chunk::<4>()?;
    let side = |bytes| i64::from(u32::from_be_bytes(bytes));
    Some((side(*width), side(*height)))
}

/// The start-of-frame segment of a JPEG: length, precision, height, width (ITU-T T.81 §B.2.2). The segments before it are
/// passed over by their lengths.
fn jpeg_size(bytes: &[u8]) -> Option<(i64, i64)> {
    let mut from = Cursor::new(bytes.strip_prefix(&[0xff, 0xd8])?);
    loop {
        let [0xff, mut marker] = next(&mut from)? else {
            return None;
        };
        // any number of fill bytes may stand before a marker
        while marker == 0xff {
            [marker] = next(&mut from)?;
        }
        let length = u64::from(u16::from_be_bytes(next(&mut from)?));
        match marker {
            // C4, C8 and CC among them are tables and an extension
            0xc0..=0xc3 | 0xc5..=0xc7 | 0xc9..=0xcb | 0xcd..=0xcf => {
                let [_precision, h1, h2, w1, w2] = next(&mut from)?;
                let side = |bytes| i64::from(u16::from_be_bytes(bytes));
                return Some((side([w1, w2]), side([h1, h2])));
            }
            // the picture itself, its end, or another beginning before any frame
            0xd8..=0xda => return None,
            _ => from.set_position(from.position().saturating_add(length.checked_sub(2)?)),
        }
    }
}

fn next<const N: usize>(from: &mut Cursor<&[u8]>) -> Option<[u8; N]> {
    let mut bytes = [0; N];
    from.read_exact(&mut bytes).ok()?;
    Some(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A frame of 640 x 480 after an application segment whose content looks like a frame of its own.
    fn jpeg() -> Vec<u8> {
        let mut bytes = vec![0xff, 0xd8];
        bytes.extend([0xff, 0xe1, 0, 11, 0xff, 0xc0, 0, 17, 8, 0, 1, 0, 1]);
        bytes.extend([
            0xff, 0xff, 0xc2, 0, 11, 8, 0x01, 0xe0, 0x02, 0x80, 1, 1, 0x11, 0,
        ]);
        bytes
    }

    fn png(width: u32, height: u32) -> Vec<u8> {
        let mut bytes = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR".to_vec();
        bytes.extend(width.to_be_bytes());
        bytes.extend(height.to_be_bytes());
        bytes
    }

    #[test]
    fn the_size_stands_in_the_head() {
        assert_eq!(size(&jpeg()), Some((640, 480)));
        assert_eq!(size(&png(1600, 1200)), Some((1600, 1200)));
    }

    #[test]
    fn what_has_no_size_is_no_picture() {
        let whole = jpeg();
        // up to the fill bytes, the marker, the length and the five bytes of the frame
        for length in 0..25 {
            assert_eq!(size(&whole[..length]), None, "{length} bytes");
        }
        for bytes in [
            &b"GIF89a"[..],
            &[0xff, 0xd8, 0xff, 0xda, 0, 2],
            &[
                0xff, 0xd8, 0xff, 0xe0, 0, 1, 0xff, 0xc0, 0, 17, 8, 0, 1, 0, 1,
            ],
            &png(0, 10),
            &png(10, u32::MAX),
            &png(16_385, 10),
        ] {
            assert_eq!(size(bytes), None, "{bytes:?}");
        }
    }
}

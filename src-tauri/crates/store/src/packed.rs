//! A job file in parts, for hosts that put it together themselves: the bytes between the photos, and the photos by the names of
//! their files. So a job with a thousand photos becomes a file without one of them being held in memory.
//!
//! Layout after the .ZIP File Format Specification, PKWARE APPNOTE 6.3.10, §4.3.7 (local header), §4.3.12 (central directory),
//! §4.3.16 (its end). The same bytes as [`JobFile::write`](crate::JobFile::write) makes through the zip library, which cannot
//! leave holes.

use crate::error::StoreError;

/// A stretch of a job file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FilePart {
    /// These bytes.
    Bytes(Vec<u8>),
    /// The whole file of a photo.
    Photo {
        /// The name of its file.
        file: String,
        /// Its length, bytes.
        bytes: u64,
    },
}

/// What an entry of the file holds.
pub enum Content {
    Bytes(Vec<u8>),
    /// The file of a photo, with its length in bytes and the CRC-32 of them.
    Photo {
        file: String,
        bytes: u64,
        crc: u32,
    },
}

/// Version of the format that reading takes: 1.0, plain stored entries.
const VERSION: u16 = 10;
/// Made by: Unix, so that the permissions below are understood.
const MADE_BY: u16 = (3 << 8) | VERSION;
/// 1980-01-01, the first date that the format knows.
const DATE: u16 = 0x21;
/// A plain file that its owner may write and everybody may read.
const MODE: u32 = 0o100_644 << 16;

/// The parts of a file with these entries, in this order.
pub fn parts(entries: Vec<(String, Content)>) -> Result<Vec<FilePart>, StoreError> {
    let mut parts = Vec::new();
    let (mut plain, mut directory) = (Vec::new(), Vec::new());
    let count = u16::try_from(entries.len()).map_err(|_| too_large())?;
    let mut at = 0_u64;
    for (name, content) in entries {
        let (bytes, crc) = match &content {
            Content::Bytes(bytes) => (length(bytes), crc32fast::hash(bytes)),
            Content::Photo { bytes, crc, .. } => (*bytes, *crc),
        };
        let size = u32::try_from(bytes).map_err(|_| too_large())?;
        let mut head = Vec::new();
        for half in [VERSION, 0, 0, 0, DATE] {
            head.extend(half.to_le_bytes());
        }
        for word in [crc, size, size] {
            head.extend(word.to_le_bytes());
        }
        head.extend(
            u16::try_from(name.len())
                .map_err(|_| too_large())?
                .to_le_bytes(),
        );
        head.extend([0; 2]);

        directory.extend(b"PK\x01\x02");
        directory.extend(MADE_BY.to_le_bytes());
        directory.extend(&head);
        directory.extend([0; 6]);
        directory.extend(MODE.to_le_bytes());
        directory.extend(u32::try_from(at).map_err(|_| too_large())?.to_le_bytes());
        directory.extend(name.as_bytes());

        plain.extend(b"PK\x03\x04");
        plain.extend(&head);
        plain.extend(name.as_bytes());
        at += length(&head) + 4 + length(name.as_bytes()) + bytes;
        match content {
            Content::Bytes(bytes) => plain.extend(bytes),
            Content::Photo { file, bytes, .. } => {
                parts.push(FilePart::Bytes(std::mem::take(&mut plain)));
                parts.push(FilePart::Photo { file, bytes });
            }
        }
    }
    let size = u32::try_from(directory.len()).map_err(|_| too_large())?;
    plain.append(&mut directory);
    plain.extend(b"PK\x05\x06\0\0\0\0");
    for _ in 0..2 {
        plain.extend(count.to_le_bytes());
    }
    plain.extend(size.to_le_bytes());
    plain.extend(u32::try_from(at).map_err(|_| too_large())?.to_le_bytes());
    plain.extend([0; 2]);
    parts.push(FilePart::Bytes(plain));
    Ok(parts)
}

fn length(bytes: &[u8]) -> u64 {
    u64::try_from(bytes.len()).unwrap_or(u64::MAX)
}

fn too_large() -> StoreError {
    StoreError::TooLarge("the whole file")
}

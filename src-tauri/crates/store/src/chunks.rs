//! A look at a document's bytes from outside before Automerge unpacks them.
//!
//! Two things in the format let a small file grow beyond any memory: compressed parts, and runs, which say "the same
//! once more" any number of times. What this program writes has none of the first, and of the second no more than the
//! document has entries. So the first are refused, and the second counted.
//!
//! Layout after the Automerge binary format specification, automerge.org/automerge-binary-format-spec.

use crate::error::StoreError;

/// The first bytes of every chunk.
const MAGIC: [u8; 4] = [0x85, 0x6f, 0x4a, 0x83];

/// Chunks that hold a document and a change.
const DOCUMENT: u8 = 0;
const CHANGE: u8 = 1;
const COMPRESSED_CHANGE: u8 = 2;

/// Bit of a column's specification: its data are compressed.
const DEFLATED: u64 = 0b1000;

/// Entries of one column: fields ever written, or changes ever made. A job after years of work has a tenth of it.
const MOST_ENTRIES: u64 = 500_000;

/// The longest key or message, bytes: one is stored once and can be meant many times.
const LONGEST_KEY: u64 = 1024;

/// Devices and changes that one list may name.
const MOST_NAMES: u64 = 100_000;

/// Accepts bytes that can be loaded without growing beyond measure.
pub fn check(bytes: &[u8]) -> Result<(), StoreError> {
    let mut input = Input(bytes);
    let mut first = true;
    while !input.0.is_empty() {
        if input.take(4)? != MAGIC {
            return Err(damaged("it does not begin as a document"));
        }
        input.take(4)?;
        let kind = input.byte()?;
        let length = input.uleb()?;
        let mut body = Input(input.take(length)?);
        match kind {
            DOCUMENT => document(&mut body)?,
            CHANGE if !first => change(&mut body)?,
            COMPRESSED_CHANGE => return Err(StoreError::Compressed),
            _ => return Err(damaged("it holds a part that documents here never have")),
        }
        first = false;
    }
    if first {
        return Err(damaged("it is empty"));
    }
    Ok(())
}

fn document(input: &mut Input<'_>) -> Result<(), StoreError> {
    for _ in 0..input.count()? {
        input.text()?;
    }
    for _ in 0..input.count()? {
        input.take(32)?;
    }
    let changes = columns(input)?;
    let entries = columns(input)?;
    for (spec, length) in changes.into_iter().chain(entries) {
        count_entries(spec, input.take(length)?)?;
    }
    Ok(())
}

fn change(input: &mut Input<'_>) -> Result<(), StoreError> {
    for _ in 0..input.count()? {
        input.take(32)?;
    }
    input.text()?; // who wrote it
    input.uleb()?; // its number
    input.uleb()?; // number of its first entry
    input.uleb()?; // time: signed, but as long either way
    input.text()?; // message
    for _ in 0..input.count()? {
        input.text()?; // others that it names
    }
    for (spec, length) in columns(input)? {
        count_entries(spec, input.take(length)?)?;
    }
    Ok(())
}

/// The columns' specifications and lengths.
fn columns(input: &mut Input<'_>) -> Result<Vec<(u64, u64)>, StoreError> {
    let mut columns = Vec::new();
    for _ in 0..input.count()? {
        let (spec, length) = (input.uleb()?, input.uleb()?);
        if spec & DEFLATED != 0 {
            return Err(StoreError::Compressed);
        }
        columns.push((spec, length));
    }
    Ok(columns)
}

/// Refuses a column that stands for too many entries. The last three bits of its specification say how it is written.
fn count_entries(spec: u64, data: &[u8]) -> Result<(), StoreError> {
    let mut input = Input(data);
    let mut entries: u64 = 0;
    while !input.0.is_empty() {
        let run = match spec & 0b111 {
            4 => input.uleb()?,
            7 => return Ok(()),
            5 => run(&mut input, |input| {
                let length = input.uleb()?;
                if length > LONGEST_KEY {
                    return Err(StoreError::TooLarge("a key is too long"));
                }
                input.take(length).map(|_| ())
            })?,
            _ => run(&mut input, |input| input.uleb().map(|_| ()))?,
        };
        entries = entries.saturating_add(run);
        if entries > MOST_ENTRIES {
            return Err(StoreError::TooLarge("it stands for too many entries"));
        }
    }
    Ok(())
}

/// The length of one run: so many times the same, so many that differ, or so many that are empty.
fn run(
    input: &mut Input<'_>,
    value: impl Fn(&mut Input<'_>) -> Result<(), StoreError>,
) -> Result<u64, StoreError> {
    match input.leb()? {
        0 => input.uleb(),
        same @ 1.. => {
            value(input)?;
            Ok(same.unsigned_abs())
        }
        differing => {
            let count = differing.unsigned_abs();
            // each takes a byte at least, so this ends with the data
            for _ in 0..count {
                value(input)?;
            }
            Ok(count)
        }
    }
}

struct Input<'a>(&'a [u8]);

impl<'a> Input<'a> {
    fn take(&mut self, length: u64) -> Result<&'a [u8], StoreError> {
        let split = usize::try_from(length)
            .ok()
            .and_then(|length| self.0.split_at_checked(length));
        let (taken, rest) = split.ok_or_else(|| damaged("it ends too early"))?;
        self.0 = rest;
        Ok(taken)
    }

    fn byte(&mut self) -> Result<u8, StoreError> {
        self.take(1)?
            .first()
            .copied()
            .ok_or_else(|| damaged("it ends too early"))
    }

    /// A whole number in groups of seven bits, lowest first, with its length in bits.
    fn groups(&mut self) -> Result<(u64, u32, u8), StoreError> {
        let (mut value, mut shift) = (0_u64, 0);
        loop {
            let byte = self.byte()?;
            if shift > 63 {
                return Err(damaged("a number is too long"));
            }
            value |= u64::from(byte & 0x7f) << shift;
            shift += 7;
            if byte & 0x80 == 0 {
                return Ok((value, shift, byte));
            }
        }
    }

    fn uleb(&mut self) -> Result<u64, StoreError> {
        self.groups().map(|(value, ..)| value)
    }

    fn leb(&mut self) -> Result<i64, StoreError> {
        let (value, bits, last) = self.groups()?;
        let negative = last & 0x40 != 0 && bits < 64;
        let filled = if negative {
            value | (u64::MAX << bits)
        } else {
            value
        };
        Ok(filled.cast_signed())
    }

    fn count(&mut self) -> Result<u64, StoreError> {
        match self.uleb()? {
            count if count > MOST_NAMES => Err(StoreError::TooLarge("a list in it is too long")),
            count => Ok(count),
        }
    }

    fn text(&mut self) -> Result<(), StoreError> {
        let length = self.uleb()?;
        self.take(length).map(|_| ())
    }
}

fn damaged(why: &str) -> StoreError {
    StoreError::Damaged(format!("a document cannot be read: {why}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::{self, Kind};
    use automerge::ObjId;
    use automerge::transaction::Transactable;
    use sha2::{Digest, Sha256};

    fn sample() -> automerge::Automerge {
        let mut doc = document::begin(Kind::Job.fixed()).unwrap();
        document::change(&mut doc, 0, |tx| {
            for n in 0..400 {
                tx.put(
                    ObjId::Root,
                    format!("field {n}"),
                    "the same text again and again",
                )?;
            }
            Ok(())
        })
        .unwrap();
        doc
    }

    #[test]
    fn what_this_program_writes_is_accepted() {
        let doc = sample();
        check(&document::save(&doc)).unwrap();
        let mut appended = document::save(&doc);
        let mut other = doc.clone();
        document::change(&mut other, 7, |tx| {
            Ok(tx.put(ObjId::Root, "more", -5_i64)?)
        })
        .unwrap();
        for change in other.get_changes(&doc.get_heads()) {
            appended.extend(change.raw_bytes());
        }
        check(&appended).unwrap();
    }

    #[test]
    fn compressed_parts_are_refused() {
        let doc = sample();
        assert_eq!(check(&doc.save()).unwrap_err().code(), "compressed");
        let mut chunks = document::save(&document::begin(Kind::Job.fixed()).unwrap());
        for mut change in doc.get_changes(&[]) {
            chunks.extend(change.bytes().iter());
        }
        assert_eq!(check(&chunks).unwrap_err().code(), "compressed");
    }

    /// A document chunk with one column of changes.
    fn with_column(spec: u64, data: &[u8]) -> Vec<u8> {
        let mut body = vec![0, 0, 1];
        body.extend([
            u8::try_from(spec).unwrap(),
            u8::try_from(data.len()).unwrap(),
        ]);
        body.push(0);
        body.extend(data);
        let mut hashed = vec![DOCUMENT, u8::try_from(body.len()).unwrap()];
        hashed.extend(&body);
        let mut bytes = MAGIC.to_vec();
        bytes.extend(&Sha256::digest(&hashed)[..4]);
        bytes.extend(hashed);
        bytes
    }

    #[test]
    fn a_run_that_stands_for_a_billion_entries_is_refused() {
        // 1,000,000,000 as signed groups of seven bits, then the value 0
        let billion = [0x80, 0x94, 0xeb, 0xdc, 0x03, 0];
        for spec in [0x00, 0x01, 0x02, 0x03, 0x56] {
            let error = check(&with_column(spec, &billion)).unwrap_err();
            assert_eq!(error.code(), "too_large", "column {spec:#x}");
        }
        let error = check(&with_column(0x04, &billion[..5])).unwrap_err();
        assert_eq!(error.code(), "too_large");
        let nulls = [0, 0x80, 0x94, 0xeb, 0xdc, 0x03];
        assert_eq!(
            check(&with_column(0x02, &nulls)).unwrap_err().code(),
            "too_large"
        );
        assert!(check(&with_column(0x02, &[5, 0])).is_ok());
    }

    #[test]
    fn a_run_of_a_long_key_is_refused() {
        let mut data = vec![5];
        data.extend([0x81, 0x08]); // 1,025
        data.extend([b'k'; 100]);
        assert_eq!(
            check(&with_column(0x15, &data)).unwrap_err().code(),
            "too_large"
        );
    }

    #[test]
    fn bytes_that_are_cut_or_changed_never_pass_for_more_than_they_are() {
        let bytes = document::save(&sample());
        for cut in 0..bytes.len() {
            assert!(check(&bytes[..cut]).is_err(), "cut at {cut}");
        }
        assert_eq!(check(&[]).unwrap_err().code(), "damaged");
        let (value, bits, last) = Input(&[0x7f]).groups().unwrap();
        assert_eq!((value, bits, last), (127, 7, 0x7f));
        assert_eq!(Input(&[0x7f]).leb().unwrap(), -1);
        assert_eq!(Input(&[0x80, 0x7f]).leb().unwrap(), -128);
        assert_eq!(Input(&[0xc0, 0x00]).leb().unwrap(), 64);
    }
}

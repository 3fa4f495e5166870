//! Bytes with words before them: 4 bytes little-endian length, that much JSON, then the bytes.
//! Both directions of every byte door use it, so that neither a PDF nor a long question passes through
//! JSON text or a header.
use desk::Fault;
use serde::Serialize;
use serde::de::DeserializeOwned;

/// The words and the bytes as one block.
pub fn join(words: &impl Serialize, body: &[u8]) -> Result<Vec<u8>, Fault> {
    let json = serde_json::to_vec(words).map_err(bad)?;
    let length = u32::try_from(json.len()).map_err(bad)?;
    let mut block = Vec::with_capacity(4 + json.len() + body.len());
    block.extend(length.to_le_bytes());
    block.extend(json);
    block.extend(body);
    Ok(block)
}

/// The words and the bytes of such a block.
pub fn split<T: DeserializeOwned>(block: &[u8]) -> Result<(T, &[u8]), Fault> {
    let (length, rest) = block
        .split_first_chunk::<4>()
        .ok_or_else(|| bad("shorter than its length"))?;
    let length = usize::try_from(u32::from_le_bytes(*length)).map_err(bad)?;
    let (json, body) = rest
        .split_at_checked(length)
        .ok_or_else(|| bad("shorter than it says"))?;
    Ok((serde_json::from_slice(json).map_err(bad)?, body))
}

fn bad(e: impl std::fmt::Display) -> Fault {
    Fault {
        code: "bad_message".into(),
        message: format!("The page and the program do not understand each other: {e}."),
        hint: "Restart Airwright.".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    #[test]
    fn what_is_joined_splits_again() {
        let words = json!({ "name": "Größe" });
        let block = join(&words, b"\0bytes").unwrap();
        let (again, body) = split::<Value>(&block).unwrap();
        assert_eq!((again, body), (words, &b"\0bytes"[..]));
    }

    #[test]
    fn a_block_that_lies_about_its_length_is_refused() {
        for block in [&b""[..], b"\x01\0\0", b"\xff\xff\xff\xff{}", b"\x02\0\0\0{"] {
            assert_eq!(split::<Value>(block).unwrap_err().code, "bad_message");
        }
    }
}

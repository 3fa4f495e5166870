//! Order keys: texts that sort a list, with room for one more between any two.
//!
//! A key is written in hexadecimal and stands for a fraction in base 256 whose last digit is 128, so `80` is the
//! middle. This is the form of the `fractional_index` crate; its arithmetic is not used, because it overflows between
//! keys that begin with the digit 0, which a list reaches after 128 items were put in front.
//!
//! Two devices that add apart may make the same key. The list then sorts by id, and nothing fits between the two until
//! one of them is given a new key.

/// The last digit of every key.
const MIDDLE: u8 = 128;

/// Longer keys, in digits, are replaced by shorter ones when the place next to them is needed.
const LONGEST: usize = 48;

/// A key for a new place before `keys[at]`, or at the end, and the new keys that neighbours need to make room, by
/// index. `keys` are all keys of the list as it is sorted, with the texts as they stand, readable or not.
pub fn place(keys: &[&str], at: usize) -> (String, Vec<(usize, String)>) {
    let at = at.min(keys.len());
    let parsed: Vec<Option<Vec<u8>>> = keys.iter().map(|key| parse(key)).collect();
    let key = |index: usize| parsed.get(index).and_then(Option::as_ref);

    // to the left only what cannot be read is replaced, to the right also what does not sort after the left one
    let mut from = at;
    while from > 0 && key(from - 1).is_none() {
        from -= 1;
    }
    let lower = from.checked_sub(1).and_then(key);
    let mut to = at;
    let fits = |upper: &Vec<u8>| lower.is_none_or(|lower| lower < upper);
    while to < keys.len() && !key(to).is_some_and(fits) {
        to += 1;
    }
    let upper = key(to);

    let mut fresh = spread(
        lower.map(Vec::as_slice),
        upper.map(Vec::as_slice),
        to - from + 1,
    )
    .into_iter()
    .map(|digits| write(&digits));
    let mut moved: Vec<(usize, String)> = (from..at).zip(&mut fresh).collect();
    let placed = fresh.next().unwrap_or_default();
    moved.extend((at..to).zip(fresh));
    (placed, moved)
}

/// So many keys between two, in order.
fn spread(lower: Option<&[u8]>, upper: Option<&[u8]>, count: usize) -> Vec<Vec<u8>> {
    let mut keys: Vec<Vec<u8>> = Vec::with_capacity(count);
    for _ in 0..count {
        let last = keys.last().map(Vec::as_slice).or(lower);
        let next = between(last, upper);
        keys.push(next);
    }
    keys
}

fn between(lower: Option<&[u8]>, upper: Option<&[u8]>) -> Vec<u8> {
    match (lower, upper) {
        (None, None) => vec![MIDDLE],
        (Some(lower), None) => after(lower),
        (None, Some(upper)) => before(upper),
        (Some(lower), Some(upper)) => {
            let same = lower.iter().zip(upper).take_while(|(a, b)| a == b).count();
            let (head, rest) = lower.split_at(same);
            let (low, high) = (rest.first().copied(), upper.get(same).copied());
            let tail = match (low, high) {
                (Some(low), Some(high)) if high - low >= 2 => {
                    vec![low + (high - low) / 2, MIDDLE]
                }
                (Some(low), Some(_)) => [&[low], after(&rest[1..]).as_slice()].concat(),
                // the lower one is the beginning of the upper one
                _ => before(&upper[same..]),
            };
            [head, tail.as_slice()].concat()
        }
    }
}

/// A key after this one, as short as can be.
fn after(digits: &[u8]) -> Vec<u8> {
    let full = digits.iter().take_while(|&&digit| digit == u8::MAX).count();
    let mut key = digits[..digits.len().min(full + 1)].to_vec();
    if let Some(last) = key.get_mut(full) {
        *last += 1;
    }
    key.push(MIDDLE);
    key
}

/// A key before this one, as short as can be. Every key has a digit other than 0.
fn before(digits: &[u8]) -> Vec<u8> {
    let empty = digits.iter().take_while(|&&digit| digit == 0).count();
    let mut key = digits[..digits.len().min(empty + 1)].to_vec();
    if let Some(last) = key.get_mut(empty) {
        *last -= 1;
    }
    key.push(MIDDLE);
    key
}

/// The digits of a key; none if the text is no key, or one that has grown too long.
fn parse(text: &str) -> Option<Vec<u8>> {
    let ok = text.len().is_multiple_of(2)
        && text.len() <= 2 * LONGEST
        && text.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'));
    if !ok {
        return None;
    }
    let digits: Option<Vec<u8>> = (0..text.len())
        .step_by(2)
        .map(|i| u8::from_str_radix(text.get(i..i + 2)?, 16).ok())
        .collect();
    digits.filter(|digits| digits.last() == Some(&MIDDLE))
}

fn write(digits: &[u8]) -> String {
    digits.iter().map(|digit| format!("{digit:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Puts a mark at a place, with the keys that it takes, and answers the marks as the keys sort them.
    fn put(list: &mut Vec<(String, u32)>, at: usize, mark: u32) {
        let keys: Vec<&str> = list.iter().map(|(key, _)| key.as_str()).collect();
        let (key, moved) = place(&keys, at);
        for (index, key) in moved {
            list[index].0 = key;
        }
        list.insert(at.min(list.len()), (key, mark));
    }

    fn sorted_by_key(list: &[(String, u32)]) -> bool {
        list.windows(2).all(|w| w[0].0 < w[1].0)
    }

    #[test]
    fn the_first_keys_are_short() {
        assert_eq!(place(&[], 0).0, "80");
        assert_eq!(place(&["80"], 1).0, "8180");
        assert_eq!(place(&["80"], 0).0, "7f80");
        assert_eq!(place(&["80", "8180"], 1).0, "8080");
    }

    #[test]
    fn a_thousand_in_front_and_then_one_between() {
        let mut list = Vec::new();
        for mark in 0..1000 {
            put(&mut list, 0, mark);
        }
        put(&mut list, 1, 5000);
        put(&mut list, 1, 5001);
        assert!(sorted_by_key(&list));
        assert!(
            list.iter().all(|(key, _)| key.len() <= 24),
            "keys stay short"
        );
    }

    #[test]
    fn a_thousand_at_one_spot_stay_within_the_length_that_is_read() {
        let mut list = Vec::new();
        put(&mut list, 0, 0);
        put(&mut list, 1, 1);
        for mark in 2..1000 {
            put(&mut list, 1, mark);
        }
        assert!(sorted_by_key(&list));
        assert!(list.iter().all(|(key, _)| key.len() <= 2 * LONGEST + 2));
    }

    #[test]
    fn equal_keys_are_parted_and_the_rest_is_left_alone() {
        let (key, moved) = place(&["80", "80", "80", "8180"], 1);
        let again: Vec<usize> = moved.iter().map(|(index, _)| *index).collect();
        assert_eq!(again, [1, 2]);
        assert!("80" < key.as_str() && key < moved[0].1 && moved[0].1 < moved[1].1);
        assert!(moved[1].1.as_str() < "8180");
    }

    #[test]
    fn what_is_no_key_is_replaced() {
        let (key, moved) = place(&["", "zz", "8180"], 1);
        assert_eq!(moved.len(), 2);
        assert!(moved[0].1 < key && key < moved[1].1 && moved[1].1.as_str() < "8180");
    }

    proptest! {
        #[test]
        fn any_list_takes_one_more_anywhere(
            mut texts in proptest::collection::vec("([0-9a-f]{2}){0,3}(80)?|[a-z]{0,3}", 0..12),
            at in 0usize..13,
        ) {
            texts.sort();
            let at = at.min(texts.len());
            let keys: Vec<&str> = texts.iter().map(String::as_str).collect();
            let (key, moved) = place(&keys, at);
            let mut list: Vec<(String, u32)> = texts.iter().cloned().zip(0..).collect();
            let touched: Vec<usize> = moved.iter().map(|(i, _)| *i).collect();
            for (index, key) in moved {
                list[index].0 = key;
            }
            list.insert(at, (key, 99));
            // everything sorts as it stands, and strictly so around the new place
            prop_assert!(list.windows(2).all(|w| w[0].0 <= w[1].0), "{list:?}");
            prop_assert!(at == 0 || list[at - 1].0 < list[at].0, "{list:?}");
            prop_assert!(at + 1 == list.len() || list[at].0 < list[at + 1].0, "{list:?}");
            // nobody was moved without need: a neighbour with a good key between good keys stays
            prop_assert!(touched.len() <= texts.len());
        }
    }
}

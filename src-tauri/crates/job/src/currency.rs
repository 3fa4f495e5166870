//! Currencies: every amount is a whole number of the currency's smallest unit (ISO 4217, minor unit), wherever a name says cents: cents
//! of a euro, yen, fils of a dinar. So a sum is never finer than what can be paid, and what rounds to a whole number rounds to the
//! currency's own unit.

/// Currencies without decimals (ISO 4217, list one).
const NONE: [&str; 17] = [
    "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "UYI", "VND",
    "VUV", "XAF", "XOF", "XPF",
];
/// Those with three.
const THREE: [&str; 7] = ["BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"];
/// Those with four.
const FOUR: [&str; 2] = ["CLF", "UYW"];

/// Decimals of a currency; two for what is no code of the list.
#[must_use]
pub fn decimals(currency: &str) -> u32 {
    if NONE.contains(&currency) {
        0
    } else if THREE.contains(&currency) {
        3
    } else if FOUR.contains(&currency) {
        4
    } else {
        2
    }
}

/// An amount with its point and no other mark: `1234.50`, `-1234`, `1.250`.
#[must_use]
pub fn decimal(cents: i64, currency: &str) -> String {
    let sign = if cents < 0 { "-" } else { "" };
    let (whole, part) = split(cents, currency);
    format!("{sign}{whole}{part}")
}

/// Whole units without a sign, and the decimals with their point; nothing for a currency that has none.
#[must_use]
pub fn split(cents: i64, currency: &str) -> (u64, String) {
    let places = decimals(currency);
    let unit = 10u64.pow(places);
    let cents = cents.unsigned_abs();
    let part = match usize::try_from(places) {
        Ok(0) | Err(_) => String::new(),
        Ok(width) => format!(".{:0width$}", cents % unit),
    };
    (cents / unit, part)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: ISO 4217, list one, in `tests/data/currencies.csv` (as the package iso4217 1.16.20260101 reads it).
    #[test]
    fn decimals_are_those_of_the_standard() {
        let list = include_str!("../../../../tests/data/currencies.csv");
        let mut seen = 0;
        for line in list.lines().skip(1) {
            let parts: Vec<&str> = line.split(',').collect();
            let [code, _, places] = parts[..] else {
                panic!("{line}")
            };
            assert_eq!(decimals(code).to_string(), places, "{code}");
            seen += 1;
        }
        assert!(seen > 150, "{seen}");
        for code in NONE.iter().chain(&THREE).chain(&FOUR) {
            assert!(list.contains(&format!("\n{code},")), "{code}");
        }
        // numbers as pycountry 26.2.16 prints them
        for (code, number) in [
            ("EUR", "978"),
            ("USD", "840"),
            ("GBP", "826"),
            ("JPY", "392"),
            ("KWD", "414"),
        ] {
            assert!(list.contains(&format!("\n{code},{number},")), "{code}");
        }
    }

    #[test]
    fn amounts_have_the_decimals_of_their_currency() {
        for (cents, currency, want) in [
            (123_450, "EUR", "1234.50"),
            (-5, "GBP", "-0.05"),
            (123_450, "JPY", "123450"),
            (-1, "KRW", "-1"),
            (123_450, "KWD", "123.450"),
            (7, "BHD", "0.007"),
            (12_345, "CLF", "1.2345"),
            (100, "??", "1.00"),
            (i64::MIN, "JPY", "-9223372036854775808"),
        ] {
            assert_eq!(decimal(cents, currency), want, "{currency}");
        }
    }
}

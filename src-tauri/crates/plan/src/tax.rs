//! Rounding and tax: whole cents (see [`job::currency`]), halves away from nought, tax on the sum of each rate.

use std::collections::BTreeMap;

/// A sum at one rate of tax.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rated {
    /// Cents; negative is an allowance or a credit.
    pub cents: i64,
    /// Rate of tax, hundredths of a percent.
    pub rate_bp: i64,
}

/// Tax of one rate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TaxLine {
    /// Rate, hundredths of a percent.
    pub rate_bp: i64,
    /// Sum of the lines, charges and allowances at this rate, cents.
    pub taxable_cents: i64,
    /// Tax, cents.
    pub tax_cents: i64,
}

/// Totals of an invoice, cents.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Totals {
    /// By rate, ascending.
    pub taxes: Vec<TaxLine>,
    /// Without tax.
    pub net_cents: i64,
    /// With tax.
    pub gross_cents: i64,
    /// Still to pay.
    pub due_cents: i64,
}

/// `cents` × `parts` / `whole`, halves away from zero. Wide inside, saturating outside.
#[must_use]
pub fn share(cents: i64, parts: i64, whole: i64) -> i64 {
    let whole = i128::from(whole.max(1));
    let product = i128::from(cents) * i128::from(parts);
    let rounded = (product.abs() * 2 + whole) / (whole * 2) * product.signum();
    i64::try_from(rounded).unwrap_or(if rounded < 0 { i64::MIN } else { i64::MAX })
}

/// Tax on an amount, halves up.
#[must_use]
pub fn tax(cents: i64, rate_bp: i64) -> i64 {
    share(cents, rate_bp, 10_000)
}

/// Totals of lines, charges and allowances that are already whole cents; EN 16931 BR-CO-10 to BR-CO-17: tax is reckoned once for each
/// rate, on the sum, and rounded to whole cents.
#[must_use]
pub fn totals(rated: &[Rated], prepaid_cents: i64) -> Totals {
    let mut sums: BTreeMap<i64, i64> = BTreeMap::new();
    for r in rated {
        let sum = sums.entry(r.rate_bp).or_default();
        *sum = sum.saturating_add(r.cents);
    }
    let taxes: Vec<TaxLine> = sums
        .into_iter()
        .map(|(rate_bp, taxable_cents)| TaxLine {
            rate_bp,
            taxable_cents,
            tax_cents: tax(taxable_cents, rate_bp),
        })
        .collect();
    let net_cents = taxes
        .iter()
        .fold(0i64, |sum, t| sum.saturating_add(t.taxable_cents));
    let gross_cents = taxes
        .iter()
        .fold(net_cents, |sum, t| sum.saturating_add(t.tax_cents));
    Totals {
        taxes,
        net_cents,
        gross_cents,
        due_cents: gross_cents.saturating_sub(prepaid_cents),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rated(rate_bp: i64, cents: &[i64]) -> Vec<Rated> {
        cents.iter().map(|c| Rated { cents: *c, rate_bp }).collect()
    }

    fn taxes(t: &Totals) -> Vec<(i64, i64, i64)> {
        t.taxes
            .iter()
            .map(|t| (t.rate_bp, t.taxable_cents, t.tax_cents))
            .collect()
    }

    /// Half up at two decimals, checked with Python's decimal: 0.005, 0.015, 0.025, 1.005, 2.675.
    #[test]
    fn halves_go_up() {
        for (tenths_of_cents, want) in [
            (5, 1),
            (15, 2),
            (25, 3),
            (1005, 101),
            (2675, 268),
            (-5, -1),
            (4, 0),
        ] {
            assert_eq!(share(tenths_of_cents, 1, 10), want);
        }
        assert_eq!(share(i64::MAX, i64::MAX, 1), i64::MAX);
        assert_eq!(share(i64::MIN, i64::MAX, 0), i64::MIN);
    }

    /// BR-CO-17 is written with the round of XPath, whose ties go up: 0.5 is 1, 2.5 is 3, -0.5 is 0 (W3C XPath functions, fn:round).
    /// Ours go away from nought, so that a credit note takes back what the invoice asked for: the same above nought, and below it within
    /// the one unit that the rule forgives.
    #[test]
    fn ties_are_those_of_the_rule_or_one_beside() {
        let xpath = |halves: i64| (halves + 1).div_euclid(2);
        assert_eq!([1, 5, -1].map(xpath), [1, 3, 0]);
        for halves in -50..50 {
            let ours = share(halves, 1, 2);
            assert_eq!(share(-halves, 1, 2), -ours);
            assert!(if halves >= 0 {
                ours == xpath(halves)
            } else {
                (ours - xpath(halves)).abs() <= 1
            });
        }
    }

    /// HMRC, VAT record keeping VATREC12010 and Notice 700, 17.5: on an invoice the whole tax may be rounded down to a penny. May: ours goes
    /// to the nearest, so it is never below that, and never more than a penny above. Council Regulation (EC) 1103/97, article 5: half a
    /// cent goes up.
    #[test]
    fn tax_is_within_a_penny_of_what_may_be_rounded_down() {
        for cents in 0..5000 {
            for rate_bp in [500, 700, 1900, 2000] {
                let down = cents * rate_bp / 10_000;
                let ours = tax(cents, rate_bp);
                assert!((down..=down + 1).contains(&ours), "{cents} at {rate_bp}");
                let half = cents * rate_bp % 10_000 == 5_000;
                assert!(!half || ours == down + 1, "{cents} at {rate_bp}");
            }
        }
    }

    /// Amounts are whole numbers of the smallest unit, so tax on yen is whole yen and tax on dinars whole fils. Worked by hand: 10 % of
    /// 12 345 yen is 1 234.5; 5 % of 1.250 dinars is 0.0625.
    #[test]
    fn tax_is_whole_units_of_its_currency() {
        use job::currency::decimal;
        assert_eq!(decimal(tax(12_345, 1000), "JPY"), "1235");
        assert_eq!(decimal(tax(1_250, 500), "KWD"), "0.063");
        assert_eq!(decimal(tax(12_345, 1000), "EUR"), "12.35");
    }

    /// CEN/TC 434 example invoice 2 (ubl-tc434-example2.xml), from the line nets down; published tax 365.13, gross 1801.78.
    #[test]
    fn example_invoice_2() {
        let lines = [
            rated(2500, &[127_300, 18_750, 10_000, -10_000]),
            rated(1500, &[496, -396]),
            rated(0, &[-2_500]),
        ];
        let t = totals(&lines.concat(), 100_000);
        assert_eq!(
            taxes(&t),
            [(0, -2_500, 0), (1500, 100, 15), (2500, 146_050, 36_513)]
        );
        assert_eq!(
            (t.net_cents, t.gross_cents, t.due_cents),
            (143_650, 180_178, 80_178)
        );
    }

    /// CEN/TC 434 example invoice 1: 183.23 at 6 % and 46.37 at 21 %.
    #[test]
    fn example_invoice_1() {
        let t = totals(&[rated(600, &[18_323]), rated(2100, &[4_637])].concat(), 0);
        assert_eq!(taxes(&t), [(600, 18_323, 1_099), (2100, 4_637, 974)]);
        assert_eq!((t.net_cents, t.gross_cents), (22_960, 25_033));
    }

    /// CEN/TC 434 example invoice 8.
    #[test]
    fn example_invoice_8() {
        let lines = [
            14_080, 1_616, 16_764, 8_874, 3_675, 5_650, 8_334, 19_031, 6_421, 6_446,
        ];
        let t = totals(&rated(2100, &lines), 0);
        assert_eq!(
            (t.net_cents, t.taxes[0].tax_cents, t.gross_cents),
            (90_891, 19_087, 109_978)
        );
    }

    /// CEN/TC 434 example invoices 3 and 5.
    #[test]
    fn example_invoices_3_and_5() {
        let three = totals(
            &[rated(2500, &[90_000]), rated(1000, &[80_000])].concat(),
            0,
        );
        assert_eq!(
            three.taxes.iter().map(|t| t.tax_cents).collect::<Vec<_>>(),
            [8_000, 22_500]
        );
        assert_eq!((three.net_cents, three.gross_cents), (170_000, 200_500));
        let five = totals(
            &[rated(2500, &[150_000]), rated(1200, &[250_000])].concat(),
            233_750,
        );
        assert_eq!(
            five.taxes.iter().map(|t| t.tax_cents).collect::<Vec<_>>(),
            [30_000, 37_500]
        );
        assert_eq!(
            (five.net_cents, five.gross_cents, five.due_cents),
            (400_000, 467_500, 233_750)
        );
    }

    /// Rounding each line and rounding the total differ (half up both, exact decimals): 3 x 0.33 at 20 % is 0.20 in all and 0.21
    /// line by line, 7 x 1.03 is 1.44 and 1.47. EN 16931 BR-CO-17 takes the total.
    #[test]
    fn tax_is_rounded_once_for_each_rate() {
        for (line, times, in_all, by_line) in [(33, 3, 20, 21), (103, 7, 144, 147)] {
            let lines = vec![line; times];
            assert_eq!(totals(&rated(2000, &lines), 0).taxes[0].tax_cents, in_all);
            assert_eq!(lines.iter().map(|l| tax(*l, 2000)).sum::<i64>(), by_line);
        }
        // lines of 33.335 are rounded first: 3 x 33.34 = 100.02, tax at 19 % 19.00
        let line = share(33_335, 1, 10);
        let t = totals(&rated(1900, &[line; 3]), 0);
        assert_eq!((t.net_cents, t.taxes[0].tax_cents), (10_002, 1_900));
    }
}

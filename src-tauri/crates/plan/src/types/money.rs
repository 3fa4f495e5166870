//! What a plan says of money.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// What a line of the price is for.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize, TS,
)]
#[serde(rename_all = "snake_case")]
pub enum PriceKind {
    /// Balloons and sundries.
    #[default]
    Goods,
    /// Hours.
    Labour,
    /// Metres, balloons or the package, by the model of the price.
    Model,
    /// Frames.
    Frames,
    /// The way.
    Travel,
    /// Stairs, parking, a late strike.
    Fee,
    /// Season and weekend.
    Season,
    /// A charge or allowance by hand.
    Charge,
}

plain! {
    /// The price, step by step. Every line is whole cents.
    pub struct Price {
        /// ISO 4217 code.
        pub currency: String,
        /// Lines of the net price.
        pub lines: Vec<PriceLine>,
        /// The labour line by phase of the job; its parts add up to it.
        pub phases: Vec<PriceLine>,
        /// Sum of the lines, cents.
        pub lines_cents: i64,
        /// Allowance, cents, not negative.
        pub discount_cents: i64,
        /// The allowance by rate of tax: nets, not positive.
        pub discounts: Vec<PriceTax>,
        /// Put on to reach the least price, cents.
        pub minimum_cents: i64,
        /// Put on so that what is to be paid is a pleasing figure, cents.
        pub rounding_cents: i64,
        /// Net, cents.
        pub net_cents: i64,
        /// Rate of all that has none of its own, hundredths of a percent.
        pub tax_bp: i64,
        /// Tax by rate, ascending.
        pub taxes: Vec<PriceTax>,
        /// Tax, cents.
        pub tax_cents: i64,
        /// To pay, cents.
        pub gross_cents: i64,
        /// Asked for on agreement, cents.
        pub deposit_cents: i64,
        /// What the goods cost the decorator, cents.
        pub goods_cost_cents: i64,
    }

    /// A line of the price.
    pub struct PriceLine {
        /// What kind of line it is.
        pub kind: PriceKind,
        /// What for.
        pub label: String,
        /// How it was reckoned, in words: `14.5 h at € 32.00`.
        pub detail: String,
        /// Cents.
        pub cents: i64,
        /// Rate of tax, hundredths of a percent.
        pub tax_bp: i64,
    }

    /// Tax at one rate.
    pub struct PriceTax {
        /// Rate, hundredths of a percent.
        pub tax_bp: i64,
        /// Net at this rate, cents.
        pub net_cents: i64,
        /// Tax on it, cents.
        pub tax_cents: i64,
    }
}

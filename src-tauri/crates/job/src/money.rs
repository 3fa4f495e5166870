//! The private part of a job: who pays, and what it costs. A crew copy leaves it out.

use crate::list::{Ids, document, listed};

document! {
    /// Client and money of one job; a document of its own beside [`crate::Job`].
    pub struct Private {
        /// Newest format that wrote to the document.
        pub format: i64,
        /// Who asked for it.
        pub client: Client,
        /// How the price is made.
        pub prices: Prices,
        /// What items cost, by the item's id.
        pub costs: Ids<Cost>,
        /// Further charges and allowances: stairs, parking, late strike, a discount in money.
        pub charges: Ids<Charge>,
    }

    /// The client.
    #[derive(Default)]
    pub struct Client {
        /// Person or firm.
        pub name: String,
        /// Telephone.
        pub phone: String,
        /// E-mail.
        pub email: String,
        /// Postal address.
        pub address: String,
        /// Private remarks.
        pub remarks: String,
    }

    /// How the price is made. Rates invented for a start; every number is the user's.
    pub struct Prices {
        /// ISO 4217 code.
        pub currency: String,
        /// Put on the cost of goods, percent.
        pub markup_pct: i64,
        /// An hour of one person, cents.
        pub labour_h_cents: i64,
        /// A kilometre driven, cents.
        pub travel_km_cents: i64,
        /// Each free-standing frame, cents.
        pub frame_cents: i64,
        /// The net price is never below this, cents.
        pub minimum_cents: i64,
        /// Taken off the net price, percent.
        pub discount_pct: i64,
        /// Tax, hundredths of a percent; 2000 is 20 %.
        pub tax_bp: i64,
        /// Asked for on agreement, percent of the gross price.
        pub deposit_pct: i64,
        /// The quote is good for so many days.
        pub valid_days: i64,
        /// Terms printed under the price.
        pub terms: String,
    }

    /// What a bag of an item costs.
    pub struct Cost {
        /// How many to the bag that the cost is for.
        pub bag: i64,
        /// The bag, cents.
        pub cents: i64,
    }

    /// One more line of the price.
    #[derive(Default)]
    pub struct Charge {
        /// What for.
        pub label: String,
        /// Cents; negative is an allowance.
        pub cents: i64,
        /// Place in the list.
        pub order: String,
        /// Removed.
        pub gone: bool,
    }
}

listed!(Charge);

impl Default for Private {
    fn default() -> Self {
        Self {
            format: crate::FORMAT,
            client: Client::default(),
            prices: Prices::default(),
            costs: Ids::new(),
            charges: Ids::new(),
        }
    }
}

impl Default for Prices {
    fn default() -> Self {
        Self {
            currency: "EUR".into(),
            markup_pct: 100,
            labour_h_cents: 3200,
            travel_km_cents: 60,
            frame_cents: 4500,
            minimum_cents: 0,
            discount_pct: 0,
            tax_bp: 2000,
            deposit_pct: 30,
            valid_days: 14,
            terms: String::new(),
        }
    }
}

impl Default for Cost {
    fn default() -> Self {
        Self { bag: 1, cents: 0 }
    }
}

/// The maps and records that stand at the top of every private document from its first change on.
pub const TOP_LEVEL: [&str; 4] = ["client", "prices", "costs", "charges"];

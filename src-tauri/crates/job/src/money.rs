//! The private part of a job: who pays, and what it costs. A crew copy leaves it out.

use crate::bill::KeptBill;
use crate::day::Signature;
use crate::list::{Ids, document, listed, words};

words! {
    /// How the price is made.
    pub enum PriceModel {
        /// Cost of goods with a share on it, and hours.
        #[default]
        CostPlus,
        /// Each metre of garland and chain, and each balloon of the other pieces.
        PerMetre,
        /// One price for goods, work and frames.
        Package,
    }
}

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
        /// How it is paid, part by part; without any: the deposit, then the rest.
        pub instalments: Ids<Instalment>,
        /// Drafts and issued quotes, invoices and credit notes.
        pub bills: Ids<KeptBill>,
        /// What was really used, by the item's id.
        pub used: Ids<Used>,
        /// What it really took, after the job.
        pub spent: Spent,
        /// Hand-overs that were signed on the screen.
        pub signatures: Ids<Signature>,
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
        /// Country, ISO 3166-1 code of two letters, for invoices.
        pub country: String,
        /// Tax number, for invoices to firms.
        pub tax_number: String,
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
        /// How the price is made.
        pub model: PriceModel,
        /// Per metre: a metre of garland or chain, cents.
        pub metre_cents: i64,
        /// Per metre: a balloon of any other piece, cents.
        pub balloon_cents: i64,
        /// Package: what it is called.
        pub package: String,
        /// Package: its price, cents.
        pub package_cents: i64,
        /// Each step of stairs on the way in, cents.
        pub stair_cents: i64,
        /// Parking at the venue, each trip, cents.
        pub parking_cents: i64,
        /// Taking down that begins late in the evening or at night, cents.
        pub late_cents: i64,
        /// Taking down is late from this minute of the day on, and until six in the morning.
        pub late_from_min: i64,
        /// Put on in the season, percent; negative takes off.
        pub season_pct: i64,
        /// First month of the season, 1 to 12.
        pub season_from: i64,
        /// Last month of the season, 1 to 12; before the first, the season runs over the new year.
        pub season_to: i64,
        /// Put on from Friday to Sunday, percent; negative takes off.
        pub weekend_pct: i64,
        /// What the client pays is brought up to a multiple of this, cents; 0 leaves it as it is.
        pub round_to_cents: i64,
        /// Why there is no tax, where the rate is nought; printed on invoices.
        pub tax_note: String,
        /// Invoices are to be paid within so many days.
        pub pay_days: i64,
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
        /// It has a rate of tax of its own.
        pub own_tax: bool,
        /// That rate, hundredths of a percent.
        pub tax_bp: i64,
        /// Place in the list.
        pub order: String,
        /// Removed.
        pub gone: bool,
    }
}

document! {
    /// A part of the payment before the last one.
    #[derive(Default)]
    pub struct Instalment {
        /// What it is called: `Deposit`, `Second part`.
        pub label: String,
        /// Of the whole, percent.
        pub pct: i64,
        /// Due on this day, `YYYY-MM-DD`; empty is on agreement.
        pub day: String,
        /// Place in the list.
        pub order: String,
        /// Removed.
        pub gone: bool,
    }

    /// What was really used of an item.
    #[derive(Default)]
    pub struct Used {
        /// Single balloons or units.
        pub units: i64,
    }

    /// What the job really took, as typed afterwards; 0 is not entered.
    #[derive(Default)]
    pub struct Spent {
        /// Work in the studio, all people together, min.
        pub prepare_min: i64,
        /// Packing, loading and driving, min.
        pub travel_min: i64,
        /// Work at the venue, min.
        pub install_min: i64,
        /// Taking down, min.
        pub strike_min: i64,
        /// Goods, cents; 0 counts what was used.
        pub goods_cents: i64,
        /// Driven, tenths of a kilometre.
        pub driven_hm: i64,
        /// Whatever else was paid for: parking, hired help, cents.
        pub other_cents: i64,
        /// What to do otherwise next time.
        pub remarks: String,
        /// When these figures were settled, ms; 0 while they are not. Only settled jobs are learnt from.
        pub settled_ms: i64,
        /// Settled: net price, cents.
        pub net_cents: i64,
        /// Settled: goods and whatever else was paid for, cents.
        pub cost_cents: i64,
        /// Settled: working time that was planned, s.
        pub planned_s: i64,
        /// Settled: working time that it took, s.
        pub took_s: i64,
        /// Settled: garland and chain, mm.
        pub metres_mm: i64,
        /// Settled: balloons.
        pub balloons: i64,
    }
}

listed!(Charge, Instalment);

impl Default for Private {
    fn default() -> Self {
        Self {
            format: crate::FORMAT,
            client: Client::default(),
            prices: Prices::default(),
            costs: Ids::new(),
            charges: Ids::new(),
            instalments: Ids::new(),
            bills: Ids::new(),
            used: Ids::new(),
            spent: Spent::default(),
            signatures: Ids::new(),
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
            model: PriceModel::default(),
            metre_cents: 9500,
            balloon_cents: 350,
            package: String::new(),
            package_cents: 0,
            stair_cents: 0,
            parking_cents: 0,
            late_cents: 0,
            late_from_min: 22 * 60,
            season_pct: 0,
            season_from: 5,
            season_to: 9,
            weekend_pct: 0,
            round_to_cents: 0,
            tax_note: String::new(),
            pay_days: 14,
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

/// Those that came with bills, by the second fixed change.
pub const BILLS_LEVEL: [&str; 4] = ["instalments", "bills", "used", "spent"];

/// The list of signatures: the third fixed change makes it.
pub const TOP_LEVEL_DAY: [&str; 1] = ["signatures"];

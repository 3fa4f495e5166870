//! The books that jobs copy from: stockroom, people, kit, vehicles, and the decorator's own settings.

use crate::list::{Ids, document, listed, words};
use crate::money::{Cost, Prices};
use crate::site::{Crew, Kit};
use crate::stock::{Colour, Item, Rates, Rules, Sundry};

words! {
    /// One of the books; each is a document of its own.
    pub enum Book {
        /// Colours, balloons and sundries.
        #[default]
        Stockroom,
        /// People.
        People,
        /// Kit and vehicles.
        Kit,
        /// Own name, rates, rules and prices.
        Settings,
    }
}

impl Book {
    /// Every book there is.
    pub const ALL: [Book; 4] = [Book::Stockroom, Book::People, Book::Kit, Book::Settings];

    /// The id of its document.
    #[must_use]
    pub fn id(self) -> &'static str {
        match self {
            Book::Stockroom => "stockroom",
            Book::People => "people",
            Book::Kit => "kit",
            Book::Settings | Book::Newer => "settings",
        }
    }
}

document! {
    /// All books together, as the screens read them. Every book's document holds the whole set of top-level maps and
    /// uses its own part.
    #[derive(Default)]
    pub struct Books {
        /// Balloon colours.
        pub colours: Ids<Colour>,
        /// Balloons and sundries.
        pub items: Ids<Item>,
        /// What items cost, by the item's id.
        pub costs: Ids<Cost>,
        /// Sundries by the metre or piece.
        pub sundries: Ids<Sundry>,
        /// People.
        pub people: Ids<Crew>,
        /// Kit.
        pub kit: Ids<Kit>,
        /// Vehicles.
        pub vehicles: Ids<Van>,
        /// The decorator.
        pub own: Own,
        /// How long work takes, for new jobs.
        pub rates: Rates,
        /// Spares, freshness and transport, for new jobs.
        pub rules: Rules,
        /// How the price is made, for new jobs.
        pub prices: Prices,
    }

    /// A vehicle in the book, whose measures jobs copy; in a job, one that goes along besides the first.
    #[derive(Default)]
    pub struct Van {
        /// Its measures.
        pub vehicle: crate::site::Vehicle,
        /// In a job: where it was copied from, id in the book of vehicles.
        pub source: String,
        /// Place in the list.
        pub order: String,
        /// Removed.
        pub gone: bool,
    }

    /// The decorator, as papers name them.
    #[derive(Default)]
    pub struct Own {
        /// Trading name.
        pub name: String,
        /// Postal address.
        pub address: String,
        /// Telephone.
        pub phone: String,
        /// E-mail.
        pub email: String,
        /// Tax number, printed on quotes.
        pub tax_number: String,
        /// IANA zone of the studio, for new jobs.
        pub zone: String,
        /// Country, ISO 3166-1 code of two letters.
        pub country: String,
        /// Bank and account, printed on invoices.
        pub bank: String,
        /// The one device that issues numbers, by its id; empty while none was named.
        pub issuer: String,
        /// Before the number of an invoice or credit note: `2027-`.
        pub number_prefix: String,
        /// The next number is at least this.
        pub number_next: i64,
    }
}

listed!(Van);

/// The maps and records that stand at the top of every book from its first change on.
pub const TOP_LEVEL: [&str; 11] = [
    "colours", "items", "costs", "sundries", "people", "kit", "vehicles", "own", "rates", "rules",
    "prices",
];

//! Lists kept as maps: an id, an order key, a mark for what is gone.

use std::collections::BTreeMap;

/// A list of items by id.
pub type Ids<T> = BTreeMap<String, T>;

/// What every item of a list carries.
pub trait Listed {
    /// Sorts the list; equal keys are sorted by id.
    fn order(&self) -> &str;
    /// Removed by the user. It stays in the document, so that another device's edit of it is not lost.
    fn gone(&self) -> bool;
}

/// The items that are not gone, in the order of the list: by order key, then by id.
pub fn live<T: Listed>(list: &Ids<T>) -> Vec<(&str, &T)> {
    let mut items: Vec<(&str, &T)> = list
        .iter()
        .filter(|(_, item)| !item.gone())
        .map(|(id, item)| (id.as_str(), item))
        .collect();
    items.sort_by(|(a_id, a), (b_id, b)| (a.order(), a_id).cmp(&(b.order(), b_id)));
    items
}

/// Implements [`Listed`] for structs with the fields `order` and `gone`.
macro_rules! listed {
    ($($t:ty),* $(,)?) => {$(
        impl crate::list::Listed for $t {
            fn order(&self) -> &str {
                &self.order
            }
            fn gone(&self) -> bool {
                self.gone
            }
        }
    )*};
}
pub(crate) use listed;

/// Derives and serde defaults that every type of the document shares.
macro_rules! document {
    ($($(#[$meta:meta])* pub struct $name:ident { $($(#[$fmeta:meta])* pub $field:ident : $ty:ty,)* })*) => {$(
        $(#[$meta])*
        #[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize, ts_rs::TS)]
        #[serde(default)]
        pub struct $name { $($(#[$fmeta])* pub $field: $ty,)* }
    )*};
}
pub(crate) use document;

/// A word of a closed list; a word that a newer version wrote reads as `Newer` and is kept in the document.
macro_rules! words {
    ($($(#[$meta:meta])* pub enum $name:ident { $($(#[$vmeta:meta])* $variant:ident,)* })*) => {$(
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, serde::Serialize, serde::Deserialize, ts_rs::TS)]
        #[serde(rename_all = "snake_case")]
        pub enum $name {
            $($(#[$vmeta])* $variant,)*
            /// Written by a newer version of the program.
            #[serde(other)]
            Newer,
        }
    )*};
}
pub(crate) use words;

//! The one door: the list of commands, typed, with coded faults. Every host calls these five functions and nothing else.

mod books;
mod commands;
mod compute;
mod day;
mod document;
mod fault;
mod files;
mod jobs;
mod money;
mod names;
mod photos;
mod picture;
#[cfg(feature = "probe")]
mod probe;
mod times;
mod told;
#[cfg(test)]
mod typescript;
pub mod views;
pub mod words;

use serde_json::Value;
use store::{PhotoPlace, Store};

pub use commands::needs_store;
pub use fault::Fault;

use fault::guarded;

/// What a host lends the desk.
pub struct Host {
    /// Milliseconds since 1970-01-01 UTC.
    pub now_ms: fn() -> i64,
}

/// The open database with everything that can be asked of it.
pub struct Desk {
    pub(crate) store: Store,
    host: Host,
}

impl Desk {
    /// Takes an open database and brings it to the newest form.
    pub fn open(conn: rusqlite::Connection, host: Host) -> Result<Desk, Fault> {
        let store = Store::open(conn)?;
        Ok(Desk { store, host })
    }

    /// Says where the files of photos are. Without it everything works but photos.
    pub fn keep_photos_in(&mut self, place: Box<dyn PhotoPlace>) {
        self.store.keep_photos_in(place);
    }

    pub(crate) fn now_ms(&self) -> i64 {
        (self.host.now_ms)()
    }

    /// A command of the store, JSON in and out. A panic becomes the fault `internal`.
    pub fn call(&mut self, name: &str, args: Value) -> Result<Value, Fault> {
        guarded(|| {
            #[cfg(feature = "probe")]
            if probe::knows(name) {
                return probe::json(name, args);
            }
            commands::call(self, name, args)
        })
    }

    /// A command of the store with bytes in or out.
    pub fn call_bytes(
        &mut self,
        name: &str,
        args: Value,
        body: &[u8],
    ) -> Result<(Value, Vec<u8>), Fault> {
        guarded(|| {
            #[cfg(feature = "probe")]
            if probe::knows(name) {
                return probe::bytes(name, args, body);
            }
            commands::call_bytes(self, name, args, body)
        })
    }
}

/// Work that needs no database, JSON in and out.
pub fn compute(name: &str, args: Value) -> Result<Value, Fault> {
    guarded(|| {
        #[cfg(feature = "probe")]
        if probe::knows(name) {
            return probe::json(name, args);
        }
        commands::compute_json(name, args)
    })
}

/// Work that needs no database, with bytes in or out.
pub fn compute_bytes(name: &str, args: Value, body: &[u8]) -> Result<(Value, Vec<u8>), Fault> {
    guarded(|| {
        #[cfg(feature = "probe")]
        if probe::knows(name) {
            return probe::bytes(name, args, body);
        }
        commands::compute_with_bytes(name, args, body)
    })
}

/// The program and this device.
pub(crate) fn about(desk: &mut Desk, (): ()) -> Result<views::About, Fault> {
    Ok(views::About {
        version: env!("CARGO_PKG_VERSION").into(),
        format: job::FORMAT,
        engine: plan::ENGINE.into(),
        zones: job::time::ZONES.into(),
        device: desk.store.device_id().to_string(),
    })
}

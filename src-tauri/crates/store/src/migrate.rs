//! Brings a database to the newest form, step by step, all in one transaction.

use rusqlite::{Connection, TransactionBehavior};

use crate::error::StoreError;

/// Marks the file as ours: `Airw`.
pub const APPLICATION_ID: i64 = 0x4169_7277;

/// The steps, oldest first. A step that was released never changes.
const STEPS: [&str; 3] = [
    include_str!("migrations/0001.sql"),
    include_str!("migrations/0002.sql"),
    include_str!("migrations/0003.sql"),
];

/// The form that the newest step makes.
pub const NEWEST: i64 = STEPS.len() as i64;

/// Makes the tables of an empty database, or brings older ones to the newest form.
pub fn migrate(conn: &mut Connection) -> Result<(), StoreError> {
    let form = check_ours(conn)?;
    if form == NEWEST {
        return Ok(());
    }
    let tx = conn.transaction_with_behavior(TransactionBehavior::Exclusive)?;
    for step in STEPS.iter().skip(usize::try_from(form).unwrap_or(0)) {
        tx.execute_batch(step)?;
    }
    tx.pragma_update(None, "application_id", APPLICATION_ID)?;
    tx.pragma_update(None, "user_version", NEWEST)?;
    // random and made once: see `crate::device`
    tx.execute(
        "INSERT OR IGNORE INTO meta (name, value) VALUES ('device', randomblob(16))",
        [],
    )?;
    tx.commit()?;
    Ok(())
}

/// The form of a database, if it is ours or empty, and not newer than this program.
pub fn check_ours(conn: &Connection) -> Result<i64, StoreError> {
    let number = |name| conn.pragma_query_value(None, name, |row| row.get::<_, i64>(0));
    let (mark, form) = (number("application_id")?, number("user_version")?);
    let tables: i64 = conn.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    match (mark, form) {
        (0, 0) if tables == 0 => Ok(0),
        (APPLICATION_ID, form) if form > NEWEST => Err(StoreError::NewerDatabase {
            found: form,
            known: NEWEST,
        }),
        (APPLICATION_ID, form) if form > 0 => Ok(form),
        _ => Err(StoreError::NotOurs),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_empty_database_becomes_ours_and_a_second_look_changes_nothing() {
        let mut conn = Connection::open_in_memory().unwrap();
        migrate(&mut conn).unwrap();
        let device = |c: &Connection| -> Vec<u8> {
            c.query_row("SELECT value FROM meta WHERE name = 'device'", [], |r| {
                r.get(0)
            })
            .unwrap()
        };
        let first = device(&conn);
        assert_eq!(first.len(), 16);
        migrate(&mut conn).unwrap();
        assert_eq!(device(&conn), first);
        assert_eq!(check_ours(&conn).unwrap(), NEWEST);
    }

    #[test]
    fn a_newer_database_is_refused_by_its_own_code_and_left_alone() {
        let mut conn = Connection::open_in_memory().unwrap();
        migrate(&mut conn).unwrap();
        conn.pragma_update(None, "user_version", NEWEST + 1)
            .unwrap();
        let error = migrate(&mut conn).unwrap_err();
        assert_eq!(error.code(), "newer_database");
        let form: i64 = conn
            .pragma_query_value(None, "user_version", |r| r.get(0))
            .unwrap();
        assert_eq!(form, NEWEST + 1);
    }

    #[test]
    fn somebody_elses_database_is_refused() {
        let mut conn = Connection::open_in_memory().unwrap();
        conn.execute_batch("CREATE TABLE other (x)").unwrap();
        assert_eq!(migrate(&mut conn).unwrap_err().code(), "not_ours");
    }
}

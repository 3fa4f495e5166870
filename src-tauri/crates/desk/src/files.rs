//! Commands with bytes in or out: job files and backups.

use crate::Desk;
use crate::fault::Fault;
use crate::views::{About, FileInfo};

pub(crate) fn backup(desk: &mut Desk, (): (), _: &[u8]) -> Result<(FileInfo, Vec<u8>), Fault> {
    let day: String = job::time::local(desk.now_ms(), "UTC")
        .unwrap_or_default()
        .chars()
        .take(10)
        .collect();
    let bytes = desk.store.backup()?;
    let info = FileInfo {
        name: format!("Airwright backup {day}.db"),
        mime: "application/vnd.sqlite3".into(),
    };
    Ok((info, bytes))
}

pub(crate) fn restore(desk: &mut Desk, (): (), body: &[u8]) -> Result<(About, Vec<u8>), Fault> {
    desk.store.restore(body)?;
    Ok((crate::about(desk, ())?, Vec::new()))
}

//! A folder with a database in it, and a process that works on it until it is killed.

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::mpsc::channel;
use std::time::Duration;

use super::*;

/// Where the killed process finds its database. Without it a test that is run as a child has nothing to do.
pub const CHILD: &str = "AIRWRIGHT_KILLED_CHILD";

/// A folder of its own, removed at the end.
pub struct Folder(pub PathBuf);

impl Folder {
    pub fn new(name: &str) -> Folder {
        let path = std::env::temp_dir().join(format!("airwright-{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&path);
        std::fs::create_dir_all(&path).unwrap();
        Folder(path)
    }

    pub fn db(&self) -> PathBuf {
        self.0.join("jobs.db")
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

pub fn open(file: &Path) -> Store {
    Store::open(store::open_file(file).unwrap()).unwrap()
}

pub fn made(file: &Path) -> Store {
    let mut store = open(file);
    store
        .create_job(
            "j",
            &job_value("Harbour opening"),
            Some(&private_value("Mara")),
            strict,
        )
        .unwrap();
    store
}

/// Runs a test of this program as a process of its own on a database, and kills it with no warning: so long after it said so many
/// lines that begin with `kept`. Answers all that it said until then. A slow computer only takes longer to get there.
pub fn killed_after(lines: usize, ms: u64, test: &str, db: &Path) -> Vec<String> {
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args([test, "--exact", "--nocapture"])
        .env(CHILD, db)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let out = BufReader::new(child.stdout.take().unwrap());
    let (tell, told) = channel();
    let reader = std::thread::spawn(move || {
        // the last line may be cut short: only a whole one counts
        let kept = out.lines().map_while(Result::ok).filter_map(|line| {
            let said = line.trim().split_once("kept ")?.1;
            Some(said.strip_suffix('.')?.to_string())
        });
        kept.inspect(|_| {
            let _ = tell.send(());
        })
        .collect()
    });
    for _ in 0..lines {
        told.recv_timeout(Duration::from_secs(120)).unwrap();
    }
    std::thread::sleep(Duration::from_millis(ms));
    child.kill().unwrap();
    child.wait().unwrap();
    reader.join().unwrap()
}

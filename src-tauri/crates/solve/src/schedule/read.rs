//! Readers of two text formats for projects, told apart by content.
//!
//! PSPLIB single mode (Kolisch, Sprecher, "PSPLIB - A project scheduling library", EJOR 96, 1996): titled sections, jobs from 1.
//! ProGen/max (Schwindt 1995; Kolisch, Schwindt, Sprecher 1999): a line `n resources 0 0`; for activities 0 to n + 1 a line
//! `id modes successors… [lag]…` with lags from start to start; for each a line `id mode duration demand…`; a line of capacities.

use super::project::{Activity, Arc, Project};

/// What is wrong with a file: the line, counted from 1, and what was expected there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unreadable {
    /// From 1.
    pub line: usize,
    /// A sentence without its full stop.
    pub message: String,
}

fn wrong(line: usize, message: impl Into<String>) -> Unreadable {
    Unreadable {
        line,
        message: message.into(),
    }
}

/// Most activities and resources that a file may name.
const MOST: usize = 100_000;

/// Reads a project in either format.
///
/// # Errors
/// The first line that does not fit.
pub fn read(text: &str) -> Result<Project, Unreadable> {
    let project = if text.contains("PRECEDENCE RELATIONS") {
        single_mode(text)
    } else {
        with_lags(text)
    }?;
    project
        .well_formed()
        .map_err(|m| wrong(1, format!("a number is out of range: {m:?}")))?;
    Ok(project)
}

/// Lines with their numbers that are not empty.
fn lines(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let numbered = text.lines().enumerate().map(|(i, l)| (i + 1, l.trim()));
    numbered.filter(|(_, l)| !l.is_empty())
}

fn numbers(line: usize, text: &str) -> Result<Vec<i64>, Unreadable> {
    let words = text.split_whitespace();
    words
        .map(|w| {
            w.parse()
                .map_err(|_| wrong(line, format!("\"{w}\" is no whole number")))
        })
        .collect()
}

fn index(line: usize, number: i64, below: usize, what: &str) -> Result<usize, Unreadable> {
    usize::try_from(number)
        .ok()
        .filter(|i| *i < below)
        .ok_or_else(|| wrong(line, format!("there is no {what} {number}")))
}

/// The number after the colon of a line that begins so.
fn titled(text: &str, title: &str) -> Result<usize, Unreadable> {
    let (at, line) = lines(text)
        .find(|(_, l)| l.starts_with(title))
        .ok_or_else(|| wrong(1, format!("there is no line \"{title}\"")))?;
    let number = line.split(':').nth(1).unwrap_or_default();
    let number = number.split_whitespace().next().unwrap_or_default();
    let number = number.parse().ok().filter(|n| *n <= MOST);
    number.ok_or_else(|| wrong(at, format!("\"{title}\" needs a number of at most {MOST}")))
}

/// The lines of a section that begin with a digit.
fn section<'a>(text: &'a str, title: &str) -> Result<Vec<(usize, &'a str)>, Unreadable> {
    let mut all = lines(text).skip_while(|(_, l)| !l.starts_with(title));
    if all.next().is_none() {
        return Err(wrong(1, format!("there is no section \"{title}\"")));
    }
    let rows = all.take_while(|(_, l)| !l.starts_with('*'));
    Ok(rows
        .filter(|(_, l)| {
            l.trim_start_matches('-')
                .starts_with(|c: char| c.is_ascii_digit())
        })
        .collect())
}

fn single_mode(text: &str) -> Result<Project, Unreadable> {
    let jobs = titled(text, "jobs (incl. supersource/sink )")?;
    let resources = titled(text, "- renewable")?;
    for other in ["- nonrenewable", "- doubly constrained"] {
        if titled(text, other)? > 0 {
            return Err(wrong(1, format!("\"{other}\" resources are not taken")));
        }
    }
    let mut successors: Vec<Option<Vec<usize>>> = vec![None; jobs];
    for (at, row) in section(text, "PRECEDENCE RELATIONS")? {
        let row = numbers(at, row)?;
        let [job, modes, count, rest @ ..] = row.as_slice() else {
            return Err(wrong(
                at,
                "a row is job, modes, successors and their numbers",
            ));
        };
        if *modes != 1 {
            return Err(wrong(at, "only jobs with one mode are taken"));
        }
        if i64::try_from(rest.len()) != Ok(*count) {
            return Err(wrong(
                at,
                format!("{count} successors are announced, {} named", rest.len()),
            ));
        }
        let job = index(at, job.saturating_sub(1), jobs, "job before")?;
        let after: Result<Vec<usize>, _> = rest
            .iter()
            .map(|j| index(at, j.saturating_sub(1), jobs, "job before"))
            .collect();
        successors[job] = Some(after?);
    }
    let mut activities: Vec<Option<Activity>> = vec![None; jobs];
    for (at, row) in section(text, "REQUESTS/DURATIONS")? {
        let row = numbers(at, row)?;
        let [job, mode, duration, demand @ ..] = row.as_slice() else {
            return Err(wrong(at, "a row is job, mode, duration and requests"));
        };
        if *mode != 1 || demand.len() != resources {
            return Err(wrong(
                at,
                format!("a row is one mode with {resources} requests"),
            ));
        }
        if *duration < 0 || demand.iter().any(|d| *d < 0) {
            return Err(wrong(at, "durations and requests are not negative"));
        }
        let job = index(at, job.saturating_sub(1), jobs, "job before")?;
        activities[job] = Some(Activity {
            duration: *duration,
            demand: demand.to_vec(),
            ..Activity::default()
        });
    }
    let rows = section(text, "RESOURCEAVAILABILITIES")?;
    let (at, row) = rows.first().ok_or_else(|| wrong(1, "no availabilities"))?;
    let capacities = capacities(*at, row, resources)?;
    let activities: Option<Vec<Activity>> = activities.into_iter().collect();
    let activities = activities.ok_or_else(|| wrong(1, "a job has no duration"))?;
    let mut arcs = Vec::new();
    for (from, after) in successors.into_iter().enumerate() {
        let after =
            after.ok_or_else(|| wrong(1, format!("job {} has no successors row", from + 1)))?;
        let lag = activities[from].duration;
        arcs.extend(after.into_iter().map(|to| Arc { from, to, lag }));
    }
    Ok(Project {
        activities,
        capacities,
        arcs,
        blocks: vec![],
    })
}

fn capacities(at: usize, row: &str, resources: usize) -> Result<Vec<i64>, Unreadable> {
    let row = numbers(at, row)?;
    if row.len() != resources || row.iter().any(|c| *c < 0) {
        return Err(wrong(
            at,
            format!("{resources} capacities are expected here"),
        ));
    }
    Ok(row)
}

fn with_lags(text: &str) -> Result<Project, Unreadable> {
    const FIRST: &str = "neither a PSPLIB single-mode file nor a ProGen/max file, whose first line is \"activities resources 0 0\"";
    let mut rows = lines(text);
    let mut next = |what: &str| {
        rows.next().ok_or_else(|| {
            wrong(
                text.lines().count().max(1),
                format!("the file ends before {what}"),
            )
        })
    };
    let (at, row) = next("its first line")?;
    let first = numbers(at, row).map_err(|_| wrong(at, FIRST))?;
    let [n, resources, rest @ ..] = first.as_slice() else {
        return Err(wrong(at, FIRST));
    };
    if rest.iter().any(|x| *x != 0) {
        return Err(wrong(at, "only renewable resources are taken"));
    }
    let size = |x: i64| usize::try_from(x).ok().filter(|x| *x <= MOST);
    let (Some(n), Some(resources)) = (size(*n), size(*resources)) else {
        return Err(wrong(at, FIRST));
    };
    let jobs = n + 2;
    let mut arcs = Vec::new();
    for job in 0..jobs {
        let (at, row) = next("the lags of every activity")?;
        let words = numbers(at, &row.replace(['[', ']'], " "))?;
        let [id, modes, count, rest @ ..] = words.as_slice() else {
            return Err(wrong(
                at,
                "a row is activity, modes, successors, their numbers and lags",
            ));
        };
        if index(at, *id, jobs, "activity")? != job {
            return Err(wrong(at, format!("activity {job} is expected here")));
        }
        if *modes != 1 {
            return Err(wrong(at, "only activities with one mode are taken"));
        }
        let count = index(at, *count, rest.len() + 1, "list of successors as long as")?;
        if rest.len() != 2 * count {
            return Err(wrong(at, format!("{count} successors take {count} lags")));
        }
        for (to, lag) in rest[..count].iter().zip(&rest[count..]) {
            let to = index(at, *to, jobs, "activity")?;
            arcs.push(Arc {
                from: job,
                to,
                lag: *lag,
            });
        }
    }
    let mut activities = Vec::new();
    for job in 0..jobs {
        let (at, row) = next("the duration of every activity")?;
        let row = numbers(at, row)?;
        let [id, mode, duration, demand @ ..] = row.as_slice() else {
            return Err(wrong(at, "a row is activity, mode, duration and demands"));
        };
        if index(at, *id, jobs, "activity")? != job || *mode != 1 {
            return Err(wrong(
                at,
                format!("activity {job} in mode 1 is expected here"),
            ));
        }
        if demand.len() != resources || *duration < 0 || demand.iter().any(|d| *d < 0) {
            return Err(wrong(
                at,
                format!("a duration and {resources} demands are expected, none negative"),
            ));
        }
        activities.push(Activity {
            duration: *duration,
            demand: demand.to_vec(),
            ..Activity::default()
        });
    }
    let (at, row) = next("the capacities")?;
    let capacities = capacities(at, row, resources)?;
    if let Some((at, _)) = rows.next() {
        return Err(wrong(at, "nothing is expected after the capacities"));
    }
    Ok(Project {
        activities,
        capacities,
        arcs,
        blocks: vec![],
    })
}

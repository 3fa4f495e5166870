//! Small problems for the tests of scheduling.

use super::{Task, Worker};

/// A task that anybody can do, up to 100.
pub fn task(duration: i64, people: usize, after: &[usize]) -> Task {
    Task {
        duration,
        people,
        after: after.to_vec(),
        deadline: 100,
        ..Task::default()
    }
}

/// Somebody with their stretches and skills.
pub fn worker(free: &[(i64, i64)], skills: &[bool]) -> Worker {
    Worker {
        free: free.to_vec(),
        skills: skills.to_vec(),
        paces: vec![],
    }
}

/// So many people, free from 0 to 100, who have the one skill.
pub fn people(n: usize) -> Vec<Worker> {
    vec![worker(&[(0, 100)], &[true]); n]
}

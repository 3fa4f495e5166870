//! What waits for what in a schedule that is made: the order of the work, the order in which each person goes about it, and the
//! inflators that are passed on.

use job::Job;
use job::list::live;
use job::site::KitKind;

use crate::types::Task;

/// Of each task the tasks that must be over before it begins, as indices, ascending. Every one of them stands earlier in
/// [`order`]. Tasks without a time have none.
pub(super) fn links(job: &Job, tasks: &[Task]) -> Vec<Vec<usize>> {
    let order = order(tasks);
    let mut place = vec![usize::MAX; tasks.len()];
    for (at, i) in order.iter().enumerate() {
        place[*i] = at;
    }
    let mut before: Vec<Vec<usize>> = vec![Vec::new(); tasks.len()];
    for i in &order {
        for after in &tasks[*i].after {
            if let Some(j) = tasks.iter().position(|t| t.id == *after)
                && place[j] < place[*i]
            {
                before[*i].push(j);
            }
        }
    }
    people(tasks, &order, &mut before);
    inflators(job, tasks, &order, &mut before);
    for list in &mut before {
        list.sort_unstable();
        list.dedup();
    }
    before
}

/// Tasks that have a time, by start, then by end, then by the list: whatever waits stands after what it waits for.
pub(super) fn order(tasks: &[Task]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..tasks.len())
        .filter(|i| tasks[*i].start_ms.is_some() && tasks[*i].end_ms.is_some())
        .collect();
    order.sort_by_key(|i| (tasks[*i].start_ms, tasks[*i].end_ms, *i));
    order
}

/// Each person goes from task to task.
fn people(tasks: &[Task], order: &[usize], before: &mut [Vec<usize>]) {
    let mut last: Vec<(&str, usize)> = Vec::new();
    for i in order.iter().filter(|i| tasks[**i].duration_s > 0) {
        for who in &tasks[*i].who {
            match last.iter_mut().find(|(id, _)| id == who) {
                Some((_, j)) => {
                    before[*i].push(*j);
                    *j = *i;
                }
                None => last.push((who, *i)),
            }
        }
    }
}

/// Each inflator goes from task to task: the one that has been free longest is taken.
fn inflators(job: &Job, tasks: &[Task], order: &[usize], before: &mut [Vec<usize>]) {
    let have: i64 = live(&job.kit)
        .into_iter()
        .filter(|(_, k)| k.kind == KitKind::Inflator)
        .map(|(_, k)| k.count.clamp(0, 1000))
        .sum();
    let mut last: Vec<Option<usize>> = vec![None; usize::try_from(have).unwrap_or(0).min(1000)];
    for i in order {
        for _ in 0..tasks[*i].inflators.clamp(0, 1000) {
            // by what its last task ends at; one that was never used comes first
            let free = (0..last.len()).min_by_key(|n| last[*n].map(|j| (tasks[j].end_ms, j)));
            let Some(n) = free else { break };
            if let Some(j) = last[n].filter(|j| *j != *i) {
                before[*i].push(j);
            }
            last[n] = Some(*i);
        }
    }
}

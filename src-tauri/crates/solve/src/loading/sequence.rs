//! An order in which what is loaded can be put in: what stays longest first, what carries before what it carries, and as far as that
//! leaves it open the far end before the door.

use super::types::{Load, Order, Placed, Problem};

/// Whether `a` must be in before `b`.
fn first(problem: &Problem, a: &Placed, b: &Placed) -> bool {
    let shared = |axis| a.place.shared(&b.place, axis) > 0;
    let carries = a.place.end(2) <= b.place.at[2] && shared(0) && shared(1);
    // in Lifo order nothing deeper is left when the way to it is closed
    let deeper = problem.order != Order::Free
        && problem.items[a.item].stop >= problem.items[b.item].stop
        && a.place.end(0) <= b.place.at[0]
        && shared(1)
        && shared(2);
    carries || deeper
}

/// Puts a load into an order of loading.
pub(super) fn put_in_order(problem: &Problem, load: &mut Load) {
    let mut rest = std::mem::take(&mut load.placed);
    rest.sort_by_key(|p| {
        let stop = match problem.order {
            Order::Free => 0,
            _ => problem.items[p.item].stop,
        };
        (std::cmp::Reverse(stop), p.place.at, p.item)
    });
    while !rest.is_empty() {
        // the first that waits for none of the others; if all wait (a circle through the way to the door), what carries counts alone
        let ready = (0..rest.len())
            .find(|i| !(0..rest.len()).any(|j| j != *i && first(problem, &rest[j], &rest[*i])));
        let next = ready.unwrap_or_else(|| {
            let lowest = (0..rest.len()).min_by_key(|i| rest[*i].place.at[2]);
            lowest.unwrap_or(0)
        });
        load.placed.push(rest.remove(next));
    }
}

//! What absences leave of people's hours, and when everything is to be over.

use job::Job;
use job::list::live;
use job::time::instant;

/// Longest that work may be asked to be over before ready-by, min: a day.
const MOST_EARLY_MIN: i64 = 1440;

/// When everything is to stand, ms: ready-by, or as much earlier as the job asks for. None while no ready-by is agreed.
#[must_use]
pub fn aim(job: &Job) -> Option<i64> {
    let ready = instant(&job.times.ready_by, &job.venue.zone).ok()?;
    let early = job.times.early_min.clamp(0, MOST_EARLY_MIN);
    Some(ready.saturating_sub(early * 60_000))
}

/// Stretches of hours without a person's absences, s. Both in order.
pub(super) fn without(job: &Job, crew: &str, free: Vec<(i64, i64)>) -> Vec<(i64, i64)> {
    let zone = &job.venue.zone;
    let mut left = free;
    for (_, away) in live(&job.away) {
        let bound = |text: &str| match text.trim() {
            "" => Some(None),
            text => instant(text, zone).ok().map(|ms| Some(ms.div_euclid(1000))),
        };
        let (Some(from), Some(to)) = (bound(&away.from), bound(&away.to)) else {
            continue;
        };
        // neither says nothing, and has its finding
        if away.crew != crew || from.or(to).is_none() {
            continue;
        }
        left = cut(&left, from.unwrap_or(i64::MIN), to.unwrap_or(i64::MAX));
    }
    left
}

/// Whether somebody is not away at any time between two instants, ms.
pub(super) fn there(job: &Job, crew: &str, from_ms: i64, to_ms: i64) -> bool {
    let all = vec![(from_ms.div_euclid(1000), to_ms.div_euclid(1000))];
    without(job, crew, all.clone()) == all
}

/// Stretches without what lies between two times.
fn cut(free: &[(i64, i64)], from: i64, to: i64) -> Vec<(i64, i64)> {
    if from >= to {
        return free.to_vec();
    }
    free.iter()
        .flat_map(|(a, b)| [(*a, (*b).min(from)), ((*a).max(to), *b)])
        .filter(|(a, b)| a < b)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::away::Away;

    #[test]
    fn what_is_cut_is_gone_and_the_rest_is_kept() {
        for (free, (from, to), left) in [
            (vec![(0, 10)], (3, 5), vec![(0, 3), (5, 10)]),
            (vec![(0, 10)], (0, 10), vec![]),
            (vec![(0, 10), (20, 30)], (5, 25), vec![(0, 5), (25, 30)]),
            (vec![(0, 10)], (10, 12), vec![(0, 10)]),
            (vec![(0, 10)], (5, 5), vec![(0, 10)]),
            (vec![(0, 10)], (i64::MIN, i64::MAX), vec![]),
            (vec![(0, 10)], (4, i64::MAX), vec![(0, 4)]),
        ] {
            assert_eq!(cut(&free, from, to), left, "{free:?} without {from}..{to}");
        }
    }

    #[test]
    fn only_one_s_own_readable_absences_count() {
        let mut job = Job::default();
        job.venue.zone = "UTC".into();
        let away = |crew: &str, from: &str, to: &str| Away {
            crew: crew.into(),
            from: from.into(),
            to: to.into(),
            ..Away::default()
        };
        let hour = 3600;
        let free = vec![(0, 24 * hour)];
        for (entry, left) in [
            (
                away("a", "1970-01-01T06:00", "1970-01-01T08:00"),
                vec![(0, 6 * hour), (8 * hour, 24 * hour)],
            ),
            (away("a", "1970-01-01T06:00", ""), vec![(0, 6 * hour)]),
            (
                away("a", "", "1970-01-01T06:00"),
                vec![(6 * hour, 24 * hour)],
            ),
            (away("a", "", ""), free.clone()),
            (away("a", "soon", ""), free.clone()),
            (away("b", "1970-01-01T06:00", ""), free.clone()),
        ] {
            job.away.insert("x".into(), entry.clone());
            assert_eq!(without(&job, "a", free.clone()), left, "{entry:?}");
        }
    }

    #[test]
    fn the_aim_lies_before_ready_by() {
        let mut job = Job::default();
        job.venue.zone = "UTC".into();
        assert_eq!(aim(&job), None);
        job.times.ready_by = "1970-01-01T06:00".into();
        assert_eq!(aim(&job), Some(6 * 3_600_000));
        for (early_min, want) in [(30, 330), (-5, 360), (i64::MAX, 360 - 1440)] {
            job.times.early_min = early_min;
            assert_eq!(aim(&job), Some(want * 60_000), "{early_min}");
        }
    }
}

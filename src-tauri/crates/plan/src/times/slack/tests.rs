use super::*;

/// Nodes in the order of the list: name, duration, what comes first. Any time of day; begins at 0, must end with the project.
fn project(rows: &[(char, i64, &str)]) -> Vec<Node> {
    let place = |name: char| rows.iter().position(|r| r.0 == name).unwrap();
    let mut nodes: Vec<Node> = Vec::new();
    for (_, duration, before) in rows {
        let before: Vec<usize> = before.chars().map(place).collect();
        let start = before
            .iter()
            .map(|b| nodes[*b].start + nodes[*b].duration)
            .max()
            .unwrap_or(0);
        nodes.push(Node {
            start,
            duration: *duration,
            before,
            ..Node::default()
        });
    }
    let end = nodes.iter().map(|n| n.start + n.duration).max().unwrap();
    for node in &mut nodes {
        node.until = end;
    }
    nodes
}

/// The construction project of F. S. Hillier and G. J. Lieberman, "Introduction to Operations Research", chapter on networks:
/// fourteen activities, 44 weeks, critical path A B C E F J L N. Figures from memory; the sums were done again by hand.
#[test]
fn a_textbook_network_has_its_floats() {
    let rows = [
        ('A', 2, ""),
        ('B', 4, "A"),
        ('C', 10, "B"),
        ('D', 6, "C"),
        ('E', 4, "C"),
        ('F', 5, "E"),
        ('G', 7, "D"),
        ('H', 9, "EG"),
        ('I', 7, "C"),
        ('J', 8, "FI"),
        ('K', 4, "J"),
        ('L', 5, "J"),
        ('M', 2, "H"),
        ('N', 6, "KL"),
    ];
    let nodes = project(&rows);
    assert_eq!(nodes[13].until, 44);
    // name, earliest start, latest start, float
    let want = [
        ('A', 0, 0, 0),
        ('B', 2, 2, 0),
        ('C', 6, 6, 0),
        ('D', 16, 20, 4),
        ('E', 16, 16, 0),
        ('F', 20, 20, 0),
        ('G', 22, 26, 4),
        ('H', 29, 33, 4),
        ('I', 16, 18, 2),
        ('J', 25, 25, 0),
        ('K', 33, 34, 1),
        ('L', 33, 33, 0),
        ('M', 38, 42, 4),
        ('N', 38, 38, 0),
    ];
    for ((name, early, late, slack), float) in want.into_iter().zip(floats(&nodes)) {
        assert_eq!(float, Float { early, late, slack }, "{name}");
    }
}

/// A float does not depend on where within its bounds a task stands.
#[test]
fn a_schedule_as_late_as_it_can_be_has_the_same_floats() {
    let rows = [('a', 4, ""), ('b', 1, ""), ('c', 2, "ab"), ('d', 3, "b")];
    let early = project(&rows);
    let before = floats(&early);
    let late: Vec<Node> = early
        .iter()
        .zip(&before)
        .map(|(n, f)| Node {
            start: f.late,
            ..n.clone()
        })
        .collect();
    assert_eq!(floats(&late), before);
    assert_eq!(
        before.iter().map(|f| f.slack).collect::<Vec<_>>(),
        [0, 2, 0, 2]
    );
}

/// Two days of eight hours: the night is no slack, and a task is not cut by it.
#[test]
fn nights_are_no_slack() {
    let h = 3600;
    let free = vec![(9 * h, 17 * h), (33 * h, 41 * h)];
    let node = |start: i64, duration: i64, before: Vec<usize>| Node {
        start: start * h,
        duration: duration * h,
        free: free.clone(),
        from: 15 * h,
        until: 36 * h,
        before,
    };
    // three hours do not fit into what is left of the first day, so they begin with the second
    let floats = floats(&[node(15, 2, vec![]), node(33, 3, vec![0])]);
    assert_eq!(
        floats,
        [
            Float {
                early: 15 * h,
                late: 15 * h,
                slack: 0
            },
            Float {
                early: 33 * h,
                late: 33 * h,
                slack: 0
            },
        ]
    );
    // one hour may be done on either day: two hours of working time lie between its first and its last place, not twenty
    let floats = super::floats(&[node(15, 1, vec![])]);
    assert_eq!(
        floats,
        [Float {
            early: 15 * h,
            late: 35 * h,
            slack: 4 * h
        }]
    );
}

/// One person's two tasks that do not wait for each other by themselves: the link of the person takes their slack.
#[test]
fn a_person_links_tasks() {
    let task = |id: &str, start: i64, who: &[&str], inflators: i64| Task {
        id: id.into(),
        start_ms: Some(start * 1000),
        end_ms: Some((start + 60) * 1000),
        duration_s: 60,
        inflators,
        who: who.iter().map(ToString::to_string).collect(),
        ..Task::default()
    };
    let mut job = Job::default();
    let tasks = [
        task("x", 0, &["p"], 1),
        task("y", 60, &["p"], 0),
        task("z", 60, &["q"], 1),
    ];
    assert_eq!(links(&job, &tasks), [vec![], vec![0], vec![]]);
    let inflator = job::site::Kit {
        kind: job::site::KitKind::Inflator,
        ..job::site::Kit::default()
    };
    // the only inflator goes from x to z; a second one is at hand from the start
    job.kit.insert("i".into(), inflator.clone());
    assert_eq!(links(&job, &tasks), [vec![], vec![0], vec![0]]);
    job.kit.insert("j".into(), inflator);
    assert_eq!(links(&job, &tasks), [vec![], vec![0], vec![]]);
}

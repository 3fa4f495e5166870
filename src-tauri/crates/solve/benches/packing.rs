//! How long packing takes, and how good it is. Times are means of several runs: of the processor where Linux tells them, so that
//! a busy machine matters less, else of the clock. Nothing here can fail.
#![expect(
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock; it never runs on wasm32"
)]
#![expect(clippy::print_stdout, reason = "this is what a benchmark is for")]

use std::hint::black_box;
use std::time::Instant;

use glam::DVec3;
use solve::packing::check::overlaps;
use solve::packing::path::Path;
use solve::packing::{
    Cluster, Effort, Obstacle, Packing, Settings, extend, instant, pack, pack_from_loose, repack,
};

/// An inch, m.
const IN: f64 = 0.0254;

/// A plain stream of numbers, for garlands that are the same in every run (Knuth's MMIX generator, upper bits).
struct Chance(u64);

impl Chance {
    fn unit(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }
}

/// Half in fours, a third in sixes, the rest in eights: 14 % of 14–16 in, 71 % of 6–10.5 in, 15 % of 4–5 in.
fn mixed(balloons: usize, seed: u64) -> Vec<Cluster> {
    let mut chance = Chance(seed ^ 0x9e37);
    let mut left = balloons;
    let mut clusters: Vec<Cluster> = Vec::new();
    while left > 0 {
        let size = match chance.unit() {
            u if u < 0.5 => 4,
            u if u < 0.85 => 6,
            _ => 8,
        };
        let size = left.min(size);
        left -= size;
        let diameters = (0..size)
            .map(|_| {
                IN * match chance.unit() {
                    u if u < 0.14 => chance.between(14.0, 16.0),
                    u if u < 0.85 => chance.between(6.0, 10.5),
                    _ => chance.between(4.0, 5.0),
                }
            })
            .collect();
        clusters.push(Cluster {
            id: clusters.len() as u64,
            diameters,
            turn: None,
        });
    }
    clusters
}

/// Processor time of this thread, ms.
fn worked() -> Option<f64> {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    let ns: f64 = text.split_whitespace().next()?.parse().ok()?;
    Some(ns / 1e6)
}

/// Mean time of several runs, ms, and what came out.
fn mean<T>(runs: u32, mut run: impl FnMut() -> T) -> (f64, T) {
    let mut out = run();
    let (start, before) = (Instant::now(), worked());
    for _ in 0..runs {
        out = black_box(run());
    }
    let passed = start.elapsed().as_secs_f64() * 1e3;
    let took = match (before, worked()) {
        (Some(before), Some(after)) => after - before,
        _ => passed,
    };
    (took / f64::from(runs), out)
}

fn say(name: &str, ms: f64, packing: &Packing, path: &Path, softness: f64) {
    let o = overlaps(packing, softness);
    println!(
        "{name:<44} {ms:9.2} ms  {:8.2} us each  {:7.3} m  {:5} contacts  {:5.2} % deeper  deepest +{:.2} %",
        ms * 1e3 / packing.balls.len().max(1) as f64,
        packing.length(path),
        o.contacts,
        o.deeper * 100.0,
        o.deepest * 100.0
    );
}

fn arch() -> Option<Path> {
    let points: Vec<DVec3> = (0..=200)
        .map(|i| {
            let a = std::f64::consts::PI * f64::from(i) / 200.0;
            DVec3::new(-1.25 * libm::cos(a), 2.15 * libm::sin(a), 0.0)
        })
        .collect();
    Path::polyline(&points, false).ok()
}

fn main() {
    let line = Path::straight(DVec3::ZERO, DVec3::X * 10.0);
    let soft = Settings::default();
    let finished = Settings {
        effort: Effort::Final,
        ..soft
    };
    for seed in 1..=6 {
        let clusters = mixed(200, seed);
        for settings in [soft, finished] {
            let settings = Settings { seed, ..settings };
            let (ms, packing) = mean(100, || pack(&clusters, &line, &[], &settings));
            let name = format!("200 mixed, seed {seed}, {:?}", settings.effort);
            say(&name, ms, &packing, &line, settings.softness);
        }
        let (ms, packing) = mean(10, || {
            pack_from_loose(&clusters, &line, &[], &Settings { seed, ..soft }, 1000)
        });
        say(
            "  from loose, 1000 sweeps",
            ms,
            &packing,
            &line,
            soft.softness,
        );
        let diameters: Vec<Vec<f64>> = clusters.iter().map(|c| c.diameters.clone()).collect();
        println!(
            "  instant rule {:.3} m",
            instant::length(&diameters).tip_to_tip
        );
    }
    if let Some(arch) = arch() {
        let clusters = mixed(136, 1);
        let floor = [Obstacle::HalfSpace {
            point: DVec3::ZERO,
            normal: DVec3::Y,
        }];
        for settings in [soft, finished] {
            let (ms, packing) = mean(50, || pack(&clusters, &arch, &floor, &settings));
            let name = format!("arch of 136 on the floor, {:?}", settings.effort);
            say(&name, ms, &packing, &arch, settings.softness);
        }
    }
    let clusters = mixed(200, 1);
    let packed = pack(&clusters, &line, &[], &soft);
    let mut edited = clusters.clone();
    edited[20].diameters.reverse();
    edited[20].id = 1_000_000;
    let (ms, packing) = mean(100, || repack(&packed, &edited, &[20], &line, &[], &soft));
    say(
        "one cluster of 200 changed",
        ms,
        &packing,
        &line,
        soft.softness,
    );
    let mut more = clusters;
    more.push(Cluster {
        id: 1_000_001,
        diameters: vec![8.0 * IN; 4],
        turn: None,
    });
    let (ms, packing) = mean(100, || extend(&packed, &more, &line, &[], &soft));
    say(
        "one cluster more than 200",
        ms,
        &packing,
        &line,
        soft.softness,
    );
    for (balloons, runs) in [(1_000, 8), (5_000, 4), (20_000, 4)] {
        let clusters = mixed(balloons, 1);
        let (ms, packing) = mean(runs, || pack(&clusters, &line, &[], &soft));
        let name = format!("{balloons} mixed, Preview");
        say(&name, ms, &packing, &line, soft.softness);
    }
    let mut tiny = mixed(5_000, 1);
    for d in tiny.iter_mut().flat_map(|c| &mut c.diameters) {
        *d *= 0.3;
    }
    let (ms, packing) = mean(3, || pack(&tiny, &line, &[], &soft));
    say("5000 tiny, Preview", ms, &packing, &line, soft.softness);
    if let Some(d) = tiny[400].diameters.first_mut() {
        *d = 0.9;
    }
    let (ms, packing) = mean(3, || pack(&tiny, &line, &[], &soft));
    say(
        "5000 tiny and one of 0.9 m, Preview",
        ms,
        &packing,
        &line,
        soft.softness,
    );
}

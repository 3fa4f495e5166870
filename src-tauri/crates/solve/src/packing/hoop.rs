//! Round a closed line: how many clusters go on before the first is met again, and the last gap shared among all.

use super::contacts::{Grid, pairs};
use super::path::Path;
use super::polish::{CLOSE, polish};
use super::relax::Scene;
use super::state::State;
use super::types::{Cluster, Settings};
use super::window::string;

/// Spheres of first and last clusters may be this much deeper in each other than softness allows before there is one too many,
/// as a share of the sum of their radii.
const TOO_DEEP: f64 = 0.015;
/// The same for any two spheres near the seam: what is squeezed in may press its neighbours into each other and touch nothing itself.
const JAMMED: f64 = 0.025;
/// A sphere may be this much further from its tie than it reaches, as a share of its reach.
const PULLED: f64 = 0.015;
/// Contacts deeper than softness and half a per cent of the sum of the radii may be this share of all.
const TOO_MANY: f64 = 0.03;
/// What counts as deeper, see there.
const DEEPER: f64 = 0.005;
/// So many clusters either side of the seam feel what is squeezed in there. What is too deep further off was so without it: taking
/// clusters off at the seam would not help, and took two thirds of a large ring of small balloons off.
const FELT: usize = 8;
/// A ring is closed by widening its gaps only if what is left at the seam is less than so many of them: more is room that was meant.
const LEFT: f64 = 3.0;
/// Shares of the way to an even ring, tried in turn: large clusters either side of the seam may need more than the mean gap.
const SHARES: [f64; 3] = [1.0, 0.6, 0.3];
/// Sweeps after the gaps were widened, over those of a whole polish.
const AFTER: u32 = 4;

/// Takes clusters off that are one too many from the ring as it was `strung` and polishes it anew: what runs over its own beginning
/// opens its gaps without end, and cannot be taken up again from there. Then it puts on more while they fit, and then, if less than one more would fit, widens all
/// gaps alike until the ring is evenly closed.
pub(super) fn close_up(
    state: &mut State,
    mut strung: State,
    clusters: &[Cluster],
    scene: Scene<'_>,
    settings: &Settings,
    sweeps: u32,
) {
    let mut full = state.clusters() < clusters.len();
    while state.clusters() > 2 && pressed(state, scene, FELT).is_overfull() {
        full = true;
        strung.truncate(strung.clusters() - 1);
        state.clone_from(&strung);
        polish(state, scene, sweeps, CLOSE, 0..state.clusters());
    }
    while state.clusters() < clusters.len() {
        let on = &clusters[..=state.clusters()];
        let mut more = State::new(on, settings);
        more.x.clone_from(&state.x);
        more.reach[..state.x.len()].copy_from_slice(&state.reach);
        more.t.clone_from(&state.t);
        string(&mut more, on, scene, settings, true);
        if more.t.len() < on.len() {
            break;
        }
        let all = 0..more.clusters();
        polish(&mut more, scene, sweeps, CLOSE, all);
        if pressed(&more, scene, FELT).is_overfull() {
            break;
        }
        *state = more;
    }
    full |= state.clusters() < clusters.len();
    let before = pressed(state, scene, usize::MAX);
    for share in SHARES {
        let mut wider = state.clone();
        if !widen(&mut wider, scene.path, full, share) {
            break;
        }
        let all = 0..wider.clusters();
        polish(&mut wider, scene, sweeps / AFTER, 0.0, all);
        if pressed(&wider, scene, usize::MAX).is_no_worse(&before) {
            *state = wider;
            break;
        }
    }
}

/// Widens all gaps alike, so that the one at the seam becomes the mean of them, or a share of the way there. Not if there is room
/// for several more clusters and none to put there.
fn widen(state: &mut State, path: &Path, full: bool, share: f64) -> bool {
    let gaps = state.clusters() as f64;
    let (Some(last), true) = (state.t.last().copied(), state.clusters() > 2) else {
        return false;
    };
    let pitch = last / (gaps - 1.0);
    let left = path.length() - last - pitch;
    if left <= 0.0 || (!full && left >= LEFT * pitch) {
        return false;
    }
    let wider = 1.0 + share * (path.length() * (gaps - 1.0) / gaps / last - 1.0);
    for c in 1..state.clusters() {
        let (from, to) = (path.frame(state.t[c]), path.frame(state.t[c] * wider));
        for i in state.of(c) {
            state.x[i] = to.world(from.local(state.x[i]));
        }
        state.t[c] *= wider;
    }
    true
}

/// How spheres press into each other.
struct Pressed {
    /// Contacts, and those deeper than [`DEEPER`].
    contacts: usize,
    deeper: usize,
    /// The deepest, and the deepest across the seam, as shares of the sum of the radii beyond softness.
    deepest: f64,
    seam: f64,
    /// The furthest that one is off its tie, as share of its reach beyond it.
    pulled: f64,
}

impl Pressed {
    /// Whether first and last spheres are too deep in each other, or any others, or too many of all, or one is pulled off its tie.
    fn is_overfull(&self) -> bool {
        let many = self.deeper as f64 > TOO_MANY * self.contacts as f64;
        self.seam > TOO_DEEP || self.deepest > JAMMED || many || self.pulled > PULLED
    }

    /// Whether nothing is over its limit that was not before.
    fn is_no_worse(&self, before: &Pressed) -> bool {
        let share = |p: &Pressed| p.deeper as f64 / p.contacts.max(1) as f64;
        self.seam <= before.seam.max(TOO_DEEP)
            && self.deepest <= before.deepest.max(JAMMED)
            && share(self) <= share(before).max(TOO_MANY)
            && self.pulled <= before.pulled.max(PULLED)
    }
}

/// How the spheres press of so many clusters either side of the seam.
fn pressed(state: &State, scene: Scene<'_>, either_side: usize) -> Pressed {
    let mut touching = Vec::new();
    pairs(
        &state.x,
        &state.r,
        0.0,
        0.0,
        &mut Grid::default(),
        &mut touching,
    );
    let clusters = state.clusters();
    let counts = |c: usize| c < either_side || clusters - c <= either_side;
    let mut found = Pressed {
        contacts: 0,
        deeper: 0,
        deepest: 0.0,
        seam: 0.0,
        pulled: 0.0,
    };
    for pair in &touching {
        let (i, j) = (pair.i as usize, pair.j as usize);
        let (a, b) = (state.cluster[i] as usize, state.cluster[j] as usize);
        if !counts(a) && !counts(b) {
            continue;
        }
        let deep = 1.0 - (state.x[i] - state.x[j]).length() / pair.contact - scene.softness;
        found.contacts += 1;
        found.deeper += usize::from(deep > DEEPER);
        found.deepest = found.deepest.max(deep);
        if 2 * (b - a) > clusters {
            found.seam = found.seam.max(deep);
        }
    }
    for c in (0..clusters).filter(|c| counts(*c)) {
        let tie = scene.path.point(state.t[c]);
        for i in state.of(c) {
            let off = (state.x[i] - tie).length() / state.reach[i] - 1.0;
            found.pulled = found.pulled.max(off);
        }
    }
    found
}

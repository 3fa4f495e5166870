//! Which literal to decide on next: the one that conflicts named most, the latest ones counting most.

/// Each conflict counts so much more than the one before it.
const GROWTH: f64 = 1.0 / 0.95;
/// Activities above this are scaled down.
const HIGH: f64 = 1e100;
/// Most numbers kept; longer projects share one between neighbouring times.
const MOST: usize = 1 << 19;
const OUT: u32 = u32::MAX;

/// A heap of (variable, stretch of time) by activity.
#[derive(Debug, Clone)]
pub(super) struct Order {
    /// Stretches for each variable, and how many bits of a time are left out.
    stretches: usize,
    shift: u32,
    activity: Vec<f64>,
    /// The time last named in each stretch.
    time: Vec<i32>,
    gain: f64,
    heap: Vec<u32>,
    place: Vec<u32>,
    /// Taken off since the last restart of the search.
    off: Vec<u32>,
}

impl Order {
    pub fn new(vars: usize, longest: i32) -> Self {
        let times = longest.unsigned_abs() as usize + 3;
        let shift = (0..32)
            .find(|s| vars * ((times >> s) + 1) <= MOST)
            .unwrap_or(31);
        let stretches = (times >> shift) + 1;
        let all = vars * stretches;
        Self {
            stretches,
            shift,
            activity: vec![0.0; all],
            time: vec![0; if shift > 0 { all } else { 0 }],
            gain: 1.0,
            heap: vec![],
            place: vec![OUT; all],
            off: vec![],
        }
    }

    pub fn age(&mut self) {
        self.gain *= GROWTH;
    }

    pub fn bump(&mut self, var: usize, time: i32) {
        let stretch = (time.max(0).unsigned_abs() >> self.shift) as usize;
        let id = var * self.stretches + stretch.min(self.stretches - 1);
        self.activity[id] += self.gain;
        if self.activity[id] > HIGH {
            for a in &mut self.activity {
                *a /= HIGH;
            }
            self.gain /= HIGH;
        }
        if self.shift > 0 {
            self.time[id] = time;
        }
        match self.place[id] {
            OUT => self.push(id as u32),
            at => self.up(at as usize),
        }
    }

    /// The most active: variable and time.
    pub fn first(&self) -> Option<(usize, i32)> {
        let id = *self.heap.first()? as usize;
        let time = if self.shift > 0 {
            self.time[id]
        } else {
            (id % self.stretches) as i32
        };
        Some((id / self.stretches, time))
    }

    /// Takes the first off until [`Self::again`].
    pub fn pop(&mut self) {
        let Some(last) = self.heap.pop() else { return };
        let top = match self.heap.first_mut() {
            Some(first) => std::mem::replace(first, last),
            None => last,
        };
        self.place[top as usize] = OUT;
        if !self.heap.is_empty() {
            self.place[last as usize] = 0;
            self.down();
        }
        self.off.push(top);
    }

    /// Puts back what was taken off.
    pub fn again(&mut self) {
        let off = std::mem::take(&mut self.off);
        for id in &off {
            if self.place[*id as usize] == OUT {
                self.push(*id);
            }
        }
        self.off = off;
        self.off.clear();
    }

    fn push(&mut self, id: u32) {
        self.heap.push(id);
        self.place[id as usize] = (self.heap.len() - 1) as u32;
        self.up(self.heap.len() - 1);
    }

    fn up(&mut self, mut at: usize) {
        let id = self.heap[at];
        let activity = self.activity[id as usize];
        while at > 0 {
            let parent = (at - 1) / 2;
            let other = self.heap[parent];
            if self.activity[other as usize] >= activity {
                break;
            }
            self.heap[at] = other;
            self.place[other as usize] = at as u32;
            at = parent;
        }
        self.heap[at] = id;
        self.place[id as usize] = at as u32;
    }

    fn down(&mut self) {
        let mut at = 0;
        let id = self.heap[0];
        let activity = self.activity[id as usize];
        loop {
            let mut child = 2 * at + 1;
            if child >= self.heap.len() {
                break;
            }
            let of = |c: usize| self.activity[self.heap[c] as usize];
            if child + 1 < self.heap.len() && of(child + 1) > of(child) {
                child += 1;
            }
            if of(child) <= activity {
                break;
            }
            self.heap[at] = self.heap[child];
            self.place[self.heap[at] as usize] = at as u32;
            at = child;
        }
        self.heap[at] = id;
        self.place[id as usize] = at as u32;
    }
}

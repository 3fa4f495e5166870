//! What lies behind and under the pieces: a floor and a wall of paper with soft shadows, nothing, or a photograph.

use super::camera::Camera;
use super::hit::Ray;
use super::light::edge;
use super::tone::{linear, paper};
use super::vector::{V3, smooth, v};
use super::world::World;
use crate::colour::Rgb;

/// The wall and the floor: warm paper.
const WALL: Rgb = Rgb([0xf6, 0xf3, 0xec]);
const FLOOR: Rgb = Rgb([0xe9, 0xe3, 0xd7]);
/// Pixels to a step of the ground, which has no sharp edges; between steps it is blended.
const STEP: u32 = 4;
/// The floor bends up into the wall up to this height, m: no line to see.
const COVE: f32 = 0.9;
/// The wall stands so far behind the last piece, m.
const BEHIND: f32 = 0.12;
/// Shares of the light of the ground that come from the lamp, red, green, blue; the rest comes from all of the room. What the lamp
/// does not reach is a little warmer than what it does, as shadows on paper are.
const LAMP_SHARE: V3 = v(0.150, 0.164, 0.185);
/// The ground sees the lamp through its cloth: the edges of shadows are so many times softer than on the pieces.
const CLOTH: f32 = 1.9;
/// A ball takes room light from the ground within so many radii; so much of what it hides is not made up for by the other walls.
const REACH: f32 = 4.5;
const HIDDEN: f32 = 0.62;
/// Side of a cell of the lists, m; most cells each way.
const CELL: f32 = 0.16;
const MOST_CELLS: f32 = 400.0;
/// No shadow's edge is wider, m.
const WIDEST: f32 = 0.5;
/// Rods thinner than this throw no shadow, m.
const THIN: f32 = 0.005;

/// Things by the cells of a plane that they reach.
struct Cells {
    low: [f32; 2],
    cell: f32,
    across: usize,
    up: usize,
    lists: Vec<Vec<u32>>,
}

impl Cells {
    /// Of rectangles: least and greatest corner.
    fn of(rectangles: &[([f32; 2], [f32; 2])]) -> Cells {
        let mut low = [f32::INFINITY; 2];
        let mut high = [f32::NEG_INFINITY; 2];
        for (a, b) in rectangles {
            for axis in 0..2 {
                low[axis] = low[axis].min(a[axis]);
                high[axis] = high[axis].max(b[axis]);
            }
        }
        if !low[0].is_finite() {
            (low, high) = ([0.0; 2], [0.0; 2]);
        }
        let wide = (high[0] - low[0]).max(high[1] - low[1]);
        let cell = CELL.max(wide / MOST_CELLS);
        let count = |axis: usize| ((high[axis] - low[axis]) / cell) as usize + 1;
        let mut cells = Cells {
            low,
            cell,
            across: count(0),
            up: count(1),
            lists: Vec::new(),
        };
        cells.lists = vec![Vec::new(); cells.across * cells.up];
        for (n, (a, b)) in rectangles.iter().enumerate() {
            let (x0, x1) = (cells.place(a[0], 0), cells.place(b[0], 0));
            let (y0, y1) = (cells.place(a[1], 1), cells.place(b[1], 1));
            for y in y0..=y1.min(cells.up - 1) {
                for x in x0..=x1.min(cells.across - 1) {
                    cells.lists[y * cells.across + x].push(u32::try_from(n).unwrap_or(u32::MAX));
                }
            }
        }
        cells
    }

    fn place(&self, at: f32, axis: usize) -> usize {
        // a cast to an unsigned number stops at 0
        ((at - self.low[axis]) / self.cell) as usize
    }

    fn at(&self, at: [f32; 2]) -> &[u32] {
        if at[0] < self.low[0] || at[1] < self.low[1] {
            return &[];
        }
        let (x, y) = (self.place(at[0], 0), self.place(at[1], 1));
        if x < self.across && y < self.up {
            &self.lists[y * self.across + x]
        } else {
            &[]
        }
    }
}

/// The lamp's light everywhere in the room: balls first, then rods, then boxes.
pub struct Room<'a> {
    world: &'a World,
    lamp: V3,
    across: V3,
    up: V3,
    cells: Cells,
    near_floor: Cells,
    near_wall: Cells,
    /// What wall and floor give back of the light.
    skins: [V3; 2],
    /// Where the wall is; none if the camera would see it from behind.
    wall: Option<f32>,
}

impl<'a> Room<'a> {
    /// The room of a world under a lamp. `facing` is how squarely the camera looks at the wall.
    pub fn of(world: &'a World, lamp: V3, across: V3, facing: f32) -> Room<'a> {
        let up = lamp.cross(across);
        let flat = |at: V3| [at.dot(across), at.dot(up)];
        let about = |points: &[V3], r: f32| {
            let mut low = [f32::INFINITY; 2];
            let mut high = [f32::NEG_INFINITY; 2];
            for point in points {
                for (axis, value) in flat(*point).into_iter().enumerate() {
                    low[axis] = low[axis].min(value - r);
                    high[axis] = high[axis].max(value + r);
                }
            }
            (low, high)
        };
        let mut shadows: Vec<([f32; 2], [f32; 2])> = Vec::new();
        for ball in &world.balls {
            shadows.push(about(&[ball.at], ball.r + WIDEST));
        }
        for rod in &world.rods {
            let r = if rod.r < THIN { 0.0 } else { rod.r + WIDEST };
            shadows.push(about(&[rod.a, rod.b], r));
        }
        for panel in &world.panels {
            let (x, y) = (panel.right * panel.half.x, v(0.0, panel.half.y, 0.0));
            let corners = [x + y, x - y, y - x, -x - y].map(|c| panel.at + c);
            shadows.push(about(&corners, WIDEST));
        }
        let by_floor = world.balls.iter().map(|b| {
            let r = if b.at.y > REACH * b.r {
                0.0
            } else {
                REACH * b.r
            };
            ([b.at.x - r, b.at.z - r], [b.at.x + r, b.at.z + r])
        });
        let behind = world.low.z - BEHIND;
        let by_wall = world.balls.iter().map(|b| {
            let r = if b.at.z - behind > REACH * b.r {
                0.0
            } else {
                REACH * b.r
            };
            ([b.at.x - r, b.at.y - r], [b.at.x + r, b.at.y + r])
        });
        Room {
            world,
            lamp,
            across,
            up,
            cells: Cells::of(&shadows),
            near_floor: Cells::of(&by_floor.collect::<Vec<_>>()),
            near_wall: Cells::of(&by_wall.collect::<Vec<_>>()),
            skins: [paper(WALL), paper(FLOOR)],
            wall: (facing > 0.35).then_some(behind),
        }
    }

    /// Share of the lamp that is seen from any point of the room. `own` is a box that does not shade itself.
    pub fn sun(&self, at: V3, own: Option<usize>) -> f32 {
        let (balls, rods) = (self.world.balls.len(), self.world.rods.len());
        let mut open = 1.0;
        for n in self.cells.at([at.dot(self.across), at.dot(self.up)]) {
            let n = *n as usize;
            open *= if n < balls {
                self.behind_ball(at, n)
            } else if n < balls + rods {
                self.behind_rod(at, n - balls)
            } else if own == Some(n - balls - rods) {
                1.0
            } else {
                self.behind_panel(at, n - balls - rods)
            };
            if open < 0.01 {
                return 0.0;
            }
        }
        open
    }

    fn behind_ball(&self, at: V3, n: usize) -> f32 {
        let ball = self.world.balls[n];
        let to = ball.at - at;
        let before = to.dot(self.lamp);
        if before <= 0.0 {
            return 1.0;
        }
        let off = to.square() - before * before;
        let width = (CLOTH * edge(before)).min(WIDEST);
        let out = ball.r + width;
        if off >= out * out {
            return 1.0;
        }
        smooth(-width, width, off.max(0.0).sqrt() - ball.r)
    }

    /// The middle line of the rod and the ray to the lamp come nearest to each other as seen along the ray.
    fn behind_rod(&self, at: V3, n: usize) -> f32 {
        let rod = self.world.rods[n];
        if rod.r < THIN {
            return 1.0;
        }
        let flat = |p: V3| p - self.lamp * p.dot(self.lamp);
        let (a, b) = (flat(rod.a - at), flat(rod.b - at));
        let axis = b - a;
        let long = axis.square();
        let share = if long > 0.0 {
            (-a.dot(axis) / long).clamp(0.0, 1.0)
        } else {
            0.0
        };
        let before = (rod.a.to(rod.b, share) - at).dot(self.lamp);
        if before <= 0.0 {
            return 1.0;
        }
        let width = (CLOTH * edge(before)).min(WIDEST);
        let off = (a + axis * share).length();
        // a rod thinner than the lamp looks darkens no more than its share
        let most = (rod.r / width).min(1.0);
        1.0 - most * (1.0 - smooth(-width, width, off - rod.r))
    }

    fn behind_panel(&self, at: V3, n: usize) -> f32 {
        let panel = self.world.panels[n];
        let slope = self.lamp.dot(panel.front);
        if slope.abs() < 1e-3 {
            return 1.0;
        }
        let before = (panel.at - at).dot(panel.front) / slope;
        if before <= 0.0 {
            return 1.0;
        }
        let on = at + self.lamp * before - panel.at;
        let width = (CLOTH * edge(before)).min(WIDEST);
        let inside = |half: f32, place: f32| smooth(-width, width, half - place.abs());
        1.0 - inside(panel.half.x, on.dot(panel.right)) * inside(panel.half.y, on.y)
    }

    /// Share of the room's light that balls near the ground leave to it.
    fn open(&self, at: V3, normal: V3, list: &[u32]) -> f32 {
        let mut open = 1.0;
        for n in list {
            let ball = self.world.balls[*n as usize];
            let to = ball.at - at;
            let far2 = to.square();
            let up = normal.dot(to).max(0.0);
            let share = ball.r * ball.r / far2.max(ball.r * ball.r);
            // fades out where the lists end
            let fade = 1.0 - smooth(0.5, 1.0, far2 / (REACH * REACH * ball.r * ball.r));
            open *= 1.0 - 0.8 * share * (up / far2.sqrt()).min(1.0) * fade;
        }
        open
    }

    /// The light of floor or wall along a ray.
    fn look(&self, ray: Ray) -> V3 {
        let [wall, floor] = self.skins;
        let down = if ray.along.y < -1e-4 {
            -ray.from.y / ray.along.y
        } else {
            f32::INFINITY
        };
        let back = match self.wall {
            Some(z) if ray.along.z.abs() > 1e-4 => (z - ray.from.z) / ray.along.z,
            _ => f32::INFINITY,
        };
        let back = if back > 0.0 { back } else { f32::INFINITY };
        if down.is_infinite() && back.is_infinite() {
            return wall;
        }
        let (at, normal, skin, list) = if down < back {
            let at = ray.at(down);
            // without a wall the floor turns into one far away
            let turned = match self.wall {
                Some(_) => 0.0,
                None => {
                    let size = (self.world.high - self.world.low).length();
                    smooth(0.5 * size, 2.0 * size + 2.0, v(at.x, 0.0, at.z).length())
                }
            };
            let list = self.near_floor.at([at.x, at.z]);
            (at, v(0.0, 1.0, 0.0), floor.to(wall, turned), list)
        } else {
            let at = ray.at(back);
            let rise = (at.y / COVE).clamp(0.0, 1.0);
            // steep at the floor, so that its edge does not show
            let turned = 1.0 - (1.0 - rise) * (1.0 - rise) * (1.0 - rise);
            let list = self.near_wall.at([at.x, at.y]);
            (at, v(0.0, 0.0, 1.0), floor.to(wall, turned), list)
        };
        let sun = self.sun(at, None);
        let open = self.open(at, normal, list);
        let lamp = LAMP_SHARE * sun;
        let room = (V3::all(1.0) - LAMP_SHARE) * (1.0 - HIDDEN * (1.0 - open));
        skin.each(lamp + room)
    }
}

/// The ground of a picture, pixel by pixel.
pub enum Ground<'a> {
    /// Nothing: the picture is transparent there.
    Clear,
    /// Steps of a floor and a wall.
    Paper {
        /// Steps in a row.
        across: usize,
        /// The light of each step.
        steps: Vec<V3>,
    },
    /// A photograph of the size of the picture, three bytes to a pixel.
    Photo {
        /// Pixels in a row.
        across: usize,
        /// Its bytes.
        bytes: &'a [u8],
        /// The light of each byte.
        lights: Vec<f32>,
    },
}

impl Ground<'_> {
    /// Floor and wall.
    pub fn paper(room: &Room<'_>, camera: &Camera, size: [u32; 2]) -> Ground<'static> {
        let [across, rows] = size.map(|s| s.div_ceil(STEP) + 1);
        let mut steps = Vec::new();
        for y in 0..rows {
            for x in 0..across {
                steps.push(room.look(camera.ray((x * STEP) as f32, (y * STEP) as f32)));
            }
        }
        Ground::Paper {
            across: across as usize,
            steps,
        }
    }

    /// A photograph of so many pixels in a row.
    pub fn photo(bytes: &[u8], across: usize) -> Ground<'_> {
        let lights = (0..=255_u8).map(|byte| paper(Rgb([byte; 3])).x).collect();
        Ground::Photo {
            across,
            bytes,
            lights,
        }
    }

    /// The light at the middle of a pixel; none where there is nothing.
    pub fn at(&self, x: usize, y: usize) -> Option<V3> {
        match self {
            Ground::Clear => None,
            Ground::Photo {
                across,
                bytes,
                lights,
            } => {
                let at = 3 * (y * across + x);
                let light = |n: usize| {
                    let byte = bytes.get(at + n).copied().unwrap_or_default();
                    lights.get(usize::from(byte)).copied().unwrap_or_default()
                };
                Some(v(light(0), light(1), light(2)))
            }
            Ground::Paper { across, steps } => {
                let step = STEP as usize;
                let (column, row) = (x / step, y / step);
                let share = |n: usize| ((n % step) as f32 + 0.5) / step as f32;
                let here = row * across + column;
                let light = |n: usize| steps.get(n).copied().unwrap_or_default();
                let over = light(here).to(light(here + 1), share(x));
                let under = light(here + across).to(light(here + across + 1), share(x));
                Some(over.to(under, share(y)))
            }
        }
    }
}

/// The skin of floor and wall as light that they throw back on what stands before them.
pub fn bounce() -> V3 {
    linear(FLOOR)
}

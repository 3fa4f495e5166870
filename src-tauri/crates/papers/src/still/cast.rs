//! From a world and a camera to light, pixel by pixel: which thing a ray meets first, with the picture cut into tiles, and smooth edges.

use super::camera::Camera;
use super::ground::Ground;
use super::hit::{Ray, ball, panel, rod};
use super::shade::Shader;
use super::vector::V3;
use super::world::{Rod, World};

/// Side of a tile in pixels.
const TILE: usize = 16;
/// A rod is drawn no thinner than this, in pixels, so that a line never breaks up into dots.
const THINNEST: f32 = 0.6;
/// Where in a pixel an edge is looked at: eight places, one in each row and each column of an 8 by 8 grid, in sixteenths.
const PLACES: [[u8; 2]; 8] = [
    [1, 5],
    [3, 13],
    [5, 9],
    [7, 1],
    [9, 15],
    [11, 7],
    [13, 11],
    [15, 3],
];
/// Nothing is met.
const NONE: u32 = u32::MAX;

/// The light of a picture.
pub struct Lit {
    /// Of each pixel, row by row.
    pub light: Vec<V3>,
    /// Eighths of each pixel that something covers.
    pub cover: Vec<u8>,
}

/// What a ray meets first.
#[derive(Clone, Copy)]
struct Met {
    /// Balls, then rods, then boxes.
    thing: u32,
    way: f32,
    /// Of a rod the nearest point of its middle line, of a box the outward direction.
    beside: V3,
}

/// The things of each tile, the nearest first.
struct Tiles {
    across: usize,
    starts: Vec<u32>,
    /// Each with the least way at which it can be met.
    items: Vec<(f32, u32)>,
}

impl Tiles {
    fn of(world: &World, rods: &[Rod], camera: &Camera, size: [usize; 2]) -> Tiles {
        let [across, rows] = size.map(|s| s.div_ceil(TILE));
        let mut spans: Vec<[usize; 4]> = Vec::new();
        let mut nears: Vec<f32> = Vec::new();
        let span = |low: [f32; 2], high: [f32; 2]| {
            let tile =
                |v: f32, most: usize| ((v / TILE as f32).floor().max(0.0) as usize).min(most);
            if high[0] < 0.0
                || high[1] < 0.0
                || low[0] >= (across * TILE) as f32
                || low[1] >= (rows * TILE) as f32
            {
                return [1, 0, 1, 0];
            }
            [
                tile(low[0], across - 1),
                tile(high[0], across - 1),
                tile(low[1], rows - 1),
                tile(high[1], rows - 1),
            ]
        };
        let round = |parts: &[(V3, f32)]| {
            let mut low = [f32::INFINITY; 2];
            let mut high = [f32::NEG_INFINITY; 2];
            let mut near = f32::INFINITY;
            for (at, r) in parts {
                near = near.min(camera.deep(*at) - r);
                let Some((seen, _)) = camera.see(*at) else {
                    // beside or behind the camera: it may be anywhere
                    return (span([0.0; 2], size.map(|s| s as f32)), 0.0);
                };
                let reach = camera.cover(*at, *r) + 1.5;
                for axis in 0..2 {
                    low[axis] = low[axis].min(seen[axis] - reach);
                    high[axis] = high[axis].max(seen[axis] + reach);
                }
            }
            (span(low, high), near)
        };
        for ball in &world.balls {
            let (tiles, near) = round(&[(ball.at, ball.r)]);
            spans.push(tiles);
            nears.push(near);
        }
        for rod in rods {
            let (tiles, near) = round(&[(rod.a, rod.r), (rod.b, rod.r)]);
            spans.push(tiles);
            nears.push(near);
        }
        for panel in &world.panels {
            let corner = |n: u8| {
                let sign = |bit: u8| if n >> bit & 1 == 0 { -1.0 } else { 1.0 };
                let up = V3 {
                    x: 0.0,
                    y: sign(1) * panel.half.y,
                    z: 0.0,
                };
                let at = panel.at
                    + panel.right * (sign(0) * panel.half.x)
                    + panel.front * (sign(2) * panel.half.z)
                    + up;
                (at, 0.0)
            };
            let (tiles, near) = round(&[0, 1, 2, 3, 4, 5, 6, 7].map(corner));
            spans.push(tiles);
            nears.push(near);
        }
        let mut counts = vec![0_u32; across * rows + 1];
        let each = |[x0, x1, y0, y1]: [usize; 4]| {
            (y0..=y1).flat_map(move |y| (x0..=x1).map(move |x| y * across + x))
        };
        for tiles in &spans {
            for tile in each(*tiles) {
                counts[tile + 1] += 1;
            }
        }
        for tile in 0..across * rows {
            counts[tile + 1] += counts[tile];
        }
        let mut items = vec![(0.0, NONE); counts[across * rows] as usize];
        let mut next = counts.clone();
        for (thing, tiles) in spans.iter().enumerate() {
            for tile in each(*tiles) {
                items[next[tile] as usize] = (nears[thing], u32::try_from(thing).unwrap_or(NONE));
                next[tile] += 1;
            }
        }
        for tile in 0..across * rows {
            items[counts[tile] as usize..counts[tile + 1] as usize]
                .sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        }
        Tiles {
            across,
            starts: counts,
            items,
        }
    }

    fn of_pixel(&self, x: usize, y: usize) -> &[(f32, u32)] {
        let tile = y / TILE * self.across + x / TILE;
        &self.items[self.starts[tile] as usize..self.starts[tile + 1] as usize]
    }
}

/// A picture being cast.
pub struct Cast<'a> {
    world: &'a World,
    rods: Vec<Rod>,
    camera: &'a Camera,
    shader: &'a Shader<'a>,
    tiles: Tiles,
    size: [usize; 2],
}

impl<'a> Cast<'a> {
    /// Sorts everything into tiles.
    pub fn new(
        world: &'a World,
        camera: &'a Camera,
        shader: &'a Shader<'a>,
        size: [usize; 2],
    ) -> Cast<'a> {
        let rods: Vec<Rod> = world
            .rods
            .iter()
            .map(|rod| {
                let metre = camera
                    .see((rod.a + rod.b) * 0.5)
                    .map_or(1e6, |(_, metre)| metre);
                Rod {
                    r: rod.r.max(THINNEST / metre),
                    ..*rod
                }
            })
            .collect();
        let tiles = Tiles::of(world, &rods, camera, size);
        Cast {
            world,
            rods,
            camera,
            shader,
            tiles,
            size,
        }
    }

    /// The light of every pixel; first through the middles, then eightfold where two things meet.
    pub fn light(&self, ground: &Ground<'_>) -> Lit {
        let [width, height] = self.size;
        let mut seen = vec![NONE; width * height];
        let mut lit = Lit {
            light: vec![V3::default(); width * height],
            cover: vec![0; width * height],
        };
        for y in 0..height {
            for x in 0..width {
                let here = y * width + x;
                let list = self.tiles.of_pixel(x, y);
                let ray = self.camera.ray(x as f32 + 0.5, y as f32 + 0.5);
                if let Some(met) = self.meet(ray, list) {
                    seen[here] = met.thing;
                    lit.light[here] = self.shade(ray, met);
                    lit.cover[here] = 8;
                } else if let Some(light) = ground.at(x, y) {
                    lit.light[here] = light;
                }
            }
        }
        for y in 0..height {
            for x in 0..width {
                let here = y * width + x;
                let mine = seen[here];
                let same = (x == 0 || seen[here - 1] == mine)
                    && (x + 1 == width || seen[here + 1] == mine)
                    && (y == 0 || seen[here - width] == mine)
                    && (y + 1 == height || seen[here + width] == mine);
                if !same {
                    self.edge(x, y, ground, &mut lit);
                }
            }
        }
        lit
    }

    /// A pixel in which things meet: eight looks, each thing shaded once.
    fn edge(&self, x: usize, y: usize, ground: &Ground<'_>, lit: &mut Lit) {
        let list = self.tiles.of_pixel(x, y);
        let mut found: [(u32, u8, V3); 8] = [(NONE, 0, V3::default()); 8];
        let mut kinds = 0;
        let mut cover = 0;
        for place in PLACES {
            let [dx, dy] = place.map(|s| f32::from(s) / 16.0);
            let ray = self.camera.ray(x as f32 + dx, y as f32 + dy);
            let met = self.meet(ray, list);
            let thing = met.map_or(NONE, |m| m.thing);
            if let Some(known) = found[..kinds].iter_mut().find(|f| f.0 == thing) {
                known.1 += 1;
            } else {
                let light = match met {
                    Some(met) => self.shade(ray, met),
                    None => ground.at(x, y).unwrap_or_default(),
                };
                found[kinds] = (thing, 1, light);
                kinds += 1;
            }
            cover += u8::from(met.is_some());
        }
        let clear = matches!(ground, Ground::Clear);
        let mut sum = V3::default();
        for (thing, share, light) in &found[..kinds] {
            if *thing != NONE || !clear {
                // a highlight beside an edge must not eat the edge
                let shown = V3 {
                    x: light.x.min(1.0),
                    y: light.y.min(1.0),
                    z: light.z.min(1.0),
                };
                sum = sum + shown * f32::from(*share);
            }
        }
        let whole = if clear { cover.max(1) } else { 8 };
        let here = y * self.size[0] + x;
        lit.light[here] = sum * (1.0 / f32::from(whole));
        lit.cover[here] = cover;
    }

    fn meet(&self, ray: Ray, list: &[(f32, u32)]) -> Option<Met> {
        let (balls, rods) = (self.world.balls.len(), self.rods.len());
        let mut best: Option<Met> = None;
        let mut least = f32::INFINITY;
        for (near, thing) in list {
            // way along a slanting ray is never less than depth
            if *near > least {
                break;
            }
            let n = *thing as usize;
            let met = if n < balls {
                let it = &self.world.balls[n];
                ball(ray, it.at, it.r).map(|way| (way, V3::default()))
            } else if n < balls + rods {
                let it = &self.rods[n - balls];
                rod(ray, it.a, it.b, it.r)
            } else {
                let it = &self.world.panels[n - balls - rods];
                panel(ray, it.at, it.half, it.right, it.front)
            };
            if let Some((way, beside)) = met.filter(|(way, _)| *way < least) {
                least = way;
                best = Some(Met {
                    thing: *thing,
                    way,
                    beside,
                });
            }
        }
        best
    }

    fn shade(&self, ray: Ray, met: Met) -> V3 {
        let (balls, rods) = (self.world.balls.len(), self.rods.len());
        let n = met.thing as usize;
        let at = ray.at(met.way);
        if n < balls {
            self.shader.ball(n, at, ray.along)
        } else if n < balls + rods {
            self.shader.rod(n - balls, at, met.beside, ray.along)
        } else {
            self.shader.panel(n - balls - rods, at, met.beside)
        }
    }
}

//! The light that comes from a point of a skin: latex, a rod, a panel.

use super::ground::{Room, bounce};
use super::light::{Lists, glow, open, sun};
use super::vector::{V3, smooth, v};
use super::world::World;

/// The lamp's colour and strength, and that of the room above.
const LAMP: V3 = v(1.0, 0.975, 0.94);
const LAMP_LIGHT: f32 = 0.62;
const ROOM: V3 = v(0.985, 0.99, 1.0);
/// A weak second light from the other side keeps the shadow side round.
const FILL_LIGHT: f32 = 0.10;
/// Latex sends back so much of what falls on it straight on (Fresnel, index 1.52), in all directions of its mirror.
const GLOSS: f32 = 0.042;
/// Half the soft box as a balloon mirrors it, over its distance: across and up.
const WINDOW: [f32; 2] = [0.42, 0.58];
/// How much of the lamp comes through the air of a balloon and out at its far side.
const THROUGH: f32 = 0.20;
/// Of the balloon inside another so much shows through straight on: as double-stuffed balls look, no source.
const SHOWS: f32 = 0.6;

/// Everything that shading asks.
pub struct Shader<'a> {
    world: &'a World,
    room: &'a Room<'a>,
    lamp: V3,
    across: V3,
    up: V3,
    fill: V3,
    ball_shades: Lists,
    ball_hides: Lists,
    rod_shades: Lists,
    rod_hides: Lists,
    floor: V3,
}

impl<'a> Shader<'a> {
    /// Finds for every ball and rod what may shade it.
    pub fn new(world: &'a World, room: &'a Room<'a>, lamp: V3, across: V3, fill: V3) -> Shader<'a> {
        let balls: Vec<(V3, f32)> = world.balls.iter().map(|b| (b.at, b.r)).collect();
        let rods: Vec<(V3, f32)> = world
            .rods
            .iter()
            .map(|t| ((t.a + t.b) * 0.5, (t.b - t.a).length() * 0.5 + t.r))
            .collect();
        Shader {
            world,
            room,
            lamp,
            across,
            up: lamp.cross(across),
            fill,
            ball_shades: super::light::shades(&world.balls, &balls, lamp, across),
            ball_hides: super::light::hides(&world.balls, &balls),
            rod_shades: super::light::shades(&world.balls, &rods, lamp, across),
            rod_hides: super::light::hides(&world.balls, &rods),
            floor: bounce(),
        }
    }

    /// A point of a balloon seen along a direction.
    pub fn ball(&self, n: usize, at: V3, along: V3) -> V3 {
        let ball = self.world.balls[n];
        let normal = (at - ball.at) * (1.0 / ball.r);
        let open = open(at, normal, &self.world.balls, self.ball_hides.of(n));
        let facing = normal.dot(self.lamp);
        let sun = if facing > -0.3 {
            sun(
                at + normal * 0.0015,
                self.lamp,
                &self.world.balls,
                self.ball_shades.of(n),
            )
        } else {
            0.0
        };
        let edge_on = 1.0 - (-normal.dot(along)).clamp(0.0, 1.0);
        // at its edge the eye looks through more rubber: the colour deepens
        let deep = edge_on * edge_on * 0.55;
        let skin = ball.skin.to(deepened(ball.skin), deep);
        // of two balloons the inner one shows through the outer, least at the edge, where the eye looks through more of it
        let skin = skin.to(ball.core, SHOWS * smooth(0.78, 0.42, edge_on));
        // rubber is soft to the light: it wraps a little beyond the half that faces the lamp
        let wrap = ((facing + 0.22) / 1.22).max(0.0);
        let lamp = LAMP * (LAMP_LIGHT * wrap * wrap.sqrt() * (0.06 + 0.94 * sun));
        let through = smooth(0.55, -0.75, facing) * THROUGH * (0.35 + 0.65 * open);
        let light = lamp + self.around(normal, open, ball.skin, at.y);
        let body = skin.each(light) + deepened(ball.skin).each(LAMP) * through;
        body + self.mirror(normal, along, edge_on, open, sun, GLOSS)
    }

    /// A point of a rod; `middle` is the nearest point of its middle line.
    pub fn rod(&self, n: usize, at: V3, middle: V3, along: V3) -> V3 {
        let rod = self.world.rods[n];
        let normal = (at - middle).unit();
        let open = open(at, normal, &self.world.balls, self.rod_hides.of(n));
        let facing = normal.dot(self.lamp).max(0.0);
        let sun = sun(at, self.lamp, &self.world.balls, self.rod_shades.of(n));
        let edge_on = 1.0 - (-normal.dot(along)).clamp(0.0, 1.0);
        let light =
            LAMP * (LAMP_LIGHT * 1.1 * facing * sun) + self.around(normal, open, rod.skin, at.y);
        if rod.foil {
            let seen = self.mirror(normal, along, edge_on, open, sun, 0.55);
            return rod.skin.each(light) * 0.6 + rod.skin.to(V3::all(1.0), 0.25).each(seen);
        }
        rod.skin.each(light) + self.mirror(normal, along, edge_on, open, sun, 0.05) * 0.7
    }

    /// A point of a box.
    pub fn panel(&self, n: usize, at: V3, normal: V3) -> V3 {
        let panel = self.world.panels[n];
        let facing = normal.dot(self.lamp).max(0.0);
        let sun = self.room.sun(at, Some(n));
        let light = LAMP * (LAMP_LIGHT * facing * sun) + self.around(normal, 1.0, panel.skin, at.y);
        panel.skin.each(light)
    }

    /// The light of the room: from above, from the floor, from the other side.
    fn around(&self, normal: V3, open: f32, skin: V3, height: f32) -> V3 {
        let above = 0.5 + 0.5 * normal.y;
        // the floor is bright paper, and nearer to what stands low
        let below = (0.5 - 0.5 * normal.y) * (0.62 + 0.2 * smooth(1.2, 0.1, height));
        let fill = FILL_LIGHT * (0.4 + 0.6 * normal.dot(self.fill)).max(0.0);
        let front = 0.10;
        let light = ROOM * (0.46 * above + front) + self.floor * (0.40 * below) + V3::all(fill);
        light.each(glow(open, skin))
    }

    /// What the skin mirrors: a large soft window at the lamp, a smaller one opposite, the bright ceiling and the floor.
    fn mirror(&self, normal: V3, along: V3, edge_on: f32, open: f32, sun: f32, gloss: f32) -> V3 {
        let seen = along - normal * (2.0 * normal.dot(along));
        let square = edge_on * edge_on;
        let share = gloss + (1.0 - gloss) * square * square * edge_on * 0.55;
        let ceiling = 0.40 + 0.60 * smooth(-0.3, 0.9, seen.y);
        let window = self.window(seen) * (0.10 + 0.90 * sun);
        let broad = seen.dot(self.lamp).max(0.0);
        let broad = broad * broad * broad;
        let sheen = broad * broad * (0.25 + 0.75 * sun);
        V3::all(share * (ceiling * open * 0.8 + sheen * 1.1 + window * 7.0))
    }

    /// The lamp's soft box seen by a mirror ray: 1 in its middle, fading to its round edge.
    fn window(&self, seen: V3) -> f32 {
        let before = seen.dot(self.lamp);
        if before <= 0.1 {
            return 0.0;
        }
        let off = seen - self.lamp * before;
        let x = off.dot(self.across) / (before * WINDOW[0]);
        let y = off.dot(self.up) / (before * WINDOW[1]);
        let (x, y) = (x * x, y * y);
        // between a circle and a square
        smooth(1.0, 0.0, (x * x + y * y + x * y).sqrt())
    }
}

/// A deeper, fuller shade of the same colour: light that passed the rubber twice, as bright as before where there is colour at all.
fn deepened(skin: V3) -> V3 {
    let twice = skin.each(skin);
    let bright = |c: V3| 0.2126 * c.x + 0.7152 * c.y + 0.0722 * c.z;
    let lift = (bright(skin) / bright(twice).max(1e-4)).min(1.6);
    twice * (lift * 0.92)
}

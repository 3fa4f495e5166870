//! Colours of a job by id, for swatches, cards and pictures.

use std::collections::BTreeMap;

use job::Job;
use job::stock::Pattern;
use plan::Plan;
use plan::types::Ball;

use crate::colour::{Rgb, WHITE};
use crate::draw::Shown;
use crate::marks::{At, Mark};
use crate::say;
use crate::table::Drawing;

/// A colour as papers show it.
#[derive(Clone, Debug, PartialEq)]
pub struct Tone {
    /// Its name.
    pub name: String,
    /// Its colour.
    pub rgb: Rgb,
    /// Its pattern.
    pub pattern: Pattern,
}

/// The colours by id.
pub struct Palette {
    tones: BTreeMap<String, Tone>,
}

impl Palette {
    /// Of the plan, and of the job where the plan does not know one.
    pub fn of(job: &Job, plan: &Plan) -> Palette {
        let tone = |name: &str, srgb: &str, pattern: Pattern| Tone {
            name: name.to_string(),
            rgb: Rgb::from_hex(srgb).unwrap_or(WHITE),
            pattern,
        };
        let mut tones: BTreeMap<String, Tone> = job
            .colours
            .iter()
            .map(|(id, c)| (id.clone(), tone(&c.name, &c.srgb, c.pattern)))
            .collect();
        for c in &plan.colours {
            tones.insert(c.colour.clone(), tone(&c.name, &c.srgb, c.pattern));
        }
        Palette { tones }
    }

    /// A colour; one that nobody knows is white and plain.
    pub fn tone(&self, id: &str) -> Tone {
        self.tones.get(id).cloned().unwrap_or(Tone {
            name: if id.is_empty() {
                String::new()
            } else {
                "unknown colour".to_string()
            },
            rgb: WHITE,
            pattern: Pattern::Plain,
        })
    }

    /// The name of a ball: one colour, or one inside another.
    pub fn ball_name(&self, colour: &str, inside: &str) -> String {
        let outer = self.tone(colour).name;
        if inside.is_empty() {
            outer
        } else {
            format!("{outer} over {}", self.tone(inside).name)
        }
    }

    /// A ball to be drawn with its blown size in inches as its figure.
    pub fn shown(&self, ball: &Ball) -> Shown {
        let tone = self.tone(&ball.colour);
        Shown {
            diameter: ball.blown_dmm.clamp(0, 20_000) as f64 / 10.0,
            colour: tone.rgb,
            pattern: tone.pattern,
            label: say::inches(ball.blown_dmm),
        }
    }

    /// A swatch of a radius in mm.
    pub fn swatch(&self, id: &str, radius: f64) -> Drawing {
        let tone = self.tone(id);
        Drawing {
            width: 2.0 * radius,
            height: 2.0 * radius,
            marks: vec![Mark::Balloon {
                at: At::new(radius, radius),
                radius,
                colour: tone.rgb,
                pattern: tone.pattern,
            }],
            words: String::new(),
        }
    }
}

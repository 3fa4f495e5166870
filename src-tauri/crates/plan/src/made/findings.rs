//! What the count of these pieces has to say: what cannot be counted and why, and what will not come out as it was meant.

use job::list::live;
use job::piece::PieceKind;
use job::set_piece::{ClassicForm, FoilStand, LooseForm, RingPattern, WallPattern};
use job::{Edit, Finding, Severity};

use super::{Making, bouquet, floaters, foils, wall};
use crate::count_findings::Named;
use crate::inflate::{nearest, whole};
use crate::pieces::called;
use crate::route::Route;
use crate::types::Made;

/// A floater that lifts less than this sinks within hours, g. Common practice, no source.
const LEAST_LIFT_G: f64 = 1.0;
/// Circles of one size cover at most this share of a plane, percent: π / √12.
const ONE_LAYER_PCT: f64 = 90.69;

/// Why a piece cannot be counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoMade {
    /// No colour with a share.
    NoPalette,
    /// None alike, or nothing in it.
    NoCount,
    /// No diameter in this field.
    NoSize(&'static str),
    /// No measure in this field.
    NoMeasure(&'static str),
    /// No colour in this field.
    NoColour(&'static str),
    /// A ring is of three to six.
    RingOut,
    /// A crossing holds one or four.
    EachOut,
    /// A foot is of four, six or eight.
    FootOut,
    /// Nothing to spell.
    NoText,
    /// Larger than anything that is built.
    TooLarge,
}

/// The field of a piece that holds what it is.
#[must_use]
pub fn section(kind: PieceKind) -> &'static str {
    match kind {
        PieceKind::Garland | PieceKind::Newer => "garland",
        PieceKind::Chain => "chain",
        PieceKind::Frame => "frame",
        PieceKind::Classic => "classic",
        PieceKind::Wall => "wall",
        PieceKind::Bouquet => "bouquet",
        PieceKind::Foils => "foils",
        PieceKind::Floaters => "floaters",
        PieceKind::Centrepiece => "centrepiece",
        PieceKind::Loose => "loose",
    }
}

impl Named<'_> {
    /// Why a piece has no plan.
    #[must_use]
    pub fn not_made(&self, why: NoMade) -> Finding {
        let name = called(self.piece);
        let (code, field, message, action) = match why {
            NoMade::NoPalette => (
                "no_palette",
                "palette",
                format!("{name} has no colour with a share."),
                "Add a colour to the palette.",
            ),
            NoMade::NoCount => (
                "no_count",
                "count",
                format!("{name} is none, or has nothing in it."),
                "Enter how many there are.",
            ),
            NoMade::NoSize(field) => (
                "no_size",
                field,
                format!("{name} has balloons blown to nothing."),
                "Enter the size that they are blown to.",
            ),
            NoMade::NoMeasure(field) => (
                "no_measure",
                field,
                format!("{name} lacks a measure."),
                "Enter how high, wide or deep it is.",
            ),
            NoMade::NoColour(field) => (
                "no_colour",
                field,
                format!("{name} has a balloon without a colour."),
                "Choose its colour.",
            ),
            NoMade::RingOut => (
                "ring_out",
                "ring",
                format!(
                    "{name} cannot be built in rings of {}.",
                    self.piece.classic.ring
                ),
                "Take 3, 4, 5 or 6 to a ring.",
            ),
            NoMade::EachOut => (
                "each_out",
                "each",
                format!("{name} cannot have {} at a crossing.", self.piece.wall.each),
                "Take one balloon to a crossing, or quads.",
            ),
            NoMade::FootOut => (
                "foot_out",
                "foot",
                format!(
                    "{name} cannot have a foot of {}.",
                    self.piece.centrepiece.foot
                ),
                "Take 4, 6 or 8.",
            ),
            NoMade::NoText => (
                "no_text",
                "text",
                format!("{name} spells nothing that there are foils of."),
                "Enter numbers, letters from A to Z, &, +, a heart or a round.",
            ),
            NoMade::TooLarge => (
                "too_large",
                "",
                format!(
                    "{name} is larger than anything that is built, or has more than 200,000 balloons."
                ),
                "Check its measures and its number.",
            ),
        };
        let mut path = vec![section(self.piece.kind)];
        path.extend(Some(field).filter(|f| !f.is_empty()));
        self.finding(code, Severity::Stop, &path, message, action)
    }

    /// What will not come out as it was meant.
    #[must_use]
    pub fn of_made(&self, making: &Making) -> Vec<Finding> {
        let made = &making.made;
        let near = self.in_each_other(made.count, made.width_mm);
        let mut all: Vec<Finding> = self.newer_words().into_iter().chain(near).collect();
        match self.piece.kind {
            PieceKind::Classic => all.extend(self.unused_colours()),
            PieceKind::Wall => all.extend(self.grid(&making.made)),
            PieceKind::Bouquet => {
                all.extend(self.too_light());
                all.extend(self.low_ribbons());
            }
            PieceKind::Foils => {
                all.extend(self.unknown_letters());
                all.extend(self.no_garland());
                all.extend(self.past_end());
            }
            PieceKind::Floaters => {
                all.extend(self.sinks());
                all.extend(self.crowded());
            }
            PieceKind::Centrepiece => all.extend(self.low_centrepiece(making)),
            _ => {}
        }
        all
    }

    /// A word that a newer version wrote, and that what this version knows stands for it.
    fn newer_words(&self) -> Option<Finding> {
        let piece = self.piece;
        let (newer, field, instead) = match piece.kind {
            PieceKind::Classic if piece.classic.form == ClassicForm::Newer => {
                (true, "form", "It is counted as a column")
            }
            PieceKind::Classic => (
                piece.classic.pattern == RingPattern::Newer,
                "pattern",
                "Its colours are counted as a spiral",
            ),
            PieceKind::Wall => (
                piece.wall.pattern == WallPattern::Newer,
                "pattern",
                "Its colours are counted as blended",
            ),
            PieceKind::Foils => (
                piece.foils.stand == FoilStand::Newer,
                "stand",
                "They are counted as hung and filled with air",
            ),
            PieceKind::Loose => (
                piece.loose.form == LooseForm::Newer,
                "form",
                "They are counted as accents",
            ),
            _ => (false, "", ""),
        };
        newer.then(|| {
            self.finding(
                "newer_choice",
                Severity::Care,
                &[section(piece.kind), field],
                format!(
                    "{} holds a choice that a newer version made. {instead}.",
                    called(piece)
                ),
                "Open the job in the newer version, or choose again here.",
            )
        })
    }

    /// A spiral whose rings have fewer balloons than there are colours.
    fn unused_colours(&self) -> Option<Finding> {
        let classic = &self.piece.classic;
        let colours = live(&classic.palette)
            .iter()
            .filter(|(_, s)| s.share_pct > 0)
            .count();
        let colours = i64::try_from(colours).unwrap_or(i64::MAX);
        let spiral = classic.pattern != RingPattern::Bands;
        (spiral && colours > classic.ring).then(|| {
            self.finding(
                "colour_unused",
                Severity::Care,
                &["classic", "palette"],
                format!(
                    "{} has {colours} colours, a ring takes {}: the last ones are not used.",
                    called(self.piece),
                    classic.ring
                ),
                "Take more balloons to a ring, fewer colours, or bands.",
            )
        })
    }

    /// A wall that comes out larger than it is asked for by more than a hundredth.
    fn outgrown(&self, made: &Made) -> Option<Finding> {
        let wall = &self.piece.wall;
        let over = |is: i64, asked: i64| asked > 0 && is.saturating_sub(asked) > asked / 100;
        (over(made.width_mm, wall.width_mm) || over(made.height_mm, wall.height_mm)).then(|| {
            self.finding(
                "wall_outgrown",
                Severity::Note,
                &["wall", "height_mm"],
                format!(
                    "{} comes out {} x {} mm: one row or column less would be too short.",
                    called(self.piece),
                    made.width_mm,
                    made.height_mm
                ),
                "Blow to another size, or ask for another measure.",
            )
        })
    }

    /// A grid that is closer than its balloons, or shows through.
    fn grid(&self, made: &Made) -> Option<Finding> {
        let wall = &self.piece.wall;
        let (pitch, unit) = (whole(wall.pitch_mm) * 10.0, wall::unit_dmm(wall));
        let name = called(self.piece);
        let (code, severity, message, action) = if wall.pitch_mm == 0 {
            return self.outgrown(made);
        } else if pitch < unit * wall::TIGHT {
            (
                "grid_tight",
                Severity::Care,
                format!(
                    "{name}: its grid of {} mm is too close for what is {} mm wide.",
                    wall.pitch_mm,
                    nearest(unit / 10.0)
                ),
                "Blow smaller, or take a wider grid.",
            )
        } else if pitch > unit * wall::LOOSE {
            (
                "grid_shows",
                Severity::Note,
                format!(
                    "{name}: gaps of {} mm show between its balloons.",
                    nearest((pitch - unit) / 10.0)
                ),
                "Blow larger, or take a closer grid.",
            )
        } else {
            return None;
        };
        Some(self.finding(code, severity, &["wall", "pitch_mm"], message, action))
    }

    /// A weight that does not hold its bouquet.
    fn too_light(&self) -> Option<Finding> {
        let bouquet = &self.piece.bouquet;
        if bouquet.weight_g <= 0 {
            return None;
        }
        let lift = bouquet::net_lift_g(bouquet);
        let asked = super::helium::weight_g(lift);
        if bouquet.weight_g >= asked {
            return None;
        }
        let name = called(self.piece);
        let (code, severity, message) = if whole(bouquet.weight_g) <= lift {
            (
                "weight_flies",
                Severity::Stop,
                format!(
                    "{name} lifts {} g and flies away with its weight of {} g.",
                    nearest(lift),
                    bouquet.weight_g
                ),
            )
        } else {
            (
                "weight_light",
                Severity::Care,
                format!(
                    "{name} lifts {} g: a weight of {} g is moved by a draught.",
                    nearest(lift),
                    bouquet.weight_g
                ),
            )
        };
        let path = ["bouquet", "weight_g"];
        let edit = Edit::set(&["pieces", self.id, "bouquet", "weight_g"], asked);
        Some(
            self.finding(code, severity, &path, message, "Take a heavier weight.")
                .fix(format!("Take {asked} g"), vec![edit]),
        )
    }

    /// Steps that bring the lowest balloons down to the weight.
    fn low_ribbons(&self) -> Option<Finding> {
        let bouquet = &self.piece.bouquet;
        let heights = bouquet::heights_mm(bouquet);
        let least = bouquet::SHORTEST_MM + bouquet.blown_dmm / 20;
        let low = heights.iter().filter(|h| **h < least).count();
        (low > 0).then(|| {
            self.finding(
                "ribbon_short",
                Severity::Care,
                &["bouquet", "step_mm"],
                format!(
                    "{}: {low} of its balloons come down to the weight. They are counted at {} mm of ribbon.",
                    called(self.piece),
                    bouquet::SHORTEST_MM
                ),
                "Take a smaller step, or hang the highest one higher.",
            )
        })
    }

    /// Letters that there are no foils of.
    fn unknown_letters(&self) -> Option<Finding> {
        let (_, unknown) = foils::spelled(&self.piece.foils.text);
        let shown: Vec<String> = unknown.iter().take(8).map(ToString::to_string).collect();
        (!unknown.is_empty()).then(|| {
            self.finding(
                "foil_unknown",
                Severity::Care,
                &["foils", "text"],
                format!(
                    "{}: no foils are counted for {}.",
                    called(self.piece),
                    shown.join(" ")
                ),
                "Use numbers, letters from A to Z, &, +, a heart or a round.",
            )
        })
    }

    /// Foils that are fixed in a garland beyond its end.
    fn past_end(&self) -> Option<Finding> {
        let piece = self.piece;
        let garland = self.job.pieces.get(&piece.on)?;
        let route = Route::of(&garland.garland)?;
        let (along, long) = (piece.foils.along_mm, nearest(route.length));
        let fixed = piece.foils.stand == FoilStand::InGarland && !garland.gone;
        (fixed && garland.kind == PieceKind::Garland && along > long).then(|| {
            self.finding(
                "foil_past_end",
                Severity::Care,
                &["foils", "along_mm"],
                format!(
                    "{} is fixed {along} mm along {}, which is {long} mm long.",
                    called(piece),
                    called(garland)
                ),
                "Fix it further in.",
            )
            .fix(
                "Fix it in the middle",
                vec![Edit::set(
                    &["pieces", self.id, "foils", "along_mm"],
                    long / 2,
                )],
            )
        })
    }

    /// Foils that are fixed in a garland that is not there.
    fn no_garland(&self) -> Option<Finding> {
        let piece = self.piece;
        if piece.foils.stand != FoilStand::InGarland {
            return None;
        }
        let garland = self.job.pieces.get(&piece.on);
        if garland.is_some_and(|g| !g.gone && g.kind == PieceKind::Garland) {
            return None;
        }
        Some(self.finding(
            "no_garland",
            Severity::Care,
            &["on"],
            format!(
                "{} is fixed in a garland that is not in the job.",
                called(piece)
            ),
            "Choose the garland, or another way to put it up.",
        ))
    }

    /// Floaters that do not float.
    fn sinks(&self) -> Option<Finding> {
        let floaters = &self.piece.floaters;
        let lift = floaters::net_lift_g(floaters);
        let name = called(self.piece);
        (lift < LEAST_LIFT_G).then(|| {
            let (code, severity, what) = if lift <= 0.0 {
                ("does_not_float", Severity::Stop, "do not float")
            } else {
                ("floats_barely", Severity::Care, "hardly float")
            };
            self.finding(
                code,
                severity,
                &["floaters", "blown_dmm"],
                format!("{name}: balloons of this size with this ribbon {what}."),
                "Blow them larger, take larger ones, or shorter ribbon.",
            )
        })
    }

    /// More floaters than lie side by side.
    fn crowded(&self) -> Option<Finding> {
        let covered = floaters::covers_pct(&self.piece.floaters);
        (covered > ONE_LAYER_PCT).then(|| {
            self.finding(
                "floaters_crowded",
                Severity::Note,
                &["floaters", "count"],
                format!(
                    "{}: they do not lie side by side under the ceiling, some are below others.",
                    called(self.piece)
                ),
                "Take fewer, or spread them wider.",
            )
        })
    }

    /// A centrepiece that comes out higher than was asked.
    fn low_centrepiece(&self, making: &Making) -> Option<Finding> {
        let asked = self.piece.centrepiece.height_mm;
        (making.made.height_mm > asked + 1).then(|| {
            self.finding(
                "centrepiece_high",
                Severity::Note,
                &["centrepiece", "height_mm"],
                format!(
                    "{} comes out {} mm high: foot and top alone are more than {asked} mm.",
                    called(self.piece),
                    making.made.height_mm
                ),
                "Keep it so, or take smaller balloons.",
            )
        })
    }
}

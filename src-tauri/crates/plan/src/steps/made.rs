//! Steps of pieces that are counted from their measures: in the studio and in the room.

use job::list::live;
use job::piece::{Piece, PieceKind};
use job::set_piece::{ClassicForm, FoilStand, RingPattern};
use job::site::KitKind;

use super::words::title;
use super::{List, step};
use crate::inflate::{nearest, whole};
use crate::made::foils_of;
use crate::pieces::called;
use crate::safety::made::{FILL_HELIUM, FOIL_STEP};
use crate::safety::{BALLAST, FRAME, INFLATOR, LADDER, LARGE, has_large, kilograms};
use crate::types::{Made, Phase, PiecePlan, Step};

/// Work, verb, how, quantity, unit, caution, what it needs.
pub(super) type Line<'a> = (&'a str, &'a str, String, i64, &'a str, &'a str, Vec<String>);

impl List<'_> {
    /// Blow, tie, stack, fill.
    pub(super) fn prepare_made(&mut self, plan: &PiecePlan, made: &Made) {
        let id = plan.piece.as_str();
        let Some(piece) = self.job.pieces.get(id) else {
            return;
        };
        let of_sizing = |by_hand: bool| -> i64 {
            let lines = self.counted.sizing.iter().filter(|l| l.piece == id);
            lines
                .filter(|l| {
                    if by_hand {
                        l.strokes.is_some()
                    } else {
                        l.inflator_ds.is_some()
                    }
                })
                .map(|l| l.count)
                .sum()
        };
        let (blown, pumped) = (of_sizing(false), of_sizing(true));
        let groups: i64 = made.groups.iter().map(|g| g.count).sum();
        let burst = if has_large(self.counted, id) {
            LARGE
        } else {
            INFLATOR
        };
        let sizer = [self.kit(KitKind::Inflator), vec!["Sizer".into()]].concat();
        let (together, things) = groups_in_words(plan.kind, groups);
        let stacked = matches!(plan.kind, PieceKind::Classic | PieceKind::Centrepiece);
        let helium = plan.kind == PieceKind::Bouquet
            || (plan.kind == PieceKind::Foils && piece.foils.stand == FoilStand::Helium);
        let foils = foils_of(made);
        let floating = made.ribbons_mm.len();
        let floating = i64::try_from(floating).unwrap_or(0) * made.count;
        let filled = format!(
            "{} L of helium in all. {}",
            nearest(whole(made.helium_ml) / 1000.0),
            ribbons_in_words(made)
        );
        let works: [Line<'_>; 7] = [
            (
                "inflate",
                "Blow:",
                "By the sizing sheet.".into(),
                blown,
                "balloons",
                burst,
                sizer,
            ),
            (
                "pump",
                "Pump:",
                "By hand pump, strokes by the sizing sheet.".into(),
                pumped,
                "balloons",
                "",
                self.kit(KitKind::Pump),
            ),
            (
                "cluster",
                together,
                format!("By the build cards.{}", for_each(made, groups, things)),
                groups,
                things,
                "",
                Vec::new(),
            ),
            (
                "stack",
                if plan.kind == PieceKind::Classic {
                    "Stack:"
                } else {
                    "Put together:"
                },
                format!("{}{}", self.stacking(piece), for_each(made, groups, things)),
                if stacked { groups } else { 0 },
                things,
                "",
                Vec::new(),
            ),
            (
                "accents",
                "Tie accents:",
                "A quad on each end of half a 260.".into(),
                if plan.kind == PieceKind::Loose {
                    groups
                } else {
                    0
                },
                "accents",
                "",
                Vec::new(),
            ),
            (
                "foils",
                "Fill foils:",
                "With air, until the seams are smooth.".into(),
                if plan.kind == PieceKind::Foils && !helium {
                    foils
                } else {
                    0
                },
                "foils",
                "",
                self.kit(KitKind::Pump),
            ),
            (
                "helium",
                "Fill with helium:",
                filled,
                if helium { floating } else { 0 },
                "balloons",
                FILL_HELIUM,
                Vec::new(),
            ),
        ];
        self.works(id, called(piece), works);
    }

    /// How rings go on their pole, or a centrepiece on its stick.
    fn stacking(&self, piece: &Piece) -> String {
        let classic = &piece.classic;
        if piece.kind != PieceKind::Classic {
            return "Foot on to the stick, top on to its tip.".into();
        }
        if classic.pattern != RingPattern::Bands {
            return "On the pole, each ring half a step on, always the same way round.".into();
        }
        let shades = live(&classic.palette).into_iter().map(|(_, s)| s);
        let names: Vec<&str> = shades
            .filter(|s| s.share_pct > 0)
            .filter_map(|s| self.job.colours.get(&s.colour))
            .map(|c| c.name.trim())
            .filter(|name| !name.is_empty())
            .collect();
        let [first, rest @ ..] = names.as_slice() else {
            return "On the pole, each ring into the gaps of the last.".into();
        };
        let rings = match classic.band_rings.max(1) {
            1 => "one ring".to_string(),
            n => format!("{n} rings"),
        };
        let over = match rest {
            [] => String::new(),
            rest => format!(", then {}, and over again", rest.join(", ")),
        };
        format!("From the foot {rings} {first}{over}, each ring into the gaps of the last.")
    }

    /// Works of the studio on one piece; those with nothing to do are left out.
    pub(super) fn works<'a>(
        &mut self,
        id: &str,
        name: &str,
        works: impl IntoIterator<Item = Line<'a>>,
    ) {
        for (work, verb, how, quantity, unit, caution, needs) in works {
            if quantity > 0 {
                self.made(
                    work,
                    id,
                    Step {
                        quantity,
                        unit: unit.into(),
                        caution: caution.into(),
                        needs,
                        ..step("", Phase::Prepare, title(verb, name, ""), how)
                    },
                );
            }
        }
    }

    /// Stand up and weigh down, fill the grid, let up, place.
    pub(super) fn put_up(&mut self, plan: &PiecePlan, piece: &Piece, made: &Made) {
        let ladder = self.kit(KitKind::Ladder);
        match plan.kind {
            PieceKind::Classic => {
                let two = piece.classic.form == ClassicForm::Arch;
                self.stand(
                    plan,
                    piece,
                    made,
                    "Stand up",
                    if two { FRAME } else { BALLAST },
                );
            }
            PieceKind::Wall => {
                self.stand(plan, piece, made, "Put up the panels of", FRAME);
                let balls: i64 = made.balls.iter().map(|c| c.balls).sum();
                let crossings = balls / piece.wall.each.max(1);
                self.placed(
                    "grid",
                    "Fill",
                    plan,
                    piece,
                    crossings,
                    "crossings",
                    LADDER,
                    "From the top row down.",
                );
            }
            PieceKind::Floaters => {
                let all = made.balls.iter().map(|c| c.balls).sum();
                let how = format!(
                    "{} L of helium in all. {}",
                    nearest(whole(made.helium_ml) / 1000.0),
                    ribbons_in_words(made)
                );
                self.placed(
                    "float",
                    "Fill and let up",
                    plan,
                    piece,
                    all,
                    "balloons",
                    FILL_HELIUM,
                    &how,
                );
            }
            PieceKind::Foils => {
                let how = match piece.foils.stand {
                    FoilStand::Standing => "On their base, weighed down.".into(),
                    FoilStand::Hanging | FoilStand::Newer => "Hung from line, level.".into(),
                    FoilStand::InGarland => into_garland(piece),
                    FoilStand::Helium => "Each on its own weight.".to_string(),
                };
                self.placed(
                    "place",
                    "Place",
                    plan,
                    piece,
                    foils_of(made),
                    "foils",
                    FOIL_STEP,
                    &how,
                );
                let up = matches!(piece.foils.stand, FoilStand::Hanging | FoilStand::InGarland);
                if let Some(step) = self.steps.last_mut().filter(|_| up) {
                    step.needs.splice(0..0, ladder);
                }
            }
            PieceKind::Bouquet => {
                let how = format!("Each on a weight of {} g.", made.weight_g);
                let how = format!("{how} {}", spaced(piece, made.count));
                self.placed(
                    "place",
                    "Place",
                    plan,
                    piece,
                    made.count,
                    "bouquets",
                    "",
                    how.trim_end(),
                );
            }
            PieceKind::Centrepiece => {
                self.placed(
                    "place",
                    "Place",
                    plan,
                    piece,
                    made.count,
                    "centrepieces",
                    "",
                    &stood(piece, made.count),
                );
            }
            PieceKind::Loose => {
                self.placed(
                    "place",
                    "Place",
                    plan,
                    piece,
                    made.count,
                    "pieces",
                    "",
                    &stood(piece, made.count),
                );
            }
            PieceKind::Garland | PieceKind::Chain | PieceKind::Frame | PieceKind::Newer => {}
        }
    }

    fn stand(&mut self, plan: &PiecePlan, piece: &Piece, made: &Made, verb: &str, caution: &str) {
        self.placed(
            "stand",
            verb,
            plan,
            piece,
            made.count,
            "pieces",
            caution,
            &stood(piece, made.count),
        );
        if made.weight_g > 0 {
            let id = &plan.piece;
            self.push(Step {
                piece: id.clone(),
                caution: BALLAST.into(),
                needs: self.kit(KitKind::Ballast),
                ..step(
                    format!("ballast.{id}"),
                    Phase::Install,
                    title("Ballast", called(piece), ""),
                    format!(
                        "{}.",
                        in_all_and_each(made.weight_g.saturating_mul(made.count), made.count)
                    ),
                )
            });
        }
    }

    #[expect(clippy::too_many_arguments, reason = "one line for each step above")]
    fn placed(
        &mut self,
        work: &str,
        verb: &str,
        plan: &PiecePlan,
        piece: &Piece,
        quantity: i64,
        unit: &str,
        caution: &str,
        how: &str,
    ) {
        let id = &plan.piece;
        let step = Step {
            piece: id.clone(),
            quantity,
            unit: unit.into(),
            caution: caution.into(),
            needs: self.codes(id),
            ..step(
                format!("{work}.{id}"),
                Phase::Install,
                title(verb, called(piece), ""),
                how,
            )
        };
        self.timed(&step.id.clone(), step);
    }
}

/// ` 10 rings for each of 6.`, where several are made alike.
fn for_each(made: &Made, groups: i64, things: &str) -> String {
    if made.count < 2 || groups <= made.count || groups % made.count != 0 {
        return String::new();
    }
    format!(
        " {} {things} for each of {}.",
        groups / made.count,
        made.count
    )
}

/// Where they stand, and how far apart.
pub(super) fn stood(piece: &Piece, count: i64) -> String {
    let spot = piece.spot.trim();
    match (spot.is_empty(), spaced(piece, count)) {
        (_, apart) if apart.is_empty() => spot.into(),
        (true, apart) => apart,
        (false, apart) => format!("{}. {apart}", spot.trim_end_matches('.')),
    }
}

/// How far apart several alike stand, where it was said.
fn spaced(piece: &Piece, count: i64) -> String {
    if count < 2 || piece.apart_mm <= 0 {
        return String::new();
    }
    format!(
        "{} mm from one to the next, middle to middle.",
        piece.apart_mm
    )
}

/// `48 kg in all, 8 kg on each of 6`
pub(super) fn in_all_and_each(grams: i64, pieces: i64) -> String {
    let all = kilograms(grams);
    if pieces < 2 {
        return format!("{all} kg in all");
    }
    format!(
        "{all} kg in all, {} kg on each of {pieces}",
        kilograms(grams / pieces)
    )
}

/// Where foils go in their garland: before it, so that it stays as full behind them as elsewhere.
fn into_garland(piece: &Piece) -> String {
    let tied = "before the balloons, tied to the line at head and foot";
    match piece.foils.along_mm {
        ..=0 => format!("Into the garland, {tied}."),
        mm => format!("Into the garland, their middle {mm} mm from its first tip, {tied}."),
    }
}

/// What groups are called where they are twisted.
fn groups_in_words(kind: PieceKind, groups: i64) -> (&'static str, &'static str) {
    match (kind, groups) {
        (PieceKind::Classic, _) => ("Twist rings:", "rings"),
        (PieceKind::Centrepiece, _) => ("Twist feet:", "feet"),
        (PieceKind::Loose, _) => ("Twist quads for", "accents"),
        _ => ("Twist quads:", "quads"),
    }
}

/// `Ribbons of 1510 to 1660 mm.`
fn ribbons_in_words(made: &Made) -> String {
    match (made.ribbons_mm.last(), made.ribbons_mm.first()) {
        (Some(short), Some(long)) if short != long => format!("Ribbons of {short} to {long} mm."),
        (Some(one), _) => format!("Ribbons of {one} mm."),
        _ => "Without ribbons.".into(),
    }
}

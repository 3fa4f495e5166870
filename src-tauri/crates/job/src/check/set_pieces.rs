//! Pieces that are counted from their measures: ranges, diameters, shares, heights.

use super::numbers::{Number, number, out_of_range};
use super::pieces::{At, INCH_DMM, LONG_MM};
use crate::edit::Part;
use crate::finding::Finding;
use crate::list::Ids;
use crate::piece::{PieceKind, Shade};
use crate::set_piece::{
    Bouquet, Centrepiece, Classic, ClassicForm, Floaters, FoilStand, Foils, Loose, Wall,
    WallPattern,
};

/// What is wrong with a piece of one of these kinds; nothing for the others.
pub(super) fn findings(on: &At<'_>) -> Vec<Finding> {
    let piece = on.piece;
    match piece.kind {
        PieceKind::Classic => on.classic(&piece.classic),
        PieceKind::Wall => on.wall(&piece.wall),
        PieceKind::Bouquet => on.bouquet(&piece.bouquet),
        PieceKind::Foils => on.ranges("foils", &foils_numbers(&piece.foils)),
        PieceKind::Floaters => on.floaters(&piece.floaters),
        PieceKind::Centrepiece => on.centrepiece(&piece.centrepiece),
        PieceKind::Loose => on.loose(&piece.loose),
        PieceKind::Garland | PieceKind::Chain | PieceKind::Frame | PieceKind::Newer => Vec::new(),
    }
}

impl At<'_> {
    fn ranges(&self, section: &str, rows: &[Number]) -> Vec<Finding> {
        out_of_range(Part::Job, &self.path(&[section]), self.name(), rows)
    }

    /// Shares of colours that do not make a whole.
    fn colours(&self, section: &str, palette: &Ids<Shade>) -> Vec<Finding> {
        let mut all = self.shades(section, palette);
        all.extend(self.shares(section, "palette", palette, "colours", |s| s.share_pct));
        all
    }

    /// A palette whose balloons are all of one size: how far they are blown, and their shares.
    fn of_one_size(
        &self,
        section: &str,
        size_in: i64,
        blown_dmm: i64,
        palette: &Ids<Shade>,
    ) -> Vec<Finding> {
        let large = self.blown_too_large(&[section, "blown_dmm"], size_in, blown_dmm);
        large
            .into_iter()
            .chain(self.colours(section, palette))
            .collect()
    }

    fn classic(&self, classic: &Classic) -> Vec<Finding> {
        let usual = Classic::default();
        let arch = classic.form == ClassicForm::Arch;
        let mut rows = vec![
            count(classic.count, usual.count, 1000),
            size("size_in", classic.size_in, usual.size_in),
            blown("blown_dmm", classic.blown_dmm, usual.blown_dmm),
            number(
                "band_rings",
                "The rings to a band",
                "",
                classic.band_rings,
                usual.band_rings,
                (1, 1000),
            ),
            grams("ballast_g", "The ballast", classic.ballast_g),
        ];
        if arch {
            rows.push(mm("span_mm", "The span", classic.span_mm, usual.span_mm));
            rows.push(mm("rise_mm", "The height", classic.rise_mm, usual.rise_mm));
        } else {
            rows.push(mm(
                "height_mm",
                "The height",
                classic.height_mm,
                usual.height_mm,
            ));
            rows.push(number(
                "topper_in",
                "The size on top",
                " in",
                classic.topper_in,
                0,
                (0, 100),
            ));
        }
        let mut all = self.ranges("classic", &rows);
        all.extend(self.blown_too_large(
            &["classic", "blown_dmm"],
            classic.size_in,
            classic.blown_dmm,
        ));
        if !arch && classic.topper_in > 0 {
            let path = ["classic", "topper_dmm"];
            all.extend(self.blown_too_large(&path, classic.topper_in, classic.topper_dmm));
        }
        // colours are taken in turn: their shares are not asked
        all.extend(self.shades("classic", &classic.palette));
        let (high, field) = if arch {
            (classic.rise_mm, "rise_mm")
        } else {
            (classic.height_mm, "height_mm")
        };
        all.extend(self.too_high(high, &["classic", field]));
        all
    }

    fn wall(&self, wall: &Wall) -> Vec<Finding> {
        let usual = Wall::default();
        let mut all = self.ranges(
            "wall",
            &[
                mm("width_mm", "The width", wall.width_mm, usual.width_mm),
                mm("height_mm", "The height", wall.height_mm, usual.height_mm),
                number(
                    "pitch_mm",
                    "The way from crossing to crossing",
                    " mm",
                    wall.pitch_mm,
                    0,
                    (0, 5000),
                ),
                size("size_in", wall.size_in, usual.size_in),
                blown("blown_dmm", wall.blown_dmm, usual.blown_dmm),
                grams("ballast_g", "The ballast", wall.ballast_g),
            ],
        );
        all.extend(self.blown_too_large(&["wall", "blown_dmm"], wall.size_in, wall.blown_dmm));
        all.extend(match wall.pattern {
            WallPattern::Blended => self.colours("wall", &wall.palette),
            _ => self.shades("wall", &wall.palette),
        });
        all.extend(self.too_high(wall.height_mm, &["wall", "height_mm"]));
        all
    }

    fn bouquet(&self, bouquet: &Bouquet) -> Vec<Finding> {
        let usual = Bouquet::default();
        let mut rows = vec![
            count(bouquet.count, usual.count, 10_000),
            number(
                "rounds",
                "The number of rounds",
                "",
                bouquet.rounds,
                usual.rounds,
                (0, 1000),
            ),
            number(
                "foils",
                "The number of foils",
                "",
                bouquet.foils,
                usual.foils,
                (0, 1000),
            ),
            size("size_in", bouquet.size_in, usual.size_in),
            blown("blown_dmm", bouquet.blown_dmm, usual.blown_dmm),
            mm(
                "top_mm",
                "The height of the highest balloon",
                bouquet.top_mm,
                usual.top_mm,
            ),
            number(
                "step_mm",
                "The step of the ribbons",
                " mm",
                bouquet.step_mm,
                usual.step_mm,
                (0, 5000),
            ),
            grams("weight_g", "The weight", bouquet.weight_g),
        ];
        if bouquet.foils > 0 {
            rows.push(size("foil_in", bouquet.foil_in, usual.foil_in));
        }
        let mut all = self.ranges("bouquet", &rows);
        if bouquet.rounds > 0 {
            let Bouquet {
                size_in, blown_dmm, ..
            } = *bouquet;
            all.extend(self.of_one_size("bouquet", size_in, blown_dmm, &bouquet.palette));
        }
        all.extend(self.too_high(bouquet.top_mm, &["bouquet", "top_mm"]));
        all
    }

    fn floaters(&self, floaters: &Floaters) -> Vec<Finding> {
        let usual = Floaters::default();
        let mut all = self.ranges(
            "floaters",
            &[
                count(floaters.count, usual.count, 20_000),
                size("size_in", floaters.size_in, usual.size_in),
                blown("blown_dmm", floaters.blown_dmm, usual.blown_dmm),
                number(
                    "ribbon_mm",
                    "The ribbon",
                    " mm",
                    floaters.ribbon_mm,
                    usual.ribbon_mm,
                    (0, 50_000),
                ),
                mm("width_mm", "The width", floaters.width_mm, usual.width_mm),
                mm("depth_mm", "The depth", floaters.depth_mm, usual.depth_mm),
            ],
        );
        let Floaters {
            size_in, blown_dmm, ..
        } = *floaters;
        all.extend(self.of_one_size("floaters", size_in, blown_dmm, &floaters.palette));
        all
    }

    fn centrepiece(&self, table: &Centrepiece) -> Vec<Finding> {
        let usual = Centrepiece::default();
        let mut all = self.ranges(
            "centrepiece",
            &[
                count(table.count, usual.count, 10_000),
                number(
                    "height_mm",
                    "The height",
                    " mm",
                    table.height_mm,
                    usual.height_mm,
                    (0, 10_000),
                ),
                size("foot_in", table.foot_in, usual.foot_in),
                blown("foot_dmm", table.foot_dmm, usual.foot_dmm),
                number(
                    "top_in",
                    "The size on top",
                    " in",
                    table.top_in,
                    usual.top_in,
                    (0, 100),
                ),
            ],
        );
        all.extend(self.blown_too_large(
            &["centrepiece", "foot_dmm"],
            table.foot_in,
            table.foot_dmm,
        ));
        if table.top_in > 0 {
            all.extend(self.blown_too_large(
                &["centrepiece", "top_dmm"],
                table.top_in,
                table.top_dmm,
            ));
        }
        all.extend(self.colours("centrepiece", &table.palette));
        all
    }

    fn loose(&self, loose: &Loose) -> Vec<Finding> {
        let usual = Loose::default();
        let mut all = self.ranges(
            "loose",
            &[
                count(loose.count, usual.count, 10_000),
                size("size_in", loose.size_in, usual.size_in),
                blown("blown_dmm", loose.blown_dmm, usual.blown_dmm),
            ],
        );
        let Loose {
            size_in, blown_dmm, ..
        } = *loose;
        all.extend(self.of_one_size("loose", size_in, blown_dmm, &loose.palette));
        all
    }
}

fn foils_numbers(foils: &Foils) -> Vec<Number> {
    let usual = Foils::default();
    let mut rows = vec![
        number(
            "height_mm",
            "The height",
            " mm",
            foils.height_mm,
            usual.height_mm,
            (0, 10_000),
        ),
        number(
            "gap_mm",
            "The gap",
            " mm",
            foils.gap_mm,
            usual.gap_mm,
            (0, 5000),
        ),
    ];
    if foils.stand == FoilStand::InGarland {
        rows.push(mm(
            "along_mm",
            "The place along the garland",
            foils.along_mm,
            0,
        ));
    }
    rows
}

/// How many alike. None is said by the plan.
fn count(value: i64, usual: i64, most: i64) -> Number {
    number("count", "The number", "", value, usual, (0, most))
}

fn size(field: &'static str, value: i64, usual: i64) -> Number {
    number(field, "The nominal size", " in", value, usual, (1, 100))
}

/// A diameter. Nothing at all is said by the plan.
fn blown(field: &'static str, value: i64, usual: i64) -> Number {
    let what = "The diameter in tenths of a millimetre";
    number(field, what, "", value, usual, (0, 100 * INCH_DMM))
}

fn mm(field: &'static str, what: &'static str, value: i64, usual: i64) -> Number {
    number(field, what, " mm", value, usual, (0, LONG_MM))
}

fn grams(field: &'static str, what: &'static str, value: i64) -> Number {
    number(field, what, " g", value, 0, (0, 10_000_000))
}

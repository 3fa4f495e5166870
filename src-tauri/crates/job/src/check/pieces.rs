//! Pieces: shares, diameters, measures, what they hang on.

use super::numbers::{called, number, out_of_range};
use crate::edit::{Edit, Part};
use crate::finding::{Finding, Room, Severity};
use crate::job_doc::Job;
use crate::list::{Ids, Listed, live};
use crate::piece::{Chain, Frame, Garland, LinkForm, Piece, PieceKind, Shade, Shape, Size};

/// Tenths of a millimetre in an inch.
pub(super) const INCH_DMM: i64 = 254;
/// Measures up to a kilometre; more is counted nowhere.
pub(super) const LONG_MM: i64 = 1_000_000;

pub(super) fn findings(job: &Job) -> Vec<Finding> {
    live(&job.pieces)
        .into_iter()
        .flat_map(|(id, piece)| {
            let on = At { job, id, piece };
            match piece.kind {
                PieceKind::Garland => on.garland(),
                PieceKind::Chain => on.chain(),
                PieceKind::Frame => on.frame(),
                PieceKind::Classic
                | PieceKind::Wall
                | PieceKind::Bouquet
                | PieceKind::Foils
                | PieceKind::Floaters
                | PieceKind::Centrepiece
                | PieceKind::Loose => super::set_pieces::findings(&on),
                // what a newer version wrote is kept and not judged
                PieceKind::Newer => Vec::new(),
            }
        })
        .collect()
}

/// A piece with its place in the job.
pub(super) struct At<'a> {
    pub(super) job: &'a Job,
    pub(super) id: &'a str,
    pub(super) piece: &'a Piece,
}

impl At<'_> {
    pub(super) fn name(&self) -> &str {
        called(&self.piece.name, "A piece")
    }

    pub(super) fn path<'a>(&'a self, rest: &[&'a str]) -> Vec<&'a str> {
        [&["pieces", self.id], rest].concat()
    }

    pub(super) fn finding(
        &self,
        code: &str,
        severity: Severity,
        field: &[&str],
        message: String,
        action: &str,
    ) -> Finding {
        Finding::new(
            code,
            severity,
            Room::Design,
            &self.path(field),
            message,
            action,
        )
    }

    fn garland(&self) -> Vec<Finding> {
        let garland = &self.piece.garland;
        let mut all = out_of_range(
            Part::Job,
            &self.path(&["garland"]),
            self.name(),
            &garland_numbers(garland),
        );
        for (id, size) in live(&garland.mix) {
            all.extend(self.size(id, size));
        }
        all.extend(self.shades("garland", &garland.palette));
        all.extend(self.cluster_shares());
        all.extend(self.shares("garland", "mix", &garland.mix, "sizes", |s| s.share_pct));
        all.extend(
            self.shares("garland", "palette", &garland.palette, "colours", |s| {
                s.share_pct
            }),
        );
        all.extend(super::hand::findings(self));
        all.extend(self.frame_gone());
        all.extend(
            self.hangs_beside()
                .or_else(|| self.end_free())
                .or_else(|| self.no_frame()),
        );
        all.extend(self.high_up());
        if matches!(garland.shape, Shape::Arch | Shape::HalfArch) {
            all.extend(self.too_high(garland.rise_mm, &["garland", "rise_mm"]));
        }
        all
    }

    fn chain(&self) -> Vec<Finding> {
        let chain = &self.piece.chain;
        let mut all = out_of_range(
            Part::Job,
            &self.path(&["chain"]),
            self.name(),
            &chain_numbers(chain),
        );
        // a ring link of foil is blown until it is firm
        if chain.form != LinkForm::Ring {
            let path = ["chain", "blown_dmm"];
            all.extend(self.blown_too_large(&path, chain.size_in, chain.blown_dmm));
        }
        all.extend(self.shades("chain", &chain.palette));
        all.extend(
            self.shares("chain", "palette", &chain.palette, "colours", |s| {
                s.share_pct
            }),
        );
        all
    }

    fn frame(&self) -> Vec<Finding> {
        let frame = &self.piece.frame;
        let mut all = out_of_range(
            Part::Job,
            &self.path(&["frame"]),
            self.name(),
            &frame_numbers(frame),
        );
        all.extend(self.too_high(frame.height_mm, &["frame", "height_mm"]));
        all
    }

    fn size(&self, id: &str, size: &Size) -> Vec<Finding> {
        let record = ["garland", "mix", id];
        let usual = Size::default();
        let rows = [
            number(
                "size_in",
                "The nominal size",
                " in",
                size.size_in,
                usual.size_in,
                (1, 100),
            ),
            number("share_pct", "The share", " %", size.share_pct, 0, (0, 100)),
        ];
        let mut all = out_of_range(Part::Job, &self.path(&record), self.name(), &rows);
        all.extend(self.blown_to_nothing(&record, size));
        all.extend(self.sizes_reversed(&record, size));
        let largest = if size.to_dmm >= size.from_dmm {
            "to_dmm"
        } else {
            "from_dmm"
        };
        all.extend(self.blown_too_large(
            &[&record[..], &[largest]].concat(),
            size.size_in,
            size.to_dmm.max(size.from_dmm),
        ));
        all
    }

    fn blown_to_nothing(&self, record: &[&str], size: &Size) -> Option<Finding> {
        let field = if size.from_dmm <= 0 {
            "from_dmm"
        } else if size.to_dmm <= 0 {
            "to_dmm"
        } else {
            return None;
        };
        let path = [record, &[field]].concat();
        Some(self.finding(
            "blown_to_nothing",
            Severity::Stop,
            &path,
            format!(
                "{}: balloons of {} in are blown to nothing.",
                self.name(),
                size.size_in
            ),
            "Enter the diameter that they are blown to.",
        ))
    }

    fn sizes_reversed(&self, record: &[&str], size: &Size) -> Option<Finding> {
        if size.from_dmm <= size.to_dmm || size.to_dmm <= 0 {
            return None;
        }
        let path = |field| self.path(&[record, &[field]].concat());
        let found = self.finding(
            "sizes_reversed",
            Severity::Care,
            &[record, &["from_dmm"]].concat(),
            format!(
                "{}: balloons of {} in are blown from the larger to the smaller diameter.",
                self.name(),
                size.size_in
            ),
            "Enter the smaller one first.",
        );
        Some(found.fix(
            "Swap the two",
            vec![
                Edit::set(&path("from_dmm"), size.to_dmm),
                Edit::set(&path("to_dmm"), size.from_dmm),
            ],
        ))
    }

    /// Balloons are blown to their nominal size at most; a stretched one bursts.
    pub(super) fn blown_too_large(
        &self,
        field: &[&str],
        size_in: i64,
        blown_dmm: i64,
    ) -> Option<Finding> {
        let nominal = size_in.checked_mul(INCH_DMM).filter(|n| *n > 0)?;
        (blown_dmm > nominal).then(|| {
            self.finding(
                "blown_too_large",
                Severity::Stop,
                field,
                format!(
                    "{}: a balloon of {size_in} in is blown to {} mm, more than its {} mm. It bursts.",
                    self.name(),
                    blown_dmm / 10,
                    nominal / 10
                ),
                "Blow it smaller, or take a larger balloon.",
            )
            .fix(
                format!("Blow to {size_in} in"),
                vec![Edit::set(&self.path(field), nominal)],
            )
        })
    }

    pub(super) fn shades(&self, kind: &str, palette: &Ids<Shade>) -> Vec<Finding> {
        let mut all = Vec::new();
        for (id, shade) in live(palette) {
            let record = [kind, "palette", id];
            let rows = [number(
                "share_pct",
                "The share",
                " %",
                shade.share_pct,
                0,
                (0, 100),
            )];
            all.extend(out_of_range(
                Part::Job,
                &self.path(&record),
                self.name(),
                &rows,
            ));
        }
        all
    }

    /// Shares that do not make a whole are used in proportion; the figures may not be what was meant.
    pub(super) fn shares<T: Listed>(
        &self,
        kind: &str,
        field: &str,
        list: &Ids<T>,
        what: &str,
        share: impl Fn(&T) -> i64,
    ) -> Option<Finding> {
        let parts: Vec<(&str, i64)> = live(list)
            .into_iter()
            .map(|(id, item)| (id, share(item)))
            .collect();
        let sum = whole_sum(parts.iter().map(|p| p.1))?;
        let found = self.finding(
            "shares_not_100",
            Severity::Care,
            &[kind, field],
            format!("{}: the shares of its {what} make {sum} %.", self.name()),
            "Bring them to 100 %. Until then they are used in proportion.",
        );
        let fair = hundred(&parts.iter().map(|p| p.1).collect::<Vec<_>>());
        let edits = parts
            .iter()
            .zip(fair)
            .filter(|((_, old), new)| old != new)
            .map(|((id, _), new)| Edit::set(&self.path(&[kind, field, id, "share_pct"]), new))
            .collect();
        Some(found.fix("Bring to 100 %", edits))
    }

    fn cluster_shares(&self) -> Option<Finding> {
        let garland = &self.piece.garland;
        let fields = ["quads_pct", "sixes_pct", "eights_pct"];
        let parts = [garland.quads_pct, garland.sixes_pct, garland.eights_pct];
        let sum = whole_sum(parts.into_iter())?;
        let found = self.finding(
            "shares_not_100",
            Severity::Care,
            &["garland", "quads_pct"],
            format!(
                "{}: the shares of quads, sixes and eights make {sum} %.",
                self.name()
            ),
            "Bring them to 100 %. Until then they are used in proportion.",
        );
        let edits = fields
            .iter()
            .zip(parts)
            .zip(hundred(&parts))
            .filter(|((_, old), new)| old != new)
            .map(|((field, _), new)| Edit::set(&self.path(&["garland", field]), new))
            .collect();
        Some(found.fix("Bring to 100 %", edits))
    }

    pub(super) fn too_high(&self, height_mm: i64, field: &[&str]) -> Option<Finding> {
        let ceiling = self.job.venue.ceiling_mm;
        (ceiling > 0 && height_mm > ceiling).then(|| {
            self.finding(
                "too_high",
                Severity::Stop,
                field,
                format!(
                    "{} is {height_mm} mm high, the ceiling is at {ceiling} mm.",
                    self.name()
                ),
                "Make it lower, or correct the height of the ceiling.",
            )
        })
    }
}

/// The sum, if it is neither 0 (then there is nothing to share, which the plan says) nor 100, and no part is out of
/// its range (which is said by itself).
fn whole_sum(parts: impl Iterator<Item = i64> + Clone) -> Option<i64> {
    if parts.clone().any(|p| !(0..=100).contains(&p)) {
        return None;
    }
    let sum = parts.fold(0, i64::saturating_add);
    (sum != 0 && sum != 100).then_some(sum)
}

/// Shares of 100 in proportion, by largest remainder (Hamilton); of equal remainders the earlier is first.
fn hundred(parts: &[i64]) -> Vec<i64> {
    let sum: i64 = parts.iter().sum();
    if sum <= 0 {
        return parts.to_vec();
    }
    let mut shares: Vec<i64> = parts.iter().map(|p| p * 100 / sum).collect();
    let mut by_remainder: Vec<usize> = (0..parts.len()).collect();
    by_remainder.sort_by_key(|i| -(parts[*i] * 100 % sum));
    let left = 100 - shares.iter().sum::<i64>();
    for i in by_remainder
        .into_iter()
        .take(usize::try_from(left).unwrap_or(0))
    {
        shares[i] += 1;
    }
    shares
}

fn garland_numbers(garland: &Garland) -> Vec<super::numbers::Number> {
    let usual = Garland::default();
    let share = |field, what, value| number(field, what, " %", value, 0, (0, 100));
    let mut rows = vec![
        share("quads_pct", "The share of quads", garland.quads_pct),
        share("sixes_pct", "The share of sixes", garland.sixes_pct),
        share("eights_pct", "The share of eights", garland.eights_pct),
        number(
            "extras_pct",
            "The share of clusters kept back",
            " %",
            garland.extras_pct,
            usual.extras_pct,
            (0, 100),
        ),
    ];
    // of a path that is not used nothing is asked
    match garland.shape {
        Shape::Straight => rows.push(number(
            "length_mm",
            "The length",
            " mm",
            garland.length_mm,
            usual.length_mm,
            (0, LONG_MM),
        )),
        Shape::Arch | Shape::HalfArch | Shape::Swag | Shape::Stair | Shape::Hoop => {
            rows.push(number(
                "span_mm",
                "The span",
                " mm",
                garland.span_mm,
                usual.span_mm,
                (0, LONG_MM),
            ));
            rows.push(number(
                "rise_mm",
                "The height or sag",
                " mm",
                garland.rise_mm,
                usual.rise_mm,
                (0, LONG_MM),
            ));
        }
        Shape::Drawn | Shape::Newer => {}
    }
    rows
}

fn chain_numbers(chain: &Chain) -> [super::numbers::Number; 7] {
    let usual = Chain::default();
    [
        number(
            "count",
            "The number of chains",
            "",
            chain.count,
            usual.count,
            (0, 1000),
        ),
        number(
            "span_mm",
            "The span",
            " mm",
            chain.span_mm,
            usual.span_mm,
            (0, LONG_MM),
        ),
        number(
            "sag_mm",
            "The sag",
            " mm",
            chain.sag_mm,
            usual.sag_mm,
            (0, LONG_MM),
        ),
        number(
            "lift_mm",
            "The lift of the right end",
            " mm",
            chain.lift_mm,
            usual.lift_mm,
            (-LONG_MM, LONG_MM),
        ),
        number(
            "size_in",
            "The nominal size",
            " in",
            chain.size_in,
            usual.size_in,
            (1, 100),
        ),
        number(
            "blown_dmm",
            "The diameter in tenths of a millimetre",
            "",
            chain.blown_dmm,
            usual.blown_dmm,
            (1, 100 * INCH_DMM),
        ),
        number(
            "pitch_mm",
            "The way from link to link",
            " mm",
            chain.pitch_mm,
            usual.pitch_mm,
            (1, 2500),
        ),
    ]
}

fn frame_numbers(frame: &Frame) -> [super::numbers::Number; 9] {
    let usual = Frame::default();
    let side = |field, what, value, usual| number(field, what, " mm", value, usual, (0, 50_000));
    let mass = |field, what, value, usual| number(field, what, " g", value, usual, (0, 10_000_000));
    [
        number(
            "count",
            "The number of frames",
            "",
            frame.count,
            usual.count,
            (0, 1000),
        ),
        side("width_mm", "The width", frame.width_mm, usual.width_mm),
        side("height_mm", "The height", frame.height_mm, usual.height_mm),
        side(
            "base_mm",
            "The depth of the base",
            frame.base_mm,
            usual.base_mm,
        ),
        side(
            "packed_length_mm",
            "The length as packed",
            frame.packed_length_mm,
            usual.packed_length_mm,
        ),
        side(
            "packed_width_mm",
            "The width as packed",
            frame.packed_width_mm,
            usual.packed_width_mm,
        ),
        side(
            "packed_height_mm",
            "The height as packed",
            frame.packed_height_mm,
            usual.packed_height_mm,
        ),
        mass("mass_g", "The mass", frame.mass_g, usual.mass_g),
        mass("ballast_g", "The ballast", frame.ballast_g, usual.ballast_g),
    ]
}

//! What a count has to say: pieces that cannot be counted and why, colours that come out odd and what was done, kinds of cluster that
//! nobody asked for.

use job::list::live;
use job::piece::{Arrangement, Odd, Piece, PieceKind, Shape};
use job::{Edit, Finding, Job, Room, Severity};
use serde_json::Value;
use solve::packing::PathFault;

use crate::chain::NoChain;
use crate::garland::{NoBuild, OddOne, Recipe, Refused};
use crate::inflate::{nearest, whole};
use crate::pieces::called;

/// Balloons that stand on a floor press into it by no more than this, dmm. Common practice, no source.
const PRESSED_DMM: i64 = 500;
/// A line is told to be too long for its path once it is longer by one part in so many. Common practice, no source.
const LONG_BY_HAND: i64 = 12;
/// A spiral that comes round within fewer clusters than this shows no bands; within as many as the second it does, with all sizes mixed.
/// By looking at twenty of two to five colours, in quads, sixes and eights. Common practice, no source.
const BAND_CLUSTERS: i64 = 6;
const BAND_SHOWN: i64 = 10;

/// A piece with what is needed to speak of it.
#[derive(Debug, Clone, Copy)]
pub struct Named<'a> {
    /// The job it is of.
    pub job: &'a Job,
    /// Its id.
    pub id: &'a str,
    /// The piece.
    pub piece: &'a Piece,
}

impl Named<'_> {
    pub(crate) fn finding(
        &self,
        code: &str,
        severity: Severity,
        field: &[&str],
        message: String,
        action: &str,
    ) -> Finding {
        let path = [&["pieces", self.id], field].concat();
        Finding::new(code, severity, Room::Design, &path, message, action)
    }

    /// Several alike that were set nearer to each other than they are wide.
    #[must_use]
    pub fn in_each_other(&self, count: i64, width_mm: i64) -> Option<Finding> {
        let apart = self.piece.apart_mm;
        (count > 1 && apart > 0 && apart < width_mm).then(|| {
            self.finding(
                "in_each_other",
                Severity::Care,
                &["apart_mm"],
                format!(
                    "{}: each is {width_mm} mm wide, and from middle to middle there are {apart} mm.",
                    called(self.piece)
                ),
                "Set them further apart.",
            )
            .fix(
                "Set them side by side",
                vec![Edit::set(&["pieces", self.id, "apart_mm"], 0)],
            )
        })
    }

    /// Why a garland is counted by the instant rule and not packed.
    #[must_use]
    pub fn not_packed(&self, why: Refused) -> Finding {
        let name = called(self.piece);
        let cm = |m: f64| nearest(m * 100.0);
        let (code, severity, message, action) = match why {
            Refused::Path(PathFault::TooTight { at }) => (
                "path_too_tight",
                Severity::Care,
                format!(
                    "{name} turns tighter than balloons can follow, {} cm from its first tip. It is counted by rule of thumb.",
                    cm(at)
                ),
                "Draw the turn wider, or use smaller balloons.",
            ),
            Refused::Path(PathFault::MeetsItself { at, and }) => (
                "path_meets_itself",
                Severity::Care,
                format!(
                    "{name} comes too near to itself: what lies {} cm from its first tip meets what lies {} cm from it. It is counted by rule of thumb.",
                    cm(at),
                    cm(and)
                ),
                "Draw the two parts further apart, or build two garlands.",
            ),
            Refused::TooMany => (
                "not_packed",
                Severity::Note,
                format!(
                    "{name} has too many balloons to place each one. It is counted by rule of thumb."
                ),
                "Cut it into several garlands for a closer count.",
            ),
            Refused::Path(PathFault::NoPath) | Refused::NoBuild(_) => (
                "no_path",
                Severity::Care,
                format!("{name} has no path."),
                "Give it a length.",
            ),
        };
        self.finding(code, severity, &["garland", "shape"], message, action)
    }

    /// Why a garland has no plan.
    #[must_use]
    pub fn no_build(&self, why: NoBuild) -> Finding {
        let name = called(self.piece);
        let measure = match self.piece.garland.shape {
            Shape::Straight | Shape::Drawn | Shape::Newer => "length_mm",
            Shape::Arch | Shape::HalfArch | Shape::Swag | Shape::Stair | Shape::Hoop => "span_mm",
        };
        let (code, field, message, action) = match why {
            NoBuild::NoMix => (
                "no_mix",
                "mix",
                format!("{name} has no size of balloon with a share."),
                "Add a size to the mix.",
            ),
            NoBuild::NoPalette => (
                "no_palette",
                "palette",
                format!("{name} has no colour with a share."),
                "Add a colour to the palette.",
            ),
            NoBuild::NoClusters => (
                "no_clusters",
                "quads_pct",
                format!("{name} has no share of quads, sixes or eights."),
                "Give one of them a share.",
            ),
            NoBuild::NoPath => (
                "no_path",
                measure,
                format!("The path of {name} has no length."),
                "Enter how long, wide or high it is.",
            ),
            NoBuild::TooLarge => (
                "too_large",
                measure,
                format!(
                    "{name} is larger than anything that is built: over 1 km, or over 200,000 balloons."
                ),
                "Check its measures, the sizes of the mix and the share that is kept back.",
            ),
            NoBuild::LonePair => (
                "lone_pair",
                "mix",
                format!("{name} has less than two pairs of balloons."),
                "Make it longer or add balloons.",
            ),
        };
        self.finding(code, Severity::Stop, &["garland", field], message, action)
    }

    /// Why a chain has no plan.
    #[must_use]
    pub fn no_chain(&self, why: NoChain) -> Finding {
        let name = called(self.piece);
        let (code, field, message, action) = match why {
            NoChain::NoPalette => (
                "no_palette",
                "palette",
                format!("{name} has no colour with a share."),
                "Add a colour to the palette.",
            ),
            NoChain::NoPath => (
                "no_path",
                "span_mm",
                format!("{name} has no span, no pitch or no chain."),
                "Enter span, pitch and number of chains.",
            ),
            NoChain::TooLarge => (
                "too_large",
                "span_mm",
                format!(
                    "{name} is larger than anything that is built: over 100,000 links in a chain, or over 200,000 in all."
                ),
                "Check its measures and the number of chains.",
            ),
        };
        self.finding(code, Severity::Stop, &["chain", field], message, action)
    }

    /// The piece is of a kind that this version does not know.
    #[must_use]
    pub fn newer_kind(&self) -> Finding {
        self.newer(
            "newer_piece",
            &["kind"],
            "is a kind of piece that a newer version made. It is kept, but not counted",
        )
    }

    /// The garland's path is of a shape that this version does not know.
    #[must_use]
    pub fn newer_shape(&self) -> Finding {
        self.newer(
            "newer_shape",
            &["garland", "shape"],
            "has a path that a newer version drew. It is kept, but not counted",
        )
    }

    /// Choices for a garland that this version does not know, and what is done instead.
    #[must_use]
    pub fn newer_choices(&self) -> Vec<Finding> {
        let garland = &self.piece.garland;
        let arrangement = (garland.arrangement == Arrangement::Newer).then(|| {
            self.newer(
                "newer_arrangement",
                &["garland", "arrangement"],
                "has its colours arranged in a way that a newer version chose. They are counted as blocks",
            )
        });
        let odd = (garland.odd == Odd::Newer).then(|| {
            self.newer(
                "newer_odd",
                &["garland", "odd"],
                "treats odd colours in a way that a newer version chose. Here one balloon more is added",
            )
        });
        arrangement.into_iter().chain(odd).collect()
    }

    fn newer(&self, code: &str, field: &[&str], what: &str) -> Finding {
        self.finding(
            code,
            Severity::Care,
            field,
            format!("{} {what}.", called(self.piece)),
            "Open the job in the newer version, or choose again here.",
        )
    }

    /// A line that a hand made much longer or shorter than its path, which is not filled up without being asked.
    fn line_by_hand(&self, path_mm: i64, length_mm: i64) -> Option<Finding> {
        let off = length_mm - path_mm;
        let (kind, is, cure) = if off < -1 {
            (
                "shorter",
                -off,
                "Put clusters back, or make the path shorter.",
            )
        } else if off * LONG_BY_HAND > path_mm {
            (
                "longer",
                off,
                "Leave clusters out, or make the path longer.",
            )
        } else {
            return None;
        };
        Some(self.finding(
            "line_by_hand",
            Severity::Care,
            &["garland", "hand"],
            format!(
                "{}: with its clusters changed by hand, the line is {} cm {kind} than its path.",
                called(self.piece),
                (is + 5) / 10
            ),
            cure,
        ))
    }

    /// A line that stays shorter than its path, whatever is added.
    #[must_use]
    pub fn short_line(&self, path_mm: i64, length_mm: i64) -> Option<Finding> {
        let hand = live(&self.piece.garland.hand);
        if (hand.iter()).any(|(_, h)| h.left_out || !h.balls.is_empty()) {
            return self.line_by_hand(path_mm, length_mm);
        }
        (length_mm + 1 < path_mm).then(|| {
            self.finding(
                "short_line",
                Severity::Care,
                &["garland", "palette"],
                format!(
                    "{} comes out {} mm shorter than its path.",
                    called(self.piece),
                    path_mm - length_mm
                ),
                "Use fewer colours, or add odd balloons instead of dropping them.",
            )
        })
    }

    /// A spiral that comes round within so few clusters that no band of a colour is seen.
    #[must_use]
    pub fn spiral_tight(&self, tie_span_mm: i64, clusters: i64) -> Option<Finding> {
        let garland = &self.piece.garland;
        let gaps = clusters.saturating_sub(1).max(1);
        let tight = garland.arrangement == Arrangement::Spiral
            && garland.turn_mm.saturating_mul(gaps) < tie_span_mm.saturating_mul(BAND_CLUSTERS);
        tight.then(|| {
            let apart_mm = tie_span_mm / gaps;
            let wider_mm = (apart_mm * BAND_SHOWN).div_euclid(100) * 100 + 100;
            self.finding(
                "spiral_tight",
                Severity::Note,
                &["garland", "turn_mm"],
                format!(
                    "{}: its spiral comes round once in {} cm, and its clusters are {} cm apart: too few of them for a colour to show as a band.",
                    called(self.piece),
                    garland.turn_mm / 10,
                    apart_mm / 10
                ),
                "Let it come round in a longer stretch, or tie quads, which are closer to each other.",
            )
            .fix(
                format!("Once round in {} m", whole(wider_mm) / 1000.0),
                vec![Edit::set(
                    &["pieces", self.id, "garland", "turn_mm"],
                    wider_mm,
                )],
            )
        })
    }

    /// Balloons that lie deeper than the floor, by so much, dmm.
    #[must_use]
    pub fn through_floor(&self, deep_dmm: i64) -> Option<Finding> {
        let cm = (deep_dmm + 99) / 100;
        (deep_dmm > PRESSED_DMM).then(|| {
            let raised = self.piece.y_mm.saturating_add(cm * 10);
            self.finding(
                "through_floor",
                Severity::Care,
                &["y_mm"],
                format!("{} goes {cm} cm through the floor.", called(self.piece)),
                "Raise it, or let its line end higher.",
            )
            .fix(
                format!("Raise it by {cm} cm"),
                vec![Edit::set(&["pieces", self.id, "y_mm"], raised)],
            )
        })
    }

    /// A line that goes through the ceiling, by so much, dmm.
    #[must_use]
    pub fn through_ceiling(&self, over_dmm: i64) -> Option<Finding> {
        let sag = match self.piece.kind {
            PieceKind::Chain => ["chain", "sag_mm"],
            _ => ["garland", "rise_mm"],
        };
        (over_dmm > PRESSED_DMM).then(|| {
            self.finding(
                "through_ceiling",
                Severity::Care,
                &sag,
                format!(
                    "{} ends {} cm above the ceiling.",
                    called(self.piece),
                    (over_dmm + 99) / 100
                ),
                "Let it sag less or hang it lower, or correct the height of the ceiling in Brief.",
            )
        })
    }

    /// Fillers that cannot hide as much as is wished for: no gap is left that one goes into and that shows the line, or there are as many
    /// as there may be.
    #[must_use]
    pub fn still_shows(&self, shows_pm: i64, all_set: bool) -> Option<Finding> {
        let with = if all_set {
            "with as many fillers as balloons on the line"
        } else {
            "with all the fillers that find a gap"
        };
        let wished = self.piece.garland.show_pct;
        // a tenth of a percent is no matter
        (wished < 100 && shows_pm > wished.max(0) * 10 + 1).then(|| {
            self.finding(
                "still_shows",
                Severity::Note,
                &["garland", "show_pct"],
                format!(
                    "{}: {with}, {}.{} % still shows, more than {} %.",
                    called(self.piece),
                    shows_pm / 10,
                    shows_pm % 10,
                    wished.max(0)
                ),
                "Take smaller fillers, or let more show.",
            )
        })
    }

    /// Clusters of a kind without a share, which were needed to use every pair.
    #[must_use]
    pub fn other_cluster(&self, recipe: &Recipe, numbers: [i64; 3]) -> Option<Finding> {
        let kinds = [
            ("quad", "quads", "quads_pct"),
            ("six", "sixes", "sixes_pct"),
            ("eight", "eights", "eights_pct"),
        ];
        let others: Vec<_> = kinds
            .into_iter()
            .zip(numbers)
            .zip(recipe.clusters)
            .filter(|((_, number), share)| *number > 0 && *share == 0)
            .map(|(kind, _)| kind)
            .collect();
        let ((_, _, field), _) = *others.first()?;
        let said: Vec<String> = others
            .iter()
            .map(|((one, many, _), number)| match number {
                1 => format!("one {one}"),
                _ => format!("{number} {many}"),
            })
            .collect();
        Some(self.finding(
            "other_cluster",
            Severity::Note,
            &["garland", field],
            format!(
                "{} takes {}, so that every pair is used.",
                called(self.piece),
                said.join(" and ")
            ),
            "Keep it so, or change the length a little.",
        ))
    }

    /// One finding for each colour that comes out odd: how many, what was done, and the other two ways.
    #[must_use]
    pub fn odd_colours(&self, recipe: &Recipe, odd: &[OddOne]) -> Vec<Finding> {
        // mixed pairs are made two by two in the order of the palette
        let partner = |at: usize| odd.get(at ^ 1).map(|o| self.shade(recipe, o.entry));
        odd.iter()
            .enumerate()
            .map(|(at, one)| self.odd_colour(&self.shade(recipe, one.entry), *one, partner(at)))
            .collect()
    }

    fn odd_colour(&self, shade: &str, one: OddOne, partner: Option<String>) -> Finding {
        let done = match (one.used - one.balls, partner) {
            (1, _) => format!("One more is added: {}.", one.used),
            (-1, _) => format!("One is dropped: {}.", one.used),
            (_, Some(partner)) => format!("The odd one is tied in a pair with {partner}."),
            (_, None) => "The odd one is tied in a mixed pair.".into(),
        };
        let finding = self.finding(
            "odd_colour",
            Severity::Note,
            &["garland", "odd"],
            format!(
                "{}: {shade} comes to {}, an odd number. {done}",
                called(self.piece),
                one.balls
            ),
            "Keep it so, or choose another way.",
        );
        [
            (Odd::AddOne, "Add one", "add_one"),
            (Odd::DropOne, "Drop one", "drop_one"),
            (Odd::MixedPair, "Tie a mixed pair", "mixed_pair"),
        ]
        .into_iter()
        .filter(|(way, _, _)| *way != self.piece.garland.odd)
        .fold(finding, |finding, (_, label, word)| {
            let path = ["pieces", self.id, "garland", "odd"];
            finding.fix(label, vec![Edit::set(&path, Value::from(word))])
        })
    }

    /// What a palette entry is called: `Blush`, or `Blush over Sand` for a double-stuffed one.
    fn shade(&self, recipe: &Recipe, entry: usize) -> String {
        let name = |id: &str| {
            let name = self.job.colours.get(id).map_or("", |c| c.name.trim());
            if name.is_empty() {
                "a colour without a name".to_string()
            } else {
                name.to_string()
            }
        };
        let entry = &recipe.palette[entry];
        if entry.inside.is_empty() {
            name(&entry.colour)
        } else {
            format!("{} over {}", name(&entry.colour), name(&entry.inside))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pieces::count;
    use job::piece::{Garland, Shade, Size};

    /// What is said about other kinds of cluster in a garland of 8 in balls and two colours, 70 and 30.
    fn said(length_mm: i64, odd: Odd, clusters: [i64; 3]) -> Vec<Finding> {
        let size = Size {
            size_in: 11,
            share_pct: 100,
            from_dmm: 2032,
            to_dmm: 2032,
            ..Size::default()
        };
        let shade = |colour: &str, share_pct| Shade {
            colour: colour.into(),
            share_pct,
            order: colour.into(),
            ..Shade::default()
        };
        let garland = Garland {
            length_mm,
            mix: [("s".to_string(), size)].into(),
            palette: [("a", 70), ("b", 30)]
                .map(|(id, share)| (id.to_string(), shade(id, share)))
                .into(),
            quads_pct: clusters[0],
            sixes_pct: clusters[1],
            eights_pct: clusters[2],
            extras_pct: 0,
            odd,
            ..Garland::default()
        };
        let piece = Piece {
            name: "Jetty arch".into(),
            garland,
            ..Piece::default()
        };
        let mut job = Job::default();
        job.pieces.insert("p".into(), piece);
        let mut findings = count(&job).findings;
        findings.retain(|f| f.code == "other_cluster");
        findings
    }

    #[test]
    fn a_spiral_too_tight_to_show_is_said_and_the_cure_is_one() {
        let mut piece = Piece {
            name: "Jetty arch".into(),
            ..Piece::default()
        };
        let job = Job::default();
        // ties 30 cm apart, once round in a metre: three clusters and a third
        let of = |piece: &Piece| {
            let named = Named {
                job: &job,
                id: "p",
                piece,
            };
            named.spiral_tight(3000, 11)
        };
        (piece.garland.arrangement, piece.garland.turn_mm) = (Arrangement::Blended, 1000);
        assert_eq!(of(&piece), None);
        piece.garland.arrangement = Arrangement::Spiral;
        let said = of(&piece).unwrap();
        assert!(
            said.message
                .contains("once in 100 cm, and its clusters are 30 cm apart")
        );
        assert_eq!(said.fixes[0].label, "Once round in 3.1 m");
        assert_eq!(
            said.fixes[0].edits,
            [Edit::set(&["pieces", "p", "garland", "turn_mm"], 3100)]
        );
        for (turn_mm, tight) in [(1799, true), (1800, false), (3100, false)] {
            piece.garland.turn_mm = turn_mm;
            assert_eq!(of(&piece).is_some(), tight, "{turn_mm}");
        }
    }

    #[test]
    fn a_kind_of_cluster_that_nobody_asked_for_is_said() {
        // 21 quads: 84 balls, 58.8 and 25.2, so 59 and 25; both odd and dropped: 41 pairs, which no number of quads uses
        let said_so = said(3299, Odd::DropOne, [100, 0, 0]);
        assert_eq!(said_so.len(), 1, "{said_so:?}");
        assert_eq!(
            said_so[0].message,
            "Jetty arch takes one six, so that every pair is used."
        );
        assert_eq!(
            (said_so[0].severity, said_so[0].room),
            (Severity::Note, Room::Design)
        );
        assert_eq!(
            said_so[0].path,
            ["pieces", "p", "garland", "sixes_pct"].map(String::from)
        );
        // a six that has a share is none of these, and 42 pairs of mixed colours make 21 quads
        assert_eq!(said(3299, Odd::DropOne, [99, 1, 0]), []);
        assert_eq!(said(3299, Odd::MixedPair, [100, 0, 0]), []);
    }
}

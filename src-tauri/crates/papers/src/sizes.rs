//! How large pieces are, in the words of a client.

use job::piece::{LinkForm, Mount, Piece, PieceKind, Shape};
use job::set_piece::{ClassicForm, FoilStand, LooseForm};
use plan::made::glyphs::{ROUND, character};
use plan::types::{Made, PiecePlan};

use crate::say::{Say, plural};
use crate::source::Source;

/// How large a piece is and what it hangs on.
pub fn size_words(source: &Source<'_>, piece: &PiecePlan) -> String {
    let say = &source.say;
    let of_job = source.job.pieces.get(&piece.piece);
    let mut words = Vec::new();
    if let (Some(garland), Some(of_job)) = (&piece.garland, of_job) {
        let asked = &of_job.garland;
        words.push(match asked.shape {
            Shape::Arch => format!(
                "{} high, {} wide",
                say.length(asked.rise_mm),
                say.length(asked.span_mm)
            ),
            Shape::HalfArch => format!(
                "half an arch {} high, {} to one side",
                say.length(asked.rise_mm),
                say.length(asked.span_mm)
            ),
            Shape::Swag => format!(
                "a swag over {}, {} deep",
                say.length(asked.span_mm),
                say.length(asked.rise_mm)
            ),
            Shape::Hoop => format!(
                "a ring {} high, {} wide",
                say.length(asked.rise_mm),
                say.length(asked.span_mm)
            ),
            Shape::Stair => format!("{} up the stair", say.length(garland.length_mm)),
            Shape::Straight | Shape::Drawn | Shape::Newer => {
                format!("{} long", say.length(garland.length_mm))
            }
        });
        if let Some(mount) = mount_words(source, &of_job.on, of_job.mount) {
            words.push(mount);
        }
    }
    if let Some(chain) = &piece.chain {
        words.push(match chain.form {
            LinkForm::Ring => plural(chain.count, "chain of foil rings", "chains of foil rings"),
            LinkForm::Latex | LinkForm::Newer => plural(chain.count, "chain", "chains"),
        });
        words.push(format!(
            "each {} along its curve",
            say.length(chain.length_mm)
        ));
    }
    if let Some(frame) = &piece.frame {
        words.push(format!(
            "{} wide, {} high",
            say.length(frame.width_mm),
            say.length(frame.height_mm)
        ));
        if frame.ballast_g > 0 {
            words.push(format!("with {} of ballast", say.mass(frame.ballast_g)));
        }
    }
    if let (Some(made), Some(of_job)) = (&piece.made, of_job) {
        words.extend(made_words(say, of_job, made));
    }
    let alike = [
        piece.made.as_ref().map(|m| m.count),
        piece.frame.as_ref().map(|f| f.count),
    ];
    let several = alike.into_iter().flatten().any(|count| count > 1);
    if let Some(apart) = of_job.map(|p| p.apart_mm).filter(|mm| several && *mm > 0) {
        words.push(format!("{} apart", say.length(apart)));
    }
    if let Some(spot) = of_job.map(|p| p.spot.trim()).filter(|s| !s.is_empty()) {
        words.push(spot.to_string());
    }
    words.join(", ")
}

fn mount_words(source: &Source<'_>, on: &str, mount: Mount) -> Option<String> {
    let piece = source
        .plan
        .pieces
        .iter()
        .find(|p| p.piece == on && !on.is_empty());
    if let Some(frame) = piece.and_then(|p| p.frame.as_ref()) {
        let mut words = "on a frame".to_string();
        if frame.ballast_g > 0 {
            let ballast = source.say.mass(frame.ballast_g);
            words = format!("{words} with {ballast} of ballast");
        }
        return Some(words);
    }
    let words = match mount {
        Mount::Frame => "on a frame",
        Mount::Backdrop => "on a backdrop",
        Mount::WallHooks => "on hooks on the wall",
        Mount::StairRail => "on the rail",
        Mount::CeilingPoints => "from the ceiling",
        Mount::Grid => "on a grid panel",
        Mount::Newer => return None,
    };
    Some(words.to_string())
}

/// Pieces that are counted from their measures.
fn made_words(say: &Say, piece: &Piece, made: &Made) -> Vec<String> {
    let each = if made.count == 1 { "" } else { "each " };
    let high = format!("{each}{} high", say.length(made.height_mm));
    let balls: i64 = made.balls.iter().map(|c| c.balls).sum();
    let mut words = match piece.kind {
        PieceKind::Classic if piece.classic.form == ClassicForm::Arch => vec![
            plural(made.count, "tight arch", "tight arches"),
            high,
            format!("{} wide", say.length(made.width_mm)),
        ],
        PieceKind::Classic => vec![plural(made.count, "column", "columns"), high],
        PieceKind::Wall => vec![
            format!("{} wide", say.length(made.width_mm)),
            format!("{} high", say.length(made.height_mm)),
        ],
        PieceKind::Bouquet => {
            let bouquet = &piece.bouquet;
            let mut of = vec![plural(bouquet.rounds.max(0), "balloon", "balloons")];
            if bouquet.foils > 0 {
                of.push(plural(bouquet.foils, "foil", "foils"));
            }
            vec![
                plural(made.count, "bouquet", "bouquets"),
                format!("{each}of {} with helium", of.join(" and ")),
            ]
        }
        PieceKind::Foils => {
            // a round is no letter
            let typed = piece.foils.text.trim().chars();
            let letters: String = typed.filter(|c| character(*c) != Some(ROUND)).collect();
            let rounds = made.foils.iter().filter(|f| f.text.is_empty());
            let rounds: i64 = rounds.map(|f| f.count).sum();
            let mut words = Vec::new();
            if !letters.trim().is_empty() {
                words.push(format!("\u{201c}{}\u{201d}", letters.trim()));
            }
            if rounds > 0 {
                words.push(plural(rounds, "round of foil", "rounds of foil"));
            }
            words.push(format!("{} high", say.length(piece.foils.height_mm)));
            words.push(
                match piece.foils.stand {
                    FoilStand::Standing => "standing",
                    FoilStand::Hanging | FoilStand::Newer => "hung",
                    FoilStand::InGarland => "in the garland",
                    FoilStand::Helium => "filled with helium",
                }
                .to_string(),
            );
            words
        }
        PieceKind::Floaters => {
            let ribbons = if made.ribbons_mm.is_empty() {
                ""
            } else {
                ", with ribbons"
            };
            vec![format!(
                "{} under the ceiling{ribbons}",
                plural(balls, "balloon", "balloons")
            )]
        }
        PieceKind::Centrepiece => vec![plural(made.count, "centrepiece", "centrepieces"), high],
        PieceKind::Loose if piece.loose.form == LooseForm::Single => {
            vec![plural(made.count, "single balloon", "single balloons")]
        }
        PieceKind::Loose => vec![plural(made.count, "small cluster", "small clusters")],
        PieceKind::Garland | PieceKind::Chain | PieceKind::Frame | PieceKind::Newer => Vec::new(),
    };
    let stands = matches!(piece.kind, PieceKind::Classic | PieceKind::Wall);
    if stands && made.weight_g > 0 {
        words.push(format!("{each}with {} of ballast", say.mass(made.weight_g)));
    }
    words
}

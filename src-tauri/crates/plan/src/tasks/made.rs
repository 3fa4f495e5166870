//! The work on pieces that are counted from their measures: what follows the blowing in the studio, and what is done in the room.

use job::piece::{LinkForm, Piece, PieceKind};
use job::set_piece::{ClassicForm, FoilStand};

use super::List;
use crate::inflate::whole;
use crate::made::foils_of;
use crate::pieces::Counted;
use crate::types::{Made, Phase, PiecePlan};
use crate::work::Work;

/// A wall is put up in panels of about this width, mm.
const PANEL_MM: i64 = 1000;

impl List<'_> {
    /// Stacking, accents, foils, helium, each after the one before. The ids of the last of them.
    pub(super) fn make(&mut self, plan: &PiecePlan, work: &Work, before: &[String]) -> Vec<String> {
        let id = plan.piece.as_str();
        let name = self.name(id);
        let stack = match plan.kind {
            PieceKind::Centrepiece => "Put together",
            _ => "Stack the rings of",
        };
        let mut last = before.to_vec();
        for (what, title, seconds) in [
            ("stack", stack, work.stack_s),
            ("accents", "Tie accents:", work.accents_s),
            ("foils", "Fill the foils of", work.foils_s),
            ("helium", "Fill with helium:", work.helium_s),
        ] {
            let ids = self.parts(what, id, &format!("{title} {name}"), seconds, 0, &last);
            if !ids.is_empty() {
                last = ids;
            }
        }
        last
    }

    /// What the links of a chain are called in the titles of their tasks: blown, and put together.
    pub(super) fn link_titles(&self, plan: &PiecePlan) -> [String; 2] {
        let name = self.name(&plan.piece);
        match plan.chain.as_ref().map(|c| c.form) {
            Some(LinkForm::Ring) => [
                format!("Blow ring links for {name}"),
                format!("Slot the links of {name}"),
            ],
            _ => [
                format!("Pump and tie links for {name}"),
                format!("Tie the links of {name}"),
            ],
        }
    }

    /// Columns stood up, walls filled, bouquets and foils placed, floaters filled where they float.
    pub(super) fn put_up(&mut self, counted: &Counted, plan: &PiecePlan, made: &Made) {
        let id = plan.piece.as_str();
        let Some(piece) = self.job.pieces.get(id) else {
            return;
        };
        match plan.kind {
            PieceKind::Classic => self.stand(id, piece, made),
            PieceKind::Wall => self.fill_wall(id, piece, made),
            PieceKind::Floaters => {
                let work = counted.work.iter().find(|w| w.piece == id);
                self.float(id, work.map_or(0.0, |w| w.float_s));
            }
            PieceKind::Foils => self.place(id, piece, foils_of(made), "foils placed"),
            PieceKind::Bouquet => self.place(id, piece, made.count, "bouquets placed"),
            PieceKind::Centrepiece => self.place(id, piece, made.count, "centrepieces placed"),
            PieceKind::Loose => self.place(id, piece, made.count, "placed"),
            PieceKind::Garland | PieceKind::Chain | PieceKind::Frame | PieceKind::Newer => {}
        }
    }

    /// A column is stood up by one, an arch by two like a frame.
    fn stand(&mut self, id: &str, piece: &Piece, made: &Made) {
        let (each, people) = match piece.classic.form {
            ClassicForm::Arch => (self.job.rates.frame_s, self.crew.min(2)),
            ClassicForm::Column | ClassicForm::Newer => (self.job.rates.stand_s, 1),
        };
        let title = format!("Stand up {}", self.name(id));
        self.together(
            &format!("stand.{id}"),
            Phase::Install,
            id,
            &title,
            whole(made.count) * whole(each.max(0)),
            people,
            &["carry"],
            "stood up with base and ballast",
        );
    }

    fn fill_wall(&mut self, id: &str, piece: &Piece, made: &Made) {
        let name = self.name(id);
        let panels = (made.width_mm + PANEL_MM - 1) / PANEL_MM;
        let stand = format!("stand.{id}");
        self.together(
            &stand,
            Phase::Install,
            id,
            &format!("Put up the panels of {name}"),
            whole(panels) * whole(self.job.rates.stand_s.max(0)),
            self.crew.min(2),
            &["carry"],
            "panels put up with ballast",
        );
        let balls: i64 = made.balls.iter().map(|c| c.balls).sum();
        let crossings = balls / piece.wall.each.max(1);
        self.one(
            &format!("grid.{id}"),
            Phase::Install,
            id,
            &format!("Fill {name}"),
            whole(crossings) * whole(self.job.rates.grid_s.max(0)),
            &[&stand],
            "crossings filled",
        );
        self.by_two_as_well(crossings, self.job.rates.grid_s);
    }

    /// Floaters are filled in the room, by two if there are two.
    fn float(&mut self, id: &str, work: f64) {
        let people = self.crew.min(2);
        let title = format!("Fill and let up {}", self.name(id));
        self.push(
            &format!("float.{id}"),
            Phase::Install,
            id,
            &title,
            work,
            work / whole(people),
            people,
            &["carry"],
            "filled with helium, ribbons tied",
        );
        self.by(1, people, |people| work / people);
    }

    /// After the garland that it is placed in, if it is placed in one.
    fn place(&mut self, id: &str, piece: &Piece, things: i64, label: &str) {
        let hang = format!("hang.{}", piece.on);
        let inside = match piece.kind {
            PieceKind::Foils => piece.foils.stand == FoilStand::InGarland,
            _ => piece.kind == PieceKind::Loose,
        };
        let before: &[&str] = if inside {
            &["carry", &hang]
        } else {
            &["carry"]
        };
        let title = format!("Place {}", self.name(id));
        self.one(
            &format!("place.{id}"),
            Phase::Install,
            id,
            &title,
            whole(things) * whole(self.job.rates.place_s.max(0)),
            before,
            label,
        );
        self.by_two_as_well(things, self.job.rates.place_s);
    }
}

/// Metres of a piece that are taken down like garland: columns by their height, all alike.
pub(super) fn metres_down(plan: &PiecePlan) -> f64 {
    let made = plan.made.iter().filter(|_| plan.kind == PieceKind::Classic);
    let garland = plan.garland.iter().map(|g| whole(g.length_mm));
    let columns = made.map(|m| whole(m.height_mm.max(m.width_mm)) * whole(m.count));
    garland.chain(columns).sum::<f64>() / 1000.0
}

//! Where a piece stands, and its points in the room.

use job::piece::Piece;

use super::ScenePanel;
use crate::inflate::nearest;

/// No picture reaches further than this, mm: one kilometre.
const FURTHEST_MM: i64 = 1_000_000;

/// The same, dmm, with room for what hangs on to it.
pub const FURTHEST_DMM: i64 = FURTHEST_MM * 10 * 100;

/// A length of the job, kept within what a picture can show, mm.
pub fn within(mm: i64) -> i64 {
    mm.clamp(-FURTHEST_MM, FURTHEST_MM)
}

/// The left foot of a piece in the room, dmm, and its turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    foot: [i64; 3],
    turn_deg: i64,
    cos: f64,
    sin: f64,
}

impl Place {
    /// As the piece says.
    pub fn of(piece: &Piece) -> Place {
        let turn_deg = piece.turn_deg.rem_euclid(360);
        let angle = (turn_deg as f64).to_radians();
        // quarter turns are exact, so that what stands square stays square
        let (cos, sin) = match turn_deg {
            0 => (1.0, 0.0),
            90 => (0.0, 1.0),
            180 => (-1.0, 0.0),
            270 => (0.0, -1.0),
            _ => (libm::cos(angle), libm::sin(angle)),
        };
        Place {
            foot: [piece.x_mm, piece.y_mm, piece.z_mm].map(|v| within(v) * 10),
            turn_deg,
            cos,
            sin,
        }
    }

    /// Moved by a way of the piece's own, dmm.
    pub fn shifted(self, by: [i64; 3]) -> Place {
        Place {
            foot: self.put(by),
            ..self
        }
    }

    /// Moved up, dmm.
    pub fn raised(self, by: i64) -> Place {
        self.shifted([0, by, 0])
    }

    /// A point of the piece in the room, dmm. Seen from above the piece is turned against the clock.
    pub fn put(&self, at: [i64; 3]) -> [i64; 3] {
        let (x, z) = (at[0] as f64, at[2] as f64);
        [
            self.foot[0].saturating_add(nearest(x * self.cos + z * self.sin)),
            self.foot[1].saturating_add(at[1]),
            self.foot[2].saturating_add(nearest(z * self.cos - x * self.sin)),
        ]
        .map(|v| v.clamp(-FURTHEST_DMM, FURTHEST_DMM))
    }

    /// A box of the piece: its corners in the room as if it stood square about its own middle, and its turn.
    pub fn put_box(&self, low: [i64; 3], high: [i64; 3]) -> ([i64; 3], [i64; 3], i64) {
        let half = [0, 1, 2].map(|i| high[i].saturating_sub(low[i]) / 2);
        let middle = self.put([0, 1, 2].map(|i| low[i].saturating_add(half[i])));
        (
            [0, 1, 2].map(|i| middle[i].saturating_sub(half[i])),
            [0, 1, 2].map(|i| middle[i].saturating_add(half[i])),
            self.turn_deg,
        )
    }
}

/// The corners of a box in the room.
pub fn corners(panel: &ScenePanel) -> [[i64; 3]; 8] {
    let half = [0, 1, 2].map(|i| (panel.high[i] - panel.low[i]) / 2);
    let about = Place::of(&Piece {
        turn_deg: panel.turn_deg,
        ..Piece::default()
    });
    [0, 1, 2, 3, 4, 5, 6, 7].map(|n: i64| {
        let sign = |bit: i64| if n >> bit & 1 == 0 { -1 } else { 1 };
        let corner = about.put([0, 1, 2].map(|i| sign(i as i64) * half[i]));
        [0, 1, 2].map(|i| panel.low[i] + half[i] + corner[i])
    })
}

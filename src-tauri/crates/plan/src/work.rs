//! Working time that the making of a piece takes.

use job::piece::LinkForm;
use job::stock::Rates;

use crate::inflate::{by_hand, pair_seconds, whole};
use crate::types::{Ball, ChainPlan, GarlandPlan};

/// Working seconds to make one piece in the studio, before they are cut into tasks.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Work {
    /// The piece's id.
    pub piece: String,
    /// Pairs blown on an inflator and tied, and double-stuffing, s.
    pub inflate_s: f64,
    /// Small pairs blown by hand pump and tied, s.
    pub pump_s: f64,
    /// Pairs twisted into clusters, s.
    pub cluster_s: f64,
    /// Clusters tied on to the line, s.
    pub string_s: f64,
    /// Links blown and tied in pairs, s.
    pub links_s: f64,
    /// Links tied on to the chain, s.
    pub tie_s: f64,
    /// Foils filled with air, s.
    pub foils_s: f64,
    /// Accents tied on to their ties, s.
    pub accents_s: f64,
    /// Rings stacked on their poles, clusters put on their sticks, s.
    pub stack_s: f64,
    /// Balloons filled with helium in the studio, s.
    pub helium_s: f64,
    /// Balloons filled with helium in the room, s.
    pub float_s: f64,
}

/// The work of a garland, kept back clusters included but for the stringing.
#[must_use]
pub fn of_garland(piece: &str, plan: &GarlandPlan, pairs: &[[Ball; 2]], rates: &Rates) -> Work {
    let mut work = Work {
        piece: piece.into(),
        ..Work::default()
    };
    for pair in pairs {
        let seconds = pair_seconds(
            [pair[0].size_in, pair[1].size_in],
            [pair[0].blown_dmm, pair[1].blown_dmm],
            rates,
        );
        let double = pair.iter().filter(|b| !b.inside.is_empty()).count();
        let double = i64::try_from(double).unwrap_or(0);
        let more = whole(double) * whole(rates.double_s.max(0));
        if pair.iter().all(|b| by_hand(b.size_in)) {
            work.pump_s += seconds + more;
        } else {
            work.inflate_s += seconds + more;
        }
    }
    let joins = plan.quads + 2 * plan.sixes + 3 * plan.eights;
    work.cluster_s = whole(joins) * whole(rates.join_s.max(0));
    let fillers: i64 = plan.fillers.iter().map(|f| f.balls).sum();
    work.pump_s += whole(fillers) / 2.0 * whole(rates.small_pair_s.max(0));
    work.string_s = whole(plan.on_line) * whole(rates.string_s.max(0));
    work
}

/// The work of all chains of a piece.
#[must_use]
pub fn of_chain(piece: &str, plan: &ChainPlan, rates: &Rates) -> Work {
    let links = whole(plan.links * plan.count);
    let (blown, tied) = match plan.form {
        LinkForm::Ring => (whole(rates.ring_link_s.max(0)), rates.ring_slot_s),
        LinkForm::Latex | LinkForm::Newer => {
            (whole(rates.link_pair_s.max(0)) / 2.0, rates.link_tie_s)
        }
    };
    Work {
        piece: piece.into(),
        links_s: links * blown,
        tie_s: links * whole(tied.max(0)),
        ..Work::default()
    }
}

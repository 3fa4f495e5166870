//! Fillers: small balloons in the gaps where the line or what carries it shows.

use glam::DVec3;
use solve::packing::fill::{FillSettings, View, fillers};
use solve::packing::path::Path;
use solve::packing::{Obstacle, Packing};

use super::packed::{Site, Tried};
use crate::inflate::{nearest, whole};

/// Most fillers for each ball of the line.
const MOST_EACH: f64 = 1.0;

/// What was filled.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Filling {
    /// Where fillers go: middle and radius, m; the cluster beside; palette entry.
    pub fillers: Vec<Filler>,
    /// Share of the line and of what carries it that shows without fillers, 0 to 1.
    pub before: f64,
    /// With them.
    pub after: f64,
}

/// A filler where it goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Filler {
    /// Its middle, m.
    pub centre: DVec3,
    /// Its radius, m.
    pub radius: f64,
    /// The cluster of the line beside it.
    pub cluster: usize,
    /// Its colour, index into the palette: that of the nearest ball.
    pub entry: usize,
}

/// Fills a packed garland until no more of it shows than the user allows, or there are as many fillers as there may be. A target of
/// 100 % is no fillers.
pub(super) fn fill(
    site: &Site<'_>,
    tried: &Tried,
    path: &Path,
    obstacles: &[Obstacle],
    most: Option<usize>,
) -> Filling {
    let garland = &site.piece.garland;
    let balls: f64 = tried.packing.balls.iter().fold(0.0, |n, _| n + 1.0);
    let wanted = garland.show_pct < 100;
    let settings = FillSettings {
        diameter: whole(super::balls::blown(garland.filler_dmm)) / 10_000.0,
        show: whole(garland.show_pct.clamp(0, 100)) / 100.0,
        most: if wanted {
            let most = most.map_or(u32::MAX, |most| u32::try_from(most).unwrap_or(u32::MAX));
            u32::try_from(nearest(balls * MOST_EACH))
                .unwrap_or(u32::MAX)
                .min(most)
        } else {
            0
        },
        softness: whole(site.rates.soft_pm.clamp(0, 200)) / 1000.0,
        view: if site.has_wall() {
            View::From(DVec3::Z)
        } else {
            View::AllSides
        },
    };
    let filled = fillers(&tried.packing, path, obstacles, &settings);
    let flat: Vec<usize> = tried.build.line.iter().flatten().map(|b| b.entry).collect();
    Filling {
        before: filled.shows_before,
        after: filled.shows_after,
        fillers: filled
            .fillers
            .iter()
            .map(|f| Filler {
                centre: f.centre,
                radius: f.radius,
                cluster: usize::try_from(f.near).unwrap_or(0),
                entry: beside(&tried.packing, f.centre, f.near)
                    .and_then(|at| flat.get(at).copied())
                    .unwrap_or(0),
            })
            .collect(),
    }
}

/// The ball of a cluster that is nearest to a place.
fn beside(packing: &Packing, centre: DVec3, cluster: u32) -> Option<usize> {
    packing
        .balls
        .iter()
        .enumerate()
        .filter(|(_, b)| b.cluster == cluster)
        .min_by(|(i, a), (j, b)| {
            a.centre
                .distance_squared(centre)
                .total_cmp(&b.centre.distance_squared(centre))
                .then(i.cmp(j))
        })
        .map(|(at, _)| at)
}

//! The uppermost face: how much of the water offered can enter, what stands, runs off or evaporates.

use super::boundary::{Period, Top};

/// How the surface behaves. A step within which it changes is taken by the simpler of the two rules.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Regime {
    /// All water offered enters, or the air takes all it could.
    #[default]
    Weather,
    /// The air would take more than the ground gives.
    Drying,
    /// Water stands, below the limit.
    Standing,
    /// Water stands at the limit and the rest runs off.
    Brimming,
    /// Held at a head.
    Held,
}

/// What passes the surface, cm/h, and the water standing on it, cm.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct SurfaceFlow {
    /// Down into the uppermost cell.
    pub(super) down: f64,
    /// Its slope over the head of that cell.
    pub(super) slope: f64,
    pub(super) standing: f64,
    pub(super) runoff: f64,
    pub(super) evaporation: f64,
    pub(super) regime: Regime,
}

/// The uppermost cell and the surface above it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Skin {
    /// From the surface to the middle of the cell, cm.
    pub(super) gap: f64,
    /// Conductivity of full ground, and at the driest head (or the head the surface is held at).
    pub(super) full: f64,
    pub(super) limit: f64,
}

/// The face for a cell of head `head`, conductivity `k` and its slope `dk`, at the end of a stretch of
/// `span` hours that began with `standing` water.
///
/// Standing water is solved with the stretch, not after it, so that a pond that runs dry or brims
/// over within it is right to the last drop.
pub(super) fn face(
    top: Top,
    skin: Skin,
    (head, k, dk): (f64, f64, f64),
    weather: &Period,
    span: f64,
    standing: f64,
) -> SurfaceFlow {
    let gap = skin.gap;
    let (pond_limit, driest) = match top {
        Top::Open { pond_limit_cm, driest_head_cm } => (pond_limit_cm, driest_head_cm),
        Top::Head(held) => {
            let mean = 0.5 * (skin.limit + k);
            let pull = (held - head) / gap + 1.0;
            return SurfaceFlow {
                down: mean * pull,
                slope: 0.5 * dk * pull - mean / gap,
                regime: Regime::Held,
                ..SurfaceFlow::default()
            };
        }
    };
    let net = weather.water_cm_h - weather.evaporation_cm_h;
    let offered = net + standing / span;
    let mean = 0.5 * (skin.full + k);
    let bare = mean * (1.0 - head / gap);
    if offered <= bare {
        let dry_mean = 0.5 * (skin.limit + k);
        let pull = (head - driest) / gap - 1.0;
        let up = dry_mean * pull;
        if offered < 0.0 && -offered > up.max(0.0) {
            let (down, slope) =
                if up > 0.0 { (-up, -(0.5 * dk * pull + dry_mean / gap)) } else { (0.0, 0.0) };
            return SurfaceFlow {
                down,
                slope,
                evaporation: weather.water_cm_h + standing / span - down,
                regime: Regime::Drying,
                ..SurfaceFlow::default()
            };
        }
        return SurfaceFlow {
            down: offered,
            evaporation: weather.evaporation_cm_h,
            regime: Regime::Weather,
            ..SurfaceFlow::default()
        };
    }
    let pull = (standing + span * net - head) / gap + 1.0;
    let damp = 1.0 + span * mean / gap;
    let down = mean * pull / damp;
    let left = standing + span * (net - down);
    if left <= pond_limit {
        let slope = (0.5 * dk * pull - mean / gap) / damp - down * span * 0.5 * dk / (gap * damp);
        return SurfaceFlow {
            down,
            slope,
            standing: left,
            evaporation: weather.evaporation_cm_h,
            regime: Regime::Standing,
            ..SurfaceFlow::default()
        };
    }
    let pull = (pond_limit - head) / gap + 1.0;
    let down = mean * pull;
    SurfaceFlow {
        down,
        slope: 0.5 * dk * pull - mean / gap,
        standing: pond_limit,
        runoff: net - down + (standing - pond_limit) / span,
        evaporation: weather.evaporation_cm_h,
        regime: Regime::Brimming,
    }
}

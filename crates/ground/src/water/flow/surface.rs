//! The uppermost face: how much of the water offered can enter, what stands, runs off or evaporates.

use super::boundary::{Period, Top};
use super::potential::{Potential, Summed};

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

/// The uppermost half cell.
#[derive(Debug, Clone, Default)]
pub(super) struct Skin {
    /// From the surface to the middle of the cell, cm.
    gap: f64,
    /// The driest head, or the head the surface is held at.
    limit: Summed,
    /// A wet bare surface.
    wet: Summed,
}

impl Skin {
    pub(super) fn prepare(&mut self, top: Top, potential: &Potential, gap: f64) {
        self.gap = gap;
        self.wet = potential.at(0.0);
        self.limit = potential.at(match top {
            Top::Open { driest_head_cm, .. } => driest_head_cm,
            Top::Head(held) => held,
        });
    }

    /// The face over the uppermost cell, at the end of a stretch of `span` hours that began with `standing` water.
    ///
    /// Standing water is solved with the stretch, not after it, so that a pond that runs dry or brims
    /// over within it is right to the last drop.
    pub(super) fn face(
        &self,
        top: Top,
        cell: Summed,
        weather: &Period,
        span: f64,
        standing: f64,
    ) -> SurfaceFlow {
        let gap = self.gap;
        let pond_limit = match top {
            Top::Open { pond_limit_cm, .. } => pond_limit_cm,
            Top::Head(held) => {
                let (mean, slope, _) = cell.mean_to(self.limit);
                let pull = (held - cell.head) / gap + 1.0;
                return SurfaceFlow {
                    down: mean * pull,
                    slope: slope * pull - mean / gap,
                    regime: Regime::Held,
                    ..SurfaceFlow::default()
                };
            }
        };
        let net = weather.water_cm_h - weather.evaporation_cm_h;
        let offered = net + standing / span;
        // A wet bare surface is at head 0; water standing on it adds its depth at full conductivity.
        let (mean, slope, _) = cell.mean_to(self.wet);
        let pull = 1.0 - cell.head / gap;
        let (bare, bare_slope) = (mean * pull, slope * pull - mean / gap);
        if offered <= bare {
            return self.unfilled(cell, weather, offered, standing / span);
        }
        let press = self.wet.k / gap;
        let damp = 1.0 + span * press;
        let down = (bare + press * (standing + span * net)) / damp;
        let left = standing + span * (net - down);
        if left <= pond_limit {
            return SurfaceFlow {
                down,
                slope: bare_slope / damp,
                standing: left,
                evaporation: weather.evaporation_cm_h,
                regime: Regime::Standing,
                ..SurfaceFlow::default()
            };
        }
        let down = bare + press * pond_limit;
        SurfaceFlow {
            down,
            slope: bare_slope,
            standing: pond_limit,
            runoff: net - down + (standing - pond_limit) / span,
            evaporation: weather.evaporation_cm_h,
            regime: Regime::Brimming,
        }
    }

    /// All water offered can enter, or the air asks for some.
    fn unfilled(&self, cell: Summed, weather: &Period, offered: f64, stood: f64) -> SurfaceFlow {
        if offered < 0.0 {
            let (mean, slope, _) = cell.mean_to(self.limit);
            let pull = (cell.head - self.limit.head) / self.gap - 1.0;
            let up = mean * pull;
            if -offered > up.max(0.0) {
                let (down, slope) =
                    if up > 0.0 { (-up, -(slope * pull + mean / self.gap)) } else { (0.0, 0.0) };
                return SurfaceFlow {
                    down,
                    slope,
                    evaporation: weather.water_cm_h + stood - down,
                    regime: Regime::Drying,
                    ..SurfaceFlow::default()
                };
            }
        }
        SurfaceFlow {
            down: offered,
            evaporation: weather.evaporation_cm_h,
            regime: Regime::Weather,
            ..SurfaceFlow::default()
        }
    }
}

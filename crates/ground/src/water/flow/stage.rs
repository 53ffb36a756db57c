//! One implicit stage: the heads at which the water in every cell is what its fluxes bring.
//!
//! # Method
//! The mixed form of the flow equation \[Celia1990\]: the unknown is solved so that stored water
//! itself, not capacity times a change of head, balances the fluxes. Newton's iteration with the
//! slopes of conductivity; the correction is made in water content where the ground is unsaturated
//! and in head where it is nearly full. Conductivity at a face is the integral mean over the
//! heads of its two cells; between layers each soil's mean over the two heads is taken over its own
//! half of the way, so that head is continuous and water content jumps.

use super::boundary::{Bottom, Period};
use super::case::Case;
use super::cells::Cells;
use super::potential::{Potential, Summed};
use super::surface::{Skin, SurfaceFlow};
use super::tridiagonal;
use crate::water::retention::curve::with_curve;

/// Flows of the whole profile at one time, cm/h.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Flows {
    pub(super) surface: SurfaceFlow,
    pub(super) transpiration: f64,
    pub(super) drainage: f64,
}

/// Buffers of the stage.
#[derive(Debug, Clone, Default)]
pub(super) struct Stage {
    /// Iterate, and the answer.
    pub(super) cells: Cells,
    /// Water each cell holds before the stage's own fluxes, cm.
    pub(super) base: Vec<f64>,
    /// Rate at which each cell gains water, cm/h.
    pub(super) rate: Vec<f64>,
    pub(super) flows: Flows,
    residual: Vec<f64>,
    lower: Vec<f64>,
    diagonal: Vec<f64>,
    upper: Vec<f64>,
    theta_step: Vec<f64>,
    scratch: Vec<f64>,
    pub(super) roots: Vec<f64>,
    skin: Skin,
    potentials: Vec<Potential>,
    summed: Vec<Summed>,
    bottom: Summed,
    /// Cell whose balance was worst.
    pub(super) worst: usize,
}

/// What a stage is solved over.
#[derive(Debug, Clone, Copy)]
pub(super) struct Span<'a> {
    /// Weight of the stage's own rates, h.
    pub(super) hours: f64,
    /// Water standing before the stage's own fluxes, cm.
    pub(super) standing: f64,
    pub(super) weather: &'a Period,
}

impl Stage {
    pub(super) fn prepare(&mut self, case: &Case) {
        let cells = case.profile.cells();
        self.cells.resize(cells);
        for part in [
            &mut self.base,
            &mut self.rate,
            &mut self.residual,
            &mut self.lower,
            &mut self.diagonal,
            &mut self.upper,
            &mut self.theta_step,
            &mut self.scratch,
        ] {
            part.clear();
            part.resize(cells, 0.0);
        }
        let curves = case.profile.curves();
        if !curves.is_empty() {
            self.summed.clear();
            self.summed.resize(cells, Summed::default());
            self.potentials.resize_with(curves.len(), Potential::default);
            for (potential, curve) in self.potentials.iter_mut().zip(curves) {
                with_curve!(curve, curve => potential.prepare(curve));
            }
            self.skin.prepare(case.surface.top, &self.potentials[0], case.profile.gap[0]);
            if let (Bottom::Head(head), Some(last)) = (case.bottom, self.potentials.last()) {
                self.bottom = last.at(head);
            }
        }
        match &case.roots {
            Some(roots) => roots.fill(&case.profile, &mut self.roots),
            None => self.roots.clear(),
        }
    }

    /// Solves the stage from the iterate in `cells`. The number of corrections, or nothing where it
    /// does not settle.
    pub(super) fn solve(
        &mut self,
        case: &Case,
        span: Span<'_>,
        most: usize,
        residual_cm: f64,
    ) -> Option<usize> {
        for done in 0..=most {
            let worst = self.assemble(case, span);
            if worst <= residual_cm {
                return Some(done);
            }
            if done == most || !worst.is_finite() {
                return None;
            }
            if !tridiagonal::solve(
                &self.lower,
                &self.diagonal,
                &self.upper,
                &mut self.residual,
                &mut self.scratch,
            ) {
                return None;
            }
            for (step, (capacity, head)) in
                self.theta_step.iter_mut().zip(self.cells.capacity.iter().zip(&self.residual))
            {
                *step = capacity * head;
            }
            self.cells.advance(&case.profile, &self.residual, &self.theta_step);
        }
        None
    }

    /// Fluxes, rates, residuals (with the sign of a right side) and slopes at the iterate. Gives the
    /// greatest residual, cm of water.
    pub(super) fn assemble(&mut self, case: &Case, span: Span<'_>) -> f64 {
        let profile = &case.profile;
        let cells = &self.cells;
        for (potential, (_, range)) in self.potentials.iter().zip(profile.layers()) {
            for cell in range {
                self.summed[cell] = potential.at(cells.head[cell]);
            }
        }
        let last = profile.cells() - 1;
        let hours = span.hours;
        let surface = self.skin.face(case.surface.top, self.summed[0], span.weather, hours, span.standing);
        let demand = span.weather.transpiration_cm_h;
        let mut transpiration = 0.0;
        let (mut above, mut above_slope, mut above_slope_up) = (surface.down, surface.slope, 0.0);
        let mut worst = 0.0;
        let mut next_end = 0;
        let mut drainage = 0.0;
        for cell in 0..=last {
            let head = cells.head[cell];
            // Flux through the lower face, and its slopes over this head and the next.
            let (below, own, other) = if cell == last {
                let (flux, slope) = self.lower_end(case, cell);
                drainage = flux;
                (flux, slope, 0.0)
            } else {
                let gap = profile.gap[cell + 1];
                let pull = 1.0 - (cells.head[cell + 1] - head) / gap;
                let (mean, by_own, by_next) = if cell + 1 == profile.ends[next_end] {
                    next_end += 1;
                    self.between_layers(case, cell, next_end)
                } else {
                    self.potentials[next_end].face(self.summed[cell], self.summed[cell + 1], gap)
                };
                (mean * pull, by_own * pull + mean / gap, by_next * pull - mean / gap)
            };
            let (mut taken, mut taken_slope) = (0.0, 0.0);
            if let (Some(share), Some(roots)) = (self.roots.get(cell), &case.roots)
                && demand > 0.0
                && *share > 0.0
            {
                let (uptake, slope) = roots.uptake.share(head);
                taken = demand * share * uptake;
                taken_slope = demand * share * slope;
                transpiration += taken;
            }
            let rate = above - below - taken;
            let right = self.base[cell] + hours * rate - cells.theta[cell] * profile.width[cell];
            if right.abs() > worst || right.is_nan() {
                worst = right.abs();
                self.worst = cell;
            }
            self.rate[cell] = rate;
            self.residual[cell] = right;
            self.lower[cell] = -hours * above_slope_up;
            self.diagonal[cell] =
                cells.capacity[cell] * profile.width[cell] + hours * (own - above_slope + taken_slope);
            self.upper[cell] = hours * other;
            (above, above_slope_up, above_slope) = (below, own, other);
        }
        self.flows = Flows { surface, transpiration, drainage };
        worst
    }

    fn lower_end(&self, case: &Case, cell: usize) -> (f64, f64) {
        match case.bottom {
            Bottom::FreeDrainage => {
                self.summed[cell].near_full().unwrap_or((self.cells.k[cell], self.cells.dk[cell]))
            }
            Bottom::Closed => (0.0, 0.0),
            Bottom::Head(_) => {
                let gap = case.profile.gap[cell + 1];
                let pull = 1.0 - (self.bottom.head - self.summed[cell].head) / gap;
                let (mean, slope, _) = self.summed[cell].mean_to(self.bottom);
                (mean * pull, slope * pull + mean / gap)
            }
        }
    }

    /// Conductivity of the face between two layers, and its slopes over the two heads.
    fn between_layers(&self, case: &Case, cell: usize, layer: usize) -> (f64, f64, f64) {
        let (above, below) = (self.summed[cell], self.summed[cell + 1]);
        let gap = case.profile.gap[cell + 1];
        let (over_soil, under_soil) = (&self.potentials[layer - 1], &self.potentials[layer]);
        let (upper, upper_own, upper_next) = over_soil.face(above, over_soil.at(below.head), gap);
        let (lower, lower_own, lower_next) = under_soil.face(under_soil.at(above.head), below, gap);
        let (over, under) = (case.profile.width[cell], case.profile.width[cell + 1]);
        let resistance = over / upper + under / lower;
        if !resistance.is_finite() {
            return (0.0, 0.0, 0.0);
        }
        let both = (over + under) / resistance;
        let of_upper = both / resistance * over / (upper * upper);
        let of_lower = both / resistance * under / (lower * lower);
        (both, of_upper * upper_own + of_lower * lower_own, of_upper * upper_next + of_lower * lower_next)
    }
}

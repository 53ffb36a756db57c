//! The run: steps in time, their length, and the balance.
//!
//! # Method
//! A step of second order in two implicit stages of equal weight (a trapezoid to 2 − √2 of the step,
//! then a backward difference over all of it \[Bank1985\]); its own stages give the error of the step,
//! which sets the next one's length. Backward Euler is taken right after a change of the rates from
//! above and wherever the surface changes its behaviour within the step (water begins or ceases to
//! stand, or the surface dries out). Water in the cells is carried on by the fluxes themselves, so
//! what one iteration leaves over is put right by the next step and never adds up.

use super::boundary::{Period, Top};
use super::case::Case;
use super::cells::Cells;
use super::failure::FlowFailure;
use super::record::{Run, Totals};
use super::stage::{Flows, Span, Stage};

/// How closely a run is to be followed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Options {
    /// Greatest error of a step in the water content of any cell, m³/m³.
    pub step_error: f64,
    /// Greatest imbalance of a cell that ends the iteration, cm of water.
    pub residual_cm: f64,
    /// First step, and the first after a change of the rates, h.
    pub first_step_h: f64,
    /// Greatest step, h.
    pub greatest_step_h: f64,
    /// Most steps.
    pub most_steps: usize,
}

impl Default for Options {
    fn default() -> Self {
        Self {
            step_error: 1e-3,
            residual_cm: 1e-9,
            first_step_h: 1e-4,
            greatest_step_h: 24.0,
            most_steps: 200_000,
        }
    }
}

/// A step shorter than this is given up, h.
const LEAST_STEP_H: f64 = 1e-10;
/// Most corrections of one stage.
const MOST_CORRECTIONS: usize = 12;
/// Share of the step at which its inner stage stands.
const INNER: f64 = 2.0 - std::f64::consts::SQRT_2;
/// Weight of a stage's own rates in that stage.
const OWN: f64 = INNER / 2.0;
/// Weight of the first two rates in the whole step.
const EARLIER: f64 = std::f64::consts::SQRT_2 / 4.0;

/// Runs cases, keeping its buffers from one to the next.
#[derive(Debug, Clone, Default)]
pub struct Solver {
    stage: Stage,
    now: Cells,
    before: Cells,
    water: Vec<f64>,
    rate: Vec<f64>,
    inner_rate: Vec<f64>,
    head_step: Vec<f64>,
    theta_step: Vec<f64>,
    starts: Vec<f64>,
    last_step_h: f64,
}

/// What one step did.
struct Done {
    /// Error over what is allowed.
    error: f64,
    /// 1/(order + 1) of its rule.
    power: f64,
    corrections: usize,
    standing: f64,
    /// Weight of the last stage's rates, h.
    own_h: f64,
    /// What moved in the step, cm.
    amounts: Totals,
}

/// Adds what flows moved in a stretch of `hours`.
fn add_flows(to: &mut Totals, flows: &Flows, hours: f64, weather: &Period, held: bool) {
    to.applied_cm += hours * if held { flows.surface.down } else { weather.water_cm_h };
    to.runoff_cm += hours * flows.surface.runoff;
    to.evaporation_cm += hours * flows.surface.evaporation;
    to.transpiration_cm += hours * flows.transpiration;
    to.drainage_cm += hours * flows.drainage;
}

/// Adds the amounts of a step.
fn add(to: &mut Totals, step: &Totals) {
    to.applied_cm += step.applied_cm;
    to.runoff_cm += step.runoff_cm;
    to.evaporation_cm += step.evaporation_cm;
    to.transpiration_cm += step.transpiration_cm;
    to.drainage_cm += step.drainage_cm;
}

impl Solver {
    /// A solver without buffers yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Runs a case and fills `run` with its state at `times_h` (hours from the start, rising; 0 is
    /// the start itself). Nothing is allocated once the buffers fit.
    ///
    /// # Errors
    /// A [`FlowFailure`] where no step can be solved or the limit on steps is reached. What was
    /// reached before stands in `run`.
    pub fn run(
        &mut self,
        case: &Case,
        options: &Options,
        times_h: &[f64],
        run: &mut Run,
    ) -> Result<(), FlowFailure> {
        self.prepare(case);
        run.prepare(&case.profile, times_h);
        let storage = |cells: &Cells| -> f64 {
            cells.theta.iter().zip(&case.profile.width).map(|(theta, width)| theta * width).sum()
        };
        let mut totals = Totals { storage_at_start_cm: storage(&self.now), ..Totals::default() };
        let (mut time, mut standing) = (0.0, 0.0);
        let mut wanted = options.first_step_h;
        let mut restarted = true;
        let mut weather = case.surface.period_at(0.0);
        for (place, goal) in times_h.iter().copied().enumerate() {
            while time < goal {
                if run.steps + run.repeated >= options.most_steps {
                    return Err(FlowFailure::TooManySteps { time_h: time, steps: options.most_steps });
                }
                let stop = goal.min(weather.until_h);
                let left = stop - time;
                // The last two steps to a stop are made alike, rather than one long and one tiny.
                let step = if wanted >= left * (1.0 - 1e-9) {
                    left
                } else if wanted * 2.0 > left {
                    left / 2.0
                } else {
                    wanted
                };
                let done = match self.step(case, options, &weather, step, standing, restarted) {
                    Some(done) if done.error <= 1.0 || step <= options.first_step_h * 1e-3 => done,
                    failed => {
                        run.repeated += 1;
                        // An unsolved step is cut hard, an inaccurate one as far as its error says.
                        wanted = step
                            * failed.map_or(0.25, |done| {
                                (0.85 * libm::pow(done.error, -done.power)).clamp(0.1, 0.7)
                            });
                        if wanted < LEAST_STEP_H {
                            let depth_cm = case.profile.centre[self.stage.worst];
                            return Err(FlowFailure::NotSolved { time_h: time, depth_cm });
                        }
                        continue;
                    }
                };
                self.accept(step, done.own_h);
                run.steps += 1;
                run.corrections += done.corrections;
                restarted = false;
                standing = done.standing;
                add(&mut totals, &done.amounts);
                let grow = 0.85 * libm::pow(done.error.max(1e-6), -done.power);
                let next = step * grow.clamp(0.3, 3.0);
                // A step cut short to meet a stop says nothing about how long a free one may be.
                wanted = if step < wanted { next.max(wanted.min(step * 3.0)) } else { next };
                wanted = wanted.min(options.greatest_step_h);
                time = if step == left { stop } else { time + step };
                if time >= weather.until_h {
                    weather = case.surface.period_at(time);
                    wanted = wanted.min(options.first_step_h * 10.0);
                    restarted = true;
                }
            }
            totals.standing_cm = standing;
            totals.storage_cm = storage(&self.now);
            totals.infiltration_cm = totals.applied_cm - totals.runoff_cm - standing;
            let snapshot = &mut run.snapshots[place];
            snapshot.head_cm.copy_from_slice(&self.now.head);
            snapshot.theta.copy_from_slice(&self.now.theta);
            snapshot.totals = totals;
        }
        Ok(())
    }

    fn prepare(&mut self, case: &Case) {
        let cells = case.profile.cells();
        self.stage.prepare(case);
        self.now.resize(cells);
        self.before.resize(cells);
        for part in
            [&mut self.water, &mut self.rate, &mut self.inner_rate, &mut self.head_step, &mut self.theta_step]
        {
            part.clear();
            part.resize(cells, 0.0);
        }
        case.start.fill(&case.profile, &mut self.starts);
        self.now.at_heads(&case.profile, &self.starts);
        self.before.copy_from(&self.now);
        self.last_step_h = 0.0;
        for (water, (theta, width)) in
            self.water.iter_mut().zip(self.now.theta.iter().zip(&case.profile.width))
        {
            *water = theta * width;
        }
    }

    /// One step from `now`; its end stands in `stage.cells`. Nothing where a stage does not settle.
    fn step(
        &mut self,
        case: &Case,
        options: &Options,
        weather: &Period,
        step: f64,
        standing: f64,
        restarted: bool,
    ) -> Option<Done> {
        // The rates at the start, from the present heads.
        self.stage.cells.copy_from(&self.now);
        self.stage.assemble(case, Span { hours: 1e-9, standing, weather });
        self.rate.copy_from_slice(&self.stage.rate);
        let first = self.stage.flows;
        if !restarted && let Some(done) = self.two_stages(case, options, weather, step, standing, first) {
            return Some(done);
        }
        self.one_stage(case, options, weather, step, standing)
    }

    /// Starts the iteration where the last step was heading.
    fn predict(&mut self, case: &Case, ahead: f64) {
        self.stage.cells.copy_from(&self.now);
        if self.last_step_h <= 0.0 {
            return;
        }
        let share = (ahead / self.last_step_h).min(1.0);
        for cell in 0..self.head_step.len() {
            self.head_step[cell] = share * (self.now.head[cell] - self.before.head[cell]);
            self.theta_step[cell] = share * (self.now.theta[cell] - self.before.theta[cell]);
        }
        self.stage.cells.advance(&case.profile, &self.head_step, &self.theta_step);
    }

    fn two_stages(
        &mut self,
        case: &Case,
        options: &Options,
        weather: &Period,
        step: f64,
        standing: f64,
        first: Flows,
    ) -> Option<Done> {
        let own = OWN * step;
        let gain = |flows: &Flows| {
            weather.water_cm_h - flows.surface.evaporation - flows.surface.down - flows.surface.runoff
        };
        let held = matches!(case.surface.top, Top::Head(_));
        self.predict(case, INNER * step);
        for cell in 0..self.water.len() {
            self.stage.base[cell] = self.water[cell] + own * self.rate[cell];
        }
        let before = if held { 0.0 } else { standing + own * gain(&first) };
        let span = Span { hours: own, standing: before, weather };
        let corrections = self.stage.solve(case, span, MOST_CORRECTIONS, options.residual_cm)?;
        let inner = self.stage.flows;
        if inner.surface.regime != first.surface.regime {
            return None;
        }
        self.inner_rate.copy_from_slice(&self.stage.rate);
        for cell in 0..self.water.len() {
            self.stage.base[cell] =
                self.water[cell] + EARLIER * step * (self.rate[cell] + self.inner_rate[cell]);
        }
        // From the inner stage on, at the pace it took to get there.
        let share = (1.0 - INNER) / INNER;
        for cell in 0..self.head_step.len() {
            self.head_step[cell] = share * (self.stage.cells.head[cell] - self.now.head[cell]);
            self.theta_step[cell] = share * (self.stage.cells.theta[cell] - self.now.theta[cell]);
        }
        self.stage.cells.advance(&case.profile, &self.head_step, &self.theta_step);
        let before = if held { 0.0 } else { standing + EARLIER * step * (gain(&first) + gain(&inner)) };
        let span = Span { hours: own, standing: before, weather };
        let more = self.stage.solve(case, span, MOST_CORRECTIONS, options.residual_cm)?;
        let end = self.stage.flows;
        if end.surface.regime != first.surface.regime {
            return None;
        }
        // Leading error of the step, from the curvature of the rates over its three points.
        let scale = 2.0 * step * (3.0 * INNER * INNER - 4.0 * INNER + 2.0) / (12.0 * (2.0 - INNER));
        let mut error = 0.0_f64;
        for cell in 0..self.water.len() {
            let bend = self.rate[cell] / INNER - self.inner_rate[cell] / (INNER * (1.0 - INNER))
                + self.stage.rate[cell] / (1.0 - INNER);
            error = error.max((scale * bend / case.profile.width[cell]).abs());
        }
        let mut amounts = Totals::default();
        for (flows, weight) in [(&first, EARLIER), (&inner, EARLIER), (&end, OWN)] {
            add_flows(&mut amounts, flows, weight * step, weather, held);
        }
        Some(Done {
            error: error / options.step_error,
            power: 1.0 / 3.0,
            corrections: corrections + more,
            standing: end.surface.standing,
            own_h: own,
            amounts,
        })
    }

    /// Backward Euler.
    fn one_stage(
        &mut self,
        case: &Case,
        options: &Options,
        weather: &Period,
        step: f64,
        standing: f64,
    ) -> Option<Done> {
        self.stage.cells.copy_from(&self.now);
        self.stage.base.copy_from_slice(&self.water);
        let span = Span { hours: step, standing, weather };
        let corrections = self.stage.solve(case, span, MOST_CORRECTIONS, options.residual_cm)?;
        let mut error = 0.0_f64;
        for cell in 0..self.water.len() {
            let bend = 0.5 * step * (self.stage.rate[cell] - self.rate[cell]) / case.profile.width[cell];
            error = error.max(bend.abs());
        }
        let held = matches!(case.surface.top, Top::Head(_));
        let mut amounts = Totals::default();
        add_flows(&mut amounts, &self.stage.flows, step, weather, held);
        Some(Done {
            error: error / options.step_error,
            power: 0.5,
            corrections,
            standing: self.stage.flows.surface.standing,
            own_h: step,
            amounts,
        })
    }

    /// Makes the end of the step the present.
    fn accept(&mut self, step: f64, own_h: f64) {
        for (water, (base, rate)) in self.water.iter_mut().zip(self.stage.base.iter().zip(&self.stage.rate)) {
            *water = base + own_h * rate;
        }
        std::mem::swap(&mut self.before, &mut self.now);
        self.now.copy_from(&self.stage.cells);
        self.last_step_h = step;
    }
}

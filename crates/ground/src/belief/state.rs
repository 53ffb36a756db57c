//! The unknowns of a plot as one small linear model: the make-up of the ground, and every error that
//! several readings share.
//!
//! A state is (θ, b₁, b₂ ...): θ the make-up in ilr coordinates, b the shared errors. A measured
//! witness says y = θ + b + e. Keeping b in the state is what stops a test from being averaged away
//! by repeating it.

use super::witness::{Account, Witness};
use crate::kit::chance::Chance;
use crate::texture::Class;

/// A reading in the form the model uses.
#[derive(Debug, Clone)]
pub(crate) struct Measured {
    pub(crate) centre: [f64; 2],
    /// Inverse of its own error's covariance.
    pub(crate) precision: [[f64; 2]; 2],
    /// Which shared error it carries.
    pub(crate) shared: Option<usize>,
}

/// One witness, prepared.
#[derive(Debug, Clone)]
pub(crate) enum Heard {
    Measured(Measured),
    Named { log_likelihood: [f64; 12] },
}

/// Prior and witnesses, prepared for evaluation.
#[derive(Debug, Clone)]
pub(crate) struct Model {
    pub(crate) prior_centre: [f64; 2],
    pub(crate) prior_precision: [[f64; 2]; 2],
    /// Name and precision of each shared error.
    pub(crate) shared: Vec<(String, [[f64; 2]; 2])>,
    pub(crate) heard: Vec<Heard>,
    pub(crate) tails: Option<u32>,
}

/// Least share of a likelihood's peak that any class keeps: nobody's fingers are certain.
const LEAST_LIKELIHOOD: f64 = 1e-6;

impl Model {
    /// Prepares the witnesses. The second part tells which of them could not be used because their
    /// numbers make no error ellipse.
    pub(crate) fn new<'a>(
        prior_centre: [f64; 2],
        prior_covariance: [[f64; 2]; 2],
        tails: Option<u32>,
        witnesses: impl IntoIterator<Item = &'a Witness>,
    ) -> (Self, Vec<bool>) {
        let mut model = Self {
            prior_centre,
            prior_precision: inverse(prior_covariance).unwrap_or([[1.0, 0.0], [0.0, 1.0]]),
            shared: Vec::new(),
            heard: Vec::new(),
            tails,
        };
        let used = witnesses
            .into_iter()
            .map(|witness| {
                let heard = model.prepare(&witness.account);
                let used = heard.is_some();
                model.heard.extend(heard);
                used
            })
            .collect();
        (model, used)
    }

    fn prepare(&mut self, account: &Account) -> Option<Heard> {
        match account {
            Account::Measured { centre, covariance, shared } => {
                if !centre.iter().all(|z| z.is_finite()) {
                    return None;
                }
                let precision = inverse(*covariance)?;
                let shared = match shared {
                    None => None,
                    Some(error) => Some(match self.shared.iter().position(|(name, _)| *name == error.name) {
                        Some(place) => place,
                        None => {
                            self.shared.push((error.name.clone(), inverse(error.covariance)?));
                            self.shared.len() - 1
                        }
                    }),
                };
                Some(Heard::Measured(Measured { centre: *centre, precision, shared }))
            }
            Account::Named { likelihood, .. } => {
                let peak = likelihood.iter().copied().fold(0.0, f64::max);
                if !peak.is_finite() || peak <= 0.0 {
                    return None;
                }
                let log_likelihood = likelihood.map(|p| {
                    libm::log(if p > 0.0 { (p / peak).max(LEAST_LIKELIHOOD) } else { LEAST_LIKELIHOOD })
                });
                Some(Heard::Named { log_likelihood })
            }
        }
    }

    /// Number of unknowns.
    pub(crate) fn size(&self) -> usize {
        2 + 2 * self.shared.len()
    }

    /// The same model without one witness.
    pub(crate) fn without(&self, place: usize) -> Self {
        let mut rest = self.clone();
        rest.heard.remove(place);
        rest
    }

    /// Whether any witness names a class.
    pub(crate) fn names_a_class(&self) -> bool {
        self.heard.iter().any(|heard| matches!(heard, Heard::Named { .. }))
    }

    /// Logarithm of prior times likelihood at a state, up to a constant. `class` is that of θ.
    ///
    /// An error whose squared standardised length is q counts exp(−q/2), or (1 + q/ν)^−((ν + 2)/2) with
    /// the same scale: the core is then as good as the reading claims and only the tails differ.
    pub(crate) fn log_target(&self, state: &[f64], class: Class) -> f64 {
        let theta = [state[0], state[1]];
        let mut log = -0.5 * form(self.prior_precision, minus(theta, self.prior_centre));
        let mut errors = ErrorTally { tails: self.tails, sum: 0.0, product: 1.0 };
        for (place, (_, precision)) in self.shared.iter().enumerate() {
            errors.add(form(*precision, shared_at(state, place)));
        }
        for heard in &self.heard {
            match heard {
                Heard::Measured(reading) => errors.add(form(reading.precision, residual(reading, state))),
                Heard::Named { log_likelihood } => log += log_likelihood[class as usize],
            }
        }
        log += errors.log_density();
        log
    }

    /// The normal (or t) law of the state given some of the measured witnesses alone.
    pub(crate) fn component(&self, takes: impl Fn(usize) -> bool) -> Component {
        let size = self.size();
        let mut precision = vec![0.0; size * size];
        let mut pull = vec![0.0; size];
        add_block(&mut precision, size, 0, 0, self.prior_precision);
        let prior_pull = times(self.prior_precision, self.prior_centre);
        pull[0] += prior_pull[0];
        pull[1] += prior_pull[1];
        for (place, (_, block)) in self.shared.iter().enumerate() {
            add_block(&mut precision, size, 2 + 2 * place, 2 + 2 * place, *block);
        }
        for (place, heard) in self.heard.iter().enumerate() {
            let Heard::Measured(reading) = heard else { continue };
            if !takes(place) {
                continue;
            }
            let push = times(reading.precision, reading.centre);
            let rows: &[usize] = match reading.shared {
                None => &[0],
                Some(shared) => &[0, 2 + 2 * shared],
            };
            for &row in rows {
                pull[row] += push[0];
                pull[row + 1] += push[1];
                for &column in rows {
                    add_block(&mut precision, size, row, column, reading.precision);
                }
            }
        }
        Component::from_precision(precision, pull, size)
    }
}

/// Log density of several errors together. Products are gathered and their logarithm taken once,
/// which is what most of the time of a belief would go into otherwise.
struct ErrorTally {
    tails: Option<u32>,
    sum: f64,
    product: f64,
}

impl ErrorTally {
    fn add(&mut self, q: f64) {
        match self.tails {
            None => self.sum += q,
            Some(freedom) => {
                self.product *= 1.0 + q / f64::from(freedom);
                if self.product > 1e150 {
                    self.sum += libm::log(self.product);
                    self.product = 1.0;
                }
            }
        }
    }

    fn log_density(&self) -> f64 {
        match self.tails {
            None => -0.5 * self.sum,
            Some(freedom) => -0.5 * f64::from(freedom + 2) * (self.sum + libm::log(self.product)),
        }
    }
}

/// base^(halves/2), by products and a root: exact operations, the same on any machine.
pub(crate) fn raised(base: f64, halves: u32) -> f64 {
    let mut result = if halves % 2 == 1 { base.sqrt() } else { 1.0 };
    let (mut square, mut left) = (base, halves / 2);
    while left > 0 {
        if left % 2 == 1 {
            result *= square;
        }
        square *= square;
        left /= 2;
    }
    result
}

/// One part of the proposal: a normal or t law of the state.
#[derive(Debug, Clone)]
pub(crate) struct Component {
    mean: Vec<f64>,
    /// Lower Cholesky factor of the precision, row by row.
    factor: Vec<f64>,
    /// Product of the factor's diagonal.
    scale: f64,
    size: usize,
}

impl Component {
    fn from_precision(precision: Vec<f64>, pull: Vec<f64>, size: usize) -> Self {
        let factor = cholesky(precision, size);
        let mut mean = pull;
        solve_lower(&factor, size, &mut mean);
        solve_upper(&factor, size, &mut mean);
        Self::new(mean, factor, size)
    }

    /// From a mean and a covariance.
    pub(crate) fn from_moments(mean: Vec<f64>, covariance: Vec<f64>) -> Self {
        let size = mean.len();
        let factor = cholesky(covariance, size);
        let mut precision = vec![0.0; size * size];
        for column in 0..size {
            let mut unit = vec![0.0; size];
            unit[column] = 1.0;
            solve_lower(&factor, size, &mut unit);
            solve_upper(&factor, size, &mut unit);
            for row in 0..size {
                precision[row * size + column] = unit[row];
            }
        }
        Self::new(mean, cholesky(precision, size), size)
    }

    fn new(mean: Vec<f64>, factor: Vec<f64>, size: usize) -> Self {
        let scale = (0..size).map(|i| factor[i * size + i]).product();
        Self { mean, factor, scale, size }
    }

    /// Draws a state into `state`.
    pub(crate) fn draw(&self, chance: &mut Chance, tails: Option<u32>, state: &mut [f64]) {
        for value in state.iter_mut() {
            *value = chance.normal();
        }
        let stretch = chance.stretch(tails);
        solve_upper(&self.factor, self.size, state);
        for (value, mean) in state.iter_mut().zip(&self.mean) {
            *value = mean + stretch * *value;
        }
    }

    /// Density at a state, up to a constant that all components of one model share.
    pub(crate) fn density(&self, state: &[f64], tails: Option<u32>) -> f64 {
        let mut q = 0.0;
        for column in 0..self.size {
            let off = state.iter().zip(&self.mean).enumerate().skip(column);
            let sum: f64 =
                off.map(|(row, (at, mean))| self.factor[row * self.size + column] * (at - mean)).sum();
            q += sum * sum;
        }
        match tails {
            None => self.scale * libm::exp(-0.5 * q),
            #[expect(clippy::cast_possible_truncation, reason = "a handful of unknowns")]
            Some(freedom) => self.scale / raised(1.0 + q / f64::from(freedom), freedom + self.size as u32),
        }
    }
}

/// What a reading is off by at a state.
pub(crate) fn residual(reading: &Measured, state: &[f64]) -> [f64; 2] {
    let off = minus(reading.centre, [state[0], state[1]]);
    reading.shared.map_or(off, |place| minus(off, shared_at(state, place)))
}

/// Value of a shared error at a state.
pub(crate) fn shared_at(state: &[f64], place: usize) -> [f64; 2] {
    [state[2 + 2 * place], state[3 + 2 * place]]
}

pub(crate) fn minus(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [a[0] - b[0], a[1] - b[1]]
}

pub(crate) fn times(m: [[f64; 2]; 2], v: [f64; 2]) -> [f64; 2] {
    [m[0][0] * v[0] + m[0][1] * v[1], m[1][0] * v[0] + m[1][1] * v[1]]
}

/// vᵀ m v.
pub(crate) fn form(m: [[f64; 2]; 2], v: [f64; 2]) -> f64 {
    let mv = times(m, v);
    v[0] * mv[0] + v[1] * mv[1]
}

/// Inverse of a covariance; `None` unless it is finite, symmetric and positive definite.
pub(crate) fn inverse(m: [[f64; 2]; 2]) -> Option<[[f64; 2]; 2]> {
    let [[a, b], [c, d]] = m;
    let determinant = a * d - b * c;
    let sound = [a, b, c, d].iter().all(|x| x.is_finite())
        && (b - c).abs() <= 1e-9 * (a.abs() + d.abs())
        && a > 0.0
        && d > 0.0
        && determinant > 1e-12 * a * d;
    sound.then(|| [[d / determinant, -b / determinant], [-c / determinant, a / determinant]])
}

fn add_block(matrix: &mut [f64], size: usize, row: usize, column: usize, block: [[f64; 2]; 2]) {
    for (i, line) in block.iter().enumerate() {
        for (j, value) in line.iter().enumerate() {
            matrix[(row + i) * size + column + j] += value;
        }
    }
}

/// Lower Cholesky factor, in place. Written out because a general matrix product picks its
/// instructions by processor, and the same book must give the same answer on any machine.
fn cholesky(mut m: Vec<f64>, size: usize) -> Vec<f64> {
    for i in 0..size {
        for j in 0..=i {
            let mut sum = m[i * size + j];
            for k in 0..j {
                sum -= m[i * size + k] * m[j * size + k];
            }
            m[i * size + j] = if i == j { sum.max(1e-300).sqrt() } else { sum / m[j * size + j] };
        }
        for j in i + 1..size {
            m[i * size + j] = 0.0;
        }
    }
    m
}

fn solve_lower(factor: &[f64], size: usize, v: &mut [f64]) {
    for i in 0..size {
        let mut sum = v[i];
        for j in 0..i {
            sum -= factor[i * size + j] * v[j];
        }
        v[i] = sum / factor[i * size + i];
    }
}

fn solve_upper(factor: &[f64], size: usize, v: &mut [f64]) {
    for i in (0..size).rev() {
        let mut sum = v[i];
        for j in i + 1..size {
            sum -= factor[j * size + i] * v[j];
        }
        v[i] = sum / factor[i * size + i];
    }
}

//! One possible plot as covers see it, and what a species holds against it.

use super::kinds::Band;
use super::species::Species;

/// One possible plot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoverGround {
    /// Band of texture.
    pub band: Band,
    /// pH; not a number where it is unknown.
    pub ph: f64,
    /// EC of the saturation extract, dS/m; not a number where it is unknown.
    pub ec_ds_m: f64,
    /// Does it lie wet while the cover grows?
    pub wet: bool,
    /// Does it run short of water while the cover grows?
    pub dry: bool,
}

/// What a species may hold against a plot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Objection {
    /// Wet ground.
    Wet,
    /// Dry ground.
    Dry,
    /// Too acid.
    Acid,
    /// Too alkaline.
    Alkaline,
    /// Too salty.
    Salty,
    /// Texture it fails in.
    Texture,
}

/// Kinds of objection.
pub const OBJECTIONS: usize = 6;

impl Objection {
    /// Every kind.
    pub const ALL: [Self; OBJECTIONS] =
        [Self::Wet, Self::Dry, Self::Acid, Self::Alkaline, Self::Salty, Self::Texture];

    /// In words, after "in 40 % of possible plots".
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Wet => "the ground is too wet for it",
            Self::Dry => "the ground is too dry for it",
            Self::Acid => "the ground is too acid for it",
            Self::Alkaline => "the ground is too alkaline for it",
            Self::Salty => "salts would cost it a quarter of its growth or more",
            Self::Texture => "it does badly in this texture",
        }
    }
}

/// Growth left by salts below which it is an objection, percent (our judgement).
const SALTS_LEAVE_PERCENT: f64 = 75.0;
/// A rating up to this does not stand the condition.
const DOES_NOT_STAND: u8 = 1;

/// What a species needs of the ground, in the form the hot loop reads: a few numbers without indirection.
#[derive(Debug, Clone, Copy)]
pub struct Needs {
    hates_wet: bool,
    hates_dry: bool,
    ph_low: f64,
    ph_high: f64,
    ec_high_ds_m: f64,
    poor_bands: [bool; 5],
    best_bands: [bool; 5],
}

impl Needs {
    /// Of a species.
    #[must_use]
    pub fn of(species: &Species) -> Self {
        Self {
            hates_wet: species.ratings.stands_wet <= DOES_NOT_STAND,
            hates_dry: species.ratings.stands_dry <= DOES_NOT_STAND,
            ph_low: species.ph.low,
            ph_high: species.ph.high,
            ec_high_ds_m: species.salts.map_or(f64::INFINITY, |salts| salts.ec_at_yield(SALTS_LEAVE_PERCENT)),
            poor_bands: std::array::from_fn(|at| species.poor_in.has(Band::ALL[at])),
            best_bands: std::array::from_fn(|at| species.best_in.has(Band::ALL[at])),
        }
    }

    /// Objections to one plot as bits in the order of [`Objection::ALL`]. What is unknown is no objection: no
    /// comparison with a number that is none holds.
    #[must_use]
    pub fn objections(&self, ground: &CoverGround) -> u8 {
        u8::from(self.hates_wet & ground.wet)
            | u8::from(self.hates_dry & ground.dry) << 1
            | u8::from(ground.ph < self.ph_low) << 2
            | u8::from(ground.ph > self.ph_high) << 3
            | u8::from(ground.ec_ds_m > self.ec_high_ds_m) << 4
            | u8::from(self.poor_bands[ground.band as usize]) << 5
    }

    /// Is the plot's texture one it likes?
    #[must_use]
    pub fn likes(&self, ground: &CoverGround) -> bool {
        self.best_bands[ground.band as usize]
    }
}

/// What a species holds against a plot, as shares of its possible make-ups.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct GroundFit {
    /// No objection at all.
    pub suits: f64,
    /// Texture it likes.
    pub likes: f64,
    /// Each objection in the order of [`Objection::ALL`].
    pub objections: [f64; OBJECTIONS],
}

/// Over weighted draws; weights are as many as draws and add to more than nothing. No draws: everything suits.
#[must_use]
pub fn ground_fit(needs: &Needs, draws: &[CoverGround], weights: &[f64]) -> GroundFit {
    let mut by_bits = [0.0; 1 << OBJECTIONS];
    let (mut likes, mut total) = (0.0, 0.0);
    for (ground, weight) in draws.iter().zip(weights) {
        by_bits[usize::from(needs.objections(ground))] += weight;
        likes += f64::from(u8::from(needs.likes(ground))) * weight;
        total += weight;
    }
    if total <= 0.0 {
        return GroundFit { suits: 1.0, ..GroundFit::default() };
    }
    let mut fit =
        GroundFit { suits: by_bits[0] / total, likes: likes / total, objections: [0.0; OBJECTIONS] };
    for (bits, weight) in by_bits.iter().enumerate() {
        for (at, share) in fit.objections.iter_mut().enumerate() {
            if bits >> at & 1 == 1 {
                *share += weight / total;
            }
        }
    }
    fit
}

//! Choosing a cover: each species stands or falls by plain reasons, and the order is one that can be said aloud.
//!
//! # The order
//! 1. What is ruled out comes last.
//! 2. What serves every purpose asked for at least well (2 of 4) comes before what does not.
//! 3. What surely comes off (window, ground and winter each nine times of ten) comes before what likely does (each
//!    more often than not), and that before the rest.
//! 4. Then by the rating of the purpose it serves least, then by the sum of the ratings.
//! 5. Then the fewer warnings, the larger share of possible plots it suits, and the order of the table.

use std::cmp::Reverse;

use super::catalogue::catalogue;
use super::gap::{Fit, Gap, HOT_C, fit};
use super::ground::{CoverGround, GroundFit, Needs, ground_fit};
use super::kinds::{Animals, Ending, Endings, Families, Purposes};
use super::species::{HazardKind, Species};

/// What is asked of the cover's end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WinterWish {
    /// The winter shall kill it.
    Killed,
    /// It shall live and grow on in spring.
    Lives,
}

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Asked {
    /// Purposes; at least one.
    pub purposes: Purposes,
    /// The gap.
    pub gap: Gap,
    /// Families that stand before and after it in the rotation.
    pub families: Families,
    /// Is small seed sown right after it?
    pub small_seed_next: bool,
    /// Ways at hand to end it; mowing includes mowing at flower.
    pub endings: Endings,
    /// Animals that may get at it.
    pub animals: Animals,
    /// What the winter shall do.
    pub winter: Option<WinterWish>,
    /// Does it grow in a tunnel or under a row cover? Pests and diseases winter there.
    pub under_cover: bool,
}

/// Why a species is ruled out or warned of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reason {
    /// Too cold at sowing: out.
    TooCold,
    /// It cannot serve in the time: out.
    TooShort,
    /// Nothing at hand ends it: out.
    CannotEnd,
    /// Deadly to animals that may get at it: out.
    Deadly,
    /// Its family stands next to it in the rotation: out.
    Family,
    /// The winter shall kill it and most likely does not, or it shall live and most likely does not: out.
    Winter,
    /// The chance of serving in time is small.
    MayBeShort,
    /// The winter may do otherwise than is wished.
    WinterOpen,
    /// A spring frost may take it.
    SpringFrost,
    /// It does not stand the heat of this gap.
    Heat,
    /// May harm animals that may get at it.
    Harms,
    /// Holds back small seed.
    SmallSeed,
    /// It may become a weed.
    Weed,
    /// It grows for fewer days than half of what it needs.
    LittleGrowth,
    /// It carries pests or diseases, which winter under cover.
    CarriesUnderCover,
}

impl Reason {
    /// Every reason.
    pub const ALL: [Self; 15] = [
        Self::TooCold,
        Self::TooShort,
        Self::CannotEnd,
        Self::Deadly,
        Self::Family,
        Self::Winter,
        Self::MayBeShort,
        Self::WinterOpen,
        Self::SpringFrost,
        Self::Heat,
        Self::Harms,
        Self::SmallSeed,
        Self::Weed,
        Self::LittleGrowth,
        Self::CarriesUnderCover,
    ];

    /// Does it rule a species out?
    #[must_use]
    pub fn rules_out(self) -> bool {
        (self as u16) < Self::MayBeShort as u16
    }
}

/// A set of reasons.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Reasons(u16);

impl Reasons {
    /// Is it among them?
    #[must_use]
    pub fn has(self, reason: Reason) -> bool {
        self.0 & (1 << reason as u16) != 0
    }

    fn note(&mut self, reason: Reason, holds: bool) {
        self.0 |= u16::from(holds) << reason as u16;
    }

    /// Is one among them that rules out?
    #[must_use]
    pub fn rules_out(self) -> bool {
        self.0 & ((1 << Reason::MayBeShort as u16) - 1) != 0
    }

    /// Reasons that do not rule out.
    #[must_use]
    pub fn warnings(self) -> u32 {
        (self.0 >> Reason::MayBeShort as u16).count_ones()
    }

    /// The reasons.
    pub fn iter(self) -> impl Iterator<Item = Reason> {
        Reason::ALL.into_iter().filter(move |reason| self.has(*reason))
    }
}

/// How surely it comes off.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    serde::Serialize,
    serde::Deserialize,
    schemars::JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum Firmness {
    /// Window, ground and winter hold nine times of ten each.
    Firm,
    /// Each holds more often than not.
    Likely,
    /// At least one of them fails more often than not.
    Open,
}

/// Where one species stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Standing {
    /// Place in the table.
    pub species: usize,
    /// Why it is ruled out or warned of.
    pub reasons: Reasons,
    /// How surely it comes off.
    pub firmness: Firmness,
    /// Rating of the purpose it serves least.
    pub least_rating: u8,
    /// Ratings of all purposes added.
    pub rating_sum: u8,
    /// The window.
    pub fit: Fit,
    /// The ground.
    pub ground: GroundFit,
}

impl Standing {
    /// The species.
    #[must_use]
    pub fn species(&self) -> &'static Species {
        &catalogue()[self.species]
    }

    /// Does it serve every purpose at least well?
    #[must_use]
    pub fn serves(&self) -> bool {
        self.least_rating >= SERVES_FROM
    }
}

/// Rating from which a purpose counts as served.
pub const SERVES_FROM: u8 = 2;
/// Chance below which a window is no window (our judgement).
const NO_WINDOW: f64 = 0.05;
const SURE: f64 = 0.9;
const EVEN: f64 = 0.5;

/// Where one species stands for one plot.
#[must_use]
pub fn standing(at: usize, asked: &Asked, needs: &Needs, draws: &[CoverGround], weights: &[f64]) -> Standing {
    let species = &catalogue()[at];
    let fit = fit(species, &asked.gap);
    let ground = ground_fit(needs, draws, weights);
    let mut reasons = Reasons::default();
    reasons.note(Reason::TooCold, !fit.comes_up);
    reasons.note(Reason::TooShort, fit.serves_chance < NO_WINDOW);
    reasons.note(Reason::MayBeShort, (NO_WINDOW..EVEN).contains(&fit.serves_chance));
    reasons.note(Reason::CannotEnd, !can_end(species, asked.endings, &fit));
    reasons.note(Reason::Deadly, species.deadly_to.meets(asked.animals));
    reasons.note(Reason::Harms, species.harms.meets(asked.animals));
    reasons.note(Reason::Family, species.avoid.meets(asked.families));
    let mut as_wished = 1.0;
    if let (Some(wish), Some(lives)) = (asked.winter, fit.lives_chance) {
        as_wished = if wish == WinterWish::Lives { lives } else { 1.0 - lives };
        reasons.note(Reason::Winter, as_wished < EVEN);
        reasons.note(Reason::WinterOpen, (EVEN..SURE).contains(&as_wished));
    }
    reasons.note(Reason::SpringFrost, fit.spring_frost_chance > 1.0 - SURE);
    reasons.note(Reason::Heat, asked.gap.mean_c > HOT_C && species.ratings.stands_heat < SERVES_FROM);
    reasons.note(Reason::SmallSeed, asked.small_seed_next && species.hinders_small_seed);
    reasons.note(Reason::Weed, species.hazards.iter().any(|hazard| hazard.kind == HazardKind::Weed));
    reasons.note(Reason::LittleGrowth, fit.growing_d < EVEN * species.useful_d.low);
    let carries = || species.hazards.iter().any(|hazard| hazard.kind == HazardKind::Disease);
    reasons.note(Reason::CarriesUnderCover, asked.under_cover && carries());
    let surely = fit.serves_chance.min(ground.suits).min(as_wished);
    let (mut least_rating, mut rating_sum) = (u8::MAX, 0);
    for purpose in asked.purposes.iter() {
        let rating = species.serves(purpose);
        least_rating = least_rating.min(rating);
        rating_sum += rating;
    }
    Standing {
        species: at,
        reasons,
        firmness: match surely {
            share if share >= SURE => Firmness::Firm,
            share if share >= EVEN => Firmness::Likely,
            _ => Firmness::Open,
        },
        least_rating,
        rating_sum,
        fit,
        ground,
    }
}

/// Frost or winter ends it nine times of ten, or something at hand does.
fn can_end(species: &Species, at_hand: Endings, fit: &Fit) -> bool {
    let cold = fit.frost_ends_chance.max(fit.lives_chance.map_or(0.0, |lives| 1.0 - lives));
    let mown = at_hand.has(Ending::Mow) && species.ended_by.has(Ending::MowAtBloom);
    cold >= SURE || mown || species.ended_by.meets(at_hand)
}

/// Every species in order for one plot; `into` is emptied first and keeps its room.
pub fn rank(
    asked: &Asked,
    needs: &[Needs],
    draws: &[CoverGround],
    weights: &[f64],
    into: &mut Vec<Standing>,
) {
    into.clear();
    into.extend(needs.iter().enumerate().map(|(at, needs)| standing(at, asked, needs, draws, weights)));
    into.sort_unstable_by(|a, b| {
        let key = |s: &Standing| {
            (
                s.reasons.rules_out(),
                !s.serves(),
                s.firmness,
                Reverse(s.least_rating),
                Reverse(s.rating_sum),
                s.reasons.warnings(),
            )
        };
        key(a).cmp(&key(b)).then(b.ground.suits.total_cmp(&a.ground.suits)).then(a.species.cmp(&b.species))
    });
}

/// Needs of every species, made once.
#[must_use]
pub fn all_needs() -> Vec<Needs> {
    catalogue().iter().map(Needs::of).collect()
}

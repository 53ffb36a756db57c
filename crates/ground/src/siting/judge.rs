//! One possible place against one crop, limit by limit: what fits, what costs work, what fails.
//!
//! # Method
//! Each limit is graded by itself and the worst grade is the verdict. The limits between grades are judgement and
//! common practice; what they are laid on is published: roots and water use [Fao56], thresholds of salts [Maas1990],
//! ranges of pH and of temperature [KnottHandbook]. What is not known is no number, and holds nothing against a crop.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::needs::SiteNeeds;
use crate::covers::kinds::Band;
use crate::water::salts::tolerance::SaltTolerance;

/// Highest bed that is worth its work, cm: a foot and a half.
pub const HIGHEST_BED_CM: f64 = 45.0;
/// Stones by volume from which roots that fork cost work, and from which they fail, percent.
pub const STONES_PERCENT: [f64; 2] = [15.0, 35.0];
/// pH below a crop's range from which liming begins.
const LIME_FROM: f64 = 0.2;
/// pH above which trace elements run short for most crops, and above which sulfur hardly helps.
const SWEET_PH: [f64; 2] = [7.5, 8.2];
/// pH above the range of a crop that wants acid ground, from which it costs work and fails.
const SWEET_FOR_ACID: [f64; 2] = [0.3, 1.0];
/// A crop whose range ends below this wants acid ground.
const ACID_CROP_PH: f64 = 6.0;
/// Yield left by salts from which they cost nothing to speak of, little, and work, percent.
pub const SALT_YIELD_PERCENT: [f64; 3] = [95.0, 85.0, 50.0];
/// Days that transplants and row covers gain.
const EARLY_START_D: f64 = 28.0;
/// Days that the water at hand must last: fits, costs attention.
const LASTS_D: [[f64; 2]; 3] = [[2.0, 0.0], [4.0, 2.0], [14.0, 7.0]];

/// What may limit a crop.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Limit {
    /// Sand, silt and clay.
    Texture,
    /// Stones.
    Stones,
    /// Water that stands near the surface.
    Wetness,
    /// Depth to rock.
    Rock,
    /// Depth to a pan, or ground too dense.
    Pan,
    /// Acidity.
    Acidity,
    /// Salts.
    Salts,
    /// Days of growing weather.
    Warmth,
    /// Water held, and the water at hand.
    Water,
}

/// How many limits there are.
pub const LIMITS: usize = 9;

impl Limit {
    /// Every limit in the order of a page.
    pub const ALL: [Self; LIMITS] = [
        Self::Texture,
        Self::Stones,
        Self::Wetness,
        Self::Rock,
        Self::Pan,
        Self::Acidity,
        Self::Salts,
        Self::Warmth,
        Self::Water,
    ];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Texture => "texture",
            Self::Stones => "stones",
            Self::Wetness => "wetness",
            Self::Rock => "depth to rock",
            Self::Pan => "packed layers",
            Self::Acidity => "acidity",
            Self::Salts => "salts",
            Self::Warmth => "warmth",
            Self::Water => "water",
        }
    }
}

/// How one limit stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Grade {
    /// As the crop asks for.
    Fits,
    /// Not the best, but it grows.
    Drawback,
    /// It takes work first.
    Work,
    /// No work that pays mends it.
    Fails,
}

/// How a crop stands in a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Suits.
    Suits,
    /// Suits with work.
    WithWork,
    /// Does not suit.
    DoesNot,
}

impl Verdict {
    /// Every verdict, best first.
    pub const ALL: [Self; 3] = [Self::Suits, Self::WithWork, Self::DoesNot];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Suits => "suits",
            Self::WithWork => "suits with work",
            Self::DoesNot => "does not suit",
        }
    }

    /// Of the worst grade.
    #[must_use]
    pub fn of(worst: Grade) -> Self {
        match worst {
            Grade::Fits | Grade::Drawback => Self::Suits,
            Grade::Work => Self::WithWork,
            Grade::Fails => Self::DoesNot,
        }
    }
}

/// How water comes to the crop.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WaterWay {
    /// Drip, sprinklers or furrows: every day if need be.
    Piped,
    /// Carried or hosed by hand.
    ByHand,
    /// Rain alone.
    RainOnly,
}

/// One possible place. What is not known is not a number, or `None`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    /// Band of texture.
    pub band: Option<Band>,
    /// Stones by volume, percent.
    pub stones_percent: f64,
    /// Depth from which the ground lies wet at times, cm; infinite where it does not.
    pub wet_from_cm: f64,
    /// Height above standing water at which the ground holds air again, cm.
    pub fringe_cm: f64,
    /// Depth to rock, cm; infinite where there is none.
    pub rock_cm: f64,
    /// Depth to a pan, cm; infinite where there is none.
    pub pan_cm: f64,
    /// Share of the density that stops roots; 1 and above stops them.
    pub closeness: f64,
    /// pH in water.
    pub ph: f64,
    /// Does it hold free lime?
    pub free_lime: bool,
    /// Saturation extract, dS/m.
    pub ec_ds_m: f64,
    /// Where between the most sensitive (0) and the most tolerant (1) published line the salts are taken.
    pub salt_line: f64,
    /// Water that crops can use, m³/m³ of the ground as it lies.
    pub available: f64,
    /// Reference evapotranspiration at the height of the season, mm a day.
    pub et0_mm_d: f64,
    /// How water comes.
    pub water: Option<WaterWay>,
    /// The most that the system at hand can give in a day, mm.
    pub gives_mm_d: f64,
}

impl Spot {
    /// Nothing known.
    pub const UNKNOWN: Self = Self {
        band: None,
        stones_percent: f64::NAN,
        wet_from_cm: f64::NAN,
        fringe_cm: 0.0,
        rock_cm: f64::NAN,
        pan_cm: f64::NAN,
        closeness: f64::NAN,
        ph: f64::NAN,
        free_lime: false,
        ec_ds_m: f64::NAN,
        salt_line: 0.5,
        available: f64::NAN,
        et0_mm_d: 5.0,
        water: None,
        gives_mm_d: f64::NAN,
    };
}

/// Height of a bed that keeps the roots of a crop in air, cm.
#[must_use]
pub fn bed_cm(needs: &SiteNeeds, spot: &Spot) -> f64 {
    crate::water::drainage::raised_bed::bed_height_cm(spot.wet_from_cm, needs.aired_cm, spot.fringe_cm)
}

/// Water that the crop draws a day when full-grown, mm.
#[must_use]
pub fn draws_mm_d(needs: &SiteNeeds, spot: &Spot) -> f64 {
    needs.kc_mid * spot.et0_mm_d
}

/// Days that the water the ground holds lasts a full-grown crop, by the depletion fraction at its use [Fao56].
#[must_use]
pub fn lasts_d(needs: &SiteNeeds, spot: &Spot) -> f64 {
    depletion(needs, spot) * spot.available * 10.0 * rooted_cm(needs, spot) / draws_mm_d(needs, spot)
}

/// Share of the available water that the crop may use at its use of water, 0.1 to 0.8 [Fao56].
#[must_use]
pub fn depletion(needs: &SiteNeeds, spot: &Spot) -> f64 {
    (needs.depletion_fraction + 0.04 * (5.0 - draws_mm_d(needs, spot))).clamp(0.1, 0.8)
}

/// Depth that its roots reach here, cm: no deeper than rock.
#[must_use]
pub fn rooted_cm(needs: &SiteNeeds, spot: &Spot) -> f64 {
    needs.root_cm.min(spot.rock_cm)
}

/// Yield that salts leave, percent.
#[must_use]
pub fn salts_leave_percent(needs: &SiteNeeds, spot: &Spot) -> f64 {
    let (low, high) = (needs.salts.most_sensitive, needs.salts.most_tolerant);
    let between = |low: f64, high: f64| low + spot.salt_line * (high - low);
    SaltTolerance {
        threshold_ds_m: between(low.threshold_ds_m, high.threshold_ds_m),
        slope_percent_per_ds_m: between(low.slope_percent_per_ds_m, high.slope_percent_per_ds_m),
    }
    .yield_percent(spot.ec_ds_m)
}

/// Grades in the order of [`Limit::ALL`]. `days` are those of growing weather in this year; not a number where unknown.
#[must_use]
pub fn judge(needs: &SiteNeeds, spot: &Spot, days: f64) -> [Grade; LIMITS] {
    [
        texture(needs, spot),
        stones(needs, spot),
        wetness(needs, spot),
        rock(needs, spot),
        pan(needs, spot),
        acidity(needs, spot),
        salts(needs, spot),
        warmth(needs, days),
        water(needs, spot),
    ]
}

fn texture(needs: &SiteNeeds, spot: &Spot) -> Grade {
    let Some(band) = spot.band else { return Grade::Fits };
    let [best, poor, fails] = needs.bands;
    if fails.has(band) {
        Grade::Fails
    } else if poor.has(band) {
        Grade::Work
    } else if best.has(band) {
        Grade::Fits
    } else {
        Grade::Drawback
    }
}

fn stones(needs: &SiteNeeds, spot: &Spot) -> Grade {
    match spot.stones_percent {
        share if needs.forks && share > STONES_PERCENT[1] => Grade::Fails,
        share if needs.forks && share > STONES_PERCENT[0] => Grade::Work,
        share if share > STONES_PERCENT[1] => Grade::Drawback,
        _ => Grade::Fits,
    }
}

fn wetness(needs: &SiteNeeds, spot: &Spot) -> Grade {
    // One rule with the bed that is told: the wet fringe counts as wet.
    let bed = bed_cm(needs, spot);
    if bed > HIGHEST_BED_CM {
        Grade::Fails
    } else if bed > 0.0 {
        Grade::Work
    } else if spot.wet_from_cm < needs.root_cm {
        Grade::Drawback
    } else {
        Grade::Fits
    }
}

fn rock(needs: &SiteNeeds, spot: &Spot) -> Grade {
    // A bed adds its height to the depth of the ground.
    if spot.rock_cm + HIGHEST_BED_CM / 2.0 < needs.needed_root_cm {
        Grade::Fails
    } else if spot.rock_cm < needs.needed_root_cm {
        Grade::Work
    } else if spot.rock_cm < needs.root_cm {
        Grade::Drawback
    } else {
        Grade::Fits
    }
}

fn pan(needs: &SiteNeeds, spot: &Spot) -> Grade {
    if spot.pan_cm < needs.needed_root_cm || spot.closeness >= 1.0 {
        Grade::Work
    } else if spot.pan_cm < needs.root_cm {
        Grade::Drawback
    } else {
        Grade::Fits
    }
}

fn acidity(needs: &SiteNeeds, spot: &Spot) -> Grade {
    let ph = spot.ph;
    if ph < needs.ph_low - LIME_FROM {
        return Grade::Work;
    }
    let over = ph - needs.ph_high;
    let (work, fails) = if needs.ph_high < ACID_CROP_PH {
        (over > SWEET_FOR_ACID[0], over > SWEET_FOR_ACID[1] || (spot.free_lime && over > SWEET_FOR_ACID[0]))
    } else {
        (ph > SWEET_PH[0], ph > SWEET_PH[1])
    };
    match (work, fails) {
        (_, true) => Grade::Fails,
        // Free lime uses up whatever sulfur is given: the crop has to live with it.
        (true, _) if spot.free_lime => Grade::Drawback,
        (true, _) => Grade::Work,
        _ if ph < needs.ph_low || over > LIME_FROM => Grade::Drawback,
        _ => Grade::Fits,
    }
}

fn salts(needs: &SiteNeeds, spot: &Spot) -> Grade {
    match salts_leave_percent(needs, spot) {
        left if left < SALT_YIELD_PERCENT[2] => Grade::Fails,
        left if left < SALT_YIELD_PERCENT[1] => Grade::Work,
        left if left < SALT_YIELD_PERCENT[0] => Grade::Drawback,
        _ => Grade::Fits,
    }
}

fn warmth(needs: &SiteNeeds, days: f64) -> Grade {
    let (Some(season), Some(picking)) = (needs.season_d, needs.picking_d) else { return Grade::Fits };
    if days + EARLY_START_D < picking {
        Grade::Fails
    } else if days < picking {
        Grade::Work
    } else if days < season {
        Grade::Drawback
    } else {
        Grade::Fits
    }
}

fn water(needs: &SiteNeeds, spot: &Spot) -> Grade {
    let Some(way) = spot.water else { return Grade::Fits };
    if way == WaterWay::Piped && spot.gives_mm_d < draws_mm_d(needs, spot) {
        return Grade::Work;
    }
    let [fits, attention] = LASTS_D[way as usize];
    match lasts_d(needs, spot) {
        days if days < attention => Grade::Work,
        days if days < fits => Grade::Drawback,
        _ => Grade::Fits,
    }
}

/// Grades counted over many possible places.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Tally {
    /// Weight of each verdict in the order of [`Verdict::ALL`].
    pub verdicts: [f64; 3],
    /// Weight of each grade of each limit.
    pub grades: [[f64; 4]; LIMITS],
    /// Weight of all.
    pub total: f64,
}

impl Tally {
    /// Counts one place.
    pub fn count(&mut self, grades: &[Grade; LIMITS], weight: f64) {
        let mut worst = Grade::Fits;
        for (counts, grade) in self.grades.iter_mut().zip(grades) {
            counts[*grade as usize] += weight;
            worst = worst.max(*grade);
        }
        self.verdicts[Verdict::of(worst) as usize] += weight;
        self.total += weight;
    }

    /// The verdict that weighs most, with its odds; the better one of two that weigh alike. Nothing where none was
    /// counted.
    #[must_use]
    pub fn leading(&self) -> Option<(Verdict, f64)> {
        let best = Verdict::ALL.into_iter().reduce(|best, one| {
            if self.verdicts[one as usize] > self.verdicts[best as usize] { one } else { best }
        })?;
        (self.total > 0.0).then(|| (best, self.verdicts[best as usize] / self.total))
    }

    /// Odds of a verdict.
    #[must_use]
    pub fn odds(&self, verdict: Verdict) -> f64 {
        if self.total > 0.0 { self.verdicts[verdict as usize] / self.total } else { 0.0 }
    }

    /// Odds that a limit is at a grade or worse.
    #[must_use]
    pub fn at_least(&self, limit: Limit, grade: Grade) -> f64 {
        let worse: f64 = self.grades[limit as usize][grade as usize..].iter().sum();
        if self.total > 0.0 { worse / self.total } else { 0.0 }
    }
}

#[cfg(test)]
mod tests;

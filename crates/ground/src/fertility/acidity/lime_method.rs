//! The lime methods by name: what each reads, and its need for ground of which some figures are known.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::basis::{Basis, published_target};
use super::by_buffer::{BufferRule, NoRate};
use super::ph_and_texture::{LandUse, LimeTexture};
use super::{
    adams_evans, first_principles, iowa, north_carolina, ontario, oregon_sikora, pennsylvania,
    ph_and_texture, texture_table, tri_state, vermont,
};
use crate::kit::{Provenance, Refusal};
use crate::texture::Class;
use crate::water::salts::TextureGroup;

/// A published lime method.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum LimeMethod {
    /// Oregon, Sikora buffer.
    OregonSikora,
    /// Michigan, Ohio, Indiana, SMP buffer.
    TriStateSmp,
    /// Ontario, SMP-type buffer.
    OntarioSmp,
    /// North Carolina, Mehlich buffer.
    NorthCarolinaMehlich,
    /// Pennsylvania, exchangeable acidity.
    PennsylvaniaAcidity,
    /// South-eastern states, Adams-Evans buffer.
    AdamsEvans,
    /// Iowa, SMP or Sikora buffer.
    Iowa,
    /// Vermont, reactive aluminium.
    VermontAluminium,
    /// United Kingdom, pH and texture.
    PhAndTexture,
    /// Weak table by pH and texture.
    TextureTable,
    /// Clay and organic matter.
    FirstPrinciples,
}

/// What a laboratory's report says that a lime method can read.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct LimeFigures {
    /// pH in water.
    pub soil_ph: Option<f64>,
    /// SMP buffer pH.
    pub smp: Option<f64>,
    /// Sikora buffer pH.
    pub sikora: Option<f64>,
    /// Mehlich buffer pH.
    pub mehlich: Option<f64>,
    /// Adams-Evans, modified Adams-Evans or Moore-Sikora buffer pH.
    pub adams_evans: Option<f64>,
    /// Exchangeable acidity, meq/100 g.
    pub acidity_meq_100_g: Option<f64>,
    /// Aluminium in modified Morgan extract, ppm.
    pub aluminium_morgan_ppm: Option<f64>,
    /// Cation exchange capacity, meq/100 g.
    pub capacity_meq_100_g: Option<f64>,
}

/// One possible ground, for the methods that go by texture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LimeGround {
    /// Texture class.
    pub class: Class,
    /// Clay.
    pub clay_percent: f64,
    /// Organic matter.
    pub organic_matter_percent: f64,
}

/// Why a method gives no need.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Unfit {
    /// The report has not what it reads.
    Missing(&'static str),
    /// The buffer pH is below what the source covers.
    BufferBelow(f64),
    /// It is published for no pH as high as the one to reach.
    TargetAbove(f64),
}

impl Unfit {
    /// In words for a page.
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Self::Missing(what) => format!("needs {what}, which the report has not"),
            Self::BufferBelow(from) => format!("its source ends at a buffer pH of {from}"),
            Self::TargetAbove(high) => format!("its source gives no rate above pH {high}"),
        }
    }
}

impl From<NoRate> for Unfit {
    fn from(why: NoRate) -> Self {
        match why {
            NoRate::BufferBelow(from) => Self::BufferBelow(from),
            NoRate::TargetAbove(high) => Self::TargetAbove(high),
        }
    }
}

/// What a method says of some ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MethodNeed {
    /// The pH it reaches.
    pub target_ph: f64,
    /// Pure, fully effective calcium carbonate, kg/m².
    pub carbonate_kg_m2: f64,
}

/// Organic matter of the ground, percent, from which buffers and mineral rules no longer hold.
pub const ORGANIC_SOIL_FROM: f64 = 20.0;

impl LimeMethod {
    /// Every method, those that read a laboratory's acidity first.
    pub const ALL: [Self; 11] = [
        Self::OregonSikora,
        Self::TriStateSmp,
        Self::OntarioSmp,
        Self::NorthCarolinaMehlich,
        Self::PennsylvaniaAcidity,
        Self::AdamsEvans,
        Self::Iowa,
        Self::VermontAluminium,
        Self::PhAndTexture,
        Self::TextureTable,
        Self::FirstPrinciples,
    ];

    /// Its key; the registered method is `lime-` and this.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::OregonSikora => "oregon-sikora",
            Self::TriStateSmp => "tri-state-smp",
            Self::OntarioSmp => "ontario-smp",
            Self::NorthCarolinaMehlich => "north-carolina-mehlich",
            Self::PennsylvaniaAcidity => "pennsylvania-acidity",
            Self::AdamsEvans => "adams-evans",
            Self::Iowa => "iowa",
            Self::VermontAluminium => "vermont-aluminium",
            Self::PhAndTexture => "ph-and-texture",
            Self::TextureTable => "texture-table",
            Self::FirstPrinciples => "first-principles",
        }
    }

    /// Name of the registered method.
    #[must_use]
    pub fn method_name(self) -> String {
        format!("lime-{}", self.key())
    }

    /// The method of a key.
    #[must_use]
    pub fn of_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|method| method.key() == key)
    }

    /// The refusal of a key that no method has.
    #[must_use]
    pub fn unknown(field: &str, key: &str) -> Refusal {
        Refusal::new(field, format!("\u{201c}{key}\u{201d} is no lime method that is known here"))
            .given(key)
            .accepted(Self::ALL.map(Self::key).join(", "))
            .example(Self::TriStateSmp.key())
    }

    /// In words, with its region.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::OregonSikora => "Oregon: Sikora buffer",
            Self::TriStateSmp => "Michigan, Ohio, Indiana: SMP buffer",
            Self::OntarioSmp => "Ontario: SMP buffer",
            Self::NorthCarolinaMehlich => "North Carolina: Mehlich buffer",
            Self::PennsylvaniaAcidity => "Pennsylvania: exchangeable acidity",
            Self::AdamsEvans => "South-eastern states: Adams-Evans buffer",
            Self::Iowa => "Iowa: SMP or Sikora buffer",
            Self::VermontAluminium => "Vermont: reactive aluminium",
            Self::PhAndTexture => "United Kingdom: pH and texture",
            Self::TextureTable => "A weak table: pH and texture",
            Self::FirstPrinciples => "First principles: clay and organic matter",
        }
    }

    /// What it reads beside the pH in water.
    #[must_use]
    pub fn reads(self) -> &'static str {
        match self {
            Self::OregonSikora => "a Sikora buffer pH",
            Self::TriStateSmp | Self::OntarioSmp => "an SMP buffer pH",
            Self::Iowa => "an SMP or Sikora buffer pH",
            Self::NorthCarolinaMehlich => "a Mehlich buffer pH",
            Self::PennsylvaniaAcidity => "exchangeable acidity",
            Self::AdamsEvans => "an Adams-Evans buffer pH",
            Self::VermontAluminium => "aluminium in modified Morgan extract",
            Self::PhAndTexture | Self::TextureTable | Self::FirstPrinciples => "the texture of the ground",
        }
    }

    /// Does it go by texture, so that its need has the spread of what is believed of the ground?
    #[must_use]
    pub fn by_texture(self) -> bool {
        matches!(self, Self::PhAndTexture | Self::TextureTable | Self::FirstPrinciples)
    }

    /// How the weakest of its numbers reached this project.
    #[must_use]
    pub fn provenance(self) -> Provenance {
        match self {
            Self::OregonSikora | Self::PennsylvaniaAcidity | Self::PhAndTexture => Provenance::Read,
            Self::TriStateSmp | Self::OntarioSmp => Provenance::RecalledAndReproduced,
            Self::AdamsEvans | Self::Iowa => Provenance::Recalled,
            Self::NorthCarolinaMehlich | Self::FirstPrinciples => Provenance::CommonPractice,
            Self::VermontAluminium | Self::TextureTable => Provenance::Judgement,
        }
    }

    /// What its rate is a rate of.
    #[must_use]
    pub fn basis(self) -> Basis {
        match self {
            Self::OregonSikora => oregon_sikora::RULE.basis,
            Self::TriStateSmp => tri_state::RULE.basis,
            Self::OntarioSmp => ontario::RULE.basis,
            Self::Iowa => iowa::RULE.basis,
            Self::NorthCarolinaMehlich => north_carolina::BASIS,
            Self::PennsylvaniaAcidity => pennsylvania::BASIS,
            Self::AdamsEvans => adams_evans::BASIS,
            Self::VermontAluminium => vermont::BASIS,
            Self::PhAndTexture => ph_and_texture::basis(LandUse::Arable),
            Self::TextureTable => texture_table::BASIS,
            Self::FirstPrinciples => first_principles::BASIS,
        }
    }

    /// Its need of calcium carbonate for a pH to reach, over a depth in cm and, where it was measured, a bulk
    /// density in g/cm³. Nothing at or above the pH to reach.
    ///
    /// # Errors
    /// What the report lacks, or what the source does not cover.
    pub fn need(
        self,
        figures: &LimeFigures,
        ground: &LimeGround,
        target_ph: f64,
        depth_cm: f64,
        density_g_cm3: Option<f64>,
    ) -> Result<MethodNeed, Unfit> {
        let ph = figures.soil_ph.ok_or(Unfit::Missing("a pH in water"))?;
        let missing = || Unfit::Missing(self.reads());
        let basis = self.basis();
        let told = |rate: f64, reached: f64| MethodNeed {
            target_ph: reached,
            carbonate_kg_m2: basis.carbonate_kg_m2(
                if ph >= target_ph { 0.0 } else { rate },
                depth_cm,
                density_g_cm3,
            ),
        };
        let by_buffer = |rule: &BufferRule, buffer: f64| -> Result<MethodNeed, Unfit> {
            let (rate, reached) = rule.rate(buffer, target_ph, Some(ph))?;
            Ok(told(rate, reached))
        };
        let one_of = |published: &[f64]| {
            let high = published.last().copied().unwrap_or(target_ph);
            published_target(published, target_ph).ok_or(Unfit::TargetAbove(high))
        };
        match self {
            Self::OregonSikora => by_buffer(&oregon_sikora::RULE, figures.sikora.ok_or_else(missing)?),
            Self::TriStateSmp => by_buffer(&tri_state::RULE, figures.smp.ok_or_else(missing)?),
            Self::OntarioSmp => by_buffer(&ontario::RULE, figures.smp.ok_or_else(missing)?),
            Self::Iowa => by_buffer(&iowa::RULE, figures.smp.or(figures.sikora).ok_or_else(missing)?),
            Self::NorthCarolinaMehlich => {
                let buffer = figures.mehlich.ok_or_else(missing)?;
                let reached = one_of(&north_carolina::TARGETS)?;
                Ok(told(north_carolina::rate_ton_acre(ph, buffer, reached), reached))
            }
            Self::PennsylvaniaAcidity => {
                let acidity = figures.acidity_meq_100_g.ok_or_else(missing)?;
                let reached = one_of(&pennsylvania::TARGETS)?;
                Ok(told(pennsylvania::rate_lb_acre(acidity, ph, reached), reached))
            }
            Self::AdamsEvans => {
                let buffer = figures.adams_evans.ok_or_else(missing)?;
                if target_ph > adams_evans::HIGHEST_TARGET + 1e-9 {
                    return Err(Unfit::TargetAbove(adams_evans::HIGHEST_TARGET));
                }
                Ok(told(adams_evans::rate_lb_acre(ph, buffer, target_ph), target_ph))
            }
            Self::VermontAluminium => {
                let aluminium = figures.aluminium_morgan_ppm.ok_or_else(missing)?;
                let reached = one_of(&vermont::TARGETS)?;
                Ok(told(vermont::rate_ton_acre(ph, aluminium), reached))
            }
            Self::PhAndTexture => {
                let texture = LimeTexture::of(ground.class, ground.organic_matter_percent);
                Ok(told(ph_and_texture::rate_t_ha(ph, target_ph, texture, LandUse::Arable), target_ph))
            }
            Self::TextureTable => {
                let reached = one_of(&texture_table::TARGETS)?;
                Ok(told(texture_table::rate_lb_100_ft2(ph, TextureGroup::of(ground.class)), reached))
            }
            Self::FirstPrinciples => {
                let capacity = figures.capacity_meq_100_g.unwrap_or_else(|| {
                    first_principles::capacity_meq_100_g(ground.clay_percent, ground.organic_matter_percent)
                });
                Ok(told(first_principles::rate_lb_acre(ph, target_ph, capacity), target_ph))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LOAM: LimeGround =
        LimeGround { class: Class::Loam, clay_percent: 20.0, organic_matter_percent: 3.0 };

    fn full() -> LimeFigures {
        LimeFigures {
            soil_ph: Some(5.4),
            smp: Some(6.4),
            sikora: Some(6.4),
            mehlich: Some(6.2),
            adams_evans: Some(7.6),
            acidity_meq_100_g: Some(5.0),
            aluminium_morgan_ppm: Some(60.0),
            capacity_meq_100_g: None,
        }
    }

    #[test]
    fn every_method_is_registered_under_its_key_and_gives_a_need() {
        for method in LimeMethod::ALL {
            assert_eq!(LimeMethod::of_key(method.key()), Some(method));
            assert!(crate::registry::find(&method.method_name()).is_some(), "{method:?}");
            let need = method.need(&full(), &LOAM, 6.3, 15.0, None).unwrap();
            assert!((0.05..3.0).contains(&need.carbonate_kg_m2), "{method:?} {need:?}");
            assert!(need.target_ph >= 6.3);
            let deeper = method.need(&full(), &LOAM, 6.3, 30.0, None).unwrap();
            assert!((deeper.carbonate_kg_m2 - 2.0 * need.carbonate_kg_m2).abs() < 1e-9, "{method:?}");
            let sweet = LimeFigures { soil_ph: Some(6.4), ..full() };
            assert_eq!(method.need(&sweet, &LOAM, 6.3, 15.0, None).unwrap().carbonate_kg_m2, 0.0);
        }
    }

    #[test]
    fn a_method_without_its_figure_says_what_is_missing() {
        let only_ph = LimeFigures { soil_ph: Some(5.4), ..LimeFigures::default() };
        for method in LimeMethod::ALL {
            let need = method.need(&only_ph, &LOAM, 6.5, 15.0, None);
            assert_eq!(need.is_ok(), method.by_texture(), "{method:?}");
        }
        assert_eq!(
            LimeMethod::AdamsEvans.need(&full(), &LOAM, 6.8, 15.0, None),
            Err(Unfit::TargetAbove(6.5))
        );
    }
}

//! How much of a month's rain crops can use, by three published planning formulas.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::climate::quantities::MonthlyRain;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Crop evapotranspiration of a month.
    pub struct MonthlyCropUse: "crop evapotranspiration of the month", "mm", 0.0 ..= 500.0, example 120.0;
    /// Water the root zone can take up between irrigations.
    pub struct UsableStorage: "usable storage of the root zone", "mm", 5.0 ..= 150.0, example 75.0;
}

/// A formula for effective rain.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RainMethod {
    /// FAO training manual 3, for slopes up to 4-5 %.
    FaoManual3,
    /// USDA Soil Conservation Service, metric short form.
    ScsShort,
    /// USDA Soil Conservation Service TR-21, with crop use and storage.
    ScsTr21,
}

const MM_PER_INCH: f64 = 25.4;

/// Storage factor of TR-21; `storage_mm` usable storage (40 to 60 % of the root zone's available water).
#[must_use]
pub fn storage_factor(storage_mm: f64) -> f64 {
    let d = storage_mm / MM_PER_INCH;
    0.531_747 + 0.295_164 * d - 0.057_697 * d * d + 0.003_804 * d * d * d
}

/// Effective rain of a month, mm. `crop_use_mm` and `storage_mm` are used by [`RainMethod::ScsTr21`] alone;
/// its result exceeds neither the rain nor the crop's use.
#[must_use]
pub fn effective_rain_mm(method: RainMethod, rain_mm: f64, crop_use_mm: f64, storage_mm: f64) -> f64 {
    match method {
        RainMethod::FaoManual3 => {
            if rain_mm <= 75.0 {
                (0.6 * rain_mm - 10.0).max(0.0)
            } else {
                0.8 * rain_mm - 25.0
            }
        }
        RainMethod::ScsShort => {
            if rain_mm <= 250.0 {
                rain_mm * (125.0 - 0.2 * rain_mm) / 125.0
            } else {
                125.0 + 0.1 * rain_mm
            }
        }
        RainMethod::ScsTr21 => tr_21_unlimited_mm(rain_mm, crop_use_mm, storage_mm).min(crop_use_mm),
    }
}

/// TR-21 before it is held to the crop's use, as its handbook table is printed; never more than the rain.
fn tr_21_unlimited_mm(rain_mm: f64, crop_use_mm: f64, storage_mm: f64) -> f64 {
    let rain = rain_mm / MM_PER_INCH;
    let crop_use = crop_use_mm / MM_PER_INCH;
    let inches = storage_factor(storage_mm)
        * (0.709_17 * libm::pow(rain, 0.824_16) - 0.115_56)
        * libm::pow(10.0, 0.024_26 * crop_use);
    (inches * MM_PER_INCH).clamp(0.0, rain_mm)
}

/// Input of `effective-rain`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EffectiveRainInput {
    /// Which formula.
    pub formula: RainMethod,
    /// Rain of the month.
    pub rain_mm: MonthlyRain,
    /// Crop evapotranspiration of the month; needed by `scs_tr21`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub crop_use_mm: Option<MonthlyCropUse>,
    /// Usable storage; needed by `scs_tr21`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub storage_mm: Option<UsableStorage>,
}

/// Output of `effective-rain`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct EffectiveRainOutput {
    /// Rain that counts.
    pub effective_mm: f64,
    /// Before the result was held to the crop's use; the handbook's table prints this.
    pub before_limits_mm: f64,
    /// Storage factor of TR-21.
    pub storage_factor: Option<f64>,
}

/// Effective rain.
pub struct EffectiveRain;

impl Method for EffectiveRain {
    type Input = EffectiveRainInput;
    type Output = EffectiveRainOutput;

    const CARD: Card = Card {
        name: "effective-rain",
        title: "Effective rain of a month",
        topic: Topic::Climate,
        computes: "How much of a month's rain a crop can use, for planning, by the formula named. A daily balance of the \
                   root zone is better wherever there is one: it loses exactly what does not fit.",
        validity: &[
            "Formulas differ by half: 100 mm of rain counts 55 mm by one and 84 mm by another.",
            "FAO manual 3: slopes up to 4-5 %. SCS: ground that takes in rain at a medium rate and does not seal.",
            "TR-21: storage up to about 150 mm; its factor reads high above 75 mm.",
        ],
        sources: &[
            Cite::new("BrouwerHeibloem1986", "effective rainfall"),
            Cite::new("ScsTr21", "effective rainfall; repeated in NEH part 623, chapter 2"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        EffectiveRainInput {
            formula: RainMethod::FaoManual3,
            rain_mm: MonthlyRain::literal(80.0),
            crop_use_mm: None,
            storage_mm: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let rain = input.rain_mm.get();
        let mut notes = vec![Note::new(
            NoteKind::Provenance,
            "The formula is recalled; it reproduces the table it was published with. Other formulas differ by half.",
        )];
        let output = match input.formula {
            RainMethod::ScsTr21 => {
                let crop_use = tr_21_needs(input.crop_use_mm, "crop_use_mm")?;
                let storage = tr_21_needs(input.storage_mm, "storage_mm")?;
                if storage > 3.0 * MM_PER_INCH + 0.01 {
                    notes.push(Note::new(
                        NoteKind::OutsideRange,
                        "Above 75 mm of storage the factor reads higher than the handbook's table.",
                    ));
                }
                EffectiveRainOutput {
                    effective_mm: effective_rain_mm(input.formula, rain, crop_use, storage),
                    before_limits_mm: tr_21_unlimited_mm(rain, crop_use, storage),
                    storage_factor: Some(storage_factor(storage)),
                }
            }
            formula => {
                let effective_mm = effective_rain_mm(formula, rain, 0.0, 0.0);
                EffectiveRainOutput { effective_mm, before_limits_mm: effective_mm, storage_factor: None }
            }
        };
        Ok(Answer::with_notes(output, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let (rule, source) = match input.formula {
            RainMethod::FaoManual3 => {
                ("0.6 P − 10 up to 75 mm, 0.8 P − 25 above, not below 0", Self::CARD.sources[0])
            }
            RainMethod::ScsShort => {
                ("P (125 − 0.2 P)/125 up to 250 mm, 125 + 0.1 P above", Self::CARD.sources[1])
            }
            RainMethod::ScsTr21 => (
                "SF (0.70917 P^0.82416 − 0.11556) 10^(0.02426 ETc), inches; not above P nor ETc",
                Self::CARD.sources[1],
            ),
        };
        Working::new()
            .step(
                "effective rain",
                rule,
                format!("P = {} mm", input.rain_mm.get()),
                format!("{:.1} mm", answer.value.effective_mm),
            )
            .cite(source)
    }
}

fn tr_21_needs<Q: Bounded>(value: Option<Q>, field: &str) -> Result<f64, Refusal> {
    value.map(Bounded::get).ok_or_else(|| {
        Refusal::new(field, format!("scs_tr21 needs {field}"))
            .given("nothing")
            .accepted(crate::kit::quantity::range_words(Q::MIN, Q::MAX, Q::UNIT))
            .example(Q::EXAMPLE)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn no_formula_makes_water(rain in 0.0..400.0_f64, crop_use in 0.0..300.0_f64, storage in 10.0..100.0_f64) {
            for method in [RainMethod::FaoManual3, RainMethod::ScsShort, RainMethod::ScsTr21] {
                let effective = effective_rain_mm(method, rain, crop_use, storage);
                prop_assert!((0.0..=rain + 1e-9).contains(&effective));
                prop_assert!(effective_rain_mm(method, rain + 1.0, crop_use, storage) >= effective - 1e-9);
            }
        }
    }

    #[test]
    fn each_formula_joins_up() {
        for (method, at) in [(RainMethod::FaoManual3, 75.0), (RainMethod::ScsShort, 250.0)] {
            let step =
                effective_rain_mm(method, at + 1e-9, 0.0, 0.0) - effective_rain_mm(method, at, 0.0, 0.0);
            assert!(step.abs() < 1e-6, "{method:?}");
        }
    }
}

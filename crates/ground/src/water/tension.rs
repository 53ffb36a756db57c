//! The tension curve: how hard the ground holds its water at a given water content, and back.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::equations::{FIELD_CAPACITY_KPA, SoilWater, SoilWaterInput, WILTING_KPA, soil_water};
use super::soil_water::{DensityFactor, ExtractConductivity, OrganicMatter, SoilWaterQuestion, notes};
use crate::kit::quantity::{number, with_unit};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::composition::{ClayPercent, SandPercent};

crate::quantity! {
    /// Water content by volume.
    pub struct WaterContent: "water content", "m³/m³", 0.0 ..= 1.0, example 0.22;
    /// Tension of the soil water; 1 kPa is 1 centibar.
    pub struct Tension: "tension", "kPa", 0.0 ..= 100000.0, example 60.0;
}

/// Tension of oven-dry soil, about 1000 MPa (pF 7, common practice): no curve reaches beyond.
const OVEN_DRY_KPA: f64 = 1e6;

/// Stretch of the curve a point lies on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Stretch {
    /// Drier than the wilting point: the power law is drawn on beyond its data.
    BeyondWilting,
    /// Between 33 and 1500 kPa: power law.
    PlantRange,
    /// Between air entry and 33 kPa: straight line.
    Draining,
    /// Up to air entry: full of water.
    Full,
}

impl SoilWater {
    /// Tension in kPa at a water content (eq. 11-13), and the stretch it lies on. A full soil has
    /// tension 0. `None` without a tension curve, or for water that the pores cannot hold.
    #[must_use]
    pub fn tension_at(&self, water_content: f64) -> Option<(f64, Stretch)> {
        let (coefficient, exponent) = (self.tension_coefficient?, self.tension_exponent?);
        let (dry, held, full) = (self.wilting_point?, self.field_capacity?, self.saturation?);
        if water_content <= 0.0 || water_content > full {
            return None;
        }
        if water_content <= held {
            let stretch = if water_content < dry { Stretch::BeyondWilting } else { Stretch::PlantRange };
            return Some((coefficient * libm::pow(water_content, -exponent), stretch));
        }
        if water_content == full {
            return Some((0.0, Stretch::Full));
        }
        let entry = self.air_entry?;
        let share = (water_content - held) / (full - held);
        Some((FIELD_CAPACITY_KPA - share * (FIELD_CAPACITY_KPA - entry), Stretch::Draining))
    }

    /// Water content at a tension in kPa: the same curve read the other way.
    #[must_use]
    pub fn water_at(&self, tension_kpa: f64) -> Option<(f64, Stretch)> {
        let (coefficient, exponent) = (self.tension_coefficient?, self.tension_exponent?);
        let (held, full) = (self.field_capacity?, self.saturation?);
        if tension_kpa >= FIELD_CAPACITY_KPA {
            let beyond = tension_kpa > WILTING_KPA * (1.0 + 1e-12);
            let stretch = if beyond { Stretch::BeyondWilting } else { Stretch::PlantRange };
            let content = libm::pow(coefficient / tension_kpa, 1.0 / exponent);
            // Ground with no air left at field capacity cannot hold what the power law asks for.
            return (content <= full).then_some((content, stretch));
        }
        let entry = self.air_entry?;
        if tension_kpa <= entry {
            return Some((full, Stretch::Full));
        }
        let share = (FIELD_CAPACITY_KPA - tension_kpa) / (FIELD_CAPACITY_KPA - entry);
        Some((held + share * (full - held), Stretch::Draining))
    }
}

/// Input of `water-tension`: a soil, and either a water content or a tension.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WaterTensionQuestion {
    /// Sand, mass percent of the fine earth.
    pub sand_percent: SandPercent,
    /// Clay, mass percent of the fine earth.
    pub clay_percent: ClayPercent,
    /// Organic matter, mass percent of the fine earth.
    pub organic_matter_percent: OrganicMatter,
    /// Density relative to normal; 1 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density_factor: Option<DensityFactor>,
    /// Conductivity of the saturation extract; 0 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ec_ds_m: Option<ExtractConductivity>,
    /// Water content of the soil without stones. Give this or `tension_kpa`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water_content_m3_m3: Option<WaterContent>,
    /// Tension, as a tensiometer shows it. Give this or `water_content_m3_m3`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tension_kpa: Option<Tension>,
}

impl WaterTensionQuestion {
    /// The same soil as a question of `soil-water`.
    pub(super) fn soil(&self) -> SoilWaterQuestion {
        SoilWaterQuestion {
            sand_percent: self.sand_percent,
            clay_percent: self.clay_percent,
            organic_matter_percent: self.organic_matter_percent,
            gravel_mass_percent: None,
            density_factor: self.density_factor,
            ec_ds_m: self.ec_ds_m,
        }
    }

    /// The soil worked out, the point of its curve that was asked for, and what to say of both.
    pub(super) fn answered(&self) -> Result<Answered, Refusal> {
        let (question, note) = self.soil().checked()?;
        let water = soil_water(&question);
        let point = self.point(&water)?;
        let mut notes = notes(water.flags);
        notes.extend(note);
        notes.extend(remark(point.map(|(.., stretch)| stretch)));
        Ok(Answered { question, water, point, notes })
    }

    /// Water content, tension and stretch, or a refusal when none or both were given.
    fn point(&self, water: &SoilWater) -> Result<Option<(f64, f64, Stretch)>, Refusal> {
        match (self.water_content_m3_m3, self.tension_kpa) {
            (Some(content), None) => self.at_content(content.get(), water),
            (None, Some(tension)) => {
                let tension = tension.get();
                Ok(water.water_at(tension).map(|(content, stretch)| (content, tension, stretch)))
            }
            (given, _) => {
                let (field, text, said) = if given.is_some() {
                    (
                        "tension_kpa",
                        "both a water content and a tension were given, and one follows from the other",
                        "both",
                    )
                } else {
                    ("water_content_m3_m3", "neither a water content nor a tension was given", "neither")
                };
                Err(Refusal::new(field, text)
                    .given(said)
                    .accepted("one of water_content_m3_m3 and tension_kpa")
                    .example("tension_kpa 60"))
            }
        }
    }

    fn at_content(&self, content: f64, water: &SoilWater) -> Result<Option<(f64, f64, Stretch)>, Refusal> {
        if let Some(full) = water.saturation
            && (content > full || content <= 0.0)
        {
            return Err(Refusal::new(
                "water_content_m3_m3",
                format!(
                    "this soil can hold at most {full:.3} m³/m³ and is never quite dry, but {} was given",
                    number(content)
                ),
            )
            .given(with_unit(content, "m³/m³"))
            .accepted(format!("above 0 to {full:.3} m³/m³"))
            .example("0.22"));
        }
        let Some((tension, stretch)) = water.tension_at(content) else { return Ok(None) };
        if tension > OVEN_DRY_KPA {
            let least = water.water_at(OVEN_DRY_KPA).map_or(0.0, |(content, _)| content);
            return Err(Refusal::new(
                "water_content_m3_m3",
                format!(
                    "by these equations this soil holds {least:.3} m³/m³ even out of the oven, but {} was given",
                    number(content)
                ),
            )
            .given(with_unit(content, "m³/m³"))
            .accepted(match water.saturation {
                Some(full) => format!("{least:.3} to {full:.3} m³/m³"),
                None => format!("{least:.3} m³/m³ or more"),
            })
            .example("0.22"));
        }
        Ok(Some((content, tension, stretch)))
    }
}

/// A question of the tension curve, worked out.
pub(super) struct Answered {
    /// The soil as the equations take it.
    pub(super) question: SoilWaterInput,
    /// Its water.
    pub(super) water: SoilWater,
    /// Water content, tension and stretch; `None` where the equations give no curve.
    pub(super) point: Option<(f64, f64, Stretch)>,
    /// What to say beside the answer.
    pub(super) notes: Vec<Note>,
}

/// Output of `water-tension`.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct WaterTensionAnswer {
    /// Water content of the soil without stones.
    pub water_content_m3_m3: Option<f64>,
    /// Tension by which the soil holds it.
    pub tension_kpa: Option<f64>,
    /// Tension by which the salts hold it, at this water content (eq. 24).
    pub osmotic_tension_kpa: Option<f64>,
    /// Share of the available water still there: 1 at field capacity, 0 at the wilting point.
    pub available_share: Option<f64>,
    /// Stretch of the curve.
    pub stretch: Option<Stretch>,
}

/// The tension curve of Saxton and Rawls.
pub struct WaterTension;

impl Method for WaterTension {
    type Input = WaterTensionQuestion;
    type Output = WaterTensionAnswer;

    const CARD: Card = Card {
        name: "water-tension",
        title: "Water content and tension",
        topic: Topic::Water,
        computes: "Turns a tensiometer's reading into the water content of a soil of known texture, or a water \
                   content into the tension that roots must overcome, salts included.",
        validity: &[
            "The limits of soil-water hold here too.",
            "A water content must lie between what the curve gives for oven-dry soil (a million kPa) and what the soil holds when full.",
            "Drier than the wilting point the power law is drawn on beyond its data, and flagged.",
            "A tensiometer itself fails near 80 to 85 kPa.",
        ],
        sources: &[Cite::new("SaxtonRawls2006", "Table 1, eq. 11-15, 23-24")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        WaterTensionQuestion {
            sand_percent: SandPercent::literal(40.0),
            clay_percent: ClayPercent::literal(20.0),
            organic_matter_percent: OrganicMatter::literal(2.5),
            density_factor: None,
            ec_ds_m: None,
            water_content_m3_m3: None,
            tension_kpa: Some(Tension::literal(60.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let Answered { water, point, notes, .. } = input.answered()?;
        let content = point.map(|(content, ..)| content);
        let value = WaterTensionAnswer {
            water_content_m3_m3: content,
            tension_kpa: point.map(|(_, tension, _)| tension),
            osmotic_tension_kpa: content
                .zip(water.saturation)
                .map(|(content, full)| water.osmotic_at_saturation * full / content),
            available_share: content
                .zip(water.wilting_point)
                .zip(water.available_fine_earth)
                .map(|((content, dry), available)| ((content - dry) / available).clamp(0.0, 1.0)),
            stretch: point.map(|(.., stretch)| stretch),
        };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let Ok(Answered { question, water, .. }) = input.answered() else { return Working::new() };
        let working = super::working::steps(&question, &water);
        let value = &answer.value;
        let (Some(content), Some(tension), Some(stretch)) =
            (value.water_content_m3_m3, value.tension_kpa, value.stretch)
        else {
            return working;
        };
        let (rule, numbers, at) = match stretch {
            Stretch::PlantRange | Stretch::BeyondWilting => (
                "ψ = A θ^−B, with A = exp(ln 33 + B ln θ33)",
                format!(
                    "A = {:.4}, B = {:.4}",
                    water.tension_coefficient.unwrap_or(f64::NAN),
                    water.tension_exponent.unwrap_or(f64::NAN)
                ),
                "eq. 11, 14",
            ),
            Stretch::Draining => (
                "ψ = 33 − (θ − θ33)(33 − ψe) / (θS − θ33)",
                format!("ψe = {:.3} kPa", water.air_entry.unwrap_or(f64::NAN)),
                "eq. 12",
            ),
            Stretch::Full => ("up to air entry the soil stays full", "θ = θS".to_owned(), "eq. 13"),
        };
        working
            .step(
                "water content and tension",
                rule,
                numbers,
                format!("{content:.4} m³/m³ at {tension:.2} kPa"),
            )
            .cite(Cite::new("SaxtonRawls2006", at))
    }
}

/// What to say about a point of the curve.
fn remark(stretch: Option<Stretch>) -> Option<Note> {
    match stretch {
        None => Some(Note::new(
            NoteKind::NoValue,
            "The equations give no tension curve for this soil, so there is no value.",
        )),
        Some(Stretch::BeyondWilting) => Some(Note::new(
            NoteKind::OutsideRange,
            "Drier than the wilting point: the curve is drawn on beyond the data behind it.",
        )),
        Some(_) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn loam() -> SoilWater {
        let question = WaterTension::example().soil().checked().unwrap().0;
        soil_water(&question)
    }

    /// The curve passes through its own end points, as the definition of A and B demands.
    #[test]
    fn the_curve_passes_through_its_end_points_and_back() {
        let water = loam();
        for tension in [5.0, 10.0, 20.0, 33.0, 60.0, 400.0, 1500.0, 5000.0] {
            let (content, _) = water.water_at(tension).unwrap();
            let (back, _) = water.tension_at(content).unwrap();
            assert!((back / tension - 1.0).abs() < 1e-9, "{tension} {content} {back}");
        }
        assert!((water.tension_at(water.field_capacity.unwrap()).unwrap().0 - 33.0).abs() < 1e-9);
        assert!((water.tension_at(water.wilting_point.unwrap()).unwrap().0 - 1500.0).abs() < 1e-6);
        assert_eq!(water.water_at(1.0).unwrap().1, Stretch::Full);
    }

    #[test]
    fn one_of_content_and_tension_is_wanted() {
        let mut question = WaterTension::example();
        question.water_content_m3_m3 = Some(WaterContent::literal(0.2));
        assert_eq!(WaterTension::compute(&question).unwrap_err().field, "tension_kpa");
        question.tension_kpa = None;
        assert!(WaterTension::compute(&question).is_ok());
        question.water_content_m3_m3 = Some(WaterContent::literal(0.9));
        assert_eq!(WaterTension::compute(&question).unwrap_err().field, "water_content_m3_m3");
        question.water_content_m3_m3 = None;
        assert_eq!(WaterTension::compute(&question).unwrap_err().field, "water_content_m3_m3");
        // Drier than an oven leaves it, where the curve would run to infinity.
        for dry in [1e-300, 0.01] {
            question.water_content_m3_m3 = Some(WaterContent::literal(dry));
            assert_eq!(WaterTension::compute(&question).unwrap_err().field, "water_content_m3_m3");
        }
    }
}

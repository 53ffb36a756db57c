//! Soil water from texture, organic matter, stones, packing and salts, as a method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::ensemble::INCHES_PER_FOOT;
use super::equations::{Flags, SoilWater, SoilWaterInput, soil_water};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::composition::{ClayPercent, ROUNDING_POINTS, SandPercent};

crate::quantity! {
    /// Organic matter, share of the fine earth by mass. Organic carbon times about 1.72 is organic matter.
    pub struct OrganicMatter: "organic matter", "%", 0.0 ..= 30.0, example 2.5;
    /// Gravel and stones (> 2 mm), share of the whole soil by mass.
    pub struct GravelMass: "gravel and stones", "%", 0.0 ..= 95.0, example 10.0;
    /// Density relative to the normal density of that texture.
    pub struct DensityFactor: "density factor", "", 0.7 ..= 1.5, example 1.0;
    /// Electrical conductivity of the saturation extract.
    pub struct ExtractConductivity: "conductivity of the saturation extract", "dS/m", 0.0 ..= 100.0, example 0.8;
}

/// Input of `soil-water`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SoilWaterQuestion {
    /// Sand, mass percent of the fine earth.
    pub sand_percent: SandPercent,
    /// Clay, mass percent of the fine earth.
    pub clay_percent: ClayPercent,
    /// Organic matter, mass percent of the fine earth.
    pub organic_matter_percent: OrganicMatter,
    /// Gravel and stones, mass percent of the whole soil; none where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gravel_mass_percent: Option<GravelMass>,
    /// Density relative to normal: 0.9 loosened, 1 normal, 1.1 firm, 1.2 hard; 1 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density_factor: Option<DensityFactor>,
    /// Conductivity of the saturation extract; 0 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ec_ds_m: Option<ExtractConductivity>,
}

impl SoilWaterQuestion {
    /// The equations' input.
    ///
    /// # Errors
    /// Sand and clay that add to more than 100 %; up to [`ROUNDING_POINTS`] over is scaled back.
    pub fn checked(&self) -> Result<(SoilWaterInput, Option<Note>), Refusal> {
        checked_soil(self.sand_percent, self.clay_percent).map(|(sand_percent, clay_percent, note)| {
            let input = SoilWaterInput {
                sand_percent,
                clay_percent,
                organic_matter_percent: self.organic_matter_percent.get(),
                gravel_mass_percent: self.gravel_mass_percent.map_or(0.0, Bounded::get),
                density_factor: self.density_factor.map_or(1.0, Bounded::get),
                ec_ds_m: self.ec_ds_m.map_or(0.0, Bounded::get),
            };
            (input, note)
        })
    }
}

/// Sand and clay that leave room for silt.
fn checked_soil(sand: SandPercent, clay: ClayPercent) -> Result<(f64, f64, Option<Note>), Refusal> {
    let (sand, clay) = (sand.get(), clay.get());
    let sum = sand + clay;
    if sum <= 100.0 {
        return Ok((sand, clay, None));
    }
    if sum > 100.0 + ROUNDING_POINTS {
        return Err(Refusal::new(
            "clay_percent",
            format!("sand and clay must leave room for silt, but {sand} + {clay} % is more than 100 %"),
        )
        .given(format!("{sand} + {clay} %"))
        .accepted("sand and clay that add to 100 % or less")
        .example("sand 40, clay 20"));
    }
    let note = Note::new(
        NoteKind::Adjusted,
        format!("Sand and clay add to {sum} %, which is rounding; both were scaled to add to 100."),
    );
    Ok((sand * 100.0 / sum, clay * 100.0 / sum, Some(note)))
}

/// Output of `soil-water`. A value the equations cannot give is null, and a note says why.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct SoilWaterAnswer {
    /// Water held at 1500 kPa, of the soil without stones.
    pub wilting_point_m3_m3: Option<f64>,
    /// Water held at 33 kPa, of the soil without stones.
    pub field_capacity_m3_m3: Option<f64>,
    /// All pores, of the soil without stones.
    pub saturation_m3_m3: Option<f64>,
    /// Field capacity less wilting point, of the whole soil, stones included.
    pub available_water_m3_m3: Option<f64>,
    /// The same without stones.
    pub available_water_fine_earth_m3_m3: Option<f64>,
    /// Available water of the whole soil in inches per foot of depth.
    pub available_water_in_per_ft: Option<f64>,
    /// Saturated conductivity of the whole soil.
    pub saturated_conductivity_mm_h: Option<f64>,
    /// Saturated conductivity without stones.
    pub saturated_conductivity_fine_earth_mm_h: Option<f64>,
    /// Dry density of the whole soil.
    pub bulk_density_g_cm3: Option<f64>,
    /// Dry density without stones.
    pub matric_density_g_cm3: Option<f64>,
    /// Tension at which air enters.
    pub air_entry_kpa: Option<f64>,
    /// A in tension = A × water content^−B, kPa.
    pub tension_coefficient_kpa: Option<f64>,
    /// B in the same.
    pub tension_exponent: Option<f64>,
    /// λ = 1 / B, slope of the logarithmic tension-moisture curve.
    pub lambda: Option<f64>,
    /// Stones, percent of the whole soil by volume.
    pub gravel_volume_percent: Option<f64>,
    /// Conductivity of the whole soil over that without stones.
    pub gravel_conductivity_ratio: Option<f64>,
    /// Osmotic tension at saturation.
    pub osmotic_tension_saturation_kpa: f64,
    /// Osmotic tension at field capacity, as the salts concentrate.
    pub osmotic_tension_field_capacity_kpa: Option<f64>,
    /// Whether an input or the density lies outside the data behind the equations.
    pub outside_range: bool,
}

impl From<&SoilWater> for SoilWaterAnswer {
    fn from(water: &SoilWater) -> Self {
        let concentrated = water.saturation.zip(water.field_capacity).filter(|(_, capacity)| *capacity > 0.0);
        Self {
            wilting_point_m3_m3: water.wilting_point,
            field_capacity_m3_m3: water.field_capacity,
            saturation_m3_m3: water.saturation,
            available_water_m3_m3: water.available,
            available_water_fine_earth_m3_m3: water.available_fine_earth,
            available_water_in_per_ft: water.available.map(|share| share * INCHES_PER_FOOT),
            saturated_conductivity_mm_h: water.saturated_conductivity,
            saturated_conductivity_fine_earth_mm_h: water.saturated_conductivity_fine_earth,
            bulk_density_g_cm3: water.bulk_density,
            matric_density_g_cm3: water.matric_density,
            air_entry_kpa: water.air_entry,
            tension_coefficient_kpa: water.tension_coefficient,
            tension_exponent: water.tension_exponent,
            lambda: water.lambda,
            gravel_volume_percent: water.gravel_volume.map(|share| 100.0 * share),
            gravel_conductivity_ratio: water.gravel_conductivity_ratio,
            osmotic_tension_saturation_kpa: water.osmotic_at_saturation,
            osmotic_tension_field_capacity_kpa: concentrated
                .map(|(saturation, capacity)| water.osmotic_at_saturation * saturation / capacity),
            outside_range: water.flags.outside_range(),
        }
    }
}

/// What a reader should know about an answer of the equations, most important first.
#[must_use]
pub fn notes(flags: Flags) -> Vec<Note> {
    use NoteKind::{Adjusted, NoValue, OutsideRange};
    let all = [
        (
            flags.impossible,
            NoValue,
            "The equations give no possible soil for these numbers, so there is no value.",
        ),
        (
            flags.airless,
            NoValue,
            "At this density no air would be left at field capacity, so the equations give no conductivity: expect the ground to pass next to no water. It cannot hold more than it holds when full, so field capacity and available water come out too high.",
        ),
        (
            flags.nothing_available,
            NoValue,
            "The wilting point comes out no lower than field capacity, so no available water can be given.",
        ),
        (
            flags.air_entry_too_high,
            NoValue,
            "The tension at which air enters comes out above that of field capacity, so none is given.",
        ),
        (
            flags.clay_outside,
            OutsideRange,
            "Clay is above 60 %, more than in any soil behind the equations: take the numbers as a direction only.",
        ),
        (
            flags.organic_matter_outside,
            OutsideRange,
            "Organic matter is above 8 %, more than in the soils behind the equations: take the numbers as a direction only.",
        ),
        (
            flags.density_factor_outside,
            OutsideRange,
            "The density factor lies outside 0.9 to 1.3, the range the equations cover.",
        ),
        (
            flags.density_outside,
            OutsideRange,
            "The density comes out outside 1.0 to 1.8 g/cm³, the range of the soils behind the equations.",
        ),
        (
            flags.wilting_point_raised,
            Adjusted,
            "The wilting point came out below zero and was taken as 0; with it goes any conductivity and tension curve.",
        ),
        (
            flags.air_entry_raised,
            Adjusted,
            "The tension at which air enters came out below zero, as it does for sands and for much organic matter, and was taken as 0.",
        ),
    ];
    all.into_iter().filter(|(shown, ..)| *shown).map(|(_, kind, text)| Note::new(kind, text)).collect()
}

/// Soil water by the equations of Saxton and Rawls.
pub struct SoilWaterMethod;

impl Method for SoilWaterMethod {
    type Input = SoilWaterQuestion;
    type Output = SoilWaterAnswer;

    const CARD: Card = Card {
        name: "soil-water",
        title: "How much water the ground holds and passes",
        topic: Topic::Water,
        computes: "From sand, clay and organic matter it estimates the water held at the wilting point, at field \
                   capacity and when full, what of it plants can use, how fast water passes and how dense the \
                   ground is; stones, packing and salts are taken into account.",
        validity: &[
            "Made from soils with at most 60 % clay and 8 % organic matter and densities of about 1.0 to 1.8 g/cm³; beyond that the answer is flagged.",
            "Density factors of 0.9 to 1.3 are covered; others are flagged.",
            "The equations contradict themselves at some corners (compacted clay, clean sand): there the value is null and a note says why.",
            "Half the variation of real soils is not in the equations: conductivity is good to a factor of a few.",
            "Wilting point, field capacity and saturation are of the soil without stones; available water, conductivity and bulk density are of the whole soil.",
        ],
        sources: &[Cite::new("SaxtonRawls2006", "Table 1, eq. 1-24")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        SoilWaterQuestion {
            sand_percent: SandPercent::literal(40.0),
            clay_percent: ClayPercent::literal(20.0),
            organic_matter_percent: OrganicMatter::literal(2.5),
            gravel_mass_percent: Some(GravelMass::literal(10.0)),
            density_factor: Some(DensityFactor::literal(1.0)),
            ec_ds_m: Some(ExtractConductivity::literal(0.8)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (question, note) = input.checked()?;
        let water = soil_water(&question);
        let mut remarks = notes(water.flags);
        remarks.extend(note);
        if water.saturated_conductivity.is_some() {
            remarks.push(Note::new(
                NoteKind::Method,
                "Conductivity guessed from texture is good to a factor of a few; a ring test in the field tells more.",
            ));
        }
        Ok(Answer::with_notes(SoilWaterAnswer::from(&water), remarks))
    }

    fn working(input: &Self::Input, _: &Answer<Self::Output>) -> Working {
        let Ok((question, _)) = input.checked() else { return Working::new() };
        super::working::steps(&question, &soil_water(&question))
    }
}

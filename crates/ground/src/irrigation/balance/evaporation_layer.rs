//! What bare and half-covered ground loses to the air on one day.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::available::{FieldCapacity, WiltingPoint, ordered};
use super::evaporation::{
    Air, STANDARD_AIR, ceiling, coefficient, cover_from, evaporable_mm, exposed_and_wetted, reduction,
    under_canopy,
};
use crate::kit::quantity::with_unit;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::quantity! {
    /// What the plants alone draw, over the reference.
    pub struct BasalCoefficient: "basal crop coefficient", "", 0.0 ..= 1.6, example 0.9;
    /// Height of the crop.
    pub struct CropHeight: "crop height", "m", 0.0 ..= 10.0, example 1.0;
    /// Wind at 2 m above the ground.
    pub struct WindAtTwoMetres: "wind at 2 m", "m/s", 0.0 ..= 30.0, example 3.0;
    /// Least relative humidity of the day.
    pub struct LeastHumidity: "least relative humidity", "%", 0.0 ..= 100.0, example 45.0;
    /// Share of the ground that the plants cover.
    pub struct CoverShare: "ground covered", "%", 0.0 ..= 100.0, example 50.0;
    /// Share of the ground that the water wets.
    pub struct WettedShare: "ground wetted", "%", 1.0 ..= 100.0, example 35.0;
    /// Thickness of the layer that dries by evaporation.
    pub struct SurfaceLayer: "surface layer", "m", 0.05 ..= 0.2, example 0.1;
    /// Water that evaporates freely.
    pub struct ReadilyEvaporable: "readily evaporable water", "mm", 0.5 ..= 20.0, example 8.0;
    /// Water missing from the surface layer.
    pub struct SurfaceDepletion: "depletion of the surface layer", "mm", 0.0 ..= 100.0, example 0.0;
    /// Reference evapotranspiration of the day.
    pub struct ReferenceEt: "reference evapotranspiration", "mm/d", 0.0 ..= 20.0, example 5.0;
}

/// Least basal coefficient of bare ground (p. 149: 0.15 to 0.20).
const LEAST_BASAL: f64 = 0.15;

/// Input of `evaporation-layer`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EvaporationInput {
    /// Water at field capacity.
    pub field_capacity_m3_m3: FieldCapacity,
    /// Water at the wilting point.
    pub wilting_point_m3_m3: WiltingPoint,
    /// Thickness of the surface layer; 0.1 m where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub layer_m: Option<SurfaceLayer>,
    /// Water that evaporates freely (by texture 2 to 12 mm).
    pub readily_evaporable_mm: ReadilyEvaporable,
    /// Water missing from the surface layer at the start of the day, after any early watering.
    pub surface_depletion_mm: SurfaceDepletion,
    /// What the plants alone draw, over the reference.
    pub basal_coefficient: BasalCoefficient,
    /// Height of the crop; 0 for bare ground.
    pub height_m: CropHeight,
    /// Share of the ground the plants cover; from the basal coefficient where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cover_percent: Option<CoverShare>,
    /// Share of the ground wetted: 100 by rain or sprinklers, 30 to 40 by drip.
    pub wetted_percent: WettedShare,
    /// Whether drip wets the ground under the plants.
    #[serde(default)]
    pub under_canopy: bool,
    /// Wind; 2 m/s where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wind_m_s: Option<WindAtTwoMetres>,
    /// Least humidity; 45 % where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rh_min_percent: Option<LeastHumidity>,
    /// Reference evapotranspiration.
    pub reference_et_mm_d: ReferenceEt,
}

/// Output of `evaporation-layer`.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct EvaporationOutput {
    /// Water the surface layer can lose in all.
    pub evaporable_mm: f64,
    /// Most that crop and wet ground can lose, as a coefficient.
    pub ceiling_coefficient: f64,
    /// Share of the ground covered.
    pub cover_fraction: f64,
    /// Share of the ground both open and wetted.
    pub exposed_wetted_fraction: f64,
    /// How far the drying surface holds evaporation down, 0 to 1.
    pub reduction_coefficient: f64,
    /// Evaporation coefficient.
    pub evaporation_coefficient: f64,
    /// Plants and ground together, as a coefficient.
    pub crop_coefficient: f64,
    /// Evaporation of the day over the whole ground.
    pub evaporation_mm: f64,
}

/// The surface layer.
pub struct EvaporationLayer;

impl Method for EvaporationLayer {
    type Input = EvaporationInput;
    type Output = EvaporationOutput;

    const CARD: Card = Card {
        name: "evaporation-layer",
        title: "Evaporation from bare and half-covered ground",
        topic: Topic::Irrigation,
        computes: "What the top of the ground loses to the air on one day, beside what the plants draw. It is most \
                   of the loss while a crop is young, and all of it on bare ground.",
        validity: &[
            "One day; the surface must have been followed to it day by day.",
            "Wind is held to 1 to 6 m/s and humidity to 20 to 80 %, as in the source.",
            "No mulch: a plastic or straw cover takes most of this loss away.",
        ],
        sources: &[Cite::new("Fao56", "eq. 71-76")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        EvaporationInput {
            field_capacity_m3_m3: FieldCapacity::literal(0.23),
            wilting_point_m3_m3: WiltingPoint::literal(0.10),
            layer_m: None,
            readily_evaporable_mm: ReadilyEvaporable::literal(8.0),
            surface_depletion_mm: SurfaceDepletion::literal(0.0),
            basal_coefficient: BasalCoefficient::literal(0.3),
            height_m: CropHeight::literal(0.3),
            cover_percent: Some(CoverShare::literal(8.0)),
            wetted_percent: WettedShare::literal(80.0),
            under_canopy: false,
            wind_m_s: Some(WindAtTwoMetres::literal(1.6)),
            rh_min_percent: Some(LeastHumidity::literal(35.0)),
            reference_et_mm_d: ReferenceEt::literal(4.5),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        ordered(input.field_capacity_m3_m3, input.wilting_point_m3_m3)?;
        let evaporable = evaporable_mm(
            input.field_capacity_m3_m3.get(),
            input.wilting_point_m3_m3.get(),
            input.layer_m.map_or(0.1, Bounded::get),
        );
        let (readily, depletion) = (input.readily_evaporable_mm.get(), input.surface_depletion_mm.get());
        for (field, value) in [("readily_evaporable_mm", readily), ("surface_depletion_mm", depletion)] {
            if value > evaporable {
                return Err(Refusal::new(
                    field,
                    format!(
                        "the surface layer loses no more than {evaporable:.1} mm in all, but {} was given",
                        with_unit(value, "mm")
                    ),
                )
                .given(with_unit(value, "mm"))
                .accepted(format!("up to {evaporable:.1} mm"))
                .example(format!("{:.1} mm", evaporable / 2.0)));
            }
        }
        let basal = input.basal_coefficient.get();
        let height = input.height_m.get();
        let ceiling = ceiling(basal, height, air(input));
        let cover = input
            .cover_percent
            .map_or_else(|| cover_from(basal, LEAST_BASAL, ceiling, height), |c| c.get() / 100.0);
        let mut wetted = input.wetted_percent.get() / 100.0;
        if input.under_canopy {
            wetted = under_canopy(wetted, cover);
        }
        let exposed = exposed_and_wetted(cover, wetted);
        let reduction = reduction(depletion, evaporable, readily);
        let ke = coefficient(reduction, ceiling, basal, exposed);
        Ok(Answer::plain(EvaporationOutput {
            evaporable_mm: evaporable,
            ceiling_coefficient: ceiling,
            cover_fraction: cover,
            exposed_wetted_fraction: exposed,
            reduction_coefficient: reduction,
            evaporation_coefficient: ke,
            crop_coefficient: basal + ke,
            evaporation_mm: ke * input.reference_et_mm_d.get(),
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let (basal, air) = (input.basal_coefficient.get(), air(input));
        Working::new()
            .step(
                "water the surface layer can lose",
                "TEW = 1000 (θfc − 0.5 θwp) Ze",
                format!(
                    "1000 ({} − 0.5 × {}) {}",
                    input.field_capacity_m3_m3.get(),
                    input.wilting_point_m3_m3.get(),
                    input.layer_m.map_or(0.1, Bounded::get)
                ),
                format!("{:.1} mm", value.evaporable_mm),
            )
            .cite(Cite::new("Fao56", "eq. 73"))
            .step(
                "ceiling",
                "the greater of 1.2 + [0.04 (u2 − 2) − 0.004 (RHmin − 45)] (h/3)^0.3 and Kcb + 0.05",
                format!(
                    "u2 = {} m/s, RHmin = {} %, h = {} m, Kcb = {basal}",
                    air.wind_m_s,
                    air.rh_min_percent,
                    input.height_m.get()
                ),
                format!("{:.3}", value.ceiling_coefficient),
            )
            .cite(Cite::new("Fao56", "eq. 72"))
            .step(
                "open and wetted ground",
                "the lesser of 1 − fc and fw",
                format!("fc = {:.3}", value.cover_fraction),
                format!("{:.3}", value.exposed_wetted_fraction),
            )
            .cite(Cite::new("Fao56", "eq. 75, 76"))
            .step(
                "drying of the surface",
                "Kr = 1 up to REW, then (TEW − De) / (TEW − REW)",
                format!(
                    "De = {}, REW = {} mm",
                    input.surface_depletion_mm.get(),
                    input.readily_evaporable_mm.get()
                ),
                format!("{:.3}", value.reduction_coefficient),
            )
            .cite(Cite::new("Fao56", "eq. 74"))
            .step(
                "evaporation coefficient",
                "Ke = the lesser of Kr (Kcmax − Kcb) and few Kcmax",
                format!(
                    "{:.3} ({:.3} − {basal}) and {:.3} × {:.3}",
                    value.reduction_coefficient,
                    value.ceiling_coefficient,
                    value.exposed_wetted_fraction,
                    value.ceiling_coefficient
                ),
                format!("{:.3}", value.evaporation_coefficient),
            )
            .cite(Cite::new("Fao56", "eq. 71"))
            .step(
                "evaporation",
                "E = Ke ET0",
                format!("{:.3} × {}", value.evaporation_coefficient, input.reference_et_mm_d.get()),
                format!("{:.2} mm", value.evaporation_mm),
            )
            .cite(Cite::new("Fao56", "eq. 69"))
    }
}

fn air(input: &EvaporationInput) -> Air {
    Air {
        wind_m_s: input.wind_m_s.map_or(STANDARD_AIR.wind_m_s, Bounded::get),
        rh_min_percent: input.rh_min_percent.map_or(STANDARD_AIR.rh_min_percent, Bounded::get),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_surface_cannot_lose_more_than_it_holds() {
        let mut input = EvaporationLayer::example();
        input.surface_depletion_mm = SurfaceDepletion::literal(18.5);
        assert_eq!(EvaporationLayer::compute(&input).unwrap_err().field, "surface_depletion_mm");
        input.surface_depletion_mm = SurfaceDepletion::literal(17.5);
        assert!(EvaporationLayer::compute(&input).unwrap().value.evaporation_mm > 0.0);
    }

    #[test]
    fn drip_under_the_plants_leaves_less_open() {
        let mut input = EvaporationLayer::example();
        input.cover_percent = Some(CoverShare::literal(60.0));
        let open = EvaporationLayer::compute(&input).unwrap().value.exposed_wetted_fraction;
        input.under_canopy = true;
        input.wetted_percent = WettedShare::literal(35.0);
        let shaded = EvaporationLayer::compute(&input).unwrap().value.exposed_wetted_fraction;
        assert!((open - 0.4).abs() < 1e-12 && (shaded - 0.35 * 0.6).abs() < 1e-12, "{open} {shaded}");
    }
}

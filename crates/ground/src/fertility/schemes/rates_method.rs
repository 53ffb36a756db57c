//! Rates of a crop under a named scheme, as a method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::class::{ClassFound, interpret_in};
use super::potato::{HaulmDays, VarietyGroup, whole};
use super::rates::{CropRates, Nutrient, RateQuestion, crop_rates};
use super::scheme::Scheme;
use super::supply::SupplyIndex;
use super::supply_method::SupplyOrganicMatter;
use super::yield_nitrogen::FreshYield;
use crate::fertility::analysis::report::{
    Amount, Analyte, BasisDepth, LabFigure, LabReport, Procedure, ReportUnit,
};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Provenance, Refusal, Topic, Working};

/// Input of `crop-nutrient-rates`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CropRatesInput {
    /// The scheme.
    pub scheme: Scheme,
    /// The crop, by the scheme's key.
    pub crop: String,
    /// The laboratory's figures.
    #[serde(default)]
    pub figures: Vec<LabFigure>,
    /// Depth that figures per area speak of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub basis_depth_cm: Option<BasisDepth>,
    /// Soil nitrogen supply index (United Kingdom).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sns_index: Option<SupplyIndex>,
    /// Organic matter (Illinois).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub organic_matter_percent: Option<SupplyOrganicMatter>,
    /// Yield looked for; potash of potato and cabbage is adjusted to it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub yield_t_ha: Option<FreshYield>,
    /// Potatoes: days from half emergence to the death of the haulm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub potato_season_d: Option<HaulmDays>,
    /// Potatoes: variety group.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub potato_group: Option<VarietyGroup>,
}

/// Rates of a crop.
pub struct CropNutrientRates;

impl Method for CropNutrientRates {
    type Input = CropRatesInput;
    type Output = CropRates;

    const CARD: Card = Card {
        name: "crop-nutrient-rates",
        title: "Nutrients for a crop under a scheme",
        topic: Topic::Fertility,
        computes: "Nitrogen, phosphate, potash, magnesia and boron for a crop, from the laboratory's figures, as one named \
                   published scheme gives them. What the scheme does not give is named, and not filled in from another.",
        validity: &[
            "Before credits: take off what manure, compost, cover crops and starter give.",
            "Only schemes and crops that were read, or recalled where the scheme says so.",
        ],
        sources: &[
            Cite::new("Rb209Vegetables", "T6.11 to T6.26"),
            Cite::new("Rb209Potatoes", "T5.2 and T5.10"),
            Cite::new("DelawareBrassicas", "recommendations"),
            Cite::new("CornellBroccoli", "recommendations"),
            Cite::new("FloridaCropPages", "crop page"),
            Cite::new("UfifasVegetables", "standardized recommendations"),
            Cite::new("UtahVegetableGuide", "soil and fertility"),
            Cite::new("GeorgiaCropSheets", "cabbage"),
            Cite::new("SwiaderPumpkin", "nitrogen by organic matter"),
        ],
        cautions: &["Rules of your state or country on nutrients and water override any rate here."],
    };

    fn example() -> Self::Input {
        let figure = |analyte, procedure, value| LabFigure {
            analyte,
            procedure,
            unit: ReportUnit::MgPerL,
            amount: Amount::Exactly(value),
        };
        CropRatesInput {
            scheme: Scheme::Rb209,
            crop: "carrot".to_owned(),
            figures: vec![
                figure(Analyte::Phosphorus, Procedure::Olsen, 20.0),
                figure(Analyte::Potassium, Procedure::AmmoniumNitrate, 200.0),
            ],
            basis_depth_cm: None,
            sns_index: Some(SupplyIndex::literal(1.0)),
            organic_matter_percent: None,
            yield_t_ha: None,
            potato_season_d: None,
            potato_group: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let report = LabReport {
            basis_depth_cm: input.basis_depth_cm,
            figures: input.figures.clone(),
            ..LabReport::new("")
        };
        if !report.figures.is_empty() {
            report.check()?;
        }
        let mut notes = Vec::new();
        let mut class = |analyte: Analyte| -> Option<ClassFound> {
            let figure = report.first(analyte)?;
            match interpret_in(input.scheme, &report, figure) {
                super::Interpretation::Class(found) => Some(*found),
                super::Interpretation::NoScheme { why } => {
                    notes.push(Note::new(NoteKind::NoValue, why));
                    None
                }
            }
        };
        let (p, k, mg) = (class(Analyte::Phosphorus), class(Analyte::Potassium), class(Analyte::Magnesium));
        let potato = match (input.potato_season_d, input.potato_group) {
            (Some(days), Some(group)) => Some((days.get(), whole("potato_group", group.get())?)),
            _ => None,
        };
        let sns_index = input.sns_index.map(|index| whole("sns_index", index.get())).transpose()?;
        let rates = crop_rates(
            input.scheme,
            &RateQuestion {
                crop: &input.crop,
                phosphorus: p.as_ref(),
                potassium: k.as_ref(),
                magnesium: mg.as_ref(),
                sns_index,
                organic_matter_percent: input.organic_matter_percent.map(Bounded::get),
                yield_t_ha: input.yield_t_ha.map(Bounded::get),
                potato,
            },
        )?;
        for missing in &rates.missing {
            notes.push(Note::new(
                NoteKind::NoValue,
                format!("No rate of {}: {}.", missing.nutrient.words(), missing.why),
            ));
        }
        let unread = Nutrient::ALL
            .iter()
            .filter_map(|nutrient| rates.of(*nutrient))
            .any(|rate| rate.provenance != Provenance::Read);
        if unread || [&p, &k, &mg].into_iter().flatten().any(|found| found.provenance != Provenance::Read) {
            notes.push(Note::new(NoteKind::Provenance, input.scheme.says()));
        }
        Ok(Answer::with_notes(rates, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Nutrient::ALL.iter().fold(Working::new(), |working, nutrient| {
            let Some(rate) = answer.value.of(*nutrient) else { return working };
            working.step(
                nutrient.words(),
                format!("{}, {}", input.scheme.title(), rate.at),
                if rate.class.is_empty() {
                    "hangs on no class".to_owned()
                } else {
                    format!("class {}", rate.class)
                },
                format!("{:.0} to {:.0}, {:.0} kg/ha", rate.low_kg_ha, rate.high_kg_ha, rate.target_kg_ha),
            )
        })
    }
}

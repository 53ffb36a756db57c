//! A laboratory's figure in every unit a grower meets.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::oxides::OxideOf;
use super::soil_mass::{
    FigureDensity, FigureDepth, G_M2_PER_LB_1000FT2, G_M2_PER_LB_ACRE, KG_PER_LB, basis_note,
    over_double_basis, soil_mass_kg_m2,
};
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// The number that stands on the report.
    pub struct FigureAmount: "figure of the report", "", 0.0 ..= 1_000_000.0, example 30.0;
    /// Area of a bed.
    pub struct FigureArea: "area of the bed", "m²", 0.01 ..= 100_000.0, example 23.2;
    /// Distance between rows.
    pub struct FigureRowSpacing: "distance between rows", "cm", 5.0 ..= 500.0, example 76.2;
}

/// Units of a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FigureUnit {
    /// mg in a kg of dry soil.
    Ppm,
    /// mg in a litre of soil.
    MgPerL,
    /// Pounds an acre.
    LbPerAcre,
    /// Kilograms a hectare.
    KgPerHa,
    /// Pounds on 1000 square feet.
    #[serde(rename = "lb_per_1000ft2")]
    LbPer1000Ft2,
    /// Pounds on 100 square feet.
    #[serde(rename = "lb_per_100ft2")]
    LbPer100Ft2,
    /// Grams on a square metre.
    GPerM2,
}

impl FigureUnit {
    /// Grams on a square metre in one of it, for a layer of that depth and density.
    #[must_use]
    pub fn g_m2(self, depth_cm: f64, density_g_cm3: f64) -> f64 {
        match self {
            Self::Ppm => soil_mass_kg_m2(depth_cm, density_g_cm3) / 1000.0,
            // A litre of soil is 1 cm on a tenth of a square metre.
            Self::MgPerL => depth_cm / 100.0,
            Self::LbPerAcre => G_M2_PER_LB_ACRE,
            Self::KgPerHa => 0.1,
            Self::LbPer1000Ft2 => G_M2_PER_LB_1000FT2,
            Self::LbPer100Ft2 => 10.0 * G_M2_PER_LB_1000FT2,
            Self::GPerM2 => 1.0,
        }
    }

    /// As written after a number.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Ppm => "ppm",
            Self::MgPerL => "mg/L",
            Self::LbPerAcre => "lb/acre",
            Self::KgPerHa => "kg/ha",
            Self::LbPer1000Ft2 => "lb/1000 ft²",
            Self::LbPer100Ft2 => "lb/100 ft²",
            Self::GPerM2 => "g/m²",
        }
    }
}

/// Is the figure of the element or of its compound?
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum StatedAs {
    /// The element.
    #[default]
    Element,
    /// The oxide or carbonate.
    Compound,
}

/// Input of `soil-figure-units`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FigureUnitsInput {
    /// The figure.
    pub amount: FigureAmount,
    /// Its unit.
    pub unit: FigureUnit,
    /// Depth of the layer.
    pub depth_cm: FigureDepth,
    /// Dry bulk density of the layer.
    pub density_g_cm3: FigureDensity,
    /// Of which nutrient, where it is also wanted as oxide or carbonate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nutrient: Option<OxideOf>,
    /// Is the figure of the element or of the compound?
    #[serde(default)]
    pub stated_as: StatedAs,
    /// Area of a bed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bed_area_m2: Option<FigureArea>,
    /// Distance between rows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub row_spacing_cm: Option<FigureRowSpacing>,
}

/// One quantity in every unit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct InEveryUnit {
    /// By mass of the dry soil.
    pub ppm: f64,
    /// By volume of the soil as it lies.
    pub mg_per_l: f64,
    /// An acre.
    pub lb_per_acre: f64,
    /// A hectare.
    pub kg_per_ha: f64,
    /// On 1000 square feet.
    #[serde(rename = "lb_per_1000ft2")]
    pub lb_per_1000ft2: f64,
    /// On 100 square feet.
    #[serde(rename = "lb_per_100ft2")]
    pub lb_per_100ft2: f64,
    /// On a square metre.
    pub g_per_m2: f64,
    /// On the bed.
    pub g_per_bed: Option<f64>,
    /// On the bed.
    pub lb_per_bed: Option<f64>,
    /// On a metre of row.
    pub g_per_row_m: Option<f64>,
    /// On 100 feet of row.
    #[serde(rename = "oz_per_100ft_of_row")]
    pub oz_per_100ft_of_row: Option<f64>,
}

/// Output of `soil-figure-units`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct FigureUnitsOutput {
    /// The element (or the figure as given, where no nutrient is named).
    pub element: InEveryUnit,
    /// The oxide or carbonate.
    pub compound: Option<InEveryUnit>,
    /// The compound as it is written.
    pub compound_name: Option<String>,
    /// Mass of the compound that holds one of the element.
    pub compound_per_element: Option<f64>,
    /// Soil of this layer over the two million pounds an acre that laboratories count with.
    pub over_laboratory_basis: f64,
}

/// A figure in every unit.
pub struct SoilFigureUnits;

/// A quantity on a square metre in every unit.
#[must_use]
pub fn in_every_unit(
    g_per_m2: f64,
    depth_cm: f64,
    density_g_cm3: f64,
    bed_area_m2: Option<f64>,
    row_spacing_cm: Option<f64>,
) -> InEveryUnit {
    let of = |unit: FigureUnit| g_per_m2 / unit.g_m2(depth_cm, density_g_cm3);
    let g_per_bed = bed_area_m2.map(|area| area * g_per_m2);
    let g_per_row_m = row_spacing_cm.map(|spacing| spacing / 100.0 * g_per_m2);
    InEveryUnit {
        ppm: of(FigureUnit::Ppm),
        mg_per_l: of(FigureUnit::MgPerL),
        lb_per_acre: of(FigureUnit::LbPerAcre),
        kg_per_ha: of(FigureUnit::KgPerHa),
        lb_per_1000ft2: of(FigureUnit::LbPer1000Ft2),
        lb_per_100ft2: of(FigureUnit::LbPer100Ft2),
        g_per_m2,
        g_per_bed,
        lb_per_bed: g_per_bed.map(|g| g / (1000.0 * KG_PER_LB)),
        g_per_row_m,
        // 100 ft are 30.48 m, 16 oz a pound.
        oz_per_100ft_of_row: g_per_row_m.map(|g| g * 30.48 * 16.0 / (1000.0 * KG_PER_LB)),
    }
}

impl Method for SoilFigureUnits {
    type Input = FigureUnitsInput;
    type Output = FigureUnitsOutput;

    const CARD: Card = Card {
        name: "soil-figure-units",
        title: "A soil figure in other units",
        topic: Topic::Fertility,
        computes: "A figure of a soil report in ppm, pounds an acre, kilograms a hectare, pounds on 1000 square feet, on a \
                   bed and along a row, as the element and as the oxide that bags speak in.",
        validity: &[
            "ppm and amounts per area are joined by the depth and the density of the layer: twice the ppm is pounds an acre \
             only where the layer weighs 2 million pounds an acre.",
            "mg/L of scooped soil is taken as mg in a litre of the ground as it lies.",
        ],
        sources: &[
            Cite::new("NistSP811", "appendix B"),
            Cite::new("CiaawAtomicWeights", "abridged standard atomic weights"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        FigureUnitsInput {
            amount: FigureAmount::literal(30.0),
            unit: FigureUnit::Ppm,
            depth_cm: FigureDepth::literal(16.93),
            density_g_cm3: FigureDensity::literal(1.324),
            nutrient: Some(OxideOf::Phosphorus),
            stated_as: StatedAs::Element,
            bed_area_m2: Some(FigureArea::literal(23.2)),
            row_spacing_cm: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        if input.stated_as == StatedAs::Compound && input.nutrient.is_none() {
            return Err(Refusal::new("nutrient", "a figure stated as the compound needs the nutrient named")
                .given("nothing")
                .accepted("phosphorus, potassium, calcium, magnesium, sulfur or nitrate_nitrogen")
                .example("phosphorus"));
        }
        let (depth, density) = (input.depth_cm.get(), input.density_g_cm3.get());
        let given = input.amount.get() * input.unit.g_m2(depth, density);
        let factor = input.nutrient.map(OxideOf::per_element);
        let element = match (input.stated_as, factor) {
            (StatedAs::Compound, Some(factor)) => given / factor,
            _ => given,
        };
        let (area, spacing) = (input.bed_area_m2.map(Bounded::get), input.row_spacing_cm.map(Bounded::get));
        let told = |g_m2: f64| in_every_unit(g_m2, depth, density, area, spacing);
        let mut notes: Vec<Note> = basis_note(depth, density).into_iter().collect();
        if input.unit == FigureUnit::MgPerL {
            notes.push(Note::new(
                NoteKind::Method,
                "Scooped soil is loose and sieved; taking its litre for a litre of the ground is a convention, good to a \
                 fifth or so (judgement).",
            ));
        }
        Ok(Answer::with_notes(
            FigureUnitsOutput {
                element: told(element),
                compound: factor.map(|factor| told(element * factor)),
                compound_name: input.nutrient.map(|nutrient| nutrient.compound().to_owned()),
                compound_per_element: factor,
                over_laboratory_basis: over_double_basis(depth, density),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let (depth, density) = (input.depth_cm.get(), input.density_g_cm3.get());
        let mut working = Working::new()
            .step(
                "soil of the layer",
                "10 × depth in cm × density in g/cm³",
                format!("10 × {} × {}", number(depth), number(density)),
                format!("{:.1} kg/m²", soil_mass_kg_m2(depth, density)),
            )
            .step(
                "the figure on a square metre",
                "the figure × what one of its unit is in g/m²",
                format!(
                    "{} {} × {:.5}",
                    number(input.amount.get()),
                    input.unit.symbol(),
                    input.unit.g_m2(depth, density)
                ),
                format!("{:.4} g/m²", input.amount.get() * input.unit.g_m2(depth, density)),
            )
            .cite(Self::CARD.sources[0]);
        if let (Some(nutrient), Some(factor)) = (input.nutrient, answer.value.compound_per_element) {
            working = working
                .step(
                    format!("{} in {}", nutrient.element(), nutrient.compound()),
                    "ratio of the atomic masses",
                    format!("{} / {}", nutrient.compound(), nutrient.element()),
                    format!("{factor:.4}"),
                )
                .cite(Self::CARD.sources[1]);
        }
        working
    }
}

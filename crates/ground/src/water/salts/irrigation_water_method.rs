//! `irrigation-water-hazard`: a water analysis rated.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::irrigation_water::{
    Hazard, Restriction, WaterReaches, bicarbonate_hazard, boron_hazard, chloride_ground_hazard,
    infiltration_hazard, nitrate_hazard, on_leaves_hazard, residual_carbonate, residual_carbonate_hazard,
    salinity_hazard, sodium_adsorption_ratio, sodium_ground_hazard,
};
use super::leaching::WaterEc;
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Concentration of an ion by mass.
    pub struct IonMass: "concentration", "mg/L", 0.0 ..= 50000.0, example 46.0;
    /// Concentration of an ion by charge.
    pub struct IonCharge: "concentration", "me/L", 0.0 ..= 2000.0, example 2.0;
    /// Acidity of the water.
    pub struct WaterPh: "pH of the water", "", 2.0 ..= 12.0, example 7.4;
}

/// Mass of a milliequivalent, mg (atomic and molecular masses over charge).
const SODIUM: f64 = 22.99;
const CALCIUM: f64 = 20.04;
const MAGNESIUM: f64 = 12.15;
const CHLORIDE: f64 = 35.45;
const BICARBONATE: f64 = 61.02;
const CARBONATE: f64 = 30.00;

/// Input of `irrigation-water-hazard`. Give what the laboratory gave: each ion in mg/L or in me/L.
#[derive(Debug, Clone, Default, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WaterAnalysis {
    /// EC of the water.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ec_ds_m: Option<WaterEc>,
    /// Sodium by mass.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sodium_mg_l: Option<IonMass>,
    /// Sodium by charge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sodium_me_l: Option<IonCharge>,
    /// Calcium by mass.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub calcium_mg_l: Option<IonMass>,
    /// Calcium by charge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub calcium_me_l: Option<IonCharge>,
    /// Magnesium by mass.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub magnesium_mg_l: Option<IonMass>,
    /// Magnesium by charge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub magnesium_me_l: Option<IonCharge>,
    /// Chloride by mass.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chloride_mg_l: Option<IonMass>,
    /// Chloride by charge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chloride_me_l: Option<IonCharge>,
    /// Bicarbonate by mass.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bicarbonate_mg_l: Option<IonMass>,
    /// Bicarbonate by charge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bicarbonate_me_l: Option<IonCharge>,
    /// Carbonate by mass.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub carbonate_mg_l: Option<IonMass>,
    /// Carbonate by charge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub carbonate_me_l: Option<IonCharge>,
    /// Boron.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub boron_mg_l: Option<IonMass>,
    /// Nitrogen in nitrate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nitrate_nitrogen_mg_l: Option<IonMass>,
    /// pH.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ph: Option<WaterPh>,
    /// Does the water reach the ground only, or leaves too? The ground only where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reaches: Option<WaterReaches>,
}

/// Ions by charge.
struct Ions {
    sodium: Option<f64>,
    calcium: Option<f64>,
    magnesium: Option<f64>,
    chloride: Option<f64>,
    bicarbonate: Option<f64>,
    carbonate: Option<f64>,
}

impl WaterAnalysis {
    fn ions(&self) -> Result<Ions, Refusal> {
        Ok(Ions {
            sodium: by_charge("sodium", self.sodium_mg_l, self.sodium_me_l, SODIUM)?,
            calcium: by_charge("calcium", self.calcium_mg_l, self.calcium_me_l, CALCIUM)?,
            magnesium: by_charge("magnesium", self.magnesium_mg_l, self.magnesium_me_l, MAGNESIUM)?,
            chloride: by_charge("chloride", self.chloride_mg_l, self.chloride_me_l, CHLORIDE)?,
            bicarbonate: by_charge("bicarbonate", self.bicarbonate_mg_l, self.bicarbonate_me_l, BICARBONATE)?,
            carbonate: by_charge("carbonate", self.carbonate_mg_l, self.carbonate_me_l, CARBONATE)?,
        })
    }
}

fn by_charge(
    name: &str,
    mass: Option<IonMass>,
    charge: Option<IonCharge>,
    weight: f64,
) -> Result<Option<f64>, Refusal> {
    match (mass, charge) {
        (Some(_), Some(_)) => Err(Refusal::new(
            format!("{name}_me_l"),
            format!("{name} was given in mg/L and in me/L, and one follows from the other"),
        )
        .given("both")
        .accepted(format!("one of {name}_mg_l and {name}_me_l"))
        .example(format!("{name}_mg_l 46"))),
        (mass, charge) => Ok(charge.map(Bounded::get).or(mass.map(|mass| mass.get() / weight))),
    }
}

/// One hazard rated.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Rated {
    /// What is rated.
    pub hazard: Hazard,
    /// The figure it is rated by, in the unit of its table.
    pub value: f64,
    /// How far it restricts the use of the water.
    pub restriction: Restriction,
}

/// Output of `irrigation-water-hazard`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct WaterHazardOutput {
    /// Sodium adsorption ratio; nothing without sodium, calcium and magnesium.
    pub sar: Option<f64>,
    /// Residual sodium carbonate; nothing without bicarbonate, calcium and magnesium.
    pub rsc_me_l: Option<f64>,
    /// The hardest restriction of all.
    pub worst: Restriction,
    /// Infiltration hazard: SAR and EC together.
    pub infiltration: Option<Restriction>,
    /// Each hazard that the analysis allows to rate.
    pub rated: Vec<Rated>,
}

/// Hazards of irrigation water.
pub struct IrrigationWaterHazard;

impl Method for IrrigationWaterHazard {
    type Input = WaterAnalysis;
    type Output = WaterHazardOutput;

    const CARD: Card = Card {
        name: "irrigation-water-hazard",
        title: "Is this water fit for irrigation?",
        topic: Topic::Irrigation,
        computes: "Rates a water analysis: whether its sodium would seal the ground, whether its salts, chloride, boron, \
                   nitrate and bicarbonate trouble crops, and by how much its use is restricted.",
        validity: &[
            "Guidelines for common crops and soils where some of the water drains; sensitive and tolerant crops differ.",
            "At a given SAR the fresher water seals the ground more: very pure water is a hazard by itself.",
            "What the laboratory left out is not rated.",
        ],
        sources: &[
            Cite::new("Fao29", "Table 1"),
            Cite::new("Handbook60", "SAR and residual sodium carbonate"),
        ],
        cautions: &[
            "Water for drinking, washing produce or sprinkling what is eaten raw needs tests for germs, nitrate, arsenic and lead: \
             local health rules apply.",
            super::BACKFLOW,
        ],
    };

    fn example() -> Self::Input {
        WaterAnalysis {
            ec_ds_m: Some(WaterEc::literal(1.4)),
            sodium_me_l: Some(IonCharge::literal(10.0)),
            calcium_me_l: Some(IonCharge::literal(2.0)),
            magnesium_me_l: Some(IonCharge::literal(2.0)),
            bicarbonate_me_l: Some(IonCharge::literal(5.0)),
            ..WaterAnalysis::default()
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let ions = input.ions()?;
        let ec = input.ec_ds_m.map(Bounded::get);
        let hardness = ions.calcium.zip(ions.magnesium);
        let sar = ions.sodium.zip(hardness).and_then(|(na, (ca, mg))| sodium_adsorption_ratio(na, ca, mg));
        let rsc = ions
            .bicarbonate
            .zip(hardness)
            .map(|(hco3, (ca, mg))| residual_carbonate(hco3, ions.carbonate.unwrap_or(0.0), ca, mg));
        let leaves = input.reaches == Some(WaterReaches::Leaves);
        let mut rated = Vec::new();
        let mut rate = |hazard, value: Option<f64>, restriction: &dyn Fn(f64) -> Restriction| {
            rated.extend(value.map(|value| Rated { hazard, value, restriction: restriction(value) }));
        };
        let infiltration = sar.zip(ec).map(|(sar, ec)| infiltration_hazard(sar, ec));
        if let Some(infiltration) = infiltration {
            rate(Hazard::Infiltration, sar, &|_| infiltration);
        }
        rate(Hazard::Salinity, ec, &salinity_hazard);
        rate(Hazard::Sodium, sar, &sodium_ground_hazard);
        rate(Hazard::Chloride, ions.chloride, &chloride_ground_hazard);
        if leaves {
            rate(Hazard::Sodium, ions.sodium, &on_leaves_hazard);
            rate(Hazard::Chloride, ions.chloride, &on_leaves_hazard);
            rate(Hazard::Bicarbonate, ions.bicarbonate, &bicarbonate_hazard);
        }
        rate(Hazard::Boron, input.boron_mg_l.map(Bounded::get), &boron_hazard);
        rate(Hazard::Nitrate, input.nitrate_nitrogen_mg_l.map(Bounded::get), &nitrate_hazard);
        rate(Hazard::ResidualCarbonate, rsc, &residual_carbonate_hazard);
        // The table names a normal range and no further limits.
        rate(Hazard::Acidity, input.ph.map(Bounded::get), &|ph| {
            if (6.5..=8.4).contains(&ph) { Restriction::None } else { Restriction::SlightToModerate }
        });
        if rated.is_empty() {
            return Err(Refusal::new("ec_ds_m", "nothing was given that could be rated")
                .given("no figure, or ions that say nothing alone")
                .accepted("the EC, or sodium with calcium and magnesium, or other figures of the analysis")
                .example("0.8 dS/m"));
        }
        let notes = notes(input, ec, infiltration, &ions, sar);
        let worst = rated.iter().map(|rated: &Rated| rated.restriction).max().unwrap_or(Restriction::None);
        Ok(Answer::with_notes(WaterHazardOutput { sar, rsc_me_l: rsc, worst, infiltration, rated }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let Ok(ions) = input.ions() else { return Working::new() };
        let mut working = Working::new();
        if let (Some(sar), Some(na), Some(ca), Some(mg)) =
            (value.sar, ions.sodium, ions.calcium, ions.magnesium)
        {
            working = working
                .step(
                    "sodium adsorption ratio",
                    "Na / √((Ca + Mg) / 2), me/L",
                    format!("{na:.2} / √(({ca:.2} + {mg:.2}) / 2)"),
                    format!("{sar:.2}"),
                )
                .cite(Self::CARD.sources[1]);
        }
        for rated in &value.rated {
            working = working
                .step(
                    rated.hazard.words(),
                    "the table's limits for this figure; for infiltration with the EC beside the SAR",
                    match (rated.hazard, input.ec_ds_m) {
                        (Hazard::Infiltration, Some(ec)) => {
                            format!("SAR {:.2}, EC {} dS/m", rated.value, number(ec.get()))
                        }
                        _ => format!("{:.2}", rated.value),
                    },
                    rated.restriction.words(),
                )
                .cite(Self::CARD.sources[usize::from(rated.hazard == Hazard::ResidualCarbonate)]);
        }
        working
    }
}

fn notes(
    input: &WaterAnalysis,
    ec: Option<f64>,
    infiltration: Option<Restriction>,
    ions: &Ions,
    sar: Option<f64>,
) -> Vec<Note> {
    let mut notes = Vec::new();
    if ec.is_some_and(|ec| ec < 0.2) {
        notes.push(Note::new(
            NoteKind::Method,
            "Water as pure as this seals bare ground whatever its sodium: keep crumbs and cover, or add gypsum.",
        ));
    } else if infiltration.is_some_and(|hazard| hazard != Restriction::None) {
        notes.push(Note::new(
            NoteKind::Method,
            "Sodium is much for how fresh the water is: gypsum, organic matter and a covered surface keep ground open.",
        ));
    }
    if sar.is_none() && ions.sodium.is_some() {
        notes.push(Note::new(
            NoteKind::NoValue,
            "Sodium cannot be rated without calcium and magnesium that are not both 0.",
        ));
    }
    if let Some(nitrogen) = input.nitrate_nitrogen_mg_l.map(Bounded::get).filter(|nitrogen| *nitrogen >= 5.0)
    {
        // mg/L over 100 mm is kg/ha.
        notes.push(Note::new(
            NoteKind::Method,
            format!("Count its nitrogen as fertilizer: {nitrogen:.0} kg/ha in every 100 mm. Above 10 mg/L it is unfit for drinking in most countries."),
        ));
    }
    notes.push(Note::new(
        NoteKind::Provenance,
        "The table was read in a reprint that prints mg/L for sodium, chloride and bicarbonate; me/L is recalled and is what \
         makes sense. Residual carbonate limits and masses per charge are recalled.",
    ));
    notes
}

//! Compost: depth, volume and mass, what it brings, and what it leaves over the years.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Area that is covered.
    pub struct SpreadArea: "area", "m²", 0.01 ..= 1000000.0, example 92.9;
    /// Depth that is spread.
    pub struct SpreadDepth: "depth spread", "mm", 0.5 ..= 500.0, example 25.4;
    /// Loose density.
    pub struct LooseDensity: "loose density", "kg/m³", 50.0 ..= 1500.0, example 593.0;
    /// Dry matter.
    pub struct DryMatter: "dry matter", "%", 5.0 ..= 100.0, example 55.0;
    /// Content of the dry matter.
    pub struct DryContent: "content of the dry matter", "%", 0.0 ..= 30.0, example 1.5;
    /// Organic matter of the dry matter.
    pub struct DryOrganicMatter: "organic matter of the dry matter", "%", 1.0 ..= 100.0, example 42.0;
    /// Conductivity of the 1:5 extract.
    pub struct CompostConductivity: "conductivity of the compost (1:5)", "dS/m", 0.0 ..= 30.0, example 4.0;
    /// Depth into which it is worked.
    pub struct WorkedDepth: "depth it is worked into", "cm", 1.0 ..= 60.0, example 15.0;
    /// Density of the ground.
    pub struct GroundDensity: "bulk density of the ground", "g/cm³", 0.3 ..= 2.0, example 1.32;
    /// Share left after the first year.
    pub struct FirstYearShare: "share left after a year", "%", 0.0 ..= 100.0, example 80.0;
    /// Loss in each later year.
    pub struct LaterLoss: "loss in a later year", "%", 0.0 ..= 50.0, example 3.0;
    /// Years of the same dressing.
    pub struct DressingYears: "years", "", 1.0 ..= 50.0, example 10.0;
}

/// g of salt in a litre for 1 dS/m (640 mg/L), in the five litres of a 1:5 extract of a kilogram.
const SALT_G_KG_PER_DS_M: f64 = 0.64 * 5.0;

/// Share left after the first year: compost, manure, green manure; low and high (common practice).
pub const LEFT_AFTER_A_YEAR: [(&str, f64, f64); 3] =
    [("compost", 0.7, 0.9), ("manure", 0.3, 0.5), ("green manure", 0.1, 0.2)];

/// Volume of a dressing, m³.
#[must_use]
pub fn volume_m3(area_m2: f64, depth_mm: f64) -> f64 {
    area_m2 * depth_mm / 1000.0
}

/// Rise of the organic matter in the worked layer after each year of the same dressing, in points of percent.
#[must_use]
pub fn organic_matter_rise(
    added_kg_m2: f64,
    worked_cm: f64,
    density_g_cm3: f64,
    left_after_a_year: f64,
    later_loss: f64,
    years: usize,
) -> Vec<f64> {
    // kg of soil under a square metre.
    let soil = worked_cm * density_g_cm3 * 10.0;
    let mut held = 0.0;
    (0..years)
        .map(|_| {
            held = held * (1.0 - later_loss) + added_kg_m2 * left_after_a_year;
            100.0 * held / soil
        })
        .collect()
}

/// Input of `compost-dressing`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DressingInput {
    /// Area.
    pub area_m2: SpreadArea,
    /// Depth.
    pub depth_mm: SpreadDepth,
    /// Loose density.
    pub density_kg_m3: LooseDensity,
    /// Dry matter.
    pub dry_matter_percent: DryMatter,
    /// Nitrogen of the dry matter.
    pub n_percent: DryContent,
    /// Phosphate of the dry matter.
    pub p2o5_percent: DryContent,
    /// Potash of the dry matter.
    pub k2o_percent: DryContent,
    /// Conductivity of its 1:5 extract.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ec_1_5_ds_m: Option<CompostConductivity>,
}

/// Output of `compost-dressing`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct DressingOutput {
    /// Volume.
    pub volume_m3: f64,
    /// The same in cubic yards.
    pub volume_yd3: f64,
    /// Mass as it is.
    pub mass_kg: f64,
    /// All nitrogen, of which a crop finds a small share in the season.
    pub n_kg_ha: f64,
    /// Phosphate.
    pub p2o5_kg_ha: f64,
    /// Potash.
    pub k2o_kg_ha: f64,
    /// Soluble salt.
    pub salt_g_m2: Option<f64>,
}

/// A dressing of compost.
pub struct CompostDressing;

impl Method for CompostDressing {
    type Input = DressingInput;
    type Output = DressingOutput;

    const CARD: Card = Card {
        name: "compost-dressing",
        title: "A dressing of compost",
        topic: Topic::Fertility,
        computes: "Volume and mass of a depth of compost, and the nitrogen, phosphate, potash and salt that it brings.",
        validity: &[
            "Composts differ by a factor of two: an analysis comes first. Ask whether contents are of dry or of moist weight.",
            "For more than an inch worked in, keep compost below 4 to 5 dS/m; above 10 dS/m do not use it (1:5 extract).",
        ],
        sources: &[
            Cite::new("CornellCompostVolume", "volume from area and depth"),
            Cite::new("CalRecycle2013", "averages of dry weight"),
        ],
        cautions: &[
            "Compost made with hay, straw or manure may carry weed killers: grow beans in it first.",
            "An inch of manure compost carries about one season of nitrogen and many of phosphorus.",
        ],
    };

    fn example() -> Self::Input {
        DressingInput {
            area_m2: SpreadArea::literal(92.903_04),
            depth_mm: SpreadDepth::literal(25.4),
            density_kg_m3: LooseDensity::literal(593.276),
            dry_matter_percent: DryMatter::literal(55.0),
            n_percent: DryContent::literal(1.53),
            p2o5_percent: DryContent::literal(1.34),
            k2o_percent: DryContent::literal(1.36),
            ec_1_5_ds_m: Some(CompostConductivity::literal(7.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let volume = volume_m3(input.area_m2.get(), input.depth_mm.get());
        let mass = volume * input.density_kg_m3.get();
        let dry_kg_m2 = mass * input.dry_matter_percent.get() / 100.0 / input.area_m2.get();
        let kg_ha = |percent: DryContent| dry_kg_m2 * percent.get() * 100.0;
        let mut notes = vec![super::manure::typical_note()];
        if input.ec_1_5_ds_m.is_some_and(|ec| ec.get() > 5.0) {
            notes.push(Note::new(
                NoteKind::Method,
                "Above 4 to 5 dS/m this compost is too salty to work in more than an inch, and in a tunnel nothing leaches.",
            ));
        }
        Ok(Answer::with_notes(
            DressingOutput {
                volume_m3: volume,
                volume_yd3: volume / 0.764_554_857_984,
                mass_kg: mass,
                n_kg_ha: kg_ha(input.n_percent),
                p2o5_kg_ha: kg_ha(input.p2o5_percent),
                k2o_kg_ha: kg_ha(input.k2o_percent),
                salt_g_m2: input.ec_1_5_ds_m.map(|ec| dry_kg_m2 * ec.get() * SALT_G_KG_PER_DS_M),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        Working::new()
            .step(
                "volume",
                "area × depth",
                format!("{} m² × {} mm", input.area_m2.get(), input.depth_mm.get()),
                format!("{:.2} m³ ({:.2} yd³)", value.volume_m3, value.volume_yd3),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "mass",
                "volume × loose density",
                format!("{:.2} m³ × {} kg/m³", value.volume_m3, input.density_kg_m3.get()),
                format!("{:.0} kg", value.mass_kg),
            )
            .step(
                "what it brings",
                "mass × dry matter × content / area",
                format!("{} % dry matter", input.dry_matter_percent.get()),
                format!(
                    "N {:.0}, P2O5 {:.0}, K2O {:.0} kg/ha",
                    value.n_kg_ha, value.p2o5_kg_ha, value.k2o_kg_ha
                ),
            )
    }
}

/// Input of `organic-matter-build-up`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OrganicMatterInput {
    /// Depth of the yearly dressing.
    pub depth_mm: SpreadDepth,
    /// Loose density.
    pub density_kg_m3: LooseDensity,
    /// Dry matter.
    pub dry_matter_percent: DryMatter,
    /// Organic matter of the dry matter.
    pub organic_matter_percent: DryOrganicMatter,
    /// Depth it is worked into.
    pub worked_cm: WorkedDepth,
    /// Density of the ground.
    pub ground_density_g_cm3: GroundDensity,
    /// Share left after a year.
    pub left_after_a_year_percent: FirstYearShare,
    /// Loss in each later year.
    pub later_loss_percent: LaterLoss,
    /// Years.
    pub years: DressingYears,
}

/// Output of `organic-matter-build-up`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct OrganicMatterOutput {
    /// Rise after each year, points of percent.
    pub rise_percent: Vec<f64>,
    /// After the last.
    pub last_rise_percent: f64,
}

/// Organic matter over the years.
pub struct OrganicMatterBuildUp;

impl Method for OrganicMatterBuildUp {
    type Input = OrganicMatterInput;
    type Output = OrganicMatterOutput;

    const CARD: Card = Card {
        name: "organic-matter-build-up",
        title: "Organic matter over the years",
        topic: Topic::Fertility,
        computes: "How far a yearly dressing lifts the organic matter of the worked layer.",
        validity: &[
            "Left after a year: compost 70 to 90 %, manure 30 to 50, green manure 10 to 20; later loss 2 to 5 % a year.",
            "A laboratory's figure wanders by 0.3 either way: look over several years.",
        ],
        sources: &[
            Cite::new("OrganicMatterPractice", "shares left and lost"),
            Cite::new("CalRecycle2013", "averages"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        OrganicMatterInput {
            depth_mm: SpreadDepth::literal(25.4),
            density_kg_m3: LooseDensity::literal(593.276),
            dry_matter_percent: DryMatter::literal(55.0),
            organic_matter_percent: DryOrganicMatter::literal(42.0),
            worked_cm: WorkedDepth::literal(17.0),
            ground_density_g_cm3: GroundDensity::literal(1.32),
            left_after_a_year_percent: FirstYearShare::literal(80.0),
            later_loss_percent: LaterLoss::literal(3.0),
            years: DressingYears::literal(5.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let added =
            input.depth_mm.get() / 1000.0 * input.density_kg_m3.get() * input.dry_matter_percent.get()
                / 100.0
                * input.organic_matter_percent.get()
                / 100.0;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 50")]
        let years = libm::round(input.years.get()) as usize;
        let rise_percent = organic_matter_rise(
            added,
            input.worked_cm.get(),
            input.ground_density_g_cm3.get(),
            input.left_after_a_year_percent.get() / 100.0,
            input.later_loss_percent.get() / 100.0,
            years,
        );
        let last_rise_percent = rise_percent.last().copied().unwrap_or(0.0);
        Ok(Answer::with_notes(
            OrganicMatterOutput { rise_percent, last_rise_percent },
            vec![Note::new(
                NoteKind::Provenance,
                "The shares left and lost are common practice: read the result as half to double.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "rise after the years",
                "what is there × (1 − loss) + added × share left, over the mass of the layer",
                format!(
                    "{} mm a year for {} years into {} cm",
                    input.depth_mm.get(),
                    input.years.get(),
                    input.worked_cm.get()
                ),
                format!("{:.2} points", answer.value.last_rise_percent),
            )
            .cite(Self::CARD.sources[0])
    }
}

//! Lead and other metals in garden soil: what to be careful of. No level is free of risk.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::report::{Analyte, Procedure, ProcedureKind};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// A metal in the soil, all that is there.
    pub struct MetalTotal: "metal in the soil", "ppm", 0.0 ..= 100_000.0, example 120.0;
}

/// What stands beside every figure of lead.
pub const NO_SAFE_LEVEL: &str = "No level of lead is free of risk. Local authorities set the thresholds that count; ask the health department.";
/// Where lead comes from, and what else to test.
pub const WHERE_LEAD_COMES_FROM: &str = "Test the drip lines of buildings painted before 1978, roadsides and old orchards; where lead \
arsenate was sprayed, test for arsenic too.";
/// What every garden with some lead should do.
pub const HYGIENE: &str = "The main way in is soil on hands, on produce and in house dust, less what plants take up: wash hands and \
produce, peel roots, keep soil covered and shoes outside, hold pH at 6 to 7 with organic matter and enough phosphorus.";

/// What to do by total lead (judgement, drawn cautiously from the levels below).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum LeadBand {
    /// Below 100 ppm.
    Hygiene,
    /// 100 to 200 ppm.
    KeepCovered,
    /// 200 to 400 ppm.
    RaisedBeds,
    /// Above 400 ppm.
    GrowNoFood,
}

impl LeadBand {
    /// The band of a total; a value at a limit belongs to the more careful band.
    #[must_use]
    pub fn of(total_ppm: f64) -> Self {
        match total_ppm {
            ppm if ppm < 100.0 => Self::Hygiene,
            ppm if ppm < 200.0 => Self::KeepCovered,
            ppm if ppm <= 400.0 => Self::RaisedBeds,
            _ => Self::GrowNoFood,
        }
    }

    /// What to do.
    #[must_use]
    pub fn advice(self) -> &'static str {
        match self {
            Self::Hygiene => "Below 100 ppm: usual hygiene.",
            Self::KeepCovered => {
                "100 to 200 ppm: leave no soil bare, keep children's beds off it, prefer crops grown for their fruit."
            }
            Self::RaisedBeds => {
                "200 to 400 ppm: raised beds of clean soil over a barrier; no leaf or root crops in the ground itself."
            }
            Self::GrowNoFood => {
                "Above 400 ppm: grow no food here, keep children off, and ask the health department."
            }
        }
    }
}

/// A level somebody published, for comparison.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct LeadLevel {
    /// ppm of total lead.
    pub ppm: f64,
    /// What it is.
    pub is: &'static str,
    /// Where it stands, and whether it was read.
    pub source: Cite,
}

/// Published levels of total lead, lowest first.
pub const LEAD_LEVELS: &[LeadLevel] = &[
    LeadLevel {
        ppm: 50.0,
        is: "typical background is below this",
        source: Cite::new("MarylandLead", "background"),
    },
    LeadLevel {
        ppm: 80.0,
        is: "California's screening level (recalled, not read again)",
        source: Cite::new("CaliforniaLead", "residential screening"),
    },
    LeadLevel {
        ppm: 100.0,
        is: "Minnesota: no more where children have access (read at second hand)",
        source: Cite::new("MinnesotaLead", "gardens and play areas"),
    },
    LeadLevel {
        ppm: 200.0,
        is: "federal residential screening level since October 2025; no standard for clean-up or gardening",
        source: Cite::new("EpaLead2025", "screening level"),
    },
    LeadLevel {
        ppm: 300.0,
        is: "Minnesota: no food above this (read at second hand)",
        source: Cite::new("MinnesotaLead", "gardens and play areas"),
    },
    LeadLevel {
        ppm: 600.0,
        is: "federal removal management level since October 2025",
        source: Cite::new("EpaLead2025", "removal management level"),
    },
];

#[derive(Debug, Deserialize)]
struct SludgeRow {
    metal: Analyte,
    sludge_ceiling_mg_kg: f64,
}

static SLUDGE: LazyLock<Vec<SludgeRow>> = LazyLock::new(|| {
    let text = include_str!("data/biosolid_metals.csv");
    let rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes()).into_deserialize();
    match rows.collect() {
        Ok(rows) => rows,
        // The table is compiled in, and a test reads it.
        Err(error) => unreachable!("biosolid_metals.csv: {error}"),
    }
});

/// Most that sewage sludge spread on land may hold, mg/kg: for comparison, no standard for soil (recalled).
#[must_use]
pub fn sludge_ceiling_mg_kg(metal: Analyte) -> Option<f64> {
    SLUDGE.iter().find(|row| row.metal == metal).map(|row| row.sludge_ceiling_mg_kg)
}

/// Metals that can harm people who eat from the ground or play on it.
pub const METALS: [Analyte; 7] = [
    Analyte::Lead,
    Analyte::Arsenic,
    Analyte::Cadmium,
    Analyte::Chromium,
    Analyte::Mercury,
    Analyte::Nickel,
    Analyte::Selenium,
];

/// Was everything measured that is there? An extract finds a fifth of it or less.
#[must_use]
pub fn is_total(procedure: Procedure) -> bool {
    procedure.kind() == ProcedureKind::Total
}

/// Input of `metal-in-garden-soil`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MetalInSoilInput {
    /// Lead, arsenic, cadmium, chromium, mercury, nickel or selenium.
    pub metal: Analyte,
    /// Total in the soil.
    pub total_ppm: MetalTotal,
    /// How it was measured: a total, by acid digest or X-rays.
    pub procedure: Procedure,
}

/// Output of `metal-in-garden-soil`.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct MetalInSoilOutput {
    /// What to do, for lead; no such rule is held here for the other metals.
    pub lead_band: Option<LeadBand>,
    /// In words.
    pub advice: String,
    /// Published levels of lead that this total reaches.
    pub reaches: Vec<LeadLevel>,
    /// Most that sewage sludge may hold; for comparison alone.
    pub sludge_ceiling_ppm: Option<f64>,
}

/// Metals in garden soil.
pub struct MetalInGardenSoil;

impl Method for MetalInGardenSoil {
    type Input = MetalInSoilInput;
    type Output = MetalInSoilOutput;

    const CARD: Card = Card {
        name: "metal-in-garden-soil",
        title: "Lead and other metals in garden soil",
        topic: Topic::Fertility,
        computes: "What to be careful of with a total of lead in garden soil, beside the levels that authorities have \
                   published. For other metals it says whom to ask.",
        validity: &[
            "Totals alone (acid digest or X-ray fluorescence): what a nutrient extract finds is less by five times or more.",
            "Screening levels are no standards for gardens; thresholds are set by the local authority.",
        ],
        sources: &[
            Cite::new("EpaLead2025", "screening level"),
            Cite::new("MinnesotaLead", "gardens and play areas"),
            Cite::new("MarylandLead", "background and hygiene"),
            Cite::new("CornellLead", "no safe level"),
            Cite::new("Cfr503", "section 503.13, table 1"),
        ],
        cautions: &[NO_SAFE_LEVEL, WHERE_LEAD_COMES_FROM, HYGIENE],
    };

    fn example() -> Self::Input {
        MetalInSoilInput {
            metal: Analyte::Lead,
            total_ppm: MetalTotal::literal(120.0),
            procedure: Procedure::TotalDigest,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        if !METALS.contains(&input.metal) {
            return Err(Refusal::new(
                "metal",
                format!("{} is not one of the metals read here", input.metal.words()),
            )
            .given(input.metal.words())
            .accepted(METALS.map(Analyte::words).join(", "))
            .example("lead"));
        }
        if !is_total(input.procedure) {
            return Err(Refusal::new(
                "procedure",
                format!(
                    "{} does not find all that is there, so it cannot be read against any level",
                    input.procedure.words()
                ),
            )
            .given(input.procedure.words())
            .accepted("a total: acid digest or X-ray fluorescence")
            .example("total_digest"));
        }
        let ppm = input.total_ppm.get();
        let mut notes = vec![Note::new(NoteKind::Safety, NO_SAFE_LEVEL)];
        let output = if input.metal == Analyte::Lead {
            notes.push(Note::new(NoteKind::Safety, HYGIENE));
            notes.push(Note::new(NoteKind::Safety, WHERE_LEAD_COMES_FROM));
            notes.push(Note::new(
                NoteKind::Provenance,
                "The bands of what to do are our judgement, drawn cautiously from the levels listed.",
            ));
            let band = LeadBand::of(ppm);
            MetalInSoilOutput {
                lead_band: Some(band),
                advice: band.advice().to_owned(),
                reaches: LEAD_LEVELS.iter().copied().filter(|level| ppm >= level.ppm).collect(),
                sludge_ceiling_ppm: sludge_ceiling_mg_kg(input.metal),
            }
        } else {
            notes[0].text = format!(
                "No rule for {} in garden soil is held here. Show the figure to the health department or the extension office \
                 before growing food.",
                input.metal.words()
            );
            MetalInSoilOutput {
                lead_band: None,
                advice: notes[0].text.clone(),
                reaches: Vec::new(),
                sludge_ceiling_ppm: sludge_ceiling_mg_kg(input.metal),
            }
        };
        if output.sludge_ceiling_ppm.is_some() {
            notes.push(Note::new(
                NoteKind::Provenance,
                "The ceiling of sewage sludge is recalled, speaks of sludge and is no standard for soil.",
            ));
        }
        Ok(Answer::with_notes(output, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new().step(
            "what to do",
            "bands at 100, 200 and 400 ppm of total lead (judgement)",
            format!("{} ppm of {}", input.total_ppm.get(), input.metal.words()),
            answer.value.advice.clone(),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_belong_to_the_more_careful_side() {
        let bands = [99.9, 100.0, 200.0, 400.0, 400.1].map(LeadBand::of);
        assert_eq!(
            bands,
            [
                LeadBand::Hygiene,
                LeadBand::KeepCovered,
                LeadBand::RaisedBeds,
                LeadBand::RaisedBeds,
                LeadBand::GrowNoFood
            ]
        );
        assert!(LEAD_LEVELS.windows(2).all(|two| two[0].ppm <= two[1].ppm));
        assert!(LEAD_LEVELS.iter().all(|level| level.source.source().is_some()));
    }

    #[test]
    fn an_extract_is_never_read_as_a_total() {
        let mut input = MetalInGardenSoil::example();
        input.procedure = Procedure::ModifiedMorgan;
        assert_eq!(MetalInGardenSoil::compute(&input).unwrap_err().field, "procedure");
        input.procedure = Procedure::NotStated;
        assert_eq!(MetalInGardenSoil::compute(&input).unwrap_err().field, "procedure");
        input = MetalInSoilInput { metal: Analyte::Zinc, ..MetalInGardenSoil::example() };
        assert_eq!(MetalInGardenSoil::compute(&input).unwrap_err().field, "metal");
        input.metal = Analyte::Arsenic;
        let answer = MetalInGardenSoil::compute(&input).unwrap();
        assert_eq!((answer.value.lead_band, answer.value.sludge_ceiling_ppm), (None, Some(75.0)));
    }
}

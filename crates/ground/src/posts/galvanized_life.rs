//! How long zinc lasts on a steel post in the ground.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::soil_corrosivity::{GroundPh, Resistivity};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Thickness of the zinc on one face.
    pub struct ZincThickness: "zinc", "µm", 1.0 ..= 300.0, example 86.0;
    /// Mass of the zinc on one face.
    pub struct ZincMass: "zinc", "g/m²", 7.0 ..= 2200.0, example 610.0;
    /// Steel that may be lost from one face.
    pub struct SteelAllowance: "steel that may be lost", "mm", 0.0 ..= 10.0, example 0.5;
}

/// Grams for each square metre in a micrometre of zinc.
pub const ZINC_G_M2_PER_UM: f64 = 7.14;
/// Zinc lost in each of the first two years, µm.
const FIRST_UM: f64 = 15.0;
/// Zinc lost in each later year, µm.
const LATER_UM: f64 = 4.0;
/// Steel lost in each year once the zinc is gone, µm.
const STEEL_UM: f64 = 12.0;

/// Years that zinc lasts, one face: 15 µm a year for two years, then 4.
#[must_use]
pub fn zinc_years(zinc_um: f64) -> f64 {
    let early = 2.0 * FIRST_UM;
    if zinc_um > early { 2.0 + (zinc_um - early) / LATER_UM } else { zinc_um / FIRST_UM }
}

/// Input of `galvanized-life`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GalvanizedInput {
    /// Thickness of zinc on one face.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zinc_um: Option<ZincThickness>,
    /// Or its mass on one face: half of what is printed for both.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zinc_g_m2: Option<ZincMass>,
    /// Steel that may be lost from the same face before the post is too weak.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub steel_allowance_mm: Option<SteelAllowance>,
    /// pH of the ground.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ph: Option<GroundPh>,
    /// Resistivity of the wet ground.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub resistivity_ohm_m: Option<Resistivity>,
}

/// Output of `galvanized-life`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct GalvanizedOutput {
    /// Thickness of the zinc, µm.
    pub thickness_um: f64,
    /// Years until the zinc is gone.
    pub zinc_years: f64,
    /// Years until the steel that may be lost is gone too.
    pub post_years: f64,
    /// The ground is aggressive and the rates do not hold; `null`: neither pH nor resistivity is known.
    pub aggressive: Option<bool>,
}

/// Life of a galvanized post.
pub struct GalvanizedLife;

impl Method for GalvanizedLife {
    type Input = GalvanizedInput;
    type Output = GalvanizedOutput;

    const CARD: Card = Card {
        name: "galvanized-life",
        title: "How long zinc lasts in the ground",
        topic: Topic::Posts,
        computes: "Years until the zinc on a buried steel post is gone at the design rates for ground that is not \
                   aggressive, and until the steel behind it is lost.",
        validity: &[
            "Ground of pH 5 to 10 and 30 ohm·m or more, little salt. In acid, wet, salty or manured ground zinc goes faster.",
            "Design rates are on the safe side: slower loss was measured. The line where post and surface meet goes first.",
        ],
        sources: &[Cite::new("AashtoWalls", "loss of zinc and steel")],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        GalvanizedInput {
            zinc_um: Some(ZincThickness::literal(86.0)),
            zinc_g_m2: None,
            steel_allowance_mm: Some(SteelAllowance::literal(0.3)),
            ph: Some(GroundPh::literal(6.5)),
            resistivity_ohm_m: Some(Resistivity::literal(40.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let thickness_um = match (input.zinc_um, input.zinc_g_m2) {
            (Some(thickness), None) => thickness.get(),
            (None, Some(mass)) => mass.get() / ZINC_G_M2_PER_UM,
            (given, _) => {
                return Err(Refusal::new(
                    "zinc_um",
                    "give the zinc either as thickness or as mass on one face",
                )
                .given(if given.is_some() { "both" } else { "neither" })
                .accepted("one of zinc_um and zinc_g_m2")
                .example("86"));
            }
        };
        let years = zinc_years(thickness_um);
        let steel = input.steel_allowance_mm.map_or(0.0, |steel| 1000.0 * steel.get());
        let acid = input.ph.map(|ph| !(5.0..=10.0).contains(&ph.get()));
        let conducts = input.resistivity_ohm_m.map(|resistivity| resistivity.get() < 30.0);
        let aggressive = match (acid, conducts) {
            (None, None) => None,
            (acid, conducts) => Some(acid.unwrap_or(false) || conducts.unwrap_or(false)),
        };
        let mut notes = Vec::new();
        if aggressive == Some(true) {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                "This ground is aggressive: the zinc will go faster than reckoned here.",
            ));
        }
        if thickness_um < 2.0 * FIRST_UM {
            notes.push(Note::new(
                NoteKind::Method,
                "Zinc this thin, as on sheet and light tube, is no protection in the ground; posts dipped after making carry several times as much.",
            ));
        }
        notes.push(Note::new(
            NoteKind::Provenance,
            "Loss of zinc was read; loss of steel and the limits of aggressive ground are recalled.",
        ));
        Ok(Answer::with_notes(
            GalvanizedOutput {
                thickness_um,
                zinc_years: years,
                post_years: years + steel / STEEL_UM,
                aggressive,
            },
            notes,
        ))
    }

    fn working(_: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        Working::new()
            .step(
                "years of the zinc",
                "15 µm a year for two years, then 4 µm a year; 7.14 g/m² make a micrometre",
                format!("{:.1} µm", value.thickness_um),
                format!("{:.1} years", value.zinc_years),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "years of the post",
                "zinc + steel that may be lost at 12 µm a year",
                format!("{:.1} years and the steel", value.zinc_years),
                format!("{:.1} years", value.post_years),
            )
            .cite(Self::CARD.sources[0])
    }
}

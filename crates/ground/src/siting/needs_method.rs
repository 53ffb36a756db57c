//! `crop-site-needs`: what one crop asks of a place.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::needs::{SiteNeeds, needs_of};
use crate::kit::quantity::number;
use crate::kit::{Answer, Card, Cite, Method, Note, NoteKind, Provenance, Refusal, Topic, Working};

/// Input of `crop-site-needs`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SiteNeedsInput {
    /// The crop, by its key or name.
    pub crop: String,
}

/// What one crop asks of a place.
pub struct CropSiteNeeds;

/// What to say beside figures that were not read.
pub(super) fn provenance_notes(needs: &SiteNeeds) -> Vec<Note> {
    let mut notes = Vec::new();
    let mut say = |what: &str, provenance: Provenance| {
        if provenance != Provenance::Read {
            notes.push(Note::new(NoteKind::Provenance, format!("{what}: {}.", provenance.words())));
        }
    };
    say("The range of pH", needs.ph_provenance);
    say("Temperatures of the air", needs.air_provenance);
    if needs.soil.is_some() {
        say("Temperatures of the soil for germination", needs.soil_provenance);
    }
    say("Texture, stones and wet feet", Provenance::CommonPractice);
    if !needs.salts_own {
        say("Salt tolerance, that of its rating or of most vegetables", Provenance::Judgement);
    }
    notes
}

impl Method for CropSiteNeeds {
    type Input = SiteNeedsInput;
    type Output = SiteNeeds;

    const CARD: Card = Card {
        name: "crop-site-needs",
        title: "What a crop asks of a place",
        topic: Topic::Siting,
        computes: "What one crop asks for: depth of roots and of air, texture, acidity, salts, warmth of air and soil, days \
                   and water.",
        validity: &[
            "Kinds and varieties differ; days are those of the shortest published season, from the day it comes into the ground.",
            "Monthly means of temperature: single hot or cold days do not count.",
            "Roots that must stay in air, textures and stones are common practice and judgement.",
        ],
        sources: &[
            Cite::new("Fao56", "Tables 11, 12 and 22"),
            Cite::new("NrcsRootUptake", "the upper half of the roots takes up 70 % of the water"),
            Cite::new("HarringtonMinges1954", "soil temperature for germination"),
            Cite::new("KnottHandbook", "monthly temperatures, frost and acidity"),
            Cite::new("Maas1990", "salt tolerance"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        SiteNeedsInput { crop: "tomato".to_owned() }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let needs = needs_of(&input.crop)?;
        Ok(Answer::with_notes(needs.clone(), provenance_notes(needs)))
    }

    fn working(_input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let needs = &answer.value;
        let working = Working::new()
            .step(
                "depth of roots the ground must give",
                "half of the mean of the least and greatest depth of full-grown roots",
                format!("full-grown from {} cm", number(needs.root_cm)),
                format!("{} cm", number(needs.needed_root_cm)),
            )
            .cite(Self::CARD.sources[1])
            .step(
                "monthly means of the air",
                "(°F − 32) / 1.8",
                "as the handbook prints them in °F",
                format!(
                    "{:.1} to {:.1} °C, best {:.1} to {:.1} °C",
                    needs.air.min_c, needs.air.max_c, needs.air.best_low_c, needs.air.best_high_c
                ),
            )
            .cite(Self::CARD.sources[3]);
        match needs.soil {
            Some(soil) => working
                .step(
                    "soil for germination",
                    "(°F − 32) / 1.8",
                    "as the table prints them in °F",
                    format!(
                        "{:.1} to {:.1} °C, best {:.1} to {:.1} °C",
                        soil.min_c, soil.max_c, soil.best_low_c, soil.best_high_c
                    ),
                )
                .cite(Self::CARD.sources[2]),
            None => working,
        }
    }
}

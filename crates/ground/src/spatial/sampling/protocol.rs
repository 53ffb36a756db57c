//! Published advice on how deep to sample, how many cores to a bag, and how often.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Card, Cite, Method, Note, NoteKind, Provenance, Refusal, Topic, Working, table};

crate::named! {
    /// What grows, as far as sampling goes.
    Situation {
        Bed = "beds or a garden, dug or tilled",
        Field = "field crops, tilled",
        NoTill = "beds or fields that are not tilled",
        Sward = "lawn or pasture",
        Tunnel = "a tunnel or greenhouse",
        Orchard = "an orchard that stands",
        OrchardBefore = "ground where an orchard is to be planted",
    }
}

crate::named! {
    /// What the soil is wanted for.
    Wanted {
        Fertility = "acidity and nutrients",
        Nitrate = "nitrate",
        Salts = "salts",
        OrganicMatter = "organic matter",
        Texture = "sand, silt and clay",
        Structure = "packing and roots",
    }
}

/// Advice for one layer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Protocol {
    /// What grows.
    pub situation: Situation,
    /// What the soil is wanted for.
    pub purpose: Wanted,
    /// Which layer, from the top, counted from 1.
    pub layer: u8,
    /// Top of the layer.
    pub from_cm: f64,
    /// Bottom of the layer.
    pub to_cm: f64,
    /// Least cores for one bag.
    pub cores_low: u16,
    /// Cores beyond which a bag gains little.
    pub cores_high: u16,
    /// How often: 0 each season before it is needed; nothing, once unless soil is moved.
    pub every_years: Option<u8>,
    /// Where it is from.
    pub source: String,
    /// How it reached this project.
    pub provenance: Provenance,
    /// Why so, in a few words.
    pub why: String,
}

static ROWS: LazyLock<Vec<Protocol>> =
    LazyLock::new(|| table::rows("protocols.csv", include_str!("data/protocols.csv")));

/// The layers to take, top first. Where a situation has no advice of its own for a purpose, that for beds serves.
#[must_use]
pub fn protocol(situation: Situation, wanted: Wanted) -> Vec<&'static Protocol> {
    let of = |situation: Situation| -> Vec<&'static Protocol> {
        ROWS.iter().filter(|row| row.situation == situation && row.purpose == wanted).collect()
    };
    let own = of(situation);
    if own.is_empty() { of(Situation::Bed) } else { own }
}

/// Input of `sampling-protocol`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SamplingProtocolInput {
    /// What grows.
    pub situation: Situation,
    /// What the soil is wanted for.
    pub purpose: Wanted,
}

/// Output of `sampling-protocol`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct SamplingProtocolOutput {
    /// The layers to take, top first, each in bags of its own.
    pub layers: Vec<Protocol>,
}

/// Sampling protocol.
pub struct SamplingProtocol;

impl Method for SamplingProtocol {
    type Input = SamplingProtocolInput;
    type Output = SamplingProtocolOutput;

    const CARD: Card = Card {
        name: "sampling-protocol",
        title: "How deep, how many cores, how often",
        topic: Topic::Spatial,
        computes: "What extension services advise for sampling: which layers to take, how many cores to mix into a bag, and how \
                   soon to come back, by what grows and what the soil is wanted for.",
        validity: &[
            "One bag for ground of one kind: one soil, one slope, one history. Where a laboratory or a nutrient scheme states a \
             depth of its own, that depth counts: its tables were made for it.",
        ],
        sources: &[
            Cite::new("ClemsonSoilSampling", "beds, fields and lawns"),
            Cite::new("KansasSampling", "cores, pattern and depth for nitrogen"),
            Cite::new("OklahomaSampling", "cores and depth for field crops"),
            Cite::new("MichiganE1616", "the top of ground that is not tilled"),
            Cite::new("OregonEM9014", "the depth that tables of needs were made for"),
            Cite::new("WashingtonTreeFruit", "orchards that stand"),
            Cite::new("NorthwestOrchardNote", "before an orchard is planted"),
            Cite::new("OhioTunnelSalts", "salts, and tunnels"),
            Cite::new("PreSidedressNitrate", "depth of the mid-season nitrate test"),
            Cite::new("SamplingPractice", "what no source was at hand for"),
        ],
        cautions: &[
            "Have buried services located before anything goes deeper than hand tools reach.",
            "Wear gloves and wash hands where soil may hold lead or fresh manure.",
        ],
    };

    fn example() -> Self::Input {
        SamplingProtocolInput { situation: Situation::Bed, purpose: Wanted::Fertility }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let rows = protocol(input.situation, input.purpose);
        let mut notes = Vec::new();
        if rows.iter().any(|row| row.provenance == Provenance::CommonPractice) {
            notes.push(Note::new(
                NoteKind::Provenance,
                "Common practice; no source gives these figures for this purpose.",
            ));
        }
        if rows.iter().any(|row| row.situation != input.situation) {
            notes.push(Note::new(
                NoteKind::Method,
                "There is no advice of its own for this purpose here; that for beds serves.",
            ));
        }
        Ok(Answer::with_notes(SamplingProtocolOutput { layers: rows.into_iter().cloned().collect() }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        answer.value.layers.iter().fold(Working::new(), |working, row| {
            let working = working.step(
                format!("layer {}", row.layer),
                "the row of the table",
                format!("{}, for {}", input.situation.words(), input.purpose.words()),
                format!("{} to {} cm, {} to {} cores", row.from_cm, row.to_cm, row.cores_low, row.cores_high),
            );
            match Self::CARD.sources.iter().find(|cite| cite.key == row.source) {
                Some(cite) => working.cite(*cite),
                None => working,
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::sources::BIBLIOGRAPHY;

    #[test]
    fn each_layer_cites_the_source_of_its_row() {
        for row in ROWS.iter() {
            let input = SamplingProtocolInput { situation: row.situation, purpose: row.purpose };
            let answer = SamplingProtocol::compute(&input).unwrap();
            let working = SamplingProtocol::working(&input, &answer);
            let step = &working.steps[usize::from(row.layer) - 1];
            assert_eq!(step.source.map(|cite| cite.key), Some(row.source.as_str()), "{row:?}");
        }
    }

    #[test]
    fn every_question_has_layers_that_follow_each_other() {
        for situation in Situation::ALL {
            for wanted in Wanted::ALL {
                let rows = protocol(*situation, *wanted);
                assert!(!rows.is_empty(), "{situation:?} {wanted:?}");
                for (at, row) in rows.iter().enumerate() {
                    assert_eq!(usize::from(row.layer), at + 1);
                    assert!(row.from_cm < row.to_cm && row.cores_low <= row.cores_high, "{row:?}");
                    assert!(at == 0 || rows[at - 1].to_cm == row.from_cm, "{row:?}");
                    assert!(BIBLIOGRAPHY.contains_key(&row.source), "{}", row.source);
                }
            }
        }
    }
}

//! Carbon to nitrogen of what is mixed, and whether it feeds or robs the crop at first.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working, table};

crate::quantity! {
    /// Dry matter of one residue, in any one unit of area.
    pub struct ResidueDry: "dry matter", "kg/ha", 0.0 ..= 100000.0, example 2000.0;
    /// Carbon to nitrogen by mass.
    pub struct CarbonNitrogen: "carbon to nitrogen", "", 4.0 ..= 600.0, example 37.0;
    /// Carbon of the dry matter.
    pub struct CarbonPercent: "carbon of the dry matter", "%", 10.0 ..= 60.0, example 42.0;
}

/// Carbon of plant dry matter where nothing is said, percent (common practice).
pub const USUAL_CARBON_PERCENT: f64 = 42.0;
/// At this ratio nitrogen neither comes free nor is tied up.
pub const BALANCE: f64 = 24.0;

/// Carbon to nitrogen of a mix: carbon added over nitrogen added, not the mean of the ratios. Parts are dry
/// matter, carbon share and ratio; at least one with dry matter.
#[must_use]
pub fn mixed(parts: impl Iterator<Item = (f64, f64, f64)>) -> Option<f64> {
    let (carbon, nitrogen) = parts.fold((0.0, 0.0), |(carbon, nitrogen), (dry, share, ratio)| {
        (carbon + dry * share, nitrogen + dry * share / ratio)
    });
    (nitrogen > 0.0).then(|| carbon / nitrogen)
}

/// What happens to nitrogen at first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum AtFirst {
    /// Below 20: it comes free soon.
    Frees,
    /// 20 to 30: neither.
    Neutral,
    /// Above 30: it is tied up.
    TiesUp,
}

/// By the ratio.
#[must_use]
pub fn at_first(ratio: f64) -> AtFirst {
    match ratio {
        ratio if ratio < 20.0 => AtFirst::Frees,
        ratio if ratio <= 30.0 => AtFirst::Neutral,
        _ => AtFirst::TiesUp,
    }
}

/// A residue of the table.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Residue {
    /// Key.
    pub key: String,
    /// Its name.
    pub name: String,
    /// Carbon to nitrogen.
    pub carbon_nitrogen: f64,
}

static RESIDUES: LazyLock<Vec<Residue>> =
    LazyLock::new(|| table::rows("residues.csv", include_str!("data/residues.csv")));

/// The table.
#[must_use]
pub fn residues() -> &'static [Residue] {
    &RESIDUES
}

/// One part of the mix.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ResiduePart {
    /// Its dry matter.
    pub dry_kg_ha: ResidueDry,
    /// A residue of the table, by its key; or give the ratio.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub residue: Option<String>,
    /// Carbon to nitrogen, where it is known better.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub carbon_nitrogen: Option<CarbonNitrogen>,
    /// Carbon of the dry matter; 42 % where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub carbon_percent: Option<CarbonPercent>,
}

/// Input of `residue-carbon-nitrogen`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ResidueInput {
    /// What is mixed.
    pub parts: Vec<ResiduePart>,
}

/// Output of `residue-carbon-nitrogen`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ResidueOutput {
    /// Of the mix.
    pub carbon_nitrogen: f64,
    /// What happens to nitrogen at first.
    pub at_first: AtFirst,
}

/// Carbon to nitrogen of residues.
pub struct ResidueCarbonNitrogen;

fn ratio(at: usize, part: &ResiduePart) -> Result<f64, Refusal> {
    if let Some(known) = part.carbon_nitrogen {
        return Ok(known.get());
    }
    let Some(key) = &part.residue else {
        return Err(Refusal::new(
            format!("parts[{at}].carbon_nitrogen"),
            "neither a residue of the table nor its ratio is given",
        )
        .given("nothing")
        .accepted("4 to 600, or a residue of the table")
        .example("37"));
    };
    let plain = key.trim().to_lowercase().replace([' ', '_'], "-");
    residues().iter().find(|residue| residue.key == plain).map(|residue| residue.carbon_nitrogen).ok_or_else(
        || {
            let known: Vec<&str> = residues().iter().map(|residue| residue.key.as_str()).collect();
            let given: String = key.chars().take(40).collect();
            Refusal::new(
                format!("parts[{at}].residue"),
                format!("no residue is called \u{201c}{given}\u{201d}"),
            )
            .given(given)
            .accepted(known.join(", "))
            .example(known[0])
        },
    )
}

impl Method for ResidueCarbonNitrogen {
    type Input = ResidueInput;
    type Output = ResidueOutput;

    const CARD: Card = Card {
        name: "residue-carbon-nitrogen",
        title: "Carbon to nitrogen of residues",
        topic: Topic::Covers,
        computes: "Carbon to nitrogen of what is turned in or laid on, alone or mixed, and whether it frees nitrogen at first \
                   or ties it up. Around 24 to 1 it does neither.",
        validity: &["Fresh residues in moist ground; what lies on top acts slower and ties up less."],
        sources: &[Cite::new("NrcsCarbonNitrogen2011", "Table 1 and the balance at 24 to 1")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let part = |residue: &str, dry| ResiduePart {
            dry_kg_ha: ResidueDry::literal(dry),
            residue: Some(residue.to_owned()),
            carbon_nitrogen: None,
            carbon_percent: None,
        };
        ResidueInput { parts: vec![part("rye-in-flower", 2000.0), part("hairy-vetch", 1000.0)] }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let mut parts = Vec::with_capacity(input.parts.len().min(50));
        for (at, part) in input.parts.iter().enumerate() {
            let carbon = part.carbon_percent.map_or(USUAL_CARBON_PERCENT, Bounded::get) / 100.0;
            parts.push((part.dry_kg_ha.get(), carbon, ratio(at, part)?));
        }
        let Some(carbon_nitrogen) = mixed(parts.into_iter()) else {
            return Err(Refusal::new("parts", "there is no dry matter in the mix")
                .given(format!("{} parts", input.parts.len()))
                .accepted("at least one part with dry matter")
                .example("2000"));
        };
        Ok(Answer::with_notes(
            ResidueOutput { carbon_nitrogen, at_first: at_first(carbon_nitrogen) },
            vec![Note::new(
                NoteKind::Provenance,
                "The ratios were read in a copy of the table typed by others; 42 % of carbon in dry matter is common practice.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "carbon to nitrogen of the mix",
                "all carbon / all nitrogen",
                format!("{} parts", input.parts.len()),
                format!("{:.1}", answer.value.carbon_nitrogen),
            )
            .cite(Self::CARD.sources[0])
    }
}

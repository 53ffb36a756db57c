//! Plant-available nitrogen of meals, pellets, plant residues and compost.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Nitrogen in the dry matter.
    pub struct DryNitrogen: "nitrogen in the dry matter", "%", 0.1 ..= 20.0, example 4.0;
    /// Carbon to nitrogen.
    pub struct CarbonNitrogen: "carbon to nitrogen ratio", "", 1.0 ..= 600.0, example 12.0;
}

/// What kind of material.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum OrganicKind {
    /// Meals, pellets and other fresh organics.
    Fresh,
    /// A cover crop or other plants turned in.
    Residue,
    /// Finished compost.
    Compost,
}

/// Above this ratio compost gives nothing in its first season.
const COMPOST_NOTHING_ABOVE: f64 = 20.0;

/// Share of all nitrogen that a crop can use in the season: low, usual, high.
///
/// Fresh material: 15 × N % of it, at most 75 % (Gale and others 2006, recalled), give or take ten points.
/// Residue: 17.5 lb a ton of dry matter for each percent above 1.5 (PNW 636). Compost: 3 to 10 %, nothing
/// above a carbon to nitrogen ratio of 20.
#[must_use]
pub fn season_share(kind: OrganicKind, dry_n_percent: f64, c_n: Option<f64>) -> [f64; 3] {
    match kind {
        OrganicKind::Fresh => {
            let middle = (0.15 * dry_n_percent).min(0.75);
            [(middle - 0.10).max(0.0), middle, (middle + 0.10).min(0.85)]
        }
        OrganicKind::Residue => {
            let kg_t = residue_kg_t(dry_n_percent);
            let share = kg_t / (10.0 * dry_n_percent);
            [0.7 * share, share, 1.3 * share]
        }
        OrganicKind::Compost if c_n.is_some_and(|ratio| ratio > COMPOST_NOTHING_ABOVE) => [0.0; 3],
        OrganicKind::Compost => [0.03, 0.06, 0.10],
    }
}

/// Share after four weeks, of fresh material: 15 (N % − 1), at most 60 %.
#[must_use]
pub fn four_week_share(dry_n_percent: f64) -> f64 {
    (0.15 * (dry_n_percent - 1.0)).clamp(0.0, 0.60)
}

/// Nitrogen of a tonne of residue dry matter: nothing below 1.5 % N, then 8.75 kg for each percent. The
/// line was drawn up to 4 %; nothing more is counted beyond.
#[must_use]
pub fn residue_kg_t(dry_n_percent: f64) -> f64 {
    8.75 * (dry_n_percent.min(4.0) - 1.5).max(0.0)
}

/// What the ratio says of nitrogen in the first weeks.
#[must_use]
pub fn ratio_words(c_n: f64) -> &'static str {
    match c_n {
        r if r < 15.0 => "gives nitrogen from the start",
        r if r <= 20.0 => "gives a little nitrogen",
        r if r <= 30.0 => "gives none at first, and may take some",
        _ => "takes nitrogen from the crop at first",
    }
}

/// Input of `amendment-nitrogen`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AmendmentNitrogenInput {
    /// What kind.
    pub kind: OrganicKind,
    /// Nitrogen in the dry matter.
    pub dry_n_percent: DryNitrogen,
    /// Carbon to nitrogen, where it is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub c_n: Option<CarbonNitrogen>,
}

/// Output of `amendment-nitrogen`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct AmendmentNitrogenOutput {
    /// Share available over the season.
    pub season_percent: f64,
    /// Low end.
    pub season_low_percent: f64,
    /// High end.
    pub season_high_percent: f64,
    /// Share available after four weeks; fresh material only.
    pub four_weeks_percent: Option<f64>,
    /// Available over the season from a tonne of dry matter.
    pub available_kg_t: f64,
    /// What the ratio of carbon to nitrogen says.
    pub ratio_says: Option<String>,
}

/// Nitrogen of amendments.
pub struct AmendmentNitrogen;

impl Method for AmendmentNitrogen {
    type Input = AmendmentNitrogenInput;
    type Output = AmendmentNitrogenOutput;

    const CARD: Card = Card {
        name: "amendment-nitrogen",
        title: "Nitrogen that meals, plants and compost give",
        topic: Topic::Fertility,
        computes: "Share of the nitrogen in a meal, in pellets, in a cover crop or in compost that a crop can use in the season.",
        validity: &[
            "Warm moist ground; cold spring ground releases later.",
            "Residue: 1.5 to 4 % N in the dry matter. Rye and other straw below 1.5 % may take up to 50 lb N an acre at first.",
            "Compost goes on giving 3 to 5 % a year.",
        ],
        sources: &[
            Cite::new("SullivanAndrews2012", "plant-available nitrogen of cover crops"),
            Cite::new("Gale2006", "28-day and full-season release"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        AmendmentNitrogenInput {
            kind: OrganicKind::Fresh,
            dry_n_percent: DryNitrogen::literal(4.0),
            c_n: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let percent = input.dry_n_percent.get();
        let [low, usual, high] = season_share(input.kind, percent, input.c_n.map(Bounded::get));
        let mut notes = Vec::new();
        match input.kind {
            OrganicKind::Fresh => notes.push(Note::new(
                NoteKind::Provenance,
                "The release of fresh material is recalled; it agrees with the published line for cover crops within 2 lb/ton above 2.5 % N.",
            )),
            OrganicKind::Compost => {
                notes.push(Note::new(NoteKind::Provenance, "The release of compost is recalled."));
            }
            OrganicKind::Residue if !(1.5..=4.0).contains(&percent) => notes.push(Note::new(
                NoteKind::OutsideRange,
                "The line was drawn for 1.5 to 4 % N in the dry matter.",
            )),
            OrganicKind::Residue => {}
        }
        Ok(Answer::with_notes(
            AmendmentNitrogenOutput {
                season_percent: 100.0 * usual,
                season_low_percent: 100.0 * low,
                season_high_percent: 100.0 * high,
                four_weeks_percent: (input.kind == OrganicKind::Fresh)
                    .then(|| 100.0 * four_week_share(percent)),
                available_kg_t: 10.0 * percent * usual,
                ratio_says: input.c_n.map(|ratio| ratio_words(ratio.get()).to_owned()),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let (rule, cite) = match input.kind {
            OrganicKind::Fresh => ("15 × N %, at most 75 %", Self::CARD.sources[1]),
            OrganicKind::Residue => {
                ("8.75 kg/t × (N % − 1.5), as a share of all nitrogen", Self::CARD.sources[0])
            }
            OrganicKind::Compost => ("3 to 10 %; nothing above a C:N of 20", Self::CARD.sources[1]),
        };
        Working::new()
            .step(
                "share available over the season",
                rule,
                format!("N {} %", input.dry_n_percent.get()),
                format!("{:.0} %", answer.value.season_percent),
            )
            .cite(cite)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The recalled rule for fresh material against the published line for cover crops, lb a short ton.
    #[test]
    fn the_two_rules_agree_where_both_hold() {
        for (percent, line) in [(3.5, 35.0), (2.5, 17.5)] {
            let fresh = 20.0 * percent * season_share(OrganicKind::Fresh, percent, None)[1];
            assert!((fresh - line).abs() < 2.0, "{percent}: {fresh} {line}");
        }
    }
}

//! How much single cores of a field usually differ, property by property.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Card, Cite, Method, Note, NoteKind, Provenance, Refusal, Topic, Working, table};

/// A property that cores are pulled for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Property {
    /// Acidity.
    Ph,
    /// Phosphorus by a soil test.
    Phosphorus,
    /// Potassium by a soil test.
    Potassium,
    /// Organic matter.
    OrganicMatter,
    /// Nitrate.
    Nitrate,
    /// Salts.
    Salts,
    /// Sand.
    Sand,
    /// Clay.
    Clay,
    /// Bulk density.
    BulkDensity,
    /// Water held at field capacity.
    WaterAtFieldCapacity,
    /// Rate at which the ground takes in water.
    Infiltration,
}

impl Property {
    /// Every property.
    pub const ALL: [Self; 11] = [
        Self::Ph,
        Self::Phosphorus,
        Self::Potassium,
        Self::OrganicMatter,
        Self::Nitrate,
        Self::Salts,
        Self::Sand,
        Self::Clay,
        Self::BulkDensity,
        Self::WaterAtFieldCapacity,
        Self::Infiltration,
    ];

    /// Its usual spread.
    #[must_use]
    pub fn variation(self) -> &'static Variation {
        match ROWS.iter().find(|row| row.property == self) {
            Some(row) => row,
            // The table is compiled in, and a test finds a row for every property.
            None => unreachable!("variation.csv has no row for {self:?}"),
        }
    }

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        &self.variation().words
    }
}

/// Usual spread between single cores within one field.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Variation {
    /// The property.
    pub property: Property,
    /// In words.
    pub words: String,
    /// Lower end of the coefficients of variation found.
    pub low_percent: f64,
    /// Upper end of them.
    pub high_percent: f64,
    /// A few high values pull the mean up.
    pub skewed: bool,
    /// Where the range is from.
    pub source: String,
    /// How it reached this project.
    pub provenance: Provenance,
}

impl Variation {
    /// A middle to start from: the geometric mean of both ends.
    #[must_use]
    pub fn middle_percent(&self) -> f64 {
        (self.low_percent * self.high_percent).sqrt()
    }
}

static ROWS: LazyLock<Vec<Variation>> =
    LazyLock::new(|| table::rows("variation.csv", include_str!("data/variation.csv")));

/// Input of `property-variation`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PropertyVariationInput {
    /// The property.
    pub property: Property,
}

/// Output of `property-variation`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct PropertyVariationOutput {
    /// The row of the table.
    #[serde(flatten)]
    pub variation: Variation,
    /// Geometric mean of both ends.
    pub middle_percent: f64,
}

/// Usual spread of a property.
pub struct PropertyVariation;

impl Method for PropertyVariation {
    type Input = PropertyVariationInput;
    type Output = PropertyVariationOutput;

    const CARD: Card = Card {
        name: "property-variation",
        title: "How much cores of one field differ",
        topic: Topic::Spatial,
        computes: "The range of coefficients of variation found between single cores within fields, to start from until a farm \
                   has repeated results of its own.",
        validity: &[
            "Whole fields. A vegetable plot that was worked as one for years mostly lies in the lower half; one that was put \
             together from several pieces may lie above.",
        ],
        sources: &[Cite::new("MullaMcBratney2000", "table of coefficients of variation")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        PropertyVariationInput { property: Property::Phosphorus }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let variation = input.property.variation().clone();
        let mut notes = vec![Note::new(
            NoteKind::Provenance,
            if variation.provenance == Provenance::Judgement {
                "No range was at hand for this property: that of nitrate stands in, which is our judgement."
            } else {
                "The range is recalled from the publication and was not read again."
            },
        )];
        if variation.skewed {
            notes.push(Note::new(
                NoteKind::Method,
                "A few high values pull the mean of this property up: read a number of cores as a floor.",
            ));
        }
        Ok(Answer::with_notes(
            PropertyVariationOutput { middle_percent: variation.middle_percent(), variation },
            notes,
        ))
    }

    fn working(_: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let row = &answer.value.variation;
        Working::new()
            .step(
                "spread between cores",
                "the row of the table",
                row.words.as_str(),
                format!("{} to {} % of the mean", row.low_percent, row.high_percent),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_property_has_its_row() {
        for property in Property::ALL {
            let row = property.variation();
            assert!(row.low_percent > 0.0 && row.low_percent <= row.high_percent, "{property:?}");
            assert!(
                Cite::new(Box::leak(row.source.clone().into_boxed_str()), "").source().is_some(),
                "{property:?}"
            );
        }
        assert_eq!(ROWS.len(), Property::ALL.len());
    }
}

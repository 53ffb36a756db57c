//! Crusting index: how readily rain beats the surface into a crust.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::composition::{ClayPercent, SiltPercent};

crate::quantity! {
    /// Organic matter of the surface soil.
    pub struct SurfaceOrganicMatter: "organic matter", "%", 0.0 ..= 30.0, example 2.5;
    /// Acidity of the surface soil in water.
    pub struct SurfacePh: "pH", "", 3.0 ..= 10.0, example 6.5;
}

/// Share of the silt (2 to 50 µm) that is finer than 20 µm when nobody measured it: log-linear
/// between the two limits, ln(20/2) / ln(50/2).
pub const FINE_SHARE_OF_SILT: f64 = 0.715_338_279_036_696_6;

/// Crusting index without the pH term, for hot paths: 1.5 fine silt + 0.75 coarse silt over clay
/// + 10 organic matter, all in percent. Not finite when clay and organic matter are both zero.
#[must_use]
pub fn crusting_index(silt: f64, clay: f64, organic_matter: f64) -> f64 {
    let fine = FINE_SHARE_OF_SILT * silt;
    (1.5 * fine + 0.75 * (silt - fine)) / (clay + 10.0 * organic_matter)
}

/// How a crusting index reads.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Crusting {
    /// Below 1.4.
    Not,
    /// 1.4 to 1.6.
    Slight,
    /// 1.6 to 1.8.
    Fair,
    /// 1.8 to 2.
    Strong,
    /// 2 and more.
    VeryStrong,
}

impl Crusting {
    /// The class of an index.
    #[must_use]
    pub fn of(index: f64) -> Self {
        match index {
            i if i < 1.4 => Self::Not,
            i if i < 1.6 => Self::Slight,
            i if i < 1.8 => Self::Fair,
            i if i < 2.0 => Self::Strong,
            _ => Self::VeryStrong,
        }
    }
}

/// Input of `crusting-index`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CrustingInput {
    /// Silt, 2 to 50 µm.
    pub silt_percent: SiltPercent,
    /// Clay.
    pub clay_percent: ClayPercent,
    /// Organic matter.
    pub organic_matter_percent: SurfaceOrganicMatter,
    /// pH in water; above 7 the lime in the soil steadies it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ph: Option<SurfacePh>,
}

/// Output of `crusting-index`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct CrustingOutput {
    /// The index, a pure number.
    pub crusting_index: f64,
    /// How it reads.
    pub crusting: Crusting,
}

/// Crusting index.
pub struct CrustingIndex;

impl Method for CrustingIndex {
    type Input = CrustingInput;
    type Output = CrustingOutput;

    const CARD: Card = Card {
        name: "crusting-index",
        title: "Crusting index",
        topic: Topic::Structure,
        computes: "How readily rain and sprinklers beat a bare surface into a crust that holds back seedlings. \
                   Silt builds the crust; clay and organic matter hold crumbs together against it.",
        validity: &[
            "Made for temperate arable soils with silt and little sand; sands that blow or pack are not its subject.",
            "Only a bare surface crusts: mulch or a living cover stops it whatever the index.",
            "Silt is parted at 20 µm by the log-linear rule, as no farm test measures that limit.",
        ],
        sources: &[Cite::new("RemyMarinLafleche1974", "crusting index")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        CrustingInput {
            silt_percent: SiltPercent::literal(60.0),
            clay_percent: ClayPercent::literal(15.0),
            organic_matter_percent: SurfaceOrganicMatter::literal(2.0),
            ph: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (silt, clay) = (input.silt_percent.get(), input.clay_percent.get());
        let organic = input.organic_matter_percent.get();
        if silt + clay > 100.0 + 1e-9 {
            return Err(Refusal::new("silt_percent", "silt and clay together cannot be more than 100 %")
                .given(format!("{silt} + {clay} = {} %", silt + clay))
                .accepted("silt + clay up to 100 %")
                .example("60"));
        }
        if clay + 10.0 * organic <= 0.0 {
            return Err(Refusal::new(
                "clay_percent",
                "without any clay or organic matter the index has no value",
            )
            .given("clay 0 %, organic matter 0 %")
            .accepted("more than 0 % of either")
            .example("15"));
        }
        let steadied = input.ph.map_or(0.0, |ph| 0.2 * (ph.get() - 7.0).max(0.0));
        let crusting_index = (crusting_index(silt, clay, organic) - steadied).max(0.0);
        let notes = vec![Note::new(
            NoteKind::Provenance,
            "The index and its classes are recalled from the publication and were not read again.",
        )];
        let value = CrustingOutput { crusting_index, crusting: Crusting::of(crusting_index) };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let silt = input.silt_percent.get();
        let fine = FINE_SHARE_OF_SILT * silt;
        let steadied = input.ph.map_or(0.0, |ph| 0.2 * (ph.get() - 7.0).max(0.0));
        Working::new()
            .step(
                "fine silt, 2 to 20 µm",
                "silt × ln(20/2) / ln(50/2)",
                format!("{silt} × {FINE_SHARE_OF_SILT:.4}"),
                format!("{fine:.2} %"),
            )
            .step(
                "the index",
                "(1.5 × fine silt + 0.75 × coarse silt) / (clay + 10 × organic matter) − 0.2 × (pH − 7) where pH is above 7",
                format!(
                    "(1.5 × {fine:.2} + 0.75 × {:.2}) / ({} + 10 × {}) − {steadied:.2}",
                    silt - fine,
                    input.clay_percent.get(),
                    input.organic_matter_percent.get()
                ),
                format!("{:.3}", answer.value.crusting_index),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn silt_crusts_and_organic_matter_helps() {
        assert!(crusting_index(75.0, 15.0, 2.0) > 2.0);
        assert!(crusting_index(40.0, 20.0, 2.5) < 1.4);
        assert!(crusting_index(75.0, 15.0, 4.0) < crusting_index(75.0, 15.0, 2.0));
    }

    #[test]
    fn nothing_to_divide_by_is_refused() {
        let mut input = CrustingIndex::example();
        input.clay_percent = ClayPercent::literal(0.0);
        input.organic_matter_percent = SurfaceOrganicMatter::literal(0.0);
        assert_eq!(CrustingIndex::compute(&input).unwrap_err().field, "clay_percent");
    }
}

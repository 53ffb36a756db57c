//! Nitrogen for potatoes by the length of their season, their variety group and the soil's supply.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::supply::SupplyIndex;
use crate::kit::table::rows as read_table;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::quantity! {
    /// Days from half emergence to the death of the haulm.
    pub struct HaulmDays: "days from emergence to the death of the haulm", "d", 20.0 ..= 250.0, example 110.0;
    /// Variety group: 1 short haulm life, 4 very long.
    pub struct VarietyGroup: "variety group", "", 1.0 ..= 4.0, example 3.0;
}

#[derive(Deserialize)]
struct Row {
    days_from: f64,
    days_to: f64,
    group: u8,
    sns_from: u8,
    sns_to: u8,
    n_low: f64,
    n_high: f64,
}

static ROWS: LazyLock<Vec<Row>> =
    LazyLock::new(|| read_table("potato_nitrogen.csv", include_str!("data/potato_nitrogen.csv")));

/// Low and high end, kg N/ha. `None` where the table has no figure.
#[must_use]
pub fn nitrogen(days: f64, group: u8, sns_index: u8) -> Option<(f64, f64)> {
    ROWS.iter()
        .find(|row| {
            row.group == group
                && (row.sns_from..=row.sns_to).contains(&sns_index)
                && days >= row.days_from
                // The last column is "more than 120".
                && (days < row.days_to || (days <= 120.0 && row.days_to == 120.0))
                && (row.days_from < 120.0 || days > 120.0)
        })
        .map(|row| (row.n_low, row.n_high))
}

/// Input of `potato-nitrogen`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PotatoNitrogenInput {
    /// Days from half emergence to the death of the haulm.
    pub season_d: HaulmDays,
    /// Variety group, 1 to 4.
    pub group: VarietyGroup,
    /// Soil nitrogen supply index, 0 to 6.
    pub sns_index: SupplyIndex,
}

/// Output of `potato-nitrogen`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct PotatoNitrogenOutput {
    /// Low end.
    pub n_low_kg_ha: f64,
    /// Middle.
    pub n_kg_ha: f64,
    /// High end.
    pub n_high_kg_ha: f64,
}

/// Nitrogen for potatoes.
pub struct PotatoNitrogen;

impl Method for PotatoNitrogen {
    type Input = PotatoNitrogenInput;
    type Output = PotatoNitrogenOutput;

    const CARD: Card = Card {
        name: "potato-nitrogen",
        title: "Nitrogen for potatoes",
        topic: Topic::Fertility,
        computes: "Nitrogen for a potato crop from the length of its season, how long the variety keeps its haulm, and \
                   what the ground supplies of itself.",
        validity: &[
            "Mineral soils of the United Kingdom. Where the table has no figure the input is refused.",
        ],
        sources: &[Cite::new("Rb209Potatoes", "T5.10")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        PotatoNitrogenInput {
            season_d: HaulmDays::literal(110.0),
            group: VarietyGroup::literal(3.0),
            sns_index: SupplyIndex::literal(1.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (group, index) = (whole("group", input.group.get())?, whole("sns_index", input.sns_index.get())?);
        let (low, high) = nitrogen(input.season_d.get(), group, index).ok_or_else(|| {
            Refusal::new(
                "season_d",
                format!(
                    "the table has no figure for group {group} in a season of {} days",
                    input.season_d.get()
                ),
            )
            .given(input.season_d.get())
            .accepted("seasons that the group can have: group 1 up to 120 days, group 4 from 60 days")
            .example("100")
        })?;
        Ok(Answer::plain(PotatoNitrogenOutput {
            n_low_kg_ha: low,
            n_kg_ha: f64::midpoint(low, high),
            n_high_kg_ha: high,
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "nitrogen",
                "the row of the table, and its middle",
                format!(
                    "{} days, group {}, supply index {}",
                    input.season_d.get(),
                    input.group.get(),
                    input.sns_index.get()
                ),
                format!(
                    "{} to {}, middle {} kg/ha",
                    answer.value.n_low_kg_ha, answer.value.n_high_kg_ha, answer.value.n_kg_ha
                ),
            )
            .cite(Self::CARD.sources[0])
    }
}

/// A whole number of a small range.
pub(super) fn whole(field: &str, value: f64) -> Result<u8, Refusal> {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded by its quantity")]
    let near = libm::round(value) as u8;
    if libm::fabs(value - f64::from(near)) < 1e-9 {
        Ok(near)
    } else {
        Err(Refusal::new(field, format!("{value} is not a whole number"))
            .given(value)
            .accepted("a whole number")
            .example(near))
    }
}

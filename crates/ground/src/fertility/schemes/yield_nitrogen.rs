//! Nitrogen for another yield than the tables were made for.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::table::rows as read_table;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Fresh marketable yield.
    pub struct FreshYield: "fresh yield", "t/ha", 0.1 ..= 300.0, example 45.0;
    /// Mineral nitrogen within reach of the roots.
    pub struct RootZoneNitrogen: "mineral nitrogen in the root zone", "kg/ha", 0.0 ..= 1000.0, example 55.0;
}

/// Share of fertilizer nitrogen that the crop takes up.
const RECOVERY: f64 = 0.60;

#[derive(Deserialize)]
struct Row {
    crop: String,
    fresh_t_ha: Option<f64>,
    dry_matter_percent: Option<f64>,
    harvest_index: Option<f64>,
    a: Option<f64>,
    b: Option<f64>,
    uptake: f64,
    mineralised: f64,
    root_depth_cm: f64,
}

static ROWS: LazyLock<Vec<Row>> =
    LazyLock::new(|| read_table("nitrogen_uptake.csv", include_str!("data/nitrogen_uptake.csv")));

/// What a crop needs and finds.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct YieldNitrogen {
    /// Nitrogen taken up at that yield.
    pub uptake_kg_ha: f64,
    /// Mineralised while it grows.
    pub mineralised_kg_ha: f64,
    /// Depth of its roots.
    pub root_depth_cm: f64,
    /// Rate.
    pub n_kg_ha: f64,
}

fn crops() -> String {
    ROWS.iter().map(|row| row.crop.as_str()).collect::<Vec<_>>().join(", ")
}

/// The rate: (uptake − mineralised − mineral nitrogen in reach of the roots) / 0.60, never below nothing.
///
/// # Errors
/// A crop that the table does not hold, or a yield for one whose uptake it gives at one yield only.
pub fn nitrogen_for_yield(
    crop: &str,
    fresh_t_ha: Option<f64>,
    mineral_n_kg_ha: f64,
) -> Result<YieldNitrogen, Refusal> {
    let row = ROWS.iter().find(|row| row.crop == crop).ok_or_else(|| {
        Refusal::new("crop", format!("the table has no uptake for {crop:?}"))
            .given(crop)
            .accepted(crops())
            .example("lettuce-head")
    })?;
    let uptake = match (fresh_t_ha, row.dry_matter_percent, row.harvest_index, row.a, row.b) {
        (None, ..) => row.uptake,
        (Some(fresh), Some(dry), Some(index), Some(a), Some(b)) => {
            let w = fresh * dry / 100.0 / index;
            10.0 * w * a * (1.0 + b * libm::exp(-0.26 * w))
        }
        (Some(fresh), ..) => {
            return Err(Refusal::new("fresh_t_ha", format!("uptake of {crop} is given at one yield only"))
                .given(fresh)
                .accepted("nothing: the table's own yield is taken")
                .example(
                    row.fresh_t_ha
                        .map_or_else(|| "leave it out".to_owned(), |t| format!("{t} t/ha, left out")),
                ));
        }
    };
    Ok(YieldNitrogen {
        uptake_kg_ha: uptake,
        mineralised_kg_ha: row.mineralised,
        root_depth_cm: row.root_depth_cm,
        n_kg_ha: ((uptake - row.mineralised - mineral_n_kg_ha) / RECOVERY).max(0.0),
    })
}

/// Input of `nitrogen-for-yield`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NitrogenForYieldInput {
    /// The crop, as the United Kingdom's table names it.
    pub crop: String,
    /// Fresh yield looked for; the table's own without it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fresh_t_ha: Option<FreshYield>,
    /// Mineral nitrogen to the depth of the roots.
    pub mineral_n_kg_ha: RootZoneNitrogen,
}

/// Nitrogen for a yield.
pub struct NitrogenForYield;

impl Method for NitrogenForYield {
    type Input = NitrogenForYieldInput;
    type Output = YieldNitrogen;

    const CARD: Card = Card {
        name: "nitrogen-for-yield",
        title: "Nitrogen for a yield",
        topic: Topic::Fertility,
        computes: "Nitrogen for a vegetable crop at the yield that is looked for: what it takes up, less what the ground \
                   gives, over the share of fertilizer that a crop finds.",
        validity: &[
            "Made from the crops of the United Kingdom's table. The copy prints the last step as a multiplication; divided by \
             0.60 it gives that table's own rates within 8 kg/ha, and so it is divided here.",
            "Four printed uptakes look shifted by one row and are computed from the table's other columns.",
        ],
        sources: &[Cite::new("Rb209Vegetables", "T6.27")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        NitrogenForYieldInput {
            crop: "lettuce-head".to_owned(),
            fresh_t_ha: Some(FreshYield::literal(45.5)),
            mineral_n_kg_ha: RootZoneNitrogen::literal(55.5),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let found =
            nitrogen_for_yield(&input.crop, input.fresh_t_ha.map(Bounded::get), input.mineral_n_kg_ha.get())?;
        Ok(Answer::with_notes(
            found,
            vec![Note::new(
                NoteKind::Method,
                "That the last step divides by 0.60 is our reading of the guide.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        Working::new()
            .step(
                "nitrogen taken up",
                "10 W a (1 + b exp(−0.26 W)), W the whole dry matter, t/ha",
                input
                    .fresh_t_ha
                    .map_or("at the table's yield".to_owned(), |t| format!("at {} t/ha fresh", t.get())),
                format!("{:.0} kg/ha", value.uptake_kg_ha),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "rate",
                "(uptake − mineralised − mineral nitrogen) / 0.60",
                format!(
                    "({:.0} − {} − {}) / 0.60",
                    value.uptake_kg_ha,
                    value.mineralised_kg_ha,
                    input.mineral_n_kg_ha.get()
                ),
                format!("{:.0} kg/ha", value.n_kg_ha),
            )
    }
}

#[cfg(test)]
mod tests {
    use super::super::rates::{RateQuestion, crop_rates};
    use super::super::supply::middle_kg_ha;
    use super::*;
    use crate::fertility::schemes::Scheme;

    /// The guide's own rates (its tables 6.12 to 6.25) against the form of its table 6.27.
    #[test]
    fn the_form_gives_the_guides_own_rates() {
        let mut squares = 0.0;
        let mut count = 0.0;
        for row in ROWS.iter().filter(|row| row.crop != "cauliflower-winter") {
            for index in 1..=5 {
                let question =
                    RateQuestion { crop: &row.crop, sns_index: Some(index), ..RateQuestion::default() };
                let table = crop_rates(Scheme::Rb209, &question).unwrap().n.unwrap().target_kg_ha;
                let mineral = middle_kg_ha(index, row.root_depth_cm).unwrap();
                let form = nitrogen_for_yield(&row.crop, None, mineral).unwrap().n_kg_ha;
                assert!((form - table).abs() <= 9.0, "{} {index}: {form} {table}", row.crop);
                squares += (form - table) * (form - table);
                count += 1.0;
            }
        }
        assert!(count >= 90.0);
        assert!((squares / count).sqrt() < 3.5, "{}", (squares / count).sqrt());
    }
}

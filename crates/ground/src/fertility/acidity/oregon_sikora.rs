//! Lime requirement by the Sikora buffer, Oregon.

use std::sync::LazyLock;

use serde::Deserialize;

use super::basis::{Basis, LimeNeed, RateUnit, along, inches, over_targets};
use super::by_buffer::{BufferInput, BufferRule};
use super::effectiveness::EffectivenessSystem;
use crate::kit::table;
use crate::kit::{Answer, Card, Cite, Method, Refusal, Topic, Working};

#[derive(Deserialize)]
struct Row {
    sikora_buffer_ph: f64,
    to_5_6: f64,
    to_6_0: f64,
    to_6_4: f64,
    to_6_8: f64,
    to_7_2: f64,
}

const TARGETS: [f64; 5] = [5.6, 6.0, 6.4, 6.8, 7.2];

/// Rising buffer pH, one list of points a target.
static COLUMNS: LazyLock<[Vec<(f64, f64)>; 5]> = LazyLock::new(|| {
    let mut rows: Vec<Row> = table::rows("oregon_sikora.csv", include_str!("data/oregon_sikora.csv"));
    rows.sort_by(|a, b| a.sikora_buffer_ph.total_cmp(&b.sikora_buffer_ph));
    let column = |of: fn(&Row) -> f64| rows.iter().map(|row| (row.sikora_buffer_ph, of(row))).collect();
    [
        column(|row| row.to_5_6),
        column(|row| row.to_6_0),
        column(|row| row.to_6_4),
        column(|row| row.to_6_8),
        column(|row| row.to_7_2),
    ]
});

fn rate(buffer: f64, target: f64) -> f64 {
    let rates: Vec<f64> = COLUMNS.iter().filter_map(|column| along(column, buffer)).collect();
    over_targets(&TARGETS, &rates, target).unwrap_or(0.0)
}

/// The method's rule.
pub(super) const RULE: BufferRule = BufferRule {
    basis: Basis {
        unit: RateUnit::TonPerAcre,
        depth_cm: inches(6.0),
        lime: "lime of score 100",
        strength_percent: 100.0,
        system: EffectivenessSystem::OregonScore,
        error_percent: 30.0,
    },
    targets: &TARGETS,
    from: 4.8,
    to: 6.9,
    rate,
    says: "table by Sikora buffer pH and pH to reach, straight lines between its entries; above 6.9 none",
    cite: Cite::new("OregonEm9585", "Table 1"),
};

/// Lime by Oregon's Sikora table.
pub struct LimeOregonSikora;

impl Method for LimeOregonSikora {
    type Input = BufferInput;
    type Output = LimeNeed;

    const CARD: Card = Card {
        name: "lime-oregon-sikora",
        title: "Lime by Sikora buffer, Oregon",
        topic: Topic::Fertility,
        computes: "The lime need of mineral soil from the pH in Sikora buffer, by the table of Oregon State University, which \
                   was made by incubating 24 Oregon soils.",
        validity: &[
            "Sikora buffer 4.8 to 6.9, pH to reach 5.6 to 7.2. Below 4.8 it is refused; above 6.9 no lime is needed.",
            "Printed for 6 inches; other depths are scaled. It replaces the older table for SMP buffer, which was not read.",
        ],
        sources: &[RULE.cite],
        cautions: super::basis::LIME_CAUTIONS,
    };

    fn example() -> Self::Input {
        BufferInput::typical()
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        RULE.answer(input, None)
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        RULE.working(input, answer)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_whole_and_rises_the_right_way() {
        for column in COLUMNS.iter() {
            assert_eq!(column.len(), 22);
            assert!(column.windows(2).all(|pair| pair[0].1 >= pair[1].1), "more acid, more lime: {column:?}");
        }
        for step in 0..=210_u32 {
            let buffer = 4.8 + f64::from(step) / 100.0;
            let rates: Vec<f64> = TARGETS.iter().map(|target| rate(buffer, *target)).collect();
            assert!(rates.windows(2).all(|pair| pair[0] <= pair[1]), "{buffer}: {rates:?}");
        }
    }
}

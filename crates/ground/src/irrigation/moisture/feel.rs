//! Moisture by feel: the table.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::Provenance;
use crate::texture::Class;

/// What a handful of ground does when squeezed, dry to wet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FeelStep {
    /// Dry: 0 to 25 % of the available water.
    Dry,
    /// Slightly moist: 25 to 50 %.
    SlightlyMoist,
    /// Moist: 50 to 75 %.
    Moist,
    /// Wet: 75 to 100 %.
    Wet,
    /// At field capacity: 100 %.
    FieldCapacity,
}

impl FeelStep {
    /// Every step, dry to wet.
    pub const ALL: [Self; 5] = [Self::Dry, Self::SlightlyMoist, Self::Moist, Self::Wet, Self::FieldCapacity];

    /// Share of the available water, percent, least and most: the same for every texture.
    #[must_use]
    pub fn share_percent(self) -> (f64, f64) {
        let row = FeelRow::of(FeelGroup::Medium, self);
        (row.share_low_percent, row.share_high_percent)
    }
}

/// Texture groups of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FeelGroup {
    /// Sands and loamy sands.
    Coarse,
    /// Sandy loams.
    ModeratelyCoarse,
    /// Loams.
    Medium,
    /// Clays and clay loams.
    Fine,
}

impl FeelGroup {
    /// The group of a class. The table names neither silt, sandy clay nor silty clay; where they go
    /// is a choice of this project.
    #[must_use]
    pub fn of(class: Class) -> Self {
        match class {
            Class::Sand | Class::LoamySand => Self::Coarse,
            Class::SandyLoam => Self::ModeratelyCoarse,
            Class::Loam | Class::SiltLoam | Class::Silt | Class::SandyClayLoam => Self::Medium,
            Class::ClayLoam | Class::SiltyClayLoam | Class::SandyClay | Class::SiltyClay | Class::Clay => {
                Self::Fine
            }
        }
    }
}

/// One row of the table.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct FeelRow {
    group: FeelGroup,
    step: FeelStep,
    /// Where the row is from.
    pub provenance: Provenance,
    /// Least water the group holds, inches per foot.
    pub held_low_in_ft: f64,
    /// Most water the group holds, inches per foot.
    pub held_high_in_ft: f64,
    /// Least share of the available water, percent.
    pub share_low_percent: f64,
    /// Greatest share of the available water, percent.
    pub share_high_percent: f64,
    /// Least water missing from field capacity, inches per foot.
    pub missing_low_in_ft: f64,
    /// Most water missing from field capacity, inches per foot.
    pub missing_high_in_ft: f64,
    /// What the handful looks and feels like.
    pub words: String,
}

static ROWS: LazyLock<Vec<FeelRow>> = LazyLock::new(|| {
    let text = include_str!("data/feel.csv");
    let rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes()).into_deserialize();
    match rows.collect() {
        Ok(rows) => rows,
        // The table is compiled in, and a test reads every row.
        Err(error) => unreachable!("feel.csv: {error}"),
    }
});

impl FeelRow {
    /// The row of a group and step.
    #[must_use]
    pub fn of(group: FeelGroup, step: FeelStep) -> &'static Self {
        ROWS.iter()
            .find(|row| row.group == group && row.step == step)
            .unwrap_or_else(|| unreachable!("a test finds a row for every group and step"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The table's own arithmetic: what is missing is what is held times the share that is gone, to the
    /// printed tenth.
    #[test]
    fn every_group_and_step_has_its_row_and_the_rows_agree_with_themselves() {
        for class in Class::ALL {
            for step in FeelStep::ALL {
                let row = FeelRow::of(FeelGroup::of(class), step);
                assert_eq!((row.share_low_percent, row.share_high_percent), step.share_percent());
                let most = row.held_high_in_ft * (1.0 - row.share_low_percent / 100.0);
                let least = row.held_low_in_ft * (1.0 - row.share_high_percent / 100.0);
                assert!((most - row.missing_high_in_ft).abs() <= 0.0501, "{row:?} {most}");
                assert!((least - row.missing_low_in_ft).abs() <= 0.0501, "{row:?} {least}");
            }
        }
    }
}

//! What other authors say is too dense for roots, by texture: the band around the table in use.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::table;
use crate::texture::Class;

/// Densities at which other publications see roots in trouble.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Critical {
    /// Least that one of them gives.
    pub others_low_g_cm3: f64,
    /// Most that one of them gives.
    pub others_high_g_cm3: f64,
}

#[derive(Deserialize)]
struct Row {
    classes: String,
    low_g_cm3: f64,
    high_g_cm3: f64,
}

static BY_CLASS: LazyLock<Vec<Critical>> = LazyLock::new(|| {
    let rows: Vec<Row> =
        table::rows("critical_densities.csv", include_str!("../data/critical_densities.csv"));
    Class::ALL
        .iter()
        .map(|class| {
            rows.iter()
                .filter(|row| row.classes.split(';').any(|name| name.trim() == class.name()))
                .map(|row| Critical { others_low_g_cm3: row.low_g_cm3, others_high_g_cm3: row.high_g_cm3 })
                .reduce(|one, other| Critical {
                    others_low_g_cm3: one.others_low_g_cm3.min(other.others_low_g_cm3),
                    others_high_g_cm3: one.others_high_g_cm3.max(other.others_high_g_cm3),
                })
                .unwrap_or_else(|| unreachable!("a test finds a row for every class"))
        })
        .collect()
});

/// The band over all publications of the table.
#[must_use]
pub fn critical(class: Class) -> Critical {
    BY_CLASS[class as usize]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_class_has_a_band_and_sand_bears_more_than_clay() {
        for class in Class::ALL {
            let Critical { others_low_g_cm3: low, others_high_g_cm3: high } = critical(class);
            assert!(low <= high && low > 1.3 && high < 1.9, "{class:?}");
        }
        assert!(critical(Class::Sand).others_low_g_cm3 > critical(Class::Clay).others_high_g_cm3);
    }
}

//! How much water the surface layer gives up, by texture class.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::kit::Provenance;
use crate::texture::Class;

/// Water that evaporates from the top 0.10 m of a texture class [Fao56, Table 19].
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
pub struct EvaporationRange {
    /// Where the row is from.
    pub provenance: Provenance,
    /// Least water that evaporates freely, mm.
    pub rew_low_mm: f64,
    /// Most water that evaporates freely, mm.
    pub rew_high_mm: f64,
    /// Least water that evaporates in all, mm.
    pub tew_low_mm: f64,
    /// Most water that evaporates in all, mm.
    pub tew_high_mm: f64,
}

#[derive(Deserialize)]
struct Row {
    classes: String,
    #[serde(flatten)]
    range: EvaporationRange,
}

static ROWS: LazyLock<Vec<Row>> = LazyLock::new(|| {
    let text = include_str!("data/evaporation.csv");
    let rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes()).into_deserialize();
    match rows.collect() {
        Ok(rows) => rows,
        // The table is compiled in, and a test reads it for every class.
        Err(error) => unreachable!("evaporation.csv: {error}"),
    }
});

/// The row of a class.
#[must_use]
pub fn evaporation_range(class: Class) -> EvaporationRange {
    ROWS.iter()
        .find(|row| row.classes == class.name())
        .map_or_else(|| unreachable!("a test finds a row for every class"), |row| row.range)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_class_has_a_row_in_order() {
        for class in Class::ALL {
            let range = evaporation_range(class);
            assert!(range.rew_low_mm < range.rew_high_mm && range.tew_low_mm < range.tew_high_mm);
            assert!(range.rew_low_mm < range.tew_low_mm && range.rew_high_mm < range.tew_high_mm);
        }
        assert_eq!(evaporation_range(Class::ClayLoam).provenance, Provenance::Judgement);
    }
}

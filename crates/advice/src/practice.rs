//! Which practice helps which ground: the trade's table, by texture group.

use std::sync::LazyLock;

use ground::texture::Class;
use serde::Deserialize;

/// Texture groups of the table, coarse to fine.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Group {
    /// Sand and loamy sand.
    Sand,
    /// Sandy loam.
    SandyLoam,
    /// Loam.
    Loam,
    /// Silt loam and silt.
    Silt,
    /// The clay loams.
    ClayLoam,
    /// The clays.
    Clay,
}

impl Group {
    /// The group of a class. The sandy and silty clay loams go with clay loam: our judgement.
    #[must_use]
    pub fn of(class: Class) -> Self {
        match class {
            Class::Sand | Class::LoamySand => Self::Sand,
            Class::SandyLoam => Self::SandyLoam,
            Class::Loam => Self::Loam,
            Class::SiltLoam | Class::Silt => Self::Silt,
            Class::SandyClayLoam | Class::ClayLoam | Class::SiltyClayLoam => Self::ClayLoam,
            Class::SandyClay | Class::SiltyClay | Class::Clay => Self::Clay,
        }
    }
}

#[derive(Debug, Deserialize)]
struct Row {
    practice: String,
    sand: i8,
    sandy_loam: i8,
    loam: i8,
    silt: i8,
    clay_loam: i8,
    clay: i8,
}

static ROWS: LazyLock<Vec<Row>> = LazyLock::new(|| {
    let text = include_str!("../data/practices.csv");
    let rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes()).into_deserialize();
    match rows.collect() {
        Ok(rows) => rows,
        // Compiled in, and a test reads it.
        Err(error) => unreachable!("practices.csv: {error}"),
    }
});

/// Ranks of one practice over the groups: 3 a main help, down to -1 harm.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ranks([i8; 6]);

impl Ranks {
    /// The row of `practice`; no help anywhere where the table has no such row.
    #[must_use]
    pub fn of(practice: &str) -> Self {
        ROWS.iter()
            .find(|row| row.practice == practice)
            .map_or(Self([0; 6]), |r| Self([r.sand, r.sandy_loam, r.loam, r.silt, r.clay_loam, r.clay]))
    }

    /// Rank on a class.
    #[must_use]
    pub fn on(self, class: Class) -> i8 {
        self.0[Group::of(class) as usize]
    }

    /// Place among three answers: 0 a main help, 1 a useful one, 2 little or none.
    #[must_use]
    pub fn answer(self, class: Class) -> usize {
        match self.on(class) {
            3.. => 0,
            2 => 1,
            _ => 2,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_practice_a_rule_asks_for_is_in_the_table() {
        for practice in [
            "organic_matter",
            "mulch",
            "cover_roots",
            "taproots",
            "drainage_first",
            "permanent_beds",
            "shaped_beds",
        ] {
            assert_ne!(Ranks::of(practice), Ranks([0; 6]), "{practice}");
        }
    }

    #[test]
    fn drainage_is_the_main_help_on_clay_and_none_on_sand() {
        let ranks = Ranks::of("drainage_first");
        assert_eq!(ranks.answer(Class::Clay), 0);
        assert_eq!(ranks.answer(Class::Sand), 2);
    }
}

//! Bulk densities that help, hinder and stop roots, by texture.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::density::aeration::aeration_limit_g_cm3;
use super::density::core::USUAL_GRAIN_DENSITY_G_CM3;
use super::density::critical::{Critical, critical};
use crate::irrigation::balance::available::FieldCapacity;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::composition::{ClayPercent, SandPercent, SiltPercent};
use crate::texture::{Class, Composition};

crate::quantity! {
    /// Dry bulk density of the fine earth.
    pub struct FineEarthDensity: "bulk density", "g/cm³", 0.3 ..= 2.2, example 1.4;
}

/// The three densities of one texture group, g/cm³.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RootLimits {
    /// Good for roots below this.
    pub good_below_g_cm3: f64,
    /// Roots begin to be hindered here.
    pub hinders_at_g_cm3: f64,
    /// Roots are restricted above this.
    pub restricts_above_g_cm3: f64,
}

#[derive(Deserialize)]
struct Row {
    classes: String,
    clay_from_percent: f64,
    clay_to_percent: f64,
    #[serde(flatten)]
    limits: RootLimits,
}

static ROWS: LazyLock<Vec<Row>> = LazyLock::new(|| {
    let text = include_str!("data/root_limits.csv");
    let rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes()).into_deserialize();
    match rows.collect() {
        Ok(rows) => rows,
        // The table is compiled in, and a test reads it for every class.
        Err(error) => unreachable!("root_limits.csv: {error}"),
    }
});

/// Rows are looked up for thousands of draws: one small table, by class and then by clay.
static BY_CLASS: LazyLock<Vec<Vec<(f64, f64, RootLimits)>>> = LazyLock::new(|| {
    Class::ALL
        .iter()
        .map(|class| {
            ROWS.iter()
                .filter(|row| row.classes.split(';').any(|name| name.trim() == class.name()))
                .map(|row| (row.clay_from_percent, row.clay_to_percent, row.limits))
                .collect()
        })
        .collect()
});

impl RootLimits {
    /// The limits for a make-up.
    #[must_use]
    pub fn of(soil: Composition, class: Class) -> Self {
        let rows = &BY_CLASS[class as usize];
        rows.iter()
            .find(|(from, to, _)| (*from..*to).contains(&soil.clay))
            .or_else(|| rows.last())
            .map_or_else(|| unreachable!("a test finds a row for every class"), |row| row.2)
    }

    /// The density that stops roots here, by hardness or by want of air at field capacity, whichever comes first.
    #[must_use]
    pub fn governing_g_cm3(&self, field_capacity: f64) -> f64 {
        self.restricts_above_g_cm3.min(aeration_limit_g_cm3(USUAL_GRAIN_DENSITY_G_CM3, field_capacity))
    }

    /// How a density stands against them.
    #[must_use]
    pub fn rating(&self, density_g_cm3: f64) -> RootRating {
        match density_g_cm3 {
            d if d < self.good_below_g_cm3 => RootRating::Good,
            d if d < self.hinders_at_g_cm3 => RootRating::Watch,
            d if d <= self.restricts_above_g_cm3 => RootRating::Hinders,
            _ => RootRating::Restricts,
        }
    }
}

/// How roots fare at a density.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RootRating {
    /// Below the good limit.
    Good,
    /// Between good and hindering.
    Watch,
    /// Roots may be hindered.
    Hinders,
    /// Roots are restricted.
    Restricts,
}

/// Input of `root-limiting-density`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RootLimitsInput {
    /// Sand.
    pub sand_percent: SandPercent,
    /// Silt.
    pub silt_percent: SiltPercent,
    /// Clay.
    pub clay_percent: ClayPercent,
    /// Measured dry bulk density, stones taken off; the rating is left out without it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bulk_density_g_cm3: Option<FineEarthDensity>,
    /// Water held at field capacity; without it nothing is said of air.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub field_capacity_m3_m3: Option<FieldCapacity>,
}

/// Output of `root-limiting-density`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct RootLimitsOutput {
    /// Texture class the row was looked up for.
    pub class: Class,
    /// The limits.
    #[serde(flatten)]
    pub limits: RootLimits,
    /// How the measured density stands against them.
    pub rating: Option<RootRating>,
    /// What other publications give as too dense.
    #[serde(flatten)]
    pub others: Critical,
    /// Density that leaves a tenth of the volume to air at field capacity.
    pub aeration_limit_g_cm3: Option<f64>,
    /// The lower of that and the density that restricts roots.
    pub governing_g_cm3: Option<f64>,
}

/// Root-limiting bulk density.
pub struct RootLimitingDensity;

impl Method for RootLimitingDensity {
    type Input = RootLimitsInput;
    type Output = RootLimitsOutput;

    const CARD: Card = Card {
        name: "root-limiting-density",
        title: "Root-limiting bulk density",
        topic: Topic::Structure,
        computes: "The bulk densities at which roots of this texture do well, begin to be hindered and are restricted, \
                   and where a measured density stands between them.",
        validity: &[
            "Mineral soils. Published limits of other authors differ by up to 0.15 g/cm³: read the result as a band.",
            "Old root and worm channels let roots through denser ground than this.",
        ],
        sources: &[
            Cite::new("NrcsBulkDensity2008", "general relationship of soil bulk density to root growth"),
            Cite::new("UfIfasDensity", "critical densities by texture"),
            Cite::new("SoilCourseNotes", "densities at which roots begin to have problems"),
            Cite::new("GrableSiemer1968", "air-filled porosity of 10 %"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        RootLimitsInput {
            sand_percent: SandPercent::literal(40.0),
            silt_percent: SiltPercent::literal(40.0),
            clay_percent: ClayPercent::literal(20.0),
            bulk_density_g_cm3: Some(FineEarthDensity::literal(1.5)),
            field_capacity_m3_m3: Some(FieldCapacity::literal(0.28)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (soil, note) =
            Composition::from_percent(input.sand_percent, input.silt_percent, input.clay_percent)?;
        let class = Class::of(soil);
        let limits = RootLimits::of(soil, class);
        let rating = input.bulk_density_g_cm3.map(|density| limits.rating(density.get()));
        let mut notes: Vec<Note> = note.into_iter().collect();
        notes.push(Note::new(
            NoteKind::Method,
            "The source lists loam and silt loam in two rows each; the row taken here is a choice of this project.",
        ));
        let others = critical(class);
        if let Some(density) = input.bulk_density_g_cm3.map(Bounded::get)
            && (others.others_low_g_cm3..=others.others_high_g_cm3).contains(&density)
        {
            notes.push(Note::new(
                NoteKind::Method,
                "The density lies where publications disagree on whether roots are in trouble: go by the spade.",
            ));
        }
        let held = input.field_capacity_m3_m3.map(Bounded::get);
        if held.is_some() {
            notes.push(Note::new(NoteKind::Provenance, "The limit of a tenth of air is recalled."));
        }
        Ok(Answer::with_notes(
            RootLimitsOutput {
                class,
                limits,
                rating,
                others,
                aeration_limit_g_cm3: held.map(|held| aeration_limit_g_cm3(USUAL_GRAIN_DENSITY_G_CM3, held)),
                governing_g_cm3: held.map(|held| limits.governing_g_cm3(held)),
            },
            notes,
        ))
    }

    fn working(_: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let limits = answer.value.limits;
        Working::new()
            .step(
                "the limits",
                "the row of the table for this class and clay",
                answer.value.class.name(),
                format!(
                    "good below {}, hindered from {}, restricted above {} g/cm³",
                    limits.good_below_g_cm3, limits.hinders_at_g_cm3, limits.restricts_above_g_cm3
                ),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_make_up_has_rising_limits() {
        for sand in 0..=100_u32 {
            for clay in 0..=(100 - sand) {
                let soil =
                    Composition::from_parts(f64::from(sand), f64::from(100 - sand - clay), f64::from(clay));
                let limits = RootLimits::of(soil, Class::of(soil));
                assert!(limits.good_below_g_cm3 < limits.hinders_at_g_cm3, "{soil:?}");
                assert!(limits.hinders_at_g_cm3 < limits.restricts_above_g_cm3, "{soil:?}");
                let rows = &BY_CLASS[Class::of(soil) as usize];
                assert!(rows.iter().any(|(from, to, _)| (*from..*to).contains(&soil.clay)), "{soil:?}");
            }
        }
    }
}

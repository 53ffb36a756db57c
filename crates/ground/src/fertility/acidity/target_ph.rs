//! The pH to reach for a crop, and for a bed on which several take turns.
//!
//! # Method
//! Each crop has a published range. Its own pH to reach lies five eighths up that range, no higher than 6.5 unless
//! its lower end is (our judgement of "the middle to upper part"). A rotation takes the most demanding crop's, but
//! never more than the upper end of the crop that bears least lime. Organic soil: 0.7 lower.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::quantity::number;
use crate::kit::table;
use crate::kit::{Answer, Card, Cite, Method, Note, NoteKind, Provenance, Refusal, Topic, Working};

/// A crop's range of pH in water.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CropPh {
    /// Its key, that of the crop catalogue where it stands there.
    pub key: String,
    /// Its name.
    pub name: String,
    /// Lower end.
    pub low_ph: f64,
    /// Upper end.
    pub high_ph: f64,
    /// Other keys that share the row.
    #[serde(skip_serializing)]
    also: String,
    /// Key in the bibliography; empty for common practice.
    pub source: String,
    /// How it reached this project.
    #[schemars(with = "String")]
    pub provenance: Provenance,
    /// Anything to know.
    pub note: String,
}

static ROWS: LazyLock<Vec<CropPh>> =
    LazyLock::new(|| table::rows("target_ph.csv", include_str!("data/target_ph.csv")));

/// pH to reach where nothing is known of the crops: most vegetables do well from 6.0 to 7.0.
pub const USUAL_TARGET: f64 = 6.5;
/// No target goes above this unless a crop's own lower end does.
const HIGHEST_USUAL: f64 = 6.5;
/// How far up its range a crop's own target lies.
const UP_THE_RANGE: f64 = 5.0 / 8.0;
/// How much lower organic soil is kept (0.5 to 1.0 in practice).
const ORGANIC_LOWER: f64 = 0.7;
/// Where potato is held against scab.
const SCAB_HIGH: f64 = 5.5;

impl CropPh {
    /// The row of a crop, by its key or name.
    #[must_use]
    pub fn of(key: &str) -> Option<&'static Self> {
        let plain = key.trim().to_lowercase().replace([' ', '_'], "-");
        ROWS.iter()
            .find(|row| row.key == plain)
            .or_else(|| ROWS.iter().find(|row| row.also.split(';').any(|one| one == plain)))
            .or_else(|| ROWS.iter().find(|row| row.name.to_lowercase().replace(' ', "-") == plain))
    }

    /// Every row.
    #[must_use]
    pub fn all() -> &'static [Self] {
        &ROWS
    }

    /// The crop's own pH to reach on mineral soil.
    #[must_use]
    pub fn target(&self) -> f64 {
        let up = self.low_ph + UP_THE_RANGE * (self.high_ph - self.low_ph);
        (up.min(HIGHEST_USUAL.max(self.low_ph)) * 10.0).round() / 10.0
    }
}

/// The pH to reach on ground that several crops share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Target {
    /// pH to reach.
    pub target_ph: f64,
    /// The crop that asks for most; nothing where no crop is known.
    pub demanding: Option<&'static CropPh>,
    /// The crop that bears least lime.
    pub sensitive: Option<&'static CropPh>,
    /// Does the demanding crop's lower end lie above the sensitive one's upper end?
    pub apart: bool,
}

/// The pH to reach for crops that share ground. `scab` holds potato at 5.5 or below.
#[must_use]
pub fn target(crops: &[&'static CropPh], organic_soil: bool, scab: bool) -> Target {
    let high = |crop: &CropPh| if scab && crop.key == "potato" { SCAB_HIGH } else { crop.high_ph };
    let demanding = crops
        .iter()
        .copied()
        .max_by(|a, b| a.target().total_cmp(&b.target()).then(a.low_ph.total_cmp(&b.low_ph)));
    let sensitive = crops.iter().copied().min_by(|a, b| high(a).total_cmp(&high(b)));
    let lower = if organic_soil { ORGANIC_LOWER } else { 0.0 };
    let wanted = demanding.map_or(USUAL_TARGET, CropPh::target) - lower;
    let most = sensitive.map_or(f64::INFINITY, high);
    Target {
        target_ph: wanted.min(most),
        demanding,
        sensitive,
        apart: demanding.is_some_and(|crop| crop.low_ph - lower > most + 1e-9),
    }
}

/// Input of `target-ph`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TargetPhInput {
    /// Crops that share the ground over the years, by key or name. None: what suits most vegetables.
    pub crops: Vec<String>,
    /// Is it muck or peat?
    #[serde(default)]
    pub organic_soil: bool,
    /// Is potato scab a risk here?
    #[serde(default)]
    pub scab: bool,
}

/// Output of `target-ph`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct TargetPhOutput {
    /// pH to reach.
    pub target_ph: f64,
    /// The crop that asks for most.
    pub demanding: Option<String>,
    /// The crop that bears least lime.
    pub sensitive: Option<String>,
    /// Its upper end.
    pub at_most_ph: Option<f64>,
    /// Do they belong on ground of their own?
    pub apart: bool,
}

/// The pH to reach.
pub struct TargetPhMethod;

fn rows(input: &TargetPhInput) -> Result<Vec<&'static CropPh>, Refusal> {
    input
        .crops
        .iter()
        .enumerate()
        .map(|(place, name)| {
            CropPh::of(name).ok_or_else(|| {
                Refusal::new(format!("crops[{place}]"), format!("no range of pH is known for {name:?}"))
                    .given(name)
                    .accepted(ROWS.iter().map(|row| row.key.as_str()).collect::<Vec<_>>().join(", "))
                    .example("tomato")
            })
        })
        .collect()
}

impl Method for TargetPhMethod {
    type Input = TargetPhInput;
    type Output = TargetPhOutput;

    const CARD: Card = Card {
        name: "target-ph",
        title: "The pH to reach",
        topic: Topic::Fertility,
        computes: "The pH in water to aim at for the crops that share a piece of ground over the years: what the most demanding \
                   asks for, but never more than the one that bears least lime can stand.",
        validity: &[
            "pH in water. A reading in salt (calcium or potassium chloride) is about 0.5 to 0.6 lower on acid soil and must not be used here.",
            "Where in its range a crop's own target lies, and 0.7 less on muck and peat, are our judgement.",
            "Above about 7.0 manganese, iron, zinc, boron and phosphorus run short and potatoes get scab; sand is soonest over-limed.",
        ],
        sources: &[
            Cite::new("KnottHandbook", "tolerance of acidity"),
            Cite::new("NewEnglandVegetableGuide", "beet and chard"),
            Cite::new("ExtensionBlueberry", "soil pH"),
            Cite::new("Mississippi1584", "most vegetables 6.0 to 7.0; potato with scab"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        TargetPhInput {
            crops: vec!["tomato".to_owned(), "beet".to_owned(), "potato".to_owned()],
            organic_soil: false,
            scab: false,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let rows = rows(input)?;
        let found = target(&rows, input.organic_soil, input.scab);
        let mut notes = Vec::new();
        if found.apart {
            notes.push(Note::new(
                NoteKind::Method,
                "No pH suits them all: keep the acid-loving crop on ground of its own.",
            ));
        }
        if rows.iter().any(|row| row.provenance != Provenance::Read) {
            notes.push(Note::new(
                NoteKind::Provenance,
                "Some of these ranges are recalled or common practice, not read again.",
            ));
        }
        let potato = rows.iter().any(|row| row.key == "potato");
        Ok(Answer::with_notes(
            TargetPhOutput {
                target_ph: found.target_ph,
                demanding: found.demanding.map(|row| row.name.clone()),
                sensitive: found.sensitive.map(|row| row.name.clone()),
                at_most_ph: found.sensitive.map(|row| {
                    if input.scab && potato && row.key == "potato" { SCAB_HIGH } else { row.high_ph }
                }),
                apart: found.apart,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let each: Vec<String> = rows(input)
            .unwrap_or_default()
            .iter()
            .map(|row| {
                format!(
                    "{} {} to {} (aim {})",
                    row.name,
                    number(row.low_ph),
                    number(row.high_ph),
                    number(row.target())
                )
            })
            .collect();
        let told = if each.is_empty() { "no crops: 6.5".to_owned() } else { each.join("; ") };
        Working::new()
            .step(
                "pH to reach",
                "five eighths up each range, no more than 6.5 unless its lower end is; the highest of them, but no more than the lowest upper end; 0.7 less on organic soil",
                told,
                number(answer.value.target_ph),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::climate::crops::catalogue;

    #[test]
    fn rows_are_sound_and_known_to_the_catalogue_where_they_stand_in_it() {
        let mut keys: Vec<&str> = Vec::new();
        for row in CropPh::all() {
            assert!(row.low_ph < row.high_ph, "{}", row.key);
            assert!((row.low_ph..=row.high_ph).contains(&row.target()), "{} {}", row.key, row.target());
            assert!(row.source.is_empty() || crate::kit::sources::BIBLIOGRAPHY.contains_key(&row.source));
            keys.push(&row.key);
            for also in row.also.split(';').filter(|also| !also.is_empty()) {
                assert!(catalogue().iter().any(|crop| crop.key == also), "{also}");
                keys.push(also);
            }
        }
        let all = keys.len();
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), all, "a crop has two ranges");
        let vegetables = catalogue().iter().filter(|crop| CropPh::of(&crop.key).is_some()).count();
        assert!(vegetables > 40, "{vegetables}");
    }

    #[test]
    fn the_target_lies_under_the_tenderest_crop() {
        let of = |key: &str| CropPh::of(key).unwrap();
        let mixed = target(&[of("beet"), of("blueberry")], false, false);
        assert!(mixed.apart && (mixed.target_ph - 5.3).abs() < 1e-9, "{mixed:?}");
        assert_eq!(target(&[], false, false).target_ph, USUAL_TARGET);
        let potato = target(&[of("potato"), of("tomato")], false, true);
        assert!((potato.target_ph - 5.5).abs() < 1e-9 && !potato.apart);
        assert_eq!(of("blueberry").target(), 4.8);
    }
}

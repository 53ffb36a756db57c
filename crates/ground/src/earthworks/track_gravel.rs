//! Gravel on an access track, by how much the ground under it bears.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::volume::{Material, VolumeFactors};
use crate::kit::table::rows;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::posts::building_class::BuildingClass;
use crate::posts::cautions;
use crate::posts::unified::UnifiedGroup;

crate::quantity! {
    /// California bearing ratio of the ground under the track, soaked.
    pub struct Cbr: "bearing ratio", "%", 0.5 ..= 100.0, example 5.0;
    /// Loaded trucks and tractors a day in the busy season.
    pub struct HeavyVehicles: "heavy vehicles a day", "", 0.0 ..= 50.0, example 2.0;
    /// Length of a track.
    pub struct TrackLength: "length of the track", "m", 1.0 ..= 20000.0, example 120.0;
    /// Width of a track.
    pub struct TrackWidth: "width of the track", "m", 1.0 ..= 12.0, example 3.5;
}

const MM_PER_IN: f64 = 25.4;

#[derive(Deserialize)]
struct CbrRow {
    unified_group: UnifiedGroup,
    cbr_percent: f64,
}

#[derive(Deserialize)]
struct ThicknessRow {
    heavy_to_per_d: f64,
    cbr_from_percent: f64,
    cbr_to_percent: f64,
    thickness_in: f64,
}

static CBR: LazyLock<Vec<CbrRow>> = LazyLock::new(|| rows("cbr_wet.csv", include_str!("data/cbr_wet.csv")));
static THICKNESS: LazyLock<Vec<ThicknessRow>> =
    LazyLock::new(|| rows("gravel_thickness.csv", include_str!("data/gravel_thickness.csv")));

/// Wet-season bearing ratio of a Unified group, percent.
#[must_use]
pub fn wet_cbr(group: UnifiedGroup) -> f64 {
    CBR.iter()
        .find(|row| row.unified_group == group)
        .map_or_else(|| unreachable!("a test looks every group up"), |row| row.cbr_percent)
}

/// Wet-season bearing ratio where only the building class is known: the weakest common group of it.
#[must_use]
pub fn wet_cbr_of_class(class: BuildingClass) -> f64 {
    wet_cbr(match class {
        BuildingClass::SiltAndClay => UnifiedGroup::Cl,
        BuildingClass::Sand => UnifiedGroup::Sc,
        _ => UnifiedGroup::CleanGravel,
    })
}

/// Compacted gravel, mm. `None` beyond fifty heavy vehicles a day.
#[must_use]
pub fn gravel_mm(cbr_percent: f64, heavy_per_d: f64) -> Option<f64> {
    THICKNESS
        .iter()
        .find(|row| {
            heavy_per_d <= row.heavy_to_per_d
                && cbr_percent > row.cbr_from_percent
                && cbr_percent <= row.cbr_to_percent
        })
        .map(|row| row.thickness_in * MM_PER_IN)
}

/// How the ground under a track is rated in the field.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Subgrade {
    /// Bearing ratio below 3: treat it, or lay a geotextile first.
    VeryPoor,
    /// 3 to 5.
    Poor,
    /// 6 to 8.
    Moderate,
    /// 9 and more.
    Good,
}

impl Subgrade {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::VeryPoor => "very poor",
            Self::Poor => "poor",
            Self::Moderate => "moderate",
            Self::Good => "good",
        }
    }
}

impl Subgrade {
    /// Of a bearing ratio in percent.
    #[must_use]
    pub fn of(cbr_percent: f64) -> Self {
        match cbr_percent {
            c if c < 3.0 => Self::VeryPoor,
            c if c < 6.0 => Self::Poor,
            c if c < 9.0 => Self::Moderate,
            _ => Self::Good,
        }
    }
}

/// Input of `track-gravel`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TrackInput {
    /// Bearing ratio of the soaked ground, if it was tested.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cbr_percent: Option<Cbr>,
    /// Or its Unified group.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unified_group: Option<UnifiedGroup>,
    /// Or its building class.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub building_class: Option<BuildingClass>,
    /// Loaded trucks and tractors a day.
    pub heavy_per_day: HeavyVehicles,
    /// Length of the track.
    pub length_m: TrackLength,
    /// Width of the track.
    pub width_m: TrackWidth,
}

/// Output of `track-gravel`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct TrackOutput {
    /// Bearing ratio used.
    pub cbr_percent: f64,
    /// How the ground is rated.
    pub subgrade: Subgrade,
    /// Compacted gravel, mm.
    pub gravel_mm: f64,
    /// Compacted gravel, m³.
    pub compacted_m3: f64,
    /// Loose gravel to order, m³.
    pub loose_m3: f64,
}

/// Gravel on a track.
pub struct TrackGravel;

impl Method for TrackGravel {
    type Input = TrackInput;
    type Output = TrackOutput;

    const CARD: Card = Card {
        name: "track-gravel",
        title: "Gravel on an access track",
        topic: Topic::Earthworks,
        computes: "How thick the gravel of an access track must be for the ground under it and the heavy vehicles a day, \
                   and how much to order.",
        validity: &[
            "The wet-season bearing of the ground counts, below the topsoil, which is taken off.",
            "Drain first: a crown of 3 to 7 % and ditches do more than gravel.",
            "Up to 50 heavy vehicles a day.",
        ],
        sources: &[
            Cite::new("SouthDakotaGravel", "thickness by trucks a day and bearing ratio"),
            Cite::new("Look2007", "Table 13.9"),
            Cite::new("ArmyEarthwork", "table of volume factors"),
        ],
        cautions: cautions::EARTHWORKS,
    };

    fn example() -> Self::Input {
        TrackInput {
            cbr_percent: None,
            unified_group: Some(UnifiedGroup::Ml),
            building_class: None,
            heavy_per_day: HeavyVehicles::literal(2.0),
            length_m: TrackLength::literal(120.0),
            width_m: TrackWidth::literal(3.5),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let cbr_percent = match (input.cbr_percent, input.unified_group, input.building_class) {
            (Some(cbr), None, None) => cbr.get(),
            (None, Some(group), None) => wet_cbr(group),
            (None, None, Some(class)) => wet_cbr_of_class(class),
            (None, None, None) => return Err(one_ground("nothing")),
            _ => return Err(one_ground("more than one")),
        };
        let Some(gravel_mm) = gravel_mm(cbr_percent, input.heavy_per_day.get()) else {
            return Err(Refusal::new("heavy_per_day", "the table ends at fifty heavy vehicles a day")
                .given(input.heavy_per_day.get())
                .accepted("0 to 50")
                .example("2"));
        };
        let compacted_m3 = gravel_mm / 1000.0 * input.length_m.get() * input.width_m.get();
        let factors = VolumeFactors::of(Material::Sand);
        let subgrade = Subgrade::of(cbr_percent);
        let mut notes = vec![Note::new(
            NoteKind::Provenance,
            "Thicknesses are recalled from a catalogue for rural roads; bearing ratios by group differ widely within each group. Gravel is taken to shrink as sand does.",
        )];
        if subgrade == Subgrade::VeryPoor {
            notes.insert(
                0,
                Note::new(
                    NoteKind::Method,
                    "On ground this soft lay a geotextile or firm the ground first: gravel alone sinks in.",
                ),
            );
        }
        Ok(Answer::with_notes(
            TrackOutput {
                cbr_percent,
                subgrade,
                gravel_mm,
                compacted_m3,
                loose_m3: compacted_m3 / factors.compacted * factors.loose,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        Working::new()
            .step(
                "bearing of the ground",
                "as tested, else the wet-season value of its group",
                input.unified_group.map_or("by test or class".to_owned(), |group| group.symbol().to_owned()),
                format!("{} %", value.cbr_percent),
            )
            .cite(Self::CARD.sources[1])
            .step(
                "thickness",
                "the row of the table",
                format!("{} heavy vehicles a day", input.heavy_per_day.get()),
                format!("{:.0} mm", value.gravel_mm),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "gravel to order",
                "thickness × length × width × 1.11 / 0.95",
                format!(
                    "{:.3} × {} × {}",
                    value.gravel_mm / 1000.0,
                    input.length_m.get(),
                    input.width_m.get()
                ),
                format!("{:.1} m³ loose", value.loose_m3),
            )
            .cite(Self::CARD.sources[2])
    }
}

fn one_ground(given: &str) -> Refusal {
    Refusal::new("cbr_percent", "say what the ground under the track is, in one way")
        .given(given)
        .accepted("one of cbr_percent, unified_group and building_class")
        .example("5")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weaker_ground_and_more_trucks_need_more_gravel() {
        for heavy in [0.0, 5.0, 10.0, 25.0, 50.0] {
            let found: Vec<f64> =
                [2.0, 3.0, 5.0, 10.0, 40.0].iter().map(|cbr| gravel_mm(*cbr, heavy).unwrap()).collect();
            assert!(found.windows(2).all(|pair| pair[0] >= pair[1]), "{found:?}");
        }
        assert!(gravel_mm(5.0, 20.0).unwrap() > gravel_mm(5.0, 2.0).unwrap());
        assert!(gravel_mm(5.0, 51.0).is_none());
        for class in BuildingClass::ALL {
            assert!(wet_cbr_of_class(class) > 0.0);
        }
        for row in CBR.iter() {
            assert!(wet_cbr(row.unified_group) > 0.0);
        }
        assert_eq!(CBR.len(), 13);
    }
}

//! Hydrologic soil group: how much of a storm the ground sheds.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::ksat_class::{Ksat, MM_H_PER_UM_S};
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Depth to a layer that hardly passes water.
    pub struct ImpermeableDepth: "depth to an impermeable layer", "cm", 0.0 ..= 1000.0, example 150.0;
    /// Least depth to the water table in the wet season.
    pub struct SeasonalTable: "depth to the seasonal water table", "cm", 0.0 ..= 1000.0, example 120.0;
}

/// Hydrologic soil groups. A dual group names the drained state first and the undrained second.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
pub enum HydrologicGroup {
    /// Sheds least.
    A,
    /// Sheds little.
    B,
    /// Sheds much.
    C,
    /// Sheds most.
    D,
    /// A when drained, else D.
    #[serde(rename = "A/D")]
    AD,
    /// B when drained, else D.
    #[serde(rename = "B/D")]
    BD,
    /// C when drained, else D.
    #[serde(rename = "C/D")]
    CD,
}

impl HydrologicGroup {
    /// Every group.
    pub const ALL: [Self; 7] = [Self::A, Self::B, Self::C, Self::D, Self::AD, Self::BD, Self::CD];

    /// As it is written.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::A => "A",
            Self::B => "B",
            Self::C => "C",
            Self::D => "D",
            Self::AD => "A/D",
            Self::BD => "B/D",
            Self::CD => "C/D",
        }
    }

    /// The single group of ground that is, or is not, drained.
    #[must_use]
    pub fn when(self, drained: bool) -> Self {
        match (self, drained) {
            (Self::AD, true) => Self::A,
            (Self::BD, true) => Self::B,
            (Self::CD, true) => Self::C,
            (Self::AD | Self::BD | Self::CD, false) => Self::D,
            (single, _) => single,
        }
    }

    fn dual(self) -> Self {
        match self {
            Self::A => Self::AD,
            Self::B => Self::BD,
            Self::C => Self::CD,
            other => other,
        }
    }
}

/// Which conductivity the table asks for.
fn upper_half_metre(impermeable_cm: f64, table_cm: f64) -> bool {
    impermeable_cm <= 100.0 || (60.0..=100.0).contains(&table_cm)
}

/// The group [Neh630]: conductivity of the least conducting layer, mm/h, of the uppermost 50 cm where
/// the impermeable layer lies within 100 cm or the water table at 60 to 100 cm, else of the uppermost
/// 100 cm. Depths in cm; infinite where there is no such layer or table.
#[must_use]
pub fn hydrologic_group(conductivity_mm_h: f64, impermeable_cm: f64, table_cm: f64) -> HydrologicGroup {
    if impermeable_cm < 50.0 {
        return HydrologicGroup::D;
    }
    let limits =
        if upper_half_metre(impermeable_cm, table_cm) { [40.0, 10.0, 1.0] } else { [10.0, 4.0, 0.4] };
    let single = match conductivity_mm_h / MM_H_PER_UM_S {
        k if k > limits[0] => HydrologicGroup::A,
        k if k > limits[1] => HydrologicGroup::B,
        k if k > limits[2] => HydrologicGroup::C,
        _ => HydrologicGroup::D,
    };
    if table_cm < 60.0 { single.dual() } else { single }
}

/// Input of `hydrologic-soil-group`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HydrologicGroupInput {
    /// Saturated conductivity of the least conducting layer in the depth the table asks for.
    pub conductivity_mm_h: Ksat,
    /// Depth to a layer that hardly passes water; none within a metre where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub impermeable_layer_cm: Option<ImpermeableDepth>,
    /// Least depth to the water table in the wet season; none within a metre where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water_table_cm: Option<SeasonalTable>,
}

impl HydrologicGroupInput {
    fn depths(&self) -> (f64, f64) {
        let or_none = |depth: Option<f64>| depth.unwrap_or(f64::INFINITY);
        (or_none(self.impermeable_layer_cm.map(Bounded::get)), or_none(self.water_table_cm.map(Bounded::get)))
    }
}

/// Output of `hydrologic-soil-group`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct HydrologicGroupOutput {
    /// The group.
    pub group: HydrologicGroup,
    /// Depth to which the least conducting layer counts.
    pub counted_depth_cm: f64,
}

/// Hydrologic soil group.
pub struct HydrologicSoilGroup;

impl Method for HydrologicSoilGroup {
    type Input = HydrologicGroupInput;
    type Output = HydrologicGroupOutput;

    const CARD: Card = Card {
        name: "hydrologic-soil-group",
        title: "Hydrologic soil group",
        topic: Topic::Water,
        computes: "The group A to D by which runoff tables rank ground, from how the tightest layer conducts, and how \
                   deep an impermeable layer and the wet season's water table lie.",
        validity: &[
            "A water table above 60 cm makes a dual group: drained, then undrained. Ground that cannot be drained is D.",
            "Impermeable is a layer that passes almost no water: dense till, pan, rock.",
        ],
        sources: &[Cite::new("Neh630", "ch. 7, Table 7-1")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        HydrologicGroupInput {
            conductivity_mm_h: Ksat::literal(15.5),
            impermeable_layer_cm: None,
            water_table_cm: Some(SeasonalTable::literal(120.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (impermeable, table) = input.depths();
        let group = hydrologic_group(input.conductivity_mm_h.get(), impermeable, table);
        let counted = if upper_half_metre(impermeable, table) { 50.0 } else { 100.0 };
        Ok(Answer::with_notes(
            HydrologicGroupOutput { group, counted_depth_cm: counted },
            vec![Note::new(NoteKind::Provenance, "The table is recalled and was not read again.")],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let (impermeable, table) = input.depths();
        let deep =
            |depth: f64| if depth.is_finite() { format!("{} cm", number(depth)) } else { "none".to_owned() };
        let rule = if impermeable < 50.0 {
            "an impermeable layer above 50 cm: D"
        } else if upper_half_metre(impermeable, table) {
            "A above 40, B above 10, C above 1 µm/s, else D, least of the uppermost 50 cm"
        } else {
            "A above 10, B above 4, C above 0.4 µm/s, else D, least of the uppermost 100 cm"
        };
        Working::new()
            .step(
                "group",
                rule,
                format!(
                    "{:.2} µm/s; impermeable layer {}; water table {}",
                    input.conductivity_mm_h.get() / MM_H_PER_UM_S,
                    deep(impermeable),
                    deep(table)
                ),
                answer.value.group.name(),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tighter_ground_never_sheds_less() {
        for impermeable in [40.0, 75.0, 150.0, f64::INFINITY] {
            for table in [30.0, 80.0, 150.0, f64::INFINITY] {
                let groups = [0.01, 1.0, 5.0, 20.0, 60.0, 500.0]
                    .map(|k| hydrologic_group(k, impermeable, table).when(true));
                assert!(groups.windows(2).all(|pair| pair[0] >= pair[1]), "{groups:?}");
                let dual = hydrologic_group(500.0, impermeable, table);
                assert_eq!(dual.when(false) != dual, table < 60.0 && impermeable >= 50.0);
            }
        }
    }
}

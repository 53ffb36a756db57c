//! USDA texture class of a sand, silt and clay content.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::composition::{ClayPercent, Composition, SandPercent, SiltPercent};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

/// The twelve USDA texture classes, coarse to fine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
pub enum Class {
    /// Sand.
    #[serde(rename = "sand")]
    Sand,
    /// Loamy sand.
    #[serde(rename = "loamy sand")]
    LoamySand,
    /// Sandy loam.
    #[serde(rename = "sandy loam")]
    SandyLoam,
    /// Loam.
    #[serde(rename = "loam")]
    Loam,
    /// Silt loam.
    #[serde(rename = "silt loam")]
    SiltLoam,
    /// Silt.
    #[serde(rename = "silt")]
    Silt,
    /// Sandy clay loam.
    #[serde(rename = "sandy clay loam")]
    SandyClayLoam,
    /// Clay loam.
    #[serde(rename = "clay loam")]
    ClayLoam,
    /// Silty clay loam.
    #[serde(rename = "silty clay loam")]
    SiltyClayLoam,
    /// Sandy clay.
    #[serde(rename = "sandy clay")]
    SandyClay,
    /// Silty clay.
    #[serde(rename = "silty clay")]
    SiltyClay,
    /// Clay.
    #[serde(rename = "clay")]
    Clay,
}

impl Class {
    /// Every class, coarse to fine; `class as usize` is its place here.
    pub const ALL: [Self; 12] = [
        Self::Sand,
        Self::LoamySand,
        Self::SandyLoam,
        Self::Loam,
        Self::SiltLoam,
        Self::Silt,
        Self::SandyClayLoam,
        Self::ClayLoam,
        Self::SiltyClayLoam,
        Self::SandyClay,
        Self::SiltyClay,
        Self::Clay,
    ];

    /// Its name in lower-case words.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Sand => "sand",
            Self::LoamySand => "loamy sand",
            Self::SandyLoam => "sandy loam",
            Self::Loam => "loam",
            Self::SiltLoam => "silt loam",
            Self::Silt => "silt",
            Self::SandyClayLoam => "sandy clay loam",
            Self::ClayLoam => "clay loam",
            Self::SiltyClayLoam => "silty clay loam",
            Self::SandyClay => "sandy clay",
            Self::SiltyClay => "silty clay",
            Self::Clay => "clay",
        }
    }

    /// The class of a composition.
    ///
    /// # Method
    /// The definitions of [SoilSurveyManual2017], ch. 3, pp. 122-124, as a decision list: the first
    /// rule that holds names the class. On a shared line the rule with the closed sign wins, so
    /// each composition has exactly one class.
    #[must_use]
    pub fn of(soil: Composition) -> Self {
        rule_of(soil).0
    }
}

/// Two numbers closer than this are the same number to the rules: 10.2 + 1.5 × 3.2 stands on the
/// line at 15 although its binary sum does not.
const SAME: f64 = 1e-9;

fn below(value: f64, limit: f64) -> bool {
    value < limit - SAME
}

fn at_least(value: f64, limit: f64) -> bool {
    !below(value, limit)
}

fn above(value: f64, limit: f64) -> bool {
    value > limit + SAME
}

/// The class and the rule that named it.
fn rule_of(Composition { sand, silt, clay }: Composition) -> (Class, &'static str) {
    if below(silt + 1.5 * clay, 15.0) {
        (Class::Sand, "silt + 1.5 × clay is below 15")
    } else if below(silt + 2.0 * clay, 30.0) {
        (Class::LoamySand, "silt + 1.5 × clay is 15 or more, and silt + 2 × clay is below 30")
    } else if at_least(clay, 40.0) {
        if above(sand, 45.0) {
            (Class::SandyClay, "clay is 35 or more and sand is above 45")
        } else if at_least(silt, 40.0) {
            (Class::SiltyClay, "clay is 40 or more and silt is 40 or more")
        } else {
            (Class::Clay, "clay is 40 or more, sand is 45 or less and silt is below 40")
        }
    } else if at_least(clay, 35.0) && above(sand, 45.0) {
        (Class::SandyClay, "clay is 35 or more and sand is above 45")
    } else if at_least(clay, 27.0) {
        if !above(sand, 20.0) {
            (Class::SiltyClayLoam, "clay is 27 to below 40 and sand is 20 or less")
        } else if !above(sand, 45.0) {
            (Class::ClayLoam, "clay is 27 to below 40 and sand is above 20 and up to 45")
        } else {
            (Class::SandyClayLoam, "clay is 20 to below 35, silt is below 28 and sand is above 45")
        }
    } else if at_least(clay, 20.0) && below(silt, 28.0) {
        (Class::SandyClayLoam, "clay is 20 to below 35, silt is below 28 and sand is above 45")
    } else if at_least(silt, 50.0) {
        if at_least(silt, 80.0) && below(clay, 12.0) {
            (Class::Silt, "silt is 80 or more and clay is below 12")
        } else {
            (Class::SiltLoam, "silt is 50 or more, clay is below 27, and it is not silt")
        }
    } else if at_least(clay, 7.0) && !above(sand, 52.0) {
        (Class::Loam, "clay is 7 to below 27, silt is 28 to below 50 and sand is 52 or less")
    } else {
        (
            Class::SandyLoam,
            "silt + 2 × clay is 30 or more, clay is below 20, silt is below 50, and it is not loam",
        )
    }
}

/// Input of `texture-class`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TextureClassInput {
    /// Sand, mass percent of the fine earth.
    pub sand_percent: SandPercent,
    /// Silt, mass percent of the fine earth.
    pub silt_percent: SiltPercent,
    /// Clay, mass percent of the fine earth.
    pub clay_percent: ClayPercent,
}

/// Output of `texture-class`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct TextureClassOutput {
    /// The class.
    pub class: Class,
    /// Classes that own the ground within half a percentage point: a result in whole percent
    /// cannot tell these apart.
    pub as_near: Vec<Class>,
}

/// Texture class by the USDA definitions.
pub struct TextureClass;

impl Method for TextureClass {
    type Input = TextureClassInput;
    type Output = TextureClassOutput;

    const CARD: Card = Card {
        name: "texture-class",
        title: "Texture class",
        topic: Topic::Texture,
        computes: "Names the USDA texture class of a soil from its sand, silt and clay. Every make-up has \
                   exactly one class; the classes that whole-percent figures cannot rule out are named too.",
        validity: &[
            "Sand, silt and clay are mass percent of the oven-dry soil finer than 2 mm, with silt from 2 to 50 µm.",
            "Shares that add to 98 to 102 % are scaled to 100 with a note; sums further off are refused.",
            "A laboratory that puts the silt limit at 63 or 20 µm must be converted first.",
        ],
        sources: &[Cite::new("SoilSurveyManual2017", "ch. 3, pp. 122-124")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        TextureClassInput {
            sand_percent: SandPercent::literal(40.0),
            silt_percent: SiltPercent::literal(40.0),
            clay_percent: ClayPercent::literal(20.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (soil, note) =
            Composition::from_percent(input.sand_percent, input.silt_percent, input.clay_percent)?;
        let class = Class::of(soil);
        let value = TextureClassOutput { class, as_near: as_near(soil, class) };
        Ok(Answer::with_notes(value, note.into_iter().collect()))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let Ok((soil, _)) =
            Composition::from_percent(input.sand_percent, input.silt_percent, input.clay_percent)
        else {
            return Working::new();
        };
        let (class, rule) = rule_of(soil);
        debug_assert_eq!(class, answer.value.class);
        Working::new()
            .step(
                "the class",
                format!("The first rule of the definitions that holds: {rule}."),
                format!(
                    "sand {:.4}, silt {:.4}, clay {:.4}; silt + 1.5 × clay = {:.4}; silt + 2 × clay = {:.4}",
                    soil.sand,
                    soil.silt,
                    soil.clay,
                    soil.silt + 1.5 * soil.clay,
                    soil.silt + 2.0 * soil.clay
                ),
                class.name(),
            )
            .cite(Self::CARD.sources[0])
    }
}

/// Other classes within half a point in any direction that keeps the sum at 100.
fn as_near(soil: Composition, class: Class) -> Vec<Class> {
    let mut near = Vec::new();
    for (sand, silt, clay) in [
        (0.5, -0.5, 0.0),
        (-0.5, 0.5, 0.0),
        (0.5, 0.0, -0.5),
        (-0.5, 0.0, 0.5),
        (0.0, 0.5, -0.5),
        (0.0, -0.5, 0.5),
    ] {
        let moved = Composition { sand: soil.sand + sand, silt: soil.silt + silt, clay: soil.clay + clay };
        if moved.sand < 0.0 || moved.silt < 0.0 || moved.clay < 0.0 {
            continue;
        }
        let other = Class::of(moved);
        if other != class && !near.contains(&other) {
            near.push(other);
        }
    }
    near.sort_unstable();
    near
}

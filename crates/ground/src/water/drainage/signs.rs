//! Signs of a high or perched water table, and how much each weighs.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::quantity::number;
use crate::kit::{Bounded, Provenance, Refusal};

crate::quantity! {
    /// Depth of a sign below the ground.
    pub struct SignDepth: "depth of the sign", "cm", 0.0 ..= 300.0, example 45.0;
    /// Days that water stood.
    pub struct StandingDays: "days that water stood", "d", 0.0 ..= 366.0, example 3.0;
}

/// What was seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SignKind {
    /// Rusty and pale spots begin at this depth.
    Mottles,
    /// A grey or bluish layer begins at this depth.
    GreyLayer,
    /// Water came into the hole and stood at this depth.
    WaterInHole,
    /// A hole to this depth stayed dry overnight.
    DryHole,
    /// Even brown or red colours, without spots, down to this depth.
    EvenColour,
    /// Smell of rotten eggs at this depth.
    RottenEggSmell,
    /// Water stood on the surface for these days after rain had stopped.
    StandingWater,
    /// A tight layer begins at this depth: clay, pan, dense till.
    TightLayer,
    /// Drier ground was found below wet ground, at this depth.
    DryBelowWet,
    /// Rushes, sedges or other plants of wet ground grow there.
    WetlandPlants,
    /// Water seeps out of a slope or a spring is near.
    Seep,
}

impl SignKind {
    fn needs_depth(self) -> bool {
        !matches!(self, Self::StandingWater | Self::WetlandPlants | Self::Seep)
    }
}

/// What the ground was like on that day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WhenSeen {
    /// In the wet season, or within a few days of soaking rain.
    Wet,
    /// In a dry spell or the dry season.
    Dry,
}

/// One sign.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Sign {
    /// What was seen.
    pub kind: SignKind,
    /// How deep, where the sign has a depth.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub depth_cm: Option<SignDepth>,
    /// Days that water stood.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub days_d: Option<StandingDays>,
    /// The day it was seen, as year-month-day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub on: Option<String>,
    /// Wet or dry time; not known where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub when: Option<WhenSeen>,
}

/// How much a sign weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Weight {
    /// Hints at it.
    Weak,
    /// Speaks for it.
    Fair,
    /// Shows it.
    Strong,
}

/// One reason, for or against water in the ground.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Reason {
    /// The sign it comes from.
    pub kind: SignKind,
    /// In words, with depth and day.
    pub text: String,
    /// How much it weighs.
    pub weight: Weight,
    /// Where the weight is from.
    pub provenance: Provenance,
}

impl Sign {
    /// Refuses a sign without the number it needs, or with a day that is none.
    pub(super) fn check(&self, at: usize) -> Result<(), Refusal> {
        if self.kind.needs_depth() && self.depth_cm.is_none() {
            return Err(Refusal::new(
                format!("signs[{at}].depth_cm"),
                "this sign says little without its depth",
            )
            .given("nothing")
            .accepted("0 to 300 cm")
            .example("45 cm"));
        }
        if self.kind == SignKind::StandingWater && self.days_d.is_none() {
            return Err(Refusal::new(
                format!("signs[{at}].days_d"),
                "say how many days water stood after the rain had stopped",
            )
            .given("nothing")
            .accepted("0 to 366 d")
            .example("3 d"));
        }
        match &self.on {
            Some(day) if !is_day(day) => {
                Err(Refusal::new(format!("signs[{at}].on"), "the day must be written as year-month-day")
                    .given(day)
                    .accepted("a day such as 2025-04-12")
                    .example("2025-04-12"))
            }
            _ => Ok(()),
        }
    }

    /// Depth, cm; 0 for signs at the surface.
    pub(super) fn depth(&self) -> f64 {
        self.depth_cm.map_or(0.0, Bounded::get)
    }

    /// Depth from which the sign shows the ground to be wet at times; `None` for other signs.
    pub(super) fn wet_from(&self) -> Option<f64> {
        match self.kind {
            SignKind::Mottles | SignKind::GreyLayer | SignKind::WaterInHole | SignKind::RottenEggSmell => {
                Some(self.depth())
            }
            _ => None,
        }
    }

    /// Depth to which the sign shows the ground to stay free of water; `None` for other signs.
    pub(super) fn free_to(&self) -> Option<f64> {
        match self.kind {
            SignKind::EvenColour => Some(self.depth()),
            SignKind::DryHole if self.when == Some(WhenSeen::Wet) => Some(self.depth()),
            _ => None,
        }
    }

    /// Does it speak for water within the roots, or against it, and how much? `None` where it does
    /// neither. The weights are common practice put in order by our judgement.
    pub(super) fn speaks(&self, roots_cm: f64) -> Option<(bool, Weight)> {
        let within = self.depth() <= roots_cm;
        let wet = self.when == Some(WhenSeen::Wet);
        let dry = self.when == Some(WhenSeen::Dry);
        let days = self.days_d.map_or(0.0, Bounded::get);
        match self.kind {
            SignKind::WaterInHole if within => Some((true, Weight::Strong)),
            // In the dry time the table stands at its lowest: it comes up from there.
            SignKind::WaterInHole if dry => Some((true, Weight::Fair)),
            SignKind::GreyLayer | SignKind::RottenEggSmell if within => Some((true, Weight::Strong)),
            SignKind::Mottles if within => Some((true, Weight::Fair)),
            SignKind::WaterInHole | SignKind::GreyLayer | SignKind::RottenEggSmell | SignKind::Mottles => {
                Some((true, Weight::Weak))
            }
            SignKind::StandingWater if days >= 3.0 => Some((true, Weight::Fair)),
            SignKind::StandingWater if days >= 1.0 => Some((true, Weight::Weak)),
            SignKind::StandingWater => Some((false, Weight::Weak)),
            SignKind::Seep | SignKind::WetlandPlants => Some((true, Weight::Fair)),
            SignKind::TightLayer if within => Some((true, Weight::Weak)),
            SignKind::DryHole if !within && wet => Some((false, Weight::Strong)),
            SignKind::DryHole if wet => Some((false, Weight::Fair)),
            SignKind::DryHole => Some((false, Weight::Weak)),
            SignKind::EvenColour if !within => Some((false, Weight::Fair)),
            SignKind::EvenColour => Some((false, Weight::Weak)),
            SignKind::TightLayer | SignKind::DryBelowWet => None,
        }
    }

    /// The sign in words.
    pub(super) fn words(&self) -> String {
        let depth = number(self.depth());
        let mut text = match self.kind {
            SignKind::Mottles => format!(
                "rusty and pale spots from {depth} cm: water has stood there for weeks in most years, now or before drains were laid"
            ),
            SignKind::GreyLayer => {
                format!("a grey layer from {depth} cm: full of water for much of the year")
            }
            SignKind::WaterInHole => format!("water stood in the hole at {depth} cm"),
            SignKind::DryHole => format!("a hole to {depth} cm stayed dry"),
            SignKind::EvenColour => format!("even colours without spots to {depth} cm"),
            SignKind::RottenEggSmell => format!("smell of rotten eggs at {depth} cm: no air there now"),
            SignKind::StandingWater => format!(
                "water stood on the surface for {} days after rain; a crust or a pan does that too",
                number(self.days_d.map_or(0.0, Bounded::get))
            ),
            SignKind::TightLayer => format!("a tight layer from {depth} cm, on which water can perch"),
            SignKind::DryBelowWet => format!("drier ground below wet ground at {depth} cm"),
            SignKind::WetlandPlants => "plants of wet ground".to_owned(),
            SignKind::Seep => "water seeps from the slope or a spring is near".to_owned(),
        };
        match self.when {
            Some(WhenSeen::Wet) => text += ", in a wet time",
            Some(WhenSeen::Dry) => text += ", in a dry time",
            None => {}
        }
        if let Some(day) = &self.on {
            text += &format!(" ({day})");
        }
        text
    }
}

/// Is it a day of the calendar, written year-month-day?
fn is_day(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let [year, month, day] = parts[..] else { return false };
    if (year.len(), month.len(), day.len()) != (4, 2, 2)
        || !text.bytes().all(|b| b.is_ascii_digit() || b == b'-')
    {
        return false;
    }
    let (Ok(year), Ok(month), Ok(day)) = (year.parse::<u32>(), month.parse::<u32>(), day.parse::<u32>())
    else {
        return false;
    };
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let longest = match month {
        4 | 6 | 9 | 11 => 30,
        2 => 28 + u32::from(leap),
        1..=12 => 31,
        _ => return false,
    };
    (1..=longest).contains(&day)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_of_the_calendar() {
        for good in ["2025-04-12", "2024-02-29", "2000-02-29"] {
            assert!(is_day(good), "{good}");
        }
        for bad in [
            "2025-02-29",
            "1900-02-29",
            "2025-4-12",
            "12.4.2025",
            "2025-13-01",
            "2025-00-10",
            "x",
            "+025-01-01",
        ] {
            assert!(!is_day(bad), "{bad}");
        }
    }
}

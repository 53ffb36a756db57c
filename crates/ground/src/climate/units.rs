//! Radiation and depths of water in the units that stations, services and farms use.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::et0::equation::MM_PER_MJ;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::kit::method::methods![RadiationUnits, DepthVolume,];

crate::quantity! {
    /// Radiation in a unit named beside it.
    pub struct RadiationNumber: "radiation", "", -1000.0 ..= 2000.0, example 250.0;
    /// Depth of water spread over ground.
    pub struct WaterDepth: "depth of water", "mm", 0.0 ..= 5000.0, example 25.4;
    /// Ground it is spread over.
    pub struct WateredArea: "area", "m²", 0.0 ..= 10_000_000.0, example 9.29;
}

/// A unit of radiation over a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RadiationUnit {
    /// MJ/m² a day.
    MjPerM2Day,
    /// Mean watts per square metre over the day.
    WPerM2,
    /// Calories per square centimetre a day.
    CalPerCm2Day,
    /// Water it could evaporate, mm a day.
    MmPerDay,
}

impl RadiationUnit {
    /// MJ/m²/d in one of it (FAO-56 Table 3).
    #[must_use]
    pub fn in_mj_m2_d(self) -> f64 {
        match self {
            Self::MjPerM2Day => 1.0,
            Self::WPerM2 => 0.0864,
            Self::CalPerCm2Day => 0.041_868,
            Self::MmPerDay => 1.0 / MM_PER_MJ,
        }
    }
}

/// Input of `radiation-units`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RadiationUnitsInput {
    /// The number.
    pub value: RadiationNumber,
    /// Its unit.
    pub unit: RadiationUnit,
}

/// Output of `radiation-units`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct RadiationUnitsOutput {
    /// In MJ/m² a day.
    pub mj_m2_d: f64,
    /// Mean over the day.
    pub w_m2: f64,
    /// In calories.
    pub cal_cm2_d: f64,
    /// As water it could evaporate.
    pub mm_d: f64,
}

/// Radiation units.
pub struct RadiationUnits;

impl Method for RadiationUnits {
    type Input = RadiationUnitsInput;
    type Output = RadiationUnitsOutput;

    const CARD: Card = Card {
        name: "radiation-units",
        title: "Units of radiation",
        topic: Topic::Climate,
        computes: "Turns a day's radiation from the unit a station prints into the others, and into the depth of water it \
                   could evaporate.",
        validity: &["Daily means and sums. A reading at noon in W/m² is no daily mean."],
        sources: &[Cite::new("Fao56", "Table 3, eq. 20")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        RadiationUnitsInput { value: RadiationNumber::literal(250.0), unit: RadiationUnit::WPerM2 }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let mj = input.value.get() * input.unit.in_mj_m2_d();
        Ok(Answer::plain(RadiationUnitsOutput {
            mj_m2_d: mj,
            w_m2: mj / RadiationUnit::WPerM2.in_mj_m2_d(),
            cal_cm2_d: mj / RadiationUnit::CalPerCm2Day.in_mj_m2_d(),
            mm_d: mj / RadiationUnit::MmPerDay.in_mj_m2_d(),
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "energy of the day",
                "1 W/m² = 0.0864 MJ/m²/d; 1 cal/cm² = 0.041868 MJ/m²; 1 MJ/m² evaporates 0.408 mm",
                format!("{} × {:.6}", input.value.get(), input.unit.in_mj_m2_d()),
                format!("{:.3} MJ/m²/d", answer.value.mj_m2_d),
            )
            .cite(Self::CARD.sources[0])
    }
}

/// Litres in a US gallon, 231 cubic inches.
pub const LITRES_PER_GALLON: f64 = 3.785_411_784;

/// Litres that cover `area_m2` to a depth: a millimetre on a square metre is a litre.
#[must_use]
pub fn litres(depth_mm: f64, area_m2: f64) -> f64 {
    depth_mm * area_m2
}

/// Input of `water-depth-volume`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DepthVolumeInput {
    /// Depth of rain or irrigation.
    pub depth_mm: WaterDepth,
    /// Ground it is spread over.
    pub area_m2: WateredArea,
}

/// Output of `water-depth-volume`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct DepthVolumeOutput {
    /// In litres.
    pub volume_l: f64,
    /// In cubic metres.
    pub volume_m3: f64,
    /// In US gallons.
    pub volume_us_gallons: f64,
}

/// Depth of water as a volume.
pub struct DepthVolume;

impl Method for DepthVolume {
    type Input = DepthVolumeInput;
    type Output = DepthVolumeOutput;

    const CARD: Card = Card {
        name: "water-depth-volume",
        title: "Depth of water as a volume",
        topic: Topic::Climate,
        computes: "How many litres or gallons a depth of rain or irrigation is on a bed, a tunnel or a field.",
        validity: &["Exact by definition of the units."],
        sources: &[Cite::new("NistSP811", "Appendix B.8")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        DepthVolumeInput { depth_mm: WaterDepth::literal(25.4), area_m2: WateredArea::literal(9.29) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let volume = litres(input.depth_mm.get(), input.area_m2.get());
        Ok(Answer::plain(DepthVolumeOutput {
            volume_l: volume,
            volume_m3: volume / 1000.0,
            volume_us_gallons: volume / LITRES_PER_GALLON,
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "volume",
                "1 mm on 1 m² is 1 L; 3.785411784 L to the US gallon",
                format!("{} mm × {} m²", input.depth_mm.get(), input.area_m2.get()),
                format!("{:.1} L, {:.1} gal", answer.value.volume_l, answer.value.volume_us_gallons),
            )
            .cite(Self::CARD.sources[0])
    }
}

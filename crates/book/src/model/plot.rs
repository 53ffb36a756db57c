//! A plot: a piece of ground that is worked as one.

use ground::kit::{Bounded, Refusal};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{EntryId, Kind, Links, Record, text};

ground::quantity! {
    /// A side of a rectangular plot.
    pub struct PlotSide: "side of the plot", "m", 0.1 ..= 5000.0, example 30.0;
    /// Area of a plot.
    pub struct PlotArea: "area", "m²", 0.01 ..= 10000000.0, example 300.0;
    /// Slope of the ground.
    pub struct Slope: "slope", "%", 0.0 ..= 100.0, example 3.0;
    /// Depth to which the crop draws water.
    pub struct RootDepth: "root depth", "cm", 5.0 ..= 300.0, example 60.0;
    /// Evaporative demand under cover over that outside.
    pub struct CoverFactor: "factor on evapotranspiration under cover", "", 0.1 ..= 1.5, example 0.7;
}

/// A plot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Plot {
    /// What it is called; no two plots of a farm share a name.
    pub name: String,
    /// Under the sky, under cover, under trees.
    pub place: Place,
    /// Its size.
    pub shape: Shape,
    /// Slope of the ground.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slope_percent: Option<Slope>,
    /// Depth to which the crop draws water.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub root_depth_cm: Option<RootDepth>,
    /// What it is used for.
    #[serde(default)]
    pub use_note: String,
    /// How it is watered.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub watering: Option<Watering>,
    /// What the cover does to the weather under it; for tunnels and greenhouses alone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cover: Option<Cover>,
    /// Is it worked under organic rules? As the farm where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub organic: Option<bool>,
    /// The plot that it is a zone of: one that was parted, and is no longer worked as one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zone_of: Option<EntryId>,
}

/// What a cover does to the weather under it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Cover {
    /// Evaporative demand under it over that outside; the usual one where not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub et0_factor: Option<CoverEt0>,
    /// Is it whitewashed or hung with shade cloth?
    #[serde(default)]
    pub shaded: bool,
}

/// Evaporative demand under a cover over that outside.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoverEt0 {
    /// At least.
    pub low: CoverFactor,
    /// Most likely.
    pub likely: CoverFactor,
    /// At most.
    pub high: CoverFactor,
}

/// What a plot lies under.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Place {
    /// Open field.
    OpenField,
    /// High tunnel.
    HighTunnel,
    /// Greenhouse.
    Greenhouse,
    /// Orchard.
    Orchard,
    /// Pasture.
    Pasture,
    /// Something else.
    Other,
}

impl Place {
    /// Every place, for lists to choose from.
    pub const ALL: [Self; 6] =
        [Self::OpenField, Self::HighTunnel, Self::Greenhouse, Self::Orchard, Self::Pasture, Self::Other];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::OpenField => "open field",
            Self::HighTunnel => "high tunnel",
            Self::Greenhouse => "greenhouse",
            Self::Orchard => "orchard",
            Self::Pasture => "pasture",
            Self::Other => "other",
        }
    }

    /// Does rain reach it?
    #[must_use]
    pub fn under_cover(self) -> bool {
        matches!(self, Self::HighTunnel | Self::Greenhouse)
    }
}

/// The size of a plot.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "snake_case", deny_unknown_fields)]
pub enum Shape {
    /// Four sides, square corners.
    Rectangle {
        /// Longer side, as a rule.
        length_m: PlotSide,
        /// The other side.
        width_m: PlotSide,
    },
    /// Any outline.
    Area {
        /// Its area.
        area_m2: PlotArea,
    },
}

impl Shape {
    /// Area in square metres.
    #[must_use]
    pub fn area_m2(self) -> f64 {
        match self {
            Self::Rectangle { length_m, width_m } => length_m.get() * width_m.get(),
            Self::Area { area_m2 } => area_m2.get(),
        }
    }
}

/// How a plot is watered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Watering {
    /// Drip lines.
    Drip,
    /// Sprinklers of any kind.
    Sprinkler,
    /// Furrows or flooding.
    Furrow,
    /// Hose or can.
    ByHand,
    /// Rain alone.
    RainOnly,
}

impl Watering {
    /// Every way, for lists to choose from.
    pub const ALL: [Self; 5] = [Self::Drip, Self::Sprinkler, Self::Furrow, Self::ByHand, Self::RainOnly];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Drip => "drip",
            Self::Sprinkler => "sprinkler",
            Self::Furrow => "furrow",
            Self::ByHand => "by hand",
            Self::RainOnly => "rain only",
        }
    }
}

impl Record for Plot {
    const KIND: Kind = Kind::Plot;

    fn check(&self) -> Result<(), Refusal> {
        text::name("name", &self.name, "Lower field")?;
        text::note("use_note", &self.use_note)?;
        let Some(cover) = &self.cover else { return Ok(()) };
        if !self.place.under_cover() {
            return Err(Refusal::new(
                "cover",
                format!("this plot lies under no cover: {}", self.place.words()),
            )
            .given("a cover")
            .accepted("nothing, or a plot under a high tunnel or greenhouse")
            .example("leave it out"));
        }
        match &cover.et0_factor {
            Some(CoverEt0 { low, likely, high }) if low > likely || likely > high => Err(Refusal::new(
                "cover.et0_factor",
                format!(
                    "low, likely and high must rise, but {}, {} and {} were given",
                    low.get(),
                    likely.get(),
                    high.get()
                ),
            )
            .given(format!("{}, {}, {}", low.get(), likely.get(), high.get()))
            .accepted("three factors from low to high")
            .example("0.6, 0.7, 0.8")),
            _ => Ok(()),
        }
    }

    fn links(&self) -> Links {
        Links { zone_of: self.zone_of, ..Links::default() }
    }
}

//! The layers of the ground, as a pit or a core shows them.

use ground::kit::{Bounded, Refusal};
use ground::texture::Class;
use ground::texture::composition::{ClayPercent, SandPercent};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::moisture::deeper;
use super::{GravelVolume, OrganicMatterPercent, Packing, SignDepth};
use crate::model::text;

/// Most layers of one profile.
pub const MOST_LAYERS: usize = 6;
/// Layers further apart than this leave a gap; unit conversion moves a depth by less.
const SAME_DEPTH_CM: f64 = 0.05;

/// Layers from the surface down, each beginning where the one above ends.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Layers {
    /// One to six.
    pub layers: Vec<Layer>,
}

/// A layer, and what is known of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Layer {
    /// Its top.
    pub from_cm: SignDepth,
    /// Its bottom.
    pub to_cm: SignDepth,
    /// Its texture class, or else its sand and clay.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub class: Option<Class>,
    /// Its sand; goes with its clay.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sand_percent: Option<SandPercent>,
    /// Its clay.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clay_percent: Option<ClayPercent>,
    /// Its organic matter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub organic_matter_percent: Option<OrganicMatterPercent>,
    /// How tightly it is packed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub packing: Option<Packing>,
    /// Its stones by volume.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stones_volume_percent: Option<GravelVolume>,
    /// Colour, rusty or grey spots, roots.
    #[serde(default)]
    pub note: String,
}

impl Layer {
    /// A layer of which only the depth is known.
    #[must_use]
    pub fn between(from_cm: SignDepth, to_cm: SignDepth) -> Self {
        Self {
            from_cm,
            to_cm,
            class: None,
            sand_percent: None,
            clay_percent: None,
            organic_matter_percent: None,
            packing: None,
            stones_volume_percent: None,
            note: String::new(),
        }
    }

    fn check(&self) -> Result<(), Refusal> {
        if self.to_cm.get() <= self.from_cm.get() {
            return Err(deeper("to_cm", self.from_cm, self.to_cm));
        }
        text::note("note", &self.note)?;
        match (self.sand_percent, self.clay_percent) {
            (None, None) => Ok(()),
            (Some(_), Some(_)) if self.class.is_some() => {
                Err(Refusal::new("class", "give either the texture class or sand and clay, not both")
                    .given(self.class.map(Class::name).unwrap_or_default())
                    .accepted("nothing, where sand and clay are given"))
            }
            (Some(sand), Some(clay)) if sand.get() + clay.get() > 100.0 => Err(Refusal::new(
                "clay_percent",
                format!("sand and clay together are more than 100 %: {} and {}", sand.get(), clay.get()),
            )
            .given(clay.get())
            .accepted(format!("0 to {} %", 100.0 - sand.get()))
            .example((100.0 - sand.get()) / 2.0)),
            (Some(_), Some(_)) => Ok(()),
            (sand, _) => {
                let missing = if sand.is_none() { "sand_percent" } else { "clay_percent" };
                Err(Refusal::new(missing, "sand and clay go together, and one of them is missing")
                    .given("nothing")
                    .accepted("0 to 100 %")
                    .example(20))
            }
        }
    }
}

impl Layers {
    /// Depth of the lowest layer's bottom, in cm.
    #[must_use]
    pub fn bottom_cm(&self) -> f64 {
        self.layers.last().map_or(0.0, |layer| layer.to_cm.get())
    }

    pub(super) fn check(&self) -> Result<(), Refusal> {
        if !(1..=MOST_LAYERS).contains(&self.layers.len()) {
            return Err(Refusal::new("layers", format!("{} layers were given", self.layers.len()))
                .given(self.layers.len())
                .accepted(format!("1 to {MOST_LAYERS} layers"))
                .example("0 to 25 cm, then 25 to 60 cm"));
        }
        let mut above = 0.0;
        for (place, layer) in self.layers.iter().enumerate() {
            let inside = |refusal: Refusal| refusal.inside(&format!("layers[{place}]"));
            if (layer.from_cm.get() - above).abs() > SAME_DEPTH_CM {
                let message = if place == 0 {
                    format!("the first layer begins at the surface, not at {} cm", layer.from_cm.get())
                } else {
                    format!(
                        "this layer begins at {} cm, but the one above ends at {above} cm",
                        layer.from_cm.get()
                    )
                };
                return Err(inside(
                    Refusal::new("from_cm", message)
                        .given(layer.from_cm.get())
                        .accepted(format!("{above} cm"))
                        .example(above),
                ));
            }
            layer.check().map_err(inside)?;
            above = layer.to_cm.get();
        }
        Ok(())
    }
}

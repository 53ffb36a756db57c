//! Rock fragments: their share by volume, and the word they put before the texture class.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::Class;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Rock fragments (coarser than 2 mm), share of the whole dry soil by mass.
    pub struct FragmentMassPercent: "rock fragments by mass", "%", 0.0 ..= 100.0, example 30.0;
    /// Rock fragments of one size, share of the whole soil by volume.
    pub struct FragmentVolumePercent: "rock fragments by volume", "%", 0.0 ..= 100.0, example 20.0;
    /// Dry bulk density of the fine earth between the fragments.
    pub struct FineEarthDensity: "bulk density of the fine earth", "g/cm³", 0.3 ..= 2.2, example 1.3;
    /// Density of the rock.
    pub struct RockDensity: "density of the rock", "g/cm³", 1.0 ..= 4.0, example 2.65;
}

/// Density of ordinary rock, in g/cm³.
pub const USUAL_ROCK_DENSITY_G_CM3: f64 = 2.65;

/// Share of the whole soil's volume that rock fragments take up, in percent, from their share of its
/// dry mass: V = (w / ρr) / (w / ρr + (1 - w) / ρf), densities in g/cm³ and positive.
#[must_use]
pub fn volume_percent(mass_percent: f64, fine_earth_density: f64, rock_density: f64) -> f64 {
    let rock = mass_percent / rock_density;
    let fine = (100.0 - mass_percent) / fine_earth_density;
    100.0 * rock / (rock + fine)
}

/// Input of `fragment-volume`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FragmentVolumeInput {
    /// Stones and gravel coarser than 2 mm, share of the whole dry soil by mass.
    pub fragment_mass_percent: FragmentMassPercent,
    /// Dry bulk density of the fine earth, commonly 1.2 to 1.4.
    pub fine_earth_bulk_density_g_cm3: FineEarthDensity,
    /// Density of the rock; 2.65 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rock_density_g_cm3: Option<RockDensity>,
}

/// Output of `fragment-volume`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct FragmentVolumeOutput {
    /// Share of the whole soil's volume.
    pub fragment_volume_percent: f64,
    /// Part of the ground that holds water and roots: what amounts per area are to be multiplied by.
    pub fine_earth_volume_fraction: f64,
}

/// Share of fragments by volume from their share by mass.
pub struct FragmentVolume;

impl Method for FragmentVolume {
    type Input = FragmentVolumeInput;
    type Output = FragmentVolumeOutput;

    const CARD: Card = Card {
        name: "fragment-volume",
        title: "Stones by volume from stones by mass",
        topic: Topic::Texture,
        computes: "Turns the weight of stones and gravel sieved out of a soil into the room they take up in the \
                   ground. Stone is about twice as dense as soil, so weights make a soil look stonier than it is.",
        validity: &["Fragments coarser than 2 mm; mass of fragments and fine earth both dry."],
        sources: &[Cite::new("SoilSurveyManual2017", "ch. 3, rock fragments by volume")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        FragmentVolumeInput {
            fragment_mass_percent: FragmentMassPercent::literal(30.0),
            fine_earth_bulk_density_g_cm3: FineEarthDensity::literal(1.3),
            rock_density_g_cm3: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let fragment_volume_percent = volume_percent(
            input.fragment_mass_percent.get(),
            input.fine_earth_bulk_density_g_cm3.get(),
            input.rock_density_g_cm3.map_or(USUAL_ROCK_DENSITY_G_CM3, RockDensity::get),
        );
        Ok(Answer::plain(FragmentVolumeOutput {
            fragment_volume_percent,
            fine_earth_volume_fraction: 1.0 - fragment_volume_percent / 100.0,
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let mass = input.fragment_mass_percent.get();
        let fine = input.fine_earth_bulk_density_g_cm3.get();
        let rock = input.rock_density_g_cm3.map_or(USUAL_ROCK_DENSITY_G_CM3, RockDensity::get);
        Working::new().step(
            "share of the volume",
            "V = (w / ρ rock) / (w / ρ rock + (1 - w) / ρ fine earth)",
            format!(
                "w = {:.3}: ({:.3} / {rock}) / ({:.3} / {rock} + {:.3} / {fine})",
                mass / 100.0,
                mass / 100.0,
                mass / 100.0,
                1.0 - mass / 100.0
            ),
            format!("{:.1} %", answer.value.fragment_volume_percent),
        )
    }
}

/// Size of rock fragments [SoilSurveyManual2017, ch. 3].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FragmentSize {
    /// 2 to 75 mm.
    Gravel,
    /// 75 to 250 mm.
    Cobbles,
    /// 250 to 600 mm.
    Stones,
    /// Above 600 mm.
    Boulders,
}

impl FragmentSize {
    fn noun(self) -> &'static str {
        match self {
            Self::Gravel => "gravel",
            Self::Cobbles => "cobbles",
            Self::Stones => "stones",
            Self::Boulders => "boulders",
        }
    }

    fn adjective(self) -> &'static str {
        match self {
            Self::Gravel => "gravelly",
            Self::Cobbles => "cobbly",
            Self::Stones => "stony",
            Self::Boulders => "bouldery",
        }
    }
}

/// The size that names the soil: the largest present, unless a smaller one takes up more than twice
/// its volume [SoilSurveyManual2017, as put in soil judging]. Volumes go from gravel to boulders.
#[must_use]
pub fn naming_size(volumes: [f64; 4]) -> Option<FragmentSize> {
    let sizes = [FragmentSize::Gravel, FragmentSize::Cobbles, FragmentSize::Stones, FragmentSize::Boulders];
    let mut naming: Option<(FragmentSize, f64)> = None;
    for (size, volume) in sizes.into_iter().zip(volumes).rev() {
        if volume > 0.0 && naming.is_none_or(|(_, named)| volume > 2.0 * named) {
            naming = Some((size, volume));
        }
    }
    naming.map(|(size, _)| size)
}

/// Name of a soil with its fragments: "very gravelly loam", "loam", "cobbles". `total` is the volume
/// of all fragments in percent.
#[must_use]
pub fn named(class: Class, total: f64, size: Option<FragmentSize>) -> String {
    let Some(size) = size.filter(|_| total >= 15.0) else { return class.name().to_owned() };
    let (class, adjective) = (class.name(), size.adjective());
    match total {
        total if total < 35.0 => format!("{adjective} {class}"),
        total if total < 60.0 => format!("very {adjective} {class}"),
        total if total < 90.0 => format!("extremely {adjective} {class}"),
        _ => size.noun().to_owned(),
    }
}

/// Input of `fragment-modifier`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FragmentModifierInput {
    /// Texture class of the fine earth.
    pub class: Class,
    /// Gravel (2 to 75 mm), share of the whole soil by volume.
    pub gravel_volume_percent: FragmentVolumePercent,
    /// Cobbles (75 to 250 mm); none where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cobbles_volume_percent: Option<FragmentVolumePercent>,
    /// Stones (250 to 600 mm); none where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stones_volume_percent: Option<FragmentVolumePercent>,
    /// Boulders (above 600 mm); none where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub boulders_volume_percent: Option<FragmentVolumePercent>,
}

/// Output of `fragment-modifier`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct FragmentModifierOutput {
    /// Class with its modifier.
    pub name: String,
    /// All fragments together, share of the whole soil by volume.
    pub fragment_volume_percent: f64,
    /// The size that names them; null where there are none.
    pub named_after: Option<FragmentSize>,
}

/// The word that fragments put before the class.
pub struct FragmentModifier;

impl FragmentModifier {
    fn volumes(input: &FragmentModifierInput) -> Result<[f64; 4], Refusal> {
        let volume = |part: Option<FragmentVolumePercent>| part.map_or(0.0, FragmentVolumePercent::get);
        let volumes = [
            input.gravel_volume_percent.get(),
            volume(input.cobbles_volume_percent),
            volume(input.stones_volume_percent),
            volume(input.boulders_volume_percent),
        ];
        let total: f64 = volumes.iter().sum();
        if total > 100.0 + 1e-9 {
            return Err(Refusal::new(
                "gravel_volume_percent",
                format!("gravel, cobbles, stones and boulders cannot take up more than the whole soil, but together they make {total} %"),
            )
            .given(format!("{total} % together"))
            .accepted("shares that add to 100 % or less")
            .example("20 % gravel and 5 % cobbles"));
        }
        Ok(volumes)
    }
}

impl Method for FragmentModifier {
    type Input = FragmentModifierInput;
    type Output = FragmentModifierOutput;

    const CARD: Card = Card {
        name: "fragment-modifier",
        title: "Gravelly, cobbly, stony",
        topic: Topic::Texture,
        computes: "Puts the stones into the name of a soil: gravelly from 15 % of the volume, very gravelly from \
                   35 %, extremely gravelly from 60 %; from 90 % the stones alone name it.",
        validity: &[
            "Shares are by volume of the whole soil; turn weights into volumes first.",
            "Rounded fragments; flat ones (channers, flagstones) have other names and limits.",
            "The 90 % limit and the limit of boulders are recalled and not read again.",
        ],
        sources: &[Cite::new("SoilSurveyManual2017", "ch. 3, rock fragment modifiers")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        FragmentModifierInput {
            class: Class::Loam,
            gravel_volume_percent: FragmentVolumePercent::literal(38.0),
            cobbles_volume_percent: None,
            stones_volume_percent: None,
            boulders_volume_percent: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let volumes = Self::volumes(input)?;
        let total = volumes.iter().sum();
        let named_after = naming_size(volumes);
        let mut notes = Vec::new();
        if total >= 90.0 {
            notes.push(Note::new(NoteKind::Provenance, "The 90 % limit is recalled and not read again."));
        }
        if total >= 15.0 {
            notes.push(Note::new(
                NoteKind::Method,
                format!("Water, nutrients and amendments per area count for {:.0} % of the ground only: the rest is stone.", 100.0 - total),
            ));
        }
        let value = FragmentModifierOutput {
            name: named(input.class, total, named_after),
            fragment_volume_percent: total,
            named_after,
        };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let volumes = Self::volumes(input).unwrap_or_default();
        let after = answer.value.named_after.map_or("nothing", FragmentSize::noun);
        Working::new()
            .step(
                "all fragments",
                "sum of the shares by volume",
                volumes.map(|volume| volume.to_string()).join(" + "),
                format!("{} %", answer.value.fragment_volume_percent),
            )
            .step(
                "the size that names them",
                "the largest present, unless a smaller one takes up more than twice its volume",
                format!("gravel {}, cobbles {}, stones {}, boulders {} %", volumes[0], volumes[1], volumes[2], volumes[3]),
                after,
            )
            .cite(Self::CARD.sources[0])
            .step(
                "the name",
                "below 15 % no modifier; 15 to below 35; very 35 to below 60; extremely 60 to below 90; 90 and more the fragments alone",
                format!("{} % in {}", answer.value.fragment_volume_percent, input.class.name()),
                answer.value.name.clone(),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_larger_size_names_unless_the_smaller_is_more_than_twice_as_much() {
        assert_eq!(naming_size([0.0; 4]), None);
        assert_eq!(naming_size([20.0, 10.0, 0.0, 0.0]), Some(FragmentSize::Cobbles));
        assert_eq!(naming_size([20.1, 10.0, 0.0, 0.0]), Some(FragmentSize::Gravel));
        assert_eq!(naming_size([21.0, 10.0, 6.0, 0.0]), Some(FragmentSize::Gravel));
        assert_eq!(naming_size([0.0, 10.0, 6.0, 1.0]), Some(FragmentSize::Stones));
    }

    #[test]
    fn more_than_the_whole_is_refused() {
        let input = FragmentModifierInput {
            cobbles_volume_percent: Some(FragmentVolumePercent::literal(70.0)),
            ..FragmentModifier::example()
        };
        assert_eq!(FragmentModifier::compute(&input).unwrap_err().field, "gravel_volume_percent");
    }

    #[test]
    fn volume_runs_from_nothing_to_the_whole() {
        assert_eq!(volume_percent(0.0, 1.3, 2.65), 0.0);
        assert_eq!(volume_percent(100.0, 1.3, 2.65), 100.0);
        let shares: Vec<f64> = (0..=100).map(|mass| volume_percent(f64::from(mass), 1.3, 2.65)).collect();
        assert!(shares.windows(2).all(|pair| pair[0] < pair[1]));
    }
}

//! Texture between readings as a registered method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::sites::{EastM, NorthM, Place, PlaceAt, checked};
use super::texture::TextureSurface;
use super::variogram::likelihood::singular;
use super::variogram::model::{RangeM, Semivariance, Shape, VariogramGiven};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Spread, Topic, Working};
use crate::texture::composition::{ClayPercent, SandPercent, SiltPercent};
use crate::texture::{Class, Composition};

crate::quantity! {
    /// Seed of the draws.
    pub struct DrawSeed: "seed", "", 0.0 ..= 9e15, example 1.0;
}

/// Texture read at a place.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TextureAt {
    /// Metres east.
    pub east_m: EastM,
    /// Metres north.
    pub north_m: NorthM,
    /// Sand.
    pub sand_percent: SandPercent,
    /// Silt.
    pub silt_percent: SiltPercent,
    /// Clay.
    pub clay_percent: ClayPercent,
}

/// Input of `texture-surface`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TextureSurfaceInput {
    /// Texture at places.
    pub readings: Vec<TextureAt>,
    /// The correlation of both log-ratio coordinates: shape, range and share of nugget count, the sill does not.
    pub variogram: VariogramGiven,
    /// Is the variogram supposed, not fitted? Then the draws have Student's tails.
    pub supposed: bool,
    /// Places to estimate.
    pub places: Vec<PlaceAt>,
    /// Seed of the draws; 1 where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seed: Option<DrawSeed>,
}

/// Odds of a class.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct OddsOfClass {
    /// The class.
    pub class: Class,
    /// Share of the draws in it.
    pub share: f64,
}

/// Texture believed of one place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TextureThereOutput {
    /// Sand at the estimate.
    pub sand_percent: f64,
    /// Silt at the estimate.
    pub silt_percent: f64,
    /// Clay at the estimate.
    pub clay_percent: f64,
    /// Sand with its 90 % range.
    pub sand_range_percent: Spread,
    /// Silt with its 90 % range.
    pub silt_range_percent: Spread,
    /// Clay with its 90 % range.
    pub clay_range_percent: Spread,
    /// Classes, the likeliest first.
    pub classes: Vec<OddsOfClass>,
}

/// Output of `texture-surface`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TextureSurfaceOutput {
    /// At each place, in the order given.
    pub at: Vec<TextureThereOutput>,
}

/// Texture between readings.
pub struct TextureSurfaceMethod;

impl Method for TextureSurfaceMethod {
    type Input = TextureSurfaceInput;
    type Output = TextureSurfaceOutput;

    const CARD: Card = Card {
        name: "texture-surface",
        title: "Sand, silt and clay between the readings",
        topic: Topic::Maps,
        computes: "Both log-ratio coordinates of sand, silt and clay kriged under one correlation, and joint draws of them turned \
                   back: the make-up at each place with its range, and the odds of each texture class.",
        validity: &[
            "Both coordinates share range and share of nugget, so that one set of weights serves both.",
            "Draws and not means are turned back: the make-up at the estimate is a typical one, not the mean of the percentages.",
        ],
        sources: &[
            Cite::new("Egozcue2003", "the coordinates"),
            Cite::new("WebsterOliver2007", "chapter 8, ordinary kriging"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let reading = |east: f64, north: f64, sand: f64, silt: f64, clay: f64| TextureAt {
            east_m: EastM::literal(east),
            north_m: NorthM::literal(north),
            sand_percent: SandPercent::literal(sand),
            silt_percent: SiltPercent::literal(silt),
            clay_percent: ClayPercent::literal(clay),
        };
        TextureSurfaceInput {
            readings: vec![
                reading(0.0, 0.0, 62.0, 26.0, 12.0),
                reading(40.0, 0.0, 55.0, 30.0, 15.0),
                reading(80.0, 5.0, 46.0, 34.0, 20.0),
                reading(5.0, 40.0, 58.0, 28.0, 14.0),
                reading(45.0, 40.0, 48.0, 34.0, 18.0),
                reading(80.0, 40.0, 40.0, 37.0, 23.0),
            ],
            variogram: VariogramGiven {
                shape: Shape::Exponential,
                nugget: Semivariance::literal(0.2),
                partial_sill: Semivariance::literal(0.8),
                range_m: RangeM::literal(40.0),
                smoothness: None,
            },
            supposed: true,
            places: vec![PlaceAt::literal(20.0, 20.0), PlaceAt::literal(60.0, 20.0)],
            seed: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let at: Vec<Place> = input.readings.iter().map(|one| [one.east_m.get(), one.north_m.get()]).collect();
        checked(&at, 3)?;
        let mut soils = Vec::new();
        for (index, one) in input.readings.iter().enumerate() {
            let (soil, _) = Composition::from_percent(one.sand_percent, one.silt_percent, one.clay_percent)
                .map_err(|refusal| refusal.inside(&format!("readings[{index}]")))?;
            soils.push(soil);
        }
        let model = input.variogram.plain("variogram")?;
        let surface = TextureSurface::new(&at, &soils, &model, input.supposed).ok_or_else(singular)?;
        let places: Vec<Place> = input.places.iter().map(|place| place.place()).collect();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 9e15")]
        let seed = input.seed.map_or(1, |seed| seed.get() as u64);
        let told = surface
            .at(&places, seed)
            .into_iter()
            .map(|there| TextureThereOutput {
                sand_percent: there.centre.sand,
                silt_percent: there.centre.silt,
                clay_percent: there.centre.clay,
                sand_range_percent: there.sand_percent,
                silt_range_percent: there.silt_percent,
                clay_range_percent: there.clay_percent,
                classes: there
                    .classes
                    .into_iter()
                    .map(|(class, share)| OddsOfClass { class, share })
                    .collect(),
            })
            .collect();
        let mut notes = Vec::new();
        if input.readings.len() < 30 {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                format!(
                    "{} readings are too few to know a variogram by: mark it as supposed.",
                    input.readings.len()
                ),
            ));
        }
        Ok(Answer::with_notes(TextureSurfaceOutput { at: told }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        answer.value.at.iter().take(3).fold(Working::new(), |working, one| {
            working
                .step(
                    "make-up at a place",
                    "the inverse of both kriged log-ratio coordinates",
                    format!("{} readings", input.readings.len()),
                    format!(
                        "sand {:.2}, silt {:.2}, clay {:.2} %",
                        one.sand_percent, one.silt_percent, one.clay_percent
                    ),
                )
                .cite(Self::CARD.sources[0])
        })
    }
}

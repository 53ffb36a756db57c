//! Days between raw manure and harvest.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::quantity! {
    /// Days from spreading to harvest.
    pub struct DaysToHarvest: "days from spreading to harvest", "d", 0.0 ..= 2000.0, example 130.0;
}

/// Where the part that is eaten grows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum EdiblePart {
    /// It touches the soil or soil splashes onto it: roots, leaves, low fruit.
    TouchesSoil,
    /// It does not: staked fruit, sweet corn, trees.
    ClearOfSoil,
    /// Nobody eats it.
    NotForPeople,
}

/// How the manure was treated.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ManureTreatment {
    /// Raw; old heaps count as raw.
    Raw,
    /// Composted hot: 131 to 170 °F for 3 days in a vessel or aerated pile, or 15 days with five turnings.
    Composted,
    /// Heat-treated and dried, as pellets are.
    HeatTreated,
}

/// Days that must pass between spreading and harvest.
#[must_use]
pub fn interval_days(treatment: ManureTreatment, part: EdiblePart) -> u32 {
    match (treatment, part) {
        (ManureTreatment::Raw, EdiblePart::TouchesSoil) => 120,
        (ManureTreatment::Raw, EdiblePart::ClearOfSoil) => 90,
        _ => 0,
    }
}

/// Input of `raw-manure-interval`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ManureIntervalInput {
    /// How the manure was treated.
    pub treatment: ManureTreatment,
    /// Where the part that is eaten grows.
    pub part: EdiblePart,
    /// Days from spreading to harvest.
    pub to_harvest_d: DaysToHarvest,
}

/// Output of `raw-manure-interval`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ManureIntervalOutput {
    /// Days that must pass.
    pub interval_d: u32,
    /// Have they passed at harvest?
    pub allowed: bool,
    /// Days still missing.
    pub short_d: f64,
}

/// Interval after raw manure.
pub struct RawManureInterval;

impl Method for RawManureInterval {
    type Input = ManureIntervalInput;
    type Output = ManureIntervalOutput;

    const CARD: Card = Card {
        name: "raw-manure-interval",
        title: "Days between raw manure and harvest",
        topic: Topic::Fertility,
        computes: "How many days must pass between raw manure worked in and the harvest, and whether they do.",
        validity: &[
            "The United States organic rule; good practice on any farm. Rules of your market and country come first.",
            "The harvest on the last day of the interval is allowed: 1 March and 120 days is 29 June.",
        ],
        sources: &[Cite::new("Nop205203", "paragraph (c)")],
        cautions: &[
            "Manure carries germs that make people ill. Old heaps count as raw. Keep it off standing crops, wells and streams, and wash hands.",
        ],
    };

    fn example() -> Self::Input {
        ManureIntervalInput {
            treatment: ManureTreatment::Raw,
            part: EdiblePart::TouchesSoil,
            to_harvest_d: DaysToHarvest::literal(100.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let interval_d = interval_days(input.treatment, input.part);
        let short_d = (f64::from(interval_d) - libm::floor(input.to_harvest_d.get())).max(0.0);
        Ok(Answer::plain(ManureIntervalOutput { interval_d, allowed: short_d <= 0.0, short_d }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "days that must pass",
                "120 where the part that is eaten touches soil, 90 where it does not, none after proper composting",
                format!("{} days to harvest", input.to_harvest_d.get()),
                format!(
                    "{} days: {}",
                    answer.value.interval_d,
                    if answer.value.allowed { "enough" } else { "too soon" }
                ),
            )
            .cite(Self::CARD.sources[0])
    }
}

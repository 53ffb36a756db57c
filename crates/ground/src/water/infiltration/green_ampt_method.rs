//! `green-ampt`: the wetting front as a registered method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::intake_soil::{EffectiveSaturation, IntakeSoil};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};
use crate::texture::Class;

crate::quantity! {
    /// Steady rain or sprinkling.
    pub struct RainRate: "rain", "mm/h", 0.01 ..= 1000.0, example 50.0;
    /// Water standing on the ground.
    pub struct Ponded: "water standing on the ground", "mm", 0.0 ..= 500.0, example 10.0;
    /// Time since the start.
    pub struct Elapsed: "time since the start", "h", 0.001 ..= 1000.0, example 1.0;
}

/// Input of `green-ampt`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GreenAmptInput {
    /// The soil.
    pub soil: IntakeSoil,
    /// Steady rain; without it water stands from the start.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rain_mm_h: Option<RainRate>,
    /// Depth of the water standing on the ground; 0 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ponded_mm: Option<Ponded>,
    /// Times to answer for.
    pub times_h: Vec<Elapsed>,
}

/// The ground at one time.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct Taken {
    /// Time since the start.
    pub time_h: f64,
    /// Water taken since the start.
    pub taken_mm: f64,
    /// Rate at which the ground takes water then.
    pub rate_mm_h: f64,
    /// Rain that could not go in since the start; nothing without rain.
    pub left_over_mm: Option<f64>,
}

/// Output of `green-ampt`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct GreenAmptOutput {
    /// Conductivity used.
    pub conductivity_mm_h: f64,
    /// Suction used.
    pub suction_mm: f64,
    /// Room for water used.
    pub deficit_m3_m3: f64,
    /// Time until water stands; nothing when the ground keeps up with the rain for ever, or no rain was given.
    pub ponding_time_h: Option<f64>,
    /// Water taken by then.
    pub taken_at_ponding_mm: Option<f64>,
    /// Depth of the wetting front by then; nothing in ground without room for water.
    pub front_at_ponding_mm: Option<f64>,
    /// The ground at each time asked for.
    pub at: Vec<Taken>,
}

/// Green and Ampt's infiltration.
pub struct GreenAmptInfiltration;

impl Method for GreenAmptInfiltration {
    type Input = GreenAmptInput;
    type Output = GreenAmptOutput;

    const CARD: Card = Card {
        name: "green-ampt",
        title: "How much water goes in",
        topic: Topic::Water,
        computes: "Water that the ground takes in a time, the rate at which it takes it, and when water begins to stand \
                   under steady rain or sprinkling.",
        validity: &[
            "One even layer, evenly moist, without a water table near: a pan below slows the intake, cracks and worm \
             channels speed it.",
            "Rain is steady. A crusted surface takes far less than its texture says.",
        ],
        sources: &[
            Cite::new("GreenAmpt1911", "the wetting-front equation"),
            Cite::new("MeinLarson1973", "ponding under steady rain"),
            Cite::new("Rawls1983", "Table 2"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        GreenAmptInput {
            soil: IntakeSoil {
                texture_class: Some(Class::SiltLoam),
                effective_saturation_percent: Some(EffectiveSaturation::literal(30.0)),
                ..IntakeSoil::default()
            },
            rain_mm_h: Some(RainRate::literal(50.0)),
            ponded_mm: None,
            times_h: vec![Elapsed::literal(0.5), Elapsed::literal(1.0)],
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (soil, mut notes) = input.soil.front("soil")?;
        notes.push(super::intake_soil::recalled());
        let soil = soil.under_water(input.ponded_mm.map_or(0.0, Bounded::get));
        let rain = input.rain_mm_h.map(Bounded::get);
        let ponding = rain.and_then(|rain| soil.ponding_time_h(rain));
        let at_ponding = rain.zip(ponding).map(|(rain, time)| rain * time);
        let at = input.times_h.iter().map(|time| {
            let time_h = time.get();
            let taken =
                rain.map_or_else(|| soil.taken_mm(time_h), |rain| soil.taken_under_rain_mm(rain, time_h));
            let can = soil.capacity_mm_h(taken);
            let rate = match (rain, ponding) {
                (Some(rain), Some(ponding)) if time_h <= ponding => rain,
                (Some(rain), _) => can.min(rain),
                (None, _) => can,
            };
            let left_over_mm = rain.map(|rain| (rain * time_h - taken).max(0.0));
            Taken { time_h, taken_mm: taken, rate_mm_h: rate, left_over_mm }
        });
        let value = GreenAmptOutput {
            conductivity_mm_h: soil.conductivity_mm_h,
            suction_mm: soil.suction_mm,
            deficit_m3_m3: soil.deficit,
            ponding_time_h: ponding,
            taken_at_ponding_mm: at_ponding,
            front_at_ponding_mm: at_ponding
                .map(|taken| taken / soil.deficit)
                .filter(|depth| depth.is_finite()),
            at: at.collect(),
        };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let (k, pull) = (value.conductivity_mm_h, value.suction_mm * value.deficit_m3_m3);
        let mut working = Working::new().step(
            "pull of the dry ground",
            "ψΔθ, suction at the front (with the water standing above) times the room for water",
            format!("{:.1} mm × {:.4}", value.suction_mm, value.deficit_m3_m3),
            format!("{pull:.2} mm"),
        );
        if let (Some(rain), Some(time)) = (input.rain_mm_h, value.ponding_time_h) {
            working = working
                .step(
                    "time until water stands",
                    "K ψΔθ / (i (i − K)), i the rain",
                    format!("{k:.3} × {pull:.2} / ({i} × ({i} − {k:.3}))", i = rain.get()),
                    format!("{time:.4} h"),
                )
                .cite(Self::CARD.sources[1]);
        }
        for at in &value.at {
            let dry = value.ponding_time_h.is_none_or(|ponding| at.time_h <= ponding);
            working = if input.rain_mm_h.is_some() && dry {
                working.step(
                    format!("taken after {} h", at.time_h),
                    "all the rain, as water does not stand yet",
                    format!("{:.2} mm/h × {} h", at.rate_mm_h, at.time_h),
                    format!("{:.2} mm", at.taken_mm),
                )
            } else {
                working
                    .step(
                        format!("taken after {} h", at.time_h),
                        "F − F₀ − ψΔθ ln((ψΔθ + F) / (ψΔθ + F₀)) = K (t − t₀), with F₀ and t₀ at ponding; f = K (1 + ψΔθ / F)",
                        format!(
                            "F₀ = {:.2} mm, t₀ = {:.4} h, K = {k:.3} mm/h, ψΔθ = {pull:.2} mm",
                            value.taken_at_ponding_mm.unwrap_or(0.0),
                            value.ponding_time_h.unwrap_or(0.0)
                        ),
                        format!("F = {:.2} mm, f = {:.2} mm/h", at.taken_mm, at.rate_mm_h),
                    )
                    .cite(Self::CARD.sources[0])
            };
        }
        working
    }
}

//! Watering faster than the ground takes it: pulses with soaking time between.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::green_ampt::GreenAmpt;
use super::green_ampt_method::RainRate;
use super::intake_soil::{Deficit, IntakeSoil};
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Class;

crate::quantity! {
    /// Depth of water to put on in all.
    pub struct WaterToApply: "water to put on", "mm", 0.1 ..= 500.0, example 20.0;
    /// Water that hollows of the surface hold.
    pub struct SurfaceStorage: "water held by the surface", "mm", 0.0 ..= 50.0, example 3.0;
}

/// Pulses of a watering. Times in hours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pulses {
    /// Longest pulse before runoff.
    pub longest_h: f64,
    /// Number of pulses, all alike.
    pub count: f64,
    /// Length of each.
    pub each_h: f64,
    /// Soaking time between two.
    pub soak_h: f64,
}

/// Pulses that put `depth_mm` on at `rate_mm_h` without runoff. The longest pulse is the time until
/// water stands and the hollows are full; the soaking time brings the mean rate down to what the wetted
/// ground conducts. `None` where even an instant runs off: wet ground without hollows.
#[must_use]
pub fn pulses(soil: &GreenAmpt, rate_mm_h: f64, storage_mm: f64, depth_mm: f64) -> Option<Pulses> {
    let whole = depth_mm / rate_mm_h;
    let Some(ponding) = soil.ponding_time_h(rate_mm_h) else {
        return Some(Pulses { longest_h: whole, count: 1.0, each_h: whole, soak_h: 0.0 });
    };
    // The hollows fill while the ground still drinks: this takes no credit for that.
    let longest = ponding + storage_mm / rate_mm_h;
    if longest <= 0.0 {
        return None;
    }
    let count = (whole / longest - 1e-9).ceil().max(1.0);
    let each = whole / count;
    let soak = if count > 1.0 { each * (rate_mm_h / soil.conductivity_mm_h - 1.0) } else { 0.0 };
    Some(Pulses { longest_h: longest, count, each_h: each, soak_h: soak })
}

/// Input of `irrigation-pulses`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PulsesInput {
    /// The soil, as moist as it is when each pulse begins.
    pub soil: IntakeSoil,
    /// Rate of the sprinklers.
    pub rate_mm_h: RainRate,
    /// Water to put on in all.
    pub depth_mm: WaterToApply,
    /// Water that hollows hold; 0 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub surface_storage_mm: Option<SurfaceStorage>,
}

/// Output of `irrigation-pulses`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct PulsesOutput {
    /// Does the ground keep up without pulses?
    pub keeps_up: bool,
    /// Longest pulse before runoff; the whole watering when the ground keeps up.
    pub longest_pulse_min: Option<f64>,
    /// Number of pulses, all alike.
    pub pulses: Option<u32>,
    /// Length of each.
    pub pulse_min: Option<f64>,
    /// Soaking time between two.
    pub soak_min: Option<f64>,
    /// From the first drop to the last.
    pub total_min: Option<f64>,
    /// Runoff if the same water were put on without a stop.
    pub runoff_without_stops_mm: f64,
}

/// Irrigation in pulses.
pub struct IrrigationPulses;

impl Method for IrrigationPulses {
    type Input = PulsesInput;
    type Output = PulsesOutput;

    const CARD: Card = Card {
        name: "irrigation-pulses",
        title: "Watering in pulses",
        topic: Topic::Irrigation,
        computes: "For water that comes faster than the ground takes it: the longest run before runoff, the soaking time \
                   between runs, and how many runs a watering needs.",
        validity: &[
            "Even soil; a crust or a pan makes the real pulse shorter. Watch the first one and stop when it shines.",
            "The soaking time brings the mean rate down to the conductivity of the wetted ground (common practice, no \
             source). Later pulses meet wetter ground: give the room for water at field capacity to be safe.",
        ],
        sources: &[
            Cite::new("MeinLarson1973", "ponding under steady rain"),
            Cite::new("Rawls1983", "Table 2"),
        ],
        cautions: &[
            "Keep a backflow preventer between any drinking water supply and the sprinklers, as codes ask.",
        ],
    };

    fn example() -> Self::Input {
        PulsesInput {
            soil: IntakeSoil {
                texture_class: Some(Class::ClayLoam),
                deficit_m3_m3: Some(Deficit::literal(0.12)),
                ..IntakeSoil::default()
            },
            rate_mm_h: RainRate::literal(12.0),
            depth_mm: WaterToApply::literal(15.0),
            surface_storage_mm: Some(SurfaceStorage::literal(3.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (soil, mut notes) = input.soil.front("soil")?;
        let (rate, depth) = (input.rate_mm_h.get(), input.depth_mm.get());
        let storage = input.surface_storage_mm.map_or(0.0, Bounded::get);
        let plan = pulses(&soil, rate, storage, depth);
        if plan.is_none() {
            notes.insert(
                0,
                Note::new(
                    NoteKind::NoValue,
                    "Ground without room for water, and without hollows, sheds this rate at once: wait until it has drained.",
                ),
            );
        }
        if plan.is_some_and(|plan| plan.count > 12.0) {
            notes.push(Note::new(
                NoteKind::Method,
                "So many pulses are hardly practical: smaller nozzles, wider spacing or drip suit this ground better.",
            ));
        }
        notes.push(super::intake_soil::recalled());
        notes.push(Note::new(
            NoteKind::Provenance,
            "The rule for the soaking time is common practice without a source.",
        ));
        let minutes = |hours: f64| hours * 60.0;
        let value = PulsesOutput {
            keeps_up: soil.ponding_time_h(rate).is_none(),
            longest_pulse_min: plan.map(|plan| minutes(plan.longest_h)),
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a whole count above 0"
            )]
            pulses: plan.map(|plan| plan.count as u32),
            pulse_min: plan.map(|plan| minutes(plan.each_h)),
            soak_min: plan.map(|plan| minutes(plan.soak_h)),
            total_min: plan.map(|plan| minutes(plan.count * plan.each_h + (plan.count - 1.0) * plan.soak_h)),
            runoff_without_stops_mm: soil.runoff_mm(rate, depth / rate, storage),
        };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let Ok((soil, _)) = input.soil.front("soil") else { return Working::new() };
        let rate = number(input.rate_mm_h.get());
        let k = soil.conductivity_mm_h;
        let (Some(longest), Some(count), Some(each), Some(soak)) =
            (value.longest_pulse_min, value.pulses, value.pulse_min, value.soak_min)
        else {
            return Working::new().step(
                "longest pulse",
                "time until water stands plus surface storage / rate",
                "no room in the ground and no hollows",
                "none",
            );
        };
        if value.keeps_up {
            return Working::new().step(
                "pulses",
                "none are needed while the rate is no more than the conductivity",
                format!("{rate} mm/h against {k:.3} mm/h"),
                format!("one run of {each:.1} min"),
            );
        }
        Working::new()
            .step(
                "longest pulse",
                "K ψΔθ / (i (i − K)) + surface storage / i",
                format!(
                    "{k:.3} × {:.2} / ({rate} × ({rate} − {k:.3})) + {} / {rate}",
                    soil.drive_mm(),
                    number(input.surface_storage_mm.map_or(0.0, Bounded::get))
                ),
                format!("{longest:.1} min"),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "number of pulses",
                "whole run / longest pulse, rounded up",
                format!("{} mm / {rate} mm/h over {longest:.1} min", number(input.depth_mm.get())),
                format!("{count} of {each:.1} min"),
            )
            .step(
                "soaking time",
                "pulse × (i / K − 1), so that the mean rate is K; none after a single run",
                format!("{each:.1} × ({rate} / {k:.3} − 1)"),
                format!("{soak:.0} min"),
            )
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn no_pulse_runs_off_and_the_mean_rate_is_kept(
            k in 0.1..50.0_f64, suction in 20.0..400.0_f64, deficit in 0.01..0.4_f64,
            rate in 0.5..150.0_f64, storage in 0.0..10.0_f64, depth in 1.0..80.0_f64,
        ) {
            let soil = GreenAmpt { conductivity_mm_h: k, suction_mm: suction, deficit };
            let plan = pulses(&soil, rate, storage, depth).unwrap();
            prop_assert!((plan.count * plan.each_h * rate - depth).abs() < 1e-9 * depth);
            prop_assert!(plan.each_h <= plan.longest_h * (1.0 + 1e-6));
            prop_assert!(soil.runoff_mm(rate, plan.each_h, storage) < 1e-6);
            if plan.count > 1.0 {
                let mean = rate * plan.each_h / (plan.each_h + plan.soak_h);
                prop_assert!((mean / k - 1.0).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn full_ground_without_hollows_has_no_pulse() {
        let full = GreenAmpt { conductivity_mm_h: 5.0, suction_mm: 100.0, deficit: 0.0 };
        assert!(pulses(&full, 20.0, 0.0, 10.0).is_none());
        assert!(pulses(&full, 20.0, 2.0, 10.0).is_some());
    }
}

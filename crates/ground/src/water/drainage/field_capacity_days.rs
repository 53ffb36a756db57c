//! Days until soaked ground has drained.
//!
//! # Method
//! Water leaves the layer at the conductivity it has at its content, K = Ks (θ/θs)^p, as if the pull
//! were gravity alone [Sisson1980]: L dθ/dt = −K. In closed form
//! t = L θs / (Ks (p − 1)) ((θ/θs)^(1−p) − (θ₀/θs)^(1−p)). With the soil-water equations p = 3 + 2/λ.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::composition::{ClayPercent, SandPercent};
use crate::water::equations::{SoilWater, soil_water};
use crate::water::soil_water::{self, OrganicMatter, SoilWaterQuestion};

crate::quantity! {
    /// Depth of the layer that must drain.
    pub struct DrainedDepth: "depth to drain", "cm", 5.0 ..= 200.0, example 30.0;
    /// What the ground below lets through at most.
    pub struct SubsoilRate: "rate the ground below lets through", "mm/h", 0.001 ..= 1000.0, example 0.5;
    /// Drainage that counts as nothing.
    pub struct SlowDrainage: "drainage that counts as over", "mm/d", 0.01 ..= 50.0, example 1.0;
}

/// An evenly moist layer that drains downward.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DrainingLayer {
    /// Thickness, mm.
    pub thickness_mm: f64,
    /// Water content when full, m³/m³.
    pub full: f64,
    /// Conductivity when full, mm/h.
    pub saturated_mm_h: f64,
    /// Exponent p of K = Ks (θ/θs)^p; more than 1.
    pub exponent: f64,
    /// Most that the ground below lets through, mm/h; infinite where it is no tighter.
    pub below_mm_h: f64,
}

impl DrainingLayer {
    /// From the soil-water equations (their eq. 17). `None` where they give no conductivity.
    #[must_use]
    pub fn of_soil(water: &SoilWater, thickness_mm: f64, below_mm_h: f64) -> Option<Self> {
        Some(Self {
            thickness_mm,
            full: water.saturation?,
            saturated_mm_h: water.saturated_conductivity_fine_earth?,
            exponent: 3.0 + 2.0 / water.lambda?,
            below_mm_h,
        })
    }

    /// Drainage at a content, mm/h.
    #[must_use]
    pub fn drainage_mm_h(&self, content: f64) -> f64 {
        let own = self.saturated_mm_h * libm::pow((content / self.full).min(1.0), self.exponent);
        own.min(self.below_mm_h)
    }

    /// Content at which the layer's own drainage is `rate_mm_h`; full for a greater one.
    #[must_use]
    pub fn content_at_rate(&self, rate_mm_h: f64) -> f64 {
        self.full * libm::pow((rate_mm_h / self.saturated_mm_h).min(1.0), 1.0 / self.exponent)
    }

    /// Hours from one content down to another; 0 where it is there already.
    #[must_use]
    pub fn hours(&self, from: f64, to: f64) -> f64 {
        let from = from.min(self.full);
        if to >= from {
            return 0.0;
        }
        // While its own drainage exceeds what the ground below takes, the layer drains at that steady rate.
        let held_back = self.content_at_rate(self.below_mm_h);
        let steady = (from - to.max(held_back)).max(0.0) * self.thickness_mm / self.below_mm_h;
        let free_from = from.min(held_back);
        if to >= free_from {
            return steady;
        }
        let power = 1.0 - self.exponent;
        let scale = self.thickness_mm * self.full / (self.saturated_mm_h * (self.exponent - 1.0));
        steady + scale * (libm::pow(to / self.full, power) - libm::pow(free_from / self.full, power))
    }

    /// Content after some hours of draining from `from`.
    #[must_use]
    pub fn content_after(&self, from: f64, hours: f64) -> f64 {
        let from = from.min(self.full);
        let held_back = self.content_at_rate(self.below_mm_h);
        let steady = (from - held_back).max(0.0) * self.thickness_mm / self.below_mm_h;
        if hours <= steady {
            return from - hours * self.below_mm_h / self.thickness_mm;
        }
        let start = from.min(held_back);
        let power = 1.0 - self.exponent;
        let scale = self.thickness_mm * self.full / (self.saturated_mm_h * (self.exponent - 1.0));
        let left = libm::pow(start / self.full, power) + (hours - steady) / scale;
        self.full * libm::pow(left, 1.0 / power)
    }

    /// Days from full to a content.
    #[must_use]
    pub fn days_from_full(&self, to: f64) -> f64 {
        self.hours(self.full, to) / 24.0
    }
}

/// Input of `days-to-field-capacity`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DrainDaysInput {
    /// The soil.
    pub soil: SoilWaterQuestion,
    /// Depth that must drain, usually that of the roots.
    pub depth_cm: DrainedDepth,
    /// Most that the ground below lets through; no limit where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub below_mm_h: Option<SubsoilRate>,
    /// Drainage that counts as over; 1 mm a day where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slow_mm_d: Option<SlowDrainage>,
}

/// Output of `days-to-field-capacity`. Times are from full ground, after the last rain.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct DrainDaysOutput {
    /// Days until a tenth of the volume holds air.
    pub days_to_tenth_air: Option<f64>,
    /// Days until drainage has become slow.
    pub days_until_slow: Option<f64>,
    /// Water content then.
    pub content_when_slow_m3_m3: Option<f64>,
    /// Days until the content at 33 kPa, drainage alone at work.
    pub days_to_field_capacity: Option<f64>,
    /// Content after two days, the usual time for calling ground drained.
    pub content_after_two_days_m3_m3: Option<f64>,
    /// Water that leaves the layer between full and 33 kPa.
    pub drains_mm: Option<f64>,
}

/// Days until the ground has drained.
pub struct DaysToFieldCapacity;

impl Method for DaysToFieldCapacity {
    type Input = DrainDaysInput;
    type Output = DrainDaysOutput;

    const CARD: Card = Card {
        name: "days-to-field-capacity",
        title: "Days until the ground has drained",
        topic: Topic::Water,
        computes: "How long ground soaked by rain drains: until roots have air, until drainage has become slow, and until \
                   field capacity at 33 kPa.",
        validity: &[
            "Freely draining ground, drainage alone. A crop and warm wind dry it sooner, and much sooner near 33 kPa, where \
             drainage has almost ceased.",
            "A water table near the roots, or a tighter layer below, holds water back: give what it lets through.",
            "The conductivity behind it is good to a factor of a few, and so are the days.",
        ],
        sources: &[
            Cite::new("Sisson1980", "unit-gradient drainage"),
            Cite::new("SaxtonRawls2006", "eq. 16-18"),
        ],
        cautions: &[
            "Tractors and feet on ground that has not drained press it for years: wait, and test with a spade.",
        ],
    };

    fn example() -> Self::Input {
        DrainDaysInput {
            soil: SoilWaterQuestion {
                sand_percent: SandPercent::literal(40.0),
                clay_percent: ClayPercent::literal(20.0),
                organic_matter_percent: OrganicMatter::literal(2.5),
                gravel_mass_percent: None,
                density_factor: None,
                ec_ds_m: None,
            },
            depth_cm: DrainedDepth::literal(30.0),
            below_mm_h: None,
            slow_mm_d: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (question, note) = input.soil.checked().map_err(|refusal| refusal.inside("soil"))?;
        let water = soil_water(&question);
        let layer = layer(input, &water);
        let mut notes = soil_water::notes(water.flags);
        notes.extend(note);
        if layer.is_none() {
            notes.insert(
                0,
                Note::new(
                    NoteKind::NoValue,
                    "The equations give no conductivity for this soil, and so no days.",
                ),
            );
        }
        if question.gravel_mass_percent > 0.0 {
            notes.push(Note::new(
                NoteKind::Method,
                "Stones are left out: water drains through the soil between them.",
            ));
        }
        notes.push(Note::new(
            NoteKind::Provenance,
            "The drainage equation is recalled; a tenth of air for roots and two days for drained ground are common practice \
             without a source.",
        ));
        let slow = layer.map(|layer| layer.content_at_rate(slow_mm_h(input)));
        let tenth = layer.map(|layer| layer.full - super::raised_bed::USUAL_AIR);
        let days = |to: Option<f64>| Some(layer?.days_from_full(to?));
        let value = DrainDaysOutput {
            days_to_tenth_air: days(tenth.filter(|content| *content > 0.0)),
            days_until_slow: days(slow),
            content_when_slow_m3_m3: slow,
            days_to_field_capacity: days(water.field_capacity),
            content_after_two_days_m3_m3: layer.map(|layer| layer.content_after(layer.full, 48.0)),
            drains_mm: layer
                .zip(water.field_capacity)
                .map(|(layer, held)| (layer.full - held) * layer.thickness_mm),
        };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let Ok((question, _)) = input.soil.checked() else { return Working::new() };
        let water = soil_water(&question);
        let working = crate::water::working::steps(&question, &water);
        let (Some(layer), Some(held), Some(days), Some(slow), Some(until_slow)) = (
            layer(input, &water),
            water.field_capacity,
            value.days_to_field_capacity,
            value.content_when_slow_m3_m3,
            value.days_until_slow,
        ) else {
            return working;
        };
        let rule = "t = L θS / (Ks (p − 1)) ((θ/θS)^(1−p) − 1), p = 3 + 2/λ; at the steady rate of the ground below while \
                    that is less than K";
        let numbers = |to: f64| {
            format!(
                "L = {} mm, θS = {:.4}, Ks = {:.3} mm/h, p = {:.3}, θ = {to:.4}",
                layer.thickness_mm, layer.full, layer.saturated_mm_h, layer.exponent
            )
        };
        working
            .step("days until drainage is slow", rule, numbers(slow), format!("{until_slow:.2} d"))
            .cite(Self::CARD.sources[0])
            .step("days to 33 kPa", rule, numbers(held), format!("{days:.1} d"))
            .cite(Self::CARD.sources[0])
    }
}

fn layer(input: &DrainDaysInput, water: &SoilWater) -> Option<DrainingLayer> {
    let below = input.below_mm_h.map_or(f64::INFINITY, Bounded::get);
    DrainingLayer::of_soil(water, 10.0 * input.depth_cm.get(), below)
}

fn slow_mm_h(input: &DrainDaysInput) -> f64 {
    input.slow_mm_d.map_or(1.0, Bounded::get) / 24.0
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn any_layer() -> impl Strategy<Value = DrainingLayer> {
        (
            50.0..1500.0_f64,
            0.3..0.6_f64,
            0.1..200.0_f64,
            5.0..30.0_f64,
            prop_oneof![Just(f64::INFINITY), 0.01..50.0_f64],
        )
            .prop_map(|(thickness_mm, full, saturated_mm_h, exponent, below_mm_h)| DrainingLayer {
                thickness_mm,
                full,
                saturated_mm_h,
                exponent,
                below_mm_h,
            })
    }

    proptest! {
        #[test]
        fn time_and_content_undo_each_other(layer in any_layer(), share in 0.5..0.999_f64) {
            let to = share * layer.full;
            let hours = layer.hours(layer.full, to);
            prop_assert!(hours > 0.0);
            prop_assert!((layer.content_after(layer.full, hours) - to).abs() < 1e-9);
            prop_assert!(layer.hours(layer.full, 0.9 * to) > hours);
            let tighter = DrainingLayer { below_mm_h: layer.below_mm_h.min(0.01), ..layer };
            prop_assert!(tighter.hours(layer.full, to) >= hours * (1.0 - 1e-12));
        }

        /// Against the definition: Runge and Kutta's steps of L dθ/dt = −K.
        #[test]
        fn the_closed_form_solves_the_rate(layer in any_layer(), share in 0.7..0.98_f64) {
            let hours = layer.hours(layer.full, share * layer.full);
            let fall = |content: f64| -layer.drainage_mm_h(content) / layer.thickness_mm;
            let mut content = layer.full;
            let steps = 4000;
            let step = hours / f64::from(steps);
            for _ in 0..steps {
                let a = fall(content);
                let b = fall(content + 0.5 * step * a);
                let c = fall(content + 0.5 * step * b);
                let d = fall(content + step * c);
                content += step / 6.0 * (a + 2.0 * b + 2.0 * c + d);
            }
            prop_assert!((content - share * layer.full).abs() < 1e-4, "{} {}", content, share * layer.full);
        }
    }

    #[test]
    fn drained_ground_needs_no_time() {
        let layer = DrainingLayer {
            thickness_mm: 300.0,
            full: 0.45,
            saturated_mm_h: 10.0,
            exponent: 13.0,
            below_mm_h: f64::INFINITY,
        };
        assert_eq!(layer.hours(0.30, 0.35), 0.0);
        assert!((layer.content_at_rate(10.0) - 0.45).abs() < 1e-12);
    }
}

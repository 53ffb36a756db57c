//! `ring-infiltration`: one or more rings as a registered method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::intake_class::{IntakeClass, MM_PER_INCH};
use super::ksat_class::KsatClass;
use super::ring::{Combined, GroundKind, combine, depth_in_ring_mm, rate_mm_h, side_flow_factor};
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Inside diameter of the ring.
    pub struct InsideDiameter: "inside diameter of the ring", "cm", 5.0 ..= 100.0, example 15.0;
    /// Depth the ring is driven into the ground.
    pub struct DrivenDepth: "depth the ring is driven", "cm", 1.0 ..= 50.0, example 7.6;
    /// Water poured in one go.
    pub struct PouredVolume: "water poured", "mL", 10.0 ..= 100000.0, example 444.0;
    /// Depth of water poured in one go.
    pub struct PouredDepth: "depth of water poured", "mm", 2.0 ..= 300.0, example 25.4;
    /// Minutes until the surface just glistens.
    pub struct SoakMinutes: "minutes until the water is gone", "min", 0.02 ..= 20000.0, example 22.0;
}

/// One ring.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RingReading {
    /// Inside diameter; a pipe's trade size is not its bore.
    pub inside_diameter_cm: InsideDiameter,
    /// Depth the ring is driven.
    pub driven_cm: DrivenDepth,
    /// Water poured each time. Give this or `depth_mm`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<PouredVolume>,
    /// Depth of water each time. Give this or `volume_ml`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub depth_mm: Option<PouredDepth>,
    /// Minutes for the first pouring, on ground as it was found.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first_min: Option<SoakMinutes>,
    /// Minutes for the second, on ground the first has moistened: the one that is reported.
    pub second_min: SoakMinutes,
}

impl RingReading {
    /// Depth poured, mm.
    fn poured_mm(&self, at: usize) -> Result<f64, Refusal> {
        let refuse = |field: &str, text: &str, said: &str| {
            Refusal::new(format!("rings[{at}].{field}"), text)
                .given(said)
                .accepted("one of volume_ml and depth_mm")
                .example("volume_ml 444")
        };
        match (self.volume_ml, self.depth_mm) {
            (Some(volume), None) => Ok(depth_in_ring_mm(volume.get(), self.inside_diameter_cm.get())),
            (None, Some(depth)) => Ok(depth.get()),
            (Some(_), Some(_)) => Err(refuse(
                "depth_mm",
                "both a volume and a depth were given, and one follows from the other",
                "both",
            )),
            (None, None) => {
                Err(refuse("volume_ml", "neither a volume nor a depth of water was given", "neither"))
            }
        }
    }
}

/// Input of `ring-infiltration`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RingInput {
    /// The rings, all of the same ground.
    pub rings: Vec<RingReading>,
    /// What the ground is like; the usual structured ground where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ground: Option<GroundKind>,
    /// Was the ground already saturated?
    #[serde(default)]
    pub saturated_before: bool,
}

/// One ring worked out.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct RingAnswer {
    /// Depth of water poured each time.
    pub depth_mm: f64,
    /// Rate of the first pouring.
    pub first_mm_h: Option<f64>,
    /// Rate of the second: the reported one.
    pub rate_mm_h: f64,
    /// The same in inches.
    pub rate_in_h: f64,
    /// Class of the reported rate.
    pub class: IntakeClass,
    /// Times faster than the ground conducts, for the kind of ground taken.
    pub side_flow_factor: f64,
    /// Field-saturated conductivity for the kind of ground taken.
    pub conductivity_mm_h: f64,
}

/// Conductivity under one assumption of the ground.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct Assumed {
    /// Kind of ground assumed.
    pub ground: GroundKind,
    /// Its α*.
    pub alpha_per_cm: f64,
    /// Geometric mean of the rings' conductivities.
    pub conductivity_mm_h: f64,
}

/// Output of `ring-infiltration`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct RingOutput {
    /// Each ring.
    pub rings: Vec<RingAnswer>,
    /// The reported rates together.
    pub rate: Combined,
    /// Class of their mean.
    pub class: IntakeClass,
    /// Field-saturated conductivity together, for the kind of ground taken.
    pub conductivity: Combined,
    /// Its class.
    pub conductivity_class: KsatClass,
    /// The mean conductivity under each kind of ground, tightest first.
    pub by_ground: Vec<Assumed>,
}

/// Ring infiltration test.
pub struct RingInfiltration;

impl Method for RingInfiltration {
    type Input = RingInput;
    type Output = RingOutput;

    const CARD: Card = Card {
        name: "ring-infiltration",
        title: "Ring test",
        topic: Topic::Water,
        computes: "From the minutes a ring takes to swallow two pourings of water: the intake rate and its class, and, \
                   with the flow to the sides taken out, the conductivity of the ground. Several rings are combined.",
        validity: &[
            "The second pouring is reported: the first mostly fills dry pores.",
            "Taking out the side flow was fitted for rings driven 3 cm or more under 5 cm of water or more; an inch of \
             water is shallower, and the result is a guide.",
            "Three to five rings at least: rings a step apart differ several-fold.",
        ],
        sources: &[
            Cite::new("NrcsTestKit1999", "infiltration test"),
            Cite::new("ReynoldsElrick1990", "single ring, shape factor"),
        ],
        cautions: &["Know where pipes and cables lie before you drive a ring."],
    };

    fn example() -> Self::Input {
        let ring = |first, second| RingReading {
            inside_diameter_cm: InsideDiameter::literal(14.92),
            driven_cm: DrivenDepth::literal(7.6),
            volume_ml: Some(PouredVolume::literal(444.0)),
            depth_mm: None,
            first_min: Some(SoakMinutes::literal(first)),
            second_min: SoakMinutes::literal(second),
        };
        RingInput {
            rings: vec![ring(9.0, 22.0), ring(6.0, 15.0), ring(14.0, 41.0)],
            ground: None,
            saturated_before: false,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let ground = input.ground.unwrap_or(GroundKind::Structured);
        let mut rings = Vec::with_capacity(input.rings.len());
        for (at, ring) in input.rings.iter().enumerate() {
            let depth_mm = ring.poured_mm(at)?;
            let rate = rate_mm_h(depth_mm, ring.second_min.get());
            let factor = factor(ring, depth_mm, ground);
            rings.push(RingAnswer {
                depth_mm,
                first_mm_h: ring.first_min.map(|minutes| rate_mm_h(depth_mm, minutes.get())),
                rate_mm_h: rate,
                rate_in_h: rate / MM_PER_INCH,
                class: IntakeClass::of(rate),
                side_flow_factor: factor,
                conductivity_mm_h: rate / factor,
            });
        }
        let together =
            |each: &dyn Fn(&RingAnswer) -> f64| combine(&rings.iter().map(each).collect::<Vec<_>>());
        let (Some(rate), Some(conductivity)) =
            (together(&|ring| ring.rate_mm_h), together(&|ring| ring.conductivity_mm_h))
        else {
            return Err(Refusal::new("rings", "a ring test needs at least one ring, and none was given")
                .given("an empty list")
                .accepted("one or more rings")
                .example("three rings"));
        };
        let by_ground = GroundKind::ALL.map(|kind| {
            let logs = input.rings.iter().zip(&rings);
            let sum: f64 = logs
                .map(|(reading, ring)| libm::log(ring.rate_mm_h / factor(reading, ring.depth_mm, kind)))
                .sum();
            #[expect(clippy::cast_precision_loss, reason = "a count of rings")]
            let mean = sum / rings.len() as f64;
            Assumed { ground: kind, alpha_per_cm: kind.alpha_per_cm(), conductivity_mm_h: libm::exp(mean) }
        });
        let notes = notes(input, &rings);
        let value = RingOutput {
            class: IntakeClass::of(rate.mean_mm_h),
            conductivity_class: KsatClass::of(conductivity.mean_mm_h),
            rings,
            rate,
            conductivity,
            by_ground: by_ground.to_vec(),
        };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let mut working = Working::new();
        for (at, (reading, ring)) in input.rings.iter().zip(&answer.value.rings).enumerate() {
            working = working
                .step(
                    format!("reported rate of ring {}", at + 1),
                    "depth poured × 60 / minutes of the second pouring",
                    format!("{:.2} mm × 60 / {}", ring.depth_mm, number(reading.second_min.get())),
                    format!("{:.1} mm/h, {}", ring.rate_mm_h, ring.class.words()),
                )
                .cite(Self::CARD.sources[0])
                .step(
                    "conductivity, side flow taken out",
                    "rate / (H / G + 1 / (α* G) + 1), G = 0.316 π d + 0.184 π a, H half the depth poured",
                    format!(
                        "{:.1} / {:.3}, d = {} cm, a = {} cm, H = {:.2} cm",
                        ring.rate_mm_h,
                        ring.side_flow_factor,
                        number(reading.driven_cm.get()),
                        number(reading.inside_diameter_cm.get() / 2.0),
                        ring.depth_mm / 20.0
                    ),
                    format!("{:.2} mm/h", ring.conductivity_mm_h),
                )
                .cite(Self::CARD.sources[1]);
        }
        working.step(
            "the rings together",
            "geometric mean, as rates spread in proportion",
            format!("{} rings", answer.value.rings.len()),
            format!(
                "{:.1} mm/h, {}; conductivity {:.2} mm/h",
                answer.value.rate.mean_mm_h,
                answer.value.class.words(),
                answer.value.conductivity.mean_mm_h
            ),
        )
    }
}

fn factor(ring: &RingReading, depth_mm: f64, ground: GroundKind) -> f64 {
    // Half of what was poured, in cm, is the mean depth while it falls.
    let head_cm = depth_mm / 20.0;
    side_flow_factor(ring.inside_diameter_cm.get(), ring.driven_cm.get(), head_cm, ground.alpha_per_cm())
}

fn notes(input: &RingInput, rings: &[RingAnswer]) -> Vec<Note> {
    let mut notes = vec![Note::new(
        NoteKind::Provenance,
        "The shape factor, the α* by kind of ground and the limits of the classes are recalled and were not read again.",
    )];
    if input.saturated_before {
        notes.insert(
            0,
            Note::new(
                NoteKind::OutsideRange,
                "The ground was already saturated: wait some days and repeat, or read the rate as a lower limit.",
            ),
        );
    }
    if rings.len() < 3 {
        notes.push(Note::new(
            NoteKind::Method,
            "Rings a step apart differ several-fold: use three to five before you lean on the mean (common practice, no source).",
        ));
    }
    if rings.iter().any(|ring| ring.first_mm_h.is_some_and(|first| first < ring.rate_mm_h)) {
        notes.push(Note::new(
            NoteKind::Method,
            "A second pouring went faster than the first: ground that sheds water when dry, or a leak along the ring, does that.",
        ));
    }
    notes
}

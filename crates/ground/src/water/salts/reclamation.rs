//! Water to wash salts down before a crop.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::yield_loss::RootZoneEc;
use crate::kit::quantity::{number, with_unit};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// EC of the saturation extract that is wanted.
    pub struct WantedEc: "conductivity that is wanted", "dS/m", 0.1 ..= 50.0, example 1.5;
    /// Depth of ground to wash.
    pub struct WashedDepth: "depth to wash", "cm", 5.0 ..= 200.0, example 30.0;
}

/// How the water is put on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WashingManner {
    /// Water stands on medium or fine ground: k about 0.3.
    PondedMediumOrFine,
    /// Water stands on sandy ground, or is put on in pulses or by sprinklers: k about 0.1.
    SandyOrInPulses,
}

impl WashingManner {
    /// Hoffman's k.
    #[must_use]
    pub fn k(self) -> f64 {
        match self {
            Self::PondedMediumOrFine => 0.3,
            Self::SandyOrInPulses => 0.1,
        }
    }
}

/// Water, as a depth in the unit of `depth`, that brings salts to a share `left` of what they were:
/// Dw = k Ds / (C/C₀) [Hoffman1980]. `None` outside 0 to 1, for which it is not made.
#[must_use]
pub fn washing_water(manner: WashingManner, depth: f64, left: f64) -> Option<f64> {
    (left > 0.0 && left < 1.0).then(|| manner.k() * depth / left)
}

/// The rule of thumb: water over depth that leaves a half, a fifth and a tenth of the salts (6, 12 and
/// 24 inches for the top foot).
const RULE: [(f64, f64); 4] = [(1.0, 0.0), (0.5, 0.5), (0.2, 1.0), (0.1, 2.0)];

/// Water by the rule of thumb, in the unit of `depth`; straight lines in the logarithm of what is left.
/// `None` below the tenth where the rule ends, and for nothing to wash.
#[must_use]
pub fn washing_water_by_rule(depth: f64, left: f64) -> Option<f64> {
    let pair = RULE.windows(2).find(|pair| left < pair[0].0 && left >= pair[1].0 - 1e-12)?;
    let ((from, less), (to, more)) = (pair[0], pair[1]);
    let along = (libm::log(from) - libm::log(left)) / (libm::log(from) - libm::log(to));
    Some(depth * (less + along * (more - less)))
}

/// Input of `reclamation-leaching`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReclamationInput {
    /// EC of the saturation extract now.
    pub ec_now_ds_m: RootZoneEc,
    /// EC that is wanted.
    pub ec_wanted_ds_m: WantedEc,
    /// Depth of ground to wash.
    pub depth_cm: WashedDepth,
    /// How the water is put on.
    pub manner: WashingManner,
}

/// Output of `reclamation-leaching`.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
pub struct ReclamationOutput {
    /// Share of the salts that may stay.
    pub left_percent: f64,
    /// Water to drain through by the equation.
    pub water_mm: f64,
    /// Water by the rule of thumb; nothing where it ends.
    pub water_by_rule_mm: Option<f64>,
    /// Water over depth washed, by the equation.
    pub water_per_depth: f64,
}

/// Washing salts down.
pub struct ReclamationLeaching;

impl Method for ReclamationLeaching {
    type Input = ReclamationInput;
    type Output = ReclamationOutput;

    const CARD: Card = Card {
        name: "reclamation-leaching",
        title: "Washing salts out before a crop",
        topic: Topic::Water,
        computes: "The water that must drain through the ground to bring its salts down to what is wanted, by Hoffman's \
                   equation and by an extension rule of thumb.",
        validity: &[
            "Good water on ground without a crop that drains freely; water that evaporates or fills dry ground does not count.",
            "The equation is made for depths of water more than k times the depth of ground.",
            "The two disagree by up to three times: put on the lesser amount in pulses below the intake rate, test, and go on.",
        ],
        sources: &[
            Cite::new("Hoffman1980", "C/C₀ = k Ds/Dw"),
            Cite::new("Cardon2007", "6, 12 and 24 inches a foot"),
        ],
        cautions: &[super::DRAINAGE_FIRST, super::LEACHING, super::SODIC_FIRST, super::BACKFLOW],
    };

    fn example() -> Self::Input {
        ReclamationInput {
            ec_now_ds_m: RootZoneEc::literal(4.0),
            ec_wanted_ds_m: WantedEc::literal(1.5),
            depth_cm: WashedDepth::literal(30.0),
            manner: WashingManner::SandyOrInPulses,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (now, wanted) = (input.ec_now_ds_m.get(), input.ec_wanted_ds_m.get());
        let depth_mm = 10.0 * input.depth_cm.get();
        let Some(water_mm) = washing_water(input.manner, depth_mm, wanted / now) else {
            return Err(Refusal::new(
                "ec_wanted_ds_m",
                format!("what is wanted must be less than the {} there is now", with_unit(now, "dS/m")),
            )
            .given(with_unit(wanted, "dS/m"))
            .accepted(format!("less than {}", with_unit(now, "dS/m")))
            .example(with_unit((now / 2.0).max(0.1), "dS/m")));
        };
        let by_rule = washing_water_by_rule(depth_mm, wanted / now);
        let mut notes = Vec::new();
        if by_rule.is_none() {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                "The rule of thumb ends where a tenth of the salts is left.",
            ));
        }
        notes.push(Note::new(
            NoteKind::Provenance,
            "The equation, its k and the second and third step of the rule are recalled; that 6 inches halve the salts was read.",
        ));
        notes.push(Note::new(
            NoteKind::Method,
            "The water's own salts stay behind: ground cannot become fresher than the water makes it.",
        ));
        Ok(Answer::with_notes(
            ReclamationOutput {
                left_percent: 100.0 * wanted / now,
                water_mm,
                water_by_rule_mm: by_rule,
                water_per_depth: water_mm / depth_mm,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let working = Working::new()
            .step(
                "water by the equation",
                "Dw = k Ds / (C/C₀)",
                format!(
                    "{} × {} mm / ({} / {})",
                    input.manner.k(),
                    number(10.0 * input.depth_cm.get()),
                    number(input.ec_wanted_ds_m.get()),
                    number(input.ec_now_ds_m.get())
                ),
                format!("{:.0} mm", value.water_mm),
            )
            .cite(Self::CARD.sources[0]);
        match value.water_by_rule_mm {
            Some(water) => working
                .step(
                    "water by the rule of thumb",
                    "half the depth leaves a half, the whole depth a fifth, twice the depth a tenth",
                    format!("{:.0} % left", value.left_percent),
                    format!("{water:.0} mm"),
                )
                .cite(Self::CARD.sources[1]),
            None => working,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn less_left_asks_for_more_water() {
        for manner in [WashingManner::PondedMediumOrFine, WashingManner::SandyOrInPulses] {
            let mut last = f64::INFINITY;
            for step in 1..100_u32 {
                let water = washing_water(manner, 300.0, f64::from(step) / 100.0).unwrap();
                assert!(water < last);
                last = water;
            }
        }
        let rule: Vec<f64> = (10..100_u32)
            .map(|step| washing_water_by_rule(300.0, f64::from(step) / 100.0).unwrap())
            .collect();
        assert!(rule.windows(2).all(|pair| pair[0] > pair[1]));
        assert!(washing_water_by_rule(300.0, 0.05).is_none() && washing_water_by_rule(300.0, 1.0).is_none());
        assert!(washing_water(WashingManner::SandyOrInPulses, 300.0, 1.2).is_none());
    }
}

//! Texture with a sieve and a kitchen scale: masses instead of layer thicknesses.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::measured::{ClassOdds, PercentError, StandardError};
use super::size_limit::converted;
use super::{Class, Composition};
use crate::belief::Witness;
use crate::kit::quantity::with_unit;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// A mass weighed on a kitchen scale.
    pub struct WeighedMass: "dry mass", "g", 0.0 ..= 5000.0, example 40.0;
    /// Finest mass the scale shows.
    pub struct ScaleStep: "scale step", "g", 0.001 ..= 50.0, example 1.0;
    /// Opening of the sieve.
    pub struct SieveOpening: "sieve opening", "µm", 20.0 ..= 150.0, example 53.0;
}

/// Sieve, settle, weigh: as kept in the farm book.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct KitchenScaleReading {
    /// Dry soil finer than 2 mm before washing.
    pub total_g: WeighedMass,
    /// Dry sand left on the sieve.
    pub sand_g: WeighedMass,
    /// Dry silt left after the clay was poured off.
    pub silt_g: WeighedMass,
    /// Finest mass the scale shows; 1 g where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scale_step_g: Option<ScaleStep>,
    /// Opening of the sieve; 53 µm (No. 270) where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sieve_um: Option<SieveOpening>,
    /// Was a dispersant used?
    pub dispersed: bool,
}

/// Mass mistaken between sand and silt in washing a sieve at home, in points. Our judgement.
const WASHING_POINTS: f64 = 1.5;
/// Silt poured off with the clay, or clay left with the silt, in points. Our judgement.
const POURING_POINTS: f64 = 3.0;
/// Added between silt and clay, and half of it between sand and silt, where no dispersant was used:
/// clods of clay then settle as silt. No measured size of the effect was found; our judgement.
const CLODS_POINTS: f64 = 6.0;
/// Sieve taken where none is given: No. 270.
const USUAL_SIEVE_UM: f64 = 53.0;
/// Scale step taken where none is given, in g.
const USUAL_STEP_G: f64 = 1.0;

/// A kitchen-scale reading brought to the USDA limits, with its error.
#[derive(Debug, Clone, PartialEq)]
pub struct KitchenScaleFinding {
    /// Shares of the masses, sand being what the sieve held back.
    pub weighed: Composition,
    /// With silt from 2 to 50 µm.
    pub soil: Composition,
    /// Scale, washing, pouring, clods and the sieve's opening together.
    pub error: PercentError,
    /// What should be known beside it.
    pub notes: Vec<Note>,
}

/// Reads sieve-settle-weigh masses: sand and silt are weighed, clay is the rest.
///
/// # Errors
/// No soil (`total_g`), or parts that weigh more than the whole (`sand_g`, `silt_g`) by more than
/// twice the scale step.
pub fn assess(reading: &KitchenScaleReading) -> Result<KitchenScaleFinding, Refusal> {
    let (total, sand, silt) = (reading.total_g.get(), reading.sand_g.get(), reading.silt_g.get());
    let step = reading.scale_step_g.map_or(USUAL_STEP_G, ScaleStep::get);
    if total <= 0.0 {
        return Err(Refusal::new("total_g", "the dry soil must weigh something, but 0 g was given")
            .given("0 g")
            .accepted("more than 0 g, best 50 g or more")
            .example("100 g"));
    }
    for (field, what, mass) in
        [("sand_g", "the sand", sand), ("silt_g", "sand and silt together", sand + silt)]
    {
        if mass > total + 2.0 * step {
            return Err(Refusal::new(
                field,
                format!(
                    "{what} cannot weigh more than the {} of soil they came from, but {} was given",
                    with_unit(total, "g"),
                    with_unit(mass, "g")
                ),
            )
            .given(format!("{} of {}", with_unit(mass, "g"), with_unit(total, "g")))
            .accepted(format!("sand and silt that weigh {} or less together", with_unit(total, "g")))
            .example(format!("{} g", tidy(0.4 * total))));
        }
    }
    let clay = total - sand - silt;
    let weighed = Composition::from_parts(sand, silt, clay.max(0.0));
    let sieve = reading.sieve_um.map_or(USUAL_SIEVE_UM, SieveOpening::get);
    let soil = converted(weighed, sieve, 50.0);

    let mut notes = Vec::new();
    if clay < 0.0 {
        notes.push(Note::new(
            NoteKind::Adjusted,
            format!("Sand and silt weigh {:.1} g more than the soil did, which the scale's step can explain; clay is taken as nothing.", -clay),
        ));
    }
    let mut error = scale_error(weighed, total, step)
        .and_sand_for_silt(WASHING_POINTS)
        .and_silt_for_clay(POURING_POINTS)
        .and_sand_for_silt(0.5 * (soil.sand - weighed.sand).abs());
    if !reading.dispersed {
        error = error.and_silt_for_clay(CLODS_POINTS).and_sand_for_silt(CLODS_POINTS / 2.0);
        notes.push(Note::new(
            NoteKind::Method,
            "Nothing was added to part the clay, so some of it was weighed as silt: there is likely more clay than this shows. The result is taken as less certain.",
        ));
    }
    notes.push(Note::new(
        NoteKind::Provenance,
        "The errors of washing and pouring at home are our judgement; no published comparison was found.",
    ));
    Ok(KitchenScaleFinding { weighed, soil, error, notes })
}

/// Error of the three weighings. Each is a difference of two displayed masses (pan and full pan).
fn scale_error(weighed: Composition, total: f64, step: f64) -> PercentError {
    let points = 100.0 / total * step / 6.0_f64.sqrt();
    let rest = (weighed.sand + weighed.silt) / 100.0;
    PercentError::none()
        .and_sand_for_clay(points)
        .and_silt_for_clay(points)
        .and(-points * weighed.sand / 100.0, points * rest)
}

fn tidy(mass: f64) -> f64 {
    (mass * 10.0).round() / 10.0
}

/// What a kitchen-scale reading says, for belief.
///
/// # Errors
/// As [`assess`].
pub fn witness(reading: &KitchenScaleReading, id: &str, label: &str) -> Result<Witness, Refusal> {
    let finding = assess(reading)?;
    Ok(Witness { id: id.to_owned(), label: label.to_owned(), account: finding.error.account(finding.soil) })
}

/// Output of `kitchen-scale-texture`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct KitchenScaleOutput {
    /// Shares of the masses as weighed, in percent; sand is what the sieve held back.
    pub weighed_percent: Composition,
    /// Sand, silt and clay with silt from 2 to 50 µm, in percent.
    pub mass_percent: Composition,
    /// One standard deviation, in points.
    pub standard_error_points: StandardError,
    /// Texture class.
    pub class: Class,
    /// Odds of each class within the error, likeliest first.
    pub class_odds: Vec<ClassOdds>,
}

/// Sieve, settle and weigh.
pub struct KitchenScaleTexture;

impl Method for KitchenScaleTexture {
    type Input = KitchenScaleReading;
    type Output = KitchenScaleOutput;

    const CARD: Card = Card {
        name: "kitchen-scale-texture",
        title: "Texture with a sieve and a kitchen scale",
        topic: Topic::Texture,
        computes: "Finds sand, silt and clay from masses: shake the soil with dispersant, wash the sand out on a \
                   fine sieve, dry and weigh it; let the silt settle, pour the clay off, dry and weigh the silt. \
                   Because it weighs and does not measure layers, it is free of the jar test's weak point.",
        validity: &[
            "Dry soil finer than 2 mm; 50 g or more for a scale that shows whole grams.",
            "Sieve openings of 20 to 150 µm; a No. 270 sieve (53 µm) is best.",
            "Clay is what is left over, so it takes up the errors of both weighings.",
        ],
        sources: &[
            Cite::new("Kettler2001", "rapid procedure"),
            Cite::new("Nemes1999", "log-linear procedure"),
        ],
        cautions: &[
            "Dishwasher powder and hexametaphosphate irritate eyes and skin; keep labelled and away from children.",
            "Do not pour the water into a well, a stream or a drain that leads to one.",
        ],
    };

    fn example() -> Self::Input {
        KitchenScaleReading {
            total_g: WeighedMass::literal(100.0),
            sand_g: WeighedMass::literal(45.0),
            silt_g: WeighedMass::literal(36.0),
            scale_step_g: Some(ScaleStep::literal(1.0)),
            sieve_um: Some(SieveOpening::literal(53.0)),
            dispersed: true,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let finding = assess(input)?;
        let value = KitchenScaleOutput {
            weighed_percent: finding.weighed,
            mass_percent: finding.soil,
            standard_error_points: finding.error.standard(),
            class: Class::of(finding.soil),
            class_odds: finding.error.class_odds(finding.soil),
        };
        Ok(Answer::with_notes(value, finding.notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let (total, sand, silt) = (input.total_g.get(), input.sand_g.get(), input.silt_g.get());
        let sieve = input.sieve_um.map_or(USUAL_SIEVE_UM, SieveOpening::get);
        let (weighed, soil) = (answer.value.weighed_percent, answer.value.mass_percent);
        let error = answer.value.standard_error_points;
        Working::new()
            .step(
                "shares by mass",
                "sand = sand mass / soil mass, silt = silt mass / soil mass, clay = the rest",
                format!("{sand} / {total}, {silt} / {total}"),
                format!("sand {:.2}, silt {:.2}, clay {:.2} %", weighed.sand, weighed.silt, weighed.clay),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "the sieve's opening against the 50 µm limit",
                "straight line on ln(size) from the sieve's opening to 50 µm",
                format!("sieve {sieve} µm, sand {:.2} %", weighed.sand),
                format!("sand {:.2}, silt {:.2}, clay {:.2} %", soil.sand, soil.silt, soil.clay),
            )
            .cite(Self::CARD.sources[1])
            .step(
                "standard error",
                "scale step, washing, pouring and clods, each squared and added",
                format!(
                    "step {} g; washing {WASHING_POINTS}, pouring {POURING_POINTS} points; {}",
                    input.scale_step_g.map_or(USUAL_STEP_G, ScaleStep::get),
                    if input.dispersed { "dispersed" } else { "not dispersed" }
                ),
                format!("sand {:.1}, silt {:.1}, clay {:.1} points", error.sand, error.silt, error.clay),
            )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn weighed(total: f64, sand: f64, silt: f64) -> KitchenScaleReading {
        KitchenScaleReading {
            total_g: WeighedMass::new(total).unwrap(),
            sand_g: WeighedMass::new(sand).unwrap(),
            silt_g: WeighedMass::new(silt).unwrap(),
            ..KitchenScaleTexture::example()
        }
    }

    #[test]
    fn parts_heavier_than_the_whole_are_refused_by_field() {
        for (masses, field) in
            [([0.0, 0.0, 0.0], "total_g"), ([100.0, 120.0, 0.0], "sand_g"), ([100.0, 60.0, 60.0], "silt_g")]
        {
            assert_eq!(assess(&weighed(masses[0], masses[1], masses[2])).unwrap_err().field, field);
        }
        let hair = assess(&weighed(100.0, 60.0, 41.0)).unwrap();
        assert_eq!(hair.soil.clay, 0.0);
        assert_eq!(hair.notes[0].kind, NoteKind::Adjusted);
    }

    #[test]
    fn a_coarser_scale_and_no_dispersant_widen() {
        let fine = assess(&weighed(100.0, 45.0, 36.0)).unwrap().error.standard();
        let coarse =
            KitchenScaleReading { scale_step_g: Some(ScaleStep::literal(5.0)), ..weighed(100.0, 45.0, 36.0) };
        let clods = KitchenScaleReading { dispersed: false, ..weighed(100.0, 45.0, 36.0) };
        for wider in [coarse, clods] {
            let error = assess(&wider).unwrap().error.standard();
            assert!(error.clay > fine.clay && error.sand > fine.sand, "{wider:?}");
        }
    }

    #[test]
    fn the_scale_of_the_sample_does_not_matter() {
        let small = assess(&weighed(50.0, 22.5, 18.0)).unwrap();
        let large = assess(&weighed(500.0, 225.0, 180.0)).unwrap();
        assert!((small.soil.clay - large.soil.clay).abs() < 1e-9);
        assert!(small.error.standard().clay > large.error.standard().clay);
    }
}

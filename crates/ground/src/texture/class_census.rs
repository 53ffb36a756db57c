//! How many compositions of a regular grid fall in each texture class.
//!
//! A census proves the partition: the counts add to the whole grid, and they must come out the same
//! in any program that reads the definitions rightly.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Class, Composition};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::quantity! {
    /// Distance between neighbouring compositions of the grid.
    pub struct GridStep: "grid step", "%", 0.1 ..= 50.0, example 1.0;
}

/// Counts of each class, in the order of [`Class::ALL`], over every composition whose parts are
/// whole multiples of `100 / divisions` percent and add to 100, edges and corners among them.
#[must_use]
pub fn census(divisions: u32) -> [u64; 12] {
    let mut counts = [0; 12];
    let percent = |part: u32| 100.0 * f64::from(part) / f64::from(divisions);
    for clay in 0..=divisions {
        for silt in 0..=divisions - clay {
            let soil = Composition {
                sand: percent(divisions - clay - silt),
                silt: percent(silt),
                clay: percent(clay),
            };
            counts[Class::of(soil) as usize] += 1;
        }
    }
    counts
}

/// Input of `texture-class-census`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CensusInput {
    /// Distance between neighbouring compositions; must go into 100 a whole number of times.
    pub step_percent: GridStep,
}

/// Output of `texture-class-census`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct CensusOutput {
    /// Compositions on the grid.
    pub total: u64,
    /// How many of them each class holds, by class name.
    pub counts: BTreeMap<String, u64>,
}

/// Census of the texture classes.
pub struct TextureClassCensus;

impl TextureClassCensus {
    fn divisions(input: &CensusInput) -> Result<u32, Refusal> {
        let step = input.step_percent.get();
        let divisions = (100.0 / step).round();
        if (divisions * step - 100.0).abs() > 1e-9 {
            return Err(Refusal::new(
                "step_percent",
                format!("the grid step must go into 100 a whole number of times, but {step} % does not"),
            )
            .given(format!("{step} %"))
            .accepted("0.1 to 50 %, a whole fraction of 100")
            .example("1 %"));
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "2 to 1000")]
        Ok(divisions as u32)
    }
}

impl Method for TextureClassCensus {
    type Input = CensusInput;
    type Output = CensusOutput;

    const CARD: Card = Card {
        name: "texture-class-census",
        title: "Census of the texture classes",
        topic: Topic::Texture,
        computes: "Counts how many make-ups of a regular grid fall in each texture class. Any other reading \
                   of the definitions can be held against these counts; a grower has no use for it.",
        validity: &["The step goes into 100 a whole number of times, from 0.1 to 50 %."],
        sources: &[Cite::new("SoilSurveyManual2017", "ch. 3, pp. 122-124")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        CensusInput { step_percent: GridStep::literal(1.0) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let counts = census(Self::divisions(input)?);
        Ok(Answer::plain(CensusOutput {
            total: counts.iter().sum(),
            counts: Class::ALL
                .iter()
                .map(|class| (class.name().to_owned(), counts[*class as usize]))
                .collect(),
        }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let divisions = Self::divisions(input).unwrap_or(1);
        let counts = &answer.value.counts;
        Working::new()
            .step(
                "the grid",
                "n = 100 / step; compositions = (n + 1)(n + 2) / 2",
                format!("n = 100 / {} = {divisions}", input.step_percent.get()),
                format!("{} compositions", answer.value.total),
            )
            .step(
                "the counts",
                "Each composition is given its one class by the definitions.",
                counts.iter().map(|(class, count)| format!("{class} {count}")).collect::<Vec<_>>().join(", "),
                format!("together {}", counts.values().sum::<u64>()),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The definitions as twelve separate rules on whole tenths of a percent, in integers, so that
    /// nothing is shared with the decision list [SoilSurveyManual2017].
    fn rules_that_hold(s: i64, i: i64, c: i64) -> Vec<Class> {
        let (i15c, i2c) = (2 * i + 3 * c, i + 2 * c);
        let rules = [
            (Class::Sand, s > 850 && i15c < 300),
            (Class::LoamySand, (700..=900).contains(&s) && i15c >= 300 && i2c < 300),
            (
                Class::SandyLoam,
                ((70..200).contains(&c) && s > 520 && i2c >= 300) || (c < 70 && i < 500 && i2c >= 300),
            ),
            (Class::Loam, (70..270).contains(&c) && (280..500).contains(&i) && s <= 520),
            (Class::SiltLoam, (i >= 500 && (120..270).contains(&c)) || ((500..800).contains(&i) && c < 120)),
            (Class::Silt, i >= 800 && c < 120),
            (Class::SandyClayLoam, (200..350).contains(&c) && i < 280 && s > 450),
            (Class::ClayLoam, (270..400).contains(&c) && s > 200 && s <= 450),
            (Class::SiltyClayLoam, (270..400).contains(&c) && s <= 200),
            (Class::SandyClay, c >= 350 && s > 450),
            (Class::SiltyClay, c >= 400 && i >= 400),
            (Class::Clay, c >= 400 && s <= 450 && i < 400),
        ];
        rules.into_iter().filter(|rule| rule.1).map(|rule| rule.0).collect()
    }

    #[test]
    fn every_tenth_of_a_percent_obeys_exactly_one_rule_and_gets_its_class() {
        for c in 0..=1000_i64 {
            for i in 0..=1000 - c {
                let s = 1000 - c - i;
                let holds = rules_that_hold(s, i, c);
                #[expect(clippy::cast_precision_loss, reason = "at most 1000")]
                let soil =
                    Composition { sand: s as f64 / 10.0, silt: i as f64 / 10.0, clay: c as f64 / 10.0 };
                assert_eq!(holds, [Class::of(soil)], "{s} {i} {c}");
            }
        }
    }

    #[test]
    fn a_step_that_does_not_fit_is_refused_by_name() {
        let refusal = TextureClassCensus::compute(&CensusInput { step_percent: GridStep::literal(0.3) });
        assert_eq!(refusal.unwrap_err().field, "step_percent");
    }
}

//! Where the phosphorus test goes at the present rate of giving and taking.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Phosphorus test.
    pub struct PhosphorusTest: "phosphorus test", "ppm", 0.0 ..= 3000.0, example 40.0;
    /// Upper end of the optimum.
    pub struct OptimumEnd: "upper end of the optimum", "ppm", 1.0 ..= 1000.0, example 68.0;
    /// What stays in the ground in a year; below nothing where more is taken than given.
    pub struct PhosphateSurplus: "phosphate gained in a year", "kg/ha", -500.0 ..= 5000.0, example 150.0;
}

/// kg/ha of P2O5 that move the test by 1 ppm: low, usual, high. The usual is the Tri-State build-up
/// rule (20 lb/acre, Bray 1, recalled); half and double of it span sandy and strongly fixing ground (judgement).
pub const P2O5_KG_HA_PER_PPM: [f64; 3] = [11.2, 22.4, 44.8];

/// Years until the test passes `end_ppm`: soonest, likeliest, latest. `None`: it never does at that rate.
/// Nothing: it has passed already.
#[must_use]
pub fn years_until(test_ppm: f64, end_ppm: f64, surplus_kg_ha: f64) -> Option<[f64; 3]> {
    let way = end_ppm - test_ppm;
    if way <= 0.0 {
        return Some([0.0; 3]);
    }
    (surplus_kg_ha > 0.0).then(|| P2O5_KG_HA_PER_PPM.map(|each| way * each / surplus_kg_ha))
}

/// Years until a test above the optimum has fallen back to it, at a yearly loss. `None`: it never does.
#[must_use]
pub fn years_to_draw_down(test_ppm: f64, end_ppm: f64, surplus_kg_ha: f64) -> Option<[f64; 3]> {
    let way = test_ppm - end_ppm;
    if way <= 0.0 {
        return Some([0.0; 3]);
    }
    (surplus_kg_ha < 0.0).then(|| P2O5_KG_HA_PER_PPM.map(|each| way * each / -surplus_kg_ha))
}

/// Input of `phosphorus-forecast`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ForecastInput {
    /// Today's test.
    pub test_ppm: PhosphorusTest,
    /// Where the optimum ends.
    pub optimum_up_to_ppm: OptimumEnd,
    /// Phosphate given less phosphate taken, in a year.
    pub surplus_kg_ha: PhosphateSurplus,
}

/// Output of `phosphorus-forecast`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ForecastOutput {
    /// Rise of the test in a year: least, likeliest, most.
    pub rise_ppm_a_year: [f64; 3],
    /// Years until it passes the optimum: soonest, likeliest, latest; `null` where it does not.
    pub years_until_above: Option<[f64; 3]>,
    /// Years until it is back at the optimum; `null` where it does not fall.
    pub years_to_draw_down: Option<[f64; 3]>,
}

/// Forecast of the phosphorus test.
pub struct PhosphorusForecast;

impl Method for PhosphorusForecast {
    type Input = ForecastInput;
    type Output = ForecastOutput;

    const CARD: Card = Card {
        name: "phosphorus-forecast",
        title: "Where the phosphorus test is going",
        topic: Topic::Fertility,
        computes: "How many years of the present compost, manure and fertilizer it takes until the phosphorus test passes \
                   the optimum, or how many years of taking more than is given until it is back.",
        validity: &[
            "20 lb of P2O5 an acre for a ppm, half to double of it: soils differ, and so do extractants. A repeat test settles it.",
        ],
        sources: &[Cite::new("TriState1995", "build-up: 20 lb P2O5 an acre for 1 ppm")],
        cautions: &["Ground rich in phosphorus feeds algae where its water runs to."],
    };

    fn example() -> Self::Input {
        ForecastInput {
            test_ppm: PhosphorusTest::literal(40.0),
            optimum_up_to_ppm: OptimumEnd::literal(68.0),
            surplus_kg_ha: PhosphateSurplus::literal(150.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (test, end, surplus) =
            (input.test_ppm.get(), input.optimum_up_to_ppm.get(), input.surplus_kg_ha.get());
        let [low, usual, high] = P2O5_KG_HA_PER_PPM;
        Ok(Answer::with_notes(
            ForecastOutput {
                rise_ppm_a_year: [surplus / high, surplus / usual, surplus / low],
                years_until_above: years_until(test, end, surplus),
                years_to_draw_down: years_to_draw_down(test, end, surplus),
            },
            vec![Note::new(
                NoteKind::Provenance,
                "20 lb of P2O5 an acre for 1 ppm is recalled from the Tri-State build-up rule; half to double of it is our judgement.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let working = Working::new()
            .step(
                "rise of the test in a year",
                "surplus / 22.4 kg/ha for a ppm (11.2 to 44.8)",
                format!("{} / 22.4", input.surplus_kg_ha.get()),
                format!("{:.1} ppm", answer.value.rise_ppm_a_year[1]),
            )
            .cite(Self::CARD.sources[0]);
        match answer.value.years_until_above {
            Some([soon, likely, late]) => working.step(
                "years until it passes the optimum",
                "way to go / rise of a year",
                format!("({} − {}) ppm", input.optimum_up_to_ppm.get(), input.test_ppm.get()),
                format!("{likely:.1} ({soon:.1} to {late:.1})"),
            ),
            None => working.step(
                "years until it passes the optimum",
                "the test does not rise",
                "",
                "never at that rate",
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_gained_never_passes_and_nothing_lost_never_falls() {
        assert_eq!(years_until(40.0, 60.0, 0.0), None);
        assert_eq!(years_until(60.0, 60.0, 0.0), Some([0.0; 3]));
        assert_eq!(years_to_draw_down(90.0, 60.0, 5.0), None);
        let [soon, likely, late] = years_until(40.0, 60.0, 100.0).unwrap();
        assert!(soon < likely && likely < late);
        assert!((likely - 4.48).abs() < 1e-9);
    }
}

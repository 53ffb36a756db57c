//! Organic matter year by year, where it settles, and how long a target takes.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::kinds::Addition;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::structure::root_limits::FineEarthDensity;

crate::quantity! {
    /// Organic matter by mass of dry soil.
    pub struct OrganicNow: "organic matter", "%", 0.1 ..= 30.0, example 2.0;
    /// Organic matter that is wanted.
    pub struct OrganicWanted: "organic matter wanted", "%", 0.1 ..= 30.0, example 3.0;
    /// Share of the organic matter lost in a year.
    pub struct YearlyDecay: "share lost in a year", "", 0.001 ..= 0.2, example 0.02;
    /// Depth through which it is mixed.
    pub struct MixedDepth: "depth of the layer", "cm", 1.0 ..= 60.0, example 17.0;
    /// Organic matter added in a year, dry.
    pub struct YearlyAddition: "organic matter added in a year", "t/ha", 0.0 ..= 500.0, example 10.0;
    /// Years to look ahead.
    pub struct YearsOfBudget: "years to look ahead", "", 1.0 ..= 100.0, example 10.0;
    /// Share of an addition that becomes humus.
    pub struct HumifiedShare: "share that becomes humus", "", 0.01 ..= 0.95, example 0.45;
}

/// Dry mass of a layer, t/ha: 1 g/cm³ through 1 cm is 100 t/ha.
#[must_use]
pub fn layer_t_ha(density_g_cm3: f64, depth_cm: f64) -> f64 {
    100.0 * density_g_cm3 * depth_cm
}

/// One pool with steady additions: percent of organic matter, share lost and percent points gained in a year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Budget {
    /// Now, percent.
    pub now_percent: f64,
    /// Share lost in a year, above 0.
    pub decay: f64,
    /// Humus gained in a year, percentage points.
    pub gain_percent: f64,
}

impl Budget {
    /// Where it settles, percent.
    #[must_use]
    pub fn settles_at_percent(&self) -> f64 {
        self.gain_percent / self.decay
    }

    /// After a time, percent.
    #[must_use]
    pub fn after(&self, years: f64) -> f64 {
        let level = self.settles_at_percent();
        level + (self.now_percent - level) * libm::exp(-self.decay * years)
    }

    /// Years until `wanted` percent is reached; `None` where these additions never reach it.
    #[must_use]
    pub fn years_to(&self, wanted_percent: f64) -> Option<f64> {
        if wanted_percent == self.now_percent {
            return Some(0.0);
        }
        let level = self.settles_at_percent();
        let ratio = (self.now_percent - level) / (wanted_percent - level);
        // The wanted level must lie between now and where it settles.
        (ratio.is_finite() && ratio > 1.0).then(|| libm::log(ratio) / self.decay)
    }
}

/// One thing that is given every year.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct YearlyGift {
    /// What it is.
    pub kind: Addition,
    /// Its organic matter, dry: not the weight of the heap.
    pub organic_t_ha: YearlyAddition,
    /// Share of it that becomes humus; the usual one of its kind where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub humified_share: Option<HumifiedShare>,
}

/// Input of `organic-matter-budget`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BudgetInput {
    /// Organic matter now.
    pub organic_matter_percent: OrganicNow,
    /// Share lost in a year, from `organic-matter-decay`.
    pub decay_per_year: YearlyDecay,
    /// Density of the layer.
    pub bulk_density_g_cm3: FineEarthDensity,
    /// Its depth.
    pub depth_cm: MixedDepth,
    /// What it is given every year.
    pub gifts: Vec<YearlyGift>,
    /// Years to look ahead.
    pub years: YearsOfBudget,
    /// What is wanted; without it no time is given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wanted_percent: Option<OrganicWanted>,
}

/// Output of `organic-matter-budget`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct BudgetOutput {
    /// Dry mass of the layer.
    pub layer_t_ha: f64,
    /// Humus lost in the first year.
    pub lost_first_year_t_ha: f64,
    /// Humus gained in a year.
    pub gained_t_ha: f64,
    /// Organic matter at the start and after each year.
    pub course_percent: Vec<f64>,
    /// Where it settles if this goes on.
    pub settles_at_percent: f64,
    /// Years until what is wanted; none where this never reaches it.
    pub years_to_wanted: Option<f64>,
    /// Humus that must be gained in a year to keep what there is.
    pub to_keep_t_ha: f64,
}

/// Organic-matter budget.
pub struct OrganicMatterBudget;

fn gained_t_ha(gifts: &[YearlyGift]) -> f64 {
    gifts
        .iter()
        .map(|gift| {
            gift.organic_t_ha.get() * gift.humified_share.map_or_else(|| gift.kind.usual(), Bounded::get)
        })
        .sum()
}

impl Method for OrganicMatterBudget {
    type Input = BudgetInput;
    type Output = BudgetOutput;

    const CARD: Card = Card {
        name: "organic-matter-budget",
        title: "Organic matter over the years",
        topic: Topic::Structure,
        computes: "Organic matter year by year under steady additions, where it settles, and how long a wanted level takes. \
                   A cover crop alone moves it by hundredths of a percent a year, which no test can see before years have passed.",
        validity: &[
            "One pool of humus in one layer, the same additions each year; tillage depth and density unchanged.",
            "The share that becomes humus is known to a third at best: read the answer as a direction and a pace.",
        ],
        sources: &[
            Cite::new("HeninDupuis1945", "balance of gain and loss"),
            Cite::new("MagdoffVanEs2009", "long-run level under steady residues"),
        ],
        cautions: &[
            "Compost and manure carry phosphorus, salts and sometimes metals or herbicide: test before years of heavy use, and keep local rules on rates, seasons and distances.",
        ],
    };

    fn example() -> Self::Input {
        BudgetInput {
            organic_matter_percent: OrganicNow::literal(2.0),
            decay_per_year: YearlyDecay::literal(0.02),
            bulk_density_g_cm3: FineEarthDensity::literal(1.3),
            depth_cm: MixedDepth::literal(17.0),
            gifts: vec![YearlyGift {
                kind: Addition::Compost,
                organic_t_ha: YearlyAddition::literal(5.0),
                humified_share: None,
            }],
            years: YearsOfBudget::literal(10.0),
            wanted_percent: Some(OrganicWanted::literal(3.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        if input.gifts.len() > 20 {
            return Err(Refusal::new("gifts", format!("{} kinds of addition were given", input.gifts.len()))
                .given(input.gifts.len())
                .accepted("up to 20")
                .example("1"));
        }
        let layer = layer_t_ha(input.bulk_density_g_cm3.get(), input.depth_cm.get());
        let gained = gained_t_ha(&input.gifts);
        let budget = Budget {
            now_percent: input.organic_matter_percent.get(),
            decay: input.decay_per_year.get(),
            gain_percent: 100.0 * gained / layer,
        };
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded to 100 years")]
        let years = input.years.get() as u32;
        let lost = budget.now_percent / 100.0 * layer * budget.decay;
        let years_to_wanted = input.wanted_percent.and_then(|wanted| budget.years_to(wanted.get()));
        let mut notes = vec![Note::new(
            NoteKind::Provenance,
            "Most shares that become humus are recalled, with a range of a quarter to a half of themselves.",
        )];
        if input.wanted_percent.is_some() && years_to_wanted.is_none() {
            notes.insert(
                0,
                Note::new(
                    NoteKind::NoValue,
                    format!(
                        "These additions never reach what is wanted: they settle at {:.1} %.",
                        budget.settles_at_percent()
                    ),
                ),
            );
        }
        Ok(Answer::with_notes(
            BudgetOutput {
                layer_t_ha: layer,
                lost_first_year_t_ha: lost,
                gained_t_ha: gained,
                course_percent: (0..=years).map(|year| budget.after(f64::from(year))).collect(),
                settles_at_percent: budget.settles_at_percent(),
                years_to_wanted,
                to_keep_t_ha: lost,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let v = &answer.value;
        Working::new()
            .step(
                "dry mass of the layer",
                "100 × density × depth in cm",
                format!("100 × {} × {}", input.bulk_density_g_cm3.get(), input.depth_cm.get()),
                format!("{:.0} t/ha", v.layer_t_ha),
            )
            .step(
                "lost in the first year",
                "organic matter × mass × share lost",
                format!(
                    "{} % × {:.0} × {}",
                    input.organic_matter_percent.get(),
                    v.layer_t_ha,
                    input.decay_per_year.get()
                ),
                format!("{:.2} t/ha", v.lost_first_year_t_ha),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "where it settles",
                "humus gained in a year / (mass × share lost)",
                format!("{:.2} / ({:.0} × {})", v.gained_t_ha, v.layer_t_ha, input.decay_per_year.get()),
                format!("{:.2} %", v.settles_at_percent),
            )
            .cite(Self::CARD.sources[1])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_time_to_a_level_leads_to_that_level(now in 0.5..8.0_f64, decay in 0.005..0.1_f64, gain in 0.0..0.5_f64, part in 0.05..0.95_f64) {
            let budget = Budget { now_percent: now, decay, gain_percent: gain };
            let level = budget.settles_at_percent();
            prop_assume!((level - now).abs() > 0.01);
            let wanted = now + part * (level - now);
            let years = budget.years_to(wanted).unwrap();
            prop_assert!((budget.after(years) - wanted).abs() < 1e-9);
            prop_assert_eq!(budget.years_to(level + (level - now)), None);
        }
    }
}

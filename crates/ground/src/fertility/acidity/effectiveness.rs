//! How much of a liming material works: by calcium carbonate equivalent alone, or by fineness too, as each
//! system has it.
//!
//! # Method
//! Each system weighs the share between two sieves by how much of it dissolves in time. A score contains the
//! calcium carbonate equivalent already, and some contain the moisture: [`Effect`] says which.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::quantity::{CarbonateEquivalent, MaterialMoisture, PassingPercent};
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Provenance, Refusal, Topic, Working};

/// A way to reckon what a liming material is worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum EffectivenessSystem {
    /// Calcium carbonate equivalent alone.
    CarbonateEquivalent,
    /// Effective neutralizing value, New York.
    NewYorkEnv,
    /// Relative neutralizing value, Mississippi and Kentucky.
    MississippiRnv,
    /// Effective neutralizing power, Minnesota and neighbours.
    MidwestEnp,
    /// Effective calcium carbonate equivalent, Iowa.
    IowaEcce,
    /// Lime score, Oregon.
    OregonScore,
    /// Agricultural index, Ontario.
    OntarioIndex,
}

/// Sieves of a fineness analysis, openings an inch.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Fineness {
    /// Passing a 4-mesh sieve.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub passing_4_percent: Option<PassingPercent>,
    /// Passing an 8-mesh sieve.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub passing_8_percent: Option<PassingPercent>,
    /// Passing a 10-mesh sieve.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub passing_10_percent: Option<PassingPercent>,
    /// Passing a 20-mesh sieve.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub passing_20_percent: Option<PassingPercent>,
    /// Passing a 40-mesh sieve.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub passing_40_percent: Option<PassingPercent>,
    /// Passing a 50-mesh sieve.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub passing_50_percent: Option<PassingPercent>,
    /// Passing a 60-mesh sieve.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub passing_60_percent: Option<PassingPercent>,
    /// Passing a 100-mesh sieve.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub passing_100_percent: Option<PassingPercent>,
}

/// Meshes of [`Fineness`], coarse first.
pub const MESHES: [u16; 8] = [4, 8, 10, 20, 40, 50, 60, 100];

impl Fineness {
    fn each(&self) -> [Option<f64>; 8] {
        [
            self.passing_4_percent,
            self.passing_8_percent,
            self.passing_10_percent,
            self.passing_20_percent,
            self.passing_40_percent,
            self.passing_50_percent,
            self.passing_60_percent,
            self.passing_100_percent,
        ]
        .map(|one| one.map(Bounded::get))
    }

    /// Share passing a sieve of [`MESHES`], percent, where it was measured.
    #[must_use]
    pub fn passing(&self, mesh: u16) -> Option<f64> {
        self.each()[MESHES.iter().position(|known| *known == mesh)?]
    }

    /// Sets the share passing a sieve; a sieve no system here asks for is left out.
    pub fn set(&mut self, mesh: u16, percent: PassingPercent) {
        let place = match mesh {
            4 => &mut self.passing_4_percent,
            8 => &mut self.passing_8_percent,
            10 => &mut self.passing_10_percent,
            20 => &mut self.passing_20_percent,
            40 => &mut self.passing_40_percent,
            50 => &mut self.passing_50_percent,
            60 => &mut self.passing_60_percent,
            100 => &mut self.passing_100_percent,
            _ => return,
        };
        *place = Some(percent);
    }
}

/// A liming material as a label tells it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LimingMaterial {
    /// Calcium carbonate equivalent, percent of the dry material.
    pub carbonate_equivalent_percent: f64,
    /// Water, percent of the material as sold.
    pub moisture_percent: f64,
    /// Its fineness.
    pub fineness: Fineness,
}

/// What a material is worth in a system.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Effect {
    /// Share of a weight of it, as sold, that works like pure fine calcium carbonate, percent.
    pub as_sold_percent: f64,
    /// The figure as the system itself prints it, percent; without moisture where the system leaves it out.
    pub printed_percent: f64,
    /// Does the printed figure count moisture?
    pub counts_moisture: bool,
    /// Does it count fineness?
    pub counts_fineness: bool,
}

/// One fraction of a system: passing `passes`, held by `held_by` (0: nothing held), and its factor.
type Part = (u16, u16, f64);

impl EffectivenessSystem {
    /// Every system.
    pub const ALL: [Self; 7] = [
        Self::CarbonateEquivalent,
        Self::NewYorkEnv,
        Self::MississippiRnv,
        Self::MidwestEnp,
        Self::IowaEcce,
        Self::OregonScore,
        Self::OntarioIndex,
    ];

    /// What the figure is called.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::CarbonateEquivalent => "calcium carbonate equivalent",
            Self::NewYorkEnv => "effective neutralizing value (New York)",
            Self::MississippiRnv => "relative neutralizing value (Mississippi, Kentucky)",
            Self::MidwestEnp => "effective neutralizing power (Minnesota, Ohio, Michigan)",
            Self::IowaEcce => "effective calcium carbonate equivalent (Iowa)",
            Self::OregonScore => "lime score (Oregon)",
            Self::OntarioIndex => "agricultural index (Ontario)",
        }
    }

    fn parts(self) -> &'static [Part] {
        match self {
            Self::CarbonateEquivalent => &[],
            Self::NewYorkEnv => &[(20, 60, 0.4), (60, 100, 0.8), (100, 0, 1.0)],
            Self::MississippiRnv => &[(10, 50, 0.5), (50, 0, 1.0)],
            Self::MidwestEnp => &[(8, 20, 0.2), (20, 60, 0.6), (60, 0, 1.0)],
            // Printed as 0.1 of all that passes 4, 0.3 of all that passes 8, 0.6 of all that passes 60.
            Self::IowaEcce => &[(4, 8, 0.1), (8, 60, 0.4), (60, 0, 1.0)],
            Self::OregonScore => &[(10, 20, 0.3), (20, 40, 0.6), (40, 0, 1.0)],
            Self::OntarioIndex => &[(10, 60, 0.4), (60, 0, 1.0)],
        }
    }

    fn counts_moisture(self) -> bool {
        matches!(self, Self::MidwestEnp | Self::IowaEcce | Self::OregonScore)
    }

    /// How its factors reached this project.
    #[must_use]
    pub fn provenance(self) -> Provenance {
        match self {
            Self::CarbonateEquivalent => Provenance::Computed,
            Self::NewYorkEnv | Self::MississippiRnv => Provenance::Read,
            _ => Provenance::Recalled,
        }
    }

    fn cite(self) -> Cite {
        match self {
            Self::CarbonateEquivalent => {
                Cite::new("PennStateGardenLime", "rate for lime of another strength")
            }
            Self::NewYorkEnv => Cite::new("CornellLimeStudy", "effective neutralizing value"),
            Self::MississippiRnv => Cite::new("Mississippi1584", "relative neutralizing value"),
            Self::MidwestEnp => Cite::new("MinnesotaLime", "effective neutralizing power"),
            Self::IowaEcce => Cite::new("IowaPm1688", "effective calcium carbonate equivalent"),
            Self::OregonScore => Cite::new("OregonEm9057", "lime score"),
            Self::OntarioIndex => Cite::new("OntarioLime", "agricultural index"),
        }
    }

    /// What a material is worth; the first sieve that is missing otherwise.
    ///
    /// # Errors
    /// The mesh of a sieve that the system asks for and the material's analysis has not.
    pub fn effect(self, material: &LimingMaterial) -> Result<Effect, u16> {
        let mut works = if self.parts().is_empty() { 1.0 } else { 0.0 };
        for (passes, held_by, factor) in self.parts() {
            let from = material.fineness.passing(*passes).ok_or(*passes)?;
            let held =
                if *held_by == 0 { 0.0 } else { material.fineness.passing(*held_by).ok_or(*held_by)? };
            works += factor * (from - held).max(0.0) / 100.0;
        }
        let dry = material.carbonate_equivalent_percent * works;
        let as_sold_percent = dry * (1.0 - material.moisture_percent / 100.0);
        let counts_moisture = self.counts_moisture();
        Ok(Effect {
            as_sold_percent,
            printed_percent: if counts_moisture { as_sold_percent } else { dry },
            counts_moisture,
            counts_fineness: !self.parts().is_empty(),
        })
    }
}

/// Input of `lime-effectiveness`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LimeEffectivenessInput {
    /// The system.
    pub system: EffectivenessSystem,
    /// Calcium carbonate equivalent of the dry material.
    pub carbonate_equivalent_percent: CarbonateEquivalent,
    /// Moisture as sold.
    pub moisture_percent: MaterialMoisture,
    /// Fineness; sieves the system does not ask for may be left out.
    #[serde(default)]
    pub fineness: Fineness,
}

/// Output of `lime-effectiveness`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct LimeEffectivenessOutput {
    /// What it is worth.
    #[serde(flatten)]
    pub effect: Effect,
    /// The printed figure as pounds a ton, as some systems tell it.
    pub printed_lb_per_ton: f64,
}

/// Refuses sieves whose shares rise with fineness, and a sieve that the system asks for and lacks.
pub(super) fn checked(system: EffectivenessSystem, material: &LimingMaterial) -> Result<Effect, Refusal> {
    let mut last: Option<(u16, f64)> = None;
    for mesh in MESHES {
        let Some(share) = material.fineness.passing(mesh) else { continue };
        if let Some((coarser, more)) = last
            && share > more + 1e-9
        {
            return Err(Refusal::new(
                format!("fineness.passing_{mesh}_percent"),
                format!(
                    "{} % cannot pass {mesh} mesh where only {} % pass the coarser {coarser} mesh",
                    number(share),
                    number(more)
                ),
            )
            .given(format!("{} %", number(share)))
            .accepted(format!("0 to {} %", number(more)))
            .example(format!("{} %", number(more))));
        }
        last = Some((mesh, share));
    }
    system.effect(material).map_err(|mesh| {
        Refusal::new(
            format!("fineness.passing_{mesh}_percent"),
            format!("{} needs the share that passes a sieve of {mesh} mesh", system.words()),
        )
        .given("nothing")
        .accepted("0 to 100 %")
        .example("90 %")
    })
}

/// Effectiveness of a liming material.
pub struct LimeEffectiveness;

impl Method for LimeEffectiveness {
    type Input = LimeEffectivenessInput;
    type Output = LimeEffectivenessOutput;

    const CARD: Card = Card {
        name: "lime-effectiveness",
        title: "What a liming material is worth",
        topic: Topic::Fertility,
        computes: "The share of a liming material that works like pure fine calcium carbonate, from its calcium carbonate \
                   equivalent, its fineness by sieves and its moisture, in the system that a lime rate was published for.",
        validity: &[
            "Take the system that belongs to the lime method: a score of one state is no score of another.",
            "A score holds the calcium carbonate equivalent already: never correct for both.",
            "Pure materials: limestone 100, dolomite 108.5, magnesium carbonate 119, hydrated lime 135, burnt lime 178 %.",
        ],
        sources: &[
            Cite::new("CornellLimeStudy", "effective neutralizing value"),
            Cite::new("Mississippi1584", "relative neutralizing value"),
            Cite::new("MinnesotaLime", "effective neutralizing power"),
            Cite::new("IowaPm1688", "effective calcium carbonate equivalent"),
            Cite::new("OregonEm9057", "lime score"),
            Cite::new("OntarioLime", "agricultural index"),
        ],
        cautions: super::basis::LIME_CAUTIONS,
    };

    fn example() -> Self::Input {
        let mut fineness = Fineness::default();
        for (mesh, percent) in [(20, 98.0), (60, 80.0), (100, 65.0)] {
            fineness.set(mesh, PassingPercent::literal(percent));
        }
        LimeEffectivenessInput {
            system: EffectivenessSystem::NewYorkEnv,
            carbonate_equivalent_percent: CarbonateEquivalent::literal(95.0),
            moisture_percent: MaterialMoisture::literal(0.0),
            fineness,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let effect = checked(input.system, &material(input))?;
        let mut notes = Vec::new();
        if input.system.provenance() == Provenance::Recalled {
            notes.push(super::basis::recalled("The factors of this system"));
        }
        if !effect.counts_fineness {
            notes.push(Note::new(
                NoteKind::Method,
                "Fineness is not counted: coarse stone works for years and little of it in the first.",
            ));
        }
        let printed_lb_per_ton = 20.0 * effect.printed_percent;
        Ok(Answer::with_notes(LimeEffectivenessOutput { effect, printed_lb_per_ton }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let parts: Vec<String> = input
            .system
            .parts()
            .iter()
            .map(|(passes, held_by, factor)| {
                let from = input.fineness.passing(*passes).unwrap_or(0.0);
                let held = input.fineness.passing(*held_by).unwrap_or(0.0);
                format!("{factor} × ({} − {})", number(from), number(held))
            })
            .collect();
        let works = if parts.is_empty() { "100".to_owned() } else { parts.join(" + ") };
        Working::new()
            .step(
                "share that works",
                "calcium carbonate equivalent × Σ factor × (passing − passing the next sieve), less moisture",
                format!(
                    "{}/100 × ({works}) × (1 − {}/100)",
                    number(input.carbonate_equivalent_percent.get()),
                    number(input.moisture_percent.get())
                ),
                format!("{:.1} % as sold", answer.value.effect.as_sold_percent),
            )
            .cite(input.system.cite())
    }
}

fn material(input: &LimeEffectivenessInput) -> LimingMaterial {
    LimingMaterial {
        carbonate_equivalent_percent: input.carbonate_equivalent_percent.get(),
        moisture_percent: input.moisture_percent.get(),
        fineness: input.fineness,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finer_is_worth_more_and_never_more_than_its_carbonate() {
        let all = |percent: f64| {
            let mut fineness = Fineness::default();
            for mesh in MESHES {
                fineness.set(mesh, PassingPercent::literal(percent));
            }
            LimingMaterial { carbonate_equivalent_percent: 90.0, moisture_percent: 0.0, fineness }
        };
        for system in EffectivenessSystem::ALL {
            let fine = system.effect(&all(100.0)).unwrap().as_sold_percent;
            let coarse = system.effect(&all(50.0)).unwrap().as_sold_percent;
            assert!((fine - 90.0).abs() < 1e-9, "{system:?} {fine}");
            assert!(coarse <= fine, "{system:?}");
        }
    }

    #[test]
    fn a_missing_sieve_is_named() {
        let bare = LimingMaterial {
            carbonate_equivalent_percent: 90.0,
            moisture_percent: 0.0,
            fineness: Fineness::default(),
        };
        let refusal = checked(EffectivenessSystem::OregonScore, &bare).unwrap_err();
        assert_eq!(refusal.field, "fineness.passing_10_percent");
        assert!(checked(EffectivenessSystem::CarbonateEquivalent, &bare).is_ok());
    }
}

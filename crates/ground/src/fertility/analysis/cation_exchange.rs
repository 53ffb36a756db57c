//! Cation exchange capacity by summation, and the shares of the bases.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::oxides::Cation;
use super::report::FreeLime;
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Exchangeable or extractable potassium.
    pub struct PotassiumPpm: "potassium", "ppm", 0.0 ..= 20_000.0, example 110.0;
    /// Exchangeable or extractable calcium.
    pub struct CalciumPpm: "calcium", "ppm", 0.0 ..= 50_000.0, example 900.0;
    /// Exchangeable or extractable magnesium.
    pub struct MagnesiumPpm: "magnesium", "ppm", 0.0 ..= 20_000.0, example 100.0;
    /// Exchangeable or extractable sodium.
    pub struct SodiumPpm: "sodium", "ppm", 0.0 ..= 50_000.0, example 15.0;
    /// Exchangeable acidity.
    pub struct AcidityMeq: "exchangeable acidity", "meq/100 g", 0.0 ..= 60.0, example 2.4;
    /// pH of the buffer with the soil in it.
    pub struct AcidityBufferPh: "buffer pH", "", 3.0 ..= 8.0, example 7.7;
    /// pH in water.
    pub struct ExchangePh: "pH in water", "", 2.0 ..= 11.5, example 6.2;
}

/// Where the acidity on the exchange sites comes from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Acidity {
    /// The report gives it.
    ReportedMeq(AcidityMeq),
    /// Adams-Evans buffer, or one made to read like it.
    AdamsEvans(AcidityBufferPh),
    /// Mehlich buffer as in North Carolina; per 100 cm³ there.
    Mehlich(AcidityBufferPh),
    /// SMP buffer, or Sikora.
    Smp(AcidityBufferPh),
}

/// pH above which calcium from free lime swells the sum.
pub const SUM_HOLDS_BELOW_PH: f64 = 7.2;

impl Acidity {
    /// Acidity, meq/100 g; never below zero.
    #[must_use]
    pub fn meq(self) -> f64 {
        match self {
            Self::ReportedMeq(meq) => meq.get(),
            Self::AdamsEvans(ph) => 8.0 * (8.0 - ph.get()),
            Self::Mehlich(ph) => 4.0 * (6.6 - ph.get()),
            Self::Smp(ph) => 12.0 * (7.0 - ph.get()),
        }
        .max(0.0)
    }

    /// The rule and where it stands.
    #[must_use]
    pub fn rule(self) -> (&'static str, Option<Cite>) {
        match self {
            Self::ReportedMeq(_) => ("as the report gives it", None),
            Self::AdamsEvans(_) => {
                ("8 × (8.00 - buffer pH)", Some(Cite::new("ClemsonCec", "acidity from the buffer")))
            }
            Self::Mehlich(_) => {
                ("4 × (6.6 - buffer pH)", Some(Cite::new("NcdaSoilTest", "buffer acidity Ac")))
            }
            Self::Smp(_) => ("12 × (7.0 - buffer pH)", Some(Cite::new("SmpAcidityNote", "acidity from SMP"))),
        }
    }
}

/// Input of `cation-exchange-summation`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SummationInput {
    /// Potassium.
    pub potassium_ppm: PotassiumPpm,
    /// Calcium.
    pub calcium_ppm: CalciumPpm,
    /// Magnesium.
    pub magnesium_ppm: MagnesiumPpm,
    /// Sodium; left out of the sum where it was not measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sodium_ppm: Option<SodiumPpm>,
    /// Acidity.
    pub acidity: Acidity,
    /// pH in water; the sum does not hold above 7.2.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ph_water: Option<ExchangePh>,
    /// Did the soil fizz with acid?
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub free_lime: Option<FreeLime>,
    /// Was lime or gypsum spread in the months before sampling?
    #[serde(default)]
    pub limed_lately: bool,
}

/// Output of `cation-exchange-summation`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SummationOutput {
    /// Capacity.
    pub cec_meq_100_g: f64,
    /// Acidity.
    pub acidity_meq_100_g: f64,
    /// Potassium.
    pub potassium_meq_100_g: f64,
    /// Calcium.
    pub calcium_meq_100_g: f64,
    /// Magnesium.
    pub magnesium_meq_100_g: f64,
    /// Sodium.
    pub sodium_meq_100_g: f64,
    /// Share of the bases together.
    pub base_saturation_percent: f64,
    /// Share of potassium.
    pub potassium_percent: f64,
    /// Share of calcium.
    pub calcium_percent: f64,
    /// Share of magnesium.
    pub magnesium_percent: f64,
    /// Share of sodium.
    pub sodium_percent: f64,
    /// Does the sum hold? Not in soil with free lime.
    pub holds: bool,
}

/// What stands against reading base saturation as a recipe.
pub const NO_IDEAL_RATIO: &str = "Ratios of calcium, magnesium and potassium are no recipe: controlled trials found no yield in \
an ideal ratio (recalled: Kopittke and Menzies, 2007). Read the shares for shortages of potassium and magnesium, and for sodium.";

/// The sum and its shares.
///
/// # Errors
/// Nothing at all sits on the sites.
pub fn summation(input: &SummationInput) -> Result<(SummationOutput, Vec<Note>), Refusal> {
    let meq = |cation: Cation, ppm: f64| ppm / cation.ppm_per_meq();
    let k = meq(Cation::Potassium, input.potassium_ppm.get());
    let ca = meq(Cation::Calcium, input.calcium_ppm.get());
    let mg = meq(Cation::Magnesium, input.magnesium_ppm.get());
    let na = meq(Cation::Sodium, input.sodium_ppm.map_or(0.0, Bounded::get));
    let acidity = input.acidity.meq();
    let cec = k + ca + mg + na + acidity;
    if cec <= 0.0 {
        return Err(Refusal::new(
            "calcium_ppm",
            "bases and acidity are all zero, so there is no capacity to share out",
        )
        .given("0")
        .accepted("at least one of them above zero")
        .example(900));
    }
    let share = |part: f64| 100.0 * part / cec;
    let mut notes = Vec::new();
    let mut holds = true;
    let fizzes = matches!(input.free_lime, Some(FreeLime::Slight | FreeLime::Strong));
    if fizzes || input.ph_water.is_some_and(|ph| ph.get() > SUM_HOLDS_BELOW_PH) {
        holds = false;
        notes.push(Note::new(
            NoteKind::NoValue,
            "Not valid here: above pH 7.2 or where soil fizzes, the extract dissolves free lime, and its calcium swells the \
             sum. Ask the laboratory for a capacity by displacement.",
        ));
    }
    if input.limed_lately {
        holds = false;
        notes.push(Note::new(
            NoteKind::NoValue,
            "Lime or gypsum spread lately is dissolved by the extract and swells the sum.",
        ));
    }
    if input.sodium_ppm.is_none() {
        notes.push(Note::new(NoteKind::Method, "Sodium was not measured and is left out of the sum."));
    }
    match input.acidity {
        Acidity::Mehlich(_) => notes.push(Note::new(
            NoteKind::Method,
            "This buffer's acidity is per 100 cm³ of scooped soil; it is added as if per 100 g, which is right to the density \
             of the scoop.",
        )),
        Acidity::Smp(_) => notes.push(Note::new(
            NoteKind::Provenance,
            "Acidity from the SMP buffer rests on a note of one commercial laboratory: weak.",
        )),
        Acidity::ReportedMeq(_) | Acidity::AdamsEvans(_) => {}
    }
    notes.push(Note::new(NoteKind::Method, NO_IDEAL_RATIO));
    let bases = k + ca + mg + na;
    Ok((
        SummationOutput {
            cec_meq_100_g: cec,
            acidity_meq_100_g: acidity,
            potassium_meq_100_g: k,
            calcium_meq_100_g: ca,
            magnesium_meq_100_g: mg,
            sodium_meq_100_g: na,
            base_saturation_percent: share(bases),
            potassium_percent: share(k),
            calcium_percent: share(ca),
            magnesium_percent: share(mg),
            sodium_percent: share(na),
            holds,
        },
        notes,
    ))
}

/// Cation exchange capacity by summation.
pub struct CationExchangeSummation;

impl Method for CationExchangeSummation {
    type Input = SummationInput;
    type Output = SummationOutput;

    const CARD: Card = Card {
        name: "cation-exchange-summation",
        title: "Cation exchange capacity by summation",
        topic: Topic::Fertility,
        computes: "The capacity of the soil to hold potassium, calcium, magnesium and sodium, as the sum of what it holds and \
                   of its acidity, with the share of each.",
        validity: &[
            "Soils without free lime, at pH 7.2 or below, not limed in the months before sampling.",
            "Acidity by the rule of the buffer that the laboratory used; buffers are not interchangeable.",
        ],
        sources: &[
            Cite::new("ClemsonCec", "CEC calculations"),
            Cite::new("NcdaSoilTest", "buffer acidity Ac"),
            Cite::new("KopittkeMenzies2007", "ideal ratios"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        SummationInput {
            potassium_ppm: PotassiumPpm::literal(110.5),
            calcium_ppm: CalciumPpm::literal(200.0),
            magnesium_ppm: MagnesiumPpm::literal(14.0),
            sodium_ppm: Some(SodiumPpm::literal(6.0)),
            acidity: Acidity::AdamsEvans(AcidityBufferPh::literal(7.7)),
            ph_water: Some(ExchangePh::literal(5.1)),
            free_lime: None,
            limed_lately: false,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (output, notes) = summation(input)?;
        Ok(Answer::with_notes(output, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let out = &answer.value;
        let (rule, source) = input.acidity.rule();
        let mut working =
            Working::new().step("acidity", rule, rule, format!("{:.2} meq/100 g", out.acidity_meq_100_g));
        if let Some(source) = source {
            working = working.cite(source);
        }
        working
            .step(
                "capacity",
                "K/391 + Ca/200.4 + Mg/121.5 + Na/230 + acidity, ppm and meq/100 g",
                format!(
                    "{}/391 + {}/200.4 + {}/121.5 + {}/230 + {:.2}",
                    number(input.potassium_ppm.get()),
                    number(input.calcium_ppm.get()),
                    number(input.magnesium_ppm.get()),
                    number(input.sodium_ppm.map_or(0.0, Bounded::get)),
                    out.acidity_meq_100_g
                ),
                format!("{:.2} meq/100 g", out.cec_meq_100_g),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "base saturation",
                "100 × (K + Ca + Mg + Na) / capacity",
                format!("100 × {:.2} / {:.2}", out.cec_meq_100_g - out.acidity_meq_100_g, out.cec_meq_100_g),
                format!("{:.0} %", out.base_saturation_percent),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn free_lime_and_high_ph_spoil_the_sum() {
        let mut input = CationExchangeSummation::example();
        assert!(summation(&input).unwrap().0.holds);
        input.free_lime = Some(FreeLime::Slight);
        assert!(!summation(&input).unwrap().0.holds);
        input.free_lime = Some(FreeLime::None);
        input.ph_water = Some(ExchangePh::literal(7.3));
        assert!(!summation(&input).unwrap().0.holds);
        input.ph_water = Some(ExchangePh::literal(7.2));
        assert!(summation(&input).unwrap().0.holds);
        input.limed_lately = true;
        assert!(!summation(&input).unwrap().0.holds);
    }

    #[test]
    fn the_buffers_own_start_means_no_acidity() {
        for acidity in [
            Acidity::AdamsEvans(AcidityBufferPh::literal(8.0)),
            Acidity::Mehlich(AcidityBufferPh::literal(6.9)),
            Acidity::Smp(AcidityBufferPh::literal(7.4)),
        ] {
            assert_eq!(acidity.meq(), 0.0);
        }
    }
}

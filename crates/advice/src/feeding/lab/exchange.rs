//! Exchange capacity and the shares of the bases, by the report and by summation.

use ground::fertility::analysis::cation_exchange::{
    Acidity, AcidityBufferPh, AcidityMeq, CalciumPpm, CationExchangeSummation, ExchangePh, MagnesiumPpm,
    NO_IDEAL_RATIO, PotassiumPpm, SUM_HOLDS_BELOW_PH, SodiumPpm, SummationInput, SummationOutput,
};
use ground::fertility::analysis::in_ppm::ppm_factor;
use ground::fertility::analysis::report::{Analyte, FreeLime, LabReport, Procedure, ReportUnit};
use ground::kit::{Answer, Bounded, Method, Working};
use serde::Serialize;

/// Exchange capacity and base saturation.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ExchangeRead {
    /// What the report prints of it, in words.
    pub printed: Vec<String>,
    /// By summation, where it can be worked out.
    pub summed: Option<SummationOutput>,
    /// Whether what is shown holds: not in soil with free lime.
    pub holds: bool,
    /// Why it was not summed.
    pub not_summed: Option<String>,
    /// What should be known of it.
    pub caveats: Vec<String>,
    /// The steps.
    pub working: Working,
}

/// Reads the exchange sites of a report; `None` where it says nothing of them.
#[must_use]
pub fn read(report: &LabReport) -> Option<ExchangeRead> {
    const PRINTED: [Analyte; 8] = [
        Analyte::Cec,
        Analyte::ExchangeableAcidity,
        Analyte::BaseSaturation,
        Analyte::CalciumSaturation,
        Analyte::MagnesiumSaturation,
        Analyte::PotassiumSaturation,
        Analyte::SodiumSaturation,
        Analyte::AciditySaturation,
    ];
    let printed: Vec<String> = PRINTED
        .iter()
        .flat_map(|analyte| report.of(*analyte))
        .map(|figure| {
            format!("{} {}", figure.analyte.words(), super::figure::with_symbol(figure.amount, figure.unit))
        })
        .collect();
    let bases = [Analyte::Potassium, Analyte::Calcium, Analyte::Magnesium];
    if printed.is_empty() && bases.iter().all(|analyte| report.first(*analyte).is_none()) {
        return None;
    }
    let ph = report.first(Analyte::PhWater).and_then(|figure| figure.amount.exactly());
    let fizzes = matches!(report.free_lime, Some(FreeLime::Slight | FreeLime::Strong));
    let limy = fizzes || ph.is_some_and(|ph| ph > SUM_HOLDS_BELOW_PH);
    match input(report, ph) {
        Ok(input) => match CationExchangeSummation::compute(&input) {
            Ok(answer) => {
                let working = CationExchangeSummation::working(&input, &answer);
                let Answer { value, notes } = answer;
                Some(ExchangeRead {
                    printed,
                    holds: value.holds,
                    summed: Some(value),
                    not_summed: None,
                    caveats: notes.into_iter().map(|note| note.text).collect(),
                    working,
                })
            }
            Err(refusal) => Some(unsummed(printed, limy, refusal.message)),
        },
        Err(why) => Some(unsummed(printed, limy, why)),
    }
}

fn unsummed(printed: Vec<String>, limy: bool, why: String) -> ExchangeRead {
    let mut caveats = vec![NO_IDEAL_RATIO.to_owned()];
    if limy {
        caveats.insert(
            0,
            "Above pH 7.2 or where soil fizzes, a capacity by summation is swollen by free lime: it is not valid.".to_owned(),
        );
    }
    ExchangeRead {
        printed,
        summed: None,
        holds: !limy,
        not_summed: Some(crate::words::capital(&why)),
        caveats,
        working: Working::new(),
    }
}

fn input(report: &LabReport, ph: Option<f64>) -> Result<SummationInput, String> {
    let ppm = |analyte: Analyte| -> Result<f64, String> {
        let words = analyte.words();
        let figure = report.first(analyte).ok_or(format!("the report has no {words}, so there is no sum"))?;
        let value =
            figure.amount.exactly().ok_or(format!("{words} is told only as a limit, so there is no sum"))?;
        let (factor, _) = ppm_factor(
            figure,
            report.basis_depth_cm.map(Bounded::get),
            report.density_g_cm3.map(Bounded::get),
        )
        .ok_or(format!("{words} stands in {}, which has no ppm", figure.unit.words()))?;
        Ok(factor * value)
    };
    fn quantity<Q: Bounded>(value: f64) -> Result<Q, String> {
        Q::new(value).map_err(|error| error.to_string())
    }
    let sodium_ppm = match report.first(Analyte::Sodium) {
        Some(_) => ppm(Analyte::Sodium).ok().map(quantity::<SodiumPpm>).transpose()?,
        None => None,
    };
    Ok(SummationInput {
        potassium_ppm: quantity::<PotassiumPpm>(ppm(Analyte::Potassium)?)?,
        calcium_ppm: quantity::<CalciumPpm>(ppm(Analyte::Calcium)?)?,
        magnesium_ppm: quantity::<MagnesiumPpm>(ppm(Analyte::Magnesium)?)?,
        sodium_ppm,
        acidity: acidity(report, ph)?,
        ph_water: ph.map(quantity::<ExchangePh>).transpose()?,
        free_lime: report.free_lime,
        limed_lately: false,
    })
}

fn acidity(report: &LabReport, ph: Option<f64>) -> Result<Acidity, String> {
    if let Some(figure) = report.first(Analyte::ExchangeableAcidity)
        && let Some(meq) = figure.amount.exactly()
        && let Ok(meq) = AcidityMeq::new(meq)
    {
        return Ok(Acidity::ReportedMeq(meq));
    }
    // Little acidity is left above pH 7; buffers read it as none.
    if ph.is_some_and(|ph| ph >= 7.0) {
        return Ok(Acidity::ReportedMeq(AcidityMeq::literal(0.0)));
    }
    let Some(figure) = report.buffer() else {
        return Err("the report gives neither acidity nor a buffer pH, so there is no sum".to_owned());
    };
    let value = figure.amount.exactly().ok_or("the buffer pH is told only as a limit".to_owned())?;
    let ph = if figure.unit == ReportUnit::Index { value / 10.0 } else { value };
    let ph = AcidityBufferPh::new(ph).map_err(|error| error.to_string())?;
    match figure.procedure {
        Procedure::AdamsEvans | Procedure::ModifiedAdamsEvans | Procedure::MooreSikora => {
            Ok(Acidity::AdamsEvans(ph))
        }
        Procedure::Mehlich => Ok(Acidity::Mehlich(ph)),
        Procedure::Smp | Procedure::Sikora => Ok(Acidity::Smp(ph)),
        other => Err(format!(
            "no rule is held here for the acidity by the {}, and buffers are not interchangeable",
            other.words()
        )),
    }
}

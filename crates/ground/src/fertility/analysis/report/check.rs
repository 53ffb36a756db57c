//! What a report may not say.

use super::{Amount, Analyte, LabFigure, LabReport, MOST_FIGURES, Procedure, ReportUnit};
use crate::kit::Refusal;
use crate::kit::quantity::{number, with_unit};

/// Longest text on a report.
const MOST_CHARACTERS: usize = 200;

impl LabReport {
    /// Checks what the types cannot: each figure against its unit and procedure, and against the others.
    ///
    /// # Errors
    /// The first figure that is refused, with its place.
    pub fn check(&self) -> Result<(), Refusal> {
        for (field, text) in [("laboratory", &self.laboratory), ("number", &self.number)] {
            short(field, text)?;
        }
        if self.figures.is_empty() || self.figures.len() > MOST_FIGURES {
            return Err(Refusal::new("figures", format!("the report has {} figures", self.figures.len()))
                .given(self.figures.len())
                .accepted(format!("1 to {MOST_FIGURES} figures"))
                .example("pH in water 6.2"));
        }
        for (place, figure) in self.figures.iter().enumerate() {
            let at = format!("figures[{place}]");
            figure.check().map_err(|refusal| refusal.inside(&at))?;
            if figure.unit.per_area() && self.basis_depth_cm.is_none() {
                return Err(Refusal::new(
                    "basis_depth_cm",
                    format!(
                        "{} is given in {}, and the report does not say to what depth",
                        figure.analyte.words(),
                        figure.unit.symbol()
                    ),
                )
                .given("nothing")
                .accepted("the depth that the laboratory's figures per area speak of")
                .example("17 cm, the plow layer of 2 million pounds an acre"));
            }
            let twice =
                |other: &LabFigure| other.analyte == figure.analyte && other.procedure == figure.procedure;
            if self.figures[..place].iter().any(twice) {
                return Err(Refusal::new(
                    format!("{at}.analyte"),
                    format!(
                        "{} by {} stands on the report twice",
                        figure.analyte.words(),
                        figure.procedure.words()
                    ),
                )
                .given(figure.amount.words())
                .accepted("each figure once for each procedure")
                .example("the figure that the report prints"));
            }
        }
        for (place, line) in self.recommended.iter().enumerate() {
            let at = format!("recommended[{place}]");
            short("for_crop", &line.for_crop).map_err(|refusal| refusal.inside(&at))?;
            if !(0.0..=1e6).contains(&line.rate) {
                return Err(Refusal::new(
                    format!("{at}.rate"),
                    format!("{} is no rate of {}", number(line.rate), line.what.words()),
                )
                .given(with_unit(line.rate, line.unit.symbol()))
                .accepted("0 or more")
                .example(with_unit(40.0, line.unit.symbol())));
            }
        }
        Ok(())
    }
}

fn short(field: &str, text: &str) -> Result<(), Refusal> {
    let characters = text.chars().count();
    if characters <= MOST_CHARACTERS && !text.contains('\0') {
        return Ok(());
    }
    Err(Refusal::new(
        field,
        format!("{} is too long or holds a character that cannot be kept", field.replace('_', " ")),
    )
    .given(text.chars().filter(|c| *c != '\0').take(40).collect::<String>())
    .accepted(format!("at most {MOST_CHARACTERS} characters"))
    .example("County laboratory"))
}

impl LabFigure {
    /// Checks the figure by itself.
    ///
    /// # Errors
    /// The unit, the procedure or the amount that does not fit what was measured.
    pub fn check(&self) -> Result<(), Refusal> {
        let Self { analyte, procedure, unit, amount } = *self;
        if !analyte.units().contains(&unit) {
            let usual: Vec<&str> = analyte.units().iter().map(|unit| unit.words()).collect();
            return Err(Refusal::new(
                "unit",
                format!("{} is not given in {}", analyte.words(), unit.words()),
            )
            .given(unit.words())
            .accepted(usual.join(", "))
            .example(analyte.units()[0].words()));
        }
        if !procedure.fits(analyte) {
            let usual: Vec<&str> = Procedure::of(analyte).map(Procedure::words).collect();
            return Err(Refusal::new(
                "procedure",
                format!("{} does not measure {}", procedure.words(), analyte.words()),
            )
            .given(procedure.words())
            .accepted(usual.join(", "))
            .example(usual.get(1).or(usual.first()).copied().unwrap_or_default()));
        }
        check_amount(analyte, unit, amount)
    }
}

/// Least and greatest figure that can be meant.
fn range(analyte: Analyte, unit: ReportUnit) -> (f64, f64) {
    match (analyte, unit) {
        (Analyte::BufferPh, ReportUnit::Index) => (30.0, 80.0),
        (Analyte::BufferPh, _) => (3.0, 8.0),
        (Analyte::PhWater | Analyte::PhSalt, _) => (2.0, 11.5),
        (Analyte::SodiumAdsorptionRatio, _) => (0.0, 500.0),
        (_, ReportUnit::Percent) => (0.0, 100.0),
        (_, ReportUnit::DsPerM) => (0.0, 200.0),
        (_, ReportUnit::MeqPer100G | ReportUnit::MeqPer100Cm3) => (0.0, 500.0),
        (_, ReportUnit::Index) => (0.0, 10_000.0),
        _ => (0.0, 1e6),
    }
}

fn check_amount(analyte: Analyte, unit: ReportUnit, amount: Amount) -> Result<(), Refusal> {
    let (least, most) = range(analyte, unit);
    let printed = amount.printed();
    if (least..=most).contains(&printed) {
        return Ok(());
    }
    // A point that was left out: 71 for 7.1. For an index of ten times a pH, one too many: 6.4 for 64.
    let tenth = number(printed / 10.0);
    let meant = match (analyte.is_ph(), unit) {
        (true, ReportUnit::None) if (least..=most).contains(&(printed / 10.0)) => {
            format!("; did you mean {tenth}?")
        }
        (true, ReportUnit::Index) if (least..=most).contains(&(printed * 10.0)) => {
            format!("; did you mean {}, or is it the buffer pH itself?", number(printed * 10.0))
        }
        _ => String::new(),
    };
    let example = if meant.is_empty() || unit == ReportUnit::Index {
        match (analyte, unit) {
            (Analyte::BufferPh, ReportUnit::Index) => "64".to_owned(),
            (Analyte::BufferPh, _) => "6.4".to_owned(),
            (analyte, _) if analyte.is_ph() => "6.2".to_owned(),
            _ => with_unit(3.0, unit.symbol()),
        }
    } else {
        tenth
    };
    Err(Refusal::new(
        "amount",
        format!(
            "{} must be {} to {}, but {} was given{meant}",
            analyte.words(),
            number(least),
            with_unit(most, unit.symbol()),
            with_unit(printed, unit.symbol())
        ),
    )
    .given(with_unit(printed, unit.symbol()))
    .accepted(format!("{} to {}", number(least), with_unit(most, unit.symbol())))
    .example(example))
}

#[cfg(test)]
mod tests {
    use super::super::{BasisDepth, LabRecommended, RateUnit, RecommendedWhat};
    use super::*;
    use crate::kit::Bounded;

    fn figure(analyte: Analyte, procedure: Procedure, unit: ReportUnit, value: f64) -> LabFigure {
        LabFigure { analyte, procedure, unit, amount: Amount::Exactly(value) }
    }

    fn report(figures: Vec<LabFigure>) -> LabReport {
        LabReport { figures, ..LabReport::new("County laboratory") }
    }

    fn ph(value: f64) -> LabFigure {
        figure(Analyte::PhWater, Procedure::Water1To1, ReportUnit::None, value)
    }

    #[test]
    fn a_point_left_out_of_a_ph_is_asked_after() {
        let refusal = report(vec![ph(71.0)]).check().unwrap_err();
        assert_eq!((refusal.field.as_str(), refusal.example.as_str()), ("figures[0].amount", "7.1"));
        assert!(refusal.message.contains("did you mean 7.1?"), "{}", refusal.message);
        assert!(report(vec![ph(7.1)]).check().is_ok());
    }

    #[test]
    fn a_buffer_never_reads_above_eight() {
        let buffer = |unit, value| report(vec![figure(Analyte::BufferPh, Procedure::Smp, unit, value)]);
        assert!(buffer(ReportUnit::None, 8.0).check().is_ok());
        assert_eq!(buffer(ReportUnit::None, 8.1).check().unwrap_err().field, "figures[0].amount");
        assert!(buffer(ReportUnit::Index, 64.0).check().is_ok());
        let refusal = buffer(ReportUnit::Index, 6.4).check().unwrap_err();
        assert!(refusal.message.contains("did you mean 64"), "{}", refusal.message);
    }

    #[test]
    fn units_procedures_depth_and_doubles_are_refused_by_name() {
        let lb = figure(Analyte::Phosphorus, Procedure::Bray1, ReportUnit::LbPerAcre, 60.0);
        assert_eq!(report(vec![lb]).check().unwrap_err().field, "basis_depth_cm");
        let deep = LabReport { basis_depth_cm: Some(BasisDepth::literal(17.0)), ..report(vec![lb]) };
        assert!(deep.check().is_ok());
        let percent = figure(Analyte::OrganicMatter, Procedure::LossOnIgnition, ReportUnit::Percent, 130.0);
        assert_eq!(report(vec![percent]).check().unwrap_err().field, "figures[0].amount");
        let unit = figure(Analyte::Potassium, Procedure::Mehlich3Icp, ReportUnit::DsPerM, 3.0);
        assert_eq!(report(vec![unit]).check().unwrap_err().field, "figures[0].unit");
        let procedure = figure(Analyte::BufferPh, Procedure::Olsen, ReportUnit::None, 6.0);
        assert_eq!(report(vec![procedure]).check().unwrap_err().field, "figures[0].procedure");
        assert_eq!(report(vec![ph(6.0), ph(6.1)]).check().unwrap_err().field, "figures[1].analyte");
        assert_eq!(report(Vec::new()).check().unwrap_err().field, "figures");
        let line = LabRecommended {
            what: RecommendedWhat::N,
            rate: f64::NAN,
            unit: RateUnit::LbPerAcre,
            for_crop: String::new(),
        };
        let odd = LabReport { recommended: vec![line], ..report(vec![ph(6.0)]) };
        assert_eq!(odd.check().unwrap_err().field, "recommended[0].rate");
    }

    #[test]
    fn every_analyte_has_a_unit_a_procedure_and_a_key() {
        for analyte in Analyte::ALL {
            assert!(!analyte.units().is_empty(), "{}", analyte.words());
            assert!(Procedure::of(*analyte).count() >= 2, "{}", analyte.words());
            assert!(!analyte.key().is_empty());
            for unit in analyte.units() {
                let (least, most) = range(*analyte, *unit);
                let value = 0.5 * (least + most);
                for procedure in Procedure::of(*analyte) {
                    assert_eq!(figure(*analyte, procedure, *unit, value).check(), Ok(()));
                }
            }
        }
        for procedure in Procedure::ALL {
            assert!(Analyte::ALL.iter().any(|analyte| procedure.fits(*analyte)), "{}", procedure.words());
            assert!(!procedure.key().is_empty());
        }
    }
}
